"""The table of cases: each is measured and judged, none is missing, and where the room lies makes no difference."""

import pytest

from countersunk.model.checks import check
from countersunk.model.checks.registry import MEASURES
from countersunk.model.checks.rules import Rules
from tests.lanes import LARGE
from tests.model.cases import CASES, WITHOUT, Kind
from tests.model.cases.table import RULES, moved
from tests.model.test_checks import finding, kitchen

MOVES = [(0.0, 0.1, -0.1), (0.0, 12_345.6, 0.3), (90.0, 0.0, 0.0), (33.7, -1234.5, 678.9)]
"""Degrees, and mm to either side."""


def found(case):
    """The findings of a case's rule at its place."""
    built = case.scene(*case.given)
    return [f for f in check(built, Rules((RULES[case.rule],))) if case.place in f.place]


def judged(case, value):
    """Whether a value is on the right side of the case's limit."""
    rule = RULES[case.rule]
    return finding(value=value, limit=rule.limit, sense=rule.sense, unit=rule.unit).verdict == "met"


def proves(case):
    """The one finding has the value worked out, and is met as the kind of the case has it."""
    findings = found(case)
    if case.value is None:
        assert findings == []
        return
    (one,) = findings
    assert one.value == pytest.approx(case.value, abs=0.06)
    met = one.verdict == "met"
    assert met == judged(case, round(case.value, 1))
    if case.kind is Kind.PASS:
        assert met
        assert one.margin > 0
    if case.kind is Kind.FAIL:
        assert not met
    if case.kind is Kind.LIMIT:
        assert met
        assert one.margin == 0


def quick_at_the_limit(case):
    """The exact limit, which a wrong measure misses first, is asked in the quick lane as well."""
    return pytest.param(case, marks=[pytest.mark.quick] if case.kind is Kind.LIMIT else [], id=str(case))


@pytest.mark.parametrize("case", [quick_at_the_limit(case) for case in CASES])
def test_a_case_is_measured_as_it_was_worked_by_hand(case):
    proves(case)


@pytest.mark.parametrize("case", [c for c in CASES if c.naive], ids=str)
def test_the_naive_measure_would_judge_otherwise(case):
    if case.value is None:
        assert not judged(case, case.naive.wrong)
    else:
        assert judged(case, case.naive.wrong) != judged(case, case.value)


def test_every_measure_has_a_case_of_every_kind():
    given = {(case.measure, case.kind) for case in CASES}
    wanted = {(measure, kind) for measure in MEASURES for kind in Kind}
    assert sorted(wanted - given - set(WITHOUT)) == []
    assert not given & set(WITHOUT)
    assert given | set(WITHOUT) == wanted


def test_a_case_is_held_against_a_rule_of_its_measure():
    assert [c for c in CASES if RULES[c.rule].measure != c.measure] == []


def test_rooms_do_move():
    with moved(90.0, 10.0, 0.0):
        assert kitchen().survey.walls[0].end == pytest.approx((10.0, 3000.0))


@pytest.mark.parametrize("case", [c for c in CASES if c.kind is Kind.LIMIT], ids=str)
@pytest.mark.parametrize("move", MOVES if LARGE else MOVES[-1:], ids=str)
def test_a_value_at_its_limit_stays_there_wherever_the_room_lies(case, move):
    with moved(*move):
        proves(case)


@pytest.mark.parametrize("case", [c for c in CASES if c.kind is Kind.LIMIT], ids=str)
def test_a_limit_a_tenth_stricter_is_missed(case):
    """So that the exact limit is one."""
    rule = RULES[case.rule]
    step = 1.0 if rule.unit == "count" else 0.1
    stricter = rule.model_copy(update={"limit": rule.limit + (step if rule.sense == "at least" else -step)})
    built = case.scene(*case.given)
    (one,) = [f for f in check(built, Rules((stricter,))) if case.place in f.place]
    assert one.verdict != "met"
