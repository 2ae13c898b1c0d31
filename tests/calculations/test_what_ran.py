"""The printed working is a record of what ran: change the body, and the print changes with it."""

from __future__ import annotations

import ast
import dataclasses
import inspect
import sys
import textwrap
from collections.abc import Iterator
from typing import Any

import pytest

from generator.calculation import Calculation, Given, Gives
from generator.findings import Refusal
from generator.quantities.units import unit
from generator.running import bare, pieces, run
from generator.working import printed_lines
from tests.calculations.asking import ALL, named, ran, values

_FLIPPED = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}
TRACED = [what for what in ALL if not what.method and any(o.kind != "order" for o in what.outputs)]
METHODS = [what for what in ALL if what.method]


def flipped(what: Calculation) -> Iterator[tuple[str, Calculation]]:
    """The calculation with one operator of its body turned round, for each of them."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(what.body)))
    function = tree.body[0]
    assert isinstance(function, ast.FunctionDef)
    function.decorator_list = []
    spots = [n for n in ast.walk(function) if isinstance(n, ast.BinOp) and type(n.op) in _FLIPPED]
    for spot in spots:
        if _counts_only(spot):
            continue
        old = spot.op
        spot.op = _FLIPPED[type(old)]()
        ast.fix_missing_locations(tree)
        scope = dict(vars(sys.modules[what.body.__module__]))
        exec(compile(tree, "<flipped>", "exec"), scope)
        told = f"line {spot.lineno}: {ast.unparse(spot)}"
        spot.op = old
        yield told, dataclasses.replace(what, body=scope[function.name], second=None)


def _counts_only(spot: ast.BinOp) -> bool:
    """An index or a count such as number - 2: no part of a formula."""
    return any(isinstance(side, ast.Constant) for side in (spot.left, spot.right)) and any(
        (isinstance(side, ast.Name) and side.id in ("n", "number", "index"))
        or isinstance(side, ast.Call)
        for side in (spot.left, spot.right)
    )


@pytest.mark.parametrize("what", TRACED, ids=named)
def test_a_flipped_operator_changes_the_print_or_is_refused(what):
    example = what.examples[0].given
    before = [tuple(vars(line).values()) for line in printed_lines(ran(what, example))]
    for told, other in flipped(what):
        try:
            after = printed_lines(run(other, values(other, example)))
            lines = [tuple(vars(line).values()) for line in after]
        except (Refusal, TypeError, IndexError, ZeroDivisionError):
            continue
        assert lines != before, told


def test_some_operators_were_flipped():
    assert sum(1 for what in TRACED for _ in flipped(what)) > 20


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
    facts = {item.name: item for item in what.inputs}
    scaled = {n: rescaled(v, facts.get(n)) for n, v in arguments.items()}
    before = list(pieces(what, what.body(**{n: bare(v) for n, v in arguments.items()})))
    after = list(pieces(what, what.body(**scaled)))
    for one, other in zip(before, after, strict=True):
        if not isinstance(one.fact, Gives):
            assert one.value == other.value
        elif "residual" not in one.fact.meaning:
            factor = scale_of(unit(one.fact.unit).dimension)
            assert other.value == pytest.approx(one.value * factor, rel=1e-6)


def rescaled(value: Any, item: Any) -> Any:
    """A number in other base units, also in lists and rows."""
    if isinstance(value, float) and item is not None and isinstance(item.fact, Given):
        return value * scale_of(unit(item.fact.unit).dimension)
    if isinstance(value, tuple):
        return tuple(rescaled(each, item) for each in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        cells = {cell.name: cell for cell in (item.row if item else ())}
        fields = dataclasses.fields(value)
        return type(value)(
            **{x.name: rescaled(getattr(value, x.name), cells.get(x.name)) for x in fields}
        )
    return value
