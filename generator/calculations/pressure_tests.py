"""Working pressure and a rule by its name in; what parts are proved to, and the gauge for it, out.

Which rule holds for an aircraft its approved data say; where they give a pressure, that is typed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, key, looked_up
from generator.quantities.amount import Amount
from generator.quantities.functions import above_ambient, step
from generator.quantities.points import as_gauge

PEOPLE = (
    "approved data of the aircraft, which go before every rule; how long the pressure is held; the "
    "barrier that people stand behind"
)
GAUGE = "full scale 1.25 times the test pressure: common practice, no source"
Working = Annotated[
    Amount, given("p_w", "bar g", "working pressure", at_least="1", at_most="700", at_bench="1")
]
Scale = Annotated[
    Amount, given("k_g", "", "full scale of the gauge over the test pressure", fixed="1.25 ratio")
]


@dataclass(frozen=True)
class ProofRow:
    """A factor: it holds for this rule and this element only."""

    rule: Annotated[str, key("rule and kind of test, as the table prints them")]
    element: Annotated[str, key("what is tested, as the table prints it")]
    factor: Annotated[Amount, given("k", "", "test pressure over working pressure")]


@dataclass(frozen=True)
class TestPressure:
    """What a part is tested to, and the gauge that shows it."""

    proof: Annotated[Amount, gives("p_t", "bar g", "test pressure", to="0.5")]
    gauge: Annotated[
        Amount, gives("p_f", "bar g", "least full scale of the gauge", to="1", safe="up")
    ]


def _by_excess(row: Any, working: float, scale: float) -> TestPressure:
    """What the test adds to the working pressure, and what the gauge adds to the test."""
    test = working + (row.factor - 1) * working
    made: Any = TestPressure
    bare: TestPressure = made(test, test + (scale - 1) * test)
    return bare


@calculation(
    source=f"the rule that the table row names; {GAUGE}",
    not_covered=f"elements other than the row's: a hose is proved by its own factor; {PEOPLE}",
    second=Second(_by_excess, "0.001 %", "what the test adds to the working pressure"),
    examples=(
        Example(
            {
                "rule": "14 CFR 25.1435 proof",
                "element": "tubes and fittings",
                "working": "70 bar g",
            },
            {"proof": "105 bar g"},
            "14 CFR 25.1435(a)(1): 1.5 times the design operating pressure",
        ),
        Example(
            {"rule": "14 CFR 25.1435 proof", "element": "hoses", "working": "70 bar g"},
            {"proof": "140 bar g"},
            "14 CFR 25.1435(a)(1): 2.0 times the design operating pressure",
        ),
    ),
)
def test_pressure(
    row: Annotated[ProofRow, looked_up("proof_factor")], working: Working, scale: Scale
) -> TestPressure:
    """Test pressure: the working pressure times the factor of a rule for this kind of element.

    Tubes and hoses of one line have different factors: the lower one is tested first or apart.
    """
    test = step(row.factor * above_ambient(working), "p_t", "bar", "test pressure")
    return TestPressure(as_gauge(test), as_gauge(scale * test))


@dataclass(frozen=True)
class HoseRow:
    """What a hose bears: it holds for this kind of hose and this dash size only."""

    hose: Annotated[str, key("kind of hose, as the table prints it")]
    dash: Annotated[str, key("dash size, as the table prints it")]
    working: Annotated[Amount, given("p_h", "bar g", "working pressure of the hose")]
    proof: Annotated[Amount, given("p_p", "bar g", "proof pressure of the hose")]
    burst: Annotated[Amount, given("p_b", "bar g", "least bursting pressure of the hose")]
    bend: Annotated[Amount, given("R_h", "mm", "least bend radius of the hose")]


@dataclass(frozen=True)
class Hose:
    """What is left of a hose's own limits."""

    spare_working: Annotated[
        Amount,
        gives("Δp_w", "bar", "working pressure left", to="0.1", safe="down", at_least="0",
              beyond="A hose for a higher pressure"),
    ]  # fmt: skip
    spare_proof: Annotated[
        Amount,
        gives("Δp_t", "bar", "proof pressure left", to="0.1", safe="down", at_least="0",
              beyond="The hose is tested apart, to its own proof pressure"),
    ]  # fmt: skip
    safety: Annotated[
        Amount, gives("n_b", "", "bursting over working pressure", to="0.1", safe="down")
    ]
    bend: Annotated[Amount, gives("R_min", "mm", "least bend radius", to="1", safe="up")]


