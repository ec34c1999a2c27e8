"""Tables of a document's lists: what is shown is read back as it was, and what is typed as it was typed."""

from pathlib import Path

import pandas as pd
import pytest

from countersunk import shared
from countersunk.model.catalogue.catalogue import catalogue_of
from countersunk.model.document.keys import names_by_key
from countersunk.model.document.measured import Measured
from countersunk.model.document.schema import Document
from countersunk.model.edit import arrange
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.files.strict_yaml import read_file
from countersunk.takeoff.stock.prices import demo_prices
from countersunk.viewer.app.places import columns
from countersunk.viewer.app.places.grid import Cell, frame_of, in_lengths, typed
from countersunk.viewer.app.places.priced import repriced
from countersunk.viewer.app.places.rows_form import level_of, row_cells
from tests.specimens import SOME_DEMOS, document, open_kitchen

SEVERAL_DECORS = [shared.KITCHENS / f"{name}.yaml" for name in ("weavers", "lockhouse")]
"""Demos in which units, rows and an island have fronts of their own."""

LOFT = shared.KITCHENS / "loft.yaml"
"""The demo with diagonals."""


def tables(made):
    """Every table that the app shows of a document: its columns and its rows."""
    room, top, catalogue = made.room, made.worktop, catalogue_of(made)
    walls = [wall.name for wall in room.walls]
    units = names_by_key(made)
    yield columns.WALLS, room.walls
    yield columns.opening_cells(walls), room.openings
    yield columns.obstacle_cells(walls), room.obstacles
    yield columns.service_cells(walls), room.services
    yield columns.slope_cells(walls), room.slopes
    for slope in room.slopes:
        yield columns.ROOF_WINDOWS, slope.windows
        yield columns.DORMERS, slope.dormers
    yield columns.ceiling_cells(walls), room.ceiling
    yield columns.DIAGONALS, room.diagonals
    yield columns.TOLERANCE, [room.tolerance]
    yield columns.cutout_cells(catalogue, units), made.cutouts
    yield columns.JOINS, top.joins
    yield columns.IN_LINE, top.in_line
    yield columns.corner_cells(units), top.corners
    yield columns.hole_cells(made), top.upstand.holes if top.upstand else ()
    yield columns.STAGES, made.access
    for row in arrange.rows(made).values():
        yield columns.unit_cells(catalogue, level_of(row)), row.units
        yield row_cells(row, walls, catalogue), [row]


@pytest.mark.parametrize("path", [*SOME_DEMOS, *SEVERAL_DECORS], ids=lambda p: p.stem)
def test_every_table_of_every_demo_is_read_back_as_it_was(path):
    for cells, rows in tables(open_kitchen(path).document):
        plain = [row.model_dump(exclude_unset=True) for row in rows]
        assert typed(cells, frame_of(cells, rows), rows) == plain


def test_every_column_is_a_field_as_files_name_it():
    """Found by its absence: the corner that a diagonal goes from stood empty, and typing it was refused."""
    made = open_kitchen(LOFT).document
    for cells, rows in [
        *tables(made),
        (columns.MEASURED, [Measured.model_validate({"wall": "A", "length": 1000.0})]),
    ]:
        for row in rows:
            names = {field.alias or name for name, field in type(row).model_fields.items()}
            assert {cell.path.split(".")[0] for cell in cells} <= names


def test_what_is_typed_added_and_taken_out_is_read_as_such():
    units = document().runs[0].units
    cells = columns.unit_cells(catalogue_of(document()), "floor")
    frame = frame_of(cells, units).drop(index=0)
    frame.loc[1, "width"] = 800.0
    frame.loc[7] = {
        "unit": "base-doors",
        "width": 300.0,
        "hand": None,
        "wing": float("nan"),
        "name": "",
        "to_size": False,
        "depth": float("nan"),
    }
    assert typed(cells, frame, units) == [
        {"unit": "base-sink", "width": 800.0, "key": "u-3"},
        {"unit": "base-hob", "width": 600.0, "key": "u-4"},
        {"unit": "base-doors", "width": 300.0},
    ]


def test_a_unit_and_its_row_are_given_fronts_of_their_own_and_lose_them():
    made = document()
    (row,), catalogue = made.runs, catalogue_of(made)
    for cells, rows in (
        (columns.unit_cells(catalogue, "floor"), row.units),
        (row_cells(row, ["A"], catalogue), [row]),
    ):
        frame = frame_of(cells, rows)
        frame.loc[0, "fronts"] = "clay"
        given = typed(cells, frame, rows)
        assert given == [{**rows[0].model_dump(exclude_unset=True), "fronts": "clay"},
                         *(r.model_dump(exclude_unset=True) for r in rows[1:])]  # fmt: skip
        frame.loc[0, "fronts"] = None
        assert typed(cells, frame, rows) == [r.model_dump(exclude_unset=True) for r in rows]


