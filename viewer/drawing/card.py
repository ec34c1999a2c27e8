"""Card: the order of work with this kitchen's own numbers, each caution at the step where it matters.

The order and the cautions are common practice of the trade, no source. Makers' sheets and local codes go first.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from countersunk.model.certainty.certainty import hidden_in_words, run_fits
from countersunk.model.checks import check
from countersunk.model.checks.accepted import accepted_words
from countersunk.model.facts.setting_out import DRILL, takes_hole_saw
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey.room import spoken
from countersunk.model.survey.weighing import weigh
from countersunk.model.tops.joins import Join
from countersunk.model.tops.scribe import Scribe
from countersunk.model.tops.worktops import Length
from countersunk.takeoff.measuring.rules import default_rules
from countersunk.takeoff.plans.tops import TopPlan, plan_tops
from countersunk.takeoff.stock.prices import prices_of
from countersunk.viewer.drawing.behind import after_scribing, notches
from countersunk.viewer.drawing.card_fitting import (
    beads,
    connecting,
    ends_to_floor,
    fitting,
    made_to_measure,
    sealing,
    standing,
)
from countersunk.viewer.drawing.card_step import CutWork, Step
from countersunk.viewer.drawing.handling import bought
from countersunk.viewer.drawing.jig import face_up, is_routed
from countersunk.viewer.drawing.lettering import degrees, mm
from countersunk.viewer.drawing.piece import free_corners, place_words, shape_words
from countersunk.viewer.drawing.scribe_sheets import scribed
from countersunk.viewer.drawing.setout import Face, place_of
from countersunk.viewer.drawing.template import size_in_words


def steps(kitchen: Kitchen, tops: Sequence[TopPlan] | None = None) -> list[Step]:
    """Every step that this kitchen takes, in order; ``tops`` as bought, by its catalogue's prices if left out."""
    plans = plan_tops(kitchen, default_rules().saw, prices_of(kitchen.catalogue)) if tops is None else tops
    here = kitchen.cut_here
    return [
        *_before(here, plans), *made_to_measure(kitchen), *_cutting(here), *_joining(here), *_shaping(here),
        *_cutting_out(here), *sealing(here), *fitting(here), *ends_to_floor(here), *standing(kitchen),
        *beads(here), *connecting(kitchen),
    ]  # fmt: skip


def _before(kitchen: Kitchen, plans: Sequence[TopPlan]) -> Iterable[Step]:
    walls = ", ".join(
        f"{w.name} {mm(w.length)}" + (f" then {degrees(w.corner)}" if w.corner is not None else "")
        for w in kitchen.survey.walls
    )
    yield Step(
        "Measure twice before anything is cut",
        (
            f"Walls and corners that these papers are made for: {walls}.",
            "From the wall to where each end will be, with its overhang; on the second leg of a corner allow "
            "for the "
            "depth of the first. Where it differs by more than 2 mm, change the kitchen file and print again.",
            *_resting(kitchen),
        ),
        (*_contradicted(kitchen), *_accepted(kitchen)),
    )
    if not kitchen.lengths:
        return
    edged = any(t.run.stock.material.edges == "sealed" for t in kitchen.lengths)
    strip = " Take the edging strip out of the packing and keep it." if edged else ""
    yield Step(
        "Check the blanks",
        (
            *bought(kitchen, plans),
            f"Decor, batch, faces and noses without fault. The film stays on.{strip}",
        ),
        (
            "Lifting: people as listed, by the revised NIOSH lifting equation, which is for planning and no safe "
            "limit; gloves, since cut edges are sharp.",
        ),
    )


def _resting(kitchen: Kitchen) -> Iterable[str]:
    """On which readings alone something rests, and what would check them: sheet survey says all of it."""
    weighing, hidden = weigh(kitchen.document.room), [w for fit in run_fits(kitchen) for w in hidden_in_words(fit)]
    if not weighing.verdict.contradicted:
        yield from (f"{words}." for words in dict.fromkeys(hidden))
        yield from weighing.words[1:]


