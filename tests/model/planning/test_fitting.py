"""Widths that fill a length: against every combination tried out, and by hand."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from countersunk.model.catalogue.catalogue import default_catalogue
from countersunk.model.planning.fitting import Slot, fill, fit, points, slot_of
from tests.lanes import tries

FAMILIES = default_catalogue().families
WIDTHS = st.lists(st.sampled_from([200, 300, 400, 450, 500, 600, 800]), min_size=1, max_size=4, unique=True)
UNITS = WIDTHS.map(lambda w: Slot(widths=tuple(map(float, w))))
FILLERS = st.builds(
    Slot, low=st.sampled_from([20.0, 50.0]), high=st.sampled_from([60.0, 200.0]), optional=st.booleans()
)


def tried_out(slots, length):
    """Left over and points of the best of all combinations, fillers by the limits of those that are there."""
    found = []
    choices = [s.widths or ((0.0, None) if s.optional else (None,)) for s in slots]
    for chosen in product(*choices):
        there = [s for s, w in zip(slots, chosen, strict=True) if s.is_filler and w is None]
        units = [(s, w) for s, w in zip(slots, chosen, strict=True) if not s.is_filler]
        rest = length - sum(w for _, w in units)
        if rest >= sum(s.low for s in there):
            used = min(rest, sum(s.high for s in there))
            free = [w for s, w in units if len(s.widths) > 1]
            found.append((round(rest - used, 3), points(free, used)))
    return min(found, default=None)


@settings(max_examples=tries(150), deadline=None)
@given(st.lists(st.one_of(UNITS, UNITS, FILLERS), min_size=1, max_size=5), st.integers(100, 3000))
def test_no_combination_is_better(slots, length):
    found, best = fit(slots, float(length)), tried_out(slots, float(length))
    if best is None:
        assert found.left_over < 0
        return
    free = [w for s, w in zip(slots, found.widths, strict=True) if len(s.widths) > 1]
    filler = sum(w for s, w in zip(slots, found.widths, strict=True) if s.is_filler)
    assert (found.left_over, points(free, filler)) == pytest.approx(best)


@settings(max_examples=tries(100), deadline=None)
@given(st.lists(st.one_of(UNITS, FILLERS), min_size=1, max_size=6), st.floats(500.0, 6000.0))
def test_widths_are_allowed_and_add_up(slots, length):
    found = fit(slots, length)
    assert sum(found.widths) + found.left_over == pytest.approx(length, abs=0.11)
    for slot, width in zip(slots, found.widths, strict=True):
        if found.left_over < 0:
            continue
        if slot.is_filler:
            assert (width == 0.0 and slot.optional) or slot.low <= width <= slot.high
        else:
            assert width in slot.widths


def test_by_hand():
    # 2183 = filler 65 + 900 + hob 600 + 600 + panel 18: two widths of 800 would leave 115 for the filler, and no
    # three widths of the catalogue leave less than its 50 (common practice, no source)
    families = ("filler", "base-drawers", "base-hob", "base-doors", "end-panel")
    slots = [slot_of(FAMILIES[code], least=50.0 if code == "filler" else 0.0) for code in families]
    slots[2] = slot_of(FAMILIES["base-hob"], 600.0)
    assert fit(slots, 2183.0).widths == (65.0, 900.0, 600.0, 600.0, 18.0)


def test_equal_widths_are_preferred_to_a_little_less_filler():
    slots = [slot_of(FAMILIES["base-drawers"])] * 2 + [slot_of(FAMILIES["filler"])]
    assert fit(slots, 1250.0).widths == (600.0, 600.0, 50.0)


def test_what_cannot_be_filled_is_told():
    slots = [slot_of(FAMILIES["base-drawers"])] * 3
    assert (fit(slots, 1234.0).widths, fit(slots, 1234.0).left_over) == ((400.0,) * 3, 34.0)
    assert fit(slots, 800.0).left_over == -100.0


def test_fill_takes_the_fewest_units():
    widths = FAMILIES["base-drawers"].widths
    assert fill(0.0, widths) == ()
    assert fill(1600.0, widths) == (800.0, 800.0)
    assert fill(550.0, widths) is None
