"""`attach`: scans, certificates, furnace charts, photographs: the files beside git, their sums and
their meaning in the record."""

from __future__ import annotations

import os
import re
from argparse import Namespace
from collections.abc import Mapping, Sequence
from hashlib import file_digest
from pathlib import Path
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.acting import acted, open_traveller, shop_of
from generator.commands.people import because, may
from generator.commands.told import done_before, say
from generator.findings import Refusal
from generator.odd_files import refuse_links_on_the_way

if TYPE_CHECKING:
    from generator.record import Traveller

_HEAD = 16  # bytes that tell what a file is
_PICTURES = (b"%PDF-", b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"II*\0", b"MM\0*")
_BACKS = "backs"  # their sheet, on the map of boxes
SIDES = ("front", "back", "both")
_SHEETS = re.compile(r"([1-9][0-9]{0,3})(?: to ([1-9][0-9]{0,3}))?")
_PLAIN = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_ .+-]*")


def attach(asked: Namespace) -> int:
    """0 with the files in output/media/ and their sums in the record."""
    shop = shop_of(asked)
    may(shop, asked.stamp, read_day(asked.on))
    ends = ("closed", "withdrawn", "replaced", "void")
    history = open_traveller(asked, asked.serial, ends)
    covers = _covers(asked, history)
    says = because(asked.what, "--what") if asked.what else asked.kind
    _named_well(asked.files)
    if asked.kind == "scan":
        for file in asked.files:
            _is_picture(file, history)
    place = asked.workshop / "output" / "media" / history.serial
    rows: list[dict[str, str]] = []
    with done_before(lambda: _lying(rows)):
        for file in asked.files:
            rows.append(_kept(file, place))
        files = [{**row, "kind": asked.kind, "says": says, **covers} for row in rows]
        code = acted(asked, shop, history, "attach", {"files": files})
    with done_before(lambda: "what was attached is recorded"):
        _missing_told(asked)
    return code


def _lying(rows: Sequence[Mapping[str, str]]) -> str:
    """What to know where files were copied and the record did not take them; they are left, since
    another run may have attached the same ones meanwhile."""
    if not rows:
        return ""
    paths = ", ".join(row["path"] for row in rows)
    return f"nothing recorded, and there already: {paths}; attach it again once that is put right"


def _covers(asked: Namespace, history: Traveller) -> Mapping[str, str]:
    """Which sheets and which side a scan shows."""
    if asked.kind != "scan":
        if asked.sheets or asked.side:
            raise Refusal("misuse", f"sheets of a {asked.kind}", "--sheets and --side for scans")
        return {}
    found = _SHEETS.fullmatch(asked.sheets or "")
    if found is None or not asked.side:
        wrong = "a scan needs its sheets and its side"
        if asked.sheets and asked.side:
            wrong = "no pack has sheets of those numbers"
        raise Refusal("misuse", wrong, '--sheets "1 to 22" --side both, or --sheets 3 --side front')
    first, last = int(found[1]), int(found[2] or found[1])
    count = sheets_in(history)
    if not first <= last <= count:
        wrong = f"sheets {asked.sheets} of a pack of {count}"
        raise Refusal("misuse", wrong, f"from 1 to {count}")
    return {"sheets": asked.sheets, "side": asked.side}


def sheets_in(history: Traveller) -> int:
    """How many sheets of paper the pack of a traveller has, by the map of its boxes."""
    return sum(pages for sheet, pages in _pages(history).items() if sheet != _BACKS)


def _pages(history: Traveller) -> Mapping[str, int]:
    """The pages of each kind of sheet, those of the backs too where they were printed."""
    import json

    place = history.folder / "output/issued" / history.serial / "boxes.json"
    boxes = json.loads(place.read_text(encoding="utf-8"))
    last: dict[str, int] = {}
    for box in boxes:
        last[box["sheet"]] = max(int(box["page"]), last.get(box["sheet"], 0))
    return last


