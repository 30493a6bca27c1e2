"""Small faults put into the laws, the march and the checks, to see which no test notices.

Run as `python -m tests.mutants --each 150 --seed 1`; `docs/mutation.md` says what it found. Each
fault lives in a process of its own, forked after the libraries are loaded; no file is changed.
"""

import argparse
import ast
import copy
import importlib
import inspect
import os
import random
import resource
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from plumbing.checks.registry import checks

ROOT = Path(__file__).parents[1]
SECONDS = 90  # of processor time; a fault that takes longer does not end, and is noticed
SKIPPED = ast.JoinedStr, ast.arguments  # sentences, and types and usual values of arguments

SWAPS: dict[type[ast.AST], tuple[type[ast.AST], ...]] = {
    ast.Lt: (ast.LtE, ast.Gt),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.Lt),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Add: (ast.Sub,),
    ast.Sub: (ast.Add,),
    ast.Mult: (ast.Div,),
    ast.Div: (ast.Mult,),
    ast.And: (ast.Or,),
    ast.Or: (ast.And,),
}
NAMES = {"min": "max", "max": "min", "minimum": "maximum", "maximum": "minimum"}

MARCH = ("march", "step", "moment", "hanging", "sealed", "starving", "endurance")
MARCHED = ("march", "flight", "sealed", "stranding")
BY_HAND = ("signs", "by_hand", "numbers", "high_point", "tee_legs", "materials")


@dataclass(frozen=True, slots=True)
class Mutant:
    """One fault: the place in its module, which of the faults possible there, and its words."""

    module: Path
    place: int
    choice: int
    line: int
    words: str

    def tree(self) -> ast.Module:
        """The module with the fault."""
        whole = ast.parse(self.module.read_text(encoding="utf-8"))
        change(list(places(whole))[self.place], self.choice)
        return ast.fix_missing_locations(whole)


def mutants(module: Path) -> Iterator[Mutant]:
    """Every fault of one step in a module: an operator, a number, a sign, the wrong extreme."""
    tree = ast.parse(module.read_text(encoding="utf-8"))
    for place, node in enumerate(places(tree)):
        for choice in range(2):
            words = change(copy.deepcopy(node), choice)
            if words:
                yield Mutant(module, place, choice, node.lineno, words)


def places(tree: ast.AST) -> Iterator[ast.expr]:
    """Expressions that can go wrong, without words, types and default values."""
    for child in ast.iter_child_nodes(tree):
        if isinstance(child, SKIPPED):
            continue
        if isinstance(
            child, ast.Compare | ast.BinOp | ast.BoolOp | ast.UnaryOp | ast.Constant | ast.Call
        ):
            yield child
        yield from places(child)


def change(node: ast.expr, choice: int) -> str:
    """Put the fault in, in place; say what it is, or nothing where there is no such fault."""
    was = ast.unparse(node)
    match node:
        case ast.Compare(ops=[op]) if choice < len(SWAPS.get(type(op), ())):
            node.ops = [SWAPS[type(op)][choice]()]
        case ast.BinOp(op=op) | ast.BoolOp(op=op) if choice < len(SWAPS.get(type(op), ())):
            node.op = SWAPS[type(op)][choice]()
        case ast.UnaryOp(op=ast.USub()) if not choice:
            node.op = ast.UAdd()
        case ast.UnaryOp(op=ast.Not()) if not choice:
            node.operand = ast.UnaryOp(ast.Not(), node.operand)
        case ast.Constant(value=int() | float() as value) if not choice:
            node.value = not value if isinstance(value, bool) else 2 * value or 1
        case ast.Call(func=ast.Name(id=name)) if not choice and name in NAMES:
            node.func = ast.Name(NAMES[name], ast.Load())
        case ast.Call(func=ast.Attribute(attr=name) as func) if not choice and name in NAMES:
            func.attr = NAMES[name]
        case _:
            return ""
    return f"`{was}` to `{ast.unparse(node)}`"


