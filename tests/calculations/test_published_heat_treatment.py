"""Heat treatment against what is printed elsewhere; the source stands beside each check."""

from __future__ import annotations

from typing import Any

import pytest

from generator.calculations import calculations
from generator.findings import Refusal
from generator.quantities.text import read_amount
from generator.quantities.units import unit
from generator.tables import table
from tests.calculations.asking import answer, results

# Definition of the scales: C = (F - 32) / 1.8, as printed beside it to a tenth.
SCALES = [(925, 496.1), (775, 412.8), (500, 260.0), (250, 121.1), (985, 529.4), (650, 343.3)]


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


@pytest.mark.parametrize(("fahrenheit", "printed"), SCALES)
def test_the_two_scales(fahrenheit: int, printed: float) -> None:
    assert celsius(fahrenheit) == pytest.approx(printed, abs=0.05 + 1e-9)
    said = 32 + 1.8 * (read_amount(f"{printed} °C").value - 273.15)
    assert said == pytest.approx(fahrenheit, abs=0.1)


# MIL-H-6088F, soaking times of wrought products (from memory): thickness up to, in; minutes in salt
# at least, clad at most; in air at least, clad at most.
SOAKS = [
    (0.016, 10, 15, 20, 25), (0.020, 10, 20, 20, 30), (0.032, 15, 25, 25, 35),
    (0.063, 20, 30, 30, 40), (0.090, 25, 35, 35, 45), (0.124, 30, 40, 40, 50),
    (0.250, 35, 45, 50, 60), (0.500, 45, 55, 60, 70), (1.000, 60, 70, 90, 100),
    (1.500, 90, 100, 120, 130), (2.000, 105, 115, 150, 160),
]  # fmt: skip


@pytest.mark.parametrize("row", SOAKS)
def test_soak_of_wrought_metal(row: tuple[float, ...]) -> None:
    sheet = {"sheet": f"{row[0]:.3f} in", "thickness": f"{row[0]} in", "guide": "MIL-H-6088F"}
    for furnace, least, most in (("salt bath", *row[1:3]), ("air furnace", *row[3:5])):
        asked = {**sheet, "furnace": furnace, "lag": "0 min"}
        assert answer("soak", "min", "least", **asked) == pytest.approx(least)
        assert answer("soak_clad", "min", "least", **asked) == pytest.approx(least)
        assert answer("soak_clad", "min", "most", **asked) == pytest.approx(most)


# FAA-H-8083-30 fig. 5-7 (from memory): thickness, in, and minutes.
@pytest.mark.parametrize(
    ("thickness", "sheet", "minutes"),
    [
        (0.032, "0.032", 30), (0.125, "0.125", 30), (0.1251, "0.250", 40), (0.25, "0.250", 40),
        (0.26, "1.000", 60), (1.0, "1.000", 60),
    ],
)  # fmt: skip
def test_soak_by_the_handbook(thickness: float, sheet: str, minutes: int) -> None:
    asked = {"guide": "FAA-H-8083-30", "furnace": "not said", "sheet": f"{sheet} in"}
    asked |= {"thickness": f"{thickness} in", "lag": "7 min"}
    assert answer("soak", "min", "least", **asked) == pytest.approx(minutes)
    assert answer("soak", "min", "clock", **asked) == pytest.approx(minutes + 7)


def test_soaks_lie_between_those_of_thin_sheet_and_of_heavy_forgings() -> None:
    # FAA-H-8083-30 ch. 5, time at temperature: 10 min for thin sheet, 12 h for heavy forgings;
    # heavy sections about 1 h for each inch.
    rows = [read_amount(row["least"]).value / 60 for row in table("soak")["rows"]]
    assert min(rows) == pytest.approx(10)
    assert max(rows) < 12 * 60
    asked = {"guide": "FAA-H-8083-30", "furnace": "not said", "sheet": "1.000 in"}
    assert answer("soak", "h", "least", thickness="1 in", lag="0 min", **asked) == pytest.approx(1)


@pytest.mark.parametrize("thickness", ["0.0325 in", "0.0160 in"])
def test_metal_of_another_row_is_refused(thickness: str) -> None:
    asked = {"guide": "MIL-H-6088F", "furnace": "salt bath", "sheet": "0.032 in", "lag": "0 min"}
    for name in ("soak", "soak_clad"):
        with pytest.raises(Refusal, match="does not belong to the row"):
            results(name, thickness=thickness, **asked)


