"""The demo workshop: every process is sound, and its numbers are the scenario's.

The scenario's figures were worked in a separate program; they are no published check, but a second
pair of hands. Where the process differs on purpose the reason stands beside the value.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from generator.__main__ import main
from generator.compose import SheetFacts, compose
from generator.quantities.amount import Amount
from generator.workshop import open_shop, read_values, sheets_of, work_out

ROOT = Path(__file__).parents[2]
SHOP = open_shop(ROOT)
FILES = {process.number: file for file, process in SHOP.processes.items()}
FACTS = SheetFacts("", (), "2026-11-25")
NUMBERS = {
    "T6-P-0105", "T6-P-0110", "T6-P-0120", "T6-P-0130", "T6-P-0140", "T6-P-0205", "T6-P-0210",
    "T6-P-0310", "T6-P-0410", "T6-P-0510",
}  # fmt: skip


def test_the_workshop_is_sound() -> None:
    assert SHOP.findings == ()
    assert SHOP.workshop is not None
    assert set(FILES) == NUMBERS


@pytest.mark.parametrize("number", sorted(FILES))
def test_every_process_composes(number: str) -> None:
    workings, findings = work_out(SHOP, FILES[number])
    assert not findings
    assert SHOP.workshop is not None
    process = SHOP.processes[FILES[number]]
    made, faults = compose(process, workings, SHOP.workshop, FACTS)
    assert not faults
    assert made is not None
    for operation in process.operations:
        assert f"\n## {operation.number} {operation.kind}\n" in made.sheets["traveller"]


def test_the_values_of_one_part_take_the_place_of_the_examples() -> None:
    given, findings = read_values(ROOT / "processes/machining/values-T6-P-0210-0001.yaml")
    assert not findings
    assert given is not None
    made, findings = sheets_of(SHOP, FILES["T6-P-0210"], FACTS, given, drafting=False)
    assert not findings
    assert made is not None
    assert not any("EXAMPLE" in text for text in made.sheets.values())
    without, _ = sheets_of(SHOP, FILES["T6-P-0210"], FACTS)
    assert without is not None
    lists = ("traveller", "calculation-sheet", "evidence-sheet")  # those with the numbers given
    assert all("EXAMPLE" in without.sheets[kind] for kind in lists)


def texts(number: str) -> dict[str, str]:
    workings, findings = work_out(SHOP, FILES[number])
    assert not findings
    return {name: each.text for name, each in workings.numbers.items()}


SCENARIO = {
    "T6-P-0310": {  # 6.3
        "bolt_grip.stack": "4.514 mm", "bolt_grip.least": "6.114 mm", "bolt_grip.most": "7.714 mm",
        "wrench.final": "68.0 lbf·in", "wrench.setting": "56.7 lbf·in",
        "wrench.passes.1": "21.7 lbf·in", "wrench.passes.2": "41.7 lbf·in",
        "wrench.passes.3": "56.7 lbf·in",
        "rivet_length.length": "7.28 mm",  # 2.514 + 4.7625; the scenario's 7.27 was rounded twice
        "rivet_length.sixteenths": "4.58", "rivet_code.code": "5",
        "rivet_edge": "7.95 mm", "rivet_row.least": "6.35 mm", "rivet_row.spare": "1.60 mm",
        "rivet_holes.pitch": "21.86 mm", "rivet_pitch.in_diameters": "6.89",
        "bolt_holes.pitch": "83.78 mm", "bolt_holes.chord": "83.54 mm",
        # 1.4 · 3.175 is 4.445: a least rounds up, where the scenario cuts it off to 4.44
        "rivet_head.widths.from": "4.45 mm", "rivet_head.widths.to": "5.08 mm",
        "rivet_head.heights.from": "1.27 mm", "rivet_head.heights.to": "2.06 mm",
        "bolts.issued": "26", "nuts.issued": "28", "washer_kit.issued": "52", "rivets.issued": "106",
    },
    "T6-P-0410": {  # 6.4
        "ideal_force.push": "13.74 kN", "ideal_force.pull": "10.31 kN",
        "force.push": "13.06 kN", "force.pull": "9.79 kN",
        "volume.push": "420 cm³", "volume.pull": "315 cm³", "volume.difference": "105 cm³",
        "extend.time": "8.4 s", "retract.time": "6.3 s", "extend_pump.strokes": "20.8",
        "retract_pump.strokes": "15.6",
        "pipe.inside": "44.5 MPa", "pipe.outside": "55.0 MPa",
        "knee.eaten": "1.92 mm", "knee.shorter": "0.032 mm",
    },
    "T6-P-0510": {  # 6.5; 3.7
        "up.first": "24.09°", "down.first": "17.30°", "edge_up.chord": "150.0 mm",
        "edge_down.chord": "107.7 mm", "hinges.moment": "2.57 N·m", "hinges.friction": "0.19 N·m",
        "holds.lead_angle": "2.44°", "holds.friction_angle": "9.82°",
        "rule.last": "28.00°", "buckling.load": "2580 N", "rod_limit": "1720 N",
    },
    "T6-P-0210": {  # 6.2; heights stand 0.05 above the scenario's, so that 9.05 - 0.05 keeps 9.00
        "line.pads.1": "16.82 mm", "line.pads.2": "11.09 mm", "line.pads.3": "9.05 mm",
        "line.pads.4": "11.06 mm", "line.pads.5": "16.84 mm", "line.thinnest": "pad 3",
        "line.square_residuals.1": "−3.85 mm", "line.square_residuals.3": "3.92 mm",
        "line.square_residuals.5": "−3.86 mm", "line.deviation_largest": "3.89 mm",
        "base.1.tilt": "3.896°", "base.2.tilt": "3.673°", "base.3.tilt": "3.620°",
        "base.4.tilt": "3.704°", "base.5.tilt": "3.970°",
        "base.1.azimuth": "29.3°", "base.2.azimuth": "14.9°", "base.3.azimuth": "0.1°",
        "base.4.azimuth": "−14.9°", "base.5.azimuth": "−29.1°",
        "base.1.ends": "1.46 mm", "base.2.ends": "0.73 mm", "base.3.ends": "0.00 mm",
        "base.4.ends": "−0.73 mm", "base.5.ends": "−1.49 mm",
        "growth.growth": "0.18 mm", "mill_set.speed": "950.0 rpm", "drill_set.speed": "2400.0 rpm",
        "drill_feed": "360 mm/min", "ream.side": "0.10 mm",
        # The scenario reams at about 1000 rpm; the machine has 950 below that. Its rod of 1.03 mm is
        # of 7800 kg/m³.
        "ream_set.speed": "950.0 rpm", "ream_feed": "237 mm/min", "rod_line.sag": "1.04 mm",
    },
}  # fmt: skip


@pytest.mark.parametrize("number", sorted(SCENARIO))
def test_worked_numbers_are_the_scenarios(number: str) -> None:
    have = texts(number)
    in_its_own_unit = {name: have[name].partition(" (")[0] for name in SCENARIO[number]}
    assert in_its_own_unit == SCENARIO[number]


def test_the_stacks_are_the_scenarios_within_a_micron() -> None:
    # 6.2: 200 mm sine bar. The scenario leaves the slope across as it was measured; turned with the
    # line it is less by a part in 40,000.
    for n, height in enumerate((13.588, 12.814, 12.628, 12.921, 13.847), start=1):
        wanted = amount("T6-P-0210", f"stack.{n}.wanted").number()
        assert wanted == pytest.approx(height, abs=0.001)
        assert amount("T6-P-0210", f"stack.{n}.made").number() == pytest.approx(wanted, abs=0.0006)


def test_torques_are_told_in_both_units_of_the_workshop() -> None:
    """TRADE 5: 68 lbf·in · 10 / 12 = 56.666... lbf·in, and 1 lbf·in is 0.112984829 N·m."""
    assert texts("T6-P-0310")["wrench.setting"] == "56.7 lbf·in (6.40 N·m)"


# 6.4 rounds the ends of its bands to the nearest; a limit on a sheet is rounded to the inside, so
# that nothing passes which the unrounded band would stop.
BANDS = [
    ("extend.allowed.from", 7.1, "7.2 s"), ("extend.allowed.to", 9.7, "9.6 s"),
    ("retract.allowed.from", 5.4, "5.4 s"), ("retract.allowed.to", 7.2, "7.2 s"),
    ("extend_pump.allowed.to", 23.9, "23.8"), ("retract_pump.allowed.to", 17.9, "17.9"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "scenario", "printed"), BANDS)
def test_bands_of_the_leg_end_where_the_scenarios_do(
    name: str, scenario: float, printed: str
) -> None:
    unrounded = amount("T6-P-0410", name).number()
    assert unrounded == pytest.approx(scenario, abs=0.05)
    assert texts("T6-P-0410")[name] == printed
    inside = float(printed.split()[0])
    assert inside <= unrounded if name.endswith("to") else inside >= unrounded


def amount(number: str, name: str) -> Amount:
    workings, _ = work_out(SHOP, FILES[number])
    found = workings.numbers[name].amount
    assert found is not None
    return found


def test_the_wrench_setting_in_newton_metres() -> None:
    setting = amount("T6-P-0310", "wrench.setting").value
    assert setting == pytest.approx(6.40, abs=0.005)  # 6.3: 56.7 lbf·in is 6.40 N·m


def test_the_joints_geometry() -> None:
    joint = "T6-P-0310"
    chord, pitch = (
        amount(joint, f"{n}_holes.{of}").value for n, of in (("bolt", "chord"), ("rivet", "pitch"))
    )
    assert chord * 1000 == pytest.approx(640 * math.sin(math.pi / 24), abs=0.005)
    assert pitch * 1000 == pytest.approx(668 * math.pi / 96, abs=0.005)
    diameters = amount(joint, "rivet_pitch.in_diameters").value
    assert 6 < diameters < 8  # 84 rivets would be 7.87, 72 would be 9.18 and too far apart
    least, most = (amount(joint, f"bolt_grip.{end}").value for end in ("least", "most"))
    assert least <= amount(joint, "grip").value < most


def test_the_leg_over_centre_cannot_be_found_from_its_links() -> None:
    # 6.4: links 260 and 310, offset 3.0: the ends come only 0.032 nearer, which the sheet says.
    shorter = 260 + 310 - math.sqrt(260**2 - 3**2) - math.sqrt(310**2 - 3**2)
    assert shorter == pytest.approx(0.032, abs=0.0005)
    assert "nearer by only [0.032 mm]" in sheet("T6-P-0410")


def test_proof_pressures_are_the_sides_taken() -> None:
    # 14 CFR 25.1435: 1.5 for tubes and fittings, 2.0 for hoses, each named on the sheet. A Navy
    # manual proves new tube assemblies at 2.0; these are old pipes in place, not new ones.
    working = amount("T6-P-0410", "working_pressure").value
    assert amount("T6-P-0410", "proof_tubes.proof").value == pytest.approx(1.5 * working)
    assert amount("T6-P-0410", "proof_hoses.proof").value == pytest.approx(2.0 * working)


def test_the_lift_of_the_two_jacks() -> None:
    # 6.1: 427 bar on two bores of 65 mm lift 283 kN; sizing at 472 bar, as set right.
    two = 2 * math.pi / 4 * 0.065**2
    for name, gauge, lift in (("forming.lift", 427e5, 283), ("sizing.lift", 472e5, 313)):
        assert two * gauge / 1000 == pytest.approx(lift, abs=0.5)
        assert texts("T6-P-0110")[name] == f"{lift} kN"


def sheets(number: str) -> Mapping[str, str]:
    made, findings = sheets_of(SHOP, FILES[number], FACTS)
    assert not findings
    assert made is not None
    return made.sheets


def sheet(number: str) -> str:
    return sheets(number)["traveller"]


def strip_over(number: str, over: str) -> list[int]:
    """The operations whose strip runs over that number."""
    operations = SHOP.processes[FILES[number]].operations
    return [o.number for o in operations if o.strip and o.strip.along.over == over]


def strip_of(number: str, operation: int) -> list[list[str]]:
    """The rows of the strip or the grid of one operation, as they stand on its sheet."""
    places = [sheet(number).partition(f"\n## {operation} ")[2].partition("\n## ")[0]]
    for text in sheets(number).values():  # an operation may be written down on a sheet of its own
        parts = re.split(rf"^#+ Operation {operation}$", text, flags=re.MULTILINE)
        places += [re.split(r"^#+ Operation ", each, flags=re.MULTILINE)[0] for each in parts[1:]]
    whole = (re.search(r"::: (?:strip|grid)\n(.*?)\n:::", each, re.DOTALL) for each in places)
    found = next(filter(None, whole), None)
    assert found
    lines = [line for line in found[1].splitlines() if line.startswith("|")]
    rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]
    return [row for row in rows if not set(row[0]) <= {"-"}]


def test_the_strip_over_the_drag_is_the_scenarios() -> None:
    head, *rows = strip_of("T6-P-0310", strip_over("T6-P-0310", "drag")[0])
    rows = [row for row in rows if "the same" not in row[0]]  # below each: in the second unit
    assert head[1:] == ["4", "6", "**8**", "10", "12", "14"]
    assert rows[-1][1:] == ["53.3", "55.0", "56.7", "58.3", "60.0", "61.7"]
    # Drag is added whole after the percentage; 10 in of wrench, 2 in of adapter.
    for row, share in zip(rows, (0.3, 0.7, 1.0), strict=True):
        assert row[1:] == [f"{(share * 60 + drag) * 10 / 12:.1f}" for drag in range(4, 15, 2)]


def test_the_strip_over_the_wrench_length_is_the_scenarios() -> None:
    """The column of the nominal drag; the others by hand: (60 + drag) · L / (L + 2)."""
    head, *rows = strip_of("T6-P-0310", strip_over("T6-P-0310", "wrench_length")[0])
    assert head[1:] == ["4", "6", "**8**", "10", "12", "14"]
    assert [row[0] for row in rows] == ["9.0", "9.5", "**10.0**", "10.5", "11.0"]
    assert [row[3] for row in rows] == ["55.6", "56.2", "**56.7**", "57.1", "57.5"]
    for row, length in zip(rows, (9.0, 9.5, 10.0, 10.5, 11.0), strict=True):
        by_hand = [(60 + drag) * length / (length + 2) for drag in range(4, 15, 2)]
        said = [float(cell.strip("*")) for cell in row[1:]]
        assert said == pytest.approx(by_hand, abs=0.0501)


@pytest.mark.parametrize("number", sorted(NUMBERS))
def test_typed_numbers_are_counted(number: str) -> None:
    workings, _ = work_out(SHOP, FILES[number])
    process = SHOP.processes[FILES[number]]
    typed = [each.name for each in process.given.values() if each.source == "calculated"]
    tables = [o.number for o in process.operations if o.lookup and o.lookup.source == "calculated"]
    print(f"{number}: {len(typed)} TYPED numbers {typed}, {len(tables)} tables {tables}")
    assert workings.typed == len(typed) + len(tables)
    if number == "T6-P-0120":
        assert workings.typed == 0  # the bracket is worked out throughout


def test_check_tells_the_count(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--workshop", str(ROOT), "check", "--whole"]) == 0
    every = sum(work_out(SHOP, file)[0].typed for file in FILES.values())
    told = capsys.readouterr()
    assert f"{every} TYPED numbers and tables" in told.out + told.err
