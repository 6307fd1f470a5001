//! From received bytes to the three JPEGs that are kept: upright, in sRGB, without metadata.
//!
//! The order of work keeps the memory small: the header is read and judged first (`header`), the whole picture is
//! decoded once, shrunk as it lies, and turned only while each JPEG is written.

use std::io::Cursor;
use std::time::Duration;

use image::codecs::{jpeg::JpegDecoder, png::PngDecoder, webp::WebPDecoder};
use image::{ColorType, ImageDecoder, ImageResult, Limits};
use sha2::{Digest, Sha256};
use tympan_raster::jpeg::{Quality, Turn};
use tympan_raster::{flatten, jpeg, shrink};

use super::budget::{Busy, Gate};
use super::colour;
pub use super::fault::PictureFault;
use super::header::{self, Header, Kind};
use crate::trade::remark::Remark;

/// Quality of the full size, the 1600 and the 320 pixel copy. The full size keeps as many colours as came.
const QUALITIES: [u8; 3] = [90, 88, 82];

/// What a decoder may allocate besides the pixels themselves: rows, tables, profiles.
const DECODER_BYTES: u64 = 32_000_000;

/// A picture ready for the shelf. All three files are JPEG, upright, sRGB, without metadata.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Prepared {
    /// Every pixel that was received; the received file itself is not kept.
    pub full: Vec<u8>,
    /// At most 1600 pixels on the long side.
    pub large_1600: Vec<u8>,
    /// At most 320 pixels on the long side.
    pub small_320: Vec<u8>,
    /// Pixels across, upright.
    pub width: u32,
    /// Pixels down, upright.
    pub height: u32,
    /// SHA-256 of the received bytes: tells when the same file comes twice.
    pub sha256: [u8; 32],
}

impl Prepared {
    /// Files that lay on a shelf before, to be laid on one again: nothing else of the picture is known.
    #[must_use]
    pub fn laid_before(full: Vec<u8>, large_1600: Vec<u8>, small_320: Vec<u8>) -> Self {
        Self { full, large_1600, small_320, width: 0, height: 0, sha256: [0; 32] }
    }
}

/// Why no picture came out: what was sent, or a house too busy to look at it now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotPrepared {
    Fault(PictureFault),
    Busy(Busy),
}

impl NotPrepared {
    /// The sentence for the person who sent the picture.
    #[must_use]
    pub fn remark(self) -> Remark {
        match self {
            Self::Fault(fault) => fault.remark(),
            Self::Busy(busy) => busy.remark(),
        }
    }
}

/// Prepares a picture as soon as `gate` lets it in. For blocking tasks: it may wait as long as `patience`.
///
/// # Errors
/// What `prepare` gives, or `Busy` when the wait was too long.
pub fn prepare_within(bytes: &[u8], gate: &Gate, patience: Duration) -> Result<Prepared, NotPrepared> {
    let received = Received::read(bytes).map_err(NotPrepared::Fault)?;
    let _pass = gate.enter(received.work_bytes(), patience).map_err(NotPrepared::Busy)?;
    received.prepare().map_err(NotPrepared::Fault)
}

/// Prepares a picture at once.
///
/// # Errors
/// The picture is none that can be kept; the fault says why.
pub fn prepare(bytes: &[u8]) -> Result<Prepared, PictureFault> {
    Received::read(bytes)?.prepare()
}

/// Received bytes whose header has been read and found within the limits. Nothing is decoded yet.
#[derive(Debug)]
struct Received<'a> {
    bytes: &'a [u8],
    header: Header,
    turn: Turn,
}

impl<'a> Received<'a> {
    fn read(bytes: &'a [u8]) -> Result<Self, PictureFault> {
        let header = header::read(bytes)?;
        let mut decoder = decoder(bytes, &header)?;
        // An orientation that cannot be read is none: the picture itself is what matters.
        let turn = decoder.orientation().map_or(Turn::default(), |stored| Turn::from_exif(stored.to_exif()));
        Ok(Self { bytes, header, turn })
    }

