"""Writing a problem to start from: quantities as they are typed, and files that read and vet."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.material import CATALOGUE
from helpers.problem_texts import read_text
from hypothesis import given
from hypothesis import strategies as st
from leverstep.course.faults import FileError
from leverstep.course.forces import STRAIGHT
from leverstep.course.problem_writing import (
    FOUND,
    NewForce,
    NewProblem,
    Slanting,
    read_back,
    refuse_ident,
    text_of_problem,
)
from leverstep.course.typed_quantity import LEAST_STEPS, typed_quantity
from leverstep.vetting.vet import vet_problem

CM, SIZES = ("m", "cm", "ft"), ("kg", "lb", "N", "lbf")


@pytest.mark.parametrize(
    ("typed", "toml"),
    [
        ("20 N", 'value = 20, unit = "N"'),
        ("0,5 kg", 'value = 0.5, unit = "kg"'),
        (" 2 to 6 kg ", 'from = 2, to = 6, step = 0.5, unit = "kg"'),
        ("2-6kg", 'from = 2, to = 6, step = 0.5, unit = "kg"'),
        ("2 to 6 by 0,25 kg", 'from = 2, to = 6, step = 0.25, unit = "kg"'),
        ("100 to 400 N", 'from = 100, to = 400, step = 50, unit = "N"'),
        ("2.3 to 7.9 lb", 'from = 2.3, to = 7.9, step = 0.2, unit = "lb"'),
        ("3 to 4 kg", 'from = 3, to = 4, step = 0.2, unit = "kg"'),
    ],
)
def test_a_quantity_is_read_as_it_is_typed(typed: str, toml: str) -> None:
    assert typed_quantity(typed, SIZES).toml == toml


def test_an_angle_needs_no_unit() -> None:
    for typed in ("30", "30°", "30 deg"):
        assert typed_quantity(typed, ("deg",)).toml == 'value = 30, unit = "deg"'


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("", "Found nothing; type a quantity such as 20 kg, or 15 to 30 kg."),
        ("heavy", "Found heavy; type a quantity such as"),
        ("20", "Found 20: it has no unit. Units are kg, lb, N, lbf."),
        ("20 kgs", 'Found 20 kgs: kgs is no unit here (did you mean "kg"?).'),
        ("-3 kg", "Found -3 kg; type a quantity"),
        ("0 kg", "Found 0; a quantity is above 0."),
        ("6 to 2 kg", "Found 6 to 2; the smaller number comes first."),
        ("2 to 6 by 3 kg", "Steps of 3 do not lead from 2 to 6."),
        ("2 to 6 by 0 kg", "Steps of 0 do not lead from 2 to 6."),
    ],
)
def test_what_is_no_quantity_is_told(typed: str, told: str) -> None:
    with pytest.raises(ValueError, match=re.escape(told)):
        typed_quantity(typed, SIZES)


@given(st.integers(1, 99_999), st.integers(1, 99_999), st.integers(0, 3))
def test_a_step_leads_from_one_end_to_the_other(low: int, more: int, places: int) -> None:
    first, last = (f"{n / 10**places:.{places}f}" for n in (low, low + more))
    made = typed_quantity(f"{first} to {last} N", SIZES)
    steps = (Fraction(made.high) - Fraction(made.low)) / Fraction(made.step)
    assert steps.denominator == 1
    assert steps >= LEAST_STEPS


def forces(find: str, angled: bool) -> tuple[tuple[NewForce, ...], NewForce | None]:
    """Return loads and effort of a problem that asks for something."""
    at, near = typed_quantity("25 to 30 cm", CM), typed_quantity("3 to 4 cm", CM)
    mass, push = typed_quantity("4 to 6 kg", SIZES), typed_quantity("20 N", SIZES)
    slanting = Slanting("segment", "axis", "above", typed_quantity("60 to 65", ("deg",)))
    leaning = Slanting("horizontal", "left", "below", typed_quantity("30 to 40", ("deg",)))
    if find == "reaction":
        one, other = NewForce("left cord", push, None, leaning), NewForce("box", mass, None, "down")
        return (one, other), None
    pail = NewForce("pail", mass, at, "down")
    loads = pail, NewForce("hand of a friend", push, at, leaning if angled else "down")
    if find in ("moment", "moment sum"):
        return loads, None
    size = None if find == "effort" else typed_quantity("700 to 800 N", SIZES)
    effort = NewForce("elbow flexors", size, near, slanting if angled else "up")
    if find == "load":
        loads = pail, NewForce("hand of a friend", None, at, "down")
    return loads, effort


def problems() -> Iterator[NewProblem]:
    """Yield a new problem of each kind, level and tilted."""
    for find, angled, rises in itertools.product(FOUND, (True, False), (True, False)):
        loads, effort = forces(find, angled)
        tilt = typed_quantity("70 to 80" if rises else "10 to 20", ("deg",)) if angled else None
        yield NewProblem(
            "mine", 'A "new" one', "elbow", "forearm", "elbow", "right", tilt, rises, find, loads,
            effort, "vertical" if angled and rises else "horizontal",
        )  # fmt: skip


@pytest.mark.parametrize(
    "new", list(problems()), ids=lambda new: f"{new.find}-{new.inclination is not None}-{new.rises}"
)
def test_what_is_written_reads_and_has_no_fault(new: NewProblem) -> None:
    problem = read_back(new)
    report = vet_problem(problem, "mine.toml", CATALOGUE)
    assert report.faults == ()
    assert problem.title == 'A "new" one'
    assert len(problem.posture.loads) == len(new.loads)
    assert "{" not in problem.question("1").statement


@pytest.mark.parametrize("way", STRAIGHT)
def test_every_direction_that_has_a_name_can_be_told(way: str) -> None:
    push = NewForce("push", typed_quantity("20 N", SIZES), typed_quantity("30 cm", CM), way)
    pail = NewForce("pail", typed_quantity("4 kg", SIZES), typed_quantity("40 cm", CM), "down")
    new = NewProblem(
        "mine", "Mine", "plain", "arm", "pivot", "right", typed_quantity("20", ("deg",)), True,
        "moment", (pail, push),
    )  # fmt: skip
    told = read_back(new).question("1").statement
    assert "The force of the push acts 30 cm from the pivot, " in told
    assert not set("{}") & set(told)


def test_the_lines_that_have_no_effect_are_good_ones() -> None:
    """Each way to say it otherwise that stands in a new file can be put in place."""
    new = next(one for one in problems() if one.find == "effort" and one.inclination is None)
    text = text_of_problem(new)
    for line in text.splitlines():
        if line.startswith("# ") and " = " in line and "…" not in line and "in it" not in line:
            key = line[2:].partition(" = ")[0]
            assert key in {
                "tolerance", "positive", "inclination", "length", "direction", "method",
                "reaction", "ratios",
            }  # fmt: skip
    for old, more in (
        ("# tolerance", "tolerance"), ("# positive", "positive"), ("# inclination", "inclination"),
        ("# length", "length"), ("# method", "method"), ("# reaction", "reaction"),
        ("# ratios", "ratios"),
    ):  # fmt: skip
        assert text.count(f"\n{old} = ") == 1
        text = text.replace(f"\n{old} = ", f"\n{more} = ")
    assert read_text(text).posture.length is not None


def test_a_file_that_no_problem_may_be_called_as_is_refused(tmp_path: Path) -> None:
    for name in ("My pail.toml", "pail", "9.toml"):
        with pytest.raises(
            FileError, match="lower-case letters, digits and hyphens, a letter first, then"
        ):
            refuse_ident(tmp_path / name)
