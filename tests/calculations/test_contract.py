"""What is asked of every calculation. No test here names one: a new file is under them at once."""

from __future__ import annotations

import copy
import dataclasses
import inspect
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from generator.calculation import (
    Calculation,
    Example,
    Given,
)
from generator.check.workings import work_out_faults
from generator.computing.running import Result, on_floats, run
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.units import LENGTH, unit
from tests.calculations.asking import (
    ALL,
    half_a_digit,
    named,
    number_and_unit,
    ran,
    read,
    values,
)

EXAMPLES = [
    pytest.param(what, each, id=f"{what.name}-{n}")
    for what in ALL
    for n, each in enumerate(what.examples, start=1)
]
HAIR = 1e-6

Way = tuple[str | int, ...]


@dataclasses.dataclass(frozen=True)
class Cell:
    """One amount that goes in: the way to it in what is typed, and what it must be."""

    what: Calculation
    way: Way
    fact: Given


def cells(what: Calculation) -> Iterator[Cell]:
    """Every amount of the first example: single ones, each of a list, each cell of each row."""
    typed = what.examples[0].given
    for item in what.inputs:
        if item.kind == "amount":
            yield Cell(what, (item.name,), item.fact)
        elif item.kind == "amounts":
            yield from (Cell(what, (item.name, n), item.fact) for n in range(len(typed[item.name])))
        elif item.kind == "rows":
            for n in range(len(typed[item.name])):
                amounts = (c for c in item.row if c.kind == "amount")
                yield from (Cell(what, (item.name, n, c.name), c.fact) for c in amounts)


def typed_with(cell: Cell, text: str) -> dict[str, Any]:
    """The first example with one amount typed anew."""
    typed: dict[str, Any] = copy.deepcopy(dict(cell.what.examples[0].given))
    for name in [n for n, each in typed.items() if isinstance(each, list)]:
        typed[name] = [copy.copy(each) for each in typed[name]]  # rows may be one and the same
    place: Any = typed
    for step in cell.way[:-1]:
        place = place[step]
    place[cell.way[-1]] = text
    return typed


def told(cell: Cell, text: str) -> Refusal | None:
    """What the run says of the example with this text in it."""
    try:
        ran(cell.what, typed_with(cell, text))
    except Refusal as refusal:
        return refusal
    return None


def own_range(refusal: Refusal | None, cell: Cell) -> bool:
    """Whether a refusal is of this input's range, and not of something further on."""
    return (
        refusal is not None
        and refusal.code == "range"
        and refusal.wrong.startswith(f"{cell.fact.meaning} ")
        and refusal.wrong.endswith(" is out of range")
    )


def text_of(number: float, fact: Given) -> str:
    return f"{number:.9f}".rstrip("0").rstrip(".") + (f" {fact.unit}" if fact.unit else "")


CELLS = [
    pytest.param(cell, id=f"{what.name}-{'-'.join(map(str, cell.way))}")
    for what in ALL
    for cell in cells(what)
]
LIMITS = [
    pytest.param(
        cell, which, float(limit), id=f"{what.name}-{'-'.join(map(str, cell.way))}-{which}"
    )
    for what in ALL
    for cell in cells(what)
    for which in ("above", "at_least", "at_most")
    if (limit := getattr(cell.fact, which))
]


@pytest.mark.parametrize("what", ALL, ids=named)
def test_states_all_its_facts(what):
    assert what.title and what.source and what.not_covered
    assert what.examples and all(each.where and each.gives for each in what.examples)
    assert what.second is not None and what.second.says and what.second.within


@pytest.mark.parametrize("what", ALL, ids=named)
def test_every_amount_has_a_symbol_a_meaning_and_an_end(what):
    for cell in cells(what):
        assert cell.fact.symbol and cell.fact.meaning
        assert cell.fact.above or cell.fact.at_least, "nothing says where it starts"
    for out in (each for whole in what.outputs for each in whole.row or (whole,)):
        assert out.fact.symbol and out.fact.meaning


@pytest.mark.parametrize(("what", "example"), EXAMPLES)
def test_gives_its_printed_answer(what, example):
    came = {r.name: r for r in ran(what, example.given).results}
    for name, printed in example.gives.items():
        if came[name].order:
            assert " ".join(map(str, came[name].order)) == printed
        else:
            assert_near(came[name], printed, example)


def assert_near(result: Result, printed: str, example: Example) -> None:
    digits, unit_text = number_and_unit(printed)
    assert result.amount is not None
    unrounded = unit(unit_text).from_base(result.amount.value)
    within = allowed(example.within, digits, unit_text)
    assert abs(unrounded - float(digits)) <= within * (1 + 1e-9), (unrounded, printed, within)


