"""Nothing in; how the record does as it grows, as tables, out: an issue, an entry, a close, verify,
list, index and trace at 10, 100, 1,000 and 10,000 travellers, or up to the number that is given.
Run by `make bench-record`; 10,000 want gigabytes of room and many minutes.

Every traveller has results, and nine of ten are closed. An entry and a close are timed as acts of
the record: what is judged before them looks at one traveller alone.
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
from collections.abc import Callable, Mapping, Sequence
from hashlib import sha256
from pathlib import Path

from generator.commands.finding import trace
from generator.commands.list import list as list_open
from generator.commands.verify import verify
from generator.record import Act, Desk, git, perform, take
from generator.record.desk import COMPLETED
from generator.record.index import INDEX, indexed
from generator.record.processes import Listed
from generator.record.sound import sound

SIZES = (10, 100, 1_000, 10_000)
IN_A_COMMIT = 10
RUNS = 15
PROCESSES = 100
SHEET = 60_000  # bytes of the largest file; a traveller of the demo has about that in its sheet
OPEN = 10  # one of so many travellers is open
ENTERED = "2026-11-26"
HEADS = (
    ("travellers", "issue", "of it git", "disk", "own", "entry", "of it git", "close", "of it git"),
    ("travellers", "verify", "`sha256sum -c`", "verify over it", "list", "index anew", "trace"),
    ("a traveller", "verify", "list, one open", "index anew", "trace",
     "memory of verify", "of list", "of trace"),
)  # fmt: skip
TEXTS = {"process.yaml": 4_000, "traveller.md": 20_000, "calculation-sheet.md": 12_000,
         "boxes.json": 30_000, "form.yaml": 0, "traveller.pdf": SHEET}  # fmt: skip


def main() -> int:
    most = int(sys.argv[1]) if sys.argv[1:] else SIZES[-1]
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        _begin(folder)
        made, rows = 0, []
        for size in (each for each in SIZES if each <= most):
            _grow(folder, made, size)
            rows.append(_report(folder, size))
            made = size + RUNS
            print(f"{size:,}: done", flush=True)
    for number, heads in enumerate(HEADS):
        print("\n| " + " | ".join(heads) + " |\n" + "| --- " * len(heads) + "|")
        for row in rows:
            print("| " + " | ".join(row[number]) + " |")
    return 0


def _begin(folder: Path) -> None:
    room = folder / "processes"
    shutil.copytree("processes/workshop", room / "workshop")
    (folder / ".gitignore").write_text("output/index.csv\n", encoding="utf-8")
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


def _result(serial: str, after: Sequence[str]) -> bytes:
    """What was entered of one traveller: a batch, an instrument and ten readings."""
    number = int(serial[2:])
    read = "".join(f"        reading {i}: {(number * i) % 97 / 10} mm\n" for i in range(1, 11))
    return (
        (
            f"act: result\ntraveller: {serial}\non: '{ENTERED}'\nby: LQ1\nafter: {[*after]}\n"
            f"boxes:\n  traveller:\n    '10':\n      batch: B-{number // 20}\n{read}"
        )
        .replace("        reading", "      reading")
        .encode()
    )


def _close(serial: str) -> bytes:
    return f"act: close\ntraveller: {serial}\non: '{ENTERED}'\nby: LQ1\nafter: []\n".encode()


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
    acts = {f"output/completed/{serial}/A-001-result.yaml": _result(serial, ())}
    if int(serial[2:]) % OPEN:
        acts[f"output/completed/{serial}/A-002-close.yaml"] = _close(serial)
    (folder / "output/completed" / serial).mkdir(parents=True)
    for path, content in acts.items():
        (folder / path).write_bytes(content)
        row += f"{sha256(content).hexdigest()}  {path}\n"
    told |= acts
    told |= _added(folder, f"output/processes/{process}/issued-A.txt", _line(serial))
    return told | _added(folder, "output/register-A.txt", row)


def _line(serial: str) -> str:
    return Listed(serial, "A", (serial[2:],)).line


def _added(folder: Path, path: str, row: str) -> dict[str, bytes]:
    """A line behind a list on the disk; the whole list."""
    file = folder / path
    file.parent.mkdir(parents=True, exist_ok=True)
    with file.open("a", encoding="utf-8") as handle:
        handle.write(row)
    return {path: file.read_bytes()}


def _report(folder: Path, size: int) -> tuple[tuple[str, ...], ...]:
    """One row of each table; RUNS travellers are issued, written on and closed on the way."""
    first = size + 1
    issue = _timed(lambda n: _issue(folder))
    entry = _timed(lambda n: _enter(folder, first + n))
    close = _timed(lambda n: _shut(folder, first + n))
    _lists_match(folder)
    ours = _seconds(lambda: _quietly(lambda: verify(_asked(folder))))
    theirs = _seconds(lambda: _sha256sum(folder))
    listed = _seconds(lambda: _quietly(lambda: list_open(_asked(folder))))
    anew = _seconds(lambda: _anew(folder))
    traced = _seconds(lambda: _quietly(lambda: trace(_traced(folder))))
    memory = [_memory(folder, words) for words in (("verify",), ("list",), ("trace", "B-0"))]
    return (
        (f"{size:,}", *map(_ms, issue), *map(_ms, entry[:2]), *map(_ms, close[:2])),
        (f"{size:,}", _ms(ours), _ms(theirs), f"{ours / theirs:.2f}", _ms(listed), _ms(anew),
         _ms(traced)),
        (f"1 of {size:,}", _ms(ours / size), _ms(listed / (size // OPEN)), _ms(anew / size),
         _ms(traced / size), *(f"{each:.1f} MB" for each in memory)),
    )  # fmt: skip


def _ms(seconds: float) -> str:
    ms = seconds * 1000
    return f"{ms:,.0f} ms" if ms >= 10 else f"{ms:.2f} ms" if ms >= 0.1 else f"{ms:.4f} ms"


def _anew(folder: Path) -> None:
    (folder / INDEX).unlink(missing_ok=True)
    indexed(folder)


def _memory(folder: Path, words: Sequence[str]) -> float:
    """The most memory that a command held at once, without git's, in MB. It is asked of the new
    process itself: what the system counts for a child begins with what we hold."""
    asked = (
        "import sys; from generator.__main__ import main; code = main(sys.argv[1:]); "
        "print(open('/proc/self/status').read().partition('VmHWM:')[2].split()[0], file=sys.stderr)"
        "; sys.exit(code)"
    )
    line = [sys.executable, "-c", asked, "--workshop", str(folder), *words]
    ran = subprocess.run(line, capture_output=True, text=True, check=False)
    if ran.returncode:
        raise SystemExit(f"{words[0]} says {ran.returncode}: {ran.stderr}")
    return int(ran.stderr.split()[-1]) / 1024


def _timed(act: Callable[[int], None]) -> tuple[float, float, float, float]:
    """Seconds of an act, the median of RUNS: all, waited for git, waited for the disk to have
    flushed or to let go of git's index, and our own."""
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
    for number in range(RUNS):
        spent |= {"git": 0.0, "disk": 0.0}
        start = time.perf_counter()
        act(number)
        whole = time.perf_counter() - start
        rows.append((whole, spent["git"], spent["disk"], whole - spent["git"] - spent["disk"]))
    for (room, name), was in acts.items():
        setattr(room, name, was)
    whole, of_git, of_disk, own = (statistics.median(each) for each in zip(*rows, strict=True))
    return whole, of_git, of_disk, own


def _enter(folder: Path, number: int) -> None:
    _act(folder, f"A-{number:04d}", "result", _result(f"A-{number:04d}", ()))


def _shut(folder: Path, number: int) -> None:
    _act(folder, f"A-{number:04d}", "close", _close(f"A-{number:04d}"))


def _act(folder: Path, serial: str, kind: str, content: bytes) -> None:
    def make(at: Desk) -> Act:
        sound(folder, serial)
        path = at.next_file(f"{COMPLETED}/{serial}", kind)
        return Act(path, f"{kind} {serial}", {path: content})

    perform(folder, "A", make)


def _issue(folder: Path) -> None:
    def lists(serial: str) -> Mapping[str, str]:
        listed = Listed(serial, "A", (serial[2:],))
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
    return Namespace(
        workshop=folder, whole_history=False, scans_by=None, format="text", print=False
    )


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
