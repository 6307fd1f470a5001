//! What may stand in a list only once. Which of two rows is right cannot be known, so both are bad and each names the
//! other's line.

use std::collections::HashMap;

use super::cells::Draft;
use super::columns::Columns;
use super::{Details, Field, email_key};
use crate::trade::remark::Remark;

pub(super) fn complain<L: Copy>(drafts: &mut [Draft<L>], columns: &Columns) {
    let number = |details: &Details| details.student_number.clone();
    let email = |details: &Details| details.email.as_deref().map(email_key);
    let id = |details: &Details| details.external_id.clone();
    let found = [
        (Field::StudentNumber, "roster-number-twice", pairs(drafts, number)),
        (Field::Email, "roster-email-twice", pairs(drafts, email)),
        (Field::ExternalId, "roster-external-id-twice", pairs(drafts, id)),
        (name_field(columns), "roster-name-twice", name_pairs(drafts)),
    ];
    for (field, key, pairs) in found {
        for (place, other) in pairs {
            let Some(draft) = drafts.get_mut(place) else { continue };
            let value = value(&draft.details, field);
            draft.complain_with(field, columns, &value, Remark::new(key).with("other", i64::from(other)));
        }
    }
}

/// Places of the rows that share a key, each with the line of another such row.
fn pairs<L>(drafts: &[Draft<L>], key: impl Fn(&Details) -> Option<String>) -> Vec<(usize, u32)> {
    let mut lines: HashMap<String, (u32, Option<u32>)> = HashMap::new();
    let keys: Vec<Option<String>> = drafts.iter().map(|draft| key(&draft.details)).collect();
    for (draft, key) in drafts.iter().zip(&keys) {
        let Some(key) = key else { continue };
        match lines.get_mut(key) {
            Some((_, second)) => *second = second.or(Some(draft.line)),
            None => drop(lines.insert(key.clone(), (draft.line, None))),
        }
    }
    let mut found = Vec::new();
    for (place, (draft, key)) in drafts.iter().zip(&keys).enumerate() {
        if let Some((first, Some(second))) = key.as_ref().and_then(|key| lines.get(key)) {
            found.push((place, if draft.line == *first { *second } else { *first }));
        }
    }
    found
}

/// A row that says nothing but a name is certain only while nobody else in the list has that name.
fn name_pairs<L>(drafts: &[Draft<L>]) -> Vec<(usize, u32)> {
    let name = |details: &Details| {
        let named = !(details.given_name.is_empty() && details.family_name.is_empty());
        named.then(|| name_key(details))
    };
    let mut found = pairs(drafts, name);
    found.retain(|(place, _)| drafts.get(*place).is_some_and(|draft| draft.details.is_name_only()));
    found
}

/// Two people with the same key have the same name, whatever its letter case.
pub(in crate::exchange) fn name_key(details: &Details) -> String {
    format!("{}\u{1F}{}", details.family_name, details.given_name).to_lowercase()
}

fn name_field(columns: &Columns) -> Field {
    if columns.has(Field::Name) { Field::Name } else { Field::FamilyName }
}

fn value(details: &Details, field: Field) -> String {
    let text = match field {
        Field::StudentNumber => details.student_number.clone(),
        Field::Email => details.email.clone(),
        Field::ExternalId => details.external_id.clone(),
        _ => Some(format!("{} {}", details.given_name, details.family_name)),
    };
    text.unwrap_or_default()
}
