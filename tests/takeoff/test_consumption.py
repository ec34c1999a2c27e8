"""How far things go and what they weigh, against worked tables; each with its source and how far it was seen."""

import pytest

from countersunk.model.catalogue.catalogue import default_catalogue
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.measuring.registry import measured
from countersunk.takeoff.stock.articles import default_articles
from tests.specimens import SOME_DEMOS, cornered, open_kitchen
from tests.takeoff.by_hand import small_kitchen

DENSITY = {10: 700, 15: 670, 18: 650, 38: 600}
"""kg/m³ of particleboard P2 by thickness, from a maker's EN 312 sheet (seen)."""


def item(taken, code):
    return next(q for q in taken.quantities if q.item == code)


@pytest.fixture(scope="module", params=SOME_DEMOS, ids=lambda p: p.stem)
def demo(request):
    return open_kitchen(request.param)


def test_varnish(demo):
    # Makers' sheets of varnish (seen): 10 to 12 m² a litre and coat. Raw particleboard drinks double (practice), so
    # 5 to 6 m² a litre; two coats (practice) take 1/3 to 2/5 of a litre for each m² of raw face.
    # A solid top has no raw face, and then there is none to buy.
    faces = sum(s.amount for s in measured(demo)["raw-edges"]) * 1e-6
    litres = sum(q.net for q in estimate(demo).quantities if q.item == "sealer")
    assert faces / 3 <= litres <= faces * 2 / 5 + 1e-9
    assert (faces > 0) == any(length.run.stock.core == "particleboard" for length in demo.lengths)


def test_contact_adhesive(demo):
    # On both faces (makers' sheets, the rule seen); 4 to 6 m²/L and face (from memory): 2 to 3 m² bonded a litre.
    bonded = sum(s.amount for s in measured(demo)["exposed-faces"]) * 1e-6
    litres = sum(q.net for q in estimate(demo).quantities if q.item == "adhesive.contact")
    assert 2 * litres <= bonded <= 3 * litres


def test_pva():
    # 8 to 10 m²/L (from memory); a No. 20 biscuit is 56 × 23 on each of two faces (from memory), and drinks double.
    glue = item(estimate(build(cornered(90.0))), "glue.pva")
    faces = 4 * 2 * 56 * 23 * 1e-6
    assert 8 - 1e-9 <= 2 * faces / glue.net <= 10


def test_silicone_by_the_makers_rule():
    # Sealant makers' tables (seen): mL a metre is the section in mm². A fillet 6 × 6 is 18 mL/m, a half round of 6
    # 14.14 mL/m: so a cartridge of 310 mL fills 17.2 m along a wall (twice 8.61 m of a square bead, computed).
    assert pytest.approx(2 * 8.61, rel=1e-3) == 310 / 18
    wall, rim = 1.620, 2.000
    assert item(estimate(small_kitchen()), "silicone").net == pytest.approx(18 * wall + 14.137 * rim, rel=1e-4)


def test_edging_strip_has_fifty_more_an_edge(demo):
    # + 50 mm an edge (from memory).
    edges = measured(demo)["exposed-edges"]
    strip = sum(q.net for q in estimate(demo).quantities if q.item.startswith("edging."))
    assert strip == pytest.approx(sum(s.amount + 50 for s in edges) / 1000)


def test_densities_are_those_of_the_table():
    catalogue = default_catalogue()
    boards = {board.thickness: board.density for board in catalogue.boards.values()}
    assert boards == {thickness: density for thickness, density in DENSITY.items() if thickness in boards}
    assert {stock.density for stock in catalogue.stocks.values() if stock.thickness == 38} == {DENSITY[38]}


@pytest.mark.parametrize(("length", "mass"), [(3.0, 41.0), (4.1, 56.1)])
def test_a_top_weighs_what_the_table_gives(length, mass):
    # 38 × 600 at 600 kg/m³ is 13.68 kg/m (computed from the sheet that was seen).
    top = small_kitchen(cutouts=())
    share = measured(top)["worktop-mass"][0]
    metre = share.amount / (top.parts_by_id[share.id].length / 1000)
    assert metre * length == pytest.approx(mass, rel=2e-3)


def test_boards_weigh_what_the_table_gives(demo):
    # 1 m² of 18 is 11.7 kg, of 15 10.05 kg, of 10 7 kg.
    square = {"pb18": 11.7, "front18": 11.7, "pb15": 10.05, "pb10": 7.0}
    areas = {p.id: p.area * 1e-6 for p in demo.parts}
    metric = [share for share in measured(demo)["board-mass"] if share.key in square]  # not boards in inches
    assert metric or demo.document.catalogue == "inch"
    for share in metric:
        assert share.amount == pytest.approx(areas[share.id] * square[share.key], rel=1e-9)


def test_every_coverage_says_where_it_is_from():
    assert all(a.sources for a in default_articles().values() if a.coverage)
