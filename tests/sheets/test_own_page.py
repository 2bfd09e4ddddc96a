"""One's own working as a page: all of it stands there, as data, and no file is written over."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.classes import HOSTILE, Leaf
from helpers.documents import check_latex, check_markdown
from helpers.drills import right_entry
from helpers.material import CATALOGUE
from leverstep.bench.bench import Bench
from leverstep.bench.practice import Practice
from leverstep.bench.replaying import keep_nothing
from leverstep.course.shelf import load_shelf
from leverstep.diagram.tex_text import tex_text
from leverstep.dialogue.lookback import look_back
from leverstep.documents.blocks import Listing, Posed, Table
from leverstep.documents.formats import FORMATS, written
from leverstep.documents.text import WIDTH
from leverstep.faces.commands.cli import main
from leverstep.sheets.own_page import free_name, keep_page, own_page, usual_name
from leverstep.working.cautions import CAUTION
from leverstep.working.guidance import Guidance

SHELF = load_shelf()
PAIL = SHELF.problems["elbow-full-pail"]


def worked(name: str = "elbow-full-pail", seed: str = "7", **wrong: str) -> Bench:
    """Return a working that came to its end, with some lines wrong at first."""
    bench = Bench(SHELF.problems[name].question(seed), CATALOGUE, keep_nothing)
    for step in bench.working.steps:
        if step.key in wrong:
            bench.enter(step.key, wrong[step.key])
        bench.enter(step.key, right_entry(bench, step))
    assert bench.working.complete
    return bench


def test_everything_of_a_working_stands_on_its_page() -> None:
    bench = worked(W_f="1.65 N")
    page, back = own_page(bench), look_back(bench)
    (posed,) = [block for block in page.blocks if isinstance(block, Posed)]
    assert posed.statement == bench.question.statement
    assert {"g = 9.81 m/s²", "1 kg = 2.205 lb"} < {*posed.given}
    (table,) = [block for block in page.blocks if isinstance(block, Table)]
    assert [row[0] for row in table.rows] == [line.name for line in back.lines]
    first = table.rows[0]
    assert first[1:4] == (back.lines[0].own, "right", "2")
    assert first[4] == "W_f = 1.65 kg × 9.81 m/s² = 16.19 N"
    (slips,) = [block for block in page.blocks if isinstance(block, Listing)]
    assert slips.items == back.remembered
    assert len(back.slips) == 1
    html, leaf = written(page, "html"), Leaf()
    leaf.feed(html)
    shown = " ".join(" ".join(leaf.said).split())
    for told in (CAUTION, back.ending.headline, *back.meaning, *slips.items, "Name", "Numbers 7."):
        assert " ".join(told.split()) in shown
    assert "<svg" in html


def test_what_was_expected_and_how_sure_stands_on_the_page_where_it_was_asked() -> None:
    bench = Bench(PAIL.question("7"), CATALOGUE, keep_nothing)
    for question in bench.expectations:
        bench.answer(question, min(question.right))
    for step in bench.working.steps:
        bench.enter(step.key, right_entry(bench, step), 3)
    back = look_back(bench)
    listed = [block.items for block in own_page(bench).blocks if isinstance(block, Listing)]
    assert listed == [back.expected, back.sure, back.remembered]
    assert len(back.expected) == 6
    assert back.sure == ("You were sure of 16 entries; 16 right.",)


def test_an_open_working_gives_no_answer_away() -> None:
    bench = Bench(PAIL.question("7"), CATALOGUE, keep_nothing)
    for step in bench.working.steps[:-1]:
        bench.enter(step.key, right_entry(bench, step))
    bench.leave(bench.working.steps[-1].key)
    (table,) = [block for block in own_page(bench).blocks if isinstance(block, Table)]
    assert "Worked out" not in table.columns
    assert table.rows[-1][1:3] == ("–", "not written")
    for form in FORMATS:
        assert look_back(worked()).meaning[0][:40] not in written(own_page(bench), form)


@pytest.mark.parametrize("hostile", HOSTILE)
def test_what_a_student_wrote_is_data_in_every_format(hostile: str) -> None:
    bench = Bench(PAIL.question("7"), CATALOGUE, keep_nothing, Guidance.BLANK)
    bench.write("F_m = 433.6 N")
    bench.enter("class", f"third {hostile}"[:100])
    for key, line in list(bench.working.lines.items()):  # whatever could ever be read
        text = f"{line.text} {hostile}"
        bench.working.lines[key] = line._replace(text=text)
    page = own_page(bench)
    check_latex(written(page, "tex"))
    check_markdown(written(page, "md"))
    assert all(sign.isprintable() or sign == "\n" for sign in written(page, "txt"))
    Leaf().feed(written(page, "html"))


@pytest.mark.parametrize("form", sorted(FORMATS))
def test_a_page_is_written_in_the_format_of_its_ending(form: str, tmp_path: Path) -> None:
    bench = worked()
    kept = keep_page(bench, str(tmp_path / f"mine.{form.upper()}"))
    assert kept.path == tmp_path / f"mine.{form.upper()}"
    assert kept.told == f"Your page is at {kept.path}"
    text = kept.path.read_text(encoding="utf-8")
    assert text == written(own_page(bench), form)
    caution = tex_text(CAUTION) if form == "tex" else CAUTION
    assert " ".join(caution.split()) in " ".join(text.split())


def test_a_page_of_plain_text_reads_on_a_terminal() -> None:
    """No line is longer than one; the picture and every worked line stand there whole."""
    bench = worked()
    text = written(own_page(bench), "txt")
    (posed,) = [block for block in own_page(bench).blocks if isinstance(block, Posed)]
    assert max(map(len, text.splitlines())) <= WIDTH
    rows = text.splitlines()
    for row in posed.in_characters.span:
        assert posed.in_characters.lines[row].rstrip() in rows
    for line in look_back(bench).lines:
        assert line.worked.split()[-1] in text


def test_a_page_has_a_name_of_its_own_and_nothing_is_written_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    bench = worked()
    names = [keep_page(bench, typed).path for typed in ("", str(tmp_path), "", "other")]
    assert [path.name for path in names if path] == [
        "leverstep-elbow-full-pail-7.html", "leverstep-elbow-full-pail-7-2.html",
        "leverstep-elbow-full-pail-7-3.html", "other.html",
    ]  # fmt: skip
    before = {path: path.read_bytes() for path in tmp_path.iterdir()}
    again = keep_page(bench, "other.html")
    assert again.path is None
    assert "other.html: it already exists" in again.told
    assert {path: path.read_bytes() for path in tmp_path.iterdir()} == before


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("page.pdf", 'no page ends in ".pdf", only .html, .md, .tex, .txt'),
        ("nowhere/page.html", "there is no folder"),
        ("nul.html", "nul.html"),
        ("a\0b.html", "null byte"),
        ("x" * 400 + ".html", "too long"),
    ],
)
def test_what_can_not_be_written_is_told_and_nothing_is_lost(
    typed: str, told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    bench = worked()
    lines = dict(bench.working.lines)
    kept = keep_page(bench, typed)
    assert kept.path is None
    assert kept.told.startswith("No page was written, and your lines are kept as they were: ")
    assert told in kept.told.replace("File name t", "t")
    assert kept.told.isprintable()
    assert list(tmp_path.iterdir()) == []
    assert bench.working.lines == lines


@pytest.mark.parametrize("seed", ["7", "a/b", "../x y", "é", "con"])
def test_the_usual_name_is_safe_whatever_the_seed_is(seed: str, tmp_path: Path) -> None:
    question = PAIL.question(seed)
    name = usual_name(question)
    assert name.removesuffix(".html").replace("-", "").isalnum()
    assert name.isascii()
    assert free_name(question, tmp_path) == name


def test_the_command_writes_the_page_of_the_last_working(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Of the problem that is named, whether it was finished or not; its record is not changed."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    page = ["practise", PAIL.id, "--page", "mine.html"]
    assert main(page) == 2
    assert "nothing is kept of it" in capsys.readouterr().err
    for seed, problem in (("1", PAIL), ("7", PAIL), ("9", SHELF.problems["plain-crowbar"])):
        practice = Practice.start(problem, seed, CATALOGUE)
        practice.enter(practice.working.steps[0].key, f"{seed}.123 N")
        if seed == "1":
            assert practice.place is not None
            practice.place.rename(practice.place.with_name("20200101T000000-earlier.jsonl"))
    records = {path: path.read_bytes() for path in (tmp_path / "home").rglob("*.jsonl")}
    assert main(page) == 0
    assert capsys.readouterr().out == f"Your page is at {tmp_path / 'mine.html'}\n"
    written_page = (tmp_path / "mine.html").read_text(encoding="utf-8")
    assert "Numbers 7." in written_page
    assert "7.123 N" in written_page
    assert main(page) == 2
    assert "it already exists" in capsys.readouterr().err
    assert {path: path.read_bytes() for path in (tmp_path / "home").rglob("*.jsonl")} == records
