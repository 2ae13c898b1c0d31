"""A workshop in git, in; its shelf changed and committed, out."""

from __future__ import annotations

import subprocess
from pathlib import Path

SHELF = "processes/shelf.yaml"
REVISION_B = """  - letter: B
    date: 2026-11-26
    author: LQ1
    approved by: INS2
    changed: Cut to the new length.
    why: The fit was tight.
"""


def committed(folder: Path, words: str = "Change") -> None:
    for line in (["add", "."], ["commit", "-qm", words]):
        subprocess.run(["git", *line], cwd=folder, check=True)


def change(folder: Path, old: str, new: str, file: str = SHELF) -> None:
    """One text for another, once, and a commit."""
    path = folder / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    committed(folder)


def revise(folder: Path, old: str = "four places", new: str = "five places") -> None:
    """Revision B of the shelf, with one change in its text."""
    text = (folder / SHELF).read_text(encoding="utf-8")
    head, mark, rest = text.partition("documents:\n")
    assert mark
    (folder / SHELF).write_text(head + mark + rest, encoding="utf-8")
    at = text.index("    why:", text.index("revisions:"))
    end = text.index("\n", at) + 1
    (folder / SHELF).write_text(text[:end] + REVISION_B + text[end:], encoding="utf-8")
    change(folder, old, new)
