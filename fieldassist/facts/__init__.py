"""A day as data for other programs: one published shape, drawn from what state, standing and open points say."""

from fieldassist.facts.build import facts_of

__all__ = ["facts_of"]
