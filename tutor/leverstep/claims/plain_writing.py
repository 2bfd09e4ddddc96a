"""A line of a page with the many ways of writing made one: signs, words for signs, LaTeX, marks."""

from __future__ import annotations

import re
from collections.abc import Iterable

_SIGNS = {
    "≈": "=", "≅": "=", "≃": "=", "∼": "=", "≡": "=", "−": "-", "–": "-", "—": "-", "‐": "-",
    "‑": "-", "×": "*", "·": "*", "⋅": "*", "∙": "*", "•": "*", "✕": "*", "✖": "*", "÷": "/",
    "∕": "/", "⁄": "/", "：": ":", "²": "^2", "³": "^3", "\u00a0": " ", "\u2009": " ",
    "\u202f": " ", "\t": "  ", "″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "º": "°",
    "⇒": " ; ", "→": " ; ", "➜": " ; ", "⟹": " ; ", "∴": " ; ", "∵": " ; ", "⟶": " ; ",
    "½": "(1/2)", "¼": "(1/4)", "¾": "(3/4)", "τ": "M", "φ": "phi", "ϕ": "phi", "θ": "theta",
    "α": "alpha", "β": "beta", "γ": "gamma", "δ": "delta", "∑": "Σ",
}  # fmt: skip

_LATEX = [
    (re.compile(r"\\(?:d|t)?frac\s*\{([^{}]*)\}\s*\{([^{}]*)\}"), r"((\1)/(\2))"),
    (re.compile(r"\\sqrt\s*\{([^{}]*)\}"), r"sqrt(\1)"),
    (re.compile(r"\\(?:text|mathrm|mathit|textrm|operatorname)\s*\{([^{}]*)\}"), r"\1"),
    (re.compile(r"_\{([^{}]*)\}"), lambda match: "_" + re.sub(r"\W", "", match.group(1))),
    (re.compile(r"\^\{?\\circ\}?"), "°"),
    (re.compile(r"\^\{([^{}]*)\}"), r"^\1"),
    (re.compile(r"\\(?:cdot|times)\b"), "*"),
    (re.compile(r"\\(?:approx|simeq|sim)\b"), "="),
    (re.compile(r"\\(?:Rightarrow|rightarrow|implies|therefore|to)\b"), " ; "),
    (re.compile(r"\\(?:left|right|big|Big|displaystyle|quad|qquad)\b|\\[,;:! ]"), " "),
    (re.compile(r"\\sum\b"), "Σ"),
    (re.compile(r"\\\\"), " "),
    (re.compile(r"\\([A-Za-z]+)"), r"\1"),
    (re.compile(r"[$&{}]"), " "),
]

_SPOKEN = [
    (re.compile(r"\b(?:a?tan|arctan|arc tan|inv(?:erse)? tan)\s*\^?\s*(?:\(\s*-\s*1\s*\)|-\s*1|⁻¹)"), "atan"),
    (re.compile(r"\b(?:sin|inv(?:erse)? sin)\s*\^?\s*(?:\(\s*-\s*1\s*\)|-\s*1|⁻¹)"), "asin"),
    (re.compile(r"\b(?:cos|inv(?:erse)? cos)\s*\^?\s*(?:\(\s*-\s*1\s*\)|-\s*1|⁻¹)"), "acos"),
    (re.compile(r"\b(?:inverse|inv|arc)[\s-]*(tan|sin|cos)\b"), r"a\1"),
    (re.compile(r"\batan2\s*\(([^(),]+),([^(),]+)\)"), r"atan((\1)/(\2))"),
    (re.compile(r"\bsq(?:uare)?\s*-?\s*root(?:\s+of)?\b|\broot(?:\s+of)?(?=\s*\()|√"), " sqrt "),
    (re.compile(r"\^\s*(?:½|\(?1/2\)?)|(?<=\))½"), "^0.5"),
    (re.compile(r"\bhalf of\b|\bhalf (?=\d)"), " 0.5 * "),
    (re.compile(r"\b(a?(?:sin|cos|tan)|sqrt)(?=[\d.])"), r"\1 "),
    (re.compile(r"\bsquared\b"), "^2"),
    (re.compile(r"\b(?:approx(?:imately)?|equals|equal to|comes to|gives|makes)\b\.?|~"), " = "),
    (re.compile(r"\b(?:multiplied by|times)\b"), " * "),
    (re.compile(r"\b(?:divided by)\b"), " / "),
    (re.compile(r"(?<=[\d)])\s+over\s+(?=[\d(])"), " / "),
    (re.compile(r"\bplus\b"), " + "),
    (re.compile(r"\bminus\b"), " - "),
    (re.compile(r"=+\s*>|-+\s*>|<\s*=+\s*>"), " ; "),
    (re.compile(r"=\s*(?:about|approx\.?|roughly|ca\.?|circa)\b"), " = "),
    (re.compile(r"=(?:\s*=)+"), " = "),
    (re.compile(r"(?<=[\d)°])\s*[xX](?=\s*[\d.(A-Z])|(?<=[\w)°])\s+[xX]\s+(?=[\w(.])|^\s*[xX]\s+(?=[\d.(])"), " * "),
    (re.compile(r"(?<![\w)*])\*\*([^*]+?)\*\*(?![\w(*])"), r"\1"),
    (re.compile(r":="), " = "),
    (re.compile(r"(?<=[A-Za-z°])\s+\((\s*=?\s*[\d.]+\s*[A-Za-z°][A-Za-z* ]*)\)"), r" ; \1 ; "),
    (re.compile(r"\bM\.\s?A\b\.?"), "MA"),
    (re.compile(r"\bA\.\s?R\b\.?"), "AR"),
    (re.compile(r"\b1st\b"), "first"),
    (re.compile(r"\b2nd\b"), "second"),
    (re.compile(r"\b3rd\b"), "third"),
    (re.compile(r"(?<=\S):(?=\s)"), " ; "),
    (re.compile(r"(?<![\d.]\s)\b([A-Za-z])\(\s*([A-Za-z][a-z]+(?:[ &,]+[a-z]+)*)\s*\)"), lambda match: match.group(1) + "_" + re.sub(r"[^A-Za-z]+", "_", match.group(2))),
    (re.compile(r"(?<=\d)\s*deg(?:rees)?\b\.?"), "°"),
    (re.compile(r"(\d[\d.,]*)\s*(?:%|per ?cent\b)"), r"(\1/100)"),
    (re.compile(r"(?<=[\d)])\s+of\s+(?=[\d.])"), " * "),
    (re.compile(r",\s*(?=\*)"), " "),
    (re.compile(r"\*\s*10\s*\*\*\s*"), "*10^"),
]  # fmt: skip

