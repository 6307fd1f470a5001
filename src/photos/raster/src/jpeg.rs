//! Writing JPEG, upright on the way: the turn is made row by row while encoding, so a turned photo needs no second
//! copy of its pixels. The file holds the picture and the JFIF header, nothing else.

use std::cell::RefCell;

use jpeg_encoder::{ColorType, Encoder, ImageBuffer, JpegColorType, SamplingFactor};

use crate::{Misfit, size};

/// How stored pixels must be read to stand upright.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Turn {
    /// Rows become columns.
    swap: bool,
    /// Stored columns are read from the right.
    from_right: bool,
    /// Stored rows are read from the bottom.
    from_bottom: bool,
}

impl Turn {
    /// The turn that undoes an EXIF orientation (tag 0x0112, values 1 to 8; CIPA DC-008, "Orientation"). Other
    /// values mean that the picture stands as it is.
    #[must_use]
    pub fn from_exif(orientation: u8) -> Self {
        let (swap, from_right, from_bottom) = match orientation {
            2 => (false, true, false),
            3 => (false, true, true),
            4 => (false, false, true),
            5 => (true, false, false),
            6 => (true, false, true),
            7 => (true, true, true),
            8 => (true, true, false),
            _ => (false, false, false),
        };
        Self { swap, from_right, from_bottom }
    }

    #[must_use]
    pub fn is_none(self) -> bool {
        self == Self::default()
    }

    /// Width and height once upright.
    #[must_use]
    pub fn upright(self, (width, height): (u32, u32)) -> (u32, u32) {
        if self.swap { (height, width) } else { (width, height) }
    }
}

/// How much of a picture a file keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Quality {
    /// 1 to 100.
    pub of_100: u8,
    /// Colours have half the pixels both ways, as cameras and telephones write them; brightness has all.
    pub halve_colours: bool,
}

impl From<u8> for Quality {
    /// From 90 on the colours keep every pixel.
    fn from(of_100: u8) -> Self {
        Self { of_100, halve_colours: of_100 < 90 }
    }
}

/// Writes RGB pixels of `stored` width and height as a JPEG that stands upright.
///
/// # Errors
/// The buffer does not fit the size, or a side is 0 or longer than 65,535.
pub fn write(
    pixels: &[u8],
    stored: (u32, u32),
    turn: Turn,
    quality: impl Into<Quality>,
) -> Result<Vec<u8>, Misfit> {
    let quality = quality.into();
    let wanted = size(stored.0, stored.1, 3)?;
    let pixels = pixels.get(..wanted).ok_or(Misfit)?;
    let (width, height) = turn.upright(stored);
    let side = |side: u32| u16::try_from(side).or(Err(Misfit));
    let (width, height) = (side(width)?, side(height)?);
    // Photos take about a byte a pixel at most; the buffer grows by itself when they need more.
    let mut file = Vec::with_capacity(wanted / 12);
    let mut encoder = Encoder::new(&mut file, quality.of_100.clamp(1, 100));
    encoder.set_sampling_factor(if quality.halve_colours {
        SamplingFactor::F_2_2
    } else {
        SamplingFactor::F_1_1
    });
    if turn.is_none() {
        encoder.encode(pixels, width, height, ColorType::Rgb).or(Err(Misfit))?;
    } else {
        encoder.encode_image(Turned::new(pixels, turn, width, height)).or(Err(Misfit))?;
    }
    Ok(file)
}

/// Upright rows held ready at once, read from neighbours in one stored row.
const STRIP: usize = 16;

/// The stored pixels, read in upright order.
struct Turned<'a> {
    pixels: &'a [u8],
    turn: Turn,
    width: u16,
    height: u16,
    strip: RefCell<Strip>,
}

/// Upright rows, each colour by itself: what follows is reckoned many pixels at a time.
#[derive(Default)]
struct Strip {
    /// The first upright row in the planes; meaningless while they are empty.
    first: usize,
    red: Vec<u8>,
    green: Vec<u8>,
    blue: Vec<u8>,
}

