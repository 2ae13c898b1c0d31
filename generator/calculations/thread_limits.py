"""A thread and its tolerance class in; the limits of its diameters out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives, key, looked_up
from generator.calculations.threads import (
    HEIGHT,
    Five,
    Three,
    UnifiedRow,
)
from generator.quantities.amount import Amount
from generator.quantities.functions import step
from generator.quantities.window import Window, window

MORE = (
    "threads and classes that the table does not have; another length of engagement than the "
    "usual one; plating; pitch and angle, whose errors the gauges find"
)
LONG = "length of engagement of one diameter"


@dataclass(frozen=True)
class BoltRow:
    """Tolerances of a metric bolt thread: this thread and class only."""

    thread: Annotated[str, key("thread, such as M8 or M8x1")]
    tolerance_class: Annotated[str, key("tolerance class of the bolt, such as 6g")]
    diameter: Annotated[Amount, given("D", "mm", "major diameter of the row")]
    pitch: Annotated[Amount, given("P", "mm", "pitch of the row")]
    deviation: Annotated[Amount, given("es", "mm", "deviation of the row")]
    major: Annotated[Amount, given("T_d", "mm", "tolerance of the major diameter")]
    effective: Annotated[Amount, given("T_d2", "mm", "tolerance of the effective diameter")]


@dataclass(frozen=True)
class NutRow:
    """Tolerances of a metric nut thread: this thread and class only."""

    thread: Annotated[str, key("thread, such as M8 or M8x1")]
    tolerance_class: Annotated[str, key("tolerance class of the nut, such as 6H")]
    diameter: Annotated[Amount, given("D", "mm", "major diameter of the row")]
    pitch: Annotated[Amount, given("P", "mm", "pitch of the row")]
    deviation: Annotated[Amount, given("EI", "mm", "deviation of the row")]
    minor: Annotated[Amount, given("T_D1", "mm", "tolerance of the minor diameter")]
    effective: Annotated[Amount, given("T_D2", "mm", "tolerance of the effective diameter")]


@dataclass(frozen=True)
class MetricBolt:
    """Limits of a bolt thread in mm."""

    major: Annotated[Window, gives("d", "mm", "major diameter", to="0.001")]
    effective: Annotated[Window, gives("d_2", "mm", "effective diameter", to="0.001")]


@dataclass(frozen=True)
class MetricNut:
    """Limits of a nut thread in mm."""

    minor: Annotated[Window, gives("D_1", "mm", "minor diameter", to="0.001")]
    effective: Annotated[Window, gives("D_2", "mm", "effective diameter", to="0.001")]


def _limits(low: Any, high: Any) -> Window:
    return window({"not go": low}, {"go": high})


def _bolt_by_middle(row: Any) -> MetricBolt:
    """Middle and half of each tolerance."""
    made: Any = MetricBolt
    ends = []
    for basic, wide in (
        (row.diameter, row.major), (row.diameter - 3 / 4 * HEIGHT * row.pitch, row.effective),
    ):  # fmt: skip
        middle = basic + row.deviation - wide / 2
        ends.append(Window(middle - wide / 2, middle + wide / 2, "", ""))
    bare: MetricBolt = made(*ends)
    return bare


@calculation(
    source="ISO 965-1 tables 1, 4 and 6; basic sizes: ISO 724",
    not_covered=MORE,
    second=Second(_bolt_by_middle, "0.0001 mm", "middle and half of each tolerance"),
    examples=(
        Example(
            {"thread": "M8", "tolerance_class": "6g"},
            {
                "major.to": "7.972 mm",
                "major.from": "7.760 mm",
                "effective.to": "7.160 mm",
                "effective.from": "7.042 mm",
            },
            "ISO 965-2, M8 6g, as tabulated in an open thread data file",
        ),
    ),
)
def metric_bolt_limits(
    row: Annotated[BoltRow, looked_up("metric_bolt")], three: Three
) -> MetricBolt:
    """Limits of a metric bolt thread, by its tolerance class."""
    top = step(row.diameter + row.deviation, "d_max", "mm", "largest major diameter")
    basic = step(row.diameter - three * row.pitch, "E", "mm", "basic effective diameter")
    high = step(basic + row.deviation, "d_2max", "mm", "largest effective diameter")
    return MetricBolt(_limits(top - row.major, top), _limits(high - row.effective, high))


def _nut_by_middle(row: Any) -> MetricNut:
    made: Any = MetricNut
    ends = []
    for quarters, wide in ((5, row.minor), (3, row.effective)):
        middle = row.diameter - quarters / 4 * HEIGHT * row.pitch + row.deviation + wide / 2
        ends.append(Window(middle - wide / 2, middle + wide / 2, "", ""))
    bare: MetricNut = made(*ends)
    return bare


@calculation(
    source="ISO 965-1 tables 1, 3 and 5; basic sizes: ISO 724",
    not_covered=MORE,
    second=Second(_nut_by_middle, "0.0001 mm", "middle and half of each tolerance"),
    examples=(
        Example(
            {"thread": "M8", "tolerance_class": "6G"},
            {"minor.from": "6.675 mm", "minor.to": "6.940 mm", "effective.to": "7.376 mm"},
            "ISO 965-1 table 1: G is 0.028 mm at a pitch of 1.25 mm, over the limits of 6H",
        ),
        Example(
            {"thread": "M8", "tolerance_class": "6H"},
            {
                "minor.from": "6.647 mm",
                "minor.to": "6.912 mm",
                "effective.from": "7.188 mm",
                "effective.to": "7.348 mm",
            },
            "ISO 965-2, M8 6H, as tabulated in an open thread data file",
        ),
    ),
)
def metric_nut_limits(
    row: Annotated[NutRow, looked_up("metric_nut")], three: Three, five: Five
) -> MetricNut:
    """Limits of a metric nut thread, by its tolerance class."""
    small = step(row.diameter - five * row.pitch + row.deviation, "D_1min", "mm", "least minor")
    low = step(row.diameter - three * row.pitch + row.deviation, "D_2min", "mm", "least effective")
    return MetricNut(
        window({"go": small}, {"not go": small + row.minor}),
        window({"go": low}, {"not go": low + row.effective}),
    )


@dataclass(frozen=True)
class InchBolt:
    """Limits of a bolt thread in inches."""

    major: Annotated[Window, gives("d", "in", "major diameter", to="0.0001")]
    effective: Annotated[Window, gives("E", "in", "effective diameter", to="0.0001")]


@dataclass(frozen=True)
class InchNut:
    """Limits of a nut thread in inches."""

    minor: Annotated[Window, gives("D_1", "in", "minor diameter", to="0.0001")]
    effective: Annotated[Window, gives("E", "in", "effective diameter", to="0.0001")]


InchUnit = Annotated[Amount, given("in", "in", "unit of the formula", fixed="1 in")]
MillimetreUnit = Annotated[Amount, given("mm", "mm", "unit of the formula", fixed="1 mm")]
BOLT_CLASSES = ("1A", "2A", "3A")
NUT_CLASSES = ("1B", "2B", "3B")
SHARES = {"1": 1.5, "2": 1.0, "3": 0.75}


def _unified_tolerance(diameter: float, pitch: float) -> float:
    """Class 2A, effective diameter: 0.0015 (∛D + √LE + 10 ∛P²), LE one diameter, in inches."""
    roots: float = diameter ** (1 / 3) + math.sqrt(diameter) + 10 * pitch ** (2 / 3)
    return 0.0015 * roots


def _unified_bolt(row: Any, name: str, inch: float, tolerance: Any) -> InchBolt:
    size, pitch = row.diameter / inch, 1 / (row.threads * inch)
    wide = tolerance(size, pitch)
    share = SHARES[name[0]]
    top = size - (0.0 if name == "3A" else 0.3 * wide)
    crest = (0.09 if name == "1A" else 0.06) * pitch ** (2 / 3)
    high = top - 3 / 4 * HEIGHT * pitch
    made: Any = InchBolt
    found: InchBolt = made(
        _limits((top - crest) * inch, top * inch),
        _limits((high - share * wide) * inch, high * inch),
    )
    return found


def _tolerance_by_logs(diameter: float, pitch: float) -> float:
    roots = (math.log(diameter) / 3, math.log(diameter) / 2, math.log(10) + math.log(pitch) * 2 / 3)
    return 0.0015 * sum(math.exp(each) for each in roots)


def _unified_bolt_again(row: Any, bolt_class: str, inch: float) -> InchBolt:
    return _unified_bolt(row, bolt_class, inch, _tolerance_by_logs)


UNIFIED = "ASME B1.1-2003 section 5.8 and table 17"


@calculation(
    source=f"{UNIFIED}, for UNC and UNF: {LONG}",
    not_covered=MORE + "; the standard rounds its tables to 0.0001 in: its printed limits may lie "
    "one step off",
    method="tolerance of the effective diameter in class 2A, in inches: 0.0015 (∛D + √LE + 10 "
    "∛P²); 1.5 and 0.75 of it in 1A and 3A; allowance 0.3 of it, none in 3A; tolerance of the "
    "major diameter 0.060 ∛P², in 1A 0.090 ∛P²",
    second=Second(_unified_bolt_again, "0.000001 in", "roots by logarithms"),
    examples=(
        Example(
            {"thread": "1/4-20", "bolt_class": "2A"},
            {"major.to": "0.2489 in", "major.from": "0.2408 in", "effective.to": "0.2164 in",
             "effective.from": "0.2127 in"},
            "ASME B1.1 table of limits (from memory), 1/4-20 UNC 2A",
            "0.0001 in",
        ),
    ),
)  # fmt: skip
def unified_bolt_limits(
    row: Annotated[UnifiedRow, looked_up("unified_thread")],
    bolt_class: Annotated[str, choice("class of the bolt", *BOLT_CLASSES)],
    inch: InchUnit,
) -> InchBolt:
    """Limits of a Unified bolt thread, by its class."""
    one: Any = inch
    return _unified_bolt(row, bolt_class, one, _unified_tolerance)


def _minor_tolerance(size: float, pitch: float, name: str) -> float:
    """Section 5.8.2 (c), in inches."""
    curve: float = 0.05 * pitch ** (2 / 3) + 0.03 * pitch / size - 0.002
    line = 0.25 * pitch - 0.4 * pitch**2
    if name != "3B":
        return line if size >= 0.25 - 1e-9 else max(min(curve, 0.394 * pitch), line)
    least = 0.23 * pitch - 1.5 * pitch**2 if pitch < 0.08 else 0.12 * pitch
    return max(min(curve, 0.394 * pitch), least)


def _unified_nut(row: Any, name: str, inch: float, tolerance: Any) -> InchNut:
    size, pitch = row.diameter / inch, 1 / (row.threads * inch)
    wide = 1.3 * SHARES[name[0]] * tolerance(size, pitch)
    minor, effective = (size - q / 4 * HEIGHT * pitch for q in (5, 3))
    room = _minor_tolerance(size, pitch, name)
    made: Any = InchNut
    found: InchNut = made(
        window({"go": minor * inch}, {"not go": (minor + room) * inch}),
        window({"go": effective * inch}, {"not go": (effective + wide) * inch}),
    )
    return found


def _unified_nut_again(row: Any, nut_class: str, inch: float) -> InchNut:
    return _unified_nut(row, nut_class, inch, _tolerance_by_logs)


@calculation(
    source=f"{UNIFIED}, for UNC and UNF: {LONG}",
    not_covered=MORE + "; the standard rounds minor diameters of 1B and 2B to 0.001 in: its "
    "printed limits may lie a step off",
    method="tolerance of the effective diameter: 1.3 times that of the bolt of the same number; of "
    "the minor diameter: 0.25 P − 0.4 P² from 1/4 in, below it and in 3B the curve of 5.8.2 (c)",
    second=Second(_unified_nut_again, "0.000001 in", "roots by logarithms"),
    examples=(
        Example(
            {"thread": "1/4-20", "nut_class": "2B"},
            {"effective.from": "0.2175 in", "effective.to": "0.2224 in", "minor.from": "0.196 in",
             "minor.to": "0.207 in"},
            "supplier's table of ASME B1.1 limits, 1/4-20 UNC 2B",
            "0.0005 in",
        ),
    ),
)  # fmt: skip
def unified_nut_limits(
    row: Annotated[UnifiedRow, looked_up("unified_thread")],
    nut_class: Annotated[str, choice("class of the nut", *NUT_CLASSES)],
    inch: InchUnit,
) -> InchNut:
    """Limits of a Unified nut thread, by its class."""
    one: Any = inch
    return _unified_nut(row, nut_class, one, _unified_tolerance)
