"""Fit: what has no place is refused, and only that. Each case once stood for a kitchen that a person might type."""

import pytest

from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from tests.specimens import SQUARE_ROOM, document


def run(*units, **changes):
    row = tuple({"unit": code, **({"width": float(width)} if width else {})} for code, width in units)
    return {"wall": "A", "units": row, **changes}


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        # A panel that stands alone is one upright board: its plan is not its outline.
        (
            {
                "runs": (
                    run(("base-doors", 400), ("tall-panel", None)),
                    run(("wall-doors", 600), level="upper", start=100.0),
                )
            },
            "AU1.* in the place of A2.panel",
        ),
        (
            {
                "runs": (
                    run(("base-doors", 600)),
                    run(("base-doors", 600), wall="B"),
                    run(("base-doors", 600), start=2400.0),
                )
            },
            "in the place of",
        ),
        (
            {
                "runs": (run(("base-doors", 600), start=500.0),),
                "room": {
                    "walls": SQUARE_ROOM,
                    "openings": ({"kind": "door", "wall": "A", "at": 900.0, "width": 800.0},),
                },
            },
            "A1 from 500 to 1100; allowed: clear of the door from 900 to 1700",
        ),
        (
            {"runs": (run(("tall-larder", 600)),), "room": {"walls": SQUARE_ROOM, "height": 2100.0}},
            "A1, 2128 high; allowed: the room's 2100",
        ),
        (
            {
                "islands": (
                    {
                        "name": "I",
                        "wall": "A",
                        "along": 2500.0,
                        "out": 1500.0,
                        "units": ({"unit": "base-doors", "width": 600.0},),
                        "stock": "pf38.670",
                    },
                )
            },
            "I1 in wall B",
        ),
    ],
    ids=["panel in wall unit", "two rows in a corner", "before a door", "under a low ceiling", "island in a wall"],
)
def test_what_has_no_place_is_refused(changes, words):
    with pytest.raises(InputError, match=words):
        build(document(**changes))


def test_a_top_that_ends_within_its_own_join_is_refused():
    # Random kitchens found it: a 200 wide row right in a corner of 144 degrees, so that hardly any male was left.
    walls = ({"name": "A", "length": 2000.0, "corner": 144.0}, {"name": "B", "length": 1800.0})
    rows = (run(("base-doors", 200), wall="B"), run(("base-doors", 200), ("base-corner", 1100)))
    mitred = {"stock": "pf38.600", "decor": "pale-oak", "joins": ({"corner": "A-B", "kind": "mitre"},)}
    with pytest.raises(InputError, match="a worktop that ends within its own join"):
        build(document(room={"walls": walls}, runs=rows, worktop=mitred))


def test_a_base_unit_may_stand_under_a_window():
    window = {"kind": "window", "wall": "A", "at": 500.0, "width": 1200.0, "sill": 1000.0, "head": 2000.0}
    assert build(document(room={"walls": SQUARE_ROOM, "openings": (window,)})).units


def test_units_that_touch_do_not_clash():
    assert build(document(runs=(run(*[("base-doors", 600)] * 5),))).units[-1].right == 3000.0


@pytest.mark.parametrize("name", ["A1", "T1"])
def test_a_sink_may_not_have_the_name_of_a_unit_or_a_length(name):
    with pytest.raises(InputError, match=f"found '{name}', a name already given"):
        build(document(cutouts=({"template": "sink.one-bowl", "over": "A2", "name": name},)))


def test_two_sinks_are_told_apart_by_number():
    row = run(("base-sink", 600), ("base-doors", 400), ("base-sink", 600), start=500.0)
    sinks = tuple({"template": "sink.one-bowl", "over": over} for over in ("A1", "A3"))
    assert [c.name for c in build(document(runs=(row,), cutouts=sinks)).cutouts] == ["sink", "sink2"]
