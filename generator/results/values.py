"""A word that a person wrote in a box, in; the number, day or time of day that it is, out."""

from __future__ import annotations

from datetime import date, datetime

from generator.signs import is_whole


def number_in(text: str) -> float | None:
    """The number that a person wrote; None where it is none."""
    plain = text.replace("\N{MINUS SIGN}", "-").strip()
    try:
        return float(plain) if is_whole(plain.replace(".", "", 1).lstrip("+-")) else None
    except ValueError:
        return None


def is_clock(text: str) -> bool:
    """Whether a person wrote a time of day."""
    hours, colon, minutes = text.partition(":")
    told = bool(colon) and is_whole(hours) and is_whole(minutes)
    told = told and len(hours) <= 2 and len(minutes) == 2
    return told and int(hours) < 24 and int(minutes) < 60


def day_of(text: str) -> date | None:
    """The day that a person wrote, as 26 NOV 2026 or 2026-11-26; None where it is none."""
    for form in ("%d %b %Y", "%Y-%m-%d") if text.isascii() else ():  # %d takes any digits
        try:
            return datetime.strptime(text, form).date()
        except ValueError:
            continue
    return None
