"""A record that was changed, split or judged by what nobody committed, in; refused or told, out."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from generator.commands.enter import form_read
from generator.record import traveller
from tests.commands.changing import change, revise
from tests.commands.test_commands import issue, run
from tests.commands.test_slips import ON, close, concede, dispose, entered, slip
from tests.record.conftest import run_git
from tests.results.filled import filled

WITHDRAW = ("withdraw", "T6-P-0120", "--why", "Wrong sheet.", *ON, "LQ1")


@pytest.mark.parametrize(
    ("more", "closes"),
    [((), 1), (("--covers", "thickness=0.96"), 0), (("--covers", "thickness=0.97"), 1)],
)
def test_a_concession_covers_the_values_it_names_and_no_other(issued, more, closes, capsys):
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "use") == 0
    words = ("concede", "NC-A-0001", "--what", "Allowed.", *more, *ON, "INS2")
    assert run(issued, *words) == 0
    entered(issued, {"10 thickness": "0.96"})
    assert close(issued) == closes
    assert ("0.96 mm is above 0.954: a slip is needed" in capsys.readouterr().err) == bool(closes)


def test_a_value_that_is_entered_after_the_concession_is_not_covered(issued, capsys):
    entered(issued, {"10 thickness": "0.96"})
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "use") == 0
    assert concede(issued, "NC-A-0001") == 0
    assert "allowed: thickness: 0.96" in capsys.readouterr().out
    entered(issued, {"10 thickness": "0.99"}, corrects="Read again.")
    assert close(issued) == 1
    assert "0.99 mm is above 0.954: a slip is needed" in capsys.readouterr().err


def test_a_box_that_is_not_there_is_not_covered(issued, capsys):
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "use") == 0
    words = ("concede", "NC-A-0001", "--what", "Allowed.", "--covers", "width=1", *ON, "INS2")
    assert run(issued, *words) == 2
    assert "names no box of operation 10" in capsys.readouterr().err


@pytest.mark.parametrize(
    "words",
    [
        ("close", "A-0001", *ON, "LQ1"),
        ("replace", "A-0001", "--why", "Lost.", *ON, "LQ1"),
    ],
)
def test_a_withdrawn_revision_does_not_live_on(issued, words, capsys):
    entered(issued)
    assert run(issued, *WITHDRAW) == 0
    assert run(issued, *words) == 1
    assert "revision A of T6-P-0120 was withdrawn on 2026-11-26" in capsys.readouterr().err


def test_a_part_of_a_withdrawn_revision_is_not_fitted(issued, capsys):
    entered(issued)
    assert close(issued) == 0
    assert run(issued, *WITHDRAW) == 0
    assert run(issued, "fit", "A-0001", *ON, "LQ14") == 1
    assert "was withdrawn on 2026-11-26" in capsys.readouterr().err


@pytest.mark.parametrize(("number", "closes"), [("G-999", 1), ("G-101", 0)])
def test_an_instrument_of_a_kind_that_is_in_no_list_any_more(issued, number, closes, capsys):
    """The list that was frozen with the traveller knows the kind, and who had which number."""
    row = "  - {number: G-101, kind: micrometer, reads to: 0.001 mm, check due: 2027-03-15}\n"
    change(issued, row, "", "processes/workshop/instruments.yaml")
    form = form_read(traveller(issued, "A-0001"))
    file = issued.parent / "result.yaml"
    file.write_text(
        filled(form, "A-0001", {"micrometer": number, "steel rule": "G-140"}), encoding="utf-8"
    )
    capsys.readouterr()
    assert run(issued, "enter", "A-0001", str(file), *ON, "LQ1") == 0
    assert ("the workshop has no instrument G-999" in capsys.readouterr().out) == bool(closes)
    assert close(issued) == closes
    assert ("the workshop has no instrument G-999" in capsys.readouterr().err) == bool(closes)


@pytest.mark.parametrize("name", ["form.yaml", "facts.yaml", "traveller.md", "sums.txt"])
@pytest.mark.parametrize(
    "words",
    [
        ("slip", "A-0001", "--operation", "10", "--what", "Thin.", *ON, "LQ14"),
        ("close", "A-0001", *ON, "LQ1"),
        ("withdraw", "A-0001", "--why", "Gone.", *ON, "LQ1"),
        ("enter", "A-0001", "--blank", "nowhere.yaml"),
        ("list",),
    ],
)
def test_nothing_is_done_by_files_that_were_changed(issued, name, words, capsys):
    file = issued / "output/issued/A-0001" / name
    file.write_bytes(file.read_bytes().replace(b"0.9", b"0.8", 1) + b"\n")
    assert run(issued, *words) == 1
    said = capsys.readouterr().err
    assert f"output/issued/A-0001/{name} is not what was recorded" in said or name == "sums.txt"
    assert "is not what was recorded" in said


def test_a_result_that_was_changed_by_hand_closes_nothing(issued, capsys):
    entered(issued, {"10 thickness": "0.96"})
    file = issued / "output/completed/A-0001/A-001-result.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("0.96", "0.95"), encoding="utf-8")
    assert close(issued) == 1
    assert f"{file.relative_to(issued)} is not what was recorded" in capsys.readouterr().err


def test_a_stamp_that_nobody_committed_signs_nothing(issued, capsys):
    file = issued / "processes/workshop/stamps.yaml"
    more = "  - {stamp: XX1, class: inspector, from: 2024-01-08}\n"
    file.write_text(file.read_text(encoding="utf-8") + more, encoding="utf-8")
    assert slip(issued) == 1
    assert "processes/workshop/stamps.yaml is not what the last commit holds" in (
        capsys.readouterr().err
    )


def test_a_scrapped_part_comes_to_no_bench_again(issued, capsys):
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "scrap") == 0
    assert run(issued, "withdraw", "A-0001", "--why", "Scrapped.", *ON, "LQ1") == 0
    assert issue(issued, "T6-P-0120", "0001", on="2026-11-27") == 1
    assert "part 0001 went by NC-A-0001: scrap" in capsys.readouterr().err
    assert issue(issued, "T6-P-0120", "0002", on="2026-11-27") == 0


def test_a_slip_on_a_part_that_is_not_on_the_traveller_is_refused(issued, capsys):
    words = ("--operation", "10", "--what", "Thin.", "--part", "0009", *ON, "LQ14")
    assert run(issued, "slip", "A-0001", *words) == 2
    assert "A-0001 is not of part 0009" in capsys.readouterr().err


def test_a_stamp_of_another_trade_decides_nothing(issued, capsys):
    change(issued, "class: lead", "class: lead, trades: [bonding]",
           "processes/workshop/stamps.yaml")  # fmt: skip
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "use") == 1
    assert "LQ1 does not hold for" in capsys.readouterr().err


def one_fitted_and_one_closed(shop, again="0002"):
    """A-0001 sits on the airframe, and A-0002 of the same process is ready for its place."""
    entered(shop)
    assert close(shop) == 0
    assert run(shop, "fit", "A-0001", *ON, "LQ14") == 0
    assert issue(shop, "T6-P-0120", again, on="2026-11-26") == 0
    file = shop.parent / f"{shop.name}-result.yaml"
    text = file.read_text(encoding="utf-8").replace("A-0001", "A-0002")
    file.write_text(text, encoding="utf-8")
    assert run(shop, "enter", "A-0002", str(file), *ON, "LQ1") == 0
    assert run(shop, "close", "A-0002", *ON, "LQ1") == 0


def test_one_place_holds_one_part(issued, capsys):
    one_fitted_and_one_closed(issued)
    assert run(issued, "fit", "A-0002", *ON, "LQ14") == 1
    assert "part 0001 of A-0001 sits at" in capsys.readouterr().err
    off = ("--removed", "--what", "Worn.", *ON, "LQ14")
    assert run(issued, "fit", "A-0001", *off) == 0
    assert run(issued, "fit", "A-0002", *ON, "LQ14") == 0


def test_one_part_sits_in_one_place(issued, capsys):
    """A part that was closed may get another traveller; it is no second part by that."""
    one_fitted_and_one_closed(issued, again="0001")
    elsewhere = ("--position", "front bulkhead")
    assert run(issued, "fit", "A-0002", *elsewhere, *ON, "LQ14") == 1
    assert "part 0001 of A-0001 sits at" in capsys.readouterr().err
    assert run(issued, "fit", "A-0001", "--removed", "--what", "Moved.", *ON, "LQ14") == 0
    assert run(issued, "fit", "A-0002", *elsewhere, *ON, "LQ14") == 0


@pytest.fixture
def two(issued: Path, tmp_path_factory) -> tuple[Path, Path]:
    """Desk A, and its clone as desk B, with the same open traveller."""
    other = tmp_path_factory.mktemp("clone") / "shop"
    subprocess.run(["git", "clone", "-q", str(issued), str(other)], check=True)
    for folder in (issued, other):
        run_git(folder, "config", "user.name", "Desk")
        run_git(folder, "config", "user.email", "desk@workshop.invalid")
    run_git(other, "config", "witnessmark.desk", "B")
    return issued, other


def merged(here: Path, there: Path) -> None:
    run_git(here, "pull", "-q", "--no-rebase", "--no-edit", str(there), "main")


def test_a_slip_on_one_clone_and_the_end_on_another_are_told(two, capsys):
    here, there = two
    entered(here)
    assert close(here) == 0
    assert slip(there) == 0
    merged(here, there)
    capsys.readouterr()
    assert run(here, "verify") == 1
    assert "close was recorded without knowing of the other" in capsys.readouterr().err


def test_two_readings_of_one_box_are_told_and_stop_the_end(two, capsys):
    here, there = two
    entered(here)
    entered(there, {"10 thickness": "0.934", "10 used": "0.934"})
    merged(here, there)
    capsys.readouterr()
    assert close(here) == 1
    assert "10, used: 0.874 and 0.934 (" in capsys.readouterr().err
    assert run(here, "verify") == 1
    entered(here, {"10 thickness": "0.934", "10 used": "0.934"}, corrects="Both looked again.")
    assert run(here, "verify") == 0, capsys.readouterr().err
    assert close(here) == 0


def test_a_correction_stands_after_what_it_corrects_whatever_the_desks_are_called(two):
    here, there = two
    entered(here, {"10 thickness": "0.96"})
    merged(there, here)
    run_git(there, "config", "witnessmark.desk", "B")
    entered(there, {"10 thickness": "0.934", "10 used": "0.934"}, corrects="Wrong line.")
    merged(here, there)
    entered(here, {"10 thickness": "0.92"}, corrects="Wrong sheet.")
    order = [each.path.rpartition("/")[2] for each in traveller(here, "A-0001").acts]
    assert order == ["A-001-result.yaml", "B-001-result.yaml", "A-002-result.yaml"]
    (first, second, third) = traveller(here, "A-0001").acts
    assert (list(second.after), list(third.after)) == ([first.path], [second.path])


def test_reworks_of_two_clones_merge(two, capsys):
    for folder, number in zip(two, ("NC-A-0001", "NC-B-0001"), strict=True):
        assert slip(folder) == 0
        assert dispose(folder, number, "rework") == 0
    merged(*two)
    names = {each.name for each in (two[0] / "output/completed/A-0001").iterdir() if each.is_dir()}
    assert names == {"R1", "R1B"}
    entered(two[0], rework="R1B")


def test_a_desk_of_which_everything_was_taken_away_is_told(two, capsys):
    here, there = two
    assert issue(there, "T6-P-0120", "0009", on="2026-11-26") == 0
    merged(here, there)
    for path in ("register-B.txt", "processes/T6-P-0120/issued-B.txt", "issued/B-0001"):
        run_git(here, "rm", "-rq", f"output/{path}")
    run_git(here, "commit", "-qm", "Tidy up")
    capsys.readouterr()
    assert run(here, "verify") == 1
    said = capsys.readouterr().err
    assert "output/register-B.txt" in said


def test_a_changed_index_is_made_anew(issued, capsys):
    entered(issued)
    assert run(issued, "trace", "B-77") == 0
    file = issued / "output/index.csv"
    whole = file.read_text(encoding="utf-8")
    file.write_text(whole.replace("B-77", "B-78"), encoding="utf-8")
    assert run(issued, "trace", "B-77") == 0
    assert file.read_text(encoding="utf-8") == whole


def test_several_batches_in_one_box_and_late_ones_are_found(issued, capsys):
    entered(issued)
    file = issued.parent / f"{issued.name}-result.yaml"
    text = file.read_text(encoding="utf-8")
    late = 'late: B-98, B-99, 7/16" lot, written 2026-11-26'
    file.write_text(text.replace('"B-77"', f"'{late}'", 1), encoding="utf-8")
    more = ("--corrects", "The label was found.")
    assert run(issued, "enter", "A-0001", str(file), *ON, "LQ1", *more) == 0
    for batch in ("B-98", "B-99", '7/16" lot'):
        assert run(issued, "trace", batch, "--kind", "batch") == 0
    capsys.readouterr()
    assert run(issued, "trace", "LQ14", "--kind", "stamp") == 0
    assert "approve" in capsys.readouterr().out


def test_lines_that_begin_like_those_of_one_print_are_compared(issued, capsys):
    change(issued, "four places", "four places. Serial numbers are read aloud")
    revise(issued, "Serial numbers are read aloud", "Serial numbers are written down")
    assert run(issued, "compare", "T6-P-0120") == 0
    assert "written down" in capsys.readouterr().out


def test_a_kind_that_is_none_is_told_with_those_there_are(issued, capsys):
    assert run(issued, "trace", "B-77", "--kind", "bogus") == 2
    assert "one of: drawing, fingerprint" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["facts.yaml", "sums.txt", "process.yaml", "boxes.json"])
@pytest.mark.parametrize(
    "words",
    [
        ("list",),
        ("affected",),
        ("compare", "T6-P-0120"),
        ("reprint", "A-0001", "--restore"),
        ("reprint", "A-0001", "--why", "Oil.", *ON, "LQ1"),
        ("dossier", "A-0001", "--into", "bag", "--on", "2026-12-01"),
        ("replace", "A-0001", "--why", "Lost.", *ON, "LQ1"),
        ("verify",),
    ],
)
@pytest.mark.parametrize("content", [None, b"", b"x: [\n", b"{}\n"])
def test_files_that_are_lost_or_changed_are_told_and_never_a_traceback(
    issued, name, words, content, capsys, monkeypatch, tmp_path
):
    monkeypatch.chdir(tmp_path)
    file = issued / "output/issued/A-0001" / name
    if content is None:
        file.unlink()
    else:
        file.write_bytes(content)
    code = run(issued, *words)
    told = capsys.readouterr()
    assert code in (0, 1) and "Traceback" not in told.err
    assert code == 1 or words[0] == "reprint"
