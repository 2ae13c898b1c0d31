"""Acts of two desks that did not know of each other, in; those that cannot both hold, out."""

from __future__ import annotations

import pytest

from generator.record.apart import at_odds
from generator.record.history import Recorded


def act(name: str, after: list[str] | None, **own) -> Recorded:
    """A-001-slip, written after the acts of those names."""
    desk, number, kind = name.split("-")
    tree = own if after is None else {**own, "after": after}
    return Recorded(name, desk, int(number), kind, tree)


def boxes(**words: str) -> dict:
    return {"boxes": {"traveller": {"10": dict(words)}}}


FIRST = act("A-001-result", [], **boxes(gap="0.5"))
KNOWN = ["A-001-result"]


@pytest.mark.parametrize(
    ("one", "other", "says"),
    [
        (("A-002-result", boxes(gap="0.6")), ("B-001-result", boxes(gap="0.7")), "0.6 and 0.7"),
        (("A-002-result", boxes(gap="0.6")), ("B-001-result", boxes(gap="0.6")), ""),
        (("A-002-result", boxes(gap="0.6")), ("B-001-result", boxes(size="0.7")), ""),
        (("A-002-result", boxes(gap="0.6")), ("B-001-result", boxes(gap="")), ""),
        (("A-002-close", {}), ("B-001-slip", {"slip": "NC-B-0001"}), "close was recorded"),
        (("A-002-slip", {}), ("B-001-withdraw", {}), "withdraw was recorded"),
        (("A-002-close", {}), ("B-001-attach", {}), ""),
        (("A-002-dispose", {"slip": "X", "decision": "use"}),
         ("B-001-dispose", {"slip": "X", "decision": "scrap"}), "two of 'dispose'"),
        (("A-002-dispose", {"slip": "X", "decision": "use"}),
         ("B-001-dispose", {"slip": "X", "decision": "use"}), ""),
        (("A-002-dispose", {"slip": "X"}), ("B-001-dispose", {"slip": "Y"}), ""),
        (("A-002-dispose", {"slip": "X", "rework": "R1"}), ("B-001-result", boxes(gap="1")),
         "rework was decided"),
        (("A-002-dispose", {"slip": "X", "rework": "R1", "operations": ["10"], "void": ["30"]}),
         ("B-001-dispose", {"slip": "Y", "rework": "R1B", "operations": ["30"]}), "30 is done again"),
        (("A-002-dispose", {"slip": "X", "rework": "R1", "operations": ["10"], "void": ["30"]}),
         ("B-001-dispose", {"slip": "Y", "rework": "R1B", "operations": ["20"]}), ""),
        (("A-002-decide", {"revision": "B", "decision": "finish"}),
         ("B-001-decide", {"revision": "B", "decision": "adopt"}), "two of"),
        (("A-002-decide", {"revision": "B", "operations": ["10"]}), ("B-001-result", boxes(gap="1")),
         "operation 10 is entered"),
        (("A-002-fit", {"part serial": "1", "position": "left"}),
         ("B-001-fit", {"part serial": "1", "position": "right"}), "two of 'fit'"),
        # One box in two writings; ticks told by what is not ticked.
        (("A-002-result", boxes(gap="0.6")), ("B-001-result", boxes(gap=["0.7"])), "0.6 and"),
        (("A-002-result", boxes(gap="0.6")), ("B-001-result", boxes(gap=["0.6"])), ""),
        (("A-002-result", boxes(ticks="all")), ("B-001-result", boxes(ticks={"not": ["30"]})), "all"),
        (("A-002-result", boxes(gap={"a": "1", "b": ""})),
         ("B-001-result", boxes(gap={"a": "", "b": "2"})), ""),
    ],
)  # fmt: skip
def test_two_acts_apart(one, other, says):
    acts = [FIRST, act(one[0], KNOWN, **one[1]), act(other[0], KNOWN, **other[1])]
    found = [(a.path, b.path, words) for a, b, words in at_odds(acts)]
    assert [(a, b) for a, b, _ in found] == ([(one[0], other[0])] if says else [])
    assert all(says in words for _, _, words in found)


def test_acts_one_after_the_other_are_never_at_odds():
    acts = [FIRST, act("A-002-close", KNOWN), act("B-001-slip", ["A-002-close"])]
    assert not list(at_odds(acts))


def test_acts_that_do_not_say_what_they_came_after_are_left_to_their_days():
    assert not list(at_odds([act("A-001-close", None), act("B-001-slip", None)]))


def test_a_later_act_that_knows_both_settles_it():
    apart = [
        FIRST,
        act("A-002-result", KNOWN, **boxes(gap="0.6")),
        act("B-001-result", KNOWN, **boxes(gap="0.7")),
    ]
    both = ["A-002-result", "B-001-result"]
    assert list(at_odds(apart))
    assert list(at_odds([*apart, act("A-003-result", both, **boxes(size="1"))]))
    assert list(at_odds([*apart, act("A-003-result", both[:1], **boxes(gap="0.7"))]))
    assert not list(at_odds([*apart, act("A-003-result", both, **boxes(gap="0.7"))]))
    assert not list(at_odds([*apart, act("A-003-withdraw", both)]))
