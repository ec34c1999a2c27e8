"""Status: how far a figure that a rule or a price rests on was looked up."""

from typing import Literal

Status = Literal["seen", "quoted", "memory", "practice"]
