"""Single words: what a reader takes the editor takes."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from generator.check.readers import READERS
from generator.editor import PATTERNS, leaf
from generator.findings import Refusal
from tests.check.as_edited import _NOTHING, EDITORS, FILES, seen, tree_of

# --- the leaves -----------------------------------------------------------------------------


def reads(reader: str, word: str) -> bool:
    try:
        READERS[reader](word)
    except Refusal:
        return False
    return True


@cache
def leaf_of(reader: str) -> Draft202012Validator:
    return Draft202012Validator(leaf(reader))


def leaf_takes(reader: str, value: Any) -> bool:
    return leaf_of(reader).is_valid(value)


def _words(tree: Any) -> Iterator[str]:
    if isinstance(tree, dict):
        for key, each in tree.items():
            yield key
            yield from _words(each)
    elif isinstance(tree, list):
        for each in tree:
            yield from _words(each)
    else:
        yield tree


WORDS = sorted({word for file in FILES for word in _words(tree_of(file))})
BITS = ["1", "0", "24", "1.5", "5/32", "20", " ", "-", "−", "+", "/", "±", " to ", "mm", "°", "N·m", "bar g", "A", "a", "_", ".", "digit", "s", "\n", "\u00a0", "“", "SWG", "2026-11-25", "%", "1/°", "min", "ratio", "e", "E", "true", "x", ":"]  # fmt: skip
TYPED = st.one_of(
    st.sampled_from(WORDS),
    st.lists(st.sampled_from(BITS), max_size=7).map("".join),
    st.tuples(st.sampled_from(WORDS), st.sampled_from(BITS)).map("".join),
    st.text(max_size=8),
)


@pytest.mark.parametrize("reader", READERS)
@settings(max_examples=400, deadline=None)
@given(word=TYPED)
@example("12 +0.2/-0 mm")
@example("1.0\u00a0to\u00a01.4 mm")
@example("1\nmm")
@example("1E-5")
@example("-0.5")
@example("0")
def test_what_a_reader_takes_the_leaf_takes(reader, word):
    if not reads(reader, word):
        return
    assert leaf_takes(reader, word)
    for editor in EDITORS:
        # The bare word null is nothing to an editor, whatever it is to us.
        if word not in _NOTHING:
            assert leaf_takes(reader, seen(word, editor)), editor


@pytest.mark.parametrize("reader", READERS)
def test_every_word_of_the_demo_files_that_a_reader_takes_the_leaf_takes(reader):
    taken = [word for word in WORDS if reads(reader, word)]
    assert [word for word in taken if not leaf_takes(reader, word)] == []


WRONG = {
    "code": ["lq1", "LQ 1", "A" * 25, ""],
    "name": ["Thickness", "1st", "a" * 41, "a b"],
    "line": ["one\ntwo", "“quoted”"],
    "text": ["“quoted”"],
    "day": ["28.9.2026", "2026-9-28", 2026],
    "revision_letter": ["I", "AB", "", 1],
    "operation_number": ["010", "ten", "10000", 0],
    "serial_rule": ["four digits", "0 digits", 4],
    "count": ["two", "1.5", 1.5, 0],
    "count_or_none": ["none", -1],
    "quantity_or_count": ["some", 1.5],
    "amount": ["0.914", "thick", "1.0 to 1.4 mm", 0.914, 2],
    "amount_with_limits": ["0.914", 0.914],
    "uncertainty": ["0.03", "some", "0.01 to 0.03 mm", 0.03],
    "duration": ["20", "soon", 20],
    "length": ["640", 640],
    "step": ["fine", 0, -0.1],
    "amount_range": ["1.0 mm", "4", 4],
    "amount_or_name": ["Drag", "°"],
    "limit_or_name": ["Drag", "°", "12 ± 1 mm", "1 to 2 mm"],
    "desk_letter": ["a", "AB", 1],
}  # fmt: skip


@pytest.mark.parametrize("reader", PATTERNS)
def test_what_a_leaf_refuses_its_reader_refuses(reader):
    for word in WRONG[reader]:
        assert not leaf_takes(reader, word), word
        assert not reads(reader, str(word)), word
