# The page of signatures and seal, the pages of addenda, and the page of commands.

closing-running = Signatures and seal
closing-title = Signatures
closing-intro = Each signs for what stands above the name, no more.
closing-at-front = Points:
closing-signature-here = signature
closing-date-here = date and time

# --- who signs for what

closing-foreman = Foreman: { $name }
closing-a-foreman = Foreman
closing-signer = { CAPITAL($role) }: { $name }
closing-signs = { $part ->
    [0] { $open ->
        [0] The record as it was kept. No point is open.
        [one] The record as it was kept, with the one point that was open then.
       *[other] The record as it was kept, with the { $open } points that were open then.
    }
   *[other] { $open ->
        [0] What this addendum holds, as it was entered. No point is open.
        [one] What this addendum holds, as it was entered, with the one point that was open then.
       *[other] What this addendum holds, as it was entered, with the { $open } points that were open then.
    }
 }
closing-answered = { $count ->
    [one] One point is answered in words.
   *[other] { $count } points are answered in words.
 }
closing-accepted = { CAPITAL($area) }: { $count ->
    [one] tile { $tiles } is accepted in words, without proof by a lift.
   *[other] tiles { $tiles } are accepted in words, without proof by a lift.
 }
closing-releases = Hold points: { $ways }.
closing-released-by-pin = { $count } released by PIN at the wall
closing-released-confirmed = { $count } called by voice, confirmed by PIN at { $times }
closing-released-called = { $count ->
    [one] NOT CONFIRMED: one hold point was released by voice alone.
   *[other] NOT CONFIRMED: { $count } hold points were released by voice alone.
}
closing-not-signed = NOT SIGNED
closing-may-change = { $part ->
    [0] Nobody has signed this day in the log. It may still change.
   *[other] Nobody has signed this addendum in the log. It may still change.
 }
closing-drawn = Signature of { $name }, as a finger drew it on the tablet
closing-not-drawn = signed by PIN, nothing drawn
closing-owner = Owner: { $name }
closing-received = { $points ->
    [0] Received. Nothing is left to be looked at.
    [one] Received, with one point to look at. I accept it (tick):
   *[other] Received, with { $points } points to look at. Of these I accept (tick):
 }
closing-write-numbers = Of 1 to { $points }, these numbers:
closing-inspector = Inspector
closing-finding = Finding, own lifts, own readings:

# --- the seal

closing-seal = { $part ->
    [0] The seal
   *[other] The seal of this addendum
 }
closing-no-seal = { $signed ->
    [yes] NOT SEALED: signed, but no key vouches for what stands here.
   *[no] NOT SEALED: nobody has signed, and no key vouches for what stands here.
 }
closing-seal-unfit = THE SEAL DOES NOT FIT: { $why }. Do not rely on this record until that is clear.
closing-seal-warning = LOOK INTO THIS: { $warning }.
closing-unsealed = { $count ->
    [one] NOT SEALED: event { $first } was entered after the last seal, and no key vouches for it.
   *[other] NOT SEALED: the { $count } events from { $first } on were entered after the last seal, and no key vouches for them.
 }
closing-key-of = Key of
closing-key-whose = { $name }, { $role }, as this record says. Whether the key is in the owner’s list, “fieldassist verify FILE --roster LIST” tells; this page cannot.
closing-covers = Covers
closing-covers-events = { $count ->
    [one] one event, up to the signature at { $time }.
   *[other] all { $count } events up to the signature at { $time }, and through them every photo and reading. The head at the foot of each page counts what came after, the seal too.
 }
closing-pages = Pages
closing-pages-carry = { $pages ->
    [signed] carry a signature of their own (P-256) in the day’s signed file, which any PDF reader shows; a print without it is a copy. The key below signs the record.
   *[bare] carry no signature of their own: the key below signs the record that goes with them.
 }
closing-key = Key
closing-head = Sealed head

# --- how it is checked

closing-check = To check this log without us
closing-check-pages = { $pages ->
    [signed] Open this PDF in any reader and look at its signature: changed pages are reported there.
   *[bare] These pages bear no signature that a PDF reader could show: read the record that is attached to them.
 }
closing-check-record = Open the page verify.html, from somebody you trust, in any browser, without a network; drop this file on it. It checks the chain, the seal and every photo.
closing-check-key = { $sealed ->
    [yes] Compare the key above with the one that { $name } or the owner gave you by another way.
   *[no] No key has sealed this log: ask the foreman why.
 }
closing-by-hand-leads = Steps by hand, with OpenSSL:
closing-left-out = { $more ->
    [0] NOT IN THIS FILE, though the record speaks of it (the appendix says more): { $files }.
   *[other] NOT IN THIS FILE, though the record speaks of it (the appendix says more): { $files } and { $more } more.
 }
closing-before-this = This log records what was said, tapped and measured on site. It is no substitute for local codes, the product data sheets of tile, mortar and equipment, the project’s specification, or licensed practice; where they differ, they go before the limits printed here.

# --- addenda

closing-addendum = { $of ->
    [one] Addendum { $number }
   *[other] Addendum { $number } of { $of }
 }
closing-addendum-sealed = Sealed by { $name }, { $role }, { $time }.
closing-addendum-not-sealed = NOT SEALED: signed by { $name }, { $role }, { $time }.
closing-addendum-unfit = THE SEAL DOES NOT FIT: signed by { $name }, { $role }, { $time }.
closing-addendum-not-signed = NOT SIGNED. It may still change.
closing-addendum-stands = Addendum { $number }: { $standing }
closing-reason = Why the signed day was opened again: “{ $reason }”
closing-opened = Opened by { $name }, { $time }, event { $event }.
closing-corrected = Corrected
closing-corrected-note = what is corrected stands where it stood
closing-added = Added
closing-nothing = Nothing.
closing-column-stood = what stood there
closing-column-stands = what stands now
closing-column-by = by
closing-column-events = events
closing-column-time = time
closing-column-what = what
closing-column-event = event
closing-by-at = { $name }, { $time }
closing-by-clock = Clock
closing-events = { $target }, by { $event }

# --- by hand

closing-by-hand = To check by hand
closing-hand-record = Save this PDF as { $file }. With Poppler and OpenSSL, and no part of this program, these lines check the record in bash, word for word:
closing-hand-pages = Of a signed file, these lines check the bytes of the pages too, and that the seal names the certificate of whoever signed them:
closing-hand-results = Good is: no line that says NOT GOOD, “Signature Verified Successfully”, all events sealed but the seal itself, and a fingerprint that you know. What was read on site stands in events.jsonl. Of a signed file pdfsig has to say “Signature is Valid” and “Total document signed”; that it knows no issuer is as it should be. A print that bears no signature is a copy: read the attached record, or have it printed again.
closing-check-limits = Whose key it is, the roster tells that the firm gave you before the work began, or the signer in person; these pages cannot. A seal tells which key signed, not who held it; and neither tells whether what was entered on site is true. What these pages say of seals is no proof by itself: the check is.
