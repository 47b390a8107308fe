"""People with a PIN, and the key that each signs with, in a folder of the tablet.

One file a person: the private Ed25519 key (RFC 8032) lies in it encrypted with ChaCha20-Poly1305 (RFC 8439) under a key
that Argon2id (RFC 9106) makes from the PIN and a salt. There is no separate hash of the PIN: that the encryption opens
is the check. A second hash would cost the person at the wall as long again, and somebody who guesses nothing.

What this holds against, and what not. At the tablet, wrong PINs are counted on disk before they are answered: five,
then waits of 1, 2, 4 ... 60 minutes; only the right PIN sets the count back. Whoever can copy the folder guesses
without being counted: at 0.4 s a guess six digits last five days at most, and an hour on a rack of better machines;
eight digits last a year here. So the tablet's storage should be encrypted and its screen locked, and whoever signs for
others should have a long PIN. Whoever can write the folder can put back an older count, or make a key of their own
under somebody's name, but never use the key that was there: compare fingerprints.

A key is made for one role and, on a tablet that is only practised on, for practice: both are bound to what is
encrypted, and neither ever changes. Who gets another role gets another key. A PIN that is forgotten is not found again:
its reset makes a new key, which names the one that it replaced, and every day in which it is used says so.

Pages are signed with another key, on P-256, that follows from the first (`certificate`): its certificate lies in the
file too, and is made when one of an earlier version is opened.
"""

from __future__ import annotations

import contextlib
import hashlib
import math
import re
import secrets
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal, NamedTuple, TypeAlias

import rfc8785
from cryptography.exceptions import InvalidTag, UnsupportedAlgorithm
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305
from cryptography.hazmat.primitives.kdf.argon2 import Argon2id
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat, load_pem_public_key
from filelock import FileLock, Timeout
from pydantic import BaseModel, ConfigDict, Field, TypeAdapter, ValidationError, field_validator

from fieldassist.checklist.moment import Moment
from fieldassist.checklist.plan import DayKind, Role, SpokenName
from fieldassist.files import open_regular
from fieldassist.record.disk import sync_folder, whole_file, why
from fieldassist.record.pins import why_refused
from fieldassist.trade.message import Refused, message

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey


class Cost(NamedTuple):
    """What one guess at a PIN costs: passes over so many KiB of memory, in so many lanes."""

    passes: int
    memory_kib: int
    lanes: int


# RFC 9106 section 4, the second recommended option: Argon2id, 3 passes, 4 lanes, 64 MiB, 128-bit salt, 256-bit tag.
COST = Cost(passes=3, memory_kib=1 << 16, lanes=4)
SALT_BYTES, TAG_BYTES = 16, 32

FREE_TRIES = 5
LONGEST_WAIT_MIN = 60.0
# What may be tried: PINs that were given before six digits were asked for go on.
_PIN = re.compile(r"[0-9]{4,12}")
_LARGEST_FILE = 4096
_LOCK_SECONDS = 20.0


class Office(StrEnum):
    """Who signs about days and works on none: an inspector countersigns, a firm says who its people are."""

    INSPECTOR = "inspector"
    FIRM = "firm"


# What a key can be made for. Whoever is of no crew signs nothing in a day.
KeyRole: TypeAlias = Role | Office


def key_role(value: str) -> KeyRole:
    """The role of this name. ValueError where there is none.

    >>> key_role("owner"), key_role("inspector")
    (<Role.OWNER: 'owner'>, <Office.INSPECTOR: 'inspector'>)
    """
    return Office(value) if value in set(Office) else Role(value)


class KeyProblem(Refused):
    """A key cannot be used as asked; `told` says what happened and what to do. It never holds a PIN or a key."""


class NoSuchPerson(KeyProblem):
    """Nobody of this name has a PIN on this tablet."""

    def __init__(self, name: str) -> None:
        super().__init__(message("record-key-nobody", name=name))
        self.name = name


class WrongPin(KeyProblem):
    """The PIN is wrong and was counted. attempts_left: tries before a wait."""

    def __init__(self, name: str, attempts_left: int) -> None:
        super().__init__(message("record-key-wrong-pin", name=name, left=attempts_left))
        self.name = name
        self.attempts_left = attempts_left


