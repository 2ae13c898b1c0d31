"""The commands as a user types them: exit codes, what is written, what is said."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from generator.__main__ import main
from generator.compose import kinds_of
from generator.process import Process
from generator.workshop import open_shop
from tests.helping import SOUND

ROOT = Path(__file__).parents[2]
VALUES = "processes/machining/values-T6-P-0210-0001.yaml"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """The sound workshop of the cases, in git; its shelf waits for no other process."""
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    file = tmp_path / "processes" / "shelf.yaml"
    alone = file.read_text(encoding="utf-8").replace("process: T6-P-0310", "evidence: EV-0310")
    file.write_text(alone, encoding="utf-8")
    return committed(tmp_path)


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """The demo workshop in git; its hinge bases wait for no survey."""
    shutil.copytree(ROOT / "processes", tmp_path / "processes")
    file = tmp_path / "processes" / "machining" / "T6-P-0210-mail-hatch-hinge-bases.yaml"
    alone = file.read_text(encoding="utf-8").replace("- process: T6-P-0205", "- evidence: EV-0205")
    file.write_text(alone, encoding="utf-8")
    return committed(tmp_path)


def committed(folder: Path) -> Path:
    for words in (
        ["init", "-q", "-b", "main"],
        ["config", "user.name", "LQ1"],
        ["config", "user.email", "lq1@workshop.invalid"],
        ["add", "."],
        ["commit", "-qm", "As it stands"],
    ):
        subprocess.run(["git", *words], cwd=folder, check=True)
    return folder


def run(folder: Path, *words: str) -> int:
    return main(["--workshop", str(folder), *words])


ON = ("--on", "2026-11-25")


def approve(folder: Path, number: str, on: str = "2026-11-25") -> None:
    """The checker approves a process as it stands, unless he did."""
    assert run(folder, "approve", number, "--stamp", "LQ14", "--on", on) in (0, 1)


def issue(folder: Path, number: str, *words: str, on: str = "2026-11-25") -> int:
    """Approve and issue; words are part serials, or other words of the command."""
    approve(folder, number, on)
    words = words if words[0].startswith("-") else ("--for", *words)
    return run(folder, "issue", number, "--on", on, "--stamp", "LQ1", *words)


def test_check_says_what_is_sound(shop: Path, capsys) -> None:
    assert run(shop, "check", "--whole") == 0
    assert "2 processes sound" in capsys.readouterr().out


def test_check_of_one_process_leaves_the_others_findings_out(shop: Path, capsys) -> None:
    file = shop / "processes" / "ring.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("title:", "titel:"), encoding="utf-8")
    assert run(shop, "check", "T6-P-0120") == 0
    assert run(shop, "check", "T6-P-0310") == 1
    assert "did you mean 'title'?" in capsys.readouterr().err


def test_findings_as_json(shop: Path, capsys) -> None:
    file = shop / "processes" / "ring.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("title:", "titel:"), encoding="utf-8")
    assert run(shop, "check", "--format", "json") == 1
    (finding,) = json.loads(capsys.readouterr().out)
    assert (finding["path"], finding["line"], finding["code"]) == (
        "processes/ring.yaml",
        2,
        "unknown",
    )


def shelf(shop: Path) -> Process:
    """The process T6-P-0120 of a workshop."""
    processes = open_shop(shop).processes.values()
    return next(each for each in processes if each.number == "T6-P-0120")


def test_draft_writes_the_sheets_and_one_map_and_no_serial(shop: Path, capsys) -> None:
    assert run(shop, "draft", "T6-P-0120", "--on", "2026-11-25") == 0
    said = capsys.readouterr().out.splitlines()
    folder = shop / "output" / "draft" / "T6-P-0120"
    kinds = kinds_of(shelf(shop))
    assert {"traveller", "calculation-sheet"} < set(kinds)
    sheets = {f"{kind}.{end}" for kind in kinds for end in ("md", "pdf")}
    assert {f.name for f in folder.iterdir()} == {
        *sheets,
        "pack.pdf",
        "boxes.json",
        "fingerprint.txt",
    }
    for kind in kinds:
        assert "DRAFT - NOT FOR WORK" in (folder / f"{kind}.md").read_text(encoding="utf-8")
    assert said == [f"{folder / kind}.pdf" for kind in (*kinds, "pack")]
    boxes = json.loads((folder / "boxes.json").read_text(encoding="utf-8"))
    assert {box["sheet"] for box in boxes} == set(kinds)
    assert {p.name for p in folder.parent.iterdir()} == {"T6-P-0120", ".kept"}


def test_draft_of_one_sheet_keeps_the_count_of_the_pack_and_the_pack(shop: Path, capsys) -> None:
    assert run(shop, "draft", "T6-P-0120") == 0
    folder = shop / "output" / "draft" / "T6-P-0120"
    whole = {f.name: f.read_bytes() for f in folder.iterdir()}
    capsys.readouterr()
    assert run(shop, "draft", "T6-P-0120", "--only", "calculation-sheet") == 0
    one = folder.with_name("T6-P-0120-calculation-sheet")
    assert capsys.readouterr().out.splitlines() == [f"{one / 'calculation-sheet.pdf'}"]
    alone = {f.name: f.read_bytes() for f in one.iterdir()}
    assert set(alone) == {
        "calculation-sheet.md", "calculation-sheet.pdf", "boxes.json", "fingerprint.txt",
    }  # fmt: skip
    boxes = alone.pop("boxes.json").decode().splitlines()
    assert alone == {name: whole[name] for name in alone}
    assert all('"sheet": "calculation-sheet"' in line for line in boxes[1:-1])
    assert {f.name: f.read_bytes() for f in folder.iterdir()} == whole


def test_a_draft_is_the_same_bytes_again(shop: Path) -> None:
    pdf = shop / "output" / "draft" / "T6-P-0120" / "traveller.pdf"
    assert run(shop, "draft", "T6-P-0120") == 0
    first = pdf.read_bytes()
    assert run(shop, "draft", "--all") == 0
    assert pdf.read_bytes() == first


def test_findings_anywhere_write_nothing(shop: Path) -> None:
    file = shop / "processes" / "ring.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("title:", "titel:"), encoding="utf-8")
    assert run(shop, "draft", "--all") == 1
    assert not (shop / "output").exists()


def test_issue_freezes_registers_and_commits(shop: Path) -> None:
    assert issue(shop, "T6-P-0120", "0001", on="2026-11-25") == 0
    folder = shop / "output" / "issued" / "A-0001"
    kinds = kinds_of(shelf(shop))
    for kind in kinds:
        sheet = (folder / f"{kind}.md").read_text(encoding="utf-8")
        assert "| serial | A-0001 |" in sheet
        assert "DRAFT" not in sheet
    register = (shop / "output" / "register-A.txt").read_text(encoding="utf-8")
    assert register.endswith("  output/issued/A-0001/sums.txt\n")
    sums = (folder / "sums.txt").read_text(encoding="utf-8")
    for name in (*(f"{kind}.{end}" for kind in kinds for end in ("md", "pdf")), "pack.pdf"):
        assert f"output/issued/A-0001/{name}" in sums
    assert (folder / "process.yaml").read_bytes() == (
        shop / "processes" / "shelf.yaml"
    ).read_bytes()
    for sums_file in ("output/register-A.txt", "output/issued/A-0001/sums.txt"):
        done = subprocess.run(["sha256sum", "-c", sums_file], cwd=shop, capture_output=True)
        assert done.returncode == 0
    status = subprocess.run(
        ["git", "status", "--porcelain"], cwd=shop, capture_output=True, text=True
    )
    assert status.stdout == ""
    assert issue(shop, "T6-P-0120", "0002", on="2026-11-25") == 0
    assert (shop / "output" / "issued" / "A-0002").is_dir()


def test_issue_refuses_what_is_not_committed(shop: Path, capsys) -> None:
    file = shop / "processes" / "shelf.yaml"
    file.write_text(
        file.read_text(encoding="utf-8").replace("four places", "five places"), encoding="utf-8"
    )
    assert issue(shop, "T6-P-0120", "0001", on="2026-11-25") == 1
    assert "uncommitted" in capsys.readouterr().err
    assert not (shop / "output").exists()


OWN = """rows:
  - {thread: 2 BA, nut: tension, lubrication: oil-free, lower: 18 lbf·in, upper: 22 lbf·in, source: LQ-T-03 issue A}
