"""From a problem file to a `Problem`, or to all that is wrong with the file.

problems/README.md documents the format.
"""

from __future__ import annotations

import re
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Literal, cast

from tutor.course.faults import LARGEST, Fault, FileError, Reader, near
from tutor.course.numbers import Range
from tutor.course.problem import PLACEHOLDER, TOLERANCE, Problem
from tutor.statics.balance import resisting
from tutor.statics.posture import Direction, Distance, Force, Given, Posture
from tutor.statics.step import Draft
from tutor.statics.turn import own_keys, passes_axis
from tutor.statics.units import ANGLE, FORCE, LENGTH, MASS, NUMBER, Dimension, unit

LARGEST_FILE = 200_000
"""Bytes; a problem file is some kilobytes."""

MOST_VALUES = 100_000
"""The most values that one given may take."""

_SYMBOL = re.compile(r"[A-Za-z]{1,8}(_[A-Za-z0-9]{1,8})?")
_ID = re.compile(r"[a-z][a-z0-9-]{1,60}")
_UNITS: dict[Dimension, tuple[str, ...]] = {
    MASS: ("kg", "g", "lb", "oz", "st"),
    FORCE: ("N", "kN", "lbf"),
    LENGTH: ("m", "cm", "mm", "in", "ft"),
    ANGLE: ("deg",),
    NUMBER: ("",),
}
_STRAIGHT: dict[str, Direction] = {
    "up": Direction("vertical", side="above"),
    "down": Direction("vertical", side="below"),
    "left": Direction("horizontal", toward="left"),
    "right": Direction("horizontal", toward="right"),
    "perpendicular above": Direction("segment", side="above"),
    "perpendicular below": Direction("segment", side="below"),
}
_RESERVED = {"g", "M_sum", "MA", "AR", "R", "R_x", "R_y", "phi_R", "R_dir", "class", "equation"}


def read_problem(path: Path, called: str = "") -> Problem:
    """Return the problem of a file, `called` so in its faults (its bare name unless given).

    Raises:
        FileError: with every fault of the file.
    """
    name = called or path.name
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise FileError([Fault(name, "", "the file is too large", "some kilobytes")])
        table = tomllib.loads(path.read_text(encoding="utf-8"), parse_float=_exact)
    except OSError as error:
        reason = error.strerror or "can't be opened"
        raise FileError([Fault(name, "", reason, "a readable file")]) from error
    except (tomllib.TOMLDecodeError, ValueError, RecursionError) as error:
        raise FileError([Fault(name, "", str(error), "a TOML file")]) from error
    draft = _Draft(Reader(name, table))
    problem = draft.problem(path)
    if draft.reader.faults or problem is None:
        raise FileError(draft.reader.faults)
    return problem


def _exact(text: str) -> Fraction | float:
    """Return a decimal exactly, but a float for what is no number, or none that a course has.

    Written out, a number such as 1e999999999 would fill the memory.
    """
    number = float(text)
    if number == 0:
        return Fraction(0)
    return Fraction(text) if 1 / LARGEST < abs(number) <= LARGEST else number