class LockedOut(KeyProblem):
    """Too many wrong PINs. until: from when on one more is taken; counted: a PIN was tried just now, and was wrong."""

    attempts_left = 0

    def __init__(self, name: str, until: datetime, *, counted: bool) -> None:
        super().__init__(message("record-key-locked-out", name=name, at=f"{_minute_after(until):%H:%M}"))
        self.name = name
        self.until = until
        self.counted = counted


class WeakPin(KeyProblem):
    """This cannot be a PIN, or is one of the first that anybody would try. Nothing was counted."""


class KeyDamaged(KeyProblem):
    """The file of this person is not as it was written."""

    def __init__(self, name: str) -> None:
        super().__init__(message("record-key-damaged", name=name))
        self.name = name


@dataclass(frozen=True, slots=True)
class KeyHolder:
    """Who can sign on this tablet.

    role: for which the key was made; public_key: 32 bytes as 64 hexadecimal digits; practice: it signs rehearsals
    only; replaces: the public key that this one replaced when the PIN was forgotten, "" for none; certificate: that of
    the key for pages, in DER, b"" where the file is of an earlier version and was not opened since.
    """

    name: str
    role: KeyRole
    public_key: str
    practice: bool = False
    replaces: str = ""
    certificate: bytes = b""

    @property
    def fingerprint(self) -> str:
        """The public key in short, to read out and compare."""
        return fingerprint(self.public_key)


class SigningKey:
    """A person's key, unlocked: keep it no longer than one signature takes.

    seed: the 32 bytes of an Ed25519 private key (RFC 8032 section 5.1.5); role, practice, replaces, certificate: as
    `KeyHolder`. Without a certificate it signs records and no pages.

    >>> seed = bytes.fromhex("9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60")
    >>> SigningKey("edwin", Role.FOREMAN, seed).sign(b"").hex()[:16]  # RFC 8032 section 7.1, test 1
    'e5564300c360ac72'
    """

    __slots__ = ("_key", "certificate", "name", "practice", "public_key", "replaces", "role")

    def __init__(
        self,
        name: str,
        role: KeyRole,
        seed: bytes,
        *,
        practice: bool = False,
        replaces: str = "",
        certificate: bytes = b"",
    ) -> None:
        self.name = name
        self.role = role
        self.practice = practice
        self.replaces = replaces
        self.certificate = certificate
        self._key = Ed25519PrivateKey.from_private_bytes(seed)
        self.public_key = self._key.public_key().public_bytes_raw().hex()

    def sign(self, message: bytes) -> bytes:
        """The Ed25519 signature of `message`: 64 bytes, the same each time."""
        return self._key.sign(message)

    def pages_key(self) -> EllipticCurvePrivateKey:
        """The key that signs pages (P-256), drawn anew from the seed each time and kept nowhere."""
        from fieldassist.record.certificate import pages_key

        return pages_key(self._key.private_bytes_raw())

    def with_certificate(self, made: datetime) -> SigningKey:
        """The same key with a certificate that is good from `made` on."""
        # Whoever checks a seal, or only works, does not wait for what makes certificates.
        from fieldassist.record.certificate import CertifiedPerson, make_certificate

        person = CertifiedPerson(self.name, self.role, self.practice)
        certificate = make_certificate(self.pages_key(), person, made)
        seed, practice, replaces = self._key.private_bytes_raw(), self.practice, self.replaces
        return SigningKey(self.name, self.role, seed, practice=practice, replaces=replaces, certificate=certificate)

    def has_its_certificate(self) -> bool:
        """Whether the certificate is that of this key's pages, of this person in this role."""
        from fieldassist.record.certificate import CertifiedPerson, is_certificate_of

        person = CertifiedPerson(self.name, self.role, self.practice)
        return is_certificate_of(self.certificate, self.pages_key(), person)

    @property
    def fingerprint(self) -> str:
        """The public key in short, to read out and compare."""
        return fingerprint(self.public_key)

    def __repr__(self) -> str:
        return f"SigningKey({self.name!r}, {self.role.value!r}, {self.fingerprint!r})"


_Hex24 = Annotated[str, Field(pattern=r"^[0-9a-f]{24}$")]
_Hex32 = Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]
_Hex64 = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
_Hex96 = Annotated[str, Field(pattern=r"^[0-9a-f]{96}$")]
_HexBytes = Annotated[str, Field(pattern=r"^([0-9a-f]{2}){1,1000}$")]


