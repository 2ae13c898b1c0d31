"""Words for git log, in; the commits it tells and what each of them changed, out."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, field

from generator.record.git import WorkTree

# The same whatever the user's own settings say.
_FIXED = ("--no-show-signature", "--no-renames", "--no-relative", "--no-abbrev", "--root")
# -z: without it git writes a name with other signs than ASCII as codes between quotes.
_RAW = ("log", *_FIXED, "--diff-merges=separate", "--raw", "-z")


@dataclass(frozen=True)
class Told:
    """A commit beside one of its parents.

    head: what was asked of it; changed: path from the top of the work tree -> name of what stands
    there since, noughts where nothing does.
    """

    head: str
    changed: dict[str, str] = field(default_factory=dict)


def told_by_log(tree: WorkTree, asked: str, *words: str) -> Iterator[Told]:
    """The commits, the newest first. asked: as git's --format has it, such as %H."""
    parts = iter(os.fsdecode(tree.told(*_RAW, f"--format=tformat:{asked}", *words)).split("\0"))
    found: Told | None = None
    for part in parts:
        facts = part.removeprefix("\n")
        if facts.startswith(":") and found is not None:
            found.changed[next(parts)] = facts.split(" ")[3]
            continue
        if found is not None:
            yield found
        found = Told(facts) if facts else None  # nothing stands behind the end of the last
