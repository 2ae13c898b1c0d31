"""Limits of the givens in, limits of the results out: against print, brute force and samples."""

from __future__ import annotations

import dataclasses
import math
import random
import re
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.calculation import Calculation
from generator.computing import chain
from generator.computing.running import bare, pieces, run
from generator.computing.tolerance import Limits, Moving, Problem, limits_of
from generator.findings import Refusal
from generator.quantities import functions as f
from generator.quantities.spread import Spread, Unproven, moving
from tests.calculations.asking import ALL, named, values
from tests.calculations.test_contract import cells, typed_with

# --- published stacks ---------------------------------------------------------------------------

STACKS = [
    pytest.param(
        [(1, 40.00, 0.10), (-1, 25.00, 0.05), (-1, 2.00, 0.03), (-1, 10.00, 0.05)],
        0.23, 0.1261, 0.0001, id="axial gap: public article on stack-ups, bore 40, spacer 25, ring 2, shoulder 10",
    ),
    pytest.param([(1, 5.0, 0.1)] * 10, 1.0, 0.316, 0.0005, id="ten of 0.1 each: public article on root sum square"),
    pytest.param([(1, 9.0, 0.2), (1, 5.0, 0.1), (1, 3.0, 0.15)], 0.45, 0.2693, 0.0001, id="17.00 ± 0.27: public article on root sum square"),
]  # fmt: skip


@pytest.mark.parametrize(("parts", "worst", "rss", "within"), STACKS)
def test_a_published_stack(parts, worst, rss, within):
    found = of_sum([sign for sign, _, _ in parts], [(n, t) for _, n, t in parts])
    nominal = sum(sign * n for sign, n, _ in parts)
    assert found.proven
    assert found.low == pytest.approx(nominal - worst, abs=1e-9)
    assert found.high == pytest.approx(nominal + worst, abs=1e-9)
    assert (found.rss_high - found.rss_low) / 2 == pytest.approx(rss, abs=within)
    assert (found.rss_high + found.rss_low) / 2 == pytest.approx(nominal, abs=1e-9)


def problem(evaluate, givens, prove=None, holds=True):
    return Problem(evaluate, prove or evaluate, lambda _: holds, givens)


def of_sum(signs, sizes):
    givens = {f"g{i}": Moving(n - t, n, n + t) for i, (n, t) in enumerate(sizes)}

    def whole(point):
        return {"gap": sum(s * point[g] for s, g in zip(signs, givens, strict=True))}

    return limits_of(problem(whole, givens))["gap"]


def test_the_driver_is_the_given_that_moves_it_most():
    """Of 0.10, 0.05, 0.03 and 0.05 the bore's 0.10 is 10 of 23 parts."""
    found = of_sum([1, -1, -1, -1], [(40.0, 0.1), (25.0, 0.05), (2.0, 0.03), (10.0, 0.05)])
    assert found.drivers == ("g0",)
    assert found.share == pytest.approx(10 / 23)


# --- the same given twice is the same given -----------------------------------------------------


def test_a_thickness_that_enters_twice_is_one_thickness():
    """A deduction, 2 (R + T) tan(A/2) - (c1 R + c2 T) A, by brute force over a fine grid."""
    ends = {"R": (2.8, 3.2, 3.6), "T": (0.8, 0.914, 1.0), "A": (85.0, 90.0, 95.0)}

    def deduction(p):
        half = p["A"] * (math.pi / 360)
        return {
            "BD": 2 * (p["R"] + p["T"]) * f.tan(half)
            - (0.01743 * p["R"] + 0.0078 * p["T"]) * p["A"]
        }

    found = limits_of(problem(deduction, {n: Moving(*e) for n, e in ends.items()}))["BD"]
    grid = [[low + (high - low) * k / 40 for k in range(41)] for low, _, high in ends.values()]
    every = [deduction(dict(zip(ends, p, strict=True)))["BD"] for p in product(*grid)]
    assert found.low == pytest.approx(min(every), abs=1e-9)
    assert found.high == pytest.approx(max(every), abs=1e-9)


# --- where slopes are not proven ----------------------------------------------------------------


