"""Named methods in; the same results in other base units out: they carry no units of their own."""

from __future__ import annotations

import dataclasses
from typing import Any, get_type_hints

import pytest

from generator.calculation import Given, Gives, fact_of
from generator.computing.running import bare, pieces
from generator.quantities.units import unit
from tests.calculations.asking import ALL, named, ran

METHODS = [what for what in ALL if what.method]


SCALES = (0.3, 7.0, 11.0, 1.0, 1.0)  # length, mass, time; temperature and angle stay


def scale_of(dimension: tuple[int, ...]) -> float:
    factor = 1.0
    for size, power in zip(SCALES, dimension, strict=True):
        factor *= size**power
    return factor


@pytest.mark.parametrize("what", METHODS, ids=named)
def test_a_named_method_gives_the_same_in_other_base_units(what):
    """It carries no units: measured in other base units every result must come out in them."""
    arguments = ran(what, what.examples[0].given).arguments
    facts = {item.name: item.fact for item in what.inputs}
    scaled = {n: rescaled(v, facts.get(n)) for n, v in arguments.items()}
    before = list(pieces(what, what.body(**{n: bare(v) for n, v in arguments.items()})))
    after = list(pieces(what, what.body(**scaled)))
    for one, other in zip(before, after, strict=True):
        if not isinstance(one.fact, Gives):
            assert one.value == other.value
        elif "residual" not in one.fact.meaning:
            factor = scale_of(unit(one.fact.unit).dimension)
            assert other.value == pytest.approx(one.value * factor, rel=1e-6)


def rescaled(value: Any, fact: Any) -> Any:
    """A number in other base units, also in lists, in rows and in rows of a table."""
    if isinstance(value, float) and isinstance(fact, Given):
        return value * scale_of(unit(fact.unit).dimension)
    if isinstance(value, tuple):
        return tuple(rescaled(each, fact) for each in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        hints = get_type_hints(type(value), include_extras=True)
        cells = {name: rescaled(getattr(value, name), fact_of(h)) for name, h in hints.items()}
        return type(value)(**cells)
    return value
