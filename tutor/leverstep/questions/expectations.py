"""What a student may be asked to expect before the first line, and what comes of it.

Each question has one digit for an answer, and its right answer is that of the derivation. Which way
it turns the segment is asked of each force, then what comes of them: with six digits at most in the
problems that ship, some ten seconds.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from leverstep.course.phrases import capital
from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.diagram.compass import WAYS
from leverstep.questions.choice_question import ChoiceQuestion, OfferedAnswer, QuestionSort
from leverstep.questions.force_names import force_named, reaction_named, together
from leverstep.statics import kinds
from leverstep.statics.acting import Couple, Force
from leverstep.statics.centre_of_mass import INSIDE
from leverstep.statics.posture import Find
from leverstep.statics.reaction import found_reaction
from leverstep.statics.step import Draft
from leverstep.statics.turn import moment_key, moment_sign, passes_axis
from leverstep.working.writing import plain_number, quantity

_NOTHING = 1e-9
"""A share of the largest below which a moment or a part of a force is what rounding makes of 0."""

_NONE = "none"
_TURNS = (("ccw", "anticlockwise"), ("cw", "clockwise"), (_NONE, "not at all"))
_SIZES = (
    ("0.1", "a tenth or less"),
    ("0.3", "about a third"),
    ("1", "about as large"),
    ("3", "about 3 times as large"),
    ("10", "about 10 times as large"),
    ("30", "30 times as large or more"),
)
_NEAR = 0.07
"""How near, in decades, a ratio lies to the border between two sizes where both count as right."""

_PLACES = (("nearer", "nearer"), ("alike", "about as far"), ("farther", "farther away"))
_ALIKE, _NEARLY_ALIKE = 0.05, 0.1
"""Shares by which two things differ that are about alike; up to the second both answers count."""


def expectations(question: Question) -> tuple[ChoiceQuestion, ...]:
    """Return what may be expected of a question, in the order in which it is asked.

    Of several postures in a row, the forces are those of the first, and the results of the last.

    Raises:
        ValueError, ArithmeticError: where these numbers have no working.
    """
    first, last = question.views[0], question.views[-1]
    results, turns = list(_results(last)), list(_turns(first))
    if first is not last:
        turns = [_within(first, one) for one in turns]
        results = [_within(last, one) for one in results]
    return (*turns, *results)


def _within(view: Question, one: ChoiceQuestion) -> ChoiceQuestion:
    """Return a question that says which of several postures it is about."""
    return replace(one, asks=f"{view.introduced}. {one.asks}")


def _choice(
    key: str,
    sort: QuestionSort,
    asks: str,
    answers: Sequence[tuple[str, str]],
    right: Sequence[str],
    about: str,
    truth: str = "",
) -> ChoiceQuestion:
    """Return a question; what came out is said in the words of the right answer unless given."""
    offered = tuple(OfferedAnswer(name, text) for name, text in answers)
    truth = truth or dict(answers)[right[0]]
    return ChoiceQuestion(key, sort, asks, offered, frozenset(right), capital(about), truth)


def _turns(view: Question) -> Iterator[ChoiceQuestion]:
    """Yield the question of each force and couple: which way it turns the segment.

    What is handed on may have either sign, so that nothing shows it yet.
    """
    problem, posture = view.problem, view.problem.posture
    if not posture.has_moments:
        return
    shown: list[Force | Couple] = [one for one in posture.forces if not one.is_handed_on]
    for one in (*shown, *posture.given_couples):
        name = force_named(view, one)
        asks = f"Which way does the {name} turn the {problem.segment} about the {problem.axis}?"
        right = _sense(turning(view, one))
        about = f"the {name} turns the {problem.segment}"
        key = f"turns:{one.symbol}{posture.mark}"
        yield _choice(key, QuestionSort.TURNS, asks, _TURNS, [right], about)


def _sense(turns: int) -> str:
    return {1: "ccw", -1: "cw"}.get(turns, _NONE)


def turning(view: Question, one: Force | Couple) -> int:
    """Return which way a force or couple turns the segment: 1 anticlockwise, -1 clockwise, or 0."""
    posture = view.problem.posture
    if isinstance(one, Couple):
        return one.turns
    draft = Draft(posture, view.numbers)
    if passes_axis(draft, one):
        return 0
    if one.offset is None:
        return moment_sign(draft, one) * posture.positive
    return _sign(view.right[moment_key(one)], one_of=_largest(view)) * posture.positive


def _largest(view: Question) -> float:
    keys = [moment_key(force) for force in view.problem.posture.known_turning]
    return max((abs(view.right[key]) for key in keys if key in view.right), default=0.0)


def _sign(value: float, one_of: float) -> int:
    """Return the sign of a value; 0 for what is nothing beside `one_of`."""
    return 0 if abs(value) <= _NOTHING * one_of else (1 if value > 0 else -1)


def _results(view: Question) -> Iterator[ChoiceQuestion]:
    """Yield what may be asked of the results of a posture."""
    posture = view.problem.posture
    if posture.seeks_centre:
        yield from _of_centre(view)
        return
    if posture.find is Find.TWO_FORCES:
        yield _of_two(view)
    elif posture.has_moments:
        yield from _of_moments(view)
    yield from _of_reaction(view)


def _of_moments(view: Question) -> Iterator[ChoiceQuestion]:
    """Yield what may be asked of what is found from moments."""
    posture, values = view.problem.posture, view.right
    found, known = posture.balancing, posture.known_turning
    if found is None:
        yield _of_sum(view)
        return
    sizes = [values[force.symbol] for force in known]
    if not known or min(sizes) <= 0 or posture.sought_angle is not None:
        return
    if not posture.finds_place(found):
        yield _of_size(view, found, known)
    else:
        yield _of_place(view, found)


def _of_size(view: Question, found: Force, known: Sequence[Force]) -> ChoiceQuestion:
    """Return the question of how large the force to be found is beside those that are known."""
    values = view.right
    ratio = values[found.symbol] / sum(values[force.symbol] for force in known)
    name, others = force_named(view, found), together(view, known)
    asks = f"About how large is the {name} beside {others}?"
    about = f"the {name} beside {others}"
    truth = f"{plain_number(ratio, 2)} {'times as large' if ratio >= 1 else 'of that'}"
    key = f"size:{found.symbol}{view.problem.posture.mark}"
    return _choice(key, QuestionSort.SIZE, asks, _SIZES, _nearest_sizes(ratio), about, truth)


def _nearest_sizes(ratio: float) -> list[str]:
    """Return the keys of the sizes that count for a ratio, the nearest first."""
    off = sorted((abs(math.log10(ratio) - place / 2 + 1), place) for place in range(len(_SIZES)))
    (nearest, place), (second, beside) = off[:2]
    is_border = second - nearest < 2 * _NEAR
    return [_SIZES[place][0], *([_SIZES[beside][0]] if is_border else [])]


def _of_place(view: Question, found: Force) -> ChoiceQuestion:
    """Return the question of where a force has to act, beside the one that turns most against it.

    What is found turns against the sum of all others.
    """
    problem, values = view.problem, view.right
    way = math.copysign(1, values[view.key(kinds.SUM)])
    other = max(problem.posture.known_turning, key=lambda force: way * values[moment_key(force)])
    own, its = (
        abs(values[key]) / values[force.symbol]
        for force, key in ((found, view.key(kinds.SUM)), (other, moment_key(other)))
    )
    name, beside = force_named(view, found), force_named(view, other)
    asks = f"Seen from the {problem.axis}, where must the line of the {name} pass, "
    asks += f"beside that of the {beside}?"
    right = _compared(own / its, ("nearer", "alike", "farther"))
    about = f"the line of the {name} beside that of the {beside}"
    key = f"place:{found.symbol}{view.problem.posture.mark}"
    return _choice(key, QuestionSort.PLACE, asks, _PLACES, right, about)


def _compared(ratio: float, keys: tuple[str, str, str]) -> list[str]:
    """Return which of three answers count: less, about alike, more; the truest first."""
    less, alike, more = keys
    apart, off = (less if ratio < 1 else more), abs(ratio - 1)
    if off < _ALIKE:
        return [alike]
    return [apart, alike] if off < _NEARLY_ALIKE else [apart]


def _of_sum(view: Question) -> ChoiceQuestion:
    """Return the question of which way the moments turn together, or the muscles against them."""
    problem, posture = view.problem, view.problem.posture
    is_net = posture.find is Find.NET_MOMENT
    value = view.right[view.key(kinds.NET_MOMENT if is_net else kinds.SUM)]
    right = _sense(_sign(value, _largest(view)) * posture.positive)
    who = "the muscles have to" if is_net else "all forces together"
    do = "do the muscles have to" if is_net else "do all forces together"
    asks = f"Which way {do} turn the {problem.segment} about the {problem.axis}?"
    about = f"{who} turn the {problem.segment}"
    key = f"turns:sum{posture.mark}"
    return _choice(key, QuestionSort.TURNS, asks, _TURNS, [right], about)


def _of_two(view: Question) -> ChoiceQuestion:
    """Return the question of which of two forces is the larger one."""
    one, other = view.problem.posture.unknown
    names = [force_named(view, force) for force in (one, other)]
    answers = [(one.symbol, f"the {names[0]}"), ("alike", "they are about alike")]
    answers.append((other.symbol, f"the {names[1]}"))
    ratio = view.right[one.symbol] / view.right[other.symbol]
    right = _compared(ratio, (other.symbol, "alike", one.symbol))
    asks, about = "Which force is the larger one?", "the larger force"
    return _choice("larger", QuestionSort.SIZE, asks, answers, right, about)


def _of_reaction(view: Question) -> Iterator[ChoiceQuestion]:
    """Yield which way the reaction or the resultant points, upright and, at a point, across."""
    posture = view.problem.posture
    name = reaction_named(view)
    resultant = [view.right.get(posture.key(kind), 0.0) for kind in _RESULTANT]
    found = found_reaction(posture, view.numbers, view.right)
    if posture.find is Find.RESULTANT:
        whole = complex(*resultant)
    elif found is not None:
        whole = found[1]
    else:
        return
    up, down = WAYS[view.problem.seen_from]
    parts = [("up", whole.imag, (("up", up), ("down", down), (_NONE, "it has none")))]
    if not posture.has_moments:
        across = (("right", "to the right"), ("left", "to the left"), (_NONE, "it has none"))
        parts.insert(0, ("across", whole.real, across))
    for key, value, answers in parts:
        place = {1: 0, -1: 1}.get(_sign(value, abs(whole)), 2)
        part = _PARTS[view.problem.seen_from][key]
        asks = f"Which way does the {part} component of the {name} point?"
        about = f"the {part} component of the {name}"
        ident = f"reaction:{key}{posture.mark}"
        right = [answers[place][0]]
        yield _choice(ident, QuestionSort.REACTION, asks, answers, right, about)


_RESULTANT = (kinds.RESULTANT_X, kinds.RESULTANT_Y)
_PARTS = {
    "side": {"across": "horizontal", "up": "vertical"},
    "above": {"across": "sideways", "up": "lengthways"},
}
"""What the parts of a force are called, by where a problem is seen from."""


def _of_centre(view: Question) -> Iterator[ChoiceQuestion]:
    """Yield where the centre of mass lies, seen from the origin, and over the base of support."""
    axis, values = view.problem.axis, view.right
    ways = {
        kinds.CENTRE_X: (("right", "to the right"), ("left", "to the left")),
        kinds.CENTRE_Y: (("above", "above"), ("below", "below")),
    }
    for kind, (positive, negative) in ways.items():
        key = view.key(kind)
        if key not in values:
            continue
        answers = (positive, negative, ("level", "neither"))
        place = {1: 0, -1: 1}.get(_sign(values[key], 1.0), 2)
        asks = f"Where will the centre of mass lie, seen from the {axis}?"
        about = f"the centre of mass, seen from the {axis}"
        told = f"{answers[place][1]}, {quantity(abs(values[key]), 'm', 3)} away"
        right = [answers[place][0]]
        sort = QuestionSort.CENTRE
        yield _choice(f"centre:{sign_of(key)}", sort, asks, answers, right, about, told)
    key = view.key(kinds.SUPPORTED)
    if key in values:
        sides = (("inside", "inside"), ("outside", "outside"))
        right = ["inside" if round(values[key]) == INSIDE else "outside"]
        asks = "Will the line of gravity pass inside the base of support, or outside?"
        about = "the line of gravity and the base of support"
        yield _choice("centre:base", QuestionSort.CENTRE, asks, sides, right, about)
