//! A step of the procedure as a small square in a printers' tint, always with its words.

use std::sync::Arc;

use serde::{Serialize, Serializer};

use crate::clock::Instant;
use crate::pages::dates;
use crate::speech::Speech;
use crate::store::plates::folder::Folder;
use crate::trade::procedure::{Outlook, StepOutlook, StepState};

/// A square: its tint and what it says to the ear.
#[derive(Debug, Clone, Serialize)]
pub struct Square {
    /// The style sheet's word: “done” of `square-done`; empty for a step not yet due.
    tint: &'static str,
    says: Says,
}

/// “first etch: done”, put together where it is written: a class page has hundreds.
#[derive(Debug, Clone)]
struct Says {
    title: Arc<str>,
    state: &'static str,
}

impl Serialize for Says {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(&format_args!("{}: {}", self.title, self.state))
    }
}

/// A step with its square, its state in words and its time.
#[derive(Debug, Clone, Serialize)]
pub struct Spelled {
    #[serde(skip)]
    pub key: String,
    pub title: String,
    pub tint: &'static str,
    pub state: &'static str,
    pub when: String,
}

/// The style sheet's tint of a state.
#[must_use]
pub fn tint(state: StepState) -> &'static str {
    match state {
        StepState::NotYet => "",
        StepState::Ready => "ready",
        StepState::Resting { .. } => "resting",
        StepState::UnderWay { .. } => "under-way",
        StepState::Done { .. } => "done",
        StepState::DoneOutside { .. } => "outside",
    }
}

/// The state in words.
#[must_use]
pub fn state_words(speech: &Speech, state: StepState) -> &'static str {
    speech.word(match state {
        StepState::NotYet => "plates-state-not-yet",
        StepState::Ready => "plates-state-ready",
        StepState::Resting { .. } => "plates-state-resting",
        StepState::UnderWay { .. } => "plates-state-under-way",
        StepState::Done { .. } => "plates-state-done",
        StepState::DoneOutside { .. } => "plates-state-outside",
    })
}

/// The squares of the way, in order.
#[must_use]
pub fn squares(speech: &Speech, outlook: &Outlook) -> Vec<Square> {
    let square = |step: &StepOutlook| Square {
        tint: tint(step.state),
        says: Says { title: step.title.clone(), state: state_words(speech, step.state) },
    };
    let mut squares = Vec::with_capacity(outlook.steps.len());
    squares.extend(on_the_way(outlook).map(square));
    squares
}

/// The steps of the way with their words and times.
#[must_use]
pub fn spelled(speech: &Speech, folder: &Folder, outlook: &Outlook, now: Instant) -> Vec<Spelled> {
    let near = |at: chrono::DateTime<chrono::Utc>| dates::near(Instant::from_utc(at), now, folder.zone);
    on_the_way(outlook)
        .map(|step| Spelled {
            key: step.key.to_string(),
            title: step.title.to_string(),
            tint: tint(step.state),
            state: state_words(speech, step.state),
            when: match step.state {
                StepState::NotYet | StepState::Ready => String::new(),
                StepState::Resting { until, .. } => near(until),
                StepState::UnderWay { since } => near(since),
                StepState::Done { at } | StepState::DoneOutside { at } => near(at),
            },
        })
        .collect()
}

fn on_the_way(outlook: &Outlook) -> impl Iterator<Item = &StepOutlook> {
    outlook.steps.iter().filter(|step| step.on_the_way)
}
