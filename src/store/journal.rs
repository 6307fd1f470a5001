//! The journal: one append-only chain of SHA-256 for each class and one for the school. Names and addresses stand in
//! the salted details alone, so a purge can take them away and leave the chain whole.

pub mod chain;

use diesel::prelude::*;

use self::chain::{Link, Walk, hash_detail};
use crate::clock::Instant;
use crate::secrets::hex;
use crate::store::connections::AnyConnection;
use crate::store::many::{self, Cell};
use crate::store::schema::{journal, journal_detail, journal_head};
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// The rows of an act that are still to be written: they go with its head when it ends, all by two statements.
#[derive(Debug, Default)]
pub(crate) struct Pending {
    rows: Vec<Vec<Cell>>,
    details: Vec<Vec<Cell>>,
}

/// Appends a row to the chain; it is written when the act ends.
pub(crate) fn append(
    tx: &mut Tx<'_>,
    act: &str,
    subject: &str,
    detail: &serde_json::Value,
) -> Result<(), Trouble> {
    // serde_json keeps object keys sorted, so equal details have equal text.
    let detail = detail.to_string();
    let salt = hex(&tx.chance.part()?);
    let detail_hash = hash_detail(&salt, &detail);
    let seq = tx.seq + 1;
    let person = tx.by.map(|id| id.to_string());
    let by = person.as_deref().unwrap_or_default();
    let hash = Link { scope: &tx.scope, seq, at: tx.now.millis(), person: by, act, subject }
        .hash(&tx.hash, &detail_hash);
    let scope = || Cell::from(tx.scope.as_str());
    tx.pending.details.push(vec![scope(), seq.into(), salt.into(), detail.into()]);
    tx.pending.rows.push(vec![
        scope(),
        seq.into(),
        tx.now.millis().into(),
        person.into(),
        act.into(),
        subject.into(),
        detail_hash.into(),
        hash.as_str().into(),
    ]);
    tx.seq = seq;
    tx.hash = hash;
    Ok(())
}

/// Writes what the act has put down, and the head it has come to.
pub(crate) fn keep(tx: &mut Tx<'_>) -> Result<(), Trouble> {
    let Pending { rows, details } = std::mem::take(&mut tx.pending);
    if rows.is_empty() {
        return Ok(());
    }
    let journal = "journal (scope, seq, at, person_id, act, subject, detail_hash, hash)";
    many::insert(tx.connection, journal, &rows)?;
    many::insert(tx.connection, "journal_detail (scope, seq, salt, detail)", &details)?;
    diesel::update(journal_head::table.find(&tx.scope))
        .set((journal_head::seq.eq(tx.seq), journal_head::hash.eq(&tx.hash)))
        .execute(tx.connection)?;
    Ok(())
}

/// For how long somebody can bring back what they took away.
const BRING_BACK_MS: i64 = 10 * 60_000;

/// What the person at hand took away by an act of this scope not more than ten minutes ago, as its row tells it. Only
/// the last rows are looked through: where so much was done since, it is added anew.
pub(crate) fn taken_away<T: serde::de::DeserializeOwned>(
    tx: &mut Tx<'_>,
    act: &str,
    id: &str,
) -> Result<T, Trouble> {
    const LAST: i64 = 500;
    let by = tx.person()?.to_string();
    let rows: Vec<i64> = journal::table
        .filter(journal::scope.eq(&tx.scope).and(journal::seq.gt(tx.seq - LAST)))
        .filter(journal::act.eq(act).and(journal::person_id.eq(by)))
        .filter(journal::at.ge(tx.now.plus_ms(-BRING_BACK_MS)))
        .select(journal::seq)
        .load(tx.connection)?;
    let details: Vec<String> = journal_detail::table
        .filter(journal_detail::scope.eq(&tx.scope).and(journal_detail::seq.eq_any(rows)))
        .order(journal_detail::seq.desc())
        .select(journal_detail::detail)
        .load(tx.connection)?;
    let told = |detail: &String| serde_json::from_str::<serde_json::Value>(detail).ok();
    let is_it = |detail: &serde_json::Value| detail.get("id").and_then(|told| told.as_str()) == Some(id);
    let found = details.iter().filter_map(told).find(is_it);
    found.and_then(|detail| serde_json::from_value(detail).ok()).ok_or_else(nothing_to_bring_back)
}

/// It is there, or it was not taken away lately by whoever asks.
pub(crate) fn nothing_to_bring_back() -> Trouble {
    Trouble::Refused(Remark::new("bring-back-nothing"))
}

