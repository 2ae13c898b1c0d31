"""What somebody wrote in a box for serials, in; whether the serial of a part is among them, out.

The number of a part in front of its serials is none of them, nor is a count, a day or the number of
a charge that stands beside them.
"""

from __future__ import annotations

import re

from generator.results.values import TO
from generator.signs import is_whole

_APART = r"\s,;/+&()"  # what stands between two serials
_END = "([0-9]{1,9})"  # no serial has more digits
_RANGE = re.compile(rf"(?<![^{_APART}])([^\W\d_]*){_END}{TO}\1{_END}(?![\w-])", re.I)
# The number of any part in front of a serial of so many digits, such as T6-110-4P-0001.
_OF_A_PART = rf"(?<![^{_APART}])(?=\S*[^\W\d_])\S*[-.:#](?=[0-9]{{%d}}(?![\w-]))"
# That of the own part, also where it is all digits and stands free.
_OF_THIS = r"(?<![\w-])%s(?:[-.:#/](?=[0-9]{%d}(?![\w-]))|(?![\w-]))"
_ENDS_IN = re.compile(r"(.*?)([0-9]+)")
_BETWEEN = re.compile(rf"\b(?:and|to|nos?|serials?)\b|[-\N{{EN DASH}}.:#{_APART}]", re.I)


def is_named(text: str, part: str, number: str = "") -> bool:
    """Whether words name one serial: it stands there, alone or behind the number of its part.

    number: that of the part, such as T6-110-4P, which may be all digits.
    """
    told = _without_number(text, part, number)
    shortest = _shortest(told, part)
    words = (each.rstrip(".:") for each in re.split(rf"[{_APART}]+", told))
    return any(_same(each, part, shortest) for each in words)


def is_among(text: str, part: str, number: str = "") -> bool:
    """Whether words name a serial, itself or between the two ends of a range."""
    if is_named(text, part, number):
        return True
    own, told = _ENDS_IN.fullmatch(part), _without_number(text, part, number)
    shortest = _shortest(told, part)
    return own is not None and any(
        prefix.casefold() == own[1].casefold()
        and min(len(first), len(last)) >= shortest
        and _size(first) <= _size(own[2]) <= _size(last)
        for prefix, first, last in _RANGE.findall(told)
    )


def _without_number(text: str, part: str, number: str) -> str:
    own = _OF_THIS % (re.escape(number), len(part))
    told = re.sub(own, " ", text, flags=re.I) if number else text
    return re.sub(_OF_A_PART % len(part), "", told)


def _shortest(told: str, part: str) -> int:
    """How many digits a number has at least that is a serial. 12 is 0012 where nothing but serials
    stands in the box, and no longer one behind it: that is a count, or of another part."""
    lengths = [*map(len, re.findall("[0-9]+", told))]
    others = _BETWEEN.sub("", re.sub("[0-9]+", "", told))
    whole = len(part) if is_whole(part) else 1
    alone = not others and not (lengths and lengths[0] < whole <= max(lengths))
    return 1 if alone else whole


def _same(one: str, part: str, shortest: int) -> bool:
    """Whether two serials are one: 1 is what the traveller has as 0001."""
    whole = is_whole(one) and is_whole(part) and len(one) >= shortest
    return one.casefold() == part.casefold() or (whole and _size(one) == _size(part))


def _size(digits: str) -> tuple[int, str]:
    """What orders whole numbers of any length."""
    plain = digits.lstrip("0")
    return len(plain), plain
