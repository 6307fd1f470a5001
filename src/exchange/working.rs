//! The working of one student's grade as plain text: what was submitted with its reckoning of that day, and every mark as
//! it stands, so that whoever reads it needs no program.

use chrono_tz::Tz;

use crate::clock::Instant;
use crate::ids::PersonId;
use crate::speech::{Speech, dates};
use crate::store::grades::book::Book;
use crate::store::grades::submitted::Submitted;
use crate::store::people::members::Member;
use crate::trade::exact::Exact;
use crate::trade::grading::Status;
use crate::trade::remark::Remark;

/// What a working is written from.
pub struct Of<'a> {
    pub speech: &'a Speech,
    pub zone: Tz,
    /// Code and title of the class and the name of its term.
    pub class: &'a str,
    pub as_of: Instant,
    pub book: &'a Book,
    pub submitted: &'a [Submitted],
}

/// The text.
#[must_use]
pub fn text(of: &Of<'_>, member: &Member) -> String {
    let mut lines = vec![
        format!("{} {}", member.given_name, member.family_name).trim().to_owned(),
        [member.student_number.as_deref(), member.listing.as_deref()]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>()
            .join(", "),
        of.class.to_owned(),
        of.say("working-as-of", "at", of.as_of.rfc3339()),
        String::new(),
        of.speech.plain("submitted-kept"),
    ];
    let kept: Vec<&Submitted> = of.submitted.iter().filter(|one| one.person == member.person).collect();
    if kept.is_empty() {
        lines.push(format!("  {}", of.speech.plain("submitted-none")));
    }
    for one in kept {
        of.put_submitted(one, &mut lines);
    }
    lines.push(String::new());
    lines.push(of.speech.plain("working-marks"));
    of.put_marks(member.person, &mut lines);
    lines.push(String::new());
    lines.push(of.speech.plain("working-in-hand"));
    match of.book.grade(member.person) {
        Ok(grade) => lines.extend(grade.working.iter().map(|line| format!("  {}", of.speech.remark(line)))),
        Err(why) => lines.push(format!("  {}", of.speech.remark(&why))),
    }
    lines.push(String::new());
    lines.join("\n")
}

impl Of<'_> {
    fn say(&self, key: &'static str, name: &'static str, value: impl Into<String>) -> String {
        self.speech.remark(&Remark::new(key).with(name, value.into()))
    }

    fn put_submitted(&self, one: &Submitted, lines: &mut Vec<String>) {
        let at = dates::moment(one.at, self.zone);
        let how = self.speech.plain(one.how.0.key());
        let who = match &one.by_name {
            Some((given, family)) => {
                let by = format!("{given} {family}");
                self.speech.remark(&Remark::new("submitted-by").with("at", at).with("by", by.trim()))
            }
            None => self.say("submitted-by-itself", "at", at),
        };
        lines.push(format!("  {}: {how}. {who}. ({})", one.letter, one.at.rfc3339()));
        if !one.stands() {
            lines.push(format!("    {}", self.speech.plain("submitted-superseded")));
        }
        if !one.reason.is_empty() {
            lines.push(format!("    {}", self.say("submitted-reason", "reason", &*one.reason)));
        }
        if !one.remains.is_empty() {
            lines.push(format!("    {}", self.say("submitted-remains", "remains", &*one.remains)));
        }
        if let Some((until, letter)) = one.open_until.zip(one.lapses_to.as_deref()) {
            let until = dates::day_with_year(until);
            let line = Remark::new("submitted-until").with("until", until).with("letter", letter);
            lines.push(format!("    {}", self.speech.remark(&line)));
        }
        lines.extend(one.working.lines().map(|line| format!("    {line}")));
    }

    fn put_marks(&self, person: PersonId, lines: &mut Vec<String>) {
        for category in &self.book.categories {
            let head = Remark::new("grades-weight-of")
                .with("title", category.title.as_str())
                .with("weight", Exact::hundredths(category.weight_bp.into()).to_string());
            lines.push(format!("  {}", self.speech.remark(&head)));
            for assessment in self.book.of_category(category) {
                let score = self.book.score(assessment.id, person);
                let points = Exact::hundredths(assessment.points_hundredths).to_string();
                let mark = match score.and_then(|score| score.points_hundredths) {
                    Some(given) => self.speech.remark(
                        &Remark::new("grades-of")
                            .with("score", Exact::hundredths(given).to_string())
                            .with("points", points),
                    ),
                    None => {
                        self.speech.plain(status_key(score.map_or(Status::Pending, |score| score.status.0)))
                    }
                };
                let late = i64::from(self.book.days_late(assessment, person));
                let late = match late {
                    0 => String::new(),
                    days => {
                        format!(
                            ", {}",
                            self.speech.remark(&Remark::new("grades-days-late").with("days", days))
                        )
                    }
                };
                lines.push(format!("    {}: {mark}{late}", assessment.title));
                let words = score.map(|score| score.words.as_str()).unwrap_or_default();
                lines.extend(words.lines().map(|line| format!("      {line}")));
            }
        }
    }
}

/// The word people read for where a piece of work stands.
#[must_use]
pub const fn status_key(status: Status) -> &'static str {
    match status {
        Status::Graded => "grades-status-graded",
        Status::Excused => "grades-status-excused",
        Status::Missing => "grades-status-missing",
        Status::Pending => "grades-status-pending",
    }
}
