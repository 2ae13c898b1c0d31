"""Every operation of the scenario is in a demo process, of its kind, about the same thing.

A row is the scenario's number and kind (W work, M measure, H hold, WT witness, IND independent, SUB
subcontract, T wait, C close), and words that the operation cannot do without. Where a process keeps
another number or kind on purpose, the reason stands under MOVED or OTHERWISE.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.process import Operation
from generator.workshop import open_shop

SHOP = open_shop(Path(__file__).parents[2])
PROCESSES = {process.number: process for process in SHOP.processes.values()}
KINDS = {
    "W": "work", "M": "measure", "H": "hold", "WT": "witness", "IND": "independent",
    "SUB": "subcontract", "T": "wait", "C": "close",
}  # fmt: skip

SCENARIO = {
    "T6-P-0110": """
        10 M thickness; 8 marked spots
        20 W mark; wax
        30 W cut; blank
        40 W grid; wax
        50 M block; templates
        60 M check; table
        70 W clamp; jaws
        80 H grips; guards
        90 W form; rise
        100 M grid; 7 stations
        110 W pressure; zero
        120 M orange peel; scores
        130 SUB heat; coupon
        140 T cold store
        150 W cold store; remove
        160 W form; rise
        170 M block; 35 points
        180 T room temperature
        190 M coupon; hardness
        200 M thickness; 7 stations
        210 W template; cut
        220 H form; thickness; coupon
        230 W protective
        240 C close
    """,
    "T6-P-0210": """
        10 M height; stations
        20 M slope; along and across
        30 H least squares
        40 M bar; certificate
        50 W cut; blanks
        60 W mill; faces
        70 W sine bar
        80 W mill; shell face
        90 M height; ends
        100 W bed; blue
        110 WT bedding
        120 W drill; jig
        130 W clamps; shell
        140 M wire; offsets
        150 W drill; fixing holes; template
        160 W ream; one pass
        170 M pin
        180 W remove; deburr
        190 W jointing compound
        200 W 20 bolts; two passes
        210 M swing
        220 H bores; locking; swing
        230 C close
    """,
    "T6-P-0310": """
        10 W kit; drag
        20 M ring; diameters
        30 W clamp; datum pins; 1, 7, 13, 19
        40 M chords; edges
        50 W ream; 24 bolt holes
        60 W 96 rivet holes; template
        70 W deburr; clean
        80 H sealant; edge; deburred
        90 W sealant; pot life
        100 W 24 bolts; washer
        110 W rivet; eighth
        120 M formed head; gauge
        130 W pass 1
        140 W pass 2
        150 W pass 3
        160 W round the circle
        170 M wrench; count
        180 IND order; count; lots; torque
        190 W witness paint
        200 M leaks; cured
        210 C close
    """,
    # 50: the lines are bled by hand before the hold; the six cycles of the jack follow it, at 65.
    "T6-P-0410": """
        10 W trestles; ballast
        20 M rig; relief valve
        30 M pipes; hoses
        40 W reservoir; down
        50 W bleed; 6 slow strokes
        60 H area clear; first pressure
        70 W 5 minutes; weeps
        80 W tubes; 5 minutes
        90 WT proof
        100 M leaks; 10 minutes; 2 minutes
        110 W retract; hand pump
        120 W extend; hand pump
        130 M over-centre; feelers
        140 W trigger
        150 M clearance; hand pump
        160 W retract; 3 times
        170 W extend; 3 times
        180 M emergency; pump switched off
        190 M lamps; locks
        200 IND over-centre; pins; trigger; hoses; pipes
        210 M fluid sample; reservoir
        220 H readings complete
        230 W ground locks; flags
        240 C close
    """,
    "T6-P-0510": """
        10 W rig pins; neutral
        20 M part numbers; wear
        30 W adjust; rods
        40 M straightness; length
        50 W cable; pulleys
        60 H routing; crossed
        70 W tension; temperature
        80 M threads; turnbuckles
        90 W remove; rig pins
        100 M travel; trailing edge
        110 W stops
        120 M disconnected
        130 W lock; connected
        140 M sense
        150 M tab; handwheel
        160 M full travel
        170 IND pins; locks; sense; travel; guards
        180 M tools
        190 H within limits; sense; 170
        200 C close
    """,
}
# The survey has a traveller of its own, whose completed result feeds the machining.
MOVED = {("T6-P-0210", n): ("T6-P-0205", n) for n in (10, 20, 30)}
# A stroke on the rig is timed against limits: it is a measurement.
OTHERWISE = {("T6-P-0410", 160): "measure", ("T6-P-0410", 170): "measure"}


def rows() -> list[tuple[str, int, str, list[str]]]:
    """Process, number, kind and words of every scenario operation."""
    made = []
    for process, block in SCENARIO.items():
        for line in block.strip().splitlines():
            number, kind, words = line.split(maxsplit=2)
            made.append((process, int(number), KINDS[kind], words.split("; ")))
    return made


def everything(operation: Operation) -> str:
    """All that the operation says, in small letters."""
    texts = [operation.do, *operation.steps, *operation.points, *operation.notes]
    texts += [reading.name for reading in operation.readings]
    texts += [line.label for line in operation.clock]
    return " ".join(texts).lower()


@pytest.mark.parametrize(("process", "number", "kind", "words"), rows())
def test_the_scenarios_operation_is_there(
    process: str, number: int, kind: str, words: list[str]
) -> None:
    to, own = MOVED.get((process, number), (process, number))
    (found,) = [o for o in PROCESSES[to].operations if o.number == own]
    assert found.kind == OTHERWISE.get((process, number), kind)
    assert [word for word in words if word not in everything(found)] == []


def test_no_scenario_operation_was_left_out_of_the_table() -> None:
    last = {
        "T6-P-0110": 240,
        "T6-P-0210": 230,
        "T6-P-0310": 210,
        "T6-P-0410": 240,
        "T6-P-0510": 200,
    }
    for process, number in last.items():
        have = [n for p, n, _, _ in rows() if p == process]
        assert have == list(range(10, number + 10, 10))


@pytest.mark.parametrize("process", sorted(PROCESSES))
def test_numbers_rise_and_the_last_operation_closes(process: str) -> None:
    operations = PROCESSES[process].operations
    numbers = [o.number for o in operations]
    assert numbers == sorted(set(numbers))
    assert [o.kind for o in operations].count("close") == 1
    assert operations[-1].kind == "close"


STOPS = [
    pytest.param(o, id=f"{process.number}-{o.number}")
    for process in PROCESSES.values()
    for o in process.operations
    if o.kind in ("hold", "witness", "independent")
]


@pytest.mark.parametrize("operation", STOPS)
def test_a_stop_says_who_may_let_the_work_go_on(operation: Operation) -> None:
    if operation.kind == "hold":
        assert operation.released_by in ("lead", "inspector", "lead or inspector")
        assert not (operation.steps or operation.readings or operation.by)
    elif operation.kind == "witness":
        assert operation.attended_by
        assert operation.notice is not None
    else:
        assert operation.points
        assert operation.first_by
        assert operation.second_by not in ("", operation.first_by)
