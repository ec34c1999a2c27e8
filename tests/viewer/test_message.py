"""What goes to the browser: the message, the decors on offer, and the customer's page around it."""

from __future__ import annotations

import io
import json
import re
from base64 import b64decode

import pytest
from PIL import Image

from countersunk import shared
from countersunk.model.edit.edits import edited
from countersunk.model.kitchen import build
from countersunk.viewer.app.customer_html import CAUTION, customer_html
from countersunk.viewer.app.offers import offers
from countersunk.viewer.scene.gltf import Gltf
from countersunk.viewer.scene.materials import rgb
from countersunk.viewer.scene.pieces import WORD, piece_of
from countersunk.viewer.scene.scene import scene
from countersunk.viewer.scene3d import STATIC
from countersunk.viewer.scene3d.message import message, pieces
from tests.specimens import open_kitchen

ODD = piece_of(b"odd")
KITCHEN = open_kitchen(shared.KITCHENS / "straight.yaml")
needs_bundle = pytest.mark.skipif(not (STATIC / "scene3d.js").exists(), reason="the 3D view has not been built")


def unpacked(raw):
    """Header and files, read as the message's own words say that it is laid out."""
    length = int.from_bytes(raw[:WORD], "little")
    header = json.loads(raw[WORD : WORD + length])
    files, start = [], WORD + length
    for size in header["sizes"]:
        assert start % WORD == 0
        files.append(raw[start : start + size])
        start += -(-size // WORD) * WORD
    assert start == len(raw)
    return header, files


def test_every_file_comes_out_as_it_went_in():
    first, second = Gltf(b"one tree", (ODD,)), Gltf(b"another, of odd length.", (ODD, piece_of(b"more")))
    header, files = unpacked(message({"key": "ä"}, [first, second], offers(KITCHEN)))
    assert (header["key"], files[:4]) == ("ä", [first.tree, second.tree, b"odd", b"more"])
    assert header["pieces"][:2] == header["models"][1]["pieces"]
    assert all(Image.open(io.BytesIO(file)).format == "JPEG" for file in files[4:])


def test_what_the_browser_has_is_not_sent_again():
    drawn, offered = scene(KITCHEN), offers(KITCHEN)
    whole = message({}, [drawn], offered)
    known = pieces([drawn], offered)
    header, files = unpacked(message({}, [drawn], offered, known))
    assert files == [drawn.tree]
    assert header["models"] == unpacked(whole)[0]["models"]
    changed = scene(build(edited(KITCHEN.document, {"worktop.overhang.front": 15.0})))
    header, files = unpacked(message({}, [changed], offered, known))
    assert set(header["pieces"]) == {piece.name for piece in changed.pieces} - set(known)
    assert sum(map(len, files[1:])) < len(whole) / 5


def test_a_model_is_named_by_what_is_in_it():
    scenes = [Gltf(b"a", ()), Gltf(b"b", ()), Gltf(b"a", (ODD,)), Gltf(b"a", ())]
    names = [unpacked(message({}, [made]))[0]["models"][0]["name"] for made in scenes]
    assert len(set(names)) == 3
    assert names[0] == names[3]


def test_every_decor_is_on_offer_and_what_the_kitchen_has_is_worn():
    header, files = unpacked(message({}, [], offers(KITCHEN)))
    offered = {offer["role"]: offer for offer in header["offers"]}
    decors = KITCHEN.catalogue.decors.values()
    for use, offer in offered.items():
        assert [c["code"] for c in offer["choices"]] == [d.code for d in decors if d.use == use]
    assert offered["worktop"]["worn"] == KITCHEN.document.worktop.decor
    looks = [look for offer in offered.values() for choice in offer["choices"] for look in choice["looks"].values()]
    assert {look["texture"] for look in looks} == set(header["pieces"])
    assert len(files) == len(header["pieces"])


def test_the_texture_of_a_plain_decor_is_its_colour():
    header, files = unpacked(message({}, [], offers(KITCHEN)))
    fronts = next(offer for offer in header["offers"] if offer["role"] == "front")
    for choice in fronts["choices"]:
        if KITCHEN.catalogue.decors[choice["code"]].figure != "plain":
            continue
        look = choice["looks"]["front"]
        pixel = Image.open(io.BytesIO(files[header["pieces"].index(look["texture"])])).getpixel((3, 3))
        assert pixel == pytest.approx(tuple(255 * rgb(look["colour"])), abs=3)  # JPEG


@needs_bundle
def test_the_page_carries_everything_and_points_nowhere():
    page = customer_html(KITCHEN).decode()
    assert not re.search(r"""(src|href|action)\s*=\s*["']?\s*(https?:)?//""", page)
    assert "default-src 'none'" in page
    assert f"<footer>{CAUTION.replace(chr(39), '&#x27;')}</footer>" in page
    carried = re.search(r'id="countersunk-message">([^<]*)<', page).group(1)
    header, files = unpacked(b64decode(carried))
    assert files[0] == scene(KITCHEN).tree
    assert {piece.name for piece in scene(KITCHEN).pieces} <= set(header["pieces"])
    assert header["height"] is None


@needs_bundle
def test_a_name_cannot_break_out_of_the_page():
    named = build(KITCHEN.document.model_copy(update={"kitchen": "A & B </title><script>alert(1)</script>"}))
    page = customer_html(named).decode()
    assert "<title>A &amp; B &lt;/title&gt;&lt;script&gt;" in page
    assert page.count("</script>") == 2


@needs_bundle
def test_two_versions_of_one_name_are_told_apart():
    page = customer_html(KITCHEN, KITCHEN).decode()
    assert f"<h1>{KITCHEN.document.kitchen}</h1>" in page
    header, _ = unpacked(b64decode(re.search(r'id="countersunk-message">([^<]*)<', page).group(1)))
    assert header["names"] == ["First version", "Second version"]
