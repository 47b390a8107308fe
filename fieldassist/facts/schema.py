"""The published schema of facts, made from their model."""

from __future__ import annotations

from typing import Any

from fieldassist.facts.model import FORMAT, DayFacts


def schema() -> dict[str, Any]:
    """JSON Schema 2020-12 of what `facts_of` gives."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:fieldassist:facts:{FORMAT}",
        **DayFacts.model_json_schema(mode="serialization"),
    }
