"""Workshops with one issued traveller, made once, in; a copy that a test may change, out."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.commands.test_commands import ROOT, SOUND, committed, issue


@pytest.fixture(scope="session")
def issued_shop(tmp_path_factory) -> Path:
    """The sound shop, its shelf waiting for nothing, issued as A-0001 for part 0001."""
    folder = tmp_path_factory.mktemp("issued") / "shop"
    shutil.copytree(SOUND, folder)
    file = folder / "processes" / "shelf.yaml"
    alone = file.read_text(encoding="utf-8").replace("process: T6-P-0310", "evidence: EV-0310")
    file.write_text(alone, encoding="utf-8")
    committed(folder)
    assert issue(folder, "T6-P-0120", "0001") == 0
    return folder


@pytest.fixture(scope="session")
def issued_demo(tmp_path_factory) -> Path:
    """The demo workshop with its bracket issued as A-0001 for part 0001."""
    folder = tmp_path_factory.mktemp("demo") / "shop"
    shutil.copytree(ROOT / "processes", folder / "processes")
    committed(folder)
    assert issue(folder, "T6-P-0120", "0001") == 0
    return folder


def copied(folder: Path, beside: Path) -> Path:
    subprocess.run(["cp", "-a", str(folder), str(beside / "shop")], check=True)
    return beside / "shop"


@pytest.fixture
def issued(issued_shop: Path, tmp_path: Path) -> Path:
    return copied(issued_shop, tmp_path)
