//! What is done at the table with a phone beside the plate: entries that may come in late, put right by what is known of
//! the phone's clock. What has happened is stored, whatever rule it broke.

pub mod accounts;
pub mod clock;
pub mod entries;
