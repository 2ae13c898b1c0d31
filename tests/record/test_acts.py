"""Acts that are no issue in: files with a line in a list; whole or not there after a kill, out."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from generator.findings import Refusal
from generator.record import Act, Desk, perform, text_of, tree_of
from tests.record import test_killed as killed
from tests.record.conftest import run_git
from tests.record.test_killed import second as second  # the fixture

PLACE = "output/completed/A-0001"
NAMES = ("A-001-slip.yaml", "A-002-slip.yaml")
SLIP = {"act": "slip", "on": "2026-11-26", "by": "LQ14", "operation": "10", "says": "Thin."}


def slip(workshop: Path, at_path: str = "") -> Act:
    """A slip of the first traveller: a file of its own and the next line of the list."""

    def make(at: Desk) -> Act:
        number, path = at.next_of("slips", "NC"), at_path or at.next_file(PLACE, "slip")
        files = {path: text_of({**SLIP, "slip": number})}
        return Act(number, f"Raise {number}", files, {at.list_path("slips"): f"{number} {path}\n"})

    act, _ = perform(workshop, "A", make)
    return act


def assert_slips(workshop: Path, count: int) -> None:
    """Exactly so many slips: each a file, a line, a line of the register, and one commit."""
    numbers = [f"NC-A-{n:04d}" for n in range(1, count + 1)]
    told = workshop / "output" / "slips-A.txt"
    lines = told.read_text("utf-8").splitlines() if told.exists() else []
    assert lines == [f"{n} {PLACE}/{name}" for n, name in zip(numbers, NAMES, strict=False)]
    folder = workshop / PLACE
    there = sorted(each.name for each in folder.iterdir()) if folder.exists() else []
    assert there == list(NAMES[:count])
    line = ["sha256sum", "-c", "--strict", "--quiet", "output/register-A.txt"]
    assert subprocess.run(line, cwd=workshop, check=False).returncode == 0
    assert run_git(workshop, "status", "--porcelain", "--", "output") == ""
    log = run_git(workshop, "log", "--reverse", "--format=%s", "--", PLACE).split("\n")[:-1]
    assert log == [f"Raise {number}" for number in numbers]


def test_numbers_of_a_list_follow_each_other(second):
    assert [slip(second).title, slip(second).title] == ["NC-A-0001", "NC-A-0002"]
    assert_slips(second, 2)
    assert tree_of(second / PLACE / NAMES[1]) == {**SLIP, "slip": "NC-A-0002"}


@pytest.mark.parametrize("every", killed.EVERY)
def test_a_kill_at_any_step_of_an_act_is_undone_or_finished(second, tmp_path, monkeypatch, every):
    monkeypatch.setattr(killed, "issue", slip)
    slip(second)
    bare = tmp_path / "as-it-was"
    subprocess.run(["cp", "-a", str(second.parent), str(bare)], check=True)
    undone = finished = 0
    for step in range(1, killed.MOST, every):
        if not killed._killed_at(second, step):
            break
        done = killed._recovered(second, "NC-A-0002")
        finished, undone = finished + bool(done), undone + (not done)
        assert_slips(second, 2 if done else 1)
        killed._restored(second, bare)
    assert undone > 5 / every, "killed before the note"
    assert finished > 10 / every, "killed after it"


def test_a_list_changed_by_hand_is_refused_and_left(second):
    slip(second)
    told = second / "output" / "slips-A.txt"
    told.write_text("NC-A-0009 forged\n", "utf-8")
    with pytest.raises(Refusal, match="not what git holds"):
        slip(second)
    assert told.read_text("utf-8") == "NC-A-0009 forged\n"


def test_a_file_that_is_there_is_never_written_over(second):
    path = f"{PLACE}/A-001-slip.yaml"
    (second / PLACE).mkdir(parents=True)
    (second / path).write_text("by hand\n", "utf-8")
    with pytest.raises(Refusal, match="is there already"):
        perform(
            second, "A", lambda at: Act("x", "x", {path: text_of({**SLIP, "slip": "NC-A-0001"})})
        )
    assert (second / path).read_text("utf-8") == "by hand\n"


def test_a_name_that_was_recorded_is_not_used_again(second):
    slip(second)
    run_git(second, "rm", "--quiet", f"{PLACE}/A-001-slip.yaml")
    run_git(second, "commit", "--quiet", "-m", "tidied up")
    with pytest.raises(Refusal, match="was recorded before and is gone"):
        slip(second, f"{PLACE}/A-001-slip.yaml")


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        (f"{PLACE}/A-001-slip.yaml", text_of({**SLIP, "slip": "NC-A-0001", "says": "e\u0301"}),
         r"line 5: a combining sign: U\+0301"),
        (f"{PLACE}/A-001-slip.yaml", text_of(SLIP), "it has no 'slip'"),
        (f"{PLACE}/A-001-slip.yaml", b"act: [slip\n", "not YAML"),
        (f"{PLACE}/R1/form.yaml", b"a: b\na: c\n", "the key 'a' stands twice"),
        ("output/issued/A-0002/facts.yaml", b"traveller: A-0002\n", "it has no 'process'"),
    ],
)  # fmt: skip
def test_what_could_not_be_read_again_is_not_recorded(second, name, content, says):
    """What is recorded stays: one such file, and nobody could act on the traveller again."""
    slip(second)
    commit = run_git(second, "rev-parse", "HEAD")
    with pytest.raises(Refusal, match=says) as told:
        perform(second, "A", lambda at: Act("x", "x", {name.replace("001", "002"): content}))
    assert name.replace("001", "002") in told.value.wrong
    assert run_git(second, "rev-parse", "HEAD") == commit
    assert_slips(second, 1)


@pytest.mark.parametrize(
    "words", ["pin #5", "no", "010", "1:30", "2026-11-26", "a: b", "x | y", ""]
)
def test_words_come_back_as_they_were_written(tmp_path, words):
    file = tmp_path / "act.yaml"
    file.write_bytes(text_of({"said": words, "list": [words, words]}))
    assert tree_of(file) == {"said": words, "list": [words, words]}
