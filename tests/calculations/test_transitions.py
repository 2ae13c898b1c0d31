"""Transitions from square to round against closed forms, and folded back."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import Any

import pytest

from generator.findings import Refusal
from tests.calculations.asking import results
from tests.calculations.rolled_out import WITHIN, flat, number

# --- transitions -------------------------------------------------------------------------------

CORNERS = [(100, 100), (-100, 100), (-100, -100), (100, -100)]
ROUND = 70.0


def square_to_round() -> list[tuple[tuple[float, ...], tuple[float, ...]]]:
    """A square of 200 mm that goes over to a circle of 140 mm, 150 mm on: a quarter of the circle
    belongs to each corner, seam in the middle of the side to the right."""
    pairs = [((100.0, 0.0), (ROUND, 0.0))]
    for n, corner in enumerate(CORNERS):
        for k in range(7):
            turn = math.radians(90 * n + 15 * k)
            pairs.append((corner, (ROUND * math.cos(turn), ROUND * math.sin(turn))))
    pairs.append(pairs[0])
    return [((0.0, *a), (150.0, *b)) for a, b in pairs]


def asked_for(pairs: Sequence[Any], **more: str) -> dict[str, Any]:
    points = [
        {"edge": edge, "at": f"{p[0]} mm", "across": f"{p[1]:.7f} mm", "up": f"{p[2]:.7f} mm"}
        for k, edge in enumerate(("first", "second"))
        for p in (pair[k] for pair in pairs)
    ]
    told = {
        "points": points, "edges": "straight from point to point", "inside": "within",
        "stations": "away from the viewer", "most_warp": "0.01 mm",
    }  # fmt: skip
    return told | more


def test_a_square_that_goes_round_folded_back() -> None:
    """Every side of every triangle is as long in the flat as in space."""
    pairs = square_to_round()
    came = results("transition_pattern", **asked_for(pairs))
    lines = flat(came)
    assert len(lines) == len(pairs)
    for (a, b), (p, q) in zip(pairs, lines, strict=True):
        assert abs(q - p) == pytest.approx(math.dist(a, b), abs=WITHIN)
    for k, ((a, b), (c, d)) in enumerate(itertools.pairwise(pairs)):
        p, q, r, s = *lines[k], *lines[k + 1]
        assert abs(r - p) == pytest.approx(math.dist(a, c), abs=WITHIN)
        assert abs(s - q) == pytest.approx(math.dist(b, d), abs=WITHIN)
        assert abs(r - q) == pytest.approx(math.dist(b, c), abs=WITHIN)
        assert number(came, f"lengths.{k + 1}.diagonal") == pytest.approx(abs(s - p), abs=WITHIN)
    last = len(pairs)
    assert {name for name in came if name.startswith(f"lengths.{last}.")} == {
        f"lengths.{last}.line"  # nothing goes on from the last line to a next one
    }
    assert number(came, "first_edge") == pytest.approx(800, abs=1e-6)
    assert number(came, "warp") == pytest.approx(0, abs=1e-6)
    assert came["rolls"].shown == "DOWN"
    inner = results("transition_pattern", **asked_for(pairs, marked="inside"))
    assert inner["rolls"].shown == "UP"


def test_the_area_of_a_transition_is_that_of_its_triangles() -> None:
    """Heron in space against Gauss in the flat."""
    pairs = square_to_round()
    lines = flat(results("transition_pattern", **asked_for(pairs)))
    outline = [a for a, _ in lines] + [b for _, b in lines[::-1]]
    inside = abs(
        sum((a.conjugate() * b).imag for a, b in itertools.pairwise([*outline, outline[0]]))
    )
    whole = 0.0
    for (a, b), (c, d) in itertools.pairwise(pairs):
        for one in ((a, b, c), (c, b, d)):
            sides = [math.dist(x, y) for x, y in itertools.pairwise([*one, one[0]])]
            half = sum(sides) / 2
            whole += math.sqrt(max(half * math.prod(half - s for s in sides), 0.0))
    assert inside / 2 == pytest.approx(whole, rel=1e-3)


def test_a_warped_sheet_says_how_far_and_is_refused() -> None:
    """A field of 50 by 200 mm of which one corner is lifted by 5 mm: visible arithmetic."""
    pairs = [((0.0, x, 0.0), (200.0, x, 0.1 * x)) for x in (0.0, 50.0, 100.0, 150.0, 200.0)]
    more = {"inside": "below"}
    for edges in ("straight from point to point", "smooth through all points"):
        came = results(
            "transition_pattern", **asked_for(pairs, edges=edges, most_warp="10 mm", **more)
        )
        assert number(came, "warp") == pytest.approx(5, rel=0.03)
    with pytest.raises(Refusal, match=r"warped: a corner stands \d\.\d\d mm off its field"):
        results("transition_pattern", **asked_for(pairs, **more))


@pytest.mark.parametrize(
    ("pairs", "says"),
    [
        ([((0.0, 0.0, 0.0), (100.0, 0.0, 0.0))], "the first edge has 1 points"),
        ([((0.0, 0.0, 0.0), (0.0, 0.0, 0.0)), ((0.0, 9.0, 0.0), (9.0, 9.0, 0.0))], "no length"),
        ([((0.0, 0.0, 0.0), (9.0, 0.0, 0.0))] * 2, "lines 1 and 2 are one"),
        (
            [((0.0, x, 0.0), (90.0, y, 0.0)) for x, y in ((0.0, 80.0), (40.0, 40.0), (80.0, 0.0))],
            "lines cross",
        ),
    ],
)
def test_transitions_that_are_refused(pairs: Sequence[Any], says: str) -> None:
    with pytest.raises(Refusal, match=says):
        results("transition_pattern", **asked_for(pairs, inside="below"))
