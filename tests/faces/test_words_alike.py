"""Each word of the plain lines has its keys on the screen, and both tell the same."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.drills import SHELF, drill_file, drill_with
from helpers.material import CATALOGUE, material
from helpers.pilots import settle
from helpers.screens import app_with, work_screen
from helpers.step_lines import right_line
from helpers.words_alike import Facts, Word, said_after, tells_alike
from leverstep.bench.bench import Bench
from leverstep.bench.practice import Practice
from leverstep.board.board import Board
from leverstep.course.course_plan import Week
from leverstep.course.shelf import Shelf
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import read_drill
from leverstep.drill.sitting import Sitting
from leverstep.explore.exploration import Exploration
from leverstep.faces.lines.board_line import BoardLines
from leverstep.faces.lines.drill_door import sit
from leverstep.faces.lines.drill_line import DrillLines
from leverstep.faces.lines.end_lines import work_on
from leverstep.faces.lines.explore_line import ExploreLines
from leverstep.faces.lines.home_line import HomeLines
from leverstep.faces.lines.practice_line import PracticeLine
from leverstep.faces.lines.tour_line import TourLines
from leverstep.faces.lines.verbs import VERBS, Place, understood, verbs_at
from leverstep.faces.lines.watch_line import WatchLines
from leverstep.faces.openings import Opening
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.board_screen import BoardScreen
from leverstep.faces.screens.drill_screen import DrillScreen
from leverstep.faces.screens.entrances import Entrance, Exploring, Touring
from leverstep.faces.screens.watch_screen import WatchScreen
from leverstep.slips.habits import Habits
from leverstep.watching.class_watch import ClassWatch


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was practised before."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))


def first(said: Sequence[str]) -> Iterable[str]:
    return said[:1]


def but_last(said: Sequence[str]) -> Iterable[str]:
    return said[:-1]


def parts(said: Sequence[str]) -> Iterable[str]:
    """Return the sentences and the items of a list that are said."""
    return [part for line in said for part in line.removesuffix(".").split(", ")]


def seen_home(_: Sequence[str]) -> Iterable[str]:
    """Return what stands above the problems, where a place is left."""
    return ["Start here"]


def titles(said: Sequence[str]) -> Iterable[str]:
    """Return the titles of the first problems that are read out."""
    read = [line.partition(": ")[2] for line in said if line[:1].isdigit()]
    return [one.partition(", level")[0] for one in read[:5]]


def begun(said: Sequence[str]) -> Iterable[str]:
    """Return the titles of the workings that can be gone on with."""
    return [line.partition(": ")[2].partition(",")[0] for line in said if line[:1].isdigit()]


def taken_off(said: Sequence[str]) -> Iterable[str]:
    """Return what stands in the place of a working that is off the list."""
    return ["More are kept"] if "off the list" in said[0] else []


def listed(said: Sequence[str]) -> Iterable[str]:
    """Return what is named behind a colon, up to the end of the sentence."""
    return said[0].partition(": ")[2].partition(". ")[0].split(", ")


def sentences(said: Sequence[str]) -> Iterable[str]:
    return [part for line in said for part in line.split(". ")]


def values(said: Sequence[str]) -> Iterable[str]:
    """Return what is said behind a number and a colon."""
    return [line.partition(": ")[2] for line in said]


def to_mend(said: Sequence[str]) -> Iterable[str]:
    """Return what is said of a working to be mended."""
    return re.findall("Somebody else[^.]*", " ".join(said))


def stated(said: Sequence[str]) -> Iterable[str]:
    """Return the title and the statement of a task, and what is assumed."""
    assumed = [line.partition(": ")[2] for line in said if line.startswith("Assumption: ")]
    return [said[0].partition(" (")[0], said[1], *assumed]


def typed(text: str) -> tuple[str, ...]:
    """Return the keys that type a text and enter it."""
    names = {" ": "space", ".": "full_stop", "=": "equals_sign", "_": "underscore", "*": "*"}
    return (*(names.get(one, one) for one in text), "enter")


AT_TASKS = (
    Word("54 N", typed("54 N")),
    Word("", ("enter",), lambda _: ["W_s ="]),
    Word("hint", ("f2",)),
    Word("hints", (), lambda said: [said[0].partition(": ")[2]]),
    Word("earlier", ("up",), values, ("down",)),
    Word("lines", (), lambda said: [said[0].partition(". ")[0], said[0].partition(". ")[2]]),
    Word("problem", (), stated),
    Word("givens"),
    Word("time", (), parts),
    Word("term", ("ctrl+l",), lambda said: [said[0], *said[2:5]]),
    Word(
        "terms",
        (),
        lambda said: parts([said[0].partition(": ")[2].partition(". ")[0]]),
        ("escape",),
    ),
    Word("work out 2*3", ("ctrl+u", "ctrl+r", *typed("2*3"))),
    Word("use result", ("f2", "enter")),
    Word("skip", ("f3",), first),
    Word("back", ("shift+tab",), lambda said: [said[0].partition(". ")[0]]),
    Word("go on", ("f3",), first),
    Word("next", ("f9",), stated),
    Word("previous", ("f7",), stated),
    Word("task 2", ("f9",), stated),
    Word("rules", ("f1",), lambda said: said[1:3], ("escape",)),
    Word("help", ("f1",), lambda said: said[:1], ("escape",)),
    Word("stop", ("escape",), first),
)


AT_HANDING_IN = (
    Word("hand in", ("f10",), first),
    Word("yes", ("enter",), lambda said: [line for line in said if "marks" in line][:1]),
)

AT_LANDMARKS = (
    Word("missing", ("f8",), parts, ("escape",)),
    Word("F_h = 300 N", typed("F_h = 300 N")),
)


async def tell_alike_in_sitting(drill: Drill, words: Sequence[Word], folder: Path) -> None:
    """Say each word in a sitting in plain lines, press its keys in one on the screen, and compare.

    Both are kept in the folder.
    """
    sitting = Sitting.start(drill, CATALOGUE, "s01", folder / "lines")
    said = said_after(
        words,
        lambda say, listen: DrillLines(sitting, say, listen, Path("d.toml"), lambda _: None).run(),
    )
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        seen = Sitting.start(drill, CATALOGUE, "s01", folder / "screen")
        app.push_screen(DrillScreen(seen, Path("d.toml"), app.visit))
        await settle(pilot)
        await tells_alike(pilot, words, said)
        if not seen.ended:
            seen.pause()


@pytest.mark.parametrize(
    ("rules", "words"),
    [
        ("minutes = 30", AT_TASKS),
        ('guidance = "landmarks"', AT_LANDMARKS),
        ('feedback = "at the end"', AT_HANDING_IN),
    ],
)
async def test_both_faces_tell_alike_at_each_word_of_a_sitting(
    rules: str, words: Sequence[Word], tmp_path: Path
) -> None:
    await tell_alike_in_sitting(drill_with(rules), words, tmp_path)


AT_OTHER_FOLDER = (
    Word("54 N", typed("54 N")),
    Word(
        "folder one",
        ("ctrl+o", "ctrl+u", *typed("two")),
        lambda said: re.findall("The record is now at", said[0]),
    ),
)


async def test_both_faces_tell_alike_that_a_sitting_goes_on_elsewhere(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
    await tell_alike_in_sitting(drill_with(), AT_OTHER_FOLDER, tmp_path)


AT_PICTURE = (
    Word("forces", (), values),
    Word("points", (), lambda said: values([line for line in said if ": " in line])),
    Word("directions", ("1", "1"), lambda said: re.findall("up|down|left|right", said[0])),
    Word("1 at 1, up", ("1",)),
    Word("drawn", (), lambda said: [said[0].partition(":")[0]]),
    Word("hint", ("f2",), values),
    Word("hints", (), values),
    Word("done", ("f4",)),
    Word("take away 1", ("home", "delete")),
    Word("", (), lambda said: re.findall("what acts on", " ".join(said))),
    Word("help", ("f1",), lambda _: ["skip"], ("escape",)),
    Word("skip", ("f3",), first),
)
STOPPED_AT_PICTURE = (
    Word("stop", ("escape",), lambda said: re.findall("You have left Levers", " ".join(said))),
)


@pytest.mark.parametrize("words", [AT_PICTURE, STOPPED_AT_PICTURE])
async def test_both_faces_tell_alike_at_each_word_of_a_diagram(
    words: Sequence[Word], tmp_path: Path
) -> None:
    await tell_alike_in_sitting(drill_with('picture = "asked"'), words, tmp_path)


def switched(number: int) -> Facts:
    """Return what a question that is switched on stands as in its window."""
    return lambda said: [f"{number} on"] if "you are asked" in said[0] else []


AT_PRACTICE = (
    Word("reasons", ("f9",)),
    Word("conversions", ("ctrl+y",)),
    Word("units", ("ctrl+t",)),
    Word("sense", ("f12", "2"), switched(2)),
    Word("sure", ("3",), switched(3)),
    Word("predict", ("1",), switched(1), ("escape",)),
    Word("picture", ("ctrl+b",), lambda said: [said[-1].partition(":")[0]]),
)


async def test_both_faces_tell_alike_what_is_switched_in_practice(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    problem = SHELF.problems["plain-wheelbarrow"]
    practice = Practice.start(problem, "1", CATALOGUE)
    said = said_after(
        AT_PRACTICE,
        lambda say, listen: PracticeLine(PracticeDialogue(practice), say, listen).run(),
    )
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "other"))  # what is switched is kept
    app = LeverstepApp(material(SHELF), Opening(problem, "1"))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        await tells_alike(pilot, AT_PRACTICE, said)


def sizes(said: Sequence[str]) -> Iterable[str]:
    """Return the numbers with their units that are said first on each line."""
    found = (re.search(r"[0-9.]+ (?:N|cm|kg|lb)\b", line) for line in said)
    return [one.group() for one in found if one is not None]


def present(said: Sequence[str]) -> Iterable[str]:
    """Return the results at the present value of the given on the axis."""
    return next(line for line in said if "the present value" in line).partition(": ")[2].split(", ")


def drawn(said: Sequence[str]) -> Iterable[str]:
    """Return the distances that a picture is told with, as they are drawn."""
    found = re.findall(r"acts at (\w+), ([0-9.]+ cm) from", " ".join(said))
    return [f"{sign} {value}" for sign, value in found]


AT_EXPLORING = (
    Word("", (), sizes),
    Word("givens", (), sizes),
    Word("d_l = 45 cm", ("shift+right",), sizes),
    Word("over d_l", ("f4",), present, ("f4",)),
    Word("own", ("f7",), sizes),
    Word("ask", ("f2",), lambda said: re.findall("What happens to .*", said[0])),
    Word("1", ("1",), lambda said: [said[0].partition(". ")[0]]),
    Word("problem", (), drawn),
    Word("help", ("f1",), lambda _: ["question"], ("escape",)),
    Word("stop", ("escape",), seen_home),
)


async def test_both_faces_tell_alike_what_follows_from_a_given() -> None:
    problem = SHELF.problems["elbow-full-pail"]
    exploration = Exploration(problem.question("7"))
    said = said_after(
        AT_EXPLORING, lambda say, listen: ExploreLines(exploration, say, listen).run(False)
    )
    app = LeverstepApp(material(SHELF), Exploring(problem.title, lambda: problem.question("7"), ""))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        await tells_alike(pilot, AT_EXPLORING, said)


AT_BOARD = (
    Word("", ("right",), first),
    Word("again", (), first),
    Word("lines", (), first),
    Word("W_f = 5 N", ("f2", *typed("W_f = 5 N")), first, ("escape",)),
    Word("change m_l = 20 lb", ("f3", *typed("m_l = 20 lb")), lambda _: ["20.0 lb"]),
    Word("problem", ("f5",), first, ("f5",)),
    Word("back", ("left",), lambda _: ["Weight of the forearm and hand"]),
    Word("help", ("f1",), lambda _: ["the next line"], ("escape",)),
    Word("stop", ("escape",), seen_home),
)


async def test_both_faces_tell_alike_what_stands_on_the_board() -> None:
    question = SHELF.problems["elbow-full-pail"].question("7")
    board = Board(question, CATALOGUE)
    said = said_after(AT_BOARD, lambda say, listen: BoardLines(board, say, listen).run())
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        app.push_screen(BoardScreen(question, app.visit))
        await settle(pilot)
        await tells_alike(pilot, AT_BOARD, said)


AT_TOUR = (
    Word("451.3*0.49", typed("451.3*0.49"), sentences),
    Word("hint", ("f2",), values),
    Word("again", (), sentences),
    Word("problem", (), first),
    Word("", (), first),
    Word("help", ("f1",), lambda _: ["leave the tour"], ("escape",)),
    Word("go on", ("enter", "enter"), lambda said: sentences(said[1:2])),
    Word("skip", ("escape",), seen_home),
)
STOPPED_AT_TOUR = (Word("stop", ("escape",), seen_home),)


@pytest.mark.parametrize("words", [AT_TOUR, STOPPED_AT_TOUR])
async def test_both_faces_tell_alike_what_the_tour_says(words: Sequence[Word]) -> None:
    said = said_after(words, lambda say, listen: TourLines(material(SHELF), say, listen).run())
    app = LeverstepApp(material(SHELF), Touring())
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        await tells_alike(pilot, words, said)


def work_to_the_end(bench: Bench, *, with_slip: bool) -> None:
    """Enter every line rightly, on the way perhaps a mass where its weight is asked for."""
    if with_slip:
        bench.enter("W_f", f"{bench.question.right['W_f'] / 9.81:.4g} N")
    for step in bench.working.steps:
        bench.enter(step.key, right_line(bench.question, step))


PAGE = "leverstep-plain-wheelbarrow-1"

AT_END = (
    Word("summary", ("f10",), first),
    Word("lines", (), lambda said: [line.partition(" = ")[0] for line in said[:3]], ("escape",)),
    Word("page", ("ctrl+s", "enter"), lambda _: ["Your page is at", PAGE], ("escape",)),
    Word("help", ("f1",), lambda _: ["another kind of problem"], ("escape",)),
    Word("mend", ("ctrl+f",), to_mend),
)
TWO_AT_END = (AT_END[0], Word("mend two", ("ctrl+e",), to_mend))
AGAIN_AT_END = (Word("again", ("f7",), first),)
NEXT_AT_END = (Word("next", ("ctrl+n",), lambda said: [said[0].partition(" (")[0]]),)
STOPPED_AT_END = (
    Word("", (), lambda said: re.findall("next|page", said[0])),
    Word("stop", ("escape",), lambda _: ["Type to search"]),
)
SLIP_AT_END = (Word("slip", ("ctrl+o",), lambda said: [said[0].partition(" (")[0]]),)


@pytest.mark.parametrize(
    "words", [AT_END, TWO_AT_END, AGAIN_AT_END, NEXT_AT_END, STOPPED_AT_END, SLIP_AT_END]
)
async def test_both_faces_tell_alike_at_the_end_of_a_practice(
    words: Sequence[Word], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    problem = "elbow-full-pail" if words is SLIP_AT_END else "plain-wheelbarrow"
    practice = Practice.start(SHELF.problems[problem], "1", CATALOGUE)
    work_to_the_end(practice, with_slip=words is SLIP_AT_END)
    said = said_after(
        words,
        lambda say, listen: work_on(practice, material(SHELF), Habits(), say, listen),
    )
    app = app_with(SHELF, problem, "1")
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        assert screen.bench is not None
        work_to_the_end(screen.bench, with_slip=words is SLIP_AT_END)
        screen.paint()
        await settle(pilot)
        await tells_alike(pilot, words, said)


AT_DOOR = (
    Word("rules", (), lambda said: said[:3]),
    Word("result", ("f4",), lambda said: said[1:3], ("escape",)),
    Word("stop", (), seen_home),
)


AT_OPEN_DOOR = (Word("", ("enter",), stated),)


@pytest.mark.parametrize("words", [AT_DOOR, AT_OPEN_DOOR])
async def test_both_faces_tell_alike_at_the_door(words: Sequence[Word], tmp_path: Path) -> None:
    path = drill_file(tmp_path)
    if words is AT_DOOR:
        Sitting.start(drill_with(), CATALOGUE, "s01", tmp_path / "records").hand_in()
    drill, folder = read_drill(path, SHELF.problems), tmp_path / "records"
    said = said_after(
        words,
        lambda say, listen: sit(
            drill, CATALOGUE, (path, "s01", folder), say, listen, lambda _: None
        ),
    )
    app = LeverstepApp(material(SHELF), Entrance(path, "s01", folder))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        await tells_alike(pilot, words, said)


AT_HOME = (
    Word("joints", (), lambda said: re.findall("ankle|elbow|whole body", said[0])),
    Word("all", (), titles),
    Word("elbow", (), titles),
    Word("find pail", (*"pail",), titles, ("escape",)),
    Word("guidance landmarks", ("f5",), lambda said: re.findall("landmarks", said[0])),
    Word("progress", ("f10",), lambda said: said[:1], ("escape",)),
    Word("help", ("f1",), lambda _: ["open"], ("escape",)),
    Word("tour", ("ctrl+d",), lambda said: re.findall("Step 1 of 6", " ".join(said))),
    Word("skip", ("escape",), seen_home),
    Word("mend two 1", ("ctrl+e",), to_mend),
)
ONE_AT_HOME = (
    Word("all", (), titles),
    Word("about 1", (), first),
    Word("mend 1", ("ctrl+f",), to_mend),
)
STARTED_AT_HOME = (Word("start", ("enter",), first),)


def in_set(said: Sequence[str]) -> Iterable[str]:
    """Return which problem of a set it is, and which problem that is."""
    return [*re.findall(r"Problem \d of \d", said[0]), said[1]]


MIXED_AT_HOME = (Word("mixed", ("ctrl+n",), in_set),)
IN_SET = (Word("next problem", ("ctrl+n",), lambda said: in_set(said[1:])),)
CHOSEN_AT_HOME = (
    Word("find kettle", (*"kettle",), titles),
    Word("numbers x7", ("tab", "x", "7"), lambda said: re.findall("x7", said[0])),
    Word("own L = 30 cm", ("tab", *typed("L = 30 cm")[:-1]), lambda _: ["L = 30 cm"]),
)


@pytest.mark.parametrize("words", [AT_HOME, ONE_AT_HOME, STARTED_AT_HOME, CHOSEN_AT_HOME])
async def test_both_faces_tell_alike_at_the_problems(words: Sequence[Word]) -> None:
    await tell_alike_at_home(words, SHELF)


async def tell_alike_at_home(
    words: Sequence[Word], shelf: Shelf, between: Callable[[], object] = lambda: None
) -> None:
    """Say each word at the problems in plain lines, press its keys on the screen, and compare.

    `between` is done after the words and before the keys.
    """
    said = said_after(
        words, lambda say, listen: HomeLines(material(shelf), say, listen).run(with_tour=False)
    )
    between()
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        await tells_alike(pilot, words, said)


async def test_both_faces_tell_alike_what_is_in_a_mixed_set(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def elsewhere() -> None:
        monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "other"))  # a set is drawn once

    await tell_alike_at_home((*MIXED_AT_HOME, *IN_SET), SHELF, elsewhere)


AT_WEEKS = (Word("week 1", (), titles),)


async def test_both_faces_tell_alike_what_a_week_has() -> None:
    weeks = (Week("Levers", ("plain-seesaw", "plain-crowbar")),)
    await tell_alike_at_home(AT_WEEKS, replace(SHELF, weeks=weeks))


KEPT_AT_HOME = (
    Word("kept", (), begun),
    Word("due", (), titles),
    Word("remove 1", ("delete",), taken_off),
)
GONE_ON_AT_HOME = (Word("go on", ("enter",), stated),)


@pytest.mark.parametrize("words", [KEPT_AT_HOME, GONE_ON_AT_HOME])
async def test_both_faces_tell_alike_what_is_kept(
    words: Sequence[Word], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def begun_at(home: str) -> None:
        monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / home))
        practice = Practice.start(SHELF.problems["elbow-full-pail"], "1", CATALOGUE)
        practice.enter("W_f", f"{practice.question.right['W_f'] / 9.81:.4g} N")

    begun_at("one")  # what one face takes off the list is on that of the other
    await tell_alike_at_home(words, SHELF, lambda: begun_at("other"))


AT_WATCH = (
    Word("counts"),
    Word("students", (), sentences),
    Word("s01", (), lambda said: re.findall("3 wrong tries|W_s|task 1", said[0])),
    Word("slips", (), first),
    Word("lines", (), first),
    Word("", (), first),
    Word("help", ("f1",), lambda _: ["who to go to next"], ("escape",)),
    Word("troubles"),
)
STOPPED_AT_HOME = (Word("stop", ("ctrl+q",)),)
STOPPED_AT_WATCH = (Word("stop", ("escape",)),)


@pytest.mark.parametrize("words", [STOPPED_AT_HOME, STOPPED_AT_WATCH])
async def test_both_faces_end_where_they_are_stopped(words: Sequence[Word], tmp_path: Path) -> None:
    is_home, watch = words is STOPPED_AT_HOME, ClassWatch(drill_with(), CATALOGUE, tmp_path)
    said = said_after(
        [*words, Word("help")],
        lambda say, listen: (
            HomeLines(material(SHELF), say, listen).run()
            if is_home
            else WatchLines(watch, say, listen).run()
        ),
    )
    assert said == [["Stopped."]]
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        if not is_home:
            app.push_screen(WatchScreen(watch, with_names=True))
            await settle(pilot)
        assert app.return_code is None
        await pilot.press(*words[0].keys)
    assert app.return_code == 0


async def test_both_faces_tell_alike_how_a_class_stands(tmp_path: Path) -> None:
    sitting = Sitting.start(drill_with(), CATALOGUE, "s01", tmp_path)
    for typed in ("54 N", "55 N", "56 N"):
        sitting.benches[0].enter("W_s", typed)
    (tmp_path / "torn.jsonl").write_bytes(b"\xff")

    def watch() -> ClassWatch:
        return ClassWatch(sitting.drill, CATALOGUE, tmp_path)

    said = said_after(AT_WATCH, lambda say, listen: WatchLines(watch(), say, listen).run())
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        app.push_screen(WatchScreen(watch(), with_names=True))
        await settle(pilot)
        await tells_alike(pilot, AT_WATCH, said)


SCRIPTS: Mapping[Place, Sequence[Word]] = {
    Place.HOME: (
        *AT_HOME, *ONE_AT_HOME, *STARTED_AT_HOME, *CHOSEN_AT_HOME, *MIXED_AT_HOME, *AT_WEEKS,
        *KEPT_AT_HOME, *GONE_ON_AT_HOME, *STOPPED_AT_HOME,
    ),
    Place.TASKS: (*AT_TASKS, *AT_LANDMARKS, *AT_HANDING_IN, *AT_OTHER_FOLDER),
    Place.PICTURE: (*AT_PICTURE, *STOPPED_AT_PICTURE),
    Place.WORKING: AT_PRACTICE,
    Place.SET: IN_SET,
    Place.EXPLORING: AT_EXPLORING,
    Place.BOARD: AT_BOARD,
    Place.TOUR: (*AT_TOUR, *STOPPED_AT_TOUR),
    Place.END: (
        *AT_END, *TWO_AT_END, *AGAIN_AT_END, *NEXT_AT_END, *STOPPED_AT_END, *SLIP_AT_END,
    ),
    Place.DOOR: (*AT_DOOR, *AT_OPEN_DOOR),
    Place.WATCH: (*AT_WATCH, *STOPPED_AT_WATCH),
}  # fmt: skip


def test_every_word_is_taken_by_a_script() -> None:
    taken = {
        found[0]
        for place, words in SCRIPTS.items()
        for word in words
        if (found := understood(word.typed, verbs_at(place))) is not None
    }
    done = {(place, verb.does) for verb in taken for place in verb.places}
    left = [
        (verb.places[0], verb.does)
        for verb in VERBS
        if not done.intersection((place, verb.does) for place in verb.places)
    ]
    assert left == []
