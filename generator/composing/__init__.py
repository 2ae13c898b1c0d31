"""The parts of a sheet: texts, readings, ready answers, each from a process to Markdown."""
