"""A form in; the same as plain words that are frozen with its traveller, and back, out."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from generator.results.form import Field, Form
from generator.results.form_says import Answers, Stop

# The keys of a field, in the order in which they stand there.
_NAMES = (
    "sheet", "operation", "row", "name", "kind", "boxes", "choices", "lower", "upper", "unit",
    "who", "accept_from", "accept_to", "lower_by", "upper_by", "accept_by", "of", "reading",
    "used_in", "measured_with", "added", "added_by", "not_before", "not_after", "corner", "take",
    "set_to", "set_by", "waits", "may_be_empty",
)  # fmt: skip
_NEEDED = ("sheet", "row", "kind", "boxes")
_LISTS, _WHETHER = ("boxes", "choices", "used_in"), ("waits", "may_be_empty")


def tree_of_form(form: Form) -> dict[str, Any]:
    """The form as plain words, to be frozen."""
    return {
        "operations": list(form.operations),
        "stops": [
            {"operation": s.operation, "kind": s.kind, "closes": list(s.closes)}
            | ({"notice": s.notice} if s.notice else {})
            for s in form.stops
        ],
        "strips": [_answers_tree(each) for each in form.answers],
        "fields": [_field_tree(each) for each in form.fields],
    }


def form_from(tree: Mapping[str, Any]) -> Form:
    """The form from its frozen words."""
    return Form(
        tuple(_field_from(each) for each in tree["fields"]),
        tuple(tree["operations"]),
        tuple(
            Stop(s["operation"], s["kind"], tuple(s["closes"]), s.get("notice", ""))
            for s in tree["stops"]
        ),
        tuple(
            Answers(
                a["mark"], a["operation"], tuple(a["values"]), a.get("unit", ""), a.get("row", "")
            )
            for a in tree.get("strips", ())
        ),
    )


def of_one_sheet(text: str, sheet: str) -> str:
    """The file of a frozen form with the fields of one sheet alone, as `tree_of_form` writes them:
    each begins with its sheet."""
    fields = re.split(r"(?m)^(?=- )", text.partition("\nfields:\n")[2])
    own = [each for each in fields if each.startswith(f"- sheet: {sheet}\n")]
    return "operations: []\nstops: []\nfields:" + ("\n" + "".join(own) if own else " []\n")


def _answers_tree(of: Answers) -> dict[str, Any]:
    words = {"mark": of.mark, "operation": of.operation, "values": list(of.values)}
    return words | {name: told for name in ("unit", "row") if (told := getattr(of, name))}


def _field_tree(field: Field) -> dict[str, Any]:
    """The keys that say something: lists as lists, what is so as yes."""
    words = {}
    for name in _NAMES:
        value = getattr(field, name)
        if value:
            told = "yes" if value is True else list(value) if isinstance(value, tuple) else value
            words[name.replace("_", " ")] = told
    return words


def _field_from(tree: Mapping[str, Any]) -> Field:
    told: dict[str, Any] = {}
    for name in _NAMES:
        value = tree[name] if name in _NEEDED else tree.get(name.replace("_", " "), "")
        if name in _LISTS:
            value = tuple(value)
        told[name] = value == "yes" if name in _WHETHER else value
    return Field(**told)
