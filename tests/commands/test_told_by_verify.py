"""A record in a clone that is cut, changed in its line ends or left out in part, in; what verify
says of it once and with a way out, out."""

from __future__ import annotations

import subprocess
from pathlib import Path

from tests.commands.test_commands import issue, run
from tests.commands.test_slips import ON, entered
from tests.record.conftest import run_git

REGISTER = "output/register-A.txt"
CUT = "git's history is cut here"
WHOLE = ("verify", "--whole-history")


def rewritten(folder: Path) -> None:
    """A line of the register is changed and committed, and another commit stands behind it."""
    file = folder / REGISTER
    rows = file.read_text(encoding="utf-8").splitlines(keepends=True)
    file.write_text("".join([*rows[1:], rows[0]]), encoding="utf-8")
    run_git(folder, "commit", "-qam", "Tidy")
    run_git(folder, "commit", "-q", "--allow-empty", "-m", "Later")


def cloned(folder: Path, *words: str) -> Path:
    other = folder.parent / "clone"
    subprocess.run(["git", "clone", "-q", *words, folder.as_uri(), str(other)], check=True)
    return other


def test_a_history_that_is_cut_is_told(issued, capsys):
    rewritten(issued)
    assert run(issued, *WHOLE) == 1
    assert f"{REGISTER}: rewritten: what commit" in capsys.readouterr().err
    shallow = cloned(issued, "--depth", "1")
    assert run(shallow, *WHOLE) == 1
    said = capsys.readouterr().err
    assert f"output: cut: {CUT}" in said and "git fetch --unshallow" in said
    assert run(shallow, "verify") == 0
    assert CUT in capsys.readouterr().out
    run_git(shallow, "fetch", "-q", "--unshallow")
    assert run(shallow, *WHOLE) == 1
    assert f"{REGISTER}: rewritten: what commit" in capsys.readouterr().err


def test_a_graft_hides_nothing(issued, capsys):
    rewritten(issued)
    (issued / ".git/info").mkdir(exist_ok=True)
    head = run_git(issued, "rev-parse", "HEAD")
    (issued / ".git/info/grafts").write_text(head, encoding="utf-8")
    assert len(run_git(issued, "rev-list", "HEAD").split()) == 1
    assert run(issued, *WHOLE) == 1
    assert f"{REGISTER}: rewritten: what commit" in capsys.readouterr().err


def test_what_a_merge_left_out_is_found_beside_its_second_parent(issued, capsys):
    """A branch issued a traveller; merging it with `ours` drops that from every list."""
    run_git(issued, "switch", "-qc", "side")
    assert issue(issued, "T6-P-0120", "0002", on="2026-11-26") == 0
    run_git(issued, "switch", "-q", "main")
    run_git(issued, "merge", "-q", "--no-edit", "-s", "ours", "side")
    run_git(issued, "branch", "-qD", "side")
    run_git(issued, "update-ref", "-d", "refs/witnessmark/A")
    assert run(issued, "verify") == 1
    said = capsys.readouterr().err
    assert f"{REGISTER}: rewritten: what commit" in said


def test_line_ends_that_git_changed_are_said_once_with_a_way_out(issued, capsys):
    other = cloned(issued, "-c", "core.autocrlf=true")
    for key, word in (("user.name", "Desk"), ("user.email", "desk@workshop.invalid")):
        run_git(other, "config", key, word)
    run_git(other, "config", "witnessmark.desk", "B")
    assert b"\r\n" in (other / REGISTER).read_bytes()
    assert run(other, "verify") == 1
    said = capsys.readouterr().err
    assert said.startswith("output: line ends: in ") and "\n1 finding;" in said
    assert issue(other, "T6-P-0120", "0002", on="2026-11-26") == 1
    said = capsys.readouterr().err
    assert "line ends were changed, as git does by core.autocrlf" in said
    assert "git checkout HEAD -- output" in said
    assert run(other, "slip", "A-0001", "--operation", "10", "--what", "Thin.", *ON, "LQ14") == 1
    assert "line ends were changed, as git does by core.autocrlf" in capsys.readouterr().err
    (other / ".gitattributes").write_text("output/** -text\n", encoding="utf-8")
    run_git(other, "rm", "-rq", "--cached", "output")
    run_git(other, "checkout", "HEAD", "--", "output")
    assert run(other, "verify") == 0, capsys.readouterr().err
    assert issue(other, "T6-P-0120", "0002", on="2026-11-26") == 0


