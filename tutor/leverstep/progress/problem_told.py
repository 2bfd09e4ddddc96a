"""A problem of the list in words, before it is opened."""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.course.cards import Card
from leverstep.progress.problem_list import ListedProblem, ProblemList

_MARKED = {"due": "due for review", "begun": "begun", "done": "done"}


def facts(listed: ListedProblem) -> str:
    """Return what a problem asks for; which class the lever is of is for the student to find."""
    lever = "" if listed.card.lever_class is None else ", and the class of the lever"
    return f"Asks for the {listed.asks}{lever}."


def own_told(card: Card) -> str:
    """Return which numbers of the own body a problem takes, with their limits; "" for none."""
    return f"Takes numbers of your own body: {card.limits}." if card.limits else ""


def standing(problem: ListedProblem) -> str:
    """Return how a problem stands for this student, in a sentence; "" where nothing is to say."""
    marks = ", ".join(_MARKED[mark] for mark in problem.marks)
    return f"{marks.capitalize()}." if marks else ""


def about(card: Card, problems: ProblemList) -> Iterator[str]:
    """Yield all that there is to know of a problem before it is opened, one sentence at a time."""
    listed = problems.listed(card)
    own = ", your own" if listed.is_own else ""
    yield f"{listed.joint}, {listed.level}, {card.units}{own}."
    yield facts(listed)
    reasons = (one.why for one in problems.due if one.ident == card.id)
    for told in (standing(listed), *(f"Due {why}." for why in reasons), own_told(card)):
        if told:
            yield told
    yield card.about
