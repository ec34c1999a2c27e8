"""Published instances with their proven optima and sources; the papers themselves were not seen, only the figures.

Sizes are in the source's own unit, times ten where it has halves.
"""

from __future__ import annotations

from countersunk.takeoff.cutting import CutPiece, CutStock

TRIPLETS = (
    "495 474 473 472 466 450 445 444 439 430 419 414 410 395 372 370 366 366 366 363 361 357 355 351 350 350 347 "
    "320 315 307 303 299 298 298 292 288 287 283 275 275 274 273 273 272 272 271 269 269 268 263 262 261 259 258 "
    "255 254 252 252 252 251"
)
PAPER = "1380:22 1520:25 1560:12 1710:14 1820:18 1880:18 1930:20 2000:10 2050:12 2100:14 2140:16 2150:18 2200:20"
CW1 = "8 4 2 66/3 7 1 35/8 2 3 24/3 4 5 17/3 3 2 11/3 2 2 8/2 1 1 2"
CW2 = (
    "21 22 1 582/31 13 1 403/9 35 3 315/9 24 3 216/30 7 2 210/11 13 3 143/10 14 1 140/14 8 3 110/"
    "12 8 3 94/13 7 3 90"
)
GCUT1_SIZES = "167x184 114x118 167x152 83x140 70x86 143x166 120x160 66x148 87x141 69x165"
HERZ = "21x13 36x17 54x20 24x27 18x65"
OF1 = "29x5:1 9x39:4 55x9:1 31x15:1 11x16:2 23x21:3 29x14:4 16x19:3 9x36:2 22x4:2"
OF2 = "22x18:2 40x10:1 13x27:3 23x18:2 29x8:4 16x4:1 47x9:1 19x19:4 13x16:2 36x16:4"


def by_area(sizes: str) -> str:
    """Length, width, quantity and value, which is the area, of sizes such as 29x5 or 29x5:3."""
    parts = (size.replace("x", ":").split(":") for size in sizes.split())
    return "/".join(f"{a} {b} {(most or ['1'])[0]} {int(a) * int(b)}" for a, b, *most in parts)


GCUT1 = by_area(GCUT1_SIZES)

# name: stock length, sizes, optimum, and the optimum of the linear programme where the source gives it
LENGTHS = {
    "encyclopaedia article 'Cutting stock problem', paper mill": (5600, PAPER, 73, 72.917),
    "Chvatal, Linear Programming, 1983": (100, "45:97 36:610 31:395 14:211", 453, 452.25),
    "textbook with halves, source not known": (94, "17:150 21:96 22.5:48 24:108 29.5:227", 161, 160.95),
    "textbook, three sizes, source not known": (17, "9:15 5:20 3:25", 19, 18.33),
    "textbook, five sizes, source not known": (110, "20:48 45:35 50:24 55:10 75:8", 47, 46.25),
    "optimum two above the linear programme, from memory": (132, "44:2 33:3 12:6", 3, 1.962),
    "Falkenauer, t60_00 (OR-Library)": (1000, " ".join(f"{s}:1" for s in TRIPLETS.split()), 20, 20.0),
}

# name: sheet length and width, pieces (length width quantity value), optimum, whether quantities are unlimited and
# pieces may turn. All without kerf, cut edge to edge.
SHEETS = {
    "Christofides and Whitlock 1977, 15 x 10": ((15, 10), CW1, 244, False, False),
    "Christofides and Whitlock 1977, 15 x 10, unlimited": ((15, 10), CW1, 249, True, False),
    "Christofides and Whitlock 1977, 40 x 70": ((40, 70), CW2, 2892, False, False),
    "Beasley 1985, ngcut1": ((10, 10), "3 7 2 35/8 2 2 40/10 2 1 27/5 4 3 23/2 9 2 43", 164, False, False),
    "Herz 1972, unlimited": ((127, 98), by_area(HERZ), 12348, True, False),
    "Herz 1972, unlimited and turned": ((127, 98), by_area(HERZ), 12387, True, True),
    "Oliveira and Ferreira 1990, OF1": ((70, 40), by_area(OF1), 2737, False, False),
    "Oliveira and Ferreira 1990, OF1, unlimited": ((70, 40), by_area(OF1), 2758, True, False),
    "Oliveira and Ferreira 1990, OF2": ((70, 40), by_area(OF2), 2690, False, False),
    "Oliveira and Ferreira 1990, OF2, unlimited": ((70, 40), by_area(OF2), 2776, True, False),
    "Beasley 1985, gcut1, unlimited": ((250, 250), GCUT1, 56460, True, False),
    "Beasley 1985, gcut1, unlimited and turned": ((250, 250), GCUT1, 58136, True, True),
}
HOPPER = "12x2 12x7 6x8 6x3 5x3 5x5 12x3 7x3 7x5 6x2 2x3 2x4 4x3 4x4 2x9 2x11"
"""Hopper and Turton 2001, C1P1: one sheet of 20 x 20 without waste, cut edge to edge."""


def sheets(name: str) -> tuple[list[CutPiece], CutStock, int]:
    """Pieces with values, the sheet, and the greatest value."""
    (length, width), text, optimum, unlimited, turns = SHEETS[name]
    rows = [[int(n) for n in row.split()] for row in text.split("/")]
    pieces = [
        CutPiece(f"{i}", a, length * width // (a * b) if unlimited else most, b, turns, value)
        for i, (a, b, most, value) in enumerate(rows)
    ]
    return pieces, CutStock("sheet", length, 1, 1, width), optimum


HOPPER_TURNED = "4x1 4x1 4x5 9x4 3x5 3x9 1x4 5x3 5x5 7x2 7x2 9x3 3x13 2x8 15x4 5x4 10x6"
"""Hopper and Turton 2001, C1P2: the same, but only if panels may turn (that they must: worked out, no source)."""

SQUARES = "18x18 15x15 14x14 10x10 9x9 8x8 7x7 4x4 1x1"
"""The squared rectangle of 33 x 32 (Moron 1925, from memory): no waste, but never by cuts from edge to edge."""


def panels(sizes: str, turns: bool) -> list[CutPiece]:
    """A piece for each size such as 12x7."""
    sides = [tuple(map(int, size.split("x"))) for size in sizes.split()]
    return [CutPiece(f"{i}", a, 1, b, turns) for i, (a, b) in enumerate(sides)]


def hopper(turns: bool) -> tuple[list[CutPiece], CutStock]:
    """The panels of one sheet without waste."""
    return panels(HOPPER, turns), CutStock("sheet", 20, 1, None, 20)


def lengths(name: str) -> tuple[list[CutPiece], list[CutStock], int, float]:
    """Pieces, stock, optimum and linear optimum of an instance in one dimension."""
    size, text, optimum, linear = LENGTHS[name]
    pieces = [
        CutPiece(f"{i}: {part}", round(float(part.split(":")[0]) * 10), int(part.split(":")[1]))
        for i, part in enumerate(text.split())
    ]
    return pieces, [CutStock("stock", size * 10, 1)], optimum, linear
