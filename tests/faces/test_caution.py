"""The caution stands on every screen and in every output that shows a body, or a number of one.

A body is known by a number with a unit of statics, or by the symbol of a force or a distance.
"""

from __future__ import annotations

import argparse
import re
import shutil
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from helpers.commands import PAIL_PAGE, parsers
from helpers.drill_screens import all_text
from helpers.drills import SHELF, drill_file, right_entry
from helpers.every_screen import MAKE, SCREENS, visit
from helpers.material import CATALOGUE, material
from helpers.pilots import press, settle
from helpers.screens import text_of, write_line
from leverstep.diagram.tex_text import tex_text
from leverstep.documents.formats import FORMATS
from leverstep.documents.text import text
from leverstep.drill.drill_file import read_drill
from leverstep.drill.sitting import Sitting
from leverstep.faces.commands.calls import every_command
from leverstep.faces.commands.cli import main
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.board_screen import BoardScreen
from leverstep.faces.screens.help import HelpScreen
from leverstep.faces.screens.report import ReportScreen
from leverstep.faces.screens.work import WorkScreen
from leverstep.marking.collecting import by_student, gather, mark_all
from leverstep.reports.class_report import class_report
from leverstep.reports.gathering import ClassFigures
from leverstep.working.cautions import CAUTION, CAUTION_IN_SHORT, CAUTION_SAID
from textual.pilot import Pilot

Heard = tuple[pytest.MonkeyPatch, pytest.CaptureFixture[str]]

BODY = re.compile(r"\d (?:N·m|N|kN|kg|g|lb|lbf|oz|m|cm|mm|in|ft)\b|\b[WFGMRdr]_[a-z]\b")

WHOLE, SHORT, NONE = CAUTION, CAUTION_IN_SHORT, ""
STANDS = {
    "home": SHORT,
    "work": SHORT,
    "page": SHORT,
    "board": SHORT,
    "explore": WHOLE,
    "drill": SHORT,
    "door": WHOLE,
    "drills": NONE,
    "handed": WHOLE,
    "confirm": NONE,
    "begun": NONE,
    "folder": NONE,
    "away": NONE,
    "terms": SHORT,
    "calculator": SHORT,
    "diagram": SHORT,
    "tour": SHORT,
    "thinking": NONE,
    "missing": SHORT,
    "look-back": WHOLE,
    "page-path": NONE,
    "report": WHOLE,
    "watch": SHORT,
    "progress": WHOLE,
}
"""How the caution stands on each screen of `MAKE`, at once and without scrolling."""

STATES = {
    "work": (["f5"], ["9", ".", "9", "space", "N", "enter"], ["f2"], ["f3"]),
    "page": (["f5"], ["9", ".", "9", "enter"], ["up"], ["tab"], ["f4"]),
    "drill": (["f5"], ["f9"], ["9", ".", "9", "space", "N", "enter"], ["f2"]),
    "board": (["right"], ["right", "right"], ["f5"], ["end"], ["f2"], ["escape"], ["f3"]),
    "explore": (["right"], ["f4"], ["f5"], ["f2"], ["1"]),
    "door": (["s", "0", "1", "enter"],),
    "terms": (["down"], ["end"], ["pagedown"]),
    "calculator": (["1", "+", "2", "enter"],),
    "diagram": (["enter"], ["down"], ["enter"], ["1"], ["pagedown"]),
    "tour": (["enter"], ["f2"], ["9", "enter"], ["enter"], ["enter"], ["enter"]),
    "progress": (["f5"], ["pagedown"]),
    "watch": (["f5"], ["pagedown"], ["f5"]),
    "handed": (["pagedown"],),
    "look-back": (["pagedown"],),
    "page-path": (["enter"],),
}
"""What is pressed one after the other on a screen, after which the caution stands as before."""

