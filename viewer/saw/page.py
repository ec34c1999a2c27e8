"""Page: the order of work for a phone at the saw, as one HTML file that needs no network and no server."""

from __future__ import annotations

import html
import json
from collections.abc import Sequence
from hashlib import sha256
from pathlib import Path
from string import Template
from typing import Any

from countersunk.model.document.schema import Document
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.measuring.rules import default_rules
from countersunk.takeoff.plans.tops import TopPlan, plan_tops
from countersunk.takeoff.stock.prices import prices_of
from countersunk.viewer.drawing.card import steps
from countersunk.viewer.drawing.card_step import Step
from countersunk.viewer.drawing.paper import reference
from countersunk.viewer.saw.cuts import SawCut, TapeReading, saw_cuts
from countersunk.viewer.saw.picture import picture, whole

FOLDER = Path(__file__).parent

CAUTION = (
    "Makers' sheets and local codes go before everything here; gas, water and electricity are for licensed people. "
    "This page compares what you type with the drawing: it sees neither the board nor the saw."
)

STAY = "If it stays so, leave it: change the kitchen file, and make this page and the papers again."

PAGE = Template("""<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'unsafe-inline'; \
style-src 'unsafe-inline'">
<title>At the saw: $title</title>
<style>
$style</style>
<header><p id="where"></p><h1 id="title" tabindex="-1"></h1></header>
<main id="screen" tabindex="0" aria-label="This step"><noscript>This page needs JavaScript, which is switched off \
here. The card on paper says the same.</noscript></main>
<nav aria-label="Steps"><button type="button" id="back">Back</button><button type="button" id="all">All</button>\
<button type="button" id="done" class="main">Done</button><button type="button" id="next">Next</button></nav>
<dialog id="list" aria-labelledby="head">
<button type="button" id="close">Close</button>
<h2 id="head">$title, papers $imprint</h2>
<form id="find" class="label"><label for="label">What the label says, such as T1</label>
<div class="row"><input id="label" autocomplete="off" autocapitalize="off"><button type="submit">Go</button></div>
<button type="button" id="scan" hidden>Photograph the label</button>
<input type="file" id="camera" accept="image/*" capture="environment" hidden>
<p class="said" id="unknown" role="alert" hidden></p></form>
<div id="steps"></div>
<h2>What was measured</h2>
<p>Ticks, times and readings stay on this phone, in this browser, for these papers alone. Save them before \
its memory is cleared.</p>
<p class="caution" id="lost" hidden>This browser keeps nothing: save before you close the page.</p>
<button type="button" id="save">Save as a file</button>
<textarea id="text" aria-label="The same as text" readonly hidden></textarea>
<p class="caution">$caution</p>
</dialog>
<script type="application/json" id="data">$data</script>
<script>
$script</script>
</html>
""")


def saw_html(kitchen: Kitchen, tops: Sequence[TopPlan] | None = None) -> bytes:
    """The page, UTF-8. Everything that it needs is in it. ``tops`` are those of `steps`."""
    plans = plan_tops(kitchen, default_rules().saw, prices_of(kitchen.catalogue)) if tops is None else tops
    return PAGE.substitute(
        title=html.escape(kitchen.document.kitchen),
        imprint=reference(kitchen),
        caution=html.escape(CAUTION),
        style=(FOLDER / "page.css").read_text("utf-8"),
        script=(FOLDER / "page.js").read_text("utf-8"),
        # Within a page a script ends at the first such tag, even inside a string.
        data=json.dumps(page_data(kitchen, plans), ensure_ascii=False, allow_nan=False).replace("<", "\\u003c"),
    ).encode()


def page_data(kitchen: Kitchen, plans: Sequence[TopPlan]) -> dict[str, Any]:
    """What the page shows and compares with: steps with their cuts, and every number with its place, mm."""
    cuts = saw_cuts(kitchen.cut_here, plans)
    return {
        "kitchen": kitchen.document.kitchen,
        "hash": state_of(kitchen.document),
        "stay": STAY,
        "steps": [_step(step, cuts) for step in steps(kitchen, plans)],
        "numbers": [
            [d.value, f"{cut.piece} {cut.key}.{d.key}", f"{cut.title}, {d.what}"]
            for cut in cuts
            for d in cut.distances
        ],
    }


def state_of(document: Document) -> str:
    """What a kitchen is known by on a phone: the same until anything in it changes except what was read as cut."""
    told = document.model_copy(update={"as_cut": ()}).model_dump_json()
    return sha256(told.encode()).hexdigest()[:16]


def _step(step: Step, cuts: Sequence[SawCut]) -> dict[str, Any]:
    return {
        "key": step.title.lower().replace(" ", "-"),
        "title": step.title,
        "lines": step.lines,
        "cautions": step.cautions,
        "cuts": [_cut(cut) for cut in cuts if cut.work is step.work],
    }


def _cut(cut: SawCut) -> dict[str, Any]:
    return {
        "piece": cut.piece,
        "key": cut.key,
        "mark": cut.length.id,
        "title": cut.title,
        "how": cut.how,
        "face": cut.face.value,
        "whole": whole(cut),
        "picture": picture(cut),
        "distances": [_distance(distance) for distance in cut.distances],
    }


def _distance(distance: TapeReading) -> dict[str, Any]:
    return {
        "key": distance.key,
        "what": distance.what,
        "axis": distance.axis,
        "value": distance.value,
        "tolerance": distance.tolerance,
        "slips": [[slip.value, slip.why] for slip in distance.slips],
    }
