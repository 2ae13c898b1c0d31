"""The rules in schema/ and the calculations' own facts in; a JSON Schema (draft 2020-12) out.

For an editor that knows JSON Schema, so that it completes keys, shows each sentence and underlines
a slip while a person types. It says less than `check` and never more: what check takes, it takes.
An editor turns 2 into a number and yes, in some, into true; the kinds of a leaf are found by trying
its own reader on such words.
"""

from __future__ import annotations

import inspect
import json
import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from generator.calculation import Calculation, Given, Input
from generator.calculations import calculations
from generator.check.readers import INSPECTOR_CLASSES, READERS, ROLES
from generator.check.structure import rules, schema_folder
from generator.check.wording import WORDING_RULES
from generator.findings import Refusal
from generator.tables import table

Schema = dict[str, Any]

DRAFT = "https://json-schema.org/draft/2020-12/schema"
SIDES = ("up", "down", "nearest")

_NAME = r"[a-z][a-z0-9_]{0,39}"
_RESULT = r"[a-z][a-z0-9_]*(\.[a-z0-9_]+)*"
_SIGN = r"\s*[-+−]?[0-9]"
_AMOUNT = rf"{_SIGN}[\s\S]*[^0-9\s]\s*"
_NUMBER = rf"{_SIGN}[\s\S]*"
_ONE_VALUE = r"(?![\s\S]* to )"
_NOT_CURLY = "(?![“”‘])"

# What a reader surely refuses does not match; what it takes always does. The tests compare both.
PATTERNS: Mapping[str, str] = {
    "code": r"^(?=.{1,24}$)[A-Z0-9]+(-[A-Z0-9]+)*$",
    "name": f"^{_NAME}$",
    "line": rf"^{_NOT_CURLY}[^\n]*\n*$",
    "text": f"^{_NOT_CURLY}",
    "day": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$",
    "revision_letter": "^[ABCDEFGHJKLMNPRTUVWY]$",
    "operation_number": "^[1-9][0-9]{0,3}$",
    "serial_rule": "^[1-9] digits?$",
    "count": r"^\s*[0-9]{1,6}\s*$",
    "count_or_none": r"^\s*[0-9]{1,6}\s*$",
    "quantity_or_count": f"^{_NUMBER}$",
    "amount": f"^{_ONE_VALUE}{_AMOUNT}$",
    "amount_with_limits": f"^{_AMOUNT}$",
    "uncertainty": f"^{_ONE_VALUE}{_AMOUNT}$",
    "duration": f"^{_ONE_VALUE}{_AMOUNT}$",
    "length": f"^{_ONE_VALUE}{_AMOUNT}$",
    "step": f"^{_NUMBER}$",
    "amount_range": rf"^(?=[\s\S]*(\sto\s|±|/)){_AMOUNT}$",
    "amount_or_name": f"^({_RESULT}|{_NUMBER})$",
    "limit_or_name": rf"^({_RESULT}|{_ONE_VALUE}(?![\s\S]*±){_NUMBER})$",
    "desk_letter": "^[A-Z]$",
}

# Words as typed, by the kind of value that an editor sees in their place; in quotes all are text.
_SEEN: Mapping[str, tuple[str, ...]] = {
    "integer": ("1",),
    "number": ("1.5", "1E-5"),
    "boolean": ("true", "TRUE", "yes"),
    "null": ("",),
}

_KEYWORDS = {
    "type", "required", "meta", "check_with", "empty", "maxlength", "minlength", "allowed",
    "schema", "keysrules", "valuesrules", "excludes", "dependencies",
}  # fmt: skip


def editor_names() -> tuple[str, ...]:
    """The kinds of file that have rules, such as "process"."""
    return tuple(sorted(file.stem for file in schema_folder().glob("*.yaml")))


def editor_text(name: str) -> str:
    """The text of schema/editor/NAME.json."""
    return json.dumps(editor_schema(name), indent=1, ensure_ascii=False) + "\n"


def editor_schema(name: str) -> Mapping[str, Any]:
    """The JSON Schema of one kind of file. Refuses (TypeError) a rule or input it cannot carry."""
    made = {"$schema": DRAFT, **_block(rules(name))}
    return made | {"$defs": _definitions()} if "work out" in rules(name) else made


# --- rules of schema/*.yaml -----------------------------------------------------------------


def _rule(rule: Mapping[str, Any]) -> Schema:
    if strange := set(rule) - _KEYWORDS:
        raise TypeError(f"an editor cannot be told the rule {', '.join(sorted(strange))}")
    told = {"description": rule["meta"]["says"]}
    if rule.get("check_with") == "working":
        return told | {"$ref": "#/$defs/working"}
    forms = [_FORMS[kind](rule) for kind in _listed(rule["type"])]
    return told | (forms[0] if len(forms) == 1 else {"anyOf": forms})


