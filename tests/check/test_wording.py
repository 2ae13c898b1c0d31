"""Sentences a lead might write in; the advice each must get, and none where it is well written."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.__main__ import main
from generator.check.sentences import (
    alternatives,
    found_in,
    masked,
    sentences,
    wording_of,
    words_of,
)
from generator.check.wording import WORDING_RULES, kept_slips, wording_faults
from generator.process import Operation
from generator.tables import table, table_names
from generator.workshop import advice_on, open_shop
from tests.check.worded import BAD, GOOD, Case, codes, process_with, row, work
from tests.helping import SOUND


def _pairs(cases: dict[str, list[Case]]) -> list[Any]:
    return [
        pytest.param(code, case, id=f"{code}-{n}")
        for code, listed in cases.items()
        for n, case in enumerate(listed)
    ]


@pytest.mark.parametrize(("code", "case"), _pairs(BAD))
def test_a_slip_gets_one_piece_of_advice(code: str, case: Case) -> None:
    assert codes(case) == [code]


@pytest.mark.parametrize(("code", "case"), _pairs(GOOD))
def test_a_good_sentence_gets_none(code: str, case: Case) -> None:
    assert code not in codes(case)


def test_every_rule_has_three_of_both() -> None:
    for cases in (BAD, GOOD):
        assert sorted(cases) == sorted(WORDING_RULES)
        assert min(len(listed) for listed in cases.values()) >= 3


@pytest.mark.parametrize("code", WORDING_RULES)
def test_a_rule_is_its_own_manual(code: str) -> None:
    manual = WORDING_RULES[code].__doc__ or ""
    for part in ("Looks", "\n    Source: ", "\n    Better: "):
        assert part in manual, part
    assert re.search(r"Source: .*\b[A-Z]{2,}|Source: [A-Z]\w+ and", manual), "no public source"


@pytest.mark.parametrize(
    ("step", "right"),
    [
        ("The strut must be removed.", "Remove the strut."),
        ("Rivets are dipped in primer.", None),
        ("Stop if oil appears.", "IF oil appears, THEN stop."),
        ("Apply the coat when the first is dry.", "WHEN the first is dry, THEN apply the coat."),
        ("Ensure that the bilge is dry.", "Check: the bilge is dry. IF NOT, THEN ..."),
        ("Set the gap to 0.8-1.2 mm.", "0.8 mm to 1.2 mm"),
        ("Cut a blank 51 x 25 mm.", "51 mm x 25 mm"),
        ("Drill and deburr 6 holes.", "a step of its own: Deburr 6 holes."),
        ("Mark a line .5 mm from the edge.", "0.5"),
        (
            "When the light goes out, release the lever.",
            "WHEN the light goes out, THEN release the lever.",
        ),
        ("Fit the bush.", "Install, Position or Adjust"),
    ],
)
def test_the_better_form_is_shown(step: str, right: str | None) -> None:
    (fault,) = wording_faults(process_with(work(step)))
    assert fault.advice
    assert fault.right == right if right else fault.right.startswith("the verb first")


# --- no text breaks a rule --------------------------------------------------------------------

_SCRAPS = sorted(
    {word for name in ("vague", "instead", "ensure", "modals", "papers", "verbs") for word in words_of(name)}
    | {"IF", "THEN", "when", "once", "and", ".", ";", ":", "-", "–", "5", ".5", "3 mm", "{{ x }}", '"'}
    | {"within 5 min", "to 25", "the", "above", "ſuitable", "ﬁt", "İ", "ı", "repeat", "as before"}
)  # fmt: skip
_TEXT = st.one_of(
    st.text(max_size=60), st.lists(st.sampled_from(_SCRAPS), max_size=14).map(" ".join)
)


@settings(max_examples=150, deadline=None)
@given(_TEXT, _TEXT, _TEXT)
def test_no_text_makes_a_traceback(a: str, b: str, c: str) -> None:
    operation = Operation(
        10, kind="measure", do=a, steps=(b,), warnings=(c,), notes=(a,), points=(b,), start=c,
        leave=a, if_it_fails=b, readings=(row(a), row(b, to="")),
    )  # fmt: skip
    process = process_with(operation, warnings=(c,))
    faults = wording_faults(process)
    assert {fault.code for fault in faults} <= set(WORDING_RULES)
    assert not any("\n" in fault.right and "\n" not in a + b + c for fault in faults)


@settings(max_examples=150, deadline=None)
@given(st.lists(_TEXT, min_size=1, max_size=3), st.sets(st.sampled_from(list(WORDING_RULES))))
def test_no_two_slips_share_a_sign(steps: list[str], binding: set[str]) -> None:
    signs: set[Any] = set()
    for _, slip in kept_slips(process_with(work(*steps, readings=(row(steps[0]),))), binding):
        start, end = slip.span
        mine = {(slip.steps, n) for n in range(start, end)} or {(slip.steps, None)}
        assert not mine & signs
        signs |= mine


@settings(max_examples=200, deadline=None)
@given(_TEXT)
def test_masks_and_sentences_keep_every_sign(words: str) -> None:
    assert len(masked(words)) == len(words)
    for sentence in sentences(words):
        start, end = sentence.span
        assert words[sentence.start : end] == sentence.words
        assert sentence.start <= start < end <= len(words)


_SOUGHT = ("vague", "papers", "modals", "ensure")


@settings(max_examples=200, deadline=None)
@given(
    st.sampled_from(_SOUGHT),
    st.lists(st.sampled_from(sorted({w for name in _SOUGHT for w in words_of(name)})), max_size=3),
    st.lists(st.sampled_from((" ", "-", "  ", ".", "_", "{{ a }} ", "2", "x", "\n"))),
    st.booleans(),
)
def test_a_word_is_found_where_a_search_of_all_finds_it(
    name: str, words: list[str], between: list[str], large: bool
) -> None:
    typed = "".join(a + b for a, b in zip([*words, "", ""], [*between, "", ""], strict=False))
    (text,) = wording_of(process_with(warnings=(typed.upper() if large else typed,))).texts
    spans = [found.span() for found in alternatives(words_of(name)).finditer(text.words)]
    assert [found.span() for found in found_in(text, words_of(name))] == spans
    assert all(re.match(r"\w", word) for word in words_of(name))


def test_the_earlier_rule_speaks_where_two_find_the_same_words() -> None:
    both = wording_faults(process_with(work("Ensure the bilge is dry as required.")))
    assert [fault.code for fault in both] == ["ensure", "vague"]
    assert codes("Verify the pins.") == ["verify"]
    bound = wording_faults(process_with(work("Verify the pins.")), ["criterion"])
    assert [(fault.code, fault.advice) for fault in bound] == [("criterion", False)]


# --- the words --------------------------------------------------------------------------------


def test_a_verb_has_one_meaning_and_no_two_verbs_share_one() -> None:
    words = table("wording")
    meanings = list(words["verbs"].values())
    assert not set(words["verbs"]) & set(words["instead"])
    assert len(set(meanings)) == len(meanings)
    for verb in (*words["protective"], *words["closing"]):
        assert verb in words["verbs"], verb
    assert "wording" not in table_names()


def test_what_the_table_offers_is_a_verb_of_the_table() -> None:
    words = table("wording")
    for verb, right in words["instead"].items():
        offered = re.findall(r"\b[A-Z][a-z]+", right)
        assert offered or right == "the verb of the work itself", verb
        assert all(each.lower() in words["verbs"] for each in offered), verb


# --- the command ------------------------------------------------------------------------------


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """The sound workshop with two slips of wording in one step."""
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    return tmp_path


def slip(shop: Path) -> int:
    """A vague step in the shelf; the line it stands in."""
    file = shop / "processes" / "shelf.yaml"
    lines = file.read_text(encoding="utf-8").split("\n")
    at = next(n for n, line in enumerate(lines) if line.startswith("    do: "))
    lines[at] = "    do: Tighten the bolts properly."
    file.write_text("\n".join(lines), encoding="utf-8")
    return at + 1


def checked(shop: Path, *words: str) -> int:
    return main(["--workshop", str(shop), "check", "--whole", *words])


def test_advice_is_counted_and_printed_when_asked_for(shop: Path, capsys: Any) -> None:
    assert checked(shop) == 0
    before = capsys.readouterr().out
    line = slip(shop)
    assert checked(shop) == 0
    assert "of advice: check --advice" in capsys.readouterr().out
    assert checked(shop, "--advice") == 0
    out = capsys.readouterr().out
    assert f"processes/shelf.yaml:{line}:9: advice vague: 'properly' cannot be checked" in out
    assert "Right: how it is when it is right" in out
    assert "processes sound" in before


def test_advice_follows_the_findings_and_changes_no_exit_code(shop: Path, capsys: Any) -> None:
    slip(shop)
    file = shop / "processes" / "shelf.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text(re.sub(r"(?m)^checker: .*$", "checker: LQ1", text), encoding="utf-8")
    assert checked(shop, "--advice") == 1
    told = capsys.readouterr()
    assert "advice vague" in told.out
    assert "advice" not in told.err and "finding" in told.err


def test_a_program_gets_the_advice_marked(shop: Path, capsys: Any) -> None:
    line = slip(shop)
    assert checked(shop, "--format", "json") == 0
    assert json.loads(capsys.readouterr().out) == []
    assert checked(shop, "--format", "json", "--advice") == 0
    rows = json.loads(capsys.readouterr().out)
    assert [r["line"] for r in rows if r["code"] == "vague"] == [line]
    assert all(r["advice"] for r in rows)


def test_a_workshop_makes_a_rule_binding(shop: Path, capsys: Any) -> None:
    line = slip(shop)
    bound(shop, "[vague, dash]")
    assert checked(shop, "--advice") == 1
    told = capsys.readouterr()
    assert f"processes/shelf.yaml:{line}:9: vague: 'properly' cannot be checked" in told.err
    assert "advice vague" not in told.out
    assert main(["--workshop", str(shop), "draft", "--all"]) == 1
    assert not list((shop / "output").rglob("*.pdf"))


def bound(shop: Path, rules: str) -> None:
    with (shop / "processes" / "workshop" / "workshop.yaml").open("a", encoding="utf-8") as file:
        file.write(f"binding advice: {rules}\n")


def test_a_rule_that_is_not_there_is_a_finding_with_the_near_one(shop: Path, capsys: Any) -> None:
    bound(shop, "[vage]")
    assert checked(shop) == 1
    told = capsys.readouterr().err
    assert "'vage' is not a rule of wording" in told
    assert "Right: vague? One of: " in told


def test_the_demo_needs_no_advice() -> None:
    shop = open_shop(Path(__file__).parents[2])
    assert len(shop.processes) >= 10
    assert [each for file in shop.processes for each in advice_on(shop, file)] == []
