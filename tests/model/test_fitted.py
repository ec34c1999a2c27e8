"""Measured again on the fitted units: tops by hand from what was read, what the plan keeps, and what is refused."""

import math

import numpy as np
import pytest
from shapely import get_coordinates

from countersunk.model.checks import check
from countersunk.model.document.keys import names_by_key
from countersunk.model.document.schema import Document
from countersunk.model.edit.arrange import inserted, without_unit
from countersunk.model.edit.edits import edited
from countersunk.model.edit.kitchen_file import uploaded
from countersunk.model.edit.mirror import mirrored
from countersunk.model.errors import InputError
from countersunk.model.fitted.behind import FittedFace
from countersunk.model.fitted.beside import Beside, gap_rows, length_rows
from countersunk.model.fitted.corners import corners_of
from countersunk.model.fitted.named import FittedRuns
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import EdgeCondition
from countersunk.model.kitchen import build
from countersunk.model.tops.scribe import scribes
from tests.lanes import some
from tests.model.cases.table import moved
from tests.model.test_mirror import places
from tests.specimens import DEMOS, demo, document, open_kitchen

DAY = "2026-11-20"


def fitted(**readings):
    """The row of three units in the middle of wall A, 500 to 2100, measured as fitted."""
    return build(document(fitted={"date": DAY, **readings}))


OPEN = ({"name": "A", "length": 3000.0, "corner": 90.0}, {"name": "B", "length": 2400.0})
CLOSED = tuple({"name": n, "length": d, "corner": 90.0} for n, d in zip("ABCD", (3000.0, 2400.0) * 2, strict=True))


def ell(walls=OPEN, **readings):
    """Two runs in a corner of 90 degrees, walls of 3000 and 2400, as worked in the design."""
    doors = {"unit": "base-doors", "width": 600.0}
    a = (doors, doors, doors, {"unit": "base-corner", "width": 1100.0, "hand": "right"})
    b = ({"unit": "filler", "width": 50.0}, doors, doors, {"unit": "base-doors", "width": 500.0})
    return build(
        document(
            room={"walls": walls},
            runs=({"wall": "A", "start": 100.0, "units": a}, {"wall": "B", "start": 650.0, "units": b}),
            worktop={
                "stock": "pf38.600", "decor": "pale-oak", "overhang": {"ends": 0.0},
                "joins": ({"corner": "A-B", "female": "A", "notch": 15.0},),
            },
            **({"fitted": {"date": DAY, **readings}} if readings else {}),
        )
    )  # fmt: skip


def edge(length, condition):
    return sum(e.length for e in length.part.edges if e.condition is condition)


def male(kitchen):
    """Back and front of the top on wall B, mm."""
    (join,) = kitchen.joins
    length = kitchen.length(join.male)
    back = max(e.length for e in length.part.edges if e.condition is EdgeCondition.WALL)
    return back, edge(length, EdgeCondition.FACTORY)


def test_what_was_not_measured_is_as_planned():
    plan, found = ell(), ell(heights=({"unit": "A1", "height": 870.0},))
    assert male(found) == male(plan) == pytest.approx((1815.0, 1800.0))
    assert [length.part.outline for length in found.lengths] == [length.part.outline for length in plan.lengths]


# Depth d = 600, notch s = 15, corner A = 91.5. The male ends at its back where the line d - s before the female's
# back meets its wall, (d - s) / sin A = 585.2005 from the corner, and at its front d / tan(A / 2) =
# 584.4941 from it.
# On a wall of 2400: 1814.7995 and 1815.5059. The female keeps 3000 less the 100 before its first unit.
# A closed room is the same: the walls without units give way.
@pytest.mark.parametrize("walls", [OPEN, CLOSED], ids=["open", "closed"])
@pytest.mark.parametrize("corner", [{"angle": 91.5}, {"legs": (800.0, 600.0), "length": 1012.4869}])
def test_a_fitted_corner_of_91_and_a_half_degrees(corner, walls):
    kitchen = ell(walls, corners=({"corner": "A-B", **corner},))
    assert male(kitchen) == pytest.approx((1814.7995, 1815.5059), abs=1e-3)
    (join,) = kitchen.joins
    assert join.angle == pytest.approx(91.5, abs=1e-5)
    female = kitchen.length(join.female).part.edges
    assert max(e.length for e in female if e.condition is EdgeCondition.WALL) == pytest.approx(2900.0)


