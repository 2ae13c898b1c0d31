"""A pack with backs in, read back from the PDF; a place for notes behind every page, and the same
numbers as without backs, out."""

from __future__ import annotations

import re
from functools import cache

import pytest

from generator.draw import Box, Drawn, Pack, lay_out
from generator.draw.pen import LEAST
from tests.compose.sheets import file_of, made
from tests.draw.inspector import Rect, Seen, pages_of

PAPERS = ("A4", "Letter")


@cache
def packed(paper: str) -> tuple[Pack, list[Seen], Drawn]:
    sheets = made(file_of("T6-P-0120")).sheets
    changed = {k: t.replace("| paper | A4 |", f"| paper | {paper} |") for k, t in sheets.items()}
    pack = lay_out(changed)
    return pack, pages_of(pack.whole(backs=True)), pack.backs()


def same_place(box: Box, seen: Rect) -> bool:
    """Whether a box on the map is a rectangle of the finished PDF, to 0.02 mm."""
    sides = ((box.x, seen.x), (box.y, seen.y), (box.width, seen.width), (box.height, seen.height))
    return all(abs(one - other) < 0.02 for one, other in sides)


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_has_its_back_and_keeps_its_number(paper):
    pack, pages, _ = packed(paper)
    assert len(pages) == 2 * pack.count
    fronts = pages_of(pack.whole())
    for number, (front, back) in enumerate(zip(pages[::2], pages[1::2], strict=True), start=1):
        assert front.text == fronts[number - 1].text
        assert f"back of sheet {number} of {pack.count}" in back.text
        assert "NOTES HERE COUNT AS RECORD" in back.text


@pytest.mark.parametrize("paper", PAPERS)
def test_boxes_of_a_back_are_on_the_map_large_enough_and_off_the_binding(paper):
    _, pages, backs = packed(paper)
    for number, back in enumerate(pages[1::2], start=1):
        own = [box for box in backs.boxes if box.page == number]
        assert len(own) == len(back.boxes)
        for box in own:
            wide, high = LEAST[box.kind]
            assert box.width >= wide
            assert box.height >= high
            # ISO 838: holes stand 12 mm from the edge, which is the right one of a back.
            assert box.x + box.width <= back.width - 25.0 + 1e-3
            assert any(same_place(box, rect) for rect in back.boxes)


def test_a_code_of_a_back_says_that_it_is_one():
    pack, _, backs = packed("A4")
    said = [re.search(r" (\d+)(B?)/(\d+) ", code.meaning) for code in backs.codes]
    assert len(said) == 4 * pack.count
    assert all(match and match[2] == "B" and int(match[3]) == pack.count for match in said)


def test_a_pack_is_the_same_bytes_each_time():
    pack, _, _ = packed("A4")
    assert pack.whole(backs=True) == pack.whole(backs=True)
