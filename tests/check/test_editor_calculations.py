"""Entries of calculations: the editor's schema takes and refuses what `check` does."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import pytest
from cerberus import Validator
from jsonschema import Draft202012Validator

from generator.calculation import Calculation, Input
from generator.check.workings import work_out_faults
from generator.editor import editor_schema
from tests.check.as_edited import ALL

ENTRIES = [(what, each.given) for what in ALL for each in what.examples]
named = pytest.mark.parametrize(
    ("what", "typed"), ENTRIES, ids=lambda x: x.name if isinstance(x, Calculation) else ""
)


@cache
def entries() -> Draft202012Validator:
    made = {"$ref": "#/$defs/working", "$defs": editor_schema("process")["$defs"]}
    return Draft202012Validator(made)


def entry_taken(entry: Any) -> bool:
    return entries().is_valid(entry)


def entry_sound(entry: Any) -> bool:
    return not work_out_faults({"work out": {"x": entry}})


@named
def test_a_printed_example_is_taken(what, typed):
    entry = {"use": what.name, **typed}
    assert entry_sound(entry)
    assert entry_taken(entry)


@named
def test_an_input_missing_or_of_another_kind_is_refused(what, typed):
    for name, value in typed.items():
        entry = {"use": what.name, **typed}
        del entry[name]
        assert entry_taken(entry) == entry_sound(entry)
        other = "a" if isinstance(value, list) else ["a"]
        assert not entry_taken(entry | {name: other})
        assert not entry_sound(entry | {name: other})


FOREIGN = {item.name for each in ALL for item in each.inputs}


@named
def test_inputs_of_other_calculations_and_unknown_calculations_are_refused(what, typed):
    foreign = FOREIGN - {item.name for item in what.inputs}
    errors = entries().iter_errors({"use": what.name, **typed, **dict.fromkeys(foreign, "1 mm")})
    (strange,) = [each for each in errors if each.validator == "additionalProperties"]
    assert {*strange.instance} - {*strange.schema["properties"]} == foreign
    assert not entry_taken({"use": what.name, **typed, min(foreign): "1 mm"})
    assert not entry_taken({"use": what.name + "s", **typed})
    assert not entry_taken(dict(typed))


@named
def test_a_constant_is_no_input(what, typed):
    for item in what.inputs:
        if item.kind == "fixed":
            assert not entry_taken({"use": what.name, **typed, item.name: item.fact.fixed})


@named
def test_numbers_go_in_without_a_unit_only_where_none_belongs(what, typed):
    for item in what.inputs:
        if item.kind == "amount":
            entry = {"use": what.name, **typed}
            inside = item.fact.at_least or item.fact.at_most or item.fact.above or "1"
            good = entry_taken(entry | {item.name: json.loads(inside)})
            assert good == (item.fact.unit == "" and item.fact.above != inside)
            assert entry_taken(entry | {item.name: "some_name.result.1"})
            assert not entry_taken(entry | {item.name: "12"}) or item.fact.unit == ""


def test_an_input_of_an_unknown_kind_is_an_error(monkeypatch):
    what = ALL[0]
    strange = Input("x", "colour", what.inputs[0].fact)
    changed_one = type(what)(**{**vars(what), "inputs": (strange,)})
    monkeypatch.setattr("generator.editor.calculations", lambda: {"strange": changed_one})
    with pytest.raises(TypeError, match="kind colour"):
        editor_schema("process")


def test_a_rule_that_cannot_be_carried_is_an_error(monkeypatch):
    strange = {"a": {"type": "string", "regex": "x", "meta": {"says": "s"}}}
    monkeypatch.setattr("generator.editor.rules", lambda name: strange)
    with pytest.raises(TypeError, match="regex"):
        editor_schema("process")


def test_a_key_that_leans_on_another_is_refused_alone(monkeypatch):
    says = {"type": "string", "meta": {"says": "s"}}
    leaning = {"a": {**says, "dependencies": ["b", "c"]}, "b": says, "c": says}
    monkeypatch.setattr("generator.editor.rules", lambda name: leaning)
    made = Draft202012Validator(editor_schema("any"))
    for keys, good in {"": True, "b": True, "a": False, "ab": False, "abc": True}.items():
        assert made.is_valid(dict.fromkeys(keys, "x")) == good == Validator(leaning).validate(dict.fromkeys(keys, "x"))  # fmt: skip
