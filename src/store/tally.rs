//! What the database is asked: how many statements and commits, always counted, and the statements themselves while
//! somebody listens. Tests hold every page to its number, and look at the plans of what was asked.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex};

use diesel::connection::{Instrumentation, InstrumentationEvent};

/// Counts over all connections of one database. Counting is two atomic additions a statement.
#[derive(Debug, Default)]
pub struct Tally {
    statements: AtomicU64,
    commits: AtomicU64,
    listening: AtomicBool,
    heard: Mutex<Vec<Asked>>,
}

/// A statement as it was asked: SQL with its placeholders, and the values bound to them as diesel prints them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    pub sql: String,
    pub values: String,
}

/// The counts at a moment, or between two.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Count {
    /// Statements, those that begin and end a transaction included; the check of an idle connection left out.
    pub statements: u64,
    /// Transactions kept. A statement outside a transaction commits by itself and is not among them.
    pub commits: u64,
}

impl Tally {
    /// The counts so far.
    #[must_use]
    pub fn count(&self) -> Count {
        Count {
            statements: self.statements.load(Ordering::SeqCst),
            commits: self.commits.load(Ordering::SeqCst),
        }
    }

    /// Keeps every statement from now on.
    pub fn listen(&self) {
        self.listening.store(true, Ordering::SeqCst);
    }

    /// Hands over the statements kept, in order, and stops keeping.
    #[must_use]
    pub fn heard(&self) -> Vec<Asked> {
        self.listening.store(false, Ordering::SeqCst);
        self.heard.lock().map(|mut heard| std::mem::take(&mut *heard)).unwrap_or_default()
    }

    /// Takes the last statement back: asking whether a connection still lives is no question of a page.
    pub(super) fn uncount(&self) {
        self.statements.fetch_sub(1, Ordering::SeqCst);
    }

    fn keep(&self, text: &str) {
        let (sql, values) = text.rsplit_once("-- binds:").unwrap_or((text, "[]"));
        let (sql, values) = (sql.trim().to_owned(), values.trim().to_owned());
        // The check of an idle connection.
        if sql != "SELECT 1"
            && let Ok(mut heard) = self.heard.lock()
        {
            heard.push(Asked { sql, values });
        }
    }
}

impl std::ops::Sub for Count {
    type Output = Self;
    fn sub(self, earlier: Self) -> Self {
        Self {
            statements: self.statements.saturating_sub(earlier.statements),
            commits: self.commits.saturating_sub(earlier.commits),
        }
    }
}

/// What one connection tells the tally.
pub(super) struct Listener(pub Arc<Tally>);

impl Instrumentation for Listener {
    fn on_connection_event(&mut self, event: InstrumentationEvent<'_>) {
        match event {
            InstrumentationEvent::StartQuery { query, .. } => {
                self.0.statements.fetch_add(1, Ordering::Relaxed);
                if self.0.listening.load(Ordering::Relaxed) {
                    self.0.keep(&query.to_string());
                }
            }
            InstrumentationEvent::CommitTransaction { depth, .. } if depth.get() == 1 => {
                self.0.commits.fetch_add(1, Ordering::Relaxed);
            }
            _ => {}
        }
    }
}
