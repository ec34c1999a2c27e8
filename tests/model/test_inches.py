"""Lengths typed in feet and inches: their millimetres, and a file that keeps them as they were typed.

25.4 mm to an inch exactly is the international yard and pound agreement of 1959 (from memory).
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from countersunk.model.checks.finding import as_shown
from countersunk.model.edit.edits import edited
from countersunk.model.edit.kitchen_file import as_yaml, uploaded
from countersunk.model.errors import InputError
from countersunk.model.files import inches
from countersunk.model.files.writing import scalar
from countersunk.model.kitchen import read_kitchen
from countersunk.model.showing import show_lengths
from tests.specimens import document

WORKED = {
    '24"': 609.6, "24 in": 609.6, "23 5/8": 600.075, '23-5/8"': 600.075, '5/8"': 15.875, "1/64": 0.396875,
    "7'": 2133.6, "7' 3\"": 2209.8, "7'3 1/2\"": 2222.5, "7 ft 3-1/2 in": 2222.5, '-3/4"': -19.05, '25.5"': 647.7,
}  # fmt: skip
"""By hand: feet times 12, and all times 25.4."""


@pytest.mark.parametrize(("text", "mm"), WORKED.items())
def test_a_length_in_inches_is_what_was_worked_by_hand(text, mm):
    assert inches.read(text) == mm


@pytest.mark.parametrize(
    "text",
    [
        "24",
        "",
        '"',
        "in",
        "ft",
        "9/8",
        "8/8",
        "5/7",
        "1/3",
        "23 5/8 mm",
        "23. 5/8",
        "7' 12\"",
        "1 2 3/4",
        "5/",
        "a",
    ],
)
def test_what_no_rule_shows_is_no_length(text):
    assert inches.read(text) is None


@given(st.integers(-100_000, 100_000))
def test_any_mark_of_a_rule_is_written_and_read_again(marks):
    mm = float(Fraction(marks, 64) * Fraction("25.4"))
    assert inches.read(inches.nearest(mm)) == mm
    assert inches.exactly(mm) == inches.nearest(mm)


@given(st.floats(-3000, 3000), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_the_nearest_mark_is_within_half_a_part(mm, part):
    assert abs(inches.read(inches.nearest(mm, part)) - mm) <= 25.4 / part / 2 + 1e-9


def typed(start):
    """A kitchen file whose row begins at ``start`` as it is typed, with a comment beside it."""
    units = ({"unit": "base-doors", "width": 400.0}, {"unit": "base-sink", "width": 600.0})
    text = as_yaml(document(runs=({"wall": "A", "start": 508.0, "units": units},), cutouts=())).decode()
    assert "start: 508\n" in text
    return text.replace("start: 508\n", f"start: {start}  # as read\n").encode()


def test_a_file_in_inches_is_the_same_kitchen_and_an_edit_keeps_what_was_typed():
    file = uploaded(typed('20"'), "typed")
    assert file.document.runs[0].start == 508.0
    longer = edited(file.document, {"room.walls[2].length": 2900.0})
    assert 'start: 20"  # as read' in file.saying(longer).raw.decode()
    moved = edited(file.document, {"runs[0].start": 533.4})
    assert 'start: 21"  # as read' in file.saying(moved).raw.decode()
    off = edited(file.document, {"runs[0].start": 530.0})
    assert "start: 530  # as read" in file.saying(off).raw.decode()


def test_inches_that_do_not_fit_are_refused_with_their_line():
    with pytest.raises(InputError, match=r"k\.yaml:\d+: runs\[0\]\.start: found \"9/8\"; allowed: a number"):
        read_kitchen(typed("9/8"), "k.yaml")


def test_a_text_that_reads_as_inches_is_written_in_quotes():
    assert scalar("12 in") == '"12 in"'
    assert scalar("12 inches") == "12 inches"


def test_lengths_in_findings_are_shown_in_inches_where_the_kitchen_asks_for_it():
    """600 / 25.4 is 23.62, which is nearest to 23 10/16; 19.05 is 3/4 of an inch."""
    try:
        show_lengths("inch")
        assert as_shown(600.0, "mm") == '600 mm (23 5/8")'
        assert as_shown(19.05, "mm") == '19.1 mm (3/4")'
        assert as_shown(25.4, "kg") == "25.4 kg"
    finally:
        show_lengths("mm")
    assert as_shown(600.0, "mm") == "600 mm"
