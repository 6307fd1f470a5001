//! Reading the header of a picture: the kind by its first bytes, the size and what decoding will take, before any
//! pixel has a place in memory. Sources: JPEG is ITU-T T.81 annex B, PNG the W3C recommendation (third edition)
//! 5.2 and 11.2.1, WebP is RFC 9649.

use super::fault::{HEIC, LONGEST_SIDE, MOST_BYTES, MOST_PIXELS, PictureFault};

/// The kinds of picture we read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Jpeg,
    Png,
    WebP,
}

/// What the header says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Header {
    pub kind: Kind,
    /// Pixels across, as stored (before turning upright).
    pub width: u32,
    /// Pixels down, as stored.
    pub height: u32,
    /// Its colours came with half the pixels both ways, as most cameras write them: keeping more of them keeps nothing.
    pub halved_colours: bool,
    /// Bytes a pixel that decoding holds at once, at most.
    bytes_a_pixel: u64,
}

impl Header {
    #[must_use]
    pub fn pixels(&self) -> u64 {
        u64::from(self.width) * u64::from(self.height)
    }

    /// Bytes to reserve before decoding: three a pixel, six when the picture must be turned, more when the format
    /// itself needs more while it is decoded (transparency, 16 bits, a progressive JPEG).
    #[must_use]
    pub fn work_bytes(&self, turned: bool) -> u64 {
        let least = if turned { 6 } else { 3 };
        self.pixels() * self.bytes_a_pixel.max(least)
    }
}

/// Reads the header and checks every limit that can be checked without decoding.
///
/// # Errors
/// No bytes or too many, not a JPEG, PNG or WebP, too many pixels, four inks, or a file that ends too early.
pub fn read(bytes: &[u8]) -> Result<Header, PictureFault> {
    if bytes.is_empty() {
        return Err(PictureFault::Empty);
    }
    if bytes.len() > MOST_BYTES {
        return Err(PictureFault::TooHeavy { bytes: bytes.len() });
    }
    let header = match kind(bytes)? {
        Kind::Jpeg => jpeg(bytes)?,
        Kind::Png => png(bytes).ok_or(PictureFault::CutShort)?,
        Kind::WebP => webp(bytes)?,
    };
    let Header { width, height, .. } = header;
    if width == 0 || height == 0 {
        return Err(PictureFault::Damaged);
    }
    if header.pixels() > MOST_PIXELS || width.max(height) > LONGEST_SIDE {
        return Err(PictureFault::TooLarge { width, height });
    }
    Ok(header)
}

fn kind(bytes: &[u8]) -> Result<Kind, PictureFault> {
    const OTHERS: [(usize, &[u8], &str); 14] = [
        (0, b"GIF8", "GIF"),
        (0, b"BM", "BMP"),
        (0, b"II*\0", "TIFF or camera raw"),
        (0, b"MM\0*", "TIFF or camera raw"),
        (0, b"%PDF", "PDF"),
        (0, &[0xFF, 0x0A], "JPEG XL"),
        (0, b"\0\0\0\x0CJXL ", "JPEG XL"),
        (0, b"\0\0\0\x0CjP  ", "JPEG 2000"),
        (4, b"ftypavi", "AVIF"),
        (4, b"ftyphei", HEIC),
        (4, b"ftyphev", HEIC),
        (4, b"ftypmif1", HEIC),
        (4, b"ftypmsf1", HEIC),
        (4, b"ftyp", "video"),
    ];
    let starts = |at: usize, with: &[u8]| bytes.get(at..).is_some_and(|rest| rest.starts_with(with));
    if starts(0, &[0xFF, 0xD8, 0xFF]) {
        return Ok(Kind::Jpeg);
    }
    if starts(0, b"\x89PNG\r\n\x1A\n") {
        return Ok(Kind::Png);
    }
    if starts(0, b"RIFF") && starts(8, b"WEBP") {
        return Ok(Kind::WebP);
    }
    match OTHERS.iter().find(|(at, with, _)| starts(*at, with)) {
        Some((_, _, kind)) => Err(PictureFault::OtherKind { kind }),
        None => Err(PictureFault::NotAPicture),
    }
}

