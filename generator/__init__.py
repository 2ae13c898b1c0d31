"""witnessmark: a written process in, numbered paper for the workshop out."""

__version__ = "0.2.0"
