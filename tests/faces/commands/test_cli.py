"""The command line: what each command prints, and the code it ends with."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from functools import partial
from pathlib import Path

import pytest
from helpers.source import ROOT
from leverstep.course.shelf import load_shelf
from leverstep.faces.commands.cli import main
from leverstep.working.cautions import CAUTION

BARROW = ROOT / "problems" / "plain" / "plain-wheelbarrow.toml"
SHELF = load_shelf()
CHECK = ["check", "plain-wheelbarrow", "--seed", "1"]


pytestmark = pytest.mark.usefixtures("home_in_use")


def run(*arguments: str, typed: bytes = b"", **environment: str) -> tuple[int, str, str]:
    """Return the exit code, the output and the errors; what is typed comes from a pipe."""
    done = subprocess.run(
        [sys.executable, "-m", "leverstep", *arguments],
        input=typed,
        capture_output=True,
        cwd=ROOT,
        env=os.environ | environment,
        check=False,
    )
    return done.returncode, done.stdout.decode("utf-8"), done.stderr.decode("utf-8")


def test_problems_lists_every_problem_on_a_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["problems"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split()[0] for line in lines] == [card.id for card in SHELF.offered]
    for line, card in zip(lines, SHELF.offered, strict=True):
        problem = SHELF.problems[card.id]
        assert f"{problem.title} ({problem.joint}, difficulty {problem.difficulty}, " in line


def test_problems_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["problems", "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)
    assert [row["id"] for row in rows] == [card.id for card in SHELF.offered]
    keys = ("id", "title", "joint", "difficulty", "class", "units", "asks", "own")
    assert {tuple(row) for row in rows} == {keys}
    assert {row["units"] for row in rows} == {"SI", "US customary", "mixed units"}


@pytest.mark.parametrize("name", sorted(SHELF.problems))
def test_working_shows_every_step_worked_out(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["working", name, "--seed", "2"]) == 0
    out = capsys.readouterr().out
    question = SHELF.problems[name].question("2")
    assert out.startswith(f"{question.problem.title}\n{question.statement}\n")
    assert out.endswith(f"\n{CAUTION}\n")
    assert [line for line in out.splitlines() if line.endswith("]")] != []
    for step in question.derivation.asked:
        assert f" [{step.key}]\n" in out


def test_working_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["working", "plain-wheelbarrow", "--seed", "1", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["caution"] == CAUTION
    steps = {step["key"]: step for step in answer["steps"]}
    assert steps["W_s"] == {
        "key": "W_s",
        "asks": "Weight of the soil, in newtons",
        "formula": "W_s = m_s × g",
        "substituted": "54.0 kg × 9.81 m/s²",
        "value": pytest.approx(529.74),
        "text": "529.7 N",
        "unit": "N",
    }
    assert steps["class"]["text"] == "second"
    assert steps["equation"]["value"] is None


def test_the_same_seed_gives_the_same_working(capsys: pytest.CaptureFixture[str]) -> None:
    outs = []
    for seed in ("5", "5", "6"):
        assert main(["working", "elbow-full-pail", "--seed", seed]) == 0
        outs.append(capsys.readouterr().out)
    assert outs[0] == outs[1] != outs[2]


@pytest.mark.parametrize(
    ("entry", "code", "told", "hints"),
    [
        ("529.7 N", 0, "Right.", 0),
        ("0.5297 kN", 0, "Right. Note: in N that is 529.7 N.", 0),
        ("54 N", 1, "Not yet. It looks like", 4),
        ("-529.7N", 1, "Not yet", 4),
        ("5 m", 1, "Not judged: a length is not a force", 0),
        ("1 +", 1, "Not judged", 0),
        ("", 1, "Not judged", 0),
    ],
)
def test_check_tells_the_verdict_and_ends_with_its_code(
    entry: str, code: int, told: str, hints: int, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*CHECK, "--step", "W_s", entry]) == code
    out = capsys.readouterr().out
    assert out.startswith(told)
    assert out.count("Hint ") == hints


def test_check_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*CHECK, "--step", "W_s", "--json", "54 N"]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert (answer["line"], answer["entry"], answer["verdict"]) == ("W_s", "54 N", "not yet")
    assert answer["told"].startswith("Not yet. It looks like")
    assert answer["explanations"]
    for explanation in answer["explanations"]:
        assert explanation["sure"] is True
        assert explanation["slips"] == [{"id": "kilograms-left", "line": "W_s"}]
    assert len(answer["hints"]) == 4


def test_check_of_a_right_entry_gives_no_hints(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*CHECK, "--step", "W_s", "--json", "529.7 N"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert (answer["verdict"], answer["explanations"], answer["hints"]) == ("right", [], [])


def test_check_goes_by_the_earlier_lines_that_are_given(
    capsys: pytest.CaptureFixture[str],
) -> None:
    entry = ["--step", "M_sum", "-253 N m"]
    assert main([*CHECK, *entry]) == 1
    given = ["--given=W_s=600 N", "--given=d_s = 0.318 m", "--given=M_s=-W_s*d_s"]
    assert main([*CHECK, *given, *entry]) == 0
    assert main([*CHECK, *reversed(given), *entry]) == 0
    assert capsys.readouterr().out.endswith(f"Right with your earlier value.\n{CAUTION}\n" * 2)


@pytest.mark.parametrize("given", ["W_s", "W_s=", "W_s=hello", "W_s=5 m"])
def test_an_earlier_line_that_cannot_be_read_is_wrong_usage(
    given: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*CHECK, "--given", given, "--step", "M_s", "5 N m"]) == 2
    heard = capsys.readouterr()
    told = "--given W_s: not read: " if "=" in given else "--given: found 'W_s'; expected KEY="
    assert heard.err.startswith(told)
    assert heard.out == ""


def test_a_line_is_named_as_it_is_shown(capsys: pytest.CaptureFixture[str]) -> None:
    pail = ["check", "elbow-pail-of-water", "--seed", "7", "down", "--json"]
    assert main([*pail, "--step", "direction", "--given", "class=third"]) in (0, 1)
    assert json.loads(capsys.readouterr().out)["line"] == "R_dir"


def test_the_text_of_a_problem_that_ships_is_printed_to_be_changed(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert main(["problems", "--text", "plain-wheelbarrow"]) == 0
    text = capsys.readouterr().out
    own = tmp_path / "my-barrow.toml"
    own.write_text(text.replace('id = "plain-wheelbarrow"', 'id = "my-barrow"'), "utf-8")
    assert main(["problems", "--text", str(own)]) == 0
    assert capsys.readouterr().out == own.read_text("utf-8")
    assert main(["vet", str(own)]) == 0


@pytest.mark.parametrize("options", [["--step", "Q"], ["--step", "W_s", "--given", "Q=5 N"]])
def test_a_line_that_is_not_there_is_wrong_usage(
    options: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*CHECK, *options, "5 N"]) == 2
    assert capsys.readouterr().err.startswith("Q: no such line; expected one of W_s, W_b, ")


@pytest.mark.parametrize(
    "command",
    [["working", "--seed", "1"], ["check", "--seed", "1", "--step", "W", "5 N"], ["practise"]],
)
def test_a_name_nearly_right_is_answered_with_the_right_one(
    command: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    name = "plain-wheelbarow"
    assert main([command[0], name, *command[1:]]) == 2
    heard = capsys.readouterr()
    assert heard.err == (
        f'{name}: no problem has this name (did you mean "plain-wheelbarrow"?); '
        "expected a name that `leverstep problems` lists\n"
    )
    assert heard.out == ""


@pytest.mark.parametrize(
    "arguments",
    [["nonsense"], ["working"], ["working", "plain-wheelbarrow"], ["check", "x"], ["--nonsense"]],
)
def test_wrong_usage_ends_with_two(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as end:
        main(arguments)
    assert end.value.code == 2
    assert "usage: leverstep" in capsys.readouterr().err


@pytest.mark.parametrize("command", [[], ["practise"], ["problems"], ["working"], ["check"]])
def test_every_command_has_help_with_an_example(
    command: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as end:
        main([*command, "--help"])
    assert end.value.code == 0
    assert "example: leverstep " in capsys.readouterr().out


def test_a_problem_file_of_ones_own_is_opened_by_its_path(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "my-barrow.toml"
    text = BARROW.read_text("utf-8").replace('"plain-wheelbarrow"', '"my-barrow"')
    own.write_text(text.replace("A barrow of wet soil", "My barrow"), "utf-8")
    assert main(["working", str(own), "--seed", "1"]) == 0
    assert capsys.readouterr().out.startswith("My barrow\n")


def test_a_broken_problem_file_is_answered_with_every_fault(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    broken = tmp_path / "broken.toml"
    text = BARROW.read_text("utf-8").replace("difficulty = 1", "difficulty = 9")
    text = text.replace('points = "right"', 'points = "rihgt"').replace("{d_h}", "{d_x}")
    broken.write_text(text, "utf-8")
    assert main(["working", str(broken), "--seed", "1"]) == 2
    heard = capsys.readouterr()
    lines = heard.err.splitlines()
    assert heard.out == ""
    assert all(line.startswith(f"{broken}: ") and "; expected " in line for line in lines)
    assert {line.split(": ")[1] for line in lines} == {
        "id",
        "difficulty",
        "segment.points",
        "statement",
    }


@pytest.mark.parametrize("name", ["nowhere.toml", "folder.toml"])
def test_a_path_that_cannot_be_read_says_so(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "folder.toml").mkdir()
    assert main(["working", str(tmp_path / name), "--seed", "1"]) == 2
    assert capsys.readouterr().err.startswith(f"{tmp_path / name}: ")


@pytest.mark.parametrize("arguments", [(), ("--plain",)])
def test_without_a_terminal_or_in_plain_lines_a_problem_is_asked_for(
    arguments: tuple[str, ...],
) -> None:
    code, out, errors = run(*arguments, typed=b"elbow\n1\n")
    assert (code, errors) == (0, "")
    lines = out.splitlines()
    first = next(card for card in SHELF.cards if card.joint == "elbow")
    assert f"Problem: {first.title}" in lines
    assert lines.count(f"Caution: {CAUTION}") == 2
    assert "The input has ended. What was typed is kept. To come back: " in out


def test_plain_lines_may_be_asked_for_before_the_command_or_after_it() -> None:
    arguments = ("practise", "plain-seesaw", "--seed", "1")
    first, second = run("--plain", *arguments), run(*arguments, "--plain")
    assert first == second


def test_answers_may_come_from_a_pipe(tmp_path: Path) -> None:
    typed = b"529.7 N\nhint\n54 N\n98.1 N\n"
    code, out, errors = run("practise", "plain-wheelbarrow", "--seed", "1", typed=typed)
    assert (code, errors) == (0, "")
    assert out.count("Right.") == 2
    assert out.count("Not yet") == out.count("Hint 1 of 4 for W_b: ") == 1
    (record,) = (tmp_path / "home" / "practice").iterdir()
    assert record.read_text("utf-8").count('"entry"') == 3


def test_what_is_no_text_is_not_read_and_does_no_harm() -> None:
    hostile = [b"\xff\xfe5 N", b"\x00", b"\x1b[2J", b"5" * 20_000, b"[red]5[/] N"]
    typed = b"\n".join([b"plain-seesaw", *hostile])
    code, out, errors = run(typed=typed, PYTHONIOENCODING="utf-8:strict")
    assert (code, errors) == (0, "")
    assert out.count("Not judged") == len(hostile)
    assert "\x1b" not in out


def test_output_that_nobody_reads_any_more_is_no_error() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [sys.executable, "-m", "leverstep", "problems"],
        stdout=writing,
        stderr=subprocess.PIPE,
        cwd=ROOT,
        env={key: value for key, value in os.environ.items() if key != "PYTHONUNBUFFERED"},
        check=False,
    )
    os.close(writing)
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.parametrize("seed", ["", "  ", "x" * 25, "a\tb"])
def test_a_seed_is_a_number_or_a_short_word(seed: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as caught:
        main(["working", "elbow-full-pail", "--seed", seed])
    assert caught.value.code == 2
    assert "expected 1 to 24 printable characters" in capsys.readouterr().err


def test_a_problem_opened_by_its_path_can_be_gone_on_with(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    mine = tmp_path / "my-barrow.toml"
    text = BARROW.read_text("utf-8").replace(BARROW.stem, mine.stem)
    mine.write_text(text, "utf-8")
    monkeypatch.setattr("sys.stdin", io.StringIO("5.00 N\n"))
    assert main(["practise", str(mine), "--plain"]) == 0
    capsys.readouterr()
    monkeypatch.setattr("sys.stdin", io.StringIO("lines\n"))
    assert main(["practise", str(mine), "--plain", "--go-on"]) == 0
    assert "W_s: 5.00 N. Not yet" in capsys.readouterr().out


class Typed(io.StringIO):
    """What somebody types at a terminal."""

    def isatty(self) -> bool:
        """Return that it is a terminal."""
        return True


def practise_barrow(
    typed: str, *options: str, patch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> str:
    """Practise with the same numbers again, and return what is said."""
    patch.setattr("sys.stdin", io.StringIO(typed))
    assert main(["practise", "plain-wheelbarrow", "--seed", "1", "--plain", *options]) == 0
    out, errors = capsys.readouterr()
    assert errors == ""
    return out


def test_the_same_numbers_again_begin_anew_where_nobody_can_be_asked_and_that_is_said(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    call = partial(practise_barrow, patch=monkeypatch, capsys=capsys)
    assert "You began" not in call("54 N\n")
    again = call("lines\n")
    assert "You began this problem with these very numbers before: today " in again
    assert "so it begins anew; --go-on goes on with it." in again
    assert "No line is written yet." in again
    assert "You began" not in call("", "--anew")
    assert "W_s: 54 N." in call("lines\n", "--go-on")


@pytest.mark.parametrize(
    ("answer", "said"),
    [("go on", "W_s: 54 N."), ("", "W_s: 54 N."), ("anew", "No line is written yet."),
     ("stop", "Nothing was opened.")],
)  # fmt: skip
def test_the_same_numbers_again_are_asked_about_at_a_terminal(
    answer: str, said: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    call = partial(practise_barrow, patch=monkeypatch, capsys=capsys)
    call("54 N\n")
    monkeypatch.setattr("io.StringIO", Typed)
    assert said in call(f"{answer}\nlines\n")


@pytest.mark.parametrize(
    ("guidance", "prompt"),
    [("lines", "W_s: "), ("landmarks", "Line: "), ("blank", "Line: ")],
)
def test_the_guidance_is_chosen_on_the_command_line(
    guidance: str,
    prompt: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    named = ["practise", "plain-wheelbarrow", "--seed", "1", "--plain", "--guidance", guidance]
    monkeypatch.setattr("sys.stdin", io.StringIO("W_s = 54 N\n"))
    assert main(named) == 0
    out, errors = capsys.readouterr()
    assert errors == ""
    assert out.count(prompt) >= 2
    assert ("Still to find: F_h, MA" in out) == (guidance == "blank")
    monkeypatch.setattr("sys.stdin", io.StringIO("lines\n"))
    assert main(["practise", "plain-wheelbarrow", "--go-on"]) == 0
    out, errors = capsys.readouterr()
    assert errors == ""
    assert "W_s = 54 N. Not yet. " in out
    assert prompt in out, "a working keeps its own guidance"


def test_a_guidance_that_there_is_none_of_is_wrong_usage(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with pytest.raises(SystemExit) as caught:
        main(["practise", "plain-wheelbarrow", "--guidance", "none"])
    assert caught.value.code == 2
    assert "lines" in capsys.readouterr().err
