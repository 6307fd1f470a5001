## Every word of the program in English. One section per subject; keys start with the subject's name.

## ---- reckon: one clear sentence for bad input ----
reckon-unknown = There is no reckoning called “{ $name }”. Known: { $known }.
reckon-not-json = The input is not the JSON that “{ $name }” reads: { $problem }.

## ---- trade: dates, wall clocks and zones ----
civil-zone-unknown = “{ $field }” is “{ $value }”, which is no IANA time zone: write a name such as America/New_York.
civil-date-unreadable = “{ $field }” is “{ $value }”, which is no date: write year, month and day, such as 2026-09-14.
civil-local-unreadable = “{ $field }” is “{ $value }”, which is no local date and time: write it such as 2026-09-14T17:00.
civil-instant-unreadable = “{ $field }” is “{ $value }”, which is no moment with an offset: write it such as 2026-09-14T17:00:00-04:00.

## ---- trade: exact numbers ----
exact-places-bad = The rounding asks for { $value } decimal places: ask for { $most } at most.

## ---- trade: etch ----
measure-unit-imperial = “{ $field }” is “{ $value }”, an imperial fluid ounce (28.41 mL): write us_fl_oz for the US one (29.57 mL), or give the amount in ml.
measure-unit-which-ounce = “{ $field }” is “{ $value }”, which may be a US or an imperial fluid ounce or a weight: write us_fl_oz, or give the amount in ml.
measure-unit-drops = “{ $field }” is “{ $value }”, but a drop is no fixed volume: measure in us_fl_oz or ml, and count drops of acid apart.
measure-unit-unknown = “{ $field }” is “{ $value }”, which is no unit known here: write us_fl_oz or ml.
measure-volume-outside = “{ $field }” is { $value }: give a volume above 0 and of { $most } litres at most.
measure-baume-outside = “{ $field }” is { $value } degrees Baumé: give 0 to { $most }.
measure-gravity-outside = “{ $field }” is a specific gravity of { $value }: give one from 1 to 2.23.
measure-ph-outside = “{ $field }” is pH { $value }: give 0 to 14.
measure-percent-outside = “{ $field }” is { $value } percent by weight: give 0 to { $most }, as on the bottle.
measure-phosphoric-too-strong = “{ $field }” is { $value } percent, but the densities of phosphoric acid known here end at { $most }: look at the bottle again.
measure-nitric-too-strong = “{ $field }” is { $value } percent, but the densities of nitric acid known here end at { $most }: look at the bottle again; fuming acid has no place in a studio.
measure-drops-outside = “{ $field }” is { $value }: give a whole number of drops from 0 to { $most }.
measure-dropper-outside = “{ $field }” is { $value }: give more than 0 and at most { $most } drops per mL, or nothing for a dropper that is not calibrated.
measure-dropper-spread-outside = “{ $field }” is { $value }: a spread is 0 or more and less than the { $drops } drops per mL it belongs to.
measure-dropper-spread-alone = “{ $field }” is { $value }, but “drops_per_ml” is not told: give both, or neither for a dropper that is not calibrated.
measure-weighing-empty = { $drops } drops that weigh { $value } g calibrate nothing: count at least one drop and give a weight above 0 g.
measure-weighing-absurd = { $drops } drops that weigh { $value } g make { $per_ml } drops per mL, and a dropper gives 1 to { $most }: weigh in grams, the drops alone.
etch-gum-too-thick = “{ $field }” is { $value } degrees Baumé, but gum arabic hardly dissolves beyond { $most }: look at the hydrometer again.
etch-amount-missing = “{ $field }” is not told, and this mixture needs it: give the amount.
etch-kind-unknown = “{ $field }” is “{ $value }”: write phosphoric or nitric.
etch-surface-unknown = “{ $field }” is “{ $value }”: write plate or stone.
etch-sheets-outside = { $value } plates are asked for: give 1 to { $most }.
etch-margin-outside = A margin of { $value } percent is asked for: give 0 to { $most }.
etch-dilution-other-acid = One acid cannot be diluted into another: choose the same kind.
etch-dilution-stronger = { $stock } percent acid cannot be diluted to { $wanted } percent: ask for less than the bottle holds and more than 0.
etch-dilution-of-nothing = The bottle is told to hold { $stock } percent acid: there is nothing to dilute.
etch-ph-measured = pH { $ph }, measured
etch-ph-of-gum = pH { $ph }, as told for the gum
etch-ph-estimated = pH about { $ph } ({ $low } to { $high }), an estimate
etch-no-ph-gum-sour = No pH is estimated: the gum is marked sour and holds acids nobody counted. Measure it.
etch-no-ph-gum-ph-untold = No pH is estimated: the pH of the gum is not told. Measure it.
etch-no-ph-gum-baume-untold = No pH is estimated: the degrees Baumé of the gum are not told. Measure the pH.
etch-no-ph-gum-not-plain = No pH is estimated: plain gum does not have the pH told for this gum, so something else is in it. Measure the pH.
etch-no-ph-acid-untold = No pH is estimated: the strength of the acid is not told. Measure it.
etch-no-ph-stock = No pH is estimated for a stock etch: what is in it is not known here. Measure it.
etch-no-ph-stock-cut = No pH is estimated for a stock etch cut with gum: what is in it is not known here. Measure it.
etch-caution-protect = Wear gloves, goggles and an apron. The safety data sheet, local rules and the school's safety office come before anything said here.
etch-caution-acid-into-gum = Drop the acid into the gum, never gum or water onto acid, and mix away from the plate.
etch-caution-bottle-burns = The bottle holds { $percent } % acid, which burns skin and eyes.
etch-caution-bottle-irritates = The bottle holds { $percent } % acid, which irritates skin and eyes.
etch-caution-nitric-fumes = Nitric acid gives off harmful fumes and feeds fire: use it under the hood, away from solvents, rags and metals.
etch-caution-nitric-on-aluminium = Nitric acid is for stones; for aluminium common practice takes phosphoric acid. Ask the instructor.
etch-caution-eyewash-bottle = Know the way to the eyewash and the shower before the bottle is opened: NIOSH asks for both where phosphoric acid above 1.6 % is handled, and the bottle holds { $percent } %.
etch-caution-eyewash-nitric = Know the way to the eyewash and the shower before the bottle of nitric acid ({ $percent } %) is opened.
etch-caution-eyewash-mixture = The mixture itself holds { $percent } % acid by weight, above the 1.6 % from which NIOSH asks for an eyewash and a shower.
etch-caution-corrosive-measured = At pH { $ph } the mixture counts as corrosive: at 2 or below GHS takes it so unless tests show otherwise.
etch-caution-corrosive-estimated = The estimated pH reaches 2 or below, where GHS takes a mixture as corrosive unless tests show otherwise.
etch-caution-dropper-not-calibrated = The dropper is not calibrated, so 25 drops per mL, give or take 8, are assumed. Weigh some drops of this acid to know better.
etch-caution-gum-ph-unusual = The gum is told to have pH { $ph }; published gum solutions lie between 3.9 and 5.5. Check whether it has gone sour.
etch-caution-estimate-only = The pH is an estimate, not a measurement: test the mixture with a strip or a meter. Its error is shared by all mixtures of one gum and bottle; within a batch compare by drops.
etch-caution-destroys-measured = At pH { $ph } this destroys the drawing: below 1.5 the liquid acts on aluminium as a counter-etch and takes off the thin top layer that alone holds the image. Keep it off the plate and ask the instructor.
etch-caution-destroys-estimated = By estimate this destroys the drawing: its pH is below 1.5, where the liquid acts on aluminium as a counter-etch and takes off the thin top layer that alone holds the image. Keep it off the plate and ask the instructor.
etch-caution-may-destroy = The estimated pH reaches below 1.5, where the liquid acts on aluminium as a counter-etch and takes off the thin top layer that alone holds the image. Measure the pH before it touches the plate.
etch-caution-window-measured = pH { $ph } is outside the { $low } to { $high } that this class works with. Ask the instructor.
etch-caution-window-estimated = By estimate the pH is outside the { $low } to { $high } that this class works with. Measure it and ask the instructor.

## ---- trade: grading and lateness ----
grading-weights-sum = The weights of the categories add up to { $value }: change them so that they make exactly 100.
grading-weight-negative = The weight of “{ $category }” is { $value }: a weight is 0 or more.
grading-points-bad = “{ $item }” in “{ $category }” has { $value } points: give it more than 0, or mark it as extra credit.
grading-score-negative = The score of “{ $item }” in “{ $category }” is { $value }: a score is 0 or more.
grading-score-above-points = The score of “{ $item }” in “{ $category }” is { $value }, above its { $points } points: correct it, or mark the item as extra credit.
grading-score-absent = “{ $item }” in “{ $category }” is graded but has no score: give the score, or call it not yet marked (pending).
grading-lateness-twice = “{ $item }” says both days_late { $days } and hours_late { $hours }: give one of them.
grading-hours-late-negative = “{ $item }” in “{ $category }” is { $value } hours late: work in time is 0 hours late.
grading-late-percent-bad = The late penalty is { $value } percent a day: it lies between 0 and 100.
grading-grace-negative = The grace is { $value } hours: it is 0 or more.
grading-scale-letter-blank = A letter of the scale, from { $from } percent, is blank: write it.
grading-scale-letter-twice = The scale has the letter “{ $letter }” twice, the second time from { $from } percent: each letter has one place.
grading-scale-out-of-range = The letter “{ $letter }” begins at { $from } percent: a letter begins between 0 and 100.
grading-scale-out-of-order = The scale is out of order: “{ $letter }” from { $from } percent stands below “{ $above }” from { $above_from }; list the letters from the highest down.
grading-scale-gap = The scale has a gap: below “{ $letter }”, from { $from } percent, there is no letter; let the lowest letter begin at 0.
grading-letter-points-negative = The letter “{ $letter }” is worth { $value } grade points: it is 0 or more.
grading-letter-points-twice = The letter “{ $letter }” has grade points twice, the second time { $value }: give them once.
grading-letter-without-points = The letter “{ $letter }” of “{ $course }” has no grade points: leave courses taken for pass or audit out.
grading-credits-negative = “{ $course }” carries { $value } credits: it is 0 or more.
grading-line-excused = “{ $item }” is excused: it does not count.
grading-line-pending = “{ $item }” is not yet marked: it does not count yet.
grading-line-missing-zero = “{ $item }” was not handed in: 0 of { $points } points.
grading-line-missing-left-out = “{ $item }” was not handed in: it does not count.
grading-line-in-grace = “{ $item }” came { $hours } hours after the due time, inside the grace of { $grace }: nothing comes off.
grading-line-too-late = “{ $item }” came { $days ->
    [one] 1 day
   *[other] { $days } days
} late, more than the { $most } allowed: 0 of { $points } points.
grading-line-late-possible = “{ $item }” came { $days ->
    [one] 1 day
   *[other] { $days } days
} late: { $days } × { $percent } % of the { $points } possible points is { $off } off, { $score } − { $off } = { $left }.
grading-line-late-earned = “{ $item }” came { $days ->
    [one] 1 day
   *[other] { $days } days
} late: { $days } × { $percent } % of the { $score } earned points is { $off } off, { $score } − { $off } = { $left }.
grading-line-late-all-gone = “{ $item }” came { $days ->
    [one] 1 day
   *[other] { $days } days
} late: { $days } × { $percent } % of { $base } points is { $off } off, more than the { $score } it has: 0 left.
grading-line-extra-credit = “{ $item }” is extra credit: its score is added, its { $points } points are not asked for.
grading-line-dropped = “{ $item }” ({ $score } of { $points }) is dropped: the result is best without it.
grading-line-category = { $category }: ({ $scores }) ÷ ({ $points }) = { $earned } ÷ { $asked } { $equals } { $percent } %.
grading-line-category-of-one = { $category }: { $earned } ÷ { $asked } { $equals } { $percent } %.
grading-line-category-empty = { $category }: nothing counts yet; its weight of { $weight } % is shared out among the other categories in proportion.
grading-line-nothing-counted = Nothing counts yet, so there is no percent and no letter.
grading-line-total = Total: ({ $products }) ÷ ({ $weights }) = { $percent } %.
grading-line-total-shortened = Total: ({ $products }) ÷ ({ $weights }) ≈ { $percent } %. Shown with four decimals, reckoned without rounding.
grading-line-weight = This comes from { $weight } % of the weight.
grading-line-rounded-half-up = { $percent } % rounded to { $places ->
    [0] a whole number
    [one] 1 decimal
   *[other] { $places } decimals
}, ties up: { $rounded } %.
grading-line-rounded-half-even = { $percent } % rounded to { $places ->
    [0] a whole number
    [one] 1 decimal
   *[other] { $places } decimals
}, ties to the even digit: { $rounded } %.
grading-line-rounded-truncate = { $percent } % cut off to { $places ->
    [0] a whole number
    [one] 1 decimal
   *[other] { $places } decimals
}: { $rounded } %.
grading-line-letter = { $rounded } is at least { $from }: { $letter }.
grading-line-possible = With all work not yet marked at 0 points it would be { $low } %, with all of it at the most it can still bring { $high } %.

