"""The text of a row of a hinge figure, in; the number in it, out."""

from __future__ import annotations

import re
from collections.abc import Mapping

from generator.findings import Refusal

_AMOUNT = re.compile(r"(-?[0-9]+(?:\.[0-9]+)?) ?(mm|in|°)(?: \(.*\))?")


def amount(rows: Mapping[str, str], name: str) -> tuple[float, str]:
    """The number of a row in mm or degrees, and its text; refuses a row that has none."""
    text = rows.get(name, "")
    found = _AMOUNT.fullmatch(text.strip().replace("\N{MINUS SIGN}", "-"))
    if found is None:
        raise Refusal("figure", f"{name}: {text!r} is no number for this figure", f"{name}: 1.5 mm")
    number = float(found[1])
    return (number * 25.4 if found[2] == "in" else number), text.strip()


def numbered(rows: Mapping[str, str], name: str) -> int:
    """How many rows there are of a name with a number behind it; refuses none."""
    count = sum(label.startswith(f"{name} ") for label in rows)
    if not count:
        raise Refusal("figure", f"no row '{name} 1' to draw", f"{name} 1: 0 mm")
    return count


def hand_of(rows: Mapping[str, str]) -> str:
    """PORT or STBD; refuses a figure that does not say."""
    hand = rows.get("of hand", "")
    if hand not in ("PORT", "STBD"):
        raise Refusal("figure", f"a figure of a hinge for hand {hand!r}", "PORT or STBD")
    return hand


def places(rows: Mapping[str, str], name: str) -> list[tuple[float, float]]:
    """The places of a row in mm, such as "0.0 0.0; 10.0 4.0"; refuses what is none."""
    plain = rows.get(name, "").replace("\N{MINUS SIGN}", "-")
    try:
        read = [tuple(float(each) for each in pair.split()) for pair in plain.split(";")]
        return [(one, other) for one, other in read]
    except ValueError:
        wrong = f"{name}: {plain[:40]!r} are no places"
        raise Refusal("figure", wrong, f"{name}: 0.0 0.0; 10.0 4.0") from None