class _Entry(BaseModel):
    """The file of one person. Its form on disk is one only, so that any changed byte shows."""

    model_config = ConfigDict(extra="forbid", frozen=True, hide_input_in_errors=True)

    format: Literal[1] = 1
    name: SpokenName
    role: KeyRole
    public_key: _Hex64
    practice: bool = False
    replaces: _Hex64 | None = None
    certificate: _HexBytes | None = None
    # The limits keep a changed file from asking for more than a tablet has.
    passes: Annotated[int, Field(ge=1, le=20)]
    memory_kib: Annotated[int, Field(ge=8, le=1 << 20)]
    lanes: Annotated[int, Field(ge=1, le=16)]
    salt: _Hex32
    nonce: _Hex24
    encrypted: _Hex96
    refused: Annotated[int, Field(ge=0, le=1_000_000)] = 0
    last: Moment | None = None
    # Finds accidents, such as a flipped bit, before they look like a wrong PIN. No defence: anybody can compute it.
    checksum: str = ""

    @field_validator("last")
    @classmethod
    def _is_a_time(cls, last: Moment | None) -> Moment | None:
        if last is not None and (datetime.fromisoformat(last.wall).tzinfo is None or not math.isfinite(last.mono)):
            raise ValueError("the last refusal has no time")
        return last

    @classmethod
    def locked(cls, key: SigningKey, pin: str, seed: bytes) -> _Entry:
        """A fresh file that this PIN opens. seed: that of `key`."""
        entry = cls(
            name=key.name,
            role=key.role,
            public_key=key.public_key,
            practice=key.practice,
            replaces=key.replaces or None,
            certificate=key.certificate.hex() or None,
            passes=COST.passes,
            memory_kib=COST.memory_kib,
            lanes=COST.lanes,
            salt=secrets.token_hex(SALT_BYTES),
            nonce=secrets.token_hex(12),
            encrypted="0" * 96,
        )
        encrypted = entry._cipher(pin).encrypt(bytes.fromhex(entry.nonce), seed, entry._bound())
        return entry.model_copy(update={"encrypted": encrypted.hex()})

    def open(self, pin: str) -> bytes | None:
        """The private key's seed, or None when the PIN is not the one."""
        try:
            seed = self._cipher(pin).decrypt(bytes.fromhex(self.nonce), bytes.fromhex(self.encrypted), self._bound())
        except InvalidTag:
            return None
        # ChaCha20-Poly1305 does not commit to its key, and a file can be made with a PIN of one's own: what counts is
        # that the key which signs is the one that the file names.
        key = self.key(seed)
        # The certificate is bound to nothing in the file but that key.
        if key.public_key != self.public_key or (key.certificate and not key.has_its_certificate()):
            raise KeyDamaged(self.name)
        return seed

    def key(self, seed: bytes) -> SigningKey:
        """The key of this person that has this seed."""
        return SigningKey(
            self.name,
            self.role,
            seed,
            practice=self.practice,
            replaces=self.replaces or "",
            certificate=bytes.fromhex(self.certificate or ""),
        )

    def _cipher(self, pin: str) -> ChaCha20Poly1305:
        cost = Cost(self.passes, self.memory_kib, self.lanes)
        try:
            return ChaCha20Poly1305(derived(pin.encode("ascii"), bytes.fromhex(self.salt), cost))
        except MemoryError:
            raise KeyProblem(message("record-key-memory", size=f"{self.memory_kib // 1024} MB")) from None

    def _bound(self) -> bytes:
        """What the encrypted key belongs to: it does not open under another name, role or public key, nor with another
        mark."""
        owner = {"key": "fieldassist key 1", "name": self.name, "public_key": self.public_key, "role": self.role.value}
        return rfc8785.dumps({**owner, **self._marks()})

    def _marks(self) -> dict[str, str | bool]:
        """What stands in the file only where it is so."""
        practice: dict[str, str | bool] = {"practice": True} if self.practice else {}
        return practice | ({"replaces": self.replaces} if self.replaces is not None else {})

    def to_bytes(self) -> bytes:
        content = self.model_dump(mode="json", exclude={"checksum", "practice", "replaces", "certificate"})
        content |= self._marks() | ({"certificate": self.certificate} if self.certificate is not None else {})
        return rfc8785.dumps({**content, "checksum": hashlib.sha256(rfc8785.dumps(content)).hexdigest()})

    @property
    def holder(self) -> KeyHolder:
        certificate = bytes.fromhex(self.certificate or "")
        return KeyHolder(self.name, self.role, self.public_key, self.practice, self.replaces or "", certificate)


