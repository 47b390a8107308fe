# A record that is checked on the tablet, and files that are taken in.
check-title = Check a record
check-which = Which record?
check-this-day = This day
check-this-day-told = as it stands on this tablet
check-folder = All days in a folder
check-folder-told = so a missing one shows
check-take-folder = Take this folder
check-looking = Looking for records
check-none-found = None was found. Plug in a stick and look again, or choose another folder.
check-file-lies = { $place }, { $day } { $month ->
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
} { $at }
check-known = { $by ->
    [roster] Known: the roster of { $firm } on this tablet, made { $made }
    [bad] The roster on this tablet is not good: no key is known
   *[none] No roster on this tablet: no key is known
}
check-rosters = Roster
# --- while it runs
check-checking = Checking { $file }
check-since = { $seconds } s
check-so-far = Found so far
check-may-leave = You may leave this page: the check goes on.
check-again = Check another
check-stopped = The check was stopped. Nothing is known of the file.
check-failed = The check could not be done: { $why }
# --- what it came to
check-checked = { $file }, checked { $at }
check-state = { $state ->
    [holds] Whole and vouched for
    [open] Not all is vouched for
    [bad] Not good: do not rely on it
    [unread] Not read: nothing is known
   *[no-work] No work: proof of nothing
}
check-day = { $site }, { $date }
check-files = { $count ->
    [one] 1 file
   *[other] { $count } files
}
check-one-of = { $file }: { $state ->
    [holds] whole and vouched for
    [open] not all is vouched for
    [bad] not good
   *[unread] not read
}
check-subject = { $subject ->
    [record] Record
    [sense] Sense
    [seals] Seals
    [pages] Pages
    [files] Files
   *[time] Time
}
check-not-good = { $count ->
    [one] 1 thing is not good
   *[other] { $count } things are not good
}
check-look = { $count ->
    [one] 1 thing to look into
   *[other] { $count } things to look into
}
check-none-of-it = { $subject ->
    [record] nothing that can be read
    [sense] not looked at
    [seals] none
    [pages] none in it
    [files] none
   *[time] only the tablet's clock
}
check-record-holds = { $events ->
    [one] 1 event, whole
   *[other] { $events } events, whole
}
check-sealed-by = by { PERSON($name) }
check-files-hold = { $count ->
    [one] 1 as its event says
   *[other] { $count } as their events say
}
check-pages-hold = { $signed ->
    [yes] every byte is signed
   *[no] as the record has them
}
check-sense-holds = decided again, the same
check-time-holds = { $stamped ->
    [yes] an authority stamped it
   *[no] the tablet's clock agrees
}
check-head = Head, to be compared
check-read-all = Read all
check-all-found = All that was found
check-what-not = What is not proven
check-nothing-found = Nothing was found about this.
# --- what no check proves
check-unproven-all = Nothing is proven. Ask for the bundle from the tablet.
check-unproven-true = That what was said on site is true: a record is no inspection.
check-unproven-whose = Whose key it is: compare its fingerprint with the one that the signer gave you.
check-unproven-held = Who had the PIN in their head when it was given.
check-unproven-roster = That the roster of { $firm } on this tablet is the one that came with the contract: compare its fingerprint { $key }.
check-unproven-end = That nothing came after the last event: compare the head with the one that the signer has.
check-unproven-time = When it was: its times are those of the tablet's clock.
check-unproven-pages = What was printed: a day's log holds no pages.
