# Behind the person and behind the ear: who works, dust, cautions, handling, choices, hearing; help and the trade's words.

# --- dust --------------------------------------------------------------------------------------------------------

person-dust-sum = { $minutes } of { $limit }
person-dust-over = { $minutes }, over { $limit }
person-dust-runs = { CAPITAL($task) }, { $place }: { $minutes } so far
person-dust-asks = { $factor ->
    [0] { $control }; no mask asked for
   *[other] { $control }; a mask of factor { $factor }
}
person-dust-now-more = Over 4 h: a mask of factor { $factor }.
person-dust-then-more = In { $left }: a mask of factor { $factor }.

# --- cautions ----------------------------------------------------------------------------------------------------

person-caution-all = Seen by all who set
person-caution-missing = Not seen today: { $persons }
person-caution-nobody = Nobody has seen it today

# --- what a screen says of itself --------------------------------------------------------------------------------

person-screen-wall = Wall
person-screen-work = Work
person-screen-plan = Plan
person-screen-day = Day
person-screen-lift = Lift
person-screen-piece = A piece
person-screen-layout = Laying out a wall
person-screen-trial-design = Designing a mock-up
person-screen-trial = A mock-up's ranking
person-screen-trial-samples = A mock-up's samples
person-screen-release = Releasing a method
person-screen-history = The day's log
person-screen-person = You
person-screen-ear = Ear
person-screen-signing = Sign-off
person-screen-handing = Handing over
person-screen-check = Checking a record
person-screen-countersign = Countersigning
person-screen-days = Days
person-screen-else = Something else
person-screen-failed = A failed lift
person-screen-measuring = Measuring a back
person-screen-photos = Photos
person-screen-plan-parts = Bags, lifts, handling
person-screen-plan-sources = Sources
person-screen-site = Site and crew
person-screen-mortars = Mortars
person-screen-pages = The pages
person-screen-dust = Dust
person-screen-cautions = Cautions
person-screen-handling = One piece
person-screen-tablet = This tablet
person-screen-crew = Crew and PINs
person-screen-roster = Roster
person-screen-glossary = Words and help
person-explains-wall = What stands, and what may be trusted. Press a piece for its record.
person-explains-work = What the hands do now. The big key says it is done; voice does the same.
person-explains-plan = Whether trowel, mortar and piece can reach the contact that is asked for, before it is spread.
person-explains-day = Site, walls, crew and mortars of today, and the days before.
person-explains-lift = Paint the places without mortar with a finger. What is grey has not been judged.
person-explains-measuring = The back on its photo: set its corners, tap or paint, and look at what was found before you say yes.
person-explains-piece = All that is known of one piece: who set it, when, how, and what was seen under it.
person-explains-layout = The wall as you enter it. Measure first; the drawing shows what comes of it.
person-explains-trial-design = Choose what is tried, each with each. Beside it stands what it takes, what it will tell apart, and what the reckoning rules out.
person-explains-trial = Each row is a method: a circle a sample, the bar its mean as far as it is known, the dashed line what is needed.
person-explains-trial-samples = Every sample, spoiled ones too. What your own eyes are worth is shown to you alone.
person-explains-release = The foreman releases one method for areas of the job, by PIN. Another than the best needs a reason.
person-explains-history = Everything that was called today, with its time. Corrections stand beside, nothing is wiped out.
person-explains-else = What is not the next step: notes, a tile taken off, weather, and what went wrong.
person-explains-failed = What may be trusted no more, and two ways to put it right with what each would reach.
person-explains-photos = Pictures of this day: take one, choose one, look at one large.
person-explains-plan-parts = How many bags, how many lifts, who carries a piece: reckoned from the plan, changing nothing.
person-explains-plan-sources = Where each figure of the plan comes from.
person-explains-site = The site, its walls, its crew and its mortar, as the day begins with them.
person-explains-mortars = The mortars kept on this tablet, each with what its data sheet says.
person-explains-pages = The pages as they will be handed over. Read before you sign.
person-explains-dust = Choose the task and the place; the table says what it takes. Minutes run from start to end.
person-explains-cautions = Each comes before the work that it is for. Here is who has seen it today, and who has not.
person-explains-handling = How many people lift one piece, and why. Press a figure to enter your own.
person-explains-tablet = How this tablet looks, in which units it speaks, when it locks.
person-explains-crew = Who can sign here. Each gives their own PIN, with the tablet in their own hands.
person-explains-roster = Who signs with which key, from when to when. It comes with the contract.
person-explains-glossary = The trade's words in plain sentences, and what each screen is for.
person-explains-person = Who speaks and who sets, dust minutes, cautions, lifting, and how this tablet looks.
person-explains-ear = Which microphone hears, how it listens, and what became of the last five things it heard.
person-explains-signing = What an inspector asks first. What is open is said on the key; a finger and a PIN sign.
person-explains-handing = The page and the proof, to show, to print or to hand over.
person-explains-check = Whether a file is the record that was made and signed. Compare the head with the one that the signer has.
person-explains-countersign = The owner or an inspector puts their name to the sealed day, and takes its head away.
person-explains-days = Every day on this tablet. Sealed ones are not changed any more.

