"""Tests of fieldassist. SITE: the plan of the site that they share."""

from pathlib import Path

SITE = Path(__file__).parent / "site.yaml"
