"""A traveller with something wrong on it, in; slips, decisions, concessions, rework sheets and what
keeps it from being closed, out."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pypdfium2
import pytest

from generator import record
from generator.commands.allowing import raised
from generator.commands.enter import form_read
from generator.record import traveller
from generator.record.slips import slips_of
from generator.workshop import open_workshop
from tests.commands.changing import change
from tests.commands.test_commands import issue, run
from tests.record.conftest import run_git
from tests.results.filled import filled

ON = ("--on", "2026-11-26", "--stamp")
STAMPS = "processes/workshop/stamps.yaml"


def entered(
    folder: Path, own: Mapping[str, str] = {}, rework: str = "", corrects: str = ""
) -> None:
    """All sheets of A-0001 filled in, with these words of their own."""
    workshop, _ = open_workshop(folder)
    instruments = {each.kind: each.number for each in workshop.instruments}
    form = form_read(traveller(folder, "A-0001"), rework)
    file = folder.parent / f"{folder.name}-result.yaml"
    file.write_text(filled(form, f"A-0001 {rework}".strip(), instruments, own), encoding="utf-8")
    more = ("--supplement", rework) if rework else ()
    more += ("--corrects", corrects) if corrects else ()
    assert run(folder, "enter", "A-0001", str(file), *ON, "LQ1", *more) == 0


def tallied(folder: Path) -> None:
    """The closing sheet of A-0001 with the counts of what was raised, as who closes it counts."""
    history = traveller(folder, "A-0001")
    counts = {row: str(len(numbers)) for row, numbers in raised(history).items()}
    rows = [
        f'      "{row}": {{raised: "{n}", closed: "{n}", open: "0"}}' for row, n in counts.items()
    ]
    head = "traveller: A-0001\nboxes:\n  closing-sheet:\n    sheet:\n"
    file = folder.parent / f"{folder.name}-tally.yaml"
    file.write_text(head + "\n".join(rows) + "\n", encoding="utf-8")
    if history.status == "open" and {*counts.values()} != {"0"}:
        run(folder, "enter", "A-0001", str(file), *ON, "LQ1", "--corrects", "Counted at the end.")


def close(folder: Path) -> int:
    tallied(folder)
    return run(folder, "close", "A-0001", *ON, "LQ1")


def slip(folder: Path, operation: str = "10", what: str = "0.96 mm, limit 0.954.") -> int:
    words = ("--operation", operation, "--what", what)
    return run(folder, "slip", "A-0001", *words, *ON, "LQ14")


def dispose(folder: Path, number: str, decision: str, *more: str, stamp: str = "LQ1") -> int:
    words = ("--decision", decision, "--why", "The part allows it.", *more)
    return run(folder, "dispose", number, *words, *ON, stamp)


def concede(folder: Path, number: str, stamp: str = "INS2") -> int:
    return run(folder, "concede", number, "--what", "0.96 mm allowed.", *ON, stamp)


def second_inspector(folder: Path) -> None:
    stamps = folder / "processes/workshop/stamps.yaml"
    row = "  - {stamp: INS3, class: inspector, from: 2024-01-08}\n"
    stamps.write_text(stamps.read_text("utf-8") + row, encoding="utf-8")
    run_git(folder, "commit", "--quiet", "-m", "A second inspector", "--", str(stamps))


def test_a_traveller_with_everything_on_it_is_closed_and_then_takes_no_results(issued, capsys):
    entered(issued)
    assert close(issued) == 0
    assert traveller(issued, "A-0001").status == "closed"
    assert close(issued) == 1
    file = issued.parent / f"{issued.name}-result.yaml"
    assert run(issued, "enter", "A-0001", str(file), *ON, "LQ1", "--corrects", "Late.") == 1
    assert "A-0001 is closed" in capsys.readouterr().err


def test_what_is_found_after_the_end_gets_a_slip_and_the_part_is_not_fitted(issued, capsys):
    entered(issued)
    assert close(issued) == 0
    assert slip(issued, what="Crack found on the shelf.") == 0
    assert run(issued, "fit", "A-0001", *ON, "LQ14") == 1
    assert "NC-A-0001 waits: Crack found on the shelf." in capsys.readouterr().err
    assert dispose(issued, "NC-A-0001", "rework") == 1  # it is closed: a new traveller
    assert dispose(issued, "NC-A-0001", "scrap") == 0
    assert run(issued, "fit", "A-0001", *ON, "LQ14") == 1
    assert "part 0001 went by NC-A-0001: scrap" in capsys.readouterr().err
    assert run(issued, "withdraw", "A-0001", "--why", "Scrapped.", *ON, "LQ1") == 0
    assert traveller(issued, "A-0001").status == "withdrawn"


def test_an_open_slip_is_not_forgotten_with_its_traveller(issued, capsys):
    assert slip(issued, what="Crack.") == 0
    assert run(issued, "withdraw", "A-0001", "--why", "Torn sheet.", *ON, "LQ1") == 0
    assert issue(issued, "T6-P-0120", "0001", on="2026-11-26") == 1
    assert "part 0001 waits for a decision on NC-A-0001: Crack." in capsys.readouterr().err
    assert dispose(issued, "NC-A-0001", "scrap") == 0


def test_a_rework_that_leaves_the_faulty_operation_out_settles_nothing(issued, capsys):
    entered(issued, {"10 thickness": "0.99"})
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "rework", "--operations", "20", "--done", "20") == 0
    entered(issued, rework="R1")
    assert close(issued) == 1
    assert "0.99 mm is above 0.954: a slip is needed" in capsys.readouterr().err


@pytest.mark.parametrize("word", ["N/A: gauge broken", "late:  , written 2026-11-26"])
def test_a_measurement_is_not_left_out_by_a_word(issued, word, capsys):
    entered(issued, {"10 thickness": word})
    assert close(issued) == 1
    said = capsys.readouterr().err
    assert "no line of the sheet gives its reason" in said or "unreadable" in said


def test_an_empty_traveller_stays_open_and_every_box_is_told(issued, capsys):
    assert close(issued) == 1
    said = capsys.readouterr().err
    assert "A-0001 traveller operation 10: missing: empty: " in said
    assert "A-0001 stays open" in said
    assert traveller(issued, "A-0001").status == "open"


def test_a_value_beyond_its_limit_needs_slip_decision_and_concession(issued, capsys):
    entered(issued, {"10 thickness": "0.96"})
    assert close(issued) == 1
    assert "out: 0.96 mm is above 0.954: a slip is needed" in capsys.readouterr().err
    assert slip(issued) == 0
    assert "NC-A-0001" in capsys.readouterr().out
    assert (issued / "output/slips-A.txt").read_text("utf-8") == (
        "NC-A-0001 A-0001 10 0.96 mm, limit 0.954.\n"
    )
    assert close(issued) == 1
    assert "nobody decided on: 0.96 mm, limit 0.954." in capsys.readouterr().err
    assert dispose(issued, "NC-A-0001", "use") == 0
    assert "needs a concession" in capsys.readouterr().out
    assert close(issued) == 1
    assert "to be used as it is, without a concession" in capsys.readouterr().err
    assert concede(issued, "NC-A-0001") == 0
    listed = (issued / "output/concessions-A.txt").read_text("utf-8")
    assert listed == "CN-A-0001 NC-A-0001 A-0001\n"
    assert close(issued) == 0
    first = traveller(issued, "A-0001").of_kind("result")[0]
    assert "0.96" in str(first.tree["boxes"])  # the failed value stays


def test_a_concession_comes_from_an_inspector_who_did_not_decide(issued, capsys):
    assert slip(issued) == 0
    assert concede(issued, "NC-A-0001") == 1
    assert "is not to be used or reworked: undecided" in capsys.readouterr().err
    second_inspector(issued)
    assert dispose(issued, "NC-A-0001", "use", stamp="INS2") == 0
    assert concede(issued, "NC-A-0001", "LQ1") == 1
    assert "LQ1 is of class lead" in capsys.readouterr().err
    assert concede(issued, "NC-A-0001") == 1
    assert "INS2 decided on NC-A-0001" in capsys.readouterr().err
    assert concede(issued, "NC-A-0001", "INS3") == 0


def test_nobody_decides_twice_or_without_the_class(issued, capsys):
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "use", stamp="LQ14") == 1
    assert "LQ14 is of class volunteer" in capsys.readouterr().err
    assert dispose(issued, "NC-A-0001", "scrap") == 0
    assert dispose(issued, "NC-A-0001", "use") == 1
    assert "was decided on 2026-11-26: scrap" in capsys.readouterr().err
    assert dispose(issued, "NC-A-0002", "use") == 1
    assert "there is no slip NC-A-0002" in capsys.readouterr().err


def test_the_only_inspector_does_not_decide_what_nobody_could_concede(issued, capsys):
    entered(issued, {"10 thickness": "0.96"})
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "use", stamp="INS2") == 1
    told = capsys.readouterr().err
    assert "who decides does not concede, and forming has no other inspector" in told
    assert "the lead's stamp for the decision" in told
    (one,) = slips_of(traveller(issued, "A-0001"))
    assert one.decided is None
    assert dispose(issued, "NC-A-0001", "use", stamp="LQ1") == 0
    assert concede(issued, "NC-A-0001") == 0


def test_where_no_inspector_holds_for_the_trade_the_advice_is_one_who_does(issued, capsys):
    """The lead decides already: to tell the lead to take the lead's stamp helps nobody."""
    change(issued, "class: inspector", "class: inspector, trades: [rigging]", STAMPS)
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "use") == 1
    told = capsys.readouterr().err
    assert "no inspector could concede it: none holds for forming on 2026-11-26" in told
    assert "Right: an inspector whose stamp holds for forming, in stamps.yaml" in told
    assert "the lead's stamp" not in told
    change(issued, "trades: [rigging]", "trades: [rigging, forming]", STAMPS)
    assert dispose(issued, "NC-A-0001", "use") == 0


