"""A kit list, a charge, labels and a fit record with what stands there, in; batches and serials that
are of something else, out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.commands.slips import _may_be_named
from generator.results.case import Case
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.judge_stores import batches, serials
from tests.results.judging import BOOKS

SHEET, RIVET = "sheet, clad, 1.2 mm", "rivet 1/8 in, code 5"
KNOWN = {"B-01": {SHEET}, "B-04": {SHEET}, "B-02": {RIVET}, "B-03": {"hydraulic fluid"}}


def words(sheet: str, row: str, name: str) -> Field:
    return Field(sheet, "", row, name, "words", (name,))


def told(rule, field: Field, word: str, beside=(), **books: object) -> list[tuple[str, bool]]:
    form = Form((field, *beside), (), ())
    case = Case(form, {field.key: entry_of(word)}, replace(BOOKS, **books))
    return [(v.says, v.blocks) for v in rule(case)]


@pytest.mark.parametrize(
    ("item", "word", "wanted"),
    [
        (SHEET, "B-01", []),
        ("clad sheet, 1.2 mm", "B-04", []),  # the same words in another order
        (SHEET, "B-01 and B-04", []),
        (SHEET, "B-01 / B-04", []),
        (f"{RIVET} (single use)", "B-02", []),
        ("jointing compound", "JC-7", []),  # the list has none of it
        (SHEET, "B-03", [("B-03 is hydraulic fluid on the list of materials: read the label "
                          "again, or mend the list; used as it is, on a slip", True)]),
        (SHEET, "B-99", [("the list of materials has no B-99, and of this B-01, B-04: read the "
                          "label again, or enter it there; used as it is, on a slip", True)]),
        # A plate may be cut of the sheet: told, and it stops nothing.
        ("doubler plate", "B-01", [(f"B-01 is {SHEET} on the list of materials, which has no "
                                    "doubler plate: is it made of that?", False)]),
    ],
)  # fmt: skip
def test_a_batch_is_of_its_item_by_the_list_of_materials(item, word, wanted):
    assert told(batches, words("kit-list", f"1 {item}", "batch"), word, batches=KNOWN) == wanted


@pytest.mark.parametrize("word", ["B-03", "B-99"])
def test_a_batch_that_was_used_as_it_is_goes_on_a_slip(word):
    """Nobody can correct a label that is right."""
    batch = words("kit-list", f"1 {SHEET}", "batch")
    ((says, blocks),) = told(batches, batch, word, batches=KNOWN)
    assert blocks and says.endswith("; used as it is, on a slip")
    assert _may_be_named(batch, "30")  # a concession may name it with --covers
    ((says, blocks),) = told(batches, batch, word, batches=KNOWN, conceded={(batch.key, word)})
    assert not blocks and says.endswith(": its slip is done with")
    assert told(batches, batch, word, batches=KNOWN, conceded={(batch.key, "B-98")})[0][1]


def test_the_papers_of_a_charge_that_was_made_again_stop_nothing():
    charge = replace(words("heat-treatment-record", "papers", "serials in the charge"), of="40")
    assert told(serials, charge, "0002", parts=("0001",))[0][1]
    assert not told(serials, charge, "0002", parts=("0001",), done_again={"40"})[0][1]
    assert _may_be_named(charge, "40") and not _may_be_named(charge, "50")


def test_a_value_of_a_sheet_that_no_operation_names_may_be_conceded():
    scale = replace(words("functional-test-sheet", "checked", "full scale"), kind="number")
    assert _may_be_named(scale, "80") and _may_be_named(replace(scale, of="80"), "80")
    assert not _may_be_named(replace(scale, operation="80"), "90")
    assert not _may_be_named(replace(scale, kind="words"), "80")


def test_a_workshop_without_a_list_of_materials_has_no_wrong_batch():
    assert told(batches, words("kit-list", f"1 {SHEET}", "batch"), "B-03") == []


HAND = words("fit-record", "1", "is PORT")


@pytest.mark.parametrize(
    ("field", "word", "wrong"),
    [
        (words("heat-treatment-record", "papers", "serials in the charge"), "0001, 0007", False),
        (words("heat-treatment-record", "papers", "serials in the charge"), "1", False),
        (words("heat-treatment-record", "papers", "serials in the charge"), "0001 to 0004", False),
        (words("heat-treatment-record", "papers", "serials in the charge"), "0002 to 0004", True),
        (words("heat-treatment-record", "papers", "serials in the charge"), "0002", True),
        (words("part-labels", "label 1", "part serial"), "0001", False),
        (words("part-labels", "label 1", "part serial"), "0002", True),
        (words("fit-record", "1", "serial read off the part"), "0002", True),
        (words("fit-record", "PORT", "serial read off the part"), "0002", True),
        (words("fit-record", "STBD", "serial read off the part"), "0002", False),
        (words("fit-record", "1", "serial"), "0002", False),  # taken off
    ],
)
def test_a_serial_is_that_of_the_part_of_the_traveller(field, word, wrong):
    found = told(serials, field, word, [HAND], parts=("0001",))
    assert [blocks for _, blocks in found] == [True] * wrong


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("0050", False), ("50", False), ("0050/0051", False), ("0049 + 0050", False),
        ("T6-110-4P 0050", False), ("T6-110-4P-0050", False), ("T6-110-4P/0050", False),
        ("T6-110-4P-0048 to 0051", False), ("T6-110-4P-0048 to T6-110-4P-0051", False),
        ("0048-0051 (and coupon C-7)", False), ("no.0050", False), ("0040 to 0060", False),
        # The number of the part, of a process or a day is no range of serials and no serial.
        ("T6-110-4P 0002", True), ("T6-110-50 0002", True), ("T6-901-50", True),
        ("2026-01-99", True), ("0002", True), ("50 parts, 0001 to 0006", True),
        ("26.11.2026 charge 50", True), ("50, 0001 to 0006", True), ("charge 40 to 60", True),
        ("1 to 60", False), ("nos. 49 and 50", False), ("charge 7: 0050", False),
        ("0048 to 51", False), ("10050", True), ("0050A", True), ("00501", True),
        (f"0001 to {'9' * 5_000}", True), (f"{'0' * 5_000} to 0051", True), ("9" * 5_000, True),
    ],
)  # fmt: skip
def test_a_serial_is_named_as_people_write_it(text, wrong):
    charge = words("heat-treatment-record", "papers", "serials in the charge")
    assert bool(told(serials, charge, text, parts=("0050",))) == wrong


def test_every_part_of_a_set_is_in_the_charge():
    charge = words("heat-treatment-record", "papers", "serials in the charge")
    said = "B1 and B3, and B2 of this traveller is not among them: read the papers again, or a slip"
    assert told(serials, charge, "B1 and B3", parts=("B1", "B2", "B3")) == [(said, True)]
    assert told(serials, charge, "B1 to B3", parts=("B1", "B2", "B3")) == []


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("6-120 0002", True), ("6-120-0002", True), ("6-120", True), ("6-130 0002", True),
        ("6-120 0050", False), ("6-120-0050", False), ("6-120/0050", False), ("6-120 50", False),
        ("0040 to 0060", True),  # one part has one serial
    ],
)  # fmt: skip
@pytest.mark.parametrize(
    "of",
    [("part-labels", "label 1", "part serial"), ("fit-record", "1", "serial read off the part")],
)
def test_the_number_of_a_part_that_is_all_digits_is_no_range(of, text, wrong):
    assert bool(told(serials, words(*of), text, parts=("0050",), part="6-120")) == wrong


def test_a_charge_may_have_the_number_of_the_part_before_each_serial():
    charge = words("heat-treatment-record", "papers", "serials in the charge")
    for text, wrong in (("6-120-0048 to 6-120-0051", False), ("6-120-0048 and 6-120-0051", True)):
        assert bool(told(serials, charge, text, parts=("0050",), part="6-120")) == wrong


def test_a_serial_of_any_length_is_told():
    charge = words("heat-treatment-record", "papers", "serials in the charge")
    for text in ("9" * 5000, f"0001 to {'9' * 5000}", f"{'0' * 5000} to 0051"):
        assert told(serials, charge, text, parts=("0050",))
