"""Sheets as Markdown, in; PDFs and the map of their boxes, out. Only this room knows paper.

The same text gives the same bytes on any day. Refuses with generator.findings.Refusal only:
"sheet" (not in the dialect), "glyph" (a sign that cannot be printed), "layout" (does not fit).
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict

from generator.draw import own_settings  # noqa: F401
from generator.draw.pen import Box
from generator.draw.prints import Drawn, Pack, lay_out

__all__ = ["Box", "Drawn", "Pack", "box_map", "draw_set", "draw_sheet", "lay_out"]


def draw_sheet(sheet: str) -> Drawn:
    """The print of a sheet alone; refuses a sheet that is not in the dialect or does not fit."""
    return lay_out({"": sheet}).sheet("")


def draw_set(sheets: Mapping[str, str]) -> Mapping[str, Drawn]:
    """The prints of the sheets of a process by kind, their pages counted through."""
    pack = lay_out(sheets)
    return {kind: pack.sheet(kind) for kind in sheets}


def box_map(prints: Mapping[str, Drawn]) -> str:
    """The map of the boxes of all sheets of a print, by kind of sheet, as JSON: in the order they
    were drawn, one box a line, and behind the boxes of a sheet its codes, of the kind "code"."""
    boxes = ((kind, box) for kind, drawn in prints.items() for box in (*drawn.boxes, *drawn.codes))
    lines = (json.dumps({"sheet": k, **asdict(b)}, ensure_ascii=False) for k, b in boxes)
    return "[\n" + ",\n".join(lines) + "\n]\n"
