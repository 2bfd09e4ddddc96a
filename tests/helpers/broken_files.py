"""Problem files broken as authors break them: keys dropped, values swapped, tables moved.

Each is made from a whole file by a few changes, most of which leave it a file that reads.
"""

from __future__ import annotations

import copy
import json
import random
import tomllib
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from leverstep.course.cards import card_of
from leverstep.course.faults import OURS, FileError
from leverstep.course.forces import STRAIGHT
from leverstep.course.problem import Problem
from leverstep.course.problem_file import problem_of, problem_of_table
from leverstep.course.toml import exact_number
from leverstep.vetting.vet import vet_problem

from helpers.material import CATALOGUE
from helpers.source import ROOT

Table = dict[str, Any]
Place = tuple[Any, Any]
"""A table or a list, and a key or a place of it."""

SHIPPED = sorted((ROOT / "problems").glob("*/*.toml"))
OF_A_SIZE = ("mass", "force", "segment", "share")
UNITS = ("kg", "g", "lb", "oz", "st", "N", "kN", "lbf", "m", "cm", "mm", "in", "ft", "deg", "")
ODD: Sequence[Any] = (
    0, 1, -1, -7.5, 90, 180, 1e6, 1e-6, True, False, "", "axis", "up", "W_l", "F_m", "moment",
    [], {}, [1], "reaction", "segment", "left", "below", "kg",
)  # fmt: skip
"""Values that may stand anywhere."""


