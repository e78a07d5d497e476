# English. One message for each act of each element (element-verb), each built-in act (act-…), each
# fixed label (label-…). A value that a message does not use is told behind it by its part-… message.
# Sentences are instructions in the imperative; the full stop is set by the program.

decimal-sign = .
list-and = { $first } and { $last }
list-or = { $first } or { $last }
date = { $day } { $month } { $year }
month-01 = January
month-02 = February
month-03 = March
month-04 = April
month-05 = May
month-06 = June
month-07 = July
month-08 = August
month-09 = September
month-10 = October
month-11 = November
month-12 = December

## Units that are words
unit-turns = { $count ->
    [one] turn
   *[other] turns
  }
unit-months = { $count ->
    [one] month
   *[other] months
  }
unit-years = { $count ->
    [one] year
   *[other] years
  }
unit-parts = parts

## Pressures
qualifier-gauge = gauge
qualifier-absolute = absolute

## Limits
limit-at-most = at most { $value }
limit-at-least = at least { $value }
limit-under = under { $value }
limit-over = over { $value }
limit-between = { $lower } to { $upper }
limit-over-to = over { $lower } up to { $upper }
limit-to-under = { $lower } to under { $upper }
limit-over-to-under = over { $lower } to under { $upper }
limit-any = any value
limit-outside = outside { $limit }
figure-about = about { $figure }

## What is told behind a line
part-stages = {" "}to { $stages }
part-quantity = {" "}with { $quantity }
part-with = {" "}with the { $with }
part-sense = {" "}{ $sense }
part-effort = {" "}with { $effort }
part-effort-limit = {" "}({ $effort-limit })
part-seen-from = , seen from { $seen-from }
part-instrument = {" "}with the { $instrument }
part-points = {" "}at { $points }
part-pattern = , { $pattern }
part-by = {" "}({ $by })
part-because = {" "}({ $because })
order-caption = In the order of the numbers
order-circle = Order, counted clockwise from any of them: { $order }
order-rectangle = Order, counted clockwise from the top left: { $order }
order-row = Order, counted from the left: { $order }
order-listed = Order, counted as they are listed: { $order }
stage-torque = { $torque }
stage-angle = turn on by { $angle }
stage-then = , then{" "}
word-clockwise = clockwise
word-anticlockwise = anticlockwise
word-crosswise = crosswise
word-spiral = in a spiral
word-on-pitch-circle = on the pitch circle
word-on-rectangle = on the rectangle of { $rows }
word-in-a-row = in a row
word-on-points = at { $places }

## Built-in acts
act-step = Done
act-set = Bring the { $state } to “{ $value }”
act-measure-roughly = Measure the { $reading } roughly
act-measure = Measure the { $reading }
act-one-limit = With the { $instrument }: is the { $reading } { $limit }?
act-one-limit-point = With the { $instrument }: is the { $reading } at { $points } { $limit }?
act-one-limit-points = With the { $instrument }: is the { $reading } { $limit } at { $points }, at each of them?
act-measure-which = Check the { $reading } with the first of these that is at hand, and tick it:
act-count = Count the { $reading }
act-observe = Look: { $reading }
act-record = Write down the { $reading }
act-confirm = Make sure: { $statement }
act-check = Work out the { $reading }
act-choose = Choose the { $reading }
act-wait = Wait { $duration }
act-wait-since = Wait until { $duration } have passed since the end of step { $step }
act-hold = { $who }: hold the { $thing } until step { $step } is done
act-hold-how = { $who }: hold the { $thing } until step { $step } is done: { $how }
act-begin-when-held = Begin only when the { $by } holds the { $thing }
act-sign-apart-all = { $statement } Signed: { $who }, who did not do any of the steps { $steps }
act-sign-apart = { $statement } Signed: { $who }, who did not do step { $step }
act-let-go = Let go only when step { $step } is done
act-let-go-now = { $who }: only now let go of the { $thing }
act-let-go-if-held = { $who }: if you hold the { $thing }, let go of it only now
left-so = The machine is left so: { $how }
act-sign = { $statement } Signed: { $who }
act-apply = Apply { $what } to the { $thing }
act-fit-tool = Fit the { $tool }
act-remove-tool = Take out the { $tool }

