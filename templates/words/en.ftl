## Every word of the program in English. One section per subject; keys start with the subject's name.

## ---- reckon: one clear sentence for bad input ----
reckon-unknown = There is no reckoning called “{ $name }”. Known: { $known }.
reckon-not-json = The input is not the JSON that “{ $name }” reads: { $problem }.

## ---- trade: dates, wall clocks and zones ----
civil-zone-unknown = “{ $field }” is “{ $value }”, which is no IANA time zone: write a name such as America/New_York.
civil-date-unreadable = “{ $field }” is “{ $value }”, which is no date: write year, month and day, such as 2026-09-14.
civil-local-unreadable = “{ $field }” is “{ $value }”, which is no local date and time: write it such as 2026-09-14T17:00.
civil-instant-unreadable = “{ $field }” is “{ $value }”, which is no moment with an offset: write it such as 2026-09-14T17:00:00-04:00.

## ---- trade: etch ----

## ---- trade: grading and lateness ----

## ---- trade: planning ----

## ---- people: accounts, invitations, sign-in ----

## ---- classes: terms, listings, projects, roster ----

## ---- studio: hours, stations, containers ----

## ---- safety: topics and sign-offs ----

## ---- plates: prints, plates, procedures ----

## ---- etches: logs ----

## ---- proofs: photos and comments ----

## ---- grades ----

## ---- exports and records ----

## ---- letters ----

## ---- layout, trouble, words used everywhere ----
