# What an inspector is told of a PDF, a bundle or a day's log.

# --- the verdict

proof-whole = Whole, sealed to the last event, and in agreement with itself.
proof-whole-no-proof = Whole and in agreement with itself, but no work was done in it: it is proof of nothing.
proof-is-practice = PRACTICE: a day to try the tablet on. No tile was set in it; it is proof of nothing.
proof-is-rehearsal = REHEARSAL: a script was played. No tile was set in it; it is proof of nothing.
proof-unvouched = Whole, but nobody vouched for the key that sealed it: anybody could have made this record.
proof-unsealed = Whole, but not everything is vouched for: see above.
proof-pages-open = NOT VOUCHED FOR are the pages of this file, see above. Its record is whole: print the pages anew from it with fieldassist reprint, or ask for the signed file.
proof-damaged = NOT GOOD: damaged or changed, see above. Do not rely on it; ask for the bundle from the tablet.
proof-unread = Not verified.
proof-gave-up = It was given up: { $why }. Nothing is known about it.
proof-too-slow = it was not read within { $seconds } s
proof-reader-ended = reading it ended the reader; it may be made to do harm
proof-too-much-memory = reading it took more memory than any day of ours

# --- the file

proof-no-file = There is no file at { $file }. Check the name.
proof-none-of-ours = { $name } is neither a PDF nor a bundle nor a day's log, or its beginning is gone.
proof-is-pdf = { $name } is a daily log on paper (PDF).
proof-is-bundle = { $name } is a bundle.
proof-is-log = { $name } is a day's log.
proof-too-large-pdf = { $name } is larger than a daily log on paper (PDF) can be. It was not read.
proof-too-large-bundle = { $name } is larger than a bundle can be. It was not read.
proof-too-large-log = { $name } is larger than a day's log can be. It was not read.
proof-not-to-its-end = { $file } could not be read to its end ({ $why }).
proof-facts-damaged = The record in { $file } is not whole ({ $why }), so no facts are told of it. verify tells more.
proof-is-lines = { $name } is the second copy of a day's log, or what was saved of a damaged one: one event a line.
proof-too-large-lines = { $name } is larger than a day's lines can be. It was not read.
proof-sha256 = Its SHA-256 is { $hash }.
proof-some = { $more ->
    [0] { $first }
   *[other] { $first } and { $more } more
}

# --- the record

proof-day = The day: { $site }, { $date }.
proof-continues = { $areas }: goes on from { $date }, head { $head }{ $left ->
    [sealed] , sealed then
    [signed] , signed then and not sealed
   *[open] , not signed then
}. Verify that day too: its head must be this one.
proof-event-not-good = { $good ->
    [0] Event { $event } is not good: { $why }.
    [one] Event { $event } is not good: { $why }. The 1 event before it is good.
   *[other] Event { $event } is not good: { $why }. The { $good } events before it are good.
}
proof-no-day = It holds no day: its first event opens none.
proof-chain = { $events ->
    [one] All 1 event follow from each other; the head is { $head }.
   *[other] All { $events } events follow from each other; the head is { $head }.
}
proof-newer = If a newer version than { $version } wrote it, verify it with that one before you judge.
proof-seal-not-good = { $part ->
    [0] The seal in event { $event } (the day, { PERSON($name) }, { $role ->
        [foreman] foreman
        [owner] owner
       *[installer] installer
    }) is not good: { $why }.
   *[other] The seal in event { $event } (addendum { $part }, { PERSON($name) }, { $role ->
        [foreman] foreman
        [owner] owner
       *[installer] installer
    }) is not good: { $why }.
}
proof-sealed = { $part ->
    [0] Sealed: the day, events 1 to { $covers }, by { PERSON($name) }, { $role ->
        [foreman] foreman
        [owner] owner
       *[installer] installer
    }, at { $at }; fingerprint of the key { $key }.
   *[other] Sealed: addendum { $part }, events 1 to { $covers }, by { PERSON($name) }, { $role ->
        [foreman] foreman
        [owner] owner
       *[installer] installer
    }, at { $at }; fingerprint of the key { $key }.
}
proof-look-into = Look into this seal: { $warning }.
proof-no-seal = No good seal: nobody's key vouches for these events.
proof-after-the-seal = { $events ->
    [one] The last 1 event, from event { $first } on, came after the last seal: nobody's key vouches for them.
   *[other] The last { $events } events, from event { $first } on, came after the last seal: nobody's key vouches for them.
}
proof-whose-key = Nobody vouched for the key that made the seal: whose it is no file can tell by itself. Give the roster that came with the contract (--roster), or the key or fingerprint that the signer gave you (--key).
proof-key-made-none = The key you gave ({ $key }) made none of its good seals.
proof-key-made-earlier = The key you gave ({ $key }) sealed events 1 to { $covers }; what came after was sealed with another key.
proof-key-made-last = The key you gave ({ $key }) made the last seal.

