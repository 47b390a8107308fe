"""A seal holds for exactly the events that were signed, by exactly the key that signed them, and says so if not."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
import rfc8785
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from fieldassist.checklist.events import (
    AddendumOpened,
    ClockJumped,
    CorrectionMade,
    DayOpened,
    DaySealed,
    DaySigned,
    Event,
    NoteMade,
)
from fieldassist.checklist.moment import TYPED, Moment
from fieldassist.checklist.plan import DayPlan, Role
from fieldassist.record.chain import GENESIS, canonical_text, chain_hash
from fieldassist.record.keys import SigningKey, fingerprint
from fieldassist.record.log import DayLog
from fieldassist.record.seal import SealProblem, check_seals, make_seal, statement, unsealed_after
from fieldassist.trade.message import message

EDWIN = SigningKey("edwin", Role.FOREMAN, b"\x01" * 32)
ROSA = SigningKey("rosa", Role.FOREMAN, b"\x02" * 32)


@dataclass
class Story:
    """A day's events with their chain."""

    events: list[Event] = field(default_factory=list)
    hashes: list[str] = field(default_factory=list)

    def add(self, *bodies: Any) -> Story:
        for body in bodies:
            seq = len(self.events) + 1
            at = Moment(wall=f"2026-03-17T15:{seq % 60:02}:00+01:00", mono=float(seq), boot="b")
            self.events.append(Event(seq=seq, id=f"e{seq}", at=at, by="edwin", source=TYPED, body=body))
            self.hashes.append(chain_hash(canonical_text(self.events[-1], self.hashes[-1] if self.hashes else GENESIS)))
        return self

    def sign(self, key: SigningKey = EDWIN, part: int = 0) -> Story:
        self.add(DaySigned(name=key.name, role=key.role, part=part))
        return self.add(make_seal(self.events, self.hashes, key))

    def with_body(self, seq: int, body: Any) -> Story:
        """The same day with another event there, and the whole chain made to fit again."""
        return Story().add(*(body if e.seq == seq else e.body for e in self.events))


@pytest.fixture
def story(plan: DayPlan) -> Story:
    """Rosa is a foreman here too."""
    crew = tuple(p.model_copy(update={"role": Role.FOREMAN}) if p.name == "rosa" else p for p in plan.crew)
    plan = plan.model_copy(update={"crew": crew})
    return Story().add(DayOpened(plan=plan), NoteMade(text="mortar came at nine"), NoteMade(text="dry, no wind"))


def test_the_statement_is_canonical_json_with_the_strings_of_rfc_8785() -> None:
    # RFC 8785 section 3.2.2: the "string" of its example; section 3.2.4 gives the canonical bytes of it.
    example = "\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"\u002f"
    octets = "22 e2 82 ac 24 5c 75 30 30 30 66 5c 6e 41 27 42 5c 22 5c 5c 5c 5c 5c 22 2f 22"
    said = statement(
        covers=7,
        date="2026-03-17",
        head="ab" * 32,
        name="edwin",
        part=1,
        role=Role.FOREMAN,
        signed_at="t",
        site=example,
    )
    assert said == (
        b'{"covers":7,"date":"2026-03-17","head":"' + b"ab" * 32 + b'","name":"edwin","part":1,"role":"foreman",'
        b'"seal":"fieldassist day 1","signed_at":"t","site":' + bytes.fromhex(octets) + b"}"
    )


def test_a_seal_that_names_a_certificate_says_so_in_the_second_form_of_the_statement(
    story: Story, plan: DayPlan
) -> None:
    key = EDWIN.with_certificate(datetime(2026, 3, 1, tzinfo=UTC))
    story.sign(key)
    seal = story.events[-1].body
    assert isinstance(seal, DaySealed)
    named = hashlib.sha256(key.certificate).hexdigest()
    assert seal.certificate == named
    about = {"covers": 4, "head": story.hashes[3], "name": "edwin", "part": 0, "role": "foreman", "site": plan.site}
    about |= {"date": plan.date, "signed_at": "2026-03-17T15:04:00+01:00"}
    signed = rfc8785.dumps({**about, "certificate": named, "seal": "fieldassist day 2"})
    assert holds(bytes.fromhex(seal.public_key), signed, bytes.fromhex(seal.signature))
    (check,) = check_seals(story.events, story.hashes)
    assert (check.why, check.certificate) == (None, named)


