"""The file is the truth: what a person wrote in it stays, and it says what the document says."""

import re

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from countersunk import shared
from countersunk.model.edit import arrange
from countersunk.model.edit.edits import edited
from countersunk.model.edit.kitchen_file import kitchen_file, new_file, said, uploaded
from countersunk.model.edit.mirror import mirrored
from countersunk.model.errors import InputError
from countersunk.model.kitchen import open_kitchen
from countersunk.viewer.commands.main import main
from tests.lanes import examples, some
from tests.specimens import CORNER_DEMO, DEMOS, SOME_DEMOS, document

DOORS = {"unit": "base-doors", "width": 400.0}


def annotated(path):
    """A demo with a comment at the end of every line and above every third."""
    made = []
    for i, line in enumerate(path.read_text().splitlines()):
        indent, may = " " * (len(line) - len(line.lstrip())), re.match(r" *(- |(?!note)[a-z_]+:)", line)
        made += [f"{indent}# above {i}"] * bool(may and i % 3 == 0) + [f"{line}   # beside {i}" if may else line]
    return ("\n".join(made) + "\n").encode()


def comments(raw):
    return sorted(found.rstrip() for found in re.findall(r"(?m)(?:^|(?<=\s))#.*$", raw.decode()))


@pytest.fixture(params=some(SOME_DEMOS, 3), ids=lambda p: p.stem)
def demo(request):
    return uploaded(annotated(request.param), request.param.name)


def test_a_change_that_changes_nothing_leaves_every_byte(demo):
    assert demo.edited({}).raw == demo.raw
    assert demo.saying(demo.document) is demo
    assert said(demo.saved(demo.document), demo.document) == demo.saved(demo.document)


def test_the_first_change_writes_keys_and_format_and_nothing_else(demo):
    saved = demo.saved(demo.document)
    assert uploaded(saved, "saved").document == demo.document
    assert comments(saved) == comments(demo.raw)
    bare = re.sub(r",? ?key: [a-z]-\d+", "", saved.decode())
    bare = re.sub(r"(?m)^ *\n|^countersunk: 2\n|^last_key: \d+\n?", "", bare)
    named = r"\b(over|from|to|unit): ([a-z]-\d+|[A-Z]+\d+)\b"
    bare, before = (re.sub(named, r"\1", text) for text in (bare, demo.raw.decode()))
    assert bare == re.sub(r"(?m)^ *\n", "", before)


def test_a_mirrored_file_keeps_every_comment(demo):
    made = demo.saying(mirrored(demo.document))
    assert comments(made.raw) == comments(demo.raw)
    assert uploaded(made.raw, "made").document == made.document
    assert made.saying(mirrored(made.document)).document == mirrored(made.document)


