"""Writing a new problem file: one to start from, with the other ways to say things beside them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from textwrap import fill

from leverstep.course.faults import Fault, FileError
from leverstep.course.forces import ANGLED, LONG, TURNED
from leverstep.course.problem import Problem
from leverstep.course.problem_file import IDENT, problem_of
from leverstep.course.toml import quoted
from leverstep.course.typed_quantity import TypedQuantity
from leverstep.statics.line_keys import mass_key
from leverstep.statics.units import MASS, units_for

MASSES = units_for(MASS)

FOUND = ("effort", "load", "moment", "moment sum", "reaction")
"""What a new problem may ask for: a size that is left open, or what `find` calls so."""

_WAYS = {
    "up": "straight up",
    "down": "straight down",
    "left": "straight left",
    "right": "straight right",
    "perpendicular above": "at right angles to the {segment}, on its upper side",
    "perpendicular below": "at right angles to the {segment}, on its lower side",
    "with the segment": "along the {segment}, away from the {axis}",
    "against the segment": "along the {segment}, towards the {axis}",
}
_LEANS = {"axis": "towards the {axis}", "end": "towards its far end", "left": "to the left"}
_LEANS["right"] = "to the right"

_CHOSEN = "# Chosen for the exercise: a plausible number."
_HEAD = """\
# A problem for leverstep. problems/README.md says all that a file may hold, with whole examples.
# Lines like this one have no effect: where one shows a key, take the sign away that it begins with,
# and put in your own value. {{d_l}} and the like stand in the statement for the numbers, which are
# drawn for each student from the ranges below. Beside each number, say where it is from:
# "Source: …", "From memory: …" or "Chosen for the exercise: …".
id = {ident}
title = {title}
joint = {joint}
difficulty = 1              # 1, 2 or 3
# tolerance = 0.01          # how far off an entry may be, as a share
# positive = "clockwise"    # the positive sense of moments; "counter-clockwise" if left out
# caution = "…"             # what the posture must not be taken for, in a sentence with a full stop
statement = \"\"\"
{statement}\"\"\"
idealised = {idealised}

[segment]
name = {segment}
axis = {axis}
points = "{points}"            # which way it runs from the axis: "left" or "right"
{inclination}
# length = {length}    # for a distance that is a fraction of it
"""


@dataclass(frozen=True, slots=True)
class Slanting:
    """A direction by an angle to a line, as a file has it."""

    line: str
    toward: str
    side: str
    angle: TypedQuantity


@dataclass(frozen=True, slots=True)
class NewBearing:
    """A direction by its angle from the right, anticlockwise."""

    angle: TypedQuantity


@dataclass(frozen=True, slots=True, eq=False)
class NewForce:
    """A force of a new problem; one is equal only to itself.

    `size` is None where it is to be found, `at` where it acts at the axis; `direction` is one that
    has a name, or slants, or is a bearing.
    """

    name: str
    size: TypedQuantity | None
    at: TypedQuantity | None
    direction: str | Slanting | NewBearing
    beyond: bool = False

    @property
    def is_mass(self) -> bool:
        """Return whether it is the weight of a mass."""
        return self.size is not None and self.size.unit in MASSES


@dataclass(frozen=True, slots=True)
class NewProblem:
    """What a new problem is to hold; `find` is one of `FOUND`.

    `inclination` is None for a level segment, else to the line `inclined_to`, the horizontal or the
    vertical; `rises` and `points` are as in a file.
    """

    ident: str
    title: str
    joint: str
    segment: str
    axis: str
    points: str
    inclination: TypedQuantity | None
    rises: bool
    find: str
    loads: tuple[NewForce, ...]
    effort: NewForce | None = None
    inclined_to: str = "horizontal"


def refuse_ident(path: Path) -> None:
    """Do nothing where a problem may be called as its file is.

    Raises:
        FileError: where it may not.
    """
    if not IDENT.fullmatch(path.stem) or path.suffix != ".toml":
        expected = "2 to 61 lower-case letters, digits and hyphens, a letter first, then .toml"
        raise FileError([Fault(str(path), "", f'found "{path.name}"', expected)])


def read_back(new: NewProblem) -> Problem:
    """Return the problem that a new file holds.

    Raises:
        FileError: with all that keeps it from being worked.
    """
    path = Path(f"{new.ident}.toml")
    return problem_of(text_of_problem(new), path, path.name)


def text_of_problem(new: NewProblem) -> str:
    """Return the text of a new file."""
    forces = [*new.loads] if new.effort is None else [*new.loads, new.effort]
    marks = dict(zip(forces, _marks(new), strict=True))
    text = _HEAD.format(
        ident=quoted(new.ident), title=quoted(new.title), joint=quoted(new.joint),
        statement=fill(" ".join(_statement(new, marks)), 98), idealised=_idealised(new),
        segment=quoted(new.segment), axis=quoted(new.axis), points=new.points,
        inclination=_inclination(new), length=LONG.replace("d_l", "L"),
    )  # fmt: skip
    for force in forces:
        heading = "[effort]" if force is new.effort else "[[load]]"
        text += f"\n{heading}\n" + "".join(f"{line}\n" for line in _force(force, marks[force]))
    return text + "".join(f"{line}\n" for line in _ask(new, marks))


def _marks(new: NewProblem) -> Iterator[str]:
    """Yield a suffix of its own for each load, by its name, and for the effort."""
    taken = {"m"}
    for load in new.loads:
        letters = [one for one in load.name.casefold() if one.isascii() and one.isalpha()]
        free = (one for one in [*letters, *"abcdefghijklnopqrstuvwxyz"] if one not in taken)
        mark = next(free)
        taken.add(mark)
        yield mark
    if new.effort is not None:
        yield "m"


def _symbol(force: NewForce, mark: str) -> str:
    return f"{'W' if force.is_mass else 'F'}_{mark}"


def _given(force: NewForce, mark: str) -> str:
    """Return the sign of what is given of a force's size."""
    symbol = _symbol(force, mark)
    return mass_key(symbol) if force.is_mass else symbol