@pytest.mark.parametrize("certificate", ["", "ab" * 32])
def test_a_seal_with_another_certificate_or_none_is_not_good(story: Story, certificate: str) -> None:
    story.sign(EDWIN.with_certificate(datetime(2026, 3, 1, tzinfo=UTC)))
    seal = story.events[-1].body
    changed = story.with_body(5, seal.model_copy(update={"certificate": certificate}))
    (check,) = check_seals(changed.events, changed.hashes)
    assert check.why == message("record-seal-signature")


def test_a_sealed_day_is_good_and_says_who_sealed_what(story: Story) -> None:
    story.sign()
    (check,) = check_seals(story.events, story.hashes)
    assert (check.good, check.why, check.warning) == (True, None, None)
    assert (check.seq, check.covers, check.part) == (5, 4, 0)
    assert (check.name, check.role, check.signed_at) == ("edwin", Role.FOREMAN, story.events[3].at.wall)
    assert (check.public_key, check.fingerprint) == (EDWIN.public_key, fingerprint(EDWIN.public_key))
    assert unsealed_after(story.events, story.hashes) == 0


def test_a_seal_holds_by_the_equations_of_rfc_8032_and_what_the_log_says(story: Story, plan: DayPlan) -> None:
    # Nothing of the program: the statement as its description has it, the curve as RFC 8032 section 5.1.7 has it.
    story.sign()
    seal = story.events[-1].body
    assert isinstance(seal, DaySealed)
    message = rfc8785.dumps(
        {
            "covers": 4,
            "date": plan.date,
            "head": story.hashes[3],
            "name": "edwin",
            "part": 0,
            "role": "foreman",
            "seal": "fieldassist day 1",
            "signed_at": "2026-03-17T15:04:00+01:00",
            "site": plan.site,
        }
    )
    assert holds(bytes.fromhex(seal.public_key), message, bytes.fromhex(seal.signature))
    assert not holds(bytes.fromhex(seal.public_key), message + b" ", bytes.fromhex(seal.signature))


def test_a_seal_survives_the_log_on_disk(story: Story, tmp_path: Path) -> None:
    story.sign()
    with DayLog.create(tmp_path / "day.db") as log:
        log.append(story.events)
    with DayLog.open(tmp_path / "day.db") as log:
        (check,) = check_seals(log.events, log.hashes)
    assert check.good


def test_sign_off_and_seal_can_be_written_in_one_go(story: Story, tmp_path: Path) -> None:
    with DayLog.create(tmp_path / "day.db") as log:
        log.append(story.events)
        story.add(DaySigned(name="edwin", role=Role.FOREMAN))
        signed = story.events[-1]
        head = chain_hash(log.written([signed])[0])
        story.add(make_seal([*log.events, signed], [*log.hashes, head], EDWIN))
        log.append(story.events[-2:])
        assert [check.good for check in check_seals(log.events, log.hashes)] == [True]


@pytest.mark.parametrize("seq", [1, 2, 3, 4])
def test_a_changed_event_breaks_the_seal_even_when_the_chain_is_made_to_fit(story: Story, seq: int) -> None:
    story.sign()
    body = story.events[seq - 1].body
    if isinstance(body, DayOpened):
        changed: Any = DayOpened(plan=body.plan.model_copy(update={"site": "somewhere else"}))
    elif isinstance(body, NoteMade):
        changed = NoteMade(text=body.text + ".")
    else:
        changed = DaySigned(name="edwin", role=Role.FOREMAN, open_points=(message("open-not-started", area="attic"),))
    forged = story.with_body(seq, changed)
    (check,) = check_seals(forged.events, forged.hashes)
    assert not check.good
    assert check.why == message("record-seal-head", event="4")
    assert unsealed_after(forged.events, forged.hashes) == 5
    # And with the head in the seal made to fit too, the signature does not.
    seal = forged.events[-1].body.model_copy(update={"head": forged.hashes[3]})
    forged = forged.with_body(5, seal)
    (check,) = check_seals(forged.events, forged.hashes)
    assert check.why == message("record-seal-signature")


