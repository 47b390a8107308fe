# Behind the person and behind the ear: who works, dust, cautions, handling, choices, hearing; help and the trade's words.

# --- dust --------------------------------------------------------------------------------------------------------

person-dust-sum = { $minutes } of { $limit }
person-dust-over = { $minutes }, over { $limit }
person-dust-runs = { CAPITAL($task) }, { $place }: { $minutes } so far
person-dust-now-more = Over 4 h: { $respirator }.
person-dust-then-more = In { $left }: { $respirator }.

# --- cautions ----------------------------------------------------------------------------------------------------

person-caution-not-here = Does not apply to this piece
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
person-screen-history = The day's log
person-screen-person = You
person-screen-ear = Ear
person-screen-signing = Sign-off
person-screen-handing = Handing over
person-screen-days = Days
person-explains-wall = What stands, and what may be trusted. Press a piece for its record.
person-explains-work = What the hands do now. The big key says it is done; voice does the same.
person-explains-plan = Whether trowel, mortar and piece can reach the contact that is asked for, before it is spread.
person-explains-day = Site, walls, crew and mortars of today, and the days before.
person-explains-lift = Paint the places without mortar with a finger. What is grey has not been judged.
person-explains-piece = All that is known of one piece: who set it, when, how, and what was seen under it.
person-explains-layout = The wall as you enter it. Measure first; the drawing shows what comes of it.
person-explains-history = Everything that was called today, with its time. Corrections stand beside, nothing is wiped out.
person-explains-person = Who speaks and who sets, dust minutes, cautions, lifting, and how this tablet looks.
person-explains-ear = Which microphone hears, how it listens, and what became of the last five things it heard.
person-explains-signing = What an inspector asks first. What is open is said on the key; a finger and a PIN sign.
person-explains-handing = The page and the proof, to show, to print or to hand over.
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
