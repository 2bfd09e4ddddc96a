"""A fault of the program itself: one line of a record, a whole sitting, or the screen."""

from __future__ import annotations

import logging
import re
import sys
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from helpers.drill_sittings import END, entry, record, right_entries, small_drill
from helpers.material import CATALOGUE
from helpers.terminals import Terminal
from leverstep.bench.practice import Practice
from leverstep.course.shelf import load_shelf
from leverstep.drill.drill import Drill
from leverstep.drill.sitting import Sitting
from leverstep.faces.commands import cli
from leverstep.faces.crash import workers
from leverstep.marking.collecting import Student, by_student, gather, mark_all
from leverstep.marking.marking import mark_record
from leverstep.progress.history import read_history
from leverstep.progress.store import Store
from leverstep.working import value_lines as judging
from leverstep.working.guidance import Guidance
from leverstep.working.verdict import Outcome

SHELF = load_shelf()
NOW = datetime.now(UTC)
LANDMARKS = small_drill('guidance = "landmarks"', problem="elbow-full-pail")
EACH = small_drill(problem="elbow-full-pail")
ZEROES = [
    [entry("M_sum", "0 N·m"), entry("F_m", "250 N"), entry("MA", "0.1")],
    [entry("d_m", "0 m"), entry("F_m", "0.2*250 N"), entry("R_y", "-185 N")],
    [entry("W_l", "0 N"), entry("M_l", "12*3 N*m")],
    [{"kind": "line", "task": 1, "text": "2 equation = 5"}, entry("F_m", "1 N")],
]
"""What would divide by zero where a zero were not a value like any other."""


