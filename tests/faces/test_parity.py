"""What one face tells, the other tells too: the same sittings, on the screen and in plain lines."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.both_faces import STANDING, Heard, Step, in_lines, on_the_screen
from helpers.drills import Disk, drill_file, drill_text, drill_with, right_entry, wrong_entry
from helpers.line_students import LEFT, Student, works
from helpers.material import CATALOGUE, material
from helpers.pilots import press, settle
from helpers.screens import text_of, write_line
from helpers.words_alike import Word, said_after, tells_alike
from leverstep.bench.bench import Bench
from leverstep.course.shelf import load_shelf
from leverstep.course.symbols import read_out
from leverstep.dialogue import sitting_result
from leverstep.dialogue.sitting_result import marked_now, result_of
from leverstep.drill import banks, item_rules, line_weights
from leverstep.drill import drill_file as drill_file_module
from leverstep.drill.drill_file import drill_of
from leverstep.drill.sitting import Sitting
from leverstep.drill.start_word import NOT_THE_WORD
from leverstep.faces.lines.drill_line import DrillLines, read_account
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.drill_screen import DrillScreen
from leverstep.faces.screens.entrances import Entrance
from leverstep.faces.screens.handed import HandedScreen
from leverstep.questions.choice_question import QuestionSort
from leverstep.working.cautions import CAUTION_SAID
from leverstep.working.guidance import Guidance
from textual.containers import VerticalScroll
from textual.widgets import Input, Static

SHELF = load_shelf()
RULES = [
    "",
    'feedback = "at the end"',
    'guidance = "blank"',
    'guidance = "landmarks"\nattempts = 1',
    'hints = "none"',
]


def handed(rules: str, folder: Path) -> Sitting:
    """Return a sitting with right, wrong, unread and unwritten lines, handed in."""
    sitting = Sitting.start(drill_with(rules), CATALOGUE, "s01", folder)
    bench = sitting.benches[1]
    for key, text in {"W_f": "16.19 N", "W_l": "11.0 N", "M_sum": "0 N·m", "F_m": "x"}.items():
        if bench.working.guidance.free:
            bench.write(f"{key} = {text}")
        else:
            bench.enter(key, text)
    sitting.hand_in()
    return sitting


def joined(text: str) -> str:
    """Return a text without the way it was wrapped and indented."""
    return " ".join(text.split())


@pytest.mark.parametrize("rules", RULES)
async def test_both_faces_tell_what_came_of_a_sitting(rules: str, tmp_path: Path) -> None:
    sitting = handed(rules, tmp_path)
    told = result_of(sitting, marked_now(sitting))
    assert told.total
    said: list[str] = []
    read_account(sitting, said.append)
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        app.push_screen(HandedScreen(sitting, ""))
        await settle(pilot)
        shown = app.screen.query_one("#told", Static), app.screen.query_one("#lines", Static)
        assert app.screen.query_one(VerticalScroll)
        on_screen = joined(" ".join(str(part.content) for part in shown))
    in_lines = joined(" ".join(said))
    wanted = [told.handed_in, told.code, told.total]
    for task in told.tasks:
        wanted += [task.heading, *(one.told for one in task.lines if one.told)]
        wanted += [f"Not written: {task.unwritten}."] if task.unwritten else []
        wanted += task.after
    assert len(wanted) > 6
    for sentence in wanted:
        assert joined(sentence) in in_lines
        assert joined(sentence) in on_screen


def test_what_was_handed_in_is_told_though_the_marks_can_not_be_counted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> None:
        raise KeyError("step")

    monkeypatch.setattr(sitting_result, "mark_record", fails)
    sitting = handed("", tmp_path)
    said: list[str] = []
    read_account(sitting, said.append)
    assert said[0].startswith("Handed in: ")
    assert sitting.code in said[1]
    assert not any("Under the rules" in line for line in said)


HINT, SKIP, BACK = Step("hint", ("f2",)), Step("skip", ("f3",)), Step("back", ("shift+tab",))

MANY_AT_ONCE = """
units = "named"
conversions = "given"
calculator = false
reasons = "at once"
tolerance = 0.02
minutes = 45
clock = "wall"
sittings = 3
opens = 2020-01-01T00:00:00Z
closes = 2999-01-01T00:00:00Z

