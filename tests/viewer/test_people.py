"""Twenty people at once: each edits a kitchen of their own, and nothing of another's reaches them."""

import asyncio
import urllib.parse

import pytest

from countersunk import shared
from countersunk.model.edit.edits import edited
from countersunk.viewer.app import address
from tests.specimens import open_kitchen
from tests.viewer.conftest import app_on_the_corner
from tests.viewer.people import Person

pytestmark = pytest.mark.slow

CORNER = open_kitchen(shared.KITCHENS / "corner.yaml").document
NAMES = [f"House {number:02}" for number in range(20)]


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    """An app that nobody else looks at."""
    with app_on_the_corner(tmp_path_factory) as address:
        yield address


async def at_once(server):
    queries = [urllib.parse.urlencode(address.written(edited(CORNER, {"kitchen": name}))) for name in NAMES]
    people = await asyncio.gather(*(Person.arrives(server, query) for query in queries))
    await asyncio.gather(*(person.presses("To the right") for person in people))
    await asyncio.gather(*(person.leaves() for person in people))
    return people


def test_twenty_people_at_once_see_their_own_kitchen_alone(server):
    people = asyncio.run(at_once(server))
    for person, name in zip(people, NAMES, strict=True):
        assert f"|{name}|" in person.said[-1]
        assert "A2 moved one place to the right" in person.said[-1]
        assert [other for other in NAMES if other.encode() in person.seen] == [name]


async def twice(server):
    person = await Person.arrives(server, "demo=corner")
    for _ in range(2):
        await person.presses("To the right")
    await person.leaves()
    return person.said[-1]


def test_a_click_with_an_address_from_before_the_last_edit_is_no_way_back(server):
    """A browser sends its address along, and has not yet the one of an edit that is just being made."""
    assert "A3 moved one place to the right" in asyncio.run(twice(server))
