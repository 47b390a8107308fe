"""The page itself: where it lies, and the two hashes by which it allows its own script and style and nothing else."""

from __future__ import annotations

import base64
import hashlib
import re

from fieldassist.places import shipped

PAGE = shipped("assets") / "verify.html"
_PARTS = {
    "script": re.compile(r"<script>(.*?)</script>", re.DOTALL),
    "style": re.compile(r"<style>(.*?)</style>", re.DOTALL),
}


def part(page: str, name: str) -> str:
    """The page's one script, or its one style."""
    (found,) = _PARTS[name].findall(page)
    return str(found)


def with_hashes(page: str) -> str:
    """The page with the hashes of what is in it (W3C, Content Security Policy Level 3, 2.3.1)."""
    for name in _PARTS:
        digest = base64.b64encode(hashlib.sha256(part(page, name).encode()).digest()).decode()
        page = re.sub(rf"({name}-src )'sha256-[^']*'", lambda found, d=digest: f"{found[1]}'sha256-{d}'", page)
    return page
