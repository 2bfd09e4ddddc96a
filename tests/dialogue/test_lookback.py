"""What there is to look back on: slips, own lines beside worked ones, and no answer given away."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drills import drill_with, right_entry
from helpers.material import CATALOGUE
from leverstep.bench.bench import Bench
from leverstep.bench.practice import Practice
from leverstep.bench.replaying import keep_nothing
from leverstep.course.shelf import load_shelf
from leverstep.dialogue.lookback import look_back, slips_to_remember
from leverstep.dialogue.meaning import meaning
from leverstep.dialogue.replies import Mark
from leverstep.dialogue.sitting_result import result_of
from leverstep.drill.sitting import Sitting
from leverstep.working.guidance import Guidance

SHELF = load_shelf()
TILTED = "elbow-tilted-forearm"
SKIPPED = CATALOGUE.slips["conversion-skipped"]


def bench_of(name: str = TILTED, guidance: Guidance = Guidance.LINES) -> Bench:
    return Bench(SHELF.problems[name].question("7"), CATALOGUE, keep_nothing, guidance)


def finish(bench: Bench) -> None:
    """Write every line that is not done, as it should be."""
    for step in bench.working.steps:
        if not bench.working.done(step.key):
            bench.enter(step.key, right_entry(bench, step))


def test_a_slip_is_told_with_its_lines_and_what_to_remember() -> None:
    bench = bench_of()
    bench.enter("W_f", "31.39 N")
    bench.enter("W_f", "31.39 N")
    finish(bench)
    (slip,) = look_back(bench).slips
    assert slip.slips == (SKIPPED,)
    assert slip.lines == ("W_f",)
    assert slip.told == f"{SKIPPED.name}, at W_f. Remember: {SKIPPED.reason}"


def test_slips_to_be_remembered_alike_are_one() -> None:
    bench = bench_of()
    other = CATALOGUE.slips["gravity-forgotten"]
    assert other.reason == SKIPPED.reason
    bench.slips = {SKIPPED: ["W_l"], other: ["W_f", "W_l"]}
    (slip,) = slips_to_remember(bench)
    assert slip.name == f"{SKIPPED.name} or {other.name}"
    assert slip.lines == ("W_f", "W_l")


def test_what_was_not_certain_is_held_against_nobody() -> None:
    bench = bench_of()
    bench.enter("W_f", "0.0123 N")
    finish(bench)
    assert look_back(bench).slips == ()
    still = bench_of()
    still.enter("W_f", "0.0123 N")
    still.leave("W_f")
    assert look_back(still).remembered == ("No slip was certain.",)
    assert look_back(bench).remembered == ("No slip was certain.",)
    right = bench_of()
    finish(right)
    assert look_back(right).remembered == ("No slip was made.",)


def test_a_right_line_entered_once_more_is_no_slip() -> None:
    bench = bench_of()
    entry = right_entry(bench, bench.working.step("W_f"))
    bench.enter("W_f", entry)
    bench.enter("W_f", f"{entry} ")
    bench.enter("W_f", f"W_f = {entry}")
    bench.enter("W_f", "m_f*g")
    finish(bench)
    assert look_back(bench).remembered == ("No slip was made.",)


@pytest.mark.parametrize("name", sorted(SHELF.problems))
def test_every_line_stands_beside_the_worked_one(name: str) -> None:
    bench = bench_of(name)
    finish(bench)
    back = look_back(bench)
    steps = bench.question.derivation.asked
    assert len(back.lines) == len(steps)
    for line, step in zip(back.lines, steps, strict=True):
        assert (line.mark, line.standing, line.tries) == (Mark.RIGHT, "right", 1)
        assert line.own
        assert line.worked
        if step.kind.is_number:
            assert line.own.startswith(f"{line.name} = ")
            assert line.worked.startswith(f"{line.name} = ")
    assert back.meaning == meaning(bench.question)
    assert len(back.meaning) >= 2


def test_while_a_line_is_open_nothing_is_worked_and_nothing_meant() -> None:
    bench = bench_of()
    bench.enter("W_f", right_entry(bench, bench.working.step("W_f")))
    for step in bench.working.steps[1:]:
        bench.leave(step.key)
    back = look_back(bench)
    assert back.ending.is_open
    assert back.meaning == ()
    assert "once every line that is asked for is right" in " ".join(back.meant)
    assert not any(line.worked for line in back.lines)
    assert [line.own for line in back.lines if line.own] == [back.lines[0].own]
    assert {line.standing for line in back.lines[1:]} == {"not written"}


def test_on_a_blank_sheet_only_what_was_asked_for_or_written_stands_there() -> None:
    bench = bench_of("elbow-full-pail", Guidance.BLANK)
    for key in ("F_m", "M_l"):
        bench.write(f"{key} = {bench.question.right[key]:.4g} {bench.working.step(key).unit}")
    names = [line.name for line in look_back(bench).lines]
    assert names == ["M_l", *[s.key for s in bench.working.asked if s.key != "R_dir"], "direction"]


def test_what_was_gone_on_with_is_looked_back_on_as_what_was_not_left(tmp_path: Path) -> None:
    practice = Practice.start(SHELF.problems[TILTED], "7", CATALOGUE, tmp_path)
    practice.enter("W_f", "31.39 N")
    finish(practice)
    assert practice.place is not None
    again = Practice.resume(practice.place, SHELF, CATALOGUE)
    assert look_back(again) == look_back(practice)


RULES = ["", 'feedback = "at the end"', 'hints = "none"', 'reasons = "when asked"']


@pytest.mark.parametrize("rules", RULES)
def test_a_sitting_tells_its_slips_after_it_is_handed_in_and_no_answer(
    rules: str, tmp_path: Path
) -> None:
    """What the result means holds its numbers: it is for tasks alone where all lines are right."""
    sitting = Sitting.start(drill_with(rules), CATALOGUE, "s01", tmp_path)
    done, other = sitting.benches[:2]
    finish(done)
    other.enter("W_f", f"{other.question.right['W_f'] / 9.81:.3f} N")  # g forgotten
    sitting.hand_in()
    first, second = result_of(sitting, None).tasks[:2]
    assert len(first.meaning) == 2
    assert (first.slips, second.meaning) == ((), ())
    assert [told for told in second.after if told.startswith("Slip: ")] == [
        f"Slip: {slip.told}" for slip in slips_to_remember(other)
    ]
    assert second.slips
