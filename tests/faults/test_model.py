"""Steps to a disk, in; what a power cut may leave of them by the model, out: it must be able to lose."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.faults.model import CUTS, Cut, Step, after, by_chance, seen, steps_of_git
from tests.faults.steps import steps_of

NOTHING, EMPTY, TORN, ZEROS, KILL = CUTS
MAKE = [Step("make", "a"), Step("write", "a", content=b"1234")]


def _left(
    tmp_path: Path, steps: list[Step], cut: Cut, before: tuple[tuple[str, bytes], ...] = ()
) -> dict[str, bytes]:
    place, there = tmp_path / "before", tmp_path / "after"
    place.mkdir()
    for name, content in before:
        (place / name).write_bytes(content)
    after(place, steps, len(steps), cut, there)
    return {str(f.relative_to(there)): f.read_bytes() for f in there.rglob("*") if f.is_file()}


@pytest.mark.parametrize(
    ("steps", "cut", "left"),
    [
        (MAKE, NOTHING, {}),
        (MAKE, EMPTY, {"a": b""}),
        (MAKE, TORN, {"a": b"12"}),
        (MAKE, ZEROS, {"a": bytes(4)}),
        (MAKE, KILL, {"a": b"1234"}),
        ([*MAKE, Step("flush", "a")], NOTHING, {}),  # its name is not on the disk
        ([*MAKE, Step("flush", ".")], NOTHING, {"a": b""}),  # nothing but its name is
        ([*MAKE, Step("flush", "a"), Step("flush", ".")], NOTHING, {"a": b"1234"}),
        ([*MAKE, Step("flush", "a"), Step("flush", "."), Step("remove", "a")], NOTHING, {"a": b"1234"}),
        ([*MAKE, Step("flush", "a"), Step("flush", "."), Step("remove", "a")], EMPTY, {}),
    ],
)  # fmt: skip
def test_what_was_not_flushed_may_be_lost(tmp_path, steps, cut, left):
    assert _left(tmp_path, steps, cut) == left


def test_a_rename_that_was_not_flushed_leaves_the_old_or_an_empty_new_one(tmp_path):
    steps = [*MAKE, Step("rename", "a", "b")]
    assert _left(tmp_path, steps, NOTHING, (("b", b"old"),)) == {"b": b"old"}
    (tmp_path / "second").mkdir()
    assert _left(tmp_path / "second", steps, EMPTY, (("b", b"old"),)) == {"b": b""}


def test_what_was_added_to_a_list_may_be_torn_and_what_stood_there_stays(tmp_path):
    steps = [Step("write", "list", content=b"first\nsecond\n")]
    assert _left(tmp_path, steps, TORN, (("list", b"first\n"),)) == {"list": b"first\nsec"}


def test_a_later_change_may_be_there_without_an_earlier_one(tmp_path):
    steps = [Step("make", "early", safe=True), Step("make", "late", safe=True)]
    found = set()
    for seed in range(40):
        (tmp_path / str(seed)).mkdir()
        found.add(frozenset(_left(tmp_path / str(seed), steps, by_chance(seed))))
    assert found == {
        frozenset(),
        frozenset({"early"}),
        frozenset({"late"}),
        frozenset({"early", "late"}),
    }


def test_two_names_of_one_file_stay_one_file(tmp_path):
    _left(tmp_path, [*MAKE, Step("link", "a", "b")], KILL)
    assert (tmp_path / "after/a").samefile(tmp_path / "after/b")


def test_what_python_does_is_written_down(tmp_path):
    def act() -> None:
        (tmp_path / "room").mkdir()
        (tmp_path / "room/a").write_bytes(b"x")
        (tmp_path / "room/a").rename(tmp_path / "b")
        (tmp_path / "b").unlink()

    told = [(each.name, each.path) for each in steps_of(act, tmp_path)]
    wanted = [
        ("mkdir", "room"),
        ("make", "room/a"),
        ("write", "room/a"),
        ("rename", "room/a"),
        ("remove", "b"),
    ]
    assert told == wanted


def test_what_git_does_is_seen_from_outside(tmp_path):
    (tmp_path / "kept").write_bytes(b"1")
    before = seen(tmp_path)
    (tmp_path / "kept").write_bytes(b"12")
    (tmp_path / "new").write_bytes(b"n")
    told = [(each.name, each.path, each.to) for each in steps_of_git(before, seen(tmp_path), True)]
    wanted = [("make", "new.lock", ""), ("write", "kept", ""), ("rename", "new.lock", "new")]
    assert told == wanted