def _text(rule: Mapping[str, Any]) -> Schema:
    made = _words(rule["allowed"]) if "allowed" in rule else leaf(rule.get("check_with", ""))
    if rule.get("empty") is False:
        kinds = [kind for kind in _listed(made["type"]) if kind != "null"]
        made |= {"type": _one_or_all(kinds), "minLength": 1}
    return made | _longest(rule, "maxLength")


def _list(rule: Mapping[str, Any]) -> Schema:
    made = {"type": "array", "items": _rule(rule["schema"])}
    least = rule.get("minlength", 1 if rule.get("empty") is False else 0)
    return made | ({"minItems": least} if least else {}) | _longest(rule, "maxItems")


def _dict(rule: Mapping[str, Any]) -> Schema:
    if "schema" in rule:
        return _block(rule["schema"])
    made = {"type": "object", "additionalProperties": _rule(rule["valuesrules"])}
    names = _rule(rule["keysrules"])
    # A key is text whatever it looks like.
    return made | {"propertyNames": {key: names[key] for key in names if key != "type"}}


_FORMS: Mapping[str, Callable[[Mapping[str, Any]], Schema]] = {
    "string": _text,
    "list": _list,
    "dict": _dict,
}


def _longest(rule: Mapping[str, Any], keyword: str) -> Schema:
    return {keyword: rule["maxlength"]} if "maxlength" in rule else {}


def _block(keys: Mapping[str, Any]) -> Schema:
    """A block of known keys: which must be there, which shut each other out, which lean."""
    must = [key for key, rule in keys.items() if rule.get("required")]
    alone = [key for key in must if "excludes" not in keys[key]]
    one_of = {
        tuple(each for each in must if each == key or each in _listed(keys[key]["excludes"]))
        for key in must
        if key not in alone
    }
    apart = {key: _without(rule["excludes"]) for key, rule in _with(keys, "excludes")}
    leans = {key: _listed(rule["dependencies"]) for key, rule in _with(keys, "dependencies")}
    return (
        _object({key: _rule(rule) for key, rule in keys.items()}, alone)
        | _named("allOf", [_any_of(names) for names in sorted(one_of)])
        | _named("dependentSchemas", apart)
        | _named("dependentRequired", leans)
    )


def _with(keys: Mapping[str, Any], keyword: str) -> list[tuple[str, Mapping[str, Any]]]:
    return [(key, rule) for key, rule in keys.items() if keyword in rule]


def _any_of(names: Iterable[str]) -> Schema:
    return {"anyOf": [{"required": [name]} for name in names]}


def _without(names: Any) -> Schema:
    return {"properties": dict.fromkeys(_listed(names), False)}


def _named(keyword: str, content: Any) -> Schema:
    return {keyword: content} if content else {}


def _object(properties: Schema, required: list[str]) -> Schema:
    made: Schema = {"type": "object", "properties": properties}
    return made | _named("required", required) | {"additionalProperties": False}


# --- leaves ---------------------------------------------------------------------------------


def leaf(reader: str) -> Schema:
    """What a reader takes, as an editor sees it."""
    families = tuple(table("safety")["families"])
    known = {
        "role": ROLES,
        "inspector_class": INSPECTOR_CLASSES,
        "safety_family": families,
        "wording_rule": tuple(WORDING_RULES),
    }
    if reader in known:
        return _words(known[reader])
    read = READERS[reader or "working"]
    other = [kind for kind, tries in _SEEN.items() if any(_takes(read, word) for word in tries)]
    kinds = ["string", *other]
    if "number" in kinds:
        kinds.remove("integer") if "integer" in kinds else None
    made: Schema = {"type": _one_or_all(kinds)}
    return made | _named("pattern", PATTERNS.get(reader)) | _least(read, kinds)


def _takes(read: Callable[[str], Any], word: str) -> bool:
    try:
        read(word)
    except Refusal:
        return False
    return True


def _least(read: Callable[[str], Any], kinds: list[str]) -> Schema:
    """The least number a reader takes, where it takes numbers and not all of them."""
    if not {"integer", "number"} & set(kinds) or _takes(read, "-1"):
        return {}
    if _takes(read, "0"):
        return {"minimum": 0}
    return {"exclusiveMinimum": 0}


def _words(words: Iterable[str]) -> Schema:
    """One of fixed words. Some editors see true in yes: "not" lets it in, offered to none."""
    listed = list(words)
    kinds = ["string"]
    numbers = [json.loads(word) for word in listed if re.fullmatch(r"[1-9]\d*(\.\d+)?", word)]
    made = {"enum": [*listed, *numbers]}
    if numbers:
        kinds.append("number")
    if {"yes", "no", "on", "off", "true", "false"} & {word.lower() for word in listed}:
        others = ["string", "number", "array", "object", "null"]
        return {"type": [*kinds, "boolean"], "anyOf": [made, {"not": {"type": others}}]}
    return {"type": _one_or_all(kinds), **made}


