"""The demo workshop in; output/sample/ out: the sheets of one process as text and PDF, and a
picture of a page.

Run by `make sample`; tests/test_sample.py fails where the stored sample is stale.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from generator.compose import SheetFacts
from generator.draw import draw_set
from generator.workshop import chosen, open_shop, sheets_of

ROOT = Path(__file__).parents[1]
FOLDER = ROOT / "output" / "sample"
PROCESS = "T6-P-0410"
SCALE = 1.6


def sheets() -> Mapping[str, str]:
    """The sample sheets by kind, composed now."""
    shop = open_shop(ROOT)
    facts = SheetFacts("", ("0003",), "2026-11-25")
    made, findings = sheets_of(shop, chosen(shop, [PROCESS])[0], facts)
    assert made is not None, findings
    return made.sheets


def pictures(pdf: bytes) -> list[Any]:
    """Every page as a picture."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    return [page.render(scale=SCALE).to_pil().convert("L") for page in document]


def pictured_page(pdf: bytes) -> int:
    """The page that README shows."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    texts = [page.get_textpage().get_text_range() for page in document]
    return next(n for n, text in enumerate(texts) if "PRESSURIZE to 20 bar" in text)


def main() -> None:
    FOLDER.mkdir(parents=True, exist_ok=True)
    made = sheets()
    for kind, drawn in draw_set(made).items():
        (FOLDER / f"{kind}.md").write_text(made[kind], encoding="utf-8")
        (FOLDER / f"{kind}.pdf").write_bytes(drawn.pdf)
    pdf = (FOLDER / "traveller.pdf").read_bytes()
    pictures(pdf)[pictured_page(pdf)].save(FOLDER / "traveller-page.png", optimize=True)


if __name__ == "__main__":
    main()
