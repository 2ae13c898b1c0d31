"""A block with lofted formers, in: its table of ordinates and its templates, as paper shows them."""

from __future__ import annotations

import math
import re
import shutil
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pypdfium2
import pytest

from generator.compose import SheetFacts
from generator.draw import draw_set
from generator.draw.parse import Container, Table, blocks_of, plain
from generator.workshop import open_shop, sheets_of

ROOT = Path(__file__).parents[2]
FILE = Path("processes", "blocks", "T6-P-0105-forming-block-bk-012.yaml")
RADII, CROWNS = (120, 100, 110), (-20, -14, -17)
WIDE = (-70, -50, -34, -17, 0, 17, 34, 50, 70)
FACTS = SheetFacts("A-0007", ("0003",), "2026-11-25")
WORK = """  formers:
    use: loft
    points:
{points}
    stations: [0 mm, 225 mm, 450 mm, 600 mm, 900 mm]
    taper: curved
    inside: below
    skin: 0.9 mm
    hand: PORT
    wanted_hand: {hand}
    looking: aft
    read_to: 0.5 mm
operations:
"""


def points() -> Iterator[str]:
    for at, radius, crown in zip((0, 450, 900), RADII, CROWNS, strict=True):
        for y in WIDE:
            up = crown - radius + math.sqrt(radius**2 - y * y)
            yield f"      - {{at: {at} mm, across: {y + 10} mm, up: {up:.3f} mm}}"


def _without_its_loft(text: str) -> str:
    """The demo block without its own loft and without the crowns that come from it."""
    whole, _ = re.subn(r"  formers:\n.*?    read_to: 0.1 mm\n", "", text, flags=re.DOTALL)
    whole = re.sub(r"  crown_\d+\w*: \{is: .*\n", "", whole)
    limits = r"nominal: crown_\d+, lower: crown_\d+_low, upper: crown_\d+_high"
    return re.sub(limits, "wanted: 320.0 ± 0.5 mm", whole)


@cache
def made(hand: str = "PORT", line: str = "inside of skin") -> tuple[dict[str, str], list[str]]:
    """The sheets of the demo block with a loft in it, and what was found."""
    with TemporaryDirectory() as folder:
        shop = Path(folder)
        shutil.copytree(ROOT / "processes" / "workshop", shop / "processes" / "workshop")
        text = (ROOT / FILE).read_text(encoding="utf-8")
        work = WORK.format(points="\n".join(points()), hand=hand)
        text = _without_its_loft(text).replace("operations:\n", work, 1)
        figure = '    figure: {of: formers, full size: "yes", line: inside of skin}\n'
        assert figure in text
        text = text.replace(figure, figure.replace("inside of skin", line), 1)
        (shop / FILE).parent.mkdir(parents=True)
        (shop / FILE).write_text(text, encoding="utf-8")
        opened = open_shop(shop)
        file = next(iter(opened.processes))
        sheets, findings = sheets_of(opened, file, FACTS)
        shown = [f"{f.wrong}: {f.right}" for f in findings]
        return dict(sheets.sheets) if sheets else {}, shown


def test_the_table_of_ordinates_has_every_point_of_every_station() -> None:
    sheets, found = made()
    assert not found
    tables = [b for b in blocks_of(sheets["table-of-ordinates"]) if isinstance(b, Table)]
    rows = [[plain(cell) for cell in row] for table in tables for row in table.rows]
    heads = [row for row in rows if row[0] == "point"]
    assert [head[1] for head in heads] == ["at 0.0: across mm", "at 900.0: across mm"]
    numbered = [row for row in rows if row[0].isdigit() and len(row) in (3, 9)]
    assert len(numbered) == 2 * len(WIDE) + 5  # two tables of points, one of girths


def test_single_numbers_and_the_traveller_stay_short() -> None:
    sheets, _ = made()
    for kind in ("traveller", "calculation-sheet"):
        assert "ordinates.1" not in sheets[kind]
    assert "| hand of the ordinates | PORT |" in sheets["calculation-sheet"]
    assert "on the table of ordinates" in sheets["calculation-sheet"]