[late]
due = 2998-01-01T00:00:00Z
grace = 10
per_day = 0.1
floor = 0.5

[marking]
wrong_try = 0.1
hint = 0.05
follow_through = 0.5
counts = "last"

[constants]
g = 9.8
"""
"""Rules that change what is told of a line, of the time, or nothing at all."""

SAT_UNDER = [
    MANY_AT_ONCE,
    *RULES,
    "attempts = 2",
    'hints = "at a cost"',
    'hints = "at a cost"\nguidance = "blank"',
    'guidance = "landmarks"',
    'feedback = "at the end"\nattempts = 2\nguidance = "landmarks"',
    "minutes = 30",
]


def bench_of(rules: str, folder: Path) -> Bench:
    """Return a bench of the first task, to see what is right there."""
    return Sitting.start(drill_with(rules), CATALOGUE, "s01", folder / "seen").benches[0]


def entry(bench: Bench, key: str, text: str) -> Step:
    """Return an entry at a line, which names its line where any may be written."""
    is_named = bench.working.guidance.free and bench.working.step(key).kind.is_number
    return Step(f"{key} = {text}" if is_named else text)


def script(bench: Bench) -> list[Step]:
    """Return what a student does: wrong, unread, right and repeated lines, hints, ways about."""
    first, second = bench.working.steps[:2]
    wrong, right = wrong_entry(second), right_entry(bench, second)
    was, other = entry(bench, second.key, right), entry(bench, second.key, "5 N")
    is_page = bench.working.guidance is Guidance.BLANK
    changed = [replace(other, changes=was.typed)] if is_page else [BACK, other]
    return [
        Step("hello"),
        entry(bench, first.key, "54 N"),
        entry(bench, first.key, "54 N"),
        *([HINT] * 4 if bench.working.rules.hints else []),
        SKIP,
        entry(bench, second.key, wrong),
        was,
        *changed,
    ]


def alike(lines: Heard, screen: Heard, step: Step) -> None:
    """Hold what was told in plain lines against what the screen shows."""
    told = [one for one in lines.told if "nothing is written there yet" not in one]
    if step.typed.startswith("back") and told:
        said, margins = told[0].partition(". ")[2] or told[0], screen.margins.values()
        mark = next((one for one in STANDING if said.startswith(one)), "")
        assert not mark or STANDING[mark] in margins
        told = [part for part in (said.removeprefix(mark).strip(), *told[1:]) if part]
    assert told == screen.told, step
    assert lines.prompt.lower() == screen.prompt.lower(), step


@pytest.mark.parametrize("rules", SAT_UNDER)
async def test_both_faces_answer_a_whole_script_alike(rules: str, tmp_path: Path) -> None:
    steps = script(bench_of(rules, tmp_path))
    lines, screen = await both(rules, tmp_path, steps)
    assert len(lines) == len(screen) == len(steps) + 1
    for step, heard, seen in zip(steps, lines[1:], screen[1:], strict=True):
        alike(heard, seen, step)
    assert sum(bool(one.told) for one in lines) > 6


@pytest.mark.parametrize("rules", ["", 'feedback = "at the end"', "attempts = 2"])
async def test_both_faces_tell_alike_what_is_another_line(rules: str, tmp_path: Path) -> None:
    bench = bench_of(rules, tmp_path)
    first, second, third = bench.working.steps[:3]
    right = right_entry(bench, second)
    steps = [
        Step(f"{second.key} = {right}"),
        Step(f"{second.key} = {right}"),
        Step(f"{third.key} = {wrong_entry(third)}"),
        *([HINT] if bench.working.rules.hints else []),
        Step(f"{third.key} = {third.key}"),
        Step(right_entry(bench, first)),
    ]
    lines, screen = await both(rules, tmp_path, steps)
    for step, heard, seen in zip(steps, lines[1:], screen[1:], strict=True):
        hints = [one for one in seen.told if one.startswith("Hint") and step is steps[-1]]
        alike(replace(heard, told=[*heard.told, *hints]), seen, step)  # those given come back there
    assert all("W_s is still asked for." in heard.told[0] for heard in lines[1:4])
    assert {heard.prompt for heard in lines[1:-1]} == {first.key}
    is_done = "end" in rules  # where verdicts wait, what is written needs no more
    assert lines[-1].prompt == bench.working.steps[3 if is_done else 2].key


async def both(rules: str, folder: Path, steps: list[Step]) -> tuple[list[Heard], list[Heard]]:
    """Return what plain lines and the screen tell after each step, and before the first."""
    drill = drill_with(rules)
    lines = in_lines(drill, folder / "lines", steps)
    return lines, await on_the_screen(drill, folder / "screen", steps)


async def test_both_faces_tell_alike_which_lines_changed(tmp_path: Path) -> None:
    bench = bench_of("", tmp_path)
    keys = [step.key for step in bench.working.steps]
    between = keys[1 : keys.index("M_s")]
    moment = f"-{600 * bench.question.right['d_s']:.5g} N·m"
    right = {step.key: Step(right_entry(bench, step)) for step in bench.working.steps}
    back = Step("back W_s", ("shift+tab",) * (len(between) + 2))
    steps = [Step("600 N"), SKIP, *(right[key] for key in between), Step(moment), back]
    lines, screen = await both("", tmp_path, [*steps, right["W_s"]])
    for step, heard, seen in zip([*steps, right["W_s"]], lines[1:], screen[1:], strict=True):
        alike(heard, seen, step)
    changed = "Lines that use W_s were checked again: M_s is not right any more."
    assert lines[-1].told[-1] == screen[-1].told[-1] == changed


@pytest.mark.parametrize("rules", ["", 'feedback = "at the end"', 'guidance = "landmarks"'])
async def test_both_faces_tell_alike_how_a_task_ended(rules: str, tmp_path: Path) -> None:
    bench = bench_of(rules, tmp_path)
    steps = [entry(bench, one.key, right_entry(bench, one)) for one in bench.working.asked]
    lines, screen = await both(rules, tmp_path, steps)
    assert screen[-1].asks
    assert lines[-1].prompt == screen[-1].prompt == "Task 1"
    assert lines[-1].asks == f"Task 1: {screen[-1].asks} Type next, back, or hand in."


async def test_both_faces_tell_alike_what_is_not_on_the_disk(tmp_path: Path, disk: Disk) -> None:
    folders = [tmp_path / "lines", tmp_path / "screen"]

    def breaks() -> None:
        disk.broken[:] = folders

    steps = [
        Step("54 N"),
        Step("529 N", before=breaks),
        Step("", ("enter",), before=disk.broken.clear),
    ]
    lines, screen = await both("", tmp_path, steps)
    told, *stays = screen[2].told
    waits = "Your entry is judged as soon as it is."
    assert told == f"Not saved: the record: the disk is full. {waits}"
    assert stays == ["Until then W_s stays as it was."]
    assert lines[2].told == [f"{told} {stays[0]}"]
    assert lines[3].told == screen[3].told
    assert lines[3].told[0].startswith(("Right", "Not yet"))


WINDOWS = {
    "missing": ("f8", 'guidance = "blank"'),
    "rules": ("f1", 'hints = "at a cost"\nattempts = 2\nminutes = 30'),
    "hand in": ("f10", ""),
}
"""What is said at a word, and shown in a window over the tasks; and the rules of a drill for it."""

OWN_WAYS = ("To hand in, ", "To leave, ", "Every line is saved before it is judged")
"""How sentences begin that name keys and words, or where a record lies."""


@pytest.mark.parametrize("word", WINDOWS)
async def test_what_is_asked_about_is_told_alike(word: str, tmp_path: Path) -> None:
    key, rules = WINDOWS[word]
    heard = in_lines(drill_with(rules), tmp_path / "lines", [Step(word)])[1]
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        sitting = Sitting.start(drill_with(rules), CATALOGUE, "s01", tmp_path / "screen")
        app.push_screen(DrillScreen(sitting, Path("levers.toml"), app.visit))
        await settle(pilot)
        await press(pilot, key)
        shown = joined(" ".join(str(part.content) for part in app.screen.query(Static)))
    told = [one for one in heard.told if not one.startswith(OWN_WAYS)]
    assert len(told) >= (1 if word == "hand in" else 6)
    for sentence in told:
        assert sentence.removesuffix(".").removesuffix(":") in shown


@pytest.mark.parametrize(
    ("rules", "student"), [("", "s01"), ("", "s02"), ("", "s09"), ("sittings = 1", "s01")]
)
async def test_both_faces_tell_alike_who_is_at_the_door(
    rules: str, student: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    path = drill_file(tmp_path, rules)
    Sitting.start(drill_with(), CATALOGUE, "s01", tmp_path / "records").hand_in()
    heard = Student([student, "stop"])
    heard.sits(path, folder=tmp_path / "records")
    *told, _, left = heard.said
    assert left == LEFT
    told = told[told.index(CAUTION_SAID) + 1 :] if CAUTION_SAID in told else told[2:]
    app = LeverstepApp(material(SHELF), Entrance(path, student, tmp_path / "records"))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        shown = text_of(app.screen, "#whose")
    assert re.sub(r" (Enter begins|F4 shows|Not you\?).*", "", shown) == " ".join(told)


RULES_BESIDE = "predict = true\nsense = true\nsure = true"


async def test_both_faces_ask_alike_beside_the_lines_and_tell_alike(tmp_path: Path) -> None:
    rules = RULES_BESIDE
    bench = bench_of(rules, tmp_path)
    typed: list[str] = ["2", "skip", "1", "2", "1"]
    for step in bench.working.asked:
        typed += [right_entry(bench, step), "3"]
    typed += ["1", "2"]
    waiting, said = iter(typed), list[str]()

    def listen(prompt: str) -> str:
        said.append(prompt)
        for text in waiting:
            return text
        raise EOFError

    sitting = Sitting.start(drill_with(rules), CATALOGUE, "s01", tmp_path / "lines")
    DrillLines(sitting, said.append, listen, Path("levers.toml"), lambda _: None).run()
    heard = joined(" ".join(said))
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        seen = Sitting.start(drill_with(rules), CATALOGUE, "s01", tmp_path / "screen")
        screen = DrillScreen(seen, Path("levers.toml"), app.visit)
        app.push_screen(screen)
        await settle(pilot)
        asked = 0
        for text in typed:
            question = screen.question
            if question is None:
                await write_line(screen, text)
                await settle(pilot)
                continue
            if question.sort is not QuestionSort.SURE:
                asked += 1
                assert f"{read_out(question.asks)} " in heard
                assert all(read_out(f" {one.text}. ") in heard for one in question.answers)
            await press(pilot, "f3" if text == "skip" else text)
            latest = screen.dialogue.latest if screen.dialogue else None
            assert latest is not None
            assert read_out(joined(latest.told)) in heard
        seen.pause()
    assert asked == 7
    assert seen.benches[0].answers == sitting.benches[0].answers
    assert seen.benches[0].sureness == sitting.benches[0].sureness
    assert len(sitting.benches[0].sureness) == len(bench.working.asked)


async def test_both_faces_take_how_sure_one_is_with_a_line_of_a_blank_sheet(tmp_path: Path) -> None:
    drill = drill_with('sure = true\nguidance = "blank"')
    right = drill.tasks("s01")[0].question.right["W_s"]
    typed = ["W_s = 54 N #3", f"W_s = {right:.5g} N #2", "W_b = 21 N"]
    waiting, said = iter(typed), list[str]()

    def listen(prompt: str) -> str:
        said.append(prompt)
        for text in waiting:
            return text
        raise EOFError

    sitting = Sitting.start(drill, CATALOGUE, "s01", tmp_path / "lines")
    DrillLines(sitting, said.append, listen, Path("levers.toml"), lambda _: None).run()
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        seen = Sitting.start(drill, CATALOGUE, "s01", tmp_path / "screen")
        screen = DrillScreen(seen, Path("levers.toml"), app.visit)
        app.push_screen(screen)
        await settle(pilot)
        for text in typed:
            await write_line(screen, text)
            await settle(pilot)
        seen.pause()
    heard, shown = sitting.benches[0], seen.benches[0]
    assert [one.sure for one in heard.sureness] == [3, 2]
    assert shown.sureness == heard.sureness
    assert [line.text for line in shown.working.lines.values()] == [
        line.text for line in heard.working.lines.values()
    ]


EXAMPLE = """
id = "examples"
title = "Examples"

