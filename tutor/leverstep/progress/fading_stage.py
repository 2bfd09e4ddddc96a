"""How far examples of a kind have faded for a student: by what was read, and worked cleanly."""

from __future__ import annotations

from leverstep.progress.history import History


def fading_stage(history: History, kind: str) -> int:
    """Return how far an example of a kind fades: 0 is shown whole, and each clean working leads on.

    `kind` is what the problems ask for, as their cards have it. Who read one whole is at 1 at
    least, and so is who worked one with each line right at the first try and without a hint. Lines
    that were shown do not matter.
    """
    clean = sum(
        one.finished
        and one.card.asks == kind
        and all(entry.right for entry in one.entries if entry.first)
        for one in history.workings
    )
    return clean + 1 if clean or kind in history.read_whole else 0