def test_a_scrapped_part_is_withdrawn_not_closed(issued, capsys):
    entered(issued)
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "scrap") == 0
    assert close(issued) == 1
    assert "part 0001 went by NC-A-0001: scrap" in capsys.readouterr().err
    assert run(issued, "withdraw", "A-0001", "--why", "Scrapped.", *ON, "LQ1") == 0


def test_rework_prints_its_operations_and_what_is_void_behind_them(issued, capsys):
    entered(issued, {"10 thickness": "0.96"})
    assert slip(issued, "30", "Wrong sheet found at the hold.") == 0
    assert dispose(issued, "NC-A-0001", "rework", "--operations", "10") == 0
    assert "void behind it: 30, 40" in capsys.readouterr().out
    place = issued / "output/completed/A-0001/R1"
    pages = pypdfium2.PdfDocument(place / "rework.pdf")
    text = "\n".join(page.get_textpage().get_text_range() for page in pages)
    for told in ("REWORK R1", "NC-A-0001", "10R1", "30R1"):
        assert told in text
    assert "20R1" not in text
    (one,) = slips_of(traveller(issued, "A-0001"))
    assert (one.decision, one.rework) == ("rework", "R1")
    assert one.decided.tree["void"] == ["30", "40"]  # 40 is entered: the work has come so far
    assert close(issued) == 1
    said = capsys.readouterr().err
    assert "rework R1 is not complete" in said
    assert run(issued, "list") == 0
    told = capsys.readouterr().out
    assert "operation 10R1, measure, on rework sheet R1, waits for volunteer" in told
    assert "A-0001 R1 traveller operation 10R1: missing: empty: " in said
    entered(issued, rework="R1")
    assert close(issued) == 0  # 10 was done again, with all behind it


