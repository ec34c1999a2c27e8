"""The structure of the house: who imports whom, and where the kernel is known."""

import ast
import os
import re
import subprocess
import sys
from functools import cache
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

from countersunk import shared
from countersunk.model.kinds.constructions import CONSTRUCTIONS

ROOT = shared.FOLDER.parent
MAY_IMPORT = {
    "shared": set(),
    "model": {"shared"},
    "takeoff": {"shared", "model"},
    "viewer": {"shared", "model", "takeoff"},
}
KERNEL = {"manifold3d": {"model/geometry/solids.py"}}
DICTIONARIES = [
    path
    for package in ("model", "takeoff", "viewer")
    for path in (ROOT / package).rglob("__init__.py")
    if "node_modules" not in path.parts
]


@cache
def parsed(path):
    return ast.parse(path.read_text())


@cache
def modules_imported(path):
    """Every module that a file imports; of ``from a import b`` the name ``a.b``, be it a module or not."""
    return tuple(_imported(path))


def _imported(path):
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def imports_of(path):
    """The top-level packages that a file imports."""
    return {name.split(".")[0] for name in modules_imported(path)}


def ours_in(path):
    """What a file imports of ours, as steps: ``("model", "tops", "joins", "Join")``."""
    return {tuple(name.split(".")[1:]) for name in modules_imported(path) if name.startswith("countersunk.")}


def sources(package):
    return [p for p in (ROOT / package).rglob("*.py") if "node_modules" not in p.parts]


def home(path_or_steps):
    """The package on the first floor that a module lies in, or the module itself where it stands beside them."""
    steps = path_or_steps
    if isinstance(steps, Path):
        steps = steps.relative_to(ROOT).with_suffix("").parts
    return ".".join(step for step in steps[:2] if step != "__init__")


@pytest.mark.parametrize("package", MAY_IMPORT)
def test_packages_import_in_one_direction_only(package):
    files = sources(package)
    assert files
    for path in files:
        assert {steps[0] for steps in ours_in(path)} <= MAY_IMPORT[package] | {package}, path


@pytest.mark.parametrize("package", MAY_IMPORT)
def test_nobody_imports_a_package_by_another_name_than_ours(package):
    for path in [*sources(package), *sources("tests"), *sources("countersunk")]:
        assert not imports_of(path) & set(MAY_IMPORT), path


def test_no_package_imports_one_that_imports_it():
    arrows = {}
    for package in ("model", "takeoff", "viewer"):
        for path in sources(package):
            arrows.setdefault(home(path), set()).update(home(steps) for steps in ours_in(path))
    graph = {package: reached - {package} for package, reached in arrows.items()}
    assert len(graph) > 20
    list(TopologicalSorter(graph).static_order())  # raises CycleError with the packages that import each other


def test_nothing_is_counted_by_what_was_found_of_it():
    """What takeoff and checks both ask of a kitchen is in `model.facts`."""
    asking = {
        str(p.relative_to(ROOT)) for p in sources("takeoff") for ours in ours_in(p) if ours[1:2] == ("checks",)
    }
    assert asking == set()


@pytest.mark.parametrize(("kernel", "allowed"), KERNEL.items())
def test_only_the_seam_knows_the_kernel(kernel, allowed):
    knowing = {
        str(p.relative_to(ROOT)) for package in MAY_IMPORT for p in sources(package) if kernel in imports_of(p)
    }
    assert knowing == allowed


@pytest.mark.parametrize("opening", DICTIONARIES, ids=lambda path: str(path.parent.relative_to(ROOT)))
def test_a_package_opens_with_a_line_for_each_of_its_modules(opening):
    modules = {p.stem for p in opening.parent.glob("*.py")} | {p.parent.name for p in opening.parent.glob("*/*.py")}
    words = ast.get_docstring(parsed(opening)) or ""
    lines = re.findall(r"(?:^|\s\s)([a-z_0-9]+(?:, [a-z_0-9]+)*)/?\s\s+\S", words, re.M)
    listed = [name for names in lines for name in names.split(", ")]
    assert sorted(listed) == sorted(modules - {"__init__"})


def test_the_top_level_holds_what_was_agreed():
    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False).stdout
    if not tracked:
        pytest.skip("not a git checkout")
    top = {Path(line).parts[0] for line in tracked.splitlines()}
    agreed = (
        {"README.md", "DEVELOPERS.md", "pyproject.toml", "constraints.txt"}
        | set(MAY_IMPORT)
        | {"countersunk", "tests", ".ci"}
    )
    assert {name for name in top if not name.startswith(".")} <= agreed


