"""Install the built wheel where the source cannot be reached, and use it: `python tests/wheel_check.py DIST`."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import venv
from pathlib import Path
from tempfile import TemporaryDirectory
from zipfile import ZipFile

ROOT = Path(__file__).resolve().parent.parent
UV = Path(sys.executable).with_name("uv")
LOCK = ROOT / "requirements" / "run.txt"
SOURCE = ROOT / "src" / "earthfast"
LEFT_OUT = {".pyc"}
DEMONSTRATION = "from importlib.resources import files; print(files('earthfast.job') / 'demonstrations')"
JOB = "fernhill-allotments.toml"


def main(folder: Path) -> None:
    (wheel,) = folder.resolve().glob("*.whl")
    whole(wheel)
    with TemporaryDirectory() as place:
        outside = Path(place)
        python = installed(wheel, outside / "venv")
        used(python, outside)
    sys.stdout.write(f"{wheel.name} works with the source out of reach\n")


def whole(wheel: Path) -> None:
    """Every file of the package, whatever its kind, and the licence are in the wheel."""
    with ZipFile(wheel) as archive:
        names = set(archive.namelist())
    files = {path for path in SOURCE.rglob("*") if path.is_file() and path.suffix not in LEFT_OUT}
    missing = {f"earthfast/{path.relative_to(SOURCE).as_posix()}" for path in files} - names
    assert not missing, f"not in the wheel: {sorted(missing)}"
    assert any(name.endswith("/licenses/LICENSE") for name in names), "no licence in the wheel"


def installed(wheel: Path, place: Path) -> Path:
    """A fresh environment with the locked dependencies and the wheel; its interpreter."""
    venv.create(place, symlinks=True)
    python = place / "bin" / "python"
    run(UV, "pip", "sync", "--quiet", "--require-hashes", "--python", python, LOCK, within=place)
    run(UV, "pip", "install", "--quiet", "--no-deps", "--python", python, wheel, within=place)
    return python


def used(python: Path, outside: Path) -> None:
    """The program answers, and does so from the wheel."""
    program = python.with_name("earthfast")
    home = run(python, "-c", "import earthfast; print(earthfast.__file__)", within=outside)
    assert not Path(home).is_relative_to(ROOT), home
    assert "choose" in run(program, "--help", within=outside)
    demonstrations = Path(run(python, "-c", DEMONSTRATION, within=outside))
    shutil.copyfile(demonstrations / JOB, outside / JOB)
    answer = json.loads(run(program, "choose", JOB, "--json", within=outside))
    assert all(area["chosen"] for area in answer["areas"]), answer["headline"]
    built = json.loads(run(program, "build", JOB, "--into", "sheets", "--json", within=outside))
    assert all((outside / name).stat().st_size > 0 for name in built["files"])


def run(*command: Path | str, within: Path) -> str:
    environment = {
        key: value for key, value in os.environ.items() if not key.startswith(("PYTHON", "VIRTUAL_ENV"))
    }
    done = subprocess.run(
        [str(word) for word in command],
        cwd=within,
        env=environment,
        check=True,
        stdout=subprocess.PIPE,
        text=True,
    )
    return done.stdout.strip()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
