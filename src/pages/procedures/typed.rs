//! A step as somebody typed it: from the form's fields to the step, with a complaint at each field that cannot be used.

use crate::pages::forms::{Filled, Sheet};
use crate::spelled;
use crate::trade::procedure::check::{
    LAST_MINUTE, LONGEST_NAME, LONGEST_REST, LONGEST_SENTENCE, LONGEST_SHEET, LONGEST_SPLIT, LONGEST_STEP,
};
use crate::trade::procedure::span::typed_minutes;
use crate::trade::procedure::step::spelled_minutes;
use crate::trade::procedure::writing::word_from;
use crate::trade::procedure::{
    GUMMED, Grade, Hazard, Maximum, Need, Place, Procedure, Recording, Records, Rest, SignOff, Standing, Step,
};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled as _;

/// Most rules one step may declare by the form.
pub const MOST_RULES: usize = 8;
/// Most sentences of one kind a step may have.
const MOST_SENTENCES: usize = 40;

spelled!(
    /// Where a step is done, before the station is named.
    PlaceKind { Anywhere = "anywhere", Station = "station", Instructor = "instructor" }
);

spelled!(
    /// What kind of longest rest there is.
    MaximumKind { Minutes = "minutes", SameDay = "same_day", UnderGum = "under_gum" }
);

spelled!(
    /// What kind of rule a row declares.
    NeedKind { AfterAnyOf = "after_any_of", RequiresSince = "requires_since", Once = "once" }
);

/// A step as it was typed and whether it stands on the way; what cannot be used is complained of in `sheet`.
#[must_use]
pub fn read(
    sheet: &mut Sheet<'_>,
    filled: &Filled,
    procedure: &Procedure,
    stands: &Step,
    topics: &[String],
) -> (Step, bool) {
    let mut step = Step::bare(stands.key.clone(), sheet.text("title", LONGEST_NAME));
    step.pictures.clone_from(&stands.pictures);
    let known = Known { procedure, stands };
    words(sheet, &mut step);
    time_and_place(sheet, filled, &mut step);
    order_and_rest(sheet, filled, &known, &mut step);
    safety(sheet, filled, topics, stands, &mut step);
    step.needs = (0..MOST_RULES).filter_map(|row| rule(sheet, filled, &known, row)).collect();
    what_comes_of_it(sheet, filled, &known, &mut step);
    (step, sheet.tick("on_the_way"))
}

/// A length of time, `45 min` or `1 d 6 h`; may be empty.
pub fn span(sheet: &mut Sheet<'_>, filled: &Filled, field: &str, least: i64, longest: i64) -> Option<i64> {
    let typed = filled.get(field).unwrap_or_default().trim();
    if typed.is_empty() {
        return None;
    }
    let short: String = typed.chars().filter(|letter| !letter.is_control()).take(40).collect();
    let Some(minutes) = typed_minutes(typed) else {
        sheet.complain(field, Remark::new("procedures-no-span").with("value", short));
        return None;
    };
    if (least..=longest).contains(&minutes) {
        return Some(minutes);
    }
    let remark = Remark::new("procedures-span-range").with("value", short);
    let remark = remark.with("least", spelled_minutes(least)).with("most", spelled_minutes(longest));
    sheet.complain(field, remark);
    None
}

/// One sentence a line.
fn sentences(sheet: &mut Sheet<'_>, field: &str) -> Vec<String> {
    let text = sheet.words(field, 30_000).replace('\t', " ");
    let lines: Vec<String> =
        text.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect();
    if let Some(long) = lines.iter().find(|line| line.chars().count() > LONGEST_SENTENCE) {
        let value: String = long.chars().take(40).chain(['…']).collect();
        let remark = Remark::new("procedures-line-long").with("value", value);
        sheet.complain(field, remark.with("most", whole(LONGEST_SENTENCE)));
    } else if lines.len() > MOST_SENTENCES {
        let remark = Remark::new("procedures-many-lines").with("count", whole(lines.len()));
        sheet.complain(field, remark.with("most", whole(MOST_SENTENCES)));
    }
    lines
}

fn whole(number: usize) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}

