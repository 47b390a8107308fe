"""What a reader knows decides: a key that nobody vouches for is never good, and a roster vouches for just so much."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.plan import Role
from fieldassist.cli import main
from fieldassist.places import shipped
from fieldassist.proof.examine import examine
from fieldassist.proof.known import NOTHING_KNOWN, Known
from fieldassist.proof.verdict import DAMAGED, UNSEALED, WHOLE, Judgment
from fieldassist.record.beside import GoesAlong, keep_beside
from fieldassist.record.bundle import pack
from fieldassist.record.keys import KeyHolder, Office, SigningKey, public_pem
from fieldassist.record.log import DayLog
from fieldassist.record.manifest import PAGE
from fieldassist.record.receipt import make_receipt, sealed_head
from fieldassist.record.roster import Roster, make_roster, with_people, without, write_roster
from tests.small_day import EDWIN, asked, begun, seal

FORGER = SigningKey("edwin", Role.FOREMAN, b"\x02" * 32)
OTTO = SigningKey("otto", Role.FOREMAN, b"\x03" * 32)
OWEN = SigningKey("owen", Role.OWNER, b"\x04" * 32)
INES = SigningKey("ines", Office.INSPECTOR, b"\x05" * 32)
# The day's sign-off is at 07:05 (`tests.small_day`).
BEFORE = datetime.fromisoformat("2026-03-17T06:00:00+01:00")
AFTER = datetime.fromisoformat("2026-03-17T18:00:00+01:00")


def roster(
    *keys: SigningKey, since: datetime = BEFORE, made: datetime = BEFORE, by: SigningKey = OWEN, gone: str = ""
) -> Roster:
    holders = [KeyHolder(one.name, one.role, one.public_key) for one in keys or (EDWIN, OWEN, INES)]
    entries = with_people((), holders, since)
    return make_roster("Harbour Tiling", without(entries, gone, AFTER, "stolen") if gone else entries, by, made)


def day(path: Path, key: SigningKey = EDWIN, crew: Sequence[str] = ("edwin",)) -> Path:
    """Five events and their seal."""
    people = [{"name": name, "role": "foreman"} for name in crew]
    with DayLog.create(path) as log:
        begun(log, crew=people)
        asked(log, cmd.MakeNote(text="all well"))
        seal(log, key)
    return path


def receive(path: Path, key: SigningKey, at: datetime) -> None:
    """Countersign the day as it is and keep that beside it."""
    with DayLog.open(path, read_only=True) as log:
        keep_beside(path, "receipt", make_receipt(sealed_head(log.events, log.hashes), key, at).to_bytes())


def checked(path: Path, known: Known) -> Judgment:
    scratch = path.parent / "scratch"
    scratch.mkdir(exist_ok=True)
    return examine(path, known, scratch)


def codes(verdict: Judgment) -> set[str]:
    return {told.code.removeprefix("proof-") for told in verdict.told}


@pytest.fixture(scope="module")
def sealed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Only to read."""
    return day(tmp_path_factory.mktemp("sealed") / "day.db")


@pytest.mark.parametrize(
    ("known", "code", "said"),
    [
        (NOTHING_KNOWN, UNSEALED, "whose-key"),
        (Known(EDWIN.public_key), WHOLE, "key-made-last"),
        (Known(FORGER.public_key), UNSEALED, "key-made-none"),
        (Known(roster=roster()), WHOLE, "vouched"),
        (Known(EDWIN.public_key, roster()), WHOLE, "vouched"),
        # Of two that the reader holds, each that does not fit is told.
        (Known(FORGER.public_key, roster()), UNSEALED, "key-made-none"),
        (Known(EDWIN.public_key, roster(OWEN)), WHOLE, "key-made-last"),
        (Known(roster=roster(OWEN)), UNSEALED, "vouch-unknown"),
        (Known(roster=roster(FORGER, OWEN)), UNSEALED, "vouch-unknown"),
        (Known(roster=roster(SigningKey("edwin", Role.INSTALLER, b"\x01" * 32))), DAMAGED, "vouch-other"),
        (Known(roster=roster(SigningKey("rosa", Role.FOREMAN, b"\x01" * 32))), DAMAGED, "vouch-other"),
        (Known(roster=roster(since=AFTER)), UNSEALED, "vouch-early"),
        (Known(roster=roster(gone="edwin")), UNSEALED, "vouch-revoked"),
        (Known(EDWIN.public_key, roster(gone="edwin")), UNSEALED, "vouch-revoked"),
        (Known(roster=roster(made=AFTER)), WHOLE, "roster"),
    ],
)
def test_whole_is_only_what_a_key_sealed_that_the_reader_knows(
    sealed: Path, known: Known, code: int, said: str
) -> None:
    verdict = checked(sealed, known)
    assert verdict.exit_code == code, codes(verdict)
    assert said in codes(verdict)