# --- the trade's words -------------------------------------------------------------------------------------------

person-word-batch = Batch
person-means-batch = Mortar that was mixed in one go. Every piece knows which batch it lies in.
person-word-lot-of-mortar = Lot on the bag
person-means-lot-of-mortar = The maker's number on the bag: bags with one number were made together.
person-word-slake = Slake
person-means-slake = Mixed mortar rests some minutes so that the powder takes up its water, and is mixed once more.
person-word-pot-life = Pot life
person-means-pot-life = How long mixed mortar may be used. After it the batch is thrown away; water does not bring it back.
person-word-open-time = Open time
person-means-open-time = How long combed mortar takes a piece. After it the surface has skinned: scrape it off and comb anew.
person-word-skin = Skin
person-means-skin = The dry film on mortar that waited too long. It looks wet and does not stick; a finger comes away clean.
person-word-notch = Notch
person-means-notch = The tooth of the trowel. Its size says how high the ridges stand and how much mortar lies under a piece.
person-word-ridge = Ridge
person-means-ridge = A line of mortar that the notch leaves. Straight ridges along the short side let the air out.
person-word-collapse = Ridges collapse
person-means-collapse = Pressed and slid across, the ridges fall and close the valleys between them. What stays open is air.
person-word-bed = Bed
person-means-bed = The mortar between base and piece once the piece is in. Too thin does not hold, too thick sags and shrinks.
person-word-keyed-back = Keyed back
person-means-keyed-back = A thin coat pressed hard into the back with the flat of the trowel, before the piece goes in.
person-word-stroke = Slid across
person-means-stroke = The piece is pushed back and forth across the ridges, so that they fall. Along them they stay open.
person-word-beat-in = Beaten in
person-means-beat-in = Knocked with block or mallet from the middle to the edges, until it lies full and flat.
person-word-lippage = Lippage
person-means-lippage = How far one edge stands above its neighbour. Fingers and light find it before a rule does.
person-word-joint = Joint
person-means-joint = The gap between two pieces, filled later. It takes up what pieces differ in size.
person-word-lift = Lift
person-means-lift = A piece is taken off again while the mortar is fresh, to look under it, and is put back.
person-word-coverage = Contact
person-means-coverage = The share of a back that mortar really touches. Smears without thickness do not count.
person-word-void = Void
person-means-void = A place under a piece without mortar. A large one under an edge or corner breaks first.
person-word-lot = Lot
person-means-lot = The tablet draws which piece is lifted next, so that nobody can know it while setting.
person-word-suspect = Suspect
person-means-suspect = Set like a piece that failed, and not looked under since. It is lifted, taken off or answered for.
person-word-covered = Covered
person-means-covered = A good lift before it and one behind it, by the same hands and method. It was not looked at itself.
person-word-witnessed = Witnessed
person-means-witnessed = Every step of this piece was called as it was done. The first piece after a change always is.
person-word-counted = Counted
person-means-counted = Only that it went in was called. It is like the witnessed one before it, and lifts speak for it.
person-word-hold-point = Hold point
person-means-hold-point = Work waits here until somebody else has looked, and says so with their PIN.
person-word-method = Method
person-means-method = Notch, sides combed, coat on the back, and how pieces are moved and beaten in. A change shows on the wall.
person-word-silica = Silica dust
person-means-silica = Fine dust of cut tile, stone and mortar. It scars the lungs for life: wet, drawn off, and a mask on top.

# --- the page behind the person ----------------------------------------------------------------------------------

