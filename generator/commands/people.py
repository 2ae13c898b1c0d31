"""A stamp and a day as typed, in; the same where that person may do it then, else a refusal."""

from __future__ import annotations

from datetime import date

from generator.findings import Refusal
from generator.process import Workshop
from generator.signs import in_plain_signs


def may(shop: Workshop, stamp: str, day: date, *roles: str, trade: str = "") -> str:
    """The stamp. Refusal where nobody held it on that day, or not as one of the roles, if any, or
    not for the trade, if any."""
    held = [each for each in shop.stamps if each.stamp == stamp and each.holds_on(day)]
    if not held:
        wrong = f"nobody held the stamp {stamp} on {day.isoformat()}"
        raise Refusal("stamp", wrong, "a stamp of stamps.yaml that holds on that day")
    if roles and held[0].role not in roles:
        wrong = f"{stamp} is of class {held[0].role}"
        raise Refusal("stamp", wrong, "the stamp of one of: " + ", ".join(roles))
    if trade and not held[0].holds_for(trade):
        wrong = f"{stamp} does not hold for {trade}"
        raise Refusal("stamp", wrong, "a stamp that holds for that trade, or for all")
    return stamp


def because(why: str, word: str = "--why") -> str:
    """The reason. Refusal where it is empty: what nobody explains, nobody understands later."""
    if not why.strip() or "\n" in why:
        raise Refusal(
            "misuse", "the reason is empty or longer than a line", f"{word}, in a sentence"
        )
    return in_plain_signs(why.strip(), word)
