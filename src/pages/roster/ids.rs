//! What is said of the ids by which another system knows a class.

use crate::exchange::oneroster::{Given, Keep};
use crate::speech::Speech;
use crate::store::people::theirs::Kind;
use crate::trade::remark::Remark;

/// One sentence about what is kept, where anything is.
pub(super) fn kept(given: &Given, speech: &Speech) -> Option<String> {
    let count = |kind: Kind| given.keeps.iter().filter(|one| one.kind == kind).count();
    let mut parts: Vec<String> = (given.keeps.iter())
        .filter(|one| !matches!(one.kind, Kind::Category | Kind::Assessment))
        .map(|one| speech.plain(name(one.kind)))
        .collect();
    for (kind, key) in
        [(Kind::Category, "roster-ids-categories"), (Kind::Assessment, "roster-ids-assessments")]
    {
        let count = i64::try_from(count(kind)).unwrap_or(i64::MAX);
        parts.extend((count > 0).then(|| speech.remark(&Remark::new(key).with("count", count))));
    }
    let what = parts.join(", ");
    (!what.is_empty()).then(|| speech.remark(&Remark::new("roster-ids-kept").with("what", what)))
}

/// Which ids take the place of others, and which are not kept and why.
pub(super) fn notes(given: &Given, speech: &Speech) -> Vec<String> {
    let told =
        |kind: Kind, remark: &Remark| speech.remark(&remark.clone().with("what", speech.plain(name(kind))));
    let replaced = |one: &Keep| {
        let before = one.before.as_deref()?;
        let remark =
            Remark::new("roster-ids-replaced").with("before", before).with("id", one.theirs.as_str());
        Some(told(one.kind, &remark))
    };
    let left = given.notes.iter().map(|(kind, remark)| told(*kind, remark));
    given.keeps.iter().filter_map(replaced).chain(left).collect()
}

/// What a kind of thing is called.
pub fn name(kind: Kind) -> &'static str {
    match kind {
        Kind::Person => "roster-ids-person",
        Kind::Class => "roster-ids-class",
        Kind::Term => "roster-ids-term",
        Kind::Year => "roster-ids-year",
        Kind::Course => "roster-ids-course",
        Kind::School => "roster-ids-school",
        Kind::Department => "roster-ids-department",
        Kind::Category => "roster-ids-category",
        Kind::Assessment => "roster-ids-assessment",
    }
}
