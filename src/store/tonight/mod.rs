//! An evening in the studio: who waits for somebody of the staff, and the order in which the work is put.

pub mod askings;
pub mod run_order;