## ---- trade: agreement ----
agreement-rows-uneven = Row { $row } has { $has } values where the first has { $wanted }: give every row the same number.
agreement-not-square = The table has { $rows } rows of { $columns } cells where { $wanted } of { $wanted } are needed: give a row and a column for each category.
agreement-cell-negative = A cell of the table is { $value }: counts and weights are 0 or more.
agreement-nothing-rated = Nothing was rated: give at least one pair of ratings.
agreement-category-unknown = The rating “{ $value }” is none of the categories: correct it, or add the category.
agreement-category-twice = The category “{ $value }” is listed twice: list it once.
agreement-categories-unordered = Weights need the order of the categories, and “{ $value }” is no number: list the categories from one end to the other.
agreement-ratings-unpaired = The first rater gave { $first } ratings and the second { $second }: give one of each for everything rated.
agreement-ratings-or-table = Kappa is reckoned either from “table” or from “first” and “second”: give one of the two.
agreement-categories-without-ratings = “categories” belongs to “first” and “second”: a table has its own order.
agreement-weight-of-agreement = The weight of an agreement is { $value }: the diagonal of the weights is 0.
agreement-ratio-negative = The rating { $value } is below 0, which a ratio scale does not have: correct it, or use the level interval.
agreement-words-not-nominal = The rating “{ $value }” is a word, and the level { $level } needs numbers: use the level nominal, or number the ratings.
agreement-too-few-scores = There are scores of { $persons } persons in { $items } items: two of each are the least.
agreement-line-shares = The two agree in a share of { $observed }; chance alone would give { $expected }.
agreement-line-shares-weighted = Near misses counting in part, the two agree in a share of { $observed }; chance alone would give { $expected }.
agreement-line-kappa = Kappa = ({ $observed } − { $expected }) ÷ (1 − { $expected }) { $equals } { $value }.
agreement-line-kappa-none = Both raters use one category only, so chance alone agrees fully and kappa has no value.
agreement-line-units = { $units ->
    [one] 1 unit has
   *[other] { $units } units have
} two or more ratings, { $values } ratings in all; other units are left out.
agreement-line-krippendorff = Alpha = 1 − { $observed } ÷ { $expected } { $equals } { $value }, from the disagreement seen and that of chance.
agreement-line-krippendorff-none = The ratings that can be compared do not differ at all, so chance cannot disagree and alpha has no value.
agreement-line-cronbach = Alpha = { $items } ÷ ({ $items } − 1) × (1 − { $parts } ÷ { $total }) { $equals } { $value }, from the variances of the items and of the totals.
agreement-line-cronbach-none = All persons have the same total, so alpha has no value.

## ---- trade: planning ----
planning-time-unreadable = “{ $field }” is “{ $value }”, which is no time of day: write hours and minutes such as 09:00; 24:00 is the end of the day.
planning-day-unknown = “{ $field }” is “{ $value }”, which is no weekday: write mon, tue, wed, thu, fri, sat or sun.
planning-opening-backwards = “{ $field }” is open from { $from } to { $to }, so it ends before it begins: an opening past midnight is two openings, one to 24:00 and one from 00:00.
planning-never-open = “open” holds no opening, so no step can run: add an opening, or leave “open” null for a studio that is always open.
planning-closed-throughout = From { $from } to { $to } every opening falls on a closed date: open one of the dates or move the due date.
planning-extra-on-closed = The extra opening on { $date } does not count, because the date is closed: take the closure away if the studio opens after all.
planning-due-before-start = “due” is { $due }, which is before “start”, { $start }: give a due date after the start.
planning-span-too-long = From { $start } to { $due } are more than { $most } days: look for a slip in a year.
planning-no-steps = “steps” is empty: give at least one step.
planning-steps-too-many = “steps” lists { $count } steps: { $most } are the most.
planning-step-twice = Two steps are called “{ $step }”: give each step its own key.
planning-after-unknown = Step “{ $step }” comes after “{ $value }”, but no step has that key: correct “after” or add the step.
planning-circle = These steps wait for each other in a circle, each for the next one named: { $steps }. Take one of the names out of its “after”.
planning-minutes-outside = “{ $field }” of step “{ $step }” is { $value }: give whole minutes, 0 or more.
planning-minutes-too-many = Step “{ $step }” has { $value } minutes; { $most } (a year) is the most: look for a slip.
planning-rests-contradict = Step “{ $step }” rests { $minimum } minutes at least and { $maximum } at most, which cannot both hold: change one of the two.
planning-breaks-due = Step “{ $step }” is the first that cannot end by { $due }: start earlier, shorten a step or a rest, or move the due date.
planning-breaks-no-place = Step “{ $step }” has no place: no opening holds its { $minutes } minutes. Let it be split, or open longer.
planning-press-span-backwards = “to” is not after “from”: give a span that ends after it begins.
planning-press-span-too-long = From “from” to “to” are more than { $most } days: look for a slip in a year.
planning-press-work-unclear = Give either “prints” and “steps”, for prints that are all alike, or “work”, a list of prints with their own steps: not both, and not neither.
planning-press-sheets-with-work = “sheets” beside “work” has no meaning: give each print in “work” its own “sheets”.
planning-prints-count = { $count } prints are asked for: give at least 1 and at most { $most }.
planning-print-twice = Two prints are called “{ $print }”: give each print its own name.
planning-station-count = “count” of station “{ $station }” is { $count }: give at least 1 unit and at most { $most }.
planning-station-twice = Two stations are called “{ $station }”: count their units together under one name.
planning-station-unknown = “{ $field }” is “{ $value }”, but no station has that name. Known: { $known }.
planning-station-missing = Step “{ $step }” is at a station that is not in the list: add the station.
planning-step-in-two-places = Step “{ $step }” is at a station and anywhere at once: take one of the two away.
planning-unit-unknown = Unit { $unit } of station “{ $station }” is down, but its units count from 1 to { $count }.
planning-unit-outside = “{ $field }” is { $value }: units count from 1.
planning-count-outside = “{ $field }” is { $value }: give a whole number from 0 to { $most }.
planning-down-backwards = Unit { $unit } of station “{ $station }” is down until a time that is not after the time it goes down: turn the two round.
planning-pieces-too-short = The minutes would be enough, but what is left lies in stretches too short, too late or at the wrong station for a print's steps.
planning-rest-broken = Step “{ $step }” would begin { $minutes } minutes after the one before it, later than its maximum rest allows ({ $by }). The rest is kept if the one before ends no sooner than { $hold }.

## ---- trade: procedure ----
procedure-not-json = The procedure cannot be read: { $problem }. Mend that place, or start again from a shipped procedure.

procedure-unknown-step = This procedure has no step “{ $step }”. Choose one of its steps, or ask the instructor to add it.
procedure-unsettled = { $step } waits: “{ $earlier }” was done outside the rules. Ask the instructor to settle it.
procedure-under-way-itself = { $step } is already under way. End it before you start it again.
procedure-under-way-other = { $step } waits: “{ $other }” is still under way. End it first.
procedure-ended = { $step } cannot be done after “{ $end }”.
procedure-order = { $step } comes after “{ $before }”, which is not done. Do that first, or ask the instructor to allow it once.
procedure-after-any-of = { $step } needs one of these done before: { $of }.
procedure-requires-since = { $step } needs one of these, done after the latest “{ $since }”: { $of }.
procedure-once = { $step } is done once only, and has been done.
procedure-rest = { $step } follows a rest of { $rest }; { $left } to go. Wait until then.
procedure-sign-off-missing = { $step } needs the sign-off “{ $topic }”, { $grade ->
    [shown] shown
    [watched] watched
   *[alone] to work alone
  }. Ask someone who gives it.
procedure-sign-off-withdrawn = { $step } needs the sign-off “{ $topic }”, and yours was withdrawn. Ask who withdrew it what to do again.
procedure-sign-off-expired = { $step } needs the sign-off “{ $topic }”, and yours was valid until { $day }. Ask someone who gives it to renew it.
procedure-sign-off-grade = { $step } needs the sign-off “{ $topic }”, { $grade ->
    [shown] shown
    [watched] watched
   *[alone] to work alone
  }; yours is { $held ->
    [shown] shown only
    [watched] watched only
   *[alone] to work alone
  }. Ask someone who gives it.

procedure-advised-rest = A rest of { $rest } is advised before { $step }; { $left } to go. It is advice, not a rule.
procedure-longest-rest-near = { $step } should follow within { $limit }; { $left } to go.
procedure-longest-rest-passed = { $step } should have followed within { $limit }; that was { $over } ago.
procedure-same-day-ends = { $step } belongs to the same day, { $day }. If it cannot be done today: talc, gum, buff thin and dry.
procedure-same-day-passed = { $step } belonged to { $day }, and that day has passed.
procedure-gum-near = Under gum for nearly { $limit }, the class’s limit; { $left } to go. Gum again, or go on.
procedure-gum-passed = Under gum for { $over } longer than { $limit }, the class’s limit. Ask before you go on; wash off and gum again.

procedure-caution-acid = Acid burns skin and eyes. Goggles, acid gloves, apron; acid into gum or water, never the reverse. Skin or eyes: rinse 15 minutes at the eyewash and call whoever is on duty. The safety data sheet, local codes and the safety office come first.
procedure-caution-nitric = Nitric acid burns, oxidises and gives off poisonous fumes. Hood, face shield, acid gloves, apron; acid into gum or water, never the reverse; away from solvents and rags. Skin or eyes: rinse 15 minutes at the eyewash and call whoever is on duty. The safety data sheet, local codes and the safety office come first.
procedure-caution-solvent = Solvent vapour is harmful and can catch fire. Hood on, solvent gloves, no flame; rags into the closed metal can at once. The safety data sheet, local codes and the safety office come first.
procedure-caution-press = The press can crush. Hair, sleeves and cords tied back, rings off, no hand past the scraper while the bed moves, bed stops set. The maker’s instructions, local codes and the safety office come first.
procedure-caution-dust = Do not breathe dust. Work wet where you can, dust on gently, wear the mask your school names. The safety data sheet, local codes and the safety office come first.
procedure-caution-lifting = Stones are heavy. Two people or the lift, closed shoes, fingers clear of the edge. Local codes and the safety office come first.

procedure-check-name = The name of the procedure is “{ $value }”: write one to { $longest } characters.
procedure-check-no-steps = The procedure has no steps: add at least one.
procedure-check-many-steps = The procedure has { $value } steps: keep to { $most }, or make two procedures of it.
procedure-check-gum-limit = The limit under gum is { $value } minutes: write 1 to { $longest }, or leave it empty.
procedure-check-numbers-twice = { $step }: another step already numbers the edition. Let one step do it.
procedure-check-numbers-early = { $step } numbers the edition, but comes after no step that records sheets: put the step that prints them before it.
procedure-check-empty = { $step }: { $field ->
    [title] the title
    [before] a sentence before the step
    [during] a sentence during the step
    [after] a sentence after the step
    [station] the station
    [picture] the name of a picture
    [caption] the caption of a picture
   *[because] a reason
  } is empty. Write it, or take it out.
procedure-check-too-long = { $step }: { $field ->
    [title] the title
    [before] a sentence before the step
    [during] a sentence during the step
    [after] a sentence after the step
    [station] the station
    [picture] the name of a picture
    [caption] the caption of a picture
   *[because] a reason
  } “{ $value }” has { $long } characters. Keep to { $longest }.
procedure-check-minutes = { $step }: { $field ->
    [minutes] the hands-on time
    [minutes-per-sheet] the time for each sheet
    [rest-minimum] the shortest rest
    [rest-advised] the advised rest
    [rest-maximum] the longest rest
   *[recording-minute] the minute of the recording
  } is { $value } minutes. Write 0 to { $longest } ({ $said }).
