"""A form in; the same as plain words that are frozen with its traveller, and back, out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generator.results.form import Field, Form
from generator.results.form_says import Answers, Stop


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
            Answers(a["mark"], a["operation"], tuple(a["values"]), a.get("unit", ""))
            for a in tree.get("strips", ())
        ),
    )


def _answers_tree(of: Answers) -> dict[str, Any]:
    words = {"mark": of.mark, "operation": of.operation, "values": list(of.values)}
    return words | ({"unit": of.unit} if of.unit else {})


def _field_tree(field: Field) -> dict[str, Any]:
    words = {
        "sheet": field.sheet,
        "operation": field.operation,
        "row": field.row,
        "name": field.name,
        "kind": field.kind,
        "boxes": list(field.boxes),
        "choices": list(field.choices),
        "lower": field.lower,
        "upper": field.upper,
        "unit": field.unit,
        "who": field.who,
        "accept from": field.accept_from,
        "accept to": field.accept_to,
        "lower by": field.lower_by,
        "upper by": field.upper_by,
        "accept by": field.accept_by,
        "of": field.of,
        "reading": field.reading,
        "used in": list(field.used_in),
        "measured with": field.measured_with,
        "added": field.added,
        "added by": field.added_by,
        "not before": field.not_before,
        "not after": field.not_after,
        "corner": field.corner,
        "take": field.take,
        "waits": "yes" if field.waits else "",
        "may be empty": "yes" if field.may_be_empty else "",
    }
    return {key: value for key, value in words.items() if value}


def _field_from(tree: Mapping[str, Any]) -> Field:
    told = {
        key: tree.get(key, "")
        for key in (
            "operation",
            "name",
            "lower",
            "upper",
            "unit",
            "who",
            "of",
            "reading",
            "added",
            "corner",
            "take",
        )
    }
    return Field(
        sheet=tree["sheet"], row=tree["row"], kind=tree["kind"], boxes=tuple(tree["boxes"]),
        choices=tuple(tree.get("choices", ())), may_be_empty=tree.get("may be empty") == "yes",
        accept_from=tree.get("accept from", ""), accept_to=tree.get("accept to", ""),
        lower_by=tree.get("lower by", ""), upper_by=tree.get("upper by", ""),
        accept_by=tree.get("accept by", ""), used_in=tuple(tree.get("used in", ())),
        measured_with=tree.get("measured with", ""), added_by=tree.get("added by", ""),
        not_before=tree.get("not before", ""), not_after=tree.get("not after", ""),
        waits=tree.get("waits") == "yes", **told,
    )  # fmt: skip
