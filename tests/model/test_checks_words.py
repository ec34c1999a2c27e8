"""The words of findings: what stands free is called island or peninsula, whichever it is."""

import pytest

from countersunk import shared
from countersunk.model.checks import check, default_rules
from countersunk.model.checks.rules import Rules
from countersunk.model.document.schema import Document
from countersunk.model.kitchen import Kitchen, build
from tests.specimens import everything, open_kitchen


def said_of(built: Kitchen) -> dict[tuple[str, str], str]:
    """The words of every finding by rule and first id, with limits that nothing meets, so that all have advice."""
    never = {"at least": 99_000.0, "at most": 0.0}
    rules = Rules(tuple(rule.model_copy(update={"limit": never[rule.sense]}) for rule in default_rules().rules))
    found = [f for f in check(built, rules) if f.rule != "worktop-frontage"]  # it advises an island where none is
    return {(f.rule, "".join(f.ids[:1])): f"{f.question} {f.place} {f.advice}" for f in found}


@pytest.mark.parametrize(("word", "other"), [("peninsula", "island"), ("island", "peninsula")])
def test_what_stands_free_is_called_what_it_is(word, other):
    said = said_of(open_kitchen(shared.KITCHENS / f"{word}.yaml"))
    assert not [text for text in said.values() if other in text or "{" in text]
    about = {rule for (rule, _), text in said.items() if word in text}
    assert {"walkway-around-island", "island-back-overhang"} <= about
    assert about & {"aisle-one-cook", "aisle-several-cooks"}


def test_an_island_beside_a_peninsula_is_told_from_it():
    island = {
        "name": "I", "wall": "A", "along": 3500.0, "out": 1700.0, "stock": "pf38.670",
        "units": ({"unit": "base-doors", "width": 800.0},),
    }  # fmt: skip
    built = build(Document.model_validate({**everything().model_dump(), "islands": (island,)}))
    said = said_of(built)
    top = {run.free: length.id for length in built.lengths for run in [length.run]}
    for word in ("island", "peninsula"):
        assert f"the back of the {word}'s top" in said["island-back-overhang", top[word]]
        assert f"round the {word} wide" in said["walkway-around-island", top[word]]
