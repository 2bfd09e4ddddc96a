"""What is printed: sheets, keys and reports on A4 and Letter, and sheets set by LaTeX.

It takes a browser, a reader of PDF, or LaTeX. Where one of them is absent, the test says so and
asserts that.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.classes import HOSTILE, class_drill, figures_of, marked_in
from helpers.drill_sittings import END, entry, record, right_entries, small_drill
from helpers.material import CATALOGUE
from leverstep.course.shelf import load_shelf
from leverstep.documents.blocks import Block, Document, Heading, Table, Whole
from leverstep.documents.html import html
from leverstep.documents.tex import tex
from leverstep.drill.drill import Drill
from leverstep.marking.outputs import Outputs
from leverstep.reports.class_report import class_report
from leverstep.reports.pages import StudentPages, file_name
from leverstep.sheets.handout import Handout, of_drill, of_problems
from leverstep.sheets.key import answer_key
from leverstep.sheets.sheet import heading
from leverstep.sheets.sheet_files import document
from leverstep.working.cautions import CAUTION
from leverstep.working.guidance import FOR_ALL, Guidance, led_to
from leverstep.working.wording import ask

SHELF = load_shelf()
PAPERS = ("A4", "letter")
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
BROWSER = next(filter(shutil.which, BROWSERS), BROWSERS[0])
READER, LATEX = "pdftotext", "pdflatex"
PRINT = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking",
    "--no-first-run", "--no-pdf-header-footer",
)  # fmt: skip
WIDEST = 20.0
"""Points by which a line set by LaTeX may stand out; it hardly shows."""

Pages = list[str]


def with_tools(tools: Iterable[str], make: Callable[[], None]) -> None:
    """Do what needs some programs; where one is absent, say so and see that it can't be done."""
    absent = [tool for tool in tools if shutil.which(tool) is None]
    if not absent:
        make()
        return
    print(f"Nothing of this was printed here. Absent: {', '.join(absent)}.")
    with pytest.raises(FileNotFoundError, match=absent[0]):
        make()


def ran(*command: object) -> str:
    """Return what a program says; FileNotFoundError where it is absent."""
    done = subprocess.run(
        [str(word) for word in command], capture_output=True, timeout=120, check=False
    )
    assert done.returncode == 0, done.stdout.decode("utf-8", "replace")[-2000:]
    return done.stdout.decode("utf-8", "replace")


def read(pdf: Path) -> Pages:
    """Return the text of each page of a PDF, all white space as one space."""
    *pages, rest = ran(READER, "-raw", "-enc", "UTF-8", pdf, "-").split("\f")
    assert rest == ""
    return [" ".join(text.split()) for text in pages]


def printed(shown: str, paper: str, folder: Path) -> Pages:
    """Return the pages that a browser prints of a page of HTML."""
    source, target = folder / f"{paper}.html", folder / f"{paper}.pdf"
    sized = shown.replace("@page { ", f"@page {{ size: {paper}; ")
    assert sized.count("@page { size") == 1
    source.write_text(sized, encoding="utf-8")
    profile = f"--user-data-dir={folder / f'profile-{paper}'}"
    ran(BROWSER, *PRINT, profile, f"--print-to-pdf={target}", source.as_uri())
    return read(target)


def on_each_paper(shown: str, folder: Path) -> list[Pages]:
    """Return the pages for each paper; the caution stands on all of them."""
    with ThreadPoolExecutor(len(PAPERS)) as pool:
        prints = list(pool.map(lambda paper: printed(shown, paper, folder), PAPERS))
    for pages in prints:
        assert pages
        assert all(CAUTION in text for text in pages)
    return prints


def set_by_latex(source: str, folder: Path) -> Pages:
    """Return the pages that LaTeX makes; no line of them stands out far."""
    (folder / "sheet.tex").write_text(source, encoding="utf-8")
    options = ("-interaction=nonstopmode", "-halt-on-error", "-no-shell-escape")
    ran(LATEX, *options, f"-output-directory={folder}", folder / "sheet.tex")
    log = (folder / "sheet.log").read_text("utf-8", "replace")
    wide = re.findall(r"Overfull \\[hv]box \(([\d.]+)pt too", log)
    assert [one for one in wide if float(one) > WIDEST] == []
    assert "Missing character" not in log
    pages = read(folder / "sheet.pdf")
    assert all(unligatured(CAUTION) in unligatured(text) for text in pages)
    return pages


