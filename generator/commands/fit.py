"""`fit`: from which day on a part sits in which place of the airframe, and until when."""

from __future__ import annotations

import re
from argparse import Namespace
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.acting import acted, in_use, not_gone, open_traveller, settled, shop_of
from generator.commands.allowing import meant_for
from generator.commands.people import because, may
from generator.commands.told import done_before, say
from generator.findings import Refusal

_SIDES = {
    "PORT": {"port", "left", "p", "lh"},
    "STBD": {"stbd", "starboard", "right", "s", "rh"},
}
_WORD = re.compile(r"(?<![\w'\N{RIGHT SINGLE QUOTATION MARK}])(?:([lr])[/.]h|[a-z]+)\b")

if TYPE_CHECKING:
    from generator.process import Workshop
    from generator.record import Traveller


def fit(asked: Namespace) -> int:
    """0 with the part recorded as fitted, or as taken off."""
    from generator.record.fitted import fitted

    shop = shop_of(asked)
    may(shop, asked.stamp, read_day(asked.on))
    # What sits on the airframe comes off it, whatever became of its traveller.
    ended = ("closed", "withdrawn", "replaced") if asked.removed else ("closed",)
    history = open_traveller(asked, asked.serial, ended)
    if history.status == "open":
        not_gone(history)  # a close would be refused
        wrong = f"{asked.serial} is open: its part is not accepted"
        raise Refusal("record", wrong, f"witnessmark close {asked.serial}, first")
    serials = list(history.facts["part serials"])
    part = asked.part or (serials[0] if len(serials) == 1 else "")
    if part not in serials:
        wrong = f"{asked.serial} made no part '{part}'"
        raise Refusal("misuse", wrong, "--part, one of: " + ", ".join(serials))
    sits = fitted(history, part)
    if asked.removed:
        return _taken_off(asked, shop, history, part, sits)
    return _put_on(asked, shop, history, part, sits)


def _put_on(asked: Namespace, shop: Workshop, history: Traveller, part: str, sits: str) -> int:
    """0 with the part recorded at its place, and all that is otherwise about that place told."""
    in_use(history)
    not_gone(history)
    settled(history)
    if sits:
        raise Refusal("record", f"part {part} sits at {sits}", "--removed, first")
    frame, position, hand = meant_for(history)
    own = {
        "part": str(history.facts["part"]),
        "part serial": part,
        "airframe": asked.airframe or frame,
        "position": asked.position or position,
    }
    _is_free(history, own)
    told = list(_other_place(shop, asked, own["position"], position, hand))
    if own["airframe"] != frame:
        told.append(f"airframe: {own['airframe']}, and the process says {frame}")
    code = acted(asked, shop, history, "fit", own)
    with done_before(lambda: f"part {part} is recorded as fitted"):
        for line in (*told, *_on_its_record(asked, shop)):
            say(line, asked)
    return code


def _taken_off(asked: Namespace, shop: Workshop, history: Traveller, part: str, sits: str) -> int:
    from generator.record.fitted import airframe_of

    if not sits:
        raise Refusal("record", f"part {part} is not fitted", "without --removed")
    why = because(asked.what or "", "--what")
    own = {"part serial": part, "airframe": airframe_of(history, part), "position": sits,
           "removed": "yes", "why": why}  # fmt: skip
    return acted(asked, shop, history, "fit", own)


def _other_place(
    shop: Workshop, asked: Namespace, place: str, wanted: str, hand: str
) -> Iterator[str]:
    """A place that is not the one of the process; a part that goes to the other side goes by the
    word of an inspector alone."""
    from generator.results.judge_fit import same_place

    if same_place(place, wanted):
        return
    if side := other_side(place, hand):
        says = f"the part is {hand}, and '{place}' is {side}"
        held = [each for each in shop.stamps if each.stamp == asked.stamp]
        if not any(each.role == "inspector" for each in held):
            right = "the place read off the airframe; or the stamp of an inspector"
            raise Refusal("fit", says, right)
        yield says
    yield f"position: {place}, and the process says {wanted or 'none'}"


def other_side(place: str, hand: str) -> str:
    """The side that a place names, where it is not that of the hand and names that nowhere; ""
    where it is, or where there is none."""
    told = _WORD.finditer(place.casefold())
    words = {f"{each[1]}h" if each[1] else each[0] for each in told}
    side = next((side for side, names in _SIDES.items() if side != hand and names & words), "")
    return side if hand in _SIDES and not _SIDES[hand] & words else ""


def _on_its_record(asked: Namespace, shop: Workshop) -> Iterator[str]:
    """What its fit record says otherwise, or that nobody has entered it."""
    from generator.commands.fit_record import on_fit_record
    from generator.record import traveller

    verdicts = on_fit_record(shop, traveller(asked.workshop, asked.serial), read_day(asked.on))
    if verdicts is None:
        how = f"witnessmark enter {asked.serial} --blank FILE"
        yield f"its fit record is not entered: serial, position and hand as they were read: {how}"
    else:
        yield from (f"{e.where}: {e.code}: {e.says}" for e in verdicts if e.code != "missing")


def _is_free(history: Traveller, own: Mapping[str, str]) -> None:
    """Refusal where another part of the same number sits in that place, or the part itself sits
    somewhere by another traveller. Parts that are made in a set may share the name of one place."""
    from generator.record.fitted import airframe_of, fitted
    from generator.record.processes import issued_of
    from generator.record.sound import judged

    alone = len(history.facts["part serials"]) == 1
    listed = issued_of(history.folder, str(history.facts["process"]))
    wanted = (own["position"], own["airframe"])
    others = judged(history.folder, [each.serial for each in listed])
    for each, other in zip(listed, others, strict=True):
        for serial in each.part_serials:
            place = fitted(other, serial)
            taken = alone and (place, airframe_of(other, serial)) == wanted
            if place and (taken or serial == own["part serial"]):
                wrong = f"part {serial} of {each.serial} sits at {place}"
                right = f"witnessmark fit {each.serial} --removed, first"
                raise Refusal("record", wrong, right)
