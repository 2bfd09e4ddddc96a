"""The pictures of a working of several postures: compared at one scale, or joined in a chain."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from leverstep.course.shelf import load_shelf
from leverstep.diagram.canvas import ArrowHead, Point
from leverstep.diagram.layout import Picture, layout
from leverstep.diagram.scene_of_question import scene_of

SHELF = load_shelf()
COMPARED = ("lumbar-near-and-far", "shoulder-straight-then-bent", "elbow-level-then-lowered")
CHAINS = ("wrist-then-elbow", "elbow-then-shoulder", "ankle-then-knee")
SIZES = ((40, 10), (40, 15), (60, 18), (100, 26))


def from_axis(picture: Picture, symbol: str) -> float:
    """Return how many units from the axis a force acts."""
    axis = next(one for one in picture.strokes if isinstance(one, Point) and one.shape == "axis")
    row, column = next(mark.point for mark in picture.marks if mark.symbol == symbol)
    return abs(complex(column - int(axis.place.real), 2 * (row - int(axis.place.imag))))


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", COMPARED)
def test_postures_that_are_compared_have_one_scale(name: str, size: tuple[int, int]) -> None:
    """Lengths in both pictures are as many units to the metre, whatever is found by then.

    Where one has to draw points apart and says so, the longer one is still the longer.
    """
    question = SHELF.problems[name].question("1")
    for values in ({}, question.right):
        drawn, to_scale = [], True
        for view in question.views:
            picture, scene = layout(view, *size, values=values), scene_of(view, values)
            farthest = max(scene.arrows, key=lambda arrow: abs(arrow.station or 0.0))
            assert farthest.station is not None
            to_scale = to_scale and picture.note.startswith("Lengths to scale")
            drawn.append((from_axis(picture, farthest.symbol), abs(farthest.station)))
        (units, metres), (other_units, other_metres) = drawn
        assert units <= other_units if metres < other_metres else units >= other_units - 2
        if to_scale or size[0] >= 60:
            assert units / other_units == pytest.approx(metres / other_metres, abs=4 / other_units)


def test_arrows_that_are_compared_have_one_scale() -> None:
    """A heavier load of one posture shortens the arrows of the other."""
    question = SHELF.problems["shoulder-straight-then-bent"].question("1")
    question = replace(question, exact=question.exact | {"m_l": Fraction(2), "m_a": Fraction(3)})
    for values in ({}, {"F_b": 60.0}):
        runs = []
        for view in question.views:
            marks = {mark.symbol: mark for mark in layout(view, 60, 18, values=values).marks}
            runs.append([marks[s].head[0] - marks[s].point[0] for s in ("W_a", "W_l")])
        assert runs[0] == runs[1]


@pytest.mark.parametrize("name", COMPARED)
def test_what_is_given_has_no_mark_in_a_later_posture(name: str) -> None:
    """A `?` is for what is sought alone, on paper and before any line is done."""
    for view in SHELF.problems[name].question("1").views:
        posture = view.problem.posture
        sought = {force.symbol for force in posture.forces if force is posture.balancing}
        labels = {label.of: label.text for label in layout(view, 60, 18, fine=True).labels}
        marked = {of for of, text in labels.items() if text.endswith("?")}
        assert marked == sought


@pytest.mark.parametrize("name", CHAINS)
def test_what_is_handed_on_has_no_head_before_it_is_found(name: str) -> None:
    """Its line is drawn either way; the positive way is no guess at where it points."""
    question = SHELF.problems[name].question("1")
    view = question.views[-1]
    handed_on = [f.symbol for f in view.problem.posture.forces if f.is_handed_on]
    for values in ({}, question.right):
        picture = layout(view, 60, 18, values=values)
        heads = sum(isinstance(one, ArrowHead) for one in picture.strokes)
        assert heads == len(picture.marks) - (0 if values else len(handed_on))
        marks = {label.of: label.text for label in picture.labels}
        assert all(marks[symbol].endswith("?") is not bool(values) for symbol in handed_on)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", CHAINS)
def test_a_couple_that_is_handed_on_stands_at_its_joint(name: str, size: tuple[int, int]) -> None:
    """Which way it turns is told once it is found; where there is no room it is told below."""
    question = SHELF.problems[name].question("1")
    view = question.views[-1]
    (couple,) = view.problem.posture.couples
    joint = next(f.symbol for f in view.problem.posture.forces if f.is_handed_on)
    for values in ({}, question.right):
        picture = layout(view, *size, values=values)
        label = next((one for one in picture.labels if one.of == couple.symbol), None)
        if label is None:
            assert any(f"{couple.symbol}" in line for line in picture.legend)
            continue
        turns = "↺" if question.right[couple.symbol] > 0 else "↻"
        assert label.text == (f"{turns} {couple.symbol}" if values else f"{couple.symbol} ?")
        row, column = next(mark.point for mark in picture.marks if mark.symbol == joint)
        assert abs(label.row - row) <= 3
        assert label.column - 2 <= column <= label.column + len(label.text) + 2


def test_the_picture_is_of_the_posture_that_has_what_is_asked_about() -> None:
    """A line, or a given that no line has under its own symbol, as where numbers are changed."""
    question = SHELF.problems["ankle-then-knee"].question("1")
    first, last = ({mark.symbol for mark in layout(v, 60, 18).marks} for v in question.views)
    for focus, wanted in (
        ("M_f1", first), ("F_g", first), ("alpha", first), ("m_f", first),
        ("M_s2", last), ("beta", last), ("m_s", last), ("L_s", last), ("", first),
    ):  # fmt: skip
        assert {mark.symbol for mark in layout(question, 60, 18, focus).marks} == wanted, focus
