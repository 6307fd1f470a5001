//! Bringing a database to this program's schema, and refusing one that is newer than the program.

use diesel::prelude::*;
use diesel::sql_types::Text;
use diesel_migrations::{EmbeddedMigrations, MigrationHarness, embed_migrations};

use crate::store::connections::{Address, AnyConnection, dial};
use crate::store::write::execute;
use crate::trouble::Trouble;

const SQLITE: EmbeddedMigrations = embed_migrations!("migrations/sqlite");
const POSTGRES: EmbeddedMigrations = embed_migrations!("migrations/postgres");

/// How a database stands to the program.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Schema {
    /// All of the program's migrations and no other.
    Current,
    /// So many migrations are still to be run.
    Older(usize),
    /// It holds a migration this program does not know.
    Newer(String),
}

/// Compares the migrations run with those the program knows.
///
/// # Errors
/// The database cannot be read.
pub fn schema_of(connection: &mut AnyConnection) -> Result<Schema, Trouble> {
    let known = known(connection)?;
    let run = versions(connection)?;
    if let Some(strange) = run.iter().find(|version| !known.contains(version)) {
        return Ok(Schema::Newer(strange.clone()));
    }
    Ok(match known.len() - run.len() {
        0 => Schema::Current,
        missing => Schema::Older(missing),
    })
}

fn known(connection: &AnyConnection) -> Result<Vec<String>, Trouble> {
    use diesel::migration::MigrationSource;
    fn names<DB: diesel::backend::Backend>(source: &EmbeddedMigrations) -> Result<Vec<String>, Trouble> {
        MigrationSource::<DB>::migrations(source)
            .map(|all| all.iter().map(|one| one.name().version().to_string()).collect())
            .map_err(|error| Trouble::broken("reading the program's migrations", error))
    }
    match connection {
        AnyConnection::Sqlite(_) => names::<diesel::sqlite::Sqlite>(&SQLITE),
        AnyConnection::Postgres(_) => names::<diesel::pg::Pg>(&POSTGRES),
    }
}

/// The last step of the schema that was run.
///
/// # Errors
/// The database cannot be read.
pub fn last_step(connection: &mut AnyConnection) -> Result<String, Trouble> {
    let rows: Vec<Version> =
        diesel::sql_query("SELECT version FROM __diesel_schema_migrations ORDER BY version DESC LIMIT 1")
            .load(connection)?;
    Ok(rows.into_iter().next().map(|row| row.version).unwrap_or_default())
}

#[derive(QueryableByName)]
struct Version {
    #[diesel(sql_type = Text)]
    version: String,
}

fn versions(connection: &mut AnyConnection) -> Result<Vec<String>, Trouble> {
    execute(
        connection,
        "CREATE TABLE IF NOT EXISTS __diesel_schema_migrations (version VARCHAR(50) PRIMARY KEY NOT NULL, \
         run_on TIMESTAMP NOT NULL DEFAULT CURRENT_TIMESTAMP)",
    )?;
    let rows: Vec<Version> =
        diesel::sql_query("SELECT version FROM __diesel_schema_migrations").load(connection)?;
    Ok(rows.into_iter().map(|row| row.version).collect())
}

/// Runs what is missing, on a connection of its own. On SQLite foreign keys are off while tables are rebuilt and are
/// checked before it ends; on PostgreSQL an advisory lock keeps two servers from doing it at once.
///
/// # Errors
/// The database is newer than the program, or a migration fails.
pub fn migrate(address: &Address) -> Result<usize, Trouble> {
    let mut connection =
        dial(address, false).map_err(|error| Trouble::broken("opening the database", error))?;
    if let AnyConnection::Postgres(_) = connection {
        execute(&mut connection, "SELECT pg_advisory_lock(7096732)")?;
    }
    if let Schema::Newer(version) = schema_of(&mut connection)? {
        return Err(Trouble::broken(
            "migrating",
            format!(
                "the database holds migration {version}, which this program does not know: run the newer program"
            ),
        ));
    }
    run(&mut connection)
}

fn run(connection: &mut AnyConnection) -> Result<usize, Trouble> {
    let failed = |error| Trouble::broken("migrating", error);
    match connection {
        AnyConnection::Sqlite(sqlite) => {
            use diesel::connection::SimpleConnection;
            sqlite.batch_execute("PRAGMA foreign_keys = OFF")?;
            let run = sqlite.run_pending_migrations(SQLITE).map_err(failed)?.len();
            let broken: Vec<Broken> = diesel::sql_query("PRAGMA foreign_key_check").load(sqlite)?;
            if let Some(broken) = broken.first() {
                return Err(Trouble::broken(
                    "migrating",
                    format!("a row of {} points nowhere", broken.table),
                ));
            }
            Ok(run)
        }
        AnyConnection::Postgres(postgres) => {
            Ok(postgres.run_pending_migrations(POSTGRES).map_err(failed)?.len())
        }
    }
}

#[derive(QueryableByName)]
struct Broken {
    #[diesel(sql_type = Text)]
    table: String,
}
