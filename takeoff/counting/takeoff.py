"""`take_off`: a kitchen to its quantities, lines and totals, in one pure function; and the quick `estimate`."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from countersunk.model.facts.lifting import people_for
from countersunk.model.facts.plans import face
from countersunk.model.facts.screws import longest_in
from countersunk.model.geometry.identity import Role
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey.weighing import weigh
from countersunk.model.ties import rounded, settled
from countersunk.model.tolerance import CONTACT
from countersunk.model.tops.worktops import Length
from countersunk.takeoff.counting.board_quantities import on_sheets
from countersunk.takeoff.counting.delivery import as_bought
from countersunk.takeoff.counting.extras import extra_lines
from countersunk.takeoff.counting.labour import LabourRules, default_labour, ripping, travel, works
from countersunk.takeoff.counting.length_quantities import on_lengths
from countersunk.takeoff.counting.pricing import (
    LabourLine,
    MaterialLine,
    Totals,
    labour_lines,
    material_lines,
    totals,
)
from countersunk.takeoff.counting.quantities import Measured, Quantity, rule_quantities
from countersunk.takeoff.counting.slab_quantities import on_slabs
from countersunk.takeoff.counting.terms import Terms, default_terms, refuse_idle_waste, with_waste
from countersunk.takeoff.counting.top_quantities import worktop_quantities
from countersunk.takeoff.counting.uncounted import uncounted
from countersunk.takeoff.measuring.measures import Share
from countersunk.takeoff.measuring.registry import measured
from countersunk.takeoff.measuring.rules import NotCounted, TakeoffRules, default_rules
from countersunk.takeoff.plans.boards import BoardPlan, board_plans
from countersunk.takeoff.plans.cut_plans import CutPlans
from countersunk.takeoff.plans.lengths import LengthPlan
from countersunk.takeoff.plans.slabs import slab_plans
from countersunk.takeoff.plans.tops import TopPlan, plan_tops
from countersunk.takeoff.stock.articles import Articles, articles_of, consumables_of
from countersunk.takeoff.stock.money_form import MoneyForm
from countersunk.takeoff.stock.offcuts import Offcut
from countersunk.takeoff.stock.prices import PriceBook, prices_of, with_offcuts


@dataclass(frozen=True)
class Takeoff:
    """What a kitchen takes. ``plans`` are the worktop lengths bought, ``boards`` the sheets where they are planned,
    ``lengths`` what plinths, strips and rolls are cut from. ``masses`` are those of the worktop lengths, kg.
    ``marks`` are what today's numbering calls whatever brings something, by its key or id. ``tops_from`` is what
    tops are measured by, where that is not the plan.
    """

    kitchen: str
    note: str
    price_book: str
    price_note: str
    terms: Terms
    plans: tuple[TopPlan, ...]
    boards: tuple[BoardPlan, ...]
    lengths: tuple[LengthPlan, ...]
    materials: tuple[MaterialLine, ...]
    labour: tuple[LabourLine, ...]
    totals: Totals
    masses: tuple[Share, ...]
    cautions: tuple[str, ...]
    not_counted: tuple[NotCounted, ...]
    marks: Mapping[str, str]
    tops_from: str = ""

    @property
    def quantities(self) -> tuple[Quantity, ...]:
        """Measured and ordered, without prices."""
        return tuple(line.quantity for line in self.materials)

    @property
    def missing(self) -> tuple[str, ...]:
        """What has no price, article or coverage."""
        return self.totals.missing

    @property
    def cut(self) -> CutPlans:
        """Everything that is cut from lengths and sheets."""
        return CutPlans(self.plans, self.boards, self.lengths)

    @property
    def money(self) -> MoneyForm:
        """How its money and days are printed."""
        return MoneyForm(self.totals.currency, self.terms.locale)

    @property
    def is_estimate(self) -> bool:
        """Whether boards are counted by their area, not by the sheets that they are cut from."""
        return not self.boards


def take_off(
    kitchen: Kitchen,
    prices: PriceBook | None = None,
    *,
    rules: TakeoffRules | None = None,
    labour: LabourRules | None = None,
    consumables: Articles | None = None,
    plans: Sequence[TopPlan] | None = None,
    boards: Sequence[BoardPlan] | None = None,
    terms: Terms | None = None,
    offcuts: Sequence[Offcut] = (),
) -> Takeoff:
    """Return what a kitchen takes, counted, planned on stock and priced: the total of commands, app and library.

    ``prices`` are those of the kitchen's catalogue if left out; these, in the catalogues of the program, and
    ``terms`` if left out are invented. ``plans`` and ``boards`` are cutting plans that are made already; they are
    made here if left out, which takes up to some seconds. ``offcuts`` are what the firm has, taken from first.
    Nothing is read or written except the defaults, once. Raises InputError for terms that name an unknown rule, or
    for plans of another kitchen.

    >>> from countersunk import open_kitchen, take_off
    >>> taken = take_off(open_kitchen("straight"))
    >>> taken.is_estimate, taken.totals.currency, taken.missing
    (False, 'EUR', ())
    """
    if boards is None:
        boards = board_plans(kitchen, rules, offcuts)
    return _counted(kitchen, prices, rules, labour, consumables, plans, boards, terms, offcuts)


def _seller(book: PriceBook) -> Callable[[str, str], str]:
    """Who sells an article in a decor by the price book, nobody where it has no price."""

    def seller(code: str, decor: str) -> str:
        price = book.find(code, decor)
        return price.supplier if price else ""

    return seller


def estimate(
    kitchen: Kitchen,
    prices: PriceBook | None = None,
    *,
    rules: TakeoffRules | None = None,
    labour: LabourRules | None = None,
    consumables: Articles | None = None,
    plans: Sequence[TopPlan] | None = None,
    terms: Terms | None = None,
    offcuts: Sequence[Offcut] = (),
) -> Takeoff:
    """Return the takeoff with boards counted by their area and an allowance, not by sheets: quick and about right.

    It is for what must follow an edit and for weighing layouts, and is called an estimate wherever it shows; what
    is ordered and quoted is `take_off`.
    """
    return _counted(kitchen, prices, rules, labour, consumables, plans, (), terms, offcuts)


def _counted(
    kitchen: Kitchen,
    prices: PriceBook | None,
    rules: TakeoffRules | None,
    labour: LabourRules | None,
    consumables: Articles | None,
    plans: Sequence[TopPlan] | None,
    boards: Sequence[BoardPlan],
    terms: Terms | None,
    offcuts: Sequence[Offcut],
) -> Takeoff:
    book, terms, labour = (
        with_offcuts(prices or prices_of(kitchen.catalogue), offcuts),
        terms or default_terms(),
        labour or default_labour(),
    )
    if boards:
        refuse_idle_waste(rules or default_rules(), terms)
    rules = with_waste(rules or default_rules(), terms)
    articles = articles_of(kitchen, consumables_of(kitchen.catalogue) if consumables is None else consumables)
    plans = tuple(plan_tops(kitchen, rules.saw, book, offcuts) if plans is None else plans)
    taken = measured(kitchen)
    by_rules = on_sheets(rule_quantities(kitchen, taken, rules, articles), boards, kitchen.marks)
    cut = {code: article for code, article in articles.items() if code not in terms.from_stock}
    by_rules, lengths = on_lengths(by_rules, cut, offcuts, rules.lengths.keep)
    by_rules = on_slabs(by_rules, slab_plans(kitchen, rules) if boards else ())
    counted = as_bought(
        kitchen, [*worktop_quantities(kitchen, plans, rules), *by_rules], plans, boards, _seller(book)
    )
    materials = material_lines([*counted, *uncounted(kitchen, counted)], book, terms)
    done = [*works(labour, taken), *ripping(kitchen, plans, rules.saw)]
    work = labour_lines([*done, *travel(terms, done)], book, terms)
    materials += extra_lines(terms, taken, materials, work, book)
    return Takeoff(
        kitchen=kitchen.document.kitchen,
        note=kitchen.document.note,
        price_book=book.name,
        price_note=book.note,
        terms=terms,
        plans=plans,
        boards=tuple(boards),
        lengths=lengths,
        materials=tuple(materials),
        labour=tuple(work),
        totals=totals(materials, work, book, terms),
        masses=taken["worktop-mass"],
        cautions=tuple(_cautions(kitchen, taken, rules, articles)),
        not_counted=rules.not_counted,
        marks=kitchen.marks,
        tops_from=kitchen.tops_from and f"Tops are {kitchen.tops_from}; carcasses are as planned.",
    )


def _cautions(kitchen: Kitchen, taken: Measured, rules: TakeoffRules, articles: Articles) -> list[str]:
    """That of a survey that contradicts itself, those of the rules, those that the kitchen's sizes call for."""
    general = [c.text for c in rules.cautions if taken[c.when]]
    own = [*_heavy(kitchen, taken, rules), *_long_screws(kitchen, rules, articles), *_large_boards(kitchen)]
    return [*_survey(kitchen), *general, *own]


