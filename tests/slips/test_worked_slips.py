"""Slips worked by hand, with the numbers of a problem, and what is said of each."""

from __future__ import annotations

import pytest
from helpers.material import CATALOGUE
from leverstep.course.places import shipped
from leverstep.course.shelf import load_shelf
from leverstep.slips.explained import explained
from leverstep.slips.hypotheses import hypotheses, pairs
from leverstep.slips.ladder import hints
from leverstep.slips.telling import tell
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working
from leverstep.working.writing import worked_line

PROBLEMS = load_shelf([shipped("problems")]).problems
PAIL = "elbow-full-pail"
"""Seed 7: 11.0 lb at 35.0 cm; 1.65 kg at 0.682 of 25.5 cm; the flexors at 4.6 cm."""
CURL = "elbow-tilted-forearm"
"""Seed 7: the forearm 33° above the horizontal, the flexors 7.5° from the vertical."""
BOX = "lumbar-level-trunk"
"""Seed 7: 15.5 kg at 43.0 cm, 32.5 kg at 28.5 cm; the muscles at 19.5 cm and 13.2°."""


def entered(problem: str, key: str, text: str, before: bool = True) -> tuple[Working, Verdict]:
    """Return the working and the verdict on an entry, the lines before it right or not written."""
    question = PROBLEMS[problem].question("7")
    working = Working(question)
    for step in working.steps if before else ():
        if step.key == key:
            break
        assert working.enter(step.key, worked_line(question, step, question.right)).settled
    return working, working.enter(key, text)


def slips_named(verdict: Verdict) -> list[list[str]]:
    """Return the ids of the slips of each explanation."""
    found = explained(verdict, CATALOGUE).explanations
    return [[finding.slip for finding in one.findings] for one in found]


@pytest.mark.parametrize(
    ("problem", "key", "text", "slip"),
    [
        (PAIL, "W_l", "0.5085 N", "divided-by-gravity"),  # 11/2.205/9.81
        (PAIL, "W_f", "7.341 N", "kilograms-taken-for-pounds"),  # 1.65/2.205*9.81
        (PAIL, "W_f", "7.358 N", "kilograms-taken-for-pounds"),  # 1.65/2.2*9.81
        (PAIL, "W_f", "35.69 N", "kilograms-taken-for-pounds"),  # 1.65*2.205*9.81
        (PAIL, "M_l", "-5.665 N m", "another-force-with-this-arm"),  # -16.19*0.35
        (PAIL, "MA", "7.609", "other-ratio-upside-down"),  # 0.35/0.046
        (PAIL, "AR", "7.609", "ratio-upside-down"),
        (PAIL, "AR", "6.657", "other-ratio-upside-down"),  # 433.6/(16.19+48.94)
        (PAIL, "MA", "0.01531", "mass-among-forces"),  # (1.65+4.989)/433.6
        (PAIL, "R_y", "-383.0 N", "mass-among-forces"),  # 1.65+48.94-433.6
        (PAIL, "R_y", "-406.4 N", "given-in-moment"),  # 16.19+11-433.6
        (PAIL, "R_y", "-433.6 N", "reaction-to-the-effort-alone"),
        (BOX, "R", "3509 N", "reaction-to-the-effort-alone"),
        (BOX, "r_m", "0.04574 m", "tangent-used"),  # 0.195*tan(13.2)
        (BOX, "phi_R", "185.5 deg", "angle-measured-on-round"),
        (BOX, "phi_R", "354.5 deg", "angle-measured-on-round"),
        (CURL, "P_f", "14.11 N", "another-angle"),  # 14.24*cos(7.5)
        ("ankle-then-knee", "r_y2", "0.4352 m", "another-angle"),  # 0.44*cos(8.5), of the foot
        ("elbow-muscle-arm", "L", "0.8333 m", "feet-and-inches"),  # 10.0 in over 12
        ("shoulder-lantern-held-out", "AR", "0.08313", "arms-for-distances"),
        ("plain-door-push", "M_sum", "-68.91 N m", "opposite-convention"),  # 2.2 and 9.81 for lbf
        ("plain-door-push", "M_sum", "154.4 N m", "sign-of-a-moment"),
        ("plain-lamp-two-cords", "T_l", "-40.99 N", "needless-minus"),
        ("plain-lamp-two-cords", "T_r", "-61.88 N", "needless-minus"),
        ("plain-lamp-two-cords", "T_l", "35.59 N", "half-for-each-of-two"),
        ("plain-lamp-two-cords", "T_l", "71.18/2 N", "half-for-each-of-two"),
        ("plain-lamp-two-cords", "T_r", "71.18/2 N", "half-for-each-of-two"),
    ],
)
def test_a_slip_worked_by_hand_is_told(problem: str, key: str, text: str, slip: str) -> None:
    """The slip that was made is told or asked first, alone, and has its hints."""
    working, verdict = entered(problem, key, text)
    assert verdict.outcome is Outcome.WRONG
    assert slips_named(verdict)[0] == [slip]
    assert CATALOGUE.slips[slip].name in tell(working, verdict, CATALOGUE)
    assert all(hint.text for hint in hints(working, key, CATALOGUE))