impl Strip {
    fn fresh(&mut self, first: usize, pixels: usize) {
        self.first = first;
        for plane in [&mut self.red, &mut self.green, &mut self.blue] {
            plane.clear();
            plane.resize(pixels, 0);
        }
    }

    fn put(&mut self, at: usize, pixel: &[u8]) {
        (self.red[at], self.green[at], self.blue[at]) = (pixel[0], pixel[1], pixel[2]);
    }
}

impl<'a> Turned<'a> {
    fn new(pixels: &'a [u8], turn: Turn, width: u16, height: u16) -> Self {
        Self { pixels, turn, width, height, strip: RefCell::default() }
    }

    fn size(&self) -> (usize, usize) {
        (usize::from(self.width), usize::from(self.height))
    }

    /// One upright row when columns stay columns.
    fn straight(&self, y: usize, strip: &mut Strip) {
        let (width, height) = self.size();
        let stored_y = if self.turn.from_bottom { height - 1 - y } else { y };
        let stored = &self.pixels[stored_y * width * 3..(stored_y + 1) * width * 3];
        strip.fresh(y, width);
        for (x, pixel) in stored.chunks_exact(3).enumerate() {
            strip.put(if self.turn.from_right { width - 1 - x } else { x }, pixel);
        }
    }

    /// The strip of upright rows around `y` when columns become rows. Reading `STRIP` neighbours of each stored
    /// row keeps the far jumps through memory few.
    fn crosswise(&self, y: usize, strip: &mut Strip) {
        let (width, height) = self.size();
        let first = y - y % STRIP;
        let rows = STRIP.min(height - first);
        strip.fresh(first, rows * width);
        // The neighbours as they are stored; read from the right, the last of them is the first row.
        let from = if self.turn.from_right { height - first - rows } else { first };
        for x in 0..width {
            let stored_y = if self.turn.from_bottom { width - 1 - x } else { x };
            let start = (stored_y * height + from) * 3;
            let neighbours = &self.pixels[start..start + rows * 3];
            for (place, pixel) in neighbours.chunks_exact(3).enumerate() {
                let row = if self.turn.from_right { rows - 1 - place } else { place };
                strip.put(row * width + x, pixel);
            }
        }
    }
}

impl ImageBuffer for Turned<'_> {
    fn get_jpeg_color_type(&self) -> JpegColorType {
        JpegColorType::Ycbcr
    }

    fn width(&self) -> u16 {
        self.width
    }

    fn height(&self) -> u16 {
        self.height
    }

    fn fill_buffers(&self, y: u16, buffers: &mut [Vec<u8>; 4]) {
        let y = usize::from(y);
        let width = self.size().0;
        let mut strip = self.strip.borrow_mut();
        if !self.turn.swap {
            self.straight(y, &mut strip);
        } else if strip.red.is_empty() || !(strip.first..strip.first + STRIP).contains(&y) {
            self.crosswise(y, &mut strip);
        }
        let row = (y - strip.first) * width..(y - strip.first + 1) * width;
        separate(&strip.red[row.clone()], &strip.green[row.clone()], &strip.blue[row], buffers);
    }
}

