"""The caution that stands with every body. Light, since the first screen bears it."""

from __future__ import annotations

_DECISIONS = "for clinical, rehabilitation or training-load decisions"

CAUTION = f"An idealised teaching model. Not {_DECISIONS}: those belong to licensed practitioners."
"""Shown wherever a student begins, asks for help or ends, and in all that is printed or written
with a number of a body; only tables for other programs go without."""

CAUTION_SAID = f"Caution: {CAUTION}"
"""As it is said among plain lines."""

CAUTION_IN_SHORT = f"Idealised; not {_DECISIONS}."
"""Shown wherever a body is worked on: one line that fits a narrow screen with everything else."""
