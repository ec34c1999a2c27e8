"""Countersunk as a library: its public names, its one total, and solids for other programs."""

import io
import json
import re
import shutil
from importlib import import_module
from pathlib import Path

import pytest
import trimesh
from click.testing import CliRunner

import countersunk
from countersunk import shared
from countersunk.model.geometry.meshes import FORMATS, meshes_file
from countersunk.viewer.app.reading import laid_out
from countersunk.viewer.commands.main import main
from tests.specimens import document

ROUNDED = 1e-6
"""Relative: what single precision, in which these files are written, leaves of a volume."""

DOORS_OF_STRAIGHT = 4
"""Before sink, dishwasher and base unit, and that of the larder; the refrigerator has fronts of its own."""


@pytest.fixture(scope="module")
def straight():
    return countersunk.open_kitchen("straight")


def test_every_public_name_is_what_its_home_calls_it():
    assert sorted(countersunk.HOMES) == sorted(countersunk.__all__)
    for name, home in countersunk.HOMES.items():
        module, _, own = home.partition(":")
        assert getattr(countersunk, name) is getattr(import_module(f"countersunk.{module}"), own or name)


@pytest.mark.parametrize("name", ["open_kitchen", "build", "check", "take_off", "plan", "quote", "draw", "scene"])
def test_what_the_library_is_called_for_shows_an_example_that_runs(name):
    assert ">>> " in getattr(countersunk, name).__doc__  # tests/test_structure.py runs them


def test_an_unknown_name_says_which_there_are():
    with pytest.raises(AttributeError, match="it has Asked, Catalogue"):
        countersunk.kitchen_of  # noqa: B018


def test_library_command_and_app_give_one_total(straight):
    """The same kitchen by all three ways: the money of every line and the totals."""
    taken = countersunk.take_off(straight)
    said = CliRunner().invoke(main, ["takeoff", "straight", "--json"])
    totals = json.loads(said.stdout)["totals"]
    assert totals["gross"] == f"{taken.totals.gross:.2f}"
    assert laid_out(straight.document).takeoff.totals == taken.totals
    assert not taken.is_estimate
    assert not json.loads(said.stdout)["estimate"]


def test_an_estimate_says_that_it_is_one(straight):
    assert countersunk.estimate(straight).is_estimate


@pytest.mark.slow
def test_the_guides_ten_lines_count_the_doors_of_fifty_files(tmp_path, monkeypatch, capsys):
    """The straight demo has doors that can be counted in its picture; fifty copies have fifty times as many."""
    guide = (Path(__file__).parents[1] / "DEVELOPERS.md").read_text(encoding="utf-8")
    [lines] = re.findall(r"<!-- library -->\n```python\n(.*?)```", guide, re.S)
    assert len([line for line in lines.splitlines() if line.strip()]) <= 10
    (tmp_path / "jobs").mkdir()
    for i in range(50):
        shutil.copy(shared.KITCHENS / "straight.yaml", tmp_path / "jobs" / f"{i:02}.yaml")
    monkeypatch.chdir(tmp_path)
    exec(compile(lines, "DEVELOPERS.md", "exec"), {})
    said = f"{50 * DOORS_OF_STRAIGHT} doors in 50 kitchens; 00.yaml has the most, {DOORS_OF_STRAIGHT}\n"
    assert capsys.readouterr().out == said


def test_a_document_made_in_python_is_built():
    kitchen = countersunk.build(document())
    assert [unit.name for unit in kitchen.units] == ["A1", "A2", "A3"]


def test_the_mesh_of_a_part_is_its_solid(straight):
    for part in straight.parts:
        mesh = part.mesh()
        assert mesh.is_volume, part.id
        assert mesh.volume == pytest.approx(countersunk_volume(part), rel=1e-9), part.id


def countersunk_volume(part):
    """By the formula for what has no section: area × thickness less its pockets; else by the kernel."""
    from countersunk.model.geometry.solids import volume

    return part.area * part.thickness if part.section is None and not part.pockets else volume(part)


@pytest.mark.parametrize("kind", FORMATS)
def test_another_library_reads_the_same_solids_back(straight, kind):
    """trimesh reads back what it wrote: the formats themselves are published (STL, OBJ, PLY, 3MF Core)."""
    read = trimesh.load_scene(io.BytesIO(meshes_file(straight.parts, kind)), file_type=kind)
    volume = sum(part.mesh().volume for part in straight.parts)
    assert sum(mesh.volume for mesh in read.dump()) == pytest.approx(volume, rel=ROUNDED)
    box = trimesh.Scene([part.mesh() for part in straight.parts]).bounds
    assert read.bounds == pytest.approx(box, abs=1e-3)


def test_3mf_names_every_part_and_its_unit(straight):
    read = trimesh.load_scene(io.BytesIO(meshes_file(straight.parts, "3mf")), file_type="3mf")
    assert len(read.geometry) == len(straight.parts)
    assert read.units == "millimeter"


def test_build_writes_meshes_that_were_asked_for(tmp_path):
    done = CliRunner().invoke(
        main, ["build", "straight", "--out", str(tmp_path), "--no-stills", "--mesh", "stl", "--mesh", "3mf"]
    )
    assert done.exit_code == 0, done.output
    assert {"kitchen.stl", "kitchen.3mf", "kitchen.glb"} <= {path.name for path in tmp_path.iterdir()}