# --- rosters and countersignatures

proof-roster = Your roster: { $firm }, made { $made }{ $later ->
    [yes] , which is after this day was signed
   *[no] {""}
}, signed by { PERSON($name) }, { $role ->
    [firm] the firm
   *[owner] owner
}; fingerprint of that key { $key }.
proof-roster-inside = With it came the roster of { $firm }, made { $made }, signed by { PERSON($name) }; fingerprint of that key { $key }. { $use ->
    [same] It is the one that you have.
    [newer] It is newer than yours and signed by the same key: it was used.
   *[none] It proves nothing by itself, and was not used: whoever makes a record can make a roster for it.
}
proof-roster-not-good = The roster that came with it is not good: { $why }
proof-vouched = The roster vouches for the key of { PERSON($name) }, { $role ->
    [foreman] foreman
    [owner] owner
   *[installer] installer
}: { $key }.
proof-vouch-unknown = Event { $event }: the roster does not know the key with which { PERSON($name) } signed ({ $key }).
proof-vouch-other = Event { $event }: signed as { PERSON($name) }, { $role ->
    [foreman] foreman
    [owner] owner
   *[installer] installer
}, with a key that the roster gives to { PERSON($whose) }, { $as ->
    [foreman] foreman
    [owner] owner
    [inspector] inspector
   *[installer] installer
} ({ $key }). A key signs for one person in one role.
proof-vouch-practice = Event { $event }: the key with which { PERSON($name) } signed ({ $key }) stands in a roster for another kind of days: those for practice and for work are apart.
proof-vouch-early = Event { $event }: { PERSON($name) } signed before { $since }, from when on the roster vouches for the key ({ $key }).
proof-vouch-late = Event { $event }: { PERSON($name) } signed after { $until }, until when the roster vouches for the key ({ $key }).
proof-vouch-revoked = Event { $event }: the key with which { PERSON($name) } signed ({ $key }) was revoked from { $since } on{ $why ->
    [none] {""}
   *[other] {" "}({ $why })
}, and no trusted time shows that this was signed before: a countersignature or a time stamp that is older.
proof-vouch-certificate = Event { $event }: the seal of { PERSON($name) } names another certificate for pages than the roster.
proof-receipt = Countersigned by { PERSON($name) }, { $role ->
    [inspector] inspector
   *[owner] owner
}, at { $at }: events 1 to { $events }; fingerprint of the key { $key }, { $known ->
    [yes] which you know
   *[no] for which nobody vouched: compare it
}. { $later ->
    [0] Nothing came after it.
    [one] 1 event came after it.
   *[other] { $later } events came after it.
}
proof-receipt-not-good = { $file }: { $why }.

# --- hold points

