"""``countersunk propose``: a room file in, kitchen files out."""

import json

import pytest
from click.testing import CliRunner

from countersunk import shared
from countersunk.model.kitchen import open_kitchen
from countersunk.viewer.commands.main import main

ROOM = """\
kitchen: Trial room
room:
  walls:
    - {name: A, length: 3600, corner: 90.6}
    - {name: B, length: 3000, corner: 89.7}
    - {name: C, length: 3630, corner: 90}
    - {name: D, length: 3010, corner: 89.7}
  openings:
    - {kind: window, wall: A, at: 1200, width: 1200, sill: 1050, head: 2100}
    - {kind: door, wall: C, at: 2300, width: 850, swing: left}
  services:
    - {kind: water, wall: A, at: 1700, height: 500}
    - {kind: waste, wall: A, at: 1900, height: 300}
wishes: {dishwasher: "450"}
"""


def proposed(folder, text, *options):
    room = folder / "room.yaml"
    room.write_text(text)
    arguments = ["propose", str(room), "--out", str(folder / "layouts"), "--seconds", "100000", *options]
    return CliRunner().invoke(main, arguments), folder / "layouts"


@pytest.mark.slow
def test_kitchen_files_that_build_and_can_be_edited(tmp_path):
    result, out = proposed(tmp_path, ROOM, "--json")
    assert result.exit_code == 0, result.output
    told = json.loads(result.stdout)
    assert told == json.loads((out / "proposals.json").read_text())
    assert [p["file"] for p in told["proposals"]] == [f"proposal-{n}.yaml" for n in (1, 2, 3)]
    for proposal in told["proposals"]:
        kitchen = open_kitchen(out / proposal["file"])
        assert kitchen.document.kitchen == "Trial room"
        assert proposal["findings"]["not met"] == 0
        assert proposal["why"]
        assert proposal["trades"]
    assert told["caution"]


@pytest.mark.slow
def test_the_room_that_comes_with_the_program(tmp_path):
    room = shared.FOLDER / "rooms" / "ordinary.yaml"
    result = CliRunner().invoke(main, ["propose", str(room), "--out", str(tmp_path), "--seconds", "100000"])
    assert result.exit_code == 0
    assert result.stdout.count("It trades away:") == 3
    assert "The time was up" not in result.stdout


def test_a_wish_that_is_unknown_is_named_with_its_line(tmp_path):
    result, out = proposed(tmp_path, ROOM.replace("dishwasher:", "dishwaser:"))
    assert result.exit_code == 2
    assert "room.yaml:14: wishes.dishwaser: found an unknown key" in result.output
    assert "Try: 'dishwasher'" in result.output
    assert not out.exists()


def test_a_room_too_small_names_the_line_of_each_wall(tmp_path):
    text = (
        ROOM.replace("3600", "1500").replace("3630", "1515").replace("at: 1200, width: 1200", "at: 100, width: 900")
    )
    text = text.replace("at: 2300, width: 850", "at: 400, width: 850").replace("1700", "700").replace("1900", "900")
    result, _ = proposed(tmp_path, text)
    assert result.exit_code == 2
    assert "room.yaml:4: room.walls[0]: found wall A with" in result.output
    assert "mm are lacking" in result.output
    assert "Traceback" not in result.output
