"""Exploring: what follows from a changed given, how it is drawn, told, asked and written."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations, pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from leverstep.course.numbers import Range
from leverstep.course.problem import Problem, Question
from leverstep.course.shelf import load_shelf
from leverstep.diagram.canvas import ArrowHead, Curve
from leverstep.diagram.canvas import Point as Mark
from leverstep.diagram.compass import compass
from leverstep.diagram.scene_of_question import scene_of
from leverstep.explore.answers import Answer, answer_of
from leverstep.explore.axes import DECIMAL, DEGREES, axis
from leverstep.explore.exploration import Exploration
from leverstep.explore.frame import PlotPoint
from leverstep.explore.givens import Movable, movables
from leverstep.explore.plot import Plot, panels, plot
from leverstep.explore.predictions import predictions
from leverstep.explore.ranges import GivenSpan, span_of
from leverstep.explore.results import Result, direction_of, results_of, values_of
from leverstep.explore.sentences import change, doubling, extremes, limits, off_scale
from leverstep.explore.sweep import Sweep, SweepSample, sweep
from leverstep.explore.table import as_csv, told
from leverstep.faces.commands.cli import main
from leverstep.statics.acting import Force
from leverstep.statics.points import Direction, Distance, Given
from leverstep.statics.posture import Posture
from leverstep.working.cautions import CAUTION

SHELF = load_shelf()
NAMES = sorted(SHELF.problems)
SIZES = ((49, 14), (75, 28))
"""The room of the plot on a screen of 80 by 24 and of 120 by 36."""

UP, DOWN = Direction("vertical", side="above"), Direction("vertical", side="below")
LOAD = Force(
    "W_l", Distance("d_l", Given("given_d_l", "d_l", "cm")), DOWN, Given("W_l", "W_l", "N")
)
NEAR = Distance("d_m", Given("given_d_m", "d_m", "cm"))
VALUES = {"given_d_l": "30", "given_d_m": "4", "W_l": "50", "alpha": "20", "beta": "30"}


def question_of(posture: Posture) -> Question:
    """Return a question about a posture, with some of `VALUES`."""
    exact = {given.key: Fraction(VALUES[given.key]) for given in posture.givens()}
    ranges = {key: Range(value, value, Fraction(0)) for key, value in exact.items()}
    names = {"F_m": "flexors", "W_l": "pail"}
    problem = Problem(
        "made", "Made", "elbow", 1, "A statement.", "forearm", "elbow", posture, names, ranges, {}
    )  # fmt: skip
    return Question(problem, "1", exact)


LEVEL = question_of(Posture(Force("F_m", NEAR, UP), (LOAD,), arm_ratio_of="W_l"))
"""One load and a muscle straight up: F_m = W_l × d_l ÷ d_m, R = F_m − W_l."""

OBLIQUE = question_of(
    Posture(
        Force("F_m", NEAR, Direction("vertical", Given("alpha", "alpha", "deg"), "right")),
        (LOAD,),
        inclination=Given("beta", "beta", "deg"),
    )
)
"""A muscle that leans α from the vertical toward a forearm at 30°: it lies along it at α = 60°."""


def movable_of(question: Question, sign: str) -> Movable:
    """Return the given with a sign."""
    return next(one for one in movables(question) if one.sign == sign)


def swept(question: Question, sign: str) -> Sweep:
    """Return the sweep over the given with a sign."""
    return sweep(question, movable_of(question, sign))


def force_over(question: Question, sign: str) -> dict[float, float]:
    """Return the muscle force over a given, where there is one."""
    there = (s for s in swept(question, sign).samples if s.values is not None)
    return {float(sample.at): sample.values["F_m"] for sample in there}


def drawn(found: Sweep, panel: int = 0, size: tuple[int, int] = SIZES[0], **how: bool) -> Plot:
    """Return the plot of a sweep, its present point where the span begins."""
    point = PlotPoint(found.samples[0].at, found.samples[0].values)
    return plot(found, panels(found.results)[panel], point, point, *size, **how)


# What follows


def test_the_muscle_force_grows_as_the_distance_of_the_load() -> None:
    found = force_over(LEVEL, "d_l")
    assert len(found) > 50
    assert all(math.isclose(force, 50 * at / 4) for at, force in found.items())


def test_the_muscle_force_is_a_hyperbola_over_its_attachment() -> None:
    found = force_over(LEVEL, "d_m")
    assert all(math.isclose(force, 50 * 30 / at) for at, force in found.items())


def test_every_reaction_is_told_to_point_as_the_picture_has_it() -> None:
    told = 0
    for name in NAMES:
        question = SHELF.problems[name].question("1")
        values = values_of(question)
        assert values is not None
        for result in (one for one in results_of(question) if one.role == "reaction"):
            scene = scene_of(question.view(result.mark), values)
            (arrow,) = (one for one in scene.arrows if one.role == "reaction")
            way = compass(arrow.direction).replace("straight ", "").replace("to the ", "")
            assert direction_of(question, result, values) == way, name
            told += 1
    assert told > 50


def test_of_two_postures_each_has_a_reaction_that_points_its_own_way() -> None:
    question = SHELF.problems["lumbar-near-and-far"].question("1")
    values = values_of(question)
    assert values is not None
    turned = {**values, "R_y2": -values["R_y2"]}
    reactions = [one for one in results_of(question) if one.role == "reaction"]
    assert [direction_of(question, one, turned) for one in reactions] == ["up", "down"]


def test_the_reaction_is_what_is_left_of_the_muscle_force() -> None:
    for sample in swept(LEVEL, "W_l").samples:
        assert math.isclose(sample.values["R"], sample.values["F_m"] - float(sample.at))


def test_a_slanting_muscle_needs_the_sine_of_its_angle_to_the_forearm() -> None:
    for at, force in force_over(OBLIQUE, "α").items():
        arm = 0.04 * math.sin(math.radians(60 - at))
        assert math.isclose(force, 50 * 0.3 * math.cos(math.radians(30)) / arm)


def test_results_are_those_the_problem_asks_for() -> None:
    signs = {
        name: [r.sign for r in results_of(SHELF.problems[name].question("1"))] for name in NAMES
    }
    assert signs["elbow-full-pail"] == ["F_m", "R", "MA", "AR"]
    assert signs["plain-balance-board"] == ["m_l", "W_l", "R"]
    assert signs["plain-seesaw-where"] == ["d_b", "R"]
    assert signs["knee-net-moment"] == ["M_net", "R"]
    assert signs["plain-door-push"] == ["M_sum"]
    assert signs["knee-kneecap"] == ["R"]
    assert signs["lumbar-flower-pot"] == ["F_m", "R", "R_a", "R_t"]


@pytest.mark.parametrize("name", NAMES)
def test_every_given_of_what_ships_is_swept_as_the_derivation_has_it_and_plotted(name: str) -> None:
    """With some values worked out anew from the problem, and labels that are clear."""
    question = SHELF.problems[name].question("1")
    assert [one.key for one in movables(question)] == [given.key for given in question.givens]
    for number, movable in enumerate(movables(question)):
        found = sweep(question, movable)
        check_swept(question, found)
        check_plots(question, found, number)


def check_swept(question: Question, found: Sweep) -> None:
    """Check that samples are in order, the question among them, and some as derived anew."""
    key = found.movable.key
    assert [s.at for s in found.samples] == sorted({s.at for s in found.samples})
    assert any(s.at == question.exact[key] and s.values for s in found.samples)
    for sample in found.samples[::15]:
        moved = question.with_given(key, sample.at)
        if sample.values is None:
            assert sample.trouble
            continue
        values = moved.graph.values(moved.numbers, {})
        assert all(sample.values[key] == values[key] for key in values)
        for pair in (("R_x", "R_y"), ("R_a", "R_t")):
            parts = [values.get(key, 0.0) for key in pair]
            if any(parts):
                assert math.isclose(sample.values["R"], math.hypot(*parts))


# How far a given may be moved


@pytest.mark.parametrize("name", NAMES)
def test_spans_are_round_and_wide_enough_to_see_the_law(name: str) -> None:
    question = SHELF.problems[name].question("3")
    for movable in movables(question):
        span, value = movable.span, question.exact[movable.key]
        assert 0 < span.low <= value <= span.high
        assert is_round(span.step)
        if movable.given.unit == "deg":
            drawn = question.problem.ranges[movable.key]
            assert span.high <= 90 or drawn.high // 90 == span.high // 90 == span.low // 90
        elif movable.part != "share":
            assert span.low <= value / 2
            assert span.high >= 2 * value
            assert 20 <= (span.high - span.low) / span.step <= 130


VALUE = st.fractions(Fraction(1, 100), 5000, max_denominator=100)


@given(VALUE, VALUE, st.sampled_from(("cm", "kg", "deg")), st.integers(-12, 12).filter(bool))
def test_a_step_leads_to_a_multiple_or_to_an_end(
    low: Fraction, more: Fraction, unit: str, steps: int
) -> None:
    value = min(low, Fraction(90)) if unit == "deg" else low
    span = span_of(Range(value, value + more, Fraction(1, 100)), unit, value)
    moved = span.moved(value, steps)
    assert span.holds(moved)
    assert moved in (span.low, span.high) or (moved / span.step).denominator == 1
    assert (moved - value) * steps > 0 or value in (span.low, span.high)
    assert abs(moved - value) <= abs(steps) * span.step


def test_a_measured_value_is_in_its_span_and_written_as_it_was_measured() -> None:
    question = SHELF.problems["elbow-full-pail"].question("1", {"given_d_l": Fraction("26.37")})
    movable = movable_of(question, "d_l")
    assert movable.written(question) == "26.37 cm"
    assert movable.span.moved(Fraction("26.37"), 1) == 27
    assert movable.at(question, Fraction(27)) == "27.0 cm"


# Axes


def is_round(step: Fraction, sizes: tuple[int, ...] = tuple(DECIMAL)) -> bool:
    """Return whether a step is one of some sizes times a power of ten."""
    power = Fraction(10) ** math.floor(math.log10(step) + 1e-9)
    return step / power in sizes


@given(st.floats(-1e6, 1e6), st.floats(1e-3, 1e6), st.integers(2, 12), st.booleans())
def test_ticks_are_round_and_cover_the_values(
    low: float, extent: float, most: int, degrees: bool
) -> None:
    scale = axis(low, low + extent, most, degrees)
    ticks = scale.ticks
    assert is_round(scale.step) or (degrees and scale.step in DEGREES)
    assert 2 <= len(ticks) <= most + 1
    assert all((tick / scale.step).denominator == 1 for tick in ticks)
    slack = 1e-6 * float(scale.step)
    assert float(ticks[0]) <= low + slack
    assert float(ticks[-1]) >= low + extent - slack
    assert [Fraction(scale.written(tick)) for tick in ticks] == list(ticks)


# The plot


def check_labels(picture: Plot) -> None:
    """Check that every label stands in the grid as written, and clear of every other."""
    boxes = [(one.row, one.column, one.column + len(one.text)) for one in picture.labels]
    for label, (row, start, end) in zip(picture.labels, boxes, strict=True):
        assert picture.lines[row][start:end] == label.text, "something was drawn over a label"
    for (row, start, end), (other, first, last) in combinations(boxes, 2):
        assert row != other or end + 1 < first or last + 1 < start, "two labels touch"


def check_places(found: Sweep, picture: Plot, shown: tuple[Result, ...]) -> None:
    """Check that lines stay in the frame, show every value that fits, and nothing else."""
    frame, lines = picture.frame, picture.lines
    for curve in curves(picture):
        for place in curve.places:
            assert frame.left - 0.01 <= place.real <= frame.right + 0.01
            assert frame.top - 0.01 <= place.imag <= frame.bottom + 0.01
    places = {place for curve in curves(picture) for place in curve.places}
    drawable = 0
    for result, sample in ((r, s) for r in shown for s in found.samples if s.values is not None):
        place = frame.place(float(sample.at), sample.values[result.key])
        inside = frame.top - 1e-6 <= place.imag <= frame.bottom + 1e-6
        drawable += inside
        assert (place in places) == inside
    ends = {edge for edge in places if abs(edge.imag - frame.top) < 0.01}
    ends |= {edge for edge in places if abs(edge.imag - frame.bottom) < 0.01}
    assert len(places - ends) <= drawable
    assert all(len(line) == len(lines[0]) for line in lines)


def check_plots(question: Question, found: Sweep, number: int) -> None:
    """Check the plots of a sweep at each size, in ASCII for every third `number`."""
    movable = found.movable
    shown = panels(found.results)[number % len(panels(found.results))]
    at = movable.span.moved(question.exact[movable.key], 7)
    now = PlotPoint(at, values_of(question.with_given(movable.key, at)))
    own = PlotPoint(question.exact[movable.key], values_of(question))
    for size in SIZES:
        picture = plot(found, shown, now, own, *size, unicode=number % 3 != 2)
        assert [len(line) for line in picture.lines] == [size[0]] * size[1]
        check_labels(picture)
        check_places(found, picture, shown)
        named = {label.of for label in picture.labels} | {
            n[-len(r.sign) :] for r in shown for n in picture.notes
        }
        assert all({result.key, result.sign} & named for result in shown)
        assert {"up", "tick", "across"} <= {label.of for label in picture.labels}
        if number % 3 == 2:
            assert all(line.isascii() for line in picture.lines)


SIZE_OF_VALUES = st.floats(-1e9, 1e9).map(lambda value: 0.0 if abs(value) < 1e-6 else value)


@settings(deadline=None, max_examples=60)
@given(
    st.lists(st.none() | SIZE_OF_VALUES, min_size=2, max_size=40),
    st.integers(40, 90),
    st.integers(8, 30),
)
@example([0.0, 0.0, 999999995.0, 0.0, 1.0, 1e-06, -1.0], 40, 8)
def test_any_values_are_drawn_where_the_axes_say_or_not_at_all(
    values: list[float | None], width: int, height: int
) -> None:
    """Also those that jump, are far apart, negative or missing."""
    result = Result("F_m", "N", "force", "unknown")
    span = GivenSpan(Fraction(1), Fraction(len(values)), Fraction(1))
    movable = Movable(Given("d", "d", "cm"), "d", "distance", "own arm", span)
    samples = tuple(
        SweepSample(
            Fraction(at),
            None if value is None else {"F_m": value},
            "" if value is not None else "x",
        )
        for at, value in enumerate(values, 1)
    )
    found = Sweep(movable, (result,), samples, ())
    picture = drawn(found, size=(width, height))
    check_places(found, picture, (result,))
    check_labels(picture)
    gaps = [float(sample.at) for sample in samples if sample.values is None]
    for curve in curves(picture):
        spread = [place.real for place in curve.places]
        columns = [picture.frame.place(gap, 0.0).real for gap in gaps]
        assert not any(min(spread) < column < max(spread) for column in columns)


def test_two_lines_differ_in_more_than_colour_and_are_named() -> None:
    picture = drawn(swept(LEVEL, "d_l"))
    assert {curve.weight for curve in curves(picture)} == {"heavy", "dotted"}
    assert {"F_m", "R"} <= {label.of for label in picture.labels}
    assert picture.lines[0].startswith("━●━ F_m  ╍◆╍ R (N)")


def test_present_and_own_point_are_marked_on_each_line() -> None:
    exploration = Exploration(LEVEL)
    exploration.move(movable_of(LEVEL, "d_l"), 10)
    picture = exploration.plot(*SIZES[1])
    text = "\n".join(picture.lines[1:])  # below the title, which has them too
    assert [text.count(mark) for mark in "●◆○◇"] == [1, 1, 1, 1]
    assert picture.notes == ("● ◆ now   ○ ◇ the problem's own",)
    shapes = [stroke.shape for stroke in picture.strokes if isinstance(stroke, Mark)]
    assert {"disc", "diamond", "ring", "open diamond"} < set(shapes)


def test_marks_in_one_place_are_told_and_the_first_is_seen() -> None:
    exploration = Exploration(SHELF.problems["elbow-full-pail"].question("7"))
    assert exploration.hold("d_m") == ""
    picture = exploration.plot(*SIZES[0])
    assert [sum(line.count(mark) for line in picture.lines[1:]) for mark in "●◆"] == [1, 0]
    assert picture.notes == ("● ◆ now, ◆ in the same place",)


# Where the answer is singular


def test_no_line_crosses_the_place_where_the_muscle_passes_through_the_axis() -> None:
    found = swept(OBLIQUE, "α")
    (border,) = found.borders
    assert border.kind == "singular"
    assert abs(border.at - 60) < Fraction(1, 50)
    picture = drawn(found, size=SIZES[1])
    at_gap = picture.frame.place(60, 0).real
    assert curves(picture)
    assert all(place.real <= at_gap for curve in curves(picture) for place in curve.places)
    assert any(isinstance(stroke, ArrowHead) for stroke in picture.strokes), (
        "the line goes on upwards"
    )
    (said,) = limits(OBLIQUE, found)
    assert said == (
        "At α = 60.0° the line of action of F_m passes through the elbow: "
        "it has no moment there, and above that it would turn the other way."
    )
    (cut,) = off_scale(OBLIQUE, found, panels(found.results)[0], picture.frame.up)
    assert cut.endswith("on: F_m and R, because the moment arm of F_m is short.")
    assert "grows without end towards α = 60.0°" in extremes(found, found.results[0])


def test_a_singular_end_of_the_span_is_told_and_has_no_value() -> None:
    question = SHELF.problems["hip-one-leg-stance"].question("7")
    found = swept(question, "θ")
    assert found.samples[-1].values is None
    assert values_of(question.with_given("theta", Fraction(90))) is None
    (said,) = limits(question, found)
    assert said == (
        "At θ = 90.0° the line of action of F_m passes through the hip: it has no moment there."
    )


def test_what_rounding_makes_of_no_moment_is_no_force() -> None:
    """Upright, the forearm's loads have no moment; cos(90°) is not quite 0 for a computer."""
    question = SHELF.problems["elbow-tilted-forearm"].question("7")
    upright = question.with_given("beta", Fraction(90))
    assert upright.trouble == "the other forces have no moment about the elbow"
    assert values_of(upright) is None
    found = swept(question, "β")
    told = [extremes(found, result) for result in found.results]
    assert "falls to nothing towards β = 90.0°" in told[0]
    assert "grows without end towards β = 90.0°" in told[2]


