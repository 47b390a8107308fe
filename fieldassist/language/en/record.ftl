# The record: its log, keys, seals and bundles, when something is wrong with them.

# --- an event that does not fit

record-text-gone = event { $event } is not whole: its text is gone
record-not-whole = event { $event } is not whole ({ $what })
record-link = event { $event } does not follow from the event before it: its link does not fit
record-no-event = event { $event } does not read as an event ({ $what })
record-elsewhere = event { $event } stands where event { $place } should be
record-form = event { $event } is not in the form in which it was written
record-row = a row numbered { $row } stands where event { $place } should be
record-id = event { $event } stands under another id
record-id-twice = event { $event } has the id of an earlier one
record-hash = event { $event } does not fit its hash
record-next-link = event { $event } does not fit the link of the next
record-head = event { $event } does not fit the head, or events after it are gone
record-sqlite = { $why }

# --- the log

record-exists = { $file } exists already. Open it, or choose another name.
record-copy-exists = { $file } is gone, but { $copy }, its second copy, is there. To get the day back: fieldassist recover { $file } ; for a new day choose another name.
record-no-folder = The folder { $folder } cannot be made: { $why }.
record-no-day = There is no day at { $file }. Check the name, or open a new day there.
record-no-file = { $file } is no file. Check the name: a day is one file, such as 2026-03-17.db.
record-empty = it is empty
record-database-gone = it is gone, and its second copy is there
record-altered = its database has what no day of ours has, or lacks what it should have: { $names }
record-copy-longer = { $events ->
    [one] its second copy holds 1 event more, which it has lost
   *[other] its second copy holds { $events } events more, which it has lost
}
record-open-already = The day { $day } is open already, in another window or program. Go on there, or close it there first; to only look at it: fieldassist events { $file }
record-open-elsewhere = { $day } is open in another program. Close it there first.
record-locked = Another program holds { $day }. Close it there first; nothing was changed.
record-folder = { $folder } cannot be written: { $why }. Nothing was changed.
record-no-room = { $file } cannot be read: there is no room for a copy. Free some space, then try again.
record-unreadable = { $file } cannot be read ({ $why }). Check that the disk is there and can be read.
record-newer = { $file } was written by a newer fieldassist (its format is { $format }, this one knows { $known }). It was not touched: update this one, then open it again.
record-older = { $file } was written by a trial version of fieldassist (its format is { $format }, this one knows { $known }). It was not touched: look at it with that version, and begin a new day with this one.
record-foreign = { $file } is a database, but not a day of ours. It was not touched.
record-cannot-open = { $file } cannot be opened ({ $why }). Check that the disk is there and can be written. If the disk is failing, save what it still gives: fieldassist recover { $file }
record-no-memory = The tablet has no memory left to open { $day }. Close other programs, then try again; nothing was changed.
record-disk-full = The disk is full: nothing can be written to { $folder }. Nothing was changed, and what is in { $day } is safe. Free some space, then go on; to only look at it: fieldassist events { $file }
record-only-looked-at = This day is only looked at here. Nothing was written.
record-out-of-order = Event { $event } cannot follow: event { $place } comes next. Nothing was written.
record-not-written = The tablet could not write this down ({ $why }). It is not in the log: check the disk, then say it again. { $events ->
    [one] The one event before it is safe.
   *[other] The { $events } events before it are safe.
}
record-not-written-full = The disk is full ({ $why }): this is not in the log. Free some space, then say it again. { $events ->
    [one] The one event before it is safe.
   *[other] The { $events } events before it are safe.
}
record-not-written-memory = The tablet has no memory left to write this down. It is not in the log: close other programs, then say it again. { $events ->
    [one] The one event before it is safe.
   *[other] The { $events } events before it are safe.
}
record-not-written-held = Another program holds { $day }: this is not in the log. Close it there, then say it again. { $events ->
    [one] The one event before it is safe.
   *[other] The { $events } events before it are safe.
}
record-copy-behind = The second copy of the day, { $copy }, cannot be written ({ $why }). The day itself is safe in its log; check the disk.
record-copy-aside = The second copy of the day, { $copy }, told of other events than its log. It was put aside as { $aside }, and a new one was written: find out who changed the log.
record-damaged = { $whole ->
    [0] The log { $file } is damaged ({ $reason }). It was not touched. No event that a day can go on from was found; to save what else can be read: fieldassist recover { $file } ; and look for a copy of the file.
    [one] The log { $file } is damaged ({ $reason }). It was not touched. 1 event from the first on can be saved to go on with, and the damaged file is kept beside it: fieldassist recover { $file }
   *[other] The log { $file } is damaged ({ $reason }). It was not touched. { $whole } events from the first on can be saved to go on with, and the damaged file is kept beside it: fieldassist recover { $file }
}
record-nothing-to-recover = { $file } is whole; there is nothing to recover.
record-unsound = The events of { $day } do not follow from each other ({ $why }), so nobody can work on it. Nothing of it was changed. Check it with verify.
record-nothing-whole = No whole event could be read from { $file } ({ $reason }). It was not touched.
record-beginning-gone = The first event of { $file } is gone ({ $reason }), so no day can go on from it. { $events ->
    [one] 1 event was read all the same, event { $first }
   *[other] { $events } events were read all the same, from event { $first } on
}, and kept in { $kept }; to look at it: fieldassist verify { $kept } . The damaged file was not touched.
record-not-recovered = { $file } could not be recovered ({ $why }). The damaged file was kept. Copy it to a disk that can be written, and recover it there.

