"""A mean line and a thickness in; the surface of a section as one line, with its derivatives, out.

The parameter runs from -1 (trailing edge, lower) over 0 (nose) to 1 (trailing edge, upper); the
place along the chord is its square, which leaves no root at the nose. Lengths are in chords.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from generator.curve import Point, beside, halved, spread_over
from generator.findings import Refusal

# NACA Report 460 (1933): half thickness of a section of 20 %, over the root of x and x to x⁴.
OPEN = (0.2969, -0.1260, -0.3516, 0.2843, -0.1015)
CLOSED = (0.2969, -0.1260, -0.3516, 0.2843, -0.1036)
SCALE = 0.20
_POWERS = (1, 2, 4, 6, 8)  # of the parameter, which is the root of x
_GRID = 400


@dataclass(frozen=True)
class MeanLine:
    """A mean line in two cubics that meet at a place along the chord; constant term first."""

    meets: float
    fore: tuple[float, float, float, float]
    aft: tuple[float, float, float, float]

    def told(self, x: float) -> tuple[float, float, float, float]:
        """Height, slope, and how the slope changes, once and twice."""
        a, b, c, d = self.fore if x < self.meets else self.aft
        height = a + x * (b + x * (c + x * d))
        return height, b + x * (2 * c + 3 * d * x), 2 * c + 6 * d * x, 6 * d


def four_digit_line(camber: float, place: float) -> MeanLine:
    """Two parabolas that meet level at the place of the largest camber."""
    if camber == 0:
        return MeanLine(0.5, (0.0,) * 4, (0.0,) * 4)
    fore, aft = camber / place**2, camber / (1 - place) ** 2
    front = (0.0, 2 * place * fore, -fore, 0.0)
    return MeanLine(place, front, (aft * (1 - 2 * place), 2 * place * aft, -aft, 0.0))


def five_digit_line(meets: float, factor: float) -> MeanLine:
    """A cubic whose curvature comes to nothing at m, and a straight line from there."""
    m, k = meets, factor / 6
    return MeanLine(
        m, (0.0, k * m * m * (3 - m), -3 * m * k, k), (k * m**3, -k * m**3, 0.0, 0.0)
    )  # fmt: skip


@dataclass(frozen=True)
class Surface:
    """The surface of a section with its thickness laid off square to the mean line."""

    line: MeanLine
    thickness: float
    terms: tuple[float, ...]

    @property
    def ends(self) -> tuple[float, float]:
        return -1.0, 1.0

    def half(self, u: float) -> tuple[float, float, float]:
        """Half the thickness at a parameter, negative below, and how it changes, once and twice."""
        away, sign = abs(u), -1.0 if u < 0 else 1.0
        scale = self.thickness / SCALE
        value = rise = bend = 0.0
        for a, n in zip(self.terms, _POWERS, strict=True):
            value += a * away**n
            rise += a * n * away ** (n - 1)
            if n > 1:
                bend += a * n * (n - 1) * away ** (n - 2)
        return sign * scale * value, scale * rise, sign * scale * bend

    def at(self, u: float) -> Point:
        x = u * u
        height, slope, _, _ = self.line.told(x)
        half, _, _ = self.half(u)
        q = math.hypot(1.0, slope)
        return x - half * slope / q, height + half / q

    def first(self, u: float) -> Point:
        _, slope, bend, _ = self.line.told(u * u)
        half, rise, _ = self.half(u)
        q = math.hypot(1.0, slope)
        along = 2 * u * (q - half * bend / q**2)
        return (along - rise * slope) / q, (along * slope + rise) / q

    def second(self, u: float) -> Point:
        """In the frame of the mean line, which turns as the place moves along it."""
        _, slope, bend, change = self.line.told(u * u)
        half, rise, grows = self.half(u)
        q = math.hypot(1.0, slope)
        turn = bend / q**2
        turns = change / q**2 - 2 * slope * bend**2 / q**4
        pace = 2 * u * (bend * slope / q * 2 * u - rise * turn - half * turns * 2 * u)
        along = 2 * (q - half * turn) + pace - rise * 2 * u * turn
        across = 2 * u * (q - half * turn) * 2 * u * turn + grows
        return (along - across * slope) / q, (along * slope + across) / q

    def nose_radius(self) -> float:
        """The radius at the nose: half the square of the first term."""
        return (self.terms[0] * self.thickness / SCALE) ** 2 / 2


@dataclass(frozen=True)
class Inside:
    """The line a skin's thickness inside a surface, square to it."""

    surface: Surface
    skin: float

    def at(self, u: float) -> Point:
        return beside(self.surface, u, -self.skin) if self.skin else self.surface.at(u)

    @cached_property
    def _ways(self) -> dict[float, list[tuple[float, float]]]:
        """Places from edge to nose on either side, each with its station."""
        shares = spread_over(1.0, 0.0, _GRID)
        return {sign: [(sign * u, self.at(sign * u)[0]) for u in shares] for sign in (1.0, -1.0)}

    def ordinate(self, x: float, upper: bool) -> Point:
        """The point at a station; the nose at station 0 of a section without skin, and the end of
        a surface that ends before the chord does. Refusal where there is no such point."""
        sign = 1.0 if upper else -1.0
        if x == 0 and not self.skin:
            return self.at(0.0)
        way = self._ways[sign]
        if way[0][1] < x:
            return self._last(x, sign)
        k = next((k for k, (_, along) in enumerate(way) if along <= x), None)
        if k is not None:
            return self.at(halved(lambda u: self.at(u)[0] - x, way[k][0], way[max(k - 1, 0)][0]))
        begins = min(along for _, along in way)
        side = "upper" if upper else "lower"
        wrong = f"station {x:.2%}: the inside of the {side} skin begins at {begins:.3%}"
        raise Refusal("range", wrong, f"stations from {begins:.3%} on")

    def _last(self, x: float, sign: float) -> Point:
        """The end of a surface at station 100 %."""
        end = self.at(sign)
        if x == 1.0:
            return end
        side = "upper" if sign > 0 else "lower"
        wrong = f"station {x:.3%}: the {side} surface ends at {end[0]:.3%}"
        raise Refusal("range", wrong, f"stations up to {end[0]:.3%}, or 100 % for its end")
