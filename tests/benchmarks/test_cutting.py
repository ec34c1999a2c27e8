"""How long cutting plans take and how far they can be from the best, on random kitchens, and a peer.

Run with ``COUNTERSUNK_LANE=large pytest tests/benchmarks --benchmark-enable --benchmark-group-by=group``;
``--benchmark-json=FILE`` keeps the gaps, which stand in ``extra_info``. Nothing here passes or fails by time. The
peer for sheets is rectpack, a general library for packing rectangles, on the same panels in the same run: it does
not cut from edge to edge, and turns all panels or none, so it is shown both ways: with grain it may turn none.
"""

import pytest

from countersunk.takeoff.cutting import cut_lengths, cut_sheets
from countersunk.takeoff.cutting.area import least_sheets
from countersunk.takeoff.cutting.sheets import panels_of
from tests.benchmarks.cutting_table import HEADER, table
from tests.benchmarks.kitchens import FORMATS, LENGTHS, SAW, by_peer, panels, worktops
from tests.lanes import examples, some

pytestmark = pytest.mark.slow


@pytest.mark.benchmark(group="worktops")
def test_worktops(benchmark):
    kitchens = [worktops(seed) for seed in some(range(20), 4)]
    plans = benchmark(lambda: [cut_lengths(pieces, LENGTHS, SAW) for pieces in kitchens])
    benchmark.extra_info["proven"] = sum(plan.proven for plan in plans)
    assert all(plan.proven for plan in plans)


@pytest.mark.benchmark(group="panels")
@pytest.mark.parametrize("grain", [True, False], ids=["grain", "turned"])
@pytest.mark.parametrize("format_", FORMATS)
def test_panels(benchmark, format_, grain):
    kitchens, board = [panels(seed, grain) for seed in some(range(4), 4)], FORMATS[format_]
    plans = benchmark.pedantic(lambda: [cut_sheets(pieces, [board], SAW) for pieces in kitchens], rounds=1)
    gaps = [plan.cost - plan.lower_bound for plan in plans]
    benchmark.extra_info["sheets above the bound"] = gaps
    assert max(gaps) <= (1 if format_ == "2800 x 2070" else 2)


@pytest.mark.benchmark(group="panels")
@pytest.mark.parametrize("turned", [False, True], ids=["peer, none turned", "peer, all may turn"])
@pytest.mark.parametrize("format_", FORMATS)
def test_panels_by_peer(benchmark, format_, turned):
    kitchens, board = [panels(seed, not turned) for seed in some(range(4), 4)], FORMATS[format_]
    counts = benchmark.pedantic(lambda: [by_peer(pieces, board, turned) for pieces in kitchens], rounds=1)
    bounds = [least_sheets(panels_of(pieces, [board], SAW)) for pieces in kitchens]
    benchmark.extra_info["sheets above the bound"] = [c - b for c, b in zip(counts, bounds, strict=True)]
    assert all(count >= bound for count, bound in zip(counts, bounds, strict=True))


def test_the_table_has_a_row_for_us_and_one_for_the_peer_on_every_kind_of_stock():
    # a few kitchens only: ``python -m tests.benchmarks.cutting_table`` takes 200
    header, _, *rows = table(examples(3, 1))
    assert header == HEADER
    assert len(rows) == 2 * (1 + 2 * len(FORMATS))
    assert all(row.count("|") == header.count("|") for row in rows)
