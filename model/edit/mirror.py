"""Mirror: the document of the same kitchen seen in a mirror, with left and right changed about.

Walls run the other way round, runs are listed from their other end, hands change sides. What is bought is not
mirrored: a sink with its bowl on the left keeps it there. Units that have no name of their own are numbered anew
from the left; their keys stay, and whatever lies over them with them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np

from countersunk.model.catalogue.catalogue import Catalogue
from countersunk.model.document.keys import prefix
from countersunk.model.document.schema import Bow, Document, Room, Wall
from countersunk.model.kitchen import Kitchen, build
from countersunk.model.layout.placing import PlacedRun
from countersunk.model.tolerance import READING

Data = dict[str, Any]

FINE = 6
"""Places are written to so many decimals of a millimetre: a place mirrored twice is the same number but for the
last of them, and what stood beside its neighbour does not stand in it by what is rounded away."""

ABOUT = 100.0
"""How far apart the stations of a bow are where they cannot be the same from the other end, mm."""

OF_CORNERS = ("corner", "diagonal", "corner_tolerance")
"""What a wall's row says of the corner at its right-hand end."""

OTHER = {"left": "right", "right": "left"}


def mirrored(document: Document, catalogue: Catalogue | None = None) -> Document:
    """``document`` mirrored; twice is the same kitchen. Raises InputError for what cannot be built."""
    return reflected(build(document, catalogue))


def reflected(kitchen: Kitchen) -> Document:
    """The document of a kitchen that is built already, mirrored."""
    kitchen, document = kitchen.planned, kitchen.document
    lengths = {wall.name: wall.length for wall in kitchen.survey.walls}
    runs, names = {run.field: run for run in kitchen.runs}, _names(kitchen.runs)
    data = document.model_dump(exclude_unset=True)
    data["room"] = _room(document.room, data["room"], lengths)
    for kind in ("runs", "islands", "peninsulas"):
        rows = ((row, runs[f"{kind}[{i}]"]) for i, row in enumerate(data.get(kind, ())))
        data |= {kind: tuple(_row(row, run, lengths, names) for row, run in rows)} if kind in data else {}
    data["worktop"] = _worktop(data["worktop"], kitchen, lengths)
    _each(data, "cutouts", _cutout)
    _each(data, "splashbacks", lambda s: _splashback(s, lengths[s["wall"]]))
    if data.get("fitted"):
        data["fitted"] = _fitted(data["fitted"])
    _each(data, "access", _stage)
    data.pop("as_cut", None)  # it was read on the tops that are not mirrored
    return Document.model_validate(data)


def _each(data: Data, key: str, change: Callable[[Data], Data]) -> None:
    """Change every item of a list, where there is one."""
    if key in data:
        data[key] = tuple(change(item) for item in data[key])


def _names(runs: Sequence[PlacedRun]) -> Mapping[str, str]:
    """The place that a unit has in the mirror by the one that it has now: a name may be its place, typed."""
    names = dict[str, str]()
    counts = dict[str, int]()
    for run in runs:
        begins = prefix(run.name, run.level)
        first, last = counts.get(begins, 0) + 1, counts.get(begins, 0) + len(run.units)
        counts[begins] = last
        names |= {f"{begins}{i}": f"{begins}{first + last - i}" for i in range(first, last + 1)}
    return names


def _from_other_end(item: Data, length: float, width: float = 0.0, key: str = "at") -> Data:
    """The place of what is ``width`` wide along something ``length`` long, from its other end (mm)."""
    return {**item, key: round(length - item[key] - width, FINE) + 0.0}


def _on_wall(item: Data, lengths: Mapping[str, float], width: float = 0.0) -> Data:
    """The same on a wall, at the beginning where it was measured past the wall's adjusted end."""
    placed = _from_other_end(item, lengths[item["wall"]], width)
    return {**placed, "at": max(0.0, placed["at"])}


def _swapped(item: Data, key: str) -> Data:
    """Left for right and right for left; any other word, or none, stays."""
    return {**item, key: OTHER.get(item[key], item[key])} if key in item else item


