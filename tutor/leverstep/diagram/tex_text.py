"""Plain text for LaTeX, in which nothing is a command; it needs no package and no font but its own.

A character that is not known here becomes `?`.
"""

from __future__ import annotations

import re
import unicodedata

from leverstep.course.plain_text import plain

_MATHS = {
    "α": r"\alpha", "β": r"\beta", "γ": r"\gamma", "δ": r"\delta", "ε": r"\varepsilon",
    "ζ": r"\zeta", "η": r"\eta", "θ": r"\theta", "ι": r"\iota", "κ": r"\kappa", "λ": r"\lambda",
    "μ": r"\mu", "µ": r"\mu", "ν": r"\nu", "ξ": r"\xi", "ο": "o", "π": r"\pi", "ρ": r"\rho",
    "σ": r"\sigma", "ς": r"\varsigma", "τ": r"\tau", "υ": r"\upsilon", "φ": r"\varphi",
    "χ": r"\chi", "ψ": r"\psi", "ω": r"\omega", "Γ": r"\Gamma", "Δ": r"\Delta", "Θ": r"\Theta",
    "Λ": r"\Lambda", "Ξ": r"\Xi", "Π": r"\Pi", "Σ": r"\Sigma", "Φ": r"\Phi", "Ψ": r"\Psi",
    "Ω": r"\Omega", "°": r"^{\circ}", "×": r"\times", "÷": r"\div", "−": "-", "±": r"\pm",
    "·": r"\cdot", "√": r"\surd", "¹": "^{1}", "²": "^{2}", "³": "^{3}", "∞": r"\infty",
    "≈": r"\approx", "≤": r"\leq", "≥": r"\geq", "≠": r"\neq", "∑": r"\sum", "½": r"\frac{1}{2}",
    "¼": r"\frac{1}{4}", "¾": r"\frac{3}{4}", "←": r"\leftarrow", "→": r"\rightarrow",
    "↑": r"\uparrow", "↓": r"\downarrow", "↔": r"\leftrightarrow", "⟂": r"\perp", "⊥": r"\perp",
    "∥": r"\parallel", "∠": r"\angle", "′": "'", "″": "''", "●": r"\bullet", "•": r"\bullet",
    "<": "<", ">": ">", "|": r"\vert", "\\": r"\backslash",
}  # fmt: skip
"""Signs that are set as mathematics, wherever they stand."""

_WORDS = {
    "#": r"\#", "$": r"\$", "%": r"\%", "&": r"\&", "_": r"\_", "{": r"\{", "}": r"\}",
    "^": r"\^{}", "~": r"\~{}", "`": r"{\char96}", '"': "{''}", "'": "{'}", "-": "-{}",
    "\u00a0": "~", "–": "{--}", "—": "{---}", "‐": "-{}", "’": "{'}", "‘": "{`}", "“": "{``}",
    "”": "{''}", "„": "{,,}", "…": r"\ldots{}", "ß": r"\ss{}", "æ": r"\ae{}", "Æ": r"\AE{}",
    "œ": r"\oe{}", "Œ": r"\OE{}", "ø": r"\o{}", "Ø": r"\O{}", "ł": r"\l{}", "Ł": r"\L{}",
    "ı": r"\i{}", "¿": "{?`}", "¡": "{!`}", "§": r"\S{}", "£": r"\pounds{}", "©": r"\copyright{}",
    "↺": "acw", "↻": "cw",
}  # fmt: skip
"""Signs that are set as words, or are commands where nothing is done about it."""

_ACCENTS = {
    "\u0300": r"\`", "\u0301": r"\'", "\u0302": r"\^", "\u0303": r"\~", "\u0304": r"\=",
    "\u0306": r"\u", "\u0307": r"\.", "\u0308": r"\"", "\u030a": r"\r", "\u030b": r"\H",
    "\u030c": r"\v", "\u0327": r"\c",
}  # fmt: skip
_DOTLESS = {"i": r"\i", "j": r"\j"}
_AS_IT_IS = re.compile(r"[A-Za-z0-9 .,:;!?()\[\]+=*/@]")


def tex_text(text: str) -> str:
    """Return a text for LaTeX, on one line and free of control signs."""
    return "".join(_sign(character) for character in unicodedata.normalize("NFC", plain(text)))


def _sign(character: str) -> str:
    if _AS_IT_IS.fullmatch(character):
        return character
    if character in _WORDS:
        return _WORDS[character]
    if character in _MATHS:
        return rf"\ensuremath{{{_MATHS[character]}}}"
    return _accented(character)


def _accented(character: str) -> str:
    """Return a letter with an accent, `?` for what is none."""
    parts = unicodedata.normalize("NFD", character)
    if len(parts) != 2 or not _AS_IT_IS.fullmatch(parts[0]) or parts[1] not in _ACCENTS:
        return "?"
    above = parts[1] != "\u0327"
    letter = _DOTLESS.get(parts[0], parts[0]) if above else parts[0]
    return f"{_ACCENTS[parts[1]]}{{{letter}}}"
