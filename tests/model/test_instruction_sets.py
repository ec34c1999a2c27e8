"""Processors differ in the last bits that they reckon; what is found, made and counted must not.

The same programs are run twice: as this processor can, and as one of 2008 would, without fused multiplication and
wide registers: in the mathematics of C (glibc), in numpy and in the linear algebra below it. Each has a variable of
its own for that; where one is not known, such as on another system, it is passed over.
"""

import json
import os
import subprocess
import sys

import numpy as np
import pytest

from countersunk import shared

pytestmark = pytest.mark.slow

OLDER = {
    "GLIBC_TUNABLES": "glibc.cpu.hwcaps=-AVX2,-FMA,-FMA4",
    "NPY_DISABLE_CPU_FEATURES": "X86_V3 X86_V4",
    "OPENBLAS_CORETYPE": "Nehalem",
}


def said(**setting):
    """What is said of every demo by a process with other variables."""
    clean = {name: value for name, value in os.environ.items() if name not in OLDER}
    run = subprocess.run(
        [sys.executable, "-W", "ignore::ImportWarning", "-m", "tests.tell_demos"],
        env={**clean, **setting}, cwd=shared.FOLDER.parent, capture_output=True, check=True, text=True,
    )  # fmt: skip
    return json.loads(run.stdout)


@pytest.fixture(scope="module")
def both():
    return said(), said(**OLDER)


def test_another_instruction_set_says_the_same(both):
    newer, older = (one["said"] for one in both)
    assert newer.keys() == older.keys()
    for demo, ours in newer.items():
        for part, there in ours.items():
            assert older[demo][part] == there, (demo, part)


def test_the_other_instruction_set_is_another(both):
    features = np._core._multiarray_umath.__cpu_features__
    if not features.get("AVX2"):
        pytest.skip("this processor has no newer instructions to leave out")
    newer, older = both
    assert newer["last bits"] != older["last bits"]