def _accepted(kitchen: Kitchen) -> tuple[str, ...]:
    """What a rule asks and this kitchen does not give, and who answers for it."""
    if not kitchen.document.accepted:
        return ()
    return tuple(accepted_words(kitchen, check(kitchen)))


def _contradicted(kitchen: Kitchen) -> tuple[str, ...]:
    """What must be measured again before anything is cut, where the readings contradict each other or might."""
    weighing = weigh(kitchen.document.room)
    if weighing.verdict.sound:
        return ()
    if weighing.verdict.doubtful:
        return (f"Before you cut: {weighing.said[0]} {weighing.steps[0]}. See sheet survey.",)
    return (f"Order and cut nothing yet. {weighing.said[0]} {'. '.join(weighing.steps)}. See sheet survey.",)


def _cutting(kitchen: Kitchen) -> Iterable[Step]:
    if not kitchen.lengths:
        return
    yield Step(
        "Mark and cut to length",
        (
            *(
                f"{t.id}: {mm(t.part.length)} over all, from the datum on sheet {t.id}-underside"
                for t in kitchen.lengths
            ),
            "Tell decor side and underside apart before the first mark. Fine-toothed blade. Teeth enter through "
            "the decor and never leave through it: hand saw and table saw decor up; jigsaw and hand-held circular "
            "saw decor down, along a guide rail.",
        ),
        (
            "Saw: eyes, ears and lungs protected, dust drawn off; blade clear of cable and body; the length "
            "held down "
            "on both sides of the cut.",
        ),
        work=CutWork.LENGTHS,
    )


def _joining(kitchen: Kitchen) -> Iterable[Step]:
    if not kitchen.joins:
        return
    kinds = {j.making for j in kitchen.joins}
    yield Step(
        "Cut the joins",
        (
            *(_join(kitchen, j) for j in kitchen.joins),
            *(words for those, words in HOW_TO_JOIN if kinds & those),
            "Set-up is on the sheet of each join. Try it dry.",
        ),
        (
            "Router: eyes, ears and lungs protected, dust drawn off, several shallow passes; unplug before the "
            "cutter is changed.",
        ),
        work=CutWork.JOINS,
    )


HOW_TO_JOIN: tuple[tuple[set[str], str], ...] = (
    (
        {"mitre"},
        "Mitre: rough cut of both with the jigsaw, decor down, fine teeth; then the female with the jig clamped, "
        "then the male, each with the face up that is said here, so that the cutter enters through the front edge; "
        "then the slots from the underside.",
    ),
    (
        {"full mitre"},
        "Full mitre: both halves along a straight guide, from the front edge to the corner behind, at half the "
        "corner; no notch; then the slots. The tip at the back is sharp: carry it flat.",
    ),
    (
        {"in line"},
        "In line: both halves square, one batch, figure and nose compared end to end before the cut; then the "
        "slots.",
    ),
    (
        {"butt", "tee"},
        "With a strip: the female keeps its factory edge; the male's end is cut, sealed, drilled for the strip's "
        "screws.",
    ),
    (
        {"bonded"},
        "Bonded: both edges routed dead straight and square to the face, one batch; no slots, no sealer.",
    ),
)
"""Common practice of the trade, no source."""


def _join(kitchen: Kitchen, j: Join) -> str:
    female, male = (_half(kitchen.length(i), j) for i in (j.female, j.male))
    at = "" if j.kind == "in line" else f" at {degrees(j.angle)}"
    return f"{j.id}, {j.kind}{at}: {j.female} female {female}, {j.male} male {male}; {j.hardware}"


def _half(length: Length, j: Join) -> str:
    """Where a half is, and which of its faces is up while it is routed."""
    up = {Face.TOP: ", decor up", Face.UNDERSIDE: ", underside up"}
    return f"{place_of(length, j)}{up[face_up(length, j)] if is_routed(j) else ''}"


