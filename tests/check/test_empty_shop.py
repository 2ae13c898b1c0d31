"""A workshop that has a process and no lists yet, in; what each command says is missing, out: who
writes just that has a workshop."""

from __future__ import annotations

from pathlib import Path
from shutil import copytree

import pytest

from generator.__main__ import main
from generator.workshop import open_shop
from tests.helping import SOUND


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    (tmp_path / "processes").mkdir()
    text = (SOUND / "processes/shelf.yaml").read_text(encoding="utf-8")
    (tmp_path / "processes/shelf.yaml").write_text(text, encoding="utf-8")
    return tmp_path


def test_each_missing_list_says_how_it_begins(bare):
    """The hints are written down as they stand, and read as the lists that they are for."""
    missing = {f.place.path: f for f in open_shop(bare).findings if f.code == "file"}
    assert list(missing) == [f"processes/workshop/{name}.yaml" for name in ("workshop", "stamps",
                                                                           "instruments")]  # fmt: skip
    (bare / "processes/workshop").mkdir()
    for path, finding in missing.items():
        assert finding.wrong == "the file is missing"
        shown = finding.right.partition(", such as ")[2]
        (bare / path).write_text(f"{shown}\n", encoding="utf-8")
    shop = open_shop(bare)
    assert shop.workshop is not None
    assert shop.workshop.desk == "A"
    assert [each.stamp for each in shop.workshop.stamps] == ["LQ1"]
    assert [each.number for each in shop.workshop.instruments] == ["G-101"]


@pytest.mark.parametrize("words", [
    ("check",), ("draft", "--all"), ("list",),
    ("enter", "A-0001", "x.yaml", "--on", "2026-11-26", "--stamp", "LQ1"),
])  # fmt: skip
def test_a_folder_without_processes_is_told_as_such(tmp_path, capsys, words):
    assert main(["--workshop", str(tmp_path), *words]) in (1, 2)
    told = capsys.readouterr().err
    assert f"{tmp_path}: " in told
    assert "no folder processes/ here" in told
    assert "a folder with processes/ in it" in told
    assert "--workshop FOLDER" not in told  # it was given
    assert "cannot be read" not in told


def test_without_a_folder_of_its_own_a_command_is_told_how_to_name_one(
    tmp_path, capsys, monkeypatch
):
    monkeypatch.chdir(tmp_path)
    assert main(["check"]) == 1
    assert "Right: --workshop FOLDER: a folder with processes/ in it" in capsys.readouterr().err
    assert main(["--workshop", "nowhere", "check"]) == 1
    assert "there is no such folder" in capsys.readouterr().err


NAMES = [
    ("nofile.yaml", "there is no file 'nofile.yaml'"),
    ("T6-P-0121", "no process has the number 'T6-P-0121'"),
    (str(SOUND / "processes/shelf.yaml"), "is no process file below "),
]


@pytest.mark.parametrize(("name", "says"), NAMES)
@pytest.mark.parametrize("command", [("check",), ("draft",), ("compare",)])
def test_what_names_no_process_is_told_what_it_is(tmp_path, capsys, name, says, command):
    copytree(SOUND, tmp_path / "shop")
    assert main(["--workshop", str(tmp_path / "shop"), *command, name]) == 2
    told = capsys.readouterr().err
    assert says in told
    assert "T6-P-0120" in told


DAYS = [
    ("list", "--on"), ("trace", "LQ1", "--since"), ("trace", "LQ1", "--until"),
    ("verify", "--scans-by"), ("draft", "--all", "--on"), ("enter", "A-0001", "--on"),
]  # fmt: skip


@pytest.mark.parametrize("words", DAYS, ids=lambda words: " ".join(words))
def test_a_day_that_is_none_is_refused_by_every_command(tmp_path, capsys, words):
    copytree(SOUND, tmp_path / "shop")
    assert main(["--workshop", str(tmp_path / "shop"), *words, "2026-02-30"]) == 2
    assert "2026-02-30 is no day of the calendar" in capsys.readouterr().err


def test_a_wrong_number_is_told_the_right_one_also_where_its_file_has_a_fault(tmp_path, capsys):
    """Its number was read; that the process is not sound is no reason not to offer it."""
    copytree(SOUND, tmp_path / "shop")
    (tmp_path / "shop/processes/ring.yaml").unlink()
    shelf = tmp_path / "shop/processes/shelf.yaml"
    text = shelf.read_text(encoding="utf-8")
    shelf.write_text(text.replace("trade: forming", "trade: forning"), encoding="utf-8")
    assert main(["--workshop", str(tmp_path / "shop"), "check", "T6-P-0121"]) == 2
    said = " ".join(capsys.readouterr().err.split())
    assert "no process has the number 'T6-P-0121'" in said
    assert "Right: T6-P-0120? one of: T6-P-0120" in said
