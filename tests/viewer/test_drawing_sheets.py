"""Every sheet of every demo and of corners of all kinds: nothing written over something else, nothing cut off."""

import io
import math
import re
import xml.etree.ElementTree as ElementTree

import ezdxf
import pytest
from hypothesis import HealthCheck, given, settings
from shapely import STRtree

from countersunk.model.catalogue.catalogue import default_catalogue
from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.viewer.drawing.corner_setout import along_wall, set_out_of
from countersunk.viewer.drawing.dxf import dxf
from countersunk.viewer.drawing.elevation import elevation_sheets
from countersunk.viewer.drawing.jig import fixed_in_words, fixed_jig
from countersunk.viewer.drawing.joint import corner_of
from countersunk.viewer.drawing.joint_sheets import joint_sheet
from countersunk.viewer.drawing.joint_sheets import settings as jig_settings
from countersunk.viewer.drawing.lettering import width_of, words_on
from countersunk.viewer.drawing.paper import imprint
from countersunk.viewer.drawing.papers import sheets, templates
from countersunk.viewer.drawing.pdf import pdf
from countersunk.viewer.drawing.piece_tables import slot_sizes
from countersunk.viewer.drawing.plan import plan_sheet, room_sheet
from countersunk.viewer.drawing.shapes import Path, Span
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.svg import svg
from countersunk.viewer.drawing.template import full_size_sheet
from tests.lanes import some
from tests.specimens import DEMOS, FEW_DEMOS, SOME_DEMOS, alone, cornered, demo, document, everything, open_kitchen
from tests.strategies import kitchens
from tests.viewer.words import check_apart, check_inside

SPECIMENS = {
    **{path.stem: lambda path=path: open_kitchen(path) for path in FEW_DEMOS},
    **{
        f"{angle:g}-{female}-{kind}": lambda a=angle, f=female, k=kind: build(cornered(a, f, k, notch=None))
        for angle in (60.0, 88.0, 90.0, 93.0, 135.0, 150.0)
        for female in "AB"
        for kind in ("mitre", "butt", "full-mitre")
    },
    "everything": lambda: build(everything()),
    "two cut-outs side by side": lambda: build(
        document(
            cutouts=(
                {"template": "sink.one-bowl", "over": "A2"},
                {"template": "hob.electric-60", "over": "A3"},
            )
        )
    ),
}


@pytest.fixture(params=some(list(SPECIMENS), 12), scope="module")
def drawn(request):
    kitchen = SPECIMENS[request.param]()
    large = (full_size_sheet(kitchen, cutout) for cutout in kitchen.cutouts)
    return [*sheets(kitchen), *templates(kitchen), *templates(kitchen, "a3"), *large]


@pytest.mark.slow
def test_no_words_touch_other_words(drawn):
    check_apart(drawn)


def test_no_words_are_cut_off(drawn):
    for sheet in drawn:
        check_inside(sheet, 7.0 if sheet.name.startswith("template") else 10.0)


def test_svg_is_xml_in_millimetres_with_every_word(drawn):
    for sheet in drawn:
        root = ElementTree.fromstring(svg(sheet))
        assert root.attrib["width"] == f"{sheet.size[0]:g}mm"
        assert root.attrib["viewBox"] == f"0 0 {sheet.size[0]:g} {sheet.size[1]:g}"
        found = [e.text for e in root.iter("{http://www.w3.org/2000/svg}text")]
        assert sorted(found) == sorted(words for words, _ in words_on(sheet))


def test_svg_holds_words_to_the_width_that_was_kept_for_them(drawn):
    for sheet in drawn[:2]:
        root = ElementTree.fromstring(svg(sheet))
        for e in root.iter("{http://www.w3.org/2000/svg}text"):
            height = float(e.attrib["font-size"]) * 0.729
            assert float(e.attrib["textLength"]) == pytest.approx(width_of(e.text, height), rel=1e-3)


