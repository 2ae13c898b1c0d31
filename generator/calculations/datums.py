"""A wire, a rod or a warm part in; how far it sags, or how long it is, out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, looked_up
from generator.calculations.cable_tension import StructureRow
from generator.quantities.amount import Amount
from generator.quantities.functions import circle_area, pi_times, square_root, step
from generator.quantities.points import between

Thick = Annotated[
    Amount, given("d", "mm", "diameter", at_least="0.05", at_most="100", at_bench="0.01")
]
Density = Annotated[
    Amount, given("ρ", "kg/m³", "density of the metal", at_least="1000", at_most="20000")
]
Gravity = Annotated[
    Amount, given("g", "m/s²", "standard gravity (CGPM 1901)", fixed="9.80665 m/s²")
]
Most = Annotated[
    Amount, given("f_max", "mm", "sag up to which it serves as a datum", above="0", at_most="10")
]
WIRE = "parabola of a slack wire, f = w x (L − x) / (2 F) (any text on statics, from memory)"


@dataclass(frozen=True)
class WireSag:
    """How far a wire hangs below the straight line between its stands."""

    middle: Annotated[
        Amount, gives("f_m", "mm", "sag in the middle of the wire", to="0.001", safe="up")
    ]
    here: Annotated[Amount, gives("f", "mm", "sag at the place", to="0.001")]
    take_off: Annotated[
        Amount,
        gives("Δf", "mm", "sag to take off the reading", to="0.01"),
    ]


def _by_moments(
    diameter: float, density: float, tension: float, stands: float, zeroed: float, place: float,
    most: float, gravity: float,
) -> WireSag:  # fmt: skip
    """The moment of the weight on one side of the place over the tension, from the other stand."""
    weight = density * gravity * math.pi * (diameter / 2) ** 2

    def sag(x: float) -> float:
        rest = stands - x
        return (weight * stands / 2 * rest - weight * rest * rest / 2) / tension

    made: Any = WireSag
    bare: WireSag = made(sag(stands / 2), sag(place), sag(place) - sag(zeroed))
    return bare


@calculation(
    source=WIRE,
    not_covered="a wire with a kink or with balls on it, wind, a tension that was not read; a "
    "wire so slack that it hangs by more than the limit: more tension, or a thinner wire",
    second=Second(_by_moments, "0.001 %", "moment of the weight beyond the place over the tension"),
    examples=(
        Example(
            {
                "diameter": "0.4 mm", "density": "7850 kg/m³", "tension": "60 N",
                "stands": "1000 mm", "zeroed": "20 mm", "place": "260 mm", "most": "0.1 mm",
            },
            {"middle": "0.0202 mm", "here": "0.0155 mm", "take_off": "0.0139 mm"},
            "visible arithmetic: 7850 · 9.80665 · π/4 · 0.0004² = 0.009674 N/m; 1/(8 · 60), "
            "0.26 · 0.74/(2 · 60) and 0.02 · 0.98/(2 · 60) of it",
            within="0.0001 mm",
        ),
    ),
)  # fmt: skip
def wire_sag(
    diameter: Thick,
    density: Density,
    tension: Annotated[
        Amount, given("F", "N", "tension of the wire", at_least="1", at_most="5000", at_bench="1")
    ],
    stands: Annotated[
        Amount, given("L", "mm", "stands apart", at_least="10", at_most="50000", at_bench="1")
    ],
    zeroed: Annotated[
        Amount, given("x₀", "mm", "where the gauge was zeroed, from the stand", at_least="0")
    ],
    place: Annotated[
        Amount, given("x", "mm", "place of the reading, from the same stand", at_least="0",
                      at_bench="1")
    ],
    most: Most,
    gravity: Gravity,
) -> WireSag:  # fmt: skip
    """Sag of a wire that serves as a straight line: in the middle, and at a place."""
    for x, what in ((place, "the reading"), (zeroed, "the zero")):
        step(x, "x", "mm", "place", at_most=stands,
             wrong=f"{what} lies {{value}} from the stand, beyond the other one")  # fmt: skip
    weight = step(density * gravity * circle_area(diameter), "w", "N/m", "weight a length")
    middle = step(
        weight * stands**2 / (8 * tension), "f_m", "mm", "sag in the middle", at_most=most,
        wrong="the wire sags {value}, more than the limit: more tension or a thinner wire",
    )  # fmt: skip
    here = step(weight * place * (stands - place) / (2 * tension), "f", "mm", "sag at the place")
    there = step(
        weight * zeroed * (stands - zeroed) / (2 * tension), "f₀", "mm", "sag where it was zeroed"
    )
    return WireSag(middle, here, here - there)


# --- rods --------------------------------------------------------------------------------------

BEAM = "f = 5 w L⁴ / (384 E I), I = π d⁴/64: beam on two ends under its own weight (any text on "
BEAM += "strength of materials, from memory)"
NOT_BEAM = "a rod that is bent already, a tube, a rod held at its ends or carried between; its "
NOT_BEAM += "slope at the ends, which tilts what sits there"
Modulus = Annotated[Amount, given("E", "GPa", "modulus of the metal", at_least="10", at_most="500")]
Apart = Annotated[
    Amount, given("L", "mm", "supports apart", at_least="10", at_most="20000", at_bench="1")
]


@dataclass(frozen=True)
class RodDatum:
    """A rod that is straight enough."""

    sag: Annotated[Amount, gives("f", "mm", "sag in the middle", to="0.01", safe="up")]
    spare: Annotated[Amount, gives("Δf", "mm", "left of the limit", to="0.01", safe="down")]


@dataclass(frozen=True)
class RodSpan:
    """How far a rod goes, and what it does over a span."""

    sag: Annotated[Amount, gives("f", "mm", "sag in the middle of the span", to="0.01", safe="up")]
    longest: Annotated[
        Amount, gives("L_max", "mm", "longest span that keeps the limit", to="1", safe="down")
    ]


def _by_work(diameter: float, density: float, modulus: float, span: float, gravity: float) -> float:
    """The sag by the work of a unit load in the middle: Gauss's three points over half a span,
    which are exact for the cubic there."""
    area = math.pi * diameter * diameter / 4
    weight, stiff = density * gravity * area, modulus * area * diameter * diameter / 16
    quarter, sag = span / 4, 0.0
    for place, share in ((-math.sqrt(0.6), 5 / 9), (0.0, 8 / 9), (math.sqrt(0.6), 5 / 9)):
        x = quarter * (1 + place)
        sag += share * quarter * weight * x * (span - x) / 2 * x / 2
    return 2 * sag / stiff


def _datum_again(
    diameter: float, density: float, modulus: float, span: float, most: float, gravity: float
) -> RodDatum:
    sag = _by_work(diameter, density, modulus, span, gravity)
    made: Any = RodDatum
    bare: RodDatum = made(sag, most - sag)
    return bare


def _span_again(
    diameter: float, density: float, modulus: float, span: float, most: float, gravity: float
) -> RodSpan:
    """The longest span by halving."""
    low, high = 0.0, 1.0
    while _by_work(diameter, density, modulus, high, gravity) < most:
        high *= 2
    for _ in range(60):
        middle = (low + high) / 2
        short = _by_work(diameter, density, modulus, middle, gravity) < most
        low, high = (middle, high) if short else (low, middle)
    made: Any = RodSpan
    bare: RodSpan = made(_by_work(diameter, density, modulus, span, gravity), low)
    return bare


def _sag(diameter: Any, density: Any, modulus: Any, span: Any, gravity: Any) -> Any:
    """w L⁴ / (E I) with w = ρ g π d²/4 and I = π d⁴/64 is 16 ρ g L⁴ / (E d²)."""
    weight = step(density * gravity * circle_area(diameter), "w", "N/m", "weight a length")
    stiff = step(pi_times(diameter**2 * diameter**2) / 64, "I", "m²·m²", "second moment of area")
    return 5 * weight * span * span**3 / (384 * modulus * stiff)


STEEL = {"diameter": "8 mm", "density": "7850 kg/m³", "modulus": "205 GPa"}


@calculation(
    source=BEAM,
    not_covered=NOT_BEAM,
    second=Second(_datum_again, "0.001 %", "work of a unit load in the middle"),
    examples=(
        Example(
            {**STEEL, "span": "400 mm", "most": "0.05 mm"},
            {"sag": "0.0313 mm", "spare": "0.0187 mm"},
            "visible arithmetic: 7850 · 9.80665 · 5 · 16 · 0.4⁴ / (384 · 205 · 10⁹ · 0.008²)",
            within="0.0001 mm",
        ),
    ),
)
def rod_datum(
    diameter: Thick, density: Density, modulus: Modulus, span: Apart, most: Most, gravity: Gravity
) -> RodDatum:
    """Rod as a straight line: its sag between two supports, refused where that is too much."""
    sag = step(
        _sag(diameter, density, modulus, span, gravity), "f", "mm", "sag in the middle",
        at_most=most,
        wrong="this rod sags {value} between its supports: no straight line. A wire, or supports "
        "nearer to each other",
    )  # fmt: skip
    return RodDatum(sag, most - sag)


@calculation(
    source=BEAM,
    not_covered=NOT_BEAM,
    second=Second(_span_again, "0.001 %", "work of a unit load in the middle; span by halving"),
    examples=(
        Example(
            {**STEEL, "span": "960 mm", "most": "0.04 mm"},
            {"sag": "1.038 mm", "longest": "425 mm"},
            "visible arithmetic: 0.0313 mm over 400 mm, with the fourth power of the span",
            within="1 %",
        ),
    ),
)
def rod_span(
    diameter: Thick, density: Density, modulus: Modulus, span: Apart, most: Most, gravity: Gravity
) -> RodSpan:
    """Span of a rod that serves as a straight line: the longest, and the sag over another.

    Here a sag over the limit is printed, to say why the rod is not used over that span.
    """
    sag = step(_sag(diameter, density, modulus, span, gravity), "f", "mm", "sag over the span")
    return RodSpan(sag, span * square_root(square_root(most / sag)))


# --- temperature -------------------------------------------------------------------------------


@dataclass(frozen=True)
class ThermalLength:
    """A length at another temperature."""

    growth: Annotated[
        Amount, gives("ΔL", "mm", "longer than as measured, minus is shorter", to="0.01")
    ]
    length: Annotated[Amount, gives("L_t", "mm", "length when it is used", to="0.01")]


def _by_factor(row: Any, length: float, measured: float, used: float) -> ThermalLength:
    """The length from absolute zero's side: both ends as factors of the length at neither."""
    factor = 1 + row.expansion * used - row.expansion * measured
    made: Any = ThermalLength
    bare: ThermalLength = made(factor * length - length, factor * length)
    return bare