/// Something the check of a chain found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Finding {
    /// The row's hash is not that of its content and its predecessor.
    Tampered { scope: String, seq: i64 },
    /// The detail is not the one that was hashed.
    DetailChanged { scope: String, seq: i64 },
    /// The detail was purged; the row stands.
    Purged { scope: String, seq: i64 },
    /// Rows are missing between two numbers, or the head does not match the last row.
    Gap { scope: String, seq: i64 },
    /// A row that a head kept elsewhere names is not there, or is another: the tail was cut, or rewritten.
    Cut { scope: String, seq: i64 },
}

/// Compares the chains with heads that were kept elsewhere: scope, number and hash of a row each.
///
/// # Errors
/// The database cannot be read.
pub fn against(
    connection: &mut AnyConnection,
    heads: &[(String, i64, String)],
) -> Result<Vec<Finding>, Trouble> {
    let mut findings = Vec::new();
    for (scope, seq, told) in heads.iter().filter(|(_, seq, _)| *seq > 0) {
        let found: Option<String> =
            journal::table.find((scope, seq)).select(journal::hash).first(connection).optional()?;
        if found.as_ref() != Some(told) {
            findings.push(Finding::Cut { scope: scope.clone(), seq: *seq });
        }
    }
    Ok(findings)
}

/// What a chain is of, how long it is, and which acts purged details: for whoever reads what `check` found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chain {
    pub scope: String,
    /// Code of the class and name of its term; none for the school.
    pub class: Option<(String, String)>,
    pub length: i64,
    /// Numbers of the acts that purged.
    pub purges: Vec<i64>,
}

/// The act that takes details away.
pub const PURGED: &str = "record.purged";

/// Every chain there is, the school's last.
///
/// # Errors
/// The database cannot be read.
pub fn chains(connection: &mut AnyConnection) -> Result<Vec<Chain>, Trouble> {
    use crate::store::schema::{class, term};
    let heads: Vec<(String, i64)> = journal_head::table
        .order(journal_head::scope)
        .select((journal_head::scope, journal_head::seq))
        .load(connection)?;
    let named: Vec<(String, String, String)> =
        class::table.inner_join(term::table).select((class::id, class::code, term::name)).load(connection)?;
    let purges: Vec<(String, i64)> = journal::table
        .filter(journal::act.eq(PURGED))
        .order((journal::scope, journal::seq))
        .select((journal::scope, journal::seq))
        .load(connection)?;
    let chain = |(scope, length): (String, i64)| Chain {
        class: named
            .iter()
            .find(|(id, _, _)| *id == scope)
            .map(|(_, code, term)| (code.clone(), term.clone())),
        purges: purges.iter().filter(|(of, _)| *of == scope).map(|(_, seq)| *seq).collect(),
        scope,
        length,
    };
    Ok(heads.into_iter().map(chain).collect())
}

/// Walks every chain and says what does not hold. A tail cut together with its head cannot be seen without a head
/// kept elsewhere.
///
/// # Errors
/// The database cannot be read.
pub fn check(connection: &mut AnyConnection) -> Result<Vec<Finding>, Trouble> {
    let heads: Vec<(String, i64, String)> =
        journal_head::table.order(journal_head::scope).load(connection)?;
    let mut findings = Vec::new();
    for (scope, last, hash) in heads {
        check_chain(connection, &scope, last, &hash, &mut findings)?;
    }
    Ok(findings)
}

type Row = (i64, Instant, Option<String>, String, String, String, String, Option<String>, Option<String>);

fn check_chain(
    connection: &mut AnyConnection,
    scope: &str,
    last: i64,
    head: &str,
    findings: &mut Vec<Finding>,
) -> Result<(), Trouble> {
    let rows: Vec<Row> = journal::table
        .left_join(
            journal_detail::table
                .on(journal_detail::scope.eq(journal::scope).and(journal_detail::seq.eq(journal::seq))),
        )
        .filter(journal::scope.eq(scope))
        .order(journal::seq)
        .select((
            journal::seq,
            journal::at,
            journal::person_id,
            journal::act,
            journal::subject,
            journal::detail_hash,
            journal::hash,
            journal_detail::salt.nullable(),
            journal_detail::detail.nullable(),
        ))
        .load(connection)?;
    let mut walk = Walk::new(scope);
    for (seq, at, person, act, subject, detail_hash, hash, salt, detail) in rows {
        let person = person.unwrap_or_default();
        let link = Link { scope, seq, at: at.millis(), person: &person, act: &act, subject: &subject };
        let there = salt.zip(detail).map(|(salt, detail)| hash_detail(&salt, &detail));
        walk.step(&link, (&detail_hash, &hash), there.as_deref());
    }
    walk.end(last, head);
    findings.append(&mut walk.findings);
    Ok(())
}
