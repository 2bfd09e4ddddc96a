"""Questions to be answered before the plot is seen: what happens to a result if a given changes?

They follow from the parts that the givens play, and their answers from the derivation. Only those
are asked whose answer lies well inside one of the classes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.explore.answers import EXACT, Answer, answer_of
from leverstep.explore.givens import Movable, Part, movables
from leverstep.explore.results import Result, Role, Values, results_of, values_of
from leverstep.explore.sentences import factor_text
from leverstep.statics import kinds
from leverstep.statics.balance import known_moments
from leverstep.statics.force_axes import HORIZONTAL
from leverstep.statics.posture import Find
from leverstep.statics.step import Draft

_MOST_OF_ONE = 4
"""The most questions about one result."""
_ORDER: tuple[Role, ...] = ("unknown", "moment", "ratio", "reaction", "further")
"""In which order results are asked about; the parts of a reaction are not."""

_MOVES: dict[Part, tuple[str, Fraction]] = {
    "load arm": ("Halve", Fraction(1, 2)),
    "own arm": ("Double", Fraction(2)),
    "size": ("Double", Fraction(2)),
    "tilt": ("Double", Fraction(2)),
    "angle": ("Double", Fraction(2)),
    "body": ("Double", Fraction(2)),
    "far end": ("Double", Fraction(2)),
    "length": ("Halve", Fraction(1, 2)),
    "share": ("Halve", Fraction(1, 2)),
    "further": ("Double", Fraction(2)),
}
"""What is done with a given, by the part it plays; the other of the two where that has no room."""
MOVES = {"Halve": Fraction(1, 2), "Double": Fraction(2)}
"""What may be done with a given, and by which factor."""
_OTHER = {"Double": ("Halve", MOVES["Halve"]), "Halve": ("Double", MOVES["Double"])}


@dataclass(frozen=True)
class Prediction:
    """One question: a given that changes, the result that is asked for, and what comes of it.

    `before` and `after` are the values of the result, `answer` the right answer, `why` a sentence.
    """

    movable: Movable
    to: Fraction
    result: Result
    asks: str
    before: float
    after: float
    answer: Answer
    why: str

    @property
    def figures(self) -> str:
        """Return the true figures: `F_m goes from 512 N to 300 N (× 0.59)`."""
        return f"{self.result.sign} {self.change}"

    @property
    def change(self) -> str:
        """Return what becomes of it in figures: `goes from 512 N to 300 N (× 0.59)`."""
        return _change(self.result, self.before, self.after)

    def told(self, chosen: Answer) -> str:
        """Return what is said to an answer: whether it is right, the figures, and why."""
        verdict = "Yes" if chosen is self.answer else f"Not quite: it {self.answer}"
        return f"{verdict}. {self.figures}. {self.why}"


def asked_about(question: Question) -> tuple[Result, ...]:
    """Return the results that a question may be about, in the order in which they are asked for."""
    results = (one for one in results_of(question) if one.role in _ORDER)
    return tuple(sorted(results, key=lambda one: _ORDER.index(one.role)))


def predictions(question: Question) -> tuple[Prediction, ...]:
    """Return the questions about a question, from its numbers as they stand.

    All about one given follow each other, so that what happens to the force, to the ratio and to
    the reaction is seen side by side.
    """
    before = values_of(question)
    if before is None:
        return ()
    found: list[Prediction] = []
    results = asked_about(question)
    for movable in sorted(movables(question), key=lambda one: list(_MOVES).index(one.part)):
        word, to = _move(movable, question.exact[movable.key])
        moved = question.with_given(movable.key, to)
        if not movable.span.holds(to) or values_of(moved) is None:
            continue
        for result in results:
            made = predicted(question, moved, movable, result, word)
            if made is not None and _is_new(made, found):
                found.append(made)
    return tuple(found)


def _is_new(made: Prediction, before: list[Prediction]) -> bool:
    """Return whether a question adds to those before it: nothing stays the same twice."""
    of_it = [one.answer for one in before if one.result.key == made.result.key]
    again = made.answer is Answer.SAME and Answer.SAME in of_it
    return len(of_it) < _MOST_OF_ONE and not again


def _move(movable: Movable, value: Fraction) -> tuple[str, Fraction]:
    word, factor = _MOVES[movable.part]
    if not movable.span.holds(value * factor):
        word, factor = _OTHER[word]
    return word, value * factor


def predicted(
    question: Question, moved: Question, movable: Movable, result: Result, word: str
) -> Prediction | None:
    """Return the question about one result, None where its answer is not clear.

    Args:
        question: with its own numbers.
        moved: the same with another value of a given.
        movable: that given.
        result: what may change by it.
        word: what is done with the given, such as "Halve".
    """
    before, after = values_of(question), values_of(moved)
    if before is None or after is None:
        return None
    first, last = before[result.key], after[result.key]
    if not first * last > 0:
        return None
    answer = answer_of(last / first)
    if answer is None:
        return None
    asks = (
        f"{word} {movable.sign}, {movable.name} ({movable.written(question)} → "
        f"{movable.written(moved)}). What happens to {result.sign}, {result.name}?"
    )
    to = moved.exact[movable.key]
    both = {**question.numbers, **before}, {**moved.numbers, **after}
    why = _why(question.view(result.mark), result, *both)
    return Prediction(movable, to, result, asks, first, last, answer, why)


def _change(result: Result, before: float, after: float) -> str:
    factor = after / before
    if abs(factor - 1) <= EXACT:
        return f"stays {result.written(before)}"
    return f"goes from {result.written(before)} to {result.written(after)} ({factor_text(factor)})"


def _why(question: Question, result: Result, before: Values, after: Values) -> str:
    """Return a sentence that gives the reason, from the statics of the question."""
    if question.problem.posture.seeks_centre:
        return _why_centre(question, result, before, after)
    if result.role == "reaction":
        return _why_reaction(question, before, after)
    if result.role == "further":
        return _why_further(question, result, before, after)
    if result.role == "moment":
        return f"It comes from the moments: {_moments(question, before, after)}."
    if result.role == "ratio":
        if question.derivation.step(result.key).kind is kinds.ADVANTAGE:
            return _why_advantage(question, before, after)
        return _why_arms(question, result, before, after)
    unknown = question.problem.posture.balancing
    if question.problem.posture.find is Find.TWO_FORCES:
        return _why_pair(question, before, after)
    if unknown is None:
        return ""
    moments, symbol = _moments(question, before, after), unknown.symbol
    if question.problem.posture.finds_place(unknown):
        size = _compared("", before[symbol], after[symbol])
        return f"{symbol} ({size}) must balance the sum of the other moments ({moments})."
    total = question.key(kinds.SUM)
    arm = _compared("", *(abs(values[total] / values[symbol]) for values in (before, after)))
    through = "" if result.key == symbol else f"{result.sign} goes with {symbol}. "
    return (
        f"{through}{symbol} is the sum of the other moments ({moments}) over its own moment arm "
        f"({arm})."
    )


def _why_centre(question: Question, result: Result, before: Values, after: Values) -> str:
    """Return why a coordinate of the centre of mass changes, or its distance to an edge."""
    step = question.derivation.step(result.key)
    compared = [_compared(key, before[key], after[key]) for key in step.quantities if key in before]
    if step.kind is kinds.EDGE:
        return f"It lies between the line of gravity ({compared[0]}) and the nearer edge."
    products, parts = compared
    return f"{result.sign} is the sum of all products ({products}) over the total ({parts})."


def _compared(name: str, before: float, after: float) -> str:
    """Return how a quantity changes: `M_l × 0.50`, `M_f unchanged`."""
    factor = abs(after / before) if before else 1.0
    told = "unchanged" if abs(factor - 1) <= EXACT else factor_text(factor)
    return f"{name} {told}".strip()


def _moments(question: Question, before: Values, after: Values) -> str:
    """Return how each known moment changes, and their sum where there are several."""
    draft = Draft(question.problem.posture, question.numbers)
    keys = [key for _, key in known_moments(draft)]
    parts = [_compared(key, before[key], after[key]) for key in keys]
    if len(keys) > 1:
        total = question.key(kinds.SUM)
        parts.append(f"together {_compared('', before[total], after[total])}")
    return ", ".join(parts)


def _why_advantage(question: Question, before: Values, after: Values) -> str:
    """Return why the mechanical advantage changes: resistance over effort."""
    effort = question.problem.posture.effort
    assert effort is not None
    symbol = effort.symbol
    advantage = question.key(kinds.ADVANTAGE)
    resistance = [values[advantage] * values[symbol] for values in (before, after)]
    return (
        f"{sign_of(advantage)} is the resistance ({_compared('', *resistance)}) over {symbol} "
        f"({_compared('', before[symbol], after[symbol])})."
    )


def _why_arms(question: Question, result: Result, before: Values, after: Values) -> str:
    """Return why the ratio of arms changes: by the two lengths that it compares, and no force."""
    above, below = question.derivation.step(result.key).quantities
    return (
        f"{result.sign} is {sign_of(above)} ({_compared('', before[above], after[above])}) over "
        f"{sign_of(below)} ({_compared('', before[below], after[below])}); no force comes into it."
    )


def _why_pair(question: Question, before: Values, after: Values) -> str:
    """Return why two forces change that balance the others between them."""
    posture = question.problem.posture
    both = " and ".join(sign_of(force.symbol) for force in posture.unknown)
    parts = ", ".join(
        _compared(force.symbol, before[force.symbol], after[force.symbol])
        for force in posture.forces
        if force.magnitude is not None
    )
    return f"{both} balance the other forces together, each along its own line: {parts}."


def _why_reaction(question: Question, before: Values, after: Values) -> str:
    """Return why the reaction changes: it balances all the forces, each as it changes."""
    forces = question.problem.posture.forces
    parts = ", ".join(
        _compared(force.symbol, before[force.symbol], after[force.symbol]) for force in forces
    )
    turned = ""
    if set(_bearings(question, before, after)) - {0.0}:
        turned = " and their directions"
    if question.problem.posture.find is Find.RESULTANT:
        return f"It is the sum of all the forces{turned}: {parts}."
    return f"It balances all the forces on the {question.problem.segment}{turned}: {parts}."


def _why_further(question: Question, result: Result, before: Values, after: Values) -> str:
    """Return why something worked out further changes: by all that stands on its line."""
    used = question.derivation.step(result.key).quantities
    parts = [_compared(sign_of(key), before[key], after[key]) for key in used if key in before]
    return f"{result.sign} is worked out from {', '.join(parts)}."


def _bearings(question: Question, before: Values, after: Values) -> Iterator[float]:
    """Yield how much the level part of each force changes beyond its size, as a share."""
    for force in question.problem.posture.forces:
        size, part = force.symbol, HORIZONTAL.component_key(force)
        if part in before and before[size] and after[size]:
            yield round(after[part] / after[size] - before[part] / before[size], 3)
