"""The slip behind a claim whose arithmetic would hold with one thing in it otherwise."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from leverstep.claims.amendments import Amendment, Choices
from leverstep.course.problem import Question
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.finding import Explanation, Finding
from leverstep.slips.hypotheses import usable
from leverstep.statics.step import Step


def amended_slip(
    question: Question, step: Step, amendment: Amendment, catalogue: Catalogue
) -> tuple[Explanation, ...]:
    """Return the slip that an amendment turns back, none where the catalogue has none.

    Args:
        question: whose line it is.
        step: the line.
        amendment: what makes it hold.
        catalogue: the slips that there are.
    """
    if amendment.typed:
        return _miscopied(question, step, amendment, catalogue)
    found = next(_made(question, step, amendment.choices, catalogue), None)
    return () if found is None else (Explanation((found,)),)


def _miscopied(
    question: Question, step: Step, amendment: Amendment, catalogue: Catalogue
) -> tuple[Explanation, ...]:
    slip = next((s for s in catalogue.slips.values() if s.miscopied), None)
    if slip is None or step.kind.name not in slip.kinds:
        return ()
    given = next(
        (g.key for g in question.givens if question.numbers[g.key] == float(amendment.meant)), ""
    )
    copied_for = given or amendment.meant
    found = Finding(slip.id, step.key, (), miscopied=copied_for, copied=amendment.typed)
    return (Explanation((found,), sure=False),)


def _made(
    question: Question, step: Step, choices: Choices, catalogue: Catalogue
) -> Iterator[Finding]:
    """Yield the slips that take such a choice otherwise: at the line itself or at one that it rests
    on, the nearest first; then by their name alone, at the line or at one that it is made of.
    """
    derivation = question.derivation
    found, _ = usable(derivation, catalogue, step.key, frozenset())
    for kind, value in choices:
        for one in found:
            made = {(choice.kind, taken) for choice, taken in one.changes}
            if made == {(kind, value)} and one.slip.often > 1:
                yield Finding(one.slip.id, step.key, ())
    parts = [step, *(one for one in derivation.steps if one.key in step.uses)]
    for part, (kind, value) in itertools.product(parts, choices):
        for slip in catalogue.slips.values():
            is_so = any(change == ((kind, value),) for change in slip.changes)
            if is_so and part.kind.name in slip.kinds:
                yield Finding(slip.id, step.key, ())
