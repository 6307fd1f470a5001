//! One step of a procedure, as an instructor writes it down.
//!
//! Every field an instructor may leave out has a default, so a short step is short in the file. Minutes are
//! whole minutes and signed, so that a typed -5 can be named in a complaint instead of failing to parse.

use serde::{Deserialize, Serialize};

use crate::spelled;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;

/// One thing done to a plate in one go (or, when it may be split, over several sittings).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// Lower-case letters, digits and hyphens; unique in the procedure and never changed once a plate has it.
    pub key: String,
    pub title: String,
    #[serde(default, skip_serializing_if = "Instructions::is_empty")]
    pub instructions: Instructions,
    /// What can hurt here; pages show the house's own cautions for each, beside the instructor's words.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub hazards: Vec<Hazard>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pictures: Vec<Picture>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recording: Option<Recording>,
    /// Where figures and words come from.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
    pub minutes: Minutes,
    /// May be spread over several openings and sittings; it stays under way until it is told finished.
    #[serde(default, skip_serializing_if = "is_false")]
    pub may_split: bool,
    /// Does not hold the plate: can be done beside the other steps.
    #[serde(default, skip_serializing_if = "is_false")]
    pub beside_others: bool,
    #[serde(rename = "where")]
    pub place: Place,
    /// Keys of the steps on the way that must be done before.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub after: Vec<String>,
    #[serde(default, skip_serializing_if = "Rest::is_none")]
    pub rest: Rest,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sign_offs: Vec<SignOff>,
    #[serde(default, skip_serializing_if = "Records::is_nothing")]
    pub records: Records,
    /// The standing the plate has when the step is done; none leaves it as it was.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leaves: Option<Standing>,
    /// Other words this step answers to in rules: the key of a step it also fulfils, or a word of the
    /// instructor's own, such as `etch` for every step that etches.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub counts_as: Vec<String>,
    /// Rules of the step beyond its place in the order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub needs: Vec<Need>,
    /// When given: once this step is done, only the steps named here may be started. A cancelled plate gives
    /// cancellation proofs and nothing else.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub then_only: Option<Vec<String>>,
    /// A class may do without it.
    #[serde(default, skip_serializing_if = "is_false")]
    pub optional: bool,
    /// May be started though something about the plate waits to be settled or is under way, because it
    /// protects the plate or ends it (gum again, scrap).
    #[serde(default, skip_serializing_if = "is_false")]
    pub never_waits: bool,
    /// The step ends with fresh gum on the plate, buffed dry: the gum clock starts anew.
    #[serde(default, skip_serializing_if = "is_false")]
    pub gums: bool,
    /// The step begins by taking the gum off: the gum clock stops.
    #[serde(default, skip_serializing_if = "is_false")]
    pub takes_gum_off: bool,
    /// Here it shows how the etches before it came up, so here it is asked.
    #[serde(default, skip_serializing_if = "is_false")]
    pub shows_etch: bool,
    /// In this step the sheets of the edition get their numbers.
    #[serde(default, skip_serializing_if = "is_false")]
    pub numbers_edition: bool,
}

/// Sentences to read before, during and after, each list in order.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Instructions {
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub before: Vec<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub during: Vec<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub after: Vec<String>,
}

/// A picture of how it should look, or of how wrong looks.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Picture {
    /// File name of the picture in the class's store.
    pub name: String,
    pub shows: Shows,
    pub caption: String,
}

/// A place in a recording of the demonstration.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Recording {
    /// An http or https address.
    pub link: String,
    /// The minute to start at.
    pub minute: i64,
}

/// Hands-on time in minutes.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Minutes {
    pub fixed: i64,
    #[serde(default, skip_serializing_if = "is_zero")]
    pub per_sheet: i64,
}

/// Where a step is done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Place {
    Anywhere,
    /// Waits for the instructor.
    Instructor,
    /// A station of the studio by its word.
    Station(String),
}

/// The rest before a step, in minutes of the clock (never of open hours).
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rest {
    /// Steps (or words) whose latest end the rest runs from; empty means the steps in `after`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub since: Vec<String>,
    /// Shorter breaks a rule.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub minimum: i64,
    /// Counted in plans; shorter breaks nothing.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub advised: i64,
    /// Longer is warned of, and later named as outside the limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub maximum: Option<Maximum>,
}

/// The longest rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Maximum {
    /// That many minutes since the rest began.
    Minutes(i64),
    /// The local day on which the rest began.
    SameDay {
        /// A plate put down talced and under gum on that day has met it.
        met_by_talc_and_gum: bool,
    },
    /// The class's own limit under dry gum, counted from the last gumming.
    UnderGum,
}

/// A topic a person must be signed off on, and how far.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SignOff {
    pub topic: String,
    pub grade: Grade,
}

/// A rule a step declares about itself. Words in `of` and `since` are step keys, words steps count as, or
/// [`GUMMED`](super::GUMMED).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "rule", rename_all = "snake_case", deny_unknown_fields)]
pub enum Need {
    /// One of these must have been done at some time before.
    AfterAnyOf {
        of: Vec<String>,
        /// Why, in the instructor's words; shown under the rule's own sentence.
        #[serde(default, skip_serializing_if = "String::is_empty")]
        because: String,
    },
    /// If any of `since` has been done, one of `of` must have been done after the latest of them.
    RequiresSince {
        of: Vec<String>,
        since: Vec<String>,
        #[serde(default, skip_serializing_if = "String::is_empty")]
        because: String,
    },
    /// At most once on a plate.
    Once {
        #[serde(default, skip_serializing_if = "String::is_empty")]
        because: String,
    },
}

