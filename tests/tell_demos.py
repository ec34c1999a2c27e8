"""Prints, as JSON, all that is said of every demo, as it lies and turned; and how this process reckons.

For `tests/model/test_instruction_sets.py`, which runs it as processors reckon that lack some instructions.
"""

import json
import math
from hashlib import sha256

import numpy as np

from tests.lanes import some
from tests.moved import told
from tests.specimens import DEMOS, open_kitchen

TURNED = (21.7, 300.0, -40.5)
"""So that no wall lies along an axis, where most figures are whole: degrees and mm."""


def last_bits() -> str:
    """A mark of how sines, their sums and products come out here, to the last bit."""
    angles = [0.0137 * i for i in range(4096)]
    square = np.sin(np.array(angles).reshape(64, 64))
    words = [math.sin(a) + math.exp(-a) + math.atan2(a, 1.3) for a in angles]
    return sha256(repr((words, (square @ square).tolist())).encode()).hexdigest()


def tell() -> dict[str, object]:
    """Everything, by demo."""
    demos = {path.stem: open_kitchen(path).document for path in some(DEMOS, 4)}
    said = {
        f"{name}, {how}": vars(told(document, move))
        for name, document in demos.items()
        for how, move in (("as it lies", None), ("turned", TURNED))
    }
    for one in said.values():
        one["findings"] = [[*place, *found] for place, found in one["findings"].items()]
    return {"last bits": last_bits(), "said": said}


if __name__ == "__main__":
    print(json.dumps(tell()))