def test_a_removed_event_breaks_the_seal(story: Story) -> None:
    story.sign()
    shorter = Story().add(*(e.body for e in story.events if e.seq != 3))
    (check,) = check_seals(shorter.events, shorter.hashes)
    assert check.why == message("record-seal-covers", covers="4", event="3")


def test_no_bit_of_a_seal_can_be_changed(story: Story) -> None:
    story.sign()
    seal = story.events[-1].body
    for name, bits in (("signature", 512), ("public_key", 256), ("head", 256)):
        value = int(getattr(seal, name), 16)
        for bit in range(bits):
            changed = seal.model_copy(update={name: f"{value ^ (1 << bit):0{bits // 4}x}"})
            forged = story.with_body(5, changed)
            assert not check_seals(forged.events, forged.hashes)[0].good, f"{name}, bit {bit}"


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"name": "rosa"}, "record-seal-by(name=rosa, role=foreman, signed=edwin, signed-role=foreman)"),
        ({"role": Role.OWNER}, "record-seal-by(name=edwin, role=owner, signed=edwin, signed-role=foreman)"),
        ({"part": 1}, "record-seal-part(part=1, signed=0)"),
        ({"covers": 3}, "record-seal-covers(covers=3, event=4)"),
        ({"covers": -1}, "record-seal-covers(covers=-1, event=4)"),
    ],
)
def test_what_a_seal_claims_must_be_what_was_signed(story: Story, change: dict[str, Any], why: str) -> None:
    story.sign()
    forged = story.with_body(5, story.events[-1].body.model_copy(update=change))
    (check,) = check_seals(forged.events, forged.hashes)
    assert (check.good, str(check.why)) == (False, why)


def test_a_seal_by_another_key_than_it_names_is_not_good(story: Story) -> None:
    story.sign()
    forged = story.with_body(5, story.events[-1].body.model_copy(update={"public_key": ROSA.public_key}))
    assert not check_seals(forged.events, forged.hashes)[0].good


def test_a_seal_that_follows_no_sign_off_is_not_good(story: Story) -> None:
    story.sign()
    seal = story.events[-1].body
    for events in (Story().add(seal), Story().add(*(e.body for e in story.events[:3]), seal), story.add(seal)):
        check = check_seals(events.events, events.hashes)[-1]
        assert (check.good, check.why, check.signed_at) == (False, message("record-seal-no-sign-off"), "")


def test_a_seal_of_one_day_does_not_fit_another(story: Story) -> None:
    story.sign()
    other = Story().add(
        *(e.body for e in story.events[:2]), NoteMade(text="another"), *(e.body for e in story.events[3:])
    )
    assert not check_seals(other.events, other.hashes)[0].good


def test_an_addendum_is_sealed_in_its_turn_and_leaves_the_first_seal_as_it_is(story: Story) -> None:
    story.sign()
    first = check_seals(story.events, story.hashes)
    assert unsealed_after(story.events, story.hashes) == 0
    story.add(AddendumOpened(number=1, reason="a photo was left out"), CorrectionMade(target=2, text="at ten"))
    assert unsealed_after(story.events, story.hashes) == 2
    story.add(DaySigned(name="edwin", role=Role.FOREMAN, part=1))
    assert unsealed_after(story.events, story.hashes) == 3
    story.add(make_seal(story.events, story.hashes, EDWIN))
    checks = check_seals(story.events, story.hashes)
    assert checks[:1] == first
    assert [(c.part, c.covers, c.good, c.warning) for c in checks] == [(0, 4, True, None), (1, 8, True, None)]
    assert unsealed_after(story.events, story.hashes) == 0