impl Need {
    /// Why, in the instructor's words; may be empty.
    #[must_use]
    pub fn because(&self) -> &str {
        match self {
            Self::AfterAnyOf { because, .. }
            | Self::RequiresSince { because, .. }
            | Self::Once { because } => because,
        }
    }

    /// The words any one of which satisfies the rule.
    #[must_use]
    pub fn of(&self) -> &[String] {
        match self {
            Self::AfterAnyOf { of, .. } | Self::RequiresSince { of, .. } => of,
            Self::Once { .. } => &[],
        }
    }

    /// The words that call for the rule; empty when it always holds.
    #[must_use]
    pub fn since(&self) -> &[String] {
        match self {
            Self::RequiresSince { since, .. } => since,
            Self::AfterAnyOf { .. } | Self::Once { .. } => &[],
        }
    }
}

spelled!(
    /// What the drawing is on.
    Surface {
        Plate = "plate",
        Stone = "stone",
    }
);

spelled!(
    /// What a picture shows.
    Shows {
        Right = "right",
        Wrong = "wrong",
    }
);

spelled!(
    /// How far a sign-off goes; each grade covers the ones before it.
    Grade {
        /// Saw a demonstration, in the room or recorded, and acknowledged it.
        Shown = "shown",
        /// Did it before someone who may witness.
        Watched = "watched",
        /// May work in open hours.
        Alone = "alone",
    }
);

spelled!(
    /// What a step leaves in the record besides having been done.
    #[derive(Default)]
    Records {
        #[default]
        Nothing = "nothing",
        Etch = "etch",
        Proof = "proof",
        GoAhead = "go_ahead",
        Sheets = "sheets",
    }
);

spelled!(
    /// How a plate stands. (A state is of the image, not of the plate.)
    Standing {
        /// Nothing drawn on it yet.
        Bare = "bare",
        Drawn = "drawn",
        Etched = "etched",
        UnderGum = "under_gum",
        RolledUp = "rolled_up",
        Pulled = "pulled",
        PutAway = "put_away",
        /// The image is gone: a plate thrown out, a stone re-grained.
        Scrapped = "scrapped",
    }
);

spelled!(
    /// What can hurt in a step. The safety data sheet, local codes and the school's safety office come before
    /// anything a procedure says.
    Hazard {
        Acid = "acid",
        /// Nitric acid: corrosive, oxidising, its fumes toxic.
        Nitric = "nitric",
        Solvent = "solvent",
        Press = "press",
        /// Talc, rosin, grit and stone dust.
        Dust = "dust",
        /// A stone.
        Lifting = "lifting",
    }
);

impl Hazard {
    /// The house's own caution, always ending with what comes before it.
    #[must_use]
    pub fn caution(self) -> Remark {
        Remark::new(match self {
            Self::Acid => "procedure-caution-acid",
            Self::Nitric => "procedure-caution-nitric",
            Self::Solvent => "procedure-caution-solvent",
            Self::Press => "procedure-caution-press",
            Self::Dust => "procedure-caution-dust",
            Self::Lifting => "procedure-caution-lifting",
        })
    }
}

impl Step {
    /// Whether a word in a rule means this step.
    #[must_use]
    pub fn answers_to(&self, word: &str) -> bool {
        self.key == word
            || self.counts_as.iter().any(|other| other == word)
            || (word == super::GUMMED && self.gums)
    }

    /// The words the rest before this step runs from.
    #[must_use]
    pub fn rest_since(&self) -> &[String] {
        if self.rest.since.is_empty() { &self.after } else { &self.rest.since }
    }

    /// Hands-on minutes for that many sheets.
    #[must_use]
    pub fn hands_on(&self, sheets: u32) -> i64 {
        self.minutes.fixed.saturating_add(self.minutes.per_sheet.saturating_mul(i64::from(sheets)))
    }
}

impl Instructions {
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.before.is_empty() && self.during.is_empty() && self.after.is_empty()
    }
}

impl Rest {
    /// Whether no rest is asked at all.
    #[must_use]
    pub fn is_none(&self) -> bool {
        *self == Self::default()
    }
}

impl Records {
    fn is_nothing(&self) -> bool {
        *self == Self::Nothing
    }
}

impl Standing {
    /// Whether the plate has left the work: put away or scrapped.
    #[must_use]
    pub fn is_over(self) -> bool {
        matches!(self, Self::PutAway | Self::Scrapped)
    }
}

fn is_false(flag: &bool) -> bool {
    !*flag
}

fn is_zero(number: &i64) -> bool {
    *number == 0
}

/// Minutes as people write a length of time, in the unit symbols of the SI and its accepted units: `1 d 6 h`.
#[must_use]
pub fn spelled_minutes(minutes: i64) -> String {
    let (sign, minutes) = if minutes < 0 { ("-", minutes.saturating_neg()) } else { ("", minutes) };
    let parts = [(minutes / 1440, "d"), (minutes / 60 % 24, "h"), (minutes % 60, "min")];
    let said: Vec<String> = parts
        .iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, unit)| format!("{count}\u{a0}{unit}"))
        .collect();
    if said.is_empty() { "0\u{a0}min".to_owned() } else { format!("{sign}{}", said.join(" ")) }
}

/// The word of a member, for a remark's parameter.
pub(in crate::trade::procedure) fn word<T: Spelled>(member: T) -> String {
    member.word().to_owned()
}
