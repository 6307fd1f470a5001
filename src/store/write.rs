//! Write transactions. Each locks the journal head of its scope first; on PostgreSQL that lock orders all acts of a
//! class, on SQLite BEGIN IMMEDIATE does. Measured: lock first under READ COMMITTED beats SERIALIZABLE with retries.

use diesel::connection::{AnsiTransactionManager, SimpleConnection, TransactionManager};
use diesel::prelude::*;
use diesel::result::{DatabaseErrorKind, Error};
use diesel::sql_types::{BigInt, Text};

use crate::chance::Chance;
use crate::clock::Instant;
use crate::ids::{ClassId, Id, PersonId};
use crate::store::connections::AnyConnection;
use crate::store::journal;
use crate::store::once::{self, OnceKey};
use crate::store::schema::journal_head;
use crate::store::standing::Standing;
use crate::trouble::Trouble;

/// Whose journal an act belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scope {
    School,
    Class(ClassId),
}

impl Scope {
    /// How the scope is written in the journal.
    #[must_use]
    pub fn word(&self) -> String {
        match self {
            Self::School => "school".to_owned(),
            Self::Class(id) => id.to_string(),
        }
    }
}

/// An open write transaction: the connection, who acts, when, and the journal's head.
pub struct Tx<'c> {
    pub connection: &'c mut AnyConnection,
    /// The moment of the act: one for the whole transaction.
    pub now: Instant,
    /// Who acts; nobody for the program itself.
    pub by: Option<PersonId>,
    pub(crate) chance: Chance,
    pub(crate) scope: String,
    pub(crate) seq: i64,
    pub(crate) hash: String,
    pub(crate) pending: journal::Pending,
    /// The key this act was sent with.
    pub(crate) once_key: Option<OnceKey>,
    /// The key was kept before: the act is looked for, not done again.
    pub(crate) sent_again: bool,
}

impl std::fmt::Debug for Tx<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Tx").field("scope", &self.scope).field("seq", &self.seq).finish_non_exhaustive()
    }
}

impl Tx<'_> {
    /// A new id stamped with the act's moment.
    #[must_use]
    pub fn id<K>(&self) -> Id<K> {
        self.chance.part().map_or_else(|_| Id::new(self.now), |part| Id::stamped(self.now, part))
    }

    /// Who acts; an act that only a person can do asks for it here.
    ///
    /// # Errors
    /// The program itself acts.
    pub fn person(&self) -> Result<PersonId, Trouble> {
        self.by.ok_or(Trouble::SignInFirst)
    }

    /// Tries something that may hit a UNIQUE rule, inside a savepoint, so the transaction lives on.
    ///
    /// # Errors
    /// `Trouble::Taken` when the rule was hit.
    pub fn attempt<T>(
        &mut self,
        step: impl FnOnce(&mut AnyConnection) -> Result<T, Trouble>,
    ) -> Result<T, Trouble> {
        self.connection.transaction::<T, Trouble, _>(step)
    }

    /// Starts the journal of a new class.
    ///
    /// # Errors
    /// The database refuses.
    pub fn open_journal(&mut self, class: ClassId) -> Result<(), Trouble> {
        diesel::insert_into(journal_head::table)
            .values((
                journal_head::scope.eq(class.to_string()),
                journal_head::seq.eq(0),
                journal_head::hash.eq(""),
            ))
            .execute(self.connection)?;
        Ok(())
    }

    /// Appends one row to the journal of this act's scope: what was done (`noun.verb`), to what, and the details. It is
    /// written with the others of the act when that ends; a question asked before does not see it.
    ///
    /// # Errors
    /// The database refuses.
    pub fn journal(
        &mut self,
        act: &str,
        subject: impl std::fmt::Display,
        detail: &serde_json::Value,
    ) -> Result<(), Trouble> {
        journal::append(self, act, &subject.to_string(), detail)
    }
}

#[derive(QueryableByName)]
struct Head {
    #[diesel(sql_type = BigInt)]
    seq: i64,
    #[diesel(sql_type = Text)]
    hash: String,
}

/// Who acts, when, and in whose journal.
type Actor = (Scope, Option<PersonId>, Instant);

