"""A workshop folder, in; its slips with what was decided on each, out. Nothing here writes."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from generator.findings import Refusal
from generator.record.apart import behind
from generator.record.desk import COMPLETED, PROCESSES
from generator.record.history import (
    ENDS,
    SERIAL,
    Recorded,
    Traveller,
    acts_by_name,
    acts_in,
    traveller,
)
from generator.record.sound import sound

SLIP = re.compile(r"NC-[A-Z]-[0-9]{4,}")
CONCESSION = re.compile(r"CN-[A-Z]-[0-9]{4,}")
GONE = ("scrap", "return")
_DECIDING = ("slip", "dispose", "concession")


@dataclass(frozen=True)
class Slip:
    """A slip of a traveller: its number, its operation, the act that decided on it and the
    concession that allows to go on, if any; the one part of a set that it is on, "" for all."""

    number: str
    operation: str
    says: str
    decided: Recorded | None
    concession: Recorded | None
    part: str = ""

    @property
    def decision(self) -> str:
        """use, rework, scrap or return; "" while nobody decided."""
        return str(self.decided.tree.get("decision", "")) if self.decided else ""

    @property
    def rework(self) -> str:
        """R1 where it is reworked, else ""."""
        return str(self.decided.tree.get("rework", "")) if self.decided else ""


def slips_of(history: Traveller) -> tuple[Slip, ...]:
    """The slips of a traveller in the order in which they were raised."""
    return tuple(_slips(history.acts))


def _slips(acts: Sequence[Recorded]) -> Iterator[Slip]:
    for act in acts:
        if act.kind == "slip":
            number = str(act.tree.get("slip"))
            decided = _decision(acts, number)
            operation, says = str(act.tree.get("operation")), str(act.tree.get("says"))
            conceded, part = _last(acts, "concession", number), str(act.tree.get("part serial", ""))
            yield Slip(number, operation, says, decided, conceded, part)


def _decision(acts: Sequence[Recorded], slip: str) -> Recorded | None:
    """The decision on a slip. Of two by desks that did not know of each other it is the one by
    which the part goes, until somebody who knows of both decides: it gets no sheet meanwhile."""
    last = _last(acts, "dispose", slip)
    found = [each for each in acts if each.kind == "dispose" and each.tree.get("slip") == slip]
    if last is None or last.after is None or len(found) == 1:
        return last
    known = behind(last, acts)
    apart = [each for each in found if each is not last and each.path not in known]
    return next((each for each in apart if each.tree.get("decision") in GONE), last)


def _last(acts: Sequence[Recorded], kind: str, slip: str) -> Recorded | None:
    found = [each for each in acts if each.kind == kind and each.tree.get("slip") == slip]
    return found[-1] if found else None


def ended_and_waiting(folder: Path, fit_records: bool = False) -> Iterator[str]:
    """The travellers that an act has ended and that wait for somebody all the same: a slip does, or
    a part sits on an airframe though they are withdrawn. Results and slips that were there when
    their traveller was closed stay shut: a close waits for them.

    fit_records: those too that have one, entered behind the close, of which something may be wrong.
    """
    place = folder / COMPLETED
    for serial in sorted(os.listdir(place)) if place.is_dir() else ():
        names = acts_by_name(place / serial) if SERIAL.fullmatch(serial) else []
        ends = [each for each in names if each[2] in ENDS]
        off = any(kind != "close" for _, _, kind in ends)
        sits = any(kind == "fit" for _, _, kind in names)
        late = {each[2] for each in names if not _before_the_close(each, ends)}
        if (off and sits) or (fit_records and ends and not off and "result" in late):
            yield serial
        elif ends and "slip" in late:
            own = _slips(tuple(acts_in(folder, f"{COMPLETED}/{serial}", _DECIDING)))
            if any(is_open(each) or (each.decision in GONE and not off) for each in own):
                yield serial


def _before_the_close(act: tuple[str, int, str], ends: Sequence[tuple[str, int, str]]) -> bool:
    """Whether an act is known to be older than the close: of the same desk with a lower number."""
    return any(
        kind == "close" and desk == act[0] and act[1] < number for desk, number, kind in ends
    )


def is_open(slip: Slip) -> bool:
    """Whether a slip waits for somebody: for its decision, or for the concession to use a part."""
    return slip.decided is None or (slip.decision == "use" and slip.concession is None)


def sheet_of(history: Traveller, operation: str) -> str:
    """The supplementary sheet of an operation such as 110R1, or of one that went over to a newer
    revision; "" for the traveller."""
    _, letter, number = operation.partition("R")
    return letter + number or gone_to(history).get(operation, "")


def gone_to(history: Traveller) -> dict[str, str]:
    """The operations that are done on the sheet of a later revision, with its letter."""
    return {
        number: str(act.tree["revision"])
        for act in history.of_kind("decide")
        for number in act.tree.get("operations", ())
    }


def against(folder: Path, part: str, serials: Sequence[str]) -> Iterator[tuple[str, Slip]]:
    """The serials of a part that were scrapped or sent back on any traveller, or on which a slip
    waits for its decision, each with the slip."""
    for history in _of_part(folder, part, serials):
        made = list(history.facts["part serials"])
        for slip in slips_of(history):
            if slip.decided is None or slip.decision in GONE:
                hit = [slip.part] if slip.part else made
                yield from ((serial, slip) for serial in serials if serial in hit)


def _of_part(folder: Path, part: str, serials: Sequence[str]) -> Iterator[Traveller]:
    """The travellers that were issued for any of these parts."""
    from generator.record.processes import issued_of

    place = folder / PROCESSES
    for number in sorted(os.listdir(place)) if place.is_dir() else []:
        for each in issued_of(folder, number) if (place / number).is_dir() else ():
            if not {*serials}.isdisjoint(each.part_serials):
                sound(folder, each.serial)
                history = traveller(folder, each.serial)
                if history.facts["part"] == part:
                    yield history


def slip_named(folder: Path, number: str) -> tuple[Traveller, Slip]:
    """The slip of that number and its traveller. Refusal where there is none."""
    for row in _rows(folder, number):
        words = row.split(" ", 3)
        if words[0] == number and len(words) > 2:
            history = traveller(folder, words[1])
            for slip in slips_of(history):
                if slip.number == number:
                    return history, slip
    raise Refusal("record", f"there is no slip {number}", "a slip such as NC-A-0001")


def _rows(folder: Path, number: str) -> list[str]:
    if not SLIP.fullmatch(number):
        return []
    file = folder / "output" / f"slips-{number.split('-')[1]}.txt"
    if not os.path.exists(file):
        return []
    return file.read_text(encoding="utf-8", errors="replace").splitlines()
