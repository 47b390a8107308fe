# What is wrong in a file that somebody wrote: a checklist, a plan, the demo's scenario.

file-refused = { $path } was refused:
    { $problems }
file-at-file = { $wrong }
file-at-line = line { $line }: { $wrong }
file-at-field = line { $line }: { $field }: { $wrong }
file-did-you-mean = (did you mean '{ $near }'?)

# --- the file as a whole

file-missing = there is no such file
file-unreadable = it cannot be read: { $why }
file-not-regular = it is a folder, a pipe or a device; a file is expected
file-too-large = it is larger than { $most } kB
file-not-utf8 = not UTF-8 text; save the file as UTF-8
file-no-fields = fields are expected at the top, such as 'title: ...'
file-is-plan = this is a plan of a day; a checklist is expected
file-is-checklist = this is a checklist; a plan of a day is expected
file-id-taken = '{ $given }' is taken by { $other }; give this file its own id

# --- YAML

file-too-many-values = it stands for more than { $most } values, what aliases stand for counted as often as they stand
file-too-deep = lists stand in lists too deep to be read
file-odd-character = a character stands here that no text holds
file-yaml-tab = a tab stands here; lines are moved in with spaces
file-yaml-quotes = text that begins with { $mark } must stand in quotes: '{ $mark }'
file-yaml-column = this line is moved in by other than the lines of its list; put it in the same column as they are
file-yaml-after-quote = text goes on after a closing quote; write '' for an apostrophe in single quotes
file-yaml-colon = a second colon, or a line moved in too far; text with a colon needs quotes
file-yaml-dash = a dash stands after a colon; a list begins on a line of its own
file-yaml-no-colon = this line lacks its colon: write 'field: value'
file-yaml-bracket = a list or mapping in brackets is not closed: { $mark } is missing before this
file-yaml-open-quote = a quotation mark that is opened here is never closed
file-yaml-alias = *{ $name } names nothing; text that begins with * must stand in quotes
file-yaml-twice = the field '{ $name }' stands twice
file-yaml-documents = a second document begins here; a file holds one
file-yaml-escape = \{ $mark } means nothing in double quotes; use single quotes
file-yaml-other = this is not YAML: { $why }

# --- any field

file-field-unknown = no field is called '{ $given }'; allowed: { $allowed }
file-field-missing = this field is missing
file-not-allowed = '{ $given }' is not allowed; allowed: { $allowed }
file-not-id = '{ $given }' does not fit; allowed: lower-case letters and digits joined by hyphens, such as 'wet-area-wall'
file-not-spoken = '{ $given }' does not fit; allowed: up to six words of letters a to z, as they are spoken
file-not-date = '{ $given }' does not fit; allowed: a date such as '2026-03-17' (in quotes)
file-not-text = '{ $given }' is no text; put it in quotes
file-not-number = '{ $given }' is no number
file-not-whole = '{ $given }' is no whole number
file-not-yes-no = '{ $given }' is neither true nor false
file-not-list = a list is expected here
file-not-fields = fields are expected here, such as 'id: ...'
file-too-few = at least { $least } { $least ->
    [one] is
   *[other] are
} needed here
file-too-short = it is empty
file-too-long = it is longer than { $most } letters
file-out-of-range = '{ $given }' is out of range
file-unfit = '{ $given }' does not fit here ({ $kind })
file-no-wording = a text is expected, or texts by language such as en: ...
file-wording-length = a text has 1 to { $longest } letters
file-quantity-without-unit = it is written with its unit, such as '{ $example }'

# --- limits, facts, clocks

file-lots-unfit = '{ $given }' is not how often a lot falls; write tiles from 1 to 12, rows of the grid or square metres, such as '6 tiles', '2 rows' or '4 m2'
file-lots-mixed = lots stand alone: always, every and changes belong to a section that is due at known places
file-every-row = 'every: row' belongs to a section that lifts no tile, and 'without_grid' beside it says how often where the plan has no grid
file-lots-without-lift = lots belong to a section that lifts a tile
file-limit-mixed = a limit is numbers, a rule or a calculation, not several of them
file-limit-without-result = a limit by calculation names the result that is the limit: result: greatest gap
file-limit-result-alone = given and result belong to a limit by calculation
file-limit-empty = a limit needs at_least, at_most, rule or calculation
file-limit-without-unit = a limit in numbers needs its unit
file-limit-without-basis = a limit in numbers needs its basis: the document and clause, or 'common practice, no published source'
file-limit-impossible = at_least { $least } lies above at_most { $most }: nothing could pass
file-calculation-unknown = no computation is called '{ $given }'; `fieldassist calc` lists all
file-rule-unknown = no rule is called '{ $given }'; allowed: { $allowed }
file-fact-unknown = no fact is called '{ $given }'; allowed: { $allowed }
file-unit-unfit = '{ $given }' does not measure { $measured }; allowed: { $allowed }
file-clock-rule-or-lasts = a clock has either a rule or lasts
file-clock-without-basis = a fixed duration needs its basis
file-clock-at-least = a time that must be over (bound: at least) ends nothing, warns of nothing and is never called late
file-clock-without-corrective = the clock '{ $given }' judges this step: name its corrective, for when it is done too early

