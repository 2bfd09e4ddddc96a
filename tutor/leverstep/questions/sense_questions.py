"""Whether a result makes sense: asked after the last line, from the derivation's own numbers.

Each answer that is not right comes of a slip in thinking, which is told to who chooses it.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from leverstep.course.problem import Question
from leverstep.explore.answers import Answer
from leverstep.explore.givens import Movable, movables
from leverstep.explore.predictions import MOVES, Prediction, asked_about, predicted
from leverstep.explore.results import Result
from leverstep.questions.choice_question import ChoiceQuestion, OfferedAnswer, QuestionSort
from leverstep.questions.force_names import force_named, reaction_named, together
from leverstep.questions.ratio_answers import DECOYS, SlippedRatio, told_apart
from leverstep.questions.times_the_body import times_the_body
from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.posture import Find
from leverstep.statics.reaction import found_reaction
from leverstep.statics.turn import moment_key
from leverstep.working.writing import plain_number, quantity

MOST = 2
"""So many questions are asked."""

_BESIDE_BODY = 0.5
"""This share of the questions that might be about either are about the weight of the body."""

_TARGETS = {
    "halve {}": {Answer.HALVES},
    "double {}": {Answer.DOUBLES},
    "make {} smaller": {Answer.SHRINKS, Answer.HALVES, Answer.LESS},
}
"""What is asked for, and which answers of a prediction do it; the first that there is is asked."""

_TIMES = {"Halve": "half", "Double": "twice"}


def sense_questions(question: Question) -> tuple[ChoiceQuestion, ...]:
    """Return what may be asked of the result of a question; fewer where less applies.

    Raises:
        ValueError, ArithmeticError: where these numbers have no working.
    """
    how_many = _how_many(question)
    made = [] if how_many is None else [how_many]
    made += _changes(question, MOST - len(made))
    return tuple(_mixed(question, one) for one in made)


def _how_many(question: Question) -> ChoiceQuestion | None:
    """Return how large a result is beside what it holds, or beside the body; None for neither.

    Where both can be asked, the numbers of the question say which is.
    """
    compared = _compared(question.views[-1])
    hundred = None if compared is None else _each_hundred(question, compared)
    body = times_the_body(question)
    if hundred is None or body is None:
        return hundred or body
    return body if question.lot("weight of the body") < _BESIDE_BODY else hundred


def _mixed(question: Question, one: ChoiceQuestion) -> ChoiceQuestion:
    """Return a question with its answers in an order that goes by the numbers of the question."""
    answers = sorted(one.answers, key=lambda answer: question.lot(one.key, answer.key))
    return replace(one, answers=tuple(answers))


@dataclass(frozen=True, slots=True)
class _Compared:
    """What is found beside what it holds: the name and the size in N of each.

    `forces` are those held, by their sizes; `in_balance` says what is equal where the forces are
    not, and `advantage` is the mechanical advantage, None where that is not this ratio.
    """

    name: str
    size: float
    others: str
    forces: tuple[tuple[Force, float], ...]
    in_balance: str
    advantage: float | None = None

    @property
    def total(self) -> float:
        """Return the sizes of what is held together."""
        return sum(size for _, size in self.forces)


_BY_MOMENTS = "In balance the moments are equal, not the forces: their moment arms differ."
_BY_DIRECTIONS = "Sizes alone do not balance: the directions of the forces count too."


def _compared(view: Question) -> _Compared | None:
    """Return which forces are compared in a posture; None where that says nothing."""
    posture, values = view.problem.posture, view.right
    found = posture.balancing
    if posture.seeks_centre or not all(values[force.symbol] > 0 for force in posture.forces):
        return None
    if posture.find is Find.TWO_FORCES:
        larger = max(posture.unknown, key=lambda force: values[force.symbol])
        held = [force for force in posture.forces if force.magnitude is not None]
        return _beside(view, force_named(view, larger), values[larger.symbol], held, _BY_DIRECTIONS)
    if not posture.has_moments:
        size = view.key(kinds.RESULTANT_SIZE)
        whole = found_reaction(posture, view.numbers, values)
        force = values.get(size, 0.0) if whole is None else abs(whole[1])
        return _beside(view, reaction_named(view), force, posture.forces, _BY_DIRECTIONS)
    if found is None or posture.couples or posture.sharing or posture.finds_place(found):
        return None
    way = math.copysign(1, values[view.key(kinds.SUM)])
    held = [force for force in posture.known_turning if way * values[moment_key(force)] > 0]
    made = _beside(view, force_named(view, found), values[found.symbol], held, _BY_MOMENTS)
    advantage = values.get(view.key(kinds.ADVANTAGE))
    is_this = advantage is not None and math.isclose(advantage, made.total / made.size)
    return replace(made, advantage=advantage if is_this else None)


def _beside(
    view: Question, name: str, size: float, held: Sequence[Force], in_balance: str
) -> _Compared:
    """Return a force beside those that it holds."""
    forces = tuple((force, view.right[force.symbol]) for force in held)
    return _Compared(name, size, together(view, held), forces, in_balance)


def _each_hundred(question: Question, one: _Compared) -> ChoiceQuestion | None:
    """Return the question of how much force there is for each 100 N of what is held.

    None where too few other answers can be told from the right one.
    """
    right = SlippedRatio("right", one.size / one.total, _ratio_told(one))
    offered = told_apart([right, *_slipped(one, question.accepted["g"][0])], _newtons)
    if not offered:
        return None
    return ChoiceQuestion(
        f"hundred{question.views[-1].problem.posture.mark}",
        QuestionSort.HUNDRED,
        f"For each 100 N of {one.others}, how large is the {one.name}?",
        offered,
        frozenset({right.key}),
    )


def _newtons(ratio: float) -> str:
    return f"about {plain_number(100 * ratio, 2)} N"


def _ratio_told(one: _Compared) -> str:
    """Return what the ratio is, and what it says of the mechanical advantage where it is that."""
    size, total = quantity(one.size, "N", 3), quantity(one.total, "N", 3)
    told = f"The {one.name} is {size} for {total}."
    if one.advantage is None:
        return told
    more = "more" if one.advantage < 1 else "less"
    advantage = plain_number(one.advantage, 2)
    return f"{told} A mechanical advantage of {advantage} means just that: {more} force than load."


def _slipped(one: _Compared, gravity: float) -> Iterator[SlippedRatio]:
    """Yield the ratios that slips give.

    `gravity` is what a weight is of its mass, in newtons for a kilogram.
    """
    ratio = one.size / one.total
    told = f"That is upside down: so much of {one.others} for each 100 N of the {one.name}."
    yield SlippedRatio("upside-down", 1 / ratio, told)
    yield SlippedRatio("equal", 1.0, one.in_balance)
    largest, size = max(one.forces, key=lambda pair: pair[1])
    if len(one.forces) > 1:
        told = f"That is for each 100 N of {largest.symbol} alone: all that is held counts."
        yield SlippedRatio("alone", one.size / size, told)
    if any(force.magnitude is not None and force.magnitude.is_mass for force, _ in one.forces):
        told = f"That takes masses for weights: each kilogram has a weight of {gravity:g} N."
        yield SlippedRatio("masses", gravity * ratio, told)
    yield SlippedRatio(
        "tenfold", 10 * ratio, "That is ten times as much: a decimal point has moved."
    )


def _changes(question: Question, most: int) -> list[ChoiceQuestion]:
    """Return some questions of what would change a result: one of each, the first result first."""
    moves = _Moves(question)
    made: list[ChoiceQuestion] = []
    for result in asked_about(question):
        asked = _change(moves, result) if len(made) < most else None
        made += [] if asked is None else [asked]
    return made


@dataclass(frozen=True, slots=True)
class _Move:
    """What is done with a given, in the word of `MOVES`, and what comes of it for a result.

    `result` is what that is called: its sign, where a line of the working has it.
    """

    movable: Movable
    word: str
    made: Prediction
    result: str

    @property
    def offered(self) -> OfferedAnswer:
        """Return it as an answer; what is told of it are the figures that come of it."""
        text = f"{_TIMES[self.word]} {self.movable.sign} ({self.movable.name})"
        key = f"{self.word.lower()}:{self.movable.key}"
        return OfferedAnswer(key, text, f"With that, {self.result} {self.made.change}.")


class _Moves:
    """What may be done with the givens of a question; each is worked out once, when it is asked."""

    def __init__(self, question: Question) -> None:
        self.question = question
        self._there = [
            (movable, word)
            for movable in movables(question)
            for word, factor in MOVES.items()
            if movable.span.holds(question.exact[movable.key] * factor)
        ]
        self._moved: dict[tuple[str, str], Question] = {}

    def drawn(self, name: str, result: Result) -> Iterator[_Move]:
        """Yield what clearly comes of each for a result, in an order that goes by the numbers."""
        there = sorted(self._there, key=lambda one: self.question.lot(name, one[0].key, one[1]))
        for movable, word in there:
            made = self.made(movable, word, result)
            if made is not None:
                yield made

    def made(self, movable: Movable, word: str, result: Result) -> _Move | None:
        """Return what comes of one for a result; None where it can't be done, or is not clear."""
        if (movable, word) not in self._there:
            return None
        key = movable.key, word
        if key not in self._moved:
            to = self.question.exact[movable.key] * MOVES[word]
            self._moved[key] = self.question.with_given(movable.key, to)
        made = predicted(self.question, self._moved[key], movable, result, word)
        sign = result.sign if is_line(self.question, result) else "it"
        return None if made is None else _Move(movable, word, made, sign)


