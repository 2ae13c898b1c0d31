"""The sheets of every demo process, in; each class that a box asks for is one that check asks for,
out: a box that a sheet gains must not be forgotten here."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

from generator.check.signing_rules import unsigned
from generator.compose import SheetFacts
from generator.workshop import open_shop, sheets_of

CLASSES = ("lead", "volunteer", "inspector", "subcontractor", "stores")
ASKED = re.compile(rf"(?m)^\| [^|]+ \| ({'|'.join(CLASSES)}) \|$")
# Filled in behind the close, by whoever may fit; a slip or a notice is used when something is.
LATER = ("fit-record", "stop-work-notice", "slips", "rework-sheet")


def test_what_the_sheets_ask_for_is_what_check_asks_for():
    shop = open_shop(Path(__file__).parents[2])
    assert shop.workshop is not None
    nobody = replace(shop.workshop, stamps=())
    seen = set()
    for shown, process in shop.processes.items():
        made, findings = sheets_of(shop, shown, SheetFacts("", (), "2026-11-25"))
        assert made is not None, findings
        sheets = (text for kind, text in made.sheets.items() if kind not in LATER)
        boxes = {who for text in sheets for who in ASKED.findall(text)}
        asked = {
            each
            for fault in unsigned(process, nobody, process.revision.day)
            for each in re.findall(r"of class '([^']+)'", fault.wrong)[0].split(" or ")
        }
        assert boxes <= asked, shown
        seen |= boxes
    assert seen == {*CLASSES}
