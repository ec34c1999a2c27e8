"""Cures: the smallest change to a kitchen file that puts a missed rule right and makes no other worse.

move       a change, and how large it is       distances  what may be moved by any distance
order      units of a row in another order     choices    what may be chosen otherwise
trials     a change built, checked, judged     search     the smallest change that cures
wording    a cure in a sentence                kept       what no rule asks for and no cure may spoil
losses     what a change makes worse, place by place

*Move*: some fields of a document with new values. *Slide*: moves of one kind by any distance. *Trial*: the kitchen
with a move made, and what became of its findings. A *cure* is the smallest change, of one to three moves, after
which the finding is met, no must and no advice is worse at any place, not even where it was missed before, and
nothing stands that cannot be built. What a note loses is said with it. It is found by building and checking, never
by formula, so that whatever is checked is also kept. Local codes, makers' sheets and licensed trades decide about a
cure as about everything.
"""

from countersunk.model.cures.search import QUICK, Cure, NoCure, cure

__all__ = ["QUICK", "Cure", "NoCure", "cure"]