/// RGB to the three planes of JPEG (JFIF 1.02, "Conversion to and from RGB"), in 16 bits so that one instruction reckons
/// many pixels: greys are exact, other colours within one and a half of the 255 levels.
fn separate(red: &[u8], green: &[u8], blue: &[u8], buffers: &mut [Vec<u8>; 4]) {
    let pixels = || red.iter().zip(green).zip(blue).map(|((&red, &green), &blue)| (red, green, blue));
    let [luma, blueness, redness, _] = buffers;
    luma.extend(pixels().map(|(red, green, blue)| {
        ((77 * u16::from(red) + 150 * u16::from(green) + 29 * u16::from(blue) + 128) >> 8) as u8
    }));
    // The weights of each sum to nothing, so no sum leaves 16 bits, and shifted it fits a byte around its middle.
    let around = |sum: i16| ((sum >> 8) + 128).to_le_bytes()[0];
    let wide = |value: u8| i16::from(value);
    let half = |value: u8| i16::from(value).wrapping_mul(128);
    blueness.extend(pixels().map(|(red, green, blue)| {
        around(half(blue).wrapping_sub(43 * wide(red)).wrapping_sub(85 * wide(green)).wrapping_add(127))
    }));
    redness.extend(pixels().map(|(red, green, blue)| {
        around(half(red).wrapping_sub(107 * wide(green)).wrapping_sub(21 * wide(blue)).wrapping_add(127))
    }));
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A 3 x 2 picture `a b c / d e f` stored in each of the eight ways must be read back as itself.
    #[test]
    fn every_stored_way_is_read_upright() {
        let stored: [(&str, (u16, u16)); 8] = [
            ("abcdef", (3, 2)),
            ("cbafed", (3, 2)),
            ("fedcba", (3, 2)),
            ("defabc", (3, 2)),
            ("adbecf", (2, 3)),
            // Turning 90 degrees clockwise makes it upright: stored columns, read from the bottom, are the rows.
            ("cfbead", (2, 3)),
            ("fcebda", (2, 3)),
            ("daebfc", (2, 3)),
        ];
        for (code, (letters, size)) in (1_u8..).zip(stored) {
            let pixels: Vec<u8> = letters.bytes().flat_map(|letter| [letter; 3]).collect();
            let turn = Turn::from_exif(code);
            assert_eq!(turn.upright((u32::from(size.0), u32::from(size.1))), (3, 2), "orientation {code}");
            let turned = Turned::new(&pixels, turn, 3, 2);
            let mut planes: [Vec<u8>; 4] = Default::default();
            turned.fill_buffers(0, &mut planes);
            turned.fill_buffers(1, &mut planes);
            // A grey pixel's luma is its value.
            assert_eq!(String::from_utf8(planes[0].clone()).unwrap(), "abcdef", "orientation {code}");
        }
    }

    #[test]
    fn strips_join_without_a_seam() {
        let (width, height) = (5_u16, 50_u16);
        let pixels: Vec<u8> = (0..50 * 5).flat_map(|at: u8| [at; 3]).collect();
        let turned = Turned::new(&pixels, Turn::from_exif(5), width, height);
        let mut planes: [Vec<u8>; 4] = Default::default();
        (0..height).for_each(|y| turned.fill_buffers(y, &mut planes));
        for y in 0..50_u8 {
            for x in 0..5_u8 {
                assert_eq!(planes[0][usize::from(y) * 5 + usize::from(x)], x * 50 + y);
            }
        }
    }

    /// Against the formula of JFIF 1.02 itself, in f64.
    #[test]
    fn colours_are_those_of_the_formula_within_a_level_and_a_half() {
        let shades: Vec<u8> = (0..=255).step_by(15).chain([1, 254]).collect();
        for &red in &shades {
            for &green in &shades {
                for &blue in &shades {
                    let mut planes: [Vec<u8>; 4] = Default::default();
                    separate(&[red], &[green], &[blue], &mut planes);
                    let [r, g, b] = [red, green, blue].map(f64::from);
                    let exact = [
                        0.299 * r + 0.587 * g + 0.114 * b,
                        128.0 - 0.168_736 * r - 0.331_264 * g + 0.5 * b,
                        128.0 + 0.5 * r - 0.418_688 * g - 0.081_312 * b,
                    ];
                    let grey = red == green && green == blue;
                    for (plane, exact) in planes.iter().zip(exact) {
                        let off = (f64::from(plane[0]) - exact).abs();
                        assert!(
                            off < if grey { 0.501 } else { 1.51 },
                            "{red} {green} {blue}: {plane:?}, {exact}"
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn buffers_that_do_not_fit_are_refused() {
        assert_eq!(write(&[0; 11], (2, 2), Turn::default(), 90), Err(Misfit));
        assert_eq!(write(&[0; 12], (0, 2), Turn::default(), 90), Err(Misfit));
        assert_eq!(write(&vec![0; 3 * 65_536], (65_536, 1), Turn::default(), 90), Err(Misfit));
        assert!(
            write(&[0; 12], (2, 2), Turn::from_exif(6), 90).unwrap().starts_with(&[0xFF, 0xD8, 0xFF, 0xE0])
        );
    }
}
