"""git that fails, is killed, is older or stands on commits that nobody flushed, in; what the record
does then, out."""

from __future__ import annotations

import os
import re
import shutil
import stat
from pathlib import Path

import pytest

from generator.findings import Refusal
from generator.record import recover
from generator.record.git import opened
from generator.record.recording import letter_of
from tests.commands.test_commands import run
from tests.faults import cutting
from tests.faults.acts import doing
from tests.faults.model import CUTS, by_chance
from tests.faults.sound import assert_git_whole, assert_sound, recorded
from tests.faults.steps import steps_of
from tests.record.conftest import run_git
from tests.record.conftest import workshop as workshop  # the fixture
from tests.record.desk import issue

WRAPPER = """#!/bin/sh
# Counts its calls; the chosen one is killed, before or behind its work.
n=$(($(cat "$COUNT") + 1)); echo $n > "$COUNT"
[ $n = "$CHOSEN" ] && [ "$WHEN" = before ] && kill -KILL $$
"$GIT" "$@"
code=$?
[ $n = "$CHOSEN" ] && [ "$WHEN" = behind ] && kill -KILL $$
exit $code
"""


@pytest.fixture
def wrapped(tmp_path, monkeypatch):
    """A git before the real one on the path; called with the number of the call that is killed."""
    place, count = tmp_path / "bin", tmp_path / "count"
    place.mkdir()
    (place / "git").write_text(WRAPPER)
    (place / "git").chmod(0o755)
    monkeypatch.setenv("GIT", shutil.which("git") or "git")
    monkeypatch.setenv("COUNT", str(count))
    monkeypatch.setenv("PATH", f"{place}{os.pathsep}{os.environ['PATH']}")

    def choose(number: int, when: str) -> None:
        count.write_text("0")
        monkeypatch.setenv("CHOSEN", str(number))
        monkeypatch.setenv("WHEN", when)

    choose(0, "before")
    choose.count = lambda: int(count.read_text())  # type: ignore[attr-defined]
    return choose


@pytest.mark.parametrize("when", ["before", "behind"])
def test_a_git_that_is_killed_is_told_and_the_next_issue_goes_on(workshop, wrapped, when):
    issue(workshop)
    wrapped(0, when)
    issue(workshop)
    calls = wrapped.count()
    serials = 2
    for number in range(1, calls + 1, 3):
        wrapped(number, when)
        with pytest.raises(Refusal, match="git was stopped by signal 9"):
            issue(workshop)
        wrapped(0, when)
        serials += bool(recover(workshop, "A"))
        issue(workshop)
        serials += 1
        there = sorted(each.name for each in (workshop / "output/issued").iterdir())
        assert there == [f"A-{n:04d}" for n in range(1, serials + 1)]
        assert run_git(workshop, "status", "--porcelain", "--", "output") == ""
    assert serials > 2 + calls // 3


def test_a_git_that_breaks_down_is_not_taken_for_a_clone_without_a_letter(workshop, wrapped):
    run_git(workshop, "config", "witnessmark.desk", "B")
    tree = opened(workshop)
    assert letter_of(tree, "A") == "B"
    wrapped(1, "before")
    with pytest.raises(Refusal, match="signal 9"):
        letter_of(tree, "A")


def test_an_unreadable_setting_is_not_taken_for_none(workshop):
    tree = opened(workshop)
    (workshop.parent / ".git/config").write_text("[core\n")
    with pytest.raises(Refusal, match="git says: fatal: bad config"):
        letter_of(tree, "A")