class _Draft:
    """One file being read: collects ranges, names and symbols on the way."""

    def __init__(self, reader: Reader) -> None:
        self.reader = reader
        self.ranges: dict[str, Range] = {}
        self.placeholders: dict[str, Given] = {}
        self.names: dict[str, str] = {}
        self.places: dict[str, str] = {}
        self.symbols: dict[str, str] = {}

    def problem(self, path: Path) -> Problem | None:
        reader = self.reader
        ident = reader.text("id")
        if ident and not _ID.fullmatch(ident):
            reader.fault("id", f'found "{ident}"', "lower-case letters, digits and hyphens")
        elif ident and ident != path.stem:
            reader.fault("id", f'found "{ident}"', f'the name of the file, "{path.stem}"')
        title, joint = reader.text("title"), reader.text("joint")
        difficulty = reader.number("difficulty", Fraction(1))
        if difficulty not in (1, 2, 3):
            reader.fault("difficulty", f"found {float(difficulty):g}", "1, 2 or 3")
        tolerance = reader.number("tolerance", TOLERANCE)
        if not 0 < tolerance <= Fraction(1, 10):
            reader.fault("tolerance", f"found {float(tolerance):g}", "above 0, at most 0.1")
        statement, idealised = reader.text("statement"), reader.texts("idealised")
        segment_table = reader.child("segment")
        segment, axis, reaction = "", "", ""
        if segment_table is not None:
            segment, axis = segment_table.text("name"), segment_table.text("axis")
            reaction = segment_table.text("reaction", "joint reaction")
        posture = self._posture(segment_table)
        reader.finish()
        self._check_statement(statement)
        if posture is None or reader.faults:
            return None
        return Problem(
            ident, title, joint, int(difficulty), statement, segment, axis, posture, self.names,
            self.ranges, self.placeholders, self.places, reaction, idealised, tolerance, path,
        )  # fmt: skip

    def _check_statement(self, statement: str) -> None:
        for name in PLACEHOLDER.findall(statement):
            if name not in self.placeholders:
                found = f"{{{name}}} stands for nothing{near(name, self.placeholders)}"
                expected = "one of " + ", ".join(f"{{{known}}}" for known in self.placeholders)
                self.reader.fault("statement", found, expected)
        if set("{}") & set(PLACEHOLDER.sub("", statement)):
            self.reader.fault("statement", "found a brace without its other", "{ and } in pairs")

    def _posture(self, segment: Reader | None) -> Posture | None:
        reader = self.reader
        length = inclination = None
        rises, points = True, "right"
        if segment is not None:
            points = segment.choice("points", ("right", "left"), "right")
            table = segment.child("length", needed=False)
            length = None if table is None else self._distance(table, measured=True)
            table = segment.child("inclination", needed=False)
            if table is not None:
                rises = table.flag("rises", True)
                inclination = self._angle(table)
            segment.finish()
        effort_table = reader.child("effort")
        effort = None if effort_table is None else self._force(effort_table, known=False)
        loads = [
            self._force(table, known=True)
            for table in reader.children("load", "at least one [[load]]")
        ]
        ask = reader.child("ask", needed=False)
        turns = reader.choice("positive", ("counter-clockwise", "clockwise"), "counter-clockwise")
        by_components, arm_ratio_of, reaction = self._asked(ask)
        if effort is None or not loads or reader.faults:
            return None
        posture = Posture(
            effort, tuple(loads), length, inclination,
            cast(Literal["left", "right"], points), rises,
            1 if turns == "counter-clockwise" else -1, by_components, arm_ratio_of, reaction,
        )  # fmt: skip
        self._check_distances(posture)
        if not reader.faults:
            self._check_steps(posture)
        return posture

    def _asked(self, ask: Reader | None) -> tuple[bool, str | None, bool]:
        if ask is None:
            return False, None, True
        by = ask.choice("method", ("moment arms", "components"), "moment arms")
        arm_ratio_of = ask.text("arm_ratio_of", "") or None
        loads = list(self.names)[1:]  # the effort is read first
        if arm_ratio_of is not None and arm_ratio_of not in loads:
            found = f'found "{arm_ratio_of}"{near(arm_ratio_of, loads)}'
            ask.fault("arm_ratio_of", found, "the symbol of a load")
        reaction = ask.flag("reaction", True)
        ask.finish()
        return by == "components", arm_ratio_of, reaction

    def _check_distances(self, posture: Posture) -> None:
        known = {force.at.symbol for force in posture.forces}
        if posture.length is not None:
            known.add(posture.length.symbol)
        for force in posture.forces:
            if force.at.of is not None and force.at.of not in known:
                found = f'{force.at.symbol} is a fraction of "{force.at.of}"'
                expected = "a distance of this problem" + near(force.at.of, known)
                self.reader.fault("load", found, expected)
                return
        try:
            posture.distances  # noqa: B018  (evaluated for what it raises)
        except ValueError as error:
            self.reader.fault("load", str(error), "at least one of them measured")

    def _check_steps(self, posture: Posture) -> None:
        """Note what keeps the working from being written: names that clash, or no balance."""
        draft = Draft(posture, {key: float(span.middle()) for key, span in self.ranges.items()})
        taken = set(self.symbols)
        for force in posture.forces:
            for key in own_keys(draft, force):
                if key in taken:
                    found = f'"{key}" is also what a step about {force.symbol} is called'
                    self.reader.fault("symbol", found, "another symbol")
                taken.add(key)
        if passes_axis(draft, posture.effort):
            found = "the effort acts through the axis"
            self.reader.fault("effort.direction", found, "an effort that has a moment")
        elif not resisting(draft):
            found = "the effort turns the same way as every load"
            self.reader.fault("effort.direction", found, "an effort against some load")

    def _new_symbol(self, reader: Reader, default: str | None = None) -> str:
        """Return the symbol of a table, noting one that is not well made or already taken."""
        symbol = reader.text("symbol", default)
        if not symbol:
            return symbol
        if not _SYMBOL.fullmatch(symbol):
            reader.fault("symbol", f'found "{symbol}"', "letters, then perhaps _ and letters")
        elif symbol in _RESERVED or unit(symbol) is not None:
            reader.fault("symbol", f'"{symbol}" has a meaning of its own', "another symbol")
        elif symbol in self.symbols:
            reader.fault("symbol", f'"{symbol}" is taken by {self.symbols[symbol]}', "a new one")
        self.symbols[symbol] = reader.path
        return symbol

    def _force(self, reader: Reader, known: bool) -> Force:
        symbol = self._new_symbol(reader)
        if symbol and "_" not in symbol:
            reader.fault("symbol", f'found "{symbol}"', 'a letter, "_" and letters, as in "W_l"')
        self.names[symbol] = reader.text("name")
        magnitude = self._magnitude(reader, symbol) if known else None
        own_weight = reader.flag("own_weight", False) if known else False
        at_table = reader.child("at")
        at = Distance("", Given("", ""))
        turns = None
        if at_table is not None:
            at = self._distance(at_table)
            if at_table.has("place"):
                self.places[symbol] = at_table.text("place")
            if at.perpendicular:
                sense = at_table.choice("turns", ("counter-clockwise", "clockwise"))
                turns = 1 if sense == "counter-clockwise" else -1
            at_table.finish()
        direction = self._direction(reader)
        reader.finish()
        return Force(symbol, at, direction, magnitude, turns, own_weight)

    def _magnitude(self, reader: Reader, symbol: str) -> Given:
        """Return the size of a known force, given as a mass or as a force."""
        if reader.has("mass") == reader.has("force"):
            reader.asked |= {"mass", "force"}
            found = "both are given" if reader.has("mass") else "neither is given"
            reader.fault("mass / force", found, "either a mass or a force")
            return self._unknown_magnitude(symbol)
        if reader.has("mass"):
            table = reader.child("mass")
            sign = "m" + symbol[1:]
            dimension, key = MASS, sign
        else:
            table = reader.child("force")
            sign, dimension, key = symbol, FORCE, f"given_{symbol}"
        if table is None:
            return self._unknown_magnitude(symbol)
        if reader.has("mass"):
            self._new_symbol(Reader(reader.file, {"symbol": sign}, reader.faults, table.path))
        given = self._given(table, key, sign, dimension)
        table.finish()
        self.placeholders[symbol] = self.placeholders[sign] = given
        return given

    def _unknown_magnitude(self, symbol: str) -> Given:
        """Return a stand-in for a size with a fault, which a statement may still name."""
        given = Given("", "")
        self.placeholders[symbol] = self.placeholders["m" + symbol[1:]] = given
        return given

    def _distance(self, reader: Reader, measured: bool = False) -> Distance:
        symbol = self._new_symbol(reader)
        if reader.has("fraction") and not measured:
            share = reader.number("fraction")
            of = reader.text("of")
            if not 0 < share < 2:
                reader.fault("fraction", f"found {float(share):g}", "between 0 and 2")
            given = Given(f"fraction_{symbol}", "")
            self.ranges[given.key] = Range(share, share, Fraction(0))
            distance = Distance(symbol, given, of, reader.flag("beyond", False))
        else:
            given = self._given(reader, f"given_{symbol}", symbol, LENGTH)
            beyond = not measured and reader.flag("beyond", False)
            perpendicular = not measured and reader.flag("perpendicular", False)
            distance = Distance(symbol, given, None, beyond, perpendicular)
        self.placeholders[symbol] = given
        if measured:
            reader.finish()
        return distance

    def _angle(self, reader: Reader) -> Given:
        symbol = self._new_symbol(reader)
        given = self._given(reader, symbol, symbol, ANGLE)
        span = self.ranges[given.key]
        if not (span.low > 0 and span.high <= 90):
            reader.fault("value", f"found {float(span.low):g} to {float(span.high):g}", "0 to 90")
        self.placeholders[symbol] = given
        reader.finish()
        return given

    def _direction(self, reader: Reader) -> Direction:
        value = reader.table.get("direction")
        if not isinstance(value, dict):
            name = reader.choice("direction", tuple(_STRAIGHT))
            return _STRAIGHT.get(name, _STRAIGHT["down"])
        table = reader.child("direction")
        assert table is not None, "a table, as just seen"
        line = table.choice("line", ("segment", "horizontal", "vertical"))
        ends = ("axis", "end") if line == "segment" else ("left", "right")
        toward = table.choice("toward", ends)
        side = table.choice("side", ("above", "below"))
        angle_table = table.child("angle")
        angle = None if angle_table is None else self._angle(angle_table)
        table.finish()
        return Direction(
            cast(Literal["segment", "horizontal", "vertical"], line), angle,
            cast(Literal["axis", "end", "left", "right"], toward),
            cast(Literal["above", "below"], side),
        )  # fmt: skip

    def _given(self, reader: Reader, key: str, sign: str, dimension: Dimension) -> Given:
        """Return a given with its unit, and keep its range."""
        units = _UNITS[dimension]
        sign_of_unit = reader.choice("unit", units)
        self.ranges[key] = self._range(reader)
        return Given(key, sign, sign_of_unit)

    def _range(self, reader: Reader) -> Range:
        if not reader.has("from"):
            value = reader.number("value")
            if value <= 0:
                reader.fault("value", f"found {float(value):g}", "a number above 0")
            return Range(value, value, Fraction(0))
        faults_before = len(reader.faults)
        low, high, step = reader.number("from"), reader.number("to"), reader.number("step")
        span = Range(low, high, step)
        if len(reader.faults) > faults_before:
            pass  # what is to be compared could not be read
        elif not (0 < low <= high):
            reader.fault("from / to", f"found {float(low):g} to {float(high):g}", "0 < from <= to")
        elif step <= 0 or (high - low) % step:
            reader.fault("step", f"found {float(step):g}", "a step that leads from `from` to `to`")
        elif span.count > MOST_VALUES:
            reader.fault("step", f"{span.count} values", f"at most {MOST_VALUES}")
        else:
            return span
        return Range(Fraction(1), Fraction(1), Fraction(0))
