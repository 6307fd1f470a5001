//! What people of the demo school set up at their desks: the class's own rules, a data sheet on file, a calendar in a
//! student's telephone; and the letters of the last days, written and sent when they were due.

use chrono::NaiveDate;

use super::calendar::Calendar;
use super::deeds::Diary;
use super::school::{Founded, found};
use crate::clock::Instant;
use crate::pages::House;
use crate::post::letters::{self, Briefed};
use crate::post::reminders;
use crate::store::classes::facts::{Rules, class};
use crate::store::letters::outbox::{self, Outcome};
use crate::store::studio::papers::Papers;
use crate::store::studio::sheets::{File, Pictogram, SheetDraft, Signal};
use crate::store::{Db, Scope};
use crate::trouble::Trouble;

/// Letters of so many days before today are written and sent.
const DAYS: i64 = 8;
/// In the morning, and once more for what cannot wait until the next.
const ROUNDS: [&str; 2] = ["07:05", "14:45"];

/// How long a plate stays under dry gum in the class, and between which pH its etches are expected.
const GUM_LIMIT_DAYS: i32 = 30;
const PH_HUNDREDTHS: (i32, i32) = (180, 300);

/// Sets all of it up, in the first week.
pub(super) async fn set_up(house: &House, school: &Founded, student: &str) -> Result<(), Trouble> {
    rules(&house.db, school).await?;
    data_sheet(house, school).await?;
    let (key, person) = (house.key.clone(), school.student(student)?);
    let at = school.calendar.at(44, "19:10")?;
    house.db.write(Scope::School, Some(person), at, move |tx| tx.make_feed(&key, person).map(drop)).await
}

async fn rules(db: &Db, school: &Founded) -> Result<(), Trouble> {
    let (id, by) = (school.class, school.person("instructor")?);
    let at = school.calendar.at(48, "18:40")?;
    db.write(Scope::Class(id), Some(by), at, move |tx| {
        let now = class(tx.connection, id)?;
        let rules = Rules {
            gum_limit_days: Some(GUM_LIMIT_DAYS),
            ph_low_hundredths: Some(PH_HUNDREDTHS.0),
            ph_high_hundredths: Some(PH_HUNDREDTHS.1),
            ..now.rules
        };
        tx.set_rules(id, now.version, &rules)
    })
    .await
}

async fn data_sheet(house: &House, school: &Founded) -> Result<(), Trouble> {
    let bytes = page();
    let length = i64::try_from(bytes.len()).unwrap_or(i64::MAX);
    let sha256 = Papers::in_folder(house.settings.data.join("papers")).keep(&bytes)?;
    let draft = SheetDraft {
        product: "Phosphoric acid 85 %".to_owned(),
        supplier: "Saltmarsh Art Chemicals (invented)".to_owned(),
        revised: NaiveDate::from_ymd_opt(2025, 3, 3).unwrap_or_default(),
        signal: Signal::Danger,
        hazards: "May be corrosive to metals\nCauses severe skin burns and eye damage".to_owned(),
        pictograms: vec![Pictogram::Corrosion],
        file: Some(File { name: "invented-data-sheet.pdf".to_owned(), sha256, bytes: length }),
    };
    let (studio, acid) = (school.studio, found(&school.containers, "A1")?);
    let (at, by) = (school.calendar.at(47, "10:30")?, school.person("assistant")?);
    house.db.write(Scope::School, Some(by), at, move |tx| tx.file_sheet(studio, acid, None, &draft)).await
}

/// One page as a PDF (ISO 32000-1) that says what it is.
fn page() -> Vec<u8> {
    let words = "BT /F 14 Tf 60 760 Td 20 TL (An invented data sheet of the demo school.) Tj T* \
                 (It stands where a supplier's sheet would stand, and says nothing about any product.) Tj ET";
    let stream = format!("<</Length {}>>stream\n{words}\nendstream", words.len());
    let objects = [
        "<</Type/Catalog/Pages 2 0 R>>",
        "<</Type/Pages/Kids[3 0 R]/Count 1>>",
        "<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]/Contents 4 0 R/Resources<</Font<</F 5 0 R>>>>>>",
        &stream,
        "<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>",
    ];
    let mut text = "%PDF-1.4\n".to_owned();
    let mut table = "0000000000 65535 f \n".to_owned();
    for (number, object) in (1..).zip(objects) {
        table.push_str(&format!("{:010} 00000 n \n", text.len()));
        text.push_str(&format!("{number} 0 obj{object}endobj\n"));
    }
    let (count, begins) = (objects.len() + 1, text.len());
    text.push_str(&format!(
        "xref\n0 {count}\n{table}trailer<</Size {count}/Root 1 0 R>>\nstartxref\n{begins}\n%%EOF\n"
    ));
    text.into_bytes()
}

/// The moments at which the school's letters of the last days were written.
pub(super) fn rounds(calendar: &Calendar) -> Result<Vec<Instant>, Trouble> {
    let days = (1..=DAYS).rev();
    let moments = days.flat_map(|ago| ROUNDS.iter().map(move |time| calendar.at(ago, time)));
    let mut moments = moments.collect::<Result<Vec<_>, _>>()?;
    moments.sort_unstable();
    moments.dedup();
    Ok(moments)
}

/// Writes the letters that are due at a moment, and has every letter that waits leave or stay as the post would.
pub(super) async fn round(house: &House, diary: &Diary, at: Instant) -> Result<(), Trouble> {
    reminders::write_letters(&house.db, &diary.procedures, at).await?;
    house
        .db
        .note(move |db| {
            while let Some(claim) = outbox::claim(db, "demo", at)? {
                let outcome = match letters::brief(db, &claim, at)? {
                    Briefed::Ready(_) => Outcome::Sent,
                    Briefed::Wait(not_before) => Outcome::Later { not_before, why: outbox::QUIET.to_owned() },
                    Briefed::Drop(drop) => Outcome::Dropped { why: drop.word() },
                };
                outbox::finish(db, &claim, at, &outcome)?;
            }
            Ok(())
        })
        .await
}
