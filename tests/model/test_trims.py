"""Trims: plinths with their returns, cornices and pelmets with their mitres, worked by hand."""

import math

import pytest

from countersunk.model.errors import InputError
from countersunk.model.geometry import solids
from countersunk.model.kitchen import build
from tests.specimens import document

FACE = 320.0 + 18.0


def hung(units, **more):
    """Wall units from 500 on wall A, and a base unit opposite."""
    upper = {"wall": "A", "level": "upper", "start": 500.0, "units": units, **more}
    base = {"wall": "C", "start": 500.0, "units": ({"unit": "base-doors", "width": 400.0},)}
    return build(document(runs=(upper, base)))


def unit(code, width, **more):
    return {"unit": code, "width": width, **more}


def lengths(kitchen, kind):
    return {p.mark: round(p.length, 3) for p in kitchen.parts if p.role == kind}


class TestPlinth:
    def test_without_returns_it_ends_with_its_units(self):
        assert lengths(build(document()), "plinth") == {"A1.plinth": 1600.0}

    def test_returns_butt_behind_the_front(self):
        run = {"wall": "A", "start": 500.0, "returns": "both", "units": (unit("base-doors", 600.0),) * 2}
        kitchen = build(document(runs=(run,)))
        # Its face is 50 behind the carcass's front and 18 thick: 560 - 50 = 510 of return behind the front piece,
        # and 2 behind the units, to the wall.
        assert lengths(kitchen, "plinth") == {
            "A1.plinth.left": 512.0,
            "A1.plinth": 1200.0,
            "A1.plinth.right": 512.0,
        }
        assert solids.clashes(kitchen.parts) == []

    def test_a_panel_at_the_end_stands_on_the_floor_so_that_nothing_returns(self):
        run = {
            "wall": "A",
            "start": 500.0,
            "returns": "right",
            "units": (unit("base-doors", 600.0), {"unit": "end-panel"}),
        }
        assert lengths(build(document(runs=(run,))), "plinth") == {"A1.plinth": 600.0}

    def test_nothing_returns_through_an_appliance_which_stands_on_the_floor(self):
        units = (unit("base-doors", 600.0), {"unit": "base-fridge"})
        run = {"wall": "A", "start": 500.0, "returns": "right", "units": units}
        with pytest.raises(InputError) as caught:
            build(document(runs=(run,)))
        assert str(caught.value) == (
            "runs[0].returns: found a plinth that turns back through A2, built-under fridge; allowed: a return "
            "beside a unit on legs. Try: an end panel beside the appliance, or no return at that end."
        )

    def test_it_follows_an_l_shaped_corner_unit(self):
        a = (unit("base-doors", 400.0), unit("base-l-corner", 900.0, hand="right"))
        b = (unit("base-doors", 400.0), {"unit": "end-panel"})
        kitchen = build(document(runs=({"wall": "A", "units": a}, {"wall": "B", "units": b})))
        # 1300 less what the wing's plinth has, 528; from there to the wing's end 900 - 528.
        assert lengths(kitchen, "plinth") == {"A1.plinth": 772.0, "A1.plinth.right": 372.0, "B1.plinth": 400.0}


