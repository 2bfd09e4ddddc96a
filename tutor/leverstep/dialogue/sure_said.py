"""Where a line says itself how sure the student is of it, and how that is told."""

from __future__ import annotations

from leverstep.questions.sureness import SURENESS
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Thinking
from leverstep.working.working import Working

SURE_BEHIND = "#2 where you are fairly sure"
"""What stands behind the example of a line."""

SURE_IN_WORDS = ", ".join(f"#{number} {word}" for number, word in enumerate(SURENESS, 1))
"""What each mark says."""


def says_how_sure(working: Working) -> bool:
    """Return whether it is to be said how sure one is, and nobody asks: on a blank sheet."""
    is_blank = working.guidance is Guidance.BLANK
    return is_blank and Thinking.SURE in working.rules.thinking
