"""What lights up in the view when a line of a table is chosen."""

import pytest

from countersunk.viewer.app.reading import keys_of, laid_out, parts_behind, read
from tests.specimens import DEMOS, FEW_DEMOS, open_kitchen


@pytest.mark.parametrize("path", FEW_DEMOS, ids=lambda p: p.stem)
def test_every_finding_and_every_line_has_parts_behind_it(path):
    reading = read(open_kitchen(path).document)
    known = set(reading.kitchen.parts_by_id)
    lines = [q.ids for q in reading.takeoff.quantities] + [keys_of(f) for f in reading.findings if f.ids]
    for ids in lines:
        lit = parts_behind(reading, ids)
        assert lit
        assert set(lit) <= known


def test_a_unit_a_join_an_edge_and_a_cutout_light_their_parts():
    reading = read(open_kitchen(next(p for p in DEMOS if p.stem == "corner")).document)
    marks = reading.kitchen.marks
    keys = {mark: key for key, mark in marks.items()}

    def behind(mark):
        return tuple(marks[id_] for id_ in parts_behind(reading, (keys[mark],)))

    assert behind("J1") == ("T1", "T2")
    assert behind("T1.e1") == ("T1",)
    assert "A2.side.left" in behind("A2")
    assert "hob.glass" in behind("T2/hob")
    assert parts_behind(reading, ("A",)) == ()


def test_boards_are_laid_out_only_when_asked_for_and_the_scene_stays():
    plain = read(open_kitchen(next(p for p in DEMOS if p.stem == "straight")).document)
    planned = laid_out(plain.kitchen.document)
    assert plain.takeoff.boards == ()
    assert {plan.board.code for plan in planned.takeoff.boards} == {"pb18", "pb10", "pb15", "front18"}
    assert planned.scene is plain.scene
    notes = {q.item: q.note for q in planned.takeoff.quantities if q.rule == "boards"}
    assert set(notes.values()) == {""}
