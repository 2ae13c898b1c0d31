"""An act that runs, in; the steps that it and its runs of git did to everything below a folder, out,
for the model of a disk."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from tests.faults.model import Step, seen, steps_of_git
from tests.faults.touching import Touch, touching


def steps_of(act: Callable[[], object], top: Path) -> list[Step]:
    """All steps of the act, which is done."""
    told: list[Step] = []

    def meet(touch: Touch, step: Callable[[], Any]) -> Any:
        if touch.name == "git":
            before = seen(top)
            made = step()
            told.extend(steps_of_git(before, seen(top), "core.fsync=all" in touch.words))
            return made
        there = [os.path.lexists(path) for path in touch.paths]
        sizes = [os.path.getsize(path) if os.path.isfile(path) else 0 for path in touch.paths]
        made = step()
        told.extend(_steps(touch, top, there[0], sizes[0]))
        return made

    with touching(meet):
        act()
    return told


def _steps(touch: Touch, top: Path, was_there: bool, size: int) -> Iterator[Step]:
    paths = [os.path.relpath(path, top) for path in touch.paths]
    if paths[0].startswith("..") or touch.name == "flock":
        return
    first = touch.paths[0]
    if touch.name == "open":
        if not was_there:
            yield Step("make", paths[0])
        elif size and not os.path.getsize(first):
            yield Step("write", paths[0])
    elif touch.name in ("write", "ftruncate"):
        yield Step("write", paths[0], content=Path(first).read_bytes())
    elif touch.name == "fsync":
        yield Step("flush", paths[0])
    elif touch.name == "link":
        yield Step("link", paths[0], paths[1])
    elif touch.name in ("rename", "replace"):
        yield Step("rename", paths[0], paths[1])
    elif touch.name in ("unlink", "rmdir"):
        yield Step("remove", paths[0])
    else:
        yield Step(touch.name, paths[0])
