"""Signs that a keyboard, a phone or a copied line brings along, in words of the command line: one
spelling in the record, or refused before anything is recorded that could not be read again."""

from __future__ import annotations

import subprocess
from datetime import date
from unicodedata import normalize

import pytest

from generator.check import readers
from generator.commands.words import COMMANDS
from generator.findings import Refusal
from generator.quantities.text import read_amount
from generator.read import read_text
from generator.record import act as record_act
from generator.record import traveller
from generator.results.values import day_of
from generator.signs import in_plain_signs, is_whole
from tests.commands.test_commands import run
from tests.commands.test_slips import ON, slip
from tests.record.conftest import run_git

ACCENT = "cafe\u0301"  # as a keyboard of another maker types it: an e, and an accent behind it
DAY = "\uff12\uff10\uff12\uff16-11-27"  # 2026-11-27 in full-width digits
STRANGE = {
    "an accent on no letter that has it": "x\u0301",
    "full-width digits": DAY,
    "Arabic digits": "\u0661\u0662",
    "reordering": "bolt \u202eM6\u202c",
    "no width": "a\u200bb",
    "a thin space": "1\u20092",
    "a tab": "a\tb",
    "a line": "a\nb",
    "private": "\ue000",
}
WORDS = {
    "slip": ("slip", "A-0001", "--operation", "10", "--what", "{}", *ON, "LQ14"),
    "slip of a part": ("slip", "A-0001", "--operation", "10", "--what", "So.", "--part", "{}",
                       *ON, "LQ14"),
    "withdraw": ("withdraw", "A-0001", "--why", "{}", *ON, "LQ1"),
    "withdraw a revision": ("withdraw", "T6-P-0120", "--why", "{}", *ON, "LQ1"),
    "fit": ("fit", "A-0001", "--position", "{}", *ON, "LQ14"),
    "fit on": ("fit", "A-0001", "--airframe", "{}", *ON, "LQ14"),
    "attach": ("attach", "A-0001", "x.pdf", "--as", "other", "--what", "{}", *ON, "LQ14"),
    "on a day": ("withdraw", "A-0001", "--why", "So.", "--stamp", "LQ1", "--on", "{}"),
    "issue": ("issue", "T6-P-0120", "--for", "0002", "--stamp", "LQ1", "--on", "{}"),
    "issue for": ("issue", "T6-P-0120", "--for", "{}", "--stamp", "LQ1", "--on", "2026-11-27"),
    "approve": ("approve", "T6-P-0120", "--stamp", "LQ14", "--on", "{}"),
}  # fmt: skip


def test_an_accent_typed_behind_its_letter_is_one_sign_in_the_record(issued):
    assert slip(issued, what=f"Stained with {ACCENT}.") == 0
    assert run(issued, "list") == 0
    assert slip(issued) == 0
    assert run(issued, "verify") == 0
    first, _ = traveller(issued, "A-0001").of_kind("slip")
    assert first.tree["says"] == "Stained with caf\N{LATIN SMALL LETTER E WITH ACUTE}."


def test_a_withdrawal_with_such_an_accent_can_be_read(issued, capsys):
    words = ("--why", f"Wrong {ACCENT}.", *ON, "LQ1")
    assert run(issued, "withdraw", "T6-P-0120", *words) == 0
    issue = ("issue", "T6-P-0120", "--for", "0002", "--on", "2026-11-26", "--stamp", "LQ1")
    assert run(issued, *issue) == 1
    assert "was withdrawn on 2026-11-26: Wrong caf\N{LATIN SMALL LETTER E WITH ACUTE}." in (
        capsys.readouterr().err
    )


@pytest.mark.parametrize("words", WORDS)
def test_a_strange_sign_is_refused_and_nothing_is_recorded(issued, words, capsys):
    commit = run_git(issued, "rev-parse", "HEAD")
    for what, sign in STRANGE.items():
        assert run(issued, *(each.format(sign) for each in WORDS[words])) == 2, what
        told = capsys.readouterr().err
        assert ": misuse: a " in told and "U+" in told, (what, told)
        assert "ordinary letters, signs and spaces" in told
    assert run_git(issued, "rev-parse", "HEAD") == commit
    assert run_git(issued, "status", "--porcelain") == ""


def test_every_word_of_every_command_is_asked_for(issued, capsys):
    """By the list of commands itself, so that a new word is not forgotten."""
    asked = 0
    for command in COMMANDS:
        needed = [w for w in command.words if w.told.get("required") or w.names[0][0] != "-"]
        for word in command.words:
            told = word.told
            if told.keys() & {"choices", "type"} or told.get("action") == "store_true":
                continue
            if word.names == ("process",):
                continue
            line = [command.name]
            for each in dict.fromkeys(w.names for w in (*needed, word)):
                known = next(w.told for w in command.words if w.names == each)
                value = "x\u0301" if each == word.names else known.get("choices", ("x",))[0]
                line += [each[-1], value] if each[-1].startswith("-") else [value]
            assert run(issued, *line) == 2, line
            assert f"a combining sign in {word.names[-1]}: U+0301" in capsys.readouterr().err, line
            asked += 1
    assert asked > 50


