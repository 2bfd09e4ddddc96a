"""What a result means: each sentence is true, by forces that are worked out by other means."""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from math import isclose

import numpy as np
import pytest
from helpers.bodies import Body
from helpers.equilibrium import Plane
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.dialogue.compared_sizes import ALIKE
from leverstep.dialogue.meaning import meaning
from leverstep.statics.kinds import NET_MOMENT, SUM
from leverstep.statics.posture import Axes, Find, Further, Relation
from scipy import constants as nist

SHELF = load_shelf()
SEEDS = [str(seed) for seed in range(1, 13)]
NUMBER = re.compile(r"(\d+(?:\.\d+)?) (N·m|N·L|N|m|L|times|of|MPa|lbf|kgf|kN|kg|%|W|J)(?!\w)")
SAYS = {
    Relation.STRESS: "each square millimetre bears",
    Relation.BODY_WEIGHTS: "the weight of the body.",
    Relation.OTHER_UNIT: ", the weight of ",
    Relation.FRICTION_NEEDED: "So that nothing slips",
    Relation.FRICTION_ENOUGH: "With the coefficient of",
    Relation.PART_SHARED: "% of the whole",
    Relation.MOMENT_SPED_UP: "To speed",
    Relation.FORCE_AT_ARM: "with half the arm",
    Relation.POWER: "of work in each second",
    Relation.DISTANCE_MOVED: " moves ",
    Relation.SPEED: " moves ",
}
"""Words of the sentence on each that follows; that of a ratio names both."""
TWO, THREE = 0.06, 0.011
"""How far a number of two or three figures may lie off, with the rounding of constants."""


def numbers(told: str) -> list[tuple[float, str]]:
    """Return the numbers of a sentence with what they are of; a count of forces is none."""
    return [(float(number), unit) for number, unit in NUMBER.findall(told)]


def is_near(found: float, expected: float, share: float) -> bool:
    return isclose(found, expected, rel_tol=share, abs_tol=1e-9)


def is_ratio(told: str, ratio: float) -> bool:
    """Return whether a sentence says that one thing is so many times another."""
    if abs(ratio - 1) < 0.9 * ALIKE:
        return told.startswith(("about as", "1.0 ", "0.95", "0.96", "0.97"))
    if told.startswith("about as"):
        return abs(ratio - 1) < 1.1 * ALIKE
    ((said, word), *_) = numbers(told)
    return is_near(said, ratio, TWO) and (word == "times") is (ratio > 1)


def after(told: str, words: str) -> str:
    """Return what follows some words that must be there."""
    before, found, rest = told.partition(words)
    assert found, (words, before)
    return rest


@pytest.mark.parametrize("name", sorted(SHELF.problems))
def test_all_sentences_are_true_for_any_numbers(name: str) -> None:
    for seed in SEEDS:
        question = SHELF.problems[name].question(seed)
        assert not question.trouble
        first, *others = meaning(question)
        for told in (first, *others):
            assert told[0].isupper()
            assert told.endswith(".")
            assert len(told) < 260
        of_further = {
            check_further(view, further, (first, *others))
            for view in question.views
            for further in view.problem.posture.further
        }
        beside = [told for told in others if told not in of_further]
        if not beside:
            assert others
            assert len(question.problem.posture.known_turning) < 2
            check_first(question, first)
            continue
        (second,) = beside
        if question.problem.posture.seeks_centre:
            check_centre(question, first, second)
            continue
        check_first(question.views[0], first)
        if question.problem.stages:
            check_first(question.views[-1], second)
            continue
        check_second(question, second)


def check_centre(question: Question, first: str, second: str) -> None:
    posture, problem = question.problem.posture, question.problem
    body = Body(posture, question.numbers)
    masses = {load.symbol: body.kilograms(load) for load in posture.loads}
    heaviest = max(masses, key=lambda symbol: masses[symbol])
    assert f"than the {problem.names[heaviest]}, with" in first
    ((share, unit),) = numbers(first)
    assert unit == "%"
    assert share == pytest.approx(100 * masses[heaviest] / sum(masses.values()), rel=0.05)
    places, centre = [body.part(load)[0] for load in posture.loads], body.centre()[0]
    said = [abs(value) for value, _ in numbers(second)]
    if posture.support is None:
        mean = sum(places) / len(places)
        assert said == pytest.approx([abs(mean), abs(centre)], rel=THREE)
        apart = bool(abs(mean - centre) >= 0.05 * (max(places) - min(places)))
        assert ("draw it" in second) is apart
        return
    left, right = (body.metres(edge) for edge in posture.support.distances)
    assert said == pytest.approx([min(abs(centre - left), abs(right - centre))], rel=THREE)
    assert ("can move" in second) is bool(left < centre < right)


