"""What it took to print a traveller, or what came back from the floor, in; files that are only ever
added to, a register and a commit, out."""

from generator.record.act import Act
from generator.record.desk import Desk
from generator.record.files import text_of, tree_from, tree_of
from generator.record.git import head_commit, is_clean
from generator.record.history import Traveller, traveller
from generator.record.issue import Issued, take
from generator.record.recording import perform, recover

__all__ = [
    "Act", "Desk", "Issued", "Traveller", "head_commit", "is_clean", "perform", "recover", "take",
    "text_of", "traveller", "tree_from", "tree_of",
]  # fmt: skip
