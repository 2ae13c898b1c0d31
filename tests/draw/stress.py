"""Nothing in; a sheet of sixty operations with the longest texts and accented names, out."""

from __future__ import annotations

import random
from pathlib import Path

SAMPLE = Path(__file__).parent / "sample.md"
LONG = (
    "Übergang an der Ångström-Naht mit Łukasz’ Lehre prüfen, façade et œillet d’après la façon "
    "habituelle, čistě a přesně, ½ Umdrehung bei ≤ 20 °C und ± 0.05 mm, Ø 8 mm, 3 × 120°, µm-genau, "
    "√2 → Δ, so that the longest text that a lead may write still stands whole on the page."
)
WORD = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft"


def stress_sheet(seed: int = 1, operations: int = 60) -> str:
    """A frame and a front page from the sample, then operations of every kind with long texts."""
    chance = random.Random(seed)
    front, _, _ = SAMPLE.read_text(encoding="utf-8").partition("# Operations")
    # The numbers section is left out: every value here is plain text.
    body = "".join(_operation(chance, 10 * n) for n in range(1, operations + 1))
    return f"{_no_links(front)}# Operations\n\n{body}# End of traveller\n"


def _no_links(text: str) -> str:
    import re

    return re.sub(r"\[([^\]]*)\]\(#\w+\)", r"\1", text)


def _operation(chance: random.Random, number: int) -> str:
    kind = chance.choice(["work", "measure", "measure", "work", "hold", "witness", "independent"])
    words = LONG if number % 70 == 0 else LONG[: chance.randint(30, 180)].rsplit(" ", 1)[0]
    lines = [f"## {number} {kind}", ""]
    if chance.random() < 0.5:
        lines += ["::: warning", f"Hurt in step {number}. {LONG[:90]}", ":::", ""]
    lines += [f"**CHECK** item {number}. {words}", ""]
    if kind in ("work", "measure"):
        lines += _working_blocks(chance, number)
    lines += _sign(kind, number)
    return "\n".join([*lines, ""])


def _working_blocks(chance: random.Random, number: int) -> list[str]:
    lines: list[str] = []
    if chance.random() < 0.5:
        lines += ["::: steps", f"| a | Step one of {number}. |", "| --- | --- |"]
        lines += [f"| {chr(98 + i)} | {LONG[: 40 + 9 * i]}. |" for i in range(chance.randint(0, 4))]
        lines += [":::", ""]
    rows = chance.choice([1, 2, 5, 14])
    lines += [
        "::: readings",
        "| reading | lower | upper | unit | times |",
        "| --- | --- | --- | --- | --- |",
    ]
    for i in range(rows):
        unit, times = chance.choice(
            [
                ("mm", 1),
                ("bar g", 1),
                ("tick", 1),
                ("words", 1),
                ("mm", 8),
                ("clock", 1),
                ("date", 1),
            ]
        )
        limits = (
            ("-", "-")
            if unit in ("tick", "words", "clock", "date")
            else ("12.345", "−0.5" if i else "99.9")
        )
        name = WORD if number % 130 == 0 and i == 0 else f"value {i} of {number}"
        lines.append(f"| {name} | {limits[0]} | {limits[1]} | {unit} | {times} |")
    return [*lines, ":::", ""]


def _sign(kind: str, number: int) -> list[str]:
    if kind == "hold":
        return [
            "::: sign hold",
            "| released by | inspector |",
            "| --- | --- |",
            "| closes operations | all |",
            ":::",
            "",
        ]
    if kind == "witness":
        return [
            "::: sign witness",
            "| notice | 3 d |",
            "| --- | --- |",
            "| by | inspector |",
            ":::",
            "",
        ]
    if kind == "independent":
        return [
            "::: sign independent",
            f"| point of {number} | inspector | independent inspector |",
            "| --- | --- | --- |",
            f"| {LONG[:120]} | inspector | independent inspector |",
            ":::",
            "",
        ]
    return ["::: sign done", "| done by | volunteer |", "| --- | --- |", ":::", ""]
