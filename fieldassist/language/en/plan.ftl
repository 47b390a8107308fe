# The screen on which an area is reckoned.

plan-none = There is no plan yet. Begin a day on the screen Today; its areas are reckoned here.
plan-degrees = { $value }°
plan-unknown = –
plan-assumed = Assumed: { $what }

plan-group-trowel = Trowel
plan-group-piece = Piece
plan-group-base = Base and mortar
plan-group-bags = Area and bags
plan-group-lifting = Lifting

plan-origin-plan = plan
plan-origin-in-use = in use
plan-origin-measured = measured
plan-origin-assumed = assumed
plan-origin-entered = entered
plan-origin-not-known = not known

# --- the verdict -------------------------------------------------------------------------------------------------

plan-works = Works
plan-does-not-work = Does not work
plan-cannot-tell = Cannot be worked out
plan-kept = What you entered is kept: change it, or press “As planned”.
plan-brief = bed { $bed }, contact at most { $contact }
plan-brief-assumed = bed { $bed }, contact at most { $contact }, base ASSUMED true
plan-basis = Reach: { $reach }
    Contact: { $contact }
    Bed: { $bed }
plan-no-way = No notch of the plan and no usual one works: flatten the base, or ask the foreman.
plan-other-way = Would work: { $way }.
plan-works-at-limit = With the base off by all that its limit allows ({ $gap }): works
plan-does-not-work-at-limit = With the base off by all that its limit allows ({ $gap }): does not work

# --- results -----------------------------------------------------------------------------------------------------

plan-part-bed = Bed and contact
plan-part-setting = Setting
plan-part-handling = Weight and lifting
plan-part-bags = Bags and water
plan-part-tiles = Tiles to lift
plan-part-times = Times

plan-bed = Bed after collapse, mean
plan-bed-from = from ridges { $height } tall, { $pitch } from one to the next
plan-gap = Gap to fill
plan-gap-even = { $low }
plan-gap-wedge = { $low } to { $high }
plan-gap-measured = Least bed at the high places; warpage and base on top at the low ones; base as measured.
plan-gap-entered = Least bed at the high places; warpage and base on top at the low ones; base as entered.
plan-gap-assumed = Least bed at the high places; warpage and base on top at the low ones; base ASSUMED true.
plan-contact = Contact the ridges can give
plan-contact-most = at most { $contact }
plan-contact-required = { $required } is required; trapped air and ridges left standing make it less, so lift tiles.
plan-contact-basis = { $volume }. Required: { $required }
plan-combed = { $sides ->
    [both] Combed on base and back
   *[one] Combed on the base only
    }
plan-combed-here = { $sides ->
    [both] Combed on base and back (as it stands)
   *[one] Combed on the base only (as it stands)
    }
plan-combed-verdict = { $verdict ->
    [thin] { $bed }: too thin
    [thick] { $bed }: too thick
   *[within] { $bed }: within
    }

plan-slide = Slide
plan-comb = Comb
plan-comb-way = one way, parallel to the short side ({ $side })

plan-one-piece = One piece
plan-weighed = As weighed.
plan-computed = From its size; weigh one to be sure.
plan-who = Who may carry one
plan-alone = One person alone
plan-suction = Suction lifter, carried by hand

plan-bags = Bags
plan-bags-to-bring = { $whole } to bring, { $exact } used
plan-bags-mortar = { $volume } of mortar for { $area } with { $waste } waste, { $powder } of powder.
plan-water = Water
plan-water-in-all = { $water } in all
plan-water-a-bag = { $water } for each bag; never more after the slake.
plan-water-not-known = not known: press “Water for a bag” and enter the data sheet's figure
plan-batches = Batches
plan-batches-of = { $batches ->
    [one] one of { $bags } bags
   *[other] { $batches } of { $bags } bags
    }
plan-batches-last = Each does for { $area } and is used up in { $minutes }.

plan-no-tiles = This area's checklist asks for no tile to be lifted.
plan-tiles-least = At least
plan-tiles-of = { $least } of about { $lot }
plan-tiles-lot = { $lot } pieces, joints and cuts not counted.
plan-tiles-proof = What that would prove
plan-tiles-more = To claim more

plan-span = { $least } to { $greatest }
plan-comb-area = Comb at once
plan-comb-pieces = { $pieces ->
    [0] less than one piece: comb half of it, or have one comb and another set
    [one] one piece, { $area } at most
   *[other] { $pieces } pieces, { $area } at most
    }
plan-comb-pace = What is set within the open time, at { $hourly } an hour.
plan-times-caution = Sun, wind, heat and a thirsty base shorten it: touch the mortar.

# --- the first page ----------------------------------------------------------------------------------------------

plan-page-works = Works: { $contact }
plan-page-does-not-work = Does not work: { $contact }
plan-page-needs = Needs { $needed }. The bed is { $bed }, the gap up to { $gap }.
plan-page-reason = { $reason }.
plan-page-combed = Combed: ridges { $height }
plan-page-pressed = Pressed: gap { $low } to { $high }
plan-page-pressed-even = Pressed: gap { $low }
plan-page-air = air { $air }
plan-page-off = To scale: bow { $bow }, base off by { $base }
plan-page-off-assumed = To scale: bow { $bow }, base not measured
plan-page-notch = Notch
plan-page-angle = Trowel
plan-page-sides = Comb
plan-page-skim = Coat on the back
plan-page-sides-one = base only
plan-page-sides-both = base and tile
plan-page-comb-one = base
plan-page-comb-both = both
plan-page-no-coat = none
plan-page-none = There is no step this way.
plan-page-to-notch = Notch { $to }: { $contact }
plan-page-to-angle = Hold it at { $to }: { $contact }
plan-page-to-sides-both = Comb both sides: { $contact }
plan-page-to-sides-one = Comb the base only: { $contact }
plan-page-to-vibrated = Vibrate it: { $contact }
plan-page-to-way = { $notch }, { $sides }: { $contact }
plan-page-to-skim = Coat { $to } on the back: { $contact }
plan-page-nothing = Nothing to go on with
plan-page-nothing-to-change = Not begun
plan-page-other-open = Another area is open: { $area }. Open this one first.
plan-page-to-day = To the day
plan-page-use = Use from piece { $piece }
plan-page-use-on-word = On { PERSON($name) }'s word from piece { $piece }
plan-page-in-use = This is in use
plan-page-not-begun = The area is not begun: the plan holds what it begins with.
plan-page-as-planned = As planned
plan-page-parts = Bags, lifts, handling
plan-page-sources = Sources
plan-page-method-from = method, from piece { $piece } on
plan-page-back = Back to the method
