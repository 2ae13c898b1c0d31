"""Slopes of the shell at each hinge, in; how each base is tilted under the cutter, out.

Plus along: the shell rises going aft. Plus across: it rises going inboard. Azimuth: from straight
inboard, plus towards aft.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.calculations.hinges import Hand
from generator.calculations.space import Vector, cross, unit_vector
from generator.quantities.amount import Amount
from generator.quantities.functions import (
    arctan,
    cos,
    sin,
    square_root,
    step,
    subscript,
    tan,
)

GEOMETRY = "geometry: normal of a plane by its two slopes, turned into the line's own directions"
FLAT = "0.05"
STEEP = "45"
Slope = {"at_least": "-40", "at_most": "40"}
Turn = {"at_least": "-10", "at_most": "10"}


@dataclass(frozen=True)
class Slopes:
    """The slopes of the shell at one hinge, against the datum of the survey."""

    along: Annotated[Amount, given("α", "°", "slope along, plus rises aft", **Slope)]
    across: Annotated[Amount, given("β", "°", "slope across, plus rises inboard", **Slope)]


@dataclass(frozen=True)
class Base:
    """How one base is cut."""

    along: Annotated[Amount, gives("α′", "°", "slope along the hinge line, base", to="0.01")]
    across: Annotated[Amount, gives("β′", "°", "slope across the hinge line, base", to="0.01")]
    tilt: Annotated[Amount, gives("θ", "°", "true tilt, base", to="0.001")]
    azimuth: Annotated[
        Amount, gives("ψ", "°", "azimuth of the high side, plus aft of inboard, base", to="0.1")
    ]
    ends: Annotated[Amount, gives("E", "mm", "bow end taller than aft end, base", to="0.01")]


def _by_normals(
    rows: Any, rises: float, turns: float, length: float, whole: float
) -> tuple[Base, ...]:
    """The normal of the shell by a cross product, turned with the line, and read again."""
    found = []
    made: Any = Base
    for row in rows:
        normal = cross((1.0, 0.0, math.tan(row.along)), (0.0, 1.0, math.tan(row.across)))
        x, y, z = _turned(unit_vector(normal, "the normal"), rises, turns)
        along, across = math.atan2(-x, z), math.atan2(-y, z)
        found.append(
            made(along, across, math.atan2(math.hypot(x, y), z), math.atan2(-x, -y),
                 -length * x / z)
        )  # fmt: skip
    return tuple(found)


def _turned(one: Vector, rises: float, turns: float) -> Vector:
    """A direction in the axes of the line: aft along it, inboard square to it, outward."""
    x, y, z = one
    ahead = x * math.cos(turns) + y * math.sin(turns)
    inboard = y * math.cos(turns) - x * math.sin(turns)
    return (
        ahead * math.cos(rises) + z * math.sin(rises),
        inboard,
        z * math.cos(rises) - ahead * math.sin(rises),
    )


def tilt_of(along: Any, across: Any, n: str) -> tuple[Any, Any]:
    """True tilt and azimuth of a plane with two slopes at right angles, as tangents."""
    steep = step(square_root(along**2 + across**2), f"t{n}", "", "tangent of the tilt")
    tilt = step(
        arctan(steep), f"θ{n}", "°", "true tilt", at_least=FLAT, at_most=STEEP,
        wrong="a tilt of {value}: below 0.05° no azimuth can be set, the face is cut flat; above "
        "45° a sine bar sets the other angle",
    )  # fmt: skip
    return tilt, 2 * arctan(along / (across + steep))


@calculation(
    source=GEOMETRY,
    not_covered="a shell that bends inside the base, which bedding takes up; twist of the shell "
    "between two hinges; a vice whose arrow is turned about: the arrow of the base shows it",
    second=Second(_by_normals, "0.0001", "normal by a cross product, turned with the line"),
    examples=(
        Example(
            {
                "rows": [{"along": "20°", "across": "15°"}],
                "rises": "0°", "turns": "0°", "length": "100 mm",
                "hand": "PORT",
            },
            {"1.tilt": "24.3212 °", "1.azimuth": "53.6401 °"},
            "Machinery's Handbook, 31st ed., p. 121, compound angles: tan R = tan A / tan B, "
            "tan C = tan A / sin R, for 20° and 15°",
        ),
    ),
    figures=("tilt-arrows",),
)  # fmt: skip
def hinge_bases(
    rows: tuple[Slopes, ...],
    rises: Annotated[Amount, given("ε", "°", "the hinge line rises going aft", **Turn)],
    turns: Annotated[Amount, given("γ", "°", "the hinge line turns inboard going aft", **Turn)],
    length: Annotated[
        Amount, given("l", "mm", "length of a base along the line", at_least="1", at_most="1000")
    ],
    hand: Hand,
    whole: Annotated[Amount, given("1", "", "a whole", fixed="1 ratio")],
) -> tuple[Base, ...]:
    """Hinge bases: slopes along and across the hinge line, true tilt, azimuth and ends of each.

    A base stands on its datum face, which is parallel to the hinge line. The azimuth is the side
    on which the shell stands highest, from straight inboard; plus is aft of it.
    """
    return tuple(_base(row, subscript("", n), rises, turns, length, whole)
                 for n, row in enumerate(rows, start=1))  # fmt: skip


def _base(row: Any, n: str, rises: Any, turns: Any, length: Any, whole: Any) -> Base:
    ahead = step(
        tan(row.along) * cos(turns) + tan(row.across) * sin(turns), f"a{n}", "",
        "tangent of the slope below the line",
    )  # fmt: skip
    aside = step(
        tan(row.across) * cos(turns) - tan(row.along) * sin(turns), f"b{n}", "",
        "tangent of the slope square to it",
    )  # fmt: skip
    upright = step(
        (whole + ahead * tan(rises)) * cos(rises),
        f"c{n}",
        "",
        "the normal outward, in the line's axes",
    )
    along = step((ahead * cos(rises) - sin(rises)) / upright, f"tα{n}", "", "tangent of α′")
    across = step(aside / upright, f"tβ{n}", "", "tangent of β′")
    tilt, azimuth = tilt_of(along, across, n)
    return Base(arctan(along), arctan(across), tilt, azimuth, length * along)


# --- a shell that is measured again -------------------------------------------------------------


@dataclass(frozen=True)
class PadAgain:
    """A pad over a shell that was measured again, the line left where it is."""

    pad: Annotated[Amount, gives("h_n", "mm", "height of the pad now", to="0.01")]
    spare: Annotated[Amount, gives("Δh", "mm", "pad over its least", to="0.01", safe="down")]


def _again_by_shell(pad: float, higher: float, most: float, least: float) -> PadAgain:
    """The line over the old shell less the new shell over the old."""
    made: Any = PadAgain
    shell = -pad  # the line is at nothing
    now = shell + higher
    bare: PadAgain = made(-now, -least - now)
    return bare


@calculation(
    source="geometry: the line stays, the shell moves; how far it may is the lead's judgement",
    not_covered="a shell that was measured wrong at other stations too: survey again and fit anew; "
    "slopes that changed with it",
    second=Second(_again_by_shell, "0.001 %", "the shell below the line, moved"),
    examples=(
        Example(
            {
                "pad": "16.77 mm", "higher": "0.30 mm", "most": "0.80 mm", "least": "9.00 mm",
            },
            {"pad": "16.47 mm", "spare": "7.47 mm"},
            "visible arithmetic: 16.77 - 0.30, 16.47 - 9.00 mm",
        ),
    ),
)  # fmt: skip
def pad_again(
    pad: Annotated[
        Amount,
        given("h", "mm", "height of the line over the shell", at_least="1", at_most="500"),
    ],
    higher: Annotated[
        Amount,
        given(
            "δ",
            "mm",
            "shell higher than it was surveyed",
            at_least="-20",
            at_most="20",
            at_bench="0.01",
        ),
    ],
    most: Annotated[
        Amount,
        given("δ_max", "mm", "change up to which the line stays", above="0", at_most="20"),
    ],
    least: Annotated[
        Amount, given("h_min", "mm", "least height of a pad", at_least="0.5", at_most="500")
    ],
) -> PadAgain:
    """Pad over a shell that was measured again at its station: the hinge line stays where it is.

    Beyond the largest change, and where the pad would be thinner than its least, the line is fitted
    anew.
    """
    step(
        square_root(higher**2), "|δ|", "mm", "change of the shell", at_most=most,
        wrong="the shell moved by {value}: survey it again and fit the line anew",
    )  # fmt: skip
    now = step(
        pad - higher, "h_n", "mm", "height of the pad now",
        at_least=least,
        wrong="the pad would be {value}, below its least: fit the line anew",
    )  # fmt: skip
    return PadAgain(now, now - least)