def test_the_soak_begins_when_the_coldest_metal_is_at_temperature() -> None:
    # FAA-H-8083-30 ch. 5, time at temperature.
    assert "comes before the soak" in calculations()["soak"].not_covered
    assert "coldest metal at temperature" in calculations()["soak"].title


# MIL-H-6088, T.O. 1-1A-9 table 3-10 (from memory): thickness from and to, in; seconds.
DELAYS = [
    ("up to 0.016 in", 0.010, 0.016, 5), ("0.017 to 0.031 in", 0.017, 0.031, 7),
    ("0.032 to 0.090 in", 0.032, 0.090, 10), ("0.091 in and over", 0.091, 0.5, 15),
]  # fmt: skip


@pytest.mark.parametrize(("metal", "low", "high", "seconds"), DELAYS)
def test_quench_delay(metal: str, low: float, high: float, seconds: int) -> None:
    for thickness in (low, high):
        asked = {"guide": "T.O. 1-1A-9", "metal": metal, "thickness": f"{thickness} in"}
        have = answer("quench_delay", "s", "longest", rehearsed="4 s", **asked)
        assert have == pytest.approx(seconds)
        # An article on solution treatment of aluminium fasteners: 5 to 15 s.
        assert 5 <= round(have) <= 15


def test_quench_delay_at_both_ends() -> None:
    # Public notes on quenching aluminium, first page: 5 s at 0.4 mm, 15 s at 12.7 mm.
    ends = (("up to 0.016 in", "0.4 mm", 5), ("0.091 in and over", "12.7 mm", 15))
    for metal, thickness, seconds in ends:
        asked = {"guide": "T.O. 1-1A-9", "metal": metal, "thickness": thickness}
        assert answer("quench_delay", "s", "longest", rehearsed="4 s", **asked) == pytest.approx(
            seconds
        )


def test_metal_between_two_printed_rows_belongs_to_the_shorter_delay() -> None:
    asked = {"guide": "T.O. 1-1A-9", "thickness": "0.0165 in", "rehearsed": "4 s"}
    assert answer("quench_delay", "s", "longest", metal="up to 0.016 in", **asked) == pytest.approx(
        5
    )
    with pytest.raises(Refusal, match="does not belong to the row"):
        results("quench_delay", metal="0.017 to 0.031 in", **asked)


def test_quench_delay_is_counted_as_the_order_defines_it() -> None:
    # T.O. 1-1A-9 ch. 3: from the door that begins to open, or the first of the load out of the
    # salt bath, to the last of the load under.
    what = calculations()["quench_delay"]
    assert "the door that begins to open to the last metal under" in what.title
    assert "first metal that shows" in what.about


# FAA-H-8083-30 fig. 5-8 (from memory), °F; MIL-H-6088 (from memory).
RANGES = [
    ("FAA-H-8083-30", "2017", 930, 950), ("FAA-H-8083-30", "2117", 930, 950),
    ("FAA-H-8083-30", "2024", 910, 930), ("FAA-H-8083-30", "6053", 960, 980),
    ("FAA-H-8083-30", "6061", 960, 980), ("FAA-H-8083-30", "7075 sheet", 860, 930),
    ("MIL-H-6088", "6061", 960, 1010), ("MIL-H-6088", "7075 sheet", 860, 930),
]  # fmt: skip


@pytest.mark.parametrize(("guide", "alloy", "low", "high"), RANGES)
def test_solution_temperature(guide: str, alloy: str, low: int, high: int) -> None:
    middle = celsius((low + high) / 2)
    typed = {"guide": guide, "alloy": alloy, "setting": f"{middle:.4f} °C", "within": "5 K"}
    half = (high - low) / 2 / 1.8
    for name in ("above_lowest", "below_highest"):
        have = answer("furnace_setting", "K", name, **typed)
        assert have == pytest.approx(half - 5, abs=0.1)  # the rows print tenths


