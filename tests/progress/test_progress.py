"""One's own progress: what the records of practice tell on any day, and no more than that."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import asdict, replace
from datetime import UTC, date, datetime, timedelta, timezone
from itertools import pairwise
from pathlib import Path

import pytest
from helpers.drill_sittings import chain, right_entry
from helpers.drills import drill_file
from helpers.made_up_workings import CARDS, NOW, SHELF, SKIPPED, allowed, worked
from helpers.material import CATALOGUE, material
from helpers.pilots import settle
from helpers.records import fields_in
from hypothesis import given
from hypothesis import strategies as st
from leverstep.bench.kept_workings import kept_workings
from leverstep.bench.practice import Practice
from leverstep.bench.practice_choices import PracticeChoices
from leverstep.course.shelf import Shelf
from leverstep.documents.text import WIDTH
from leverstep.drill.drill_file import read_drill
from leverstep.drill.sitting import Sitting
from leverstep.faces.commands.cli import main
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.choices_listed import REASON_COLUMNS
from leverstep.faces.screens.home import HomeScreen
from leverstep.faces.screens.progress_screen import ProgressScreen
from leverstep.faces.screens.work import WorkScreen
from leverstep.free_body.placing import Placing
from leverstep.progress import replay
from leverstep.progress.export import as_data
from leverstep.progress.history import History, read_history
from leverstep.progress.progress import Progress, progress_of, read_progress
from leverstep.progress.replay import PractisedEntry, Worked
from leverstep.progress.review import (
    CLEAN_LINES,
    FEW_LINES,
    INTERVALS,
    LATEST,
    SHARE,
    AmountWorked,
    Occasion,
    Sign,
    SlipFigures,
    State,
    amount,
    by_joint,
    next_review,
    slip_figures,
)
from leverstep.progress.store import Store
from leverstep.progress.suggestions import MOST_SUGGESTED, suggestions
from leverstep.progress.told import (
    MOST_NAMED,
    SOURCE,
    account,
    in_short,
    picture,
    progress_report,
    short_report,
    spoken_report,
    spoken_short_report,
    why,
)
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.hypotheses import hypotheses, reasons_at
from leverstep.working.cautions import CAUTION
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Reasons
from textual.containers import VerticalScroll
from textual.pilot import Pilot
from textual.widgets import OptionList, Static

OWN_WEIGHT = CATALOGUE.slips["own-weight-left-out"]
TODAY = NOW.date()
MADE, RIGHT, OTHER = Sign.MADE, Sign.RIGHT, Sign.OTHER
PAIL = "elbow-full-pail"
SLIPPED = {"W_f": "31.39 N"}
"""On the tilted forearm with seed 7: 3.20 lb times g, not converted to kilograms."""


def on(day: int, sign: Sign, working: int = 0) -> Occasion:
    """Return an occasion some days after the first of January."""
    return Occasion(datetime(2027, 1, 1, 9, tzinfo=UTC) + timedelta(days=day), working, sign)


def due_after(*occasions: Occasion) -> int:
    """Return how many days after the first of January the next review is."""
    return (next_review(occasions) - date(2027, 1, 1)).days


def figures(*occasions: Occasion) -> SlipFigures:
    return SlipFigures((SKIPPED,), occasions)


def history_of(now: datetime, data: Path) -> History:
    """Return what the records of a folder of data tell, all of them judged now."""
    (data / "progress.json").unlink(missing_ok=True)
    return read_history(SHELF, CATALOGUE, now, Store(SHELF, CATALOGUE, data), data)


def progress_now(data: Path) -> Progress:
    """Return what the records of a folder of data tell, all of them judged now."""
    (data / "progress.json").unlink(missing_ok=True)
    return read_progress(SHELF, CATALOGUE, NOW, data)


def told(*workings: Worked, now: datetime = NOW, shelf: Shelf = SHELF) -> Progress:
    return progress_of(History(workings), shelf, CATALOGUE, now, allowed(shelf))


def practised(
    folder: Path,
    name: str = PAIL,
    seed: str = "7",
    wrong: Mapping[str, str] | None = None,
    time: datetime = NOW - timedelta(days=3),
) -> Path:
    """Work a problem to its end, with some lines wrong at first; date its record anew."""
    practice = Practice.start(SHELF.problems[name], seed, CATALOGUE, folder / "practice")
    for step in practice.working.steps:
        if wrong and step.key in wrong:
            practice.enter(step.key, wrong[step.key])
        practice.enter(step.key, right_entry(practice.question, step))
    return dated(practice, time)


def dated(practice: Practice, time: datetime) -> Path:
    """Return the record of a practice, with every line dated a minute after the one before."""
    assert practice.place is not None
    return rewritten(practice.place, dates_from(time, fields_in(practice.place)))


def dates_from(
    time: datetime, lines: Iterable[dict[str, object]]
) -> Iterable[Mapping[str, object]]:
    for number, line in enumerate(lines):
        yield {**line, "time": (time + timedelta(minutes=number)).isoformat()}


def rewritten(path: Path, lines: Iterable[Mapping[str, object]]) -> Path:
    path.write_bytes(chain(lines))
    return path


# The schedule


@pytest.mark.parametrize(
    ("occasions", "days"),
    [
        ([on(0, MADE)], 1),
        ([on(0, MADE), on(0, RIGHT)], 1),
        ([on(0, MADE), on(1, RIGHT)], 3),
        ([on(0, MADE), on(1, RIGHT), on(2, RIGHT)], 3),
        ([on(0, MADE), on(1, RIGHT), on(3, RIGHT)], 7),
        ([on(0, MADE), on(1, RIGHT), on(3, OTHER)], 3),
        ([on(0, MADE), on(10, RIGHT)], 12),
        ([on(0, MADE), on(1, RIGHT), on(3, RIGHT), on(4, MADE)], 5),
        ([on(-9, RIGHT), on(0, MADE)], 1),
    ],
    ids=[
        "made", "the same day", "clean when due", "early", "clean twice", "wrong otherwise",
        "late", "made again", "clean before",
    ],
)  # fmt: skip
def test_the_next_review_follows_from_those_before(occasions: list[Occasion], days: int) -> None:
    assert due_after(*occasions) == days


def test_intervals_double_up_to_the_last_which_stays() -> None:
    occasions = [on(0, MADE)]
    waits = []
    for _ in range(8):
        day = due_after(*occasions)
        waits.append(day - (occasions[-1].time.date() - date(2027, 1, 1)).days)
        occasions.append(on(day, RIGHT))
    assert waits == [1, 2, 4, 8, 16, 32, 32, 32]
    assert all(after == 2 * before for before, after in pairwise(INTERVALS))


HISTORIES = st.lists(st.tuples(st.integers(0, 200), st.sampled_from(Sign)), min_size=1).map(
    lambda drawn: [on(day, sign) for day, sign in sorted(drawn, key=lambda pair: pair[0])]
)


@given(HISTORIES, st.integers(0, 200))
def test_a_review_lies_ahead_of_what_decided_it(occasions: list[Occasion], day: int) -> None:
    """By one of the intervals; what shows nothing changes nothing, and a slip starts over."""
    occasions = [on(0, MADE), *occasions]
    due = next_review(occasions)
    assert due - timedelta(days=1) >= max(o.time.date() for o in occasions if o.sign is MADE)
    assert {(due - o.time.date()).days for o in occasions if o.sign is not OTHER} & {*INTERVALS}
    assert due == next_review([o for o in occasions if o.sign is not OTHER])
    last = (occasions[-1].time.date() - date(2027, 1, 1)).days + day
    assert due_after(*occasions, on(last, MADE)) == last + 1


# What is gone


@pytest.mark.parametrize(
    ("since", "state"),
    [
        ([], State.LAST),
        ([on(1, RIGHT, 1)] * 3, State.FEW),
        ([on(1, RIGHT, 1)] * 3 + [on(1, OTHER, 2)], State.OPEN),
        ([on(1, RIGHT, 1)] * 8, State.OPEN),
        ([on(1, RIGHT, 0)] * 3 + [on(1, RIGHT, 1)], State.OPEN),
        ([on(1, RIGHT, 1)] * 3 + [on(1, RIGHT, 2)], State.GONE),
        ([on(1, RIGHT, 1), on(2, OTHER, 1), *[on(3, RIGHT, 2)] * 3], State.GONE),
        ([on(1, OTHER, 1)] * 9 + [on(2, RIGHT, 1)] * 2 + [on(3, RIGHT, 2)] * 2, State.OPEN),
        ([on(1, OTHER, 1)] * 9 + [on(2, RIGHT, 1)] * 2 + [on(3, RIGHT, 2)] * 3, State.GONE),
        ([on(1, RIGHT, 1)] * 4 + [on(3, RIGHT, 2)] * 4 + [on(4, OTHER, 3)] * 2, State.OPEN),
    ],
    ids=[
        "none",
        "too few",
        "too few right",
        "one working",
        "one later",
        "gone",
        "among others",
        "right on 4 of 13",
        "on 5 of the last 6",
        "wrong again",
    ],
)
def test_a_slip_is_gone_after_clean_lines_in_later_workings(
    since: list[Occasion], state: State
) -> None:
    slip = figures(on(-1, RIGHT, 0), on(0, MADE, 0), *since)
    assert slip.state is state
    assert slip.gone is (state is State.GONE)
    assert len(slip.since) == len(since)
    again = figures(*slip.occasions, on(9, MADE, 9))
    assert (again.state, again.since) == (State.LAST, ())


@given(HISTORIES)
def test_clean_lines_never_bring_a_slip_back(occasions: list[Occasion]) -> None:
    slip = figures(on(0, MADE), *occasions)
    more = figures(*slip.occasions, on(300, RIGHT, 1))
    assert more.gone >= slip.gone
    later = [on(301, RIGHT, working) for working in range(2, 2 + CLEAN_LINES)]
    assert figures(*more.occasions, *later).gone


def test_the_same_slip_on_one_line_counts_once_at_its_last_time() -> None:
    """Lines count, not tries; what came in between was before it."""
    first = worked(PAIL, 2, ("W_f", MADE), ("W_l", RIGHT))
    again = PractisedEntry(NOW, "W_f", first=False, right=False, made=(SKIPPED,))
    one = Worked(first.card, True, (*first.entries, again))
    (slip,) = slip_figures(History((one,)))
    assert [o.sign for o in slip.occasions] == [RIGHT, MADE]
    assert (len(slip.made), slip.since) == (1, ())


def test_slips_that_share_a_reason_are_one_under_all_their_names() -> None:
    forgotten, left = CATALOGUE.slips["gravity-forgotten"], CATALOGUE.slips["pounds-left"]
    assert forgotten.reason == left.reason
    (slip,) = slip_figures(
        History(
            (
                worked(PAIL, 2, ("W_f", MADE), slip=left.id),
                worked(PAIL, 1, ("W_f", MADE), slip=forgotten.id),
            )
        )
    )
    assert [one.id for one in slip.slips] == [left.id, forgotten.id]
    assert (slip.name, len(slip.made)) == (f"{forgotten.name} or {left.name}", 2)


# What a line can show


@pytest.mark.parametrize("name", sorted(SHELF.problems))
def test_a_line_can_show_its_own_slips_and_those_of_lines_left_out(name: str) -> None:
    """With all before it written only its own; with none, those of all it rests on too."""
    derivation = SHELF.problems[name].question("1").derivation
    found = hypotheses(derivation, CATALOGUE)
    for step in derivation.asked:
        before = derivation.ancestors(step.key)
        own = {h.slip.reason for h in found if h.step == step.key}
        below = {h.slip.reason for h in found if h.step in before}
        assert reasons_at(derivation, CATALOGUE, step.key, before) == own
        expected = own if step.kind.is_equation else own | below
        assert reasons_at(derivation, CATALOGUE, step.key, frozenset()) == expected


# Records


def test_a_slip_is_found_in_records_and_fades_with_later_ones(tmp_path: Path) -> None:
    """Made in one working, clean in two more: gone, with all its figures."""
    day = timedelta(days=1)
    practised(tmp_path, "elbow-tilted-forearm", "7", SLIPPED, NOW - 9 * day)
    practised(tmp_path, "elbow-tilted-forearm", "8", time=NOW - 8 * day)
    practised(tmp_path, PAIL, "9", time=NOW - 6 * day)
    history = history_of(NOW, tmp_path)
    (slip,) = slip_figures(history)
    assert slip.slips == (SKIPPED,)
    assert [o.time.date() for o in slip.made] == [TODAY - 9 * day]
    assert slip.gone
    assert {o.sign for o in slip.since} == {RIGHT}
    assert slip.due == TODAY - 2 * day  # clean after 1 day and after 2 more, so 4 days on
    lines = [len(SHELF.problems[n].question("1").derivation.asked) for n in (
        "elbow-tilted-forearm", "elbow-tilted-forearm", PAIL)]  # fmt: skip
    whole = amount(history)
    assert (whole.begun, whole.finished, whole.lines) == (3, 3, sum(lines))
    assert whole.right == whole.lines - 1
    assert dict(by_joint(history)) == {"elbow": whole}


def test_reading_changes_no_file(tmp_path: Path) -> None:
    """Not even a last line that was cut short, or the end that a record lacks."""
    path = practised(tmp_path)
    whole = path.read_bytes()
    lines = whole.splitlines(keepends=True)
    for cut in (whole[:-9], b"".join(lines[:-1]), b"".join(lines[:5])):
        path.write_bytes(cut)
        history = history_of(NOW, tmp_path)
        assert len(history.workings) == 1
        assert (path.read_bytes(), [*path.parent.iterdir()]) == (cut, [path])
    assert [len(history.workings[0].entries), history.workings[0].finished] == [4, False]


def test_figures_agree_with_what_was_told_while_working(tmp_path: Path) -> None:
    """An entry that can't be read is no try, one after a hint no first; a change is neither."""
    practice = Practice.start(SHELF.problems[PAIL], "7", CATALOGUE, tmp_path / "practice")
    rights = {s.key: right_entry(practice.question, s) for s in practice.working.steps}
    practice.enter("W_f", "rubbish")
    practice.enter("W_f", rights["W_f"])  # right at the first try
    practice.hint("W_l")
    practice.enter("W_l", rights["W_l"])  # after a hint
    practice.enter("d_l", "7 m")
    practice.enter("d_l", rights["d_l"])  # at the second
    practice.enter("W_f", "1 N")  # was right before
    (one,) = history_of(NOW, tmp_path).workings
    assert [(e.step, e.first, e.right) for e in one.entries] == [
        ("W_f", True, True), ("W_l", True, False), ("d_l", True, False), ("d_l", False, False),
        ("W_f", False, False),
    ]  # fmt: skip


