"""Run every benchmark, or those named, each in a process of its own: `python -m benchmarks [NAME ...]`."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

FOLDER = Path(__file__).parent
STUDIES = {"coverage_of_bands"}  # write a page of the documentation and take minutes; run only when named


def main() -> int:
    listed = sorted(path.stem for path in FOLDER.glob("*.py") if not path.stem.startswith("_"))
    wanted = sys.argv[1:] or [name for name in listed if name not in STUDIES]
    unknown = [name for name in wanted if name not in listed]
    if unknown:
        print(f"no benchmark {', '.join(unknown)}; there are {', '.join(listed)}", file=sys.stderr)
        return 2
    missed = []
    for name in wanted:
        print(f"\n== {name}", flush=True)
        if subprocess.run([sys.executable, FOLDER / f"{name}.py"], check=False).returncode:
            missed.append(name)
    print(f"\n{'over budget: ' + ', '.join(missed) if missed else 'all within budget'}")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