procedure-check-key = { $step }: “{ $value }” cannot be a key or a word. Use up to 40 lower-case letters, digits and hyphens, such as first-etch; “gummed” is taken.
procedure-check-key-twice = { $step }: another step already has the key “{ $value }”. Give each its own.
procedure-check-after = { $step } comes after “{ $value }”, which is no step here. Use the key of one.
procedure-check-after-any-time = { $step } comes after “{ $value }”, a step done any time, which no plate has to pass. Make it a rule of the step instead.
procedure-check-circle = { $step } waits for itself: { $value }. Take one of these out of what another comes after.
procedure-check-out-of-reach = { $step } can never begin: what it needs can only be done after it. Loosen one of its rules.
procedure-check-then-only = { $step } is followed only by “{ $value }”, which is no step here. Use keys of steps.
procedure-check-rest-since = { $step } rests since “{ $value }”, which no step has as key or counts as. Use one that does.
procedure-check-need = { $step } has a rule about “{ $value }”, which no step has as key or counts as. Use one that does.
procedure-check-need-empty = { $step } has a rule that names no step. Name at least one, or take the rule out.
procedure-check-counts-as = { $step } counts as “{ $value }”, which no rule asks about. Look at its spelling, or take it out.
procedure-check-topic = { $step } needs the sign-off “{ $value }”, and there is no such topic. Known: { $known }.
procedure-check-topic-twice = { $step } names the sign-off “{ $value }” twice. Keep the higher grade.
procedure-check-etch-hazard = { $step } records an etch but names no acid among its hazards. Add acid or nitric, so that the cautions are shown.
procedure-check-link = { $step }: “{ $value }” is no address of a recording. Write it with https:// in front and no spaces.
procedure-check-rest-advised = { $step }: the advised rest of { $value } is shorter than the shortest, { $other }. Make it at least that, or leave it empty.
procedure-check-rest-maximum = { $step }: the longest rest of { $value } is shorter than the rest asked, { $other }. Make it longer.
procedure-check-rest-same-day = { $step } belongs to the same day but follows a rest of { $value }. Take one of the two out.
procedure-check-rest-from-nothing = { $step } has a rest but comes after nothing it could run from. Say since which step.
procedure-check-rest-no-gum = { $step } has a limit under gum, but no other step ends under gum. Say which one does, or take the limit out.

## ---- people: accounts, invitations, sign-in ----
people-hall = Your classes
people-hall-class = Class
people-hall-term = Term
people-hall-role = You are
people-hall-empty = You are in no class yet. The instructor adds you from the class list.
people-sign-in = Sign in
people-sign-in-email = E-mail
people-sign-in-password = Password
people-sign-in-button = Sign in
people-sign-in-wrong = This e-mail and password do not belong together. Check both, or ask for a new password below.
people-forgotten-link = Forgotten password
done-signed-out = You are signed out.
done-account-open = Your account is open. This is where you start.
done-password-set = The new password holds. Sign in with it.
done-password-changed = The new password holds; your other sessions are ended.
done-session-ended = That session is ended.
done-preferences = Kept.
done-school-founded = The school is there. Next: a term, a studio, a class.
done-person-added = The person is added and invited.
done-invited = A new invitation is made; the one before no longer works.
done-right-set = The right is set.
people-link-dead-title = This link no longer works
people-link-dead = This link was used, is too old, or was replaced by a newer one. Ask for a new one on the page for a forgotten password, or ask whoever invited you.
people-new-password = New password
people-new-password-new = New password
people-new-password-new-hint = A sentence of several words is good and easy to type.
people-new-password-again = The same once more
people-new-password-button = Keep this password
people-new-password-for = For { $name }, { $email }.
people-new-password-for-nobody = For { $name }.
people-new-password-first = Welcome. Choose a password of at least { $least } characters; it opens your account.
people-new-password-reset = Choose a new password of at least { $least } characters. Your open sessions end.
people-password-short = The password has { $length } characters; it needs at least { $least }. A sentence of several words does it.
people-password-long = The password has { $length } characters; at most { $most } fit.
people-password-common = This password is made of words or rows that everybody tries, or of your own name. Choose other words.
people-password-differs = The two entries differ. Type the same password twice.
people-password-wrong = This is not your present password.
people-set-up = A new school
people-set-up-lead = This makes the school and you its first keeper. Keepers make terms, studios, classes and invite instructors; they open no grade and no photo.
people-set-up-school = Name of the school or department
people-set-up-safety_office = Safety office: name and telephone
people-set-up-safety_office-hint = Shown wherever acid, solvent or press is used.
people-set-up-given_name = Your given name
people-set-up-family_name = Your family name
people-set-up-email = Your e-mail
people-set-up-new = Password
people-set-up-new-hint = At least 15 characters; a sentence of several words is good.
people-set-up-again = The same once more
people-set-up-button = Make the school
people-school-there = There is a school already. Sign in, or ask its keeper.
people-no-email = “{ $value }” is no e-mail address, such as name@college.example.
people-email-taken = Somebody with this e-mail is known already. Look for them in the list.
people-account = Your account
people-account-email = Letters and sign-in: { $email }
people-account-no-email = You have no e-mail address here.
people-password = Change the password
people-password-current = Present password
people-password-new = New password
people-password-new-hint = At least 15 characters; a sentence of several words is good.
people-password-again = The new one once more
people-password-button = Change the password
people-sessions = Where you are signed in
people-sessions-agent = Browser
people-sessions-since = Since
people-sessions-seen = Last seen
people-sessions-end = End it
people-sessions-here = this one
people-preferences = How you like it
people-preferences-volume_unit = Volumes in
people-preferences-daily_letter = A daily letter on days when something is ready or due
people-preferences-button = Keep
people-unit-us-fl-oz = US fluid ounces
people-unit-ml = millilitres
people-confirm = Your password, please
people-confirm-lead = What comes next is weighty, so the password is asked once more. It then counts for ten minutes.
people-confirm-current = Password
people-confirm-button = Go on
people-forgotten = Forgotten password
people-forgotten-lead = Type your e-mail. If there is an account, a letter with a link comes; it works once, for 30 minutes.
people-forgotten-email = E-mail
people-forgotten-button = Send the link
people-forgotten-sent = If this address has an account here, a letter with a link is on its way. Look into the spam folder too.
people-people = People of the school
people-people-name = Name
people-people-email = E-mail
people-people-account = Account
people-people-open = open
people-people-invited = not opened yet
people-people-rights = Rights in the school
people-people-again = Invite again
people-people-slip = Printable slip
people-right-keeper = keeper
people-right-records = records staff
people-right-safety-officer = safety officer
people-right-give = Make { $right }
people-right-take = Withdraw: { $right }
people-add = Add a person
people-add-given_name = Given name
people-add-family_name = Family name
people-add-email = E-mail
people-add-right = Right in the school
people-add-right-hint = Instructors and assistants need none: they get their place in a class.
people-add-button = Add and invite
people-slip = Invitation
people-slip-for = For { $name }
people-slip-how = Open this address in a browser and choose a password. It works once, until { $until }.
people-slip-private = Hand it over in person: whoever has the slip can open the account.
people-slip-none = There is no open invitation. Invite the person again, then print the slip.
people-last-keeper = This is the last keeper of the school. Make somebody else keeper first.

