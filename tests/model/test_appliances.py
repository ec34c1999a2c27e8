"""Appliances as they are bought: fuels of cookers, niches, paired doors, towers, hoods up to the ceiling."""

import pytest

from countersunk.model.catalogue.catalogue import default_catalogue, inch_catalogue
from countersunk.model.checks import check, ducts
from countersunk.model.checks.registry import MEASURES
from countersunk.model.document.duct import Duct
from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import Component, Role
from countersunk.model.kinds.appliances import appliance_of
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.viewer.scene.openings import openings
from tests.specimens import alone, demo, document


def families(name="metric"):
    return (inch_catalogue() if name == "inch" else default_catalogue()).families


def cooker(fuel, unit="cooker", width=600.0):
    row = ({"unit": "base-doors", "width": 400.0}, {"unit": unit, "width": width, "fuel": fuel})
    return build(document(runs=({"wall": "A", "start": 500.0, "units": row},)))


@pytest.mark.parametrize(
    ("fuel", "code", "hob", "services"),
    [
        ("electric", "cooker", "electric", {"cooker-outlet"}),
        ("gas", "cooker.gas", "gas", {"gas", "socket"}),  # the socket lights it
        ("dual", "cooker.dual", "gas", {"gas", "cooker-outlet"}),
    ],
)
def test_a_cooker_has_a_fuel_with_its_hob_its_services_and_its_article(fuel, code, hob, services):
    kitchen = cooker(fuel)
    (unit,) = [unit for unit in kitchen.units if unit.family.cooks_with]
    assert unit.family.cooks_with == hob
    assert set(appliance_of(code).services) == services
    zones = [part for part in kitchen.parts_of[unit.key] if part.which.component is Component.ZONE]
    assert {part.material for part in zones} == {f"zone.{hob}"}
    assert {q.item: q.net for q in estimate(kitchen).quantities}[code] == 1


def test_fuel_of_what_is_not_cooked_on_is_refused():
    row = ({"unit": "base-doors", "width": 400.0, "fuel": "gas"},)
    with pytest.raises(InputError) as refused:
        build(document(runs=({"wall": "A", "start": 500.0, "units": row},)))
    (problem,) = refused.value.problems
    assert (problem.field, problem.found) == ("runs[0].units[0].fuel", "gas for base-doors")
    assert problem.allowed == "only for a cooker"


def niche(code, bay):
    """The free width, height and depth of a bay, between boards of 18."""
    unit = next(u for u in build(alone(families()[code])).units if u.family.code == code)
    height = unit.family.openings[bay].height
    return unit.width - 36.0, height - 18.0, unit.family.depth


@pytest.mark.parametrize(
    ("code", "bay", "width", "height", "depth"),
    [  # fit guides, quoted: width, height, least depth
        ("tall-ovens", 1, (560, 568), (450, 455), 550),  # compact
        ("tall-ovens", 2, (560, 568), (585, 600), 550),  # single oven
        ("tall-fridge-column", 1, (560, 568), (1775, 1778), 550),
        ("tall-freezer-column", 1, (560, 568), (1775, 1778), 550),
        ("tall-laundry", 1, (600, 620), (850, 900), 600),  # a machine of 600 x 850
        ("tall-laundry", 2, (600, 620), (850, 900), 600),
    ],
)
def test_niches_are_as_fit_guides_have_them(code, bay, width, height, depth):
    found = niche(code, bay)
    assert width[0] <= found[0] <= width[1]
    assert height[0] <= found[1] <= height[1]
    assert found[2] >= depth


def test_a_double_oven_stands_on_the_carcass_s_bottom():
    """Niche 700 to 720 high (fit guides, quoted): 720 less the bottom of 18, and no shelf or blank front."""
    unit = build(alone(families()["base-double-oven"]))
    parts = unit.parts_of[unit.units[0].key]
    assert not [p for p in parts if p.role in (Role.SHELF, Role.BLANK_FRONT)]
    (body,) = [p for p in parts if p.which.component is Component.BODY]
    assert body.pose.origin[2] == pytest.approx(150.0 + 18.0)


