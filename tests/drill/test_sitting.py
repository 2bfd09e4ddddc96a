"""A sitting of a drill: one record, one clock, and rules that hold until it is handed in."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from helpers.drills import SHELF, Disk, drill_file, drill_with, let_pass, right_entry, wrong_entry
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.bench.bench import TAKEN, Bench
from leverstep.bench.contents import contents
from leverstep.bench.record import RecordError
from leverstep.bench.record_lines import ClockLine
from leverstep.bench.tries_told import NO_TRY, tries_at
from leverstep.course.faults import FileError
from leverstep.course.phrases import moment
from leverstep.dialogue.notice import (
    GOES_ON,
    left_behind,
    rules_in_words,
    tasks_left,
    time_left,
    turn_told,
    warning,
)
from leverstep.drill.drill_file import read_drill
from leverstep.drill.earlier import earlier, unfinished
from leverstep.drill.sitting import Closed, NextSitting, NotListed, Sitting, admitted, next_turn
from leverstep.marking.collecting import gather
from leverstep.marking.marking import mark_record
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from leverstep.working.verdict import Outcome

NOW = datetime.now(UTC)
END = 'feedback = "at the end"'


def begun(folder: Path, rules: str = "") -> Sitting:
    return Sitting.start(drill_with(rules), CATALOGUE, "s01", folder)


def kinds(sitting: Sitting) -> list[object]:
    return [line["kind"] for line in fields_in(sitting.place)]


def test_a_sitting_is_kept_line_by_line_until_it_is_handed_in(tmp_path: Path) -> None:
    sitting = begun(tmp_path)
    bench = sitting.benches[0]
    step = bench.working.steps[0]
    assert bench.enter(step.key, right_entry(bench, step)).outcome is Outcome.RIGHT
    bench.hint(bench.working.steps[1].key)
    bench.leave(bench.working.steps[1].key)
    sitting.hand_in()
    assert kinds(sitting) == ["drill", "entry", "hint", "leave", "end"]
    assert sitting.place.parent == tmp_path / "levers"
    marked = mark_record(sitting.drill, CATALOGUE, "a", sitting.place.read_bytes())
    assert (marked.ended, marked.remarks, marked.hints) == (True, (), 1)
    with pytest.raises(RecordError, match="handed in"):
        bench.enter(step.key, "1.00 N")
    assert kinds(sitting)[-1] == "end"


def test_a_sitting_that_is_gone_on_with_stands_where_it_stood(tmp_path: Path) -> None:
    sitting = begun(tmp_path, "minutes = 30\nattempts = 2")
    for bench in sitting.benches:
        step = bench.working.steps[0]
        bench.enter(step.key, wrong_entry(step))
    let_pass(sitting, 600)
    sitting.pause()
    again = Sitting.resume(sitting.place, sitting.drill, CATALOGUE)
    assert again.student == "s01"
    assert 19 < (again.left or 0) / 60 < 20.1
    for old, new in zip(sitting.benches, again.benches, strict=True):
        assert {k: line.verdict for k, line in new.working.lines.items()} == {
            k: line.verdict for k, line in old.working.lines.items()
        }
        for key, line in new.working.lines.items():
            found = new.explained(line.verdict)
            assert found == old.explained(old.working.lines[key].verdict)
        assert new.working.attempts == old.working.attempts
    assert kinds(again)[-2:] == ["away", "resumed"]
    assert contents(again.place.read_bytes()).remarks == ()


def test_going_on_looks_for_slips_within_bounds_and_for_new_lines_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A record of many thousand entries keeps nobody waiting, as in marking."""
    sitting = begun(tmp_path)
    bench = sitting.benches[0]
    step = bench.working.step("W_s")
    values = bench.question.graph.values(bench.question.numbers, {})
    slipped = f"{values['W_s'] / 9.81:.4g}"
    texts = [f"{slipped} N", "1.07 N", f"+{slipped} N", "1.08 N", "1.09 N"]
    for text in texts:
        bench.enter(step.key, text)
    assert bench.explained(bench.enter(step.key, texts[0])).explanations
    sitting.pause()

    def gone_on(explained: int, judged: int) -> tuple[int, bool]:
        monkeypatch.setattr("leverstep.bench.replaying.MOST_EXPLAINED", explained)
        monkeypatch.setattr("leverstep.bench.replaying.MOST_JUDGED", judged)
        again = Sitting.resume(sitting.place, sitting.drill, CATALOGUE).benches[0]
        found = again.explained(again.working.lines[step.key].verdict)
        return again.working.attempts[step.key], bool(found.explanations)

    assert gone_on(3000, 20_000) == (6, True)
    assert gone_on(2, 20_000) == (6, False)
    assert gone_on(2, 3) == (4, False)
    monkeypatch.setattr("leverstep.bench.replaying.MOST_JUDGED", 20_000)
    again = Sitting.resume(sitting.place, sitting.drill, CATALOGUE).benches[0]
    assert again.explained(again.enter(step.key, texts[2])).explanations


