"""Definitions: the measures of splashbacks, each with its dimension and what it is not."""

from __future__ import annotations

from countersunk.takeoff.measuring import splashes
from countersunk.takeoff.measuring.definitions import Measure

OF_SPLASHBACKS = (
    Measure(
        "upstand-sockets", "count", "upstand",
        "Holes for the boxes of sockets and switches in upstands.",
        "Not holes whose sizes were typed.",
        splashes.upstand_sockets,
    ),
    Measure(
        "splash-tiles", "count", "tiled piece",
        "Tiles that are seen, whole or cut, by the set-out.",
        "Not what breaks; the offcut of a tile is not used again.",
        splashes.tiles,
    ),
    Measure(
        "splash-adhesive", "mass", "tiled piece",
        "Adhesive behind tiles, by the notch of their trowel.",
        "Not what levels a wall.",
        splashes.adhesive,
    ),
    Measure(
        "splash-grout", "mass", "tiled piece",
        "Grout in the joints of tiles, by their size and the joint.",
        "Not the joints to tops and units, which are filled with silicone.",
        splashes.grout,
    ),
    Measure(
        "splash-trims", "length", "tiled piece",
        "Free ends of tiled zones, upright and along the top.",
        "Not ends at units, windows, walls or the ceiling, and not inner corners.",
        splashes.trims,
    ),
    Measure(
        "splash-feet", "length", "piece of splashback",
        "Length of every piece that stands on a top or an upstand.",
        "Not its upright ends.",
        splashes.feet,
    ),
    Measure(
        "splash-panels", "area", "panel",
        "Length times height of every panel made to measure.",
        "Not its net area: holes and notches are paid for.",
        splashes.panels,
    ),
    Measure(
        "splash-panel-lengths", "length", "panel",
        "Length of every panel along its wall.",
        "Not its edges.",
        splashes.panel_lengths,
    ),
    Measure(
        "splash-panel-holes", "count", "panel",
        "Holes for sockets and switches in panels made to measure.",
        "Not notches at windows.",
        splashes.panel_holes,
    ),
    Measure(
        "splash-mass", "mass", "piece of splashback",
        "Mass of tiles and panels, from their density.",
        "Not adhesive or grout.",
        splashes.mass,
    ),
)  # fmt: skip
