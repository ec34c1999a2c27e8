"""Units: every family of both catalogues, board by board."""

import math
import re
from pathlib import Path

import numpy as np
import pytest
import trimesh
from shapely import MultiPoint
from shapely import box as rectangle

from countersunk import shared
from countersunk.model.catalogue.catalogue import default_catalogue, inch_catalogue, load_catalogue
from countersunk.model.errors import InputError
from countersunk.model.geometry import solids
from countersunk.model.geometry.part import Layer
from countersunk.model.kitchen import build
from countersunk.model.layout.placing import place_runs
from countersunk.model.survey import survey_room
from tests.lanes import some
from tests.specimens import CORNER_DEMO, alone, document, open_kitchen

METRIC, INCH = default_catalogue(), inch_catalogue()
FAMILIES = [*METRIC.families.values(), *INCH.families.values()]
BOXES = ("box", "drawers", "blind-corner", "l-corner", "diagonal-corner")
EDGES = {"front", "back", "left", "right", "inner"}


def own(kitchen, family):
    """The unit of that family, and its parts."""
    unit = next(u for u in kitchen.units if u.family is family)
    return unit, kitchen.parts_of[unit.key]


def in_unit(unit, parts):
    """Bounds of parts in the frame of their unit: smallest and largest x, y, z, mm."""
    vertices = np.concatenate([solids.mesh(p)[0] for p in parts])
    seen = np.array([unit.frame.from_room(tuple(v)) for v in vertices])
    return seen.min(axis=0), seen.max(axis=0)


def both_ends(family):
    sizes = family.widths or family.width_range
    return {sizes[0], sizes[-1]}


@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("family", some(FAMILIES, 4), ids=lambda f: f"{f.code}-{f.depth:g}")
class TestEveryFamily:
    def test_solids_are_closed_and_no_two_parts_share_a_place(self, family, hand):
        for width in both_ends(family):
            if not family.wings or width == family.widths[0]:
                kitchen = build(alone(family, hand, width))
                assert all(trimesh.Trimesh(*solids.mesh(p), process=False).is_volume for p in kitchen.parts)
                assert solids.clashes(kitchen.parts) == []

    def test_boards_rebuild_the_outer_box(self, family, hand):
        if family.construction not in BOXES:
            return
        unit, parts = own(build(alone(family, hand)), family)
        low, high = in_unit(unit, [p for p in parts if p.layer is Layer.CARCASS])
        assert low == pytest.approx([0.0, 0.0, family.base], abs=1e-6)
        assert high == pytest.approx([unit.width, unit.wing or family.depth, family.top], abs=1e-6)

    def test_every_board_says_its_grain_and_which_edges_get_band(self, family, hand):
        kitchen = build(alone(family, hand))
        boards = [p for p in own(kitchen, family)[1] if p.material in kitchen.catalogue.boards]
        for part in boards:
            assert set(part.banded) <= EDGES
            assert all(part.along(edge) > 0 for edge in part.banded), part.id
            assert part.grain or part.layer is not Layer.FRONTS, part.id

    def test_a_part_stays_within_the_plan_of_its_unit_but_for_handles_and_trims(self, family, hand):
        unit, parts = own(build(alone(family, hand)), family)
        boards = [p for p in parts if p.layer in (Layer.CARCASS, Layer.FRONTS) and p.role != "plinth"]
        behind = rectangle(0.0, -unit.reach, unit.width, 0.0)  # a panel at an end goes on to the wall
        for part in boards:
            corners = MultiPoint(solids.mesh(part)[0][:, :2])
            assert unit.outline.union(behind).buffer(1e-6).covers(unit.frame.plan_from_room(corners)), part.id


class TestMethods:
    """How a carcass is made is data; the sizes are worked by hand from the data."""

    def units(self, tmp_path, method, family):
        """A catalogue with one method and one family of its own; every other file is the metric catalogue's."""
        text = f"methods:\n  - {method}\nfamilies:\n  - {family}\n"
        (tmp_path / "units.yaml").write_text(text)
        return load_catalogue(tmp_path)

    FAMILY = (
        "{code: mine, name: mine, construction: box, level: floor, height: 720, depth: 560, legs: 150, "
        "widths: [600], carries_top: true, doors: true, shelves: 1}"
    )

    def kitchen(self, catalogue):
        run = {"wall": "A", "start": 500.0, "units": ({"unit": "mine"},)}
        return build(document(runs=(run,)), catalogue)

    def test_a_back_in_a_groove(self, tmp_path):
        kitchen = self.kitchen(
            self.units(tmp_path, "{code: standard, back: groove, groove: 8, inset: 20}", self.FAMILY)
        )
        back, side = (kitchen.parts_by_mark[f"A1.{name}"] for name in ("back", "side.left"))
        # Between sides of 18 it is 564 wide and reaches 8 into either groove, and as much into bottom and top.
        assert (back.length, back.depth) == pytest.approx((720 - 36 + 16, 564 + 16))
        assert solids.volume(side) == pytest.approx((560 * 18 - 10 * 8) * 720)
        # A shelf begins 1 before the back, which stands 20 to 30 from the rear, and ends 20 behind the front.
        assert kitchen.parts_by_mark["A1.shelf.1"].depth == pytest.approx(560 - 30 - 1 - 20)
        assert solids.clashes(kitchen.parts) == []

    def test_reveal_rail_band_and_widest_door(self, tmp_path):
        method = "{code: standard, reveal: 2, widest_door: 500, bands: {side: [front, left]}, rail: 80}"
        family = self.FAMILY.replace("shelves: 1", "rails: flat")
        kitchen = self.kitchen(self.units(tmp_path, method, family))
        doors = [p for p in kitchen.parts if p.role == "door"]
        assert [(p.depth, p.length) for p in doors] == [pytest.approx((300 - 4, 720 - 4))] * 2
        assert kitchen.parts_by_mark["A1.side.left"].banded == ("front", "left")
        assert {p.depth for p in kitchen.parts if p.role == "rail"} == {80.0}

    def test_a_board_with_a_figure_gives_its_grain_to_what_is_cut_from_it(self, tmp_path):
        boards = (shared.CATALOGUE / "boards.yaml").read_text()
        (tmp_path / "boards.yaml").write_text(boards.replace("use: carcass", "use: carcass, grain: true"))
        kitchen = self.kitchen(self.units(tmp_path, "{code: standard}", self.FAMILY))
        assert all(p.grain for p in kitchen.parts if p.material == "pb18")

    @pytest.mark.parametrize(
        ("method", "family", "message"),
        [
            ("{code: other}", FAMILY, "units.yaml:4: families[0].method: found 'standard'; allowed: other"),
            ("{code: standard, carcass: pb19}", FAMILY, "methods.carcass: found 'pb19'; allowed: pb18, pb10"),
            (
                "{code: standard}",
                FAMILY.replace("doors: true", "bays: [{holds: doors, height: 300}]"),
                "units.yaml:4: families[0].bays: found heights that add up to 300, and 0 without one; "
                "allowed: 720 in all",
            ),
        ],
    )
    def test_what_cannot_be_made_is_told_when_it_is_read(self, tmp_path, method, family, message):
        with pytest.raises(InputError) as caught:
            self.units(tmp_path, method, family)
        assert message in str(caught.value)


