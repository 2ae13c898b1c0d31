"""A block, a sheet and limits in; the rises between which a first pass goes, out."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, NamedTuple

from generator.calculation import Example, Second, calculation, gives
from generator.calculations.stretch_forming import (
    FORMING,
    METHOD,
    NOT_COVERED,
    SOURCE,
    Again,
    Bore,
    FlatWithin,
    Friction,
    Height,
    Jacks,
    LeastStrain,
    LeastThickness,
    Margin,
    MostGauge,
    MostPressure,
    MostPull,
    MostStrain,
    Thickest,
    Thinnest,
    Within,
    by_power,
    girth_by_chords,
    station_again,
    summed,
)
from generator.calculations.stretch_skin import (
    PULLED,
    Coupon,
    Setting,
    Sheet,
    Station,
    Worst,
    jacks_area,
    law,
    least_strain_of,
    rise_at,
    setting_of,
    sheet_of,
    strain,
    touching,
    worst_of,
)
from generator.calculations.stretching import Hardening, JawToJaw, Spread, Strength
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.units import unit
from generator.quantities.window import Window, window


@dataclass(frozen=True)
class Rises:
    """The rises between which a first pass goes, each limit taken at the worst of the settings."""

    rise: Annotated[Window, gives("r", "mm", "rise of the table that goes", to="0.1")]
    first: Annotated[
        Amount, gives("r_1", "mm", "rise at which the first station is pulled", to="0.1")
    ]
    contact: Annotated[
        Amount, gives("r_0", "mm", "rise at which every station is pulled", to="0.1")
    ]


_REACHED = 1e-6  # how near a search comes to a strain that there is
LEFT_OUT = ("rise", "square", "thickness")


def _rises_again(
    stations: Any, margin: float, height: float, spread: float, rise_within: float,
    jaw_to_jaw: float, flat_within: float, thinnest: float, thickest: float, strength: float,
    hardening: float, friction: float, bore: float, jacks: int, least_strain: float,
    most_strain: float, least_thickness: float, most_gauge: float, most_pull: float,
    most_pressure: float,
) -> Rises:  # fmt: skip
    """The same limits by the other formulas."""
    flow = by_power(strength, hardening)
    pistons = jacks * math.pi * (bore / 2) ** 2
    short, long = jaw_to_jaw - flat_within, jaw_to_jaw + flat_within

    def all_of(rise: float) -> list[Again]:
        up = rise + rise_within
        return [
            station_again(one, height, spread, up, thickest, short, flow, friction)
            for one in stations
        ]

    def least(rise: float) -> float:
        up = rise - rise_within
        try:
            return (
                min(girth_by_chords(one, height, spread, up, thinnest) for one in stations) / long
                - 1
            )
        except ValueError:
            return -1.0 if up < 0 else math.inf

    def up_to(measure: Callable[[list[Again]], float]) -> Callable[[float], float]:
        def measured(rise: float) -> float:
            try:
                return measure(all_of(rise))
            except ValueError:
                return math.inf

        return measured

    flat = touching(stations, height)
    start = rise_at(least, 0.0, flat, spread)
    first = min(
        rise_at(
            lambda up, one=one: girth_by_chords(one, height, spread, up, thickest),  # type: ignore[misc]
            jaw_to_jaw,
            -height - one.crown + 1e-6 * height,
            spread,
        )
        for one in stations
    )
    pulled = rise_at(least, 0.002, flat, spread)
    low = rise_at(least, least_strain, flat, spread)
    thin = math.log(thinnest) - math.log(least_thickness)
    most = min(math.log1p(most_strain), thin)
    high = min(
        rise_at(up_to(measure), limit, pulled, spread)
        for measure, limit in (
            (lambda all_: math.log(max(e.girth for e in all_) / short), most),
            (lambda all_: summed(stations, margin, [e.lift for e in all_]) / pistons, most_gauge),
            (lambda all_: summed(stations, margin, [e.pull for e in all_]), most_pull),
            (lambda all_: max(e.pressure for e in all_), most_pressure),
        )
    )
    made: Any = Rises
    again: Rises = made(Window(low, high, "", ""), first, start)
    return again


@calculation(
    source=SOURCE,
    not_covered=NOT_COVERED,
    second=Second(
        _rises_again, "0.01 mm", "girths by chords, loads by powers, strains as logarithms"
    ),
    method=METHOD + "; each limit by chords (Illinois rule) to a billionth",
    examples=(
        Example(
            {key: value for key, value in FORMING.items() if key not in LEFT_OUT}
            | {
                "most_gauge": "700 bar g",
                "most_pull": "500 kN",
                "most_pressure": "1 MPa",
                "least_thickness": "0.8 mm",
                "least_strain": "1.30 %",
                "most_strain": "3.32 %",
            },
            {"rise.from": "2.5 mm", "rise.to": "5.0 mm"},
            "the demo skin: 1.30 % at the least at 2.5 mm, 3.32 % at the most at 5 mm, from a "
            "separate program (no published case is known)",
            within="0.1 mm",
        ),
    ),
)
def stretch_rises(
    stations: tuple[Station, ...], margin: Margin, height: Height, spread: Spread,
    rise_within: Within, jaw_to_jaw: JawToJaw, flat_within: FlatWithin, thinnest: Thinnest,
    thickest: Thickest, strength: Strength, hardening: Hardening, friction: Friction, bore: Bore,
    jacks: Jacks, least_strain: LeastStrain, most_strain: MostStrain,
    least_thickness: LeastThickness, most_gauge: MostGauge, most_pull: MostPull,
    most_pressure: MostPressure,
) -> Rises:  # fmt: skip
    """Rises of the table that go: from the least strain up to the first limit that is met.

    Where nothing is left, both limits are named, and how far they are apart.
    """
    setting = setting_of(stations, margin, height, spread, jaw_to_jaw)
    pistons: Any = jacks_area(bore, jacks)  # type: ignore[arg-type]
    coupon = Coupon(law(strength, hardening), friction, pistons)  # type: ignore[arg-type]
    sheet = sheet_of(thinnest, thinnest, thickest)
    off: Any = (rise_within, flat_within)

    def least(rise: float) -> float:
        long = setting._replace(jaw_to_jaw=setting.jaw_to_jaw + off[1])
        return least_strain_of(long, sheet.thinnest, rise - off[0])

    ends: Any = (touching(stations, setting.height), spread)
    bottom: Any = rise_at(least, 0.0, *ends)
    begins: Any = rise_at(lambda rise: _most(setting, sheet, rise, (0.0, 0.0)), 0.0, *ends)
    pulled = rise_at(least, PULLED, *ends)
    low: Any = rise_at(least, least_strain, *ends)  # type: ignore[arg-type]
    most: Any = most_strain
    wanted_least: Any = least_strain
    if ends[0] < low < ends[1] and abs(least(low) - wanted_least) > _REACHED:
        wrong = "the jaws stand inside the block before the sheet has its least strain"
        raise Refusal("range", wrong, "jaws further apart, or a block that is less round")
    top = rise_at(lambda rise: _most(setting, sheet, rise, off), most, pulled, ends[1])
    highs: dict[str, Any] = {"the most strain": top}
    thin: Any = least_thickness
    wanted = [("the most strain", "%", lambda w: w.most, 1, most)]
    for name, shown, measure, sign, limit in (
        ("the least thickness", "mm", lambda w: -w.thinnest, -1, -thin),
        ("the gauge", "bar g", lambda w: w.highest, 1, most_gauge),
        ("the pull of a jaw", "kN", lambda w: w.pull, 1, most_pull),
        ("the block", "MPa", lambda w: w.pressure, 1, most_pressure),
    ):

        def at(rise: float, measure: Callable[[Worst], float] = measure) -> float:
            return _or_beyond(setting, coupon, sheet, rise, off, measure)

        wanted.append((name, shown, measure, sign, sign * limit))
        if at(top) > limit:
            highs[name] = rise_at(at, limit, pulled, top)  # type: ignore[arg-type]
    first = min(highs, key=lambda name: float(highs[name]))
    if low > highs[first]:
        shown, measure, sign, stands = next(each[1:] for each in wanted if each[0] == first)
        needed = sign * _or_beyond(setting, coupon, sheet, low, off, measure)
        reached = least(highs[first])
        moves = (
            Move(first, shown, stands, needed),
            Move("the least strain", "%", wanted_least, reached),
        )
        raise _no_room(moves, (low, highs[first]))
    made: Any = Rises
    found: Rises = made(window({"the least strain": low}, highs), begins, bottom)
    return found


class Move(NamedTuple):
    """A limit that could move: what it is called, its unit, where it stands, where it would go."""

    name: str
    shown: str
    stands: float
    needed: float

    def __str__(self) -> str:
        scale = unit(self.shown)
        stands, needed = scale.from_base(self.stands), scale.from_base(self.needed)
        return f"{self.name} moved by {needed - stands:+.3g} to {needed:.4g} {self.shown}"


def _no_room(moves: tuple[Move, Move], rises: tuple[float, float]) -> Refusal:
    """Which two limits leave nothing, and how far either would have to move."""
    low, high = (unit("mm").from_base(each) for each in rises)
    first, least = moves
    wrong = (
        f"no rise goes: the least strain asks for {low:.1f} mm, {first.name} allows {high:.1f} mm"
    )
    right = str(first)
    if least.needed > 1.01 * PULLED:
        right += f", or {least}"
    return Refusal("range", wrong, right)


def _most(setting: Setting, sheet: Sheet, rise: float, off: tuple[float, float]) -> float:
    """The most strain of all stations, settings off; beyond any where the jaws are inside."""
    short = setting._replace(jaw_to_jaw=setting.jaw_to_jaw - off[1])
    try:
        return max(strain(one, short, sheet.thickest, rise + off[0]) for one in short.stations)
    except Refusal:
        return math.inf


def _or_beyond(
    setting: Setting, coupon: Coupon, sheet: Sheet, rise: float, off: tuple[float, float],
    measure: Callable[[Worst], float],
) -> float:  # fmt: skip
    """A number at a rise; beyond any where the sheet would neck there."""
    try:
        return measure(worst_of(setting, coupon, sheet, rise, off))
    except Refusal:
        return math.inf
