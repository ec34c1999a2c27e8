"""An independent validator of the format finds nothing at fault in any demo kitchen's file."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import pytest

from countersunk.viewer.scene.scene import scene
from tests.npm import ENVIRONMENT, installed
from tests.specimens import CORNER_DEMO, SOME_DEMOS, open_kitchen

CHECK = Path(__file__).parent.parent / "gltf"


@pytest.fixture(scope="session")
def validate(tmp_path_factory):
    """A function from paths to the validator's reports; installed once, with the Node of the environment."""
    folder = installed(CHECK, tmp_path_factory.mktemp("gltf-check"))

    def run(paths):
        command = ["node", "validate.mjs", *map(str, paths)]
        done = subprocess.run(command, cwd=folder, env=ENVIRONMENT, check=True, capture_output=True, timeout=120)
        return json.loads(done.stdout)

    return run


@pytest.mark.slow
def test_every_demo_is_valid(validate, tmp_path):
    assert SOME_DEMOS
    paths = [tmp_path / f"{demo.stem}.glb" for demo in SOME_DEMOS]
    for demo, path in zip(SOME_DEMOS, paths, strict=True):
        path.write_bytes(scene(open_kitchen(demo)).glb)
    for path, report in zip(paths, validate(paths), strict=True):
        issues = report["issues"]
        counts = {key: issues[key] for key in ("numErrors", "numWarnings", "numInfos", "numHints")}
        assert set(counts.values()) == {0}, f"{path.name}: {issues['messages'][:5]}"
        assert report["info"]["version"] == "2.0"


def test_the_validator_does_find_faults(validate, tmp_path):
    """Nothing found must mean nothing there."""
    good = scene(open_kitchen(CORNER_DEMO)).glb
    broken = tmp_path / "broken.glb"
    broken.write_bytes(good.replace(b'"NORMAL"', b'"NORMAX"'))
    assert validate([broken])[0]["issues"]["numErrors"] > 0


@pytest.mark.parametrize("folder", ["gltf", "axe"])
def test_the_lock_file_names_no_registry(folder):
    lock = json.loads((CHECK.parent / folder / "package-lock.json").read_text())
    assert all("resolved" not in package for package in lock["packages"].values())
