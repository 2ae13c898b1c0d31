"""A workshop and a traveller in; what the list of materials says of each batch, out."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from pathlib import Path

from generator.record.files import as_written, quick_tree

_LIST = "workshop/materials.yaml"


def batches_of(folder: Path, serial: str) -> Mapping[str, Collection[str]]:
    """Number of a batch -> what it is, by the list of today and by the one that was frozen with the
    traveller: what was left out of the list since was in stores then."""
    found: dict[str, set[str]] = {}
    with as_written(serial):
        for file in (folder / "processes" / _LIST, folder / "output/issued" / serial / _LIST):
            for each in quick_tree(file).get("batches", ()):
                found.setdefault(str(each["batch"]), set()).add(str(each["material"]))
    return found