fn words(sheet: &mut Sheet<'_>, step: &mut Step) {
    step.instructions.before = sentences(sheet, "before");
    step.instructions.during = sentences(sheet, "during");
    step.instructions.after = sentences(sheet, "afterwards");
    step.source = sheet.maybe_text("source", 1000).unwrap_or_default();
    let link = sheet.maybe_text("recording_link", 500);
    let minute = sheet.maybe_whole("recording_minute", 0..=LAST_MINUTE);
    match (link, minute) {
        (Some(link), minute) => {
            let host = link.strip_prefix("https://").or_else(|| link.strip_prefix("http://"));
            let addressed = host.is_some_and(|host| !host.is_empty() && !host.starts_with('/'));
            if !addressed || link.chars().any(char::is_whitespace) {
                sheet.complain("recording_link", Remark::new("procedures-no-link"));
            }
            step.recording = Some(Recording { link, minute: minute.unwrap_or(0) });
        }
        (None, Some(_)) => sheet.complain("recording_link", Remark::new("procedures-minute-without-link")),
        (None, None) => {}
    }
}

fn time_and_place(sheet: &mut Sheet<'_>, filled: &Filled, step: &mut Step) {
    step.may_split = sheet.tick("may_split");
    step.beside_others = sheet.tick("beside_others");
    let longest = if step.may_split { LONGEST_SPLIT } else { LONGEST_STEP };
    if filled.get("minutes").is_none_or(|typed| typed.trim().is_empty()) {
        sheet.complain("minutes", Remark::new("form-empty"));
    }
    step.minutes.fixed = span(sheet, filled, "minutes", 0, longest).unwrap_or(0);
    step.minutes.per_sheet = span(sheet, filled, "per_sheet", 0, LONGEST_SHEET).unwrap_or(0);
    let station = sheet.maybe_text("station", LONGEST_NAME);
    step.place = match sheet.choice("place", PlaceKind::Anywhere) {
        PlaceKind::Anywhere => Place::Anywhere,
        PlaceKind::Instructor => Place::Instructor,
        PlaceKind::Station => {
            if station.is_none() {
                sheet.complain("station", Remark::new("procedures-station-missing"));
            }
            Place::Station(station.unwrap_or_default())
        }
    };
}

/// What a tick may name: what the procedure has, and what the step named already.
struct Known<'a> {
    procedure: &'a Procedure,
    stands: &'a Step,
}

impl Known<'_> {
    fn step(&self, key: &str) -> bool {
        self.procedure.find(key).is_some()
    }

    fn word(&self, word: &str) -> bool {
        word == GUMMED
            || self.step(word)
            || self.procedure.own_words().contains(&word)
            || self.stands.rest.since.iter().any(|own| own == word)
            || self
                .stands
                .needs
                .iter()
                .any(|need| need.of().iter().chain(need.since()).any(|own| own == word))
    }
}

/// The ticked values of a field that are known, those that stood before in their old order; another one spoils it.
fn ticked(
    sheet: &mut Sheet<'_>,
    filled: &Filled,
    field: &str,
    stood: &[String],
    known: impl Fn(&str) -> bool,
) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for value in filled.all(field) {
        if !known(value) {
            let short: String = value.chars().filter(|letter| !letter.is_control()).take(40).collect();
            sheet.complain(field, Remark::new("form-no-choice").with("value", short));
        } else if !found.iter().any(|other| other == value) {
            found.push(value.to_owned());
        }
    }
    found.sort_by_key(|value| stood.iter().position(|old| old == value).unwrap_or(usize::MAX));
    found
}

fn order_and_rest(sheet: &mut Sheet<'_>, filled: &Filled, known: &Known<'_>, step: &mut Step) {
    let own_key = step.key.as_str();
    if filled.all("after").any(|key| key == own_key) {
        sheet.complain("after", Remark::new("procedures-after-itself"));
    }
    let before =
        |key: &str| known.procedure.is_on_the_way(key) || known.stands.after.iter().any(|own| own == key);
    step.after = ticked(sheet, filled, "after", &known.stands.after, before);
    let maximum_time = span(sheet, filled, "maximum_time", 1, LONGEST_REST);
    let maximum = match sheet.maybe_choice::<MaximumKind>("maximum") {
        None => None,
        Some(MaximumKind::Minutes) => {
            if filled.get("maximum_time").is_none_or(|typed| typed.trim().is_empty()) {
                sheet.complain("maximum_time", Remark::new("procedures-maximum-missing"));
            }
            Some(Maximum::Minutes(maximum_time.unwrap_or(1)))
        }
        Some(MaximumKind::SameDay) => {
            Some(Maximum::SameDay { met_by_talc_and_gum: sheet.tick("met_by_talc_and_gum") })
        }
        Some(MaximumKind::UnderGum) => Some(Maximum::UnderGum),
    };
    step.rest = Rest {
        since: ticked(sheet, filled, "rest_since", &known.stands.rest.since, |word| known.word(word)),
        minimum: span(sheet, filled, "rest_minimum", 0, LONGEST_REST).unwrap_or(0),
        advised: span(sheet, filled, "rest_advised", 0, LONGEST_REST).unwrap_or(0),
        maximum,
    };
}

