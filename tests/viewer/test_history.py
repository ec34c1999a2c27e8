"""Steps back and forth, what an edit was, and the kitchen in the address."""

import base64
import json
import zlib

import pytest

from countersunk.model.catalogue.catalogue import default_catalogue
from countersunk.model.edit import arrange
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.viewer.app import address
from countersunk.viewer.app.changes import changes_in_words
from countersunk.viewer.app.history import MOST, History, HistoryStep, begun
from tests.specimens import SOME_DEMOS, document, open_kitchen


def wider(width):
    return edited(document(), {"runs[0].units[0].width": width})


def test_a_key_that_was_taken_back_is_not_given_again():
    more = arrange.inserted(document(), "runs[0]", 0, {"unit": "base-doors", "width": 400.0})
    back = begun(document(), "opened").after(more, "one more").undo()
    assert back.now.document == document()
    again = arrange.inserted(back.onward, "runs[0]", 1, {"unit": "base-doors", "width": 300.0})
    assert more.runs[0].units[0].key == "u-5"
    assert again.runs[0].units[1].key == "u-6"
    assert back.after(back.onward, "nothing") is back


def test_undo_and_redo_go_through_the_same_kitchens():
    history = begun(document(), "opened").after(wider(500.0), "wider").after(wider(600.0), "wider still")
    back = history.undo().undo()
    assert back.now.document == document()
    assert back.undo() == back
    assert back.redo().redo() == history
    assert history.redo() == history


def test_an_edit_after_undo_forgets_what_was_undone():
    history = begun(document(), "opened").after(wider(500.0), "wider").undo().after(wider(300.0), "narrower")
    assert history.undone == ()
    assert [step.words for step in history.steps] == ["opened", "narrower"]


def test_the_same_kitchen_is_no_step_and_another_price_book_is():
    history = begun(document(), "opened")
    assert history.after(document(), "nothing") == history
    assert history.after(document(), "dearer", b"book").undo().now.book == b""


def test_history_is_bounded():
    history = begun(document(), "opened")
    for cooks in range(3 * MOST):
        history = history.after(edited(document(), {"cooks": 1 + cooks % 6}), f"{cooks}")
    assert len(history.steps) == MOST
    assert history.now.words == f"{3 * MOST - 1}"


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"worktop.decor": "rain-slate"}, "worktop, decor: Rain slate instead of Pale oak"),
        ({"runs[0].units[1].width": 800.0}, "A2, width: 800 instead of 600"),
        ({"runs[0].start": 40.0}, "run 1, start: 40 instead of 500"),
        ({"worktop.overhang.front": 12.0}, "worktop, overhang, front: 12"),
        ({"runs[0].units": ({"unit": "base-sink", "width": 600.0},)}, "run 1, units: 2 units fewer"),
    ],
)
def test_an_edit_is_told_in_words(changes, words):
    assert changes_in_words(document(), edited(document(), changes), default_catalogue()) == words


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_an_address_opens_the_same_kitchen(path):
    before = open_kitchen(path).document
    assert address.written(before) == {"demo": path.stem}
    changed = edited(before, {"note": "changed by hand: ä, °, “quoted”"})
    query = address.written(changed)
    assert address.opened(query).document == changed
    assert len(query["kitchen"]) < address.LONGEST


def packed(raw):
    return base64.urlsafe_b64encode(zlib.compress(raw)).decode().rstrip("=")


@pytest.mark.parametrize(
    ("letters", "why"),
    [
        ("a" * (address.LONGEST + 1), "letters; allowed: an address as the app wrote it"),
        ("a/../b?", "letters that no address of ours has"),
        ("abcd", "a kitchen that cannot be unpacked"),
        (packed(b"x" * 500)[:12], "a kitchen that is cut off"),
        (packed(b"a: [" + b"1," * address.UNPACKED + b"1]"), f"more than {address.UNPACKED} bytes"),
        (packed(b"kitchen: &a x\nroom: *a\n"), "an anchor or alias"),
        (packed(b'{"kitchen": "x", "surprise": 1}'), "an unknown key"),
        (packed(b"\xff\xfe"), "not UTF-8"),
    ],
)
def test_an_address_is_read_like_any_untrusted_file(letters, why):
    with pytest.raises(InputError) as refused:
        address.opened({"kitchen": letters})
    assert why in str(refused.value)


def test_an_unknown_demo_is_refused_and_an_empty_address_opens_nothing():
    with pytest.raises(InputError, match=r"found 'cornr'; allowed: .*corner.*Try: 'corner'"):
        address.opened({"demo": "cornr"})
    assert address.opened({}) is None
    assert address.opened({"other": "x"}) is None


def test_a_packed_kitchen_is_plain_json():
    letters = address.written(edited(document(), {"note": "x"}))["kitchen"]
    raw = zlib.decompress(base64.urlsafe_b64decode(letters + "=" * (-len(letters) % 4)))
    assert json.loads(raw)["note"] == "x"


def test_a_kitchen_that_there_was_is_gone_back_or_forth_to():
    first, second, third = (
        HistoryStep(edited(document(), {"kitchen": name}), name) for name in ("one", "two", "three")
    )
    history = History((first, second, third))
    assert history.gone(lambda d: d.kitchen == "one") == History((first,), (second, third))
    assert history.gone(lambda d: d.kitchen == "three") == history
    assert history.undo().undo().gone(lambda d: d.kitchen == "three") == history
    assert history.undo().gone(lambda d: d.kitchen in ("one", "three")) == History((first,), (second, third))
    assert history.gone(lambda d: d.kitchen == "none") is None