@pytest.mark.parametrize(("width", "body"), [(910, 900), (1010, 1000), (1110, 1100)])
def test_a_range_cooker_has_5_a_side(width, body):
    """Makers ask 2 to 10 a side (quoted)."""
    kitchen = cooker("dual", "range-cooker", float(width))
    (case,) = [p for p in kitchen.parts if p.which.component is Component.BODY]
    assert case.length == pytest.approx(body)


def test_paired_doors_swing_from_either_side_by_half_the_width():
    kitchen = build(alone(families()["fridge-side-by-side"]))
    unit = kitchen.units[0]
    swept = [place.volume.plan for place in MEASURES["swings.appliance_door"].take(kitchen)]
    (x0, _, x1, y1) = unit.frame.plan_from_room(swept[0]).bounds
    assert (x1 - x0, y1 - unit.face) == (pytest.approx(460.0, abs=0.1), pytest.approx(460.0, abs=0.1))
    moves = {opening.leaf: opening for opening in openings(kitchen).values()}
    assert {(leaf.split(".", 1)[1], m.hinge) for leaf, m in moves.items() if leaf.startswith(unit.key)} == {
        ("door.left", "left"),
        ("door.right", "right"),
    }
    grips = [p for p in kitchen.parts_of[unit.key] if p.which.component is Component.GRIP]
    assert {openings(kitchen)[grip.id].leaf.rsplit(".", 1)[1] for grip in grips} == {"left", "right"}


def test_in_a_tower_a_combination_microwave_drops_and_a_warming_drawer_slides():
    kitchen = demo("weavers")
    (tower,) = [unit for unit in kitchen.units if unit.family.code == "tall-ovens"]
    moves = {o.leaf.split(".", 1)[1]: o for o in openings(kitchen).values() if o.leaf.startswith(f"{tower.key}.")}
    assert (moves["face.2"].hinge, moves["face.3"].hinge, moves["face.4"].hinge) == ("bottom", "bottom", None)
    assert moves["face.4"].travel == pytest.approx(400.0)


def test_a_chimney_goes_up_to_the_ceiling_wherever_that_is():
    kitchen = demo("weavers")
    (hood,) = [unit for unit in kitchen.units if unit.telescopes]
    assert hood.family.top == pytest.approx(kitchen.survey.height)
    assert not [p for p in MEASURES["survey.left_of_run"].take(kitchen) if "ceiling" in p.where.note]


def test_only_a_hood_goes_up_to_the_ceiling():
    run = {"wall": "A", "level": "upper", "units": ({"unit": "wall-doors", "width": 600.0, "to_ceiling": True},)}
    with pytest.raises(InputError, match="only for a hood that hangs"):
        build(document(runs=(document().runs[0].model_dump(), run)))


def test_a_hood_hangs_over_an_island_off_its_wall():
    """The island's hob has its middle 2160 out; the canopy is 600 deep, from 1860 out, as wide as 900 over 780."""
    kitchen = demo("glasshouse")
    (hood,) = [unit for unit in kitchen.units if unit.family.code == "hood-island"]
    assert hood.frame.origin[1] == pytest.approx(-1860.0)
    (covered,) = MEASURES["hob.beyond_hood"].take(kitchen)
    assert covered.value == pytest.approx(0.0)
    (above,) = MEASURES["hob.to_hood"].take(kitchen)
    assert above.value == pytest.approx(1680.0 - 890.0)


def test_only_what_hangs_is_off_a_wall():
    run = {"wall": "C", "level": "floor", "out": 1200.0, "units": ({"unit": "base-doors", "width": 600.0},)}
    with pytest.raises(InputError) as refused:
        build(document(runs=(document().runs[0].model_dump(), run)))
    (problem,) = refused.value.problems
    assert (problem.field, problem.allowed) == ("runs[1].out", "only on the level upper")


@pytest.mark.parametrize(("off", "missed"), [(15.0, ["cooker-gas-to-side"]), (25.0, [])])
def test_a_gas_cooker_keeps_20_where_a_gas_hob_keeps_50(off, missed):
    """Makers of free-standing gas cookers ask 20 each side (quoted); 50 are asked of hobs that are let in."""
    row = ({"unit": "cooker", "width": 600.0, "fuel": "gas"}, {"unit": "base-doors", "width": 400.0})
    kitchen = build(document(runs=({"wall": "A", "start": off, "units": row},), regions=("uk",)))
    sides = {"cooker-gas-to-side", "hob-gas-to-side", "hob-gas-to-side-usual"}
    assert [f.rule for f in check(kitchen) if f.rule in sides and f.verdict != "met"] == missed


