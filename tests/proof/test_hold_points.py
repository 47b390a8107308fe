"""What an inspector is told of hold points: by whose PIN, by word only, and what a forger without the key comes to."""

from __future__ import annotations

from typing import Any

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.plan import Role
from fieldassist.proof.hold_points import check_pins
from fieldassist.proof.known import NOTHING_KNOWN
from fieldassist.proof.verdict import DAMAGED, UNSEALED, WHOLE, Findings
from fieldassist.record.chain import Chain
from fieldassist.record.keys import SigningKey
from fieldassist.record.seal import release_statement
from tests.report.conftest import RUTH, Site

OTHER = SigningKey("ruth", Role.FOREMAN, b"\x06" * 32)


def examined(site: Site) -> Findings:
    record = site.record()
    found = Findings()
    check_pins(Chain(list(record.events), list(record.hashes)), NOTHING_KNOWN, (), found)
    return found


def codes(found: Findings) -> list[str]:
    return [told.code for told in found.told]


def called() -> Site:
    """A day whose base was released in ruth's name."""
    site = Site().start("shower wall")
    return site.do(cmd.ReleaseHold(section="conditions", step="release", name="ruth"))


def confirm(site: Site, key: SigningKey = RUTH, **changes: Any) -> Site:
    """Ruth's PIN stands behind what was called in her name."""
    released = tuple(e.seq for e in site.events if isinstance(e.body, ev.HoldReleased))
    plain: dict[str, Any] = {"releases": released, "name": "ruth", "role": Role.FOREMAN} | changes
    body = ev.ReleasesConfirmed(**plain, key=key.public_key, signature="0" * 128)
    assert site.state.plan is not None
    signed = release_statement(body, site.state.plan, seq=site.state.last_seq + 1, after=site.record().hashes[-1])
    site.add(body.model_copy(update={"signature": key.sign(signed).hex()}), by="ruth")
    return site


def test_what_was_only_called_is_told_with_the_number_of_its_event() -> None:
    site = called()
    found = examined(site)
    released = next(e.seq for e in site.events if isinstance(e.body, ev.HoldReleased))
    assert codes(found) == ["proof-releases-called"]
    assert found.code == WHOLE
    assert found.facts["releases"] == {"by_pin": [], "released": 1, "not_confirmed": [released]}


def test_what_was_confirmed_is_told_with_the_key_and_that_it_sealed_the_day() -> None:
    site = confirm(called())
    site.sign(accept_open=True).seal()
    (told,) = examined(site).told
    assert told.code == "proof-released-by-pin"
    assert (told.figures["name"], told.figures["role"], told.figures["seals"]) == ("ruth", "foreman", "yes")


def test_a_key_that_made_no_seal_is_to_be_compared() -> None:
    (told,) = examined(confirm(called())).told
    assert told.figures["seals"] == "no"


def test_a_confirmation_by_another_key_than_the_days_is_pointed_at() -> None:
    site = confirm(called(), OTHER)
    site.sign(accept_open=True).seal()
    found = examined(site)
    assert "proof-pin-look-into" in codes(found)
    assert found.code == UNSEALED


def test_a_signature_taken_from_another_place_of_the_chain_is_not_good() -> None:
    site = called()
    there = confirm(called()).events[-1].body
    site.do(cmd.MakeNote(text="one event more"))
    site.add(there, by="ruth")
    found = examined(site)
    assert codes(found)[0] == "proof-pin-not-good"
    assert found.code == DAMAGED
    assert found.facts["releases"]["not_confirmed"]


@pytest.mark.parametrize("taken_back", [True, False])
def test_a_release_that_was_taken_back_is_nobodys_and_missed_by_nobody(taken_back: bool) -> None:
    site = called()
    if taken_back:
        site.do(cmd.Withdraw())
    assert examined(site).facts["releases"]["released"] == (0 if taken_back else 1)


def test_a_key_that_took_the_place_of_another_is_told() -> None:
    site = called()
    site.add(ev.KeyReplaced(name="ruth", key=RUTH.public_key, before=OTHER.public_key), by="ruth")
    found = examined(confirm(site))
    assert "proof-key-replaced" in codes(found)
