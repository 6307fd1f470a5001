//! Whose row it is: people by their keys, each looked up once.

use std::collections::HashMap;
use std::hash::Hash;

use super::Person;
use crate::exchange::roster::{Details, Field, email_key, name_key};

/// By what a person is known, strongest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Key {
    ExternalId,
    StudentNumber,
    Email,
    /// Within the class, for rows that say nothing else.
    Name,
}

impl Key {
    const STRONG: [Self; 3] = [Self::ExternalId, Self::StudentNumber, Self::Email];

    pub(super) fn field(self) -> Option<Field> {
        match self {
            Self::ExternalId => Some(Field::ExternalId),
            Self::StudentNumber => Some(Field::StudentNumber),
            Self::Email => Some(Field::Email),
            Self::Name => None,
        }
    }

    /// The value as the list tells it.
    pub(super) fn told(self, details: &Details) -> &str {
        let value = match self {
            Self::ExternalId => &details.external_id,
            Self::StudentNumber => &details.student_number,
            Self::Email => &details.email,
            Self::Name => &None,
        };
        value.as_deref().unwrap_or_default()
    }

    fn of(self, details: &Details) -> Option<String> {
        match self {
            Self::ExternalId => details.external_id.clone(),
            Self::StudentNumber => details.student_number.clone(),
            Self::Email => details.email.as_deref().map(email_key),
            Self::Name => Some(name_key(details)),
        }
    }
}

/// Whom a row means. Places are those in the slice of people.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Found {
    Nobody,
    One(usize, Key),
    /// Two keys lead to two people.
    Two([(usize, Key); 2]),
    /// Several in the class have the only name the row tells.
    Namesakes,
}

/// People by key. A key that several have, which no record should hold, keeps the first two.
#[derive(Debug)]
pub(super) struct Index<Id> {
    first: HashMap<Id, usize>,
    external_ids: HashMap<String, Holders>,
    student_numbers: HashMap<String, Holders>,
    emails: HashMap<String, Holders>,
    /// Of the class alone.
    names: HashMap<String, Vec<usize>>,
}

#[derive(Debug, Clone, Copy, Default)]
struct Holders {
    first: Option<usize>,
    second: Option<usize>,
}

impl Holders {
    fn take_in(&mut self, place: usize) {
        if self.first.is_none() {
            self.first = Some(place);
        } else if self.second.is_none() {
            self.second = Some(place);
        }
    }

    fn places(self) -> impl Iterator<Item = usize> {
        [self.first, self.second].into_iter().flatten()
    }
}

impl<Id: Copy + Eq + Hash> Index<Id> {
    pub(super) fn of<L>(people: &[Person<Id, L>]) -> Self {
        let mut index = Self {
            first: HashMap::with_capacity(people.len()),
            external_ids: HashMap::new(),
            student_numbers: HashMap::new(),
            emails: HashMap::new(),
            names: HashMap::new(),
        };
        for (place, person) in people.iter().enumerate() {
            // Who was brought twice, as member and as owner of a key, is one.
            if *index.first.entry(person.id).or_insert(place) != place {
                continue;
            }
            for key in Key::STRONG {
                if let (Some(value), Some(held)) = (key.of(&person.details), index.held_mut(key)) {
                    held.entry(value).or_default().take_in(place);
                }
            }
            if person.seat.is_some() {
                index.names.entry(name_key(&person.details)).or_default().push(place);
            }
        }
        index
    }

    /// By external id, student number and e-mail.
    pub(super) fn by_keys(&self, details: &Details) -> Found {
        let mut found: Option<(usize, Key)> = None;
        for key in Key::STRONG {
            for place in self.holders(key, details).places() {
                match found {
                    None => found = Some((place, key)),
                    Some((other, _)) if other == place => {}
                    Some(first) => return Found::Two([first, (place, key)]),
                }
            }
        }
        found.map_or(Found::Nobody, |(place, key)| Found::One(place, key))
    }

    /// By name within the class, among those no other row means by a key.
    pub(super) fn by_name(&self, details: &Details, is_claimed: impl Fn(usize) -> bool) -> Found {
        let mut free = self.namesakes(details).iter().filter(|place| !is_claimed(**place));
        match (free.next(), free.next()) {
            (None, _) => Found::Nobody,
            (Some(place), None) => Found::One(*place, Key::Name),
            _ => Found::Namesakes,
        }
    }

    /// Everybody in the class who has the name.
    pub(super) fn namesakes(&self, details: &Details) -> &[usize] {
        self.names.get(&name_key(details)).map_or(&[], Vec::as_slice)
    }

    /// Everybody who has one of the keys.
    pub(super) fn key_holders(&self, details: &Details) -> impl Iterator<Item = usize> {
        Key::STRONG.map(|key| self.holders(key, details)).into_iter().flat_map(Holders::places)
    }

    /// Whether the person is at this place and not brought before.
    pub(super) fn is_first(&self, place: usize, id: Id) -> bool {
        self.first.get(&id) == Some(&place)
    }

    fn holders(&self, key: Key, details: &Details) -> Holders {
        let held = match key {
            Key::ExternalId => &self.external_ids,
            Key::StudentNumber => &self.student_numbers,
            Key::Email => &self.emails,
            Key::Name => return Holders::default(),
        };
        key.of(details).and_then(|value| held.get(&value).copied()).unwrap_or_default()
    }

    fn held_mut(&mut self, key: Key) -> Option<&mut HashMap<String, Holders>> {
        match key {
            Key::ExternalId => Some(&mut self.external_ids),
            Key::StudentNumber => Some(&mut self.student_numbers),
            Key::Email => Some(&mut self.emails),
            Key::Name => None,
        }
    }
}
