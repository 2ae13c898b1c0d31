"""What a person typed for a quantity in; an Amount with its limits, or a Refusal, out.

Strict on purpose: general parsers read "1 1/4 in" as a quarter inch. Accepted: 1.2 mm;
1.2 ± 0.05 mm; 12 +0.2/-0 mm; 1.0 to 1.4 mm; 5/32 in; 1 17/64 in; 20 SWG; 90°; 20 °C; 70 bar g.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from generator.findings import Refusal
from generator.quantities.amount import Amount, spaced
from generator.quantities.rounding import plain
from generator.quantities.units import LENGTH, Unit, unit

# British Imperial Standard Wire Gauge, inches, as fixed by Order in Council of 1883 (from memory).
SWG = {
    6: 0.192, 7: 0.176, 8: 0.160, 9: 0.144, 10: 0.128, 11: 0.116, 12: 0.104, 13: 0.092,
    14: 0.080, 15: 0.072, 16: 0.064, 17: 0.056, 18: 0.048, 19: 0.040, 20: 0.036, 21: 0.032,
    22: 0.028, 23: 0.024, 24: 0.022, 25: 0.020, 26: 0.018, 27: 0.0164, 28: 0.0148, 29: 0.0136,
    30: 0.0124,
}  # fmt: skip

LONGEST = 120  # signs; looking through a long text for what is wrong takes the square of its length
WHOLE, _PLACES = 12, 9  # at most so many digits before and behind the point
_DECIMAL = rf"[0-9]{{1,{WHOLE}}}(?:\.[0-9]{{1,{_PLACES}}})?"
_FRACTION = r"(?:[0-9]{1,3}[ -])?[0-9]{1,3}/[0-9]{1,4}"
_NUMBER = rf"[-+]?(?:{_FRACTION}|{_DECIMAL})"
# A unit that begins with 1/ needs a space before it: the last 1 of 11 is no unit.
_UNIT = r'(?P<unit>[A-Za-zµμ°%"\'][^\d+±,]*|(?<=\s)1/[^\d+±,]+)'
_TAIL = rf"\s?{_UNIT}$"
_FORMS = (
    re.compile(rf"(?P<number>{_NUMBER}){_TAIL}"),
    re.compile(rf"(?P<number>{_NUMBER})\s?±\s?(?P<both>{_DECIMAL}|{_FRACTION}){_TAIL}"),
    re.compile(
        rf"(?P<number>{_NUMBER})\s?\+(?P<plus>{_DECIMAL})\s?/\s?-(?P<minus>{_DECIMAL}){_TAIL}"
    ),
    re.compile(rf"(?P<low>{_NUMBER}) to (?P<high>{_NUMBER}){_TAIL}"),
)
_GAUGE = re.compile(r"(?P<number>[0-9]{1,2}) ?(?P<series>SWG|AWG|gauge|ga|g\.)$", re.I | re.A)
_COUNT = re.compile(r"[0-9]{1,6}$")
_LONG = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_EXPONENT = re.compile(r"(?P<number>[0-9]+(?:\.[0-9]+)?)[eE](?P<power>[-+]?[0-9]+)(?![0-9])")
_LIMIT = rf"[-+]{_DECIMAL}"
_LIMITS = re.compile(
    rf"(?P<number>{_NUMBER})\s?(?P<one>\+{_DECIMAL}|(?<=\s)-{_DECIMAL}|(?<=\s)0)"
    rf"(?P<both>\s?/\s?(?P<two>{_LIMIT}|0))?{_TAIL}"
)
_TIGHT = re.compile(
    rf"(?P<number>{_NUMBER})(?P<one>-{_DECIMAL})(?P<both>\s?/\s?(?P<two>\+{_DECIMAL})){_TAIL}"
)
_RIGHT = "such as 1.2 mm, 1.2 ± 0.05 mm, 12 +0.2/-0 mm, 1.0 to 1.4 mm, 5/32 in, 20 SWG or 90°"


@lru_cache(maxsize=4096)
def read_amount(text: str) -> Amount:
    """An amount from what was typed, with its limits. Refuses whatever could be read two ways."""
    _on_one_short_line(text)
    words = text.strip().replace("\u00a0", " ").replace("\N{MINUS SIGN}", "-")
    if gauge := _GAUGE.match(words):
        return _gauge(text, gauge)
    for form in _FORMS:
        if match := form.match(words):
            return _sound(_from_match(text, match), text)
    raise _why_not(words, text)


@lru_cache(maxsize=4096)
def read_plain(text: str) -> Amount:
    """A number without a unit, such as 0.5 or 24: a count or a ratio."""
    _on_one_short_line(text)
    words = text.strip().replace("\N{MINUS SIGN}", "-")
    if not re.match(rf"[-+]?{_DECIMAL}$", words):
        if long := _too_long(words, read_plain):
            raise long
        raise Refusal("number", f"'{text}' is not a plain number", "a number such as 0.5 or 24")
    return Amount(float(words), unit(""), words, words, typed=text)


def read_range(text: str) -> Amount:
    """An amount that is a range, such as 4 to 14 lbf·in."""
    amount = read_amount(text)
    if amount.low is None:
        raise Refusal("range", f"'{text}' has no two ends", "a range such as 4 to 14 lbf·in")
    return amount


def read_count(text: str) -> int:
    """A whole number of things, such as 24."""
    if not _COUNT.match(text.strip()):
        raise Refusal("count", f"'{text}' is not a count", "a whole number such as 24")
    return int(text)


def _on_one_short_line(text: str) -> None:
    if not text.strip().replace("\u00a0", " ").isprintable():
        raise Refusal("number", f"{text[:LONGEST]!r} holds a sign that does not print", _RIGHT)
    if len(text) > LONGEST:
        wrong = f"'{text[:30]}...' is too long for a number with its unit: {len(text)} signs"
        raise Refusal("number", wrong, _RIGHT)


def _from_match(text: str, match: re.Match[str]) -> Amount:
    found = match.groupdict()
    scale = unit(_tidy_unit(found["unit"]))
    scale = unit("") if scale.text in ("ratio", "count") else scale
    if "low" in found:
        low, high = _value(found["low"]), _value(found["high"])
        if low > high:
            wrong = f"lower {found['low']} is above upper {found['high']}; swapped?"
            raise Refusal("limits", wrong, f"{found['high']} to {found['low']} {scale.text}")
        middle = (low + high) / 2
        return _made(text, middle, scale, low, high)
    number = _value(found["number"])
    if "both" in found:
        span = _value(found["both"])
        return _made(text, number, scale, number - span, number + span)
    if "plus" in found:
        low, high = number - float(found["minus"]), number + float(found["plus"])
        return _made(text, number, scale, low, high)
    return _made(text, number, scale, None, None)


def _made(text: str, number: float, scale: Unit, low: float | None, high: float | None) -> Amount:
    numbers = f"{plain(number)}{spaced(scale.text)}"
    return Amount(
        scale.to_base(number),
        scale,
        numbers,
        numbers,
        low=None if low is None else scale.to_base(low),
        high=None if high is None else scale.to_base(high),
        typed=text,
    )


def _tidy_unit(text: str) -> str:
    words = text.strip()
    return {'"': "in", "μm": "µm", "mm2": "mm2"}.get(words, words)


def _value(words: str) -> float:
    """The number of "1.25", "-5/32" or "1 17/64"."""
    sign = -1.0 if words.startswith("-") else 1.0
    words = words.lstrip("+-")
    if "/" not in words:
        return sign * float(words)
    whole, _, part = words.replace("-", " ").rpartition(" ")
    above, below = (int(n) for n in part.split("/"))
    if below == 0 or above >= below:
        raise Refusal("fraction", f"'{words}' is not a proper fraction", "such as 1 17/64 in")
    return sign * ((int(whole) if whole else 0) + above / below)


def _gauge(text: str, match: re.Match[str]) -> Amount:
    number, series = int(match["number"]), match["series"].upper()
    if match["number"] != str(number):
        wrong = f"'{text}' has a zero in front: 00 is another gauge than 0"
        raise Refusal("gauge", wrong, "the measured thickness")
    inches = {"SWG": SWG.get(number), "AWG": 0.005 * 92 ** ((36 - number) / 39)}
    if series not in inches:
        raise Refusal(
            "gauge",
            _two_gauges(number, inches),
            "20 SWG or 20 AWG, or better the measured thickness",
        )
    value = inches[series]
    if value is None:
        raise Refusal("gauge", f"gauge {number} is not in the series here", "6 SWG to 30 SWG")
    scale = unit("mm")
    amount = _made(text, value * 25.4, scale, None, None)
    return replace(amount, numbers=f"{plain(value * 25.4, 5)} mm")


def _two_gauges(number: int, inches: dict[str, float | None]) -> str:
    imperial, american = inches["SWG"], inches["AWG"]
    told = f"gauge {number} alone is no thickness"
    if imperial and american:
        told += f": {imperial * 25.4:.3f} mm in SWG, {american * 25.4:.3f} mm in AWG"
    return told


def _sound(amount: Amount, text: str) -> Amount:
    if amount.unit.point == "temperature" and amount.value < 0:
        raise Refusal("range", f"{text} is below absolute zero", "a temperature above −273.15 °C")
    if amount.unit.point == "absolute" and amount.value < 0:
        raise Refusal("range", f"{text} is below a vacuum", "an absolute pressure of 0 or more")
    if amount.low is not None and amount.high is not None and amount.low > amount.high:
        raise Refusal("limits", f"'{text}': the lower limit is above the upper", "limits in order")
    return amount


_PLUS_MINUS = re.compile(r"\s?\+\s?/?\s?-\s?")  # as a keyboard without the sign has it


def _with_the_sign(words: str) -> str:
    """The same tolerance with its own sign; "" where that is none either."""
    told = _PLUS_MINUS.sub(" ± ", words)
    if told == words:
        return ""
    try:
        read_amount(told)
    except Refusal:
        return ""
    return f"{told}, with the sign ±"


def _why_not(words: str, text: str) -> Refusal:
    """The most helpful refusal of a text that is no amount."""
    if re.search(r"\d,\d", words):
        wrong = f"'{text}' has a comma in a number"
        if "." in words:
            return Refusal("comma", wrong, "one point for the decimals, nothing between thousands")
        right = re.sub(r"(\d),(\d)", r"\1.\2", words)
        return Refusal("comma", wrong, f"a point: {right}?")
    if re.match(rf"{_NUMBER}$", words):
        right = (
            f"{words} mm, in, °, lbf·in, bar g ...? {words} ratio? {words} count? It is not guessed"
        )
        return Refusal("unit", f"'{text}' has no unit", right)
    for reason in (_written_with_exponent, _of_too_many_digits, _limits_in_another_order):
        if refusal := reason(words):
            return refusal
    if "+" in words and re.match(rf"{_NUMBER}\s?{_LIMIT}(?:\s?/\s?{_LIMIT})?$", words):
        return Refusal("unit", f"'{text}' has no unit", "the unit once, at the end: 12 +0.2/-0 mm")
    if "±" in words or _PLUS_MINUS.search(words) or re.search(r"\d\s?\+.*/", words):
        right = (
            _with_the_sign(words)
            or "a tolerance such as 1.2 ± 0.05 mm or 12 +0.2/-0 mm, the unit once, at the end"
        )
        return Refusal("tolerance", f"'{text}' is not a tolerance that can be read", right)
    if "/" in words and re.search(r"\d/\s*\d|\d\.\d+/", words):
        return Refusal("fraction", f"'{text}' can be read two ways", "such as 1 17/64 in")
    if re.search(r"\d\s*(-|–|—|\.\.)\s*\d", words):
        return Refusal("range", f"'{text}' reads like a range with a dash", "1.0 to 1.4 mm")
    if re.match(rf"{_NUMBER} to {_NUMBER}$", words):
        return Refusal("unit", f"'{text}' has no unit", "the unit once, at the end: 1.0 to 1.4 mm")
    if match := re.match(rf"{_NUMBER}\s?(?P<unit>\D+.*)$", words):
        try:
            unit(_tidy_unit(match["unit"]))
        except Refusal as refusal:
            return refusal
    return Refusal("amount", f"'{text}' is not an amount", _RIGHT)


def _reads(words: str, read: Callable[[str], Amount] = read_amount) -> bool:
    """Whether what is about to be suggested would be taken."""
    try:
        read(words)
    except Refusal:
        return False
    return True


def _written_with_exponent(words: str) -> Refusal | None:
    """10.3e6 psi: no exponent is read, so the number is shown written out."""
    found = _EXPONENT.search(words)
    if not found:
        return None
    wrong = f"'{words}' has an exponent, '{found[0]}'"
    right = "the number written out, such as 10300000 psi or 10300 ksi"
    if all(abs(int(each["power"])) <= WHOLE for each in _EXPONENT.finditer(words)):
        out = _EXPONENT.sub(lambda each: f"{Decimal(each[0]):f}", words)
        if _reads(out):
            right = f"the number written out: {out}{_in_thousands(out)}"
    return Refusal("number", wrong, right)


def _in_thousands(words: str) -> str:
    """The same in ksi, where somebody wrote out many psi."""
    match = re.match(r"(\d+000) ?psi$", words)
    return f", or {int(match[1]) // 1000} ksi" if match else ""


def _of_too_many_digits(words: str) -> Refusal | None:
    return _too_long(words, read_amount)


def _too_long(words: str, read: Callable[[str], Amount]) -> Refusal | None:
    """A number with more digits than are read, with the nearest that is short enough."""
    for found in _LONG.finditer(words):
        whole, _, places = found[0].partition(".")
        if len(whole) > WHOLE:
            wrong = f"'{found[0]}' has {len(whole)} digits before the point"
            return Refusal("number", wrong, f"at most {WHOLE} digits, or a larger unit")
        if len(places) > _PLACES:
            wrong = f"'{found[0]}' has {len(places)} decimals"
            near = round(Decimal(found[0]), _PLACES)
            out = f"{words[: found.start()]}{near:f}{words[found.end() :]}"
            right = f"at most {_PLACES} decimals"
            return Refusal("number", wrong, f"{right}: {out}" if _reads(out, read) else right)
    return None


def _limits_in_another_order(words: str) -> Refusal | None:
    """12 -0.1/+0.2 mm, 12 +0.2 mm or 12 -0.1 mm, with the form that is read."""
    match = _LIMITS.match(words) or _TIGHT.match(words)
    if not match:
        return None
    ends = sorted(Decimal(end) for end in (match["one"], match["two"] or "0"))
    only_below = not match["both"] and ends[0] < 0
    if only_below and -ends[0] >= abs(_value(match["number"])):
        return None  # 10 -12 mm is meant as a range
    tail = words[match.start("unit") :]
    space = "" if tail in ("°", '"', "'") else " "
    right = f"{match['number']} +{_size(ends[1])}/-{_size(ends[0])}{space}{tail}"
    wrong = f"'{words}' has its limits in another order"
    if not match["both"]:
        wrong = f"'{words}' has a limit on one side only"
    if ends[0] > 0 or ends[1] < 0:
        wrong = f"'{words}' has both limits on one side"
        right = _about_the_middle(match["number"], ends, f"{space}{tail}")
    if not _reads(right):
        right = "a tolerance such as 12 +0.2/-0.1 mm, the plus first"
    return Refusal("tolerance", wrong, right)


def _size(end: Decimal) -> str:
    return f"{abs(end):f}" if end else "0"


def _about_the_middle(number: str, ends: list[Decimal], tail: str) -> str:
    """8 -0.013/-0.028 mm as 7.9795 ± 0.0075 mm."""
    if "/" in number:
        return ""
    middle, half = Decimal(number) + (ends[0] + ends[1]) / 2, (ends[1] - ends[0]) / 2
    return f"{middle:f} ± {half:f}{tail}"


def echo(amount: Amount) -> str:
    """How an amount is shown to people: as typed, and where that needs reading, how it was read."""
    typed = re.sub(r"(?<!\d)-(?=\d)", "\N{MINUS SIGN}", amount.typed.strip())
    if _GAUGE.match(amount.typed.strip()):
        return f"{typed} (read as {amount.numbers})"
    if amount.unit.dimension == LENGTH and re.search(r"\d/\d", typed) and amount.low is None:
        inches = f"{plain(amount.number(), 7)} {amount.unit.text}"
        return f"{typed} (read as {inches} = {plain(amount.value * 1000, 7)} mm)"
    return typed.removesuffix(" ratio").removesuffix(" count")
