"""Whatever lines records are made of: they are marked, told of and written, and nothing fails."""

from __future__ import annotations

import csv
import json
import logging
import random
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from pathlib import Path

import pytest
from helpers.drill_sittings import BEGUN, SHELF, first_line, record, right_entries
from leverstep.course.problem import Question
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of
from leverstep.faces.commands import machines
from leverstep.faces.commands.cli import main
from leverstep.marking.statements import STATEMENTS
from leverstep.marking.tables import MARKS, STEPS
from leverstep.questions.expectations import expectations
from leverstep.questions.sense_questions import sense_questions
from leverstep.reports.pages import STUDENTS
from leverstep.working.guidance import FOR_ALL, Guidance
from leverstep.working.verdict import Outcome
from leverstep.working.writing import value_text

STUDENTS_IN_CLASS, LINES, ROUNDS = 8, 30, 3
KINDS = ("entry",) * 8 + ("line",) * 8 + ("hint",) * 3 + ("answer",) * 3
OTHER_KINDS = ("leave", "away", "resumed", "clock", "end", "drill", "?", "", None, 5, [], {})
WORDS = (
    *("hello", "", " ", "0", "0 = 0", "0 = 1", "1 = 1", "123 N", "5", "-5 N", "1e9 m", "Q_x = 5 N"),
    *("F_m = 1 N", "F_m = F_m", "class = 1", "equation = 0", "first", "down", "3/0 N", "½ m"),
    *("=1+1", "\x1b[31m5 N", "\udcff", "<b>5 N</b>", "[b]5 N", "9" * 130, "F_m * d_m = W_l * d_l"),
)
ODD = (None, True, -1, 0, 1, 2, 99, 1.5, 1e308, float("nan"), "x", "W_l", "F_m", [], {"a": 1})

BANK = """
[[item]]
any = ["plain-seesaw", "elbow-pail-of-water"]
weights = { effort = 3, class = 0.5 }
feedback = "at the end"
attempts = 2
"""

Line = dict[str, object]


def the_drill(guidance: Guidance, numbers: str, more: str, names: list[str]) -> Drill:
    """Return a drill of some problems under some rules."""
    text = f'id = "any"\ntitle = "Any"\nguidance = "{guidance}"\n{more}\n'
    for name in names:
        text += f'[[item]]\nproblem = "{name}"\nnumbers = "{numbers}"\n'
    text += BANK
    return drill_of(text, SHELF.problems, "any.toml")


def typed(question: Question, chance: random.Random) -> Iterator[tuple[str, str]]:
    """Yield the keys of lines and what is typed there: right, wrong, of another line, anything.

    Some follow from one that is wrong.
    """
    right = right_entries(question)
    first = next(step.key for step in question.derivation.asked if step.kind.is_number)
    own = {first: 1.5 * question.right[first]}
    wrong = question.graph.values(question.numbers, {}, own=own)
    numbered = [step for step in question.derivation.steps if step.kind.is_number]
    follows = {step.key: value_text(step, wrong[step.key]) for step in numbered}
    keys = [step.key for step in question.derivation.steps]
    while True:
        key = chance.choice(keys)
        other = right[chance.choice(list(right))]
        number = f"{chance.choice((0, 1, 9.81, 54, -3, 1e-9)):g} {chance.choice(('N', 'm', ''))}"
        texts = (right.get(key, other), follows.get(key, other), other, number)
        text = chance.choice((*texts, chance.choice(WORDS)))
        if chance.random() < 0.3:
            key = chance.choice((first, key))
            text = follows.get(key, other)
        named = chance.random() < 0.5
        name = chance.choice((key, key, chance.choice(keys)))
        yield key, f"{name} = {text}" if named else text


def answered(question: Question, chance: random.Random) -> Line:
    """Return what an answer beside the lines says: one that there is, of another, or none."""
    asked = chance.choice([*expectations(question), *sense_questions(question)])
    answer = chance.choice(["", "up", *(one.key for one in asked.answers)])
    return {"question": chance.choice((asked.key, asked.key, "dance")), "answer": answer}


def any_lines(drill: Drill, student: str, chance: random.Random) -> Iterator[Line]:
    """Yield lines of any kind about any task, some with a field that makes no sense."""
    tasks = drill.tasks(student)
    by_task = {task.number: typed(task.question, chance) for task in tasks}
    for _ in range(LINES):
        number = chance.choice(list(by_task))
        key, text = next(by_task[number])
        kind = chance.choice(KINDS if chance.random() < 0.9 else OTHER_KINDS)
        line: Line = {"kind": kind, "task": number, "step": key, "text": text}
        if kind == "answer":
            line |= answered(tasks[number - 1].question, chance)
        elif chance.random() < 0.3:
            line["sure"] = chance.choice((1, 2, 3, *ODD))
        if chance.random() < 0.1:
            line[chance.choice(("kind", "task", "step", "text", "used", "time"))] = chance.choice(
                ODD
            )
        yield line


