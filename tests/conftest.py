"""What holds for every test."""

import os

from hypothesis import settings

# Time is measured in tests/benchmarks and never judged here. Every run draws the same examples, so that a failure
# is somebody's change; who asks for another number of them gets others.
settings.register_profile("ours", deadline=None, derandomize="COUNTERSUNK_EXAMPLES" not in os.environ)
settings.load_profile("ours")
