"""What is said of a call that is wrong: where, what was found, what was expected; never a crash."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from helpers.source import SOURCE
from leverstep.faces.commands.cli import main
from leverstep.faces.terminal import plain_output

PAIL = "elbow-full-pail"
ENDS = "elbow-both-attachments"


pytestmark = pytest.mark.usefixtures("home_in_use")


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder with files of all sorts, which the commands run in."""
    monkeypatch.delenv("LEVERSTEP_LIBRARY", raising=False)
    folder = tmp_path / "place"
    (folder / "empty").mkdir(parents=True)
    (folder / "broken.toml").write_text("x = ", "utf-8")
    (folder / "bytes.toml").write_bytes(b"\xff\xfe\x00")
    (folder / "records.jsonl").write_text("{}\n", "utf-8")
    drill = 'id = "levers"\ntitle = "Levers"\n[[item]]\nproblem = "plain-seesaw"\n'
    (folder / "levers.toml").write_text(drill, "utf-8")
    monkeypatch.chdir(folder)
    return folder


def told(*arguments: str, capsys: pytest.CaptureFixture[str]) -> tuple[int | str | None, str]:
    """Return the exit code of a call, and what it says; of errors, where there are any."""
    try:
        code: int | str | None = main(arguments)
    except SystemExit as ended:
        code = ended.code
    heard = capsys.readouterr()
    return code, heard.err or heard.out


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (["bogus"], "leverstep: argument COMMAND: found 'bogus'; expected one of practise, "),
        (["practize", PAIL], "found 'practize' (did you mean \"practise\"?); expected one of "),
        (["drill", "bogus"], "leverstep drill: argument COMMAND: found 'bogus'; expected one of "),
        (["practise", "elbow-full-pial", "--plain"], f'(did you mean "{PAIL}"?); expected a name'),
        (["practise", "", "--plain"], '"": no problem has this name; expected a name that '),
        (["practise", "bytes.toml"], "it is not written in UTF-8; expected a text saved as UTF-8"),
        (["practise", "leverz.toml"], 'there is no such file (did you mean "levers.toml"?); expec'),
        (["practise", "q.toml"], "q.toml: there is no such file; expected a readable file\n"),
        (["practise", PAIL, "--seed", ""], "argument --seed: found ''; expected 1 to 24 printable"),
        (["working", PAIL, "--seed", "x" * 25], "--seed: found 'xxxxx"),
        (["practise", PAIL, "--guidance", "line"], 'found \'line\' (did you mean "lines"?); expec'),
        (["practise", PAIL, "--plain", "--go-on"], "; leave out --go-on to begin one\n"),
        (["practise", ENDS, "--plain", "--own", "m_b"], "--own: m_b has no value; expected"),
        (["practise", ENDS, "--plain", "--own", "m_b ="], "--own: m_b: nothing was typed"),
        (["practise", ENDS, "--plain", "--own", "q=1"], '--own: "q" is not a number you can give'),
        (["practise", ENDS, "--plain", "--own", "m_b=7 m"], 'asked for in "kg"; found \'7 m\'\n'),
        (["problems", "--joint", "kne"], '--joint: found \'kne\' (did you mean "knee"?); expec'),
        (["problems", "--class", "4"], "argument --class: found 4; expected one of 1, 2, 3\n"),
        (["problems", "--difficulty", "x"], "--difficulty: found 'x'; expected a whole number\n"),
        (["check", PAIL, "--seed", "7", "--step", "W_l", "--given", "foo", "1 N"],
         "--given: found 'foo'; expected KEY=ENTRY\n"),
        (["vet", "empty"], "empty: there is no file to vet; expected files that end in .toml\n"),
        (["vet", "empty", "nowhere"], "nowhere: there is no such file; expected a readable file\n"),
        (["vet", "odd.**"], "odd.**: there is no such file; expected a readable file\n"),
        (["drill", "preview", "no/levers.toml"], "levers.toml: there is no such file; expected a"),
        (["--library", "nowhere", "problems"], "--library nowhere: there is no such folder; expec"),
        (["problems", "--library", "levers.toml"], "--library levers.toml: there is no such fold"),
        (["drill", "preview", "."], ".: it is a folder; expected a readable file\n"),
        (["drill", "preview", "levers.toml", "--student", ""], "--student: found ''; expected 1 t"),
        (["sheet", PAIL, "--student", "a\x07"], "--student: found 'a\\x07'; expected 1 to 40 prin"),
        (["drill", "new", "new.toml", PAIL, "--minutes", "x"], "--minutes: found 'x'; expected a "),
        (["drill", "mark", "levers.toml", "empty", "--out", "m"], "empty: no records are there;"),
        (["drill", "mark", "levers.toml", "records.jsonl", "--out", "levers.toml"],
         "levers.toml: it is a file; expected a folder for the marks\n"),
        (["completion", "tcsh"], "argument shell: found 'tcsh'; expected one of bash, zsh, fish\n"),
    ],
)  # fmt: skip
def test_a_wrong_call_is_told_what_would_be_right(
    call: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code, said = told(*call, capsys=capsys)
    assert code == 2
    assert says in said
    assert "Traceback" not in said


def test_after_a_wrong_call_stands_an_example(capsys: pytest.CaptureFixture[str]) -> None:
    _, said = told("problems", "--class", "4", capsys=capsys)
    assert said.startswith("usage: leverstep problems ")
    assert said.endswith("\nexample: leverstep problems --joint knee\n")


def test_a_call_in_a_folder_that_is_gone_says_so(place: Path) -> None:
    shell = (
        f"mkdir gone; cd gone; rmdir ../gone; exec {sys.executable} -m leverstep drill sit x.toml"
    )
    done = subprocess.run(
        ["sh", "-c", shell],
        cwd=place,
        env=os.environ | {"PYTHONPATH": str(SOURCE)},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 2
    assert (
        done.stderr == "The folder that this was started in is gone; change to one that exists.\n"
    )


def test_a_list_that_is_empty_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    """It is no fault, and as JSON the list is there all the same."""
    narrow = ["problems", "--joint", "knee", "--class", "1", "--difficulty", "3"]
    assert told(*narrow, capsys=capsys) == (0, "No problem matches these filters; leave one out.\n")
    assert told(*narrow, "--json", capsys=capsys) == (0, "[]\n")


@pytest.mark.parametrize(
    ("call", "closed", "code", "says"),
    [
        (f"practise {PAIL} --plain", "<&-", 0, "The input has ended."),
        (f"board {PAIL} --seed 7", "<&-", 0, "Next: W_f."),
        ("drill sit levers.toml", "<&-", 2, "The input has ended before the drill was begun."),
        ("drill new new.toml", "<&-", 2, "The input has ended; nothing was written."),
        ("problems", ">&-", 2, "The output can't be written: it is closed."),
        ("practise --help", ">&-", 2, "The output can't be written: it is closed."),
        ("practise --help", ">/dev/full", 2, "The output can't be written: No space left"),
        ("problems", ">&- 2>&-", 2, ""),
        ("practise bogus", "2>&-", 2, ""),
        ("problems", ">/dev/full", 2, "The output can't be written: No space left on device."),
    ],
)
def test_a_stream_that_is_closed_or_full_is_no_crash(
    call: str, closed: str, code: int, says: str, place: Path
) -> None:
    """Streams are closed as a POSIX shell does it."""
    assert os.name == "posix"
    shell = f"exec {sys.executable} -m leverstep {call} {closed}"
    done = subprocess.run(
        ["sh", "-c", shell],
        cwd=place,
        env=os.environ | {"PYTHONPATH": str(SOURCE)},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == code, done.stderr
    assert says in done.stdout + done.stderr
    assert "Traceback" not in done.stderr


ODD = "a\x1b[2J\x9b\u202e\udcb0\tb"
"""A name with signs that command a terminal or turn a line round, and a byte that is no text."""


@pytest.fixture
def odd(place: Path) -> Path:
    """Return a folder of an odd name, with a drill, a record of it, and an own problem."""
    folder = place / ODD
    (folder / "records").mkdir(parents=True)
    drill = (place / "levers.toml").read_text("utf-8")
    (folder / f"{ODD}.toml").write_text(drill, "utf-8")
    with_roster = f'roster = "roster.csv"\n{drill}'
    (folder / "listed.toml").write_text(with_roster, "utf-8")
    roster = "id,name\ns01,Ida \x1b[2J\ns\x1b[2J2,Odo\n"
    (folder / "roster.csv").write_text(roster, "utf-8")
    first = {"kind": "drill", "drill": "levers", "student": ODD, "host": ODD, "time": ODD}
    lines = [first | {"student": "s01"}, {"kind": "entry", "task": 1, "step": ODD, "text": ODD}]
    for name, kept in ((ODD, lines), ("x", [first]), ("y", [{ODD: ODD}])):
        text = "".join(f"{json.dumps(line)}\n" for line in kept)
        (folder / "records" / f"{name}.jsonl").write_text(text, "utf-8")
    return folder


@pytest.mark.parametrize(
    "arguments",
    [
        [ODD], ["problems", ODD], ["problems", "--joint", ODD], ["--library", ODD, "problems"],
        ["--library", f"{ODD}/no", "problems"], ["problems", "--json", "--library", ODD],
        ["practise", ODD], ["practise", f"{ODD}.toml"], ["practise", f"{ODD}/{ODD}.toml"],
        ["practise", ENDS, "--plain", "--own", f"m_b={ODD}"], ["practise", PAIL, "--seed", ODD],
        ["practise", ENDS, "--plain", "--own", ODD], ["practise", PAIL, "--guidance", ODD],
        ["working", PAIL, "--seed", ODD], ["working", ODD, "--seed", "7"],
        ["check", PAIL, "1 N", "--seed", "7", "--step", ODD],
        ["check", PAIL, ODD, "--seed", "7", "--step", "W_l"],
        ["check", PAIL, ODD, "--seed", "7", "--step", "W_l", "--json"],
        ["check", PAIL, "1", "--seed", "7", "--step", "W_l", "--given", f"{ODD}=3"],
        ["check", PAIL, "1", "--seed", "7", "--step", "W_l", "--given", f"W_f={ODD}"],
        ["check", PAIL, "1", "--seed", "7", "--step", "W_l", "--given", ODD],
        ["vet", ODD], ["vet", ODD, "--json"], ["vet", f"{ODD}/no"],
        ["drill", "new", f"{ODD}/new.toml", PAIL], ["drill", "new", f"{ODD}.toml", PAIL],
        ["drill", "new", f"{ODD}/more.toml", PAIL, "--title", ODD, "--roster", ODD],
        ["drill", "preview", f"{ODD}/{ODD}.toml"], ["drill", "preview", f"{ODD}/listed.toml"],
        ["drill", "preview", f"{ODD}/{ODD}.toml", "--student", ODD],
        ["drill", "sit", f"{ODD}/{ODD}.toml", "--plain", "--student", ODD],
        ["drill", "sit", f"{ODD}/{ODD}.toml", "--plain", "--student", "s01", "--records", ODD],
        ["drill", "mark", f"{ODD}/{ODD}.toml", f"{ODD}/records", "--out", f"{ODD}/out", "--pages",
         "--statements", "--home-page", f"https://example.org/{ODD}"],
        ["drill", "mark", f"{ODD}/{ODD}.toml", f"{ODD}/records", "--out", f"{ODD}/out", "--pages",
         "--statements", "--against", f"{ODD}/no"],
        ["drill", "report", f"{ODD}/{ODD}.toml", f"{ODD}/records", "--plain"],
        ["drill", "report", f"{ODD}/{ODD}.toml", f"{ODD}/no", "--plain"],
        ["sheet", PAIL, "--out", f"{ODD}/sheet"], ["sheet", PAIL, "--out", f"{ODD}/sheet.html"],
        ["sheet", ODD, "--out", "sheet.html"], ["sheet", PAIL, "--student", ODD],
        ["explore", PAIL, "--csv", "--out", f"{ODD}/x.csv"], ["explore", PAIL, "--over", ODD],
        ["board", ODD], ["completion", ODD],
    ],
    ids=lambda arguments: " ".join(arguments).encode("ascii", "replace").decode(),
)  # fmt: skip
@pytest.mark.usefixtures("odd")
def test_nothing_typed_commands_the_terminal(
    arguments: list[str], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nor the name of any file, nor what stands in one."""
    monkeypatch.setattr(
        "sys.stdin", io.TextIOWrapper(io.BytesIO(f"\n{ODD}\n".encode("utf-8", "replace")))
    )
    try:
        code = main(arguments)
    except SystemExit as ended:
        code = int(str(ended.code))
    heard = capsys.readouterr()
    said = heard.out + heard.err
    assert code in (0, 1, 2)
    assert said
    assert said.replace("\n", "").isprintable()


def test_what_is_printed_is_plain_whoever_wrote_it(capsys: pytest.CaptureFixture[str]) -> None:
    """Ends of line stay as they are; a lone CR, which writes over the line, is none."""
    with plain_output():
        print("5 N\u202e\x1b[2J", "a\rb", end="\r\n")
        print("\x9b", file=sys.stderr)
    heard = capsys.readouterr()
    assert heard.out == "5 N??[2J a?b\r\n"
    assert heard.err == "?\n"
