"""A workshop, in; a traveller issued there, and what must hold of a record at any time, out."""

from __future__ import annotations

import subprocess
from collections.abc import Mapping
from pathlib import Path

from generator.record import Issued, take
from tests.record.conftest import run_git


def files(serial: str) -> Mapping[str, bytes]:
    sheet = f"# Traveller {serial}\n".encode()
    return {
        "traveller.md": sheet,
        "workshop/stamps.yaml": b"stamps: []\n",
        "traveller.pdf": b"%PDF\0\r\n",
    }


def issue(workshop: Path, desk: str = "A") -> Issued:
    return take(workshop, desk, files, lambda serial: f"Issue {serial}: clip")


def assert_sound(workshop: Path, *serials: str, desk: str = "A") -> None:
    """Exactly these travellers, each whole, registered once, committed once; nothing lies about."""
    issued = workshop / "output" / "issued"
    assert sorted(each.name for each in issued.iterdir()) == sorted(serials)
    register = workshop / "output" / f"register-{desk}.txt"
    paths = [line.split("  ", 1)[1] for line in register.read_text().splitlines()]
    assert paths == [f"output/issued/{s}/sums.txt" for s in serials]
    for serial in serials:
        sums = (issued / serial / "sums.txt").read_text()
        named = [line.split("  ", 1)[1] for line in sums.splitlines()]
        assert named == [f"output/issued/{serial}/{name}" for name in sorted(files(serial))]
    for serial in serials:
        for name, content in files(serial).items():
            assert (issued / serial / name).read_bytes() == content
    lists = [register, *(issued / serial / "sums.txt" for serial in serials)]
    line = [
        "sha256sum",
        "-c",
        "--strict",
        "--quiet",
        *(str(e.relative_to(workshop)) for e in lists),
    ]
    assert subprocess.run(line, cwd=workshop, check=False).returncode == 0
    assert run_git(workshop, "status", "--porcelain", "--", "output") == ""
    words = run_git(workshop, "log", "--reverse", "--format=%s", "HEAD", "--", "output").split("\n")
    assert words[:-1] == [f"Issue {serial}: clip" for serial in serials]
    git_folder = Path(run_git(workshop, "rev-parse", "--absolute-git-dir").strip())
    assert not (git_folder / "index.lock").exists()
    left = {each.name for each in (git_folder / "witnessmark").iterdir()}
    assert left <= {"lock", "index-token"}, left
    assert not list((workshop / "output").glob(".new-*"))
