//! A procedure in words: what a step waits for, where it is done, its rest, its rules and its cautions.

use serde::Serialize;

use crate::speech::Speech;
use crate::trade::procedure::step::spelled_minutes;
use crate::trade::procedure::{GUMMED, Maximum, Need, Place, Procedure, Records, Rest, Shows, Step};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled as _;

/// A rule as a sentence, and why.
#[derive(Debug, Serialize)]
pub struct Rule {
    pub sentence: String,
    pub because: String,
}

#[derive(Debug, Serialize)]
pub struct LookedAt {
    pub wrong: bool,
    pub caption: String,
    pub small: String,
    pub large: String,
    /// Where it is taken out, for those who write.
    pub remove: Option<String>,
}

/// A step as it is read.
#[derive(Debug, Serialize)]
pub struct StepSaid {
    pub key: String,
    pub title: String,
    pub minutes: String,
    pub place: String,
    pub waits_for: String,
    pub rest: Vec<String>,
    pub sign_offs: Vec<String>,
    pub marks: Vec<String>,
    pub before: Vec<String>,
    pub during: Vec<String>,
    pub afterwards: Vec<String>,
    pub rules: Vec<Rule>,
    pub cautions: Vec<String>,
    pub recording: Option<String>,
    pub recording_minute: i64,
    pub source: String,
    pub pictures: Vec<LookedAt>,
}

/// What the words of a page are made with: the procedure, the topics' titles, and where its pictures are.
pub struct Voice<'a> {
    pub speech: &'a Speech,
    pub procedure: &'a Procedure,
    /// Key and title of the school's topics.
    pub topics: &'a [(String, String)],
    /// The address of the procedure's pictures.
    pub pictures: &'a str,
    /// The address of the step that is being written, if one is.
    pub writing: Option<&'a str>,
}

