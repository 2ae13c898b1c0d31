"""The files of a record as text: any plain words come back as they were written, in one form."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as some

from generator.record.files import quick_tree, text_of, tree_of
from generator.signs import strange

WORDS = some.text(
    some.characters(exclude_categories=("Cs",)).filter(lambda sign: strange(sign) is None),
    max_size=40,
)
NAMES = some.text("abcdefgh ijk:#-?", min_size=1, max_size=12).map(lambda words: f"k{words}k")
TREES = some.dictionaries(
    NAMES,
    some.recursive(
        WORDS,
        lambda each: some.lists(each, max_size=4) | some.dictionaries(NAMES, each, max_size=4),
        max_leaves=12,
    ),
    min_size=1,
    max_size=5,
)


@given(tree=TREES)
def test_any_words_come_back_as_they_were_written(tmp_path_factory, tree) -> None:
    file = tmp_path_factory.getbasetemp() / "words.yaml"
    file.write_bytes(text_of(tree))
    assert tree_of(file) == tree
    assert quick_tree(file) == tree


def test_half_a_sign_is_written_as_its_number() -> None:
    """Nothing that is typed holds one; libyaml has no way to write it."""
    assert text_of({"says": "tun \udc80"}) == b'says: "tun \\uDC80"\n'