def _hose_by_shares(row: Any, working: float, test: float) -> Hose:
    """Shares of the hose's own pressures that are used up."""
    made: Any = Hose
    bare: Hose = made(
        row.working * (1 - working / row.working),
        row.proof * (1 - test / row.proof),
        1 / (working / row.burst),
        row.bend,
    )
    return bare


@calculation(
    source="AC 43.13-1B (9/8/98) table 9-3",
    not_covered="age and life date; twist and chafing; a hose of another specification; length: a "
    "hose grows by 2 % or shrinks by 4 % under pressure (figure 9-9)",
    second=Second(_hose_by_shares, "0.001 %", "shares of the hose's pressures that are used up"),
    examples=(
        Example(
            {
                "hose": "MIL-H-8794",
                "dash": "6",
                "working": "1500 psi g",
                "test": "3000 psi g",
            },
            {"spare_working": "500 psi", "spare_proof": "1500 psi", "bend": "4.0 in"},
            "AC 43.13-1B table 9-3, size -6: 2000, 4500 and 9000 psi, 4.0 in",
            within="0.001 %",
        ),
    ),
)
def hose_limits(
    row: Annotated[HoseRow, looked_up("hose")],
    working: Working,
    test: Annotated[
        Amount, given("p_t", "bar g", "test pressure", at_least="1", at_most="1400", at_bench="1")
    ],
) -> Hose:
    """Limits of a hose: working and test pressure against its table row, and its bend radius.

    Refuses a hose that works or is tested above its own pressures.
    """
    works = above_ambient(working)
    return Hose(
        above_ambient(row.working) - works,
        above_ambient(row.proof) - above_ambient(test),
        above_ambient(row.burst) / works,
        row.bend,
    )


@dataclass(frozen=True)
class HoseLength:
    """What a hose needs of its length."""

    least: Annotated[Amount, gives("l_min", "mm", "least length of the hose", to="1", safe="up")]
    longest: Annotated[
        Amount, gives("l_p", "mm", "that hose at its longest, under pressure", to="1", safe="up")
    ]


def _length_by_parts(path: float, shrinks: float, grows: float) -> HoseLength:
    """A path that is the hose less its share."""
    made: Any = HoseLength
    least = 1 / ((1 - shrinks) / path)
    bare: HoseLength = made(least, least * grows + least)
    return bare


@calculation(
    source="AC 43.13-1B (9/8/98) figure 9-9: under pressure a hose changes by +2 % to −4 % of its "
    "length",
    not_covered="length that bends and moving parts ask for, which comes on top; fittings; twist",
    second=Second(_length_by_parts, "0.001 %", "the path as the hose less its share"),
    examples=(
        Example(
            {"path": "960 mm"},
            {"least": "1000 mm", "longest": "1020 mm"},
            "AC 43.13-1B figure 9-9: 4 % off 1000 mm is 960 mm, 2 % on is 1020 mm",
        ),
    ),
)
def hose_length(
    path: Annotated[
        Amount,
        given("l", "mm", "way of the hose, fitting to fitting, at its farthest", above="0",
              at_most="10000", at_bench="1"),
    ],
    shrinks: Annotated[Amount, given("s_m", "%", "a hose shrinks by", fixed="4 %")],
    grows: Annotated[Amount, given("s_p", "%", "a hose grows by", fixed="2 %")],
    whole: Annotated[Amount, given("s_1", "", "the whole of it", fixed="1 ratio")],
) -> HoseLength:  # fmt: skip
    """Length of a hose: so much that it does not pull when pressure makes it shorter."""
    least = step(path / (whole - shrinks), "l_min", "mm", "least length of the hose")
    return HoseLength(least, least * (whole + grows))