    fn work_bytes(&self) -> u64 {
        self.header.work_bytes(!self.turn.is_none())
    }

    fn prepare(self) -> Result<Prepared, PictureFault> {
        let stored = (self.header.width, self.header.height);
        let pixels = self.decode()?;
        let full_quality = Quality { of_100: QUALITIES[0], halve_colours: self.header.halved_colours };
        let write = |pixels: &[u8], size, quality: Quality| {
            jpeg::write(pixels, size, self.turn, quality).or(Err(PictureFault::Damaged))
        };
        let smaller = |pixels: &[u8], size, long_side| {
            let to = shrink::within(stored.0, stored.1, long_side);
            shrink::rgb(pixels, size, to).map(|pixels| (pixels, to)).or(Err(PictureFault::Damaged))
        };
        let (large, large_size) = smaller(&pixels, stored, 1600)?;
        let full = write(&pixels, stored, full_quality)?;
        drop(pixels);
        let (small, small_size) = smaller(&large, large_size, 320)?;
        let (width, height) = self.turn.upright(stored);
        Ok(Prepared {
            full,
            large_1600: write(&large, large_size, QUALITIES[1].into())?,
            small_320: write(&small, small_size, QUALITIES[2].into())?,
            width,
            height,
            sha256: Sha256::digest(self.bytes).into(),
        })
    }

    /// All pixels as 8-bit sRGB, lying as they are stored.
    fn decode(&self) -> Result<Vec<u8>, PictureFault> {
        let mut decoder = decoder(self.bytes, &self.header)?;
        let profile = decoder.icc_profile().ok().flatten();
        let profile = profile.as_deref();
        let colours = decoder.color_type();
        let wanted = usize::try_from(decoder.total_bytes()).or(Err(PictureFault::Damaged))?;
        let mut pixels = vec![0; wanted];
        decoder.read_image_boxed(&mut pixels).map_err(|error| judge(&error))?;
        if matches!(colours, ColorType::L16 | ColorType::La16 | ColorType::Rgb16 | ColorType::Rgba16) {
            pixels = flatten::halve_depth(pixels);
        }
        match colours {
            ColorType::L8 | ColorType::L16 => Ok(flatten::spread_grey(&pixels, &colour::grey_table(profile))),
            ColorType::La8 | ColorType::La16 => {
                Ok(flatten::spread_grey_alpha(&pixels, &colour::grey_table(profile)))
            }
            ColorType::Rgb8 | ColorType::Rgb16 => {
                colour::to_srgb(&mut pixels, 3, profile)?;
                Ok(pixels)
            }
            ColorType::Rgba8 | ColorType::Rgba16 => {
                colour::to_srgb(&mut pixels, 4, profile)?;
                Ok(flatten::lay_on_white(pixels))
            }
            _ => Err(PictureFault::Damaged),
        }
    }
}

/// The decoder of the header's kind; it must see the same size as the header did.
fn decoder<'a>(bytes: &'a [u8], header: &Header) -> Result<Box<dyn ImageDecoder + 'a>, PictureFault> {
    let mut limits = Limits::no_limits();
    limits.max_image_width = Some(header.width);
    limits.max_image_height = Some(header.height);
    limits.max_alloc = Some(DECODER_BYTES);
    let source = Cursor::new(bytes);
    let open = || -> ImageResult<Box<dyn ImageDecoder + 'a>> {
        Ok(match header.kind {
            Kind::Jpeg => Box::new(JpegDecoder::new(source)?),
            Kind::Png => Box::new(PngDecoder::with_limits(source, limits.clone())?),
            Kind::WebP => Box::new(WebPDecoder::new(source)?),
        })
    };
    let mut decoder = open().map_err(|error| judge(&error))?;
    // The pixels are ours to allocate; their number is checked already.
    limits.max_alloc = Some(header.work_bytes(true).max(DECODER_BYTES));
    decoder.set_limits(limits).map_err(|error| judge(&error))?;
    if decoder.dimensions() == (header.width, header.height) {
        Ok(decoder)
    } else {
        Err(PictureFault::Damaged)
    }
}

