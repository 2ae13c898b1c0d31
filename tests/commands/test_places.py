"""A workshop below the top of its git, by every name that a user may type for it, in; the same record
by each of them, out."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.commands.test_commands import committed, issue, run
from tests.faults.acts import before, doing
from tests.record.conftest import run_git
from tests.record.whole import ON, unissued, worked

# Where the user stands, seen from the top of git; what is typed for the folder; its name.
TYPED = (
    ("..", "top/{name}", "werkstatt"),
    (".", "{name}", "werkst\u00e4tte 2"),
    ("{name}/processes", "../../{name}", '"Halle" \u20307'),
)


def shop_in(top: Path, name: str) -> Path:
    """A workshop with nothing issued, in a folder of a git work tree."""
    unissued(top / name)
    committed(top)
    return top / name


@pytest.mark.parametrize(("at", "typed", "name"), TYPED)
def test_one_of_everything_is_recorded_by_any_name_of_the_folder(
    tmp_path, monkeypatch, capsys, at, typed, name
):
    shop_in(tmp_path / "top", name)
    monkeypatch.chdir(tmp_path / "top" / at.format(name=name))
    folder = worked(Path(typed.format(name=name)))
    assert run(folder, "reprint", "A-0001", "--why", "Torn.", *ON) == 0
    shutil.rmtree(folder / "output/draft")
    (folder / "output/issued/A-0001/traveller.pdf").unlink()
    assert run(folder, "reprint", "A-0001", "--restore") == 0
    assert run(folder, "list") == 0
    capsys.readouterr()
    assert run(folder, "verify", "--whole-history") == 0, capsys.readouterr().err
    assert run_git(folder, "status", "--porcelain", "--", ".") == ""


@pytest.mark.parametrize("act", ["issue", "rework", "adopt", "replace"])
def test_an_act_is_recorded_from_inside_the_folder(tmp_path, monkeypatch, capsys, act):
    """The folder that is typed most: none at all."""
    shop = shop_in(tmp_path / "top", TYPED[1][2])
    assert issue(shop, "T6-P-0120", "0001") == 0
    before(shop, act, tmp_path)
    monkeypatch.chdir(shop)
    capsys.readouterr()
    assert doing(Path("."), act, tmp_path)() == 0, capsys.readouterr().err
    assert run(Path("."), "verify", "--whole-history") == 0, capsys.readouterr().err
