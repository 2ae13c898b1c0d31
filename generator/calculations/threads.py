"""A thread by its name in; its basic sizes and its stress area out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, key, looked_up
from generator.quantities.amount import Amount
from generator.quantities.functions import circle_area, step

NOT_IN = "threads that the table does not have: it lists those it has, and the nearest is never "
LIMITS = NOT_IN + "taken; the limits of its class; wear, plating and damage"


@dataclass(frozen=True)
class MetricRow:
    """A metric thread: this one only."""

    thread: Annotated[str, key("thread, such as M8 or M8x1")]
    diameter: Annotated[Amount, given("D", "mm", "major diameter of the row")]
    pitch: Annotated[Amount, given("P", "mm", "pitch of the row")]


@dataclass(frozen=True)
class UnifiedRow:
    """A Unified coarse or fine thread: this one only."""

    thread: Annotated[str, key("thread, such as 1/4-28")]
    diameter: Annotated[Amount, given("D", "in", "major diameter of the row")]
    threads: Annotated[Amount, given("n", "1/in", "threads per inch of the row")]


@dataclass(frozen=True)
class WhitworthRow:
    """A Whitworth thread: this series and size only."""

    series: Annotated[str, key("series: BSW or BSF")]
    size: Annotated[str, key("size, such as 1/4")]
    diameter: Annotated[Amount, given("D", "in", "major diameter of the row")]
    threads: Annotated[Amount, given("n", "1/in", "threads per inch of the row")]


@dataclass(frozen=True)
class AssociationRow:
    """A British Association thread: this number only."""

    ba: Annotated[str, key("number of the thread, 0 to 16")]
    pitch: Annotated[Amount, given("p", "mm", "pitch of the row")]
    diameter: Annotated[Amount, given("D", "mm", "major diameter of the row")]
    effective: Annotated[Amount, given("E", "mm", "effective diameter of the row")]
    minor: Annotated[Amount, given("D_1", "mm", "minor diameter of the row")]


@dataclass(frozen=True)
class Metric:
    """Basic sizes in mm."""

    pitch: Annotated[Amount, gives("P", "mm", "pitch", to="0.001")]
    major: Annotated[Amount, gives("D", "mm", "major diameter, basic", to="0.001")]
    effective: Annotated[Amount, gives("E", "mm", "effective (pitch) diameter, basic", to="0.001")]
    minor: Annotated[Amount, gives("D_1", "mm", "minor diameter of the nut, basic", to="0.001")]
    area: Annotated[Amount, gives("A_s", "mm²", "stress area", to="0.01", safe="down")]


@dataclass(frozen=True)
class Inch:
    """Basic sizes in inches."""

    pitch: Annotated[Amount, gives("P", "in", "pitch", to="0.00001")]
    major: Annotated[Amount, gives("D", "in", "major diameter, basic", to="0.0001")]
    effective: Annotated[Amount, gives("E", "in", "effective (pitch) diameter, basic", to="0.0001")]
    minor: Annotated[Amount, gives("D_1", "in", "minor diameter, basic", to="0.0001")]
    area: Annotated[Amount, gives("A_s", "in²", "stress area", to="0.0001", safe="down")]


HEIGHT = math.sqrt(3) / 2  # of the sharp 60° triangle, in pitches
Three = Annotated[
    Amount, given("c_2", "", "pitches from major to effective", fixed="0.649519 ratio")
]
Five = Annotated[Amount, given("c_1", "", "pitches from major to minor", fixed="1.082532 ratio")]


def _metric_by_triangle(row: Any) -> Metric:
    """From the height of the sharp triangle: three and five quarters of it."""
    height = HEIGHT * row.pitch
    effective, minor = row.diameter - 3 / 4 * height, row.diameter - 5 / 4 * height
    root = row.diameter - 17 / 12 * height
    made: Any = Metric
    area = math.pi * ((effective + root) / 4) ** 2
    bare: Metric = made(row.pitch, row.diameter, effective, minor, area)
    return bare


@calculation(
    source="ISO 68-1 and ISO 724; stress area: EN ISO 898-1:2013 clause 9.1.6",
    not_covered=LIMITS,
    second=Second(_metric_by_triangle, "0.001 %", "from the height of the sharp triangle"),
    examples=(
        Example(
            {"thread": "M8"},
            {"effective": "7.188 mm", "minor": "6.647 mm", "area": "36.6 mm²"},
            "ISO 965-2, M8: least of 6H; EN ISO 898-1:2013 table 4",
        ),
        Example(
            {"thread": "M10x1.25"},
            {"effective": "9.188 mm", "minor": "8.647 mm"},
            "ISO 965-2, M10x1.25: least of 6H",
        ),
    ),
)
def thread_metric(
    row: Annotated[MetricRow, looked_up("metric_thread")],
    three: Three,
    five: Five,
    factor: Annotated[
        Amount, given("c_s", "", "pitches taken off for the area", fixed="0.938194 ratio")
    ],
) -> Metric:
    """ISO metric thread: its basic sizes and stress area."""
    effective = step(row.diameter - three * row.pitch, "E", "mm", "effective diameter")
    minor = step(row.diameter - five * row.pitch, "D_1", "mm", "minor diameter")
    area = step(circle_area(row.diameter - factor * row.pitch), "A_s", "mm²", "stress area")
    return Metric(row.pitch, row.diameter, effective, minor, area)


def _unified_by_triangle(row: Any) -> Inch:
    pitch = 1 / row.threads
    height = HEIGHT * pitch
    effective, minor = row.diameter - 3 / 4 * height, row.diameter - 5 / 4 * height
    area = math.pi * (effective / 2 - 3 / 16 * height) ** 2
    made: Any = Inch
    bare: Inch = made(pitch, row.diameter, effective, minor, area)
    return bare


@calculation(
    source="ASME B1.1; stress area as Shigley, 9th edition, table 8-2",
    not_covered=LIMITS + "; the extra-fine and constant-pitch series",
    second=Second(_unified_by_triangle, "0.001 %", "from the height of the sharp triangle"),
    examples=(
        Example(
            {"thread": "1/4-28"},
            {"effective": "0.2268 in", "area": "0.0364 in²"},
            "ASME B1.1 table of UNF; Shigley, 9th edition, table 8-2",
        ),
        Example(
            {"thread": "10-32"},
            {"effective": "0.1697 in", "area": "0.0200 in²"},
            "ASME B1.1 table of UNF; Shigley, 9th edition, table 8-2",
        ),
    ),
)
def thread_unified(
    row: Annotated[UnifiedRow, looked_up("unified_thread")],
    three: Three,
    five: Five,
    factor: Annotated[
        Amount, given("c_t", "", "pitches taken off for the area", fixed="0.974279 ratio")
    ],
) -> Inch:
    """Unified thread, coarse or fine: its basic sizes and stress area."""
    pitch = step(1 / row.threads, "P", "in", "pitch")
    effective = step(row.diameter - three * pitch, "E", "in", "effective diameter")
    minor = step(row.diameter - five * pitch, "D_1", "in", "minor diameter")
    area = step(circle_area(row.diameter - factor * pitch), "A_s", "in²", "stress area")
    return Inch(pitch, row.diameter, effective, minor, area)


def _whitworth_by_triangle(row: Any) -> Inch:
    """Two thirds of the sharp 55° triangle are thread."""
    pitch = 1 / row.threads
    depth = 2 / 3 * pitch / (2 * math.tan(math.radians(27.5)))
    effective, minor = row.diameter - depth, row.diameter - 2 * depth
    made: Any = Inch
    area = math.pi / 4 * ((effective + minor) / 2) ** 2
    bare: Inch = made(pitch, row.diameter, effective, minor, area)
    return bare


@calculation(
    source="BS 84:2007, form and table 3; stress area: circle of the mean of effective and minor "
    "diameter (BS 3580, from memory)",
    not_covered=LIMITS,
    second=Second(_whitworth_by_triangle, "0.001 %", "two thirds of the sharp 55° triangle"),
    examples=(
        Example(
            {"series": "BSF", "size": "1/4"},
            {"effective": "0.2254 in", "minor": "0.2007 in"},
            "BS 84:2007 table 3 with its form (open specification document)",
            "0.0001 in",
        ),
        Example(
            {"series": "BSW", "size": "3/8"},
            {"effective": "0.3350 in", "minor": "0.2950 in"},
            "BS 84, as tabulated by a fastener supplier",
            "0.0001 in",
        ),
    ),
)
def thread_whitworth(
    row: Annotated[WhitworthRow, looked_up("whitworth_thread")],
    depth: Annotated[
        Amount, given("c_w", "", "depth of the thread in pitches", fixed="0.640327 ratio")
    ],
    twice: Annotated[Amount, given("k_2", "", "depths across the thread", fixed="2 ratio")],
) -> Inch:
    """Whitworth thread, coarse (BSW) or fine (BSF): its basic sizes and stress area."""
    pitch = step(1 / row.threads, "P", "in", "pitch")
    deep = step(depth * pitch, "h", "in", "depth of the thread")
    effective = step(row.diameter - deep, "E", "in", "effective diameter")
    minor = step(row.diameter - twice * deep, "D_1", "in", "minor diameter")
    area = step(circle_area((effective + minor) / twice), "A_s", "in²", "stress area")
    return Inch(pitch, row.diameter, effective, minor, area)


def _association_by_depth(row: Any) -> Metric:
    """Six tenths of the pitch deep; the standard rounds the depth to 0.005 mm."""
    depth = row.pitch * 6 / 10
    effective, minor = row.diameter - depth, row.diameter - 2 * depth
    made: Any = Metric
    area = math.pi / 4 * ((row.effective + row.minor) / 2) ** 2
    bare: Metric = made(row.pitch, row.diameter, effective, minor, area)
    return bare


@calculation(
    source="BS 93:1951, basic sizes; stress area: circle of the mean of effective and minor "
    "diameter (common practice, no source)",
    not_covered=LIMITS,
    second=Second(_association_by_depth, "0.0051 mm", "six tenths of the pitch deep"),
    examples=(
        Example(
            {"ba": "2"},
            {"major": "4.7 mm", "effective": "4.215 mm", "minor": "3.73 mm", "pitch": "0.81 mm"},
            "BS 93:1951, as tabulated in an open thread specification document",
        ),
    ),
)
def thread_ba(
    row: Annotated[AssociationRow, looked_up("ba_thread")],
    twice: Annotated[Amount, given("k_2", "", "diameters of the mean", fixed="2 ratio")],
) -> Metric:
    """British Association thread: its basic sizes and stress area."""
    area = step(circle_area((row.effective + row.minor) / twice), "A_s", "mm²", "stress area")
    return Metric(row.pitch, row.diameter, row.effective, row.minor, area)
