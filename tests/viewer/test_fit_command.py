"""``countersunk fit``: open widths in, an ordinary kitchen file out."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from countersunk.model.checks import check
from countersunk.model.kitchen import open_kitchen
from countersunk.viewer.commands.main import main

ROUGH = """\
kitchen: Rough
room:
  walls:
    - {name: A, length: 3600, corner: 91.2}
    - {name: B, length: 3200, corner: 89.4}
    - {name: C, length: 3628, corner: 90.1}
    - {name: D, length: 3237, corner: 89.3}
  openings:
    - {kind: door, wall: B, at: 2600, width: 500}
runs:
  - wall: A
    units:
      - {unit: base-doors}
      - {unit: dishwasher, width: 600}
      - {unit: base-sink, width: 600}
      - {unit: base-drawers}
      - {unit: base-corner, width: 1100, hand: right}
  - wall: B
    units:
      - {unit: base-drawers}
      - {unit: base-hob, width: 600}
      - {unit: base-drawers}
worktop: {stock: pf38.600, decor: pale-oak}
fronts: {decor: sage}
cutouts:
  - {template: sink.one-bowl, over: A3}
  - {template: hob.electric-60, over: B2}
"""


def fitted(folder, text, *options):
    rough, out = folder / "rough.yaml", folder / "fitted.yaml"
    rough.write_text(text)
    return CliRunner().invoke(main, ["fit", str(rough), *options, "--out", str(out)]), out


def test_both_runs_end_where_they_must(tmp_path):
    result, out = fitted(tmp_path, ROUGH, "--run", "A", "--run", "B")
    assert result.exit_code == 0, result.output
    kitchen = open_kitchen(out)
    a, b = (next(r for r in kitchen.runs if r.name == name) for name in "AB")
    # wall A ends at 3600.1 as adjusted; its neighbour D leans over its left end by 7 at a depth of 580
    assert a.units[-1].right == pytest.approx(3600.1, abs=0.2)
    assert b.units[-1].right == pytest.approx(2600.0, abs=0.2)
    assert [u.family.code for u in (a.units[0], b.units[0], b.units[-1])] == ["filler", "filler", "end-panel"]
    assert b.units[0].width >= 50.0
    assert not any(f.serious for f in check(kitchen))


def test_the_sink_and_the_hob_stay_over_their_units(tmp_path):
    _, out = fitted(tmp_path, ROUGH, "--run", "A", "--run", "B")
    kitchen = open_kitchen(out)
    families = {unit.key: unit.family.code for unit in kitchen.units}
    assert [families[c.over] for c in kitchen.document.cutouts] == ["base-sink", "base-hob"]


def test_too_long_says_what_is_lacking(tmp_path):
    text = ROUGH.replace("length: 3600, corner: 91.2", "length: 2300, corner: 90").replace("3628", "2300")
    text = text.replace("89.4", "90").replace("90.1", "90").replace("89.3", "90").replace("3237", "3200")
    result, out = fitted(tmp_path, text, "--run", "A")  # 200 + 600 + 600 + 300 + 1100 at the narrowest
    assert result.exit_code == 2
    assert "rough.yaml:12: runs[0].units: found at least 2800 mm" in result.output
    assert "allowed: 2300.0 mm on wall A, from wall D to wall B" in result.output
    assert "500.0 mm are lacking" in result.output
    assert not Path(out).exists()


def test_an_unknown_run_is_named(tmp_path):
    result, _ = fitted(tmp_path, ROUGH, "--run", "Q")
    assert result.exit_code == 2
    assert "found 'Q'; allowed: a wall or a run: A, B, runs[0], runs[1]" in result.output
