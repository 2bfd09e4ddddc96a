"""The catalogue of slips, general hints and terms, read from the folder `hints`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from leverstep.course.faults import (
    LARGEST,
    Fault,
    FileError,
    Reader,
    failing_as_fault,
    is_number,
    told,
)
from leverstep.course.libraries import Libraries
from leverstep.course.numbers import LONGEST_SEED, is_seed
from leverstep.course.places import shipped, toml_files
from leverstep.course.plain_text import shown
from leverstep.course.toml import parsed, text_of
from leverstep.glossary.term import GlossaryTerm, read_term
from leverstep.slips.hint_texts import check_places, check_short
from leverstep.slips.picture_slips import PictureSlip, SlipWords, read_slip_words
from leverstep.statics.choices import CHOICE_KINDS
from leverstep.statics.kinds import KINDS
from leverstep.statics.units import unit

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

HINT_TABLES = frozenset(("slip", "step", "misconception", "term", "diagram_slip"))
"""What a hint file lists."""

MOST_TABLES = 500
"""Slips, steps, misconceptions and terms of one file; those that ship have up to a hundred."""

MOST_ALTERNATIVES = 50
"""Ways in which one slip may change its choices: each is tried on every line."""

LONGEST_REASON = 120
"""A reason stands on the line of a summary, so it is kept this short."""

LONGEST_MISCONCEPTION = 120
"""So is what is wrongly thought, and what is told of it: three stand below each other."""

ROLES = ("own weight", "load", "effort", "partner", "antagonist", "inertia", "line", "part")
STEP_KINDS = tuple(KINDS)
EVERY = {
    "every number": tuple(kind.name for kind in KINDS.values() if kind.is_number),
    "every size": tuple(kind.name for kind in KINDS.values() if kind.is_size),
}
"""What stands for many kinds at once, in place of a list of them."""

PLACEHOLDERS = frozenset(
    [
        "symbol",
        "name",
        "axis",
        "segment",
        "effort",
        "reaction",
        "given",
        "other",
        "other_symbol",
        "other_line",
        "formula",
        "line",
        "unit",
        "size_of_unit",
        "copied",
    ]
)


@dataclass(frozen=True, slots=True)
class Hint:
    """Three texts from where to look, over what seems to have happened, to the line worked out.

    The second is "" in a general hint that has nothing to say before the formula.
    """

    look: str
    happened: str
    worked: str


@dataclass(frozen=True, slots=True)
class GeneralHint:
    """The hint of a kind of line whatever was typed, and in one sentence why it is written.

    `given` limits it to lines that start from a given in one of these units; empty means any.
    """

    given: tuple[str, ...]
    hint: Hint
    because: str


@dataclass(frozen=True, slots=True)
class Misconception:
    """A wrong reason for a kind of line: what is thought, and what is told to who chooses it.

    `id` is what an answer is kept by. `given` limits it as it does a general hint.
    """

    id: str
    given: tuple[str, ...]
    thought: str
    told: str


@dataclass(frozen=True, slots=True)
class WrongLine:
    """A wrong entry on a line of a problem with the numbers of a seed, which shows a slip."""

    problem: str
    seed: str
    line: str
    entry: str


@dataclass(frozen=True, slots=True)
class Slip:
    """One slip: where it can be made, what it changes, how common it is, and its hint.

    `changes` lists the alternatives, each a value for every kind of choice it changes. `given`
    limits it to givens in these units, `roles` to choices about forces of these roles, or about the
    whole line; empty means any.
    `rounding` is set for early rounding: the figures that the earlier values were cut to;
    `another_line` for the value of another line in place of this one's, `another_posture` for that
    of the same kind of line in another posture; `miscopied` for a number that was copied with its
    digits changed.
    `reason` says in one sentence why it is wrong, for a student who makes it again and again.
    `wrong` is a line that it is to be found behind, None where no problem has one.
    """

    id: str
    name: str
    kinds: tuple[str, ...]
    changes: tuple[tuple[tuple[str, float], ...], ...]
    hint: Hint
    reason: str
    wrong: WrongLine | None
    often: int = 2
    given: tuple[str, ...] = ()
    roles: tuple[str, ...] = ()
    rounding: int = 0
    another_line: bool = False
    another_posture: bool = False
    miscopied: bool = False

    def takes_place_of(self, other: Slip) -> bool:
        """Return whether this slip, read after another, is told in its place wherever both fit."""
        return (
            self.often >= other.often
            and bool(
                {frozenset(one) for one in self.changes} & {frozenset(o) for o in other.changes}
            )
            and all(
                not mine or not theirs or bool(set(mine) & set(theirs))
                for mine, theirs in (
                    (self.kinds, other.kinds),
                    (self.given, other.given),
                    (self.roles, other.roles),
                )
            )
        )


@dataclass(frozen=True, eq=False)
class Catalogue:
    """All slips by id, and the general hints of each kind of step, the first that applies first.

    `misconceptions` are the wrong reasons for each kind of step, from which answers are offered.
    `terms` are those of the course by name, `diagram_slips` the words of slips in free-body
    diagrams; no slip is looked for by them.
    `files` are those that were read, `faults` those of a teacher's own files that were left out.
    Two are equal that hold the same in the same order, by which slips are looked for: so what was
    found with one is found again with a copy that came to another process.
    """

    slips: dict[str, Slip]
    general: dict[str, list[GeneralHint]]
    files: tuple[Path, ...] = ()
    faults: tuple[Fault, ...] = ()
    terms: dict[str, GlossaryTerm] = field(default_factory=dict)
    misconceptions: dict[str, list[Misconception]] = field(default_factory=dict)
    diagram_slips: dict[PictureSlip, SlipWords] = field(default_factory=dict)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Catalogue) and self._parts == other._parts

    def __hash__(self) -> int:
        return len(self.slips)  # asked for all the time, and few are ever held beside each other

    @property
    def _parts(self) -> tuple[object, ...]:
        return [*self.slips.items()], [*self.general.items()], self.files, self.faults

    def general_hint(self, kind: str, unit_given: str) -> GeneralHint:
        """Return the general hint of a kind of step that starts from a given in some unit."""
        hints = self.general[kind]
        return next((one for one in hints if not one.given or unit_given in one.given), hints[-1])

    def misconceptions_at(self, kind: str, unit_given: str) -> tuple[Misconception, ...]:
        """Return the wrong reasons for a kind of step that starts from a given in some unit."""
        there = self.misconceptions.get(kind, ())
        return tuple(one for one in there if not one.given or unit_given in one.given)

    def with_file(self, path: Traversable, name: str) -> Catalogue:
        """Return the catalogue with the slips and hints of one more file.

        A file with a fault is left out, and its faults are kept, with the file called `name`.
        """
        general = {kind: [*hints] for kind, hints in self.general.items()}
        grown = Catalogue(dict(self.slips), general, terms=dict(self.terms))
        grown.diagram_slips.update(self.diagram_slips)
        grown.misconceptions.update({kind: [*told] for kind, told in self.misconceptions.items()})
        found = _add_file(path, name, grown)
        files, faults = (*self.files, Path(str(path))), (*self.faults, *found)
        return replace(self if found else grown, files=files, faults=faults)


def catalogue_in_use(libraries: Libraries) -> Catalogue:
    """Return the catalogue that ships, with the slips of a teacher's own libraries.

    An own file with a fault is left out, and its faults are kept in the catalogue.
    """
    return load_catalogue([shipped("hints")], libraries.folders("hints"))


def load_catalogue(folders: Iterable[Traversable], own: Iterable[Traversable] = ()) -> Catalogue:
    """Return the catalogue of some folders, and of those `own` files that have no fault.

    Raises:
        FileError: with every fault of every file of `folders`.
    """
    catalogue = catalogue_of(_files(folders))
    for path in _files(own):
        catalogue = catalogue.with_file(path, path.name)
    return catalogue


def catalogue_of(files: Sequence[Traversable]) -> Catalogue:
    """Return the catalogue of some files.

    Raises:
        FileError: with every fault of every file.
    """
    catalogue = Catalogue({}, {}, tuple(Path(str(path)) for path in files))
    faults = [fault for path in files for fault in _add_file(path, path.name, catalogue)]
    if faults:
        raise FileError(faults)
    return catalogue


def _files(folders: Iterable[Traversable]) -> list[Traversable]:
    return [path for folder in folders for path in toml_files(folder)]


def _add_file(path: Traversable, name: str, catalogue: Catalogue) -> tuple[Fault, ...]:
    """Add the slips, general hints and terms of a file, called `name`; return its faults."""
    try:
        with failing_as_fault(name):
            reader = Reader(name, parsed(text_of(path, name), name))
            _add_tables(reader, catalogue)
            return told(reader.faults)
    except FileError as error:
        return error.faults


def _add_tables(reader: Reader, catalogue: Catalogue) -> None:
    """Add the slips, general hints and terms of a file that could be parsed."""
    for item in _tables(reader, "slip"):
        slip = _read_slip(item)
        if slip.id in catalogue.slips:
            item.fault("id", f'"{slip.id}" is taken', "a new id")
        catalogue.slips[slip.id] = slip
    for item in _tables(reader, "step"):
        kinds = _kinds(item)
        general = GeneralHint(_units(item), _read_hint(item, is_general=True), item.text("because"))
        check_places(item, "because", general.because, PLACEHOLDERS)
        item.finish()
        for kind in kinds:
            catalogue.general.setdefault(kind, []).append(general)
    for item in _tables(reader, "misconception"):
        _add_misconception(item, catalogue)
    catalogue.terms.update(_read_terms(reader))
    catalogue.diagram_slips.update(_read_diagram_slips(reader))
    reader.asked |= HINT_TABLES
    reader.finish()


def _add_misconception(reader: Reader, catalogue: Catalogue) -> None:
    """Add a wrong reason for some kinds of steps; no two have one id, or one text at a kind."""
    wrong = Misconception(
        reader.text("id"), _units(reader), reader.text("thought"), reader.text("told")
    )
    for key, text in (("thought", wrong.thought), ("told", wrong.told)):
        check_short(reader, key, text, LONGEST_MISCONCEPTION)
        check_places(reader, key, text, PLACEHOLDERS)
        if text and not text.endswith("."):
            reader.fault(key, f"found {shown(text)}", "a sentence with a full stop")
    if any(wrong.id == one.id for there in catalogue.misconceptions.values() for one in there):
        reader.fault("id", f'"{wrong.id}" is taken', "a new id")
    for kind in _kinds(reader):
        there = catalogue.misconceptions.setdefault(kind, [])
        if any(wrong.thought == other.thought for other in there):
            reader.fault("thought", "it is there already", "another wrong reason")
        if any(wrong.thought == one.because for one in catalogue.general.get(kind, ())):
            reader.fault("thought", f'it is right for "{kind}"', "a reason that is wrong")
        there.append(wrong)
    reader.finish()


def _read_terms(reader: Reader) -> dict[str, GlossaryTerm]:
    """Return the terms of a file by name; each takes the place of one of that name read before."""
    terms: dict[str, GlossaryTerm] = {}
    for item in _tables(reader, "term"):
        term = read_term(item)
        if term.name in terms:
            item.fault("name", f'"{term.name}" is taken in this file', "each term once")
        terms[term.name] = term
    return terms


def _read_diagram_slips(reader: Reader) -> dict[PictureSlip, SlipWords]:
    """Return the words of a file for slips in diagrams; each in the place of those read before."""
    found: dict[PictureSlip, SlipWords] = {}
    for item in _tables(reader, "diagram_slip"):
        words = read_slip_words(item)
        if words is None:
            continue
        if words.id in found:
            item.fault("id", f'"{words.id}" is taken in this file', "each slip once")
        found[words.id] = words
    return found


def _tables(reader: Reader, key: str) -> list[Reader]:
    """Return the slips, or whatever a file lists under a key, if there are any."""
    return reader.children(key, f"a list of {key}s", MOST_TABLES) if reader.has(key) else []


def _read_slip(reader: Reader) -> Slip:
    rounding = _whole(reader, "rounding", 0, 6) if reader.has("rounding") else 0
    another_line = reader.flag("another_line", False)
    another_posture = reader.flag("another_posture", False)
    miscopied = reader.flag("miscopied", False)
    is_changed = not (rounding or another_line or another_posture or miscopied)
    slip = Slip(
        id=reader.text("id"),
        name=reader.text("name"),
        kinds=_kinds(reader),
        changes=_changes(reader) if is_changed else (),
        hint=_read_hint(reader),
        reason=_read_reason(reader),
        wrong=_read_wrong(reader),
        often=_whole(reader, "often", 2, 3),
        given=_units(reader),
        roles=reader.texts("roles"),
        rounding=rounding,
        another_line=another_line,
        another_posture=another_posture,
        miscopied=miscopied,
    )
    for role in slip.roles:
        if role not in ROLES:
            reader.fault(
                "roles", f'found "{role}"{reader.near(role, ROLES)}', "one of " + ", ".join(ROLES)
            )
    reader.finish()
    return slip


def _read_reason(reader: Reader) -> str:
    """Return why a slip is wrong: short, and about no place, so without anything to fill in."""
    reason = reader.text("reason")
    check_short(reader, "reason", reason, LONGEST_REASON)
    if set("{}") & set(reason):
        reader.fault("reason", "found a brace", "a sentence that holds for every problem")
    return reason


def _read_wrong(reader: Reader) -> WrongLine | None:
    """Return the line that shows a slip; None for `false`, where no problem has such a line."""
    if reader.has("wrong") and reader.table["wrong"] is False:
        reader.asked.add("wrong")
        return None
    table = reader.child("wrong")
    if table is None:
        return None
    line = WrongLine(*(table.text(key) for key in ("problem", "seed", "line", "entry")))
    if line.seed and not is_seed(line.seed):
        table.fault("seed", f"found {shown(line.seed)}", f"at most {LONGEST_SEED} characters")
    table.finish()
    return line


def _units(reader: Reader) -> tuple[str, ...]:
    """Return the units of givens that a slip or a hint is limited to."""
    units = reader.texts("given")
    for spelling in units:
        known = unit(spelling)
        if known is None or known.sign != spelling:
            reader.fault("given", f"found {shown(spelling)}", "the short signs of units")
    return units


def _whole(reader: Reader, key: str, default: int, most: int) -> int:
    """Return a whole number from 1 to `most`."""
    value = reader.number(key, Fraction(default))
    if value.denominator != 1 or not 1 <= value <= most:
        reader.fault(key, f"found {float(value):g}", f"a whole number from 1 to {most}")
        return max(1, default)
    return int(value)


def _kinds(reader: Reader) -> tuple[str, ...]:
    """Return the kinds listed, or every kind of one sort without those of `but`."""
    if not isinstance(reader.table.get("kinds"), str):
        return _kinds_listed(reader, "kinds", STEP_KINDS)
    kinds = EVERY[reader.choice("kinds", EVERY)]
    left_out = _kinds_listed(reader, "but", kinds) if reader.has("but") else ()
    return tuple(kind for kind in kinds if kind not in left_out)


def _kinds_listed(reader: Reader, key: str, possible: tuple[str, ...]) -> tuple[str, ...]:
    """Return the kinds that a key lists, some of those `possible`."""
    kinds = reader.texts(key)
    if not kinds:
        reader.fault(key, "missing", "the kinds of steps it concerns")
    for kind in dict.fromkeys(kinds):
        if kind not in possible:
            expected = "one of " + ", ".join(possible)
            reader.fault(key, f'found "{kind}"{reader.near(kind, possible)}', expected)
    return kinds


def _changes(reader: Reader) -> tuple[tuple[tuple[str, float], ...], ...]:
    """Return every alternative of `change`: a kind may have several values, one at a time."""
    table = reader.child("change")
    if table is None:
        return ()
    if not table.table:
        table.fault("", "empty", "at least one choice with its value")
    alternatives: list[tuple[tuple[str, float], ...]] = [()]
    for kind, value in table.table.items():
        table.asked.add(kind)
        if kind not in CHOICE_KINDS:
            found = f"unknown choice{table.near(kind, CHOICE_KINDS)}"
            table.fault(kind, found, "one of " + ", ".join(CHOICE_KINDS))
        values: list[Any] = value if isinstance(value, list) else [value]
        if not (values and all(is_number(v) and -LARGEST <= v <= LARGEST for v in values)):
            table.fault(kind, f"found {shown(value)}", "a number or a list of numbers")
            continue
        if len(values) * len(alternatives) > MOST_ALTERNATIVES:
            table.fault("", "too many ways to combine its values", f"at most {MOST_ALTERNATIVES}")
            return ()
        alternatives = [(*chosen, (kind, float(v))) for chosen in alternatives for v in values]
    return tuple(alternatives)


def _read_hint(reader: Reader, is_general: bool = False) -> Hint:
    happened = reader.text("happened", "" if is_general else None)
    hint = Hint(reader.text("look"), happened, reader.text("worked", "Worked out: {line}"))
    for key, text in (("look", hint.look), ("happened", happened), ("worked", hint.worked)):
        check_places(reader, key, text, PLACEHOLDERS)
    return hint
