"""A printed line of a working in; what a pocket calculator makes of it out.

Knows nothing of amounts or units: it strips units as a reader would, works angles in degrees, and
does the arithmetic that is left.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping

_DIGITS = r"\d+(?:\.\d+)?"
_UNIT = r"(?:1/)?[A-Za-zµ°][^\s,]*"
_NUMBER = re.compile(rf"(?<![\w.])({_DIGITS})( %|°(?![·/\w])| {_UNIT}(?: [ga]\b)?)?")
_SIGNS = {"·": "*", "\N{MINUS SIGN}": "-", "²": "**2", "³": "**3", "√": "sqrt"}
_WORD = re.compile(r"[^\W\d]\w*(?:\.\w+)*")
FIGURES = 5e-7  # half of the last of the seven figures that a carried number has


def worked(line: str) -> float:
    """What the numbers of a line come to, units left aside and angles in degrees."""
    return _evaluated(_plain_signs(_NUMBER.sub(_stripped, line)), math.pi / 180)


def worked_in_base_units(formula: str, symbols: Mapping[str, float]) -> float:
    """What a formula comes to with each symbol's value in base units put in; angles in radians."""
    plain = re.sub(rf"({_DIGITS})°", rf"(\1*{math.pi / 180!r})", _plain_signs(formula))
    put_in = _WORD.sub(lambda word: _put_in(word[0], symbols), plain)
    return _evaluated(put_in, 1.0)


def printed_values(result: str) -> Iterator[tuple[float, float]]:
    """Each number that a result line states, and how far off its rounding may have put it."""
    for part in result.split("; printed "):
        stated, _, rest = part.partition(", rounded")
        match = re.match(rf"[-\N{{MINUS SIGN}}]?{_DIGITS}", stated)
        assert match is not None, result
        number = float(match[0].replace("\N{MINUS SIGN}", "-"))
        share = 0.01 if stated[match.end() :].startswith(" %") else 1.0
        yield number * share, share * (_last_place(rest) if rest else FIGURES * abs(number))


def slack(line: str) -> float:
    """How far the seven figures of the numbers in a line may put its answer off."""
    answer = abs(worked(line))
    if "ln(" in line or ("\N{MINUS SIGN}" in line and any(sign in line for sign in "/(")):
        return _moved(line) + 6 * FIGURES * answer + 1e-12
    if any(sign in line for sign in "·/²³("):
        return 6 * FIGURES * answer + 1e-12
    return sum(FIGURES * float(match[1]) for match in _NUMBER.finditer(line)) + 1e-12


def _moved(line: str) -> float:
    """Where a difference loses figures: how far the answer moves with the last figure of each."""
    answer, moved = worked(line), 0.0
    for match in _NUMBER.finditer(line):
        number = float(match[1]) * (1 + FIGURES)
        other = f"{line[: match.start(1)]}{number!r}{line[match.end(1) :]}"
        moved += abs(worked(other) - answer)
    return moved


def _last_place(rest: str) -> float:
    size = re.search(_DIGITS, rest)
    assert size is not None, rest
    one_sided = rest.startswith((" up", " down"))
    return float(size[0]) * (1.0 if one_sided else 0.5)


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


def _plain_signs(text: str) -> str:
    for sign, plain in _SIGNS.items():
        text = text.replace(sign, plain)
    return text


def _put_in(word: str, symbols: Mapping[str, float]) -> str:
    return f"({symbols[word]!r})" if word in symbols else word


def _evaluated(text: str, per_angle: float) -> float:
    known = {
        "π": math.pi,
        "tan": lambda angle: math.tan(angle * per_angle),
        "sin": lambda angle: math.sin(angle * per_angle),
        "cos": lambda angle: math.cos(angle * per_angle),
        "arcsin": lambda ratio: math.asin(ratio) / per_angle,
        "arccos": lambda ratio: math.acos(ratio) / per_angle,
        "arctan": lambda ratio: math.atan(ratio) / per_angle,
        "sqrt": math.sqrt,
        "log10": math.log10,
        "ln": math.log,
        "exp": math.exp,
        "max": max,
        "min": min,
    }
    return float(eval(text, {"__builtins__": {}}, known))
