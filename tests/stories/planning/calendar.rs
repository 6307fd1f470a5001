//! Not told yet.
