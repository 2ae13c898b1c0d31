"""Commands that print and answer on a disk that is full, locked or broken, or killed at any step, in;
a plain word and nothing half-written, out."""

from __future__ import annotations

import errno
import json
import os
import random
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from generator.commands import freezing
from tests.commands.conftest import copied
from tests.commands.test_commands import ROOT, run
from tests.faults.acts import doing
from tests.faults.refusing import FULL, Fault, assert_told, faults, refused
from tests.faults.sound import assert_git_whole, assert_sound, noted, recorded
from tests.faults.touching import killed_at, refusable
from tests.record.conftest import run_git

ON = ("--on", "2026-11-26")
PRINTS = {
    "draft": ("draft", "T6-P-0120"),
    "handbook": ("handbook",),
    "blank": ("enter", "A-0001", "--blank", "blank.yaml"),
    "list": ("list", "--print", *ON),
    "trace": ("trace", "LQ1"),
    "dossier": ("dossier", "A-0001", "--into", "bag", *ON),
}
# One handbook takes as long as many others: `make prove` makes it.
MADE = [pytest.param(e, marks=pytest.mark.prove if e == "handbook" else ()) for e in PRINTS]


def _doing(shop: Path, what: str) -> Callable[[], int]:
    words = [str(shop / w) if w in ("blank.yaml", "bag") else w for w in PRINTS[what]]
    return lambda: run(shop, *words)


def _files(shop: Path, what: str) -> dict[str, bytes]:
    """Everything of the user's in the shop, but for what is kept to save time."""
    beside = ("index.csv",) if what == "dossier" else ()  # made on the way
    told = [each for each in shop.rglob("*") if each.is_file()]
    parts = [each.relative_to(shop).parts for each in told]
    return {
        "/".join(p): f.read_bytes()
        for p, f in zip(parts, told, strict=True)
        if not {".git", ".kept", *beside} & set(p)
    }


@pytest.fixture
def printing(moment):
    """A shop, a copy of it on which the command was carried out, and the steps of that."""

    def made(what: str) -> tuple[Path, dict[str, bytes], dict[str, bytes], list]:
        at = moment("issue")
        whole = copied(at.shop, at.beside)
        steps = refusable(_doing(whole, what))
        return at.shop, _files(at.shop, what), _files(whole, what), steps

    return made


@pytest.mark.parametrize("what", MADE)
def test_a_refused_print_is_told_and_leaves_nothing_half_written(printing, what, capsys):
    shop, before, whole, steps = printing(what)
    assert whole != before
    for fault in random.Random(what).sample(faults(steps), min(4, len(faults(steps)))):
        place = shop.parent / "beside/refused"
        shutil.rmtree(place, ignore_errors=True)
        place.mkdir()
        there = copied(shop, place)
        told = refused(_doing(there, what), fault)
        if told.code:
            assert_told(told, fault)
            assert "nothing written" in told.err
        now = _files(there, what)
        hidden = [each for each in now if "/." in f"/{each}" and each not in before]
        assert not hidden or fault.for_good, (fault, hidden)
        assert {k: v for k, v in now.items() if k not in hidden} in (before, whole), fault
        if now != whole:
            assert _doing(there, what)() == 0, fault
        assert _files(there, what) == whole, fault


@pytest.mark.parametrize("what", MADE)
def test_a_killed_print_is_made_by_the_next_run_and_nothing_lies_about(printing, what, capsys):
    shop, _, whole, steps = printing(what)
    for step in random.Random(what).sample(steps, min(4, len(steps))):
        place = shop.parent / "beside/killed"
        shutil.rmtree(place, ignore_errors=True)
        place.mkdir()
        there = copied(shop, place)
        assert killed_at(_doing(there, what), step.number)
        assert run(there, "verify") == 0 or what in ("blank", "dossier"), step
        done = _files(there, what) == whole
        assert done or _doing(there, what)() == 0, step
        assert _files(there, what) == whole, step


