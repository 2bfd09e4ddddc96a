"""Arrows are to scale among forces that are known, and tell nothing of one still to be found."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.diagram.canvas import StraightLine
from leverstep.diagram.layout import Picture, layout
from leverstep.diagram.scene_of_question import scene_of

STOOL, PAIL, WHERE = (
    load_shelf().problems[name].question("5")
    for name in ("knee-stool-hold", "elbow-full-pail", "plain-seesaw-where")
)


def lengths(picture: Picture) -> dict[str, float]:
    """Return the length of each arrow in units, by its symbol."""
    shafts = [
        one
        for one in picture.strokes
        if isinstance(one, StraightLine) and one.style in ("force", "effort", "reaction")
        if one.weight == "thin"
    ]
    runs = [one.end - one.start for one in shafts]
    found = [abs(complex(run.real, 2 * run.imag)) for run in runs]
    return dict(zip((mark.symbol for mark in picture.marks), found, strict=True))


def with_loads(question: Question, first: int, second: int) -> Question:
    """Return a question whose two loads have these masses."""
    loads = question.problem.posture.loads
    keys = [load.magnitude.key for load in loads if load.magnitude]
    masses = dict(zip(keys, (Fraction(first), Fraction(second)), strict=True))
    return replace(question, exact=question.exact | masses)


def test_weights_that_are_given_are_to_scale_whatever_their_units() -> None:
    """A mass in pounds lies beside one in kilograms as its weight does, as lines work it out."""
    question = with_loads(PAIL, 5, 10)
    picture = layout(question, 100, 24)
    found, right = lengths(picture), question.right
    assert found["W_l"] / found["W_f"] == pytest.approx(right["W_l"] / right["W_f"])
    assert found["W_l"] / found["W_f"] == pytest.approx(10 * 0.45359237 / 5, rel=1e-3)
    assert picture.note == "Lengths to scale, arrows too but for F_m."


def test_where_the_shortest_could_not_be_seen_none_is_to_scale() -> None:
    picture = layout(with_loads(PAIL, 1, 22), 100, 24)
    assert len(set(lengths(picture).values())) == 1
    assert picture.note == "Lengths to scale, arrows not."


def test_a_force_to_be_found_has_a_mark_and_a_length_that_says_nothing() -> None:
    """Twice as heavy a problem has the same picture, though its muscle pulls twice as hard."""
    light, heavy = (layout(with_loads(STOOL, *loads), 80, 20) for loads in ((2, 3), (4, 6)))
    assert lengths(light) == lengths(heavy)
    assert lengths(light)["F_m"] == max(lengths(light).values())
    assert "F_m ?" in {label.text for label in light.labels}
    assert "[F_m ?]" in {label.text for label in layout(STOOL, 80, 20, "F_m").labels}


def test_a_force_that_was_found_joins_the_scale_if_all_can_be_seen() -> None:
    """Here one as large as the heavier load; where it is far larger, the others keep theirs."""
    question = with_loads(STOOL, 2, 4)
    sizes = {arrow.symbol: arrow.size for arrow in scene_of(question, {}).arrows}
    like = layout(question, 80, 20, values={"F_m": -(sizes["W_c"] or 0)})
    assert lengths(like)["F_m"] == pytest.approx(lengths(like)["W_c"])
    assert "F_m" in {label.text for label in like.labels}
    assert like.note == "Lengths to scale, arrows too."
    far = layout(question, 80, 20, values={"F_m": 5000.0})
    assert lengths(far)["W_c"] == pytest.approx(2 * lengths(far)["W_s"])
    assert "but for F_m" in far.note


def test_forces_that_are_given_have_no_mark_though_a_distance_is_sought() -> None:
    assert not any(label.text.endswith("?]") for label in layout(WHERE, 80, 20, "W_b").labels)
    assert {"W_c", "W_b"} <= {label.text for label in layout(WHERE, 80, 20).labels}


def test_on_the_line_of_its_muscle_an_arrow_is_never_to_scale() -> None:
    """It must end before the far end of the muscle, and the note says so."""
    question = load_shelf().problems["elbow-both-attachments"].question("5")
    for values in ({}, {"F_m": 20.0}):
        picture = layout(question, 70, 24, values=values)
        assert "arrows too but for F_m" in picture.note
