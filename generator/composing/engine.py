"""The name of a template and its values in; the body of a sheet as Markdown out.

Every value is escaped on its way in: nothing that a user typed can open a block.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any

from generator.composing.escape import finalize


def rendered(template: str, **values: Any) -> str:
    """The body of a sheet, one blank line between blocks; values that are not there fail."""
    return _spaced_out(_template(template).render(**values))


def _spaced_out(body: str) -> str:
    """The body with one blank line between blocks, so that it reads well as text."""
    lines: list[str] = []
    inside = after_row = after_fence = False
    for line in filter(None, body.split("\n")):
        row, fence = line[0] == "|", line[:3] == ":::"
        under_words = row and inside and not after_row and not after_fence
        joins = (inside and not under_words) or (row and after_row)
        if lines and not joins:
            lines.append("")
        lines.append(line)
        inside = line != ":::" and (inside or fence)
        after_row, after_fence = row, fence
    return "\n".join(lines) + "\n"


@cache
def _template(name: str) -> Any:
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    engine = Environment(
        loader=FunctionLoader(_text),
        finalize=finalize,
        undefined=StrictUndefined,
        trim_blocks=False,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        line_statement_prefix="%%",
        autoescape=False,  # finalize escapes every value for Markdown; HTML is never made
    )
    return engine.get_template(name)


def _text(name: str) -> str:
    """A template, or a part that several templates include."""
    return files("generator").joinpath("templates", name).read_text(encoding="utf-8")