_UNITS = {
    "Kg": "kg", "KG": "kg", "kgf": "kg", "cms": "cm", "CM": "cm", "mtr": "m", "gm": "g",
    "gms": "g", "Lbs": "lb", "LBS": "lb", "LB": "lb", "Lb": "lb", "lbm": "lb", "ins": "in",
    "KN": "kN", "Newton": "N", "Newtons": "N", "NM": "N m", "Nms": "N m", "nm": "N m",
    "kp": "kg", "feet": "ft", "Nmm": "N mm", "Ncm": "N cm", "kgcm": "kg cm", "ftlb": "ft lb",
    "lbft": "lb ft", "lbin": "lb in", "inlb": "in lb", "Nin": "N in",
}  # fmt: skip
"""Units as people write them, and as this course spells them."""

_DIGITS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺½", "0123456789-+½")
_RAISED = re.compile(r"(?<=[\w)])[⁻⁺]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+")

_NUMBERED = re.compile(
    r"^\s*(?:(?:[Ss]tep|[Ll]ine|[Qq]uestion|[Qq]|[Pp]art)\s*\d{1,2}[a-z]?\s*[.:)]?"
    r"|\(?(?:\d{1,2}|[a-hA-H]|[ivx]{1,4})[.)](?=\s)|[-*+•‣>]+(?=\s)|#+(?=\s)|\d{1,2}:(?=\s))\s*"
)
_LEFT_OVER = re.compile(r"^\s*[-*+•‣>]\s+(?=\S)")


def decimal_comma(lines: Iterable[str]) -> bool:
    """Return whether a page writes decimals with a comma: it has such numbers, and no points."""
    text = "\n".join(lines)
    commas = len(re.findall(r"(?<![\d.,])\d+,\d+(?![\d,])", text))
    thousands = len(re.findall(r"(?<![\d.,])[1-9]\d{0,2}(?:,\d{3})+(?!\d)", text))
    points = len(re.findall(r"\d\.\d|(?<!\d)\.\d", text))
    return commas > 0 and (commas > points or points == 0) and (commas > thousands or not points)


def made_plain(text: str, comma: bool) -> str:
    """Return a line with its signs made alike.

    Args:
        text: what was typed.
        comma: whether the page writes decimals with a comma.
    """
    if comma:
        text = re.sub(r"(?<=\d)\.(?=\d{3}(?:\D|$))", "", text)
        text = re.sub(r"(?<=\d),(?=\d)", ".", text)
    else:
        text = re.sub(r"(?<=\d),(?=\d{3}(?:\D|$))", "", text)
    text = _NUMBERED.sub("", text, count=1)
    text = _LEFT_OVER.sub("", text)
    if "\\" in text or "$" in text or "{" in text:
        for pattern, by in _LATEX:
            text = pattern.sub(by, text)
    text = re.sub(
        r"(?<=[\w)])\s?(?:\^\s?½|½(?=\s|$|=))",
        lambda m: "^0.5" if m.string[m.start() - 1] == ")" or "^" in m.group() else m.group(),
        text,
    )
    for arrow, word in (("↓", "down"), ("↑", "up"), ("←", "left"), ("↻", "cw"), ("↺", "ccw")):
        text = text.replace(arrow, f" {word} ")
    text = re.sub(r"(?<=[A-Za-z])\s*→\s*(?=$|[;,|)])", " right ", text)
    text = _RAISED.sub(lambda match: "^" + match.group().translate(_DIGITS), text)
    text = "".join(_SIGNS.get(character, character) for character in text)
    for pattern, by in _SPOKEN:
        text = pattern.sub(by, text)
    text = re.sub(r"(?<![A-Za-z])([A-Za-z]{2,7})(?![A-Za-z])", _unit_spelt, text)
    text = re.sub(r"\b(N|lbf|lb|kN|kg)\s*[-.]\s*(mm|cm|m|in|ft)\b", r"\1 \2", text)
    return re.sub(r"\b(ft|in)\s*[-.]\s*(lbf|lb)\b", r"\1 \2", text)


def _unit_spelt(match: re.Match[str]) -> str:
    return _UNITS.get(match.group(1), match.group(1))