/// Walks the segments to the end-of-image marker. A decoder fills what is missing with grey; here a JPEG without
/// its end is refused instead.
fn jpeg(bytes: &[u8]) -> Result<Header, PictureFault> {
    let mut frame = None;
    let mut at = 2;
    loop {
        let marker = next_marker(bytes, &mut at).ok_or(PictureFault::CutShort)?;
        match marker {
            0x01 | 0xD0..=0xD8 => {}
            0xD9 => return frame.ok_or(PictureFault::Damaged),
            _ => {
                let length = usize::from(be16(bytes, at).ok_or(PictureFault::CutShort)?);
                let segment = bytes.get(at..at + length).ok_or(PictureFault::CutShort)?;
                if matches!(marker, 0xC0..=0xCF) && !matches!(marker, 0xC4 | 0xC8 | 0xCC) {
                    // A second frame would make the size that was checked worthless.
                    if frame.is_some() {
                        return Err(PictureFault::Damaged);
                    }
                    frame = Some(jpeg_frame(marker, segment)?);
                }
                at += length.max(2);
            }
        }
    }
}

/// Moves past the next marker and gives its code. Entropy-coded data lies between markers and is passed over:
/// there a 0xFF is followed by 0x00 (T.81, B.1.1.5); fill bytes are 0xFF.
fn next_marker(bytes: &[u8], at: &mut usize) -> Option<u8> {
    loop {
        let rest = bytes.get(*at..)?;
        *at += rest.iter().position(|&byte| byte == 0xFF)? + 1;
        match *bytes.get(*at)? {
            0x00 => *at += 1,
            0xFF => {}
            code => {
                *at += 1;
                return Some(code);
            }
        }
    }
}

fn jpeg_frame(marker: u8, segment: &[u8]) -> Result<Header, PictureFault> {
    let field = |at| be16(segment, at).ok_or(PictureFault::Damaged);
    let components = *segment.get(7).ok_or(PictureFault::Damaged)?;
    if components == 4 {
        return Err(PictureFault::Cmyk);
    }
    // A progressive JPEG keeps the coefficients of every component, two bytes each, until the last scan.
    let progressive = matches!(marker, 0xC2 | 0xC6 | 0xCA | 0xCE);
    let coefficients = if progressive { 2 * u64::from(components) } else { 0 };
    // Grey is spread to RGB beside its own buffer.
    let decoded = if components == 1 { 4 } else { 3 };
    // T.81, B.2.2: three bytes a component, the second says how often it is sampled across and down.
    let sampling = |component: usize| segment.get(9 + 3 * component).copied();
    Ok(Header {
        kind: Kind::Jpeg,
        width: u32::from(field(5)?),
        height: u32::from(field(3)?),
        halved_colours: components == 3
            && sampling(0) == Some(0x22)
            && (1..3).all(|one| sampling(one) == Some(0x11)),
        bytes_a_pixel: decoded + coefficients,
    })
}

/// The IHDR chunk comes first and says all.
fn png(bytes: &[u8]) -> Option<Header> {
    if bytes.get(12..16)? != b"IHDR" {
        return None;
    }
    let (width, height) = (be32(bytes, 16)?, be32(bytes, 20)?);
    let (depth, colour) = (*bytes.get(24)?, *bytes.get(25)?);
    // Colour type 3 (palette) may carry transparency and is expanded.
    let channels = match colour {
        0 => 1,
        2 => 3,
        4 => 2,
        _ => 4,
    };
    let bytes_a_pixel = if depth == 16 { channels * 2 } else { channels };
    // Grey is spread to RGB beside its own buffer.
    let spread = if channels < 3 { 3 } else { 0 };
    let bytes_a_pixel = bytes_a_pixel + spread;
    Some(Header { kind: Kind::Png, width, height, halved_colours: false, bytes_a_pixel })
}