def test_a_change_in_the_addendum_leaves_the_day_before_it_sealed(story: Story) -> None:
    story.sign().add(AddendumOpened(number=1, reason="late"), NoteMade(text="the truth")).sign(part=1)
    forged = story.with_body(7, NoteMade(text="another truth"))
    assert [check.good for check in check_seals(forged.events, forged.hashes)] == [True, False]
    assert unsealed_after(forged.events, forged.hashes) == 4


def test_what_comes_after_the_last_good_seal_is_counted(story: Story) -> None:
    assert unsealed_after([], []) == 0
    assert check_seals(story.events, story.hashes) == ()
    assert unsealed_after(story.events, story.hashes) == 3
    story.add(DaySigned(name="edwin", role=Role.FOREMAN))
    assert unsealed_after(story.events, story.hashes) == 4, "signed, but by nobody's key"
    story.add(make_seal(story.events, story.hashes, EDWIN), ClockJumped(seconds=90.0))
    assert unsealed_after(story.events, story.hashes) == 1


def test_a_key_that_changed_under_one_name_is_warned_of(story: Story) -> None:
    other = SigningKey("edwin", Role.FOREMAN, b"\x03" * 32)
    story.sign().add(AddendumOpened(number=1, reason="late")).sign(other, 1)
    first, second = check_seals(story.events, story.hashes)
    assert (first.good, first.warning, second.good) == (True, None, True)
    assert second.warning == message("record-seal-another-key", name="edwin", event="5")


def test_one_key_under_two_names_is_warned_of(story: Story) -> None:
    story.sign().add(AddendumOpened(number=1, reason="late")).sign(SigningKey("rosa", Role.FOREMAN, b"\x01" * 32), 1)
    second = check_seals(story.events, story.hashes)[1]
    assert second.warning == message("record-seal-shared-key", name="edwin", event="5")


def test_two_people_with_their_own_keys_need_no_warning_and_a_false_seal_causes_none(story: Story) -> None:
    story.sign().add(AddendumOpened(number=1, reason="late")).sign(ROSA, 1)
    assert [check.warning for check in check_seals(story.events, story.hashes)] == [None, None]
    forged = story.with_body(5, story.events[4].body.model_copy(update={"public_key": ROSA.public_key}))
    forged = Story().add(*(e.body for e in forged.events[:6])).sign(EDWIN, 1)
    assert [(c.good, c.warning) for c in check_seals(forged.events, forged.hashes)] == [(False, None), (True, None)]


def test_only_who_signed_seals_and_only_what_is_signed_is_sealed(story: Story) -> None:
    for events, hashes in (([], []), (story.events, story.hashes)):
        with pytest.raises(SealProblem, match="record-seal-unsigned"):
            make_seal(events, hashes, EDWIN)
    story.add(DaySigned(name="edwin", role=Role.FOREMAN))
    with pytest.raises(SealProblem, match=r"record-seal-other-pin\(signed=edwin, given=rosa\)"):
        make_seal(story.events, story.hashes, ROSA)
    with pytest.raises(SealProblem, match="record-seal-unsigned"):
        make_seal(story.events[1:], story.hashes[1:], EDWIN)


# --- the curve, from RFC 8032 section 5.1 -----------------------------------------------------------------------------

P = 2**255 - 19
ORDER = 2**252 + 27742317777372353535851937790883648493
D = -121665 * pow(121666, -1, P) % P
Point = tuple[int, int]
NEUTRAL: Point = (0, 1)


def plus(a: Point, b: Point) -> Point:
    """The sum of two points, by the complete formula for affine coordinates (section 5.1.4 has it projective)."""
    (x1, y1), (x2, y2) = a, b
    k = D * x1 * x2 * y1 * y2
    return (x1 * y2 + x2 * y1) * pow(1 + k, -1, P) % P, (y1 * y2 + x1 * x2) * pow(1 - k, -1, P) % P


def times(n: int, a: Point) -> Point:
    total = NEUTRAL
    for bit in bin(n)[2:]:
        total = plus(total, total)
        if bit == "1":
            total = plus(total, a)
    return total


