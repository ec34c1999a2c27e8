"""A firm's own catalogue: rows that join those of the program, or stand for themselves; found by name."""

import pytest

from countersunk.model.catalogue.catalogue import (
    catalogue_of,
    default_catalogue,
    inch_catalogue,
    load_catalogue,
)
from countersunk.model.edit.kitchen_file import as_yaml
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build, open_kitchen, read_kitchen
from tests.specimens import document

DECOR = '- {code: %s, name: Moss, figure: plain, colour: "%s", vein: "#6d7a5a", roughness: 0.5, use: front}\n'
FAMILY = """- {code: odd, name: base unit of an odd width, construction: box, level: floor, height: 720, depth: 560,
   legs: 150, widths: [550], carries_top: true, doors: true, method: %s}
"""


def written(folder, name, text):
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(text)
    return folder


def test_rows_join_those_of_the_program_or_take_their_place(tmp_path):
    text = "adds_to: metric\ndecors:\n" + DECOR % ("moss", "#6d7a5a") + DECOR % ("sage", "#010203")
    own, usual = load_catalogue(written(tmp_path, "decors.yaml", text)), default_catalogue()
    assert set(own.decors) == {*usual.decors, "moss"}
    assert own.decors["sage"].colour == "#010203"
    assert list(own.decors)[: len(usual.decors)] == list(usual.decors)
    assert own.families == usual.families


def test_a_file_that_adds_to_nothing_stands_for_itself(tmp_path):
    own = load_catalogue(written(tmp_path, "decors.yaml", "decors:\n" + DECOR % ("moss", "#6d7a5a")))
    assert list(own.decors) == ["moss"]


def test_rows_may_join_the_inch_catalogue(tmp_path):
    text = "adds_to: inch\nfamilies:\n" + FAMILY % "standard"
    own = load_catalogue(written(tmp_path, "units.yaml", text))
    assert set(own.families) == {*inch_catalogue().families, "odd"}
    assert own.methods == inch_catalogue().methods


def test_what_is_wrong_in_an_added_row_is_told_with_its_own_line(tmp_path):
    text = "adds_to: metric\nfamilies:\n" + FAMILY % "by-hand"
    with pytest.raises(InputError, match=r"units.yaml:\d: families\[0\].method: found 'by-hand'"):
        load_catalogue(written(tmp_path, "units.yaml", text))
    text = "adds_to: metric\ndecors:\n" + 2 * (DECOR % ("moss", "#6d7a5a"))
    with pytest.raises(InputError, match=r"decors.yaml:4: decors\[1\].code: found 'moss' twice"):
        load_catalogue(written(tmp_path, "decors.yaml", text))


@pytest.mark.parametrize("name", ["nowhere", "empty"])
def test_a_folder_without_a_file_of_a_catalogue_is_refused(tmp_path, name):
    (tmp_path / "empty").mkdir()
    with pytest.raises(InputError, match=r"allowed: one of units\.yaml, boards\.yaml"):
        load_catalogue(tmp_path / name)


@pytest.fixture
def workshop(tmp_path):
    """A kitchen file, and beside it the folder that it names: a unit of a width that the program does not have."""
    written(tmp_path / "workshop", "units.yaml", "adds_to: metric\nfamilies:\n" + FAMILY % "standard")
    row = {"wall": "A", "start": 500.0, "units": ({"unit": "odd"}, {"unit": "base-doors", "width": 600.0})}
    made = document(runs=(row,), catalogue="workshop")
    file = tmp_path / "kitchen.yaml"
    file.write_bytes(as_yaml(made))
    return file, made


def test_a_kitchen_file_names_a_folder_beside_it(workshop):
    file, _ = workshop
    kitchen = open_kitchen(file)
    assert [unit.width for unit in kitchen.units] == [550.0, 600.0]
    assert kitchen.catalogue.folder == file.parent / "workshop"


def test_a_document_alone_cannot_have_the_folder_and_says_what_to_do(workshop):
    file, made = workshop
    for reading in (lambda: build(made), lambda: read_kitchen(file.read_bytes(), "kitchen.yaml")):
        with pytest.raises(InputError, match="found 'workshop', which is not there; allowed: metric, inch, or"):
            reading()
    assert build(made, load_catalogue(file.parent / "workshop")).units[0].width == 550.0


def test_an_error_of_the_catalogue_keeps_its_own_file(workshop):
    file, _ = workshop
    written(file.parent / "workshop", "boards.yaml", "adds_to: metric\nboards: [{code: x}]\n")
    with pytest.raises(InputError, match=r"^boards.yaml:2: boards\[0\].name: found nothing"):
        open_kitchen(file)
    written(file.parent / "workshop", "boards.yaml", "adds_to: metric\nboards: []\n")
    file.write_text(file.read_text().replace("workshop", "elsewhere"))
    with pytest.raises(InputError, match=r"^kitchen.yaml:\d+: catalogue: found 'elsewhere', which is not there"):
        open_kitchen(file)


@pytest.mark.parametrize("name", ["../workshop", "a/b", "/etc", ".", "..", "Work shop"])
def test_a_name_never_leads_out_of_the_folder(workshop, name):
    file, _ = workshop
    file.write_text(file.read_text().replace("catalogue: workshop", f"catalogue: {name!r}"))
    with pytest.raises(InputError, match="catalogue: found"):
        open_kitchen(file)


def test_the_programs_catalogues_go_by_their_names():
    assert catalogue_of(document()) is default_catalogue()
    assert catalogue_of(document(catalogue="inch")) is inch_catalogue()
