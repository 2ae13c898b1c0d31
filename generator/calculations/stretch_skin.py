"""All stations of a block and a sheet in; strain, load and pressure of the whole skin out.

Every station is worked out as in stretching.py and stretch_loads.py; what is here adds them over
the width and over the tolerances of the setting: the least strain with the longest flat length and
the lowest rise, all else with the shortest, the highest and the worst sheet.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, NamedTuple

from generator.calculation import given, gives, word
from generator.calculations.stretching import BlockRadius
from generator.findings import Refusal
from generator.quantities.amount import Amount

HELD = 1.155  # 2/√3, a sheet whose width is held
PULLED = 0.002  # true strain from which the law of a coupon holds


@dataclass(frozen=True)
class Station:
    """One station of the block: where it stands, its radius, its crown above the first crown."""

    at: Annotated[Amount, given("x", "mm", "station", at_least="0", at_most="9000")]
    radius: BlockRadius
    crown: Annotated[
        Amount, given("c", "mm", "crown above the first crown", at_least="-500", at_most="500")
    ]


@dataclass(frozen=True)
class Over:
    """The sheet over one station."""

    girth: Annotated[Amount, gives("g", "mm", "girth at station", to="0.1")]
    strain: Annotated[Amount, gives("e", "%", "strain at station", to="0.01")]
    reading: Annotated[Amount, gives("s", "mm", "grid square reads, mean of station", to="0.01")]
    thickness: Annotated[Amount, gives("t", "mm", "thickness at station", to="0.001", safe="down")]


@dataclass(frozen=True)
class Formed:
    """The whole skin at one rise, and the verdict."""

    stations: tuple[Over, ...]
    least: Annotated[
        Amount, gives("e_min", "%", "least strain, settings off", to="0.01", safe="down")
    ]
    most: Annotated[Amount, gives("e_max", "%", "most strain, settings off", to="0.01", safe="up")]
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


class Setting(NamedTuple):
    """A block between its jaws, in base units."""

    stations: Sequence[Any]
    margin: float
    height: float
    spread: float
    jaw_to_jaw: float


class Coupon(NamedTuple):
    """What a sheet of the batch does: its flow stress at a true strain, free in width."""

    flow: Callable[[float], float]
    friction: float
    area: float  # of all jacks together


def girth(one: Any, setting: Setting, thickness: float, rise: float) -> tuple[float, float]:
    """Girth and wrap at one station. Refusal where the sheet is not round the block."""
    mean = one.radius + thickness / 2
    across, down = setting.spread / 2, one.radius - (setting.height + one.crown + rise)
    away = math.hypot(across, down)
    if away <= mean:
        wrong = f"station {one.at * 1000:g} mm: the jaws stand inside the block"
        raise Refusal("range", wrong, "jaws further apart, or a lower rise")
    wrap = math.acos(down / away) - math.acos(mean / away)
    if wrap <= 0:
        wrong = f"station {one.at * 1000:g} mm: the sheet does not reach the block"
        raise Refusal("range", wrong, f"a rise above {rise * 1000:.1f} mm")
    return 2 * (math.sqrt(away * away - mean * mean) + mean * wrap), wrap


def strain(one: Any, setting: Setting, thickness: float, rise: float) -> float:
    """Strain from jaw to jaw at one station."""
    return girth(one, setting, thickness, rise)[0] / setting.jaw_to_jaw - 1


def line_loads(
    setting: Setting, coupon: Coupon, thickness: float, rise: float
) -> list[tuple[float, float, float]]:
    """At every station: load at the crown, pull of the jaw and lift, for a metre of width."""
    made = []
    for one in setting.stations:
        length, wrap = girth(one, setting, thickness, rise)
        longer = length / setting.jaw_to_jaw
        load = HELD * coupon.flow(HELD * math.log(longer)) * thickness / longer
        pull = load * math.exp(coupon.friction * wrap)
        made.append((load, pull, 2 * pull * math.sin(wrap)))
    return made


def over_width(setting: Setting, loads: Sequence[float]) -> float:
    """The sum over the width: straight between stations, even in the margins."""
    at: list[float] = [one.at for one in setting.stations]
    between = sum((loads[k] + loads[k + 1]) / 2 * (at[k + 1] - at[k]) for k in range(len(at) - 1))
    return between + setting.margin * (loads[0] + loads[-1])


class Sheet(NamedTuple):
    """The sheet as given, and the two ends of what is allowed."""

    given: float
    thinnest: float
    thickest: float


def sheet_of(given: Any, thinnest: Any, thickest: Any) -> Sheet:
    """The sheet. Refusal where its three thicknesses are not in order."""
    if not thinnest <= given <= thickest:
        wrong = f"sheet of {given * 1000:g} mm, allowed {thinnest * 1000:g} to {thickest * 1000:g}"
        raise Refusal("range", wrong, "the thinnest, the sheet as given, the thickest, in order")
    return Sheet(given, thinnest, thickest)


class Worst(NamedTuple):
    """The numbers that are judged, each at the worst of the settings."""

    least: float
    most: float
    thinnest: float
    highest: float
    pull: float
    pressure: float


def worst_of(
    setting: Setting, coupon: Coupon, sheet: Sheet, rise: float, within: tuple[float, float]
) -> Worst:
    """The numbers that are judged; within: how far rise and flat length may be off."""
    by_rise, by_flat = within
    long = setting._replace(jaw_to_jaw=setting.jaw_to_jaw + by_flat)
    short = setting._replace(jaw_to_jaw=setting.jaw_to_jaw - by_flat)
    low = [strain(one, long, sheet.thinnest, rise - by_rise) for one in setting.stations]
    high = [strain(one, short, sheet.thickest, rise + by_rise) for one in setting.stations]
    loads = line_loads(short, coupon, sheet.thickest, rise + by_rise)
    pressed = [each[0] / one.radius for each, one in zip(loads, setting.stations, strict=True)]
    return Worst(
        min(low),
        max(high),
        sheet.thinnest / (1 + max(high)),
        over_width(short, [each[2] for each in loads]) / coupon.area,
        over_width(short, [each[1] for each in loads]),
        max(pressed),
    )


def in_order(stations: Sequence[Any]) -> None:
    """Refusal where stations do not follow each other, or where there are fewer than two."""
    if len(stations) < 2:
        raise Refusal("count", f"{len(stations)} station", "two stations or more")
    for before, after in itertools.pairwise(stations):
        if after.at <= before.at:
            wrong = f"station {after.at * 1000:g} mm comes after {before.at * 1000:g} mm"
            raise Refusal("range", wrong, "stations in order, each once")


def setting_of(
    stations: Sequence[Any], margin: Any, height: Any, spread: Any, jaw_to_jaw: Any
) -> Setting:
    """The block between its jaws. Refusal where its stations are not in order, or where the sheet
    is shorter than the jaws are apart."""
    in_order(stations)
    if spread >= jaw_to_jaw:
        wrong = f"jaw lines {jaw_to_jaw * 1000:g} mm apart, jaws {spread * 1000:g} mm apart"
        raise Refusal("range", wrong, "jaw lines further apart than the jaws")
    return Setting(stations, margin, height, spread, jaw_to_jaw)


class Limit(NamedTuple):
    """One limit: what it is called, whether a number has passed it."""

    name: str
    passed: bool


def judged(limits: Sequence[Limit]) -> tuple[str, str]:
    """GO and a dash, or NO-GO and the first limit that is passed."""
    passed = [each.name for each in limits if each.passed]
    return ("NO-GO", passed[0]) if passed else ("GO", "-")


def formed_skin(
    setting: Setting,
    coupon: Coupon,
    sheet: Sheet,
    rise: float,
    square: float,
    worst: Worst,
    verdict: tuple[str, str],
) -> Formed:
    """The whole skin, as it is told."""
    over = []
    made: Any = Over
    for one in setting.stations:
        length, _ = girth(one, setting, sheet.given, rise)
        longer = length / setting.jaw_to_jaw
        over.append(made(length, longer - 1, square * longer, sheet.given / longer))
    loads = line_loads(setting, coupon, sheet.given, rise)
    lift = over_width(setting, [each[2] for each in loads])
    whole: Any = Formed
    formed: Formed = whole(
        tuple(over), worst.least, worst.most, worst.thinnest, lift, lift / coupon.area,
        worst.highest, worst.pull, worst.pressure, *verdict,
    )  # fmt: skip
    return formed


def jacks_area(bore: float, jacks: int) -> float:
    """The area of all jacks together."""
    return jacks * math.pi / 4 * bore * bore


def law(strength: float, hardening: float) -> Callable[[float], float]:
    """The flow stress of a coupon. Refusal where its law does not hold."""

    def flow(true: float) -> float:
        if not PULLED <= true <= hardening * HELD:
            wrong = f"true strain {true / HELD:.4f} at a station"
            right = (
                f"from {PULLED:g} to n = {hardening:g}: below it the sheet is not pulled, from n "
            )
            raise Refusal("range", wrong, right + "on it necks")
        return float(strength * true**hardening)

    return flow


def rise_at(measure: Callable[[float], float], limit: float, low: float, high: float) -> float:
    """The rise at which a number that grows with it comes to a limit; an end where it never does.

    Chords between the two ends, the end that stays being given half its weight (Illinois rule);
    halvings where a number has no end yet.
    """
    below, above = measure(low) - limit, measure(high) - limit
    if below >= 0:
        return low
    if above < 0:
        return high
    enough = 1e-11 * max(abs(limit), 1e-2)
    middle = low
    for _ in range(200):
        part = below / (below - above) if math.isfinite(above) else 0.5
        middle = low + (high - low) * part
        found = measure(middle) - limit
        if abs(found) <= enough or high - low <= 1e-15 * abs(high):
            break
        if found < 0:
            low, below, above = middle, found, above / 2
        else:
            high, above, below = middle, found, below / 2
    return middle


def touching(stations: Sequence[Any], height: float) -> float:
    """The rise at which the lowest crown stands level with the jaws: below it nothing is pulled."""
    lowest: float = min(one.crown for one in stations)
    return -height - lowest


def least_strain_of(setting: Setting, thickness: float, rise: float) -> float:
    """The least strain of all stations; below any where the sheet does not reach the block."""
    try:
        return min(strain(one, setting, thickness, rise) for one in setting.stations)
    except Refusal:
        return -1.0 if rise < 0 else math.inf


def forming_verdict(worst: Worst, limits: Sequence[float]) -> tuple[str, str]:
    """The verdict on a first pass; limits: strain, strain, thickness, gauge, pull, pressure."""
    least, most, thin, gauge, pull, pressure = limits
    return judged(
        (
            Limit("strain low", worst.least < least),
            Limit("strain high", worst.most > most),
            Limit("too thin", worst.thinnest < thin),
            Limit("gauge", worst.highest > gauge),
            Limit("jaw pull", worst.pull > pull),
            Limit("block", worst.pressure > pressure),
        )
    )
