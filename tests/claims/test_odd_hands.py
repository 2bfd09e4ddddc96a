"""Right lines in odd hands: own axes, the force on the other body, one side of two, what would be,
moments about other points, and what is only said. None of them is called wrong.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from leverstep.claims.judged_line import LineStanding
from leverstep.claims.page_of_claims import judge_page
from leverstep.course.shelf import load_shelf

SHELF = load_shelf()
HERE = Path(__file__).parent
MOST = (HERE / "odd_hands.txt").read_text("utf-8").split("@")[1:]
"""Pages of a problem and a seed, each with right lines alone."""
FURTHER = (HERE / "further_hands.txt").read_text("utf-8").split("@")[1:]
"""Such pages in ordinary hands, on what goes beyond one posture and its balance of moments."""
SEEN = {LineStanding.RIGHT, LineStanding.KEPT, LineStanding.FOLLOWS}


def standings(page: str) -> dict[str, LineStanding]:
    """Return what the lines of a page turn out to be."""
    head, *texts = page.splitlines()
    problem, seed = head.split()
    judged = judge_page(SHELF.problems[problem].question(seed), texts)
    return {line.text: line.standing for line in judged.lines}


@pytest.mark.parametrize("page", [*MOST, *FURTHER], ids=lambda page: page.split("\n")[0])
def test_no_right_line_is_called_wrong(page: str) -> None:
    found = standings(page)
    assert found
    assert [text for text, one in found.items() if one is LineStanding.WRONG] == []


def test_most_of_them_are_understood() -> None:
    count = Counter(one in SEEN for page in MOST for one in standings(page).values())
    assert count.total() > 200
    assert count[True] > 0.7 * count.total()
    further = Counter(one in SEEN for page in FURTHER for one in standings(page).values())
    assert further.total() > 300
    assert further[True] > 0.9 * further.total()


@pytest.mark.parametrize(
    ("problem", "seed", "before", "text", "standing"),
    [
        # the joint is what the sentence begins with
        (
            "elbow-full-pail", "457", ["F = 857 N"],
            "the elbow pushes down with 857 - 95.65 = 761 N", "wrong",
        ),
        ("jaw-back-teeth", "38", [], "Force in the joint: 237.5 N + 150 N = 387.5 N", "wrong"),
        # measured sides agree by their units
        ("finger-key-press", "753", [], "lever arm of the tendon: 4.4 mm = 4.4e-2 m", "wrong"),
        ("finger-key-press", "753", [], "tendon: 4.4 mm = 4.4×10^-3 m", "right"),
        # from the vertical
        ("hip-one-leg-stance", "864", ["R = 1789 N"], "at 79.4° to the vertical", "wrong"),
        ("hip-one-leg-stance", "864", ["R = 1789 N"], "at 10.6° to the vertical", "right"),
        # weights in kilograms, and forces in body weights
        ("ankle-tiptoe-one-foot", "272", ["M = 336.6 kgf in"], "F = 336.6/2 = 168.3 kgf", "right"),
        ("ankle-tiptoe-one-foot", "272", [], "in body weights: calf 2.75", "kept"),
        # a ratio the wrong way round, though no sign stands behind its name
        ("knee-curl-back", "112", [], "AR 14.4/1.65 = 8.73", "wrong"),
        # indices below the line, beside each other
        (
            "elbow-how-much", "531", ["W₁ = 11.8 N", "x₁ = 17.5 cm", "x₂ = 34.6 cm", "xₘ = 4.0 cm"],
            "Fₘxₘ = W₁x₁ + W₂x₂", "wrong",
        ),
        # what would be, and what is given
        ("plain-seesaw-where", "704", [], "(without the bag it would be 37.5/39 = 0.96 m)", "kept"),
        ("jaw-back-teeth", "38", [], "The nut pushes the jaw down with 150 N, 5.7 cm away", "kept"),
        ("jaw-back-teeth", "38", [], "Given: nut 150 N at 5.7 cm", "remark"),
        # a number of another force, or in another unit, by chance
        (
            "ankle-standing-lean-moment", "235", ["body 59 x 9.81 = 578.8 N"],
            "Floor pushes up with 578.8 N", "unread",
        ),
        # two cells, and a header
        ("lumbar-level-trunk", "408", [], "Rx | 4007 N to the right", "right"),
        ("knee-kneecap", "223", [], "kneecap tendon  x: -1500 sin73.5 = -1438", "wrong"),
        # an angle that is sought, in an equation or in a term that words name
        ("elbow-sinking-in-a-brace", "9", [], "23,5 · 0,175 · cos θ = 1,3", "right"),
        ("elbow-sinking-in-a-brace", "9", [], "23,5 · 0,175 · sin θ = 1,3", "wrong"),
        (
            "elbow-sinking-in-a-brace", "9", ["23,5 · 0,175 · sin θ = 1,3", "4,12 sin θ = 1,3"],
            "sin θ = 0,316", "follows",
        ),
        (
            "elbow-sinking-in-a-brace", "9", ["G = 2,40 · 9,81 = 23,5 N"],
            "lever arm of G: 0,175 sin θ", "wrong",
        ),
        (
            "elbow-sinking-in-a-brace", "9", ["G = 2,40 · 9,81 = 23,5 N"],
            "lever arm of G: 0,175 cos θ", "kept",
        ),
        ("elbow-sinking-in-a-brace", "9", [], "joint: R = 23,5 + 1,3 = 24,8 N, upward", "wrong"),
        # a value in the unit of its own line
        ("jaw-hard-bread", "27", ["bite = 129.9 N"], "this is 129.9 × 4.448 = 578 lbf", "wrong"),
        (
            "jaw-hard-bread", "27", ["bite = 129.9 N"],
            "In kilograms-force it is 129.9 ÷ 9.81 = 13.24 kgf", "right",
        ),
        # a cosine that does not belong, and the one quantity in its unit
        ("knee-steady-machine", "19", [], "M_pad = 205 · 0.330 · 0.883 = 59.7 Nm", "wrong"),
        ("knee-steady-machine", "19", ["M_net = 76.7 N m"], "P = 76.7 · 160 = 12272 W", "wrong"),
        ("knee-steady-machine", "19", [], "11 kW? no: ω = 160 π/180 = 2.79 rad/s", "kept"),
        # muscles with a moment, and a couple handed on
        ("elbow-then-shoulder", "31", [], "muscles at the elbow: 5.68 Nm ccw", "right"),
        ("elbow-then-shoulder", "31", [], "couple from the elbow: 5.68 Nm cw", "right"),
        # postures by their headings, and the ratio of their two forces
        ("lumbar-near-and-far", "3", ["near", "F = 492 N", "b) far"], "F = 1027 N", "right"),
        ("lumbar-near-and-far", "3", ["near", "R = 610 N", "b) far"], "R = 1145 N", "right"),
        ("lumbar-near-and-far", "3", [], "F_2/F_1 = 2.09", "right"),
        ("lumbar-near-and-far", "3", [], "F_f/F_n = 0.479", "wrong"),
        # components of a force that the page has by a letter; a bracket behind a letter
        ("finger-hook-bucket", "14", ["A = 65.7 N"], "A_x = -61.4 N", "right"),
        ("plain-lamp-two-cords", "11", [], "I (sin 33 + 1.583 sin 58) = 53.39", "right"),
        ("plain-lamp-two-cords", "11", [], "I (cos 33 + 1.583 cos 58) = 53.39", "unread"),
        # an unknown moment that is nothing, a direction that is not, and a class with a point
        (
            "elbow-full-pail", "7", [],
            "R_y*0 + F_m*4.6 - 16.19*17.4 - 48.94*35 = 0", "right",
        ),
        ("finger-hook-bucket", "14", [], "so R acts at 37° below the horizontal", "unread"),
        ("finger-hook-bucket", "14", [], "so R acts at 37° above the horizontal", "right"),
        ("finger-hook-bucket", "14", [], "it points 37° below the line to the right", "right"),
        ("finger-hook-bucket", "14", [], "3. class", "right"),
        ("finger-hook-bucket", "14", [], "2. class", "remark"),
        # an arm whose force stands behind it, and a reaction that no line is for
        ("finger-hook-bucket", "14", [], "e = 12.0 cos30 = 10.4 mm   (tendon T)", "wrong"),
        ("finger-hook-bucket", "14", [], "e = 12.0 sin30 = 6.0 mm   (tendon T)", "right"),
        ("jaw-hard-bread", "27", [], "The joint presses with 360 − 129.9 = 230 N, down", "kept"),
        ("jaw-hard-bread", "27", [], "The joint presses with 230 N up", "unread"),
        # a point by its coordinates
        ("hip-lifted-leg", "6", [], "knee: 39.0 (cos 26, -sin 26) = (35.1, -17.1) cm", "right"),
        # a coordinate has its sign
        ("hip-lifted-leg", "6", [], "0 = 13.52*y_c + 270.6", "right"),
        ("hip-lifted-leg", "6", [], "0 = 13.52*y_c - 270.6", "unread"),
    ],
)  # fmt: skip
def test_one_line_is_read(
    problem: str, seed: str, before: list[str], text: str, standing: str
) -> None:
    page = judge_page(SHELF.problems[problem].question(seed), [*before, text])
    assert page.lines[-1].standing == standing
