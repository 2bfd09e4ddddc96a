"""Workings of several postures: what is known of one goes into the next, and each is in balance."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest
from helpers.equilibrium import Plane
from helpers.material import CATALOGUE
from helpers.problem_texts import read_text
from helpers.source import ROOT
from leverstep.claims.in_words import claim_in_words
from leverstep.claims.judged_line import LineStanding
from leverstep.course.faults import FileError
from leverstep.course.problem import Problem, Question
from leverstep.course.problem_file import read_problem
from leverstep.course.shelf import load_shelf
from leverstep.dialogue.centre_meant import centre_meant
from leverstep.dialogue.meaning import meaning
from leverstep.slips.explained import explained
from leverstep.slips.ladder import hints
from leverstep.slips.telling import tell
from leverstep.statics import kinds
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.points import Distance
from leverstep.working.guidance import Guidance
from leverstep.working.verdict import Outcome
from leverstep.working.wording import ask
from leverstep.working.working import Working

SHELF = load_shelf()
SEVERAL = [problem for problem in SHELF.problems.values() if problem.stages]
every_one = pytest.mark.parametrize("problem", SEVERAL, ids=lambda problem: problem.id)
JUG = SHELF.problems["elbow-level-then-lowered"]


def test_there_are_some() -> None:
    assert len(COMPARED) >= 3
    assert len(CHAINS) >= 3


COMPARED = [problem for problem in SEVERAL if not problem.posture.find.value]
CHAINS = [problem for problem in SEVERAL if problem not in COMPARED]


@pytest.mark.parametrize("problem", COMPARED, ids=lambda problem: problem.id)
def test_each_posture_is_in_balance_as_vectors_have_it(problem: Problem) -> None:
    """Forces, moments and reactions of each posture are those of an independent solver."""
    for seed in map(str, range(20)):
        question = problem.question(seed)
        assert not question.trouble
        right = question.right
        for view in question.views:
            plane = Plane.of(view)
            for symbol, (size, _) in plane.solved().items():
                assert right[symbol] == pytest.approx(size, rel=1e-9), (seed, symbol)
            reaction = right.get(view.key(kinds.REACTION_SIZE))
            if reaction is not None:
                assert reaction == pytest.approx(plane.reaction(), rel=1e-9)


@every_one
def test_lines_bear_the_mark_of_their_posture(problem: Problem) -> None:
    """What is the same in both has one line; all else has a line in each, with its mark."""
    derivation = problem.question("7").derivation
    keys = [step.key for step in derivation.steps]
    assert len(keys) == len(set(keys))
    assert {step.mark for step in derivation.steps} == {"1", "2"}
    for step in derivation.steps:
        if step.kind.key:
            assert step.key == step.kind.key + step.mark
    for force in problem.postures[1].forces:
        assert keys.count(force.symbol) == 1


def test_a_slip_in_the_first_posture_follows_into_the_second() -> None:
    """A weight that is wrong once is wrong in both, and all that rests on it follows."""
    question = JUG.question("3")
    working = Working(question, guidance=Guidance.LINES)
    right = question.right
    assert working.enter("W_l", f"{right['W_l'] / 9.81:.4g} N").outcome is Outcome.WRONG
    for key in ("M_l1", "F_h", "M_l2", "F_d"):
        unit = question.derivation.step(key).unit
        entry = f"{right[key] / 9.81:.4g} {unit}"
        assert working.enter(key, entry).outcome is Outcome.FOLLOWED, key


def test_a_line_is_judged_by_its_own_posture() -> None:
    """The other posture's equation and direction are not those of the line that is asked for."""
    working = Working(JUG.question("3"), guidance=Guidance.LINES)
    first, second = "W_l*d_l = F_h*d_m", "W_l*r_l2 = F_d*r_d2"
    assert working.enter("equation1", first).outcome is Outcome.RIGHT
    assert working.enter("equation2", first).outcome is not Outcome.RIGHT
    assert working.enter("equation2", second).outcome is Outcome.RIGHT
    assert working.enter("class2", "third").outcome is Outcome.RIGHT


def test_an_answer_in_words_may_say_of_which_posture_it_is() -> None:
    working = Working(SHELF.problems["lumbar-near-and-far"].question("3"), guidance=Guidance.BLANK)
    assert working.write("direction 2: up").step == "R_dir2"
    assert working.write("direction 1 = up").step == "R_dir1"


def test_moments_of_both_are_told_apart_on_a_blank_sheet() -> None:
    question = JUG.question("3")
    working = Working(question, guidance=Guidance.BLANK)
    for key in ("M_l2", "M_l1", "F_d"):
        verdict = working.write(
            f"{key} = {question.right[key]:.4g} {question.derivation.step(key).unit}"
        )
        assert (verdict.step, verdict.outcome) == (key, Outcome.RIGHT)
    symbols = "W_l*cos(beta)*d_l = F_d*r_d2"
    assert working.write(symbols).step == "equation2"


