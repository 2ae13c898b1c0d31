"""A value beyond its limit with its slip at each stage, in; what entering and closing ask for, out:
never for a slip that is there already."""

from __future__ import annotations

from pathlib import Path

from tests.commands.test_slips import close, concede, dispose, entered, run, slip

OUT = {"10 thickness": "0.96"}
ASKED = "a slip is needed"
VALUE = "operation 10, thickness: out: 0.96 mm is above 0.954"


def told(folder: Path, capsys, rework: str = "") -> tuple[str, str]:
    """What entering says of the value, and what closing says of it."""
    capsys.readouterr()
    entered(folder, OUT)
    said = [line for line in capsys.readouterr().out.split("\n") if "thickness: out" in line]
    assert run(folder, "close", "A-0001", "--on", "2026-11-26", "--stamp", "LQ1") == 1
    wrong = capsys.readouterr().err.split("\n")
    (at,) = (n for n, line in enumerate(wrong) if line.startswith(f"A-0001 {VALUE}"))
    assert said == [wrong[at].removeprefix("A-0001 ")]
    return said[0], wrong[at + 1].strip()


def test_a_value_without_a_slip_asks_for_one(issued, capsys):
    said, right = told(issued, capsys)
    assert said == f"{VALUE}: {ASKED}"
    assert right == "Right: witnessmark slip A-0001 --operation 10"


def test_a_slip_that_waits_is_named_and_no_other_asked_for(issued, capsys):
    assert slip(issued) == 0
    said, right = told(issued, capsys)
    assert said == f"{VALUE}: NC-A-0001 waits for its decision"
    assert right.startswith("Right: NC-A-0001 done with; where it is of something else, ")
    assert dispose(issued, "NC-A-0001", "use") == 0
    said, _ = told(issued, capsys)
    assert said == f"{VALUE}: NC-A-0001 waits for its concession"


def test_a_slip_that_is_decided_for_rework_says_where(issued, capsys):
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "rework") == 0
    said, _ = told(issued, capsys)
    assert said == f"{VALUE}: NC-A-0001 has it done again on R1"
    entered(issued, rework="R1")
    entered(issued, OUT)
    assert ASKED not in capsys.readouterr().out
    assert close(issued) == 0


def test_a_part_that_goes_asks_for_no_other_slip(issued, capsys):
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "scrap") == 0
    capsys.readouterr()
    entered(issued, OUT)
    assert f"{VALUE}: NC-A-0001 says that the part goes: scrap" in capsys.readouterr().out


def test_a_value_that_is_allowed_stays_so_however_it_is_written(issued, capsys):
    """0.960 is 0.96; 0.961 is another value, and wants a slip of its own."""
    entered(issued, OUT)
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "use") == 0
    assert concede(issued, "NC-A-0001") == 0
    capsys.readouterr()
    entered(issued, {"10 thickness": "0.961"}, corrects="Read again.")
    assert f"0.961 mm is above 0.954: {ASKED}" in capsys.readouterr().out
    entered(issued, {"10 thickness": "0.960"}, corrects="Written to three places.")
    assert "0.960 mm is above 0.954, its slip is done with" in capsys.readouterr().out
    assert close(issued) == 0


def test_two_slips_in_one_box_are_both_looked_up(issued, capsys):
    assert slip(issued) == 0
    assert slip(issued, what="Scratched.") == 0
    file = issued.parent / "result.yaml"
    boxes = '{traveller: {"10": {sign done: {slip no.: "NC-A-0001 and NC-A-0002; NC-A-0009"}}}}'
    file.write_text(f"traveller: A-0001\nboxes: {boxes}\n", encoding="utf-8")
    capsys.readouterr()
    assert run(issued, "enter", "A-0001", str(file), "--on", "2026-11-26", "--stamp", "LQ1") == 0
    said = [line for line in capsys.readouterr().out.split("\n") if "is no slip" in line]
    assert len(said) == 1
    assert "NC-A-0009 is no slip of A-0001" in said[0]
