//! How an etch came up: what the roller shows at the next roll-up or the first proof, in the words of the trade.

use crate::spelled;

spelled! {
    /// What the etch did to the image.
    CameUp {
        /// Every tone as it was drawn.
        AsDrawn = "as-drawn",
        /// Light tones are gone: the etch was too strong or too long.
        Burned = "burned",
        /// The whole image takes little ink.
        Weak = "weak",
        /// Darks have closed up: the etch was too weak.
        FilledIn = "filled-in",
        /// Good in one place, not in another.
        Uneven = "uneven",
        /// Specks and thickened marks on the blank parts (scum).
        BorderDirt = "border-dirt",
        /// An even film of ink on the blank parts (tint).
        BorderVeil = "border-veil",
        /// None of these: the note says what.
        Otherwise = "otherwise",
    }
}

impl CameUp {
    /// Whether a note has to say what was seen.
    #[must_use]
    pub const fn wants_note(self) -> bool {
        matches!(self, Self::Otherwise)
    }
}
