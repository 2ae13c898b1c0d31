"""Nothing in; operations of every kind with every pair of keys that an operation may have beside
each other, as the tree of one process, each with words of its own, out."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from itertools import combinations
from typing import Any

Tree = dict[str, Any]
NUMBER = "MU-P-0001"

# What each kind cannot be without; of a measurement any of the three.
NEEDS = {
    "work": (),
    "measure": ("readings",),
    "hold": ("released by",),
    "witness": ("attended by",),
    "independent": ("points",),
    "subcontract": (),
    "wait": ("clock",),
    "close": ("readings",),
}
WRITES = {"readings", "sense", "log"}
_RECORDS = ("rigging sheet", "functional test sheet", "heat treatment record")


def _readings(own: str) -> list[Tree]:
    return [
        {"name": f"length {own}", "nominal": "12 mm", "lower": "8 mm", "upper": "20 mm",
         "to": "0.5 mm", "with": "steel rule"},
        {"name": f"thickness {own}", "nominal": "thickness", "lower": "0.8 mm", "upper": "1 mm",
         "to": "0.001 mm", "with": "micrometer", "times": "3"},
        {"name": f"aimed {own}", "wanted": "3.2 +0.2/-0 mm", "to": "0.1 mm"},
        {"name": f"seen {own}", "entry": "words"},
        {"name": f"good {own}", "entry": "tick"},
        {"name": f"hour {own}", "entry": "clock"},
        {"name": f"life {own}", "entry": "date", "not before": "day of use"},
        {"name": f"count {own}", "entry": "count"},
    ]  # fmt: skip


def _clock(own: str) -> list[Any]:
    over = f"over {own}"
    return [f"begun {own}", {"label": over, "add": "20 min"},
            {"label": f"gone {own}", "not before": over}]  # fmt: skip


def _lookup(own: str) -> Tree:
    rows = [["1", f"low {own}"], ["2", f"high {own}"]]
    return {"title": f"table {own}", "columns": ["step mm", "answer"], "rows": rows,
            "from": "judgement"}  # fmt: skip


def _strip(_: str) -> Tree:
    return {"of": "flat.length", "over": "thickness", "from": "0.874 mm", "to": "0.954 mm",
            "step": "0.020 mm"}  # fmt: skip


def _sense(own: str) -> list[Tree]:
    return [{"do": f"handle {own} up", "see": f"shelf {own} UP"},
            {"do": f"handle {own} down", "see": f"shelf {own} DOWN"}]  # fmt: skip


def _heat(own: str) -> Tree:
    return {"alloy": f"alloy {own}", "treatment": f"treated {own}", "by": f"rule {own}",
            "coupon": f"coupon {own}", "quench": f"water {own}", "soak": "35 min"}  # fmt: skip


def _texts(word: str) -> Callable[[str], list[str]]:
    return lambda own: [f"{word.capitalize()} {own} first.", f"{word.capitalize()} {own} second."]


# A name for each thing that an operation may have -> its keys, from the words of its own.
THINGS: dict[str, Callable[[str], Tree]] = {
    "steps": lambda own: {"steps": _texts("step")(own)},
    "warning": lambda own: {"warning": _texts("warned")(own)},
    "caution": lambda own: {"caution": _texts("careful")(own)},
    "note": lambda own: {"note": _texts("noted")(own)},
    "start": lambda own: {"start": f"started {own}"},
    "leave": lambda own: {"leave": f"left {own}"},
    "if it fails": lambda own: {"if it fails": f"failed {own}"},
    "uses": lambda own: {"uses": [f"tool {own}"]},
    "by": lambda own: {"by": "lead"},
    "readings": lambda own: {"readings": _readings(own)},
    "strip": lambda own: {"strip": _strip(own)},
    "lookup": lambda own: {"lookup": _lookup(own)},
    "clock": lambda own: {"clock": _clock(own)},
    "window": lambda own: {"within": f"window_{own}", "takes": "14 min"},
    "sense": lambda own: {"sense": _sense(own)},
    "log": lambda own: {"log": {"of": {f"force {own}": "N"}, "every": "2 min", "for": "4 min"}},
    "heat treatment": lambda own: {"heat treatment": _heat(own)},
    "map": lambda own: {"map": "plain"},
    "ordered map": lambda own: {"map": "ordered", "tightens": "wrench"},
    "rivets": lambda own: {"map": "rivets"},
    "tightens": lambda own: {"tightens": "wrench"},
    "figure": lambda own: {"figure": "flat"},
    "leaves threads": lambda own: {"leaves threads": "oil-free"},
    "inspects": lambda own: {"inspects": [f"look {own}"]},
    "hides": lambda own: {"hides": ["cover"]},
    "released by": lambda own: {"released by": "inspector"},
    "attended by": lambda own: {"attended by": "inspector", "notice": "3 d"},
    "points": lambda own: {"points": _texts("point")(own), "first by": "inspector",
                           "second by": "independent inspector"},
    **{sheet: lambda own, sheet=sheet: {"recorded on": sheet} for sheet in _RECORDS},
}  # fmt: skip


def operations(kind: str, chance: random.Random, more: int) -> Iterator[Tree]:
    """Every thing alone and every two of them at an operation of this kind, then so many with
    three to six of them, numbered in tens."""
    alone = [(name,) for name in THINGS]
    several = [tuple(chance.sample([*THINGS], chance.randint(3, 6))) for _ in range(more)]
    number = 10
    for names in (*alone, *combinations(THINGS, 2), *several):
        if "rivets" in names and {"tightens", "ordered map"} & {*names}:
            continue  # a rivet is not tightened: told at its map, for all operations at once
        number += 10
        needs = [n for n in NEEDS[kind] if n not in names]
        if kind == "measure" and WRITES & {*names}:
            needs = []
        yield operation(kind, number, (*names, *needs))


def operation(kind: str, number: int, names: Sequence[str]) -> Tree:
    own = f"o{number}"
    made: Tree = {"number": f"{number}", "kind": kind, "do": f"Do {own} now."}
    for name in names:
        made |= THINGS[name](own)
    return made


def process(made: Sequence[Tree]) -> Tree:
    """A process with these operations behind two that all of them need."""
    own = {"from": "judgement"}
    windows = [each["within"] for each in made if "within" in each]
    plan = {"fasteners": "6", "item": "bolt 1/4-28", "looking": "aft"}
    ring = {**plan, "shape": "circle", "pitch circle": "300 mm", "numbering": "clockwise",
            "first": "top"}  # fmt: skip
    before = [
        {"number": "10", "kind": "measure", "do": "Measure the sheet.", "strip": _strip(""),
         "readings": [{"name": "thickness", "wanted": "0.914 ± 0.040 mm", "to": "0.001 mm"}],
         "inspects": ["cover"], "leaves threads": "oil-free"},
        {"number": "15", "kind": "work", "do": "Torque the bolt.", "tightens": "wrench"},
    ]  # fmt: skip
    return {
        **_front(),
        "given": {
            "thickness": {"is": "0.914 mm", "range": "0.874 to 0.954 mm", **own},
            "radius": {"is": "3.2 mm", **own},
            "leg": {"is": "25 mm", **own},
            "target": {"is": "60 lbf·in", **own},
            "drag": {"is": "8 lbf·in", **own},
            **{name: {"is": "20 min", **own} for name in windows},
        },
        "work out": _work_out(),
        "maps": {
            "plain": ring,
            "ordered": {**ring, "order": "order"},
            "rivets": {**ring, "fastening": "rivet", "item": "rivet 1/8 in"},
        },
        "operations": [*before, *made],
    }  # fmt: skip


def _work_out() -> Tree:
    return {
        "flat": {"use": "developed_length", "thickness": "thickness", "legs": ["leg", "leg"],
                 "bends": [{"radius": "radius", "bend_angle": "90°", "turns": "up"}]},
        "wrench": {"use": "wrench_setting", "thread": "1/4-28", "nut": "tension",
                   "lubrication": "oil-free", "target": "target", "drag": "drag",
                   "wrench_length": "10 in", "extension": "2 in", "extension_angle": "0°",
                   "shares": ["100 %"]},
        "order": {"use": "tightening_order_circle", "fasteners": "6"},
    }  # fmt: skip


def _front() -> Tree:
    return {
        "process": NUMBER,
        "title": "Made-up operations",
        "trade": "forming",
        "part": {"number": "MU-1", "name": "Shelf", "hand": "none", "serials": "4 digits",
                 "drawing": "none survives", "position": "hull"},
        "airframe": "6-03",
        "author": "LQ1",
        "checker": "LQ14",
        "revisions": [{"letter": "A", "date": "2026-09-28", "author": "LQ1", "approved by": "INS2",
                       "changed": "First issue.", "why": "Made up."}],
        "safety": ["sheet metal"],
        "instruments": [{"kind": "micrometer", "reads to": "0.001 mm"},
                        {"kind": "steel rule", "reads to": "0.5 mm"}],
    }  # fmt: skip
