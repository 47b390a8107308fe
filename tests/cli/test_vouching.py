"""Rosters, carried keys and countersignatures as they are used on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from fieldassist.record.receipt import read_receipt
from fieldassist.record.roster import load_roster
from tests.cli.test_signing import Tablet, tablet

__all__ = ["tablet"]
pytestmark = pytest.mark.usefixtures("cheap_hash")

EDWINS, OWENS, INES = "271828", "314159", "161803"


def person(tablet: Tablet, name: str, role: str, pin: str) -> None:
    assert tablet.run("people", name, "--role", role, typed=f"{pin}\n{pin}\n")[0] == 0


def signed(tablet: Tablet) -> str:
    day = str(tablet.day)
    tablet.run("sign", day, "--as", "edwin", "--with-open-points", typed=f"{EDWINS}\n")
    return day


def test_a_roster_is_made_listed_handed_out_and_its_people_are_known_until_they_are_revoked(
    tablet: Tablet, tmp_path: Path
) -> None:
    person(tablet, "owen", "owner", OWENS)
    out = tmp_path / "for the owner.json"
    make = ("people", "--roster", str(out), "--by", "owen")
    assert tablet.run(*make, typed=f"{OWENS}\n")[0] == 2, "of which firm is not said"
    assert tablet.run("people", "--roster", str(out))[0] == 2, "there is none yet"
    assert tablet.run(*make, "--firm", "Harbour Tiling", typed=f"{EDWINS}\n")[0] == 2
    assert not out.exists()
    code, told = tablet.run(*make, "--firm", "Harbour Tiling", typed=f"{OWENS}\n")
    assert (code, "2 keys" in told) == (0, True)
    assert [entry.name for entry in load_roster(out).people] == ["edwin", "owen"]
    day = signed(tablet)
    assert tablet.run("verify", day)[0] == 3
    assert tablet.run("verify", day, "--roster", str(out))[0] == 0
    code, told = tablet.run("people", "rosa", "--role", "installer", typed=f"{INES}\n{INES}\n")
    assert (code, "The roster does not know this key of Rosa yet" in told) == (0, True)
    # Revoked, by whoever may; the roster goes on, and so does the one in a bundle.
    assert tablet.run("people", "--revoke", "otto", "--by", "owen", typed=f"{OWENS}\n")[0] == 2
    revoke = ("people", "--revoke", "edwin", "--by", "owen", "--why", "tablet stolen")
    assert tablet.run(*revoke, "--since", "2020-01-01", typed=f"{OWENS}\n")[0] == 0
    code, told = tablet.run("people")
    assert "Harbour Tiling" in told
    assert "revoked from 2020-01-01T00:00:00" in told
    newer = tmp_path / "newer.json"
    assert tablet.run("people", "--roster", str(newer))[0] == 0
    assert tablet.run("verify", day, "--roster", str(newer))[0] == 3
    assert tablet.run("bundle", day, "--out", str(tmp_path / "day.bundle"))[0] == 0
    code, told = tablet.run("verify", str(tmp_path / "day.bundle"), "--roster", str(out))
    assert (code, "tablet stolen" in told) == (3, True)
    code, told = tablet.run("import", str(tmp_path / "day.bundle"), "--into", str(tmp_path / "days"))
    assert (code, "The roster of Harbour Tiling" in told, "It was not kept" in told) == (0, True, True)


def test_nobody_but_owner_or_firm_signs_a_roster(tablet: Tablet, tmp_path: Path) -> None:
    person(tablet, "harbour tiling", "firm", OWENS)
    make = ("people", "--roster", str(tmp_path / "roster.json"), "--firm", "Harbour Tiling", "--by")
    assert tablet.run(*make, "edwin", typed=f"{EDWINS}\n")[0] == 2
    assert tablet.run(*make, "harbour tiling", typed=f"{OWENS}\n")[0] == 0


def test_a_key_is_carried_to_another_tablet_by_its_words_and_its_pin(
    tablet: Tablet, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = str(tmp_path / "edwin.carried")
    code, told = tablet.run("people", "edwin", "--carry", out, typed=f"{EDWINS}\n")
    assert code == 0
    words = told.splitlines()[1].strip()
    _, before = tablet.run("people", "edwin")
    monkeypatch.setenv("FIELDASSIST_DATA", str(tmp_path / "another tablet"))
    assert tablet.run("people", "--take", out, typed=f"{words} {words}\n{EDWINS}\n")[0] == 2
    assert tablet.run("people", "--take", out, typed=f"{words}\n{OWENS}\n")[0] == 2
    code, told = tablet.run("people", "--take", out, typed=f"{words}\n{EDWINS}\n")
    assert (code, told.startswith(before)) == (0, True)
    assert signed(tablet)
    assert tablet.run("verify", str(tablet.day), "--key", before.split("key ")[1].strip())[0] == 0


def test_an_inspector_countersigns_what_is_at_hand_and_the_tablet_takes_it_in(
    tablet: Tablet, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    day, bundle, out = str(tablet.day), str(tmp_path / "day.bundle"), str(tmp_path / "receipt.json")
    person(tablet, "owen", "owner", OWENS)
    signed(tablet)
    tablet.run("bundle", day, "--out", bundle)
    tablet_data = str(tmp_path / "data")
    monkeypatch.setenv("FIELDASSIST_DATA", str(tmp_path / "inspector"))
    person(tablet, "ines", "inspector", INES)
    assert tablet.run("countersign", bundle, typed=f"{INES}\n")[0] == 2
    code, told = tablet.run("countersign", bundle, "--by", "Ines", "--out", out, typed=f"{INES}\n")
    assert code == 0
    receipt = read_receipt(Path(out).read_bytes())
    assert receipt.head in told
    monkeypatch.setenv("FIELDASSIST_DATA", tablet_data)
    assert tablet.run("countersign", day, "--by", "owen", typed=f"{OWENS}\n")[0] == 0
    assert tablet.run("countersign", day, "--take", out)[0] == 0
    assert tablet.run("addendum", day, "a lift was misread")[0] == 0
    code, told = tablet.run("verify", day, "--json")
    assert code == 3
    facts = json.loads(told)["receipts"]
    assert [(one["name"], one["role"], one["good"], one["known"]) for one in facts] == [
        ("owen", "owner", True, False),
        ("ines", "inspector", True, False),
    ]
    other = tmp_path / "other.db"
    other.write_bytes(tablet.day.read_bytes())
    Path(out).write_bytes(Path(out).read_bytes().replace(receipt.head.encode(), b"0" * 64))
    assert tablet.run("countersign", str(other), "--take", out)[0] == 2
    assert not (tmp_path / "other.receipts").exists()
