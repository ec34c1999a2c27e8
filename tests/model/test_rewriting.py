"""A text that says other data: everything that did not have to change is as a person wrote it."""

import re

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from countersunk.model.files.pairing import same
from countersunk.model.files.rewriting import rewritten
from countersunk.model.files.strict_yaml import composed, plain
from countersunk.model.files.writing import scalar, whole
from tests.lanes import examples

TEXT = """\
# Invented.

kitchen: 'Quay'   # one of three
note: |
  # no comment, but text
  of two lines
room:
    height: 2400.0
    # the long wall comes first
    walls:
        - {name: A, length: 3600,   corner: 91.2}   # plastered
        # measured twice
        - name: B   # behind the stove
          length: 3200

        - {name: C, length: 3628}
        # no wall D
runs:
- wall: A
  units: [
    {unit: base, width: 450},  # left
    {unit: sink, width: 600},  # below the window
    # the corner
    {unit: corner}
  ]
list: []
last: "x # y"  # the end
"""


def comments(text):
    """The comments of a text by another way than the code has: what is quoted, and the note, is blotted out."""
    quoted = set(re.findall(r"(?s)'.*?'|\".*?\"", text))
    bare = text
    for words in quoted:
        bare = bare.replace(words, "q" * len(words))
    bare = re.sub(r"(?m)^note: \|\n(?:  .*\n)+", "note: q\n", bare)
    return sorted(found.rstrip() for found in re.findall(r"(?m)(?:^|(?<=\s))#.*$", bare))


def data_of(text):
    return plain(composed(text))


def changed(text, **fields):
    return rewritten(text, {**data_of(text), **fields})


def read_elsewhere(text):
    """The data as the library's own loader has it."""
    return YAML(typ="safe", pure=True).load(text)


def test_what_says_the_same_is_the_same_text():
    assert rewritten(TEXT, data_of(TEXT)) == TEXT


def test_one_value_changes_nothing_else():
    room = data_of(TEXT)["room"]
    walls = ({**room["walls"][0], "corner": 90.5}, *room["walls"][1:])
    made = changed(TEXT, kitchen="Pier", room={"height": 2450.0, "walls": walls})
    assert made == TEXT.replace("'Quay'", "'Pier'").replace("2400.0", "2450.0").replace("91.2", "90.5")


def test_items_go_with_their_comments():
    room = data_of(TEXT)["room"]
    made = changed(TEXT, room={**room, "walls": room["walls"][::-1]})
    assert (
        made[made.index("    walls:") : made.index("runs:")]
        == """\
    walls:
        - {name: C, length: 3628}
        # measured twice
        - name: B   # behind the stove
          length: 3200
        - {name: A, length: 3600,   corner: 91.2}   # plastered
        # no wall D
"""
    )
    assert comments(made) == comments(TEXT)


def test_between_brackets_they_do_as_well():
    units = data_of(TEXT)["runs"][0]["units"]
    made = changed(TEXT, runs=({"wall": "A", "units": (units[1], units[0], units[2])},))
    assert "{unit: sink, width: 600},  # below the window\n    {unit: base, width: 450},  # left\n" in made
    assert comments(made) == comments(TEXT)


def test_what_goes_leaves_its_comments():
    room = data_of(TEXT)["room"]
    made = changed(TEXT, room={**room, "walls": room["walls"][2:]})
    assert (
        made[made.index("    walls:") : made.index("runs:")]
        == """\
    walls:
        # plastered
        # measured twice
        # behind the stove

        - {name: C, length: 3628}
        # no wall D
"""
    )
    assert comments(made) == comments(TEXT)


def test_what_is_new_stands_where_the_data_has_it():
    data = data_of(TEXT)
    wall = {"name": "B", "length": 3200, "bow": {"every": 1000, "offsets": (0, 4.5, 0)}}
    walls = (data["room"]["walls"][0], wall, {"name": "E", "length": 5.0}, data["room"]["walls"][2])
    made = rewritten(TEXT, {"version": 2, **data, "room": {**data["room"], "walls": walls}, "list": ({"a": 1},)})
    assert "# Invented.\n\nversion: 2\nkitchen: 'Quay'   # one of three\n" in made
    assert "          length: 3200\n          bow: {every: 1000, offsets: [0, 4.5, 0]}\n        - {name: E" in made
    assert "list: [{a: 1}]\n" in made


