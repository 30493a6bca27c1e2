"""What the house's tests share: the tree, the command line in this process and in a new one."""

import os
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from plumbing.cli import main

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="session")
def root():
    """The folder of the project."""
    return ROOT


@cache
def _called(arguments: tuple[str, ...]) -> Result:
    return CliRunner().invoke(main, list(arguments))


@pytest.fixture(scope="session")
def called():
    """The command line called in this process; a call seen before is not made again."""

    def call(*arguments: object) -> Result:
        return _called(tuple(str(one) for one in arguments))

    return call


@pytest.fixture(scope="session")
def call():
    """The command line called in this process, anew each time."""

    def call(*arguments: object) -> Result:
        return CliRunner().invoke(main, [str(one) for one in arguments])

    return call


@pytest.fixture(scope="session")
def fresh():
    """Python in a new process, from the project's folder."""

    def run(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, *arguments],
            cwd=ROOT,
            env={**os.environ, **environment},
            capture_output=True,
            text=True,
            timeout=300,
            check=False,
        )

    return run
