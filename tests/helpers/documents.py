"""Documents read as LaTeX and as Markdown read them, to see that no text in them is a command."""

from __future__ import annotations

import re

COMMANDS = {
    "begin", "end", "par", "textbf", "bfseries", "small", "Large", "large", "normalsize",
    "footnotesize", "scriptsize", "ttfamily", "medskip", "smallskip", "nobreak", "clearpage",
    "room", "blank", "leavevmode", "quad", "hfill", "null", "hspace", "vspace", "vskip",
    "parskip", "raggedright", "raggedleft", "parbox", "rule", "makebox", "mbox", "hangindent",
    "textbullet", "dimexpr", "linewidth", "hline", "noalign", "endhead", "tabularnewline",
    "setlength", "unitlength", "fboxsep", "color", "put", "line", "qbezier", "circle",
    "linethickness", "colorbox", "ensuremath", "char",
}  # fmt: skip
"""What a writer itself says to LaTeX."""
SIGNS = {
    "alpha", "beta", "gamma", "theta", "mu", "circ", "times", "div", "pm", "cdot", "surd",
    "approx", "leq", "geq", "neq", "vert", "backslash", "bullet", "S", "pounds", "copyright",
    "ldots", "perp", "rightarrow", "leftarrow", "uparrow", "downarrow",
}  # fmt: skip
"""Signs and letters that a text may have become."""
ENVIRONMENTS = {"document", "longtable", "minipage", "picture"}


def check_latex(source: str) -> None:
    """Assert that LaTeX finds nothing to do in a document but what its writer says to it."""
    body = source.split("\\begin{document}\n")[1]
    assert body.endswith("\\end{document}\n")
    assert body.count("\\end{document}") == 1
    assert body.isascii()
    assert set(re.findall(r"\\([A-Za-z]+)", body)) <= COMMANDS | SIGNS
    assert set(re.findall(r"\\(?:begin|end)\{(\w+)\}", body)) <= ENVIRONMENTS
    for line in body.splitlines():
        bare = re.sub(r"\\([A-Za-z]+|.)", "", line).removesuffix("%")
        assert not re.search(r"[%$#_`\"]|\^(?!\{)", bare), line
        assert "&" not in bare or line.split("\\hline")[0].endswith("\\tabularnewline"), line
    depth = 0
    for brace in re.findall(r"(?<!\\)[{}]", body.replace("\\\\", "")):
        depth += 1 if brace == "{" else -1
        assert depth >= 0
    assert depth == 0


def set_in_latex(source: str) -> str:
    """Return a document for LaTeX without the places where a long word may be broken."""
    return source.replace(r"\hspace{0pt}", "")


def check_markdown(written: str) -> None:
    """Assert that no text outside of blocks of code is markup, and that each of these ends."""
    fence = ""
    for line in written.splitlines():
        if fence:
            fence = "" if line == fence else fence
        elif match := re.match("(`{3,})text$", line):
            fence = match[1]
        else:
            assert not re.search(r"<script|(?<!\\)`|(?<!\\)\$|\*\*b|\[l\]|https:/", line), line
    assert fence == ""