# The tape of that case by the cosine rule: 800² + 600² - 2 * 800 * 600 cos 91.5° = 1 025 129.7, its root 1012.4869.
def test_the_tape_across_a_fitted_corner_is_the_cosine_rule():
    across = math.sqrt(800**2 + 600**2 - 2 * 800 * 600 * math.cos(math.radians(91.5)))
    (reading,) = ell(corners=({"corner": "A-B", "legs": (800.0, 600.0), "length": across},)).fitted.readings
    assert (reading.planned, reading.fitted) == pytest.approx((90.0, 91.5))


# The run was made 1600 and stands 4 longer. Its left end is 500 from a wall and its right 900: it stayed left.
def test_a_run_4_mm_longer_moves_the_end_of_the_top():
    kitchen = fitted(lengths=({"from": "A1", "to": "A3", "length": 1604.0},))
    (top,) = kitchen.lengths
    assert (top.x, top.part.length) == pytest.approx((490.0, 1624.0))
    assert [unit.x for unit in kitchen.units] == pytest.approx([500.0, 902.0, 1504.0])
    (reading,) = kitchen.fitted.readings
    assert (reading.what, reading.planned, reading.fitted) == ("A1 to A3", 1600.0, 1604.0)


# Wall A is 3000. The gap at the right was read 880: the run of 1604 ends at 2120 and begins at 516.
def test_a_gap_read_at_one_end_says_where_the_run_stands():
    kitchen = fitted(
        lengths=({"from": "A1", "to": "A3", "length": 1604.0},),
        gaps=({"unit": "A3", "end": "right", "gap": 880.0},),
    )
    (top,) = kitchen.lengths
    assert (top.x, top.part.length) == pytest.approx((506.0, 1624.0))
    assert [r.planned for r in kitchen.fitted.readings] == [1600.0, 900.0]


# Both gaps and the run make another wall: 500 + 1600 + 890 = 2990.
def test_gaps_at_both_ends_are_the_length_of_the_wall_there():
    kitchen = fitted(
        lengths=({"from": "A1", "to": "A3", "length": 1600.0},),
        gaps=({"unit": "A1", "end": "left", "gap": 500.0}, {"unit": "A3", "end": "right", "gap": 890.0}),
    )
    assert kitchen.survey.wall("A").length == pytest.approx(2990.0, abs=1e-4)
    assert kitchen.planned.survey.wall("A").length == 3000.0


# Fronts meet where their planes do: units stand 2 before the walls and are 578 deep with their fronts, so that is
# 580 before each wall. From the end of A's first unit, 100 along, to there: 3000 - 100 - 580 = 2320 at 90 degrees.
def test_a_length_to_the_inner_corner_is_taken_along_the_fronts():
    (reading,) = ell(lengths=({"from": "A1", "corner": "A-B", "length": 2324.0},)).fitted.readings
    assert reading.planned == pytest.approx(2320.0)
    kitchen = ell(lengths=({"from": "A1", "corner": "A-B", "length": 2324.0},))
    female = kitchen.length(kitchen.joins[0].female)
    assert female.part.length == pytest.approx(2904.0)


# At 91.5 degrees they meet 580 (1 + cos A) / sin A = 580 / tan(A / 2) = 565.0110 from the corner of the walls.
def test_the_inner_corner_of_a_fitted_angle():
    kitchen = ell(
        corners=({"corner": "A-B", "angle": 91.5},), lengths=({"corner": "A-B", "to": "B4", "length": 1820.0},)
    )
    wall = kitchen.survey.wall("B")
    assert kitchen.runs[1].units[-1].right == pytest.approx(1820.0 + 580 / math.tan(math.radians(45.75)))
    assert wall.frame.x == pytest.approx((math.cos(math.radians(-88.5)), math.sin(math.radians(-88.5)), 0.0))


