"""A workshop that has a process and no lists yet, in; what each command says is missing, out: who
writes just that has a workshop."""

from __future__ import annotations

from pathlib import Path

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
    assert "no folder processes/ here" in told
    assert "cannot be read" not in told
