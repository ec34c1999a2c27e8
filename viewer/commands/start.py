"""Start: the script ``countersunk``, which Ctrl-C ends quietly even while what it needs is still being loaded."""

from __future__ import annotations

import sys

STOPPED = 130
"""Stopped from the keyboard: 128 and the signal's number, as shells have it (IEEE 1003.1, 2.8.2, from memory)."""


def start() -> None:
    """Load the commands and run the one that was asked for."""
    try:
        from countersunk.viewer.commands.main import main
    except KeyboardInterrupt:
        sys.exit(STOPPED)
    main()
