"""What the packages share as data, all plain readable files.

catalogue        units, boards, worktops, articles  catalogue-inch   what is other in inches
catalogue-start  the start of a firm's own          kitchens         the demos
rules            what is counted, worked, checked   prices           the invented price book, terms of a job
options          what a customer may choose         suppliers        an invented list of a supplier
rooms            a room to lay out
"""

from pathlib import Path

FOLDER = Path(__file__).parent
CATALOGUE = FOLDER / "catalogue"
CATALOGUE_INCH = FOLDER / "catalogue-inch"
CATALOGUE_START = FOLDER / "catalogue-start"
RULES = FOLDER / "rules"
PRICES = FOLDER / "prices"
KITCHENS = FOLDER / "kitchens"
OPTIONS = FOLDER / "options"
SUPPLIERS = FOLDER / "suppliers"
