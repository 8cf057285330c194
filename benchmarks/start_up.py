"""How long the program takes from a standing start, in fresh processes, start-up included.

The reference in the same run is an interpreter that does nothing, and one that imports the numerical libraries the program
cannot do without: what is above them is ours to shorten.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from importlib.resources import as_file, files
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

REPEATS = 7
JOB = "fernhill-allotments.toml"
EARTHFAST = Path(sys.executable).with_name("earthfast")
HELP_BUDGET, CHOOSE_BUDGET = 0.15, 2.0  # s, on two cores


def seconds(*command):
    """Median of repeated runs, the first of which warms the disk and does not count."""
    spent = []
    for _ in range(REPEATS + 1):
        begun = perf_counter()
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        spent.append(perf_counter() - begun)
    return median(spent[1:])


def main():
    with TemporaryDirectory() as folder:
        job = Path(folder) / JOB
        with as_file(files("earthfast.job") / "demonstrations" / JOB) as source:
            shutil.copyfile(source, job)
        bare = seconds(sys.executable, "-c", "pass")
        libraries = seconds(sys.executable, "-c", "import numpy, scipy.special, pydantic, click")
        shown = seconds(EARTHFAST, "--help")
        chosen = seconds(EARTHFAST, "choose", job)
    print(f"an interpreter that does nothing      {bare:6.3f} s")
    print(f"one that imports the libraries        {libraries:6.3f} s")
    print(f"earthfast --help                      {shown:6.3f} s, budget {HELP_BUDGET} s")
    print(f"earthfast choose, allotment job       {chosen:6.3f} s, budget {CHOOSE_BUDGET} s")
    if shown > HELP_BUDGET or chosen > CHOOSE_BUDGET:
        raise SystemExit("a budget was not met")


if __name__ == "__main__":
    main()