def _statement(new: NewProblem, marks: dict[NewForce, str]) -> Iterator[str]:
    """Yield a sentence for the segment, for each force, and the question."""
    if new.inclination is None:
        lies = f"It is level, and points {new.points} from the {new.axis}, which is the axis."
    else:
        way = f"{new.points} and {'up' if new.rises else 'down'}"
        lies = (
            f"It points {way} from the {new.axis}, which is the axis, {{theta}} to the "
            f"{new.inclined_to}."
        )
    yield f"The {new.segment} is held still. {lies}"
    for force, mark in marks.items():
        yield _told(new, force, mark)
    match new.find:
        case "effort" | "load":
            sought = next(force for force in marks if force.size is None)
            yield f"How large is the force of the {sought.name}?"
        case "moment":
            yield f"What net moment must the muscles exert about the {new.axis}?"
        case "moment sum":
            yield f"What is the sum of the moments about the {new.axis}?"
        case _:
            yield f"How large is the force at the {new.axis}, and where does it point?"


def _told(new: NewProblem, force: NewForce, mark: str) -> str:
    """Return what a statement tells of a force."""
    sides = f", on the other side of the {new.axis}" if force.beyond else ""
    place = f"{{d_{mark}}} from the {new.axis}{sides}" if force.at else f"at the {new.axis}"
    if force.is_mass:
        mass = f"its mass is {{{_given(force, mark)}}}"
        return f"The weight of the {force.name} acts {place}; {mass}."
    size = f" with {{{_given(force, mark)}}}" if force.size else ""
    if isinstance(force.direction, str):
        way = _WAYS[force.direction]
    elif isinstance(force.direction, NewBearing):
        way = f"at {{{{alpha_{mark}}}}}, measured anticlockwise from the right"
    else:
        line = "{segment}" if force.direction.line == "segment" else force.direction.line
        half = "upper" if force.direction.side == "above" else "lower"
        way = f"at {{{{alpha_{mark}}}}} to the {line}, {_LEANS[force.direction.toward]}"
        way += f", on the {half} side"
    way = way.format(segment=new.segment, axis=new.axis)
    return f"The force of the {force.name} acts {place}, {way}{size}."


def _idealised(new: NewProblem) -> str:
    texts = [f"the {new.segment} is rigid", f"the {new.axis} is a frictionless hinge"]
    return "[" + ", ".join(quoted(text) for text in texts) + "]"


def _inclination(new: NewProblem) -> str:
    if new.inclination is None:
        return f"# inclination = {ANGLED.replace('alpha', 'theta')}    # to the horizontal"
    line = f', line = "{new.inclined_to}"' if new.inclined_to != "horizontal" else ""
    rises = "" if new.rises else ", rises = false"
    return f'inclination = {{ symbol = "theta"{line}, {new.inclination.toml}{rises} }}'


def _force(force: NewForce, mark: str) -> Iterator[str]:
    """Yield the lines of a force."""
    symbol = _symbol(force, mark)
    yield f'symbol = "{symbol}"'
    yield f"name = {quoted(force.name)}"
    if force.size is not None:
        yield _CHOSEN
        yield f"{'mass' if force.is_mass else 'force'} = {{ {force.size.toml} }}"
    if force.at is None:
        yield 'at = "axis"'
    else:
        beyond = ", beyond = true" if force.beyond else ""
        yield _CHOSEN
        yield f'at = {{ symbol = "d_{mark}", {force.at.toml}{beyond} }}'
        if not force.beyond:
            yield "# beyond = true in it says that it lies on the far side of the axis"
    yield from _direction(force.direction, mark)
    if not force.is_mass:
        yield f"# direction = {TURNED}"


def _direction(direction: str | Slanting | NewBearing, mark: str) -> Iterator[str]:
    if isinstance(direction, str):
        yield f'direction = "{direction}"'
        return
    angle = f'{{ symbol = "alpha_{mark}", {direction.angle.toml} }}'
    if isinstance(direction, NewBearing):
        yield f"direction = {{ bearing = {angle} }}"
        return
    yield (
        f'direction = {{ line = "{direction.line}", toward = "{direction.toward}", '
        f'side = "{direction.side}", angle = {angle} }}'
    )


def _ask(new: NewProblem, marks: dict[NewForce, str]) -> Iterator[str]:
    yield "\n[ask]"
    sought = [_symbol(force, mark) for force, mark in marks.items() if force.size is None]
    yield f'find = "{sought[0] if sought else new.find}"'
    if new.find != "reaction":
        yield '# method = "components"    # forces are split, in place of finding moment arms'
        yield "# reaction = false         # stop before the reaction"
    if new.effort is not None:
        yield "# ratios = false           # neither mechanical advantage nor class of lever"
