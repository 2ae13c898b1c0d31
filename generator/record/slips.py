"""A workshop folder, in; its slips with what was decided on each, out. Nothing here writes."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from generator.findings import Refusal
from generator.record.desk import PROCESSES
from generator.record.history import Recorded, Traveller, traveller
from generator.record.sound import sound

SLIP = re.compile(r"NC-[A-Z]-[0-9]{4,}")
CONCESSION = re.compile(r"CN-[A-Z]-[0-9]{4,}")


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
    return tuple(_slips(history))


def _slips(history: Traveller) -> Iterator[Slip]:
    for act in history.of_kind("slip"):
        number = str(act.tree.get("slip"))
        decided = _last(history, "dispose", number)
        operation, says = str(act.tree.get("operation")), str(act.tree.get("says"))
        conceded, part = _last(history, "concession", number), str(act.tree.get("part serial", ""))
        yield Slip(number, operation, says, decided, conceded, part)


def _last(history: Traveller, kind: str, slip: str) -> Recorded | None:
    found = [each for each in history.of_kind(kind) if each.tree.get("slip") == slip]
    return found[-1] if found else None


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


GONE = ("scrap", "return")


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
