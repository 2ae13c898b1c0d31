"""Any text in; Markdown that full CommonMark, the bare preset and draw itself read back as it, out."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from generator.composing.escape import Markdown, escape, finalize
from generator.composing.writer import Writer
from generator.draw.parse import Heading, Paragraph, Table, blocks_of, plain
from generator.findings import Refusal
from generator.workshop import open_shop, work_out
from tests.helping import SOUND

FULL = MarkdownIt("commonmark").enable("table")
BARE = MarkdownIt("zero").enable(
    ["heading", "table", "escape", "emphasis", "link", "newline", "backticks"]
)
READERS = pytest.mark.parametrize("reader", [FULL, BARE], ids=["full", "bare"])

HIDDEN = ("Cc", "Cf", "Co", "Cn", "Cs", "Zl", "Zp")
NASTY = st.sampled_from([
    *"\\`*_[]<>&|~#:=+-!(){}.\"'^$%@/0123456789 aZé±°·½ ",
    ":::", "---", "===", "```", "~~~", "1. ", "- ", "> ", "![a](b)", "<b>", "&amp;", "[^1]", "\\|",
    "    ", "http://x", "<!--", "| --- |", "[a]: b", "**", "__", "]]>", "\\\\", "%%", "{{",
])  # fmt: skip
ANY = st.characters(exclude_categories=HIDDEN)
TEXTS = st.lists(st.one_of(NASTY, ANY), max_size=12).map("".join)


def typed(text: str) -> str:
    """What must come back: composed signs, no blanks at either end."""
    return unicodedata.normalize("NFC", text).strip()


def read(reader: MarkdownIt, markdown: str) -> tuple[list[str], list[str]]:
    """The blocks, and the text of each; a mark of any kind inside a text is a block too."""
    tokens = reader.parse(markdown)
    inner = [child for token in tokens for child in token.children or ()]
    blocks = [token.type for token in tokens if token.type != "inline"]
    blocks += [child.type for child in inner if child.type not in ("text", "text_special")]
    texts = [
        "".join(child.content for child in t.children or ()) for t in tokens if t.type == "inline"
    ]
    return blocks, texts


@READERS
@given(TEXTS)
@example("# a #")
@example("1) a")
@example("- -")
@example("\\")
@example("a!")
@example("+ 5")
@example("a  b")
def test_a_paragraph_gives_the_text_back(reader, text):
    blocks, texts = read(reader, f"{escape(text)}\n")
    if typed(text):
        assert texts == [typed(text)]
        assert blocks == ["paragraph_open", "paragraph_close"]
    else:
        assert not texts and not blocks


@READERS
@given(TEXTS)
@example("#")
@example("a ##")
@example("a \\#")
def test_a_heading_gives_the_text_back(reader, text):
    blocks, texts = read(reader, f"## {escape(text)}\n")
    assert texts == [typed(text)]
    assert blocks == ["heading_open", "heading_close"]


@READERS
@given(TEXTS)
@example("|")
@example("\\|")
@example("\\\\|")
@example("---")
@example("a`|`b")
def test_a_cell_gives_the_text_back(reader, text):
    blocks, texts = read(reader, f"| {escape(text)} | x |\n| --- | --- |\n| y | {escape(text)} |\n")
    assert texts == [typed(text), "x", "y", typed(text)]
    assert [block for block in blocks if block in ("td_open", "th_open")] == ["th_open"] * 2 + [
        "td_open"
    ] * 2


@READERS
@given(TEXTS)
def test_a_text_after_a_verb_gives_the_text_back(reader, text):
    blocks, texts = read(reader, f"**CUT** {escape(text)}\n")
    assert texts == [f"CUT {typed(text)}".strip()]
    assert sorted(blocks) == ["paragraph_close", "paragraph_open", "strong_close", "strong_open"]


@given(TEXTS)
def test_draw_reads_the_text_back(text):
    cell = escape(text)
    sheet = f"# A{cell}\n\nA {cell}\n\n| A | {cell} |\n| --- | --- |\n| {cell} | A |\n"
    heading, paragraph, table = blocks_of(sheet)
    assert isinstance(heading, Heading)
    assert isinstance(paragraph, Paragraph)
    assert isinstance(table, Table)
    assert plain(paragraph.runs) == f"A {typed(text)}".strip()
    assert plain(table.rows[0][1]) == plain(table.rows[1][0]) == typed(text)


@given(TEXTS)
def test_no_text_opens_a_container(text):
    for line in escape(text).split("\n"):
        assert not line.lstrip().startswith((":::", "#", "|"))


def _writer() -> Writer:
    shop = open_shop(SOUND)
    workings, _ = work_out(shop, "processes/shelf.yaml")
    return Writer(shop.processes["processes/shelf.yaml"], workings)


WRITER = _writer()


@READERS
@given(TEXTS.filter(lambda text: "{" not in text and "}" not in text))
@example("!")
@example("\\!")
@example("a!")
@example("](x)")
@example(" ")
@example("\u00a0a\u00a0")
def test_a_text_between_two_numbers_gives_the_text_back(reader, text):
    markdown = WRITER.text((), f"{{{{ leg }}}}{text}{{{{ leg }}}}")
    blocks, texts = read(reader, f"{markdown}\n")
    between = unicodedata.normalize("NFC", text)
    assert [" ".join(each.split()) for each in texts] == [" ".join(f"25 mm{between}25 mm".split())]
    assert blocks.count("link_open") == blocks.count("link_close") == 2
    assert len(blocks) == 6


@pytest.mark.parametrize("sign", ["\x00", "\t", "\n", "\x85", "\u200b", "\u202e", "\u2066", "\ue000", "\ufeff", "\u2028", "\u2029", "\ud800"])  # fmt: skip
def test_signs_that_do_not_print_are_refused(sign):
    with pytest.raises(Refusal, match="does not print"):
        escape(f"a{sign}b")


def test_only_markdown_passes_unescaped():
    assert finalize("*a*") == r"\*a\*"
    assert finalize(Markdown("*a*")) == "*a*"
    assert finalize(24) == "24"
    assert isinstance(finalize("a"), Markdown)


def test_plain_words_stay_as_readable_as_they_were_typed():
    words = "Drill 24 holes, 6.38 mm, then deburr (both faces)."
    assert escape(words) == words