def test_there_is_a_template_for_each_station() -> None:
    sheets, _ = made()
    blocks = [b for b in blocks_of(sheets["full-size-pages"]) if isinstance(b, Container)]
    drawn = [b for b in blocks if b.name == "full-size"]
    assert [b.words for b in drawn] == ["former-template"] * 5
    told = [{plain(a): plain(b) for a, b in block.rows} for block in drawn]
    assert [rows["station"] for rows in told] == [
        f"{at} mm, {n} of 5" for n, at in enumerate(("0.0", "225.0", "450.0", "600.0", "900.0"), 1)
    ]
    assert all(rows["line"] == "inside of skin" and rows["hand"] == "PORT" for rows in told)


@pytest.mark.parametrize(("drawing", "station"), [(0, 0), (2, 1), (4, 2)])
def test_a_template_measured_on_a_picture_of_its_page(drawing: int, station: int) -> None:
    """A section narrower than a page, at 300 dots an inch: its line from the two datum lines, column
    by column, against the circle that it was given as, less the skin."""
    sheets, _ = made()
    drawn = draw_set({"full-size-pages": sheets["full-size-pages"]})["full-size-pages"]
    page = pypdfium2.PdfDocument(drawn.pdf)[drawing]
    dots = 300 / 25.4
    dark = np.asarray(page.render(scale=300 / 72).to_pil().convert("L")) < 128
    tile = dark[round(60 * dots) : round(235 * dots), round(26 * dots) : round(199 * dots)]
    level, upright = int(tile.sum(1).argmax()), int(tile.sum(0).argmax())
    radius = RADII[station] - 0.9
    for away in (-60, -40, -28, 28, 40, 60):  # from the middle of the circle, between its points
        up = CROWNS[station] - RADII[station] + math.sqrt(radius**2 - away**2)
        column = tile[level + round(4 * dots) :, upright + round((10 + away) * dots)]
        found = np.flatnonzero(column)[0] / dots + 4
        assert found == pytest.approx(-up, abs=0.25), away
        assert found != pytest.approx(-up - 0.9, abs=0.25), away  # the mould line


def test_another_hand_than_the_part_is_found() -> None:
    _, found = made(hand="STBD")
    assert any(
        "sections of 'formers' are of hand STBD, mirrored from PORT, the part is of hand PORT" in f
        for f in found
    )


def test_another_line_than_was_worked_out_is_found() -> None:
    _, found = made(line="mould line")
    assert any("line of a former template at full size is not its mould line" in f for f in found)


def test_the_block_of_the_demo_is_made_from_its_loft() -> None:
    """Crowns and templates of BK-012: the radii and crowns that the skin is stretched over
    (SCENARIO 6.1, no published check) at every point of every station."""
    shop = open_shop(ROOT)
    sheets, findings = sheets_of(shop, str(FILE), FACTS)
    assert sheets is not None and not findings
    drawn = [b for b in blocks_of(sheets.sheets["full-size-pages"]) if isinstance(b, Container)]
    told = [{plain(a): plain(b) for a, b in b.rows} for b in drawn if b.words == "former-template"]
    stations = zip(
        (520, 508, 499, 494, 496, 503, 513), (0, 10.5, 17.5, 20.0, 18.5, 12.5, 3.0), strict=True
    )
    for rows, (radius, crown) in zip(told, stations, strict=True):
        points = [
            tuple(map(float, p.split())) for p in rows["points 1"].replace("−", "-").split(";")
        ]
        assert len(points) == 9
        for across, up in points:
            high = crown - radius + math.sqrt(radius**2 - across**2)
            assert up == pytest.approx(high, abs=0.051)
    traveller = sheets.sheets["traveller"]
    assert "TYPED" not in traveller
    for crown in ("320.0", "330.5", "337.5", "340.0", "338.5", "332.5", "323.0"):
        assert f"{float(crown) - 0.5:.1f}" in traveller and f"{float(crown) + 0.5:.1f}" in traveller
