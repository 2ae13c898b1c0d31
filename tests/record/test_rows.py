"""What the registers say of one traveller is told by its rows alone, and which ones are open by the
names of their acts."""

from __future__ import annotations

from pathlib import Path

from generator.record.history import all_serials, open_serials, traveller
from generator.record.sound import by_traveller, registered

SUM = "a" * 64
ROWS = (
    "output/issued/A-0001/sums.txt",
    "output/issued/A-00010/sums.txt",  # no serial of ours is written so, and none may be confused
    "output/issued/A-10001/sums.txt",
    "output/completed/A-0001/A-001-result.yaml",
    "output/completed/A-0002/A-0001/form.yaml",  # the name of another in a path below
    "output/processes/A-0001/A-001-approve.yaml",
    "output/issued/B-0001/sums.txt",
)


def test_rows_of_one_traveller(tmp_path: Path) -> None:
    output = tmp_path / "output"
    output.mkdir()
    torn = f"{SUM}  output/issued/A-0001/torn"  # a last row without its end is no row
    rows = "".join(f"{SUM}  {path}\n" for path in ROWS) + torn
    (output / "register-A.txt").write_text(rows, encoding="utf-8")
    (output / "register-B.txt").write_text(f"{SUM}  output/completed/A-0001/B-001-slip.yaml\n")
    assert registered(tmp_path, "A-0001") == {
        ROWS[0]: SUM,
        ROWS[3]: SUM,
        "output/completed/A-0001/B-001-slip.yaml": SUM,
    }
    each = by_traveller(tmp_path)
    assert {serial: registered(tmp_path, serial) for serial in each} == each
    assert registered(tmp_path) == {
        path: told for rows in each.values() for path, told in rows.items()
    }


SLIP = "slip: NC-A-0001\noperation: '10'\nsays: Bent.\n"


def test_the_open_ones_are_those_whose_status_is_open(tmp_path: Path) -> None:
    kinds = ("", "result", "close", "withdraw", "replace", "void", "slip", "closed")
    for number, kind in enumerate(kinds, start=1):
        serial = f"A-{number:04d}"
        (tmp_path / "output/issued" / serial).mkdir(parents=True)
        (tmp_path / "output/issued" / serial / "sums.txt").touch()  # an empty folder is a lost one
        place = tmp_path / "output/completed" / serial
        place.mkdir(parents=True)
        if kind:
            told = f"act: {kind}\ntraveller: {serial}\non: '2026-11-26'\nby: LQ1\nafter: []\n"
            told += {"result": "boxes: {}\n", "slip": SLIP}.get(kind, "")
            (place / f"A-001-{kind}.yaml").write_text(told, encoding="utf-8")
    wanted = [s for s in all_serials(tmp_path) if traveller(tmp_path, s).status == "open"]
    rows = {
        serial: [each.path for each in traveller(tmp_path, serial).acts]
        for serial in all_serials(tmp_path)
    }
    assert open_serials(tmp_path, rows) == wanted == ["A-0001", "A-0002", "A-0007", "A-0008"]


def test_what_no_register_names_ends_nothing_and_what_one_names_is_never_left_out(tmp_path: Path):
    (tmp_path / "output/issued/A-0001").mkdir(parents=True)
    (tmp_path / "output/completed/A-0001").mkdir(parents=True)
    (tmp_path / "output/completed/A-0001/A-001-close.yaml").touch()
    rows = {"B-0002": ["output/issued/B-0002/sums.txt"], "B-10000": []}
    assert open_serials(tmp_path, rows) == ["A-0001", "B-0002", "B-10000"]