@pytest.mark.slow
def test_every_length_join_and_wall_has_its_sheet():
    kitchen = open_kitchen(next(p for p in DEMOS if p.stem == "corner"))
    names = [sheet.name for sheet in sheets(kitchen)]
    assert len(set(names)) == len(names)
    wanted = {
        "plan",
        "survey",
        "elevation-A",
        "elevation-B",
        "T1-top",
        "T1-underside",
        "T2-top",
        "T2-underside",
        "J1",
        "card",
    }
    assert wanted <= set(names)


# sin 46.5° = 0.725374: the shoulder is 15 / 0.725374 = 20.679 long; the straight side
# 585 / tan 46.5° - 585 / tan 93° = 555.144 + 30.659 = 585.803.
@pytest.mark.parametrize(("female", "hands"), [("A", ("right", "left")), ("B", ("left", "right"))])
def test_jig_settings_of_a_93_degree_mitre_by_hand(female, hands):
    kitchen = build(cornered(93.0, female))
    table = {label: (one, other) for label, one, other in jig_settings(corner_of(kitchen, kitchen.joins[0]))}
    assert table["seen from above"] == tuple(f"{h} hand" for h in hands)
    assert table["jig off square"] == ("square", "3°, corner wider")
    assert table["shoulder to front edge"] == ("46.5°", "46.5°")
    assert table["notch behind front edge"] == ("15", "15")
    assert table["shoulder long"] == ("20.7", "20.7")
    assert table["straight side long"] == ("585.8", "585.8")
    assert table["joint at the front, from datum"] == ("1260.6", "1260.6")


def test_a_square_corner_needs_no_turned_jig_and_a_tight_one_says_so():
    def jig(angle):
        kitchen = build(cornered(angle))
        return {row[0]: row[1:] for row in jig_settings(corner_of(kitchen, kitchen.joins[0]))}["jig off square"]

    assert jig(90.0) == ("square", "square")
    assert jig(88.0) == ("square", "2°, corner tighter")


@pytest.mark.parametrize(("female", "faces"), [("A", ("decor", "underside")), ("B", ("underside", "decor"))])
def test_a_right_hand_end_is_routed_decor_up_and_a_left_hand_end_underside_up(female, faces):
    """Fed from left to right with the guide beyond it, so that the cutter enters the front edge (practice)."""
    kitchen = build(cornered(90.0, female))
    table = {row[0]: row[1:] for row in jig_settings(corner_of(kitchen, kitchen.joins[0]))}
    assert table["face up while it is routed"] == faces
    assert table["cutter runs from"] == ("front edge to end", "front edge to back")


def test_a_jig_fixed_at_45_degrees_against_the_exact_joint_of_a_92_degree_corner_by_hand():
    """Notch 15, nose 6, depth 600: the exact shoulder goes 15 / tan 46° = 14.485 along, one of 45° 15, so the
    straight side begins 0.515 further in and lies 0.515 x sin 45° = 0.364 off. The male is 585 deep behind it, and
    585 x tan 2° = 20.429. The noses are cut at 45° and 47°: 6 x (sin 47° / sin 45° - 1) = 0.206.
    """
    kitchen = build(cornered(92.0))
    join = kitchen.joins[0]
    fixed = fixed_jig(join, nose=6.0)
    assert fixed.shift == pytest.approx(0.515, abs=1e-3)
    assert fixed.line.hausdorff_distance(join.line) == pytest.approx(0.364, abs=1e-3)
    assert fixed.back == pytest.approx(20.429, abs=1e-3)
    assert fixed.noses == pytest.approx(0.206, abs=1e-3)
    male = kitchen.length(join.male).part.pose.plan_from_room(join.line)
    (_, _), (begins, _), (ends, _) = male.coords
    assert abs(ends - begins) == pytest.approx(fixed.back)
    words = " ".join(fixed_in_words(join, 6.0))
    assert "at the back 20.4 shorter than a square cut, 585 further back" in words
    assert "20.4 open at the front" in words
    assert "20.4 longer" in " ".join(fixed_in_words(build(cornered(88.0)).joins[0], 6.0))