def test_the_last_word_says_that_nobody_vouched(sealed: Path) -> None:
    assert checked(sealed, NOTHING_KNOWN).verdict.code == "proof-unvouched"
    assert checked(sealed, Known(roster=roster(OWEN))).verdict.code == "proof-unsealed"


def test_a_roster_for_practice_vouches_for_no_work(sealed: Path) -> None:
    trained, owner = (SigningKey(k.name, k.role, bytes([n] * 32), practice=True) for n, k in ((1, EDWIN), (4, OWEN)))
    verdict = checked(sealed, Known(roster=roster(trained, by=owner)))
    assert (verdict.exit_code, "vouch-practice" in codes(verdict)) == (UNSEALED, True)


def test_a_foreman_on_the_roster_does_not_make_another_ones_earlier_seal_good(tmp_path: Path) -> None:
    path = day(tmp_path / "day.db", FORGER, crew=("edwin", "otto"))
    with DayLog.open(path) as log:
        asked(log, cmd.OpenAddendum(reason="a lift was misread"))
        seal(log, OTTO)
    verdict = checked(path, Known(roster=roster(EDWIN, OTTO)))
    assert (verdict.exit_code, verdict.facts["roster"]["doubts"]) == (UNSEALED, ["unknown"])


# --- what came with it ------------------------------------------------------------------------------------------------


def test_a_countersignature_that_is_older_shows_that_a_revoked_key_signed_before(tmp_path: Path) -> None:
    known = Known(roster=roster(gone="edwin"))
    for name, key, at, code in (
        ("in time", INES, AFTER - timedelta(hours=1), WHOLE),
        ("too late", INES, AFTER, UNSEALED),
        ("of nobody known", SigningKey("ines", Office.INSPECTOR, b"\x06" * 32), AFTER - timedelta(hours=1), UNSEALED),
    ):
        path = day(tmp_path / f"{name}.db")
        receive(path, key, at)
        assert checked(path, known).exit_code == code, name


def test_what_came_after_a_countersignature_is_not_proven_by_it(tmp_path: Path) -> None:
    path = day(tmp_path / "day.db")
    receive(path, INES, AFTER - timedelta(hours=1))
    with DayLog.open(path) as log:
        asked(log, cmd.OpenAddendum(reason="a lift was misread"))
        seal(log)
    verdict = checked(path, Known(roster=roster(gone="edwin")))
    assert (verdict.exit_code, verdict.facts["roster"]["doubts"]) == (UNSEALED, ["revoked"]), "of the second seal"
    [told] = [one for one in verdict.told if one.code == "proof-receipt"]
    assert (told.figures["events"], told.figures["later"]) == ("6", 3)


