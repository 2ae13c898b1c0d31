"""Files that no register names, or that are not what it says, in; no act is judged by them, out."""

from __future__ import annotations

import re
import shutil
from hashlib import sha256
from pathlib import Path

import pytest

from tests.commands.changing import change, revise
from tests.commands.test_commands import approve, issue, run
from tests.commands.test_lists import swapped
from tests.commands.test_slips import ON, entered
from tests.commands.test_trust import one_fitted_and_one_closed
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


def lost(place: str) -> str:
    """What is told of a folder that is gone: the way back brings all of it."""
    return f"{place} is not there\n    Right: git checkout HEAD -- {place}\n"


def folder_gone(folder: Path) -> str:
    shutil.rmtree(folder / "output/issued/A-0002")
    return lost("output/issued/A-0002")


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


def test_what_a_sparse_checkout_leaves_out_is_not_looked_for_in_vain(issued, capsys):
    nothing_there(issued)
    assert run(issued, "verify") == 2
    assert "git sparse-checkout disable" in capsys.readouterr().err
    assert issue(issued, "T6-P-0120", "0002", on="2026-11-26") == 1
    said = capsys.readouterr().err
    assert "output/register-A.txt is not there" in said and "git sparse-checkout disable" in said


FACTS = "output/issued/A-0001/facts.yaml"


def floor_cleared(folder: Path) -> str:
    """A traveller of the old revision that is on the floor, withdrawn by nobody."""
    revise(folder)
    approve(folder, "T6-P-0120", "2026-11-26")
    path = "output/completed/A-0001/A-001-withdraw.yaml"
    forged(folder, path, "withdraw")
    return f"{path} stands in no list"


def dated_back(folder: Path) -> str:
    swapped(folder, FACTS, "issued on: '2026-11-25'", "issued on: '2025-01-01'")
    return f"{FACTS} is not what was recorded"


def last_one_gone(folder: Path) -> str:
    shutil.rmtree(folder / "output/issued/A-0001")
    return lost("output/issued/A-0001")


@pytest.mark.parametrize("changed", [floor_cleared, dated_back, last_one_gone])
def test_nothing_is_issued_by_travellers_that_are_not_as_recorded(issued, changed, capsys):
    says = changed(issued)
    capsys.readouterr()
    assert issue(issued, "T6-P-0120", "0002", on="2026-11-26") == 1
    assert says in capsys.readouterr().err
    assert not (issued / "output/issued/A-0002").exists()


def test_one_letter_has_one_content_whatever_was_written_into_the_facts(issued, capsys):
    change(issued, "four places", "five places")
    assert run(issued, "draft", "T6-P-0120") == 0
    made = (issued / "output/draft/T6-P-0120/fingerprint.txt").read_text(encoding="utf-8")
    today = re.search(r"[0-9a-f]{64}", made)[0]
    facts = (issued / FACTS).read_text(encoding="utf-8")
    before = re.search(r"approved fingerprint: .*", facts)[0]
    swapped(issued, FACTS, before, f"approved fingerprint: {today}")
    words = ("approve", "T6-P-0120", "--on", "2026-11-26", "--stamp", "LQ14")
    assert run(issued, *words) == 1
    assert f"{FACTS} is not what was recorded" in capsys.readouterr().err


def test_one_place_is_not_made_free_by_an_act_that_nobody_recorded(issued, capsys):
    one_fitted_and_one_closed(issued)
    path = "output/completed/A-0001/A-004-fit.yaml"
    forged(issued, path, "fit", **{"part serial": "0001", "removed": "yes", "why": "Worn."})
    assert run(issued, "fit", "A-0002", *ON, "LQ14") == 1
    assert f"{path} stands in no list" in capsys.readouterr().err