class TestCorniceAndPelmet:
    def test_only_where_they_are_asked_for(self):
        kitchen = hung((unit("wall-doors", 600.0),))
        assert not [p for p in kitchen.parts if p.role in ("cornice", "pelmet")]

    def test_a_cornice_stands_20_before_fronts_and_ends_and_is_mitred(self):
        kitchen = hung((unit("wall-doors", 600.0),), cornice=True, returns="both")
        pieces = lengths(kitchen, "cornice")
        assert pieces == {
            "AU1.cornice.left": FACE + 20, "AU1.cornice": 600.0 + 2 * 20, "AU1.cornice.right": FACE + 20,
        }  # fmt: skip
        # 60 deep, mitred at 45° at both ends: its inner edge is 2 · 60 shorter than the outer.
        front = kitchen.parts_by_mark["AU1.cornice"]
        assert front.area == pytest.approx((640 + 520) / 2 * 60)
        assert solids.clashes(kitchen.parts) == []

    # A return is 60 deep, 20 of it past the end, so that one takes 40 of the row behind its front and two take 80.
    @pytest.mark.parametrize(("width", "returns", "least"), [(20.0, "left", 40), (80.0, "both", 80)])
    def test_returns_need_room_behind_the_front(self, width, returns, least):
        with pytest.raises(InputError) as caught:
            hung((unit("wall-filler", width),), cornice=True, returns=returns)
        assert str(caught.value) == (
            f"runs[0].returns: found a cornice that turns back beside a row {width:g} wide; allowed: a row wider "
            f"than {least} there. Try: a return at the other end alone or none, or a wider row."
        )

    def test_a_plinth_with_both_returns_needs_room_for_their_boards(self):
        run = {"wall": "A", "start": 500.0, "returns": "both", "units": (unit("filler", 36.0),)}
        with pytest.raises(InputError, match="a plinth that turns back beside a row 36 wide; allowed: a row wider"):
            build(document(runs=(run,)))

    def test_two_returns_in_a_row_that_is_just_wide_enough(self):
        kitchen = hung((unit("wall-filler", 81.0),), cornice=True, pelmet=True, returns="both")
        assert len(lengths(kitchen, "cornice")) == 3
        assert solids.clashes(kitchen.parts) == []

    def test_a_pelmet_is_flush_with_the_fronts_and_hangs_below_the_carcass(self):
        kitchen = hung((unit("wall-doors", 600.0),), pelmet=True, returns="right")
        assert lengths(kitchen, "pelmet") == {"AU1.pelmet": 600.0, "AU1.pelmet.right": FACE}
        low, high = zip(*(solids.bounds(p)[2::3] for p in kitchen.parts if p.role == "pelmet"), strict=True)
        assert set(low) == {1408.0 - 45.0}
        assert set(high) == {1408.0}

    def test_a_hood_parts_them_and_so_does_another_height(self):
        units = (unit("wall-doors", 300.0), {"unit": "hood", "width": 600.0}, unit("wall-doors", 400.0),
                 unit("wall-bridge", 600.0))  # fmt: skip
        kitchen = hung(units, cornice=True, pelmet=True)
        # All tops are at 2128, but the bridging unit begins higher, so that the pelmet ends before it.
        assert lengths(kitchen, "cornice") == {"AU1.cornice": 300.0, "AU3.cornice": 1000.0}
        assert lengths(kitchen, "pelmet") == {"AU1.pelmet": 300.0, "AU3.pelmet": 400.0, "AU4.pelmet": 600.0}

    def test_round_a_diagonal_unit_and_a_chamfered_end(self):
        units = (unit("wall-open-end", 300.0, hand="left"), unit("wall-diagonal", 600.0, hand="right"))
        base = {"wall": "C", "start": 500.0, "units": (unit("base-doors", 400.0),)}
        run = {"wall": "A", "level": "upper", "units": units, "cornice": True, "pelmet": True, "returns": "left"}
        kitchen = build(document(runs=(run, base)))
        pelmets = lengths(kitchen, "pelmet")
        # The chamfer of 120 cuts 120 off both edges: 120·√2 along it, and the return is as much shorter.
        assert pelmets["AU1.pelmet.left.1"] == pytest.approx(FACE - 120)
        # Before the diagonal it turns by 45°, towards the room: its inner edge is longer by 18·tan 22.5°.
        assert pelmets["AU1.pelmet"] == pytest.approx(300 - 120 + 18 * math.tan(math.pi / 8), abs=1e-3)
        assert solids.clashes(kitchen.parts) == []


@pytest.mark.parametrize("deeper", [0, 1])
def test_units_of_two_depths_have_a_plinth_each(deeper):
    """A deeper unit's legs stood in the plinth of the shallower one beside it, on whichever side that was.

    The face of a plinth is 50 behind that of its carcass and 18 thick: 528 and 588 out from the backs.
    """
    units = [{"unit": "base-doors", "width": 600.0}, {"unit": "base-doors", "width": 600.0}]
    units[deeper] |= {"to_size": True, "depth": 620.0}
    top = {"stock": "pf38.670", "decor": "pale-oak"}
    kitchen = build(document(runs=({"wall": "A", "start": 500.0, "units": tuple(units)},), worktop=top))
    plinths = [part for part in kitchen.parts if part.role == "plinth"]
    assert [part.length for part in plinths] == [pytest.approx(600.0)] * 2
    unit = kitchen.units[0].frame
    faces = sorted(unit.from_room(part.pose.to_room((0.0, 0.0, part.thickness)))[1] for part in plinths)
    assert faces == [pytest.approx(560.0 - 50.0 + 18.0), pytest.approx(620.0 - 50.0 + 18.0)]
    assert solids.clashes(kitchen.parts) == []
