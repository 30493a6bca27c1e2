"""The package as it is handed out: nothing misses in it, and it runs where nothing else is."""

import shutil
import subprocess
import sys
import zipfile

import pytest

PARTS = ["plumbing", "pyproject.toml", "README.md", "docs"]
DATA = [".css", ".csv", ".html", ".js", ".svg", ".toml", ".ttf", ".typ", ".txt", ".yaml"]


def call(*arguments, cwd, codes=(0,)):
    """Run a program that must end with one of these codes."""
    done = subprocess.run(
        [str(one) for one in arguments], cwd=cwd, capture_output=True, text=True, check=False
    )
    assert done.returncode in codes, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(root, tmp_path_factory):
    """The wheel, built from a copy of what it is made of."""
    folder = tmp_path_factory.mktemp("wheel")
    for name in PARTS:
        if (root / name).is_dir():
            ignored = shutil.ignore_patterns("__pycache__")
            shutil.copytree(root / name, folder / "source" / name, ignore=ignored)
        else:
            shutil.copy(root / name, folder / "source" / name)
    pip = [sys.executable, "-m", "pip", "wheel", ".", "--no-deps", "-q", "-w", folder]
    call(*pip, cwd=folder / "source")
    (found,) = folder.glob("plumbing-*.whl")
    return found


def test_data_has_a_pattern(root):
    """Every kind of file in the package that is not code is one that the build knows."""
    kinds = {
        path.suffix
        for path in (root / "plumbing").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert kinds - {".py", ".typed"} <= set(DATA)
    text = (root / "pyproject.toml").read_text(encoding="utf-8")
    assert all(f'"**/*{ending}"' in text for ending in DATA)
    assert (root / "plumbing" / "py.typed").exists()


@pytest.mark.wheel
def test_wheel_is_complete(root, wheel):
    """The wheel holds every file of the package, and none but those."""
    with zipfile.ZipFile(wheel) as archive:
        inside = {name for name in archive.namelist() if ".dist-info/" not in name}
    source = {
        path.relative_to(root).as_posix()
        for path in (root / "plumbing").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert inside == source


@pytest.mark.wheel
def test_wheel_checks_a_layout(root, wheel, tmp_path):
    """Set up from the wheel alone, the program checks a layout and writes a dossier."""
    call(sys.executable, "-m", "venv", tmp_path / "venv", cwd=tmp_path)
    here = tmp_path / "venv" / "bin"
    call(here / "pip", "install", "-q", wheel, cwd=tmp_path)
    layout = root / "layouts" / "single-main.yaml"
    said = call(here / "plumbing", "check", layout, cwd=tmp_path, codes=(0, 1))
    assert "Traceback" not in said
    assert "findings" in said.lower() or "advice" in said.lower()
    call(here / "plumbing", "report", layout, "-o", "dossier.pdf", cwd=tmp_path, codes=(0, 1))
    assert (tmp_path / "dossier.pdf").read_bytes().startswith(b"%PDF")
