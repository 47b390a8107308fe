# The command line: what each job does, what its parts are for, and what it tells.

# --- the program

cli-program = Checklist, voice and record for setting large-format tile and gauged panels. Figures and reminders only: not a substitute for local codes, the products' data sheets and licensed practice.
cli-program-more = `fieldassist JOB --help` tells more of a job. Exit codes: 0, done; 1, it came out wrong or was refused; 2, it could not be tried. `verify` and `photo` have codes of their own.
cli-for-installer = At the wall
cli-for-foreman = For the foreman
cli-for-inspector = For whoever checks
cli-for-developer = To try and to set up
cli-usage = Use:
cli-usage-options = OPTIONS
cli-usage-job = JOB
cli-heading-arguments = What it needs
cli-heading-options = Options
cli-help = this page
cli-version = the version
cli-language = en, or pseudo to find what was never put into words [FIELDASSIST_LANGUAGE, or en]
cli-needs-tablet = This needs { $library }, which comes with the tablet: pip install 'fieldassist[tablet]'. Checking, printing and listing days of work go without it.
cli-machine-refused = The machine refused ({ $why }). What was whole before is whole still: look at the disk and its free space, close other programs, then try again.
cli-stopped = Stopped. Everything acknowledged so far is in the log.

# --- parts that several jobs share

