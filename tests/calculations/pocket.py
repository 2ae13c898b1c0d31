"""A printed line of a working in; what a pocket calculator makes of it out.

Knows nothing of amounts or units: it strips units as a reader would, works angles in degrees, and
does the arithmetic that is left.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

_UNIT = r"(?:1/)?[A-Za-zµ°%][^\s]*"
_NUMBER = re.compile(rf"(?<![\w.])(\d+(?:\.\d+)?)( %|°(?![·/\w])| {_UNIT}(?: [ga]\b)?)?")
_SIGNS = {"·": "*", "\N{MINUS SIGN}": "-", "²": "**2", "³": "**3"}
_WORD = re.compile(r"[^\W\d]\w*")


def worked(line: str) -> float:
    """What the numbers of a line come to, units left aside."""
    return _evaluated(_NUMBER.sub(_stripped, line), math.pi / 180)


def worked_in_base_units(formula: str, symbols: Mapping[str, float]) -> float:
    """What a formula comes to with each symbol's value in base units put in; angles in radians."""
    shown = re.sub(r"(\d)°", rf"(\1*{math.pi / 180!r})", _whole_degrees(formula))
    put_in = _WORD.sub(lambda word: _put_in(word[0], symbols), shown)
    return _evaluated(put_in, 1.0)


def printed_value(result: str) -> tuple[float, float]:
    """A printed result as the number it states and how far off rounding may have put it."""
    first, _, rest = result.partition(", rounded")
    match = re.match("[-\N{MINUS SIGN}]?[\\d.]+", first)
    assert match is not None, result
    number = float(match[0].replace("\N{MINUS SIGN}", "-"))
    if rest:
        size = re.search(r"[\d.]+", rest)
        assert size is not None, result
        return number, float(size[0]) * (1.0 if " up" in rest or " down" in rest else 0.5)
    return number, abs(number) * 5e-7


def _stripped(match: re.Match[str]) -> str:
    number, unit_text = match[1], match[2] or ""
    if unit_text == " %":
        return f"({number}/100)"
    left_open = 0
    for place, sign in enumerate(unit_text):
        left_open += {"(": 1, ")": -1}.get(sign, 0)
        if left_open < 0:  # this bracket belongs to the line, not to the unit
            return number + unit_text[place:]
    return number


def _whole_degrees(formula: str) -> str:
    """180° as 1·180°, so that one digit can stand before the sign: (180*1°)."""
    return re.sub(r"(\d+(?:\.\d+)?)°", r"(\1*1°)", formula)


def _put_in(word: str, symbols: Mapping[str, float]) -> str:
    return f"({symbols[word]!r})" if word in symbols else word


def _evaluated(text: str, per_angle: float) -> float:
    for sign, plain in _SIGNS.items():
        text = text.replace(sign, plain)
    known = {
        "π": math.pi,
        "tan": lambda a: math.tan(a * per_angle),
        "sin": lambda a: math.sin(a * per_angle),
        "cos": lambda a: math.cos(a * per_angle),
    }
    return float(eval(text, {"__builtins__": {}}, known))
