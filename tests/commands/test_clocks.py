"""A traveller whose clocks break a window, in; told at entry, decided on a slip, closed, out."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from tests.commands.test_commands import SOUND, committed, issue, run
from tests.commands.test_slips import ON, close, concede, dispose, entered, slip

MEASURE = "    do: Measure the sheet at four places.\n"
CUT = "    do: Cut the blank to {{ flat.length }}.\n"
CLOCK = "    clock: [mixed, {label: pot life ends, add: 20 min}, {label: closed, not after: pot life ends}]\n"


@pytest.fixture
def clocked(tmp_path: Path) -> Path:
    """The sound shop with a window of 20 minutes at operation 10, issued as A-0001."""
    return shop(tmp_path, CLOCK)


def shop(tmp_path: Path, at_10: str, at_20: str = "", kind: str = "measure") -> Path:
    """The sound shop with clocks at two operations and another kind of the first."""
    folder = tmp_path / "shop"
    shutil.copytree(SOUND, folder)
    file = folder / "processes" / "shelf.yaml"
    text = file.read_text(encoding="utf-8").replace("process: T6-P-0310", "evidence: EV-0310")
    assert text.count(f"kind: measure\n{MEASURE}") == text.count(CUT) == 1
    text = text.replace(f"kind: measure\n{MEASURE}", f"kind: {kind}\n{MEASURE}{at_10}")
    file.write_text(text.replace(CUT, CUT + at_20), encoding="utf-8")
    committed(folder)
    assert issue(folder, "T6-P-0120", "0001") == 0
    return folder


def enters(folder: Path, boxes: dict, supplement: str = "") -> None:
    """Correct what stands in some boxes."""
    file = folder.parent / "corrected.yaml"
    named = f"A-0001 {supplement}".strip()
    file.write_text(json.dumps({"traveller": named, "boxes": boxes}), encoding="utf-8")
    words = ["enter", "A-0001", str(file), "--corrects", "Read again.", *ON, "LQ1"]
    assert run(folder, *words, *(["--supplement", supplement] if supplement else [])) == 0


def test_a_window_that_was_kept_is_closed_without_a_word(clocked):
    entered(clocked)
    assert close(clocked) == 0


def test_a_time_beyond_its_window_is_told_and_takes_the_way_of_a_slip(clocked, capsys):
    entered(clocked, {"10 closed": "10:21"})
    said = "10:21 is after pot life ends, 2026-11-26 10:20: a slip is needed"
    assert f"operation 10, closed: out: 2026-11-26 {said}" in capsys.readouterr().out
    assert close(clocked) == 1
    assert said in capsys.readouterr().err
    assert slip(clocked, what="Closed a minute late.") == 0
    assert dispose(clocked, "NC-A-0001", "use") == 0
    capsys.readouterr()
    assert concede(clocked, "NC-A-0001") == 0
    assert "allowed: closed: 2026-11-26 10:21" in capsys.readouterr().out
    assert close(clocked) == 0


def test_a_clock_without_a_time_is_an_empty_box(clocked, capsys):
    entered(clocked, {"10 closed": "N/A: nobody looked"})
    assert close(clocked) == 1
    assert "no line of the sheet gives its reason" in capsys.readouterr().err


WAIT = "    clock: [applied, {label: dry, add: 7 h}]\n"
BEGUN = "    clock: [begun]\n"


def waited(begins: str, ends: str) -> dict[str, dict[str, str]]:
    day = "2026-11-26"
    return {
        "applied": {"time": begins, "day": day},
        "dry": {"from": begins, "from day": day, "to": ends, "to day": day},
    }


def test_a_wait_that_is_written_on_another_sheet_is_a_wait(tmp_path, capsys):
    kind = "wait\n    recorded on: functional test sheet"
    folder = shop(tmp_path, WAIT, BEGUN, kind)
    entered(folder)
    enters(folder, {"functional-test-sheet": {"10": waited("10:00", "17:00")},
                    "traveller": {"20": {"begun": "11:00"}}})  # fmt: skip
    assert close(folder) == 1
    said = "operation 20, begun: out: 2026-11-26 11:00, and the wait of operation 10 ends "
    assert f"{said}2026-11-26 17:00: a slip is needed" in capsys.readouterr().err
    enters(folder, {"traveller": {"20": {"begun": "17:00"}}})
    assert close(folder) == 0


def test_what_was_begun_before_the_end_of_a_wait_is_settled_by_rework_behind_it(tmp_path, capsys):
    folder = shop(tmp_path, WAIT, BEGUN, "wait")
    entered(folder)
    enters(folder, {"traveller": {"10": waited("10:00", "17:00"), "20": {"begun": "11:00"}}})
    assert slip(folder, operation="20", what="Begun too early.") == 0
    assert dispose(folder, "NC-A-0001", "rework") == 0
    entered(folder, {}, "R1")
    enters(folder, {"traveller": {"20R1": {"begun": "12:00"}}}, "R1")
    capsys.readouterr()
    assert close(folder) == 1
    assert "A-0001 R1 operation 20R1, begun: out: 2026-11-26 12:00" in capsys.readouterr().err
    enters(folder, {"traveller": {"20R1": {"begun": "18:00"}}}, "R1")
    assert close(folder) == 0


def test_a_wait_with_a_window_behind_it_that_was_kept_is_closed(tmp_path):
    ends = "    clock: [applied, {label: tacky, add: 15 min}, {label: too dry, add: 45 min}]\n"
    joins = "    clock: [{label: joined, not before: tacky, not after: too dry}]\n"
    folder = shop(tmp_path, ends, joins, "wait")
    entered(folder, {"20 joined": "10:25"})
    assert close(folder) == 0


def test_what_a_number_with_a_second_unit_adds_can_be_closed(tmp_path):
    folder = tmp_path / "shop"
    shutil.copytree(SOUND, folder)
    units = folder / "processes" / "workshop" / "workshop.yaml"
    units.write_text(units.read_text(encoding="utf-8") + "also in: {h: min}\n", encoding="utf-8")
    file = folder / "processes" / "shelf.yaml"
    text = file.read_text(encoding="utf-8").replace("process: T6-P-0310", "evidence: EV-0310")
    text = text.replace("work out:\n", "  cure: {is: 2 h, from: judgement}\nwork out:\n", 1)
    clock = "    clock: [applied, {label: dry, add: cure}]\n"
    file.write_text(text.replace(MEASURE, MEASURE + clock), encoding="utf-8")
    committed(folder)
    assert issue(folder, "T6-P-0120", "0001") == 0
    entered(folder)
    enters(folder, {"traveller": {"10": {"dry": {"to": "12:05"}}}})
    assert close(folder) == 1
    enters(folder, {"traveller": {"10": {"dry": {"to": "12:00"}}}})
    assert close(folder) == 0


@pytest.mark.parametrize("named", [False, True])
def test_a_time_is_conceded_on_its_day_and_on_no_other(tmp_path, capsys, named):
    ends = "    clock: [mixed, {label: pot life ends, add: 8 h}]\n"
    folder = shop(tmp_path, ends, "    clock: [{label: closed, not after: pot life ends}]\n")
    entered(folder)
    mixed = waited("08:00", "16:00")
    at_10 = {"mixed": mixed["applied"], "pot life ends": mixed["dry"]}
    closed = {"closed": {"time": "16:05", "day": "2026-11-26"}}
    enters(folder, {"traveller": {"10": at_10, "20": closed}})
    assert slip(folder, operation="20", what="Closed 5 min late.") == 0
    assert dispose(folder, "NC-A-0001", "use") == 0
    words = ["concede", "NC-A-0001", "--what", "It was still soft.", *ON, "INS2"]
    if named:
        assert run(folder, *words, "--covers", "closed: time=16:05") == 2
        assert "no time with its day" in capsys.readouterr().err
        words += ["--covers", "closed: time=26 NOV 2026 16:05"]
    capsys.readouterr()
    assert run(folder, *words) == 0
    assert capsys.readouterr().out.count("allowed: closed time: 2026-11-26 16:05") == 1
    closed["closed"]["day"] = "2026-11-27"
    enters(folder, {"traveller": {"20": closed}})
    assert close(folder) == 1
    closed["closed"]["day"] = "2026-11-26"
    enters(folder, {"traveller": {"20": closed}})
    assert close(folder) == 0
