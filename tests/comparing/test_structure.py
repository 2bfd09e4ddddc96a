"""Arithmetic laid beside its line: what is missing, inverted, extra or in another's place."""

from __future__ import annotations

import pytest
from helpers.material import CATALOGUE
from hypothesis import given, settings
from hypothesis import strategies as st
from leverstep.comparing.structure import Structure, structure
from leverstep.course.places import shipped
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.entry.grammar import read_line
from leverstep.slips.explained import explained
from leverstep.slips.telling import tell
from leverstep.working.standing_lines import StandingLines
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working
from leverstep.working.writing import substituted, value_text, worked_line

PROBLEMS = load_shelf([shipped("problems")]).problems


def shown(question: Question, key: str, text: str) -> Structure | None:
    """Return what arithmetic shows at a step, with nothing written before."""
    step = question.derivation.step(key)
    known = StandingLines(question).known(key)
    return structure(question, step, read_line(text, known)[0], {})


@pytest.mark.parametrize("name", sorted(PROBLEMS))
def test_a_line_as_it_should_be_differs_in_nothing(name: str) -> None:
    """Every worked line, put in with its numbers, is recognised factor by factor."""
    for seed in ("1", "2", "3"):
        question = PROBLEMS[name].question(seed)
        values = question.graph.values(question.numbers, {})
        lines = [s for s in question.derivation.asked if s.written and not s.kind.is_equation]
        assert lines
        for step in lines:
            found = shown(question, step.key, substituted(question, step, values))
            assert found is not None, step.key
            assert found.differences == (), step.key


PAIL = PROBLEMS["elbow-full-pail"].question("7")
"""11.0 lb at 35.0 cm; 1.65 kg at 0.682 of 25.5 cm; the flexors at 4.6 cm."""

CURL = PROBLEMS["elbow-tilted-forearm"].question("7")
"""12.5 lb and 3.2 lb, the forearm 33° above the horizontal, the flexors 7.5° from the vertical."""


@pytest.mark.parametrize(
    ("question", "key", "text", "expected"),
    [
        (PAIL, "W_l", "11.0*9.81", {("missing", "pounds_per_kilogram")}),
        (PAIL, "W_l", "11*2.205*9.81", {("inverted", "pounds_per_kilogram")}),
        (PAIL, "W_l", "11*2.2*9.8", {("inverted", "pounds_per_kilogram")}),
        (PAIL, "W_l", "24.26*9.81", {("inverted", "pounds_per_kilogram")}),  # worked out before
        (PAIL, "W_l", "4.989*9.81", set()),  # the kilograms, worked out before
        (PAIL, "W_l", "11/2.205", {("missing", "g")}),
        (PAIL, "W_l", "11.0/2.2*9.81*9.81", {("extra", "g")}),
        (PAIL, "W_l", "11/2.2/9.81", {("inverted", "g")}),
        (PAIL, "W_l", "12/2.205*9.81", {("instead", "m_l")}),
        (PAIL, "W_l", "11/2.205*10", {("rounded", "g")}),
        (PAIL, "M_l", "48.94*0.35", {("sign", "W_l")}),
        (PAIL, "M_l", "-48.94*35", {("missing", "100 cm/m")}),
        (PAIL, "M_l", "-48.94*0.046", {("instead", "d_l")}),
        (PAIL, "M_l", "-48.94/0.35", {("inverted", "d_l")}),
        (PAIL, "M_l", "-11/2.205*9.81*0.35", set()),  # the weight worked out on this line
        (PAIL, "M_l", "-11*2.205*9.81*0.35", {("inverted", "pounds_per_kilogram")}),
        (PAIL, "M_sum", "-2.815+17.13", {("sign", "M_l")}),
        (PAIL, "M_sum", "2.815+17.13", {("sign", "")}),
        (PAIL, "M_sum", "-16.19*0.1739-48.94", {("missing", "d_l")}),
        (PAIL, "F_m", "19.94*0.046", {("inverted", "d_m")}),
        (PAIL, "F_m", "-19.94/0.046", set()),  # a size has no sign
        (PAIL, "F_m", "(17.13-2.815)/0.046", {("sign", "M_f")}),
        (PAIL, "F_m", "(16.19*0.1739+11*0.35)/0.046",
         {("missing", "g"), ("missing", "pounds_per_kilogram")}),
        (PAIL, "MA", "433.6/(16.19+48.94)", {("inverted", "")}),
        (PAIL, "MA", "48.94/433.6", {("missing", "W_f")}),
        (PAIL, "R_y", "16.19+48.94+433.6", {("sign", "F_m")}),
        (PAIL, "R_y", "433.6-16.19-48.94", {("sign", "")}),
        (CURL, "P_f", "14.24*sin(33)", {("function", "cos")}),
        (CURL, "P_f", "14.24*sin(57)", set()),  # the angle to the other line
        (CURL, "P_f", "14.24*cos(7.5)", {("instead", "beta")}),
        (CURL, "P_f", "14.24/cos(33)", {("inverted", "cos(beta)")}),
        (CURL, "gamma_m", "90+7.5+33", {("sign", "beta")}),
        (CURL, "gamma_m", "90-33", {("missing", "theta")}),
        (CURL, "F_m", "456.8*sin(64.5)", {("inverted", "sin(gamma_m)")}),
        (CURL, "phi_R", "atan(66.06/431.9)", {("inverted", "")}),
        (CURL, "phi_R", "tan(431.9/66.06)", {("function", "atan")}),
    ],
)  # fmt: skip
def test_the_factor_that_differs_is_known(
    question: Question, key: str, text: str, expected: set[tuple[str, str]]
) -> None:
    """What is wrong with typed arithmetic is read off it, whatever number it comes to."""
    found = shown(question, key, text)
    assert found is not None
    assert {(one.what, one.about) for one in found.differences} == expected


