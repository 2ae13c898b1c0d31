"""Lists that somebody changed by hand, in; no act is judged by them, out."""

from __future__ import annotations

import subprocess
from hashlib import sha256
from pathlib import Path

import pytest

from generator.record import traveller
from tests.commands.test_commands import issue, run
from tests.commands.test_slips import ON, close, concede, dispose, entered, slip
from tests.commands.test_trust import merged
from tests.commands.test_trust import two as two  # the fixture
from tests.record.conftest import run_git

ISSUED = "output/processes/T6-P-0120/issued-A.txt"
REGISTER = "output/register-A.txt"
RESULT = "output/completed/A-0001/A-001-result.yaml"


def swapped(folder: Path, path: str, old: str, new: str) -> None:
    file = folder / path
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def sum_of(folder: Path, path: str) -> str:
    return sha256((folder / path).read_bytes()).hexdigest()


def test_a_scrapped_part_comes_to_no_bench_by_a_line_that_was_taken_out(two, capsys):
    here, there = two
    assert slip(here) == 0
    assert dispose(here, "NC-A-0001", "scrap") == 0
    merged(there, here)
    swapped(there, ISSUED, "A-0001 A 0001\n", "")
    assert issue(there, "T6-P-0120", "0001", on="2026-11-27") == 1
    assert f"{ISSUED}: it is not what git holds" in capsys.readouterr().err
    assert not (there / "output/issued/B-0001").exists()
    run_git(there, "checkout", "HEAD", "--", ISSUED)
    assert issue(there, "T6-P-0120", "0001", on="2026-11-27") == 1
    assert "part 0001 went by NC-A-0001: scrap" in capsys.readouterr().err


def test_a_decision_that_was_changed_with_its_sum_carries_no_concession(two, capsys):
    here, there = two
    assert slip(here) == 0
    assert dispose(here, "NC-A-0001", "scrap") == 0
    merged(there, here)
    act = "output/completed/A-0001/A-002-dispose.yaml"
    before = sum_of(there, act)
    swapped(there, act, "decision: scrap", "decision: use")
    swapped(there, REGISTER, before, sum_of(there, act))
    assert concede(there, "NC-A-0001") == 1
    assert f"{REGISTER}: it is not what git holds" in capsys.readouterr().err
    assert not (there / "output/register-B.txt").exists()


@pytest.mark.parametrize("listed", ["output/register-B.txt", REGISTER])
def test_a_result_with_a_second_sum_closes_nothing(issued, listed, capsys):
    entered(issued, {"10 thickness": "0.999"})
    swapped(issued, RESULT, "0.999", "0.914")
    with (issued / listed).open("a", encoding="utf-8") as file:
        file.write(f"{sum_of(issued, RESULT)}  {RESULT}\n")
    run_git(issued, "add", "output")
    run_git(issued, "commit", "-qm", "As measured")
    for words in (("close", "A-0001", *ON, "LQ1"), ("list",)):
        assert run(issued, *words) == 1
        said = capsys.readouterr().err
        assert f"the lists name {RESULT} twice, with different sums" in said
    assert traveller(issued, "A-0001").status == "open"


def test_sums_of_a_folder_say_nothing_of_another(issued, capsys):
    """A folder that was made by hand, in a register of its own, gives no file a second sum."""
    entered(issued, {"10 thickness": "0.999"})
    swapped(issued, RESULT, "0.999", "0.914")
    sums = "output/completed/A-0001/R9/sums.txt"
    (issued / sums).parent.mkdir()
    (issued / sums).write_text(f"{sum_of(issued, RESULT)}  {RESULT}\n", encoding="utf-8")
    row = f"{sum_of(issued, sums)}  {sums}\n"
    (issued / "output/register-B.txt").write_text(row, encoding="utf-8")
    run_git(issued, "add", "output")
    run_git(issued, "commit", "-qm", "As measured")
    assert close(issued) == 1
    assert f"{RESULT} is not what was recorded" in capsys.readouterr().err


def approved_by_hand(folder: Path) -> str:
    place = folder / "output/processes/T6-P-0120"
    (place / "A-002-approve.yaml").write_bytes((place / "A-001-approve.yaml").read_bytes())
    return "A-002-approve.yaml stands in no list"


def not_withdrawn(folder: Path) -> str:
    words = ("withdraw", "T6-P-0120", "--why", "Wrong sheet.", *ON, "LQ1")
    assert run(folder, *words) == 0
    (folder / "output/processes/T6-P-0120/A-002-withdraw.yaml").unlink()
    return "A-002-withdraw.yaml is not there"


def approved_by_another(folder: Path) -> str:
    swapped(folder, "output/processes/T6-P-0120/A-001-approve.yaml", "by: LQ14", "by: INS2")
    return "A-001-approve.yaml is not what was recorded"


@pytest.mark.parametrize("changed", [approved_by_hand, not_withdrawn, approved_by_another])
def test_nothing_is_issued_by_acts_on_a_process_that_were_changed(issued, changed, capsys):
    says = changed(issued)
    capsys.readouterr()
    assert issue(issued, "T6-P-0120", "0002", on="2026-11-26") == 1
    assert f"output/processes/T6-P-0120/{says}" in capsys.readouterr().err


def test_a_list_that_nobody_committed_stops_every_desk(issued, capsys):
    (issued / "output/slips-C.txt").write_text("NC-C-0001 A-0001 10 Thin.\n", encoding="utf-8")
    assert slip(issued) == 1
    assert "output/slips-C.txt: git holds no such list" in capsys.readouterr().err


def test_lists_of_another_desk_that_came_by_git_are_worked_with(two, tmp_path):
    here, there = two
    assert issue(there, "T6-P-0120", "0009", on="2026-11-26") == 0
    merged(here, there)
    assert issue(here, "T6-P-0120", "0010", on="2026-11-26") == 0
    third = tmp_path / "third"
    subprocess.run(["git", "clone", "-q", str(here), str(third)], check=True)
    run_git(third, "config", "witnessmark.desk", "C")
    assert issue(third, "T6-P-0120", "0011", on="2026-11-26") == 0
    merged(there, third)
    assert issue(there, "T6-P-0120", "0012", on="2026-11-26") == 0
    assert run(there, "verify", "--whole-history") == 0
