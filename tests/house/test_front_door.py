"""The front door is narrow, and opening it costs little."""

import inspect
import json

import plumbing
from plumbing.cli import COMMANDS

VERBS = [
    "asbuilt", "bench_form", "check", "compare", "draw", "explain", "faults", "fill", "fly", "jigs",
    "load", "log", "logbook", "park", "remedies", "save_drawing", "schedules", "schema", "size",
    "solids", "spread", "starter", "study", "templates", "tilt",
]  # fmt: skip
HEAVY = [
    "contourpy", "ezdxf", "fluids", "networkx", "numpy", "pint", "pygraphviz", "rich",
    "ruamel", "scipy", "trimesh", "typst",
]  # fmt: skip

MODULES = "import sys, json; print(json.dumps(sorted(sys.modules)))"


def loaded_by(fresh, code):
    """Names of all modules loaded after some code ran in a new process."""
    done = fresh("-c", f"{code}\n{MODULES}")
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout.splitlines()[-1])


def test_front_door_is_exactly_the_verbs():
    """What the package exports is the list of verbs and nothing else."""
    assert plumbing.__all__ == VERBS
    assert dir(plumbing) == VERBS
    assert all(callable(getattr(plumbing, verb)) for verb in VERBS)


def test_verbs_are_documented():
    """Every verb says what it does, in one line first."""
    for verb in VERBS:
        words = inspect.getdoc(getattr(plumbing, verb)) or ""
        assert words.partition("\n")[0].endswith("."), verb


def test_import_loads_nothing_heavy(fresh):
    """`import plumbing` loads no library but the standard one and nothing of its own."""
    names = loaded_by(fresh, "import plumbing")
    assert not [name for name in HEAVY if name in names]
    own = [name for name in names if name.startswith("plumbing")]
    assert own == ["plumbing"]


def test_help_loads_nothing_heavy(fresh):
    """`plumbing --help` answers without any of the libraries that compute or draw."""
    code = "\n".join(
        [
            "import contextlib, io, sys",
            "from plumbing.cli import main",
            "with contextlib.suppress(SystemExit), contextlib.redirect_stdout(io.StringIO()):",
            "    main(['--help'])",
        ]
    )
    names = loaded_by(fresh, code)
    assert not [name for name in HEAVY if name in names]
    assert not {f"plumbing.cli.{name}" for name in COMMANDS} & set(names)