# --- attachments

record-file-too-large = The file has { $size }; up to { $most } can be attached. Nothing was kept of it: take the photo at a lower resolution.
record-file-kind = A file that ends in “{ $suffix }” cannot be attached.
record-seed-not-kept = The seed of the lots cannot be kept on this tablet ({ $why }). Nothing was begun: free some space or check the disk, then try again.
record-book-not-kept = The book of this tablet's days ({ $file }) cannot be written ({ $why }). Free some space or check the disk, then try again.
record-file-not-kept = The tablet could not keep the file ({ $why }). It is not attached: free some space or check the disk, then try again. The day itself is safe.

# --- people's keys

record-key-nobody = { PERSON($name) } has no PIN on this tablet yet. Set one first, then sign.
record-key-wrong-pin = { $left ->
    [one] That is not the PIN of { PERSON($name) }. One try is left before a wait. Nothing was signed.
   *[other] That is not the PIN of { PERSON($name) }. { $left } tries are left before a wait. Nothing was signed.
}
record-key-locked-out = Too many wrong PINs for { PERSON($name) }. The next is taken at { $at }. Nothing was signed; the day is kept and can go on meanwhile.
record-key-damaged = The key file of { PERSON($name) } is damaged. Days signed before stay valid. Put back a copy of the file, or reset the PIN: that makes a new key, so tell the owner its new fingerprint.
record-key-memory = The tablet has no { $size } of memory free to check a PIN. Close other programs and try again; nothing was signed.
record-key-has-pin = { PERSON($name) } has a PIN already. Give the old one to change it; reset it if it is forgotten.
record-key-other-role = { $role ->
    [foreman] The key of { PERSON($name) } was made for a foreman and stays that. For another role a new key is made: reset the PIN.
    [owner] The key of { PERSON($name) } was made for an owner and stays that. For another role a new key is made: reset the PIN.
    [inspector] The key of { PERSON($name) } was made for an inspector and stays that. For another role a new key is made: reset the PIN.
    [firm] The key of { PERSON($name) } was made for a firm and stays that. For another role a new key is made: reset the PIN.
   *[installer] The key of { PERSON($name) } was made for an installer and stays that. For another role a new key is made: reset the PIN.
}
record-key-not-written = { $file } cannot be written: { $why }. Choose another place for it.
record-key-neither = This is neither a public key (a PEM file, or 64 hexadecimal digits) nor a fingerprint (32 digits). Ask the signer for it again.
record-key-private = This is a private key, which nobody should hand out. Ask for the public one.
record-key-no-file = There is no key that can be read at { $file }. Check the name of the file.
record-key-no-name = That is not a name: one to six words of letters, hyphens and apostrophes. Give the name first.
record-keys-busy = Another program is using the keys. Wait a moment and try again.
record-keys-disk = The keys cannot be read or written ({ $why }). Nothing was signed; the day is kept. Free some space or check the disk, then try again.
record-pin-no-try = A PIN is 4 to 12 digits. This was not counted as a try: give it again.
record-pin-form = A new PIN is 6 to 12 digits, nothing else. Choose one of that form.
record-pin-same-digit = A PIN of one digit, or of two, or with the same one almost all along, is guessed first. Choose another.
record-pin-counts = Digits that count up or down are guessed first. Choose another PIN.
record-pin-repeats = A group that repeats, pairs, and what reads the same backwards are guessed first. Choose another PIN.
record-pin-keys = A pattern on the keys, such as rows and columns, is guessed first. Choose another PIN.
record-pin-date = A date or a year is guessed first. Choose another PIN.

