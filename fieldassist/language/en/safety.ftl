# Cautions, dust and lifting, behind the person.

safety-defer = The site's dust plan, its competent person and local rules come before all that stands here.
safety-source = Source: { $basis }

# --- cautions ----------------------------------------------------------------------------------------------------

safety-no-cautions = The checklist of this area has no cautions.
safety-understood = Understood
safety-not-applying = Does not apply ({ $fact } is { $value }, not over { $over })
safety-fact-piece-weight = piece weight
safety-fact-piece-area = piece area
safety-fact-longest-edge = longest edge

# --- dust --------------------------------------------------------------------------------------------------------

safety-which-task = Which task? Those of Table 1 (29 CFR 1926.1153):
safety-other-tasks = Others, for which the table has no row:
safety-a-task = { CAPITAL($task) }
safety-place-indoors = Indoors or closed in
safety-place-outdoors = Outdoors
safety-minutes-of = Minutes: { $task }, { $place }
safety-measured-of = µg/m³ in the air: { $task }, { $place }
safety-measured-hint = Respirable crystalline silica, measured during this task. It is not kept in the day's record.
safety-enter-measured = Enter what was measured in the air
safety-change-measured = Measured: { $value } µg/m³. Change it
safety-control = Control: { $control }.
safety-up-to-four-hours = Up to 4 h of such tasks a shift: { $respirator }.
safety-more-than-four-hours = More than 4 h: { $respirator }.
safety-today = { $control }; { $respirator }
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

safety-conditions = Press what holds for this lift:
safety-condition-yes = { CAPITAL($condition) }: YES
safety-condition-no = { CAPITAL($condition) }: no