def any_record(drill: Drill, student: str, chance: random.Random) -> bytes:
    """Return a record of any lines, now and then with one that was changed, doubled or is none."""
    begun = BEGUN + timedelta(minutes=chance.randrange(5))
    lines = list(any_lines(drill, student, chance))
    if chance.random() < 0.7:
        lines.append({"kind": "end"})
    shown = first_line(drill, chance.choice((student, student, "another")))
    first = {key: shown[key] for key in ("tasks", "digest")}
    if chance.random() < 0.3:
        first["digest"] = "ab" * 32
    pieces = record(drill, student, lines, begun, **first).splitlines(keepends=True)
    place = chance.randrange(1, len(pieces))
    match chance.randrange(6):
        case 0:
            pieces.insert(place, chance.choice((b"\xff\n", b"[]\n", b"\n", pieces[place])))
        case 1:
            changed = {**json.loads(pieces[place]), "text": chance.choice(WORDS)}
            pieces[place] = json.dumps(changed).encode() + b"\n"
        case 2:
            pieces[-1] = pieces[-1][: chance.randrange(len(pieces[-1]))]
    return b"".join(pieces)


def write_class(drill: Drill, folder: Path, chance: random.Random) -> set[str]:
    """Write the records of a class, some of which begin alike; return whose they are."""
    students = {f"s{number}" for number in range(STUDENTS_IN_CLASS)}
    for student in sorted(students):
        data = any_record(drill, student, chance)
        (folder / f"{student}.jsonl").write_bytes(data)
        if chance.random() < 0.3:
            cut = data[: data.index(b"\n", len(data) // 2) + 1]
            (folder / f"{student}-b.jsonl").write_bytes(cut + b'{"kind": "end"}\n')
        if chance.random() < 0.3:
            (folder / f"{student}-c.jsonl").write_bytes(any_record(drill, student, chance))
    return students


ASKED = "predict = true\nsense = true\nsure = true"
RULES = (
    "", f'feedback = "at the end"\n{ASKED}',
    f'attempts = 2\nhints = "at a cost"\nsittings = 1\n{ASKED}',
)  # fmt: skip


@pytest.mark.parametrize("numbers", ["individual", "fixed"])
@pytest.mark.parametrize("guidance", FOR_ALL)
def test_any_records_are_marked_and_told_of_in_every_form(
    guidance: Guidance,
    numbers: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Faults of the program are logged where they are got over, so that none may be logged."""
    monkeypatch.setattr(machines, "workers", lambda _: ThreadPoolExecutor(1))
    chance = random.Random(f"{guidance} {numbers}")
    outcomes: set[str] = set()
    with caplog.at_level(logging.ERROR):
        for number in range(ROUNDS):
            names = chance.sample(sorted(SHELF.problems), 2)
            drill = the_drill(guidance, numbers, RULES[number], names)
            place = tmp_path / str(number)
            (place / "records").mkdir(parents=True)
            (place / "any.toml").write_text(drill.text, "utf-8")
            (place / "codes.csv").write_text("id,code\ns1,K7WM-3RXA\n", "utf-8")
            students = write_class(drill, place / "records", chance)
            call = [str(place / "any.toml"), str(place / "records")]
            more = ["--pages", "--statements", "--codes", str(place / "codes.csv")]
            out = place / "out"
            assert main(["drill", "mark", *call, "--out", str(out), *more]) == 0, names
            assert main(["drill", "report", *call, "--plain"]) == 0, names
            with (out / MARKS).open(encoding="utf-8", newline="") as file:
                rows = list(csv.DictReader(file))
            assert {row["id"] for row in rows} == students
            assert not [row for row in rows if "fault of the program" in row["remarks"]]
            assert len(list((out / STUDENTS).iterdir())) == len(students)
            for line in (out / STATEMENTS).read_text("utf-8").splitlines():
                assert json.loads(line)["actor"]["account"]["name"] in students
            with (out / STEPS).open(encoding="utf-8", newline="") as file:
                outcomes |= {row["outcome"] for row in csv.DictReader(file)}
    capsys.readouterr()
    assert not caplog.records, caplog.text
    free_alone = {str(Outcome.KEPT)}  # no line that is asked for is right and not asked for
    judged = {str(one) for one in Outcome} - {str(Outcome.FAILED)}
    assert (outcomes | free_alone) - {"hint"} == judged
