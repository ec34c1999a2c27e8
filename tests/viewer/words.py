"""What holds for the words of every sheet."""

from shapely import STRtree
from shapely import box as rectangle

from countersunk.viewer.drawing.lettering import words_on


def check_apart(sheets):
    """No words touch other words by more than a hair (0.02 mm² on paper)."""
    for sheet in sheets:
        words = words_on(sheet)
        tree = STRtree([place for _, place in words])
        for i, (text, place) in enumerate(words):
            for j in tree.query(place, predicate="intersects"):
                assert j <= i or place.intersection(words[j][1]).area < 0.02, (sheet.name, text, words[j][0])


def check_inside(sheet, margin):
    """No words stand nearer to the sheet's edge than ``margin``, mm on paper."""
    inside = rectangle(margin, margin, sheet.size[0] - margin, sheet.size[1] - margin)
    assert all(inside.covers(place) for _, place in words_on(sheet)), sheet.name