## Elements
bolts-slacken = Slacken the { $count } { $thing }
bolts-remove = Take out the { $count } { $thing }
bolts-fit = Fit the { $count } { $thing } by hand
bolts-renew = Fit { $count } new { $thing } by hand
bolts-nip = Nip up the { $count } { $thing }
bolts-tighten = Tighten the { $count } { $thing }
bolts-retighten = Tighten the { $count } { $thing } again
nuts-slacken = Slacken the { $count } { $thing }
nuts-remove = Take off the { $count } { $thing }
nuts-fit = Fit the { $count } { $thing } by hand
nuts-renew = Fit { $count } new { $thing } by hand
nuts-nip = Nip up the { $count } { $thing }
nuts-tighten = Tighten the { $count } { $thing }
nuts-retighten = Tighten the { $count } { $thing } again
plug-slacken = Slacken the { $thing }
plug-remove = Take out the { $thing }
plug-fit = Fit the { $thing } by hand
plug-renew = Fit the new { $thing } by hand
plug-nip = Nip up the { $thing }
plug-tighten = Tighten the { $thing }
plug-retighten = Tighten the { $thing } again
part-remove = Take off the { $thing }
part-fit = Fit the { $thing }
part-renew = Fit the new { $thing }
part-press = Press on the { $thing }
seal-remove = Take out the { $thing }
seal-fit = Fit the { $thing }
seal-renew = Fit the new { $thing }
cover-open = Open the { $thing }
cover-close = Close the { $thing }
connector-disconnect = Disconnect the { $thing }
connector-connect = Connect the { $thing }
connector-cap = Cap the { $thing }
hose-disconnect = Disconnect the { $thing }
hose-connect = Connect the { $thing }
hose-renew = Connect the new { $thing }
hose-cap = Cap the { $thing }
fluid-drain = Drain the { $thing }
fluid-fill = Fill in { $quantity } { $with }
fluid-top-up = Top up with { $quantity } { $with }
lock-lock = Lock the { $thing }
lock-unlock = Unlock the { $thing }
clips-remove = Take off the { $count } { $thing }
clips-fit = Fit the { $count } { $thing }
clips-renew = Fit { $count } new { $thing }
latch-open = Open the { $thing }
latch-close = Close the { $thing }
lockwire-cut = Cut the { $thing } and take it out
lockwire-renew = Fit the new { $thing }
shaft-turn = Turn the { $thing }
adjuster-turn = Turn the { $thing }
special-tool-fit = Fit the { $thing }
special-tool-remove = Take out the { $thing }
spring-load = Load the { $thing }
spring-relax = Relax the { $thing }

## Values of elements
value-in-place = in place
value-removed = off
value-fitted = fitted
value-out = out
value-slack = slack
value-snug = snug
value-tight = tight
value-full = full
value-drained = drained
value-joined = joined
value-parted = parted
value-oiled = oiled
value-dry = dry
value-moly-greased = moly-greased
value-thread-locked = thread-locked
threads-of = threads of { $thing }
value-locked = locked
value-unlocked = unlocked
value-answer-yes = yes
value-answer-no = no
value-bolts-new = new
value-bolts-used = used
value-nuts-new = new
value-nuts-used = used
value-plug-new = new
value-plug-used = used

name-signature = signature
name-light-finger = light finger pressure
name-firm-thumb = firm thumb pressure
name-one-hand = the force of one hand
name-two-hands = the force of both hands

