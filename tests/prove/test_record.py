"""The long proofs of the record: hundreds of kills, of issues at once, of travellers before a
reprint. Run by `make prove`; `make test` asks a seeded tenth of them in tests/record."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from generator.commands.enter import form_read
from generator.record import traveller
from generator.workshop import open_workshop
from tests.commands.changing import change
from tests.commands.conftest import issued as issued  # the fixture
from tests.commands.conftest import issued_shop as issued_shop  # the fixture
from tests.commands.test_commands import ON, approve, run
from tests.commands.test_commands import shop as shop  # the fixture
from tests.commands.test_kills import ACTS
from tests.commands.test_kills import kills as acts_killed
from tests.record.conftest import workshop as workshop  # the fixture
from tests.record.proving import assert_whole, killed
from tests.record.tampering import tampered
from tests.record.test_random_kills import at_once, kills
from tests.record.whole import kept as kept  # the fixture
from tests.results.filled import filled

pytestmark = pytest.mark.prove


@pytest.mark.parametrize("seed", range(10))
def test_five_hundred_kills(workshop, seed):
    hit, _ = kills(workshop, 50, seed)
    assert hit > 10


def test_eight_processes_at_once_issue_four_hundred_travellers(workshop):
    at_once(workshop, 8, 50)


def another(folder: Path, number: int) -> int:
    words = ("--for", f"{number:04d}", *ON, "--stamp", "LQ1")
    return run(folder, "issue", "T6-P-0120", *words)


def entered(folder: Path, form: Path) -> int:
    words = ("--on", "2026-11-26", "--stamp", "LQ1", "--corrects", "typed again")
    return run(folder, "enter", "A-0001", str(form), *words)


@pytest.mark.parametrize("seed", range(4))
def test_a_hundred_kills_of_the_commands_themselves(shop, seed, capsys):
    chance = random.Random(seed)
    approve(shop, "T6-P-0120")
    assert another(shop, 1) == 0
    instruments = {each.kind: each.number for each in open_workshop(shop)[0].instruments}
    form = shop.parent / f"{shop.name}-result.yaml"
    text = filled(form_read(traveller(shop, "A-0001")), "A-0001", instruments)
    form.write_text(text, encoding="utf-8")
    first = ("--on", "2026-11-26", "--stamp", "LQ1")
    assert run(shop, "enter", "A-0001", str(form), *first) == 0
    hit = 0
    for number in range(2, 27):
        if chance.random() < 0.5:
            hit += killed(lambda n=number: another(shop, n), chance, 0.7)
        else:
            hit += killed(lambda: entered(shop, form), chance, 0.4)
        assert another(shop, 500 + number) == 0  # finishes what was begun and says so, or issues
        assert_whole(shop)
    assert hit > 5


@pytest.mark.parametrize("act", ACTS)
def test_a_hundred_kills_of_acts_that_are_a_folder_and_files(issued, act, capsys):
    assert acts_killed(issued, act, 34, seed=11) > 8


def test_the_first_traveller_is_printed_again_after_five_hundred_others(shop, capsys):
    approve(shop, "T6-P-0120")
    assert another(shop, 1) == 0
    place = shop / "output/issued/A-0001"
    kept = {each.name: each.read_bytes() for each in place.iterdir() if each.is_file()}
    for number in range(2, 502):
        assert another(shop, number) == 0
        capsys.readouterr()
    change(shop, "Lengths in mm", "All lengths in mm", "processes/workshop/workshop.yaml")
    lost = [name for name in kept if name.endswith(".pdf")]
    for name in lost:
        (place / name).unlink()
    assert run(shop, "reprint", "A-0001", "--restore") == 0
    assert {name: (place / name).read_bytes() for name in lost} == {n: kept[n] for n in lost}
    assert len(assert_whole(shop)) == 501


@pytest.mark.parametrize("seed", range(1000, 2000))
def test_a_thousand_small_tamperings_are_told_by_name(kept, capsys, seed):
    done = tampered(kept, seed)
    try:
        capsys.readouterr()
        assert run(kept, "verify") == 1
    finally:
        done.undo()
    assert f"{done.path}:" in capsys.readouterr().err, done.what
