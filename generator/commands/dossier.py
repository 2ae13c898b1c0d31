"""`dossier`: everything of one assembly in a folder that needs no special program."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping
from hashlib import sha256
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.acting import as_recorded, shop_of
from generator.commands.told import say
from generator.commands.waiting import state_of, waiting
from generator.findings import Refusal
from generator.odd_files import refuse_in_record

if TYPE_CHECKING:
    from pathlib import Path

    from generator.record import Traveller
    from generator.record.expected import Expected

READ_ME = """\
This folder is a bag by RFC 8493. It needs no special program.

  data/index.html      what is here: open it with any browser, or print it
  data/index.csv       every fact of these travellers, a row each
  data/output/issued/  each traveller as it was issued: sheets as PDF and as text, the process
                       and the lists it was made from, the sums of its files
  data/output/completed/   what was entered, slips, decisions, concessions, rework, closing, fits
  data/output/media/   scans and certificates
  data/output/processes/   approvals, and the travellers of each process

To check that nothing was changed:   sha256sum -c manifest-sha256.txt
That shows that the files are those of the record. It does not show that the record is right.
People are stamps and classes here; the workshop keeps who held which stamp.
"""


def dossier(asked: Namespace) -> int:
    """0 with the bag written."""
    from generator.record.bag import write_bag
    from generator.record.expected import expected

    refuse_in_record(asked.workshop, asked.into)
    shop = shop_of(asked)
    day = read_day(asked.on).isoformat()
    chosen = _chosen(asked)
    told = expected(asked.workshop)
    copies = _record_files(asked, chosen, told) | _media_files(asked, chosen)
    made = {
        "read-me.txt": READ_ME.encode(),
        "index.csv": _rows(asked, chosen).encode(),
        "index.html": _page(asked, chosen, shop.name, day).encode(),
    }
    about = [
        ("Source-Organization", shop.name),
        ("Bagging-Date", day),
        ("External-Description", f"Record of {', '.join(asked.what)}: {len(chosen)} travellers"),
    ]
    size = write_bag(asked.into, copies, made, about)
    say(f"{asked.into}: {len(chosen)} travellers, {len(copies)} files, {size} bytes", asked)
    for each in _open(chosen):
        say(f"open: {each}", asked)
    return 0


def _chosen(asked: Namespace) -> list[Traveller]:
    """The travellers of the processes, parts, airframes or serials that were named, and those of
    the processes that had to be done before."""
    from generator.record.files import quick_tree
    from generator.record.held import none_lost
    from generator.record.history import all_serials

    none_lost(asked.workshop)
    every = []
    for serial in all_serials(asked.workshop):
        place = asked.workshop / "output/issued" / serial
        process = quick_tree(place / "process.yaml")
        facts = quick_tree(place / "facts.yaml")
        if not process or not facts:  # nobody could say whether it belongs here
            as_recorded(asked, serial)
        names = {serial, facts.get("process"), facts.get("part"), process.get("airframe")}
        names |= {f"{facts.get('part')} {told}" for told in facts.get("part serials", ())}
        before = {each.get("process") for each in process.get("prerequisites", ())} - {None}
        every.append((serial, facts.get("process"), names, before))
    known = {name for _, _, names, _ in every for name in names}
    if strange := [word for word in asked.what if word not in known]:
        right = "a traveller, process, part or airframe of the record"
        raise Refusal("record", f"nothing was issued of '{strange[0]}'", right)
    wanted = set(asked.what)
    picked: dict[str, None] = {}
    while True:
        more = [e for e in every if e[0] not in picked and e[2] & wanted]
        if not more:
            return [as_recorded(asked, serial) for serial in sorted(picked)]
        picked |= dict.fromkeys(serial for serial, *_ in more)
        wanted |= {name for e in more for name in e[3]}


def _record_files(
    asked: Namespace, chosen: list[Traveller], told: Expected
) -> dict[str, tuple[Path, str]]:
    """The files of the travellers and of their processes, each with its sum, and the lists in which
    their numbers stand; the registers name the files of other travellers and stay behind."""
    serials = {each.serial for each in chosen}
    numbers = {str(each.facts["process"]) for each in chosen}
    found = {}
    for path, sums in sorted(told.sums.items()):
        room, of = path.split("/")[1:3]
        if of in (serials if room in ("issued", "completed") else numbers):
            found[path] = (asked.workshop / path, sums)
    for path in told.lists:
        if path.rpartition("/")[2].partition("-")[0] in ("slips", "concessions", "processes") or (
            path.startswith("output/processes/") and path.split("/")[2] in numbers
        ):
            content = (asked.workshop / path).read_bytes()
            found[path] = (asked.workshop / path, sha256(content).hexdigest())
    return found


def _media_files(asked: Namespace, chosen: list[Traveller]) -> dict[str, tuple[Path, str]]:
    rows = [
        row
        for each in chosen
        for act in each.of_kind("attach")
        for row in act.tree.get("files", ())
    ]
    return {str(r["path"]): (asked.workshop / str(r["path"]), str(r["sha256"])) for r in rows}


def _rows(asked: Namespace, chosen: list[Traveller]) -> str:
    """The rows of the index that are of the chosen travellers, under the names of the columns."""
    from generator.record.index import indexed

    serials = {each.serial for each in chosen}
    _, head, *rows = indexed(asked.workshop).text.splitlines(keepends=True)
    return head + "".join(row for row in rows if row.partition(",")[0] in serials)


def _open(chosen: list[Traveller]) -> list[str]:
    """What is not finished: travellers, slips, sides of sheets that were not scanned."""
    from generator.commands.attach import sides_missing

    found = [f"{each.serial} is open" for each in chosen if each.status == "open"]
    for each in chosen:
        found += [f"{each.serial} ({state_of(each)}): {words}" for words in waiting(each)]
        if each.status == "closed" and (missing := len(sides_missing(each))):
            found.append(f"{each.serial}: {missing} sides of sheets are not scanned")
    return found


def _page(asked: Namespace, chosen: list[Traveller], name: str, day: str) -> str:
    """The index as a page for a browser."""
    from generator.results.dossier_page import dossier_page

    travellers = [_told(each) for each in chosen]
    return dossier_page(name, day, asked.what, travellers, _open(chosen))


def _told(each: Traveller) -> Mapping[str, object]:
    from generator.record.fitted import fitted
    from generator.record.slips import slips_of

    serials = list(each.facts["part serials"])
    return {
        "serial": each.serial,
        "process": f"{each.facts['process']} revision {each.facts['revision']}",
        "part": f"{each.facts['part']} {', '.join(serials)}",
        "status": each.status,
        "issued": str(each.facts["issued on"]),
        "fitted": "; ".join(filter(None, (fitted(each, serial) for serial in serials))),
        "slips": [f"{s.number}: {s.says} ({s.decision or 'undecided'})" for s in slips_of(each)],
        "acts": [
            (act.path, f"{act.tree.get('on')} {act.kind} by {act.tree.get('by')}")
            for act in each.acts
        ],
        "media": [
            str(row["path"]) for a in each.of_kind("attach") for row in a.tree.get("files", ())
        ],
        "fingerprint": str(each.facts["fingerprint"]),
    }
