"""Sound files damaged at random in; findings or sheets out, never a traceback."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.helping import SOUND, sheets_of

FILES = ("processes/shelf.yaml", "processes/ring.yaml")
LINES = {file: (SOUND / file).read_text(encoding="utf-8").split("\n") for file in FILES}
VALUES = st.sampled_from([
    "", "~", "no", "0", "-1", "1.5", "1e400", "0 mm", "-5 mm", "5 mm ± 9 mm", "90°", "0°", "360°",
    "20 SWG", "99 AWG", "1/0 in", "999999999999 mm", "0.000000001 mm", "20 °C", "70 bar g", "50 %",
    "a b", "{{ thickness }}", "{{ }}", "{{{{", "}}", "radius", "flat.length", "order", "wrench",
    "flat + 1", "flat.length / 0", "2026-02-30", "LQ1", "hold", "independent", "wait", "[]", "[a]",
    "{}", "{a: b}", "|", "\"\"", "\"\\u202e\"", "x" * 400, "1 / 0", "count", "tick", "4 digits",
    "lead or inspector", "inspector", "volunteer", "A", "1000000",
])  # fmt: skip


@st.composite
def damage(draw):
    """A file, and its lines with one to three of them changed, dropped, doubled or moved in."""
    file = draw(st.sampled_from(FILES))
    lines = list(LINES[file])
    for _ in range(draw(st.integers(1, 3))):
        at = draw(st.integers(0, len(lines) - 1))
        way = draw(
            st.sampled_from(["value", "value", "value", "drop", "double", "indent", "outdent"])
        )
        line = lines[at]
        if way == "value" and ": " in line:
            lines[at] = line.partition(": ")[0] + ": " + draw(VALUES)
        elif way == "drop":
            lines.pop(at)
        elif way == "double":
            lines.insert(at, line)
        elif way == "indent":
            lines[at] = "  " + line
        elif way == "outdent":
            lines[at] = line.removeprefix("  ")
        lines = lines or [""]
    return file, "\n".join(lines)


@settings(max_examples=150)
@given(damage())
def test_any_damage_gives_findings_or_sheets(damaged):
    file, text = damaged
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copytree(SOUND, folder, dirs_exist_ok=True)
        (folder / file).write_text(text, encoding="utf-8")
        sheets, findings = sheets_of(folder)
    assert file in sheets or any(finding.place.path == file for finding in findings)
    for finding in findings:
        assert finding.wrong
        assert finding.right, finding
        assert finding.place.line <= text.count("\n") + 1 or finding.place.path != file


@pytest.mark.parametrize("value", ["~", "[]", "{}", "a", "1 mm", "[[a]]", "{a: {b: c}}", "[{}]"])
@pytest.mark.parametrize("key", sorted({line.partition(":")[0] for line in LINES[FILES[0]] if line[:1].isalpha()}))  # fmt: skip
def test_a_top_key_may_hold_anything(key, value, tmp_path):
    lines = LINES[FILES[0]]
    at = next(n for n, line in enumerate(lines) if line.startswith(f"{key}:"))
    end = next((n for n in range(at + 1, len(lines)) if lines[n][:1].isalpha()), len(lines))
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    changed = [*lines[:at], f"{key}: {value}", *lines[end:], ""]
    (tmp_path / FILES[0]).write_text("\n".join(changed), encoding="utf-8")
    sheets, findings = sheets_of(tmp_path)
    assert FILES[0] in sheets or findings
