"""Limits from both sides, by name, in; the window that is left, and what bounds it, out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.functions import largest, smallest
from generator.quantities.rounding import plain


@dataclass(frozen=True)
class Window:
    """What goes: from low to high. low_by, high_by: the limit that binds, by its name."""

    low: Any
    high: Any
    low_by: str
    high_by: str


def window(at_least: Mapping[str, Any], at_most: Mapping[str, Any]) -> Window:
    """The window that all limits leave open; refuses where none is left, and names both limits.

    at_least, at_most: limits by their names, all of one kind. On amounts the working shows every
    limit; on floats and spreads the same window is found without words.
    """
    low, high = _bound(largest, at_least), _bound(smallest, at_most)
    low_by, high_by = _binding(at_least, low), _binding(at_most, high)
    if _number(low) is not None and _number(high) is not None:
        _must_be_open(low, high, low_by, high_by)
    return Window(low, high, low_by, high_by)


def _bound(extreme: Any, limits: Mapping[str, Any]) -> Any:
    first, *others = limits.values()
    return extreme(first, *others) if others else first


def _number(limit: Any) -> float | None:
    """The value in base units; None for what holds many values."""
    if isinstance(limit, Amount):
        return limit.value
    return limit if isinstance(limit, int | float) else None


def _binding(limits: Mapping[str, Any], bound: Any) -> str:
    value = _number(bound)
    if value is None:
        return ""
    return min(limits, key=lambda name: abs((_number(limits[name]) or 0.0) - value))


def _must_be_open(low: Any, high: Any, low_by: str, high_by: str) -> None:
    ends = (_number(low), _number(high))
    assert ends[0] is not None and ends[1] is not None
    if ends[0] <= ends[1] + 1e-12 * max(1e-3, abs(ends[1])):
        return
    shown = [f" {plain(a.number(), 6)} {a.unit.text}".rstrip() if isinstance(a, Amount) else ""
             for a in (low, high)]  # fmt: skip
    wrong = f"no room is left: {low_by} asks for at least{shown[0]}, {high_by} allows{shown[1]}"
    raise Refusal("range", wrong, "another choice of what sets these two limits")