## ---- classes: terms, listings, projects, roster ----
roster-field-given-name = given name
roster-field-family-name = family name
roster-field-name = name
roster-field-email = e-mail
roster-field-student-number = student number
roster-field-external-id = external id
roster-field-listing = listing
roster-field-course = course
roster-field-role = role
roster-file-too-large = The file has { $bytes } bytes and a class list at most { $most }: check that it is the right file, or split it by listing.
roster-file-empty = The file is empty: save the class list as CSV UTF-8 and choose that file.
roster-file-spreadsheet = The file is a spreadsheet, not a CSV file: open it, save the sheet with the class list as “CSV UTF-8” (text, character set UTF-8), and choose the saved file.
roster-file-pdf = The file is a PDF, which holds pages and no columns: ask for the class list as a spreadsheet or CSV file, save it as “CSV UTF-8”, and choose that file.
roster-file-document = The file is a text document, not a CSV file: put the class list into a spreadsheet, save it as “CSV UTF-8”, and choose that file.
roster-file-page = The file is a web page or XML, not a CSV file, whatever its name says: open it in a spreadsheet program, save it as “CSV UTF-8”, and choose the saved file.
roster-file-packed = The file is packed: unpack it and choose the CSV file inside.
roster-file-encoding = The letters of the file cannot be read with certainty (line { $line }): open it in a spreadsheet program, save it as “CSV UTF-8” (text, character set UTF-8), and choose the saved file.
roster-no-header = The first line, “{ $value }” (line { $line }), names no column that is known here: let the first line name the columns, such as given name, family name, e-mail, student number, listing, and delete what stands above it.
roster-no-name-column = The columns “{ $value }” do not tell names: name two columns given name and family name, or one column name with “Family, Given”.
roster-column-twice = The columns “{ $first }” and “{ $second }” are read as the same thing: delete or rename the one that is not meant.
roster-too-many-columns = The first line has more than { $most } columns: delete those that are not needed.
roster-no-rows = The file has a line with the names of the columns, but nobody below it: add one line for each person.
roster-too-many-rows = The list has more than { $most } rows: split it by listing.
roster-quote-open = Line { $line }: a quotation mark opens a cell and none closes it, so what follows cannot be read. Close or delete it.
roster-quote-stray = Line { $line }: text follows a closing quotation mark in “{ $value }”. Write a quotation mark inside a quoted cell twice.
roster-cells-beyond = Line { $line }: there are { $cells } cells for { $columns } columns in “{ $value }”. Put a cell that holds the separator in quotation marks, or empty the cells at the end.
roster-control-characters = Line { $line }, “{ $column }”: “{ $value }” holds a line break or invisible characters. Type it anew.
roster-letter-lost = Line { $line }, “{ $column }”: “{ $value }” has lost a letter when the file was saved. Write it anew and save the file as “CSV UTF-8”.
roster-formula = Line { $line }, “{ $column }”: “{ $value }” begins with a sign that makes a spreadsheet program take it for a formula. Delete the sign.
roster-too-long = Line { $line }, “{ $column }”: “{ $value }” has { $length } characters; at most { $most } fit. Shorten it.
roster-name-empty = Line { $line }, “{ $column }”: there is no name. Write it, or delete the line.
roster-name-undivided = Line { $line }, “{ $column }”: in “{ $value }” it cannot be told which is the family name. Write “Family, Given”.
roster-one-name = Line { $line }: “{ $value }” is the only name told. If the person has another, write it in its column.
roster-email-malformed = Line { $line }, “{ $column }”: “{ $value }” is no e-mail address. Write it such as name@school.example, or leave it empty.
roster-email-twice = Line { $line }, “{ $column }”: “{ $value }” also stands in line { $other }. An e-mail address belongs to one person: correct one line, or delete it.
roster-number-twice = Line { $line }, “{ $column }”: “{ $value }” also stands in line { $other }. A student number belongs to one person: correct one line, or delete it.
roster-number-rounded = Line { $line }, “{ $column }”: “{ $value }” was shortened by a spreadsheet program and its digits are lost. Format the column as text and write the number anew.
roster-external-id-twice = Line { $line }, “{ $column }”: “{ $value }” also stands in line { $other }. An external id belongs to one person: correct one line, or delete it.
roster-name-twice = Line { $line }, “{ $column }”: “{ $value }” also stands in line { $other }, and here nothing else tells who is meant. Add a student number or an e-mail address.
roster-listing-unknown = Line { $line }, “{ $column }”: “{ $value }” is no listing of this class. { $known ->
    [none] The class has no listing yet: add one first, or leave the cell empty.
   *[other] Write one of { $known }.
}
roster-listing-unclear = Line { $line }, “{ $column }”: “{ $value }” may mean several listings. Write one of { $known } in full.
roster-listing-untold = Line { $line }: no listing is told for “{ $value }”, and the class has several. Write one of { $known }.
roster-role-unknown = Line { $line }, “{ $column }”: “{ $value }” is no role. Write student or assistant, or leave it empty for a student.
roster-role-too-high = Line { $line }, “{ $column }”: the role “{ $value }” cannot be given by a list. Write student or assistant, or delete the line; a keeper gives all other roles.
roster-row-of-instructor = Line { $line }: “{ $value }” is instructor of this class, which a list cannot change. Delete the line or empty its role.
roster-keys-disagree = Line { $line }: “{ $first }” and “{ $second }” belong to two different people. Correct the one that is wrong, or empty it.
roster-person-twice = Line { $line }: “{ $value }” is a person whom line { $other } means too. Keep one of the two lines.
roster-name-unclear = Line { $line }: several people in the class are called “{ $value }”. Add a student number or an e-mail address.
roster-withdrawals-held = Nobody is proposed as withdrawn, because line { $line } cannot be read and may hide people. Put it right and choose the file again.
classes-school = The school
classes-school-people = People of the school
classes-first-label = To do first
classes-first-studio = A class works in a studio. Say where it is, where its eyewash is and whom to call.
classes-first-term = A class belongs to a term. Its first and last day and its time zone decide what a due date means.
classes-first-class = Now make a class and say who teaches it; that person gets an invitation.
classes-terms = Terms and classes
classes-terms-none = There is no term yet.
classes-term = Term
classes-term-add = Make a term
classes-term-change = Change a term
classes-term-span = { $starts } to { $ends }, times of { $zone }
classes-term-empty = No class in this term yet.
classes-term-name = Name
classes-term-name-hint = Such as Autumn 2026.
classes-term-name-taken = There is a term of this name already. Give it another name.
classes-term-starts = First day
classes-term-ends = Last day
classes-term-ends-before = The last day does not come after the first. Change one of them.
classes-term-too-long = These are { $days } days; a term has at most { $most }. Look at the years.
classes-term-zone = Time zone
classes-term-zone-hint = Where the school is, by its name in the IANA list, such as America/New_York. Begin to type and choose.
classes-zone-unknown = “{ $value }” is no time zone. Write a name of the IANA list, such as America/New_York.
classes-zone-note = Times are those of { $zone }.
classes-class = Class
classes-class-add = Make a class
classes-class-change = What the school says of it
classes-class-not-yet = A class needs a term and a studio. Make them first, on the page of the school.
classes-code = Code
classes-studio = Studio
classes-studios = Studios
classes-studios-none = There is no studio yet.
classes-studio-add = Set up a studio
classes-studio-where = Where
classes-studio-eyewash = Eyewash
classes-instructors = Instructors
classes-nobody = nobody yet
classes-keep = Keep the changes
classes-remove = Take away
classes-back-school = To the school
classes-back-class = To the class
classes-back-settings = To the class settings
classes-choice-gone = This choice is not there any more. Choose from the list.
classes-new-term = Term
classes-new-studio = Studio
classes-new-code = Code
classes-new-code-hint = Short, such as LIT-A; once in each term.
classes-new-title = Title
classes-kept-code = Code
classes-kept-title = Title
classes-kept-studio = Studio
classes-code-taken = Another class of this term has this code. Give it another one.
classes-teacher = Who teaches it
classes-teacher-instructor = Somebody who is here already
classes-teacher-or = Or somebody new, who then gets an invitation:
classes-teacher-given_name = Given name
classes-teacher-family_name = Family name
classes-teacher-email = E-mail
classes-teacher-missing = Nobody is named. Choose somebody, or type the three fields of somebody new.
classes-teacher-twice = Somebody is chosen and somebody new is typed. Leave one of the two empty.
classes-email-known = Somebody with this e-mail is here already and now stands in the list above. Choose them there and leave the fields of somebody new empty.
classes-student-here = This person is a student of the class, and nobody teaches a class they take.
classes-instructor-already = This person teaches the class already.
classes-instructor-add = Add an instructor
classes-instructor-lead = An instructor of the class sees all of it: plates, proofs and grades.
classes-new-instructor = Who teaches it
classes-new-given_name = Given name
classes-new-family_name = Family name
classes-new-email = E-mail
classes-instructor-instructor = Who teaches it
classes-instructor-given_name = Given name
classes-instructor-family_name = Family name
classes-instructor-email = E-mail
classes-again = Start a class from an earlier one
classes-again-link = Start again from this
classes-again-hint = A new class can start from an earlier one: its projects, procedures, topics and assessments come along and their dates move by week of term.
classes-again-from = From: { $class }
classes-again-lead = Say into which term and which studio. What comes next is a preview; nothing is made before you confirm it.
classes-again-term = Term
classes-again-studio = Studio
classes-again-code = Code
classes-again-title = Title
classes-again-instructor = Who teaches it
classes-again-given_name = Given name
classes-again-family_name = Family name
classes-again-email = E-mail
classes-again-look = Look at the preview
classes-again-other-term = Another term or studio
classes-again-dates = Due dates
classes-again-dates-lead = Each date keeps its weekday, its time and its week of term, from { $source } into { $term }. Change what should be otherwise.
classes-again-closures = { $count ->
    [one] One date falls on a day on which the studio is closed. It stays there unless you change it or tick its box.
   *[other] { $count } dates fall on days on which the studio is closed. They stay there unless you change them or tick their boxes.
}
classes-again-was = Was due
classes-again-becomes = Will be due
classes-again-due = Due
classes-again-week = week { $week }
classes-again-outside = outside the term
classes-again-shift = Move it to the next day the studio opens
classes-again-next-open = That is { $day }.
classes-again-never-open = The studio opens on none of the four weeks after this day. Type another date.
classes-again-luggage = What comes along besides
classes-again-stays = People, plates, logs and scores stay where they are. Hours of presence come along for those who teach the new class.
classes-again-make = Make this class
classes-not-empty = This class has projects, categories or procedures of its own already, so nothing can be brought into it.
classes-fill = Bring in an earlier class
classes-fill-lead = From a class you teach or taught, projects, procedures, topics and assessments come into this one; their dates move by week of term. Choose one; what comes next is a preview.
classes-fill-none = You teach or taught no other class with projects.
classes-fill-other = Another class
classes-fill-make = Bring all this in
classes-procedures = Procedures of its own
classes-topics = Topics of sign-offs
classes-categories = Categories
classes-assessments = Assessments
classes-settings = Class settings
classes-rules = Rules of the class
classes-rules-change = Change the rules
classes-rules-title = Title
classes-rules-go_ahead = The edition waits for the instructor’s go-ahead
classes-rules-shares_logs = Students see each other’s etch logs, names hidden
classes-rules-gum_limit_days = Longest stay under dry gum, in days
classes-rules-gum_limit_days-hint = A plate that lies longer is pointed out. Empty means no limit.
classes-rules-ph_low = Lowest pH of a measured etch
classes-rules-ph_high = Highest pH of a measured etch
classes-go-ahead-yes = yes
classes-go-ahead-no = no, editions start without it
classes-shares-yes = yes
classes-shares-no = no
classes-days = { $days ->
    [one] 1 day
   *[other] { $days } days
}
classes-no-limit = no limit
classes-ph-window = pH of a measured etch
classes-ph-between = { $low } to { $high }
classes-ph-order = The highest pH is not above the lowest. Change one of them.
classes-ph-one-end = The pH window has one end only. Give both, or leave both empty.
classes-listings = Listings
classes-listings-none = There is no listing yet. Students enrol under a listing.
classes-listing-add = Add a listing
classes-listing-change = Change a listing
classes-listing-code = Code
classes-listing-code-hint = As the catalogue has it, such as LIT 220.
classes-listing-section = Section
classes-listing-level = Level
classes-listing-credits = Credits
classes-listing-basis = Taken for
classes-listing-taken = The class has this code with this section already. Change the section.
classes-listing-remove = Take the listing away
classes-listing-remove-lead = Only a listing under which nobody ever enrolled can go.
classes-listing-in-use = Somebody is or was enrolled under this listing, so it stays. Change it instead.
classes-basis-letter = a letter
classes-basis-pass = pass or not
classes-basis-audit = audit
classes-meetings = Meetings and presence
classes-meetings-change = Change the hours
classes-meetings-none = No hours are told yet.
classes-meetings-full = The class has { $most } entries already. Take one away first.
classes-meeting-add = Add these hours
classes-meeting-kind = What
classes-meeting-person = Who is there
classes-meeting-person-hint = For presence only: an instructor or assistant of the class.
classes-meeting-weekday = Weekday
classes-meeting-time = Time
classes-meeting-from = From
classes-meeting-to = To
classes-kind-meeting = the class meets
classes-kind-presence = in the studio
classes-presence-of-whom = Presence is somebody’s. Choose who is there.
classes-not-staff = This person neither teaches nor assists in the class. Choose from the list.
classes-projects = Projects
classes-projects-none = There is no project yet. Add the first, or bring in an earlier class.
classes-projects-full = The class has { $most } projects already, as many as fit.
classes-project = Project
classes-project-add = Add a project
classes-project-change = Change a project
classes-project-title = Title
classes-project-brief = Brief
classes-project-brief-hint = What is asked for, as students read it.
classes-project-due = Due
classes-project-edition_asked = Impressions asked for the edition
classes-project-edition_asked-hint = 0 where no edition is asked.
classes-project-procedure = Procedure
classes-procedure = Procedure
classes-procedure-note = Plates that were begun keep the procedure they began with.
classes-procedure-of-school = of the school
classes-procedure-of-class = of this class
classes-procedures-none = There is no procedure to choose from yet, so no project can be made. The school’s own procedures are set up with the program; ask your keeper.
classes-surface-plate = plate
classes-surface-stone = stone
classes-edition = Edition
classes-edition-none = none
classes-due = Due
classes-due-move = Move the due date
classes-due-lead = Due { $due } for everybody who has no date of their own.
classes-due-due = New due date
classes-due-span = The term runs from { $starts } to { $ends }.
classes-due-reason = Reason
classes-due-reason-hint = Students read it beside the new date.
classes-due-moves = Earlier moves
classes-due-from = From
classes-due-to = To
classes-due-who = By
classes-due-outside-term = { $day } lies outside the term, which runs from { $starts } to { $ends }. Choose a day of the term.
classes-due-as-before = This is the date it has already. Choose another one.
classes-moved = moved from { $from } by { $who }: { $reason }
classes-closed-that-day = studio closed
classes-own-due = Due dates of their own
classes-own-due-link = Set or take back
classes-own-due-set = Set a date for one person
classes-own-due-lead = It replaces the date of the class ({ $due }) for this person. The reason is read by them and you alone; assistants see the date.
classes-own-due-person = Student
classes-own-due-due = Due
classes-own-due-reason = Reason
classes-own-due-none = Nobody has a date of their own for this project.
classes-own-due-take-back = Take it back
classes-own-due-before-term = This day lies before the term begins, on { $starts }. Choose a later day.
classes-no-student = This person is no student of the class now. Choose from the list.
classes-students-none = There is no student in the class yet.
done-term-added = The term is made.
done-term-changed = The term is changed.
done-studio-added = The studio is set up.
done-class-added = The class is made. Whoever is new gets an invitation.
done-class-changed = The class is changed.
done-class-started = The class is made, with everything from the earlier one.
done-class-filled = Everything from the earlier class is here now. Look it over.
done-instructor-added = The instructor is added.
done-rules-set = The rules are changed.
done-listing-added = The listing is added.
done-listing-changed = The listing is changed.
done-listing-removed = The listing is gone.
done-meeting-added = The hours are added.
done-meeting-removed = The hours are gone.
done-project-added = The project is added.
done-project-changed = The project is changed.
done-due-moved = The due date is moved.
done-own-due-set = The date is set.
done-own-due-taken-back = The date is taken back; the date of the class holds again.
roster-people = People of the class
roster-nobody = Nobody is in the class yet. Bring the class list, or add people one by one.
roster-gone = No longer in the class
roster-role-student = student
roster-role-assistant = assistant
roster-role-instructor = instructor
roster-state-enrolled = enrolled
roster-state-dropped = dropped
roster-state-withdrawn = withdrawn
roster-state-incomplete = incomplete
roster-since = since { $day }
roster-no-email = No e-mail address is known.
roster-number = Student number { $number }
roster-column-name = Name
roster-column-role = Role
roster-column-listing = Listing
roster-column-state = State
roster-column-account = Account
roster-column-email = E-mail
roster-column-number = Student number
roster-column-line = Line
roster-column-wrong = What is wrong, and what to do
roster-column-left = Left alone
roster-column-change = Change
roster-column-at = When
roster-column-reason = Reason
roster-column-by = By
roster-add = Add one person
roster-add-given_name = Given name
roster-add-family_name = Family name
roster-add-email = E-mail
roster-add-email-hint = Without one, print a slip with the invitation.
roster-add-student_number = Student number
roster-add-listing = Listing
roster-add-role = Role
roster-add-invite = Invite now
roster-add-button = Add
roster-add-there = This person was or is in the class already. Open their page to change what they are in it.
roster-add-namesake = Somebody of this name is in the class already. If this is another person, add a student number or an e-mail address.
roster-add-keys-disagree = This e-mail address and this student number belong to two different people. Correct the one that is wrong, or leave it empty.
roster-reason-list = class list
roster-reason-console = class list, from the command line
roster-reason-hand = by hand
roster-reason-withdrawn = not in the class list
roster-list-link = Bring a class list
roster-list = Class list
roster-list-lead = Choose the class list as a CSV file, or paste it. The first line names the columns: given name, family name, e-mail, student number, listing. What the list would do is shown first; nothing is changed before you confirm.
roster-list-file = File
roster-list-file-hint = CSV, at most 5 MB.
roster-list-text = Or paste it here
roster-list-button = Look it over
roster-list-none = There is no list. Choose a file, or paste the list.
roster-list-both = There are a file and a pasted list. Send one of them.
roster-preview = What the list would do
roster-preview-other = Another list
roster-preview-lead = Nothing is changed yet. Look it over, then confirm below.
roster-preview-nothing = Nothing to do: the list asks for no change.
roster-preview-ignored = Columns that are not read: { $columns }.
roster-preview-bad = { $count ->
    [one] One row that cannot be used
   *[other] { $count } rows that cannot be used
}
roster-preview-added = { $count ->
    [one] One new person
   *[other] { $count } new people
}
roster-preview-namesake = Somebody of this name is in the class: perhaps the same person with another number.
roster-preview-joining = { $count ->
    [one] One known person, added to the class
   *[other] { $count } known people, added to the class
}
roster-preview-joining-about = The school knows them. Whoever has an account, is in another class or holds a right of the school keeps their details as they are.
roster-preview-changed = { $count ->
    [one] One person changed
   *[other] { $count } people changed
}
roster-preview-moved = { $count ->
    [one] One person moved to another listing
   *[other] { $count } people moved to another listing
}
roster-preview-back = { $count ->
    [one] One person brought back
   *[other] { $count } people brought back
}
roster-preview-alone = { $count ->
    [one] One person whose details are left alone
   *[other] { $count } people whose details are left alone
}
roster-preview-alone-about = The list says otherwise, but these people have an account, are in another class or hold a right of the school. They change their details themselves.
roster-left = { $what } “{ $told }” in the list
roster-preview-withdrawals = { $count ->
    [one] One person is not in the list
   *[other] { $count } people are not in the list
}
roster-preview-withdrawals-about = Tick whom you want to withdraw. Nobody is deleted; what they made stays.
roster-preview-withdraw = Withdraw { $name }
roster-preview-apart = a listing of which the list names nobody
roster-preview-same = { $count ->
    [one] Nothing to do for one person
   *[other] Nothing to do for { $count } people
}
roster-line = Line { $line }
roster-confirm-invite = Invite everybody new now
roster-confirm-button = Do this
roster-stale = Somebody changed the class meanwhile, so nothing was done. This is what the list would do now; look it over again.
roster-seat = Role and listing
roster-seat-role = Role
roster-seat-listing = Listing
roster-seat-reason = Reason
roster-seat-button = Keep role and listing
roster-seat-stale = Somebody changed this person’s place in the class meanwhile. What holds now stands above; send again if you still want it.
roster-seat-of-instructor = An instructor’s place in the class is changed by a keeper of the school.
roster-state = State
roster-state-state = State
roster-state-since = Since
roster-state-reason = Reason
roster-state-button = Keep the state
roster-since-ahead = { $day } is still ahead. Write the day on which it happened.
roster-since-before = { $day } is before { $before }, when the last state began. Write that day or a later one.
roster-changes = What was changed
roster-changes-none = Nothing yet.
roster-invite = Invite, or invite again
roster-slip-open = The account is open already. For a new password there is the page for a forgotten one.
roster-slip-keeper = This account opens more than this class, so only a keeper of the school prints its slip.
done-roster-brought = The list is brought in.
done-roster-added = The person is in the class.
done-roster-invited = Invited; an invitation before no longer works.
done-roster-kept = Kept.
roster-import-told = { $added } added, { $joined } known and added to the class, { $changed } changed, { $moved } moved, { $back } brought back, { $same } with nothing to do, { $bad } bad.
roster-import-left = Line { $line }: { $what } “{ $told }” left alone.
roster-import-missing = Not in the list: { $name }. Withdraw people on the page of the class.
roster-import-new = Line { $line }: { $name } is new.
roster-import-row = Line { $line }: { $name }: { $what }.
roster-import-joins = known, added to the class
roster-import-back = brought back
roster-import-moved = moved to { $listing }
roster-import-change = { $what } “{ $old }” becomes “{ $new }”

