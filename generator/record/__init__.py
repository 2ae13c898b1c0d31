"""What it took to print a traveller, in; its serial, its frozen folder and its commit, out."""

from generator.record.git import head_commit, is_clean
from generator.record.issue import Issued, recover, take

__all__ = ["Issued", "head_commit", "is_clean", "recover", "take"]
