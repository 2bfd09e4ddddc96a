"""Ways of writing that pages in many hands have: letters laid down, columns, lengths on the way."""

from __future__ import annotations

import math

import pytest
from helpers.drill_sittings import SHELF
from leverstep.claims.columns import columns_above, header_of
from leverstep.claims.judged_line import LineStanding
from leverstep.claims.letters_laid_down import letters_laid_down
from leverstep.claims.page_of_claims import judge_page
from leverstep.claims.rows import cells_of
from leverstep.claims.subject import Subject
from leverstep.course.problem import Question

CORDS = "ankle-traction-two-cords"
LAMP = "plain-lamp-two-cords"
TRUNK = "lumbar-leaning-trunk"
PARTS = ["R_x = {R_x} N", "R_y = {R_y} N"]
PLANK = Subject(SHELF.problems["plain-plank-and-buckets"].question("7"))


@pytest.mark.parametrize(
    ("text", "letters"),
    [
        ("P plank, H hand", [(("P",), ("W_p",)), (("H",), ("F_h",))]),
        ("P = plank, S the trestle", [(("P",), ("W_p",)), (("S",), ("R_y",))]),
        ("B1 B2 buckets", [(("B1", "B2"), ("W_f", "W_n"))]),
        ("P plank", []),  # it may be said of anything
        ("P = 78.5 for the plank, H = 77.7 for the hand", []),
        ("P plank 12345 N, H hand", []),
    ],
)
def test_letters_are_laid_down_where_nothing_is_worked_out(text: str, letters: object) -> None:
    assert letters_laid_down(text, PLANK) == letters


HEADER = header_of("        N    deg     x       y")


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("D     125   110   -42.8   117.5", ["", "", "", "horizontal", "vertical"]),
        ("sum               -160.5   97.9", ["", "horizontal", "vertical"]),
        ("sum | -160.5 | 97.9", ["", "", ""]),
        ("D     125   110   70   60   50", [""] * 6),
    ],
)
def test_a_row_stands_under_the_columns_that_its_cells_are_below(
    row: str, words: list[str]
) -> None:
    assert [one.words for one in columns_above(row, cells_of(row), HEADER)] == words


@pytest.mark.parametrize(
    ("problem", "lines", "standing"),
    [
        # a force by its letter in a table, and what lies along the other axis
        ("shoulder-three-by-bearing", ["       x       y", "D      {F_dx}    {F_dy}"], "right"),
        ("shoulder-three-by-bearing", ["       x       y", "D      {F_dy}    {F_dx}"], "unread"),
        # the way along a segment, a coordinate by its letter alone
        ("hip-lifted-leg", ["down the shank: 0.606 * {L_s} = {shank} m"], "kept"),
        ("hip-lifted-leg", ["knee: x = {x_k} m", "all: x = {x_c} m"], "right"),
        # the way between two points told by their coordinates
        ("elbow-arm-on-a-photo", ["upper arm length = 31.4 cm"], "kept"),
        ("elbow-arm-on-a-photo", ["distance from elbow to wrist = 23.3 cm"], "kept"),
        ("elbow-arm-on-a-photo", ["y = 12.9 cm down"], "right"),
        # what is given, by its letter alone
        ("knee-leg-sped-up", ["α = {q} rad/s2", "I.α = {I} * {q} = {more} N.m"], "kept"),
        # where the answer lies, and a sum of letters
        ("hip-lifted-leg", ["x = {x_c} m", "{x_c} m in front of the hip"], "right"),
        ("hip-lifted-leg", ["y = {y_c} m", "so {c} m below the hip"], "right"),
        ("hip-lifted-leg", ["y = {y_c} m", "so {c} m above the hip"], "unread"),
        (
            "elbow-then-shoulder",
            ["W_f = {W_f} N", "W_u = {W_u} N", "W_f + W_u = {s} N"],
            "kept",
        ),
        # forces through one point, put together
        (CORDS, ["the cords hold sqrt({F_l}^2 + {W_g}^2) = {whole} N together"], "kept"),
        (CORDS, ["U/sin {v} = V/sin {u} = {whole}/sin {uv}"], "right"),
        (CORDS, ["U/sin {u} = V/sin {v} = {whole}/sin {uv}"], "unread"),
        (CORDS, ["across: {T_u} cos {alpha} + {T_v} cos {beta} = {F_l} N"], "right"),
        ("shoulder-two-parts-of-deltoid", ["angle between the two = 180-58-74 = 48 deg"], "kept"),
        # a slip in an equation of forces, and what follows from two of them
        (CORDS, ["T_u cos {alpha} + T_v sin {beta} = {F_l} N"], "wrong"),
        (CORDS, ["T_u cos {alpha} - T_v cos {beta} = {F_l} N"], "wrong"),
        (LAMP, ["T_l sin {alpha} + T_r sin {beta} = {m_w} N"], "wrong"),
        (LAMP, ["T_l sin {alpha} + T_r sin {beta} = {m_w}"], "unread"),  # it may be in kilograms
        (
            LAMP,
            [
                "T_l cos {beta} = T_r cos {alpha}",
                "T_l sin {alpha} + T_r sin {beta} = {W_w} N",
                "{k} T_r = {W_w} N",
            ],
            "follows",
        ),
        # a letter that is laid down alone, an arm that has a moment
        ("elbow-table-push", ["moment of my arm: {W_f} * {d_f} = {M_f}"], "right"),
        ("body-lean-on-wall", ["h = push on the hands", "{W_p} * {r_p} = h * {r_h}"], "right"),
        # forces in shares of the body's weight
        ("body-press-up-held", ["in % of BW", "100 * {d_b} = H * {d_h}"], "right"),
        ("body-press-up-held", ["100 * {d_b} = H * {d_h}"], "unread"),
        # a sum that its terms tell, an angle that its components tell
        ("plain-wheelbarrow", ["moment {W_s}*{d_s} - {W_b}*{d_b} = {less} N m"], "wrong"),
        ("plain-wheelbarrow", ["moment {W_s}*{d_s} + {W_b}*{d_b} = {M_sum} N m"], "right"),
        ("plain-wheelbarrow", ["{W_s}*{d_s} - {W_b}*{d_b} = {less} N m"], "unread"),
        (TRUNK, [*PARTS, "atan({R_x}/{R_y}) = {other}° above the horizontal"], "wrong"),
        (TRUNK, [*PARTS, "atan({R_x}/{R_y}) = {other}° from the upright"], "unread"),
        (TRUNK, [*PARTS, "atan({R_y}/{R_x}) = {phi_R}° above the horizontal"], "right"),
        # each force with the other's arm
        ("neck-head-upright", ["extensors {W_h} * {d_m} / {d_h} = {swapped} N"], "wrong"),
        # what the segment before bears, told of the next
        ("elbow-then-shoulder", ["the upper arm: the elbow is pulled down with {R_y1} N"], "right"),
    ],
)
def test_a_line_is_taken_for_what_it_says(problem: str, lines: list[str], standing: str) -> None:
    question = SHELF.problems[problem].question("7")
    values = {key: f"{value:.4g}" for key, value in (question.right | _more(question)).items()}
    page = judge_page(question, [line.format(**values) for line in lines])
    assert page.lines[-1].standing == standing


