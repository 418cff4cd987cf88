"""Words that must stand in no file of the project: folders of one machine, notes not meant for readers."""

import re

import pytest

from tests.support.sources import ROOT, project_files

# A tilde parts each word, so that this file does not find itself.
FORBIDDEN = {
    "a folder of one machine": (r"/wo~rk/", r"/tm~p/w\b", r"/ro~ot/"),
    "a note on how the work was shared out": (
        r"\biss~ues? (no\. ?|#)?\d",
        r"\bsub-?age~nt",
        r"\bses~sion of the pro~ject",
    ),
    "papers that are not part of the project": (
        r"\.\./sha~red",
        r"library_no~tes",
        r"perf_lim~its",
        r"printing_fa~cts",
        r"DESI~GN\.md",
        r"STY~LE\.md",
    ),
    "a package index by its address": (
        r"py~pi\.org",
        r"pythonho~sted\.org",
        r"deb\.deb~ian\.org",
        r"/opt/py~pi",
    ),
    "a mark of unfinished work": (r"\bTO~DO\b", r"\bFIX~ME\b", r"\bXX~X\b"),
}
PATTERNS = {what: re.compile("|".join(words).replace("~", "")) for what, words in FORBIDDEN.items()}
NOT_TEXT = frozenset({".png", ".ttf", ".otf", ".ico", ".icns", ".xlsx", ".pdf", ".hilum", ".jpg", ".qm"})


def forbidden_in(text: str) -> list[tuple[int, str]]:
    """Give the line and the kind of each forbidden word."""
    return [
        (number, what)
        for number, line in enumerate(text.splitlines(), start=1)
        for what, pattern in PATTERNS.items()
        if pattern.search(line)
    ]


def test_no_file_holds_a_forbidden_word():
    """Files speak to keepers and makers, wherever their copy lies."""
    found = []
    for path in project_files():
        if path.suffix.lower() in NOT_TEXT:
            continue
        text = path.read_bytes().decode("utf-8", errors="replace")
        found += [f"{path.relative_to(ROOT).as_posix()}:{line}: {what}" for line, what in forbidden_in(text)]
    assert found == []


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("see /wo" + "rk/main/notes", "a folder of one machine"),
        ("as issue" + " 2 asks", "a note on how the work was shared out"),
        ("copied from ../sha" + "red/crops.csv", "papers that are not part of the project"),
        ("--index-url https://py" + "pi.org/simple", "a package index by its address"),
        ("# TO" + "DO: rounding", "a mark of unfinished work"),
    ],
)
def test_a_forbidden_word_is_found(line: str, what: str):
    """The patterns do catch what they are for."""
    assert forbidden_in(line) == [(1, what)]


def test_ordinary_words_pass():
    """Everyday sentences are not forbidden."""
    assert (
        forbidden_in("The frame/work of a homework/session, issued 2 packets; see resources/demo/README.md")
        == []
    )