# --- steps

file-phrase-unspeakable = '{ $given }' must be lower-case words as they are spoken; only a reading has {"{"}value{"}"} among them
file-phrase-without-value = '{ $given }' has no {"{"}value{"}"} for the reading
file-phrase-with-value = {"{"}value{"}"} stands only in the phrases of a reading
file-step-without-say = 'say' lists the words that answer it; at least one phrase is needed
file-step-without-by = a hold point names who releases it: by: foreman
file-step-without-on-fail = it can fail but has no on_fail: say which corrective action cures a failure
file-quantity-unknown = no quantity is called '{ $given }'; allowed: { $allowed }
file-label-with-units = a label has neither units nor limits
file-reading-without-units = a reading lists its units, the usual one first; allowed: { $allowed }

# --- sections

file-section-called = 'called' lists the words that open a section with when: called
file-section-due = 'due' belongs to when: due, and is needed there
file-section-needs = only a called section has needs
file-section-again = again belongs to when: start
file-section-anytime = anytime belongs to when: called, to a section that needs, sets and changes nothing, or to when: due, to a section that lifts and puts back nothing and whose first step has phrases
file-section-counting = where steps are called after a change only, the section sets a tile, and exactly two of its steps, of kind confirm and with a number of tiles (number), are called every round: the one that spreads the mortar, then the one that counts the tiles
file-step-number = number belongs to the two steps of a section that counts tiles
file-section-empty = a section lists its steps; only one with anytime: true goes without
file-section-batch = what is read of a batch belongs to a called section
file-sections-batch = a second section changes the batch; one does
file-corrective-empty = a corrective action lists its steps; only one with then: again goes without
file-stops-work-corrective = '{ $given }' must have steps and then: go on
file-reading-of-batch = '{ $given }' of a batch is not read as { $quantity }
file-section-lifts = one lift a round
file-section-measures = 'measures' belongs to a section with a step of kind lift, or with 'tries'
file-section-tries = a section with 'tries' is called, sets and lifts nothing, and has a reading that measures: coverage
file-step-only = 'only' and 'reader' belong to the steps of a section with 'tries'
file-section-lift-unmeasured = a lift needs a reading that measures: coverage

# --- names

file-id-twice = the id '{ $given }' stands twice; ids must differ
file-name-not-in-file = this file holds no '{ $given }'; allowed: { $allowed }
file-name-unfit = '{ $given }' is no name: up to six words of letters of one script, hyphens and apostrophes, such as Jean-Luc O'Brien
file-name-needs-spoken = write how '{ $given }' is said, in letters a to z, beside it: spoken: ivan
file-method-needs-spoken = write how '{ $given }' is said, in letters a to z, under methods_spoken
file-crew-share-name = two people are called '{ $given }'; the voice could not tell them apart
file-area-id-twice = two areas have the id or name '{ $given }'; on the next day nobody could tell which goes on
file-areas-share-name = two areas are called '{ $given }'; the voice could not tell them apart
file-methods-share-name = two methods are called '{ $given }'; the voice could not tell them apart
file-deputy-for-no-foreman = '{ $given }' is no foreman of the crew: a deputy stands for one who is
file-foreman-as-deputy = '{ $given }' is a foreman, who releases without being a deputy
file-crew-without-foreman = the crew has no foreman: nobody could release a hold point or sign the day

file-piece-placed = a piece lies at a row and a column of the grid, or it has a name: write one of the two
file-piece-twice = this piece stands in the list twice
file-trial-slide = who moves nothing slides nothing: give "movement", or leave "slide" out
file-trial-seconds = only what is vibrated has "seconds": write "seating: vibrated", or leave them out
file-trial-question = a question has "part", "one" and "other", or two "letters"
file-trial-question-without-pair = no two combinations differ in this alone, so nothing answers this question
file-trial-try-and-combinations = write "try" or "combinations", not both
file-trial-twice = combination { $given } stands here twice
file-trial-notch = no notch is called { $given }: use one of { $allowed }, or give its family, width, depth and spacing
file-grid-cut = a cut piece is wider than nothing and no wider than a whole one
file-niche-off-wall = the niche must lie within the area's grid and be wider and higher than nothing
file-piece-off-grid = the area's grid has no such place; write rows and columns under grid