/// The canvas and every bitstream must state the same size: a decoder reserves memory by the latter.
fn webp(bytes: &[u8]) -> Result<Header, PictureFault> {
    let mut canvas = None;
    let (mut bytes_a_pixel, mut halved_colours) = (0, false);
    let mut at = 12;
    while let Some(name) = bytes.get(at..at + 4) {
        let length = le(bytes, at + 4, 4).ok_or(PictureFault::CutShort)?;
        let length = usize::try_from(length).or(Err(PictureFault::CutShort))?;
        let body = bytes.get(at + 8..).unwrap_or_default();
        if length > body.len() {
            return Err(PictureFault::CutShort);
        }
        // Bit 1 of the flags: animation.
        if name == b"VP8X" && body.first().is_some_and(|flags| flags & 0b10 != 0) {
            return Err(PictureFault::OtherKind { kind: "animated WebP" });
        }
        if let Some(size) = webp_size(name, body) {
            let size = size.ok_or(PictureFault::CutShort)?;
            if *canvas.get_or_insert(size) != size {
                return Err(PictureFault::Damaged);
            }
        }
        // The lossy kind has its colours halved, always (RFC 6386, 2).
        halved_colours |= name == b"VP8 ";
        // What the decoder holds at once: colours twice, the planes beside the colours, the plane of transparency.
        bytes_a_pixel += match name {
            b"VP8L" => 8,
            b"VP8 " => 5,
            b"ALPH" => 6,
            _ => 0,
        };
        at += 8 + length + length % 2;
    }
    let (width, height) = canvas.ok_or(PictureFault::CutShort)?;
    Ok(Header { kind: Kind::WebP, width, height, halved_colours, bytes_a_pixel })
}