def test_a_commit_of_the_users_that_nobody_flushed_is_safe_once_an_act_stands_on_it(moment, capsys):
    at = moment("issue")
    whole = cutting.copied(at.shop, at.beside)

    def act() -> None:
        (whole / "notes.txt").write_text("more\n", encoding="utf-8")
        run_git(whole, "commit", "--quiet", "--all", "-m", "Notes")
        assert doing(whole, "issue", at.papers)() == 0

    steps = steps_of(act, whole)
    decided = next(n for n, each in enumerate(steps) if re.search(r"act-A\.json$", each.to))
    before, behind = recorded(at.shop), recorded(whole)
    commit = run_git(whole, "log", "--format=%H", "-1", "HEAD~1").strip()
    moments = range(decided, len(steps) + 1, 20)
    for n in [*moments, len(steps)]:
        for cut in (CUTS[0], by_chance(n)):
            there = at.beside / "cut"
            shutil.rmtree(there, ignore_errors=True)
            cutting.after(at.shop, steps, n, cut, there)
            recover(there, "A")
            assert recorded(there).keys() in (before.keys(), behind.keys())
            assert recorded(there).keys() == behind.keys() or n == decided
            assert_sound(there, before)
            run_git(there, "fsck", "--full", "--strict")
            assert commit in run_git(there, "log", "--format=%H"), (n, cut.called)


def test_git_flushes_each_object_that_it_writes(workshop, tmp_path, monkeypatch):
    """The model takes a name in git's store for a whole object: git must flush before it names."""
    trace = tmp_path / "trace"
    monkeypatch.setenv("GIT_TRACE2_EVENT", str(trace))
    issue(workshop)
    told = trace.read_text()
    flushed = sum(map(int, re.findall(r'"key":"fsync/hardware-flush","value":"(\d+)"', told)))
    store = workshop.parent / ".git/objects"
    monkeypatch.delenv("GIT_TRACE2_EVENT")
    ours = run_git(workshop, "rev-list", "--objects", "HEAD", "--not", "HEAD~1").splitlines()
    loose = [each for each in ours if (store / each[:2] / each[2:40]).exists()]
    assert len(loose) > 8
    assert flushed >= len(loose)


def test_the_record_stays_sound_with_a_git_that_knows_no_such_setting(workshop, monkeypatch):
    """Older versions of git pass over settings that they do not know; what they wrote is flushed by
    name all the same."""
    from generator.record import durable

    seen: list[Path] = []
    plain = durable.flush

    def flush(path: Path) -> None:
        seen.append(path)
        plain(path)

    monkeypatch.setattr(durable, "flush", flush)
    issue(workshop)
    ours = run_git(workshop, "rev-list", "--objects", "HEAD").splitlines()
    names = {each.split(" ")[0] for each in ours}
    assert {f"{each.parent.name}{each.name}" for each in seen} >= names
    refs = {"refs/heads/main", "refs/witnessmark/workshop+/A"}
    assert {str(each.relative_to(workshop.parent / ".git")) for each in seen} >= refs
    assert stat.S_ISDIR(os.stat(workshop.parent / ".git/refs/witnessmark/workshop+").st_mode)


def test_a_desk_is_not_stuck_where_a_list_is_not_committed(moment, capsys):
    """The killed run holds git's index: it must be let go before a commit is asked for."""
    from tests.faults.touching import counted, killed_at

    at = moment("issue")
    there = cutting.copied(at.shop, at.beside)
    fresh = at.beside / "dry"
    fresh.mkdir()
    steps = counted(doing(cutting.copied(at.shop, fresh), "issue", at.papers))
    rename = next(each.number for each in steps if each.name == "rename")
    assert killed_at(doing(there, "issue", at.papers), rename + 1)
    stamps = there / "processes/workshop/stamps.yaml"
    stamps.write_text(stamps.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    assert (
        run(there, "issue", "T6-P-0120", "--for", "0003", "--on", "2026-11-26", "--stamp", "LQ1")
        == 0
    )
    assert "A-0002, which an interrupted run had begun, is finished" in capsys.readouterr().out
    run_git(there, "commit", "--quiet", "--all", "-m", "Stamps")
    assert run(there, "verify") == 0
    assert_git_whole(there, "")
