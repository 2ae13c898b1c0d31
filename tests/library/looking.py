"""What the tests of this room borrow: a workshop folder in; what a run said and left behind, out."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path

from generator.__main__ import main

ROOT = Path(__file__).parents[2]


def run(folder: Path, *words: str) -> int:
    return main(["--workshop", str(folder), *words])


def said(capsys, folder: Path, *words: str) -> tuple[int, str, str]:
    """The exit code of a run and what it said, without the folder's own name."""
    capsys.readouterr()
    code = run(folder, *words)
    told = capsys.readouterr()
    return code, told.out.replace(str(folder), "."), told.err.replace(str(folder), ".")


def started(folder: Path, *words: str) -> subprocess.Popen[bytes]:
    """A run in a process of its own, which hears the key that stops it: whoever runs the tests in
    the background made all of them deaf to it."""
    return subprocess.Popen(
        [sys.executable, "-m", "generator", "--workshop", str(folder), *words],
        cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, start_new_session=True,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )  # fmt: skip


def drafts(folder: Path) -> dict[str, bytes]:
    """Every finished file below the drafts; folders that are being made count, what is kept not."""
    top = folder / "output" / "draft"
    files = {f.relative_to(top).as_posix(): f for f in top.rglob("*") if f.is_file()}
    return {name: f.read_bytes() for name, f in files.items() if not name.startswith(".kept/")}


def process_file(folder: Path, n: int) -> Path:
    return folder / "processes" / f"shelf-{n}.yaml"


def changed(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")
