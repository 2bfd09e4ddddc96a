"""What may have gone wrong at a line: every slip of the catalogue at every place it can be made."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from leverstep.slips.catalogue import Catalogue, Slip
from leverstep.slips.finding import Finding
from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.choices import Choice
from leverstep.statics.posture import Posture
from leverstep.statics.reaction import PARTS
from leverstep.statics.step import Derivation, Step


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """A slip at a place: the step it is made at, and the choices it changes."""

    slip: Slip
    step: str
    changes: tuple[tuple[Choice, float], ...]

    @property
    def about(self) -> str:
        """Return the force or distance that it is about, "" for the whole line."""
        abouts = {choice.about for choice, _ in self.changes}
        return abouts.pop() if len(abouts) == 1 else ""

    def finding(self) -> Finding:
        """Return the hypothesis as something found."""
        return Finding(self.slip.id, self.step, self.changes, (self.about,) if self.about else ())


Candidate = tuple[Hypothesis, ...]


@lru_cache(maxsize=4096)
def usable(
    derivation: Derivation, catalogue: Catalogue, key: str, written: frozenset[str]
) -> tuple[tuple[Hypothesis, ...], Mapping[str, int]]:
    """Return the hypotheses at a line and at those not written before it, the nearest first.

    The same slip at every such line is one hypothesis more. With them comes how far back each line
    lies: 0 for the line itself.
    """
    far = distances(derivation, key, written)
    found = [h for h in hypotheses(derivation, catalogue) if h.step in far]
    found += _consistent(derivation, found, far)
    found.sort(key=lambda h: (far[h.step], -h.slip.often))
    return tuple(found), far


@lru_cache(maxsize=4096)
def distances(derivation: Derivation, key: str, written: frozenset[str]) -> Mapping[str, int]:
    """Return how far back each step lies that is not written: 0 for the step itself.

    A step that is not asked for only carries a value on, so it is no distance.
    """
    steps = {step.key: step for step in derivation.steps}
    found = {key: 0}
    waiting = [key]
    while waiting:
        step = waiting.pop(0)
        for use in steps[step].uses:
            if use in steps and use not in written and use not in found:
                found[use] = found[step] + steps[step].asked
                waiting.append(use)
    return found


@lru_cache(maxsize=256)
def hypotheses(derivation: Derivation, catalogue: Catalogue) -> tuple[Hypothesis, ...]:
    """Return every slip of the catalogue at every place of a derivation where it can be made.

    Of two that change the same at a line, only that read last is one: nothing could ever tell them
    apart, so that a teacher's own takes the place of one that ships, unless it is rarer.
    """
    found: dict[tuple[str, frozenset[tuple[Choice, float]]], Hypothesis] = {}
    for slip in catalogue.slips.values():
        for step in derivation.asked:
            if step.kind.name not in slip.kinds:
                continue
            for one in _at_step(derivation.posture(step.mark), slip, step):
                place = (step.key, frozenset(one.changes))
                if place not in found or found[place].slip.often <= slip.often:
                    found[place] = one
    return tuple(found.values())


@lru_cache(maxsize=4096)
def reasons_at(
    derivation: Derivation, catalogue: Catalogue, key: str, written: frozenset[str]
) -> frozenset[str]:
    """Return the reasons of all slips that a line can show, by which habits are told apart.

    Those are the slips at the line, and at lines that it rests on and that are not written before
    it. An equation in symbols rests on none.
    """
    is_equation = derivation.step(key).kind.is_equation
    far = {key: 0} if is_equation else distances(derivation, key, written)
    return frozenset(h.slip.reason for h in hypotheses(derivation, catalogue) if h.step in far)


def _consistent(
    derivation: Derivation, found: Iterable[Hypothesis], far: Mapping[str, int]
) -> Iterator[Hypothesis]:
    """Yield the same slip made at every line where it can be: one slip, not several.

    Lines that rest on others of these are left out: a load that is missing from the sum is not left
    out once more where the sum is used. Where all are of one kind, each about something of its own,
    as the points of a body that are told one from another, it may also be made at every one.
    """
    at_lines: dict[str, dict[str, list[Hypothesis]]] = {}
    for hypothesis in found:
        lines = at_lines.setdefault(hypothesis.slip.id, {})
        lines.setdefault(hypothesis.step, []).append(hypothesis)
    for lines in at_lines.values():
        alone = [here[0] for here in lines.values() if len(here) == 1]
        keys = {one.step for one in alone}
        apart = [one for one in alone if not keys & derivation.ancestors(one.step)]
        is_chain = len(apart) < len(alone) == len({one.about for one in alone})
        of_a_kind = len({derivation.step(key).kind for key in keys}) == 1
        groups = (apart, alone) if is_chain and of_a_kind else (apart,)
        for made in groups:
            if len(made) > 1:
                nearest = min(made, key=lambda h: far[h.step])
                changes = tuple(change for one in made for change in one.changes)
                yield Hypothesis(nearest.slip, nearest.step, changes)


def _at_step(posture: Posture, slip: Slip, step: Step) -> Iterator[Hypothesis]:
    for alternative in slip.changes:
        places = [[c for c in step.choices if c.kind == kind] for kind, _ in alternative]
        for choices in itertools.product(*places):
            if len({choice.about for choice in choices}) > 1:
                continue
            changes = tuple(
                (choice, value) for choice, (_, value) in zip(choices, alternative, strict=True)
            )
            if all(abs(choice.right - value) < 1e-12 for choice, value in changes):
                continue
            if _applies(posture, slip, step, choices[0].about):
                yield Hypothesis(slip, step.key, changes)


def _applies(posture: Posture, slip: Slip, step: Step, about: str) -> bool:
    """Return whether a slip's conditions hold for the force or distance that it is about."""
    if slip.roles and role_of(posture, about) not in slip.roles:
        return False
    if not slip.given or step.kind is kinds.MASS:
        return True
    if step.kind is kinds.DISTANCE:
        given = next(d.given for d in posture.distances if d.symbol == step.about)
        return given.unit in slip.given
    if step.kind.begins_with == "source":
        mover = next(one for one in posture.forces if one.symbol == step.about)
        givens = () if mover.source is None else mover.source.givens
        return any(given.unit in slip.given for given in givens)
    if step.kind.begins_with == "further":
        further = next(one for one in posture.further if one.symbol == step.about)
        return any(given.unit in slip.given for given in further.givens)
    if step.kind.begins_with == "body":
        return posture.body is not None and posture.body.unit in slip.given
    force = next((f for f in posture.forces if about in f.symbols), None)
    magnitude = force.magnitude if force is not None else None
    return magnitude is not None and magnitude.unit in slip.given