def point(raw: bytes) -> Point:
    """Section 5.1.3: decoding."""
    number = int.from_bytes(raw, "little")
    y, odd = number % 2**255, number >> 255
    square = (y * y - 1) * pow(D * y * y + 1, -1, P) % P
    x = pow(square, (P + 3) // 8, P)
    if (x * x - square) % P:
        x = x * pow(2, (P - 1) // 4, P) % P
    assert (x * x - square) % P == 0, "not on the curve"
    return ((P - x) % P if x % 2 != odd else x), y % P


def encoded(a: Point) -> bytes:
    """Section 5.1.2: encoding."""
    return (a[1] | (a[0] & 1) << 255).to_bytes(32, "little")


BASE = point((4 * pow(5, -1, P) % P).to_bytes(32, "little"))


def holds(public_key: bytes, message: bytes, signature: bytes) -> bool:
    """Section 5.1.7: verify."""
    s = int.from_bytes(signature[32:], "little")
    k = int.from_bytes(hashlib.sha512(signature[:32] + public_key + message).digest(), "little")
    return s < ORDER and times(s, BASE) == plus(point(signature[:32]), times(k, point(public_key)))


def test_the_curve_here_is_that_of_rfc_8032() -> None:
    # Section 5.1: the base point's order; section 7.1, test 2.
    assert times(ORDER, BASE) == NEUTRAL
    public_key = bytes.fromhex("3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c")
    signature = bytes.fromhex(
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aee"
        "b00d291612bb0c00"
    )
    assert holds(public_key, b"\x72", signature)
    assert not holds(public_key, b"\x73", signature)


def test_a_signature_has_one_form_only(story: Story) -> None:
    # RFC 8032 section 5.1.7, step 1: S must be below the group's order, or anybody could write it another way.
    story.sign()
    seal = story.events[-1].body
    raw = bytes.fromhex(seal.signature)
    again = raw[:32] + (int.from_bytes(raw[32:], "little") + ORDER).to_bytes(32, "little")
    forged = story.with_body(5, seal.model_copy(update={"signature": again.hex()}))
    assert not check_seals(forged.events, forged.hashes)[0].good


def small_keys() -> Sequence[bytes]:
    """Every encoding of the eight points whose order divides eight, the curve's cofactor (RFC 8032 section 5.1)."""
    points: set[Point] = set()
    seed = 0
    while len(points) < 8:
        seed += 1
        try:
            points.add(times(ORDER, point(hashlib.sha256(bytes([seed])).digest())))
        except AssertionError:
            continue
    assert all(times(8, p) == NEUTRAL for p in points)
    numbers = {int.from_bytes(encoded(p), "little") for p in points}
    # A sign bit where x is zero, and y from p on, are no proper encodings; who decodes them anyway sees the same point.
    ys = {n % 2**255 for n in numbers}
    ys |= {y + P for y in ys if y + P < 2**255}
    return [(y + sign * 2**255).to_bytes(32, "little") for y in sorted(ys) for sign in (0, 1)]


def test_a_key_under_which_one_signature_fits_many_days_is_refused(story: Story) -> None:
    weak = small_keys()
    assert len(weak) == 14
    s = 12345
    signature = encoded(times(s, BASE)) + s.to_bytes(32, "little")
    # The danger is real: under the neutral point as key this signature fits any message.
    for signed in (b"one day", b"another day"):
        Ed25519PublicKey.from_public_bytes(encoded(NEUTRAL)).verify(signature, signed)
    for key in weak:
        for note in range(8):  # for each key of order n one message in n or so would fit
            day = Story().add(*(e.body for e in story.events), NoteMade(text=f"number {note}"))
            day.add(DaySigned(name="edwin", role=Role.FOREMAN))
            seal = DaySealed(
                name="edwin",
                role=Role.FOREMAN,
                part=0,
                covers=5,
                head=day.hashes[-1],
                public_key=key.hex(),
                signature=signature.hex(),
            )
            day.add(seal)
            (check,) = check_seals(day.events, day.hashes)
            assert check.why == message("record-seal-signature")