def _room(room: Room, data: Data, lengths: Mapping[str, float]) -> Data:
    """The room with its walls the other way round: each has the corner that was at its left."""
    given, count = data["walls"], len(room.walls)
    walls = tuple(_wall(room.walls[i], given[i], given[i - 1]) for i in reversed(range(count)))
    data = {**data, "walls": walls}
    for key in ("openings", "obstacles"):
        _each(data, key, lambda o: _swapped(_on_wall(o, lengths, o["width"]), "swing"))
    _each(data, "obstacles", _recess)
    _each(data, "ceiling", lambda c: _on_wall(c, lengths))
    _each(data, "services", lambda s: _on_wall(s, lengths))
    _each(data, "slopes", lambda s: _slope(s, lengths[s["wall"]]))
    _each(data, "diagonals", lambda d: {**d, "from": _corner(d["from"]), "to": _corner(d["to"])})
    read = {wall.name: wall.length for wall in room.walls}
    _each(data, "measured", lambda row: _measured(row, read))
    return data


def _slope(slope: Data, length: float) -> Data:
    """A sloping ceiling with its windows and dormers from the other end of its wall."""
    slope = dict(slope)
    for key in ("windows", "dormers"):
        if key in slope:
            _each(slope, key, lambda one: _from_other_end(one, length, one["width"]))
    return slope


def _recess(obstacle: Data) -> Data:
    """An obstacle with its opening, if it has one, as far from the other cheek's side."""
    if not (opening := obstacle.get("opening")):
        return obstacle
    left = max(0.0, obstacle["width"] - opening["from_left"] - opening["width"])
    return {**obstacle, "opening": {**opening, "from_left": left}}


def _measured(data: Data, lengths: Mapping[str, float]) -> Data:
    """One more measurement: corners by their other names, places, pieces and legs from the other end. A place is so
    far along its wall as this was read, and not adjusted.
    """
    corners = {key: _corner(data[key]) for key in ("corner", "from", "to") if data.get(key)}
    turned = {key: data[key][::-1] for key in ("pieces", "legs") if data.get(key)}
    if data.get("at") is not None:
        data = _from_other_end(data, lengths[data["wall"]])
    return {**data, **corners, **turned}


def _wall(wall: Wall, data: Data, before: Data) -> Data:
    """``before`` is the wall that stood at its left and now stands at its right."""
    kept = {key: value for key, value in data.items() if key not in OF_CORNERS}
    corner: Data = {key: before[key] for key in OF_CORNERS if key in before}
    if corner.get("diagonal"):
        corner["diagonal"] = {**corner["diagonal"], "legs": corner["diagonal"]["legs"][::-1]}
    if wall.bow is not None:
        kept["bow"] = _bow(wall, wall.bow)
    return {**kept, **corner}


def _bow(wall: Wall, bow: Bow) -> Data:
    """The stations from the other end; read anew about every 100 mm where the last is short of the wall's end."""
    if abs((len(bow.offsets) - 1) * bow.every - wall.length) <= READING:
        return {"every": bow.every, "offsets": bow.offsets[::-1]}
    xs = [*(i * bow.every for i in range(len(bow.offsets))), wall.length]
    count = math.ceil(wall.length / max(ABOUT, wall.length / 150))
    at = np.linspace(wall.length, 0.0, count + 1)
    offsets = np.interp(at, xs, [*bow.offsets, 0.0])
    return {"every": wall.length / count, "offsets": tuple(round(float(o), FINE) + 0.0 for o in offsets)}


def _corner(name: str) -> str:
    """``A-B`` as ``B-A``: the wall that was at the right of the corner is now at its left. Of an open room's walls
    the start is now the end.
    """
    if name in ("start", "end"):
        return "end" if name == "start" else "start"
    return "-".join(reversed(name.split("-")))


def _splashback(data: Data, length: float) -> Data:
    """From where to where it goes, from the wall's other end."""
    ends = (("start", data.get("end")), ("end", data.get("start")))
    turned = {key: max(0.0, round(length - at, FINE) + 0.0) for key, at in ends if at is not None}
    kept = {key: value for key, value in data.items() if key not in ("start", "end")}
    return _swapped({**kept, **turned}, "datum")


