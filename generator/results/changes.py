"""The sheets of two revisions of a process as Markdown, in; what is not the same, operation by
operation, with what weighs most marked, out.

What is compared is what was printed, on every sheet: a number that changed through a table or a
formula shows as one that was typed anew. What a sheet only says again is told once.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher, ndiff

from generator.results.printed import ALERTS, REPEATS, Line, Places, is_about, places_of, repeats
from generator.signs import is_whole

_WEIGHS = ("limit", "stop", *ALERTS, "material")  # of two, the first is what is told
_PRINTED_ON = re.compile(r"\| (?:serial|part serial|fingerprint|printed|replaces|draft|Traveller"
                         r"|Serial|Print) \||Full fingerprint: ")  # fmt: skip


@dataclass(frozen=True)
class Change:
    """One thing that changed. operation: its number, "" for what belongs to the whole job.

    what: limit, stop, material, warning, caution, number, text, added or removed; old, new: as
    printed, "" where there is none; about: it says again what stands elsewhere, or who made the
    sheets.
    """

    operation: str
    what: str
    where: str
    old: str
    new: str
    about: bool = False

    @property
    def weighs(self) -> bool:
        """Whether an inspector must see it before paper on the floor is changed."""
        return self.what in (*_WEIGHS, "added", "removed")

    @property
    def place(self) -> str:
        """Where it stands, in words: of any sheet but the traveller, which one."""
        if not self.operation:
            return self.where
        beside = self.where != "traveller"
        return f"operation {self.operation}" + (f", {self.where}" if beside else "")


def changes(old: Mapping[str, str], new: Mapping[str, str]) -> tuple[Change, ...]:
    """All changes from one set of sheets to another, in the order of the new one's operations;
    never none where two prints differ in anything but what belongs to one print."""
    kinds = dict.fromkeys([*new, *old])
    before, after = (
        {kind: places_of(kind, sheets[kind]) if kind in sheets else {} for kind in kinds}
        for sheets in (old, new)
    )
    whole = _come_or_gone(before.get("traveller", {}), after.get("traveller", {}))
    own: list[Change] = []
    again: list[Change] = []
    for kind in kinds:
        for each, of in _between(kind, before[kind], after[kind], whole):
            if not repeats(kind, _heading(each)):
                own.append(each)
            elif each.operation not in whole and not _told(each, of, [*own, *again]):
                again.append(each)
    found = [*own, *again] or list(_as_it_stands(old, new))
    return tuple(sorted(found, key=lambda each: int(each.operation or 0)))


def changed_operations(found: Iterable[Change]) -> tuple[str, ...]:
    """The numbers of the operations that changed, in their order."""
    return tuple(dict.fromkeys(each.operation for each in found if each.operation))


def _heading(change: Change) -> str:
    return change.where.partition(": ")[2]


def _come_or_gone(before: Places, after: Places) -> set[str]:
    """The operations that only one of two travellers has."""
    return {place for place in {*before} ^ {*after} if is_whole(place)}


def _between(
    kind: str, before: Places, after: Places, whole: set[str]
) -> Iterator[tuple[Change, str]]:
    """What differs on a sheet, each with the reading that it is of."""
    for place in dict.fromkeys([*after, *before]):
        operation = place if is_whole(place) else ""
        sheet = kind.replace("-", " ")
        where = f"{sheet}: {place}" if place and not operation else sheet
        about = is_about(kind, place)
        if operation in whole and kind == "traveller":
            there = after.get(place) or before[place]
            yield from ((each, "") for each in _whole(operation, where, there, place in after))
            continue
        for was, now in _pairs(before.get(place, []), after.get(place, [])):
            old, new = _named(was, now), _named(now, was)
            change = Change(operation, _what(was, now), where, old, new, about)
            yield change, now.of or was.of


def _whole(operation: str, where: str, lines: Sequence[Line], added: bool) -> Iterator[Change]:
    """An operation that came or went, in its first words, and everything of it that weighs."""
    words = "; ".join(each.words for each in lines[:3])
    told = [("added" if added else "removed", words)]
    told += [(each.what, each.words) for each in lines if each.what in _WEIGHS]
    for what, each in told:
        yield Change(operation, what, where, "" if added else each, each if added else "")


_NOTHING = Line("", "")


def _pairs(old: Sequence[Line], new: Sequence[Line]) -> Iterator[tuple[Line, Line]]:
    """Lines that are not the same, old beside new where one took the place of the other."""
    for tag, a, b, c, d in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if tag == "equal":
            continue
        gone, come = old[a:b], new[c:d]
        for i in range(max(len(gone), len(come))):
            yield (
                gone[i] if i < len(gone) else _NOTHING,
                come[i] if i < len(come) else _NOTHING,
            )


def _what(was: Line, now: Line) -> str:
    kinds = (was.what, now.what)
    return next((each for each in _WEIGHS if each in kinds), now.what or was.what)


def _named(line: Line, other: Line) -> str:
    """The words of a line, which says whether it is a warning or a caution where it was or became
    the other one."""
    became = line.what != other.what and {line.what, other.what} == {*ALERTS}
    return f"{line.what}: {line.words}" if became else line.words


def _told(change: Change, of: str, before: Sequence[Change]) -> bool:
    """Whether what a sheet says again is told: another change of the same operation took away and
    put in the same words, and where it is of a reading, names that reading."""
    gone, come = _words(change.old), _words(change.new)
    return any(
        gone - come <= _words(each.old) - _words(each.new)
        and come - gone <= _words(each.new) - _words(each.old)
        and of in f"{each.old} {each.new}"
        for each in before
        if change.operation in ("", each.operation)
    )


def _words(text: str) -> Counter[str]:
    return Counter(each.strip(",.:;") for each in text.split())


def _as_it_stands(old: Mapping[str, str], new: Mapping[str, str]) -> Iterator[Change]:
    """Lines of two prints that differ in nothing that was looked at, such as in a mark alone."""
    for kind in dict.fromkeys([*new, *old]):
        before, after = (_bare(sheets.get(kind, "")) for sheets in (old, new))
        lines = ndiff(before, after) if before != after else ()
        where = f"{kind.replace('-', ' ')}: as it stands"
        for each in lines:
            if each[:2] in ("- ", "+ "):
                gone, come = (each[2:] if each[0] == sign else "" for sign in "-+")
                yield Change("", "text", where, gone, come, kind in REPEATS)


def _bare(sheet: str) -> list[str]:
    """The lines of a sheet without those that belong to one print."""
    return [line for line in sheet.splitlines() if not _PRINTED_ON.match(line)]
