"""Entries of a traveller in a small folder, in; the facts that somebody may look for, out."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from generator.record.facts_of import Row, rows_of

RIVETS = "3 rivet 1/8 in, code 5 (single use)"
CHARGE = ("no.", "furnace or bath no.", "its check due", "coupon no.", "thickness measured, mm")


def box(sheet: str, row: str, name: str = "", kind: str = "words", at: str = "") -> dict[str, Any]:
    told = {"sheet": sheet, "operation": at, "row": row, "name": name, "kind": kind}
    return {k: v for k, v in told.items() if v} | {"boxes": [name or "batch"]}


FIELDS = (
    box("traveller", RIVETS),
    box("traveller", "micrometer no.", at="10"),
    box("traveller", "thickness", "1", "number", at="10"),
    box("traveller", "thickness", "2", "number", at="10"),
    box("traveller", "sign done", "stamp", "stamp", at="10"),
    box("traveller", "sign done", "date", "date", at="10"),
    *(box("heat-treatment-record", "charge", n, "date" if "due" in n else "words") for n in CHARGE),
    box("heat-treatment-record", "papers", "serials in the charge"),
    box("heat-treatment-record", "papers", "certificate no."),
)


def rows(folder: Path, *entered: dict[str, Any]) -> list[Row]:
    issued = folder / "output/issued/A-0001"
    (issued / "workshop").mkdir(parents=True)
    (folder / "output/completed/A-0001").mkdir(parents=True)
    trees: dict[Path, Any] = {
        issued / "facts.yaml": {"process": "T6-P-0120", "revision": "A"},
        issued / "process.yaml": {"process": "T6-P-0120"},
        issued / "form.yaml": {"fields": FIELDS},
        issued / "workshop/instruments.yaml": {"instruments": [{"kind": "micrometer"}]},
    }
    for n, boxes in enumerate(entered, start=1):
        act = {"act": "result", "traveller": "A-0001", "on": f"2026-11-{20 + n}", "by": "LQ1"}
        place = folder / f"output/completed/A-0001/A-{n:03d}-result.yaml"
        trees[place] = {**act, "after": [], "boxes": boxes}
    for path, tree in trees.items():
        path.write_text(json.dumps(tree), encoding="utf-8")
    return [row for row in rows_of(folder, "A-0001") if row.where != "issue"]


def values(found: list[Row]) -> list[tuple[str, str]]:
    return [(row.kind, row.value) for row in found if row.where not in ("issue", "result")]


def test_a_line_that_is_a_box_for_its_batch_alone_is_a_batch(tmp_path: Path):
    assert values(rows(tmp_path, {"traveller": {"sheet": {RIVETS: "B-22"}}})) == [("batch", "B-22")]