SIZES = pytest.mark.parametrize("size", [(80, 20), (80, 24), (120, 36)], ids=["low", "80", "120"])


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder where two students sat a drill, made once for all tests."""
    made = tmp_path_factory.mktemp("made")
    folder = made / "place"
    folder.mkdir()
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LEVERSTEP_HOME", str(made / "home"))
        drill = read_drill(drill_file(folder), SHELF.problems)
        for student in ("s01", "s02"):
            sat = Sitting.start(drill, CATALOGUE, student, folder / "records")
            for bench in sat.benches:
                for step in bench.working.steps:
                    bench.enter(step.key, right_entry(bench, step))
                bench.enter(bench.working.steps[0].key, "9.9 N")
            sat.hand_in()
    (folder / "working.txt").write_text(PAIL_PAGE, encoding="utf-8")
    (folder / "course.toml").write_text('[[drill]]\nfile = "levers.toml"\n', encoding="utf-8")
    main(["drill", "mark", str(folder / "levers.toml"), str(folder / "records"), "--sums",
          "--out", str(made / "marks")])  # fmt: skip
    shutil.copy(made / "marks" / "sums.json", folder)
    return made


@pytest.fixture(autouse=True)
def place(made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder with a drill and records of it, which the commands run in."""
    shutil.copytree(made, tmp_path, dirs_exist_ok=True)
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.chdir(tmp_path / "place")
    return tmp_path / "place"


def shows_body(text: str) -> bool:
    """Return whether a text shows a body or a number of one, beside the caution itself."""
    return bool(BODY.search(text))


def flat(text: str) -> str:
    """Return a text on one line, without the frames around it."""
    return " ".join(re.sub("[│─┌┐└┘]", " ", text).split())


def test_a_body_is_known_when_it_is_seen() -> None:
    shown = ("W_l = 18.0 lb ÷ 2.205", "F_m, the force", "-4.5 N·m", "25.5 cm", "R_y: 81 N")
    assert all(map(shows_body, shown))
    assert not any(map(shows_body, ("12 minutes", "2 tasks", "5 marks", "F10: hand in", CAUTION)))


def test_both_forms_say_what_it_is_not_for_and_the_whole_one_who_decides() -> None:
    for told in (CAUTION, CAUTION_IN_SHORT):
        assert "not for clinical, rehabilitation or training-load decisions" in told.lower()
        assert "idealised" in told.lower()
    assert "licensed practitioners" in CAUTION
    assert len(CAUTION_IN_SHORT) < 74  # one line of the narrowest screen, with a frame


# Screens


def test_every_screen_is_walked_through() -> None:
    """A new screen needs a place in `MAKE`, and one here that says how the caution stands on it."""
    made = {type(make(Path.cwd())) for make in MAKE.values()} | {HelpScreen}
    assert made == {kind for kind in SCREENS if not kind.__subclasses__()}
    assert set(STANDS) == set(MAKE)
    assert set(STATES) < set(MAKE)


@SIZES
async def test_the_caution_stands_on_every_screen_whatever_is_done_there(
    size: tuple[int, int], tmp_path: Path
) -> None:
    """Whole or in short, in sight; a screen without it shows no body. Help has it whole."""
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        for name, stands in STANDS.items():
            (tmp_path / name).mkdir()
            made = report_screen() if name == "report" else MAKE[name](tmp_path / name)
            app.push_screen(made)
            await settle(pilot)
            there = type(app.screen)
            _look(pilot, name, stands)
            for keys in STATES.get(name, ()):
                await press(pilot, *keys)
                if type(app.screen) is there:
                    _look(pilot, name, stands)
            asides = ("confirm", "folder", "away", "missing", "terms", "calculator", "page-path")
            if name not in asides:
                await press(pilot, "f1")
                assert isinstance(app.screen, HelpScreen), name
                assert CAUTION in flat(all_text(pilot)), name


def _look(pilot: Pilot[int], name: str, stands: str) -> None:
    shown = all_text(pilot)
    assert stands in flat(shown), name
    assert stands or not shows_body(shown), name


def report_screen() -> ReportScreen:
    """Return the screen of a report as the command shows it."""
    drill = read_drill(Path("levers.toml"), SHELF.problems)
    figures = ClassFigures(drill, CATALOGUE)
    with ThreadPoolExecutor() as pool:
        marked = mark_all(drill, CATALOGUE, gather([Path("records")]).records, pool)
        for student in by_student(drill, marked):
            figures.add(student)
    return ReportScreen(text(class_report(figures.figures())))