def check_first(question: Question, told: str) -> None:
    posture = question.problem.posture
    if any(couple.before for couple in posture.couples):
        left = abs(question.right[question.key(SUM)])
        assert [value for value, _ in numbers(told)] == pytest.approx([left], rel=THREE)
        return
    solved = Plane.of(question).solved()
    moments = {symbol: moment for symbol, (_, moment) in solved.items()}
    if posture.find is Find.TWO_FORCES:
        one, other = sorted((solved[f.symbol][0] for f in posture.unknown), reverse=True)
        assert is_ratio(after(told, " is "), one / other)
        return
    if not posture.has_moments:
        check_reaction(question, told)
        return
    if posture.sharing:
        assert posture.effort is not None
        sharing = [solved[force.symbol] for force in (posture.effort, *posture.sharing)]
        total = abs(sum(moment for _, moment in sharing))
        said = [value for value, _ in numbers(told)]
        assert said == pytest.approx([total, *(size for size, _ in sharing)], rel=THREE)
        return
    unknown = posture.balancing
    known = [force.symbol for force in posture.turning if force is not unknown]
    if posture.couples:
        left = abs(sum(moments[symbol] for symbol in known) + Plane.of(question).turned())
        expected = [left]
        if unknown is not None:
            size = solved[unknown.symbol][0]
            expected += [size, left / size]
        assert [value for value, _ in numbers(told)] == pytest.approx(expected, rel=THREE)
        assert all(question.problem.names[one.symbol] in told for one in posture.couples)
        return
    if unknown is None:
        ways = [sum(abs(moments[s]) for s in known if moments[s] * way > 0) for way in (1, -1)]
        left = abs(ways[0] - ways[1])
        expected = [*(sorted(filter(None, ways)) if all(ways) else []), left]
        said = [value for value, unit in numbers(told) if unit in ("N·m", "N·L")]
        assert sorted(said) == pytest.approx(sorted(expected), rel=THREE)
        assert ("the difference" in told) is all(ways)
        return
    size, moment = solved[unknown.symbol]
    arm = abs(moment) / size
    against = [symbol for symbol in known if moments[symbol] * moment < 0]
    helping = [symbol for symbol in known if moments[symbol] * moment > 0]
    whole = sum(abs(moments[symbol]) for symbol in against)
    if helping:
        names = question.problem.names
        head = told.partition("the same way as")[0]
        assert all(f"of the {names[symbol]}" in head for symbol in helping)
        assert not any(f"of the {names[symbol]} " in head for symbol in against)
        *of_moments, one, other = [value for value, _ in numbers(after(told, "left with"))]
        assert of_moments == pytest.approx([abs(moment), whole], rel=THREE)
        assert sorted((one, other)) == pytest.approx(sorted((arm, size)), rel=THREE)
        return
    total = sum(solved[symbol][0] for symbol in against)
    ratio, mean = size / total, whole / total
    assert is_ratio(after(told, " is "), ratio)
    assert is_near(ratio, mean / arm, 1e-9)
    of_arms = after(
        told, "its moment arm has to be " if posture.finds_place(unknown) else "moment arm is "
    )
    longer = max(ratio, 1 / ratio)
    assert is_ratio(of_arms, longer)
    if longer > 1 + 1.1 * ALIKE:
        assert ("times shorter" in of_arms) is (ratio > 1)
    arms = [value for value, unit in numbers(after(told, ": ")) if unit in ("m", "L")]
    assert arms == pytest.approx([arm, mean], rel=THREE)
    assert ("on average" in told) is (len(against) > 1)


def check_second(question: Question, told: str) -> None:
    posture = question.problem.posture
    solved = Plane.of(question).solved()
    if posture.find is Find.TWO_FORCES:
        unknown = {force.symbol for force in posture.unknown}
        both, total = (
            sum(size for name, (size, _) in solved.items() if (name in unknown) is found)
            for found in (True, False)
        )
        said = [value for value, unit in numbers(told) if unit == "N"]
        assert said == pytest.approx([both, total], rel=THREE)
        assert is_ratio(after(told, " N, "), both / total)
    elif not posture.has_moments:
        sizes = sorted(size for size, _ in solved.values())
        least, most = [value for value, _ in numbers(told)]
        assert most == pytest.approx(sum(sizes), rel=THREE)
        assert least == pytest.approx(
            max(0, sizes[-1] - sum(sizes[:-1])), rel=THREE, abs=0.01 * most
        )
        assert least * (1 - THREE) <= Plane.of(question).reaction() <= most * (1 + THREE)
    elif Axes.SEGMENT in posture.resolved:
        check_resolved(question, told)
    elif posture.reaction and posture.couples and len(solved) == 1:
        ((size, _),) = solved.values()
        assert [value for value, _ in numbers(told)] == pytest.approx([size], rel=THREE)
        assert "opposite" in told
    elif posture.reaction:
        check_reaction(question, told)
    elif posture.sought_angle is not None:
        unknown = posture.balancing
        size, moment = solved[unknown.symbol]
        arm, distance = abs(moment) / size, Plane.of(question).distance(unknown.at)
        assert f"of {question.numbers[posture.sought_angle.key]:.1f}" in told
        said = [value for value, _ in numbers(told)]
        assert said == pytest.approx([arm, arm / distance, distance], rel=TWO)
    else:
        found = {force.symbol for force in (posture.balancing, *posture.sharing) if force}
        known = [pair for symbol, pair in solved.items() if symbol not in found]
        (first, _), (second, _) = sorted(known, key=lambda one: -abs(one[1]))[:2]
        one, other = sorted((abs(moment) for _, moment in known), reverse=True)[:2]
        assert is_ratio(after(told, " is "), first / second)
        assert is_ratio(after(told, "moment arm is "), (one / first) / (other / second))
        assert is_ratio(after(told, "its moment is "), one / other)


