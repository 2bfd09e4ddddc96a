"""Asking a teacher what there is in a new problem, one thing after the other, in plain lines."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from pathlib import Path

from leverstep.course.faults import FileError
from leverstep.course.forces import STRAIGHT
from leverstep.course.plain_text import near
from leverstep.course.problem_examples import FORMS, copy_of
from leverstep.course.problem_file import MOST_LOADS
from leverstep.course.problem_writing import (
    FOUND,
    MASSES,
    NewBearing,
    NewForce,
    NewProblem,
    Slanting,
    read_back,
)
from leverstep.course.typed_quantity import TypedQuantity, typed_quantity
from leverstep.faces.lines.questions import Questions, title_of
from leverstep.faces.terminal import Listen, Say
from leverstep.statics.units import ANGLE, FORCE, LENGTH, units_for

LONGEST_NAME = 40
_FORCES, _LENGTHS, _ANGLES = units_for(FORCE), units_for(LENGTH), units_for(ANGLE)
_SLANTING = ("angle", "bearing")
_WAYS = (*STRAIGHT, *_SLANTING)
_OTHER = "other"


class ProblemAsker(Questions):
    """Asks for what a new problem is to hold; what can't be used is asked for again."""

    def __init__(self, path: Path, joints: Collection[str], say: Say, listen: Listen) -> None:
        """Begin.

        Args:
            path: where the problem will lie.
            joints: those of the problems there are.
            say: what says a line.
            listen: what asks for one, with a prompt.
        """
        super().__init__(say, listen)
        self._path = path
        self._joints = joints

    def wanted(self) -> NewProblem | str:
        """Return what is wanted, or the text of a problem that ships, as a copy to be changed.

        Raises:
            EOFError: where the input ends before that.
        """
        self.say("Press Enter alone to take what is in brackets.")
        title = self.until(f"Title [{self._path.stem}]: ", title_of) or self._path.stem
        joint = self._joint()
        self.say("To be found is the size of the effort (a muscle, or a hand that holds), the size")
        self.say("of a load, the net moment of the muscles, the sum of the moments, or, where all")
        self.say(
            "forces act at the axis, the reaction there. Other forms, such as a chain of segments"
        )
        self.say("or a centre of mass, are copied from a whole example, for you to change.")
        find = self.one_of(
            f"To be found: {', '.join((*FOUND, _OTHER))}", (*FOUND, _OTHER), "effort"
        )
        if find == _OTHER:
            return self._copied(title, joint)
        segment = self.until("Segment, the rigid part that is held still, such as forearm: ", _name)
        axis = self._axis(joint)
        points = self.one_of(
            "It points from the axis to the right or left", ("right", "left"), "right"
        )
        inclination, inclined_to, rises = self._inclination()
        self.say("A quantity is one number for all students, such as 5 kg, or a range, such as")
        self.say("2 to 6 kg or 2 to 6 by 0.5 kg, from which each student's number is drawn.")
        loads = self._loads(find)
        new = NewProblem(
            self._path.stem, title, joint, segment, axis, points, inclination, rises, find, loads,
            inclined_to=inclined_to,
        )  # fmt: skip
        return self._with_effort(new) if find in ("effort", "load") else new

    def _copied(self, title: str, joint: str) -> str:
        """Return the whole example of another form, called as this problem is."""
        names = [form.name for form in FORMS]
        for form in FORMS:
            self.say(f"  {form.name}: {form.told}")
        name = self.one_of("Form", names, names[0])
        form = FORMS[names.index(name)]
        self.say(f"It is a copy of {form.example}: its words and numbers are for you to change.")
        self.say("problems/README.md says what else each part of it may hold.")
        return copy_of(form, self._path.stem, title, joint)

    def _joint(self) -> str:
        """Return the joint; one nearly called as another is asked for twice."""
        asked_for: set[str] = set()

        def read(typed: str) -> str:
            joint = _name(typed or "plain").casefold()
            if meant := "" if joint in {*self._joints, *asked_for} else near(joint, self._joints):
                asked_for.add(joint)
                raise ValueError(f"No problem has this joint{meant}. Type it again for a new one.")
            return joint

        self.say("A joint of other problems, or a new one. There are:")
        self.say(f"{', '.join(self._joints)}.")
        return self.until("Joint [plain]: ", read)

    def _axis(self, joint: str) -> str:
        if joint == "plain":
            return self.until("Its axis, such as pivot: ", _name)
        return self.until(f"Its axis [{joint}]: ", lambda typed: _name(typed or joint))

    def _inclination(self) -> tuple[TypedQuantity | None, str, bool]:
        """Return the angle of the segment, if any, the line it is to, and whether it rises."""
        prompt = "Its angle to the horizontal or the vertical, such as 30 or 20 to 40 [level]: "
        angle = self.until(prompt, lambda typed: _angle(typed) if typed else None)
        if angle is None:
            return None, "horizontal", True
        lines = ("horizontal", "vertical")
        line = self.one_of("  To that line: horizontal or vertical", lines, "horizontal")
        way = self.one_of("It rises or falls from the axis", ("rises", "falls"), "rises")
        return angle, line, way == "rises"

    def _loads(self, find: str) -> tuple[NewForce, ...]:
        """Return the loads, as many as are named; one has no size where that is to be found."""
        loads: list[NewForce] = []
        is_open = find == "load"
        while len(loads) < MOST_LOADS:
            prompt = f"Load {len(loads) + 1}, such as pail{' [no more]' * bool(loads)}: "
            name = self.until(prompt, lambda typed: _name(typed) if typed or not loads else "")
            if name:
                loads.append(self._force(name, may_be_open=is_open, at_axis=find == "reaction"))
                is_open = is_open and loads[-1].size is not None
            elif is_open:
                self.say("One load is to be found: press Enter alone where its size is asked for.")
            else:
                break
        return tuple(loads)

    def _force(self, name: str, *, may_be_open: bool = False, at_axis: bool = False) -> NewForce:
        """Return a load by its name."""
        prompt = "  Its mass or force, such as 2 to 6 kg, or 20 N"
        prompt += " [to be found]: " if may_be_open else ": "
        units = (*MASSES, *_FORCES)
        size = self.until(
            prompt, lambda typed: typed_quantity(typed, units) if typed or not may_be_open else None
        )
        at, beyond = (None, False) if at_axis else self._place()
        is_mass = size is not None and size.unit in MASSES
        direction = "down" if is_mass else self._direction("down")
        return NewForce(name, size, at, direction, beyond)

    def _place(self) -> tuple[TypedQuantity, bool]:
        """Return how far from the axis a force acts, and whether that is beyond it."""
        at = self.until(
            "  Its distance from the axis, such as 25 to 35 cm: ",
            lambda typed: typed_quantity(typed, _LENGTHS),
        )
        sides = "  On the near side, where the segment is, or the far one"
        side = self.one_of(sides, ("near", "far"), "near")
        return at, side == "far"

    def _direction(self, usual: str) -> str | Slanting | NewBearing:
        straight = list(STRAIGHT)
        self.say(f"  {', '.join(straight[:4])};")
        self.say(f"  {', '.join(straight[4:])};")
        self.say("  angle (to the segment, the horizontal or the vertical), or bearing (from the")
        self.say("  right, anticlockwise):")
        way = self.one_of("  Direction", _WAYS, usual)
        if way not in _SLANTING:
            return way
        if way == "bearing":
            prompt = "  Its bearing, such as 110 or 205 to 230: "
            return NewBearing(self.until(prompt, _bearing))
        angle = self.until("  Its angle to a line, such as 70 or 60 to 80: ", _angle)
        lines = ("segment", "horizontal", "vertical")
        line = self.one_of("  That line: segment, horizontal or vertical", lines, "segment")
        ends = ("axis", "end") if line == "segment" else ("left", "right")
        toward = self.one_of(f"  The force leans towards: {' or '.join(ends)}", ends, ends[0])
        side = self.one_of("  It points above or below", ("above", "below"), "above")
        return Slanting(line, toward, side, angle)

    def _with_effort(self, new: NewProblem) -> NewProblem:
        """Return the problem with its effort, which is asked for until it can hold the loads."""
        name = self.until("Effort, such as elbow flexors or hand: ", _name)
        size = None
        if new.find == "load":
            prompt = "  Its force, such as 200 to 300 N: "
            size = self.until(prompt, lambda typed: typed_quantity(typed, _FORCES))
        at, beyond = self._place()
        while True:
            effort = NewForce(name, size, at, self._direction("up"), beyond)
            made = replace(new, effort=effort)
            try:
                read_back(made)
            except FileError as error:
                if all(not fault.key.startswith("effort") for fault in error.faults):
                    return made
                for fault in error.faults:
                    self.say(f"  {fault.found}; expected {fault.expected}.")
            else:
                return made


def _name(typed: str) -> str:
    """Return a name that may stand in a sentence."""
    if not typed:
        raise ValueError("A name is needed.")
    if len(typed) > LONGEST_NAME or not all(one.isalnum() or one in " -,'()" for one in typed):
        raise ValueError(f"A name has up to {LONGEST_NAME} letters, digits, spaces and hyphens.")
    return typed


def _bearing(typed: str) -> TypedQuantity:
    bearing = typed_quantity(typed, _ANGLES)
    low, high = float(bearing.low), float(bearing.high or bearing.low)
    if low // 90 != high // 90 or not low % 90 or high >= 360:
        raise ValueError("A bearing lies between two of 0, 90, 180, 270 and 360 degrees.")
    return bearing


def _angle(typed: str) -> TypedQuantity:
    angle = typed_quantity(typed, _ANGLES)
    if float(angle.high or angle.low) > 90:
        raise ValueError("An angle is at most 90 degrees; which way is asked for next.")
    return angle
