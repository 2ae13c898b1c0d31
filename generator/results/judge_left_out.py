"""Boxes of a form in; those that are empty, and those that somebody wrote off by N/A without the
line that says so, out.

Free of a line is what the paper itself asks to be ticked N/A: a tool that needs no check. All else
has one, on its sheet or on the traveller: which operation or line, which box, why, on which day, by
whose stamp. What a line does not name, it does not excuse.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator

from generator.composing.kinds import HEAT_TREATMENT_RECORD, SUBCONTRACT_ORDER
from generator.results.case import Case, Verdict, is_not_applicable, said
from generator.results.form import AGAIN, Field
from generator.results.form_figures import SET, is_beside
from generator.results.judge_values import on_a_slip

INSPECTORS = ("inspector", "independent inspector")
DECIDES = ("lead", *INSPECTORS)
_PLACE = "operation or line"
_NUMBERED = r"\d+(?:R\d+[A-Z]?)?"
_COUNTED = re.compile(r"(\d+) (.+?)(?: \(single use\))?|feature (\d+)")
_INSTEAD = {"go on without": "sign witness", "sign witness": "go on without"}
_NEEDS_NO_CHECK = ("tool-list", "check due")
_WITHOUT_PAPER = ("kit-list", "release paper")
_OF_A_TIME = re.compile(r"(?:time|day|from|to)(?: day)?")  # boxes of one time, called by its row
_VERDICTS = ("in", "between", "out")
_NUMBER = " no."


def blank(case: Case) -> Iterator[Verdict]:
    """A box without an entry, an entry that nobody can read, an N/A without its reason."""
    for each in case.form.fields:
        entry = case.entry(each)
        if entry.state == "unreadable":
            yield said(each, "unreadable", "an entry that cannot be read is no entry")
        elif entry.state == "not applicable" and not entry.why:
            yield said(each, "reason", "N/A without a reason")
        elif is_missing(case, each) and not _goes_without(case, each):
            yield said(each, "missing", "the box is empty")


def is_missing(case: Case, of: Field) -> bool:
    """Whether a box is empty that must not be."""
    return case.entry(of).state == "blank" and not of.may_be_empty and not _left_open(case, of)


def _left_open(case: Case, of: Field) -> bool:
    """A box that another makes needless: one of an operation that does not apply; who came as a
    witness needs no leave to go on without."""
    beside = case.in_operation(of.operation) if of.operation else []
    if any(is_not_applicable(f) and case.written(f) for f in beside):
        return True
    other = _INSTEAD.get(of.row)
    if of.row == "sign witness" and any(
        case.written(f) == "came" for f in beside if f.row == "attendance"
    ):
        return False  # who came, signs
    return any(case.written(f) for f in beside if f.row == other and f.kind == "stamp")


def _goes_without(case: Case, of: Field) -> bool:
    """Whether an empty box is left out without N/A in the box itself."""
    return _is_ticked_off(case, of) or _is_named(case, of)


def _is_named(case: Case, of: Field) -> bool:
    """A tick of an operation, such as that of a step, that a whole line of N/A names: ticks are
    typed together, and one that is not ticked has no words of its own. Never the tick that the
    operation is done; nor does a line of the whole operation leave its ticks out one by one."""
    if of.kind != "tick" or not of.operation or of.row == "operation":
        return False
    lines = (line for line in _lines_of(case, of.sheet) if _is_at(case, line, of))
    wholes = ("sheet", "operation", "line")
    return any(
        _names(case, line, of) and not any(_whole(case, line, what) for what in wholes)
        for line in lines
    )


def _is_ticked_off(case: Case, of: Field) -> bool:
    """Whether a box of a list is empty because its row is ticked N/A, as the list itself says."""
    if (of.sheet, of.name) not in (_NEEDS_NO_CHECK, _WITHOUT_PAPER):
        return False
    return any(case.written(f) for f in _row(case, of) if f.name == "N/A")


def _row(case: Case, of: Field) -> list[Field]:
    return [f for f in case.form.fields if f.key[:3] == of.key[:3]]


def witnesses(case: Case) -> Iterator[Verdict]:
    """Who did not come, and signed all the same."""
    for each in case.form.fields:
        if each.row == "attendance" and case.written(each) == "did not come":
            beside = case.in_operation(each.operation, "stamp")
            if any(case.written(f) for f in beside if f.row == "sign witness"):
                yield said(each, "witness", "did not come, and the witness has signed")


# --- one box ------------------------------------------------------------------------------------


def left_out(case: Case) -> Iterator[Verdict]:
    """A box that is written off. A stamp and its day are never left out by N/A in their own box,
    nor is the number of an instrument with which something was read."""
    for each in case.form.fields:
        gone = case.entry(each).state == "not applicable"
        ticked = case.entry(each).state == "blank" and _goes_without(case, each)
        if not (gone or ticked) or each.may_be_empty or _left_open(case, each):
            continue
        if each.kind == "stamp" or case.form.is_done_on(each):
            what = "stamp" if each.kind == "stamp" else "day of a stamp"
            whole = any(map(is_not_applicable, case.in_operation(each.operation)))
            right = "the operation is, with its line and its stamp" if whole else "it is waited for"
            yield said(each, "missing", f"a {what} is not left out by N/A: {right}")
        elif (each.sheet, each.name) == _NEEDS_NO_CHECK:
            continue
        elif (read := _read_with(case, each)) and not case.allowed(each):
            yield said(each, "instrument", f"N/A, and {read} was read with it")
        elif ticked or case.entry(each).why:
            yield from _without_its_line(case, each)


def _without_its_line(case: Case, of: Field) -> Iterator[Verdict]:
    there = [line for line in _lines_of(case, of.sheet) if _is_at(case, line, of)]
    lines = [line for line in there if _names(case, line, of)]
    stops = {stop.operation for stop in case.form.stops}
    heat = " of a heat treatment" if of.sheet in _papers_of_heat(case) else ""
    if not there:
        yield said(of, "reason", f"N/A{heat}, and no line of the sheet gives its reason with a "
                   "stamp")  # fmt: skip
    elif not lines:
        right = "'BOX: reason', whole line, whole operation or whole sheet"
        yield said(of, "reason", f"N/A{heat}, and its line does not name this box, as {right}")
    elif not _stamped(case, lines, DECIDES):
        says = f"N/A{heat}, and the line of its reason is not stamped by lead or inspector"
        yield said(of, "class", says)
    elif of.operation in stops and not _stamped(case, lines, INSPECTORS):
        says = "N/A at a stop, and the line of its reason has no stamp of an inspector"
        yield said(of, "class", says)


def _papers_of_heat(case: Case) -> Collection[str]:
    """The sheets that are all that is known of a heat treatment, which nobody here saw."""
    sheets = {f.sheet for f in case.form.fields}
    papers = {HEAT_TREATMENT_RECORD, SUBCONTRACT_ORDER}
    return sheets & papers if HEAT_TREATMENT_RECORD in sheets else ()


def _read_with(case: Case, of: Field) -> str:
    """A reading that stands beside the number of an instrument, and was taken with it; "" where
    there is none: in its row, else in its operation on the same sheet, those that say with which
    before those that do not."""
    kind = (of.name or of.row).removesuffix(_NUMBER)
    if kind == (of.name or of.row):
        return ""
    row = [f for f in _row(case, of) if f.kind == "number" or f.boxes[0].startswith(SET)]
    row = [f for f in row if not is_beside(f.boxes[0])]
    here = [f for f in case.form.fields if of.operation and f.key[:2] == of.key[:2]
            and f.kind == "number" and not is_beside(f.boxes[0])]  # fmt: skip
    told = [f for f in here if f.measured_with == kind]
    untold = [f for f in here if not f.measured_with and f.unit != "count"]
    return next((f.row for f in row or told or untold if case.written(f)), "")


# --- lines of N/A ---------------------------------------------------------------------------------


def _lines_of(case: Case, sheet: str) -> list[Field]:
    """The whole lines of N/A on a sheet, and those of the traveller."""
    return [
        f for f in case.form.fields
        if f.sheet in (sheet, "traveller") and f.name == _PLACE and _is_whole(case, f)
    ]  # fmt: skip


def _is_whole(case: Case, line: Field) -> bool:
    """Whether a line of N/A has its reason, its day and its stamp."""
    return all(case.written(f) for f in _row(case, line))


def _stamped(case: Case, lines: Iterable[Field], classes: Collection[str]) -> bool:
    """Whether a line of N/A has a stamp of one of the classes."""
    beside = [f for line in lines for f in _row(case, line) if f.kind == "stamp"]
    held = (case.books.stamps.get(case.written(each)) for each in beside)
    return any(each is not None and each.role in classes for each in held)


def _is_at(case: Case, line: Field, of: Field) -> bool:
    """Whether a line is of the operation of a box, or of its line on a list."""
    if _whole(case, line, "sheet") and _is_of_sheet(case, line, of):
        return True
    treated = {of.of} - {""} if of.sheet in _papers_of_heat(case) else ()
    called = {of.operation} if of.operation else {*_called(of, line), *treated}
    return bool(_found(case.written(line), called))


def _is_of_sheet(case: Case, line: Field, of: Field) -> bool:
    """A whole sheet is left out on itself, or on the traveller by its name."""
    if line.sheet == of.sheet:
        return line.sheet != "traveller"
    return bool(_found(_words(case, line), {of.sheet.replace("-", " ")}))


def _called(of: Field, line: Field) -> Iterator[str]:
    """What a line of a list is called: by all that stands in front of it, and on its own sheet by
    its number or by its words alone, as 5 or sealant."""
    row = AGAIN.sub("", of.row)
    yield row
    counted = _COUNTED.fullmatch(row)
    if counted and line.sheet == of.sheet:
        yield from filter(None, counted.groups())


def _names(case: Case, line: Field, of: Field) -> bool:
    """Whether a line names a box. What stands behind the first colon is its reason."""
    if _whole(case, line, "sheet") and _is_of_sheet(case, line, of):
        return True
    if _whole(case, line, "operation") and {of.operation, of.of} - {""}:
        return True
    if _whole(case, line, "line") and not of.operation:
        return True
    mine = set(_own_names(of))
    beside = {name for f in case.form.fields if f.key[:2] == of.key[:2] for name in _own_names(f)}
    cells = [case.written(f) for f in _row(case, line) if f.kind == "words"]
    return any(mine & _found(cell, beside, _reason_of(cell)) for cell in cells)


def _own_names(of: Field) -> Iterator[str]:
    """What a box is called, in small letters: in an operation by its row, on a list by its column,
    and by both together."""
    row = AGAIN.sub("", of.row)
    names = [of.label, f"{row} {of.name}", f"{row}: {of.name}"]
    if row == "operation":
        names += [of.name, of.name.rpartition(" ")[2]]  # 20 done, done
    elif of.operation or not of.name or _OF_A_TIME.fullmatch(of.name):
        names += [row]
    else:
        names += [of.name, of.name.partition(",")[0]]
    if of.choices == _VERDICTS:
        names += ["verdict"]
    return (each.lower() for each in names if each)


def _reason_of(cell: str) -> int:
    """Where the reason begins in a cell that says which box, and why."""
    return cell.find(":") if ":" in cell else len(cell)


def _words(case: Case, line: Field) -> str:
    return " ".join(case.written(f) for f in _row(case, line) if f.kind == "words")


def _whole(case: Case, line: Field, what: str) -> bool:
    return bool(_found(_words(case, line), {f"whole {what}"}))


def _found(text: str, names: Collection[str], until: int | None = None) -> set[str]:
    """The names that stand in a text as words of their own, each the longest that fits there and
    begun before a place; a name of one letter, such as that of a step, only in front of a colon."""
    if not names:
        return set()
    longest = sorted({each.lower() for each in names}, key=len, reverse=True)
    found = re.finditer(rf"(?<!\w)(?:{'|'.join(map(re.escape, longest))})(?!\w)", text.lower())
    end = len(text) if until is None else until
    return {
        each[0] for each in found
        if each.start() < end and (len(each[0]) > 1 or each[0].isdigit() or end < len(text))
    }  # fmt: skip


# --- a whole operation ----------------------------------------------------------------------------


def operations(case: Case) -> Iterator[Verdict]:
    """An operation that does not apply is named, with its reason, on the traveller, with the stamp
    of lead or inspector; one that is a stop, with that of an inspector. It was not done."""
    stops = {stop.operation for stop in case.form.stops}
    for each in case.form.fields:
        if not (is_not_applicable(each) and case.written(each)):
            continue
        there = [line for line in _lines_of(case, "traveller")
                 if each.operation in re.findall(_NUMBERED, case.written(line))]  # fmt: skip
        lines = [line for line in there if not _of_one_box(case, line, each.operation)]
        if not there:
            yield said(each, "reason", "N/A, and no line of the traveller gives its reason")
        elif not lines:
            right = "'whole operation: reason'"
            yield said(each, "reason", f"N/A, and its line is of one box alone, and not {right}")
        elif each.operation in stops and not _stamped(case, lines, INSPECTORS):
            says = "N/A at a stop, and the line of its reason has no stamp of an inspector"
            yield said(each, "class", says)
        elif not _stamped(case, lines, DECIDES):
            says = "N/A, and the line of its reason is not stamped by lead or inspector"
            yield said(each, "class", says)
        if any(case.written(f) for f in _row(case, each) if f.kind == "tick"):
            yield on_a_slip(case, each, "out", "ticked N/A and done, and it is one of them")


def _of_one_box(case: Case, line: Field, operation: str) -> bool:
    """Whether a line of N/A is of a box of an operation, as 'BOX: reason', and not of all of it."""
    if _whole(case, line, "operation"):
        return False
    boxes = [f for f in case.form.fields if f.operation == operation and f.row != "operation"]
    cell = next(case.written(f) for f in _row(case, line) if f.kind == "words" and f != line)
    until = cell.find(":")
    return until > 0 and bool(_found(cell, {n for f in boxes for n in _own_names(f)}, until))