def allowed(within: str, digits: str, unit_text: str) -> float:
    """The gap in the example's own unit; half of its last digit unless it says otherwise for a
    result of that kind of unit."""
    if not within:
        return half_a_digit(digits)
    number, own = number_and_unit(within)
    if own == "%":
        return float(number) / 100 * abs(float(digits))
    if unit(own).dimension != unit(unit_text).dimension:
        return half_a_digit(digits)
    return unit(unit_text).from_base(unit(own).to_base(float(number)))


@pytest.mark.parametrize(("what", "example"), EXAMPLES)
def test_its_example_can_be_typed_into_a_process(what, example):
    tree = {"work out": {"answer": {"use": what.name, **example.given}}}
    assert work_out_faults(tree) == []


@pytest.mark.parametrize(
    "what", [w for w in ALL if any(i.kind == "fixed" for i in w.inputs)], ids=named
)
def test_a_fixed_fact_is_no_input(what):
    fixed = next(i for i in what.inputs if i.kind == "fixed")
    entry = {"use": what.name, **what.examples[0].given, fixed.name: fixed.fact.fixed}
    faults = work_out_faults({"work out": {"answer": entry}})
    assert [(f.code, f.steps[-1]) for f in faults] == [("unknown", fixed.name)]


@pytest.mark.parametrize(("cell", "which", "limit"), LIMITS)
def test_refuses_an_input_just_outside_its_limit(cell, which, limit):
    outside = limit if which == "above" else limit + (HAIR if which == "at_most" else -HAIR)
    refusal = told(cell, text_of(outside, cell.fact))
    assert own_range(refusal, cell), refusal
    assert refusal.right.startswith(cell.fact.range_in_words())


@pytest.mark.parametrize(("cell", "which", "limit"), LIMITS)
def test_accepts_an_input_at_its_limit(cell, which, limit):
    """Something further on may still refuse the example, such as a ratio of two inputs."""
    at = limit + HAIR if which == "above" else limit
    refusal = told(cell, text_of(at, cell.fact))
    assert not own_range(refusal, cell), refusal
    assert refusal is None or refusal.code == "range"


@pytest.mark.parametrize(("cell", "which", "limit"), LIMITS)
def test_refuses_a_tolerance_that_reaches_over_a_limit(cell, which, limit):
    inside = limit - 0.1 if which == "at_most" else limit + 0.1
    amount = read(cell.fact, text_of(inside, cell.fact))
    scale = unit(cell.fact.unit)
    reaching = dataclasses.replace(
        amount, low=scale.to_base(inside - 0.2), high=scale.to_base(inside + 0.2)
    )
    given_values = values(cell.what, typed_with(cell, text_of(inside, cell.fact)))
    place: Any = given_values
    for step in cell.way[:-1]:
        place = place[step]
    place[cell.way[-1]] = reaching
    with pytest.raises(Refusal) as caught:
        run(cell.what, given_values)
    assert own_range(caught.value, cell), caught.value


@pytest.mark.parametrize("cell", CELLS)
def test_refuses_an_input_in_another_dimension(cell):
    other = "1 s" if unit(cell.fact.unit).dimension == LENGTH else "1 mm"
    for text in (other, "1 mm²·s"):
        amount = read(dataclasses.replace(cell.fact, unit="mm"), text)
        refusal = refusal_of(cell, amount)
        assert refusal is not None and refusal.code == "unit", (text, refusal)


POINTS = [p for p in CELLS if unit(p.values[0].fact.unit).point]  # type: ignore[attr-defined]


NO_POINTS = {  # what does not say the point that is asked for, and what would be right
    "gauge": (["100 bar", "100 bar a", "10 N/mm²"], "bar g"),
    "absolute": (["1 bar", "1 bar g", "0.1 N/mm²"], "bar a"),
    "temperature": (["20 K", "290 K"], "°C"),
}


@pytest.mark.parametrize("cell", POINTS)
@pytest.mark.parametrize("number", range(3))
def test_refuses_what_does_not_say_its_point(cell, number):
    """A pressure without gauge or absolute, and a difference of temperatures for a temperature."""
    texts, right = NO_POINTS[unit(cell.fact.unit).point]
    refusal = refusal_of(cell, read(cell.fact, texts[number % len(texts)]))
    assert refusal is not None and refusal.code == "unit"
    assert right in refusal.right


def refusal_of(cell: Cell, amount: Amount) -> Refusal | None:
    """What the run says of an amount that no file could have carried this far."""
    given_values = values(cell.what, cell.what.examples[0].given)
    place: Any = given_values
    for step in cell.way[:-1]:
        place = place[step]
    place[cell.way[-1]] = amount
    try:
        run(cell.what, given_values)
    except Refusal as refusal:
        return refusal
    return None


