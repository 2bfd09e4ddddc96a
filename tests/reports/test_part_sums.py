"""Parts of a class marked apart and put together come to what the whole class comes to."""

from __future__ import annotations

import csv
import json
import random
import re
from collections.abc import Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.classes import figures_of, marked_in
from helpers.drill_sittings import END, SHELF, entry, hint, record, right_entries
from helpers.drills import drill_text
from helpers.material import CATALOGUE
from leverstep.course.faults import FileError
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of, read_drill
from leverstep.faces.commands.cli import main
from leverstep.marking.collecting import Student, gather, mark_class
from leverstep.marking.marking import mark_record
from leverstep.marking.outputs import Outputs
from leverstep.marking.tables import MARKS, STEPS, MarkTables
from leverstep.reports.class_report import class_report
from leverstep.reports.figures import Figures
from leverstep.reports.gathering import ClassFigures
from leverstep.reports.part_sums import added_up, sums_text

STUDENTS = 14


@pytest.fixture(scope="module")
def drill(tmp_path_factory: pytest.TempPathFactory) -> tuple[Drill, Path]:
    """Return a drill with a folder of records: right lines, slips, hints, and one that is none."""
    folder = tmp_path_factory.mktemp("class")
    names = "".join(f"s{n:02},Name {n},L{n % 2}\n" for n in range(STUDENTS + 2))
    (folder / "class.csv").write_text(f"id,name,section\n{names}", "utf-8")
    columns = 'roster_columns = { id = "id", section = "section" }'
    (folder / "levers.toml").write_text(
        drill_text(f'roster = "class.csv"\n{columns}\nsure = true\n'), "utf-8"
    )
    drill = read_drill(folder / "levers.toml", SHELF.problems)
    (folder / "records").mkdir()
    for number in range(STUDENTS):
        student, chance = f"s{number:02}", random.Random(number)
        question = drill.tasks(student)[0].question
        mass = next(given for given in question.givens if given.is_mass)
        lines: list[dict[str, object]] = []
        for key, text in right_entries(question).items():
            if chance.random() < 0.2:
                lines.append(hint(key))
            if chance.random() < 0.4:
                wrong = question.written(mass).replace(mass.unit, "N")
                lines.append(entry(key, chance.choice([wrong, "54\u00a0N"]), sure=3))
            lines.append(entry(key, text, sure=chance.randint(1, 3)))
        lines = lines[: chance.randint(1, len(lines))]
        data = record(drill, student, [*lines, *([END] if chance.random() < 0.8 else [])])
        (folder / "records" / f"{student}.jsonl").write_bytes(data)
    (folder / "records" / "odd.jsonl").write_bytes(b"no record\n")
    return drill, folder


def without_names(figures: Figures) -> Figures:
    """Return figures without what tells of single students."""
    told = replace(figures, pairs=(), help=(), doubts=(), strangers=(), notes=())
    return replace(told, without_record=(), not_handed_in=())


def parts(students: Sequence[Student], chance: random.Random) -> list[Sequence[Student]]:
    """Return some students in parts, one of which may be empty."""
    ends = sorted(chance.choices(range(len(students) + 1), k=chance.randint(1, 4)))
    return [students[a:b] for a, b in zip([0, *ends], [*ends, len(students)], strict=True)]


def collected(drill: Drill, students: Iterable[Student]) -> ClassFigures:
    """Return the sums of some students."""
    found = ClassFigures(drill, CATALOGUE)
    for one in students:
        found.add(one)
    return found


def test_parts_put_together_are_the_whole(drill: tuple[Drill, Path]) -> None:
    """However it is parted, in one step or by parts of parts, and through the text of a file."""
    of, folder = drill
    students = marked_in(of, folder / "records")
    whole = without_names(figures_of(of, students))
    assert whole.sat == STUDENTS
    assert whole.absent == 2
    assert whole.slips
    assert whole.sureness
    assert whole.groups == ()
    chance = random.Random(17)
    for _ in range(25):
        together, half = ClassFigures(of, CATALOGUE), ClassFigures(of, CATALOGUE)
        for number, part in enumerate(parts(students, chance)):
            data = json.loads(sums_text(of, collected(of, part)))["sums"]
            (half if number < 2 else together).add_data(data)
        first = ClassFigures(of, CATALOGUE)
        first.add_data(json.loads(json.dumps(half.as_data())))
        first.add_data(together.as_data())
        assert first.figures() == whole
    assert class_report(first.figures(), with_names=False) == class_report(whole, with_names=False)


def test_tables_of_parts_behind_each_other_are_that_of_the_whole(
    drill: tuple[Drill, Path], tmp_path: Path
) -> None:
    of, folder = drill
    found = gather([folder / "records"]).records

    def rows(name: str, students: dict[str, str], records: Sequence[object]) -> list[list[str]]:
        out = tmp_path / name
        with Outputs(out) as files, ThreadPoolExecutor(1) as pool:
            tables = MarkTables(replace(of, students=students), files)
            mark_class(replace(of, students=students), CATALOGUE, records, pool, [tables])  # type: ignore[arg-type]
            assert tables.finish()
        both = []
        for table in (MARKS, STEPS):
            with (out / table).open(encoding="utf-8", newline="") as file:
                both += list(csv.reader(file))[1:]
        return both

    whole = rows("whole", dict(of.students), found)
    ids = sorted(of.students)
    apart = []
    for number, some in enumerate((ids[:5], ids[5:6], ids[6:])):
        mine = [one for one in found if one.student in some or (not one.student and not number)]
        apart += rows(f"part{number}", {one: of.students[one] for one in some}, mine)
    assert sorted(apart) == sorted(whole)
    assert len(whole) > 10 * STUDENTS


