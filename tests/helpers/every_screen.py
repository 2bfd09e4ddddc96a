"""Every screen there is, made for a test."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterator
from pathlib import Path

import leverstep.faces.screens
from leverstep.bench.bench import Bench
from leverstep.bench.replaying import keep_nothing
from leverstep.dialogue.lookback import look_back
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.drill.drill_file import read_drill
from leverstep.drill.sitting import Sitting
from leverstep.faces.openings import Opening
from leverstep.faces.screens.asides import AwayScreen, ConfirmScreen, FolderScreen
from leverstep.faces.screens.begun_before import BegunBeforeScreen
from leverstep.faces.screens.board_screen import BoardScreen
from leverstep.faces.screens.calculator_screen import CalculatorScreen
from leverstep.faces.screens.door import DoorScreen
from leverstep.faces.screens.drill_screen import DrillScreen
from leverstep.faces.screens.drills import DrillsScreen
from leverstep.faces.screens.entrances import Entrance, Exploring
from leverstep.faces.screens.explore import ExploreScreen
from leverstep.faces.screens.glossary_screen import GlossaryScreen
from leverstep.faces.screens.handed import HandedScreen
from leverstep.faces.screens.help import MissingScreen
from leverstep.faces.screens.home import HomeScreen
from leverstep.faces.screens.lookback_screen import LookBackScreen
from leverstep.faces.screens.page_path import PagePathScreen
from leverstep.faces.screens.picture_screen import FreeBodyScreen
from leverstep.faces.screens.progress_screen import ProgressScreen
from leverstep.faces.screens.report import ReportScreen
from leverstep.faces.screens.thinking_screen import ThinkingScreen
from leverstep.faces.screens.tour_screen import TourScreen
from leverstep.faces.screens.visit import Visit
from leverstep.faces.screens.watch_screen import WatchScreen
from leverstep.faces.screens.work import WorkScreen
from leverstep.progress.onward import WaysOn
from leverstep.sheets.own_page import PageKept
from leverstep.watching.class_watch import ClassWatch
from leverstep.working.guidance import Guidance
from leverstep.working.reckoner import Reckoner
from leverstep.working.working import Working
from textual.dom import DOMNode
from textual.screen import Screen

from helpers.drills import SHELF, drill_file
from helpers.material import CATALOGUE, material

for module in pkgutil.iter_modules(leverstep.faces.screens.__path__):
    importlib.import_module(f"leverstep.faces.screens.{module.name}")


def kinds(base: type) -> Iterator[type[DOMNode]]:
    """Yield a class and all that are made from it."""
    yield base
    for kind in base.__subclasses__():
        yield from kinds(kind)


OURS = sorted({k for k in kinds(DOMNode) if k.__module__.startswith("leverstep.")}, key=str)


BOUND = [kind for kind in OURS if "BINDINGS" in vars(kind)]


SCREENS = [kind for kind in OURS if issubclass(kind, Screen)]


def sitting(folder: Path) -> Sitting:
    return Sitting.start(read_drill(drill_file(folder), SHELF.problems), CATALOGUE, "s01", folder)


def watch_in(folder: Path) -> ClassWatch:
    """Return who watches a class of two, of whom one has begun, in a folder of its own."""
    drill = read_drill(drill_file(folder), SHELF.problems)
    Sitting.start(drill, CATALOGUE, "s01", folder / "records")
    return ClassWatch(drill, CATALOGUE, folder / "records")


def visit() -> Visit:
    return Visit(material(SHELF))


def beside_pail() -> Reckoner:
    return Reckoner(Working(SHELF.problems["elbow-full-pail"].question("a1")))


def unwritten(name: str) -> Bench:
    """Return a working of which no line is written yet."""
    return Bench(SHELF.problems[name].question("a1"), CATALOGUE, keep_nothing)


def drawing(name: str) -> WorkingDialogue:
    """Return a working whose free-body diagram is to be drawn."""
    bench = unwritten(name)
    bench.ask_pictures()
    return WorkingDialogue(bench)


MAKE: dict[str, Callable[[Path], Screen[object]]] = {
    "home": lambda _: HomeScreen(visit()),
    "work": lambda _: WorkScreen(
        Opening(SHELF.problems["elbow-full-pail"], "a1", anew=True), visit()
    ),
    "page": lambda _: WorkScreen(
        Opening(SHELF.problems["elbow-full-pail"], "a1", guidance=Guidance.BLANK, anew=True),
        visit(),
    ),
    "board": lambda _: BoardScreen(SHELF.problems["elbow-full-pail"].question("a1"), visit()),
    "explore": lambda _: ExploreScreen(
        Exploring("A pail", lambda: SHELF.problems["elbow-full-pail"].question("a1"))
    ),
    "drill": lambda folder: DrillScreen(sitting(folder), folder / "levers.toml", visit()),
    "door": lambda folder: DoorScreen(Entrance(drill_file(folder)), visit()),
    "drills": lambda _: DrillsScreen(visit()),
    "handed": lambda folder: HandedScreen(sitting(folder), ""),
    "confirm": lambda _: ConfirmScreen("2 lines are open."),
    "begun": lambda _: BegunBeforeScreen("You began this problem before."),
    "folder": lambda _: FolderScreen("records"),
    "away": lambda _: AwayScreen("The clock is stopped."),
    "terms": lambda _: GlossaryScreen(material(SHELF), None),
    "calculator": lambda _: CalculatorScreen(reckoner := beside_pail(), reckoner.work_out),
    "diagram": lambda _: FreeBodyScreen(
        "A pail",
        drawing("elbow-full-pail"),
        lambda _: True,
        str,
        frozenset({"task", "hand in", "next"}),
    ),
    "tour": lambda _: TourScreen(visit(), leads_on=True),
    "thinking": lambda _: ThinkingScreen(frozenset(), lambda which: frozenset({which}), {}),
    "missing": lambda _: MissingScreen({"Still to find": {"F_m": "the force"}}),
    "look-back": lambda _: LookBackScreen(
        "A pail", look_back(unwritten("elbow-full-pail")), lambda: WaysOn(None, None)
    ),
    "page-path": lambda _: PagePathScreen("pail.html", lambda _: PageKept(None, "It is full.")),
    "report": lambda _: ReportScreen("A report."),
    "watch": lambda folder: WatchScreen(watch_in(folder), with_names=True),
    "progress": lambda _: ProgressScreen(visit(), Guidance.LINES),
}
