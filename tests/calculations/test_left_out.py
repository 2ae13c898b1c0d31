"""What a calculation that leaves a fact out is told: it fails when it is imported."""

from __future__ import annotations

from typing import Annotated, Any

import pytest

from generator.calculation import calculation, given
from generator.findings import Refusal
from generator.quantities.amount import Amount


@pytest.mark.parametrize("missing", ["source", "not_covered", "docstring"])
def test_a_calculation_that_leaves_a_fact_out_fails_at_import(missing):
    def body(): ...

    body.__doc__ = "" if missing == "docstring" else "A body."
    facts = {"source": "a book", "not_covered": "the rest"} | {missing: ""}
    facts.pop("docstring", None)
    with pytest.raises(TypeError, match="docstring, a source and what it does not cover"):
        calculation(**facts)(body)


Furlongs = Annotated[Amount, given("l", "furlong", "a length")]


def test_an_input_in_an_unknown_unit_fails_at_import():
    def body(length: Furlongs) -> Any:
        """A body."""
        return length

    with pytest.raises(Refusal, match="not a unit known here"):
        calculation(source="a book", not_covered="the rest")(body)


def test_an_input_without_a_fact_fails_at_import():
    def body(length: Amount) -> Any:
        """A body."""
        return length

    with pytest.raises(TypeError, match="states no fact"):
        calculation(source="a book", not_covered="the rest")(body)
