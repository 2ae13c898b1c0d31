"""Two clones of a workshop, each a desk, in; both records in one, whichever is merged, out."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from generator.record import traveller
from tests.commands.test_commands import approve, issue, run
from tests.commands.test_commands import shop as shop  # the fixture
from tests.record.conftest import run_git

ON = ("--on", "2026-11-26", "--stamp", "LQ1")


@pytest.fixture
def two(shop: Path, tmp_path_factory) -> tuple[Path, Path]:
    """Desk A, and its clone as desk B; both have approved the same process."""
    approve(shop, "T6-P-0120")
    other = tmp_path_factory.mktemp("clone") / "shop"
    subprocess.run(["git", "clone", "-q", str(shop), str(other)], check=True)
    for folder, name in ((shop, "A"), (other, "B")):
        run_git(folder, "config", "user.name", f"Desk {name}")
        run_git(folder, "config", "user.email", f"{name}@workshop.invalid")
    run_git(other, "config", "witnessmark.desk", "B")
    return shop, other


def test_a_clone_that_takes_no_letter_of_its_own_is_refused(two, capsys):
    run_git(two[1], "config", "--unset", "witnessmark.desk")
    assert issue(two[1], "T6-P-0120", "0001", on="2026-11-26") == 1
    said = capsys.readouterr().err
    assert "this clone never wrote as desk A, and another did" in said
    assert "git config witnessmark.desk B" in said


def work(folder: Path, desk: str, first: int) -> None:
    """Two travellers of a desk, a slip on one, the other withdrawn."""
    for number in (first, first + 1):
        assert issue(folder, "T6-P-0120", f"{number:04d}", on="2026-11-26") == 0
    words = ("--operation", "10", "--what", "Thin.")
    assert run(folder, "slip", f"{desk}-0001", *words, *ON) == 0
    assert run(folder, "withdraw", f"{desk}-0002", "--why", "Wrong.", *ON) == 0


@pytest.mark.parametrize("into", [0, 1])
def test_two_clones_merged_either_way_are_one_clean_record(two, into, capsys):
    work(two[0], "A", 1)
    work(two[1], "B", 11)
    here, there = two[into], two[1 - into]
    run_git(here, "pull", "-q", "--no-rebase", "--no-edit", str(there), "main")
    for desk in "AB":
        assert traveller(here, f"{desk}-0002").status == "withdrawn"
    capsys.readouterr()
    assert run(here, "verify", "--whole-history") == 0, capsys.readouterr().err
    listed = (here / "output/slips-B.txt").read_text(encoding="utf-8")
    assert listed == "NC-B-0001 B-0001 10 Thin.\n"
    mine = "AB"[into]
    assert issue(here, "T6-P-0120", "0021", on="2026-11-27") == 0
    assert traveller(here, f"{mine}-0003").status == "open"
    assert run(here, "verify", "--whole-history") == 0
