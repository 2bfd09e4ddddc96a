"""Directions as bearings from 0 to 360 degrees, or at an angle of more than 90: files and lines."""

from __future__ import annotations

from fractions import Fraction

import pytest
from helpers.material import CATALOGUE
from helpers.problem_texts import effort, head, load, newtons, quantity, read_text, segment
from leverstep.board.board import Board
from leverstep.claims.judged_line import LineStanding
from leverstep.claims.page_of_claims import Page
from leverstep.course.faults import FileError
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.diagram.described import describe
from leverstep.diagram.scene_of_question import scene_of
from leverstep.explore.givens import movables
from leverstep.working.own import OwnError
from leverstep.working.rules import Rules
from leverstep.working.verdict import Outcome
from leverstep.working.wording import ask
from leverstep.working.working import Working
from leverstep.working.writing import formula, worked_line


def direction(line: str, toward: str, side: str, angle: float) -> str:
    told = f'line = "{line}", toward = "{toward}", side = "{side}"'
    return f"{{ {told}, angle = {quantity('alpha', angle, 'deg')} }}"


def bearing(angle: float) -> str:
    return f"{{ bearing = {quantity('alpha', angle, 'deg')} }}"


def lever(way: str, tilt: str = "", method: str = "moment arms") -> Question:
    """Return an effort that holds a load and pulls some way, perhaps on a tilted bar."""
    tilted = f"inclination = {quantity('theta', 20, 'deg')}\n" if tilt else ""
    text = (
        head("A bar", "{W_l} at {d_l}; a cord at {d_c}, {alpha}." + (" {theta}" if tilt else ""))
        + segment("bar", "pivot", tilted)
        + effort("F_c", "cord", quantity("d_c", 0.2, "m"), way)
        + load("W_l", "box", newtons(50), quantity("d_l", 0.4, "m"))
        + f'[ask]\nratios = false\nmethod = "{method}"\n'
    )
    return read_text(text).question("1")


@pytest.mark.parametrize("method", ["moment arms", "components"])
@pytest.mark.parametrize("tilt", ["", "tilted"])
@pytest.mark.parametrize(
    ("told", "otherwise"),
    [
        (bearing(35), direction("horizontal", "right", "above", 35)),
        (bearing(143), direction("horizontal", "left", "above", 37)),
        (bearing(143), direction("vertical", "left", "above", 53)),
        (direction("segment", "end", "above", 130), direction("segment", "axis", "above", 50)),
        (direction("vertical", "left", "below", 125), direction("vertical", "left", "above", 55)),
        (direction("horizontal", "right", "above", 143), bearing(143)),
    ],
)
def test_a_direction_comes_to_the_same_however_it_is_told(
    told: str, otherwise: str, tilt: str, method: str
) -> None:
    one, other = lever(told, tilt, method), lever(otherwise, tilt, method)
    assert one.right["M_sum"] == pytest.approx(other.right["M_sum"])
    for key in ("F_c", "R_x", "R_y", "R", "phi_R", "R_dir"):
        assert one.right[key] == pytest.approx(other.right[key]), key


def test_the_acute_angle_is_a_line_of_its_own() -> None:
    here = lever(bearing(143))
    step = here.derivation.step("beta_c")
    assert step.asked
    assert worked_line(here, step, here.right) == "β_c = 180° − 143° = 37.00°"
    assert ask(here, step).startswith("Angle between the line of action of the cord and the horiz")
    arm = here.derivation.step("r_c")
    assert formula(here, arm) == "r_c = d_c × sin(β_c)"
    assert "theta_c" not in [one.key for one in here.derivation.steps]


def test_an_angle_to_a_level_segment_is_named_after_it() -> None:
    here = lever(direction("segment", "end", "above", 130))
    step = next(one for one in here.derivation.asked if one.kind.name == "angle")
    assert ask(here, step).endswith("of the cord and the bar, in degrees")
    assert here.right[step.key] == pytest.approx(50)


@pytest.mark.parametrize(
    ("key", "entry", "outcome"),
    [
        ("beta_c", "37°", Outcome.RIGHT),
        ("beta_c", "180° - alpha", Outcome.RIGHT),
        ("beta_c", "143°", Outcome.WRONG),
        ("beta_c", "53°", Outcome.WRONG),
        ("r_c", "d_c*sin(alpha)", Outcome.RIGHT),
        ("r_c", "0.2 m*sin 143°", Outcome.RIGHT),
        ("r_c", "0.2 m*cos 143°", Outcome.WRONG),
        ("F_cx", "F_c*cos(alpha)", Outcome.RIGHT),
        ("F_cx", "-F_c*cos(37°)", Outcome.RIGHT),
        ("F_cx", "F_c*cos(37°)", Outcome.WRONG),
    ],
)
def test_sine_and_cosine_may_be_taken_of_either(key: str, entry: str, outcome: Outcome) -> None:
    here = lever(bearing(143))
    working = Working(here)
    working.enter("F_c", f"{here.right['F_c']:.4g} N")
    assert working.enter(key, entry).outcome is outcome


