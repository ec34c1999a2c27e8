"""Mirror: twice is the same kitchen, every part lies where a mirror shows it, and the order is the same."""

import numpy as np
import pytest

from countersunk.model.catalogue.catalogue import default_catalogue
from countersunk.model.document.keys import names_by_key
from countersunk.model.document.schema import Document
from countersunk.model.edit.mirror import mirrored
from countersunk.model.geometry import solids
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from tests.specimens import DEMOS, SOME_DEMOS, SQUARE_ROOM, document, open_kitchen

BOUGHT = ("appliance", "sink", "hob")
"""Kinds that are not mirrored: a microwave's keys, the drainer of a sink."""


@pytest.fixture(scope="module", params=SOME_DEMOS, ids=lambda p: p.stem)
def pair(request):
    kitchen = open_kitchen(request.param)
    return kitchen, build(mirrored(kitchen.document))


def places(kitchen, mirror):
    """Role, material and the bounds of every part along wall A, as seen in the mirror or not."""
    wall = kitchen.survey.wall("A")
    found = []
    for part in kitchen.parts:
        if part.role not in BOUGHT:
            seen = np.array([wall.frame.from_room(tuple(v)) for v in solids.mesh(part)[0]])
            seen[:, 0] = wall.length - seen[:, 0] if mirror else seen[:, 0]
            found.append((part.role, part.material, *seen.min(axis=0), *seen.max(axis=0)))
    return found


def test_every_part_lies_where_the_mirror_shows_it(pair):
    kitchen, other = pair
    here, there = places(kitchen, True), places(other, False)
    assert len(here) == len(there)
    for kind, material in {p[:2] for p in here}:
        a, b = (np.array([p[2:] for p in x if p[:2] == (kind, material)]) for x in (here, there))
        apart = np.abs(a[:, None, :] - b[None, :, :]).max(axis=2)
        # Every one has its own partner; places are written to a thousandth of a millimetre.
        assert sorted(apart.argmin(axis=1)) == list(range(len(a))), (kind, material)
        assert apart.min(axis=1).max() < 0.01, (kind, material)


def test_the_order_is_the_same(pair):
    def order(kitchen):
        # Places are written to a thousandth of a millimetre, and stock is cut by hundredths, rounded up.
        return {(q.item, q.decor): (pytest.approx(q.net, rel=1e-5), q.packs) for q in estimate(kitchen).quantities}

    kitchen, other = pair
    assert order(kitchen) == order(other)


def test_twice_is_the_same_kitchen(pair):
    kitchen, other = pair
    twice = build(mirrored(other.document))
    assert [p.id for p in twice.parts] == [p.id for p in kitchen.parts]
    for a, b in zip(kitchen.parts, twice.parts, strict=True):
        assert np.allclose(solids.bounds(a), solids.bounds(b), atol=0.01), a.id
    assert mirrored(mirrored(other.document)) == other.document


def test_a_top_is_joined_in_line_at_the_same_place():
    # 4320 of top: parting it at 1920 takes as much stock as at 1998 or 2322, which part it more evenly.
    widths = (400.0, 800.0, 600.0, 600.0, 900.0, 1000.0)
    run = {"wall": "A", "start": 500.0, "units": tuple({"unit": "base-doors", "width": w} for w in widths)}
    walls = tuple({**wall, "length": 6000.0} for wall in SQUARE_ROOM)
    plain = document(room={"walls": walls}, runs=(run,))
    found = [[length.part.length for length in build(d).lengths] for d in (plain, mirrored(plain))]
    assert found[0] == pytest.approx(found[1][::-1])
    assert sum(found[0]) == pytest.approx(4320.0)


def test_an_island_that_stands_past_the_end_of_its_wall_is_mirrored_to_before_its_beginning():
    # 764 + 1200 along a wall of 1851 in an open survey: 113 past its end.
    units = ({"unit": "base-doors", "width": 600.0},) * 2
    island = {"name": "I", "wall": "B", "along": 764.0, "out": 900.0, "stock": "pf38.670", "units": units}
    walls = ({"name": "A", "length": 3431.0, "corner": 114.4}, {"name": "B", "length": 1851.0})
    other = mirrored(build(document(room={"walls": walls}, islands=(island,))).document)
    assert other.islands[0].along == pytest.approx(-113.0)
    assert mirrored(build(other).document).islands[0].along == pytest.approx(764.0)


def test_what_is_at_the_very_end_of_an_adjusted_wall_is_mirrored():
    # The survey misses itself by 2 mm, so that walls have no whole lengths: a socket at 0 is written at 2999.333
    # from the other end of a wall 2999.3326 long.
    walls = [{"name": n, "length": 3000.0, "corner": 90.0} for n in "ABCD"]
    walls[2]["length"] = 2998.0
    socket = {"kind": "socket", "wall": "A", "at": 0.0, "height": 300.0}
    door = {"kind": "door", "wall": "B", "at": 0.0, "width": 700.0}
    kitchen = build(document(room={"walls": tuple(walls), "services": (socket,), "openings": (door,)}))
    ends = {wall.name: wall.length for wall in kitchen.survey.walls}
    other = mirrored(kitchen.document)
    assert other.room.services[0].at == pytest.approx(ends["A"], abs=1e-3)
    assert other.room.services[0].at != ends["A"]
    assert build(other).survey.services[0].x == pytest.approx(ends["A"], abs=1e-3)
    assert mirrored(other).room.services[0].at == pytest.approx(0.0, abs=1e-3)


