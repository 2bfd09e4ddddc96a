"""How many keys and look-ups a working takes on the full screen, from the first screen on.

Prints the table of README: `python tests/benchmarks/keys.py`. The keys are pressed in the app,
which has to find every line right; capitals and signs count as one key each, Enter too. A look-up
is a line for which something that it needs is not on the screen, so that keys would have to bring
it; what that is stands below the table.
"""

from __future__ import annotations

import asyncio
import os
import re
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import checkout  # noqa: F401  (before what it finds)

os.environ["LEVERSTEP_HOME"] = tempfile.mkdtemp(prefix="leverstep-keys-")

from helpers.drill_screens import all_text
from helpers.material import material
from helpers.pilots import press, settle
from leverstep.course.places import put_by_word
from leverstep.course.shelf import load_shelf
from leverstep.course.symbols import joined_up
from leverstep.dialogue.first_start import note_tour
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.work import WorkScreen
from leverstep.faces.screens.written import NO_BREAK
from leverstep.statics.step import Step
from leverstep.working.page import forces_found, found, given_and_taken, prompt_of
from leverstep.working.working import Working
from textual.pilot import Pilot

PROBLEM, SEARCH = "elbow-pail-of-water", "pai"
"""The problem, and what is typed to find it in the list.

It has taken the place of elbow-full-pail there, with the same lines and truer numbers.
"""

SYMBOLS = {
    "W_f": "mfg", "W_l": "mlg", "d_f": ".682L", "equation": "Fmdm=Wfdf+Wldl", "M_f": "-Wfdf",
    "M_l": "-Wldl", "M_sum": "Mf+Ml", "F_m": "-Msum/dm", "MA": "(Wf+Wl)/Fm", "AR": "dm/dl",
    "class": "3", "R_y": "Wf+Wl-Fm", "R_dir": "d",
}  # fmt: skip
"""The lines as one types them in symbols; what only converts a unit is typed as a number."""

TURNED_TO = {"class": ("d_m", "d_f", "d_l"), "R_dir": ("R_y",)}
"""What is looked at for the lines that are answered with a word."""

SIZES = ((80, 24), (120, 36))


@dataclass(frozen=True, slots=True)
class Way:
    """A way to work the problem: what it is called, and the choices kept for it."""

    name: str
    in_symbols: bool
    choices: Mapping[str, str]


WAYS = (
    Way("numbers with units, every line", False, {}),
    Way("numbers, units named by the line", False, {"units": "named"}),
    Way("symbols, every line", True, {}),
    Way("symbols, conversions filled in", True, {"conversions": "given"}),
)


def typed(working: Working, key: str, way: Way) -> str:
    """Return a right line as it is typed: in symbols, or as a number with three figures."""
    step, right = working.step(key), working.question.right
    if key in SYMBOLS and (way.in_symbols or not step.kind.is_number):
        return SYMBOLS[key]
    number = f"{right[key]:#.3g}".rstrip(".").replace("-0.", "-.").removeprefix("0")
    unit = "" if way.choices.get("units") == "named" else step.unit.replace("·", "")
    return f"{number}{unit}"


def names_of(text: str) -> Sequence[str]:
    """Return the keys of a text as Textual names them."""
    named = {
        ".": "full_stop", "-": "minus", "=": "equals_sign", "+": "plus", "/": "slash",
        "(": "left_parenthesis", ")": "right_parenthesis",
    }  # fmt: skip
    return [named.get(character, character) for character in text]


@dataclass(frozen=True, slots=True)
class Worked:
    """What a working took: how many keys, and at which lines something had to be looked up."""

    keys: int
    looked_up: Sequence[str]


def read_from(working: Working, key: str) -> Sequence[str]:
    """Return the symbols of what a line is worked from, that of a given line being its own."""
    by_spelling = {joined_up(symbol): symbol for symbol in working.symbols}
    longest_first = sorted(by_spelling, key=len, reverse=True)
    found = re.findall("|".join(map(re.escape, longest_first)), SYMBOLS.get(key, joined_up(key)))
    return [*(by_spelling[spelling] for spelling in found), *TURNED_TO.get(key, ())]


def is_in_sight(symbol: str, screen: str, working: Working, entered: Mapping[str, str]) -> bool:
    """Return whether the screen shows what a symbol is worth, and the symbol with it.

    That is its given, what was found on its line, or how that was `entered`. Of what is still to be
    found the symbol is enough.
    """
    question = working.question
    told = (*given_and_taken(question), *forces_found(question, found(working)))
    parts = [part for part in told if part.split()[0] == symbol]
    if symbol in entered:
        parts.append(f"{symbol} = {entered[symbol]}")
    return any(part in screen for part in parts or [symbol])


def not_in_sight(
    pilot: Pilot[int], working: Working, step: Step, entered: Mapping[str, str]
) -> Sequence[str]:
    """Return what a line needs and the screen does not show, for which keys would be pressed.

    That is its prompt, all that it is worked from, and how the forces lie: the picture, or the
    whole statement.
    """
    rows = all_text(pilot).replace(NO_BREAK, " ").split("\n")
    screen = " ".join(" ".join(rows).split())
    statement = pilot.app.screen.query_one("#statement")
    has_statement = statement.region.height > 0 and statement.max_scroll_y == 0
    lacking = [] if rows[-2].startswith(f" {prompt_of(step)} ") else ["prompt"]
    if not has_statement and "●" not in screen:
        lacking.append("posture")
    needed = dict.fromkeys(read_from(working, step.key))
    return [*lacking, *(s for s in needed if not is_in_sight(s, screen, working, entered))]


async def worked(way: Way, size: tuple[int, int]) -> Worked:
    """Work the problem until all that is asked for is right; return what that took."""
    for choice, word in way.choices.items():
        put_by_word(choice, word)
    app = LeverstepApp(material(load_shelf()))
    entered: dict[str, str] = {}
    looked_up: list[str] = []
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        opening = [*SEARCH, "enter"]
        await press(pilot, *opening)
        pressed = len(opening)
        screen = app.screen
        assert isinstance(screen, WorkScreen)
        await settle(pilot)
        assert screen.practice is not None
        working = screen.practice.working
        assert working.question.problem.id == PROBLEM
        while (step := working.current()) is not None:
            if lacking := not_in_sight(pilot, working, step, entered):
                looked_up.append(f"{step.key}: {', '.join(lacking)}")
            entered[step.key] = typed(working, step.key, way)
            keys = [*names_of(entered[step.key]), "enter"]
            await press(pilot, *keys)
            pressed += len(keys)
            assert working.stands(step.key), (step.key, entered[step.key])
    for choice in way.choices:
        (Path(os.environ["LEVERSTEP_HOME"]) / choice).unlink()
    return Worked(pressed, looked_up)


def main() -> None:
    """Work the problem in each way, and print the keys and look-ups that it took."""
    note_tour()
    print(f"from the first screen to the last line of {PROBLEM}\n")
    print(f"{'':36} keys  look-ups at {'  '.join(f'{w} × {h}' for w, h in SIZES)}")
    told: list[str] = []
    for way in WAYS:
        taken = [asyncio.run(worked(way, size)) for size in SIZES]
        keys = max(one.keys for one in taken)
        counts = "".join(f"{len(one.looked_up):9}" for one in taken)
        print(f"{way.name:36} {keys:4}{'':11}{counts}")
        told += [
            f"{way.name}, {w} × {h}: {line}"
            for one, (w, h) in zip(taken, SIZES, strict=True)
            for line in one.looked_up
        ]
    print("", *told, sep="\n")


if __name__ == "__main__":
    main()