proof-pin-not-good = Event { $event } is said to be by the PIN of { PERSON($name) }, and is not good: { $why }.
proof-pin-look-into = Look into event { $event }, said to be by PIN: { $warning }.
proof-method-by-pin = By the PIN of { PERSON($name) } combination { $letter } of a trial is released for { $areas } (event { $event }); fingerprint of the key { $key }.
proof-released-by-pin = { $count ->
    [one] By the PIN of { PERSON($name) }, { $role ->
        [foreman] foreman
        [owner] owner
       *[installer] installer
    }: the hold point of event { $events } is released; fingerprint of the key { $key }, { $seals ->
        [yes] which also made a good seal here.
       *[no] which made no seal here: compare it with the one that { PERSON($name) } gave you.
    }
   *[other] By the PIN of { PERSON($name) }, { $role ->
        [foreman] foreman
        [owner] owner
       *[installer] installer
    }: the hold points of events { $events } are released; fingerprint of the key { $key }, { $seals ->
        [yes] which also made a good seal here.
       *[no] which made no seal here: compare it with the one that { PERSON($name) } gave you.
    }
}
proof-key-replaced = Event { $event }: { PERSON($name) } signs with a new key, because the PIN was forgotten. Compare its fingerprint.
proof-releases-called = { $count ->
    [one] The hold point of event { $events } was released by word only: no PIN confirms it.
   *[other] { $count } hold points were released by word only, and no PIN confirms them: events { $events }.
}

# --- the clock and the tablet's days

proof-clock-set = { $times ->
    [one] The tablet's clock was set once, by { $longest } min. Times of day before and after do not compare.
   *[other] The tablet's clock was set { $times } times, by { $longest } min at most. Times of day before and after do not compare.
}
proof-clock-not-watched = { $times ->
    [one] The tablet was started anew once after { $longest } min in which nothing was written.
   *[other] The tablet was started anew { $times } times, after { $longest } min at most in which nothing was written.
} Nobody can tell whether its clock was set meanwhile.
proof-recovered = Event { $event }: the log was damaged and put together again. { $missing ->
    [0] Nothing is known to be missing.
    [one] One event is missing that was there, and { $behind } more were kept apart: nobody vouches for what they said.
   *[other] { $missing } events are missing that were there, and { $behind } more were kept apart: nobody vouches for what they said.
}
proof-clock-not-noted = { $count ->
    [one] The clock of the tablet moved against the machine's own before event { $events }, and the record does not say so, or says otherwise.
   *[other] The clock of the tablet moved against the machine's own before events { $events } ({ $count } in all), and the record does not say so, or says otherwise.
}
proof-date-other = The plan is for { $planned }, and the day was begun at { $began } by the tablet's clock.
proof-tablet-first = It is the first day of tablet { $tablet }.
proof-tablet-day = It is day { $number } of tablet { $tablet }. The day before it ({ $date }) had { $events } events then, head { $head }: verify both together to see that nothing is missing.
proof-tablet-announces = { $number ->
    [0] A day of { $date } that was begun elsewhere had { $events } events by then, head { $head }: a copy with fewer is an older one.
   *[other] Day { $number } of the tablet ({ $date }) had { $events } events by then, head { $head }: a copy with fewer is an older one.
}
proof-tablet-book = The tablet's book of days was { $book ->
    [lost] lost
   *[damaged] damaged
} before this day: its days before have another number and name of the tablet. Ask for them, and why.
proof-tablet-nonsense = It says that it is day { $number } of its tablet, and what it says of the days before does not fit that.

