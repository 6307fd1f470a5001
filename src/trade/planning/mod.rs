//! Planning: when a step can run, when it must, and whether the shared places of a studio are enough.
//!
//! Three subjects. *Hours* are a studio's weekly openings, closures and extra openings, compiled once into a
//! [`Calendar`] of instants. *Passes* walk a procedure's steps forward from now and back from the due date
//! (the critical path method of J. E. Kelley and M. R. Walker, 1959), with two clocks: hands-on minutes run
//! in open hours only, rests run on the clock on the wall. *Press* places many prints on few stations.
//!
//! Times are whole milliseconds since 1970-01-01T00:00:00Z ([`Millis`]), as the store keeps them; only hours
//! know a zone. Nothing here reads a clock: "now" arrives as an argument.
//!
//! A plan is an estimate from minutes someone wrote into a procedure, never a promise about a plate.

pub mod calendar;
pub mod evening;
pub mod graph;
pub mod hours;
pub mod passes;
pub mod plate;
pub mod press;
pub mod remaining;
mod walk;

pub use calendar::{Calendar, Need, Span};
pub use graph::{Graph, Maximum, Rest, Step, Where};
pub use hours::{DayTime, Extra, Hours, Stretch, Weekly};
pub use passes::{Ask, Breaks, Plan, Planned, RestBroken, Rests, State, plan, plan_within};
pub use plate::{BreaksFirst, PlatePlan, StepOutlook, outlook, start_bys};
pub use remaining::Remaining;

/// Milliseconds since 1970-01-01T00:00:00Z.
pub type Millis = i64;

/// Milliseconds in a minute.
pub const MINUTE: Millis = 60_000;

/// Milliseconds in 24 hours.
pub const DAY: Millis = 86_400_000;

/// Minutes one step may take or rest; more is a slip of the finger.
pub const MOST_MINUTES: u32 = 525_600;

/// Steps of one procedure.
pub const MOST_STEPS: usize = 1_000;

/// Days one plan or one press reckoning may span.
pub const MOST_DAYS: i64 = 3_660;
