"""A command that runs, in; each thing that it does to the disk and each run of git, met one by one
by whoever wants to count it, fail it, kill it or write it down, out.

What is met is what Python asks of the operating system; of git, that it is called. Nothing here
knows how many such steps an act has: a dry run counts them.
"""

from __future__ import annotations

import builtins
import fcntl
import io
import os
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest import mock

from tests.faults.model import seen


@dataclass(frozen=True)
class Touch:
    """One step to the disk. paths: what it is about, all absolute; words: of a run of git."""

    number: int
    name: str
    paths: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    content: bytes = b""


Meet = Callable[[Touch, Callable[[], Any]], Any]
"""Called in place of the step; the second is the step itself, which it may do, or not."""

_ON_PATHS = ("rename", "replace", "link", "unlink", "mkdir", "rmdir")
_ON_HANDLES = ("fsync", "ftruncate", "write")
_WRITING = set("wax+")


@contextmanager
def touching(meet: Meet) -> Iterator[None]:
    """Inside, every step to the disk is met."""
    count = [0]

    def met(name: str, act: Callable[[], Any], paths=(), words=(), content=b"") -> Any:
        count[0] += 1
        return meet(Touch(count[0], name, tuple(paths), tuple(words), content), act)

    with (
        mock.patch.multiple(os, **_os_steps(met)),
        mock.patch.object(subprocess, "run", _git_step(met)),
        mock.patch.object(fcntl, "flock", _flock_step(met)),
    ):
        opened = _opened(met, io.open)
        with mock.patch.object(io, "open", opened), mock.patch.object(builtins, "open", opened):
            yield


def _os_steps(met: Callable[..., Any]) -> dict[str, Any]:
    def on_paths(name: str, act: Any) -> Any:
        def step(*words: Any, **more: Any) -> Any:
            folder = more.get("dir_fd")
            paths = [_whole(each, folder) for each in words[: 2 if name in _TWO else 1]]
            return met(name, lambda: act(*words, **more), paths)

        return step

    def on_handle(name: str, act: Any) -> Any:
        def step(handle: int, *words: Any) -> Any:
            content = bytes(words[0]) if name == "write" else b""
            if name == "write" and not _path_of(handle).startswith("/"):
                return act(handle, *words)  # a pipe
            return met(name, lambda: act(handle, *words), [_path_of(handle)], content=content)

        return step

    steps = {name: on_paths(name, getattr(os, name)) for name in _ON_PATHS}
    steps |= {name: on_handle(name, getattr(os, name)) for name in _ON_HANDLES}
    plain = os.open

    def open_step(path: Any, flags: int, *words: Any, **more: Any) -> int:
        if not flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT):
            return plain(path, flags, *words, **more)
        place = _whole(path, more.get("dir_fd"))
        return met("open", lambda: plain(path, flags, *words, **more), [place])

    return {**steps, "open": open_step}


_TWO = ("rename", "replace", "link")


def _whole(path: Any, folder: int | None = None) -> str:
    told = os.fsdecode(path)
    return os.path.abspath(told if folder is None else os.path.join(_path_of(folder), told))


def _path_of(handle: Any) -> str:
    return os.readlink(f"/proc/self/fd/{handle if isinstance(handle, int) else handle.fileno()}")


def _git_step(met: Callable[..., Any]) -> Any:
    plain = subprocess.run

    def step(line: Any, *words: Any, **more: Any) -> Any:
        if Path(line[0]).name != "git":
            return plain(line, *words, **more)
        return met("git", lambda: plain(line, *words, **more), words=line)

    return step


def _flock_step(met: Callable[..., Any]) -> Any:
    plain = fcntl.flock
    return lambda handle, how: met("flock", lambda: plain(handle, how), [_path_of(handle)])


def _opened(met: Callable[..., Any], plain: Any) -> Any:
    def step(file: Any, mode: str = "r", *words: Any, **more: Any) -> Any:
        if not _WRITING & set(mode) or isinstance(file, int):
            return plain(file, mode, *words, **more)
        place = _whole(file)
        return _Written(met("open", lambda: plain(file, mode, *words, **more), [place]), place, met)

    return step


class _Written:
    """A file that is written: what is told to it reaches the disk when it is flushed or closed."""

    def __init__(self, file: Any, place: str, met: Callable[..., Any]) -> None:
        self._file, self._place, self._met = file, place, met

    def write(self, content: Any) -> int:
        told = content.encode() if isinstance(content, str) else bytes(content)

        def act() -> int:
            count = self._file.write(content)
            self._file.flush()
            return int(count)

        return int(self._met("write", act, [self._place], content=told))

    def close(self) -> None:
        self._file.close()

    def __enter__(self) -> _Written:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._file, name)


def in_child(act: Callable[[], object], meet: Meet) -> int:
    """Run the act in a child in which each step is met; its exit code, 9 where meet ended it."""
    child = os.fork()
    if child == 0:
        code = 1
        try:
            quiet = os.open(os.devnull, os.O_WRONLY)
            os.dup2(quiet, 1)
            os.dup2(quiet, 2)
            with touching(meet):
                code = int(act() or 0)  # type: ignore[call-overload]
        finally:
            os._exit(code)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def counted(act: Callable[[], object], top: Path | None = None) -> list[Touch]:
    """All steps of the act, which is done. top: a folder; then only those steps behind which
    something below it is not as it was, and the first."""
    met: list[Touch] = []
    last = seen(top) if top else {}

    def meet(touch: Touch, step: Callable[[], Any]) -> Any:
        nonlocal last
        now = seen(top) if top and touch.name not in ("fsync", "flock") else last
        if not met or not top or now != last:
            met.append(touch)
        last = now
        return step()

    with touching(meet):
        act()
    return met


def refusable(act: Callable[[], object]) -> list[Touch]:
    """The steps of the act, which is done, but for folders that are there and files that are not."""
    met: list[Touch] = []

    def meet(touch: Touch, step: Callable[[], Any]) -> Any:
        made = step()  # a step that fails by itself is none that a disk could refuse
        met.append(touch)
        return made

    with touching(meet):
        act()
    return met


def killed_at(act: Callable[[], object], number: int) -> bool:
    """Kill the act before its n-th step, a write in its middle; False where it has fewer."""

    def meet(touch: Touch, step: Callable[[], Any]) -> Any:
        if touch.number == number:
            if touch.name == "write":
                _torn(touch)
            os._exit(9)
        return step()

    return in_child(act, meet) == 9


def _torn(touch: Touch) -> None:
    with open(touch.paths[0], "r+b", buffering=0) as file:
        file.seek(0, os.SEEK_END)
        file.write(touch.content[: len(touch.content) // 2])
