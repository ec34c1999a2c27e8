"""The structure of the house: who imports whom, and where the kernel is known."""

import ast
import doctest
import importlib
import re
import subprocess
import sys
from pathlib import Path

import pytest

from countersunk import shared

ROOT = shared.FOLDER.parent
MAY_IMPORT = {
    "shared": set(),
    "model": {"shared"},
    "takeoff": {"shared", "model"},
    "viewer": {"shared", "model", "takeoff"},
}
KERNEL = {"manifold3d": {"model/geometry/solids.py"}}
DICTIONARIES = [path for package in ("model", "takeoff") for path in (ROOT / package).rglob("__init__.py")]
SHOWN_BY_EXAMPLE = [
    ".".join(path.relative_to(ROOT).with_suffix("").parts)
    for package in MAY_IMPORT
    for path in sorted((ROOT / package).rglob("*.py"))
    if "node_modules" not in path.parts and ">>> " in path.read_text()
]


def imports_of(path):
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            yield from (alias.name.split(".")[0] for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            yield (node.module or "").split(".")[0]


def sources(package):
    return [p for p in (ROOT / package).rglob("*.py") if "node_modules" not in p.parts]


@pytest.mark.parametrize("package", MAY_IMPORT)
def test_packages_import_in_one_direction_only(package):
    ours = set(MAY_IMPORT) | {"tests"}
    files = sources(package)
    assert files
    for path in files:
        assert set(imports_of(path)) & ours <= MAY_IMPORT[package] | {package}, path


@pytest.mark.parametrize(("kernel", "allowed"), KERNEL.items())
def test_only_the_seam_knows_the_kernel(kernel, allowed):
    knowing = {
        str(p.relative_to(ROOT)) for package in MAY_IMPORT for p in sources(package) if kernel in set(imports_of(p))
    }
    assert knowing == allowed


@pytest.mark.parametrize("opening", DICTIONARIES, ids=lambda path: str(path.parent.relative_to(ROOT)))
def test_a_package_opens_with_a_line_for_each_of_its_modules(opening):
    modules = {p.stem for p in opening.parent.glob("*.py")} | {p.parent.name for p in opening.parent.glob("*/*.py")}
    listed = re.findall(
        r"(?:^|\s\s)([a-z_]+)/?\s\s+\S", ast.get_docstring(ast.parse(opening.read_text())) or "", re.M
    )
    assert sorted(listed) == sorted(modules - {"__init__"})


def test_the_top_level_holds_what_was_agreed():
    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False).stdout
    if not tracked:
        pytest.skip("not a git checkout")
    top = {Path(line).parts[0] for line in tracked.splitlines()}
    agreed = (
        {"README.md", "DEVELOPERS.md", "pyproject.toml", "constraints.txt"} | set(MAY_IMPORT) | {"tests", ".ci"}
    )
    assert {name for name in top if not name.startswith(".")} <= agreed


def test_the_model_opens_without_the_viewer_and_its_libraries():
    code = "import countersunk.model.kitchen, sys; assert not {'streamlit', 'pyvista', 'vtk', 'countersunk.viewer'} & set(sys.modules)"
    subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=True)


@pytest.mark.parametrize("name", SHOWN_BY_EXAMPLE)
def test_examples_in_docstrings_are_true(name):
    tried = doctest.testmod(importlib.import_module(name))
    assert tried.attempted
    assert not tried.failed
