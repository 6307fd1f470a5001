//! A class list of 10,000 rows, read, compared and carried out as the program does it, beside the rows it wrote, taken
//! out and inserted again by themselves: each time one transaction, kept as safely.

use std::fmt::Write as _;
use std::time::Instant;

use chrono::NaiveDate;
use diesel::prelude::*;
use tympan::pages::roster::import::{Orders, carry_out, look};
use tympan::store::connections::dial;
use tympan::store::schema::{enrolment, enrolment_change, journal, journal_detail, person};
use tympan::store::{AnyConnection, Db, Scope, write};

use crate::figure::{Bench, Taken};
use crate::load::median;
use crate::school::{ONE_CLASS, School, scratch};
use crate::world::NOW;

const ROWS: usize = 10_000;

pub fn take(bench: &Bench) -> Result<Taken, String> {
    let list = list();
    let (mut own, mut bare) = (Vec::new(), Vec::new());
    for _ in 0..bench.options.pairs.min(5) {
        let school = scratch(&bench.engine, ONE_CLASS);
        let mut db = dial(&school.address, false).map_err(|error| error.to_string())?;
        let before = Rows::count(&mut db)?;
        own.push(import(&school, list.clone())?);
        let rows = Rows::since(&mut db, &before)?;
        if rows.people.len() != ROWS || rows.seats.len() != ROWS {
            return Err(format!(
                "the import wrote {} people and {} seats",
                rows.people.len(),
                rows.seats.len()
            ));
        }
        // Into the same school, so that what they refer to is there under the same ids.
        rows.take_out(&mut db).map_err(|error| error.to_string())?;
        drop(db);
        bare.push(insert(&school, &rows)?);
    }
    let levels = format!("{:.0} ms; floor {:.0} ms", median(&own), median(&bare));
    let values = own.iter().zip(&bare).map(|(own, bare)| own / bare).collect();
    Ok(Taken { values, levels, notes: vec![format!("{ROWS} rows, {} KiB", list.len() / 1024)] })
}

fn list() -> Vec<u8> {
    let mut list = "Given name,Family name,E-mail,Student number,Listing\n".to_owned();
    for row in 0..ROWS {
        let _always = writeln!(list, "Robin,Birch-{row},new{row}@college.example,B{row:06},LIT 220-01");
    }
    list.into_bytes()
}

/// Milliseconds for reading, comparing and carrying out.
fn import(school: &School, list: Vec<u8>) -> Result<f64, String> {
    let db = Db::open(school.address.clone()).map_err(|trouble| format!("{trouble:?}"))?;
    let class = school.class;
    let orders = Orders {
        withdraw: Vec::new(),
        invite: None,
        today: NOW.local_date(chrono_tz::America::New_York),
        reason: "class list".to_owned(),
        reason_withdrawn: "not in the class list".to_owned(),
    };
    let began = Instant::now();
    actix_web::rt::System::new()
        .block_on(db.write(Scope::Class(class), Some(school.instructor), NOW, move |tx| {
            let looked = look(tx.connection, class, &list)?;
            carry_out(tx, class, &looked, &orders)
        }))
        .map_err(|trouble| format!("{trouble:?}"))?;
    Ok(began.elapsed().as_secs_f64() * 1000.0)
}

#[derive(Queryable, Insertable)]
#[diesel(table_name = person)]
struct PersonRow {
    id: String,
    given_name: String,
    family_name: String,
    email: Option<String>,
    email_key: Option<String>,
    student_number: Option<String>,
    password_hash: Option<String>,
    activated_at: Option<i64>,
    keeper: bool,
    records: bool,
    safety_officer: bool,
    volume_unit: String,
    daily_letter: bool,
    urgent_letter: bool,
    week_letter: bool,
    letter_hour: i32,
    language: Option<String>,
    failed_sign_ins: i32,
    failed_at: Option<i64>,
    created_at: i64,
    version: i64,
    handed_back_letter: bool,
    due_moved_letter: bool,
    mail_refusals: i32,
    mail_rests_since: Option<i64>,
    mail_refused_with: Option<String>,
    second_look_asked_letter: bool,
    second_look_answered_letter: bool,
    grade_submitted_letter: bool,
}

#[derive(Queryable, Insertable)]
#[diesel(table_name = enrolment)]
struct SeatRow {
    id: String,
    class_id: String,
    person_id: String,
    listing_id: Option<String>,
    role: String,
    state: String,
    since: NaiveDate,
    incomplete_until: Option<NaiveDate>,
    lapses_to: Option<String>,
    joined_at: i64,
    version: i64,
}

#[derive(Queryable, Insertable)]
#[diesel(table_name = enrolment_change)]
struct ChangeRow {
    id: String,
    enrolment_id: String,
    listing_id: Option<String>,
    role: String,
    state: String,
    since: NaiveDate,
    reason: String,
    by_id: String,
    at: i64,
}

