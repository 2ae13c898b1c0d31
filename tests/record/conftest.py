"""A folder, in; a small workshop in git, out: one process committed, nobody's own git settings."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

Git = Callable[..., str]


@pytest.fixture(autouse=True)
def _nobodys_settings(monkeypatch):
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", os.devnull)
    monkeypatch.setenv("GIT_CONFIG_NOSYSTEM", "1")


def run_git(folder: Path, *words: str) -> str:
    """What git writes in the folder, signed by a made-up lead."""
    signed = ("-c", "user.name=Lead", "-c", "user.email=lead@workshop.invalid")
    line = ["git", "-C", str(folder), *signed, *words]
    return subprocess.run(line, check=True, capture_output=True, text=True).stdout


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    """A workshop that is a sub-folder of its git work tree."""
    folder = tmp_path / "airframe" / "workshop"
    (folder / "processes").mkdir(parents=True)
    (folder / "processes" / "clip.yaml").write_text("title: Clip\n")
    run_git(tmp_path / "airframe", "init", "--quiet", "--initial-branch=main")
    run_git(folder, "add", ".")
    run_git(folder, "commit", "--quiet", "-m", "Clip, first issue")
    return folder
