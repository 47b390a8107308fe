# The screen of cautions, dust and lifting.

safety-none = No day is open. Begin one, or go on with one, at Today.
safety-part-cautions = Cautions
safety-part-dust = Dust
safety-part-lifting = Lifting
safety-at-hand = { CAPITAL($area) }, at hand
safety-area = { CAPITAL($area) }
safety-defer = The site's dust plan, its competent person and local rules come before all that stands here.
safety-source = Source: { $basis }

# --- cautions ----------------------------------------------------------------------------------------------------

safety-no-cautions = The checklist of this area has no cautions.
safety-understood = Understood
safety-not-applying = Does not apply ({ $fact } is { $value }, not over { $over })
safety-fact-piece-weight = piece weight
safety-fact-piece-area = piece area
safety-fact-longest-edge = longest edge
safety-due-now = Due now, for { $persons }
safety-due-now-again = Due now after a break, for { $persons }; last heard by { $heard }
safety-due-after = Due, after the one above, for { $persons }
safety-due-after-again = Due after a break, after the one above, for { $persons }; last heard by { $heard }
safety-due-later = Due when work goes on here, for { $persons }
safety-due-later-again = Due after a break when work goes on here, for { $persons }; last heard by { $heard }
safety-acknowledged = Heard by { $heard }
safety-acknowledged-comes-again = Heard by { $heard }; shown again before each { $what }
safety-heard-at = { PERSON($name) } { $at }
safety-not-heard = Not heard today: { $persons }
safety-comes-before = Comes before { $what }
safety-first-step = the first step of the area
safety-section = “{ $title }”

# --- dust --------------------------------------------------------------------------------------------------------

safety-which-task = Which task? Those of Table 1 (29 CFR 1926.1153):
safety-other-tasks = Others, for which the table has no row:
safety-a-task = { CAPITAL($task) }
safety-another-task = Another task
safety-indoors = Indoors or closed in
safety-outdoors = Outdoors
safety-add-minutes = + { $minutes }
safety-other-minutes = Other minutes
safety-minutes-of = Minutes: { $task }, { $place }
safety-of-whoever-speaks = Of whoever speaks.
safety-measured-of = µg/m³ in the air: { $task }, { $place }
safety-measured-hint = Respirable crystalline silica, measured during this task. It is not kept in the day's record.
safety-enter-measured = Enter what was measured in the air
safety-change-measured = Measured: { $value } µg/m³. Change it
safety-control = Control: { $control }.
safety-up-to-four-hours = Up to 4 h of such tasks a shift: { $respirator }.
safety-more-than-four-hours = More than 4 h: { $respirator }.
safety-today = { $control }; { $respirator }
safety-nobody-speaks = Minutes belong to whoever speaks. Say or choose who, at Today.
safety-no-minutes = No minutes of dust have been noted today.
safety-take-out = Take out the last: { $minutes }, { $task }
safety-shift = { PERSON($who) }: { $minutes } of tasks in Table 1, not over four hours
safety-shift-over = { PERSON($who) }: { $minutes } of tasks in Table 1, OVER four hours: the higher column holds for every task
safety-task = { $task }, { $place }
safety-task-minutes = { $task }, { $place }: { $minutes }
safety-average-below = 8-hour average of { PERSON($who) }: { $average } µg/m³ is below the action level of { $action }: keep the controls as they are.
safety-average-action = 8-hour average of { PERSON($who) }: { $average } µg/m³ is at or above the action level of { $action } and within the limit of { $limit }: measure again and keep records.
safety-average-over = 8-hour average of { PERSON($who) }: { $average } µg/m³ is over the limit of { $limit }: stop, cut wet or extract, and measure again.
safety-not-measured = Not measured and counted as clean air, so that the true average is higher: { $tasks }.

# --- lifting -----------------------------------------------------------------------------------------------------

safety-who = Who may carry one
safety-alone = One person alone
safety-conditions = Press what holds for this lift:
safety-condition-yes = { CAPITAL($condition) }: YES
safety-condition-no = { CAPITAL($condition) }: no
