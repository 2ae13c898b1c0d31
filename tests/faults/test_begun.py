"""An act that was killed behind its decision, in; one line of it from verify, the rest from list, and
all as it should be when the next act has finished it, out."""

from __future__ import annotations

import random

import pytest

from tests.commands.conftest import copied
from tests.commands.test_commands import run
from tests.faults.acts import doing
from tests.faults.killing import done
from tests.faults.sound import noted
from tests.faults.touching import Touch, killed_at

SAMPLE = 4


def behind_the_note(steps: list[Touch]) -> list[Touch]:
    """From the step behind the one by which the act is decided, to that which forgets it."""
    note = [n for n, each in enumerate(steps) if any(p.endswith("act-A.json") for p in each.paths)]
    return steps[note[0] + 1 : note[-1] + 1]


@pytest.mark.parametrize(
    ("act", "title"),
    [
        ("issue", "A-0002"),
        ("approve", "output/processes/T6-P-0120/A-002-approve.yaml"),
        ("slip", "output/completed/A-0001/A-001-slip.yaml"),
        ("rework", "output/completed/A-0001/A-003-dispose.yaml"),
        ("attach", "output/completed/A-0001/A-001-attach.yaml"),
    ],
)
def test_a_begun_act_is_one_line_and_the_rest_goes_on(moment, capsys, act, title):
    at = moment(act)
    _, steps = done(at.shop, act, at.papers, at.beside)
    met = 0
    for number, step in enumerate(random.Random(act).sample(behind_the_note(steps), SAMPLE)):
        place = at.beside / f"killed-{number}"
        place.mkdir()
        there = copied(at.shop, place)
        assert killed_at(doing(there, act, at.papers), step.number)
        if not noted(there):
            continue
        met += 1
        capsys.readouterr()
        assert run(there, "verify", "--whole-history") == 1
        said = capsys.readouterr().err
        assert f"begun: {title} is begun" in said and "any act of desk A finishes it" in said
        assert "\n1 finding; nothing was changed" in said, (step, said)
        assert run(there, "list") == 0, (step, capsys.readouterr().err)
        assert doing(there, act, at.papers)() == 0
        assert run(there, "verify", "--whole-history") == 0
    assert met >= SAMPLE // 2


def test_what_else_is_wrong_is_told_beside_a_begun_act(moment, capsys):
    """A begun act hides its own files and lines alone, as they are to be."""
    at = moment("issue")
    _, steps = done(at.shop, "issue", at.papers, at.beside)
    there = copied(at.shop, at.beside)
    listed = next(each for each in steps if "update-index" in each.words)
    assert killed_at(doing(there, "issue", at.papers), listed.number)
    place = there / "output/issued/A-0002"
    (place / "traveller.md").write_text("changed\n", encoding="utf-8")
    (place / "more.txt").write_text("more\n", encoding="utf-8")
    listed = there / "output/processes/T6-P-0120/issued-A.txt"
    listed.write_text(listed.read_text("utf-8").replace("A 0001", "A 0009"), encoding="utf-8")
    capsys.readouterr()
    assert run(there, "verify") == 1
    said = capsys.readouterr().err
    assert "begun: A-0002 is begun" in said
    assert "output/issued/A-0002/traveller.md: " in said
    assert "output/issued/A-0002/more.txt: unexpected" in said
    assert "output/processes/T6-P-0120/issued-A.txt: changed: it is not what git holds" in said


def test_list_says_what_is_begun_and_goes_on(moment, capsys):
    at = moment("issue")
    _, steps = done(at.shop, "issue", at.papers, at.beside)
    there = copied(at.shop, at.beside)
    moved = next(each for each in behind_the_note(steps) if each.name == "git")
    assert killed_at(doing(there, "issue", at.papers), moved.number)
    capsys.readouterr()
    assert run(there, "list") == 0
    said = capsys.readouterr().out
    assert "A-0002: A-0002 is begun; any act of desk A finishes it" in said
    assert "A-0001  T6-P-0120 A" in said and "1 open" in said
