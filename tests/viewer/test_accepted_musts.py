"""A kitchen whose must is not met is not quoted, unless somebody answers for it by name and reason."""

from dataclasses import replace
from datetime import date

import pytest

from countersunk.model.checks import check
from countersunk.model.checks.accepted import accepted_words, refuse_unmet
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.viewer.drawing.card import steps
from countersunk.viewer.quoting.customer import Job, quote_data
from countersunk.viewer.quoting.options import NO_OPTIONS
from countersunk.viewer.quoting.quote import quote_pdf
from countersunk.viewer.stills import stills
from tests.specimens import document
from tests.takeoff.by_hand import terms

JOB = Job((), date(2026, 3, 2))
REASON = "The end stands against a column that holds it."


def near_the_end(**more):
    """The hob of the specimen stands over the last unit, 30 mm from the end of the top."""
    return build(document(cutouts=({"template": "hob.electric-60", "over": "A3"},), **more))


def accepting(at, rule="cutout-to-end"):
    return near_the_end(accepted=({"rule": rule, "at": at, "by": "R. Fitter", "reason": REASON},))


@pytest.fixture(scope="module")
def kitchen():
    return near_the_end()


def words(kitchen):
    return list(accepted_words(kitchen, check(kitchen)))


# The line of the hob is 560 wide in a unit of 600, and the top ends 10 past it: 20 + 10 = 30.
def test_nothing_is_quoted_while_a_must_is_not_met(kitchen):
    with pytest.raises(InputError) as error:
        quote_pdf(kitchen, estimate(kitchen), JOB)
    (problem,) = error.value.problems
    assert problem.found == "hob to the right end of T1, exposed: 30 mm, at least 100 mm is asked"
    assert "{rule: cutout-to-end, at: hob, by: your name, reason: why}" in problem.advice


@pytest.mark.parametrize("at", ["hob", "c-5", "T1"])
def test_what_somebody_answers_for_passes_and_is_said_to_customer_and_fitter(at):
    made = accepting(at)
    refuse_unmet(made, check(made))
    (said,) = words(made)
    assert said.endswith(f"at least 100 mm is asked. Accepted by R. Fitter: {REASON}")
    assert any(said in step.cautions for step in steps(made))
    assert quote_data(made, estimate(made), NO_OPTIONS, replace(JOB, accepted=(said,)))["accepted"] == [said]


@pytest.mark.parametrize(("at", "rule"), [("T2", "cutout-to-end"), ("hob", "cutout-to-join")])
def test_what_is_accepted_elsewhere_is_not_accepted_here(at, rule):
    made = accepting(at, rule)
    with pytest.raises(InputError, match="cutout-to-end"):
        refuse_unmet(made, check(made))
    assert words(made) == []


def test_a_kitchen_that_accepts_something_is_quoted(monkeypatch):
    def no_graphics(_):
        raise stills.StillsError("no graphics here")

    monkeypatch.setattr(stills, "view_png", no_graphics)
    made = accepting("hob")
    assert quote_pdf(made, estimate(made), JOB).startswith(b"%PDF")


# The same kitchen at two mark-ups is two quotes that can both be signed: one reference each.
def test_a_reference_tells_content_and_price_apart(kitchen):
    def reference(percent, kitchen=kitchen):
        return quote_data(kitchen, estimate(kitchen, terms=terms(percent)), NO_OPTIONS, JOB)["reference"]

    assert reference(15.0) == reference(15.0) != reference(30.0)
    assert reference(15.0).split("-")[0] == reference(30.0).split("-")[0]
    assert reference(15.0, accepting("hob")).split("-")[0] != reference(15.0).split("-")[0]