@pytest.mark.parametrize("fridge", ["tall-fridge", "tall-fridge-housing", "tall-freezer-column"])
def test_a_fridge_beside_a_wall_opens_to_a_right_angle_alone(fridge):
    """Free-standing or built in, hinged 30 off the wall; hinged on the other side nothing stands near."""
    for hand, off in (("left", [30.0]), ("right", [])):
        row = ({"unit": fridge, "width": 600.0, "hand": hand}, {"unit": "base-doors", "width": 600.0})
        kitchen = build(document(runs=({"wall": "A", "start": 30.0, "units": row},)))
        assert [place.value for place in MEASURES["swings.beyond_square"].take(kitchen)] == pytest.approx(off)


IN = 25.4


@pytest.mark.parametrize(
    ("code", "catalogue", "width", "top"),
    [  # places from the floor to the underside of the top, or to the top of what stands free, mm
        ("dishwasher", "metric", 600, (820, 870)),  # fit guides, quoted: 600 x 820 to 870
        ("base-fridge", "metric", 600, (820, 870)),  # fit guides, quoted: 600 x 820 to 870
        ("washer", "metric", 600, (850, 870)),  # quoted: 600 x 850
        ("dryer", "metric", 600, (850, 870)),  # quoted: 600 x 850
        ("dishwasher", "inch", 24 * IN, (34.375 * IN, 36.5 * IN)),  # a maker's sheet, seen: 34-3/8 to 36-1/2
        ("cooker", "inch", 30 * IN, (36 * IN, 36 * IN)),  # quoted: 30 wide, 36 high
        ("base-drawers", "inch", 30 * IN, (34.5 * IN, 34.5 * IN)),  # quoted: 34-1/2 high
        ("microwave-over-range", "inch", 30 * IN, (66 * IN, 80 * IN)),  # quoted: its top 66 or more high
    ],
    ids=str,
)
def test_places_are_as_fit_guides_have_them(code, catalogue, width, top):
    family = families(catalogue)[code]
    assert any(known == pytest.approx(width) for known in family.widths)
    assert top[0] - 0.01 <= family.top <= top[1] + 0.01


def test_an_over_range_microwave_is_as_high_as_is_usual_and_a_range_has_its_gaps():
    """15 to 17 in high (quoted); wide cookers stand with 2 to 10 on each side, by maker (quoted)."""
    assert 15 * IN <= families("inch")["microwave-over-range"].height <= 17 * IN
    assert 2 <= appliance_of("cooker.range").clear.beside <= 10
    assert [width - 10 for width in families()["range-cooker"].widths] == [900, 1000, 1100]


# Makers of hoods, seen, for pipe of 6 in: bends of 90° count 10 to 15 ft, of 45° 5 to 9, wall caps 24 to 40, roof
# caps 24 to 33; 5 in instead of 6 counts 2.7 times, which by friction alone is (6/5)^5 = 2.49; metal hose twice.
def test_what_ducts_count_lies_within_what_makers_publish():
    assert 10 <= ducts.SQUARE / ducts.FOOT <= 15
    assert 5 <= ducts.SLANT / ducts.FOOT <= 9
    assert 24 <= ducts.CAPS["wall"] / ducts.FOOT <= 40
    assert 24 <= ducts.CAPS["roof"] / ducts.FOOT <= 33
    pipe = ducts.counted(Duct(length=10_000.0, ends="room"))
    narrow = ducts.counted(Duct(length=10_000.0, ends="room", diameter=125.0))
    assert narrow / pipe == pytest.approx(1.2**5)
    assert 2.4 < narrow / pipe < 2.7
    assert ducts.counted(Duct(length=10_000.0, ends="room", flexible=True)) == pytest.approx(2 * pipe)


# The example of one maker, seen: 100 ft less its roof cap of 30, two bends of 90° and one of 45° leaves 31 ft. Ours
# takes 3 ft more for the cap.
def test_the_example_of_a_maker_comes_out_within_its_cap():
    duct = Duct(length=31 * ducts.FOOT, bends=(90.0, 90.0, 45.0), ends="roof")
    assert ducts.counted(duct) / ducts.FOOT == pytest.approx(100 + 3)
