"""A shop and a count of stations in; how long its lofted block takes, from YAML to the templates at
full size, out."""

from __future__ import annotations

import re
import time
from dataclasses import replace
from pathlib import Path

from generator.compose import SheetFacts
from generator.composing.kinds import FULL_SIZE_PAGES
from generator.draw import draw_sheet
from generator.findings import Finding
from generator.read import read_file
from generator.workshop import Shop, process_of, sheets_of

BLOCK = Path("processes", "blocks", "T6-P-0105-forming-block-bk-012.yaml")
STATIONS = 40
NAME = "processes/block.yaml"


def yaml_of_block(edition: int) -> str:
    """The demo block with forty stations; a crown that differs with each edition."""
    text = BLOCK.read_text(encoding="utf-8")
    at = ", ".join(f"{900 * k / (STATIONS - 1):.3f} mm" for k in range(STATIONS))
    text = re.sub(r"stations: \[.*?\]", f"stations: [{at}]", text, count=1)
    return text.replace("up: 20.0 mm", f"up: {20 + edition / 1000:.3f} mm")


def seconds_and_pages(shop: Shop, edition: int) -> tuple[float, float, int]:
    """Seconds to the composed sheets, to the finished templates as well, and their pages."""
    path = shop.folder / NAME
    path.write_text(yaml_of_block(edition), encoding="utf-8")
    start = time.perf_counter()
    findings: list[Finding] = []
    document, faults = read_file(path, NAME)
    process = process_of(document, shop.workshop, findings) if document else None
    if process is None or document is None or findings:
        raise SystemExit(f"the block of the benchmark is not sound: {faults} {findings}")
    fresh = replace(shop, documents={NAME: document}, processes={NAME: process})
    made, findings = sheets_of(fresh, NAME, SheetFacts("", (), "not dated"))
    if made is None:
        raise SystemExit(f"the block of the benchmark is not sound: {findings}")
    composed = time.perf_counter() - start
    drawn = draw_sheet(made.sheets[FULL_SIZE_PAGES])
    return composed, time.perf_counter() - start, drawn.pages
