"""`calculate`: one calculation at the desk; its working, its results, or what it asks for."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from generator.calculation import Calculation, Input, Output
from generator.calculations import calculations, not_known
from generator.check.workings import listed, literal
from generator.commands.told import tell
from generator.computing.chain import AtCorner, limits_at_the_desk
from generator.computing.running import Result, Run, run
from generator.computing.tolerance import Limits
from generator.computing.typed import command_line
from generator.computing.working import WORST_CASE, Working, with_limits, working_of
from generator.findings import Refusal, near_word
from generator.quantities.amount import Step
from generator.quantities.text import read_count
from generator.workshop import own_rows


def calculate(asked: Namespace) -> int:
    """0 with the working printed; 1 where it is refused; 2 where the words do not fit."""
    known = calculations()
    if asked.name is None:
        print("\n".join(f"{name:26} {what.title}" for name, what in known.items()))
        return 0
    if asked.name not in known:
        told = not_known(asked.name)
        raise Refusal("misuse", told.wrong, told.right)
    what = known[asked.name]
    if not asked.values:
        print(_asks(what))
        return 0
    if not asked.workshop.is_dir():
        raise Refusal("folder", f"no folder {asked.workshop}", "--workshop FOLDER, or none")
    rows, findings = own_rows(asked.workshop)
    if findings:
        tell(findings, asked)
        return 1
    ran = run(what, _inputs(what, asked.values), rows)
    limits = _limits(ran)
    print(_as_json(ran, limits) if asked.json else _as_text(ran, limits))
    return 0


def _limits(ran: Run) -> Mapping[str, Limits]:
    """The limits that the tolerances of the inputs leave each result."""
    try:
        return limits_at_the_desk(ran)
    except AtCorner as stop:
        told = stop.refusal
        raise Refusal(told.code, f"inside the tolerances: {told.wrong}", told.right) from None


def _asks(what: Calculation) -> str:
    """What a calculation needs and gives, with an example from print."""
    lines = [what.title, *([what.about] if what.about else []), "", "inputs:"]
    lines += [f"  {item.name:18} {_needs(item)}" for item in what.inputs if item.kind != "fixed"]
    lines += ["", "results:"]
    lines += [f"  {name or what.name:18} {says}" for name, says in _gives(what.outputs, "")]
    if what.examples:
        lines += ["", "example:", f"  witnessmark {command_line(what, what.examples[0].given)}"]
    lines += ["", f"source: {what.source}", f"does not cover: {what.not_covered}"]
    return "\n".join(lines)


def _gives(outputs: Sequence[Output], before: str) -> Iterator[tuple[str, str]]:
    """Every result by the name that follows the entry's own; n stands for a number from 1 on."""
    for out in outputs:
        name = ".".join(filter(None, (before, out.name)))
        if out.kind == "rows":
            yield from _gives(out.row, f"{name}.n".lstrip("."))
        elif out.kind == "window":
            ends = [".".join(filter(None, (name, end))) for end in ("from", "to")]
            yield from ((end, f"{out.fact.meaning}, in {out.fact.unit}") for end in ends)
        else:
            many = ".n" if out.kind == "amounts" else ""
            unit_text = getattr(out.fact, "unit", "")
            yield f"{name}{many}", out.fact.meaning + (f", in {unit_text}" if unit_text else "")


def _needs(item: Input) -> str:
    if item.kind == "rows":
        cells = " / ".join(_cell(cell) for cell in item.row)
        return f"a list: {cells}, the next after a comma"
    if item.kind in ("amount", "amounts"):
        limits = item.fact.range_in_words()
        bounds = limits if limits != "any value" else f"in {item.fact.unit}"
        words = f"{item.fact.meaning}, {bounds}"
        if item.fact.at_bench:
            words += f", measured at the bench to {item.fact.at_bench} {item.fact.unit}"
        return words + (", a list with commas" if item.kind == "amounts" else "")
    meaning = str(item.fact.meaning)
    if item.kind == "choice":
        told = f"{meaning}: {listed(item.fact.words)}"
        return told + (f", {item.otherwise} if not given" if item.otherwise else "")
    return (
        f"{meaning}, {item.fact.at_least} to {item.fact.at_most}"
        if item.kind == "count"
        else meaning
    )


def _cell(cell: Input) -> str:
    if cell.kind == "choice":
        return f"{cell.name}, {listed(cell.fact.words)}"
    return f"{cell.name} in {cell.fact.unit}" if cell.kind == "amount" else cell.name


def _inputs(what: Calculation, words: list[str]) -> dict[str, Any]:
    typed: dict[str, str] = {}
    wanted = {item.name: item for item in what.inputs if item.kind != "fixed"}
    for word in words:
        key, equals, value = word.partition("=")
        if not equals or key not in wanted:
            near = near_word(key, wanted)
            right = (
                (f"{near}=...? " if near and equals else "") + "key=value with " + ", ".join(wanted)
            )
            raise Refusal("misuse", f"'{word}' is no input of {what.name}", right)
        if key in typed:
            raise Refusal("misuse", f"'{key}' is given twice", "each input once")
        typed[key] = value
    missing = [name for name, item in wanted.items() if name not in typed and not item.otherwise]
    if missing:
        needs = "; ".join(f"{name}: {_needs(wanted[name])}" for name in missing)
        raise Refusal("misuse", f"{', '.join(missing)} missing", needs)
    return {name: _value(item, typed.get(name, item.otherwise)) for name, item in wanted.items()}


