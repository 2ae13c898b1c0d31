"""What the crown of a block bears in; what jaws hold, the table lifts and the timber takes, out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.calculations.springback import Elastic, Yield
from generator.calculations.stretching import BlockRadius, Thickness
from generator.quantities.amount import Amount
from generator.quantities.functions import arc, exponential, sin, step

MEMBRANE = "Marciniak, Hu & Duncan, Mechanics of Sheet Metal Forming (from memory)"


@dataclass(frozen=True)
class Pulled:
    """What the jaw must hold and the table must lift, for each millimetre of width."""

    jaw: Annotated[Amount, gives("N_jaw", "N/mm", "pull of the jaw", to="0.1", safe="up")]
    lift: Annotated[Amount, gives("V", "N/mm", "lift of the table", to="0.1", safe="up")]


def _by_small_turns(load: float, friction: float, wrap: float) -> Pulled:
    """The pull grows turn by turn over the wrap, each by friction times its angle."""
    turns = 200_000
    jaw = load * (1 + friction * wrap / turns) ** turns
    made: Any = Pulled
    bare: Pulled = made(jaw, jaw * (2 * math.cos(math.pi / 2 - wrap)))
    return bare


LineLoad = Annotated[
    Amount, given("N", "N/mm", "load at the crown for each mm of width", above="0", at_most="9000")
]


@calculation(
    source=f"belt friction, T2/T1 = exp(μ w) (any text on statics); {MEMBRANE}",
    not_covered="a block that runs dry in places; jaws that bind; the weight of the table",
    second=Second(_by_small_turns, "0.001 %", "friction added over two hundred thousand turns"),
    examples=(
        Example(
            {"load": "167.862 N/mm", "friction": "0.10", "wrap": "40°"},
            {"jaw": "180.0 N/mm"},
            "ratio 1.07231 for μ 0.1 over 40° (closed form, from memory)",
        ),
    ),
)
def jaw_pull(
    load: LineLoad,
    friction: Annotated[
        Amount, given("μ", "", "friction of sheet on block", at_least="0", at_most="0.5")
    ],
    wrap: Annotated[
        Amount, given("w", "°", "wrap from crown to tangent point", above="0", at_most="180")
    ],
) -> Pulled:
    """Pull of the jaws and lift of the table: the crown's load, and friction over the wrap."""
    jaw = step(load * exponential(friction * arc(wrap)), "N_jaw", "N/mm", "pull of the jaw")
    return Pulled(jaw, 2 * jaw * sin(wrap))


def _pressure_by_strip(load: float, radius: float) -> float:
    """Balance of a strip of one hundredth of a radian."""
    turn = 0.0001
    return 2 * load * math.sin(turn / 2) / (radius * turn)


@calculation(
    source=f"membrane balance, p = N/R; {MEMBRANE}",
    not_covered="pull across the station on a block that curves both ways, which adds N2/R2; "
    "edges of the block; the timber's own strength",
    second=Second(_pressure_by_strip, "0.001 %", "balance of a thin strip of the arc"),
    examples=(
        Example(
            {"load": "180 N/mm", "radius": "900 mm"},
            {"": "0.200 MPa"},
            "180/900 (from memory)",
        ),
    ),
)
def block_pressure(
    load: LineLoad, radius: BlockRadius
) -> Annotated[Amount, gives("p", "MPa", "pressure on the block", to="0.001", safe="up")]:
    """Pressure of the stretched sheet on the block at one station."""
    return load / radius


def _plastic_by_fibre(
    thickness: float, radius: float, yield_strength: float, modulus: float
) -> float:
    """The innermost fibre is as much shorter as it lies inside; it must still yield in tension."""
    inner = (radius - (radius + thickness / 2)) / radius
    return yield_strength / modulus - inner


@calculation(
    source="Hosford & Caddell, Metal Forming, bending under tension (from memory): "
    "e = T/(2 R) + Y/E",
    not_covered="hardening, which leaves a little springback beyond this strain; friction, which "
    "takes strain from the crown",
    second=Second(_plastic_by_fibre, "0.0001 %", "strain of the innermost fibre"),
    examples=(
        Example(
            {
                "thickness": "1.2 mm",
                "radius": "900 mm",
                "yield_strength": "80.5 MPa",
                "modulus": "70000 MPa",
            },
            {"": "0.1817 %"},
            "1.2/1800 + 0.00115 (closed form, from memory)",
        ),
    ),
)
def strain_for_set(
    thickness: Thickness, radius: BlockRadius, yield_strength: Yield, modulus: Elastic
) -> Annotated[Amount, gives("e_set", "%", "least strain for a set sheet", to="0.01", safe="up")]:
    """Least strain with which every fibre yields in tension, so that the sheet keeps its curve."""
    return thickness / (2 * radius) + yield_strength / modulus
