"""A reading: everything that the app shows of one kitchen, made once for each document."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from model.checks import check
from model.checks.finding import Finding
from model.document import Document
from model.kitchen import Kitchen, build
from takeoff.boards import board_plans
from takeoff.takeoff import Takeoff, take_off
from viewer.scene import glb


@dataclass(frozen=True)
class Reading:
    """One kitchen with its findings, its takeoff and its scene."""

    kitchen: Kitchen
    findings: tuple[Finding, ...]
    takeoff: Takeoff
    glb: bytes


def laid_out(reading: Reading) -> Reading:
    """The same with its boards laid out on sheets: some seconds the first time, so only when somebody asks."""
    return replace(reading, takeoff=take_off(reading.kitchen, boards=board_plans(reading.kitchen)))


@lru_cache(maxsize=24)
def read(document: Document) -> Reading:
    """Build, check, count and draw. Equal documents share one reading: it holds nothing of a session.

    Raises InputError for a document that cannot be built.
    """
    kitchen = build(document)
    return Reading(kitchen, check(kitchen), take_off(kitchen), glb(kitchen))
