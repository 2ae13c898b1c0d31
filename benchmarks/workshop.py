"""A number in; a workshop of so many different processes, the same ones every time, out.

Of each twenty, one is a demo process under a number, a part and texts of its own, three have forty
operations, and sixteen are small. Numbers of sheets, legs and fasteners differ, and most wait for
others that stand before them.
"""

from __future__ import annotations

import random
import re
import shutil
from pathlib import Path

from benchmarks.traveller import HEAD, yaml_text

ROOT = Path(__file__).parents[1]
_DEMO = sorted(
    f for f in (ROOT / "processes").rglob("T6-P-*.yaml") if not f.name.startswith("values-")
)
_WORDS = ("bracket", "rib", "clip", "gusset", "angle", "stiffener", "shelf", "duct", "cleat")


def write_workshop(folder: Path, count: int) -> list[str]:
    """The files of the processes, seen from the folder; what stands there already stays."""
    room = folder / "processes"
    if not room.exists():
        shutil.copytree(ROOT / "processes" / "workshop", room / "workshop")
    files = []
    for n in range(1, count + 1):
        shown = f"processes/{n // 100:03d}/{number_of(n)}.yaml"
        files.append(shown)
        place = folder / shown
        if not place.exists():
            place.parent.mkdir(exist_ok=True)
            place.write_text(process_text(n), encoding="utf-8")
    return files


def number_of(n: int) -> str:
    """The number of the n-th process."""
    return f"T6-L-{n:05d}"


def process_text(n: int) -> str:
    """The n-th process."""
    text = _of_demo(n) if n % 20 == 0 else _of_travellers(n)
    text = re.sub(r"(?m)^process: .*$", f"process: {number_of(n)}", text)
    before = "".join(f"  - {{process: {each}, says: part is there}}\n" for each in _before(n))
    if not before:
        return text
    if "\nprerequisites:\n" in text:
        return text.replace("\nprerequisites:\n", f"\nprerequisites:\n{before}", 1)
    return text.replace("\nsafety:", f"\nprerequisites:\n{before}safety:", 1)


def _before(n: int) -> list[str]:
    """The processes that the n-th waits for: none, one or two of those before it."""
    chance = random.Random(n)
    earlier = {chance.randrange(1, n) for _ in range(n % 3)} if n > 1 else set()
    return [number_of(each) for each in sorted(earlier)]


def _of_demo(n: int) -> str:
    """A demo process for another part, with another reason; its numbers hang together and stay."""
    text = _DEMO[n // 20 % len(_DEMO)].read_text(encoding="utf-8")
    text = re.sub(r"(?m)^  - process: .*$", f"  - evidence: EV-{n:05d}", text)
    text = re.sub(r"(?m)^  number: .*$", f"  number: T6-{n}-1", text, count=1)
    return re.sub(r"(?m)^    why: (.*)$", rf"    why: \1 Airframe part {n}.", text, count=1)


def _of_travellers(n: int) -> str:
    chance = random.Random(-n)
    operations = 40 if n % 20 in (5, 10, 15) else chance.randrange(8, 15)
    text = yaml_text(n, operations).removeprefix(HEAD)
    thickness, fasteners = chance.choice(("0.914", "1.0", "0.95")), chance.randrange(8, 21, 2)
    legs = ", ".join(f"{chance.randrange(20, 70)}.{chance.randrange(10)} mm" for _ in range(3))
    head = HEAD.replace("[25 mm, 60 mm, 25 mm]", f"[{legs}]")
    head = head.replace("fasteners: 12", f"fasteners: {fasteners}")
    head = head.replace("quantity: 12", f"quantity: {fasteners}")
    head = head.replace("T6-999-1P", f"T6-{n}-1P").replace("Something to measure", f"Part {n}")
    what = _WORDS[n % len(_WORDS)]
    head = re.sub(r"(?m)^title: .*$", f"title: {what.capitalize()} {n} of the hull", head)
    if thickness != "0.914":
        low, high = f"{float(thickness) - 0.04:.3f}", f"{float(thickness) + 0.04:.3f}"
        for old, new in (("0.914", thickness), ("0.874", low), ("0.954", high)):
            head, text = head.replace(old, new), text.replace(old, new)
    if operations < 13:  # the map stands at the thirteenth
        head = re.sub(r"maps:\n(  .*\n)+", "", head)
        head = re.sub(r"(?m)^  order: .*\n", "", head)
    return head + text
