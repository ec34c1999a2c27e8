"""The kitchen of chimney.yaml: a cooker in a breast, landings past its cheeks, a shelf on it."""

from pathlib import Path

import countersunk
from countersunk.model.checks.finding import Severity, Verdict


def test_its_landings_lie_past_the_cheeks_and_only_the_narrow_hood_is_missed():
    kitchen = countersunk.open_kitchen(Path(__file__).with_name("chimney.yaml"))
    missed = [f for f in countersunk.check(kitchen) if f.verdict is not Verdict.MET]
    assert [f.rule for f in missed if f.severity is not Severity.NOTE] == ["hob-under-hood"]
    assert "hung-from-ceiling" not in {f.rule for f in missed}
