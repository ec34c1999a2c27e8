"""Bad kitchen files: one clear error each, with line, field, what was found and what is allowed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from countersunk.model.catalogue.catalogue import default_catalogue
from countersunk.model.errors import MOST_TOLD, InputError, Problem
from countersunk.model.files.strict_yaml import Source, composed
from countersunk.model.kitchen import open_kitchen, read_kitchen
from tests.specimens import SOME_DEMOS

pytestmark = pytest.mark.quick

GOOD = """\
kitchen: Specimen
room:
  walls:
    - {name: A, length: 3000}
runs:
  - wall: A
    start: 500
    units:
      - {unit: base-doors, width: 400}
      - {unit: base-sink, width: 600}
worktop: {stock: pf38.600, decor: pale-oak}
fronts: {decor: chalk}
cutouts:
  - {template: sink.one-bowl, over: A2}
"""


FLOOR_UNITS = ", ".join(f.code for f in default_catalogue().families.values() if f.level == "floor")


def refusal(old, new):
    assert old in GOOD
    with pytest.raises(InputError) as caught:
        read_kitchen(GOOD.replace(old, new).encode(), "k.yaml")
    return str(caught.value)


def test_the_file_is_good_before_it_is_spoilt():
    assert len(read_kitchen(GOOD.encode(), "k.yaml").units) == 2


WIDTHS = "200, 300, 400, 450, 500, 600, 800, 900, 1000"


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (
            "start: 500",
            "strat: 500",
            "k.yaml:7: runs[0].strat: found an unknown key; allowed: wall, level, start, out, facing, key, units, "
            "supply, front_supply, fronts, top, style, handle, returns, cornice, pelmet, to_ceiling, lights. Try: "
            "'start'.",
        ),
        (
            "length: 3000",
            "length: three",
            'k.yaml:4: room.walls[0].length: found "three"; allowed: a number from 100 to 20000.',
        ),
        (
            "length: 3000",
            "length: .nan",
            "k.yaml:4: room.walls[0].length: found NaN; allowed: a number from 100 to 20000.",
        ),
        (
            "length: 3000",
            "length: -3000",
            "k.yaml:4: room.walls[0].length: found -3000; allowed: a number from 100 to 20000.",
        ),
        (
            "length: 3000",
            "length: 1e9",
            "k.yaml:4: room.walls[0].length: found 1000000000.0; allowed: a number from 100 to 20000.",
        ),
        (
            "width: 400",
            "width: 410",
            f"k.yaml:9: runs[0].units[0].width: found 410; allowed: for base-doors: {WIDTHS}.",
        ),
        (
            "unit: base-sink",
            "unit: base-snik",
            f"k.yaml:10: runs[0].units[1].unit: found 'base-snik'; allowed: a floor unit: {FLOOR_UNITS}. "
            "Try: 'base-sink'.",
        ),
        (
            "start: 500",
            "start: 2500",
            "k.yaml:10: runs[0].units[1].width: found 600, which ends at 3500; allowed: the wall is 3000 long and "
            "leaves 100. Try: a narrower unit, or start the run further left.",
        ),
        (
            "wall: A",
            "wall: Q",
            "k.yaml:6: runs[0].wall: found 'Q'; allowed: a wall: A.",
        ),
        (
            "fronts: {decor: chalk}\n",
            "",
            "k.yaml:1: fronts: found nothing; allowed: a mapping with the keys decor, upper, tall, panels, "
            "plinth, cornice, pelmet, sides, bottoms, supply, style, upper_style, tall_style, handle, "
            "upper_handle, tall_handle. Try: add 'fronts'.",
        ),
        (
            "unit: base-sink, width: 600",
            "unit: base-sink, width: 600, name: A1",
            "k.yaml:10: runs[0].units[1].name: found 'A1', a name already given; allowed: a name of its own. "
            "Try: 'A1x'.",
        ),
        (
            "start: 500",
            "start: 500\n    start: 600",
            "k.yaml:8: runs[0].start: found the key twice; allowed: each key once. "
            "Try: keep one of them; the first is on line 7.",
        ),
        (
            "kitchen: Specimen",
            "kitchen: &a Specimen",
            "k.yaml:1: file: found an anchor or alias; allowed: plain values. Try: write it out in full.",
        ),
        (
            "kitchen: Specimen",
            "kitchen: !!python/object/apply:os.getcwd []",
            "k.yaml:1: file: found a tag; allowed: plain values. Try: write it out in full.",
        ),
        (
            "kitchen: Specimen",
            "--- \nkitchen: Specimen\n---\nkitchen: Another",
            "k.yaml:3: file: found a second document; allowed: plain values. Try: write it out in full.",
        ),
        (
            "over: A2",
            "over: A1, shift: 60",
            "k.yaml:14: cutouts[0]: found sink.bowl in the place of A1.",
        ),
        (
            "over: A2",
            "over: A2, shift: 400",
            "k.yaml:14: cutouts[0].shift: found a line to cut that crosses an edge or a join of T1; allowed: a "
            "line wholly inside T1 (1020 x 600). Try: move it, put it over another unit, or choose a smaller one.",
        ),
        (
            "decor: pale-oak",
            "decor: pale-oat",
            "k.yaml:11: worktop.decor: found 'pale-oat'; allowed: pale-oak, smoked-ash, rain-slate, salt-terrazzo. "
            "Try: 'pale-oak'.",
        ),
        ("kitchen: Specimen", "kitchen: [1, 2", "k.yaml:2: file: found "),
        ("kitchen: Specimen", "kitchen: 2020-13-45", "k.yaml:1: kitchen: found '2020-13-45'; allowed: "),
        ("kitchen: Specimen", "kitchen: " + "[" * 20 + "]" * 20, "k.yaml:1: file: found nesting deeper than 12"),
        ("kitchen: Specimen", "? [a]\n: 1\nkitchen: Specimen", "k.yaml:1: file: found the key "),
    ],
)
def test_each_mistake_has_its_own_words(old, new, message):
    assert refusal(old, new).startswith(message)


def test_all_problems_of_a_file_are_told_at_once():
    text = GOOD.replace("length: 3000", "length: x").replace("width: 400", "width: y")
    with pytest.raises(InputError) as caught:
        read_kitchen(text.encode(), "k.yaml")
    assert [p.line for p in caught.value.problems] == [4, 9]


def test_a_file_over_one_megabyte_is_not_even_parsed(tmp_path):
    path = tmp_path / "big.yaml"
    path.write_bytes(GOOD.encode() + b"# " + b"x" * 1_000_000)
    with pytest.raises(InputError, match=r"big\.yaml: file: found more than 1 MB"):
        open_kitchen(path)


def test_a_file_that_is_not_there_is_named(tmp_path):
    with pytest.raises(InputError, match="found no such file or directory"):
        open_kitchen(tmp_path / "none.yaml")


def test_bytes_that_are_no_text_are_refused():
    with pytest.raises(InputError, match="a byte that is not UTF-8 at offset 3"):
        read_kitchen(b"a: \xff", "k.yaml")


@given(st.binary(max_size=300))
def test_no_bytes_whatever_end_in_anything_but_an_input_error(raw):
    with pytest.raises(InputError):
        read_kitchen(raw, "k.yaml")


@given(st.data())
def test_a_spoilt_demo_is_built_or_refused(data):
    raw = data.draw(st.sampled_from(SOME_DEMOS)).read_bytes()
    at = data.draw(st.integers(0, len(raw) - 1))
    put = data.draw(st.binary(max_size=3))
    try:
        read_kitchen(raw[:at] + put + raw[at + data.draw(st.integers(0, 3)) :], "k.yaml")
    except InputError:
        return


def test_problems_read_the_same_after_a_trip_between_processes():
    import pickle

    error = InputError([Problem("a", "b", "c")])
    assert pickle.loads(pickle.dumps(error)).problems == error.problems


L_SHAPED = """\
kitchen: An L in thirty lines
room:
  walls:
    - {name: A, length: 3600, corner: 91.2}
    - {name: B, length: 2600}
  openings:
    - {kind: window, wall: A, at: 1000, width: 1200, sill: 1050, head: 2100}
