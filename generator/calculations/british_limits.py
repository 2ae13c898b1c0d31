"""A Whitworth or British Association thread and its class in; the limits of its diameters out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives, looked_up
from generator.calculations.thread_limits import MORE, InchBolt, InchNut, InchUnit, MetricBolt
from generator.calculations.threads import AssociationRow, WhitworthRow
from generator.quantities.amount import Amount
from generator.quantities.functions import step
from generator.quantities.window import Window, window

WHITWORTH = "BS 84:2007, tolerance formulas, as an open specification document has them"
FORMULA = (
    "T = 0.002 ∛D + 0.003 √L + 0.005 √p in inches; effective diameter: two thirds of T close, T "
    "medium, one and a half T free (nuts: normal)"
)
BOLTS = {"close": (2 / 3, 0.013), "medium": (1.0, 0.02), "free": (1.5, 0.02)}
NUTS = {"close": 2 / 3, "medium": 1.0, "normal": 1.5}
DEPTH = 1 / (3 * math.tan(math.radians(27.5)))  # of the thread, in pitches
Engaged = Annotated[
    Amount, given("L", "in", "length of engagement", at_least="0.05", at_most="3",
                  beyond="A usual nut engages one diameter")
]  # fmt: skip


def _tolerance(diameter: float, engaged: float, pitch: float) -> float:
    roots: float = 0.002 * diameter ** (1 / 3) + 0.003 * math.sqrt(engaged)
    return roots + 0.005 * math.sqrt(pitch)


def _tolerance_by_logs(diameter: float, engaged: float, pitch: float) -> float:
    parts = ((0.002, diameter, 3), (0.003, engaged, 2), (0.005, pitch, 2))
    return sum(math.exp(math.log(share) + math.log(of) / root) for share, of, root in parts)


def _bolt(row: Any, engaged: float, name: str, inch: float, tolerance: Any) -> InchBolt:
    size, pitch = row.diameter / inch, 1 / (row.threads * inch)
    wide = BOLTS[name][0] * tolerance(size, engaged / inch, pitch)
    low = size - wide - 0.01 * math.sqrt(pitch)
    effective = size - DEPTH * pitch
    made: Any = InchBolt
    found: InchBolt = made(
        window({"not go": low * inch}, {"go": size * inch}),
        window({"not go": (effective - wide) * inch}, {"go": effective * inch}),
    )
    return found


def _bolt_again(row: Any, engaged: float, bolt_class: str, inch: float) -> InchBolt:
    return _bolt(row, engaged, bolt_class, inch, _tolerance_by_logs)


@calculation(
    source=WHITWORTH,
    not_covered=MORE + "; the standard's printed tables, which round and take a usual engagement; "
    "the minor diameter of the bolt, which a gauge judges",
    method=f"{FORMULA}; major diameter: 0.01 √p more",
    second=Second(_bolt_again, "0.000001 in", "roots by logarithms"),
    examples=(
        Example(
            {"series": "BSF", "size": "1/4", "engaged": "0.25 in", "bolt_class": "medium"},
            {"effective.to": "0.2254 in", "effective.from": "0.2216 in", "major.from": "0.2443 in"},
            "formula of BS 84:2007 worked by hand: 1/4 BSF, T = 0.00374 in",
            "0.0001 in",
        ),
        Example(
            {"series": "BSF", "size": "3/8", "engaged": "0.375 in", "bolt_class": "medium"},
            {"effective.to": "0.343 in", "effective.from": "0.3386 in", "major.from": "0.3684 in"},
            "formula of BS 84:2007 worked by hand: 3/8 BSF, T = 0.0044 in",
            "0.0001 in",
        ),
    ),
)
def whitworth_bolt_limits(
    row: Annotated[WhitworthRow, looked_up("whitworth_thread")],
    engaged: Engaged,
    bolt_class: Annotated[str, choice("class of the bolt", *BOLTS)],
    inch: InchUnit,
) -> InchBolt:
    """Limits of a Whitworth bolt thread (BSW, BSF), by its class."""
    long: Any = engaged
    one: Any = inch
    return _bolt(row, long, bolt_class, one, _tolerance)


def _nut(row: Any, engaged: float, name: str, inch: float, tolerance: Any) -> InchNut:
    size, pitch = row.diameter / inch, 1 / (row.threads * inch)
    wide = NUTS[name] * tolerance(size, engaged / inch, pitch)
    per_inch = round(1 / pitch)
    room = 0.2 * pitch + (0.004 if per_inch >= 26 else 0.005 if per_inch >= 22 else 0.007)
    minor, effective = size - 2 * DEPTH * pitch, size - DEPTH * pitch
    made: Any = InchNut
    found: InchNut = made(
        window({"go": minor * inch}, {"not go": (minor + room) * inch}),
        window({"go": effective * inch}, {"not go": (effective + wide) * inch}),
    )
    return found


def _nut_again(row: Any, engaged: float, nut_class: str, inch: float) -> InchNut:
    return _nut(row, engaged, nut_class, inch, _tolerance_by_logs)


@calculation(
    source=WHITWORTH,
    not_covered=MORE + "; the standard's printed tables, which round and take a usual engagement",
    method=f"{FORMULA}; minor diameter: 0.2 p and 0.004 in from 26 threads per inch, 0.005 in for "
    "24 and 22, 0.007 in up to 20",
    second=Second(_nut_again, "0.000001 in", "roots by logarithms"),
    examples=(
        Example(
            {"series": "BSF", "size": "1/4", "engaged": "0.25 in", "nut_class": "medium"},
            {"effective.to": "0.2291 in", "minor.to": "0.2124 in"},
            "formula of BS 84:2007 worked by hand: 0.2254 + 0.0037; 0.2007 + 0.2/26 + 0.004",
            "0.0001 in",
        ),
    ),
)
def whitworth_nut_limits(
    row: Annotated[WhitworthRow, looked_up("whitworth_thread")],
    engaged: Engaged,
    nut_class: Annotated[str, choice("class of the nut", *NUTS)],
    inch: InchUnit,
) -> InchNut:
    """Limits of a Whitworth nut thread (BSW, BSF), by its class."""
    long: Any = engaged
    one: Any = inch
    return _nut(row, long, nut_class, one, _tolerance)


BRITISH = "BS 93:1951 section 3 and BS 93:2008 annex B"
CLASSES = ("close", "normal")


def _ba_bolt_by_pairs(
    row: Any, bolt_class: str, allowance: float, close_crest: float, crest: float,
    close_flank: float, flank: float, close_more: float, more: float,
) -> MetricBolt:  # fmt: skip
    """Each limit from the one before, downwards."""
    close = bolt_class == CLASSES[0]
    down = 0.0 if close else allowance
    crests = (close_crest if close else crest) * row.pitch
    flanks = close_flank * row.pitch + close_more if close else flank * row.pitch + more
    ends = []
    for basic, wide in ((row.diameter, crests), (row.effective, flanks)):
        middle = basic - down - wide / 2
        ends.append(Window(middle - wide / 2, middle + wide / 2, "", ""))
    made: Any = MetricBolt
    bare: MetricBolt = made(*ends)
    return bare


@calculation(
    source=f"{BRITISH}: close and, for 0 to 10 BA, normal",
    not_covered=MORE + "; normal class from 11 BA, whose tolerances are others; minor diameters, "
    "which a gauge judges",
    second=Second(_ba_bolt_by_pairs, "0.00001 mm", "middle and half of each tolerance"),
    examples=(
        Example(
            {"ba": "0", "bolt_class": "normal"},
            {"major.to": "5.975 mm", "major.from": "5.775 mm", "effective.from": "5.25 mm"},
            "BS 93, pitch 1 mm by hand: 6 − 0.025, 0.20 less; 5.4 − 0.025 − 0.125",
        ),
        Example(
            {"ba": "2", "bolt_class": "close"},
            {"major.to": "4.7 mm", "major.from": "4.5785 mm", "effective.from": "4.1302 mm"},
            "BS 93, pitch 0.81 mm by hand: 0.1215 and 0.0848 mm",
            "0.0001 mm",
        ),
    ),
)
def ba_bolt_limits(
    row: Annotated[AssociationRow, looked_up("ba_thread")],
    bolt_class: Annotated[str, choice("class of the bolt", *CLASSES)],
    allowance: Annotated[Amount, given("a", "mm", "allowance, normal", fixed="0.025 mm")],
    close_crest: Annotated[Amount, given("c_1", "", "crest, close", fixed="0.15 ratio")],
    crest: Annotated[Amount, given("c_2", "", "crest, normal", fixed="0.20 ratio")],
    close_flank: Annotated[Amount, given("f_1", "", "flank, close", fixed="0.08 ratio")],
    flank: Annotated[Amount, given("f_2", "", "flank, normal", fixed="0.10 ratio")],
    close_more: Annotated[Amount, given("g_1", "mm", "and, close", fixed="0.02 mm")],
    more: Annotated[Amount, given("g_2", "mm", "and, normal", fixed="0.025 mm")],
    nothing: Annotated[Amount, given("a_0", "mm", "allowance, close", fixed="0 mm")],
) -> MetricBolt:
    """Limits of a British Association bolt thread, by its class."""
    if bolt_class == CLASSES[0]:
        down, crests, flanks, over = nothing, close_crest, close_flank, close_more
    else:
        down, crests, flanks, over = allowance, crest, flank, more
        step(row.pitch, "p", "mm", "pitch of 0 to 10 BA", at_least="0.349",
             wrong="a pitch of {value} is finer than 10 BA: its normal class has other "
             "tolerances; take close")  # fmt: skip
    top = step(row.diameter - down, "d_max", "mm", "largest major diameter")
    high = step(row.effective - down, "d_2max", "mm", "largest effective diameter")
    return MetricBolt(
        window({"not go": top - crests * row.pitch}, {"go": top}),
        window({"not go": high - (flanks * row.pitch + over)}, {"go": high}),
    )


@dataclass(frozen=True)
class BritishNut:
    """Limits of a nut thread in mm."""

    minor: Annotated[Window, gives("D_1", "mm", "minor diameter", to="0.001")]
    effective: Annotated[Window, gives("D_2", "mm", "effective diameter", to="0.001")]


def _ba_nut_by_middle(row: Any, root: float, flank: float, more: float) -> BritishNut:
    made: Any = BritishNut
    ends = []
    for basic, wide in ((row.minor, root * row.pitch), (row.effective, flank * row.pitch + more)):
        middle = basic + wide / 2
        ends.append(Window(middle - wide / 2, middle + wide / 2, "", ""))
    bare: BritishNut = made(*ends)
    return bare


@calculation(
    source=BRITISH,
    not_covered=MORE,
    second=Second(_ba_nut_by_middle, "0.00001 mm", "middle and half of each tolerance"),
    examples=(
        Example(
            {"ba": "0"},
            {"minor.from": "4.8 mm", "minor.to": "5.175 mm", "effective.to": "5.55 mm"},
            "BS 93, pitch 1 mm by hand: 0.375, and 0.12 + 0.03",
        ),
    ),
)
def ba_nut_limits(
    row: Annotated[AssociationRow, looked_up("ba_thread")],
    root: Annotated[Amount, given("c_3", "", "minor diameter", fixed="0.375 ratio")],
    flank: Annotated[Amount, given("f_3", "", "effective diameter", fixed="0.12 ratio")],
    more: Annotated[Amount, given("g_3", "mm", "and", fixed="0.03 mm")],
) -> BritishNut:
    """Limits of a British Association nut thread."""
    return BritishNut(
        window({"go": row.minor}, {"not go": row.minor + root * row.pitch}),
        window({"go": row.effective}, {"not go": row.effective + flank * row.pitch + more}),
    )