def test_where_nothing_is_left_to_balance_the_line_ends_at_nothing() -> None:
    question = SHELF.problems["plain-seesaw"].question("7")
    found = swept(question, "d_c")
    (border,) = found.borders
    assert border.kind == "idle"
    assert found.runs[0][0].values["F_h"] < 1
    (said,) = limits(question, found)
    assert said.endswith("balance without F_h; below that it would have to turn the other way.")


# In words


def test_where_it_doubles_is_told_to_three_figures() -> None:
    found = swept(LEVEL, "d_m")
    assert list(doubling(LEVEL, found, found.results[0], values_of(LEVEL))) == [
        "F_m is twice as large, 750 N, at d_m = 2.00 cm.",
        "F_m is half as large, 188 N, at d_m = 8.00 cm.",
    ]


def test_what_never_changes_is_told_so() -> None:
    found = swept(LEVEL, "W_l")
    assert extremes(found, found.results[-1]) == "AR stays 0.133 throughout."


def test_a_change_is_a_factor_or_from_what_it_was() -> None:
    assert [change(2, 2), change(2, 1), change(2, -1), change(1, 250)] == [
        "same", "× 0.50", "was 2.00", "× 250",
    ]  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_what_ships_is_told_in_plain_lines(name: str) -> None:
    question = SHELF.problems[name].question("1")
    movable = movables(question)[0]
    lines = list(told(question, sweep(question, movable)))
    assert all(line.isprintable() for line in lines)
    assert any("the present value" in line for line in lines)
    for result in results_of(question):
        assert any(line.startswith(f"{result.sign} ") for line in lines)