@pytest.mark.parametrize(
    ("ticks", "void"),
    [("all", ["30", "40"]), ("{not: []}", ["30", "40"]), ("none", []), ('""', [])],
)
def test_rework_makes_void_what_is_ticked_behind_it_in_whatever_words(issued, ticks, void):
    """Who says that none is ticked has begun nothing."""
    file = issued.parent / f"{issued.name}-ticks.yaml"
    row = '"sign done": {"done by volunteer stamp": LQ14}'
    head = f'traveller: A-0001\nboxes:\n  traveller:\n    "10":\n      {row}\n    "40":\n      '
    file.write_text(f"{head}ticks: {ticks}\n", encoding="utf-8")
    assert run(issued, "enter", "A-0001", str(file), *ON, "LQ1") == 0
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "rework", "--operations", "10", "--done", "10") == 0
    (one,) = slips_of(traveller(issued, "A-0001"))
    assert one.decided.tree["void"] == void


def test_what_was_decided_stands_on_the_rework_sheet_in_a_line_of_its_own(issued):
    """It is the only word there of what is done otherwise than before."""
    entered(issued, {"10 thickness": "0.96"})
    assert slip(issued) == 0
    why = "Take a sheet of the other batch."
    words = ("dispose", "NC-A-0001", "--decision", "rework", "--why", why)
    assert run(issued, *words, *ON, "LQ1") == 0
    pages = pypdfium2.PdfDocument(issued / "output/completed/A-0001/R1/rework.pdf")
    lines = pages[0].get_textpage().get_text_range().split("\r\n")
    assert f"As decided: {why}" in lines
    assert "Decided on 2026-11-26 by LQ1: rework." in lines


def test_a_rework_that_is_complete_settles_its_operation(issued):
    entered(issued, {"10 thickness": "0.96"})
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "rework") == 0
    entered(issued, rework="R1")
    assert close(issued) == 0


def test_a_rework_that_fails_gets_a_slip_of_its_own(issued, capsys):
    entered(issued, {"10 thickness": "0.96"})
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "rework") == 0
    entered(issued, {"10R1 thickness": "0.97"}, "R1")
    assert close(issued) == 1
    assert "A-0001 R1 operation 10R1, thickness: out" in capsys.readouterr().err
    assert slip(issued, "10R1", "0.97 mm.") == 0
    assert dispose(issued, "NC-A-0002", "rework") == 0
    entered(issued, rework="R2")
    assert close(issued) == 0


