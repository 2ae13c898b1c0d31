"""A word that a person wrote in a box, in; the number, day or time of day that it is, out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from generator.quantities.text import WHOLE
from generator.signs import is_whole

_DAY = 24 * 60
TO = r"\s*(?:to|-|\N{EN DASH})\s*"  # between the two ends of a range that somebody wrote


@dataclass(frozen=True)
class Moment:
    """A time in minutes from midnight, and its day where that is known."""

    minutes: int
    day: date | None

    def __str__(self) -> str:
        time = f"{self.minutes // 60:02}:{self.minutes % 60:02}"
        return f"{self.day.isoformat()} {time}" if self.day else time

    def until(self, later: Moment) -> int | None:
        """The minutes to another time; None where only one of them has a day."""
        if (self.day is None) != (later.day is None):
            return None
        days = (later.day - self.day).days if later.day and self.day else 0
        return days * _DAY + later.minutes - self.minutes


def number_in(text: str) -> float | None:
    """The number that a person wrote; None where it is none, or has more digits before its point
    than any quantity: a machine works with no such number."""
    plain = text.replace("\N{MINUS SIGN}", "-").strip()
    whole, _, places = plain.lstrip("+-").partition(".")
    if not is_whole(whole + places) or len(whole.lstrip("0")) > WHOLE:
        return None
    try:
        return float(plain)
    except ValueError:  # two signs
        return None


def is_clock(text: str) -> bool:
    """Whether a person wrote a time of day."""
    hours, colon, minutes = text.partition(":")
    told = bool(colon) and is_whole(hours) and is_whole(minutes)
    told = told and len(hours) <= 2 and len(minutes) == 2
    return told and int(hours) < 24 and int(minutes) < 60


def minutes_of(text: str) -> int | None:
    """The minutes from midnight of a time of day that a person wrote; None where it is none."""
    hours, _, minutes = text.partition(":")
    return int(hours) * 60 + int(minutes) if is_clock(text) else None


def day_of(text: str) -> date | None:
    """The day that a person wrote, as 26 NOV 2026 or 2026-11-26; None where it is none."""
    for form in ("%d %b %Y", "%Y-%m-%d") if text.isascii() else ():  # %d takes any digits
        try:
            return datetime.strptime(text, form).date()
        except ValueError:
            continue
    return None


def days_later(day: date, days: int) -> date | None:
    """The day that is so many days behind another; None where no calendar has it."""
    try:
        return day + timedelta(days=days)
    except OverflowError:
        return None
