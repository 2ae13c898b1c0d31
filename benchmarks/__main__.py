"""Nothing in; a table of times and ratios of this machine out. Run by `make bench`."""

from __future__ import annotations

import itertools
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from benchmarks.loft import STATIONS, seconds_and_pages
from benchmarks.replay import recorded, replayed, written
from benchmarks.traveller import yaml_text
from generator.compose import TRAVELLER, SheetFacts
from generator.draw import draw_sheet
from generator.findings import Finding
from generator.read import read_file
from generator.workshop import Shop, open_shop, process_of, sheets_of

RUNS = 15
EDITIONS = itertools.count()
NAME = "processes/time.yaml"


def median_ms(act: Callable[[], object]) -> float:
    """The median of several runs after a warm-up, in milliseconds."""
    act()
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        act()
        times.append((time.perf_counter() - start) * 1000)
    return statistics.median(times)


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        shutil.copytree("processes/workshop", root / "processes" / "workshop")
        (root / NAME).write_text(yaml_text(), encoding="utf-8")
        _report(root)
    return 0


def _sheet(shop: Shop) -> str:
    """One traveller of a workshop that is open: a new edition of its file each time, read,
    checked, worked out and composed. The calculation sheet is composed with it, not drawn."""
    text = yaml_text(next(EDITIONS))
    (shop.folder / NAME).write_text(text, encoding="utf-8")
    findings: list[Finding] = []
    document, faults = read_file(shop.folder / NAME, NAME)
    process = process_of(document, shop.workshop, findings) if document else None
    if process is None or document is None or findings:
        raise SystemExit(f"the process of the benchmark is not sound: {faults} {findings}")
    fresh = replace(shop, documents={NAME: document}, processes={NAME: process})
    made, findings = sheets_of(fresh, NAME, SheetFacts("", (), "not dated"))
    if made is None:
        raise SystemExit(f"the process of the benchmark is not sound: {findings}")
    return made.sheets[TRAVELLER]


def _report(root: Path) -> None:
    shop = open_shop(root)
    sheet = _sheet(shop)
    drawn = draw_sheet(sheet)
    calls, streams = recorded(sheet)
    whole = median_ms(lambda: draw_sheet(_sheet(shop)))
    drawing = median_ms(lambda: draw_sheet(sheet))
    replay = median_ms(lambda: replayed(calls))
    streaming = median_ms(lambda: written(streams, calls))
    rows = [
        ("YAML to PDF, warm", f"{whole:.1f} ms", f"{whole / drawn.pages:.2f} ms a page"),
        ("of it drawing (Markdown to PDF)", f"{drawing:.1f} ms", ""),
        (
            "bare reportlab, same strokes and words",
            f"{replay:.1f} ms",
            f"ratio {whole / replay:.2f}",
        ),
        (
            "finished page streams into a canvas",
            f"{streaming:.1f} ms",
            f"ratio {whole / streaming:.2f}",
        ),
        *_start_up(),
        *_lofted(shop),
    ]
    print(f"{drawn.pages} pages, 40 operations, {len(calls)} calls of the pen, median of {RUNS}")
    for name, value, note in rows:
        print(f"{name:40} {value:>10}  {note}")


def _lofted(shop: Shop) -> list[tuple[str, str, str]]:
    """Three runs: a loft is drawn once a block, and takes seconds."""
    runs = [seconds_and_pages(shop, edition) for edition in range(3)]
    composed, whole, pages = sorted(runs, key=lambda run: run[1])[1]
    return [
        (f"loft of {STATIONS} stations, YAML to sheets", f"{composed:.2f} s", ""),
        ("the same with templates at full size", f"{whole:.2f} s", f"{pages} pages"),
    ]


def _start_up() -> list[tuple[str, str, str]]:
    bare = _process_ms([sys.executable, "-c", "pass"])
    help_words = _process_ms([sys.executable, "-m", "generator", "--help"])
    return [
        ("bare python", f"{bare:.0f} ms", ""),
        ("--help", f"{help_words:.0f} ms", f"{help_words - bare:.0f} ms over bare python"),
    ]


def _process_ms(words: list[str]) -> float:
    return median_ms(lambda: subprocess.run(words, check=True, stdout=subprocess.DEVNULL))


if __name__ == "__main__":
    sys.exit(main())
