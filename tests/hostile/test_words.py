"""Hostile words on the command line, links in the output folder, and streams that are odd."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.commands.test_commands import ON, committed, run
from tests.hostile.shops import NUMBER, shop, tree

NAMES = ("../../outside", "/outside", "A-0001/../../outside", "A-0001\x01", "A-0001\n", "..", ".",
         "", "-", "A-\N{FULLWIDTH DIGIT ONE}", "\N{CYRILLIC CAPITAL LETTER A}-0001", "a" * 5_000,
         "$(touch outside)", "; touch outside", "A-0001\u202e", "\udcff")  # fmt: skip
FILE = ("no-such.yaml",)
STAMP = ("--stamp", "LQ1")
WHY = ("--why", "So.")

COMMANDS = {
    "check": lambda word: ("check", word),
    "draft": lambda word: ("draft", word),
    "draft only": lambda word: ("draft", NUMBER, "--only", word),
    "draft given": lambda word: ("draft", NUMBER, "--given", word),
    "draft on": lambda word: ("draft", NUMBER, "--on", word),
    "approve": lambda word: ("approve", word, *STAMP, *ON),
    "approve by": lambda word: ("approve", NUMBER, "--stamp", word, *ON),
    "issue for": lambda word: ("issue", NUMBER, "--for", word, *ON, *STAMP),
    "enter": lambda word: ("enter", word, *FILE, *ON, *STAMP),
    "enter a file": lambda word: ("enter", "A-0001", word, *ON, *STAMP),
    "slip": lambda word: ("slip", word, "--operation", "10", "--what", "So.", *ON, *STAMP),
    "dispose": lambda word: ("dispose", word, "--decision", "use", *WHY, *ON, *STAMP),
    "concede": lambda word: ("concede", word, "--what", "So.", *ON, *STAMP),
    "compare": lambda word: ("compare", word),
    "decide": lambda word: ("decide", word, "--decision", "finish", *WHY, *ON, *STAMP),
    "attach": lambda word: ("attach", word, *FILE, "--as", "other", *ON, *STAMP),
    "attach a file": lambda word: ("attach", "A-0001", word, "--as", "other", *ON, *STAMP),
    "close": lambda word: ("close", word, *ON, *STAMP),
    "fit": lambda word: ("fit", word, *ON, *STAMP),
    "replace": lambda word: ("replace", word, *WHY, *ON, *STAMP),
    "withdraw": lambda word: ("withdraw", word, *WHY, *ON, *STAMP),
    "reprint": lambda word: ("reprint", word, *WHY, *ON, *STAMP),
    "trace": lambda word: ("trace", word),
    "affected": lambda word: ("affected", word),
    "verify": lambda word: ("verify", "--scans-by", word),
    "calculate": lambda word: ("calculate", word, "pressure=70 bar g"),
    "calculate with": lambda word: ("calculate", "jack_force", f"pressure={word}"),
}
SAID_NOTHING = {("verify", "")}


@pytest.fixture(scope="module")
def workshop(tmp_path_factory) -> Path:
    return committed(shop(tmp_path_factory.mktemp("words")))


@pytest.mark.parametrize("command", COMMANDS)
def test_no_word_writes_anything_or_leaves_a_traceback(command, workshop, capsys, monkeypatch):
    monkeypatch.chdir(workshop)
    before = tree(workshop.parent)
    for word in NAMES:
        if (command, word) == ("draft on", ""):  # no day is said, and a sheet without one is drawn
            continue
        words = COMMANDS[command](word)
        try:
            code = run(workshop, *words)
        except SystemExit as stopped:  # argparse says what it misses, as code 2
            code = stopped.code
        told = capsys.readouterr()
        if command != "trace" and (command, word) not in SAID_NOTHING:
            assert code in (1, 2), (command, word)
        assert "Traceback" not in told.err + told.out
        assert len(told.err) < 20_000, (command, word[:20])
    after = tree(workshop.parent)
    changed = {name for name in {*before, *after} if before.get(name) != after.get(name)}
    assert {name for name in changed if "/.git/" not in name and "index.csv" not in name} == set()


LINKS = ("output", "output/draft", f"output/draft/{NUMBER}", "output/issued", "output/processes",
         "output/register-A.txt", "output/processes-A.txt", f"output/processes/{NUMBER}")  # fmt: skip


@pytest.mark.parametrize("link", LINKS)
def test_nothing_is_written_through_a_link(link, tmp_path, capsys):
    folder = shop(tmp_path)
    file = folder / "processes" / "shelf.yaml"
    text = file.read_text(encoding="utf-8").replace("process: T6-P-0310", "evidence: EV-0310")
    file.write_text(text, encoding="utf-8")
    committed(folder)
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "kept.txt").write_text("as it was\n", encoding="utf-8")
    path = folder / link
    path.parent.mkdir(parents=True, exist_ok=True)
    path.symlink_to(outside / "kept.txt" if link.endswith(".txt") else outside)
    run(folder, "draft", NUMBER)
    run(folder, "approve", NUMBER, "--stamp", "LQ14", *ON)
    run(folder, "issue", NUMBER, "--for", "0001", *ON, *STAMP)
    run(folder, "handbook") if link == "output" else None
    told = capsys.readouterr().err
    assert "a link" in told or "is not a folder of ours" in told
    assert tree(outside) == {"kept.txt": b"as it was\n"}
    assert path.is_symlink()


def _ran(words: list[str], folder: Path, **more) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run([sys.executable, "-m", "generator", "--workshop", str(folder), *words],
                          cwd=Path(__file__).parents[2], stderr=subprocess.PIPE, **more)  # fmt: skip


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252", "utf-16"])
def test_a_terminal_that_lacks_signs_gets_others(encoding, tmp_path):
    words = ["calculate", "jack_force", "pressure=70 bar g", "bore=50 mm", "rod=25 mm",
             "efficiency=95 %"]  # fmt: skip
    env = {**os.environ, "PYTHONIOENCODING": encoding, "LC_ALL": "C"}
    ran = _ran(words, tmp_path, env=env, stdout=subprocess.PIPE)
    assert ran.returncode == 0, ran.stderr
    assert "1963.495" in ran.stdout.decode(encoding)


def test_who_stops_listening_gets_no_traceback(tmp_path):
    folder = shop(tmp_path, alone=True)
    reading, writing = os.pipe()
    os.close(reading)
    ran = _ran(["calculate"], folder, stdout=writing)
    os.close(writing)
    assert b"Traceback" not in ran.stderr
    assert b"Exception" not in ran.stderr


def test_a_closed_output_is_no_fault(tmp_path):
    ran = _ran(["calculate"], shop(tmp_path, alone=True), preexec_fn=lambda: os.close(1))
    assert b"Traceback" not in ran.stderr


def test_a_clock_set_back_changes_no_order(tmp_path, monkeypatch, capsys):
    """git writes its clock into commits; the record goes by what acts say they came after."""
    folder = shop(tmp_path)
    file = folder / "processes" / "shelf.yaml"
    text = file.read_text(encoding="utf-8").replace("process: T6-P-0310", "evidence: EV-0310")
    file.write_text(text, encoding="utf-8")
    committed(folder)
    for year, words in (
        ("2031", ("approve", NUMBER, "--stamp", "LQ14", *ON)),
        ("2026", ("issue", NUMBER, "--for", "0001", *ON, *STAMP)),
        ("1999", ("issue", NUMBER, "--for", "0002", *ON, *STAMP)),
        ("1970", ("slip", "A-0002", "--operation", "10", "--what", "Bent.", *ON, *STAMP)),
    ):
        for name in ("GIT_AUTHOR_DATE", "GIT_COMMITTER_DATE"):
            monkeypatch.setenv(name, f"{year}-06-01T00:00:00Z")
        assert run(folder, *words) == 0, capsys.readouterr().err
    capsys.readouterr()
    assert run(folder, "verify") == 0, capsys.readouterr()
    assert run(folder, "list") == 0
    assert "A-0002" in capsys.readouterr().out
