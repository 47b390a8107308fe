# What stands on every page of a day's documents.

page-title = { $kind ->
    [practice] PRACTICE: Daily log, { $site }, { $date }
    [rehearsal] REHEARSAL: Daily log, { $site }, { $date }
   *[work] Daily log, { $site }, { $date }
    }
page-subject = Tile setting, { $events } events, log head { $head }
page-head = Daily log · { $site } · { $date }
page-number = page { $number } of { $total }
page-copy = copy of the signed file, page { $number } of { $total }
page-letters-lacking = (letters that this page cannot print)
page-area-numbered = Area { $number } { $area }
page-reference = page { $number }
page-reference-on = from page { $number }
page-record = { $events ->
    [one] 1 event
   *[other] { $events } events
 }, head { $head } …
page-foot-sealed = Sealed by { $name }, { $role }, { $time }{ $part ->
    [0] { "" }
   *[other] {" "}(addendum { $part })
}. { $record }
page-foot-since = Sealed by { $name }, { $time }{ $part ->
    [0] { "" }
   *[other] {" "}(addendum { $part })
}; { $addendum ->
    [0] NOT SEALED since
   *[other] addendum { $addendum } NOT SEALED
}. { $record }
page-foot-not-sealed = Signed, NOT SEALED: { $name }, { $role }, { $time }. { $record }
page-foot-unfit = THE SEAL{ $part ->
    [0] { "" }
   *[other] {" "}OF ADDENDUM { $part }
} DOES NOT FIT: { $name }, { $role }, { $time }. { $record }
page-foot-not-signed = NOT SIGNED. { $record }
page-mark-practice = PRACTICE: a day to try the tablet on. No tile was set. This is proof of nothing.
page-mark-rehearsal = REHEARSAL: a script was played. No tile was set. This is proof of nothing.

# --- dates; weekdays from Monday

page-date = { $weekday } { $day } { $month } { $year }
page-short-date = { $day } { $month } { $year }
page-time-of = { $date }, { $time }
page-weekday-1 = Monday
page-weekday-2 = Tuesday
page-weekday-3 = Wednesday
page-weekday-4 = Thursday
page-weekday-5 = Friday
page-weekday-6 = Saturday
page-weekday-7 = Sunday
page-month-1 = January
page-month-2 = February
page-month-3 = March
page-month-4 = April
page-month-5 = May
page-month-6 = June
page-month-7 = July
page-month-8 = August
page-month-9 = September
page-month-10 = October
page-month-11 = November
page-month-12 = December
page-file-events = Every event of the log as it was stored, one a line
page-file-manifest = Name, size and SHA-256 of each file, and the hash in which the log ends
page-file-sequence = Every event as a line of a table, told in the language of the pages
page-file-attachment = Photo, what was measured on it, or sound that the events speak of
page-signature-field = Signature over all bytes of this file

# --- roles

page-role = { $role ->
    [installer] installer
    [foreman] foreman
    [owner] owner
    [inspector] inspector
    [firm] firm
   *[other] { $role }
 }

# In the place of a photo, some 17 mm wide: that nobody took one, that it is not in this file, that it cannot be opened.
page-photo-none = No photo
page-photo-elsewhere = Photo not in this PDF
page-photo-unreadable = Photo cannot be shown

# Of the files that are attached, in the appendix.
page-attached-copies = { $count ->
    [one] 1 photo is attached as a copy of at most 1,600 dots; the photo itself is in the bundle of this day. The record names both with their SHA-256.
   *[other] { $count } photos are attached as copies of at most 1,600 dots; the photos themselves are in the bundle of this day. The record names both with their SHA-256.
 }
page-attached-lacking = Not attached, though the record speaks of them: { $files }. The tablet had no whole copy, or all files together passed { $most } MB. Look for them in the bundle.
page-attached-loose = Not attached, since they are not named by their content: { $files }.
page-attached-file = { $file } (event { $event })

page-range = { $first } to { $last }
page-clock-later = { $time } +{ $days }
page-clock-earlier = { $time } −{ $days }