def _survey(kitchen: Kitchen) -> list[str]:
    weighing = weigh(kitchen.document.room)
    if weighing.verdict.sound:
        return []
    steps = ". ".join(weighing.steps)
    if weighing.verdict.doubtful:
        return [
            f"Before you order: the readings of the survey agree less well than right ones usually do. {steps}."
        ]
    return [f"Order nothing yet: the readings of the survey contradict each other. {steps}."]


def _lifting(top: Length, mass: float) -> int:
    """Two at least: nobody lifts alone what is called out."""
    return max(2, people_for(mass, top.part.length, face(top)))


def _heavy(kitchen: Kitchen, taken: Measured, rules: TakeoffRules) -> list[str]:
    above = rules.heavy.above
    tops = {top.key: top for top in kitchen.lengths}
    return [
        f"{tops[s.id].id} weighs {rounded(s.amount):.1f} kg, more than {above:g}: "
        f"{_lifting(tops[s.id], s.amount)} people or more, or a lifting aid."
        for s in taken["worktop-mass"]
        if settled(s.amount) > above
    ]


def _long_screws(kitchen: Kitchen, rules: TakeoffRules, articles: Articles) -> list[str]:
    """A screw through a flat rail may be no longer than the finding about it says."""
    codes = {r.item for r in rules.rules for b in r.bring if b.measure == "flat-rails" and r.item}
    lengths = [(c, articles[c].length or 0.0) for c in codes if c in articles]
    return [
        f"{code} is {length:g} long, too long for {top.id}, {top.part.thickness:g} thick: it would reach the decor."
        for code, length in lengths
        for top in kitchen.lengths
        if length > (longest_in(kitchen, top) or length) + CONTACT
    ]


def _large_boards(kitchen: Kitchen) -> list[str]:
    """Boards that no sheet holds: an area says nothing about that."""
    found = []
    for part in kitchen.parts:
        board = kitchen.catalogue.boards.get(part.material)
        sizes = sorted((part.length - CONTACT, part.depth - CONTACT))
        if (
            board
            and part.role is not Role.PLINTH
            and any(a > b for a, b in zip(sizes, sorted(board.sheet), strict=True))
        ):
            sheet = " × ".join(f"{s:g}" for s in board.sheet)
            found.append(
                f"{part.mark} is {part.length:g} × {part.depth:g}, larger than a sheet of {sheet}: divide it."
            )
    return found