def place(plane: Plane, distance: Distance) -> np.ndarray:
    return np.array(plane.on_segment(distance))


def moment(at: np.ndarray, force: np.ndarray) -> float:
    return float(at[0] * force[1] - at[1] * force[0])


@pytest.mark.parametrize("problem", CHAINS, ids=lambda problem: problem.id)
def test_a_chain_is_in_balance_joint_by_joint_and_as_a_whole(problem: Problem) -> None:
    """The second joint holds all that acts on both segments, with no word of the first joint.

    About the second axis, the forces on both segments have one moment: that of what acts on the
    first, from where it is in the world, and that of the second's own weight.
    """
    for seed in map(str, range(20)):
        question = problem.question(seed)
        first, second = (Plane.of(view) for view in question.views)
        joint = next(f.at for f in second.posture.forces if f.is_handed_on)
        total, turned = np.zeros(2), 0.0
        for plane, shift in ((first, place(second, joint)), (second, np.zeros(2))):
            for force in plane.posture.forces:
                if not force.is_handed_on:
                    acts = plane.size(force) * np.array(plane.unit(force))
                    total += acts
                    turned += moment(np.array(plane.point(force)) + shift, acts)
        view, right = question.views[1], question.right
        net = right[view.key(kinds.NET_MOMENT)]
        assert net * second.posture.positive == pytest.approx(-turned, rel=1e-9), seed
        for axis, key in enumerate((kinds.REACTION_X, kinds.REACTION_Y)):
            if view.key(key) in right:
                assert right[view.key(key)] == pytest.approx(-total[axis], rel=1e-9)


def test_what_is_handed_on_is_turned_round() -> None:
    """With the sign of the segment before it is wrong, and told why; then all follows from it."""
    question = SHELF.problems["wrist-then-elbow"].question("3")
    working, right = Working(question), question.right
    for key in ("R_y1", "M_net1"):
        unit = question.derivation.step(key).unit
        assert working.enter(key, f"{right[key]:.5g} {unit}").outcome is Outcome.RIGHT
    verdict = working.enter("H_y", f"{right['R_y1']:.5g} N")
    assert verdict.outcome is Outcome.WRONG
    findings = explained(verdict, CATALOGUE).explanations[0].findings
    assert [finding.slip for finding in findings] == ["not-turned-round"]
    follows = right["R_y1"] * right["L_f"]
    assert working.enter("M_y2", f"{follows:.5g} N m").outcome is Outcome.FOLLOWED
    assert working.enter("C_h", f"{-right['M_net1']:.5g} N m").outcome is Outcome.RIGHT


BEFORE = """
[[next]]
[next.segment]
name = "upper arm"
axis = "shoulder"
[next.joined]
{joined}
[[next.load]]
symbol = "W_u"
name = "upper arm"
mass = {{ value = 2, unit = "kg" }}
at = {{ symbol = "d_u", value = 13, unit = "cm" }}
direction = "down"
[next.ask]
find = "moment"
"""


def moment_chain() -> Working:
    """Return the working of a pan held from the wrist to the elbow: C_h −4.459 N·m is handed on."""
    return Working(SHELF.problems["wrist-then-elbow"].question("7"), Guidance.BLANK)


@pytest.mark.parametrize("problem", CHAINS, ids=lambda problem: problem.id)
def test_every_symbol_of_a_chain_has_a_line_or_is_given(problem: Problem) -> None:
    """A moment that is handed on with its sign has one name alone, that of its line."""
    question = problem.question("7")
    lines = {step.key for step in question.derivation.asked}
    known = {given.key for given in question.givens} | {"g", *CONVENTIONS}
    for step in question.derivation.asked:
        for symbol in re.findall(r"\{(\w+)\}", step.written):
            assert symbol in lines | known, (step.key, symbol)


@pytest.mark.parametrize(("text", "is_right"), [("C_h", True), ("M_h1", False)])
def test_the_sum_has_the_moment_that_is_handed_on_by_its_own_symbol(
    text: str, is_right: bool
) -> None:
    working = moment_chain()
    for line in ("M_y2 = -4.344 Nm", "M_f2 = -1.224 Nm", "C_h = -4.459 Nm", "M_h1 = -0.2502 Nm"):
        assert working.write(line).settled
    assert working.write(f"M_sum2 = M_y2 + M_f2 + {text}").settled is is_right


