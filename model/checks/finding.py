"""Finding: what one rule has to say about one place, and the place as a measure saw it, in values."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import Thing
from countersunk.model.geometry.volume import Segment, Volume
from countersunk.model.showing import in_inches
from countersunk.model.ties import rounded

Sense = Literal["at least", "at most"]
Unit = Literal["mm", "kg", "deg", "m3/h", "count", "%"]

SYMBOLS: dict[Unit, str] = {"mm": " mm", "kg": " kg", "deg": "°", "m3/h": " m³/h", "count": "", "%": " %"}
"""What stands behind a value of each unit."""

SHOWN = 1
"""Values are rounded to this many decimals before they are judged: a tenth of a millimetre shows on no tape, and
what is shown is what was judged."""

NO_LIMIT = 100.0
"""Against which a margin is weighed where the limit is 0."""


def as_shown(value: float, unit: Unit) -> str:
    """A value with its unit, to a tenth at most, a length in inches too where they are shown; a count has none.

    >>> as_shown(300.04, "mm"), as_shown(2.0, "count"), as_shown(1.25, "deg")
    ('300 mm', '2', '1.3°')
    """
    inches = in_inches(value) if unit == "mm" else ""
    return f"{rounded(value, SHOWN):.10g}" + SYMBOLS[unit] + inches


class Severity(StrEnum):
    """How much weighs on a rule: a must, an advice, or a thing worth knowing."""

    MUST = "must"
    SHOULD = "should"
    NOTE = "note"


class Verdict(StrEnum):
    """How a place stands to a rule: a must not met, an advice not kept, a note to look at. None is an approval."""

    NOT_MET = "not met"
    SHORT = "falls short"
    WATCH = "worth a look"
    NOT_MEASURED = "not measured"
    MET = "met"


MISSED = {Severity.MUST: Verdict.NOT_MET, Severity.SHOULD: Verdict.SHORT, Severity.NOTE: Verdict.WATCH}


class Aspect(StrEnum):
    """Which side, end or direction of a subject a place is at."""

    LEFT = "left"
    RIGHT = "right"
    LEFT_END = "left end"
    RIGHT_END = "right end"
    BACK = "back"
    ALONG = "along"
    ABOVE = "above"
    BEHIND = "behind"
    BELOW = "below"
    BEFORE = "in front"


class Stop(StrEnum):
    """What ends a stretch of worktop and is no thing of its own."""

    END = "the end"
    TALL = "a tall unit"
    WALL = "the wall"
    CORNER = "the corner"
    SHALLOW = "a place less deep"


class Amount(StrEnum):
    """What a figure of a place is, beside the value that was measured."""

    AT = "at"
    FROM = "from"
    TO = "to"
    HEIGHT = "height"
    BOARD = "board"
    THICKNESS = "thickness"
    MASS = "mass"
    EACH = "each"
    COUNT = "count"
    SIZE = "size"


@dataclass(frozen=True)
class Figure:
    """A number that tells a place apart or is read with it, in mm or kg, or a count."""

    what: Amount
    value: float


@dataclass(frozen=True)
class Spot:
    """What a place is known by: the place is the same where all of this is, whatever was measured there."""

    subject: Thing
    side: Aspect | None = None
    against: Thing | Stop | None = None


@dataclass(frozen=True)
class Where:
    """Where a measure looked, in values; `model.checks.wording` says it, by its ``phrase``.

    ``subject``, ``side`` and ``against`` are what it is known by. ``more`` are further things that its words name,
    ``figures`` numbers in them. ``note`` says how something was found, such as the way a piece is carried.
    """

    phrase: Phrase
    subject: Thing
    side: Aspect | None = None
    against: Thing | Stop | None = None
    more: tuple[Thing, ...] = ()
    figures: tuple[Figure, ...] = ()
    note: str = ""

    @property
    def spot(self) -> Spot:
        """What it is known by."""
        return Spot(self.subject, self.side, self.against)

    @property
    def things(self) -> tuple[Thing, ...]:
        """Everything that it names."""
        against = (self.against,) if isinstance(self.against, Thing) else ()
        return (self.subject, *against, *self.more)


@dataclass(frozen=True)
class Place:
    """One place that a measure looked at. ``value`` is in the measure's unit, or None for ``reason``.

    ``about`` are the parts concerned, or the units, lengths, sinks and hobs that own them. ``fuel`` is given for
    hobs, so that rules for gas and for electricity find their own, and ``cooker`` says whether it is a cooker's or
    let in, where that matters. ``top`` (mm) is given for seats at a worktop of that
    height; ``advice`` stands before that of the rule.
    """

    where: Where
    value: float | None
    about: tuple[Thing, ...]
    volume: Volume | None = None
    segment: Segment | None = None
    fuel: str | None = None
    reason: str = ""
    advice: str = ""
    top: float | None = None
    cooker: bool | None = None


@dataclass(frozen=True)
class Finding:
    """The outcome of one rule at one place. ``value`` and ``limit`` are in ``unit``.

    ``where`` is the place in values and ``place`` the same in words, ``about`` the things concerned and ``ids``
    their names, for people. ``reason`` says why nothing was measured where ``value`` is None. ``source`` names
    where the limit is from and whether that was seen. ``volume`` and ``segment`` are in room coordinates (mm), to
    be drawn. ``advice`` is what would cure it, and empty for what is met.
    """

    rule: str
    measure: str
    question: str
    where: Where
    place: str
    value: float | None
    limit: float
    unit: Unit
    sense: Sense
    severity: Severity
    source: str
    region: str
    about: tuple[Thing, ...]
    ids: tuple[str, ...]
    volume: Volume | None
    segment: Segment | None
    reason: str
    advice: str

    @property
    def spot(self) -> Spot:
        """What its place is known by."""
        return self.where.spot

    @property
    def things(self) -> frozenset[Thing]:
        """Everything that it is about or names."""
        return frozenset((*self.about, *self.where.things))

    @property
    def margin(self) -> float | None:
        """What is to spare, in ``unit``; negative by how much the limit is missed, None where not measured."""
        if self.value is None:
            return None
        spare = self.value - self.limit if self.sense == "at least" else self.limit - self.value
        return rounded(spare, SHOWN)

    @property
    def share(self) -> float:
        """The margin in proportion to the limit, 0 where not measured; only for the order of findings."""
        return (self.margin or 0.0) / (self.limit or NO_LIMIT)

    @property
    def verdict(self) -> Verdict:
        """A value exactly at the limit meets it."""
        if self.margin is None:
            return Verdict.NOT_MEASURED
        return Verdict.MET if self.margin >= 0 else MISSED[self.severity]

    @property
    def serious(self) -> bool:
        """Whether a must is not met."""
        return self.verdict is Verdict.NOT_MET
