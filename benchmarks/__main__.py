"""Nothing in; tables of times and ratios of this machine out. Run by `make bench`."""

from __future__ import annotations

import json
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from benchmarks.cold import PARTS
from benchmarks.loft import STATIONS, seconds_and_pages
from benchmarks.replay import Recorded, recorded, replayed, written
from benchmarks.stages import STAGES, Bench, workshop_in
from benchmarks.turns import Took, Watch, as_installed, in_turns, table
from generator.compose import TRAVELLER
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
    """The traveller alone and the whole print, each with both floors below it, in turns."""
    sheets = bench.sheets(Watch())
    alone = recorded({TRAVELLER: sheets[TRAVELLER]})
    every = recorded(sheets)
    one, whole = Watch(), Watch()
    bench.traveller(Watch())
    floors = in_turns(
        {
            "traveller": lambda: bench.traveller(one),
            "replay": lambda: [replayed(each) for each in alone],
            "streams": lambda: [written(each) for each in alone],
            "every sheet": lambda: bench.every_sheet(whole),
            "every replay": lambda: [replayed(each) for each in every],
            "every stream": lambda: [written(each) for each in every],
        },
        RUNS,
    )
    parts = (
        ("Its traveller alone", alone, one, ("replay", "streams")),
        (
            f"All its {len(every)} sheets, each a file",
            every,
            whole,
            ("every replay", "every stream"),
        ),
    )
    said = [_told(*part[:3], *(floors.took(each) for each in part[3])) for part in parts]
    return f"A process of forty operations, median of {RUNS} in turns.\n\n" + "\n\n".join(said)


def _told(title: str, what: Sequence[Recorded], watch: Watch, replay: Took, streams: Took) -> str:
    pages = sum(len(each.streams) for each in what)
    took = watch.took(*STAGES)
    rows: list[Row] = [_row("YAML to PDF", took, took, f"{took.wall / pages:.2f} ms a page")]
    rows += [_row(f"of it {name}", watch.took(name), took) for name in STAGES]
    rows.append(_floor("the same strokes, words and codes by bare reportlab", replay, took))
    rows.append(_floor("the finished page streams into a canvas", streams, took))
    heads = ("what, warm", "wall ms", "processor ms", "least ms", "ratio")
    calls = sum(len(each.calls) for each in what)
    return f"{title}, {pages} pages, {calls} calls of the pen:\n\n{table(heads, rows)}"


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
    around = as_installed(folder / "compiled")
    first = [sys.executable, "-m", "benchmarks.cold", str(folder)]
    subprocess.run(first, check=True, capture_output=True, env=around)
    parts: list[dict[str, float]] = []
    for _ in range(FRESH):
        for name, words in (
            ("bare Python", [sys.executable, "-c", "pass"]),
            ("--help", [sys.executable, "-m", "generator", "--help"]),
            ("the whole process", first),
        ):
            with watch.over(name):
                said = subprocess.run(words, check=True, capture_output=True, env=around).stdout
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
