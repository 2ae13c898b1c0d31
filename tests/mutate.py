"""The files of generator/calculations/ in; each small change of them that no test notices, out.

`python -m tests.mutate [--only SUBJECT] [--jobs N]`. A mutant stands in the place of its subject in
a process of its own, and the tests of the calculations run there. One that passes them all has
survived: a test is missing, or it stands in mutants-accepted.txt with the reason why it cannot
matter. Exit code 0 is done; 1 a survivor, or a line of that file that is stale; 2 misuse, or tests
that fail before anything is changed.
"""

from __future__ import annotations

import argparse
import ast
import importlib
import importlib.abc
import importlib.util
import os
import pkgutil
import resource
import select
import signal
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.mutants import Mutant, mutants_of

ROOT = Path(__file__).parents[1]
TESTS = ROOT / "tests"
ACCEPTED = TESTS / "mutants-accepted.txt"
ROOM = "generator.calculations"
SECONDS = 60  # of the processor, not of the clock: a busy machine must not look like a hang
MEMORY = 4 * 2**30  # bytes: a mutant that grows without end must not take the machine with it
# Loaded once before the forks, for speed alone; nothing of the project is.
HEAVY = ("pytest", "hypothesis", "numpy", "yaml", "cerberus", "jinja2", "markdown_it")
# Tests that change the program themselves: under a mutant they fail for reasons of their own.
LEFT_OUT = "not operator_changed"

Check = Callable[[], str]


@dataclass(frozen=True)
class Verdict:
    """What became of a mutant. by: the test that noticed it, "hang", or "" where none did."""

    mutant: Mutant
    by: str


class _InPlace(importlib.abc.MetaPathFinder, importlib.abc.InspectLoader):
    """Gives the mutant to whoever imports the subject, and its text to whoever reads it."""

    def __init__(self, module: str, source: str) -> None:
        self.module, self.source = module, source

    def find_spec(self, name: str, path: Any = None, target: Any = None) -> Any:
        if name != self.module:
            return None
        return importlib.util.spec_from_loader(name, self, origin=f"{name}.mutant")

    def get_source(self, name: str) -> str:
        return self.source

    def exec_module(self, module: Any) -> None:
        # No file of this name exists, so that inspect and linecache ask get_source for the text.
        place = module.__file__ = f"{self.module}.mutant"
        exec(compile(self.source, place, "exec", dont_inherit=True), vars(module))


def judged(
    mutants: Iterable[Mutant], check: Check, jobs: int = 1, seconds: int = SECONDS
) -> Iterator[Verdict]:
    """Each mutant with what noticed it, as they finish; check runs in a fork, for so many seconds."""
    waiting = iter(mutants)
    running: dict[int, tuple[Mutant, int]] = {}
    while True:
        while len(running) < jobs and (mutant := next(waiting, None)):
            told, process = _forked(mutant, check, seconds)
            running[told] = mutant, process
        if not running:
            return
        told = select.select(list(running), [], [])[0][0]
        mutant, process = running.pop(told)
        with os.fdopen(told, encoding="utf-8") as answer:
            text = answer.read()
        yield Verdict(mutant, _noticed_by(os.waitpid(process, 0)[1], text))


def _noticed_by(status: int, answer: str) -> str:
    if os.WIFSIGNALED(status):
        ended = os.WTERMSIG(status)
        return "hang" if ended in (signal.SIGXCPU, signal.SIGALRM) else f"signal {ended}"
    if os.WEXITSTATUS(status) != 0:
        raise RuntimeError(f"the check itself failed: {answer}")
    return answer


def _forked(mutant: Mutant, check: Check, seconds: int) -> tuple[int, int]:
    """Start a process for one mutant: where its answer can be read, and its id."""
    sys.stdout.flush()
    sys.stderr.flush()
    told, tell = os.pipe()
    process = os.fork()
    if process:
        os.close(tell)
        return told, process
    failed = 1
    try:
        _walled_in(seconds)
        sys.meta_path.insert(0, _InPlace(mutant.module, mutant.source))
        os.write(tell, check().encode())
        failed = 0
    except BaseException as fault:
        os.write(tell, repr(fault).encode())
    finally:
        os._exit(failed)