def test_a_sitting_is_handed_in_once_and_nothing_comes_after(tmp_path: Path) -> None:
    """Neither a second end nor the clock, though another thread was about to write it."""
    sitting = begun(tmp_path, "minutes = 30")
    sitting.hand_in()
    sitting.hand_in()
    sitting.note()
    with pytest.raises(RecordError, match="handed in"):
        sitting._write(ClockLine(), tries=1)
    assert kinds(sitting) == ["drill", "end"]
    assert mark_record(sitting.drill, CATALOGUE, "a", sitting.place.read_bytes()).remarks == ()


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        ("", "To come back: "),
        ("minutes = 30", "The clock is stopped (30 min left). To come back: "),
        ('minutes = 30\nclock = "wall"', "The clock runs on (30 min left). To come back: "),
        (
            "closes = 2999-03-01T09:00:00Z",
            "It closes on " + moment(datetime(2999, 3, 1, 9, tzinfo=UTC)) + ". To come back: ",
        ),
    ],
)
def test_what_is_said_when_a_sitting_is_left(rules: str, told: str, tmp_path: Path) -> None:
    """The folder to come back to is the one that the record lies in now."""
    sitting, path = begun(tmp_path / "share", rules), tmp_path / "levers.toml"
    for folder in ("share", "stick"):
        sitting.move(tmp_path / folder)
        last = f'{told}leverstep drill sit "{path}" --records "{tmp_path / folder}"'
        assert left_behind(sitting, path)[-1] == last


def test_a_record_in_the_user_s_data_folder_needs_no_folder_to_come_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    sitting = Sitting.start(drill_with(), CATALOGUE, "s01")
    assert sitting.folder is None
    assert left_behind(sitting, tmp_path)[-1] == f'To come back: leverstep drill sit "{tmp_path}"'


def test_the_clock_stands_still_while_the_student_is_away(tmp_path: Path) -> None:
    sitting = begun(tmp_path, "minutes = 30")
    let_pass(sitting, 60)
    sitting.pause()
    left = sitting.left
    assert sitting.left == left
    sitting.go_on()
    assert sitting.stopwatch.runs
    assert kinds(sitting) == ["drill", "away", "resumed"]


def test_the_clock_is_on_the_disk_before_any_entry(tmp_path: Path) -> None:
    """Who is killed while thinking does not get the time back."""
    sitting = begun(tmp_path, "minutes = 30")
    let_pass(sitting, 300)
    assert sitting.note()
    again = Sitting.resume(sitting.place, sitting.drill, CATALOGUE)
    assert (again.left or 0) < 60 * 25 + 1


def test_nothing_is_taken_when_the_time_is_up(tmp_path: Path) -> None:
    sitting = begun(tmp_path, "minutes = 30")
    bench, before = sitting.benches[0], kinds(sitting)
    let_pass(sitting, 1800)
    assert (sitting.left, sitting.over) == (0.0, True)
    with pytest.raises(RecordError, match="the time is up"):
        bench.enter(bench.working.steps[0].key, "1.00 N")
    assert kinds(sitting) == before
    assert not bench.working.lines
    sitting.hand_in()
    assert sitting.ended


