"""Broken and hostile files of every sort a memory stick brings: a finding, and never more."""

from __future__ import annotations

import os
import re
import shutil
import socket
from pathlib import Path

import pytest

from generator.findings import listed
from generator.read import read_file
from generator.workshop import open_shop
from tests.commands.test_commands import run
from tests.hostile.shops import NUMBER, SHELF, shop, tree
from tests.hostile.watched import Watched, watch

TEXT = "process: T6-P-0120\n"

# name -> the bytes of a process file, and a word of the finding that it must get
BYTES = {
    "UTF-16 with a mark": (TEXT.encode("utf-16"), "not UTF-8"),
    "UTF-16 without": (TEXT.encode("utf-16-le"), "does not print"),
    "UTF-32": (TEXT.encode("utf-32"), "not UTF-8"),
    "Windows letters": ("title: Größe\n".encode("cp1252"), "not UTF-8"),
    "EBCDIC": (TEXT.encode("cp500"), "not UTF-8"),
    "half a sign": ("title: ß".encode()[:-1], "not UTF-8"),
    "a surrogate": (b"title: \xed\xa0\x80\n", "not UTF-8"),
    "overlong": (b"title: \xc0\xae\xc0\xae/\n", "not UTF-8"),
    "NUL": (b"process: T6\x00-P\n", "does not print"),
    "bell and escape": (b"title: \x07\x1b[31mred\n", "does not print"),
    "old line ends": (b"process: T6-P-0120\rtitle: x\r", "does not print"),
    "a mark inside": ("title: a\ufeffb\n".encode(), "does not print"),
    "bidi": ("title: bolt \u202eM6\u202c\n".encode(), "does not print"),
    "a separator": ("title: a\u2028b: c\n".encode(), "does not print"),
    "an archive": (b"PK\x03\x04" + bytes(range(256)), "not UTF-8"),
    "a print": (b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n", "not UTF-8"),
    "nothing": (b"", "no keys"),
    "a mark alone": (b"\xef\xbb\xbf", "no keys"),
    "spaces": (b"   \n\n  \n", "no keys"),
    "comments": (b"# nothing\n", "no keys"),
    "a list": (b"- a\n- b\n", "no keys"),
    "two documents": (b"a: b\n---\nc: d\n", "second document"),
    "a directive": (b"%TAG ! tag:x,2000:\n---\na: b\n", "not YAML|a key here"),
    "a tag": (b"a: !!python/object/apply:os.system ['true']\n", "a tag"),
    "an anchor": (b"a: &x b\nc: *x\n", "an anchor"),
    "an anchor to itself": (b"a: &x [*x]\n", "an anchor"),
    "a merge key": (b"<<: {a: b}\n", "a merge key"),
    "twice": (b"process: A\nprocess: B\n", "stands twice"),
    "a key that is a list": (b"? [a, b]\n: c\n", "a key must be plain"),
    "deep": (b"a: " + b"[" * 500 + b"]" * 500 + b"\n", "nested deeper"),
    "deep and open": (b"a: " + b"{a: " * 5_000, "nested deeper"),
    "a long line": (b"title: " + b"x" * 1_000_000 + b"\n", "'title' is longer than"),
    "many keys": (b"".join(b"k%d: v\n" % n for n in range(60_000)), "more than 200 faults"),
    "many items": (b"operations: [" + b"a," * 400_000 + b"]\n", "more than 100,000"),
    "a long number": (b"process: " + b"9" * 500_000 + b"\n", "is not a number or stamp"),
    "larger": (b"a: b\n" + b"# x\n" * 300_000, "larger than 1 MiB"),
}  # fmt: skip


@pytest.mark.parametrize("name", BYTES)
def test_any_bytes_give_a_finding_at_their_file(name, tmp_path):
    content, word = BYTES[name]
    folder = shop(tmp_path, alone=True)
    (folder / "processes" / "hostile.yaml").write_bytes(content)
    told = listed(open_shop(folder).findings)
    assert re.search(rf"processes/hostile\.yaml.*({word})", told), told[:600]
    assert len(told) < 60_000
    assert told.replace("\n", "").replace("\u00a0", "").isprintable()


def test_one_broken_file_stops_the_commands(tmp_path, capsys):
    folder = shop(tmp_path)
    (folder / "processes" / "hostile.yaml").write_bytes(BYTES["UTF-16 with a mark"][0])
    assert run(folder, "check", "--whole") == 1
    assert run(folder, "draft", "--all") == 1
    assert "Traceback" not in capsys.readouterr().err
    assert set((folder / "output" / "draft").iterdir()) <= {folder / "output/draft/.kept"}


def _link(path: Path) -> None:
    path.symlink_to("/etc/hostname")


def _loop(path: Path) -> None:
    path.symlink_to(path.name)


def _socket(path: Path) -> None:
    here = Path.cwd()
    os.chdir(path.parent)  # the name of a socket must be short
    try:
        socket.socket(socket.AF_UNIX).bind(path.name)
    finally:
        os.chdir(here)


KINDS = {
    "a pipe that nobody writes to": os.mkfifo,
    "a folder": Path.mkdir,
    "a link to a file outside": _link,
    "a link to itself": _loop,
    "a link to nothing": lambda path: path.symlink_to("nowhere"),
    "a socket": _socket,
}
PLACES = ("processes/hostile.yaml", SHELF, "processes/workshop/stamps.yaml",
          "processes/workshop/tables/torque.yaml")  # fmt: skip


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("kind", KINDS)
def test_what_is_no_plain_file_is_told_and_not_read(kind, place, tmp_path):
    folder = shop(tmp_path, alone=True)
    path = folder / place
    path.parent.mkdir(exist_ok=True)
    path.unlink(missing_ok=True)
    KINDS[kind](path)
    told = listed(open_shop(folder).findings)
    assert f"{place}: file: " in told
    assert Path("/etc/hostname").read_text(encoding="utf-8").strip() not in told


@pytest.mark.parametrize("name", ["part.yml", "part.YAML", "part.YML", "workshop/tables/own.yml"])
def test_a_file_that_would_be_passed_over_is_told(name, tmp_path):
    folder = shop(tmp_path, alone=True)
    path = folder / "processes" / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("process: X\n", encoding="utf-8")
    told = listed(open_shop(folder).findings)
    assert f"processes/{name}: file: a file that ends in" in told


def test_a_linked_folder_is_told_and_not_walked(tmp_path):
    folder = shop(tmp_path, alone=True)
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "strange.yaml").write_text("process: T6-P-0999\n", encoding="utf-8")
    (folder / "processes" / "more").symlink_to(outside)
    (folder / "processes" / "round").symlink_to("..")
    told = listed(open_shop(folder).findings)
    assert "processes/more: file: a link" in told
    assert "processes/round: file: a link" in told
    assert "strange.yaml" not in told