def test_a_small_one_by_hand():
    # Wall A is 3000: units of 400, 600 and 600 from 500 to 2100 stand from 900 to 2500, the narrow one last.
    bow = {"every": 1000.0, "offsets": (0.0, 4.0, 7.0, 0.0)}
    kitchen = document(
        cutouts=({"template": "sink.one-bowl", "over": "A2", "shift": 15.0},),
        room={
            "walls": (
                {"name": "A", "length": 3000.0, "corner": 91.0, "bow": bow},
                {"name": "B", "length": 2000.0, "diagonal": {"legs": (900.0, 1200.0), "length": 1500.0}},
                {"name": "C", "length": 3000.0},
            ),
            "openings": ({"kind": "door", "wall": "B", "at": 300.0, "width": 800.0, "swing": "left"},),
            "services": ({"kind": "water", "wall": "C", "at": 100.0, "height": 500.0},),
        },
    )  # fmt: skip
    other = mirrored(kitchen)
    (run,) = other.runs
    assert (run.start, [u.width for u in run.units], run.units[0].hand) == (900.0, [600.0, 600.0, 400.0], "right")
    assert (names_by_key(other)[other.cutouts[0].over], other.cutouts[0].shift) == ("A2", -15.0)
    walls = {wall.name: wall for wall in other.room.walls}
    assert list(walls) == ["C", "B", "A"]
    assert walls["C"].diagonal.legs == (1200.0, 900.0)
    assert (walls["B"].corner, walls["A"].corner) == (91.0, None)
    assert walls["A"].bow.offsets == (0.0, 7.0, 4.0, 0.0)
    assert (other.room.openings[0].at, other.room.openings[0].swing) == (900.0, "right")
    assert other.room.services[0].at == 2900.0


def test_a_hole_in_an_upstand():
    hole = {"wall": "A", "at": 800.0, "up": 50.0, "width": 100.0, "height": 60.0}
    stock = next(iter(default_catalogue().upstands))
    top = {"stock": "pf38.600", "decor": "pale-oak", "upstand": {"stock": stock, "holes": (hole,)}}
    (other,) = mirrored(document(worktop=top)).worktop.upstand.holes
    assert (other.at, other.up) == (2200.0, 50.0)


def test_names_follow_their_units():
    units = ({"unit": "base-doors", "width": 400.0}, {"unit": "base-sink", "width": 600.0, "name": "wash"})
    kitchen = document(
        runs=({"wall": "A", "start": 500.0, "units": (*units, {"unit": "base-hob", "width": 600.0})},),
        cutouts=({"template": "sink.one-bowl", "over": "wash"}, {"template": "hob.electric-60", "over": "A3"}),
    )
    assert [c.over for c in mirrored(kitchen).cutouts] == [c.over for c in kitchen.cutouts]
    assert [c.unit.name for c in build(mirrored(kitchen)).cutouts] == ["wash", "A1"]


def test_a_bow_read_only_part_of_the_way_is_read_again_from_the_other_end():
    # Stations at 0, 1000 and 2000 of 3000; from 7 at 2000 the face runs straight to the wall's end.
    walls = ({"name": "A", "length": 3000.0, "bow": {"every": 1000.0, "offsets": (0.0, 4.0, 7.0)}},)
    bow = mirrored(document(room={"walls": walls})).room.walls[0].bow
    assert bow.every == pytest.approx(100.0)
    assert [bow.offsets[i] for i in (0, 5, 10, 15, 20, 30)] == pytest.approx([0.0, 3.5, 7.0, 5.5, 4.0, 0.0])


def test_a_turn_of_the_way_in_goes_to_the_other_side():
    data = open_kitchen(next(p for p in DEMOS if p.stem == "corner")).document
    turns = [stage.turn.to for stage in data.access if stage.turn]
    assert turns
    assert [s.turn.to for s in mirrored(data).access if s.turn] == [
        {"left": "right", "right": "left"}[t] for t in turns
    ]


def test_it_is_a_document_as_a_file_could_have_it():
    other = mirrored(document())
    assert Document.model_validate(other.model_dump(exclude_unset=True)) == other


def test_an_external_corner_stays_one():
    across = {"legs": (600.0, 900.0), "length": 1080.0, "external": True}
    walls = ({"name": "A", "length": 3000.0, "diagonal": across}, {"name": "B", "length": 2000.0})
    other = mirrored(document(room={"walls": walls}))
    assert other.room.walls[0].diagonal.legs == (900.0, 600.0)
    assert other.room.walls[0].diagonal.external
