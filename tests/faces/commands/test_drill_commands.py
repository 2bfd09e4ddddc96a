"""The commands for drills as a teacher uses them: what they ask, refuse, and tell."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.drill_sittings import END, SHELF, entry, first_line, record, small_drill
from leverstep.drill.drill import Feedback, Hints
from leverstep.drill.drill_file import read_drill
from leverstep.drill.part_of_class import part_of_class
from leverstep.drill.roster_columns import RosterColumns
from leverstep.faces.commands.cli import main
from leverstep.marking.tables import MARKS
from leverstep.reports.report_files import REPORT
from leverstep.working.guidance import Guidance

Ask = Callable[..., int]


@pytest.fixture
def ask(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Ask:
    """Return what runs `drill new levers.toml`, with answers as they are typed."""

    def asked(*answers: str, options: tuple[str, ...] = ()) -> int:
        typed: Iterator[str] = iter(answers)

        def listen(prompt: str) -> str:
            print(prompt, end="")
            try:
                return next(typed)
            except StopIteration:
                raise EOFError from None

        monkeypatch.setattr("builtins.input", listen)
        return main(["drill", "new", str(tmp_path / "levers.toml"), *options])

    return asked


def test_enter_alone_takes_what_is_usual(ask: Ask, tmp_path: Path) -> None:
    assert ask("", "plain-seesaw", "", "", "", "", "") == 0
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    assert [item.problem.id for item in drill.items] == ["plain-seesaw"]
    assert (drill.title, drill.guidance, drill.minutes) == ("Levers", Guidance.LINES, None)
    assert not drill.students


def test_what_is_mistyped_is_asked_for_again_and_nothing_is_lost(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "class.csv").write_text("id;name\ns1;Ida\n", "utf-8")
    named = ("elbow", "elbow-pail-of-watr", "elbow-pail-of-water", "no.toml", "plain-seesaw")
    problems = ("", *named, "")
    rest = ("landmark", "landmarks", "soon", "0", "45", "exam", "practice", "clas.csv", "class.csv")
    assert ask("Levers, again", *problems, *rest, options=("--attempts", "3")) == 0
    said = capsys.readouterr().out
    for told in (
        "Type a joint to list its problems: ankle, ",
        "A drill needs at least one problem.",
        "  elbow-pail-of-water  ",
        'elbow-pail-of-watr: no problem has this name (did you mean "elbow-pail-of-water"?)',
        "no.toml: there is no such file",
        'There is no such guidance (did you mean "landmarks"?).',
        "Type a whole number from 1 to 1000.",
        "Type practice, marks.",
        "clas.csv: there is no such file; expected a CSV file beside the drill",
    ):
        assert told in said
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    assert [item.problem.id for item in drill.items] == ["elbow-pail-of-water", "plain-seesaw"]
    assert (drill.title, drill.guidance) == ("Levers, again", Guidance.LANDMARKS)
    assert (drill.minutes, drill.attempts) == (45, 3)
    assert drill.students == {"s1": "Ida"}


@pytest.mark.parametrize(
    ("answers", "options"),
    [
        (("", "mixed", "mixed 99", "plain-seesaw", "mixed 2", "Mixed 3", "", "", "", "", ""), ()),
        ((), ("plain-seesaw", "--mixed", "3")),
    ],
)
def test_a_mixed_set_comes_after_the_problems_that_are_named(
    answers: tuple[str, ...], options: tuple[str, ...], ask: Ask, tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    assert ask(*answers, options=options) == 0
    said = capsys.readouterr().out
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    drawn = [item.problem.id for item in drill.task_items]
    assert (drawn[0], len(drawn), len(set(drawn[1:]))) == ("plain-seesaw", 4, 3)
    assert f"Drawn are task 2 {drawn[1]}, task 3 {drawn[2]} and task 4 {drawn[3]};" in said
    assert said.count("Type mixed and a whole number from 1 to 20.") == 2 * bool(answers)


def test_a_drill_may_be_a_mixed_set_alone(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ask(options=("--mixed", "25")) == 2
    assert "found 25; expected a whole number from 1 to 20" in capsys.readouterr().err
    assert ask(options=("--mixed", "5", "--graded")) == 0
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    assert len({item.problem.asks for item in drill.task_items}) == 5


def test_what_is_given_on_the_command_line_is_not_asked_for(ask: Ask, tmp_path: Path) -> None:
    given = ("--title", "Moments", "--minutes", "20")
    assert ask("plain-seesaw", "", "", "", "", options=given) == 0
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    assert (drill.title, drill.minutes) == ("Moments", 20)


def test_all_that_is_asked_for_may_be_given_on_the_command_line(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "class.csv").write_text("id;name\ns1;Ida\n", "utf-8")
    given = ("--title", "M", "--minutes", "9", "--guidance", "blank", "--roster", "class.csv")
    given = (*given, "--graded")
    assert ask("plain-seesaw", "", options=given) == 0
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    assert (drill.title, drill.minutes, drill.guidance) == ("M", 9, Guidance.BLANK)
    assert drill.students == {"s1": "Ida"}
    new = tmp_path / "again.toml"
    capsys.readouterr()
    assert main(["drill", "new", str(new), "plain-seesaw", "--roster", "clas.csv"]) == 2
    assert "again.toml: roster: clas.csv: there is no such file" in capsys.readouterr().err
    assert not new.exists()


@pytest.mark.parametrize("is_asked", [True, False])
def test_a_drill_for_marks_has_rules_that_suit_them(
    is_asked: bool, ask: Ask, tmp_path: Path
) -> None:
    answers = ("", "plain-seesaw", "", "", "", "marks", "") if is_asked else ()
    options = () if is_asked else ("plain-seesaw", "--graded")
    assert ask(*answers, options=options) == 0
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    assert (drill.attempts, drill.hints, drill.feedback, drill.sittings) == (
        3, Hints.COST, Feedback.EACH, 1
    )  # fmt: skip
    assert drill.scheme.wrong_try == Fraction(1, 10)
    practice = tmp_path / "practice.toml"
    assert main(["drill", "new", str(practice), "plain-seesaw"]) == 0
    assert "these rules suit practice" in practice.read_text("utf-8")
    assert read_drill(practice, SHELF.problems).sittings is None


@pytest.mark.parametrize("where", ["beside", "above", "absolute"])
def test_a_new_drill_names_its_roster_from_its_own_folder(
    where: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "course"
    folder.mkdir()
    place = (tmp_path if where == "above" else folder) / "class.csv"
    place.write_text("id,name\ns1,Ida\n", "utf-8")
    monkeypatch.chdir(tmp_path)
    file, roster = "course/levers.toml", str(place) if where == "absolute" else "class.csv"
    assert main(["drill", "new", file, "plain-seesaw", "--roster", roster]) == 0
    named = "../class.csv" if where == "above" else "class.csv"
    text = (tmp_path / file).read_text("utf-8")
    assert f'roster = "{named}"' in text
    assert str(tmp_path) not in text
    assert read_drill(tmp_path / file, SHELF.problems).students == {"s1": "Ida"}


ODD_ROSTER = "Matrikel;Vorname;Name;Lab Group\ns1;Ida;Müller;L1\ns2;Odo;Weiß;L2\n"


def test_columns_of_a_roster_are_asked_once_and_kept(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "class.csv").write_bytes(ODD_ROSTER.encode("latin-1"))
    named = ("class.csv", "matrikl", "matrikel", "vorname, name", "Lab Group")
    assert ask("", "plain-seesaw", "", "", "", "", *named) == 0
    said = capsys.readouterr().out
    assert (
        "The columns of class.csv are, to be typed by number or by name:\n  1  matrikel\n" in said
    )
    assert 'There is no such column (did you mean "matrikel"?).' in said
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    assert drill.students == {"s1": "Ida Müller", "s2": "Odo Weiß"}
    assert drill.carried("s2") == ("L2",)


def test_a_roster_is_set_later_and_asked_about_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "class.csv").write_text(ODD_ROSTER, "utf-8")
    file = tmp_path / "levers.toml"
    assert main(["drill", "new", str(file), "plain-seesaw"]) == 0
    answers = iter(("matrikel", "vorname", "lab group", "", "", ""))
    monkeypatch.setattr("builtins.input", lambda _: next(answers))
    call = ["drill", "roster", str(file), str(tmp_path / "class.csv")]
    assert main(call) == 0
    assert main(call) == 0, "Enter alone takes what was before"
    assert "now has the roster class.csv: 2 students." in capsys.readouterr().out
    drill = read_drill(file, SHELF.problems)
    assert (drill.students, drill.carried("s1")) == ({"s1": "Ida", "s2": "Odo"}, ("L1",))
    (tmp_path / "class.csv").write_text("id\n", "utf-8")
    before = file.read_text("utf-8")
    assert main(call) == 2
    assert "nobody is on it" in capsys.readouterr().err
    assert file.read_text("utf-8") == before
    (tmp_path / "class.csv").write_text("id,name\ns1,Ida\n", "utf-8")
    assert main(call) == 0, "nothing is asked about the usual columns"
    assert read_drill(file, SHELF.problems).roster_columns == RosterColumns()


def test_a_column_with_a_comma_is_taken_by_number_or_name_and_enter_alone_never_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    place = tmp_path / "class.csv"
    place.write_text('Code;"Surname, first";;Group\ns1;Ash, Ida;x;L1\n', "utf-8")
    file = tmp_path / "levers.toml"
    assert main(["drill", "new", str(file), "plain-seesaw"]) == 0
    answers = iter(("", "4", "1", "Surname, first", "3, who = 2", "", "", "who = Surname, first"))
    monkeypatch.setattr("builtins.input", lambda _: next(answers))
    for carried in (("L1", "Ash, Ida"), ("Ash, Ida",)):
        assert main(["drill", "roster", str(file), str(place)]) == 0
        drill = read_drill(file, SHELF.problems)
        assert (drill.students, drill.carried("s1")) == ({"s1": "Ash, Ida"}, carried)
    said = capsys.readouterr().out
    assert "Nothing is in brackets here" in said
    assert "There is no such column." in said


def test_a_title_above_the_headings_is_told_and_nothing_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place, file = tmp_path / "class.csv", tmp_path / "levers.toml"
    place.write_text("Class list 3B;;;\nid;name;group;lab\ns1;Ida;A;L1\n", "utf-8")
    assert main(["drill", "new", str(file), "plain-seesaw"]) == 0
    before = file.read_text("utf-8")
    assert main(["drill", "roster", str(file), str(place)]) == 2
    assert "the first row looks like a title" in capsys.readouterr().err
    assert file.read_text("utf-8") == before


def test_a_list_with_other_columns_is_asked_about_anew_and_a_section_put_in(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "class.csv").write_text(ODD_ROSTER, "utf-8")
    new = tmp_path / "new.csv"
    new.write_text("Student id,First name,Surname,Team\ns1,Ida,Ash,L1\ns2,Odo,Elm,L2\n", "utf-8")
    file = str(tmp_path / "levers.toml")
    assert main(["drill", "new", file, "plain-seesaw"]) == 0
    answers = iter(("matrikel", "none", "lab group", "", "", "total = team", "section = team"))
    asked: list[str] = []
    monkeypatch.setattr("builtins.input", lambda told: asked.append(told) or next(answers))
    assert main(["drill", "roster", file, str(tmp_path / "class.csv")]) == 0
    assert main(["drill", "roster", file, str(new)]) == 0
    assert [one.partition("[")[2] for one in asked[3:5]] == [
        "student id]: ", "first name, surname]: "
    ]  # fmt: skip
    assert "'total' can't be a heading" in capsys.readouterr().out
    drill = part_of_class(read_drill(Path(file), SHELF.problems), None, "l2")
    assert drill.students == {"s2": "Odo Elm"}


@pytest.mark.parametrize(
    ("roster", "students", "told"),
    [
        ("Student ID;Full name\ns1;Ida\n", {"s1": "Ida"}, "Ids are read from the column student"),
        ("ID#,Full_Name\ns1,Ida\n", {"s1": "Ida"}, "from the column id#, names from full_name"),
        ("Student_ID;Name\ns1;Ida\n", {"s1": "Ida"}, "Ids are read from the column student_id"),
        ("Code;Who\ns1;Ida\n", {}, "Run next: leverstep drill roster "),
    ],
)
def test_a_new_drill_takes_columns_that_are_plain_or_says_how_to_set_its_roster(
    roster: str, students: dict[str, str], told: str,
    tmp_path: Path, capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    (tmp_path / "class.csv").write_text(roster, "utf-8")
    new, where = str(tmp_path / "levers.toml"), str(tmp_path / "class.csv")
    assert main(["drill", "new", new, "plain-seesaw", "--roster", where]) == 0
    assert told in capsys.readouterr().out
    assert read_drill(Path(new), SHELF.problems).students == students


def test_where_the_input_ends_nothing_is_written(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ask("", "plain-seesaw") == 2
    assert capsys.readouterr().err == "\nThe input has ended; nothing was written.\n"
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_there_is_refused_before_anything_is_asked(
    ask: Ask, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "levers.toml").write_text("kept", "utf-8")
    assert ask() == 2
    assert "it already exists" in capsys.readouterr().err
    assert main(["drill", "new", str(tmp_path / "none" / "levers.toml")]) == 2
    assert "there is no folder" in capsys.readouterr().err
    assert (tmp_path / "levers.toml").read_text("utf-8") == "kept"


@pytest.mark.parametrize("key", ["attempts", "minutes"])
def test_a_number_that_is_none_is_told_and_not_dropped(
    key: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "levers.toml"
    assert main(["drill", "new", str(file), "plain-seesaw", f"--{key}", "0"]) == 2
    assert f"{key}: found 0" in capsys.readouterr().err
    assert not file.exists()


# Preview and vetting.


def drill_with(folder: Path, rules: str = "") -> Path:
    (folder / "roster.csv").write_text("id,name\ns1,Ida\ns2,Odo\n", "utf-8")
    path = folder / "levers.toml"
    path.write_text(small_drill(f'roster = "roster.csv"\n{rules}').text, "utf-8")
    return path


def test_a_preview_has_the_rules_and_says_who_could_not_sit_the_drill(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = str(drill_with(tmp_path, "minutes = 20\nattempts = 2"))
    assert main(["drill", "preview", file]) == 0
    told = capsys.readouterr().out
    assert "  You have 20 minutes, and the clock stops while you are away." in told
    assert "  A line may be tried twice; a wrong try costs nothing." in told
    assert "The numbers of the id s1, Ida:" in told
    assert "  class: " in told
    assert "not on the roster" not in told
    assert main(["drill", "preview", file, "--student", " S2 "]) == 0
    assert "The numbers of the id s2, Odo:" in capsys.readouterr().out
    assert main(["drill", "preview", file, "--student", "s9"]) == 0
    assert "s9 is not on the roster" in capsys.readouterr().out
    for none in ("", "  ", "x" * 41):
        with pytest.raises(SystemExit):
            main(["drill", "preview", file, "--student", none])
        assert "expected 1 to 40 printable characters" in capsys.readouterr().err


def test_a_drill_that_has_closed_is_remarked_on(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for year, told in (("2001", True), ("2999", False)):
        file = str(drill_with(tmp_path, f"closes = {year}-03-01T09:00:00Z"))
        assert main(["vet", file]) == 0
        assert ("remark: closes: it closed on 01 March 2001" in capsys.readouterr().out) == told


def test_a_roster_that_is_not_there_is_told_of_in_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = str(drill_with(tmp_path))
    (tmp_path / "roster.csv").unlink()
    told = "roster: roster.csv: there is no such file; expected a CSV file beside the drill"
    records, out = str(tmp_path), str(tmp_path / "out")
    assert main(["drill", "mark", file, records, "--out", out]) == 2
    assert told in capsys.readouterr().err
    assert main(["vet", file]) == 2
    assert told in capsys.readouterr().out
    assert main(["drill", "preview", file]) == 0, "as it can be sat without"
    assert "made-up students" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        ("", "Asked for: every line. They share the 10 marks evenly."),
        (
            'guidance = "landmarks"',
            "Asked for: M_sum, F_h, MA, AR, class, R_y, direction. They share the 10 marks evenly.",
        ),
        ('picture = "asked"', "They share the 10 marks evenly with the free-body diagram."),
        ('conversions = "given"', "Asked for: W_s, W_b, equation, M_s, M_b, M_sum, "),
    ],
)
def test_a_preview_says_which_lines_are_asked_for(
    rules: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["drill", "preview", str(drill_with(tmp_path, rules))]) == 0
    assert told in capsys.readouterr().out


def test_a_preview_asks_for_no_line_of_a_task_that_was_withdrawn(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = drill_with(tmp_path)
    text, marks = file.read_text("utf-8"), "marks = 10"
    other = '[[item]]\nproblem = "plain-seesaw"\nmarks = 4\n'
    assert marks in text
    file.write_text(text.replace(marks, f'{marks}\nwithdrawn = "full marks"') + other, "utf-8")
    assert main(["drill", "preview", str(file)]) == 0
    told = capsys.readouterr().out
    assert "Task 1 has been withdrawn: everybody has full marks for it." in told
    assert "They share the 4 marks evenly." in told
    assert "They share the 10 marks" not in told


# Marking.


def class_in(folder: Path, students: int = 2) -> tuple[str, str, str]:
    """Write a drill and records of some students; return both, and where marks go."""
    drill = small_drill()
    (folder / "levers.toml").write_text(drill.text, "utf-8")
    records = folder / "records"
    records.mkdir()
    for number in range(1, students + 1):
        data = record(drill, f"s{number}", [entry("W_s", f"{number} N"), END])
        (records / f"s{number}.jsonl").write_bytes(data)
    return str(folder / "levers.toml"), str(records), str(folder / "out")


def test_records_that_are_not_there_are_an_error(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file, records, out = class_in(tmp_path)
    nowhere = str(tmp_path / "nowhere")
    for command in (["mark", file, records, nowhere, "--out", out], ["report", file, nowhere]):
        assert main(["drill", *command]) == 2
        told = f"{nowhere}: it is not there; expected records, or a folder of them\n"
        assert capsys.readouterr().err == told
    assert not Path(out).exists()


def test_only_students_with_marks_are_counted_as_marked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, records, out = class_in(tmp_path)
    file = str(drill_with(tmp_path))
    (Path(records) / "s2.jsonl").unlink()
    (Path(records) / "odd.jsonl").write_text("?\n", "utf-8")
    (Path(records) / "copy.txt").write_bytes((Path(records) / "s1.jsonl").read_bytes())
    (Path(records) / "notes.txt").write_text("remember\n", "utf-8")
    assert main(["drill", "mark", file, records, "--out", out]) == 0
    said = capsys.readouterr().out.splitlines()
    assert said[0] == "4 files: 2 records, 1 copy, 1 other."
    assert said[1].startswith("1 student is marked: ")
    assert "1 student sat, 1 handed in. 1 of the roster has no record." in said[-1]
    assert "Records that can't be marked: 1." in said[-1]
    with (Path(out) / MARKS).open(encoding="utf-8", newline="") as table:
        rows = [(row["id"], row["remarks"]) for row in csv.DictReader(table)]
    assert rows == [
        ("", "odd.jsonl: this is not a record of this drill"),
        ("s1", rows[1][1]),
        ("s2", "no record"),
    ]


def test_pages_of_an_earlier_marking_are_not_left_among_new_ones(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file, records, out = class_in(tmp_path)
    mark = ["drill", "mark", file, records, "--out", out]
    assert main([*mark, "--pages", "--statements", "--against", out]) == 2, "no table is there yet"
    assert main([*mark, "--pages", "--statements"]) == 0
    pages = Path(out) / "students"
    (pages / "notes.html").write_text("mine", "utf-8")
    assert len(list(pages.iterdir())) == 3
    (Path(records) / "s2.jsonl").unlink()
    capsys.readouterr()
    assert main(mark) == 0
    told = f"Left over from an earlier run: {pages}, {Path(out) / 'statements.jsonl'}"
    assert told in capsys.readouterr().out.splitlines()
    assert len(list(pages.iterdir())) == 3
    assert main([*mark, "--pages", "--statements"]) == 0
    assert "Left over from an earlier run" not in capsys.readouterr().out
    left = sorted(page.name[:5] for page in pages.iterdir())
    assert left == ["notes", "s1-" + left[1][3:]]


def test_another_version_of_the_file_is_told_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file, records, out = class_in(tmp_path)
    text = Path(file).read_text("utf-8")
    Path(file).write_text(f"tolerance = 0.02\n{text}", "utf-8")
    assert main(["drill", "mark", file, records, "--out", out]) == 0
    told = "sat with another version of the drill's file"
    assert capsys.readouterr().out.count(told) == 1
    report = (Path(out) / f"{REPORT}.md").read_text("utf-8")
    assert report.count("sat with another version of the drill") == 1
    assert "makes no difference" not in report, "a task that was put in lowers every percentage"
    assert told not in (Path(out) / MARKS).read_text("utf-8")
    one = Path(records) / "s3.jsonl"
    drill = read_drill(Path(file), SHELF.problems)
    one.write_bytes(record(drill, "s3", [END]))
    assert first_line(drill, "s3")["digest"] == drill.digest
    assert main(["drill", "mark", file, records, "--out", out]) == 0
    assert (Path(out) / MARKS).read_text("utf-8").count(told) == 2
