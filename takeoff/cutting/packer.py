"""Packer: many packings of the same panels at once, each with its own order and rules; all can be cut edge to edge.

A panel goes into the corner of the free rectangle that it fits best, and two cuts from edge to edge leave two free
rectangles (guillotine packing; Jylänki, A Thousand Ways to Pack the Bin, 2010, from memory). The packings run side
by side in arrays with a row for each. The kerf is part of every size: a panel is one kerf longer and wider than it
is, and so is the sheet, so that rectangles meet without gaps.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

NO_PLACE = np.int64(2**62)
FITS = ("area", "short side", "long side")
"""What a panel should leave least of in the free rectangle that it goes into."""

SLOTS = 1024
"""Free rectangles remembered of one packing; beyond these the smallest are forgotten."""

SPLITS = 6
"""Ways to choose the first of the two cuts: by the shorter or longer rest, the smaller or larger piece that is left
over, the shorter or longer side."""


@dataclass(frozen=True)
class Panels:
    """One entry for each panel to cut, and for each kind of sheet; sizes with their kerf, ``limits`` of sheets.

    ``worth`` says how much a panel is missed that finds no place, ``kept`` which sheets are offcuts.
    """

    lengths: Ints
    widths: Ints
    turns: Bools
    worth: Ints
    sheets: Sequence[tuple[int, int]]
    kept: Bools
    limits: Ints

    @property
    def least(self) -> tuple[int, int]:
        """No panel is shorter or narrower, however it lies."""
        both = np.minimum(self.lengths, self.widths)
        length = np.where(self.turns, both, self.lengths).min()
        return int(length), int(np.where(self.turns, both, self.widths).min())


@dataclass(frozen=True)
class Recipes:
    """How each packing is made: panels in ``orders``, its rules, and which sheets it opens, first choice first."""

    orders: Ints
    fit: Ints
    split: Ints
    prefer: Ints

    def __len__(self) -> int:
        return len(self.orders)

    @property
    def first(self) -> Recipes:
        """The first alone."""
        return Recipes(self.orders[:1], self.fit[:1], self.split[:1], self.prefer[:1])


@dataclass(frozen=True)
class Packings:
    """A row for each packing: where each panel lies, on which of its sheets, and their kinds; -1 is none."""

    x: Ints
    y: Ints
    turned: Bools
    sheet: Ints
    kinds: Ints


def pack(panels: Panels, recipes: Recipes) -> Packings:
    """Make every packing."""
    state = _State(panels, recipes)
    for place in range(recipes.orders.shape[1]):
        state.put(recipes.orders[:, place])
    return Packings(state.x, state.y, state.turned, state.sheet, state.kinds)


@dataclass
class _State:
    """Packings while they are made. Free rectangles are x, y, length, width and sheet; length 0 is none."""

    panels: Panels
    recipes: Recipes
    free: Ints = field(init=False)

    def __post_init__(self) -> None:
        runs, count = self.recipes.orders.shape
        self.rows = np.arange(runs)
        self.free = np.zeros((5, runs, 32), np.int64)
        self.taken = np.zeros(runs, np.int64)
        self.x, self.y = np.zeros((2, runs, count), np.int64)
        self.turned = np.zeros((runs, count), bool)
        self.sheet = np.full((runs, count), -1, np.int64)
        self.kinds = np.full((runs, count), -1, np.int64)
        self.opened = np.zeros(runs, np.int64)
        self.bought = np.zeros((runs, len(self.panels.sheets)), np.int64)

    def put(self, panel: Ints) -> None:
        """The next panel of every packing."""
        length, width, turns = self.panels.lengths[panel], self.panels.widths[panel], self.panels.turns[panel]
        self._make_room()
        slot, turned, placed = self._best(length, width, turns)
        lost = np.flatnonzero(~placed)
        if len(lost):
            self._open(lost, length[lost], width[lost], turns[lost])
            slot[lost], turned[lost], placed[lost] = self._newest(lost, length[lost], width[lost], turns[lost])
        self._place(np.flatnonzero(placed), panel, slot, turned, length, width)

    def _make_room(self) -> None:
        """Slots for two more rectangles: what is used up goes; then there are more slots, or the smallest go."""
        slots = self.free.shape[2]
        if int(self.taken.max(initial=0)) + 2 <= slots:
            return
        order = np.argsort(-self.free[2] * self.free[3], axis=1, kind="stable")
        self.free = np.take_along_axis(self.free, order[None], axis=2)
        if int((self.free[2] > 0).sum(axis=1).max()) + 2 > slots:
            if slots < SLOTS:
                self.free = np.concatenate([self.free, np.zeros_like(self.free)], axis=2)
            else:
                self.free[2, :, slots * 3 // 4 :] = 0
        self.taken = (self.free[2] > 0).sum(axis=1)

    def _best(self, length: Ints, width: Ints, turns: Bools) -> tuple[Ints, Bools, Bools]:
        """The slot that each panel fits best, whether turned, and whether there is one."""
        used = max(1, int(self.taken.max()))
        free_length, free_width = self.free[2, :, :used], self.free[3, :, :used]
        fit = self.recipes.fit[:, None]
        flat = _score(free_length, free_width, length[:, None], width[:, None], fit)
        if turns.any():
            on_end = _score(free_length, free_width, width[:, None], length[:, None], fit)
            flat = np.concatenate([flat, np.where(turns[:, None], on_end, NO_PLACE)], axis=1)
        best = flat.argmin(axis=1)
        return best % used, best >= used, flat[self.rows, best] < NO_PLACE

    def _open(self, rows: Ints, length: Ints, width: Ints, turns: Bools) -> None:
        """A new sheet for each of ``rows``: the first of its choice that is left and holds the panel."""
        waiting = np.ones(len(rows), bool)
        for choice in range(self.recipes.prefer.shape[1]):
            kind = self.recipes.prefer[rows, choice]
            sheet_length, sheet_width = np.array(self.panels.sheets, np.int64)[kind].T
            flat = (length <= sheet_length) & (width <= sheet_width)
            on_end = turns & (width <= sheet_length) & (length <= sheet_width)
            left = self.bought[rows, kind] < self.panels.limits[kind]
            take = waiting & left & (flat | on_end)
            self._add(rows[take], kind[take], sheet_length[take], sheet_width[take])
            waiting &= ~take

    def _add(self, rows: Ints, kind: Ints, length: Ints, width: Ints) -> None:
        slot, nothing = self.taken[rows], np.zeros(len(rows), np.int64)
        self.free[:, rows, slot] = [nothing, nothing, length, width, self.opened[rows]]
        self.kinds[rows, self.opened[rows]] = kind
        self.bought[rows, kind] += 1
        self.opened[rows] += 1
        self.taken[rows] += 1

    def _newest(self, rows: Ints, length: Ints, width: Ints, turns: Bools) -> tuple[Ints, Bools, Bools]:
        """The sheet just opened, if one was."""
        slot = np.maximum(self.taken[rows] - 1, 0)
        free_length, free_width = self.free[2, rows, slot], self.free[3, rows, slot]
        flat = _score(free_length, free_width, length, width, self.recipes.fit[rows])
        on_end = np.where(turns, _score(free_length, free_width, width, length, self.recipes.fit[rows]), NO_PLACE)
        return slot, on_end < flat, np.minimum(flat, on_end) < NO_PLACE

    def _place(self, rows: Ints, panel: Ints, slot: Ints, turned: Bools, length: Ints, width: Ints) -> None:
        """Put the panel into its corner and leave the two rectangles beside and above it."""
        panel, slot, turned = panel[rows], slot[rows], turned[rows]
        along = np.where(turned, width[rows], length[rows])
        across = np.where(turned, length[rows], width[rows])
        x, y, free_length, free_width, sheet = self.free[:, rows, slot]
        self.x[rows, panel], self.y[rows, panel] = x, y
        self.turned[rows, panel], self.sheet[rows, panel] = turned, sheet
        level = _cuts_along(self.recipes.split[rows], free_length, free_width, along, across)
        beside = [x + along, y, free_length - along, np.where(level, across, free_width), sheet]
        above = [x, y + across, np.where(level, free_length, along), free_width - across, sheet]
        self.free[:, rows, slot] = self._kept(beside)
        kept = self._kept(above)
        self.free[:, rows, self.taken[rows]] = kept
        self.taken[rows] += kept[2] > 0

    def _kept(self, rectangle: list[Ints]) -> Ints:
        """Nothing, where no panel fits in any more."""
        kept = np.array(rectangle)
        length, width = self.panels.least
        kept[2] = np.where((kept[2] >= length) & (kept[3] >= width), kept[2], 0)
        return kept


def _score(free_length: Ints, free_width: Ints, length: Ints, width: Ints, fit: Ints) -> Ints:
    """What the panel leaves of the free rectangle; `NO_PLACE` where it does not fit."""
    beside, above = free_length - length, free_width - width
    left = np.where(
        fit == 0, free_length * free_width, np.where(fit == 1, np.minimum(beside, above), np.maximum(beside, above))
    )
    return np.where((beside >= 0) & (above >= 0), left, NO_PLACE)


def _cuts_along(split: Ints, free_length: Ints, free_width: Ints, along: Ints, across: Ints) -> Bools:
    """Whether the first cut runs along the stock, so that what is above the panel keeps the whole length."""
    beside, above = free_length - along, free_width - across
    rules = [
        beside < above, beside >= above, along * above < beside * across, along * above >= beside * across,
        free_length < free_width, free_length >= free_width,
    ]  # fmt: skip
    return np.choose(split, rules).astype(bool)