@calculation(
    source="ΔL = α L ΔT; α by the table's row; drawings hold at 20 °C (ISO 1)",
    not_covered="a part that is not at one temperature; a tape or a jig that grows too: the "
    "difference of both counts",
    second=Second(_by_factor, "0.00001", "the length as a factor of itself"),
    examples=(
        Example(
            {
                "structure": "aluminium 2024", "length": "1000 mm", "measured": "20 °C",
                "used": "30 °C",
            },
            {"growth": "0.229 mm", "length": "1000.229 mm"},
            "visible arithmetic: Callister, table B.6: 22.9e-6 1/K, times 1000 mm and 10 K",
        ),
    ),
)  # fmt: skip
def thermal_length(
    row: Annotated[StructureRow, looked_up("structure_expansion")],
    length: Annotated[
        Amount, given("L", "mm", "length as measured", at_least="1", at_most="50000")
    ],
    measured: Annotated[
        Amount, given("t₁", "°C", "temperature when measured", at_least="-40", at_most="60",
                      at_bench="0.5")
    ],
    used: Annotated[
        Amount, given("t₂", "°C", "temperature when used", at_least="-40", at_most="60",
                      at_bench="0.5")
    ],
) -> ThermalLength:  # fmt: skip
    """Length at another temperature: how much longer a part is than when it was measured."""
    warmer = step(between(used, measured), "ΔT", "K", "warmer than when measured")
    growth = step(row.expansion * length * warmer, "ΔL", "mm", "longer than as measured")
    return ThermalLength(growth, length + growth)
