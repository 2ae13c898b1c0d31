"""The acts on a traveller, in; those that two desks wrote without knowing of each other and that
cannot both hold, out. No merge of git sees it: each is a file of its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from typing import Any

from generator.record.history import Recorded

_ENDS = ("close", "withdraw", "replace")
_BESIDE = ("attach", "fit")  # what may come after an end as well


def at_odds(acts: Sequence[Recorded]) -> Iterator[tuple[Recorded, Recorded, str]]:
    """Two acts that were written apart, and what of them cannot both hold, as long as no later act
    that knows both has settled it."""
    known = {act.path: _behind(act, acts) for act in acts}
    for one, other in combinations(acts, 2):
        if one.after is None or other.after is None:
            continue
        if one.path in known[other.path] or other.path in known[one.path]:
            continue
        later = [act for act in acts if {one.path, other.path} <= known[act.path]]
        if wrong := _odds(one, other, later):
            yield one, other, wrong


def _behind(act: Recorded, acts: Sequence[Recorded]) -> set[str]:
    """All acts that were there when one was written."""
    trees = {each.path: each.after or () for each in acts}
    found: set[str] = set()
    waiting = list(act.after or ())
    while waiting:
        path = waiting.pop()
        if path not in found:
            found.add(path)
            waiting += trees.get(path, ())
    return found


def _odds(one: Recorded, other: Recorded, later: Sequence[Recorded]) -> str:
    """What of two acts cannot both hold; "" for nothing, or where a later act settled it."""
    kinds = {one.kind, other.kind}
    if any(each.kind == "withdraw" for each in later):
        return ""
    if kinds & {*_ENDS} and not kinds & {*_BESIDE}:
        ended = one if one.kind in _ENDS else other
        return f"{ended.kind} was recorded without knowing of the other"
    if kinds == {"result"}:
        return _two_words(one, other, later)
    if kinds == {"result", "dispose"}:
        rework = one if one.kind == "dispose" else other
        if rework.tree.get("rework") and not any(e.tree.get("rework") for e in later):
            return "rework was decided without knowing of these results"
    for kind, key in (("dispose", "slip"), ("concession", "slip"), ("decide", "revision")):
        if kinds == {kind} and one.tree.get(key) == other.tree.get(key):
            return f"two of '{kind}' on {one.tree.get(key)}"
    return ""


def _two_words(one: Recorded, other: Recorded, later: Sequence[Recorded]) -> str:
    if one.tree.get("supplement") != other.tree.get("supplement"):
        return ""
    first, second = (dict(_words(act.tree.get("boxes"))) for act in (one, other))
    settled = {at for act in later if act.kind == "result" for at, _ in _words(act.tree["boxes"])}
    for at in first:
        if at in second and first[at] != second[at] and at not in settled:
            return f"{', '.join(at)}: {first[at]} and {second[at]}"
    return ""


def _words(boxes: Any, at: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], str]]:
    """Every word that was entered, by where it stands."""
    if isinstance(boxes, Mapping):
        for key, value in boxes.items():
            yield from _words(value, (*at, str(key)))
    elif isinstance(boxes, list):
        for i, value in enumerate(boxes, start=1):
            yield from _words(value, (*at, str(i)))
    elif boxes not in (None, "", "none"):
        yield at, str(boxes)