def keyring_for(data: Path, kind: DayKind) -> Keyring:
    """The people of a tablet who sign days of this kind: those for practice lie apart. data: the tablet's own folder.

    >>> keyring_for(Path("tablet"), "rehearsal").folder.name, keyring_for(Path("tablet"), "work").folder.name
    ('people-for-practice', 'people')
    """
    practice = kind != "work"
    return Keyring(data / ("people-for-practice" if practice else "people"), practice=practice)


def derived(secret: bytes, salt: bytes, cost: Cost) -> bytes:
    """The key that Argon2id (RFC 9106) makes of a secret. MemoryError where the machine has not so much memory."""
    kdf = Argon2id(salt=salt, length=TAG_BYTES, iterations=cost.passes, lanes=cost.lanes, memory_cost=cost.memory_kib)
    return kdf.derive(secret)


class Keyring:
    """Everybody who can sign on this tablet. Several programs may use the same folder at once.

    folder: made when the first PIN is set, for the tablet's user only (0700; files 0600). practice: the keys that are
    made here sign rehearsals only.
    now: a `Moment`, so that within one run of the machine its own clock counts the waits and setting the tablet's
    clock changes nothing; a `datetime` with its offset is taken as wall time. Where only wall time is left (after a
    restart), a clock that was set back starts the wait anew, never shortens it; one that was set forward ends it.

    >>> import tempfile
    >>> from datetime import UTC, datetime
    >>> keys = Keyring(Path(tempfile.mkdtemp()) / "keys")
    >>> now = datetime(2026, 3, 17, 15, 40, tzinfo=UTC)
    >>> holder = keys.set_pin("edwin", Role.FOREMAN, "271828", now=now)
    >>> len(keys.unlock("edwin", "271828", now).sign(b"the day"))
    64
    >>> keys.unlock("edwin", "314159", now)
    Traceback (most recent call last):
    fieldassist.record.keys.WrongPin: record-key-wrong-pin(name=edwin, left=4)
    """

    def __init__(self, folder: Path, *, practice: bool = False) -> None:
        self.folder = folder
        self.practice = practice

    def people(self) -> tuple[KeyHolder, ...]:
        """Who has a PIN here, by name. Damaged files are left out; `damaged` names them."""
        return tuple(entry.holder for entry in map(_read, self._files()) if entry is not None)

    def damaged(self) -> tuple[Path, ...]:
        """The files of people that are not as they were written."""
        return tuple(path for path in self._files() if _read(path) is None)

    def set_pin(
        self, name: str, role: KeyRole, pin: str, *, now: datetime | Moment, old: str | None = None
    ) -> KeyHolder:
        """Give a person a PIN, and the first time a key. Who has a PIN gives it as `old`; the key stays the same.

        WeakPin when the new one is too easily guessed. WrongPin and LockedOut for `old`, as `unlock`. KeyProblem when
        there is a PIN and no `old`, or the key was made for another role; NoSuchPerson where `old` is that of nobody.
        """
        name = _spoken(name)
        check_pin(pin)
        with self._locked():
            try:
                entry = self._entry(name)
            except NoSuchPerson:
                if old is not None:
                    raise
                return self._give_new_key(name, role, pin, now, replaces="")
            if old is None:
                raise KeyProblem(message("record-key-has-pin", name=name))
            if entry.role is not role:
                raise KeyProblem(message("record-key-other-role", name=name, role=entry.role.value))
            seed = self._tried(entry, old, now)
            return self._write(_Entry.locked(_certified(entry.key(seed), now), pin, seed)).holder

    def reset(self, name: str, role: KeyRole, pin: str, *, now: datetime | Moment) -> KeyHolder:
        """Give a person a new PIN and a NEW KEY, without the old PIN: the old key is gone for good.

        Days it signed stay valid, but the next one shows another fingerprint, which the owner has to be told: an
        inspector is warned that the key of this name changed. The new key names the one that it replaced, where that
        can still be read. WeakPin as `set_pin`.
        """
        name = _spoken(name)
        check_pin(pin)
        with self._locked():
            path = self._path(name)
            before = _read(path) if path.exists() else None
            return self._give_new_key(name, role, pin, now, replaces=before.public_key if before is not None else "")

    def _give_new_key(self, name: str, role: KeyRole, pin: str, now: datetime | Moment, *, replaces: str) -> KeyHolder:
        seed = secrets.token_bytes(32)
        key = _certified(SigningKey(name, role, seed, practice=self.practice, replaces=replaces), now)
        return self._write(_Entry.locked(key, pin, seed)).holder

    def unlock(self, name: str, pin: str, now: datetime | Moment) -> SigningKey:
        """The key of `name`, opened with the PIN. Takes up to about half a second, and 64 MiB of memory meanwhile.

        WrongPin says how many tries are left, LockedOut until when none is taken; NoSuchPerson; WeakPin when it is no
        PIN at all; KeyDamaged. A wrong PIN is counted on disk before it is answered.
        """
        name = _spoken(name)
        with self._locked():
            entry = self._entry(name)
            key = _certified(entry.key(self._tried(entry, pin, now)), now)
            if entry.certificate is None:
                told = {"certificate": key.certificate.hex(), "refused": 0, "last": None}
                self._write(entry.model_copy(update=told))
            return key

    def hand_on(self, name: str, pin: str, now: datetime | Moment) -> bytes:
        """The file of a person who gave the PIN, for another tablet: still locked with it; `record.carried` locks it
        once more for the way. Errors as `unlock`."""
        self.unlock(name, pin, now)
        with self._locked():
            return self._entry(_spoken(name)).to_bytes()

    def take_over(self, file: bytes, pin: str) -> KeyHolder:
        """Take over a person's file from another tablet; the PIN is what it was there. Nothing is counted: who has the
        file could try without this tablet. KeyProblem when the PIN does not open it, when it is for practice and this
        tablet's people are not (or the other way round), or when the person has a key here already."""
        entry = _parsed(file)
        if entry is None or _PIN.fullmatch(pin) is None or entry.open(pin) is None:
            raise KeyProblem(message("record-carried-pin"))
        if entry.practice is not self.practice:
            raise KeyProblem(message("record-carried-practice", name=entry.name))
        with self._locked():
            if self._path(entry.name).exists():
                here = _read(self._path(entry.name))
                same = here is not None and here.public_key == entry.public_key
                raise KeyProblem(message("record-carried-here", name=entry.name, same="yes" if same else "no"))
            return self._write(entry.model_copy(update={"refused": 0, "last": None})).holder

    def forget(self, name: str) -> None:
        """Remove a person's PIN and key for good. Days it signed stay valid. NoSuchPerson when there is none."""
        name = _spoken(name)
        with self._locked():
            try:
                self._path(name).unlink()
                sync_folder(self.folder)
            except FileNotFoundError:
                raise NoSuchPerson(name) from None
            except OSError as error:
                raise _refused_by_disk(error) from None

    # --- tries ----------------------------------------------------------------------------------------------------

    def _tried(self, entry: _Entry, pin: str, now: datetime | Moment) -> bytes:
        """The seed that the PIN opens, after the try was counted."""
        if _PIN.fullmatch(pin) is None:
            raise WeakPin(message("record-pin-no-try"))
        moment = now if isinstance(now, Moment) else _moment(now)
        wait = _wait(entry.refused)
        if wait and entry.last is not None:
            waited = entry.last.minutes_to(moment)
            if waited == 0:
                # No time has passed, or the clock was set back: wait from now, so that it neither ends early nor
                # lasts until a wrong clock's time comes round again.
                self._write(entry.model_copy(update={"last": moment}))
            if waited < wait:
                raise LockedOut(entry.name, _later(moment, wait - waited), counted=False)
        counted = self._write(entry.model_copy(update={"refused": entry.refused + 1, "last": moment}))
        try:
            seed = entry.open(pin)
        except KeyProblem:
            self._write(entry)  # not for want of the right PIN
            raise
        if seed is None:
            if counted.refused < FREE_TRIES:
                raise WrongPin(entry.name, FREE_TRIES - counted.refused)
            raise LockedOut(entry.name, _later(moment, _wait(counted.refused)), counted=True)
        self._write(entry.model_copy(update={"refused": 0, "last": None}))
        return seed

    # --- files ----------------------------------------------------------------------------------------------------

    def _files(self) -> list[Path]:
        return sorted(self.folder.glob("key[-_]*.json"))

    def _path(self, name: str) -> Path:
        return self.folder / _file_name(name)

    def _entry(self, name: str) -> _Entry:
        path = self._path(name)
        if not path.exists():
            raise NoSuchPerson(name)
        entry = _read(path)
        if entry is None:
            raise KeyDamaged(name)
        return entry

    def _write(self, entry: _Entry) -> _Entry:
        """Replace a person's file: the old one or the new one is there, whole, whatever happens."""
        try:
            with whole_file(self._path(entry.name), private=True) as file:
                file.write(entry.to_bytes())
        except OSError as error:
            raise _refused_by_disk(error) from None
        return entry

    @contextlib.contextmanager
    def _locked(self) -> Iterator[None]:
        """One program at a time, so that two cannot count the same try once."""
        try:
            self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            self.folder.chmod(0o700)
            lock = FileLock(self.folder / "lock", timeout=_LOCK_SECONDS, mode=0o600)
            lock.acquire()
        except Timeout:
            raise KeyProblem(message("record-keys-busy")) from None
        except (OSError, MemoryError) as error:
            raise _refused_by_disk(error) from None
        try:
            yield
        finally:
            lock.release()