# --- seals

record-seal-unsigned = Only a day that was just signed can be sealed. Sign it, then seal it.
record-seal-other-pin = { PERSON($signed) } signed, but the PIN given was that of { PERSON($given) }. Nothing was sealed: { PERSON($signed) } has to give the PIN.
record-seal-other-role = The key of { PERSON($name) } was made for { $made ->
    [foreman] a foreman
    [owner] an owner
    [inspector] an inspector
    [firm] a firm
   *[installer] an installer
}, and { PERSON($name) } signed as { $role ->
    [foreman] foreman
    [owner] owner
   *[installer] installer
}. Nothing was sealed: a key for that role is made in the crew's set-up.
record-seal-practice-key = The key of { PERSON($name) } was made for practice, and this day is work. Nothing was signed: give a PIN for work in the crew's set-up.
record-seal-real-key = The key of { PERSON($name) } is for work, and this day is none. Nothing was signed: give a PIN for practice in the crew's set-up.
record-seal-no-foreman = the day's plan has no foreman called { $name }
record-seal-no-sign-off = it does not follow a sign-off
record-seal-covers = it claims to cover { $covers } events, but the sign-off before it is event { $event }
record-seal-by = it is by { $name }, { $role ->
    [foreman] foreman
    [owner] owner
   *[installer] installer
}, but { $signed }, { $signed-role ->
    [foreman] foreman
    [owner] owner
   *[installer] installer
}, signed the day
record-seal-part = { $part ->
    [0] it is for the day, but addendum { $signed } was signed
   *[other] { $signed ->
        [0] it is for addendum { $part }, but the day was signed
       *[other] it is for addendum { $part }, but addendum { $signed } was signed
    }
}
record-seal-head = the events up to { $event } are not those that were sealed: their hash is another
record-seal-signature = the signature is not that of this key over these events
record-signature-form = it is no signature in the form in which this program writes them
record-signature-other-bytes = the signature is not that of its certificate's key over these bytes
record-seal-another-key = { PERSON($name) } sealed with another key in event { $event }: ask whether the PIN was reset, and compare the fingerprint
record-seal-shared-key = { PERSON($name) } sealed with the same key in event { $event }: two people cannot share one

# --- releases by PIN

record-release-role = the day's plan has nobody called { $name } who is { $role ->
    [foreman] foreman
    [owner] owner
   *[installer] installer
}
record-release-deputy = the day's plan does not name { $name } deputy for { $foreman }
record-release-not-called = event { $event } is no release in the name of { $name }
record-release-signature = the signature is not that of this key over this release
record-release-another-key = { PERSON($name) } signed with another key in event { $event }: ask whether the PIN was reset, and compare the fingerprint
record-release-shared-key = { PERSON($name) } signed with the same key in event { $event }: a key belongs to one person in one role

# --- a key that is carried to another tablet

record-carried-not-written = The key could not be written to { $file } ({ $why }). Choose another place for it.
record-carried-no-file = There is no carried key that can be read at { $file } ({ $why }).
record-carried-none = { $file } is no carried key, or was changed. Carry it anew from the tablet that has it.
record-carried-count = It takes { $wanted } words; these are { $given }. Read them off the paper again.
record-carried-word = “{ $word }” is none of the words that are drawn. Read it off the paper again.
record-carried-words = These are not the words of this file, or the file was changed. Nothing was taken over.
record-carried-pin = The PIN does not open this key: give the one that it has on the other tablet. Nothing was taken over.
record-carried-practice = The key of { PERSON($name) } is of the other kind, for practice or for work. Nothing was taken over.
record-carried-here = { $same ->
    [yes] { PERSON($name) } has this key here already. Nothing was changed.
   *[no] { PERSON($name) } has another key here. Remove that first, if it is to be given up; nothing was changed.
}

