"""Days that lie behind the day on which they were entered, in; findings that time does not heal,
out."""

from __future__ import annotations

from pathlib import Path

from tests.commands.test_commands import run

SIGN = '"sign done": {"done by volunteer stamp": LQ14, "done by volunteer date": %s}'
WRONG = "2026-12-01 is after the day of entering, 2026-11-30"

THICKNESS = '    "10":\n      "thickness": "%s"\n'


def enter(folder: Path, day: str, on: str, *more: str, beside: str = "") -> int:
    file = folder.parent / f"{folder.name}-day.yaml"
    text = f'traveller: A-0001\nboxes:\n  traveller:\n    "20":\n      {SIGN % day}\n{beside}'
    file.write_text(text, encoding="utf-8")
    return run(folder, "enter", "A-0001", str(file), "--on", on, "--stamp", "LQ1", *more)


def closes(folder: Path, capsys, on: str = "2026-12-02") -> str:
    capsys.readouterr()
    assert run(folder, "close", "A-0001", "--on", on, "--stamp", "LQ1") == 1
    return capsys.readouterr().err


def test_a_day_behind_the_day_of_its_entering_stays_a_finding(issued, capsys):
    assert enter(issued, "2026-12-01", "2026-11-30") == 0
    assert WRONG in capsys.readouterr().out
    assert enter(issued, "2026-12-01", "2026-12-02") == 0
    told = capsys.readouterr().out
    assert "nothing is recorded" in told
    assert WRONG in told
    assert WRONG in closes(issued, capsys)
    # Typed once more in a form that has more boxes by then, it was still written before its day.
    more = '      "operation": {"20 done": x}\n'
    assert enter(issued, "2026-12-01", "2026-12-02", beside=more) == 0
    assert WRONG in capsys.readouterr().out
    assert WRONG in closes(issued, capsys)


def test_a_day_of_entering_that_was_mistyped_is_corrected_by_a_word(issued, capsys):
    assert enter(issued, "2026-12-01", "2026-11-30") == 0
    assert enter(issued, "2026-12-01", "2026-12-02", "--corrects", "It was entered today.") == 0
    assert "after the day of entering" not in capsys.readouterr().out.partition("--corrects")[2]
    assert "after the day of entering" not in closes(issued, capsys)


def test_a_correction_of_something_else_dates_nothing_else_anew(issued, capsys):
    """The same file with another thickness says nothing new of the day."""
    assert enter(issued, "2026-12-01", "2026-11-30", beside=THICKNESS % "0.914") == 0
    assert WRONG in capsys.readouterr().out
    words = ("--corrects", "Read again.")
    assert enter(issued, "2026-12-01", "2026-12-02", *words, beside=THICKNESS % "0.915") == 0
    assert WRONG in capsys.readouterr().out
    assert WRONG in closes(issued, capsys)
    # Nor does what is taken back where nothing stands; the day alone, as it is, does.
    blank = '    "10":\n      "micrometer no.": left blank\n'
    assert enter(issued, "2026-12-01", "2026-12-02", *words, beside=blank) == 0
    assert "after the day of entering" not in closes(issued, capsys)


def test_a_day_that_is_corrected_is_judged_by_the_day_of_its_correction(issued, capsys):
    assert enter(issued, "2026-12-01", "2026-11-30") == 0
    assert enter(issued, "2026-11-30", "2026-12-02", "--corrects", "Misread.") == 0
    assert "after the day of entering" not in closes(issued, capsys)
