"""A whole page of working is judged by a command."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import pytest
from helpers.commands import PAIL_PAGE
from leverstep.faces.commands.cli import main
from leverstep.faces.commands.page_cli import LARGEST_PAGE

PAIL = ["page", "elbow-full-pail", "--seed", "7"]


def judged(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    """Call the command, and return its code and what it printed."""
    code = main([*PAIL, *arguments])
    return code, *capsys.readouterr()


def told_of(
    text: str, page: Path, capsys: pytest.CaptureFixture[str]
) -> tuple[int, dict[str, Any]]:
    """Write a page and have it judged; return the code, and what is told of it as JSON."""
    page.write_text(text, encoding="utf-8")
    code, out, _ = judged(capsys, str(page), "--json")
    return code, json.loads(out)


@pytest.fixture
def page(tmp_path: Path) -> Path:
    path = tmp_path / "page.txt"
    path.write_text(PAIL_PAGE, encoding="utf-8")
    return path


def test_a_page_with_all_that_is_asked_for_is_a_success(
    page: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, _ = judged(capsys, str(page))
    assert code == 0, out
    assert "Still to find" not in out
    assert "Not yet" not in out


def test_each_line_is_told_what_it_was_taken_as(
    page: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, out, _ = judged(capsys, str(page), "--json")
    rows = json.loads(out)["lines"]
    assert [row["line"] for row in rows] == list(range(1, 10))
    assert [row["text"] for row in rows] == PAIL_PAGE.splitlines()
    assert {row["verdict"] for row in rows} == {"right"}
    assert rows[0]["about"] == ["W_l"]
    assert rows[1]["about"] == ["W_f"]
    assert rows[4]["about"] == ["F_m"]


def test_a_wrong_line_names_its_slip_and_what_follows_from_it_is_right(
    page: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, answer = told_of("W_l = 11.0 N\nM_l = 11.0*0.35 = 3.85 N m\nno idea\n", page, capsys)
    wrong, follows, remark = answer["lines"]
    assert code == 1
    assert (wrong["verdict"], wrong["slips"]) == ("wrong", ["pounds-left"])
    assert "pounds left as newtons" in wrong["told"]
    assert (follows["verdict"], follows["about"]) == ("follows", ["M_l"])
    assert (remark["verdict"], remark["told"]) == ("remark", "")
    assert "F_m" in answer["missing"]


def test_a_wrong_line_stays_wrong_where_its_slip_can_not_be_looked_for(
    page: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def failing(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("leverstep.slips.explained.explain", failing)
    code, answer = told_of("W_l = 11.0 N\nW_f = 16.19 N\n", page, capsys)
    wrong, right = answer["lines"]
    assert code == 1
    assert (wrong["verdict"], wrong["slips"], right["verdict"]) == ("wrong", [], "right")
    assert wrong["told"].startswith("W_l: Not yet")


def test_a_page_may_come_by_the_input(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("W_f = 16.19 N\n"))
    code, out, _ = judged(capsys, "-")
    assert code == 1
    assert "Line 1: W_f = 16.19 N\n  Right (W_f)." in out
    assert "Still to find:" in out


@pytest.mark.parametrize("name", ["-", "page.txt"])
def test_a_page_that_is_too_large_is_not_cut_but_refused(
    name: str, page: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(page.parent)
    for more, ends in ((0, 1), (1, 2)):
        text = "W_f = 16.19 N\n" + "x" * (LARGEST_PAGE - 14 + more)
        monkeypatch.setattr("sys.stdin", io.StringIO(text))
        page.write_text(text, encoding="utf-8")
        code, out, told = judged(capsys, name)
        assert code == ends
        assert ("Right (W_f)." in out) == (not more)
        assert ("too large" in told) == bool(more)


def test_own_words_are_told_in_those_of_the_problem(
    page: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Who calls a quantity by a word or symbol of their own is told which line that is."""
    lines = ["B = 48.94 N", "1.65*9.81 = 16.19 N", "pail = 107.9 N", "W_f = 16.19 N"]
    _, answer = told_of("\n".join(lines), page, capsys)
    alias, arithmetic, wrong, own = (line["told"] for line in answer["lines"])
    assert alias == "Right. B is taken as W_l, the weight of the pail."
    assert arithmetic == "Right. Taken as W_f, the weight of the forearm and hand."
    assert wrong.startswith("W_l: Not yet. ")
    assert wrong.endswith(" pail is taken as W_l, the weight of the pail.")
    assert own == "Right (W_f)."


@pytest.mark.parametrize("text", ["x" * 3000, "=" * 300, "((((" * 200, "1e400*9 N", "\x1b[2J W_f"])
def test_what_can_not_be_read_is_no_crash(
    text: str, page: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, answer = told_of(text, page, capsys)
    assert code == 1
    assert answer["lines"][0]["verdict"] in ("unread", "remark")


def test_a_file_that_can_not_be_read_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "page.bin").write_bytes(b"\xff\xfe\x00")
    for name, why in (("none.txt", "no such file"), ("page.bin", "UTF-8"), ("", "it is a folder")):
        code, _, told = judged(capsys, str(tmp_path / name))
        assert code == 2
        assert why in told


def test_what_a_page_does_otherwise_than_the_problem_is_said_once(
    page: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = "clockwise is positive\nW_l = 11/2,2*9,8 = 49,0 N\nM_l = 49,0*0,35 = 17,15 N m\n"
    _, answer = told_of(text, page, capsys)
    assert answer["conventions"] == [
        "You take clockwise as positive; the problem takes the other way.",
        "You write decimals with a comma.",
        "You take g as 9.8 m/s²; here it is 9.81 m/s².",
    ]
    _, out, _ = judged(capsys, str(page))
    assert out.count("You take clockwise as positive") == 1


def test_a_page_that_does_as_the_problem_says_nothing_of_that(
    page: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, out, _ = judged(capsys, str(page), "--json")
    assert json.loads(out)["conventions"] == []


@pytest.mark.parametrize(
    "text",
    [
        "F - F_m = 0\nR - R_y = 0\nMA = (W_f+W_l)/F_m\nAR = d_m/d_l\nthird\ndown\n",
        "F*5=F_m*5\nF*99=F_m*99\nR*5 = 5*R_y\nthird\ndown\n",
        "F_m = (W_f*d_f+W_l*d_l)/d_m\nR_y = W_f + W_l - F_m\nMA = (W_f+W_l)/F_m\n",
        "F = (W_f*d_f+W_l*d_l)/d_m\nR = F - W_f - W_l\n",
    ],
)
def test_symbols_alone_find_no_number(
    text: str, page: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, answer = told_of(text, page, capsys)
    assert code == 1
    assert {"F_m", "MA", "R_y"} <= set(answer["missing"])
