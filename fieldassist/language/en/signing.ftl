# The end of the day: what is asked first, the signature, and handing over.
signing-title = Sign-off
signing-no-day = No day is open
signing-missing = { $count ->
    [0] Nothing is open
    [one] 1 answer is missing
   *[other] { $count } answers are missing
}
signing-sign = { $count ->
    [0] Sign with PIN
   *[other] Sign with PIN, { $count }{"\u00A0"}stay{"\u00A0"}open
}
signing-sign-addendum = { $count ->
    [0] Sign addendum { $part } with PIN
   *[other] Sign addendum { $part }, { $count }{"\u00A0"}stay{"\u00A0"}open
}
signing-seal = Seal it with PIN
signing-signed = { $part ->
    [0] Signed { $at }
   *[other] Addendum { $part } signed { $at }
}
# --- what is asked first
signing-surface = { $set } of { $planned } set
signing-surface-whole = all that was planned
signing-surface-open = to be answered: { $areas }
signing-not-covered = { $count ->
    [one] 1 piece not covered: { $tiles }
   *[other] { $count } pieces not covered: { $tiles }
}
signing-not-covered-why = { $area }: no good lift before and behind
signing-lifts = { $count ->
    [0] No piece lifted
    [one] 1 piece lifted
   *[other] { $count } pieces lifted
}
signing-lifts-why = { $passed } good, { $failed } failed and cured
signing-suspects = { $count ->
    [one] 1 piece suspect: { $tiles }
   *[other] { $count } pieces suspect: { $tiles }
}
signing-suspects-since = { $later ->
    [0] { $area }: since lift { $lift }, { $read }; nothing lifted since
    [one] { $area }: since lift { $lift }, { $read }; 1 lifted since
   *[other] { $area }: since lift { $lift }, { $read }; { $later } lifted since
}
signing-suspects-earlier = { $area }: since a lift of an earlier day
signing-lift-not-read = not read
signing-bags = Bags: { $bags } used, { $predicted } reckoned
signing-bags-why = { $verdict ->
    [less] { $area }: less than the beds as combed took
   *[more] { $area }: more than the beds as combed took
}
signing-percent-why = { $area }: lift { $lift }
signing-method-why = { $area }: no good lift has borne it out
signing-bags-agree = as the beds were combed
signing-release = { $struck ->
    [yes] Release struck out
   *[no] Release not confirmed
}
signing-releases-called = { $count ->
    [one] 1 release called in { PERSON($name) }'s name
   *[other] { $count } releases called in { PERSON($name) }'s name
}
signing-releases-confirm = { $releases }: the PIN confirms
signing-release-line = { $at } { $hold }
signing-releases = { $count ->
    [one] 1 release
   *[other] { $count } releases
}
signing-releases-by-pin = each by PIN
signing-times = Times agree
signing-times-why = nothing called late, nothing too early
signing-answered-points = { $count ->
    [one] 1 point answered
   *[other] { $count } points answered
}
signing-answered = { BARE($answer) }, { PERSON($name) } at { $at }
signing-cautions = { $count ->
    [one] 1 caution, heard by all
   *[other] { $count } cautions, heard by all
}
signing-cautions-unseen = { $count ->
    [one] 1 caution not heard by all
   *[other] { $count } cautions not heard by all
}
signing-cautions-by = not by { $names }
signing-name = { PERSON($name) }
signing-open = { $kind ->
    [failure] A failure is not cured
    [lift-left] A due lift was left out
    [lot-missed] A drawn lift was missed
    [accepted] Pieces were let stay
    [lift-waits] A lift waits
    [not-put-back] A lifted piece is off
    [due-waits] Something due waits
    [percent-void] Percent and void disagree
    [called-late] Called late
    [went-on-early] Gone on too early
    [longer-than-passed] Longer than had passed
    [too-fast] Faster than hands can
    [date] Plan and clock differ
    [method] A method in doubt
    [remedy] A cure is not shown
    [reading] A reading waits for its yes
    [dust] Dusty work still runs
    [lots] Draws were not revealed
   *[other] Not answered
}
# --- the proof
signing-sealed = Sealed by { PERSON($name) }'s key over { $events } events
signing-sealed-but = { $told }. But: { $warning }
signing-not-sealed = Signed by { PERSON($name) }, not sealed yet
signing-seal-wrong = The seal does not fit: { $why }
# --- the signed pages
signing-pages = { $units ->
    [us] Signed pages: US Letter, inches
   *[metric] Signed pages: A4, millimetres
}
signing-pages-one = one file is signed; its paper and units stay
signing-pages-change = Change
signing-pages-made = The pages are signed too
signing-pages-not-made = The pages are not signed yet
signing-pages-why = { $why }
signing-pages-make = Sign them
signing-pages-being-made = Sealed. The pages are being signed: { $share } %
signing-pages-job = Signing the pages
# --- handing over
signing-place = { $kind ->
    [beside] Beside the day
    [stick] Stick { $name }
   *[own] { $name }
}
signing-written = Written into { $folder }: { $file }, { $pages ->
        [one] 1 page
       *[other] { $pages } pages
    }, { $signed ->
        [yes] signed
       *[no] a copy that is not signed
    }, and the whole day as one file beside it.
