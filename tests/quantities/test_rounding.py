"""Numbers and steps in; the printed text out: halves, safe sides, signs."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.findings import Refusal
from generator.quantities.rounding import decimals, plain, rounded

# Each is arithmetic that a reader does in his head.
ROUNDED = [
    (1.1 * 3, "0.1", "up", "3.3"),  # the float lies a hair above 3.3
    (0.1 * 3, "0.1", "up", "0.3"),
    (1.1 * 3, "0.1", "down", "3.3"),
    (2.9999999999999996, "1", "down", "3"),
    (0.125, "0.01", "nearest", "0.13"),
    (-0.125, "0.01", "nearest", "−0.13"),
    (2.5, "1", "nearest", "3"),
    (3.5, "1", "nearest", "4"),
    (12.5, "5", "nearest", "15"),
    (2.76, "0.5", "nearest", "3.0"),
    (2.76, "0.5", "down", "2.5"),
    (2.51, "0.5", "up", "3.0"),
    (47.4, "0.01", "nearest", "47.40"),
    (-1.21, "0.1", "up", "−1.2"),
    (-1.21, "0.1", "down", "−1.3"),
    (-0.001, "0.01", "nearest", "0.00"),
    (-0.001, "0.01", "up", "0.00"),
    (-0.0, "0.01", "nearest", "0.00"),
    (0.0, "5", "nearest", "0"),
    (1234567.8, "0.1", "nearest", "1234567.8"),
    (-1e-16, "0.1", "down", "0.0"),  # what floats leave of nothing
    (1000 - 999.9 - 0.1, "0.01", "up", "0.00"),
    (0.3 - 0.1 - 0.2, "0.001", "down", "0.000"),
    (-0.9e-11, "0.1", "down", "0.0"),  # a hair on this side of the noise, and on the other
    (-1.1e-11, "0.1", "down", "−0.1"),
    (0.9e-11, "0.1", "up", "0.0"),
    (1.1e-11, "0.1", "up", "0.1"),
]


@pytest.mark.parametrize(("number", "step", "safe", "text"), ROUNDED)
def test_rounded(number, step, safe, text):
    assert rounded(number, step, safe) == text


NUMBERS = st.floats(-1e6, 1e6, allow_nan=False)
STEPS = st.sampled_from(["0.001", "0.01", "0.1", "0.5", "1", "5"])


def _read(text: str) -> Decimal:
    return Decimal(text.replace("−", "-"))


@given(NUMBERS, STEPS)
def test_each_side_is_the_safe_one(number, step):
    exact, size = Decimal(f"{number:.12g}"), Decimal(step)
    up, down, near = (_read(rounded(number, step, safe)) for safe in ("up", "down", "nearest"))
    noise = size / 10**10
    assert down - noise <= exact <= up + noise
    assert up - down <= size
    assert abs(near - exact) <= size / 2
    assert near in (up, down)


@given(NUMBERS, STEPS, st.sampled_from(["up", "down", "nearest"]))
def test_no_minus_nought_and_always_the_decimals_of_the_step(number, step, safe):
    text = rounded(number, step, safe)
    assert "-" not in text
    assert not (text.startswith("−") and _read(text) == 0)
    assert len(text.partition(".")[2]) == decimals(step)
    assert _read(text) % Decimal(step) == 0


@pytest.mark.parametrize("number", [float("nan"), float("inf"), -float("inf"), 1e30, 1e300])
def test_what_cannot_be_printed_is_refused(number):
    with pytest.raises(Refusal, match="cannot be printed"):
        rounded(number, "0.01")


@given(st.floats(-1e12, 1e12, allow_nan=False), st.integers(3, 12))
def test_plain_is_the_number_without_an_exponent(number, figures):
    text = plain(number, figures)
    assert "e" not in text.lower() and "-" not in text
    assert float(text.replace("−", "-")) == float(f"{number:.{figures}g}")
    assert not text.endswith(".") and ("." not in text or not text.endswith("0"))
