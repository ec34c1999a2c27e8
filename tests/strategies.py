"""Random kitchens: documents as a person might type them, sensible or not, but always of the right shape."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from countersunk.model.catalogue.catalogue import default_catalogue

CATALOGUE = default_catalogue()
FLOOR = [f for f in CATALOGUE.families.values() if f.level == "floor"]
UPPER = [f for f in CATALOGUE.families.values() if f.level == "upper"]


@st.composite
def units(draw: st.DrawFn, families: list[Any], most: int) -> tuple[dict[str, Any], ...]:
    """A row of units in widths that their families have."""
    chosen = draw(st.lists(st.sampled_from(families), min_size=1, max_size=most))
    return tuple(
        {
            "unit": family.code,
            "width": float(draw(st.sampled_from(family.widths or family.width_range))),
            "hand": draw(st.sampled_from(["left", "right"])),
        }
        for family in chosen
    )


@st.composite
def rooms(draw: st.DrawFn) -> dict[str, Any]:
    """Four walls, closed within a few millimetres, or two or three of them left open, out of square."""
    a, b = draw(st.integers(2000, 5500)), draw(st.integers(1800, 5000))
    lean = draw(st.floats(-2.0, 2.0))
    walls = [
        {"name": "A", "length": float(a), "corner": 90.0 + lean},
        {"name": "B", "length": float(b), "corner": 90.0 - lean},
        {"name": "C", "length": float(a), "corner": 90.0 + lean},
        {"name": "D", "length": float(b), "corner": 90.0 - lean},
    ]
    keep = draw(st.sampled_from([2, 3, 4]))
    if keep < 4:
        walls = walls[:keep]
        walls[-1].pop("corner")
        walls[0]["corner"] = draw(st.floats(58.0, 152.0)) if keep == 2 else walls[0]["corner"]
    return {"walls": tuple(walls), "height": float(draw(st.integers(2100, 3000)))}


@st.composite
def kitchens(draw: st.DrawFn) -> dict[str, Any]:
    """The plain data of a document."""
    room = draw(rooms())
    names = [w["name"] for w in room["walls"]]
    runs = [
        {
            "wall": wall,
            "start": float(draw(st.sampled_from([0, 20, 600, 640, 700]))),
            "units": draw(units(FLOOR, 5)),
        }
        for wall in draw(st.lists(st.sampled_from(names), min_size=1, max_size=3, unique=True))
    ]
    if draw(st.booleans()):
        wall = draw(st.sampled_from(names))
        start = float(draw(st.integers(0, 1500)))
        runs.append({"wall": wall, "level": "upper", "start": start, "units": draw(units(UPPER, 3))})
    floor_units = [
        f"{run['wall']}{i}" for run in runs if "level" not in run for i in range(1, len(run["units"]) + 1)
    ]
    cutouts = draw(
        st.lists(
            st.fixed_dictionaries(
                {
                    "template": st.sampled_from(sorted(CATALOGUE.templates)),
                    "over": st.sampled_from(floor_units),
                    "shift": st.floats(-120.0, 120.0),
                }
            ),
            max_size=2,
        )
    )
    return {
        "kitchen": "Drawn by lot",
        "room": {**room, "obstacles": draw(boxings(runs[0]))},
        "runs": tuple(runs),
        "islands": draw(islands(names)),
        "worktop": {
            "stock": draw(st.sampled_from(sorted(CATALOGUE.stocks))),
            "decor": "rain-slate",
            "overhang": {"front": float(draw(st.integers(0, 30))), "ends": float(draw(st.integers(0, 40)))},
            **draw(st.sampled_from([{}, {}, {"upstand": {"stock": "upstand.100"}}])),
            **draw(st.sampled_from([{}, {}, {}, {"corners": ({**_last(runs[0]), "radius": 80.0},)}])),
        },
        "fronts": {"decor": "clay"},
        "cutouts": tuple(cutouts),
        **draw(st.sampled_from([{}, {"access": draw(ways_in())}])),
    }


def _last(run: dict[str, Any]) -> dict[str, Any]:
    """The right end of a run."""
    return {"over": f"{run['wall']}{len(run['units'])}", "end": "right"}


@st.composite
def boxings(draw: st.DrawFn, run: dict[str, Any]) -> tuple[dict[str, Any], ...]:
    """None or one above the units of a run, so that only its top has to go round it."""
    if draw(st.integers(0, 3)):
        return ()
    at = run["start"] + float(draw(st.integers(0, 600)))
    width, depth = float(draw(st.integers(20, 300))), float(draw(st.integers(20, 200)))
    return (
        {"kind": "pipe-boxing", "wall": run["wall"], "at": at, "width": width, "depth": depth, "bottom": 870.0},
    )


@st.composite
def ways_in(draw: st.DrawFn) -> tuple[dict[str, Any], ...]:
    """A door, a corridor, a turn, and another corridor or a door."""
    widths = [{"width": draw(st.floats(500.0, 2000.0))} for _ in range(3)]
    length = draw(st.sampled_from([{}, {"length": 1500.0}, {"length": 3000.0}, {"length": 6000.0}]))
    turn = {"to": draw(st.sampled_from(["left", "right"])), "angle": draw(st.sampled_from([90.0, 45.0, 120.0]))}
    last = draw(st.sampled_from(["door", "corridor"]))
    return {"door": widths[0]}, {"corridor": {**widths[1], **length}}, {"turn": turn}, {last: widths[2]}


@st.composite
def islands(draw: st.DrawFn, walls: list[str]) -> tuple[dict[str, Any], ...]:
    """None or one."""
    if draw(st.integers(0, 3)):
        return ()
    base = [f for f in FLOOR if f.carries_top and f.construction in ("box", "drawers")]
    return (
        {
            "name": "I",
            "wall": draw(st.sampled_from(walls)),
            "along": float(draw(st.integers(300, 1500))),
            "out": float(draw(st.integers(900, 2500))),
            "facing": draw(st.sampled_from(["wall", "room"])),
            "stock": "pf38.670",
            "units": draw(units(base, 3)),
        },
    )
