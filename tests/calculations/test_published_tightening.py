"""Tightening against what is printed elsewhere; the source stands beside each check."""

from __future__ import annotations

import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, results

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


@pytest.mark.parametrize("fasteners", range(3, 73))
def test_order_is_a_permutation_with_opposites_in_pairs(fasteners: int) -> None:
    order = results("tightening_order_circle", fasteners=fasteners)[""].order
    assert sorted(order) == list(range(1, fasteners + 1))
    if fasteners % 4 == 0:
        for one, other in zip(order[::2], order[1::2], strict=True):
            assert abs(one - other) == fasteners // 2
