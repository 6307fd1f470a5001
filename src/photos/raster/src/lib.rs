//! The pixel loops of the program. They live in a package of their own because a generic codec is compiled with
//! the package that calls it: called from the main package, which the dev profile leaves unoptimised, writing a
//! 12-megapixel JPEG takes some ten times as long, shrinking it some two hundred times. `Cargo.toml` optimises this
//! package in every profile, so that tests and the demo school need no release build.
//!
//! Everything here works on plain slices: rows from the top, no padding, 8 bits a channel unless said otherwise.
//! Buffers that do not fit their stated size give `Misfit`, never a panic.

pub mod canvas;
pub mod field;
pub mod flatten;
pub mod jpeg;
pub mod photograph;
pub mod random;
pub mod screen;
pub mod shape;
pub mod sheet;
pub mod shrink;
pub mod tile;

/// The buffer does not hold the pixels its width and height promise, or a side is 0 or too long.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Misfit;

impl std::fmt::Display for Misfit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("the pixel buffer does not fit the stated width and height")
    }
}

impl std::error::Error for Misfit {}

/// The bytes of `width` x `height` pixels of `channels` bytes each.
pub(crate) fn size(width: u32, height: u32, channels: usize) -> Result<usize, Misfit> {
    let (width, height) = (usize::try_from(width), usize::try_from(height));
    match (width, height) {
        (Ok(width), Ok(height)) if width > 0 && height > 0 => {
            width.checked_mul(height).and_then(|pixels| pixels.checked_mul(channels)).ok_or(Misfit)
        }
        _ => Err(Misfit),
    }
}
