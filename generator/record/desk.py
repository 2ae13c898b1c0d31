"""A workshop folder and a desk's letter, in; where all that belongs to the desk stands, out."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass
from pathlib import Path

from generator.findings import Refusal
from generator.record import register
from generator.record.git import WorkTree
from generator.record.locks import room

ISSUED = "output/issued"
_TRAILER = re.compile(rb"^Issued: ([A-Z]-[0-9]{4,})$", re.MULTILINE)


@dataclass(frozen=True)
class Desk:
    """One desk of a workshop, in an opened work tree. Paths in git begin with the tree's prefix."""

    tree: WorkTree
    letter: str

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
        return f"output/register-{self.letter}.txt"

    @property
    def note(self) -> Path:
        """Where the run that is under way says what it is about to do."""
        return room(self.tree) / f"taking-{self.letter}.json"

    @property
    def memory(self) -> str:
        """The ref that remembers the last commit of the desk through a reset or an old branch."""
        return f"refs/witnessmark/{self.letter}"

    def unfinished(self, serial: str) -> Path:
        return self.output / f".new-{serial}"

    def leftovers(self) -> list[Path]:
        """Folders of this desk whose number was never taken."""
        return sorted(self.output.glob(f".new-{self.letter}-*"))

    def folders(self) -> set[int]:
        """The numbers of the desk's folders in the working tree."""
        names = os.listdir(self.issued) if self.issued.is_dir() else []
        return {register.number_of(self.letter, name) for name in names} - {0}

    def committed_register(self) -> bytes:
        """The register as HEAD holds it, empty where it holds none."""
        return (
            self.tree.asked("cat-file", "blob", f"HEAD:{self.tree.prefix}{self.register_path}")
            or b""
        )

    def standing_register(self) -> bytes:
        """The register as it stands in the working tree, empty where there is none."""
        return self.register.read_bytes() if self.register.exists() else b""

    def remembered(self) -> int:
        """The number in the desk's ref, 0 before the first."""
        commit = self.tree.asked("cat-file", "commit", self.memory)
        if commit is None:
            return 0
        said = _TRAILER.findall(commit)
        number = register.number_of(self.letter, said[-1].decode()) if said else 0
        if not number:
            wrong = f"{self.memory} is no commit of an issue: it was moved by hand"
            right = f"git update-ref {self.memory} to the commit of the desk's last traveller"
            raise Refusal("record", wrong, right)
        return number


def trailer(serial: str) -> str:
    """The last line of a commit message, from which the number is read back."""
    return f"Issued: {serial}\n"


def lettered(letter: str) -> str:
    """The same letter. Refusal where it is none."""
    if not re.fullmatch(r"[A-Z]", letter):
        raise Refusal("record", f"'{letter}' is no desk", "one capital letter, such as A")
    return letter
