"""Words: what is made and fitted, said so that a customer sees it. No codes, no parts, no words of the workshop."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import EdgeCondition, Layer
from countersunk.model.kinds.appliances import Appliance
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placed import PlacedRun
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.takeoff.stock.articles import Articles, consumables_of

TRIMMING = {
    Role.PANEL: "end panels", Role.FILLER: "fillers", Role.PLINTH: "plinth", Role.CORNICE: "cornice",
    Role.PELMET: "light pelmet", Role.CEILING_FILLER: "fillers to the ceiling",
}  # fmt: skip
FRONT_EDGE = {True: "rounded", False: "square"}
NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")

SEALED = "Every cut edge is sealed against water, every edge in view is finished in the same decor"
POLISHED = "Every edge in view is smoothed and polished"
OILED = "Every face and edge is oiled, the underside too; wood moves a little with the seasons"
FINISHED = {"sealed": SEALED, "polished": POLISHED, "oiled": OILED}

Scope = dict[str, list[str]]


def scope(kitchen: Kitchen) -> Scope:
    """Everything that is supplied and done, under a heading each, in the order in which one looks at a kitchen."""
    blocks = {
        "Worktop": _worktop(kitchen),
        "Units": _units(kitchen),
        "Fronts and handles": _fronts(kitchen),
        "Sink, hob, appliances": _appliances(kitchen),
        "Our work": _work(kitchen),
    }
    return {head: lines for head, lines in blocks.items() if lines}


def two_columns(blocks: Scope) -> list[list[dict[str, object]]]:
    """The blocks in their order as two columns that are about as long as each other."""
    parts: list[dict[str, object]] = [{"head": name, "lines": lines} for name, lines in blocks.items()]
    heights = [2 + sum(1 + len(line) // 46 for line in lines) for lines in blocks.values()]
    cuts = range(len(parts) + 1)
    cut = min(cuts, key=lambda i: (max(sum(heights[:i]), sum(heights[i:])), i))
    return [parts[:cut], parts[cut:]]


def in_words(count: int) -> str:
    """``three``; digits above twelve."""
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


def several(count: int, one: str, many: str = "") -> str:
    """``one piece``, ``three pieces``."""
    return f"{in_words(count)} {one if count == 1 else many or one + 's'}"


def _worktop(kitchen: Kitchen) -> list[str]:
    lengths = kitchen.lengths
    if not lengths:
        return []
    thick = sorted({f"{length.part.thickness:g}" for length in lengths})
    metres = sum(length.part.length for length in lengths) / 1000
    pieces = several(len(lengths), "piece")
    return [
        f"{_material(kitchen)}, {' and '.join(thick)} mm thick, {metres:.1f} m in all, in {pieces}",
        *([_joints(kitchen)] if kitchen.joins else []),
        *_edges(kitchen),
        *_made_by(kitchen),
        *_down(kitchen),
        *_upstands(kitchen),
        *(f"Splashback on wall {s.wall.name}: {s.stock.name}" for s in kitchen.splashbacks),
        *(["Joints to the wall are filled"] if _meets_wall(kitchen) else []),
    ]


def _material(kitchen: Kitchen) -> str:
    """What the tops are made of, in their decor: ``Pale oak, laminate with a rounded front edge``."""
    stocks = [length.run.stock for length in kitchen.lengths]
    edge = " or ".join(dict.fromkeys(FRONT_EDGE[stock.nose > 0] for stock in stocks))
    laminate = f"laminate with a {edge} front edge"
    materials = [stock.material for stock in stocks]
    kinds = dict.fromkeys(laminate if m.edges == "sealed" else m.words for m in materials)
    decors = " and ".join(kitchen.catalogue.decors[code].name for code in kitchen.top_decors)
    return f"{decors}, {' and '.join(kinds)}"


def _edges(kitchen: Kitchen) -> list[str]:
    """How the edges of its tops are finished."""
    found = {length.run.stock.material.edges for length in kitchen.lengths}
    return [words for edges, words in FINISHED.items() if edges in found]


def _down(kitchen: Kitchen) -> list[str]:
    """How many ends go down to the floor."""
    count = sum(part.role is Role.WATERFALL for part in kitchen.parts)
    return [f"{several(count, 'end').capitalize()} down to the floor in the same material"] if count else []


def _made_by(kitchen: Kitchen) -> list[str]:
    """Who makes the tops that are not cut here."""
    makers = dict.fromkeys(t.run.stock.made_by for t in kitchen.lengths if t.run.stock.made_by)
    return [f"Templated, made and fitted by a {maker} once the units stand" for maker in makers]


def _meets_wall(kitchen: Kitchen) -> bool:
    return any(e.condition is EdgeCondition.WALL for length in kitchen.lengths for e in length.part.edges)


def _upstands(kitchen: Kitchen) -> list[str]:
    """Each kind of upstand with its length in all."""
    lengths: dict[str, float] = {}
    for part in kitchen.parts:
        if part.role is Role.UPSTAND:
            lengths[part.material] = lengths.get(part.material, 0.0) + part.length
    names = {code: kitchen.catalogue.upstands[code].name for code in lengths}
    return [f"{names[c][0].upper()}{names[c][1:]} mm, {mm / 1000:.1f} m in all" for c, mm in lengths.items()]


def _joints(kitchen: Kitchen) -> str:
    count = Counter(join.making for join in kitchen.joins)
    mitres = count["mitre"] + count["full mitre"]
    kinds = [
        f"{several(mitres, 'corner')} fitted close, decor against decor" if mitres else "",
        f"{several(count['in line'], 'joint')} in the length" if count["in line"] else "",
        f"{several(count['butt'], 'corner')} closed with a slim strip" if count["butt"] else "",
        f"{several(count['bonded'], 'joint')} bonded in the colour of the top" if count["bonded"] else "",
        f"{several(count['tee'], 'peninsula')} joined with a slim strip" if count["tee"] else "",
    ]
    return _listed(kinds).capitalize()


def _units(kitchen: Kitchen) -> list[str]:
    made = [u for u in kitchen.units if u.family.kind.is_unit]
    names = counted_names(f"{unit.family.name}, {unit.width:g} mm wide" for unit in made)
    return [*names, *map(_free_standing, (run for run in kitchen.runs if run.free)), *_lights(kitchen)]


def _lights(kitchen: Kitchen) -> list[str]:
    """``Lights under the wall units, 2.4 m in all``, connected by others."""
    long = sum(part.length for part in kitchen.parts if part.role is Role.LIGHT) / 1000
    return [f"Lights under the wall units, {long:.1f} m in all; your electrician connects them"] if long else []


def _free_standing(run: PlacedRun) -> str:
    """``An island 2.1 m long, with three of these units``."""
    of = sum(unit.family.kind.is_unit for unit in run.units)
    long = (run.units[-1].right - run.units[0].x) / 1000
    article = "An" if run.free == "island" else "A"
    return f"{article} {run.free} {long:.1f} m long, with {in_words(of)} of these units"


def _fronts(kitchen: Kitchen) -> list[str]:
    """Faces and what goes with them, in one colour or colour by colour, and the handles."""
    decors = {kitchen.catalogue.decors[code].name: code for code in kitchen.front_decors}
    handles = sum(part.role is Role.HANDLE for part in kitchen.parts)
    gripped = [several(handles, "handle").capitalize()] if handles else []
    gripped += _made(kitchen)
    if len(decors) > 1:
        both = {name: _listed((*_faces(kitchen, code), *_trim(kitchen, code))) for name, code in decors.items()}
        return [*(f"{words.capitalize()} in {name}" for name, words in both.items() if words), *gripped]
    code = next(iter(kitchen.front_decors), kitchen.document.fronts.decor)
    faces, trim = _faces(kitchen, code), _trim(kitchen, code)
    return [
        *([f"{_listed(faces).capitalize()}, all in {kitchen.catalogue.decors[code].name}"] if faces else []),
        *gripped,
        *([f"{_listed(trim).capitalize()} in the same colour"] if trim else []),
    ]


def _made(kitchen: Kitchen) -> list[str]:
    """How fronts are made and gripped: ``Made as frame and panel; gripped by cup handle 96``."""
    units = [u for u in kitchen.units if not u.family.is_bare and not u.family.kind.is_scribed]
    styles = dict.fromkeys(unit.style.name for unit in units)
    handles = dict.fromkeys(unit.handle.name for unit in units)
    return [f"Made as {_listed(styles)}; gripped by {_listed(handles)}"] if units else []


def _faces(kitchen: Kitchen, decor: str) -> list[str]:
    """What opens in a decor, counted: ``five doors``, ``one pull-out``."""
    parts = [part for part in kitchen.parts if kitchen.decor_of(part) == decor]
    roles = Counter(part.role for part in parts)
    counts = {
        "door": roles[Role.DOOR] + roles[Role.LEAF],
        "drawer": roles[Role.DRAWER_FRONT],
        "pull-out": sum(p.role is Role.PULL_OUT and p.layer is Layer.FRONTS for p in parts),
    }
    return [several(count, what) for what, count in counts.items() if count]


def _trim(kitchen: Kitchen, decor: str) -> list[str]:
    roles = {part.role for part in kitchen.parts if kitchen.decor_of(part) == decor}
    return [word for role, word in TRIMMING.items() if role in roles]


def _appliances(kitchen: Kitchen) -> list[str]:
    let_in = [_let_in(cutout) for cutout in kitchen.cutouts]
    taps = ["kitchen mixer tap" for c in kitchen.cutouts if c.template.kind == "sink" and c.template.tap]
    bought = (appliance for unit in kitchen.units for appliance in unit.family.appliances)
    articles = consumables_of(kitchen.catalogue)
    return counted_names([*let_in, *taps, *(_appliance(appliance, articles) for appliance in bought)])


def _let_in(cutout: PlacedCutout) -> str:
    """What is let in; the customer's own is told so, since it is not in the price."""
    return f"your own {cutout.template.kind}, let in by us" if cutout.own else cutout.template.name