def _listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]


def _one_or_all(kinds: list[str]) -> str | list[str]:
    return kinds[0] if len(kinds) == 1 else kinds


# --- entries under "work out" ---------------------------------------------------------------


def _definitions() -> Schema:
    known = calculations()
    return {
        "working": _working(known),
        "arithmetic": _arithmetic(),
        **{name: _calculation(what) for name, what in known.items()},
    }


def _working(known: Mapping[str, Calculation]) -> Schema:
    """use chooses the calculation, and with it the inputs; without use it is small arithmetic."""
    uses = [{"const": name, "description": _about(what)} for name, what in known.items()]
    chosen = [
        {"if": {"properties": {"use": {"const": name}}}, "then": {"$ref": f"#/$defs/{name}"}}
        for name in known
    ]
    return {
        "type": "object",
        "properties": {"use": {"oneOf": uses}},
        "if": {"required": ["use"]},
        "then": {"allOf": chosen},
        "else": {"$ref": "#/$defs/arithmetic"},
    }


def _arithmetic() -> Schema:
    formula = _text({"check_with": "text", "empty": False})
    keys = {"is": formula, "to": leaf("step"), "safe": _words(SIDES), "also": _second_unit()}
    return _object(keys, ["is", "to"])


def _second_unit() -> Schema:
    """What an entry says of its second unit is what a given says of it."""
    return _rule(rules("process")["given"]["valuesrules"]["schema"]["also"])


def _about(what: Calculation) -> str:
    return inspect.getdoc(what.body) or what.title


def _calculation(what: Calculation) -> Schema:
    made = _inputs(what.inputs)
    for name, schema in made["properties"].items():
        typed = [each.given[name] for each in what.examples if name in each.given]
        schema.setdefault("examples", [x for n, x in enumerate(typed) if x not in typed[:n]])
    units = {"in": _second_unit(), "also": _second_unit()}
    made["properties"] = {"use": True, **made["properties"], **units}
    return {"description": _about(what), **made}


def _inputs(items: Iterable[Input]) -> Schema:
    """A block with one key for each input that a person types."""
    asked = [item for item in items if item.kind != "fixed"]
    must = [item.name for item in asked if not getattr(item.fact, "otherwise", "")]
    return _object({item.name: _input(item) for item in asked}, must)


def _input(item: Input) -> Schema:
    if item.kind not in _INPUTS:
        raise TypeError(f"an editor cannot be told the input {item.name}: kind {item.kind}")
    return {"description": _meaning(item)} | _INPUTS[item.kind](item)


def _meaning(item: Input) -> str:
    """The sentence of an input, from its facts alone."""
    fact = item.fact
    if fact is None:
        return inspect.getdoc(item.row_type) or item.name
    if item.kind == "count":
        return f"{fact.meaning}, {fact.at_least} to {fact.at_most}"
    if not isinstance(fact, Given):
        return str(fact.meaning)
    limits = fact.range_in_words()
    bounds = f"in {fact.unit}" if limits == "any value" and fact.unit else limits
    return f"{fact.meaning}, {bounds}" + (f". {fact.beyond}" if fact.beyond else "")


def _amount(item: Input) -> Schema:
    """An amount, or the name of a number; a plain number only where no unit belongs."""
    if item.fact.unit:
        return {"type": "string", "pattern": f"^({_RESULT}|{_ONE_VALUE}{_AMOUNT})$"}
    fact = item.fact
    ends = {"exclusiveMinimum": fact.above, "minimum": fact.at_least, "maximum": fact.at_most}
    limits = {keyword: json.loads(end) for keyword, end in ends.items() if end}
    return {"type": ["string", "number"], "pattern": f"^({_RESULT}|{_NUMBER})$", **limits}


def _many(item: Input) -> Schema:
    return {"type": "array", "minItems": 1, "items": _amount(item)}


def _rows(item: Input) -> Schema:
    return {"type": "array", "minItems": 1, "items": _inputs(item.row)}


def _key(item: Input) -> Schema:
    """Any word: a workshop may add rows. The words in the published table are offered."""
    words = dict.fromkeys(row[item.name] for row in table(item.table)["rows"])
    return _text({"check_with": "line", "empty": False}) | {"examples": list(words)}


def _count(item: Input) -> Schema:
    ends = {"minimum": item.fact.at_least, "maximum": item.fact.at_most}
    return {"type": ["string", "integer"], "pattern": PATTERNS["count"], **ends}


def _choice(item: Input) -> Schema:
    return _words(item.fact.words)


_INPUTS: Mapping[str, Callable[[Input], Schema]] = {
    "amount": _amount,
    "amounts": _many,
    "rows": _rows,
    "key": _key,
    "count": _count,
    "choice": _choice,
}