proof-set-days = Of tablet { $tablet } { $count ->
    [one] day { $days } was handed over.
   *[other] the days { $days } were handed over.
}
proof-set-gap = Day { $number } of tablet { $tablet } was not handed over: { $date }, { $events } events at least, head { $head }.
proof-set-gap-unknown = Day { $number } of tablet { $tablet } was not handed over.
proof-set-gaps-more = { $count ->
    [one] 1 more day of tablet { $tablet } was not handed over.
   *[other] { $count } more days of tablet { $tablet } were not handed over.
}
proof-set-fork = { $file } and { $other } should be the same day and differ from event { $event } on: one of them was made anew.
proof-set-older-than = { $file } is an older copy of { $other }: { $lacks ->
    [one] its last event is missing.
   *[other] its last { $lacks } events are missing.
}
proof-set-older = { $file } is an older copy: { $other } says that { $lacks ->
    [one] 1 event followed
   *[other] { $lacks } events followed
}, up to head { $head }. Ask for them.
proof-set-not-as-announced = { $file } is not the day that { $other } announced: { $date }, with { $events } events and head { $head }. One of them was made anew.
proof-set-continued = { $file } goes on from { $other }, as it stood there.
proof-set-unnumbered = { $count ->
    [one] { $files } has no number on a tablet
   *[other] { $files } have no number on a tablet
}: nothing tells whether a day beside is missing.
proof-set-tablets = The files are of { $count } tablets ({ $tablets }). Ask whether so many were in use: a tablet whose book was lost counts anew.
proof-set-whole = All files are whole, and no day between them is missing.
proof-set-open = Not everything is vouched for, or days are missing: see above.
proof-set-damaged = NOT GOOD: at least one file is damaged or changed, or a day is there twice. Do not rely on it.
proof-set-unread = At least one file could not be verified.
proof-folder-empty = There is nothing in { $folder } that can be checked.

# --- time stamps

proof-stamp = Events 1 to { $events } were there on { $at }, says { $authority }, { $known ->
    [yes] whose root you gave.
   *[no] which nothing here vouches for: give the root of that authority with --root.
}
proof-stamp-before = Event { $event } is dated { $wall }, after the time at which it was stamped: the tablet's clock was ahead.
proof-stamp-not-known = The time stamp { $file } is not vouched for: { $why }.
proof-stamp-not-good = The time stamp { $file } is not good: { $why }.
# --- sense

proof-senseless = Event { $event } makes no sense: { $why }.
proof-sense = All { $events } events were decided again, one by one, and come out as they stand.
proof-sense-no-rules = It was begun with a version that did not write down what was asked, so its events cannot be decided again. Version { $version } can check it.
proof-sense-newer-rules = It was decided by the rules { $rules }, and this version knows those up to { $known }: its events were not decided again. Verify it with the version that made it.
proof-sense-field = { $field } says { $said } and should be { $should }
proof-sense-other-event = it says "{ $said }", and what follows here is "{ $should }"
proof-sense-missing = "{ $what }" should follow it, and is missing
proof-sense-unasked = nothing that was asked brings about "{ $what }" here
proof-sense-refused = "{ $asked }" is refused here: { $why }
proof-sense-not-refused = it says that "{ $asked }" was refused, and it would have been taken
proof-sense-refused-what = it says that something was refused, and not what was asked
proof-sense-in-signed = the day was signed before it, and was not opened again
proof-sense-second-day = a day is open already
proof-sense-not-carried = the area { $area } should go on from another day, and does not
proof-sense-nobody = it is about { $name }, who is not of the crew
proof-sense-form = its values are not written as this program writes them
proof-sense-hidden = a text in it holds signs that nobody sees
proof-sense-breaks = it cannot follow what stands before it
proof-sense-year = its time, { $wall }, is in a year in which the clock stands wrong
proof-sense-back = the machine's own clock went back by { $seconds } s
proof-sense-run-again = it is of a run of the machine that was over before
proof-sense-hurry = more than { $most } things were asked within a minute
proof-sense-recovered = it says that { $events } events went on after a damage, and its gaps and numbers do not fit the events before it
proof-sense-run-out = a clock ({ $clock }, started by event { $started }) had run out { $minutes } min before it, and nobody was told

# --- lots

