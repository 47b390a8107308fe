"""python -m tests.browsers [hashes | cases FOLDER]: the page in every browser that is here.

hashes: write the page's hashes of its own script and style anew, after it was edited.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from tests.browsers.cases import Case, all_cases
from tests.browsers.driver import Browser, installed
from tests.browsers.page import PAGE, with_hashes

# Without the browser's own cryptography: what stands in for it is tried on all but what only the browser can check.
WAYS = ("", "#plain")


def faults(browser: Browser, way: str, case: Case) -> Iterator[str]:
    """What the page should have said of a case and did not."""
    browser.open(PAGE.as_uri() + way)
    browser.until("document.body?.dataset.state === 'ready'")
    for picker, files in (("#roster", (case.roster,) if case.roster else ()), ("#file", case.files)):
        if files:
            browser.give(picker, files)
            browser.until("document.body.dataset.state === 'done'")
    if case.key:
        browser.ask(f"(document.getElementById('key').value = {case.key!r},"
                    " document.getElementById('key').dispatchEvent(new Event('input')))")  # fmt: skip
        browser.until("document.getElementById('key-is').textContent !== 'None is given yet.'")
        browser.until("document.body.dataset.state === 'done'")
    said = browser.ask("({...document.querySelector('#results section').dataset})")
    without_crypto = way and "no-crypto" in said["codes"].split()
    if not without_crypto and said["verdict"] != case.verdict:
        yield f"verdict {said['verdict']}, not {case.verdict}"
    codes = [code for code in case.codes if not (without_crypto and code in ("pages-signed", "page-signature"))]
    if missing := [code for code in codes if code not in said["codes"].split()]:
        yield f"nothing of {', '.join(missing)}; it said {said['codes']}"
    if case.event is not None and said["bad"] != str(case.event):
        yield f"event {said['bad']}, not {case.event}"
    if (
        browser.ask("document.querySelectorAll('#results img, #results script, #results a').length")
        or browser.ask("document.title") != "Check a day of tile work"
    ):
        yield "what a file says became markup"


def main() -> int:
    if sys.argv[1:] == ["hashes"]:
        PAGE.write_text(with_hashes(PAGE.read_text(encoding="ascii")), encoding="ascii")
        return 0
    browsers = installed()
    if not browsers:
        print("No browser is here. On Debian: apt-get install chromium firefox-esr")
        return 2
    wrong = 0
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as name:
        cases = all_cases(Path(name))
        for kind, program in browsers:
            browser = kind(program, Path(name) / kind.name)
            try:
                print(browser.version())
                for way in WAYS:
                    began = time.monotonic()
                    found = [(case.name, fault) for case in cases for fault in faults(browser, way, case)]
                    for case_name, fault in found:
                        print(f"  {way} {case_name}: {fault}")
                    wrong += len(found)
                    took = f"{time.monotonic() - began:.0f} s"
                    print(f"  {way or 'as it is'}: {len(cases)} files, {len(found)} faults, {took}")
            finally:
                browser.close()
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
