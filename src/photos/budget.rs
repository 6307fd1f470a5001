//! The gate before the darkroom: how many pictures may be in work at once, and how many bytes they may take
//! together. Whoever waits is let in by turn, so that a large picture is not overtaken for ever by small ones.

use std::collections::VecDeque;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use crate::trade::remark::Remark;

/// What the house allows unless told otherwise.
pub const HOUSE: Allowance = Allowance { at_once: 2, bytes: 320_000_000, waiting: 60 };

/// The size of a gate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Allowance {
    /// Pictures in work at the same time, at least 1.
    pub at_once: usize,
    /// Bytes all pictures in work may take together.
    pub bytes: u64,
    /// Pictures that may wait; one more is turned away at once.
    pub waiting: usize,
}

/// No place came free in time, or too many wait already. Trying again later is the remedy.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Busy;

impl Busy {
    #[must_use]
    pub fn remark(self) -> Remark {
        Remark::new("proofs-picture-busy")
    }
}

/// A counting gate for blocking tasks. Clones are the same gate.
#[derive(Debug, Clone)]
pub struct Gate(Arc<Inner>);

/// Leave to work on one picture; dropping it gives the place and the bytes back, also when the work panics.
#[derive(Debug)]
pub struct Pass {
    gate: Arc<Inner>,
    bytes: u64,
}

#[derive(Debug)]
struct Inner {
    allowance: Allowance,
    state: Mutex<State>,
    changed: Condvar,
}

#[derive(Debug, Default)]
struct State {
    inside: usize,
    bytes: u64,
    next_ticket: u64,
    /// Tickets of those who wait, the first in front.
    queue: VecDeque<u64>,
}

impl Gate {
    #[must_use]
    pub fn new(allowance: Allowance) -> Self {
        Self(Arc::new(Inner { allowance, state: Mutex::default(), changed: Condvar::new() }))
    }

    /// Waits for a place and `bytes`, at most as long as `patience`. A picture that wants more than the whole
    /// allowance is let in alone.
    ///
    /// # Errors
    /// `Busy` after `patience`, or at once when the queue is full.
    pub fn enter(&self, bytes: u64, patience: Duration) -> Result<Pass, Busy> {
        let bytes = bytes.min(self.0.allowance.bytes);
        let until = Instant::now().checked_add(patience);
        let mut state = self.0.lock();
        if state.queue.len() >= self.0.allowance.waiting && !self.0.has_room(&state, None, bytes) {
            return Err(Busy);
        }
        let ticket = state.next_ticket;
        state.next_ticket += 1;
        state.queue.push_back(ticket);
        while !self.0.has_room(&state, Some(ticket), bytes) {
            let left = until.map_or(patience, |until| until.saturating_duration_since(Instant::now()));
            if left.is_zero() {
                state.queue.retain(|&waiting| waiting != ticket);
                // The one behind may fit where this one did not.
                self.0.changed.notify_all();
                return Err(Busy);
            }
            state = self.0.changed.wait_timeout(state, left).unwrap_or_else(PoisonError::into_inner).0;
        }
        state.queue.pop_front();
        state.inside += 1;
        state.bytes += bytes;
        self.0.changed.notify_all();
        Ok(Pass { gate: Arc::clone(&self.0), bytes })
    }

    /// Pictures in work and the bytes they hold.
    #[must_use]
    pub fn in_work(&self) -> (usize, u64) {
        let state = self.0.lock();
        (state.inside, state.bytes)
    }
}