@pytest.fixture
def breaks_at(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return a list of lines at which judging fails; empty at first."""
    broken: list[str] = []
    whole = judging.judge_value

    def judge(question: Any, step: Any, *more: Any) -> Any:
        if step.key in broken:
            raise ZeroDivisionError(f"no value at {step.key}")
        return whole(question, step, *more)

    monkeypatch.setattr(judging, "judge_value", judge)
    return broken


def marked(drill: Drill, folder: Path) -> list[Student]:
    with ThreadPoolExecutor(1) as pool:
        return list(by_student(drill, mark_all(drill, CATALOGUE, gather([folder]).records, pool)))


@pytest.mark.parametrize("drill", [LANDMARKS, EACH], ids=["landmarks", "lines"])
@pytest.mark.parametrize("lines", ZEROES)
def test_zeroes_are_resumed_marked_and_told_of(
    drill: Drill, lines: list[Mapping[str, object]], tmp_path: Path
) -> None:
    path = tmp_path / "s1.jsonl"
    path.write_bytes(record(drill, "s1", lines))
    one = Sitting.resume(path, drill, CATALOGUE)
    right = right_entries(one.tasks[0].question)
    assert one.benches[0].enter("F_m", right["F_m"]).outcome is Outcome.RIGHT
    one.hand_in()
    found = mark_record(drill, CATALOGUE, "s1", path.read_bytes())
    assert len(found.entries) == len(lines) + 1
    assert not any("fault" in remark for remark in found.remarks)
    assert next(line for line in found.lines if line.step == "F_m").share > 0


def test_zeroes_practised_are_counted_in_progress(tmp_path: Path) -> None:
    problem = SHELF.problems["elbow-full-pail"]
    practice = Practice.start(
        problem, "7", CATALOGUE, tmp_path / "practice", guidance=Guidance.LANDMARKS
    )
    for text in ("0 N·m", "F_m = 250 N", "MA = 0.000"):
        practice.write(text)
    history = read_history(SHELF, CATALOGUE, NOW, Store(SHELF, CATALOGUE, tmp_path), tmp_path)
    assert history.unusable == 0
    assert [len(working.entries) for working in history.workings] == [3]


def test_a_line_that_fails_leaves_the_others_marked_and_is_told_of(
    breaks_at: list[str], tmp_path: Path
) -> None:
    right = right_entries(EACH.tasks("s1")[0].question)
    data = record(EACH, "s1", [*(entry(key, text) for key, text in right.items()), END])
    breaks_at.append("M_f")
    (tmp_path / "s1.jsonl").write_bytes(data)
    (student,) = marked(EACH, tmp_path)
    assert student.id == "s1"
    assert student.counted is not None
    lost = [line.step for line in student.counted.lines if not line.share]
    assert lost == ["M_f"]
    (remark,) = student.remarks
    assert "look at them: M_f of task 1" in remark


def test_a_line_that_fails_leaves_a_sitting_to_go_on(breaks_at: list[str], tmp_path: Path) -> None:
    path = tmp_path / "s1.jsonl"
    right = right_entries(EACH.tasks("s1")[0].question)
    path.write_bytes(record(EACH, "s1", [entry("W_f", right["W_f"]), entry("W_l", right["W_l"])]))
    breaks_at.append("W_f")
    one = Sitting.resume(path, EACH, CATALOGUE)
    assert not one.benches[0].working.stands("W_f")
    assert one.benches[0].working.stands("W_l")
    verdict = one.benches[0].enter("W_f", right["W_f"])
    assert "the fault is the program's" in one.benches[0].tell(verdict)


def test_a_line_that_fails_leaves_progress_with_the_others(
    breaks_at: list[str], tmp_path: Path
) -> None:
    practice = Practice.start(
        SHELF.problems["elbow-full-pail"], "7", CATALOGUE, tmp_path / "practice"
    )
    for key, text in right_entries(practice.question).items():
        practice.enter(key, text)
    breaks_at.append("W_l")
    history = read_history(SHELF, CATALOGUE, NOW, Store(SHELF, CATALOGUE, tmp_path), tmp_path)
    assert history.unusable == 0
    (working,) = history.workings
    assert "W_l" not in {one.step for one in working.entries}
    assert len(working.entries) == len(practice.working.steps) - 1


def test_a_fault_of_a_command_is_one_sentence_and_a_report_without_values(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fails(*_: object) -> int:
        answer = 434.6
        raise RuntimeError("it can't go on" if answer else "")

    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    monkeypatch.setattr(cli, "_run", fails)
    assert cli.main(["problems"]) == 3
    told = capsys.readouterr().err
    (report,) = (tmp_path / "faults").iterdir()
    assert "All that you entered is kept" in told
    assert str(report) in told
    assert "Traceback" not in told
    kept = report.read_text("utf-8")
    assert "RuntimeError\n" in kept
    assert "it can't go on" not in kept.replace('raise RuntimeError("it can\'t go on" if', "")
    assert "434.6" not in kept.replace("answer = 434.6", "")  # the code itself, but no value


def test_where_no_report_can_be_written_that_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fails(*_: object) -> int:
        raise RuntimeError

    (tmp_path / "home").write_text("no folder")
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    monkeypatch.setattr(cli, "_run", fails)
    assert cli.main(["problems"]) == 3
    assert "No report of it could be written." in capsys.readouterr().err


FAILING = """
import sys
from leverstep.faces.commands import cli
from leverstep.faces.crash import workers
from leverstep.bench.bench import Bench

def fails(*_):
    raise RuntimeError("it can't go on")

Bench.enter = fails
sys.exit(cli.main(["practise", "elbow-full-pail", "--seed", "7", *sys.argv[1:]]))
"""


@pytest.mark.parametrize("plain", [(), ("--plain",)], ids=["screen", "plain"])
def test_a_fault_leaves_the_terminal_as_it_was(plain: tuple[str, ...], tmp_path: Path) -> None:
    program = [sys.executable, "-c", FAILING, *plain]
    with Terminal(home=tmp_path, program=program) as terminal:
        terminal.shows("Weight")
        terminal.types("16.2 N\r", "stopped because of a fault")
        assert terminal.ends() == 3
    (report,) = (tmp_path / "faults").iterdir()
    end = terminal.written[terminal.written.rindex(b"leverstep has stopped") :]
    assert report.name.encode() in re.sub(rb"\s", b"", end)
    assert b"Traceback" not in end
    if not plain:
        before = terminal.written[: terminal.written.rindex(b"leverstep has stopped")]
        assert before.rindex(b"\x1b[?1049l") > before.rindex(b"\x1b[?1049h")


def test_processes_that_mark_report_their_faults_and_print_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    with workers() as pool:
        pool.submit(log_a_fault).result()
    (report,) = (tmp_path / "faults").iterdir()
    kept = report.read_text("utf-8")
    assert "\nZeroDivisionError\n" in kept
    assert "typed by a student" not in kept.replace('("typed by a student")', "")
    assert "Traceback" not in capfd.readouterr().err


def log_a_fault() -> None:
    try:
        raise ZeroDivisionError("typed by a student")
    except ZeroDivisionError:
        logging.getLogger("leverstep.marking").exception("a record can't be marked")