@pytest.mark.parametrize(("value", "symbol"), [("-5.568", "C_h"), ("-5.683", "H_y")])
def test_what_has_the_name_of_another_is_told_by_its_symbol_too(value: str, symbol: str) -> None:
    working = moment_chain()
    verdict = working.write(f"M_sum2 = {value} N m")
    said = f"a load left out (hand at the wrist, {symbol})"
    assert said in tell(working, verdict, CATALOGUE)
    happened = hints(working, "M_sum2", CATALOGUE)[1].text
    assert f"hand at the wrist, {symbol}" in happened


@pytest.mark.parametrize(
    ("problem", "line", "key"),
    [
        ("wrist-then-elbow", "R_wrist = 17.66 N", "R_y1"),
        ("wrist-then-elbow", "R_elbow = 29.43 N", "R_y2"),
        ("wrist-then-elbow", "H_y = -17.66 N", "H_y"),
        ("elbow-full-pail", "R_elbow = 368.4 N", "R_y"),
        ("wrist-then-elbow", "F_wrist = 17.66 N", "R_y1"),
        ("wrist-then-elbow", "F_wrist = 17.66 N up", "R_y1"),
        ("wrist-then-elbow", "F_wrist = 17.66 N down", "H_y"),
        ("wrist-then-elbow", "F_hand = 17.66 N down", "H_y"),
        ("elbow-full-pail", "F_elbow = 368.4 N down", "R_y"),
        ("elbow-full-pail", "F_elbow = 433.6 N", "F_m"),
    ],
)
def test_a_reaction_may_be_named_by_its_joint(problem: str, line: str, key: str) -> None:
    working = Working(SHELF.problems[problem].question("7"), Guidance.BLANK)
    verdict = working.write(line)
    assert (verdict.step, verdict.outcome) == (key, Outcome.RIGHT)


SPED_UP = """
[[further]]
symbol = "M_s"
name = "net moment with the swing"
relation = "moment sped up"
of = "M_net1"
moment_of_inertia = { symbol = "I_f", value = 0.07, unit = "kg·m²" }
angular_acceleration = { symbol = "q_f", value = 20, unit = "rad/s²" }
turns = "counter-clockwise"
"""


def test_the_moment_that_speeds_a_segment_up_is_handed_on() -> None:
    """What the muscles do beside holding it is turned round as well, with the student's own too."""
    format_told = (ROOT / "problems/README.md").read_text("utf-8")
    (chain,) = re.findall(r'^(id = "elbow-forearm-then-arm".*?)^```$', format_told, re.S | re.M)
    before, next_table, after = chain.partition("[[next]]")
    question = read_text(f"{before}{SPED_UP}{next_table}{after}").question("3")
    right = question.right
    assert right["M_s"] == pytest.approx(right["M_net1"] + 0.07 * 20)
    assert right["C_e"] == pytest.approx(-right["M_s"])
    levers = right["W_f"] * (0.3 + 0.17) + right["W_u"] * 0.13
    assert right["M_net2"] == pytest.approx(levers + 0.07 * 20)
    working = Working(question)
    working.enter("M_s", "10 N·m")
    assert working.enter("C_e", "-10 N·m").outcome is Outcome.FOLLOWED


def test_a_force_that_was_worked_out_acts_on_the_next_segment() -> None:
    """What one hand has to lift presses on it; a wrong one is followed into the muscle's force."""
    question = SHELF.problems["elbow-hand-barrow"].question("3")
    right = question.right
    moment = right["W_f"] * right["d_f"] + 0.5 * right["F_r"] * right["d_h"]
    assert right["F_m"] == pytest.approx(moment / right["d_m"])
    working = Working(question)
    assert working.enter("F_h", "94.0 N").outcome is Outcome.WRONG
    wrong = (right["W_f"] * right["d_f"] + 94.0 * right["d_h"]) / right["d_m"]
    assert working.enter("F_m", f"{wrong:.1f} N").outcome is Outcome.FOLLOWED
    assert working.enter("equation2", "W_f*d_f + F_h*d_h = F_m*d_m").outcome is Outcome.RIGHT


@pytest.mark.parametrize(
    ("joined", "told"),
    [
        ('symbol = "Ee"\nname = "forearm"\nat = { symbol = "L_u", value = 30, unit = "cm" }',
         "one letter"),
        ('symbol = "E"\nname = "forearm"\nat = { symbol = "L_u" }', "that is given"),
        ('symbol = "W"\nname = "forearm"\nat = { symbol = "W_y", value = 30, unit = "cm" }',
         "taken"),
    ],
    ids=["two letters", "no place", "a symbol that is taken"],
)  # fmt: skip
def test_faults_of_a_chain_are_told(joined: str, told: str) -> None:
    whole = (SHELF.problems["wrist-then-elbow"].path or Path()).read_text("utf-8")
    with pytest.raises(FileError) as raised:
        read_text(whole.partition("[[next]]")[0] + BEFORE.format(joined=joined))
    assert any(told in str(fault) for fault in raised.value.faults), raised.value


