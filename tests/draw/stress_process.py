"""Nothing in; a workshop folder with one process that asks for nearly everything a process may ask
for, in sixty operations with the longest texts that the schema allows and accented names, out.

It is YAML as a lead would write it, so it goes through every stage: nothing here is Markdown.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from tests.draw.stress_maps import spread
from tests.draw.stress_steps import operations
from tests.draw.stress_texts import filled, kinds

Tree = dict[str, Any]
NUMBER = "ST-P-9999"
SERIALS = tuple(f"{n:09d}" for n in range(999999988, 1000000000))
FASTENER = filled("bolt 1/4-28, vis à tête œ", 60)


def write_workshop(folder: Path, paper: str) -> Path:
    """The folder, with the workshop's own lists and the process."""
    room = folder / "processes" / "workshop"
    room.mkdir(parents=True)
    for name, tree in _lists(paper).items():
        (room / f"{name}.yaml").write_text(yaml_of(tree), encoding="utf-8")
    (folder / "processes" / "stress.yaml").write_text(yaml_of(process()), encoding="utf-8")
    return folder


def yaml_of(tree: Any, indent: str = "") -> str:
    """Plain YAML in blocks, every text in quotes."""
    return "".join(_lines(tree, indent))


def _lines(tree: Any, indent: str) -> Iterator[str]:
    pairs = tree.items() if isinstance(tree, Mapping) else ((None, each) for each in tree)
    for key, value in pairs:
        head = f"{indent}- " if key is None else f"{indent}{_quoted(key)}: "
        if isinstance(value, str):
            yield f"{head}{_quoted(value)}\n"
        elif key is None:
            # The first line of what stands in a list begins behind its dash.
            yield head + yaml_of(value, f"{indent}  ")[len(head) :]
        else:
            yield f"{head.rstrip()}\n"
            yield from _lines(value, f"{indent}  ")


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _lists(paper: str) -> Mapping[str, Tree]:
    held = (("LQ1", "lead"), ("LQ14", "volunteer"), ("INS2", "inspector"),
            ("IND4", "independent inspector"), ("HT9", "subcontractor"), ("AR1", "archivist"),
            ("ST5", "stores"))  # fmt: skip
    return {
        "workshop": {
            "workshop": filled("Přístavní dílna Łódź", 60),
            "aircraft": filled("Type 6 “Grågås”", 40),
            "desk": "A",
            "paper": paper,
            "backs": "yes",
            "language": "en-GB",
            "units": filled("Lengths in mm, torque in lbf·in, pressures as bar g (gauge).", 160),
            "guarded limits": "yes",
            "also in": {"lbf·in": "N·m", "mm": "in"},
        },
        "stamps": {
            "stamps": [{"stamp": s, "class": c, "from": "2024-01-08"} for s, c in held],
        },
        "instruments": {
            "instruments": [
                {"number": f"G-{100 + n}-ABCDEFGHIJKLMNOPQR", "kind": kind, "reads to": "0.001 mm",
                 "uncertainty": "0.003 mm", "range": "0 to 25 mm", "check due": "2027-03-15"}
                for n, kind in enumerate(kinds())
            ]
            + [{"number": "G-200", "kind": "torque wrench", "reads to": "0.5 lbf·in",
                "check due": "2027-04-02"}],
        },
    }  # fmt: skip


def process() -> Tree:
    """The whole process, in the order in which a lead writes it."""
    return {
        **_front(),
        "kit": _kit(),
        "tools": [filled(f"Vorrichtung {n}, smørekanne", 120) for n in range(1, 21)],
        "instruments": [
            *({"kind": kind, "reads to": "0.001 mm", "uncertainty": "0.005 mm",
               "needs": filled("from 0 to 25 mm, façon", 120)} for kind in kinds()),
            {"kind": "torque wrench", "reads to": "0.5 lbf·in"},
        ],
        "given": _given(),
        "work out": _work_out(),
        "maps": maps(),
        "operations": operations(),
    }  # fmt: skip