def test_a_list_of_rows_is_written_row_by_row():
    rows = ({"wall": "A", "units": ({"unit": "base", "width": 450.0}, {"unit": "sink"})},)
    made = rewritten("a: 1\n", {"a": 1, "top": {"stock": "x"}, "runs": rows})
    assert (
        made
        == """\
a: 1
top: {stock: x}
runs:
  - wall: A
    units:
      - {unit: base, width: 450}
      - {unit: sink}
"""
    )


@pytest.mark.parametrize(
    "value",
    ["yes", "null", "~", "1e3", "0x1F", "2020-01-02", "a: b", "a #b", "- a", "", " a", "a ", "é½", "a, b", "[a]",
     "'", '"', "a\nb", "\t", "\x7f", "\u2028", "12:30", "1_000", ".5", "true", "off", "=", "!x", "%x", "@x", "`x"],
)  # fmt: skip
def test_a_text_is_read_back_as_it_was(value):
    for text in (whole({"a": value, "b": [value, {"c": value}]}), f"a: {scalar(value, like='q')}\n"):
        assert read_elsewhere(text)["a"] == value
    assert read_elsewhere(whole({"b": [value, {"c": value}]}))["b"] == [value, {"c": value}]


@pytest.mark.parametrize("value", [0.0, -0.0, 600.0, 1e-6, 0.1, 1e20, -12.5, 3, True, None])
def test_a_number_is_read_back_as_it_was(value):
    assert same(read_elsewhere(f"a: {scalar(value)}\n")["a"], value)


leaves = st.one_of(
    st.none(), st.booleans(), st.integers(-9, 9), st.floats(-99, 99), st.sampled_from(["a", "b c", "#"])
)
names = st.sampled_from(["a", "b", "c", "name", "key"])
values = st.recursive(
    leaves,
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(names, inner, max_size=4)),
    max_leaves=12,
)
documents = st.dictionaries(names, values, min_size=1, max_size=4)


def written(draw, value, column):
    """Any data as any text: in blocks and between brackets, with comments wherever there may be one."""
    note = lambda: draw(st.sampled_from(["", "", f"  # {draw(st.integers(0, 99))}"]))  # noqa: E731
    above = lambda: draw(st.sampled_from(["", "", "\n", f"{' ' * column}# above {draw(st.integers(0, 99))}\n"]))  # noqa: E731
    if not isinstance(value, list | dict) or not value or draw(st.booleans()):
        return f" {bracketed(draw, value, column)}{note()}\n"
    out = f"{note()}\n"
    for one in value.items() if isinstance(value, dict) else value:
        head, inner = (f"{one[0]}:", one[1]) if isinstance(value, dict) else ("-", one)
        out += above() + " " * column + head + written(draw, inner, column + draw(st.integers(1, 4)))
    return out


def bracketed(draw, value, column):
    if not isinstance(value, list | dict):
        return scalar(value)
    parts = [
        f"{one[0]}: {bracketed(draw, one[1], column)}" if isinstance(value, dict) else bracketed(draw, one, column)
        for one in (value.items() if isinstance(value, dict) else value)
    ]
    gap = draw(st.sampled_from([", ", ",  ", f",  # in {draw(st.integers(0, 99))}\n{' ' * (column + 1)}"]))
    return ("{%s}" if isinstance(value, dict) else "[%s]") % gap.join(parts)


@pytest.mark.slow
@settings(max_examples=examples(1_500, 60), deadline=None, suppress_health_check=list(HealthCheck))
@given(st.data(), documents, documents)
def test_any_text_comes_to_say_any_data_and_no_comment_is_lost(data, before, after):
    text = "# top\n" + "".join(f"{key}:{written(data.draw, value, 2)}" for key, value in before.items()) + "# end\n"
    assume(same(read_elsewhere(text), before))
    assert rewritten(text, before) == text
    made = rewritten(text, after)
    assert same(read_elsewhere(made), after), made
    assert comments(made) == comments(text), made
    again = rewritten(made, before)
    assert same(read_elsewhere(again), before), again
    assert comments(again) == comments(text), again