def test_a_process_is_found_by_the_name_of_its_file_as_the_disk_has_it(issued):
    file = issued / "processes" / f"{ACCENT}.yaml"
    (issued / "processes/shelf.yaml").rename(file)
    assert run(issued, "check", str(file)) == 0


def test_an_act_that_cannot_be_read_is_told_by_verify(issued, monkeypatch, capsys):
    """As an earlier version recorded them, with all sums right."""
    monkeypatch.setattr(record_act, "fault_in", lambda path, content: "")
    monkeypatch.setattr("generator.commands.slips.because", lambda why, word: why)
    monkeypatch.setattr("generator.signs.in_plain_signs", lambda text, where: text)
    assert slip(issued, what=ACCENT) == 0
    capsys.readouterr()
    assert run(issued, "verify") == 1
    told = capsys.readouterr().err
    path = "output/completed/A-0001/A-001-slip.yaml"
    assert f"{path}: unreadable: no command can read it: line 8: a combining sign: U+0301" in told
    assert run(issued, "list") == 1
    told = capsys.readouterr().err
    assert "A-001-slip.yaml of A-0001 cannot be read: a combining sign: U+0301" in told
    assert f"git log -p -- {issued / path}" in told


def test_facts_that_cannot_be_read_are_told_by_verify(issued, capsys):
    file = issued / "output/issued/A-0001/facts.yaml"
    told = file.read_text("utf-8").replace("on: '2026", "on: '\uff12026")
    file.write_text(told, encoding="utf-8")
    assert run(issued, "verify") == 1
    assert f"{file.relative_to(issued)}: unreadable: no command" in capsys.readouterr().err


@pytest.mark.parametrize("words", [DAY, "2026-11-2\u0667", "\u0662\u0660\u0662\u0666-11-27"])
def test_a_day_is_in_the_digits_0_to_9(words):
    with pytest.raises(Refusal, match="not a day"):
        readers.day(words)
    assert day_of(words) is None
    assert readers.day("2026-11-27") == day_of("2026-11-27") == date(2026, 11, 27)
    assert day_of("2\uff16 NOV 2026") is None


@pytest.mark.parametrize("words", ["1\u0663", "\u0661", "0\u0663", "\u00b2", "1\u00b2"])
@pytest.mark.parametrize("read", [readers.operation_number, readers.step, readers.amount_or_name,
                                  readers.quantity_or_count, readers.count])  # fmt: skip
def test_numbers_are_in_the_digits_0_to_9(read, words):
    with pytest.raises(Refusal):
        read(words)


@pytest.mark.parametrize("words", ["\u0662\u0660 SWG", "20 \u017fWG"])
def test_a_gauge_is_in_our_letters_and_digits(words):
    with pytest.raises(Refusal):
        read_amount(words)
    assert read_amount("20 swg").numbers


def test_a_whole_number_is_digits_alone():
    assert [each for each in ("0", "007", "", "\u00b2", "\u0663", "\uff15", "-1", "1.0", " 1")
            if is_whole(each)] == ["0", "007"]  # fmt: skip


def test_what_is_ordinary_stays_as_it_was_typed():
    for words in ("0.2 \u00b1 0.05 mm\u00b2", "Stra\N{LATIN SMALL LETTER SHARP S}e 5, 90\u00b0",
                  "1\u00a0mm", "\u65e5\u672c", "\N{GREEK SMALL LETTER MU}m", ""):  # fmt: skip
        assert in_plain_signs(words, "--what") == words


def test_the_rule_of_reading_and_of_typing_is_one():
    """A sign passes on the command line where a file may hold it as one sign, and nowhere else."""
    refused = 0
    for number in range(0x20, 0x3000):
        sign = normalize("NFC", chr(number))
        source = f"a: 'x{sign * 2 if sign == chr(39) else sign}'\n".encode()
        try:
            assert in_plain_signs(chr(number), "--what") == sign
            assert not read_text(source, "x.yaml")[1], hex(number)
        except Refusal:
            refused += 1
            assert read_text(source, "x.yaml")[1], hex(number)
    assert 500 < refused < 6_000


def test_the_signs_are_asked_for_before_git_is(tmp_path, capsys):
    subprocess.run(["git", "init", "-q"], cwd=tmp_path, check=True)
    assert run(tmp_path, "withdraw", "A-0001", "--why", "x\u0301", *ON, "LQ1") == 2
    assert "a combining sign in --why" in capsys.readouterr().err
