"""Strict: what every schema of a file has in common."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Strict(BaseModel):
    """Unknown keys, NaN and silent conversions are refused; a document never changes."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, allow_inf_nan=False)
