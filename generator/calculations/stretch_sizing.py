"""A skin fresh from the quench and limits in; go or no-go of the second pass at one rise out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, word
from generator.calculations.stretch_forming import (
    METHOD,
    NOT_COVERED,
    SKIN,
    SOURCE,
    Again,
    Bore,
    FlatWithin,
    Friction,
    Height,
    Jacks,
    LeastThickness,
    Margin,
    MostGauge,
    MostPressure,
    MostPull,
    MostStrain,
    Rise,
    Thickest,
    Thinnest,
    Within,
    loads_again,
    said_again,
    station_again,
)
from generator.calculations.stretch_skin import (
    Coupon,
    Limit,
    Setting,
    Sheet,
    Station,
    jacks_area,
    judged,
    line_loads,
    over_width,
    setting_of,
    sheet_of,
    strain,
    worst_of,
)
from generator.calculations.stretching import JawToJaw, Spread, Thickness
from generator.quantities.amount import Amount

Formerly = Annotated[
    Amount, given("r_1", "mm", "rise of the first pass", at_least="-200", at_most="200")
]
LeastAdded = Annotated[
    Amount, given("Δ_1", "%", "least strain that is added", at_least="0", at_most="5")
]
MostAdded = Annotated[
    Amount, given("Δ_2", "%", "most strain that is added", at_least="0", at_most="5")
]
FlowStress = Annotated[
    Amount,
    given("Y", "MPa", "flow stress of the fresh-quenched coupon", at_least="20", at_most="1000"),
]


@dataclass(frozen=True)
class Sized:
    """The whole skin after a second pass, and the verdict."""

    least: Annotated[Amount, gives("Δe_min", "%", "strain added, least", to="0.01", safe="down")]
    most: Annotated[Amount, gives("Δe_max", "%", "strain added, most", to="0.01", safe="up")]
    whole: Annotated[Amount, gives("e_max", "%", "strain in all, most", to="0.01", safe="up")]
    thicknesses: Annotated[
        tuple[Amount, ...], gives("t", "mm", "thickness at station", to="0.001", safe="down")
    ]
    thinnest: Annotated[
        Amount, gives("t_min", "mm", "thinnest, thinnest sheet", to="0.001", safe="down")
    ]
    lift: Annotated[Amount, gives("V", "kN", "lift of the table", to="1")]
    gauge: Annotated[Amount, gives("p", "bar g", "gauge, sheet as given", to="1")]
    highest: Annotated[Amount, gives("p_max", "bar g", "gauge, thickest sheet", to="1", safe="up")]
    pull: Annotated[Amount, gives("F", "kN", "pull of a jaw, thickest sheet", to="1", safe="up")]
    pressure: Annotated[
        Amount, gives("q", "MPa", "pressure on the block, thickest", to="0.001", safe="up")
    ]
    verdict: Annotated[str, word("go", "verdict")]
    stopped_by: Annotated[str, word("by", "stopped by")]


SIZING = SKIN | {
    "formed": "2.5 mm",
    "formed_within": "0 mm",
    "rise": "7.5 mm",
    "flow_stress": "165 MPa",
    "least_added": "0.4 %",
    "most_added": "0.8 %",
    "most_strain": "4 %",
    "least_thickness": "0.86 mm",
    "most_gauge": "520 bar g",
    "most_pull": "250 kN",
    "most_pressure": "0.36 MPa",
}


def _sized_again(
    stations: Any, margin: float, height: float, spread: float, formed: float,
    formed_within: float, rise: float, rise_within: float, jaw_to_jaw: float, flat_within: float,
    thickness: float, thinnest: float, thickest: float, flow_stress: float, friction: float,
    bore: float, jacks: int, least_added: float, most_added: float, most_strain: float,
    least_thickness: float, most_gauge: float, most_pull: float, most_pressure: float,
) -> Sized:  # fmt: skip
    """Every station by the other formulas: before, as given, and at the high settings."""

    def all_of(up: float, sheet: float, flat: float) -> list[Again]:
        return [
            station_again(one, height, spread, up, sheet, flat, lambda _: 1.155 * flow_stress,
                          friction)
            for one in stations
        ]  # fmt: skip

    def growth(after: float, before: float) -> list[float]:
        late, early = (all_of(up, thickness, jaw_to_jaw) for up in (after, before))
        return [(b.girth - a.girth) / jaw_to_jaw for a, b in zip(early, late, strict=True)]

    given = all_of(rise, thickness, jaw_to_jaw)
    high = all_of(rise + rise_within, thickest, jaw_to_jaw - flat_within)
    pistons = jacks * math.pi * (bore / 2) ** 2
    least = min(growth(rise - rise_within, formed + formed_within))
    most = max(growth(rise + rise_within, formed - formed_within))
    whole = max(each.girth for each in high) / (jaw_to_jaw - flat_within) - 1
    thin = thinnest * math.exp(-math.log1p(whole))
    loads = loads_again(stations, margin, pistons, given, high)
    says = said_again(
        ("too little", least < least_added), ("too much", most > most_added),
        ("strain high", whole > most_strain), ("too thin", thin < least_thickness),
        ("gauge", loads[2] > most_gauge), ("jaw pull", loads[3] > most_pull),
        ("block", loads[4] > most_pressure),
    )  # fmt: skip
    left = tuple(thickness * jaw_to_jaw / each.girth for each in given)
    made: Any = Sized
    again: Sized = made(least, most, whole, left, thin, *loads, *says)
    return again


@calculation(
    second=Second(_sized_again, "0.01 %", "arcs by chords, each station with its width"),
    source=SOURCE + "; the fresh-quenched sheet flows at one stress, as its coupon says",
    not_covered=NOT_COVERED + "; ageing, which hardens the sheet while the clock runs",
    method=METHOD + "; strain added is the growth of the girth over the flat length",
    examples=(
        Example(
            SIZING,
            {"whole": "3.61 %", "thicknesses.1": "0.897 mm", "thicknesses.2": "0.882 mm"},
            "a separate program of the workshop's demo values (no published case is known)",
        ),
    ),
)
def stretch_sizing(
    stations: tuple[Station, ...], margin: Margin, height: Height, spread: Spread,
    formed: Formerly, formed_within: Within, rise: Rise, rise_within: Within,
    jaw_to_jaw: JawToJaw, flat_within: FlatWithin, thickness: Thickness, thinnest: Thinnest,
    thickest: Thickest, flow_stress: FlowStress, friction: Friction, bore: Bore, jacks: Jacks,
    least_added: LeastAdded, most_added: MostAdded, most_strain: MostStrain,
    least_thickness: LeastThickness, most_gauge: MostGauge, most_pull: MostPull,
    most_pressure: MostPressure,
) -> Sized:  # fmt: skip
    """Sizing after the quench: strain added to that of the first pass, loads, go or no-go.

    The sheet is gripped again at the same jaw lines; thickness is that of all passes together.
    """
    setting = setting_of(stations, margin, height, spread, jaw_to_jaw)
    pistons: Any = jacks_area(bore, jacks)  # type: ignore[arg-type]
    stress: Any = flow_stress
    coupon = Coupon(lambda _: stress, friction, pistons)  # type: ignore[arg-type]
    sheet = sheet_of(thickness, thinnest, thickest)
    off: Any = (rise_within, flat_within)
    before: Any = (formed, formed_within)
    up: Any = rise
    bad = worst_of(setting, coupon, sheet, up, off)
    added = _added(setting, sheet, before, up, off)
    says = judged((
        Limit("too little", added[0] < least_added), Limit("too much", added[1] > most_added),
        Limit("strain high", bad.most > most_strain),
        Limit("too thin", bad.thinnest < least_thickness),
        Limit("gauge", bad.highest > most_gauge), Limit("jaw pull", bad.pull > most_pull),
        Limit("block", bad.pressure > most_pressure),
    ))  # fmt: skip
    left = [sheet.given / (1 + strain(one, setting, sheet.given, up)) for one in stations]
    loads = line_loads(setting, coupon, sheet.given, up)
    lift = over_width(setting, [each[2] for each in loads])
    made: Any = Sized
    sized: Sized = made(
        *added, bad.most, tuple(left), bad.thinnest, lift, lift / coupon.area, bad.highest,
        bad.pull, bad.pressure, *says,
    )  # fmt: skip
    return sized


def _added(
    setting: Setting, sheet: Sheet, before: tuple[float, float], rise: float,
    off: tuple[float, float],
) -> tuple[float, float]:  # fmt: skip
    """The least and the most that the second pass adds, both passes off their settings."""
    formed, within = before
    low = [
        strain(one, setting, sheet.given, rise - off[0])
        - strain(one, setting, sheet.given, formed + within)
        for one in setting.stations
    ]
    high = [
        strain(one, setting, sheet.given, rise + off[0])
        - strain(one, setting, sheet.given, formed - within)
        for one in setting.stations
    ]
    return min(low), max(high)
