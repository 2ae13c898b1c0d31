"""Nothing in; the text of every file that is made from others, by its path in the checkout, out.

Run by `make generated`, which writes them; a test fails where a stored one is stale.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from generator.calculations import calculations
from generator.composing.handbook import handbook
from generator.editor import editor_names, editor_text
from generator.tables import table_names

ROOT = Path(__file__).parents[1]
HANDBOOK = Path("output", "handbook", "handbook.md")


@cache
def generated() -> Mapping[Path, str]:
    """What each generated file must say now; paths are relative to the checkout."""
    schemas = {
        Path("schema", "editor", f"{name}.json"): editor_text(name) for name in editor_names()
    }
    return {**schemas, HANDBOOK: _handbook()}


@cache
def _handbook() -> str:
    return handbook(calculations(), table_names())


def main() -> None:
    for path, text in generated().items():
        file = ROOT / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
