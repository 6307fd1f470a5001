//! Connections to SQLite or PostgreSQL behind one type, chosen by the URL's scheme, with fair permits before the
//! threads that block. SQLite: one writer, four readers. PostgreSQL: eight.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use diesel::connection::SimpleConnection;
use diesel::r2d2::{self, CustomizeConnection, ManageConnection, Pool, R2D2Connection};
use diesel::{Connection as _, PgConnection, SqliteConnection};
use tokio::sync::Semaphore;

use crate::chance::Chance;
use crate::clock::Instant;
use crate::ids::PersonId;
use crate::store::news::News;
use crate::store::tally::{Listener, Tally};
use crate::store::write::{self, Scope, Tx};
use crate::trouble::Trouble;

/// One connection to either database.
#[derive(diesel::MultiConnection)]
pub enum AnyConnection {
    Sqlite(SqliteConnection),
    Postgres(PgConnection),
}

/// Which database a URL names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Address {
    Sqlite(PathBuf),
    Postgres(String),
}

impl Address {
    /// Reads `sqlite:PATH` or `postgres://…`.
    ///
    /// # Errors
    /// Another scheme: the text says which are known.
    pub fn parse(url: &str) -> Result<Self, String> {
        if let Some(path) = url.strip_prefix("sqlite:") {
            let path = path.strip_prefix("//").unwrap_or(path);
            if path.is_empty() {
                return Err("“sqlite:” needs a file, for example sqlite:/var/lib/tympan/tympan.db".into());
            }
            return Ok(Self::Sqlite(PathBuf::from(path)));
        }
        if url.starts_with("postgres:") || url.starts_with("postgresql:") {
            return Ok(Self::Postgres(url.to_owned()));
        }
        Err("a database URL begins with sqlite: or postgres:, for example sqlite:/var/lib/tympan/tympan.db"
            .into())
    }
}

/// What a connection of a pool is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Duty {
    Read,
    Write,
}

#[derive(Debug)]
struct Dialler {
    address: Address,
    duty: Duty,
    tally: Arc<Tally>,
}

impl ManageConnection for Dialler {
    type Connection = AnyConnection;
    type Error = r2d2::Error;

    fn connect(&self) -> Result<AnyConnection, r2d2::Error> {
        let mut connection =
            dial(&self.address, self.duty == Duty::Read).map_err(r2d2::Error::ConnectionError)?;
        connection.set_instrumentation(Listener(self.tally.clone()));
        Ok(connection)
    }

    fn is_valid(&self, connection: &mut AnyConnection) -> Result<(), r2d2::Error> {
        let outcome = connection.ping().map_err(r2d2::Error::QueryError);
        self.tally.uncount();
        outcome
    }

    fn has_broken(&self, connection: &mut AnyConnection) -> bool {
        connection.is_broken()
    }
}

#[derive(Debug)]
struct NoCustom;
impl CustomizeConnection<AnyConnection, r2d2::Error> for NoCustom {}

/// Opens one connection outside the pools: migrations, backups, tests.
///
/// # Errors
/// The database cannot be reached.
pub fn dial(address: &Address, read_only: bool) -> diesel::ConnectionResult<AnyConnection> {
    let refused = |error: diesel::result::Error| {
        diesel::ConnectionError::BadConnection(format!("setting up the connection: {error}"))
    };
    match address {
        Address::Sqlite(path) => {
            let mut connection = SqliteConnection::establish(&path.to_string_lossy())?;
            connection
                .batch_execute(
                    "PRAGMA busy_timeout = 10000; PRAGMA foreign_keys = ON; PRAGMA trusted_schema = OFF; \
                     PRAGMA temp_store = FILE; PRAGMA cell_size_check = ON; PRAGMA synchronous = FULL; \
                     PRAGMA wal_autocheckpoint = 1000; PRAGMA journal_size_limit = 67108864; \
                     PRAGMA secure_delete = ON;",
                )
                .map_err(refused)?;
            if read_only {
                connection.batch_execute("PRAGMA query_only = ON").map_err(refused)?;
            }
            Ok(AnyConnection::Sqlite(connection))
        }
        Address::Postgres(url) => {
            let mut connection = PgConnection::establish(url)?;
            // Questions name ids: whichever they are, the plan is the same, and making it anew each time costs more than
            // most answers.
            connection.batch_execute("SET plan_cache_mode = force_generic_plan").map_err(refused)?;
            Ok(AnyConnection::Postgres(connection))
        }
    }
}

