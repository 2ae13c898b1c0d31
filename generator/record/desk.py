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
from generator.record.line_ends import plain, refusal
from generator.record.locks import room
from generator.record.put_back import put_back

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
        """The ref that remembers the last commit of the desk through a reset or an old branch, in
        this workshop: others of the repository, with lists of their own, have theirs."""
        return f"{memories_of(self.tree.prefix)}{self.letter}"

    @property
    def begun(self) -> str:
        """The ref that keeps the files of the act begun last in git's store. It stays behind the
        act: taking it away would wait for a lock on all refs, and the next act moves it."""
        return f"refs/witnessmark-begun/{self.letter}"

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
        """A list as a commit holds it; None where it holds none. Refusal where git cannot say: what
        its store has lost is not taken for what was never there."""
        told = self.tree.one("ls-tree", "-z", commit, "--", path)
        if not told:
            return None
        blob = told.split("\t")[0].split()[2]
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
        self._as_committed(self.register_path, committed)
        shown = f"{ISSUED}/{self._after(committed)}"
        if os.path.lexists(self.tree.folder / shown):
            wrong = f"{shown} stands in no register that git holds"
            right = f"move {shown} out of the workshop, or merge its branch"
            raise Refusal("record", wrong, right)
        self.must_hold_last(committed)
        return committed

    def _as_committed(self, path: str, committed: bytes) -> None:
        """Refusal where a list is not what git holds."""
        written = self.written(path)
        if written == committed:
            return
        if not os.path.lexists(self.tree.folder / path):
            raise Refusal("record", f"{path} is not there", put_back(self.tree.folder, path))
        if plain(written) == committed:
            raise refusal(path)
        raise register.changed(self.tree.folder / path)

    def must_hold_last(self, committed: bytes) -> None:
        """Refusal where the branch, whose register this is, lacks the last act of the desk."""
        known = self.known()
        if committed and not known:
            wrong = f"this clone never wrote as desk {self.letter}, and another did"
            right = (
                "git config witnessmark.desk B, or another letter of its own; where this clone "
                f"takes the place of the other for good: git update-ref {self.memory} HEAD"
            )
            raise Refusal("record", wrong, right)
        last = self._remembered(known)
        if not committed.startswith(last):
            raise self._elsewhere(known, last)

    def known(self) -> str:
        """The ref that holds the desk's last act, "" before the first. Refusal where git cannot
        read it.

        An earlier version had one for all workshops of a repository. It is still this desk's where
        its commit holds a register of this workshop, and none at the top, to which it belongs now.
        """
        if self._named(self.memory):
            return self.memory
        old = f"{memories_of('')}{self.letter}"
        if old == self.memory or not self._named(old):
            return ""
        top = self.tree.told("ls-tree", "-z", "--full-tree", old, "--", self.register_path)
        ours = not top and self._held(old, self.register_path) is not None
        return old if ours else ""

    def _named(self, ref: str) -> bool:
        """Whether there is such a ref, whatever became of its commit."""
        if self.tree.asked("rev-parse", "--verify", "--quiet", ref) is not None:
            return True
        file = self.tree.common / ref
        if not file.is_file():
            return False
        wrong = f"git cannot read {ref}: {file} holds no name of a commit"
        right = (
            f"remove that file, then git update-ref {ref} COMMIT, the last one that "
            f"git log --all -- {self.register_path} tells"
        )
        raise Refusal("record", wrong, right)

    def moved_alone(self, whole: bytes) -> bool:
        """Whether the desk's ref came to a commit with this register and no branch did: a power cut
        may keep one of two refs that git moves together."""
        known = self.known()
        if not known or self._remembered(known) != whole:
            return False
        return not self.tree.told("for-each-ref", "--contains", known, "refs/heads")

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
        self._as_committed(path, committed)
        number = committed.count(b"\n") + 1
        return f"{kind}-{register.serial_of(self.letter, number)}"

    def next_file(self, folder: str, kind: str) -> str:
        """The path of the desk's next file in a folder of acts, such as A-003-result.yaml."""
        place = self.tree.folder / folder
        named = re.compile(rf"{self.letter}-([0-9]{{3,}})-.+")
        names = os.listdir(place) if place.is_dir() else []
        taken = [int(found[1]) for name in names if (found := named.fullmatch(name))]
        return f"{folder}/{self.letter}-{max(taken, default=0) + 1:03d}-{kind}.yaml"

    def _remembered(self, known: str) -> bytes:
        """The register at the desk's last act, empty before the first."""
        found = self._held(known, self.register_path) if known else b""
        if found is None:
            wrong = f"{known} is no commit of an act here: it or the workshop was moved"
            right = f"git update-ref {known} HEAD, where HEAD holds the desk's last act"
            raise Refusal("record", wrong, right)
        return found

    def _elsewhere(self, known: str, last: bytes) -> Refusal:
        held = {*self.committed(self.register_path).splitlines()}
        rows = last.splitlines()
        lost = next((row for row in reversed(rows) if row not in held), rows[-1])
        path = os.fsdecode(lost).partition("  ")[2]
        shown = path.removeprefix(f"{ISSUED}/").removesuffix("/sums.txt")
        wrong = f"this branch does not hold {shown} of desk {self.letter} as it was recorded"
        if self.tree.asked("merge-base", "--is-ancestor", known, "HEAD") is None:
            return Refusal("record", wrong, f"git merge {known}")
        paths = " ".join((self.register_path, *self._kept_at(known)))
        right = f"git checkout {known} -- {paths}, then git commit"
        return Refusal("record", wrong, right)

    def _kept_at(self, known: str) -> list[str]:
        """The folders of the record at the desk's last act: no file in them ever changes."""
        shown = [f"{known}:{self.tree.prefix}{folder}" for folder in _KEPT_FOLDERS]
        there = [self.tree.asked("cat-file", "-e", each) is not None for each in shown]
        return [folder for folder, is_there in zip(_KEPT_FOLDERS, there, strict=True) if is_there]


def memories_of(prefix: str) -> str:
    """Where the desks of a workshop have their refs, by the way to its folder: each folder of it
    has a + behind its name, so that it is no letter of a desk, and what git takes in no ref is
    written as its number."""
    parts = [re.sub(r"[^A-Za-z0-9_\x80-\U0010ffff-]", _coded, p) for p in prefix.split("/")[:-1]]
    return "refs/witnessmark/" + "".join(f"{part}+/" for part in parts)


def _coded(sign: re.Match[str]) -> str:
    return f"%{ord(sign[0]):02X}"


def lettered(letter: str) -> str:
    """The same letter. Refusal where it is none."""
    if not re.fullmatch(r"[A-Z]", letter):
        raise Refusal("record", f"'{letter}' is no desk", "one capital letter, such as A")
    return letter
