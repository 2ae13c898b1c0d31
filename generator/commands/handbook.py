"""`handbook`: every calculation and table, its examples run now, into output/handbook/."""

from __future__ import annotations

from argparse import Namespace

from generator.calculations import calculations
from generator.commands.draft import write_folder
from generator.commands.told import say
from generator.composing.handbook import handbook as composed
from generator.findings import Refusal
from generator.tables import table_names


def handbook(asked: Namespace) -> int:
    """0 with the handbook written as text and as PDF; nothing is written where one is refused.

    It belongs to the program, not to a workshop, so the folder needs no processes/ in it.
    """
    from generator.draw import draw_sheet

    if not asked.workshop.is_dir():
        raise Refusal("folder", f"there is no folder {asked.workshop}", "--workshop FOLDER")
    text = composed(calculations(), table_names())
    files = {"handbook.md": text.encode(), "handbook.pdf": draw_sheet(text).pdf}
    written = write_folder(asked.workshop / "output" / "handbook", files)
    say(f"{written / 'handbook.pdf'}", asked)
    return 0
