"""Exchange: two folders change places in one call of the system, so that nobody ever meets neither or both.

Linux has it as renameat2(2) with RENAME_EXCHANGE, macOS as renamex_np(2) with RENAME_SWAP (both from memory).
"""

from __future__ import annotations

import ctypes
import os
import sys
from pathlib import Path

AT_FDCWD = -100
RENAME_EXCHANGE = 2
RENAME_SWAP = 2


def exchange(one: Path, other: Path) -> None:
    """Exchange two folders of one file system in one call. Raises OSError, also where the system cannot."""
    names = os.fsencode(one), os.fsencode(other)
    try:
        system = ctypes.CDLL(None, use_errno=True)
        if sys.platform == "darwin":
            failed = system.renamex_np(*names, ctypes.c_uint(RENAME_SWAP))
        else:
            failed = system.renameat2(AT_FDCWD, names[0], AT_FDCWD, names[1], ctypes.c_uint(RENAME_EXCHANGE))
    except (AttributeError, TypeError, OSError):
        raise OSError("folders cannot be exchanged on this system") from None
    if failed:
        number = ctypes.get_errno()
        raise OSError(number, os.strerror(number), str(other))