[[item]]
problem = "plain-wheelbarrow"
guidance = "fading"
open = {opened}

[[item]]
problem = "plain-seesaw"
"""


@pytest.mark.parametrize("opened", [1, 0])
async def test_both_faces_read_an_example_alike_and_keep_the_same(
    opened: int, tmp_path: Path
) -> None:
    drill = drill_of(EXAMPLE.format(opened=opened), SHELF.problems, "examples.toml")
    said = list[str]()

    def listen(prompt: str) -> str:
        said.append(prompt)
        if prompt == "Enter goes on: ":
            return ""
        if prompt == "1 to 3: ":
            return "2"
        raise EOFError

    sitting = Sitting.start(drill, CATALOGUE, "s01", tmp_path / "lines")
    DrillLines(sitting, said.append, listen, Path("examples.toml"), lambda _: None).run()
    heard = joined(" ".join(said))
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        seen = Sitting.start(drill, CATALOGUE, "s01", tmp_path / "screen")
        screen = DrillScreen(seen, Path("examples.toml"), app.visit)
        app.push_screen(screen)
        await settle(pilot)
        assert read_out(text_of(screen, "#told")) in heard
        while (question := screen.question) is not None:
            assert f"{read_out(question.asks)} " in heard
            await press(pilot, "enter" if question.is_read else "2")
            latest = screen.dialogue.latest if screen.dialogue else None
            assert latest is not None
            assert read_out(joined(latest.told)) in heard
        seen.pause()
    shown, _ = seen.benches
    lines = len(shown.working.steps)
    assert len(shown.answers) == lines - opened
    assert shown.answers == sitting.benches[0].answers
    assert shown.working.asked == shown.working.steps[lines - opened :]


OF_DRAWING = 'picture = "asked"'

PICTURE_STEPS = (
    ("1 at 1, up", ("1", "1", "1")),
    ("hint", ("f2",)),
    ("done", ("f4",)),
    ("take away 1", ("home", "delete")),
    ("2 at 2, down", ("2", "2", "2")),
    ("hint", ("f2",)),
    ("skip", ("f3",)),
    ("skip", ("f3",)),
)
"""What is done at a free-body diagram: the words, and the keys for the same."""


@pytest.mark.parametrize("rules", ["", 'feedback = "at the end"', 'reasons = "at once"'])
async def test_both_faces_tell_the_same_of_a_diagram(rules: str, tmp_path: Path) -> None:
    drill = drill_with(f"{OF_DRAWING}\n{rules}")
    steps = [one for one in PICTURE_STEPS if "end" not in rules or one[0] != "hint"]
    sittings = [Sitting.start(drill, CATALOGUE, "s01", tmp_path / face) for face in "ab"]
    student = works(sittings[0], [words for words, _ in steps])
    in_lines = joined(" ".join(student.said))
    app = LeverstepApp(material(SHELF))
    told: list[str] = []
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        app.push_screen(DrillScreen(sittings[1], tmp_path / "levers.toml", app.visit))
        await settle(pilot)
        dialogue = app.screen_stack[-2].sitting_dialogue.working
        for _, keys in steps:
            await press(pilot, *keys)
            latest = dialogue.latest
            told += [part for part in (latest.told, latest.hint and latest.hint.text) if part]
    assert len(told) == len(steps)
    for one in told:
        assert read_out(joined(one)) in in_lines
    first, second = (one.benches[0].picture_work.pictures[0] for one in sittings)
    assert first.placed == second.placed
    assert (first.wrong, first.is_done) == (second.wrong, second.is_done)


FORMS = """
id = "forms"
title = "Forms"

