"""The Python of an environment with other libraries in; how long they take for the same pages, out.

A compiled typesetter and a library from HTML to PDF, both general, make the traveller's pages from
texts that are ready; this program begins at its YAML. Run by `make bench-beside`; a folder behind
the Python gets the PDFs, to be looked at.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tempfile
from importlib.resources import as_file, files
from pathlib import Path

import pypdfium2

from benchmarks.as_html import html_of
from benchmarks.as_typst import typst_of
from benchmarks.same_pages import items_of
from benchmarks.stages import STAGES, Bench, workshop_in
from benchmarks.turns import Took, Watch, table

RUNS, WARMING = 15, 2
MORE = 2  # pages that the others need, so that each of theirs has its codes too
TEXTS = {"typst": typst_of, "weasyprint": html_of}


def main(python: str, keep: str = "") -> int:
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        watch, ours = _in_turns(Bench(workshop_in(root)), root, python)
        pages = {each: len(pypdfium2.PdfDocument(root / f"{each}.pdf")) for each in TEXTS}
        for made in root.glob("*.pdf") if keep else ():
            shutil.copy(made, keep)
    print(_told(watch, ours, pages))
    return 0


def _in_turns(bench: Bench, root: Path, python: str) -> tuple[Watch, int]:
    """A new traveller in each turn, then its pages by each library; how many pages it has."""
    watch, pages = Watch(), bench.traveller(Watch()).drawn.pages
    worker = str(Path(__file__).with_name("beside_worker.py"))
    with (
        as_file(files("fontpkg_fira_sans") / "files") as fonts,
        subprocess.Popen(
            [python, worker, str(fonts)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        ) as others,
    ):
        assert others.stdin is not None and others.stdout is not None
        for turn in range(WARMING + RUNS):
            now = watch if turn >= WARMING else Watch()
            frame, items = items_of(bench.traveller(now).sheet)
            for library, text_of in TEXTS.items():
                text, into = text_of(frame, items, pages + MORE), str(root / f"{library}.pdf")
                print(json.dumps([library, text, into]), file=others.stdin, flush=True)
                now.add(library, *json.loads(others.stdout.readline() or "[]"))
    return watch, pages


def _told(watch: Watch, ours: int, pages: dict[str, int]) -> str:
    own = watch.took(*STAGES)

    def row(name: str, took: Took) -> tuple[str, ...]:
        return name, f"{took.wall:.0f}", f"{took.processor:.0f}", f"{took.wall / own.wall:.2f}"

    rows = [row(f"this program, from YAML, {ours} pages", own)]
    rows.append(row("of it from Markdown", watch.took("draw")))
    rows += [row(f"{each}, {count} pages", watch.took(each)) for each, count in pages.items()]
    heads = ("the same pages, warm", "wall ms", "processor ms", "times this program")
    return f"Median of {RUNS} in turns:\n\n{table(heads, rows)}"


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