# Predictions


@pytest.mark.parametrize(
    ("factor", "answer"),
    [
        (2.3, Answer.MORE), (2, Answer.DOUBLES), (1.98, None), (1.4, Answer.GROWS), (1.02, None),
        (1.0001, Answer.SAME), (0.9, Answer.SHRINKS), (0.5, Answer.HALVES), (0.51, None),
        (0.3, Answer.LESS),
    ],
)  # fmt: skip
def test_answers_have_clear_borders(factor: float, answer: Answer | None) -> None:
    assert answer_of(factor) is answer


def test_one_load_and_one_muscle_are_asked_about_as_the_formula_says() -> None:
    asked = {(one.movable.sign, one.result.sign): one for one in predictions(LEVEL)}
    assert asked["W_l", "F_m"].answer is Answer.DOUBLES
    assert asked["d_l", "F_m"].answer is Answer.HALVES
    assert asked["d_m", "F_m"].answer is Answer.HALVES
    assert asked["d_l", "MA"].answer is Answer.DOUBLES
    assert asked["W_l", "AR"].answer is Answer.SAME
    halved = asked["d_l", "F_m"]
    assert halved.asks == (
        "Halve d_l, distance to the pail (30 cm → 15 cm). "
        "What happens to F_m, force of the flexors?"
    )
    assert halved.told(Answer.HALVES) == (
        "Yes. F_m goes from 375 N to 188 N (× 0.50). "
        "F_m is the sum of the other moments (M_l × 0.50) over its own moment arm (unchanged)."
    )
    assert halved.told(Answer.SAME).startswith("Not quite: it halves. F_m goes from")


