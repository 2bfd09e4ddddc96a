"""A scene for a pen that has no other characters than those of ASCII."""

from __future__ import annotations

import unicodedata
from dataclasses import replace

from leverstep.course.symbols import spelt
from leverstep.diagram.scene import Scene

_IN_ASCII = str.maketrans({"°": " deg", "×": "*", "·": " ", "−": "-"})


def in_ascii(scene: Scene) -> Scene:
    """Return a scene with every name and angle spelt in ASCII."""
    corners = tuple(
        replace(
            corner,
            sign=spelt(corner.sign),
            value=ascii_text(corner.value),
            between=ascii_text(corner.between),
        )
        for corner in scene.corners
    )
    shown, body = (
        tuple(
            replace(one, name=ascii_text(one.name), end_name=ascii_text(one.end_name))
            for one in ones
        )
        for ones in (scene.surroundings, scene.body)
    )
    segment, axis = ascii_text(scene.segment), ascii_text(scene.axis)
    measures = tuple(replace(one, value=ascii_text(spelt(one.value))) for one in scene.measures)
    arms = tuple(replace(one, value=ascii_text(spelt(one.value))) for one in scene.arms)
    asides = tuple(ascii_text(spelt(aside)) for aside in scene.asides)
    return replace(
        scene, segment=segment, axis=axis, corners=corners, surroundings=shown, body=body,
        measures=measures, arms=arms, asides=asides,
    )  # fmt: skip


def ascii_text(text: str) -> str:
    """Return a text without accents, its degrees as words, `N m` for N·m, other signs as `?`."""
    letters = unicodedata.normalize("NFKD", text.translate(_IN_ASCII))
    bare = "".join(letter for letter in letters if not unicodedata.combining(letter))
    return bare.encode("ascii", "replace").decode("ascii")
