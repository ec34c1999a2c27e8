"""Mistakes: how a reading may have come to be wrong, from what was read and what all other readings make of it."""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.ties import least

ROUND = (1000, 100, 10)
"""What a person miscounts on a tape or in the head, mm."""

ALIKE = ("17", "38", "69", "56", "08")
"""Digits that are taken for each other in handwriting (common practice, no source)."""


def mistake(read: float, likely: float, within: float) -> str:
    """What may have happened, with the number that then was meant, in words; empty where nothing usual explains it.

    ``within`` is how far off the likely value may be itself.

    >>> mistake(3457, 3549, 6), mistake(3580, 3680.4, 5), mistake(3580, 3599.5, 8)
    ('3547, with two digits turned', '3680, a hundred off', '')
    """
    if read != round(read):
        return ""
    near = [(meant, how) for meant, how in _meant(round(read)) if abs(meant - likely) <= within]
    if not near:
        return ""
    meant, how = least(near, key=lambda each: abs(each[0] - likely))
    return f"{meant}, {how}"


def _meant(read: int) -> Iterator[tuple[int, str]]:
    digits = str(read)
    for i in range(len(digits) - 1):
        if digits[i] != digits[i + 1]:
            turned = digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :]
            yield int(turned), "with two digits turned"
    words = {1000: "a thousand off", 100: "a hundred off", 10: "ten off"}
    for step in ROUND:
        yield read + step, words[step]
        yield read - step, words[step]
    for i, digit in enumerate(digits):
        for pair in (p for p in ALIKE if digit in p):
            other = pair.replace(digit, "")
            yield int(digits[:i] + other + digits[i + 1 :]), f"with a {other} taken for a {digit}"
