"""The project's own source files as parsed modules, for the checks of the house."""

import ast
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
HOUSE = ROOT / "desktop"


@dataclass(frozen=True)
class Module:
    """One source file: its dotted name (empty for a script), its text and its syntax tree."""

    path: Path
    name: str
    text: str
    tree: ast.Module

    def at(self, line: int) -> str:
        """Give a place in this file as an editor understands it."""
        shown = self.path.relative_to(ROOT) if self.path.is_relative_to(ROOT) else self.path
        return f"{shown.as_posix()}:{line}"


@dataclass(frozen=True)
class Import:
    """One imported module and the line it is imported in."""

    target: str
    line: int


def modules_in(folder: Path, source_root: Path | None = None) -> Iterator[Module]:
    """Give every Python file below a folder, parsed; names count from `source_root`."""
    for path in sorted(folder.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        yield Module(path, _dotted(path, source_root), text, ast.parse(text, str(path)))


def _dotted(path: Path, source_root: Path | None) -> str:
    if source_root is None:
        return ""
    parts = list(path.relative_to(source_root).with_suffix("").parts)
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def house_modules() -> list[Module]:
    """Give the modules of the program itself."""
    return list(modules_in(HOUSE / "hilum", HOUSE))


def modules_of_tests() -> list[Module]:
    """Give the modules below tests/."""
    return list(modules_in(ROOT / "tests", ROOT))


def packaging_modules() -> list[Module]:
    """Give the scripts of packaging/."""
    return list(modules_in(ROOT / "packaging"))


def imports_of(module: Module) -> Iterator[Import]:
    """Give every import of a module: at the top, in functions, relative, by importlib with a plain name."""
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            yield from (Import(alias.name, node.lineno) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = _absolute(module, node)
            # `from hilum import labels` imports a room, `from hilum.labels import stocks` a module of it.
            yield from (Import(f"{base}.{alias.name}", node.lineno) for alias in node.names)
        elif isinstance(node, ast.Call) and _is_import_call(node):
            names = [word.value for word in node.args[:1] if isinstance(word, ast.Constant)]
            yield from (Import(name, node.lineno) for name in names if isinstance(name, str))


def _absolute(module: Module, node: ast.ImportFrom) -> str:
    if not node.level:
        return node.module or ""
    package = module.name.split(".")
    if module.path.name != "__init__.py":
        package = package[:-1]
    package = package[: len(package) - node.level + 1]
    return ".".join([*package, *([node.module] if node.module else [])])


def _is_import_call(node: ast.Call) -> bool:
    name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
    return name in ("import_module", "__import__")


def functions_of(module: Module) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    """Give every function and method of a module, nested ones too."""
    for node in ast.walk(module.tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node


def project_files() -> list[Path]:
    """Give every file that is or would be part of the project: tracked, or new and not ignored."""
    if not (ROOT / ".git").exists() or shutil.which("git") is None:
        return _files_of_an_archive()
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    names = listed.stdout.decode("utf-8").split("\0")
    return [ROOT / name for name in names if name and (ROOT / name).is_file()]


def _files_of_an_archive() -> list[Path]:
    """Give the files of an unpacked archive, which has no list of them, without what work leaves behind."""
    made = ("__pycache__", "build", "dist", "out")
    return [
        path
        for path in ROOT.rglob("*")
        if path.is_file()
        and not any(part in made or part.startswith(".") for part in path.relative_to(ROOT).parts[:-1])
    ]