proof-trials-need-more = The trials were not reckoned again: that needs { $library }, which is not installed here. Check it again after: pip install 'fieldassist[tablet]'.
proof-trials-not-checked = The trials could not be reckoned again: the events of this record do not make sense together.
proof-trial-not-good = The trial's event { $event } is not good: { $why }.
proof-trial-head = its order is not drawn from the head of the record as it stood then
proof-trial-order = its order is another one than that head draws
proof-trial-turn = a sample of { $letter } was not in its turn
proof-trial-method = the method that is released is not that of combination { $letter }
proof-trial-release-head = it names a head that this record never had
proof-trial-figures = the samples of { $letter } do not give the figures that { PERSON($name) } released
proof-trials-good = { $orders ->
    [one] The order of the samples was
   *[other] The orders of the samples were
} drawn again and as the record has it, { $samples ->
    [one] 1 sample was
   *[other] { $samples } samples were
} made in turn{ $releases ->
    [0] {""}
    [one] {", and the figures of the released method follow from them"}
   *[other] {", and the figures of the released methods follow from them"}
}.
proof-lots-not-checked = The lots could not be drawn again: the events of this record do not make sense together.
proof-lot-not-good = The lot of event { $event } is not good: { $why }.
proof-lot-other-seed = the seed that it shows is not the one whose hash was committed
proof-lot-number = it was drawn as number { $said }, and is number { $should } of the day
proof-lot-often = it was drawn at one in { $said }, where one in { $should } holds
proof-lot-forced = { $said ->
    [yes] it is said to be forced, and the row without a lift was not that long
   *[no] the row without a lift forced it, and the record does not say so
}
proof-lot-known = no hash of a hidden seed stood in the record then, so it could be known beforehand
proof-lot-fell = { $said ->
    [yes] it is said to have fallen, and by the seed it did not
   *[no] it is said not to have fallen, and by the seed it did
}
proof-lot-no-lift = lift { $lift } is said to be by lot, and no lot fell on that tile
proof-lots-good = { $drawn ->
    [one] 1 lot was drawn again from the seed shown in event { $events } and is as the record has it: { $fell } fell, { $forced } forced.
   *[other] { $drawn } lots were drawn again from the seed shown in event { $events } and are as the record has them: { $fell } fell, { $forced } forced.
}
proof-lots-hidden = { $drawn ->
    [one] The seed committed in event { $event } was never shown: 1 lot drawn from it cannot be checked.
   *[other] The seed committed in event { $event } was never shown: { $drawn } lots drawn from it cannot be checked.
}
proof-lots-not-drawn = { $count ->
    [one] For 1 tile no lot was drawn, though the checklist asks for one: event { $events }.
   *[other] For { $count } tiles no lot was drawn, though the checklist asks for one: events { $events }.
}
proof-lots-missed = { $count ->
    [one] 1 tile on which a lot fell was not looked under: an open point.
   *[other] { $count } tiles on which a lot fell were not looked under: open points.
}

# --- attachments

proof-attachment-wrong = Attachment { $file } of event { $event } { $why }.
proof-attachment-missing = is missing in { $folder }
proof-attachment-changed = was changed
proof-attachment-lost = was lost on the tablet before the bundle was made
proof-attachment-not-in-pdf = is missing in the PDF
proof-attachments = { $count ->
    [one] 1 attachment present, each as its event says.
   *[other] { $count } attachments present, each as its event says.
}
proof-attachments-in-bundle = { $count ->
    [one] 1 photo itself is not in the PDF, its copy is: the photo is in the bundle of the day, and its hash is in the events.
   *[other] { $count } photos themselves are not in the PDF, their copies are: the photos are in the bundle of the day, and their hashes are in the events.
 }
