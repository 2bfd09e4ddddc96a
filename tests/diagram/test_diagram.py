"""The diagram shows every force where it acts and the way it points, and never hides a label."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from itertools import combinations, product
from pathlib import Path
from xml.etree import ElementTree

import pytest
from helpers.source import ROOT
from helpers.sweeps import seeds
from leverstep.course.numbers import Range
from leverstep.course.problem import Problem, Question
from leverstep.course.problem_file import read_problem
from leverstep.course.shelf import load_shelf
from leverstep.course.symbols import sign_of, spelt
from leverstep.diagram.canvas import (
    Arc,
    ArrowHead,
    Canvas,
    Outline,
    Point,
    StraightLine,
    Surface,
    cell,
)
from leverstep.diagram.compass import compass
from leverstep.diagram.described import describe
from leverstep.diagram.layout import Picture, layout
from leverstep.diagram.scene_in_ascii import ascii_text
from leverstep.diagram.scene_of_question import metres, scene_of, value_of
from leverstep.diagram.svg import svg
from leverstep.diagram.tex_picture import tex_picture
from leverstep.faces.screens.side_sheet import INK
from leverstep.statics.acting import Force
from leverstep.statics.force_axes import PAIRS
from leverstep.statics.geometry import force_bearing, segment_bearing
from leverstep.statics.points import Direction, Distance, Given
from leverstep.statics.posture import Posture

FILES = sorted((ROOT / "problems").rglob("*.toml"))
SIZES = ((40, 8), (40, 10), (60, 14), (78, 16), (100, 24), (120, 40))
SCREENS = ((80, 24), (120, 36))
REACTION = {"R_x": -30.0, "R_y": -200.0}

UP, DOWN = Direction("vertical", side="above"), Direction("vertical", side="below")
RIGHT = Direction("horizontal", toward="right")
THETA, ALPHA = Given("theta", "theta", "deg"), Given("alpha", "alpha", "deg")
LENGTH = Distance("L", Given("given_L", "L", "cm"))
MUSCLE = Distance("d_m", Given("given_d_m", "d_m", "cm"))
HALF = Distance("d_f", Given("fraction_d_f", ""), of="L")
HAND = Distance("d_l", Given("given_d_l", "d_l", "cm"))
MASS, LOAD = Given("m_f", "m_f", "kg"), Given("given_W_l", "W_l", "N")
VALUES = {
    "theta": "30", "alpha": "70", "given_L": "35", "given_d_m": "5", "fraction_d_f": "0.43",
    "given_d_l": "33", "m_f": "1.5", "given_W_l": "50",
}  # fmt: skip


@dataclass(frozen=True)
class Case:
    """A posture, the numbers that differ from `VALUES`, and the bearing of each force."""

    posture: Posture
    bearings: dict[str, float]
    numbers: dict[str, str]

    @cached_property
    def question(self) -> Question:
        """Return the question of this case, always with the same numbers."""
        return question_of(self.posture, **self.numbers)

    @cached_property
    def pictures(self) -> tuple[Picture, ...]:
        """Return it drawn at every size, plain, with a reaction, in focus and in ASCII."""
        return tuple(pictures(self.question))


def question_of(posture: Posture, **numbers: str) -> Question:
    """Return a question about a posture."""
    exact = {key: Fraction(value) for key, value in (VALUES | numbers).items()}
    used = {given.key for given in posture.givens()}
    exact = {key: value for key, value in exact.items() if key in used}
    ranges = {key: Range(value, value, Fraction(0)) for key, value in exact.items()}
    names = {"F_m": "flexors", "W_f": "forearm and hand", "W_l": "pail"}
    problem = Problem(
        "made", "Made", "elbow", 1, "", "forearm", "elbow", posture, names, ranges, {}
    )  # fmt: skip
    return Question(problem, "1", exact)


def posture(
    muscle: Direction = UP,
    load: Direction = DOWN,
    muscle_at: Distance = MUSCLE,
    hand: Distance = HAND,
    **rest: object,
) -> Posture:
    """Return a forearm with its own weight, a load in the hand and one muscle."""
    return Posture(
        effort=Force("F_m", muscle_at, muscle),
        loads=(
            Force("W_f", HALF, DOWN, MASS, own_weight=True),
            Force("W_l", hand, load, LOAD, called_weight=True),
        ),
        length=LENGTH,
        **rest,  # type: ignore[arg-type]
    )


def slanting(line: str, toward: str, side: str = "above") -> Direction:
    """Return a direction turned by alpha from a line."""
    return Direction(line, ALPHA, toward, side)  # type: ignore[arg-type]


def case(made: Posture, muscle: float, load: float = -90, **numbers: str) -> Case:
    """Return a case whose muscle and load point as given, in degrees."""
    return Case(made, {"W_f": -90, "W_l": load, "F_m": muscle}, numbers)


CASES = {
    "level": case(posture(), 90),
    "level, load up": case(posture(load=UP), 90, 90),
    "level, to the left": case(posture(points="left"), 90),
    "beyond the axis": case(posture(muscle_at=replace(MUSCLE, beyond=True), muscle=DOWN), -90),
    "inclined up": case(posture(inclination=THETA), 90),
    "inclined down": case(posture(inclination=THETA, rises=False), 90),
    "inclined up, left": case(posture(inclination=THETA, points="left"), 90),
    "steep": case(posture(load=RIGHT, inclination=THETA), 90, 0, theta="80"),
    "upright": case(posture(load=RIGHT, inclination=THETA), 90, 0, theta="90"),
    "muscle from the segment": case(
        posture(slanting("segment", "axis"), inclination=THETA), 30 + 180 - 70
    ),
    "muscle from the segment, left": case(
        posture(slanting("segment", "axis"), points="left"), 70
    ),
    "muscle from the horizontal": case(posture(slanting("horizontal", "left")), 110),
    "load from the vertical": case(
        posture(load=slanting("vertical", "right", "below"), inclination=THETA), 90, -20
    ),
    "muscle along the segment": case(
        posture(slanting("segment", "axis")), 180 - 12, alpha="12"
    ),
    "points close together": case(posture(), 90, given_d_l="35.1", given_d_m="0.5"),
    "both at one point": case(posture(muscle_at=replace(MUSCLE, symbol="d_n")), 90, given_d_m="33"),
}  # fmt: skip
HEADS = {0: "▶", 45: "◥", 90: "▲", 135: "◤", 180: "◀", -45: "◢", -90: "▼", -135: "◣"}


def pictures(question: Question) -> Iterator[Picture]:
    """Yield a question at every size, drawn in every way."""
    focus = question.problem.posture.effort.symbol
    for (width, height), values, unicode in product(SIZES, ({}, REACTION), (True, False)):
        yield layout(question, width, height, "", values, unicode)
        yield layout(question, width, height, focus, values, unicode)


def check_labels(picture: Picture) -> None:
    """Check that every label stands in the frame as written, and clear of every other."""
    lines = picture.lines
    boxes = [(one.row, one.column, one.column + len(one.text)) for one in picture.labels]
    for label, (row, start, end) in zip(picture.labels, boxes, strict=True):
        assert 0 <= row < len(lines)
        assert 0 <= start < end <= len(lines[row])
        assert lines[row][start:end] == label.text, "something was drawn over a label"
    for (row, start, end), (other, first, last) in combinations(boxes, 2):
        assert row != other or end + 1 < first or last + 1 < start, "two labels touch"


def check_nothing_lost(question: Question, picture: Picture) -> None:
    """Check that each force, distance, angle and the sense are in the picture or its legend."""
    made = question.problem.posture
    told = [label.text for label in picture.labels] + list(picture.legend)
    beside = {label.of for label in picture.labels} | {line.split(":")[0] for line in told}
    assert {force.symbol for force in made.forces} <= beside
    joined = "\n".join(told)
    for distance in made.distances:
        assert any(distance.symbol in line.split() for line in told)
        if not distance.sought:
            stated = value_of(question, distance)
            assert stated in joined or ascii_text(spelt(stated)) in joined
    for given in made.givens():
        if given.unit == "deg":
            written = question.written(given)
            sign = given.sign if joined.isascii() else sign_of(given.sign)
            assert f"{sign} {written}" in joined.replace(" deg", "°")
    assert question.problem.axis in joined
    senses = {"↺ +", "acw +", "positive: anticlockwise"}
    if made.seeks_centre:
        senses = {"→+", "→+ ↑+", "x right +", "x right + y up +", "positive: right"}
        senses.add("positive: right and up")
    elif not made.has_moments:
        assert not any(one.endswith("+") or one.startswith("positive") for one in told)
        return
    assert senses & set(told)


@pytest.fixture(params=CASES, name="made")
def made_case(request: pytest.FixtureRequest) -> Case:
    """Give each case by hand in turn."""
    return CASES[request.param]


def test_frame_is_exact_and_labels_are_clear(made: Case) -> None:
    """Each row is as wide as asked for, and no label is covered, at every size."""
    for (width, height), unicode in product(SIZES, (True, False)):
        picture = layout(made.question, width, height, "", REACTION, unicode)
        assert [len(line) for line in picture.lines] == [width] * height
        assert {piece.style for row in picture.rows for piece in row} <= set(INK)
    for picture in made.pictures:
        check_labels(picture)
        check_nothing_lost(made.question, picture)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_shipped_problems_are_drawn(path: Path) -> None:
    """Each problem file keeps the promises of a picture for many numbers."""
    problem = read_problem(path)
    for number, seed in enumerate(seeds(10)):
        question = problem.question(seed)
        angle = problem.posture.sought_angle
        found = REACTION if angle is None else REACTION | {angle.key: question.right[angle.key]}
        bearings = bearings_of(question)
        for width, height in (*SCREENS, *(SIZES[:3] if number % 3 == 0 else ())):
            picture = layout(question, width, height, values=found, unicode=number % 2 == 0)
            check_strokes(picture, width, height)
            assert [len(line) for line in picture.lines] == [width] * height
            check_labels(picture)
            check_nothing_lost(question, picture)
            check_slope(question, picture)
            check_arrows(picture, bearings)
        spoken = "\n".join(describe(question))
        assert all(force.symbol in spoken for force in problem.posture.forces)


def check_strokes(picture: Picture, width: int, height: int) -> None:
    """Check that all that finer pens draw lies in the frame, arrows and axis among it."""
    for stroke in picture.strokes:
        match stroke:
            case StraightLine(start, end):
                places = [start, end]
            case ArrowHead(tip):
                places = [tip]
            case Point(place):
                places = [place]
            case Outline(start, end) | Surface(start, end):
                places = [start, end]
            case _:
                places = []  # an arc may be cut by the frame
        for place in places:
            assert -0.5 <= place.real <= width - 0.5
            assert -0.5 <= place.imag <= height - 0.5
    heads = [cell(stroke.tip) for stroke in picture.strokes if isinstance(stroke, ArrowHead)]
    assert heads == [mark.head for mark in picture.marks]
    shapes = [stroke.shape for stroke in picture.strokes if isinstance(stroke, Point)]
    assert shapes.count("axis") == 1
    assert shapes.count("joint") == len(picture.marks)


def bearings_of(question: Question) -> dict[str, float]:
    """Return the bearing of every force as statics has it."""
    made, numbers = question.problem.posture, question.numbers
    inclination = 0.0 if made.inclination is None else numbers[made.inclination.key]
    held = question.graph.values(numbers, {}) | numbers
    found = {}
    for force in made.forces:
        angle = force.direction.angle
        turned = 0.0 if angle is None else held[angle.key]
        found[force.symbol] = force_bearing(made, force.direction).degrees(inclination, turned)
    return found


def check_arrows(picture: Picture, bearings: dict[str, float]) -> None:
    """Check that each head lies from its point the way that the force points."""
    marks = {mark.symbol: mark for mark in picture.marks}
    for symbol, bearing in bearings.items():
        mark = marks[symbol]
        run = complex(mark.head[1] - mark.point[1], -2 * (mark.head[0] - mark.point[0]))
        turned = run * complex(math.cos(math.radians(bearing)), -math.sin(math.radians(bearing)))
        assert turned.real >= 1.5, f"{symbol} points the wrong way"
        # Rounding to cells moves either end by half a row, one unit, at most.
        assert abs(turned.imag) <= 2.2, f"{symbol} is slanted wrongly"


def check_slope(question: Question, picture: Picture) -> None:
    """Check that the cells of the segment lie along a line at its true angle."""
    made, places = question.problem.posture, []
    if not made.has_moments:
        return  # all forces pass through one point, and no segment is drawn
    for row, pieces in enumerate(picture.rows):
        column = 0
        for piece in pieces:
            if piece.style == "segment":
                places += [complex(column + n, -2 * row) for n in range(len(piece.text))]
            column += len(piece.text)
    inclination = 0.0 if made.inclination is None else question.numbers[made.inclination.key]
    bearing = math.radians(segment_bearing(made).degrees(inclination, 0))
    turned = [place * complex(math.cos(bearing), -math.sin(bearing)) for place in places]
    if all(force.offset for force in made.forces):
        assert not places, "all forces act beside the segment, and nothing of it is drawn"
        return
    assert places
    # A band one row (two units) wide holds the middle of every cell that the line passes through.
    assert max(t.imag for t in turned) - min(t.imag for t in turned) <= 3.2


def test_segment_has_its_true_slope(made: Case) -> None:
    """The drawn segment keeps its angle, whatever the shape of a cell."""
    for picture in made.pictures:
        check_slope(made.question, picture)


def test_arrows_point_as_the_forces_do(made: Case) -> None:
    """Each arrow has its true direction, and its head is drawn at its end."""
    for picture in made.pictures:
        check_arrows(picture, made.bearings)


def test_heads_are_of_the_right_kind(made: Case) -> None:
    """The sign at the head of an arrow shows the way it points."""
    picture = layout(made.question, 100, 24)
    for mark in picture.marks:
        nearest = min(HEADS, key=lambda b: abs(math.remainder(b - made.bearings[mark.symbol], 360)))
        assert picture.lines[mark.head[0]][mark.head[1]] == HEADS[nearest]


@pytest.mark.parametrize("name", ["level", "level, to the left", "beyond the axis"])
def test_level_distances_stand_under_their_points(name: str) -> None:
    """Under a level segment each dimension line runs from the axis to the force."""
    question = CASES[name].question
    picture = layout(question, 78, 16)
    points = {mark.symbol: mark.point[1] for mark in picture.marks}
    axis = next(row.index("●") for row in picture.lines if "●" in row)
    for force in question.problem.posture.forces:
        label = next(label for label in picture.labels if label.of == force.at.symbol)
        line = picture.lines[label.row]
        assert sorted((axis, points[force.symbol])) == [line.index("├"), line.index("┤")]


def test_level_points_are_to_scale() -> None:
    """Points lie from the axis in the ratio of their distances, and the note says so."""
    question = CASES["level"].question
    picture, real = layout(question, 100, 24), metres(question, {})
    axis = next(row.index("●") for row in picture.lines if "●" in row)
    columns = {mark.symbol: mark.point[1] - axis for mark in picture.marks}
    unit = columns["W_l"] / real["d_l"]
    assert columns["F_m"] == pytest.approx(unit * real["d_m"], abs=1)
    assert columns["W_f"] == pytest.approx(unit * real["d_f"], abs=1)
    assert picture.note == "Lengths to scale, arrows not."


def test_points_drawn_apart_are_owned_up_to() -> None:
    """Where a point would touch the axis it is moved, and the note says so."""
    picture = layout(CASES["points close together"].question, 60, 14)
    axis = next(row.index("●") for row in picture.lines if "●" in row)
    muscle = next(mark for mark in picture.marks if mark.symbol == "F_m")
    assert muscle.point[1] - axis >= 3
    assert picture.note.startswith("Not to scale")


def test_force_beyond_the_axis_is_on_its_far_side() -> None:
    """A force past the joint stands on the prolonged segment."""
    picture = layout(CASES["beyond the axis"].question, 60, 14)
    axis = next(row.index("●") for row in picture.lines if "●" in row)
    columns = {mark.symbol: mark.point[1] for mark in picture.marks}
    assert columns["F_m"] < axis < columns["W_f"] < columns["W_l"]


@pytest.mark.parametrize("points", ["left", "right"])
@pytest.mark.parametrize("turns", [1, -1])
def test_given_moment_arm_keeps_its_sense(points: str, turns: int) -> None:
    """A force of which only the arm is given stands on the side that turns the given way."""
    at = replace(MUSCLE, perpendicular=True)
    made = posture(muscle_at=at, muscle=DOWN, points=points)
    made = replace(made, effort=replace(made.effort, turns=turns))
    picture = layout(question_of(made), 60, 14)
    axis = next(row.index("●") for row in picture.lines if "●" in row)
    muscle = next(mark for mark in picture.marks if mark.symbol == "F_m")
    # A force that points down turns clockwise to the right of the axis.
    assert (muscle.point[1] > axis) == (turns < 0)


def test_line_of_action_along_the_segment_stands_off_it() -> None:
    """A line of action parallel to the segment passes it at the distance of its given arm."""
    at = replace(MUSCLE, perpendicular=True)
    made = posture(muscle_at=at, muscle=RIGHT)
    made = replace(made, effort=replace(made.effort, turns=1))
    picture = layout(question_of(made, given_d_m="20"), 60, 24)
    axis = next(row for row, line in enumerate(picture.lines) if "●" in line)
    muscle = next(mark for mark in picture.marks if mark.symbol == "F_m")
    assert muscle.point[0] > axis, "rightwards below the axis turns counter-clockwise"
    check_labels(picture)


def test_ascii_is_ascii(made: Case) -> None:
    """Without Unicode every row, the legend and the note are ASCII, whatever the names."""
    question = made.question
    problem = replace(question.problem, segment="Vorderarm ü", axis="Gelenk é", names={
        symbol: f"{name} ×" for symbol, name in question.problem.names.items()
    })  # fmt: skip
    for width, height in SIZES:
        picture = layout(replace(question, problem=problem), width, height, "F_m", REACTION, False)
        assert "".join((*picture.lines, *picture.legend, picture.note)).isascii()
    assert not "".join(layout(question, 60, 14).lines).isascii()


def test_a_moment_in_ascii_keeps_its_unit() -> None:
    brace = load_shelf().problems["elbow-stiff-brace"].question("23")
    assert "3.4 N m" in " ".join(layout(brace, 60, 14, unicode=False).legend)


def test_what_finds_no_room_is_in_the_legend() -> None:
    """A name too long for the frame is stated in the legend, with the sign it belongs to."""
    question = CASES["level"].question
    problem = replace(question.problem, axis="joint " * 8)
    picture = layout(replace(question, problem=problem), 40, 10)
    assert f"●: {problem.axis}" in picture.legend


@pytest.mark.parametrize("unicode", [True, False])
@pytest.mark.parametrize("size", SIZES, ids=str)
def test_focus_marks_one_force(made: Case, size: tuple[int, int], unicode: bool) -> None:
    """The force in focus, and no other, carries the mark and the style of the focus."""
    for symbol in ("W_l", "F_m"):
        picture = layout(made.question, *size, symbol, REACTION, unicode)
        marked = {label.of for label in picture.labels if label.text.startswith("[")}
        assert marked in ({symbol}, set())
        assert marked or any(line.startswith(f"{symbol}:") for line in picture.legend)
        for mark in picture.marks:
            assert (style_at(picture, *mark.head) == "focus") == (mark.symbol == symbol)


def style_at(picture: Picture, row: int, column: int) -> str:
    """Return the style of a cell."""
    styles = [piece.style for piece in picture.rows[row] for _ in piece.text]
    return styles[column]


def test_focus_follows_the_step() -> None:
    """A step stands for what it is about: a force, a distance, or the reaction."""
    question = CASES["muscle from the segment"].question
    expected = {"M_l": "W_l", "W_f": "W_f", "r_m": "F_m", "d_l": "d_l", "d_f": "d_f", "R_y": "R"}
    for key, about in expected.items():
        picture = layout(question, 100, 24, key, REACTION)
        assert [one.of for one in picture.labels if one.text.startswith("[")] == [about]
    for key in ("", "M_sum", "no such step"):
        picture = layout(question, 100, 24, key, REACTION)
        assert not any(one.text.startswith("[") for one in picture.labels)


def test_moment_arm_meets_the_line_of_action() -> None:
    """At the step of a moment arm its perpendicular is drawn and named, and only there."""
    question = CASES["muscle from the segment"].question
    picture = layout(question, 100, 24, "r_l")
    assert "r_l" in {label.text for label in picture.labels}
    load = next(mark for mark in picture.marks if mark.symbol == "W_l")
    row = next(number for number, line in enumerate(picture.lines) if "●" in line)
    below = [picture.lines[r][load.head[1]] for r in range(load.head[0] + 1, row + 1)]
    assert below == ["┆"] * len(below)
    assert picture.lines[row].count("┄") > 20
    assert "r_l" not in {label.text for label in layout(question, 100, 24, "W_l").labels}


def test_a_reaction_of_which_one_component_is_known_is_drawn_or_told() -> None:
    """Of every problem, and where there is no room for its label it is named below."""
    told = set()
    for problem in load_shelf().problems.values():
        question = problem.question("7")
        key = question.key(PAIRS[problem.posture.resolved[0]][0].reaction)
        picture = layout(question, 42, 8, key, {key: -30.0})
        is_told = f"{key}: {problem.reaction}" in picture.legend
        assert is_told is not any(key in line for line in picture.lines), problem.id
        told.add(is_told)
    assert told == {True, False}


def test_reaction_appears_when_it_is_known() -> None:
    """The reaction starts at the axis and points as its components say."""
    question = CASES["level"].question
    assert {mark.symbol for mark in layout(question, 60, 14).marks} == {"W_f", "W_l", "F_m"}
    both = layout(question, 60, 14, values=REACTION)
    (reaction,) = [mark for mark in both.marks if mark.symbol == "R"]
    assert both.lines[reaction.point[0]][reaction.point[1]] == "●"
    assert reaction.head[0] > reaction.point[0]
    assert reaction.head[1] < reaction.point[1]
    (upward,) = [m for m in layout(question, 60, 14, values={"R_y": 5}).marks if m.symbol == "R_y"]
    assert upward.head[0] < upward.point[0]
    assert upward.head[1] == upward.point[1]


@pytest.mark.parametrize(("positive", "sign"), [(1, "↺ +"), (-1, "↻ +")])
def test_positive_sense_is_shown(positive: int, sign: str) -> None:
    """The turning arrow shows which moments count as positive."""
    picture = layout(question_of(posture(positive=positive)), 60, 14)
    assert sign in {label.text for label in picture.labels}


AT_ONE_POINT = [
    path for path in FILES if scene_of(read_problem(path).question("1"), {}).at_one_point
]


@pytest.mark.parametrize("path", AT_ONE_POINT, ids=lambda path: path.stem)
def test_forces_through_one_point_have_no_sense_of_moments(path: Path) -> None:
    """No turning arrow in characters, SVG or LaTeX, no word of it, and no force moved aside."""
    question = read_problem(path).question("2")
    told = list(describe(question))
    for width, height in SIZES:
        for unicode in (True, False):
            picture = layout(question, width, height, unicode=unicode)
            told += [*picture.lines, *picture.legend]
            assert {mark.point for mark in picture.marks} == {picture.marks[0].point}
            assert picture.note.startswith("Arrows")
        drawn = (picture.strokes, picture.labels)
        told += [svg(width, picture.span, *drawn, ""), *tex_picture(width, picture.span, *drawn)]
    assert not re.search(
        r"[↺↻]|\b(a?cw)\b|clockwise|moments? (is|are) positive|\+", "\n".join(told)
    )


def test_words_tell_every_fact(made: Case) -> None:
    """Each force is told with its name, its place, and the way that it points."""
    question = made.question
    lines = describe(question)
    for force in question.problem.posture.forces:
        (line,) = [line for line in lines if line.startswith(f"{force.symbol}, ")]
        bearing = math.radians(made.bearings[force.symbol])
        assert question.problem.names[force.symbol] in line
        assert question.written(force.at.given) in line
        assert ("on the far side" in line) == force.at.beyond
        assert compass(complex(math.cos(bearing), math.sin(bearing))) in line
        if force.direction.reference == "segment" and force.direction.angle is not None:
            side = "upper" if force.direction.side == "above" else "lower"
            assert f", to the {side} side of the forearm" in line
    assert lines[-1] == "Anticlockwise moments are positive."
    assert "\n".join(lines).isascii(), "no sign that is read badly"


def test_words_tell_the_side_where_two_ways_would_look_alike() -> None:
    """On either side of the head the muscle would point down and to the left."""
    muscle = describe(load_shelf().problems["neck-nodding"].question("5"))[3]
    assert muscle.endswith("towards the base of the neck, to the upper side of the head.")
    seesaw = describe(load_shelf().problems["plain-seesaw"].question("5"))
    assert "from the pivot on the far side, to the left, pointing straight down." in seesaw[3]


def test_words_of_a_plan() -> None:
    """What is seen from above is told by the plan: nothing points up there, or is level."""
    lines = describe(load_shelf().problems["plain-door-push"].question("7"))
    assert lines[0] == "It is seen from above, as on a plan."
    assert lines[2] == "The gate points straight to the right from the hinge post."
    assert lines[3].endswith("pointing straight towards the top of the plan.")
    assert "pointing towards the bottom of the plan and to the left, at theta, " in lines[4]
    leaning = question_of(posture(inclination=THETA))
    leaning = replace(leaning, problem=replace(leaning.problem, seen_from="above"))
    told = " ".join(describe(leaning))
    assert "to the line across the plan" in told
    for word in ("up", "down", "level", "horizontal", "vertical"):
        assert word not in re.findall(r"[a-z]+", f"{told} {' '.join(lines)}".lower())


def test_words_of_one_question() -> None:
    """The whole of one description, as it is read."""
    made = posture(slanting("segment", "axis"), inclination=THETA, rises=False)
    assert describe(question_of(made), {"R_y": -1.0}) == (
        "Axis of rotation: the elbow.",
        "The forearm points down and to the right from the elbow, "
        "at theta, 30 degrees, to the horizontal.",
        "The forearm has length L, 35 cm.",
        "W_f, the weight of the forearm and hand, a mass of 1.5 kg: "
        "acts at d_f, 0.43 of L from the elbow, pointing straight down.",
        "W_l, the weight of the pail, 50 N: "
        "acts at d_l, 33 cm from the elbow, pointing straight down.",
        "F_m, flexors (the effort): acts at d_m, 5 cm from the elbow, pointing up and to the right,"
        " at alpha, 70 degrees, to the forearm and towards the elbow, "
        "to the upper side of the forearm.",
        "R_y, the joint reaction, acts at the elbow and points straight down.",
        "Anticlockwise moments are positive.",
    )


def test_a_distance_that_is_sought_can_not_be_read_off() -> None:
    """Until it is found its place has no meaning, and the picture says so; then it is drawn."""
    question = load_shelf().problems["plain-seesaw-where"].question("5")
    exact = question.graph.values(question.numbers, {})["d_b"]
    assert not math.isclose(metres(question, {})["d_b"], exact, rel_tol=0.02)
    assert metres(question, {"d_b": exact})["d_b"] == exact
    told = "d_b is to be found: drawn at a guess"
    assert told in layout(question, 100, 24).legend
    assert told not in layout(question, 100, 24, "", {"d_b": exact}).legend


def test_an_arc_runs_from_one_line_to_the_other_where_nothing_stands() -> None:
    """An arc of 90 degrees ends a radius up from where it began a radius to the right."""
    arc = Arc(10 + 5j, 6.0, 0.0, 90.0, "dimension")
    assert arc.at(0) == pytest.approx(16 + 5j)
    assert arc.at(1) == pytest.approx(10 + 2j)
    canvas = Canvas(20, 10, unicode=False)
    canvas.label(12 + 2j, "F", "force", "F")
    canvas.arc(arc)
    rows = ["".join(piece.text for piece in row) for row in canvas.rows()]
    assert rows[2][12] == "F", "an arc is drawn over nothing"
    assert rows[5][16] == "."
    assert not any(row.strip() for row in rows[:2] + rows[6:])


def test_an_svg_holds_each_stroke_and_each_label_as_text() -> None:
    """The finer pen draws what the characters draw; no name is markup."""
    question = CASES["muscle along the segment"].question
    picture = layout(question, 80, 24)
    strange = replace(picture.labels[0], text='<b>&"\x1b')
    made = svg(80, picture.span, picture.strokes, (strange, *picture.labels[1:]), "a <b> title")
    root = ElementTree.fromstring(made)
    spaced = "{http://www.w3.org/2000/svg}"
    texts = [one.text for one in root.iter(f"{spaced}text")]
    assert texts == ['<b>&"?', *(label.text for label in picture.labels[1:])]
    assert root.findtext(f"{spaced}title") == "a <b> title"
    heads = len(list(root.iter(f"{spaced}polygon")))
    assert heads == len(picture.marks)
    points = [stroke for stroke in picture.strokes if isinstance(stroke, Point)]
    circles = [point for point in points if point.shape != "tick"]
    assert len(list(root.iter(f"{spaced}circle"))) == len(circles)
    arcs = sum(isinstance(stroke, Arc) for stroke in picture.strokes)
    assert len(list(root.iter(f"{spaced}path"))) == arcs > 0


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("elbow-iron-held-up", "F_b, brachialis, 2/3 times the force of the biceps: acts at d_b"),
        ("neck-two-layers", "F_i, inner layer, 0.50 times the force of the outer layer: acts at"),
        (
            "elbow-two-flexors",
            "F_b, brachialis, which is to the force of the biceps as 7.0 cm² to ",
        ),
    ],
)
def test_a_force_that_is_shared_is_told_by_the_one_that_it_goes_with(name: str, told: str) -> None:
    lines = describe(load_shelf().problems[name].question("1"))
    assert any(line.startswith(told) for line in lines)
