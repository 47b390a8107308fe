# The screen of the step at hand, the pad for numbers and what a clock that ran out asks.
work-late-piece = Was piece { $piece } set in time?
work-late-spread = { $left ->
    [0] Was the last of them in in time?
    [one] Was the last piece in in time?
   *[other] Were all { $left } in in time?
}
work-late-pot = Was bucket { $bucket } empty in time?
work-late-other = { $clock }: done in time?
work-late-yes-open = Yes, set before { $time }
work-late-yes-pot = Yes, empty before { $time }
work-late-yes-other = Yes, before { $time }
work-late-no-open = No. Scraped off and thrown away
work-late-no-pot = No. Thrown away
work-late-no-other = No. { $name }
