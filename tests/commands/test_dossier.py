"""A record, in; a bag of one assembly that an independent library finds sound, out."""

from __future__ import annotations

import csv
import subprocess
from html.parser import HTMLParser
from pathlib import Path

import pytest
from bagit_utils import Bag

from tests.commands.test_commands import run
from tests.record.test_verify import folder as folder  # the fixtures
from tests.record.test_verify import kept as kept

DAY = ("--on", "2026-11-28")


def bagged(folder: Path, *what: str, name: str = "bag") -> Path:
    target = folder.parent / name
    assert run(folder, "dossier", *what, "--into", str(target), *DAY) == 0
    return target


class _Links(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag, attrs):
        self.found += [value for key, value in attrs if key == "href"]


def test_an_independent_library_finds_the_bag_sound(folder):
    bag = Bag(bagged(folder, "T6-P-0120"), load=True)
    report = bag.validate()
    assert report.valid, report.issues
    assert bag.baginfo["Source-Organization"] == ["Lantern Quay Workshop"]
    (oxum,) = bag.baginfo["Payload-Oxum"]
    assert oxum == Bag.get_payload_oxum(bag.path / "data")


def test_the_library_tells_a_changed_bag(folder):
    target = bagged(folder, "A-0001")
    sheet = target / "data/output/issued/A-0001/traveller.md"
    sheet.write_bytes(sheet.read_bytes() + b"x")
    assert not Bag(target, load=True).validate().valid


def test_it_holds_all_of_the_travellers_and_nothing_of_others(folder):
    data = bagged(folder, "T6-120-1 0001") / "data"
    assert [each.name for each in (data / "output/issued").iterdir()] == ["A-0001"]
    assert (data / "output/media/A-0001/A-0001.pdf").exists()
    assert (data / "output/completed/A-0001/R1/rework.pdf").exists()
    assert (data / "output/processes/T6-P-0120/A-001-approve.yaml").exists()
    with (data / "index.csv").open(encoding="utf-8", newline="") as handle:
        serials = {row["traveller"] for row in csv.DictReader(handle)}
    assert serials == {"A-0001"}


def test_its_page_leads_to_files_that_are_there_and_tells_what_is_open(folder):
    data = bagged(folder, "6-03") / "data"
    page = (data / "index.html").read_text(encoding="utf-8")
    links = _Links()
    links.feed(page)
    files = [each for each in links.found if not each.startswith("#")]
    assert len(files) > 10
    assert all((data / each).exists() for each in files)
    assert "A-0004 is open" in page
    assert "hull, radio bay" in page


def test_ordinary_tools_check_it_and_it_is_the_same_every_time(folder):
    one, other = bagged(folder, "T6-P-0120"), bagged(folder, "T6-P-0120", name="again")
    line = ["sha256sum", "-c", "--strict", "--quiet", "manifest-sha256.txt"]
    assert subprocess.run(line, cwd=one, check=False).returncode == 0
    assert subprocess.run(["diff", "-r", str(one), str(other)], check=False).returncode == 0


@pytest.mark.parametrize(
    ("lost", "says"),
    [
        ("output/issued/A-0001/pack.pdf", "output/issued/A-0001/pack.pdf is not there"),
        ("output/media/A-0001/A-0001.pdf", "A-0001.pdf is missing"),
    ],
)
def test_a_record_that_is_not_whole_makes_no_dossier(folder, capsys, lost, says):
    (folder / lost).unlink()
    target = folder.parent / "bag"
    assert run(folder, "dossier", "A-0001", "--into", str(target), *DAY) == 1
    assert says in capsys.readouterr().err
    assert not target.exists()
    assert not list(folder.parent.glob(".*new*"))


@pytest.mark.parametrize(
    "into",
    ["output/issued/foo", "output/completed/foo", "output/processes/foo", "output/media/foo",
     "output/foo", "processes/foo", "output/issued/A-0001/../foo", "output/draft/../foo"],
)  # fmt: skip
def test_it_is_not_written_into_the_record(folder, capsys, monkeypatch, into):
    """Nor is a blank form: verify would tell each of their files."""
    link = folder.parent / "link"
    link.symlink_to(folder)
    for place in (folder, link):
        assert run(folder, "dossier", "A-0001", "--into", str(place / into), *DAY) == 2
        told = capsys.readouterr().err
        assert f"lies in {into.partition('/')[0]}/" in told and "below output/draft/" in told
        assert run(folder, "enter", "A-0001", "--blank", str(place / into)) == 2
    monkeypatch.chdir(folder)
    assert run(Path("."), "dossier", "A-0001", "--into", into, *DAY) == 2
    assert run(folder, "verify") == 0


def test_it_may_be_written_beside_the_drafts(folder):
    assert run(folder, "dossier", "A-0001", "--into", str(folder / "output/draft/bag"), *DAY) == 0
    assert run(folder, "verify") == 0


def test_what_nobody_issued_and_what_is_there_already_is_refused(folder, capsys):
    target = bagged(folder, "A-0001")
    assert run(folder, "dossier", "A-0001", "--into", str(target), *DAY) == 1
    assert "is there already" in capsys.readouterr().err
    assert run(folder, "dossier", "T6-P-9999", "--into", str(target) + "2", *DAY) == 1
    assert "nothing was issued of 'T6-P-9999'" in capsys.readouterr().err
