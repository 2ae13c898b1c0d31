"""Travellers issued one by one in, and what people do to the record between; numbers out."""

from __future__ import annotations

import pytest

from generator.findings import Refusal
from generator.record import head_commit, is_clean, register, take
from tests.record.conftest import run_git
from tests.record.desk import assert_sound, files, issue


def test_serials_follow_each_other(workshop):
    first = issue(workshop)
    second = issue(workshop)
    assert (first.serial, second.serial) == ("A-0001", "A-0002")
    assert second.folder == workshop / "output" / "issued" / "A-0002"
    assert second.commit == head_commit(workshop) != first.commit
    assert_sound(workshop, "A-0001", "A-0002")


def test_make_is_told_the_serial_that_is_taken(workshop):
    taken = take(workshop, "A", lambda s: {"serial.txt": s.encode()}, lambda s: s)
    assert (taken.folder / "serial.txt").read_text() == taken.serial


def test_each_desk_counts_for_itself(workshop):
    issue(workshop, "A")
    assert issue(workshop, "B").serial == "B-0001"
    assert issue(workshop, "A").serial == "A-0002"


def test_the_commit_holds_the_bytes_and_nothing_else(workshop):
    # autocrlf would change line ends on the way in, and the register would no longer verify.
    run_git(workshop, "config", "core.autocrlf", "true")
    commit = issue(workshop).commit
    shown = run_git(workshop, "show", "--name-only", "--format=", commit).split()
    assert shown == [
        "workshop/output/issued/A-0001/sums.txt",
        "workshop/output/issued/A-0001/traveller.md",
        "workshop/output/issued/A-0001/traveller.pdf",
        "workshop/output/issued/A-0001/workshop/stamps.yaml",
        "workshop/output/register-A.txt",
    ]
    pdf = run_git(workshop, "cat-file", "-s", f"{commit}:{shown[2]}")
    assert int(pdf) == len(b"%PDF\0\r\n")


def test_the_desk_signs_where_git_knows_nobody(workshop):
    issue(workshop)
    signed = run_git(workshop, "log", "-1", "--format=%an|%ae|%cn")
    assert signed.strip() == "witnessmark desk A|desk-A@workshop.invalid|witnessmark desk A"


def test_a_person_signs_where_git_knows_one(workshop):
    run_git(workshop, "config", "user.name", "Ada")
    run_git(workshop, "config", "user.email", "ada@workshop.invalid")
    issue(workshop)
    assert run_git(workshop, "log", "-1", "--format=%an|%ae").strip() == "Ada|ada@workshop.invalid"


def test_hooks_of_the_user_do_not_stop_an_issue(workshop):
    for name in ("pre-commit", "commit-msg", "reference-transaction", "post-index-change"):
        hook = workshop.parent / ".git" / "hooks" / name
        hook.parent.mkdir(exist_ok=True)
        hook.write_text("#!/bin/sh\nexit 1\n")
        hook.chmod(0o755)
    issue(workshop)
    for hook in (workshop.parent / ".git" / "hooks").iterdir():
        hook.unlink()
    assert_sound(workshop, "A-0001")


@pytest.mark.parametrize("committed", [False, True])
def test_no_reuse_after_the_last_folder_is_deleted(workshop, committed):
    issue(workshop)
    gone = issue(workshop).folder
    for file in sorted(gone.rglob("*"), reverse=True):
        file.rmdir() if file.is_dir() else file.unlink()
    gone.rmdir()
    if committed:
        run_git(workshop, "commit", "--quiet", "-a", "-m", "tidied up")
    assert issue(workshop).serial == "A-0003"


def test_no_reuse_after_a_reset(workshop):
    issue(workshop)
    issue(workshop)
    run_git(workshop, "reset", "--quiet", "--hard", "HEAD~1")
    with pytest.raises(Refusal, match="does not hold A-0002") as refused:
        issue(workshop)
    run_git(workshop, *refused.value.right.split()[1:])
    assert issue(workshop).serial == "A-0003"
    assert_sound(workshop, "A-0001", "A-0002", "A-0003")