def test_a_line_in_symbols_is_counted_once_its_numbers_are_in(tmp_path: Path) -> None:
    practice = Practice.start(
        SHELF.problems["plain-wheelbarrow"],
        "1",
        CATALOGUE,
        tmp_path / "practice",
        guidance=Guidance.BLANK,
    )
    assert practice.write("M_s = -W_s*d_s").settled
    (path,) = (tmp_path / "practice").iterdir()
    assert history_of(NOW, tmp_path) == History(())
    assert practice.write("W_s = 529.7 N").settled
    (one,) = history_of(NOW, tmp_path).workings
    assert [entry.step for entry in one.entries] == ["W_s"]
    assert path.exists()


def test_a_line_that_is_right_with_a_note_is_counted(tmp_path: Path) -> None:
    """A size where the problem has a sign is right, and told what the problem has."""
    problem, folder = SHELF.problems["elbow-full-pail"], tmp_path / "practice"
    practice = Practice.start(problem, "7", CATALOGUE, folder, guidance=Guidance.BLANK)
    assert "that is the size of M_f" in practice.tell(practice.write("M_f = 2.815 N m"))
    (one,) = history_of(NOW, tmp_path).workings
    assert [(entry.step, entry.right) for entry in one.entries] == [("M_f", True)]


def test_what_may_be_one_slip_or_another_is_held_against_nobody(tmp_path: Path) -> None:
    """Both explanations fit equally well, so neither was told for sure."""
    practice = Practice.start(
        SHELF.problems["wrist-flat-tray"],
        "7",
        CATALOGUE,
        tmp_path / "practice",
        choices=PracticeChoices(Reasons.AT_ONCE),
    )
    for step in practice.working.steps:
        if step.key == "M_t":
            break
        practice.enter(step.key, right_entry(practice.question, step))
    verdict = practice.enter("M_t", "-105.0 N·m")
    assert "either" in practice.tell(verdict)
    assert practice.explained(verdict).explanations[0].sure
    assert slip_figures(history_of(NOW, tmp_path)) == ()


