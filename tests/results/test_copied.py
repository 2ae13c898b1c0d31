"""A feature and the readings at its operation, in; whether the feature repeats them, out."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from generator.results.case import Case
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.judge import judged
from tests.compose.sheets import FILES
from tests.results.judging import BOOKS, VERDICTS, T
from tests.results.test_form import form

BAND = {"lower": "31.98", "upper": "32.10", "unit": "mm"}
BORE = tuple(Field(T, "10", "bore", str(n), "number", (f"bore {n}",), **BAND) for n in (1, 2, 3))
GAUGE = Field(T, "10", "micrometer no.", "", "words", ("micrometer no.",))
PLACE = ("inspection-sheet", "", "feature 1")
TOLD = {"of": "10", "reading": "bore"}
FEATURE = tuple(
    Field(*PLACE, f"{n} of 3", "number", (f"{n} of 3",), **BAND, **TOLD) for n in (1, 2, 3)
)
VERDICT = Field(*PLACE, "in", "choice", VERDICTS, VERDICTS, **TOLD)
USED = Field(*PLACE, "micrometer no.", "words", ("micrometer no.",), **TOLD)
FORM = Form((*BORE, GAUGE, *FEATURE, VERDICT, USED), ("10",), ())
READ = ("32.04", "32.05", "32.13")


def case(read=READ, copied=READ, gauge="G-101", used="G-101", form=FORM) -> Case:
    words = {f.key: w for f, w in zip((*BORE, *FEATURE), (*read, *copied), strict=True)}
    words |= {GAUGE.key: gauge, USED.key: used, VERDICT.key: "out"}
    entries = {key: entry_of(word) for key, word in words.items()}
    allows = [(BORE[2].key, "32.13")]
    return Case(form, entries, replace(BOOKS, conceded=allows))


def told(of: Case) -> list[tuple[str, str]]:
    found = judged(of.form, of.entries, of.books)
    return [(v.row, v.code) for v in found if v.blocks and v.code in ("out", "between")]


def test_the_same_reading_is_allowed_with_its_verdict():
    assert told(case()) == []
    assert told(case(copied=("32.04", "32.05", "32.130"))) == []


LAST, IN = "feature 1: 3 of 3", "feature 1: in"
ANEW = {
    "one value is another": {"copied": ("32.04", "32.06", "32.13")},
    "in another order": {"copied": ("32.13", "32.05", "32.04")},
    "a value is not there": {"copied": ("", "32.05", "32.13")},
    "another gauge": {"used": "G-200"},
    "no gauge here": {"used": ""},
    "no gauge at all": {"used": "", "gauge": ""},
}


@pytest.mark.parametrize("what", ANEW)
def test_a_reading_that_was_taken_anew_needs_a_slip(what):
    beyond = "feature 1: 1 of 3" if what == "in another order" else LAST
    assert told(case(**ANEW[what])) == [(beyond, "out"), (IN, "out")]


def test_a_second_value_that_nobody_conceded_stays_out():
    read = ("32.04", "32.12", "32.13")
    assert told(case(read, read)) == [("bore: 2", "out"), ("feature 1: 2 of 3", "out")]


def test_a_count_or_a_form_of_before_needs_a_slip():
    """Nothing tells a count that is taken twice from one that is copied."""
    uncounted = replace(FORM, fields=(*BORE, *FEATURE, VERDICT))
    assert told(case(form=uncounted)) == [(LAST, "out"), (IN, "out")]
    before = replace(FORM, fields=tuple(replace(f, reading="") for f in FORM.fields))
    assert told(case(form=before)) == [(LAST, "out"), (IN, "out")]


def test_a_reading_that_goes_on_overleaf_is_one_reading():
    on = replace(BORE[2], row="bore (2)")
    own = case(form=replace(FORM, fields=tuple(on if f == BORE[2] else f for f in FORM.fields)))
    entries = {**own.entries, on.key: entry_of("32.13")}
    books = replace(own.books, conceded=[(on.key, "32.13")])
    assert told(replace(own, entries=entries, books=books)) == []


@pytest.mark.parametrize("file", FILES)
def test_every_feature_of_the_demo_knows_its_readings(file):
    """By the name that the traveller or its record has for them, as many as the feature has."""
    own, _ = form(file)
    features = [f for f in own.fields if f.sheet == "inspection-sheet" and f.of]
    for row in {f.row for f in features if f.kind == "number"}:
        here = [f for f in own.fields if f.row == row and f.kind == "number" and f.of]
        (of, reading) = {(f.of, f.reading) for f in here}.pop()
        there = [f for f in own.fields if (f.operation, f.kind) == (of, "number")
                 and re.fullmatch(re.escape(reading) + r"( \([0-9]+\))?", f.row)]  # fmt: skip
        assert len(there) == len(here) > 0
        assert [f.name for f in there] in ([""], [str(n + 1) for n in range(len(there))])
