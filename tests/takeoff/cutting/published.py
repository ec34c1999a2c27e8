"""Published instances with their proven optima and sources; the papers themselves were not seen, only the figures.

Sizes are in the source's own unit, times ten where it has halves.
"""

from __future__ import annotations

from takeoff.cutting import Piece, Stock

TRIPLETS = (
    "495 474 473 472 466 450 445 444 439 430 419 414 410 395 372 370 366 366 366 363 361 357 355 351 350 350 347 "
    "320 315 307 303 299 298 298 292 288 287 283 275 275 274 273 273 272 272 271 269 269 268 263 262 261 259 258 "
    "255 254 252 252 252 251"
)
PAPER = "1380:22 1520:25 1560:12 1710:14 1820:18 1880:18 1930:20 2000:10 2050:12 2100:14 2140:16 2150:18 2200:20"

# name: stock length, sizes, optimum, and the optimum of the linear programme where the source gives it
LENGTHS = {
    "encyclopaedia article 'Cutting stock problem', paper mill": (5600, PAPER, 73, 72.917),
    "Chvatal, Linear Programming, 1983": (100, "45:97 36:610 31:395 14:211", 453, 452.25),
    "textbook with halves, source not known": (94, "17:150 21:96 22.5:48 24:108 29.5:227", 161, 160.95),
    "textbook, three sizes, source not known": (17, "9:15 5:20 3:25", 19, 18.33),
    "Falkenauer, t60_00 (OR-Library)": (1000, " ".join(f"{s}:1" for s in TRIPLETS.split()), 20, 20.0),
}


def lengths(name: str) -> tuple[list[Piece], list[Stock], int, float]:
    """Pieces, stock, optimum and linear optimum of an instance in one dimension."""
    size, text, optimum, linear = LENGTHS[name]
    pieces = [
        Piece(f"{i}: {part}", round(float(part.split(":")[0]) * 10), int(part.split(":")[1]))
        for i, part in enumerate(text.split())
    ]
    return pieces, [Stock("stock", size * 10, 1)], optimum, linear
