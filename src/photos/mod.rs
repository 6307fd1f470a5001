//! Proof photos: reading what a phone sends, the copies that are kept, the memory they may take while in work, and
//! the shelf they lie on. Nothing of the received file is kept but its pixels: no place, no device, no time.

pub mod budget;
mod colour;
pub mod darkroom;
pub mod drawn;
pub mod fault;
pub mod header;
pub mod picture;
pub mod shelf;
