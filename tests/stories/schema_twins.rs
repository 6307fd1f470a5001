//! The two databases hold the same schema, read back from their own catalogues; and no program touches a schema that is
//! newer than itself.

use std::collections::BTreeSet;
use std::process::Command;

use diesel::prelude::*;
use diesel::sql_types::Text;
use tympan::store::connections::dial;
use tympan::store::{AnyConnection, migrations, write};

use crate::on_both;
use crate::stories::rows;
use crate::studio::database::fresh;
use crate::studio::{Engine, Studio};

#[derive(QueryableByName)]
struct Line {
    #[diesel(sql_type = Text)]
    line: String,
}

fn lines(db: &mut AnyConnection, sql: &str) -> BTreeSet<String> {
    let rows: Vec<Line> = diesel::sql_query(sql).load(db).unwrap();
    rows.into_iter().map(|row| row.line).collect()
}

const SQLITE: [&str; 3] = [
    // table.column TYPE [NOT NULL]
    "SELECT t.name || '.' || c.name || ' ' || c.type || CASE WHEN c.\"notnull\" THEN ' NOT NULL' ELSE '' END AS line \
     FROM sqlite_schema t, pragma_table_info(t.name) c WHERE t.type = 'table' AND t.name NOT LIKE '\\_\\_%' ESCAPE '\\'",
    // table primary|unique|index NAME (columns)
    "SELECT t.name || CASE i.origin WHEN 'pk' THEN ' primary' WHEN 'u' THEN ' unique' ELSE \
     CASE WHEN i.\"unique\" THEN ' unique' ELSE '' END || ' index ' || i.name END || ' (' || \
     (SELECT group_concat(name, ', ') FROM (SELECT name FROM pragma_index_info(i.name) ORDER BY seqno)) || ')' \
     || CASE WHEN i.partial THEN ' partial' ELSE '' END AS line \
     FROM sqlite_schema t, pragma_index_list(t.name) i WHERE t.type = 'table' AND t.name NOT LIKE '\\_\\_%' ESCAPE '\\'",
    // table.column -> table.column
    "SELECT t.name || '.' || f.\"from\" || ' -> ' || f.\"table\" || '.' || f.\"to\" || ', ' || lower(f.on_delete) \
     AS line FROM sqlite_schema t, pragma_foreign_key_list(t.name) f WHERE t.type = 'table'",
];

const POSTGRES: [&str; 3] = [
    "SELECT table_name || '.' || column_name || ' ' || \
     CASE data_type WHEN 'bytea' THEN 'BLOB' ELSE upper(data_type) END || \
     CASE WHEN is_nullable = 'NO' THEN ' NOT NULL' ELSE '' END AS line FROM information_schema.columns \
     WHERE table_schema = current_schema() AND left(table_name, 2) <> '__'",
    "SELECT t.relname || CASE WHEN i.indisprimary THEN ' primary' WHEN k.oid IS NOT NULL THEN ' unique' ELSE \
     CASE WHEN i.indisunique THEN ' unique' ELSE '' END || ' index ' || x.relname END || ' (' || \
     (SELECT string_agg(a.attname, ', ' ORDER BY n.place) FROM unnest(i.indkey) WITH ORDINALITY AS n(number, place) \
     JOIN pg_attribute a ON a.attrelid = t.oid AND a.attnum = n.number) || ')' \
     || CASE WHEN i.indpred IS NOT NULL THEN ' partial' ELSE '' END AS line \
     FROM pg_index i JOIN pg_class t ON t.oid = i.indrelid JOIN pg_class x ON x.oid = i.indexrelid \
     LEFT JOIN pg_constraint k ON k.conindid = x.oid AND k.contype IN ('p', 'u') \
     WHERE t.relnamespace = current_schema()::regnamespace AND left(t.relname, 2) <> '__'",
    "SELECT t.relname || '.' || a.attname || ' -> ' || o.relname || '.' || b.attname || ', ' || \
     CASE f.confdeltype WHEN 'a' THEN 'no action' ELSE f.confdeltype::text END AS line \
     FROM pg_constraint f JOIN pg_class t ON t.oid = f.conrelid JOIN pg_class o ON o.oid = f.confrelid \
     JOIN pg_attribute a ON a.attrelid = t.oid AND a.attnum = ANY (f.conkey) \
     JOIN pg_attribute b ON b.attrelid = o.oid AND b.attnum = ANY (f.confkey) \
     WHERE f.contype = 'f' AND t.relnamespace = current_schema()::regnamespace",
];

