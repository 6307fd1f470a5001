//! The chains of the journal inside an archive, walked as those of the database are: every row follows from the one before
//! it, every detail is the one that was hashed, and the last row is the one its head names. A manifest made anew over a
//! journal that was rewritten does not hide that.

use std::collections::BTreeMap;
use std::io::{Read, Seek};

use serde_json::Value;

use super::{About, HEADS, Head, lines};
use crate::exchange::parcel::Parcel;
use crate::store::journal::chain::{Link, Walk, hash_detail};
use crate::store::journal::{Chain, Finding};
use crate::trade::remark::Remark;

const JOURNAL: &str = "data/journal.jsonl";
const DETAILS: &str = "data/journal_detail.jsonl";

/// What the chains of an archive are, and which of their details are gone.
#[derive(Debug, Clone, Default)]
pub struct Chains {
    pub chains: Vec<Chain>,
    pub purged: Vec<(String, i64)>,
}

/// Hashes of the details that are there, by scope and number.
type Details = BTreeMap<(String, i64), String>;

/// Walks the chains of an archive whose files are as its manifest says.
///
/// # Errors
/// What does not hold; or the journal cannot be read.
pub fn walk<R: Read + Seek>(
    parcel: &mut Parcel<R>,
    about: &About,
    heads: &[Head],
) -> Result<Chains, Vec<Remark>> {
    let alone = |remark: Remark| vec![remark];
    let details = details(parcel).map_err(alone)?;
    let mut walks = walks(parcel, &details).map_err(alone)?;
    let code = |scope: &str| {
        let class = about.classes.iter().find(|class| class.id == scope);
        class.map_or_else(|| scope.chars().take(80).collect(), |class| class.code.clone())
    };
    let mut wrong = Vec::new();
    for class in about.classes.iter().filter(|class| heads.iter().all(|head| head.scope != class.id)) {
        wrong.push(Remark::new("archive-no-head").with("name", HEADS).with("class", class.code.as_str()));
    }
    let mut found = Chains::default();
    for head in heads {
        let mut walk = walks.remove(&head.scope).unwrap_or_else(|| Walk::new(&head.scope));
        walk.end(head.seq, &head.hash);
        for finding in &walk.findings {
            match sentence(finding, &code(&head.scope)) {
                Some(remark) => wrong.push(remark),
                None => found.purged.push(place(finding)),
            }
        }
        found.chains.push(Chain {
            class: Some((code(&head.scope), about.term.clone())),
            length: walk.length(),
            purges: walk.purges,
            scope: head.scope.clone(),
        });
    }
    for scope in walks.keys() {
        wrong.push(Remark::new("archive-no-head").with("name", HEADS).with("class", code(scope)));
    }
    if wrong.is_empty() { Ok(found) } else { Err(wrong) }
}

fn details<R: Read + Seek>(parcel: &mut Parcel<R>) -> Result<Details, Remark> {
    let mut details = Details::new();
    lines::rows(parcel, DETAILS, &["scope", "seq", "salt", "detail"], &mut |row| {
        let [scope, seq, salt, detail] = row else { return Ok(()) };
        details.insert((text(scope).to_owned(), number(seq)), hash_detail(text(salt), text(detail)));
        Ok(())
    })?;
    Ok(details)
}

fn walks<R: Read + Seek>(
    parcel: &mut Parcel<R>,
    details: &Details,
) -> Result<BTreeMap<String, Walk>, Remark> {
    let mut walks: BTreeMap<String, Walk> = BTreeMap::new();
    let columns = ["scope", "seq", "at", "person_id", "act", "subject", "detail_hash", "hash"];
    lines::rows(parcel, JOURNAL, &columns, &mut |row| {
        let [scope, seq, at, person, act, subject, detail_hash, hash] = row else { return Ok(()) };
        let (scope, seq) = (text(scope), number(seq));
        let link =
            Link { scope, seq, at: number(at), person: text(person), act: text(act), subject: text(subject) };
        let there = details.get(&(scope.to_owned(), seq)).map(String::as_str);
        let walk = walks.entry(scope.to_owned()).or_insert_with(|| Walk::new(scope));
        walk.step(&link, (text(detail_hash), text(hash)), there);
        Ok(())
    })?;
    Ok(walks)
}

/// What is wrong, as it is said; nothing for a detail that is purged, which is no fault.
fn sentence(finding: &Finding, class: &str) -> Option<Remark> {
    let key = match finding {
        Finding::Tampered { .. } => "archive-act-changed",
        Finding::DetailChanged { .. } => "archive-detail-changed",
        Finding::Gap { .. } | Finding::Cut { .. } => "archive-acts-missing",
        Finding::Purged { .. } => return None,
    };
    let (_, seq) = place(finding);
    Some(Remark::new(key).with("class", class).with("act", seq.to_string()))
}

fn place(finding: &Finding) -> (String, i64) {
    match finding {
        Finding::Tampered { scope, seq }
        | Finding::DetailChanged { scope, seq }
        | Finding::Gap { scope, seq }
        | Finding::Cut { scope, seq }
        | Finding::Purged { scope, seq } => (scope.clone(), *seq),
    }
}

/// What is no text is an empty one: then no hash comes out.
fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

fn number(value: &Value) -> i64 {
    value.as_i64().unwrap_or(-1)
}
