"""Fly a million variants of the chained pair: `python -m tests.benchmarks.million`.

Prints time, the most memory of each process so far, and a digest of all results, which is the
same for any number of workers.
"""

import argparse
import hashlib
import os
import resource
import sys
import time
from dataclasses import fields
from pathlib import Path

import numpy as np

import plumbing
from plumbing.network import survey
from plumbing.simulation.flight import profile_for
from plumbing.studies.variants import Variants, fly_variants

LAYOUT = Path(__file__).parents[2] / "layouts" / "chained-pair.yaml"
TOLD = 100  # chunks between two lines


def drawn(layout, count):
    """Variants with flow, temperature, fill and dirt at random, the same each time."""
    random = np.random.default_rng(1)
    own = np.array([tank.fill for tank in layout.tanks.values()])
    return Variants(
        flow=random.uniform(0.8, 1.2, count),
        celsius=random.uniform(-15.0, 40.0, count),
        fill=own * random.uniform(0.3, 1.0, (count, len(own))),
        dirt=random.uniform(1.0, 4.0, count),
    )


def most_memory():
    """Most memory of this process and its children so far [MB]; Linux alone tells."""
    here = os.getpid()
    children = Path(f"/proc/{here}/task/{here}/children").read_text().split()
    lines = [Path(f"/proc/{one}/status").read_text() for one in (here, *children)]
    return [round(int(text.split("VmHWM:")[1].split()[0]) / 1024) for text in lines]


def main():
    """Read the options, fly, print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--variants", type=int, default=1_000_000)
    parser.add_argument("--workers", type=int, default=os.cpu_count())
    options = parser.parse_args()
    layout = plumbing.load(LAYOUT)
    variants = drawn(layout, options.variants)
    course = (layout, survey(layout), profile_for(layout), variants, options.workers)
    digest, done, begun = hashlib.sha256(), 0, time.perf_counter()
    for chunk, fates in enumerate(fly_variants(*course)):
        for field in fields(fates):
            digest.update(np.ascontiguousarray(getattr(fates, field.name)).tobytes())
        done += len(fates.endurance)
        if chunk % TOLD == 0:
            seconds = time.perf_counter() - begun
            sys.stdout.write(f"{done} flown in {seconds:.1f} s, MB {most_memory()}\n")
            sys.stdout.flush()
    seconds = time.perf_counter() - begun
    used = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    busy = sum(one.ru_utime + one.ru_stime for one in used)
    sys.stdout.write(
        f"{done} flown by {options.workers} workers in {seconds:.1f} s, {busy:.1f} s of processor "
        f"time; digest {digest.hexdigest()[:16]}\n"
    )


if __name__ == "__main__":
    main()
