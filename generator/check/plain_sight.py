"""The rules of a schema in; a function that sees whether a document keeps them all, out.

Nearly every document does. This look never says what is wrong: what it does not pass goes to
Cerberus, which is slow and tells everything. A rule that it does not know, it does not pass.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from generator.check.readers import READERS
from generator.findings import Refusal

Look = Callable[[Any, Mapping[str, Any]], bool]
"""Whether a value, and the keys that stand beside it, are as one rule wants them."""

_KINDS = {"string": str, "dict": dict, "list": list}


def looking_at(fields: Mapping[str, Any]) -> Callable[[Any], bool]:
    """The look at a block of keys under the rules of its fields."""
    looks = {name: _looks(rule) for name, rule in fields.items()}
    # One of two keys that exclude each other does for both.
    needed = [
        (name, *_listed(rule.get("excludes", ())))
        for name, rule in fields.items()
        if rule.get("required")
    ]

    def sound(tree: Any) -> bool:
        if not isinstance(tree, dict):
            return False
        for name, value in tree.items():
            found = looks.get(name)
            if found is None:
                return False
            for look in found:
                if not look(value, tree):
                    return False
        return all(any(name in tree for name in names) for names in needed)

    return sound


def _looks(rule: Mapping[str, Any]) -> list[Look]:
    """One look for each rule of a field."""
    return [_LOOKS.get(key, _unknown)(told) for key, told in rule.items() if key not in _SILENT]


_SILENT = ("meta", "required")


def _unknown(_: Any) -> Look:
    return lambda value, beside: False


def _listed(told: Any) -> tuple[Any, ...]:
    return tuple(told) if isinstance(told, list | tuple) else (told,)


def _kind(told: Any) -> Look:
    kinds = tuple(_KINDS[each] for each in _listed(told))
    return lambda value, beside: isinstance(value, kinds)


def _readable(told: str) -> Look:
    reader = READERS[told]

    def look(value: Any, beside: Mapping[str, Any]) -> bool:
        if isinstance(value, str):
            try:
                reader(value)
            except Refusal:
                return False
        return True

    return look


def _not_longer(told: int) -> Look:
    return lambda value, beside: len(value) <= told


def _not_shorter(told: int) -> Look:
    return lambda value, beside: len(value) >= told


def _filled(told: bool) -> Look:
    return lambda value, beside: told or bool(value)


def _allowed(told: list[str]) -> Look:
    return lambda value, beside: isinstance(value, str) and value in told


def _alone(told: Any) -> Look:
    others = _listed(told)
    return lambda value, beside: not any(each in beside for each in others)


def _leaning(told: Any) -> Look:
    others = _listed(told)
    return lambda value, beside: all(isinstance(o, str) and o in beside for o in others)


def _within(told: Mapping[str, Any]) -> Look:
    """The look at what stands inside: rules for each key of a block, or for all of a list."""
    if "type" in told and not isinstance(told["type"], Mapping):
        items = _looks(told)

        def each_sound(value: Any, beside: Mapping[str, Any]) -> bool:
            if not isinstance(value, list):
                return isinstance(value, str)
            return all(look(item, {}) for item in value for look in items)

        return each_sound
    block = looking_at(told)
    return lambda value, beside: isinstance(value, str) or block(value)


def _keys(told: Mapping[str, Any]) -> Look:
    looks = _looks(told)
    return lambda value, beside: (
        not isinstance(value, dict) or all(look(key, {}) for key in value for look in looks)
    )


def _values(told: Mapping[str, Any]) -> Look:
    looks = _looks(told)
    return lambda value, beside: (
        not isinstance(value, dict)
        or all(look(each, value) for each in value.values() for look in looks)
    )


_LOOKS: Mapping[str, Callable[[Any], Look]] = {
    "type": _kind,
    "check_with": _readable,
    "maxlength": _not_longer,
    "minlength": _not_shorter,
    "empty": _filled,
    "allowed": _allowed,
    "excludes": _alone,
    "dependencies": _leaning,
    "schema": _within,
    "keysrules": _keys,
    "valuesrules": _values,
}
