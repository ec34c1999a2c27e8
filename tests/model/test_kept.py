"""What is kept between edits: a kitchen built with it is the same as one that is built from nothing."""

from random import Random

import pytest

from countersunk.model import checks
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.geometry import solids
from countersunk.model.kept import forget
from countersunk.model.kitchen import build
from countersunk.viewer.scene.scene import scene
from tests.lanes import examples
from tests.specimens import demo

pytestmark = pytest.mark.quick

EDITS = examples(large=2_000, default=3)
DEMOS = ("straight", "galley", "corner", "island", "studio")


def seen(document):
    """All that is shown of a kitchen, or why it is not built."""
    try:
        kitchen = build(document)
    except InputError as error:
        return str(error)
    return scene(kitchen).glb, checks.as_json(checks.check(kitchen)), kitchen.lengths, kitchen.joins


def edit(luck, document):
    """One field with another value."""
    run = luck.randrange(len(document.runs))
    unit = luck.randrange(len(document.runs[run].units))
    wall = luck.randrange(len(document.room.walls))
    width = document.runs[run].units[unit].width or 600.0
    field, value = luck.choice(
        [
            (f"runs[{run}].units[{unit}].width", luck.choice([300.0, 500.0, 600.0, width + luck.randint(-20, 20)])),
            (f"runs[{run}].units[{unit}].hand", luck.choice(["left", "right"])),
            (f"runs[{run}].start", (document.runs[run].start or 0.0) + luck.randint(0, 60)),
            (f"room.walls[{wall}].length", document.room.walls[wall].length + luck.randint(-3, 3)),
            ("fronts.decor", luck.choice(["chalk", "sage", "fen-oak", "pale-oak"])),
            ("worktop.overhang.front", float(luck.randint(10, 40))),
            ("note", f"{luck.random()}"),
        ]
    )
    return edited(document, {field: value})


def test_a_kitchen_after_many_edits_is_one_that_is_built_from_nothing():
    luck = Random(20)
    for start in range(0, EDITS, 20):
        document = demo(DEMOS[start // 20 % len(DEMOS)]).document
        for _ in range(min(20, EDITS - start)):
            try:
                other = edit(luck, document)
            except InputError:
                continue
            warm = seen(other)
            forget()
            assert warm == seen(other)
            if not isinstance(warm, str):
                document = other


def test_another_decor_makes_no_solid_again():
    kitchen = demo("straight")
    scene(kitchen)
    made = solids._shape.cache_info().misses
    other = build(edited(kitchen.document, {"fronts.decor": "sage"}))
    assert other.front_decors != kitchen.front_decors
    scene(other)
    assert solids._shape.cache_info().misses == made
