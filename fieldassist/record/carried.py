"""A person's key on its way to another tablet: a file, and six words on paper.

The file holds the person's key file as it is, still locked with the PIN, locked once more under six words that are
drawn for this one file, shown once and kept nowhere. The words are drawn each alike from 2,048, so they hold 66 bits:
whoever finds the file and makes a thousand million guesses in a second, which Argon2id at 64 MiB a guess leaves to
nobody, needs a thousand years on average, and then has the PIN before them. Whoever gets file and words has the PIN
alone to guess, with nobody counting: the paper goes another way than the file, and both are destroyed on arrival.

Role, mark for practice, certificate and the key that was replaced travel with it, since they are bound to what is
locked. Both tablets then sign with one key.
"""

from __future__ import annotations

import re
import secrets
from functools import cache
from pathlib import Path
from typing import Annotated, Literal

import rfc8785
from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from fieldassist.files import read_regular
from fieldassist.places import shipped
from fieldassist.record import keys
from fieldassist.record.disk import whole_file
from fieldassist.record.keys import SALT_BYTES, Cost, KeyProblem, derived
from fieldassist.trade.message import message

WORDS = 6
_LARGEST_FILE = 16 * 1024


class _CarriedFile(BaseModel):
    """What is written. The limits keep a changed file from asking for more than a tablet has."""

    model_config = ConfigDict(extra="forbid", frozen=True, hide_input_in_errors=True)

    carried: Literal["fieldassist carried 1"] = "fieldassist carried 1"
    passes: Annotated[int, Field(ge=1, le=20)]
    memory_kib: Annotated[int, Field(ge=8, le=1 << 17)]
    lanes: Annotated[int, Field(ge=1, le=16)]
    salt: Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]
    nonce: Annotated[str, Field(pattern=r"^[0-9a-f]{24}$")]
    encrypted: Annotated[str, Field(pattern=r"^([0-9a-f]{2})*$")] = ""

    def cipher(self, words: str) -> ChaCha20Poly1305:
        cost = Cost(self.passes, self.memory_kib, self.lanes)
        try:
            return ChaCha20Poly1305(derived(words.encode("ascii"), bytes.fromhex(self.salt), cost))
        except MemoryError:
            raise KeyProblem(message("record-key-memory", size=f"{self.memory_kib // 1024} MB")) from None

    def bound(self) -> bytes:
        """What the locked key belongs to: all else in the file."""
        return rfc8785.dumps(self.model_dump(mode="json", exclude={"encrypted"}))


@cache
def drawn_words() -> tuple[str, ...]:
    """The 2,048 words that are drawn from."""
    return tuple((shipped("assets") / "drawn-words.txt").read_text(encoding="ascii").split())


def write_carried(out: Path, key_file: bytes) -> str:
    """Lock what `Keyring.hand_on` gave and write it. Returns the six words that open it, to be shown once.

    KeyProblem when the disk refuses.
    """
    words = " ".join(secrets.choice(drawn_words()) for _ in range(WORDS))
    made = _CarriedFile(
        passes=keys.COST.passes,
        memory_kib=keys.COST.memory_kib,
        lanes=keys.COST.lanes,
        salt=secrets.token_hex(SALT_BYTES),
        nonce=secrets.token_hex(12),
    )
    encrypted = made.cipher(words).encrypt(bytes.fromhex(made.nonce), key_file, made.bound())
    made = made.model_copy(update={"encrypted": encrypted.hex()})
    try:
        with whole_file(out, private=True) as file:
            file.write(rfc8785.dumps(made.model_dump(mode="json")))
    except OSError as error:
        why = error.strerror or str(error)
        raise KeyProblem(message("record-carried-not-written", file=str(out), why=why)) from None
    return words


def read_carried(path: Path, words: str) -> bytes:
    """The person's file, for `Keyring.take_over`. words: as they were shown; case and blanks do not matter.

    KeyProblem when the file is none, when a word is none of ours, or when they are not those of the file.
    """
    said = re.findall(r"[a-z]+", words.lower())
    if len(said) != WORDS:
        raise KeyProblem(message("record-carried-count", wanted=WORDS, given=len(said)))
    for word in said:
        if word not in drawn_words():
            raise KeyProblem(message("record-carried-word", word=word[:40]))
    try:
        carried = _CarriedFile.model_validate_json(read_regular(path, _LARGEST_FILE))
    except OSError as error:
        why = error.strerror or str(error)
        raise KeyProblem(message("record-carried-no-file", file=str(path), why=why)) from None
    except ValidationError:
        raise KeyProblem(message("record-carried-none", file=str(path))) from None
    try:
        cipher = carried.cipher(" ".join(said))
        return cipher.decrypt(bytes.fromhex(carried.nonce), bytes.fromhex(carried.encrypted), carried.bound())
    except InvalidTag:
        raise KeyProblem(message("record-carried-words")) from None
