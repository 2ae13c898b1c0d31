"""Names and lines, in; what the pure part of the register makes of them, out."""

from __future__ import annotations

import subprocess

import pytest

from generator.findings import Refusal
from generator.record import register


def test_a_line_is_what_sha256sum_writes(tmp_path):
    (tmp_path / "a").mkdir()
    (tmp_path / "a" / "b.txt").write_bytes(b"hold\n")
    wrote = subprocess.run(["sha256sum", "a/b.txt"], cwd=tmp_path, capture_output=True, check=True)
    assert register.line("a/b.txt", b"hold\n").encode() == wrote.stdout


def test_serials_and_numbers_are_each_others_inverse():
    for number, serial in ((1, "B-0001"), (9999, "B-9999"), (10000, "B-10000")):
        assert register.serial_of("B", number) == serial
        assert register.number_of("B", serial) == number
        assert register.number_of("A", serial) == 0


@pytest.mark.parametrize("name", ["B-1", "b-0001", "B-0001x", ".new-B-0001", "B-000x", "B-0001\n"])
def test_what_is_no_serial_has_no_number(name):
    assert register.number_of("B", name) == 0


def test_only_whole_lines_of_issued_travellers_of_the_desk_count():
    mark = "0" * 64
    lines = [
        f"{mark}  output/issued/A-0003/sums.txt\n",
        f"{mark}  output/issued/B-0009/sums.txt\n",
        f"{mark}  output/issued/A-0005/x\n",
        f"{mark}  output/completed/A-0008/result.yaml\n",
        f"{mark}  output/issued/A-0012/sums.t",
    ]
    assert register.last("".join(lines).encode(), "A") == 3


@pytest.mark.parametrize("torn", range(14))
def test_a_torn_end_is_cut_back_and_written_whole(tmp_path, torn):
    file = tmp_path / "register-A.txt"
    file.write_bytes(b"one\n" + b"two\nthree\n"[:torn])
    register.append(file, b"one\n", b"two\nthree\n")
    assert file.read_bytes() == b"one\ntwo\nthree\n"


@pytest.mark.parametrize(
    "standing", [b"", b"on", b"One\n", b"one\ntwX", b"one\ntwo\nthree\nfour\n"]
)
def test_a_register_changed_by_hand_is_never_written_over(tmp_path, standing):
    file = tmp_path / "register-A.txt"
    file.write_bytes(standing)
    with pytest.raises(Refusal, match="not what git holds"):
        register.append(file, b"one\n", b"two\nthree\n")
    assert file.read_bytes() == standing


def test_a_tail_that_a_power_cut_left_without_its_bytes_is_ours_and_no_other():
    held, ours = b"one\n", b"second line\n"
    for torn in (b"", b"sec", ours, b"sec\0\0\0", bytes(len(ours)), b"\0\0\0ond\0\0\0\0\0\0"):
        assert register.grown(held + torn, held, ours)
    for other in (b"secret", ours + b"\0", b"\0\0x", ours + b"third\n"):
        assert not register.grown(held + other, held, ours)
    assert not register.grown(b"on\0\n", held, ours)