def test_no_reuse_on_an_old_branch(workshop):
    run_git(workshop, "branch", "old")
    issue(workshop)
    run_git(workshop, "switch", "--quiet", "old")
    with pytest.raises(Refusal, match="does not hold A-0001"):
        issue(workshop)


def test_no_reuse_after_the_record_is_committed_away(workshop):
    issue(workshop)
    run_git(workshop, "rm", "-r", "--quiet", "output")
    run_git(workshop, "commit", "--quiet", "-m", "tidied up")
    with pytest.raises(Refusal, match="does not hold A-0001") as refused:
        issue(workshop)
    words = refused.value.right.removesuffix(", then git commit").split()[1:]
    run_git(workshop, *words)
    run_git(workshop, "commit", "--quiet", "-m", "brought back")
    assert issue(workshop).serial == "A-0002"


def test_a_register_changed_by_hand_is_refused_and_left(workshop):
    issue(workshop)
    register = workshop / "output" / "register-A.txt"
    sound = register.read_bytes()
    for damaged in (sound[66:], sound.replace(b"sums", b"smus"), sound + sound, sound[:-1], b""):
        register.write_bytes(damaged)
        with pytest.raises(Refusal, match="not what git holds"):
            issue(workshop)
        assert register.read_bytes() == damaged
    register.write_bytes(sound)
    assert issue(workshop).serial == "A-0002"


@pytest.mark.parametrize("issued_before", [0, 2])
def test_a_folder_that_no_register_knows_is_refused_and_left(workshop, issued_before):
    stray = workshop / "output" / "issued" / "A-0003"
    stray = stray if issued_before else stray.with_name("A-0001")
    stray.mkdir(parents=True)
    (stray / "traveller.md").write_text("made by hand\n")
    for _ in range(issued_before):
        issue(workshop)
    with pytest.raises(Refusal, match=f"{stray.name} stands in no register"):
        issue(workshop)
    assert (stray / "traveller.md").read_text() == "made by hand\n"


def test_the_last_number_of_a_register_is_found_behind_any_number_of_acts():
    traveller = register.line("output/issued/A-0012/sums.txt", b"")
    act = register.line("output/completed/A-0001/A-001-result.yaml", b"")
    of_another = register.line("output/issued/B-0013/sums.txt", b"")
    for acts in (0, 1, 200, 5000):
        rows = f"{act * acts}{traveller}{act * acts}{of_another}{act * acts}".encode()
        assert register.last(rows, "A") == 12
    assert register.last((act * 5000).encode(), "A") == 0
    assert register.last(b"", "A") == 0


def test_what_make_raises_passes_and_takes_no_number(workshop):
    def make(serial):
        raise ZeroDivisionError(serial)

    before = head_commit(workshop)
    with pytest.raises(ZeroDivisionError, match="A-0001"):
        take(workshop, "A", make, str)
    assert not (workshop / "output").exists()
    assert head_commit(workshop) == before
    assert issue(workshop).serial == "A-0001"


def test_a_full_disk_takes_no_number(workshop, monkeypatch):
    def full(folder, made):
        folder.mkdir()
        raise OSError(28, "No space left on device", str(folder))

    with monkeypatch.context() as patch:
        patch.setattr("generator.record.recording.write_folder", full)
        with pytest.raises(Refusal, match="No space left"):
            issue(workshop)
    issue(workshop)
    assert_sound(workshop, "A-0001")


def test_what_the_user_staged_and_changed_is_left_alone(workshop):
    (workshop / "processes" / "clip.yaml").write_text("title: Clip, staged\n")
    (workshop / "processes" / "new.yaml").write_text("title: New\n")
    run_git(workshop, "add", ".")
    (workshop / "processes" / "clip.yaml").write_text("title: Clip, changed again\n")
    before = run_git(workshop, "status", "--porcelain"), run_git(workshop, "diff", "--cached")
    issue(workshop)
    after = run_git(workshop, "status", "--porcelain"), run_git(workshop, "diff", "--cached")
    assert after == before
    assert "MM" in before[0]
    assert_sound(workshop, "A-0001")


