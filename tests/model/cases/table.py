"""How a case is written down, and the rooms that several use."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, NamedTuple
from unittest.mock import patch

from countersunk.model.checks.rules import Rule, default_rules
from countersunk.model.kept import forget
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey.walls import SurveyedWall

RULES: dict[str, Rule] = {rule.id: rule for rule in default_rules().rules}

Scene = Callable[..., Kitchen]


class Kind(StrEnum):
    """What a case shows."""

    PASS = "pass"
    FAIL = "fail"
    LIMIT = "exact limit"
    NAIVE = "naive"


class Naive(NamedTuple):
    """A scene in which ``wrong``, what the naive measure ``how`` finds, comes to another verdict than ``value``.

    ``value`` is None where there is nothing to measure at all.
    """

    given: tuple[Any, ...]
    value: float | None
    wrong: float
    how: str
    scene: Scene | None = None
    place: str = ""


@dataclass(frozen=True)
class Case:
    """A kitchen, what ``measure`` finds in it at the one place whose words hold ``place``, and under which rule."""

    measure: str
    rule: str
    kind: Kind
    scene: Scene
    given: tuple[Any, ...]
    value: float | None
    place: str = ""
    naive: Naive | None = None

    def __str__(self) -> str:
        return f"{self.measure}, {self.kind}, {self.given}"


def of(
    measure: str, rule: str, scene: Scene, *, ok: tuple[Any, float] | None, bad: tuple[Any, float], limit: Any,
    naive: Naive, place: str = "",
) -> list[Case]:  # fmt: skip
    """The cases of one measure under one rule. ``ok`` and ``bad``: what the scene is given, and the value."""
    exact = RULES[rule].limit
    rows = [(Kind.PASS, ok), (Kind.FAIL, bad), (Kind.LIMIT, (limit, exact))]
    found = [
        Case(measure, rule, kind, scene, _given(row[0]), row[1], place) for kind, row in rows if row is not None
    ]
    whose = naive.scene or scene
    return [*found, Case(measure, rule, Kind.NAIVE, whose, naive.given, naive.value, naive.place or place, naive)]


@contextmanager
def moved(turn: float, dx: float, dy: float) -> Iterator[None]:
    """Rooms that are surveyed meanwhile lie turned by ``turn`` degrees and moved, with all that is in them."""
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))

    def wall(name: str, length: float, heading: float, start: tuple[float, float], *rest: Any) -> SurveyedWall:
        x, y = start
        return SurveyedWall(name, length, heading + turn, (x * c - y * s + dx, x * s + y * c + dy), *rest)

    forget()
    with patch("countersunk.model.survey.SurveyedWall", wall):
        yield
    forget()


def _given(value: Any) -> tuple[Any, ...]:
    return value if isinstance(value, tuple) else (value,)
