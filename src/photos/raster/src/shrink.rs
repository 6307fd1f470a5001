//! Shrinking: a Lanczos kernel of three lobes, stretched over all source pixels it covers.

use fast_image_resize::Resizer;
use fast_image_resize::images::{TypedImage, TypedImageRef};
use fast_image_resize::pixels::U8x3;

use crate::{Misfit, size};

const CHANNELS: usize = 3;

/// The size whose long side is at most `long_side`, in the proportion of `width` to `height`. Nothing is enlarged
/// and no side falls below one pixel.
#[must_use]
pub fn within(width: u32, height: u32, long_side: u32) -> (u32, u32) {
    let long = width.max(height);
    if long <= long_side {
        return (width, height);
    }
    let scale = |side: u32| {
        let exact = (u64::from(side) * u64::from(long_side) + u64::from(long) / 2) / u64::from(long);
        u32::try_from(exact).unwrap_or(long_side).max(1)
    };
    (scale(width), scale(height))
}

/// RGB pixels at another size.
///
/// # Errors
/// The buffer does not fit `from`, or a side is 0.
pub fn rgb(pixels: &[u8], from: (u32, u32), to: (u32, u32)) -> Result<Vec<u8>, Misfit> {
    let wanted = size(from.0, from.1, CHANNELS)?;
    let mut shrunk = vec![0; size(to.0, to.1, CHANNELS)?];
    // The kind of pixel is said to the compiler and not at run time: else the kernels of all thirteen kinds are compiled,
    // which takes two minutes.
    let source = TypedImageRef::<U8x3>::from_buffer(from.0, from.1, pixels.get(..wanted).ok_or(Misfit)?);
    let mut target = TypedImage::<U8x3>::from_buffer(to.0, to.1, &mut shrunk).or(Err(Misfit))?;
    Resizer::new().resize_typed(&source.or(Err(Misfit))?, &mut target, None).or(Err(Misfit))?;
    drop(target);
    Ok(shrunk)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_long_side_is_met_and_nothing_grows_or_vanishes() {
        assert_eq!(within(4000, 3000, 1600), (1600, 1200));
        assert_eq!(within(3000, 4000, 320), (240, 320));
        assert_eq!(within(900, 700, 1600), (900, 700));
        assert_eq!(within(60_000, 10, 320), (320, 1));
    }

    #[test]
    fn an_even_tone_stays_even() {
        let flat = vec![90; 60 * 40 * 3];
        assert!(rgb(&flat, (60, 40), (17, 11)).unwrap().iter().all(|&value| value == 90));
        assert_eq!(rgb(&flat[1..], (60, 40), (17, 11)), Err(Misfit));
        assert_eq!(rgb(&flat, (0, 40), (17, 11)), Err(Misfit));
    }
}