def check_pin(pin: str) -> None:
    """WeakPin, with the reason, when `pin` is not 6 to 12 digits or is one of those that anybody would try first.

    >>> check_pin("271828")
    >>> check_pin("654321")
    Traceback (most recent call last):
    fieldassist.record.keys.WeakPin: record-pin-counts
    """
    why = why_refused(pin)
    if why is not None:
        raise WeakPin(why)


# --- public keys ------------------------------------------------------------------------------------------------------


def fingerprint(public_key: str) -> str:
    """A public key in short: SHA-256 of its 32 bytes, the first 32 hexadecimal digits in groups of four.

    public_key: 64 hexadecimal digits; ValueError when it is not. 128 bits, because to pass for somebody one must find a
    key with the very same fingerprint: about 2^128 attempts, as many as to break the key itself (NIST SP 800-107
    revision 1, section 5.1: the leftmost bits of a hash keep that strength). Eight groups can be read out on the phone.

    >>> fingerprint("d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a")
    '21fe 31df a154 a261 626b f854 046f d227'
    """
    raw = bytes.fromhex(public_key)
    if len(raw) != 32:
        raise ValueError(f"a public key has 64 hexadecimal digits, this has {len(public_key)}")
    digits = hashlib.sha256(raw).hexdigest()[:32]
    return " ".join(digits[i : i + 4] for i in range(0, 32, 4))