def test_a_record_that_cannot_be_used_is_left_out_and_counted(tmp_path: Path) -> None:
    good = practised(tmp_path)
    first, *others = fields_in(good)
    broken: dict[str, object] = {
        "problem": "no-such-problem", "seed": 3, "givens": {}, "format": 99, "kind": "drill",
        "guidance": "none", "own": {"m_f": "1e999999999"}, "time": "some day",
    }  # fmt: skip
    for key, value in broken.items():
        rewritten(good.parent / f"{key}.jsonl", [{**first, key: value}, *others])
    rewritten(
        good.parent / "dateless.jsonl", [{k: first[k] for k in first if k != "time"}, *others]
    )
    (good.parent / "empty.jsonl").write_bytes(b"")
    (good.parent / "rubbish.jsonl").write_bytes(bytes(range(256)) * 9)
    (good.parent / "folder.jsonl").mkdir()
    (good.parent / "notes.txt").write_text("no record", "utf-8")
    progress = read_progress(SHELF, CATALOGUE, NOW, tmp_path)
    assert progress.unusable == len(broken) + 4
    assert progress.amount.begun == 1
    assert "12 records could not be used: damaged" in plain_text(progress)
    assert as_data(progress)["unusable_records"] == 12


def test_lines_that_make_no_sense_are_passed_over(tmp_path: Path) -> None:
    path = practised(tmp_path)
    before = history_of(NOW, tmp_path)
    first, *others = fields_in(path)
    odd: list[dict[str, object]] = [
        {"kind": "entry", "step": "no such", "text": "3 N"}, {"kind": "entry", "step": "W_f"},
        {"kind": 7}, {"kind": "hint", "step": ["W_f"]}, {"time": {}},
        {"kind": "line", "text": "[red]nonsense"},
    ]  # fmt: skip
    rewritten(path, [first, *odd, *others])
    assert history_of(NOW, tmp_path) == before


