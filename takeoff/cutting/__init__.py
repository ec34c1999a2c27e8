"""Cutting: pieces from lengths and panels from sheets, with a bound below which no plan can cost.

Terms. A *piece* is what is wanted, a *stock* what can be bought, a *cut* a piece in its place on a stock. The *saw*
takes its kerf between pieces and the trim from every end. A plan is *proven* where its cost is its lower bound.
Nothing here knows what a kitchen is; every size is a whole number of steps.

values      pieces, stocks, cuts, plans           verify     whether a plan can be sawn, independently
bars        lengths: column generation and proof  knapsack   which counts fit, exactly
master      the integer programme over patterns   clock      steps counted, time limited
"""

from takeoff.cutting.bars import cut_lengths
from takeoff.cutting.values import Cut, Piece, Plan, Saw, Stock, Used, fits
from takeoff.cutting.verify import faults

__all__ = ["Cut", "Piece", "Plan", "Saw", "Stock", "Used", "cut_lengths", "faults", "fits"]
