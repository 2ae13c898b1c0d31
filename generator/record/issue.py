"""A workshop, a desk and a maker of files, in; the next traveller frozen and committed, out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from generator.record.act import Act
from generator.record.desk import ISSUED, Desk
from generator.record.recording import perform


@dataclass(frozen=True)
class Issued:
    """A traveller in the record: its serial, its folder, and the commit that holds it."""

    serial: str
    folder: Path
    commit: str


def take(
    folder: Path,
    desk: str,
    make: Callable[[str], Mapping[str, bytes]],
    message: Callable[[str], str],
    lists: Callable[[str], Mapping[str, str]] = lambda serial: {},
) -> Issued:
    """Issue the desk's next traveller: no gap, no number twice, with many at once or after a kill.

    make: gives the files (relative name -> bytes) for a serial such as A-0001; message: the words
    of the commit; lists: lines for lists that are only ever added to. What any of them raises
    passes through and takes no number. Refusals as for perform.
    """

    def act(at: Desk) -> Act:
        serial = at.next_serial()
        place = f"{ISSUED}/{serial}"
        files = {f"{place}/{name}": content for name, content in make(serial).items()}
        return Act(serial, message(serial), files, lists(serial), place)

    made, name = perform(folder, desk, act)
    return Issued(made.title, folder / made.folder, name)
