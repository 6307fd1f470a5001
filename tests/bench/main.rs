//! Benchmarks: each figure beside the least that could be done.

fn main() {}
