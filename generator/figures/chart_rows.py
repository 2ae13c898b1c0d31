"""The rows of a chart as the sheet gives them, in; its curves, limits and words, out."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from generator.findings import Refusal

MOST_CURVES, MOST_POINTS = 5, 24
NUMBER = re.compile(r"[+\N{MINUS SIGN}-]?\d+(\.\d+)?")
_LIMIT = re.compile(rf"(above|below) ({NUMBER.pattern})(?: for (.+))?")
_KNOWN = ("across", "up", "curves", "nominal", "no-go")
VERDICTS = ("GO", "NO-GO")


@dataclass(frozen=True)
class Limit:
    """A limit of the answers: side is above or below, where it is NO-GO; text as printed."""

    side: str
    text: str
    of: str

    @property
    def value(self) -> Decimal:
        return number(self.text)

    @property
    def words(self) -> str:
        return f"{self.of}: NO-GO {self.side} {self.text}".removeprefix(": ")


@dataclass(frozen=True)
class Told:
    """What is plotted: entries rising, with the answers of each curve below each other.

    nominal: the number of the entry that is framed, or None. verdicts: GO or NO-GO for each
    entry, or none at all.
    """

    across: str
    up: str
    entries: tuple[Decimal, ...]
    curves: tuple[tuple[Decimal, ...], ...]
    names: tuple[str, ...]
    nominal: int | None
    limits: tuple[Limit, ...]
    verdicts: tuple[str, ...]
    finest: Decimal  # one in the last printed place of the answers

    @property
    def values(self) -> tuple[Decimal, ...]:
        """Everything that the axis upward must show."""
        return (*(y for curve in self.curves for y in curve), *(each.value for each in self.limits))


def number(text: str) -> Decimal:
    """A printed number, with a true minus or a hyphen; refuses any other text."""
    if NUMBER.fullmatch(text.strip()) is None:
        raise Refusal("figure", f"{text.strip()!r} is no number for a chart", "such as 56.7")
    return Decimal(text.strip().replace("\N{MINUS SIGN}", "-"))


def told(rows: Mapping[str, str]) -> Told:
    """What the rows say; refuses what cannot be plotted."""
    points = _points(rows)
    entries = sorted(points)
    cells = [points[x] for x in entries]
    names = tuple(filter(None, (each.strip() for each in rows.get("curves", "").split(";"))))
    _square(cells, names)
    return Told(
        rows["across"],
        rows["up"],
        tuple(entries),
        tuple(tuple(number(row[k]) for row in cells) for k in range(len(cells[0]))),
        names,
        entries.index(number(rows["nominal"])) if "nominal" in rows else None,
        tuple(_limit(text) for text in filter(None, rows.get("no-go", "").split(";"))),
        _verdicts(rows, entries),
        min(Decimal(1).scaleb(int(number(y).as_tuple().exponent)) for row in cells for y in row),
    )


def _points(rows: Mapping[str, str]) -> dict[Decimal, list[str]]:
    for needed in ("across", "up"):
        if not rows.get(needed, "").strip():
            raise Refusal("figure", f"the chart has no row {needed!r}", "across, up, at ...")
    found: dict[Decimal, list[str]] = {}
    for label, value in rows.items():
        kind, _, at = label.partition(" ")
        if kind == "at":
            found[number(at)] = value.split(";")
        elif label not in _KNOWN and kind != "verdict":
            raise Refusal("figure", f"the chart has a row {label!r}", ", ".join(_KNOWN))
    if not 2 <= len(found) <= MOST_POINTS:
        wrong = f"a chart of {len(found)} point{'' if len(found) == 1 else 's'}"
        raise Refusal("figure", wrong, f"2 to {MOST_POINTS} points")
    if "nominal" in rows and number(rows["nominal"]) not in found:
        raise Refusal("figure", f"no point at the nominal {rows['nominal']}", "one of its points")
    return found


def _square(cells: list[list[str]], names: tuple[str, ...]) -> None:
    """As many answers at every point as there are curves, each named where there are several."""
    counts = {len(row) for row in cells}
    wanted = len(names) or 1
    if counts != {wanted}:
        raise Refusal("figure", f"{wanted} curves, and points of {sorted(counts)} answers", "")
    if wanted > MOST_CURVES:
        raise Refusal("figure", f"a chart of {wanted} curves", f"at most {MOST_CURVES}")


def _limit(text: str) -> Limit:
    found = _LIMIT.fullmatch(text.strip())
    if found is None:
        raise Refusal("figure", f"{text.strip()!r} is no limit of a chart", "such as above 27.0")
    return Limit(found[1], found[2], found[4] or "")


def _verdicts(rows: Mapping[str, str], entries: list[Decimal]) -> tuple[str, ...]:
    found = {number(k.partition(" ")[2]): v for k, v in rows.items() if k.startswith("verdict ")}
    if not found:
        return ()
    said = tuple(found.get(x, "").split(" ")[0] for x in entries)
    if strange := [word for word in said if word not in VERDICTS]:
        wrong = f"a verdict that begins with {strange[0]!r}"
        raise Refusal("figure", wrong, " or ".join(VERDICTS))
    return said
