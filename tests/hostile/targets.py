"""The ways into the program that take a text, and what must hold of every answer: for the fuzzer."""

from __future__ import annotations

import ast
import json
import math
import re
import unicodedata
from collections.abc import Callable, Sequence
from functools import cache
from typing import Any

from generator.check.readers import READERS
from generator.commands.enter import shape_faults
from generator.compose import SheetFacts, compose
from generator.composing.escape import escape
from generator.computing import arithmetic
from generator.draw import box_map, draw_sheet, lay_out
from generator.draw.parse import Container, Paragraph, blocks_of, plain
from generator.findings import Finding, Refusal, listed
from generator.process import Workshop
from generator.quantities.amount import Amount
from generator.quantities.text import echo, read_amount, read_plain
from generator.read import Document, read_text
from generator.results.blank_form import blank_form
from generator.results.case import Books
from generator.results.entries import entries_in, unreadable
from generator.results.form import Form, form_of
from generator.results.judge import judged
from generator.workshop import Shop, open_shop, process_of, work_out
from generator.workshop import found as place_of
from tests.helping import SOUND
from tests.hostile.fuzzing import NASTY, Target
from tests.results.filled import filled

SHELF = "processes/shelf.yaml"
FACTS = SheetFacts("", (), "2026-11-25")


def heard(ask: Callable[[], Any]) -> str:
    """A few words on an answer; a refusal is one, and must say what is wrong."""
    try:
        answer = ask()
    except Refusal as refusal:
        assert refusal.wrong
        return refusal.code
    return type(answer).__name__


# --- quantities and every other leaf --------------------------------------------------------


def leaf(text: str) -> str:
    """Whatever a leaf of a file may be read as: a value that is one, or a refusal."""
    readers = (read_amount, read_plain, *READERS.values())
    return "; ".join(heard(lambda read=read: _sound(read(text), text)) for read in readers)


def _sound(value: Any, text: str) -> Any:
    if isinstance(value, Amount):
        ends = [n for n in (value.low, value.high) if n is not None]
        assert all(math.isfinite(n) for n in (value.value, value.number(), *ends))
        assert ends == sorted(ends)
        assert "\n" not in value.numbers and echo(value).replace("\u00a0", " ").isprintable()
    if isinstance(value, float):
        assert math.isfinite(value)
    if hasattr(value, "isoformat"):
        assert value.isoformat() == text.strip()
    return value


AMOUNTS = (
    "1.2 mm", "1.2 ± 0.05 mm", "12 +0.2/-0 mm", "1.0 to 1.4 mm", "5/32 in", "1 17/64 in", "20 SWG",
    "90°", "20 °C", "70 bar g", "60 lbf·in", "10.3e6 psi", "8 -0.013/-0.028 mm", "0.35 ratio",
    "14 count", "120 N·m", "2026-11-25", "T6-P-0410", "4 digits", "24", "flat.length", "0.1 mm",
    "lead or inspector", "B", "1 up, 2 down", "12 min", "1/°", "5 kN/(bar·mm²)", '6"', "2000 1/min",
)  # fmt: skip
UNITS = ("mm", "in", "°", "°C", "K", "bar g", "bar a", "psi", "N·m", "lbf·in", "SWG", "AWG", "ga",
         "±", "+/-", " to ", "/", "+", "-", "1/", "²", "·", "%", "ratio", "count", "mm²", "h", "s",
         "(", ")", "e9", "E-3", "'", '"')  # fmt: skip
LEAF = Target("leaves", leaf, AMOUNTS, (*NASTY, *UNITS), ("quantities", "check/readers"), 500)


# --- small arithmetic -------------------------------------------------------------------------

NAMED = {
    "a": "12.5 mm", "b": "3 ± 0.1 mm", "flat.length": "100 mm", "n": "4 count", "p": "70 bar g",
    "t": "20 °C", "w": "30°", "z": "0 mm", "f": "2 kN", "huge": "999999999999 mm",
}  # fmt: skip


@cache
def _amounts() -> dict[str, Amount]:
    return {name: read_amount(text) for name, text in NAMED.items()}


