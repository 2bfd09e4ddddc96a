"""The start word: nothing of a drill is known before it is told, and a record is marked without."""

from __future__ import annotations

import hashlib
import json
import os
import time
import unicodedata
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from helpers.drill_screens import all_text, app_at, drill_screen
from helpers.drill_sittings import END, SHELF, chain, first_line, record, timed
from helpers.drills import drill_file, drill_text, right_entry
from helpers.line_students import LEFT, Student
from helpers.material import CATALOGUE
from helpers.pilots import press, settle
from helpers.records import fields_in
from helpers.screens import text_of
from leverstep.course.faults import FileError
from leverstep.dialogue.admission import admission
from leverstep.dialogue.notice import rules_in_words
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of, read_drill
from leverstep.drill.earlier import earlier, unfinished
from leverstep.drill.sitting import Closed, Sitting
from leverstep.drill.slow_hash import as_spoken
from leverstep.drill.start_word import (
    LOCK,
    NOT_THE_WORD,
    is_key_of,
    key_of,
    lock_of,
    set_start_word,
    unlocked,
)
from leverstep.faces.commands.cli import main
from leverstep.faces.lines.drill_asking import start_word
from leverstep.faces.screens.drill_screen import DrillScreen
from leverstep.marking.marking import mark_record
from leverstep.marking.odd_records import NO_START, OTHER_START
from leverstep.progress.replay import sat
from textual.widgets import Input

WORD = "Blue heron"
LOCKED = "a406866605341713:f676b87a7e2daea8ad2bf332298feff7"
KEY = "c4ff8c11de19b926279ed61398b5abe06730321d379602fea6206499b50d9b42"
"""As the first version made them: a locked drill opens, with the same numbers, in later ones."""

RULE = f'start_word = "{LOCKED}"'


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("NO_COLOR", raising=False)
    return tmp_path / "home"


def locked_drill(rule: str = RULE) -> Drill:
    return drill_of(drill_text(rule), SHELF.problems, "levers.toml")


def numbers(drill: Drill, student: str = "s01") -> list[dict[str, str]]:
    return [task.question.givens_written for task in drill.tasks(student)]


# The word.


@pytest.mark.parametrize(
    "typed",
    ["Blue heron", " blue  HERON ", "blueheron", "BLUEHERON\n", "blue\theron"],
)
def test_a_word_is_known_as_it_is_spoken(typed: str) -> None:
    assert key_of(LOCKED, typed) == KEY != ""


@pytest.mark.parametrize("typed", ["", "blue", "blue herons", "bluë heron", "\udcff", KEY, LOCKED])
def test_no_other_word_opens(typed: str) -> None:
    assert key_of(LOCKED, typed) == ""


def test_a_word_is_one_however_its_letters_are_composed() -> None:
    ways = [unicodedata.normalize(form, "Grüne Straße") for form in ("NFC", "NFD")]
    assert len({as_spoken(way) for way in [*ways, "GRÜNE STRASSE"]}) == 1


def test_a_lock_tells_nothing_and_is_slow_to_try() -> None:
    """Two locks of one word have nothing in common, and a try takes a tenth of a second or so."""
    other = lock_of(WORD)
    assert LOCK.fullmatch(other)
    assert not set(other.split(":")) & set(LOCKED.split(":"))
    assert is_key_of(LOCKED, KEY)
    assert not is_key_of(other, KEY)
    quick = hashlib.sha256(as_spoken(WORD).encode()).hexdigest()
    assert quick not in LOCKED
    took = []
    for _ in range(5):
        begun = time.process_time()
        key_of(LOCKED, "another word")
        took.append(time.process_time() - begun)
    assert 0.01 < min(took) < 0.3


def test_a_drill_without_a_word_has_the_key_of_none() -> None:
    assert is_key_of("", "")
    assert not is_key_of("", KEY)
    assert not is_key_of(LOCKED, "")
    assert key_of("", "") == ""


# The numbers.