def test_a_countersignature_finds_a_record_that_was_cut_or_made_anew(tmp_path: Path, sealed: Path) -> None:
    path = day(tmp_path / "day.db")
    with DayLog.open(path) as log:
        asked(log, cmd.OpenAddendum(reason="a lift was misread"))
        seal(log)
        texts = log.texts
    receive(path, INES, AFTER)
    receipt = (tmp_path / "day.receipts" / "1.json").read_bytes()
    with DayLog.create(tmp_path / "cut.db") as log:
        log.append_texts(texts[:6])
    other = day(tmp_path / "other.db", FORGER)
    for forged in (tmp_path / "cut.db", other):
        keep_beside(forged, "receipt", receipt)
        verdict = checked(forged, Known(EDWIN.public_key))
        assert verdict.exit_code == DAMAGED
        assert "receipt-not-good" in codes(verdict)
    # In a bundle of the forger's, too; what is no countersignature at all is as bad.
    for name, data in (("theirs", receipt), ("junk", b"{}")):
        copy = day(tmp_path / f"{name}.db", FORGER)
        keep_beside(copy, "receipt", data)
        bundle = pack(copy, tmp_path / f"{name}.bundle").path
        assert checked(bundle, Known(FORGER.public_key)).exit_code == DAMAGED
    assert checked(sealed, Known(EDWIN.public_key)).facts["receipts"] == []
    # Beside a copy that was handed over before, a later one is no forgery.
    early = pack(sealed, tmp_path / "early.bundle").path
    keep_beside(early, "receipt", receipt)
    assert checked(early, Known(EDWIN.public_key)).exit_code == UNSEALED


def test_a_roster_in_a_bundle_is_told_and_used_only_where_it_goes_on_from_the_readers_own(
    sealed: Path, tmp_path: Path
) -> None:
    newer, forged = (
        roster(made=AFTER),
        roster(FORGER, OWEN, by=SigningKey("owen", Role.OWNER, b"\x09" * 32), made=AFTER),
    )
    without_edwin = Known(roster=roster(OWEN))
    for inside, known, code, use in (
        (newer, NOTHING_KNOWN, UNSEALED, "none"),
        (newer, without_edwin, WHOLE, "newer"),
        (roster(), Known(roster=roster()), WHOLE, "same"),
        (roster(OWEN), Known(roster=newer), WHOLE, "none"),
        (roster(gone="edwin", made=AFTER), Known(roster=roster()), UNSEALED, "newer"),
        (forged, without_edwin, UNSEALED, "none"),
    ):
        write_roster(tmp_path / "roster.json", inside)
        bundle = pack(sealed, tmp_path / "day.bundle", others=GoesAlong(tmp_path / "roster.json")).path
        verdict = checked(bundle, known)
        [told] = [one for one in verdict.told if one.code == "proof-roster-inside"]
        assert (verdict.exit_code, told.figures["use"]) == (code, use)
    (tmp_path / "roster.json").write_bytes(b"{}")
    bundle = pack(sealed, tmp_path / "day.bundle", others=GoesAlong(tmp_path / "roster.json")).path
    assert checked(bundle, Known(EDWIN.public_key)).exit_code == UNSEALED


def test_the_command_takes_a_key_and_a_roster(sealed: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write_roster(tmp_path / "roster.json", roster())
    (tmp_path / "edwin.pem").write_text(public_pem(EDWIN.public_key))
    asked = ["verify", str(sealed), "--roster", str(tmp_path / "roster.json")]
    assert main([*asked, "--key", str(tmp_path / "edwin.pem"), "--json"]) == WHOLE
    told = json.loads(capsys.readouterr().out)
    assert (told["roster"]["firm"], told["roster"]["doubts"]) == ("Harbour Tiling", [])
    (tmp_path / "roster.json").write_bytes(roster().to_bytes().replace(b"Harbour", b"Harbor"))
    assert main(asked) == 2


def test_a_page_that_a_forger_put_into_a_bundle_is_named(sealed: Path, tmp_path: Path) -> None:
    ours = shipped("assets") / PAGE
    forged = tmp_path / "verify.html"
    forged.write_bytes(ours.read_bytes().replace(b"</title>", b" </title>", 1))
    for page, code in ((ours, WHOLE), (forged, UNSEALED)):
        bundle = pack(sealed, tmp_path / "day.bundle", others=GoesAlong(tmp_path / "none.json", page)).path
        verdict = checked(bundle, Known(EDWIN.public_key))
        assert verdict.exit_code == code
        assert ("proof-page-strange" in {one.code for one in verdict.told}) == (code == UNSEALED)