def formula(text: str) -> str:
    """A formula is worked out by the program and by Python itself, or refused."""
    amounts = _amounts()
    try:
        names = arithmetic.names(text)
        if any(name not in amounts for name in names):
            return "a name that is not there"
        amount = arithmetic.worked(text, amounts)
    except Refusal as refusal:
        return refusal.code
    base = {name: amounts[name].value for name in names}
    try:
        again = arithmetic.on_numbers(text, base)
    except (ArithmeticError, ValueError) as fault:  # as computing/chain.py expects it
        return type(fault).__name__
    assert math.isclose(amount.value, again, rel_tol=1e-9, abs_tol=1e-12), (amount.value, again)
    assert math.isclose(again, _independent(text, base), rel_tol=1e-9, abs_tol=1e-12)
    return f"{amount.unit.text}"


def _independent(text: str, base: dict[str, float]) -> float:
    """The same by the interpreter, of nothing but names, numbers and four signs."""
    tree = ast.parse(text, mode="eval")
    held = [n for n in ast.walk(tree) if isinstance(n, ast.Call | ast.Subscript | ast.Pow)]
    assert not held, text
    words = {name.replace(".", "_"): value for name, value in base.items()}
    return float(eval(text.replace("flat.length", "flat_length"), {"__builtins__": {}}, words))


FORMULAS = ("a + b", "flat.length + 2 * a", "(a + b) / n", "a * b / flat.length - 1 * z", "f / a",
            "a / z", "huge * huge * huge", "p - p", "t - t", "w * 2", "2 * n + 1", "((a))",
            "1 / 3 * a")  # fmt: skip
SIGNS = (*NAMED, "+", "-", "*", "/", "(", ")", "**", "//", "%", "@", "<<", "~", "not ", "if", "[0]",
         "a.b", "lambda: a", "a if a else b", "(a := b)", "'x'", "f'{a}'", "a, b", "await a",
         "yield", "__import__('os')", "a.__class__", "9**9**9", "\\\n", "#", "1e308", "1j", "...",
         "True", "None", "((((((((((", "- - - - - -")  # fmt: skip
FORMULA = Target("formulas", formula, FORMULAS, (*NASTY, *SIGNS), ("computing/arithmetic",), 1500)


# --- the way of a text to a sheet ---------------------------------------------------------------


def text(words: str) -> str:
    """What was typed comes back from the sheet as it was typed; it opens nothing and links nowhere."""
    try:
        cell = escape(words)
    except Refusal as refusal:
        return refusal.code
    sheet = f"A {cell}\n\n::: steps\n| a | {cell} |\n| --- | --- |\n| b | {cell} |\n:::\n\n{cell or 'x'}\n"
    first, steps, last = blocks_of(sheet)
    assert isinstance(first, Paragraph) and isinstance(last, Paragraph)
    assert isinstance(steps, Container)
    runs = [*first.runs, *last.runs, *(run for row in steps.rows for cell in row for run in cell)]
    assert not any(run.bold or run.link for run in runs)
    told = " ".join(unicodedata.normalize("NFC", words).split(" ")).strip()
    assert plain(steps.rows[0][1]) == plain(steps.rows[1][1]) == told
    assert plain(first.runs) == f"A {told}".strip()
    return str(len(steps.rows))


STEPS = (
    "Bend both legs to 90° over the block.", "Hole 4 | hole 5", "See [x](y) and **bold**",
    "Torque 60 lbf·in ± 5 %", "# not a heading", "1. not a list", "<b>not bold</b>", "a_b_c*d*e",
    "::: sign", "https://example", "back\\slash \\| pipe", "Ø 8 mm, √2 → Δ",
)  # fmt: skip
TEXT = Target("texts", text, STEPS, NASTY, ("escape", "draw/parse"), 600)


# --- the sheet as Markdown ------------------------------------------------------------------------


def sheet(markdown: str) -> str:
    """A sheet is refused or has as many containers as it has opening lines; small ones are drawn."""
    try:
        blocks = blocks_of(markdown)
    except Refusal as refusal:
        assert refusal.code == "sheet"
        return refusal.code
    opened = [n for n in markdown.split("\n") if n.startswith(":::") and n.strip() != ":::"]
    assert len(opened) == sum(isinstance(block, Container) for block in blocks)
    if len(markdown) > 900:
        return " ".join(dict.fromkeys(type(block).__name__ for block in blocks))
    return heard(lambda: _drawn(markdown))