def _front() -> Tree:
    return {
        "process": NUMBER,
        "title": filled("Přední žebro, façade et œillets", 60),
        "trade": "control rigging",
        "part": {
            "number": "ST-9999-1P-LONGEST-NR-XX",
            "name": filled("Žebro přídě, grågås", 60),
            "hand": "PORT",
            "serials": "9 digits",
            "set": f"{len(SERIALS)}",
            "drawing": filled("GA-6-999 issue 12 (tisk)", 120),
            "known as": [filled(f"Côte nº {n}", 60) for n in range(1, 5)],
            "position": filled("příď, paluba N4, port", 120),
        },
        "airframe": filled("6-03 œ", 20),
        "author": "LQ1",
        "checker": "LQ14",
        "revisions": [
            {"letter": letter, "date": f"2026-0{n}-14", "author": "LQ1", "approved by": "INS2",
             "changed": filled(f"Změna {letter}:", 300), "why": filled(f"Důvod {letter}:", 300)}
            for n, letter in enumerate("ABCDE", start=5)
        ],
        "prerequisites": [
            {"evidence": filled(f"EV-0{n} ě", 60), "says": filled("musí ukázat", 160)}
            for n in range(301, 307)
        ],
        "documents": [
            {"number": filled(f"LQ-{n}", 40), "issue": filled("issue č.", 40),
             "title": filled("Règles d’atelier", 120)}
            for n in range(1, 7)
        ],
        "safety": ["sheet metal", "drilling", "stretch forming", "hydraulics", "heat treatment",
                   "machining", "riveting", "bolting", "paint and sealants", "alone"],
        "warning": [filled(f"Nebezpečí {n} pro celou práci:", 300) for n in range(1, 4)],
    }  # fmt: skip


def _kit() -> list[Tree]:
    return [
        {"item": FASTENER, "sort": "hardware", "quantity": "200", "spares": "12", "batch": "yes",
         "use by": "yes", "single use": "yes"},
        {"item": filled("nit 1/8 in, č.", 60), "sort": "hardware", "quantity": "999",
         "batch": "yes"},
        *({"item": filled(f"Dichtmasse Nr. {n}, põhjalik", 80), "sort": "consumable",
           "quantity": "0.5 kg", "batch": "yes", "use by": "yes"} for n in range(1, 13)),
        *({"item": filled(f"Blech Nr. {n}", 80), "sort": "material", "quantity": "12"}
          for n in range(1, 9)),
    ]  # fmt: skip


def _named(start: str) -> str:
    """A name of forty signs, the longest there may be."""
    return (start + "_as_it_was_measured_on_the_original_part")[:40]


SPARE = [_named(f"number_{n}") for n in range(1, 8)]


def _given() -> Tree:
    note = filled("od původního dílu č. 7:", 200)
    own = {"from": "judgement", "note": note}
    return {
        "thickness": {"is": "0.914 mm", "range": "0.874 to 0.954 mm",
                      "from": "measured from an original part", "note": note},
        "radius": {"is": "3.2 ± 0.1 mm", "from": "original drawing", "note": note},
        "leg": {"is": "25 ± 0.1 mm", "from": "measured from the mating structure", "note": note},
        "web": {"is": "160 ± 0.1 mm", "from": "mirrored", "note": note},
        "bend": {"is": "90°", "from": "original drawing", "note": note},
        "target": {"is": "60 lbf·in", **own},
        "drag": {"is": "8 lbf·in", "range": "4 to 14 lbf·in", **own},
        "wrench_length": {"is": "10.0 in", "range": "9.0 to 11.0 in", **own},
        "extension": {"is": "2.0 in", **own},
        "soak_heat": {"is": "495 °C", **own},
        "soak_time": {"is": "35 min", **own},
        "soak_most": {"is": "60 min", **own},
        "keep": {"is": "30 d", **own},
        "delay": {"is": "10 s", **own},
        "window": {"is": "20 min", **own},
        "store": {"is": "-18 °C", **own},
        "ageing": {"is": "96 h", **own},
        **{name: {"is": "1234.567 mm", "tolerance": "each", **own} for name in SPARE},
    }  # fmt: skip


def _work_out() -> Tree:
    bends = [{"radius": "radius", "bend_angle": "bend", "turns": turn, **holds}
             for turn, holds in (("up", {}), ("down", {}), ("up", {"holds": "leg after"}))]  # fmt: skip
    return {
        "developed": {"use": "developed_length", "thickness": "thickness",
                      "legs": ["leg", "web", "web", "leg"], "bends": bends},
        "allowance": {"use": "bend_allowance", "thickness": "thickness", "radius": "radius",
                      "bend_angle": "bend"},
        "wrench": {"use": "wrench_setting", "thread": "1/4-28", "nut": "tension",
                   "lubrication": "oil-free", "target": "target", "drag": "drag",
                   "wrench_length": "wrench_length", "extension": "extension",
                   "extension_angle": "0°", "shares": ["30 %", "70 %", "100 %"]},
        "order_99": {"use": "tightening_order_circle", "fasteners": "99"},
        "order_200": {"use": "tightening_order_circle", "fasteners": "200"},
        "order_rows": {"use": "tightening_order_rows",
                       "rows": [{"fasteners": f"{17 if n < 12 else 13}"} for n in range(1, 13)]},
        "order_places": {"use": "tightening_order_placed",
                         "places": [{"across": f"{x:g} mm", "up": f"{y:g} mm"}
                                    for x, y in spread(200, 35.0)]},
        "order_grid": {"use": "tightening_order_rectangle", "rows": "9", "columns": "11"},
        "formers": {"use": "loft", "points": [*_lofted()], "taper": "curved", "inside": "below",
                    "stations": [f"{at} mm" for at in range(0, 901, 150)], "skin": "0.9 mm",
                    "hand": "STBD", "wanted_hand": "PORT", "looking": "aft", "read_to": "0.5 mm"},
        **{_named(f"sum_{n}"): {"is": f"{name} + 2 * radius", "to": "0.01 mm", "safe": "up"}
           for n, name in enumerate(SPARE, start=1)},
    }  # fmt: skip


