"""Write every generated page."""

from __future__ import annotations

import sys

from docs.generate import PAGES, ROOT, retold, told_pages

QUICK = "--quick"


def main() -> None:
    """Write the pages, and retell the runs they show unless asked to be quick."""
    for name, page in PAGES.items():
        (ROOT / name).write_text(page(), encoding="utf-8")
    if QUICK in sys.argv:
        return
    for path in told_pages():
        path.write_text(retold(path.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    main()
