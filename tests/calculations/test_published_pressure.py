"""Test pressures, leaks and gas against what is printed elsewhere; its source beside each check."""

from __future__ import annotations

import random

import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, results

# 14 CFR 25.1435(a)(1), amendment 25-104: element and proof factor.
TRANSPORT = [
    ("tubes and fittings", 1.5),
    ("hoses", 2.0),
    ("gas vessels, high pressure", 3.0),
    ("gas vessels, low pressure", 1.5),
    ("all other elements", 1.5),
]
OTHERS = [  # rule, element, factor
    ("14 CFR 25.1435 functional", "complete system without a relief device", 1.25),
    ("14 CFR 25.1438 proof", "pressurization elements", 1.5),
    ("14 CFR 25.1438 proof", "pneumatic elements", 1.5),
    ("14 CFR 23.1435 proof", "complete system", 1.5),  # (b), before 2017, from memory
    ("14 CFR 27.1435 proof", "complete system", 1.5),
    ("14 CFR 29.1435 proof", "each element", 1.5),
    # NAVEDTRA 14018 ch. 6, which cites NAVAIR 01-1A-20; contradicts the 1.5 of a design rule.
    ("NAVAIR 01-1A-20 shop test", "made-up tube above 50 psi", 2.0),
]
FACTORS = [("14 CFR 25.1435 proof", *row) for row in TRANSPORT] + OTHERS


@pytest.mark.parametrize(("rule", "element", "factor"), FACTORS)
def test_factor_of_every_rule(rule: str, element: str, factor: float) -> None:
    typed = {"rule": rule, "element": element, "working": "200 bar g"}
    assert answer("test_pressure", "bar", "proof", **typed) == pytest.approx(200 * factor)
    assert answer("test_pressure", "bar", "gauge", **typed) == pytest.approx(250 * factor)


def test_a_hose_has_no_row_under_a_rule_for_tubes() -> None:
    with pytest.raises(Refusal, match="no row"):
        results("test_pressure", rule="14 CFR 27.1435 proof", element="hoses", working="70 bar g")


# AC 43.13-1B (9/8/98) table 9-3: dash, working, bursting, proof (psi), bend radius (in).
HOSES = [
    (3, 3000, 12000, 6000, 3.0),
    (4, 3000, 12000, 6000, 3.0),
    (5, 3000, 10000, 5000, 3.38),
    (6, 2000, 9000, 4500, 4.0),
    (8, 2000, 8000, 4000, 4.63),
    (10, 1750, 7000, 3500, 5.5),
    (12, 1750, 6000, 3000, 6.5),
    (16, 800, 3200, 1600, 7.38),
    (20, 600, 2500, 1250, 9.0),
    (24, 500, 2000, 1000, 11.0),
    (32, 350, 1400, 700, 13.25),
    (40, 200, 1000, 300, 24.0),
    (48, 200, 800, 300, 33.0),
]


@pytest.mark.parametrize(("dash", "working", "burst", "proof", "bend"), HOSES)
def test_every_row_of_the_hose_table(
    dash: int, working: int, burst: int, proof: int, bend: float
) -> None:
    typed = {"hose": "MIL-H-8794", "dash": str(dash)}
    at = typed | {"working": f"{working} psi g", "test": f"{proof} psi g"}
    assert answer("hose_limits", "psi", "spare_working", **at) == pytest.approx(0, abs=1e-6)
    assert answer("hose_limits", "psi", "spare_proof", **at) == pytest.approx(0, abs=1e-6)
    assert answer("hose_limits", "", "safety", **at) == pytest.approx(burst / working)
    assert answer("hose_limits", "in", "bend", **at) == pytest.approx(bend)
    for name, over in (("working", working + 1), ("test", proof + 1)):
        with pytest.raises(Refusal, match=r"comes to .0"):
            results("hose_limits", **at | {name: f"{over} psi g"})


