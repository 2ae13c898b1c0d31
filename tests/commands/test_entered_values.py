"""Values that were entered on another traveller, in; a traveller printed with them, out."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.record import traveller
from tests.commands.test_commands import issue, run
from tests.commands.test_slips import close, dispose, entered, slip


@pytest.fixture
def measured(issued: Path) -> Path:
    """A closed shelf on which the thickness was measured as 0.914 mm."""
    entered(issued, {"10 thickness": "0.914", "10 used": "0.914"})
    return issued


def values(folder: Path, text: str) -> tuple[str, ...]:
    """A file that takes the drag of the ring from a reading of the shelf; nonsense as a job, and
    sound as a way."""
    file = folder.parent / f"{folder.name}-values.yaml"
    file.write_text(
        f'process: T6-P-0310\npart serial: "0001"\nvalues: {{drag: {text}}}\n', encoding="utf-8"
    )
    return ("--given", str(file), "--for", "0001")


FROM = '{traveller: A-0001, operation: "10", box: thickness}'


def test_a_value_of_another_unit_is_refused_where_it_is_named(measured, capsys):
    assert close(measured) == 0
    assert issue(measured, "T6-P-0310", *values(measured, FROM), on="2026-11-26") == 1
    said = capsys.readouterr().err
    assert "values.yaml:3" in said


def test_what_is_not_accepted_is_no_value(measured, capsys):
    assert issue(measured, "T6-P-0310", *values(measured, FROM)) == 1
    assert "A-0001 is open: what was entered there is not accepted" in capsys.readouterr().err


WRONG = [
    (FROM.replace("A-0001", "A-0009"), "no traveller A-0009 was issued here"),
    (FROM.replace("box: thickness", "box: width"), "has no reading 'width'"),
    (FROM.replace('"10"', '"20"'), "operation 20 of A-0001 has no reading"),
    ("{is: 5 lbf·in, traveller: A-0001}", "traveller"),
    ("{is: 5 lbf·in}", "from"),
]


@pytest.mark.parametrize(("text", "says"), WRONG)
def test_a_name_that_leads_nowhere_is_told_at_its_line(measured, capsys, text, says):
    assert close(measured) == 0
    assert issue(measured, "T6-P-0310", *values(measured, text), on="2026-11-26") == 1
    told = capsys.readouterr().err
    assert says in told
    assert "values.yaml:3" in told


def test_an_operation_that_was_done_again_is_named_so(measured, capsys):
    assert slip(measured) == 0
    assert dispose(measured, "NC-A-0001", "rework") == 0
    entered(measured, {"10R1 thickness": "0.894", "10R1 used": "0.894"}, "R1")
    assert close(measured) == 0
    assert issue(measured, "T6-P-0310", *values(measured, FROM), on="2026-11-26") == 1
    assert "was done again on R1" in capsys.readouterr().err
    told = FROM.replace('"10"', "10R1")
    assert issue(measured, "T6-P-0310", *values(measured, told), on="2026-11-26") == 1
    assert "was done again" not in capsys.readouterr().err


def test_the_value_and_where_it_was_entered_are_frozen(measured):
    """The thickness of the ring's own process: with the part instead of a number."""
    from tests.commands.changing import change

    assert close(measured) == 0
    old = "  thickness:\n    is: 0.914 mm\n    range: 0.874 to 0.954 mm\n"
    new = "  thickness:\n    with the part: yes\n    example: 0.914 mm\n    range: 0.874 to 0.954 mm\n"
    change(measured, "process: T6-P-0120", "process: T6-P-0121")
    change(measured, old, new)
    file = measured.parent / f"{measured.name}-values.yaml"
    file.write_text(
        f'process: T6-P-0121\npart serial: "0001"\nvalues: {{thickness: {FROM}}}\n',
        encoding="utf-8",
    )
    words = ("--given", str(file), "--for", "0001")
    assert issue(measured, "T6-P-0121", *words, on="2026-11-26") == 0
    history = traveller(measured, "A-0002")
    assert "0.914 mm" in history.sheets["calculation-sheet"]
    assert "A-0001 operation 10, thickness" in history.sheets["evidence-sheet"]
    frozen = (measured / "output/issued/A-0002/given.yaml").read_text(encoding="utf-8")
    assert "is: 0.914 mm" in frozen
    lost = measured / "output/issued/A-0002/traveller.pdf"
    kept = lost.read_bytes()
    lost.unlink()
    assert run(measured, "reprint", "A-0002", "--restore") == 0
    assert lost.read_bytes() == kept
