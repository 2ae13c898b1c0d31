"""Nothing in; where the time of one traveller goes, function by function, out.

Run by `python -m benchmarks.profile`. Counting makes small functions look dearer than they are: the
stages of `make bench` say how long things take, this says what to look at.
"""

from __future__ import annotations

import cProfile
import pstats
import sys
import tempfile
from collections import defaultdict
from pathlib import Path

from benchmarks.stages import Bench, workshop_in
from benchmarks.turns import Watch, table

RUNS, WARMING, MOST = 20, 3, 15


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(workshop_in(Path(folder)))
        for _ in range(WARMING):
            bench.traveller(Watch())
        profile = cProfile.Profile()
        profile.enable()
        for _ in range(RUNS):
            bench.traveller(Watch())
        profile.disable()
    stats = pstats.Stats(profile).stats  # type: ignore[attr-defined]
    own = {where: times[2] for where, times in stats.items()}
    whole = sum(own.values())
    rooms: dict[str, float] = defaultdict(float)
    for (file, _, _), took in own.items():
        rooms[_room(file)] += took
    print(table(("room, own time", "share"), _rows(rooms, whole)))
    functions: dict[str, float] = defaultdict(float)
    for (file, _, name), took in own.items():
        functions[f"{_room(file)} {Path(file).stem}.{name}"] += took
    print(f"\n{table(('function, own time', 'share'), _rows(functions, whole))}")
    return 0


def _rows(took: dict[str, float], whole: float) -> list[tuple[str, str]]:
    most = sorted(took.items(), key=lambda each: -each[1])[:MOST]
    return [(f"`{name}`", f"{each / whole * 100:.1f} %") for name, each in most]


def _room(file: str) -> str:
    """The folder of the program, or the library, that a function is of."""
    parts = Path(file).parts
    if "site-packages" in parts:
        return parts[parts.index("site-packages") + 1]
    if "generator" in parts:
        return "/".join(parts[parts.index("generator") : -1])
    return "Python"


if __name__ == "__main__":
    sys.exit(main())
