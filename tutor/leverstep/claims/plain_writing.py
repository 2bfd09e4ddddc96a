"""A line of a page with the many ways of writing made one: signs, words for signs, LaTeX, marks."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable
from functools import lru_cache

from leverstep.course.symbols import SPELT
from leverstep.course.way_words import ARROWS
from leverstep.entry.body_weight_words import BODY_WEIGHT
from leverstep.entry.tokens import MEANT, VULGAR
from leverstep.statics.units import FORCE, LENGTH, NAMED_LENGTH, units_for

_Rule = tuple[re.Pattern[str], str | Callable[[re.Match[str]], str]]
"""A way of writing, and what it is made."""


def _joined(match: re.Match[str]) -> str:
    """Return `F(left hand)` as one word, a symbol."""
    return match.group(1) + "_" + re.sub(r"[^A-Za-z]+", "_", match.group(2))


def _function_of(match: re.Match[str]) -> str:
    """Return `cosine of` as `cos`."""
    return f" {match.group()[:3].lower()} "


def _in_english(function: str) -> Callable[[re.Match[str]], str]:
    """Return what makes a function of another language one of this, `arctg` an `atan`."""
    return lambda match: f" a{function} " if match.group(1) else f" {function} "


def _along_axis(match: re.Match[str]) -> str:
    """Return `x:` before a number as what it says of the axis."""
    return " ; horizontal " if match.group(1) == "x" else " ; vertical "


def _axis_of_arrow(match: re.Match[str]) -> str:
    """Return an arrow before an equation as what it says of the axis."""
    return " vertical ; " if match.group(1) in "↑↓" else " horizontal ; "


def _lowered_index(match: re.Match[str]) -> str:
    """Return an index below the line as one behind a bar: `F_m`; a lowered gamma stands for y."""
    return "_" + unicodedata.normalize("NFKC", match.group().replace("ᵧ", "y"))


def _as_index(match: re.Match[str]) -> str:
    return "_" + re.sub(r"\W", "", match.group(1))


def _rules(*pairs: tuple[str, str | Callable[[re.Match[str]], str]]) -> list[_Rule]:
    return [(re.compile(pattern), by) for pattern, by in pairs]


_SIGNS = {
    **MEANT, **SPELT, **{one: f"({fraction})" for one, fraction in VULGAR.items()},
    "≅": "=", "≃": "=", "∼": "=", "≡": "=", "—": "-", "✖": "*", "√": " sqrt ", "\t": "  ",
    "⇒": " ; ", "→": " ; ", "➜": " ; ", "⟹": " ; ", "∴": " ; ", "∵": " ; ", "⟶": " ; ",
    "\u20d7": "", "τ": "M", "ϕ": "phi", "δ": "delta", "∑": "Σ",
}  # fmt: skip
"""Signs that mean another on a page: those of any entry, and more."""

_LATEX = _rules(
    (r"\\(?:d|t)?frac\s*\{([^{}]*)\}\s*\{([^{}]*)\}", r"((\1)/(\2))"),
    (r"\\sqrt\s*\{([^{}]*)\}", r"sqrt(\1)"),
    (r"\\(?:text|mathrm|mathit|textrm|operatorname)\s*\{([^{}]*)\}", r"\1"),
    (r"_\{([^{}]*)\}", _as_index),
    (r"\^\{?\\circ\}?", "°"),
    (r"\^\{([^{}]*)\}", r"^\1"),
    (r"\\(?:cdot|times)\b", "*"),
    (r"\\(?:approx|simeq|sim)\b", "="),
    (r"\\(?:Rightarrow|rightarrow|implies|therefore|to)\b", " ; "),
    (r"\\phantom\s*\{[^{}]*\}", " "),
    (r"\\ell\b|\\ell(?=_)", " l"),
    (r"\\(?:left|right|big|Big|displaystyle|quad|qquad)\b|\\[,;:! ]", " "),
    (r"\\sum\b", "Σ"),
    (r"\\\\", " "),
    (r"\\([A-Za-z]+)", r" \1"),
    (r"\s?[$&{}]\s?", " "),
)

_INVERTED = r"\s*\^?\s*(?:\(\s*-\s*1\s*\)|-\s*1|⁻¹)"
_TAKEN_BACK = (
    r"=\s*-?\d++(?:\.\d++)?\s*+[A-Za-z]{0,3}\s*+[,;.…-]*+\s*+"
    r"(?:\b(?:no|sorry|wait|rather|wrong|oops|mistake|actually|i mean)\b[,:;.!]*\s*+)+"
)
"""A value that its line takes back: `= 90 N, no, `. No space is tried twice: there may be many."""
_FUNCTIONS = _rules(
    (r"(?i)\b(a|arc|ark)?\s?(?:sen|seno|sinus)(?![A-Za-z])", _in_english("sin")),
    (r"(?i)\b(a|arc|ark)?\s?(?:coseno|cosinus)(?![A-Za-z])", _in_english("cos")),
    (r"(?i)\b(a|arc|ark)?\s?(?:tg|tangens|tangente)(?![A-Za-z])", _in_english("tan")),
    (r"(?i)\b(?:wurzel|ra[ií]z|radice|racine)(?:\s+(?:de|aus|di))?(?=\s*\(?\s*\d)", " sqrt "),
    (rf"\b(?:a?tan|arctan|arc tan|inv(?:erse)? tan){_INVERTED}", "atan"),
    (rf"\b(?:sin|inv(?:erse)? sin){_INVERTED}", "asin"),
    (rf"\b(?:cos|inv(?:erse)? cos){_INVERTED}", "acos"),
    (r"\b(?:inverse|inv|arc)[\s-]*(tan|sin|cos)\b", r"a\1"),
    (r"(?i)\b(?:sine|sin|cosine|cos|tangent|tan) of\b(?: the)?", _function_of),
    (r"(?<=\d)\s?c\s?(?=\d)", " cos "),
    (r"\batan2\s*\(([^(),]+),([^(),]+)\)", r"atan((\1)/(\2))"),
    (r"\bsq(?:uare)?\.?\s*-?\s*(?:root(?:\s+of)?|rt)\b|\broot(?:\s+of)?(?=\s*\()", " sqrt "),
    (r"\^\s*\(?1/2\)?", "^0.5"),
    (r"\bhalf of\b|\bhalf (?=\d)", " 0.5 * "),
    (r"(?<![A-Za-z])(a?(?:sin|cos|tan)|sqrt)(?=[\d.])", r" \1 "),
    (rf"\b([A-Za-z]\w*)\s*{_TAKEN_BACK}\1\s*=", r"\1 ="),
    (rf"=[^=]*+{_TAKEN_BACK}(?=[\d.(][^=]*=)", "= "),
    (rf"{_TAKEN_BACK}(?=[\d.])", "= "),
    (rf"(?<![A-Za-z])(a?(?:sin|cos|tan))(?=(?:{'|'.join(SPELT.values())})\b)", r" \1 "),
    (r"(?<![A-Za-z_])m\s?g(?![A-Za-z_])(?!\s*=)", " (m * g) "),
    (r"(?<=\d)\s*m\s?g(?=\s*=)", " * (m * g)"),
    (
        r"\broot of\s+([\d.]+)\s+squared\s+(?:plus|and|\+)\s+([\d.]+)\s+squared\b",
        r"sqrt(\1^2 + \2^2)",
    ),
    (r"\bsquared\b", "^2"),
    (r"(?<![A-Za-z])(?:pi|PI|Pi)(?![A-Za-z])", "π"),
)

_LENGTH = f"(?:{'|'.join(units_for(LENGTH))})"
_FORCE = f"(?:{'|'.join(units_for(FORCE))})"
_UNIT = f"(?:{_FORCE}|{_LENGTH}|kg|lb)"
_IN_UNIT = rf"{_UNIT}(?:\s?[ *·.-]\s?{_UNIT})?"

_FACTOR = rf"(?!(?:{_LENGTH}|A)\b)(?:{'|'.join(SPELT.values())}|[A-Za-z](?:_\w+|\d)?)"
"""A symbol behind a full stop that stands for times: `I.alpha = …`; no unit, no `M.A`."""

_BEHIND_UNIT = r"(?=\s*(?:$|[=;,.→*/+)~<-]|\((?!\s*[\d.])|x\s*\d|[a-z]{2}))"
"""What may follow a unit in brackets, and no factor in brackets: `4.5 (m) (9.81)`."""

_WITH_EQUATION = r"into|in|from|with|using|by|of|and|eqn?s?\.?|equations?"
"""What stands before an equation that is named by its number: `into (2) …`."""

_OPERATIONS = _rules(
    (r"^\s*\(\s*(=[^()]*)\)\s*$", r"\1"),
    (rf"(/\s*[\d.]+\s*=\s*[\d.]+)\s*(?:[x*]|times)?\s*{BODY_WEIGHT}\b", r"\1"),
    (r"\(\s*([-+]?\s*[\d.]+)\s*\*?\s*i\s*([-+])\s*([\d.]+)\s*\*?\s*j\s*\)", r"(\1, \2\3)"),
    (r"\bw/(?=\s*[\d(A-Za-z])", "with "),
    (rf"(?<=\d)\s*\[\s*({_IN_UNIT})\s*\]", r" \1"),
    (r"\[([^\[\],;=]*\d[^\[\],;=]*[-+*/)][^\[\],;=]*)\]", r"(\1)"),
    (rf"(?<=\d)\s*\(\s*({_IN_UNIT})\s*\){_BEHIND_UNIT}", r" \1"),
    (r"(?<=[\w)°])\s{2,}(?=[A-Za-z]\w{0,3}\s*=[^=]*\d)", " ; "),
    (r"(=\s*-?[\d.]+)\s{2,}(?=[-+\d.(][^=;]*=)", r"\1 ; "),
    (rf"(?<=\d)\s*[x*]\s*(?={BODY_WEIGHT}\b)", " "),
    (r"(?<![\w.)])([A-Z](?:_?\w)?)\s+\((?=\s*\d[^()]*[-+*/][^()]*\))", r"\1 * ("),
    (r"\b(?:must|has to|should|will)\s+(?:be\s+)?equal(?:\s+to)?\b", " = "),
    (r"\b(?:approx(?:imately)?|equals|equal to|comes to|gives|makes)\b\.?|~", " = "),
    (r"\b(?:multiplied by|times)\b", " * "),
    (r"\b(?:divided by)\b", " / "),
    (r"(?<=[\d)])\s+over\s+(?=[\d(])", " / "),
    (r"\bplus\b(?=\s*[\d(.])|(?<=[\d)])\s*plus\b|\bplus\b(?=\s+[A-Za-z]\w?\b)", " + "),
    (r"\bminus\b(?=\s*[\d(.])|(?<=[\d)])\s*minus\b|\bminus\b(?=\s+[A-Za-z]\w?\b)", " - "),
    (r"=+\s*>|-+\s*>|<\s*=+\s*>", " ; "),
    (r"=\s*(?:about|approx\.?|roughly|ca\.?|circa)\b", " = "),
    (r"=(?:\s*=)+", " = "),
    (r"(?i)(?<=[\d)]),\s*(?:that|this|it|which)\s+=", " ="),
    (
        rf"(?i)([\d)]\s*(?:{_IN_UNIT})?),?\s+(?:that|which|this|it)(?:\s+is|['’]s)\s+"
        rf"(?=[-+]?\d[\d.]*\s*{_IN_UNIT}\b)",
        r"\1 = ",
    ),
    (r"(?i)(^|[;,]|\b(?:so|and|then)\b)\s*(?:that|this|it|these|they)\s+=", r"\1 ; ="),
    (r"(?<=[a-z]{4})\s/\s(?=\d)", " ; "),
    (rf"(?i)\b({_WITH_EQUATION})\s*\(\s*\d{{1,2}}\s*\)(?=\s*(?:$|[:;,.=]|[A-Za-z\d(]))", r"\1 ; "),
    (
        rf"(?<![\d.*/] )([\d.]+)\s/\s([\d.]+)\s/\s([\d.]+)\s*({_LENGTH})\b",
        r"\1 \4 ; \2 \4 ; \3 \4",
    ),
    (r"\babout the (?:joint|axis|pivot|fulcrum)\b", ""),
    (
        r"(?<=[\d)°])\s*[xX](?=\s*[\d.(A-Z])|(?<=[\w)°])\s+[xX]\s+(?=[\w(.])"
        r"|(?:^|(?<=;))\s*[xX]\s+(?=[\d.(])",
        " * ",
    ),
    (r"(?<![\w)*])\*\*([^*]+?)\*\*(?![\w(*])", r"\1"),
    (r":=", " = "),
    (r"Σ\s+(?=[A-Za-z])", "Σ"),
    (r"(?<![\w.])([A-Z])\((?=\s*\d[^()]*[-+*/][^()]*\))", r"\1 * ("),
    (
        r"(?i)\bsum of (?:all )?(?:the )?(?:moments|torques|forces)\b"
        r"[^=\d:,;+*/·×_-]{0,40}=\s*0(?![.\d])",
        "ΣM = 0",
    ),
    (
        rf"([\d)°]|\d\s?{_UNIT}|(?<![\w.])[A-Z](?:_?\w)?)\s+\.\s+"
        r"(?=[\d(]|a?(?:sin|cos|tan)\b|sqrt\b|[A-Z](?:_?\w)?(?=\s*[=+*/.-])|[a-z]\s*(?:$|[=+*/-]))",
        r"\1 * ",
    ),
    (rf"(?<![\w.])([A-Z]\w?(?:_\w+)?|m)\.(?={_FACTOR}(?:\.{_FACTOR})?\s*=)", r"\1 * "),
    (r"(?<=/s)2\b", "^2"),
)

_CLASS_ALONE = r"\s*class(?:\s+lever)?\W*$"
"""What stands behind a number that is the class, and not that of a line: `3. class`."""

_NAMES_AND_AMOUNTS = _rules(
    (r"(?<=[₀-₉ₐ-ₜᵢ-ᵪ])(?=[A-Za-z])", " * "),
    (r"(?<=[A-Za-z])[₀-₉ₐ-ₜᵢ-ᵪ]+", _lowered_index),
    (r"\b([A-Za-z]\d)(?=[A-Za-z]\d\b)", r"\1 * "),
    (
        r"(?<![\w.^])(?!9\.8)(0?\.\d+|[1-9](?:\.\d+)?)\s?\*\s?10\s?\^\s?"
        r"(?:\(\s?([-+]?\d+)\s?\)|([-+]?)\s?(\d+)\b)",
        r"\1e\2\3\4",
    ),
    (
        r"^\s*([A-Z]\w?(?:_\w+)?|[A-Z]\([a-z ]+\))\s*(?::|;)\s*"
        r"(?=[-+]?\s*[\d.(]|sqrt|[A-Za-z]\w?\s*=)",
        r"\1 = ",
    ),
    (r"(?<=[\w°])\s*\(\s*[+-]\s*\)\s*$", ""),
    (r"[(,]?\s*\b(?:to )?\d\s*(?:s\.?\s?f\.?|d\.?\s?p\.?|sig\.? figs?)(?=\W|$)\)?", " "),
    (rf"(?<=\d)(\s*(?:{_UNIT}|g))\s+(?:which )?is (?=[\d.])", r"\1 = "),
    (r"\b[Mm]ech(?:anical)?\.?\s+[Aa]dv\b\.?", "mechanical advantage"),
    (r"(?<=[A-Za-z°])\s+\((\s*=?\s*[\d.]+\s*[A-Za-z°][A-Za-z* ]*)[!.]?\)", r" ; \1 ; "),
    (r"(?<=\d N),\s*([xy])\s*=(?=\s*[-+\d(])", _along_axis),
    (r"\b([A-Z][a-z]{0,2}),\s?([xyhv])\b(?=\s*=)", r"\1_\2"),
    (r"\b([A-Z]\w{0,2})(?:,\s*|\s+)(?:horizontal|horiz\.?)(?=\s*[=:;])", r"\1_x"),
    (r"\b([A-Z]\w{0,2})(?:,\s*|\s+)(?:vertical|vert\.?)(?=\s*[=:;])", r"\1_y"),
    (r"(?i)\bhorizontal(?:ly)?(?: (?:part|component))?[\s:;]+(R)(?=\s*=)", r"\1_x"),
    (r"(?i)\bvertical(?:ly)?(?: (?:part|component))?[\s:;]+(R)(?=\s*=)", r"\1_y"),
    (r"(?i)\bkilograms?[\s-]force\b", "kgf"),
    (r"(?i)\bpounds?[\s-]force\b", "lbf"),
    (r"(?i)\badv\b\.?(?=\s*[=:])", "advantage"),
    (r"\bM\.\s?A\b\.?", "MA"),
    (r"\b(MA|AR)\s*:?\s+(?=[\d(])", r"\1 = "),
    (r"^\s*([A-Z])\s{2,}(?=[-+]?[\d.(])", r"\1 = "),
    (r"\[\s*(?:deg|°)\s*\]\s*[:;]\s*(-?[\d.]+)\b", r"; \1 °"),
    (r"\b(?:to|in) (?=(?:up|down|left|right)\b)", ""),
    (r"(?<![\w.*/+-])([xy])\s*:(?=\s*[-+\d(.])", _along_axis),
    (r"\bA\.\s?R\b\.?", "AR"),
    (r"\bup ?/ ?down\b", "vertical"),
    (r"\bleft ?/ ?right\b", "horizontal"),
    (rf"^\s*([123])\.(?={_CLASS_ALONE})", r"\1"),
    (r"\b1st\b", "first"),
    (r"\b2nd\b", "second"),
    (r"\b3rd\b", "third"),
    (r"(?<=\S):(?=\s)", " ; "),
    (r"^([^\d=]*[A-Za-z])\s+:(?=\s)", r"\1 ; "),
    (r"(?<![\d.]\s)\b([A-Za-z])\(\s*([A-Za-z][a-z]+(?:[ &,]+[a-z]+)*)\s*\)", _joined),
    (r"\[\s*(m|rad|deg)\s?/\s?(s(?:\s?\^\s?2)?)\s*\]", r" \1/\2"),
    (r"(?<=\d)\s*(?:°|deg(?:rees?)?)\s?(?:/\s?|per )s(?:ec(?:onds?)?)?\b", " deg/s"),
    (r"(?<=\d)\s*deg(?:rees)?\b(?!/s\b)\.?", "°"),
    (r"(?<![\w.])(\d+(?:\.\d+)?)\s?(?:kW|kilowatts?)\b", r"\1e3 W"),
    (r"(?<=%)\s*=\s*(?=[\d.]+\s*(?:N|lbf?|kg)\b)", " ; "),
    (r"(\d[\d.,]*)\s*(?:%|per ?cent\b)", r"(\1/100)"),
    (r"(?<=[\d)])\s+of\s+(?=[\d.])", " * "),
    (r",\s*(?=\*)", " "),
    (r"\*\s*10\s*\*\*\s*", "*10^"),
)
_SPOKEN = [*_FUNCTIONS, *_OPERATIONS, *_NAMES_AND_AMOUNTS]

_UNITS = {
    "Kg": "kg", "KG": "kg", "kgf": "kg", "cms": "cm", "CM": "cm", "mtr": "m", "gm": "g",
    "gms": "g", "Lbs": "lb", "LBS": "lb", "LB": "lb", "Lb": "lb", "lbm": "lb", "ins": "in",
    "KN": "kN", "Newton": "N", "Newtons": "N", "NM": "N m", "Nms": "N m", "nm": "N m",
    "kp": "kg", "Nmm": "N mm", "Ncm": "N cm", "kgcm": "kg cm", "ftlb": "ft lb",
    "lbft": "lb ft", "lbin": "lb in", "inlb": "in lb", "Nin": "N in",
}  # fmt: skip
"""Units as people write them, and as this course spells them."""

_WORD = re.compile(r"(?<![A-Za-z])([A-Za-z]{2,7})(?![A-Za-z])")
_PRODUCTS_OF_UNITS = _rules(
    (rf"\b({_FORCE}|lb|kg)\s*[-.]\s*({_LENGTH})\b", r"\1 \2"),
    (r"\b(ft|in)\s*[-.]\s*(lbf|lb)\b", r"\1 \2"),
)

_RAISED = re.compile(r"(?<=[\w)])[⁻⁺]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+")
_LOWERED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺", "0123456789-+")
_RAISED_HALF = re.compile(r"(?<=\))\s?½(?=\s|$|=)")
_ARROWS = {arrow: f" {way} " for arrow, way in ARROWS.items() if arrow != "→"}
_ARROWS |= {"↻": " cw ", "↺": " ccw "}
_ARROW_AS_LABEL = re.compile(r"^\s*\+?\s*([↑↓→←])\s*\+?\s*:(?=[^=]*[A-Za-z][^=]*=)")
"""An arrow before an equation names its axis, and not where a force of it points."""
_ARROW_BEHIND = re.compile(r"(?<=[A-Za-z])\s*(?:→|-+>)\s*(?=$|[;,|)])")
_ARROW_BACK = re.compile(r"(?<=[A-Za-z])\s*<-+\s*(?=$|[;,|)])")

_NUMBERED = re.compile(
    r"^\s*(?:(?i:step|line|question|q|part)\s*\d{1,2}[a-z]?(?![\w.]\d)\s*[.:)]?"
    rf"|\(?(?:\d{{1,2}}(?!\.{_CLASS_ALONE})|[a-hA-H]|[ivx]{{1,4}})[.)](?=\s)"
    r"|[-*+•‣>]+(?=\s)|#+(?=\s)|\d{1,2}:(?=\s))\s*"
)
"""A number or a mark in front of a line."""
_BULLET = re.compile(r"^\s*[-*+•‣>]\s+(?=\S)")

_LENGTH_NAMED = _rules(
    (rf"(?<![A-Za-z_])(k?N)\s?[*·⋅×.-]?\s?{NAMED_LENGTH}\b", r"\1 m"),
    (rf"(?<=[\d)])\s?[*·⋅×]?\s?{NAMED_LENGTH}\b", " m"),
    (rf"(?<![A-Za-z_]){NAMED_LENGTH}\b", "(1 m)"),
)

_TOLD = r"(?=\s*(?:is|on|of)\b|\s+[A-Za-z]\s*=|\s*[=:](?!\s*[A-Za-z]\w*\s*=))"
_CONTACT = _rules(
    (
        r"(?i)^(\W*(?:so|the|static)?\s*)"
        rf"normal(?:\s+(?:reaction|contact|support))?(?:\s+force)?\b{_TOLD}",
        r"\1vertical reaction",
    ),
    (
        rf"(?i)^(\W*(?:so|the|static)?\s*)friction(?:al)?(?:\s+force)?\b{_TOLD}",
        r"\1horizontal reaction",
    ),
)
"""What the parts of the force of a level floor are called."""

_ARROW_TO = r"\s*(?:→|⟶|⇒|[-=]+>)\s*(?=[\d.]+\s?"
_CONVERTED = _rules(
    (rf"(\d\s?{_LENGTH}){_ARROW_TO}{_LENGTH}\b)", r"\1 = "),
    (rf"(\d\s?lbs?){_ARROW_TO}kg\b)", r"\1 = "),
    (rf"(\d\s?lbf?s?){_ARROW_TO}N\b(?!\s?[a-z]))", r"\1 = "),
)
"""An arrow from one unit to another of the same sort: `5.4 in → 13.7 cm`."""

_IN_BOLD = re.compile(r"^\s*\*\*((?:(?!\*\*).)*\d(?:(?!\*\*).)*)\*\*\s*$")
_NEWTONS_SMALL = re.compile(
    rf"(?<=\d)\s?n(?=[ *·]?{_LENGTH}?\s*"
    r"(?:$|[,;.=)\]~≈→↑↓←⇒↻↺#]|\*\*|<-|\((?!\s*[\d.])|[x×*·]\s*\d|[-=]>|\s[a-z]{2,}))"
)
"""Newtons by who writes no capitals: `18.1 n`, `6760 n cm`."""

_TIMES_WEIGHT = re.compile(r"(?<=[\d)])\s?W\b")
_TIMES_GRAVITY = re.compile(r"(?<=[\d)])\s?g\b(?!\s*/)")
_DECIMAL_COMMA = re.compile(r"(?<![\d.,])\d+,\d+(?![\d,])")
_THOUSANDS = re.compile(r"(?<![\d.,])[1-9]\d{0,2}(?:,\d{3})+(?!\d)")
_TWO_WAYS = re.compile(r"(?<![\d.,])[1-9]\d{0,2},\d{3}(?![\d.,])")
_SURE_COMMA = re.compile(r"(?<![\d.,])(?![1-9]\d{0,2},\d{3}(?!\d))\d+,\d+(?![\d,])")
_DECIMAL_BEFORE_UNIT = re.compile(
    rf"(?<![\d.,(\[])(?![1-9]\d{{0,2}},\d{{3}}(?!\d))\d+,\d+(?=\s?{_UNIT}\b)"
)
_DECIMAL_POINT = re.compile(r"\d\.\d|(?<!\d)\.\d")


def has_decimal_point(text: str) -> bool:
    """Return whether a line has a number with a decimal point."""
    return bool(_DECIMAL_POINT.search(text))


def two_ways_in(text: str) -> list[str]:
    """Return the numbers of a line that have thousands or else decimals: `2,815`."""
    return _TWO_WAYS.findall(text)


def has_decimal_comma(text: str) -> bool:
    """Return whether a comma of a line can be nothing but that of decimals: `48,94`, `0,245`."""
    is_pointed = re.search(r"\d\.\d", text)
    return not is_pointed and bool(_SURE_COMMA.search(text))


def decimal_comma(lines: Iterable[str]) -> bool:
    """Return whether a page writes decimals with a comma for sure: one of its commas can be nothing
    else, and there are few points.
    """
    text = "\n".join(lines)
    if not _SURE_COMMA.search(text):
        return False
    points = len(_DECIMAL_POINT.findall(text))
    commas, thousands = (len(one.findall(text)) for one in (_DECIMAL_COMMA, _THOUSANDS))
    return not points or commas > max(points, thousands)


def with_points(text: str, comma: bool) -> str:
    """Return a text with decimal points, and no marks between thousands.

    Args:
        text: what was typed.
        comma: whether the page writes decimals with a comma; where it writes points, only a comma
            before a unit that can be nothing else is one: `21/2.205*9.81 = 93,4 N`.
    """
    if comma:
        # `1.234,5` and `1.234.567` have thousands; `0.131` among commas is still a decimal.
        text = re.sub(
            r"(?<![\d.])\d{1,3}(?:\.\d{3})+(?=,\d)|(?<![\d.])\d{1,3}(?:\.\d{3}){2,}(?!\d)",
            lambda match: match.group().replace(".", ""),
            text,
        )
        return re.sub(r"(?<=\d),(?=\d)", ".", text)
    text = _DECIMAL_BEFORE_UNIT.sub(lambda match: match.group().replace(",", "."), text)
    return re.sub(r"(?<=\d),(?=\d{3}(?:\D|$))", "", text)


def without_number(text: str) -> str:
    """Return a line without the number or mark in front of it: `a)`, `Step 2:`, `-`."""
    return _BULLET.sub("", _NUMBERED.sub("", text, count=1))


@lru_cache(maxsize=256)
def made_plain(text: str) -> str:
    """Return a line, or a cell of one, that has decimal points, with its signs made alike."""
    text = _NEWTONS_SMALL.sub(" N", _IN_BOLD.sub(r"\1", without_number(text)))
    if any(mark in text for mark in "\\${"):
        text = _by_rules(text, _LATEX)
    text = _by_rules(text, _CONVERTED)
    text = _RAISED_HALF.sub("^0.5", text)
    text = _ARROW_AS_LABEL.sub(_axis_of_arrow, text)
    for arrow, word in _ARROWS.items():
        text = text.replace(arrow, word)
    text = _ARROW_BACK.sub(" left ", _ARROW_BEHIND.sub(" right ", text))
    text = _RAISED.sub(lambda match: "^" + match.group().translate(_LOWERED), text)
    text = "".join(_SIGNS.get(character, character) for character in text)
    text = _by_rules(text, _SPOKEN)
    text = _WORD.sub(lambda match: _UNITS.get(match.group(), match.group()), text)
    return _by_rules(text, _PRODUCTS_OF_UNITS)


_CLASS_NUMBERED = re.compile(rf"\s*\d\.{_CLASS_ALONE}", re.IGNORECASE)


def is_numbered_class(text: str) -> bool:
    """Return whether a line is `3. class`, which may be the third line of a list too."""
    return _CLASS_NUMBERED.match(text) is not None


def with_gravity(plain: str) -> str:
    """Return a line made plain with `33.26g` as a product with gravity, where it tells no mass."""
    return plain if re.search(r"\bkg\b", plain) else _TIMES_GRAVITY.sub(" * g", plain)


def with_weight(plain: str) -> str:
    """Return a line made plain with `0.935 W` as a product with a weight, and no watts."""
    return _TIMES_WEIGHT.sub(" * W", plain)


def with_metres(text: str) -> str:
    """Return a line with the metre for a length that a problem only names: `5 L`, `1200 N·L`."""
    return _by_rules(text, _LENGTH_NAMED)


def with_contact_named(text: str) -> str:
    """Return a line that begins with `friction` or `normal force` as one of the part of the
    reaction that is called so, where that is the force of a level floor.
    """
    return _by_rules(text, _CONTACT)


def _by_rules(text: str, rules: list[_Rule]) -> str:
    for pattern, by in rules:
        text = pattern.sub(by, text)
    return text
