"""The page of a part says what the model, the cutting plan and the takeoff say of it."""

import pytest

from countersunk import shared
from countersunk.viewer.app.part_page import NOT_LAID_OUT, facts
from countersunk.viewer.app.reading import laid_out, parts_behind, read
from tests.specimens import open_kitchen

CORNER = open_kitchen(shared.KITCHENS / "corner.yaml").document


@pytest.fixture(scope="module")
def reading():
    return read(CORNER)


def page(reading, id_):
    return dict(facts(reading.kitchen.parts_by_mark[id_], reading))


def test_a_worktop_says_its_edges_and_the_length_that_it_is_cut_from(reading):
    found = page(reading, "T1")
    bar = next(b for plan in reading.takeoff.plans for b in plan.bars if "T1" in {p.id for p in b.pieces})
    assert found["Size"] == ("3610 × 600 × 38 mm",)
    assert found["Cut from"][0].startswith("length ")
    assert f"{bar.length:.0f} mm of pf38.600" in found["Cut from"][0]
    around = sum(int(line.split()[-2]) for line in found["Edges"])
    assert around == pytest.approx(sum(e.length for e in reading.kitchen.parts_by_mark["T1"].edges), abs=5)
    assert any("exterior varnish" in line for line in found["On the takeoff"])


def test_a_door_says_its_sheet_once_boards_are_laid_out(reading):
    assert page(reading, "A2.door")["Cut from"] == (NOT_LAID_OUT,)
    planned = laid_out(CORNER)
    place = next(
        p
        for plan in planned.takeoff.boards
        for s in plan.sheets
        for p in s.places
        if planned.kitchen.marks[p.id] == "A2.door"
    )
    assert page(planned, "A2.door")["Cut from"][0].endswith(
        f"{place.x:.0f} along and {place.y:.0f} across from its corner"
    )


def test_what_is_bought_whole_says_the_line_of_its_unit(reading):
    found = page(reading, "A3.appliance.body")
    assert any("dishwasher" in line for line in found["On the takeoff, for A3"])
    assert "Cut from" not in found


def test_every_part_has_a_page_and_every_line_leads_back(reading):
    """What a line is made of is on the pages of those parts; what is for a unit as a whole is on none."""
    units = {unit.key for unit in reading.kitchen.units}
    pages = {part.id: dict(facts(part, reading)) for part in reading.kitchen.parts}
    assert all({"What", "Size"} <= set(found) for found in pages.values())
    for line in reading.takeoff.materials:
        lit = parts_behind(reading, tuple(set(line.quantity.ids) - units))
        said = [words for id_ in lit for name, lines in pages[id_].items() if "takeoff" in name for words in lines]
        assert not lit or any(words.startswith(line.quantity.description) for words in said), line.quantity.item
