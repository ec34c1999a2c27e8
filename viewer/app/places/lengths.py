"""Lengths in fields: in millimetres, or in inches with fractions where the kitchen says ``lengths: inch``.

In a field of inches nothing is without its unit: a bare 24 may be meant either way, and is refused.
"""

from __future__ import annotations

import re

import streamlit as st

from countersunk.model.errors import InputError
from countersunk.model.files.inches import exactly, read
from countersunk.viewer.app.session import Desk

WORD = re.compile(r"\bmm\b")
"""What a label says of its field's unit."""

METRIC = re.compile(r"(-?\d{1,6}(?:\.\d{1,6})?) ?mm")
ALLOWED = 'inches, as 23 5/8 or 24", or millimetres, as 600 mm'


def said(mm: float) -> str:
    """A length as a field of inches shows it: inches where they are exact, else millimetres with their unit.

    >>> said(600.075), said(600.0)
    ('23 5/8"', '600 mm')
    """
    return exactly(mm) or f"{mm:.10g} mm"


def read_length(text: str, label: str) -> float:
    """The millimetres of what was typed into a field of inches. Raises InputError, which names the field.

    >>> read_length('23 5/8', "width, in"), read_length("600 mm", "width, in")
    (600.075, 600.0)
    """
    metric = METRIC.fullmatch(text.strip())
    found = float(metric[1]) if metric else read(text.strip())
    if found is None:
        advice = f'{text.strip()}" or {text.strip()} mm' if re.fullmatch(r"\d{1,5}", text.strip()) else ""
        raise InputError.at(label, found=f"'{text[:40]}'", allowed=ALLOWED, advice=advice)
    return found


def in_inches(label: str) -> str:
    """A label of a field in millimetres as that of one in inches: ``width, mm`` is ``width, in``."""
    return WORD.sub("in", label)


def length_input(desk: Desk, label: str, now: float, key: str, shown: str = "%.0f", step: float = 1.0) -> float:
    """A field for one length, in mm; of the last good one where what was typed is none, with a word about it."""
    if desk.base.lengths == "mm":
        return float(st.number_input(label, value=float(now), step=step, format=shown, key=key))
    text = st.text_input(in_inches(label), value=said(now), key=key)
    try:
        return now if text == said(now) else read_length(text, in_inches(label))
    except InputError as error:
        st.error(str(error))
        return now
