"""Which sense of rotation counts as positive on a working; what is said of a sign by the other."""

from __future__ import annotations

import pytest
from helpers.material import CATALOGUE
from leverstep.course.shelf import load_shelf
from leverstep.slips.telling import tell
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Reasons, Rules
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working

SHELF = load_shelf()
PAIL = "elbow-full-pail"  # numbers 7: M_f −2.815 N·m, M_l −17.13 N·m, M_sum −19.95 N·m
PAN = "wrist-then-elbow"  # numbers 7: M_sum1 −4.459 N·m, M_net1 4.459 N·m, C_h −4.459 N·m
BOOT = "knee-muddy-boot"  # numbers 7: M_s −5.484 N·m, M_b −6.220 N·m, M_sum −11.70 N·m
LEAN = "ankle-standing-lean-moment"  # numbers 203: M_g 38.0, M_f −0.794, M_sum 37.2 N·m
FREE = (Guidance.LANDMARKS, Guidance.BLANK)


def opened(name: str, guidance: Guidance) -> Working:
    return Working(SHELF.problems[name].question("7"), guidance)


def outcomes(working: Working, *lines: str) -> list[Outcome]:
    return [working.write(line).outcome for line in lines]


def told(working: Working, verdict: Verdict) -> str:
    return tell(working, verdict, CATALOGUE)


@pytest.mark.parametrize("guidance", FREE)
@pytest.mark.parametrize("before", [(), ("M_sum1 = -4,459 Nm", "M_net1 = 4,46 Nm")])
def test_a_moment_that_is_handed_on_is_no_size(guidance: Guidance, before: tuple[str, ...]) -> None:
    working = opened(PAN, guidance)
    assert set(outcomes(working, *before)) <= {Outcome.RIGHT}
    verdict = working.write("C_h = 4,46 Nm")
    assert verdict.outcome is Outcome.WRONG
    assert told(working, verdict) == (
        "Not yet. It looks like this slip: handed on without turning it round."
    )
    turned = working.write("C_h = -4,46 Nm")
    assert told(working, turned) == "Right."


def test_what_is_handed_on_is_opposite_to_the_moment_as_it_is_written() -> None:
    working = opened(PAN, Guidance.BLANK)
    before = ("clockwise is positive", "M_sum1 = +4.459 Nm", "M_net1 = -4.459 Nm")
    assert outcomes(working, *before)[1:] == [Outcome.RIGHT, Outcome.RIGHT]
    assert outcomes(working, "C_h = -4.459 Nm", "C_h = 4.459 Nm") == [Outcome.WRONG, Outcome.RIGHT]


OF_MUSCLES = ("M_ankle", "M_a", "M_calf", "M_muscle", "muscle moment", "net ankle moment", "M")


@pytest.mark.parametrize("guidance", FREE)
@pytest.mark.parametrize("name", OF_MUSCLES)
def test_a_net_moment_by_any_name_is_no_sum_in_the_other_sense(
    guidance: Guidance, name: str
) -> None:
    working = Working(SHELF.problems[LEAN].question("203"), guidance)
    assert working.write(f"{name} = -37.2 Nm").step == "M_net"
    assert outcomes(working, "M_g = 38.0 Nm", "M_f = -0.794 Nm") == [Outcome.RIGHT] * 2
    assert working.other_sense == "", "and so do those that come after"


@pytest.mark.parametrize("name", ["M_ankle", "M"])
def test_a_name_that_two_moments_may_have_tells_no_sense(name: str) -> None:
    working = Working(SHELF.problems[LEAN].question("203"), Guidance.BLANK)
    assert outcomes(working, f"{name} = -37.2 Nm") == [Outcome.RIGHT]
    assert outcomes(working, "M_g = -38.0 Nm", "M_f = 0.794 Nm") == [Outcome.RIGHT] * 2
    assert working.other_sense == "clockwise"


@pytest.mark.parametrize("name", ["M_sum", "M_tot", "ΣM", "sum of the moments"])
def test_a_sum_by_its_name_tells_the_sense(name: str) -> None:
    working = Working(SHELF.problems[LEAN].question("203"), Guidance.BLANK)
    assert working.write(f"{name} = -37.2 Nm").step == "M_sum"
    assert working.other_sense == "clockwise"


@pytest.mark.parametrize(
    ("name", "seed", "line", "key"),
    [
        (PAN, "17", "M_w = 4.57 N m", "M_net1"),
        (PAN, "17", "net moment about the elbow = 10.5 Nm", "M_net2"),
        ("knee-steady-machine", "44", "M_knee = 73.2 Nm", "M_net"),
        ("knee-leg-sped-up", "3", "M_knee = 8.586 Nm", "M_net"),
        ("ankle-then-knee", "11", "net knee moment 82.7 Nm (extensor)", "M_net2"),
        ("knee-leg-sped-up", "3", "moment of the shank = 8.586 Nm", "M_s"),
    ],
)
def test_a_moment_is_the_one_whose_sign_it_has(name: str, seed: str, line: str, key: str) -> None:
    verdict = Working(SHELF.problems[name].question(seed), Guidance.BLANK).write(line)
    assert (verdict.step, verdict.outcome) == (key, Outcome.RIGHT)