def hill(p):
    return {"h": 4.0 - (p["x"] - 0.3) * (p["x"] - 0.3) + 0.1 * p["y"]}


def test_a_hill_between_the_corners_is_searched_and_says_so():
    found = limits_of(problem(hill, {"x": Moving(0, 0.5, 1), "y": Moving(-1, 0, 1)}))["h"]
    assert not found.proven
    assert found.high == pytest.approx(4.1, abs=2e-3)  # the top, at x = 0.3
    assert found.low == pytest.approx(4.0 - 0.49 - 0.1)  # a corner
    assert found.bound is not None and found.bound[0] <= found.low and found.high <= found.bound[1]


def test_where_nothing_can_be_followed_it_is_searched_without_a_bound():
    found = limits_of(
        problem(hill, {"x": Moving(0, 0.5, 1), "y": Moving(-1, 0, 1)}, lambda _: {}, False)
    )["h"]
    assert not found.proven and found.bound is None
    assert found.high == pytest.approx(4.1, abs=5e-3)


def test_a_result_that_no_single_given_moves_is_found_at_a_corner():
    """Two sizes of 1.45 ± 0.2 pick the next bar above their sum: 3.2, and 4.8 only together."""

    def bar(p):
        return {"bar": next(b for b in (1.6, 3.2, 4.8) if b >= p["a"] + p["b"])}

    ends = Moving(1.25, 1.45, 1.65)
    found = limits_of(problem(bar, {"a": ends, "b": ends}, lambda _: {}, False))["bar"]
    assert (found.low, found.high, found.proven) == (3.2, 4.8, False)


def test_drivers_that_move_it_alike_are_all_named():
    found = of_sum([1, -1, 1], [(5.0, 0.1), (2.0, 0.1), (1.0, 0.05)])
    assert found.drivers == ("g0", "g1")
    assert found.share == pytest.approx(0.4)
    assert (found.rises, found.falls) == (("g0", "g2"), ("g1",))


def test_the_driver_of_an_even_dependence_is_not_missed():
    """(a - 10)² moves by 0.25 for a = 10 ± 0.5 though both ends give the same; c² by 0.04."""

    def both(p):
        away = p["a"] - 10
        return {"y": away * away + p["c"] * p["c"]}

    found = limits_of(problem(both, {"a": Moving(9.5, 10, 10.5), "c": Moving(0.99, 1, 1.01)}))["y"]
    assert found.drivers == ("a",)


def test_a_limit_that_intervals_do_not_prove_is_tried_at_every_corner():
    """Eight parts of one radius: only with all of them small is the radius too small."""
    seen = []

    def radius(p):
        seen.append(sum(p.values()))
        return {"r": sum(p.values())}

    limits_of(
        problem(radius, {f"g{n}": Moving(0.9, 1.0, 1.1) for n in range(8)}, lambda _: {}, False)
    )
    assert min(seen) == pytest.approx(7.2)
    assert max(seen) == pytest.approx(8.8)


def test_too_many_givens_to_try_are_refused():
    with pytest.raises(Refusal, match="not every corner"):
        limits_of(
            problem(
                lambda p: {"r": sum(p.values())},
                {f"g{n}": Moving(0.9, 1.0, 1.1) for n in range(11)},
                holds=False,
            )
        )


# --- spreads ------------------------------------------------------------------------------------