/// Runs `act` in a transaction, again at most three times where PostgreSQL found a deadlock or a conflict. Answers with
/// where the journal stands after it.
///
/// An act that fails may have failed because it was sent before, if only on the key, which is kept last. Then nothing of it
/// stands, and it runs once more to find the earlier sending.
pub(crate) fn act<T>(
    connection: &mut AnyConnection,
    chance: &Chance,
    actor: Actor,
    act: &dyn Fn(&mut Tx<'_>) -> Result<T, Trouble>,
) -> Result<(T, i64), Trouble> {
    let (mut tries, mut sent_again) = (0, false);
    loop {
        tries += 1;
        let (trouble, once_key) = match attempt(connection, chance, actor, sent_again, act) {
            Ok(done) => return Ok(done),
            Err(failed) => failed,
        };
        let kept = |key: OnceKey| !matches!(once::sent(connection, actor.1, &key), Ok(None));
        if !sent_again && once_key.is_some_and(kept) {
            sent_again = true;
        } else if !(tries < 3 && worth_another_try(&trouble)) {
            return Err(trouble);
        }
    }
}

fn worth_another_try(trouble: &Trouble) -> bool {
    let Trouble::Broken { cause, .. } = trouble else { return false };
    cause.contains("could not serialize access") || cause.contains("deadlock detected")
}

fn attempt<T>(
    connection: &mut AnyConnection,
    chance: &Chance,
    (scope, by, now): Actor,
    sent_again: bool,
    act: &dyn Fn(&mut Tx<'_>) -> Result<T, Trouble>,
) -> Result<(T, i64), (Trouble, Option<OnceKey>)> {
    begin(connection).map_err(|trouble| (trouble, None))?;
    let mut once_key = None;
    let outcome = head(connection, scope).and_then(|head| {
        let (chance, scope) = (chance.clone(), scope.word());
        let (seq, hash, pending) = (head.seq, head.hash, journal::Pending::default());
        let mut tx =
            Tx { connection, now, by, chance, scope, seq, hash, pending, once_key: None, sent_again };
        let done = act(&mut tx).and_then(|value| journal::keep(&mut tx).map(|()| (value, tx.seq)));
        once_key = tx.once_key.take();
        done
    });
    match outcome {
        Ok(done) => commit(connection).map(|()| done).map_err(|trouble| (trouble, once_key)),
        Err(trouble) => {
            roll_back(connection);
            Err((trouble, once_key))
        }
    }
}

fn begin(connection: &mut AnyConnection) -> Result<(), Trouble> {
    match connection {
        AnyConnection::Sqlite(sqlite) => {
            AnsiTransactionManager::begin_transaction_sql(sqlite, "BEGIN IMMEDIATE")
        }
        AnyConnection::Postgres(postgres) => AnsiTransactionManager::begin_transaction_sql(postgres, "BEGIN"),
    }
    .map_err(Trouble::from)
}

fn commit(connection: &mut AnyConnection) -> Result<(), Trouble> {
    match connection {
        AnyConnection::Sqlite(sqlite) => AnsiTransactionManager::commit_transaction(sqlite),
        AnyConnection::Postgres(postgres) => AnsiTransactionManager::commit_transaction(postgres),
    }
    .map_err(Trouble::from)
}

fn roll_back(connection: &mut AnyConnection) {
    let outcome = match connection {
        AnyConnection::Sqlite(sqlite) => AnsiTransactionManager::rollback_transaction(sqlite),
        AnyConnection::Postgres(postgres) => AnsiTransactionManager::rollback_transaction(postgres),
    };
    if let Err(error) = outcome {
        // The pool closes a connection whose transaction is broken; the act is undone either way.
        tracing::error!(%error, "rolling back");
    }
}

const HEAD: &str = "SELECT seq, hash FROM journal_head WHERE scope = ";

fn head(connection: &mut AnyConnection, scope: Scope) -> Result<Head, Trouble> {
    let scope = scope.word();
    let found = match connection {
        AnyConnection::Sqlite(sqlite) => Standing::asking(|| &[HEAD, ""], &[&scope]).get_result(sqlite),
        AnyConnection::Postgres(postgres) => {
            Standing::asking(|| &[HEAD, " FOR UPDATE"], &[&scope]).get_result(postgres)
        }
    };
    match found {
        Ok(head) => Ok(head),
        Err(Error::NotFound) => Err(Trouble::NotFound),
        Err(Error::DatabaseError(DatabaseErrorKind::SerializationFailure, about)) => Err(Trouble::broken(
            "locking the journal",
            format!("could not serialize access: {}", about.message()),
        )),
        Err(error) => Err(error.into()),
    }
}

/// Runs plain statements, for migrations and tests.
///
/// # Errors
/// The database refuses.
pub fn execute(connection: &mut AnyConnection, sql: &str) -> Result<(), Trouble> {
    connection.batch_execute(sql).map_err(Trouble::from)
}