def test_a_hose_changes_by_two_and_by_four_hundredths() -> None:
    # AC 43.13-1B figure 9-9: +2 % to -4 % of its length under pressure.
    least = answer("hose_length", "mm", "least", path="480 mm")
    assert least * 0.96 == pytest.approx(480)
    assert answer("hose_length", "mm", "longest", path="480 mm") == pytest.approx(least * 1.02)


# --- trapped liquid ----------------------------------------------------------------------------

# The maker's engineering data page, reference table: bulk modulus (psi), expansion for each °F.
FLUIDS = [
    ("gasoline", 150000, 0.00072),
    ("JP-4", 200000, 0.00057),
    ("MIL-H-5606", 260000, 0.00046),
    ("MIL-H-83282", 300000, 0.00046),
    ("MIL-H-6083", 260000, 0.00044),
    ("phosphate ester 500B-4", 340000, 0.00047),
    ("silicone 100 cs", 150000, 0.00054),
]


@pytest.mark.parametrize(("fluid", "bulk", "expansion"), FLUIDS)
def test_every_row_of_the_fluid_table(fluid: str, bulk: int, expansion: float) -> None:
    # 36 °F are 20 K.
    typed = {"fluid": fluid, "change": "20 K", "wall": "0 1/K"}
    have = answer("trapped_liquid_in_rigid_walls", "psi", **typed)
    assert have == pytest.approx(bulk * expansion * 36)


def test_oil_heated_at_constant_volume() -> None:
    # The same page: MIL-H-83282 from 70 to 120 °F rises by 6900 psi.
    typed = {"fluid": "MIL-H-83282", "change": "27.777777778 K", "wall": "0 1/K"}
    have = answer("trapped_liquid_in_rigid_walls", "psi", **typed)
    assert have == pytest.approx(6900, abs=0.01)


def test_a_rig_is_softer_than_rigid_walls() -> None:
    # Fluid power tutorial page: 90 psi for each °F, 11 bar for each °C, within 15 %; the figures
    # of MIL-H-5606 alone give 119.6 psi/°F. The rule is that of a rig, so it lies below.
    typed = {"fluid": "MIL-H-5606", "change": "1 K", "wall": "0.0000117 1/K"}
    rigid = answer("trapped_liquid_in_rigid_walls", "bar", **typed)
    assert 11 < rigid < 119.6 * 1.8 / 14.50377


DEMO = {"stiffness": "9.3 bar/K", "largest": "0.5 K", "thermometer": "0.1 K", "start": "70 bar g"}


def test_leak_of_the_demo_leg() -> None:
    # SCENARIO 6.4, no published check: expected +2.8, measured +1.1, loss 1.7; probes 1.9 of 3.0.
    came = results(
        "trapped_liquid_loss", end="71.1 bar g", start_temperature="17.6 °C",
        end_temperature="17.9 °C", **DEMO,
    )  # fmt: skip
    assert [r.shown for r in came.values()] == ["2.8", "1.7", "1.9"]


@pytest.mark.parametrize(("change", "expected"), [("-0.5", "65.4"), ("0", "70.0"), ("0.2", "71.9")])
def test_strip_of_the_demo_leg(change: str, expected: str) -> None:
    # SCENARIO 6.4: −0.5 K makes −5 bar, 0.2 K makes 2 bar (rounded there to whole bars).
    came = results("trapped_liquid_readings", change=f"{change} K", allowed="3 bar", **DEMO)
    assert came["expected"].shown == expected


def test_both_leak_calculations_give_one_verdict() -> None:
    # A reading at the lower end of the window is a loss of the allowed less the doubt.
    draw = random.Random(8)
    for _ in range(200):
        change = round(draw.uniform(-0.5, 0.5), 3)
        limits = results("trapped_liquid_readings", change=f"{change} K", allowed="3 bar", **DEMO)
        last = limits["passes.from"].amount
        assert last is not None
        came = results(
            "trapped_liquid_loss", end=f"{last.number():.9f} bar g", start_temperature="20 °C",
            end_temperature=f"{20 + change:.3f} °C", **DEMO,
        )  # fmt: skip
        loss, doubt = came["loss"].amount, came["doubt"].amount
        assert loss is not None and doubt is not None
        assert loss.number() + doubt.number() == pytest.approx(3.0, abs=1e-6)


