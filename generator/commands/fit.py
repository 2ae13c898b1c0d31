"""`fit`: from which day on a part sits in which place of the airframe, and until when."""

from __future__ import annotations

from argparse import Namespace
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.acting import acted, open_traveller, shop_of
from generator.commands.people import because, may
from generator.findings import Refusal

if TYPE_CHECKING:
    from generator.record import Traveller


def fit(asked: Namespace) -> int:
    """0 with the part recorded as fitted, or as taken off."""
    shop = shop_of(asked)
    may(shop, asked.stamp, read_day(asked.on))
    history = open_traveller(asked, asked.serial, ("closed",))
    if history.status != "closed":
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
        own = {"part serial": part, "position": sits, "removed": "yes", "why": why}
        return acted(asked, shop, history, "fit", own)
    if sits:
        raise Refusal("record", f"part {part} sits at {sits}", "--removed, first")
    frame, position = _place(history)
    own = {
        "part": str(history.facts["part"]),
        "part serial": part,
        "airframe": asked.airframe or frame,
        "position": asked.position or position,
    }
    return acted(asked, shop, history, "fit", own)


def fitted(history: Traveller, part: str) -> str:
    """Where a part of the traveller sits; "" for nowhere."""
    acts = [a for a in history.of_kind("fit") if a.tree.get("part serial") == part]
    if not acts or acts[-1].tree.get("removed"):
        return ""
    return str(acts[-1].tree.get("position", ""))


def _place(history: Traveller) -> tuple[str, str]:
    """The airframe and the position that the process names."""
    from generator.record import tree_of

    tree = tree_of(history.folder / "output/issued" / history.serial / "process.yaml")
    return str(tree["airframe"]), str(tree["part"].get("position", ""))