"""


def test_issue_freezes_the_tables_of_the_workshop(shop: Path, capsys) -> None:
    """A row of the workshop's own decides a torque: uncommitted it is refused, issued it is kept."""
    tables = shop / "processes" / "workshop" / "tables"
    tables.mkdir()
    (tables / "torque.yaml").write_text(OWN, encoding="utf-8")
    committed(shop)
    (tables / "torque.yaml").write_text(OWN.replace("22", "23"), encoding="utf-8")
    assert issue(shop, "T6-P-0120", "0001") == 1
    assert "uncommitted" in capsys.readouterr().err
    (tables / "torque.yaml").write_text(OWN, encoding="utf-8")
    assert issue(shop, "T6-P-0120", "0001") == 0
    kept = shop / "output" / "issued" / "A-0001" / "workshop" / "tables" / "torque.yaml"
    assert kept.read_text(encoding="utf-8") == OWN
    assert "workshop/tables/torque.yaml" in (kept.parents[2] / "sums.txt").read_text("utf-8")


def test_issue_refuses_instruments_out_of_date(shop: Path, capsys) -> None:
    assert issue(shop, "T6-P-0120", "0001", on="2028-06-01") == 1
    assert "in date" in capsys.readouterr().err


def test_issue_refuses_a_class_that_nobody_holds_any_more(shop: Path, capsys) -> None:
    """On the day of its revision stores had a stamp: check is sound, and the kit nobody's."""
    stamps = shop / "processes" / "workshop" / "stamps.yaml"
    text = stamps.read_text(encoding="utf-8")
    ended = text.replace(
        "stores, from: 2024-01-08}", "stores, from: 2024-01-08, until: 2026-10-31}"
    )
    assert ended != text
    stamps.write_text(ended, encoding="utf-8")
    committed(shop)
    assert run(shop, "check", "T6-P-0120") == 0
    assert issue(shop, "T6-P-0120", "0001") == 1
    said = " ".join(capsys.readouterr().err.split())
    assert "nobody holds a stamp of class 'stores', which the kit list asks for" in said
    assert not (shop / "output" / "issued").exists()