def test_the_time_ends_when_the_drill_closes(tmp_path: Path) -> None:
    closes = (datetime.now(UTC) + timedelta(minutes=5)).isoformat(timespec="seconds")
    sitting = begun(tmp_path, f"minutes = 30\ncloses = {closes}")
    assert 200 < (sitting.left or 0) <= 300
    assert begun(tmp_path).left is None


def test_what_cannot_be_written_is_not_judged(tmp_path: Path, disk: Disk) -> None:
    sitting = begun(tmp_path)
    bench = sitting.benches[0]
    step = bench.working.steps[0]
    disk.broken.append(tmp_path)
    for deed in (
        lambda: bench.enter(step.key, right_entry(bench, step)),
        lambda: bench.write("W_s = 5.00 N"),
        lambda: bench.hint(step.key),
        lambda: bench.leave(step.key),
        sitting.hand_in,
    ):
        with pytest.raises(RecordError, match="the disk is full"):
            deed()
    assert not sitting.note()
    assert not bench.working.lines
    assert not bench.working.left
    assert not sitting.ended


def test_a_sitting_goes_on_in_another_folder_though_the_first_is_gone(tmp_path: Path) -> None:
    sitting = begun(tmp_path / "share")
    bench = sitting.benches[0]
    first, second, *_ = bench.working.steps
    bench.enter(first.key, right_entry(bench, first))
    old = sitting.place
    data = old.read_bytes()
    old.rename(tmp_path / "away")
    with pytest.raises(RecordError):
        bench.enter(second.key, right_entry(bench, second))
    sitting.move(tmp_path / "stick")
    bench.enter(second.key, right_entry(bench, second))
    moved = sitting.place.read_bytes()
    assert moved.startswith(data)
    assert contents(moved).remarks == ()
    again = Sitting.resume(sitting.place, sitting.drill, CATALOGUE)
    assert list(again.benches[0].working.lines) == [first.key, second.key]


def test_a_folder_that_cannot_be_written_leaves_the_record_where_it_was(
    tmp_path: Path, disk: Disk
) -> None:
    sitting = begun(tmp_path / "share")
    place = sitting.place
    disk.broken.append(tmp_path / "stick")
    with pytest.raises(RecordError):
        sitting.move(tmp_path / "stick")
    assert sitting.place == place
    assert not list((tmp_path / "stick").rglob("*.jsonl"))
    sitting.hand_in()


