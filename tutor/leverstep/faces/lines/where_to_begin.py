"""What is said first at the problems in plain lines: what there is, and where to start or go on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import datetime

from leverstep.course.phrases import counted
from leverstep.course.shelf import Shelf
from leverstep.dialogue.kept_told import kept_told
from leverstep.progress.problem_list import ProblemList


def problems_there_are(shelf: Shelf) -> Iterator[str]:
    """Yield which weeks a course has, and how many problems there are by joint."""
    if shelf.weeks:
        yield f"{counted(len(shelf.weeks), 'week')} of the course:"
    for number, week in enumerate(shelf.weeks, 1):
        yield f"{number}: {week.title}, {counted(len(week.problems), 'problem')}."
    if shelf.weeks:
        yield "Type week and its number to hear its problems."
    joints = Counter(card.joint for card in shelf.offered)
    there_are = ", ".join(f"{_with_own_word(shelf, one)} {count}" for one, count in joints.items())
    yield f"{counted(len(shelf.offered), 'problem')}, by joint: {there_are}."
    yield "Type a joint to hear its problems."


def _with_own_word(shelf: Shelf, joint: str) -> str:
    """Return a joint, in brackets with what the course calls it where it has a word of its own."""
    word = shelf.words.joints.get(joint)
    return f"{joint} ({word})" if word else joint


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