class TestByHand:
    """Sizes of single parts, worked with pencil from the families."""

    def part(self, code, name, width=None, hand="right"):
        kitchen = build(alone(METRIC.families[code], hand, width))
        unit = next(u for u in kitchen.units if u.family.code == code)
        return kitchen.parts_by_mark[f"{unit.name}.{name}"]

    def test_a_pane_in_its_frame(self):
        # A door of 600 - 3 by 720 - 3, its frame 70 wide all round.
        pane = self.part("wall-glazed", "pane", 600.0)
        assert (pane.depth, pane.length) == pytest.approx((597 - 140, 717 - 140))

    def test_cells_of_a_rack_are_equal(self):
        # 320 less the divider above and the bottom, 18 each, and two shelves of 18: a third of 248.
        stile = self.part("wall-wine", "rack.2.2.1", 400.0)
        assert stile.length == pytest.approx((320 - 18 - 18 - 36) / 3)

    def test_leaves_of_the_folding_door_meet_in_the_inner_corner(self):
        # 900 less 560 of the other leg leave 340; the hung leaf stands 18 before it, each with reveals of 1.5.
        assert self.part("base-l-corner", "leaf").depth == pytest.approx(340 - 18 - 2 * 1.5)
        assert self.part("base-l-corner", "door.wing").depth == pytest.approx(340 - 2 * 1.5)

    def test_the_door_across_a_corner(self):
        # The diagonal of 340 by 340 is 480.8; the door stops where its outer edge is 1.5 off the neighbour's plane.
        short = (1.5 + 18 / math.sqrt(2)) * math.sqrt(2)
        assert self.part("base-diagonal", "door").depth == pytest.approx(340 * math.sqrt(2) - 2 * short)

    def test_the_l_shaped_bottom(self):
        # 900 by 900 less the square before the inner corner, inside sides of 18 and backs of 10.
        whole, notch = (900 - 18 - 10) * (900 - 18 - 10), (340 - 18) ** 2
        bottom = self.part("base-l-corner", "bottom")
        assert bottom.area == pytest.approx(whole - notch)
        assert bottom.along("inner") == pytest.approx(2 * (340 - 18))

    def test_drawers_lie_under_one_another_without_a_shelf_between(self):
        kitchen = build(alone(METRIC.families["tall-oven"]))
        assert sorted(p.mark for p in kitchen.parts if p.role == "divider") == ["A1.divider.1", "A1.divider.2"]

    def test_a_niche_has_no_back(self):
        backs = [p for p in build(alone(METRIC.families["tall-oven-microwave"])).parts if p.role == "back"]
        # The upper doors of 540 down to the board they stand on; the two drawers of 432 down to the bottom.
        assert sorted(p.length for p in backs if p.called == "A1") == pytest.approx([432.0, 540.0 + 18.0])


def test_the_worked_example_of_the_contributor_guide(tmp_path):
    """A firm's own family is a row of data: the guide's own is read, built and looked at."""
    guide = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text()
    rows = re.search(r"<!-- unit -->\n```yaml\n(.*?)```", guide, re.DOTALL)
    assert rows is not None
    (tmp_path / "units.yaml").write_text(rows.group(1))
    catalogue = load_catalogue(tmp_path)
    run = {"wall": "A", "start": 500.0, "units": ({"unit": "baker", "width": 600.0},)}
    kitchen = build(document(runs=(run,)), catalogue)
    fronts = sorted(p.mark for p in kitchen.parts if p.layer is Layer.FRONTS and p.role != "plinth")
    assert fronts == ["A1.drawer-front.1", "A1.drawer-front.2"]
    assert len([p for p in kitchen.parts if p.role == "rack"]) == 2
    assert {p.material for p in kitchen.parts if p.role == "side"} == {"front18"}
    assert solids.clashes(kitchen.parts) == []


def test_layout_places_what_the_kitchen_shows():
    kitchen = open_kitchen(CORNER_DEMO)
    placed = place_runs(kitchen.document, survey_room(kitchen.document.room), kitchen.catalogue)
    assert [u.name for run in placed for u in run.units] == [u.name for u in kitchen.units]
