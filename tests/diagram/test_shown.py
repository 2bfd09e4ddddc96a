"""What a problem shows besides its forces: to scale, beneath all else, the same in every format."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import product
from pathlib import Path
from xml.etree import ElementTree

import pytest
from helpers.source import ROOT
from leverstep.course.problem import Question
from leverstep.course.problem_file import read_problem
from leverstep.course.shown import AXIS, Extent, Shown
from leverstep.diagram.besides import LEAD, besides
from leverstep.diagram.canvas import Outline, Point, StraightLine, Surface
from leverstep.diagram.compass import compass
from leverstep.diagram.described import describe
from leverstep.diagram.layout import SHEET, Picture, layout
from leverstep.diagram.scene_of_question import metres, scene_of
from leverstep.diagram.svg import svg
from leverstep.diagram.tex_picture import tex_picture
from leverstep.statics.points import Direction

FILES = sorted((ROOT / "problems").rglob("*.toml"))
SHOWING = [path for path in FILES if read_problem(path).shown]
SMALL, SCREEN = (42, 11), (70, 24)
SPACED = "{http://www.w3.org/2000/svg}"
HEADS = {True: "▶◥▲◤◀◣▼◢", False: ">^<v"}
UP, DOWN = Direction("vertical", side="above"), Direction("vertical", side="below")
UPPER_ARM = Shown("outline", "upper arm", AXIS, UP, length=Extent(1.1, "L"), end="shoulder")
FLOOR = Shown("surface", "floor", AXIS, DOWN, length=Extent(0.2, "L"))


def shipped(name: str, seed: str = "5") -> Question:
    """Return a question of a problem that ships."""
    return read_problem(next(path for path in FILES if path.stem == name)).question(seed)


def showing(*shown: Shown, name: str = "elbow-full-pail") -> Question:
    """Return a question that shows these things instead of its own."""
    question = shipped(name)
    return replace(question, problem=replace(question.problem, shown=shown))


def drawn(question: Question, size: tuple[int, int], unicode: bool = True) -> Picture:
    """Return a picture, as finely as on a sheet where it has that size."""
    return layout(question, *size, unicode=unicode, fine=size == SHEET)


def units(run: complex) -> complex:
    """Return a run in cells as one in units, where up is positive."""
    return complex(run.real, -2 * run.imag)


def test_most_problems_show_their_posture() -> None:
    kinds = {path: path.parent.name for path in set(FILES) - set(SHOWING)}
    assert len(SHOWING) > 40
    assert sum(joint != "plain" for joint in kinds.values()) <= 1


@pytest.mark.parametrize("path", SHOWING, ids=lambda path: path.stem)
def test_no_force_and_no_label_is_hidden(path: Path) -> None:
    """Every head, every point of a force and every label stands as without what is shown."""
    problem = read_problem(path)
    for seed, size, unicode in product("123", (SMALL, SHEET, SCREEN), (True, False)):
        picture = drawn(problem.question(seed), size, unicode)
        for mark in picture.marks:
            row, column = mark.head
            assert picture.lines[row][column] in HEADS[unicode]
        for label in picture.labels:
            end = label.column + len(label.text)
            assert picture.lines[label.row][label.column : end] == label.text
        told = {label.of for label in picture.labels}
        told |= {line.split(":")[0] for line in picture.legend}
        assert {force.symbol for force in problem.posture.forces} <= told
        assert size != SHEET or not picture.unseen
        for stroke in picture.strokes:
            if isinstance(stroke, Outline | Surface):
                for place in (stroke.start, stroke.end):
                    assert -0.5 <= place.real < size[0] - 0.5
                    assert -0.5 <= place.imag < size[1] - 0.5


@pytest.mark.parametrize("path", SHOWING, ids=lambda path: path.stem)
def test_words_tell_each_thing_as_it_is_drawn(path: Path) -> None:
    """The way of each outline in the picture is told, and no number but those given."""
    for seed in "12":
        question = read_problem(path).question(seed)
        shown, lines = question.problem.shown, describe(question)
        sentences = lines[lines.index(LEAD) + 1 :][: len(shown)]
        strokes = [one for one in drawn(question, SHEET).strokes if isinstance(one, Outline)]
        parts = [one for one in scene_of(question, {}).body if one.kind == "outline"]
        strokes = strokes[len(parts) :]  # those of a body come first, and are told apart
        outlines = [
            line for one, line in zip(shown, sentences, strict=True) if one.kind == "outline"
        ]
        assert all(one.name in line for one, line in zip(shown, sentences, strict=True))
        for stroke, line in zip(strokes, outlines, strict=True):
            run = units(stroke.end - stroke.start)
            way = compass(run / abs(run), question.problem.seen_from)
            assert f", {way}" in line
        numbers = re.findall(r"\d[\d.]*", " ".join(sentences))
        assert set(numbers) <= {given.split()[0].rstrip("°") for given in written(question)}


def written(question: Question) -> list[str]:
    """Return all givens of a question as a student reads them."""
    return list(question.givens_written.values())


@pytest.mark.parametrize("path", SHOWING, ids=lambda path: path.stem)
def test_the_pens_draw_what_the_layout_has(path: Path) -> None:
    """SVG and LaTeX have as many outlines and surfaces as the layout, with their names as text."""
    picture = drawn(read_problem(path).question("3"), SHEET)
    outlines = [one for one in picture.strokes if isinstance(one, Outline)]
    surfaces = [one for one in picture.strokes if isinstance(one, Surface)]
    made = svg(SHEET[0], picture.span, picture.strokes, picture.labels, "")
    root = ElementTree.fromstring(made)
    bands = [one for one in root.iter(f"{SPACED}line") if one.get("stroke") == "#fff"]
    hatched = [one for one in root.iter(f"{SPACED}path") if one.get("stroke") == "#aaa"]
    assert (len(bands), len(hatched)) == (len(outlines), len(surfaces))
    texts = [one.text for one in root.iter(f"{SPACED}text")]
    assert texts == [label.text for label in picture.labels]
    tex = list(tex_picture(SHEET[0], picture.span, picture.strokes, picture.labels))
    ends = sum(1 if one.cut else 2 for one in outlines)
    assert sum(r"\circle*{9}" in line for line in tex) == ends
    first = next(
        n for n, one in enumerate(picture.strokes) if not isinstance(one, Outline | Surface)
    )
    assert not any(isinstance(one, Outline | Surface) for one in picture.strokes[first:])


def test_an_outline_is_to_scale_with_the_segment() -> None:
    question = showing(UPPER_ARM)
    strokes = layout(question, 100, 40).strokes
    (arm,) = [one for one in strokes if isinstance(one, Outline)]
    (bone,) = [one for one in strokes if isinstance(one, StraightLine) and one.style == "segment"]
    real = metres(question, {})
    assert not arm.cut
    ratio = abs(units(arm.end - arm.start)) / abs(units(bone.end - bone.start))
    assert ratio == pytest.approx(1.1 * real["L"] / max(real.values()))


def test_what_does_not_fit_is_cut_off_and_its_end_is_not_named() -> None:
    picture = layout(showing(UPPER_ARM), *SMALL)
    (arm,) = [one for one in picture.strokes if isinstance(one, Outline)]
    assert arm.cut
    assert "shoulder" not in {label.text for label in picture.labels}
    whole = layout(showing(UPPER_ARM), 100, 40)
    assert {"shoulder", "upper arm"} <= {label.text for label in whole.labels}


def test_things_hang_together_and_end_at_a_surface() -> None:
    """A stick from the shoulder ends on the floor, wherever the numbers put both."""
    stick = Shown("outline", "stick", "W_l", DOWN, until="floor", end="foot")
    scene = scene_of(showing(FLOOR, UPPER_ARM, stick), {})
    floor, arm, held = scene.surroundings
    assert held.meets
    assert held.end == pytest.approx(floor.end.imag * 1j)
    assert arm.end == pytest.approx(1.1j * metres(showing(), {})["L"])
    past = replace(stick, direction=UP)
    assert not scene_of(showing(FLOOR, past), {}).surroundings[1].meets


def test_a_surface_is_hatched_on_its_far_side() -> None:
    ceiling = replace(FLOOR, name="ceiling", direction=UP)
    for shown, side in ((FLOOR, 1), (ceiling, -1)):
        (surface,) = [
            one for one in layout(showing(shown), *SHEET).strokes if isinstance(one, Surface)
        ]
        assert math.copysign(1, surface.side.imag) == side, "rows run down"
        assert surface.start.imag == pytest.approx(surface.end.imag)


def test_the_far_end_of_a_muscle_lies_on_its_line_at_its_height() -> None:
    """At the smallest size too, since where the muscle pulls from is what the problem is about."""
    question = shipped("elbow-both-attachments")
    real = metres(question, {})
    for size in (SMALL, SHEET, SCREEN):
        picture = drawn(question, size)
        points = [one for one in picture.strokes if isinstance(one, Point)]
        (axis,) = [one.place for one in points if one.shape == "axis"]
        (far,) = [one.place for one in points if (one.shape, one.style) == ("end", "effort")]
        (bone,) = [
            one
            for one in picture.strokes
            if isinstance(one, StraightLine) and one.style == "segment"
        ]
        scale = abs(bone.end - bone.start) / max(real.values())
        run = units(far - axis)
        assert abs(run / scale - complex(real["a_o"], real["h_o"])) * scale < 1, "within a cell"
        assert any(label.text.startswith("h_o") for label in picture.labels)
    bag = drawn(shipped("shoulder-raised-arm-bag"), SHEET)
    assert any(label.text == "h_o 4.3 cm" for label in bag.labels)


def test_names_of_any_kind_are_text() -> None:
    """A name is no markup, no command and no control sign, in characters, SVG, LaTeX or words."""
    hostile = r'<b>&"\input{x}$%'
    question = showing(
        replace(UPPER_ARM, name=hostile, end="é <i>"), replace(FLOOR, name="bödé\u202e")
    )
    picture = layout(question, 100, 40, fine=True)
    assert {hostile, "é <i>"} <= {label.text for label in picture.labels}
    root = ElementTree.fromstring(svg(100, picture.span, picture.strokes, picture.labels, ""))
    assert hostile in [one.text for one in root.iter(f"{SPACED}text")]
    tex = "\n".join(tex_picture(100, picture.span, picture.strokes, picture.labels))
    assert r"\input" not in tex
    assert r"\ensuremath{\backslash}input\{x\}\$\%" in tex
    assert "".join(layout(question, 100, 30, unicode=False).lines).isascii()
    assert any(hostile in line for line in besides(question))


def test_words_of_one_question() -> None:
    """The whole of what is told, with the problem's own numbers and no other."""
    hand = Shown(
        "outline",
        "hand",
        "W_l",
        Direction("segment", None, side="below"),
        length=Extent(1, "d_l", True),
    )
    question = showing(replace(FLOOR, length=None), UPPER_ARM, hand)
    number = question.written(question.problem.placeholders["d_l"])
    assert tuple(besides(question)) == (
        LEAD,
        "Also shown: the floor, level, at the elbow.",
        "Also shown: the upper arm, straight up from the elbow to the shoulder.",
        "Also shown: the hand, straight down, perpendicular to the forearm, "
        f"from the point where W_l acts, d_l, {number}, away.",
    )
    plan = replace(question, problem=replace(question.problem, seen_from="above"))
    assert not {"level", "up", "down", "below"} & set(re.findall(r"\w+", " ".join(besides(plan))))


def test_a_problem_that_shows_nothing_is_drawn_as_ever() -> None:
    question = showing(name="plain-wheelbarrow")
    assert tuple(besides(question)) == ()
    picture = layout(question, 42, 11)
    assert not [one for one in picture.strokes if isinstance(one, Outline | Surface)]
    assert [line.rstrip() for line in picture.lines[3:7]] == [
        "   ●━━━━━━━━┯━━━┯━━━━━━━━━━━━━━━┷",
        " axle       │   │",
        "            │   │",
        "        W_s ▼   ▼ W_b",
    ]
