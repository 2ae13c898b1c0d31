"""Folders that stand beside a print, of users and of other runs, in; the print made, and all of them
left but those that killed runs of ours left, out."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from generator.beside import beside, is_room, own_room
from tests.commands.conftest import issued as issued  # fixtures
from tests.commands.conftest import issued_shop as issued_shop
from tests.commands.test_commands import run

KILLED = """
import os, sys
from pathlib import Path
from generator.beside import beside
with beside(Path(sys.argv[1])) as made:
    (made / "sheet.md").write_text("half")
    os._exit(9)
"""


def killed(folder: Path) -> None:
    ran = subprocess.run([sys.executable, "-c", KILLED, str(folder)], check=False)
    assert ran.returncode == 9


def names(place: Path) -> set[str]:
    return {each.name for each in place.iterdir()}


@pytest.mark.parametrize(
    ("words", "place"),
    [
        (("handbook",), "output"),
        (("draft", "T6-P-0120"), "output/draft"),
        (("list", "--print"), "output/draft"),
        (("dossier", "A-0001", "--into", "{shop}/papers/bag", "--on", "2026-12-01"), "papers"),
    ],
)
def test_a_print_takes_away_what_killed_runs_left_and_nothing_else(issued, words, place, capsys):
    room = issued / place
    for name in (".mine.new", ".bag.new", ".new-1-0", ".new-A-notes", ".visit.new"):
        (room / name).mkdir(parents=True)
        (room / name / "important.txt").write_text("mine", encoding="utf-8")
    killed(room / "print")
    (left,) = (each for each in room.glob(".new-*") if is_room(each))
    assert run(issued, *(word.format(shop=issued) for word in words)) == 0
    assert not left.exists()
    for name in (".mine.new", ".bag.new", ".new-1-0", ".new-A-notes", ".visit.new"):
        assert (room / name / "important.txt").read_text(encoding="utf-8") == "mine"


def test_what_a_killed_run_left_is_no_finding_on_the_record(issued, capsys):
    killed(issued / "output/handbook")
    assert run(issued, "verify") == 0
    (issued / "output/.new-1-0").mkdir()
    (issued / "output/.new-1-0/important.txt").write_text("mine", encoding="utf-8")
    assert run(issued, "verify") == 1
    assert "output/.new-1-0: unexpected" in capsys.readouterr().err


def test_two_runs_print_the_same_apart_and_the_later_stands(issued, capsys):
    place = issued / "output/draft/visit"
    with beside(place) as made:
        (made / "visit-sheet.md").write_text("of the other run", encoding="utf-8")
        assert run(issued, "list", "--print") == 0
        assert names(place) == {"visit-sheet.md", "visit-sheet.pdf"}
        assert made.exists()
    assert names(place) == {"visit-sheet.md"}
    assert not list(place.parent.glob(".new*"))


def test_a_block_that_fails_changes_nothing(tmp_path):
    place = tmp_path / "print"
    with beside(place) as made:
        (made / "sheet.md").write_text("whole", encoding="utf-8")
    with pytest.raises(ZeroDivisionError), beside(place) as made:
        (made / "sheet.md").write_text("half", encoding="utf-8")
        raise ZeroDivisionError
    assert (place / "sheet.md").read_text(encoding="utf-8") == "whole"
    assert names(tmp_path) == {"print"}


def test_a_room_without_a_mark_that_is_empty_goes_and_one_that_was_led_away_stays(tmp_path):
    (tmp_path / ".new-7-0").mkdir()
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere/.witnessmark").touch()
    os.symlink("elsewhere", tmp_path / ".new-8-0")
    with own_room(tmp_path) as room:
        assert names(tmp_path) == {room.name, "elsewhere", ".new-8-0"}
    assert names(tmp_path) == {"elsewhere", ".new-8-0"}
    assert names(tmp_path / "elsewhere") == {".witnessmark"}
