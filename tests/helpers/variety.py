"""Problems that have between them everything that any problem has."""

from __future__ import annotations

from collections.abc import Hashable, Iterator

from leverstep.course.problem import Problem
from leverstep.slips.hypotheses import hypotheses

from helpers.material import CATALOGUE

VARIED = (
    "ankle-at-the-spinning-wheel",
    "ankle-barrow-pushed",
    "ankle-forward-lean",
    "ankle-soleus-part",
    "ankle-tendon-stress",
    "ankle-then-knee",
    "ankle-traction-two-cords",
    "body-bag-in-front",
    "body-heavy-pack",
    "body-lean-on-wall",
    "body-reaction-board",
    "body-too-far-forward",
    "elbow-arm-on-a-photo",
    "elbow-cord-at-an-angle",
    "elbow-force-for-range",
    "elbow-full-pail",
    "elbow-hand-barrow",
    "elbow-kettlebell",
    "elbow-muscle-arm",
    "elbow-pull-in-two-parts",
    "elbow-quick-lift",
    "elbow-sinking-in-a-brace",
    "elbow-stiff-brace",
    "elbow-stone-held",
    "elbow-tilted-forearm",
    "elbow-two-flexors",
    "finger-in-clay",
    "hip-band-at-the-ankle",
    "hip-joint-pressure",
    "hip-lifted-leg",
    "hip-squat-on-a-photo",
    "hip-stick-in-hand",
    "jaw-hard-bread",
    "jaw-muscle-on-a-carrot",
    "knee-boot-without-muscle",
    "knee-cuff-above-ankle",
    "knee-kick-begins",
    "knee-kneecap",
    "knee-leg-sped-up",
    "knee-muddy-boot",
    "knee-net-moment",
    "knee-spring-hinge",
    "lumbar-bow",
    "lumbar-crate-beside-body",
    "neck-two-layers",
    "plain-door-push",
    "plain-lamp-two-cords",
    "shoulder-arm-of-any-length",
    "shoulder-ball-swung",
    "shoulder-band-pull",
    "shoulder-band-turn",
    "shoulder-raised-arm-bag",
    "shoulder-three-by-bearing",
    "shoulder-upper-arm-alone",
    "wrist-bent-hand",
    "wrist-then-elbow",
)
"""What goes over these goes over every way in which the engine works: `traits` says what that is.

What is about the problems themselves, their texts, numbers and pictures, goes over all of them.
"""


def traits(problem: Problem) -> frozenset[Hashable]:
    """Return what a working of a problem is made of, as the engine tells its lines apart.

    A trait is a kind of line with its unit, with one choice that it leaves open, or with one kind
    of line that it uses; a slip that can be made in it; and what its postures leave open.
    """
    return frozenset(_traits(problem))


def _traits(problem: Problem) -> Iterator[Hashable]:
    derivation = problem.question("7").derivation
    kind = {step.key: step.kind.name for step in derivation.steps}
    for step in derivation.steps:
        yield step.kind.name, step.asked, step.unit
        yield from ((step.kind.name, "choice", choice.kind) for choice in step.choices)
        yield from ((step.kind.name, "use", kind.get(used, "given")) for used in step.uses)
    yield from (("slip", made.slip.id) for made in hypotheses(derivation, CATALOGUE))
    for posture in derivation.postures:
        yield "find", posture.find, posture.by_components, posture.resolved, posture.support
        yield "forces", len(posture.forces), len(posture.couples), len(posture.unknown)
