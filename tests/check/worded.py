"""Sentences a lead might write: those with a slip under the code of its advice, and good ones."""

from __future__ import annotations

import dataclasses
from functools import cache
from typing import Any

from generator.check.wording import wording_faults
from generator.process import ClockLine, Log, Operation, Process, Reading
from generator.quantities.text import read_amount
from generator.workshop import open_shop
from tests.helping import SOUND


@cache
def sound() -> Process:
    return next(p for file, p in open_shop(SOUND).processes.items() if file.endswith("shelf.yaml"))


def process_with(*operations: Operation, warnings: tuple[str, ...] = ()) -> Process:
    """A sound process with other operations in it."""
    return dataclasses.replace(sound(), operations=operations, warnings=warnings)


def row(name: str = "gap", to: str = "0.1 mm", upper: str = "1.2 mm", **other: Any) -> Reading:
    limit = read_amount(upper) if upper else None
    step = read_amount(to) if to else None
    entry = other.pop("entry", "number")
    return Reading(name, entry, None, None, limit, "mm", step, "", other.pop("times", 1))


def work(*steps: str, **other: Any) -> Operation:
    """An operation with nothing to be said about it but the steps, and what else is written."""
    made = {"kind": "work", "do": "Install the strut.", "steps": steps, **other}
    return Operation(10, **made)


def measured(do: str, **other: Any) -> Operation:
    fails = other.pop("fails", "Raise a slip.")
    return Operation(10, kind=other.pop("kind", "measure"), do=do, if_it_fails=fails, **other)


Case = str | Operation | tuple[Operation, ...]


def codes(case: Case) -> list[str]:
    operation = work(case) if isinstance(case, str) else case
    operations = operation if isinstance(operation, tuple) else (operation,)
    return [fault.code for fault in wording_faults(process_with(*operations))]


HOLD = Operation(10, kind="hold", do="Before first pressure: barrier set, area clear.")
BEND = Operation(10, kind="hold", do="Before the first bend: nose bar in the brake.")
BARRIER = ("A jet of fluid goes through skin.",)
LOG = Log({"pressure": "bar g", "oil": "°C"}, read_amount("2 min"), read_amount("10 min"))


def pumped(do: str = "Pressurize the pipe to {{ proof.proof }}.", **other: Any) -> Operation:
    return Operation(20, kind="work", do=do, **other)


SEALED = ClockLine("start", None)

