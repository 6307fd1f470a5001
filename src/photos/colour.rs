//! Colours to sRGB by the profile embedded in the picture. Without a profile, or with one that cannot be read or
//! speaks of other colours than the picture has, the values are taken as sRGB, as every browser does.

use moxcms::{ColorProfile, DataColorSpace, Layout, RenderingIntent, TransformOptions};

use super::fault::PictureFault;

/// Profiles of cameras and phones take half a kilobyte to some hundred; larger ones are not read.
const MOST_PROFILE_BYTES: usize = 4_000_000;

/// Pixels converted at once: the scratch buffer stays in the processor's cache.
const RUN: usize = 4096;

/// Converts RGB (`channels` 3) or RGBA (4) in place.
///
/// # Errors
/// The transform fails half way.
pub(super) fn to_srgb(
    pixels: &mut [u8],
    channels: usize,
    profile: Option<&[u8]>,
) -> Result<(), PictureFault> {
    let layout = if channels == 4 { Layout::Rgba } else { Layout::Rgb };
    let Some(source) = profile.and_then(|profile| readable(profile, DataColorSpace::Rgb)) else {
        return Ok(());
    };
    let Ok(transform) = source.create_transform_8bit(layout, &ColorProfile::new_srgb(), layout, options())
    else {
        return Ok(());
    };
    if leaves_alone(channels, |from, to| transform.transform(from, to).is_ok()) {
        return Ok(());
    }
    let mut scratch = vec![0; RUN * channels];
    for run in pixels.chunks_mut(RUN * channels) {
        let scratch = scratch.get_mut(..run.len()).ok_or(PictureFault::Damaged)?;
        transform.transform(run, scratch).or(Err(PictureFault::Damaged))?;
        run.copy_from_slice(scratch);
    }
    Ok(())
}

/// The sRGB colour of each of the 256 grey values.
pub(super) fn grey_table(profile: Option<&[u8]>) -> [[u8; 3]; 256] {
    let greys: [u8; 256] = std::array::from_fn(|value| u8::try_from(value).unwrap_or(u8::MAX));
    let plain = greys.map(|value| [value; 3]);
    let Some(source) = profile.and_then(|profile| readable(profile, DataColorSpace::Gray)) else {
        return plain;
    };
    let mut colours = [0; 256 * 3];
    let done = source
        .create_transform_8bit(Layout::Gray, &ColorProfile::new_srgb(), Layout::Rgb, options())
        .and_then(|transform| transform.transform(&greys, &mut colours));
    if done.is_err() {
        return plain;
    }
    let mut table = plain;
    for (entry, colour) in table.iter_mut().zip(colours.chunks_exact(3)) {
        entry.copy_from_slice(colour);
    }
    table
}

fn readable(profile: &[u8], space: DataColorSpace) -> Option<ColorProfile> {
    if profile.len() > MOST_PROFILE_BYTES {
        return None;
    }
    ColorProfile::new_from_slice(profile).ok().filter(|profile| profile.color_space == space)
}

fn options() -> TransformOptions {
    TransformOptions {
        rendering_intent: RenderingIntent::RelativeColorimetric,
        ..TransformOptions::default()
    }
}

/// Whether the transform moves no colour of a 16 x 16 x 16 grid by more than one step: most phones embed sRGB
/// itself, and then the pixels stay exactly as they are.
fn leaves_alone(channels: usize, transform: impl Fn(&[u8], &mut [u8]) -> bool) -> bool {
    let steps = || (0..=u8::MAX).step_by(17);
    let mut grid = Vec::with_capacity(16 * 16 * 16 * channels);
    for red in steps() {
        for green in steps() {
            for blue in steps() {
                grid.extend([red, green, blue, u8::MAX].iter().take(channels));
            }
        }
    }
    let mut moved = vec![0; grid.len()];
    transform(&grid, &mut moved)
        && grid.iter().zip(&moved).all(|(before, after)| before.abs_diff(*after) <= 1)
}
