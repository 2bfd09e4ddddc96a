"""What is said first at the problems in plain lines: where to start, go on, or practise next."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from leverstep.course.phrases import counted
from leverstep.dialogue.kept_told import kept_told
from leverstep.progress.problem_list import ProblemList


def where_to_begin(problems: ProblemList, now: datetime) -> Iterator[str]:
    """Yield where to start, what can be gone on with, and what is due or comes next."""
    if problems.start is not None:
        yield f"New here? Start with {problems.start.title}: type start."
    if begun := problems.unfinished():
        told = f"{begun[0].problem.title}, {kept_told(begun[0], now)}"
        more = f" Type kept to hear all {len(begun)}." if begun[1:] else ""
        yield f"Not finished: {told}. Type go on to take it up.{more}"
    if due := problems.due:
        yield f"Due for review: {counted(len(due), 'problem')}. Type due to hear them."
    elif (following := problems.next) and (card := problems.card(following.ident)):
        yield f"Next: {card.title}, {following.why}. Type due to hear more."
