"""A traveller whose clocks break a window, in; told at entry, decided on a slip, closed, out."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.commands.test_commands import SOUND, committed, issue
from tests.commands.test_slips import close, concede, dispose, entered, slip

MEASURE = "    do: Measure the sheet at four places.\n"
CLOCK = "    clock: [mixed, {label: pot life ends, add: 20 min}, {label: closed, not after: pot life ends}]\n"


@pytest.fixture
def clocked(tmp_path: Path) -> Path:
    """The sound shop with a window of 20 minutes at operation 10, issued as A-0001."""
    folder = tmp_path / "shop"
    shutil.copytree(SOUND, folder)
    file = folder / "processes" / "shelf.yaml"
    text = file.read_text(encoding="utf-8").replace("process: T6-P-0310", "evidence: EV-0310")
    assert text.count(MEASURE) == 1
    file.write_text(text.replace(MEASURE, MEASURE + CLOCK), encoding="utf-8")
    committed(folder)
    assert issue(folder, "T6-P-0120", "0001") == 0
    return folder


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
    assert "allowed: closed: 10:21" in capsys.readouterr().out
    assert close(clocked) == 0


def test_a_clock_without_a_time_is_an_empty_box(clocked, capsys):
    entered(clocked, {"10 closed": "N/A: nobody looked"})
    assert close(clocked) == 1
    assert "no line of the sheet gives its reason" in capsys.readouterr().err
