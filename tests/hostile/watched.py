"""A command in a process of its own, with everything it asks of the system written down.

`python watched.py LOG WORDS...` is the process; `watch` starts it, with bounds on its processor
time and memory, and gives back what happened. An audit hook of the interpreter sees each file that
is opened, made, moved or removed, each socket and each program started, whoever asks for it.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
SECONDS, MEMORY = 60, 1024 * 2**20  # of the processor; of address space: for whole workshops
FILES = ("open", "os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.link", "os.symlink",
         "os.truncate", "os.chmod", "shutil.rmtree")  # fmt: skip
OTHERS = ("socket.connect", "socket.bind", "socket.getaddrinfo", "urllib.Request", "os.system",
          "subprocess.Popen", "os.exec", "os.posix_spawn", "pickle.find_class")  # fmt: skip
WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND


@dataclass(frozen=True)
class Watched:
    """code: the exit code; told: both streams; seen: what was asked of the system, in order, as
    (what, path or words, whether it writes); seconds and memory: of the processor, and bytes."""

    code: int
    told: str
    seen: tuple[tuple[str, str, bool], ...]
    seconds: float
    memory: int

    def opened(self, writing: bool) -> set[Path]:
        return {
            Path(name) for what, name, writes in self.seen if what in FILES and writes is writing
        }


def watch(folder: Path, *words: str, env: Mapping[str, str] | None = None) -> Watched:
    """Run `witnessmark WORDS` with this folder as the current one, and look on."""
    log = folder.parent / "seen.jsonl"
    log.unlink(missing_ok=True)
    start = resource.getrusage(resource.RUSAGE_CHILDREN)
    ran = subprocess.run(
        [sys.executable, str(Path(__file__)), str(log), *words], cwd=folder,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, env={**os.environ, **(env or {})},
        preexec_fn=_bounds,
    )  # fmt: skip
    end = resource.getrusage(resource.RUSAGE_CHILDREN)
    rows = [json.loads(row) for row in log.read_text(encoding="utf-8").splitlines()]
    seen = tuple((what, name, writes) for what, name, writes in rows if what != "memory")
    used = next(int(name) for what, name, _ in rows if what == "memory")
    seconds = end.ru_utime + end.ru_stime - start.ru_utime - start.ru_stime
    return Watched(ran.returncode, ran.stdout.decode(errors="replace"), seen, seconds, used)


def _bounds() -> None:
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))


def _told(event: str, arguments: tuple[Any, ...]) -> tuple[str, str, bool] | None:
    """One line of the log, or nothing for what does not concern us."""
    if event == "open":
        name, _, flags = arguments
        if isinstance(name, int):  # a file that is open already
            return None
        return event, os.path.realpath(os.fsdecode(name)), bool((flags or 0) & WRITES)
    if event in FILES:
        named = [os.fsdecode(a) for a in arguments[:2] if isinstance(a, str | bytes | os.PathLike)]
        return event, os.path.join(os.path.realpath(os.path.dirname(named[-1])),
                                   os.path.basename(named[-1])), True  # fmt: skip
    return (event, str(arguments)[:300], True) if event in OTHERS else None


def _look_on(log: str, words: list[str]) -> int:
    sys.path.insert(0, str(ROOT))
    from generator.__main__ import main

    handle = open(log, "w", encoding="utf-8")  # noqa: SIM115

    def hook(event: str, arguments: tuple[Any, ...]) -> None:
        told = _told(event, arguments)
        if told is not None:
            handle.write(json.dumps(told) + "\n")

    sys.addaudithook(hook)
    try:
        return main(words)
    finally:
        used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
        handle.write(json.dumps(("memory", str(used), False)) + "\n")
        handle.flush()


if __name__ == "__main__":
    sys.exit(_look_on(sys.argv[1], sys.argv[2:]))