def _drawn(markdown: str) -> bytes:
    drawn = draw_sheet(markdown)
    assert drawn.pdf.startswith(b"%PDF-") and drawn.pdf.rstrip().endswith(b"%%EOF")
    for mark in (b"/URI", b"/JavaScript", b"/Launch", b"/EmbeddedFile"):
        assert mark not in drawn.pdf
    return drawn.pdf


@cache
def _sheets() -> tuple[str, ...]:
    """The sheets of the sound workshop, whole and in pieces: each block once."""
    shop = _shop()
    made: dict[str, None] = {}
    for shown, process in shop.processes.items():
        workings, _ = work_out(shop, shown)
        assert shop.workshop is not None
        sheets, _ = compose(process, workings, shop.workshop, FACTS)
        assert sheets is not None
        for each in sheets.sheets.values():
            made |= dict.fromkeys([each, *_pieces(each)])
    return tuple(made)


def _pieces(markdown: str) -> list[str]:
    """Every container of a sheet behind a front that can be drawn."""
    front = markdown.partition("\n# ")[0]
    parts = markdown.split("\n\n")
    return [f"{front[:300]}\n\n{part}\n" for part in parts if part.startswith(":::")] + [
        f"{part}\n" for part in parts if part
    ]


@cache
def _shop() -> Shop:
    return open_shop(SOUND)


def sheet_target() -> Target:
    made = tuple(each for each in _sheets() if len(each) < 6000)
    own = ("::: frame", "::: readings", "::: steps", "::: map", "::: figure", "::: full-size",
           "::: grid", "::: points", "::: stop", "[1.2 mm](#c1)", "[c1](calculation-sheet.pdf#c1)",
           "| a | b |", "| --- | --- |", "box mm", "wide box", "tick", "stamp", "## 10 work",
           "# Operations", "N/A", "rect 1 2 3 4", "line 0 0 1 1")  # fmt: skip
    return Target("sheets", sheet, made, (*NASTY, *own), ("draw/parse", "draw/forms"), 6000)


# --- whole files --------------------------------------------------------------------------------


def told(document: Document | None, findings: Sequence[Finding]) -> str:
    """Findings as the terminal shows them; each has its line in the file and something to do."""
    for each in findings:
        assert each.wrong and "\n" not in each.wrong + each.right
        if document is not None and each.place.path == document.path:
            assert each.place.line <= len(document.lines)
    listed(findings).encode("utf-8", "backslashreplace")
    return " ".join(sorted({f"{each.code} {each.wrong}" for each in findings})[:3])


def encoded(text: str) -> bytes:
    """The bytes of a damaged file: what is no text becomes bytes that are none."""
    return text.encode("utf-8", "surrogatepass").replace(b"\xed\xb2\x80", b"\x80")


def reading(text: str) -> str:
    """Any bytes as a YAML file: text values with their places, or findings."""
    document, findings = read_text(encoded(text), SHELF)
    assert document is not None or findings
    if document is not None:
        _plain_words(document.tree)
        assert all(mark.line >= 1 and mark.column >= 1 for mark in document.values.values())
    return told(document, findings)


def _plain_words(tree: Any) -> None:
    if isinstance(tree, dict):
        assert all(type(key) is str for key in tree)
        tree = list(tree.values())
    if isinstance(tree, list):
        for each in tree:
            _plain_words(each)
        return
    assert type(tree) is str


def process(text: str) -> str:
    """A process file through check, compute, compose and draw: findings, or sheets."""
    shop = _shop()
    document, findings = read_text(encoded(text), SHELF)
    if document is None or findings:
        return told(document, findings)
    made = process_of(document, shop.workshop, findings)
    if made is None or findings:
        return told(document, findings)
    whole = Shop(shop.folder, shop.workshop, {SHELF: document}, {SHELF: made})
    workings, findings = work_out(whole, SHELF)
    if findings:
        return told(document, findings)
    assert shop.workshop is not None
    sheets, faults = compose(made, workings, shop.workshop, FACTS)
    if sheets is None or faults:
        return told(document, [place_of(document, fault) for fault in faults])
    return heard(lambda: lay_out(sheets.sheets))


