"""Cures: the smallest change to a kitchen file that puts a missed rule right and breaks no other.

moves      what of a layout may be changed, and how        trials     a change built, checked and judged
search     the smallest change that cures                  wording    a cure in a sentence

*Move*: some fields of a document with new values. *Slide*: moves of one kind by any distance. *Trial*: the kitchen
with a move made, and what became of its findings. A *cure* is the smallest move after which the finding is met, no
must and no advice that was met is missed, and nothing stands that cannot be built. It is found by building and
checking, never by formula, so that whatever is checked is also kept. Local codes, makers' sheets and licensed
trades decide about a cure as about everything.
"""

from model.cures.search import Cure, NoCure, cure

__all__ = ["Cure", "NoCure", "cure"]
