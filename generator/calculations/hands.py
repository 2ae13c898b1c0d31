"""The same points or slopes of a PORT and a STBD part in; where their signs or sizes differ, out.

Across counts from the middle of the aircraft, plus to STBD: of a true pair it has the other sign on
the other side. Along and up have the same. Slopes are told by what rises, so they have the same.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, word
from generator.quantities.amount import Amount

Place = {"at_least": "-30000", "at_most": "30000"}
Slope = {"at_least": "-90", "at_most": "90"}


@dataclass(frozen=True)
class PointPair:
    """One point on both sides."""

    port_along: Annotated[Amount, given("x_P", "mm", "PORT, along, plus aft", **Place)]
    port_across: Annotated[Amount, given("y_P", "mm", "PORT, across, plus to STBD", **Place)]
    port_up: Annotated[Amount, given("z_P", "mm", "PORT, up", **Place)]
    stbd_along: Annotated[Amount, given("x_S", "mm", "STBD, along, plus aft", **Place)]
    stbd_across: Annotated[Amount, given("y_S", "mm", "STBD, across, plus to STBD", **Place)]
    stbd_up: Annotated[Amount, given("z_S", "mm", "STBD, up", **Place)]


@dataclass(frozen=True)
class Pair:
    """What a comparison finds."""

    largest: Annotated[
        Amount, gives("Δ_max", "mm", "largest difference of the pair", to="0.01", safe="up")
    ]
    slips: Annotated[str, word("slips", "wrong sign at")]
    differ: Annotated[str, word("differ", "differs by more than is accepted at")]


@dataclass(frozen=True)
class SlopePair:
    """One slope on both sides."""

    port: Annotated[Amount, given("α_P", "°", "PORT", **Slope)]
    stbd: Annotated[Amount, given("α_S", "°", "STBD", **Slope)]


@dataclass(frozen=True)
class Slopes:
    """What a comparison of slopes finds."""

    largest: Annotated[
        Amount, gives("Δ_max", "°", "largest difference of the pair", to="0.01", safe="up")
    ]
    slips: Annotated[str, word("slips", "wrong sign at")]
    differ: Annotated[str, word("differ", "differs by more than is accepted at")]


Cell = tuple[str, float, float]  # where, PORT as it stands for STBD, STBD


def _kinds(cells: Sequence[Cell], within: float) -> tuple[float, str, str]:
    """The largest difference, and which are slips of a sign or differ."""
    limit = within * (1 + 1e-9)
    slips = [name for name, a, b in cells if abs(a - b) > limit and abs(a + b) <= limit]
    differ = [name for name, a, b in cells if abs(a - b) > limit and name not in slips]
    return max(abs(a - b) for _, a, b in cells), _words(slips), _words(differ)


def _kinds_again(cells: Sequence[Cell], within: float) -> tuple[float, str, str]:
    """Sizes first, signs second."""
    slips: list[str] = []
    differ: list[str] = []
    largest = 0.0
    for name, a, b in cells:
        alike = abs(abs(a) - abs(b)) <= within * (1 + 1e-9)
        one_side = a * b >= 0
        apart = abs(abs(a) - abs(b)) if one_side else abs(a) + abs(b)
        largest = max(largest, apart)
        if apart > within * (1 + 1e-9):
            (slips if alike and not one_side else differ).append(name)
    return largest, _words(slips), _words(differ)


def _words(names: Sequence[str]) -> str:
    shown = list(names[:12]) + ([f"{len(names) - 12} more"] if len(names) > 12 else [])
    return ", ".join(shown) or "none"


def _point_cells(rows: Sequence[Any]) -> list[Cell]:
    cells = []
    for n, row in enumerate(rows, start=1):
        cells.append((f"point {n} along", row.port_along, row.stbd_along))
        cells.append((f"point {n} across", -row.port_across, row.stbd_across))
        cells.append((f"point {n} up", row.port_up, row.stbd_up))
    return cells


def _slope_cells(rows: Sequence[Any]) -> list[Cell]:
    return [(f"slope {n}", row.port, row.stbd) for n, row in enumerate(rows, start=1)]


def _pair(kind: Any, cells: Sequence[Cell], within: Any, how: Callable[..., Any]) -> Any:
    return kind(*how(cells, within))


def _points_again(rows: Any, within: float) -> Any:
    return _pair(Pair, _point_cells(rows), within, _kinds_again)


def _slopes_again(rows: Any, within: float) -> Any:
    return _pair(Slopes, _slope_cells(rows), within, _kinds_again)


SOURCE = "a part and its mirror image (geometry); a size that agrees with the other sign is a slip"
NOT_ALIKE = "a part that is not the mirror image of the other; a coordinate near nothing, whose "
NOT_ALIKE += "sign says nothing"
SLIP = {
    "port_along": "100 mm", "port_across": "-40 mm", "port_up": "12 mm",
    "stbd_along": "100.02 mm", "stbd_across": "-40 mm", "stbd_up": "12 mm",
}  # fmt: skip


@calculation(
    source=SOURCE,
    not_covered=NOT_ALIKE,
    method="each coordinate of PORT as it must stand on STBD, less that of STBD; where the sum is "
    "nothing instead, the sign slipped",
    second=Second(_points_again, "0.00001", "sizes first, then signs"),
    examples=(
        Example(
            {"rows": [SLIP], "within": "0.05 mm"},
            {"largest": "80 mm"},
            "visible arithmetic: -40 on both sides, where 40 belongs; 40 + 40",
        ),
    ),
    figures=("pair-plan",),
)
def hands_compared(
    rows: tuple[PointPair, ...],
    within: Annotated[
        Amount, given("δ", "mm", "difference that is accepted", above="0", at_most="100")
    ],
) -> Pair:
    """Port and starboard points compared: which differ, and which have a sign that slipped."""
    found: Pair = _pair(Pair, _point_cells(rows), within, _kinds)
    return found


@calculation(
    source=SOURCE,
    not_covered=NOT_ALIKE,
    method="the slope of PORT less that of STBD; where the sum is nothing, the sign slipped",
    second=Second(_slopes_again, "0.00001", "sizes first, then signs"),
    examples=(
        Example(
            {
                "rows": [{"port": "1.95°", "stbd": "1.93°"}, {"port": "3.40°", "stbd": "-3.41°"}],
                "within": "0.05°",
            },
            {"largest": "6.81 °"},
            "visible arithmetic: 3.40 + 3.41; 1.95 - 1.93 is accepted",
        ),
    ),
)
def slopes_compared(
    rows: tuple[SlopePair, ...],
    within: Annotated[
        Amount, given("δ", "°", "difference that is accepted", above="0", at_most="10")
    ],
) -> Slopes:
    """Port and starboard slopes compared: which differ, and which have a sign that slipped.

    Both are told by what rises, such as inboard or aft, so that a true pair has the same signs.
    """
    found: Slopes = _pair(Slopes, _slope_cells(rows), within, _kinds)
    return found
