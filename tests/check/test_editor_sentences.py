"""No sentence of the editor's schema is written twice, and none is left out."""

from __future__ import annotations

import inspect
from collections.abc import Iterator
from typing import Any

import pytest

from generator.calculation import Given, Input
from generator.check.rules import _NEEDS, _ONLY
from generator.check.structure import rules
from generator.editor import editor_names, editor_schema
from tests.check.as_edited import ALL

# --- no sentence is written twice -----------------------------------------------------------


def _described(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        for key, value in node.items():
            if key == "description" and isinstance(value, str):
                yield value
            else:
                yield from _described(value)
    elif isinstance(node, list):
        for each in node:
            yield from _described(each)


def _says(rule: Any) -> Iterator[str]:
    if isinstance(rule, dict):
        if isinstance(meta := rule.get("meta"), dict) and isinstance(meta.get("says"), str):
            yield meta["says"]
        for each in rule.values():
            yield from _says(each)


def _inputs() -> Iterator[Input]:
    for what in ALL:
        for item in what.inputs:
            yield from (item, *item.row)


def _facts(item: Input) -> list[str]:
    """What the facts of an input say, each bit of it."""
    fact = item.fact
    bits = [getattr(fact, "beyond", ""), fact.meaning]
    if isinstance(fact, Given):
        return [*bits, fact.range_in_words(), f"in {fact.unit}"]
    return [*bits, f"{fact.at_least} to {fact.at_most}"] if item.kind == "count" else bits


def _of_facts(sentence: str, item: Input) -> bool:
    if item.fact is None or not sentence.startswith(item.fact.meaning):
        return False
    for bit in _facts(item):
        sentence = sentence.replace(bit, "", 1) if bit else sentence
    return not sentence.strip(" ,.")


@pytest.mark.parametrize("kind", editor_names())
def test_every_sentence_stands_in_the_rules_or_with_a_calculation(kind):
    known = set(_says(rules(kind)))
    known |= {inspect.getdoc(what.body) for what in ALL}
    known |= {inspect.getdoc(item.row_type) for item in _inputs() if item.row_type}
    found = list(_described(editor_schema(kind)))
    assert found
    strange = [s for s in found if s not in known and not any(_of_facts(s, i) for i in _inputs())]
    assert strange == []


def test_every_sentence_of_the_rules_is_shown():
    for kind in editor_names():
        assert set(_says(rules(kind))) <= set(_described(editor_schema(kind)))


def test_every_input_shows_its_meaning_and_its_range():
    made = editor_schema("process")["$defs"]
    for what in ALL:
        for item in what.inputs:
            if item.kind in ("amount", "amounts"):
                shown = made[what.name]["properties"][item.name]
                limits = item.fact.range_in_words()
                assert item.fact.meaning in shown["description"]
                assert limits == "any value" or limits in shown["description"]
                assert item.fact.unit in shown["description"]
                assert shown["examples"]


def test_the_sentences_say_what_each_kind_of_operation_needs_and_takes():
    """A close without readings and a hold with points were told by check alone."""
    operation = rules("process")["operations"]["schema"]["schema"]
    says = {key: operation[key]["meta"]["says"] for key in ("kind", "points", "readings")}
    for kind in ("measure", "close"):
        assert _NEEDS[kind] == ("do", "readings")
    assert "measure and close need readings" in says["kind"]
    assert "measure and close need some" in says["readings"]
    assert _ONLY["points"] == ("independent",)
    assert "a hold or a witness takes none" in says["points"]
