"""A turnbuckle's wire or the pull on a crimp, in; whether the lock is what its table asks, out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, key, looked_up
from generator.quantities.amount import Amount


@dataclass(frozen=True)
class WireRow:
    """A wire that locks a turnbuckle: it holds for this cable, wrap and wire only."""

    cable: Annotated[str, key("size of the cable, as the table prints it")]
    wrap: Annotated[str, key("wrap, as the table prints it")]
    wire: Annotated[str, key("metal of the wire, as the table prints it")]
    diameter: Annotated[Amount, given("d_t", "mm", "wire of the row")]


@dataclass(frozen=True)
class Wire:
    """The wire and its turns, against their table and rule."""

    spare: Annotated[
        Amount,
        gives("Δd", "mm", "wire thicker than its row", to="0.01", safe="down", at_least="0",
              beyond="A thicker wire, or another wrap that the table has for this wire"),
    ]  # fmt: skip
    turns: Annotated[
        Amount,
        gives("Δn", "", "turns more than the least", to="1", at_least="0",
              beyond="Wind on: at least 4 turns about the shank at each end"),
    ]  # fmt: skip


def _wire_by_shares(row: Any, used: float, turns: float, least: float) -> Wire:
    """By how many times it is enough."""
    made: Any = Wire
    bare: Wire = made(
        row.diameter * (used / row.diameter - 1), least * (turns / least - 1)
    )  # fmt: skip
    return bare


@calculation(
    source="AC 43.13-1B (9/8/98) table 7-8; paragraphs 7-180 and 7-181: at least 4 turns about the "
    "shank at each end",
    not_covered="locking clips; wire of another metal; how the wire is led through the barrel; a "
    "row that its approved data replace",
    second=Second(_wire_by_shares, "0.001 %", "by how many times it is enough"),
    examples=(
        Example(
            {
                "cable": "1/8 in",
                "wrap": "single",
                "wire": "stainless steel or Monel",
                "used": "0.050 in",
                "turns": "6",
            },
            {"spare": "0.010 in", "turns": "2"},
            "AC 43.13-1B table 7-8: 0.040 in; paragraph 7-180: 4 turns",
        ),
    ),
)
def turnbuckle_wire(
    row: Annotated[WireRow, looked_up("locking_wire")],
    used: Annotated[
        Amount,
        given("d", "mm", "diameter of the wire", at_least="0.3", at_most="3", at_bench="0.01"),
    ],
    turns: Annotated[
        Amount,
        given("n", "", "turns about the shank, at the end that has fewer", at_least="0",
              at_most="30", at_bench="1"),
    ],
    least: Annotated[Amount, given("n_l", "", "turns at the least", fixed="4 count")],
) -> Wire:  # fmt: skip
    """Wire that locks a turnbuckle: its diameter against the table, its turns against the rule."""
    return Wire(used - row.diameter, turns - least)


@dataclass(frozen=True)
class CrimpRow:
    """A pull that a crimp must hold: it holds for this cable only."""

    cable: Annotated[str, key("size of the safety cable, as the table prints it")]
    construction: Annotated[str, key("construction, as the table prints it")]
    least: Annotated[Amount, given("F_t", "lbf", "least pull of the row")]


def _crimp_by_share(row: Any, pull: float) -> float:
    share: float = pull / row.least
    return (share - 1) * float(row.least)


@calculation(
    source="TM 1-1500-204-23-6 table 2-19",
    not_covered="a ferrule of another tool or maker; the lock on the part itself: the trial crimp "
    "is made beside the job, with the same tool on the same day",
    second=Second(_crimp_by_share, "0.001 %", "by how many times it is enough"),
    examples=(
        Example(
            {"cable": "0.032 in", "construction": "3x7", "pull": "85 lbf"},
            {"": "15 lbf"},
            "TM 1-1500-204-23-6 table 2-19: 70 lbf",
        ),
    ),
)
def safety_cable_crimp(
    row: Annotated[CrimpRow, looked_up("safety_cable")],
    pull: Annotated[
        Amount,
        given("F", "lbf", "pull that the trial crimp held", above="0", at_most="400",
              at_bench="1"),
    ],
) -> Annotated[
    Amount,
    gives("ΔF", "lbf", "pull over the least", to="1", safe="down", at_least="0",
          beyond="The tool is checked before anything is locked with it"),
]:  # fmt: skip
    """Crimp of a safety cable: the pull of a trial crimp against its table row."""
    spare: Amount = pull - row.least
    return spare
