"""Nothing in; every calculation by name out. The list writes itself from the files of this room."""

from __future__ import annotations

import pkgutil
from collections.abc import Mapping
from functools import cache
from importlib import import_module

from generator.calculation import Calculation
from generator.findings import Refusal, near_words


@cache
def calculations() -> Mapping[str, Calculation]:
    """Every calculation of every subject, by its name."""
    found: dict[str, Calculation] = {}
    for module in pkgutil.iter_modules(__path__):
        subject = import_module(f"{__name__}.{module.name}")
        for name, value in sorted(vars(subject).items()):
            if isinstance(value, Calculation) and value.subject == module.name:
                if value.name != name or name in found:
                    raise TypeError(f"{module.name}.{name}: one name, one calculation")
                found[name] = value
    return found


def not_known(name: str) -> Refusal:
    """The refusal of a name that no calculation has: the near ones, and where all are listed."""
    near = near_words(name, calculations())
    *others, last = near or [""]
    right = f"{', '.join(others)}{' or ' if others else ''}{last}? " if near else ""
    right += "witnessmark calculate lists all"
    return Refusal("calculation", f"no calculation is named '{name}'", right)
