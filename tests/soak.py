"""Run random layouts by the thousand: `python -m tests.soak --cases 100000 --seed 1`.

Every case is read and solved at peak flow; one in `--fly-every` is flown as well, and one in
`--examine-every` goes through every check. Stopped and started again with the same options it
goes on where it was. Failing cases are written as layout files.
"""

import argparse
import json
import multiprocessing
import os
import signal
import sys
import time
import traceback
from pathlib import Path

from tests.properties.judged import Judged, judged
from tests.properties.making import layout_text

PATIENCE = 300  # a case that takes longer has failed [s]


def case_of(number, seed, fly_every, examine_every):
    """Run one case; what came of it as plain data."""
    text = layout_text(f"{seed} {number}")
    flown = number % fly_every == 0
    begun = time.perf_counter()
    signal.signal(signal.SIGALRM, _too_long)
    signal.alarm(PATIENCE)
    try:
        found = judged(text, fly=flown, thorough=number % examine_every == 0)
    except Exception as error:  # noqa: BLE001 - the soak exists to find these
        last = traceback.extract_tb(error.__traceback__)[-1]
        where = f"{Path(last.filename).name}:{last.lineno}"
        found = Judged("raised", (f"{type(error).__name__} at {where}: {error}",))
        found.seconds = time.perf_counter() - begun
    finally:
        signal.alarm(0)
    return {
        "case": number,
        "outcome": found.outcome,
        "wrong": list(found.wrong),
        "seconds": round(found.seconds, 3),
        "mass": found.mass,
        "volume": found.volume,
        "pressure": found.pressure,
        "moments": found.moments,
        "unconverged": found.unconverged,
    }


def _too_long(signum, frame):
    raise TimeoutError(f"not done after {PATIENCE} s")


def _work(job):
    return case_of(*job)


def run(options):
    """Run what has not been run yet; all results, those of earlier runs included."""
    folder = Path(options.into)
    folder.mkdir(parents=True, exist_ok=True)
    log = folder / f"seed-{options.seed}.jsonl"
    known = _known(log)
    left = [number for number in range(options.cases) if number not in known]
    jobs = ((n, options.seed, options.fly_every, options.examine_every) for n in left)
    begun = time.perf_counter()
    with log.open("a") as out, multiprocessing.Pool(options.workers) as pool:
        for done, result in enumerate(pool.imap_unordered(_work, jobs), 1):
            known[result["case"]] = result
            out.write(json.dumps(result) + "\n")
            out.flush()
            if result["wrong"]:
                text = layout_text(f"{options.seed} {result['case']}")
                (folder / f"failed-{options.seed}-{result['case']}.yaml").write_text(text)
            if done % 20 == 0 or done == len(left):
                _progress(done, len(left), known, time.perf_counter() - begun)
    return list(known.values())


def _known(log):
    if not log.exists():
        return {}
    rows = [json.loads(row) for row in log.read_text().splitlines() if row.endswith("}")]
    return {row["case"]: row for row in rows}


def _progress(done, count, known, seconds):
    failed = sum(bool(one["wrong"]) for one in known.values())
    words = f"{done}/{count}  {failed} failed  {done / seconds:.1f} cases/s"
    sys.stderr.write(words + ("\r" if sys.stderr.isatty() else "\n"))
    sys.stderr.flush()


def summary(results):
    """Figures of a soak in words."""
    outcomes = {}
    for one in results:
        outcomes[one["outcome"]] = outcomes.get(one["outcome"], 0) + 1
    slowest = max(results, key=lambda one: one["seconds"])
    failed = [one for one in results if one["wrong"]]
    rows = [
        f"cases                   {len(results)}",
        *(f"  {name:<21} {count}" for name, count in sorted(outcomes.items())),
        f"failures                {len(failed)}",
        f"slowest case            {slowest['seconds']:.1f} s (number {slowest['case']})",
        f"worst mass residual     {max(one['mass'] for one in results):.2g} of the fuel on board",
        f"states solved           {sum(one['moments'] for one in results)}",
        f"  without an answer     {sum(one['unconverged'] for one in results)}, with reasons",
        f"worst volume residual   {max(one['volume'] for one in results):.2g} of the largest flow",
        f"worst pressure residual {max(one['pressure'] for one in results):.2g} Pa",
    ]
    rows += [f"  {one['case']}: {one['wrong'][0][:150]}" for one in failed[:40]]
    return "\n".join(rows)


def main():
    """Read the options, run, print the summary; exit code 1 if a case failed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=os.cpu_count())
    parser.add_argument("--fly-every", type=int, default=4)
    parser.add_argument("--examine-every", type=int, default=40)
    parser.add_argument("--into", default="build/soak", help="folder for results and failing cases")
    results = run(parser.parse_args())
    sys.stdout.write(summary(results) + "\n")
    sys.exit(1 if any(one["wrong"] for one in results) else 0)


if __name__ == "__main__":
    main()