STRAIGHTER = """
[[next]]
[next.segment]
name = "straighter arm"
axis = "shoulder"
[[next.point]]
name = "elbow then"
[next.point.at]
across = { symbol = "x_l", value = 12, unit = "cm" }
up = { symbol = "y_l", value = 29, unit = "cm", below = true }
[[next.point]]
name = "wrist then"
[next.point.at]
across = { symbol = "x_r", value = 25, unit = "cm" }
up = { symbol = "y_r", value = 50, unit = "cm", below = true }
[[next.load]]
symbol = "W_v"
name = "upper arm then"
mass = { value = 2, unit = "kg" }
at = { between = ["axis", "elbow then"], fraction = 0.44 }
direction = "down"
[[next.load]]
symbol = "W_w"
name = "forearm then"
mass = { value = 1.5, unit = "kg" }
at = { between = ["elbow then", "wrist then"], fraction = 0.6 }
direction = "down"
[next.ask]
find = "centre of mass"
"""
LEANING = """
[[next]]
[next.segment]
name = "walker who leans"
axis = "ankles"
[[next.load]]
symbol = "W_b"
name = "walker"
at = { symbol = "d_c", value = 4.5, unit = "in" }
direction = "down"
[[next.load]]
symbol = "W_p"
name = "pack"
at = "d_p"
direction = "down"
[next.support]
from = { symbol = "y_h", value = 1.9, unit = "in", left = true }
to = { symbol = "y_t", value = 7.5, unit = "in" }
[next.ask]
find = "line of gravity"
"""


def with_next(name: str, following: str, folder: Path) -> Question:
    """Return a question on a problem that ships, with a posture that follows."""
    whole = (SHELF.problems[name].path or Path()).read_text("utf-8")
    file = folder / f"{name}.toml"
    signs = " ".join(f"{{{sign}}}" for sign in re.findall(r'symbol = "([a-z]_[a-z])"', following))
    file.write_text(whole.replace('?"""', f'? {signs}"""', 1) + following, "utf-8")
    return read_problem(file).question("7")


def test_a_sum_across_or_up_is_called_so_in_each_posture(tmp_path: Path) -> None:
    question = with_next("elbow-arm-on-a-photo", STRAIGHTER, tmp_path)
    for mark in "12":
        for axis, way in (("x", "across"), ("y", "up")):
            asked = ask(question, question.derivation.step(f"M{axis}_sum{mark}"))
            assert f"distances {way}, with its sign" in asked


def test_what_each_line_of_gravity_means_is_told_of_its_own_posture(tmp_path: Path) -> None:
    question = with_next("body-heavy-pack", LEANING, tmp_path)
    edges = [centre_meant(view)[1] for view in question.views]
    for mark, told in zip("12", edges, strict=True):
        assert f"{question.right[f'b_edge{mark}']:#.3g} m before it passes" in told
    assert edges[0] != edges[1]
    assert meaning(question) == centre_meant(question)[:1]


SHELF_BOARD = """
id = "plain-shelf-twice"
title = "A shelf, its bracket near and far"
joint = "plain"
difficulty = 1
statement = "A shelf carries {m_l} at {d_l}, on a bracket first at {d_n}, then at {d_f}."
[segment]
name = "shelf"
axis = "edge"
[effort]
symbol = "F_n"
name = "near bracket"
at = { symbol = "d_n", value = 12, unit = "cm" }
direction = "up"
[[load]]
symbol = "W_l"
name = "books"
mass = { value = 6, unit = "kg" }
at = { symbol = "d_l", value = 18, unit = "cm" }
direction = "down"
[ask]
class = true
[[next]]
[next.segment]
name = "shelf again"
axis = "edge"
[next.effort]
symbol = "F_f"
name = "far bracket"
at = { symbol = "d_f", value = 24, unit = "cm" }
direction = "up"
[[next.load]]
symbol = "W_l"
at = "d_l"
direction = "down"
[next.ask]
class = true
"""


@pytest.mark.parametrize(
    ("said", "key", "standing"),
    [
        ("it is a third-class lever", "class1", LineStanding.RIGHT),
        ("it is a second-class lever", "class2", LineStanding.RIGHT),
        ("it is a first-class lever", "class2", LineStanding.WRONG),
    ],
)
def test_a_class_in_words_may_be_that_of_any_posture(
    said: str, key: str, standing: LineStanding, tmp_path: Path
) -> None:
    file = tmp_path / "plain-shelf-twice.toml"
    file.write_text(SHELF_BOARD, "utf-8")
    question = read_problem(file).question("7")
    claim = claim_in_words(said, question, {}, after_reaction=False)
    assert claim is not None
    assert (claim.key, claim.standing) == (key, standing)
