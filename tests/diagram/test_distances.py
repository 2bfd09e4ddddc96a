"""Each distance lies as it is measured: along the segment, square to it, or as a moment arm."""

from __future__ import annotations

import re
from itertools import product
from pathlib import Path
from typing import TypeGuard

import pytest
from helpers.source import ROOT
from leverstep.course.problem import Question
from leverstep.course.problem_file import read_problem
from leverstep.course.shelf import load_shelf
from leverstep.diagram.canvas import Point, StraightLine, Stroke
from leverstep.diagram.layout import SHEET, Picture, layout
from leverstep.diagram.scene_of_question import metres, scene_of
from leverstep.statics.body_points import place_of_point
from leverstep.statics.points import Distance

PROBLEMS = load_shelf().problems

TILTED = [
    path
    for path in sorted((ROOT / "problems").rglob("*.toml"))
    if read_problem(path).posture.inclination is not None
]
BARRED = {
    "elbow-tilted-forearm",
    "knee-half-straight",
    "body-press-up",
    "shoulder-lantern-held-out",
}


def dimension_lines(picture: Picture) -> list[complex]:
    """Return the runs of the lines of distances, in units, ticks left out."""
    lines = [
        one
        for one in picture.strokes
        if isinstance(one, StraightLine) and (one.style, one.weight) == ("dimension", "thin")
    ]
    runs = [complex((one.end - one.start).real, -2 * (one.end - one.start).imag) for one in lines]
    return [run for run in runs if abs(run) > 2]


@pytest.mark.parametrize("path", TILTED, ids=lambda path: path.stem)
def test_distances_run_along_a_tilted_segment_or_are_listed(path: Path) -> None:
    for seed in "123":
        question = read_problem(path).question(seed)
        scene = scene_of(question, {})
        assert dimension_lines(layout(question, 60, 20)) == []
        fine = layout(question, *SHEET, fine=True)
        turned = [run * scene.way.conjugate() for run in dimension_lines(fine)]
        turned = [run for run in turned if not scene.far_ends or abs(run.real) > 1e-9]
        assert all(abs(run.imag) < 1e-9 for run in turned)
        assert not any(isinstance(one, Point) and one.shape == "tick" for one in fine.strokes)
        assert all(told(fine, measure.text) for measure in scene.measures)
        if path.stem in BARRED:
            longest = max(abs(measure.station) for measure in scene.measures)
            assert max(abs(run) for run in turned) == pytest.approx(
                drawn_to(fine, question, longest)
            )
            assert len(turned) == sum(abs(run) > 2 for run in turned) > 1


@pytest.mark.parametrize("path", TILTED, ids=lambda path: path.stem)
def test_no_distance_crosses_an_arrow(path: Path) -> None:
    """Distances along the segment lie past all that stands on their side of it."""
    for seed in "123":
        question = read_problem(path).question(seed)
        strokes = layout(question, *SHEET, fine=True).strokes
        shafts = [one for one in strokes if is_line(one, ARROWS, {"thin", "heavy"})]
        bars = [one for one in strokes if is_line(one, {"dimension"}, {"thin"})]
        assert len(shafts) == len(question.problem.posture.forces)
        for bar, shaft in product(bars, shafts):
            assert not cross(bar, shaft)


ARROWS = {"force", "effort"}


def is_line(stroke: Stroke, styles: set[str], weights: set[str]) -> TypeGuard[StraightLine]:
    """Return whether a stroke is a straight line of some style and weight."""
    if not isinstance(stroke, StraightLine):
        return False
    return stroke.style in styles and stroke.weight in weights


def cross(one: StraightLine, other: StraightLine) -> bool:
    """Return whether two lines cross."""
    return parted(one, other) and parted(other, one)


def parted(line: StraightLine, other: StraightLine) -> bool:
    """Return whether the ends of another line lie on either side of a line."""
    run = (line.end - line.start).conjugate()
    first, second = (((end - line.start) * run).imag for end in (other.start, other.end))
    return first * second < 0


FAR_ENDS = ["elbow-both-attachments", "elbow-bag-over-forearm", "shoulder-raised-arm-bag"]


@pytest.mark.parametrize("name", FAR_ENDS)
def test_where_a_muscle_begins_has_its_two_distances(name: str) -> None:
    """One is square to the segment, up to the far end; the other runs along it, to scale."""
    question = PROBLEMS[name].question("5")
    scene = scene_of(question, {})
    (far_end,) = scene.far_ends
    picture = layout(question, *SHEET, fine=True)
    (place,) = [one.place for one in picture.strokes if is_end(one)]
    lines = [one for one in picture.strokes if is_line(one, {"dimension"}, {"thin"})]
    (height,) = [one for one in lines if one.start == place]
    run = units(height.end - height.start) * scene.way.conjugate()
    assert run.real == pytest.approx(0, abs=1e-9)
    metre = drawn_to(picture, question, 1.0)
    off, along = (metres(question, {})[one.symbol] for one in off_and_along(question, far_end.of))
    assert abs(run) == pytest.approx(off * metre)
    assert any(label.text == far_end.off for label in picture.labels)
    assert any(abs(units(one.end - one.start)) == pytest.approx(along * metre) for one in lines)


