"""Instruments, counts, means and sheets of a form in; what does not agree, out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date

from generator.results.case import Case, Verdict, said
from generator.results.form import AGAIN, IN_HAND, Field
from generator.results.form_figures import REJECTED, REPLACED
from generator.results.judge_values import on_a_slip
from generator.results.values import TO, number_in
from generator.signs import things_in

_INSTRUMENT = " no."
_FAMILIES = ("wrench", "gauge")  # a record asks for one, and the list knows of several kinds
_ONE_OF = re.compile(r"\d+ of \d+")
_NEAR = 1e-9
_A_REJECTED = re.compile(r"(?:first|second|third|fourth) of .+")
_SLIP, _RIVETS = "slip no.", "rivet no."
_ONE = "[0-9]{1,9}"
_NUMBERS = re.compile(rf"{_ONE}(?:(?:{TO}|\s*[,;]\s*|\s+(?:and\s+)?){_ONE})*")  # 7, 9 to 12
_MAP, _KIT = "rivet-map", "kit-list"
_OF_ITEM = re.compile(r"(.+) no\. \d+$")  # what the ticks of a map are called
_USED, _DRIVEN = {"used", "scrapped"}, {"driven", REPLACED}
_LISTED = ("tool-list", "number used")
_MAY_BE_WORDS = ("out",)  # one tool that went out is ticked off as well as counted


def instruments(case: Case) -> Iterator[Verdict]:
    """An instrument that the workshop does not have, of another kind, or overdue on the day, beside
    a reading or on the list of tools. A kind that the workshop had at the issue and has no more is
    still one."""
    kinds = {each.kind for each in case.books.instruments.values()}
    kinds |= {each.kind for each in case.books.then.values()}
    for each in case.form.fields:
        kind, numbers = _asked(each, case.written(each))
        if any(_is_one(kind, known) for known in kinds):
            for text in numbers:
                yield from _wrong(case, each, kind, text)


def _asked(of: Field, text: str) -> tuple[str, Sequence[str]]:
    """The kind of instrument that a box asks for, "" for none, and the numbers that stand there: a
    list of tools may have several in a line."""
    if _is_listed(of):
        return AGAIN.sub("", of.row), things_in(text)
    named = of.name or of.row
    kind = named.removesuffix(_INSTRUMENT)
    return ("" if kind == named else kind), things_in(text)


def _is_listed(of: Field) -> bool:
    return (of.sheet, of.boxes[0]) == _LISTED


def _wrong(case: Case, of: Field, kind: str, text: str) -> Iterator[Verdict]:
    """What is wrong with one instrument in a box that asks for a kind. A list of tools has no day
    of use: one that stands at a reading too is judged there, and any other may have been used on no
    day of the list."""
    held = case.books.instruments.get(text, case.books.then.get(text))
    if held is None:
        yield said(of, "instrument", f"the workshop has no instrument {text}")
    elif not _is_one(kind, held.kind):
        yield said(of, "instrument", f"{text} is a {held.kind}, no {kind}")
    else:
        days = sorted({*case.days_of(of)})
        wrong = next(filter(None, (_overdue(case, text, day) for day in days)), "")
        if wrong and not _is_listed(of):
            yield said(of, "overdue", wrong)
        elif wrong and not _is_at_a_reading(case, held.kind, text):
            yield said(of, "overdue", f"{wrong}: no reading names it", blocks=False)


def _is_at_a_reading(case: Case, kind: str, number: str) -> bool:
    """Whether an instrument is named beside a reading on any sheet of the traveller."""
    for sheet in (case, *case.before, *case.later):
        for each in sheet.form.fields:
            asked, numbers = _asked(each, sheet.written(each))
            if number in numbers and _is_one(asked, kind) and not _is_listed(each):
                return True
    return False


def _is_one(asked: str, kind: str) -> bool:
    """Whether an instrument of a kind is what a box asks for by its name."""
    return kind == asked or (asked in _FAMILIES and kind.rpartition(" ")[2] == asked)


def _overdue(case: Case, number: str, used: date) -> str:
    """What is wrong with the check of an instrument on a day of its use. A check that was due then
    is not made good by a later one: the list of today must say that it was made before."""
    listed, held = case.books.then.get(number), case.books.instruments.get(number)
    then = listed.check_due if listed is not None else None
    if then is not None and used <= then:
        return ""
    if held is None or held.check_due < used:
        due = max(filter(None, (then, held.check_due if held else None)))
        return f"{number} was due {due.isoformat()}, used {used.isoformat()}"
    if held.checked is not None and held.checked > used:
        return f"{number} was checked on {held.checked.isoformat()}, used {used.isoformat()}"
    if held.checked is None and then is not None:
        says = f"{number} was due {then.isoformat()}, used {used.isoformat()}"
        return f"{says}; instruments.yaml does not say on which day it was checked since"
    return ""


def counts(case: Case) -> Iterator[Verdict]:
    """Issued = used + returned + scrapped; what went out comes back."""
    for fields in _rows(case).values():
        yield from _sum(case, fields, "issued", ("used", "returned", "scrapped"))
        yield from _sum(case, fields, "out", ("back",))
        yield from _sum(case, fields, "raised", ("closed", "open"))


def _rows(case: Case) -> Mapping[tuple[str, str, str], Mapping[str, Field]]:
    """The fields of every row by their names."""
    rows: dict[tuple[str, str, str], dict[str, Field]] = {}
    for each in case.form.fields:
        rows.setdefault((each.sheet, each.operation, each.row), {})[each.name] = each
    return rows


def _sum(
    case: Case, fields: Mapping[str, Field], whole: str, parts: Sequence[str]
) -> Iterator[Verdict]:
    if not {whole, *parts} <= fields.keys():
        return
    texts = {name: case.written(fields[name]) for name in (whole, *parts)}
    told = [number_in(text) for text in texts.values()]
    known = [each for each in told if each is not None]
    for name, text in texts.items() if known or whole not in _MAY_BE_WORDS else ():
        if text and (number := number_in(text)) is None:
            yield said(fields[name], "number", f"'{text}' is no number")
        elif text and number is not None and number < 0:
            yield said(fields[name], "number", f"'{text}' is below nothing, and things are counted")
    if len(known) == len(told) and abs(known[0] - sum(known[1:])) > _NEAR:
        says = f"{known[0]:g} {whole} is not " + " + ".join(
            f"{n:g} {name}" for n, name in zip(known[1:], parts, strict=True)
        )
        yield said(fields[whole], "count", says)


def replaced(case: Case) -> Iterator[Verdict]:
    """Rivets that were rejected and not replaced, but for those whose lines name a slip; more that
    were replaced than rejected."""
    for rows in _maps(_rows(case).items()):
        short = []
        for fields in (each for each in rows if {REJECTED, REPLACED} <= each.keys()):
            texts = [case.written(fields[name]) for name in (REJECTED, REPLACED)]
            one, other = map(number_in, texts)
            if one is None or other is None or abs(one - other) <= _NEAR:
                continue
            wrong = f"{texts[1]} replaced of {texts[0]} rejected"
            if other > one:
                yield said(
                    fields[REPLACED],
                    "count",
                    f"{wrong}: each that is replaced was rejected, count again",
                )
            else:
                short.append((fields[REPLACED], wrong, one - other))
        named = sum(_on_slips(case, each) for each in rows if REJECTED not in each)
        for of, wrong, _ in short:
            if named >= sum(missing for *_, missing in short):
                yield said(of, "count", f"{wrong}: each has a slip in its line", blocks=False)
            else:
                yield on_a_slip(case, of, "out", wrong, "a slip is needed, in the line of each")


def _on_slips(case: Case, fields: Mapping[str, Field]) -> int:
    """How many rivets a line leaves to its slip: none where it is ticked that they were
    replaced."""
    again = fields.get(REPLACED)
    if not case.written(fields[_SLIP]) or (again is not None and case.written(again)):
        return 0
    return _rivets_in(case, fields)


def _rivets_in(case: Case, fields: Mapping[str, Field]) -> int:
    """How many rivets a line names; one where nobody can count them."""
    told = case.written(fields[_RIVETS]) if _RIVETS in fields else ""
    if not _NUMBERS.fullmatch(told):
        return 1
    ends = re.findall(rf"([0-9]+)(?:{TO}([0-9]+))?", told)
    return sum(max(int(last or first) - int(first) + 1, 1) for first, last in ends)


def rejected(case: Case) -> Iterator[Verdict]:
    """A line of a rejected rivet that is not ticked as replaced and names no slip; more rivets in
    such lines than were counted in the rows of the map."""
    for rows in _maps(_rows(case).items()):
        lines = [fields for fields in rows if REJECTED not in fields and _is_told(case, fields)]
        for fields in lines:
            of = fields.get(REPLACED, fields[_SLIP])
            if not any(case.written(each) for each in (of, fields[_SLIP])):
                wrong = "rejected, not ticked as replaced"
                yield on_a_slip(case, of, "out", wrong, "a slip is needed, in its line")
        counted = [number_in(case.written(each[REJECTED])) for each in rows if REJECTED in each]
        known = [each for each in counted if each is not None]
        named = sum(_rivets_in(case, fields) for fields in lines)
        if lines and counted and len(known) == len(counted) and named > sum(known) + _NEAR:
            told = f"{named} rejected rivet{'s are' if named > 1 else ' is'} named"
            some = f"{sum(known):g} {'is' if sum(known) == 1 else 'are'} counted as rejected"
            of = next(each[REJECTED] for each in rows if REJECTED in each)
            yield said(of, "count", f"{told}, and {some}")


def _is_told(case: Case, fields: Mapping[str, Field]) -> bool:
    """Whether somebody wrote of a rivet in a line."""
    return any(case.written(f) for name, f in fields.items() if name not in (_SLIP, REPLACED))


def used(case: Case) -> Iterator[Verdict]:
    """Rivets of the kit that are fewer than the map has driven and replaced: said where every map
    of the sheet is of one and the same item, and all of its counts are known. One that was rejected
    may be counted as scrapped."""
    items = {m[1] for f in case.form.fields if f.kind == "tick" and (m := _OF_ITEM.match(f.row))
             and f.sheet == _MAP}  # fmt: skip
    rows = _rows(case)
    kit = [of for (sheet, _, row), of in rows.items() if sheet == _KIT
           and of.keys() >= _USED and {_item(row)} == items]  # fmt: skip
    maps = [of for (sheet, *_), of in rows.items() if sheet == _MAP and of.keys() >= _DRIVEN]
    if len(kit) != 1 or not maps:
        return
    driven, again = (
        [number_in(case.written(of[name])) for of in maps] for name in ("driven", REPLACED)
    )
    told = [number_in(case.written(kit[0][name])) for name in ("used", "scrapped")]
    if None in (*driven, *again, *told):
        return
    gone, scrapped = (each or 0.0 for each in told)
    first, second = (sum(each or 0.0 for each in some) for some in (driven, again))
    if gone < first - _NEAR or gone + scrapped < first + second - _NEAR:
        says = f"{gone:g} used, {scrapped:g} scrapped, and the map has {first:g} driven"
        yield said(kit[0]["used"], "count", f"{says}, {second:g} replaced")


def _item(row: str) -> str:
    """The item of a line of a kit list."""
    return AGAIN.sub("", row.partition(" ")[2]).removesuffix(" (single use)")


def _maps(
    rows: Iterable[tuple[tuple[str, str, str], Mapping[str, Field]]],
) -> Iterator[list[Mapping[str, Field]]]:
    """The rows of each map of rivets, with the lines of those that were rejected below them."""
    found: list[Mapping[str, Field]] = []
    below = False
    for (_, _, row), fields in rows:
        line = bool(_A_REJECTED.fullmatch(row)) and _SLIP in fields
        if not line and not {"driven", REJECTED} <= fields.keys():
            continue
        if below and not line:
            yield found
            found = []
        below = line
        found.append(fields)
    yield found


def means(case: Case) -> Iterator[Verdict]:
    """A mean or a range that is not that of the readings in its row; of readings that are not all
    there, nothing is said."""
    for fields in _rows(case).values():
        read = [number_in(case.written(f)) for name, f in fields.items() if _ONE_OF.fullmatch(name)]
        known = [each for each in read if each is not None]
        if not known or len(known) < len(read):
            continue
        yield from _worked(case, fields, "mean", sum(known) / len(known))
        yield from _worked(case, fields, "range", max(known) - min(known))


def _worked(case: Case, fields: Mapping[str, Field], what: str, right: float) -> Iterator[Verdict]:
    """What was worked out by hand is rounded to the nearer at its last place; what lies in the
    middle may go either way."""
    for field in fields.values():
        text = case.written(field)
        if field.name.partition(",")[0] != what or not text:
            continue
        number = number_in(text)
        places = len(text.partition(".")[2])
        if number is None:
            yield said(field, "number", f"'{text}' is no number")
        elif abs(number - right) > 0.5 * 10.0**-places + _NEAR:
            yield said(field, "count", f"{text}, and the readings give {right:.{places + 1}f}")


def sheets(case: Case) -> Iterator[Verdict]:
    """Sheets of paper in hand at the end: as many as were printed, or what was done is said."""
    for fields in _rows(case).values():
        field = fields.get(IN_HAND)
        text = case.written(field) if field is not None else ""
        if field is None or not text:
            continue
        lost = any(case.written(f) for name, f in fields.items() if name.startswith("lost"))
        if number_in(text) is None:
            yield said(field, "number", f"'{text}' is no number")
        elif text != field.lower:
            says = f"{text} in hand of {field.lower} printed"
            yield said(field, "sheets", says, blocks=not lost)
