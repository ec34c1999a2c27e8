"""Adjustment of rooms by lot: against a general solver, coverage of the stated σ, and rooms that nothing holds."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import least_squares

from countersunk.model.adjustment.least_squares import Network, UndeterminedError, adjust
from countersunk.model.adjustment.limits import chi_square_limit
from countersunk.model.adjustment.observations import Angle, Distance
from countersunk.model.adjustment.snooping import judge
from tests.model.adjustment import rooms


@pytest.mark.parametrize("seed", range(21))
def test_a_room_is_where_scipys_least_squares_puts_it(seed):
    lots = np.random.default_rng(seed)
    network, _ = rooms.network(lots, 4 + seed % 7)
    ours = adjust(network)
    start = [network.start[key] for key in network.free]
    fine = {"jac": "3-point", "x_scale": "jac", "xtol": 1e-15, "ftol": 1e-15, "gtol": 1e-15}
    theirs = least_squares(rooms.misfits(network), start, **fine)
    assert [ours.at[key] for key in network.free] == pytest.approx(theirs.x, abs=1e-6)
    assert ours.chi_square == pytest.approx(2 * theirs.cost, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("seed", range(14))
def test_slopes_are_those_of_small_steps(seed):
    network, _ = rooms.network(np.random.default_rng(100 + seed), 4 + seed % 7)
    of, start = rooms.misfits(network), np.array([network.start[key] for key in network.free])
    steps = 1e-3 * np.eye(len(start))
    columns = [-(of(start + step) - of(start - step)) / 2e-3 for step in steps]
    assert network.design(network.start) == pytest.approx(np.column_stack(columns), abs=1e-5)


@pytest.mark.slow
def test_stated_deviations_cover_what_errors_there_are():
    """400 surveys of one room of six walls: coordinates spread as stated, vᵀPv is χ², 1 in 20 fails the test."""
    lots = np.random.default_rng(7)
    network, true = rooms.network(lots, 6)
    off, whole = [], []
    for _ in range(400):
        at = {(f"P{i}", axis): float(v) for i, p in enumerate(true) for axis, v in zip("xy", p, strict=True)}
        read = [rooms.with_errors(o, at, lots) for o in network.observations]
        net = adjust(Network(at, network.fixed, tuple(read)))
        off.append([(net.at[k] - at[k]) / net.deviation(k) for k in net.network.free])
        whole.append(net.chi_square)
    assert np.std(off, axis=0) == pytest.approx(np.ones(len(network.free)), abs=0.15)
    assert np.mean(whole) == pytest.approx(network.freedom, rel=0.1)
    assert np.mean(np.array(whole) > chi_square_limit(network.freedom)) == pytest.approx(0.05, abs=0.03)


SQUARE = {"P0": (0.0, 0.0), "P1": (4000.0, 0.0), "P2": (4000.0, -3000.0), "P3": (0.0, -3000.0)}
FOUR = tuple(
    Distance(a + b, d, 1.5, a, b)
    for a, b, d in (("P0", "P1", 4000), ("P1", "P2", 3000), ("P2", "P3", 4000), ("P3", "P0", 3000))
)


def square(*more):
    keys = {(p, axis): v for p, at in SQUARE.items() for axis, v in zip("xy", at, strict=True)}
    return Network(keys, frozenset({("P0", "x"), ("P0", "y"), ("P1", "y")}), (*FOUR, *more))


def corners(sigma):
    names = ["P0", "P1", "P2", "P3"]
    return tuple(Angle(b, 90.0, sigma, b, names[(i + 1) % 4], names[i - 1]) for i, b in enumerate(names))


def with_a_blunder(which, *more):
    """One of the four walls read 30 too long."""
    read = [replace(o, value=o.value + 30.0) if i == which else o for i, o in enumerate(FOUR)]
    return replace(square(), observations=(*read, *more))


def test_four_sides_alone_do_not_hold_a_room():
    with pytest.raises(UndeterminedError) as caught:
        adjust(square())
    assert set(caught.value.points) == {"P2", "P3"}


def test_four_sides_and_a_corner_hold_it_and_nothing_checks_them():
    net = adjust(square(Angle("P0P1", 90.0, 0.15, "P1", "P2", "P0")))
    assert net.redundancy == pytest.approx(5 * [0.0], abs=1e-9)
    assert not judge(net).checked
    assert np.isinf(net.least_detectable).all()


def test_enough_readings_in_the_wrong_places_do_not_hold_it_either():
    twice = (FOUR[0], FOUR[1])
    with pytest.raises(UndeterminedError):
        adjust(square(*twice))


def test_a_room_that_is_barely_held_says_where():
    # A triangle drawn out to a line: what stands at its tip moves square to it as far as roots of errors let it.
    keys = {("P0", "x"): 0.0, ("P0", "y"): 0.0, ("P1", "x"): 4000.0, ("P1", "y"): 0.0, ("P2", "x"): 2000.0}
    keys["P2", "y"] = -20.0
    half = (2000.0**2 + 20.0**2) ** 0.5
    sides = (("P0", "P1", 4000.0), ("P1", "P2", half), ("P2", "P0", half))
    fixed = frozenset({("P0", "x"), ("P0", "y"), ("P1", "y")})
    net = adjust(Network(keys, fixed, tuple(Distance(a + b, d, 1.5, a, b) for a, b, d in sides)))
    points, spread = net.weakest
    assert points == ("P2",)
    # Worked: each half is 2000.1 long and rises 20 over 2000, so a side that is 1.5 off moves the tip by
    # 1.5 · 100 / 2, and the base does as much: √(75² + 75² + 75²) ≈ 130.
    assert spread == pytest.approx(130.0, rel=0.02)


@pytest.mark.parametrize("which", range(4))
def test_opposite_walls_of_a_room_without_diagonals_cannot_be_told_apart(which):
    verdict = judge(adjust(with_a_blunder(which, *corners(0.02))))
    assert {s.index for s in verdict.suspects} == {which, (which + 2) % 4}


@pytest.mark.parametrize("which", range(4))
def test_diagonals_tell_them_apart_with_the_true_value(which):
    across = (Distance("P0P2", 5000.0, 1.5, "P0", "P2"), Distance("P1P3", 5000.0, 1.5, "P1", "P3"))
    verdict = judge(adjust(with_a_blunder(which, *corners(0.15), *across)))
    assert verdict.suspects[0].index == which
    assert verdict.suspects[0].likely == pytest.approx(FOUR[which].value, abs=0.5)
