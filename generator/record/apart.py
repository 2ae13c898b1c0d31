"""The acts on a traveller, in; those that two desks wrote without knowing of each other and that
cannot both hold, out. No merge of git sees it: each is a file of its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from typing import Any

from generator.record.history import Recorded

_ENDS = ("close", "withdraw", "replace")
# What stands once: its kind, what it is on, and what was decided.
_ONCE = (
    ("dispose", "slip", "decision"), ("concession", "slip", "covers"),
    ("decide", "revision", "decision"), ("fit", "part serial", "position"),
)  # fmt: skip
_BESIDE = ("attach", "fit")  # what may come after an end as well


def at_odds(acts: Sequence[Recorded]) -> Iterator[tuple[Recorded, Recorded, str]]:
    """Two acts that were written apart, and what of them cannot both hold, as long as no later act
    that knows both has settled it."""
    known = {act.path: behind(act, acts) for act in acts}
    for one, other in combinations(acts, 2):
        if one.after is None or other.after is None:
            continue
        if one.path in known[other.path] or other.path in known[one.path]:
            continue
        later = [act for act in acts if {one.path, other.path} <= known[act.path]]
        if wrong := _odds(one, other, later):
            yield one, other, wrong


def behind(act: Recorded, acts: Sequence[Recorded]) -> set[str]:
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
        ended, beside = (one, other) if one.kind in _ENDS else (other, one)
        if ended.kind == "close" and _decided(beside, later):
            return ""
        return f"{ended.kind} was recorded without knowing of the other"
    if kinds == {"result"}:
        return _two_words(one, other, later)
    if kinds == {"result", "dispose"}:
        rework = one if one.kind == "dispose" else other
        if rework.tree.get("rework") and not any(
            e.tree.get("rework") or e.kind == "result" for e in later
        ):
            return "rework was decided without knowing of these results"
    if kinds == {"dispose"} and (words := _same_again(one, other, later)):
        return words
    if kinds == {"result", "decide"} and (words := _gone_over(one, other)):
        return words
    for kind, key, decided in _ONCE:
        if kinds == {kind} and one.tree.get(key) == other.tree.get(key):
            same = one.tree.get(decided) == other.tree.get(decided)
            reworked = any(act.tree.get("rework") for act in (one, other))
            # A sheet of a rework lies on the bench: another word alone takes it away from nobody.
            again = [e for e in later if e.kind == kind and e.tree.get(key) == one.tree.get(key)]
            if reworked or not (same or again):
                return f"two of '{kind}' on {one.tree.get(key)}"
    return ""


def two_words(acts: Sequence[Recorded], kind: str, slip: str) -> bool:
    """Whether two desks said otherwise of a slip, by acts of this kind that one more may settle."""
    return any(
        one.kind == other.kind == kind
        and one.tree.get("slip") == other.tree.get("slip") == slip
        and not (one.tree.get("rework") or other.tree.get("rework"))
        for one, other, _ in at_odds(acts)
    )


def _decided(slip: Recorded, later: Sequence[Recorded]) -> bool:
    """Whether an act is a slip on which somebody decided who knew of the close: from there on it is
    as any slip that was raised on a closed traveller."""
    number = slip.tree.get("slip") if slip.kind == "slip" else None
    return any(e.kind == "dispose" and e.tree.get("slip") == number for e in later if number)


def again_on(act: Recorded) -> tuple[str, ...]:
    """The operations that a rework has done again, and those that are void behind them."""
    keys = ("operations", "void") if act.tree.get("rework") else ()
    return tuple(str(number) for key in keys for number in act.tree.get(key, ()))


def _same_again(one: Recorded, other: Recorded, later: Sequence[Recorded]) -> str:
    """Whether two rework sheets have an operation of which neither says that the other's is void,
    until a third has it."""
    if one.tree.get("slip") == other.tree.get("slip"):
        return ""
    both = [n for n in again_on(one) if n in again_on(other)]
    left = [n for n in both if not any(n in again_on(act) for act in later)]
    sheets = f"{one.tree.get('rework')} and {other.tree.get('rework')}"
    return f"operation {left[0]} is done again on {sheets}" if left else ""


def _gone_over(one: Recorded, other: Recorded) -> str:
    """Whether operations were entered that went over to a newer revision meanwhile."""
    result, adopt = (one, other) if one.kind == "result" else (other, one)
    numbers = {*adopt.tree.get("operations", ())}
    entered = {at[1] for at, _ in _words(result.tree.get("boxes"))}
    hit = sorted(numbers & entered)
    if hit and not result.tree.get("supplement"):
        return f"operation {hit[0]} is entered, and went over to {adopt.tree.get('revision')}"
    return ""


def _two_words(one: Recorded, other: Recorded, later: Sequence[Recorded]) -> str:
    if one.tree.get("supplement") != other.tree.get("supplement"):
        return ""
    first, second = (dict(_words(act.tree.get("boxes"))) for act in (one, other))
    settled = {at for act in later if act.kind == "result" for at, _ in _words(act.tree["boxes"])}
    for at in first:
        if at in second and at not in settled and _differ(first[at], second[at]):
            return f"{', '.join(at)}: {first[at]} and {second[at]}"
    return ""


def _words(boxes: Any) -> Iterator[tuple[tuple[str, ...], Any]]:
    """What was entered in every row, by sheet, operation and row; blank rows are left out."""
    for sheet, operations in dict(boxes or {}).items():
        for operation, rows in dict(operations or {}).items():
            for row, value in dict(rows or {}).items():
                if any(each not in (None, "", "none") for each in _leaves(value)):
                    yield (str(sheet), str(operation), str(row)), value


def _differ(one: Any, other: Any) -> bool:
    """Whether two writings of a row say something else of one box; a blank says nothing."""
    if isinstance(one, Mapping) and isinstance(other, Mapping) and "not" not in {*one, *other}:
        shared = ((one[name], other[name]) for name in one if name in other)
        return any(a != b for a, b in shared if a and b)
    return [*filter(None, _leaves(one))] != [*filter(None, _leaves(other))]


def _leaves(value: Any) -> Iterator[Any]:
    if isinstance(value, Mapping):
        value = list(value.values())
    if isinstance(value, list):
        for each in value:
            yield from _leaves(each)
    else:
        yield value
