"""Line formulas: packs and money of a line as a spreadsheet reckons them, the same as `takeoff.counting` does.

Every function takes the names of cells and returns a formula without its equals sign.
"""

from __future__ import annotations

from countersunk.takeoff.counting.pricing import MaterialLine

MARKUP_CELL, RATE_CELL, KM_CELL = "Totals!$B$7", "Totals!$B$8", "Totals!$B$9"
OVERHEAD_CELL, LEAST_CELL, VISITS_CELL = "Totals!$B$10", "Totals!$B$11", "Totals!$B$12"
"""Where the sheet of totals has the figures that every line depends on."""

SLACK = 1e-6
"""What a plan's packs hold is written to this, in the unit of the line, and never too small."""

NO_TAX, NO_PRICE, UNKNOWN = "no tax rate", "no price", "unknown"


def packs(line: MaterialLine, amount: str, allowance: str, holds: str) -> str:
    """Whole packs rounded up, the share of a pack from stock, or those of a plan and more once they are too few."""
    q = line.quantity
    needed = f"{amount}+{allowance}"
    if line.by_amount:
        made = f"ROUND(({needed})/{holds},4)"
    elif q.by_plan and q.packs is not None:
        held = max(q.ordered or 0.0, q.needed) + SLACK
        made = f"{q.packs}+MAX(0,ROUNDUP(({needed}-{held:.6f})/{holds}-0.000000001,0))"
    else:
        made = rounded_up(needed, holds)
    return f'IF(AND(ISNUMBER({amount}),ISNUMBER({holds})),{made},"{UNKNOWN}")'


def rounded_up(needed: str, holds: str) -> str:
    """Whole packs; one that is full to a thousand-millionth is full."""
    return f"ROUNDUP(({needed})/{holds}*0.999999999,0)"


def packs_by(line: MaterialLine) -> str:
    """What decides how many packs there are, in words."""
    q = line.quantity
    if q.rule == "extras":
        return "a line of the firm"
    if line.by_amount:
        return "share of a pack, from stock"
    if q.packs is None or not q.by_plan:
        return "amount, rounded up"
    unit = f" {q.unit}" if q.unit != "each" else ""
    return f"a cutting plan: {q.packs}, more once {max(q.ordered or 0.0, q.needed):.3f}{unit} is exceeded"


def listed(count: str, price: str, gap: str = NO_PRICE) -> str:
    """Packs × price."""
    return f'IF(AND(ISNUMBER({count}),ISNUMBER({price})),ROUND({count}*{price},2),"{gap}")'


def cost(listed_: str, discount: str, gap: str = NO_PRICE) -> str:
    """What is listed less the supplier's discount."""
    return f'IF(ISNUMBER({listed_}),{listed_}-ROUND({listed_}*{discount}/100,2),"{gap}")'


def uplift(kind: str, of: str) -> str:
    """What is added to the cost: a share of the cost, or as much as makes it a share of the price."""
    if kind == "markup":
        return f"ROUND({of}*{MARKUP_CELL}/100,2)"
    return f"ROUND({of}*100/(100-{MARKUP_CELL}),2)-{of}"


def tax(net: str, rate: str) -> str:
    """Tax of a line, or the word that says that the line has none yet."""
    return f'IF(AND(ISNUMBER({net}),ISNUMBER({rate})),ROUND({net}*{rate}/100,2),"{NO_TAX}")'


def work(amount: str, minutes: str, people: str) -> str:
    """Money of work by the hourly rate; the division comes last, so that whole cents stay whole."""
    return f'IF(ISNUMBER({RATE_CELL}),ROUND({amount}*{minutes}*{people}*{RATE_CELL}/60,2),"{NO_PRICE}")'


def way(km: str) -> str:
    """Money of kilometres."""
    return f'IF(ISNUMBER({KM_CELL}),ROUND({km}*{KM_CELL},2),"{NO_PRICE}")'


def visits(least: int, hours_per_visit: float, hours_on_site: str) -> str:
    """As many visits as the work on site takes, and as many at least."""
    return f"MAX({least},ROUNDUP(ROUND(({hours_on_site})/{hours_per_visit:g},9),0))"


def with_overhead(sums: str) -> str:
    """Overhead on what all other lines come to."""
    return f"ROUND(({sums})*{OVERHEAD_CELL}/100,2)"


def up_to_least(sums: str) -> str:
    """What is short of the least charge."""
    return f"MAX(0,ROUND({LEAST_CELL}-({sums}),2))"
