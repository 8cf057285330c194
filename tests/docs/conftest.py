from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
if str(ROOT) not in sys.path:
    sys.path.insert(0, str(ROOT))  # `docs` is a package of the repository, not of the wheel
