"""A traveller, in; where its parts sit on an airframe, out."""

from __future__ import annotations

from generator.record.history import Recorded, Traveller


def fitted(history: Traveller, part: str) -> str:
    """Where a part of the traveller sits; "" for nowhere."""
    act = _last(history, part)
    return "" if act is None or act.tree.get("removed") else str(act.tree.get("position", ""))


def airframe_of(history: Traveller, part: str) -> str:
    """The airframe on which a part sits, or sat last."""
    act = _last(history, part)
    return "" if act is None else str(act.tree.get("airframe", ""))


def _last(history: Traveller, part: str) -> Recorded | None:
    acts = [a for a in history.of_kind("fit") if a.tree.get("part serial") == part]
    return acts[-1] if acts else None
