"""A term of three small drills, which four invented students sat.

Each drill is a wheelbarrow for 15 marks, one for each of its lines, so that marks can be counted.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import read_drill

from helpers.drill_sittings import END, SHELF, SMALL, entry, record, right_entries

PLAN = """\
title = "Levers, spring"
lowest_left_out = 1

[[drill]]
file = "one.toml"

[[drill]]
file = "two.toml"
weight = 2

[[drill]]
file = "three.toml"
required = true
"""
ROSTER = "id,name,section\na1,Ada Alder,L1\nb2,Bo Birch,L1\nc3,Cy Cedar,L2\nd4,Di Date,L2\n"
EXCUSED = '[[student]]\nid = "d4"\ndrill = "one"\nexcused = true\nreason = "was ill"\n'

SAT: Mapping[str, Mapping[str, tuple[int, bool]]] = {
    "one": {"a1": (15, True), "b2": (3, True), "c3": (9, True)},
    "two": {"a1": (6, False), "c3": (12, False), "d4": (9, True)},
    "three": {"a1": (3, True), "b2": (12, True), "d4": (6, False)},
}
"""How many lines each student had right in each drill, and whether the weight of the soil was at
first its mass in newtons."""


def write_drills(folder: Path) -> dict[str, Drill]:
    """Write the drills of the term with a roster and exceptions; return them by id."""
    (folder / "class.csv").write_text(ROSTER, "utf-8")
    (folder / "exceptions.toml").write_text(EXCUSED, "utf-8")
    for ident in SAT:
        text = SMALL.format(
            rules='roster = "class.csv"', marking="", problem="plain-wheelbarrow", count=1, marks=15
        ).replace('id = "levers"', f'id = "{ident}"')
        (folder / f"{ident}.toml").write_text(text, "utf-8")
    return {ident: read_drill(folder / f"{ident}.toml", SHELF.problems) for ident in SAT}


def record_of(drill: Drill, student: str, lines: int, slips: bool) -> bytes:
    """Return a record in which the first lines are right, after the slip where there is one."""
    question = drill.tasks(student)[0].question
    right = list(right_entries(question).items())[:lines]
    mass = next(given for given in question.givens if given.sign == "m_s")
    slip = [entry("W_s", question.written(mass).replace("kg", "N"))] if slips else []
    return record(drill, student, [*slip, *(entry(*one) for one in right), END])


def write_term(folder: Path, plan: str = PLAN) -> Path:
    """Write a term with all its records into a folder; return the path of its plan."""
    records = folder / "records"
    records.mkdir(parents=True)
    for ident, drill in write_drills(folder).items():
        for student, (lines, slips) in SAT[ident].items():
            path = records / f"{ident}-{student}.jsonl"
            path.write_bytes(record_of(drill, student, lines, slips))
    path = folder / "course.toml"
    path.write_text(plan, "utf-8")
    return path