@cache
def _processes() -> tuple[str, ...]:
    demo = sorted((SOUND.parents[2] / "processes").rglob("*.yaml"))
    files = [*sorted(SOUND.rglob("*.yaml")), *(f for f in demo if "workshop" not in f.parts)]
    return tuple(file.read_text(encoding="utf-8") for file in files)


def _words_of_schemas() -> tuple[str, ...]:
    folder = SOUND.parents[2] / "schema"
    text = "".join(file.read_text(encoding="utf-8") for file in sorted(folder.glob("*.yaml")))
    return tuple(sorted({line.strip() for line in text.split("\n") if line.strip().endswith(":")}))


def reading_target() -> Target:
    """Each part of each file, so that most of the time goes into damage and not into length."""
    parts = {part: None for file in _processes() for part in re.split(r"\n(?=[a-z])", file)}
    return Target("YAML", reading, tuple(parts), NASTY, ("read",), 20_000)


def process_target() -> Target:
    own = (*_words_of_schemas(), "{{ leg }}", "{{ thickness }}", "{{ flat.developed_length }}",
           "hold", "independent", "witness", "close", "wait", "1.2 ± 0.05 mm", "90°", "[]", "{}",
           "deleted at C", "tolerance: each", "safe: up", "a / 0", "leg / 0", "leg - leg")  # fmt: skip
    files = (text for text in _processes() if "\nprocess:" in f"\n{text}")
    sound = tuple(sorted(files, key=len)[:4])  # the short ones: a long one takes ten times as long
    rooms = ("check", "computing", "compose", "composing")
    return Target("processes", process, sound, (*NASTY, *own, *AMOUNTS), rooms, 60_000)


# --- results from the floor -----------------------------------------------------------------------


@cache
def sound_form() -> tuple[Form, Workshop]:
    """The form of the sound shelf, and its workshop."""
    shop = _shop()
    assert shop.workshop is not None
    workings, _ = work_out(shop, SHELF)
    sheets, _ = compose(shop.processes[SHELF], workings, shop.workshop, FACTS)
    assert sheets is not None
    pack = lay_out(sheets.sheets)
    boxes = json.loads(
        box_map({kind: pack.sheet(kind) for kind in sheets.sheets} | {"backs": pack.backs()})
    )
    return form_of(sheets.sheets, boxes), shop.workshop


def result(text: str) -> str:
    """What was typed from the paper: entries that are judged, or findings."""
    form, shop = sound_form()
    document, findings = read_text(encoded(text), "result.yaml")
    if document is None or findings:
        return told(document, findings)
    faults = shape_faults(document, "A-0001", {"A-0001": "", "A-0001 R1": "R1"})
    entries: Any = {}
    if not faults:
        entries, faults = entries_in(document.tree["boxes"], form)
    if not faults:
        faults = unreadable(document.tree["boxes"], form, entries)
    if faults:
        return told(document, [place_of(document, fault) for fault in faults])
    books = Books(
        {each.stamp: each for each in shop.stamps},
        {each.number: each for each in shop.instruments},
        trade="forming",
    )
    verdicts = judged(form, entries, books)
    assert all(each.says and each.where for each in verdicts)
    return " ".join(sorted({each.code for each in verdicts}))


def result_target() -> Target:
    form, shop = sound_form()
    instruments = {each.kind: each.number for each in shop.instruments}
    seeds = (blank_form(form, "A-0001"), filled(form, "A-0001", instruments))
    own = ("x", "all", "none", "{not: []}", "{not: [a]}", '"10":', "ticks:", "N/A: not there",
           "late: 3, written 26 NOV 2026", "LQ14", "INS2", "26 NOV 2026", "10:00", "²", "1.2.3",
           "[1, 2]", '["", ""]', "boxes: {}", "traveller: A-0002", "traveller: A-0001 R1", "sheet:")  # fmt: skip
    return Target("results", result, seeds, (*NASTY, *own), ("results", "commands/enter"), 40_000)
