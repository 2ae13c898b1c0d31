"""The travellers of a dossier, in; a page for any browser that leads to their files, out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from typing import Any
from urllib.parse import quote

_STYLE = (
    "body{font:11pt/1.4 sans-serif;max-width:48em;margin:2em auto}table{border-collapse:collapse}"
    "td,th{border:1px solid #000;padding:.2em .5em;text-align:left;vertical-align:top}"
    "section{break-inside:avoid}"
)


def dossier_page(
    name: str,
    day: str,
    what: Sequence[str],
    travellers: Sequence[Mapping[str, Any]],
    still_open: Sequence[str],
) -> str:
    """The page: what is here, what is open, a list of the travellers, each with its files."""
    title = f"Record of {', '.join(what)}"
    lines = [
        "<!doctype html>",
        f'<html lang="en"><head><meta charset="utf-8"><title>{escape(title)}</title>',
        f"<style>{_STYLE}</style></head><body>",
        f"<h1>{escape(title)}</h1>",
        f"<p>{escape(name)}, {escape(day)}. Check it with <code>sha256sum -c "
        "manifest-sha256.txt</code>; see read-me.txt.</p>",
        "<h2>Open items</h2>",
        *([_list(map(escape, still_open))] if still_open else ["<p>None.</p>"]),
        "<h2>Travellers</h2>",
        "<table><tr><th>traveller<th>process<th>part<th>issued<th>state<th>sits at</tr>",
        *(_row(each) for each in travellers),
        "</table>",
        *(_section(each) for each in travellers),
        "</body></html>",
    ]
    return "\n".join(lines) + "\n"


def _row(each: Mapping[str, Any]) -> str:
    cells = (each["process"], each["part"], each["issued"], each["status"], each["fitted"] or "-")
    told = "".join(f"<td>{escape(cell)}" for cell in cells)
    return f'<tr><td><a href="#{quote(each["serial"])}">{escape(each["serial"])}</a>{told}</tr>'


def _section(each: Mapping[str, Any]) -> str:
    place = f"output/issued/{each['serial']}"
    links = [
        _link(f"{place}/pack.pdf", "all sheets as issued"),
        _link(f"{place}/facts.yaml", "facts"),
    ]
    links += [_link(path, words) for path, words in each["acts"]]
    links += [_link(path, path.rpartition("/")[2]) for path in each["media"]]
    slips = _list(map(escape, each["slips"])) if each["slips"] else "<p>No slips.</p>"
    serial, told = escape(each["serial"]), escape(each["fingerprint"])
    head = f'<section id="{serial}"><h3>{serial}</h3><p>Fingerprint <code>{told}</code></p>'
    return f"{head}{_list(links)}{slips}</section>"


def _link(path: str, words: str) -> str:
    return f'<a href="{quote(path)}">{escape(words)}</a>'


def _list(items: Any) -> str:
    return "<ul>" + "".join(f"<li>{each}" for each in items) + "</ul>"
