"""One name for one thing: a public name of a type stands for one of them in the whole program."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

import fieldassist

PACKAGE = Path(fieldassist.__file__).parent


def types_of(source: str) -> set[str]:
    """Public classes and type aliases that a module defines: capitalised names, constants left out."""
    found = set()
    for node in ast.parse(source).body:
        if isinstance(node, ast.ClassDef):
            found.add(node.name)
        elif isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
            found.add(node.targets[0].id)
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            found.add(node.target.id)
    return {name for name in found if name[:1].isupper() and not name.isupper()}


def test_a_public_name_is_given_to_one_type_only() -> None:
    places: dict[str, list[str]] = defaultdict(list)
    for path in sorted(PACKAGE.rglob("*.py")):
        for name in types_of(path.read_text(encoding="utf-8")):
            places[name].append(str(path.relative_to(PACKAGE)))
    assert len(places) > 300
    assert {name: where for name, where in places.items() if len(where) > 1} == {}


def test_classes_and_aliases_are_seen_and_constants_are_not() -> None:
    assert types_of("class Day: ...\nUnits = str\nKIND: int = 1\n_Own = int\nTold: type = str\n") == {
        "Day",
        "Units",
        "Told",
    }