person-title = You
person-no-day = No day is open. Begin one, or go on with one, at Day.
person-face = { $does ->
    [both] speaks, sets
    [speaks] speaks
    [sets] sets
   *[none] { $role ->
        [foreman] foreman
        [owner] owner
       *[installer] installer
    }
}
person-choose-first = Press first who speaks: minutes of dust are somebody's.
person-sets = Who sets
person-sets-now = now { PERSON($name) }
person-will-set = { PERSON($name) } sets
person-no-setter = No area is open. Start one on the wall; who speaks first there sets.
person-only-setter = The plan has nobody else who sets. Add them on the Day page.
person-dust = Dust today
person-dust-task = { CAPITAL($task) }
person-dust-place = { $place }; press for another
person-dust-starts = Dust starts
person-dust-ends = Dust ends
person-dust-what = { $task }, { $place }
person-cautions = Cautions
person-cautions-stand = { $unseen ->
    [0] all seen
   *[other] { $unseen } not seen
}
person-handling = One piece
person-handling-who = { $kind ->
    [gear] frame or hoist
    [not-judged] no figure holds
   *[hands] { $people ->
        [one] one person
       *[other] { $people } people
    }
}
person-tablet = This tablet
person-tablet-is = { $theme ->
    [day] day
    [dark] dark
   *[sun] sun
}, { $text } %
person-pins = Crew and PINs
person-words = Words and help
person-note-minutes = Note minutes
person-day-signed = The day is signed. Its minutes of dust stand; more go into an addendum.
person-understood-by = seen by { PERSON($name) }
person-choose-first-caution = Press first, behind the person, who speaks: a caution is seen by somebody.
person-none-due = No caution is due now. Each comes before the work that it is for.
person-not-seen = { PERSON($name) } has not

# --- how the tablet looks ----------------------------------------------------------------------------------------

person-choose-theme = Colours
person-choose-text = Size of text
person-choose-hand = Hand that presses
person-choose-units = Units
person-choose-press-to-hear = Press words to hear them
person-choose-lock-minutes = Lock when left alone
person-choose-keyboard = Letters to type with
person-choose-keep-places = Places in photos
person-chosen-theme = { $which ->
    [day] Day
    [dark] Dark
   *[sun] Sun
}
person-chosen-hand = { $which ->
    [left] Left
   *[right] Right
}
person-chosen-units = { $which ->
    [metric] Metric
    [us] US
   *[plan] As planned
}
person-chosen-press-to-hear = { $which ->
    [yes] Yes
   *[no] No
}
person-chosen-keyboard = { $which ->
    [yes] On screen
   *[no] My own
}
person-chosen-keep-places = { $which ->
    [yes] Keep
   *[no] Leave out
}
person-lock = { $minutes ->
    [0] Never
   *[other] { $minutes } min
}
person-lock-needs-pin = A lock opens with a PIN, and nobody has one here. Give one under "Crew and PINs" first.
person-units-kept = Readings are kept in the unit in which they were said, whatever is shown. Locked are signing, settings and corrections; voice, clocks and the work go on.
person-places-kept = A camera writes where a photo was taken, with what and by whom. Left out, the picture stays as it is and the log says so; how it was held and when it was taken stay. The log proves a photo by its hash either way.

# --- crew and PINs -----------------------------------------------------------------------------------------------