#[derive(Queryable, Insertable)]
#[diesel(table_name = journal)]
struct JournalRow {
    scope: String,
    seq: i64,
    at: i64,
    person_id: Option<String>,
    act: String,
    subject: String,
    detail_hash: String,
    hash: String,
}

#[derive(Queryable, Insertable)]
#[diesel(table_name = journal_detail)]
struct DetailRow {
    scope: String,
    seq: i64,
    salt: String,
    detail: String,
}

/// Everything an import wrote.
struct Rows {
    people: Vec<PersonRow>,
    seats: Vec<SeatRow>,
    changes: Vec<ChangeRow>,
    journal: Vec<JournalRow>,
    details: Vec<DetailRow>,
}

impl Rows {
    /// Nothing of what stands now: the e-mail addresses of the list tell the new rows apart, so the journal's length is all
    /// that must be known.
    fn count(db: &mut AnyConnection) -> Result<i64, String> {
        journal::table.count().get_result(db).map_err(|error| error.to_string())
    }

    fn since(db: &mut AnyConnection, journalled: &i64) -> Result<Self, String> {
        let new = person::student_number.ge("B000000").and(person::student_number.lt("B999999"));
        let ids = || person::table.filter(new).select(person::id);
        let seats = enrolment::table.filter(enrolment::person_id.eq_any(ids()));
        let rows = (|| {
            Ok::<_, diesel::result::Error>(Self {
                people: person::table.filter(new).load(db)?,
                seats: seats.load(db)?,
                changes: enrolment_change::table
                    .filter(enrolment_change::enrolment_id.eq_any(seats.select(enrolment::id)))
                    .load(db)?,
                journal: journal::table.order(journal::seq).offset(*journalled).limit(i64::MAX).load(db)?,
                details: journal_detail::table
                    .order(journal_detail::seq)
                    .offset(*journalled)
                    .limit(i64::MAX)
                    .load(db)?,
            })
        })();
        rows.map_err(|error| error.to_string())
    }

    /// Takes the rows out again, those first that refer to others.
    fn take_out(&self, db: &mut AnyConnection) -> QueryResult<()> {
        let new = person::student_number.ge("B000000").and(person::student_number.lt("B999999"));
        let people = || person::table.filter(new).select(person::id);
        let seats = || enrolment::table.filter(enrolment::person_id.eq_any(people())).select(enrolment::id);
        diesel::delete(enrolment_change::table.filter(enrolment_change::enrolment_id.eq_any(seats())))
            .execute(db)?;
        diesel::delete(enrolment::table.filter(enrolment::person_id.eq_any(people()))).execute(db)?;
        diesel::delete(person::table.filter(new)).execute(db)?;
        for row in &self.details {
            let one = journal_detail::table
                .filter(journal_detail::scope.eq(&row.scope).and(journal_detail::seq.eq(row.seq)));
            diesel::delete(one).execute(db)?;
        }
        for row in &self.journal {
            let one = journal::table.filter(journal::scope.eq(&row.scope).and(journal::seq.eq(row.seq)));
            diesel::delete(one).execute(db)?;
        }
        Ok(())
    }
}

/// Milliseconds for the same rows by themselves, each by a statement prepared once.
fn insert(school: &School, rows: &Rows) -> Result<f64, String> {
    let mut db = dial(&school.address, false).map_err(|error| error.to_string())?;
    if let tympan::store::connections::Address::Sqlite(path) = &school.address {
        tympan::store::connections::prepare_file(path).map_err(|trouble| format!("{trouble:?}"))?;
    }
    let began = Instant::now();
    write::execute(&mut db, "BEGIN").map_err(|trouble| format!("{trouble:?}"))?;
    insert_all(&mut db, rows).map_err(|error| error.to_string())?;
    write::execute(&mut db, "COMMIT").map_err(|trouble| format!("{trouble:?}"))?;
    Ok(began.elapsed().as_secs_f64() * 1000.0)
}

fn insert_all(db: &mut AnyConnection, rows: &Rows) -> QueryResult<()> {
    for row in &rows.people {
        diesel::insert_into(person::table).values(row).execute(db)?;
    }
    for row in &rows.seats {
        diesel::insert_into(enrolment::table).values(row).execute(db)?;
    }
    for row in &rows.changes {
        diesel::insert_into(enrolment_change::table).values(row).execute(db)?;
    }
    for row in &rows.journal {
        diesel::insert_into(journal::table).values(row).execute(db)?;
    }
    for row in &rows.details {
        diesel::insert_into(journal_detail::table).values(row).execute(db)?;
    }
    Ok(())
}
