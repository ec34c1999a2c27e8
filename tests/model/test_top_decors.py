"""Tops by row: the decor of a row's worktop goes through parts, plans, orders, sheets and words."""

import pytest

from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import Role
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.viewer.quoting.words import scope
from countersunk.viewer.scene.labels import part_label
from tests.specimens import cornered, document, square

ISLAND = {
    "name": "I", "wall": "A", "along": 700.0, "out": 1900.0, "top": "rain-slate", "stock": "pf38.900",
    "units": ({"unit": "base-doors", "width": 600.0}, {"unit": "base-sink", "width": 600.0}),
}  # fmt: skip


@pytest.fixture(scope="module")
def kitchen():
    worktop = {"stock": "pf38.600", "decor": "pale-oak", "upstand": {"stock": "upstand.100"}}
    cutouts = ({"template": "sink.one-bowl", "over": "I2"},)
    made = {"room": square(4200.0), "islands": (ISLAND,), "worktop": worktop, "cutouts": cutouts}
    return build(document(**made))


def test_the_island_has_its_own_and_the_wall_that_of_the_kitchen(kitchen):
    assert [(length.id, length.run.top) for length in kitchen.lengths] == [("T1", "pale-oak"), ("T2", "rain-slate")]
    decors = {part.mark: kitchen.decor_of(part) for part in kitchen.parts if part.role is Role.WORKTOP}
    assert decors == {"T1": "pale-oak", "T2": "rain-slate"}
    upstands = {kitchen.decor_of(part) for part in kitchen.parts if part.role is Role.UPSTAND}
    assert upstands == {"pale-oak"}


def test_each_is_bought_cut_and_finished_in_its_own(kitchen):
    lines = {(q.item, q.decor) for q in estimate(kitchen).quantities if q.decor in ("pale-oak", "rain-slate")}
    assert {("edging.38", "pale-oak"), ("edging.38", "rain-slate")} < lines
    lengths = {decor for item, decor in lines if item.startswith(("pf38.600.", "pf38.900."))}
    assert lengths == {"pale-oak", "rain-slate"}


def test_people_read_both(kitchen):
    (first, *_) = scope(kitchen)["Worktop"]
    assert first.startswith("Pale oak and Rain slate, laminate")
    assert part_label(kitchen.parts_by_mark["T2"], kitchen).endswith("rain slate")


def test_tops_that_are_joined_have_one():
    free = cornered(90.0).model_dump(exclude_unset=True)
    one, other = free["runs"]
    with pytest.raises(
        InputError, match=r"runs\[1\].top: found a top in rain-slate that is joined to one in pale-oak"
    ):
        build(document(**{**free, "runs": (one, {**other, "top": "rain-slate"})}))
    both = ({**one, "top": "rain-slate"}, {**other, "top": "rain-slate"})
    assert build(document(**{**free, "runs": both})).top_decors == ("rain-slate",)


def test_a_decor_that_there_is_not():
    with pytest.raises(InputError, match=r"islands\[0\].top: found 'slate'"):
        build(document(room=square(4200.0), islands=({**ISLAND, "top": "slate"},)))