## ---- studio: hours, stations, containers ----
studio-studio = Studio
studio-back = To the studio
studio-back-containers = To the containers
studio-keep = Keep the changes
studio-remove = Take away
studio-full = There are { $most } entries already, as many as fit. Take one away first.
studio-room-add = Set up a studio
studio-room-change = Change what is said of the room
studio-room-name = Name
studio-room-name-hint = Such as Lower print studio.
studio-room-room_address = Building and room
studio-room-room_address-hint = As one would tell it to an ambulance.
studio-room-eyewash = Eyewash
studio-room-eyewash-hint = Where it is, as seen from the etching table.
studio-room-emergency_numbers = Emergency numbers
studio-open-until = Open now, until { $until }.
studio-shut-now = Not open at this hour.
studio-closed-today = closed today
studio-week = Every week
studio-hours = Hours of the studio
studio-hours-change = Change the hours
studio-hours-none = No hours are told yet.
studio-shut = not open
studio-today = (today)
studio-days = Closed and extra days
studio-closures = Closed
studio-closures-none = No day is marked as closed.
studio-extras = Open besides
studio-extras-none = No extra opening.
studio-there = When the class meets, and who is there
studio-opening-add = Open every week
studio-opening-weekday = On
studio-opening-from = From
studio-opening-to = To
studio-opening-to-hint = 00:00 means the end of the day.
studio-closure-add = Close on these days
studio-closure-first = First day
studio-closure-last = Last day
studio-closure-last-hint = Empty for one day alone.
studio-closure-reason = Why
studio-extra-add = Open besides on this day
studio-extra-day = Day
studio-extra-from = From
studio-extra-to = To
studio-extra-reason = Why
studio-no-weekday = No weekday is ticked, or one that is not in the list. Tick at least one.
studio-ends-before = { $to } does not come after { $from }. Change one of them; a stretch over midnight is two.
studio-last-before-first = The last day lies before the first. Change one of them.
studio-closed-too-long = At most { $most } days can be closed at once. Send it in parts.
studio-closed-already = { $day } is closed already. Take that closure away first, or leave the day out.
studio-extra-on-closed = The studio is closed on { $day }, and a closure closes the whole day. Take the closure away first.
studio-stations = Stations
studio-stations-none = No station is told yet. Plans need them: where steps are done, and how many places there are.
studio-station-add = Add a station
studio-station-change = Change a station
studio-station-name = Name
studio-station-name-hint = As it is called here, such as large press.
studio-station-kind = Kind
studio-station-kind-hint = By this word a step of a procedure finds it: graining sink, etching table, slab, press, or a word of your own.
studio-station-units = How many
studio-station-remove = Take the station away
studio-station-remove-lead = Plans stop counting on it at once.
studio-containers = Containers
studio-usable = May be used
studio-usable-none = Nothing on the shelf may be used now.
studio-not-to-use = Not to be used
studio-finished = Finished
studio-mark = Mark
studio-holds = Holds
studio-figures = Figures
studio-substance-gum = gum arabic
studio-substance-phosphoric = phosphoric acid
studio-substance-nitric = nitric acid
studio-substance-stock = stock etch
studio-baume = { $value } °Bé
studio-ph = pH { $value }
studio-weight = { $value } % by weight
studio-drops = { $value } drops per mL
studio-drops-spread = { $value } ± { $spread } drops per mL
studio-not-calibrated = dropper not calibrated
studio-do-not-use = do not use
studio-past-discard = past its last day
studio-sour = sour
studio-no-discard = none told
studio-finished-on = finished on { $day }
studio-container-add = Add a container
studio-container-change = Change a container
studio-container-what = What does it hold?
studio-container-number = It gets the next free number of { $letter }; write it on the label.
studio-container-label = What the label says
studio-container-label-hint = Product, maker, batch.
studio-container-opened = Opened
studio-container-discard = Last day
studio-container-discard-hint = After this day it is not to be used.
studio-container-baume = Degrees Baumé
studio-container-ph = pH as measured
studio-container-sour = It has gone sour
studio-container-weight = Percent by weight
studio-container-weight-hint = From the label or the safety data sheet, such as 85.
studio-container-drops_per_ml = Drops per mL
studio-container-drops_spread = Give or take
studio-container-do_not_use = Do not use it, because
studio-container-note = Note
studio-calibrate = Leave the drops empty while the dropper is not calibrated. To calibrate, count and weigh drops of water in gloves and goggles; the same dropper gives other drops of acid, so weigh acid only where the safety office allows it.
studio-opened-later = { $day } has not come yet. Give the day it was opened.
studio-discard-before-opened = The last day lies before the day it was opened. Change one of them.
studio-spread-alone = A spread needs drops per mL beside it. Give both, or leave both empty.
studio-spread-too-wide = The spread is as large as the drops themselves. Calibrate again, or leave both empty.
studio-figure-elsewhere = This figure does not belong to what the container holds. Leave it empty.
studio-acid-without-weight = An acid bottle needs its percent by weight. Read it off the label or the safety data sheet.
studio-finish = It is finished
studio-finish-lead = Empty, or thrown away as the campus says. Its mark is not given again, because logs name it.
studio-reopen = It is not finished after all
studio-reopen-lead = It stands as finished.
studio-caution-acid = Acid
studio-caution-gloves = Gloves and goggles on before a bottle is opened.
studio-caution-order = Acid into gum or water, never the reverse.
studio-caution-eyewash = Know the way to the eyewash: { $eyewash }. Acid in the eye: rinse at once, for 15 minutes, and let somebody call for help.
studio-caution-first = The safety data sheet, local rules and the safety office come before anything said here.
done-studio-changed = The change is kept.
done-opening-added = The hours are added.
done-opening-removed = The hours are gone.
done-closure-added = The closure is added.
done-closure-removed = The closure is gone; the day is open again as its weekday is.
done-extra-added = The extra opening is added.
done-extra-removed = The extra opening is gone.
done-station-added = The station is added.
done-station-changed = The station is changed.
done-station-removed = The station is gone.
done-container-added = The container is on the shelf. Write its mark on the label.
done-container-changed = The container is changed.
done-container-finished = The container is finished.
done-container-reopened = The container is on the shelf again.

## ---- safety: topics and sign-offs ----
safety-grade-shown = shown
safety-grade-watched = watched
safety-grade-alone = alone
safety-record = Training record
safety-record-about = What was observed and when. The safety data sheets, local codes and the school’s safety office come before anything kept here.
safety-topics = Checklists
safety-topic = Checklist
safety-grade = Grade
safety-show-sheet = Show the sheet
safety-fresh = Signed just now
safety-take-back = Take back (until { $until })
safety-tick-all = Tick all for everyone here
safety-who = Who
safety-was-there = Was there
safety-point = { $number }
safety-so-far = So far
safety-nothing-yet = not yet given
safety-note = Note (may stay empty)
safety-look-over-button = Look over and sign
safety-look-over = Look over, then sign
safety-you-sign = You sign “{ $title }”, { $grade }, for:
safety-all-points = For each of them you saw every point:
safety-shown-means = They were there when it was shown. It counts once each of them has acknowledged it.
safety-ten-minutes = After signing you can take it back for ten minutes; later an instructor withdraws it with a reason.
safety-back = Back to the sheet
safety-sign = Sign
safety-nobody-ticked = Nobody is ticked. Tick whom you saw, or “Tick all for everyone here” and clear the exceptions.
safety-points-missing-for = { $name }: { $ticked } of { $all } points are ticked. Tick all of them or none.
safety-points-missing = A watched or alone sign-off wants every point of the checklist. Tick all points or none.
safety-no-people = Nobody is in the class yet. Read in the class list first.
safety-no-topics = No checklist is in use here. The instructor chooses them under Checklists.
safety-topic-stale = Somebody wrote a newer version of this checklist meanwhile. Open it again and look at what changed.
safety-too-late-to-take-back = The ten minutes are over. An instructor can withdraw it with a reason.
safety-taken-back = taken back by whoever gave it
safety-given-by = given { $given } by { $by }
safety-valid-until = valid until { $until }
safety-expired = ran out { $until }
safety-acknowledge-what = This was shown to you. Acknowledge it if you were there and understood it.
safety-acknowledge = I was there and understood it
safety-what-it-covers = What it covers
safety-who-can-give = Can give it:
safety-version = Checklist version { $number }
safety-not-acknowledged = not acknowledged yet
safety-gone = no longer counts: { $reason }
safety-withdraw = Withdraw
safety-withdraw-reason = Reason
safety-topics-about = Tick what this class needs, and what each assistant may witness. Writing a list anew makes a new version; sign-offs given before keep the one they were given on.
safety-write-anew = Write “{ $title }” anew
safety-class-uses = This class uses it
safety-may-witness = { $name } may witness it
safety-keep-topics = Keep
safety-topic-introduction = Introduction
safety-topic-points = What is observed, one point a line
safety-topic-points-hint = Up to 20 points, each something one can see somebody do.
safety-topic-valid_days = Valid for how many days
safety-topic-valid_days-hint = Empty: no end.
safety-topic-number = Version
safety-new-version-about = The checklist belongs to the whole school; the new version holds for every class from now on.
safety-keep-topic = Keep as a new version
safety-too-many-points = { $count } points are too many for one sheet. Keep to 20.
done-signed = Signed.
done-acknowledged = Acknowledged.
done-taken-back = Taken back.
done-withdrawn = Withdrawn.
done-topics = Kept.
done-topic-written = The new version holds from now on.