/// Turns a SQLite file to write-ahead logging, once, before any pool opens it. Samples that an `ANALYZE` has left go: with
/// them every prepared statement is planned anew whenever a value is bound to it, which takes longer than most answers.
///
/// # Errors
/// The file cannot be made or turned.
pub fn prepare_file(path: &Path) -> Result<(), Trouble> {
    let mut connection = SqliteConnection::establish(&path.to_string_lossy())
        .map_err(|error| Trouble::broken("opening the SQLite file", error))?;
    connection
        .batch_execute(
            "PRAGMA busy_timeout = 10000; PRAGMA journal_mode = WAL; DROP TABLE IF EXISTS sqlite_stat4;",
        )
        .map_err(|error| Trouble::broken("turning the SQLite file to write-ahead logging", error))
}

struct Line {
    pool: Pool<Dialler>,
    permits: Arc<Semaphore>,
}

impl Line {
    fn open(address: &Address, duty: Duty, size: u32, tally: &Arc<Tally>) -> Result<Self, Trouble> {
        let pool = Pool::builder()
            .max_size(size)
            .min_idle(Some(1))
            .test_on_check_out(matches!(address, Address::Postgres(_)))
            .connection_timeout(Duration::from_secs(5))
            .connection_customizer(Box::new(NoCustom))
            .build(Dialler { address: address.clone(), duty, tally: tally.clone() })
            .map_err(|error| Trouble::broken("opening the database", error))?;
        Ok(Self { pool, permits: Arc::new(Semaphore::new(usize::try_from(size).unwrap_or(1))) })
    }

    /// Waits fairly for a place, at most five seconds, then runs `work` on a thread that may block.
    async fn run<T, F>(&self, work: F) -> Result<T, Trouble>
    where
        T: Send + 'static,
        F: FnOnce(&mut AnyConnection) -> Result<T, Trouble> + Send + 'static,
    {
        let permit = tokio::time::timeout(Duration::from_secs(5), self.permits.clone().acquire_owned())
            .await
            .map_err(|_elapsed| Trouble::Busy)?
            .map_err(|error| Trouble::broken("waiting for the database", error))?;
        let pool = self.pool.clone();
        tokio::task::spawn_blocking(move || {
            let _held = permit;
            let mut connection =
                pool.get().map_err(|error| Trouble::broken("reaching the database", error))?;
            work(&mut connection)
        })
        .await
        .map_err(|error| Trouble::broken("working in the database", error))?
    }

    /// Runs `work` here and now, if a place and a connection are free; else gives it back.
    fn here<T, F>(&self, work: F) -> Result<Result<T, Trouble>, F>
    where
        F: FnOnce(&mut AnyConnection) -> Result<T, Trouble>,
    {
        let Ok(_place) = self.permits.try_acquire() else { return Err(work) };
        match self.pool.try_get() {
            Some(mut connection) => Ok(work(&mut connection)),
            None => Err(work),
        }
    }
}

/// The database of one school.
#[derive(Clone)]
pub struct Db {
    address: Address,
    readers: Arc<Line>,
    writer: Arc<Line>,
    chance: Chance,
    tally: Arc<Tally>,
    news: Arc<News>,
}

impl std::fmt::Debug for Db {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self.address {
            Address::Sqlite(_) => "Db(sqlite)",
            Address::Postgres(_) => "Db(postgres)",
        })
    }
}