proof-attachments-elsewhere = Not in it, for their size or because the tablet lost them: { $files }. Their hashes are in the events, so they can be checked when they are handed over.
proof-copy-shows-other = The copy { $file } of event { $event }, which pages show, does not show what the photo { $of } shows.
proof-copies-not-compared = { $count ->
    [one] Not looked at: whether the copy of 1 photo, which pages show, fits the photo, which is not here. Verify the bundle of the day for that.
   *[other] Not looked at: whether the copies of { $count } photos, which pages show, fit the photos, which are not here. Verify the bundle of the day for that.
}
proof-copies-unseen = Whether their copies show what they show cannot be told here, since these photos cannot be opened: { $files }.
proof-backs = { $count ->
    [one] 1 measured back is what its files show: its figures reckoned again from its cells, its picture held against the photo.
   *[other] { $count } measured backs are what their files show: their figures reckoned again from their cells, their pictures held against the photos.
}
proof-backs-by-copy = { $count ->
    [one] 1 measured back is what its files show: its figures reckoned again from its cells, its picture held against the smaller copy of its photo. The photo itself is not here.
   *[other] { $count } measured backs are what their files show: their figures reckoned again from their cells, their pictures held against the smaller copies of their photos. The photos themselves are not here.
}
proof-backs-reckoned = { $count ->
    [one] Not done again here: the reckoning of 1 back from its photo. Its taps, its cells and its interval are taken as recorded.
   *[other] Not done again here: the reckoning of { $count } backs from their photos. Their taps, their cells and their intervals are taken as recorded.
}
proof-backs-not-compared = { $count ->
    [one] Not looked at in full: 1 measured back, of which cells, picture or photo are not here whole.
   *[other] Not looked at in full: { $count } measured backs, of which cells, picture or photo are not here whole.
}
proof-backs-unseen = Whether they show what their photos show cannot be told here, since these pictures or their photos cannot be opened: { $files }.
proof-back-shows-other = The back measured in event { $event } is not what its files show: { $why }.
proof-back-cells = the file of its cells holds none ({ $why })
proof-back-percent = it tells contact of { $said } %, its cells come to { $so } %
proof-back-void = it tells a largest void of { $said }, its cells come to { $so }
proof-back-void-between = between what its largest void lies does not follow from its cells
proof-back-place = its largest void lies elsewhere in its cells
proof-back-circle = no circle of the diameter that it tells lies in its largest void
proof-back-edges = it tells other edges and corners than its cells show
proof-back-doubt = it tells an interval { $said } points wide, its strokes come to { $so }
proof-back-picture = its picture is not the photo squared up by its corners
proof-attachment-loose = Event { $event } speaks of the file “{ $file }”, which is not named by its content: it cannot be checked.

# --- a log

proof-written-meanwhile = { $name } is being written faster than it can be read, or is larger than any day. Try again when nobody works on it.
proof-foreign = It is a database, but not a day of ours: { $why }.
proof-log-strange = The database file is not as a day's log is: { $why }.
proof-log-nothing = there is nothing in it
proof-log-no-table = it has no table of events as a day's log has
proof-log-not-to-its-end = it cannot be read to its end ({ $why })
proof-log-no-mark = it does not carry the mark of a day's log
proof-log-format = its format is { $format }, and { $known } is the one that this version knows
proof-log-holds = it has what no log of ours has, or lacks what it should have: { $names }

# --- what is left of a damaged log

proof-range = { $count ->
    [one] event { $first }
   *[other] events { $first } to { $last }
}
proof-left = { $events ->
    [one] 1 event can be read all the same: { $ranges }. What stands together follows from each other.
   *[other] { $events } events can be read all the same: { $ranges }. What stands together follows from each other.
}
proof-left-missing = { $count ->
    [one] Missing is 1 event: { $ranges }.
   *[other] Missing are { $count } events: { $ranges }.
}
proof-left-changed = Changed since the event after it was written, and left out: event { $events }.
proof-left-sealed = The seal in event { $event }, by { PERSON($name) }, still vouches for { $range }: links lead back from it to each of them. Fingerprint of the key { $key }.
proof-left-taken-out = { $events ->
    [one] 1 event was taken out of the database: event { $first } still stands on its pages.
   *[other] { $events } events were taken out of the database: from event { $first } on they still stand on its pages.
}
proof-copy-longer = { $events ->
    [one] The second copy beside it holds 1 event more, event { $first }: the database lost it, or it was taken out.
   *[other] The second copy beside it holds { $events } events more, from event { $first } on: the database lost them, or they were taken out.
}
proof-copy-otherwise = The second copy beside it tells of another event in line { $line }: one of the two was changed. Ask which.
proof-lines-torn = Its last line is torn.