## ---- plates: prints, plates, procedures ----
plates-new = Begin a print
plates-new-project = Project
plates-new-title = Title of the print
plates-new-edition_size = Size of the edition
plates-new-edition_size-hint = Empty: as the project asks.
plates-new-procedure = Procedure
plates-new-width = Width
plates-new-height = Height
plates-new-size_unit = Unit
plates-new-materials = Drawn with
plates-new-materials-hint = For example: crayon 3, tusche wash.
plates-new-weight = The drawing is
plates-new-note = Note
plates-new-replaces = In the place of
plates-unit-in = inches
plates-unit-cm = centimetres
plates-weight-light = light
plates-weight-medium = medium
plates-weight-heavy = heavy
plates-begin = Begin
plates-another = Another plate of this print
plates-end-sheets = Sheets
plates-end-note = Note
plates-down-gummed = Gummed
plates-down-buffed = Buffed thin and dry
plates-down-talc = Talced, with an ink image
plates-down-rack_place = Place in the rack
plates-tell-step = Step
plates-tell-began = Began
plates-tell-ended = Ended
plates-tell-note = Note
plates-tell-card = Entered later from a card
plates-settle-why = Reason
plates-settle-why-looked = Looked at the plate
plates-settle-why-agreed = Agreed on at the table
plates-settle-why-log = The log is at fault, not the work
plates-settle-why-other = another reason
plates-settle-reason = In words
plates-settle-reason-hint = For another reason it has to stand here; otherwise it may stay empty.
plates-allow-step = Step
plates-allow-why = Reason
plates-allow-why-beside = The instructor stands beside
plates-allow-why-shown = It is part of a demonstration
plates-allow-why-looked = Looked at the plate
plates-allow-why-other = another reason
plates-allow-reason = In words
plates-allow-reason-hint = For another reason it has to stand here; otherwise it may stay empty.
plates-allow-about = For one start that a rule refuses; where a sign-off is missing, stand beside
plates-reason-missing = You chose another reason: write it here in a few words, or choose one of the others.
plates-no-such-step = “{ $step }” is no step of the procedure “{ $procedure }”. Choose one of its steps.
plates-ahead-of-now = { $value } lies ahead of now, and only what has happened is told here. Correct the time.
plates-ended-before-began = { $value } is before it began. Correct one of the two times.
plates-no-projects = There is no project yet. The instructor writes the first one in the settings of the class.
plates-refused = Not yet
plates-who-gives = Who can give “{ $title }”
plates-when-there = In { $studio }
plates-ask-when = ask when
plates-allow = Allow it once
plates-allow-button = Allow this start once
plates-back = Back to the plate
plates-key = Key to the squares
plates-state-not-yet = not yet
plates-state-ready = ready
plates-state-resting = resting
plates-state-under-way = under way
plates-state-done = done
plates-state-outside = done outside limits
plates-as-of = { $date }. As things stood at { $time }.
plates-look-again = Look again
plates-may-do-now = You may do this now
plates-under-way-now = Under way
plates-comes-next = What comes next
plates-plate-of = Plate { $number }
plates-plate-by = Plate { $number } of { $who }
plates-start-by = Start by
plates-due-at = due { $due }
plates-takes = takes { $minutes } min
plates-go-to-plate = To the plate
plates-nothing-now = Nothing waits for you now.
plates-none-yet = You have no plate yet. Begin a print; its first plate begins with it.
plates-no-plates = Nobody has begun a plate yet.
plates-held-up = Held up
plates-also-ready = Also ready
plates-resting = Resting
plates-rests-until = rests until { $until }
plates-dates-ahead = Dates ahead
plates-plate = Plate
plates-plates = Plates
plates-next = Next step
plates-print-due = Print due
plates-step = Step
plates-since = Since
plates-see-late = Late plates
plates-see-stuck = Stuck plates
plates-unsettled = Done outside the rules, to be settled by the instructor
plates-waits-for-you = Waits for the instructor
plates-running = Under way now
plates-unsigned = A sign-off is missing
plates-empty-class = Nobody has begun a plate yet. First: checklists in use, the class list, a project.
plates-class-line = { $people } students, { $plates } plates. As things stood { $time }.
plates-which = Which plates
plates-class-caption = Every plate of the class, late and stuck first
plates-student = Student
plates-way = Procedure
plates-now = Now
plates-in-hand = In hand
plates-count = { $count } { $count ->
    [one] plate
   *[other] plates
}
plates-heap-all = all
plates-heap-late = late
plates-heap-stuck = stuck
plates-heap-yours = wait for you
plates-heap-on-course = on course
plates-heap-closed = closed
plates-flag-late = late
plates-flag-stuck = stuck
plates-standing = Standing
plates-standing-bare = bare
plates-standing-drawn = drawn
plates-standing-etched = etched
plates-standing-under_gum = under gum
plates-standing-rolled_up = rolled up
plates-standing-pulled = pulled
plates-standing-put_away = put away
plates-standing-scrapped = scrapped
plates-surface-plate = plate
plates-surface-stone = stone
plates-replaced = replaced
plates-was-replaced = Another plate has taken the place of this one.
plates-hand-in = Hand the print in
plates-handed-in = handed in
plates-handed-in-at = Handed in { $at }.
plates-take-back = Take it back
plates-drawn-with = Drawn with
plates-procedure = Procedure
plates-rack = rack { $place }
plates-gummed-at = gummed { $at }
plates-edition-of = edition of { $sheets }
plates-runs-since = Runs since { $since }.
plates-before = Before
plates-during = While
plates-after = After
plates-then = then: { $step }
plates-sheets-count = { $sheets } sheets.
plates-it-is-done = { $step } is done
plates-start-step = Start: { $step }
plates-caution = Caution
plates-end-of-sitting = At the end of the sitting
plates-put-down = Put it down
plates-any-time = Corrections and other steps
plates-replace = Lost: begin another plate in its place
plates-tell = Tell a step that happened
plates-tell-about = For something done without this page, at its time or from a card
plates-began = Began
plates-ended = Ended
plates-tell-button = Store it
plates-done-so-far = Done so far
plates-known = Known
plates-known-measured = by the clock here
plates-known-told = told
plates-known-card = from a card
plates-remarks = Remarks
plates-nothing-done = Nothing yet.
plates-waits-for-settling = waits for the instructor
plates-ordered-stands = It stands
plates-ordered-again = To be done again
plates-rule-unknown-step = not in the procedure
plates-rule-unsettled = before an earlier one was settled
plates-rule-under-way = while another was under way
plates-rule-ended = after the plate was ended
plates-rule-order = before its turn
plates-rule-after-any-of = without what it needs before
plates-rule-requires-since = without what it needs in between
plates-rule-once = more than once
plates-rule-rest = before the rest was over
plates-rule-sign-off = without a valid sign-off
plates-waits-for-instructor = { $step } is the instructor’s to do. Ask for it.
plates-ended-already = This step is ended already.
plates-nothing-to-settle = There is nothing to settle: it kept the rules, or somebody settled it already.
plates-replaced-already = Another plate has already taken this one’s place.
plates-stale = Somebody changed this plate meanwhile. Look at it again, then save your change.
plates-buffed-without-gum = A plate is buffed after it is gummed. Tick “gummed” too, or untick “buffed”.
done-print-begun = The print and its first plate are begun.
done-plate-begun = The plate is begun.
done-handed-in = Handed in.
done-taken-back-print = Taken back; it is no longer handed in.
done-started = It runs. The time counts from now.
done-ended = Kept as done.
done-told = Stored.
done-told-outside = Stored. It broke a rule of the procedure, so it waits for the instructor before the plate goes on.
done-settled = Settled.
done-allowed = Allowed once.
done-put-down = Put down: gummed, buffed, in its place.
done-put-down-bare = Put down, but not gummed and buffed dry. Bare metal oxidises and takes ink: gum it before you leave.