def _appliance(bought: Appliance, articles: Articles) -> str:
    """By its own name, since what holds it stands among the units."""
    article = articles.get(bought.code)
    return article.name if article else bought.code


def _work(kitchen: Kitchen) -> list[str]:
    hung = any(u.family.level == "upper" and not u.family.kind.is_bought for u in kitchen.units)
    kinds = {cutout.template.kind for cutout in kitchen.cutouts}
    let_in = [kind for kind in ("sink", "hob") if kind in kinds]
    here = kitchen.cut_here.lengths
    worktop = "Worktop cut, sealed, laid" if SEALED in _edges(kitchen) else "Worktop cut, laid"
    worktop = worktop if here else "Worktop templated, made to measure, laid"
    return [
        "The room measured again before anything is cut",
        "Everything made to measure, delivered and carried in",
        f"Units set level and fixed{', wall units hung' if hung else ''}, doors and drawers set",
        f"{worktop} and fixed{f'; {_listed(let_in)} let in' if let_in else ''}",
        "Offcuts and packing taken away, the kitchen wiped clean and handed over",
    ]


def counted_names(names: Iterable[str]) -> list[str]:
    """Each name once, with its number before it where there are several."""
    return [f"{name[0].upper()}{name[1:]}{f' (× {n})' if n > 1 else ''}" for name, n in Counter(names).items()]


def _listed(words: Iterable[str]) -> str:
    """``doors, fillers and plinth``."""
    *head, last = [w for w in words if w] or [""]
    return f"{', '.join(head)} and {last}" if head else last
