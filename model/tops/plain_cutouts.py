"""Plain cut-outs: sizes typed from a maker's sheet become a template like those of the catalogue.

The line to cut is the inside dimension. Who types what the rim covers would cut the hole too large, so numbers that
can only be a rim's are refused with the line that they would leave.
"""

from __future__ import annotations

from shapely import Polygon

from countersunk.model.catalogue.catalogue import HANGS_BELOW, Catalogue, CutoutKind, Template
from countersunk.model.document.schema import Cutout
from countersunk.model.errors import InputError
from countersunk.model.geometry.profile import rounded
from countersunk.model.layout.placing import PlacedUnit

OWN = "own."
"""How the code of such a template begins."""

RIM = 10.0
"""What a rim covers of the top beside the line, mm (quoted)."""

HANGS = ("sink", "hob", "downdraft")
"""Kinds whose body fills the line, so that it must hang between the sides of the unit below."""


def template_of(wish: Cutout, field: str, catalogue: Catalogue, unit: PlacedUnit) -> Template:
    """The template that is wished or typed. Raises InputError for one that is unknown, or no line to cut."""
    if wish.template is not None:
        return _known(wish.template, wish, field, catalogue)
    if wish.outline is not None:
        return _outlined(wish, field, unit)
    if wish.kind is None or wish.line is None:
        raise InputError.at(
            field,
            found="no template, and no " + ("kind" if wish.kind is None else "line"),
            allowed="a template of the catalogue, or kind and line",
            advice="kind: sink, line: [480, 480], the inside dimension from the maker's sheet",
        )
    _check_radius(wish.line, wish.radius, field)
    _check_rim(wish.line, wish.rim, field)
    _check_not_the_rim(wish.kind, wish.line, unit, field)
    rim = wish.rim or (wish.line[0] + 2 * RIM, wish.line[1] + 2 * RIM)
    return Template(
        code=wish.article or f"{OWN}{wish.kind}", name=_named(wish.kind, wish.line, wish.article), kind=wish.kind,
        mount=wish.mount or "inset", fuel=wish.fuel, line=wish.line, rim=rim, radius=wish.radius,
        depth=wish.depth or HANGS_BELOW[wish.kind], rim_height=2.0,
    )  # fmt: skip


def _outlined(wish: Cutout, field: str, unit: PlacedUnit) -> Template:
    """The template of a bowl whose corners are typed. Raises InputError for what is no outline of one."""
    points = wish.outline or ()
    plan = Polygon(points)
    if wish.kind != "sink" or wish.line is not None:
        name, found = ("line", "a line beside it") if wish.kind == "sink" else ("outline", f"that of a {wish.kind}")
        raise InputError.at(f"{field}.{name}", found=found, allowed="the outline of a sink's bowl, without a line")
    if not plan.is_valid or plan.area <= 0.0:
        advice = "type its corners in order, once round"
        raise InputError.at(f"{field}.outline", found="sides that cross", allowed="one shape", advice=advice)
    if not isinstance(rounded(plan, wish.radius), Polygon) or rounded(plan, wish.radius).is_empty:
        found = f"{wish.radius:g} on an outline that is too narrow for it"
        raise InputError.at(f"{field}.radius", found=found, allowed="what every corner has room for")
    x0, y0, x1, y1 = plan.bounds
    line = (x1 - x0, y1 - y0)
    _check_rim(line, wish.rim, field)
    _check_not_the_rim(wish.kind, line, unit, field)
    return Template(
        code=wish.article or f"{OWN}sink", name=f"{_named(wish.kind, line, wish.article)}, of its own outline",
        kind=wish.kind, mount=wish.mount or "inset", line=line, radius=wish.radius,
        outline=tuple((x - x0, y - y0) for x, y in points),
        rim=wish.rim or (line[0] + 2 * RIM, line[1] + 2 * RIM), depth=wish.depth or HANGS_BELOW["sink"],
        rim_height=2.0,
    )  # fmt: skip


def _named(kind: CutoutKind, line: tuple[float, float], article: str | None) -> str:
    return f"{kind} for a line of {line[0]:g} x {line[1]:g}" if article else f"{kind} as measured"


def _known(code: str, wish: Cutout, field: str, catalogue: Catalogue) -> Template:
    fields = ("kind", "line", "outline", "rim", "depth", "fuel", "article")
    typed = [name for name in fields if getattr(wish, name) is not None]
    if typed:
        raise InputError.at(
            f"{field}.{typed[0]}", found="a template beside it", allowed="one of the two",
            advice="leave out the template, or the numbers",
        )  # fmt: skip
    if code not in catalogue.templates:
        raise InputError.unknown(f"{field}.template", code, catalogue.templates)
    template = catalogue.templates[code]
    if wish.mount in (None, template.mount):
        return template
    if wish.mount != "flush" or template.mount != "inset":
        allowed = "flush, where it is set on the top, else left out"
        raise InputError.at(f"{field}.mount", found=f"{wish.mount} for {code}", allowed=allowed)
    return template.model_copy(update={"mount": "flush"})


def _check_radius(line: tuple[float, float], radius: float, field: str) -> None:
    if radius > min(line) / 2:
        raise InputError.at(
            f"{field}.radius",
            found=f"{radius:g} on a line {line[0]:g} x {line[1]:g}",
            allowed=f"at most {min(line) / 2:g}, half its smaller side",
            advice="10, or what the maker's sheet says",
        )


def _check_rim(line: tuple[float, float], rim: tuple[float, float] | None, field: str) -> None:
    if rim is not None and (rim[0] <= line[0] or rim[1] <= line[1]):
        raise InputError.at(
            f"{field}.rim",
            found=f"{rim[0]:g} x {rim[1]:g} over a line {line[0]:g} x {line[1]:g}",
            allowed="a rim larger than the line both ways",
            advice=f"perhaps they are swapped: line: [{rim[0]:g}, {rim[1]:g}]",
        )


def _check_not_the_rim(kind: CutoutKind, line: tuple[float, float], unit: PlacedUnit, field: str) -> None:
    """What is as wide as the unit inside, or nearly as deep as it, can only be the size of a rim."""
    side = unit.boards.carcass.thickness
    inside = (unit.width - 2 * side, unit.family.depth)
    if kind in HANGS and (line[0] > inside[0] or line[1] > inside[1]):
        likely = " x ".join(f"{size - 2 * RIM:g}" for size in line)
        raise InputError.at(
            f"{field}.line",
            found=f"{line[0]:g} x {line[1]:g} over {unit.name}, which leaves {inside[0]:g} x {inside[1]:g} inside",
            allowed="the inside dimension, which hangs between the unit's sides",
            advice=f"these can only be the rim's: take the inside dimension, about {likely}, or a wider unit",
        )
