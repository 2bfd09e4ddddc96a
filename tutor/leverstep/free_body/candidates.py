"""The forces that a student may choose from: those that act on the segment, and decoys.

They follow from the posture alone, so that they are the same whenever a record is taken again.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from leverstep.course.forces import AXIS
from leverstep.course.problem import Problem, Question
from leverstep.slips.picture_slips import PictureSlip
from leverstep.statics.acting import Couple, Force, MuscleSize, SharedSize
from leverstep.statics.posture import Find, Posture, Relation

REACTION = "the reaction"
NET_MOMENT = "net moment"
"""The items of what acts at the joint; no symbol of a problem has a space."""

_WORD = re.compile(r"\w+")
_PUSHES = ("push of ", "pull of ")
_ON = re.compile(r"(?:force of the )?(?P<one>.+) on the (?P<other>.+)")


@dataclass(frozen=True, slots=True)
class Candidate:
    """One force or moment of the list: its item, which names it in a record, and its name.

    `force` or `couple` is what it is in the posture, None for the reaction, the net moment and for
    decoys. `decoy` is the slip of who chooses it, None where it acts. `is_turning` says whether it
    turns the segment without pushing it.
    """

    item: str
    name: str
    force: Force | None = None
    couple: Couple | None = None
    decoy: PictureSlip | None = None
    is_turning: bool = False

    @property
    def is_found_later(self) -> bool:
        """Return whether the way it acts is worked out, and need not be known at first."""
        if self.force is not None:
            return self.force.is_handed_on
        if self.couple is not None:
            return bool(self.couple.before)
        return self.decoy is None


def is_drawn(posture: Posture) -> bool:
    """Return whether a posture has a free-body diagram to draw: forces that balance."""
    return not posture.seeks_centre and posture.find is not Find.RESULTANT


def candidates(question: Question) -> tuple[Candidate, ...]:
    """Return the list of a posture in the order of its names, which tells nothing."""
    acting = [*_acting(question.problem)]
    return tuple(sorted((*acting, *_decoys(question.problem, acting)), key=lambda one: one.name))


def _acting(problem: Problem) -> Iterator[Candidate]:
    """Yield what acts on the segment."""
    posture = problem.posture
    for force in posture.forces:
        yield Candidate(force.symbol, name_of(problem, force), force)
    for couple in posture.couples:
        name = f"moment of the {problem.names[couple.symbol]}"
        yield Candidate(couple.symbol, name, couple=couple, is_turning=True)
    if posture.has_moments or posture.find is Find.REACTION:
        name, where = problem.reaction, f" at the {problem.axis}"
        is_placed = name.endswith(where) or " on the " in name
        yield Candidate(REACTION, name if is_placed else name + where)
    if posture.find is Find.NET_MOMENT:
        yield Candidate(NET_MOMENT, "net moment of the muscles", is_turning=True)


def name_of(problem: Problem, force: Force) -> str:
    """Return what a force is called on the list: `weight of the pail`."""
    name = problem.names[force.symbol]
    if force.is_weight:
        return name if "weight" in name else f"weight of the {name}"
    if force.is_inertia:
        return f"inertial force, the {name}"
    if force.is_handed_on:
        sort = "horizontal" if force.direction.reference == "horizontal" else "vertical"
        return f"{sort} force of the {name}"
    return name if name.startswith(_PUSHES) else f"force of the {name}"


def is_muscle(problem: Problem, force: Force) -> bool:
    """Return whether a force is that of a muscle, which has another end."""
    place = problem.places.get((force.symbol, force.mark), "")
    is_attached = place.startswith(("attachment of", "line of action of the"))
    has_size = isinstance(force.source, MuscleSize | SharedSize)
    return is_attached or has_size or force.direction.attachment is not None


def _decoys(problem: Problem, acting: list[Candidate]) -> Iterator[Candidate]:
    """Yield what a student may take for a force on the segment, and is none."""
    posture = problem.posture
    forces = posture.forces
    muscle = next((one for one in reversed(forces) if is_muscle(problem, one)), None)
    if muscle is not None:
        name = f"{name_of(problem, muscle)} at the other end"
        yield Candidate("decoy other end", name, decoy=PictureSlip.OTHER_END)
    if other := _other_body(problem):
        name = f"weight of the {other}"
        yield Candidate("decoy other body", name, decoy=PictureSlip.OTHER_BODY)
    reversed_name = _reversed(problem)
    if all(one.name != reversed_name for one in acting):
        yield Candidate("decoy reversed", reversed_name, decoy=PictureSlip.REVERSED)
    slanting = next((one for one in forces if one.direction.angle is not None), None)
    if slanting is not None:
        name = f"component of the {name_of(problem, slanting)} along the {problem.segment}"
        if not posture.has_moments:  # a knot has no length
            name = f"horizontal component of the {name_of(problem, slanting)}"
        yield Candidate("decoy part", name, decoy=PictureSlip.COMPONENT)
    is_sped_up = any(one.relation is Relation.MOMENT_SPED_UP for one in posture.further)
    if not is_sped_up and not any(force.is_inertia for force in forces):
        yield Candidate("decoy motion", "force of motion", decoy=PictureSlip.NO_FORCE)


def _other_body(problem: Problem) -> str:
    """Return the body part that is shown beyond the axis, "" where there is none of its own."""
    told = " ".join((problem.segment, *problem.names.values()))
    known = set(_WORD.findall(told))
    if problem.segment == "body":  # to which every part belongs
        return ""
    for one in problem.shown:
        is_beyond = one.kind == "outline" and one.at == AXIS
        if is_beyond and known.isdisjoint(_WORD.findall(one.name)):
            return one.name
    return ""


def beyond_axis(problem: Problem) -> tuple[str, ...]:
    """Return what body parts beyond the axis are called: what is shown, and what pushes there."""
    exerts = _ON.fullmatch(problem.reaction)
    return tuple(filter(None, (_other_body(problem), exerts["one"] if exerts else "")))


def _reversed(problem: Problem) -> str:
    """Return a force that the segment exerts on something that acts on it."""
    names = [problem.names[one.symbol] for one in problem.posture.forces if not one.is_handed_on]
    for name in (*names, problem.reaction):
        if found := _ON.fullmatch(name):
            return f"force of the {found['other']} on the {found['one']}"
    others = [one for one in problem.posture.forces if not (one.own_weight or one.is_inertia)]
    weights = [
        one for one in others
        if one.is_weight and problem.segment not in _WORD.findall(problem.names[one.symbol])
    ]  # fmt: skip
    borne = next(iter((*weights, *reversed(others))), None)
    on = problem.axis if borne is None else problem.names[borne.symbol]
    for push in _PUSHES:
        on = on.removeprefix(f"{push}the ")
    return f"force of the {problem.segment} on the {on}"