runs:
  - wall: A
    start: 28
    units:
      - {unit: end-panel}
      - {unit: base-doors, width: 450}
      - {unit: dishwasher, width: 600}
      - {unit: base-sink, width: 600}
      - {unit: base-drawers, width: 800}
      - {unit: base-corner, width: 1100, hand: right}
  - wall: B
    start: 600
    units:
      - {unit: filler, width: 50}
      - {unit: base-drawers, width: 400}
      - {unit: base-hob, width: 600}
      - {unit: base-drawers, width: 500}
worktop: {stock: pf38.600, decor: pale-oak}
fronts: {decor: sage}
cutouts:
  - {template: sink.one-bowl, over: A4}
  - {template: hob.electric-60, over: B3}
"""


def test_an_l_shaped_kitchen_takes_thirty_lines():
    assert len(L_SHAPED.splitlines()) <= 30
    kitchen = read_kitchen(L_SHAPED.encode(), "l.yaml")
    assert (len(kitchen.lengths), len(kitchen.joins), len(kitchen.cutouts)) == (2, 1, 2)


def test_a_field_that_is_none_of_ours_has_no_line():
    # The name that a union of choices gives to one of them; looking for what holds it went on for ever.
    assert Source("f.yaml", {"region": 1}).line("region.literal['uk','us']") is None


def test_the_first_of_many_problems_are_told_and_the_others_counted():
    with pytest.raises(InputError) as caught:
        read_kitchen((GOOD + "".join(f"key{i}: 1\n" for i in range(100))).encode(), "k.yaml")
    assert len(caught.value.problems) == MOST_TOLD
    assert str(caught.value).endswith(f"and {100 - MOST_TOLD} more problems")


def test_more_values_than_a_kitchen_has_are_refused_where_they_pass_the_bound(monkeypatch):
    monkeypatch.setattr("countersunk.model.files.strict_yaml.MAX_NODES", 3000)
    with pytest.raises(InputError) as caught:
        composed("a:\n" + "- 1\n" * 3100)
    (problem,) = caught.value.problems
    assert (problem.found, problem.line) == ("more than 3000 values", 2999)  # a, its list and the mapping are three
