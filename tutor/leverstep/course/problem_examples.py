"""Whole problems that ship as examples of forms which a new file is not written in by questions."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass

from leverstep.course.places import shipped, toml_files
from leverstep.course.toml import text_of


@dataclass(frozen=True, slots=True)
class Form:
    """A form of problem: its name, what it is, and the id of a problem that ships and has it."""

    name: str
    told: str
    example: str


FORMS = (
    Form("resultant", "one force that does what several do", "knee-two-pulls-on-kneecap"),
    Form("two forces", "two that hold others, all at one point", "plain-lamp-two-cords"),
    Form("distance", "where a force has to act", "plain-seesaw-where"),
    Form("mass", "the mass of a load", "plain-balance-board"),
    Form("angle", "at which angle a force holds the segment", "elbow-cord-at-an-angle"),
    Form("centre of mass", "that of several parts", "plain-uneven-barbell"),
    Form("body", "the centre of mass of parts between joints", "hip-lifted-leg"),
    Form("line of gravity", "whether it falls within the base of support", "body-heavy-pack"),
    Form("couple", "a load that turns without pushing", "elbow-stiff-brace"),
    Form("further", "what follows from the force, such as a stress", "ankle-tendon-stress"),
    Form("postures", "two or three postures, compared", "lumbar-near-and-far"),
    Form("chain", "segments joined to each other", "wrist-then-elbow"),
)  # fmt: skip
"""Forms that a new problem is copied in, the most common first."""


def text_that_ships(ident: str) -> str:
    """Return the whole text of the file of a problem that ships."""
    name = f"{ident}.toml"
    file = next(file for file in toml_files(shipped("problems")) if file.name == name)
    return text_of(file, name)


def copy_of(form: Form, ident: str, title: str, joint: str) -> str:
    """Return the whole text of a form's example, under another id, title and joint."""
    text = text_that_ships(form.example)
    for key, value in (("id", ident), ("title", title), ("joint", joint)):
        line = f"{key} = {json.dumps(value, ensure_ascii=False)}".replace("\\", r"\\")
        text = re.sub(rf"^{key} = .*$", line, text, count=1, flags=re.MULTILINE)
    return text