impl Db {
    /// Opens the pools. The schema must be there already.
    ///
    /// # Errors
    /// The database cannot be reached.
    pub fn open(address: Address) -> Result<Self, Trouble> {
        let tally = Arc::default();
        let (readers, writer) = match &address {
            Address::Sqlite(path) => {
                prepare_file(path)?;
                let writer = Arc::new(Line::open(&address, Duty::Write, 1, &tally)?);
                (Arc::new(Line::open(&address, Duty::Read, 4, &tally)?), writer)
            }
            Address::Postgres(_) => {
                let both = Arc::new(Line::open(&address, Duty::Write, 8, &tally)?);
                (both.clone(), both)
            }
        };
        Ok(Self { address, readers, writer, chance: Chance::default(), tally, news: Arc::default() })
    }

    /// Where the ids and salts of acts come from.
    #[must_use]
    pub fn chance(&self) -> &Chance {
        &self.chance
    }

    #[must_use]
    pub fn address(&self) -> &Address {
        &self.address
    }

    /// How much the database was asked so far.
    #[must_use]
    pub fn tally(&self) -> &Tally {
        &self.tally
    }

    /// What pages that refresh by themselves listen to.
    #[must_use]
    pub fn news(&self) -> &News {
        &self.news
    }

    /// Asks questions; nothing may be changed.
    ///
    /// # Errors
    /// What the question says, or no place within five seconds.
    pub async fn read<T, F>(&self, question: F) -> Result<T, Trouble>
    where
        T: Send + 'static,
        F: FnOnce(&mut AnyConnection) -> Result<T, Trouble> + Send + 'static,
    {
        self.readers.run(question).await
    }

    /// Asks for one row that an index leads to, as every request does for its session. A file on this machine answers
    /// sooner than another thread wakes, and no writer holds a reader up (write-ahead log): so it is asked where the
    /// request is, while a connection is free; only somebody who locks the whole file could hold it up, and then every
    /// page waits. A server elsewhere is asked as always.
    ///
    /// # Errors
    /// As `read`.
    pub async fn glance<T, F>(&self, question: F) -> Result<T, Trouble>
    where
        T: Send + 'static,
        F: FnOnce(&mut AnyConnection) -> Result<T, Trouble> + Send + 'static,
    {
        let question = match self.address {
            Address::Sqlite(_) => match self.readers.here(question) {
                Ok(answer) => return answer,
                Err(question) => question,
            },
            Address::Postgres(_) => question,
        };
        self.read(question).await
    }

    /// One act: a write transaction that holds the journal head of `scope` from its first statement, so acts of a
    /// class are in line. The closure may run again after a serialisation failure: it has no effect but SQL.
    ///
    /// # Errors
    /// What the act says; then nothing is kept.
    pub async fn write<T, F>(
        &self,
        scope: Scope,
        by: Option<PersonId>,
        now: Instant,
        act: F,
    ) -> Result<T, Trouble>
    where
        T: Send + 'static,
        F: Fn(&mut Tx<'_>) -> Result<T, Trouble> + Send + 'static,
    {
        let (chance, news) = (self.chance.clone(), self.news.clone());
        self.writer
            .run(move |connection| {
                let (value, stands) = write::act(connection, &chance, (scope, by, now), &act)?;
                if let Scope::Class(class) = scope {
                    news.tell(class, stands);
                }
                Ok(value)
            })
            .await
    }

    /// A write that is no act: when a session was last seen, a letter's lease. No journal, no scope.
    ///
    /// # Errors
    /// What the work says.
    pub async fn note<T, F>(&self, work: F) -> Result<T, Trouble>
    where
        T: Send + 'static,
        F: FnOnce(&mut AnyConnection) -> Result<T, Trouble> + Send + 'static,
    {
        self.writer.run(work).await
    }
}

impl From<diesel::result::Error> for Trouble {
    fn from(error: diesel::result::Error) -> Self {
        use diesel::result::{DatabaseErrorKind, Error};
        match error {
            Error::NotFound => Self::NotFound,
            Error::DatabaseError(DatabaseErrorKind::UniqueViolation, _) => Self::Taken,
            Error::DatabaseError(DatabaseErrorKind::ForeignKeyViolation, _) => Self::Missing,
            other => Self::broken("working in the database", other),
        }
    }
}
