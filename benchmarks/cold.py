"""A folder in; what a fresh process takes for its first traveller there, part by part, as JSON out.

Run by `make bench` as a process of its own.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from benchmarks.turns import Watch

PARTS = ("imports", "schema and tables", "workshop")


def main(folder: str) -> None:
    watch = Watch()
    with watch.over("imports"):
        import yaml  # noqa: F401

        from benchmarks.stages import Bench
        from generator.calculations import calculations
        from generator.check.structure import rules
        from generator.workshop import Shop, open_workshop
    with watch.over("schema and tables"):
        calculations()
        rules("process")
    with watch.over("workshop"):
        workshop, findings = open_workshop(Path(folder))
    assert workshop is not None, findings
    Bench(Shop(Path(folder), workshop, {}, {})).traveller(watch)
    json.dump({name: wall[0] for name, wall in watch.wall.items()}, sys.stdout)


if __name__ == "__main__":
    main(sys.argv[1])
