"""Sockets and what stands in the room, worked by hand: the top's face is 908 high, 600 deep on wall A (y = 0)."""

import pytest

from tests.model.test_checks import HOB, SINK, kitchen, let_in, measured, run, unit, value, verdict, verdicts
from tests.specimens import square

DOORS = unit("base-doors", 600)


def room(*services, size=4000.0, **more):
    placed = ({"kind": k, "wall": w, "at": float(at), "height": float(h)} for k, w, at, h in services)
    return square(size, services=tuple(placed), **more)


def with_sink(*services):
    """A sink over 1000 to 1600: its rim from 1050 to 1550, 50 to 550 from the wall."""
    return kitchen(run(unit("base-sink", 600), start=1000), cutouts=(let_in(SINK, "A1"),), room=room(*services))


@pytest.mark.parametrize(("height", "places"), [(300, 0), (908, 0), (909, 1), (2499, 1), (2500, 0)])
def test_only_sockets_over_the_worktop_and_up_to_2500_count(height, places):
    row, where = run(unit("base-hob", 600), start=1000), room(("socket", "A", 1300, height), height=2600.0)
    assert len(measured("services.to_hob", kitchen(row, cutouts=(let_in(HOB, "A1"),), room=where))) == places


def test_above_a_hood_a_socket_does_not_count():
    hood = run(unit("hood", 600), start=1000, level="upper")
    row = run(unit("base-hob", 600), start=1000)
    for height, places in ((1600, 1), (1700, 0)):
        where = room(("socket", "A", 1300, height), height=2600.0)
        assert (
            len(measured("services.to_hob", kitchen(row, hood, cutouts=(let_in(HOB, "A1"),), room=where))) == places
        )


@pytest.mark.parametrize(("height", "outcomes"), [(1308, ["not met"]), (1309, []), (909, ["not met"])])
def test_the_zone_over_a_sink(height, outcomes):
    assert verdicts("socket-in-sink-zone", with_sink(("socket", "A", 1300, height))) == outcomes


@pytest.mark.parametrize(
    ("sockets", "reach", "outcome"),
    [
        ((600,), 1110, "not met"),
        ((1100,), 610, "not met"),
        ((492, 1710), 609, "met"),
        ((491, 1711), 610, "not met"),
        ((1000, 1400), 510, "met"),
        ((500, 1700), 600, "met"),
    ],
)
def test_receptacles_along_a_counter(sockets, reach, outcome):
    # The top lies from 490 to 1710.
    built = kitchen(run(DOORS, DOORS), room=room(*(("socket", "A", at, 1100) for at in sockets)))
    assert value("services.along_counter", built) == pytest.approx(reach)
    assert verdict("counter-receptacles", built) == outcome


def test_a_counter_with_sockets_on_another_wall_only_is_not_measured():
    built = kitchen(run(DOORS), room=room(("socket", "B", 600, 1100)))
    assert verdict("counter-receptacles", built) == "not measured"
    assert measured("services.along_counter", kitchen(run(DOORS), room=room())) == {}


def test_a_counter_narrower_than_12_in_needs_no_socket():
    narrow = kitchen(run(unit("base-doors", 200)), room=room(("socket", "A", 3000, 1100)))
    assert measured("services.along_counter", narrow) == {}


@pytest.mark.parametrize(
    ("height", "low", "high"), [(449, "worth a look", "met"), (450, "met", "met"), (1201, "met", "worth a look")]
)
def test_height_of_sockets(height, low, high):
    built = kitchen(run(DOORS), room=room(("socket", "C", 1000, height)))
    assert [verdict(r, built) for r in ("socket-height-low", "socket-height-high")] == [low, high]


def column(at, out=0.0, depth=300.0):
    return {"kind": "column", "wall": "A", "at": float(at), "width": 300.0, "depth": depth, "out": out}


@pytest.mark.parametrize(("at", "outcome"), [(1645, "met"), (1644, "not met")])
def test_a_column_beside_a_hob_is_a_side(at, outcome):
    row = run(unit("base-hob", 600), start=1000)
    built = kitchen(row, cutouts=(let_in(HOB, "A1"),), room=room(obstacles=(column(at),)))
    sides = measured("hob.to_side", built)
    assert sides["hob, right: column 1"] == pytest.approx(at - 1595)
    assert outcome in verdicts("hob-electric-to-side", built)


def test_a_column_narrows_an_aisle_and_the_way():
    # A free column stands 1500 out from wall A: 900 before the top, although the wall opposite is 3400 away.
    built = kitchen(run(DOORS, DOORS), room=room(obstacles=(column(800, out=1500.0),)))
    assert min(v for v in measured("walkways.aisle", built).values() if v) == pytest.approx(900)
