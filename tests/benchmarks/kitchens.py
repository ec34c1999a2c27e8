"""Random kitchens to plan, and a peer that plans them: rectpack, a general library for packing rectangles.

The sizes are usual ones, drawn by chance; nobody's kitchen is among them.
"""

import random

import rectpack

from countersunk.takeoff.cutting import Blade, CutPiece, CutStock

SAW = Blade(kerf=4, trim=10)
LENGTHS = [
    CutStock(str(size), size, price) for size, price in ((2400, 684), (3000, 835), (3600, 999), (4100, 1124))
]
FORMATS = {
    "2800 x 2070": CutStock("board", 2800, 1, None, 2070),
    "2440 x 1220": CutStock("board", 2440, 1, None, 1220),
}


def worktops(seed):
    """Five to fifteen pieces of worktop."""
    luck = random.Random(seed)
    return [CutPiece(f"T{i}", luck.randint(300, 4000)) for i in range(luck.randint(5, 15))]


def panels(seed, grain):
    """About 120 panels of twelve to eighteen units; of drawn sizes that are usual, invented."""
    luck, found = random.Random(seed), []
    for unit in range(luck.randint(12, 18)):
        width, height = luck.choice([300, 400, 450, 500, 600, 800, 900]), luck.choice([720, 720, 720, 2000])
        depth = luck.choice([320, 560, 560, 580])
        sizes = [(height, depth, 2), (width - 36, depth, 1), (width - 36, 100, 2), (width - 37, depth - 20, 1)]
        sizes += [(height - 3, width - 3, 1)] if luck.random() < 0.4 else [(width - 3, (height - 9) // 3, 3)]
        found += [CutPiece(f"{unit}.{i}", a, n, b, not grain) for i, (a, b, n) in enumerate(sizes)]
    return found


def by_peer(pieces, board, turned):
    """Sheets that the peer takes, the best of its algorithms by free rectangles."""
    room = SAW.kerf - 2 * SAW.trim
    sizes = [(p.length + SAW.kerf, p.width + SAW.kerf) for p in pieces for _ in range(p.quantity)]
    return _packed(sizes, (board.length + room, board.width + room), turned)


def lengths_by_peer(pieces):
    """What the peer's lengths cost: pieces as strips of one height, on the stock that is cheapest by the metre."""
    stock = min(LENGTHS, key=lambda s: s.price / s.length)
    sizes = [(p.length + SAW.kerf, 1) for p in pieces for _ in range(p.quantity)]
    return stock.price * _packed(sizes, (stock.length + SAW.kerf - 2 * SAW.trim, 1), turned=False)


def _packed(sizes, bin_, turned):
    algorithms = [a for a in vars(rectpack).values() if isinstance(a, type) and a.__name__.startswith("MaxRects")]
    return min(_by(algorithm, sizes, bin_, turned) for algorithm in algorithms)


def _by(algorithm, sizes, bin_, turned):
    packer = rectpack.newPacker(rotation=turned, pack_algo=algorithm)
    for size in sizes:
        packer.add_rect(*size)
    packer.add_bin(*bin_, count=float("inf"))
    packer.pack()
    return len(packer)