def test_control_of_a_solution_furnace() -> None:
    # FAA-H-8083-30 ch. 5: 825 to 980 °F, held to plus or minus 10 °F; T.O. 1-1A-9: 5 °F. The
    # narrowest range of the table is 20 °F wide: 10 °F either way is just all of it.
    rows = [row for row in table("solution_temperature")["rows"] if "FAA" in row["guide"]]
    lows = [read_amount(row["lowest"]).value - 273.15 for row in rows]
    highs = [read_amount(row["highest"]).value - 273.15 for row in rows]
    assert min(lows) >= celsius(825) and max(highs) <= celsius(980) + 0.05
    typed = {"guide": "FAA-H-8083-30", "alloy": "2024", "setting": f"{celsius(920):.3f} °C"}
    assert answer("furnace_setting", "K", "above_lowest", within="2.778 K", **typed) > 2.7
    with pytest.raises(Refusal, match=r"coldest metal above the lowest|hottest metal below"):
        results("furnace_setting", within="6 K", **typed)


def test_guides_differ_for_6061() -> None:
    # A supplier's public sheet: 985 °F (529.4 °C), above the handbook's range and inside the
    # specification's; so a row holds for its guide alone.
    typed = {"alloy": "6061", "setting": "529.4 °C", "within": "2.8 K"}
    assert answer("furnace_setting", "K", "below_highest", guide="MIL-H-6088", **typed) > 0
    with pytest.raises(Refusal, match="hottest metal below the highest"):
        results("furnace_setting", guide="FAA-H-8083-30", **typed)


@pytest.mark.parametrize("alloy", ["2017", "2024"])
def test_natural_ageing(alloy: str) -> None:
    # T.O. 1-1A-9 (TM 43-0106) ch. 3: 96 hours.
    assert answer("natural_ageing", "h", "whole", alloy=alloy, spent="0 h") == pytest.approx(96)
    left = answer("natural_ageing", "h", "left", alloy=alloy, spent="2 h")
    assert left == pytest.approx(96 - 2)


@pytest.mark.parametrize(
    ("sheet", "thickness", "minutes"),
    [("under 0.125 in", 0.036, 30), ("0.125 in and over", 0.125, 60)],
)
def test_clad_recovery(sheet: str, thickness: float, minutes: int) -> None:
    # SAE AMS 2770R (2020), solution heat treating of clad alloy.
    have = answer(
        "clad_recovery", "min", "longest", sheet=sheet, thickness=f"{thickness} in", seen="20 min"
    )
    assert have == pytest.approx(minutes)


def test_anneal_of_6061() -> None:
    # Supplier's public heat-treatment sheet: 775 °F, 2 to 3 h, 50 °F an hour to 500 °F.
    asked = {"guide": "supplier's sheet", "alloy": "6061"}
    assert answer("full_anneal", "h", "cooling", **asked) == pytest.approx(275 / 50, abs=0.002)
    assert answer("full_anneal", "h", "least", **asked) == pytest.approx(2)
    assert answer("full_anneal", "h", "most", **asked) == pytest.approx(3)
    assert answer("full_anneal", "K/h", "rate", **asked) * 1.8 == pytest.approx(50, abs=0.001)


# MIL-H-6088, ASM Handbook vol. 4 annealing table (from memory): °F and the °C printed beside it.
@pytest.mark.parametrize("alloy", ["2024", "6061", "7075"])
def test_anneal_temperatures(alloy: str) -> None:
    guide = "supplier's sheet" if alloy == "6061" else "MIL-H-6088"
    have = results("full_anneal", guide=guide, alloy=alloy)["setting"]
    assert have.amount is not None
    assert have.amount.value - 273.15 == pytest.approx(413, abs=0.5)
    assert have.amount.value - 273.15 == pytest.approx(celsius(775), abs=0.05)


def test_anneal_agrees_with_the_second_table() -> None:
    # Public tables after ASM, full annealing, notes a to c: 30 °C an hour to 260 °C; 7xxx cooled
    # to 205 °C or less, then 230 °C for 4 h; cold work alone 345 °C. Compared to 2 °C.
    for alloy, guide, until in (
        ("2024", "MIL-H-6088", 260), ("6061", "supplier's sheet", 260), ("7075", "MIL-H-6088", 205),
    ):  # fmt: skip
        have = results("full_anneal", guide=guide, alloy=alloy)
        assert have["until"].amount.value - 273.15 == pytest.approx(until, abs=2)  # type: ignore[union-attr]
        assert answer("full_anneal", "K/h", "rate", guide=guide, alloy=alloy) <= 30
    marks = [row.get("mark", "") for row in table("annealing")["rows"] if row["alloy"] == "7075"]
    assert "230 °C, at least 4 h" in marks[0]
    assert "345 °C" in table("annealing")["note"]


