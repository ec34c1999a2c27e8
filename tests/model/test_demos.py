"""The demo kitchens show what there is: whatever a kitchen file can say and a catalogue offers is in one of them.

What there is comes from the schema and the catalogues themselves, so that a new field, word, family or article asks
for a demo at once.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any, Literal, get_args, get_origin

import pytest
from pydantic import BaseModel

from countersunk.model import checks
from countersunk.model.document.schema import Document, Strict
from countersunk.model.files.strict_yaml import read_file
from countersunk.model.geometry.part import EdgeCondition
from countersunk.model.kinds.appliances import Appliance, supplied
from countersunk.model.kitchen import Kitchen
from tests.specimens import DEMOS, INCH, open_kitchen

ORDINARY = sorted((Path(__file__).parents[1] / "ordinary").glob("*.yaml"))
ANYWHERE = {"arms", "front_supply", "returns", "supply", "top", "top_depth"}
"""The same word for rows of every kind, or the whole kitchen: it is asked of one. A peninsula has one free end."""

NONE_MISSED = "no demo misses a must, so there is none to accept: tests/viewer/test_accepted_musts.py"
UNSAID: dict[str, str] = {
    "Document.accepted": NONE_MISSED,
    **dict.fromkeys(("Accepted.rule", "Accepted.at", "Accepted.by", "Accepted.reason"), NONE_MISSED),
}
"""What no demo says, each with the reason."""


def kitchens() -> list[Kitchen]:
    return [open_kitchen(path) for path in DEMOS]


def schemas(annotation: Any) -> Iterator[type[Strict]]:
    if isinstance(annotation, type) and issubclass(annotation, Strict):
        yield annotation
    for inner in get_args(annotation):
        yield from schemas(inner)


def words(annotation: Any) -> Iterator[str]:
    if get_origin(annotation) is Literal:
        yield from get_args(annotation)
    elif annotation is bool:
        yield "True"
    else:
        for inner in get_args(annotation):
            yield from words(inner)


def named(schema: type[BaseModel], key: str) -> str:
    return key if key in ANYWHERE else f"{schema.__name__}.{key}"


def sayable(schema: type[Strict], seen: set[type[Strict]]) -> Iterator[str]:
    """Every field of a schema and those within it, and every word that a field may have."""
    if schema not in seen:
        seen.add(schema)
        for key, field in schema.model_fields.items():
            yield named(schema, key)
            yield from (f"{named(schema, key)}: {word}" for word in words(field.annotation))
            for inner in schemas(field.annotation):
                yield from sayable(inner, seen)


def said(item: Any) -> Iterator[str]:
    """Every field that is set, and every word that a field has, typed or by itself."""
    if isinstance(item, Strict):
        for key in type(item).model_fields:
            value = getattr(item, key)
            yield from [named(type(item), key)] if key in item.model_fields_set else []
            for each in value if isinstance(value, tuple) else (value,):
                yield f"{named(type(item), key)}: {each}"
                yield from said(each)


def test_every_field_and_every_word_of_a_kitchen_file_is_said():
    """Doors and how they swing, obstacles, services, slopes, bows, diagonals, joins, corners, holes, ways in …"""
    documents = [*(k.document for k in kitchens()), *(read_file(path, Document)[0] for path in ORDINARY)]
    missing = set(sayable(Document, set())) - {x for document in documents for x in said(document)}
    assert missing == set(UNSAID)


@pytest.mark.parametrize("name", ["metric", "inch"])
def test_every_family_and_every_worktop_of_a_catalogue_is_used(name):
    mine = [k for k in kitchens() if k.document.catalogue == name]
    catalogue = mine[0].catalogue
    units = [unit for kitchen in mine for unit in kitchen.units]
    ordinary = [document for path in ORDINARY if (document := read_file(path, Document)[0]).catalogue == name]
    rows = [row for d in ordinary for row in (*d.runs, *d.islands, *d.peninsulas)]
    shown = {unit.unit for row in rows for unit in row.units}
    assert set(catalogue.families) == {unit.family.code for unit in units} | shown & set(catalogue.families)
    tops = [top for d in ordinary for top in (d.worktop, *d.islands, *d.peninsulas)]
    shown = {top.stock for top in tops if top.stock}
    assert set(catalogue.stocks) == {length.run.stock.code for k in mine for length in k.lengths} | shown
    assert set(catalogue.boards) <= {part.material for k in mine for part in k.parts}


def test_every_appliance_cut_out_decor_and_upstand_is_used():
    """In both catalogues together: these are of either. Cookers are of any fuel."""
    demos = kitchens()
    catalogues = [demos[0].catalogue, INCH]
    appliances = {bare(a) for c in catalogues for family in c.families.values() for a in family.appliances}
    assert appliances == {bare(a) for k in demos for unit in k.units for a in unit.family.appliances}
    known = {code for c in catalogues for code in (*c.templates, *c.decors, *c.upstands)}
    decors = {decor for k in demos for decor in (k.document.worktop.decor, *k.front_decors)}
    decors |= {code for k in demos for code in (k.document.finishes.walls, k.document.finishes.floor) if code}
    cutouts = {cutout.template.code for k in demos for cutout in k.cutouts}
    ordinary = [read_file(path, Document)[0] for path in ORDINARY]
    typed = [cutout for document in ordinary for cutout in document.cutouts]
    cutouts |= {code for cutout in typed for code in (cutout.template, cutout.article) if code}
    upstands = {document.worktop.upstand.stock for document in ordinary if document.worktop.upstand}
    assert known <= decors | cutouts | upstands | {part.material for k in demos for part in k.parts}


def bare(appliance: Appliance) -> str:
    return supplied(appliance.code, "electric")


def test_tops_meet_in_every_way_and_have_every_edge():
    demos = kitchens()
    assert {join.making for k in demos for join in k.joins} == {
        "mitre",
        "full mitre",
        "butt",
        "in line",
        "tee",
        "bonded",
    }
    assert {edge.condition for k in demos for part in k.parts for edge in part.edges} == set(EdgeCondition)
    assert {length.run.stock.core for k in demos for length in k.lengths} >= {"particleboard", "solid"}


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_no_must_is_missed(path):
    assert [f"{f.rule}: {f.place}" for f in checks.check(open_kitchen(path)) if f.serious] == []


def test_there_are_eighteen_and_each_says_that_it_is_invented():
    assert len(DEMOS) == 18
    assert all("invented" in path.read_text() and "Invented" in open_kitchen(path).document.note for path in DEMOS)
