"""How names are written on a screen: those of people and of areas, as a crew writes them down in any letters."""

from __future__ import annotations


def capital(text: str) -> str:
    """With a capital letter first; the others as they are.

    >>> capital("shower wall"), capital("ADA ramp")
    ('Shower wall', 'ADA ramp')
    """
    return text[:1].upper() + text[1:]


def person(name: str) -> str:
    """A person's name; one that was written without capitals gets them.

    >>> person("rosa"), person("Ana McVeigh")
    ('Rosa', 'Ana McVeigh')
    """
    return name.title() if name.islower() else name
