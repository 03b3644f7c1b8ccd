"""What a rule can answer, for one part of a machine and for several."""

from typing import Literal, TypeAlias

Status: TypeAlias = Literal["met", "not-met", "unsettled", "not-asked"]

BY_WEIGHT: tuple[Status, ...] = ("not-asked", "met", "unsettled", "not-met")
"""A rule asked of several parts answers the last of these that any part has."""