def test_a_record_from_the_future_counts_as_of_now(tmp_path: Path) -> None:
    """The clock was set back; nothing lies ahead of now, and lines keep their order."""
    path = practised(tmp_path, "elbow-tilted-forearm", "7", SLIPPED, NOW + timedelta(days=400))
    progress = read_progress(SHELF, CATALOGUE, NOW, tmp_path)
    (slip,) = progress.slips
    assert [o.time for o in slip.occasions] == [NOW] * len(slip.occasions)
    assert (slip.occasions[0].sign, slip.due) == (MADE, TODAY + timedelta(days=1))
    lines = [{**line, "time": NOW.isoformat()} for line in fields_in(path)]
    lines[2]["time"] = "0001-01-01T00:00:00+23:00"
    lines[3]["time"] = (NOW - timedelta(days=2)).isoformat()
    rewritten(path, lines)
    assert read_progress(SHELF, CATALOGUE, NOW, tmp_path) == progress


WHOLE = [["2027-01-01T00:00:00+00:00", "W_f", True, True, 0, []]]
CARD = asdict(CARDS[PAIL])
MADE_BY_ANOTHER_HAND = [
    "", "[]", "{", '{"sources": 3}', "[" * 100_000,
    {"records": []}, {"sets": {}}, {"sets": [["no such slip"]]}, {"sets": [[[]]]}, {"sets": [7]},
    {"made": 7}, {"made": [{}]}, {"made": [{"card": "none", "finished": True, "entries": []}]},
    {"made": [{"card": {"id": "\x1b[2J"}, "finished": True, "entries": []}]},
    {"made": [{"card": PAIL, "finished": True, "entries": []}]},
    {"made": [{"card": {**CARD, "difficulty": "x"}, "finished": True, "entries": WHOLE}]},
    {"made": [{"card": {**CARD, "joint": "\n"}, "finished": True, "entries": WHOLE}]},
    {"made": [{"card": PAIL, "finished": True, "entries": [["x", "W", 1, 1, 0, []]]}]},
    {"made": [{"card": PAIL, "finished": True, "entries": [["9999-12-31", "W", 1, 1, 1e9, []]]}]},
]  # fmt: skip


@pytest.mark.parametrize("written", MADE_BY_ANOTHER_HAND, ids=range(len(MADE_BY_ANOTHER_HAND)))
def test_what_is_kept_of_records_is_made_anew_where_it_is_broken(
    tmp_path: Path, written: str | dict[str, object]
) -> None:
    practised(tmp_path, "elbow-tilted-forearm", "7", SLIPPED)
    progress = read_progress(SHELF, CATALOGUE, NOW, tmp_path)
    assert progress.slips
    place = tmp_path / "progress.json"
    if isinstance(written, str):
        place.write_text(written, "utf-8")
    else:
        kept = json.loads(place.read_text("utf-8"))
        kept.update({k: v for k, v in written.items() if k != "made"})
        for record in kept["records"].values() if "made" in written else ():
            record["made"] = written["made"]
        place.write_text(json.dumps(kept), "utf-8")
    assert read_progress(SHELF, CATALOGUE, NOW, tmp_path) == progress


