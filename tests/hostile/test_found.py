"""What the fuzzer found, each by itself: what broke the program or kept it busy, and is mended."""

from __future__ import annotations

import pytest

from generator.draw.parse import blocks_of
from generator.findings import Refusal
from generator.quantities.text import LONGEST, read_amount, read_plain
from generator.record.files import quick_tree
from generator.record.index import HEAD, _covered
from generator.record.shapes import fault_of
from generator.results.entries import entries_in
from generator.results.form import Field, Form

KIT = Form((Field("kit-list", "", "1 soft pencil", "used", "words", ("used",)),), (), (), ())


@pytest.mark.parametrize("text", ["9" * 1_000_000, "1." + "9" * 1_000_000, "1 " * 500_000 + "mm"])
@pytest.mark.parametrize("read", [read_amount, read_plain])
def test_a_number_of_a_megabyte_is_refused_at_once(read, text):
    """Looking for an exponent in it took the square of its length: hours."""
    with pytest.raises(Refusal, match="too long") as told:
        read(text)
    assert len(told.value.wrong) < LONGEST


@pytest.mark.parametrize("text", ["12 +0.2/\u2028-0 mm", "12 +0.2/\n-0 mm", "1\t2 mm", "5\x0bmm"])
def test_a_number_on_two_lines_is_no_number(text):
    """White space of any sort was read as a space, and came out again on the sheet."""
    with pytest.raises(Refusal, match="does not print"):
        read_amount(text)


def test_a_row_that_begins_with_a_digit_and_is_not_there_is_a_finding():
    """Rows of a kit list begin with their quantity; they were taken for operations."""
    found, faults = entries_in({"kit-list": {"sheet": {"1 soft pencl": "x"}}}, KIT)
    assert not found
    assert [fault.right for fault in faults] == ["1 soft pencil"]


@pytest.mark.parametrize("sign", ["\r", "\0", "\r\n"])
def test_a_sheet_with_other_line_ends_is_refused(sign):
    """The parser counted other lines than we do, and did not find a container's end."""
    with pytest.raises(Refusal, match="does not print"):
        blocks_of(f"A{sign}b\n\n::: note\nText.\n:::\n")


@pytest.mark.parametrize(
    "text", ["by: &a [*a]\n", "a: &a [x, x]\nb: *a\n", "[" * 700, "a: b\n" * 300_000]
)
def test_a_file_of_the_record_is_no_bomb(text, tmp_path):
    """An anchor makes an endless tree of a small file, and depth ran into the interpreter."""
    file = tmp_path / "A-001-slip.yaml"
    file.write_text(text)
    assert quick_tree(file) == {}


def test_an_ampersand_in_words_is_read(tmp_path):
    file = tmp_path / "A-001-slip.yaml"
    file.write_text("says: nut & bolt\n")
    assert quick_tree(file) == {"says": "nut & bolt"}


ATTACHED = {"on": "2026-11-26", "by": "LQ1"}


@pytest.mark.parametrize(
    "path",
    [
        "../../etc/passwd",
        "output/media/../issued/A-0001/facts.yaml",
        "/etc/passwd",
        "",
        "output/media/.x",
    ],
)
def test_a_scan_outside_its_folder_is_no_scan(path):
    """A dossier would have copied it, and written it there."""
    row = {"file": "a.pdf", "path": path, "sha256": "0" * 64}
    assert (
        fault_of("attach", {**ATTACHED, "files": [row]}) == "'files' is not what is written there"
    )
    good = {**row, "path": "output/media/A-0001/a b.pdf"}
    assert fault_of("attach", {**ATTACHED, "files": [good]}) == ""


@pytest.mark.parametrize(
    ("kind", "tree"),
    [
        ("slip", "a text"),
        ("slip", {"on": "x", "by": "LQ1"}),
        ("slip", {"on": ["x"], "by": "LQ1", "slip": "", "operation": "", "says": ""}),
        ("result", {"on": "x", "by": "LQ1", "boxes": {"traveller": {"10": "x"}}}),
        ("result", {"on": "x", "by": "LQ1", "boxes": {}, "supplement": "../R1"}),
        ("fit", {"on": "x", "by": "LQ1", "after": "A-001"}),
    ],
)
def test_an_act_of_another_shape_is_told(kind, tree):
    assert fault_of(kind, tree)


@pytest.mark.parametrize(
    "told", ["A", "A x y", "A 9 " + "0" * 63, "A " + "9" * 5000 + " " + "0" * 64]
)
def test_an_index_that_was_changed_by_hand_covers_nothing(told):
    """Its first row was taken apart as if it were ours; then all is made anew."""
    from hashlib import sha256

    rest = "traveller,kind,value,operation,where,day,note,file\n"
    first = f"{HEAD},{told},rows {sha256(rest.encode()).hexdigest()}\n"
    assert _covered((first + rest).encode(), {"A": b""}) == {}
