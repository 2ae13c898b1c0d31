"""Nothing in; how the record does as it grows, as a table, out: issue, verify and trace at 10, 100,
1,000 and 10,000 travellers. Run by `make bench-record`; it wants gigabytes of room and minutes.
"""

from __future__ import annotations

import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from argparse import Namespace
from collections.abc import Callable, Mapping
from hashlib import sha256
from pathlib import Path

from generator.commands.finding import trace
from generator.commands.verify import verify
from generator.record import git, take
from generator.record.index import indexed
from generator.record.processes import Listed

SIZES = (10, 100, 1_000, 10_000)
IN_A_COMMIT = 10
RUNS = 15
PROCESSES = 100
SHEET = 60_000  # bytes of the largest file; a traveller of the demo has about that in its sheet
TEXTS = {"process.yaml": 4_000, "traveller.md": 20_000, "calculation-sheet.md": 12_000,
         "boxes.json": 30_000, "form.yaml": 0, "traveller.pdf": SHEET}  # fmt: skip


def main() -> int:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        _begin(folder)
        made = 0
        print(f"{'travellers':>10} {'issue':>9} {'of it git':>10} {'disk':>8} {'own':>8} "
              f"{'verify':>9} {'sha256sum -c':>13} {'ratio':>6} {'trace':>8}")  # fmt: skip
        for size in SIZES:
            _grow(folder, made, size)
            made = size + _report(folder, size)
    return 0


def _begin(folder: Path) -> None:
    room = folder / "processes"
    shutil.copytree("processes/workshop", room / "workshop")
    _git(folder, "init", "-q", "-b", "main")
    _git(folder, "config", "user.name", "Bench")
    _git(folder, "config", "user.email", "bench@workshop.invalid")
    _git(folder, "config", "gc.auto", "0")
    _git(folder, "add", ".")
    _git(folder, "commit", "-qm", "A workshop")


def _git(folder: Path, *words: str) -> None:
    subprocess.run(["git", *words], cwd=folder, check=True)


