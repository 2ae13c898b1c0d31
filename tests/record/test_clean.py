"""Files changed in every way that git knows, in; those that HEAD does not hold, out."""

from __future__ import annotations

import pytest

from generator.record import is_clean
from tests.record.conftest import run_git

CLIP = "processes/clip.yaml"


def test_what_is_committed_is_clean(workshop):
    assert is_clean(workshop, [CLIP, "processes"]) == []


def _changed(folder):
    (folder / CLIP).write_text("title: Clap\n")


def _staged(folder):
    _changed(folder)
    run_git(folder, "add", ".")


def _hidden_from_status(folder):
    run_git(folder, "update-index", "--assume-unchanged", CLIP)
    _changed(folder)


def _deleted(folder):
    (folder / CLIP).unlink()


def _a_link(folder):
    (folder / CLIP).rename(folder / "elsewhere")
    (folder / CLIP).symlink_to("../elsewhere")


@pytest.mark.parametrize("act", [_changed, _staged, _hidden_from_status, _deleted, _a_link])
def test_what_is_not_as_committed_is_named(workshop, act):
    run_git(workshop, "commit", "--quiet", "--allow-empty", "-m", "more")
    act(workshop)
    assert is_clean(workshop, [CLIP]) == ([] if act is _a_link else [CLIP])


@pytest.mark.parametrize("ignored", [False, True])
def test_what_was_never_committed_is_named(workshop, ignored):
    if ignored:
        (workshop / ".gitignore").write_text("new.yaml\n")
    (workshop / "processes" / "new.yaml").write_text("title: New\n")
    asked = [CLIP, "processes/new.yaml", "processes/none.yaml", "processes"]
    assert is_clean(workshop, asked) == asked[1:]


def test_a_name_is_a_name_and_no_pattern(workshop):
    (workshop / "processes" / "*.yaml").write_text("title: Star\n")
    assert is_clean(workshop, ["processes/*.yaml"]) == ["processes/*.yaml"]


def test_line_ends_are_compared_as_git_stores_them(workshop):
    run_git(workshop, "config", "core.autocrlf", "true")
    (workshop / CLIP).write_bytes(b"title: Clip\r\n")
    assert is_clean(workshop, [CLIP]) == []
