"""A workshop that is open, in; one traveller through every stage, each of them timed, out."""

from __future__ import annotations

import itertools
import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from benchmarks.traveller import yaml_text
from benchmarks.turns import Watch
from generator.__main__ import collect_seldom
from generator.compose import TRAVELLER, SheetFacts, compose
from generator.computing.compute import compute
from generator.draw import Drawn, draw_set, draw_sheet
from generator.findings import Finding
from generator.read import read_file
from generator.workshop import Shop, open_shop, process_of, shop_facts

NAME = "processes/time.yaml"
STAGES = ("read", "check", "compute", "compose", "draw", "write")


@dataclass(frozen=True)
class Made:
    """One traveller: its sheet as Markdown, and its print."""

    sheet: str
    drawn: Drawn


def workshop_in(folder: Path) -> Shop:
    """The demo workshop in a folder of its own, with the process of the stop watch."""
    shutil.copytree("processes/workshop", folder / "processes" / "workshop")
    (folder / NAME).write_text(yaml_text(), encoding="utf-8")
    return open_shop(folder)


class Bench:
    """Makes travellers of one workshop; no two have the same texts."""

    def __init__(self, shop: Shop) -> None:
        collect_seldom()  # as every command does
        self.shop = shop
        self._editions = itertools.count(1)

    def traveller(self, watch: Watch) -> Made:
        """A new edition of the process from its file to the traveller's PDF on the disk; all its
        sheets are composed, as the fingerprint is of all, and the traveller is drawn."""
        sheets = self.sheets(watch)
        with watch.over("draw"):
            drawn = draw_sheet(sheets[TRAVELLER])
        with watch.over("write"):
            (self.shop.folder / "traveller.pdf").write_bytes(drawn.pdf)
        return Made(sheets[TRAVELLER], drawn)

    def every_sheet(self, watch: Watch) -> Mapping[str, Drawn]:
        """A new edition from its file to the PDFs of all its sheets on the disk."""
        sheets = self.sheets(watch)
        with watch.over("draw"):
            drawn = draw_set(sheets)
        with watch.over("write"):
            for kind, each in drawn.items():
                (self.shop.folder / f"{kind}.pdf").write_bytes(each.pdf)
        return drawn

    def sheets(self, watch: Watch) -> Mapping[str, str]:
        """A new edition of the process from its file to all its sheets."""
        shop = self.shop
        (shop.folder / NAME).write_text(yaml_text(next(self._editions)), encoding="utf-8")
        findings: list[Finding] = []
        with watch.over("read"):
            document, faults = read_file(shop.folder / NAME, NAME)
        assert document is not None and not faults, faults
        with watch.over("check"):
            process = process_of(document, shop.workshop, findings)
        if process is None or shop.workshop is None or findings:
            raise SystemExit(f"the process of the benchmark is not sound: {findings}")
        with watch.over("compute"):
            workings, wrong = compute(process, None, True, shop_facts(shop))
        with watch.over("compose"):
            sheets, more = compose(
                process, workings, shop.workshop, SheetFacts("", (), "not dated")
            )
        if sheets is None or wrong:
            raise SystemExit(f"the process of the benchmark is not sound: {wrong} {more}")
        return sheets.sheets

    def sheet(self) -> str:
        """The Markdown of one more traveller."""
        return self.sheets(Watch())[TRAVELLER]
