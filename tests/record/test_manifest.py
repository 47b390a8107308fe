"""What a record says of itself, and where it was changed: read from texts, by the chain alone."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Sequence
from typing import Any

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.moment import TYPED, Moment
from fieldassist.checklist.plan import DayPlan
from fieldassist.record import manifest as module
from fieldassist.record.chain import GENESIS, Chain, canonical_text, chain_hash, check_texts
from fieldassist.record.manifest import (
    ATTACHED,
    EVENTS,
    FileEntry,
    Manifest,
    attached,
    copies,
    disagreements,
    first_named,
    manifest_bytes,
    read_manifest,
    split_lines,
    unkept,
)
from fieldassist.trade.message import Message, Refused, message

PHOTO = hashlib.sha256(b"a photo").hexdigest()
SOUND = hashlib.sha256(b"a sound").hexdigest()
PHOTO_NAME, SOUND_NAME = f"{PHOTO[:16]}.jpg", f"{SOUND[:16]}.flac"
AT_NO_STEP = {"area": "shower wall", "section": "", "round": 0, "step": "", "answers": False}


def events_of(*bodies: Any) -> list[Event]:
    moments = [Moment(wall=f"2026-03-17T07:{n:02}:00+01:00", mono=60.0 * n, boot="b") for n in range(len(bodies))]
    facts = enumerate(zip(moments, bodies, strict=True), start=1)
    return [Event(seq=seq, id=f"e{seq}", at=at, by="rosa", source=TYPED, body=body) for seq, (at, body) in facts]


def chain_of(events: Sequence[Event]) -> tuple[list[str], str]:
    """The stored texts and the head."""
    texts, before = [], GENESIS
    for event in events:
        texts.append(canonical_text(event, before))
        before = chain_hash(texts[-1])
    return texts, before


@pytest.fixture(scope="session")
def events(plan: DayPlan) -> list[Event]:
    return events_of(
        ev.DayOpened(plan=plan),
        ev.NoteMade(text='mortar came at nine, "half" of it'),
        ev.PhotoAttached(**AT_NO_STEP, file=PHOTO_NAME, sha256=PHOTO),
        ev.NoteMade(text="corner reset, 3°, 日", audio=SOUND_NAME, sha256=SOUND),
        ev.WeatherNoted(text="dry"),
    )


def test_a_photo_and_its_copy_are_both_spoken_of_and_one_without_a_copy_alone(plan: DayPlan) -> None:
    copy = hashlib.sha256(b"a copy").hexdigest()
    copy_name = f"{copy[:16]}.jpg"
    photo = ev.PhotoAttached(**AT_NO_STEP, file=PHOTO_NAME, sha256=PHOTO)
    copied = photo.model_copy(update={"copy_file": copy_name, "copy_sha256": copy})
    assert attached(events_of(ev.DayOpened(plan=plan), photo)) == {PHOTO_NAME: PHOTO}
    of_both = events_of(ev.DayOpened(plan=plan), photo, copied)
    assert attached(of_both) == {PHOTO_NAME: PHOTO, copy_name: copy}
    assert copies(of_both) == {PHOTO_NAME: copy_name}
    assert first_named(of_both) == {PHOTO_NAME: 2, copy_name: 3}
    elsewhere = photo.model_copy(update={"copy_file": "../day.db", "copy_sha256": copy})
    assert unkept(events_of(ev.DayOpened(plan=plan), elsewhere)) == [(2, "../day.db")]


@pytest.fixture(scope="session")
def texts(events: list[Event]) -> list[str]:
    return chain_of(events)[0]


@pytest.fixture(scope="session")
def head(events: list[Event]) -> str:
    return chain_of(events)[1]


@pytest.fixture(scope="session")
def true(events: list[Event], head: str, plan: DayPlan) -> Manifest:
    """The manifest of these events."""
    files = [
        FileEntry(name=EVENTS, bytes=10, sha256="ab" * 32),
        FileEntry(name=ATTACHED + PHOTO_NAME, bytes=7, sha256=PHOTO),
        FileEntry(name=ATTACHED + SOUND_NAME, bytes=0, sha256=SOUND, left_out=True),
    ]
    return Manifest(
        bundle=1, date=plan.date, site=plan.site, events=len(events), head=head, files=files, program="fieldassist 0"
    )


# --- manifest.json ------------------------------------------------------------------------------------------------


def test_a_manifest_is_read_back_as_it_was_written(true: Manifest) -> None:
    data = manifest_bytes(true)
    assert read_manifest(data) == true
    # Sorted keys without spaces, which RFC 8785 equals for ASCII strings and whole numbers.
    assert json.dumps(json.loads(data), sort_keys=True, separators=(",", ":")).encode() == data


def test_only_a_file_that_is_left_out_says_so(true: Manifest) -> None:
    said = json.loads(manifest_bytes(true))["files"]
    assert [f.get("left_out") for f in said] == [None, None, True]


def test_the_site_stands_in_it_as_rfc_8785_writes_strings(true: Manifest) -> None:
    # RFC 8785 section 3.2.2: the "string" of its example; section 3.2.4 gives the canonical bytes of it.
    example = "\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"\u002f"
    octets = bytes.fromhex("22 e2 82 ac 24 5c 75 30 30 30 66 5c 6e 41 27 42 5c 22 5c 5c 5c 5c 5c 22 2f 22")
    data = manifest_bytes(true.model_copy(update={"site": example}))
    assert b'"site":' + octets + b"}" in data
    assert read_manifest(data).site == example


OTHER_FORMS: dict[str, Callable[[bytes], bytes]] = {
    "a space": lambda d: d.replace(b":", b": ", 1),
    "a line end": lambda d: d + b"\n",
    "a mark in front": lambda d: b"\xef\xbb\xbf" + d,
    "an escaped letter": lambda d: d.replace(b'"fieldassist', b'"\\u0066ieldassist'),
    "another order": lambda d: json.dumps(dict(reversed(json.loads(d).items())), separators=(",", ":")).encode(),
    "a key twice": lambda d: d.replace(b'{"bundle":1', b'{"bundle":1,"bundle":1'),
    "a number as text": lambda d: d.replace(b'"bytes":10', b'"bytes":"10"'),
    "a number with a fraction": lambda d: d.replace(b'"bytes":10', b'"bytes":10.0'),
    "what goes without saying": lambda d: d.replace(b'"name":"events', b'"left_out":false,"name":"events'),
    "true as a number": lambda d: d.replace(b'"bundle":1', b'"bundle":true'),
}


@pytest.mark.parametrize("kind", OTHER_FORMS)
def test_a_manifest_in_any_other_form_is_refused(true: Manifest, kind: str) -> None:
    """One content has one form, so that nothing can be said in the choice of it."""
    data = manifest_bytes(true)
    other = OTHER_FORMS[kind](data)
    assert other != data
    with pytest.raises(Refused, match=r"record-(no-manifest|manifest-form)"):
        read_manifest(other)


@given(st.binary(max_size=200) | st.text(max_size=200).map(lambda t: json.dumps(t).encode()))
def test_whatever_is_no_manifest_is_a_value_error(data: bytes) -> None:
    with pytest.raises(Refused, match="record-no-manifest"):
        read_manifest(data)


def test_a_manifest_that_is_too_large_is_not_parsed() -> None:
    with pytest.raises(Refused, match="record-manifest-too-large"):
        read_manifest(b"[" * (module.LARGEST_MANIFEST + 1))


# --- events.jsonl -------------------------------------------------------------------------------------------------


@given(st.lists(st.text().map(lambda t: t.replace("\n", "")), min_size=1))
def test_only_a_line_feed_ends_a_line(lines: list[str]) -> None:
    """Texts hold other characters at which some programs break lines, such as U+2028 and U+0085."""
    assert split_lines("".join(f"{line}\n" for line in lines).encode()) == lines


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "record-lines-cut"),
        (b"{}", "record-lines-cut"),
        (b"{}\n{", "record-lines-cut"),
        (b"\xc3\x28\n", "record-lines-no-text"),
        (b"\xed\xa0\x80\n", "record-lines-no-text"),  # half of a surrogate pair is no UTF-8 (RFC 3629 section 3)
        (b"\n" * 100_001, "record-lines-many"),
        (b"x" * (8 * 1024 * 1024 + 1) + b"\n", "record-lines-long"),
    ],
    ids=["nothing", "no end", "cut short", "no UTF-8", "a surrogate", "too many lines", "too long a line"],
)
def test_lines_beyond_the_bounds_are_a_value_error(data: bytes, why: str) -> None:
    with pytest.raises(Refused, match=why):
        split_lines(data)


# --- attachments --------------------------------------------------------------------------------------------------


def test_photos_and_sounds_are_told_in_the_order_of_the_events(events: list[Event]) -> None:
    assert list(attached(events).items()) == [(PHOTO_NAME, PHOTO), (SOUND_NAME, SOUND)]
    assert unkept(events) == []


@pytest.mark.parametrize(
    ("name", "digest"),
    [
        ("../../0123456789abcdef.jpg", PHOTO),
        (f"{'0' * 16}.jpg", PHOTO),  # the name of another content
        ("lift one.jpg", PHOTO),
        (PHOTO_NAME, None),
    ],
)
def test_a_file_that_is_not_named_by_its_content_cannot_be_handed_over(name: str, digest: str | None) -> None:
    [event] = events_of(ev.NoteMade(text="x", audio=name, sha256=digest))
    assert attached([event]) == {}
    assert unkept([event]) == [(1, name)]


@pytest.mark.parametrize("digest", [PHOTO[:16], PHOTO.upper(), ""])
def test_a_digest_that_is_none_stands_in_no_event(digest: str) -> None:
    with pytest.raises(ValidationError, match="sha256"):
        ev.NoteMade(text="x", audio=PHOTO_NAME, sha256=digest)


# --- the chain ----------------------------------------------------------------------------------------------------


def test_a_whole_chain_is_read_to_its_end(texts: list[str], head: str, events: list[Event]) -> None:
    assert check_texts(texts, head) == Chain(events, [chain_hash(text) for text in texts])
    assert check_texts(texts) == check_texts(texts, head)


@given(data=st.data())
def test_a_text_changed_anywhere_is_the_one_that_is_named(texts: list[str], head: str, data: st.DataObject) -> None:
    seq = data.draw(st.integers(1, len(texts)))
    text = texts[seq - 1]
    at = data.draw(st.integers(0, len(text) - 1))
    other = data.draw(st.text(max_size=3).filter(lambda t: t != text[at]))
    chain = check_texts([*texts[: seq - 1], text[:at] + other + text[at + 1 :], *texts[seq:]], head)
    assert (chain.bad, len(chain.events), len(chain.hashes)) == (seq, seq - 1, seq - 1)
    assert chain.fault is not None
    assert chain.fault.figures.get("event", chain.fault.figures.get("place")) in (str(seq), str(seq + 1))


@pytest.mark.parametrize("seq", [1, 2, 3, 4])
def test_without_the_head_a_change_is_still_named_but_in_the_last_two(texts: list[str], seq: int) -> None:
    """The event after the next one has to tell which of two neighbours fits."""
    changed = [*texts]
    changed[seq - 1] = texts[seq - 1].replace('"by":"rosa"', '"by":"otto"')
    assert check_texts(changed).bad == (seq if seq < 4 else 5)
    changed = [*texts[:-1], texts[-1].replace("dry", "wet")]
    assert check_texts(changed).bad is None


@pytest.mark.parametrize("seq", [1, 2, 3, 4])
def test_an_event_that_was_taken_out_is_missed_where_it_stood(texts: list[str], head: str, seq: int) -> None:
    chain = check_texts([*texts[: seq - 1], *texts[seq:]], head)
    assert (chain.bad, chain.fault) == (seq, message("record-elsewhere", event=str(seq + 1), place=str(seq)))


def test_events_taken_off_the_end_are_missed_when_the_head_is_known(texts: list[str], head: str) -> None:
    chain = check_texts(texts[:3], head)
    assert chain.bad == 3
    assert chain.fault == message("record-head", event="3")
    assert check_texts([], head).bad == 1
    assert check_texts([]) == Chain([], [])


def test_two_events_that_changed_places_are_found(texts: list[str], head: str) -> None:
    assert check_texts([texts[0], texts[2], texts[1], *texts[3:]], head).bad == 2


def test_an_event_put_in_is_found_even_when_the_chain_was_made_to_fit(events: list[Event], head: str) -> None:
    more = [*events[:2], events[1].model_copy(update={"seq": 3, "id": "new"})]
    more += [e.model_copy(update={"seq": e.seq + 1}) for e in events[2:]]
    forged, _ = chain_of(more)
    assert check_texts(forged).bad is None, "the chain alone cannot tell"
    assert check_texts(forged, head).bad == 6, "the head can"


def test_an_id_that_stands_twice_is_found(events: list[Event]) -> None:
    """A log has each id once, so such events could not be kept."""
    twice, head = chain_of([*events, events[1].model_copy(update={"seq": 6})])
    assert check_texts(twice, head).fault == message("record-id-twice", event="6")


@pytest.mark.parametrize(
    "text",
    [
        "",
        "null",
        "[]",
        "[" * 100_000,
        '{"prev":' * 50_000,
        '{"seq":1e999}',
        '{"seq":' + "9" * 5000 + "}",
        '{"prev":NaN,"seq":true}',
        '{"prev":"\\ud800"}',
        "\ufffd",
    ],
    ids=["nothing", "null", "a list", "deep", "deep objects", "1e999", "digits", "NaN", "a surrogate", "replaced"],
)
def test_a_text_that_is_no_event_is_named_and_nothing_more_happens(texts: list[str], head: str, text: str) -> None:
    chain = check_texts([texts[0], text, *texts[2:]], head)
    assert (chain.bad, len(chain.events)) == (2, 1)
    assert chain.fault is not None
    assert "2" in chain.fault.figures.values()


# --- manifest and events ------------------------------------------------------------------------------------------


def test_a_manifest_that_is_true_disagrees_in_nothing(true: Manifest, events: list[Event]) -> None:
    assert disagreements(true, events) == []


@pytest.mark.parametrize(
    ("changes", "found"),
    [
        ({"date": "2026-03-18"}, message("record-differs-date", said="2026-03-18", so="2026-03-17")),
        ({"events": 4}, message("record-differs-events", said="4", so="5")),
        ({"files": []}, message("record-file-missing", file=PHOTO_NAME)),
        (
            {"files": [FileEntry(name=f"{ATTACHED}{'0' * 16}.jpg", bytes=1, sha256="0" * 64)]},
            message("record-file-strange", file=f"{'0' * 16}.jpg"),
        ),
        (
            {"files": [FileEntry(name=ATTACHED + PHOTO_NAME, bytes=1, sha256=PHOTO[:16] + "0" * 48)]},
            message("record-file-other-hash", file=PHOTO_NAME),
        ),
    ],
)
def test_each_thing_that_is_not_so_is_told(
    true: Manifest, events: list[Event], changes: dict[str, Any], found: Message
) -> None:
    assert found in disagreements(true.model_copy(update=changes), events)


def test_a_long_lie_is_told_briefly(true: Manifest, events: list[Event]) -> None:
    [told] = disagreements(true.model_copy(update={"site": "x" * 100_000}), events)
    assert len(str(told)) < 300


def test_events_that_open_no_day_are_told(true: Manifest, events: list[Event]) -> None:
    for some in ([], events[1:]):
        assert disagreements(true, some) == [message("record-opens-none")]


def test_the_events_may_hold_a_number_that_no_reading_is() -> None:
    """A division by nothing is an error of its own in Python; here it is an event that does not read as one."""
    raw = {
        "at": {"boot": "b", "mono": 1, "wall": "w"},
        "body": AT_NO_STEP | {"type": "reading called", "quantity": "length", "value": "1/0", "unit": "mm"},
        "by": "rosa",
        "id": "x",
        "prev": GENESIS,
        "seq": 1,
    }
    fault = check_texts([rfc8785.dumps(raw).decode()]).fault
    assert fault is not None
    assert fault.code == "record-no-event"