## Cautions
caution-sealed = Do not touch the { $part }: { $because }
caution-applies = The { $instrument } applies { $limit } to what it measures.
caution-proved-on = Prove the { $instrument } on { $source } before and after
caution-as-written = Read this in { $unit }: what follows is not converted.
caution-expected = Expected: { $limit }. With any other value do not go on: measure again.
caution-expected-count = Expected: { $limit }. With any other number do not go on: count again.
caution-evenly = Tighten them evenly: they share one load, and what a loose one does not bear, the others bear.
caution-guarded = The limit is { $limit }. It is drawn in by as much as the reading may be wrong. { $undecided }
caution-before-rounding = Compare the figure before you round it.
caution-guarded-by = Accept only what lies inside the limit by { $by } or more: by as much as the reading may be wrong. { $undecided }
caution-guarded-rows = The limits in the table are drawn in by as much as the readings may be wrong. { $undecided }
guarded-by-ends = { $lower } (lower end), { $upper } (upper end)
guarded-undecided-here = A reading between what is accepted and what is refused is undecided: take the { $instrument } and answer again which is used.
caution-guarded-arms = Of two outcomes that meet, the surer one is drawn in by as much as the reading may be wrong. The limits are { $limits }.
outside-by-more = { $outside }, by more than { $by }
limit-see-table = see the table
inside-of-rows = inside the limits in the table
outside-of-rows = outside the limits in the table
outside-of-rows-by-more = outside the limits in the table by more than { $by }
outside-unless-inside = not inside the limit by { $by } or more
guarded-undecided = A reading between what is accepted and what is refused is undecided: measure again with a better instrument, the job waits.
caution-as-read = Here the reading is taken as it is: it may pass what the other instrument would not.
caution-coarser = This reads only to { $own }: the { $instrument } reads to { $other }.
caution-rougher = This may be wrong by up to { $own }: the { $instrument } by up to { $other }.
caution-open-low = This does not tell whether the { $reading } is too low.
caution-open-high = This does not tell whether the { $reading } is too high.
note-open-low = not decided: { $reading } too low
note-open-high = not decided: { $reading } too high
caution-open-noting = { $note }
guarded-outside = What is not surely inside counts as outside.
guarded-likely = The width comes from the instrument’s standard uncertainty: of 100 readings at the edge, 5 may still be wrong.

## Expressions
fold-max = greatest { $of }
fold-min = smallest { $of }
fold-mean = mean of { $of }
fold-spread = greatest less smallest { $of }
fold-sum = sum of { $of }
fold-count = number of { $of }
fold-abs = { $of } without its sign

## Choices
choose-rule = Take { $prefer } for which { $target } is { $limit }. ({ $rule }. There are: { $sizes }.)
choose-largest = the largest
choose-smallest = the smallest
choose-nearest = the one that brings { $target } nearest to { $to }
choose-steps = { $lower } to { $upper } in steps of { $step }
choose-fewest = the one of the fewest pieces
choose-stack = Up to { $most } may be put together, one size more than once; { $reading } is their sum.
choose-stack-once = Up to { $most } may be put together, each size once; { $reading } is their sum.
table-accept = Accept
table-proportion = Between two rows take in proportion; half way, at { $key }: { $value }.
table-next-lower = Between two rows take the row with the next lower value.
table-nothing = There are no values between the rows.
table-source = From { $source }.
choose-tie-nearest = Of two equally near take the smaller.
choose-tie-fewest = Of equally many take those with the smaller sum, and of one sum those with the greatest piece.
choose-tie-stack = Of one sum take the fewest pieces, and of those the ones with the greatest piece.
choose-tie-nearest-stack = Of two sums equally near take the smaller; of one sum take the fewest pieces, and of those the ones with the greatest piece.
choose-no-table = There is no table for it: it does not go by one number of few digits.
choose-none = nothing fits
choose-none-when = nothing fits

## Outcomes
outcome-when = { $when }:
outcome-when-one = any { $when }:
outcome-otherwise = otherwise
outcome-do-below = Do what follows.
outcome-do-below-then = First do what follows, then:
outcome-go-on = Go on.
outcome-note = Write down: “{ $note }”
outcome-refer = Stop. Ask { $to }.
outcome-stop = Stop. { $text }
outcome-done = The job is done.
outcome-to-the-end = Do nothing more but what stands under “At the end”.
outcome-to-the-end-step = Do nothing more but what stands under “At the end”: go to step { $step }.
outcome-as-at = Follow what stands above for a { $reading } that the { $instrument } shows to be outside.
outcome-repeat = { $count ->
    [one] Repeat from step { $step }, once at most.
   *[other] Repeat from step { $step }, { $count } times at most.
  }