def off_and_along(question: Question, symbol: str) -> tuple[Distance, Distance]:
    """Return the two distances of the far end of a muscle."""
    force = next(one for one in question.problem.posture.forces if one.symbol == symbol)
    assert force.direction.attachment is not None
    return force.direction.attachment.off, force.direction.attachment.along


def is_end(stroke: Stroke) -> TypeGuard[Point]:
    """Return whether a stroke marks the far end of a muscle."""
    return isinstance(stroke, Point) and (stroke.shape, stroke.style) == ("end", "effort")


def units(run: complex) -> complex:
    """Return a run in cells, rows down, in units, y up."""
    return complex(run.real, -2 * run.imag)


ARMS = [
    "finger-key-press", "knee-stool-hold", "lumbar-leaning-trunk", "shoulder-level-broom",
    "wrist-flat-tray",
]  # fmt: skip


@pytest.mark.parametrize("fine", [True, False])
@pytest.mark.parametrize("name", ARMS)
def test_a_moment_arm_that_is_given_is_drawn_as_one(name: str, fine: bool) -> None:
    """It is dashed, from the axis square to the line of action, and no distance along anything."""
    question = PROBLEMS[name].question("4")
    scene = scene_of(question, {})
    (arm,) = scene.arms
    picture = layout(question, *SHEET, fine=fine)
    assert arm.symbol not in {measure.symbol for measure in scene.measures}
    assert arm.symbol in {label.of for label in picture.labels}
    assert told(picture, arm.text)
    (axis,) = [
        one.place for one in picture.strokes if isinstance(one, Point) and one.shape == "axis"
    ]
    dashed = [
        units(one.end - axis)
        for one in picture.strokes
        if is_line(one, {"dimension"}, {"dotted"}) and one.start == axis
    ]
    square = [
        run for run in dashed if abs((run * scene.arrow(arm.of).direction.conjugate()).real) < 1e-6
    ]
    assert square
    if "Not to scale" not in picture.note:
        length = metres(question, {})[arm.symbol] * drawn_to(picture, question, 1.0)
        assert min(abs(abs(run) - length) for run in square) < 1e-6


def test_a_given_moment_arm_stands_out_at_its_own_line() -> None:
    picture = layout(PROBLEMS["wrist-flat-tray"].question("4"), *SHEET, "d_m")
    assert [label.text for label in picture.labels if label.text.startswith("[")] == ["[d_m]"]


def drawn_to(picture: Picture, question: Question, station: float) -> float:
    """Return how far a station is drawn from the axis, by the length of the segment."""
    (bone,) = [
        one for one in picture.strokes if isinstance(one, StraightLine) and one.style == "segment"
    ]
    run = bone.end - bone.start
    scene = scene_of(question, {})
    return abs(complex(run.real, 2 * run.imag)) * station / (scene.reach + scene.behind)


def told(picture: Picture, text: str) -> bool:
    """Return whether a text stands in a picture or below it."""
    return text in picture.legend or text in {label.text for label in picture.labels}


def test_under_a_level_segment_they_stand_as_ever() -> None:
    question = read_problem(ROOT / "problems/retired/elbow-full-pail.toml").question("5")
    for fine in (True, False):
        lines = dimension_lines(layout(question, *SHEET, fine=fine))
        assert len(lines) == 4
        assert all(run.imag == 0 for run in lines)


def test_under_a_level_segment_they_end_right_below_their_force() -> None:
    """For a finer pen not only within a cell."""
    question = PROBLEMS["elbow-full-pail"].question("5")
    strokes = layout(question, *SHEET, fine=True).strokes
    feet = {one.start.real for one in strokes if is_line(one, ARROWS, {"thin"})}
    lines = [one for one in strokes if is_line(one, {"dimension"}, {"thin"})]
    assert len(feet) == 3
    assert feet <= {one.end.real for one in lines}


def test_a_distance_beside_the_axis_says_to_which_side_it_leads() -> None:
    """As the point is drawn: not merely across from it, or above or below."""
    sides = {"right of": 1, "left of": -1, "above": 1j, "below": -1j}
    told = 0
    for name in ("ankle-then-knee", "elbow-arm-on-a-photo"):
        question = PROBLEMS[name].question("1")
        scene, posture = scene_of(question, {}), question.problem.posture
        points = {point.name for point in posture.body_points}
        for aside in scene.asides:
            found = re.match(r".*: (.+), (right of|left of|above|below) the ", aside)
            assert found is not None
            of, side = found[1], sides[found[2]]
            is_point = of in points
            place = place_of_point(posture, of, question.numbers) if is_point else None
            at = scene.arrow(of).at if place is None else place
            assert (at * complex(side).conjugate()).real > 0, aside
            told += 1
    assert told == 7
