"""A log with a reading at its end, in; values that may not be, out."""

from __future__ import annotations

import pytest

from generator.results.case import Case
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.form_says import SINCE
from generator.results.judge import judged
from tests.results.judging import BOOKS

LOG = "functional-test-sheet"


def told(
    pressures: tuple[str, ...], end: str = "pressure at the end", unit: str = "bar g",
    limits: tuple[str, str] = ("44.0", "45.0"),
) -> list[str]:  # fmt: skip
    fields = [
        Field(LOG, "90", end, "", "number", (end,), unit=unit, lower=limits[0], upper=limits[1])
    ]
    words = {fields[0].key: "44.6"}
    for n, word in enumerate(pressures):
        fields += [
            Field(LOG, "90", f"{n} min", "clock", "clock", ("h", "m"), unit=SINCE),
            Field(LOG, "90", f"{n} min", "pressure", "number", ("pressure, bar g",), unit="bar g"),
        ]
        words |= {fields[-2].key: f"10:0{n}", fields[-1].key: word}
    case = Case(Form(tuple(fields), ("90",), ()), {k: entry_of(w) for k, w in words.items()}, BOOKS)
    return [f"{v.row} {v.says}" for v in judged(case.form, case.entries, BOOKS) if v.blocks]


ABOVE = "is above 45.0, as of pressure at the end: a slip is needed"
BELOW = "is below 44.0, as of pressure at the end: a slip is needed"


@pytest.mark.parametrize(
    ("pressures", "wanted"),
    [
        (("45.0", "44.8", "44.6"), []),
        (("45.0", "44.8", "44.0"), []),
        (("45.0", "44.8", "41.0"), [f"2 min: pressure 41.0 bar g {BELOW}"]),
        (("45.0", "48", "44.6"), [f"1 min: pressure 48 bar g {ABOVE}"]),
        (("45.1", "44.8", "45.2"), [f"{n} min: pressure 45.{d} bar g {ABOVE}" for n, d in ((0, 1), (2, 2))]),
        (("0", "43.0", "44.6"), []),  # it may still have been raised then
        (("45.0", "unreadable", "44.6"), ["1 min: pressure an entry that cannot be read is no entry"]),
    ],
)  # fmt: skip
def test_a_log_keeps_to_the_reading_at_its_end(pressures, wanted):
    assert told(pressures) == wanted


def test_a_log_is_of_the_test_that_counts():
    last = "pressure at the end, last test"
    assert told(("45.0", "44.8", "44.6"), last) == []
    (found,) = told(("45.0", "44.8", "20"), last)
    assert found == f"2 min: pressure 20 bar g is below 44.0, as of {last}: a slip is needed"


@pytest.mark.parametrize(
    "more",
    [
        {"end": "oil at the end"},
        {"end": "pressure at the end of the hose"},
        {"unit": "psi g"},
        {"limits": ("", "")},
    ],
)
def test_what_the_sheet_does_not_say_is_not_held(more):
    assert told(("45.0", "48.0", "20"), **{"limits": ("1.0", "650"), **more}) == []