impl Inner {
    /// Nothing in here can panic half way, so a poisoned lock still guards a sound state.
    fn lock(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Whether the holder of `ticket` (without one: a newcomer to an empty queue) may go in.
    fn has_room(&self, state: &State, ticket: Option<u64>, bytes: u64) -> bool {
        state.queue.front().copied() == ticket
            && state.inside < self.allowance.at_once.max(1)
            && state.bytes + bytes <= self.allowance.bytes
    }
}

impl Drop for Pass {
    fn drop(&mut self) {
        let mut state = self.gate.lock();
        state.inside -= 1;
        state.bytes -= self.bytes;
        self.gate.changed.notify_all();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::mpsc;
    use std::thread;

    const SHORT: Duration = Duration::from_millis(20);
    const LONG: Duration = Duration::from_secs(20);

    fn gate(at_once: usize, bytes: u64, waiting: usize) -> Gate {
        Gate::new(Allowance { at_once, bytes, waiting })
    }

    /// Waits until `count` callers queue.
    fn until_waiting(gate: &Gate, count: usize) {
        while gate.0.lock().queue.len() != count {
            thread::yield_now();
        }
    }

    #[test]
    fn the_third_waits_for_a_place_and_gets_it() {
        let gate = gate(2, 100, 8);
        let first = gate.enter(10, SHORT).unwrap();
        let _second = gate.enter(10, SHORT).unwrap();
        assert_eq!(gate.enter(10, SHORT).unwrap_err(), Busy);
        let waiting = {
            let gate = gate.clone();
            thread::spawn(move || gate.enter(10, LONG).is_ok())
        };
        until_waiting(&gate, 1);
        drop(first);
        assert!(waiting.join().unwrap());
    }

    #[test]
    fn bytes_are_counted_and_come_back() {
        let gate = gate(8, 100, 8);
        let first = gate.enter(60, SHORT).unwrap();
        assert_eq!(gate.enter(41, SHORT).unwrap_err(), Busy);
        let second = gate.enter(40, SHORT).unwrap();
        assert_eq!(gate.in_work(), (2, 100));
        drop((first, second));
        assert_eq!(gate.in_work(), (0, 0));
    }

    #[test]
    fn one_that_wants_all_goes_in_alone() {
        let gate = gate(2, 100, 8);
        let alone = gate.enter(5_000, SHORT).unwrap();
        assert_eq!(gate.enter(1, SHORT).unwrap_err(), Busy);
        drop(alone);
        assert!(gate.enter(1, SHORT).is_ok());
    }

    #[test]
    fn a_large_one_is_not_overtaken() {
        let gate = gate(3, 100, 8);
        let first = gate.enter(60, SHORT).unwrap();
        let (tell, told) = mpsc::channel();
        for (name, bytes) in [("large", 90), ("small", 20)] {
            let (gate, tell) = (gate.clone(), tell.clone());
            let before = gate.0.lock().queue.len();
            let of_thread = gate.clone();
            thread::spawn(move || {
                let pass = of_thread.enter(bytes, LONG).unwrap();
                tell.send(name).unwrap();
                drop(pass);
            });
            until_waiting(&gate, before + 1);
        }
        // 20 bytes would fit beside 60, but the large one was first.
        assert!(told.recv_timeout(SHORT).is_err());
        drop(first);
        assert_eq!(told.recv_timeout(LONG), Ok("large"));
        assert_eq!(told.recv_timeout(LONG), Ok("small"));
    }

    #[test]
    fn when_the_first_in_line_gives_up_the_next_may_go() {
        let gate = gate(3, 100, 8);
        let _first = gate.enter(60, SHORT).unwrap();
        let large = {
            let gate = gate.clone();
            thread::spawn(move || gate.enter(90, Duration::from_millis(200)).is_ok())
        };
        until_waiting(&gate, 1);
        assert!(gate.enter(20, LONG).is_ok());
        assert!(!large.join().unwrap());
    }

    #[test]
    fn a_full_queue_turns_away_at_once_and_a_panic_gives_the_place_back() {
        let gate = gate(1, 100, 0);
        assert!(gate.enter(10, LONG).is_ok(), "an empty gate needs no queue");
        let of_thread = gate.clone();
        let panicked = thread::spawn(move || {
            let _pass = of_thread.enter(10, SHORT).unwrap();
            panic!("the decoder met a broken picture");
        });
        assert!(panicked.join().is_err());
        let _pass = gate.enter(10, SHORT).unwrap();
        let before = Instant::now();
        assert_eq!(gate.enter(10, LONG).unwrap_err(), Busy);
        assert!(before.elapsed() < LONG);
    }
}
