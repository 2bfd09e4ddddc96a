"""A working with a slip holds that slip and no other, for every problem that is offered."""

from __future__ import annotations

import math
import re
from functools import cache

import pytest
from helpers.drills import SHELF
from helpers.material import CATALOGUE
from helpers.variety import VARIED
from leverstep.erroneous.erroneous_working import (
    DECOYS,
    ErroneousWorking,
    MadeSlip,
    erroneous_by,
    erroneous_working,
)
from leverstep.erroneous.slip_questions import MOST_LINES, key_of, slip_questions
from leverstep.slips.explained import explained
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

SEEDS = ("1", "2", "3")
OFFERED = [card.id for card in SHELF.offered]


@cache
def made(ident: str, seed: str, slips: int = 1) -> ErroneousWorking:
    working = erroneous_working(SHELF.problems[ident].question(seed), CATALOGUE, slips)
    assert working is not None, f"{ident} with {seed} has a slip that shows"
    return working


def test_every_problem_has_a_working_with_just_the_slip_that_it_claims() -> None:
    for ident in OFFERED:
        for seed in SEEDS:
            _holds(made(ident, seed), f"{ident} {seed}")


def _holds(working: ErroneousWorking, told: str) -> None:
    """Have every line judged: what goes wrong are the lines that are claimed, each by its slip."""
    judged, wrong = Working(working.question), {one.step.key: one.made for one in working.slips}
    keys = [line.step.key for line in working.lines]
    assert keys == [step.key for step in working.question.derivation.asked], told
    for line in working.lines:
        verdict, key = judged.enter(line.step.key, line.entry), line.step.key
        if keys.index(key) < min(map(keys.index, wrong)):
            assert verdict.outcome is Outcome.RIGHT, f"{told}: {line.text}"
        elif key in wrong:
            assert verdict.outcome is Outcome.WRONG, f"{told}: {line.text}"
            (only,) = explained(verdict, CATALOGUE).explanations
            (finding,) = only.findings
            assert only.sure, f"{told}: {line.text}"
            assert (finding.slip, finding.step) == (wrong[key].slip.id, key), told
            assert finding.changes == wrong[key].changes, f"{told}: {line.text}"
        elif key in working.carried and line.step.kind.is_number:
            assert verdict.outcome is Outcome.FOLLOWED, f"{told}: {line.text}"
        else:
            assert verdict.settled, f"{told}: {line.text}"


FEW = (
    "ankle-traction-two-cords", "elbow-sinking-in-a-brace", "knee-held-how-high",
    "knee-kneecap-held",
)  # fmt: skip
"""Problems of a few lines: the second slip is on one that no number rests on."""
TWO_IN = sorted({*VARIED, *FEW} & {*OFFERED})


def test_with_two_slips_a_working_holds_just_these_two() -> None:
    for ident in TWO_IN:
        working, keys = made(ident, "1", 2), [one.step.key for one in made(ident, "1").lines]
        assert len(working.slips) == 2, ident
        _holds(working, ident)
        places = [keys.index(one.step.key) for one in working.slips]
        assert places == sorted({*places}), ident
        assert len({one.made.slip.id for one in working.slips}) == len(working.slips), ident


def test_the_second_slip_is_no_consequence_of_the_first() -> None:
    """Without the first it is a working with one slip, and without the second its line is other."""
    for ident in TWO_IN:
        working = made(ident, "2", 2)
        first, second = working.slips
        _holds(_left(working, first), ident)
        follows = _left(working, second).values[second.step.key]
        assert not math.isclose(working.values[second.step.key], follows, rel_tol=5e-3), ident
        mended = {line.step.key: line.text for line in working.mended([first], {})}
        keys = [step.key for step in working.question.derivation.asked]
        for line in _left(working, first).lines:
            if working.has_arithmetic and keys.index(line.step.key) < keys.index(second.step.key):
                assert mended[line.step.key] == working.right_line(line.step).text, ident
            elif working.has_arithmetic:
                assert mended[line.step.key] == line.text, ident


def _left(working: ErroneousWorking, mended: MadeSlip) -> ErroneousWorking:
    """Return the working with the one slip alone that is not mended."""
    (left,) = (one.made for one in working.slips if one is not mended)
    changes = {choice.name: value for choice, value in left.changes}
    alone = erroneous_by(working.question, CATALOGUE, [(left.slip.id, changes)])
    assert alone is not None
    return alone


def test_two_slips_are_asked_for_in_their_order_each_among_others() -> None:
    for ident in TWO_IN:
        working = made(ident, "1", 2)
        asked, (first, second) = slip_questions(working), working.slips
        assert len({one.key for one in asked}) == 4
        assert [one.right for one in asked[::2]] == [{first.step.key}, {second.step.key}]
        offered = [answer.key for answer in asked[2].answers]
        assert first.step.key not in offered, ident
        assert all(asked[2].told_of(key) for key in offered), ident
        for slip, question in ((first, asked[1]), (second, asked[3])):
            assert question.right == {key_of(slip.made)}
            assert len({answer.text for answer in question.answers}) == 1 + DECOYS
            values = [working.would_be(slip, one) for one in (slip.made, *slip.others)]
            assert math.isclose(values[0], working.values[slip.step.key])
            for place, value in enumerate(values):
                assert not any(math.isclose(value, one, rel_tol=5e-3) for one in values[:place])


