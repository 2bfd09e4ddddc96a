"""Slips: each is named at every place where it can be made, and chance is rarely taken for one."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest
from helpers.material import CATALOGUE
from helpers.source import TESTS
from helpers.variety import VARIED
from leverstep.course.faults import FileError
from leverstep.course.places import shipped
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.slips.catalogue import load_catalogue
from leverstep.slips.explained import explained
from leverstep.slips.finding import Explanation
from leverstep.slips.hypotheses import Hypothesis, hypotheses
from leverstep.slips.ladder import hints
from leverstep.slips.telling import tell
from leverstep.statics import kinds
from leverstep.statics.choices import Choice
from leverstep.statics.kinds import KINDS, AnswerForm
from leverstep.statics.step import Draft, Step
from leverstep.statics.turn import arm_key, component_key, moment_sign, to_segment
from leverstep.working.rules import Rung
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working
from leverstep.working.writing import formula, quantity, value_text

# Beside the problems that ship, two of this folder bring in the other units, forces that are
# given, and the method of components with distances in feet.
PROBLEMS = load_shelf([shipped("problems"), TESTS / "problems"]).problems
SEEDS = ("1",)
FIGURES = 5
NOTHING = 1e-12
"""A value less than this is 0, but for the order in which a sum was rounded."""
WORDS = tuple(name for name, kind in KINDS.items() if kind.answer is AnswerForm.WORD)

EQUATIONS = tuple(name for name, kind in KINDS.items() if kind.is_equation)

Changes = Iterable[tuple[Choice, float]]

varied_problems = pytest.mark.parametrize("name", VARIED)


def question_of(name: str, seed: str = "1") -> Question:
    return PROBLEMS[name].question(seed)


def right_entry(question: Question, step: Step) -> str:
    """Return the right entry of a step, with more figures than anyone types."""
    if step.kind.is_equation:
        return formula(question, step)
    value = question.graph.values(question.numbers, {})[step.key]
    return value_text(step, value) if step.kind.name in WORDS else quantity(value, step.unit, 8)


def at_each_step(question: Question) -> Iterator[tuple[Working, Step]]:
    """Yield a working at each step in turn, with all lines before it right."""
    working = Working(question)
    for step in working.steps:
        yield working, step
        assert working.enter(step.key, right_entry(question, step)).outcome is Outcome.RIGHT


def try_out(working: Working, step: Step, text: str) -> Verdict:
    """Return the verdict on an entry, and take the entry back."""
    verdict = working.enter(step.key, text)
    working.lines.pop(step.key, None)
    return verdict


def value_with(question: Question, step: Step, changes: Changes) -> float | None:
    """Return what a step comes to with some choices made otherwise, None where it is endless."""
    try:
        value = question.graph.values(question.numbers, {}, choices=dict(changes))[step.key]
    except ArithmeticError:
        return None
    return value if math.isfinite(value) else None


def gives(question: Question, step: Step, explanation: Explanation, value: float) -> bool:
    """Return whether an explanation comes to a value, within what is lost on the way.

    Early rounding is no number but a question; the tests of rounding have it.
    """
    first = explanation.findings[0]
    if first.line:
        exact = question.graph.values(question.numbers, {})
        return math.isclose(exact[first.line], value, rel_tol=1e-3)
    if CATALOGUE.slips[first.slip].rounding:
        return not explanation.sure
    if first.miscopied:
        copied = {**question.numbers, first.miscopied: float(first.copied)}
        found = question.graph.values(copied, {})[step.key]
        return not explanation.sure and math.isclose(abs(found), abs(value), rel_tol=1e-4)
    changes = [change for finding in explanation.findings for change in finding.changes]
    found = value_with(question, step, changes)
    if found is not None and step.kind.is_size:
        found, value = abs(found), abs(value)
    return found is not None and math.isclose(found, value, rel_tol=5e-4)


def explanations(verdict: Verdict) -> tuple[Explanation, ...]:
    """Return the explanations of a wrong line."""
    return explained(verdict, CATALOGUE).explanations


def slips_named(verdict: Verdict) -> list[set[str]]:
    """Return the ids of the slips of each explanation."""
    return [{finding.slip for finding in e.findings} for e in explanations(verdict)]


@dataclass(frozen=True)
class Diagnosis:
    """A slip made at a step, what was typed for it, and what came of it."""

    question: Question
    step: Step
    made: Hypothesis
    value: float
    verdict: Verdict


@cache
def diagnoses(name: str) -> tuple[Diagnosis, ...]:
    """Return what comes of each slip of the catalogue at each place of a problem."""
    found = []
    for seed in SEEDS:
        question = question_of(name, seed)
        for working, step in at_each_step(question):
            if not step.kind.is_number:
                continue
            for made in hypotheses(question.derivation, CATALOGUE):
                value = value_with(question, step, made.changes) if made.step == step.key else None
                if value is not None:
                    typed = quantity(value, step.unit, FIGURES)
                    verdict = try_out(working, step, typed)
                    found.append(Diagnosis(question, step, made, value, verdict))
    return tuple(found)


@varied_problems
def test_a_slip_is_named_or_one_that_gives_the_same_number(name: str) -> None:
    """Whatever slip is made, it is named, or only slips that come to the same value are."""
    for one in diagnoses(name):
        if one.verdict.outcome is Outcome.RIGHT:
            continue
        typed = (one.step.key, one.made.slip.id, one.verdict.text)
        assert one.verdict.outcome is Outcome.WRONG, typed
        assert explanations(one.verdict), typed
        for explanation in explanations(one.verdict):
            assert gives(one.question, one.step, explanation, one.value), (typed, explanation)


def test_most_slips_are_named_themselves() -> None:
    """Slips that come to the same number as a commoner one are few."""
    made = [d for name in VARIED for d in diagnoses(name) if d.verdict.outcome is Outcome.WRONG]
    named = [d for d in made if {d.made.slip.id} in slips_named(d.verdict)]
    assert len(named) >= 0.95 * len(made)


def test_few_slips_hide_in_the_accepted_band() -> None:
    """Hardly any slip comes so near to the right value that it passes for it."""
    made = [d for name in VARIED for d in diagnoses(name)]
    hidden = [d for d in made if d.verdict.outcome is Outcome.RIGHT]
    assert len(hidden) <= 0.01 * len(made)
    values = [d.question.graph.values(d.question.numbers, {})[d.step.key] for d in hidden]
    assert all(abs(d.value / v - 1) < 0.03 for d, v in zip(hidden, values, strict=True))


def test_each_slip_of_the_catalogue_is_met_and_named() -> None:
    """Each slip that changes a value is named at least once over the varied problems."""
    named = {
        d.made.slip.id
        for name in VARIED
        for d in diagnoses(name)
        if {d.made.slip.id} in slips_named(d.verdict)
    }
    for_values = {
        slip.id
        for slip in CATALOGUE.slips.values()
        if slip.changes and not set(slip.kinds) <= {*EQUATIONS, *WORDS}
    }
    assert named == for_values


def equation_with(question: Question, changes: Changes) -> str:
    """Return the moment equation with some choices of its terms made otherwise."""
    posture = question.problem.posture
    draft = Draft(posture, question.numbers)
    forces = {force.symbol: force for force in posture.forces}
    terms = []
    for force in posture.forces:
        factor, arm = float(moment_sign(draft, force)), arm_key(draft, force)
        size = component_key(draft, force)
        length = "" if posture.length is None else posture.length.symbol
        # A length along the segment may be turned as the arm is, and a mass as the force is.
        exact = question.graph.values(question.numbers, {})
        turned_arm = f"*{exact[arm] / exact.get(force.at.symbol, 1.0):.12f}"
        part = f"*{exact[size] / exact[force.symbol]:.12f}"
        for choice, value in changes:
            if choice.about != force.symbol:
                continue
            match choice.kind:
                case "other_arm":
                    arm = arm_key(draft, forces[choice.other])
                case "from_far_end":
                    arm = f"({length} - {force.at.symbol})" + (turned_arm if choice.other else "")
                case "whole_length":
                    arm = length + (turned_arm if choice.other else "")
                case "arm_power":
                    arm = ""
                case "other_function" | "trig_again":
                    turn = to_segment(draft, force)
                    assert turn is not None
                    held = question.graph.values(question.numbers, {}) | question.numbers
                    radians = math.radians(held[turn.angle])
                    right, other = math.sin(radians), math.cos(radians)
                    if turn.sine == "cos":
                        right, other = other, right
                    by = right if choice.kind == "trig_again" else other / right
                    arm += f"*{by:.12f}"
                case "given_used":
                    size = force.mass_key + (part if choice.other else "")
                case "angle_ignored" if posture.by_components:
                    size = force.symbol
                case "angle_ignored":
                    arm = force.at.symbol
                case _:
                    factor *= value
        if factor:
            terms.append(f"{'-' if factor < 0 else '+'} {size}{'*' if arm else ''}{arm}")
    for couple in posture.couples:
        factor, arm = float(couple.turns * posture.positive), ""
        for choice, value in changes:
            if choice.about == couple.symbol and choice.kind == "couple_arm":
                arm = f"*{arm_key(draft, forces[choice.other])}"
            elif choice.about == couple.symbol:
                factor *= value
        if factor:
            terms.append(f"{'-' if factor < 0 else '+'} {couple.symbol}{arm}")
    return " ".join(terms) + " = 0"


@varied_problems
def test_each_wrong_term_of_the_equation_is_named(name: str) -> None:
    """A term with the other sign, another arm, or none is told as such."""
    for question in question_of(name).views:
        posture = question.problem.posture
        if posture.balancing is None:
            assert all(
                step.kind.name != "equation" or step.mark != posture.mark
                for step in question.derivation.steps
            )
            continue
        working = Working(question)
        step = working.step(posture.key(kinds.EQUATION))
        found = hypotheses(question.derivation, CATALOGUE)
        made = [h for h in found if h.step == step.key and len(h.changes) == 1]
        assert "sign-of-a-moment" in {h.slip.id for h in made}
        assert ("effort-left-out" in {h.slip.id for h in made}) == (posture.effort is not None)
        for one in made:
            _assert_is_named(working, step, one)


def _assert_is_named(working: Working, step: Step, one: Hypothesis) -> None:
    """Assert that a slip in one term of an equation is told as such, where it differs."""
    question = working.question
    posture = question.problem.posture
    kind = one.changes[0][0].kind
    terms = len(posture.turning) + len(posture.couples)
    if terms == 2 and kind in ("flip", "angle_ignored", "trig_again"):
        return  # of two terms, either may have the slip: the next test has that
    if kind == "other_function" and equation_with(question, one.changes).count("*1.000000"):
        return  # at 45° there is no difference
    verdict = try_out(working, step, equation_with(question, one.changes))
    assert verdict.outcome is Outcome.WRONG
    assert slips_named(verdict) == [{one.slip.id}]
    if len(posture.turning) == 2 and kind == "other_function":
        return  # sine for cosine in one term is cosine for sine in the other
    assert explanations(verdict)[0].findings[0].changes == one.changes


def test_of_two_terms_one_sign_is_wrong() -> None:
    """With one load and the effort, two equal signs are one wrong sign, whichever is meant."""
    question = question_of("plain-crowbar")
    working = Working(question)
    step = working.step("equation")
    for choice in (c for c in step.choices if c.kind == "flip"):
        verdict = try_out(working, step, equation_with(question, [(choice, -1.0)]))
        assert slips_named(verdict) == [{"sign-of-a-moment"}]


@varied_problems
def test_a_wrong_class_or_direction_is_told_why(name: str) -> None:
    """Each wrong choice of words has a reason."""
    question = question_of(name)
    for working, step in at_each_step(question):
        if step.kind.name not in WORDS:
            continue
        right = right_entry(question, step)
        every = ("inside", "outside")
        if step.kind.name == "class":
            every = ("first", "second", "third")
        if step.kind.words == "direction":
            upward, across = ("up", "down"), ("left", "right")
            both = [f"{one} and {other}" for one in upward for other in across]
            every = (*both, *upward, *across) if " and " in right else upward
        if step.kind.name == "axial_effect":
            every = ("compression", "tension")
        if step.kind.name == "friction_enough":
            every = ("holds", "slips")
        for text in every:
            verdict = try_out(working, step, text)
            assert (verdict.outcome is Outcome.RIGHT) == (text == right)
            assert verdict.outcome is Outcome.RIGHT or explanations(verdict), (step.key, text)


TOLD = [
    # what is typed in seed 4 on right lines, and what is said of it
    ("elbow-full-pail", "W_f", "17.0 N", "10 used for g"),
    ("elbow-full-pail", "W_f", "16.68 kg", "the number fits in N, but the unit written is kg"),
    ("elbow-full-pail", "W_l", "97.9 lbf", "the number fits in N, but the unit written is lbf"),
    ("elbow-full-pail", "W_f", "-16.68 N", "a size with a minus sign"),
    ("elbow-full-pail", "W_f", "97.9 N", "the value of another line"),
    ("elbow-full-pail", "W_l", "m_l*9.81 N", "not converted to kilograms"),
    ("elbow-full-pail", "L", "0.0265 m", "a power of ten"),
    ("elbow-full-pail", "F_m", "781.3 N", "the sign of one moment (forearm and hand, or pail)"),
    ("plain-seesaw", "F_h", "343.8 N", "the sign of one moment (older child, or younger child)"),
    ("elbow-full-pail", "MA", "12.52", "a power of ten"),
    ("elbow-tilted-forearm", "gamma_m", "22 deg", "the angle to the other line"),
    ("elbow-tilted-forearm", "gamma_m", "112 deg", "the larger of the two angles"),
    ("knee-seated-extension", "M_s", "-7.262 N m", "the sine or cosine used twice"),
    ("knee-seated-extension", "R", "273.9 N", "one component in place of the whole"),
    ("knee-seated-extension", "R", "114649 N", "the square root forgotten"),
    ("knee-seated-extension", "phi_R", "28 deg", "the angle of another line"),
    ("knee-seated-extension", "R_y", "71.1 N", "left out of the reaction (knee extensors)"),
    ("knee-seated-extension", "R_y", "0 N", "no slip we know explains it"),
    (
        "knee-seated-extension",
        "equation",
        "F_m r_m = W_s d_s + W_c d_c",
        "the angle left out (lower leg and foot; cuff)",
    ),
    (
        "elbow-full-pail",
        "equation",
        "F_m d_m = W_f L + W_l d_l",
        "the whole length in place of the arm",
    ),
    (
        "neck-head-upright",
        "equation",
        "F_m*d_m + W_h*d_h = 0",
        "the sign of one moment (head, or neck extensors)",
    ),
]


@pytest.mark.parametrize(("name", "key", "text", "said"), TOLD)
def test_what_is_said_of_common_wrong_lines(name: str, key: str, text: str, said: str) -> None:
    """The sentence on a wrong line names what a teacher would name."""
    for working, step in at_each_step(question_of(name, "4")):
        if step.key == key:
            assert said in tell(working, working.enter(key, text), CATALOGUE)
            return
    pytest.fail(f"no line {key}")


@pytest.mark.parametrize(
    ("earlier", "key", "text", "said"),
    [
        ({"W_l": "240 N"}, "MA", "6.657", "the ratio upside down"),
        ({"W_l": "240 N"}, "M_l", "17.13 N m", "the sign of one moment"),
        ({"W_l": "240 N"}, "R_y", "368.4 N", "the sign of the reaction"),
        ({"W_f": "1.25 N"}, "M_sum", "19.94 N m", "all signs the wrong way round"),
    ],
)
def test_a_slip_is_found_where_a_wrong_earlier_line_was_not_used(
    earlier: dict[str, str], key: str, text: str, said: str
) -> None:
    """A student may go on with the right value of a line that stands wrong, and slip then."""
    question = question_of("elbow-full-pail", "7")
    working = Working(question)
    for step in working.steps:
        if step.key == key:
            break
        working.enter(step.key, earlier.get(step.key) or right_entry(question, step))
    assert said in tell(working, working.enter(key, text), CATALOGUE)


def test_a_slip_on_a_line_not_written_is_told_with_its_line() -> None:
    """Where only one line is looked at, the slip may lie on another."""
    question = question_of("elbow-full-pail", "4")
    working = Working(question)
    verdict = working.enter("M_l", "-84.2 N m")
    assert tell(working, verdict, CATALOGUE) == (
        "Not yet. It looks like this slip: not converted to kilograms, on the line W_l."
    )


@varied_problems
def test_rounding_too_early_is_asked_about(name: str) -> None:
    """A value made from two-figure values on the way is asked about, unless it passes as right."""
    question = question_of(name)
    slip = CATALOGUE.slips["rounded-early"]
    exact = question.graph.values(question.numbers, {})
    named = 0
    for working, step in at_each_step(question):
        used = [use for use in step.uses if use in exact]
        if step.kind.name not in slip.kinds or not used:
            continue
        cut = {use: float(f"{exact[use]:.2g}") for use in used}
        value = question.graph.values(question.numbers, {}, own=cut)[step.key]
        verdict = try_out(working, step, quantity(value, step.unit, FIGURES))
        if verdict.outcome is Outcome.WRONG:
            assert explanations(verdict), (step.key, verdict.text)
            named += {slip.id} in slips_named(verdict)
    assert named or all(
        math.isclose(float(f"{exact[use]:.2g}"), exact[use], rel_tol=0.03)
        for step in question.derivation.asked
        if not step.kind.is_equation
        for use in step.uses
        if use in exact
    )


def pairs_at(question: Question, step: Step) -> list[tuple[Hypothesis, Hypothesis]]:
    """Return each two different slips that can be made at once at a step."""
    here = [
        h
        for h in hypotheses(question.derivation, CATALOGUE)
        if {choice.step for choice, _ in h.changes} == {step.key}
    ]
    return [
        (one, other)
        for one, other in itertools.combinations(here, 2)
        if one.slip.id != other.slip.id
        and not {c for c, _ in one.changes} & {c for c, _ in other.changes}
    ]


@varied_problems
def test_two_slips_at_once_are_named(name: str) -> None:
    """Two slips are told together, or what comes to the same number more simply."""
    rng = random.Random(7)
    question = question_of(name)
    together = told = 0
    for working, step in at_each_step(question):
        if not step.kind.is_number:
            continue
        pairs = pairs_at(question, step)
        for one, other in rng.sample(pairs, min(3, len(pairs))):
            value = value_with(question, step, one.changes + other.changes)
            if value is None or abs(value) < NOTHING:
                continue
            verdict = try_out(working, step, quantity(value, step.unit, FIGURES))
            if verdict.outcome is Outcome.RIGHT:
                continue  # the two make up for each other
            assert explanations(verdict), (step.key, one, other)
            assert all(gives(question, step, e, value) for e in explanations(verdict))
            told += 1
            together += {one.slip.id, other.slip.id} in slips_named(verdict)
    assert together >= told / 2


def test_two_slips_are_told_in_one_sentence() -> None:
    """The sentence on a wrong moment names both the sign and the distance left in centimetres."""
    question = question_of("elbow-full-pail")
    for working, step in at_each_step(question):
        if step.key == "M_l":
            verdict = working.enter("M_l", "2402.4 N·m")
            told = tell(working, verdict, CATALOGUE)
            assert "the sign of one moment" in told
            assert "the distance not in metres" in told
            assert len(hints(working, "M_l", CATALOGUE)) == len(Rung)


def test_slips_on_a_line_not_written_are_looked_for() -> None:
    """Where the weight was never written, its slip is found in the moment, with one made there."""
    question = question_of("elbow-full-pail")
    changes = [
        change
        for h in hypotheses(question.derivation, CATALOGUE)
        if (h.slip.id, h.step) in {("gravity-forgotten", "W_l"), ("sign-of-a-moment", "M_l")}
        for change in h.changes
    ]
    working = Working(question)
    step = working.step("M_l")
    value = value_with(question, step, changes)
    assert value is not None
    verdict = working.enter("M_l", quantity(value, step.unit, FIGURES))
    assert {"gravity-forgotten", "sign-of-a-moment"} in slips_named(verdict)


@pytest.mark.parametrize("figures", [3, 4])
def test_chance_is_rarely_taken_for_a_slip(figures: int) -> None:
    """Of random wrong values, at most one in fifty is told surely, and one in thirty asked."""
    rng = random.Random(figures)
    tried = sure = asked = 0
    for name in VARIED:
        question = question_of(name)
        exact = question.graph.values(question.numbers, {})
        for working, step in at_each_step(question):
            if not step.kind.is_number:
                continue
            for _ in range(3):
                spread = math.exp(rng.uniform(-3, 3)) * rng.choice((1, -1))
                typed = quantity(exact[step.key] * spread, step.unit, figures)
                verdict = try_out(working, step, typed)
                if verdict.outcome is Outcome.WRONG:
                    tried += 1
                    asked += bool(explanations(verdict))
                    sure += any(e.sure for e in explanations(verdict))
    assert tried > 1000
    assert sure <= tried / 50
    assert asked <= tried / 30


@pytest.mark.parametrize("name", ["elbow-full-pail", "plain-seesaw", "knee-seated-extension"])
def test_an_equation_with_other_arms_is_never_right(name: str) -> None:
    """Arms made of sums and differences of the problem's lengths are wrong, as they fall."""
    rng = random.Random(5)
    question = question_of(name)
    posture = question.problem.posture
    draft = Draft(posture, question.numbers)
    names = [d.symbol for d in posture.distances]
    working = Working(question)
    for _ in range(200):
        terms = []
        changed = rng.choice(posture.turning)
        for force in posture.turning:
            arm, sign = arm_key(draft, force), "-" if moment_sign(draft, force) < 0 else "+"
            if force is changed:
                one, two, three = (rng.choice(names) for _ in range(3))
                arm = f"({one} {rng.choice('+-')} {two} {rng.choice('+-')} {three})"
                if sorted((one, two, three)).count(arm_key(draft, force)) and one == three:
                    continue  # it may come to the right arm after all
            terms.append(f"{sign} {component_key(draft, force)}*{arm}")
        text = " ".join(terms) + " = 0"
        verdict = try_out(working, working.step("equation"), text)
        values = {key: 0.37 + 0.61 * n for n, key in enumerate(names)}
        same = len(terms) < len(posture.turning) or _comes_to(text, arm_key(draft, changed), values)
        assert verdict.outcome is not Outcome.RIGHT or same, text