/// A decoder that runs out of bytes says so in its own words or as an I/O error; all else is damage.
fn judge(error: &image::ImageError) -> PictureFault {
    let mut cause: Option<&(dyn std::error::Error + 'static)> = Some(error);
    while let Some(error) = cause {
        let io = error.downcast_ref::<std::io::Error>();
        if io.is_some_and(|io| io.kind() == std::io::ErrorKind::UnexpectedEof) {
            return PictureFault::CutShort;
        }
        cause = error.source();
    }
    PictureFault::Damaged
}

#[cfg(test)]
mod tests {
    use super::super::budget::Allowance;
    use super::*;

    /// A picture of `width` x `height` whose left half is darker than its right.
    fn received(width: u32, height: u32) -> Vec<u8> {
        let pixels: Vec<u8> = (0..height)
            .flat_map(|_| (0..width).flat_map(|x| [if x * 2 < width { 60 } else { 200 }; 3]))
            .collect();
        jpeg::write(&pixels, (width, height), Turn::default(), 95).unwrap()
    }

    #[test]
    fn three_sizes_in_one_proportion() {
        let bytes = received(2000, 500);
        let prepared = prepare(&bytes).unwrap();
        let size = |jpeg: &[u8]| {
            let header = header::read(jpeg).unwrap();
            (header.width, header.height)
        };
        assert_eq!((prepared.width, prepared.height), (2000, 500));
        assert_eq!(size(&prepared.full), (2000, 500));
        assert_eq!(size(&prepared.large_1600), (1600, 400));
        assert_eq!(size(&prepared.small_320), (320, 80));
        assert_eq!(prepared.sha256, <[u8; 32]>::from(Sha256::digest(&bytes)));
        let small = image::load_from_memory(&prepared.small_320).unwrap().to_rgb8();
        assert!(small.get_pixel(40, 40)[0].abs_diff(60) < 4);
        assert!(small.get_pixel(280, 40)[0].abs_diff(200) < 4);
    }

    #[test]
    fn the_full_size_keeps_as_many_colours_as_came() {
        for halve_colours in [true, false] {
            let grey = vec![128; 40 * 30 * 3];
            let sent = jpeg::write(&grey, (40, 30), Turn::default(), Quality { of_100: 92, halve_colours });
            let prepared = prepare(&sent.unwrap()).unwrap();
            let halved = |jpeg: &[u8]| header::read(jpeg).unwrap().halved_colours;
            assert_eq!((halved(&prepared.full), halved(&prepared.small_320)), (halve_colours, true));
        }
    }

    #[test]
    fn small_pictures_are_not_enlarged() {
        let prepared = prepare(&received(40, 30)).unwrap();
        let header = header::read(&prepared.large_1600).unwrap();
        assert_eq!((header.width, header.height), (40, 30));
        assert_eq!(prepare(&received(1, 1)).unwrap().width, 1);
    }

    #[test]
    fn a_full_gate_says_busy_and_a_bad_header_never_reaches_it() {
        let gate = Gate::new(Allowance { at_once: 1, bytes: 1_000_000, waiting: 4 });
        let soon = Duration::from_millis(10);
        let pass = gate.enter(1, soon).unwrap();
        let busy = prepare_within(&received(40, 30), &gate, soon).unwrap_err();
        assert_eq!(busy, NotPrepared::Busy(Busy));
        let fault = prepare_within(b"nothing of a picture", &gate, soon).unwrap_err();
        assert_eq!(fault, NotPrepared::Fault(PictureFault::NotAPicture));
        drop(pass);
        assert!(prepare_within(&received(40, 30), &gate, soon).is_ok());
        assert_eq!(gate.in_work(), (0, 0));
    }
}
