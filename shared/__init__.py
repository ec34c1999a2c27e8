"""What the packages share as data: catalogue, rules, prices and demo kitchens, all plain readable files."""

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