def test_only_what_is_not_handed_in_is_found_and_no_record_that_went_on_elsewhere(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    drill = drill_with()
    done = Sitting.start(drill, CATALOGUE, "s01")
    done.hand_in()
    other = Sitting.start(drill, CATALOGUE, "S02")
    sitting = Sitting.start(drill, CATALOGUE, "s01")
    assert list(unfinished(earlier(drill, " S01 ").records)) == [sitting.place]
    assert list(unfinished(earlier(drill, "s02").records)) == [other.place]
    sitting.move(tmp_path / "stick")
    sitting.pause()
    assert list(unfinished(earlier(drill, "s01", tmp_path / "stick").records)) == [sitting.place]
    Sitting.resume(sitting.place, drill, CATALOGUE).hand_in()
    assert not unfinished(earlier(drill, "s01", tmp_path / "stick").records)


def test_a_record_may_be_gone_on_with_in_a_folder_of_its_own(tmp_path: Path) -> None:
    sitting = begun(tmp_path / "share")
    again = Sitting.resume(sitting.place, sitting.drill, CATALOGUE, tmp_path / "stick")
    assert again.place.is_relative_to(tmp_path / "stick")
    assert kinds(again) == ["drill", "resumed"]
    assert kinds(sitting) == ["drill"]


@pytest.mark.parametrize(
    ("rules", "ident", "said"),
    [("", "other", "not a record of this drill"), ("tolerance = 0.02", "levers", "")],
)
def test_a_record_is_gone_on_with_in_its_own_drill(
    rules: str, ident: str, said: str, tmp_path: Path
) -> None:
    sitting = begun(tmp_path)
    drill = drill_with(rules, ident)
    if said:
        with pytest.raises(Closed, match=said):
            Sitting.resume(sitting.place, drill, CATALOGUE)
    else:
        Sitting.resume(sitting.place, drill, CATALOGUE)


def test_a_record_with_other_numbers_or_an_end_is_not_gone_on_with(tmp_path: Path) -> None:
    sitting = begun(tmp_path)
    fixed = drill_with().text.replace("marks = 6", 'marks = 6\nnumbers = "fixed"')
    path = tmp_path / "fixed.toml"
    path.write_text(fixed, encoding="utf-8")
    with pytest.raises(Closed, match="different numbers"):
        Sitting.resume(sitting.place, read_drill(path, SHELF.problems), CATALOGUE)
    sitting.hand_in()
    with pytest.raises(Closed, match="handed in"):
        Sitting.resume(sitting.place, sitting.drill, CATALOGUE)


def test_who_is_admitted_and_when(tmp_path: Path) -> None:
    drill = read_drill(drill_file(tmp_path), SHELF.problems)
    assert admitted(drill, " S01 ", NOW) == "s01"
    for student in ("s03", "", "x" * 41, "a\x1bb"):
        with pytest.raises(NotListed):
            admitted(drill, student, NOW)
    times = "opens = 2027-03-01T09:00:00+01:00\ncloses = 2027-03-01T11:00:00+01:00"
    timed = drill_with(times)
    assert timed.opens is not None
    assert timed.closes is not None
    with pytest.raises(Closed, match="opens on 01 March 2027 at "):
        admitted(timed, "s01", timed.opens - timedelta(seconds=1))
    with pytest.raises(Closed, match="closed on 01 March 2027 at "):
        admitted(timed, "s01", timed.closes + timedelta(seconds=1))
    assert admitted(timed, "s01", timed.opens) == "s01"


def test_a_moment_is_told_with_its_offset_as_the_clock_of_this_computer_shows_it() -> None:
    when = datetime(2027, 3, 1, 11, 0, tzinfo=timezone(timedelta(hours=1)))
    east = timezone(timedelta(hours=5, minutes=30))
    assert moment(when, east) == "01 March 2027 at 15:30 (UTC+05:30)"
    assert moment(when, UTC) == "01 March 2027 at 10:00 (UTC+00:00)"
    assert moment(when) == moment(when, when.astimezone().tzinfo)


def test_which_sitting_it_is_is_told_and_no_more_than_are_allowed_are_begun(
    tmp_path: Path,
) -> None:
    drill = drill_with("sittings = 2\nminutes = 30")
    assert "You may sit it twice, each time with the same numbers; the best one counts." in list(
        rules_in_words(drill, tmp_path, "", "")
    )
    assert next_turn(drill, earlier(drill, "s01", tmp_path).records) == NextSitting(1)
    assert turn_told(drill, NextSitting(1)) == ""
    first = Sitting.start(drill, CATALOGUE, "s01", tmp_path)
    turn = next_turn(drill, earlier(drill, "S01 ", tmp_path).records)
    assert (turn.number, turn.path) == (1, first.place)
    assert turn_told(drill, turn) == f"{GOES_ON} So far: 0 entries, 30 min left."
    first.hand_in()
    turn = next_turn(drill, earlier(drill, "s01", tmp_path).records)
    assert turn == NextSitting(2)
    told = turn_told(drill, turn)
    assert told == "This is sitting 2 of 2; the numbers are the same as before."
    second = Sitting.start(drill, CATALOGUE, "s01", tmp_path)
    assert next_turn(drill, earlier(drill, "s01", tmp_path).records).path == second.place
    second.hand_in()
    with pytest.raises(Closed, match="may be sat twice, and you have done so"):
        next_turn(drill, earlier(drill, "s01", tmp_path).records)
    assert next_turn(drill, earlier(drill, "s02", tmp_path).records) == NextSitting(1)
    assert next_turn(drill_with(), earlier(drill_with(), "s01", tmp_path).records) == NextSitting(3)


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        ("sittings = 1", "You may sit it once."),
        ("sittings = 3", "You may sit it 3 times, each time with the same numbers; the best one"),
        ("", "You may sit it as often as you like, each time with the same numbers; the best"),
        (
            '[marking]\ncounts = "last"',
            "as you like, each time with the same numbers; the last one",
        ),
    ],
)
def test_the_rules_tell_how_often_it_may_be_sat(rules: str, told: str, tmp_path: Path) -> None:
    assert told in " ".join(rules_in_words(drill_with(rules), tmp_path, "", ""))