@pytest.mark.parametrize("what", ALL, ids=named)
def test_counts_outside_their_range_are_refused(what):
    for item in (i for i in what.inputs if i.kind == "count"):
        sound = what.examples[0].given
        for number in (item.fact.at_least, item.fact.at_most):
            assert ran(what, {**sound, item.name: str(number)}).results
        for number in (item.fact.at_least - 1, item.fact.at_most + 1):
            with pytest.raises(Refusal, match="out of range"):
                ran(what, {**sound, item.name: str(number)})


# --- one body, three kinds of number -----------------------------------------------------------


@pytest.mark.parametrize(("what", "example"), EXAMPLES)
def test_a_traced_run_equals_the_run_on_floats(what, example):
    traced = ran(what, example.given)
    for result, number in zip(traced.results, on_floats(what, traced), strict=True):
        if result.amount is None:
            assert number == result.shown or tuple(number) == result.order  # type: ignore[arg-type]
        else:
            assert number == pytest.approx(result.amount.number(), rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(("what", "example"), EXAMPLES)
def test_a_run_without_its_working_prints_the_same(what, example):
    """As columns of strips are worked out."""
    given = values(what, example.given)
    whole, bare = run(what, given), run(what, given, lines=False)
    assert [(r.name, r.text, r.order) for r in bare.results] == [
        (r.name, r.text, r.order) for r in whole.results
    ]
    assert (bare.second, bare.looked_up, bare.inputs) == (
        whole.second, whole.looked_up, whole.inputs,
    )  # fmt: skip


TRACED = [
    p
    for p in EXAMPLES
    if not p.values[0].method and any(o.kind != "order" for o in p.values[0].outputs)  # type: ignore[attr-defined]
]


@pytest.mark.parametrize(("what", "example"), TRACED)
def test_the_body_runs_on_arrays(what, example):
    """An array is the same formula at each of its rows."""
    arguments = taken(what, example)
    shares = np.array([1.0, 0.97, 1.02])
    together = flat(what.body(**stretched(arguments, shares)))
    for place, share in enumerate(shares):
        alone = flat(what.body(**stretched(arguments, float(share))))
        for array, number in zip(together, alone, strict=True):
            assert np.broadcast_to(array, shares.shape)[place] == pytest.approx(number, rel=1e-12)


def taken(what: Calculation, example: Example) -> dict[str, Any]:
    """What the body is called with, looked-up rows and constants among it."""
    seen: dict[str, Any] = {}

    def body(**arguments: Any) -> Any:
        seen.update(arguments)
        return what.body(**arguments)

    run(dataclasses.replace(what, body=body), values(what, example.given))
    return seen


def stretched(value: Any, share: Any) -> Any:
    """Every amount as a plain number times share, rows and lists kept."""
    if isinstance(value, Amount):
        return value.value * share
    if isinstance(value, dict):
        return {name: stretched(each, share) for name, each in value.items()}
    if isinstance(value, tuple):
        return tuple(stretched(each, share) for each in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        inside = {
            f.name: stretched(getattr(value, f.name), share) for f in dataclasses.fields(value)
        }
        return type(value)(**inside)
    return value


def flat(came: Any) -> list[Any]:
    """All numbers of a result in their order; words, such as what binds a window, and what is no
    number at all are left out."""
    if came is None or isinstance(came, str):
        return []
    if dataclasses.is_dataclass(came):
        came = tuple(getattr(came, f.name) for f in dataclasses.fields(came))
    if isinstance(came, tuple):
        return [number for each in came for number in flat(each)]
    return [came]


# --- the second method -------------------------------------------------------------------------


@pytest.mark.parametrize("what", ALL, ids=named)
def test_stops_where_the_two_methods_differ(what):
    """A second method that is off by a hundredth, or by one place, must stop the print."""
    way = what.second.way

    def off(**arguments: Any) -> Any:
        return nudged(way(**arguments))

    off.__signature__ = inspect.signature(way)  # type: ignore[attr-defined]
    spoilt = dataclasses.replace(what, second=dataclasses.replace(what.second, way=off))
    with pytest.raises(Refusal) as caught:
        ran(spoilt, what.examples[0].given)
    assert caught.value.code == "second"


def nudged(came: Any) -> Any:
    if came is None:
        return None  # no number, such as a step on from the last line
    if dataclasses.is_dataclass(came) and not isinstance(came, type):
        inside = {f.name: nudged(getattr(came, f.name)) for f in dataclasses.fields(came)}
        return type(came)(**inside)
    if isinstance(came, tuple):
        return came[::-1] if isinstance(came[0], int) else tuple(nudged(each) for each in came)
    if isinstance(came, str):
        return f"not {came}"
    return came * 1.01
