## Every word of the program in English. One section per subject; keys start with the subject's name.

## ---- reckon: one clear sentence for bad input ----
reckon-unknown = There is no reckoning called “{ $name }”. Known: { $known }.
reckon-not-json = The input is not the JSON that “{ $name }” reads: { $problem }.

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
