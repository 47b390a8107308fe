"""`python -m tests.facts write` writes the published schema of facts anew, from their model."""

from __future__ import annotations

import json
import sys

from fieldassist.facts.schema import schema
from tests.facts import SCHEMA

if sys.argv[1:] != ["write"]:
    sys.exit(__doc__)
SCHEMA.write_text(json.dumps(schema(), ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
