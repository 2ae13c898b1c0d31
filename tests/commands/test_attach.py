"""A traveller and files from outside, in; their sums and meaning recorded, parts fitted, out."""

from __future__ import annotations

import subprocess
from hashlib import sha256
from pathlib import Path

import pytest

from generator.commands.attach import sheets_in, sides_missing
from generator.record import traveller
from tests.commands.test_commands import issue, run
from tests.commands.test_commands import shop as shop  # the fixture
from tests.commands.test_slips import close, entered
from tests.record.conftest import run_git

ON = ("--on", "2026-11-26", "--stamp", "LQ1")


@pytest.fixture
def scan(tmp_path_factory) -> Path:
    file = tmp_path_factory.mktemp("scans") / "A-0001.pdf"
    file.write_bytes(b"%PDF-1.4 a scan\n")
    return file


def attach(folder: Path, file: Path, *words: str) -> int:
    return run(folder, "attach", "A-0001", str(file), *words, *ON)


def test_a_scan_is_kept_beside_git_and_its_sum_in_the_record(issued, scan, capsys):
    count = sheets_in(traveller(issued, "A-0001"))
    assert attach(issued, scan, "--as", "scan", "--sheets", "1", "--side", "front") == 0
    said = capsys.readouterr().out
    assert "not scanned yet: 2 front, 3 front" in said  # no back was printed to write on
    kept = issued / "output/media/A-0001/A-0001.pdf"
    assert kept.read_bytes() == scan.read_bytes()
    (act,) = traveller(issued, "A-0001").acts
    (row,) = act.tree["files"]
    assert row["sha256"] == sha256(scan.read_bytes()).hexdigest()
    assert (row["path"], row["bytes"]) == ("output/media/A-0001/A-0001.pdf", "16")
    held = subprocess.run(
        ["git", "ls-files", "output/media"], cwd=issued, capture_output=True, text=True
    )
    assert held.stdout == ""
    again = ("--as", "scan", "--sheets", f"1 to {count}", "--side", "both")
    assert attach(issued, scan, *again) == 0
    assert sides_missing(traveller(issued, "A-0001")) == []


def test_backs_are_scanned_where_they_were_printed(shop, scan, capsys):
    file = shop / "processes/workshop/workshop.yaml"
    file.write_text(file.read_text(encoding="utf-8") + "backs: yes\n", encoding="utf-8")
    run_git(shop, "commit", "--quiet", "-am", "Backs for notes")
    assert issue(shop, "T6-P-0120", "0001") == 0
    count = sheets_in(traveller(shop, "A-0001"))
    assert len(sides_missing(traveller(shop, "A-0001"))) == 2 * count
    capsys.readouterr()
    assert attach(shop, scan, "--as", "scan", "--sheets", "1", "--side", "front") == 0
    assert "not scanned yet: 1 back, 2 front" in capsys.readouterr().out
    words = ("--as", "scan", "--sheets", f"1 to {count}", "--side", "front")
    assert attach(shop, scan, *words) == 0
    left = sides_missing(traveller(shop, "A-0001"))
    assert left == [(sheet, "back") for sheet in range(1, count + 1)]


def test_a_scan_is_a_picture_and_not_the_print_itself(issued, tmp_path, capsys):
    words = ("--as", "scan", "--sheets", "1", "--side", "front")
    text = tmp_path / "A-0001.txt"
    text.write_text("signed, honestly\n")
    assert attach(issued, text, *words) == 2
    assert "A-0001.txt is no PDF, PNG, JPEG or TIFF file" in capsys.readouterr().err
    assert attach(issued, issued / "output/issued/A-0001/traveller.pdf", *words) == 2
    assert "is the print as it was issued" in capsys.readouterr().err
    assert not (issued / "output/media").exists()
    for name, start in (("a.png", b"\x89PNG\r\n\x1a\n"), ("b.jpg", b"\xff\xd8\xff\xe0"),
                        ("c.tif", b"II*\0"), ("d.tif", b"MM\0*")):  # fmt: skip
        (tmp_path / name).write_bytes(start + b"more")
        assert attach(issued, tmp_path / name, *words) == 0
    assert attach(issued, text, "--as", "other") == 0