def test_what_a_killed_draft_left_goes_with_the_next_one_of_another_process(printing, capsys):
    shop, _, _, steps = printing("draft")
    place = shop.parent / "beside/killed"
    place.mkdir()
    there = copied(shop, place)  # where nothing is kept that would save the killed run its work
    last = [
        each for each in steps if each.name in ("rename", "replace") and "draft" in each.paths[0]
    ][-1]
    assert killed_at(_doing(there, "draft"), last.number)
    assert [each.name for each in (there / "output/draft").glob(".*new*")]
    assert run(there, "draft", "T6-P-0310") == 0
    assert not [each.name for each in (there / "output/draft").glob(".*new*")]


def test_what_a_killed_copy_left_goes_with_the_next_draft(moment, capsys):
    at = moment("copy")
    whole = copied(at.shop, at.beside)
    steps = refusable(doing(whole, "copy", at.papers))
    last = [each for each in steps if each.name == "rename" and "draft" in each.paths[0]][-1]
    place = at.beside / "killed"
    place.mkdir()
    there = copied(at.shop, place)
    assert killed_at(doing(there, "copy", at.papers), last.number)
    assert [each.name for each in (there / "output/draft").glob(".*new*")]
    assert run(there, "draft", "T6-P-0120") == 0
    assert not [each.name for each in (there / "output/draft").glob(".*new*")]


def test_a_passing_folder_that_cannot_be_taken_away_stops_nothing(monkeypatch):
    def refused(path, **more):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), path)

    monkeypatch.setattr(os, "unlink", refused)
    with freezing._passing_folder() as folder:
        (folder / "process.yaml").write_text("title: kept\n", encoding="utf-8")
    assert (folder / "process.yaml").exists()
    monkeypatch.undo()
    shutil.rmtree(folder)


def test_json_stays_json_on_a_disk_that_says_no(moment, capsys):
    at = moment("issue")
    there = copied(at.shop, at.beside)
    told = refused(
        lambda: run(there, "check", "--whole", "--format", "json"), Fault(FULL, 1, for_good=True)
    )
    assert told.code == 0
    assert json.loads(told.out) == []


@pytest.mark.parametrize(
    "words", [("check",), ("check", "--whole", "--format", "json"), ("calculate",)]
)
def test_an_answer_that_cannot_be_written_is_told_without_a_traceback(moment, words):
    at = moment("issue")
    there = copied(at.shop, at.beside)
    line = [sys.executable, "-m", "generator", "--workshop", str(there), *words]
    with open("/dev/full", "w") as full:
        ran = subprocess.run(
            line, cwd=ROOT, stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert ran.returncode == 1
    assert ran.stderr.startswith("what was said could not be written: No space left on device\n")
    assert "Traceback" not in ran.stderr and "Exception" not in ran.stderr


@contextmanager
def _small_disk(place: Path) -> Iterator[bool]:
    """A real disk of 8 MiB where this user may make one."""
    place.mkdir()
    line = ["mount", "-t", "tmpfs", "-o", "size=8m", "tmpfs", str(place)]
    made = (
        os.geteuid() == 0 and subprocess.run(line, capture_output=True, check=False).returncode == 0
    )
    try:
        yield made
    finally:
        if made:
            subprocess.run(["umount", str(place)], check=True)


@pytest.mark.parametrize("free", [0, 60_000, 400_000])
def test_a_full_disk_issues_nothing_and_says_so(moment, tmp_path, free, capsys):
    at = moment("issue")
    before = recorded(at.shop)
    staged = run_git(at.shop, "diff", "--cached", "--name-status")
    with _small_disk(tmp_path / "disk") as real:
        there = copied(at.shop, tmp_path / "disk")
        issue = doing(there, "issue", at.papers)
        if real:
            left = os.statvfs(there)
            (tmp_path / "disk/fill").write_bytes(bytes(max(0, left.f_bavail * left.f_bsize - free)))
            never = Fault(FULL, 1_000_000)
            told = refused(issue, never)
        else:
            told = refused(issue, Fault(FULL, 1 + free // 4000, for_good=True))
        assert_told(told, Fault(FULL, 0))
        begun = noted(there)
        assert ("is begun and will be" in told.err) == begun
        if real:
            (tmp_path / "disk/fill").unlink()
        assert issue() == 0
        assert assert_sound(there, before) == ["A-0001", "A-0002"]
        assert_git_whole(there, staged)