def unligatured(text: str) -> str:
    """Return only the letters and digits of a text, hyphens, ligatures and squares undone."""
    for ligature, letters in {
        "²": "2",
        "ﬁ": "fi",
        "ﬂ": "fl",
        "ﬀ": "ff",
        "ﬃ": "ffi",
        "ﬄ": "ffl",
    }.items():
        text = text.replace(ligature, letters)
    return re.sub(r"[^A-Za-z0-9]", "", text)


def assert_a_page_for_each_task(handout: Handout, pages: Pages) -> None:
    """Assert that every task begins and ends on a page that it has to itself."""
    tasks = [(copy, task) for copy in handout.copies for task in copy.tasks]
    assert len(pages) == len(tasks)
    for (copy, task), text in zip(tasks, pages, strict=True):
        bare = unligatured(text)
        assert unligatured(heading(copy, task)) in bare
        assert unligatured(task.question.statement)[:60] in bare
        for step in led_to(task.question.derivation.asked, handout.guidance):
            assert unligatured(ask(task.question, step)) in bare


def assert_whole(wholes: Iterable[Whole], pages: Pages) -> None:
    """Assert that the heading and every cell of a table stand on one page."""
    for whole in wholes:
        (told,) = (block.text for block in whole.blocks if isinstance(block, Heading))
        table = next(block for block in whole.blocks if isinstance(block, Table))
        cells = {unligatured(cell) for row in table.rows for cell in row}
        found = [
            text
            for text in map(unligatured, pages)
            if unligatured(told) in text and all(cell in text for cell in cells)
        ]
        assert found, told


def every_problem() -> Handout:
    return of_problems(SHELF.problems.values(), Guidance.LINES, "7", {})


def test_every_problem_is_printed_on_a_page_of_its_own(tmp_path: Path) -> None:
    handout = every_problem()
    shown = document(handout, "html", False)

    def make() -> None:
        for pages in on_each_paper(shown, tmp_path):
            assert_a_page_for_each_task(handout, pages)

    with_tools((BROWSER, READER), make)


@pytest.mark.parametrize("guidance", [Guidance.LANDMARKS, Guidance.BLANK])
def test_less_guidance_is_printed_on_a_page_for_each_task(
    guidance: Guidance, tmp_path: Path
) -> None:
    handout = replace(every_problem(), guidance=guidance)
    shown = document(handout, "html", False)

    def make() -> None:
        assert_a_page_for_each_task(handout, printed(shown, "letter", tmp_path))

    with_tools((BROWSER, READER), make)


def test_no_working_of_a_key_is_cut_in_two_in_print(tmp_path: Path) -> None:
    parts = list(answer_key(every_problem()))
    shown = document(every_problem(), "html", True)

    def make() -> None:
        for pages in on_each_paper(shown, tmp_path):
            assert_whole((part for part in parts if isinstance(part, Whole)), pages)

    with_tools((BROWSER, READER), make)


def test_what_is_cut_in_two_is_found(tmp_path: Path) -> None:
    handout = of_problems([SHELF.problems["elbow-full-pail"]], Guidance.LINES, "7", {})
    wholes = [part for part in answer_key(handout) if isinstance(part, Whole)]
    sheet = document(handout, "html", False).replace("min-height: 4.7mm", "min-height: 40mm")
    key = document(handout, "html", True).replace(".whole td {", ".whole td { height: 20mm;")

    def make() -> None:
        pages = printed(sheet, "letter", tmp_path)
        with pytest.raises(AssertionError):
            assert_a_page_for_each_task(handout, pages)
        pages = printed(key, "letter", tmp_path)
        with pytest.raises(AssertionError):
            assert_whole(wholes, pages)

    with_tools((BROWSER, READER), make)