WRONG = [
    (("--as", "scan"), "a scan needs its sheets and its side"),
    (("--as", "scan", "--sheets", "0", "--side", "front"), "no pack has sheets of"),
    (("--as", "scan", "--sheets", "900", "--side", "front"), "sheets 900 of a pack of"),
    (("--as", "scan", "--sheets", "1" * 5_000, "--side", "front"), "no pack has sheets of"),
    (("--as", "scan", "--sheets", "3 to 2", "--side", "front"), "sheets 3 to 2 of a pack of"),
    (("--as", "certificate", "--sheets", "1"), "sheets of a certificate"),
]


@pytest.mark.parametrize(("words", "says"), WRONG)
def test_a_file_that_is_not_explained_is_refused(issued, scan, capsys, words, says):
    assert attach(issued, scan, *words) == 2
    assert says in capsys.readouterr().err
    assert not (issued / "output/media").exists()


def test_nothing_is_written_over_and_empty_files_are_no_evidence(issued, scan, capsys):
    assert attach(issued, scan, "--as", "certificate") == 0
    scan.write_bytes(b"%PDF-1.4 another\n")
    assert attach(issued, scan, "--as", "certificate") == 1
    assert "another A-0001.pdf is there already" in capsys.readouterr().err
    empty = scan.with_name("empty.pdf")
    empty.write_bytes(b"")
    assert attach(issued, empty, "--as", "certificate") == 2
    strange = scan.with_name("a\tb.pdf")
    strange.write_bytes(b"x")
    assert attach(issued, strange, "--as", "certificate") == 2
    assert attach(issued, scan.with_name("not-there.pdf"), "--as", "certificate") == 2
    assert len(traveller(issued, "A-0001").acts) == 1


def test_scans_that_were_copied_and_not_recorded_are_told(issued, scan, capsys):
    """Git's index is another program's: nothing is recorded, and the scans lie there already."""
    lock = issued / ".git/index.lock"
    lock.touch()
    assert attach(issued, scan, "--as", "certificate") == 1
    told = capsys.readouterr().err
    assert "nothing written" not in told
    ends = "nothing recorded, and there already: output/media/A-0001/A-0001.pdf; attach it again"
    assert f"1 finding; {ends} once that is put right" in told
    assert (issued / "output/media/A-0001/A-0001.pdf").exists()
    assert not traveller(issued, "A-0001").acts
    lock.unlink()
    assert attach(issued, scan, "--as", "certificate") == 0
    assert run(issued, "verify") == 0


def test_the_first_of_two_scans_is_told_where_the_second_is_not_there(issued, scan, capsys):
    words = ("attach", "A-0001", str(scan), str(scan.with_name("none.pdf")), "--as", "certificate")
    assert run(issued, *words, *ON) == 2
    told = capsys.readouterr().err
    assert "there is no file" in told and "there already: output/media/A-0001/A-0001.pdf" in told
    assert attach(issued, scan.with_name("none.pdf"), "--as", "certificate") == 2
    assert "1 finding, nothing written" in capsys.readouterr().err


def fit(folder: Path, *words: str) -> int:
    return run(folder, "fit", "A-0001", *words, *ON)


def test_a_part_is_fitted_once_it_is_accepted_and_taken_off_before_it_sits_elsewhere(
    issued, capsys
):
    assert fit(issued) == 1
    assert "A-0001 is open: its part is not accepted" in capsys.readouterr().err
    entered(issued)
    assert close(issued) == 0
    assert fit(issued) == 0
    (act,) = traveller(issued, "A-0001").of_kind("fit")
    assert (act.tree["position"], act.tree["airframe"]) == ("hull, radio bay", "6-03")
    assert fit(issued, "--position", "stern") == 1
    assert "part 0001 sits at hull, radio bay" in capsys.readouterr().err
    assert fit(issued, "--removed", "--what", "Chafed.") == 0
    assert fit(issued, "--removed", "--what", "Chafed.") == 1
    assert fit(issued, "--position", "stern") == 0
    assert fit(issued, "--part", "0002") == 2
