//! Who listens to news: a bounded number for each person, ended with the session, or when the server stops.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use tokio::sync::watch;

use crate::ids::PersonId;

/// Pages one person may have listening; the one opened first gives way.
pub const MOST: usize = 6;

/// What is told to one listener.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Told {
    /// How often it was told to see whether its session still holds.
    Go(u64),
    /// Another page of the same person takes its place.
    Enough,
    /// The server stops.
    Close,
}

/// All listeners of a server.
#[derive(Debug, Default)]
pub struct Listeners {
    open: Mutex<Open>,
}

#[derive(Debug, Default)]
struct Open {
    by_person: HashMap<PersonId, Vec<(u64, watch::Sender<Told>)>>,
    last: u64,
    closed: bool,
}

/// One listener; when it is dropped it is no longer counted.
#[derive(Debug)]
pub struct Listener {
    pub told: watch::Receiver<Told>,
    person: PersonId,
    number: u64,
    all: Arc<Listeners>,
}

impl Listeners {
    fn open(&self) -> std::sync::MutexGuard<'_, Open> {
        self.open.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Lets a page of this person listen.
    #[must_use]
    pub fn listen(self: &Arc<Self>, person: PersonId) -> Listener {
        let mut open = self.open();
        open.last += 1;
        let number = open.last;
        let begins = if open.closed { Told::Close } else { Told::Go(0) };
        let (sender, told) = watch::channel(begins);
        let own = open.by_person.entry(person).or_default();
        if own.len() >= MOST {
            let (_, first) = own.remove(0);
            first.send_replace(Told::Enough);
        }
        own.push((number, sender));
        Listener { told, person, number, all: self.clone() }
    }

    /// Has every listener of this person see whether its session still holds.
    pub fn look_again(&self, person: PersonId) {
        for (_, told) in self.open().by_person.get(&person).into_iter().flatten() {
            told.send_if_modified(|told| match told {
                Told::Go(times) => {
                    *times += 1;
                    true
                }
                Told::Enough | Told::Close => false,
            });
        }
    }

    /// Ends all of them, and whoever comes later: before the server stops, which waits for what is in flight.
    pub fn close(&self) {
        let mut open = self.open();
        open.closed = true;
        for (_, told) in open.by_person.values().flatten() {
            told.send_replace(Told::Close);
        }
    }

    /// How many there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.open().by_person.values().map(Vec::len).sum()
    }
}

impl Drop for Listener {
    fn drop(&mut self) {
        let mut open = self.all.open();
        if let Some(own) = open.by_person.get_mut(&self.person) {
            own.retain(|(number, _)| *number != self.number);
            if own.is_empty() {
                open.by_person.remove(&self.person);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::Instant;

    #[test]
    fn the_first_gives_way_and_nobody_else_does() {
        let all = Arc::new(Listeners::default());
        let (one, other) = (PersonId::new(Instant::from_millis(1)), PersonId::new(Instant::from_millis(2)));
        let beside = all.listen(other);
        let mut own: Vec<Listener> = (0..=MOST).map(|_| all.listen(one)).collect();
        assert_eq!(all.count(), MOST + 1);
        assert_eq!(*own[0].told.borrow(), Told::Enough);
        assert!(own[1..].iter().all(|listener| *listener.told.borrow() == Told::Go(0)));
        assert_eq!(*beside.told.borrow(), Told::Go(0));
        all.look_again(one);
        assert_eq!((*own[0].told.borrow(), *own[1].told.borrow()), (Told::Enough, Told::Go(1)));
        assert_eq!(*beside.told.borrow(), Told::Go(0), "another person");
        own.clear();
        assert_eq!(all.count(), 1);
        drop(beside);
        assert_eq!((all.count(), all.open().by_person.len()), (0, 0));
    }

    #[test]
    fn a_server_that_stops_ends_all_and_takes_no_more() {
        let all = Arc::new(Listeners::default());
        let one = all.listen(PersonId::new(Instant::from_millis(1)));
        all.close();
        assert_eq!(*one.told.borrow(), Told::Close);
        let late = all.listen(PersonId::new(Instant::from_millis(2)));
        assert_eq!(*late.told.borrow(), Told::Close);
        all.look_again(late.person);
        assert_eq!(*late.told.borrow(), Told::Close);
    }
}