cli-day = the day's log, such as 2026-03-17.db
cli-units = in which units it is written [the plan's own]
cli-documents = in which language it is written [the plan's own]
cli-model = speech model: a folder in models/, or a path
cli-people-folder = folder of people and keys [the tablet's own]
cli-date = the date on which it is played [today]
cli-trials = days of mock-up trials, or bundles, whose released methods its areas take
cli-speak = how much is said aloud: all words, few words or only sounds [few]
cli-counted = Utterances: { $utterances } ({ $words ->
    [one] 1 word
   *[other] { $words } words
 }), the tablet: { $spoken ->
    [one] 1 word
   *[other] { $spoken } words
 }, about { $seconds } s.
cli-counted-area = { $area }: { $told }
cli-counted-outside = no area open
cli-json = for a program: JSON

# --- misuse

cli-no-job = Which job? `fieldassist --help` lists them.
cli-no-job-of = Which one: { $jobs }? `--help` behind it tells more.
cli-no-such-job = There is no job { $name }.
cli-no-such-job-near = There is no job { $name }. Did you mean { $near }?
cli-no-such-option = It has no option { $name }.
cli-no-such-option-near = It has no option { $name }. Did you mean { $near }?
cli-missing = { $part } is missing.
cli-needs-value = { $part } needs a value behind it.
cli-takes-none = { $part } takes no value.
cli-too-much = This is too much: { $what }
cli-not-together = { $one } and { $other } cannot go together.
cli-not-one-of = { $part }: “{ $value }” is none of { $choices }.
cli-no-date = { $part } takes a date such as 2026-03-17, not “{ $value }”.
cli-no-number = { $part }: “{ $value }” is no number that can be used here.
cli-no-size = “{ $value }” is no size such as 1280x800, { $least } at least each way.
cli-misused = That cannot be understood: { $what }
cli-misused-help = { $command } tells more.

# --- begin

cli-rests-on-trial = { $area }: method { $letter } of the mock-up trial of { $date }, as it was released.
cli-released-for-others = { $file } releases a method for { $areas }: no area of this plan is called so.

cli-begin = open a new day from a plan file
cli-begin-plan = YAML with site, crew and areas
cli-begin-day = the day's log, a new file such as 2026-03-17.db
cli-begin-continues = days, or bundles of other tablets, of which areas with the same id or name go on: the tiles, lifts, failures and clocks
cli-continues = { $areas } goes on from { $date }, head { $head }{ $left ->
    [sealed] .
    [signed] , signed and not sealed.
   *[open] , which was not signed.
}
cli-begin-checklists = folder of checklists [the shipped ones]
cli-begin-with-today = The same command with --today takes the date of the clock.
cli-begin-today = begin with the date that the clock shows, whatever the plan's is; without it a plan of another day is refused
cli-begun = Day open: { $day }, { $areas ->
    [one] 1 area
   *[other] { $areas } areas
 }.

# --- tablet

cli-tablet = the tablet's screens: work a day by touch and by voice
cli-tablet-day = [the one open last, or choose on the screen]
cli-tablet-no-microphone = by touch only
cli-tablet-data = what belongs to no single day [the tablet's own folder]
cli-tablet-window = its size in dots [1280x800]
cli-tablet-full = fill the screen

# --- work

cli-work = go on with a day: type what you would say, or give recordings or a stream
cli-work-audio = recordings, in order
cli-work-microphone = listen: a number or name from the job microphone [the default one]
cli-work-pcm = 16-bit mono samples on standard input at this rate
cli-work-attention = said before what is meant for the tablet, unless it goes on with the work at hand [field assist]
cli-work-open-microphone = no attention phrase: every phrase that is heard counts
cli-work-hold = with --microphone: Enter begins and ends what is heard
cli-work-dropped = write also what was heard and not taken
cli-work-quiet = write only, do not speak
cli-work-keep-places = photos keep where they were taken, with what camera and by whom
cli-work-more = Typed, figures may be digits: air temperature 21 degrees, gap 2 mm, coverage 96 %. “note ...” keeps a note, “photo FILE” a photo, “release NAME” releases the hold point by PIN, “confirm NAME” confirms by PIN what was called out in that name (“confirm NAME without EVENT” strikes one out), “?” lists what may be said, “leave” stops.
cli-work-at = { $events ->
    [one] 1 event
   *[other] { $events } events
 } in the log.
cli-work-typed = Type what you would say; “note ...”, “photo FILE”, “?” for what may be said, “leave” to stop.
cli-work-between = between rounds
cli-work-area = { $area }: { $phase }; { $asked }
cli-work-clock = { $clock }, { $area }: { $minutes } min left
cli-work-note-how = Type the note behind the word: note the corner is damp.
cli-work-hint = “{ $phrase }”
cli-phase-starting = starting
cli-phase-working = working
cli-phase-finishing = finishing
cli-phase-finished = finished
cli-note-not-kept = The note could not be kept.
cli-clip-note = { $file }: { $note }
cli-listening = Listening to { $name }: { $how }; “leave” and Enter to stop.
cli-listening-held = press Enter, say it, press Enter
cli-listening-called = say “{ $attention }” and what you want; answer what is asked as it is
cli-listening-open = say it
cli-fate-words = “{ $words }”: { $fate }
cli-fate-why = { $fate } ({ $why })
cli-fate-words-why = “{ $words }”: { $fate } ({ $why })
cli-fate-taken = understood
cli-fate-refused = refused
cli-fate-asked = asked back
cli-fate-ignored = not taken
cli-fate-called = called
cli-fate-dictated = dictated

# --- microphone

cli-microphone = list the microphones and show the level of one
cli-microphone-device = its number or a part of its name [the default one]
cli-microphone-only-list = list only
cli-microphone-seconds = show the level for so long [until Ctrl-C]
cli-input = { $name }, { $rate } Hz, channels { $channels }
cli-level-dead = NO SOUND
cli-level-loud = TOO LOUD

# --- people and signatures

cli-people = who can sign on this tablet: list them, give a PIN, hand out keys and the roster
cli-people-name = whose PIN or key it is about
cli-people-role = installer, foreman, owner, inspector or firm: give NAME this role and a PIN
cli-people-new-key = the PIN is forgotten: a new PIN and a new key
cli-people-public-key = write the public key, for an inspector
cli-people-forget = remove the person and the key for good
cli-people-practice = for days of practice and rehearsals: its PINs and keys are apart, and sign no work
cli-people-carry = write NAME's key for another tablet, under six words that are shown once
cli-people-take = take over a key that was carried here, by its six words and its PIN
cli-people-roster = write the roster: who signs here with which key; with --by, made anew and signed
cli-people-by = the owner or firm whose PIN signs the roster
cli-people-firm = whose people the roster lists [as before]
cli-people-revoke = NAME's keys are not to be believed any more: the roster says so
cli-people-since = since when; of people who are new in the roster, from when on they sign
cli-people-why = why they are revoked
cli-people-more = A PIN is asked for, or read from standard input. The roster is handed over with the contract, before the work: whoever checks a record knows the signers by it. Hand it out again when somebody comes or is revoked.
cli-person = { $name }, { $role ->
    [foreman] foreman
    [installer] installer
    [owner] owner
    [inspector] inspector
    [firm] firm
   *[other] { $role }
 }, key { $key }{ $practice ->
    [yes] , for practice only
   *[no] {""}
}{ $before ->
    [none] {""}
   *[other] , in place of { $before } (the PIN was forgotten)
}
cli-roster = Roster of { $firm }, made { $made }, signed by { PERSON($name) }, key { $key }: { $count ->
    [one] 1 key
   *[other] { $count } keys
}, in { $file }
cli-roster-entry = { $name }, { $role ->
    [foreman] foreman
    [owner] owner
    [inspector] inspector
   *[installer] installer
}, from { $since }{ $until ->
    [none] {""}
   *[other] {" "}to { $until }
}{ $revoked ->
    [none] {""}
   *[other] , revoked from { $revoked } on
}
cli-roster-lacks = The roster does not know this key of { PERSON($name) } yet. Make it anew and hand it out: { $program } people --roster FILE --by OWNER
cli-roster-by = Say who signs the roster: --by NAME, an owner or a firm with a PIN here.
cli-roster-firm = Say whose people it lists: --firm FIRM.
cli-roster-written = { $file }: the roster of { $firm }, made { $made }, with { $count ->
    [one] 1 key
   *[other] { $count } keys
}, signed by { PERSON($name) }, key { $key }
cli-roster-other-signer = The roster before was signed by { PERSON($name) }, key { $key }. Whoever has that one must be given this one by hand: it is not believed on the way.
cli-carried = { $file }: the key of { PERSON($name) }. Its words, which are shown this once and kept nowhere:
    { $words }
    Write them on paper, and let file and paper go separate ways. There: { $program } people --take { $file }
cli-carried-arrived = The PIN is what it was. Destroy { $file } and the paper now.
cli-person-damaged = { $file } is damaged and was left out.
cli-person-forgotten = { PERSON($name) } cannot sign here any more. Days signed before stay valid.
cli-person-unknown = { PERSON($name) } has no PIN here. Give one: { $program } people { $name } --role foreman
cli-public-key-written = { $file }: the public key of { PERSON($name) }, { $key }
cli-ask-old-pin = { PERSON($name) }'s old PIN
cli-ask-new-pin = New PIN, 6 to 12 digits
cli-ask-words = The six words
cli-ask-their-pin = The PIN of whose key it is
cli-ask-pin-again = The new PIN again
cli-ask-pin = { PERSON($name) }'s PIN
cli-pins-differ = The two are not the same. Nothing was changed: try again.
cli-countersign = sign, as owner or inspector, the head that a sealed day has now
cli-countersign-file = the day's log, its PDF or its bundle
cli-countersign-by = who signs; the PIN is asked for
cli-countersign-out = where to write it [beside FILE, where verify finds it and bundle takes it along]
cli-countersign-take = take in a countersignature that somebody else made of this day
cli-countersign-more = A record that is handed over later and has not this head is not the one that was signed; what came after it is told by verify. Nothing is sent anywhere. Exit code 0: done; 2: it could not be done.
cli-countersign-who = Say who signs: --by NAME, an owner or inspector with a PIN here; or --take FILE.
cli-countersigned = Countersigned by { PERSON($name) } at { $at }: events 1 to { $events }, head { $head }; key { $key }. It lies in { $file }.
cli-countersign-taken = Taken in: the countersignature by { PERSON($name) } at { $at } of events 1 to { $events }, head { $head }; key { $key }. It lies in { $file }.
cli-countersign-here = It is here already: the countersignature by { PERSON($name) } at { $at } of events 1 to { $events }, head { $head }; key { $key }, in { $file }.
cli-countersign-not-taken = { $file } was not taken in: { $why }.
cli-sign = sign a day, or its addendum, and seal it with the signer's PIN
cli-sign-signer = who signs [who spoke last]
cli-sign-with-open-points = sign although points are open
cli-sign-strike = strike out this release, which was called out in the signer's name
cli-called-out = event { $event }, { $at }: { $area }, { $hold }, called out in this name; the PIN confirms it
cli-signed-already = { PERSON($name) } has signed already, and has to give the PIN.
cli-addendum = open a signed day again; what was signed stays as it is
cli-addendum-reason = why, in words
cli-correct = in an addendum: correct an event of a signed part, in words
cli-correct-event = its number, as the job events and the PDF show it
cli-correct-text = what is right

# --- notes

cli-notes = write out what was dictated, from its sound, by a model of English at large
cli-notes-model = a folder with such a model, in CTranslate2’s form [the one that fieldassist[notes] installs]
cli-notes-more = It runs on this machine alone. What it writes stands beside the words that were heard, marked as a machine’s, and is often wrong in noise: the sound is what counts. Each note is in the record before the next is begun. In a signed day, open an addendum first.
cli-notes-none = Nothing that was dictated waits to be written out.
cli-notes-signed = { $count ->
    [one] 1 dictated note waits
   *[other] { $count } dictated notes wait
 } to be written out, and the day is signed. Open an addendum, then try again.
cli-notes-written = Event { $event }, heard “{ $heard }”. { $sure ->
    [none] The machine made out no word.
    [no] Written by a machine, unsure: “{ $text }”
   *[yes] Written by a machine: “{ $text }”
 }

# --- events, report, recover

cli-events = show a day's events
cli-event = { $number } { $at } { $by } { $told } ({ $how })
cli-how-spoken = spoken
cli-how-typed = typed
cli-how-pressed = pressed
cli-how-counted-on-a-grid = counted on a grid
cli-how-sketched = sketched
cli-how-painted-on-a-photo = painted on a photo
cli-how-measured-on-a-photo = measured on a photo
cli-how-clock = clock
cli-how-transcribed = transcribed
cli-chain-whole = { $events ->
    [one] 1 event
   *[other] { $events } events
 }, chain whole, head { $head }
cli-report = hand out the daily PDF of a day: the signed file, or a copy where there is none or --units asks for one
cli-report-out = the PDF [daily-log.pdf beside the day]
cli-reported = { $file }, { $pages ->
    [one] 1 page
   *[other] { $pages } pages
 }{ $signed ->
    [yes] {", signed"}
   *[no] {""}
 }.
cli-report-sign = make the signed file of a day that was sealed without one, by the PIN of whoever sealed it
cli-left-out = { $name } is not in it: { $why }.
cli-progress-daily-log = Daily log
cli-progress-sign = Signed file
cli-progress-bundle = Bundle
cli-progress-check = Check
cli-progress-import = Import
cli-stamp = write a request for a time stamp of the day as it stands, and take the answer in
cli-stamp-answer = the authority's answer to a request that was written here
cli-stamp-root = the authority's root certificate, as you know it from elsewhere: the answer is taken only if it is its own
cli-stamp-more = A time-stamping authority (RFC 3161) says that the record was there at a time that no tablet tells. The request holds the head of the day and nothing of what is in it. Without a network, carry it to a machine that has one, send it there (curl --header "Content-Type: application/timestamp-query" --data-binary @REQUEST --output ANSWER ADDRESS), and bring the answer back. It goes into the bundles of the day; verify --root PEM checks it without a network, and so does openssl ts -verify -digest HEAD -in ANSWER -CAfile PEM.
cli-stamp-asked = { $file } is the request: it covers events 1 to { $events }, head { $head }. Send it to a time-stamping authority, then take the answer in with --take.
cli-stamp-taken = Events 1 to { $events } were there on { $at }, says { $authority }. The answer lies in { $file }{ $root ->
    [known] {""}
   *[unknown] {", and whose it is was not checked: give the authority's root certificate with --root"}
}.
cli-recover = save every event of a damaged day that can be read; the damaged file is kept
cli-recovered = { $events ->
    [one] 1 event was
   *[other] { $events } events were
 } saved in { $day }; the damaged file is kept as { $damaged } ({ $reason }). Check the last readings with the crew and say again what is missing.
cli-recovered-behind = { $events ->
    [one] 1 event more was
   *[other] { $events } events more were
 } read behind a gap; what is missing: { $gaps }. The day goes on from before the gap; everything that was read is kept in { $kept }. To see it, and what the seals vouch for: fieldassist verify { $kept }
cli-gap = { $count ->
    [one] event { $first }
   *[other] events { $first } to { $last }
 }

# --- bundle and import

cli-bundle = put a day, its daily log and its attachments into one file, to hand over
cli-bundle-out = the file [the day's name with .bundle, beside it]
cli-bundled = { $file }: { $events ->
    [one] 1 event
   *[other] { $events } events
 }, { $files ->
    [one] 1 file
   *[other] { $files } files
 }, { $size }.
cli-bundle-head = Head { $head }. Whoever gets it checks it with: fieldassist verify { $file }
cli-bundle-unsealed = Not sealed: { $events ->
    [one] 1 event
   *[other] { $events } events
 } at its end, so nobody's key vouches for them. To sign and seal first: { $program } sign { $day }
cli-bundle-later = The crew went on meanwhile: the daily log in it does not show the last { $events ->
    [one] 1 event
   *[other] { $events } events
 }.
cli-bundle-left-out = Not in it, since it is missing or was changed in { $folder }: “{ $name }”
cli-import = take a day in from a bundle, or bring the same day forward; again changes nothing
cli-import-bundle = the file that was handed over
cli-import-into = where the days lie [this folder]
cli-no-bundle = There is no bundle at { $file }. Check the name.
cli-imported-new = { $day }: a new day here, { $events ->
    [one] 1 event
   *[other] { $events } events
 }, { $files ->
    [one] 1 attachment
   *[other] { $files } attachments
 }; head { $head }.
cli-imported-more = { $day }: { $added ->
    [one] 1 event
   *[other] { $added } events
 } and { $files ->
    [one] 1 attachment
   *[other] { $files } attachments
 } added to the day that was here; it has { $events ->
    [one] 1 event
   *[other] { $events } events
 } now.
cli-imported-nothing = { $day } has all of it already; nothing was changed. It has { $events ->
    [one] 1 event
   *[other] { $events } events
 }.
cli-imported-seal = { $part ->
    [0] The day
   *[other] Addendum { $part }
 } is sealed by { PERSON($name) }, { $role ->
    [foreman] foreman
    [installer] installer
   *[other] { $role }
 }, up to event { $event }; key { $key }.
cli-imported-proofs = { $count ->
    [one] 1 countersignature or time stamp came along and lies beside the day now.
   *[other] { $count } countersignatures and time stamps came along and lie beside the day now.
}
cli-imported-roster = The roster of { $firm }, made { $made }, signed by { PERSON($name) }, key { $key }, came along. It was not kept: a roster is believed when it is handed over with the contract.
cli-imported-unsealed = Not sealed: { $events ->
    [one] 1 event
   *[other] { $events } events
 } at its end, so nobody's key vouches for them.
cli-imported-left-out = Not in the bundle, since the tablet that made it had lost it: { $name }

# --- verify

cli-reprint = print the pages of a day anew from the record in a file, for whoever distrusts the pages at hand
cli-reprint-file = the PDF, the bundle or the day's log
cli-reprint-out = the PDF to write [FILE.reprint.pdf]
cli-reprinted = { $file }, { $pages ->
    [one] 1 page
   *[other] { $pages } pages
 }: what the record in { $of } says. Whether that record is genuine, verify tells.
cli-facts = print a day as data (JSON, in the shape of assets/facts.schema.json): tiles, lifts, failures, open points
cli-facts-file = the PDF, the bundle or the day's log
cli-facts-more = Whether the record is genuine, verify tells. Exit code 0: told; 2: the file holds no whole record of a day.
cli-verify = check a daily log (PDF), a bundle or a day: whole, sealed, and pages that show the record
cli-verify-files = the PDF, the bundle or the day's log; several, or a folder of them, are held against each other too
cli-verify-of = --- { $file }
cli-verify-page = writes the page that checks a day in a browser, to give to somebody without this program
cli-verify-page-written = { $file } checks a PDF or a bundle in any browser, without a network. Give it to whoever is to check by another way than the day itself.
cli-verify-root = the root certificate of a time-stamping authority, as you know it from elsewhere
cli-verify-roster = the roster that came with the contract: who signs with which key
cli-verify-key = the signer's public key: PEM file, 64 hex digits or fingerprint
cli-verify-more = It works offline and writes nothing beside the file: the chain of events, the seals, the attachments, and whether the printed pages show the attached record. Whose key is whose it knows from you alone: give the roster that came with the contract, or a key. Exit code 0: whole, sealed to the last event by a key that you know, pages agree; 3: whole, but something is not vouched for: you gave no roster and no key, or they do not know the key, or it was revoked, or events came after the seal, or the pages are not proven; 1: damaged or forged; 2: it cannot be read as any of the three. Of several files it also tells which days of a tablet are missing between them, which files are older copies, and which days are there twice; the exit code is the gravest. It tells what was recorded and signed, not that it is true; whether a part after the last seal was cut off, the day after it tells: it replaces no inspection.

# --- checklists, models, hear

cli-checklists = check checklist files, or list the shipped ones
cli-checklists-files = checklists to check [the shipped ones]
cli-checklist = { $name }: { $title }, edition { $edition }, { $steps ->
    [one] 1 step
   *[other] { $steps } steps
 }, { $cautions ->
    [one] 1 caution
   *[other] { $cautions } cautions
 }
cli-checklist-unheard = the speech model does not know: { $words }; type or tap those, or use other words
cli-models = list the speech models at hand, try the one in use
cli-model-in-use = In use: { $model }
cli-model-hears-wrongly = It loads, but hears “{ $heard }” where “{ $known }” is said. Is it a model of English? models/README.md tells how to add another.
cli-model-hears-nothing = It loads, but hears nothing where “{ $known }” is said. Is it a model of English? models/README.md tells how to add another.
cli-model-hears = It loads, and hears “{ $known }” in a known recording: { $seconds } s for a second of sound.
cli-hear = run recordings through recognizer and phrases, without a day
cli-hear-audio = recordings
cli-hear-can-say = digits, numbers, idle (between steps), or CHECKLIST:STEP with a file or a shipped checklist [idle]
cli-hear-attention = take only what begins with this phrase, such as “field assist”
cli-no-such-choice = “{ $what }” is none of: digits, numbers, idle, or CHECKLIST:STEP, where CHECKLIST is a file or one of { $known }
cli-no-such-step = { $checklist } has no step “{ $step }”. Steps: { $steps }
cli-heard = { $file }: “{ $words }” -> “{ $value }”
cli-heard-unsure = { $file }: “{ $words }” -> asked about: did you say { $value }?
cli-not-heard = { $file }: “{ $words }” -> no command: { $why }

# --- completion

cli-completion = print what a shell needs to complete jobs, options and names
cli-completion-shell = bash, zsh or fish
cli-completion-more = For example: eval "$(fieldassist completion bash)" in ~/.bashrc; fieldassist completion fish > ~/.config/fish/completions/fieldassist.fish

# --- demo

cli-rehearse = play a script of timed phrases as a day, and say whether it came out as the script expects
cli-rehearse-plan = the plan of the day (YAML)
cli-rehearse-scripts = text files, a day each, one after the other; a line: 07:30:00 rosa: next tile
cli-rehearse-out = where log, pages and facts go: a new folder, or one of an earlier rehearsal
cli-rehearse-continues = days, or bundles, of which areas go on in the first script
cli-rehearse-seed = words from which its lots come; with others other tiles are lifted [rehearsal]
cli-rehearse-checklists = where the checklists are [those that came with the program]
cli-rehearse-more = A line of a script is a time, who speaks, a colon and what is said; “!” at its end adds a yes where a value waits to be kept, # begins a remark. Lines that begin with “expect” say what the day must come to: after a phrase (taken, refused, asked, not understood, each with “because CODE”), at a time, or at the end (hall floor finished; tile 7 of hall floor suspect; lift 2 of hall floor failed; 6 lifts of hall floor; open CODE; no open points; signed; sealed; areas[hall floor].set_m2 at least 17, or anything else in the facts; at most 110 utterances, at most 1200 words, both also “in hall floor”). Every phrase counts as an utterance, refused or not, and so do the “yes” of a “!”, a photo, a PIN, and “this is NAME” where another one goes on; the words are those that the tablet speaks. “whenever a lift is due, rosa: tile lifted; coverage 97 %!; corners full” answers the lifts that no script can foresee. “edwin: base released by pin” releases by PIN, “edwin: confirmed by pin” confirms what was called out in his name, “edwin: strike base released by pin” all of it but that, “note TEXT” makes a note, what follows “answer point one” is the answer, “photo” or “photo FILE” takes a photo, “measure as skim-coated corners 12%,8% 90%,9% 91%,92% 11%,93% painted FILE” measures a back on the last photo of a lift or a sample (corners by shares of its width and height, FILE a grey PNG of the back, black where mortar is missing; “as bare” takes “mortar” and “bare” with three taps each after the corners, and FILE only where it was put right by paint). The order of a trial's samples is drawn, so what is said of them stands by their letters: “for each sample, rosa: next sample; spread; combed straight; ...; rosa reads {"{"}rosa{"}"} %”, of which only what is asked for is said, “for A: rosa 91, 88, 90” for each combination, “for sample 2 of A, rosa: ...; sample ruined ridges broke” in place of one, “whenever a batch is due, rosa: next batch; 1 bag!; water 6 L!; batch mixed; wait 8 min; remixed”, and “08:00:00 samples, 5 min apart” makes them (or “6 samples”). Expect of a trial: C, A, B in sample boards (the ranking); A better than B, A, C tied, contenders C, A, E ruled out, claim ranks, 1 spoiled, C released, each “in sample boards”. “edwin: release C for shower wall because REASON by pin” releases a method, “make 2 more of A, C” adds samples. The day is marked as a rehearsal in its record and on every page, and proves nothing. Exit code 0: all of it came; 1: some did not, and is named; 2: it could not be played.
cli-rehearse-begins = { $script }, on { $date }:
cli-rehearse-written = { $phrases ->
    [one] 1 phrase
   *[other] { $phrases } phrases
 } played. Record: { $log }, { $pages ->
    [one] 1 page
   *[other] { $pages } pages
 }: { $pdf }, facts: { $facts }.
cli-rehearse-held = { $total ->
    [0] Nothing was expected.
   *[other] { $held } of { $total } expectations came.
}
cli-progress-rehearsal = Rehearsal
cli-demo = play an invented site's day, or its mock-up trial, from recordings to the printed pages
cli-demo-out = where it goes [demo-day, or demo-trial]
cli-demo-trial = play the mock-up trial of the week before instead
cli-demo-scenario = another scenario folder
cli-demo-line = { $number } { $at } { $fate } “{ $words }” = { $meant }
cli-demo-answer = {"                "}-> { $answer }
cli-demo-by-hand = (by hand: { $by })
cli-demo-no-command = ({ $why })
cli-demo-unread = it was not read: { $why }
cli-demo-clock = {"      "}{ $at }  clock: { $said }
cli-demo-note = {"      "}{ $file }: { $note }
cli-demo-unspoken = { $count ->
    [one] 1 read-back
   *[other] { $count } read-backs
 } could not be spoken ({ $why }); all stand above in writing.
cli-demo-talk-changed = { $file }: talk that was not meant for the tablet changed the day
cli-demo-misheard = { $file }: “{ $said }” was { $fate } ({ $why })
cli-demo-differs = { $what }: expected { $wanted }, came to { $got }
cli-demo-finished = finished areas
cli-demo-unfinished = unfinished areas
cli-demo-lifts = lifts
cli-demo-cured = failures cured
cli-demo-uncured = failures left open
cli-demo-withdrawn = readings withdrawn
cli-demo-ran-out = clocks that ran out
cli-demo-refused = refused
cli-demo-signed-by = signed by
cli-demo-sealed-day = sealed
cli-demo-open-points = open points
cli-demo-made = samples made
cli-demo-spoiled = samples spoiled
cli-demo-ruled-out = ruled out
cli-demo-claim = what may be claimed
cli-demo-best = best
cli-demo-contenders = still in the running
cli-demo-worse = worse than the best beyond noise
cli-demo-found = questions whose gain is beyond noise
cli-demo-released = released
cli-demo-heard = Heard { $total ->
    [one] 1 recording
   *[other] { $total } recordings
 }: { $counts }. Done by hand: { $hand }.
cli-demo-record = Record: { $log }   Utterances: { $utterances }
cli-demo-pdf = Daily log, { $pages ->
    [one] 1 page
   *[other] { $pages } pages
 }: { $file }
cli-demo-sealed = Sealed with the invented foreman's key { $key }, which stands in the invented firm's roster ({ $roster }). Check it as an inspector would:
cli-demo-page = Or without this program, in a browser: { $page }
cli-demo-came-out = The day came out as the scenario says.
cli-demo-came-out-otherwise = The day did not come out as the scenario says:

# --- trial

cli-trial = try notches and methods side by side, rank them, and release the one that is taken
cli-heading-trial = In this order
cli-trial-about = A trial is an area of a day's plan: the same file, checklist, voice, record and seal. `trial new` writes one to change; `begin`, `work` or the tablet run it; `sign`, `report` and `verify` are those of every day.
cli-trial-new = write a trial file to change, which works as it is
cli-trial-new-file = the new file, such as trial.yaml; one that is there is left alone
cli-trial-file-there = { $file } is there already, and was left as it is. Choose another name.
cli-trial-unwritten = { $file } could not be written: { $why }.
cli-trial-written = Written: { $file }. Change in it what is to be tried, then see what it takes and what it can tell:

cli-trial-plan = what a trial takes and can tell, and which combinations the mortar's limits rule out
cli-trial-plan-file = the trial file (YAML)
cli-trial-none-planned = No trial in { $file }: an area has one under “trial:”, as the file that `fieldassist trial new` writes.
cli-trial-checklist = { $area }: with the checklist { $checklist } nothing is tried. Write “checklist: { $able }”.
cli-trial-design = { $area }: { $samples } samples, { $combinations ->
    [one] 1 combination
   *[other] { $combinations } combinations
} { $repeats ->
    [one] once
   *[other] { $repeats } times
} each, read by { $readers }. Required: { $required }.
cli-trial-in = {"  "}{ $letter }  { $combination }. Bed { $bed }.
cli-trial-out = {"  "}{ $letter }  { $combination }. Bed { $bed }. { $shown ->
    [yes] ONLY SHOWN
   *[no] RULED OUT
}: { $reasons }.
cli-trial-nothing-runs = All of them are ruled out: nothing can be made.
cli-trial-order = An order such as is drawn from the record once the area is started: { $order }.
cli-trial-takes = It takes: { $what }
cli-trial-assumed = Assumed: { $what }
cli-trial-next-begin = Change the file until that is what you want to know. Then:
cli-trial-ranking = what the samples say so far: ranking, ties, gains, who may be the best
cli-trial-ranking-file = the trial's day: its log, pages or bundle
cli-trial-area = which area's trial, where the day has several
cli-trial-none-in = No such trial in { $file }. Its trials: { $areas }.
cli-trial-which = { $file } has several trials; name one with --area: { $areas }.
cli-trial-not-there = { $area } cannot be gone back to: { $why }
cli-trial-made = { $area }: { $made } of { $planned } samples made and read.
cli-trial-not-begun = Its order is drawn when the area is started: say or type “start area { $area }” in `fieldassist work`.
cli-trial-head-rank = Rank
cli-trial-head-letter = {""}
cli-trial-head-contact = Contact
cli-trial-head-chance = Next tile passes
cli-trial-head-bed = Bed
cli-trial-head-samples = n
cli-trial-head-what = Method
cli-trial-shown = shown
cli-trial-ruled-out = Ruled out: { $letter } ({ $combination }): { $why }.
cli-trial-spoiled = Spoiled: sample { $number }, { $letter }: { $why }. Made again, and kept in the record.
cli-trial-released = Released: { $letter } for { $areas } by { PERSON($name) }{ $reason ->
    [yes] , because { $why }
   *[no] {""}
}.
cli-trial-more = more samples of some combinations, behind those that were drawn
cli-trial-more-letters = which combinations
cli-trial-more-each = how many more of each [1]
cli-trial-no-letter = “{ $value }” is no letter of a combination, such as B.
cli-trial-release = release a method for areas by the foreman's PIN; another than the best takes a reason
cli-trial-release-method = the combination, by its letter
cli-trial-release-areas = the areas that it is released for, as their plans call them
cli-trial-release-why = the reason, where it is not the best
cli-trial-release-foreman = who releases it [the plan's foreman]
cli-trial-who-releases = Say with --as who releases it: { $names }.
cli-trial-next-released = Sign the trial's day as any other, and let the areas' days take the method:
cli-trial-eyes = what one reader's eyes are worth, by that reader's PIN: beside the other reader, beside what was counted, and beside photos of lifts
cli-trial-eyes-name = the reader
cli-trial-eyes-days = days of trials, or with lifts that were measured on photos: logs or bundles, the more the better
cli-trial-eyes-nothing = { PERSON($name) } read no sample in { $files }, and no lift that was measured on a photo.
cli-trial-eyes-few = { PERSON($name) }, beside what was counted on a grid: { $pairs ->
    [0] no sample was
    [one] one sample was
   *[other] { $pairs } samples were
}; how far off these eyes are is told from { $least } on. Plan “counted: true” in a trial, for every sample and not only where the eye is in doubt.
cli-trial-eyes-few-photos = { PERSON($name) }, beside { $beside ->
    [painted] voids painted on photos
   *[measured] what photos were reckoned to
}: { $pairs ->
    [one] one lift was
   *[other] { $pairs } lifts were
} read by eye first; how far off these eyes are is told from { $least } on.

# --- calc

cli-calc = one computation of the trade by name; without a name, the list
cli-calc-more = Notch and bed, coverage, mortar, times, flatness, lifting, dust, sampling: each result names its source. `fieldassist calc` lists the names; `fieldassist calc NAME --help` says what one tells and needs. Exit code 0: done; 1: done, and the verdict is not passed; 2: it could not be tried.
cli-calc-usage-list = [NAME] [what it needs] [--units metric|us] [--json]
cli-calc-usage = [what it needs] [--units metric|us] [--json]
cli-calc-how = `fieldassist calc NAME --help` says what one tells, what it needs and its sources.
cli-calc-needed = What it needs
cli-calc-possible = What may be given besides
cli-calc-how-it-answers = How it answers
cli-calc-units = [those of what you give]
cli-calc-example = For example
cli-calc-for-example = For example: { $command }
cli-calc-sources = Where the figures come from
cli-calc-cautions = Caution
cli-calc-needs = needs { $parts }.
cli-calc-part = { $name } ({ $what })
cli-calc-explained = { $what }. For example: { $example }
cli-calc-one-of = { $explained }. One of: { $choices }
cli-calc-basis = Basis: { $basis }
cli-calc-basis-of = Basis of { $names }: { $basis }
cli-calc-caution = Caution: { $caution }

# --- handling

cli-handling = who may carry a piece of each area of a plan, and what that assumes
cli-handling-plan = YAML with site, crew and areas
cli-handling-area = only this area
cli-handling-entered = what is otherwise so, such as "reach=12 in" "grip=good" "conditions=kneeling"
cli-handling-units = [the plan's own]
cli-handling-more = The tablet's screens Plan and Safety and the daily log say the same. What may be set: weighed, single-limit, reach, height, end-reach, end-height, turn, pace, duration, grip, cups, conditions, length, breadth, thickness.
cli-handling-area-says = { CAPITAL($area) }: { $told }
cli-handling-detail = { CAPITAL($detail) }
cli-handling-assumed = Assumed: { $what }
cli-handling-source = Source: { $basis }
cli-handling-no-area = the plan has no area { $area }; it has { $areas }.
cli-handling-no-field = nothing is called { $name }; there is { $near }.
cli-handling-not-read = { $why }
cli-handling-no-checklist = The area { $area } asks for the checklist { $checklist }, which is not there. Name its folder with --checklists.

cli-tablet-no-window = No window can be opened: there is no screen, or its graphics driver is missing (on Debian libgl1, libegl1 and libgl1-mesa-dri). A day can be worked without one: fieldassist work DAY.

# --- photo

cli-photo = what a photo of a lifted tile's back tells of its contact, and with what doubt
cli-photo-file = the photo: JPEG, PNG or HEIC
cli-photo-size = the piece's two sides, such as 600x1200mm or 24x48in
cli-photo-corners = the piece's four corners in the photo, such as 310,205 3620,190 3650,1880 290,1900 (dots from the upper left of the upright photo) or 8%,7% 91%,6% 92%,63% 7%,64%; "proposed" takes those that are proposed
cli-photo-mortar = two to six spots where mortar touched and stuck, as corners are given
cli-photo-bare = two to six spots of bare back
cli-photo-back = whether mortar was keyed or combed onto the back before the piece was set [bare]
cli-photo-sheet = a mock-up's clear sheet: nothing is reckoned from it, its voids are painted
cli-photo-second = of a combed back, another photo of it lying as it lay, with the lamp low from a side; the first with the lamp high
cli-photo-second-corners = the four corners in that photo
cli-photo-voids = the voids painted black on a white picture of the plan's size (see --plan), instead of spots
cli-photo-least = the contact that is required, up to 100: it passes where the whole interval is as high, and fails where it is lower
cli-photo-plan = where to write the photo squared up, PNG; in a painting program add a white layer over it, let the plan show through while you paint the voids black on that layer, and save that layer alone for --voids
cli-photo-overlay = where to write the plan with what was found drawn over it, PNG
cli-photo-grids = write the sheet to fill in for the photos in a folder, and of each that has size and corners a picture with ten by ten squares to count
cli-photo-compare = hold the photos of such a folder, or of one sheet, against what was counted
cli-photo-more = Look at the overlay before you take a figure: a picture with two clear materials in a frame cannot be told from a lifted tile. With --json: percent, low and high (contact and the ends of its interval), how (proposed, painted), void (mm2, box_mm, circle_mm, circle_at_mm), band_percent, corner_percents, edge_percents, ridges, doubts, corners and corners_by, source_mm (what one dot saw at worst), required, verdict (passes, fails, cannot tell), refused (code and text), unfit (why the photo can be painted on only), checked_on, not_written (file, code and text of each picture that was asked for and is not there); where a file cannot be used, only file and refused; what cannot be understood of a line is told on standard error without JSON. Exit code 0: a figure, and with --least it passes; 1: it fails; 3: it cannot tell, which is an answer, with its reason; 2: it could not be tried, or a picture could not be written (the figures stand all the same). A picture takes the place of a PNG picture only, never of a photo that is read. How far each eye reads off what photos show, `fieldassist trial eyes` tells.
cli-photo-no-point = “{ $value }” is no point of a photo: give dots as 310,205 or shares as 8%,7%, without a space.
cli-photo-no-corners = No outline of a piece was found in the photo: give its four corners with --corners.
cli-photo-corners-first = No figure before the corners are known: give them with --corners, or look at the proposed ones and take them with --corners proposed.
cli-photo-taps-first = No figure before it is known what is mortar: give three spots where mortar touched with --mortar and three of bare back with --bare, or paint the voids over the plan and give them with --voids.
cli-photo-voids-proportion = { $file } has { $wide } by { $high } dots, which is not the proportion of the piece with its longer side across: paint over the plan that --plan writes.
cli-photo-unwritten = { $file } was not written ({ $why }): name a file in a folder that is there and that you may write to, and look at the free space.
cli-photo-out-no-file = { $file } was not written: a folder, a pipe or a device is there. Name a new file.
cli-photo-out-in-use = { $file } was not written over: this call reads or writes it already. Choose another name.
cli-photo-out-other = { $file } was not written over: it is there already and is no PNG picture. Choose another name.
cli-photo-voids-transparent = { $file } is transparent in places: it cannot be told whether mortar is there. Fill the layer with white below the voids that are painted black, and save it alone.
cli-photo-voids-none = In { $file } no void is painted. Paint the voids black; where there is none, read the back by eye.
cli-photo-voids-not-painted = { $share } % of { $file } is neither black nor white, as in a photo. Paint the voids black on a white layer over the plan, and save that layer without the plan.
cli-photo-not-drawn = { $file } was not written: the photo did not come so far.
cli-photo-cannot = Cannot tell: { $why }
cli-photo-proposed = Corners as they are proposed: { $corners }
cli-photo-contact = { $way ->
    [painted] Contact by the voids painted
   *[other] Contact seen
 } on the photo: { $contact } (between { $low } and { $high }).
cli-photo-passes = { $least } are required: it passes with its whole interval.
cli-photo-fails = { $least } are required: it fails with its whole interval.
cli-photo-cannot-tell = { $least } are required: this photo cannot tell. Lift another or read by eye.
cli-photo-void = Largest void: about { $void }{ $sure ->
    [yes] { "" }
   *[no] , between { $low } and { $high }
}, from { $across } to the right and { $down } down; a circle of { $circle } across fits into it.
cli-photo-look = Look at it on the overlay (--overlay) before you take it.
cli-photo-no-void = No void is seen.
cli-photo-edges = Contact within { $strip } of the edges: { $band }; in the corners (upper left, upper right, lower left, lower right): { $corners }.
cli-photo-ridges-straight = The ridges ran straight, at { $degrees } degrees to the longer side.
cli-photo-ridges-curved = The ridges ran in a curve, at about { $degrees } degrees to the longer side.
cli-photo-ridges-swirled = The ridges ran in swirls, which shut air in.
cli-photo-ridges-not-readable = Which way the ridges ran cannot be read.
cli-photo-taken-as-bare = It was taken for a bare back: if the back was skim-coated or combed, say so with --back; then one photo gives no percentage.
cli-photo-counts = Measured on one photograph by the corners and spots that were given. It counts mortar seen on the back: mortar that stayed on the wall counts as void; mortar that lies on the back without having touched cannot be told apart.
cli-photo-by-hand = Voids painted by hand on the photograph.
cli-photo-only-painted = From the photo by itself nothing could be reckoned: { $why }
cli-photo-checked = Checked on computed pictures only, not on real lifts.

# --- photos held against counted squares

cli-photo-no-folder = The folder { $folder } cannot be read ({ $why }). Name the folder that your photos are in.
cli-photo-no-photos = There is no photo (JPEG, PNG or HEIC) in { $folder }.
cli-photo-sheet-written = { $sheet } has a line for each photo ({ $photos }). Fill in size and corners, and spots of mortar and bare back, as --help tells of the options, with spaces between points. Then call this again for pictures to count.
cli-photo-grid = { $file }: count the squares that are covered with mortar that touched, halves and quarters too, before you look at the photo's own figure; write the sum, 0 to 100, as counted.
cli-photo-grids-written = { $pictures ->
    [one] 1 picture
   *[other] { $pictures } pictures
 } to print and count in { $folder }. Write what was counted into the sheet, then call --compare.
cli-photo-lift-waits = { $file }: size, corners or count are missing.
cli-photo-lift-unread = { $file }: left out. { $why }
cli-photo-lift-cannot = { $file }: cannot tell: { $why }
cli-photo-lift-compared = { $file }: photo { $photo } (between { $low } and { $high }), counted { $counted }.
cli-photo-apart = Photo less count in { $lifts } lifts: { $mean } points on average (95 % interval { $low } to { $high }); 95 of 100 lie between { $least } and { $most }, each known to { $reach } points (limits of agreement: Bland and Altman, Lancet 327, 1986).
cli-photo-held = The photo's interval held the count in { $held } of { $given }; { $cannot ->
    [0] none was refused
    [one] 1 more was refused
   *[other] { $cannot } more were refused
 }.
cli-photo-lifts-missing = { $missing ->
    [one] 1 lift is
   *[other] { $missing } lifts are
 } missing of { $needed }: before that nothing is claimed of photos on real lifts.
cli-photo-no-sheet = { $sheet } cannot be read: { $why }. Make one with --grids.
cli-photo-sheet-letters = { $sheet } is no table as text (CSV in UTF-8).
cli-photo-sheet-columns = { $sheet } lacks a column; it takes { $columns }.
cli-photo-sheet-twice = { $sheet } has two lines of { $file }.
cli-photo-sheet-line = { $sheet }, { $file }: { $why }
cli-photo-sheet-long = more than { $most } lifts are not taken at once
cli-photo-sheet-path = files are named as they stand in the sheet's folder
cli-photo-sheet-back = “{ $value }” is none of { $choices }
cli-photo-sheet-counted = “{ $value }” is no count of squares, 0 to 100
