//! Letters kept in memory: what a test looks at, with answers it may script.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use crate::post::transport::{Refusal, Sealed, Transport};

/// What to answer to the next letter.
#[derive(Debug, Clone)]
pub enum Answer {
    Take,
    Refuse(Refusal),
    /// Keep it and say no: what a lost connection after the last line looks like to us.
    TakeAndRefuse(Refusal),
}

/// A transport that keeps what it is given. Clones share what they keep.
#[derive(Debug, Clone, Default)]
pub struct Memory {
    inner: Arc<Mutex<Inner>>,
}

#[derive(Debug, Default)]
struct Inner {
    taken: Vec<Sealed>,
    script: VecDeque<Answer>,
}

impl Memory {
    /// The answers to the next letters, in order; afterwards every letter is taken.
    pub fn will_answer(&self, answers: impl IntoIterator<Item = Answer>) {
        self.lock().script.extend(answers);
    }

    /// The letters taken so far, oldest first.
    #[must_use]
    pub fn taken(&self) -> Vec<Sealed> {
        self.lock().taken.clone()
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, Inner> {
        self.inner.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Transport for Memory {
    fn hand_over(&self, letter: &Sealed) -> Result<(), Refusal> {
        let mut inner = self.lock();
        let answer = inner.script.pop_front().unwrap_or(Answer::Take);
        match answer {
            Answer::Take => {
                inner.taken.push(letter.clone());
                Ok(())
            }
            Answer::Refuse(refusal) => Err(refusal),
            Answer::TakeAndRefuse(refusal) => {
                inner.taken.push(letter.clone());
                Err(refusal)
            }
        }
    }
}
