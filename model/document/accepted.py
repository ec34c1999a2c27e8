"""Accepted: what somebody takes upon themselves that a rule asks and this kitchen does not give."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from countersunk.model.document.fields import Code
from countersunk.model.files.strict import Strict

At = Annotated[
    str,
    Field(min_length=1, max_length=60, description="the key, name or mark of a thing that the finding names"),
]


class Accepted(Strict):
    """A must that is not met and accepted, ``by`` whom and for what ``reason``; quote and card say so.

    ``rule`` is the id that ``check --json`` gives, ``at`` one of the things that the finding names.
    """

    rule: Code
    at: At
    by: Annotated[str, Field(min_length=2, max_length=60)]
    reason: Annotated[str, Field(min_length=8, max_length=240)]
