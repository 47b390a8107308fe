# Silica dust: controls, exposure, limits.

dust-caution-silica = Silica dust scars the lungs for life: wet cutting or extraction first, the respirator on top of it.
dust-caution-sweeping = No dry sweeping and no compressed air for cleaning; a vacuum with a HEPA filter, or wet.
dust-caution-respirator = A tight respirator needs a fit test and a clean shave.
dust-caution-guide = A guide: the competent person's plan and local rules come first.
dust-caution-indoors = Indoors, move the air so that no visible dust gathers.

dust-control-water-feed = saw with its built-in water feed on the blade
dust-control-board-saw = blade up to 8 in (203 mm), dust collector with a filter of 99 % or better
dust-control-collector = shroud and dust collector
dust-control-chipping = water on the point of impact, or shroud and dust collector
dust-control-mortar-grinder = shroud and dust collector drawing 25 cubic feet a minute (0.7 m³/min) or more per inch of wheel
dust-control-grinder = shroud and dust collector, or (outdoors only) water on the wheel
dust-control-floor-grinder = water, or dust collector

dust-no-entry-mixing-mortar = Mixing mortar has no entry in Table 1. An OSHA letter of 25 July 2019, asked about it, says that certain tasks usually stay below the action level, but its list was not seen: pour low and slowly, extract at the bucket, and have the air measured or use objective data.
dust-no-entry-combing-and-setting = Wet mortar makes no dust: Table 1 has no entry. Dried crumbs do when swept.
dust-no-entry-scoring-and-snapping = Scoring and snapping has no entry in Table 1. It makes little dust, yet the chips do: vacuum them. In doubt have the air measured.
dust-no-entry-sweeping = Dry sweeping and compressed air have no entry and are not allowed where they add to exposure (29 CFR 1926.1153(f)): vacuum with a HEPA filter, or clean wet.
dust-no-entry-sanding-by-hand = Sanding by hand, dry, has no entry in Table 1: sand wet, or have the air measured.

dust-respirator-0 = no respirator required
dust-respirator-10 = respirator with a protection factor of at least 10: half mask with particulate filters, or a filtering facepiece such as N95
dust-respirator-25 = respirator with a protection factor of at least 25: powered, loose-fitting, with HEPA filters, or a full face mask (50)

dust-unknown-task = '{ $task }' is not known here; Table 1 has: { $table }; without entry: { $others }. For another task have the air measured.
dust-method-not-in-table = Table 1 entry { $entry } does not have '{ $method }' for the { $task }; it has: { $control }.
dust-water-outdoors-only = Table 1 entry (xii) allows water alone outdoors only: use shroud and dust collector indoors, or have the air measured.
dust-outdoors-only = Table 1 entry { $entry } holds outdoors only: take the { $task } outside, or have the air measured.
dust-over-a-day = { $minutes } do not fit in a day; enter them again
dust-no-contaminant = no contaminant was given; give at least one average with its limit

dust-over-limit = { $average } µg/m³ is over the limit of { $limit }: stop, cut wet or extract, and measure again.
dust-above-action-level = { $average } µg/m³ is at or above the action level of { $level } and within the limit of { $limit }: measure again and keep records.
dust-below-action-level = { $average } µg/m³ is below the action level of { $level }: keep the controls as they are.
dust-within-limit = { $average } µg/m³ is within the limit of { $limit }: bring it as low as reasonably practicable.

# -- as computations by name
# Titles and summaries.
dust-title-dust-controls = what the silica rule asks for one task: control and respirator
dust-summary-dust-controls = 29 CFR 1926.1153 Table 1, by place and by all minutes of the shift. Tasks that the table does not have are said so.
dust-title-dust-day = one person's shift: all dusty tasks added up, and what each asks for
dust-summary-dust-day = Over four hours in all, every task takes the column for more than four hours.
dust-title-dust-average = the 8-hour average of what was breathed, judged for silica
dust-summary-dust-average = Divided by 8 h however long the shift, without regard to respirators. Time left out counts as free of dust.
dust-title-dust-limit = the limit for respirable crystalline silica, and whether an average keeps to it
dust-summary-dust-limit = 8-hour averages. In the US the action level counts from 25 µg/m³.
dust-title-dust-minutes-left = how long one may go on before the 8-hour average reaches a ceiling
dust-summary-dust-minutes-left = At a measured concentration, after what was breathed already.
dust-title-dust-mixture = the equivalent exposure to several contaminants that act alike
dust-summary-dust-mixture = Above 1 the limit of the mixture is exceeded.

# What is asked for.
dust-in-task = the task
dust-in-place = outdoors, or indoors for every enclosed area
dust-in-minutes = time of the whole shift on all tasks of the table
dust-in-method = how dust is kept down, when chosen
dust-in-tasks = each task, where, and how long
dust-in-periods = concentration (µg/m³ for silica) and how long, one after the other
dust-in-substance = silica is judged; of another only the average is told
dust-in-jurisdiction = whose limit
dust-in-average = an 8-hour average, to be judged
dust-in-concentration = what is breathed now
dust-in-periods-dust-minutes-left = what was breathed so far
dust-in-ceiling = average not to be passed; the US action level unless given
dust-in-contaminants = average and limit of each, in one unit

# What is told.
dust-out-task = task
dust-out-entry = entry
dust-out-control = control
dust-out-respirator-protection-factor = respirator protection factor
dust-out-respirator = respirator
dust-out-in-all-by-the-table = in all by the table
dust-out-more-than-four-hours = more than four hours
dust-out-8-hour-average = 8-hour average
dust-out-action = action
dust-out-limit-8-hour-average = limit, 8-hour average
dust-out-time-left = time left
dust-out-equivalent-exposure = equivalent exposure
dust-out-spent-on = { $task }
dust-out-task-entry = { $task }: entry
dust-out-task-control = { $task }: control
dust-out-task-respirator-protection-factor = { $task }: respirator protection factor
dust-out-task-respirator = { $task }: respirator
dust-out-task-not-in-the-table = { $task }: not in the table
dust-out-8-hour-average-in-the-unit-given = 8-hour average, in the unit given
