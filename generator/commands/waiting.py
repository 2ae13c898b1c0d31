"""A traveller and a slip on it, in; what the slip waits for and what would be right, out: the one
place that says so for closing, for fitting, for the list of open work and for a dossier."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from generator.record import Traveller
    from generator.record.slips import Slip


def waits_for(history: Traveller, slip: Slip) -> tuple[str, str] | None:
    """What a slip waits for, and the way on; None where nothing but its rework is left of it."""
    from generator.record.slips import GONE

    if slip.decided is None:
        return f"nobody decided on: {slip.says}", f"witnessmark dispose {slip.number}"
    if slip.decision == "use" and slip.concession is None:
        wrong = "to be used as it is, without a concession"
        return wrong, f"witnessmark concede {slip.number}"
    if slip.decision in GONE and (way := _way_out(history, slip)):
        return f"the part goes: {slip.decision}", way
    return None


def _way_out(history: Traveller, slip: Slip) -> str:
    """What is left to do with a part that goes; "" where it is off the floor and the airframe. One
    of a set that is closed goes alone: the others stay."""
    for part, sits in parts_on(history):
        if slip.part in ("", part):
            return f"witnessmark fit {history.serial} --part {part} --removed: it sits at {sits}"
    alone = bool(slip.part) and len(history.facts["part serials"]) > 1
    if history.status == "open" or (history.status == "closed" and not alone):
        return f"witnessmark withdraw {history.serial}, and a new traveller for the next part"
    return ""


def waiting(history: Traveller) -> Iterator[str]:
    """A line for each thing of a traveller that waits for somebody: its slips, and a part that sits
    on an airframe though its traveller is withdrawn, as two desks may have it."""
    from generator.record.slips import slips_of

    for slip in slips_of(history):
        if found := waits_for(history, slip):
            yield f"{slip.number}, operation {slip.operation}, {found[0]}; {found[1]}"
    for part, place in parts_on(history) if history.status not in ("open", "closed") else ():
        yield (
            f"part {part} sits at {place} though it is {history.status}; "
            f"witnessmark fit {history.serial} --part {part} --removed"
        )


def parts_on(history: Traveller) -> Iterator[tuple[str, str]]:
    """The parts of a traveller that sit on an airframe, each with its place."""
    from generator.record.fitted import fitted

    for part in history.facts["part serials"]:
        if place := fitted(history, part):
            yield part, place


def state_of(history: Traveller) -> str:
    """closed, withdrawn and the like, and where the parts sit."""
    sits = ", ".join(f"part {part} sits at {place}" for part, place in parts_on(history))
    return f"{history.status}; {sits}" if sits else history.status
