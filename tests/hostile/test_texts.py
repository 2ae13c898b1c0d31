"""Step text that tries to be more than text: markup, containers, templates, links, look-alikes."""

from __future__ import annotations

import pypdfium2
import pytest

from generator.draw import draw_set
from generator.findings import listed
from generator.workshop import open_shop
from tests.helping import blocks_in, sheets_of
from tests.hostile.shops import NUMBER, SHELF, shop, with_text

STEP = "Cut the blank to {{ flat.length }}."
# Texts that are printed sign by sign as they were typed.
PRINTED = (
    "Cut <img src='http://host.invalid/x.png'/> here.",
    "Cut <img src='/etc/hostname'/> here.",
    "Cut <font color='white' size='1'>deep</font> here.",
    "Cut <a href='file:///etc/hostname'>it</a> here.",
    "Cut <b>it</b> <br/> <para> &lt; &amp; &#x41; here.",
    "Cut ![a](http://host.invalid/x.png) [b](#c1) here.",
    "Cut ``` it ``` and ~~~ here.",
    "Cut ::: hold ::: here.",
    "::: sign",
    ":::: hold",
    "# 99 A heading",
    "| a | b |",
    "- [x] done by LQ1",
    "1. one",
    "> quoted",
    "---",
    "Cut \\ and \\n and \\u202e here.",
    "Cut {% for x in range(9) %}a{% endfor %} here.",
    "Cut {# hidden #} here.",
    "Cut ${7*7} #{7*7} <%= 7*7 %> %s %(x)s {0} here.",
    "Cut (a) Tj ET Q q BT here.",
    "Cut <!-- hidden --> <script>alert(1)</script> here.",
    "Cut it [c3] and [56.7 lbf·in](#c3) here.",
    "Cut http://host.invalid www.host.invalid lq1@host.invalid here.",
)
# Texts that are refused, with a word of the finding.
REFUSED = {
    "Cut {{ 7 * 7 }} here.": "7",
    "Cut {{ flat.__class__ }} here.": "__class__",
    "Cut {{ ''.join(['a']) }} here.": "number",
    "Cut {{ range(9) }} here.": "range",
    "Cut {{ flat.length | attr('x') }} here.": "number",
    "Cut {{ {{ flat.length }} }} here.": "without its",
    "Cut \N{CYRILLIC CAPITAL LETTER DZE} here \N{RIGHT-TO-LEFT OVERRIDE}x.": "does not print",
    "Cut \N{COMBINING ACUTE ACCENT} here.": "combining",
    "Cut \N{ZERO WIDTH SPACE} here.": "does not print",
    "Cut \N{FULLWIDTH DIGIT FIVE} mm.": "digit of another script",
}


