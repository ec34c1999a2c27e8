"""Held back: Ctrl-C waits while a name is taken and noted, so that nothing is made that nobody clears away."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def held_back() -> Iterator[None]:
    """Do a block as one: Ctrl-C that comes meanwhile is acted on at its end.

    Only where this thread gets signals and something answers them. A handler waits and no mask, since the libraries
    that reckon keep threads, to which the system would give a signal that this one does not take.
    """
    answer = signal.getsignal(signal.SIGINT)
    if threading.current_thread() is not threading.main_thread() or not callable(answer):
        yield
        return
    came: list[int] = []
    signal.signal(signal.SIGINT, lambda number, _: came.append(number))
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, answer)
        if came:
            answer(came[0], None)
