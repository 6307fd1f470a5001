//! A fresh database per test: SQLite by copying a file migrated once, PostgreSQL by a schema of its own.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicU32, Ordering};

use tympan::store::connections::{Address, dial};
use tympan::store::{migrations, write};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Engine {
    Sqlite,
    Postgres,
}

/// Keeps a database as long as its test runs.
pub struct Held {
    folder: tempfile::TempDir,
    schema: Option<(String, String)>,
}

impl Held {
    pub fn folder(&self) -> &Path {
        self.folder.path()
    }
}

impl Drop for Held {
    fn drop(&mut self) {
        if let Some((url, schema)) = &self.schema
            && let Ok(mut connection) = dial(&Address::Postgres(url.clone()), false)
        {
            let _ = write::execute(&mut connection, &format!("DROP SCHEMA IF EXISTS {schema} CASCADE"));
        }
    }
}

/// The migrated SQLite file all others are copied from.
fn template() -> &'static PathBuf {
    static TEMPLATE: OnceLock<(tempfile::TempDir, PathBuf)> = OnceLock::new();
    &TEMPLATE
        .get_or_init(|| {
            let folder = tempfile::tempdir().unwrap();
            let path = folder.path().join("template.db");
            migrations::migrate(&Address::Sqlite(path.clone())).unwrap();
            (folder, path)
        })
        .1
}

/// A database with the schema and nothing else.
pub fn fresh(engine: Engine) -> (Held, Address) {
    let folder = tempfile::tempdir().unwrap();
    match engine {
        Engine::Sqlite => {
            let path = folder.path().join("tympan.db");
            std::fs::copy(template(), &path).unwrap();
            (Held { folder, schema: None }, Address::Sqlite(path))
        }
        Engine::Postgres => {
            static NEXT: AtomicU32 = AtomicU32::new(0);
            let url = std::env::var("TYMPAN_TEST_POSTGRES_URL").expect(
                "set TYMPAN_TEST_POSTGRES_URL to a throw-away PostgreSQL 15, as tests/run does, e.g. \
                 postgres://postgres@127.0.0.1:5433/postgres",
            );
            let schema = format!("test_{}_{}", std::process::id(), NEXT.fetch_add(1, Ordering::SeqCst));
            let mut connection = dial(&Address::Postgres(url.clone()), false).unwrap();
            write::execute(&mut connection, &format!("CREATE SCHEMA {schema}")).unwrap();
            let joint = if url.contains('?') { '&' } else { '?' };
            let own = format!("{url}{joint}options=-csearch_path%3D{schema}");
            let address = Address::Postgres(own);
            migrations::migrate(&address).unwrap();
            (Held { folder, schema: Some((url, schema)) }, address)
        }
    }
}