def test_what_came_of_a_line_is_told_when_it_is_handed_in(tmp_path: Path) -> None:
    sitting = begun(tmp_path, f"{END}\nattempts = 2")
    bench = sitting.benches[0]
    right, wrong, *_ = bench.working.steps
    said = [
        bench.tell(bench.enter(right.key, right_entry(bench, right))),
        bench.tell(bench.enter(wrong.key, wrong_entry(wrong))),
    ]
    assert said == [f"{TAKEN} 1 try is left."] * 2
    assert bench.hint(right.key) is None
    sitting.hand_in()
    told_now = [bench.tell(bench.working.lines[step.key].verdict) for step in (right, wrong)]
    assert told_now[0].startswith("Right.")
    assert told_now[1].startswith("Not right")


@pytest.mark.parametrize("guidance", ["lines", "landmarks", "blank"])
def test_nothing_tells_a_right_line_from_a_wrong_one_before_the_end(
    guidance: str, tmp_path: Path
) -> None:
    """Neither what is said of it, nor that it is refused, nor what is asked for next."""
    drill = drill_with(f'{END}\nguidance = "{guidance}"')
    one, other = (Sitting.start(drill, CATALOGUE, "s01", tmp_path).benches[0] for _ in range(2))
    values = one.question.graph.values(one.question.numbers, {})
    for step in one.working.steps:
        in_words = not step.kind.is_number
        right = right_entry(one, step)
        wrong = wrong_entry(step) if in_words else f"{1.37 * values[step.key]:.3g} {step.unit}"
        said = [told(one, step, right, in_words), told(other, step, wrong, in_words)]
        assert said == [TAKEN, TAKEN], (right, wrong)
        assert one.working.current() == other.working.current()
        assert one.hint_line() == other.hint_line()
    assert one.working.complete
    assert not other.working.lines["W_s"].verdict.settled


def told(bench: Bench, step: Step, entry: str, in_words: bool) -> str:
    """Return what is said of an entry, written freely where the guidance has it so."""
    if bench.working.guidance is Guidance.LINES:
        return bench.tell(bench.enter(step.key, entry))
    return bench.tell(bench.write(entry if in_words else f"{step.key} = {entry}"))


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("F_h = (W_s*d_s + W_b*d_b)/d_h", "F_h = (W_s*d_s - W_b*d_b)/d_h"),
        ("W_s = 5e2 N", "W_s = 9e2 N"),
        ("d_s = 0.5 m", "d_s = 0.9 m"),
    ],
)
def test_what_is_refused_before_the_end_is_refused_right_or_wrong(
    right: str, wrong: str, tmp_path: Path
) -> None:
    drill = drill_with(f'{END}\nguidance = "blank"')
    bench = Sitting.start(drill, CATALOGUE, "s01", tmp_path).benches[0]
    verdicts = [bench.write(text) for text in (right, wrong)]
    assert [v.outcome for v in verdicts] == [Outcome.UNREAD] * 2
    assert verdicts[0].reason == verdicts[1].reason


