"""Amounts as people type them in; what is read, echoed or refused, out."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.text import echo, read_amount, read_count, read_plain, read_range
from generator.quantities.units import POINTS, SIMPLE

# Typed; number in its own unit; lower and upper limit or None; unit.
ACCEPTED = [
    ("1.2 mm", "1.2", None, "mm"),
    ("1.2mm", "1.2", None, "mm"),
    (" 1.2 mm ", "1.2", None, "mm"),
    ("+5 mm", "5", None, "mm"),
    ("1.2 ± 0.05 mm", "1.2", ("1.15", "1.25"), "mm"),
    ("1.2±0.05 mm", "1.2", ("1.15", "1.25"), "mm"),
    ("12 +0.2/-0 mm", "12", ("12", "12.2"), "mm"),
    ("12 +0.2/−0.1 mm", "12", ("11.9", "12.2"), "mm"),
    ("1.0 to 1.4 mm", "1.2", ("1.0", "1.4"), "mm"),
    ("-5 to 5 °C", "0", ("-5", "5"), "°C"),
    ("−40 °C", "-40", None, "°C"),
    ("20 ± 2 °C", "20", ("18", "22"), "°C"),
    ("5/32 in", "0.15625", None, "in"),
    ("1 17/64 in", "1.265625", None, "in"),
    ("1-17/64 in", "1.265625", None, "in"),
    ('1 17/64"', "1.265625", None, "in"),
    ("1 1/4 in", "1.25", None, "in"),
    ("-1 1/2 in", "-1.5", None, "in"),
    ("1/2 ± 1/64 in", "0.5", ("0.484375", "0.515625"), "in"),
    ("90°", "90", None, "°"),
    ("90 °", "90", None, "°"),
    ("60 lbf·in", "60", None, "lbf·in"),
    ("70 bar g", "70", None, "bar g"),
    ("-0.5 bar g", "-0.5", None, "bar g"),
    ("2 bar a", "2", None, "bar a"),
    ("95 %", "95", None, "%"),
    ("0.01743 1/°", "0.01743", None, "1/°"),
    ("0.33 ratio", "0.33", None, ""),
    ("24 count", "24", None, ""),
    ("7 μm", "7", None, "µm"),
    ("25\u00a0mm", "25", None, "mm"),
    ("010 mm", "10", None, "mm"),
]


@pytest.mark.parametrize(("typed", "number", "limits", "unit"), ACCEPTED)
def test_accepted(typed, number, limits, unit):
    amount = read_amount(typed)
    assert amount.number() == pytest.approx(float(number), rel=1e-12, abs=1e-12)
    assert amount.unit.text == unit
    ends = _limits(amount)
    assert ends == (None if limits is None else pytest.approx([float(x) for x in limits], abs=1e-9))


def _limits(amount: Amount) -> list[float] | None:
    if amount.low is None or amount.high is None:
        return None
    return [amount.unit.from_base(amount.low), amount.unit.from_base(amount.high)]


# Typed; code of the refusal; a word of what would be right.
REFUSED = [
    ("0.9", "unit", "0.9 mm"),
    ("1 17/64", "unit", "1 17/64 mm, in"),
    ("20 gauge", "gauge", "20 SWG"),
    ("20 ga", "gauge", "20 SWG"),
    ("5 SWG", "gauge", "6 SWG to 30 SWG"),
    ("00 AWG", "gauge", "measured thickness"),
    ("2,5 mm", "comma", "2.5 mm"),
    ("1.250,0 mm", "comma", "one point"),
    ("1.2 mm ± 0.05 mm", "tolerance", "1.2 ± 0.05 mm"),
    ("1.2 ±-0.1 mm", "tolerance", "1.2 ± 0.05 mm"),
    ("1.2 ± mm", "tolerance", "1.2 ± 0.05 mm"),
    ("1.4 to 1.0 mm", "limits", "1.0 to 1.4 mm"),
    ("1-2 mm", "range", "1.0 to 1.4 mm"),
    ("1..2 mm", "range", "1.0 to 1.4 mm"),
    ("1 / 17/64 in", "fraction", "1 17/64 in"),
    ("1.17/64 in", "fraction", "1 17/64 in"),
    ("9/4 in", "fraction", "1 17/64 in"),
    ("1/0 in", "fraction", "1 17/64 in"),
    ("60 Nm", "unit", "N·m"),
    ("60 in-lb", "unit", "lbf·in"),
    ("60 lb-ft", "unit", "lbf·ft"),
    ("85 °F", "unit", "°C"),
    ("90 deg", "unit", "°"),
    ("40 mm2", "unit", "mm²"),
    ("5 thou", "unit", "0.001 in"),
    ("5 smoots", "unit", "a unit such as mm"),
    ("5 N/mm/s", "unit", "a unit such as mm"),
    ("-300 °C", "range", "−273.15 °C"),
    ("-1 bar a", "range", "0 or more"),
    ("1e3 mm", "number", "the number written out: 1000 mm"),
    ("10.3e6 psi", "number", "the number written out: 10300000 psi, or 10300 ksi"),
    ("2.5E-3 mm", "number", "the number written out: 0.0025 mm"),
    ("1e3 to 2e+3 mm", "number", "the number written out: 1000 to 2000 mm"),
    ("1e400 mm", "number", "such as 10300000 psi or 10300 ksi"),
    ("1e3 smoots", "number", "such as 10300000 psi or 10300 ksi"),
    ("1.016 -0.02/+0.04 mm", "tolerance", "1.016 +0.04/-0.02 mm"),
    ("1.016−0.02/+0.04mm", "tolerance", "1.016 +0.04/-0.02 mm"),
    ("1.016 +0.04 mm", "tolerance", "1.016 +0.04/-0 mm"),
    ("1.016 -0.02 mm", "tolerance", "1.016 +0/-0.02 mm"),
    ("1.016 0/-0.02 mm", "tolerance", "1.016 +0/-0.02 mm"),
    ("1.016 +0.04/0 mm", "tolerance", "1.016 +0.04/-0 mm"),
    ("0 +0.1 mm", "tolerance", "0 +0.1/-0 mm"),
    ("90 -1°", "tolerance", "90 +0/-1°"),
    ("20 -5 °C", "tolerance", "20 +0/-5 °C"),
    ("1 17/64 -0.02/+0.01 in", "tolerance", "1 17/64 +0.01/-0.02 in"),
    ("8 -0.013/-0.028 mm", "tolerance", "7.9795 ± 0.0075 mm"),
    ("8 +0.028/+0.013 mm", "tolerance", "8.0205 ± 0.0075 mm"),
    ("1.016 -0.02/+0.04 smoots", "tolerance", "12 +0.2/-0.1 mm, the plus first"),
    ("12 +0.2/0.1 mm", "tolerance", "12 +0.2/-0 mm"),
    ("10 -12 mm", "range", "1.0 to 1.4 mm"),
    ("1.016 +0.04", "unit", "12 +0.2/-0 mm"),
    ("1.016 -0.02/+0.04", "unit", "12 +0.2/-0 mm"),
    ("0.030104096201 in", "number", "at most 9 decimals: 0.030104096 in"),
    ("1.0 to 1.00000000051 mm", "number", "at most 9 decimals: 1.0 to 1.000000001 mm"),
    ("1234567890123 mm", "number", "at most 12 digits"),
    ("1_000 mm", "unit", ""),
    ("1 000 mm", "unit", ""),
    (".5 mm", "amount", "such as 1.2 mm"),
    ("--5 mm", "amount", "such as 1.2 mm"),
    ("inf mm", "amount", "such as 1.2 mm"),
    ("nan mm", "amount", "such as 1.2 mm"),
    ("mm", "amount", "such as 1.2 mm"),
    ("", "amount", "such as 1.2 mm"),
    ("1 mm; 2 mm", "unit", ""),
]


@pytest.mark.parametrize(("typed", "code", "right"), REFUSED)
def test_refused(typed, code, right):
    with pytest.raises(Refusal) as caught:
        read_amount(typed)
    assert caught.value.code == code
    assert right in caught.value.right
    assert caught.value.wrong


@given(
    st.decimals("0.1", "99", places=3), st.decimals("0", "0.09", places=3),
    st.decimals("0.001", "0.09", places=3), st.sampled_from(["{1}/{0}", "{0}", "{1}"]),
)  # fmt: skip
def test_limits_in_another_order_are_put_forward_with_the_same_two_ends(middle, up, down, form):
    typed = f"{middle} {form.format(f'+{up}', f'-{down}')} mm"
    with pytest.raises(Refusal) as caught:
        read_amount(typed)
    low = middle - down if "{1}" in form else middle
    high = middle + up if "{0}" in form else middle
    ends = _limits(read_amount(caught.value.right))
    assert ends == pytest.approx([float(low), float(high)], abs=1e-12)


@given(st.decimals("0.001", "999", places=3), st.integers(-6, 9))
def test_a_number_with_an_exponent_is_put_forward_written_out(number, power):
    with pytest.raises(Refusal) as caught:
        read_amount(f"{number}e{power} mm")
    right = caught.value.right.removeprefix("the number written out: ")
    assert read_amount(right).number() == pytest.approx(float(number.scaleb(power)), rel=1e-12)


# 1 17/64 in is 81/64 in, 32.146875 mm; 20 AWG is 0.8118 mm in ASTM B258.
ECHOED = [
    ("1.20 mm", "1.20 mm"),
    ("-5 to 5 °C", "−5 to 5 °C"),
    ("12 +0.2/-0 mm", "12 +0.2/−0 mm"),
    ("1 17/64 in", "1 17/64 in (read as 1.265625 in = 32.14688 mm)"),
    ("5/32 in", "5/32 in (read as 0.15625 in = 3.96875 mm)"),
    ("20 SWG", "20 SWG (read as 0.9144 mm)"),
    ("20 AWG", "20 AWG (read as 0.81182 mm)"),
    ("0.33 ratio", "0.33"),
    ("24 count", "24"),
]


@pytest.mark.parametrize(("typed", "shown"), ECHOED)
def test_echo_says_how_it_was_read(typed, shown):
    assert echo(read_amount(typed)) == shown


DECIMALS = st.decimals(
    min_value=Decimal("-99999999"), max_value=Decimal("99999999"), places=6, allow_nan=False
)
UNITS = st.sampled_from(sorted({*SIMPLE, *POINTS, "lbf·in", "N/mm²", "1/°", "L/min"} - {"1"}))


@given(DECIMALS, UNITS)
def test_any_decimal_reads_back_to_the_same_number(number, unit):
    typed = f"{number} {unit}"
    below = unit.endswith((" a", "°C")) and number < (-273.15 if unit == "°C" else 0)
    if below:
        with pytest.raises(Refusal):
            read_amount(typed)
        return
    amount = read_amount(typed)
    assert amount.typed == typed
    assert amount.number() == pytest.approx(float(number), rel=1e-12, abs=1e-9)


@given(st.integers(0, 999), st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_any_proper_fraction_of_an_inch_is_read_exactly(whole, above, below):
    typed = f"{whole} {above}/{below} in" if whole else f"{above}/{below} in"
    if above >= below:
        with pytest.raises(Refusal):
            read_amount(typed)
        return
    wanted = (whole + Fraction(above, below)) * Fraction(254, 10)  # 1 in is 25.4 mm exactly
    assert read_amount(typed).value * 1000 == pytest.approx(float(wanted), rel=1e-14)


@given(st.text(alphabet='0123456789 ./,-+±°mintoSWGbarg%"·²', max_size=16))
def test_any_text_is_an_amount_or_a_refusal(typed):
    try:
        amount = read_amount(typed)
    except Refusal as refusal:
        assert refusal.right
    else:
        assert amount.low is None or amount.low <= amount.value <= amount.high


@pytest.mark.parametrize("typed", ["24", "0.5", "−3", "-3"])
def test_plain_numbers(typed):
    assert read_plain(typed).number() == float(typed.replace("−", "-"))


@pytest.mark.parametrize("typed", ["", "24 mm", "1e3", "1,5", "0x10", "nan", "1/2"])
def test_what_is_no_plain_number(typed):
    with pytest.raises(Refusal, match="not a plain number"):
        read_plain(typed)


def test_a_plain_number_of_too_many_decimals_is_put_forward_shorter():
    with pytest.raises(Refusal) as caught:
        read_plain("0.4666666666667")
    assert caught.value.wrong == "'0.4666666666667' has 13 decimals"
    assert caught.value.right == "at most 9 decimals: 0.466666667"


@pytest.mark.parametrize("typed", ["", "-1", "1.0", "24 mm", "two", "1234567"])
def test_what_is_no_count(typed):
    with pytest.raises(Refusal, match="not a count"):
        read_count(typed)


def test_a_range_has_two_ends():
    assert _limits(read_range("4 to 14 lbf·in")) == pytest.approx([4, 14])
    with pytest.raises(Refusal, match="no two ends"):
        read_range("4 lbf·in")


@pytest.mark.parametrize(
    ("typed", "right"),
    [
        ("170 +- 0.5 mm", "170 ± 0.5 mm, with the sign ±"),
        ("170 +/- 0.5 mm", "170 ± 0.5 mm, with the sign ±"),
        ("3.2 + - 0.1 mm", "3.2 ± 0.1 mm, with the sign ±"),
        ("170 +- 0.5", "a tolerance such as 1.2 ± 0.05 mm or 12 +0.2/-0 mm"),
        ("5 +-", "a tolerance such as 1.2 ± 0.05 mm or 12 +0.2/-0 mm"),
    ],
)
def test_a_tolerance_without_its_sign_is_told_with_it(typed, right):
    with pytest.raises(Refusal) as told:
        read_amount(typed)
    assert told.value.code == "tolerance"
    assert told.value.right.startswith(right)