def judging(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """Return a list that grows by every record that is judged."""
    judged: list[Path] = []

    def noted(path: Path, shelf: Shelf, catalogue: Catalogue) -> tuple[Worked, ...]:
        judged.append(path)
        return replay.practised(path, shelf, catalogue)

    monkeypatch.setattr("leverstep.progress.history.practised", noted)
    return judged


def test_a_record_is_judged_again_only_where_something_changed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Itself, a problem, a slip or the code; what is told is the same in either way."""
    judged = judging(monkeypatch)
    first = practised(tmp_path, "elbow-tilted-forearm", "7", SLIPPED)
    second = practised(tmp_path, PAIL, "9")
    (first.parent / "rubbish.jsonl").write_text("rubbish", "utf-8")
    progress = read_progress(SHELF, CATALOGUE, NOW, tmp_path)
    assert len(judged) == 3
    judged.clear()
    assert read_progress(SHELF, CATALOGUE, NOW, tmp_path) == progress
    later = read_progress(SHELF, CATALOGUE, NOW + timedelta(days=1), tmp_path)
    assert judged == []
    assert later.today == TODAY + timedelta(days=1)
    rewritten(second, [*fields_in(second), {"kind": "hint", "step": "W_f"}])
    assert read_progress(SHELF, CATALOGUE, NOW, tmp_path) == progress
    assert judged == [second]
    judged.clear()
    fewer = replace(SHELF, cards=SHELF.cards[1:])
    read_progress(fewer, CATALOGUE, NOW, tmp_path)
    assert len(judged) == 3
    kept = json.loads((tmp_path / "progress.json").read_text("utf-8"))
    (tmp_path / "progress.json").write_text(json.dumps({**kept, "sources": "older"}), "utf-8")
    judged.clear()
    assert read_progress(SHELF, CATALOGUE, NOW, tmp_path) == progress
    assert len(judged) == 3


def test_reading_that_is_ended_keeps_what_it_has(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    judged = judging(monkeypatch)
    for seed in "789":
        practised(tmp_path, PAIL, seed)

    def told(read: int, of_all: int) -> None:
        assert of_all == 3
        if read == 2:
            raise InterruptedError

    with pytest.raises(InterruptedError):
        read_progress(SHELF, CATALOGUE, NOW, tmp_path, told)
    assert len(judged) == 2
    assert read_progress(SHELF, CATALOGUE, NOW, tmp_path).amount.begun == 3
    assert len(judged) == 3


# Drills


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the user's data folder."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    return tmp_path


def drill_sat(data: Path, rules: str = "") -> Sitting:
    """Sit a drill of two tasks: a slip on the second, all else right."""
    sitting = Sitting.start(read_drill(drill_file(data, rules), SHELF.problems), CATALOGUE, "s01")
    for bench in sitting.benches:
        for step in bench.working.asked:
            right = right_entry(bench.question, step)
            if step.key == "W_f":
                bench.enter(step.key, f"{-float(right.split()[0])} N")
            bench.enter(step.key, right)
    return sitting


@pytest.mark.parametrize("feedback", ["each line", "at the end"])
def test_a_drill_counts_once_it_is_handed_in(home: Path, feedback: str) -> None:
    """Nothing tells before that what came of its lines."""
    sitting = drill_sat(home, f'feedback = "{feedback}"')
    now = datetime.now(UTC)
    assert read_progress(SHELF, CATALOGUE, now, home) == read_progress(
        SHELF, CATALOGUE, now, home / "none"
    )
    sitting.hand_in()
    kept = sitting.place.read_bytes()
    progress = read_progress(SHELF, CATALOGUE, now, home)
    assert [worked.card.id for worked in history_of(now, home).workings] == [
        "plain-wheelbarrow", PAIL,
    ]  # fmt: skip
    lines = sum(len(bench.working.asked) for bench in sitting.benches)
    assert progress.amount == AmountWorked(begun=2, finished=2, lines=lines, right=lines - 1)
    assert [slip.slips[-1].id for slip in progress.slips] == ["needless-minus"]
    assert sitting.place.read_bytes() == kept


def test_progress_judges_one_record_within_bounds(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Those of a whole record, over all of its workings."""
    sitting = drill_sat(home)
    sitting.hand_in()
    lines = sum(len(bench.working.asked) for bench in sitting.benches)
    now = datetime.now(UTC)
    monkeypatch.setattr("leverstep.bench.replaying.MOST_EXPLAINED", 3)
    (home / "progress.json").unlink(missing_ok=True)
    bounded = read_progress(SHELF, CATALOGUE, now, home)
    assert (bounded.slips, bounded.amount.lines) == ((), lines)
    monkeypatch.setattr("leverstep.bench.replaying.MOST_JUDGED", 3)
    (home / "progress.json").unlink(missing_ok=True)
    assert read_progress(SHELF, CATALOGUE, now, home).amount.lines == 4


def test_a_drill_whose_file_is_gone_or_changed_is_left_out_and_counted(home: Path) -> None:
    """The numbers of a record follow from the very file that it was begun with."""
    sitting = drill_sat(home)
    sitting.hand_in()
    path = sitting.place.parent / f"{sitting.drill.digest}.toml"
    whole = path.read_text("utf-8")
    assert whole == (home / "levers.toml").read_text("utf-8")
    for text in (None, "rubbish", whole + "\n", whole.replace("Levers", "Others")):
        path.unlink(missing_ok=True)
        if text is not None:
            path.write_text(text, "utf-8")
        progress = progress_now(home)
        assert (progress.unusable, progress.amount.begun) == (1, 0)
    path.write_text(whole, "utf-8")
    assert progress_now(home).amount.begun == 2
    elsewhere = Sitting.start(sitting.drill, CATALOGUE, "s02", home / "stick")
    assert [file.suffix for file in elsewhere.place.parent.iterdir()] == [".jsonl"]


def test_a_broken_record_of_a_drill_is_left_out_and_counted(home: Path) -> None:
    sitting = drill_sat(home)
    sitting.hand_in()
    first, *others = fields_in(sitting.place)
    broken: dict[str, object] = {
        "kind": "practice", "digest": "../../levers", "student": "\x1b[2J", "tasks": 3, "time": [],
    }  # fmt: skip
    for key, value in broken.items():
        rewritten(sitting.place.parent / f"{key}.jsonl", [{**first, key: value}, *others])
    (sitting.place.parent / "rubbish.jsonl").write_bytes(bytes(range(256)) * 9)
    odd: list[dict[str, object]] = [{"task": 99}, {"task": "x"}, {"kind": "entry", "task": 1}]
    rewritten(sitting.place, [first, *odd, *others])
    progress = read_progress(SHELF, CATALOGUE, datetime.now(UTC), home)
    assert progress.unusable == len(broken) + 1
    assert progress.amount.begun == 2


def test_days_are_those_of_the_user_s_own_zone(tmp_path: Path) -> None:
    """What was typed at 23:30 in UTC was typed on the next day further east."""
    practised(tmp_path, "elbow-tilted-forearm", "7", SLIPPED, datetime(2027, 2, 1, 23, 30))
    (slip,) = slip_figures(history_of(NOW, tmp_path))
    assert slip.due == date(2027, 2, 2)
    east = NOW.astimezone(timezone(timedelta(hours=5)))
    (slip,) = slip_figures(history_of(east, tmp_path))
    assert slip.due == date(2027, 2, 3)


# Suggestions


def test_the_most_overdue_slip_comes_first_in_a_problem_that_has_it() -> None:
    progress = told(
        worked(PAIL, 5, ("W_f", MADE), slip=OWN_WEIGHT.id),
        worked("elbow-tilted-forearm", 9, ("W_f", MADE)),
        worked("knee-net-moment", 0, ("d_s", MADE), slip="half-the-length"),
    )
    listed = [slip for one in progress.next for slip in one.slips]
    assert [slip.slips[0] for slip in listed] == [SKIPPED, OWN_WEIGHT]  # the third not before due
    for one in progress.next:
        derivation = SHELF.problems[one.card.id].question("5").derivation
        possible = {h.slip.reason for h in hypotheses(derivation, CATALOGUE)}
        assert {slip.reason for slip in one.slips} <= possible
        assert one.card.id != "knee-net-moment"  # worked last


@pytest.mark.parametrize("name", [PAIL, "elbow-tilted-forearm", "hip-one-leg-stance"])
def test_a_slip_comes_back_in_a_problem_as_hard_as_where_it_was_made(name: str) -> None:
    progress = told(worked(name, 5, ("W", MADE), slip="sign-of-a-moment"))
    (one,) = progress.next
    assert one.card.id != name
    assert one.card.difficulty == CARDS[name].difficulty


def test_a_slip_comes_back_in_the_problem_worked_last_only_where_no_other_has_it() -> None:
    last = "elbow-pail-of-water"
    slipped = worked(last, 5, ("W_f", MADE))
    alone = Shelf((CARDS[last], CARDS["ankle-calf-raise"]), SHELF.problems, ())
    assert [one.card.id for one in told(slipped, shelf=alone).next] == [last]
    two = Shelf((*alone.cards, CARDS["elbow-tilted-forearm"]), SHELF.problems, ())
    assert [one.card.id for one in told(slipped, shelf=two).next] == ["elbow-tilted-forearm"]


def test_one_problem_may_serve_several_slips_and_no_more_than_some_are_suggested() -> None:
    slips = sorted(CATALOGUE.slips)
    workings = [worked(PAIL, 2 + n, ("W", MADE), slip=slip) for n, slip in enumerate(slips)]
    progress = told(*workings)
    assert len(progress.next) == MOST_SUGGESTED
    listed = [slip.reason for one in progress.next for slip in one.slips]
    assert len(listed) == len(set(listed)) > MOST_SUGGESTED
    assert len({one.card.id for one in progress.next}) == MOST_SUGGESTED
    waiting = len(progress.slips) - len(listed)
    assert f"({waiting} more slips are due after these)" in progress_report(progress)


def test_why_a_problem_is_next_stands_whole_behind_its_title_on_the_first_screen() -> None:
    fresh = told(worked("ankle-calf-raise", 5, ("W", RIGHT)))
    everything = told(*(worked(one.id, 90, ("W", RIGHT)) for one in SHELF.cards))
    for progress in (fresh, everything):
        assert len(why(progress.next[0], progress)) <= REASON_COLUMNS


def test_where_nothing_is_due_it_is_a_joint_not_practised_yet() -> None:
    fresh = told()
    assert [(one.card.difficulty, one.slips) for one in fresh.next] == [(1, ())]
    progress = told(worked("ankle-calf-raise", 5, ("W", RIGHT)))
    (one,) = progress.next
    assert one.card.joint != "ankle"
    assert "a joint not practised yet" in plain_text(progress)
    assert "no slip is due" in progress_report(progress)
    everything = [worked(card.id, 90 - n, ("W", RIGHT)) for n, card in enumerate(SHELF.cards)]
    progress = told(*everything)
    assert progress.next[0].card == SHELF.cards[0]  # worked longest ago
    assert "not worked for a long time, or never" in plain_text(progress)


def test_an_empty_shelf_has_nothing_to_suggest() -> None:
    empty = Shelf((), {}, ())
    slips = slip_figures(History((worked(PAIL, 5, ("W_f", MADE)),)))
    assert suggestions(History(()), (), empty, allowed(empty), TODAY) == ()
    history = History((worked(PAIL, 5, ("W_f", MADE)),))
    assert suggestions(history, slips, empty, allowed(empty), TODAY) == ()
    assert "What to practise next" in progress_report(told(shelf=empty))


# Words and data


def plain_text(progress: Progress) -> str:
    """Return the whole as text with its lines joined, to look for sentences."""
    return " ".join(progress_report(progress).split())


def test_the_text_holds_every_figure_and_the_caution() -> None:
    progress = told(
        worked(PAIL, 40, ("W_f", RIGHT), ("W_l", MADE)),
        worked(PAIL, 30, ("W_f", RIGHT), ("W_l", OTHER)),
        worked(PAIL, 20, *[(f"W_{n}", RIGHT) for n in range(CLEAN_LINES)]),
    )
    shown = plain_text(progress)
    assert CAUTION in shown
    assert SOURCE in shown
    assert picture(progress.slips[0]) == "✓✗✓·✓✓✓✓"
    assert "not converted to kilograms ✓✗✓·✓✓✓✓ gone" in shown
    assert "made on 1 line, on 20 January 2027. Since then right first time on 5 of 6" in shown
    assert "in 2 later workings: gone. A check is due." in shown
    assert SKIPPED.reason in shown
    assert "Elbow 3 3 8 6 too few to tell" in shown
    assert "could not be used" not in shown
    lines = progress_report(progress).splitlines()
    assert max(map(len, lines)) <= WIDTH
    assert all(line.isprintable() for line in lines)


def test_it_begins_with_what_to_do_what_is_better_and_what_is_not() -> None:
    """A slip that is gone is better; one made the last time, or hidden by others, is not."""
    gone = [worked(PAIL, day, ("W_f", RIGHT), ("W_l", RIGHT)) for day in (4, 3)]
    progress = told(
        worked(PAIL, 8, ("W_f", MADE)),
        worked(PAIL, 7, ("d_l", MADE), slip="own-weight-left-out"),
        *gone,
        *[worked(PAIL, 2, ("d_l", sign), slip=OWN_WEIGHT.id) for sign in (OTHER, RIGHT)],
        worked(PAIL, 1, ("MA", MADE), slip="ratio-upside-down"),
    )
    following, better, not_yet = in_short(progress)
    first = progress.next[0]
    assert following.startswith(f"Next: {first.card.title} (")
    assert all(slip.name in following for slip in first.slips)
    right = "gone, right first time on 4 of 4 lines since"
    assert better == f"Getting better: {SKIPPED.name} ({right})."
    assert not_yet == (
        "Not yet: the ratio upside down (made the last time), "
        "the segment's own weight left out (right first time on 1 of 2 lines since)."
    )
    for whole in (plain_text(progress), " ".join(spoken_short_report(progress).split())):
        assert whole.index(following) < whole.index(better) < whole.index(not_yet)
    whole = progress_report(progress)
    assert whole.index("\nNot yet, the first due first") < whole.index("\nGone\n")
    assert "\nGetting better\n" not in whole
    assert "leverstep progress --all" in short_report(progress)
    assert f"leverstep practise {first.card.id}" in short_report(progress)


def test_in_short_no_more_than_some_slips_are_named() -> None:
    idents = ["own-weight-left-out", "ratio-upside-down", "arm-divided", SKIPPED.id]
    progress = told(*[worked(PAIL, 1, ("W_f", MADE), slip=ident) for ident in idents])
    _, better, not_yet = in_short(progress)
    assert better == "Getting better: nothing to tell yet."
    assert not_yet.endswith(f", {len(idents) - MOST_NAMED} more.")
    assert len(short_report(progress).splitlines()) < 20


@given(HISTORIES)
def test_what_is_gone_is_better_and_has_a_decent_share(occasions: list[Occasion]) -> None:
    slip = figures(on(0, MADE), *occasions)
    latest = [one.sign for one in slip.since][-LATEST:]
    assert slip.is_better or not slip.gone
    if slip.is_better:
        assert latest.count(RIGHT) >= SHARE * len(latest) > 0
        assert slip.workings_since > 0


def test_a_screen_reader_is_told_the_same_in_sentences() -> None:
    """Each slip with its state and what that means, no picture, and no line that is broken."""
    progress = told(worked(PAIL, 3, ("W_f", MADE), ("W_l", RIGHT)))
    spoken = spoken_report(progress).splitlines()
    assert not {*"✗✓·─"} & {*"".join(spoken)}
    assert any(
        line.startswith("A slip counts as gone when, since it was last made") for line in spoken
    )
    assert any(line.startswith(f"{SKIPPED.name}: made on 1 line, on ") for line in spoken)
    assert "Elbow. Begun: 1; finished: 1; lines: 2; right first time: 1; share:" in " ".join(spoken)
    sentences = {" ".join(line.split()).removeprefix("- ") for line in spoken if line}
    assert {line for line in sentences if line[-1] == "." and ". Begun" not in line} <= {
        *filter(lambda line: line in plain_text(progress), sentences)
    }


def test_a_share_is_given_for_lines_enough_alone() -> None:
    few = worked(PAIL, 1, *[(f"W_{n}", RIGHT) for n in range(FEW_LINES - 1)])
    enough = worked("ankle-calf-raise", 1, *[(f"W_{n}", RIGHT) for n in range(FEW_LINES)])
    shown = plain_text(told(few, enough))
    assert "Elbow 1 1 9 9 too few to tell" in shown
    assert "Ankle 1 1 10 10 100 %" in shown


def test_nothing_practised_is_said_plainly() -> None:
    shown = plain_text(told())
    assert "Nothing yet." in shown
    assert "No slip was certain." in shown
    assert "leverstep practise " in shown


def test_the_command_prints_the_same_as_text_and_as_json(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    path = practised(tmp_path, "elbow-tilted-forearm", "7", SLIPPED)
    kept = path.read_bytes()
    now = datetime.now().astimezone()
    assert main(["progress"]) == 0
    assert capsys.readouterr().out == spoken_short_report(read_progress(SHELF, CATALOGUE, now))
    assert main(["progress", "--all"]) == 0
    assert capsys.readouterr().out == spoken_report(read_progress(SHELF, CATALOGUE, now))
    monkeypatch.setattr("leverstep.faces.commands.progress_cli.is_plain", lambda wished: wished)
    assert main(["progress"]) == 0
    assert capsys.readouterr().out == short_report(read_progress(SHELF, CATALOGUE, now))
    assert main(["progress", "--all"]) == 0
    assert capsys.readouterr().out == progress_report(read_progress(SHELF, CATALOGUE, now))
    assert main(["progress", "--all", "--plain"]) == 0
    assert capsys.readouterr().out == spoken_report(read_progress(SHELF, CATALOGUE, now))
    assert main(["progress", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data == as_data(read_progress(SHELF, CATALOGUE, now))
    (slip,) = data["slips"]
    assert slip["ids"] == [SKIPPED.id]
    assert (slip["lines_made"], slip["gone"], slip["signs"][0]) == (1, False, "made")
    assert data["practised"]["all"]["workings_begun"] == 1
    assert path.read_bytes() == kept


def test_every_key_of_the_json_is_documented() -> None:
    data = as_data(told(worked(PAIL, 5, ("W_f", MADE))))
    keys = set(re.findall(r'"(\w+)":', json.dumps(data)))
    assert keys == keys & set(re.findall(r"`(\w+)`", str(as_data.__doc__)))
    assert {"caution", "slips", "next", "practised", "days"} <= keys


# The screen


def text_of(pilot: Pilot[int], name: str) -> str:
    return str(pilot.app.screen.query_one(name, Static).content)


@pytest.mark.parametrize("size", [(80, 24), (120, 36)], ids=["80", "120"])
async def test_progress_is_opened_read_through_and_acted_on(
    home: Path, size: tuple[int, int]
) -> None:
    """F10, the caution, figures down to their last line, and Enter on what is due."""
    three_days_ago = datetime.now(UTC) - timedelta(days=3)
    practised(home, "elbow-tilted-forearm", "7", SLIPPED, three_days_ago)
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        keys = [str(key.content) for key in app.screen.query("FooterKey").results(Static)]
        assert "F10 Progress" in keys
        await pilot.press("f10")
        await settle(pilot)
        assert isinstance(app.screen, ProgressScreen)
        progress = read_progress(SHELF, CATALOGUE, datetime.now().astimezone())
        assert text_of(pilot, "#caution") == CAUTION
        assert text_of(pilot, "#short") == "\n".join(in_short(progress))
        assert text_of(pilot, "#figures") == account(progress).rstrip()
        assert " ".join(SOURCE.split()) in " ".join(account(progress).split())
        await pilot.press("f5")
        await settle(pilot)
        pane = app.screen.query_one("#account", VerticalScroll)
        assert pane.query_one("#figures").size.width >= WIDTH  # so that no line is broken
        for _ in range(20):
            await pilot.press("pagedown")
        assert pane.scroll_y == pane.max_scroll_y
        assert pane.max_scroll_y > 0 or size != (80, 24)
        await pilot.press("pageup")
        assert pane.scroll_y < max(1, pane.max_scroll_y)
        await pilot.press("f5")
        await settle(pilot)
        listed = app.screen.query_one(OptionList)
        assert listed.has_focus
        assert SKIPPED.name in str(listed.highlighted_option.prompt)
        await pilot.press("enter")
        await settle(pilot)
        assert isinstance(app.screen, WorkScreen)
        assert app.screen.practice is not None
        assert app.screen.practice.question.problem.id == progress.next[0].card.id
        await pilot.press("escape")
        assert isinstance(app.screen, HomeScreen)


async def test_progress_opens_something_new_where_nothing_was_practised(home: Path) -> None:
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("f10")
        await settle(pilot)
        assert "no slip is due" in text_of(pilot, "#asks")
        await pilot.press("enter")
        await settle(pilot)
        assert isinstance(app.screen, WorkScreen)
    assert [path.name for path in (home / "practice").iterdir()] != []


def test_a_slip_that_was_told_before_makes_no_clean_line_and_no_problem_done(
    tmp_path: Path,
) -> None:
    practice = Practice.start(
        SHELF.problems["elbow-full-pail"], "1", CATALOGUE, tmp_path, slips_to_find=1
    )
    mending = practice.mending
    assert mending is not None
    for question in mending.questions:
        practice.answer(question, next(iter(question.right)))
    practice.enter("d_f", mending.erroneous.right_line(mending.erroneous.step).entry)
    assert practice.working.complete
    path = practice.place
    assert path is not None
    (made,) = replay.practised(path, SHELF, CATALOGUE)
    assert not made.finished
    assert [entry.could for entry in made.entries] == [frozenset()]
    assert not kept_workings(SHELF, tmp_path).done


def drawn(folder: Path, day: int, *placings: Placing) -> Path:
    """Draw some things into the diagram of the pail, and write no line."""
    practice = Practice.start(SHELF.problems[PAIL], str(day), CATALOGUE, folder / "practice")
    assert practice.begin_pictures()
    (one,) = practice.picture_work.pictures
    for placing in (*placings, *map(one.right_placing, one.needed)):
        practice.picture_work.place(one, placing)
    assert practice.picture_work.finish(one)
    return dated(practice, NOW - timedelta(days=day))


def test_slips_in_diagrams_are_slips_and_get_better(tmp_path: Path) -> None:
    turned, at_a_wrong_point = Placing("F_m", "d_m", "down"), Placing("W_l", "d_m", "down")
    drawn(tmp_path, 9, turned, at_a_wrong_point)
    drawn(tmp_path, 8, turned)
    progress = progress_now(tmp_path)
    _, better, not_yet = in_short(progress)
    assert better == "Getting better: nothing to tell yet."
    assert not_yet == (
        "Not yet: an arrow turned round (in 2 of 2 diagrams), "
        "a force at a wrong point (in 1 of 2 diagrams, not in the last one)."
    )
    drawn(tmp_path, 7)
    again = read_progress(SHELF, CATALOGUE, NOW, tmp_path)  # two of them as they are kept
    assert again == progress_now(tmp_path)
    _, better, not_yet = in_short(again)
    assert better == (
        "Getting better: a force at a wrong point (in 1 of 3 diagrams, not in the last 2)."
    )
    assert not_yet == "Not yet: an arrow turned round (in 2 of 3 diagrams, not in the last one)."
    whole = " ".join(progress_report(again).split())
    assert "No slip on a line was certain. In free-body diagrams" in whole
    assert "an arrow turned round: in 2 of 3 diagrams, not in the last one; made last on" in whole
    assert "No slip was certain." not in whole
    assert again.amount == AmountWorked()


def test_a_kind_that_is_right_less_often_than_another_is_named() -> None:
    right = worked(PAIL, 2, *[(f"W_{n}", RIGHT) for n in range(FEW_LINES)])
    kind = "ankle-standing-lean-moment"
    signs = [RIGHT if n % 2 else OTHER for n in range(FEW_LINES)]
    wrong = worked(kind, 1, *[(f"W_{n}", sign) for n, sign in enumerate(signs)])
    assert in_short(told(right, wrong))[2] == (
        "Not yet: nothing. Least right, by what is to be found: Net moment at a joint "
        f"(50 % of {FEW_LINES} lines)."
    )
    fewer = replace(wrong, entries=wrong.entries[1:])
    assert in_short(told(right, fewer))[2] == "Not yet: nothing."
    even = worked(kind, 1, *[(f"W_{n}", RIGHT) for n in range(FEW_LINES)])
    assert in_short(told(right, even))[2] == "Not yet: nothing."
