"""Entries of a traveller in a small folder, in; the facts that somebody may look for, out."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

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
    box("traveller", "remnants marked with batch and returned", kind="number", at="10"),
    box("traveller", "sign done", "stamp", "stamp", at="10"),
    box("traveller", "sign done", "date", "date", at="10"),
    *(box("heat-treatment-record", "charge", n, "date" if "due" in n else "words") for n in CHARGE),
    box("heat-treatment-record", "papers", "serials in the charge"),
    box("heat-treatment-record", "papers", "certificate no."),
)


AGAIN = (
    box("traveller", "prepared", "date", "date"),
    box("traveller", "feature 2", "micrometer no."),
    box("traveller", "feature 2", "actual", "number"),
    box("traveller", "measured", "date", "date"),
)


def rows(
    folder: Path, *entered: dict[str, Any], desks: str = "AAA", of: tuple[str, ...] = ()
) -> list[Row]:
    """of: the supplementary sheet of each entry."""
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
        place = folder / f"output/completed/A-0001/{desks[n - 1]}-{n:03d}-result.yaml"
        trees[place] = {**act, "after": [], "boxes": boxes}
        if n <= len(of) and of[n - 1]:
            trees[place]["supplement"] = of[n - 1]
            own = folder / f"output/completed/A-0001/{of[n - 1]}"
            own.mkdir()
            trees[own / "form.yaml"] = {"fields": [*FIELDS, *AGAIN]}
    for path, tree in trees.items():
        path.write_text(json.dumps(tree), encoding="utf-8")
    return [row for row in rows_of(folder, "A-0001") if row.where != "issue"]


def values(found: list[Row]) -> list[tuple[str, str]]:
    """Kind and value of what stands in the boxes."""
    return [(row.kind, row.value) for row in found if row.where != "result"]


@pytest.mark.parametrize(
    ("word", "wanted"),
    [
        ("B-22 and B-23", ["B-22", "B-23"]),
        ("B-22, B-23", ["B-22", "B-23"]),
        ("B-22 / B-23", ["B-22", "B-23"]),
        ("B-22+B-23 & B-24", ["B-22", "B-23", "B-24"]),
        ("late: B-22 and B-23, written 26 NOV 2026", ["B-22", "B-23"]),
        ("RC/22", ["RC/22"]),
        ("brand-new", ["brand-new"]),
    ],
)
def test_two_batches_in_one_box_are_found_each_by_itself(tmp_path: Path, word, wanted):
    """Who asks for one of them finds it exactly on another traveller, and this one with it."""
    found = values(rows(tmp_path, {"traveller": {"sheet": {RIVETS: word}}}))
    assert found == [("batch", each) for each in wanted]


@pytest.mark.parametrize("word", ["left blank", " left blank ", "unreadable", "N/A: lost"])
def test_what_was_taken_back_is_found_no_more(tmp_path: Path, word):
    """Neither is the word by which it was taken back."""
    first = {"sheet": {RIVETS: "B-22"}, "10": {"micrometer no.": "M-02", "thickness": ["1", "2"]}}
    back = {"sheet": {RIVETS: word}, "10": {"thickness": ["1.1", word]}}
    found = rows(tmp_path, {"traveller": first}, {"traveller": back})
    assert values(found) == [("instrument", "M-02")]
    assert [row.note for row in found if row.kind == "instrument"] == ["thickness 1.1"]
    whole = {"traveller": {"10": {"thickness": word, "micrometer no.": "M-03"}}}
    found = rows(tmp_path / "other", {"traveller": first}, whole)
    assert [row.note for row in found if row.kind == "instrument"] == [""]


def test_a_count_of_things_with_a_batch_is_no_batch(tmp_path: Path):
    counted = {"10": {"remnants marked with batch and returned": "3"}}
    assert values(rows(tmp_path, {"traveller": counted})) == []


def test_a_line_that_is_a_box_for_its_batch_alone_is_a_batch(tmp_path: Path):
    assert values(rows(tmp_path, {"traveller": {"sheet": {RIVETS: "B-22"}}})) == [("batch", "B-22")]


HEAT = "heat-treatment-record"


def test_of_a_charge_its_number_its_furnace_and_its_coupon_are_told(tmp_path: Path):
    told = ("CH-77", "F-1", "2027-05-01", "CP-1", "1.21")
    papers = {"serials in the charge": "0001", "certificate no.": "HTC-77"}
    sheet = {"charge": dict(zip(CHARGE, told, strict=True)), "papers": papers}
    assert values(rows(tmp_path, {HEAT: {"sheet": sheet}})) == [
        ("charge", "CH-77"), ("furnace", "F-1"), ("coupon", "CP-1"), ("certificate", "HTC-77"),
    ]  # fmt: skip


def test_a_fact_of_a_rework_sheet_says_so_and_has_the_day_of_who_measured(tmp_path: Path):
    """Its own boxes call the sheet a traveller, and it was prepared days before."""
    again = {
        "prepared": {"date": "2026-11-19"},
        "feature 2": {"micrometer no.": "M-02", "actual": "1.2"},
        "measured": {"date": "2026-11-22"},
    }
    first = {"traveller": {"sheet": {RIVETS: "B-22"}}}
    found = rows(tmp_path, first, {"traveller": {"sheet": again}}, of=("", "R1"))
    told = {row.value: (row.where, row.day) for row in found if row.kind in ("batch", "instrument")}
    assert told == {
        "B-22": (f"traveller, {RIVETS}", "2026-11-21"),
        "M-02": ("sheet R1, feature 2: micrometer no.", "2026-11-22"),
    }


SIGNED = {"stamp": "LQ14", "date": "2026-11-20"}
TYPED = {"micrometer no.": "M-02", "thickness": ["1.21", "1.20"], "sign done": SIGNED}


def test_what_was_corrected_is_told_once_as_it_stands(tmp_path: Path):
    """A recall of M-02 is none of this part; what was read with M-01 stands in the first file."""
    found = rows(
        tmp_path, {"traveller": {"10": TYPED}}, {"traveller": {"10": {"micrometer no.": "M-01"}}}
    )
    (row,) = [row for row in found if row.kind == "instrument"]
    assert (row.value, row.day) == ("M-01", "2026-11-20")
    assert row.note == "thickness 1.21; thickness 1.20"
    assert row.file.endswith("A-002-result.yaml")
    assert [row.value for row in found if row.kind == "stamp" and row.operation] == ["LQ14"]


def test_the_later_word_is_the_later_one_at_whatever_desk(tmp_path: Path):
    first, later = ({"traveller": {"10": {"micrometer no.": no}}} for no in ("M-02", "M-01"))
    assert values(rows(tmp_path, first, later, desks="BA")) == [("instrument", "M-01")]


def test_the_same_file_with_one_word_corrected_is_told_once(tmp_path: Path):
    again = {**TYPED, "micrometer no.": "M-01", "thickness": {"1": "1.22", "2": ""}}
    found = rows(tmp_path, {"traveller": {"10": TYPED}}, {"traveller": {"10": again}})
    assert values(found) == [("instrument", "M-01"), ("stamp", "LQ14")]
    assert found[-2].note == "thickness 1.22; thickness 1.20"


def test_what_was_written_off_later_is_told_no_more(tmp_path: Path):
    first = {"traveller": {"10": {"micrometer no.": "M-02"}, "sheet": {RIVETS: "B-22"}}}
    later = {"traveller": {"10": {"micrometer no.": "N/A: none"}, "sheet": {RIVETS: ""}}}
    assert values(rows(tmp_path, first, later)) == [("batch", "B-22")]


def test_a_list_and_names_for_the_boxes_of_a_row_are_the_same_boxes(tmp_path: Path):
    gone = {"traveller": {"10": {"thickness": "N/A: no gauge", "sign done": ""}}}
    found = rows(tmp_path, {"traveller": {"10": TYPED}}, gone)
    assert [row.note for row in found if row.kind == "instrument"] == [""]
