"""How long a trial of a thousand specimens takes to read; the reference is the same job without any.

The difference is what the specimens cost: belief in every soil group, suspicion of organic matter, each specimen's corrections
and curves.
"""

from __future__ import annotations

from importlib.resources import files
from statistics import median
from time import process_time

import numpy as np

from earthfast.job import read_job
from earthfast.stages.try_ import try_for

SPECIMENS, TO_A_MIX, REPEATS = 1000, 4, 3
BUDGET = 1.5  # s of processor time above the reference
JOB = files("earthfast.job") / "demonstrations" / "fernhill-allotments.toml"


def specimen(place, generator):
    """An invented cube: strength in proportion to dose, less at 7 days, scattered by an eighth."""
    dose, early = generator.choice([4, 6, 8, 10]), place % 2
    load = 4.0 * dose * np.exp(0.12 * generator.standard_normal()) * (0.77 if early else 1.0)
    return (
        f'\n[[trial.specimen]]\nkind = "cube"\nlength = "100 mm"\ndose = "{dose} %"\nbatch = "{place // TO_A_MIX}"\n'
        f'age = "{7 if early else 28} days"\nsoaked = true\nfailure_load = "{load:.4g} kN"\n'
    )


def seconds(loaded):
    spent = []
    for _ in range(REPEATS + 1):
        begun = process_time()
        try_for(loaded)
        spent.append(process_time() - begun)
    return median(spent[1:])


def main():
    text, generator = JOB.read_text(encoding="utf-8"), np.random.default_rng(1)
    bare = seconds(read_job(text))
    full = seconds(read_job(text + "".join(specimen(place, generator) for place in range(SPECIMENS))))
    print(f"no specimens              {bare:6.3f} s")
    print(f"{SPECIMENS} specimens            {full:6.3f} s, budget {BUDGET} s more")
    if full - bare > BUDGET:
        raise SystemExit("a budget was not met")


if __name__ == "__main__":
    main()
