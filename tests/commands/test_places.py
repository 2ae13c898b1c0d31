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


# By the oddest name in `make test`, by the others in `make prove`.
@pytest.mark.parametrize(
    ("at", "typed", "name"),
    [*(pytest.param(*each, marks=pytest.mark.prove) for each in TYPED[:-1]), TYPED[-1]],
)
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


@pytest.mark.parametrize("name", ["werkstatt", "werkst\u00e4tte", "a\tb", '"Halle"'])
def test_a_traveller_that_was_taken_out_of_all_lists_is_told(tmp_path, capsys, name):
    """Whatever the folder is called: git writes other signs than ASCII as codes, unless told."""
    shop = shop_in(tmp_path / "top", name)
    for serial in ("0001", "0002"):
        assert issue(shop, "T6-P-0120", serial) == 0
    run_git(shop, "rm", "-rq", "output/issued/A-0002")
    lists = ("output/register-A.txt", "output/processes/T6-P-0120/issued-A.txt")
    for file in (shop / each for each in lists):
        rows = file.read_text(encoding="utf-8").splitlines(keepends=True)
        file.write_text("".join(row for row in rows if "A-0002" not in row), encoding="utf-8")
    run_git(shop, "commit", "-qam", "Tidy")
    for more in ((), ("--whole-history",)):
        capsys.readouterr()
        assert run(shop, "verify", *more) == 1
        said = capsys.readouterr().err
        assert all(f"{each}: rewritten: what commit" in said for each in lists)


def test_any_file_of_the_users_and_any_setting_of_git_log_is_read(tmp_path, capsys):
    """Its name, or what the user has git show, is not taken for a line of git's own."""
    shop = shop_in(tmp_path / "top", "shop")
    for name in (":note.md", "two words", "one\nline", f"{'a' * 40} {'b' * 40}"):
        (shop / name).write_text("mine\n", encoding="utf-8")
    for setting in ("log.showSignature", "diff.relative"):
        run_git(shop, "config", setting, "true")
    run_git(shop, "config", "log.diffMerges", "off")
    run_git(shop, "add", ".")
    run_git(shop, "commit", "-qm", "Mine")
    assert issue(shop, "T6-P-0120", "0001") == 0
    assert run(shop, "verify", "--whole-history") == 0
