"""The folder of a workshop in; what leads out of it or would be passed over in silence, out.

A memory stick brings links and odd endings too. What a link points to was never named by the
workshop, and what is written through one lands where nobody looks for it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from generator.findings import Finding, Place, Refusal

_LINK = "a link, which leads to what is not the workshop's own"


def odd_files(folder: Path) -> Iterator[Finding]:
    """What lies in processes/ and would not be read, or is not a file of the workshop itself."""
    for above, folders, files in os.walk(folder / "processes"):
        folders.sort()
        for name in sorted([*folders, *files]):
            link = os.path.islink(os.path.join(above, name))
            odd = name.lower().endswith((".yaml", ".yml")) and not name.endswith(".yaml")
            if not link and not odd:
                continue
            place = Place(Path(above, name).relative_to(folder).as_posix())
            if link:
                yield Finding(place, "file", _LINK, "the file or folder itself")
            else:
                stem, _, ending = name.rpartition(".")
                wrong = f"a file that ends in .{ending} is not read"
                yield Finding(place, "file", wrong, f"{stem}.yaml")


def refuse_links(folder: Path) -> None:
    """Refuses an output folder that is a link, or has one as an entry of its own."""
    output = folder / "output"
    if output.is_symlink():
        raise _led_away("output")
    if output.is_dir():
        for entry in sorted(os.scandir(output), key=lambda each: each.name):
            if entry.is_symlink():
                raise _led_away(f"output/{entry.name}")


def refuse_links_on_the_way(folder: Path, path: str) -> None:
    """Refuses a path below the folder of which a part is a link, the last one too."""
    way = folder
    for name in path.split("/"):
        way = way / name
        if way.is_symlink():
            raise _led_away(way.relative_to(folder).as_posix())


def refuse_in_record(folder: Path, target: Path) -> None:
    """Refuses a place for something new that lies in the record, where verify would tell each of
    its files, or in processes/, where it would be read."""
    way, own = Path(os.path.realpath(target)), Path(os.path.realpath(folder))
    within = way.relative_to(own).parts if way.is_relative_to(own) else ()
    if within[:1] == ("processes",) or (within[:1] == ("output",) and within[1:2] != ("draft",)):
        wrong = f"{target} lies in {within[0]}/, which holds what the workshop wrote"
        raise Refusal("misuse", wrong, "a place outside of it, or below output/draft/")


def _led_away(shown: str) -> Refusal:
    return Refusal("file", f"{shown} is {_LINK}", "a folder of its own")
