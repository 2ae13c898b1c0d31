"""Nothing in; the sixty operations of the stress process out: first those that ask for one printed
thing each, at its largest, then ordinary ones with texts of many lengths."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import Any

from tests.draw.stress_texts import WORD, filled, kinds

Tree = dict[str, Any]
COUNT = 60
FULL_DO = 300


def operations() -> list[Tree]:
    """All of them, numbered in tens, the last few with the largest numbers there may be."""
    chance = random.Random(4)
    made = [*_of_every_kind(), *_with_tables(), *_with_maps(), *_on_other_sheets()]
    while len(made) < COUNT - 1:
        made.append(_ordinary(chance, len(made)))
    made.append(_close())
    assert len(made) == COUNT
    numbers = [10 * n if n < 50 else 9000 + 10 * n for n in range(1, COUNT + 1)]
    return [{"number": f"{number}", **_own_words(each, number)}
            for number, each in zip(numbers, made, strict=True)]  # fmt: skip


def _own_words(operation: Tree, number: int) -> Tree:
    """An operation whose instruction and cautions begin with words that no other has."""
    own = dict(operation)
    if "do" in own:
        own["do"] = f"Step {number}: {own['do']}"[:FULL_DO]
    for key in ("warning", "caution", "note"):
        if key in own:
            texts = own[key] if isinstance(own[key], list) else [own[key]]
            own[key] = [f"In {number}, {key} {i}: {text}" for i, text in enumerate(texts, 1)]
    return own


def _of_every_kind() -> Iterator[Tree]:
    yield {
        "kind": "work", "do": filled("Vrtejte otvory, {{ thickness }} a {{ developed.length }},", 291),
        "steps": [filled(f"Krok {n}: {{{{ allowance }}}}", 240) for n in range(1, 25)],
        "warning": filled("Nebezpečí:", 300),
        **_states(),
        "by": "subcontractor", "leaves threads": "oil-free",
        "inspects": [filled("otvory", 60)],
    }  # fmt: skip
    yield {"kind": "measure", "do": filled("Změřte všechno,", 291), **_states(),
           "caution": [filled(f"Pozor {n}:", 250) for n in (1, 2)],
           "note": filled("Poznámka: {{ wrench.setting }}", 200), "readings": [*_readings(12)]}  # fmt: skip
    yield {"kind": "hold", "do": filled("Před prvním ohybem:", 291), "released by": "lead or inspector",
           **_states(), "inspects": [filled("hrany", 60)]}  # fmt: skip
    yield {"kind": "witness", "do": filled("Zkouška tlaku,", 291), "notice": "14 d",
           "attended by": "lead or inspector", "warning": filled("Tlak:", 300)}  # fmt: skip
    points = [filled(f"Bod {n}: æðel", 160) for n in range(1, 25)]
    yield {"kind": "independent", "do": filled("Prohlédněte každý bod zvlášť,", 291),
           "first by": "inspector", "second by": "independent inspector", "points": points,
           "note": filled("Dva lidé:", 300), "if it fails": filled("Stůj:", 200)}  # fmt: skip
    yield {"kind": "subcontract", "do": filled("Odešlete díl,", 291), "by": "subcontractor",
           "readings": [*_readings(4)], "clock": _clock(8)}  # fmt: skip
    yield {"kind": "wait", "do": filled("Čekejte,", 291), "clock": _clock(12), **_states(),
           "caution": filled("Zima:", 300)}  # fmt: skip
    yield {"deleted at": "C"}


def _states() -> Tree:
    return {"start": filled("Stav na začátku:", 200), "leave": filled("Nechte:", 200),
            "if it fails": filled("Když ne:", 200)}  # fmt: skip


def _clock(count: int) -> list[Any]:
    """Every other one adds; of those between, two name the sum before them that they keep to."""
    keeps = {2: "not before", 4: "not after"}
    sums = {n: filled(f"Čas {n} å", 36) for n in range(1, count + 1, 2)}
    return [{"label": sums[n], "add": f"{n} min"} if n in sums
            else {"label": f"Čas {n}, ďábel", keeps[n]: sums[n - 1]} if n in keeps
            else f"Čas {n}, ďábel" for n in range(1, count + 1)]  # fmt: skip


def _readings(count: int) -> Iterator[Tree]:
    """A reading of every form in turn, with the longest names."""
    kind = kinds()
    forms: list[Tree] = [
        {"wanted": "12.345 ± 0.050 mm", "to": "0.001 mm", "with": kind[0], "times": "8"},
        {"lower": "-99.999 mm", "upper": "999.999 mm", "to": "0.001 mm", "with": kind[1]},
        {"entry": "count", "exactly": "200"},
        {"entry": "words"},
        {"entry": "clock"},
        {"entry": "date", "not before": "day of use"},
        {"entry": "tick"},
        {"unit": "bar g"},
        {"nominal": "wrench.setting", "lower": "40 lbf·in", "upper": "70 lbf·in",
         "to": "0.5 lbf·in", "with": "torque wrench"},
        {"lower": "0 mm", "upper": "1 mm", "to": "0.001 mm", "with": kind[2], "times": "36"},
        {"entry": "count", "lower": "4", "upper": "12"},
        {"nominal": "developed.length", "lower": "300 mm", "upper": "600 mm", "to": "0.1 mm"},
    ]  # fmt: skip
    for n in range(1, count + 1):
        name = f"{n} {WORD}"[:80] if n == 4 else filled(f"hodnota {n}, façon", 80)
        yield {"name": name, **forms[(n - 1) % len(forms)]}


def _with_tables() -> Iterator[Tree]:
    strip = {"of": ["developed.length", "allowance"], "over": "thickness", "from": "0.874 mm",
             "to": "0.954 mm", "step": "0.010 mm", "between": "larger"}  # fmt: skip
    yield {"kind": "measure", "do": filled("Změřte plech,", 291), "strip": strip,
           "readings": [*_readings(2)], "note": filled("Proužek:", 300)}  # fmt: skip
    yield {"kind": "work", "do": "Set the wrench to the row that is ticked.",
           "strip": {"of": ["wrench.passes.1", "wrench.passes.2", "wrench.setting"], "over": "drag",
                     "from": "4 lbf·in", "to": "14 lbf·in", "step": "1 lbf·in",
                     "between": "nearer", "chart": "yes"},
           "readings": [*_readings(1)]}  # fmt: skip
    grid = {"of": "wrench.setting", "over": "wrench_length", "from": "9.0 in", "to": "11.0 in",
            "step": "0.2 in", "between": "nearer",
            "across": {"over": "drag", "from": "4 lbf·in", "to": "14 lbf·in", "step": "2 lbf·in",
                       "between": "nearer"}}  # fmt: skip
    yield {"kind": "work", "do": filled("Délka klíče,", 291), "strip": grid, **_states()}
    yield {"kind": "work", "do": filled("Odečtěte z tabulky,", 291), **_lookup(4, 24, 32),
           "readings": [*_readings(2)]}  # fmt: skip
    yield {"kind": "work", "do": filled("Odečtěte z čísel,", 291), **_lookup(9, 24, 8)}
    yield {"kind": "work", "do": filled("Odečtěte z křivky,", 200), **_lookup(5, 24, 8, chart=True),
           "readings": [*_readings(2)]}  # fmt: skip
    leg = {"wanted": "25.0 ± 0.3 mm", "to": "0.1 mm"}
    profile = [{"name": filled(f"noha {n}", 80), **leg, "with": kinds()[n],
                "on figure": f"leg {n}"} for n in range(1, 4)]  # fmt: skip
    yield {"kind": "work", "do": filled("Ohněte,", 291), "figure": "developed",
           "readings": profile, "warning": filled("Lis drtí prsty:", 300)}  # fmt: skip
    flat = {"of": "developed", "view": "flat pattern", "width": "240 mm", "relief": "6 mm",
            "grain": "along the length", "order": "2 1 3", "full size": "yes",
            "line": "cut line"}  # fmt: skip
    there = [{"name": filled("úhel", 80), "wanted": "90.0 ± 0.3 °", "to": "0.1°",
              "on figure": ["angle 1", "angle 3"], "figure at": "150"}]  # fmt: skip
    yield {"kind": "work", "do": filled("Orýsujte rozvin,", 291), "figure": flat,
           "readings": there, "caution": filled("Rýha praská:", 300)}  # fmt: skip
    yield {"kind": "work", "do": filled("Vyřízněte šablony,", 291),
           "figure": {"of": "formers", "full size": "yes", "line": "inside of skin"}}  # fmt: skip


def _lookup(columns: int, rows: int, signs: int, chart: bool = False) -> Tree:
    heads = [f"{n} šířka od osy, čís {n} mm" for n in range(columns)]
    cells = [
        [f"{row}"] + [f"{row * n}.5" if signs < 12 else filled(f"{row * n}", signs)
                      for n in range(1, columns)]
        for row in range(1, rows + 1)
    ]  # fmt: skip
    table = {"title": filled("Tabulka:", 120), "from": "calculated", "columns": heads,
             "rows": cells, "framed": "3"}  # fmt: skip
    return {"lookup": {**table, "chart": "yes"} if chart else table}


def _with_maps() -> Iterator[Tree]:
    plain = ("ring_full_size", "grid_high", "grid_long", "rows_200", "rivets_200", "rivets_long",
             "placed_30", "placed_200")  # fmt: skip
    for name in plain:
        much = name in ("grid_high", "rows_200", "placed_200")
        more = {"caution": filled("Pozor na hlavy:", 300), **_states()} if much else {}
        yield {"kind": "work", "do": f"Nýtujte podle mapy {name}.", "map": name, **more,
               "if it fails": "Zavolejte mistra."}  # fmt: skip
    for name in ("ring_99", "ring_200", "grid_99", "placed_order"):
        yield {"kind": "work", "do": filled(f"Utáhněte podle mapy {name},", 291), "map": name,
               "tightens": "wrench", "warning": filled("Prst v klíči:", 300),
               "if it fails": filled("Povolte všechno:", 200)}  # fmt: skip
    yield {"kind": "work", "do": filled("Utáhněte bez mapy,", 291), "tightens": "wrench",
           "readings": [{"name": filled("šrouby torqued", 80), "entry": "count", "exactly": "40"}]}  # fmt: skip


def _on_other_sheets() -> Iterator[Tree]:
    sense = [{"do": filled(f"řídicí páka {n}", 80), "see": filled(f"hrana {n} NAHORU", 80)}
             for n in range(1, 13)]  # fmt: skip
    yield {"kind": "measure", "do": filled("Zkuste smysl řízení,", 291), "sense": sense,
           "warning": filled("Křížené řízení zabíjí:", 300), **_states(),
           "readings": [*_readings(3)], "clock": _clock(2)}  # fmt: skip
    yield {"kind": "measure", "recorded on": "rigging sheet", "do": filled("Změřte výchylky,", 291),
           "caution": [filled(f"Doraz {n}:", 300) for n in (1, 2)], "start": filled("Stav:", 200),
           "readings": [*_readings(7)], "clock": _clock(6)}  # fmt: skip
    log = {"of": {filled(f"{name} č.", 30): unit for name, unit in
                  (("tlak", "bar g"), ("olej", "°C"), ("vzduch", "°C"), ("síla", "lbf·in"))},
           "every": "2 min", "for": "90 min"}  # fmt: skip
    yield {"kind": "measure", "do": filled("Zkouška těsnosti,", 291), "log": log,
           "warning": filled("Paprsek oleje:", 300)}  # fmt: skip
    yield {"kind": "measure", "recorded on": "functional test sheet",
           "do": filled("Zapište tlaky,", 291), "readings": [*_readings(6)],
           "clock": _clock(4), "within": "window", "takes": "14 min"}  # fmt: skip
    heat = {
        "alloy": filled("plech Al-Cu-Mg", 80), "treatment": filled("rozpouštěcí žíhání", 80),
        "by": filled("LQ-HT-04 č.", 80), "quench": filled("vody", 40), "set": "soak_heat",
        "soak": "soak_time", "delay": "delay", "window": "window", "store": "store",
        "ageing": "ageing", "most": "2", "coupon": filled("zkušební proužek č.", 120),
        "soak most": "soak_most", "keep": "keep",
    }  # fmt: skip
    band = {"name": filled("teplota pece", 40), "lower": "490 °C", "upper": "500 °C", "to": "1 °C"}
    yield {"kind": "subcontract", "do": filled("Tepelné zpracování,", 291), "heat treatment": heat,
           "by": "subcontractor", "readings": [*_readings(6), band], "clock": _clock(8)}  # fmt: skip


def _ordinary(chance: random.Random, place: int) -> Tree:
    """An operation such as a lead writes, its texts of any length."""
    kind = chance.choice(["work", "measure", "work", "hold", "witness", "independent", "wait"])
    made: Tree = {"kind": kind, "do": filled(f"Udělejte {place},", chance.randint(30, 291))}
    for key in ("warning", "caution", "note"):
        if chance.random() < 0.4:
            made[key] = filled(f"{key} {place}:", chance.randint(40, 200))
    if kind == "hold":
        return {**made, "released by": "inspector"}
    if kind == "witness":
        return {**made, "attended by": "inspector", "notice": "3 d"}
    if kind == "independent":
        points = [filled(f"bod {n}", chance.randint(20, 160)) for n in range(chance.randint(1, 5))]
        return {**made, "points": points, "first by": "inspector",
                "second by": "independent inspector"}  # fmt: skip
    if kind == "wait" or chance.random() < 0.2:
        made["clock"] = _clock(chance.randint(1, 4))
    if kind == "work" and chance.random() < 0.7:
        made["steps"] = [filled(f"krok {n}", chance.randint(20, 240))
                         for n in range(1, chance.randint(2, 5))]  # fmt: skip
    if kind == "measure" or chance.random() < 0.5:
        made["readings"] = [*_readings(chance.choice([1, 2, 3]))]
    return made


def _close() -> Tree:
    return {"kind": "close", "do": filled("Uzavřete průvodku,", 291), "hides": [filled("otvory", 60), filled("hrany", 60)],
            "uses": [filled(f"nůžky {n}", 80) for n in range(1, 5)],
            "readings": [{"name": filled("otevřené", 80), "entry": "count", "exactly": "0"},
                         {"name": filled("listy", 80), "entry": "count"}]}  # fmt: skip