def _walled_in(seconds: int) -> None:
    """This process ends in time, takes no more than its memory, and says nothing."""
    for ends in (signal.SIGXCPU, signal.SIGALRM):
        signal.signal(ends, signal.SIG_DFL)
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
    signal.alarm(20 * seconds)  # for one that sleeps, and so takes no time of the processor
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    nowhere = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nowhere, stream)


class _First:
    """A pytest plugin that remembers the first test that failed, or the file that did not load."""

    def __init__(self) -> None:
        self.name = ""

    def pytest_runtest_logreport(self, report: Any) -> None:
        if report.failed and not self.name:
            self.name = report.nodeid

    def pytest_collectreport(self, report: Any) -> None:
        if report.failed and not self.name:
            self.name = f"{report.nodeid} does not load"


@dataclass(frozen=True)
class Group:
    """Test files that are run together; chosen: which of their tests, as pytest's -k reads it."""

    files: tuple[str, ...]
    chosen: str = LEFT_OUT


def tests_notice(groups: Sequence[Group]) -> Check:
    """A check that runs these groups of test files until one fails, and names the test."""

    def check() -> str:
        import pytest

        os.chdir(ROOT)
        usual = ["-x", "-q", "-p", "no:cacheprovider", "--assert=plain"]
        for group in groups:
            first = _First()
            code = int(pytest.main([*usual, "-k", group.chosen, *group.files], plugins=[first]))
            if code in (1, 2):
                return first.name or "a test run cut short"
            if code not in (0, 5):  # 5: none of their tests is chosen
                raise RuntimeError(f"pytest ended with {code} on {group.files}")
        return ""

    return check


# The handbook as it was last read: it shows every limit, every rounding and every example. Asked
# last and counted apart, for it is our own print and agrees with nothing outside.
READ = Group(("tests/compose/test_handbook.py",), "stored_handbook")


def test_groups(subject: str, source: str) -> list[Group]:
    """The tests that are asked, the quick killers first.

    The files named after the subject; of the tests that name no calculation those that run one of
    this subject; the handbook as it was last read.
    """
    ours = " or ".join(_calculations_in(source))
    named, others = [], []
    for file in sorted(TESTS.rglob("test_*.py")):
        if file.parent.name == "calculations":
            (named if subject in file.name else others).append(str(file.relative_to(ROOT)))
    groups = [Group(tuple(named)), Group(tuple(others), f"{LEFT_OUT} and ({ours})"), READ]
    return [group for group in groups if group.files]


def _calculations_in(source: str) -> list[str]:
    """The names of the calculations that a subject holds."""
    functions = [n for n in ast.parse(source).body if isinstance(n, ast.FunctionDef)]
    return [
        f.name
        for f in functions
        if any("calculation(" in ast.unparse(decorator) for decorator in f.decorator_list)
    ]


def accepted_in(text: str) -> dict[str, str]:
    """The accepted mutants by key, with the reason of each; # begins a remark."""
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    parts = [line.rpartition(" | ") for line in lines]
    for line, (key, _, why) in zip(lines, parts, strict=True):
        if key.count(" | ") < 2 or not why.strip():
            raise ValueError(f"'{line}' is not: file | function | change | why")
    if len({key for key, _, _ in parts}) < len(parts):
        raise ValueError("one mutant is accepted twice")
    return {key: why for key, _, why in parts}