def test_sums_name_nobody_and_are_put_together_by_a_command(
    drill: tuple[Drill, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    of, folder = drill
    levers, records = str(folder / "levers.toml"), str(folder / "records")
    files = []
    for section in ("L0", "L1"):
        out = tmp_path / section
        mark = ["drill", "mark", levers, records, "--out", str(out), "--section", section]
        assert main([*mark, "--sums"]) == 0
        files.append(str(out / "sums.json"))
        text = Path(files[-1]).read_text("utf-8")
        assert not any(one in text for one in ("Name", *of.students))
    capsys.readouterr()
    assert main(["drill", "merge", levers, *files, "--out", str(tmp_path / "all")]) == 0
    told = capsys.readouterr().out
    assert f"{STUDENTS} students sat" in told
    report = (tmp_path / "all" / "report.md").read_text("utf-8")
    assert "2 of the roster have no record" in report
    assert "Name " not in report
    assert main(["drill", "merge", levers, files[0], files[0], "--out", str(tmp_path / "x")]) == 2
    assert f"{files[0]}: it is the same as {files[0]}; expected each part once" in (
        capsys.readouterr().err
    )
    assert not (tmp_path / "x").exists()


BROKEN = {
    "no JSON": lambda _: "{",
    "deep": lambda _: "[" * 100_000,
    "a list": lambda _: "[]",
    "another drill": lambda t: t.replace('"drill": "levers"', '"drill": "arm"'),
    "another version": lambda t: t.replace('"digest": "', '"digest": "0'),
    "a count below 0": lambda t: t.replace('"sat": ', '"sat": -'),
    "a count of nothing": lambda t: t.replace('"sat": ', '"won": '),
    "a strange slip": lambda t: re.sub(r'("slips": \[\s+\[\s+)"', r'\1"no-', t),
    "a strange task": lambda t: t.replace('"lines": [\n   [\n    [\n     1', '"lines": [[[99'),
    "a line break": lambda t: t.replace('"asks": "', '"asks": "\\n'),
    "no sums": lambda t: t.replace('"sums": {', '"some": {'),
}


@pytest.mark.parametrize("how", BROKEN)
def test_what_are_no_sums_is_told_in_one_sentence(
    how: str, drill: tuple[Drill, Path], tmp_path: Path
) -> None:
    of, folder = drill
    text = sums_text(of, collected(of, marked_in(of, folder / "records")))
    broken = BROKEN[how](text)
    assert broken != text, how
    path = tmp_path / "sums.json"
    path.write_text(broken, "utf-8")
    with pytest.raises(FileError) as raised:
        added_up([path], of, CATALOGUE)
    (fault,) = raised.value.faults
    assert str(fault).startswith(f"{path}: it")


def test_whatever_stands_in_a_file_of_sums_no_report_fails_over_it(
    drill: tuple[Drill, Path], tmp_path: Path
) -> None:
    of, folder = drill
    text = sums_text(of, collected(of, marked_in(of, folder / "records")))
    chance, refused = random.Random(5), 0
    path = tmp_path / "sums.json"
    for _ in range(120):
        place = chance.randrange(text.index("sums"), len(text))
        sign = chance.choice('0179-[]{},"n ')
        path.write_text(f"{text[:place]}{sign}{text[place + 1 :]}", "utf-8")
        try:
            class_report(added_up([path], of, CATALOGUE).figures(), with_names=False)
        except FileError:
            refused += 1
    assert 20 < refused < 120


def test_problems_of_a_bank_are_told_apart_in_sums_too() -> None:
    items = '[[item]]\nid = "bank"\nany = ["plain-seesaw", "elbow-pail-of-water"]\n'
    of = drill_of(f'id = "b"\ntitle = "Banks"\n{items}', SHELF.problems, "b.toml")
    students = []
    for student in (f"s{number:02}" for number in range(20)):
        right = list(right_entries(of.tasks(student)[0].question).items())[: 3 + len(student) % 2]
        data = record(of, student, [*(entry(*one) for one in right), END], items=list(of.labels))
        marked = mark_record(of, CATALOGUE, student, data)
        students.append(Student(student, "", marked, (marked,), ()))
    whole = without_names(figures_of(of, students))
    assert len(whole.banks) == 2
    endless = collected(of, students).as_data()
    endless["banks"][0][1][1] = "1e999999999"  # type: ignore[index]
    with pytest.raises(ValueError, match="a sum is none"):
        ClassFigures(of, CATALOGUE).add_data(endless)
    together = ClassFigures(of, CATALOGUE)
    for part in parts(students, random.Random(3)):
        together.add_data(json.loads(json.dumps(collected(of, part).as_data())))
    assert together.figures() == whole