person-nobody-here = Nobody has a PIN here yet. Open a day: its crew is listed here then.
person-pin-is = { $has ->
    [yes] { $role ->
        [foreman] foreman
        [owner] owner
        [inspector] inspector
        [firm] firm
       *[installer] installer
    }, has a PIN
   *[no] { $role ->
        [foreman] foreman
        [owner] owner
        [inspector] inspector
        [firm] firm
       *[installer] installer
    }, no PIN yet
}
person-pins-mean = A PIN opens a key, and a key signs. Each gives their own, with the tablet in their own hands: 6 to 12 digits, no date and no pattern, eight or more for whoever signs for others.
person-other-role = { PERSON($name) } is { $role ->
    [foreman] foreman
    [owner] owner
    [inspector] inspector
    [firm] firm
   *[installer] installer
} here, and the key was made for { $made ->
    [foreman] a foreman
    [owner] an owner
    [inspector] an inspector
    [firm] a firm
   *[installer] an installer
}: it signs nothing in this day. It takes a new key.
person-key-damaged = { $file } is damaged and was left out. Give that person a new PIN and key.
person-no-pin = No PIN here: cannot sign on this tablet.
person-own-hands = Only { PERSON($name) } types it. Where a foreman or an owner has a PIN here, they give theirs first.
person-give-pin = Give a PIN
person-fingerprint = Fingerprint of the key, to read out and compare:
person-key-replaced = It took the place of { $fingerprint }: the PIN was forgotten.
person-change-pin = Change the PIN
person-forgotten = Forgotten
person-new-key = A new PIN without the old one makes a new key; the old one is gone for good.
person-new-key-tell = Days that were signed before stay valid. Every day that the new key signs says that it is new. Tell the owner and the inspector its fingerprint: they will be warned.
person-make-new-key = Make a new key
person-pin-vouch = { PERSON($name) } stands for { PERSON($whose) }: PIN of { PERSON($name) }
person-pin-old = Old PIN of { PERSON($name) }
person-pin-new = New PIN of { PERSON($name) }
person-pin-again = { PERSON($name) }: the new PIN again
person-pin-differs = The two are not the same. Nothing was changed: give it once more.
person-pin-wrong = That is not the PIN of { PERSON($name) }. { $left ->
    [one] One try is
   *[other] { $left } tries are
} left before a wait. Nothing was changed.
person-pin-locked = Too many wrong PINs for { PERSON($name) }. Nothing was changed; try again after { $at }.

# --- behind the ear ----------------------------------------------------------------------------------------------

person-ear = Ear
person-last-heard = The last five heard
person-nothing-heard = Nothing yet.
person-became-taken = taken
person-became-refused = refused
person-became-asked = asked back
person-became-dropped = dropped
person-manner = How it listens
person-manner-held = Key held
person-manner-called = Called
person-manner-open = All the time
person-manner-means-held = All that is said while the key, pedal or headset button is held is taken.
person-manner-means-called = What begins with the call is taken, and without it what goes on with the work at hand.
person-manner-means-open = Anything that is one of the phrases is taken. For quiet places: talk nearby may pass for a command.
person-attention = Call: '{ $phrase }'
person-attention-ask = The call, two words or more
person-attention-length = The call has 3 to 60 letters. Choose another one.
person-key = Key: { $key }
person-press-key = Press the key, pedal or headset button
person-key-cannot = That key cannot be used; the key is the one from before. Choose another one.
person-dropped-seen = Dropped: only shown
person-dropped-heard = Dropped: a low sound
person-notes-heard = Notes: as heard
person-notes-written = Notes: also written out
person-microphone = Microphone
person-microphone-any = As the system says
person-microphone-gone = { $name }, not plugged in
person-microphone-none = No microphone is plugged in. Work goes on by touch.
person-look-again = Look again
person-try-it = Try it
person-try-say = Press, then say '{ $phrase }'
person-listening-to-you = Listening to you
person-heard-you = I heard { $words }.
person-tried-good = Heard “{ $words }”, taken for { $value }. { $microphone } works.
person-tried-otherwise = Heard “{ $words }”, which is not the phrase. Hold the microphone nearer to the mouth, say it again.
person-tried-silent = No sound came from { $microphone }. See whether it is muted or unplugged, or choose another one.
person-tried-no-words = { $microphone } gave sound, but no words were heard in it. Speak up, nearer to the microphone.
person-speaking = How it speaks
person-aloud = Aloud
person-written = Only in writing
person-speak-all-words = All words
person-speak-few-words = Few words
person-speak-sounds = Only sounds
person-say-something = Hear it
person-hear-alarm = Hear the alarm
person-speaker-test = The tablet can be heard. Coverage, ninety five percent.
person-model = Speech model
person-model-gone = { $name }, not found
person-model-own = A model of your own belongs, in a folder, into { $folder }.

# --- help --------------------------------------------------------------------------------------------------------

person-look-up = Look up
person-look-up-what = Which word?
person-the-words = The words
person-the-screens = The screens
person-no-such-word = “{ $word }” is not among them.
person-see-too = See too
person-see-word = See { $word }
person-words-in-it = Words in it
person-why-asked = Asked first: { $ask }
person-why-caution = A caution comes before it: { $caution }
person-why-needs = It must reach: { $requirement }

# --- the lock ----------------------------------------------------------------------------------------------------

person-locked = Locked
person-locked-goes-on = Signing, settings and corrections wait for a PIN. Voice, clocks and the work go on.