def test_a_fixed_jig_needs_nothing_at_90_degrees_and_does_not_do_at_95():
    assert fixed_in_words(build(cornered(90.0)).joins[0], 6.0) == [
        "It cuts this corner as it is: both halves square on the front edge."
    ]
    assert "It does not do here" in fixed_in_words(build(cornered(95.0)).joins[0], 6.0)[0]


def test_nothing_about_a_jig_where_none_is_used():
    """A strip's male is sawn, a join in line routed along a guide, a solid top bonded."""
    solid = [build(cornered(91.0, None, kind, stock="solid30.650", depth=650.0)) for kind in ("mitre", "butt")]
    for kitchen in (demo("peninsula"), *solid):
        for join in kitchen.joins:
            said = " ".join(words for words, _ in words_on(joint_sheet(kitchen, join)))
            assert " jig" not in said.replace("jigsaw", "").lower(), join.place


def test_both_ends_of_a_tee_from_the_datum_and_from_the_walls():
    """The peninsula's top is 670 deep; its front lies 674 from the datum of the length that it meets."""
    kitchen = demo("peninsula")
    join = next(j for j in kitchen.joins if j.kind == "tee")
    table = {row[0]: row[1:] for row in jig_settings(corner_of(kitchen, join))}
    assert table["joint at the front, from datum"][0] == "674"
    assert table["joint ends, from datum"][0] == "4"
    (words,) = along_wall(kitchen, join)
    near, far = (float(x) for x in re.findall(r"([\d.]+) from its left end", words))
    assert far - near == pytest.approx(670.0)


def test_a_mitre_is_set_out_from_the_walls_of_a_92_degree_corner_by_hand():
    """600 / tan 46° = 579.41 along either wall, 600 / sin 46° = 834.10 straight; 585 / sin 92° = 585.36."""
    kitchen = build(cornered(92.0))
    found = set_out_of(kitchen, kitchen.joins[0])
    assert found.along(found.female) == pytest.approx(579.41, abs=0.01)
    assert found.along(found.male) == pytest.approx(579.41, abs=0.01)
    assert found.out(found.male) == pytest.approx(600.0)
    assert found.diagonal == pytest.approx(834.10, abs=0.01)
    assert found.joint_end == pytest.approx(585.36, abs=0.01)
    plan = " ".join(words for words, _ in words_on(plan_sheet(kitchen)))
    assert "579.4 along A, 600 out" in plan
    assert plan.count("585.4") == 2, "in its table and beside the wall"


@pytest.mark.parametrize(("thickness", "deep"), [(38.0, "22"), (22.0, "12")])
def test_bolt_slots_say_how_deep_they_are_and_leave_10_under_the_decor(thickness, deep):
    assert f"both {deep} deep" in slot_sizes(thickness)


def test_nothing_that_must_be_said_is_left_out_for_want_of_room(drawn):
    said = {sheet.name: [words for words, _ in words_on(sheet)] for sheet in drawn}
    for name, words in said.items():
        text = " ".join(words)
        if name.startswith("T") and name.endswith(("-top", "-underside")):
            assert "DATUM" in words, name
            assert "decor runs" in words, name
            length = name.split("-")[0]
            assert {f"{length} decor up", f"{length} UNDERSIDE", length} & set(words), name
            for line in (w for w in words if w.startswith("JOIN ")):
                assert any(w.startswith(line[5:7] + " ") for w in words), (name, line)
        if name.startswith("J"):
            assert "FEMALE, " in text, name
            assert " MALE, " in text, name
    plan = said["plan"]
    for name in said:
        if name.startswith("T") and name.endswith("-top"):
            assert plan.count(name.split("-")[0]) >= 2, "in the plan and in its table"


