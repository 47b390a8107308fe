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
   *[other] Sign with PIN, { $count } stay open
}
signing-sign-addendum = { $count ->
    [0] Sign addendum { $part } with PIN
   *[other] Sign addendum { $part }, { $count } stay open
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
signing-bags = { $bags } bags used, { $predicted } reckoned
signing-bags-why = { $verdict ->
    [less] { $area }: less than the beds as combed took
   *[more] { $area }: more than the beds as combed took
}
signing-bags-agree = as the beds were combed
signing-release = { $struck ->
    [yes] Release struck out
   *[no] Release not confirmed
}
signing-releases-called = { $count ->
    [one] 1 release called in your name
   *[other] { $count } releases called in your name
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
# --- handing over
signing-place = { $kind ->
    [beside] Beside the day
    [stick] Stick { $name }
   *[own] { $name }
}
signing-written = Written into { $folder }: { $file }, { $pages ->
        [one] 1 page
       *[other] { $pages } pages
    }, and the whole day as one file beside it.
signing-written-unsealed = { $events ->
    [one] It says NOT SEALED: nobody's key stands for its last event.
   *[other] It says NOT SEALED: nobody's key stands for its last { $events } events.
}
signing-written-lost = Not in it, since the tablet lost it: { $names }.
signing-written-all = { $lines }
signing-no-printer = No printer is set up on this tablet. Hand the file over, or set a printer up in the system's settings.
signing-printer-refused = The printer took nothing ({ $why }). Hand the file over instead.
