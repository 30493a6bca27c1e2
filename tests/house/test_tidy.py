"""The house is tidy: small files, short functions, plain words, sources beside numbers."""

import ast
import csv
import re

import pytest

LINES = 400
BODY = 60

FORBIDDEN = {
    "a path of one machine": r"(?<![\w.:/])/(?:home|root|tmp|Users|work|mnt|var/folders)/\w",
    "a leftover": r"\b(?:TODO|FIXME|XXX|HACK)\b",
    "a mood": r"\b(?:simply|obviously|just works|magic|awesome|blazing|robust|seamless)\b",
    "a check's code": r"\b[A-Z]{2,4}\d{3}\b(?=:)",
    "a bare except": r"^\s*except:",
    "a call to print": r"^\s*print\(",
}


def modules(root):
    """Every module of the package."""
    return sorted((root / "plumbing").rglob("*.py"))


def functions(path):
    """Every function of a module."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    kinds = (ast.FunctionDef, ast.AsyncFunctionDef)
    return [node for node in ast.walk(tree) if isinstance(node, kinds)]


def body_lines(node):
    """Lines of a function without its head and docstring."""
    body = node.body[1:] if ast.get_docstring(node) else node.body
    return body[-1].end_lineno - body[0].lineno + 1 if body else 0


def test_modules_are_short(root):
    """No module is longer than 400 lines."""
    sizes = {
        path.relative_to(root).as_posix(): len(path.read_text(encoding="utf-8").splitlines())
        for path in modules(root)
    }
    assert {name: size for name, size in sizes.items() if size > LINES} == {}


def test_functions_are_short(root):
    """No function's body is longer than 60 lines."""
    long = {
        f"{path.relative_to(root).as_posix()}: {node.name}": body_lines(node)
        for path in modules(root)
        for node in functions(path)
        if body_lines(node) > BODY
    }
    assert long == {}


@pytest.mark.parametrize("what", FORBIDDEN)
def test_nothing_forbidden(root, what):
    """No text of the project holds what does not belong there."""
    pages = [root / "README.md", root / "DEVELOPERS.md", *(root / "docs").glob("*.md")]
    texts = [*modules(root), *(root / "layouts").glob("*.yaml")]
    texts += [] if what in ("a bare except", "a call to print") else pages
    pattern = re.compile(FORBIDDEN[what], re.MULTILINE)
    found = [
        f"{path.relative_to(root).as_posix()}: {match[0].strip()}"
        for path in texts
        for match in pattern.finditer(path.read_text(encoding="utf-8"))
    ]
    assert found == []


@pytest.mark.parametrize("floor", ["physics", "geometry"])
def test_functions_of_numbers_say_their_units(root, floor):
    """A public function of the low floors that takes or gives numbers has units in brackets."""
    silent = [
        f"{path.stem}.{node.name}"
        for path in sorted((root / "plumbing" / floor).glob("*.py"))
        for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef)
        and not node.name.startswith("_")
        and _numbers(node)
        and not re.search(r"\[[^\]]+\]", ast.get_docstring(node) or "")
    ]
    assert silent == []


def _numbers(node):
    """Whether a function's result is made of floats."""
    result = ast.unparse(node.returns) if node.returns else ""
    return bool(re.search(r"\b(float|Array|ArrayLike)\b", result))


def test_every_public_function_has_a_docstring(root):
    """What a module offers, it explains."""
    silent = [
        f"{path.relative_to(root).as_posix()}: {node.name}"
        for path in modules(root)
        for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        and not node.name.startswith("_")
        and not (node.name == "find" and "checks" in path.parts)
        and not ast.get_docstring(node)
    ]
    assert silent == []


def test_every_table_names_its_sources(root):
    """Every row of every CSV table says where it comes from."""
    tables = sorted((root / "plumbing").rglob("*.csv"))
    assert tables
    for path in tables:
        with path.open(encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        assert rows, path.name
        assert all((row.get("source") or "").strip() for row in rows), path.name


def test_every_test_says_what_is_true(root):
    """Every test has one docstring sentence."""
    silent = [
        f"{path.relative_to(root).as_posix()}: {node.name}"
        for path in sorted((root / "tests").rglob("test_*.py"))
        for node in functions(path)
        if node.name.startswith("test_") and not ast.get_docstring(node)
    ]
    assert silent == []