fn safety(sheet: &mut Sheet<'_>, filled: &Filled, topics: &[String], stands: &Step, step: &mut Step) {
    let stood: Vec<String> = stands.hazards.iter().map(|hazard| hazard.word().to_owned()).collect();
    let hazards = ticked(sheet, filled, "hazards", &stood, |word| Hazard::from_word(word).is_some());
    step.hazards = hazards.iter().filter_map(|word| Hazard::from_word(word)).collect();
    for topic in topics {
        if let Some(grade) = sheet.maybe_choice::<Grade>(&format!("grade_{topic}")) {
            step.sign_offs.push(SignOff { topic: topic.clone(), grade });
        }
    }
    let place = |need: &SignOff| stands.sign_offs.iter().position(|old| old.topic == need.topic);
    step.sign_offs.sort_by_key(|need| place(need).unwrap_or(usize::MAX));
}

fn rule(sheet: &mut Sheet<'_>, filled: &Filled, known: &Known<'_>, row: usize) -> Option<Need> {
    let kind = sheet.maybe_choice::<NeedKind>(&format!("need{row}_kind"))?;
    let (of_field, since_field) = (format!("need{row}_of"), format!("need{row}_since"));
    let stood = known.stands.needs.get(row);
    let (of_stood, since_stood) = (stood.map_or(&[][..], Need::of), stood.map_or(&[][..], Need::since));
    let of = ticked(sheet, filled, &of_field, of_stood, |word| known.word(word));
    let since = ticked(sheet, filled, &since_field, since_stood, |word| known.word(word));
    let because = sheet.maybe_text(&format!("need{row}_because"), LONGEST_SENTENCE).unwrap_or_default();
    if kind != NeedKind::Once && of.is_empty() {
        sheet.complain(&of_field, Remark::new("procedures-rule-names-nothing"));
    }
    if kind == NeedKind::RequiresSince && since.is_empty() {
        sheet.complain(&since_field, Remark::new("procedures-rule-names-nothing"));
    }
    Some(match kind {
        NeedKind::AfterAnyOf => Need::AfterAnyOf { of, because },
        NeedKind::RequiresSince => Need::RequiresSince { of, since, because },
        NeedKind::Once => Need::Once { because },
    })
}

fn what_comes_of_it(sheet: &mut Sheet<'_>, filled: &Filled, known: &Known<'_>, step: &mut Step) {
    step.records = sheet.choice("records", Records::Nothing);
    step.leaves = sheet.maybe_choice::<Standing>("leaves");
    let counts_as = sheet.maybe_text("counts_as", 400).unwrap_or_default();
    for typed in counts_as.split(',').map(str::trim).filter(|typed| !typed.is_empty()) {
        let word = word_from(typed);
        if word.is_empty() || word == GUMMED {
            let value: String = typed.chars().take(40).collect();
            sheet.complain("counts_as", Remark::new("procedures-no-word").with("value", value));
        } else if word != step.key && !step.counts_as.contains(&word) {
            step.counts_as.push(word);
        }
    }
    let stood = known.stands.then_only.as_deref().unwrap_or_default();
    let only = ticked(sheet, filled, "then_only", stood, |key| {
        known.step(key) || stood.iter().any(|own| own == key)
    });
    step.then_only = (sheet.tick("closes") || !only.is_empty()).then_some(only);
    step.optional = sheet.tick("optional");
    step.never_waits = sheet.tick("never_waits");
    step.gums = sheet.tick("gums");
    step.takes_gum_off = sheet.tick("takes_gum_off");
    step.shows_etch = sheet.tick("shows_etch");
    step.numbers_edition = sheet.tick("numbers_edition");
}
