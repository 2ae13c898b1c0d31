"""What stands on the pages of a traveller, in; the text of a typesetter's document, out."""

from __future__ import annotations

import re
from collections.abc import Sequence

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

_MARKED = re.compile(r"([\\#$*_`<>@\[\]~/=+\-])")


def typst_of(frame: Frame, items: Sequence[Item], pages: int) -> str:
    """One document. pages: how many pages get the codes in their corners."""
    boxes = ", ".join(f"[{caption} \\ {_box(Box(25.0, 8.5))}]" for caption in STOPPED)
    head = f"*{_text(frame['kind'])}* {_text(frame['title'])} #h(1fr) *sheet "
    head += "#counter(page).display() of #counter(page).final().first()* \\ "
    head += f"{_text(frame['process'])} {_text(frame['draft'])}"
    foot = f"#set text(7.5pt); #table(columns: 4, {boxes}); {_text(SMALL_PRINT)}"
    codes = ", ".join(_codes(frame, n, pages) for n in range(1, pages + 1))
    return "\n".join(
        [
            f"#let codes = ({codes},)",
            '#set page(paper: "a4", margin: (top: 34mm, bottom: 37mm, left: 25mm, right: 10mm),'
            f" header: context pad(right: 14mm)[{head}], footer: [{foot}], background: context"
            " codes.at(calc.min(counter(page).get().first(), codes.len()) - 1))",
            '#set text(font: "Fira Sans", 11pt)',
            "#set table(stroke: 0.35mm, inset: (x: 1.5mm, y: 0.8mm))",
            *map(_item, items),
        ]
    )


def _codes(frame: Frame, number: int, pages: int) -> str:
    placed = []
    for corner, picture in codes_of_page(frame, number, pages).items():
        up, aside = corner.split()
        across = f"{'-' if aside == 'right' else ''}{CORNER_AT}mm"
        down = f"{'-' if up == 'bottom' else ''}{CORNER_AT}mm"
        image = f'image(bytes({_quoted(picture)}), format: "svg")'
        placed.append(f"place({up} + {aside}, dx: {across}, dy: {down}, {image})")
    return "{" + "; ".join(placed) + "}"


def _item(item: Item) -> str:
    if item.kind == "heading":
        return f"{'=' * item.level} {_runs(item.runs)}"
    if item.kind == "table":
        columns = max(map(len, item.rows))
        filled = ([*row, *[()] * (columns - len(row))] for row in item.rows)
        cells = ", ".join(f"[{_cell(each)}]" for row in filled for each in row)
        return f"#table(columns: {columns}, {cells})"
    if item.kind == "picture":
        return f'#image(bytes({_quoted(item.picture)}), format: "svg")'
    if item.kind in ("warning", "caution", "note"):
        word = item.kind.upper()
        return f"#block(stroke: 1.2mm, inset: 2mm, width: 100%)[*{word}* {_runs(item.runs)}]"
    return f"\n{_runs(item.runs)}\n"


def _cell(cell: Cell) -> str:
    return _box(cell) if isinstance(cell, Box) else _runs(cell)


def _box(box: Box) -> str:
    return f"#rect(width: {box.width}mm, height: {box.height}mm, stroke: 0.25mm)"


def _runs(runs: Runs) -> str:
    return "".join(f"#strong[{_text(r.text)}]" if r.bold else _text(r.text) for r in runs)


def _text(words: str) -> str:
    return _MARKED.sub(r"\\\1", words)


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
