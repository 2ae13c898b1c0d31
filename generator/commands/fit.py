"""`fit`: from which day on a part sits in which place of the airframe, and until when."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.acting import acted, in_use, not_gone, open_traveller, settled, shop_of
from generator.commands.people import because, may
from generator.findings import Refusal

if TYPE_CHECKING:
    from generator.record import Traveller


def fit(asked: Namespace) -> int:
    """0 with the part recorded as fitted, or as taken off."""
    from generator.record.fitted import airframe_of, fitted

    shop = shop_of(asked)
    may(shop, asked.stamp, read_day(asked.on))
    # What sits on the airframe comes off it, whatever became of its traveller.
    ended = ("closed", "withdrawn", "replaced") if asked.removed else ("closed",)
    history = open_traveller(asked, asked.serial, ended)
    if history.status == "open":
        wrong = f"{asked.serial} is open: its part is not accepted"
        raise Refusal("record", wrong, f"witnessmark close {asked.serial}, first")
    serials = list(history.facts["part serials"])
    part = asked.part or (serials[0] if len(serials) == 1 else "")
    if part not in serials:
        wrong = f"{asked.serial} made no part '{part}'"
        raise Refusal("misuse", wrong, "--part, one of: " + ", ".join(serials))
    sits = fitted(history, part)
    if asked.removed:
        if not sits:
            raise Refusal("record", f"part {part} is not fitted", "without --removed")
        why = because(asked.what or "", "--what")
        own = {"part serial": part, "airframe": airframe_of(history, part), "position": sits,
               "removed": "yes", "why": why}  # fmt: skip
        return acted(asked, shop, history, "fit", own)
    in_use(history)
    not_gone(history)
    settled(history)
    if sits:
        raise Refusal("record", f"part {part} sits at {sits}", "--removed, first")
    frame, position = _place(history)
    own = {
        "part": str(history.facts["part"]),
        "part serial": part,
        "airframe": asked.airframe or frame,
        "position": asked.position or position,
    }
    _is_free(history, own)
    return acted(asked, shop, history, "fit", own)


def _is_free(history: Traveller, own: Mapping[str, str]) -> None:
    """Refusal where another part of the same number sits in that place. Parts that are made in a
    set may share the name of one."""
    from generator.record.fitted import airframe_of, fitted
    from generator.record.processes import issued_of
    from generator.record.sound import judged

    if len(history.facts["part serials"]) > 1:
        return
    listed = issued_of(history.folder, str(history.facts["process"]))
    others = judged(history.folder, [each.serial for each in listed])
    for each, other in zip(listed, others, strict=True):
        for serial in each.part_serials:
            if (
                fitted(other, serial) == own["position"]
                and airframe_of(other, serial) == own["airframe"]
            ):
                wrong = f"part {serial} of {each.serial} sits at {own['position']}"
                right = f"witnessmark fit {each.serial} --removed, first"
                raise Refusal("record", wrong, right)


def _place(history: Traveller) -> tuple[str, str]:
    """The airframe and the position that the process names."""
    from generator.record import tree_of

    tree = tree_of(history.folder / "output/issued" / history.serial / "process.yaml")
    return str(tree["airframe"]), str(tree["part"].get("position", ""))
