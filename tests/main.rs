//! The one integration-test binary: outside sources, stories over HTTP, faults.

mod outside;
