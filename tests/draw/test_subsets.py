"""Words of a PDF as another reader reads them, where a face needs more signs than one subset of it
holds; and subsets that are kept between files."""

from __future__ import annotations

from io import BytesIO

import pypdfium2
import pytest
from reportlab.pdfgen.canvas import Canvas

from generator.draw.fonts import BOLD, MONO, TEXT, font
from generator.draw.paper import PAPERS, PT
from generator.draw.pen import Pen


def printed(lines: list[str], face: str = TEXT) -> bytes:
    paper, target = PAPERS["A4"], BytesIO()
    size = paper.width / PT, paper.height / PT
    canvas = Canvas(target, pagesize=size, invariant=1, initialFontName=TEXT)  # type: ignore[arg-type]
    pen = Pen(canvas, paper)
    pen.within(20.0, 280.0)
    for n, line in enumerate(lines):
        pen.text(30.0, 40.0 + 6.0 * n, line, face, 9.0)
    pen.end_page()
    canvas.save()
    return target.getvalue()


def read(pdf: bytes) -> list[str]:
    text = pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range()
    return text.replace("\r\n", "\n").split("\n")


def many_signs() -> list[str]:
    """Every letter of the face beyond ASCII, sixteen in a line: more than two subsets hold."""
    known = [chr(code) for code in sorted(font(TEXT).face.charToGlyph) if 0xBF < code < 0x530]
    signs = [sign for sign in known if sign.isalpha()]
    return ["".join(signs[at : at + 16]) for at in range(0, len(signs) - 15, 16)][:36]


def test_signs_of_further_subsets_are_read_back() -> None:
    lines = many_signs()
    assert len(set("".join(lines))) > 512
    assert read(printed(lines)) == lines


def test_brackets_and_strokes_are_read_back() -> None:
    lines = [r"a (b) c\d ((", r"\)", "5 °C · 2 − 1", "°(°)\\°"]
    assert read(printed(lines)) == lines


@pytest.mark.parametrize("face", [TEXT, BOLD, MONO])
def test_a_kept_subset_gives_the_same_file(face: str) -> None:
    lines = ["M 12 ± 0.1 mm", "45° ≤ 50°"]
    first = printed(lines, face)
    printed(["other words: é ö ü ½"], face)
    assert printed(lines, face) == first
    assert read(first) == lines
