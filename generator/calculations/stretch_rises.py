"""A block, a sheet and limits in; the rises between which a first pass goes, out."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
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


@dataclass(frozen=True)
class _Again:
    """The stations at one rise after another, by the other formulas."""

    stations: Any
    across: tuple[float, float]  # height and spread
    off: tuple[float, float]  # of the rise, and of the flat length
    jaw_to_jaw: float
    sheet: tuple[float, float]  # thinnest and thickest
    flow: Callable[[float], float]
    friction: float

    @property
    def short(self) -> float:
        """The flat length with the jaws as near as they may be."""
        return self.jaw_to_jaw - self.off[1]

    def least(self, rise: float) -> float:
        """The least strain of all stations at a rise."""
        up, long = rise - self.off[0], self.jaw_to_jaw + self.off[1]
        try:
            girths = [girth_by_chords(e, *self.across, up, self.sheet[0]) for e in self.stations]
        except ValueError:
            return -1.0 if up < 0 else math.inf
        return min(girths) / long - 1

    def up_to(self, measure: Callable[[list[Again]], float]) -> Callable[[float], float]:
        """A measure of all stations at a rise with the high settings."""

        def measured(rise: float) -> float:
            up, thickest = rise + self.off[0], self.sheet[1]
            try:
                return measure([
                    station_again(
                        one, *self.across, up, thickest, self.short, self.flow, self.friction
                    )
                    for one in self.stations
                ])  # fmt: skip
            except ValueError:
                return math.inf

        return measured

    def first_pulled(self) -> float:
        """The rise at which the first station is pulled."""
        height, spread = self.across
        return min(
            rise_at(
                lambda up, one=one: girth_by_chords(one, *self.across, up, self.sheet[1]),  # type: ignore[misc]
                self.jaw_to_jaw,
                -height - one.crown + 1e-6 * height,
                spread,
            )
            for one in self.stations
        )


def _rises_again(
    stations: Any, margin: float, height: float, spread: float, rise_within: float,
    jaw_to_jaw: float, flat_within: float, thinnest: float, thickest: float, strength: float,
    hardening: float, friction: float, bore: float, jacks: int, least_strain: float,
    most_strain: float, least_thickness: float, most_gauge: float, most_pull: float,
    most_pressure: float,
) -> Rises:  # fmt: skip
    """The same limits by the other formulas."""
    case = _Again(
        stations, (height, spread), (rise_within, flat_within), jaw_to_jaw, (thinnest, thickest),
        by_power(strength, hardening), friction,
    )  # fmt: skip
    pistons = jacks * math.pi * (bore / 2) ** 2
    flat = touching(stations, height)
    start, pulled, low = (rise_at(case.least, e, flat, spread) for e in (0.0, 0.002, least_strain))
    most = min(math.log1p(most_strain), math.log(thinnest) - math.log(least_thickness))
    high = min(
        rise_at(case.up_to(measure), limit, pulled, spread)
        for measure, limit in (
            (lambda every: math.log(max(e.girth for e in every) / case.short), most),
            (lambda every: summed(stations, margin, [e.lift for e in every]) / pistons, most_gauge),
            (lambda every: summed(stations, margin, [e.pull for e in every]), most_pull),
            (lambda every: max(e.pressure for e in every), most_pressure),
        )
    )
    made: Any = Rises
    again: Rises = made(Window(low, high, "", ""), case.first_pulled(), start)
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
    off: Any = (rise_within, flat_within)
    case = _Case(setting, coupon, sheet_of(thinnest, thinnest, thickest), off)
    ends: Any = (touching(stations, setting.height), spread)
    bottom: Any = rise_at(case.least, 0.0, *ends)
    begins: Any = rise_at(case._replace(off=(0.0, 0.0)).most, 0.0, *ends)
    wanted: Any = least_strain
    low: Any = rise_at(case.least, wanted, *ends)
    if ends[0] < low < ends[1] and abs(case.least(low) - wanted) > _REACHED:
        wrong = "the jaws stand inside the block before the sheet has its least strain"
        raise Refusal("range", wrong, "jaws further apart, or a block that is less round")
    most: Any = (most_strain, least_thickness, most_gauge, most_pull, most_pressure)
    limits = [_Upper(*row, limit) for row, limit in zip(_UPPER, most, strict=True)]
    highs: Any = _highs(case, limits, rise_at(case.least, PULLED, *ends), ends[1])
    first = min(highs, key=lambda name: float(highs[name]))
    if low > highs[first]:
        stops = next(each for each in limits if each.name == first)
        reached = Move("the least strain", "%", wanted, case.least(highs[first]))
        raise _no_room((stops.moved_to(case, low), reached), (low, highs[first]))
    made: Any = Rises
    found: Rises = made(window({"the least strain": low}, highs), begins, bottom)
    return found


class _Case(NamedTuple):
    """What stays as it is while the table rises; off: how far rise and flat length may be off."""

    setting: Setting
    coupon: Coupon
    sheet: Sheet
    off: tuple[float, float]

    def least(self, rise: float) -> float:
        """The least strain of all stations, settings off."""
        long = self.setting._replace(jaw_to_jaw=self.setting.jaw_to_jaw + self.off[1])
        return least_strain_of(long, self.sheet.thinnest, rise - self.off[0])

    def most(self, rise: float) -> float:
        """The most strain of all stations, settings off; beyond any where the jaws are inside."""
        short = self.setting._replace(jaw_to_jaw=self.setting.jaw_to_jaw - self.off[1])
        up, thickest = rise + self.off[0], self.sheet.thickest
        try:
            return max(strain(one, short, thickest, up) for one in short.stations)
        except Refusal:
            return math.inf

    def at(self, rise: float, measure: Callable[[Worst], float]) -> float:
        """A number at a rise; beyond any where the sheet would neck there."""
        try:
            return measure(worst_of(self.setting, self.coupon, self.sheet, rise, self.off))
        except Refusal:
            return math.inf


class _Upper(NamedTuple):
    """A limit that rising comes to: what it is called, its unit, what is held against it, the sign
    that makes it grow with the rise, and where it stands."""

    name: str
    shown: str
    measure: Callable[[Worst], float]
    sign: int
    stands: float

    def measured(self, case: _Case, rise: float) -> float:
        """What is held against the limit at a rise, so that it grows with it."""
        return case.at(rise, lambda worst: self.sign * self.measure(worst))

    def moved_to(self, case: _Case, rise: float) -> Move:
        """Where it would have to stand for a rise to go."""
        return Move(self.name, self.shown, self.stands, self.sign * self.measured(case, rise))


_UPPER: tuple[tuple[str, str, Callable[[Worst], float], int], ...] = (
    ("the most strain", "%", lambda worst: worst.most, 1),
    ("the least thickness", "mm", lambda worst: worst.thinnest, -1),
    ("the gauge", "bar g", lambda worst: worst.highest, 1),
    ("the pull of a jaw", "kN", lambda worst: worst.pull, 1),
    ("the block", "MPa", lambda worst: worst.pressure, 1),
)


def _highs(case: _Case, limits: Sequence[_Upper], pulled: float, spread: float) -> dict[str, float]:
    """The rise at which the most strain is come to, and at which any other limit is before it."""
    strained, *others = limits
    top = rise_at(case.most, strained.stands, pulled, spread)
    highs = {strained.name: top}
    for each in others:
        limit = each.sign * each.stands
        if each.measured(case, top) > limit:
            highs[each.name] = rise_at(partial(each.measured, case), limit, pulled, top)
    return highs


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