def _comes_to(text: str, arm: str, values: dict[str, float]) -> bool:
    """Return whether the bracket of an equation comes to an arm, whatever the lengths are."""
    inside = text[text.index("(") + 1 : text.index(")")].split()
    total = values[inside[0]]
    for sign, name in zip(inside[1::2], inside[2::2], strict=True):
        total += values[name] if sign == "+" else -values[name]
    return arm in values and math.isclose(total, values[arm])


def test_chance_is_rarely_taken_for_a_slip_where_nothing_is_written_before() -> None:
    """With no earlier line, slips on all of them are looked for, and random values found rarely."""
    rng = random.Random(11)
    tried = sure = 0
    for name in VARIED[::2]:
        question = question_of(name)
        exact = question.graph.values(question.numbers, {})
        for step in question.derivation.asked:
            if not step.kind.is_number:
                continue
            working = Working(question)
            value = exact[step.key] * math.exp(rng.uniform(-3, 3)) * rng.choice((1, -1))
            verdict = working.enter(step.key, quantity(value, step.unit, 4))
            if verdict.outcome is Outcome.WRONG:
                tried += 1
                sure += any(e.sure for e in explanations(verdict))
    assert tried > 150
    assert sure <= tried / 40


GOOD = """
[[slip]]
id = "fell-asleep"
name = "asleep"
kinds = ["moment"]
roles = ["load"]
given = ["lb"]
change = { flip = 0.5 }
often = 1
look = "Is {name} awake?"
happened = "{symbol} is half of what it should be."
reason = "Half asleep is not awake."
wrong = { problem = "elbow-full-pail", seed = "1", line = "M_l", entry = "-12 N m" }
"""


