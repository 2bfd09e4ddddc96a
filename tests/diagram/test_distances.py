"""Distances of a tilted segment never lie level, where they would read as moment arms."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.source import ROOT
from leverstep.course.problem import Question
from leverstep.course.problem_file import read_problem
from leverstep.diagram.canvas import Point, StraightLine
from leverstep.diagram.layout import SHEET, Picture, layout
from leverstep.diagram.scene import scene_of

TILTED = [
    path
    for path in sorted((ROOT / "problems").rglob("*.toml"))
    if read_problem(path).posture.inclination is not None
]
BARRED = {"elbow-tilted-forearm", "knee-half-straight", "body-press-up", "shoulder-lowered-arm"}


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
        assert all(abs(run.imag) < 1e-9 for run in turned)
        assert not any(isinstance(one, Point) and one.shape == "tick" for one in fine.strokes)
        assert all(told(fine, measure.text) for measure in scene.measures)
        if path.stem in BARRED:
            longest = max(abs(measure.station) for measure in scene.measures)
            assert max(abs(run) for run in turned) == pytest.approx(
                drawn_to(fine, question, longest)
            )
            assert len(turned) == sum(abs(run) > 2 for run in turned) > 1


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
    question = read_problem(ROOT / "problems/elbow/elbow-full-pail.toml").question("5")
    for fine in (True, False):
        lines = dimension_lines(layout(question, *SHEET, fine=fine))
        assert len(lines) == 4
        assert all(run.imag == 0 for run in lines)
