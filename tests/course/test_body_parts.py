"""Problem files that ask for a centre of mass: what is read of them, and each fault told."""

from __future__ import annotations

import pytest
from helpers.problem_texts import read_text
from leverstep.course.faults import FileError
from leverstep.statics.posture import Find

LEG = """
id = "leg"
title = "A leg"
joint = "hip"
difficulty = 2
statement = "{L_t} {theta} {x_a} {y_a} {m_t} {x_t} {m_s} {x_s} {x_h} {x_f}"

[segment]
name = "leg"
axis = "hip"

[[point]]
name = "knee"
suffix = "_k"
length = { symbol = "L_t", value = 40, unit = "cm" }
[point.direction]
line = "horizontal"
toward = "right"
side = "below"
angle = { symbol = "theta", value = 30, unit = "deg" }

[[point]]
name = "ankle"
[point.at]
across = { symbol = "x_a", value = 22, unit = "cm" }
up = { symbol = "y_a", value = 55, unit = "cm", below = true }

[[load]]
symbol = "W_t"
name = "thigh"
mass = { value = 7, unit = "kg" }
at = { between = ["axis", "knee"], fraction = 0.433 }
direction = "down"

[[load]]
symbol = "W_s"
name = "lower leg"
mass = { value = 4, unit = "kg" }
at = { between = ["knee", "ankle"], fraction = 0.606 }
direction = "down"

[support]
from = { symbol = "x_h", value = 5, unit = "cm", left = true }
to = { symbol = "x_f", value = 18, unit = "cm" }

[ask]
find = "centre of mass"
"""


def test_points_parts_and_support_are_read() -> None:
    problem = read_text(LEG)
    posture = problem.posture
    assert posture.find is Find.CENTRE_OF_MASS
    assert problem.asks == "centre of mass"
    assert [point.name for point in posture.body_points] == ["knee", "ankle"]
    assert posture.support is not None
    assert posture.support.left is not None
    assert posture.support.left.beyond
    values = problem.question("1").right
    assert values["x_k"] == pytest.approx(0.4 * 3**0.5 / 2)
    assert values["y_s"] == pytest.approx(-0.2 + 0.606 * (-0.55 + 0.2))
    assert values["x_c"] == pytest.approx((7 * values["x_t"] + 4 * values["x_s"]) / 11)
    assert values["base"] == (1 if values["x_c"] < 0.18 else -1)


def test_the_angle_of_one_point_serves_another() -> None:
    """A straight body leans by one angle."""
    text = LEG.replace(
        '[point.at]\nacross = { symbol = "x_a", value = 22, unit = "cm" }\n'
        'up = { symbol = "y_a", value = 55, unit = "cm", below = true }',
        'start = "knee"\nsuffix = "_a"\nlength = { symbol = "L_s", value = 40, unit = "cm" }\n'
        'direction = { line = "vertical", toward = "left", side = "below", angle = "theta" }',
    ).replace("{x_a} {y_a}", "{L_s}")
    values = read_text(text).question("1").right
    assert values["x_a"] == pytest.approx(values["x_k"] - 0.2)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('["axis", "knee"]', '["axis", "knie"]', "load[1].at.between: found 'knie' (did you mean"),
        ('["axis", "knee"]', '["knee", "knee"]', "load[1].at.between: found 1; expected two"),
        ('["axis", "knee"]', '"knee"', "load[1].at.between: found"),
        ('name = "ankle"', 'name = "knee"', 'point[2].name: "knee" is the name of another point'),
        ('suffix = "_k"', 'suffix = "k"', 'point[1].suffix: found "k"; expected "_" and letters'),
        ('suffix = "_k"', 'suffix = "_t"', '"x_t" is also what a line of the working is called'),
        ('line = "horizontal"', 'line = "segment"', "point[1].direction.line: found"),
        ('symbol = "W_s"', 'symbol = "W_c"', '"x_c" is also what a line of the working is called'),
        ('find = "centre of mass"', 'find = "moment"', 'expected find = "centre of mass"'),
        ("value = 5,", "", "support.from.value: missing"),
        ("value = 18,", "value = 2,", None),
        (
            'value = 18, unit = "cm"',
            'value = 18, unit = "cm", left = true',
            "support: it runs from -0.05 m to -0.18 m; expected from left to right",
        ),
        ('axis = "hip"', 'axis = "hip"\ninclination = { symbol = "a", value = 5, unit = "deg" }',
         "segment.inclination: there is one"),
    ],
)  # fmt: skip
def test_each_fault_is_told(old: str, new: str, told: str | None) -> None:
    assert old in LEG
    text = LEG.replace(old, new, 1)
    if told is None:
        assert read_text(text)
        return
    with pytest.raises(FileError) as caught:
        read_text(text)
    assert told in str(caught.value)


def test_a_weight_points_down() -> None:
    text = LEG.replace('direction = "down"', 'direction = "left"')
    with pytest.raises(FileError, match='direction: found another way; expected "down"'):
        read_text(text)


def test_one_part_is_no_body() -> None:
    start = LEG.index('[[load]]\nsymbol = "W_s"')
    text = LEG[:start] + LEG[LEG.index("[support]") :]
    text = text.replace(" {m_s} {x_s}", "")
    with pytest.raises(FileError, match="load: found 1; expected two parts or more"):
        read_text(text)


def test_a_part_is_a_weight_and_not_the_pull_of_a_band() -> None:
    band = """band = { stiffness = { symbol = "k_s", value = 200, unit = "N/m" }, \
length = { symbol = "l_s", value = 40, unit = "cm" }, \
rest_length = { symbol = "l_r", value = 30, unit = "cm" } }"""
    text = LEG.replace('mass = { value = 4, unit = "kg" }', band)
    with pytest.raises(FileError, match=r"load\[2\]: W_s is no weight; expected a mass, a force"):
        read_text(text.replace("{m_s}", "{k_s} {l_s} {l_r}"))
