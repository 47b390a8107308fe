# What stands around every page: the band over it, the places beside it, the sheets over it.
frame-nobody = nobody
frame-ear = Ear
frame-minutes = min
frame-nothing-combed = { $short ->
    [yes] Nothing combed
   *[no] Nothing combed: open time not running
}
frame-ends-open = skins { $time }
frame-ends-pot = ends { $time }
frame-ends-wait = ready { $time }
frame-ends-other = ends { $time }
frame-pot-ends = pot ends
frame-over-open = Skinned at { $time }
frame-over-pot = Pot ended at { $time }
frame-over-wait = { $name }: { $time }
frame-over-other = { $name }: over at { $time }
frame-over-what-open = over open time
frame-over-what-pot = over pot life
frame-over-what-wait = over { $name }
frame-over-what-other = over { $name }
frame-not-work = { $kind ->
    [practice] PRACTICE
   *[rehearsal] REHEARSAL
}
frame-place = { $place ->
    [wall] Wall
    [work] Work
    [plan] Plan
   *[day] Day
}
frame-more = More
frame-back = Back
frame-close = Close
frame-why = Why?
frame-whose-pin = PIN of { PERSON($name) }
frame-done = Done
frame-stop = Stop
frame-job-runs = { $what } is not done yet. Wait for it or stop it.
frame-choice-not-kept = The choice holds, but could not be kept ({ $why }).
frame-model-loads = the speech model is being loaded
frame-working = { $what }: { $share } %
frame-give = That is it
frame-take = Take it
frame-space = space
frame-capital = ABC
frame-by-touch = Go on by touch.