# Units stand 2 before a straight wall. Read 8 in the middle of the row (1300 along), 2 at either end: hollow by 6.
# The top goes from 490 to 2110, its middle at 810; past the ends of the row it is as hollow as there, 0.
def test_a_bowed_wall_read_from_the_carcasses_is_the_scribe():
    rows = [("A1", "left", 2.0), ("A2", "middle", 8.0), ("A3", "right", 2.0)]
    kitchen = fitted(walls=tuple({"unit": u, "side": side, "back": back} for u, side, back in rows))
    (scribe,) = scribes(kitchen.survey, kitchen.lengths)
    assert [x for x, _ in scribe.face] == pytest.approx([0.0, 10.0, 710.0, 1610.0, 1620.0])
    assert [y for _, y in scribe.face] == pytest.approx([0.0, 0.0, -6.0, 0.0, 0.0])
    assert scribe.gap == pytest.approx(6.0)
    (finding,) = [f for f in check(kitchen) if f.rule == "gap-behind-top"]
    assert finding.value == pytest.approx(6.0)


# Read from the fronts, 580 before the wall: 572 there is a bulge of 8, as far as it goes.
def test_a_wall_that_stands_nearer_is_cut_out_of_the_back():
    rows = [("A1", "left", 580.0), ("A2", "middle", 572.0), ("A3", "right", 580.0)]
    kitchen = fitted(walls=tuple({"unit": u, "side": side, "front": front} for u, side, front in rows))
    (scribe,) = scribes(kitchen.survey, kitchen.lengths)
    assert (scribe.gap, scribe.bulge) == pytest.approx((0.0, 8.0))
    # Two triangles, 700 and 900 long and 8 high; A2 is 900 to 1500, its middle 1200.
    assert 1620.0 * 600.0 - kitchen.lengths[0].part.area == pytest.approx(8 * 1600 / 2, abs=0.1)


def test_a_wall_may_be_off_at_its_ends_as_well():
    kitchen = fitted(walls=({"unit": "A1", "back": 7.0},))
    (scribe,) = scribes(kitchen.survey, kitchen.lengths)
    assert [y for _, y in scribe.face] == pytest.approx([-5.0, -5.0, -5.0])


# An end wall that leans: from the end of the run 900 at the backs, 2 before wall A, and 910 at the fronts, 580
# before it: cot = -10 / 578, the corner is 90.991 degrees, and A ends 10 * 2 / 578 nearer than at the backs.
def test_an_end_wall_read_at_back_and_front_leans():
    kitchen = fitted(
        gaps=(
            {"unit": "A3", "end": "right", "gap": 900.0},
            {"unit": "A3", "end": "right", "gap": 910.0, "at": "front"},
        )
    )
    assert kitchen.survey.wall("A").corner == pytest.approx(90.0 + math.degrees(math.atan(10 / 578)), abs=1e-4)


# The filler of 50 takes what its run is longer than made; the cupboards keep their places to each other.
def test_fillers_take_what_a_run_is_longer():
    kitchen = ell(lengths=({"from": "B1", "to": "B4", "length": 1762.0},))
    widths = [b.x - a.x for a, b in zip(kitchen.runs[1].units, kitchen.runs[1].units[1:], strict=False)]
    assert widths[1:] == pytest.approx([600.0, 600.0])


def test_readings_of_the_same_thing_are_weighed_by_their_tolerances():
    # 1604 ± 1 and 1601 ± 2: weights 4 to 1, so 1603.4.
    kitchen = fitted(
        lengths=(
            {"from": "A1", "to": "A3", "length": 1604.0},
            {"from": "A1", "to": "A3", "length": 1601.0, "tolerance": 2.0},
        )
    )
    assert [r.fitted for r in kitchen.fitted.readings] == pytest.approx([1603.4, 1603.4])
    assert [r.redundancy for r in kitchen.fitted.readings] == pytest.approx([0.2, 0.8])


