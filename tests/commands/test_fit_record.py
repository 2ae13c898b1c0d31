"""A closed traveller whose part is fitted, in; its fit record entered and judged, and what `fit` says
of another place or hand, out."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from generator.commands.enter import entries_of, form_read
from generator.commands.fit import other_side
from generator.read import read_text
from generator.record import traveller
from generator.results.form import Form
from generator.results.form_tree import form_from, of_one_sheet
from tests.commands.test_commands import committed, issue, run
from tests.commands.test_slips import close, entered

ON = ("--on", "2026-11-27", "--stamp")
PLACE = "hull, radio bay"
ROW = {"serial read off the part": "0001", "position on the airframe": PLACE,
       "date": "2026-11-27", "fitted by": "LQ14"}  # fmt: skip
SEEN = {"stamp": "INS2", "date": "2026-11-27"}
BOOKED = {"stamp": "LQ1", "date": "2026-11-27"}


@pytest.fixture
def closed(issued):
    entered(issued)
    assert close(issued) == 0
    return issued


def record(folder: Path, *more: str, sheet: str = "fit-record", **rows: dict[str, str]) -> int:
    lines = [f"      {json.dumps(name.replace('_', ' '))}: {json.dumps(row)}\n"
             for name, row in rows.items()]  # fmt: skip
    file = folder.parent / f"{folder.name}-fit.yaml"
    head = f"traveller: A-0001\nboxes:\n  {sheet}:\n    sheet:\n"
    file.write_text(head + "".join(lines), encoding="utf-8")
    return run(folder, "enter", "A-0001", str(file), *ON, "LQ14", *more)


def one(**changed: str) -> dict[str, dict[str, str]]:
    """The rows of a fit record, with other words in the row of the part."""
    own = {**ROW, **{name.replace("_", " "): word for name, word in changed.items()}}
    return {"1": own, "position and hand seen": SEEN, "entered in the build book": BOOKED}


def said(capsys) -> list[str]:
    return [line for line in capsys.readouterr().out.splitlines() if line.startswith("fit record")]


def test_the_fit_record_of_a_closed_traveller_is_entered_and_nothing_else(closed, capsys):
    assert run(closed, "fit", "A-0001", *ON, "LQ14") == 0
    assert "fit record is not entered" in capsys.readouterr().out
    assert record(closed, **one()) == 0
    history = traveller(closed, "A-0001")
    assert history.status == "closed"
    standing = entries_of(history, form_read(history))
    assert standing["fit-record", "", "1", "serial read off the part"].text == "0001"
    assert record(closed, sheet="kit-list", kit_issued=SEEN) == 1
    assert "A-0001 is closed, and takes its fit record alone" in capsys.readouterr().err
    assert run(closed, "verify") == 0


@pytest.mark.parametrize("ticks", ["none", "all", "{not: []}", "{not: [b]}", '""'])
def test_ticks_in_one_word_are_none_of_the_fit_record(closed, capsys, ticks):
    """`none` takes back what is ticked, and a list of nothing ticks all that is asked for."""
    file = closed.parent / f"{closed.name}-ticks.yaml"
    head = 'traveller: A-0001\nboxes:\n  traveller:\n    "20":\n      ticks: '
    file.write_text(f"{head}{ticks}\n", encoding="utf-8")
    words = ("enter", "A-0001", str(file), *ON, "LQ14", "--corrects", "Ticked again.")
    acts = len(traveller(closed, "A-0001").acts)
    assert run(closed, *words) == 1
    nothing = "nothing is filled in" if ticks == '""' else "takes its fit record alone"
    assert nothing in capsys.readouterr().err
    assert len(traveller(closed, "A-0001").acts) == acts


def test_a_file_of_a_closed_traveller_that_has_no_boxes_is_told(closed, capsys):
    file = closed.parent / f"{closed.name}-none.yaml"
    file.write_text("traveller: A-0001\nboxes: fit-record\n", encoding="utf-8")
    assert run(closed, "enter", "A-0001", str(file), *ON, "LQ14") == 1
    assert "there are no boxes" in capsys.readouterr().err


def test_the_form_of_a_closed_traveller_has_its_fit_record_alone(closed, capsys):
    blank = closed.parent / "blank.yaml"
    assert run(closed, "enter", "A-0001", "--blank", str(blank)) == 0
    text = blank.read_text(encoding="utf-8")
    assert "  fit-record:" in text
    assert "  kit-list:" not in text
    assert run(closed, "enter", "A-0001", str(blank), *ON, "LQ14") == 1
    assert "nothing is filled in" in capsys.readouterr().err


def test_a_sound_fit_record_has_no_findings(closed, capsys):
    assert run(closed, "fit", "A-0001", *ON, "LQ14") == 0
    capsys.readouterr()
    assert record(closed, **one()) == 0
    assert [line for line in said(capsys) if "book" not in line] == []


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"serial_read_off_the_part": "0009"}, "0009, and this traveller is of 0001"),
        ({"position_on_the_airframe": "stern"}, "stern, and the process says hull, radio bay"),
        ({"position_on_the_airframe": "stern"}, "stern, and part 0001 is recorded at hull, radio"),
        ({"fitted_by": ""}, "fitted by: empty"),
        ({"date": "2026-11-25"}, "2026-11-25 is before the close of 2026-11-26"),
        ({"date": "2026-11-28"}, "2026-11-28 is after the day of entering, 2026-11-27"),
        ({"fitted_by": "LQ99"}, "nobody holds the stamp LQ99"),
    ],
)
def test_a_fit_record_is_judged(closed, capsys, changed, says):
    assert run(closed, "fit", "A-0001", *ON, "LQ14") == 0
    capsys.readouterr()
    assert record(closed, **one(**changed)) == 0
    assert any(says in line for line in said(capsys)), changed


def test_who_saw_position_and_hand_is_waited_for(closed, capsys):
    assert record(closed, **{"1": ROW}) == 0
    told = said(capsys)
    assert "fit record, position and hand seen: stamp: empty" in told
    assert record(closed, **{"position and hand seen": {**SEEN, "stamp": "LQ14"}}) == 0
    assert any("LQ14 is of class volunteer, not inspector" in line for line in said(capsys))


def test_fit_says_where_the_place_is_another_than_the_process_and_the_record_have(closed, capsys):
    assert record(closed, **one()) == 0
    capsys.readouterr()
    words = ("--position", "stern", "--airframe", "6-04")
    assert run(closed, "fit", "A-0001", *words, *ON, "LQ14") == 0
    told = capsys.readouterr().out
    assert "airframe: 6-04, and the process says 6-03" in told
    assert "position: stern, and the process says hull, radio bay" in told
    assert f"position on the airframe: fit: {PLACE}, and part 0001 is recorded at stern" in told


def test_a_part_of_the_other_hand_is_fitted_by_the_word_of_an_inspector_alone(shop_of_hand, capsys):
    for place in ("STBD wheel bay", "RH side, frame 12", "R/H wheel bay", "wheel bay, r.h.",
                  "wheel bay (S)", "right-hand bay", "starboard wheel bay"):  # fmt: skip
        words = ("fit", "A-0001", "--position", place, *ON)
        assert run(shop_of_hand, *words, "LQ14") == 1
        told = capsys.readouterr().err
        assert f"the part is PORT, and '{place}' is STBD" in told
    assert run(shop_of_hand, *words, "INS2") == 0
    assert "the part is PORT, and 'starboard wheel bay' is STBD" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("place", "hand", "side"),
    [
        ("P side", "STBD", "PORT"), ("LH bay", "STBD", "PORT"), ("l/h bay", "STBD", "PORT"),
        ("S side", "STBD", ""), ("rh bay, right of the keel", "STBD", ""),
        ("P side, frame 12", "PORT", ""), ("bay S of frame 12, port", "PORT", ""),
        ("frame 12's rib", "PORT", ""), ("frame S12", "PORT", ""), ("keel", "PORT", ""),
    ],
)  # fmt: skip
def test_a_side_is_known_as_people_write_it(place, hand, side):
    assert other_side(place, hand) == side


@pytest.fixture
def shop_of_hand(issued_shop, tmp_path):
    """The sound shop with a shelf of the PORT side, closed as A-0001."""
    folder = tmp_path / "shop"
    shutil.copytree(issued_shop / "processes", folder / "processes")
    file = folder / "processes" / "shelf.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("hand: none", "hand: PORT", 1), encoding="utf-8")
    committed(folder)
    assert issue(folder, "T6-P-0120", "0001") == 0
    entered(folder)
    assert close(folder) == 0
    return folder


def listed(folder: Path, capsys) -> list[str]:
    capsys.readouterr()
    assert run(folder, "list", "--print", "--on", "2026-11-27") == 0
    *told, sheet = capsys.readouterr().out.splitlines()
    assert sheet.endswith("visit-sheet.pdf")
    return told


def test_a_fit_record_that_has_a_finding_waits_on_the_visit_sheet(closed, capsys):
    stamps = closed / "processes/workshop/stamps.yaml"
    text = stamps.read_text(encoding="utf-8")
    own = "  - {stamp: AR1, class: archivist, from: 2024-01-08}\n"
    stamps.write_text(text.rstrip("\n") + "\n" + own, encoding="utf-8")
    committed(closed)
    good = {**one(), "entered in the build book": {**BOOKED, "stamp": "AR1"}}
    assert run(closed, "fit", "A-0001", *ON, "LQ14") == 0
    assert listed(closed, capsys) == ["0 open, 0 at a stop"]
    assert record(closed, **{"1": {**ROW, "serial read off the part": "0077"}}) == 0
    assert run(closed, "list") == 0
    assert capsys.readouterr().out.splitlines()[-1] == "0 open, 0 at a stop", "that would take long"
    first, last = listed(closed, capsys)
    assert first == (
        f"A-0001  T6-P-0120 A  T6-120-1 0001  closed; part 0001 sits at {PLACE}: fit record, "
        "findings at 1: serial read off the part, and empty entered in the build book: stamp; "
        "entered in the build book: date; position and hand seen: stamp; position and hand seen: "
        "date; witnessmark enter A-0001 FILE --corrects WHY"
    )
    assert last == "0 open, 0 at a stop; ended ones that wait for somebody: 1"
    sheet = (closed / "output/draft/visit/visit-sheet.md").read_text(encoding="utf-8")
    assert "findings at 1: serial read off the part" in sheet
    late = {**ROW, "position on the airframe": f"late: {PLACE}, written 2026-11-27"}
    assert record(closed, "--corrects", "It was read again.", **{**good, "1": late}) == 0
    assert listed(closed, capsys) == ["0 open, 0 at a stop"]
    # What the record has of its place has changed since.
    assert run(closed, "fit", "A-0001", "--removed", "--what", "Moved.", *ON, "LQ14") == 0
    assert run(closed, "fit", "A-0001", "--position", "stern", *ON, "LQ14") == 0
    assert "fit record, findings at 1: position on the airframe" in listed(closed, capsys)[0]


def test_a_fit_record_that_a_stopped_run_has_begun_is_told_and_the_list_goes_on(
    closed, capsys, monkeypatch
):
    assert record(closed, **one()) == 0
    (*_, last) = sorted((closed / "output/completed/A-0001").glob("*-result.yaml"))
    last.write_text(last.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    assert run(closed, "list", "--print", "--on", "2026-11-27") == 1
    assert f"{last.name} is not what was recorded" in capsys.readouterr().err
    begun = {"A-0001": "A-0001 is begun; any act of desk A finishes it"}
    monkeypatch.setattr("generator.record.begun.begun_on", lambda folder: begun)
    assert listed(closed, capsys) == [f"A-0001: {begun['A-0001']}", "0 open, 0 at a stop"]


def test_the_fields_of_one_sheet_are_cut_out_of_a_frozen_form(closed):
    history = traveller(closed, "A-0001")
    text = (closed / "output/issued/A-0001/form.yaml").read_text(encoding="utf-8")
    for sheet in ("fit-record", "kit-list", "no sheet"):
        document, _ = read_text(of_one_sheet(text, sheet).encode(), "form.yaml")
        own = tuple(f for f in form_read(history).fields if f.sheet == sheet)
        assert form_from(document.tree) == Form(own, (), ())
