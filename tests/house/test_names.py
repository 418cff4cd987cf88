"""Names and sizes: nothing that pytest collects by mistake, no module or function that holds two nouns."""

import ast

from tests.support.sources import Module, functions_of, house_modules, modules_of_tests, packaging_modules

# Lines after which STYLE looks for the missing noun; docstrings of functions are not counted.
LONGEST_MODULE = 400
LONGEST_FUNCTION = 60
# A released migration is a frozen list of tables and columns, in one piece so that it can be read as one.
FROZEN = "hilum.catalogue.migrations.versions."
# Only these write to a terminal.
MAY_PRINT = ("hilum.commands",)


def shipped() -> list[Module]:
    """Give everything outside tests/."""
    return [*house_modules(), *packaging_modules()]


def measured() -> list[Module]:
    """Give what is held to the limits of size."""
    return [module for module in shipped() if not module.name.startswith(FROZEN)]


def test_nothing_outside_tests_looks_like_a_test():
    """No class begins with Test and no function with test: pytest collects what a test module imports."""
    found = [
        f"{module.at(node.lineno)}: {node.name}"
        for module in shipped()
        for node in ast.walk(module.tree)
        if (isinstance(node, ast.ClassDef) and node.name.startswith("Test"))
        or (isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and node.name.startswith("test"))
    ]
    assert found == []


def test_modules_are_short():
    """A module is one noun; at 400 lines there are two in it."""
    found = [
        f"{module.at(1)} has {lines} lines"
        for module in [*measured(), *modules_of_tests()]
        if (lines := module.text.count("\n")) > LONGEST_MODULE
    ]
    assert found == []


def body_lines(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Count a function's lines without its decorators and its docstring."""
    docstring = function.body[0] if ast.get_docstring(function, clean=False) is not None else None
    told = docstring.end_lineno - docstring.lineno + 1 if docstring and docstring.end_lineno else 0
    return (function.end_lineno or function.lineno) - function.lineno + 1 - told


def test_functions_are_short():
    """A function longer than a screen does two things."""
    found = [
        f"{module.at(function.lineno)}: {function.name} has {body_lines(function)} lines"
        for module in measured()
        for function in functions_of(module)
        if body_lines(function) > LONGEST_FUNCTION
    ]
    assert found == []


def test_only_commands_and_scripts_print():
    """The rooms below hand results up; only the command line and packaging/ write to the terminal."""
    found = [
        module.at(node.lineno)
        for module in house_modules()
        if not module.name.startswith(MAY_PRINT)
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "print"
    ]
    assert found == []