# --- a bundle

proof-bundle-not-good = { $why }
proof-no-paper = It holds no daily log on paper.
proof-paper-shows-nothing = So the daily log in this bundle shows nothing. The bundle's events were judged above.
proof-paper-of-another-record = The daily log in it was printed from another record than the bundle's.
proof-paper-earlier = The daily log in it was printed at event { $event } of { $events }: that is no sign of forgery, but it does not show what came later.

# --- a PDF

proof-nothing-to-check = So nothing in it can be checked. Ask for the bundle.
proof-paper-unreadable = It was not read: { $why }.
proof-no-record = No record is attached to the PDF: it is no daily log of ours, or the record was taken out.
proof-strange-program = the program that it names is none of ours
proof-manifest-not-good = manifest.json, attached to the PDF, is missing or not good: { $why }.
proof-events-not-whole = events.jsonl, attached to the PDF, is not whole: { $why }.
proof-record-not-whole = the attached record is not whole
proof-page-strange = The page verify.html in it is none that this program knows up to version { $version }: do not open it. Get one from somebody whom you trust, or write one with fieldassist verify --page.
proof-page-not-written = { $file } could not be written ({ $why }).
proof-pages-need-more = The pages were not compared: the print of a trial needs { $library }, which is not installed here. Check it again after: pip install 'fieldassist[tablet]'.
proof-pages-not-compared = The pages were not compared: { $why }.
proof-cannot-print = the attached record cannot be printed again ({ $why })
proof-reprint-onto-itself = { $file } is not written over: it is what the pages are printed from.
proof-pages-same-bytes = The attached record, printed again, gives this very PDF, byte for byte: the pages show the record.
proof-pages-same-drawing = The attached record, printed again, gives the same pages as this program reads them, but not the same bytes: the file was packed again, and another viewer may show other pages in it. Print them anew with fieldassist reprint.
proof-pages-other-pictures = The attached record, printed again, gives the same pages as this program reads them, but pictures in them are packed differently. They look the same; to judge details, use the originals that are attached, or print the pages anew with fieldassist reprint.
proof-pages-other-marks = The pages say, word for word, what the attached record says, but something else is not as this version prints it. Marks can cover words, and pictures can be replaced: rely on the attached record, not on these pages.
proof-pages-other-words = The pages do not say what the attached record says when this version prints it.
proof-pages-signed = All bytes of this PDF are signed by { PERSON($name) }, { $role ->
    [foreman] foreman
    [owner] owner
   *[installer] installer
}, with the certificate that the last seal of its record names. Who signed answers for what the pages show; whoever doubts it prints them anew from the record with fieldassist reprint.
proof-signed-by-another = All bytes of this PDF are signed, but not with a certificate that the last seal of its record names: whoever signed it did not seal the record.
proof-certificate-names-another = The certificate shows another name or role in viewers than { PERSON($name) }, { $role ->
    [foreman] foreman
    [owner] owner
   *[installer] installer
}, who sealed.
proof-signature-not-good = The PDF bears a signature that is not good: { $why }.
proof-loose-packed = it was packed again since
proof-loose-beginning = its first bytes are others than ours
proof-loose-end = something follows its end, or its end is missing
proof-loose-table = its table of objects is not one whole list
proof-loose-trailer = its trailer is not as ours
proof-loose-object = object { $object } does not lie between its neighbours as ours do, or something else lies there
proof-loose-stream = the content of object { $object } is not one whole packed stream
proof-loose-value = a value in it is written as we write none
proof-loose-key = a key in it is written twice, or with an escape
proof-loose-unused = object { $object } belongs to nothing that can be seen
proof-loose-part = object { $object } stands where it does not belong
proof-loose-part-here = a part of it stands where it does not belong
proof-loose-keys = object { $object } says what our pages do not say
proof-loose-keys-here = a part of it says what our pages do not say
proof-loose-picture = the picture in object { $object } is not one plain JPEG
proof-loose-drawing = the drawing in object { $object } holds words that ours are not made of
proof-loose-font = the font in object { $object } gives a code more than one meaning
proof-loose-structure = object { $object } of its structure says something else than its pages, or in another order
proof-loose-pages = its list of pages is not one plain list
proof-loose-fields = it has other fields than that of one signature
proof-loose-files = its list of attached files is not plain
proof-loose-objects = its objects are not those of a daily log
proof-loose-signature = the signature is not written as ours
proof-loose-range = the signature leaves out more than itself
proof-difference = { $difference }
proof-added = Added to this PDF was what its record does not give: { $what }.
proof-another-version = The PDF says that { $program } made it, which no seal covers; this is { $version }, and versions may print differently. Check the pages with { $program }, or print them anew with fieldassist reprint; the record was judged above.
proof-disagreement = { CAPITAL($what) }.
proof-file-not-as-listed = { $file }, attached to the PDF, is not as manifest.json says.
proof-files-strange = Files are attached to the PDF that do not belong to its record: { $files }.
proof-files-unknown = Attached to the PDF are files that no daily log of ours has up to version { $version }: { $files }. Nobody checks what they say; do not rely on them.
proof-tables-differ = Attached to the PDF is what its record does not give when it is made again: { $files }. Rely on the record, not on that.
proof-tables-of-another-version = Attached to the PDF is what this version, { $version }, makes otherwise: { $files }. { $program } is said to have made it, and versions may tell a record in other words: it was not judged.
proof-tables-not-compared = Whether what is attached to the PDF is what its record gives was not looked at: { $files } ({ $why }).
proof-tables-need-more = Whether what is attached to the PDF is what its record gives was not looked at: { $files }. For a trial this needs { $library }, which is not installed here. Check it again after: pip install 'fieldassist[tablet]'.
proof-files-twice = Files are attached to the PDF more than once, under one name: { $files }.
proof-pdf-damaged = the PDF is damaged, or was made so that it cannot be read
proof-pdf-encrypted = the PDF is encrypted, which a daily log of ours never is
proof-pdf-pages = the PDF has { $pages } pages
proof-pdf-much-attached = more is attached to it than to any daily log
proof-nothing = nothing
proof-words = “{ $words }”
proof-other-line = Page { $page }, line { $line } says { $said }; by the record it says { $should }.
proof-other-pages = It has { $pages } pages; by the record it has { $should }.
proof-loose-ends = It holds earlier versions of itself, or loose ends that another reader may show.
proof-first-difference = The first difference is { $where }.
proof-where-drawn = in what is drawn on page { $page }
proof-where-around = in the typefaces or in what stands around the pages
proof-where-picture = { $page ->
    [0] in a picture
   *[other] in a picture on page { $page }
}
proof-added-script = a script
proof-added-on-opening = an action on opening
proof-added-by-themselves = actions that start by themselves
proof-added-program = an action that starts a program
proof-added-sends-data = an action that sends data
proof-added-fetches-data = an action that fetches data
proof-added-other-file = a jump into another file
proof-added-attached-file = a jump into an attached file
proof-added-address = an address on the network
proof-added-form = form fields
proof-added-media = sound or film
proof-added-layers = layers that can be switched off
proof-added-laid-over = marks laid over its pages
proof-added-marks = marks or fields on its pages ({ $kind })
