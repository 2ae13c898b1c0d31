"""Files that no register names, or that are not what it says, in; no act is judged by them, out."""

from __future__ import annotations

import shutil
from hashlib import sha256
from pathlib import Path

import pytest

from tests.commands.test_commands import issue, run
from tests.commands.test_slips import ON, entered
from tests.record.conftest import run_git

CLOSED = "output/completed/A-0001/A-002-close.yaml"


def forged(folder: Path, path: str, kind: str, **own: str) -> bytes:
    """An act on A-0001 that nobody recorded."""
    told = {"act": kind, "traveller": "A-0001", "on": "2026-11-26", "by": "LQ1", **own}
    content = "".join(f"{key}: '{word}'\n" for key, word in told.items()).encode()
    (folder / path).parent.mkdir(parents=True, exist_ok=True)
    (folder / path).write_bytes(content)
    return content


@pytest.mark.parametrize("name", ["register-A.txt.orig", "register-A.txt~", "register-a.txt"])
def test_a_file_beside_a_register_is_none_and_nobody_believes_it(issued, name, capsys):
    entered(issued)
    content = forged(issued, CLOSED, "close")
    row = f"{sha256(content).hexdigest()}  {CLOSED}\n"
    (issued / "output" / name).write_text(row, encoding="utf-8")
    for words in (("fit", "A-0001", *ON, "LQ14"), ("list",)):
        capsys.readouterr()
        assert run(issued, *words) == 1
        assert f"{CLOSED} stands in no list" in capsys.readouterr().err
    assert not list((issued / "output/completed/A-0001").glob("*-fit.yaml"))
    assert run(issued, "verify") == 1
    assert f"output/{name}: unexpected" in capsys.readouterr().err


def test_a_file_beside_the_list_of_a_process_is_none(issued, capsys):
    place = issued / "output/processes/T6-P-0120"
    (place / "issued-A.txt~").write_text("A-0077 C 0009\n", encoding="utf-8")
    assert issue(issued, "T6-P-0120", "0002", on="2026-11-26") == 0
    assert run(issued, "verify") == 1
    assert "issued-A.txt~: unexpected" in capsys.readouterr().err


def taken_away(folder: Path) -> str:
    shutil.rmtree(folder / "output/issued/A-0002")
    (folder / "output/completed/A-0002").mkdir(parents=True)
    (folder / "output/completed/A-0002/A-001-close.yaml").touch()
    return "output/completed/A-0002/A-001-close.yaml stands in no list"


def folder_gone(folder: Path) -> str:
    shutil.rmtree(folder / "output/issued/A-0002")
    return "output/issued/A-0002/sums.txt is not there"


def ended_by_nobody(folder: Path) -> str:
    path = "output/completed/A-0002/A-001-withdraw.yaml"
    forged(folder, path, "withdraw", traveller="A-0002")
    return f"{path} stands in no list"


def not_in_the_register(folder: Path) -> str:
    rows = (folder / "output/register-A.txt").read_text(encoding="utf-8")
    kept = [row for row in rows.splitlines(keepends=True) if "A-0002" not in row]
    (folder / "output/register-A.txt").write_text("".join(kept), encoding="utf-8")
    shutil.rmtree(folder / "output/issued/A-0002")
    return "output/register-A.txt: it is not what git holds"


def nothing_there(folder: Path) -> str:
    run_git(folder, "reset", "-q", "--hard")  # git looks at the copied files
    run_git(folder, "sparse-checkout", "set", "processes")
    assert not (folder / "output").exists()
    return "HEAD holds this list, and it is not there"


@pytest.mark.parametrize(
    "changed", [taken_away, folder_gone, ended_by_nobody, not_in_the_register, nothing_there]
)
def test_list_leaves_no_open_traveller_out(issued, changed, capsys):
    assert issue(issued, "T6-P-0120", "0002", on="2026-11-26") == 0
    says = changed(issued)
    capsys.readouterr()
    assert run(issued, "list") == 1
    told = capsys.readouterr()
    assert says in told.err and "0 open" not in told.out
    assert ("git sparse-checkout disable" in told.err) == (changed is nothing_there)
