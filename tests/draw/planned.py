"""A seed, in; a random sheet in which every word is its own, and the plan it was written from, out."""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

SAMPLE = Path(__file__).parent / "sample.md"
UNITS = ("mm", "bar g", "tick", "words", "clock", "date", "count")
KINDS = ("work", "measure", "measure", "wait", "close", "hold", "witness", "independent")
BOXES_OF_A_READING = {"tick": 2, "clock": 2}


@dataclass
class Planned:
    """An operation as written: the words of its warning and of its instruction, the
    names of its readings, and how many boxes it has."""

    number: str
    kind: str
    warning: list[str] = field(default_factory=list)
    instruction: list[str] = field(default_factory=list)
    readings: list[str] = field(default_factory=list)
    boxes: int = 0


@dataclass
class Plan:
    """A whole sheet: words that stand in it once, words that a new page may say again, and the
    first words under each section's heading."""

    markdown: str = ""
    once: list[str] = field(default_factory=list)
    again: list[str] = field(default_factory=list)
    sections: list[tuple[str, str]] = field(default_factory=list)
    operations: list[Planned] = field(default_factory=list)


class Writer:
    """Writes one sheet and keeps the plan of it."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)
        self.numbers = count(1)
        self.plan = Plan()
        self.lines: list[str] = []

    def words(self, least: int, most: int, kept: list[str] | None = None) -> str:
        made = [f"k{next(self.numbers)}x" for _ in range(self.chance.randint(least, most))]
        (self.plan.once if kept is None else kept).extend(made)
        return " ".join(made)

    def table(self, opening: str, rows: list[str]) -> None:
        dashes = "| --- " * (rows[0].count("|") - 1) + "|"
        self.lines += [opening, rows[0], dashes, *rows[1:], ":::" if opening else "", ""]

    def write(self) -> Plan:
        frame = SAMPLE.read_text(encoding="utf-8").partition("\n:::\n")[0]
        self.lines += [frame, ":::", "", "# Main leg retraction", ""]
        for _ in range(self.chance.randint(1, 5)):
            self.section()
        self.lines += ["# Operations", ""]
        for number in range(1, self.chance.randint(4, 12)):
            self.operation(str(10 * number))
        self.lines += ["# End of traveller", ""]
        self.plan.markdown = "\n".join(self.lines)
        return self.plan

    def section(self) -> None:
        heading = self.words(1, 1)
        self.lines += [f"## {heading}", ""]
        start = next(self.numbers)
        self.numbers = count(start)
        if self.chance.random() < 0.5:
            self.lines += [self.words(5, 90), ""]
        else:
            head = f"| {self.words(1, 1, self.plan.again)} | {self.words(1, 1, self.plan.again)} |"
            rows = [
                f"| {self.words(1, 9)} | {self.words(1, 20)} |" for _ in range(self.some(1, 12))
            ]
            self.table("", [head, *rows])
        self.plan.sections.append((heading, f"k{start}x"))

    def some(self, least: int, most: int) -> int:
        return self.chance.randint(least, most)

    def operation(self, number: str) -> None:
        one = Planned(number, self.chance.choice(KINDS))
        self.plan.operations.append(one)
        self.lines += [f"## {number} {one.kind}", ""]
        if self.chance.random() < 0.4:
            name = self.chance.choice(["warning", "caution"])
            self.lines += [f"::: {name}", self.words(4, 40, one.warning), ":::", ""]
        self.lines += [
            f"**{self.words(1, 1, one.instruction)}** {self.words(3, 24, one.instruction)}"
        ]
        self.lines += [""]
        self.plan.once += [*one.warning, *one.instruction]
        if one.kind in ("work", "measure", "wait", "close"):
            one.boxes += 2  # done, N/A
            self.blocks(one)
        one.boxes += self.sign(one.kind)

    def blocks(self, one: Planned) -> None:
        if self.chance.random() < 0.4:
            rows = [f"| {c} | {self.words(3, 25)} |" for c in "abcdef"[: self.some(1, 6)]]
            self.table("::: steps", rows)
            one.boxes += len(rows)
        if self.chance.random() < 0.2:
            self.table(
                "::: clock", [f"| {self.words(1, 2)} | |", f"| {self.words(1, 2)} | + 5 min |"]
            )
            one.boxes += 6
        if self.chance.random() < 0.7:
            one.boxes += self.readings(one)
        if self.chance.random() < 0.3:
            rows = [f"| {self.words(1, 4)} |" for _ in range(self.some(1, 4))]
            self.table("::: numbers", rows)
            one.boxes += len(rows)
        if self.chance.random() < 0.3:
            self.table("::: state", [f"| leave | {self.words(2, 30)} |"])

    def readings(self, one: Planned) -> int:
        rows, boxes = [], 0
        for _ in range(self.some(1, 15)):
            unit, times = (
                self.chance.choice(UNITS),
                self.chance.choice([1, 1, 1, 1, self.some(2, 9)]),
            )
            figures = unit in ("mm", "bar g", "count")
            limits = "| 9.5 | 10.25 " if figures and self.chance.random() < 0.7 else "| - | - "
            name = self.words(1, 5, self.plan.again if times > 1 else None)
            one.readings.append(name)
            rows.append(f"| {name} {limits}| {unit} | {times} |")
            boxes += times * BOXES_OF_A_READING.get(unit, 1)
        self.table("::: readings", ["| reading | lower | upper | unit | times |", *rows])
        return boxes

    def sign(self, kind: str) -> int:
        if kind == "hold":
            self.table("::: sign hold", ["| released by | lead |", "| closes operations | all |"])
            return 3
        if kind == "witness":
            self.table("::: sign witness", ["| notice | 3 days |", "| by | inspector |"])
            self.table("::: sign done", ["| done by | volunteer |"])
            return 8 + 3
        if kind == "independent":
            points = [
                f"| {self.words(1, 12)} | inspector | second |" for _ in range(self.some(1, 9))
            ]
            self.table("::: sign independent", points)
            return 4 * len(points)
        self.table("::: sign done", ["| done by | volunteer |"])
        return 3


def planned(seed: int) -> Plan:
    """The sheet of a seed."""
    return Writer(seed).write()
