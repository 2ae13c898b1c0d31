"""The stored sample is what the program prints today: as text, and as pixels."""

from __future__ import annotations

import pytest
from PIL import Image, ImageChops

from generator.draw import draw_set
from tests import sample

KINDS = tuple(sample.sheets())
STALE = "output/sample is stale: make sample, look at it, and commit it"


@pytest.mark.parametrize("kind", KINDS)
def test_sample_text_is_what_is_composed_today(kind: str) -> None:
    stored = (sample.FOLDER / f"{kind}.md").read_text(encoding="utf-8")
    assert stored == sample.sheets()[kind], STALE


@pytest.mark.parametrize("kind", KINDS)
def test_sample_pages_are_what_is_drawn_today(kind: str) -> None:
    today = sample.pictures(draw_set(sample.sheets())[kind].pdf)
    stored = sample.pictures((sample.FOLDER / f"{kind}.pdf").read_bytes())
    assert len(today) == len(stored), STALE
    for now, then in zip(today, stored, strict=True):
        assert ImageChops.difference(now, then).getbbox() is None, STALE


def test_sample_picture_is_the_page_of_the_sample() -> None:
    pdf = (sample.FOLDER / "traveller.pdf").read_bytes()
    page = sample.pictures(pdf)[sample.pictured_page(pdf)]
    with Image.open(sample.FOLDER / "traveller-page.png") as stored:
        assert ImageChops.difference(page, stored.convert("L")).getbbox() is None, STALE
