"""The many ways of writing a line made one."""

from __future__ import annotations

import pytest
from leverstep.claims.near_numbers import CONSTANTS
from leverstep.claims.plain_writing import decimal_comma, made_plain, with_points
from leverstep.statics.choices import CONVENTIONS


def spaced(text: str) -> str:
    """Return a line with its spaces made alike."""
    return " ".join(text.split())


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("W = 1.5 × 9.81 ≈ 14.7 N", "W = 1.5 * 9.81 = 14.7 N"),
        ("M = 1,200 N·cm", "M = 1200 N*cm"),
        (r"F = \frac{19.9}{0.046} \approx 433 \text{ N}", "F = ((19.9)/(0.046)) = 433 N"),
        (r"$W_{l} = 5 \cdot 9.81$", "W_l = 5 * 9.81"),
        ("20.6 times 0.165 equals 3.40", "20.6 * 0.165 = 3.40"),
        ("85.2 minus 20.6 gives 64.6", "85.2 - 20.6 = 64.6"),
        ("3.92 divided by 0.046", "3.92 / 0.046"),
        ("inverse tan (3/4) = 36.9 degrees", "atan (3/4) = 36.9°"),
        ("tan⁻¹(3/4)", "atan(3/4)"),
        ("√(3² + 4²) = 5", "sqrt (3^2 + 4^2) = 5"),
        ("(9 + 16)½ = 5", "(9 + 16)^0.5 = 5"),
        ("d = ⅔ × 25.5 ∠ β", "d = (2/3) * 25.5 ∠ beta"),
        ("3) d = 0.682 x 25.5", "d = 0.682 * 25.5"),
        ("- R = 5 Newtons ↓", "R = 5 N down"),
        ("4.3% of 78 kg", "(4.3/100) * 78 kg"),
        ("W(pail) = 49 N", "W_pail = 49 N"),
        ("12 N-m", "12 N m"),
        ("Σ W = 842 N", "ΣW = 842 N"),
        ("M(4.8 + 1.15·2.7) = 1659", "M * (4.8 + 1.15*2.7) = 1659"),
        ("F = 100 N no wait 460 N", "F = 460 N"),
        ("9.81 . 34.0 = 333.5", "9.81 * 34.0 = 333.5"),
        ("62.2 (N) towards the elbow", "62.2 N towards the elbow"),
        ("4.5 (m) (9.81)", "4.5 (m) (9.81)"),
        ("42.7 [N] . 32.8 [cm] = 427 . x", "42.7 N * 32.8 cm = 427 * x"),
        ("W = 11.8 (N) (forearm)", "W = 11.8 N (forearm)"),
        ("90.0 n x 0.373 m = 33.6 n m clockwise", "90.0 N * 0.373 m = 33.6 N m clockwise"),
        ("- arm: **39.7 n**, 12.0 n*m", "arm ; 39.7 N, 12.0 N*m"),
        ("F = 2.4 n W", "F = 2.4 n W"),
        ("4 (N) * 3 (m) + 2 N m", "4 N * 3 m + 2 N m"),
        ("F = 427 N . a long way", "F = 427 N . a long way"),
        ("I.alpha = 11.1 N.m", "I * alpha = 11.1 N m"),
        ("a = 25.3 rad/s2", "a = 25.3 rad/s^2"),
        ("F = 1610 n altogether", "F = 1610 N altogether"),
        ("M = 6760 n cm", "M = 6760 N cm"),
    ],
)
def test_a_line_is_made_plain(written: str, plain: str) -> None:
    assert spaced(made_plain(with_points(written, comma=False))) == plain


def test_a_decimal_comma_becomes_a_point_on_a_page_that_writes_it() -> None:
    assert decimal_comma(["W = 1,65 · 9,81", "= 16,2 N"])
    assert decimal_comma(["d = 0,245 m"])
    assert spaced(made_plain(with_points("M = 1.200,5 N", comma=True))) == "M = 1200.5 N"


@pytest.mark.parametrize(
    "lines",
    [["W = 1.65 * 9.81"], ["M = 1,200 N cm", "d = 3.5 cm"], ["M = 1,200 N"], ["(3, 4)"], []],
)
def test_other_pages_write_no_decimal_comma(lines: list[str]) -> None:
    assert not decimal_comma(lines)


@pytest.mark.parametrize("name", CONVENTIONS)
def test_a_constant_that_books_round_is_one_on_any_line(name: str) -> None:
    assert set(CONVENTIONS[name].values) <= set(CONSTANTS)
