"""Thread, and grade of a bolt, in; its stress area, proof load and a share of it as preload out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import (
    Example,
    Second,
    calculation,
    given,
    gives,
    key,
    looked_up,
)
from generator.quantities.amount import Amount
from generator.quantities.functions import circle_area, step

SHARES = (
    "Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th edition, eq. 8-31: "
    "0.75 for bolts that are taken out again, 0.90 for those that stay"
)
METRIC = "EN ISO 898-1:2013 clause 9.1.6 and tables 3 and 4"
UNIFIED = "Shigley, 9th edition, table 8-2 (from ANSI B1.1); SAE J429"
NOT_COVERED = (
    "an estimate, not approved data; the nut and the parts, which may be weaker than the bolt; "
    "loads from outside; bolts of another standard, such as aircraft bolts"
)
COARSE = "one diameter holds {value} pitches: that is no thread of the standard"
OTHER_ROW = "the diameter of {value} does not belong to this row of the table"


@dataclass(frozen=True)
class ClassRow:
    """Strength of a metric bolt: it holds for this property class and these diameters only."""

    property_class: Annotated[str, key("property class, as the table prints it")]
    smallest: Annotated[Amount, given("D₁", "mm", "smallest diameter of the row")]
    largest: Annotated[Amount, given("D₂", "mm", "largest diameter of the row")]
    proof: Annotated[Amount, given("S_p", "MPa", "proof stress")]
    tensile: Annotated[Amount, given("R_m", "MPa", "least tensile strength")]


@dataclass(frozen=True)
class GradeRow:
    """Strength of an inch bolt: it holds for this grade and these diameters only."""

    grade: Annotated[str, key("grade, as the table prints it")]
    smallest: Annotated[Amount, given("D₁", "in", "smallest diameter of the row")]
    largest: Annotated[Amount, given("D₂", "in", "largest diameter of the row")]
    proof: Annotated[Amount, given("S_p", "psi", "proof stress")]
    tensile: Annotated[Amount, given("R_m", "psi", "least tensile strength")]


@dataclass(frozen=True)
class MetricLoads:
    """What a metric bolt carries, and the share of it that is wanted."""

    area: Annotated[Amount, gives("A_s", "mm²", "stress area", to="0.01")]
    proof: Annotated[Amount, gives("F_p", "N", "proof load", to="10", safe="down")]
    breaking: Annotated[Amount, gives("F_m", "N", "least breaking load", to="10", safe="down")]
    preload: Annotated[Amount, gives("F", "N", "preload", to="10", safe="down")]


@dataclass(frozen=True)
class InchLoads:
    """What an inch bolt carries, and the share of it that is wanted."""

    area: Annotated[Amount, gives("A_t", "in²", "stress area", to="0.0001")]
    proof: Annotated[Amount, gives("F_p", "lbf", "proof load", to="1", safe="down")]
    breaking: Annotated[Amount, gives("F_m", "lbf", "least breaking load", to="1", safe="down")]
    preload: Annotated[Amount, gives("F", "lbf", "preload", to="1", safe="down")]


Metric = Annotated[
    Amount, given("D", "mm", "nominal diameter of the thread", at_least="1.6", at_most="39")
]
Inch = Annotated[
    Amount, given("D", "in", "nominal diameter of the thread", at_least="0.06", at_most="1.5")
]
Pitch = Annotated[Amount, given("P", "mm", "pitch", at_least="0.2", at_most="4")]
Threads = Annotated[Amount, given("n", "1/in", "threads per inch", at_least="4", at_most="80")]
MetricFactor = Annotated[
    Amount, given("c_s", "", "share of the pitch taken off", fixed="0.938194 ratio")
]
InchFactor = Annotated[
    Amount, given("c_t", "", "share of the pitch taken off", fixed="0.974279 ratio")
]
Share = Annotated[
    Amount, given("s", "%", "share of the proof load", above="0", at_most="90", beyond=SHARES)
]

_HEIGHT = math.sqrt(3) / 2  # of the sharp triangle of a 60° thread, in pitches


def _area_by_radii(diameter: float, pitch: float) -> float:
    """Mean of the pitch and minor diameters of the basic profile: ISO 898-1, clause 9.1.6."""
    pitch_diameter = diameter - 3 / 4 * _HEIGHT * pitch
    minor = diameter - 17 / 12 * _HEIGHT * pitch
    return math.pi * ((pitch_diameter + minor) / 4) ** 2


def _inch_area_by_radius(diameter: float, threads: float) -> float:
    """Pitch radius less three sixteenths of the triangle: ASME B1.1, from memory."""
    pitch = 1 / threads
    radius = (diameter - 3 / 4 * _HEIGHT * pitch) / 2 - 3 / 16 * _HEIGHT * pitch
    return math.pi * radius**2


def _fine_enough(pitches: Any) -> None:
    step(pitches, "n_D", "", "pitches in one diameter", at_least="4", wrong=COARSE)


def _metric_area(diameter: Any, pitch: Any, factor: Any) -> Any:
    _fine_enough(diameter / pitch)
    return circle_area(diameter - factor * pitch)


def _inch_area(diameter: Any, threads: Any, factor: Any) -> Any:
    _fine_enough(diameter * threads)
    return circle_area(diameter - factor / threads)


@calculation(
    source=METRIC,
    not_covered="threads of another standard than ISO metric; cut or worn threads",
    second=Second(_area_by_radii, "0.001 %", "mean of the pitch and minor diameters"),
    examples=(
        Example({"diameter": "8 mm", "pitch": "1.25 mm"}, {"": "36.6 mm²"}, f"{METRIC}, M8"),
        Example({"diameter": "24 mm", "pitch": "3 mm"}, {"": "353 mm²"}, f"{METRIC}, M24"),
    ),
)
def stress_area_metric(
    diameter: Metric, pitch: Pitch, factor: MetricFactor
) -> Annotated[Amount, gives("A_s", "mm²", "stress area", to="0.01")]:
    """Stress area of an ISO metric thread: the circle that breaks like the thread."""
    area: Amount = _metric_area(diameter, pitch, factor)
    return area


@calculation(
    source=UNIFIED,
    not_covered="threads of another standard than Unified; cut or worn threads",
    second=Second(_inch_area_by_radius, "0.001 %", "pitch radius less a part of the triangle"),
    examples=(
        Example(
            {"diameter": "0.25 in", "threads": "28 1/in"}, {"": "0.0364 in²"}, f"{UNIFIED}, 1/4-28"
        ),
        Example(
            {"diameter": "0.75 in", "threads": "16 1/in"}, {"": "0.373 in²"}, f"{UNIFIED}, 3/4-16"
        ),
    ),
)
def stress_area_unified(
    diameter: Inch, threads: Threads, factor: InchFactor
) -> Annotated[Amount, gives("A_t", "in²", "stress area", to="0.0001")]:
    """Stress area of a Unified thread: the circle that breaks like the thread."""
    area: Amount = _inch_area(diameter, threads, factor)
    return area


def _loads(row: Any, diameter: Any, area: Any, share: Any, unit: str, made: Any) -> Any:
    """Proof, breaking and preload of an area; refuses a diameter that the row does not hold for."""
    ends = {"at_least": row.smallest, "at_most": row.largest}
    step(diameter, "D", unit, "diameter", **ends, wrong=OTHER_ROW)
    proof = row.proof * area
    return made(area, proof, row.tensile * area, share * proof)


def _metric_by_radii(row: Any, diameter: float, pitch: float, share: float) -> Any:
    made: Any = MetricLoads
    area = _area_by_radii(diameter, pitch)
    return made(area, area * row.proof, area * row.tensile, area * (row.proof * share))


@calculation(
    source=f"{METRIC}; share: {SHARES}",
    not_covered=NOT_COVERED,
    second=Second(_metric_by_radii, "0.001 %", "area from the pitch and minor diameters"),
    examples=(
        Example(
            {
                "property_class": "8.8 up to 16 mm",
                "diameter": "12 mm",
                "pitch": "1.75 mm",
                "share": "75 %",
            },
            {"area": "84.3 mm²", "proof": "48900 N", "breaking": "67400 N"},
            "EN ISO 898-1:2013 tables 4 and 5, M12",
            "0.1 %",
        ),
    ),
)
def preload_of_proof_metric(
    row: Annotated[ClassRow, looked_up("bolt_class")],
    diameter: Metric,
    pitch: Pitch,
    share: Share,
    factor: MetricFactor,
) -> MetricLoads:
    """Preload of a metric bolt as a share of its proof load, for the engineer."""
    area = step(_metric_area(diameter, pitch, factor), "A_s", "mm²", "stress area")
    loads: MetricLoads = _loads(row, diameter, area, share, "mm", MetricLoads)
    return loads


def _inch_by_radius(row: Any, diameter: float, threads: float, share: float) -> Any:
    made: Any = InchLoads
    area = _inch_area_by_radius(diameter, threads)
    return made(area, area * row.proof, area * row.tensile, area * (row.proof * share))


@calculation(
    source=f"{UNIFIED}; share: {SHARES}",
    not_covered=NOT_COVERED,
    second=Second(_inch_by_radius, "0.001 %", "area from the pitch radius"),
    examples=(
        Example(
            {"grade": "SAE 8", "diameter": "0.25 in", "threads": "20 1/in", "share": "75 %"},
            {"proof": "3816 lbf"},
            "Naval Ships' Technical Manual ch. 075: 0.0318 in² at 120000 psi",
            "4 lbf",
        ),
    ),
)
def preload_of_proof_unified(
    row: Annotated[GradeRow, looked_up("bolt_grade")],
    diameter: Inch,
    threads: Threads,
    share: Share,
    factor: InchFactor,
) -> InchLoads:
    """Preload of an inch bolt as a share of its proof load, for the engineer."""
    area = step(_inch_area(diameter, threads, factor), "A_t", "in²", "stress area")
    loads: InchLoads = _loads(row, diameter, area, share, "in", InchLoads)
    return loads
