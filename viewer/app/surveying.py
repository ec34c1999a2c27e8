"""Surveying: what became of the measurements, and how sure the runs fit, as tables and as plain data."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from rich.table import Table

from countersunk.model.certainty.certainty import (
    SURE,
    Doubtful,
    RunFit,
    TopFit,
    allowed_in_words,
    drawn_probabilities,
    hidden_in_words,
    in_words,
    percent,
    run_fits,
    top_fits,
)
from countersunk.model.differences import Deviation, consequences, differences
from countersunk.model.document.schema import Room
from countersunk.model.errors import InputError
from countersunk.model.kitchen import Kitchen
from countersunk.model.showing import in_inches
from countersunk.model.survey import Misclosure, Survey
from countersunk.model.survey.weighing import Weighed, Weighing, weigh
from countersunk.model.tolerance import COVERAGE, MISCLOSURE_ANGLE, MISCLOSURE_LENGTH
from countersunk.viewer.app.terminal import Rows, terminal_table

RUN = ["Run", "Between", "Spare", "Give", "±", "Left", "Fits", "Most doubt"]
MISTAKE = ["Run", "Left if wrong", "By a mistake in"]

LEFT = (
    "Give is what fillers can be cut down, or backs scribed. Left is what stays of spare and give with readings "
    "off as far as is allowed for: less than 0 is short. Fits holds if no reading is a mistake."
)

MISTAKEN = (
    "Left if wrong is what stays of spare and give if one reading is wrong by as much as might not show; where "
    "nothing checks that reading (?), by 100 mm or 5°."
)

TOPS = (
    "± is how far off a length may be if it is cut to this survey and no reading is a mistake, If wrong how far by "
    "one that might not show: measure on the units before you cut."
)

TOPS_FITTED = (
    "± is how far off a length may be that is cut to the readings on the fitted units if none is a mistake, If "
    "wrong how far by one that might not show: a second reading of it would tell."
)

SHOWN = 2
"""Decimals of the figures in the JSON: more than any tape shows."""


def survey_tables(kitchen: Kitchen) -> list[Table | str]:
    """Walls, runs, and a sentence for every run, for the terminal."""
    fits = run_fits(kitchen)
    return [
        *fitted_tables(kitchen),
        *_readings_tables(kitchen.document.room, kitchen.planned.survey),
        terminal_table(runs_rows(fits, drawn_probabilities(kitchen)), "Runs", RUN),
        LEFT,
        terminal_table(mistakes_rows(fits), "If one reading is wrong", MISTAKE),
        MISTAKEN,
        *doubts_in_words(fits, kitchen.document.room),
        terminal_table(
            tops_rows(top_fits(kitchen)), "Tops", ["Top", "Long", "±", "Most doubt", "Share", "If wrong", "By"]
        ),
        TOPS if kitchen.fitted is None else TOPS_FITTED,
    ]


def unbuilt_tables(room: Room, survey: Survey) -> list[Table | str]:
    """Walls and readings of a room of which no kitchen can be built, for the terminal."""
    return [NOT_BUILT, *_readings_tables(room, survey)]


NOT_BUILT = "The kitchen is not built, for the reason below. This is what the readings of its room say."


def _readings_tables(room: Room, survey: Survey) -> list[Table | str]:
    """Walls, then every reading and what they say of each other."""
    weighing = weigh(room)
    walls = ["Wall", "Measured", "Taken as", "Corner", "Taken as °", "Bow"]
    return [
        terminal_table(walls_rows(room, survey), "Walls", walls),
        misclosure_in_words(survey.misclosure),
        terminal_table(weighed_rows(weighing), "Readings", WEIGHED),
        CHECKED,
        *weighing.words,
    ]


FITTED = ["As fitted", "Planned", "Fitted", "Difference", "±", "Judged", "What it means"]


def fitted_tables(kitchen: Kitchen) -> list[Table | str]:
    """What was measured on fitted units against the plan; nothing before."""
    if kitchen.fitted is None:
        return []
    rows = differences_rows(differences(kitchen))
    worse = [f"Less well met than planned: {words}." for words in consequences(kitchen)]
    return [terminal_table(rows, f"Measured on the fitted units, {kitchen.fitted.date}", FITTED), CUT_TO, *worse]


CUT_TO = (
    "Tops are cut to what was fitted, carcasses keep the plan. ± is that of the survey of the room: what is beyond "
    "it stands otherwise than planned."
)


def differences_rows(some: Sequence[Deviation]) -> Rows:
    """A row for each reading on fitted units and each top, mm and degrees."""
    return [_difference_row(difference) for difference in some]


def _difference_row(d: Deviation) -> dict[str, object]:
    say = ("{:.2f}°" if d.unit == "°" else "{:.1f}").format
    return {
        "As fitted": d.what,
        "Planned": "" if d.planned is None else say(d.planned),
        "Fitted": "" if d.fitted is None else say(d.fitted),
        "Difference": "" if d.difference is None else f"{'+' if d.difference > 0 else ''}{say(d.difference)}",
        "±": say(d.tolerance) if d.judged != "not used" else "",
        "Judged": d.judged,
        "What it means": d.meaning,
    }


def fitted_json(kitchen: Kitchen) -> dict[str, Any] | None:
    """The same as plain data, mm and degrees; None for a kitchen that was not measured again."""
    if kitchen.fitted is None:
        return None
    return {
        "date": kitchen.fitted.date,
        "differences": [_difference_json(d) for d in differences(kitchen)],
        "worse": list(consequences(kitchen)),
    }


def _difference_json(d: Deviation) -> dict[str, Any]:
    figures = {"planned": d.planned, "fitted": d.fitted, "difference": d.difference, "tolerance": d.tolerance}
    return {
        "what": d.what,
        "field": d.field,
        **{key: None if value is None else round(value, 3) + 0.0 for key, value in figures.items()},
        "unit": d.unit,
        "judged": d.judged,
        "meaning": d.meaning,
    }


def weighed_rows(weighing: Weighing) -> Rows:
    """A row for each reading that corners must agree with: what the others make of it, mm and degrees."""
    return [_weighed_row(row) for row in weighing.rows]


def _weighed_row(row: Weighed) -> dict[str, object]:
    places = 2 if row.unit == "°" else 1
    return {
        "Reading": row.what,
        "Read": f"{row.value:g}{row.unit if row.unit == '°' else ''}",
        "±": f"{row.tolerance:.3g}",
        "Residual": f"{round(row.residual, places) + 0.0:+.{places}f}",
        "Checked": f"{100 * row.redundancy:.0f} %",
        "Off by": "" if row.alone else f"{abs(row.standardised):.1f} σ",
        "Shows from": "never" if row.alone else f"{row.least_detectable:.2g}",
        "Again": "measure again" if row.suspected else "",
    }


WEIGHED = ["Reading", "Read", "±", "Residual", "Checked", "Off by", "Shows from", "Again"]

CHECKED = (
    "Residual is what was added to a reading. Checked is how much of a mistake in it the others would show; "
    "Shows from is the least mistake that they show four times in five."
)


def doubts_in_words(fits: tuple[RunFit, ...], room: Room) -> list[str]:
    """A sentence for every run that is not sure to fit, or one for all; then what mistakes would do unseen."""
    if not all(fit.sound for fit in fits):
        return ["The readings contradict each other: how sure the runs fit is not known until that is settled."]
    doubtful = [f"{in_words(fit, room)}." for fit in fits if fit.probability < SURE]
    sure = f"At {allowed_in_words(room)}, and with no mistake in a reading, every run fits with {percent(1.0)}."
    hidden = (f"{words}." for fit in fits if fit.probability >= SURE for words in hidden_in_words(fit))
    return [*(doubtful or [sure]), *dict.fromkeys(hidden)]


def misclosure_in_words(misclosure: Misclosure | None) -> str:
    """How well the survey closes."""
    if misclosure is None:
        return "The survey is open: its walls do not lead back to the first."
    angle = round(misclosure.angle, 1) + 0.0
    if misclosure.length > MISCLOSURE_LENGTH or abs(misclosure.angle) > MISCLOSURE_ANGLE:
        return (
            f"The survey misses itself by {misclosure.length:.0f} mm and {angle:+.1f}°: no kitchen is built on "
            f"more than {MISCLOSURE_LENGTH:g} mm or {MISCLOSURE_ANGLE:g}° that tolerances do not explain."
        )
    return f"The survey closes to {misclosure.length:.0f} mm and {angle:+.1f}°; the error is spread by tolerance."


def walls_rows(room: Room, survey: Survey) -> Rows:
    """A row for each wall: as measured and as it is taken to be, mm and degrees."""
    rows = []
    for wall, placed in zip(room.walls, survey.walls, strict=True):
        hollow = [0.0 - y for _, y in placed.bow.coords]
        rows.append(
            {
                "Wall": wall.name,
                "Measured": f"{wall.length:g}",
                "Taken as": f"{placed.length:.1f}",
                "Corner": _corner(wall.corner, wall.diagonal is not None),
                "Taken as °": "" if placed.corner is None else f"{placed.corner:.2f}",
                "Bow": f"{min(hollow):+g} to {max(hollow):+g}" if wall.bow else "",
            }
        )
    return rows


def _corner(corner: float | None, across: bool) -> str:
    if corner is None:
        return "by diagonal" if across else ""
    return f"{corner:g}"


def runs_rows(fits: tuple[RunFit, ...], sure: Sequence[float]) -> Rows:
    """A row for each run on a wall, mm, with how ``sure`` it fits, from 0 to 1."""
    return [_run_row(fit, p) for fit, p in zip(fits, sure, strict=True)]


def tops_rows(fits: tuple[TopFit, ...]) -> Rows:
    """A row for each length of top, mm."""
    return [
        {
            "Top": fit.top,
            "Long": f"{fit.length:.1f}",
            "±": f"{COVERAGE * fit.sigma:.1f}",
            "Most doubt": fit.doubt[0].what if fit.doubt else "",
            "Share": f"{100 * fit.doubt[1]:.0f} %" if fit.doubt else "",
            "If wrong": f"{fit.worst.off:.0f} off" if fit.worst else "",
            "By": _by(fit),
        }
        for fit in fits
    ]


def survey_json(kitchen: Kitchen) -> dict[str, Any]:
    """The same as plain data: mm, degrees, probabilities from 0 to 1."""
    runs = zip(run_fits(kitchen), drawn_probabilities(kitchen), strict=True)
    return {
        "fitted": fitted_json(kitchen),
        **_readings_json(kitchen.document.room, kitchen.planned.survey),
        "tops": [
            {
                "top": f.top,
                "length": round(f.length, SHOWN),
                "sigma": round(f.sigma, SHOWN),
                "doubt": _doubt(f),
                **_unseen(f),
            }
            for f in top_fits(kitchen)
        ],
        "runs": [_run_json(fit, drawn, in_words(fit, kitchen.document.room)) for fit, drawn in runs],
    }


def unbuilt_json(room: Room, survey: Survey, why: InputError) -> dict[str, Any]:
    """What the readings say of a room of which no kitchen can be built, and why none can."""
    return {"not_built": [str(problem) for problem in why.problems], **_readings_json(room, survey)}


def _readings_json(room: Room, survey: Survey) -> dict[str, Any]:
    found, weighing = survey.misclosure, weigh(room)
    return {
        "misclosure": found and {"angle": round(found.angle, 3), "length": round(found.length, SHOWN)},
        "walls": [
            {
                "wall": wall.name,
                "length": round(wall.length, SHOWN),
                "corner": None if wall.corner is None else round(wall.corner, 3),
                "start": [round(c, SHOWN) for c in wall.start],
            }
            for wall in survey.walls
        ],
        "readings": [_weighed_json(row) for row in weighing.rows],
        "apart": weighing.telling and {"measure": weighing.telling.what, "groups": weighing.telling.groups},
        "checked_by": dict(weighing.checked_by),
        "leaning": [
            {"reading": lean.what, "field": lean.field, "height": lean.height, "more": round(lean.more, 4) + 0.0}
            for lean in weighing.leaning
        ],
        "verdict": {
            "freedom": weighing.freedom,
            "chi_square": round(weighing.chi_square, SHOWN),
            "sound": weighing.verdict.sound,
            "contradicted": weighing.verdict.contradicted,
            "words": list(weighing.words),
        },
    }


def _weighed_json(row: Weighed) -> dict[str, Any]:
    return {
        "reading": row.what,
        "field": row.field,
        "value": row.value,
        "tolerance": round(row.tolerance, 4),
        "unit": row.unit,
        "residual": round(row.residual, 4) + 0.0,
        "redundancy": round(row.redundancy, 4) + 0.0,
        "standardised": None if row.alone else round(row.standardised, SHOWN) + 0.0,
        "shows_from": None if row.alone else round(row.least_detectable, SHOWN),
        "suspected": row.suspected,
    }


def _run_row(fit: RunFit, drawn: float) -> dict[str, object]:
    return {
        "Run": fit.run,
        "Between": " and ".join(fit.between),
        "Spare": _length(fit.spare),
        "Give": f"{fit.fillers:.0f}",
        "±": f"{COVERAGE * fit.sigma:.1f}",
        "Left": _length(fit.left),
        "Fits": percent(drawn) if fit.sound else "not known",
        "Most doubt": fit.doubt[0].what if fit.doubt else "",
        "Share": f"{100 * fit.doubt[1]:.0f} %" if fit.doubt else "",
    }


def mistakes_rows(fits: tuple[RunFit, ...]) -> Rows:
    """A row for each run on a wall: what is left, mm, if one reading is wrong and that does not show."""
    return [
        {"Run": fit.run, "Left if wrong": _length(fit.left_if_wrong), "By a mistake in": _by(fit)} for fit in fits
    ]


def _by(fit: Doubtful) -> str:
    """The mistake that would do most without being seen; with a sign where nothing checks that reading."""
    return f"{'? ' * fit.worst.alone}{fit.worst.reading.what}" if fit.worst else ""


def _length(mm: float) -> str:
    return f"{round(mm)}{in_inches(mm)}" if math.isfinite(mm) else "no end"


def _run_json(fit: RunFit, drawn: float, words: str) -> dict[str, Any]:
    free = math.isinf(fit.spare)
    return {
        "run": fit.run,
        "way": fit.way,
        "between": list(fit.between),
        "spare": None if free else round(fit.spare, SHOWN) + 0.0,
        "fillers": fit.fillers,
        "sigma": round(fit.sigma, SHOWN),
        "left": None if free else round(fit.left, SHOWN) + 0.0,
        "probability": {"linear": round(fit.probability, 4), "drawn": round(drawn, 4)},
        "left_if_wrong": None if free else round(fit.left_if_wrong, SHOWN) + 0.0,
        "doubt": _doubt(fit),
        **_unseen(fit),
        "words": words,
    }


def _unseen(fit: Doubtful) -> dict[str, Any]:
    """The readings that nothing checks, and the mistake that would do most without being seen."""
    worst = fit.worst
    return {
        "alone": [reading.what for reading in fit.alone],
        "mistake": worst
        and {
            "reading": worst.reading.what,
            "by": round(worst.least, SHOWN),
            "unit": worst.reading.unit,
            "off": round(worst.off, SHOWN),
        },
    }


def _doubt(fit: Doubtful) -> dict[str, Any] | None:
    return fit.doubt and {"reading": fit.doubt[0].what, "share": round(fit.doubt[1], 3)}
