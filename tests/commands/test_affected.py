"""A record and a table, a formula or a list that changed, in; the travellers that carry another
number today, old and new beside each other, out."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from generator.calculations import calculations
from generator.tables import find_row
from tests.commands.changing import revise
from tests.commands.test_approve import DRAG, ended
from tests.commands.test_commands import issue, run
from tests.commands.test_commands import shop as shop  # the fixture


def told(folder: Path, capsys, *words: str, code: int = 1) -> str:
    capsys.readouterr()
    assert run(folder, "affected", *words) == code
    return capsys.readouterr().out


def test_nothing_is_affected_while_nothing_changed(shop, capsys):
    assert issue(shop, "T6-P-0120", "0001") == 0
    assert "1 issued travellers, 0 of them" in told(shop, capsys, code=0)


def test_a_changed_formula_shows_old_and_new_where_the_number_stands(shop, capsys, monkeypatch):
    """The flat length is worked out otherwise under the record: three travellers, one of them
    closed and one replaced, carry the old one."""
    for serial in ("0001", "0002", "0003"):
        assert issue(shop, "T6-P-0120", serial) == 0
    ended(shop, "A-0002")
    ended(shop, "A-0003", "replace")
    made = calculations()["bend_allowance"]

    def longer(**given):
        return made.body(**given) + given["thickness"]

    changed = replace(made, body=longer, second=None)
    monkeypatch.setitem(calculations(), "bend_allowance", changed)
    said = told(shop, capsys)
    assert "T6-P-0120 A: A-0001 (open), A-0002 (closed)" in said
    assert "A-0003" not in said
    assert "operation 20: text: NOTE" in said or "operation 20: text: The bend takes up" in said
    assert "2 issued travellers, 2 of them with other numbers today" in said
    assert "T6-P-0120 A: not what was approved on 2026-11-25" in said


def test_a_changed_row_of_a_table_is_found_and_so_is_one_that_forbids(shop, capsys, monkeypatch):
    values = shop.parent / f"{shop.name}-values.yaml"
    values.write_text(DRAG, encoding="utf-8")
    words = ("--for", "0001", "--given", str(values))
    assert issue(shop, "T6-P-0310", *words) == 0
    row = find_row("torque", {"thread": "1/4-28", "nut": "tension", "lubrication": "oil-free"})
    monkeypatch.setitem(row, "upper", "75 lbf·in")
    said = told(shop, capsys, "T6-P-0310")
    assert "T6-P-0310 A: A-0001 (open)" in said
    assert "75 lbf·in" in said
    monkeypatch.setitem(row, "upper", "55 lbf·in")
    assert "cannot be worked out with today's lists and tables" in told(shop, capsys)


def test_a_process_whose_text_changed_is_told_apart(shop, capsys):
    assert issue(shop, "T6-P-0120", "0001") == 0
    revise(shop)
    said = told(shop, capsys, code=0)
    assert "0 of them with other numbers" in said
    assert "T6-P-0120: its text changed since; witnessmark compare T6-P-0120" in said


def test_other_processes_are_left_out_where_one_is_named(shop, capsys):
    assert issue(shop, "T6-P-0120", "0001") == 0
    assert "0 issued travellers" in told(shop, capsys, "T6-P-0310", code=0)


def test_without_a_record_there_is_nothing_to_recall(tmp_path, capsys):
    assert run(tmp_path, "affected") == 2
