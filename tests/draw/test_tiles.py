"""A drawing larger than a page in; its tiles, what is on them and what is left out, out."""

from __future__ import annotations

import itertools
import math
import random
from io import BytesIO

import numpy as np
import pypdfium2
import pytest
from reportlab.pdfgen.canvas import Canvas

from generator.draw.paper import PAPERS, PT
from generator.draw.pen import Pen
from generator.draw.tiles import (
    MOST_TILES,
    OVERLAP,
    Tiling,
    box_of,
    crosses,
    joins,
    tiled,
    touches,
)
from generator.figures.clearance import Box
from generator.figures.full_size import FullSize, reach
from generator.figures.picture import Circle, Line, Mark, Outline, Words
from generator.findings import Refusal

WINDOW = (175.0, 180.0)


def drawing(width: float, height: float, *marks: Mark) -> FullSize:
    return FullSize("Former", "of a test", "aft", width, height, marks, ())


def square(width: float, height: float) -> Outline:
    corners = ((1.0, 1.0), (width - 1, 1.0), (width - 1, height - 1), (1.0, height - 1))
    return Outline(corners, closed=True)


def names(tiling: Tiling) -> list[str]:
    return [tile.name for tile in tiling.printed]


def test_what_fits_a_page_is_one_tile_in_its_middle() -> None:
    tiling = tiled(drawing(100.0, 80.0, square(100.0, 80.0)), *WINDOW)
    assert names(tiling) == ["A1"]
    (tile,) = tiling.printed
    assert (tile.x, tile.y) == (-37.5, -50.0)  # (100 - 175) / 2, (80 - 180) / 2
    assert joins(tiling, ()) == ()


@pytest.mark.parametrize(
    ("width", "count"), [(175.0, 1), (175.1, 2), (340.0, 2), (340.1, 3), (505.0, 3)]
)
def test_a_row_has_as_few_tiles_as_cover_it(width: float, count: int) -> None:
    """Each tile but the first adds 175 - 10 = 165 mm."""
    assert tiled(drawing(width, 80.0, square(width, 80.0)), *WINDOW).columns == count


@pytest.mark.parametrize("seed", range(40))
def test_every_point_of_every_stroke_is_on_a_tile_and_neighbours_share_ten_millimetres(
    seed: int,
) -> None:
    chance = random.Random(seed)
    wide, high = chance.uniform(50, 900), chance.uniform(50, 900)
    lines = [
        Line(*(chance.uniform(0, side) for side in (wide, high, wide, high)))
        for _ in range(chance.randint(1, 6))
    ]
    tiling = tiled(drawing(wide, high, *lines), *WINDOW)
    windows = [tiling.window(tile) for tile in tiling.printed]
    for line in lines:
        for share in np.linspace(0, 1, 200):
            x = line.x1 + (line.x2 - line.x1) * share
            y = line.y1 + (line.y2 - line.y1) * share
            assert any(w.left <= x <= w.right and w.top <= y <= w.bottom for w in windows)
    for one, other in itertools.combinations(tiling.printed, 2):
        if (one.row, one.column + 1) == (other.row, other.column):
            assert math.isclose(tiling.window(one).right - other.x, OVERLAP)
        if (one.row + 1, one.column) == (other.row, other.column):
            assert math.isclose(tiling.window(one).bottom - other.y, OVERLAP)


def test_tiles_with_nothing_on_them_are_left_out() -> None:
    """An outline of 5 by 5 tiles runs through the 16 at its rim; the 9 within are blank."""
    wide, high = 5 * 165.0 + 10, 5 * 170.0 + 10
    tiling = tiled(drawing(wide, high, square(wide, high)), *WINDOW)
    assert (tiling.rows, tiling.columns) == (5, 5)
    assert [tile.name for tile in tiling.blank] == [f"{r}{n}" for r in "BCD" for n in (2, 3, 4)]
    assert len(tiling.printed) == 16


def test_parts_that_no_stroke_joins_keep_the_tiles_between_them() -> None:
    """Two marks alone, five tiles apart: without the tiles between nobody could lay them right."""
    marks = (Circle(20.0, 20.0, 5.0), Circle(800.0, 20.0, 5.0))
    tiling = tiled(drawing(835.0, 100.0, *marks), *WINDOW)
    assert names(tiling) == ["A1", "A2", "A3", "A4", "A5"]
    assert tiling.blank == ()


def test_the_grid_is_shifted_so_that_words_stay_whole() -> None:
    """Two tiles show 340 mm, 20 more than the drawing has; shared, the middle of their overlap
    would be at 160, and words from 150 to 172 be cut on both tiles."""
    words = Words(150.0, 40.0, "FIRST EDGE", 9.0, True)
    box = box_of(words)
    assert box.left < 155.0 - 1 and box.right > 165.0 + 1
    tiling = tiled(drawing(320.0, 80.0, square(320.0, 80.0), words), *WINDOW)
    assert tiling.lost == ()
    assert any(tiling.window(tile).holds(box) for tile in tiling.printed)


