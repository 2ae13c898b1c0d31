"""Small arithmetic over names in; the amount, or a refusal, out. Nothing else is a formula."""

from __future__ import annotations

import warnings

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.computing.arithmetic import LONGEST, names, without_amounts, worked
from generator.findings import Refusal
from generator.quantities.amount import leaf
from generator.quantities.text import read_amount

AMOUNTS = {
    name: leaf(read_amount(typed), name, read_amount(typed).unit)
    for name, typed in {"flat.length": "47.4 mm", "trim": "2.5 mm", "bend": "90°"}.items()
}


@pytest.mark.parametrize(
    ("formula", "millimetres"),
    [
        ("flat.length + 2 * trim", 47.4 + 2 * 2.5),
        ("(flat.length - trim) / 2", (47.4 - 2.5) / 2),
        ("flat.length-trim-trim", 47.4 - 2.5 - 2.5),
        ("flat.length - (trim - trim)", 47.4),
        ("trim / 0.5", 2.5 / 0.5),
        ("trim", 2.5),
    ],
)
def test_worked(formula, millimetres):
    made = worked(formula, AMOUNTS)
    assert made.number() == pytest.approx(millimetres)
    assert made.unit.text == "mm"


def test_the_line_is_what_ran():
    made = worked("flat.length + 2 * trim", AMOUNTS)
    assert made.formula == "flat.length + 2 · trim"
    assert made.numbers == "47.4 mm + 2 · 2.5 mm"


def test_names_in_their_order_once_each():
    assert names("b.c + a * (b.c - a)") == ["b.c", "a"]


@pytest.mark.parametrize(
    "formula",
    [
        "trim ** 2",
        "trim // 2",
        "trim % 2",
        "-trim",
        "trim +",
        "(trim",
        "trim trim",
        "trim == trim",
        "trim[0]",
        "trim()",
        "'trim'",
        "[trim]",
        "2 * 1e9",
        "2 * 1_000",
        "0x10 * trim",
        "1j * trim",
        "...",
        "",
        "trim; trim",
        "trim\x00",
        "(" * 150 + "trim" + ")" * 50,
    ],
)
def test_what_is_more_than_arithmetic_is_refused(formula):
    known = {**AMOUNTS, **dict.fromkeys(names(formula), AMOUNTS["trim"])}
    with pytest.raises(Refusal) as caught:
        worked(formula, known)
    assert caught.value.code == "formula"
    assert caught.value.right


def test_pythons_own_doubts_are_no_business_of_the_bench():
    """A newer Python prints them beside the finding."""
    with warnings.catch_warnings(record=True) as doubts, pytest.raises(Refusal):
        warnings.simplefilter("always")
        worked(r"'\|' + trim", AMOUNTS)
    assert doubts == []


def test_two_hundred_signs_and_no_more():
    formula = "trim" + " + trim" * 28
    assert len(formula) == LONGEST == 200
    assert worked(formula, AMOUNTS).number() == pytest.approx(2.5 * 29)
    with pytest.raises(Refusal, match="longer than 200"):
        worked(formula + " ", AMOUNTS)


@pytest.mark.parametrize("formula", ["trim + bend", "trim + 2", "trim * trim + trim"])
def test_kinds_of_quantity_are_never_mixed(formula):
    with pytest.raises(Refusal) as caught:
        worked(formula, AMOUNTS)
    assert caught.value.code == "unit"


@pytest.mark.parametrize(
    ("formula", "amount"),
    [
        ("trim + 2 mm", "2 mm"),
        ("trim + 2mm", "2 mm"),
        ("2.5 bar g + trim", "2.5 bar g"),
        ("trim * 90°", "90°"),
        ("(trim - 0.5 in) / 2", "0.5 in"),
        ("3 N·m + trim", "3 N·m"),
        ("trim * 5 %", "5 %"),
    ],
)
def test_an_amount_in_a_formula_is_told_to_take_a_name(formula, amount):
    with pytest.raises(Refusal) as caught:
        without_amounts(formula)
    assert caught.value.wrong.startswith(f"'{amount}' stands in")
    assert f"{{is: {amount}, from: its source}} under given" in caught.value.right


@pytest.mark.parametrize(
    "formula", ["2 * m", "m2 + 1", "flat.flats.1 mm", "2 trim", "trim / 2 - bend", "3 + 4"]
)
def test_what_is_no_amount_is_left_to_the_arithmetic(formula):
    without_amounts(formula)


@given(st.text(alphabet="ab.12 +-*/()_=,'\"[]{}:\\\n", max_size=40))
def test_any_text_is_an_amount_or_a_refusal(formula):
    known = dict.fromkeys(names(formula), AMOUNTS["trim"])
    try:
        worked(formula, known)
    except Refusal as refusal:
        assert refusal.wrong