@pytest.mark.parametrize("temperature", ["18.11 °C", "17.09 °C"])
def test_a_leak_test_outside_its_window_is_refused(temperature: str) -> None:
    with pytest.raises(Refusal, match="by more than the rig's stiffness was measured for"):
        results(
            "trapped_liquid_loss", end="70 bar g", start_temperature="17.6 °C",
            end_temperature=temperature, **DEMO,
        )  # fmt: skip


def test_thermometers_too_coarse_for_the_limit_are_refused() -> None:
    with pytest.raises(Refusal, match=r"a doubt of 1\.86 bar, more than the loss"):
        results("trapped_liquid_readings", change="0 K", allowed="1.8 bar", **DEMO)


def test_a_stiffness_from_too_little_warmth_is_refused() -> None:
    # 0.3 K read to 0.1 K is a third in doubt, whatever the gauge says.
    typed = {"start": "70 bar g", "end": "72.8 bar g", "start_temperature": "17.0 °C"}
    counts = {"count_pressure": "0.1 bar", "count_temperature": "0.1 K"}
    with pytest.raises(Refusal, match="doubt that one count of both instruments") as caught:
        results("rig_stiffness", end_temperature="17.3 °C", **typed, **counts)
    assert "Warm the rig by more" in caught.value.right


# --- gas ---------------------------------------------------------------------------------------

# The Celsius scale and the gas law by hand, with 273.15: SCENARIO 6.4 and TRADE Y7 have the same.
PRECHARGES = [("0 °C", "27.9"), ("10 °C", "28.9"), ("20 °C", "30.0"), ("30 °C", "31.1")]


@pytest.mark.parametrize(("temperature", "shown"), PRECHARGES)
def test_precharge_of_the_day(temperature: str, shown: str) -> None:
    came = results(
        "accumulator_precharge", reference="30.0 bar g", ambient="1.013 bar a",
        reference_temperature="20 °C", temperature=temperature,
    )  # fmt: skip
    assert came[""].shown == shown


GAS = {"ambient_start": "1.013 bar a", "start_temperature": "18.0 °C", "start": "2.00 bar g"}


def test_a_falling_barometer_is_no_leak() -> None:
    # Closed form: at one temperature a tight vessel's gauge rises by what the barometer falls.
    same = GAS | {"end_temperature": "18.0 °C", "ambient_end": "0.993 bar a"}
    assert answer("gas_expected", "bar", **same) == pytest.approx(2.02)
    came = answer("gas_decay", "bar", "loss", end="2.00 bar g", **same)
    assert came == pytest.approx(0.02)


def test_gauge_pressures_and_celsius_would_give_another_answer() -> None:
    # The mistake that this guards against: 2.00 · 17.2 / 18.0 would be 1.911.
    typed = GAS | {"ambient_end": "1.013 bar a", "end_temperature": "17.2 °C"}
    assert answer("gas_expected", "bar", **typed) == pytest.approx(1.99172, abs=1e-5)


def test_a_bottle_gives_half_of_itself() -> None:
    # Well-control course example: 10 gal, 1000 psi, from 3000 to 1200 psi gives 5.00 gal. The
    # course puts gauge pressures where absolute ones belong; its figures are taken as absolute.
    typed = {"precharge": "1000 psi a", "least": "1200 psi a", "most": "3000 psi a"}
    have = answer("accumulator_volume", "in³", size="2310 in³", **typed)
    assert have / 231 == pytest.approx(5.0, abs=0.005)