def test_an_alloy_that_needs_no_slow_cooling_has_no_row() -> None:
    # MIL-H-6088 (from memory): 5052 at 650 °F, time at temperature not critical.
    with pytest.raises(Refusal, match="no row with alloy '5052'"):
        results("full_anneal", guide="MIL-H-6088", alloy="5052")
    assert "5052" in table("annealing")["note"]


# Supplier's public sheet: 6061-T6 at 320 °F 18 h or 350 °F 8 h; FAA-H-8083-30 (from memory): 7075-T6.
@pytest.mark.parametrize(
    ("alloy", "at", "hours"),
    [("6061 to T6", 320, 18), ("6061 to T6", 350, 8), ("7075 to T6", 250, 24)],
)
def test_artificial_ageing(alloy: str, at: int, hours: int) -> None:
    asked = {"alloy": alloy, "at": f"{at} °F"}
    have = results("artificial_ageing", planned=f"{hours} h", **asked)
    assert have["setting"].amount.value - 273.15 == pytest.approx(celsius(at), abs=0.05)  # type: ignore[union-attr]
    assert answer("artificial_ageing", "h", "time", planned="40 h", **asked) == pytest.approx(hours)
    with pytest.raises(Refusal, match="planned time beyond the least"):
        results("artificial_ageing", planned=f"{hours - 0.2} h", **asked)


# MIL-H-6088, AMS 2770 (from memory, of low certainty): alloys; window, min; days at 10, 0, -10 °F.
HELD = [("2014, 2024, 2219", 15, (1, 30, 90)), ("6061, 7075", 30, (7, 30, 90))]


@pytest.mark.parametrize(("alloy", "minutes", "days"), HELD)
def test_holding_after_the_quench(alloy: str, minutes: int, days: tuple[int, ...]) -> None:
    guide = {"guide": "MIL-H-6088", "alloy": alloy}
    have = answer("working_window", "min", "longest", begins="quench", times=["1 min"], **guide)
    assert have == pytest.approx(minutes)
    for at, wanted in zip((10, 0, -10), days, strict=True):
        store = {"store": f"{at} °F", "warmest": f"{celsius(at) - 0.01:.3f} °C", "spent": "0 d"}
        assert answer("cold_store", "d", "longest", **store, **guide) == pytest.approx(wanted)
        store["warmest"] = f"{celsius(at) + 0.5:.3f} °C"
        with pytest.raises(Refusal, match="store below the row's temperature"):
            results("cold_store", **store, **guide)


def test_stores_that_articles_tell_of() -> None:
    # Two public articles: several days at -23 °C; 2014 rivets several days at 0 °F. Not more than
    # the table has.
    asked = {"guide": "MIL-H-6088", "alloy": "2014, 2024, 2219", "store": "0 °F", "spent": "0 d"}
    assert answer("cold_store", "d", "longest", warmest="-23 °C", **asked) >= 3
    assert answer("cold_store", "d", "longest", warmest="-18 °C", **asked) >= 3


def test_rivets_out_of_the_cold_store() -> None:
    # Public trade pages: kept below 32 °F, 2024 rivets driven within 20 min; handbooks (from
    # memory) 10 to 20 min: the shortest is taken.
    asked = {"guide": "repair handbooks", "alloy": "2024 rivets", "begins": "out of the cold store"}
    assert answer("working_window", "min", "longest", times=["1 min"], **asked) <= 20
    with pytest.raises(Refusal, match="time to spare"):
        results("working_window", times=["6 min", "5 min"], **asked)


@pytest.mark.parametrize("name", ["working_window", "cold_store", "clad_reheats"])
def test_numbers_of_low_certainty_say_so_beside_every_row(name: str) -> None:
    assert all("from memory" in row["mark"] for row in table(name)["rows"])


