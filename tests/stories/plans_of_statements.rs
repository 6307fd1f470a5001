//! How the databases go about the questions of the daily pages: through an index wherever a table grows with the school.

use std::collections::BTreeSet;

use diesel::prelude::*;
use diesel::sql_types::Text;
use tympan::store::{AnyConnection, write};

use crate::on_both;
use crate::studio::Studio;
use crate::studio::crowd::Crowd;
use crate::studio::world::*;

/// Tables that grow with the years, not with one class.
const GROWING: [&str; 19] = [
    "allowance",
    "asking",
    "class",
    "comment",
    "enrolment",
    "etch",
    "letter",
    "own_due",
    "person",
    "photo",
    "plate",
    "print",
    "project",
    "proof",
    "put_down",
    "refusal",
    "session",
    "sign_off",
    "step_run",
];

#[derive(QueryableByName)]
struct Line {
    #[diesel(sql_type = Text)]
    detail: String,
}

/// The statements of the pages people look at most.
fn asked(studio: &Studio) -> BTreeSet<String> {
    let (student, instructor) = (studio.signed_in(&Crowd::email(0)), studio.signed_in(INSTRUCTOR));
    let plate = format!("{}/plates/{}", studio.class_path(), Crowd::plate(0));
    let class = format!("{}/all", studio.class_path());
    studio.house.db.tally().listen();
    for (visitor, path) in
        [(&student, &studio.class_path()), (&student, &plate), (&instructor, &class), (&instructor, &plate)]
    {
        assert_eq!(visitor.get(path).status, 200, "{path}");
    }
    studio.house.db.tally().heard().into_iter().map(|asked| asked.sql).collect()
}

/// Steps of a plan that go through a whole growing table.
fn whole_table_steps(db: &mut AnyConnection, sql: &str) -> Vec<String> {
    match db {
        AnyConnection::Sqlite(_) => {
            let lines: Vec<Line> = diesel::sql_query(format!("EXPLAIN QUERY PLAN {sql}")).load(db).unwrap();
            lines.into_iter().map(|line| line.detail).filter(|step| scans(step)).collect()
        }
        AnyConnection::Postgres(_) => postgres_steps(db, sql),
    }
}

/// A connection that reads a whole table only where no index serves, on PostgreSQL by its settings.
fn by_index_if_there_is_one(studio: &Studio) -> AnyConnection {
    let mut db = studio.connection();
    if let AnyConnection::Postgres(_) = db {
        for way in ["seqscan", "hashjoin", "mergejoin", "material", "memoize"] {
            write::execute(&mut db, &format!("SET enable_{way} = off")).unwrap();
        }
        write::execute(&mut db, "SET plan_cache_mode = force_generic_plan").unwrap();
    }
    db
}

/// `SCAN plate` or `SCAN plate USING INDEX …`: every row is visited; `SEARCH` goes to the rows it wants.
fn scans(step: &str) -> bool {
    step.strip_prefix("SCAN ")
        .and_then(|rest| rest.split_whitespace().next())
        .is_some_and(|table| GROWING.contains(&table))
}

/// Plans are asked for whatever values there will be.
fn postgres_steps(db: &mut AnyConnection, sql: &str) -> Vec<String> {
    let values = (1..100).take_while(|n| sql.contains(&format!("${n}"))).map(|_| "NULL");
    let values: Vec<&str> = values.collect();
    let call = if values.is_empty() { String::new() } else { format!("({})", values.join(", ")) };
    write::execute(db, &format!("PREPARE asked AS {sql}")).unwrap();
    let rows: Vec<Line> =
        diesel::sql_query(format!("EXPLAIN (FORMAT TEXT) EXECUTE asked{call}")).load_lines(db);
    write::execute(db, "DEALLOCATE asked").unwrap();
    let mut found = Vec::new();
    for (place, row) in rows.iter().enumerate() {
        let step = row.detail.trim().trim_start_matches("-> ").trim();
        let table =
            step.split(" on ").nth(1).and_then(|rest| rest.split_whitespace().next()).unwrap_or_default();
        if !GROWING.contains(&table) {
            continue;
        }
        let conditioned = rows.get(place + 1).is_some_and(|next| next.detail.contains("Index Cond:"));
        let whole = step.starts_with("Seq Scan")
            || ((step.starts_with("Index Scan") || step.starts_with("Index Only Scan")) && !conditioned);
        if whole {
            found.push(step.to_owned());
        }
    }
    found
}

/// PostgreSQL names the one column of a plan `QUERY PLAN`.
trait LoadLines {
    fn load_lines(self, db: &mut AnyConnection) -> Vec<Line>;
}

impl LoadLines for diesel::query_builder::SqlQuery {
    fn load_lines(self, db: &mut AnyConnection) -> Vec<Line> {
        #[derive(QueryableByName)]
        struct Plan {
            #[diesel(sql_type = Text, column_name = "QUERY PLAN")]
            line: String,
        }
        let rows: Vec<Plan> = self.load(db).unwrap();
        rows.into_iter().map(|row| Line { detail: row.line }).collect()
    }
}

on_both! {
    fn no_page_reads_a_whole_table_that_grows(studio) {
        // Thirty classes, so that one class is a small part of every table.
        Crowd { classes: 30, students: 24, plates: 3 }.fill(&mut studio.connection(), &studio.world);
        let asked = asked(studio);
        assert!(asked.len() >= 8, "{asked:#?}");
        let db = &mut by_index_if_there_is_one(studio);
        for sql in &asked {
            let whole = whole_table_steps(db, sql);
            assert!(whole.is_empty(), "{whole:?} of\n{sql}");
        }
    }

    fn a_question_without_an_index_is_found(studio) {
        Crowd { classes: 3, students: 4, plates: 2 }.fill(&mut studio.connection(), &studio.world);
        let db = &mut by_index_if_there_is_one(studio);
        let bad = "SELECT id FROM plate WHERE materials = 'crayon'";
        assert_eq!(whole_table_steps(db, bad).len(), 1);
        assert_eq!(whole_table_steps(db, "SELECT id FROM plate WHERE print_id = 'x'"), [""; 0]);
    }
}
