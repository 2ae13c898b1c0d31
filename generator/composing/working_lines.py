"""The lines of a working in; rows of a label and a text, as every sheet prints them, out."""

from __future__ import annotations

from collections.abc import Iterable

from generator.quantities.amount import Step

Rows = list[tuple[str, str]]


def line_rows(lines: Iterable[Step]) -> Rows:
    """Formula, numbers and result below each other, each text once; the label at the first."""
    rows: Rows = []
    for line in lines:
        label = f"{line.symbol} {line.meaning}".strip()
        texts = [line.formula, line.numbers, line.result]
        shown = [text for i, text in enumerate(texts) if text and text not in texts[:i]]
        for n, text in enumerate(shown):
            rows.append((label if n == 0 else "", text if n == 0 else f"= {text}"))
    return rows