@pytest.mark.slow
@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
@given(kitchens())
def test_random_kitchens_are_drawn_without_words_over_words(data):
    try:
        kitchen = build(Document.model_validate(data))
    except InputError:
        return
    for sheet in [*sheets(kitchen), *templates(kitchen)]:
        words = words_on(sheet)
        tree = STRtree([place for _, place in words])
        crowded = [(i, j) for i, (_, place) in enumerate(words) for j in tree.query(place, "intersects") if j > i]
        assert not [(i, j) for i, j in crowded if words[i][1].intersection(words[j][1]).area > 0.02], sheet.name


def test_what_a_person_types_breaks_no_file():
    name = 'Tom "& Sons" <b>\x07 #set page() \\ é' + "x" * 80
    kitchen = build(document(kitchen=name))
    drawn = list(sheets(kitchen))
    for sheet in drawn:
        ElementTree.fromstring(svg(sheet))
        assert not ezdxf.read(io.StringIO(dxf(sheet).decode())).audit().errors
    assert pdf(drawn, name.replace("\x07", " ")).startswith(b"%PDF")


def test_papers_of_one_kitchen_carry_one_imprint_and_a_change_shows():
    one, other = build(cornered(90.0)), build(cornered(90.5))
    assert imprint(one) == imprint(build(cornered(90.0))) != imprint(other)
    assert all(f"papers {imprint(one)}" in [w for w, _ in words_on(sheet)] for sheet in sheets(one))


def test_the_wing_of_a_corner_unit_is_seen_on_the_elevation_of_the_wall_that_it_goes_along():
    kitchen = build(alone(default_catalogue().families["base-l-corner"]))
    (sheet,) = [s for s in elevation_sheets(kitchen) if s.name == "elevation-B"]
    lefts = {
        min(p[0] for p in path.points) for view in sheet.views for path in view.marks if isinstance(path, Path)
    }
    # The hung leaf begins where the inner corner is, 560 of carcass and 1.5 of reveal from the units' backs.
    assert any(left == pytest.approx(2 + 560 + 1.5) for left in lefts)


@pytest.mark.slow
def test_a_peninsula_is_no_island_on_paper():
    titles = [sheet.title for sheet in sheets(open_kitchen(next(p for p in DEMOS if p.stem == "quarry")))]
    assert "Elevation, peninsula P" in titles


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_a_room_is_drawn_from_its_survey_alone(path):
    """The same walls and fixtures as in the plan of the whole kitchen, and nothing that stands in it."""
    kitchen = open_kitchen(path)
    [view] = room_sheet(kitchen.survey).views
    spans = [mark for mark in view.marks if isinstance(mark, Span)]
    measured = [math.dist(mark.a, mark.b) for mark in spans]
    assert measured == pytest.approx([wall.length for wall in kitchen.survey.walls])
    strokes = {mark.stroke for mark in view.marks if isinstance(mark, Path)}
    assert Stroke.ROOM in strokes
    assert not strokes & {Stroke.LINE_TO_CUT, Stroke.JOINT_FEMALE}


def test_a_round_door_is_drawn_round_and_a_duct_is_written_under_its_hood():
    """The porthole of a machine of 600 is 0.58 of it across: 348. The duct is listed with its length."""
    kitchen = demo("weavers")
    (wall_a,) = [sheet for sheet in elevation_sheets(kitchen) if sheet.name == "elevation-A"]
    marks = (mark for view in wall_a.views for mark in view.marks if isinstance(mark, Path))
    round_ones = [[x for x, _ in mark.points] for mark in marks if len(mark.points) > 40]
    widths = {round(max(xs) - min(xs)) for xs in round_ones}
    assert 348 in widths
    words = {words for words, _ in words_on(plan_sheet(kitchen))}
    assert "its duct: pipe of 150, 90°, 45°, out at the roof" in words
