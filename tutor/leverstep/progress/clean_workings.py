"""How many problems of a kind a student worked without a slip: by that an example fades."""

from __future__ import annotations

from leverstep.progress.history import History


def clean_workings(history: History, kind: str) -> int:
    """Return how many workings came to their end with each line right at the first try.

    `kind` is what the problems ask for, as their cards have it. Those with a hint count as little
    as those with a slip. Lines that were shown do not matter.
    """
    return sum(
        one.finished
        and one.card.asks == kind
        and all(entry.right for entry in one.entries if entry.first)
        for one in history.workings
    )