def test_a_slip_is_added_by_a_file_alone(tmp_path: Path) -> None:
    """One more TOML file, in one more folder, and its slip is named and hinted at."""
    (tmp_path / "mine.toml").write_text(GOOD, encoding="utf-8")
    catalogue = load_catalogue([shipped("hints"), tmp_path])
    question = question_of("elbow-full-pail")
    working = Working(question)
    for step in question.derivation.asked[:8]:
        working.enter(step.key, right_entry(question, step))
    verdict = working.enter("M_l", "-12.012 N·m")
    assert tell(working, verdict, catalogue) == "Not yet. It looks like this slip: asleep."
    look, happened = (hint.text for hint in hints(working, "M_l", catalogue)[:2])
    assert look == "Is pail awake?"
    assert happened == "M_l is half of what it should be."
    working.enter("M_f", "-1.2444 N·m")
    other = explained(working.lines["M_f"].verdict, catalogue).explanations
    assert {"fell-asleep"} not in [{finding.slip for finding in e.findings} for e in other]


@pytest.mark.parametrize(
    ("every", "answers"),
    [("every number", {AnswerForm.SIZE, AnswerForm.SIGNED}), ("every size", {AnswerForm.SIZE})],
)
def test_a_slip_may_be_of_every_kind_of_one_sort_but_some(
    every: str, answers: set[AnswerForm], tmp_path: Path
) -> None:
    """A kind that is new is then among them by itself."""
    kinds = f'"{every}"\nbut = ["angle", "arm"]'
    (tmp_path / "mine.toml").write_text(GOOD.replace('["moment"]', kinds), encoding="utf-8")
    slip = load_catalogue([tmp_path]).slips["fell-asleep"]
    wanted = {name for name, kind in KINDS.items() if kind.answer in answers}
    assert set(slip.kinds) == wanted - {"angle", "arm"}
    assert len(slip.kinds) == len(wanted) - 2