@pytest.mark.parametrize("text", ["3*7*11", "1", "12.3+45.6-78.9*2", "sqrt(5)*atan(3)/17"])
def test_arithmetic_of_another_kind_is_left_alone(text: str) -> None:
    """Numbers that are nothing of this problem are not made to fit, and break nothing."""
    found = shown(PAIL, "M_sum", text)
    assert found is None or found.differences


NUMBERS = st.sampled_from(
    [
        "0",
        "1",
        "2",
        "11",
        "11.0",
        "9.81",
        "2.205",
        "48.94",
        "16.19",
        "0.35",
        "35",
        "4.6",
        "0.046",
        "0.682",
        "19.94",
    ]
)
SYMBOLS = st.sampled_from(
    ["m_l", "g", "W_f", "W_l", "d_f", "d_l", "d_m", "M_f", "M_sum", "F_m", "MA"]
)


def grown(parts: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    """Return arithmetic made of smaller arithmetic."""
    pairs = st.tuples(parts, st.sampled_from("+-*/"), parts).map(lambda p: f"({p[0]}{p[1]}{p[2]})")
    calls = st.tuples(st.sampled_from(["sin", "sqrt", "atan", "-"]), parts)
    return pairs | calls.map(lambda p: f"{p[0]}({p[1]})") | parts.map(lambda p: f"({p})^2")


@settings(max_examples=300, deadline=None)
@given(
    st.sampled_from(["W_l", "d_f", "M_l", "M_sum", "F_m", "MA", "R_y"]),
    st.recursive(NUMBERS | SYMBOLS, grown, max_leaves=8),
)
def test_any_arithmetic_is_answered(key: str, text: str) -> None:
    """Whatever is typed gets a verdict and words for it, and a wrong one is never called right."""
    working = with_lines_before(PAIL, key)
    unit = {"MA": ""}.get(key, working.step(key).unit)
    verdict = working.enter(key, f"{text} {unit}".strip())
    assert tell(working, verdict, CATALOGUE).endswith((".", "?", unit or "4", "0.234"))
    if verdict.settled and verdict.outcome is Outcome.RIGHT:
        right = PAIL.graph.values(PAIL.numbers, {})[key]
        reading = working.lines[key].reading
        assert reading is not None
        assert abs(reading.value) == pytest.approx(abs(right), rel=0.02)


def with_lines_before(question: Question, key: str) -> Working:
    """Return a working with every line before one written as it should be."""
    working = Working(question)
    values = question.graph.values(question.numbers, {})
    for step in working.steps:
        if step.key == key:
            break
        is_symbols = step.kind.is_equation
        line = worked_line if is_symbols else lambda _, s, v: value_text(s, v[s.key])
        assert working.enter(step.key, line(question, step, values)).settled
    return working


@pytest.mark.parametrize(
    ("question", "key", "text", "slip", "said"),
    [
        (PAIL, "W_l", "11.0*9.81 N", "conversion-skipped", "2.205 lb/kg is missing"),
        (PAIL, "W_l", "= 11/2.205 = 4.989 N", "gravity-forgotten", "g is missing"),
        (PAIL, "M_l", "W_l*d_l", "sign-of-a-moment", "the sign before W_l"),
        (PAIL, "M_l", "-11*2.205*9.81*0.35 Nm", "conversion-upside-down", "on the line W_l"),
        (PAIL, "W_l", "11/2.2/9.81 N", "divided-by-gravity", "g divides where it should multiply"),
        (
            PAIL,
            "F_m",
            "17.13/0.046 N",
            "own-weight-left-out",
            "belongs (that is the value of M_l alone)",
        ),
        (PAIL, "MA", "433.6/(16.19+48.94)", "ratio-upside-down", "the ratio upside down"),
        (CURL, "P_f", "14.24*sin(33) N", "sine-for-cosine", "sin stands where cos belongs"),
    ],
)
def test_a_slip_in_arithmetic_is_told_for_sure(
    question: Question, key: str, text: str, slip: str, said: str
) -> None:
    """The numbers typed leave no doubt, so the slip is told, not asked, and shown in the line."""
    working = with_lines_before(question, key)
    verdict = working.enter(key, text.removeprefix("= "))
    assert verdict.outcome is Outcome.WRONG
    first = explained(verdict, CATALOGUE).explanations[0]
    assert first.sure
    assert [finding.slip for finding in first.findings] == [slip]
    assert said in tell(working, verdict, CATALOGUE)


@pytest.mark.parametrize(
    ("name", "key", "before", "text", "expected"),
    [
        ("ankle-tendon-stress", "MA", "F_m=1350 N|G_g=598 N", "12.4/5.5", {("inverted", "")}),
        ("lumbar-near-and-far", "MA2", "F_f=1058 N|W_l=107.9 N", "51/5.2", {("inverted", "")}),
        ("lumbar-near-and-far", "q_F", "F_n=498 N|F_f=1058 N", "24/51", {("inverted", "")}),
        ("lumbar-near-and-far", "MA1", "d_n=0.24 m|d_m=0.052 m", "d_n/d_m", {("inverted", "")}),
        ("lumbar-near-and-far", "F_n", "W_l=107.9 N", "107.9*51/5.2 N", {("instead", "d_n")}),
        ("ankle-tendon-stress", "M_g", "", "598.4*12.4 N m", {("missing", "100 cm/m")}),
        ("ankle-tendon-stress", "F_m", "", "598.4*12.4/0.055 N", {("missing", "100 cm/m")}),
    ],
)
def test_lengths_that_cancel_may_stand_in_any_unit(
    name: str, key: str, before: str, text: str, expected: set[tuple[str, str]]
) -> None:
    """Centimetres over centimetres need no conversion; what cancels need not be typed."""
    working = Working(PROBLEMS[name].question("7"))
    for line in filter(None, before.split("|")):
        earlier, _, entry = line.partition("=")
        assert working.enter(earlier, entry).outcome is Outcome.RIGHT
    verdict = working.enter(key, text)
    assert verdict.outcome is Outcome.WRONG
    found = explained(verdict, CATALOGUE)
    assert {(one.what, one.about) for one in found.differences} == expected
    if expected == {("inverted", "")}:
        assert "the ratio upside down" in tell(working, verdict, CATALOGUE)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("11.0/2.2*9.81*9.81 N", "g is one factor too many"),
        ("4.6*11/2.2/9.81 N", "g divides where it should multiply"),
        ("23/2.205*9.81 N", "23 stands where 11.0 lb belongs"),
        ("11*9.81/2.3 N", "2.3 stands where 2.205 lb/kg belongs"),
    ],
)
def test_what_no_slip_explains_is_still_told(text: str, said: str) -> None:
    """A factor that is wrong in no usual way is named all the same."""
    working = with_lines_before(PAIL, "W_l")
    verdict = working.enter("W_l", text)
    assert verdict.outcome is Outcome.WRONG
    assert explained(verdict, CATALOGUE).explanations == ()
    assert said in tell(working, verdict, CATALOGUE)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("P_m*d_m*cos(33°) = P_f*d_f + P_l*d_l", "cos(β) is one factor too many"),
        ("P_m*d_m = P_f*L/2 + P_l*d_l", "1 ÷ 2 stands where 0.682 belongs"),
        ("P_m/d_m = P_f*d_f + P_l*d_l", "d_m divides where it should multiply"),
        ("P_m*d_m = P_f*d_f + P_l*d_l - P_m*d_m", "the term P_m × d_m is one too many"),
        ("P_m*d_m = P_f*d_f - P_l*d_l", "the sign of one moment (dumbbell)"),  # a slip we know
    ],
)
def test_an_equation_in_symbols_is_read_in_the_same_way(text: str, said: str) -> None:
    """What stands in one term is not blamed on the others."""
    working = with_lines_before(CURL, "equation")
    verdict = working.enter("equation", text)
    assert verdict.outcome is Outcome.WRONG
    assert said in tell(working, verdict, CATALOGUE)