[[item]]
problem = "plain-wheelbarrow"
count = 2
numbers = "fixed"
weights = { class = 0.5 }

[[item]]
problem = "plain-seesaw"
pair = "plain-crowbar"
withdrawn = "full marks"

[[item]]
problem = "elbow-full-pail"
form = "find the slip"
slips = 2
"""


def task_told(said: Sequence[str]) -> Iterable[str]:
    """Return the title and the statement of a task."""
    return [said[0].partition(" (")[0], said[1]]


AT_FORMS = (
    Word("problem", (), task_told),
    Word("next", ("f9",), task_told),
    Word("next", ("f9",), task_told),
    Word("next", ("f9",), task_told),
    Word("1", ("1",), lambda said: said[:1]),
)


async def test_both_faces_tell_alike_what_each_form_of_a_task_asks(tmp_path: Path) -> None:
    drill = drill_of(FORMS, SHELF.problems, "forms.toml")
    path, sittings = tmp_path / "forms.toml", []
    for face in ("lines", "screen"):
        sittings.append(Sitting.start(drill, CATALOGUE, "s01", tmp_path / face))
    said = said_after(
        AT_FORMS,
        lambda say, listen: DrillLines(sittings[0], say, listen, path, lambda _: None).run(),
    )
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        app.push_screen(DrillScreen(sittings[1], path, app.visit))
        await settle(pilot)
        await tells_alike(pilot, AT_FORMS, said)
        sittings[1].pause()


BY_A_WORD = 'start_word = "a406866605341713:f676b87a7e2daea8ad2bf332298feff7"'


async def test_both_faces_refuse_a_wrong_start_word_alike(tmp_path: Path) -> None:
    path = drill_file(tmp_path, BY_A_WORD)
    heard = Student(["", "grey wagtail", "stop"])
    heard.sits(path, "s01", folder=tmp_path / "records")
    app = LeverstepApp(material(SHELF), Entrance(path, "s01", tmp_path / "records"))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        await press(pilot, "enter")
        app.screen.query_one("#word", Input).value = "grey wagtail"
        await press(pilot, "enter")
        assert NOT_THE_WORD in text_of(app.screen, "#whose")
    assert NOT_THE_WORD in heard.said


NO_SCRIPT = {
    "own_numbers": "a task is as any other, whose numbers come from a file beside the drill",
    "pins": "tests of PINs hold both faces on their own",
    "seal": "it is a matter of the record alone",
    "problems": "a problem within the file is as any other",
}
"""Rules that no script is sat under, and why."""


def keys_asked() -> set[str]:
    """Return the names of all that a drill file may say, by what reads it."""
    asks = {
        "text", "choice", "flag", "child", "children", "moment_in", "whole_in", "number_in",
        "_made",
    }  # fmt: skip
    readers = (drill_file_module, item_rules, banks, line_weights)
    trees = [ast.parse(Path(one.__file__).read_text("utf-8")) for one in readers]
    calls = [node for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Call)]
    named = [
        next((one.value for one in call.args if isinstance(one, ast.Constant)), None)
        for call in calls
        if getattr(call.func, "attr", getattr(call.func, "id", "")) in asks
    ]
    return {name for name in named if isinstance(name, str) and name}


def keys_in(table: Mapping[str, object]) -> set[str]:
    """Return the keys of a table of a file and of those within it."""
    found = set(table)
    for value in table.values():
        for one in value if isinstance(value, list) else [value]:
            found |= keys_in(one) if isinstance(one, dict) else set()
    return found


def test_every_rule_of_a_drill_but_those_named_has_a_script() -> None:
    rules = (*SAT_UNDER, RULES_BESIDE, OF_DRAWING, BY_A_WORD, 'roster = "roster.csv"')
    texts = [drill_text(one) for one in rules]
    taken = {
        key
        for text in (*texts, EXAMPLE.format(opened=0), FORMS)
        for key in keys_in(tomllib.loads(text))
    }
    asked = keys_asked()
    assert {"guidance", "late", "per_day", "tolerance", "open"} <= asked
    assert asked - taken == set(NO_SCRIPT)
