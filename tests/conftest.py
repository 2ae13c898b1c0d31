"""Settings that hold for every test: the same examples every day, and no race with a clock."""

from hypothesis import settings

settings.register_profile("workshop", derandomize=True, deadline=None, database=None)
settings.load_profile("workshop")
