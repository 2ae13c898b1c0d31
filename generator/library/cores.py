"""A function and many things in; its result for each, in their order, worked out on all cores, out.

The order, and what comes out, are those of a plain loop. Few things are done in a plain loop.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, Any, TypeVar

from generator.findings import Refusal

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

Thing = TypeVar("Thing")
Result = TypeVar("Result")

FROM = 4
"""With fewer things than this, starting a second process costs more than it saves."""

_AHEAD = 64  # results that wait for an earlier one, for each core
_MOST = 16  # cores; each takes about 100 MB
_WAYS = {"linux": "fork"}  # elsewhere a forked process may find a library in the middle of a step


def count() -> int:
    """How many cores this run may use."""
    if hasattr(os, "sched_getaffinity"):
        return min(len(os.sched_getaffinity(0)), _MOST)
    return min(os.cpu_count() or 1, _MOST)


def way() -> str:
    """How a helping process is started."""
    return _WAYS.get(sys.platform, "spawn")


def on_all_cores(
    act: Callable[[Thing], Result], things: Sequence[Thing], least: int = FROM
) -> Iterator[Result]:
    """The results in the order of the things. What the function raises is raised here, at its
    turn. act and results must be such as can be sent to another process."""
    crew = min(count(), len(things))
    if crew < 2 or len(things) < least:
        yield from map(act, things)
        return
    yield from _handed_out(act, things, crew)


def _handed_out(
    act: Callable[[Thing], Result], things: Sequence[Thing], crew: int
) -> Iterator[Result]:
    from multiprocessing.connection import wait

    pipes, helpers = _hired(act, crew)
    free, done = list(pipes), dict[int, tuple[bool, Any]]()
    given = wanted = 0
    try:
        while wanted < len(things):
            while free and given < min(len(things), wanted + _AHEAD * crew):
                _told(free.pop(), (given, things[given]))
                given += 1
            for pipe in wait([each for each in pipes if each not in free]):
                n, sound, result = _heard(pipe)  # type: ignore[arg-type]
                done[n] = sound, result
                free.append(pipe)  # type: ignore[arg-type]
            while wanted in done:
                sound, result = done.pop(wanted)
                if not sound:
                    raise result
                yield result
                wanted += 1
    finally:
        for pipe in pipes:
            pipe.close()
        for helper in helpers:
            helper.terminate()
            helper.join()


def _hired(act: Callable[[Thing], Result], crew: int) -> tuple[list[Connection], list[Any]]:
    """A pipe to each helping process, and the processes."""
    from multiprocessing import get_context

    context: Any = get_context(way())
    pipes: list[Connection] = []
    helpers = []
    for _ in range(crew):
        ours, theirs = context.Pipe()
        pipes.append(ours)
        # A forked process has our ends of all pipes: it lets go of them, so that it hears when we
        # are gone.
        forked = list(pipes) if way() == "fork" else []
        helper = context.Process(target=_helps, args=(act, theirs, forked), daemon=True)
        with _unasked():
            helper.start()
        theirs.close()
        helpers.append(helper)
    return pipes, helpers


@contextmanager
def _unasked() -> Iterator[None]:
    """A helper is born deaf to the key that stops a run; who started it hears it, and ends it."""
    old = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, old)


def _told(pipe: Connection, words: object) -> None:
    try:
        pipe.send(words)
    except OSError as gone:
        raise _lost() from gone


def _heard(pipe: Connection) -> tuple[int, bool, Any]:
    try:
        told: tuple[int, bool, Any] = pipe.recv()
    except (EOFError, OSError) as gone:
        raise _lost() from gone
    return told


def _lost() -> Refusal:
    return Refusal(
        "stopped", "a process that helped was ended from outside",
        "the same once more, with more memory free",
    )  # fmt: skip


def _helps(act: Callable[[Any], Any], pipe: Connection, others: Sequence[Connection]) -> None:
    """The life of a helping process: thing in, result out, until nobody asks any more."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    for other in others:
        other.close()
    with suppress(EOFError, OSError):
        while True:
            n, thing = pipe.recv()
            pipe.send(_answer(act, n, thing))


def _answer(act: Callable[[Any], Any], n: int, thing: Any) -> tuple[int, bool, Any]:
    try:
        return n, True, act(thing)
    except Exception as fault:
        return n, False, fault
