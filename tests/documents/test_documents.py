"""Every writer writes every block, keeps every text of it, and makes a command of none."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from helpers.classes import HOSTILE, Leaf
from helpers.documents import check_latex, check_markdown, set_in_latex
from leverstep.course.shelf import load_shelf
from leverstep.diagram.layout import layout
from leverstep.diagram.tex_text import tex_text
from leverstep.documents.blocks import (
    HEIGHT,
    Bar,
    Bars,
    Block,
    Document,
    Heading,
    Lines,
    Listing,
    NewPage,
    Posed,
    RuledLine,
    SheetHead,
    Space,
    Table,
    Told,
    Whole,
    Words,
)
from leverstep.documents.blocks import (
    WIDTH as COLUMNS,
)
from leverstep.documents.formats import FORMATS, written
from leverstep.documents.markdown import escaped
from leverstep.documents.spoken import spoken
from leverstep.documents.text import WIDTH, columns_of, text, wrapped
from leverstep.working.cautions import CAUTION

QUESTION = load_shelf().problems["elbow-full-pail"].question("7")
PICTURE = layout(QUESTION, COLUMNS, HEIGHT)
IN_CHARACTERS = layout(QUESTION, 72, 20, unicode=False)


def told(one: str) -> tuple[Told, ...]:
    """Return each block that is told, with a text wherever there is room for one."""
    return (
        Heading(1, one),
        Heading(2, one),
        Heading(3, one),
        Words(one),
        Words(one, weight=True),
        Words(one, small=True),
        Listing((one, one)),
        Table((one, "Marks"), ((one, "1.5"), ("second", one)), frozenset({1})),
        Bars(one, (Bar(one, Fraction(1), "40 %"), Bar("none", Fraction(0), one))),
        NewPage(),
    )


def every_block(one: str) -> tuple[Block, ...]:
    """Return each block there is, those told also within a whole."""
    return (
        *told(one),
        Whole(told(one)),
        SheetHead(one, one),
        Posed(one, (one,), one, PICTURE, IN_CHARACTERS, one),
        Lines((RuledLine(one, one), RuledLine(one, one), RuledLine(one, one)), 2, 9.0),
        Space(3),
    )


def test_a_block_of_each_kind_is_tried() -> None:
    tried = {type(block) for block in every_block("")}
    assert tried == set(Block.__args__)
    assert {type(block) for block in told("")} == set(Told.__args__)


@pytest.mark.parametrize("for_paper", [False, True])
@pytest.mark.parametrize("form", FORMATS)
def test_every_format_has_every_text_of_every_block(form: str, for_paper: bool) -> None:
    """No two texts are alike, so that each is looked for by itself."""
    count = 0

    def next_text() -> str:
        nonlocal count
        count += 1
        return f"told{count}x"

    blocks = (
        Heading(2, next_text()),
        Words(next_text()),
        Words(next_text(), weight=True),
        Words(next_text(), small=True),
        Listing((next_text(), next_text())),
        Table((next_text(), next_text()), ((next_text(), next_text()),), frozenset({1})),
        Bars(next_text(), (Bar(next_text(), Fraction(1, 2), next_text()),)),
        Whole((Words(next_text()), Bars(next_text(), (Bar(next_text(), Fraction(1), "1"),)))),
        SheetHead(next_text(), next_text()),
        Posed(next_text(), (next_text(),), next_text(), PICTURE, IN_CHARACTERS, "in words"),
        Lines((RuledLine(next_text(), next_text()),), 1, 9.0),
    )
    shown = written(Document("title", blocks, for_paper), form)
    assert {f"told{number}x" for number in range(1, count + 1)} == set(
        re.findall(r"told\d+x", shown)
    )


@pytest.mark.parametrize("hostile", HOSTILE)
@pytest.mark.parametrize("for_paper", [False, True])
def test_no_text_of_any_block_is_a_command(hostile: str, for_paper: bool) -> None:
    document = Document(hostile, every_block(hostile), for_paper)
    Leaf().feed(written(document, "html"))
    check_latex(written(document, "tex"))
    shown = {form: written(document, form) for form in FORMATS}
    shown |= {"text": text(told(hostile)), "spoken": spoken(told(hostile))}
    for form, one in shown.items():
        assert all(c.isprintable() or c == "\n" for c in one), form
    check_markdown(shown["md"])
    assert tex_text(hostile) in set_in_latex(shown["tex"])


@pytest.mark.parametrize(
    "found",
    [
        r"\input{x}", "100 % of it", "$x$", "a_b", "#1", "a & b", "^^M", "x^2", '"q"', "`",
        "{", "}", r"\begin{verbatim}", "é",
    ],
)  # fmt: skip
def test_a_command_that_got_through_to_latex_is_found(found: str) -> None:
    shown = written(Document("", (Words("harmless"),)), "tex")
    check_latex(shown)
    with pytest.raises(AssertionError):
        check_latex(shown.replace("harmless", found))


def test_the_bars_of_latex_are_as_long_as_what_they_show_and_say_it() -> None:
    """A bar is a rule, its value stands behind it, and nothing is told by a colour."""
    bars = Bars("Marks", (Bar("0 to 49", Fraction(0), "0"), Bar("50 to 74", Fraction(1, 3), "1"),
                          Bar("75 to 100", Fraction(1), "3")))  # fmt: skip
    shown = written(Document("", (bars,)), "tex")
    drawn = re.findall(r"hspace\{0pt\}(.*?)\}\\hspace\{2mm\}\\rule\[.*?\]\{([\d.]+)mm\}.*?mm\}"
                       r"\\hspace\{1\.5mm\}(.*?)\\par", shown)  # fmt: skip
    assert [(label, value) for label, _, value in drawn] == [
        ("0 to 49", "0"), ("50 to 74", "1"), ("75 to 100", "3"),
    ]  # fmt: skip
    lengths = [float(length) for _, length, _ in drawn]
    assert lengths[0] == 0
    assert lengths[1] == pytest.approx(lengths[2] / 3, abs=0.1)
    assert lengths[2] > 50
    assert "color" not in shown.split("\\begin{document}")[1]


def test_a_heading_of_latex_asks_for_room_for_what_is_below_it() -> None:
    """Else a page might end with a heading whose table or chart begins the next one."""
    table, bars = Table(("a",), (("b",),)), Bars("c", (Bar("d", Fraction(1), "e"),) * 10)

    def room(*blocks: Block) -> list[int]:
        shown = written(Document("", blocks), "tex").split("\\begin{document}")[1]
        return [int(lines) for lines in re.findall(r"\\room\{(\d+)\}", shown)]

    assert room(Heading(2, "h"), Words("w")) == []
    (few,) = room(Heading(2, "h"), table)
    above, chart = room(Heading(2, "h"), bars)
    assert above > chart > few


def test_a_word_longer_than_its_column_can_be_broken_and_others_are_not() -> None:
    long = "9" * 200
    shown = written(Document("", (Table(("Line", "You wrote"), (("M_sum", long),)),)), "tex")
    parts = shown.split(r"\hspace{0pt}")
    assert max(len(re.match("9*", part)[0]) for part in parts) < 20  # type: ignore[index]
    assert long in set_in_latex(shown)
    assert r"M\_sum" in shown


def test_columns_of_latex_leave_short_ones_their_width() -> None:
    table = Table(("Marks", "Slips", "Lines"), (("86.7 %", "x " * 200, "y " * 100),))
    shown = written(Document("", (table,)), "tex")
    shares = [float(share) for share in re.findall(r"p\{\\dimexpr([\d.]+)\\linewidth", shown)]
    assert sum(shares) <= 1.001
    assert shares[0] == pytest.approx((len("86.7 %") + 2) / 105, abs=0.001)


@pytest.mark.parametrize("form", FORMATS)
def test_the_caution_stands_in_all_that_is_for_paper(form: str) -> None:
    shown = written(Document("", (Words("a"), NewPage(), Words("b")), for_paper=True), form)
    caution = tex_text(CAUTION) if form == "tex" else CAUTION
    assert " ".join(shown.split()).count(caution) == (2 if form in ("md", "txt") else 1)


def test_markdown_for_paper_has_short_lines_and_straight_tables() -> None:
    words = Words("word " * 60)
    table = Table(("a", "long heading"), (("bb", "1"), ("ccc", "23")), frozenset({1}))
    loose, short = (
        written(Document("", (words, table), for_paper), "md") for for_paper in (False, True)
    )
    assert max(map(len, loose.splitlines())) > 200
    assert max(map(len, short.splitlines())) <= WIDTH
    rows = [line for line in short.splitlines() if line.startswith("|")]
    assert len({columns_of(row) for row in rows}) == 1
    assert "| a | long heading |\n| --- | ---: |\n| bb | 1 |" in loose
    assert escaped("a_b") in written(Document("", (Words("a_b"),)), "md")


@pytest.mark.parametrize(
    ("shown", "parts"),
    [
        ("W_l = 93.43 N", ["W_l =", "93.43 N"]),
        ("3.5 cm 4.5 kg", ["3.5 cm", "4.5 kg"]),
        ("at 45° or 7.5 N·m", ["at 45°", "or", "7.5 N·m"]),
        ("1 + 2 - 3", ["1 + 2 -", "3"]),
        ("12345.6 N·m", ["12345.6", "N·m"]),
        ("12345678901 N", ["12345678", "901 N"]),
    ],
)
def test_no_number_is_parted_from_its_unit(shown: str, parts: list[str]) -> None:
    """Unless both together are longer than the room there is."""
    assert wrapped(shown, 8) == parts


def test_a_column_of_a_table_stays_as_wide_as_its_numbers_with_their_units() -> None:
    """As long as another can be narrowed; with that all of them fit."""
    long = "words and more words " * 5
    table = Table(("Line", "Found", "Told", "Told too"), (("a", "12345.67 N·m", long, long),))
    lines = text([table]).splitlines()
    assert max(map(len, lines)) <= WIDTH
    assert any("12345.67 N·m" in line for line in lines)
    many = Table(tuple("abcdefgh"), (("12345.67 N·m",) * 8,))
    assert max(map(len, text([many]).splitlines())) <= WIDTH
