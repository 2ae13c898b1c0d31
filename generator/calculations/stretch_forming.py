"""A block between its jaws, a sheet and limits in; go or no-go of a first pass at one rise out."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from typing import Annotated, Any, NamedTuple

from generator.calculation import Example, Second, calculation, count, given
from generator.calculations.stretch_skin import (
    Coupon,
    Formed,
    Over,
    Station,
    formed_skin,
    forming_verdict,
    jacks_area,
    law,
    setting_of,
    sheet_of,
    worst_of,
)
from generator.calculations.stretching import (
    Hardening,
    JawToJaw,
    Spread,
    Square,
    Strength,
    Thickness,
)
from generator.quantities.amount import Amount

SOURCE = (
    "block_girth, stretch_strain, stretch_load, jaw_pull and block_pressure at every station; "
    "limits are the workshop's own"
)
NOT_COVERED = (
    "approval of a set-up; a block that is not round between its tangent points; strain that "
    "friction moves along the sheet, which the grid shows; a torn edge; jacks that do not move "
    "alike"
)
METHOD = (
    "girth and wrap at every station; load by the coupon, pull by friction over the wrap; summed "
    "over the width, straight between stations and even beyond the end ones"
)

Height = Annotated[
    Amount,
    given("H", "mm", "first crown above the jaws at rise zero", at_least="-2000", at_most="4000"),
]
Margin = Annotated[
    Amount, given("m", "mm", "sheet beyond either end station", at_least="0", at_most="500")
]
Rise = Annotated[
    Amount,
    given("r", "mm", "rise of the table", at_least="-200", at_most="200", at_bench="0.1"),
]
Within = Annotated[Amount, given("δ", "mm", "rise set within", at_least="0", at_most="10")]
FlatWithin = Annotated[
    Amount, given("δ_L", "mm", "jaw lines marked within", at_least="0", at_most="10")
]
Thinnest = Annotated[
    Amount, given("T_min", "mm", "thinnest sheet allowed", at_least="0.3", at_most="4")
]
Thickest = Annotated[
    Amount, given("T_max", "mm", "thickest sheet allowed", at_least="0.3", at_most="4")
]
Friction = Annotated[
    Amount, given("μ", "", "friction of sheet on block", at_least="0", at_most="0.5")
]
Bore = Annotated[Amount, given("D", "mm", "bore of a jack", at_least="10", at_most="300")]
Jacks = Annotated[int, count("n_j", "jacks under the table", 1, 12)]
LeastThickness = Annotated[
    Amount, given("t_lim", "mm", "least thickness allowed", at_least="0.2", at_most="4")
]
MostGauge = Annotated[
    Amount, given("p_lim", "bar g", "highest gauge allowed", at_least="1", at_most="700")
]
MostPull = Annotated[
    Amount, given("F_lim", "kN", "most the jaws hold", at_least="1", at_most="5000")
]
MostPressure = Annotated[
    Amount, given("q_lim", "MPa", "most the block bears", at_least="0.01", at_most="20")
]
LeastStrain = Annotated[
    Amount, given("e_1", "%", "least strain allowed", at_least="0.2", at_most="10")
]
MostStrain = Annotated[
    Amount, given("e_2", "%", "most strain allowed", at_least="0.2", at_most="16")
]


SKIN = {
    "stations": [
        {"at": "0 mm", "radius": "520 mm", "crown": "0 mm"},
        {"at": "450 mm", "radius": "494 mm", "crown": "20 mm"},
        {"at": "900 mm", "radius": "513 mm", "crown": "3 mm"},
    ],
    "margin": "50 mm",
    "height": "420 mm",
    "spread": "1120 mm",
    "rise_within": "0 mm",
    "jaw_to_jaw": "1463 mm",
    "flat_within": "0 mm",
    "thickness": "0.914 mm",
    "thinnest": "0.914 mm",
    "thickest": "0.914 mm",
    "friction": "0.10",
    "bore": "80 mm",
    "jacks": "2",
}
FORMING = SKIN | {
    "rise": "2.5 mm",
    "strength": "310 MPa",
    "hardening": "0.20",
    "least_strain": "1 %",
    "most_strain": "4 %",
    "least_thickness": "0.86 mm",
    "most_gauge": "480 bar g",
    "most_pull": "250 kN",
    "most_pressure": "0.36 MPa",
    "square": "50 mm",
}


class Again(NamedTuple):
    """One station, worked out the other way: girth, pull, lift for a metre of width, pressure."""

    girth: float
    pull: float
    lift: float
    pressure: float


def girth_by_chords(one: Any, height: float, spread: float, rise: float, thickness: float) -> float:
    """The girth at one station: angles by their tangents, the arc by chords."""
    return _wrap_and_girth(one, height, spread, rise, thickness)[1]


def _wrap_and_girth(
    one: Any, height: float, spread: float, rise: float, thickness: float
) -> tuple[float, float]:
    mean, across = one.radius + thickness / 2, spread / 2
    down = one.radius - height - one.crown - rise
    leg = math.sqrt(across**2 + down**2 - mean**2)
    wrap = math.atan2(across, down) - math.atan2(leg, mean)
    if wrap <= 0:
        raise ValueError("the sheet does not reach the block")
    pieces = 4000
    return wrap, 2 * leg + pieces * 4 * mean * math.sin(wrap / pieces / 2)


def station_again(
    one: Any, height: float, spread: float, rise: float, thickness: float, jaw_to_jaw: float,
    flow: Callable[[float], float], friction: float,
) -> Again:  # fmt: skip
    """Angles by their tangents, the arc by chords; load from the first section."""
    wrap, length = _wrap_and_girth(one, height, spread, rise, thickness)
    true = math.log(length) - math.log(jaw_to_jaw)
    load = flow(true) * thickness * math.exp(-true)
    pull = load * math.e ** (friction * wrap)
    return Again(length, pull, pull * 2 * math.cos(math.pi / 2 - wrap), load / one.radius)


def summed(stations: Any, margin: float, loads: list[float]) -> float:
    """Every station with the width that belongs to it: half of the way to its neighbours."""
    at: list[float] = [one.at for one in stations]
    steps = [2 * margin, *(after - before for before, after in itertools.pairwise(at))]
    steps.append(2 * margin)
    return sum(
        load * (before + after) / 2
        for load, before, after in zip(loads, steps, steps[1:], strict=False)
    )


def loads_again(
    stations: Any, margin: float, pistons: float, given: list[Again], high: list[Again]
) -> tuple[float, ...]:
    """Lift and gauge as given; gauge, pull of a jaw and pressure with the high settings."""
    lift = summed(stations, margin, [each.lift for each in given])
    highest = summed(stations, margin, [each.lift for each in high]) / pistons
    pull = summed(stations, margin, [each.pull for each in high])
    return lift, lift / pistons, highest, pull, max(each.pressure for each in high)


def said_again(*passed: tuple[str, bool]) -> tuple[str, str]:
    """The verdict, and the first limit that is passed."""
    names = [name for name, is_passed in passed if is_passed]
    return ("NO-GO", names[0]) if names else ("GO", "-")


def by_power(strength: float, hardening: float) -> Callable[[float], float]:
    """Flow stress of a held sheet: a strip that is 1.155^(1 + n) times as hard."""

    def flow(true: float) -> float:
        if not 1.155 * true >= 0.002 or true > hardening:
            raise ValueError("no flow stress below the law of the coupon or past its neck")
        return float(1.155 ** (1 + hardening) * strength * true**hardening)

    return flow


def _formed_again(
    stations: Any, margin: float, height: float, spread: float, rise: float, rise_within: float,
    jaw_to_jaw: float, flat_within: float, thickness: float, thinnest: float, thickest: float,
    strength: float, hardening: float, friction: float, bore: float, jacks: int,
    least_strain: float, most_strain: float, least_thickness: float, most_gauge: float,
    most_pull: float, most_pressure: float, square: float,
) -> Formed:  # fmt: skip
    """Every station once more as given, with the low settings, and with the high ones."""
    flow = by_power(strength, hardening)

    def all_of(up: float, sheet: float, flat: float) -> list[Again]:
        return [
            station_again(one, height, spread, up, sheet, flat, flow, friction) for one in stations
        ]

    given = all_of(rise, thickness, jaw_to_jaw)
    low = all_of(rise - rise_within, thinnest, jaw_to_jaw + flat_within)
    high = all_of(rise + rise_within, thickest, jaw_to_jaw - flat_within)
    pistons = jacks * math.pi * (bore / 2) ** 2
    least = min(each.girth for each in low) / (jaw_to_jaw + flat_within) - 1
    most = max(each.girth for each in high) / (jaw_to_jaw - flat_within) - 1
    thin = thinnest * math.exp(-math.log1p(most))
    loads = loads_again(stations, margin, pistons, given, high)
    says = said_again(
        ("strain low", least < least_strain), ("strain high", most > most_strain),
        ("too thin", thin < least_thickness), ("gauge", loads[2] > most_gauge),
        ("jaw pull", loads[3] > most_pull), ("block", loads[4] > most_pressure),
    )  # fmt: skip
    row: Any = Over
    made: Any = Formed
    grown = [(each.girth, each.girth / jaw_to_jaw) for each in given]
    over = tuple(row(girth, by - 1, square * by, thickness / by) for girth, by in grown)
    again: Formed = made(over, least, most, thin, *loads, *says)
    return again


@calculation(
    source=SOURCE,
    not_covered=NOT_COVERED,
    method=METHOD,
    second=Second(_formed_again, "0.01 %", "arcs by chords, load by powers, each with its width"),
    examples=(
        Example(
            FORMING | {"rise": "0 mm"},
            {
                "stations.1.girth": "1477.9 mm",
                "stations.2.girth": "1503.3 mm",
                "stations.3.girth": "1480.8 mm",
                "least": "1.02 %",
                "most": "2.76 %",
            },
            "a separate program of the workshop's demo values, girths by a convex hull "
            "(no published case is known)",
        ),
    ),
)
def stretch_forming(
    stations: tuple[Station, ...], margin: Margin, height: Height, spread: Spread, rise: Rise,
    rise_within: Within, jaw_to_jaw: JawToJaw, flat_within: FlatWithin, thickness: Thickness,
    thinnest: Thinnest, thickest: Thickest, strength: Strength, hardening: Hardening,
    friction: Friction, bore: Bore, jacks: Jacks, least_strain: LeastStrain,
    most_strain: MostStrain, least_thickness: LeastThickness, most_gauge: MostGauge,
    most_pull: MostPull, most_pressure: MostPressure, square: Square,
) -> Formed:  # fmt: skip
    """Stretch forming at one rise: strain and thickness at every station, loads, go or no-go.

    Form to the rise and the strain of the grid; the gauge hardly moves once the sheet yields, and
    serves as a cap and an alarm only.
    """
    setting = setting_of(stations, margin, height, spread, jaw_to_jaw)
    pistons: Any = jacks_area(bore, jacks)  # type: ignore[arg-type]
    coupon = Coupon(law(strength, hardening), friction, pistons)  # type: ignore[arg-type]
    sheet = sheet_of(thickness, thinnest, thickest)
    off: Any = (rise_within, flat_within)
    up: Any = rise
    side: Any = square
    bad = worst_of(setting, coupon, sheet, up, off)
    limits: Any = (
        least_strain, most_strain, least_thickness, most_gauge, most_pull, most_pressure,
    )  # fmt: skip
    return formed_skin(setting, coupon, sheet, up, side, bad, forming_verdict(bad, limits))