def test_a_ratio_of_lengths_is_no_pair_with_a_power_of_ten_on_a_line_skipped() -> None:
    """With nothing written, 7.609 is the arms the wrong way round, and W_f has no part in it."""
    _, verdict = entered(PAIL, "MA", "7.609", before=False)
    assert slips_named(verdict)[0] == ["other-ratio-upside-down"]


@pytest.mark.parametrize(
    ("problem", "key", "text", "slip"),
    [
        ("ankle-toes-lifted", "M_sum", "-2.992 N m", "rounded-early"),  # 14.715*0.16 for M_s
        ("hip-lifted-leg", "x_s", "0.1987 m", "angle-of-a-part-left-out"),  # of both parts
    ],
)
def test_a_slip_on_lines_that_were_skipped_is_told(
    problem: str, key: str, text: str, slip: str
) -> None:
    _, verdict = entered(problem, key, text, before=False)
    assert slips_named(verdict)[0] == [slip]


@pytest.mark.parametrize("key", ["M_sum", "F_m", "MA", "R_y"])
def test_pairs_begin_at_the_line_itself(key: str) -> None:
    """Two slips at the line come before one on a line not reached; there no power of ten is one."""
    derivation = PROBLEMS[PAIL].question("7").derivation
    found = [h for h in hypotheses(derivation, CATALOGUE) if h.step in (key, "W_f", "M_l")]
    at_line = [all(one.step == key for one in pair) for pair in pairs(found, key)]
    count = sum(at_line)
    assert 0 < count < len(at_line), "there are pairs of both kinds"
    assert at_line == [True] * count + [False] * (len(at_line) - count)
    for pair in pairs(found, key):
        assert any(one.step == key for one in pair)
        tens = [one for one in pair if one.slip.id == "power-of-ten"]
        assert all(one.step == key for one in tens)


@pytest.mark.parametrize(
    ("problem", "key", "text", "said"),
    [
        (BOX, "r_m", "19.5*cos(13.2) cm", "cos stands where sin belongs."),
        (
            PAIL,
            "F_m",
            "17.13/0.046 N",
            "17.13 stands where M_sum belongs (that is the value of M_l alone).",
        ),
        (PAIL, "F_m", "(17.13+2.3+1)/0.046 N", "(17.13 + 2.3 + 1) stands where M_sum belongs."),
    ],
)
def test_arithmetic_is_told_as_it_stands(problem: str, key: str, text: str, said: str) -> None:
    """A unit behind a product belongs to all of it, and brackets are quoted."""
    working, verdict = entered(problem, key, text)
    assert tell(working, verdict, CATALOGUE).endswith(f"In what you typed, {said}")


def test_a_force_is_never_added_to_a_moment_in_what_is_told() -> None:
    """With nothing written, another arm does not make of M_sum a moment less a weight."""
    working, verdict = entered(PAIL, "F_m", "5.184/0.35 N", before=False)
    told = tell(working, verdict, CATALOGUE)
    assert "5.184 stands where M_sum belongs" in told


def test_arithmetic_has_one_story() -> None:
    """What was worked out on the line was not copied from another."""
    working, verdict = entered(BOX, "F_mx", "3509*sin(13.2) N")
    (slips,) = slips_named(verdict)
    assert set(slips) == {"sine-for-cosine", "sign-of-a-component"}
    assert "another line" not in tell(working, verdict, CATALOGUE)


@pytest.mark.parametrize("text", ["372.4 N", "17.13/0.046 N"])
def test_showing_the_arithmetic_gives_no_worse_a_diagnosis(text: str) -> None:
    """The weight of the forearm is left out, whether its arithmetic is shown or not."""
    _, verdict = entered(PAIL, "F_m", text)
    assert slips_named(verdict)[0] == ["own-weight-left-out"]


def test_the_size_of_a_unit_says_which_way_the_number_goes() -> None:
    """A factor the wrong way round is told by what the unit is beside a kilogram."""
    working, verdict = entered(PAIL, "W_l", "237.9 N")  # 11*2.205*9.81
    assert slips_named(verdict)[0] == ["conversion-upside-down"]
    assert (
        "less than half a kilogram, so the number must shrink"
        in hints(working, "W_l", CATALOGUE)[1].text
    )


def test_the_ratio_of_distances_is_asked_for_and_explained_as_one() -> None:
    """Where forces are split, prompt, formula and hint speak of distances, and these are right."""
    question = PROBLEMS["shoulder-lantern-held-out"].question("7")
    working, verdict = entered("shoulder-lantern-held-out", "AR", "0.2246")  # 5.3/23.6
    assert verdict.outcome is Outcome.RIGHT
    assert "moment arm" not in " ".join(
        hint.text for hint in hints(Working(question), "AR", CATALOGUE)
    )
    assert "d_m" in hints(working, "AR", CATALOGUE)[2].text
