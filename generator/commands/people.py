"""A stamp and a day as typed, in; the same where that person may do it then, else a refusal."""

from __future__ import annotations

from datetime import date, timedelta

from generator.findings import Refusal
from generator.process import Workshop
from generator.signs import in_plain_signs

_AHEAD = timedelta(days=366)  # a rest of a year beyond the last check; more is a mistyped year


def may(shop: Workshop, stamp: str, day: date, *roles: str, trade: str = "") -> str:
    """The stamp. Refusal where nobody held it on that day, or not as one of the roles, if any, or
    not for the trade, if any; or where the day is far ahead of all that the workshop knows."""
    _not_far_ahead(shop, day)
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


def _not_far_ahead(shop: Workshop, day: date) -> None:
    """Refusal of a day more than a year after the last check of all instruments is due: recorded,
    it would keep every act of the true day out, as acts stand in the order of their days. No clock
    is asked, since one that stands wrong would keep out what is right."""
    last = max((each.check_due for each in shop.instruments), default=None)
    if last is None or day - last <= _AHEAD:
        return
    wrong = (
        f"{day.isoformat()} is far ahead: the last check of any instrument is due "
        f"{last.isoformat()}, more than a year before"
    )
    right = "the day of the act, its year too; or instruments.yaml with its next checks"
    raise Refusal("date", wrong, right)


def because(why: str, word: str = "--why") -> str:
    """The reason. Refusal where it is empty: what nobody explains, nobody understands later."""
    if not why.strip() or "\n" in why:
        raise Refusal(
            "misuse", "the reason is empty or longer than a line", f"{word}, in a sentence"
        )
    if not any(sign.isalnum() for sign in why):
        raise Refusal("misuse", f"'{why.strip()}' says nothing", f"{word}, in a sentence")
    return in_plain_signs(why.strip(), word)
