"""A whole record, damaged in one place, in; the place by its name, out."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from generator.record import each_file
from tests.commands.test_commands import run
from tests.record.conftest import run_git
from tests.record.tampering import tampered
from tests.record.whole import folder as folder  # the fixture
from tests.record.whole import kept as kept  # the fixture


def told(folder: Path, capsys, *words: str) -> str:
    capsys.readouterr()
    assert run(folder, "verify", *words) == 1
    return capsys.readouterr().err


def test_a_record_as_it_was_written_is_clean(kept, capsys):
    capsys.readouterr()
    assert run(kept, "verify", "--whole-history") == 0
    assert "files are what was written" in capsys.readouterr().out
    assert run_git(kept, "status", "--porcelain") == ""


def test_ordinary_tools_check_the_same(kept):
    line = "cat output/register-A.txt output/issued/*/sums.txt output/completed/*/*/sums.txt"
    check = f"{line} | sha256sum --check --strict --quiet"
    assert subprocess.run(check, shell=True, cwd=kept, check=False).returncode == 0


@pytest.mark.parametrize("seed", range(100))
def test_a_hundred_small_tamperings_are_told_by_name(kept, capsys, seed):
    done = tampered(kept, seed)
    try:
        said = told(kept, capsys)
    finally:
        done.undo()
    assert f"{done.path}:" in said, (done.what, said)


def test_a_register_that_was_rewritten_and_committed_is_told(folder, capsys):
    file = folder / "output/register-A.txt"
    rows = file.read_text(encoding="utf-8").splitlines(keepends=True)
    file.write_text("".join([rows[0], *rows[2:]]), encoding="utf-8")
    run_git(folder, "commit", "-qam", "Tidy")
    said = told(folder, capsys)
    assert "output/register-A.txt: rewritten: what commit" in said
    assert "is no beginning of it" in said


def test_a_sheet_that_was_changed_with_all_its_sums_is_told_by_history(folder, capsys):
    """Who changes a file, its sums and the register still cannot change what git held."""
    sheet = folder / "output/issued/A-0004/traveller.md"
    sheet.write_text(sheet.read_text("utf-8").replace("four places", "two places"), "utf-8")
    for listed in ("output/issued/A-0004/sums.txt", "output/register-A.txt"):
        rows = []
        for row in (folder / listed).read_text("utf-8").splitlines():
            path = row.split("  ", 1)[1]
            sums = subprocess.run(
                ["sha256sum", path], cwd=folder, capture_output=True, text=True, check=True
            )
            rows.append(f"{sums.stdout.split()[0]}  {path}\n")
        (folder / listed).write_text("".join(rows), encoding="utf-8")
    run_git(folder, "commit", "-qam", "As it should be")
    said = told(folder, capsys)
    assert "output/register-A.txt: rewritten" in said


def test_a_branch_without_the_last_act_is_told(folder, capsys):
    run_git(folder, "reset", "--hard", "-q", "HEAD~4")
    assert "HEAD does not hold the last act of desk A" in told(folder, capsys)


def test_links_and_strange_things_are_never_followed(folder, capsys):
    place = folder / "output/issued/A-0001"
    (place / "kit-list.md").unlink()
    (place / "kit-list.md").symlink_to("/etc/hostname")
    (folder / "output/issued/A-0009").mkdir()
    (folder / "output/notes.txt").write_text("x", encoding="utf-8")
    said = told(folder, capsys)
    assert "output/issued/A-0001/kit-list.md: missing" in said
    assert "output/issued/A-0001/kit-list.md (no plain file): unexpected" in said
    assert "output/issued/A-0009/: unexpected" in said
    assert "output/notes.txt: unexpected" in said


def test_media_that_are_elsewhere_are_one_line(folder, capsys):
    subprocess.run(["rm", "-r", "output/media"], cwd=folder, check=True)
    said = told(folder, capsys)
    assert "output/media: missing: the media are not here: 1 files" in said
    assert said.count("missing") == 1


def test_a_closed_traveller_that_was_not_scanned_in_time_is_told(folder, capsys):
    assert run(folder, "verify", "--scans-by", "2026-11-26") == 0
    said = told(folder, capsys, "--scans-by", "2026-12-31")
    assert "output/completed/A-0001: scan: closed, and" in said


def test_gaps_twins_and_lists_that_disagree_are_told(folder, capsys):
    listed = folder / "output/processes/T6-P-0120/issued-A.txt"
    rows = listed.read_text(encoding="utf-8").splitlines(keepends=True)
    listed.write_text("".join([*rows[:2], rows[1], "A-0077 A 0009\n"]), encoding="utf-8")
    slips = folder / "output/slips-A.txt"
    slips.write_text(slips.read_text("utf-8").replace("NC-A-0002", "NC-A-0003"), "utf-8")
    said = told(folder, capsys)
    assert "line 3: A-0002 is listed twice or was never issued" in said
    assert "line 4: A-0077 is listed twice or was never issued" in said
    assert "A-0003 is in no list of the travellers of its process" in said
    assert "line 2 has the number NC-A-0003, not one that ends in -A-0002" in said


def test_it_needs_no_processes_and_changes_nothing(folder, capsys):
    subprocess.run(["rm", "-r", "processes"], cwd=folder, check=True)
    before = run_git(folder, "status", "--porcelain")
    assert run(folder, "verify") == 0
    assert run_git(folder, "status", "--porcelain") == before


def test_without_a_record_there_is_nothing_to_verify(tmp_path, capsys):
    assert run(tmp_path, "verify") == 2
    assert "no folder output/" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["slips-A.txt", "processes/T6-P-0120/issued-A.txt"])
def test_a_list_that_was_deleted_and_committed_is_told(folder, capsys, name):
    run_git(folder, "rm", "-q", f"output/{name}")
    run_git(folder, "commit", "-qm", "Tidy")
    assert f"output/{name}: rewritten" in told(folder, capsys)


def test_an_old_list_that_gits_store_has_lost_is_told(folder, capsys):
    versions = run_git(folder, "log", "--format=%H", "--", "output/register-A.txt").split()
    name = run_git(folder, "rev-parse", f"{versions[1]}:output/register-A.txt").strip()
    lost = folder / ".git/objects" / name[:2] / name[2:]
    assert lost.is_file()  # a loose object: nothing packs what an act writes
    lost.unlink()
    said = told(folder, capsys)
    assert "output/register-A.txt: lost: git's store has lost what commit" in said
    assert versions[1][:12] in said


@pytest.mark.parametrize("seed", [3, 14, 15])
def test_what_is_told_does_not_hang_on_how_many_files_are_read_at_a_time(
    kept, capsys, monkeypatch, seed
):
    done = tampered(kept, seed)
    try:
        together = told(kept, capsys)
        monkeypatch.setattr(each_file, "_AT_ONCE", 1)  # each to another process
        apart = told(kept, capsys)
    finally:
        done.undo()
    assert apart == together
