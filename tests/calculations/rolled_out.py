"""Lengths, areas and numbers read from a flat pattern, and what they are in space."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

WITHIN = 0.1  # mm: what a length along the rolled pattern may be off


# --- cones and cylinders, folded back ----------------------------------------------------------


def number(came: dict[str, Any], name: str) -> float:
    amount = came[name].amount
    assert amount is not None
    return float(amount.value * 1000)


def flat(came: dict[str, Any]) -> list[tuple[complex, complex]]:
    """Both ends of every line as they are printed, to a tenth of a millimetre."""
    found = []
    while f"points.{len(found) + 1}.a_up" in came:
        at = f"points.{len(found) + 1}."
        a, b = (
            complex(
                *(
                    float(came[f"{at}{e}_{c}"].shown.replace("\N{MINUS SIGN}", "-"))
                    for c in ("across", "up")
                )
            )
            for e in ("a", "b")
        )
        found.append((a, b))
    return found


PLACES, WEIGHTS = np.polynomial.legendre.leggauss(12)


def integral(of: Callable[[float], float], low: float, high: float, parts: int = 60) -> float:
    """By the twelve places of Gauss and Legendre in each part."""
    step = (high - low) / parts
    middles = (low + (k + 0.5) * step for k in range(parts))
    return (
        math.fsum(
            w * of(m + x * step / 2) for m in middles for x, w in zip(PLACES, WEIGHTS, strict=True)
        )
        * step
        / 2
    )


def smooth_places(points: Sequence[complex]) -> Any:
    """Many places on the smooth line through printed points, as complex numbers: by numpy's
    equations for a spline whose first and last two spans are one cubic each."""
    at = np.concatenate([[0], np.cumsum(np.abs(np.diff(points)))])
    wide, rise = np.diff(at), np.diff(points) / np.diff(at)
    count = len(points)
    rows, right = np.zeros((count, count)), np.zeros(count, dtype=complex)
    for k in range(1, count - 1):
        rows[k, k - 1 : k + 2] = wide[k - 1], 2 * (wide[k - 1] + wide[k]), wide[k]
        right[k] = 6 * (rise[k] - rise[k - 1])
    rows[0, :3] = wide[1], -(wide[0] + wide[1]), wide[0]
    rows[-1, -3:] = wide[-1], -(wide[-2] + wide[-1]), wide[-2]
    bends = np.linalg.solve(rows.astype(complex), right)
    found = []
    for k in range(count - 1):
        b = np.linspace(0, 1, 200, endpoint=False)
        a, bow = 1 - b, wide[k] ** 2 / 6
        curved = (a**3 - a) * bends[k] + (b**3 - b) * bends[k + 1]
        found.append(a * points[k] + b * points[k + 1] + curved * bow)
    return np.concatenate([*found, [points[-1]]])


def smooth_length(points: Sequence[complex]) -> float:
    """The length of the smooth line through printed points."""
    return float(np.abs(np.diff(smooth_places(points))).sum())


def length_in_space(edge: Callable[[float], Sequence[float]], low: float, high: float) -> float:
    def pace(t: float) -> float:
        step = 1e-5
        return math.dist(edge(t + step), edge(t - step)) / (2 * step)

    return integral(pace, low, high)


def ellipse_girth(wide: float, high: float) -> float:
    """4 a E(m), by its integral (Abramowitz & Stegun 17.3.3)."""
    return (
        4
        * wide
        * integral(
            lambda t: math.sqrt(1 - (1 - (high / wide) ** 2) * math.sin(t) ** 2), 0, math.pi / 2
        )
    )