def test_numbers_follow_from_the_word_too() -> None:
    drill = locked_drill()
    without, with_it = numbers(locked_drill("")), numbers(drill.with_key(KEY))
    other = lock_of("grey wagtail")
    found = [without, with_it, numbers(locked_drill(f'start_word = "{other}"').with_key("0" * 64))]
    assert len({json.dumps(one) for one in found}) == 3
    assert numbers(drill.with_key(KEY)) == with_it
    assert numbers(drill.with_key(KEY), "s02") != with_it
    fixed = drill_text(RULE).replace("marks = 6", 'marks = 6\nnumbers = "fixed"')
    shared = drill_of(fixed, SHELF.problems, "levers.toml")
    assert numbers(shared.with_key(KEY))[0] == numbers(shared.with_key(KEY), "s02")[0]
    assert numbers(shared.with_key(KEY))[0] != numbers(shared)[0]


def test_nothing_is_shown_of_a_drill_before_its_word_is_known(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Neither by a preview nor on paper, with or without the key."""
    path = str(drill_file(tmp_path, RULE))
    for call in (
        ["drill", "preview", path, "--student", "s01"],
        ["sheet", path, "--student", "s01"],
        ["sheet", path, "--student", "s01", "--key", "--format", "md"],
    ):
        assert main(call) == 2
        refused = capsys.readouterr()
        assert refused.out == ""
        assert refused.err == (
            "levers: its numbers follow from its start word too; expected --start-word with the "
            "word that was set\n"
        )
        assert main([*call, "--start-word", "grey wagtail"]) == 2
        assert "levers: this is not its start word" in capsys.readouterr().err
        assert main([*call, "--start-word", "BLUE HERON"]) == 0
        given = numbers(read_drill(Path(path), SHELF.problems).with_key(KEY))[0]["m_s"]
        assert given.replace("\N{NO-BREAK SPACE}", " ").split()[0] in capsys.readouterr().out
    plain = str(drill_file(tmp_path))
    assert main(["drill", "preview", plain, "--start-word", WORD]) == 2
    assert "levers: it has no start word; expected no --start-word" in capsys.readouterr().err
    assert main(["sheet", "plain-seesaw", "--start-word", WORD]) == 2
    assert "problems have none; expected a drill" in capsys.readouterr().err


def test_a_drill_whose_word_is_not_needed_is_as_it_was() -> None:
    drill = locked_drill("")
    assert unlocked(drill, None) is drill
    assert not drill.is_locked
    assert unlocked(locked_drill(), WORD).start_key == KEY


@pytest.mark.parametrize("written", ["blue heron", LOCKED[:-1], LOCKED.upper(), "'", 5])
def test_a_word_that_stands_in_the_file_itself_is_a_fault(written: object) -> None:
    with pytest.raises(FileError) as caught:
        locked_drill(f"start_word = {json.dumps(written)}")
    assert "start_word: found " in str(caught.value)


# Setting it.


FILES: dict[str, Callable[[str], str]] = {
    "without the rule": lambda text: text,
    "with comments above": lambda text: f"# A drill.\n# Of levers.\n{text}",
    "with a rule before": lambda text: text.replace("title", f"{RULE}  # mine\ntitle", 1),
    "with a comment in its place": lambda text: text.replace("title", "# start_word\ntitle", 1),
    "with the rule in a text": lambda text: f'{text}[problems]\nx = """\nstart_word = 5\n"""\n',
    "with other ends of lines": lambda text: text.replace("\n", "\r\n"),
    "with a mark of the byte order": lambda text: f"\ufeff{text}",
}


@pytest.mark.parametrize("kind", FILES)
def test_a_word_is_set_and_the_rest_of_the_file_is_left(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "levers.toml"
    before = FILES[kind](drill_text()).encode()
    path.write_bytes(before)
    path.chmod(0o640)
    set_start_word(path, WORD)
    after = path.read_bytes()
    lines = after.decode("utf-8-sig").splitlines()
    (lock,) = [line for line in lines if line.startswith('start_word = "')]
    assert key_of(lock.split('"')[1], WORD)
    rule = ('start_word = "', "# start_word")
    rest = [line for line in before.decode("utf-8-sig").splitlines() if not line.startswith(rule)]
    assert [line for line in lines if line != lock] == rest
    assert after.startswith(b"\xef\xbb\xbf") == kind.endswith("byte order")
    assert after.count(b"\r\n") == (after.count(b"\n") if "other ends" in kind else 0)
    assert [one.name for one in tmp_path.iterdir()] == ["levers.toml"]
    if os.name != "nt":
        assert path.stat().st_mode & 0o777 == 0o640


def test_a_file_that_has_no_place_for_it_is_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "levers.toml"
    text = drill_text('start_word = """\nno lock"""')
    path.write_text(text, "utf-8")
    with pytest.raises(
        FileError, match='no place for it; expected this line in it: start_word = "'
    ):
        set_start_word(path, WORD)
    assert path.read_text("utf-8") == text
    with pytest.raises(FileError, match="No such file"):
        set_start_word(tmp_path / "gone.toml", WORD)


def test_the_command_asks_twice_and_tells_what_follows(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = drill_file(tmp_path)
    typed = iter(["short", "blue heron", "blue herring", "blue heron", "Blue  Heron"])
    monkeypatch.setattr("builtins.input", lambda _: next(typed))
    assert main(["drill", "start-word", str(path)]) == 0
    said = capsys.readouterr().out
    assert "It must have 8 to 100 letters." in said
    assert "The two did not match. Please type it again." in said
    assert "now has a start word.\nThe word itself is not stored anywhere: write it down.\n" in said
    assert key_of(read_drill(path, SHELF.problems).start_word, WORD)
    typed = iter(["grey wagtail"] * 2)
    assert main(["drill", "start-word", str(path)]) == 0
    assert "Sittings that were begun before this can't be resumed." in capsys.readouterr().out
    assert main(["vet", str(path)]) == 0


def test_where_the_input_ends_no_word_is_set(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = drill_file(tmp_path)
    before = path.read_bytes()

    def ends(prompt: str) -> str:
        raise EOFError(prompt)

    monkeypatch.setattr("builtins.input", ends)
    assert main(["drill", "start-word", str(path)]) == 2
    assert capsys.readouterr().err == "\nThe input has ended; nothing was written.\n"
    assert path.read_bytes() == before
    said: list[str] = []
    with pytest.raises(EOFError):
        start_word(said.append, ends)


# Sitting it.


def test_a_sitting_begins_with_its_word_and_goes_on_without(tmp_path: Path) -> None:
    drill = locked_drill()
    assert any("start word" in rule for rule in rules_in_words(drill, None, "x", "y"))
    with pytest.raises(Closed, match="needs its start word"):
        Sitting.start(drill, CATALOGUE, "s01", tmp_path)
    assert not list(tmp_path.rglob("*.jsonl"))
    sitting = Sitting.start(drill.with_key(KEY), CATALOGUE, "s01", tmp_path)
    bench = sitting.benches[0]
    bench.enter("W_s", right_entry(bench, bench.working.step("W_s")))
    sitting.pause()
    turn = admission(drill, "s01", tmp_path, datetime.now(UTC)).turn
    assert turn is not None
    assert turn.path == sitting.place
    again = Sitting.resume(sitting.place, drill, CATALOGUE)
    assert [task.question.givens_written for task in again.tasks] == numbers(drill.with_key(KEY))
    assert again.benches[0].working.stands("W_s")
    again.hand_in()
    data = again.place.read_bytes()
    marked = mark_record(drill, CATALOGUE, "", data)
    assert (marked.remarks, marked.start_key) == ((), KEY)
    assert marked.total > 0
    assert Sitting.reread(again.place, drill, CATALOGUE).benches[0].working.stands("W_s")
    other = locked_drill(f'start_word = "{lock_of("grey wagtail")}"')
    with pytest.raises(Closed, match="start word of the drill was set after"):
        Sitting.reread(again.place, other, CATALOGUE)


def made_with(key: str, drill: Drill) -> bytes:
    """Return a record as one makes it who chose the key."""
    chosen = drill.with_key(key)
    first = {**first_line(chosen, "s01"), **({"start_key": key} if key else {})}
    return chain([first, *timed([END])])


@pytest.mark.parametrize(
    ("key", "told"),
    [(KEY, ()), ("", (NO_START,)), ("0" * 64, (OTHER_START,)), ("0" * 63, (NO_START,))],
)
def test_a_record_with_numbers_that_were_known_before_is_remarked_on(
    key: str, told: tuple[str, ...]
) -> None:
    drill = locked_drill()
    data = made_with(key if len(key) != 63 else "", drill)
    if len(key) == 63:
        data = chain([{**first_line(drill, "s01"), "start_key": key}, *timed([END])])
    assert mark_record(drill, CATALOGUE, "", data).remarks == told
    taken = record(locked_drill(""), "s01", [END])
    plain = mark_record(locked_drill(""), CATALOGUE, "", taken)
    assert plain.remarks == ()


def test_a_class_with_a_word_is_marked_reported_and_looked_back_on(
    tmp_path: Path, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """All that shows numbers again takes those of the record, and needs no word."""
    path = drill_file(tmp_path, RULE)
    drill = read_drill(path, SHELF.problems).with_key(KEY)
    for student in ("s01", "s02"):
        sitting = Sitting.start(drill, CATALOGUE, student)
        for bench in sitting.benches:
            bench.enter("W_s" if bench is sitting.benches[0] else bench.working.steps[0].key, "1 N")
        sitting.hand_in()
    out = tmp_path / "out"
    records = home / "drills" / "levers"
    assert main(["drill", "mark", str(path), str(records), "--out", str(out), "--pages"]) == 0
    assert "2 students are marked" in capsys.readouterr().out
    statement = drill.tasks("s01")[0].question.statement
    (page,) = (out / "students").glob("s01-*.html")
    assert statement.split(".")[0] in page.read_text("utf-8").replace("\N{NO-BREAK SPACE}", " ")
    worked = sat(next(records.glob("s01-*.jsonl")), SHELF, CATALOGUE)
    assert [len(one.entries) for one in worked] == [1, 1]


def test_the_word_is_asked_for_at_the_door_line_by_line(tmp_path: Path) -> None:
    path = drill_file(tmp_path, RULE)
    first = Student(["s01", "", "grey wagtail", "", "blue heron", "1.00 N", "stop"])
    first.sits(path)
    asks = "The start word, or stop: "
    assert [line for line in first.said if line in (asks, NOT_THE_WORD)] == [
        asks, NOT_THE_WORD, asks, NOT_THE_WORD, asks,
    ]  # fmt: skip
    drill = read_drill(path, SHELF.problems)
    (place,) = unfinished(earlier(drill, "s01").records)
    assert fields_in(place)[0]["start_key"] == key_of(drill.start_word, WORD)
    again = Student(["", "hand in", "yes"])
    again.sits(path, "s01")
    assert asks not in again.said
    assert again.heard("Its code is ")
    leaves = Student(["", "stop"])
    leaves.sits(path, "s02")
    assert leaves.said[-2:] == [asks, LEFT]
    assert not earlier(drill, "s02").records


async def test_the_word_is_asked_for_at_the_door_of_the_full_screen(tmp_path: Path) -> None:
    path = drill_file(tmp_path, RULE)
    app = app_at(path, "s01")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        word = app.screen.query_one("#word", Input)
        assert app.focused is word
        assert "Enter begins" not in text_of(app.screen, "#whose")
        assert "The start word given out in the room" in all_text(pilot)
        await press(pilot, "enter")
        word.value = "grey wagtail"
        await press(pilot, "enter")
        assert NOT_THE_WORD in text_of(app.screen, "#whose")
        assert not list(tmp_path.rglob("*.jsonl"))
        word.value = "BLUE heron"
        await press(pilot, "enter")
        sitting = drill_screen(pilot).sitting
        drill = read_drill(path, SHELF.problems)
        assert [task.question.givens_written for task in sitting.tasks] == numbers(
            drill.with_key(KEY)
        )
    again = app_at(path, "s01")
    async with again.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert not again.screen.query_one("#start").display
        assert "Enter goes on." in text_of(again.screen, "#whose")
        await press(pilot, "enter")
        assert isinstance(again.screen, DrillScreen)


async def test_another_id_at_the_door_hides_the_word_until_it_is_known(tmp_path: Path) -> None:
    app = app_at(drill_file(tmp_path, RULE), "s01")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        student = app.screen.query_one("#student", Input)
        student.focus()
        student.value = "s02"
        await settle(pilot)
        assert not app.screen.query_one("#start").display
        await press(pilot, "enter")
        assert text_of(app.screen, "#whose").startswith("You are s02, Odo Example.")
        assert app.focused is app.screen.query_one("#word")