@settings(max_examples=examples(100, 5), deadline=None, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_whatever_is_done_one_after_the_other_the_file_says_it_and_keeps_every_comment(data):
    made = uploaded(annotated(data.draw(st.sampled_from(DEMOS))), "demo")
    before = comments(made.raw)
    for _ in range(data.draw(st.integers(1, 4))):
        made = made.saying(drawn_edit(data.draw, made.document))
        assert uploaded(made.raw, "made").document == made.document
        assert comments(made.raw) == before


def drawn_edit(draw, made):
    field, row = draw(st.sampled_from(list(arrange.rows(made).items())))
    at, count = draw(st.integers(0, len(row.units) - 1)), len(row.units)
    act = draw(st.sampled_from(["in", "move", "swap", "out", "row", "top", "less", "walls"]))
    match act:
        case "in":
            return arrange.inserted(made, field, at, DOORS)
        case "move":
            return arrange.moved(made, field, at, draw(st.integers(-3, 3)))
        case "swap":
            return arrange.swapped(made, field, at, draw(st.integers(0, count - 1)))
        case "out" if count > 1:
            return arrange.without_unit(made, field, at)
        case "row" if len(made.runs) > 1:
            return arrange.without_row(made, "runs[0]")
        case "less":
            return edited(made, {"cutouts": None, "access": None, "worktop.joins": None})
        case "walls":
            walls = tuple(wall.model_dump(exclude_unset=True) for wall in made.room.walls)
            return edited(made, {"room.walls": walls[::-1]})
    return edited(made, {"worktop.overhang.front": draw(st.floats(0, 90)), "note": draw(st.text(max_size=9))})


def test_carriage_returns_and_the_mark_of_utf_8_stay():
    raw = b"\xef\xbb\xbf" + annotated(CORNER_DEMO).replace(b"\n", b"\r\n")
    made = uploaded(raw, "dos").edited({"cooks": 3}).raw
    assert made.startswith(b"\xef\xbb\xbf")
    assert made.count(b"\r\n") == made.count(b"\n") > raw.count(b"\n")


def test_a_new_file_is_written_as_people_write_it():
    text = new_file(document(cutouts=({"template": "sink.one-bowl", "over": "A2"},))).raw.decode()
    assert (
        text
        == """\
countersunk: 2
kitchen: Specimen
room:
  walls:
    - {name: A, length: 3000, corner: 90}
    - {name: B, length: 3000, corner: 90}
    - {name: C, length: 3000, corner: 90}
    - {name: D, length: 3000, corner: 90}
runs:
  - wall: A
    start: 500
    key: r-1
    units:
      - {unit: base-doors, width: 400, key: u-2}
      - {unit: base-sink, width: 600, key: u-3}
      - {unit: base-hob, width: 600, key: u-4}
worktop: {stock: pf38.600, decor: pale-oak}
fronts: {decor: chalk}
cutouts:
  - {template: sink.one-bowl, over: u-3, key: c-5}
last_key: 5
"""
    )


def test_a_wrong_change_is_refused_and_the_file_stays(demo):
    with pytest.raises(InputError, match="cooks"):
        demo.edited({"cooks": 99})


def run(*arguments):
    result = CliRunner().invoke(main, [str(argument) for argument in arguments])
    assert result.exit_code == 0, result.output


MISSED = """kitchen: Gasworks Row   # invented
room:
  walls:
    - {name: A, length: 3000, corner: 90}   # by the door
    - {name: B, length: 3000, corner: 90}
    - {name: C, length: 3000, corner: 90}
    - {name: D, length: 3000, corner: 90}
runs:
  # too near to the larder
  - wall: A
    start: 500
    units: [{unit: base-doors, width: 600}, {unit: base-hob, width: 900},  # wide
            {unit: tall-larder, width: 600}]
worktop: {stock: pf38.600, decor: pale-oak}
fronts: {decor: chalk}
cutouts:
  - {template: hob.electric-60, over: A2, shift: 150}   # as she wanted it
"""


def test_a_cure_changes_its_field_and_nothing_else(tmp_path):
    before, after = tmp_path / "before.yaml", tmp_path / "after.yaml"
    before.write_text(MISSED)
    run("cure", before, "--rule", "hob-to-tall-unit", "--apply", "1", "--out", after)
    line = next(line for line in after.read_text().splitlines() if "hob.electric" in line)
    assert re.fullmatch(
        r"  - \{template: hob.electric-60, over: u-3, shift: -?\d+, key: c-5\}   # as she wanted it", line
    )
    assert comments(after.read_bytes()) == comments(before.read_bytes())


@pytest.mark.parametrize("command", [("mirror",), ("joins", "--free", "--pin", "2"), ("fit", "--run", "B")])
def test_every_command_that_writes_a_kitchen_keeps_what_was_written(command, tmp_path):
    before, after = tmp_path / "before.yaml", tmp_path / "after.yaml"
    before.write_bytes(annotated(shared.KITCHENS / "corner.yaml"))
    run(command[0], before, *command[1:], "--out", after)
    assert comments(after.read_bytes()) == comments(before.read_bytes())
    assert open_kitchen(after).document == kitchen_file(after).document
    assert open_kitchen(after).document != kitchen_file(before).document
