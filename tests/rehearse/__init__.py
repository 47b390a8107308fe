"""Scripts that are played, with a plan and a checklist of their own."""

from pathlib import Path

SCRIPTS = Path(__file__).parent
PLAN, CHECKLISTS = SCRIPTS / "plan.yaml", SCRIPTS / "checklists"
