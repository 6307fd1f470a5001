//! What can be wrong with a received picture, and the sentence for it.

use crate::trade::remark::Remark;

/// The most bytes a picture may have: 25 MB.
pub const MOST_BYTES: usize = 25_000_000;

/// The most pixels a picture may have: 50 megapixels.
pub const MOST_PIXELS: u64 = 50_000_000;

/// The longest side in pixels: the longest a JPEG can say (ITU-T T.81, B.2.2).
pub const LONGEST_SIDE: u32 = 65_535;

/// What many phones store unless told otherwise: it gets a sentence of its own.
pub(super) const HEIC: &str = "HEIC";

/// Why a picture is refused. Nothing of a refused picture is stored.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PictureFault {
    /// No bytes at all.
    Empty,
    /// More bytes than `MOST_BYTES`.
    TooHeavy { bytes: usize },
    /// Neither JPEG, PNG nor WebP, nor anything else we can name.
    NotAPicture,
    /// A picture, but of a kind we do not read; the kind is said by its own name.
    OtherKind { kind: &'static str },
    /// More pixels than `MOST_PIXELS`, or a side longer than `LONGEST_SIDE`; the header says so.
    TooLarge { width: u32, height: u32 },
    /// Four printing inks instead of red, green and blue.
    Cmyk,
    /// The file ends before the picture does.
    CutShort,
    /// The picture cannot be decoded.
    Damaged,
}

impl PictureFault {
    /// The sentence for the person who sent the picture.
    #[must_use]
    pub fn remark(self) -> Remark {
        match self {
            Self::Empty => Remark::new("proofs-picture-empty"),
            Self::TooHeavy { bytes } => {
                Remark::new("proofs-picture-too-heavy").with("megabytes", tenths(bytes as u64))
            }
            Self::NotAPicture => Remark::new("proofs-picture-none"),
            Self::OtherKind { kind: HEIC } => Remark::new("proofs-picture-heic"),
            Self::OtherKind { kind } => Remark::new("proofs-picture-other-kind").with("kind", kind),
            Self::TooLarge { width, height } => Remark::new("proofs-picture-too-large")
                .with("width", i64::from(width))
                .with("height", i64::from(height))
                .with("megapixels", tenths(u64::from(width) * u64::from(height))),
            Self::Cmyk => Remark::new("proofs-picture-cmyk"),
            Self::CutShort => Remark::new("proofs-picture-cut-short"),
            Self::Damaged => Remark::new("proofs-picture-damaged"),
        }
    }
}

/// Millions with one decimal, rounded up: what is over a limit never reads as if it met it.
fn tenths(count: u64) -> String {
    let tenths = count.div_ceil(100_000);
    format!("{}.{}", tenths / 10, tenths % 10)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::speech::Speech;

    #[test]
    fn every_fault_has_its_sentence() {
        let speech = Speech::load().unwrap();
        let faults = [
            PictureFault::Empty,
            PictureFault::TooHeavy { bytes: 25_000_001 },
            PictureFault::NotAPicture,
            PictureFault::OtherKind { kind: HEIC },
            PictureFault::OtherKind { kind: "GIF" },
            PictureFault::TooLarge { width: 60_000, height: 60_000 },
            PictureFault::Cmyk,
            PictureFault::CutShort,
            PictureFault::Damaged,
        ];
        for fault in faults {
            let remark = fault.remark();
            let said = speech.say(remark.key, &remark.with).unwrap();
            assert!(said.ends_with('.'), "{said}");
        }
        let heavy = PictureFault::TooHeavy { bytes: 25_000_001 }.remark();
        assert!(speech.remark(&heavy).contains("25.1 MB"));
        let large = PictureFault::TooLarge { width: 60_000, height: 60_000 }.remark();
        assert!(speech.remark(&large).contains("60000 x 60000"));
    }
}