def is_line(question: Question, result: Result) -> bool:
    """Return whether a line of the working has the sign of a result; else it is told by name."""
    return any(step.key == result.key for step in question.derivation.asked)


def _change(moves: _Moves, result: Result) -> ChoiceQuestion | None:
    """Return the question of what halves a result, or else doubles it, or makes it smaller.

    The opposite of what does it is among the answers. None where nothing clearly does any of it.
    """
    for verb, target in _TARGETS.items():
        name = f"change:{verb.split()[0]}:{result.key}"
        right, others = _right_and_others(moves.drawn(name, result), target)
        if right is None or len(others) < DECOYS - 1:
            continue
        opposite = next(word for word in MOVES if word != right.word)
        first = moves.made(right.movable, opposite, result)
        if first is not None and first.made.answer not in target and first not in others:
            others.insert(0, first)
        offered = tuple(move.offered for move in (right, *others[:DECOYS]))
        asks = _change_asked(moves.question, verb, result, right)
        sort = QuestionSort.CHANGE
        return ChoiceQuestion(name, sort, asks, offered, frozenset({right.offered.key}))
    return None


def _right_and_others(
    drawn: Iterable[_Move], target: Collection[str]
) -> tuple[_Move | None, list[_Move]]:
    """Return the first move that has an answer of the target, and enough that have not."""
    right, others = None, list[_Move]()
    for move in drawn:
        if move.made.answer not in target:
            others.append(move)
        elif right is None:
            right = move
        if right is not None and len(others) >= DECOYS:
            break
    return right, others


def _change_asked(question: Question, verb: str, result: Result, right: _Move) -> str:
    """Return what is asked: what would change a result so."""
    in_size = " in size" if right.made.before < 0 else ""
    sign = f" ({result.sign})" if is_line(question, result) else ""
    does = verb.format(f"the {result.name}{sign}")
    return f"What would {does}{in_size}, with all else as it is?"
