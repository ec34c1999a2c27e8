"""Free ends that are round, bowed or of three sides: outline, edging along the curve, what carries and covers."""

import math

import pytest

from countersunk.model.checks.finding import Aspect
from countersunk.model.checks.registry import MEASURES
from countersunk.model.errors import InputError
from countersunk.model.geometry import solids
from countersunk.model.geometry.identity import Role
from countersunk.takeoff.measuring.registry import measured
from countersunk.viewer.saw.cuts import saw_cuts
from tests.model.test_checks import kitchen, run, unit


def isle(*corners):
    """An island of 1200 in the middle of a room with a top 900 deep of 600 kg/m³, 302 of it behind its units."""
    rows = {"name": "I", "wall": "A", "along": 900.0, "out": 1200.0, "stock": "pf38.900",
            "units": (unit("base-doors", 600),) * 2}  # fmt: skip
    return rows, {"stock": "pf38.600", "decor": "pale-oak", "corners": corners}


def built(**corner):
    rows, top = isle({"over": "I2", "end": "right", **corner})
    return kitchen(run(unit("base-doors", 600)), islands=(rows,), worktop=top)


def exposed_end(made):
    """The edge at the right end of the island's top."""
    top = next(length for length in made.lengths if length.run.name == "I")
    shares = {share.id: share.amount for share in measured(made)["exposed-edges"]}
    ends = [e for e in top.part.edges if e.id in shares and e.path.bounds[2] > top.part.length - 1.0]
    return top, [shares[e.id] for e in ends]


def test_a_round_end_is_half_a_circle_and_its_edging_is_as_long():
    made = built(edge="both", radius=450.0, past=460.0, post=True)
    top, [edge] = exposed_end(made)
    assert top.part.length == pytest.approx(10 + 1200 + 460)
    assert edge == pytest.approx(math.pi * 450, abs=0.3)
    lost = 900 * 900 / 2 - math.pi * 450**2 / 2
    assert top.part.area == pytest.approx(1670 * 900 - lost, rel=1e-4)
    # A post of 60 has its middle 150 before the tip: 120 of the end stand past it.
    [post] = [p for p in made.parts if p.role is Role.POST]
    assert post.material == "post.870"
    ends = [p.value for p in MEASURES["worktop.end_overhang"].take(made) if p.where.subject.key == top.key]
    assert ends == [pytest.approx(10.0), pytest.approx(120.0)]
    assert solids.clashes(made.parts) == []


def test_an_end_of_three_sides_has_two_cuts_of_45_degrees():
    _, [edge] = exposed_end(built(edge="both", clip=200.0))
    assert edge == pytest.approx(2 * 200 * math.sqrt(2) + 500)


def test_a_bowed_end_is_one_arc_through_both_corners():
    # A chord of 900 with a rise of 100 is of a circle of (450² + 100²) / 200 = 1062.5.
    _, [edge] = exposed_end(built(bow=100.0, past=120.0))
    assert edge == pytest.approx(2 * 1062.5 * math.asin(450 / 1062.5), abs=0.2)


def test_what_a_round_end_leaves_bare_is_found():
    made = built(edge="both", radius=450.0, past=100.0)
    top, _ = exposed_end(made)
    [right] = [
        p.value for p in MEASURES["worktop.end_cover"].take(made)
        if p.where.subject.key == top.key and p.where.side is Aspect.RIGHT_END
    ]  # fmt: skip
    assert right < 0


@pytest.mark.parametrize(
    ("corner", "told"),
    [
        ({"edge": "both", "radius": 500.0}, "at most 450"),
        ({"bow": 470.0}, "at most 450"),
        ({"bow": 50.0, "clip": 20.0}, "one of them"),
        ({}, "one of them"),
    ],
)
def test_ends_that_cannot_be_are_one_clear_error(corner, told):
    with pytest.raises(InputError, match=told):
        built(**corner)


def test_the_page_at_the_saw_shows_the_whole_end():
    made = built(edge="both", radius=450.0, past=460.0, post=True)
    titles = [cut.title for cut in saw_cuts(made) if cut.key.startswith("corner")]
    assert titles == ["T2: both right corners seen from above, R450"]
