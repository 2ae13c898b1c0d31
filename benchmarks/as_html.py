"""What stands on the pages of a traveller, in; HTML with its style sheet, out."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Sequence
from html import escape

from benchmarks.same_pages import (
    SMALL_PRINT,
    STOPPED,
    Box,
    Cell,
    Item,
    codes_of_page,
)
from generator.draw.paper import CORNER_AT
from generator.draw.parse import Runs
from generator.draw.sheet import Frame

MARGINS = {"top": 34, "right": 10, "bottom": 37, "left": 25}  # mm, as in the style
STYLE = """
@page { size: A4; margin: 34mm 10mm 37mm 25mm;
  @top-left { content: element(head) } @bottom-left { content: element(foot) }
  @top-right { content: "sheet " counter(page) " of " counter(pages); font: bold 10.5pt Fira } }
body { font: 11pt/1.28 Fira } h1, h2 { font-size: 14pt; margin: 3mm 0 1mm }
p { margin: 1mm 0 } table { border-collapse: collapse; font-size: 10.5pt; margin: 1mm 0 }
td { border: 0.35mm solid black; padding: 0.8mm 1.5mm }
.warning, .caution, .note { border: 1.2mm solid black; padding: 2mm }
.box { border: 0.25mm solid black; display: inline-block }
header { position: running(head) } footer { position: running(foot); font-size: 7.5pt }
"""


def html_of(frame: Frame, items: Sequence[Item], pages: int) -> str:
    """One HTML document. pages: how many pages get the codes in their corners."""
    kind, title = escape(frame["kind"]), escape(frame["title"])
    head = f"<header><b>{kind}</b> {title}<br>{escape(frame['process'])} {frame['draft']}</header>"
    boxes = "".join(f"<td>{caption}<br>{_box(Box(25.0, 8.5))}</td>" for caption in STOPPED)
    foot = f"<footer><table><tr>{boxes}</tr></table>{SMALL_PRINT}</footer>"
    body = "".join(map(_item, items))
    style = STYLE + "".join(_codes(frame, n, pages) for n in range(1, pages + 1))
    lang = frame["language"]
    return f'<html lang="{lang}"><style>{style}</style><body>{head}{foot}{body}</body></html>'


def _codes(frame: Frame, number: int, pages: int) -> str:
    urls, places = [], []
    for corner, picture in codes_of_page(frame, number, pages).items():
        up, aside = corner.split()
        coded = b64encode(picture.encode()).decode()
        urls.append(f"url(data:image/svg+xml;base64,{coded})")
        at = {edge: f"{edge} {CORNER_AT - margin}mm" for edge, margin in MARGINS.items()}
        places.append(f"{at[aside]} {at[up]}")
    return (
        f"@page :nth({number}) {{ background: {', '.join(urls)}; background-repeat: no-repeat;"
        f" background-position: {', '.join(places)} }}\n"
    )


def _item(item: Item) -> str:
    if item.kind == "heading":
        return f"<h{item.level}>{_runs(item.runs)}</h{item.level}>"
    if item.kind == "table":
        rows = ("".join(f"<td>{_cell(each)}</td>" for each in row) for row in item.rows)
        return "<table>" + "".join(f"<tr>{row}</tr>" for row in rows) + "</table>"
    if item.kind == "picture":
        return item.picture
    word = f"<b>{item.kind.upper()}</b> " if item.kind in ("warning", "caution", "note") else ""
    return f'<p class="{item.kind}">{word}{_runs(item.runs)}</p>'


def _cell(cell: Cell) -> str:
    return _box(cell) if isinstance(cell, Box) else _runs(cell)


def _box(box: Box) -> str:
    return f'<span class="box" style="width:{box.width}mm;height:{box.height}mm"></span>'


def _runs(runs: Runs) -> str:
    return "".join(f"<b>{escape(r.text)}</b>" if r.bold else escape(r.text) for r in runs)