def test_issue_takes_no_example_for_a_measured_value(demo: Path, capsys) -> None:
    assert issue(demo, "T6-P-0210", "0001") == 1
    assert "--given FILE" in capsys.readouterr().err


def test_values_of_one_part_are_not_for_another(demo: Path, capsys) -> None:
    words = ("--given", str(demo / VALUES), "--for")
    assert issue(demo, "T6-P-0210", *words, "0002") == 1
    assert "not of 0002" in capsys.readouterr().err
    assert issue(demo, "T6-P-0210", *words, "0001") == 0
    sheet = (demo / "output" / "issued" / "A-0001" / "traveller.md").read_text(encoding="utf-8")
    assert "EXAMPLE" not in sheet
    assert "A-0007" in sheet  # where the values were measured


@pytest.mark.parametrize(
    "words",
    [
        ("draft",),
        ("draft", "T6-P-9999"),
        ("draft", "T6-P-0120", "--on", "25/11/2026"),
        ("draft", "T6-P-0120", "--only", "travler"),
        ("issue", "T6-P-0120", "--for", "1", *ON, "--stamp", "LQ1"),
        ("calculate", "nothing_known"),
        ("calculate", "jack_force", "pressure=70 bar g"),
        ("calculate", "jack_force", "colour=red"),
    ],
)
def test_misuse_is_2_and_says_what_would_be_right(shop: Path, capsys, words) -> None:
    assert run(shop, *words) == 2
    assert "Right: " in capsys.readouterr().err


def test_calculate_prints_the_working_and_json(shop: Path, capsys) -> None:
    words = ("calculate", "bend_allowance", "thickness=0.914 mm", "radius=3.2 mm", "bend_angle=90°")
    assert run(shop, *words) == 0
    assert "(0.01743 1/° · 3.2 mm + 0.0078 1/° · 0.914 mm) · 90°" in capsys.readouterr().out
    assert run(shop, *words, "--json") == 0
    result = json.loads(capsys.readouterr().out)["results"]["bend_allowance"]
    assert result["printed"] == "5.66 mm"
    # (0.01743 · 3.2 + 0.0078 · 0.914) · 90
    assert result["value"] == pytest.approx((0.01743 * 3.2 + 0.0078 * 0.914) * 90)


SETBACK = ("calculate", "setback", "thickness=0.914 mm", "radius=3.2 mm", "bend_angle=90°")