# --- rosters

record-roster-signer = A roster is signed by an owner or by a firm; the key of { PERSON($name) } was made for { $role ->
    [foreman] a foreman
    [inspector] an inspector
   *[installer] an installer
}. Nothing was written.
record-roster-nobody = The roster has nobody called { PERSON($name) } whose key is still good. Nothing was changed.
record-roster-large = It is too large for a roster. Ask for it again.
record-roster-none = It is no roster ({ $what }). Ask whoever gave it for the file as it was made.
record-roster-form = It is not in the form in which a roster is written: it was changed. Ask for it again.
record-roster-key-twice = It names a key twice: a key belongs to one person in one role. Ask for it again.
record-roster-signature = It is not signed by the key of { PERSON($name) } that it names: it was changed. Ask for it again.
record-roster-no-file = There is no roster that can be read at { $file } ({ $why }).
record-roster-not-written = The roster could not be written to { $file } ({ $why }). Choose another place for it.

# --- countersignatures

record-receipt-no-day = There is no day in it that could be countersigned.
record-receipt-unsealed = Only a day that is sealed to its last event is countersigned. The foreman signs it first.
record-receipt-role = An owner or an inspector countersigns; the key of { PERSON($name) } was made for { $role ->
    [foreman] a foreman
    [firm] a firm
   *[installer] an installer
}. Nothing was signed.
record-receipt-none = it is no countersignature
record-receipt-form = it is not in the form in which a countersignature is written
record-receipt-signature = it is not signed by the key of { PERSON($name) } that it names
record-receipt-not-written = The countersignature could not be written to { $file } ({ $why }). Choose another place for it.
record-receipt-no-file = There is no countersignature that can be read at { $file } ({ $why }).
record-receipt-other-day = it is about another site or date
record-receipt-cut = it was given for { $signed } events, and this record has { $events }: it is an older copy, or later events were cut off
record-receipt-head = it was given for a record with another event { $event }, or another one before that

# --- what proves a day beside its log

record-proofs-many = { $folder } holds { $most } already, which is as many as a bundle takes. Nothing was kept.
record-proof-not-kept = This could not be kept beside the day ({ $why }). The day itself is safe. Free some space or check the disk, then try again.

# --- manifest and lines

record-manifest-too-large = manifest.json is too large
record-no-manifest = manifest.json does not read as a manifest ({ $what })
record-manifest-form = manifest.json is not in the form in which a manifest is written
record-lines-cut = events.jsonl: its last line is not whole
record-lines-many = events.jsonl: it has more than { $most } lines
record-lines-no-text = events.jsonl: it is no text, from byte { $byte } on
record-lines-long = events.jsonl: it has a line that is longer than any event
record-opens-none = its first event does not open a day
record-differs-date = manifest.json gives the date as “{ $said }”, the events as “{ $so }”
record-differs-site = manifest.json gives the site as “{ $said }”, the events as “{ $so }”
record-differs-kind = manifest.json says that the day is “{ $said }”, the events say “{ $so }”
record-differs-events = manifest.json gives the number of events as “{ $said }”, the events as “{ $so }”
record-file-missing = { $file } is missing, and an event speaks of it
record-file-strange = { $file } is in it, and no event speaks of it
record-file-other-hash = manifest.json gives another hash of { $file } than the event

# --- the cells of a measured back

record-cells-not-grey = it is a picture, but not one in grey of one byte a dot, as the cells of a back are kept
record-cells-many = it has more than { $most } cells, which no back has
record-cells-size = its { $columns } by { $rows } cells fit no back of that size
record-cells-damaged = it is damaged, or no PNG picture

# --- bundles