def a_class(folder: Path) -> tuple[Drill, Path]:
    """Return a drill of three tasks, and records of a class in which much is wrong."""
    names = {f"s{number:02}": f"Student {number}" for number in range(1, 41)}
    drill = replace(small_drill(count=3), students=names)
    folder.mkdir()
    for student in list(names)[:30]:
        lines = []
        for task in drill.tasks(student):
            right = right_entries(task.question)
            typed = {
                **right,
                "W_s": f"{float(task.question.numbers['m_s']):g}.0 N",
                "M_s": "1.23 N m",
            }
            lines += [entry(key, text, task.number) for key, text in typed.items()]
        (folder / f"{student}.jsonl").write_bytes(record(drill, student, [*lines, END]))
    return drill, folder


def assert_no_row_is_cut(blocks: Iterable[Block], pages: Pages) -> None:
    """Assert that all that stands in a row of a table stands on one page."""
    rows = [row for block in blocks if isinstance(block, Table) for row in block.rows]
    assert rows
    words = [set(text.split()) for text in pages]
    for row in rows:
        assert any(set(" ".join(row).split()) <= one for one in words), row


def test_reports_bear_the_caution_on_each_page_and_no_row_is_cut(tmp_path: Path) -> None:
    drill, folder = a_class(tmp_path / "records")
    students = marked_in(drill, folder)
    blocks = list(class_report(figures_of(drill, students)))
    with Outputs(tmp_path) as files:
        of_student = StudentPages(drill, CATALOGUE, files)
        of_student.add(students[0])
    given_back = (of_student.folder / file_name("s01")).read_text(encoding="utf-8")

    def make() -> None:
        for pages in on_each_paper(html(Document("Class report", tuple(blocks))), tmp_path):
            assert len(pages) > 2
            assert_no_row_is_cut(blocks, pages)
        for pages in on_each_paper(given_back, tmp_path):
            assert len(pages) > 1
            assert drill.tasks("s01")[0].question.statement[:40] in pages[0]

    with_tools((BROWSER, READER), make)


def test_latex_sets_every_problem_on_a_page_of_its_own(tmp_path: Path) -> None:
    handout = every_problem()

    def make() -> None:
        for guidance in FOR_ALL:
            guided = replace(handout, guidance=guidance)
            pages = set_by_latex(document(guided, "tex", False), tmp_path)
            assert_a_page_for_each_task(guided, pages)

    with_tools((LATEX, READER), make)


def test_latex_sets_the_key_without_cutting_a_working_in_two(tmp_path: Path) -> None:
    parts = list(answer_key(every_problem()))

    def make() -> None:
        pages = set_by_latex(document(every_problem(), "tex", True), tmp_path)
        assert_whole((part for part in parts if isinstance(part, Whole)), pages)

    with_tools((LATEX, READER), make)


def test_latex_sets_a_report_without_cutting_a_row_in_two(tmp_path: Path) -> None:
    drill, folder = a_class(tmp_path / "records")
    students = marked_in(drill, folder)
    blocks = class_report(figures_of(drill, students))
    with Outputs(tmp_path) as files:
        of_student = StudentPages(drill, CATALOGUE, files, latex=True)
        of_student.add(students[0])
    given_back = (of_student.folder / file_name("s01", "tex")).read_text(encoding="utf-8")

    def make() -> None:
        pages = set_by_latex(tex(Document("Class report", blocks)), tmp_path)
        assert len(pages) > 2
        bare = list(map(unligatured, pages))
        for row in (row for block in blocks if isinstance(block, Table) for row in block.rows):
            cells = list(map(unligatured, row))
            assert any(all(cell in text for cell in cells) for text in bare), row
        pages = set_by_latex(given_back, tmp_path)
        assert len(pages) > 1
        assert unligatured(drill.tasks("s01")[0].question.statement)[:40] in unligatured(pages[0])

    with_tools((LATEX, READER), make)


def test_latex_reads_nothing_that_was_typed_as_a_command(tmp_path: Path) -> None:
    names = {f"{number}": hostile for number, hostile in enumerate(HOSTILE)}
    drill = replace(class_drill(), title=" ".join(HOSTILE), students=names)
    handout = of_drill(drill, {})

    def make() -> None:
        for key in (False, True):
            text = unligatured(" ".join(set_by_latex(document(handout, "tex", key), tmp_path)))
            assert "root" not in text  # of the file that one of them names
            for told in HOSTILE[:2]:
                assert unligatured(told) in text

    with_tools((LATEX, READER), make)