@SIZES
async def test_the_whole_caution_stands_at_the_end_of_a_working(size: tuple[int, int]) -> None:
    """Below how it went and above the keys, of which none is cut off."""
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        app.push_screen(MAKE["work"](Path.cwd()))
        await settle(pilot)
        assert isinstance(app.screen, WorkScreen)
        bench = app.screen.bench
        assert bench is not None
        for step in bench.working.steps:
            bench.enter(step.key, right_entry(bench, step))
        app.screen.paint()
        await settle(pilot)
        shown = flat(all_text(pilot))
        told = ["Well done.", "Everything is saved.", CAUTION, "new numbers", "another problem"]
        places = [shown.find(part) for part in told]
        assert min(places) >= 0
        assert places == sorted(places)


@SIZES
async def test_the_caution_stands_at_the_end_of_a_page_whatever_is_told_of_its_lines(
    size: tuple[int, int],
) -> None:
    """Also where much is: of a line that is not read, and of one that is off the page."""
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        app.push_screen(MAKE["page"](Path.cwd()))
        await settle(pilot)
        screen = app.screen
        assert isinstance(screen, WorkScreen)
        assert screen.bench is not None
        for step in screen.bench.working.steps:
            said = right_entry(screen.bench, step)
            await write_line(screen, f"{step.key} = {said}" if step.kind.is_number else said)
            await settle(pilot)
        await press(pilot, "up", "end", "ctrl+u", *"sideways", "enter")
        shown = flat(all_text(pilot))
        told = [
            "Well done.",
            "Not judged",
            "still kept: direction.",
            "Everything is saved.",
            CAUTION,
        ]
        places = [shown.find(part) for part in [*told, "new numbers", "another problem"]]
        assert min(places) >= 0
        assert places == sorted(places)
        assert screen.editor.region.height >= (6 if size[1] >= 24 else 4)


# Outputs

PAIL = ["elbow-full-pail", "--seed", "7"]
CALLS: dict[str, tuple[tuple[list[str], str], ...]] = {
    "practise": (([*PAIL, "--plain"], "help\nproblem\n16.19 N\nhint\nlines\nstop\n"),),
    "problems": (([], ""), (["--json"], "")),
    "working": ((PAIL, ""), ([*PAIL, "--json"], "")),
    "check": (
        ([*PAIL, "--step", "W_l", "48.94 N"], ""),
        ([*PAIL, "--step", "W_l", "11.0 N"], ""),
        ([*PAIL, "--step", "W_l", "11.0 N", "--json"], ""),
    ),
    "page": (([*PAIL, "working.txt"], ""), ([*PAIL, "working.txt", "--json"], "")),
    "vet": ((["levers.toml"], ""), (["levers.toml", "--json"], "")),
    "explore": (
        ([*PAIL, "--plain", "--over", "d_m"], "d_l = 40 cm\nhelp\nproblem\nask\n1\n"),
        ([*PAIL, "--out", "explored.txt"], ""),
        ([*PAIL, "--svg"], ""),
        ([*PAIL, "--csv"], ""),
    ),
    "drill new": ((["new.toml", "elbow-full-pail"], ""),),
    "drill exceptions": ((["levers.toml"], ""),),
    "drill roster": ((["levers.toml", "roster.csv"], ""),),
    "drill start-word": ((["levers.toml"], "broomstick\nbroomstick\n"),),
    "drill numbers": ((["levers.toml", "--out", "numbers"], ""),),
    "drill pins": ((["levers.toml", "--cards", "cards.txt"], ""),),
    "drill seal": ((["levers.toml"], ""),),
    "drill preview": ((["levers.toml"], ""),),
    "drill sit": (
        (["levers.toml", "--student", "s01", "--plain"], "\nproblem\n529.7 N\nnext\nstop\n"),
        (["levers.toml", "--student", "s01", "--plain", "--records", "records"], "result\nstop\n"),
    ),
    "drill watch": (
        (["levers.toml", "records", "--plain"], "\nstudents\nslips\nlines\nhelp\ns01\nstop\n"),
        (["levers.toml", "records", "--plain", "--without-names"], "\nlines\nstop\n"),
    ),
    "drill mark": (
        (["levers.toml", "records", "--out", "marks", "--pages", "--statements"], ""),
        (["levers.toml", "records", "--out", "marks", "--pages", "--tex"], ""),
    ),
    "course": ((["course.toml", "--out", "marks", "--pages", "--tex"], ""),),
    "drill report": ((["levers.toml", "records", "--plain"], ""),),
    "drill merge": ((["levers.toml", "sums.json", "--out", "all"], ""),),
    "progress": (([], ""), (["--all"], ""), (["--json"], "")),
    "tour": ((["--plain"], "1*2\nhint\nproblem\nhelp\nskip\nterm class\nstop\n"),),
    "board": (([*PAIL, "--plain"], "\n\nhelp\nproblem\nlines\n"),),
    "sheet": tuple(
        ([*PAIL, "--format", form, *key], "") for form in FORMATS for key in ([], ["--key"])
    ),
    "completion": ((["bash"], ""),),
}
"""Each command with its calls, and what is typed there."""