def _role_of_force(posture: Posture, force: Force) -> str:
    if force is posture.effort:
        return "effort"
    if force.antagonist:
        return "antagonist"
    if force.is_inertia:
        return "inertia"
    if force.is_shared:
        return "partner"
    return "own weight" if force.own_weight else "load"


def role_of(posture: Posture, about: str) -> str:
    """Return the role of a force or couple by its symbol or distance: one of `ROLES`, or ""."""
    if not about:
        return "line"
    for force in posture.forces:
        if about in force.symbols:
            return _role_of_force(posture, force)
    if any(about == further.symbol for further in posture.further):
        return "line"
    if any(couple.symbol == about for couple in posture.couples):
        return "load"
    return "part" if about in map(posture.key, PARTS) else ""


def pairs(found: list[Hypothesis], key: str) -> Iterator[Candidate]:
    """Yield two slips at once: first both at the step itself, then one of them at an earlier step.

    A power of ten at an earlier step is none of these: with a second slip it fits too much.
    """
    changed = [
        (one, frozenset(choice.name for choice, _ in one.changes))
        for one in found
        if one.step == key or all(choice.kind != "power_of_ten" for choice, _ in one.changes)
    ]
    here = [one for one in changed if one[0].step == key]
    earlier = [one for one in changed if one[0].step != key]
    for both in (itertools.combinations(here, 2), itertools.product(here, earlier)):
        for (one, choices), (other, others) in both:
            if one.slip.id != other.slip.id and choices.isdisjoint(others):
                yield (one, other)
