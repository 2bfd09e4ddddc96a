"""One script of a sitting, driven on the full screen and in plain lines, and what each told."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path

from leverstep.course.symbols import read_out
from leverstep.drill.drill import Drill
from leverstep.drill.sitting import Sitting
from leverstep.faces.lines.drill_line import DrillLines
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.drill_screen import DrillScreen
from leverstep.faces.screens.paper import Paper, PaperRow
from textual.pilot import Pilot
from textual.widgets import Static

from helpers.drills import SHELF
from helpers.material import CATALOGUE, material
from helpers.pilots import press, settle
from helpers.screens import page_lines, write_line

WAYS = (
    "Shift+Tab goes back to it.",
    "Write it whenever you like.",
    "Type hints to hear them again.",
    "Type next, back, or hand in.",
    "Trying again automatically; Enter tries at once, Ctrl+O takes another folder.",
    "Trying again.",
    "It is still not saved. Enter tries again; folder, and a path, tries another one.",
)
"""What each face tells of its own keys and words."""

STANDING = {"Right with your earlier value.": "⇒ follows", "Right.": "✓ ok", "Saved.": "• saved"}
"""What is said of a line that is gone back to, and what its margin shows."""


@dataclass(frozen=True)
class Step:
    """One thing that a student does: the word or line that is typed, or the keys for the same.

    `before` happens first, such as that a disk breaks. `keys` are those pressed, "" for a line that
    is typed into the field, or below all others on a page. `changes` is the line of a page that is
    changed by it, where it is none below.
    """

    typed: str
    keys: tuple[str, ...] = ()
    before: Callable[[], object] | None = None
    changes: str = ""


@dataclass
class Heard:
    """What was told after one step, what is asked for then, and what stands in the margins."""

    told: list[str]
    asks: str
    prompt: str
    margins: dict[str, str] = field(default_factory=dict)


def bare(told: str) -> str:
    """Return what was told without marks, names before it, words of keys, and wrapping."""
    told = re.sub(r"^(Hint \d of \d for .*?)(?:: |  )", r"\1 | ", told)
    told = re.sub(r"^[✓⇒✗?=•!»] ", "", told)
    told = re.sub(r"\S+\.jsonl", "the record", told)
    for way in WAYS:
        told = told.replace(way, "")
    told = re.sub(r"^(class|direction|equation|[A-Za-z]+(?:_\w+)?): ", "", read_out(told))
    return " ".join(told.split())


def in_lines(drill: Drill, folder: Path, steps: Iterable[Step]) -> list[Heard]:
    """Return what plain lines tell after each step, the first before any."""
    sitting = Sitting.start(drill, CATALOGUE, "s01", folder)
    waiting, said, heard = iter(steps), list[str](), list[Heard]()

    def listen(prompt: str) -> str:
        last = len(said) - 1 - said[::-1].index("") if "" in said else len(said)
        asks = " ".join(said[last + 1 :])
        told = [bare(line) for line in said[:last]]
        heard.append(Heard([line for line in told if line], asks, prompt.rstrip(": ")))
        said.clear()
        for step in waiting:
            if step.before is not None:
                step.before()
            return step.typed
        raise EOFError

    DrillLines(sitting, said.append, listen, Path("levers.toml"), lambda _: None).run()
    return heard


async def on_the_screen(drill: Drill, folder: Path, steps: Iterable[Step]) -> list[Heard]:
    """Return what the full screen tells after each step, the first before any."""
    sitting = Sitting.start(drill, CATALOGUE, "s01", folder)
    app, heard = LeverstepApp(material(SHELF)), list[Heard]()
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        screen = DrillScreen(sitting, Path("levers.toml"), app.visit)
        app.push_screen(screen)
        await settle(pilot)
        heard.append(_seen(screen, []))
        for step in steps:
            if step.before is not None:
                step.before()
            stays = [part for one in _parts(screen) for part in (one, _without_cost(one))]
            await _does(pilot, screen, step)
            if "f2" in step.keys and screen.dialogue is not None:
                stays.append(bare(screen.dialogue.wrong_told(screen.dialogue.hinted)))
            heard.append(_seen(screen, stays))
        sitting.pause()
    return heard


async def _does(pilot: Pilot[int], screen: DrillScreen, step: Step) -> None:
    if step.keys:
        await press(pilot, *step.keys)
        return
    if step.changes:
        row = screen.editor.lines.index(step.changes)
        screen.editor.replace(step.typed, (row, 0), (row, len(step.changes)))
        screen.editor.move_cursor((row, 1))
        await settle(pilot)
        await press(pilot, "down")
        return
    await write_line(screen, step.typed)
    await settle(pilot)


def _parts(screen: DrillScreen) -> list[str]:
    """Return what is said at the desk, or at the end of a task."""
    if screen.step_at_hand is None:
        return [str(screen.query_one("#account", Static).content)]
    said = str(screen.query_one("#said", Static).content).split("\n")
    return [bare(part) for part in said if part and not part.startswith(("Enter ", "Ctrl+"))]


def _without_cost(told: str) -> str:
    """Return a hint as it stays in sight once another is given."""
    return told.replace(", costs ", ", which cost ")


def _seen(screen: DrillScreen, stays: list[str]) -> Heard:
    """Return what is new on the screen: what only stays in sight is not told again."""
    parts = _parts(screen)
    told = [part for part in parts if part not in stays] or parts[:1]
    rows = screen.query_one(Paper).rows
    margins = {row.key: row.mark.text for row in rows if isinstance(row, PaperRow)}
    if screen.page is not None:
        margins = {key: mark for key, (mark, _) in page_lines(screen.page).items()}
    if screen.step_at_hand is None:
        asks = str(screen.query_one("#headline", Static).content)
        return Heard(told, asks, f"Task {screen.sitting_dialogue.place + 1}", margins)
    asks = str(screen.query_one("#ask", Static).content)
    prompt = str(screen.query_one("#prompt", Static).content)
    if screen.page is not None and screen.dialogue is not None and screen.dialogue.asked:
        prompt = screen.dialogue.asked.prompt  # a page itself has none
    return Heard(told, asks, prompt.removesuffix(" =").removesuffix(":"), margins)
