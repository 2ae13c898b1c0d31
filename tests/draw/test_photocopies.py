"""The frames and marks of a hold, a witness point, an independent inspection, a warning and a caution,
copied twice on a poor machine, in; each still told from the four others by its shape alone, out.

The words are left out: the shape is what is seen at arm's length. A copy turns, shifts and shrinks
the page a little, blurs it, makes it black and white at a threshold that is off, and adds specks.
"""

from __future__ import annotations

import random
from functools import cache
from io import BytesIO

import numpy as np
import pypdfium2
import pytest
from PIL import Image, ImageFilter
from reportlab.pdfgen.canvas import Canvas

from generator.draw.blocks.alerts import caution, warning
from generator.draw.fonts import BOLD, TEXT, font
from generator.draw.operations import _SHAPES
from generator.draw.paper import PT, paper_named
from generator.draw.parse import Container, Run
from generator.draw.pen import Pen
from generator.draw.pieces import Area

KINDS = ("hold", "witness", "independent", "warning", "caution")
WIDE, HIGH, AT = 120.0, 34.0, 30.0  # mm, all alike
DPI, SEEN_DPI = 200, 60
COPIES = 2
_END = 6.0 + 20.0  # mm


@cache
def drawn(kind: str) -> Image.Image:
    """The frame of a kind with its mark, words left out, as printed."""
    font(TEXT), font(BOLD)
    target, paper = BytesIO(), paper_named("A4")
    canvas = Canvas(target, pagesize=(paper.width / PT, paper.height / PT), initialFontName=TEXT)
    pen = Pen(canvas, paper)
    if kind in _SHAPES:
        shape = _SHAPES[kind]
        shape.frame(pen, AT, AT, WIDE, HIGH)
        assert shape.mark is not None
        shape.mark(pen, AT + shape.inset + 0.6, AT + 12.0, 11.0)
    else:
        words = tuple(
            (Run("A line that says what may happen here and why it does."),) for _ in "123"
        )
        block = Container(name=kind, words="", paragraphs=words, rows=(), line=1)
        (piece,) = (warning if kind == "warning" else caution)(block, Area(WIDE, WIDE))
        piece.draw(pen, AT, AT)
        assert abs(piece.height - HIGH) < 9.0
    pen.end_page()
    canvas.save()
    page = pypdfium2.PdfDocument(target.getvalue())[0].render(scale=DPI / 72, grayscale=True)
    image = page.to_pil()
    dot = DPI / 25.4
    box = [round(v * dot) for v in (AT - 6, AT - 6, AT + WIDE + 6, AT + HIGH + 10)]
    cut = image.crop(box)
    if kind not in _SHAPES:  # the words of a warning and a caution, between mark and frame
        white = [round(v * dot) for v in (6 + 13.5, 6 + 2.4, 6 + WIDE - 3.0, 6 + HIGH - 6.0)]
        cut.paste(255, white)
    return cut


def copied(image: Image.Image, chance: random.Random) -> Image.Image:
    """One generation of a copy."""
    noise = np.random.default_rng(chance.randrange(1 << 30))
    turned = image.rotate(chance.uniform(-0.4, 0.4), Image.Resampling.BICUBIC, fillcolor=255)
    size = chance.uniform(0.985, 1.01)
    shrunk = turned.resize([round(side * size) for side in turned.size], Image.Resampling.BICUBIC)
    page = Image.new("L", image.size, 255)
    page.paste(shrunk, (chance.randrange(0, 4), chance.randrange(0, 4)))
    soft = np.asarray(page.filter(ImageFilter.GaussianBlur(chance.uniform(0.6, 1.3)))).astype(float)
    soft += noise.normal(0.0, 14.0, soft.shape)
    black = soft < chance.uniform(105, 165)
    specks = noise.random(black.shape)
    black = (black & (specks > 0.01)) | (specks > 0.9985)
    return Image.fromarray(np.where(black, 0, 255).astype("uint8"))


def seen(image: Image.Image) -> np.ndarray:
    """What the eye takes in: the left end with its mark, grey, coarse, about its own mean."""
    image = image.crop((0, 0, round(_END * DPI / 25.4), image.size[1]))
    small = [max(1, round(side * SEEN_DPI / DPI)) for side in image.size]
    grey = np.asarray(image.resize(small, Image.Resampling.BOX)).astype(float)
    return grey - grey.mean()


def alike(one: np.ndarray, other: np.ndarray) -> float:
    """How alike two pictures are, at the best of some shifts: 1 for the same."""
    high, wide = min(one.shape[0], other.shape[0]), min(one.shape[1], other.shape[1])
    one, other = one[:high, :wide], other[:high, :wide]
    best = -1.0
    for down in range(-3, 4):
        for across in range(-3, 4):
            moved = np.roll(other, (down, across), (0, 1))
            bottom = float(np.sqrt((one**2).sum() * (moved**2).sum()))
            best = max(best, float((one * moved).sum()) / bottom)
    return best


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("kind", KINDS)
def test_a_shape_is_told_from_the_others_after_two_copies(kind: str, seed: int) -> None:
    chance = random.Random(f"{kind} {seed}")
    image = drawn(kind)
    for _ in range(COPIES):
        image = copied(image, chance)
    likeness = {other: alike(seen(image), seen(drawn(other))) for other in KINDS}
    ranked = sorted(likeness, key=lambda other: -likeness[other])
    assert ranked[0] == kind, likeness
    assert likeness[kind] > likeness[ranked[1]] + 0.02, likeness


@pytest.mark.parametrize("kind", KINDS)
def test_the_proof_fails_where_two_kinds_look_the_same(kind: str) -> None:
    """A hold drawn with the single frame and the ring of a witness point would be taken for one."""
    image = copied(copied(drawn("witness"), random.Random(1)), random.Random(2))
    likeness = {other: alike(seen(image), seen(drawn(other))) for other in KINDS}
    assert (max(likeness, key=lambda other: likeness[other]) == kind) == (kind == "witness")