ONE = {
    "sin": (f.sin, math.sin, -7, 7), "cos": (f.cos, math.cos, -7, 7), "tan": (f.tan, math.tan, -1.5, 1.5),
    "sqrt": (f.square_root, math.sqrt, 0.01, 9), "log10": (f.log10, math.log10, 0.01, 9),
    "ln": (f.natural_log, math.log, 0.01, 9),
    "asin": (f.arcsin, math.asin, -0.999, 0.999), "acos": (f.arccos, math.acos, -0.999, 0.999),
    "atan": (f.arctan, math.atan, -9, 9), "square": (lambda x: x**2, lambda x: x**2, -3, 3),
    "cube": (lambda x: x**3, lambda x: x**3, -3, 3), "inverse": (lambda x: 1 / x, lambda x: 1 / x, 0.1, 9),
    "polynomial": (lambda x: 4 * x**3 - 3 * x + 1, lambda x: 4 * x**3 - 3 * x + 1, -2, 2),
    "quotient": (lambda x: (x + 2) / (x * x + 1), lambda x: (x + 2) / (x * x + 1), -1, 2),
    "largest": (lambda x: f.largest(x * x, 2 - x), lambda x: max(x * x, 2 - x), -3, 3),
    "smallest": (lambda x: f.smallest(x, 2 - x, 0.5 * x), lambda x: min(x, 2 - x, 0.5 * x), -3, 3),
    "area": (f.circle_area, lambda x: math.pi * x * x / 4, -2, 2),
    "rule": (lambda x: f.by_range(x, "1.5", x * x, 3 - x), lambda x: x * x if x <= 1.5 else 3 - x, -3, 3),
}  # fmt: skip


@pytest.mark.parametrize("name", ONE)
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_a_spread_holds_every_value_and_every_slope(name, data):
    spread_of, number_of, low, high = ONE[name]
    a, b = sorted(data.draw(st.tuples(*[st.floats(low, high)] * 2)))
    try:
        came = spread_of(moving("x", a, b))
    except Unproven:
        return  # nothing is claimed
    hair = 1e-9 * (1 + abs(came.span[0]) + abs(came.span[1]))
    for k in range(9):
        x = a + (b - a) * k / 8
        y = number_of(x)
        assert came.span[0] - hair <= y <= came.span[1] + hair
        if name not in ("largest", "smallest", "rule") and low < x - 1e-6 and x + 1e-6 < high:
            slope = (number_of(x + 1e-6) - number_of(x - 1e-6)) / 2e-6
            least, most = came.slope("x")
            slack = 1e-3 * (1 + abs(slope))
            assert least - slack <= slope <= most + slack


@pytest.mark.parametrize("bad", [lambda x: 1 / x, lambda x: f.log10(x), lambda x: f.square_root(x)])
def test_a_pole_inside_the_limits_proves_nothing(bad):
    with pytest.raises(Unproven):
        bad(moving("x", -1.0, 1.0))


def test_a_limit_that_moves_judges_a_number_that_does_not():
    """3 mm against a limit of 2.5 to 3.5 mm: intervals do not prove that it holds."""
    with pytest.raises(Unproven):
        f.step(0.003, "x", "mm", "a size", at_most=moving("limit", 0.0025, 0.0035, True))
    assert (
        f.step(0.002, "x", "mm", "a size", at_most=moving("limit", 0.0025, 0.0035, True)) == 0.002
    )


def test_a_tangent_over_its_pole_proves_nothing():
    with pytest.raises(Unproven):
        f.tan(moving("x", 1.5, 1.7))


def test_a_rule_in_two_parts_is_not_followed_over_its_step():
    with pytest.raises(Unproven):
        f.by_range(moving("x", 4.9, 5.1), "5", 1.0, 2.0)
    assert f.by_range(moving("x", 4.0, 5.0), "5", 1.0, 2.0) == 1.0


# --- every calculation --------------------------------------------------------------------------

# A table row alone moves by nothing: what is printed of it has no tolerance of its own.
TOLERANT = [
    what
    for what in ALL
    if any(out.kind not in ("order", "word") for out in what.outputs) and any(cells(what))
]


# Their limits are searched over shapes for ten to a hundred seconds: `make prove` asks them.
SLOW = {
    "angle_stack", "control_setting", "control_travel", "door_swing", "fair_line", "fitted_line",
    "hinge_line", "jack_over_stroke", "loft", "naca_five_digit", "naca_four_digit",
    "outline_clearance", "section_by_ordinates", "section_by_points", "skin_pattern",
    "stretch_rises", "trigger_window", "tyre_door_clearance",
}  # fmt: skip


def test_what_is_left_to_the_proofs_is_there_and_is_a_named_method():
    assert {each.name for each in TOLERANT if each.method} > SLOW