## ---- etches: logs ----
etches-new = Log the etch
etches-log = Etch log
etches-logs = Etch logs
etches-class = Etch logs of the class
etches-amend = Correct the log
etches-back-log = Back to the log
etches-etch = Etch
etches-when = When
etches-mixture = Mixture
etches-strength = Strength
etches-applications = Applications
etches-came-up = How it came up
etches-in-minutes = minutes and seconds
etches-written = Written down
etches-corrected = corrected
etches-earlier = Earlier entries of this log
etches-first-entry = first entry
etches-why = Corrected: { $reason } ({ $by }, { $at })
etches-log-recipe = What went on the plate
etches-recipe-acid_in_gum = acid in gum
etches-recipe-pure_gum = pure gum
etches-recipe-stock = stock etch as it is
etches-recipe-stock_cut = stock etch cut with gum
etches-part-gum = Gum
etches-part-acid = Acid
etches-part-stock = Stock etch
etches-acid-phosphoric = phosphoric acid
etches-acid-nitric = nitric acid
etches-log-unit = Unit
etches-log-gum = Gum from
etches-log-gum_volume = Gum
etches-log-gum_volume-ounces = Gum, US fl oz
etches-log-gum_volume-ml = Gum, mL
etches-log-acid = Acid from
etches-log-drops = Drops of acid
etches-log-stock = Stock etch from
etches-log-stock_volume = Stock etch
etches-log-stock_volume-ounces = Stock etch, US fl oz
etches-log-stock_volume-ml = Stock etch, mL
etches-with-stock = With a stock etch
etches-applications-lead = Minutes of each application: 2, 1.5 or 2:30
etches-more-applications = More than three applications
etches-log-application_1 = First
etches-log-application_2 = Second
etches-log-application_3 = Third
etches-log-application_4 = Fourth
etches-log-application_5 = Fifth
etches-log-application_6 = Sixth
etches-log-application_7 = Seventh
etches-log-application_8 = Eighth
etches-log-application_9 = Ninth
etches-log-application_10 = Tenth
etches-log-application_11 = Eleventh
etches-log-application_12 = Twelfth
etches-log-tool = Laid on with
etches-log-helper = Second person
etches-log-measured_ph = pH measured in the mixture
etches-log-measured_ph-hint = By strip or meter. It stands before any estimate.
etches-log-seen = What was seen
etches-log-run = Step
etches-log-step = Step
etches-log-began = Began
etches-log-ended = Ended
etches-log-card = Entered later from a card
etches-log-gummed = Gummed
etches-log-buffed = Buffed thin and dry
etches-log-talc = Talced before the gum
etches-log-rack_place = Place in the rack
etches-log-goes_on = The sitting goes on: the plate is not put down yet
etches-log-reason = Why it is corrected
etches-log-version = Entry
etches-afterwards = The plate afterwards
etches-rack-place-missing = Say where in the rack the plate is, or tick that the sitting goes on.
etches-carried = Carried over from the log of { $at }. Change what was different.
etches-in-running = Under way since { $since }; it ends when you store the log.
etches-in-ended = Done from { $since } to { $ended }.
etches-another-time = It was another time
etches-told-lead = No etching step is under way. Say which one it was and when; what broke a rule is stored and marked.
etches-amend-lead = The entry that stands is kept and stays to be read; yours takes its place. The figures of its containers stay as they were at the time.
etches-store = Store the log
etches-store-amended = Store the correction
etches-not-named = not from a labelled container
etches-figure-baume = { $value } °Bé
etches-figure-ph = pH { $value }
etches-figure-weight = { $value } %
etches-figure-sour = sour
etches-figure-drops = { $value } drops per mL
etches-figure-drops-spread = { $value } ± { $spread } drops per mL
etches-not-calibrated = dropper not calibrated
etches-usable-do-not-use = do not use
etches-usable-past-discard = past its discard date
etches-usable-finished = finished
etches-doubt-do-not-use = { $part } { $mark } is marked “do not use”
etches-doubt-past-discard = { $part } { $mark } was past its discard date
etches-doubt-finished = { $part } { $mark } was finished before
etches-doubt-not-named = { $part } from no labelled container
etches-container-unknown = This container is not on the shelf of the studio, or holds something else. Choose from the list.
etches-applications-count = Give 1 to { $most } applications.
etches-no-minutes = “{ $value }” is no time. Write minutes as 2, 1.5 or 2:30.
etches-minutes-outside = An application takes more than nothing and at most 60 minutes. Write minutes, such as 2 or 2:30.
etches-no-etching-step = This step records no etch. Choose an etching step.
etches-stale = Somebody else changed this meanwhile. Compare, then store yours again.
etches-ounces = { $value } US fl oz
etches-millilitres = { $value } mL
etches-amount-of = { $amount } of { $mark }
etches-amount-untold = amount not told
etches-drops = { $drops } { $drops ->
    [one] drop
   *[other] drops
}
etches-per-ounce = { $drops } drops to a US fl oz of gum
etches-acid-volume = { $at } mL ({ $low } to { $high })
etches-acid-in-it = Acid in it
etches-span = the range is the dropper’s
etches-molarity = Acid by amount
etches-by-weight = Acid by weight
etches-molar = { $value } mol/L
etches-percent = { $value } %
etches-stock-share = { $share } stock etch
etches-share-of-stock = Part of stock etch, by volume
etches-ph = pH
etches-ph-is-estimate = Reckoned from the recipe. Gum is a buffer and gums differ: an estimate, not a measurement.
etches-caution = Caution: acid burns skin and eyes
etches-caution-left-over = Left-over etch is discarded as the campus says; a mix that is kept goes into a labelled container.
etches-how-did = How did it come up? { $step }
etches-how-shown = { $step } of { $at }, shown by: { $shown }. One tap is enough.
etches-how-as-drawn = as drawn
etches-how-burned = burned: light tones lost
etches-how-weak = weak all over
etches-how-filled-in = filled in: darks closed up
etches-how-uneven = uneven
etches-how-border-dirt = border dirt
etches-how-border-veil = border veil
etches-how-otherwise = otherwise, as noted
etches-not-told = not told yet
etches-came-up-how = It came up
etches-came-up-note = In your own words
etches-came-up-version = Entry
etches-came-up-note-missing = Say in the note how it came up.
etches-tell-came-up = Tell how it came up
etches-correct-came-up = Correct this
etches-store-came-up = Store it
etches-told-by = { $by }, { $at }
etches-unlogged = { $step } of { $at } has no log yet.
etches-log-it = Log it
etches-none-on-plate = No etch is logged on this plate yet.
etches-none = No etch is logged in this class yet.
etches-none-such = No log fits. Widen the choice.
etches-filter-container = Container
etches-filter-came_up = How it came up
etches-narrow = Narrow the list
etches-show-all = Show all
etches-compare = The error of an estimated pH is shared by all mixtures of one gum and bottle: within a batch compare by drops.
etches-newer = Newer logs
etches-older = Older logs
done-etch-recorded = The etch is logged.
done-etch-recorded-bare = The etch is logged, but the plate is not gummed and buffed dry. Bare metal oxidises and takes ink: gum it before you leave.
done-etch-recorded-outside = The etch is logged. It broke a rule of the procedure, so it waits for the instructor before the plate goes on.
done-etch-amended = The correction stands; the entry before it is kept below.
done-etch-came-up = Stored with the etch.

## ---- proofs: photos and comments ----
proofs-picture-empty = The photo has no content (0 bytes). Choose it again; if it stays empty, take a new one.
proofs-picture-too-heavy = The photo has { $megabytes } MB; at most 25 MB are taken. Send it in a smaller size or as a JPEG of lower quality.
proofs-picture-none = The file is not a picture. Send the photo as a JPEG, PNG or WebP file.
proofs-picture-other-kind = The file is of a kind that is not taken here ({ $kind }). Send the photo as a JPEG, PNG or WebP file.
proofs-picture-heic = The photo is a HEIC file, which many browsers cannot show. Set the phone’s camera to take JPEG photos (often called “most compatible”) and take it again, or open it on the phone, export it as JPEG and send that.
proofs-picture-too-large = The photo is { $width } x { $height } pixels ({ $megapixels } megapixels); at most 50 megapixels and 65535 pixels on a side are taken. Send it in a smaller size.
proofs-picture-cmyk = The photo is in printing colours (CMYK). Save it in RGB colours and send it again.
proofs-picture-cut-short = The photo file ends too early: part of it was lost on the way. Send it again.
proofs-picture-damaged = The photo cannot be read: the file is damaged. Take or export the photo anew and send it again.
proofs-proofs = Proofs
proofs-name = Proof { $number }
proofs-alt = { $proof }: { $kind } of “{ $title }”, plate { $number }, pulled { $pulled }
proofs-kind-drawing = the drawing on the plate
proofs-kind-trial = trial proof
proofs-kind-state = state proof
proofs-kind-bat = BAT
proofs-kind-edition = sheet of the edition
proofs-kind-cancellation = cancellation proof
proofs-add = Add a proof
proofs-all = { $count ->
    [one] The proof with what is said about it
   *[other] All proofs with what is said about them ({ $count })
}
proofs-list = All proofs
proofs-none = No proof has been added yet.
proofs-back-to-plate = To the plate
proofs-side-by-side = Two proofs side by side
proofs-compare = Show these two
proofs-compare-left = Left
proofs-compare-right = Right
proofs-not-two = Two proofs can stand side by side once two have been added.
proofs-pulled-at = pulled { $at }
proofs-added-by = added by { $who }
proofs-full-size = Full size
proofs-remove = Remove { $proof }
proofs-remove-lead = Nobody sees it any more, and its picture is thrown away after a week. It can be added again as long as you have the photo.
proofs-too-late-to-remove = A proof can be taken back within ten minutes by who added it. Ask your instructor to remove it.
proofs-comments = Comments
proofs-comment-words = Comment
proofs-comment-add = Add the comment
proofs-comment-on-plate = Comment on the plate: its student and the staff of the class read it
proofs-comment-on-proof = Comment on this proof: its student and the instructor read it
proofs-comment-remove = Remove this comment
proofs-comment-too-late-to-remove = A comment can be taken back within ten minutes by who wrote it. Ask your instructor to remove it.
proofs-new = Add a proof
proofs-new-lead = One photo of one pull. Place and time that the phone wrote into the file are thrown away; the picture is seen by the plate’s student and the staff of the class, by nobody else.
proofs-new-camera = Take the photo now
proofs-new-file = Or choose one that is there
proofs-new-file-hint = JPEG, PNG or WebP, up to 25 MB and 50 megapixels.
proofs-new-kind = What it shows
proofs-new-pulled = Pulled at
proofs-new-note = Note
proofs-new-note-hint = Paper, ink, what to look at.
proofs-new-button = Add the proof
proofs-photo-missing = There is no photo yet. Take one, or choose one that is there.
proofs-pulled-ahead = This lies ahead of now. Say when it was pulled.
proofs-same-picture = This picture is already stored for this plate. Choose another one.
proofs-same-link = The proof that shows this picture already
done-proof-added = The proof is added.
done-proof-removed = The proof is removed.
done-comment-added = The comment is added.
done-comment-removed = The comment is removed.
proofs-picture-busy = Too many photos are being worked on at the moment, so this one was not stored. Send it again in a minute.

## ---- grades ----
grades-scale-line = “{ $line }” in the letter scale is not a letter and the percent it begins at. Write one letter a line, such as “A 93”.
grades-rules-stale = Somebody saved the rules or the categories meanwhile, so nothing was stored. What stands now is listed below; what you typed is kept. Save again to put yours in its place.
grades-weights-under = The weights add up to { $sum } %, which is { $by } % short of 100 %. Change them so that they make exactly 100 %.
grades-weights-over = The weights add up to { $sum } %, which is { $by } % more than 100 %. Change them so that they make exactly 100 %.
grades-category-in-use = “{ $title }” cannot be taken away: { $count ->
    [one] 1 assessment belongs
   *[other] { $count } assessments belong
} to it. Move or take away what belongs to it first.
grades-category-twice = Two categories are called “{ $title }”. Give each its own title.
grades-category-untitled = A category with a weight or a number to drop needs a title. Write it, or empty the row.
grades-categories-none = No category is left. Give at least one a title and a weight.
grades-not-of-class = This is not one of this class’s. Choose from the list.
grades-points-nothing = An assessment of 0 points counts nothing. Give it points, or mark it as extra credit.
grades-points-below-score = A score of { $score } points was given on this. Keep the points at least that high, or mark it as extra credit.
grades-assessment-marked = “{ $title }” has marks, which are never thrown away. Set students to excused instead, so that it does not count for them.
grades-reason-needed = { $count ->
    [one] 1 mark that was stored before is changed.
   *[other] { $count } marks that were stored before are changed.
} Say why.
grades-nothing-to-hand-back = Nothing waits to be handed back here: mark somebody first.
grades-mark-stale-graded = Somebody marked this student meanwhile: graded, { $points } points, comment “{ $words }”. Yours is kept in the fields; save again to put it in place of theirs.
grades-mark-stale-excused = Somebody marked this student meanwhile: excused, comment “{ $words }”. Yours is kept in the fields; save again to put it in place of theirs.
grades-mark-stale-missing = Somebody marked this student meanwhile: not handed in, comment “{ $words }”. Yours is kept in the fields; save again to put it in place of theirs.
grades-mark-stale-pending = Somebody marked this student meanwhile: not yet marked, comment “{ $words }”. Yours is kept in the fields; save again to put it in place of theirs.
grades-points-missing = Graded needs points. Type them, or choose another standing.
grades-points-negative = “{ $value }” points are fewer than none. Type 0 or more.
grades-points-above = “{ $value }” is above the { $most } points of this assessment. Type at most { $most }, or mark the assessment as extra credit.
grades-points-not-graded = { $value } points stand beside a standing that has none. Choose graded, or empty the points.
grades-status-graded = graded
grades-status-excused = excused
grades-status-missing = not handed in
grades-status-pending = not yet marked
grades-of = { $score } of { $points }
grades-of-percent = { $percent } %
grades-days-late = { $days ->
    [one] 1 day late
   *[other] { $days } days late
}
grades-due = due { $due }
grades-due-own = own due date { $due }
grades-handed-in = handed in { $at }
grades-not-handed-in = not handed in so far
grades-no-project = no project
grades-extra-credit = extra credit
grades-rules = Categories and rules
grades-new-assessment = New assessment
grades-nothing-set-up = No categories yet. Set them up under “Categories and rules”: their weights make 100 % together.
grades-no-assessments = Nothing is assessed yet.
grades-no-students = Nobody is in the class yet.
grades-ledger = Ledger
grades-ledger-about = Grade so far is reckoned from every mark in hand. A mark in brackets is not handed back yet; its student does not see it.
grades-student = Student
grades-so-far = Grade so far
grades-in-hand = { $mark }, not handed back
grades-from-weight = from { $weight } % of the weight
grades-assessments = Assessments
grades-assessment = Assessment
grades-category = Category
grades-weight-of = { $title }, { $weight } %
grades-points = Points
grades-marked = Marked
grades-marked-of = { $marked } of { $all }
grades-waiting = Not handed back
grades-edit = Change
grades-facts = Change “{ $title }”
grades-facts-category = Category
grades-facts-project = Project
grades-facts-project-hint = Lateness is counted from the project’s due date, or the student’s own.
grades-facts-title = Title
grades-facts-points = Points
grades-facts-points-hint = With up to two decimals.
grades-facts-extra_credit = Extra credit: added, not asked for
grades-keep = Keep
grades-remove = Take this assessment away
grades-remove-about = Nobody was marked on it, so it can go.
grades-categories = Categories
grades-categories-about = The weights make 100 % together. Empty a row to take its category away. Dropping the lowest leaves out the scores without which a student’s result is best, and always leaves one.
grades-categories-title = Title
grades-categories-weight = Weight in percent
grades-categories-drop = Drop the lowest
grades-category-row = Category { $number }
grades-category-row-title = Title of category { $number }
grades-category-row-weight = Weight of category { $number }
grades-category-row-drop = Lowest to drop in category { $number }
grades-keep-categories = Keep the categories
grades-scheme = Rules
grades-scheme-late = Percent off for each day late
grades-scheme-late-hint = 0: a day late costs nothing.
grades-scheme-late_of = Of
grades-scheme-max_days = Days late at the most
grades-scheme-max_days-hint = Later work scores 0. Empty: no such limit.
grades-scheme-grace = Minutes of grace after the due time
grades-scheme-missing = Work not handed in counts as 0
grades-scheme-places = Decimal places of the grade
grades-scheme-ties = A grade on the middle
grades-scheme-scale = Letters
grades-scheme-scale-hint = One a line with the percent it begins at, from the highest down to 0, such as “A 93”. Empty: no letters.
grades-of-possible = the points it could bring
grades-of-earned = the points it did bring
grades-ties-half-up = goes up: 89.5 becomes 90
grades-ties-half-even = goes to the even digit: 88.5 becomes 88
grades-ties-truncate = is cut off: 89.9 becomes 89
grades-keep-rules = Keep the rules
grades-usual = These are the usual rules; nothing is stored for this class yet.
grades-stands-now = What stands now
grades-stands-category = { $title }: { $weight } %, { $drop } dropped
grades-stands-rules = { $late } % a day of { $of }, at most { $most } days, { $grace } minutes of grace, { $places } decimal places
grades-no-limit = any number of
grades-marking-about = { $category }, { $points } points. Points typed beside “not yet marked” count as graded. Nothing is shown to students before you hand it back.
grades-mark-status = Standing
grades-mark-points = Points
grades-mark-words = Comment
grades-mark-reason = Reason, where a stored mark is changed
grades-mark-reason-hint = Students read it beside a corrected mark once that is handed back.
grades-mark-row = { $what } of { $name }
grades-handed-back = handed back { $at }
grades-not-handed-back = not handed back
grades-earlier = Earlier marks
grades-earlier-line = { $mark }, { $at }, by { $by }
grades-earlier-reason = Changed because: { $reason }
grades-keep-marks = Keep the marks
grades-to-hand-back = Hand back
grades-hand-back = Hand back
grades-hand-back-of = Hand back “{ $title }”
grades-hand-back-about = { $count ->
    [one] 1 student gets a letter and sees the mark and the comment
   *[other] { $count } students get a letter and see their mark and comment
} from now on. It cannot be taken back; a change later is a correction with a reason.
grades-hand-back-waits = Still not yet marked: { $count }. Hand them back later in the same way.
grades-hand-back-button = Hand back to { $count ->
    [one] 1 student
   *[other] { $count } students
}
grades-back-to-marking = Back to marking
grades-own-about = Reckoned from what was handed back to you, and from nothing else.
grades-of-person-about = Reckoned from every mark in hand, handed back or not.
grades-own-nothing = Nothing was handed back to you yet, so there is no grade.
grades-own-percent = Percent
grades-own-letter = Letter
grades-own-low = Lowest possible
grades-own-high = Highest possible
grades-own-possible = Lowest and highest possible: with all work not yet marked at 0, and at the most it can still bring.
grades-own-working = How it was reckoned
grades-own-standing = Standing
grades-own-score = Score
grades-own-comment = Comment
grades-own-before = Before it was { $mark }. Changed because: { $reason }
grades-cannot = The grade cannot be reckoned: { $why }
grades-ask-instructor = Ask the instructor; your marks are kept.
done-categories = The categories are kept.
done-rules = The rules are kept.
done-assessment = The assessment is kept.
done-assessment-removed = The assessment is gone.
done-marks = The marks are kept. Students see them once you hand them back.
done-handed-back = Handed back; the letters are on their way.

