"""A workshop folder and the number of a process, in; what the record holds of that process: its
approvals, its withdrawn revisions, the travellers issued of it, out. Nothing here writes."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from generator.findings import Refusal
from generator.record.desk import PROCESSES
from generator.record.expected import issued_lists
from generator.record.history import Recorded, acts_in


@dataclass(frozen=True)
class Listed:
    """A traveller as the list of its process has it."""

    serial: str
    revision: str
    part_serials: tuple[str, ...]

    @property
    def line(self) -> str:
        """The line of the list."""
        return " ".join((self.serial, self.revision, *self.part_serials)) + "\n"


def place_of(number: str) -> str:
    """The folder of a process in the record, seen from the workshop folder."""
    return f"{PROCESSES}/{number}"


def list_of(number: str, desk: str) -> str:
    """The list of travellers that a desk issued of a process."""
    return f"{place_of(number)}/issued-{desk}.txt"


def issued_of(folder: Path, number: str) -> tuple[Listed, ...]:
    """All travellers issued of a process, desk by desk in their order."""
    found = []
    for path in issued_lists(folder, number):
        for row in (folder / path).read_text(encoding="utf-8", errors="replace").splitlines():
            words = row.split(" ")
            if len(words) < 3:
                wrong = f"{path} has a line that is none of ours: '{row}'"
                raise Refusal("record", wrong, f"git checkout HEAD -- {path}")
            found.append(Listed(words[0], words[1], tuple(words[2:])))
    return tuple(found)


def acts_of(folder: Path, number: str) -> tuple[Recorded, ...]:
    """The acts on a process, the oldest first."""
    return tuple(acts_in(folder, place_of(number)))


def approval_of(folder: Path, number: str, revision: str, fingerprint: str) -> Recorded | None:
    """The approval of a revision as it stands, the latest, if any."""
    found = [
        each
        for each in acts_of(folder, number)
        if each.kind == "approve"
        and each.tree.get("revision") == revision
        and each.tree.get("fingerprint") == fingerprint
    ]
    return found[-1] if found else None


def withdrawn(folder: Path, number: str, revision: str) -> Recorded | None:
    """The act that took a revision out of use, if any."""
    acts = (each for each in acts_of(folder, number) if each.kind == "withdraw")
    return next((each for each in acts if each.tree.get("revision") == revision), None)
