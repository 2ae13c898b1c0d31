"""An empty folder, in; a workshop whose record has one of everything, out."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path

import pytest

from tests.commands.changing import revise
from tests.commands.test_commands import approve, committed, issue, run
from tests.commands.test_slips import concede, dispose, entered, slip
from tests.helping import SOUND
from tests.results.filled import counted

ON = ("--on", "2026-11-26", "--stamp", "LQ1")


@pytest.fixture(scope="module")
def kept(tmp_path_factory) -> Path:
    return record(tmp_path_factory.mktemp("record") / "shop")


@pytest.fixture
def folder(kept, tmp_path) -> Path:
    """A copy of the record that may be damaged."""
    subprocess.run(["cp", "-a", str(kept), str(tmp_path / "shop")], check=True)
    return tmp_path / "shop"


def record(folder: Path) -> Path:
    """Four travellers: one closed with a slip, rework, concession, scans and a fit; one replaced;
    one withdrawn; one finished on its old revision."""
    unissued(folder)
    committed(folder)
    return worked(folder)


def unissued(folder: Path) -> None:
    """The sound workshop, its shelf waiting for no other process, nothing in git yet."""
    shutil.copytree(SOUND, folder, dirs_exist_ok=True)
    file = folder / "processes" / "shelf.yaml"
    text = file.read_text(encoding="utf-8").replace("process: T6-P-0310", "evidence: EV-0310")
    file.write_text(text, encoding="utf-8")


def slipped(folder: Path, more: Mapping[str, str] = {}) -> None:
    """Two slips on A-0001: one is reworked on R1, one used as it is by a concession. more: further
    words on its sheets."""
    entered(folder, {"10 thickness": "0.96", **more})
    assert slip(folder) == 0
    assert dispose(folder, "NC-A-0001", "rework") == 0
    entered(folder, {"10R1 thickness": "0.97"}, "R1")
    assert slip(folder, "10R1", "0.97 mm.") == 0
    assert dispose(folder, "NC-A-0002", "use") == 0
    assert concede(folder, "NC-A-0002") == 0


def worked(folder: Path) -> Path:
    """The committed workshop, with the record of one of everything."""
    assert issue(folder, "T6-P-0120", "0001") == 0
    slipped(folder, counted(2, 1, 1))
    scan = folder.parent / "A-0001.pdf"
    scan.write_bytes(b"%PDF-1.4 both sides of all sheets\n" * 40)
    words = ("--as", "scan", "--sheets", "1 to 5", "--side", "both")
    assert run(folder, "attach", "A-0001", str(scan), *words, *ON) == 0
    assert run(folder, "close", "A-0001", *ON) == 0
    assert run(folder, "fit", "A-0001", *ON) == 0
    assert issue(folder, "T6-P-0120", "0002", on="2026-11-26") == 0
    assert run(folder, "replace", "A-0002", "--why", "Lost.", *ON) == 0
    assert run(folder, "withdraw", "A-0003", "--why", "Wrong.", *ON) == 0
    assert issue(folder, "T6-P-0120", "0003", on="2026-11-26") == 0
    revise(folder)
    approve(folder, "T6-P-0120", "2026-11-26")
    words = ("--decision", "finish", "--why", "Small.")
    assert run(folder, "decide", "A-0004", *words, *ON) == 0
    return folder