def test_it_is_told_and_drawn_all_the_way_round() -> None:
    text = " ".join(describe(lever(bearing(143))))
    assert "to the left, at alpha, 143 degrees, counted from the right upwards and on round" in text
    (corner,) = scene_of(lever(bearing(143)), {}).corners
    assert (corner.between, corner.turned) == ("F_c from the right", pytest.approx(143))


def test_it_may_be_moved_within_its_quadrant() -> None:
    here = lever(bearing(143))
    (moved,) = (one for one in movables(here) if one.given.key == "alpha")
    assert (moved.span.low, moved.span.high) == (91, 179)
    assert moved.name == "cord, anticlockwise from the right"
    board = Board(here, CATALOGUE)
    board.change("alpha = 120 deg")
    assert board.question.exact["alpha"] == Fraction(120)
    with pytest.raises(OwnError, match="α must be above 90° and below 180°"):
        board.change("alpha = 200 deg")


@pytest.mark.parametrize(
    ("way", "told"),
    [
        (bearing(0), 'found 0; expected direction = "right", without a bearing'),
        (bearing(90), 'found 90; expected direction = "up", without a bearing'),
        (bearing(180), 'found 180; expected direction = "left", without a bearing'),
        (bearing(360), 'found 360; expected direction = "right", without a bearing'),
        (bearing(361), "found 361; expected above 0, below 360; it is measured"),
        (bearing(-20), "found -20; expected a number above 0; it is measured anticlockwise"),
        (
            bearing(143).replace("value = 143", "from = 80, to = 100, step = 5"),
            "found 80 to 100; expected angles between two multiples of 90 degrees",
        ),
        (
            bearing(143).replace("value = 143", "from = 170, to = 190, step = 5"),
            "found 170 to 190; expected angles between two multiples of 90 degrees",
        ),
        (
            direction("horizontal", "left", "above", 200),
            'found 200; expected above 0, below 180; "toward" and "side" say',
        ),
    ],
)
def test_an_angle_that_is_none_is_told(way: str, told: str) -> None:
    with pytest.raises(FileError) as caught:
        lever(way)
    assert told in str(caught.value.faults[0])


PULLS = load_shelf().problems["ankle-two-heads-of-calf"].question("1")
"""Its resultant is 476.6 N at 108.4 degrees: up and left, at 71.6 degrees to the horizontal."""


@pytest.mark.parametrize(
    ("entry", "outcome"),
    [
        ("108°", Outcome.RIGHT),
        ("108,4°", Outcome.RIGHT),
        ("at 108.4 deg", Outcome.RIGHT),
        ("R at 108°", Outcome.RIGHT),
        ("108° anticlockwise from the positive x-axis", Outcome.RIGHT),
        ("up and left", Outcome.RIGHT),
        ("R at 218°", Outcome.WRONG),
        ("100°", Outcome.WRONG),
        ("288°", Outcome.WRONG),
        ("71.6°", Outcome.UNREAD),
        ("400°", Outcome.UNREAD),
    ],
)
def test_a_direction_found_may_be_typed_as_its_bearing(entry: str, outcome: Outcome) -> None:
    assert Working(PULLS).enter("R_dir", entry).outcome is outcome
    assert Working(PULLS, rules=Rules(tells=False)).enter("R_dir", entry).outcome is outcome


def test_a_bearing_follows_from_the_students_own_components() -> None:
    working = Working(PULLS)
    working.enter("R_x", "150.4 N")
    assert working.enter("R_dir", "71.6° anticlockwise from the right").outcome is Outcome.FOLLOWED


def test_an_angle_in_degrees_is_no_direction_where_an_angle_is_asked_for() -> None:
    here = lever(bearing(143))
    assert Working(here).enter_open("beta_c", "143 deg").step == "beta_c"


@pytest.mark.parametrize(
    ("line", "key", "outcome"),
    [
        ("R at 108.4°", "R_dir", Outcome.RIGHT),
        ("direction: 108,4°", "R_dir", Outcome.RIGHT),
        ("direction = 218 deg", "R_dir", Outcome.WRONG),
    ],
)
def test_a_bearing_is_a_line_of_a_blank_sheet(line: str, key: str, outcome: Outcome) -> None:
    verdict = Working(PULLS).write(line)
    assert (verdict.step, verdict.outcome) == (key, outcome)


@pytest.mark.parametrize(
    ("line", "standing"),
    [
        ("R = 477 N at 108.4°", LineStanding.RIGHT),
        ("R = 477 N, 108°", LineStanding.RIGHT),
        ("R = 477 N at 218°", LineStanding.WRONG),
        ("R = 477 N at 288.4°", LineStanding.RIGHT),  # on the other body
        ("R at 108°", LineStanding.RIGHT),
        ("R at 218°", LineStanding.WRONG),
    ],
)
def test_a_page_is_read_with_its_bearings(line: str, standing: LineStanding) -> None:
    assert Page(PULLS).write(line).standing is standing