impl Voice<'_> {
    /// A word of rules as people call it: the step's title, or the titles of what answers to it.
    #[must_use]
    pub fn word(&self, word: &str) -> String {
        if word == GUMMED {
            return self.speech.plain("procedures-any-gumming");
        }
        match self.procedure.titles_of(word).as_slice() {
            [] => word.to_owned(),
            [one] => (*one).to_owned(),
            several if self.procedure.find(word).is_none() => format!("{word} ({})", several.join(", ")),
            several => several.join(", "),
        }
    }

    fn words(&self, words: &[String]) -> String {
        words.iter().map(|word| self.word(word)).collect::<Vec<_>>().join(", ")
    }

    fn say(&self, key: &'static str, of: &[(&'static str, String)]) -> String {
        let remark =
            of.iter().fold(Remark::new(key), |remark, (name, value)| remark.with(name, value.clone()));
        self.speech.remark(&remark)
    }

    /// A rule as a sentence.
    #[must_use]
    pub fn rule(&self, need: &Need) -> Rule {
        let sentence = match need {
            Need::AfterAnyOf { of, .. } => {
                self.say("procedures-said-after-any-of", &[("of", self.words(of))])
            }
            Need::RequiresSince { of, since, .. } => self.say(
                "procedures-said-requires-since",
                &[("of", self.words(of)), ("since", self.words(since))],
            ),
            Need::Once { .. } => self.speech.plain("procedures-said-once"),
        };
        Rule { sentence, because: need.because().to_owned() }
    }

    /// Hands-on time: `45 min`, with so much for each sheet.
    #[must_use]
    pub fn minutes(&self, step: &Step) -> String {
        let fixed = spelled_minutes(step.minutes.fixed);
        match step.minutes.per_sheet {
            0 => fixed,
            per_sheet => {
                let sheet = spelled_minutes(per_sheet);
                self.say("procedures-said-per-sheet", &[("fixed", fixed), ("sheet", sheet)])
            }
        }
    }

    /// Where a step is done.
    #[must_use]
    pub fn place(&self, place: &Place) -> String {
        match place {
            Place::Anywhere => self.speech.plain("procedures-place-anywhere"),
            Place::Instructor => self.speech.plain("procedures-place-instructor"),
            Place::Station(kind) => kind.clone(),
        }
    }

    /// The titles of the steps a step comes after.
    #[must_use]
    pub fn waits_for(&self, step: &Step) -> String {
        self.words(&step.after)
    }

    fn rest(&self, step: &Step) -> Vec<String> {
        let Rest { minimum, advised, maximum, .. } = &step.rest;
        let mut said = Vec::new();
        if *minimum > 0 {
            said.push(self.say("procedures-said-rest-minimum", &[("rest", spelled_minutes(*minimum))]));
        }
        if *advised > *minimum {
            said.push(self.say("procedures-said-rest-advised", &[("rest", spelled_minutes(*advised))]));
        }
        match maximum {
            None => {}
            Some(Maximum::Minutes(minutes)) => {
                said.push(self.say("procedures-said-rest-maximum", &[("rest", spelled_minutes(*minutes))]));
            }
            Some(Maximum::SameDay { met_by_talc_and_gum }) => {
                let key = if *met_by_talc_and_gum {
                    "procedures-said-same-day-gum"
                } else {
                    "procedures-said-same-day"
                };
                said.push(self.speech.plain(key));
            }
            Some(Maximum::UnderGum) => said.push(self.speech.plain("procedures-said-under-gum")),
        }
        if !said.is_empty() && !step.rest.since.is_empty() {
            said.push(self.say("procedures-said-rest-since", &[("since", self.words(&step.rest.since))]));
        }
        said
    }

    fn sign_offs(&self, step: &Step) -> Vec<String> {
        let each = step.sign_offs.iter();
        each.map(|need| {
            let known = self.topics.iter().find(|(key, _)| *key == need.topic);
            let title = known.map_or(need.topic.as_str(), |(_, title)| title.as_str());
            format!("{title}: {}", self.speech.plain(&format!("safety-grade-{}", need.grade.word())))
        })
        .collect()
    }

    /// What else is to be known of a step, each a short phrase.
    fn marks(&self, step: &Step) -> Vec<String> {
        let mut said = Vec::new();
        if step.records != Records::Nothing {
            said.push(self.speech.plain(&format!("procedures-records-{}", step.records.word())));
        }
        if let Some(standing) = step.leaves {
            let standing = self.speech.plain(&format!("plates-standing-{}", standing.word()));
            said.push(self.say("procedures-said-leaves", &[("standing", standing)]));
        }
        for (is, key) in [
            (step.may_split, "procedures-said-may-split"),
            (step.beside_others, "procedures-said-beside"),
            (step.optional, "procedures-said-optional"),
            (step.gums, "procedures-said-gums"),
            (step.takes_gum_off, "procedures-said-takes-gum-off"),
            (step.shows_etch, "procedures-said-shows-etch"),
            (step.numbers_edition, "procedures-said-numbers"),
        ] {
            if is {
                said.push(self.speech.plain(key));
            }
        }
        if let Some(only) = &step.then_only {
            said.push(match only.is_empty() {
                true => self.speech.plain("procedures-said-then-nothing"),
                false => self.say("procedures-said-then-only", &[("only", self.words(only))]),
            });
        }
        said
    }

    /// A whole step.
    #[must_use]
    pub fn step(&self, step: &Step) -> StepSaid {
        // Only what was kept is shown to a class, and that was checked; a draft may hold anything.
        let link = step.recording.as_ref().map(|recording| recording.link.as_str());
        let link = link.filter(|link| link.starts_with("https://") || link.starts_with("http://"));
        StepSaid {
            key: step.key.clone(),
            title: step.title.clone(),
            minutes: self.minutes(step),
            place: self.place(&step.place),
            waits_for: self.waits_for(step),
            rest: self.rest(step),
            sign_offs: self.sign_offs(step),
            marks: self.marks(step),
            before: step.instructions.before.clone(),
            during: step.instructions.during.clone(),
            afterwards: step.instructions.after.clone(),
            rules: step.needs.iter().map(|need| self.rule(need)).collect(),
            cautions: step.hazards.iter().map(|hazard| self.speech.remark(&hazard.caution())).collect(),
            recording: link.map(str::to_owned),
            recording_minute: step.recording.as_ref().map_or(0, |recording| recording.minute),
            source: step.source.clone(),
            pictures: self.pictures(step),
        }
    }

    /// The pictures of a step.
    #[must_use]
    pub fn pictures(&self, step: &Step) -> Vec<LookedAt> {
        let each = step.pictures.iter();
        each.map(|picture| LookedAt {
            wrong: picture.shows == Shows::Wrong,
            caption: picture.caption.clone(),
            small: format!("{}/{}/320", self.pictures, picture.name),
            large: format!("{}/{}/1600", self.pictures, picture.name),
            remove: self.writing.map(|step| format!("{step}/pictures/{}/remove", picture.name)),
        })
        .collect()
    }
}