def test_a_line_is_closed_when_its_tries_are_used(tmp_path: Path) -> None:
    sitting = begun(tmp_path, "attempts = 2")
    bench = sitting.benches[0]
    step = bench.working.steps[0]
    wrong = wrong_entry(step)
    said = [bench.tell(bench.enter(step.key, f"{sign}{wrong}")) for sign in ("", "+", "")]
    assert said[0].endswith("1 try is left.")
    assert said[0].startswith("Not yet, and no slip we know explains it. A hint may help.")
    assert said[1] == f"Not right, and no slip we know explains it. {NO_TRY}"
    assert said[2] == "Not judged: all tries for this line are used up."
    assert bench.working.current() is bench.working.steps[1]
    assert bench.hint(step.key) is None


@pytest.mark.parametrize("rules", ["", END], ids=["told at once", "told at the end"])
def test_the_entry_that_stands_on_a_line_is_no_try_again(rules: str, tmp_path: Path) -> None:
    sitting = begun(tmp_path, f"attempts = 2\n{rules}")
    bench = sitting.benches[0]
    step = bench.working.steps[0]
    verdict = bench.enter(step.key, wrong_entry(step))
    for text in (wrong_entry(step), f"  {wrong_entry(step)} "):
        again = bench.enter(step.key, text)
        assert (again.outcome, again.counts) == (Outcome.SAME, False)
        assert bench.tell(again) == "That is the line already here."
    named = bench.enter(step.key, f" {step.key} = {wrong_entry(step)}")
    assert named.outcome is Outcome.SAME
    assert bench.working.lines[step.key].verdict is verdict
    assert bench.working.tries_left(step.key) == 1
    gone_on = Sitting.resume(sitting.place, sitting.drill, CATALOGUE).benches[0].working
    assert (gone_on.tries_left(step.key), gone_on.attempts) == (1, {step.key: 1})


@pytest.mark.parametrize(
    ("rules", "right", "wrong"),
    [
        ("", "This line is right. 1 try is left.", ""),
        (END, NO_TRY, NO_TRY),
    ],
    ids=["told at once", "told at the end"],
)
def test_a_right_entry_is_no_try_where_that_may_be_told(
    rules: str, right: str, wrong: str, tmp_path: Path
) -> None:
    """A line that is gone back to tells how many are left, and nothing that is hidden."""
    bench = begun(tmp_path, f"attempts = 2\n{rules}").benches[0]
    first, second, third = bench.working.steps[:3]
    for step in (first, second):
        bench.enter(step.key, f"+{wrong_entry(step)}")
    bench.enter(first.key, right_entry(bench, first))
    bench.enter(second.key, wrong_entry(second))
    assert [tries_at(bench.working, step.key) for step in (first, second)] == [right, wrong]
    assert tries_at(bench.working, third.key) == ""
    assert bench.working.closed(first.key) == bool(rules)
    bench.disclose()
    assert tries_at(bench.working, first.key) == ""


def test_the_rules_say_what_a_hint_for_any_line_costs() -> None:
    drill = drill_with('hints = "at a cost"\nguidance = "blank"')
    told = " ".join(rules_in_words(drill, None, "x", "y"))
    assert "of its line; if that is not asked for, of the first line asked for that" in told


def test_the_rules_are_told_in_plain_words(tmp_path: Path) -> None:
    rules = (
        'minutes = 45\nattempts = 3\nhints = "at a cost"\ncloses = 2027-03-01T11:00:00+01:00\n'
        "[marking]\nwrong_try = 0.1\nhint = 0.25\nfollow_through = 0.5"
    )
    told = " ".join(rules_in_words(drill_with(rules), tmp_path, "press F10", "press Esc"))
    for words in (
        "2 tasks, 10 marks in all.", "earlier value earns 50 % of its marks.",
        "You have 45 minutes, and the clock stops while you are away.", "closes on 01 March 2027",
        "A line may be tried 3 times; a wrong try costs 10 % of its marks. A right entry, or the",
        "Each hint costs 25 % of the marks of its line.", "told at once", str(tmp_path / "levers"),
        "To hand in, press F10.", "To leave, press Esc",
    ):  # fmt: skip
        assert words in told
    told = " ".join(rules_in_words(drill_with("minutes = 1"), None, "x", "y"))
    assert "You have 1 minute, and the clock stops while you are away. It starts" in told
    told = " ".join(rules_in_words(drill_with(END), None, "x", "y"))
    for words in (
        "no time limit", "as often as you like. The last entry", "There are no hints.",
        "told which lines are right once you have handed in",
    ):  # fmt: skip
        assert words in told


