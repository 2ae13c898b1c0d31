"""What a user types comes back from the sheet as exactly that, and can open no block."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from generator.draw.parse import Paragraph, blocks_of, plain
from generator.escape import escape
from generator.findings import Refusal

SIGNS = st.characters(
    exclude_categories=("Cc", "Cf", "Co", "Cn", "Cs", "Zl", "Zp", "Zs", "Mn", "Mc", "Me"),
)
WORDS = st.lists(st.text(SIGNS, min_size=1, max_size=12), min_size=1, max_size=6).map(" ".join)
EVIL = [
    "::: hold", ":::", "## 80 hold", "# x #", "1. x", "2) x", "- x", "+ x", "* x", "> x", "```", "~~~",
    "---", "===", "| a | b |", "<img src='x'>", "&amp;", "[a](#c1)", "![a](b)", "**b**", "_i_", "`c`",
    "\\", "a\\", "*", "-", "http://x.y", "www.x.y", "a|b", "<!-- x", "x #", "[x]: y", "{{ a }}",
]  # fmt: skip


def folded(text: str) -> str:
    import unicodedata

    return " ".join(unicodedata.normalize("NFC", text).split(" ")).strip()


@given(WORDS)
def test_full_commonmark_gives_the_text_back(text: str) -> None:
    reader = MarkdownIt("commonmark").enable(["table", "strikethrough"])
    tokens = reader.parse(escape(text))
    assert [t.type for t in tokens] == ["paragraph_open", "inline", "paragraph_close"]
    inner = tokens[1].children or []
    assert {t.type for t in inner} <= {"text", "text_special"}
    assert "".join(t.content for t in inner) == folded(text)


@pytest.mark.parametrize("text", EVIL)
def test_the_worst_texts_stay_text(text: str) -> None:
    test_full_commonmark_gives_the_text_back.hypothesis.inner_test(text)  # type: ignore[attr-defined]
    (block,) = blocks_of(escape(text))
    assert isinstance(block, Paragraph)
    assert plain(block.runs) == folded(text)


@given(WORDS)
@example("a\\")
@example("a|b")
def test_a_cell_holds_the_text_and_stays_one_cell(text: str) -> None:
    reader = MarkdownIt("commonmark").enable("table")
    tokens = reader.parse(f"| {escape(text)} | end |\n| --- | --- |\n")
    cells = [t for t in tokens if t.type == "inline"]
    assert len(cells) == 2
    assert "".join(t.content for t in cells[0].children or []) == folded(text)


@given(WORDS)
def test_our_own_dialect_gives_the_text_back(text: str) -> None:
    (block,) = blocks_of(escape(text))
    assert isinstance(block, Paragraph)
    assert plain(block.runs) == folded(text)


@pytest.mark.parametrize("sign", ["\u202e", "\u200b", "\x00", "\x07", "\ufeff", "\u2028"])
def test_signs_that_do_not_print_are_refused(sign: str) -> None:
    with pytest.raises(Refusal):
        escape(f"a{sign}b")