def certificate_hash(der: bytes) -> str:
    """The SHA-256 of a certificate, by which a seal names it; "" for none."""
    return hashlib.sha256(der).hexdigest() if der else ""


def public_pem(public_key: str) -> str:
    """A public key as a PEM file's text (SubjectPublicKeyInfo, RFC 8410): other programs read it too.

    >>> print(public_pem("19bf44096984cdfe8541bac167dc3b96c85086aa30b6b6cb0c5c38ad703166e1"), end="")
    -----BEGIN PUBLIC KEY-----
    MCowBQYDK2VwAyEAGb9ECWmEzf6FQbrBZ9w7lshQhqowtrbLDFw4rXAxZuE=
    -----END PUBLIC KEY-----
    """
    key = Ed25519PublicKey.from_public_bytes(bytes.fromhex(public_key))
    return key.public_bytes(Encoding.PEM, PublicFormat.SubjectPublicKeyInfo).decode("ascii")


def write_public(path: Path, public_key: str) -> None:
    """Write a public key as a PEM file for the owner or an inspector. KeyProblem when the disk refuses."""
    try:
        path.write_text(public_pem(public_key), encoding="ascii")
    except OSError as error:
        raise KeyProblem(message("record-key-not-written", file=str(path), why=error.strerror or str(error))) from None


def read_public(source: Path | str) -> str:
    """A public key or a fingerprint, as somebody was given it: a file's path, or the text itself.

    The text is PEM (RFC 8410), 64 hexadecimal digits, or a fingerprint; spaces, colons and hyphens between digits do
    not matter. Returns 64 digits for a key, 32 for a fingerprint. KeyProblem when it is neither.

    >>> read_public("21FE:31DF:A154:A261:626B:F854:046F:D227")
    '21fe31dfa154a261626bf854046fd227'
    """
    text = source if isinstance(source, str) else _text(source)
    found = _public_in(text)
    if found is None and isinstance(source, str) and "\n" not in source:
        found = _public_in(_text(Path(source)))
    if found is None:
        raise KeyProblem(message("record-key-neither"))
    return found


