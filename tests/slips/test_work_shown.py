"""Arithmetic shown never makes for a worse diagnosis than the bare number that it comes to."""

from __future__ import annotations

import math
import random
import sys
from collections.abc import Iterator
from typing import Any

import pytest
from helpers.material import CATALOGUE
from helpers.source import TESTS
from helpers.sweeps import seeds
from helpers.variety import VARIED
from leverstep.course.places import shipped
from leverstep.course.shelf import load_shelf
from leverstep.entry.tree import is_arithmetic
from leverstep.slips.explained import explained
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working

BENCHMARKS = str(TESTS / "benchmarks")
PROBLEMS = {
    name: problem
    for name, problem in load_shelf([shipped("problems")]).problems.items()
    if not problem.stages
}
NOT_SHOWN = (
    "value-of-another-line", "rounded-early", "power-of-ten", "needless-minus", "digits-miscopied",
    "negative-effort",
)  # fmt: skip
"""Slips that no arithmetic of the line shows."""

EARLIER = 2
"""How many slips are drawn for each line that is worked out of lines not written, unless more are
asked for.
"""

SAME = 2e-3
"""Arithmetic comes to the number typed, but for the four figures of that."""


def told(verdict: Verdict) -> set[str]:
    """Return the slips that are told or asked first."""
    explanations = explained(verdict, CATALOGUE).explanations
    return {finding.slip for finding in explanations[0].findings} if explanations else set()


def typed_both_ways(name: str) -> Iterator[tuple[Any, str, Verdict, Verdict]]:
    """Yield slips as a bare number and as arithmetic: where, the slip, both verdicts."""
    from diagnosis import skipping
    from marking import Desk, typed
    from student.lines import INVERSE, WORDS
    from student.shown import lines_with, with_symbols, worked_out

    desk, chance = Desk(PROBLEMS[name].question("1")), random.Random(name)
    for written in desk.lines():
        skipped = skipping(written)
        kinds = [desk.sheet.steps[key].kind for key in (written.key, *skipped.skipped)]
        if any(kind.name in WORDS or kind.is_equation for kind in kinds):
            continue
        here = [(written, move) for move in written.reach()[written.key]]
        earlier = [(skipped, m) for found in skipped.reach().values() for m in found]
        # A wrong line that goes in twice is two wrong numbers in the arithmetic.
        used = [
            use
            for key in (*skipped.skipped, written.key)
            for use in desk.sheet.uses(key, desk.values)
        ]
        earlier = [(place, m) for place, m in earlier if used.count(m.key) < 2]
        earlier = chance.sample(earlier, min(len(seeds(EARLIER)), len(earlier)))
        for place, move in here + (earlier if skipped.skipped else []):
            value = place.value([move])
            if move.slip in NOT_SHOWN or not math.isfinite(value) or value == 0:
                continue
            try:
                keys = (*place.skipped, place.key)
                lines = lines_with(place.sheet, keys, place.before, move)
            except ArithmeticError:
                continue
            bare = desk.entered(place, typed(place.step, value))
            line = lines[place.key]
            texts = {worked_out(place.key, lines), with_symbols(line, set(place.before))}
            unit = "" if line.shape in INVERSE and not line.taken_from else place.step.unit
            for text in filter(None, texts):
                as_size = f"|{text}|" if line.value < 0 < value else text
                entry = f"{as_size} {unit}".strip()
                yield place, move.slip, bare, desk.entered(place, entry)


@pytest.mark.parametrize("name", [name for name in VARIED if name in PROBLEMS])
def test_a_slip_is_told_of_arithmetic_as_of_its_result(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each single slip that the bare number tells is told where the numbers are put in too."""
    monkeypatch.setattr(sys, "path", [BENCHMARKS, *sys.path])
    from marking import is_tie

    compared, lost = 0, []
    for place, slip, bare, shown in typed_both_ways(name):
        if bare.outcome is not Outcome.WRONG or shown.attempt is None or bare.attempt is None:
            continue
        tree, number = shown.attempt.reading.tree, bare.attempt.reading.value
        if tree is None or not is_arithmetic(tree):
            continue
        same = math.isclose(shown.attempt.reading.value, number, rel_tol=SAME)
        if same and told(bare) == {slip}:
            compared += 1
            explanations = explained(shown, CATALOGUE).explanations
            is_other = explanations and is_tie(place, explanations[0], bare.text)
            if slip not in told(shown) and not is_other:
                lost.append((slip, shown.text, told(shown)))
    assert compared > 0
    assert lost == []


@pytest.mark.parametrize("text", ["-122.6*0.37 N m", "-122,6*0,37 = -45,4 N m", "-45.36 N m"])
def test_another_line_worked_out_here_is_one_slip(text: str) -> None:
    """Its two numbers are not two slips of this line: the moment of the crate at the upper body."""
    working = Working(PROBLEMS["lumbar-crate-beside-body"].question("31"))
    for key, right in {
        "W_u": "439.7 N",
        "W_l": "122.6 N",
        "d_u": "0.026 m",
        "d_l": "37 cm",
    }.items():
        working.enter(key, right)
    assert told(working.enter("M_u", text)) == {"value-of-another-line"}