#[test]
fn both_databases_hold_the_same_tables_columns_indexes_and_keys() {
    let (_sqlite, sqlite) = fresh(Engine::Sqlite);
    let (_postgres, postgres) = fresh(Engine::Postgres);
    let (mut sqlite, mut postgres) = (dial(&sqlite, false).unwrap(), dial(&postgres, false).unwrap());
    for ((one, other), at_least) in SQLITE.iter().zip(POSTGRES).zip([350, 90, 80]) {
        let (one, other) = (lines(&mut sqlite, one), lines(&mut postgres, other));
        assert!(one.len() >= at_least, "the catalogue was read: {} lines", one.len());
        let only_sqlite: Vec<_> = one.difference(&other).collect();
        let only_postgres: Vec<_> = other.difference(&one).collect();
        assert!(
            only_sqlite.is_empty() && only_postgres.is_empty(),
            "SQLite alone: {only_sqlite:#?}\nPostgreSQL alone: {only_postgres:#?}"
        );
    }
}

#[test]
fn nothing_is_deleted_along_with_its_parent() {
    let (_held, address) = fresh(Engine::Sqlite);
    let keys = lines(&mut dial(&address, false).unwrap(), SQLITE[2]);
    let astray: Vec<_> = keys.iter().filter(|key| !key.ends_with(", no action")).collect();
    assert!(astray.is_empty(), "{astray:?}");
}

#[test]
fn every_text_of_postgresql_sorts_as_in_sqlite() {
    let (_held, address) = fresh(Engine::Postgres);
    let mut db = dial(&address, false).unwrap();
    let texts = "information_schema.columns WHERE table_schema = current_schema() AND data_type = 'text' \
                 AND left(table_name, 2) <> '__'";
    let all = lines(&mut db, &format!("SELECT table_name || '.' || column_name AS line FROM {texts}"));
    assert!(all.len() > 150, "{} text columns", all.len());
    let other = lines(
        &mut db,
        &format!(
            "SELECT table_name || '.' || column_name AS line FROM {texts} AND collation_name IS DISTINCT FROM 'C'"
        ),
    );
    assert!(other.is_empty(), "COLLATE \"C\" is missing: {other:?}");
}

/// What `tympan serve` says over a database, and how it leaves.
fn serve(studio: &Studio) -> (Option<i32>, String) {
    let settings = &studio.house.settings;
    let key = settings.data.join("own-key");
    std::fs::write(&key, [7; 32]).unwrap();
    let done = Command::new(env!("CARGO_BIN_EXE_tympan"))
        .arg("serve")
        .env("TYMPAN_DATA", &settings.data)
        .env("TYMPAN_DATABASE_URL", &settings.database_url)
        .env("TYMPAN_PUBLIC_URL", &settings.public_url)
        .env("TYMPAN_LISTEN", "127.0.0.1:0")
        .env("TYMPAN_KEY_FILE", &key)
        .output()
        .unwrap();
    (done.status.code(), String::from_utf8_lossy(&done.stderr).into_owned())
}

on_both! {
    fn a_database_newer_than_the_program_is_left_alone(studio) {
        let before = rows(studio, "__diesel_schema_migrations");
        write::execute(
            &mut studio.connection(),
            "INSERT INTO __diesel_schema_migrations (version) VALUES ('20991231000000')",
        ).unwrap();
        let (code, said) = serve(studio);
        assert!(code.is_some_and(|code| code != 0), "it does not serve: {code:?}");
        assert!(
            said.contains("The database holds migration 20991231000000, which this program does not know"),
            "{said}"
        );
        assert!(said.contains("Run the newer program, or restore a backup"), "{said}");
        let refused = migrations::migrate(studio.house.db.address());
        assert!(format!("{refused:?}").contains("run the newer program"), "{refused:?}");
        assert_eq!(rows(studio, "__diesel_schema_migrations"), before + 1, "nothing was run");
    }
}