def test_units_that_do_not_add_up_to_their_run_are_refused_with_what_to_measure_again():
    widths = [{"from": f"A{i}", "to": f"A{i}", "length": w} for i, w in ((1, 400.0), (2, 600.0), (3, 600.0))]
    with pytest.raises(InputError) as refused:
        fitted(lengths=({"from": "A1", "to": "A3", "length": 1612.0}, *widths))
    (problem,) = refused.value.problems
    assert problem.found == (
        "A1 to A3 1612 mm; the width of A1 400 mm; the width of A2 600 mm; the width of A3 600 mm: these "
        "contradict each other"
    )
    assert problem.advice.startswith("measure again A1 to A3, or the width of A1, or")


def test_a_second_check_names_the_one_that_is_wrong():
    widths = [{"from": f"A{i}", "to": f"A{i}", "length": w} for i, w in ((1, 400.0), (2, 600.0), (3, 600.0))]
    pairs = ({"from": "A1", "to": "A2", "length": 1000.0}, {"from": "A2", "to": "A3", "length": 1200.0})
    whole = {"from": "A1", "to": "A3", "length": 1600.0}
    with pytest.raises(InputError) as refused:
        fitted(lengths=(whole, *widths[:2], {**widths[2], "length": 609.0}, *pairs))
    (problem,) = refused.value.problems
    assert problem.field == "fitted.lengths[3]"
    assert problem.found == "the width of A3 609 mm, where the others make it 600.0"
    assert problem.advice == "measure again the width of A3"


