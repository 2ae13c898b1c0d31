"""Tightening against what is printed elsewhere; the source stands beside each check."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from generator.calculations import calculations
from generator.computing.running import bare
from generator.findings import Refusal
from generator.quantities.units import unit
from tests.calculations.asking import answer, ran, results

# FAA AC 43.13-1B (9/8/98) table 7-1, p. 7-9, oil-free cadmium-plated threads, lbf-in:
# thread, tension nut lower and upper, shear nut lower and upper.
TABLE_7_1 = [
    ("8-36", 12, 15, 7, 9),
    ("10-32", 20, 25, 12, 15),
    ("1/4-28", 50, 70, 30, 40),
    ("5/16-24", 100, 140, 60, 85),
    ("3/8-24", 160, 190, 95, 110),
    ("7/16-20", 450, 500, 270, 300),
    ("1/2-20", 480, 690, 290, 410),
    ("9/16-18", 800, 1000, 480, 600),
    ("5/8-18", 1100, 1300, 600, 780),
    ("3/4-16", 2300, 2500, 1300, 1500),
    ("7/8-14", 2500, 3000, 1500, 1800),
    ("1-14", 3700, 5500, 2200, 3300),
    ("1-1/8-12", 5000, 7000, 3000, 4200),
    ("1-1/4-12", 9000, 11000, 5400, 6600),
    ("8-32", 12, 15, 7, 9),
    ("10-24", 20, 25, 12, 15),
    ("1/4-20", 40, 50, 25, 30),
    ("5/16-18", 80, 90, 48, 55),
    ("3/8-16", 160, 185, 95, 100),
    ("7/16-14", 235, 255, 140, 155),
    ("1/2-13", 400, 480, 240, 290),
    ("9/16-12", 500, 700, 300, 420),
    ("5/8-11", 700, 900, 420, 540),
    ("3/4-10", 1150, 1600, 700, 950),
    ("7/8-9", 2200, 3000, 1300, 1800),
]
WRENCH = {
    "nut": "tension",
    "lubrication": "oil-free",
    "drag": "0 lbf·in",
    "wrench_length": "10 in",
    "extension": "0 in",
    "extension_angle": "0°",
    "shares": ["100 %"],
}
ROWS = [(t, "tension", a, b) for t, a, b, _, _ in TABLE_7_1] + [
    (t, "shear", c, d) for t, _, _, c, d in TABLE_7_1
]


@pytest.mark.parametrize(("thread", "nut", "lower", "upper"), ROWS)
def test_every_row_of_the_table(thread: str, nut: str, lower: int, upper: int) -> None:
    typed = {**WRENCH, "thread": thread, "nut": nut}
    for target in (lower, upper):
        have = answer("wrench_setting", "lbf·in", "setting", target=f"{target} lbf·in", **typed)
        assert have == pytest.approx(target)
    for outside in (lower - 0.1, upper + 0.1):
        with pytest.raises(Refusal, match="outside the table row"):
            results("wrench_setting", target=f"{outside} lbf·in", **typed)


@pytest.mark.parametrize("row", TABLE_7_1, ids=lambda row: row[0])
def test_shear_nuts_take_about_six_tenths(row: tuple[str, int, int, int, int]) -> None:
    # The table's own ratio of 24 to 40 ksi; a check on the copying of its rows.
    _, lower, upper, shear_lower, shear_upper = row
    assert 0.54 <= shear_lower / lower <= 0.63
    assert 0.54 <= shear_upper / upper <= 0.63


@pytest.mark.parametrize(("thread", "lower", "upper"), [("1/4-28", 50, 70), ("5/16-24", 100, 140)])
def test_rows_agree_with_another_manual(thread: str, lower: int, upper: int) -> None:
    # TM 1-1730-232-13&P table F-1: MS21045-4 and -5 nuts.
    assert (thread, lower, upper) in [(t, a, b) for t, a, b, _, _ in TABLE_7_1]
    for target in (lower, upper):
        assert results("wrench_setting", thread=thread, target=f"{target} lbf·in", **WRENCH)


def test_drag_is_added_to_the_table_torque() -> None:
    # AC 43.13-1B paragraph 7-40 c to g, p. 7-8.
    typed = {**WRENCH, "thread": "1/4-28", "target": "60 lbf·in", "drag": "8 lbf·in"}
    assert answer("wrench_setting", "lbf·in", "final", **typed) == pytest.approx(68)


def test_the_top_of_the_row_and_its_drag_is_the_most() -> None:
    # The same paragraph, castle nuts: from the least plus drag up to the most plus drag, no more.
    typed = {**WRENCH, "thread": "1/4-28", "drag": "8 lbf·in"}
    for target, final in ((50, 58), (70, 78)):
        have = answer("wrench_setting", "lbf·in", "final", target=f"{target} lbf·in", **typed)
        assert have == pytest.approx(final, rel=1e-12)
    with pytest.raises(Refusal, match="outside the table row"):
        results("wrench_setting", target="78 lbf·in", **typed)


EXTENSIONS = [  # wrench, extension (in), wanted, printed setting (lbf-ft), a row that takes it
    (12, 6, 30, 20.0, "1/2-20", "shear", "torque wrench maker's page on adapters"),
    (12, 9, 100, 57.14, "5/8-18", "tension", "figure worked in a mechanics' forum"),
]


@pytest.mark.parametrize(
    ("length", "extension", "wanted", "printed", "thread", "nut", "source"), EXTENSIONS
)
def test_extension_in_line(
    length: int, extension: int, wanted: int, printed: float, thread: str, nut: str, source: str
) -> None:
    typed = {
        **WRENCH,
        "thread": thread,
        "nut": nut,
        "target": f"{wanted} lbf·ft",
        "wrench_length": f"{length} in",
        "extension": f"{extension} in",
    }
    have = answer("wrench_setting", "lbf·ft", "setting", **typed)
    assert have == pytest.approx(printed, abs=0.01), source


@pytest.mark.parametrize(("angle", "lever"), [("0°", 18), ("60°", 17), ("90°", 16)])
def test_effective_length_of_an_angled_extension(angle: str, lever: int) -> None:
    # TM 9-254 fig. 4-6: wrench plus extension by the cosine, here one that is known by heart.
    typed = {**WRENCH, "thread": "1/4-28", "target": "54 lbf·in", "wrench_length": "16 in"}
    typed |= {"extension": "2 in", "extension_angle": angle}
    have = answer("wrench_setting", "lbf·in", "setting", **typed)
    assert have == pytest.approx(54 * 16 / lever, rel=1e-12)


def test_extension_at_right_angles_changes_nothing() -> None:
    # TM 9-254 fig. 4-6: effective length is L + E cos(a); at 90 degrees the correction vanishes.
    typed = {**WRENCH, "thread": "1/4-28", "target": "50 lbf·in", "wrench_length": "16 in"}
    typed |= {"extension": "2 in", "extension_angle": "90°"}
    assert answer("wrench_setting", "lbf·in", "setting", **typed) == pytest.approx(50)


def test_reversed_extension_is_refused() -> None:
    with pytest.raises(Refusal, match="extension"):
        results(
            "wrench_setting",
            **{**WRENCH, "thread": "1/4-28", "target": "60 lbf·in", "extension_angle": "180°"},
        )


def test_another_thread_state_has_no_row() -> None:
    typed = {**WRENCH, "thread": "1/4-28", "target": "60 lbf·in", "lubrication": "lubricated"}
    with pytest.raises(Refusal, match="never taken"):
        results("wrench_setting", **typed)


@pytest.mark.parametrize(
    ("fasteners", "order"),
    [(8, (1, 5, 3, 7, 2, 6, 4, 8)), (12, (1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12))],
)
def test_cross_pattern(fasteners: int, order: tuple[int, ...]) -> None:
    # Common practice, no source.
    assert results("tightening_order_circle", fasteners=fasteners)[""].order == order


@pytest.mark.parametrize(
    "fasteners",
    [*range(3, 81), 96, 99, 120, 131, 160, 187, 200],
    ids=lambda n: f"tightening_order_circle-{n}",
)
def test_order_is_a_permutation_with_opposites_in_pairs(fasteners: int) -> None:
    order = results("tightening_order_circle", fasteners=fasteners)[""].order
    assert sorted(order) == list(range(1, fasteners + 1))
    if fasteners % 4 == 0:
        for one, other in zip(order[::2], order[1::2], strict=True):
            assert abs(one - other) == fasteners // 2


# --- drag, passes and the window of a castle nut -------------------------------------------------


@pytest.mark.parametrize(("thread", "nut", "lower", "upper"), ROWS)
def test_torque_at_the_nut_is_the_row_moved_up_by_the_drag(
    thread: str, nut: str, lower: int, upper: int
) -> None:
    # AC 43.13-1B table 7-1 with paragraph 7-40 d and f: least and largest, each plus the drag.
    typed = {"thread": thread, "nut": nut, "lubrication": "oil-free", "drag": "5 lbf·in"}
    for end, torque in (("from", lower), ("to", upper)):
        have = answer("table_torque", "lbf·in", end, **typed)
        assert have == pytest.approx(torque + 5, rel=1e-12)


def test_a_castle_nut_is_turned_between_least_and_largest_and_no_further() -> None:
    # AC 43.13-1B paragraph 7-40 f, p. 7-9: begin at the least plus drag; not above the largest plus
    # drag. With TM 9-254 fig. 4-6 for 10 in and 2 in in line: 58 and 78 by 10 over 12.
    typed = {**WRENCH, "thread": "1/4-28", "target": "60 lbf·in", "drag": "8 lbf·in"}
    typed |= {"extension": "2 in"}
    came = results("wrench_setting", **typed)
    for end, torque, name in (
        ("from", 58, "lower torque of the table row"),
        ("to", 78, "upper torque of the table row"),
    ):
        have = answer("wrench_setting", "lbf·in", f"allowed.{end}", **typed)
        assert have == pytest.approx(torque * 10 / 12, rel=1e-12)
        assert name in came[f"allowed.{end}"].fact.meaning
    assert came["allowed.from"].shown == "48.4"  # 48.33: never a wider window
    assert came["allowed.to"].shown == "65.0"


def test_drag_is_added_to_each_pass_and_not_scaled() -> None:
    # Common practice, no source: 30, 70 and 100 % of 60 lbf·in with a drag of 8: 26, 50 and 68 at
    # the nut; 21.7, 41.7 and 56.7 on a wrench of 10 in with 2 in more in line.
    typed = {**WRENCH, "thread": "1/4-28", "target": "60 lbf·in", "drag": "8 lbf·in"}
    typed |= {"shares": ["30 %", "70 %", "100 %"]}
    for number, torque, setting in ((1, 26, "21.7"), (2, 50, "41.7"), (3, 68, "56.7")):
        have = answer("wrench_setting", "lbf·in", f"passes.{number}", **typed)
        assert have == pytest.approx(torque, rel=1e-12)
        longer = results("wrench_setting", **typed | {"extension": "2 in"})
        assert longer[f"passes.{number}"].shown == setting


@pytest.mark.parametrize(
    ("shares", "wrong"),
    [
        (["70 %", "30 %", "100 %"], "pass 2 reaches only 18 lbf·in at the nut"),
        (["30 %", "70 %"], "torque that the last pass leaves out comes to 18.0 lbf·in"),
        (["30 %", "99.9 %"], "torque that the last pass leaves out comes to 0.1 lbf·in"),
        (["30 %", "110 %"], "torque that the last pass leaves out"),
        (["110 %", "100 %"], "pass 2 reaches only 60 lbf·in at the nut"),
    ],
)
def test_passes_rise_to_the_whole_torque(shares: list[str], wrong: str) -> None:
    typed = {**WRENCH, "thread": "1/4-28", "target": "60 lbf·in", "shares": shares}
    with pytest.raises(Refusal, match=wrong):
        results("wrench_setting", **typed)


@pytest.mark.parametrize("name", ["wrench_setting", "table_torque"])
def test_a_nut_that_drags_more_than_its_row_clamps_is_rejected(name: str) -> None:
    # Common practice, no source.
    typed = {**WRENCH, "thread": "1/4-28", "target": "60 lbf·in"}
    if name == "table_torque":
        typed = {key: typed[key] for key in ("thread", "nut", "lubrication")}
    assert results(name, **typed | {"drag": "70 lbf·in"})
    with pytest.raises(Refusal, match="reject the nut"):
        results(name, **typed | {"drag": "70.1 lbf·in"})


def test_the_limits_of_a_row_hold_on_floats_too() -> None:
    # The corners of a tolerance are judged on floats: 49 and 71 lbf·in lie outside 50 to 70.
    what = calculations()["wrench_setting"]
    row = ran(what, {**WRENCH, "thread": "1/4-28", "target": "60 lbf·in"}).arguments
    bare_row = {name: bare(each) for name, each in row.items()}
    for torque, fits in ((60, True), (49, False), (71, False)):
        arguments = bare_row | {"target": unit("lbf·in").to_base(torque)}
        if fits:
            assert what.body(**arguments)
        else:
            with pytest.raises(Refusal, match="outside the table row"):
                what.body(**arguments)


# AC 43.13-1B (9/8/98) table 7-2, p. 7-12: minimum prevailing torque of nuts used again, lbf-in.
TABLE_7_2 = {
    "7/16-20": 8, "1/2-20": 10, "9/16-18": 13, "5/8-18": 18, "3/4-16": 27, "7/8-14": 40,
    "1-14": 55, "1-1/8-12": 73, "1-1/4-12": 94,
    "7/16-14": 8, "1/2-13": 10, "9/16-12": 14, "5/8-11": 20, "3/4-10": 27, "7/8-9": 40,
    "1-8": 51, "1-1/8-8": 68, "1-1/4-8": 88,
}  # fmt: skip
# TM 1-1500-204-23-6 table 2-8, p. 2-27: minimum breakaway torque of nuts used again, lbf-in; the
# two smallest from TM 10-3510-209-24 table D-2, which agrees with it up to 1-1/4-12.
BREAKAWAY = {
    "10-32": 2, "1/4-28": 3.5, "5/16-24": 6.5, "3/8-24": 9.5, "7/16-20": 14, "1/2-20": 18,
    "9/16-18": 24, "5/8-18": 32, "3/4-16": 50, "7/8-14": 70, "1-12": 90, "1-1/8-12": 117,
    "1-1/4-12": 143, "1-3/8-12": 180, "1-1/2-12": 210,
    "5/16-18": 7.5, "3/8-16": 12, "7/16-14": 16.5, "1/2-13": 24, "9/16-12": 30, "5/8-11": 40,
    "3/4-10": 60, "7/8-9": 82, "1-8": 110, "1-1/8-7": 137, "1-1/4-7": 165, "1-3/8-6": 200,
    "1-1/2-6": 230, "1-3/4-5": 300,
}  # fmt: skip
NUTS = [("running", t, d) for t, d in TABLE_7_2.items()] + [
    ("breakaway", t, d) for t, d in BREAKAWAY.items()
]


@pytest.mark.parametrize(("measured", "thread", "lowest"), NUTS)
def test_a_used_nut_below_the_table_is_rejected(measured: str, thread: str, lowest: float) -> None:
    typed = {"measured": measured, "thread": thread}
    have = answer("used_nut_drag", "lbf·in", "lowest", drag=f"{lowest} lbf·in", **typed)
    assert have == pytest.approx(lowest, rel=1e-12)
    with pytest.raises(Refusal) as caught:
        results("used_nut_drag", drag=f"{lowest - 0.5} lbf·in", **typed)
    assert "Reject the nut" in caught.value.right


def test_running_and_breakaway_are_never_mixed() -> None:
    # Where both are printed the breakaway torque is the larger by far: one cannot stand for the
    # other, and a small thread has no running row at all.
    both = set(TABLE_7_2) & set(BREAKAWAY)
    assert both and all(BREAKAWAY[thread] > 1.5 * TABLE_7_2[thread] for thread in both)
    with pytest.raises(Refusal, match="never taken"):
        results("used_nut_drag", measured="running", thread="1/4-28", drag="5 lbf·in")


@pytest.mark.parametrize("thread", ["M6", "M8", "2BA", "4BA", "1/4 BSF"])
def test_metric_ba_and_bsf_have_no_row_until_a_workshop_adds_its_own(thread: str) -> None:
    typed = {**WRENCH, "thread": thread, "target": "60 lbf·in"}
    with pytest.raises(Refusal, match="never taken") as caught:
        results("wrench_setting", **typed)
    assert "1/4-28" in caught.value.right


# --- order on a rectangle ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("rows", "columns", "order"),
    [
        # Common practice, no source: the list for 4 rows of 6.
        (4, 6, "9 16 10 15 3 22 4 21 8 17 11 14 2 23 5 20 7 18 12 13 1 24 6 19"),
        # By hand: the middle first; its four neighbours at one pitch; then the corners.
        (3, 3, "5 2 8 4 6 1 9 3 7"),
        (1, 5, "3 2 4 1 5"),
        (1, 6, "3 4 2 5 1 6"),
        (2, 4, "2 7 3 6 1 8 4 5"),
    ],
)
def test_from_the_middle_out(rows: int, columns: int, order: str) -> None:
    assert results("tightening_order_rectangle", rows=rows, columns=columns)[""].text == order


@pytest.mark.parametrize("rows", range(1, 13), ids=lambda n: f"tightening_order_rectangle-{n}")
@pytest.mark.parametrize("columns", [2, 3, 4, 7, 10, 24])
def test_a_rectangle_runs_outwards_by_opposites(rows: int, columns: int) -> None:
    order = results("tightening_order_rectangle", rows=rows, columns=columns)[""].order
    count = rows * columns
    assert sorted(order) == list(range(1, count + 1))
    if count % 2:
        assert order[0] == (count + 1) // 2
    pairs = order[count % 2 :]
    for one, other in zip(pairs[::2], pairs[1::2], strict=True):
        assert one + other == count + 1
    far = [
        math.hypot((n - 1) // columns - (rows - 1) / 2, (n - 1) % columns - (columns - 1) / 2)
        for n in order
    ]
    assert all(a <= b + 1e-12 for a, b in pairwise(far))
