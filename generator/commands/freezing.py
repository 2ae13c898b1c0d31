"""A process of a shop and what is known of its print, in; the files of an issued traveller, out;
and the way back: the shop and the values as they were frozen."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import mkdtemp
from typing import TYPE_CHECKING, Any

from generator import __version__
from generator.check.readers import day as read_day
from generator.commands.draft import day_words, printed
from generator.compose import SheetFacts
from generator.files import shop_files
from generator.findings import Finding, Refusal
from generator.workshop import Given, Shop, open_shop, read_values

if TYPE_CHECKING:
    from generator.record import Traveller

PROCESS, GIVEN, FACTS, FORM = "process.yaml", "given.yaml", "facts.yaml", "form.yaml"


class Stopped(Exception):
    """What stood in the way once the serial was known; the serial is not taken."""

    def __init__(self, findings: list[Finding]) -> None:
        super().__init__()
        self.findings = findings


@dataclass(frozen=True)
class Order:
    """What is issued: a sound process of a shop, for these parts, with or without their values."""

    shop: Shop
    shown: str
    given: Given | None
    part_serials: tuple[str, ...]
    on: str
    by: str
    replaces: str = ""


def frozen(order: Order, serial: str, more: Mapping[str, Any]) -> dict[str, bytes]:
    """All files of a traveller: its sheets, and what it took to print them.

    more: what else the facts say. Raises Stopped with the findings of a print that fails.
    """
    from generator.record import text_of

    day = day_words(read_day(order.on))
    facts = SheetFacts(serial, order.part_serials, day, order.replaces)
    files, wrong = printed(order.shop, order.shown, facts, order.given, drafting=False)
    if wrong:
        raise Stopped(wrong)
    files[FORM] = form_file(files)
    files[PROCESS] = order.shop.documents[order.shown].source
    for path in shop_files(order.shop.folder):
        files[path.removeprefix("processes/")] = (order.shop.folder / path).read_bytes()
    if order.given is not None:
        files[GIVEN] = order.given.document.source
    process = order.shop.processes[order.shown]
    tree = {
        "traveller": serial,
        "process": process.number,
        "revision": process.revision.letter,
        "trade": process.trade,
        "part": process.part.number,
        "part serials": list(order.part_serials),
        "issued on": order.on,
        "by": order.by,
        "fingerprint": files["fingerprint.txt"].decode().strip(),
        **more,
        "made by": _versions(),
    }
    if order.replaces:
        tree["replaces"] = order.replaces
    files[FACTS] = text_of(tree)
    return files


def _versions() -> str:
    """What the bytes of a print hang on, besides its text."""
    import platform
    from importlib.metadata import version

    drawing = f"reportlab {version('reportlab')}"
    return f"witnessmark {__version__}, Python {platform.python_version()}, {drawing}"


def form_file(files: Mapping[str, bytes]) -> bytes:
    """The form of a print, to be frozen with it: from its sheets and the map of their boxes."""
    from generator.record import text_of
    from generator.results.form import form_of
    from generator.results.form_tree import tree_of_form

    sheets = {
        name.removesuffix(".md"): text.decode()
        for name, text in files.items()
        if name.endswith(".md")
    }
    return text_of(tree_of_form(form_of(sheets, json.loads(files["boxes.json"]))))


@contextmanager
def _passing_folder() -> Iterator[Path]:
    """A folder of the system's for files that are gone behind the block; what cannot be taken away
    stays there and stops no act. Python's own such folder tries a refused file again for ever."""
    folder = Path(mkdtemp())
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


@contextmanager
def as_it_was(history: Traveller, lists: Path | None = None) -> Iterator[Order]:
    """The order of an issued traveller, from what was frozen with it and nothing else.

    lists: a workshop folder whose lists and tables of today take the place of the frozen ones.
    Refusal where what was frozen is no sound process any more, as under a later version.
    """
    place = history.folder / "output" / "issued" / history.serial
    with _passing_folder() as folder:
        room = folder / "processes"
        _copied([place / PROCESS], place, room)
        told = place if lists is None else lists / "processes"
        _copied(sorted((told / "workshop").rglob("*.yaml")), told, room)
        shop = open_shop(folder, alone=True)
        given, findings = read_values(place / GIVEN) if (place / GIVEN).exists() else (None, [])
        if shop.findings or findings or len(shop.processes) != 1:
            first = [*shop.findings, *findings]
            wrong = f"what was frozen with {history.serial} cannot be printed by this version"
            raise Refusal("record", wrong, first[0].wrong if first else f"its {PROCESS}")
        (shown,) = shop.processes
        facts = history.facts
        serials: Sequence[str] = facts["part serials"]
        yield Order(shop, shown, given, tuple(serials), str(facts["issued on"]),
                    str(facts.get("by", "")), str(facts.get("replaces", "")))  # fmt: skip


def _copied(files: Sequence[Path], out_of: Path, room: Path) -> None:
    """The files at the same places in another room."""
    for file in files:
        target = room / file.relative_to(out_of)
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(file.read_bytes())
