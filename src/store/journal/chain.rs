//! One chain, row after row, wherever its rows are read from: the database, or the lines of an archive.

use sha2::{Digest, Sha256};

use super::{Finding, PURGED};
use crate::secrets::{self, hex};

/// A row of the journal without its detail.
#[derive(Debug, Clone, Copy)]
pub struct Link<'a> {
    pub scope: &'a str,
    pub seq: i64,
    /// Milliseconds.
    pub at: i64,
    /// Empty where nobody did it.
    pub person: &'a str,
    pub act: &'a str,
    pub subject: &'a str,
}

impl Link<'_> {
    /// SHA-256 over the previous hash, the fields and the detail's hash, each ended by a zero byte.
    #[must_use]
    pub fn hash(&self, previous: &str, detail_hash: &str) -> String {
        let seq = self.seq.to_string();
        let at = self.at.to_string();
        let mut digest = Sha256::new();
        for field in [previous, self.scope, &seq, &at, self.person, self.act, self.subject, detail_hash] {
            digest.update(field.as_bytes());
            digest.update([0]);
        }
        hex(&digest.finalize())
    }
}

/// What `detail_hash` has to be.
#[must_use]
pub fn hash_detail(salt: &str, detail: &str) -> String {
    secrets::sha256_hex(format!("{salt}\0{detail}").as_bytes())
}

/// The walk along one chain.
#[derive(Debug, Clone)]
pub struct Walk {
    scope: String,
    previous: String,
    expected: i64,
    /// What does not hold so far, and which details are gone.
    pub findings: Vec<Finding>,
    /// Numbers of the acts that purged.
    pub purges: Vec<i64>,
}

impl Walk {
    #[must_use]
    pub fn new(scope: &str) -> Self {
        Self {
            scope: scope.to_owned(),
            previous: String::new(),
            expected: 1,
            findings: Vec::new(),
            purges: Vec::new(),
        }
    }

    /// Takes the next row: what it says its hashes are, and the hash of the detail that is there.
    pub fn step(&mut self, link: &Link<'_>, (detail_hash, hash): (&str, &str), there: Option<&str>) {
        let (scope, seq) = (self.scope.clone(), link.seq);
        if seq != self.expected {
            self.findings.push(Finding::Gap { scope: scope.clone(), seq: self.expected });
        }
        if link.hash(&self.previous, detail_hash) != hash {
            self.findings.push(Finding::Tampered { scope: scope.clone(), seq });
        }
        match there {
            Some(there) if there == detail_hash => {}
            Some(_) => self.findings.push(Finding::DetailChanged { scope, seq }),
            None => self.findings.push(Finding::Purged { scope, seq }),
        }
        if link.act == PURGED {
            self.purges.push(seq);
        }
        hash.clone_into(&mut self.previous);
        self.expected = seq.saturating_add(1);
    }

    /// How many rows there were.
    #[must_use]
    pub fn length(&self) -> i64 {
        self.expected - 1
    }

    /// The end: the last row has to be the one its head names.
    pub fn end(&mut self, last: i64, head: &str) {
        if self.length() != last || self.previous != head {
            self.findings.push(Finding::Gap { scope: self.scope.clone(), seq: last });
        }
    }
}
