"""A process with its workings in; the sheet as Markdown out, through a template.

Step text only names numbers: {{ name }} is replaced by the number as it stands on every sheet,
with its mark. Nothing is computed here.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import Any

from generator import __version__
from generator.compute import Number, Working, Workings, strip_rows
from generator.escape import Markdown, escape, finalize
from generator.findings import Fault, Refusal, fault, near_word
from generator.process import Operation, Process, Reading, Strip, Workshop
from generator.quantities.amount import Amount
from generator.quantities.rounding import decimals, plain, rounded, with_minus
from generator.read import Steps
from generator.tables import table

_NAMED = re.compile(r"\{\{\s*([^{}]*?)\s*\}\}")
_MOST_ROWS = 11
_DASH = Markdown("-")


@dataclass(frozen=True)
class SheetFacts:
    """What is known of one print: serial "" on a draft; day is the day of printing."""

    serial: str
    part_serials: tuple[str, ...]
    day: str


@dataclass(frozen=True)
class Sheet:
    """A composed sheet: its Markdown and the full fingerprint of what decides it."""

    markdown: str
    fingerprint: str


def compose(
    process: Process, workings: Workings, workshop: Workshop, facts: SheetFacts
) -> tuple[Sheet | None, list[Fault]]:
    """The traveller of a process; no sheet where a text names what does not exist."""
    writer = _Writer(process, workings)
    operations = [writer.operation(i, each) for i, each in enumerate(process.operations)]
    if writer.faults:
        return None, writer.faults
    body = _template("traveller.md.j2").render(
        p=process,
        operations=operations,
        families=_families(process),
        holds=_holds(process, writer),
        workings=[_working(each) for each in workings.workings.values()],
        givens=workings.givens,
        day=lambda d: d.strftime("%d %b %Y").upper(),
        dash=_DASH,
        workshop=workshop,
        version=__version__,
    )
    body = _spaced_out(body)
    fixed = _fixed_rows(process, workshop)
    fingerprint = sha256("\n".join([*fixed, body]).encode()).hexdigest()
    first, *others = [*fixed, *_print_rows(facts, fingerprint)]
    lines = ["::: frame", first, "| --- | --- |", *others, ":::", "", body.rstrip()]
    lines += ["", f"Full fingerprint: {fingerprint}", ""]
    return Sheet("\n".join(lines), fingerprint), []


def _spaced_out(body: str) -> str:
    """The body with one blank line between blocks, so that it reads well as text."""
    lines: list[str] = []
    inside = False
    for line in filter(None, body.split("\n")):
        row = line.startswith("|")
        joins = inside or (row and lines and lines[-1].startswith("|"))
        if lines and not joins:
            lines.append("")
        lines.append(line)
        inside = line != ":::" and (inside or line.startswith(":::"))
    return "\n".join(lines) + "\n"


def short(fingerprint: str) -> str:
    """The fingerprint as sheets show it: twelve signs in threes of four."""
    word = fingerprint[:12].upper()
    return f"{word[:4]} {word[4:8]} {word[8:]}"


def _row(key: str, value: str) -> str:
    return f"| {key} | {escape(value)} |"


def _fixed_rows(process: Process, workshop: Workshop) -> list[str]:
    """The rows of the frame that belong to the process, not to one print of it."""
    return [
        _row("kind", "TRAVELLER"),
        _row("trade", process.trade[:1].upper() + process.trade[1:]),
        _row("title", process.title),
        _row("process", process.number),
        _row("revision", process.revision.letter),
        _row("part", process.part.number),
        _row("hand", process.part.hand),
        _row("airframe", process.airframe),
        _row("units", workshop.units),
        _row("language", workshop.language),
        _row("paper", workshop.paper),
    ]


def _print_rows(facts: SheetFacts, fingerprint: str) -> list[str]:
    rows = [
        _row("serial", facts.serial or "DRAFT"),
        _row("part serial", ", ".join(facts.part_serials) or "not given"),
        _row("fingerprint", short(fingerprint)),
        _row("printed", facts.day),
    ]
    return rows if facts.serial else [*rows, _row("draft", "DRAFT - NOT FOR WORK")]


@cache
def _template(name: str) -> Any:
    from jinja2 import Environment, StrictUndefined

    engine = Environment(
        finalize=finalize,
        undefined=StrictUndefined,
        trim_blocks=False,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        line_statement_prefix="%%",
        autoescape=False,  # finalize escapes every value for Markdown; HTML is never made
    )
    text = files("generator").joinpath("templates", name).read_text(encoding="utf-8")
    return engine.from_string(text)


def _families(process: Process) -> list[Mapping[str, Any]]:
    families = table("safety")["families"]
    return [
        {"name": name, "warning": "", "caution": "", **families[name]} for name in process.safety
    ]


def _working(working: Working) -> Mapping[str, Any]:
    rows: list[tuple[str, str]] = []
    for name, choice in working.keys.items():
        rows.append((name, choice))
    for line in working.lines:
        label = f"{line.symbol} {line.meaning}".strip()
        texts = [line.formula, line.numbers, line.result]
        shown = [text for i, text in enumerate(texts) if text and text not in texts[:i]]
        for n, text in enumerate(shown):
            rows.append((label if n == 0 else "", text if n == 0 else f"= {text}"))
    for number in working.results:
        if number.order:
            rows.append((number.meaning, number.text))
    rows += [
        (label, text)
        for label, text in (
            ("second method", working.second),
            ("holds for", working.range),
            ("does not cover", working.not_covered),
            ("source", working.source),
        )
        if text
    ]
    return {"mark": working.mark, "title": working.title, "rows": rows}


def _holds(process: Process, writer: _Writer) -> list[tuple[str, str, str, Markdown]]:
    rows = []
    for i, operation in enumerate(process.operations):
        if operation.kind in ("hold", "witness", "independent"):
            by = (
                operation.released_by
                or operation.attended_by
                or f"{operation.first_by}, then {operation.second_by}"
            )
            text = writer.text(("operations", i, "do"), operation.do)
            rows.append((str(operation.number), operation.kind.upper(), by, text))
    return rows


class _Writer:
    """Turns texts and limits of one process into Markdown; gathers what it cannot."""

    def __init__(self, process: Process, workings: Workings) -> None:
        self.process, self.workings = process, workings
        self.faults: list[Fault] = []

    def text(self, here: Steps, words: str) -> Markdown:
        """A text with its named numbers put in; everything between them escaped."""
        if "{{" not in words and "}}" not in words:
            return escape(words)
        parts, end = [], 0
        for match in _NAMED.finditer(words):
            parts.append(words[end : match.start()])
            parts.append(self._reference(here, match[1]))
            end = match.end()
        parts.append(words[end:])
        if any(brace in part for part in parts[::2] for brace in ("{{", "}}")):
            self.faults.append(Fault(here, "text", "a {{ without its }}", "{{ name }}"))
        return _spliced(parts)

    def _reference(self, here: Steps, name: str) -> Markdown:
        number = self.workings.numbers.get(name)
        if number is None:
            self.faults.append(self._unnamed(here, name))
            return Markdown("")
        return _linked(number)

    def _unnamed(self, here: Steps, name: str) -> Fault:
        known = self.workings.numbers
        owner = name.partition(".")[0]
        if not re.match(r"[a-z][a-z0-9_.]*$", name):
            wrong = f"'{{{{ {name} }}}}' does more than name a number"
            return Fault(here, "name", wrong, "an entry under work out, and its name here")
        inside = [each for each in known if each.startswith(f"{owner}.")]
        near = near_word(name, known)
        right = (
            f"one of: {', '.join(inside)}"
            if inside
            else f"{near}?"
            if near
            else "a name under given or work out"
        )
        return Fault(here, "name", f"no number is named '{name}'", right)

    def operation(self, i: int, operation: Operation) -> Mapping[str, Any]:
        """What the template needs of one operation."""
        here: Steps = ("operations", i)
        if operation.deleted_at:
            return {"op": operation, "number": operation.number, "kind": "deleted"}
        return {
            "op": operation,
            "number": operation.number,
            "kind": operation.kind,
            "do": self._instruction(here, operation),
            "steps": self._each(here, "steps", operation.steps),
            "warnings": self._each(here, "warning", operation.warnings),
            "cautions": self._each(here, "caution", operation.cautions),
            "notes": self._each(here, "note", operation.notes),
            "points": self._each(here, "points", operation.points),
            "before": self._state(here, operation, "start", "uses"),
            "after": self._state(here, operation, "if it fails", "leave"),
            "readings": [
                self._reading((*here, "readings", j), each)
                for j, each in enumerate(operation.readings)
            ]
            + self._threads(operation),
            "instruments": list(
                dict.fromkeys(r.instrument for r in operation.readings if r.instrument)
            ),
            "strip": self._strip((*here, "strip"), operation.strip) if operation.strip else None,
            "lookup": self._lookup(operation),
            "clock": [(line.label, _added(line.add)) for line in operation.clock],
            "map": self._map((*here, "map"), operation),
            "figure": self._figure((*here, "figure"), operation),
            "closes": self._closes(i),
            "notice": operation.notice.typed if operation.notice is not None else "",
        }

    def _each(self, here: Steps, key: str, texts: tuple[str, ...]) -> list[Markdown]:
        return [self.text((*here, key), words) for words in texts]

    def _instruction(self, here: Steps, operation: Operation) -> Markdown:
        words = self.text((*here, "do"), operation.do)
        if operation.kind in ("hold",):
            return words
        verb, space, rest = words.partition(" ")
        return Markdown(f"**{verb.upper()}**{space}{rest}") if verb.isalpha() else words

    def _state(self, here: Steps, operation: Operation, *keys: str) -> list[tuple[str, Markdown]]:
        """How the operation starts, or how it ends: lines under short headings."""
        texts = {
            "start": self.text((*here, "start"), operation.start),
            "uses": escape(", ".join(operation.uses)),
            "if it fails": self.text((*here, "if it fails"), operation.if_it_fails),
            "leave": self.text((*here, "leave"), operation.leave),
        }
        return [(key, texts[key]) for key in keys if texts[key]]

    def _closes(self, i: int) -> str:
        """The operations that a hold closes: all since the hold before it."""
        numbers: list[int] = []
        for operation in reversed(self.process.operations[:i]):
            if operation.kind == "hold":
                break
            if not operation.deleted_at:
                numbers.append(operation.number)
        if not numbers:
            return "none"
        first, last = numbers[-1], numbers[0]
        return str(first) if first == last else f"{first} to {last}"

    # --- readings ---------------------------------------------------------------------------

    def _reading(self, here: Steps, reading: Reading) -> tuple[Markdown, str, str, str, int]:
        name = self.text((*here, "name"), reading.name)
        if reading.entry in ("words", "clock", "date", "tick"):
            return name, _DASH, _DASH, reading.entry, reading.times
        lower = self._limit((*here, "lower"), reading, reading.lower)
        upper = self._limit((*here, "upper"), reading, reading.upper)
        scale = "count" if reading.entry == "count" else self._unit_of(here, reading)
        if lower == upper == _DASH:
            lower = upper = "record"
        self._in_order(here, reading)
        return name, lower, upper, scale, reading.times

    def _limit(self, here: Steps, reading: Reading, limit: Amount | str | None) -> str:
        if limit is None:
            return _DASH
        if isinstance(limit, Amount):
            return _typed_limit(reading, limit)
        number = self.workings.numbers.get(limit)
        if number is None or number.amount is None:
            self.faults.append(self._unnamed(here, limit))
            return _DASH
        return number.shown if number.mark.startswith("c") else _typed_limit(reading, number.amount)

    def _unit_of(self, here: Steps, reading: Reading) -> str:
        units = set()
        for limit in (reading.nominal, reading.lower, reading.upper):
            number = self.workings.numbers.get(limit) if isinstance(limit, str) else None
            if number is not None:
                units.add(number.unit)
            elif isinstance(limit, Amount):
                units.add(limit.unit.text)
        if len(units) > 1:
            wrong = f"'{reading.name}' mixes units: {', '.join(sorted(u or 'none' for u in units))}"
            self.faults.append(Fault((*here, "name"), "unit", wrong, "one unit for all its limits"))
        text = units.pop() if units else reading.unit
        return text or "count"

    def _in_order(self, here: Steps, reading: Reading) -> None:
        """Limits that were worked out are judged here, as typed ones were in check."""
        ends = [
            self._value(reading.lower),
            self._value(reading.nominal),
            self._value(reading.upper),
        ]
        known = [end for end in ends if end is not None]
        if known != sorted(known) and any(
            isinstance(each, str) for each in (reading.lower, reading.nominal, reading.upper)
        ):
            wrong = f"the limits of '{reading.name}' come out in the wrong order"
            self.faults.append(Fault((*here, "name"), "limits", wrong, "lower, nominal, upper"))

    def _value(self, limit: Amount | str | None) -> float | None:
        if isinstance(limit, str):
            number = self.workings.numbers.get(limit)
            return number.amount.value if number and number.amount is not None else None
        return None if limit is None else limit.value

    def _threads(self, operation: Operation) -> list[tuple[Markdown, str, str, str, int]]:
        working = self.workings.workings.get(operation.tightens)
        if working is None:
            return []
        keys = working.keys
        words = f"threads are {keys['lubrication']} (table row {keys['thread']}, {keys['nut']} nut)"
        return [(escape(words), _DASH, _DASH, "tick", 1)]

    # --- strips, maps, figures --------------------------------------------------------------

    def _strip(self, here: Steps, strip: Strip) -> Mapping[str, Any] | None:
        try:
            return self._strip_rows(here, strip)
        except Refusal as refusal:
            self.faults.append(fault(here, refusal))
        return None

    def _strip_rows(self, here: Steps, strip: Strip) -> Mapping[str, Any]:
        given = self.process.given.get(strip.over)
        nominal = self.workings.numbers.get(strip.over)
        if given is None or nominal is None or nominal.amount is None:
            near = near_word(strip.over, self.process.given)
            right = f"{near}?" if near else "the name of a given"
            raise Refusal(
                "strip", f"the strip runs over '{strip.over}', which is no given here", right
            )
        if given.range is None:
            raise Refusal(
                "strip",
                f"'{strip.over}' has no range, so the strip has no STOP",
                f"range: under given {strip.over}",
            )
        _inside_range(strip, given.range)
        if round((strip.last.value - strip.first.value) / strip.step.value) + 1 > _MOST_ROWS:
            raise Refusal("strip", f"the strip has more than {_MOST_ROWS} columns", "a larger step")
        rows = strip_rows(
            self.process, self.workings, strip.of, strip.over, strip.first, strip.last, strip.step
        )
        step = _step_text(strip)
        heads = [rounded(value.number(), step) for value, _ in rows]
        framed = [
            abs(v.value - nominal.amount.value) < 1e-9 * max(abs(v.value), 1e-6) for v, _ in rows
        ]
        heads = [
            f"**{escape(h)}**" if f else str(escape(h)) for h, f in zip(heads, framed, strict=True)
        ]
        corner = f"{strip.over.replace('_', ' ')} {nominal.unit}".strip()
        lines = [
            (f"{rows[0][1][k].meaning} {rows[0][1][k].unit}".strip(), [r[k].shown for _, r in rows])
            for k in range(len(strip.of))
        ]
        return {"corner": corner, "heads": [Markdown(h) for h in heads], "lines": lines}

    def _lookup(self, operation: Operation) -> Mapping[str, Any] | None:
        lookup = operation.lookup
        if lookup is None:
            return None
        flag = " TYPED" if lookup.source == "calculated" else ""
        rows = []
        for row in lookup.rows:
            first, *others = (escape(with_minus_sign(cell)) for cell in row)
            framed = Markdown(f"**{first}**") if row[0] == lookup.framed else first
            rows.append([framed, *others])
        return {"title": lookup.title, "flag": flag, "columns": lookup.columns, "rows": rows}

    def _map(self, here: Steps, operation: Operation) -> Mapping[str, str] | None:
        plan = self.process.maps.get(operation.map)
        if plan is None:
            return None
        rows = {
            "fasteners": str(plan.fasteners),
            "item": plan.item,
            "pitch circle": plan.pitch_circle.typed,
            "first": plan.first,
            "numbering": plan.numbering,
            "looking": plan.looking,
        }
        if plan.order:
            rows |= self._order(here, plan.order, plan.fasteners)
        return rows

    def _order(self, here: Steps, name: str, fasteners: int) -> Mapping[str, str]:
        number = self.workings.numbers.get(name)
        if number is None or not number.order:
            self.faults.append(
                Fault(
                    here,
                    "name",
                    f"'{name}' is no tightening order",
                    "a working that gives an order",
                )
            )
            return {}
        if sorted(number.order) != list(range(1, fasteners + 1)):
            wrong = (
                f"the order '{name}' is for {len(number.order)} fasteners; the map has {fasteners}"
            )
            self.faults.append(Fault(here, "count", wrong, f"fasteners: {fasteners} in both"))
        return {"order": number.text}

    def _figure(self, here: Steps, operation: Operation) -> Mapping[str, Any] | None:
        if not operation.figure:
            return None
        working = self.workings.workings.get(operation.figure)
        if working is None or working.ran is None or not working.ran.calculation.figure:
            self.faults.append(
                Fault(
                    here, "figure", f"'{operation.figure}' has no figure", "a working with a figure"
                )
            )
            return None
        return {"kind": working.ran.calculation.figure, "rows": _bend_rows(working)}


def _spliced(parts: list[str]) -> Markdown:
    """Texts and references in turn. Each text is escaped as if it stood in the middle of a line."""
    made = []
    for n, part in enumerate(parts):
        if n % 2:
            made.append(part)
            continue
        lead = " " if part.startswith(" ") and n else ""
        trail = " " if part.endswith(" ") and part.strip() else ""
        made.append(f"{lead}{escape(part)}{trail}" if part.strip() else (" " if part and n else ""))
    return Markdown("".join(made).strip())


def _linked(number: Number) -> Markdown:
    flag = f" **{number.flag}**" if number.flag else ""
    return Markdown(f"[{escape(number.text)}](#{number.mark}){flag}")


def with_minus_sign(text: str) -> str:
    """A cell that begins with a hyphen and a digit begins with a true minus."""
    return with_minus(text) if re.match(r"-\d", text) else text


def _typed_limit(reading: Reading, limit: Amount) -> str:
    """A typed limit to the step it is read to, never to fewer figures than it was typed with."""
    number = limit.number()
    places = decimals(plain(number).replace("\N{MINUS SIGN}", "-"))
    if reading.to is not None:
        step = limit.unit.factor and reading.to.value / limit.unit.factor
        places = max(places, decimals(plain(step)))
    return rounded(number, f"{10**-places:.{places}f}")


def _step_text(strip: Strip) -> str:
    """The decimals in which the entries of a strip are printed."""
    scale = strip.first.unit
    numbers = (strip.step.value / scale.factor, strip.first.number())
    places = max(decimals(plain(n).replace("\N{MINUS SIGN}", "-")) for n in numbers)
    return f"{10**-places:.{places}f}"


def _inside_range(strip: Strip, limits: Amount) -> None:
    kinds = {(a.unit.dimension) for a in (strip.first, strip.last, strip.step, limits)}
    if len(kinds) > 1:
        raise Refusal(
            "unit", "the strip's from, to and step are different kinds of quantity", "one unit"
        )
    assert limits.low is not None and limits.high is not None
    slack = 1e-9 * max(abs(limits.high), 1e-9)
    if strip.first.value < limits.low - slack or strip.last.value > limits.high + slack:
        wrong = f"the strip runs from {strip.first.typed} to {strip.last.typed}, outside the range"
        raise Refusal("strip", wrong, f"inside {limits.typed}: a strip is never extended")
    if strip.last.value <= strip.first.value or strip.step.value <= 0:
        raise Refusal("strip", "the strip does not rise from 'from' to 'to'", "from below to")
    rungs = (strip.last.value - strip.first.value) / strip.step.value
    if abs(rungs - round(rungs)) > 1e-6:
        raise Refusal(
            "strip",
            f"steps of {strip.step.typed} do not end at {strip.last.typed}",
            "a step that divides the range",
        )


def _added(amount: Amount | None) -> str:
    return f"+ {amount.typed}" if amount is not None else ""


def _bend_rows(working: Working) -> list[tuple[str, str]]:
    assert working.ran is not None
    inputs = working.ran.inputs
    rows = [("thickness", inputs["thickness"].numbers)]
    for n, leg in enumerate(inputs["legs"], start=1):
        rows.append((f"leg {n}", leg.numbers))
        if n <= len(inputs["bends"]):
            bend = inputs["bends"][n - 1]
            rows.append((f"bend {n}", f"{bend.bend_angle.numbers} R {bend.radius.numbers} up"))
    return rows