BAD: dict[str, list[Case]] = {
    "verb": [
        "The strut must be removed.",
        "Slowly retract the jack.",
        "Rivets are dipped in primer.",
        "Pass 2: all bolts again.",
        "IF the seam weeps, THEN the bay is closed.",
        measured("The play of the hinge", readings=(row(),)),
    ],
    "meaning": [
        "Fit the bush.",
        "Replace the seal of the cock.",
        "IF the cable is slack, THEN secure the drum.",
        "Set up the trestles under the keel.",
        "Remove the pin. Tick the box. Compare the two halves.",
    ],
    "ensure": [
        "Ensure the bilge is dry.",
        "Make sure that the cock is shut.",
        "Lower the leg and confirm the lamp is lit.",
        measured("Measure the gap.", readings=(row(),), fails="See that nobody moves the column."),
    ],
    "verify": [
        "Verify the order of the shims.",
        measured("Check the nut by turning the spanner.", readings=(row(),)),
        measured("Check the lock by pulling the pin.", readings=(row(),)),
    ],
    "actions": [
        "Drill and deburr 6 holes.",
        "Remove the pin, then ream the hole.",
        "Remove the pin. Ream the hole.",
        "Lower the leg; install the lock.",
        "Fill the tank and open the cock to the line.",
    ],
    "condition": [
        "Stop if oil appears.",
        "Apply the second coat when the first is dry.",
        "Remove the clamps after the glue has cured.",
        "If the rib is cracked scrap it.",
        "Lower the leg unless the lamp is lit.",
        measured("Measure the gap.", readings=(row(),), fails="Raise a slip if it is wide."),
    ],
    "criterion": [
        measured("Inspect the spar."),
        "Check the chine seam.",
        "Test the emergency lowering.",
    ],
    "what-if-not": [
        measured("Measure the gap.", readings=(row(),), fails=""),
        measured("Inspect the spar for cracks.", fails="", kind="work"),
        measured("Test the lamps: both are lit.", fails="", kind="work"),
    ],
    "field": [
        "Measure the end float.",
        "Record the batch of the glue.",
        "Count the nuts.",
    ],
    "own-row": [
        measured("Measure the wires.", readings=(row("tension of each wire"),)),
        measured("Measure the wires.", readings=(row("all four tensions"),)),
        measured("Measure the ends.", readings=(row("play at both ends"),)),
    ],
    "decimals": [
        measured("Measure the gap.", readings=(row(to=""),)),
        measured("Measure the gap.", readings=(row(upper="1.25 mm"),)),
        measured("Measure the gap.", readings=(row(to="1 mm", upper="2.5 mm"),)),
    ],
    "dash": [
        "Set the gap to 0.8-1.2 mm.",
        "Heat the oven to 20 – 25 °C.",
        "Turn the tab −2—3° from neutral.",
        "Torque bolts 3–6 of the ring.",
        measured("Measure the gap.", readings=(row("gap at 5-7 mm from the edge"),)),
        work(warnings=("The bath stands at 80-90 °C and scalds. Wear gauntlets.",)),
    ],
    "bare-number": [
        "Set the stop to 25.",
        "Torque the nuts to 12.5, from the middle outward.",
        "Cut a blank 51 x 25 mm.",
        "Mill the base to 25 ± 0.1.",
        "Heat the block to no more than 140.",
    ],
    "zero": [
        "Mark a line .5 mm from the edge.",
        "Ream the hole to .250 in.",
        work(notes=("Shims of .1 mm lie in the box.",)),
    ],
    "vague": [
        "Tighten the nut securely.",
        "Lubricate the hinge as required.",
        "Remove the pumps etc.",
        "Tighten the gland until snug.",
        "Clean and/or scrape the seam.",
        work(leave="suitable cover over the bay"),
    ],
    "about": [
        "Fill the cup with about 40 drops.",
        "Heat the block for approximately 10 min.",
        "Cut the strip ~ 30 mm wide.",
    ],
    "warning": [
        work(warnings=("Fuel vapour burns. Drain the tank.",)),
        work(cautions=("Remove the two pins before the door swings.",)),
        work(warnings=("Oil at 90 °C burns skin. Open the cock to the bath.",)),
    ],
    "note": [
        work(notes=("Torque the nut to 5 N·m.",)),
        work(notes=("The wheel is stiff. Lubricate it with grease G2.",)),
        work(notes=("Install all washers under the head.",)),
    ],
    "reference": [
        "Drill the holes to the drawing.",
        "Mix the glue as in the manual.",
        "Mark the holes to drawing K-204.",
        "Repeat the above steps once.",
        "Set the stop as before.",
    ],
    "repeat": [
        "Repeat the bleeding.",
        "Repeat steps 5 to 7.",
        measured("Measure the gap.", readings=(row(),), fails="Repeat the measurement."),
    ],
    "clock": [
        "Close the joint within 20 min.",
        "Position the sheets within {{ pot_life }}.",
        "Rivet the seam in less than 2 h.",
    ],
    "modal": [
        "Wet the felt; the cloth should drip.",
        "Turn the wheel, and the tab may move.",
        "Lower the leg; somebody must watch the lamp.",
    ],
    "long": [
        "Install the long keel bolt from below through keel, hog, floor and bearer, with its washer "
        "on the upper side of the bearer.",
        work(
            notes=(
                "The keel of this hull was laid in two lengths that meet under the second frame, "
                "and the joint between them was never meant to carry the load of the wheels.",
            )
        ),
        measured(
            "Measure the gap.",
            readings=(row(),),
            fails="Put the blue tag with the words that the inspector gave on the lower end of the "
            "strut that stands nearest to the gap.",
        ),
    ],
    "pressure": [
        (HOLD, pumped()),
        (HOLD, pumped("Blank off the jack.", steps=("Raise the pressure slowly.",))),
        (HOLD, pumped("Test for weeps.", log=LOG, if_it_fails="Raise a slip.")),
        (HOLD, pumped(warnings=BARRIER), pumped("Apply the proof pressure.")),
    ],
    "first-pressure": [
        pumped(warnings=BARRIER),
        (BEND, work("Bend the leg."), pumped(cautions=BARRIER)),
        (pumped(warnings=BARRIER), HOLD, pumped("Raise the pressure.", warnings=BARRIER)),
        (Operation(10, kind="witness", do="Show the pressure."), pumped(warnings=BARRIER)),
    ],
}  # fmt: skip

