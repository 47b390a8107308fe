"""The facts of a day, and their published schema."""

from fieldassist.places import shipped

SCHEMA = shipped("assets") / "facts.schema.json"
