"""How many keys a working takes on the full screen, from the first screen to its last line.

Prints the table of README: `python tests/benchmarks/keys.py`. The keys are pressed in the app,
which has to find every line right; capitals and signs count as one key each, Enter too.
"""

from __future__ import annotations

import asyncio
import os
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import checkout  # noqa: F401  (before what it finds)

os.environ["LEVERSTEP_HOME"] = tempfile.mkdtemp(prefix="leverstep-keys-")

from helpers.material import material
from helpers.pilots import press, settle
from leverstep.course.places import put_by_word
from leverstep.course.shelf import load_shelf
from leverstep.dialogue.first_start import note_tour
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.work import WorkScreen
from leverstep.working.working import Working

PROBLEM, SEARCH = "elbow-pail-of-water", "pai"
"""The problem, and what is typed to find it in the list."""

SYMBOLS = {
    "W_f": "mfg", "W_l": "mlg", "d_f": ".682L", "equation": "Fmdm=Wfdf+Wldl", "M_f": "-Wfdf",
    "M_l": "-Wldl", "M_sum": "Mf+Ml", "F_m": "-Msum/dm", "MA": "(Wf+Wl)/Fm", "AR": "dm/dl",
    "class": "3", "R_y": "Wf+Wl-Fm", "R_dir": "d",
}  # fmt: skip
"""The lines as one types them in symbols; what only converts a unit is typed as a number."""


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


async def keys_taken(way: Way) -> int:
    """Return how many keys were pressed until all that is asked for was right."""
    for choice, word in way.choices.items():
        put_by_word(choice, word)
    app = LeverstepApp(material(load_shelf()))
    pressed = 0
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        opening = [*SEARCH, "enter"]
        await press(pilot, *opening)
        pressed += len(opening)
        screen = app.screen
        assert isinstance(screen, WorkScreen)
        await settle(pilot)
        assert screen.practice is not None
        working = screen.practice.working
        assert working.question.problem.id == PROBLEM
        while (step := working.current()) is not None:
            keys = [*names_of(typed(working, step.key, way)), "enter"]
            await press(pilot, *keys)
            pressed += len(keys)
            assert working.stands(step.key), (step.key, typed(working, step.key, way))
    for choice in way.choices:
        (Path(os.environ["LEVERSTEP_HOME"]) / choice).unlink()
    return pressed


def main() -> None:
    """Work the problem in each way, and print the keys that it took."""
    note_tour()
    print(f"keys from the first screen to the last line of {PROBLEM}\n")
    for way in WAYS:
        print(f"{way.name:36} {asyncio.run(keys_taken(way)):4}")


if __name__ == "__main__":
    main()
