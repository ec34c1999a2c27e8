"""How long cutting plans take and how far they can be from the best, on random kitchens, and a peer.

Run with ``pytest tests/benchmarks --benchmark-enable --benchmark-group-by=group``; ``--benchmark-json=FILE`` keeps
the gaps, which stand in ``extra_info``. Nothing here passes or fails by time. The peer for sheets is rectpack, a
general library for packing rectangles, on the same panels in the same run: it does not cut from edge to edge, and
turns all panels or none, so it is shown both ways: with grain it may turn none.
"""

import random

import pytest
import rectpack

from takeoff.cutting import Piece, Saw, Stock, cut_lengths, cut_sheets
from takeoff.cutting.area import least_sheets
from takeoff.cutting.sheets import _panels

SAW = Saw(kerf=4, trim=10)
LENGTHS = [Stock(str(size), size, price) for size, price in ((2400, 684), (3000, 835), (3600, 999), (4100, 1124))]
FORMATS = {"2800 x 2070": Stock("board", 2800, 1, None, 2070), "2440 x 1220": Stock("board", 2440, 1, None, 1220)}


def worktops(seed):
    """Five to fifteen pieces of worktop."""
    luck = random.Random(seed)
    return [Piece(f"T{i}", luck.randint(300, 4000)) for i in range(luck.randint(5, 15))]


def panels(seed, grain):
    """About 120 panels of twelve to eighteen units; of drawn sizes that are usual, invented."""
    luck, found = random.Random(seed), []
    for unit in range(luck.randint(12, 18)):
        width, height = luck.choice([300, 400, 450, 500, 600, 800, 900]), luck.choice([720, 720, 720, 2000])
        depth = luck.choice([320, 560, 560, 580])
        sizes = [(height, depth, 2), (width - 36, depth, 1), (width - 36, 100, 2), (width - 37, depth - 20, 1)]
        sizes += [(height - 3, width - 3, 1)] if luck.random() < 0.4 else [(width - 3, (height - 9) // 3, 3)]
        found += [Piece(f"{unit}.{i}", a, n, b, not grain) for i, (a, b, n) in enumerate(sizes)]
    return found


@pytest.mark.benchmark(group="worktops of twenty kitchens")
def test_worktops(benchmark):
    kitchens = [worktops(seed) for seed in range(20)]
    plans = benchmark(lambda: [cut_lengths(pieces, LENGTHS, SAW) for pieces in kitchens])
    benchmark.extra_info["proven of 20"] = sum(plan.proven for plan in plans)
    assert all(plan.proven for plan in plans)


@pytest.mark.benchmark(group="panels of four kitchens")
@pytest.mark.parametrize("grain", [True, False], ids=["grain", "turned"])
@pytest.mark.parametrize("format_", FORMATS)
def test_panels(benchmark, format_, grain):
    kitchens, board = [panels(seed, grain) for seed in range(4)], FORMATS[format_]
    plans = benchmark.pedantic(lambda: [cut_sheets(pieces, [board], SAW) for pieces in kitchens], rounds=1)
    gaps = [plan.cost - plan.lower_bound for plan in plans]
    benchmark.extra_info["sheets above the bound"] = gaps
    assert max(gaps) <= (1 if format_ == "2800 x 2070" else 2)


@pytest.mark.benchmark(group="panels of four kitchens")
@pytest.mark.parametrize("turned", [False, True], ids=["peer, none turned", "peer, all may turn"])
@pytest.mark.parametrize("format_", FORMATS)
def test_panels_by_peer(benchmark, format_, turned):
    kitchens, board = [panels(seed, not turned) for seed in range(4)], FORMATS[format_]
    counts = benchmark.pedantic(lambda: [by_peer(pieces, board, turned) for pieces in kitchens], rounds=1)
    bounds = [least_sheets(_panels(pieces, [board], SAW)) for pieces in kitchens]
    benchmark.extra_info["sheets above the bound"] = [c - b for c, b in zip(counts, bounds, strict=True)]
    assert all(count >= bound for count, bound in zip(counts, bounds, strict=True))


def by_peer(pieces, board, turned):
    """Sheets that the peer takes, the best of its algorithms by free rectangles."""
    algorithms = [a for a in vars(rectpack).values() if isinstance(a, type) and a.__name__.startswith("MaxRects")]
    return min(_packed(pieces, board, turned, algorithm) for algorithm in algorithms)


def _packed(pieces, board, turned, algorithm):
    packer = rectpack.newPacker(rotation=turned, pack_algo=algorithm)
    for piece in pieces:
        for _ in range(piece.quantity):
            packer.add_rect(piece.length + SAW.kerf, piece.width + SAW.kerf)
    room = SAW.kerf - 2 * SAW.trim
    packer.add_bin(board.length + room, board.width + room, count=float("inf"))
    packer.pack()
    return len(packer)
