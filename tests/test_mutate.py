"""The mutation run itself: a small text in; its mutants, what kills them and what is told, out."""

from __future__ import annotations

import importlib
import time

import pytest

from tests.mutants import Mutant, mutants_of
from tests.mutate import accepted_in, judged, summed_up, test_groups, tests_notice

test_groups.__test__ = tests_notice.__test__ = False  # type: ignore[attr-defined]

SMALL = '''
"""A subject in small: 5 apples + 3."""
import math
from generator.calculation import Example, Second, calculation, given, gives
from generator.quantities.functions import cos, step

Length = given("l", "mm", "length 7", at_least="0.5", at_most="6")

def _leg(n):
    return n + 1

def _way(length):
    return max(length, -length) + _leg(2)

@calculation(
    source="p. 9",
    second=Second(_way, within="0.3 %"),
    examples=(Example({"length": "2 mm"} , {"": "4"}, "p. 4", within="0.1") * 2,),
)
def grown(length: Length) -> gives("g", "mm", "growth", to="0.1", safe="up"):
    step(length, "x", "mm", "line", above="0")
    if length > 3 and not length == 8:
        return cos(length) * 2.0 ** length
    return math.floor(length / 2) - f(f"{length + 1} mm")
'''


def changes(source: str) -> list[str]:
    return [m.change for m in mutants_of("small", "small.py", source)]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("a + b", ["a + b -> a - b"]),
        ("a - b", ["a - b -> a + b"]),
        ("a * b", ["a * b -> a / b"]),
        ("a / b", ["a / b -> a * b"]),
        ("a ** b", ["a ** b -> a * b"]),
        ("-a", ["-a -> a"]),
        ("not a", ["not a -> a"]),
        ("a and b", ["a and b -> a or b"]),
        ("a < b <= c", ["a < b <= c -> a <= b <= c", "a < b <= c -> a < b < c"]),
        ("a == b", ["a == b -> a != b"]),
        ("f(3)", ["f(3) -> f(4)"]),
        ("f(2.5)", ["f(2.5) -> f(3.5)", "f(2.5) -> f(2.525)"]),
        ("f(True, 'a', None)", []),
        ("given('T', at_most='65')", ["at_most='65' -> at_most='66'"]),
        ("given('T', above='0')", ["above='0' -> above='1'"]),
        ("given(fixed='0.2 1/°')", [f"fixed='0.2 1/°' -> fixed='{n} 1/°'" for n in ("1.2", "0.202")]),
        ("gives('T', to='0.1')", ["to='0.1' -> to='1'", "to='0.1' -> to='0.01'"]),
        ("gives('T', safe='down')", ["safe='down' -> safe='up'"]),
        ("Second(way, '0.3 %', within='0.3 %')", []),
        ("Example({'n': 2}, within='0.1')", []),
        ("max(a, b)", ["max(a, b) -> min(a, b)"]),
        ("math.tan(a)", ["math.tan(a) -> math.sin(a)"]),
        ("sin(a)", []),  # nobody knows where it is from, so not whether there is a cos
    ],
)  # fmt: skip
def test_every_operator_number_and_fact_has_its_mutants(text: str, wanted: list[str]) -> None:
    assert changes(text) == wanted


def test_a_small_subject_has_all_its_mutants_each_in_its_place() -> None:
    made = mutants_of("small", "small.py", SMALL)
    told = {(m.line, m.function, m.second) for m in made}
    assert told == {
        (7, "Length", False), (10, "_leg", True), (13, "_way", True), (20, "grown", False),
        (21, "grown", False), (22, "grown", False), (23, "grown", False), (24, "grown", False),
    }  # fmt: skip
    assert len({m.key for m in made}) == len(made) == len({m.source for m in made})
    swapped = next(m for m in made if m.change.startswith("cos(length) -> "))
    compile(swapped.source, "small", "exec")
    assert "('generator.quantities.functions', fromlist=['x']).sin(length)" in swapped.source


ROOT_OF = '''
def larger(a, b):
    while not a >= b:
        a += 1
    return a

def absolute(a):
    return a if a > 0 else -a
'''  # fmt: skip


def notices() -> str:
    """A check that knows two answers; it takes the mutant as any test would, by importing it."""
    sound = importlib.import_module("small_subject")
    if sound.larger(2, 4) != 4:
        return "larger"
    return "" if (sound.absolute(-3), sound.absolute(0)) == (3, 0) else "absolute"


def test_a_check_kills_and_what_it_cannot_see_survives() -> None:
    mutants = mutants_of("small_subject", "small_subject.py", ROOT_OF)
    begun = time.monotonic()
    fates = {v.mutant.change: v.by for v in judged(mutants, notices, jobs=8, seconds=1)}
    assert time.monotonic() - begun < 10
    assert fates == {
        "not a >= b -> a >= b": "larger",
        "a >= b -> a > b": "larger",
        "a += 1 -> a += 2": "",
        "a > 0 -> a >= 0": "",
        "a > 0 -> a > 1": "",
        "-a -> a": "absolute",
    }


def test_a_mutant_without_end_is_a_hang_and_a_broken_check_is_no_kill() -> None:
    endless = [Mutant("small_subject", "s.py", 1, 1, "f", "a -> b", "while True: pass")]
    assert [v.by for v in judged(endless, notices, seconds=1)] == ["hang"]
    nameless = [Mutant("small_subject", "s.py", 1, 1, "f", "a -> b", "pass")]
    with pytest.raises(RuntimeError, match="larger"):
        list(judged(nameless, notices))


def test_survivors_and_stale_lines_are_told_and_are_no_success() -> None:
    mutants = mutants_of("small_subject", "small_subject.py", ROOT_OF)
    verdicts = list(judged(mutants, notices, jobs=8, seconds=1))
    alive = [v.mutant.key for v in verdicts if not v.by]
    text = "# a remark\n" + "".join(f"{key} | at 0 both give 0\n" for key in alive)
    assert summed_up(verdicts, accepted_in(text))[1]
    lines, well = summed_up(verdicts, accepted_in(text.replace("a > 0 -> a >= 0", "a > 0 -> b")))
    assert not well
    survived = [line for line in lines if line.startswith("SURVIVED")]
    assert [line.rpartition(": ")[2] for line in survived] == [
        "small_subject.py | absolute | a > 0 -> a >= 0"
    ]
    assert lines[-1].startswith("STALE") and lines[-1].endswith("a > 0 -> b")
    assert "6 mutants, 3 killed (0 hang, 0 by the handbook alone), 3 survived" in lines[0]


@pytest.mark.parametrize(
    "line", ["a.py | f | a -> b", "a.py | f | a -> b | ", "a.py", "k | k\n" * 2]
)
def test_an_accepted_line_without_its_reason_is_refused(line: str) -> None:
    with pytest.raises(ValueError, match=r"file \| function \| change \| why|accepted twice"):
        accepted_in(line)


def test_quick_killers_run_first_and_every_file_once() -> None:
    source = "@calculation(source='a')\ndef wrench_setting():\n    ...\n"
    first, *rest = test_groups("tightening", source)
    assert first.files and all("tightening" in name for name in first.files)
    later = [name for group in rest for name in group.files]
    assert "tests/calculations/test_contract.py" in later
    assert len({*first.files, *later}) == len(first.files) + len(later)
    assert "wrench_setting" in rest[0].chosen