@pytest.mark.parametrize(
    ("seconds", "left", "warned"),
    [
        (None, "", ""),
        (90_000, "", ""),
        (3900, "1 h 05 min left", ""),
        (301, "6 min left", ""),
        (300, "5 min left", "5 minutes are left."),
        (60, "1 min left", "1 minute is left."),
        (250, "4 min 10 s left", "4 minutes and 10 seconds are left."),
        (59.2, "1 min left", "1 minute is left."),
        (39.5, "40 seconds left", "40 seconds are left."),
        (1, "1 second left", "1 second is left."),
        (0.0, "time is up", ""),
    ],
)
def test_the_clock_in_words(seconds: float | None, left: str, warned: str) -> None:
    assert (time_left(seconds), warning(seconds)) == (left, warned)


def test_the_tasks_left_are_counted(tmp_path: Path) -> None:
    sitting = begun(tmp_path)
    assert tasks_left(sitting) == "2 tasks left"
    for bench in sitting.benches:
        for step in bench.working.steps:
            bench.enter(step.key, right_entry(bench, step))
    assert (sitting.open_tasks, tasks_left(sitting)) == ((), "all tasks done")


def test_a_record_that_went_on_elsewhere_is_marked_once(tmp_path: Path) -> None:
    """What was left behind is the beginning of the other; a branch of its own is no beginning."""
    sitting = begun(tmp_path / "share")
    left = sitting.place
    sitting.move(tmp_path / "stick")
    sitting.hand_in()
    assert [one.path for one in gather([tmp_path]).records] == [sitting.place]
    Sitting.resume(left, sitting.drill, CATALOGUE).pause()
    assert {one.path for one in gather([tmp_path]).records} == {sitting.place, left}


def test_by_the_clock_on_the_wall_time_goes_on_while_a_sitting_is_left(tmp_path: Path) -> None:
    for clock, left in (("working", 1800), ("wall", 600)):
        sitting = begun(tmp_path / clock, f'minutes = 30\nclock = "{clock}"')
        sitting.pause()
        assert sitting.begun is not None
        sitting.begun -= timedelta(minutes=20)
        assert sitting.left == pytest.approx(left, abs=30)
        sitting.begun -= timedelta(minutes=20)
        assert sitting.over is (clock == "wall")


def test_a_sitting_that_is_gone_on_with_knows_when_it_began(tmp_path: Path) -> None:
    sitting = begun(tmp_path, 'minutes = 30\nclock = "wall"')
    sitting.pause()
    again = Sitting.resume(sitting.place, sitting.drill, CATALOGUE)
    assert again.begun == sitting.begun


def test_at_the_door_time_that_ran_out_on_the_wall_is_up_and_no_more_than_that(
    tmp_path: Path,
) -> None:
    sitting = begun(tmp_path, 'minutes = 30\nclock = "wall"')
    sitting.pause()
    turn = next_turn(sitting.drill, earlier(sitting.drill, sitting.student, tmp_path).records)
    assert turn.found is not None
    first, *others = turn.found.lines
    days_ago = (datetime.now(UTC) - timedelta(days=3)).isoformat()
    lines = (replace(first, time=days_ago), *others)
    turn = replace(turn, found=replace(turn.found, lines=lines))
    assert turn_told(sitting.drill, turn) == f"{GOES_ON} So far: 0 entries, time is up."


def test_a_clock_needs_minutes() -> None:
    with pytest.raises(FileError, match="minutes beside it"):
        drill_with('clock = "wall"')
