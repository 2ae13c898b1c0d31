"""What is worked out on all cores is what a plain loop gives: results, order, refusals, bytes."""

from __future__ import annotations

import os
import time

import pytest

from generator.findings import Refusal
from generator.library import cores
from generator.library.cores import on_all_cores
from tests.library.looking import changed, drafts, process_file, said


def squared(number: int) -> int:
    time.sleep(0.001 * (number % 3))
    return number * number


def refused(number: int) -> int:
    if number == 5:
        raise Refusal("range", "5 is too much", "4")
    return number


def ended(number: int) -> int:
    if number == 5:
        os._exit(1)
    return number


def where(number: int) -> int:
    return os.getpid()


@pytest.fixture(params=["fork", "spawn"])
def two(request, monkeypatch) -> str:
    monkeypatch.setattr(cores, "count", lambda: 2)
    monkeypatch.setattr(cores, "way", lambda: request.param)
    return request.param


def test_results_come_in_the_order_of_the_things(two) -> None:
    assert list(on_all_cores(squared, range(300))) == [n * n for n in range(300)]


def test_two_processes_do_the_work_and_this_one_does_not(two) -> None:
    at_work = set(on_all_cores(where, range(50)))
    assert os.getpid() not in at_work and len(at_work) == 2


def test_few_things_are_done_here(two) -> None:
    assert set(on_all_cores(where, range(cores.FROM - 1))) == {os.getpid()}


def test_a_refusal_comes_at_its_turn_with_all_its_words(two) -> None:
    got = []
    with pytest.raises(Refusal) as refusal:
        got.extend(iter_into(got, on_all_cores(refused, range(10))))
    assert got == [0, 1, 2, 3, 4]
    told = refusal.value
    assert (told.code, told.wrong, told.right) == ("range", "5 is too much", "4")


def iter_into(got: list[int], results) -> list[int]:
    for each in results:
        got.append(each)
    return []


def test_a_helper_that_was_ended_from_outside_is_told(two) -> None:
    with pytest.raises(Refusal) as refusal:
        list(on_all_cores(ended, range(10)))
    assert refusal.value.code == "stopped"


@pytest.mark.parametrize("way", ["fork", "spawn"])
def test_drafts_of_two_cores_are_those_of_one(shop, monkeypatch, capsys, way) -> None:
    monkeypatch.setattr(cores, "count", lambda: 1)
    serial = said(capsys, shop, "draft", "--all", "--anew"), drafts(shop)
    monkeypatch.setattr(cores, "count", lambda: 2)
    monkeypatch.setattr(cores, "way", lambda: way)
    assert (said(capsys, shop, "draft", "--all", "--anew"), drafts(shop)) == serial
    assert len({name.partition("/")[0] for name in serial[1]}) == 6


@pytest.mark.parametrize(
    "words",
    [
        ("check",),
        ("check", "--whole"),
        ("check", "--whole", "--format", "json"),
        ("check", "T6-P-0703"),
    ],
)
def test_findings_of_two_cores_are_those_of_one(shop, monkeypatch, capsys, words) -> None:
    changed(process_file(shop, 1), "title:", "titel:")
    changed(process_file(shop, 2), "process: T6-P-0701", "process: T6-P-0799")
    changed(process_file(shop, 3), "{{ flat.length }}", "{{ flat.lenth }}")
    changed(process_file(shop, 5), "0.914 mm\n    range", "0.9x mm\n    range")
    process_file(shop, 6).write_bytes(b"process: \xff\n")
    monkeypatch.setattr(cores, "count", lambda: 1)
    serial = said(capsys, shop, *words, "--anew")
    assert serial[0] == 1
    monkeypatch.setattr(cores, "count", lambda: 2)
    assert said(capsys, shop, *words, "--anew") == serial
    assert said(capsys, shop, *words) == serial  # what is kept of the sound ones hides nothing
