"""Torque, diameter and a bracket of nut factors in; the preloads it may leave, out: an estimate."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, key, looked_up
from generator.quantities.amount import Amount
from generator.quantities.functions import step

ESTIMATE = (
    "an estimate, not approved data: the shop tightens by a table or by approved data; running "
    "drag, which is added after; tightening beyond the yield of the bolt"
)
TORQUE_FORMULA = (
    "T = K F D: Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th edition, eq. 8-27"
)
SPECK = "Speck, Mechanical Fastening, Joining and Assembly, ch. 3, p. 85"
SHIGLEY = "Shigley's Mechanical Engineering Design, 9th edition, example 8-3 (b), p. 440"
SCATTER_BOOK = "bolted-joint literature, nut factors 0.086 to 0.52 (from memory)"
NO_BRACKET = "the largest nut factor is {value} of the least: one factor is no bracket"
BELOW = "the nut factor to aim with lies outside its bracket"


@dataclass(frozen=True)
class FactorRow:
    """A mean nut factor: it holds for this condition of the threads only."""

    condition: Annotated[str, key("condition of the threads, as the table prints it")]
    factor: Annotated[Amount, given("K", "", "nut factor of the table row")]


@dataclass(frozen=True)
class Torques:
    """The torque that gives the preload, for each nut factor."""

    at_least_factor: Annotated[
        Amount, gives("T_K1", "lbf·in", "torque if the nut factor is the least", to="0.1")
    ]
    torque: Annotated[Amount, gives("T", "lbf·in", "torque at the nut factor aimed with", to="0.1")]
    at_largest_factor: Annotated[
        Amount, gives("T_K2", "lbf·in", "torque if the nut factor is the largest", to="0.1")
    ]
    scatter: Annotated[
        Amount, gives("r", "", "largest preload over smallest, at one torque", to="0.01", safe="up")
    ]


@dataclass(frozen=True)
class Preloads:
    """The preload that the torque leaves, for each nut factor."""

    largest: Annotated[
        Amount, gives("F_K1", "lbf", "preload if the nut factor is the least", to="1", safe="up")
    ]
    preload: Annotated[Amount, gives("F", "lbf", "preload at the nut factor aimed with", to="1")]
    smallest: Annotated[
        Amount,
        gives("F_K2", "lbf", "preload if the nut factor is the largest", to="1", safe="down"),
    ]
    scatter: Annotated[
        Amount, gives("r", "", "largest preload over smallest, at one torque", to="0.01", safe="up")
    ]


Preload = Annotated[Amount, given("F", "lbf", "preload wanted", above="0", at_most="500000")]
Diameter = Annotated[
    Amount, given("D", "in", "nominal diameter of the thread", at_least="0.06", at_most="4")
]
LeastFactor = Annotated[
    Amount, given("K₁", "", "least nut factor", at_least="0.086", at_most="0.52")
]
AimedFactor = Annotated[
    Amount, given("K", "", "nut factor to aim with", at_least="0.086", at_most="0.52")
]
LargestFactor = Annotated[
    Amount, given("K₂", "", "largest nut factor", at_least="0.086", at_most="0.52")
]


def _root(of: Callable[[float], float], high: float) -> float:
    """Where a rising function of a number from 0 to high is zero, by halving."""
    low = 0.0
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if of(middle) < 0 else (low, middle)
    return high


def _torques(preload: float, diameter: float, factors: tuple[float, float, float]) -> Torques:
    """For each factor the torque that leaves the preload, sought from the preload it leaves."""
    made: Any = Torques
    found = [
        _root(lambda torque, k=k: torque / k / diameter - preload, preload * diameter)  # type: ignore[misc]
        for k in factors
    ]
    bare: Torques = made(*found, found[2] / found[0])
    return bare


def _torques_by_search(
    preload: float, diameter: float, k_low: float, k_nominal: float, k_high: float
) -> Torques:
    return _torques(preload, diameter, (k_low, k_nominal, k_high))


def _bracket(k_low: Any, k_nominal: Any, k_high: Any) -> Any:
    """The scatter of the bracket; refuses one that is none, or that the factor lies outside of."""
    scatter = step(k_high / k_low, "r", "", "largest over least", above="1", wrong=NO_BRACKET)
    step(k_nominal / k_low, "r₁", "", "aimed over least", at_least="1", wrong=BELOW)
    step(k_high / k_nominal, "r₂", "", "largest over aimed", at_least="1", wrong=BELOW)
    return scatter


def _from_factors(preload: Any, diameter: Any, factors: tuple[Any, Any, Any]) -> Torques:
    scatter = _bracket(*factors)
    least, aimed, largest = (factor * diameter * preload for factor in factors)
    return Torques(least, aimed, largest, scatter)


@calculation(
    source=f"{TORQUE_FORMULA}; range of K: {SCATTER_BOOK}",
    not_covered=ESTIMATE,
    second=Second(_torques_by_search, "0.001 %", "sought from the preload that a torque leaves"),
    examples=(
        Example(
            {
                "preload": "25000 lbf",
                "diameter": "0.75 in",
                "k_low": "0.15",
                "k_nominal": "0.2",
                "k_high": "0.3",
            },
            {"torque": "3750 lbf·in"},
            SHIGLEY,
        ),
        Example(
            {
                "preload": "1275 lbf",
                "diameter": "0.19 in",
                "k_low": "0.15",
                "k_nominal": "0.25",
                "k_high": "0.3",
            },
            {
                "at_least_factor": "36.3 lbf·in",
                "torque": "60.6 lbf·in",
                "at_largest_factor": "72.7 lbf·in",
            },
            SPECK,
        ),
    ),
)
def nut_factor_torque(
    preload: Preload,
    diameter: Diameter,
    k_low: LeastFactor,
    k_nominal: AimedFactor,
    k_high: LargestFactor,
) -> Torques:
    """Torque for a preload by a nut factor, always with the bracket of the factor.

    An estimate for the engineer. The shop gets such a torque only as approved data.
    """
    return _from_factors(preload, diameter, (k_low, k_nominal, k_high))


def _row_by_search(
    row: Any, preload: float, diameter: float, k_low: float, k_high: float
) -> Torques:
    return _torques(preload, diameter, (k_low, row.factor, k_high))


@calculation(
    source=f"{TORQUE_FORMULA} and table 8-15, p. 439; range of K: {SCATTER_BOOK}",
    not_covered=f"another condition of the threads than the row's; {ESTIMATE}",
    second=Second(_row_by_search, "0.001 %", "sought from the preload that a torque leaves"),
    examples=(
        Example(
            {
                "condition": "zinc-plated",
                "preload": "25000 lbf",
                "diameter": "0.75 in",
                "k_low": "0.15",
                "k_high": "0.3",
            },
            {"torque": "3750 lbf·in"},
            SHIGLEY,
        ),
    ),
)
def nut_factor_torque_by_condition(
    row: Annotated[FactorRow, looked_up("nut_factor")],
    preload: Preload,
    diameter: Diameter,
    k_low: LeastFactor,
    k_high: LargestFactor,
) -> Torques:
    """Torque for a preload by the table's nut factor of a condition, with a bracket about it.

    An estimate for the engineer. The bracket is asked for, because the table holds means alone.
    """
    return _from_factors(preload, diameter, (k_low, row.factor, k_high))


def _preloads_by_search(
    torque: float, diameter: float, k_low: float, k_nominal: float, k_high: float
) -> Preloads:
    """For each factor the preload that takes the torque, sought from the torque it takes."""
    made: Any = Preloads
    most = torque / diameter * 20
    found = [
        _root(lambda preload, k=k: k * diameter * preload - torque, most)  # type: ignore[misc]
        for k in (k_low, k_nominal, k_high)
    ]
    bare: Preloads = made(*found, found[0] / found[2])
    return bare


@calculation(
    source=f"{TORQUE_FORMULA}; range of K: {SCATTER_BOOK}",
    not_covered=ESTIMATE,
    second=Second(_preloads_by_search, "0.001 %", "sought from the torque that a preload takes"),
    examples=(
        Example(
            {
                "torque": "60 lbf·in",
                "diameter": "0.25 in",
                "k_low": "0.12",
                "k_nominal": "0.2",
                "k_high": "0.3",
            },
            {
                "largest": "2000 lbf",
                "preload": "1200 lbf",
                "smallest": "800 lbf",
                "scatter": "2.5",
            },
            "common practice, no source: a quarter-inch bolt at 60 lbf·in",
        ),
        Example(
            {
                "torque": "36.3 lbf·in",
                "diameter": "0.19 in",
                "k_low": "0.1",
                "k_nominal": "0.15",
                "k_high": "0.3",
            },
            {"preload": "1275 lbf"},
            SPECK,
            "2 lbf",
        ),
    ),
)
def preload_from_torque(
    torque: Annotated[
        Amount,
        given("T", "lbf·in", "torque at the nut, its drag taken off", above="0", at_most="100000"),
    ],
    diameter: Diameter,
    k_low: LeastFactor,
    k_nominal: AimedFactor,
    k_high: LargestFactor,
) -> Preloads:
    """Preload that a torque leaves in a bolt, always for the whole bracket of the nut factor.

    An estimate for the engineer: one torque leaves preloads that differ by the whole bracket.
    """
    scatter = _bracket(k_low, k_nominal, k_high)
    most, aimed, least = (torque / (factor * diameter) for factor in (k_low, k_nominal, k_high))
    return Preloads(most, aimed, least, scatter)
