"""One new file in generator/calculations/ in; every place that then knows it, out."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]

NEW = '''"""Stiffness and travel of a spring in; its force out."""

from __future__ import annotations

from typing import Annotated

from generator.calculation import Example, Second, calculation, given, gives
from generator.quantities.amount import Amount


def _by_energy(stiffness: float, travel: float) -> float:
    """Twice the energy stored, over the travel."""
    return 2 * (stiffness * travel * travel / 2) / travel


@calculation(
    source="Hooke's law",
    not_covered="coils that touch; a spring past its yield",
    second=Second(_by_energy, "0.001 %", "energy stored over travel"),
    examples=(
        Example({"stiffness": "2 N/mm", "travel": "10 mm"}, {"": "20 N"}, "F = c s in closed form"),
    ),
)
def spring_force(
    stiffness: Annotated[
        Amount, given("c", "N/mm", "stiffness of the spring", above="0", at_most="1000")
    ],
    travel: Annotated[Amount, given("s", "mm", "travel", above="0", at_most="500", at_bench="0.1")],
) -> Annotated[Amount, gives("F", "N", "force of the spring", to="0.1")]:
    """Force of a spring: stiffness times travel."""
    return stiffness * travel
'''


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The program with one more file in it, and the sound workshop beside it."""
    place = tmp_path_factory.mktemp("house")
    shutil.copytree(ROOT / "generator", place / "generator")
    shutil.copytree(ROOT / "schema", place / "schema")
    shutil.copytree(ROOT / "tests" / "cases" / "sound", place / "shop")
    (place / "generator" / "calculations" / "springs.py").write_text(NEW, encoding="utf-8")
    return place


def said(house: Path, *words: str) -> subprocess.CompletedProcess[str]:
    surroundings = {**os.environ, "PYTHONPATH": str(house), "PYTHONIOENCODING": "utf-8"}
    return subprocess.run(
        [sys.executable, *words], cwd=house, env=surroundings, capture_output=True, text=True
    )


def test_it_is_listed_and_calculated_at_the_desk(house: Path) -> None:
    assert "spring_force" in said(house, "-m", "generator", "calculate").stdout
    done = said(
        house,
        "-m",
        "generator",
        "calculate",
        "spring_force",
        "stiffness=2 N/mm",
        "travel=10 ± 0.5 mm",
    )
    assert "F = c · s" in done.stdout and "20.0 N, rounded to 0.1 N" in done.stdout
    assert "worst case: F 19.0 to 21.0 N" in done.stdout


def test_a_wrong_input_is_told_with_what_would_be_right(house: Path) -> None:
    done = said(
        house, "-m", "generator", "calculate", "spring_force", "stiffness=2 N/mm", "travel=900 mm"
    )
    assert done.returncode == 1
    assert "travel 900 mm is out of range" in done.stdout + done.stderr
    assert "above 0 mm and up to 500 mm" in done.stdout + done.stderr


def test_a_process_may_use_it_and_prints_it(house: Path) -> None:
    file = house / "shop" / "processes" / "shelf.yaml"
    text = file.read_text(encoding="utf-8")
    entry = "work out:\n  pull: {use: spring_force, stiffness: 2 N/mm, travel: 10 mm}\n"
    text = text.replace("work out:\n", entry).replace(
        "takes up {{ allowance }}", "takes up {{ allowance }}, pulled by {{ pull }}"
    )
    file.write_text(text, encoding="utf-8")
    done = said(house, "-m", "generator", "--workshop", "shop", "draft", "T6-P-0120")
    assert done.returncode == 0, done.stdout + done.stderr
    sheets = {
        f.name: f.read_text(encoding="utf-8") for f in (house / "shop" / "output").rglob("*.md")
    }
    whole = "\n".join(sheets.values())
    assert "pulled by [20.0 N]" in whole and "c · s" in whole and "Hooke's law" in whole


def test_the_editor_schema_offers_it(house: Path) -> None:
    code = "import json; from generator.editor import editor_schema; print(json.dumps(editor_schema('process')))"
    text = said(house, "-c", code).stdout
    assert "stiffness of the spring" in json.dumps(json.loads(text))


def test_the_handbook_teaches_it(house: Path) -> None:
    done = said(house, "-m", "generator", "--workshop", "shop", "handbook")
    assert done.returncode == 0, done.stdout + done.stderr
    text = (house / "shop" / "output" / "handbook" / "handbook.md").read_text(encoding="utf-8")
    assert "Force of a spring" in text and "energy stored over travel" in text
