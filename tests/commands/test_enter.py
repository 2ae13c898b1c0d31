"""An issued traveller in; its form written, results recorded, corrected and refused, out."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from generator.commands import enter
from generator.record import traveller
from generator.results import form_tree
from generator.results.form_tree import form_from
from tests.commands.conftest import copied
from tests.commands.test_commands import run

ON = ("--on", "2026-11-26", "--stamp", "LQ1")


@pytest.fixture
def issued(issued_shop: Path, tmp_path: Path) -> tuple[Path, Path]:
    shop = copied(issued_shop, tmp_path)
    file = shop.parent / f"{shop.name}-result.yaml"
    assert run(shop, "enter", "A-0001", "--blank", str(file)) == 0
    return shop, file


def filled(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_a_result_is_recorded_registered_and_committed(issued, capsys):
    shop, file = issued
    filled(file, '"thickness": ""', '"thickness": "0.96"')
    assert run(shop, "enter", "A-0001", str(file), *ON) == 0
    said = capsys.readouterr().out
    assert "operation 10, thickness: out: 0.96 mm is above 0.954: a slip is needed" in said
    (act,) = traveller(shop, "A-0001").acts
    assert (act.kind, act.tree["by"], act.tree["on"]) == ("result", "LQ1", "2026-11-26")
    register = (shop / "output/register-A.txt").read_text(encoding="utf-8")
    assert register.endswith("  output/completed/A-0001/A-001-result.yaml\n")
    done = subprocess.run(["sha256sum", "-c", "output/register-A.txt"], cwd=shop, check=False)
    assert done.returncode == 0
    status = subprocess.run(
        ["git", "status", "--porcelain"], cwd=shop, capture_output=True, text=True, check=True
    )
    assert status.stdout == ""


def test_what_was_entered_once_is_only_corrected_with_a_reason_and_stays(issued, capsys):
    shop, file = issued
    filled(file, '"thickness": ""', '"thickness": "0.91"')
    assert run(shop, "enter", "A-0001", str(file), *ON) == 0
    filled(file, '"0.91"', '"0.93"')
    assert run(shop, "enter", "A-0001", str(file), *ON) == 1
    assert "'0.91' was entered here before" in capsys.readouterr().err
    assert run(shop, "enter", "A-0001", str(file), *ON, "--corrects", "misread a 3") == 0
    first, second = traveller(shop, "A-0001").acts
    assert second.tree["corrects"] == {"file": first.path, "why": "misread a 3"}
    assert "0.91" in str(first.tree["boxes"])


def test_the_same_file_entered_again_is_no_act(issued, capsys):
    shop, file = issued
    filled(file, '"thickness": ""', '"thickness": "0.91"')
    assert run(shop, "enter", "A-0001", str(file), *ON) == 0
    judged = capsys.readouterr().out.partition("\n")[2]
    assert run(shop, "enter", "A-0001", str(file), *ON) == 0
    told = capsys.readouterr().out
    assert told == f"all of it stands there already: nothing is recorded\n{judged}"
    assert len(traveller(shop, "A-0001").acts) == 1
    filled(file, '"micrometer no.": ""', '"micrometer no.": "G-101"')
    assert run(shop, "enter", "A-0001", str(file), *ON) == 0
    assert len(traveller(shop, "A-0001").acts) == 2
    # What two desks wrote apart is settled by the same word once more.
    assert run(shop, "enter", "A-0001", str(file), *ON, "--corrects", "Both are so.") == 0
    assert len(traveller(shop, "A-0001").acts) == 3


def test_a_form_of_another_sheet_is_told_how_it_is_entered(issued, capsys):
    shop, file = issued
    slip = ("slip", "A-0001", "--operation", "10", "--what", "Thin.", *ON)
    assert run(shop, *slip) == 0
    why = ("--decision", "rework", "--why", "Again.", *ON)
    assert run(shop, "dispose", "NC-A-0001", *why) == 0
    again = file.with_name("again.yaml")
    blank = ("enter", "A-0001", "--blank", str(again), "--supplement", "R1")
    assert run(shop, *blank) == 0
    capsys.readouterr()
    assert run(shop, "enter", "A-0001", str(again), *ON) == 1
    told = capsys.readouterr().err
    assert "this is no result of A-0001\n" in told
    assert "Right: --supplement R1\n" in told
    assert run(shop, "enter", "A-0001", str(file), *ON, "--supplement", "R1") == 1
    told = capsys.readouterr().err
    assert "this is no result of A-0001 R1\n" in told
    assert "Right: without --supplement\n" in told


WRONG = [
    ('"thickness": ""', '"thickness": ["0.91", "0.92"]', "2 words for 1 box\n"),
    ('"thickness":', '"thicknes":', "there is no box 'thicknes'"),
    ("traveller: A-0001", "traveller: A-0002", "this is no result of A-0001"),
    ("  traveller:\n", "  travelers:\n", "there is no sheet 'travelers'"),
    ('ticks: ""', "ticks: some", "these ticks are not understood"),
    ('ticks: ""', "ticks: {not: [[a]]}", "these ticks are not understood"),
    ('"slip no.": ""', '"slip no.": [a]', "'slip no.' is one box, and this is no word"),
    ('"thickness": ""', '"thickness": "?"', "'?' in the box thickness says nothing"),
    ('"micrometer no.": ""', '"micrometer no.": "??"', "'??' in the box micrometer no. says"),
    ('"thickness": ""', '"thickness": "N/A: ?"', "'?' in the box thickness says nothing"),
    ('"thickness": ""', f'"thickness": "{"9" * 400}"', "does not fit the box thickness"),
    ('"micrometer no.": ""', f'"micrometer no.": "{"9" * 5000}"', "5000 signs in the box"),
    ('"thickness": ""', '"thickness": ?', "a ? that stands alone is a sign of YAML, and no text"),
]


@pytest.mark.parametrize(("old", "new", "says"), WRONG)
def test_a_form_that_is_filled_in_wrongly_is_refused_at_its_line(issued, capsys, old, new, says):
    shop, file = issued
    filled(file, old, new)
    assert run(shop, "enter", "A-0001", str(file), *ON) == 1
    told = capsys.readouterr().err
    assert says in told
    assert f"{file}:" in told
    assert traveller(shop, "A-0001").acts == ()


@pytest.mark.parametrize("words", [
    ("slip", "A-0001", "--operation", "10", "--what", "?"),
    ("withdraw", "A-0001", "--why", " ?? "),
    ("replace", "A-0001", "--why", "-"),
])  # fmt: skip
def test_a_reason_without_a_word_is_none(issued, capsys, words):
    shop, _ = issued
    assert run(shop, *words, *ON) == 2
    told = capsys.readouterr().err
    assert f"'{words[-1].strip()}' says nothing" in told
    assert f"Right: {words[-2]}, in a sentence" in told
    assert traveller(shop, "A-0001").acts == ()


def test_words_that_do_not_name_who_and_when_are_refused(issued, capsys):
    shop, file = issued
    assert run(shop, "enter", "A-0001", str(file)) == 2
    assert run(shop, "enter", "A-0009", str(file), *ON) == 1
    assert "no traveller A-0009 was issued here" in capsys.readouterr().err
    stamp = ("--on", "2026-11-26", "--stamp", "NOBODY")
    assert run(shop, "enter", "A-0001", str(file), *stamp) == 1
    assert "nobody held the stamp NOBODY" in capsys.readouterr().err
    assert run(shop, "enter", "A-0001", "--blank", str(file)) == 2


@pytest.mark.parametrize("damaged", ["fields: []\n", "fields: [x]\noperations: []\nstops: []\n"])
def test_a_damaged_form_is_told_and_not_a_traceback(issued, capsys, damaged):
    shop, file = issued
    (shop / "output/issued/A-0001/form.yaml").write_text(damaged, encoding="utf-8")
    assert run(shop, "enter", "A-0001", str(file), *ON) == 1
    assert "output/issued/A-0001/form.yaml is not what was recorded" in capsys.readouterr().err


def test_nothing_is_entered_on_a_day_before_the_issue(issued, capsys):
    shop, file = issued
    day = ("--on", "2026-11-24", "--stamp", "LQ1")
    assert run(shop, "enter", "A-0001", str(file), *day) == 2
    assert "was issued on 2026-11-25, after that day" in capsys.readouterr().err


FAR = "2062-11-26 is far ahead: the last check of any instrument is due 2027-12-01"


@pytest.mark.parametrize("words", [
    ("slip", "A-0001", "--operation", "10", "--what", "Bent."),
    ("withdraw", "A-0001", "--why", "Not needed."),
    ("approve", "T6-P-0120"),
])  # fmt: skip
def test_an_act_in_a_mistyped_year_is_refused(issued, capsys, words):
    shop, _ = issued
    stamp = "LQ14" if words[0] == "approve" else "LQ1"
    assert run(shop, *words, "--on", "2062-11-26", "--stamp", stamp) == 2
    assert FAR in capsys.readouterr().err
    assert traveller(shop, "A-0001").acts == ()


def test_a_result_in_a_mistyped_year_leaves_the_traveller_as_it_was(issued, capsys):
    shop, file = issued
    filled(file, '"thickness": ""', '"thickness": "0.91"')
    assert run(shop, "enter", "A-0001", str(file), "--on", "2062-11-26", "--stamp", "LQ1") == 2
    told = capsys.readouterr().err
    assert FAR in told
    assert "the day of the act, its year too" in told
    assert run(shop, "enter", "A-0001", str(file), *ON) == 0
    assert [each.tree["on"] for each in traveller(shop, "A-0001").acts] == ["2026-11-26"]


@pytest.mark.parametrize(
    ("day", "code", "says"),
    [("0001-01-01", 1, "nobody held the stamp LQ14 on 0001-01-01"), ("9999-12-31", 2, "far ahead")],
)
def test_the_first_and_the_last_of_all_days_are_refused(issued, capsys, day, code, says):
    shop, _ = issued
    assert run(shop, "approve", "T6-P-0120", "--on", day, "--stamp", "LQ14") == code
    assert says in capsys.readouterr().err


@pytest.mark.parametrize(("day", "code"), [("2028-12-01", 0), ("2028-12-02", 2)])
def test_a_workshop_may_rest_for_a_year_after_its_last_check(issued, day, code):
    shop, file = issued
    filled(file, '"thickness": ""', '"thickness": "0.91"')
    assert run(shop, "enter", "A-0001", str(file), "--on", day, "--stamp", "LQ1") == code


def test_an_act_reads_a_frozen_form_once(issued, monkeypatch):
    shop, file = issued
    filled(file, '"thickness": ""', '"thickness": "0.91"')
    read = []
    monkeypatch.setattr(form_tree, "form_from", lambda tree: read.append(1) or form_from(tree))
    enter._form_from.cache_clear()
    assert run(shop, "enter", "A-0001", str(file), *ON) == 0
    assert run(shop, "close", "A-0001", *ON) == 1
    assert len(read) == 1