def test_a_pair_and_a_list_of_numbers_are_put_together_and_taken_out():
    walls = document().room.walls
    frame = frame_of(columns.WALLS, walls)
    frame.loc[0, "bow.every"] = 500.0
    frame.loc[0, "bow.offsets"] = "0, 4.5,-2"
    now = typed(columns.WALLS, frame, walls)[0]
    assert now["bow"] == {"every": 500.0, "offsets": (0.0, 4.5, -2.0)}
    bowed = edited(document(), {"room.walls[0].bow": now["bow"]}).room.walls
    frame = frame_of(columns.WALLS, bowed)
    frame.loc[0, ["bow.every", "bow.offsets"]] = [float("nan"), None]
    assert "bow" not in typed(columns.WALLS, frame, bowed)[0]


def test_a_pair_half_typed_is_refused_by_the_schema_and_words_by_the_table():
    cells = [Cell("kind", "kind", "choice"), Cell("line.0", "w"), Cell("line.1", "d"), Cell("over", "over", "text")]
    frame = pd.DataFrame({"kind": ["hob"], "line.0": [560.0], "line.1": [float("nan")], "over": ["A3"]})
    [half] = typed(cells, frame, ())
    with pytest.raises(InputError, match=r"cutouts\[0\]\.line\[1\]"):
        edited(document(), {"cutouts": (half,)})
    frame = frame_of(columns.WALLS, document().room.walls)
    frame.loc[0, "bow.offsets"] = "0, four"
    with pytest.raises(InputError, match="numbers with commas between"):
        typed(columns.WALLS, frame, document().room.walls)


def test_prices_are_taken_exactly_as_typed_or_refused():
    book = demo_prices()
    made = repriced(book, {"sealer": "15.10"})
    assert f"{made['sealer'].price:f}" == "15.10"
    assert {code for code in made if made[code] != book.prices[code]} == {"sealer"}
    with pytest.raises(InputError, match="price of sealer: found '15,10'"):
        repriced(book, {"sealer": "15,10"})


# 600.075 is 23 5/8 in exactly; 600 is no length of a rule in inches, so it keeps its unit.
def test_a_kitchen_in_inches_shows_and_takes_fractions_in_its_tables():
    made = open_kitchen(shared.KITCHENS / "cottonwood.yaml").document
    for cells, rows in tables(made):
        inches = in_lengths(cells, "inch")
        assert typed(inches, frame_of(inches, rows), rows) == [row.model_dump(exclude_unset=True) for row in rows]
        assert not [cell.label for cell in inches if cell.kind == "number" and " mm" in cell.label]
    cells = in_lengths([Cell("width", "width, mm", usual=600.0)], "inch")
    assert (cells[0].label, cells[0].usual) == ("width, in", "600 mm")
    frame = pd.DataFrame({"width": ["23 5/8", '24"', "612.5 mm", None]})
    assert [row.get("width") for row in typed(cells, frame, [])] == [600.075, 609.6, 612.5, None]
    with pytest.raises(InputError, match=r"width, in: found '24'; .*Try: 24. or 24 mm"):
        typed(cells, pd.DataFrame({"width": ["24"]}), [])


def test_a_duct_an_article_and_what_hangs_off_the_wall_are_typed():
    cells = columns.unit_cells(catalogue_of(document()), "upper")
    hood = arrange.rows(
        document(runs=({"wall": "A", "level": "upper", "units": ({"unit": "hood", "width": 600.0},)},))
    )
    frame = frame_of(cells, hood["runs[0]"].units)
    frame["duct.ends"] = frame["duct.ends"].astype(object)
    frame.loc[0, ["duct.length", "duct.bends", "duct.ends"]] = [1800.0, "90, 45", "roof"]
    (unit,) = typed(cells, frame, hood["runs[0]"].units)
    assert unit["duct"] == {"length": 1800.0, "bends": (90.0, 45.0), "ends": "roof"}
    assert "out" in {cell.path for cell in row_cells(hood["runs[0]"], ["A"], catalogue_of(document()))}
    assert "article" in {cell.path for cell in columns.cutout_cells(catalogue_of(document()), {})}


def test_a_roof_has_its_windows_and_dormers_in_tables():
    garret = read_file(Path(__file__).parents[1] / "ordinary" / "garret.yaml", Document)[0]
    (slope,) = garret.room.slopes
    for cells, rows in ((columns.ROOF_WINDOWS, slope.windows), (columns.DORMERS, slope.dormers)):
        assert typed(cells, frame_of(cells, rows), rows) == [row.model_dump(exclude_unset=True) for row in rows]
    windows = typed(columns.ROOF_WINDOWS, frame_of(columns.ROOF_WINDOWS, slope.windows).head(1), slope.windows)
    changed = edited(garret, {"room.slopes[0].windows": tuple(windows)})
    assert changed.room.slopes[0].windows == slope.windows[:1]
    assert changed.room.slopes[0].dormers == slope.dormers
