"""A box that holds a sign alone, in; that it names nothing of the workshop, out."""

from __future__ import annotations

import pytest

from generator.results.judge_stores import batches
from tests.commands.conftest import copied
from tests.commands.conftest import issued_shop as issued_shop  # the fixture
from tests.commands.test_slips import close, entered
from tests.results.judging import SOUND, T, codes
from tests.results.test_judge_stores import KNOWN, SHEET, told, words

SIGNS = ["&", "+", ",", ";", "&,", "-"]
BOX = (T, "10", "micrometer no.", "")


@pytest.mark.parametrize("sign", SIGNS)
def test_a_sign_alone_is_no_instrument(sign):
    assert ("instrument", "10") not in codes({BOX: SOUND[BOX]})
    assert ("instrument", "10") in codes({BOX: sign})


@pytest.mark.parametrize("sign", SIGNS)
@pytest.mark.parametrize("item", [SHEET, "jointing compound"])
def test_a_sign_alone_is_no_batch(sign, item):
    """Of the second item the list of materials has nothing."""
    batch = words("kit-list", f"1 {item}", "batch")
    ((says, blocks),) = told(batches, batch, sign, batches=KNOWN)
    right = "read the label again, or N/A with its reason"
    assert (says, blocks) == (f"'{sign}' names no batch: {right}", True)


def test_a_traveller_with_signs_for_what_was_used_is_not_closed(issued_shop, tmp_path, capsys):
    folder = copied(issued_shop, tmp_path)
    entered(folder, {"10 micrometer no.": "&", "feature 1: micrometer no.": ",",
                     "10 sign done: slip no.": "+"})  # fmt: skip
    assert close(folder) == 1
    found = capsys.readouterr().err
    assert "operation 10, micrometer no.: instrument: the workshop has no instrument &\n" in found
    assert "the workshop has no instrument ,\n" in found
    assert "sign done: slip: + is no slip of A-0001\n" in found