GOOD: dict[str, list[Case]] = {
    "verb": [
        "Remove the strut.",
        "IF oil appears, THEN stop.",
        "Pass 1: torque all 20 bolts.",
        "Varnish the inside of the box.",
        "With the jack extended, lower the leg.",
        "Re-torque bolts 1 to 4.",
        "Do not turn the wheel.",
        Operation(10, kind="hold", do="Before sealant: the faces are within limits."),
    ],
    "meaning": ["Install the bush.", "Install a new seal.", "Remove the fitting of the pipe."],
    "ensure": [
        "Check the bilge: no water stands in it.",
        "Shut the cock.",
        work(notes=("The lamp makes surer what the lever shows.",)),
    ],
    "verify": [
        Operation(10, kind="independent", do="Verify each point.", points=("Pins: locked",)),
        measured("Check the nut against the mark.", readings=(row(),)),
        measured("Check that the cock is open.", readings=(row(),)),
    ],
    "actions": [
        "Drill 6 holes.",
        "Clamp skin, ring and doubler together.",
        "Position file and drill beside the block.",
        "Ream the hole. Tick the row.",
        "Cut a slot at the mark, square to the edge.",
        "IF the gauge passes 5 bar g, THEN stop. Relieve the pressure.",
        "Hold the bar and rivet the seam at the same time.",
    ],
    "condition": [
        "IF oil appears, THEN stop.",
        "WHEN the first coat is dry, THEN apply the second.",
        "Turn the nut until it touches.",
        "Rotate the pin by hand after each pass.",
        "Repeat pass 3 once only.",
        Operation(10, kind="close", do="Close the sheet when no slip is open."),
    ],
    "criterion": [
        measured("Inspect the spar for cracks."),
        measured("Check the gap.", readings=(row(),)),
        measured("Check the sweep against template 4."),
        "Remove the spar.",
    ],
    "what-if-not": [
        measured("Measure the gap.", readings=(row(),)),
        work("Check the seam: no gap. IF there is one, THEN raise a slip."),
        measured("Measure the gap.", readings=(row(),), steps=("IF it is wide, THEN stop.",)),
        work(readings=(row("strut in", entry="tick", upper="", to=""),)),
    ],
    "field": [
        measured("Measure the end float.", readings=(row(),)),
        Operation(10, kind="wait", do="Record the time.", clock=(SEALED,)),
        "Install the counted nuts.",
    ],
    "own-row": [
        measured("Measure the wires.", readings=(row("tension of each wire", times=4),)),
        measured("Measure the wire.", readings=(row("tension of wire 1"),)),
        measured("Look at it.", readings=(row("both lamps lit", entry="tick", upper="", to=""),)),
    ],
    "decimals": [
        measured("Measure the gap.", readings=(row(),)),
        measured("Measure the gap.", readings=(row(to="0.05 mm", upper="1.2 mm"),)),
        measured("Look at it.", readings=(row("lamp lit", entry="tick", upper="", to=""),)),
    ],
    "dash": [
        "Set the gap to 0.8 mm to 1.2 mm.",
        "Install 24 bolts 1/4-28 of the kit.",
        "Install the screws 10-32 in the plate.",
        "Mark the sheet with T6-310-1 and 2026-11-25.",
        "Set the tab to -2.5°.",
        "Turn the nut on by one half-turn.",
    ],
    "bare-number": [
        "Set the stop to 25 mm.",
        "Set the wrench to {{ wrench.setting }}.",
        "Torque bolts 1 to 24 in the order of the map.",
        "Cut a blank 51 mm x 25 mm.",
        "Tighten the nut to the mark at station 4.",
        "Relieve the load to 0, then stop.",
    ],
    "zero": ["Mark a line 0.5 mm from the edge.", "Wait 3.5 h.", "Install part 12.5.1 in the box."],
    "vague": [
        "Tighten the nut by two flats.",
        "Tag the suite of charts.",
        "Hold the rule normal to the skin.",
        work(notes=("Such joints normally stay dry.",)),
    ],
    "about": [
        "Fill the cup with 38 to 42 drops.",
        "Rotate the arm about its axis.",
        "Heat the block for about 10 min, at least 9 min.",
    ],
    "warning": [
        work(warnings=("Oil at 90 °C burns skin. Wear gauntlets.",)),
        work(warnings=("Heat burns. Never open the cock.",)),
        work(cautions=("Drill chips dent the skin. Hold the sheet off the bench.",)),
    ],
    "note": [
        work(notes=("Torque is the sum of table and drag.",)),
        work(notes=("Screw lead 1.25 mm, one start.",)),
        work(notes=("Do not read the lower scale.",)),
    ],
    "reference": [
        "Drill the holes to drawing K-204 issue C.",
        "Check the paint against the standard colour.",
        "Draw the drawing number on the blank.",
        "Repeat steps 3 to 5 once.",
        "Hang the lamp above the bench.",
    ],
    "repeat": [
        "Repeat steps 5 to 7 until no bubble shows.",
        "Repeat pass 3 once only.",
        "Repeat for all 20 holes.",
        "Repeat the cycle 3 times.",
    ],
    "clock": [
        work("Close the joint within 20 min.", clock=(SEALED,)),
        "Position the marks within 2 mm of the line.",
        "Wait 20 min.",
    ],
    "modal": [
        "Wet the felt.",
        "Install the block that may move.",
        "Remove the oil can.",
    ],
    "long": [
        "Install the keel bolt from below.",
        "Torque all bolts once more round the circle, 1 to 24, wrench as ticked (at a nominal drag "
        "of this nut that the column of operation 10 names).",
        "Cut the blank to 120 mm, 130 mm, 140 mm, 150 mm, 160 mm, 170 mm, 180 mm and 190 mm lengths.",
    ],
    "pressure": [
        (HOLD, pumped(warnings=BARRIER)),
        (HOLD, pumped(cautions=BARRIER, log=LOG)),
        "Relieve the pressure to zero.",
        "Do not pressurize the line.",
        "Press the bush in.",
        work(log=Log({"oil": "°C"}, read_amount("2 min"), read_amount("10 min"))),
    ],
    "first-pressure": [
        (HOLD, work("Connect the jack."), pumped()),
        (BEND, pumped()),
        (Operation(10, kind="hold", do="Ready.", points=("Pressure off",)), work(), pumped()),
        "Read the pressure.",
    ],
}  # fmt: skip