def test_calculate_takes_json_before_and_behind_its_values(shop: Path, capsys) -> None:
    assert run(shop, *SETBACK, "--json") == 0
    behind = capsys.readouterr().out
    assert run(shop, "calculate", "--json", *SETBACK[1:]) == 0
    assert capsys.readouterr().out == behind
    assert json.loads(behind)["results"]["setback"]["printed"] == "4.11 mm"


def test_calculate_tells_worst_case_and_what_moves_it(shop: Path, capsys) -> None:
    """(3.2 ± 0.1) + (0.914 ± 0.04) at 90°: 4.114 ± 0.14, of which the radius is 0.10."""
    words = [w.replace("3.2", "3.2 ± 0.1").replace("0.914", "0.914 ± 0.04") for w in SETBACK]
    assert run(shop, *words, "--json") == 0
    told = json.loads(capsys.readouterr().out)["results"]["setback"]
    assert told["worst case"] == pytest.approx([3.974, 4.254])
    assert told["proven"] and told["driver"] == "inside bend radius"


def test_calculate_gives_the_window_of_the_whole_tolerance(shop: Path, capsys) -> None:
    """50 to 70 with 8 ± 2 of drag: from 60 to 76 whatever the drag is."""
    words = (
        "calculate",
        "table_torque",
        "thread=1/4-28",
        "nut=tension",
        "lubrication=oil-free",
        "drag=8 ± 2 lbf·in",
        "--json",
    )
    assert run(shop, *words) == 0
    told = json.loads(capsys.readouterr().out)["results"]
    assert (told["from"]["value"], told["from"]["printed"]) == (pytest.approx(60), "60.0 lbf·in")
    assert (told["to"]["value"], told["to"]["printed"]) == (pytest.approx(76), "76.0 lbf·in")


def test_calculate_uses_the_rows_of_the_workshop(shop: Path, capsys) -> None:
    tables = shop / "processes" / "workshop" / "tables"
    tables.mkdir()
    (tables / "torque.yaml").write_text(OWN, encoding="utf-8")
    words = (
        "calculate",
        "table_torque",
        "thread=2 BA",
        "nut=tension",
        "lubrication=oil-free",
        "drag=2 lbf·in",
    )
    assert run(shop, *words) == 0
    out = capsys.readouterr().out
    assert "20.0 lbf·in" in out and "24.0 lbf·in" in out
    (tables / "torque.yaml").write_text(OWN.replace("upper", "uper"), encoding="utf-8")
    assert run(shop, *words) == 1
    assert "did you mean 'upper'?" in capsys.readouterr().err


def test_calculate_names_what_comes_out(shop: Path, capsys) -> None:
    assert run(shop, "calculate", "developed_length") == 0
    out = capsys.readouterr().out
    assert "flats.n" in out and "sight_lines.n" in out


def test_help_brings_in_no_heavy_library() -> None:
    code = (
        "import sys; from generator.__main__ import main\n"
        "try: main(['--help'])\n"
        "except SystemExit: pass\n"
        "heavy = {'yaml', 'cerberus', 'jinja2', 'markdown_it', 'reportlab', 'numpy'} & set(sys.modules)\n"
        "sys.exit(str(heavy) if heavy else 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr


def test_an_operation_too_tall_for_a_page_is_named_at_its_line(shop: Path, capsys) -> None:
    """Thirty warnings of three lines cannot part from their step, and no page holds them."""
    file = shop / "processes" / "shelf.yaml"
    text = file.read_text(encoding="utf-8")
    tall = "    warning:\n" + "".join(
        f"      - Sheet edges cut to the bone, number {n}. {'Wear gloves on both hands. ' * 5}\n"
        for n in range(30)
    )
    old = "    warning: Sheet edges cut to the bone. Wear gloves.\n"
    assert old in text
    file.write_text(text.replace(old, tall), encoding="utf-8")
    number = text[: text.index(old)].rindex("  - number: ")
    assert run(shop, "draft", "T6-P-0120") == 1
    told = capsys.readouterr().err
    assert f"processes/shelf.yaml:{text[:number].count(chr(10)) + 1}:" in told
    assert "cannot be parted" in told


def test_a_run_that_is_stopped_at_once_says_so(shop: Path, capsys, monkeypatch) -> None:
    def stopped() -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("generator.__main__._parser", stopped)
    assert run(shop, "check") == 2
    assert capsys.readouterr().err.startswith("stopped; ")
