//! Trade knowledge: pure functions over plain values. No I/O, no clock, no ids, no database, web or template type.

pub mod agreement;
pub mod civil;
pub mod concealment;
pub mod criteria;
pub mod draw;
pub mod etch;
pub mod exact;
pub mod grading;
pub mod lateness;
pub mod measure;
pub mod more_time;
pub mod planning;
pub mod procedure;
pub mod remark;
pub mod spelled;
pub mod term;