# T.O. 1-1A-9 table 3-12 (numbers from memory): sheet, thickness, reheats.
@pytest.mark.parametrize(
    ("sheet", "thickness", "most"),
    [("under 0.020 in", 0.016, 0), ("0.020 to 0.125 in", 0.036, 1), ("over 0.125 in", 0.19, 2)],
)
def test_reheats_of_clad_metal(sheet: str, thickness: float, most: int) -> None:
    metal: dict[str, Any] = {
        "guide": "T.O. 1-1A-9", "sheet": sheet, "thickness": f"{thickness} in",
    }  # fmt: skip
    have = answer("clad_reheats", "", "most", bought="annealed", treatments="1", **metal)
    assert have == pytest.approx(most)
    with pytest.raises(Refusal, match="reheats left"):
        results("clad_reheats", bought="heat-treated", treatments=str(most + 1), **metal)


def test_the_first_treatment_of_metal_bought_heat_treated_is_a_reheat() -> None:
    # T.O. 1-1A-9 table 3-12, note (read).
    metal = {"guide": "T.O. 1-1A-9", "sheet": "over 0.125 in", "thickness": "0.19 in"}
    for bought, counted in (("annealed", 0), ("heat-treated", 1)):
        have = answer("clad_reheats", "", "counted", bought=bought, treatments="1", **metal)
        assert have == pytest.approx(counted)
    assert "Annealing and precipitation are not counted" in calculations()["clad_reheats"].about


BANDS = [
    {"up_to": "15 °C", "longest": "30 min"}, {"up_to": "20 °C", "longest": "20 min"},
    {"up_to": "25 °C", "longest": "12 min"},
]  # fmt: skip


# Visible arithmetic: the first row that is not colder than the room.
@pytest.mark.parametrize(
    ("room", "minutes"),
    [("10", 30), ("15", 30), ("15.5", 20), ("20", 20), ("20.5", 12), ("25", 12)],
)
def test_window_by_the_room(room: str, minutes: int) -> None:
    asked = {"bands": BANDS, "coldest": "10 °C"}
    have = answer("window_by_room", "min", temperature=f"{room} °C", **asked)
    assert have == pytest.approx(minutes)


@pytest.mark.parametrize(
    ("room", "bands", "says"),
    [
        ("9.5", BANDS, "no row for a room of 9.5 °C"),
        ("25.5", BANDS, "no row for a room of 25.5 °C"),
        ("16", BANDS[::-1], "does not follow"),
        ("16", [BANDS[0], {"up_to": "20 °C", "longest": "31 min"}], "does not follow"),
    ],
)
def test_rooms_outside_the_specification(room: str, bands: list[Any], says: str) -> None:
    with pytest.raises(Refusal, match=says):
        results("window_by_room", bands=bands, temperature=f"{room} °C", coldest="10 °C")


def test_every_temperature_of_the_tables_is_a_point_of_its_scale() -> None:
    assert unit("°C").point == "temperature"
    for name in ("solution_temperature", "artificial_ageing", "annealing", "cold_store"):
        for row in table(name)["rows"]:
            cells = [cell for cell in row.values() if cell.endswith(" °C")]
            assert cells and all(read_amount(c).unit.point == "temperature" for c in cells)


def test_a_rehearsal_or_a_load_that_was_too_slow_is_refused() -> None:
    asked = {"guide": "T.O. 1-1A-9", "metal": "0.032 to 0.090 in", "thickness": "0.036 in"}
    with pytest.raises(Refusal, match="time to spare after the rehearsal"):
        results("quench_delay", rehearsed="10.5 s", **asked)
    with pytest.raises(Refusal, match="time to spare at the last such load"):
        results("clad_recovery", sheet="under 0.125 in", thickness="0.036 in", seen="31 min")


def test_a_load_too_slow_for_its_cladding_is_refused() -> None:
    # Visible arithmetic: 30 min at least, 11 min late, 40 min at most.
    asked = {"guide": "MIL-H-6088F", "furnace": "air furnace", "sheet": "0.063 in"}
    with pytest.raises(Refusal, match="no room is left: the soak asks for at least 41 min"):
        results("soak_clad", thickness="0.036 in", lag="11 min", **asked)