@pytest.mark.parametrize("what", [e for e in TOLERANT if e.name not in SLOW], ids=named)
def test_worst_case_limits_hold_every_draw(what):
    """Three hundred draws here and ten thousand in `make prove`, which asks all of them."""
    worst_case_holds(what, 300)


@pytest.mark.prove
@pytest.mark.parametrize("what", TOLERANT, ids=named)
def test_worst_case_limits_hold_ten_thousand_draws(what):
    worst_case_holds(what, 10_000)


def worst_case_holds(what, draws: int) -> None:
    """Every amount of the example gets ± 0.2 %; no draw may leave the limits that are printed."""
    ran = run(what, values(what, with_tolerances(what)))
    limits = chain.limits_at_the_desk(ran)
    assert limits, "nothing moves"
    places = moved(what, ran)
    draw = random.Random(3)
    nominal = {n: m.nominal for n, m in places.moving.items()}
    still = chain.evaluate(places.links, {**places.fixed, **nominal})
    for _ in range(draws):
        point = {n: draw.uniform(m.low, m.high) for n, m in places.moving.items()}
        for name, number in chain.evaluate(places.links, {**places.fixed, **point}).items():
            within(number, limits.get(name), still[name])


def within(number: float, limits: Limits | None, still: float) -> None:
    """A result without limits may not move at all."""
    if limits is None:
        assert number == pytest.approx(still, rel=1e-9, abs=1e-12)
    else:
        slack = 1e-9 * max(abs(limits.low), abs(limits.high), 1e-9)
        slack += 0.0 if limits.proven else 0.01 * (limits.high - limits.low)
        assert limits.low - slack <= number <= limits.high + slack


def moved(what: Calculation, ran):
    places = chain.Places({}, frozenset())
    places.calculated(what.name, ran, {n: chain._typed(v) for n, v in ran.inputs.items()})
    return places


def with_tolerances(what: Calculation):
    """The example with a small tolerance at every amount that stays inside its range with it."""
    typed = what.examples[0].given
    for cell in cells(what):
        place = typed
        for step in cell.way:
            place = place[step]
        for tried in tolerant_forms(str(place)):
            try:
                one = typed_with(replace_example(cell, typed), tried)
                chain.limits_at_the_desk(run(what, values(what, one)))
            except (Refusal, chain.AtCorner):
                continue
            typed = one
            break
    return typed


def tolerant_forms(text: str):
    """The amount with a tolerance both ways, or up or down alone where a limit is near."""
    number = re.match(r"-?[0-9.]+(?![0-9./-])", text)
    if number is None:
        return
    unit_text = text[number.end() :].strip() or "ratio"
    span = abs(float(number[0])) * 0.002 or 0.002
    yield f"{number[0]} ± {span:.9f} {unit_text}".strip()
    yield f"{number[0]} +{span:.9f}/-0 {unit_text}".strip()
    yield f"{number[0]} +0/-{span:.9f} {unit_text}".strip()


def replace_example(cell, typed):
    example = dataclasses.replace(cell.what.examples[0], given=typed)
    return dataclasses.replace(cell, what=dataclasses.replace(cell.what, examples=(example,)))


@pytest.mark.parametrize("what", [w for w in TOLERANT if not w.method], ids=named)
def test_a_spread_of_no_width_is_the_number_itself(what):
    """The same body on floats and on spreads that do not move: the same results."""
    ran = run(what, values(what, what.examples[0].given))
    arguments = {n: bare(v) for n, v in ran.arguments.items()}
    floats = [p.value for p in pieces(what, what.body(**arguments))]
    still = [
        p.value for p in pieces(what, what.body(**{n: _still(v) for n, v in arguments.items()}))
    ]
    for number, spread in zip(floats, still, strict=True):
        if isinstance(spread, Spread):
            assert spread.span == (pytest.approx(number), pytest.approx(number))


def _still(value):
    if isinstance(value, float):
        return Spread((value, value))
    if isinstance(value, tuple):
        return tuple(_still(each) for each in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        inside = {x.name: _still(getattr(value, x.name)) for x in dataclasses.fields(value)}
        return type(value)(**inside)
    return value
