"""The text of a unit in; its factor to the base and its dimension out.

Base: metre, kilogram, second, kelvin, radian. Angle is a dimension of its own, so that a strain
plus an angle is refused. °C and gauge or absolute pressures are points on a scale: they are never
multiplied. Factors: NIST SP 811 appendix B; the tests compare every unit with pint.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from generator.findings import Refusal, near_word

Dimension = tuple[int, int, int, int, int]  # length, mass, time, temperature, angle

NONE: Dimension = (0, 0, 0, 0, 0)
LENGTH: Dimension = (1, 0, 0, 0, 0)
MASS: Dimension = (0, 1, 0, 0, 0)
TIME: Dimension = (0, 0, 1, 0, 0)
TEMPERATURE: Dimension = (0, 0, 0, 1, 0)
ANGLE: Dimension = (0, 0, 0, 0, 1)
FORCE: Dimension = (1, 1, -2, 0, 0)
PRESSURE: Dimension = (-1, 1, -2, 0, 0)
VOLUME: Dimension = (3, 0, 0, 0, 0)

NAMES = {
    NONE: "a plain number",
    LENGTH: "a length",
    MASS: "a mass",
    TIME: "a time",
    TEMPERATURE: "a temperature",
    ANGLE: "an angle",
    FORCE: "a force",
    PRESSURE: "a pressure",
    VOLUME: "a volume",
    (2, 0, 0, 0, 0): "an area",
    (2, 1, -2, 0, 0): "a torque",
    (3, 0, -1, 0, 0): "a flow",
    (1, 0, -1, 0, 0): "a speed",
    (0, 0, -1, 0, 0): "a rate",
    (0, 1, -2, 0, 0): "a force per length",
}

_LBF = 4.4482216152605
_PSI = _LBF / 0.0254**2

SIMPLE: dict[str, tuple[float, Dimension]] = {
    "m": (1.0, LENGTH),
    "mm": (1e-3, LENGTH),
    "cm": (1e-2, LENGTH),
    "µm": (1e-6, LENGTH),
    "in": (0.0254, LENGTH),
    "ft": (0.3048, LENGTH),
    "°": (math.pi / 180, ANGLE),
    "rad": (1.0, ANGLE),
    "s": (1.0, TIME),
    "min": (60.0, TIME),
    "h": (3600.0, TIME),
    "d": (86400.0, TIME),
    "kg": (1.0, MASS),
    "g": (1e-3, MASS),
    "lb": (0.45359237, MASS),
    "N": (1.0, FORCE),
    "kN": (1e3, FORCE),
    "lbf": (_LBF, FORCE),
    "Pa": (1.0, PRESSURE),
    "kPa": (1e3, PRESSURE),
    "MPa": (1e6, PRESSURE),
    "GPa": (1e9, PRESSURE),
    "bar": (1e5, PRESSURE),
    "psi": (_PSI, PRESSURE),
    "ksi": (1e3 * _PSI, PRESSURE),
    "L": (1e-3, VOLUME),
    "K": (1.0, TEMPERATURE),
    "%": (1e-2, NONE),
    "rev": (1.0, NONE),
    "rpm": (1 / 60, (0, 0, -1, 0, 0)),
    "ratio": (1.0, NONE),
    "count": (1.0, NONE),
    "1": (1.0, NONE),
}

POINTS: dict[str, tuple[float, Dimension, float, str]] = {
    "°C": (1.0, TEMPERATURE, 273.15, "temperature"),
    "bar g": (1e5, PRESSURE, 0.0, "gauge"),
    "bar a": (1e5, PRESSURE, 0.0, "absolute"),
    "psi g": (_PSI, PRESSURE, 0.0, "gauge"),
    "psi a": (_PSI, PRESSURE, 0.0, "absolute"),
    "kPa g": (1e3, PRESSURE, 0.0, "gauge"),
    "kPa a": (1e3, PRESSURE, 0.0, "absolute"),
}

_POWERS = {"²": 2, "³": 3}
_LOOK_ALIKES = {
    "Nm": "N·m",
    "N.m": "N·m",
    "N*m": "N·m",
    "in-lb": "lbf·in",
    "lb-in": "lbf·in",
    "in·lb": "lbf·in",
    "lb.in": "lbf·in",
    "in.lbf": "lbf·in",
    "lbf.in": "lbf·in",
    "lb·in": "lbf·in",
    "inlb": "lbf·in",
    "lb-ft": "lbf·ft",
    "ft-lb": "lbf·ft",
    "ft·lb": "lbf·ft",
    "lbf.ft": "lbf·ft",
    '"': "in",
    "inch": "in",
    "inches": "in",
    "'": "ft",
    "deg": "°",
    "degree": "°",
    "degrees": "°",
    "degC": "°C",
    "C": "°C",
    "mins": "min",
    "minutes": "min",
    "sec": "s",
    "seconds": "s",
    "hours": "h",
    "hr": "h",
    "days": "d",
    "kpsi": "ksi",
    "psf": "psi, with 144 psf written as 1 psi",
    "kgf": "N, with 1 kgf written as 9.80665 N",
    "psig": "psi g",
    "psia": "psi a",
    "barg": "bar g",
    "bara": "bar a",
    "um": "µm",
    "μm": "µm",
    "l": "L",
    "l/min": "L/min",
    "litre": "L",
    "litres": "L",
    "cc": "cm³",
    "ml": "cm³",
    "mm2": "mm²",
    "mm3": "mm³",
    "cm3": "cm³",
    "mm^2": "mm²",
    "cm^3": "cm³",
    "percent": "%",
    "thou": "in, with 1 thou written as 0.001 in",
    "gauge": "SWG or AWG, the name of the series",
    "°F": "°C: (°F − 32) / 1.8",
    "F": "°C: (°F − 32) / 1.8",
}
# A prefix before a unit is never a slip of the pen: mbar is not nearly bar, but a thousandth of it.
_PREFIXES = {
    "M": "1000000", "k": "1000", "h": "100", "d": "0.1", "c": "0.01", "m": "0.001",
    "n": "0.000000001",
}  # fmt: skip
_PREFIXED = ("m", "s", "g", "N", "Pa", "bar", "psi", "L", "K", "rad")


@dataclass(frozen=True)
class Unit:
    """A unit: base = number · factor + offset. point names the scale of a point, else is ""."""

    text: str
    factor: float
    dimension: Dimension
    offset: float = 0.0
    point: str = ""

    def to_base(self, number: float) -> float:
        return number * self.factor + self.offset

    def from_base(self, base: float) -> float:
        return (base - self.offset) / self.factor

    def times(self, other: Unit) -> Unit:
        dimension = _added(self.dimension, other.dimension, 1)
        return Unit(_joined(self, other, "·"), self.factor * other.factor, dimension)

    def over(self, other: Unit) -> Unit:
        dimension = _added(self.dimension, other.dimension, -1)
        return Unit(_joined(self, other, "/"), self.factor / other.factor, dimension)


PLAIN = Unit("", 1.0, NONE)


def _added(one: Dimension, other: Dimension, sign: int) -> Dimension:
    a, b = one, other
    return (
        a[0] + sign * b[0],
        a[1] + sign * b[1],
        a[2] + sign * b[2],
        a[3] + sign * b[3],
        a[4] + sign * b[4],
    )


def _joined(one: Unit, other: Unit, sign: str) -> str:
    """The text of a product or quotient; what cancels to a plain number has no text."""
    if not other.text:
        return one.text
    if sign == "/":
        if one.text == other.text:
            return ""
        below = f"({other.text})" if any(s in other.text for s in "·/") else other.text
        return f"{one.text or '1'}/{below}"
    if not one.text:
        return other.text
    if one.text == other.text and not any(s in one.text for s in "·/²³ "):
        return f"{one.text}²"
    if one.text.endswith(f"/{other.text}"):
        return one.text[: -len(other.text) - 1].removeprefix("1")
    return f"{one.text}·{other.text}"


def named(dimension: Dimension) -> str:
    """A dimension in words, such as "a length"."""
    return NAMES.get(dimension, "another kind of quantity")


@cache
def unit(text: str) -> Unit:
    """The unit of a text such as "mm", "lbf·in", "N/mm²", "1/°", "bar g". Refuses the unknown."""
    if text == "":
        return PLAIN
    if text in POINTS:
        factor, dimension, offset, point = POINTS[text]
        return Unit(text, factor, dimension, offset, point)
    if text in SIMPLE:
        factor, dimension = SIMPLE[text]
        return Unit(text, factor, dimension)
    return _compound(text)


def difference(point: Unit) -> Unit:
    """The unit of a difference between two points of a scale: K for °C, bar for bar g."""
    return unit("K" if point.point == "temperature" else point.text[:-2])


def _compound(text: str) -> Unit:
    above, slash, below = text.partition("/")
    if "/" in below:
        raise unknown(text)
    result = _product(above, text) if above != "1" else PLAIN
    if slash:
        result = result.over(_product(below, text))
    return Unit(text, result.factor, result.dimension)


def _product(part: str, whole: str) -> Unit:
    result = PLAIN
    for word in part.split("·"):
        power = _POWERS.get(word[-1:], 1)
        simple = word[:-1] if power > 1 else word
        if simple not in SIMPLE or simple in ("1", "%"):
            raise unknown(whole)
        factor, dimension = SIMPLE[simple]
        for _ in range(power):
            result = result.times(Unit(simple, factor, dimension))
    return result


def unknown(text: str) -> Refusal:
    """The refusal of a text that is no unit here, with the nearest that is."""
    near = _LOOK_ALIKES.get(text) or _in_other_letters(text) or _prefixed(text)
    near = near or near_word(text, [*SIMPLE, *POINTS, "lbf·in", "N·m", "L/min"])
    right = f"did you mean {near}?" if near else "a unit such as mm, °, N, lbf·in, bar g, L/min"
    return Refusal("unit", f"'{text}' is not a unit known here", right)


def _in_other_letters(text: str) -> str:
    """The one unit that differs in capitals alone, such as psi for PSI, or ""."""
    same = [name for name in SIMPLE if name.lower() == text.lower()]
    return same[0] if len(same) == 1 else ""


def _prefixed(text: str) -> str:
    """What to write for a unit whose prefix is not in use here, or ""."""
    factor, simple = _PREFIXES.get(text[:1]), text[1:]
    if factor is None or simple not in _PREFIXED:
        return ""
    return f"{simple}, with 1 {text} written as {factor} {simple}"
