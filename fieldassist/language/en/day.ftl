# A day under way: signing, and what was asked for when something was refused.
day-sign-again = Nothing was signed or released: look at that first, then give the PIN again.
day-sealed-already = This is signed and sealed already.
day-signed-and-sealed = { $part ->
    [0] The day is signed and sealed with the key { $key }.
   *[other] Addendum { $part } is signed and sealed with the key { $key }.
}
    .ear = { $part ->
        [0] The day is signed and sealed.
       *[other] Addendum { $part } is signed and sealed.
    }
day-sealed-without-pages = { $sealed } Its pages were not signed: { $why }
    .ear = { $sealed } Its pages were not signed.
day-pages-fault = The program failed in making the pages ({ $fault }). The day is safe in its log: hand over its folder, and keep these words for whoever looks after the program.
day-no-hold = No hold point waits to be released.
day-trial-no-work = { $file } is a { $kind ->
    [practice] day of practice
   *[rehearsal] rehearsal
}: what was released in it proves nothing, and no work rests on it.
day-trial-none-released = No method was released in { $file }: the foreman releases one by PIN, on the tablet or with 'fieldassist trial release'.
day-trial-release-not-good = The release of event { $event } in { $file } is not good: { $why } Nothing rests on it.
day-no-trial = No trial is open: start its area first.
day-key-of-other-role = { $role ->
    [none] { PERSON($name) } is not in today's crew. Nothing was signed.
    [foreman] { PERSON($name) } is foreman here, but the key was made for { $made ->
        [owner] an owner
        [inspector] an inspector
        [firm] a firm
       *[installer] an installer
    }. Nothing was signed: a key for a foreman is made in the crew's set-up.
    [owner] { PERSON($name) } is owner here, but the key was made for { $made ->
        [foreman] a foreman
        [inspector] an inspector
        [firm] a firm
       *[installer] an installer
    }. Nothing was signed: a key for an owner is made in the crew's set-up.
   *[installer] { PERSON($name) } is installer here, but the key was made for { $made ->
        [foreman] a foreman
        [inspector] an inspector
        [firm] a firm
       *[owner] an owner
    }. Nothing was signed: a key for an installer is made in the crew's set-up.
}
day-attempt-speak-as = { PERSON($name) } speaks
day-attempt-note-weather = note the weather
day-attempt-make-note = make a note
day-attempt-add-transcript = write out event { $target }
day-attempt-note-dust = note minutes of { $task }
day-attempt-dust-starts = dust starts: { $task }
day-attempt-dust-last = the one done last
day-attempt-dust-ends = dust ends
day-attempt-start-area = start { $area }
day-attempt-plan-area = plan { $area }
day-attempt-add-person = add { PERSON($name) } to the crew
day-attempt-acknowledge-caution = understood
day-attempt-start-round = begin { $section }
day-attempt-spread-mortar = { $section }: spread mortar { $number }
day-attempt-tiles-in = { $section }: tiles in, { $number }
day-attempt-take-bucket = take mortar from bucket { $bucket }
day-attempt-call-late = call late what was done in time
day-attempt-go-on-early = go on early
day-attempt-leave-out-photo = no photo: { $step }
day-attempt-leave-out-reading = not measured: { $step }
day-attempt-confirm-step = { $step }
day-attempt-confirm-lift = { $step }
day-attempt-give-reading = { $step }, { $reading }
day-attempt-choose = { $step }: { $option }
day-attempt-attach-photo = attach a photo
day-attempt-measure-back = the back on its photo
day-attempt-release-hold = hold point: { $step }
day-attempt-confirm-releases = confirm releases in the name of { PERSON($name) }
day-attempt-keep = yes
day-attempt-withdraw = take back
day-attempt-change-method = change the method: { $wish }
day-attempt-vouch-method = go on with a method on the foreman's word: { $wish }
day-attempt-keep-method = keep the method: { $reason }
day-attempt-setter-is = make { PERSON($name) } the setter
day-attempt-ask-lift = lift tile { $number }
day-attempt-leave-lift = leave a lift
day-attempt-accept-tiles = accept tiles
day-attempt-take-off = take off tile { $number }
day-attempt-set-lots = lift one in { $one-in }
day-attempt-commit-lots = begin the lots anew
day-attempt-spoil-sample = call a sample spoiled
day-attempt-more-samples = make more samples
day-attempt-release-method = release a method in the name of { PERSON($name) }
day-attempt-finish-area = finish the area
day-attempt-sign-day = sign the day
day-attempt-open-addendum = open an addendum
day-attempt-correct = correct event { $target }
day-attempt-answer-point = answer an open point
day-attempt-ask = a question

day-before-not-whole = Nothing can go on from { $file }, since it is no whole day: { $why }
day-before-none = It opens no day.

# --- dictation written out afterwards

day-sound-missing = The sound of event { $event } is not there ({ $file }). It belongs into the day’s folder of attachments: take the day in again from its bundle.
day-sound-changed = The sound of event { $event } is not the one that was kept ({ $file }). Nothing was written from it: take the day in again from its bundle.