@pytest.mark.parametrize("name", NAMES)
def test_what_ships_is_asked_about_and_the_right_answer_is_that_of_the_graph(name: str) -> None:
    question = SHELF.problems[name].question("4")
    asked = predictions(question)
    assert len(asked) >= 2
    assert len({(one.movable.key, one.result.key) for one in asked}) == len(asked)
    for one in asked:
        assert one.movable.span.holds(one.to)
        assert one.to in (2 * question.exact[one.movable.key], question.exact[one.movable.key] / 2)
        moved = question.with_given(one.movable.key, one.to)
        before, after = (size_of(which, one.result.key) for which in (question, moved))
        assert one.answer is expected(after / before)
        assert one.why.endswith(".")
        assert one.asks.isprintable()


def size_of(question: Question, key: str) -> float:
    """Return a result straight from the graph."""
    values, mark = question.graph.values(question.numbers, {}), key.removeprefix("R")
    parts = (values.get(f"{part}{mark}", 0) for part in ("R_x", "R_y"))
    return values[key] if key in values else math.hypot(*parts)


def expected(factor: float) -> Answer:
    """Return the class of a factor, by its definition and no more."""
    for target, answer in ((2, Answer.DOUBLES), (1, Answer.SAME), (0.5, Answer.HALVES)):
        if abs(factor / target - 1) < 0.01:
            return answer
    if factor > 1:
        return Answer.MORE if factor > 2 else Answer.GROWS
    return Answer.LESS if factor < 0.5 else Answer.SHRINKS