def test_the_model_opens_without_the_viewer_and_its_libraries():
    unwanted = {"streamlit", "pyvista", "vtk", "countersunk.viewer"}
    code = f"import countersunk.model.kitchen, sys; assert not {unwanted} & set(sys.modules)"
    subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=True)


def test_a_users_own_model_py_beside_a_script_is_no_matter(tmp_path):
    (tmp_path / "model.py").write_text("raise SystemExit('the user\\'s own')")
    (tmp_path / "script.py").write_text("from countersunk.model.kitchen import build\nprint(build.__module__)")
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [sys.executable, tmp_path / "script.py"], env=environment, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "countersunk.model.kitchen"


def names_of_constructions(tree):
    """Lines that ask for the name of a construction, except to look it up in a table, or that list such names."""
    looked_up = {id(node.slice) for node in ast.walk(tree) if isinstance(node, ast.Subscript)}
    for node in ast.walk(tree):
        asked = isinstance(node, ast.Attribute) and node.attr == "construction" and id(node) not in looked_up
        words = [n.value for n in getattr(node, "elts", []) if isinstance(n, ast.Constant)]
        if asked or (len(words) > 1 and set(words) <= set(CONSTRUCTIONS)):
            yield node.lineno


@pytest.mark.parametrize(
    ("source", "lines"),
    [
        ('unit.family.construction == "box"', 1),
        ("family.construction not in STAYS", 1),
        ('STAYS = ("filler", "panel", "open-end")', 1),
        ("kind = family.construction", 1),
        ("CONSTRUCTIONS[self.construction]", 0),
        ('("oven", "microwave")', 0),  # bays
    ],
)
def test_a_line_that_asks_a_construction_for_its_name_is_seen(source, lines):
    assert len(list(names_of_constructions(ast.parse(source)))) == lines


def test_nobody_compares_the_name_of_a_construction_outside_the_kinds():
    files = [path for package in ("model", "takeoff", "viewer") for path in sources(package)]
    asking = {str(path.relative_to(ROOT)): list(names_of_constructions(parsed(path))) for path in files}
    assert {name: lines for name, lines in asking.items() if lines and not name.startswith("model/kinds/")} == {}


NO_IDS = {
    "model/kinds/__init__.py": "a code of the catalogue, which names its kind first",
    "model/kinds/appliances.py": "a code of the catalogue",
    "model/checks/registry.py": "the name of a Python module",
    "model/cures/move.py": "the path of a field in a document",
    "model/survey/blunders.py": "the path of a field in a document",
    "takeoff/plans/cut_lists.py": "the decimals of a number",
    "viewer/app/places/grid.py": "the path of a field in a document",
    "viewer/app/way.py": "the place and the view that the address of a page names",
    "viewer/drawing/lettering.py": "the decimals of a number",
}
"""Modules that take a text apart at its dots, and what text: none is an id, a key or a mark."""

CUTS = {"split", "rsplit", "partition", "rpartition", "removeprefix", "removesuffix", "startswith", "endswith"}


def takes_apart(tree):
    """Whether a module takes a text apart at dots, or looks for a text with a dot at its ends."""
    calls = (n for n in ast.walk(tree) if isinstance(n, ast.Call) and isinstance(n.func, ast.Attribute))
    texts = (node for call in calls if call.func.attr in CUTS for arg in call.args for node in ast.walk(arg))
    words = [n.value for n in texts if isinstance(n, ast.Constant) and isinstance(n.value, str)]
    return any("." in word for word in words)


def test_no_id_is_taken_apart():
    found = {
        str(path.relative_to(ROOT))
        for package in ("model", "takeoff", "viewer")
        for path in sources(package)
        if takes_apart(parsed(path))
    }
    assert found <= set(NO_IDS)


def test_a_text_that_is_taken_apart_is_seen():
    assert takes_apart(ast.parse("part.id.split('.')[0]"))
    assert takes_apart(ast.parse("mark.id.startswith(f'{cutout.id}.')"))
    assert not takes_apart(ast.parse("corner.split('-')"))


def test_a_public_noun_has_one_meaning():
    """Every public class is called as no other is: a reader knows what a Plan or a Piece is wherever it stands."""
    homes = {}
    for package in ("model", "takeoff", "viewer"):
        for path in sources(package):
            for node in parsed(path).body:
                if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                    homes.setdefault(node.name, []).append(str(path.relative_to(ROOT)))
    assert len(homes) > 200
    assert {name: paths for name, paths in homes.items() if len(paths) > 1} == {}