def test_a_list_and_a_result_in_other_line_ends_are_named(issued, capsys):
    entered(issued)
    paths = (REGISTER, "output/completed/A-0001/A-001-result.yaml")
    for path in paths:
        content = (issued / path).read_bytes()
        (issued / path).write_bytes(content.replace(b"\n", b"\r\n"))
        capsys.readouterr()
        assert run(issued, "list") == 1
        assert f"{path}: its line ends were changed" in capsys.readouterr().err
        assert run(issued, "verify") == 1
        said = capsys.readouterr().err
        assert f"{path}: line ends: " in said and "\n1 finding;" in said
        (issued / path).write_bytes(content)


def test_changed_sums_are_no_fault_of_the_files_beside_them(issued, capsys):
    path = "output/issued/A-0001/sums.txt"
    kept = (issued / path).read_bytes()
    for content in (b"", None):
        if content is None:
            (issued / path).unlink()
        else:
            (issued / path).write_bytes(content)
        capsys.readouterr()
        assert run(issued, "verify") == 1
        said = capsys.readouterr().err
        assert "files beside it stand in no list" in said and "out of output/" not in said
        assert f"git checkout HEAD -- {path}" in said
    (issued / path).write_bytes(kept)
    (issued / "output/issued/A-0001/more.md").touch()
    assert run(issued, "verify") == 1
    assert "move output/issued/A-0001/more.md out of output/" in capsys.readouterr().err


def test_what_git_holds_of_a_passing_folder_is_told(issued, capsys):
    room = issued / "output/.new-1-1"
    room.mkdir()
    (room / ".witnessmark").touch()
    (room / "traveller.md").write_text("# Another\n", encoding="utf-8")
    assert run(issued, "verify") == 0, capsys.readouterr().err
    run_git(issued, "add", "-f", "output/.new-1-1/traveller.md")
    for words in ((), ("commit", "-qm", "More")):
        if words:
            run_git(issued, *words)
        assert run(issued, "verify") == 1
        said = capsys.readouterr().err
        assert "output/.new-1-1/traveller.md: unexpected: git holds it" in said
    run_git(issued, "rm", "-rq", "--cached", "output/.new-1-1")
    run_git(issued, "commit", "-qm", "Less")
    assert run(issued, "verify") == 0, capsys.readouterr().err


def test_what_a_note_that_is_damaged_leaves_is_told_beside_it(issued, capsys):
    (issued / ".git/witnessmark/act-A.json").write_text("half", encoding="utf-8")
    (issued / "output/issued/A-0001/traveller.md").write_text("Other.\n", encoding="utf-8")
    assert run(issued, "verify") == 1
    said = capsys.readouterr().err
    assert "the note of an act that was begun cannot be read" in said
    assert "output/issued/A-0001/traveller.md: changed: " in said


def test_the_way_back_of_what_was_deleted_and_committed_is_one_that_works(issued, capsys):
    path = "output/issued/A-0001/traveller.md"
    run_git(issued, "rm", "-q", path)
    run_git(issued, "commit", "-qm", "Tidy")
    assert run(issued, "verify") == 1
    assert f"git log --diff-filter=D -- {path}, then git checkout" in capsys.readouterr().err
    commit = run_git(issued, "log", "--diff-filter=D", "--format=%H", "--", path).strip()
    run_git(issued, "checkout", f"{commit}~1", "--", path)
    run_git(issued, "commit", "-qm", "Back")
    assert run(issued, "verify") == 0
