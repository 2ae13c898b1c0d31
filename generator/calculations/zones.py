"""A nominal size, a letter and a grade in; the tolerance zone of ISO 286-1 as two deviations, out.

No calculation stands here: the fits ask. Sizes go in and deviations come out as numbers of
millimetres; the table holds micrometres.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from typing import Any

from generator.findings import Refusal
from generator.quantities.rounding import plain
from generator.tables import table

GRADES = ("IT01", "IT0", *(f"IT{n}" for n in range(1, 19)))
SHAFTS = (
    "a", "b", "c", "cd", "d", "e", "ef", "f", "fg", "g", "h", "js", "j", "k", "m", "n", "p", "r",
    "s", "t", "u", "v", "x", "y", "z", "za", "zb", "zc",
)  # fmt: skip
HOLES = tuple(letter.upper() for letter in SHAFTS)
MICRO = 1e-3
CLOSE = 1 + 1e-9  # 30.000 mm belongs to the band that ends with 30


@dataclass(frozen=True)
class Zone:
    """Where a size may lie: deviations from the nominal size, in mm, and the band's words."""

    lower: float
    upper: float
    band: str

    @property
    def width(self) -> float:
        return self.upper - self.lower


def _place(size: float, ends: list[str]) -> int:
    """The place of the band that is over the end before and up to its own."""
    return bisect_left([float(end) * CLOSE for end in ends], size)


def band(size: float) -> str:
    """The band of a nominal size, in words."""
    ends: list[str] = table("limits_and_fits")["bands"]
    place = _place(size, ends)
    return f"over {ends[place - 1] if place else 0} up to {ends[place]} mm"


def tolerance(size: float, grade: str) -> float:
    """The width of a standard tolerance."""
    rows: dict[str, Any] = table("limits_and_fits")["tolerances"]
    if size <= CLOSE and GRADES.index(grade) >= GRADES.index("IT14"):
        raise _none(f"{grade} is not given up to 1 mm", "IT13 or finer")
    return float(rows[grade][_place(size, rows["bands"])]) * MICRO


def _none(wrong: str, right: str) -> Refusal:
    return Refusal("range", f"ISO 286-1: {wrong}", right)


def _deviation(size: float, group: str, column: str) -> float:
    """A cell of the table, or a refusal that names the letters that there are at this size."""
    whole = table("limits_and_fits")
    place = _place(size, whole["bands"])
    cell: str = whole[group][column][place]
    if cell == "-":
        there = [name for name, cells in whole[group].items() if cells[place] != "-"]
        wrong = f"'{column}' has no deviation at {plain(size, 6)} mm"
        raise _none(wrong, f"one of: {', '.join(there)}")
    return float(cell) * MICRO


def _old_small(letter: str, size: float) -> None:
    if letter in ("a", "b", "A", "B") and size <= CLOSE:
        raise _none(f"'{letter}' is not given up to 1 mm", "another letter, such as c or C")


def _must_be_grade(letter: str, grade: str, there: tuple[str, ...]) -> None:
    if grade not in there:
        raise _none(f"'{letter}' is not given in grade {grade}", f"one of: {', '.join(there)}")


def shaft_zone(size: float, letter: str, grade: str) -> Zone:
    """The tolerance zone of a shaft."""
    wide, words = tolerance(size, grade), band(size)
    _old_small(letter, size)
    if letter == "js":
        return Zone(-wide / 2, wide / 2, words)
    if letter == "j":
        _must_be_grade("j", grade, ("IT5", "IT6", "IT7", "IT8"))
        lower = -_deviation(size, "j", grade)
    elif letter in table("limits_and_fits")["below"]:
        return Zone(-_deviation(size, "below", letter) - wide, -_deviation(size, "below", letter),
                    words)  # fmt: skip
    elif letter == "k" and grade not in ("IT4", "IT5", "IT6", "IT7"):
        lower = 0.0
    else:
        lower = _deviation(size, "above", letter)
    return Zone(lower, lower + wide, words)


def _finer(grade: str, letter: str, size: float) -> float:
    """Δ: the tolerance less that of the next finer grade; the standard gives it from IT3."""
    if GRADES.index(grade) < GRADES.index("IT3"):
        raise _none(f"'{letter}' is not given in grade {grade} over 3 mm", "IT3 or coarser")
    finer = GRADES[GRADES.index(grade) - 1]
    return tolerance(size, grade) - tolerance(size, finer)


def _upper_of_tight_hole(size: float, letter: str, grade: str) -> float:
    """ES of K to ZC: minus the shaft's deviation, and Δ in the finer grades over 3 mm."""
    if letter == "N" and GRADES.index(grade) > GRADES.index("IT8"):
        if size <= CLOSE:
            raise _none(f"'N' is not given in grade {grade} up to 1 mm", "IT8 or finer")
        return -_deviation(size, "above", "n") if size <= 3 * CLOSE else 0.0
    up_to = "IT8" if letter in ("K", "M", "N") else "IT7"
    fine = GRADES.index(grade) <= GRADES.index(up_to)
    if letter == "K" and not fine and size > 3 * CLOSE:
        raise _none(f"'K' is not given in grade {grade} over 3 mm", "IT8 or finer")
    upper = -_deviation(size, "above", letter.lower())
    if letter == "M" and grade == "IT6" and band(size) in ODD_M6:
        return -9 * MICRO
    return upper + _finer(grade, letter, size) if fine and size > 3 * CLOSE else upper


ODD_M6 = ("over 250 up to 280 mm", "over 280 up to 315 mm")  # footnote: −9 in place of −11


def hole_zone(size: float, letter: str, grade: str) -> Zone:
    """The tolerance zone of a hole."""
    wide, words = tolerance(size, grade), band(size)
    _old_small(letter, size)
    if letter == "JS":
        return Zone(-wide / 2, wide / 2, words)
    if letter.lower() in table("limits_and_fits")["below"]:
        lower = _deviation(size, "below", letter.lower())
        return Zone(lower, lower + wide, words)
    if letter == "J":
        _must_be_grade("J", grade, ("IT6", "IT7", "IT8"))
        upper = _deviation(size, "J", grade)
    else:
        upper = _upper_of_tight_hole(size, letter, grade)
    return Zone(upper - wide, upper, words)