def put_in(mutant: Mutant) -> None:
    """Give the functions and numbers of the loaded module the fault, wherever they are in use."""
    module = importlib.import_module(name_of(mutant.module))
    before = dict(vars(module))
    exec(compile(mutant.tree(), str(mutant.module), "exec"), vars(module))
    for key, was in before.items():
        now = vars(module)[key]
        if now is was:
            continue
        if recoded(was, now):
            setattr(module, key, was)
            continue
        for other in [one for name, one in sys.modules.items() if name.startswith("plumbing")]:
            if vars(other).get(key) is was:
                setattr(other, key, now)


def recoded(was: object, now: object) -> bool:
    """Whether it is a function or a class, whose code the old one now has."""
    if isinstance(was, type) and isinstance(now, type):
        for key, method in vars(was).items():
            recoded(method, vars(now).get(key))
        return True
    was, now = getattr(was, "fget", was), getattr(now, "fget", now)
    was, now = inspect.unwrap(was), inspect.unwrap(now)
    if inspect.isfunction(was) and inspect.isfunction(now):
        was.__code__ = now.__code__
        return True
    return False


def name_of(module: Path) -> str:
    """Name of a module by its file."""
    return ".".join(module.relative_to(ROOT).with_suffix("").parts)


def noticed(mutant: Mutant | None, tests: tuple[str, ...]) -> bool:
    """Whether a test fails, or does not end, with the fault in place (or with none)."""
    child = os.fork()
    if not child:
        resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
        silent = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silent, 1)
        os.dup2(silent, 2)
        try:
            if mutant is not None:
                put_in(mutant)
            os._exit(int(pytest.main(["-x", "-q", "-n0", "-p", "no:cacheprovider", *tests])))
        except BaseException:  # noqa: BLE001  the module does not load: noticed
            os._exit(1)
    return os.waitpid(child, 0)[1] != 0


def floors() -> dict[str, list[Path]]:
    """Modules by floor."""
    package = ROOT / "plumbing"
    return {
        "laws": sorted((package / "physics").glob("[a-z]*.py")),
        "march": [package / "simulation" / f"{name}.py" for name in MARCH],
        "checks": sorted((package / "checks").glob("*/[a-z]*.py")),
    }


def tests_of(floor: str, module: Path) -> tuple[str, ...]:
    """The tests that concern a module, those most likely to fail first."""
    if floor == "march":
        return tuple(f"tests/simulation/test_{name}.py" for name in MARCHED)
    if floor == "laws":
        users = (ROOT / "tests").glob("[!p]*/test_*.py")
        stem = f"physics.{module.stem} import"
        return "tests/physics", *sorted(str(one) for one in users if stem in one.read_text("utf-8"))
    check = module.stem.replace("_", "-")
    hand = [f"test_{name}" for name in BY_HAND]
    files = [ROOT / "tests" / "checks" / f"{name}.py" for name in hand]
    used = [str(one) for one in files if one.exists() and f'"{check}"' in one.read_text("utf-8")]
    every = ("tests/checks/test_limits.py", "tests/checks/test_examples.py")
    return *every, *used, "-k", " or ".join((check, *hand))


def main() -> None:
    """Run a sample and say what was noticed, floor by floor."""
    asks = argparse.ArgumentParser(description=__doc__)
    asks.add_argument("--each", type=int, default=150, help="faults a floor")
    asks.add_argument("--seed", type=int, default=1)
    asks.add_argument("--floors", nargs="*", default=list(floors()))
    asked = asks.parse_args()
    os.chdir(ROOT)
    checks()  # all modules are loaded before the forks
    sound: dict[tuple[str, ...], bool] = {}
    for floor in asked.floors:
        every = [one for module in floors()[floor] for one in mutants(module)]
        random.Random(asked.seed).shuffle(every)
        say(f"{floor}: {len(every)} faults can be made, {min(asked.each, len(every))} are tried")
        for one in every[: asked.each]:
            tests = tests_of(floor, one.module)
            if noticed(one, tests):
                if tests not in sound:
                    sound[tests] = not noticed(None, tests)
                outcome = "noticed" if sound[tests] else "not tried, tests fail without it"
            else:
                outcome = "survived"
            say(f"{outcome} | {one.module.relative_to(ROOT / 'plumbing')}:{one.line} | {one.words}")


def say(line: str) -> None:
    """Write a line at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