def _files(serial: str, process: str) -> dict[str, bytes]:
    """A traveller of plausible size; its texts differ from those of every other."""
    number = int(serial[2:])
    told = {
        name: (f"{serial} {name} ".encode() * (size // 20 + 1))[:size]
        for name, size in TEXTS.items()
    }
    told["form.yaml"] = b"operations: []\nstops: []\nfields: []\n"
    told["process.yaml"] = f"process: {process}\npart: {{name: Bracket}}\n".encode()
    told["facts.yaml"] = (
        f"traveller: {serial}\nprocess: {process}\nrevision: A\npart: T6-1-{number % PROCESSES}\n"
        f"part serials:\n- '{number:04d}'\nissued on: '2026-11-25'\nby: LQ1\nfingerprint: x\n"
    ).encode()
    return told


def _process(serial: str) -> str:
    return f"T6-P-{int(serial[2:]) % PROCESSES:04d}"


def _grow(folder: Path, made: int, size: int) -> None:
    """Travellers up to this size, straight to the disk and, some to a commit, through git's own
    importer: git add would look through the whole record a thousand times."""
    feed = subprocess.Popen(
        ["git", "fast-import", "--quiet"], cwd=folder, stdin=subprocess.PIPE, text=False
    )
    assert feed.stdin is not None
    before = "refs/heads/main^0"
    for first in range(made + 1, size + 1, IN_A_COMMIT):
        told: dict[str, bytes] = {}
        for number in range(first, min(first + IN_A_COMMIT, size + 1)):
            told |= _written(folder, f"A-{number:04d}")
        feed.stdin.write(_imported(f"Issue to {first}", told, before))
        before = ""
    feed.stdin.close()
    if feed.wait():
        raise SystemExit("git fast-import says no")
    _git(folder, "read-tree", "HEAD")
    subprocess.run(["git", "update-index", "-q", "--refresh"], cwd=folder, check=False)
    _git(folder, "update-ref", "refs/witnessmark/A", "HEAD")


def _imported(title: str, files: Mapping[str, bytes], before: str) -> bytes:
    """A commit of these files for git fast-import."""
    head = "commit refs/heads/main\ncommitter Bench <bench@workshop.invalid> 1790000000 +0000\n"
    said = [head.encode(), f"data {len(title)}\n{title}\n".encode()]
    if before:
        said.append(f"from {before}\n".encode())
    for path, content in files.items():
        said.append(f"M 100644 inline {path}\ndata {len(content)}\n".encode() + content + b"\n")
    return b"".join(said)


def _written(folder: Path, serial: str) -> dict[str, bytes]:
    """One traveller on the disk; what was written, lists as they stand now."""
    process = _process(serial)
    place = f"output/issued/{serial}"
    told = {f"{place}/{name}": content for name, content in sorted(_files(serial, process).items())}
    sums = "".join(f"{sha256(told[path]).hexdigest()}  {path}\n" for path in told).encode()
    told[f"{place}/sums.txt"] = sums
    (folder / place).mkdir(parents=True)
    for path, content in told.items():
        (folder / path).write_bytes(content)
    row = f"{sha256(sums).hexdigest()}  {place}/sums.txt\n"
    told |= _added(folder, f"output/processes/{process}/issued-A.txt", LINE(serial))
    return told | _added(folder, "output/register-A.txt", row)


def LINE(serial: str) -> str:
    return Listed(serial, "A", ("0001",)).line


def _added(folder: Path, path: str, row: str) -> dict[str, bytes]:
    """A line behind a list on the disk; the whole list."""
    file = folder / path
    file.parent.mkdir(parents=True, exist_ok=True)
    with file.open("a", encoding="utf-8") as handle:
        handle.write(row)
    return {path: file.read_bytes()}


def _report(folder: Path, size: int) -> int:
    """One row of the table; how many travellers it issued."""
    whole, of_git, of_disk = _timed_issues(folder)
    own = [w - g - d for w, g, d in zip(whole, of_git, of_disk, strict=True)]
    _lists_match(folder)
    ours = _seconds(lambda: _quietly(lambda: verify(_asked(folder))))
    theirs = _seconds(lambda: _sha256sum(folder))
    indexed(folder)
    traced = _seconds(lambda: _quietly(lambda: trace(_traced(folder))))
    ms = [1000 * statistics.median(each) for each in (whole, of_git, of_disk, own)]
    print(f"{size:>10} {ms[0]:>6.0f} ms {ms[1]:>7.0f} ms {ms[2]:>5.0f} ms {ms[3]:>5.1f} ms "
          f"{ours * 1000:>6.0f} ms "
          f"{theirs * 1000:>10.0f} ms {ours / theirs:>6.2f} {traced * 1000:>5.0f} ms",
          flush=True)  # fmt: skip
    return RUNS


def _timed_issues(folder: Path) -> tuple[list[float], list[float], list[float]]:
    """Seconds of each issue; of them waited for git, and for the disk to have flushed or to let go
    of git's index, a file as long as the record."""
    spent = {"git": 0.0, "disk": 0.0}

    def timed(of: str, act: Callable[..., object]) -> Callable[..., object]:
        def run(*words: object, **more: object) -> object:
            start = time.perf_counter()
            try:
                return act(*words, **more)
            finally:
                spent[of] += time.perf_counter() - start

        return run

    kept = {(git, "_ran"): "git"} | {(os, name): "disk" for name in ("fsync", "unlink", "replace")}
    acts = {(room, name): getattr(room, name) for room, name in kept}
    for (room, name), of in kept.items():
        setattr(room, name, timed(of, acts[room, name]))
    rows = []
    for _ in range(RUNS):
        spent |= {"git": 0.0, "disk": 0.0}
        start = time.perf_counter()
        _issue(folder)
        rows.append((time.perf_counter() - start, spent["git"], spent["disk"]))
    for (room, name), act in acts.items():
        setattr(room, name, act)
    whole, of_git, of_disk = map(list, zip(*rows, strict=True))
    return whole, of_git, of_disk


def _issue(folder: Path) -> None:
    def lists(serial: str) -> Mapping[str, str]:
        listed = Listed(serial, "A", ("0001",))
        return {f"output/processes/{_process(serial)}/issued-A.txt": listed.line}

    take(folder, "A", lambda s: _files(s, _process(s)), lambda s: f"Issue {s}", lists)


def _lists_match(folder: Path) -> None:
    told = subprocess.run(
        ["git", "status", "--porcelain"], cwd=folder, capture_output=True, text=True, check=True
    )
    if told.stdout:
        raise SystemExit(f"the benchmark's record is not clean: {told.stdout[:200]}")


def _seconds(act: Callable[[], object]) -> float:
    act()
    times = []
    for _ in range(3):
        start = time.perf_counter()
        act()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def _quietly(act: Callable[[], int]) -> None:
    with open(os.devnull, "w", encoding="utf-8") as nowhere:
        out, sys.stdout = sys.stdout, nowhere
        try:
            code = act()
        finally:
            sys.stdout = out
    if code:
        raise SystemExit("the benchmark's record is not what was written")


def _asked(folder: Path) -> Namespace:
    return Namespace(workshop=folder, whole_history=False, scans_by=None, format="text")


def _traced(folder: Path) -> Namespace:
    return Namespace(
        workshop=folder, word="T6-1-7 0007", kind="part", since=None, until=None, all=False,
        format="text",
    )  # fmt: skip


def _sha256sum(folder: Path) -> None:
    line = "find output/issued -name sums.txt -print0 | xargs -0 cat output/register-A.txt"
    subprocess.run(f"{line} | sha256sum -c --quiet --strict", shell=True, cwd=folder, check=True)


if __name__ == "__main__":
    raise SystemExit(main())