def summed_up(verdicts: Sequence[Verdict], accepted: Mapping[str, str]) -> tuple[list[str], bool]:
    """The lines at the end of a run, and whether all is well."""
    lines = [_counted("in what is printed", [v for v in verdicts if not v.mutant.second])]
    lines += [_counted("in second methods", [v for v in verdicts if v.mutant.second])]
    survivors = {v.mutant.key: v.mutant for v in verdicts if not v.by}
    missed = {key: mutant for key, mutant in survivors.items() if key not in accepted}
    stale = [key for key in accepted if key not in survivors]
    lines += [f"accepted: {key} | {why}" for key, why in accepted.items() if key in survivors]
    for second, name in ((False, "SURVIVED"), (True, "SURVIVED in a second method")):
        of = [m for m in missed.values() if m.second is second]
        lines += [f"{name}: line {m.line}:{m.column}: {m.key}" for m in of]
    lines += [f"STALE, no such mutant or a test notices it: {key}" for key in stale]
    return lines, not missed and not stale


def _counted(name: str, verdicts: Sequence[Verdict]) -> str:
    lived = sum(not v.by for v in verdicts)
    hung = sum(v.by == "hang" for v in verdicts)
    read = sum(v.by.startswith(READ.files[0]) for v in verdicts)
    killed = f"{len(verdicts) - lived} killed ({hung} hang, {read} by the handbook alone)"
    return f"{name}: {len(verdicts)} mutants, {killed}, {lived} survived"


def row(verdict: Verdict) -> str:
    """One line of the table."""
    m = verdict.mutant
    fate = f"killed    {verdict.by}" if verdict.by else "SURVIVED"
    return f"{m.file}:{m.line}:{m.column}  {m.function}  {m.change}  {fate}"


def subjects() -> dict[str, Path]:
    """Every subject's file by name."""
    spec = importlib.util.find_spec(ROOM)
    assert spec is not None and spec.submodule_search_locations
    rooms = list(spec.submodule_search_locations)
    return {m.name: Path(rooms[0]) / f"{m.name}.py" for m in pkgutil.iter_modules(rooms)}


def run_subject(subject: str, path: Path, jobs: int) -> list[Verdict]:
    """Every mutant of a subject judged; raises ValueError where the unchanged one fails already."""
    source, module = path.read_text("utf-8"), f"{ROOM}.{subject}"
    check = tests_notice(test_groups(subject, source))
    sound = Mutant(module, path.name, 0, 0, "", "nothing", ast.unparse(ast.parse(source)))
    (unchanged,) = judged([sound], check)
    if unchanged.by:
        raise ValueError(f"{path.name}: a test fails before any change: {unchanged.by}")
    verdicts = []
    for verdict in judged(mutants_of(module, path.name, source), check, jobs):
        print(row(verdict), flush=True)
        verdicts.append(verdict)
    return sorted(verdicts, key=lambda v: (v.mutant.line, v.mutant.column))


def run_all(asked: Sequence[str], known: Mapping[str, Path], jobs: int) -> bool:
    """Run some subjects and say what came of them; whether all is well."""
    begun = time.monotonic()
    accepted = accepted_in(ACCEPTED.read_text("utf-8"))
    if len(asked) < len(known):
        files = {known[subject].name for subject in asked}
        accepted = {key: why for key, why in accepted.items() if key.split(" | ")[0] in files}
    for name in HEAVY:
        importlib.import_module(name)
    verdicts = [v for subject in asked for v in run_subject(subject, known[subject], jobs)]
    lines, well = summed_up(verdicts, accepted)
    print("", *lines, f"{time.monotonic() - begun:.0f} s", sep="\n")
    return well


def main() -> int:
    """Read the words of the command, run, and give the exit code."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutate")
    known = subjects()
    parser.add_argument("--only", choices=sorted(known), help="one subject")
    parser.add_argument("--jobs", type=int, default=2, help="processes at once (2)")
    words = parser.parse_args()
    if words.jobs < 1:
        parser.error("--jobs: at least 1")
    try:
        well = run_all([words.only] if words.only else sorted(known), known, words.jobs)
    except ValueError as fault:
        print(fault, file=sys.stderr)
        return 2
    return 0 if well else 1


if __name__ == "__main__":
    sys.exit(main())
