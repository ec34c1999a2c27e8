"""Kitchen files that earlier versions could read, kept as they were, with what the version made of each.

A folder is named for a version. In it lie its demo kitchens, byte for byte; ``drawn.jsonl``, random kitchens, one
to a line (JSON is YAML too); and ``results.csv``, see `tests.opens.results`, with a row for each thing that is
compared and a column for each kitchen. The files of a version never change. Its results change only where a
quantity changes on purpose, and the commit says which and why:

    python -m tests.opens keep 0.2.0      keep today's demos and new random kitchens under a version
    python -m tests.opens results 0.1.0   write the results of a version's files again, as they are today
"""

from __future__ import annotations

import json
from pathlib import Path

FOLDER = Path(__file__).parent
VERSIONS = sorted(path.name for path in FOLDER.glob("*.*.*"))
DRAWN = "drawn.jsonl"
RESULTS = "results.csv"


def kept(version: str) -> dict[str, bytes]:
    """The bytes of every kitchen file of a version, by name: the demos first."""
    demos = {path.stem: path.read_bytes() for path in sorted((FOLDER / version).glob("*.yaml"))}
    lines = (FOLDER / version / DRAWN).read_bytes().splitlines()
    return demos | {json.loads(line)["kitchen"]: line for line in lines}