def _row(data: Data, run: PlacedRun, lengths: Mapping[str, float], names: Mapping[str, str]) -> Data:
    """A run, an island or a peninsula from its other end."""
    units = tuple(_unit(unit, names) for unit in reversed(data["units"]))
    width, length = run.units[-1].right - run.units[0].x, lengths[data["wall"]]
    data = _swapped(_swapped({**data, "units": units}, "returns"), "facing")
    if run.hangs:
        across = data.get("facing") in OTHER
        return _from_other_end({"start": 0.0, **data}, length, 0.0 if across else width, "start")
    if "along" not in data:
        return _from_other_end({**data, "start": run.units[0].x}, length, width, "start")
    is_island = data.get("facing", "wall") in ("wall", "room")
    return _from_other_end(data, length, width if is_island else 0.0, "along")


def _unit(data: Data, names: Mapping[str, str]) -> Data:
    """A unit with the other hand; a right hand is written, a left one is what goes without saying."""
    named = {"name": names.get(data["name"], data["name"])} if data.get("name") else {}
    rest = {key: value for key, value in data.items() if key != "hand"}
    return {**rest, **named, **({} if data.get("hand") == "right" else {"hand": "right"})}


def _worktop(data: Data, kitchen: Kitchen, lengths: Mapping[str, float]) -> Data:
    data = {**data, "joins": _joins(data.get("joins", ()), kitchen)}
    ends = {run.name: run.units[-1].right for run in kitchen.runs if run.wall is None} | dict(lengths)
    _each(data, "in_line", lambda join: _from_other_end(join, ends[join["run"]]))
    if data.get("upstand"):
        data["upstand"] = dict(data["upstand"])
        _each(data["upstand"], "holes", lambda hole: _from_other_end(hole, lengths[hole["wall"]]))
    _each(data, "corners", lambda corner: _swapped(corner, "end"))
    return data if data["joins"] else {key: value for key, value in data.items() if key != "joins"}


def _joins(wishes: Sequence[Data], kitchen: Kitchen) -> tuple[Data, ...]:
    """Every join of a corner with the wall that runs through, which would else be the wall at its left."""
    females = _females(kitchen)
    told = [{**wish, "female": females[wish["corner"]]} for wish in wishes]
    known = {wish["corner"] for wish in wishes}
    told += [{"corner": corner, "female": female} for corner, female in females.items() if corner not in known]
    return tuple({**join, "corner": _corner(join["corner"])} for join in told)


def _females(kitchen: Kitchen) -> Mapping[str, str]:
    """The wall whose top runs through, for every corner of the room where two tops are joined."""
    found = dict[str, str]()
    for join in (j for j in kitchen.joins if j.kind in ("mitre", "full mitre", "butt")):
        female, male = (kitchen.length(half).run.wall or "" for half in (join.female, join.male))
        after = kitchen.survey.next_wall(kitchen.survey.wall(female))
        first = female if after is not None and after.name == male else male
        found[f"{first}-{male if first == female else female}"] = female
    return found


def _cutout(data: Data) -> Data:
    moved = {**data, "shift": -data["shift"] + 0.0} if data.get("shift") else data
    return _swapped(moved, "drainer") if "drainer" in moved else moved


def _fitted(data: Data) -> Data:
    """What was measured on the fitted units: the same units, which know each other by their keys, the other way."""
    data = dict(data)
    ends = {"from": "to", "to": "from"}
    _each(data, "lengths", lambda row: _renamed({ends.get(key, key): value for key, value in row.items()}))
    _each(
        data, "corners", lambda row: _renamed({**row, **({"legs": row["legs"][::-1]} if row.get("legs") else {})})
    )
    _each(data, "gaps", lambda row: _swapped(row, "end"))
    _each(data, "walls", lambda row: {**row, "side": OTHER.get(row.get("side", "left"), "middle")})
    return data


def _renamed(data: Data) -> Data:
    return {**data, "corner": _corner(data["corner"])} if data.get("corner") else data


def _stage(data: Data) -> Data:
    return {**data, "turn": _swapped(data["turn"], "to")} if data.get("turn") else data
