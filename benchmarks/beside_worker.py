"""Lines of JSON in, each a library, a text and a file; the file written, and how long the PDF took
as a line of JSON out.

Runs in an environment of its own, where the libraries are that stand beside this program.
"""

from __future__ import annotations

import io
import json
import logging
import sys
import time
from collections.abc import Callable
from importlib import import_module
from pathlib import Path

Maker = Callable[[str], bytes]
FACES = ((400, "FiraSans-Regular.ttf"), (700, "FiraSans-SemiBold.ttf"))


def typst_maker(fonts: str) -> Maker:
    """One compiler for all documents: it reads the fonts once."""
    compiler = import_module("typst").Compiler(font_paths=[fonts], ignore_system_fonts=True)
    return lambda text: bytes(compiler.compile(text.encode(), pdf_tags=False))


def weasyprint_maker(fonts: str) -> Maker:
    """One style sheet with the fonts for all documents."""
    library = import_module("weasyprint")
    logging.getLogger("weasyprint").setLevel(logging.ERROR)
    known = import_module("weasyprint.text.fonts").FontConfiguration()
    faces = "".join(
        f"@font-face {{ font-family: Fira; font-weight: {weight}; src: url({file}) }}"
        for weight, file in ((w, Path(fonts, name).as_uri()) for w, name in FACES)
    )
    style = library.CSS(string=faces, font_config=known)

    def made(text: str) -> bytes:
        target = io.BytesIO()
        library.HTML(string=text).write_pdf(target, stylesheets=[style], font_config=known)
        return target.getvalue()

    return made


def main(fonts: str) -> None:
    makers = {"typst": typst_maker(fonts), "weasyprint": weasyprint_maker(fonts)}
    for line in sys.stdin:
        library, text, into = json.loads(line)
        wall, processor = time.perf_counter(), time.process_time()
        pdf = makers[library](text)
        took = time.perf_counter() - wall, time.process_time() - processor
        Path(into).write_bytes(pdf)
        print(json.dumps(took), flush=True)


if __name__ == "__main__":
    main(sys.argv[1])
