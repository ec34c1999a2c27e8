"""Adjustment: the worked networks of textbooks, with the figures that they print.

Coordinates, deviations and vᵀPv: Krumm, Geodetic Network Adjustment Examples, rev. 3.5 (2020), and the books named
at each network. Redundancy numbers, standardised residuals and least detectable errors: computed in numpy, apart
from the code here.
"""

import math

import numpy as np
import pytest
from scipy import stats

from countersunk.model.adjustment.least_squares import adjust
from countersunk.model.adjustment.limits import chance_of, chi_square_limit, normal_limit, tau_limit
from countersunk.model.adjustment.snooping import is_sound, judge
from tests.model.adjustment import networks


def place(adjusted, point):
    return adjusted.at[point, "x"], adjusted.at[point, "y"]


def spread(adjusted, point):
    """The deviation of a point's coordinates by the errors that there were, as the books have it."""
    return tuple(adjusted.deviation((point, axis)) * adjusted.s0 for axis in "xy")


def test_a_level_net():
    net = adjust(networks.level_net())
    heights = [net.at[p, "z"] for p in "BCD"]
    assert heights == pytest.approx([448.10871, 453.46847, 444.94361], abs=5e-6)
    assert [1000 * net.deviation((p, "z")) * net.s0 for p in "BCD"] == pytest.approx([2.30, 2.64, 1.76], abs=5e-3)
    assert (net.chi_square, net.freedom, net.s0) == pytest.approx((1.27212, 3, 0.6512), abs=5e-5)
    assert net.redundancy == pytest.approx([0.655, 0.329, 0.509, 0.188, 0.433, 0.886], abs=5e-4)
    assert net.standardised == pytest.approx([0.76, -0.11, -0.52, 0.30, 0.72, -0.76], abs=5e-3)
    assert 1000 * net.least_detectable == pytest.approx([30.6, 28.8, 29.0, 28.6, 25.1, 52.7], abs=0.05)
    assert is_sound(net)


def test_a_contradiction_with_one_redundancy_names_no_culprit():
    net = adjust(networks.trilateration())
    assert place(net, "W") == pytest.approx((2415776.9044, 391043.2945), abs=1e-4)
    assert place(net, "C") == pytest.approx((2416892.6955, 387603.2551), abs=1e-4)
    assert (*spread(net, "W"), *spread(net, "C")) == pytest.approx((0.1488, 0.2206, 0.1038, 0.2705), abs=1e-4)
    assert (net.chi_square, net.s0) == pytest.approx((184.7, 13.591), abs=0.05)
    assert np.abs(net.standardised) == pytest.approx(5 * [13.59], abs=0.01)
    verdict = judge(net)
    assert (verdict.checked, verdict.sound, verdict.single, verdict.suspects) == (True, False, True, ())


def test_a_link_traverse():
    net = adjust(networks.link_traverse())
    assert place(net, "U") == pytest.approx((1173.0886, 1099.9872), abs=1e-4)
    assert spread(net, "U") == pytest.approx((0.0419, 0.0526), abs=1e-4)
    assert (net.chi_square, net.freedom, net.s0) == pytest.approx((9.923, 3, 1.819), abs=1e-3)


def test_a_blunder_among_many_readings_is_named_alone():
    net = adjust(networks.quadrilateral())
    assert place(net, "C") == pytest.approx((9787.8250, 8038.5354), abs=1e-4)
    assert place(net, "D") == pytest.approx((9260.8604, 4843.9341), abs=1e-4)
    assert (*spread(net, "C"), *spread(net, "D")) == pytest.approx((0.0952, 0.1678, 0.0976, 0.1512), abs=1e-4)
    assert (net.chi_square, net.freedom, net.s0) == pytest.approx((863.00, 10, 9.290), abs=0.005)
    worst = dict(zip((o.name for o in net.network.observations), net.standardised, strict=True))
    assert (worst["D A B"], worst["BD"]) == pytest.approx((-29.19, -7.27), abs=5e-3)
    assert 3600 * net.residuals[-2] == pytest.approx(-60.3, abs=0.05)
    assert sorted(worst, key=lambda name: -abs(worst[name]))[:2] == ["D A B", "BD"]
    (suspect,) = judge(net).suspects
    assert net.network.observations[suspect.index].name == "D A B"
    # 60.3" of v at its redundancy; what all others make of it is that much further off.
    assert 3600 * (suspect.likely - networks.dms("43 6 11")) == pytest.approx(-60.3 / net.redundancy[-2], rel=0.01)


