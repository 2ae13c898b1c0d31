"""What a person types for a quantity: what is read, what is echoed, what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.findings import Refusal
from generator.quantities.text import SWG, echo, read_amount, read_count, read_plain
from generator.quantities.units import SIMPLE

READ = [
    ("1.2 mm", 1.2, None, None, "mm"),
    ("1.2 ± 0.05 mm", 1.2, 1.15, 1.25, "mm"),
    ("12 +0.2/-0 mm", 12, 12, 12.2, "mm"),
    ("1.0 to 1.4 mm", 1.2, 1.0, 1.4, "mm"),
    ("-2 to 3 °", 0.5, -2, 3, "°"),
    ("5/32 in", 0.15625, None, None, "in"),
    ("1 17/64 in", 1.265625, None, None, "in"),
    ("1-17/64 in", 1.265625, None, None, "in"),
    ('1 17/64"', 1.265625, None, None, "in"),
    ("90°", 90, None, None, "°"),
    ("20 °C", 20, None, None, "°C"),
    ("60 lbf·in", 60, None, None, "lbf·in"),
    ("70 bar g", 70, None, None, "bar g"),
    ("1.01 bar a", 1.01, None, None, "bar a"),
    ("0.35 ratio", 0.35, None, None, ""),
    ("−1.9 bar", -1.9, None, None, "bar"),
]
REFUSED = [
    ("0.9", "unit"), ("20 gauge", "gauge"), ("2,5 mm", "comma"), ("1.250,0 mm", "comma"),
    ("1 / 17/64 in", "fraction"), ("1.17/64 in", "fraction"), ("3/0 in", "fraction"),
    ("5/4 in", "fraction"), ("9 ±-0.1 mm", "tolerance"), ("1.2 mm ± 0.05 mm", "tolerance"),
    ("1.4 to 1.0 mm", "limits"), ("2-3 mm", "range"), ("2–3 mm", "range"), ("5 Nm", "unit"),
    ("1e3 mm", "unit"), ("abc", "amount"), ("", "amount"), ("-300 °C", "range"),
    ("-1 bar a", "range"), ("10 psig", "unit"), ("20 lb-in", "unit"), ("1 1/4in/2", "fraction"),
    ("nan mm", "amount"), ("inf mm", "amount"), ("1 mm mm", "unit"), ("٣ mm", "amount"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "number", "low", "high", "unit_text"), READ)
def test_reads(text: str, number: float, low: float, high: float, unit_text: str) -> None:
    amount = read_amount(text)
    assert amount.unit.text == unit_text
    assert amount.number() == pytest.approx(number)
    ends = [None if e is None else amount.unit.from_base(e) for e in (amount.low, amount.high)]
    assert ends == [
        pytest.approx(low) if low is not None else None,
        pytest.approx(high) if high is not None else None,
    ]


@pytest.mark.parametrize(("text", "code"), REFUSED)
def test_refuses(text: str, code: str) -> None:
    with pytest.raises(Refusal) as told:
        read_amount(text)
    assert told.value.code == code
    assert told.value.right


@given(
    st.decimals(min_value=-99999, max_value=99999, places=4, allow_nan=False),
    st.sampled_from(sorted(set(SIMPLE) - {"1", "%", "rev", "ratio", "count"})),
)
def test_any_typed_decimal_reads_back(number: object, unit_text: str) -> None:
    amount = read_amount(f"{number} {unit_text}")
    assert amount.number() == pytest.approx(float(str(number)), rel=1e-12, abs=1e-12)


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        amount = read_amount(text)
    except Refusal as refusal:
        assert refusal.right
    else:
        assert amount.low is None or amount.low <= amount.value <= (amount.high or amount.value)


def test_fractions_and_gauges_are_echoed_as_read() -> None:
    assert echo(read_amount("1 17/64 in")) == "1 17/64 in (read as 1.265625 in = 32.14688 mm)"
    assert echo(read_amount("20 SWG")) == "20 SWG (read as 0.9144 mm)"
    assert echo(read_amount("0.35 ratio")) == "0.35"


def test_gauges_are_the_published_ones() -> None:
    # ASTM B258, AWG 20: 0.0320 in = 0.812 mm (diameter table; from memory). SWG 20: 0.036 in.
    assert read_amount("20 AWG").number() == pytest.approx(0.812, abs=0.0005)
    assert read_amount("36 AWG").number() == pytest.approx(0.005 * 25.4)
    assert read_amount("20 SWG").number() == pytest.approx(0.036 * 25.4)
    assert list(SWG.values()) == sorted(SWG.values(), reverse=True)


@pytest.mark.parametrize("text", ["24", "0", "100"])
def test_counts(text: str) -> None:
    assert read_count(text) == int(text)


@pytest.mark.parametrize("text", ["2.5", "-1", "", "1 000", "24 mm"])
def test_what_is_no_count(text: str) -> None:
    with pytest.raises(Refusal):
        read_count(text)


def test_plain_numbers_have_no_unit() -> None:
    assert read_plain("0.5").value == 0.5
    with pytest.raises(Refusal):
        read_plain("0.5 mm")
