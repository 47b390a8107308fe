# Why a day cannot be printed, and what was kept.
report-no-day = This log holds no day: nothing was opened in it. Open a day with its plan first.
report-unknown-area = Event { $event } starts the area { $area }, which the day's plan and checklists do not hold.
report-area-not-started = Event { $event } belongs to the area { $area }, which was never started.
report-events-unsound = The events of this log do not follow from each other: { $why }
report-cannot-write = The daily log could not be written to { $file } ({ $why }). The day itself is safe in its log. Free some space or choose another folder, then print it again.
report-not-sealed-to-its-end = The day is not sealed to its last event, so its pages cannot be signed. Sign the day first.
report-seal-names-no-certificate = This day was sealed by an earlier version, and its seal names no certificate: its pages cannot be signed. Print them as they are.
report-other-key-sealed = { PERSON($name) } sealed this day with another key than this one, so it cannot sign the pages.
report-too-many-files = This day speaks of { $count } photos and sounds, more than a PDF can hold. The day itself is safe in its log: hand over the folder.