def _value(item: Input, typed: str) -> Any:
    if item.kind in ("amounts", "rows"):
        parts = [part.strip() for part in typed.split(",")]
        if item.kind == "amounts":
            return [literal(item.fact, part) for part in parts]
        return [_row(item, part) for part in parts]
    return _single(item, typed)


def _single(item: Input, typed: str) -> Any:
    if item.kind in ("key", "choice"):
        return typed
    return read_count(typed) if item.kind == "count" else literal(item.fact, typed)


def _row(item: Input, part: str) -> Mapping[str, Any]:
    """The cells of one row; the last may be left out where they have a default."""
    cells = [cell.strip() for cell in part.split(" / ")]
    needed = sum(1 for cell in item.row if not cell.otherwise)
    if not needed <= len(cells) <= len(item.row):
        names = " / ".join(cell.name for cell in item.row)
        wrong = f"'{part}' is not {names}"
        raise Refusal("misuse", wrong, f"{len(item.row)} values with ' / ' between")
    return {c.name: _single(c, v) for c, v in zip(item.row, cells, strict=False)}


def _working(ran: Run, limits: Mapping[str, Limits]) -> Working:
    return with_limits(working_of(ran.calculation.name, "", ran), limits)


def _as_text(ran: Run, limits: Mapping[str, Limits]) -> str:
    lines = [ran.calculation.title]
    for line in _working(ran, limits).lines:
        lines += _line_texts(line)
    for result in ran.results:
        if result.amount is None:
            lines.append(f"  {result.fact.meaning}: {result.text}")
    lines += [f"  {line}" for out in ran.calculation.listed for line in _listed(ran, out)]
    if ran.second:
        lines.append(f"second method: {ran.second}")
    lines += [f"does not cover: {ran.calculation.not_covered}", f"source: {ran.calculation.source}"]
    return "\n".join(lines)


def _listed(ran: Run, out: Output) -> list[str]:
    """A table of results: its heads, then a line for each row; a dash where its last row ends."""
    heads = [" ".join([each.fact.symbol, getattr(each.fact, "unit", "")]) for each in out.row]
    shown = [r.shown for r in ran.results if r.name.startswith(f"{out.name}.")]
    shown += "-" * (-len(shown) % len(heads))
    rows = [shown[k : k + len(heads)] for k in range(0, len(shown), len(heads))]
    wide = [max(map(len, column)) for column in zip(heads, *rows, strict=True)]
    lines = [[h.rjust(w) for h, w in zip(line, wide, strict=True)] for line in (heads, *rows)]
    return [f"{out.fact.meaning}:", *("  " + "  ".join(line) for line in lines)]


def _line_texts(line: Step) -> list[str]:
    """A line of the working: its formula, its numbers, its result below each other."""
    if not line.formula and line.symbol and line.meaning == WORST_CASE:
        return [f"  {line.meaning}: {line.symbol} {line.result}"]
    lines = [f"  {line.symbol} = {line.formula or line.result}   {line.meaning}".rstrip()]
    texts = [text for text in (line.numbers, line.result) if text and line.formula]
    pad = " " * (len(line.symbol) + 2)
    return lines + [f"{pad}= {text}" for text in dict.fromkeys(texts)]


def _as_json(ran: Run, limits: Mapping[str, Limits]) -> str:
    results: dict[str, Any] = {}
    for result, number in zip(ran.results, _working(ran, limits).results, strict=True):
        name = result.name or ran.calculation.name
        if result.order:
            results[name] = {"order": list(result.order)}
        elif result.amount is None:
            results[name] = {"words": result.shown}
        elif number.amount is not None:
            results[name] = {
                "value": number.amount.number(),
                "unit": result.fact.unit,
                "printed": number.text,
                **_limits_as_json(ran.calculation.name, result, limits),
            }
    whole = {
        "calculation": ran.calculation.name,
        "results": results,
        "source": ran.calculation.source,
    }
    return json.dumps(whole, ensure_ascii=False, indent=1)


def _limits_as_json(name: str, result: Result, limits: Mapping[str, Limits]) -> dict[str, Any]:
    """Worst case and root sum square in the unit of the result; nothing where nothing moves."""
    found = limits.get(f"{name}.{result.name}" if result.name else name)
    if found is None or result.amount is None:
        return {}
    scale = result.amount.unit
    return {
        "worst case": [scale.from_base(found.low), scale.from_base(found.high)],
        "proven": found.proven,
        "root sum square": [scale.from_base(found.rss_low), scale.from_base(found.rss_high)],
        "driver": found.driver,
    }