def _shaping(kitchen: Kitchen) -> Iterable[Step]:
    """Notches, backs that are scribed, and corners at free ends."""
    yield from _notching(kitchen)
    yield from _scribing(kitchen)
    yield from _rounding(kitchen)


def _notching(kitchen: Kitchen) -> Iterable[Step]:
    gap = mm(kitchen.allowances.notch)
    around = [f"{t.id} round the {spoken(o.kind)}" for t in kitchen.lengths for o, _ in notches(kitchen, t)]
    if around:
        yield Step(
            "Cut the notches",
            (
                f"{', '.join(around)}: gap {gap} all round, set out on the length's own sheets. "
                "Measure the "
                f"obstacle again at the height of the top. Drill the inside corners (R{gap}) before "
                "sawing.",
            ),
            ("Jigsaw: eyes, ears and lungs protected; the tongue beside a notch breaks: carry it flat, held on "
             "both "
             "sides.",),
            work=CutWork.NOTCHES,
        )  # fmt: skip


def _scribing(kitchen: Kitchen) -> Iterable[Step]:
    those = scribed(kitchen)
    if those:
        yield Step(
            "Scribe the backs",
            (
                f"{', '.join(f'{t.id} to wall {s.wall}, {_bow(s)}' for t, s in those)}: an offset every 100 is on "
                f"sheet {', '.join(f'{t.id}-scribe' for t, _ in those)}, a 1:1 strip in templates.pdf.",
                f"Offer up on the levelled units, {after_scribing(those[0][0])}; the wall itself decides.",
            ),
            ("Planer, sander and saw: eyes, ears and lungs protected, dust drawn off.",),
        )


def _bow(scribe: Scribe) -> str:
    """How far the wall is off the straight, either way."""
    ways = (("hollow", scribe.gap), ("bulging", scribe.bulge))
    return ", ".join(f"{word} {mm(off)}" for word, off in ways if mm(off) != "0")


def _rounding(kitchen: Kitchen) -> Iterable[Step]:
    corners = [
        f"{t.id} {place_words(w)} {shape_words(w)}" for t in kitchen.lengths for w in free_corners(kitchen, t)
    ]
    if corners:
        yield Step(
            "Shape the free corners",
            (
                f"Seen from above: {', '.join(corners)}. Rough with the jigsaw, finish with the router along a "
                "guide.",
            ),
            work=CutWork.CORNERS,
        )


def _cutting_out(kitchen: Kitchen) -> Iterable[Step]:
    if not kitchen.cutouts:
        return
    drilled = [c for c in kitchen.cutouts if takes_hole_saw(c.template)]
    sawn = [c for c in kitchen.cutouts if c not in drilled]
    under = [c.id for c in sawn if c.template.mount == "under"]
    lines = [f"{c.id}: {size_in_words(c.template)}" for c in kitchen.cutouts]
    if sawn:
        lines.append(
            "Compare with the appliance's own sheet first. Mark on the underside from the sheet or the 1:1 "
            f"template; drill the starter holes ({mm(DRILL)}) from the decor face; jigsaw decor down, fine teeth, "
            "along the LINE TO CUT, never the rim. Carry the waste so that it does not break out, "
            "and cut the last side last."
        )
    if under:
        lines.append(f"{', '.join(under)}: no rim covers this line, its edge stays in sight: router along a guide.")
    if drilled:
        lines.append("Hole saw: middle marked on the decor face, from the decor face onto a board; no jigsaw.")
    yield Step(
        "Cut the cut-outs",
        tuple(lines),
        (
            "Jigsaw and drill: eyes, ears and lungs protected; nothing and nobody below the cut; the cable "
            "behind you.",
        ),
        work=CutWork.CUT_OUTS,
    )
    seen = f"; of {', '.join(under)} above as well, where it stays in sight" if under else ""
    yield Step("Smooth and dust", (f"Every raw edge, arrises eased on the underside only{seen}.",))