signing-written-unsealed = { $events ->
    [one] It says NOT SEALED: nobody's key stands for its last event.
   *[other] It says NOT SEALED: nobody's key stands for its last { $events } events.
}
signing-written-lost = Not in it, since the tablet lost it: { $names }.
signing-written-all = { $lines }
signing-no-printer = No printer is set up on this tablet. Hand the file over, or set a printer up in the system's settings.
signing-printer-refused = The printer took nothing ({ $why }). Hand the file over instead.
signing-hand-over = Hand over
signing-where = Where should the files go?
signing-looking = Looking for folders and sticks
signing-no-place = No folder takes files here. Plug in a stick and look again.
signing-write = Write the files
signing-write-to = Write to: { $place }
signing-write-here = Write them here
signing-writing = Writing
signing-other-folder = Another folder
signing-folder-up = One up
signing-look-again = Look again
signing-show = Show
signing-print = Print
signing-being-printed = Printing
signing-printed = The pages went to the printer.
signing-handed-over = Done
signing-check-it = Whoever gets the files can check them with this program, or in any browser: the one file is a ZIP, and verify.html lies in it.
signing-not-written = It could not be written ({ $why }). The day is safe: choose another place.
signing-no-seal = Not sealed yet: there is no key's fingerprint to compare.
signing-fingerprint = Fingerprint of the key, to be compared
# --- answering and signing on the screen
signing-read-all = Read all
signing-correct = Correct a reading
signing-correct-event = Correct an event
signing-addendum = Open an addendum
signing-answer = { $by ->
    [work] Go to it
    [release] Releases
    [cautions] Who?
   *[other] Answer
}
signing-own-words = In words of your own
signing-speak = Say it
signing-lift-again = Lift a piece again
signing-is-here = { PERSON($name) } is here
signing-foreman-answers = { PERSON($name) } has to answer this. Is { PERSON($name) } here?
signing-no-foreman = The crew has no foreman, and only a foreman signs. Add one to the crew.
signing-called-for = Called in the name of { PERSON($name) }
signing-press-struck = Press what { PERSON($name) } did not release. The PIN confirms the rest.
signing-strike = { $struck ->
    [yes] struck out: stays open
   *[no] will be confirmed
}
signing-release-in = { $area }, { $at }: { $hold }
signing-confirm-by-pin = PIN of { PERSON($name) }
signing-signs = { PERSON($name) } signs: finger, then PIN
signing-draw = Sign here with a finger
signing-wipe = Wipe
signing-more-open = More is open than was shown. Go back and read it.
signing-being-checked = The seal is being checked
signing-signed-open = Signed with this open: { $point }
signing-why-again = Why is the signed day opened again?
signing-which-event = Number of the event
signing-what-is-right = { $line }: what is right?
# --- the pages
signing-daily-log = Daily log
signing-page-of = page { $page } of { $pages }
signing-printing = The pages are being printed
signing-not-read = The pages cannot be shown: { $why }
signing-next-page = Next page
signing-previous-page = Page before
signing-no-more-pages = There is no page beyond this one.
signing-page-size = { $larger ->
    [yes] Smaller
   *[no] Larger
}
signing-moment = { $weekday ->
    [1] Monday
    [2] Tuesday
    [3] Wednesday
    [4] Thursday
    [5] Friday
    [6] Saturday
   *[7] Sunday
} { $day } { $month ->
    [1] January
    [2] February
    [3] March
    [4] April
    [5] May
    [6] June
    [7] July
    [8] August
    [9] September
    [10] October
    [11] November
   *[12] December
}, { $at }
