"""Survey: the room and the runs as fitted, and what became of every reading."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from countersunk.model.document.fitted import AsFitted
from countersunk.model.document.schema import Document
from countersunk.model.fitted.along import LEFT, RIGHT, FittedLine, adjusted_line, side_of
from countersunk.model.fitted.behind import FittedFace, fitted_faces
from countersunk.model.fitted.beside import Beside, check_ends, gap_rows, leans, length_rows, line_name, spent_gaps
from countersunk.model.fitted.corners import adjusted_corners, angles_of
from countersunk.model.fitted.named import FittedRuns, NamedUnit
from countersunk.model.fitted.places import fitted_places
from countersunk.model.fitted.room import fitted_walls
from countersunk.model.fitted.standing import stand
from countersunk.model.fitted.weighed import KINDS, Adjusted, FittedReading, Row
from countersunk.model.geometry.frames import Pose
from countersunk.model.layout.placing import PlacedRun
from countersunk.model.survey import Survey, SurveyedWall, furnished

SIDES = {"left": 0.0, "middle": 0.5, "right": 1.0}


@dataclass(frozen=True)
class FittedSurvey:
    """The room and the runs as fitted on a ``date``, with every reading in the order of the file.

    ``document`` is the kitchen's with what lies along walls and runs where it is as fitted: tops are laid by it.
    ``gone`` are the fields of readings on units that the kitchen does not have any more: these are not used.
    """

    date: str
    document: Document
    survey: Survey
    runs: tuple[PlacedRun, ...]
    readings: tuple[FittedReading, ...]
    gone: tuple[str, ...]


def survey_fitted(document: Document, fitted: AsFitted, survey: Survey, runs: Sequence[PlacedRun]) -> FittedSurvey:
    """The kitchen as fitted, from the ``survey`` and the ``runs`` as planned.

    Raises InputError for readings that contradict each other, or that name what the kitchen does not have.
    """
    named = FittedRuns(runs)
    faces = fitted_faces(fitted, survey, named)
    corners = adjusted_corners(fitted, survey, named)
    leaning = dict(leans(Beside(fitted, survey, named, faces, {})))
    angles = dict(angles_of(survey, corners, leaning))
    beside = Beside(fitted, survey, named, faces, angles)
    rows = _rows_by_line(beside, leaning)
    lines = {name: adjusted_line(_line(name, named, survey), rows[name]) for name in _lines(named)}
    lengths = {w.name: lines[w.name].at[RIGHT] if w.name in lines else w.length for w in survey.walls}
    read = {name for name, some in rows.items() if _ties_corners(some)} | {*corners, *leaning}
    with_units = {run.wall for run in named.floor if run.wall}
    check_ends(beside, lines)
    walls = fitted_walls(survey, lengths, angles, read, with_units)
    faced = tuple(faces[w.name].on(w, dict(_moved(w.name, named, lines))) for w in walls)
    alone = (*spent_gaps(beside, leaning), *_heights(fitted, named))
    readings = (*_of(lines.values()), *_of(corners.values()), *_of(faces.values()), *alone)
    stood = tuple(_stood(run, document, lines, survey, {w.name: w for w in faced}) for run in runs)
    laid = fitted_places(document, survey, faced, runs, stood)
    return FittedSurvey(
        fitted.date,
        laid,
        survey if faced == survey.walls else furnished(laid.room, faced, survey.misclosure),
        stood,
        tuple(sorted(readings, key=lambda reading: (KINDS.index(reading.kind), reading.i))),
        tuple(_gone(fitted, named)),
    )


def _rows_by_line(beside: Beside, leaning: Collection[str]) -> defaultdict[str, list[Row]]:
    found = defaultdict[str, list[Row]](list)
    for name, row in (*length_rows(beside), *gap_rows(beside, leaning)):
        found[name].append(row)
    return found


def _lines(named: FittedRuns) -> list[str]:
    return list(dict.fromkeys(line_name(run) for run in named.floor))


def _line(name: str, named: FittedRuns, survey: Survey) -> FittedLine:
    runs = named.on(name)
    if runs:
        return FittedLine(runs, survey.wall(name).length)
    (run,) = (run for run in named.floor if run.key == name)
    return FittedLine([run], stays=run.root.end if run.root else "middle")


def _ties_corners(rows: Iterable[Row]) -> bool:
    """Whether readings alone say how far apart the corners of a wall are."""
    reached, steps = {LEFT}, [(row.a, row.b) for row in rows]
    for _ in steps:
        reached |= {place for step in steps if reached & {*step} for place in step}
    return RIGHT in reached


def _moved(wall: str, named: FittedRuns, lines: Mapping[str, Adjusted]) -> Iterator[tuple[float, float]]:
    """Places along a wall as planned that readings may name, and where they are as fitted, mm."""
    for run in named.on(wall):
        for i, unit in enumerate(run.units):
            place = NamedUnit(run, i)
            low, high = (lines[wall].at[side_of(place, side)] for side in ("left", "right"))
            yield from ((unit.x + share * unit.width, low + share * (high - low)) for share in SIDES.values())


def _stood(
    run: PlacedRun, document: Document, lines: Mapping[str, Adjusted], before: Survey,
    walls: Mapping[str, SurveyedWall],
) -> PlacedRun:  # fmt: skip
    """A run as fitted; what hangs, or stands free, goes with the wall from which it is placed."""
    wall = run.wall or _placed_from(run, document)
    frame = _carried(run.frame, before.wall(wall), walls[wall])
    if run.level != "floor":
        return stand(run, [*(unit.x for unit in run.units), run.units[-1].right], frame)
    at = lines[line_name(run)].at
    places = [at[side_of(NamedUnit(run, i), "left")] for i in range(len(run.units))]
    return stand(run, [*places, at[side_of(NamedUnit(run, len(run.units) - 1), "right")]], frame)


def _carried(frame: Pose, before: SurveyedWall, after: SurveyedWall) -> Pose:
    return frame if before.frame == after.frame else frame.carried(before.frame, after.frame)


def _placed_from(run: PlacedRun, document: Document) -> str:
    placed = [(row.key, row.wall) for row in document.islands] + [
        (row.key, row.wall) for row in document.peninsulas
    ]
    return dict(placed)[run.key]


def _of(some: Iterable[Adjusted | FittedFace]) -> Iterator[FittedReading]:
    for adjusted in some:
        yield from adjusted.readings


def _heights(fitted: AsFitted, named: FittedRuns) -> Iterator[FittedReading]:
    """Each height as it was read: no other reading bears on it."""
    for i, row in enumerate(fitted.heights):
        found = named.unit(row.unit, f"fitted.heights[{i}].unit")
        if found is not None:
            reading = FittedReading(
                f"the height of {found.name}", "heights", i, found.unit.family.top, row.height,
                row.tolerance or fitted.tolerance.height,
            )  # fmt: skip
            yield replace(reading, fitted=row.height)


def _gone(fitted: AsFitted, named: FittedRuns) -> Iterator[str]:
    for kind in KINDS:
        for i, row in enumerate(getattr(fitted, kind)):
            keys = (getattr(row, name, None) for name in ("start", "to", "unit"))
            if any(key is not None and key not in named.by_key for key in keys):
                yield f"fitted.{kind}[{i}]"