outcome-then-repeat = { $count ->
    [one] Then repeat from step { $step }, once at most.
   *[other] Then repeat from step { $step }, { $count } times at most.
  }
outcome-failing = Still so after that: { $then }
stands = The machine then stands: { $how }.
stands-denied = { $what } (but the reading denies it)
stands-normal = The machine then stands as it normally does.

## Blocks
any-order = In any order:
without-a-break = Without a break: do not leave and do not hand over in here:
together = Side by side, { $who }:
group-as-one = Together, as one:
at-the-end = At the end:
call = { $title }:
call-at = { $title } ({ $point }):
branch-when = Only where { $when }:
branch-otherwise = Otherwise:
condition-series = series { $series }
condition-within = { $what } { $limit }
condition-not = not { $what }
condition-proved = { $what }, and that was proved
condition-for = { $what }, for { $time } at least
condition-under = { $what }, for less than { $time }
serial-from = serial numbers from { $from }
serial-to = serial numbers up to { $to }
serial-range = serial numbers { $from } to { $to }
serial-any = any serial number
by-all = All
do-not-leave = Do not leave the machine here: as it then stands, that is not safe.
do-not-leave-while = Do not leave the machine here: { $how }.

## Title block
revision = Revision { $letter }
revision-of = Revision { $letter }, { $date }
replaces = Replaces revision { $letter }

## Lists
list-people = People
list-time = Time
instrument-one-limit = only { $limit }
instrument-asked-in = { $range }; on this sheet: { $unit }
instrument-asked-in-part = { $range }; on this sheet: { $unit }, where the step says no other unit
instrument-instead = or { $instrument }, where there is no { $of }
list-instruments = Instruments
list-special-tools = Special tools
list-tools = Tools
list-parts = New parts
list-consumables = Consumables
column-instrument = Instrument
column-range = Range
column-resolution = Reads to
column-error = Greatest error
column-calibrated = Calibrated
column-tool = Tool
column-number = Number
column-part = Part
column-consumable = Consumable
column-quantity = Quantity
calibrated-every = { $count ->
    [one] every month
   *[other] every { $count } months
  }
error-of-reading = of reading
error-of-full-scale = of full scale
error-plus = plus
maybe-needed = only where a step asks for it
people-anyone = Any of them
people-work = { $time } at work
time-elapsed = From start to end
time-waits = Of it waiting
time-spread = { $likely } ({ $least } to { $most })
time-untimed = { $count ->
    [one] 1 step without a time is not counted
   *[other] { $count } steps without a time are not counted
  }

## Signatures, cautions, proof
sign-done-by = Done by
sign-checked-by = Checked by
caution-person = Only competent persons who are authorised for this work may do it. Work on electrical parts is for qualified electricians.
caution-local = The law, local codes and the rules of the site come first, then the maker's data, then this sheet.
caution-lock = Where energy could come back, lock it out with your own lock, keep the key, and prove it dead yourself.
proved = On every path through the { $acts } acts of this procedure { $obligations } obligations of order, state and interlock were proved by computation.
proved-limits = The proof covers what the library says of the machine, and nothing else. It does not replace looking, thinking and asking.

## Signal words (ANSI Z535.4, ISO 3864-2)
signal-danger = DANGER
signal-warning = WARNING
signal-caution = CAUTION
signal-notice = NOTICE