SHOW_NONE = {
    "problems",
    "drill exceptions",
    "drill new",
    "drill numbers",
    "drill pins",
    "drill roster",
    "drill seal",
    "drill start-word",
    "completion",
}
"""Commands whose outputs show no body."""

DATA = {".csv", ".jsonl", ".json"}
"""Tables and records for other programs."""


def commands(parser: argparse.ArgumentParser) -> set[str]:
    """Return the commands that can be called, without those that only hold others."""
    progs = {one.prog.removeprefix("leverstep").strip() for one in parsers(parser)}
    return {one for one in progs if one and not any(o.startswith(f"{one} ") for o in progs)}


def test_every_command_is_called() -> None:
    assert commands(every_command()) == set(CALLS)


def outputs(command: str, arguments: list[str], typed: str, heard: Heard) -> dict[str, str]:
    """Call a command and type into it; return what it prints and what it writes for people."""
    monkeypatch, capsys = heard
    lines = iter(typed.splitlines())

    def listen(prompt: str) -> str:
        del prompt
        try:
            return next(lines)
        except StopIteration as ended:
            raise EOFError from ended

    monkeypatch.setattr("builtins.input", listen)
    before = set(Path.cwd().rglob("*"))
    main([*command.split(), *arguments])
    found = {"output": capsys.readouterr().out}
    for path in sorted(set(Path.cwd().rglob("*")) - before):
        if path.is_file() and path.suffix not in DATA:
            found[path.name] = path.read_text("utf-8")
    assert not list(lines), "all that is typed was asked for"
    bare = {name: re.sub(r"<[^>]*>", " ", text) for name, text in found.items()}
    return {name: flat(text.replace(tex_text(CAUTION), CAUTION)) for name, text in bare.items()}