def check_resolved(question: Question, told: str) -> None:
    """Check what lies along the segment and across it, by projections of the vectors."""
    posture, plane = question.problem.posture, Plane.of(question)
    pulls = {
        f.symbol: np.multiply(plane.solved()[f.symbol][0], plane.unit(f)) for f in posture.forces
    }
    if posture.reaction:
        force, into = -sum(pulls.values()), "presses the"
    else:
        assert posture.effort is not None
        force, into = pulls[posture.effort.symbol], "away from"
    along, across = float(np.dot(force, plane.along())), float(np.dot(force, plane.upper()))
    sizes = [value for value, _ in numbers(told)]
    told_first = (along, across) if posture.reaction else (across, along)
    assert sizes == pytest.approx([abs(one) for one in told_first], rel=THREE)
    assert (into in told) is (along > 0)


def size_of(question: Question, key: str) -> float:
    """Return the size of a force or of the reaction in newtons, by vectors; of a net moment too."""
    for view in question.views:
        plane = Plane.of(view)
        solved = plane.solved()
        if key in solved:
            return solved[key][0]
        if key == view.key(NET_MOMENT):
            return abs(sum(moment for _, moment in solved.values()) + plane.turned())
        for said in view.problem.posture.further:
            if key == said.symbol and said.relation is Relation.MOMENT_SPED_UP:
                inertia, quickly = (question.numbers[given.key] for given in said.givens)
                held = sum(moment for _, moment in solved.values()) + plane.turned()
                return abs(said.turns * inertia * quickly - held)
    return Plane.of(question).reaction()


def touching(question: Question, said: Further) -> np.ndarray:
    """Return what holds or slips at a support, right and up: a force of its own or all in sum."""
    plane, posture = Plane.of(question), question.problem.posture
    own = [force for force in posture.forces if force.symbol == said.of]
    if own:
        return np.multiply(plane.solved()[said.of][0], plane.unit(own[0]))
    return np.sum(pulls_of(question), axis=0)


def called(question: Question, key: str) -> str:
    """Return what a force or the reaction is named in the problem."""
    return question.problem.names.get(key, question.problem.reaction)


