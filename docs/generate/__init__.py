"""Pages made from the program, so that they cannot say anything else than it does.

`python -m docs.generate` writes them all and retells the runs shown in pages written by hand, which runs their
commands; with `--quick` it leaves those alone.
"""

from docs.generate.pages import PAGES, ROOT
from docs.generate.retelling import retold, told_pages

__all__ = ["PAGES", "ROOT", "retold", "told_pages"]
