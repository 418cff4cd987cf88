"""Docstrings: one sentence everywhere, the full form where seed and paper are reckoned."""

import ast
import itertools

from tests.support.sources import Module, functions_of, house_modules, modules_of_tests, packaging_modules

# Where the full form is asked: unit, range, errors, source, example.
RECKONING = ("hilum.seedlore.", "hilum.labels.geometry")
# These read or hold facts and work nothing out: the source stands beside each fact in its table.
FACTS_ONLY = frozenset({"hilum.seedlore.tables"})


def public_functions(module: Module) -> list[ast.FunctionDef]:
    """Give the functions of a module that others may call; methods are told by their class."""
    return [n for n in module.tree.body if isinstance(n, ast.FunctionDef) and not n.name.startswith("_")]


def sections_of(docstring: str) -> set[str]:
    """Give the section headings of a docstring: lines underlined with hyphens."""
    lines = [line.strip() for line in docstring.splitlines()]
    return {line for line, below in itertools.pairwise(lines) if line and below and set(below) == {"-"}}


def asked_sections(function: ast.FunctionDef) -> set[str]:
    """Give the sections this function's docstring owes its readers."""
    asked = {"Source", "Examples"}
    arguments = function.args
    if arguments.args or arguments.posonlyargs or arguments.kwonlyargs:
        asked.add("Parameters")
    if not (isinstance(function.returns, ast.Constant) and function.returns.value is None):
        asked.add("Returns")
    if any(isinstance(node, ast.Raise) for node in ast.walk(function)):
        asked.add("Raises")
    return asked


def test_reckoning_functions_are_told_in_full():
    """Parameters, Returns, Raises, Source and Examples, as far as the function has them."""
    found = []
    for module in house_modules():
        if not module.name.startswith(RECKONING) or module.name in FACTS_ONLY:
            continue
        for function in public_functions(module):
            missing = asked_sections(function) - sections_of(ast.get_docstring(function) or "")
            if missing:
                found.append(
                    f"{module.at(function.lineno)}: {function.name} lacks {', '.join(sorted(missing))}"
                )
    assert found == []


def test_every_module_says_what_it_is():
    """The first line of a module is a sentence."""
    found = []
    for module in [*house_modules(), *packaging_modules(), *modules_of_tests()]:
        docstring = ast.get_docstring(module.tree) or ""
        first = docstring.split("\n\n")[0].rstrip()
        if not first.endswith((".", ":")):
            found.append(f"{module.at(1)}: {first!r}")
    assert found == []


def test_every_test_says_what_it_shows():
    """A test's name is a sentence, and its docstring says what a keeper would notice."""
    found = [
        f"{module.at(function.lineno)}: {function.name}"
        for module in modules_of_tests()
        if module.path.name.startswith("test_")
        for function in functions_of(module)
        if function.name.startswith("test_") and not ast.get_docstring(function)
    ]
    assert found == []