@pytest.mark.parametrize("at", [1, 2, 3])
def test_a_file_that_changes_while_it_is_read_is_never_half_one_and_half_the_other(
    at, tmp_path, monkeypatch, capsys
):
    """What was checked is what is printed, or nothing is: the name leads to other content from
    this opening of it on."""
    folder = shop(tmp_path)
    assert run(folder, "draft", "--all") == 0
    expected = tree(folder / "output" / "draft" / NUMBER)
    shutil.rmtree(folder / "output")
    file, opens = folder / SHELF, []
    other = file.read_text(encoding="utf-8").replace("25 mm", "26 mm")
    real = os.open

    def swapped(name, *more, **words):
        if str(name).endswith("shelf.yaml"):
            opens.append(name)
            if len(opens) == at:
                file.with_suffix(".other").write_text(other, encoding="utf-8")
                file.with_suffix(".other").replace(file)
        return real(name, *more, **words)

    monkeypatch.setattr(os, "open", swapped)
    code = run(folder, "draft", "--all")
    monkeypatch.undo()
    made = folder / "output" / "draft" / NUMBER
    capsys.readouterr()
    if code:
        assert not made.exists()
    elif tree(made) != expected:
        drawn = tree(made)
        assert run(folder, "draft", "--all", "--anew") == 0
        assert tree(made) == drawn


def test_a_file_that_cannot_be_opened_is_told(tmp_path, monkeypatch):
    from generator import read

    def refused(*_words):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(read.os, "open", refused)
    document, findings = read_file(tmp_path / "x.yaml", "x.yaml")
    assert document is None
    assert findings[0].wrong == "cannot be read: Permission denied"


@pytest.fixture(scope="module")
def started(tmp_path_factory) -> Watched:
    return watch(shop(tmp_path_factory.mktemp("plain"), alone=True), "check", "--whole")


@pytest.mark.parametrize(
    "name", ["deep and open", "many keys", "many items", "a long line", "a long number"]
)
def test_one_file_is_bounded_in_time_and_memory(name, tmp_path, started):
    """2 s of the processor and 200 MiB for one file, over a command that has no file to read."""
    plain = started
    folder = shop(tmp_path, alone=True)
    (folder / "processes" / "hostile.yaml").write_bytes(BYTES[name][0])
    ran = watch(folder, "check", "--whole")
    assert ran.code == 1, ran.told[:2000]
    assert ran.seconds - plain.seconds < 2
    assert ran.memory - plain.memory < 200 * 2**20