def test_what_is_handed_on_follows_a_net_moment_by_an_own_name() -> None:
    working = Working(SHELF.problems["ankle-then-knee"].question("11"), Guidance.BLANK)
    lines = ("M_ankle = -40.5 Nm", "C_a = 40.5 N m", "M_s2 = 2.38 Nm")
    assert outcomes(working, *lines) == [Outcome.RIGHT] * 3


@pytest.mark.parametrize("guidance", FREE)
def test_a_moment_that_is_written_anew_keeps_its_sense(guidance: Guidance) -> None:
    working = opened(PAIL, guidance)
    lines = ("M_f = 2,815 Nm", "M_f = -2,815 Nm", "M_f = 2,815 Nm")
    assert outcomes(working, *lines) == [Outcome.RIGHT, Outcome.RIGHT, Outcome.WRONG]


@pytest.mark.parametrize("guidance", FREE)
def test_a_sign_by_the_sense_of_the_problem_is_wrong_on_a_page_that_takes_the_other(
    guidance: Guidance,
) -> None:
    working = opened(PAIL, guidance)
    assert working.write("M_f = +2,815 Nm").outcome is Outcome.RIGHT
    verdict = working.write("M_l = -17,13 Nm")
    assert verdict.outcome is Outcome.WRONG
    assert told(working, verdict).endswith("In the lines before, you take clockwise as positive.")
    lines = ("M_l = 17,13 Nm", "M_f = -2,815 Nm", "M_sum = -19.95 Nm", "M_sum = 19.95 Nm")
    right, wrong = Outcome.RIGHT, Outcome.WRONG
    assert outcomes(working, *lines) == [right, wrong, wrong, right]


def test_who_told_the_other_sense_by_one_line_may_turn_to_that_of_the_problem() -> None:
    working = opened(PAIL, Guidance.BLANK)
    lines = ("M_f = +2.815 Nm", "M_f = -2.815 Nm", "M_l = -17.13 Nm", "M_l = +17.13 Nm")
    right, wrong = Outcome.RIGHT, Outcome.WRONG
    assert outcomes(working, *lines) == [right, right, right, wrong]


def test_a_bare_value_at_a_landmark_is_judged_as_one_with_its_symbol() -> None:
    bare, named = (opened(BOOT, Guidance.LANDMARKS) for _ in range(2))
    first, second = bare.write("11.7 N m"), named.write("M_sum = 11.7 N m")
    assert first.outcome is second.outcome is Outcome.RIGHT
    assert told(bare, first) == told(named, second)


def test_where_lines_are_asked_for_a_sign_is_that_of_the_problem_wherever_it_is_written() -> None:
    working = opened(PAIL, Guidance.LINES)
    assert working.enter_open("M_f", "M_f = -2,815 Nm").outcome is Outcome.RIGHT
    assert not working.enter_open("M_l", "M_f = 2,815 Nm").settled
    assert working.enter_open("W_f", "M_l = 17,13 Nm").outcome is Outcome.WRONG
    assert working.enter_open("W_f", "M_l = -17,13 Nm").outcome is Outcome.RIGHT


def test_where_lines_are_asked_for_a_sign_by_the_other_sense_is_told_which_one_counts() -> None:
    working = opened(BOOT, Guidance.LINES)
    for key, entry, sense in (
        ("M_s", "5.484 N m", "a moment without a sign is anticlockwise."),
        ("M_b", "M_b = +6.220 N m", "your sign says that it is anticlockwise."),
    ):
        verdict = working.enter_open(key, entry)
        assert verdict.outcome is Outcome.WRONG
        assert told(working, verdict).endswith(f"Anticlockwise is positive here; {sense}")
    assert "is positive here" not in told(working, working.enter("M_b", "6.82 N m"))


@pytest.mark.parametrize("marked", [False, True])
def test_which_sense_counts_is_told_in_practice_also_where_slips_are_told_when_asked(
    marked: bool,
) -> None:
    rules = Rules(reasons=Reasons.WHEN_ASKED, marked=marked)
    working = Working(SHELF.problems[BOOT].question("7"), Guidance.LINES, rules)
    said = told(working, working.enter("M_s", "5.484 N m"))
    assert said.startswith("Not yet. The slip is in this line.")
    assert ("Anticlockwise is positive here" in said) is not marked