def check_further(question: Question, said: Further, sentences: tuple[str, ...]) -> str:
    """Hold the sentence on something that follows to the forces, and return it."""
    if said.relation is Relation.RATIO:
        of, over = called(question, said.of), called(question, said.over)
        told = next(s for s in sentences if re.search(rf"{of} is .* the .*{over}[.,]", s))
        ratio = size_of(question, said.of) / size_of(question, said.over)
        assert is_ratio(after(told, f"{of} is "), ratio)
        return told
    told = next(s for s in sentences if SAYS[said.relation] in s)
    if said.relation is Relation.OTHER_UNIT:
        told = next(s for s in sentences if f" {said.unit}, the weight of " in s)
    found = [value for value, _ in numbers(told)]
    given = {one.key: question.numbers[one.key] for one in said.givens}
    size = size_of(question, said.of)
    match said.relation:
        case Relation.MOMENT_SPED_UP:
            inertia, quickly = given.values()
            if said.others[0].unit == "deg/s²":
                quickly = np.radians(quickly)
            assert found == pytest.approx([inertia * quickly], rel=THREE)
        case Relation.BODY_WEIGHTS:
            posture = question.problem.posture
            assert posture.body is not None
            weight = question.numbers[posture.body.key] * question.accepted["g"][0]
            often = size / weight * (100 if said.unit == "%" else 1)
            assert found == pytest.approx([often], rel=THREE)
        case Relation.FRICTION_NEEDED | Relation.FRICTION_ENOUGH:
            across, upward = touching(question, said)
            needed = abs(across / upward)
            numbers_said = [float(one) for one in re.findall(r"\d+\.\d+", told)]
            if said.relation is Relation.FRICTION_NEEDED:
                assert numbers_said == pytest.approx([needed], rel=THREE)
                return told
            (coefficient,) = given.values()
            assert numbers_said == [coefficient]
            assert told.endswith(" holds." if coefficient >= needed else " slips.")
        case Relation.FORCE_AT_ARM:
            (centimetres,) = given.values()
            force = 100 * size / centimetres
            assert found == pytest.approx([force, 2 * force], rel=THREE)
        case Relation.POWER:
            (quickly,) = given.values()
            if said.givens[0].unit == "deg/s":
                quickly = np.radians(quickly)
            assert found == pytest.approx([size * quickly] * 2, rel=THREE)
        case Relation.STRESS:
            (area,) = given.values()
            square = 100 * area if said.givens[0].unit == "cm²" else area  # in mm²
            assert found == pytest.approx([size / square] * 2, rel=THREE)
        case Relation.OTHER_UNIT:
            units = {"lbf": nist.pound_force, "kgf": nist.kilogram_force, "kN": nist.kilo}
            expected = [size, size / units[said.unit], size / question.accepted["g"][0]]
            assert found == pytest.approx(expected, rel=THREE)
        case Relation.PART_SHARED:
            own, *others = given.values()
            share = own / (own + sum(others)) if others else own
            assert found == pytest.approx([size * share, 100 * share], rel=0.05)
        case _:
            ratio = size_of(question, said.over) / size
            assert told.startswith("The " + called(question, said.of if ratio > 1 else said.over))
            assert is_ratio(after(told, "moves "), max(ratio, 1 / ratio))
    return told


def pulls_of(question: Question) -> list[np.ndarray]:
    """Return all forces that act, as vectors in newtons."""
    plane = Plane.of(question)
    solved = plane.solved()
    forces = question.problem.posture.forces
    return [np.multiply(solved[f.symbol][0], plane.unit(f)) for f in forces]


def check_reaction(question: Question, told: str) -> None:
    posture, plane = question.problem.posture, Plane.of(question)
    solved, size = plane.solved(), plane.reaction()
    unknown = posture.balancing
    found = (
        {} if unknown is None else {f.symbol for f in (unknown, *question.problem.posture.sharing)}
    )
    others = {s: one for s, (one, _) in solved.items() if s not in found}
    total = sum(others.values())
    assert told.startswith(f"The {question.problem.reaction} is ")
    newtons = [value for value, unit in numbers(told) if unit == "N"]
    assert newtons == pytest.approx([size, total], rel=THREE)
    assert is_ratio(after(told, " N, "), size / total)
    whole = sum(one for one, _ in solved.values())
    if "as well" in told:
        assert size > total * (1 - THREE)
    elif "makes up the rest" in told:
        assert unknown is not None
        assert size + solved[unknown.symbol][0] == pytest.approx(total, rel=THREE)
    elif "point the same way" in told:
        assert ("not all" in told) is (size < total * (1 - 1e-4))
    else:
        assert "partly balance each other" in told
        assert size < whole
        assert size < total * (1 + THREE)


def test_a_muscle_against_one_load_is_told_by_its_arm() -> None:
    question = SHELF.problems["finger-key-press"].question("7")
    assert meaning(question)[0] == (
        "The force of the flexor tendon is 4.2 times the force of the key on the fingertip, since "
        "its moment arm is 4.2 times shorter: 0.00400 m against 0.0169 m."
    )


def test_what_helps_is_no_load() -> None:
    question = SHELF.problems["plain-seesaw"].question("7")
    first, _ = meaning(question)
    assert first.startswith("The weight of the younger child turns the board the same way as")
    assert abs(question.right[SUM.key]) == pytest.approx(369, abs=1)


def test_the_sentences_differ_where_the_problems_do() -> None:
    """None is the same for all: they come from the forces of each problem.

    Two problems of a leg have the same shares of it, which the table tells.
    """
    told = [one for name in SHELF.problems for one in meaning(SHELF.problems[name].question("7"))]
    again = {one for one, times in Counter(told).items() if times > 1}
    assert len(told) >= 2 * len(SHELF.problems)
    assert {re.sub(r"\d+", "", one) for one in again} <= {
        "No part counts more for this centre of mass than the thigh, with  % of the total."
    }


def test_a_force_of_nothing_is_compared_with_nothing() -> None:
    question = SHELF.problems["plain-door-push"].question("7")
    given = question.problem.posture.loads[0].magnitude
    assert given is not None
    assert meaning(question.with_given(given.key, Fraction(0))) == ()