def _more(question: Question) -> dict[str, float]:
    """Return further numbers of a question, by a name for each."""
    right, found = question.right, dict(question.numbers)
    match question.problem.id:
        case "hip-lifted-leg":
            found |= {"shank": 0.606 * right["L_s"], "c": -right["y_c"]}
        case "knee-leg-sped-up":
            inertia = next(question.in_si(one) for one in question.givens if one.sign == "I_s")
            more = right["M_q"] - right["M_net"]
            found |= {"I": inertia, "more": more, "q": more / inertia}
        case "elbow-then-shoulder":
            found["s"] = right["W_f"] + right["W_u"]
        case "neck-head-upright":
            found["swapped"] = right["W_h"] * right["d_m"] / right["d_h"]
        case "plain-wheelbarrow":
            found["less"] = abs(right["M_s"]) - abs(right["M_b"])
        case "lumbar-leaning-trunk":
            found["other"] = 90 - right["phi_R"]
        case "plain-lamp-two-cords":
            alpha, beta = (math.radians(found[angle]) for angle in ("alpha", "beta"))
            found["m_w"] = right["W_w"] / question.accepted["g"][0]
            found["k"] = math.sin(2 * alpha) / 2 / math.cos(beta) + math.sin(beta)
        case "ankle-traction-two-cords":
            slope = math.degrees(math.atan2(right["W_g"], right["F_l"]))
            found |= {"u": found["alpha"] - slope, "v": found["beta"] + slope}
            found |= {"uv": 180 - found["alpha"] - found["beta"]}
            found["whole"] = math.hypot(right["W_g"], right["F_l"])
    return found


@pytest.mark.parametrize(
    "line",
    [
        "friction stops the feet sliding",
        "static friction prevents slipping",
        "safe against slipping",
        "does the foot slip",
    ],
)
@pytest.mark.parametrize("seed", ["1", "2"])
def test_a_sentence_about_slipping_is_no_answer(line: str, seed: str) -> None:
    question = SHELF.problems["body-lean-on-wall"].question(seed)
    (judged,) = judge_page(question, [line]).lines
    assert judged.standing in (LineStanding.REMARK, LineStanding.UNREAD)


def test_a_letter_between_two_equals_signs_keeps_its_meaning_after_friction() -> None:
    question = SHELF.problems["body-lean-on-wall"].question("1")
    text = f"friction = F = {question.right['F_h']:.1f} N"
    (judged,) = judge_page(question, [text]).lines
    assert [claim.key for claim in judged.claims] == ["F_h"]


def test_an_equation_behind_the_sum_of_forces_is_read() -> None:
    question = SHELF.problems["elbow-kettlebell"].question("1")
    (judged,) = judge_page(question, ["sum of forces: F_m - W_f - W_l + R_y = 0"]).lines
    assert judged.standing is LineStanding.RIGHT
