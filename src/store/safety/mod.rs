//! Safety: topics with their checklists, who may witness them, and sign-offs. The record of what was observed; the
//! safety data sheet, local codes and the school's safety office come before anything kept here.

pub mod held;
pub mod sign_offs;
pub mod topics;