## Labels of the paper and the check program
label-step = Step
label-note = Note
label-page = Page
label-of = of
label-source = Source
label-what-for = What it is for
label-hazards = Hazards
label-for-machines = For
label-why-revised = Why it was revised
label-what-you-need = What you need
label-done-by = Done by
label-name = Name
label-date = Date
label-signature = Signature
label-machine-serial = Serial number of the machine
label-job-number = Job number
label-cautions = Cautions
label-proved = What was proved
label-limit = Limit
label-accept = Accept
label-result = Result
label-done = Done
label-enter = Enter
label-wait-over = The time has passed
label-work-out = Work out
label-edition = Language and units
label-save-record = Save the record
label-print = Print
label-new-job = New job
label-new-job-sure = Begin a new job? Save the record of this one first: it is taken off this device.
label-saved = Saved on this device
label-still-wait = Still to wait
label-wait-done = The time has passed.
label-no-store = This browser cannot keep a record, so the job cannot be done here. Use the printed checklist.
label-other-tab = the job is open in another window
label-record-broken = The record on this device was altered at entry
label-not-open = This step is not open now.
label-empty = Write something down.
label-signed-as = This name has signed in another role. Let somebody else sign.
label-missing = A reading that this is worked out from is missing.
label-not-a-number = is not a number.
label-not-in-range = the instrument cannot show this. Read it again.
label-not-on-digits = the instrument does not show such digits. Read it again.
label-not-expected = this is not expected here. Read it again.
label-undecided-here = Undecided: so near the limit the error of the instrument may make it good or bad. Say again which instrument is used, and take a better one.
label-undecided = Undecided: so near the limit the error of the instrument may make it good or bad. Measure again with a better instrument. The job waits.
label-not-for = This procedure is not for that machine.
label-which-series = Which series is the machine?
label-which-serial = Serial number of the machine
label-end-done = The job is done.
label-end-stop = The job stops here.
label-end-refer = The job stops here. Ask
label-stands = The machine stands
label-procedure = Procedure
label-language = Language
label-when-done = [Enter] when it is done
label-when-waited = [Enter] when the time has passed
label-when-result = [Enter] for the result
label-type-values = Type, with blanks between
label-type-text = Write down
label-type-number = Type one of the numbers.
label-enter-alone = Press Enter alone when it is done, or type stop.
label-which-next = Which next?
label-values-wanted = so many figures are wanted
label-not-an-answer = This is not one of the answers.
label-job-left = The job was left here. The record holds what was done so far.
label-record-is-in = The record is in

## Clock times
clock-step-ended = End of step { $step } at
clock-since = { $what }, since
clock-started = Started at
clock-not-before = Not before
clock-only-before = Only before
timed-by-waits = Whether this time has passed: the sheet goes by the clock, this program by the waits alone. What was done in between it does not count.
label-goes-on-unbroken = Goes on without a break: do not leave and do not hand over in here.
label-no-script = This check program needs JavaScript. Use the printed checklist instead.
label-stands-normal = The machine then stands as it normally does.

## Templates
label-template = Template
template-title = Template: { $template }
template-use = Cut out the { $template } from its page behind this sheet. Measure the two lines on that page first.
template-print = Print this page at its actual size (100 %), not fitted to the paper.
template-prove = Then measure both lines with a steel rule: the one across is 100 mm long, the one down 40 mm. If either is not, throw this page away and print it again.
template-cut = Cut along the middle of the drawn line. Keep no old copies: a limit may have been revised since.
template-across = 100 mm
template-down = 40 mm
template-rectangle = Outline: { $width } wide, { $height } high
template-disc = Outline: round, { $diameter } across
template-notch-top = Notch at the top: its middle { $at } from the left, { $width } wide, { $depth } deep
template-notch-bottom = Notch at the bottom: its middle { $at } from the left, { $width } wide, { $depth } deep
template-notch-left = Notch at the left: its middle { $at } from the bottom, { $width } wide, { $depth } deep
template-notch-right = Notch at the right: its middle { $at } from the bottom, { $width } wide, { $depth } deep
template-hole = Hole, { $diameter } across
template-holes = { $count } holes, { $diameter } across each, evenly on a circle of { $circle }
template-in-the-middle = , in the middle
template-from-the-corner = , its middle { $right } from the left and { $up } from the bottom
template-from-the-middle = , its middle { $right } across and { $up } up, counted from the middle (below nought: to the left, down)
template-next-page = What else is said of it is on the next page: keep both together.
template-turned = It is turned to fit on the paper: its top is at the right.
template-first = , the first { $angle } clockwise from the top
template-tied = From the limits of the library: { $names }
cut-from = { $name }, cut from the template “{ $template }” behind this sheet