@pytest.fixture
def heard(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Heard:
    return monkeypatch, capsys


@pytest.mark.parametrize(
    ("command", "arguments", "typed"),
    [(name, *call) for name, calls in CALLS.items() for call in calls],
    ids=lambda value: " ".join(value) if isinstance(value, list) else None,
)
def test_the_caution_stands_in_all_that_is_printed_or_written(
    command: str, arguments: list[str], typed: str, heard: Heard
) -> None:
    """Whole, wherever a body is shown, and whatever is shown by commands that can; tables aside."""
    found = outputs(command, arguments, typed, heard)
    without = [name for name, text in found.items() if shows_body(text) and CAUTION not in text]
    assert without == (["output"] if "--csv" in arguments else [])
    stands = any(CAUTION in text for text in found.values())
    assert stands is (command not in SHOW_NONE and "--csv" not in arguments)


@pytest.mark.parametrize(
    ("command", "typed"),
    [("practise", "help\nstop\n"), ("board", "help\nstop\n"), ("explore", "help\nstop\n")],
)
def test_help_among_plain_lines_has_the_whole_caution(
    command: str, typed: str, heard: Heard
) -> None:
    said = outputs(command, [*PAIL, "--plain"], typed, heard)["output"]
    assert said.count(CAUTION_SAID) == 2


def test_a_sitting_in_plain_lines_has_it_at_the_door_with_each_task_and_at_the_end(
    heard: Heard,
) -> None:
    """Whole at the door, in help and at the end, in short with the statement of a task."""
    arguments = ["levers.toml", "--student", "s01", "--plain", "--records", "new"]
    typed = "\nhelp\nnext\nhand in\nyes\n"
    said = outputs("drill sit", arguments, typed, heard)["output"]
    barrow, pail = (SHELF.problems[i].statement[:20] for i in ("plain-wheelbarrow", PAIL[0]))
    told = [m.group() for m in re.finditer("|".join(map(re.escape, (
        "To leave, ", CAUTION_SAID, barrow, CAUTION_IN_SHORT, pail, "Handed in: ",
    ))), said)]  # fmt: skip
    assert told == [
        "To leave, ", CAUTION_SAID, barrow, CAUTION_IN_SHORT, CAUTION_SAID, pail, CAUTION_IN_SHORT,
        "Handed in: ", CAUTION_SAID,
    ]  # fmt: skip


# What a problem says itself

BARROW = SHELF.problems["plain-wheelbarrow"]
SEED = [BARROW.id, "--seed", "7"]


@pytest.mark.parametrize(
    ("command", "arguments", "typed"),
    [
        ("practise", [*SEED, "--plain"], ""),
        ("working", SEED, ""),
        ("working", [*SEED, "--json"], ""),
        ("explore", [*SEED, "--plain"], ""),
        ("explore", [*SEED, "--out", "explored.txt"], ""),
        ("board", [*SEED, "--plain"], ""),
        *(("sheet", [*SEED, "--format", form], "") for form in FORMATS),
        ("drill preview", ["levers.toml"], ""),
        ("drill sit", ["levers.toml", "--student", "s01", "--plain"], "\n"),
        ("drill mark", ["levers.toml", "records", "--out", "marks", "--pages"], ""),
    ],
)
def test_what_a_problem_is_no_advice_for_is_told_with_its_statement(
    command: str, arguments: list[str], typed: str, heard: Heard
) -> None:
    assert BARROW.caution
    found = outputs(command, arguments, typed, heard)
    stated = [text for text in found.values() if "soil has a mass of" in text]
    assert stated
    # HTML keeps a number with its unit, Markdown an equals sign from being a heading.
    stated = [re.sub(r'<span class="kept">(.*?)</span>|\\(?==)', r"\1", text) for text in stated]
    ends = [
        f"All distances are measured horizontally. Take g = 9.81 {unit}. {BARROW.caution}"
        for unit in ("m/s²", r"m/s\ensuremath{^{2}}")
    ]
    assert all(any(end in text for end in ends) for text in stated)


@pytest.mark.parametrize("name", ["drill", "board"])
async def test_it_is_told_with_the_statement_on_the_screen(name: str, tmp_path: Path) -> None:
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        board = BoardScreen(BARROW.question("7"), visit())
        app.push_screen(board if name == "board" else MAKE[name](tmp_path))
        await settle(pilot)
        shown = text_of(app.screen, "#statement" if name == "board" else "#task")
        assert shown.endswith(BARROW.caution)


ADVICE = re.compile(
    r"\b(cuff|dumbbell|vest|stick|sack|sandbag|press-up|boot|helmet|lifted the heels?"
    r"|lifted its heel|wheelbarrow|carriers|leans forward|bends forward|head bowed)\b"
)
"""What a posture or a load is called where it could be taken for advice."""


def test_what_could_be_taken_for_advice_says_that_it_is_none() -> None:
    """Each in words of its own, which name no number and don't run on."""
    cautions = {card.id: SHELF.problems[card.id].caution for card in SHELF.offered}
    told = {name: caution for name, caution in cautions.items() if caution}
    wanted = {
        problem.id
        for problem in map(SHELF.problems.__getitem__, cautions)
        if ADVICE.search(problem.statement) or problem.joint in ("body", "hip", "lumbar", "neck")
    }
    assert len(wanted) > 20
    assert wanted <= set(told)
    assert len(set(told.values())) == len(told)
    assert all(SHELF.problems[one].question("1").statement.count(told[one]) == 1 for one in told)
    assert not any(re.search(r"\d", one) for one in told.values())