def test_the_third_rework_is_the_inspectors_decision(issued, capsys):
    for number in ("1", "2"):
        assert slip(issued) == 0
        assert dispose(issued, f"NC-A-000{number}", "rework") == 0
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0003", "rework") == 1
    assert "LQ1 is of class lead" in capsys.readouterr().err
    assert dispose(issued, "NC-A-0003", "rework", stamp="INS2") == 0


WRONG = [
    (("--operations", "15"), "there is no operation 15"),
    (("--operations", "20"), "the work has come to operation 10, and 20 is to be done again"),
]


@pytest.mark.parametrize(("more", "says"), WRONG)
def test_a_rework_of_nothing_is_refused(issued, capsys, more, says):
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "rework", *more) == 2
    assert says in capsys.readouterr().err


def test_a_slip_number_that_nobody_gave_is_told(issued, capsys):
    file = issued.parent / f"{issued.name}-result.yaml"
    box = '{traveller: {"10": {"thickness, slip no.": NC-A-0009}}}'
    form = form_read(traveller(issued, "A-0001"))
    row = next(f for f in form.fields if f.operation == "10" and "slip no" in f.row + f.name)
    value = f'{{"{row.name}": NC-A-0009}}' if row.name else "NC-A-0009"
    box = f'{{traveller: {{"10": {{"{row.row}": {value}}}}}}}'
    file.write_text(f"traveller: A-0001\nboxes: {box}\n", encoding="utf-8")
    assert run(issued, "enter", "A-0001", str(file), *ON, "LQ1") == 0
    assert close(issued) == 1
    assert "NC-A-0009 is no slip of A-0001" in capsys.readouterr().err


def test_acts_stand_in_the_order_of_their_days(issued, capsys):
    assert slip(issued) == 0
    words = ("--operation", "10", "--what", "Again.", "--on", "2026-11-25", "--stamp", "LQ14")
    assert run(issued, "slip", "A-0001", *words) == 2
    assert "A-001-slip.yaml is of 2026-11-26, after 2026-11-25" in capsys.readouterr().err


ACTS_AT_ONCE = {
    "dispose": lambda folder: dispose(folder, "NC-A-0001", "use"),
    "rework": lambda folder: dispose(folder, "NC-A-0001", "rework"),
    "slip": slip,
    "close": lambda folder: run(folder, "close", "A-0001", *ON, "LQ1"),
    "withdraw": lambda folder: run(
        folder, "withdraw", "A-0001", "--why", "Wrong part.", *ON, "LQ1"
    ),
    "replace": lambda folder: run(folder, "replace", "A-0001", "--why", "Lost.", *ON, "LQ1"),
}


@pytest.mark.parametrize("act", ACTS_AT_ONCE)
def test_what_another_run_records_meanwhile_is_never_overlooked(issued, act, monkeypatch, capsys):
    entered(issued)
    if act not in ("close", "replace"):
        assert slip(issued) == 0
    before = [each.path for each in traveller(issued, "A-0001").acts]

    real = record.perform

    def meanwhile(folder, desk, make):
        """All is judged by now, and the act not yet begun."""
        monkeypatch.setattr("generator.record.perform", real)
        assert slip(issued, "20", "Another volunteer saw a scratch.") == 0
        return real(folder, desk, make)

    monkeypatch.setattr("generator.record.perform", meanwhile)
    assert ACTS_AT_ONCE[act](issued) == 1
    assert "was recorded by another run meanwhile" in capsys.readouterr().err
    history = traveller(issued, "A-0001")
    assert [each.kind for each in history.acts[len(before) :]] == ["slip"]
    assert history.status == "open"


def test_features_of_what_is_done_again_are_inspected_again(issued, capsys):
    features = {"feature 1": "0.97", "10 thickness": "0.96"}
    entered(issued, features)
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "rework") == 0
    form = form_read(traveller(issued, "A-0001"), "R1")
    again = {f.row for f in form.fields if f.row.startswith("feature")}
    assert again == {"feature 1"}  # what the close counts is no feature of the part
    assert {f.of for f in form.fields if f.row == "feature 1"} == {"10R1"}
    entered(issued, {"feature 1": "0.99"}, rework="R1")
    assert close(issued) == 1
    assert "0.99 mm is above 0.954: a slip is needed" in capsys.readouterr().err
    entered(issued, rework="R1", corrects="Wrong line.")
    assert close(issued) == 0  # what was out before the rework stays on its sheet and stops nothing


def test_a_part_that_went_is_not_closed_to_be_fitted(issued, capsys):
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "scrap") == 0
    assert run(issued, "fit", "A-0001", *ON, "LQ14") == 1
    told = capsys.readouterr().err
    assert "part 0001 went by NC-A-0001: scrap" in told and "withdraw A-0001" in told
