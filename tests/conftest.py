"""What holds for every test."""

from hypothesis import settings

settings.register_profile("untimed", deadline=None)  # time is measured in tests/benchmarks, never judged here
settings.load_profile("untimed")