def test_a_busy_index_takes_no_number(workshop, monkeypatch):
    monkeypatch.setattr("generator.record.locks._WAIT_FOR_INDEX", 0.05)
    lock = workshop.parent / ".git" / "index.lock"
    lock.write_bytes(b"")
    with pytest.raises(Refusal, match="holds the index"):
        issue(workshop)
    assert lock.exists(), "a lock that is not ours was removed"
    lock.unlink()
    issue(workshop)
    assert_sound(workshop, "A-0001")


BAD_NAMES = ["/etc/x", "../x", "a/../x", ".git/x", "a//x", "", "a\\x", "a\nx", "git~1", "s\udc80"]


@pytest.mark.parametrize("name", BAD_NAMES)
def test_a_name_that_leads_away_is_refused(workshop, name):
    with pytest.raises(Refusal, match="no name for a file"):
        take(workshop, "A", lambda s: {name: b""}, str)
    assert issue(workshop).serial == "A-0001"


def test_a_file_that_is_also_a_folder_is_refused(workshop):
    with pytest.raises(Refusal, match="'a/b' is no name"):
        take(workshop, "A", lambda s: {"a": b"", "a/b": b""}, str)


def test_a_traveller_of_no_files_is_refused(workshop):
    with pytest.raises(Refusal, match="no files"):
        take(workshop, "A", lambda s: {}, str)


@pytest.mark.parametrize("words", ["a\0b", "a\udc80b"])
def test_a_message_that_git_would_refuse_takes_no_number(workshop, words):
    with pytest.raises(Refusal, match="unreadable signs"):
        take(workshop, "A", files, lambda s: words)
    issue(workshop)
    assert_sound(workshop, "A-0001")


@pytest.mark.parametrize("desk", ["", "a", "AB", "Ä", "A\n"])
def test_a_desk_is_one_capital_letter(workshop, desk):
    with pytest.raises(Refusal, match="is no desk"):
        issue(workshop, desk)


def test_no_git_is_refused(tmp_path, monkeypatch):
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    for act in (issue, head_commit, lambda folder: is_clean(folder, ["x"])):
        with pytest.raises(Refusal, match="no git work tree") as refused:
            act(tmp_path)
        assert "git init" in refused.value.right


def test_no_commit_is_refused(tmp_path):
    run_git(tmp_path, "init", "--quiet")
    with pytest.raises(Refusal, match="no commit") as refused:
        issue(tmp_path)
    assert "git commit" in refused.value.right


def test_a_detached_head_is_refused(workshop):
    run_git(workshop, "checkout", "--quiet", "--detach")
    with pytest.raises(Refusal, match="no branch") as refused:
        issue(workshop)
    assert "git switch" in refused.value.right


@pytest.mark.parametrize("work", ["merge", "rebase", "cherry-pick"])
def test_work_under_way_in_git_is_refused(workshop, work):
    clip = workshop / "processes" / "clip.yaml"
    run_git(workshop, "switch", "--quiet", "-c", "other")
    clip.write_text("title: Other\n")
    run_git(workshop, "commit", "--quiet", "-a", "-m", "other")
    run_git(workshop, "switch", "--quiet", "main")
    clip.write_text("title: Main\n")
    run_git(workshop, "commit", "--quiet", "-a", "-m", "main")
    with pytest.raises(Exception, match="returned non-zero"):
        run_git(workshop, work, "other")
    with pytest.raises(Refusal, match=f"a git {work} is under way"):
        issue(workshop)
    run_git(workshop, work, "--abort")
    assert issue(workshop).serial == "A-0001"


def test_a_linked_work_tree_shares_the_numbers(workshop, tmp_path):
    issue(workshop)
    run_git(workshop, "worktree", "add", "--quiet", "-b", "side", str(tmp_path / "side"))
    assert issue(tmp_path / "side" / "workshop").serial == "A-0002"
    with pytest.raises(Refusal, match="does not hold A-0002"):
        issue(workshop)