def toml(value: Any) -> str:
    """Return a value as TOML on one line."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(k)} = {toml(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    return json.dumps(value, ensure_ascii=False)


def text_of_file(table: Table) -> str:
    """Return a whole file as TOML."""
    return "".join(f"{json.dumps(key)} = {toml(value)}\n" for key, value in table.items())


def places(value: Any) -> Iterator[Place]:
    """Yield every place of a table, at any depth."""
    pairs = value.items() if isinstance(value, dict) else enumerate(value)
    for key, inner in list(pairs):
        yield value, key
        if isinstance(inner, dict | list):
            yield from places(inner)


@dataclass
class Breaker:
    """Breaks one file; `chance` decides how, `table` is what is left of it."""

    table: Table
    chance: random.Random
    made: int = 0

    def any_place(self, holds: Callable[[Any], bool] = lambda _: True) -> Place | None:
        """Return a place whose value is as wanted, None where there is none."""
        found = [place for place in places(self.table) if holds(place[0][place[1]])]
        return self.chance.choice(found) if found else None

    def forces(self) -> list[Table]:
        """Return the tables that are still those of forces."""
        loads = self.table.get("load")
        found = [*(loads if isinstance(loads, list) else []), self.table.get("effort")]
        return [one for one in found if isinstance(one, dict)]

    def new_symbol(self, letter: str = "d") -> str:
        """Return a symbol that no file has."""
        self.made += 1
        return f"{letter}_n{self.made}"

    def quantity(self, unit: str, letter: str = "d") -> Table:
        """Return a quantity with a symbol."""
        value = self.chance.choice([3, 12.5, 30, 45, 60, 90])
        return {"symbol": self.new_symbol(letter), "value": value, "unit": unit}

    def _drop(self) -> None:
        if place := self.any_place():
            del place[0][place[1]]

    def _swap(self) -> None:
        one, other = self.any_place(), self.any_place()
        if one and other:
            first, second = one[0][one[1]], copy.deepcopy(other[0][other[1]])
            other[0][other[1]] = copy.deepcopy(first)
            one[0][one[1]] = second

    def _odd(self) -> None:
        if place := self.any_place():
            place[0][place[1]] = copy.deepcopy(self.chance.choice(ODD))

    def _move(self) -> None:
        place = self.any_place(lambda value: isinstance(value, dict))
        into = self.any_place(lambda value: isinstance(value, dict))
        if place and into:
            moved, table = copy.deepcopy(place[0][place[1]]), into[0][into[1]]
            if self.chance.random() < 0.5:
                del place[0][place[1]]
            names = ["at", "up", "across", "direction", "angle", "force", "mass", place[1]]
            table[str(self.chance.choice(names))] = moved

    def _move_within(self) -> None:
        if place := self.any_place(lambda value: isinstance(value, dict)):
            table = place[0][place[1]]
            table[self.chance.choice(["at", "up", "far_end", "angle", "length", "of"])] = "d_m"

    def _number(self) -> None:
        place = self.any_place(lambda v: isinstance(v, int | float) and not isinstance(v, bool))
        if place:
            times = self.chance.choice([-1, 0, 10, 0.1, 1e-4, 1e4])
            place[0][place[1]] = place[0][place[1]] * times

    def _angle_number(self) -> None:
        place = self.any_place(lambda value: isinstance(value, dict) and value.get("unit") == "deg")
        if place:
            symbol = place[0][place[1]].get("symbol", "alpha")
            value = self.chance.choice([0, 1, 30, 45, 60, 89, 90, 91, -30])
            place[0][place[1]] = {"symbol": symbol, "value": value, "unit": "deg"}

    def _unit(self) -> None:
        if place := self.any_place(lambda value: isinstance(value, dict) and "unit" in value):
            place[0][place[1]]["unit"] = self.chance.choice(UNITS)

    def _direction(self) -> None:
        if not (forces := self.forces()):
            return
        force = self.chance.choice(forces)
        if self.chance.random() < 0.4:
            force["direction"] = self.chance.choice(list(STRAIGHT))
            return
        line = self.chance.choice(["segment", "horizontal", "vertical"])
        ends = ["axis", "end"] if line == "segment" else ["left", "right"]
        turned: Table = {"angle": self.quantity("deg", "beta")}
        if line == "segment" and self.chance.random() < 0.4:
            along = self.quantity("cm") | {"beyond": self.chance.random() < 0.5}
            turned = {"far_end": {"along": along, "off": self.quantity("cm")}}
        side = self.chance.choice(["above", "below"])
        force["direction"] = {
            "line": line, "toward": self.chance.choice(ends), "side": side, **turned
        }  # fmt: skip

    def _place(self) -> None:
        if not (forces := self.forces()):
            return
        force, chance = self.chance.choice(forces), self.chance
        at = force.get("at")
        match chance.randrange(6):
            case 0:
                force["at"] = "axis"
            case 1:
                parts = chance.choice([["across"], ["up"], ["across", "up"]])
                force["at"] = {part: self.quantity("cm") for part in parts}
                if chance.random() < 0.2:
                    force["at"][parts[0]] = {"symbol": self.new_symbol()}
            case 2:
                sense = chance.choice(["clockwise", "counter-clockwise"])
                force["at"] = self.quantity("cm") | {"perpendicular": True, "turns": sense}
            case 3:
                share = {"fraction": 0.4, "of": chance.choice(["L", "d_m", "d_l", "d_n1"])}
                force["at"] = {"symbol": self.new_symbol(), **share}
            case 4 if isinstance(at, dict):
                at["beyond"] = not at.get("beyond", False)
            case _:
                force["at"] = {"symbol": self.new_symbol()}

    def _size(self) -> None:
        if not (forces := self.forces()):
            return
        force = self.chance.choice(forces)
        for key in OF_A_SIZE:
            force.pop(key, None)
        match self.chance.randrange(4):
            case 0:
                force["mass"] = {"value": 12, "unit": "kg"}
            case 1:
                force["force"] = {"value": 40, "unit": "N"}
            case 2:
                force["share"] = 0.25
                self.table["body"] = {"mass": {"symbol": "m_b", "value": 70, "unit": "kg"}}

    def _another_force(self) -> None:
        forces = copy.deepcopy(self.forces())
        if not forces:
            return
        made = self.chance.choice(forces)
        made["symbol"] = self.new_symbol("F")
        if self.chance.random() < 0.3:
            self.table["effort"] = made
        elif isinstance(self.table.get("load"), list):
            self.table["load"].append(made)
        self.table["load"] = self.table.get("load") or [made]

    def _role(self) -> None:
        """Make the effort a load, or a load the effort."""
        loads = self.table.get("load")
        if not isinstance(loads, list) or not loads:
            return
        effort = self.table.pop("effort", None)
        if isinstance(effort, dict):
            loads.append(effort)
        if self.chance.random() < 0.5:
            self.table["effort"] = loads.pop(self.chance.randrange(len(loads)))

    def _ask(self) -> None:
        symbols = [str(one.get("symbol")) for one in self.forces()]
        symbols += [
            str(at.get("symbol")) for one in self.forces() if isinstance(at := one.get("at"), dict)
        ]
        ask = self.table.setdefault("ask", {})
        if not isinstance(ask, dict):
            return
        match self.chance.randrange(9):
            case 7:
                ask["resolve"] = self.chance.choice(["along and across", "both"])
            case 8:
                ask[self.chance.choice(["compression", "class"])] = True
                ask["advantage"] = self.chance.choice(["resistance over effort", "ratio of arms"])
            case 0:
                ask["method"] = self.chance.choice(["components", "moment arms"])
            case 1:
                ask["ratios"] = self.chance.random() < 0.5
            case 2:
                ask["reaction"] = self.chance.random() < 0.5
            case 3 if symbols:
                ask["arm_ratio_of"] = self.chance.choice(symbols)
            case 4 if symbols:
                ask["find"] = self.chance.choice(symbols)
            case 5:
                self.table.pop("effort", None)
                ask["find"] = self.chance.choice(["moment", "moment sum", "reaction"])
            case _:
                ask["find"] = self.chance.choice(["moment", "moment sum", "reaction"])

    def _segment(self) -> None:
        segment = self.table.get("segment")
        if not isinstance(segment, dict):
            return
        match self.chance.randrange(4):
            case 0:
                segment["points"] = self.chance.choice(["left", "right"])
            case 1:
                segment.pop("inclination", None)
            case 2:
                told = {
                    "rises": self.chance.random() < 0.5,
                    "line": self.chance.choice(["horizontal", "vertical"]),
                }
                segment["inclination"] = self.quantity("deg", "phi") | told
            case _:
                segment["length"] = {"symbol": "L", "value": 40, "unit": "cm"}

    def _leave_the_size_open(self) -> None:
        """Leave the size of a force open, and ask for it."""
        if not (forces := self.forces()):
            return
        force = self.chance.choice(forces)
        for one in forces:
            if not any(key in one for key in OF_A_SIZE):
                one["force"] = {"value": 55, "unit": "N"}
        for key in OF_A_SIZE:
            force.pop(key, None)
        self.table["ask"] = {"find": force.get("symbol", "F_m")}

    def change(self) -> None:
        """Make one change of any kind."""
        careless = (self._drop, self._swap, self._odd, self._move, self._move_within, self._number)
        careful = (
            self._angle_number, self._unit, self._direction, self._place, self._size,
            self._another_force, self._role, self._ask, self._segment, self._leave_the_size_open,
        )  # fmt: skip
        self.chance.choice(careless if self.chance.random() < 0.25 else careful)()


def broken(path: Path, seed: int) -> str:
    """Return the text of a file with some changes; the same seed makes the same."""
    return text_of_file(_broken_table(path, seed))


def _broken_table(path: Path, seed: int) -> Table:
    """Return what a file holds, with some changes."""
    chance = random.Random(f"{path.stem} {seed}")
    table = copy.deepcopy(_whole(path))
    if chance.random() < 0.5:
        table.pop("shown", None)
    breaker = Breaker(table, chance)
    for _ in range(chance.randint(1, 4)):
        breaker.change()
    return table


@cache
def _whole(path: Path) -> Table:
    return tomllib.loads(path.read_text(encoding="utf-8"))


def _as_read(value: Any) -> Any:
    """Return a value as it comes from a text: with decimals that are exact."""
    if isinstance(value, dict):
        return {key: _as_read(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_as_read(inner) for inner in value]
    return exact_number(repr(value)) if isinstance(value, float) else value


def read_broken(path: Path, seed: int) -> Problem | None:
    """Return the problem of a broken file whose statement names nothing, None where it is told.

    Raises:
        Exception: whatever the program fails with.
    """
    table = _as_read(_broken_table(path, seed)) | {"statement": "A posture."}
    try:
        return problem_of_table(table, path, path.name)
    except FileError as error:
        _raise_ours(error)
        return None


def read_whole(text: str, name: str) -> Problem:
    """Return the problem of a text, with all that it gives stated.

    Raises:
        FileError: where the text has faults besides those of its statement.
    """
    path = Path(f"{name}.toml")

    def stating(statement: str) -> Problem:
        table = tomllib.loads(text) | {"statement": statement}
        return problem_of(text_of_file(table), path, path.name)

    with suppress(FileError):
        problem_of(text, path, path.name)  # as its author wrote it
    signs = stating("A posture.").placeholders
    return stating(" ".join(f"{{{sign}}}" for sign in signs))


def tried(path: Path, seed: int) -> str:
    """Break a file, then read it, make its card, derive and vet it; return what came of it.

    That is "told" where reading tells a fault, "vetted" where vetting does, and "sound" else.

    Raises:
        Exception: whatever the program fails with.
    """
    try:
        problem = read_whole(broken(path, seed), path.stem)
        card_of(problem)
    except FileError as error:
        _raise_ours(error)
        return "told"
    question = problem.question(str(seed))
    if not question.trouble:
        assert len(question.right) >= len([s for s in question.derivation.asked if s.unit])
    report = vet_problem(problem, path.name, CATALOGUE)
    _raise_ours(FileError(report.faults))
    return "vetted" if report.faults else "sound"


def _raise_ours(error: FileError) -> None:
    """Raise what a fault that is told as one of the program came from."""
    if any(fault.found == OURS for fault in error.faults):
        raise error
