"""Reading starts quickly: nothing heavy is imported before it is needed."""

import subprocess
import sys

import pytest

HEAVY = ("pint", "ruamel", "trimesh", "networkx", "scipy", "pygraphviz", "jsonschema")


@pytest.mark.parametrize(
    "work",
    [
        "import plumbing.layout as p; p.starter('single-main'); p.schema()",
        "import plumbing.layout as p; p.read(p.starter('chained-pair'))",
    ],
)
def test_nothing_heavy(work):
    """Reading a layout in the usual units imports none of the heavy libraries."""
    code = f"import sys; {work}; print([m for m in {HEAVY} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_front_door():
    """The floor shows what it is for, and no more."""
    import plumbing.layout as floor

    assert floor.__all__ == ["STARTERS", "load", "names_in", "read", "schema", "starter"]