def _yaml(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


@pytest.fixture(scope="module")
def plain(tmp_path_factory) -> dict[bool, list[str]]:
    """The blocks of the sheets with a harmless text; one that begins with a verb has it in bold."""
    made = {}
    for verb, text in ((True, "Cut it here."), (False, "(a) (b)")):
        folder = with_text(
            shop(tmp_path_factory.mktemp("plain")), f"do: {STEP}", f"do: {_yaml(text)}"
        )
        made[verb] = blocks_in(sheets_of(folder)[0][SHELF])
    return made


@pytest.mark.parametrize("text", PRINTED)
def test_it_is_printed_as_it_was_typed_and_opens_no_block(text, tmp_path, plain):
    folder = with_text(shop(tmp_path), f"do: {STEP}", f"do: {_yaml(text)}")
    sheets, findings = sheets_of(folder)
    assert [f for f in findings if not f.advice] == [], listed(findings)
    assert blocks_in(sheets[SHELF]) == plain[text.startswith("Cut")]


def test_all_of_them_stand_on_the_paper_and_bring_no_link(tmp_path):
    """One traveller with each text as a step: drawn, read back from the PDF word for word."""
    steps = "".join(f"      - {_yaml(text)}\n" for text in PRINTED)
    folder = with_text(shop(tmp_path), "      - Deburr all edges.\n", "")
    with_text(folder, "      - Mark the sight line at {{ sight_line }}.\n", steps)
    with_text(
        folder, "The bend takes up {{ allowance }}.", "See {{ allowance }} and {{ sight_line }}."
    )
    sheets = _one(folder)
    drawn = draw_set(sheets)["traveller"]
    pages = pypdfium2.PdfDocument(drawn.pdf)
    words = "".join("".join(p.get_textpage().get_text_range() for p in pages).split())
    for text in PRINTED:
        assert "".join(text.split()) in words, text
    for link in (b"/URI", b"/JavaScript", b"/Launch", b"/EmbeddedFile", b"/AA <<", b"/OpenAction"):
        assert link not in drawn.pdf


def _one(folder):
    from generator.compose import SheetFacts
    from generator.workshop import sheets_of as made_of

    shop_ = open_shop(folder)
    assert shop_.findings == (), listed(shop_.findings)
    made, findings = made_of(shop_, SHELF, SheetFacts("", (), "not dated"))
    assert made is not None, findings
    return made.sheets


@pytest.mark.parametrize("text", REFUSED)
def test_it_is_refused_at_its_line(text, tmp_path):
    folder = with_text(shop(tmp_path), f"do: {STEP}", f"do: {_yaml(text)}")
    sheets, findings = sheets_of(folder)
    assert SHELF not in sheets
    assert findings[0].place.path == SHELF
    assert findings[0].place.line > 1
    assert REFUSED[text] in listed(findings)


EXPRESSIONS = {
    "thickness ** 9": "",
    "thickness * thickness * thickness * thickness": "",
    "9" * 4400 + " mm": "",
    "1e400 mm": "",
    "1e-400 mm": "",
    "thickness / 0": "",
    "sqrt(thickness)": "",
    "(" * 2000 + "thickness" + ")" * 2000: "",
    "-" * 5000 + "thickness": "",
    "thickness + " * 5000 + "thickness": "",
    "thickness.real": "",
    "thickness and radius": "",
    "thickness if radius else leg": "",
    "lambda: thickness": "",
    "[thickness for x in leg]": "",
    "open('/etc/hostname')": "",
    "__import__('os')": "",
    "thickness\\n": "",
    "nan mm": "",
    "inf mm": "",
    "0x10 mm": "",
    "1_000 mm": "",
}


@pytest.mark.parametrize("words", EXPRESSIONS, ids=lambda words: words[:30])
def test_arithmetic_is_small_or_refused(words, tmp_path):
    folder = with_text(shop(tmp_path), "is: flat.flats.1 + radius", f"is: {_yaml(words)}")
    sheets, findings = sheets_of(folder)
    assert SHELF not in sheets
    assert findings
    assert all(each.place.path == SHELF and each.right for each in findings), listed(findings)
    assert len(listed(findings)) < 20_000


LOOK_ALIKES = ("T6-P-\N{CYRILLIC CAPITAL LETTER O}120", "\N{GREEK CAPITAL LETTER TAU}6-P-0120",
               "T6\N{NON-BREAKING HYPHEN}P-0120", "T6\N{EN DASH}P-0120", "T6-P-O12O ", "t6-p-0120",
               "T6-P-0120\N{ZERO WIDTH JOINER}", "../T6-P-0120", "/etc/T6", "T6/P/0120", "..",
               "T6-P-0120/..", "T6\\P", "C:T6", "T6-P-0120.", "-T6", "T6-", "~T6", "$HOME",
               "T6 P", "A" * 25, "%00", "T6-P-0120;rm", "`x`")  # fmt: skip
PLACES = {
    "process": "process: {}",
    "part": "  number: {}",
    "author": "author: {}",
    "document": "  - number: {}",
}
OLD = {"process": f"process: {NUMBER}", "part": "  number: T6-120-1", "author": "author: LQ1"}


@pytest.mark.parametrize("place", OLD)
@pytest.mark.parametrize("word", LOOK_ALIKES)
def test_an_identifier_is_capitals_digits_and_lines_between(word, place, tmp_path):
    if word == "T6-P-O12O ":  # YAML takes the space off; letters O are letters
        word = "T6-P-O12O\N{NO-BREAK SPACE}"
    folder = with_text(shop(tmp_path), OLD[place], PLACES[place].format(_yaml(word)))
    findings = open_shop(folder).findings
    assert [f for f in findings if f.place.path == SHELF and f.place.line], listed(findings)