@pytest.mark.parametrize(("often", "told"), [(3, "asleep"), (1, "the sign of one moment")])
def test_an_own_slip_that_says_the_same_is_told_in_place_of_one_that_ships(
    often: int, told: str, tmp_path: Path
) -> None:
    """Nothing could tell the two apart, so that neither "either" nor "or" would help."""
    mine = GOOD.replace("flip = 0.5", "flip = -1").replace("often = 1", f"often = {often}")
    (tmp_path / "mine.toml").write_text(mine, encoding="utf-8")
    catalogue = load_catalogue([shipped("hints")], [tmp_path])
    working = Working(question_of("elbow-full-pail"))
    for step in working.steps:
        if step.key == "M_l":
            break
        working.enter(step.key, right_entry(working.question, step))
    verdict = working.enter("M_l", "24.02 N·m")
    sense = "Anticlockwise is positive here; a moment without a sign is anticlockwise."
    said = f"Not yet. It looks like this slip: {told}. {sense}"
    assert tell(working, verdict, catalogue) == said


@pytest.mark.parametrize(
    ("old", "new", "place", "said"),
    [
        ("often", "oftn", "slip[1].oftn", 'did you mean "often"'),
        ('"asleep"', "3", "slip[1].name", "a text"),
        ('name = "asleep"', "", "slip[1].name", "missing"),
        ('["moment"]', '["momnt"]', "slip[1].kinds", 'did you mean "moment"'),
        ('["moment"]', "[]", "slip[1].kinds", "the kinds of steps"),
        ('["moment"]', '"every numbr"', "slip[1].kinds", 'did you mean "every number"'),
        ('["moment"]', '"moment"', "slip[1].kinds", 'one of "every number", "every size"'),
        ('["moment"]', '["moment"]\nbut = ["sum"]', "slip[1].but", "unknown key"),
        ('["moment"]', '"every number"\nbut = []', "slip[1].but", "the kinds of steps"),
        ('["moment"]', '"every size"\nbut = ["angl"]', "slip[1].but", 'did you mean "angle"'),
        ('["moment"]', '"every size"\nbut = ["moment"]', "slip[1].but", "one of segment_mass"),
        ('["load"]', '["lode"]', "slip[1].roles", 'did you mean "load"'),
        ('["lb"]', '["lbs"]', "slip[1].given", "the short signs of units"),
        ("{ flip", "{ flop", "slip[1].change.flop", 'did you mean "flip"'),
        ("0.5", '"half"', "slip[1].change.flip", "a number"),
        ("0.5", "true", "slip[1].change.flip", "a number"),
        ("0.5", "[]", "slip[1].change.flip", "a number"),
        ("0.5", "1" + 400 * "0", "", "line 8 has a number or a key of 401 characters"),
        ("flip = 0.5", "", "slip[1].change", "at least one choice"),
        ("change = { flip = 0.5 }", "", "slip[1].change", "missing"),
        ("often = 1", "often = 0.5", "slip[1].often", "a whole number from 1 to 3"),
        ("often = 1", "rounding = -2", "slip[1].rounding", "a whole number from 1 to 6"),
        ("{name}", "{nam}", "slip[1].look", 'did you mean "name"'),
        ("{symbol}", "{symbol", "slip[1].happened", "in pairs"),
        ("reason", "reasn", "slip[1].reason", "missing"),
        ("Half", "Half {name}", "slip[1].reason", "found a brace"),
        ("Half", 60 * "Half ", "slip[1].reason", "at most 120 characters"),
        ("wrong", "wrng", "slip[1].wrong", "missing"),
        ("{ problem", "true # {", "slip[1].wrong", "a table"),
        ("entry", "entri", "slip[1].wrong.entri", 'did you mean "entry"'),
        ('line = "M_l"', "line = 3", "slip[1].wrong.line", "a text"),
        ('seed = "1"', 'seed = "' + 30 * "1" + '"', "slip[1].wrong.seed", "at most 24"),
        ("[[slip]]", "[[slips]]", "slips", 'did you mean "slip"'),
        ("0.5", "1e999999999", "slip[1].change.flip", "a number"),
        ("0.5", "nan", "slip[1].change.flip", "a number"),
    ],
)
def test_a_fault_of_a_slip_file_is_told(
    tmp_path: Path, old: str, new: str, place: str, said: str
) -> None:
    """What is wrong in a slip file is told with the file, the key, and what was expected."""
    assert old in GOOD
    (tmp_path / "mine.toml").write_text(GOOD.replace(old, new), encoding="utf-8")
    with pytest.raises(FileError) as caught:
        load_catalogue([tmp_path])
    told = [fault for fault in caught.value.faults if fault.key == place]
    assert told, caught.value
    assert said in str(told[0])
    assert str(told[0]).startswith("mine.toml")


def test_two_slips_of_one_id_are_a_fault(tmp_path: Path) -> None:
    """Two files may not name two slips alike."""
    (tmp_path / "a.toml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "b.toml").write_text(GOOD, encoding="utf-8")
    with pytest.raises(FileError, match='"fell-asleep" is taken'):
        load_catalogue([tmp_path])