def test_words_that_no_tile_holds_are_named() -> None:
    words = Words(2.0, 40.0, "W" * 120, 9.0)
    wide = box_of(words).right + 2.0
    assert wide > WINDOW[0]
    assert tiled(drawing(wide, 80.0, words), *WINDOW).lost == (words.text,)


def test_too_many_tiles_are_refused() -> None:
    side = 3900.0
    grid = [Line(x, 0.0, x, side) for x in np.arange(0.0, side, 100.0)]
    with pytest.raises(Refusal, match=r"needs \d+ tiles") as stop:
        tiled(drawing(side, side, *grid), *WINDOW)
    assert str(MOST_TILES) in stop.value.right
    with pytest.raises(Refusal, match="rows of tiles"):
        tiled(drawing(100.0, 3900.0, square(100.0, 3900.0)), 175.0, 60.0)


@pytest.mark.parametrize("seed", range(30))
def test_a_stroke_is_seen_in_a_box_where_a_point_of_it_lies(seed: int) -> None:
    """Against many points of the stroke: a second method."""
    chance = random.Random(seed)
    box = Box(20.0, 30.0, 60.0, 55.0)
    a, b = [(chance.uniform(0, 90), chance.uniform(0, 90)) for _ in range(2)]
    shares = np.linspace(0, 1, 4001)
    xs, ys = a[0] + (b[0] - a[0]) * shares, a[1] + (b[1] - a[1]) * shares
    inside = (xs > 20) & (xs < 60) & (ys > 30) & (ys < 55)
    assert crosses(a, b, box) == bool(inside.any())
    radius = chance.uniform(1, 60)
    turns = np.linspace(0, 2 * np.pi, 8001)
    xs, ys = a[0] + radius * np.cos(turns), a[1] + radius * np.sin(turns)
    inside = (xs > 20) & (xs < 60) & (ys > 30) & (ys < 55)
    assert touches(Circle(*a, radius), box) == bool(inside.any())


def test_join_marks_keep_off_words_and_holes() -> None:
    """A word lies on the seam where a mark would stand, and the cross of a hole."""
    wide, high = 340.0, 180.0
    seam = 170.0  # the middle of what both show: 165 to 175
    words = Words(seam, 18.0, "23", 12.0, True, "middle")
    hole = (Line(seam - 5, 30.0, seam + 5, 30.0), Line(seam, 25.0, seam, 35.0))
    made = drawing(wide, high, square(wide, high), words, *hole)
    marks = joins(tiled(made, *WINDOW), made.marks)
    assert len(marks) == 2 * 4
    for mark in marks:
        near = reach(mark).grown(1.0)
        assert not near.overlaps(box_of(words))
        assert not any(touches(each, near) for each in hole)


# --- the pen's window -----------------------------------------------------------------------


def pen_of() -> tuple[Pen, Canvas, BytesIO]:
    paper, target = PAPERS["A4"], BytesIO()
    canvas = Canvas(target, pagesize=(paper.width / PT, paper.height / PT))
    return Pen(canvas, paper), canvas, target


def test_strokes_are_cut_at_a_window_and_words_left_out_and_named() -> None:
    pen, canvas, target = pen_of()
    pen.within(20.0, 280.0)
    with pen.window(50.0, 60.0, 80.0, 70.0) as left_out:
        pen.line(-40.0, 100.0, 400.0, 100.0)
        pen.circle(60.0, 70.0, 30.0)
        pen.outline(((0.0, 0.0), (300.0, 0.0), (90.0, 300.0)), closed=True)
        pen.text(60.0, 80.0, "WITHIN")
        pen.text(48.0, 90.0, "ON THE EDGE")
        pen.text(150.0, 90.0, "OUTSIDE")
    pen.line(140.0, 200.0, 150.0, 200.0)
    pen.end_page()
    canvas.save()
    assert left_out == ["ON THE EDGE", "OUTSIDE"]
    page = pypdfium2.PdfDocument(target.getvalue())[0]
    assert page.get_textpage().get_text_range().split() == ["WITHIN"]
    black = np.squeeze(page.render(scale=6, grayscale=True).to_numpy()) < 128
    scale = black.shape[1] / 210.0
    rows, columns = np.nonzero(black)
    inside = (columns > 49.9 * scale) & (columns < 130.1 * scale)
    inside &= (rows > 59.9 * scale) & (rows < 130.1 * scale)
    outside = sorted({(round(c / scale), round(r / scale)) for r, c in zip(rows[~inside], columns[~inside], strict=True)})  # fmt: skip
    # Only the line that was drawn after the window closed.
    assert {y for _, y in outside} == {200}
    assert (outside[0][0], outside[-1][0]) == (140, 150)


def test_no_place_to_write_stands_in_a_window() -> None:
    pen, _, _ = pen_of()
    with pen.window(50.0, 60.0, 80.0, 70.0), pytest.raises(Refusal, match="in a window"):
        pen.box("write", 60.0, 70.0, 30.0, 10.0, "row", "value")


def test_a_window_itself_keeps_inside_the_frame() -> None:
    pen, _, _ = pen_of()
    with pytest.raises(Refusal, match="leaves the frame"), pen.window(10.0, 60.0, 80.0, 70.0):
        pass