record-bundle-changed-while-read = { $bundle } was changed while it was read, in { $file }. Read it again.
record-bundle-nothing = { $day } holds no event yet: there is nothing to hand over.
record-bundle-onto-itself = { $file } is what is to be packed. Choose another name; nothing was written.
record-bundle-not-written = The bundle could not be written to { $file } ({ $why }). The day itself is safe in its log. Free some space or choose another folder, then hand it over again.
record-bundle-too-large = This day is too large for a bundle ({ $what }; { $size }, { $events } events, { $files } files). Nothing was written; the day is safe. Hand over its log and the folder of its attachments.
record-bundle-the-whole = the whole
record-bundle-changed-while-packed = { $file } was changed while it was packed. Nothing was written: try again.
record-bundle-unreadable = { $file } cannot be read ({ $why }). Check the name and the disk.
record-bundle-huge = { $bundle } has { $size }: no bundle of ours is so large. It was not read.
record-bundle-damaged = { $whole ->
    [0] { $bundle } is damaged: { $where }. Nothing was taken from it. Ask for the bundle again: the tablet that made it has the day.
   *[other] { $bad ->
        [none] { $bundle } is damaged: { $where }. { $whole } whole events can be read in it. Nothing was taken from it. Ask for the bundle again: the tablet that made it has the day.
       *[other] { $bundle } is damaged: { $where }. { $whole } whole events can be read in it. The first event that is not good is event { $bad }. Nothing was taken from it. Ask for the bundle again: the tablet that made it has the day.
    }
}
record-bundle-size = it has { $size } bytes and should have { $wanted }
record-bundle-head-of = the head of { $file }
record-bundle-list = the list at its end
record-bundle-no-manifest = it ends before its manifest
record-bundle-claims = { $file } claims to have { $size } bytes
record-bundle-bytes = the bytes of { $file } are not those that were packed
record-bundle-bytes-of = the bytes of { $file }, which event { $event } speaks of, are not those that were packed
record-bundle-strange-name = manifest.json names a file that does not belong into a bundle: “{ $file }”
record-bundle-contradicts = manifest.json contradicts itself about { $file }
record-bundle-order = manifest.json does not name each file once, in order
record-bundle-together = manifest.json claims files that are too large together
record-bundle-byte = byte { $byte }, in { $what }
record-bundle-no-space = There is no room to print the daily log first ({ $why }). The day itself is safe. Free some space, then try again.
record-import-busy = Another bundle is being taken into { $folder }. Wait until it is done, then try again.
record-import-not-written = The bundle could not be taken into { $folder } ({ $why }). No event was added to a day there. Free some space or choose another folder, then try again.
record-import-nonsense = The events in { $bundle } follow from each other, but no day comes of them ({ $why }). Nothing was taken from it. Ask for it again, from the tablet that worked on the day.
record-import-seal = The seal in event { $event } of { $bundle } is not good: { $why }. Nothing was taken from it. Look into it with: fieldassist verify { $bundle }
record-import-receipt = { $file } in { $bundle } is no countersignature of this day: { $why }. Nothing was taken from it. Look into it with: fieldassist verify { $bundle }
record-import-forked = { $bundle } and { $day } are the same day up to event { $event } and went on differently from event { $next }: here the head is { $here }, in the bundle { $there }. Nothing was changed. Keep both: take the bundle into another folder, and settle with both crews which one is handed over.

# --- time stamps

record-stamp-unread = The answer { $file } cannot be read: { $why }.
record-stamp-none = it is no answer of a time-stamping authority, or it is damaged
record-stamp-not-granted = the authority refused the stamp (status { $status })
record-stamp-other-hash = it is over another kind of hash than SHA-256
record-stamp-other-head = it is over { $head }, which was never the head of this record
record-stamp-other-request = it answers no request that was written here
record-stamp-no-certificate = the certificate of whoever signed it is not in it
record-stamp-use = the certificate of { $authority } is not made for time stamps alone
record-stamp-other-authority = { $authority } is not certified by the root that was given
record-stamp-expired = the certificate of { $authority } was not valid at the time of the stamp
record-stamp-signature = its signature is not good
record-root-unread = The root certificate { $file } cannot be read: { $why }.
record-root-none = The file of the root holds no certificate in PEM.
