"""Measured sizes, temperatures, uncertainties in; what they prove of a fit, and a heating, out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives, word
from generator.calculations.fits import KINDS, Millimetre, asked_kind, kind_of
from generator.quantities.amount import Amount
from generator.quantities.functions import step
from generator.quantities.points import between, warmer
from generator.quantities.window import Window, window

GUARD = "ISO 14253-1: a limit is proven only where the measured value clears it by U"
Expansion = Annotated[
    Amount,
    given("α", "1/K", "linear expansion of the part", at_least="0.000001", at_most="0.00004"),
]
Uncertainty = Annotated[
    Amount,
    given("U", "mm", "uncertainty of the measurement, 95 %", at_least="0", at_most="10",
          beyond="U is that of the whole measurement, not the step of the instrument"),
]  # fmt: skip


@dataclass(frozen=True)
class Heating:
    """How warm a part must be to drop over another."""

    rise: Annotated[Amount, gives("ΔT", "K", "rise of temperature", to="1", safe="up")]
    temperature: Annotated[
        Amount, gives("T", "°C", "temperature of the warm part", to="1", safe="up")
    ]
    spare: Annotated[
        Amount,
        gives("ΔT_s", "K", "left below the highest temperature", to="1", safe="down",
              at_least="0", beyond="Cool the other part, press, or ask for another fit"),
    ]  # fmt: skip


def _by_growth(
    diameter: float, interference: float, clearance: float, expansion: float, cold: float,
    highest: float,
) -> Heating:  # fmt: skip
    """What one kelvin opens the bore, and how many of those are needed."""
    each = diameter * expansion
    rise = interference / each + clearance / each
    made: Any = Heating
    bare: Heating = made(rise, cold + rise, highest - (cold + rise))
    return bare


@calculation(
    source="ΔT = (δ + c) / (α d), from the linear expansion of the warm part",
    not_covered="heat that flows into the cold part while it goes in; parts that are not warm "
    "through; the temper of the metal, which the highest temperature guards: it comes from the "
    "heat-treatment data of the part; stress in the part after it has cooled",
    second=Second(_by_growth, "0.0001 K", "what one kelvin opens the bore"),
    examples=(
        Example(
            {
                "diameter": "30 mm",
                "interference": "35 µm",
                "clearance": "20 µm",
                "expansion": "0.000023 1/K",
                "cold": "20 °C",
                "highest": "120 °C",
            },
            {"rise": "79.71 K", "temperature": "99.71 °C"},
            "closed form: 0.055 / (0.000023 · 30)",
        ),
        Example(
            {
                "diameter": "4.000 in",
                "interference": "0.004 in",
                "clearance": "0.005 in",
                "expansion": "0.00001206 1/K",
                "cold": "21.1 °C",
                "highest": "300 °C",
            },
            {"rise": "186.6 K"},
            "open course question on a motor bearing: 4.000 in bore, 4.004 in shaft, 0.005 in to "
            "spare, 6.7 millionths for 1 °F; the answer in closed form: 335.8 °F",
        ),
    ),
)
def heating_for_fit(
    diameter: Annotated[
        Amount, given("d", "mm", "diameter of the fit", at_least="1", at_most="500")
    ],
    interference: Annotated[
        Amount, given("δ", "µm", "largest interference", above="0", at_most="1000")
    ],
    clearance: Annotated[
        Amount, given("c", "µm", "clearance wanted while it goes together", at_least="5",
                      at_most="500")
    ],
    expansion: Expansion,
    cold: Annotated[
        Amount,
        given("T_1", "°C", "temperature of both parts before", at_least="-40", at_most="40"),
    ],
    highest: Annotated[
        Amount,
        given("T_2", "°C", "highest temperature that the warm part may have", at_least="0",
              at_most="400"),
    ],
) -> Heating:  # fmt: skip
    """Heating for a press fit: how warm the outer part is made so that it drops on.

    The largest interference of the fit is taken, and what the hands need to spare.
    """
    rise = step((interference + clearance) / (expansion * diameter), "ΔT", "K", "rise")
    warm = step(warmer(cold, rise), "T", "°C", "temperature of the warm part")
    return Heating(rise, warm, between(highest, warm))


@dataclass(frozen=True)
class At20:
    """A measured length as it would be at 20 °C."""

    growth: Annotated[Amount, gives("ΔL", "mm", "growth over its length at 20 °C", to="0.001")]
    length: Annotated[Amount, gives("L", "mm", "length at 20 °C", to="0.001")]


def _cooled(measured: float, temperature: float, expansion: float, reference: float) -> At20:
    """Every kelvin takes its share away."""
    share = expansion * temperature - expansion * reference
    made: Any = At20
    bare: At20 = made(measured * share, measured * (1 - share))
    return bare


@calculation(
    source="ISO 1:2022: sizes hold at 20 °C; ΔL = α L ΔT",
    not_covered="an instrument that is not at 20 °C either: of the same metal and as warm, it "
    "reads right without this; a part that is not warm through",
    second=Second(_cooled, "0.00001 mm", "the share of every kelvin taken away"),
    examples=(
        Example(
            {"measured": "500 mm", "temperature": "26 °C", "expansion": "0.000023 1/K"},
            {"growth": "0.069 mm", "length": "499.931 mm"},
            "closed form: 500 · 0.000023 · 6",
        ),
    ),
)
def length_at_20_degrees(
    measured: Annotated[
        Amount,
        given("L_m", "mm", "length as measured", above="0", at_most="20000", at_bench="0.01"),
    ],
    temperature: Annotated[
        Amount,
        given("T_m", "°C", "temperature of the part", at_least="-10", at_most="50", at_bench="1"),
    ],
    expansion: Expansion,
    reference: Annotated[Amount, given("T_0", "°C", "reference temperature", fixed="20 °C")],
) -> At20:
    """Length at 20 °C: what a part that was measured warm or cold has where its limits hold."""
    warm = step(between(temperature, reference), "ΔT", "K", "over the reference")
    growth = step(expansion * measured * warm, "ΔL", "mm", "growth")
    return At20(growth, measured - growth)


@dataclass(frozen=True)
class Judged:
    """What a measured value proves."""

    accept: Annotated[Window, gives("x", "mm", "value that proves the size", to="0.001")]
    share: Annotated[Amount, gives("U/T", "%", "uncertainty over tolerance", to="1", safe="up")]
    verdict: Annotated[str, word("verdict", "verdict")]


VERDICTS = ("conforms", "not proven", "does not conform")


def _by_distance(lower: float, upper: float, measured: float, uncertainty: float) -> Judged:
    """How far inside the nearer limit the value lies, in uncertainties."""
    inside = min(measured - lower, upper - measured)
    hair = 1e-9 * (upper - lower)
    place = 0 if inside >= uncertainty - hair else 1 if inside >= -uncertainty - hair else 2
    middle, half = (lower + upper) / 2, (upper - lower) / 2 - uncertainty
    made: Any = Judged
    goes = Window(middle - half, middle + half, "", "")
    bare: Judged = made(goes, uncertainty / (upper - lower), VERDICTS[place])
    return bare


@calculation(
    source=GUARD,
    not_covered="how U was found; a size whose form is out, which has no one size; an agreement "
    "between two parties on another rule",
    method="limits moved inwards by U: a value between them proves the size; moved outwards by U: "
    "a value beyond them proves that it is missed; between, nothing is proven",
    second=Second(_by_distance, "0.0000001 mm", "distance inside the nearer limit"),
    examples=(
        Example(
            {
                "lower": "8.900 mm",
                "upper": "9.100 mm",
                "measured": "9.05 mm",
                "uncertainty": "0.03 mm",
            },
            {"accept.from": "8.93 mm", "accept.to": "9.07 mm"},
            "visible: 9.00 ± 0.10 less 0.03 at each end",
            "0.0001 mm",
        ),
    ),
)
def measured_size(
    lower: Annotated[Amount, given("l", "mm", "lower limit", at_least="0", at_most="20000")],
    upper: Annotated[Amount, given("u", "mm", "upper limit", above="0", at_most="20000")],
    measured: Annotated[
        Amount,
        given("x_m", "mm", "measured size", at_least="0", at_most="20000", at_bench="0.001"),
    ],
    uncertainty: Uncertainty,
) -> Judged:
    """Measured size judged with guard bands: proven inside, proven outside, or neither.

    What is not proven is measured again with a better instrument, or goes to the inspector.
    """
    low: Any = lower
    high: Any = upper
    value: Any = measured
    band: Any = uncertainty
    goes = window({"lower limit and U": low + band}, {"upper limit and U": high - band})
    hair = 1e-9 * (high - low)
    if goes.low - hair <= value <= goes.high + hair:
        verdict = VERDICTS[0]
    elif low - band - hair <= value <= high + band + hair:
        verdict = VERDICTS[1]
    else:
        verdict = VERDICTS[2]
    made: Any = Judged
    found: Judged = made(goes, band / (high - low), verdict)
    return found


@dataclass(frozen=True)
class MeasuredFit:
    """What two measured parts do together."""

    clearance: Annotated[
        Amount, gives("c", "µm", "clearance as measured, − interference", to="0.1")
    ]
    least: Annotated[Amount, gives("c_1", "µm", "clearance at the least", to="0.1", safe="down")]
    most: Annotated[Amount, gives("c_2", "µm", "clearance at the most", to="0.1", safe="up")]
    kind: Annotated[str, word("fit", "kind of fit, proven")]


def _by_ends(
    hole: float, shaft: float, hole_uncertainty: float, shaft_uncertainty: float, asked: str
) -> MeasuredFit:
    """Smallest bore over largest pin, and the other way about."""
    least = (hole - hole_uncertainty) - (shaft + shaft_uncertainty)
    most = (hole + hole_uncertainty) - (shaft - shaft_uncertainty)
    made: Any = MeasuredFit
    bare: MeasuredFit = made((least + most) / 2, least, most, kind_of(least, most))
    return bare


@calculation(
    source=f"{GUARD}; the uncertainties of both parts added, which is never too little",
    not_covered="form and roughness; parts at different temperatures",
    method="hole less shaft; at the least and at the most with both uncertainties against it",
    second=Second(_by_ends, "0.0001 µm", "smallest hole less largest shaft, and the other ends"),
    examples=(
        Example(
            {
                "hole": "8.010 mm",
                "shaft": "7.980 mm",
                "hole_uncertainty": "0.003 mm",
                "shaft_uncertainty": "0.002 mm",
                "asked": "clearance",
            },
            {"clearance": "30 µm", "least": "25 µm", "most": "35 µm"},
            "visible: 30 µm, and 5 µm either way",
            "0.0001 µm",
        ),
    ),
)
def measured_fit(
    hole: Annotated[
        Amount, given("D_m", "mm", "hole as measured", above="0", at_most="500", at_bench="0.001")
    ],
    shaft: Annotated[
        Amount, given("d_m", "mm", "shaft as measured", above="0", at_most="500",
                      at_bench="0.001")
    ],
    hole_uncertainty: Annotated[
        Amount, given("U_D", "mm", "uncertainty of the hole", at_least="0", at_most="1")
    ],
    shaft_uncertainty: Annotated[
        Amount, given("U_d", "mm", "uncertainty of the shaft", at_least="0", at_most="1")
    ],
    asked: Annotated[str, choice("kind of fit that is asked for", *KINDS)],
    mm: Millimetre,
) -> MeasuredFit:  # fmt: skip
    """Fit of two measured parts, with the uncertainty of both against it."""
    clearance: Any = hole - shaft
    both: Any = hole_uncertainty + shaft_uncertainty
    least, most = clearance - both, clearance + both
    kind = asked_kind("the pair as measured", asked, least / mm, most / mm)
    made: Any = MeasuredFit
    found: MeasuredFit = made(clearance, least, most, kind)
    return found
