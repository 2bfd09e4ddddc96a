"""Faults of files that resolve forces along the segment, add them, or find two of them."""

from __future__ import annotations

import pytest
from helpers.material import CATALOGUE
from helpers.problem_texts import quantity, read_text
from helpers.source import ROOT
from leverstep.course.faults import FileError
from leverstep.course.problem import Problem
from leverstep.vetting.vet import vet_problem
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working
from leverstep.working.writing import substituted

POT, LAMP, HEADS = "lumbar/lumbar-flower-pot", "plain/plain-lamp-two-cords", (
    "ankle/ankle-two-heads-of-calf"
)  # fmt: skip
INNER = 'at = "axis"\n[load.direction]\nline = "vertical"\ntoward = "left"'
"""Where the inner head pulls, and which way."""


def changed(name: str, *changes: tuple[str, str]) -> Problem:
    """Return the problem of a file that ships, with some texts of it changed."""
    path = ROOT / "problems" / f"{name}.toml"
    text = path.read_text("utf-8")
    return read_text(text, *changes)


@pytest.mark.parametrize(
    ("name", "change", "told"),
    [
        (POT, ('resolve = "along and across"', 'resolve = "across"'), "resolve"),
        (POT, ('resolve = "along and across"\n', ""), "compression"),
        (POT, ("ratios = false", "ratios = false\nreaction = false"), "compression"),
        (HEADS, ('find = "resultant"', 'find = "resultants"'), "find"),
        (HEADS, (INNER, INNER.replace('"axis"', quantity("d_i", 2, "cm"))), "find"),
        (HEADS, ("[ask]", '[ask]\nresolve = "both"'), "resolve"),
        (LAMP, ('find = ["T_l", "T_r"]', 'find = ["T_l"]'), "find"),
        (LAMP, ('find = ["T_l", "T_r"]', 'find = ["T_l", "T_q"]'), "find"),
        (LAMP, ('find = ["T_l", "T_r"]', "find = [1, 2]"), "find"),
        (LAMP, ('find = ["T_l", "T_r"]', 'find = "T_l"'), "find"),
    ],
)
def test_what_is_asked_and_not_there_is_a_fault_of_its_key(
    name: str, change: tuple[str, str], told: str
) -> None:
    with pytest.raises(FileError) as caught:
        changed(name, change)
    assert f"ask.{told}" in {fault.key for fault in caught.value.faults}


@pytest.mark.parametrize(
    ("change", "found"),
    [
        (('toward = "right"\nside = "above"', 'toward = "right"\nside = "below"'), "push"),
        (('toward = "left"\nside = "above"', 'toward = "right"\nside = "below"'), "push"),
    ],
)
def test_a_cord_that_would_have_to_push_is_found_in_vetting(
    change: tuple[str, str], found: str
) -> None:
    problem = changed(LAMP, change)
    faults = vet_problem(problem, "own.toml", CATALOGUE).faults
    assert any(found in fault.found for fault in faults)


def test_two_forces_along_one_line_are_found_in_vetting() -> None:
    level = ('symbol = "beta", from = 50, to = 62, step = 1', 'symbol = "beta", value = 30')
    same = ('symbol = "alpha", from = 24, to = 34, step = 1', 'symbol = "alpha", value = 30')
    down = ('toward = "right"\nside = "above"', 'toward = "right"\nside = "below"')
    faults = vet_problem(changed(LAMP, level, same, down), "own.toml", CATALOGUE).faults
    assert [fault.found for fault in faults] == ["T_l and T_r pull along one line"]


def test_a_resultant_that_is_nothing_has_no_angle_to_ask_for() -> None:
    """Two pulls of one size, one against the other: there is no force left that could slant."""
    against = ('toward = "right"\nside = "above"', 'toward = "right"\nside = "below"')
    alike = (
        ("from = 320, to = 380, step = 5", "value = 250"),
        ("from = 120, to = 160, step = 5", "value = 250"),
        ("from = 28, to = 34, step = 0.5", "value = 24"),
        ("from = 12, to = 16, step = 0.5", "value = 24"),
    )
    report = vet_problem(changed(HEADS, against, *alike), "own.toml", CATALOGUE)
    assert [(fault.key, fault.found) for fault in report.faults] == [
        ("the line R", "it is 0 N"), ("the line phi_R", "it is 0°"),
    ]  # fmt: skip


@pytest.mark.parametrize("typed", ["", "atan(457/0)", "atan(457 N / 0 N) = 90.0 deg"])
def test_a_resultant_that_points_straight_up_has_a_right_angle(typed: str) -> None:
    """Two heads that pull alike leave nothing sideways; `typed` is the worked line where empty."""
    inner = ("from = 320, to = 380, step = 5", "value = 250")
    outer = ("from = 120, to = 160, step = 5", "value = 250")
    alike = ("from = 28, to = 34, step = 0.5", "value = 24"), (
        "from = 12, to = 16, step = 0.5", "value = 24"
    )  # fmt: skip
    question = changed(HEADS, inner, outer, *alike).question("1")
    step = question.derivation.step("phi_R")
    typed = typed or f"{substituted(question, step, question.right)} = 90.00°"
    assert Working(question).enter("phi_R", typed).outcome is Outcome.RIGHT
