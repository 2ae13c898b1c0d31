"""A document and the name of its schema in; every fault of structure out, one for each slip.

Cerberus does the walking; a person never reads its words. Nothing is coerced: the readers that the
schema names only say whether a leaf can be read.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Any

import yaml
from cerberus import Validator

from generator.check.plain_sight import looking_at
from generator.check.readers import READERS
from generator.findings import Fault, Refusal, near_word
from generator.read import Document, Steps

MOST_FAULTS = 200  # of one file; who has as many mends some and asks again
_MARK = "\x00"
_LEANS = "goes only with"


def schema_folder() -> Path:
    """Where the rules lie: inside the installed package, or beside it in a checkout."""
    here = Path(__file__).parents[1] / "schema"
    return here if here.is_dir() else Path(__file__).parents[2] / "schema"


@cache
def rules(name: str) -> Mapping[str, Any]:
    """The rules of one kind of file as written, for their sentences."""
    text = (schema_folder() / f"{name}.yaml").read_text(encoding="utf-8")
    loaded: Mapping[str, Any] = yaml.load(text, Loader=yaml.CSafeLoader)
    return loaded


def _with_readers(rule: Any) -> Any:
    """A copy of the rules in which every check_with is a function."""
    if isinstance(rule, dict):
        return {
            key: _checker(value) if key == "check_with" else _with_readers(value)
            for key, value in rule.items()
        }
    return [_with_readers(each) for each in rule] if isinstance(rule, list) else rule


def _checker(name: str) -> Callable[[str, Any, Any], None]:
    reader = READERS[name]

    def check(field: str, value: Any, error: Any) -> None:
        if isinstance(value, str):
            try:
                reader(value)
            except Refusal as refusal:
                error(field, _MARK.join((refusal.code, refusal.wrong, refusal.right)))

    return check


class _Enough(Exception):
    """So many errors of one list or mapping that the rest is not worth its time."""


class _Bounded(Validator):  # type: ignore[misc]
    """Keeps errors sorted, which takes the square of their number: so there are at most some."""

    def _error(self, *words: Any) -> None:
        if len(self._errors) >= MOST_FAULTS:
            raise _Enough
        super()._error(*words)


@cache
def _validator(name: str) -> Validator:
    return _Bounded(_with_readers(rules(name)))


@cache
def _plainly_sound(name: str) -> Callable[[Any], bool]:
    return looking_at(rules(name))


def structure_faults(document: Document, name: str) -> list[Fault]:
    """Every fault of structure of a document against schema/NAME.yaml."""
    if _plainly_sound(name)(document.tree):
        return []
    validator = _validator(name)
    try:
        validator.validate(document.tree, normalize=False)
    except _Enough:
        wrong = f"more than {MOST_FAULTS} faults in one list or below one key"
        return [Fault((), "size", wrong, "one process of this workshop a file"), *_found(name)]
    return _found(name)


def _found(name: str) -> list[Fault]:
    faults = islice(_flattened(_validator(name)._errors, rules(name)), MOST_FAULTS)
    return _one_for_each_slip(list(faults))


def deleted_faults(tree: Mapping[str, Any]) -> Iterator[Fault]:
    """A deleted operation says nothing else: a hold must not vanish beside "deleted at"."""
    operations = tree.get("operations")
    for i, each in enumerate(operations if isinstance(operations, list) else ()):
        if isinstance(each, dict) and "deleted at" in each:
            for key in each:
                if key not in ("number", "deleted at"):
                    wrong = f"a deleted operation has no '{key}'"
                    right = "number and deleted at alone"
                    yield Fault(("operations", i, key), "kind", wrong, right, of_key=True)
                    break


def _flattened(errors: Any, schema: Mapping[str, Any]) -> Iterator[Fault]:
    for error in errors:
        if error.child_errors:
            yield from _flattened(error.child_errors, schema)
        else:
            yield _fault(error, schema)


def _rule_at(error: Any, schema: Mapping[str, Any]) -> Mapping[str, Any]:
    """The rule set that was broken, as it stands in the file."""
    rule: Any = schema
    for step in error.schema_path[:-1]:
        if not isinstance(rule, dict) or step not in rule:
            return {}
        rule = rule[step]
    return rule if isinstance(rule, dict) else {}


def _fault(error: Any, schema: Mapping[str, Any]) -> Fault:
    steps: Steps = tuple(error.document_path)
    rule = _rule_at(error, schema)
    says = rule.get("meta", {}).get("says", "")
    key = next((step for step in reversed(steps) if isinstance(step, str)), "")
    if error.rule is None and error.info and _MARK in str(error.info[0]):
        code, wrong, right = str(error.info[0]).split(_MARK)
        return Fault(steps, code, wrong, right, of_key="keysrules" in error.schema_path)
    if error.code == 0x03:
        return _unknown(steps, schema, error)
    if error.rule == "required":
        return _missing(steps, rule, f"{key}: {says}")
    if error.rule == "type":
        return Fault(steps, "kind", f"'{key}' is {_kind(error.value)}", says)
    if error.rule in ("allowed", "min", "max"):
        near = near_word(str(error.value), [str(a) for a in error.constraint])
        right = f"{near}? {_capital(says)}" if near and near != error.value else says
        return Fault(steps, "choice", f"'{error.value}' is not allowed here", right)
    if error.rule == "maxlength":
        wrong = f"'{key}' is longer than {error.constraint}"
        return Fault(steps, "length", wrong, f"at most {error.constraint}: {says}")
    if error.rule in ("empty", "minlength"):
        return Fault(steps, "empty", f"nothing is written at '{key}'", says)
    if error.rule == "excludes":
        others = " and ".join(str(word) for word in _listed(error.constraint))
        return Fault(steps, "choice", f"'{key}' does not go together with {others}", says, True)
    if error.rule == "dependencies":
        wrong = f"'{key}' {_LEANS} '{error.constraint}'"
        return Fault(steps, "choice", wrong, says, True)
    return Fault(steps, "structure", f"'{key}' is not as it should be", says)


def _missing(steps: Steps, rule: Mapping[str, Any], right: str) -> Fault:
    """A key that must be there; where one of two must be, both errors give the same fault."""
    others = [str(word) for word in _listed(rule.get("excludes", []))]
    if not others:
        return Fault(steps, "missing", f"the key '{steps[-1]}' is missing", right)
    first, second = sorted([str(steps[-1]), others[0]])
    wrong = f"neither '{first}' nor '{second}' is written"
    return Fault((*steps[:-1], first), "missing", wrong, right)


def _listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]


def _kind(value: Any) -> str:
    if isinstance(value, dict):
        return "a block of keys where something else belongs"
    if isinstance(value, list):
        return "a list where something else belongs"
    return "text where a list or a block of keys belongs" if value else "empty"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _unknown(steps: Steps, schema: Mapping[str, Any], error: Any) -> Fault:
    known = [str(name) for name in _siblings(error, schema)]
    near = near_word(str(steps[-1]), known)
    right = f"did you mean '{near}'?" if near else "one of: " + ", ".join(known)
    return Fault(steps, "unknown", f"'{steps[-1]}' is not a key here", right, of_key=True)


def _siblings(error: Any, schema: Mapping[str, Any]) -> list[str]:
    """The keys that the rules know beside an unknown one."""
    rule: Any = schema
    for step in error.schema_path[:-1]:
        if isinstance(rule, dict) and step in rule:
            rule = rule[step]
    inner = rule.get("schema", rule) if isinstance(rule, dict) else {}
    return [key for key, value in inner.items() if isinstance(value, dict) and key != "meta"]


def _one_for_each_slip(faults: list[Fault]) -> list[Fault]:
    """A misspelt key is also a missing one: keep the first. One fault for one place.

    A key that goes only with another is no slip of its own where that other is misspelt or missing.
    """
    meant = {
        each for fault in faults if fault.code == "unknown" for each in _named(fault, fault.right)
    }
    missing = {each for fault in faults if fault.code == "missing" for each in _named(fault)}
    kept: dict[tuple[Steps, str], Fault] = {}
    for fault in faults:
        names = _named(fault)
        if fault.code == "missing" and names & meant:
            continue
        if _LEANS in fault.wrong and names & (meant | missing):
            continue
        kept.setdefault((fault.steps, "key" if fault.of_key else ""), fault)
    return list(kept.values())


def _named(fault: Fault, words: str = "") -> set[tuple[Steps, str]]:
    """The keys in quotes in what a fault says, each with the place they belong to."""
    return {(fault.steps[:-1], name) for name in re.findall(r"'([^']+)'", words or fault.wrong)}
