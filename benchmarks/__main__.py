"""Nothing in; tables of times and ratios of this machine out. Run by `make bench`."""

from __future__ import annotations

import json
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

from benchmarks.cold import PARTS
from benchmarks.loft import STATIONS, seconds_and_pages
from benchmarks.replay import recorded, replayed, signs_of, written
from benchmarks.stages import STAGES, Bench, workshop_in
from benchmarks.turns import Took, Watch, in_turns, table
from generator.workshop import Shop

RUNS, FRESH = 25, 9
Row = tuple[str, ...]


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        shop = workshop_in(Path(folder))
        print(_warm(Bench(shop)))
        print(f"\nThe first traveller of a fresh process, median of {FRESH}:\n")
        print(_cold(Path(folder)))
        print(f"\nA loft of {STATIONS} stations:\n")
        print(_lofted(shop))
    return 0


def _warm(bench: Bench) -> str:
    """The traveller and both floors below it, in turns."""
    sheet = bench.sheet()
    calls, streams = recorded(sheet)
    signs = signs_of(calls)
    watch = Watch()
    made = bench.traveller(Watch())
    floors = in_turns(
        {
            "traveller": lambda: bench.traveller(watch),
            "replay": lambda: replayed(calls),
            "streams": lambda: written(streams, signs),
        },
        RUNS,
    )
    # The writing of the new text that is read is no part of the traveller.
    whole, pages = watch.took(*STAGES), made.drawn.pages
    rows: list[Row] = [_row("YAML to PDF", whole, whole, f"{whole.wall / pages:.2f} ms a page")]
    rows += [_row(f"of it {name}", watch.took(name), whole) for name in STAGES]
    bare = "the same strokes, words and codes by bare reportlab"
    rows.append(_floor(bare, floors.took("replay"), whole))
    rows.append(_floor("the finished page streams into a canvas", floors.took("streams"), whole))
    head = f"{pages} pages, {len(calls)} calls of the pen, {len(made.drawn.pdf) / 1000:.0f} kB"
    heads = ("what, warm", "wall ms", "processor ms", "least ms", "ratio")
    return f"Forty operations, {head}, median of {RUNS} in turns:\n\n{table(heads, rows)}"


def _row(name: str, took: Took, whole: Took, more: str = "") -> Row:
    share = more or f"{took.wall / whole.wall * 100:.0f} %"
    return name, f"{took.wall:.1f}", f"{took.processor:.1f}", f"{took.least:.1f}", share


def _floor(name: str, took: Took, whole: Took) -> Row:
    by_clock, by_processor = whole.wall / took.wall, whole.processor / took.processor
    more = f"YAML to PDF is {by_clock:.2f} times that ({by_processor:.2f} by the processor)"
    return _row(name, took, whole, more)


def _cold(folder: Path) -> str:
    """What a fresh process spends, part by part."""
    watch = Watch()
    first = [sys.executable, "-m", "benchmarks.cold", str(folder)]
    parts: list[dict[str, float]] = []
    for _ in range(FRESH):
        for name, words in (
            ("bare Python", [sys.executable, "-c", "pass"]),
            ("--help", [sys.executable, "-m", "generator", "--help"]),
            ("the whole process", first),
        ):
            with watch.over(name):
                said = subprocess.run(words, check=True, capture_output=True).stdout
        parts.append(json.loads(said))
    rows = [(name, f"{watch.took(name).wall:.0f}") for name in ("the whole process", "bare Python")]
    rows += [
        (f"of it {name}", f"{statistics.median(each[name] for each in parts):.0f}")
        for name in (*PARTS, *STAGES)
    ]
    more = watch.took("--help").wall - watch.took("bare Python").wall
    return table(("cold", "wall ms"), [*rows, ("`--help` over bare Python", f"{more:.0f}")])


def _lofted(shop: Shop) -> str:
    """Three runs: a loft is drawn once a block, and takes seconds."""
    runs = [seconds_and_pages(shop, edition) for edition in range(3)]
    composed, whole, pages = sorted(runs, key=lambda run: run[1])[1]
    rows = [
        ("YAML to its sheets", f"{composed:.2f}"),
        (f"the same with the {pages} pages of its templates at full size", f"{whole:.2f}"),
    ]
    return table(("what", "s"), rows)


if __name__ == "__main__":
    sys.exit(main())