def test_a_formula_in_symbols_may_take_the_number_as_given() -> None:
    """`m_l/2.205*g` is the line as hints print it: m_l is then the number of pounds."""
    working = with_lines_before(PAIL, "W_l")
    assert working.enter("W_l", "m_l/2.205*g").outcome is Outcome.RIGHT
    assert working.enter("W_l", "m_l*g").outcome is Outcome.RIGHT  # and here its kilograms


@pytest.mark.parametrize(
    ("key", "text", "said"),
    [
        ("R", "66.06^2+431.9^2 N", "the root is missing"),
        ("R", "sqrt(66.06+431.9) N", "66.06 stands where R_x² belongs"),
        ("d_f", "(1-0.682)*L", "(1 − 0.682) stands where 0.682 belongs"),
        ("d_f", "0.682+0.2591 m", "L is added where it should multiply"),
        ("P_m", "(15.87-2.11)/0.03937 N", "the sign before M_f"),
        ("F_m", "456.8/sin(7.5) N", "7.5 stands where γ_m belongs"),
        ("F_mx", "-456.8*sin(7.5) N", "456.8 stands where F_m belongs"),
        ("AR", "1.55/10.2", "10.2 stands where d_l belongs"),
        ("gamma_m", "90+33-7.5 deg", "the sign before β"),
    ],
)
def test_what_is_told_of_a_line_is_true(key: str, text: str, said: str) -> None:
    """Lines that stand are not blamed, and signs and brackets are printed as they were typed."""
    working = with_lines_before(CURL, key)
    verdict = working.enter(key, text)
    assert verdict.outcome is Outcome.WRONG
    told = tell(working, verdict, CATALOGUE)
    assert said in told
    assert told.count("is missing") <= 1


