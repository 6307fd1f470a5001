//! A fresh database per test: SQLite by copying a file migrated once, PostgreSQL by a database copied on the server.

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
    /// The server's own database, and the one to drop there.
    database: Option<(String, String)>,
}

impl Held {
    pub fn folder(&self) -> &Path {
        self.folder.path()
    }
}

impl Drop for Held {
    fn drop(&mut self) {
        if let Some((url, name)) = &self.database {
            drop_database(url, name);
        }
    }
}

fn drop_database(url: &str, name: &str) {
    if let Ok(mut connection) = dial(&Address::Postgres(url.to_owned()), false) {
        let _ = write::execute(&mut connection, &format!("DROP DATABASE IF EXISTS {name} WITH (FORCE)"));
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

/// The migrated PostgreSQL database all others are copied from, by its name. The server is a throw-away one, so it stays.
fn postgres_template(url: &str) -> &'static str {
    static TEMPLATE: OnceLock<String> = OnceLock::new();
    TEMPLATE.get_or_init(|| {
        let name = format!("template_{}", std::process::id());
        drop_database(url, &name);
        let mut connection = dial(&Address::Postgres(url.to_owned()), false).unwrap();
        write::execute(&mut connection, &format!("CREATE DATABASE {name}")).unwrap();
        migrations::migrate(&Address::Postgres(beside(url, &name))).unwrap();
        name
    })
}

/// The address of another database of the same server.
fn beside(url: &str, name: &str) -> String {
    let (address, options) = url.split_once('?').map_or((url, None), |(address, rest)| (address, Some(rest)));
    let server = address.rsplit_once('/').map_or(address, |(server, _)| server);
    options.map_or_else(|| format!("{server}/{name}"), |options| format!("{server}/{name}?{options}"))
}

/// A database with the schema and nothing else.
pub fn fresh(engine: Engine) -> (Held, Address) {
    let folder = tempfile::tempdir().unwrap();
    match engine {
        Engine::Sqlite => {
            let path = folder.path().join("tympan.db");
            std::fs::copy(template(), &path).unwrap();
            (Held { folder, database: None }, Address::Sqlite(path))
        }
        Engine::Postgres => {
            static NEXT: AtomicU32 = AtomicU32::new(0);
            let url = std::env::var("TYMPAN_TEST_POSTGRES_URL").expect(
                "set TYMPAN_TEST_POSTGRES_URL to a throw-away PostgreSQL 15, as tests/run does, e.g. \
                 postgres://postgres@127.0.0.1:5433/postgres",
            );
            let name = format!("test_{}_{}", std::process::id(), NEXT.fetch_add(1, Ordering::SeqCst));
            let template = postgres_template(&url);
            let mut connection = dial(&Address::Postgres(url.clone()), false).unwrap();
            // Copied file by file: by way of the server's log it takes ten times as long.
            let copy = format!("CREATE DATABASE {name} TEMPLATE {template} STRATEGY FILE_COPY");
            write::execute(&mut connection, &copy).unwrap();
            let address = Address::Postgres(beside(&url, &name));
            (Held { folder, database: Some((url, name)) }, address)
        }
    }
}