@pytest.mark.parametrize(
    ("readings", "field", "found"),
    [
        ({"lengths": ({"from": "A1", "to": "A3", "length": 1560.0},)}, "fitted.lengths[0]", "A1 to A3 1560 long"),
        ({"lengths": ({"from": "A3", "to": "A1", "length": 1600.0},)}, "fitted.lengths[0]", "A3 to A1"),
        ({"lengths": ({"from": "A1", "length": 1600.0},)}, "fitted.lengths[0]", "from"),
        ({"lengths": ({"from": "A1", "to": "A9", "length": 1600.0},)}, "fitted.lengths[0].to", "'A9'"),
        ({"gaps": ({"unit": "A2", "end": "left", "gap": 9.0},)}, "fitted.gaps[0]", "the left of A2"),
        ({"corners": ({"corner": "A-B", "angle": 91.0},)}, "fitted.corners[0].corner", "'A-B'"),
        ({"walls": ({"unit": "A1", "back": 1.0, "front": 2.0},)}, "fitted.walls[0]", "both of back and front"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_in_its_field(readings, field, found):
    with pytest.raises(InputError) as refused:
        fitted(**readings)
    (problem,) = refused.value.problems
    assert problem.field == field
    assert problem.found.startswith(found)


def test_a_reading_on_a_unit_that_is_gone_is_told_and_not_used():
    kitchen = fitted(heights=({"unit": "u-99", "height": 870.0}, {"unit": "A1", "height": 871.0}))
    assert kitchen.fitted.gone == ("fitted.heights[0]",)
    assert [r.what for r in kitchen.fitted.readings] == ["the height of A1"]


TOPS = (Role.WORKTOP, Role.UPSTAND, Role.INFILL)


# A's last unit ends at wall B; by a length to the inner corner 120 shorter it would stand 120 in it.
def test_a_run_that_ends_in_a_wall_by_its_readings_is_refused():
    with pytest.raises(InputError) as refused:
        ell(lengths=({"from": "A1", "corner": "A-B", "length": 2200.0},))
    (problem,) = refused.value.problems
    assert problem.found == "A4 120.0 mm in wall B by the readings on the fitted units"
    assert problem.advice == "measure again A1 to the inner corner A-B, or corner A-B"


def carcasses(kitchen):
    """Role, size and board of every part that is no top: what carcasses are cut from."""
    return [(p.mark, p.material, p.length, p.depth, p.thickness) for p in kitchen.parts
            if p.role not in TOPS and p.owner in {u.key for u in kitchen.units}]  # fmt: skip


def test_carcasses_keep_the_plan():
    kitchen = ell(
        corners=({"corner": "A-B", "angle": 91.5},), lengths=({"from": "A1", "to": "A4", "length": 2906.0},)
    )
    assert carcasses(kitchen) == carcasses(kitchen.planned) != []
    assert kitchen.planned.lengths[0].part.length != kitchen.lengths[0].part.length


def measured_as_planned(kitchen):
    """The document with a reading of every kind wherever there is a place for it, each what the plan has there."""
    floor = [run for run in kitchen.runs if run.level == "floor"]
    on = {wall.name: sorted((r for r in floor if r.wall == wall.name), key=lambda r: r.units[0].x)
          for wall in kitchen.survey.walls}  # fmt: skip
    rows = {"lengths": [], "corners": [], "gaps": [], "walls": [], "heights": []}
    for run in floor:
        first, last = run.units[0], run.units[-1]
        rows["lengths"].append({"from": first.key, "to": last.key, "length": last.right - first.x})
        rows["heights"].append({"unit": first.key, "height": first.family.top})
        for unit in run.units if run.wall else ():
            face = kitchen.survey.wall(run.wall).face_at
            rows["walls"].append({"unit": unit.key, "back": run.stand_off - face(unit.x)})
            middle, out = face(unit.x + unit.width / 2), run.stand_off + unit.face
            rows["walls"].append({"unit": unit.key, "side": "middle", "front": out - middle})
    for wall in kitchen.survey.walls:
        before, after = kitchen.survey.previous_wall(wall), kitchen.survey.next_wall(wall)
        if on[wall.name] and after and on[after.name] and 30 < (wall.corner or 0.0) < 170:
            name = f"{wall.name}-{after.name}"
            rows["corners"].append({"corner": name, "angle": wall.corner})
            rows["lengths"].append({"from": on[wall.name][0].units[0].key, "corner": name, "length": 1.0})
            rows["lengths"].append({"corner": name, "to": on[after.name][-1].units[-1].key, "length": 1.0})
        for end, beside, i in (("left", before, 0), ("right", after, -1)):
            if on[wall.name] and beside:
                unit = on[wall.name][i].units[i].key
                rows["gaps"] += [{"unit": unit, "end": end, "gap": 1.0, "at": at} for at in ("back", "front")]
    data = kitchen.document.model_dump(exclude_unset=True)
    rough = Document.model_validate({**data, "fitted": {"date": DAY, **tuples(rows)}})
    angles = {name: corner.angle for name, corner in corners_of(kitchen.survey).items()}
    faces = {wall.name: FittedFace(wall) for wall in kitchen.survey.walls}
    beside = Beside(rough.fitted, kitchen.survey, FittedRuns(kitchen.runs), faces, angles)
    planned = {row.reading.field: row.reading.planned for _, row in (*length_rows(beside), *gap_rows(beside, ()))}
    rows["lengths"] = [{**row, "length": planned[f"fitted.lengths[{i}]"]} for i, row in enumerate(rows["lengths"])]
    rows["gaps"] = [{**row, "gap": max(0.0, planned[f"fitted.gaps[{i}]"])} for i, row in enumerate(rows["gaps"])]
    return Document.model_validate({**data, "fitted": {"date": DAY, **tuples(rows)}})


def tuples(rows):
    return {kind: tuple(some) for kind, some in rows.items() if some}


def numbers(kitchen):
    """Every number of every part."""
    return [
        (p.mark, p.thickness, list(map(tuple, get_coordinates(p.outline))), p.pose.origin,
         [(e.condition, e.length) for e in p.edges])
        for p in kitchen.parts
    ]  # fmt: skip


def flat(value):
    if isinstance(value, tuple | list):
        return [x for each in value for x in flat(each)]
    return [value]


@pytest.mark.parametrize("path", some(DEMOS, 4), ids=lambda path: path.stem)
def test_readings_that_say_what_was_planned_change_nothing(path):
    plan = open_kitchen(path).planned
    kitchen = build(measured_as_planned(plan))
    assert len(kitchen.fitted.readings) > 5
    now, was = flat(numbers(kitchen)), flat(numbers(plan))
    assert [x for x in now if not isinstance(x, float)] == [x for x in was if not isinstance(x, float)]
    assert [x for x in now if isinstance(x, float)] == pytest.approx(
        [x for x in was if isinstance(x, float)], abs=1e-5
    )


def off_the_plan(kitchen):
    """The document measured as fitted, every reading a little off the plan and none against another."""
    document = measured_as_planned(kitchen)
    data = document.model_dump(exclude_unset=True)
    rows = dict(data["fitted"])
    rows["lengths"] = tuple(
        {**row, "length": row["length"] + 2.7} for row in rows["lengths"] if "corner" not in row
    )
    rows["corners"] = tuple({**row, "angle": row["angle"] + 0.8} for row in rows.get("corners", ()))[:1]
    rows["gaps"] = tuple(row for row in rows["gaps"] if row["end"] == "left" and row["at"] == "back")[:1]
    rows["walls"] = tuple({**row, **{key: row[key] + i % 5 for key in ("back", "front") if key in row}}
                          for i, row in enumerate(rows["walls"]))  # fmt: skip
    return Document.model_validate({**data, "fitted": {key: value for key, value in rows.items() if value}})


@pytest.mark.parametrize("path", some(DEMOS, 4), ids=lambda path: path.stem)
@pytest.mark.slow
def test_the_mirrored_kitchen_has_the_mirrored_tops(path):
    document = off_the_plan(open_kitchen(path).planned)
    kitchen = build(document)
    other = build(mirrored(document))
    plan = open_kitchen(path).planned
    here, there = places(kitchen, True), places(other, False)
    for kind, material in {p[:2] for p in here if p[0] in TOPS}:
        a, b = (np.array([p[2:] for p in x if p[:2] == (kind, material)]) for x in (here, there))
        apart = np.abs(a[:, None, :] - b[None, :, :]).max(axis=2)
        assert apart.min(axis=1).max() < 0.01, (kind, material)
    assert any(abs(reading.difference) > 1.0 for reading in kitchen.fitted.readings)
    assert carcasses(kitchen) == carcasses(plan)


def test_a_reading_keeps_its_unit_when_others_come_and_go():
    """The file is written again with keys; a reading on a unit that is taken out stays, to be told."""
    file = uploaded(TEXT.encode(), "kitchen.yaml")
    put_in = inserted(file.document, "runs[0]", 0, {"unit": "base-drawers", "width": 400.0})
    written = file.saying(put_in)
    assert "{unit: A2, height: 871}" not in written.raw.decode()
    names = names_by_key(written.document)
    assert [names[row.unit] for row in written.document.fitted.heights] == ["A3"]
    assert (names[written.document.fitted.lengths[0].start], names[written.document.fitted.lengths[0].to]) == (
        "A2",
        "A4",
    )
    assert "# the tape of the second visit" in written.raw.decode()
    taken_out = written.saying(without_unit(written.document, "runs[0]", 2))
    assert taken_out.document.fitted == written.document.fitted
    with pytest.raises(InputError, match="found A2 to A3 1601 long as fitted; allowed: 996 to 1020"):
        build(taken_out.document)
    heights = edited(taken_out.document, {"fitted.lengths": None})
    assert build(heights).fitted.gone == ("fitted.heights[0]",)


TEXT = """
kitchen: Small
room: {walls: [{name: A, length: 3600, corner: 90}, {name: B, length: 3000}]}
runs:
  - wall: A
    start: 500
    units: [{unit: base-doors, width: 400}, {unit: base-doors, width: 600}, {unit: base-doors, width: 600}]
worktop: {stock: pf38.600, decor: pale-oak}
fronts: {decor: chalk}
fitted:
  date: 2026-11-20
  # the tape of the second visit
  lengths: [{from: A1, to: A3, length: 1601, tolerance: 50}]
  heights: [{unit: A2, height: 871}]
"""


# The first wall's direction is fixed while corners are sought; where it lay almost along y, that fixed its length.
def test_a_fitted_room_that_lies_almost_across_has_the_same_walls():
    terrace = demo("terrace")
    with moved(87.8035066036095, 5360.595438710718, 298.7913050890729):
        turned = build(terrace.document)
    lengths = [wall.length for wall in terrace.survey.walls]
    assert [wall.length for wall in turned.survey.walls] == pytest.approx(lengths, abs=1e-6)
