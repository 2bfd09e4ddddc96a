"""What the result of a problem means, in a few sentences of its own numbers.

Every sentence says only what holds for these numbers: how forces and moment arms compare, which
forces help, and how large the reaction is beside them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from leverstep.course.phrases import capital, listed
from leverstep.course.problem import Question
from leverstep.dialogue.centre_meant import centre_meant
from leverstep.dialogue.compared_sizes import ALIKE, FIGURES, TIMES_FIGURES, called, times
from leverstep.dialogue.further_meaning import further_meaning
from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.force_axes import AXIAL, TRANSVERSE
from leverstep.statics.points import Given
from leverstep.statics.posture import Find
from leverstep.statics.reaction import found_reaction
from leverstep.statics.turn import moment_key
from leverstep.working.writing import plain_number, quantity

_NO_MOMENT = 1e-9
"""A moment below this share of the largest is only what rounding makes of none."""


@dataclass(frozen=True, slots=True)
class _Pull:
    """One force: what it is called, its size in N, and its moment in N·m with its sign."""

    name: str
    size: float
    moment: float

    @property
    def arm(self) -> float:
        """Return its moment arm in metres."""
        return abs(self.moment) / self.size


def meaning(question: Question) -> tuple[str, ...]:
    """Return a sentence or two on what the right result means, then one for each that follows.

    Of several postures they are the first of the first one, and the first of the last one. There
    are fewer where a force is nothing, and nothing is said twice.

    Raises:
        ValueError, ArithmeticError: where these numbers have no working.
    """
    first, last = question.views[0], question.views[-1]
    told = _meaning_of_one(question)
    if first is not last:
        told = (*_meaning_of_one(first)[:1], *_meaning_of_one(last)[:1])
    told = tuple(dict.fromkeys((*told, *(further_meaning(question) if told else ()))))
    return tuple(
        one for one in told if not any(o is not one and o.startswith(one[:-1]) for o in told)
    )


def _meaning_of_one(question: Question) -> tuple[str, ...]:
    """Return what is meant by the posture that is looked at."""
    posture = question.problem.posture
    values = question.right
    if not all(values[force.symbol] > 0 for force in posture.forces if not force.is_handed_on):
        return ()
    if posture.find is Find.TWO_FORCES:
        return tuple(_pair_told(question))
    if posture.seeks_centre:
        return centre_meant(question)
    if not posture.has_moments:
        return tuple(_through_one_point(question))
    return tuple(told for told in (_found(question), _beside_it(question)) if told)


def _found(question: Question) -> str:
    """Return what is meant by what was found from moments."""
    posture = question.problem.posture
    balancing = posture.balancing
    if posture.sharing:
        return _shared(question, posture.sharing)
    if posture.couples:
        return _left_by_couples(question)
    if balancing is None:
        return _left_over(question, _pulls(question))
    values = question.right
    turned = -values[question.key(kinds.SUM)]
    found = _Pull(called(question, balancing), values[balancing.symbol], turned)
    is_place = posture.finds_place(balancing)
    return _balanced(question, found, _pulls(question), is_place=is_place)


def _beside_it(question: Question) -> str:
    """Return what may be said beside what was found, "" for nothing."""
    posture = question.problem.posture
    if resolved := _resolved(question):
        return resolved
    if _reaction(question):
        return _reaction_told(question)
    if posture.sought_angle is not None and posture.balancing is not None:
        return _shortened(question, posture.balancing, posture.sought_angle)
    return "" if posture.couples else _largest(_pulls(question))


def _shared(question: Question, others: Sequence[Force]) -> str:
    """Return how the effort and those that share with it bear the sum of the moments."""
    effort, values = question.problem.posture.effort, question.right
    assert effort is not None, "there is something to share with"
    names = [f"the {question.problem.names[force.symbol]}" for force in (effort, *others)]
    sizes = [_newtons(values[force.symbol]) for force in (effort, *others)]
    moment = _moment(question, abs(values[question.key(kinds.SUM)]))
    return capital(f"{listed(names)} balance {moment} together, with {listed(sizes)}.")


def _pulls(question: Question) -> list[_Pull]:
    """Return what turns the segment, but for what balances it."""
    return [_pull(question, force) for force in question.problem.posture.known_turning]


def _pull(question: Question, force: Force) -> _Pull:
    values = question.right
    return _Pull(called(question, force), values[force.symbol], values[moment_key(force)])


def _balanced(question: Question, found: _Pull, pulls: Sequence[_Pull], *, is_place: bool) -> str:
    """Return how a force balances the others, with its moment arm beside theirs."""
    least = _NO_MOMENT * max(abs(pull.moment) for pull in pulls)
    against = [pull for pull in pulls if pull.moment * found.moment < 0 < abs(pull.moment) - least]
    helping = [pull for pull in pulls if pull.moment * found.moment > 0 < abs(pull.moment) - least]
    if helping:
        return _helped(question, found, (against, helping), is_place=is_place)
    total = sum(pull.size for pull in against)
    mean = _together(against) / total
    ratio = found.size / total
    arm = _arm(ratio, "" if len(against) == 1 else "theirs on average, each counted by its size")
    why = f"so its moment arm has to be {arm}" if is_place else f"since its moment arm is {arm}"
    others = _all([pull.name for pull in against], f"the {len(against)} forces against it")
    arms = f"{_metres(question, found.arm)} against {_metres(question, mean)}"
    return capital(f"the {found.name} is {times(ratio)} {others}, {why}: {arms}.")


def _helped(
    question: Question,
    found: _Pull,
    others: tuple[Sequence[_Pull], Sequence[_Pull]],
    *,
    is_place: bool,
) -> str:
    """Return how much of the moments is left for a force, where others turn the same way.

    `others` are those against it, and those that help.
    """
    against, helping = others
    left = f"{_moment(question, abs(found.moment))} of the {_moment(question, _together(against))}"
    size, arm = _newtons(found.size), _metres(question, found.arm)
    ends = f"with a moment arm of {arm} it is {size}"
    if is_place:
        ends = f"being {size}, it needs a moment arm of {arm}"
    return capital(
        f"{_turning(helping)} the {question.problem.segment} the same way as the {found.name}, "
        f"which is left with {left} to balance: {ends}."
    )


def _shortened(question: Question, force: Force, angle: Given) -> str:
    """Return what the angle that was found makes of the distance of its force."""
    values = question.right
    distance, size = values[force.at.symbol], values[force.symbol]
    arm = abs(values[question.key(kinds.SUM)]) / size
    share = plain_number(arm / distance, TIMES_FIGURES)
    degrees = quantity(values[angle.key], "deg", FIGURES)
    return (
        f"With an angle of {degrees}, the moment arm of the {called(question, force)} is "
        f"{_metres(question, arm)}, {share} of its distance, {_metres(question, distance)}."
    )


def _left_by_couples(question: Question) -> str:
    """Return what is left to balance where couples turn the segment too, and how it is done."""
    problem, values = question.problem, question.right
    posture, last = problem.posture, problem.posture.balancing
    among = listed([f"that of the {problem.names[couple.symbol]}" for couple in posture.couples])
    total = abs(values[question.key(kinds.SUM)])
    left = f"Of all known moments, {among} among them, {_moment(question, total)} is left"
    if last is None:
        is_sum = posture.find is Find.MOMENT_SUM
        ends = "" if is_sum else f", for the muscles about the {problem.axis} to balance"
        return f"{left}{ends}."
    size, name = values[last.symbol], called(question, last)
    held = f"the {name} balances it with {_newtons(size)}"
    return f"{left}: {held} and a moment arm of {_metres(question, total / size)}."


def _left_over(question: Question, pulls: Sequence[_Pull]) -> str:
    """Return what moment the forces leave together, and who balances it."""
    segment, posture = question.problem.segment, question.problem.posture
    total = abs(question.right[question.key(kinds.SUM)])
    one_way = [pull for pull in pulls if pull.moment > 0]
    other_way = [pull for pull in pulls if pull.moment < 0]
    left = _moment(question, total)
    ends = f", {left}, is left"
    if posture.find is not Find.MOMENT_SUM:
        ends = f", {left}, is for the muscles about the {question.problem.axis} to balance"
    if one_way and other_way:
        rest = f"the difference{ends}" if total else "they balance each other"
        here, there = (_moment(question, _together(pulls)) for pulls in (one_way, other_way))
        return capital(
            f"{_turning(one_way)} the {segment} one way with {here}, "
            f"{_turning(other_way)} it the other way with {there}: {rest}."
        )
    of = "The moment" if len(pulls) == 1 else "All moments turn one way: their sum"
    return f"{of}{ends}."


def _all(names: Sequence[str], several: str) -> str:
    """Return what some forces are called together, `several` where their names would be too long.

    One of them is called by its name alone.
    """
    if len(names) == 1:
        return f"the {names[0]}"
    return f"{listed([f'the {name}' for name in names]) if len(names) == 2 else several} together"


def _turning(pulls: Sequence[_Pull]) -> str:
    names = listed([f"the {pull.name}" for pull in pulls])
    return f"{names} {'turns' if len(pulls) == 1 else 'turn'}"


def _together(pulls: Iterable[_Pull]) -> float:
    return sum(abs(pull.moment) for pull in pulls)


def _largest(pulls: Sequence[_Pull]) -> str:
    """Return how the two largest moments compare, by force and by arm; "" for one alone."""
    ordered = sorted(pulls, key=lambda pull: -abs(pull.moment))
    if len(ordered) < 2 or not ordered[1].moment:
        return ""
    first, second = ordered[:2]
    forces, arms = first.size / second.size, first.arm / second.arm
    moments = forces * arms
    return capital(
        f"the {first.name} is {times(forces)} the {second.name}, and its moment arm is "
        f"{times(arms, 'long')} that one's, so its moment is {times(moments)} that of the other."
    )


def _resolved(question: Question) -> str:
    """Return what is resolved along and across the segment, "" where nothing is.

    That is the reaction, or where none is asked for the effort.
    """
    problem, values = question.problem, question.right
    along, across = question.key(AXIAL.reaction), question.key(TRANSVERSE.reaction)
    if along in values and across in values:
        axial, shear = values[along], abs(values[across])
        does = "presses" if axial > 0 else "pulls at"
        return (
            f"Of the {problem.reaction}, {_newtons(abs(axial))} {does} the {problem.segment} "
            f"lengthwise, and {_newtons(shear)} acts across it, as shear."
        )
    effort = problem.posture.effort
    if effort is None or AXIAL.component_key(effort) not in values:
        return ""
    axial = values[AXIAL.component_key(effort)]
    rotary = math.sqrt(max(0.0, values[effort.symbol] ** 2 - axial**2))
    way = "away from" if axial > 0 else "towards"
    return (
        f"Of the {called(question, effort)}, {_newtons(rotary)} acts across the {problem.segment} "
        f"and turns it, and {_newtons(abs(axial))} along it, {way} the {problem.axis}."
    )


def _reaction(question: Question) -> float:
    """Return the size of the reaction in N, 0 where none is worked out."""
    found = found_reaction(question.problem.posture, question.numbers, question.right)
    return 0.0 if found is None else abs(found[1])


def _reaction_told(question: Question) -> str:
    """Return how large the reaction is beside the forces that it balances."""
    problem, values = question.problem, question.right
    size, last, sharing = _reaction(question), problem.posture.balancing, problem.posture.sharing
    others = [force for force in problem.posture.forces if force not in (last, *sharing)]
    if last is not None and not others:  # only couples are balanced
        name = called(question, last)
        return capital(
            f"the {problem.reaction} is as large as the {name}, {_newtons(size)}, "
            "and opposite to it: a couple has no part in the balance of forces."
        )
    total = sum(values[force.symbol] for force in others)
    told = f"the {problem.reaction} is {_newtons(size)}, {times(size / total)} "
    if last is not None and last is problem.posture.effort and len(others) > 1:
        of = "all the loads together"
    else:
        forces = "forces" if last is None else "other forces"
        of = _all([called(question, force) for force in others], f"the {len(others)} {forces}")
    told += f"{of} ({_newtons(total)})"
    if last is None:
        return capital(f"{told}{_why_less(size, total)}.")
    found = (last, *sharing)
    name = listed([f"the {called(question, force)}" for force in found])
    if size > total:
        return capital(f"{told}: it has to balance {name} as well.")
    if math.isclose(size + sum(values[f.symbol] for f in found), total, rel_tol=1e-6):
        return capital(f"{told}: {name} {'make' if sharing else 'makes'} up the rest.")
    return capital(f"{told}, since {name} and the rest partly balance each other.")


def _why_less(size: float, total: float) -> str:
    """Return why forces that are added up make no more than they do together."""
    if math.isclose(size, total, rel_tol=1e-6):
        return ", since all of them point the same way"
    return ", since they do not all point the same way"


def _pair_told(question: Question) -> Iterator[str]:
    """Yield how the two forces found compare, and what they come to beside those that they hold."""
    posture, values = question.problem.posture, question.right
    one, other = sorted(posture.unknown, key=lambda force: -values[force.symbol])
    ratio = values[one.symbol] / values[other.symbol]
    yield capital(
        f"the {called(question, one)} is {times(ratio)} the {called(question, other)}: their "
        f"directions fix how the two share what is to be held."
    )
    held = [force for force in posture.forces if force.magnitude is not None]
    both, total = (sum(values[force.symbol] for force in some) for some in (posture.unknown, held))
    others = _all([called(question, force) for force in held], f"the {len(held)} given forces")
    yield (
        f"Their sizes add up to {_newtons(both)}, {times(both / total)} {others} "
        f"({_newtons(total)}): it is the components that balance, not the sizes."
    )


def _through_one_point(question: Question) -> Iterator[str]:
    """Yield what the reaction or the resultant is beside forces that pass through one point."""
    problem, values = question.problem, question.right
    sizes = sorted((values[force.symbol] for force in problem.posture.forces), reverse=True)
    yield _reaction_told(question)
    least, most = max(0.0, 2 * sizes[0] - sum(sizes)), sum(sizes)
    span = f"{_newtons(least)} to {_newtons(most)}"
    told = f"leave anything from {span} to balance"
    if problem.posture.find is Find.RESULTANT:
        told = f"come to anything from {span} together"
    yield f"It depends on their directions: forces of these sizes can {told}."


def _arm(ratio: float, theirs: str) -> str:
    """Return how a moment arm compares with others whose forces are one `ratio`th of its own."""
    if abs(ratio - 1) < ALIKE:
        return f"about as long as {theirs}" if theirs else "about as long"
    longer = "shorter" if ratio > 1 else "longer"
    told = f"{plain_number(max(ratio, 1 / ratio), TIMES_FIGURES)} times {longer}"
    return f"{told} than {theirs}" if theirs else told


def _newtons(force: float) -> str:
    return quantity(force, "N", FIGURES)


def _metres(question: Question, length: float) -> str:
    return quantity(length, question.problem.posture.unit_of_lines("m"), FIGURES)


def _moment(question: Question, size: float) -> str:
    return quantity(size, question.problem.posture.unit_of_lines("N·m"), FIGURES)
