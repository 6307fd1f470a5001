//! Every decoded layout becomes 8-bit RGB, in place where it can: 16 bits are reduced, grey is spread, and what
//! is transparent lies on white, as paper would show through.

/// 16-bit samples in the byte order of this machine become 8-bit samples, rounded to the nearest.
#[must_use]
pub fn halve_depth(mut samples: Vec<u8>) -> Vec<u8> {
    let count = samples.len() / 2;
    for at in 0..count {
        let wide = u32::from(u16::from_ne_bytes([samples[at * 2], samples[at * 2 + 1]]));
        samples[at] = low_byte((wide * 255 + 32_767) / 65_535);
    }
    samples.truncate(count);
    samples.shrink_to_fit();
    samples
}

/// Grey values through `table` (the profile's grey curve, or the identity) to RGB.
#[must_use]
pub fn spread_grey(grey: &[u8], table: &[[u8; 3]; 256]) -> Vec<u8> {
    let mut rgb = Vec::with_capacity(grey.len() * 3);
    for &value in grey {
        rgb.extend_from_slice(&table[usize::from(value)]);
    }
    rgb
}

/// Grey with alpha through `table`, laid on white.
#[must_use]
pub fn spread_grey_alpha(grey_alpha: &[u8], table: &[[u8; 3]; 256]) -> Vec<u8> {
    let mut rgb = Vec::with_capacity(grey_alpha.len() / 2 * 3);
    for pair in grey_alpha.chunks_exact(2) {
        for channel in table[usize::from(pair[0])] {
            rgb.push(over_white(channel, pair[1]));
        }
    }
    rgb
}

/// RGBA laid on white becomes RGB in the same buffer.
#[must_use]
pub fn lay_on_white(mut rgba: Vec<u8>) -> Vec<u8> {
    let pixels = rgba.len() / 4;
    for at in 0..pixels {
        let alpha = rgba[at * 4 + 3];
        for channel in 0..3 {
            rgba[at * 3 + channel] = over_white(rgba[at * 4 + channel], alpha);
        }
    }
    rgba.truncate(pixels * 3);
    rgba.shrink_to_fit();
    rgba
}

fn over_white(value: u8, alpha: u8) -> u8 {
    let (value, alpha) = (u32::from(value), u32::from(alpha));
    low_byte((value * alpha + 255 * (255 - alpha) + 127) / 255)
}

fn low_byte(value: u32) -> u8 {
    u8::try_from(value).unwrap_or(u8::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sixteen_bits_round_to_the_nearest_of_eight() {
        let wide: Vec<u8> =
            [0_u16, 128, 129, 257, 32_768, 65_535].iter().flat_map(|value| value.to_ne_bytes()).collect();
        // 257 steps of 16 bits are one of 8 (65535 = 255 x 257).
        assert_eq!(halve_depth(wide), [0, 0, 1, 1, 128, 255]);
    }

    #[test]
    fn half_transparent_black_is_middle_grey_and_full_transparency_is_paper() {
        assert_eq!(
            lay_on_white(vec![0, 0, 0, 128, 10, 20, 30, 0, 10, 20, 30, 255]),
            [127, 127, 127, 255, 255, 255, 10, 20, 30]
        );
        let plain = std::array::from_fn(|value| [u8::try_from(value).unwrap(); 3]);
        assert_eq!(spread_grey_alpha(&[0, 128, 40, 255], &plain), [127, 127, 127, 40, 40, 40]);
        assert_eq!(spread_grey(&[7, 200], &plain), [7, 7, 7, 200, 200, 200]);
    }
}
