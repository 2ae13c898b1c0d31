"""Bytes of a YAML file in; text values with their places, or findings, out. Never a traceback."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.findings import Finding
from generator.read import DEEPEST, LARGEST, Document, read_file, read_text
from tests.helping import SOUND

FILES = sorted(SOUND.rglob("*.yaml"))


def document(text: str) -> Document:
    read, findings = read_text(text.encode(), "x.yaml")
    assert read is not None
    assert not findings
    return read


def findings_of(text: str | bytes) -> list[Finding]:
    source = text.encode() if isinstance(text, str) else text
    return read_text(source, "x.yaml")[1]


@pytest.mark.parametrize(("text", "column"), [
    ("a: ?\n", 4), ("a:\n  b: ?\n", 6), ("a: {b: ?}\n", 8), ("a: {b: ?, c: 1}\n", 8),
    ("a: [?]\n", 5), ("a:\n  - ?\n", 5), ("a:\n  - ?\n  - b\n", 5),
])  # fmt: skip
def test_a_lone_question_mark_is_told_where_it_stands(text, column):
    (finding,) = findings_of(text)
    assert finding.wrong == "a ? that stands alone is a sign of YAML, and no text"
    assert finding.place.words[finding.place.column - 1] == "?"
    assert finding.place.column == column


def test_a_question_in_a_text_is_read():
    told = {"a": "is it dry?", "b": "?", "c": ["dry ?"]}
    assert document('a: is it dry?\nb: "?"\nc: [dry ?]\n').tree == told


# Words that a YAML library would make something else of.
WORDS = [
    "no", "yes", "on", "off", "true", "false", "null", "~", "010", "0777", "0x1F", "0b11", "1_000",
    "1e3", "1.10", "0.20", "1:30", "12:30", "-1:30", "2024-01-02", "03/04/31", ".inf", ".nan", "=",
    "5.", "+.5", "1.e+3", "08", "y", "N", "12345678901234567890123456789",
]  # fmt: skip


@pytest.mark.parametrize("word", WORDS)
def test_every_word_stays_the_word_that_was_typed(word):
    assert document(f"a: {word}\n").tree == {"a": word}
    assert document(f"a: [{word}]\n").tree == {"a": [word]}
    assert document(f"{word}: a\n").tree == {word: "a"}


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_value_and_key_stands_where_its_mark_says(file: Path):
    read, findings = read_file(file, file.name)
    assert read is not None
    assert not findings
    for steps, mark in read.keys.items():
        assert read.lines[mark.line - 1][mark.column - 1 :].startswith(str(steps[-1]))
    leaves = list(_leaves((), read.tree))
    assert len(leaves) > 3
    for steps, value in leaves:
        mark = read.values[steps]
        typed = read.lines[mark.line - 1][mark.column - 1 :][: mark.width]
        assert typed.strip('"') == value


def _leaves(steps, tree):
    if isinstance(tree, str):
        yield steps, tree
        return
    for step, below in tree.items() if isinstance(tree, dict) else enumerate(tree):
        yield from _leaves((*steps, step), below)


def test_a_place_that_is_missing_is_the_nearest_that_is_there():
    read = document("part:\n  name: Bracket\n")
    assert (read.place(("part", "hand")).line, read.place(("part", "hand")).column) == (1, 1)
    assert read.place(("part", "name")).column == 9
    assert read.place(("part", "name"), of_key=True).column == 3
    assert read.place(("nowhere", 3, "x")).line == 1
    rows = document("rows:\n  - a: b\n  - a: b\n  - c: d\n")
    assert (rows.place(("rows", 2, "a")).line, rows.place(("rows", 2, "a")).column) == (4, 5)


def test_columns_count_signs_and_not_bytes():
    read = document("a: {µ·°: é, b: x}\n")
    assert read.place(("a", "b"), of_key=True).column == 13


def test_a_mark_of_byte_order_and_crlf_change_nothing():
    plain = document("a: b\nc: 1 mm\n")
    marked = read_text(b"\xef\xbb\xbfa: b\r\nc: 1 mm\r\n", "x.yaml")[0]
    assert marked is not None
    assert (marked.tree, marked.lines) == (plain.tree, plain.lines)
    assert marked.values == plain.values


def test_a_file_of_just_one_mebibyte_is_read_and_one_byte_more_is_not():
    text = "a: b\n# "
    text += "-" * (LARGEST - len(text))
    assert document(text).tree == {"a": "b"}
    assert [f.code for f in findings_of(text + "-")] == ["size"]


def test_nesting_is_read_to_its_limit_and_no_further():
    def nested(depth: int) -> str:
        return f"a: {'[' * depth}x{']' * depth}\n"

    assert document(nested(DEEPEST - 1)).tree["a"]
    assert [f.code for f in findings_of(nested(DEEPEST))] == ["depth"]
    assert [f.code for f in findings_of(nested(900))] == ["depth"]
    assert [f.code for f in findings_of(f"a: {'{a: ' * 900}")] == ["depth"]


def test_a_bomb_of_aliases_is_refused_at_its_first_anchor():
    lines = ["a0: &a0 [x, x]"] + [f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}]" for n in range(1, 40)]
    (finding,) = findings_of("\n".join(lines))
    assert (finding.code, finding.place.line) == ("yaml", 1)


def test_words_that_a_comma_cuts_over_several_lines_are_told_on_one():
    (finding,) = findings_of("a: {note: each\n\n  nut, each\n\n  time, b: c}\n")
    assert finding.wrong.startswith("'each time' has no colon")
    assert 'note: "each nut, each time"' in finding.right


@pytest.mark.parametrize("sign", ["\u200b", "\u202e", "\u2066", "\u00ad", "\u2028", "\u3000", "\u0301", "\uff11", "\u0665", "\ue000", "\x07", "\x7f", "\x85", "\r"])  # fmt: skip
@pytest.mark.parametrize("written", ["raw", "escape"])
def test_a_sign_that_hides_or_fakes_text_is_found(sign, written):
    inside = sign if written == "raw" else f"\\u{ord(sign):04x}"
    findings = findings_of(f'a: b\nc: "de{inside}f"\n')
    assert [(f.code, f.place.line) for f in findings] == [("text", 2)]
    assert f"U+{ord(sign):04X}" in findings[0].wrong
    if written == "raw":
        assert findings[0].place.column == 7


@pytest.mark.parametrize("text", ["", "\n", "# a\n", "a\n", "- a\n", "[a]\n", "---\n", "...\n", "a: b\n---\nc: d\n", "%YAML 9.9\n---\na: b\n", "? [a]\n: b\n", "a: b: c\n", "a: 'b\n", "a: \"\\ud800\"\n", "a: \"\\q\"\n", "{a: b\n", "@a: b\n", "a:\n\tb: c\n", "a: &b c\n", "a: *b\n", "a: !c d\n", "<<: {a: b}\n", "a: b\na: c\n", "a: b # c\n"])  # fmt: skip
def test_what_is_not_read_gives_one_finding(text):
    (finding,) = findings_of(text)
    assert finding.place.line >= 1
    assert finding.wrong
    assert finding.right


YAML_SIGNS = st.sampled_from([*"ab:- \n#{}[],\"'&*!|>%@`?~<=\\\t01.", "\n  ", "a: ", "- ", "é"])


@given(st.one_of(st.binary(max_size=60), st.lists(YAML_SIGNS, max_size=30).map(lambda s: "".join(s).encode())))  # fmt: skip
def test_any_bytes_give_a_document_or_findings(source):
    read, findings = read_text(source, "x.yaml")
    assert read is not None or findings
    for finding in findings:
        assert finding.wrong
        assert finding.place.line <= source.count(b"\n") + source.count(b"\r") + 1
    if read is not None:
        assert all(isinstance(value, str) for _, value in _leaves((), read.tree))
