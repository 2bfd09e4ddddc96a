"""What forces are called in a question: by their name, with the symbol that the picture has."""

from __future__ import annotations

from collections.abc import Sequence

from leverstep.course.phrases import listed
from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.statics.acting import Couple, Force
from leverstep.statics.posture import Find

_FEW = 2
"""So many forces are named; more are called all together."""


def force_named(view: Question, one: Force | Couple) -> str:
    """Return what a force or couple is called: `weight of the pail (W_l)`."""
    name = f"of the {view.problem.names[one.symbol]} ({sign_of(one.symbol)})"
    if isinstance(one, Couple):
        return f"moment {name}"
    return f"{'weight' if one.is_weight else 'force'} {name}"


def together(view: Question, forces: Sequence[Force]) -> str:
    """Return what some forces are called together: `W_f and W_l together`."""
    if len(forces) == 1:
        return f"the {force_named(view, forces[0])}"
    signs = [sign_of(force.symbol) for force in forces]
    if len(forces) > _FEW:
        return f"all of {listed(signs)} together"
    return f"{listed(signs)} together"


def reaction_named(view: Question) -> str:
    """Return what the reaction or resultant is called: `joint reaction on the forearm`."""
    name = view.problem.reaction
    if view.problem.posture.find is Find.RESULTANT or " " not in name or " of " in name:
        return name
    return f"{name} on the {view.problem.segment}"
