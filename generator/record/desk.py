"""A workshop folder and a desk's letter, in; where all that belongs to the desk stands, and which
numbers are its next, out."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass, field
from pathlib import Path

from generator.findings import Refusal
from generator.record import register
from generator.record.git import WorkTree
from generator.record.locks import room

ISSUED = "output/issued"
COMPLETED = "output/completed"
PROCESSES = "output/processes"
_KEPT_FOLDERS = (ISSUED, COMPLETED, PROCESSES)


@dataclass(frozen=True)
class Desk:
    """One desk of a workshop, in an opened work tree. Paths in git begin with the tree's prefix.

    read: what was read from git's store in this run, by its name there, which holds it for ever: a
    register of ten thousand travellers is asked for nine times in one act.
    """

    tree: WorkTree
    letter: str
    read: dict[str, bytes] = field(default_factory=dict, compare=False, repr=False)

    @property
    def output(self) -> Path:
        return self.tree.folder / "output"

    @property
    def issued(self) -> Path:
        return self.tree.folder / ISSUED

    @property
    def register(self) -> Path:
        return self.tree.folder / self.register_path

    @property
    def register_path(self) -> str:
        return self.list_path("register")

    def list_path(self, name: str) -> str:
        """Where a list of the desk stands that is only ever added to, such as slips."""
        return f"output/{name}-{self.letter}.txt"

    @property
    def note(self) -> Path:
        """Where the run that is under way says what it has decided to do."""
        return room(self.tree) / f"act-{self.letter}.json"

    @property
    def memory(self) -> str:
        """The ref that remembers the last commit of the desk through a reset or an old branch."""
        return f"refs/witnessmark/{self.letter}"

    def unfinished(self, folder: str) -> Path:
        """Where a folder of the record stands until the act is decided."""
        return self.output / f".new-{self.letter}-{folder.rpartition('/')[2]}"

    def leftovers(self) -> list[Path]:
        """Folders of this desk whose act was never decided."""
        return sorted(self.output.glob(f".new-{self.letter}-*"))

    def committed(self, path: str) -> bytes:
        """A list as HEAD holds it, empty where it holds none."""
        return self._held("HEAD", path) or b""

    def _held(self, commit: str, path: str) -> bytes | None:
        """A list as a commit holds it; None where it holds none."""
        shown = f"{commit}:{self.tree.prefix}{path}"
        name = self.tree.asked("rev-parse", "--verify", "--quiet", shown)
        if name is None:
            return None
        blob = os.fsdecode(name).strip()
        if blob not in self.read:
            self.read[blob] = self.tree.told("cat-file", "blob", blob)
        return self.read[blob]

    def written(self, path: str) -> bytes:
        """A list as it stands in the working tree, empty where there is none."""
        file = self.tree.folder / path
        return file.read_bytes() if file.exists() else b""

    def standing(self) -> bytes:
        """The register, which must be what git holds and must hold the desk's last act.

        Where it does not, going on would leave a gap or use a number twice: Refusal.
        """
        committed = self.committed(self.register_path)
        if self.written(self.register_path) != committed:
            raise register.changed(self.register)
        shown = f"{ISSUED}/{self._after(committed)}"
        if os.path.lexists(self.tree.folder / shown):
            wrong = f"{shown} stands in no register that git holds"
            right = f"move {shown} out of the workshop, or merge its branch"
            raise Refusal("record", wrong, right)
        self.must_hold_last(committed)
        return committed

    def must_hold_last(self, committed: bytes) -> None:
        """Refusal where the branch, whose register this is, lacks the last act of the desk."""
        if committed and self.tree.asked("cat-file", "-e", self.memory) is None:
            wrong = f"this clone never wrote as desk {self.letter}, and another did"
            right = (
                "git config witnessmark.desk B, or another letter of its own; where this clone "
                f"takes the place of the other for good: git update-ref {self.memory} HEAD"
            )
            raise Refusal("record", wrong, right)
        last = self._remembered()
        if not committed.startswith(last):
            raise self._elsewhere(last)

    def moved_alone(self, whole: bytes) -> bool:
        """Whether the desk's ref came to a commit with this register and no branch did: a power cut
        may keep one of two refs that git moves together."""
        if self.tree.asked("cat-file", "-e", self.memory) is None or self._remembered() != whole:
            return False
        return not self.tree.told("for-each-ref", "--contains", self.memory, "refs/heads")

    def next_serial(self) -> str:
        """The serial of the desk's next traveller: one above its highest, never one used before."""
        return self._after(self.committed(self.register_path))

    def _after(self, rows: bytes) -> str:
        return register.serial_of(self.letter, register.last(rows, self.letter) + 1)

    def next_of(self, name: str, kind: str) -> str:
        """The next number of a list with a line for each, such as NC-A-0001 for its first line.

        Refusal where the list is not what git holds.
        """
        path = self.list_path(name)
        committed = self.committed(path)
        if self.written(path) != committed:
            raise register.changed(self.tree.folder / path)
        number = committed.count(b"\n") + 1
        return f"{kind}-{register.serial_of(self.letter, number)}"

    def next_file(self, folder: str, kind: str) -> str:
        """The path of the desk's next file in a folder of acts, such as A-003-result.yaml."""
        place = self.tree.folder / folder
        named = re.compile(rf"{self.letter}-([0-9]{{3,}})-.+")
        names = os.listdir(place) if place.is_dir() else []
        taken = [int(found[1]) for name in names if (found := named.fullmatch(name))]
        return f"{folder}/{self.letter}-{max(taken, default=0) + 1:03d}-{kind}.yaml"

    def _remembered(self) -> bytes:
        """The register at the desk's last act, empty before the first."""
        if self.tree.asked("cat-file", "commit", self.memory) is None:
            return b""
        found = self._held(self.memory, self.register_path)
        if found is None:
            wrong = f"{self.memory} is no commit of an act: it was moved by hand"
            right = f"git update-ref {self.memory} to the commit of the desk's last act"
            raise Refusal("record", wrong, right)
        return found

    def _elsewhere(self, last: bytes) -> Refusal:
        known = register.last(last, self.letter)
        shown = register.serial_of(self.letter, known) if known else "the last act"
        wrong = f"this branch does not hold {shown}, the last of desk {self.letter}"
        if self.tree.asked("merge-base", "--is-ancestor", self.memory, "HEAD") is None:
            return Refusal("record", wrong, f"git merge {self.memory}")
        paths = " ".join((self.register_path, *self._kept_at_memory()))
        right = f"git checkout {self.memory} -- {paths}, then git commit"
        return Refusal("record", wrong, right)

    def _kept_at_memory(self) -> list[str]:
        """The folders of the record at the desk's last act: no file in them ever changes."""
        shown = [f"{self.memory}:{self.tree.prefix}{folder}" for folder in _KEPT_FOLDERS]
        there = [self.tree.asked("cat-file", "-e", each) is not None for each in shown]
        return [folder for folder, is_there in zip(_KEPT_FOLDERS, there, strict=True) if is_there]


def lettered(letter: str) -> str:
    """The same letter. Refusal where it is none."""
    if not re.fullmatch(r"[A-Z]", letter):
        raise Refusal("record", f"'{letter}' is no desk", "one capital letter, such as A")
    return letter