def same_key(known: Path | str, public_key: str) -> bool:
    """Whether `public_key` (64 digits) is the one given as `known`: whatever `read_public` takes.

    >>> key = "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a"
    >>> same_key(fingerprint(key), key), same_key("0" * 64, key)
    (True, False)
    """
    given = read_public(known)
    return given == public_key or given == fingerprint(public_key).replace(" ", "")


def _public_in(text: str) -> str | None:
    if "PRIVATE KEY" in text:
        raise KeyProblem(message("record-key-private"))
    if "-----BEGIN" in text:
        try:
            key = load_pem_public_key(text.encode("utf-8"))
        except (ValueError, UnsupportedAlgorithm):
            return None
        return key.public_bytes_raw().hex() if isinstance(key, Ed25519PublicKey) else None
    digits = re.sub(r"[\s:-]", "", text).lower()
    return digits if re.fullmatch(r"[0-9a-f]{32}(?:[0-9a-f]{32})?", digits) else None


def _text(path: Path) -> str:
    try:
        with open_regular(path) as file:
            return file.read(_LARGEST_FILE).decode("utf-8", errors="replace")
    except (OSError, ValueError):
        raise KeyProblem(message("record-key-no-file", file=str(path))) from None


# --- small things -----------------------------------------------------------------------------------------------------


def _read(path: Path) -> _Entry | None:
    """What the file says, or None when it is not as it was written."""
    try:
        with path.open("rb") as file:
            entry = _parsed(file.read(_LARGEST_FILE))
    except (OSError, MemoryError) as error:
        raise _refused_by_disk(error) from None
    return entry if entry is not None and path.name == _file_name(entry.name) else None


def _parsed(data: bytes) -> _Entry | None:
    try:
        entry = _Entry.model_validate_json(data)
    except ValueError:
        return None
    return entry if entry.to_bytes() == data else None


def _file_name(name: str) -> str:
    """Another one for every name, in letters that every file system keeps as they are.

    >>> _file_name("jean luc"), _file_name("jean-luc"), _file_name("josé")
    ('key-jean-luc.json', 'key-jean--luc.json', 'key_jos-dma.json')
    """
    plain = name.replace("-", "--").replace(" ", "-")
    return f"key-{plain}.json" if plain.isascii() else f"key_{plain.encode('punycode').decode('ascii')}.json"


def _spoken(name: str) -> str:
    # What was given is not repeated: it may be a PIN in the wrong field.
    with contextlib.suppress(ValidationError):
        return TypeAdapter[str](SpokenName).validate_python(name)
    raise KeyProblem(message("record-key-no-name"))


def _wait(refused: int) -> float:
    """Minutes until another try after so many wrong ones.

    >>> [_wait(n) for n in (4, 5, 6, 7, 10, 11, 12, 5000)]
    [0.0, 1.0, 2.0, 4.0, 32.0, 60.0, 60.0, 60.0]
    """
    over = refused - FREE_TRIES
    return 0.0 if over < 0 else min(LONGEST_WAIT_MIN, 2.0 ** min(over, 10))


def _certified(key: SigningKey, now: datetime | Moment) -> SigningKey:
    """The key with a certificate: its own, or one that is good from now on."""
    if key.certificate:
        return key
    return key.with_certificate(datetime.fromisoformat(now.wall) if isinstance(now, Moment) else now)


def _moment(now: datetime) -> Moment:
    """Wall time only: `mono` is it too, and no run of a machine has this name."""
    if now.tzinfo is None:
        raise ValueError("the time needs its offset from UTC")
    return Moment(wall=now.isoformat(), mono=now.timestamp(), boot="wall time")


def _later(moment: Moment, minutes: float) -> datetime:
    return datetime.fromisoformat(moment.wall) + timedelta(minutes=minutes)


def _minute_after(when: datetime) -> datetime:
    """The next full minute: nobody should be told a time that is a little too early."""
    full = when.replace(second=0, microsecond=0)
    return full if full == when else full + timedelta(minutes=1)


def _refused_by_disk(error: OSError | MemoryError) -> KeyProblem:
    return KeyProblem(message("record-keys-disk", why=why(error)))
