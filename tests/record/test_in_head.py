"""Acts that were killed, of which the user committed a part, and files that HEAD lost, in; all of it
in HEAD, or told by its name, out."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from generator.findings import Refusal
from generator.record import Act, perform, recover, text_of
from tests.commands.test_commands import run
from tests.record.conftest import run_git
from tests.record.desk import issue
from tests.record.test_begun import stopped
from tests.record.whole import folder as folder  # the fixture
from tests.record.whole import kept as kept  # the fixture

REGISTER, SLIPS = "output/register-A.txt", "output/slips-A.txt"
ACT = "output/completed/A-0001/A-001-slip.yaml"


def slip(workshop: Path) -> Act:
    """A slip of the first traveller, as its command records it."""

    def make(at):
        number = at.next_of("slips", "NC")
        path = at.next_file("output/completed/A-0001", "slip")
        tree = {"act": "slip", "traveller": "A-0001", "on": "2026-11-26", "by": "LQ1",
                "slip": number, "operation": "10", "says": "thick"}  # fmt: skip
        row = {at.list_path("slips"): f"{number} A-0001 10 thick\n"}
        return Act(path, f"Slip {number}", {path: text_of(tree)}, row)

    return perform(workshop, "A", make)[0]


def held(workshop: Path, path: str) -> str:
    return run_git(workshop, "show", f"HEAD:./{path}")


@pytest.mark.parametrize(
    "paths", [(REGISTER,), (REGISTER, SLIPS), (SLIPS,), (ACT,), (REGISTER, ACT)]
)
def test_what_the_user_committed_of_a_slip_is_made_whole(workshop, paths):
    issue(workshop)
    stopped(workshop, lambda: slip(workshop), "commit")
    run_git(workshop, "add", *paths)
    run_git(workshop, "commit", "--quiet", "-m", "by hand", "--", *paths)
    assert recover(workshop, "A") == ACT
    assert held(workshop, ACT) == (workshop / ACT).read_text("utf-8")
    assert held(workshop, SLIPS) == "NC-A-0001 A-0001 10 thick\n"
    assert held(workshop, REGISTER).count("\n") == 2
    assert run_git(workshop, "status", "--porcelain", "--", "output") == ""
    slip(workshop)
    assert held(workshop, SLIPS).split()[4] == "NC-A-0002"
    head, memory = run_git(workshop, "rev-parse", "HEAD", "refs/witnessmark/workshop+/A").split()
    assert head == memory


def test_the_folder_of_a_traveller_whose_line_alone_was_committed_follows(workshop):
    issue(workshop)
    stopped(workshop, lambda: issue(workshop), "commit")
    run_git(workshop, "commit", "--quiet", "--all", "-m", "register alone")
    assert "A-0002" not in run_git(workshop, "ls-tree", "-r", "--name-only", "HEAD")
    assert recover(workshop, "A") == "A-0002"
    for path in (workshop / "output/issued/A-0002").rglob("*.*"):
        shown = f"HEAD:./{path.relative_to(workshop).as_posix()}"
        by_git = run_git(workshop, "hash-object", "--no-filters", str(path))
        assert run_git(workshop, "rev-parse", shown) == by_git
    assert run_git(workshop, "status", "--porcelain", "--", "output") == ""
    assert issue(workshop).serial == "A-0003"


def test_an_act_that_the_user_committed_wholly_is_remembered_by_the_desk(workshop):
    issue(workshop)
    stopped(workshop, lambda: slip(workshop), "commit")
    run_git(workshop, "add", "output")
    run_git(workshop, "commit", "--quiet", "-m", "all of it")
    head = run_git(workshop, "rev-parse", "HEAD")
    assert recover(workshop, "A") == ACT
    assert run_git(workshop, "rev-parse", "HEAD") == head
    assert run_git(workshop, "rev-parse", "refs/witnessmark/workshop+/A") == head
    run_git(workshop, "reset", "--quiet", "--hard", "HEAD~1")
    with pytest.raises(Refusal, match=f"does not hold {ACT} of desk A"):
        slip(workshop)


@pytest.mark.parametrize("length", [1, 30, 70])
def test_half_a_line_that_was_committed_gets_its_end(workshop, length):
    issue(workshop)
    stopped(workshop, lambda: issue(workshop), "commit")
    register = workshop / REGISTER
    rows = register.read_bytes()
    first = rows.index(b"\n") + 1
    register.write_bytes(rows[: first + length])
    run_git(workshop, "commit", "--quiet", "-m", "torn", "--", REGISTER)
    assert recover(workshop, "A") == "A-0002"
    assert held(workshop, REGISTER).encode() == rows == register.read_bytes()
    assert issue(workshop).serial == "A-0003"


def test_half_a_line_of_somebody_else_is_told(workshop):
    issue(workshop)
    stopped(workshop, lambda: issue(workshop), "commit")
    register = workshop / REGISTER
    rows = register.read_bytes()
    register.write_bytes(rows[: rows.index(b"\n") + 1] + b"half")
    run_git(workshop, "commit", "--quiet", "-m", "torn", "--", REGISTER)
    with pytest.raises(Refusal, match="without the end of its last line"):
        recover(workshop, "A")


def test_the_files_of_a_begun_act_outlive_the_cleaning_of_the_store(workshop):
    issue(workshop)
    for act, title in ((lambda: issue(workshop), "A-0002"), (lambda: slip(workshop), ACT)):
        stopped(workshop, act, "_put_in_place")
        for left in (workshop / "output").glob(".new-*"):
            subprocess.run(["rm", "-rf", str(left)], check=True)
        run_git(workshop, "reflog", "expire", "--expire=now", "--all")
        run_git(workshop, "gc", "--quiet", "--prune=now")
        assert recover(workshop, "A") == title
    run_git(workshop, "fsck", "--full", "--strict")


def test_an_act_on_a_traveller_that_head_lost_is_refused(workshop):
    issue(workshop)
    issue(workshop)
    run_git(workshop, "rm", "-r", "--quiet", "--cached", "output/issued/A-0001")
    run_git(workshop, "commit", "--quiet", "-m", "oops")
    with pytest.raises(Refusal, match=r"output/issued/A-0001/.*HEAD does not hold it"):
        slip(workshop)
    run_git(workshop, "add", "output/issued/A-0001")
    run_git(workshop, "commit", "--quiet", "-m", "back")
    slip(workshop)


def test_what_another_desk_of_the_clone_has_begun_stands_in_no_act_s_way(workshop):
    issue(workshop)
    stopped(workshop, lambda: slip(workshop), "commit")
    assert (workshop / SLIPS).exists()
    assert issue(workshop, "B").serial == "B-0001"
    assert recover(workshop, "A") == ACT


def told(folder: Path, capsys) -> str:
    capsys.readouterr()
    assert run(folder, "verify") == 1
    return capsys.readouterr().err


def test_verify_tells_what_head_does_not_hold(folder, capsys):
    run_git(folder, "rm", "-r", "--quiet", "--cached", "output/issued/A-0001")
    run_git(folder, "commit", "--quiet", "-m", "oops")
    said = told(folder, capsys)
    for path in (folder / "output/issued/A-0001").rglob("*.*"):
        assert f"{path.relative_to(folder)}: uncommitted: HEAD does not hold it" in said
    assert "output/issued/A-0002" not in said
    run_git(folder, "add", "--force", "output/issued/A-0001")
    run_git(folder, "commit", "--quiet", "-m", "back")
    assert run(folder, "verify") == 0


def test_verify_tells_other_line_ends_in_head_and_their_way_back(folder, capsys):
    path = "output/issued/A-0001/traveller.md"
    whole = (folder / path).read_bytes()
    (folder / path).write_bytes(whole.replace(b"\n", b"\r\n"))
    run_git(folder, "commit", "--quiet", "-m", "other ends", "--", path)
    (folder / path).write_bytes(whole)
    assert f"{path}: uncommitted: HEAD holds something else" in told(folder, capsys)
    (folder / ".gitattributes").write_text("output/** -text\n", encoding="utf-8")
    run_git(folder, "add", ".gitattributes")
    run_git(folder, "add", "--renormalize", path)
    run_git(folder, "commit", "--quiet", "-m", "as recorded")
    assert run(folder, "verify") == 0


def test_verify_tells_what_head_alone_holds(folder, capsys):
    path = "output/issued/A-0001/more.txt"
    (folder / path).write_text("more\n", encoding="utf-8")
    run_git(folder, "add", "--force", path)
    run_git(folder, "commit", "--quiet", "-m", "more")
    (folder / path).unlink()
    assert f"{path}: unexpected: HEAD holds it, it stands in no list" in told(folder, capsys)


def test_verify_tells_a_number_that_is_used_twice_and_a_line_without_its_act(folder, capsys):
    slips = folder / SLIPS
    rows = slips.read_text("utf-8").splitlines(keepends=True)
    slips.write_text(rows[0], encoding="utf-8")
    acts = sorted(folder.glob("output/completed/*/*-slip.yaml"))
    said = told(folder, capsys)
    assert (
        f"{acts[1].relative_to(folder)}: number: NC-A-0002 on A-0001 has no line of its own" in said
    )
    slips.write_text("".join([*rows, "NC-A-0003 A-0004 10 thick\n"]), encoding="utf-8")
    assert f"{SLIPS}: number: NC-A-0003 has a line and no act" in told(folder, capsys)


@pytest.mark.parametrize("name", ["slips", "concessions", "processes"])
def test_verify_tells_an_act_whose_line_is_of_another(folder, capsys, name):
    listed = folder / f"output/{name}-A.txt"
    number, word, rest = listed.read_text("utf-8").split(" ", 2)
    listed.write_text(f"{number} {word[:-1]}9 {rest}", encoding="utf-8")
    assert f"number: {number} on " in told(folder, capsys)