def _lofted() -> Iterator[Tree]:
    """Points of a skin that is rounder in the middle, at three stations."""
    for at, radius, crown in ((0, 120, -20), (450, 100, -14), (900, 110, -17)):
        for y in range(-70, 71, 14):
            up = crown - radius + math.sqrt(radius**2 - y * y)
            yield {"at": f"{at} mm", "across": f"{y + 10} mm", "up": f"{up:.3f} mm"}


def maps() -> Mapping[str, Tree]:
    """Maps of every shape, with and without an order, up to the most that may be."""
    bolt = {"fastening": "bolt", "item": FASTENER, "looking": "aft"}
    rivet = {"fastening": "rivet", "item": filled("nit 1/8 in, č.", 60), "looking": "inboard",
             "facts": ["thickness", "radius", "leg", "web", *SPARE[:6]]}  # fmt: skip
    ring = {"shape": "circle", "pitch circle": "2400 mm", "numbering": "anticlockwise"}
    row_names = [filled(f"řada {n},", 40) for n in range(1, 13)]
    lengths = [17] * 11 + [13]
    in_rows = {name: f"{n}" for name, n in zip(row_names, lengths, strict=True)}
    named = [{"across": f"{x / 4:g} mm", "up": f"{y / 4:g} mm", "mark": f"P-{n}-XYZW"[:8]}
             for n, (x, y) in enumerate(spread(30, 70.0), 1)]  # fmt: skip
    many = [{"across": f"{x:g} mm", "up": f"{y:g} mm"} for x, y in spread(200, 35.0)]
    datum = filled("levý dolní roh příruby", 80)
    lines = {"shape": "rows", "numbering": "row by row", "first": "left"}
    return {
        "ring_99": {**ring, **bolt, "fasteners": "99", "first": "top", "order": "order_99"},
        "ring_200": {**ring, **bolt, "fasteners": "200", "first": "left", "order": "order_200",
                     "each takes": {FASTENER: "1"}},
        "ring_full_size": {**ring, **bolt, "fasteners": "36", "first": "bottom",
                           "pitch circle": "300 mm", "full size": "yes", "line": "hole centres"},
        "grid_99": {"shape": "rectangle", **bolt, "fasteners": "99", "rows": "9", "columns": "11",
                    "pitch across": "40 mm", "pitch down": "35 mm", "first": "bottom right",
                    "numbering": "row by row", "order": "order_grid"},
        "grid_high": {"shape": "rectangle", **bolt, "fasteners": "99", "rows": "33",
                      "columns": "3", "first": "top left", "numbering": "row by row"},
        "grid_long": {"shape": "rectangle", **bolt, "fasteners": "48", "rows": "2",
                      "columns": "24", "first": "top left", "numbering": "row by row",
                      "full size": "yes", "line": "hole centres", "pitch across": "20 mm",
                      "pitch down": "20 mm"},
        "rows_200": {**lines, **bolt, "fasteners": "200", "in rows": in_rows, "order": "order_rows"},
        "rivets_200": {**lines, **rivet, "fasteners": "200", "in rows": in_rows},
        "rivets_long": {**lines, **rivet, "fasteners": "200",
                        "in rows": {row_names[0]: "120", row_names[1]: "80"}},
        "placed_30": {"shape": "placed", **bolt, "fasteners": "30", "places": named,
                      "datum": datum, "full size": "yes", "line": "hole centres"},
        "placed_200": {"shape": "placed", **rivet, "fasteners": "200", "places": many,
                       "datum": datum},
        "placed_order": {"shape": "placed", **bolt, "fasteners": "200", "places": many,
                         "datum": datum, "order": "order_places"},
    }  # fmt: skip