# One exploration


def test_a_sweep_is_kept_until_another_given_moves() -> None:
    exploration = Exploration(LEVEL)
    first = exploration.sweep
    exploration.move(exploration.over, 3)
    assert exploration.sweep is first
    exploration.move(movable_of(LEVEL, "d_m"), 1)
    assert exploration.sweep is not first
    second = exploration.sweep
    assert exploration.hold("d_m") == ""
    assert exploration.sweep is not second
    exploration.set_all_back()
    assert exploration.values == exploration.own_values


@pytest.mark.parametrize(
    "name", ["hip-one-leg-stance", "elbow-both-attachments", "lumbar-leaning-trunk"]
)
def test_once_it_is_warm_no_change_of_one_given_derives_anything(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A derivation takes many frames: all are made while the screen opens."""
    exploration = Exploration(SHELF.problems[name].question("7"))
    exploration.warm_up()
    monkeypatch.delattr("leverstep.statics.derivation._write")
    for movable in exploration.movables:
        exploration.over = movable
        for steps in (1, 20, -200, 200):
            exploration.move(movable, steps)
            assert exploration.plot(*SIZES[0]).lines
        exploration.set_all_back()


def test_a_given_is_held_by_its_sign_also_where_that_is_spelt() -> None:
    exploration = Exploration(OBLIQUE)
    assert exploration.hold("alpha") == ""
    assert exploration.over.sign == "α"
    assert exploration.hold("β") == ""
    told_of = exploration.hold("alpah")
    assert told_of == 'no given alpah (did you mean "alpha"?); one of beta, d_l, d_m, W_l, alpha'
    assert exploration.over.sign == "β"


# What is written


def rows_of(text: str) -> list[list[str]]:
    assert text.count("\r\n") == text.count("\n") == len(text.splitlines())
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


def test_a_table_has_units_a_row_for_each_step_and_the_values() -> None:
    movable = movable_of(LEVEL, "d_l")
    head, *rows = rows_of(as_csv(LEVEL, movable))
    assert head == ["d_l (cm)", "F_m (N)", "R (N)", "MA", "AR"]
    assert [Fraction(row[0]) for row in rows] == list(movable.span.stops())
    for row in rows:
        assert math.isclose(float(row[1]), 50 * float(row[0]) / 4, rel_tol=1e-5)


def test_a_table_is_empty_where_there_is_no_equilibrium() -> None:
    rows = rows_of(as_csv(OBLIQUE, movable_of(OBLIQUE, "α")))
    assert rows[0][0] == "α (°)"
    assert {row[1] == "" for row in rows[1:] if float(row[0]) >= 60} == {True}
    assert {row[1] == "" for row in rows[1:] if float(row[0]) < 60} == {False}


def test_a_picture_has_the_lines_of_the_plot_a_title_and_the_caution() -> None:
    exploration = Exploration(OBLIQUE)
    assert exploration.hold("alpha") == ""
    picture = exploration.svg(80, 24)
    root = ElementTree.fromstring(picture)
    space = "{http://www.w3.org/2000/svg}"
    title = root.find(f"{space}title")
    assert title is not None
    assert title.text == "Made, numbers 1: F_m and R over α, flexors to the vertical."
    assert len(root.findall(f"{space}polyline")) == 2
    texts = " ".join("".join(text.itertext()) for text in root.iter(f"{space}text"))
    assert CAUTION in texts
    assert "passes through the elbow" in texts
    assert "http" not in picture.replace("http://www.w3.org/2000/svg", "")


# On the command line

EXPLORE = ["explore", "elbow-full-pail", "--seed", "7"]


@pytest.fixture(autouse=True)
def _own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))


def test_the_command_writes_a_table_and_a_picture(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table, picture = tmp_path / "pail.csv", tmp_path / "pail.svg"
    assert main([*EXPLORE, "--over", "d_m", "--csv", "--out", str(table)]) == 0
    assert main([*EXPLORE, "--over", "d_m", "--svg", "--out", str(picture)]) == 0
    assert capsys.readouterr().out == f"{table} has been written.\n{picture} has been written.\n"
    assert rows_of(table.read_bytes().decode("utf-8"))[0][:2] == ["d_m (cm)", "F_m (N)"]
    assert ElementTree.fromstring(picture.read_text("utf-8")).tag.endswith("svg")
    assert main([*EXPLORE, "--over", "d_m", "--csv"]) == 0
    assert capsys.readouterr().out == table.read_bytes().decode("utf-8")


def test_the_command_writes_a_sweep_in_plain_lines(tmp_path: Path) -> None:
    path = tmp_path / "pail.txt"
    assert main([*EXPLORE, "--over", "d_l", "--out", str(path)]) == 0
    lines = path.read_text("utf-8").splitlines()
    assert lines[0] == "A pail in the hand, numbers 7."
    assert lines[-1] == CAUTION
    assert "d_l 40.0 cm: F_m 487 N, R 422 N, MA 0.134, AR 0.115" in lines
    assert "F_m is twice as large, 867 N, at d_l = 75.8 cm." in lines


def test_a_wrong_symbol_is_told_with_the_nearest_and_all(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main([*EXPLORE, "--over", "dl", "--csv"]) == 2
    assert capsys.readouterr().err == (
        'elbow-full-pail: no given dl (did you mean "d_l"?); one of L, d_l, d_m, d_f, m_f, m_l\n'
    )


def test_only_a_new_file_is_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    old = tmp_path / "pail.csv"
    old.write_text("mine", "utf-8")
    for path, found in ((old, "it already exists"), (old / "pail.csv", "there is no folder")):
        assert main([*EXPLORE, "--csv", "--out", str(path)]) == 2
        assert capsys.readouterr().err.startswith(f"{path}: {found}")
    assert old.read_text("utf-8") == "mine"


def curves(picture: Plot) -> list[Curve]:
    """Return the lines that show results."""
    return [stroke for stroke in picture.strokes if isinstance(stroke, Curve)]


def pieces_of(picture: Plot) -> Iterator[tuple[complex, complex]]:
    """Yield each straight piece of the lines."""
    for curve in curves(picture):
        yield from pairwise(curve.places)


def test_a_scale_stands_still_while_its_given_moves() -> None:
    exploration = Exploration(OBLIQUE)
    assert exploration.hold("alpha") == ""
    before = list(pieces_of(exploration.plot(*SIZES[1])))
    exploration.move(exploration.over, 38)
    after = exploration.plot(*SIZES[1])
    assert list(pieces_of(after)) == before
    assert after.notes[0].startswith("F_m and R now off the scale")
    exploration.move(exploration.over, 10)
    assert exploration.values is None
    assert exploration.trouble == (
        "There is no equilibrium with these numbers: no force turns against F_m."
    )
    without = exploration.plot(*SIZES[1])
    assert not set("●◆") & set("".join(without.lines[1:]))
    assert without.notes[0].startswith("┆ now, no equilibrium   ○ ◇")