@pytest.mark.parametrize("text", ["(66.06^2+431.9^2)^0.5 N", "436.9 N.", "R ≈ 436.9 N"])
def test_ways_of_writing_that_are_common_are_read(text: str) -> None:
    """A root as a power, the full stop of dictation, and the sign for about."""
    assert with_lines_before(CURL, "R").enter("R", text).outcome is Outcome.RIGHT


def test_a_number_may_stand_for_a_wrong_line_as_it_is_or_as_it_was_written() -> None:
    """M_f was written with the wrong sign; either sign of it in the sum is no slip of the sum."""
    for text, said in (
        ("-2.815-50.5 N m", "50.5 stands where M_l belongs"),
        ("2.815-50.5 N m", "50.5 stands where M_l belongs"),
    ):
        working = Working(PAIL)
        for step in working.steps:
            if step.key == "M_sum":
                break
            entry = "2.815 N m" if step.key == "M_f" else worked_line(PAIL, step, PAIL.right)
            working.enter(step.key, entry)
        told = tell(working, working.enter("M_sum", text), CATALOGUE)
        assert said in told
        assert "sign" not in told


def test_a_fraction_of_one_number_that_is_none_of_the_problem_is_a_value() -> None:
    """1/6.657 is the other ratio, however it is written."""
    working = with_lines_before(PAIL, "AR")
    told = tell(working, working.enter("AR", "1/6.657"), CATALOGUE)
    assert told == "Not yet. It looks like this slip: the other ratio."


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("0.3717 - 0.606*0.2382 - 0.606*0.3717", {("sign", "x_a")}),
        ("-0.3717 + 0.606*0.2382 - 0.606*0.3717", {("sign", "x_k")}),
        ("0.3717 + 0.606*0.2382 - 0.3717", {("missing", "between_x_s")}),
        ("0.3717 + 0.606*0.2382 - 0.606*0.3717", set()),
        ("0.3717 + 0.606*(0.2382 + 0.3717)", {("sign", "x_k")}),
    ],
)
def test_brackets_may_be_multiplied_out(text: str, expected: set[tuple[str, str]]) -> None:
    """`x_k + f × (x_a − x_k)` is compared term by term where it is written without brackets."""
    found = shown(PROBLEMS["hip-lifted-leg"].question("1"), "x_s", text)
    assert found is not None
    assert {(one.what, one.about) for one in found.differences} == expected
