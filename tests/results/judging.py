"""A small form with what was entered in it, and the codes that it gets."""

from __future__ import annotations

from datetime import date

from generator.process import Instrument, Stamp
from generator.results.case import Books
from generator.results.entries import entry_of
from generator.results.form import IN_HAND, Field, Form, Key
from generator.results.form_says import Stop
from generator.results.judge import judged

T = "traveller"
LOST = "lost, and what was done"
VERDICTS = ("in", "between", "out")
DONE, DAY = "done by volunteer stamp", "done by volunteer date"


def signed(operation: str, row: str, who: str, says: str) -> list[Field]:
    return [
        Field(T, operation, row, f"{says} stamp", "stamp", (f"{says} stamp",), who=who),
        Field(T, operation, row, f"{says} date", "date", (f"{says} date",)),
    ]


def point(place: str, who: str) -> list[Field]:
    """A row of a rigging sheet: its day stands before its stamp."""
    row = f"point 1: {place}, {who}"
    return [
        Field("rigging-sheet", "140", row, "date", "date", ("date",)),
        Field("rigging-sheet", "140", row, "stamp", "stamp", ("stamp",), who=who),
    ]


FORM = Form(
    (
        Field(T, "10", "gap", "", "number", ("gap, mm",), lower="0.5", upper="0.8", unit="mm"),
        Field(T, "10", "clean", "", "choice", ("clean: yes", "clean: no"), ("yes", "no")),
        Field(T, "10", "micrometer no.", "", "words", ("micrometer no.",)),
        *signed("10", "sign done", "volunteer", "done by volunteer"),
        *signed("20", "sign hold", "inspector", "released by inspector"),
        Field(T, "30", "operation", "30 done", "tick", ("30 done",)),
        Field(T, "30", "operation", "30 N/A", "words", ("30 N/A",), may_be_empty=True),
        Field("inspection-sheet", "", "feature 1", "in", "choice", VERDICTS, VERDICTS),
        *signed("30", "sign done", "volunteer", "done by volunteer"),
        *signed("40", "pins", "inspector", "1: inspector"),
        *signed("40", "pins", "independent inspector", "2: independent inspector"),
        Field("kit-list", "", "1 bolt", "issued", "words", ("issued",)),
        Field("kit-list", "", "1 bolt", "used", "words", ("used",)),
        Field("kit-list", "", "1 bolt", "returned", "words", ("returned",)),
        Field("kit-list", "", "1 bolt", "scrapped", "words", ("scrapped",)),
        Field(T, "", "first", "operation or line", "words", ("line",), may_be_empty=True),
        Field(T, "", "first", "which box, and the reason", "words", ("why",), may_be_empty=True),
        Field(T, "", "first", "stamp", "stamp", ("stamp",), may_be_empty=True),
        Field(
            "inspection-sheet",
            "",
            "feature 1",
            "actual",
            "number",
            ("actual, mm",),
            lower="8.90",
            upper="9.10",
            unit="mm",
            accept_from="8.93",
            accept_to="9.07",
        ),
        Field("inspection-sheet", "", "feature 2", "1 of 3", "number", ("1 of 3, mm",)),
        Field("inspection-sheet", "", "feature 2", "2 of 3", "number", ("2 of 3, mm",)),
        Field("inspection-sheet", "", "feature 2", "3 of 3", "number", ("3 of 3, mm",)),
        Field("inspection-sheet", "", "feature 2", "mean, mm", "words", ("mean, mm",)),
        Field("inspection-sheet", "", "feature 2", "range, mm", "words", ("range, mm",)),
        Field(
            "closing-sheet", "", "traveller", IN_HAND, "number", (IN_HAND,), lower="5", upper="5"
        ),
        Field("closing-sheet", "", "traveller", LOST, "words", (LOST,), may_be_empty=True),
        *point("first", "inspector"),
        *point("second", "independent inspector"),
        Field("slips", "", "found", "slip no.", "words", ("slip no.",), may_be_empty=True),
    ),
    ("10", "20", "30", "40"),
    (Stop("20", "hold", ("10",)), Stop("40", "independent", ())),
)
SECOND = "point 1: second, independent inspector"
SOUND: dict[Key, str] = {
    (T, "10", "gap", ""): "0.8",
    (T, "10", "clean", ""): "yes",
    (T, "10", "micrometer no.", ""): "G-101",
    (T, "10", "sign done", DONE): "LQ14",
    (T, "10", "sign done", DAY): "02 NOV 2026",
    (T, "20", "sign hold", "released by inspector stamp"): "INS2",
    (T, "20", "sign hold", "released by inspector date"): "03 NOV 2026",
    (T, "30", "operation", "30 done"): "x",
    ("inspection-sheet", "", "feature 1", "in"): "in",
    (T, "30", "sign done", DONE): "LQ12",
    (T, "30", "sign done", DAY): "2026-11-03",
    (T, "40", "pins", "1: inspector stamp"): "INS2",
    (T, "40", "pins", "1: inspector date"): "04 NOV 2026",
    (T, "40", "pins", "2: independent inspector stamp"): "IND4",
    (T, "40", "pins", "2: independent inspector date"): "04 NOV 2026",
    ("inspection-sheet", "", "feature 1", "actual"): "8.93",
    ("rigging-sheet", "140", "point 1: first, inspector", "date"): "04 NOV 2026",
    ("rigging-sheet", "140", "point 1: first, inspector", "stamp"): "INS2",
    ("rigging-sheet", "140", SECOND, "date"): "04 NOV 2026",
    ("rigging-sheet", "140", SECOND, "stamp"): "IND4",
    # 4.98 + 5.00 + 5.03 = 15.01, so the mean is 5.0033; from 4.98 to 5.03 it is 0.05.
    ("inspection-sheet", "", "feature 2", "1 of 3"): "4.98",
    ("inspection-sheet", "", "feature 2", "2 of 3"): "5.03",
    ("inspection-sheet", "", "feature 2", "3 of 3"): "5.00",
    ("inspection-sheet", "", "feature 2", "mean, mm"): "5.00",
    ("inspection-sheet", "", "feature 2", "range, mm"): "0.05",
    ("closing-sheet", "", "traveller", IN_HAND): "5",
    ("kit-list", "", "1 bolt", "issued"): "26",
    ("kit-list", "", "1 bolt", "used"): "24",
    ("kit-list", "", "1 bolt", "returned"): "1",
    ("kit-list", "", "1 bolt", "scrapped"): "1",
}
BEGAN = date(2024, 1, 1)
BOOKS = Books(
    {
        "LQ12": Stamp("LQ12", "volunteer", BEGAN, None),
        "LQ14": Stamp("LQ14", "volunteer", BEGAN, date(2026, 12, 31)),
        "INS2": Stamp("INS2", "inspector", BEGAN, None),
        "IND4": Stamp("IND4", "independent inspector", BEGAN, None),
    },
    {
        "G-101": Instrument("G-101", "micrometer", None, date(2026, 11, 30)),
        "G-200": Instrument("G-200", "steel rule", None, date(2027, 11, 30)),
    },
)


def codes(changed: dict[Key, str], books: Books = BOOKS) -> list[tuple[str, str]]:
    entries = {key: entry_of(word) for key, word in {**SOUND, **changed}.items()}
    return [(each.code, each.operation) for each in judged(FORM, entries, books)]
