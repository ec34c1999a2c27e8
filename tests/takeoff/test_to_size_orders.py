"""What is made to measure is ordered piece by piece, with its size."""

import csv
import io
from datetime import date

import pytest
from shapely import Polygon

from countersunk.model.catalogue.catalogue import default_catalogue
from countersunk.model.geometry.identity import ISLAND_BACK, Role
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.counting.to_size import size_lines
from countersunk.takeoff.plans.boards import board_plans
from countersunk.takeoff.report.orders import orders, orders_csv
from countersunk.viewer.quoting.customer import Job
from countersunk.viewer.quoting.workshop import file_of, to_measure_data
from tests.specimens import SQUARE_ROOM, alone, document, open_kitchen

JOB = Job((), date(2026, 3, 2))


@pytest.fixture(scope="module")
def glazed():
    wall = {"wall": "A", "level": "upper", "start": 500.0}
    units = ({"unit": "wall-glazed", "width": 600.0}, {"unit": "wall-glazed", "width": 600.0, "hand": "right"})
    base = {"wall": "A", "start": 500.0, "units": ({"unit": "base-doors", "width": 400.0},)}
    return estimate(build(document(runs=(base, {**wall, "units": units}))))


def line(taken, item):
    (found,) = (q for q in taken.quantities if q.item == item)
    return found


# A door is 597 × 717 with stiles and rails of 70: its pane 717 - 140 by 597 - 140. Two are 0.527 m²: six tenths.
def test_panes_have_their_sizes(glazed):
    glass = line(glazed, "glass.4")
    assert glass.packs == 6
    assert list(size_lines(glass.pieces)) == ["2 of 577 × 457 × 4 mm: AU1.pane, AU2.pane"]
    assert sum(p.length * p.width for p in glass.pieces) / 1e6 == pytest.approx(glass.net)


def test_the_supplier_reads_them(glazed):
    rows = csv.DictReader(io.StringIO(orders_csv(orders(glazed), glazed.money).decode("utf-8-sig")))
    sizes = {row["code"]: row["sizes"] for row in rows}
    assert sizes["glass.4"] == "2 of 577 × 457 × 4 mm: AU1.pane, AU2.pane"
    assert sizes["hinge"] == ""


def test_what_is_no_rectangle_has_its_corners():
    family = next(
        f for f in default_catalogue().families.values() if f.construction == "diagonal-corner" and f.carries_top
    )
    infill = line(estimate(build(alone(family))), "infill.40")
    (piece,) = infill.pieces
    assert len(piece.corners) == 3
    (words,) = size_lines(infill.pieces)
    assert words.startswith(f"1 of {piece.length:.1f} × {piece.width:.1f} × 40 mm; corners at 0/0, ")


def test_drawings_go_along_with_the_order(glazed):
    # two equal panes are drawn once, as large as their area says, with edges a glazier must know
    drawn = {order.supplier: to_measure_data(glazed, order, JOB, "R", "7D8C15") for order in orders(glazed)}
    (supplier,) = (name for name, data in drawn.items() if data)
    (piece,) = drawn[supplier]["pieces"]
    assert (piece["count"], piece["marks"], piece["long"], piece["wide"]) == (
        2,
        ["AU1.pane", "AU2.pane"],
        "577",
        "457",
    )
    assert Polygon(piece["outline"]).area == pytest.approx(577 * 457)
    assert piece["edges"] == "all ground, corners taken off"
    assert file_of("Fallow Board Yard") == "made-to-measure-fallow-board-yard.pdf"


def test_a_panel_is_drawn_with_the_hole_for_its_socket():
    # a box of 68 for the socket at 1150 above the floor; the panel begins on the top at 908
    service = {"kind": "socket", "wall": "A", "at": 900.0, "height": 1150.0}
    room = {"walls": SQUARE_ROOM, "services": (service,)}
    splash = ({"wall": "A", "material": "pane.6", "zone": "full-height"},)
    pane = line(estimate(build(document(room=room, splashbacks=splash))), "pane.6")
    (piece,) = (p for p in pane.pieces if p.rings)
    hole = Polygon(piece.rings[0])
    assert hole.bounds[3] - hole.bounds[1] == pytest.approx(68.0, abs=0.1)
    assert hole.centroid.y == pytest.approx(1150.0 - 908.0, abs=0.5)


def test_an_islands_back_longer_than_a_sheet_is_parted_where_units_meet():
    """Lockhouse's island is 3,436 long, its front board 2,800: by hand 2,318 behind three units and 1,118."""
    kitchen = open_kitchen("lockhouse")
    backs = [part for part in kitchen.parts if part.role is Role.PANEL and part.which == ISLAND_BACK]
    assert [round(part.length) for part in backs] == [2318, 1118]
    assert [part.banded for part in backs] == [("left",), ("right",)]
    assert not [plan.unplaced for plan in board_plans(kitchen) if plan.unplaced]
