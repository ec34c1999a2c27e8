"""Clearances: the space that a finding is about, as a translucent body in the scene."""

from __future__ import annotations

from functools import lru_cache

from countersunk.model.catalogue.catalogue import Catalogue
from countersunk.model.checks.finding import Finding, Verdict
from countersunk.model.document.schema import Document
from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.volume import Volume
from countersunk.viewer.app.reading import read
from countersunk.viewer.scene.gltf import Gltf
from countersunk.viewer.scene.items import Item
from countersunk.viewer.scene.materials import Finish
from countersunk.viewer.scene.scene import scene
from countersunk.viewer.scene.surface import placing, shape_surface

ID = "clearance"
"""The name of the one clearance that is shown; no part of a kitchen may be called so."""

LAYER = "clearances"

COLOURS = {
    Verdict.NOT_MET: "#b3261e", Verdict.SHORT: "#c77700", Verdict.WATCH: "#2a6db0",
    Verdict.NOT_MEASURED: "#6a6a6a", Verdict.MET: "#2e7d32",
}  # fmt: skip

THIN = 4.0
"""A space is drawn at least so high, mm."""


def clearance_item(finding: Finding, volume: Volume) -> Item:
    """The space of a finding; its label says the verdict, so that the colour need not."""
    pose = Pose((0.0, 0.0, volume.low))
    return Item(
        id=ID,
        kind="clearance",
        layer=LAYER,
        label=f"{finding.verdict}: {finding.question} {finding.place}",
        surface=shape_surface(volume.plan, max(volume.high - volume.low, THIN)),
        placing=placing(pose),
        finish=Finish(f"clearance {finding.verdict}", COLOURS[finding.verdict], roughness=0.9, opacity=0.35),
    )


@lru_cache(maxsize=8)
def scene_with(document: Document, catalogue: Catalogue, finding: Finding) -> Gltf:
    """The scene of a kitchen with the space of one of its findings; without it where it has none."""
    reading = read(document, catalogue=catalogue)
    if finding.volume is None:
        return reading.scene
    return scene(reading.kitchen, [clearance_item(finding, finding.volume)])
