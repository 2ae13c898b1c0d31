"""The tree of a document whose structure holds in; the frozen Process (or list) it means, out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generator import process as p
from generator.check import readers
from generator.quantities.amount import Amount
from generator.quantities.text import read_amount, read_range
from generator.signs import is_whole

Tree = Mapping[str, Any]


def build_process(tree: Tree) -> p.Process:
    """The process that a sound tree means."""
    return p.Process(
        number=tree["process"],
        title=_line(tree["title"]),
        trade=tree["trade"],
        part=_part(tree["part"]),
        airframe=tree["airframe"],
        author=tree["author"],
        checker=tree["checker"],
        revisions=tuple(_revision(each) for each in tree["revisions"]),
        prerequisites=tuple(_prerequisite(each) for each in tree.get("prerequisites", ())),
        documents=tuple(
            p.Paper(each["number"], each["issue"], _line(each["title"]))
            for each in tree.get("documents", ())
        ),
        safety=tuple(tree["safety"]),
        warnings=_texts(tree.get("warning")),
        kit=tuple(_kit_line(each) for each in tree.get("kit", ())),
        tools=tuple(_line(each) for each in tree.get("tools", ())),
        instruments=tuple(_instrument_kind(each) for each in tree.get("instruments", ())),
        given={name: _given(name, each) for name, each in tree.get("given", {}).items()},
        work_out={name: _work_out(name, each) for name, each in tree.get("work out", {}).items()},
        maps={name: _map(name, each) for name, each in tree.get("maps", {}).items()},
        operations=tuple(_operation(each) for each in tree["operations"]),
    )


def _line(words: str) -> str:
    return " ".join(words.split())


def _texts(value: Any) -> tuple[str, ...]:
    if value is None:
        return ()
    return tuple(_line(each) for each in ([value] if isinstance(value, str) else value))


def _amount(tree: Tree, key: str) -> Amount | None:
    return read_amount(tree[key]) if key in tree else None


def _step(tree: Tree, key: str) -> Amount | None:
    return readers.step(tree[key]) if key in tree else None


def _uncertainty(tree: Tree) -> Amount | None:
    return readers.uncertainty(tree["uncertainty"]) if "uncertainty" in tree else None


def _part(tree: Tree) -> p.Part:
    return p.Part(
        tree["number"],
        _line(tree["name"]),
        tree["hand"],
        readers.serial_rule(tree["serials"]),
        int(tree.get("set", "1")),
        _line(tree["drawing"]),
        _line(tree["position"]),
        tuple(map(_line, tree.get("known as", ()))),
    )


def _revision(tree: Tree) -> p.Revision:
    return p.Revision(
        tree["letter"],
        readers.day(tree["date"]),
        tree["author"],
        tree["approved by"],
        _line(tree["changed"]),
        _line(tree["why"]),
    )


def _prerequisite(tree: Tree) -> p.Prerequisite:
    return p.Prerequisite(tree.get("process", ""), tree.get("evidence", ""), _line(tree["says"]))


def _kit_line(tree: Tree) -> p.KitLine:
    quantity = tree["quantity"]
    return p.KitLine(
        _line(tree["item"]),
        tree["sort"],
        quantity,
        int(quantity) if is_whole(quantity) else None,
        int(tree.get("spares", "0")),
        tree.get("batch", "no") == "yes",
        tree.get("use by", "no") == "yes",
        tree.get("single use", "no") == "yes",
    )


def _instrument_kind(tree: Tree) -> p.InstrumentKind:
    return p.InstrumentKind(
        _line(tree["kind"]),
        _step(tree, "reads to"),
        _line(tree.get("needs", "")),
        _uncertainty(tree),
    )


def _given(name: str, tree: Tree) -> p.GivenNumber:
    return p.GivenNumber(
        name,
        _amount(tree, "is"),
        "with the part" in tree,
        _amount(tree, "example"),
        read_range(tree["range"]) if "range" in tree else None,
        tree["from"],
        _line(tree.get("note", "")),
        tree.get("tolerance") == "each",
        tree.get("also", ""),
    )


def _work_out(name: str, tree: Any) -> p.WorkOut:
    if isinstance(tree, str):
        return p.WorkOut(name, "", {}, _line(tree), None)
    if "use" in tree:
        inputs = {key: value for key, value in tree.items() if key not in ("use", "also", "in")}
        also, shown_in = tree.get("also", ""), tree.get("in", "")
        return p.WorkOut(name, tree["use"], inputs, "", None, also=also, shown_in=shown_in)
    to = readers.step(tree["to"])
    safe, also = tree.get("safe", "nearest"), tree.get("also", "")
    return p.WorkOut(name, "", {}, _line(tree["is"]), to, safe, also)


def _map(name: str, tree: Tree) -> p.FastenerMap:
    return p.FastenerMap(
        name,
        tree["shape"],
        int(tree["fasteners"]),
        _line(tree["item"]),
        _amount(tree, "pitch circle"),
        tree.get("first", ""),
        tree.get("numbering", ""),
        tree["looking"],
        tree.get("order", ""),
        {_line(item): int(n) for item, n in tree.get("each takes", {}).items()},
        int(tree.get("rows", "0")),
        int(tree.get("columns", "0")),
        _amount(tree, "pitch across"),
        _amount(tree, "pitch down"),
        "full size" in tree,
        tree.get("line", ""),
        fastening=tree.get("fastening", "bolt"),
        in_rows={_line(row): int(n) for row, n in tree.get("in rows", {}).items()},
        facts=tuple(tree.get("facts", ())),
        places=tuple(
            (readers.amount(each["across"]), readers.amount(each["up"]))
            for each in tree.get("places", ())
        ),
        datum=_line(tree.get("datum", "")),
        marks=tuple(each.get("mark", "") for each in tree.get("places", ())),
    )


def _reading(tree: Tree) -> p.Reading:
    nominal, lower, upper, unit_text = _limits(tree)
    return p.Reading(
        _line(tree["name"]),
        tree.get("entry", "number"),
        nominal,
        lower,
        upper,
        unit_text,
        readers.step(tree["to"]) if "to" in tree else None,
        tree.get("with", ""),
        int(tree.get("times", "1")),
        _texts(tree.get("on figure")),
        readers.operation_number(tree["figure at"]) if "figure at" in tree else 0,
        tree.get("not before", ""),
    )


def _limits(tree: Tree) -> tuple[Any, Any, Any, str]:
    """Nominal, lower, upper and the unit of a reading, whichever way it was written."""
    if "wanted" in tree:
        wanted = read_amount(tree["wanted"])
        return wanted, _edge(wanted, wanted.low), _edge(wanted, wanted.high), wanted.unit.text
    if "exactly" in tree:
        exact = readers.amount_or_name(tree["exactly"])
        return exact, exact, exact, ""
    found = [
        readers.amount_or_name(tree[key]) if key in tree else None
        for key in ("nominal", "lower", "upper")
    ]
    units = [each.unit.text for each in found if isinstance(each, Amount)]
    return found[0], found[1], found[2], tree.get("unit", units[0] if units else "")


def _edge(amount: Amount, base: float | None) -> Amount | None:
    if base is None:
        return None
    return Amount(base, amount.unit, typed=amount.typed)


def _strip(tree: Tree) -> p.Strip:
    of = tree["of"]
    across = _along(tree["across"]) if "across" in tree else None
    chart = tree.get("chart") == "yes"
    return p.Strip(tuple([of] if isinstance(of, str) else of), _along(tree), across, chart)


def _along(tree: Tree) -> p.Along:
    first, last = read_amount(tree["from"]), read_amount(tree["to"])
    return p.Along(
        tree["over"], first, last, readers.step(tree["step"]), tree.get("between", "stop")
    )


def _lookup(tree: Tree) -> p.Lookup:
    rows = tuple(tuple(_line(cell) for cell in row) for row in tree["rows"])
    columns = tuple(_line(column) for column in tree["columns"])
    chart = tree.get("chart") == "yes"
    title, framed = _line(tree["title"]), tree.get("framed", "")
    return p.Lookup(title, columns, rows, framed, tree["from"], chart)


def _figure(tree: Any) -> p.FigureWanted:
    if isinstance(tree, str):
        return p.FigureWanted(tree)
    beside = {key: _line(tree[key]) for key in ("width", "relief", "grain", "order") if key in tree}
    full_size, line = "full size" in tree, tree.get("line", "")
    return p.FigureWanted(
        tree["of"], tree.get("view", ""), **beside, full_size=full_size, line=line
    )


def _clock_line(tree: Any) -> p.ClockLine:
    if isinstance(tree, str):
        return p.ClockLine(_line(tree), None)
    add = readers.duration_or_name(tree["add"]) if "add" in tree else None
    limits = (_line(tree.get(end, "")) for end in ("not before", "not after"))
    return p.ClockLine(_line(tree["label"]), add, *limits)


def _log(tree: Tree) -> p.Log:
    of = {_line(name): unit for name, unit in tree["of"].items()}
    return p.Log(of, read_amount(tree["every"]), read_amount(tree["for"]))


def _heat(tree: Tree) -> p.HeatTreatment:
    def asked(key: str) -> p.AmountOrName | None:
        return readers.amount_or_name(tree[key]) if key in tree else None

    return p.HeatTreatment(
        alloy=_line(tree["alloy"]),
        treatment=_line(tree["treatment"]),
        by=_line(tree["by"]),
        set=asked("set"),
        coupon=_line(tree["coupon"]),
        soak=asked("soak"),
        soak_most=asked("soak most"),
        delay=asked("delay"),
        quench=_line(tree.get("quench", "")),
        window=asked("window"),
        store=asked("store"),
        keep=asked("keep"),
        ageing=asked("ageing"),
        most=int(tree.get("most", "0")),
    )


def _operation(tree: Tree) -> p.Operation:
    number = readers.operation_number(tree["number"])
    if "deleted at" in tree:
        return p.Operation(number, deleted_at=tree["deleted at"])
    words: dict[str, Any] = {
        name: _line(tree[key])
        for name, key in {
            "kind": "kind", "do": "do", "start": "start", "leave": "leave", "by": "by",
            "released_by": "released by", "attended_by": "attended by", "first_by": "first by",
            "second_by": "second by", "map": "map", "tightens": "tightens",
            "leaves_threads": "leaves threads", "if_it_fails": "if it fails",
            "recorded_on": "recorded on",
        }.items()
        if key in tree
    }  # fmt: skip
    lists: dict[str, Any] = {
        name: _texts(tree.get(key))
        for name, key in {
            "steps": "steps", "warnings": "warning", "cautions": "caution", "notes": "note",
            "uses": "uses", "points": "points", "inspects": "inspects", "hides": "hides",
        }.items()
    }  # fmt: skip
    return p.Operation(
        number,
        notice=_amount(tree, "notice"),
        within=tree.get("within", ""),
        takes=readers.duration_or_name(tree["takes"]) if "takes" in tree else None,
        readings=tuple(_reading(each) for each in tree.get("readings", ())),
        strip=_strip(tree["strip"]) if "strip" in tree else None,
        lookup=_lookup(tree["lookup"]) if "lookup" in tree else None,
        clock=tuple(_clock_line(each) for each in tree.get("clock", ())),
        figure=_figure(tree["figure"]) if "figure" in tree else None,
        sense=tuple(p.SensePoint(_line(e["do"]), _line(e["see"])) for e in tree.get("sense", ())),
        log=_log(tree["log"]) if "log" in tree else None,
        heat_treatment=_heat(tree["heat treatment"]) if "heat treatment" in tree else None,
        **words,
        **lists,
    )


def build_workshop(
    shop: Tree,
    stamps: Tree,
    instruments: Tree,
    rows: Mapping[str, tuple[Mapping[str, str], ...]],
) -> p.Workshop:
    """What holds for the whole shop, from its three files and the rows of its own tables."""
    return p.Workshop(
        _line(shop["workshop"]),
        _line(shop["aircraft"]),
        shop["desk"],
        shop.get("paper", "A4"),
        shop.get("language", "en-GB"),
        _line(shop["units"]),
        tuple(_stamp(each) for each in stamps["stamps"]),
        tuple(_instrument(each) for each in instruments["instruments"]),
        shop.get("also in", {}),
        rows,
        tuple(shop.get("binding advice", ())),
        shop.get("backs") == "yes",
        shop.get("guarded limits") == "yes",
    )


def _stamp(tree: Tree) -> p.Stamp:
    until = readers.day(tree["until"]) if "until" in tree else None
    trades = tuple(map(_line, tree.get("trades", ())))
    return p.Stamp(tree["stamp"], tree["class"], readers.day(tree["from"]), until, trades)


def _instrument(tree: Tree) -> p.Instrument:
    return p.Instrument(
        tree["number"],
        _line(tree["kind"]),
        _step(tree, "reads to"),
        readers.day(tree["check due"]),
        _uncertainty(tree),
        readers.day(tree["checked"]) if "checked" in tree else None,
        readers.amount_range(tree["range"]) if "range" in tree else None,
    )


def build_values(tree: Tree) -> p.PartValues:
    """The values of one part, with where each was measured."""
    values = {
        n: (read_amount(each["is"]), _line(each["from"])) for n, each in tree["values"].items()
    }
    return p.PartValues(tree["process"], tree.get("part serial", ""), values)