## ---- exports and records ----
exports-column-given-name = Given name of the person; empty for people who go by one name.
exports-column-family-name = Family name of the person.
exports-column-email = E-mail address; empty where none is known.
exports-column-student-number = The number the school knows the person by.
exports-column-external-id = The id another system of the school gave the person.
exports-column-listing = The listing the person is enrolled in, such as LIT 220-01.
exports-column-role = What the person is in the class: student or assistant.

## ---- letters ----
letters-hello = Hello { $name },
letters-utc = { $at } UTC
letters-invitation-subject = Open your account: { $place }
letters-invitation-class = You are in the class “{ $class }” at { $school }. Open your account to see your plates, your sign-offs and what comes next.
letters-invitation-school = There is an account for you at the print studio of { $school }.
letters-invitation-button = Open your account
letters-invitation-until = The link works once, until { $until }. Later, ask for a new one on the page for a forgotten password.
letters-invitation-unexpected = If this means nothing to you, leave it be: without the link no account is opened.
letters-reset-subject = Choose a new password
letters-reset-lead = Somebody, most likely you, asked for a new password for your account.
letters-reset-button = Choose a new password
letters-reset-until = The link works once, within { $minutes } minutes of being asked for: until { $until }.
letters-reset-unexpected = If it was not you, leave it be: your password stays as it is.
letters-password-changed-subject = Your password was changed
letters-password-changed-lead = The password of your account was changed on { $at }.
letters-password-changed-unexpected = If it was not you, ask for a new password at once, and tell whoever runs your class.
letters-password-changed-button = Ask for a new password
letters-handed-back-subject = Handed back: { $place }
letters-handed-back-lead = Your instructor has handed back what was marked in { $place }:
letters-handed-back-button = See your grades
letters-handed-back-note = No grade stands in a letter; it is behind your sign-in.
letters-daily-lead = { $name }, one thing comes first on { $day }.
letters-daily-next = First
letters-daily-due = The print is due { $due }.
letters-daily-subject-sign-off = First: get your sign-off “{ $topic }”
letters-daily-heading-sign-off = Get your sign-off “{ $topic }”
letters-daily-words-sign-off = Plate { $number }, “{ $title }”, cannot go on to { $step } without it. { $grade ->
    [shown] It is enough to be shown and to acknowledge it.
    [watched] Somebody who may witness it has to watch you do it.
   *[alone] It has to be the one for working alone.
}
letters-daily-button-sign-off = See who can give it
letters-daily-label-sign-off = Sign-off
letters-daily-line-sign-off = Plate { $number }, “{ $title }”, needs “{ $topic }” for { $step }.
letters-daily-subject-ready = First: { $step }, plate { $number }
letters-daily-heading-ready = { $step }
letters-daily-words-ready = Plate { $number }, “{ $title }”, is ready for it.
letters-daily-button-ready = See the plate
letters-daily-label-ready = Ready
letters-daily-line-ready = Plate { $number }, “{ $title }”: { $step }.
letters-daily-subject-due = First: “{ $title }” is due { $due }
letters-daily-heading-due = Hand in “{ $title }”
letters-daily-words-due = It is due { $due }.
letters-daily-button-due = See where it stands
letters-daily-label-due = Due
letters-daily-line-due = “{ $title }” is due { $due }.
letters-daily-left-out = And { $count ->
    [one] one more thing
   *[other] { $count } more things
}: sign in to see all.
letters-daily-stood = This is how your log stood at { $at }, and it may have changed since.
letters-daily-caution = Work with acid, solvent or press: the safety data sheet and the studio’s own rules come first.
letters-daily-why = You get this letter on days when something is ready, due or missing.
letters-daily-stop = Stop this letter
letters-list = Letters
letters-list-about-class = What was sent to the people of this class. What stands in a letter is shown to nobody but its reader.
letters-list-about-school = What was sent to people of the school. What stands in a letter is shown to nobody but its reader.
letters-list-kind = Letter
letters-list-person = To
letters-list-class = Class
letters-list-state = State
letters-list-when = When
letters-list-error = What was said
letters-list-again = Try again
letters-list-older = Older letters
letters-list-next-try = next try { $at }
letters-list-none = There are no letters here.
letters-list-all = All
letters-list-tries = { $count ->
    [one] 1 try
   *[other] { $count } tries
}
letters-kind-invitation = Invitation
letters-kind-reset = New password
letters-kind-password-changed = Password changed
letters-kind-daily = Daily letter
letters-kind-handed-back = Handed back
letters-kind-unknown = Letter of a newer version
letters-state-waiting = Waiting
letters-state-sent = Sent
letters-state-failed = Failed
letters-state-dropped = Not sent
letters-dropped-no-address = There is no e-mail address for this person.
letters-dropped-bad-address = What stands as this person’s e-mail address is none.
letters-dropped-not-enrolled = The person is no longer in the class.
letters-dropped-link-dead = The link in it was used, replaced or too old.
letters-dropped-day-over = The day it was for is over.
letters-dropped-turned-off = The person wants no daily letter.
letters-not-failed = This letter has not failed, so there is nothing to try again.
letters-stop = Stop the daily letter
letters-stop-about = This stops the daily letter to { $name }. Letters about the account still come. The choice can be changed on the page of one’s account.
letters-stop-button = Stop the daily letter
letters-stopped = No daily letter comes any more.
letters-stopped-about = The choice can be changed on the page of one’s account.
done-letter-again = The letter is tried again.

## ---- layout, trouble, words used everywhere ----
layout-skip = Skip to the page
layout-pages = Pages
layout-today = Today
layout-class = Class
layout-plates = Plates
layout-sign-offs = Sign-offs
layout-grades = Grades
layout-studio = Studio
layout-people = People
layout-sign-out = Sign out
layout-school = School
layout-settings = Class settings
layout-help-nav = Elsewhere
layout-first-page = Your classes
layout-studio-line = { $studio }. Eyewash: { $eyewash }. The safety data sheet, local rules and the safety office come before anything said here.
trouble-title = That did not work
trouble-home = To the first page
trouble-not-found = There is nothing here, or nothing that is yours to see.
trouble-sign-in-first = Sign in first; what you sent was not stored.
trouble-confirm-first = Type your password once more before this; what you sent was not stored.
trouble-not-yours = This page belongs to another role in the class. Nothing was changed.
trouble-unsealed = This form was too old or came from another site, so nothing was stored. Go back, reload the page and send it again.
trouble-once-clash = This form was sent before with other content. Reload the page and fill it in anew.
trouble-taken = Somebody stored the same thing a moment ago. Reload the page to see it.
trouble-busy = Too many people are at work just now and this could not be done. Try again in a few seconds; nothing was stored.
trouble-broken = Something broke on our side and nothing was stored. Try again; if it stays so, tell the instructor what you were doing.
trouble-too-many = Too many tries. Wait { $seconds } { $seconds ->
    [one] second
   *[other] seconds
} and try again.
form-summary = Please look at this again:
form-stale = Somebody else saved this while you were typing, so yours was not stored yet. Compare what stands now with what you typed; saving again puts yours in its place.
form-stands = Now stands here: “{ $value }”. What you typed is kept in the field.
form-stands-empty = Now this is empty. What you typed is kept in the field.
form-stands-ticked = Now this is ticked. Your choice is kept.
form-stands-unticked = Now this is not ticked. Your choice is kept.
form-optional = (may stay empty)
form-empty = This is missing. Fill it in.
form-too-large = The form is larger than { $limit }. Send less at once.
form-file-too-large = The file is larger than { $megabytes } MB. Choose a smaller one.
form-fields-too-large = The form holds more text than fits. Send less at once.
form-one-file = There are several files. Send one at a time.
form-too-many-parts = The form has too many parts. Send less at once.
form-cut-short = The form arrived incomplete. Send it again.
form-not-utf8 = The form arrived in an encoding that cannot be read. Reload the page and send it again.
form-control-characters = There are invisible control characters in this text. Type it anew instead of pasting it.
form-too-long = This has { $length } characters; at most { $most } fit. Shorten it.
form-out-of-range = “{ $value }” is outside what is possible here: { $least } to { $most }.
form-no-number = “{ $value }” is no number with at most { $places } decimals, such as 12 or 4.3.
form-no-date = “{ $value }” is no day. Write it as year-month-day, such as 2026-11-25.
form-no-local-time = “{ $value }” is no day and time. Write it as 2026-11-25T16:30.
form-no-time = “{ $value }” is no time of day. Write it as 16:30.
form-no-choice = “{ $value }” is not one of the choices. Choose from the list.
days-weekday-1 = Monday
days-weekday-2 = Tuesday
days-weekday-3 = Wednesday
days-weekday-4 = Thursday
days-weekday-5 = Friday
days-weekday-6 = Saturday
days-weekday-7 = Sunday
