"""What changed between two revisions, in; the change sheet as Markdown, out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby
from typing import Any

from generator.composing.engine import rendered
from generator.process import Revision
from generator.results.changes import Change


def change_sheet(
    traveller: str,
    found: Sequence[Change],
    was: str,
    reasons: Iterable[Revision],
    floor: Sequence[Mapping[str, str]] = (),
    day: str = "not dated",
    nothing: str = "",
) -> str:
    """The sheet. traveller: the Markdown of the new revision's, whose frame it takes; was: what is
    compared with; floor: serial and revision of the open travellers, for the boxes; nothing: what
    is said where no change can be named."""
    head, _, body = traveller.partition("\n:::\n")
    rows = dict(re.findall(r"^\| ([a-z ]+) \| (.*) \|$", head, re.MULTILINE))
    frame = head.replace("| kind | TRAVELLER |", "| kind | CHANGE SHEET |", 1)
    frame = re.sub(r"\| printed \| .* \|", f"| printed | {day} |", frame)
    # It is signed and filed as it stands, also where the new revision is not issued yet.
    frame = re.sub(r"\n\| draft \| .* \|", "", frame).replace(
        "| serial | DRAFT |", "| serial | none |"
    )
    title = body.partition("\n# ")[2].partition("\n")[0]
    values = {**_values(rows, found, was, reasons, floor), "nothing": nothing}
    told = rendered("change-sheet.md.j2", **values)
    told = re.sub(r"\A# .*\n", f"# {title}\n", told)
    return f"{frame}\n:::\n\n{told}\n# End of change sheet\n"


def _values(
    rows: Mapping[str, str],
    found: Sequence[Change],
    was: str,
    reasons: Iterable[Revision],
    floor: Sequence[Mapping[str, str]],
) -> dict[str, Any]:
    return {
        "title": "",
        "process": rows["process"],
        "was": was,
        "now": f"revision {rows['revision']}",
        "serial": "" if rows["serial"] == "DRAFT" else rows["serial"],
        "reasons": [
            {"letter": r.letter, "day": r.day.isoformat(), "changed": r.changed, "why": r.why}
            for r in reasons
        ],
        "places": [(place, list(group)) for place, group in groupby(found, key=_named)],
        "open": floor,
    }


def _named(change: Change) -> str:
    return change.place[:1].upper() + change.place[1:]