def _named_well(files: list[Path]) -> None:
    names = [file.name for file in files]
    for name in names:
        if not _PLAIN.fullmatch(name):
            right = "letters, digits, spaces, - and ., such as A-0001-3-front.png"
            raise Refusal("misuse", f"'{name}' is no name for a file of the record", right)
        if names.count(name) > 1:
            raise Refusal("misuse", f"{name} stands twice", "each file once")


def _is_picture(file: Path, history: Traveller) -> None:
    """Refusal where a scan is no picture of a signed sheet, or is the print as it was issued."""
    if not file.is_file():
        return  # told where it is copied
    with file.open("rb") as handle:
        start = handle.read(_HEAD)
    if start and not start.startswith(_PICTURES):
        wrong = f"{file.name} is no PDF, PNG, JPEG or TIFF file, by what stands in it"
        raise Refusal("misuse", wrong, "the scan itself; other papers --as certificate or the like")
    place = history.folder / "output/issued" / history.serial
    told = _sum(file)
    for sheet in sorted(place.glob("*.pdf")):
        if sheet.stat().st_size == file.stat().st_size and _sum(sheet) == told:
            wrong = f"{file.name} is the print as it was issued, without a signature"
            raise Refusal("misuse", wrong, "a scan of the paper that was signed")


def _sum(file: Path) -> str:
    with file.open("rb") as handle:
        return file_digest(handle, "sha256").hexdigest()


def _kept(file: Path, place: Path) -> dict[str, str]:
    """Copy a file to where media lie, whole or not at all; its name, size and sum."""
    if not file.is_file():
        raise Refusal("misuse", f"there is no file {file}", "a file that can be read")
    told = _sum(file)
    size = file.stat().st_size
    if size == 0:
        raise Refusal("misuse", f"{file.name} is empty", "the scan or paper itself")
    target = place / file.name
    path = f"output/media/{place.name}/{file.name}"
    refuse_links_on_the_way(place.parents[2], path)
    place.mkdir(parents=True, exist_ok=True)
    if os.path.lexists(target):
        if _sum(target) != told:
            wrong = f"another {file.name} is there already"
            raise Refusal("record", wrong, "another name: nothing is written over")
    else:
        _copy(file, target)
    return {"file": file.name, "path": path, "sha256": told, "bytes": str(size)}


def _copy(file: Path, target: Path) -> None:
    import shutil

    from generator.record import disk

    beside = target.with_name(f".{target.name}.new")
    try:
        with file.open("rb") as source, disk.named(target), beside.open("wb") as made:
            shutil.copyfileobj(source, made)
            made.flush()
            os.fsync(made.fileno())
        os.replace(beside, target)
        disk.flush_ways(target.parents[3], (target.relative_to(target.parents[3]).as_posix(),))
    finally:
        beside.unlink(missing_ok=True)


def _missing_told(asked: Namespace) -> None:
    from generator.record import traveller

    open_sides = sides_missing(traveller(asked.workshop, asked.serial))
    if open_sides:
        shown = ", ".join(f"{sheet} {side}" for sheet, side in open_sides[:8])
        more = f" and {len(open_sides) - 8} more" if len(open_sides) > 8 else ""
        say(f"not scanned yet: {shown}{more}", asked)


def sides_missing(history: Traveller) -> list[tuple[int, str]]:
    """The sides of the sheets of a traveller of which no scan is recorded; backs only where the
    pack was printed with backs to write on."""
    pages = _pages(history)
    printed = ("front", "back") if _BACKS in pages else ("front",)
    count = sum(number for sheet, number in pages.items() if sheet != _BACKS)
    wanted = {(sheet, side) for sheet in range(1, count + 1) for side in printed}
    for act in history.of_kind("attach"):
        for row in act.tree.get("files", ()):
            found = _SHEETS.fullmatch(str(row.get("sheets", "")))
            if found is None:
                continue
            sides = ("front", "back") if row.get("side") == "both" else (row.get("side"),)
            for sheet in range(int(found[1]), int(found[2] or found[1]) + 1):
                wanted -= {(sheet, str(side)) for side in sides}
    return sorted(wanted, key=lambda each: (each[0], each[1] == "back"))