/// The size a chunk states, when it is one that does; `None` inside when the chunk ends before it.
fn webp_size(name: &[u8], body: &[u8]) -> Option<Option<(u32, u32)>> {
    match name {
        b"VP8X" => Some(le(body, 4, 3).zip(le(body, 7, 3)).map(|(width, height)| (width + 1, height + 1))),
        b"VP8 " => {
            Some(le(body, 6, 2).zip(le(body, 8, 2)).map(|(width, height)| (width & 0x3FFF, height & 0x3FFF)))
        }
        b"VP8L" => Some(le(body, 1, 4).map(|bits| ((bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1))),
        _ => None,
    }
}

fn be16(bytes: &[u8], at: usize) -> Option<u16> {
    bytes.get(at..at + 2)?.try_into().ok().map(u16::from_be_bytes)
}

fn be32(bytes: &[u8], at: usize) -> Option<u32> {
    bytes.get(at..at + 4)?.try_into().ok().map(u32::from_be_bytes)
}

/// A little-endian number of `count` bytes, at most four.
fn le(bytes: &[u8], at: usize, count: usize) -> Option<u32> {
    let digits = bytes.get(at..at + count)?;
    Some(digits.iter().rev().fold(0, |value, &byte| value << 8 | u32::from(byte)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn png_header(width: u32, height: u32, depth: u8, colour: u8) -> Vec<u8> {
        let mut bytes = b"\x89PNG\r\n\x1A\n\0\0\0\x0DIHDR".to_vec();
        bytes.extend(width.to_be_bytes());
        bytes.extend(height.to_be_bytes());
        bytes.extend([depth, colour, 0, 0, 0]);
        bytes
    }

    #[test]
    fn limits_hold_to_the_pixel() {
        assert_eq!(read(&png_header(10_000, 5_000, 8, 2)).unwrap().pixels(), 50_000_000);
        let over = read(&png_header(10_000, 5_001, 8, 2)).unwrap_err();
        assert_eq!(over, PictureFault::TooLarge { width: 10_000, height: 5_001 });
        assert!(read(&png_header(65_535, 1, 8, 2)).is_ok());
        assert!(read(&png_header(65_536, 1, 8, 2)).is_err());
        let most = read(&png_header(u32::MAX, u32::MAX, 8, 2)).unwrap_err();
        assert_eq!(most, PictureFault::TooLarge { width: u32::MAX, height: u32::MAX });
        assert_eq!(read(&png_header(0, 7, 8, 2)).unwrap_err(), PictureFault::Damaged);
    }

    #[test]
    fn work_is_three_bytes_a_pixel_and_twice_that_when_turned() {
        let colours = read(&png_header(4_000, 3_000, 8, 2)).unwrap();
        assert_eq!(colours.work_bytes(false), 36_000_000);
        assert_eq!(colours.work_bytes(true), 72_000_000);
        // 16-bit RGBA is decoded as eight bytes a pixel.
        assert_eq!(read(&png_header(10, 10, 16, 6)).unwrap().work_bytes(true), 800);
    }

    #[test]
    fn other_kinds_are_named() {
        let kind = |bytes: &[u8]| match read(bytes) {
            Err(PictureFault::OtherKind { kind }) => kind,
            other => panic!("{other:?}"),
        };
        assert_eq!(kind(b"\0\0\0\x18ftypheic\0\0\0\0"), "HEIC");
        assert_eq!(kind(b"GIF89a\x01\0\x01\0"), "GIF");
        assert_eq!(kind(b"II*\0\x08\0\0\0"), "TIFF or camera raw");
        let animated = b"RIFF\x1A\0\0\0WEBPVP8X\x0A\0\0\0\x02\0\0\0\x09\0\0\x09\0\0";
        assert_eq!(kind(animated), "animated WebP");
        assert_eq!(read(b"<svg xmlns='http://www.w3.org/2000/svg'/>"), Err(PictureFault::NotAPicture));
    }

    /// A WebP of 10 x 10 whose bitstream claims 16383 x 16383 would make the decoder reserve 400 MB.
    #[test]
    fn a_webp_must_be_as_large_as_it_says() {
        let mut bytes = b"RIFF\x2E\0\0\0WEBPVP8X\x0A\0\0\0\0\0\0\0\x09\0\0\x09\0\0".to_vec();
        let frame = b"VP8 \x0A\0\0\0\0\0\0\x9D\x01\x2A\xFF\x3F\xFF\x3F";
        assert_eq!(read(&bytes).unwrap().pixels(), 100);
        bytes.extend(frame);
        assert_eq!(read(&bytes), Err(PictureFault::Damaged));
        assert_eq!(read(&bytes[..bytes.len() - 1]), Err(PictureFault::CutShort));
    }

    #[test]
    fn a_jpeg_is_walked_to_its_end() {
        let frame = |marker: u8, components: u8| {
            let mut segment = vec![0xFF, marker, 0, 8, 8, 0, 20, 0, 30, components];
            segment.extend([0xFF, 0xDA, 0, 2, 1, 2, 0xFF, 0, 0xFF, 0xD0, 3]);
            [vec![0xFF, 0xD8], segment].concat()
        };
        let ended = |bytes: Vec<u8>| [bytes, vec![0xFF, 0xFF, 0xD9]].concat();
        assert_eq!(read(&frame(0xC0, 3)), Err(PictureFault::CutShort));
        let baseline = read(&ended(frame(0xC0, 3))).unwrap();
        assert_eq!((baseline.width, baseline.height, baseline.work_bytes(false)), (30, 20, 1_800));
        assert!(!baseline.halved_colours, "it says nothing of its sampling");
        let sampled = |luma: u8, blue: u8, red: u8| {
            let mut segment = vec![0xFF, 0xD8, 0xFF, 0xC0, 0, 17, 8, 0, 20, 0, 30, 3];
            segment.extend([1, luma, 0, 2, blue, 1, 3, red, 1]);
            read(&ended(segment)).unwrap().halved_colours
        };
        assert!(sampled(0x22, 0x11, 0x11));
        assert!(!sampled(0x11, 0x11, 0x11) && !sampled(0x21, 0x11, 0x11) && !sampled(0x22, 0x11, 0x21));
        assert_eq!(read(&ended(frame(0xC2, 3))).unwrap().work_bytes(false), 600 * 9);
        assert_eq!(read(&ended(frame(0xC0, 4))), Err(PictureFault::Cmyk));
        assert_eq!(read(&[0xFF, 0xD8, 0xFF, 0xD9]), Err(PictureFault::Damaged));
        let twice = [frame(0xC0, 3), frame(0xC0, 3)].concat();
        assert_eq!(read(&ended(twice)), Err(PictureFault::Damaged));
    }
}