def test_without_the_blunder_the_quadrilateral_is_sound():
    net = adjust(networks.quadrilateral().without(12))
    assert place(net, "C") == pytest.approx((9787.8386, 8038.4862), abs=1e-4)
    assert place(net, "D") == pytest.approx((9260.8829, 4843.8755), abs=1e-4)
    assert (net.chi_square, net.s0) == pytest.approx((10.75, 1.093), abs=0.005)
    assert np.max(np.abs(net.standardised)) == pytest.approx(1.88, abs=0.005)
    assert is_sound(net)


def test_a_distance_that_hardly_anything_checks():
    net = adjust(networks.weak_distance())
    assert place(net, "6") == pytest.approx((2000.0, 1999.9976), abs=1e-4)
    assert spread(net, "6") == pytest.approx((0.0050, 0.0100), abs=1e-4)
    assert net.redundancy == pytest.approx([0.749, 0.749, 0.741, 0.741, 0.019], abs=6e-4)
    assert net.least_detectable == pytest.approx([0.096, 0.096, 0.096, 0.096, 0.593], abs=5e-4)
    assert is_sound(net)


@pytest.mark.parametrize(
    ("freedom", "limit"), [(1, 3.841), (2, 5.991), (3, 7.815), (5, 11.07), (10, 18.31), (20, 31.41)]
)
def test_the_table_of_chi_square(freedom, limit):
    assert chi_square_limit(freedom) == pytest.approx(limit, rel=3e-4)


def test_chances_are_those_of_scipy():
    for freedom in (1, 2, 3, 8, 31):
        for chance in (0.5, 0.05, 0.001):
            assert chi_square_limit(freedom, chance) == pytest.approx(stats.chi2.isf(chance, freedom), rel=1e-12)
        for found in (0.0, 0.3, 7.0, 863.0, 1e9):
            assert chance_of(found, freedom) == pytest.approx(stats.chi2.sf(found, freedom), rel=1e-12, abs=1e-300)
        t = stats.t.isf(0.025, freedom)
        assert tau_limit(freedom + 1) == pytest.approx(math.sqrt((freedom + 1) / (freedom + t * t)) * t, rel=1e-12)


@pytest.mark.parametrize(("chance", "limit"), [(0.05, 1.960), (0.01, 2.576), (0.001, 3.2905)])
def test_the_table_of_the_normal_distribution(chance, limit):
    assert normal_limit(chance) == pytest.approx(limit, abs=5e-4)


@pytest.mark.parametrize(("freedom", "limit"), [(2, 1.410), (3, 1.645), (5, 1.814), (10, 1.904), (20, 1.936)])
def test_the_table_of_tau(freedom, limit):
    assert tau_limit(freedom) == pytest.approx(limit, abs=5e-4)


@pytest.mark.parametrize(
    ("network", "tau"),
    [("level_net", 1.16), ("link_traverse", 1.59), ("quadrilateral", 3.14), ("weak_distance", 1.73)],
)
def test_the_largest_tau_as_gama_prints_it(network, tau):
    # Gama reckons with readings in whole units of its output: of the level net that moves the second decimal.
    net = adjust(getattr(networks, network)())
    assert np.max(np.abs(net.standardised)) / net.s0 == pytest.approx(tau, abs=0.015)