def test_two_slips_are_found_again_by_their_ids_but_not_on_one_line() -> None:
    working = made("elbow-full-pail", "2", 2)
    said = [(one.made.slip.id, {c.name: v for c, v in one.made.changes}) for one in working.slips]
    again = erroneous_by(working.question, CATALOGUE, said)
    assert again is not None
    assert [line.text for line in again.lines] == [line.text for line in working.lines]
    assert erroneous_by(working.question, CATALOGUE, [said[0], said[0]]) is None


def test_what_is_wrong_is_carried_on_and_no_line_is_right_by_chance() -> None:
    for ident in OFFERED:
        working = made(ident, "4")
        carried = [s for s in working.question.derivation.asked if s.key in working.carried]
        assert any(step.kind.is_number for step in carried), ident
        for line in working.lines:
            if line.step.key in working.carried and line.step.kind.is_number:
                verdict = Working(working.question).enter(line.step.key, line.entry)
                assert not verdict.settled, f"{ident}: {line.text}"


def test_arithmetic_that_is_shown_comes_to_the_value_behind_it() -> None:
    shown = 0
    for ident in OFFERED:
        working = made(ident, "1")
        for line in working.lines:
            sides = line.text.split(" = ")
            tens = any(choice.kind == "power_of_ten" for choice, _ in working.slips[0].made.changes)
            if len(sides) != 3 or (tens and line.step is working.step):
                continue
            plain = re.fullmatch(r"(−?[\d.]+) ([×÷]) (−?[\d.]+)", sides[1])
            if plain is not None:
                shown += 1
                one, other = (float(plain[n].replace("−", "-")) for n in (1, 3))
                value = one * other if plain[2] == "×" else one / other
                told = float(line.entry.split(" ")[0].rstrip("°").replace("−", "-"))
                assert math.isclose(value, told, rel_tol=2e-3), f"{ident}: {line.text}"
    assert shown > len(OFFERED)


def test_an_angle_near_90_is_not_shown_from_whatever_comes_near_it() -> None:
    """acos(0.1835 ÷ 255) is 89.96°, and acos(0.1835 ÷ 180) with the muscle's newtons 89.94°."""
    question = SHELF.problems["knee-held-how-high"].question("1")
    left = {"theta__unit_left__d_s__": 1.0}
    tens = {"d_s__power_of_ten__d_s__": 1.0}
    both = [("power-of-ten", tens), ("metres-missing", left)]
    working = erroneous_by(question, CATALOGUE, both)
    assert working is not None
    assert working.line("theta").text.endswith("89.96°")
    assert "180" not in working.line("theta").text


def test_the_line_with_the_slip_shows_its_arithmetic_nearly_always() -> None:
    shown = [made(ident, seed).has_arithmetic for ident in OFFERED for seed in SEEDS[:2]]
    assert sum(shown) / len(shown) > 0.95


def test_the_line_of_the_slip_is_asked_for_among_lines_as_they_stand() -> None:
    places = set()
    for ident in OFFERED:
        working = made(ident, "1")
        asked = slip_questions(working)[0]
        keys = [answer.key for answer in asked.answers]
        steps = [step.key for step in working.question.derivation.asked]
        assert len(keys) == min(MOST_LINES, len(steps))
        start = steps.index(keys[0])
        assert steps[start : start + len(keys)] == keys
        assert asked.right == {working.step.key}
        places.add(keys.index(working.step.key))
        assert all(asked.told_of(key) for key in keys)
    assert places == set(range(MOST_LINES))


def test_the_slip_is_asked_for_among_others_that_give_other_values() -> None:
    places = set()
    for ident in OFFERED:
        working = made(ident, "1")
        asked = slip_questions(working)[1]
        assert len({answer.text for answer in asked.answers}) == 1 + DECOYS
        assert asked.right == {key_of(working.slips[0].made)}
        places.add([answer.key for answer in asked.answers].index(key_of(working.slips[0].made)))
        graph, numbers = working.question.graph, working.question.numbers
        values = [
            graph.values(numbers, {}, choices=dict(one.changes))[working.step.key]
            for one in (working.slips[0].made, *working.slips[0].others)
        ]
        values.append(working.question.right[working.step.key])
        for place, value in enumerate(values):
            assert not any(math.isclose(value, one, rel_tol=5e-3) for one in values[:place])
    assert places == set(range(1 + DECOYS))


def test_the_same_numbers_give_the_same_working_and_others_another() -> None:
    one, again, other = made("elbow-full-pail", "1"), made("elbow-full-pail", "1"), set()
    assert [line.text for line in one.lines] == [line.text for line in again.lines]
    for seed in map(str, range(12)):
        other.add(made("elbow-full-pail", seed).slips[0].made.slip.id)
    assert len(other) > 4


@pytest.mark.parametrize("ident", ["elbow-full-pail", "hip-leg-raise"])
def test_a_working_is_found_again_by_its_slip(ident: str) -> None:
    working = made(ident, "2")
    changes = {choice.name: value for choice, value in working.slips[0].made.changes}
    again = erroneous_by(working.question, CATALOGUE, [(working.slips[0].made.slip.id, changes)])
    assert again is not None
    assert [line.text for line in again.lines] == [line.text for line in working.lines]
    assert erroneous_by(working.question, CATALOGUE, [("no-such-slip", changes)]) is None
