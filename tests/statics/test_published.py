"""Problems that books print with their answers, as files in `published`, solved again here.

Each figure is written as printed, with a power of ten where its last digits only hold the place,
so that half a unit of its last digit can be read from it. A figure that a book reached by way of
rounded ones is kept as `printed` beside the unrounded one, with the reason.

The books of OpenStax were read in their sources: College Physics in its second edition (2022),
University Physics Volume 1 in its only one (2016, from memory). Of Davidovits, Physics in Biology
and Medicine, an extract was read that does not name its edition, and of the notes of Duarte and
Watanabe a version without a number, which names no edition of Meriam and Kraige, or of Winter.

Of Winter's two segments in a row only the first numbers were read, the others are from memory; that
all of them give the figures printed for ankle and knee speaks for both. Two more that books print
of one piece are cut in two here, and must come out again.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

import pytest
from helpers.source import TESTS
from leverstep.course.shelf import load_shelf
from leverstep.statics.graph import Values

PUBLISHED = TESTS / "published"
SHELF = load_shelf([PUBLISHED])

# g is 9.80 m/s² in both physics books and in Davidovits; a pound of force is 4.448 N in University
# Physics, Appendix B.
BOOKS = {"g": 9.8, "newtons_per_pound": 4.448}


@dataclass(frozen=True)
class Answer:
    """A figure of a book, how it follows from the steps, and why a printed one differs."""

    figure: str
    of: Callable[[Values], float]
    printed: str = ""
    why_not: str = ""


def at(key: str, sign: int = 1) -> Callable[[Values], float]:
    """Return the function that gives the value of one step, or its opposite."""
    return lambda v: sign * v[key]


def agrees(value: float, figure: str) -> bool:
    """Return whether a value lies within half a unit of the last digit of a figure."""
    exponent = Decimal(figure).as_tuple().exponent
    assert isinstance(exponent, int)
    value_without_noise = round(Decimal(value), 9)
    return abs(value_without_noise - Decimal(figure)) <= Decimal(5).scaleb(exponent - 1)


ANSWERS: dict[str, list[Answer]] = {
    # OpenStax, College Physics 2e, 2022, section 9.6, Example 9.4
    "elbow-book": [
        Answer("470", at("F_m")),
        Answer("63.7", lambda v: v["W_a"] + v["W_b"]),
        Answer("7.38", lambda v: v["F_m"] / (v["W_a"] + v["W_b"])),
        Answer("407", at("R_y", -1)),
        Answer("6.38", lambda v: -v["R_y"] / (v["W_a"] + v["W_b"])),
        Answer("3", at("class")),
    ],
    # OpenStax, University Physics Volume 1, 2016, section 12.2, Example 12.4
    "forearm-fifty-pounds": [
        Answer("433.3", at("P_m")),
        Answer("1927", at("F_m")),
        Answer("383.3", at("P_R")),
        Answer("1705", at("R_y", -1)),
        Answer("3", at("class")),
    ],
    # the same, with its angle as the book gives it
    "forearm-from-the-upright": [Answer("433.3", at("P_m")), Answer("383.3", at("P_R"))],
    # Nordin and Frankel, as a public page of a course repeats it
    "back-compression": [
        Answer("3850", at("F_m")),
        Answer("4382.4", at("R_a")),
        Answer("372.8", at("R_t")),
        Answer("1", at("R_effect")),
    ],
    # Serway, from memory; on a level spine, along is horizontal
    "back-twelve-degrees": [
        Answer("2.71e3", at("F_m")),
        Answer("2.65e3", at("R_x")),
        Answer("2.65e3", at("R_a")),
        Answer("1", at("R_effect")),
    ],
    # OpenStax, University Physics Volume 1, 2016, section 12.2, Problem 39
    "forearm-ball": [Answer("539", at("F_m")), Answer("461", at("R_y", -1))],
    # Davidovits, Physics in Biology and Medicine, edition not known, section 1.6
    "elbow-slanting-biceps": [
        Answer("10.5", lambda v: v["F_m"] / v["W_l"]),
        Answer("1.44e3", at("F_m")),
        Answer("4.3e2", at("R_x")),
        Answer("1234.8", at("R_y", -1), "1.24e3", "from the rounded 1440 N"),
        Answer("1307.515", at("R"), "1.32e3", "430² + 1240² is misprinted as 1.74e6"),
        Answer("70.80183", at("phi_R"), "70.9", "from the rounded 1240 N and 430 N"),
    ],
    # OpenStax, College Physics 2e, 2022, section 9.6, Problem 32
    "head-erect": [
        Answer("25", at("F_m")),
        Answer("75", at("R_y")),
        Answer("1", at("class")),
    ],
    # OpenStax, College Physics 2e, 2022, section 9.6, Example 9.5
    "back-lift": [
        Answer("4.20e3", at("F_m")),
        Answer("833", lambda v: v["W_u"] + v["W_b"]),
        Answer("5.04", lambda v: v["F_m"] / (v["W_u"] + v["W_b"])),
        Answer("2.87e3", at("R_y")),
        Answer("3.67e3", at("R_x")),
        Answer("4.66e3", at("R")),
        Answer("38.0", at("phi_R")),
        Answer("5.59", lambda v: v["R"] / (v["W_u"] + v["W_b"])),
        Answer("1", at("class")),
    ],
    # OpenStax, College Physics 2e, 2022, section 9.6, Problem 33
    "tiptoe": [
        Answer("2.21e3", at("F_m")),
        Answer("2.94e3", at("R_y", -1)),
        Answer("1", at("class")),
    ],
    # OpenStax, College Physics 2e, 2022, section 9.6, Problem 37
    "push-up-body": [Answer("147", at("F_o")), Answer("2", at("class"))],
    "push-up-arm": [
        Answer("1.68e3", at("F_m")),
        Answer("3.4", at("n_m")),
        Answer("1", at("class")),
    ],
    "push-up-both-arms": [Answer("1.68e3", at("F_l")), Answer("1.68e3", at("F_r"))],
    # the same problem, both parts in one working
    "push-up-in-one": [Answer("147", at("F_o")), Answer("1.68e3", at("F_m"))],
    # OpenStax, College Physics 2e, 2022, section 9.2, Example 9.1
    "seesaw": [Answer("1.30", at("d_b")), Answer("568", at("R_y"))],
    # OpenStax, College Physics 2e, 2022, section 9.2, Problem 5
    "seesaw-heavy-board": [Answer("1.36", at("d_b")), Answer("686", at("R_y"))],
    # OpenStax, University Physics Volume 1, 2016, section 12.2, Problem 33
    "seesaw-unknown-board": [Answer("40", at("m_w"))],
    # OpenStax, University Physics Volume 1, 2016, section 10.6, Example 10.14
    "four-forces": [
        Answer("160", at("M_a")),
        Answer("-60", at("M_b")),
        Answer("120", at("M_c")),
        Answer("10", at("M_d")),
        Answer("230", at("M_sum")),
    ],
    # Duarte and Watanabe after Meriam and Kraige, Statics, editions not known: size of the moment
    "slanting-force": [Answer("2.61e3", at("M_a", -1))],
    # Duarte and Watanabe after Winter, editions not known; Winter's answers from memory
    "standing-foot": [Answer("-579.2", at("R_y")), Answer("-22.99", at("M_net"))],
    # OpenStax, College Physics 2e, 2022, section 9.6, Problem 28: direction 190° is 10° below the
    # left, so the opposite force points 10° above the right
    "kneecap": [Answer("1.1e3", at("R")), Answer("10", at("phi_R")), Answer("4", at("R_dir"))],
    "kneecap-resultant": [
        Answer("1.1e3", at("R")),
        Answer("190", lambda v: 180 + v["phi_R"]),
        Answer("-4", at("R_dir")),
    ],
    "kneecap-by-bearing": [
        Answer("1.1e3", at("R")),
        Answer("190", lambda v: 180 + v["phi_R"]),
    ],
    # Hibbeler, Engineering Mechanics: Statics, chapter 2, from memory
    "screw-eye": [Answer("213", at("R")), Answer("54.8", at("phi_R"))],
    # OpenStax, College Physics 2e, 2022, section 4.7, an example, from memory
    "traffic-light": [Answer("108", at("T_l")), Answer("132", at("T_r"))],
    # Serway, read with its answers on assignmentexpert.com
    "traffic-light-in-newtons": [Answer("73.4", at("T_l")), Answer("97.4", at("T_r"))],
    # Hibbeler, Engineering Mechanics: Statics, chapter 3, from memory
    "cylinder-on-cables": [Answer("420", at("T_l")), Answer("475.66", at("T_r"))],
    # OpenStax, College Physics 2e, 2022, section 9.4, Example 9.2
    "pole": [Answer("32.7", at("F_r")), Answer("16.3", at("R_y"))],
    # OpenStax, College Physics 2e, 2022, section 9.5, Example 9.3
    "wheelbarrow": [
        Answer("32.4", at("F_i")),
        Answer("409", at("R_y")),
        Answer("13.6", at("MA")),
        Answer("13.6", at("AR")),
        Answer("2", at("class")),
    ],
    # OpenStax, College Physics 2e, 2022, section 9.5, Problem 19
    "nail-puller": [
        Answer("25", at("MA")),
        Answer("25", at("AR")),
        Answer("50", at("F_i")),
        Answer("1", at("class")),
        Answer("25", at("q_d")),
    ],
    # Keith, The Engines of the Human Body, and Perelman, Physics for Entertainment, as pages of
    # others repeat them: so many times the force, and the speed
    "forearm-half-an-inch": [Answer("24", at("P_m")), Answer("24", lambda v: 100 * v["v_l"])],
    "forearm-eight-times": [
        Answer("80", lambda v: v["F_m"] / 9.8),
        Answer("8", lambda v: 100 * v["v_l"]),
    ],
    # OpenStax, College Physics 2e, 2022, section 9.5, the problem of a wheelbarrow
    "wheelbarrow-heavier": [
        Answer("18.5", at("MA")),
        Answer("18.5", at("q_d")),
        Answer("29.1", at("F_i")),
        Answer("510", at("R_y")),
    ],
    # OpenStax, University Physics Volume 1, 2016, section 12.2, Example 12.5, from memory
    "ladder-slippery-wall": [
        Answer("150.7", at("F_w")),
        Answer("400.0", at("R_y")),
        Answer("0.377", at("mu_n")),
    ],
    # notes and questions with their answers, read in public repositories
    "ladder-with-a-man": [
        Answer("426.0", at("F_w")),
        Answer("950", at("R_y")),
        Answer("0.448", at("mu_n")),
    ],
    "ladder-at-sixty": [Answer("28.9", at("F_w")), Answer("0.29", at("mu_n"))],
    # Young and Geller, College Physics, edition not known, read with its answer on
    # studyquestionhub.com; the book's 755 N made 25.2 cm²
    "gastrocnemius-area": [Answer("7.6e2", at("F_m")), Answer("25.2", lambda v: v["F_m"] / 30)],
    # a problem of a course on muscles, read with its answers on csr.engine.ac.nz
    "pennate-muscle": [
        Answer("50", at("F_m")),
        Answer("5", at("F_t")),
        Answer("48.2963", at("R_a")),
    ],
    # an exercise of a course on kinesiology, read with its answers on quesba.com
    "rotary-part": [Answer("34", at("R_a")), Answer("93.97", at("R_t", -1))],
    # OpenStax, College Physics 2e, 2022, section 4.7, from memory
    "scale-in-a-lift": [Answer("825", at("R_y"))],
    # OpenStax, University Physics Volume 1, 2016, section 10.8, Example 10.16, from memory
    "engine-shaft": [Answer("9.0e4", at("P_s"))],
    # the same with the length left open, as the book has it
    "boom-of-any-length": [
        Answer("778", at("F_c")),
        Answer("778", at("R")),
        Answer("45", at("phi_R")),
    ],
    # OpenStax, University Physics Volume 1, 2016, section 12.2, Problem 41
    "boom": [Answer("778", at("F_c")), Answer("778", at("R")), Answer("45", at("phi_R"))],
    # OpenStax, University Physics Volume 1, 2016, section 12.2, Example 12.3
    "torque-balance": [
        Answer("316.7", lambda v: 1000 * v["m_c"]),
        Answer("5.8", at("R_y")),
    ],
    # two of OpenStax, University Physics Volume 1, 2016, section 12.2, turned round
    "boom-which-way": [Answer("65", at("theta")), Answer("45", at("phi_R"))],
    "sign-which-way": [Answer("36.9", at("theta")), Answer("18", at("phi_R"))],
    # OpenStax, College Physics 2e, 2022, section 9.6, Example 9.4, with a couple
    "elbow-book-moved": [Answer("470", at("F_m")), Answer("407", at("R_y", -1))],
    # OpenStax, College Physics 2e, 2022, section 9.2, Problem 3, with a couple
    "door-couple": [Answer("23.3", at("F_b"))],
    # the same as torque-balance, with the places as the book gives them
    "torque-balance-marks": [
        Answer("316.7", lambda v: 1000 * v["m_c"]),
        Answer("5.8", at("R_y")),
        Answer("0.70", at("d_a")),
        Answer("0.20", at("d_s")),
    ],
    # Meriam, Kraige and Bolton, Engineering Mechanics: Statics, 8th ed., 2015, sample problem 2/5,
    # from memory
    "slanting-force-on-post": [Answer("4.35", at("a_p")), Answer("2610", at("M_p", -1))],
    # OpenStax, University Physics Volume 1, 2016, section 12.2, Problem 37
    "ladder": [Answer("784", at("R_y")), Answer("132.8", at("R_x"))],
    # OpenStax, University Physics Volume 1, 2016, section 12.2, Problem 35
    "scaffold": [Answer("444.3", at("F_r")), Answer("888.5", at("R_y"))],
    # OpenStax, University Physics Volume 1, 2016, section 12.2, Problem 43
    "trapdoor": [
        Answer("1.50e3", at("F_r")),
        Answer("1.62e3", at("R")),
        Answer("30", at("phi_R")),
    ],
    # the same with the length left open
    "trapdoor-of-any-length": [
        Answer("1.50e3", at("F_r")),
        Answer("1.62e3", at("R")),
        Answer("30", at("phi_R")),
    ],
    # OpenStax, University Physics Volume 1, 2016, section 12.2, Check Your Understanding 12.8
    "sign": [Answer("1167", at("F_c")), Answer("980", at("R")), Answer("18", at("phi_R"))],
    # OpenStax, College Physics 2e, 2022, section 9.2, Problem 3
    "door-children": [Answer("23.3", at("F_b"))],
    # OpenStax, College Physics 2e, 2022, section 9.6, Problem 39
    "seesaw-too-short": [Answer("2.33", at("d_b"))],
    # OpenStax, College Physics 2e, 2022, section 9.6, Problem 35
    "jaw-bullet": [Answer("1.2e2", at("G_b")), Answer("84", at("R_y", -1))],
    # OpenStax, University Physics Volume 1, 2016, section 9.6, first problem of the section
    "three-masses": [
        Answer("-1.23", lambda v: 100 * v["x_c"]),
        Answer("0.69", lambda v: 100 * v["y_c"]),
    ],
    # Duarte and Watanabe, edition not known: joints read, the figures that they print from memory
    "lower-limb": [
        Answer("0.930", at("x_f")),
        Answer("0.858", at("x_l")),
        Answer("0.764", at("y_u")),
        Answer("0.818", at("x_c")),
        Answer("0.584", at("y_c")),
    ],
    # Knight, Physics for Scientists and Engineers, 4th ed., 2017, chapter 12; read in copies
    "reaction-board": [Answer("0.915", at("d_w"))],
    # Serway and Vuille, College Physics, edition not known, chapter 8, from memory
    "scales-under-a-board": [Answer("0.896", at("d_w"))],
    # Giancoli, Physics: Principles with Applications, 6th ed., chapter 9, problem 36, read with
    # its answer on brainmass.com: the top moves twice as far as the middle
    "leaning-tower": [Answer("2.5", lambda v: 2 * v["b_edge"]), Answer("1", at("base"))],
    # Wilson, Buffa and Lou, College Physics, chapter 8, on stability, read without its answer on
    # solutioninn.com; that six bricks just stay and the seventh brings them down is from memory
    "stacked-bricks": [Answer("32", lambda v: 100 * v["x_c"]), Answer("-1", at("base"))],
    # OpenStax, College Physics 2e, 2022, section 9.6, Example 9.4, cut in two at the wrist
    "elbow-book-in-two": [Answer("470", at("F_m")), Answer("407", at("R_y2", -1))],
    # OpenStax, University Physics Volume 1, 2016, section 12.2, Problem 41, cut in two
    "boom-in-two": [Answer("778", at("R2")), Answer("45", at("phi_R2"))],
    # Winter, Biomechanics and Motor Control of Human Movement, 4th ed., 2009, examples 5.2 and 5.3:
    # ankle, then knee; the figures are from memory
    "swinging-leg": [
        Answer("10.52", at("R_x1")),
        Answer("3.69", at("R_y1")),
        Answer("1.34", at("M_a")),
        Answer("10.41", at("R_x2")),
        Answer("24.48", at("R_y2")),
        Answer("2.65", at("M_k")),
    ],
    # a notebook of a course, read with the answers that it prints
    "three-flexors": [
        Answer("370.15", at("F_m")),
        Answer("210.78", at("F_b")),
        Answer("100.25", at("F_r")),
        Answer("578.62", at("R")),
        Answer("60", at("phi_R")),
    ],
    # OpenStax, University Physics Volume 1, 2016, section 10.8, Problem 98, read with its answer on
    # vaia.com
    "potters-wheel": [Answer("12.57", at("P_w"))],
    # an assignment of a course, read with its answer, to more digits, on drjackthetutor.com
    "stair-leg-slowed": [Answer("1139.65", at("F_m"))],
    # OpenStax, College Physics 2e, 2022, sections 10.5 and 10.3, worked backwards
    "kick": [Answer("2000", at("F_m"))],
    "boxer-forearm": [Answer("2.00e3", at("F_m"))],
    # Young and Geller, College Physics, 9th ed., chapter 11, read with the answers on numerade.com
    "tendon-sprint": [Answer("2.08", lambda v: v["S_t"] / 1474 * 25)],
    "tendon-toe-raise": [
        Answer("1997", at("F_m")),
        Answer("4.355", lambda v: v["S_t"] / 1470 * 250, "4.36", "as with 9.81 m/s² for g"),
    ],
    # OpenStax, College Physics 2e, 2022, section 9.6, Problem 36 (a), worked backwards
    "rope-for-book": [Answer("470", at("F_m")), Answer("407", at("R_y", -1))],
    # a problem with its answer on justaaa.com, worked backwards
    "band-in-pounds": [Answer("33", at("R_l"))],
    # OpenStax, College Physics 2e, 2022, section 9.6, Example 9.4, and Problem 31, whose answer was
    # read on studysmarter.us
    "elbow-book-lowered": [Answer("470", at("F_m")), Answer("407", at("F_n"))],
    # OpenStax, College Physics 2e, 2022, section 9.2, Problem 1, printed to a digit more in
    # University Physics Volume 1, 2016, section 10.6, Problem 73
    "door": [Answer("46.8", at("M_p")), Answer("46.75", at("M_p"))],
}


def values_of(name: str) -> Values:
    """Return the steps of a published problem with the constants of the books, or with its own."""
    problem = SHELF.problems[name]
    question = problem.question("any")
    own = {name: taken[0] for name, taken in problem.constants_set.items()}
    return question.graph.values(question.numbers, BOOKS | own)


def test_every_published_file_reads_and_has_answers():
    """Every file in the folder reads without a fault, and each has its answers here."""
    assert SHELF.faults == ()
    assert sorted(SHELF.problems) == sorted(ANSWERS)


@pytest.mark.parametrize("name", ANSWERS)
def test_the_steps_reproduce_the_figures_of_the_book(name: str):
    """Each figure follows from the steps, to half a unit of its last digit."""
    values = values_of(name)
    found = [(answer.of(values), answer.figure) for answer in ANSWERS[name]]
    assert [pair for pair in found if not agrees(*pair)] == []


@pytest.mark.parametrize("name", [n for n, a in ANSWERS.items() if any(x.printed for x in a)])
def test_only_figures_that_differ_from_print_are_excused(name: str):
    """A figure kept beside a printed one has a reason, and the printed one indeed differs."""
    values = values_of(name)
    for answer in ANSWERS[name]:
        if answer.printed:
            assert answer.why_not
            assert not agrees(answer.of(values), answer.printed)


@pytest.mark.parametrize("name", ["forearm-fifty-pounds", "forearm-ball"])
def test_a_vertical_pull_against_weights_does_not_depend_on_the_inclination(name: str):
    """Both books leave the forearm's angle open: the effort is the same at any of them."""
    question = SHELF.problems[name].question("any")
    at_angles = [
        question.graph.values(question.numbers | {"alpha": angle}, BOOKS)["F_m"]
        for angle in (5.0, 30.0, 60.0, 85.0)
    ]
    assert at_angles == pytest.approx([at_angles[0]] * 4, rel=1e-12)


@pytest.mark.parametrize("length", [0.3, 7.0])
def test_the_length_of_the_boom_falls_out(length: float):
    """The book leaves the boom's length open: its cable pulls the same for any."""
    question = SHELF.problems["boom"].question("any")
    scaled = {"given_L": length, "given_d_s": length, "given_d_c": length}
    values = question.graph.values(question.numbers | scaled, BOOKS)
    assert agrees(values["F_c"], "778")
