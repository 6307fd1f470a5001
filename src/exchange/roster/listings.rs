//! Which listing of the class a row means: `LIT 220-01`, `lit220 1`, or `01` alone where that is certain.

use super::Listing;
use super::columns::compact;

/// What a text means among the listings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Meant<L> {
    One(L),
    None,
    Several,
}

/// The listings of the class with the ways they are written.
#[derive(Debug)]
pub(super) struct Listings<L> {
    written: Vec<Written<L>>,
    /// For sentences: `LIT 220-01, LIT 420-01`.
    pub(super) known: String,
}

#[derive(Debug)]
struct Written<L> {
    id: L,
    code: String,
    /// As it is, and without leading zeros, which spreadsheet programs take away.
    sections: [String; 2],
}

impl<L: Copy> Listings<L> {
    pub(super) fn new(listings: &[Listing<L>]) -> Self {
        let written = listings.iter().map(|listing| {
            let section = compact(&listing.section);
            let short = without_zeros(&section).to_owned();
            Written { id: listing.id, code: compact(&listing.code), sections: [section, short] }
        });
        Self { written: written.collect(), known: known(listings) }
    }

    /// Finds the listing from the cells `course` and `section`; either may be empty.
    pub(super) fn find(&self, course: &str, section: &str) -> Meant<L> {
        let (course, section) = (compact(course), compact(section));
        let whole = |text: &str| self.one(|listing| listing.is_whole(text));
        if !course.is_empty() && !section.is_empty() {
            return whole(&section)
                .or_else(|| self.one(|listing| listing.code == course && listing.is_section(&section)));
        }
        let text = if section.is_empty() { course } else { section };
        whole(&text)
            .or_else(|| self.one(|listing| listing.is_section(&text)))
            .or_else(|| self.one(|listing| listing.code == text))
    }

    fn one(&self, is_meant: impl Fn(&Written<L>) -> bool) -> Meant<L> {
        let mut meant = self.written.iter().filter(|listing| is_meant(listing));
        match (meant.next(), meant.next()) {
            (None, _) => Meant::None,
            (Some(listing), None) => Meant::One(listing.id),
            _ => Meant::Several,
        }
    }
}

impl<L> Meant<L> {
    fn or_else(self, next: impl FnOnce() -> Self) -> Self {
        match self {
            Self::None => next(),
            found => found,
        }
    }
}

impl<L> Written<L> {
    fn is_section(&self, text: &str) -> bool {
        !text.is_empty() && (self.sections.iter().any(|section| section == text) || self.is_same_number(text))
    }

    /// `1`, `01` and `001` are one section.
    fn is_same_number(&self, text: &str) -> bool {
        let [_, short] = &self.sections;
        is_digits(text) && is_digits(short) && without_zeros(text) == short
    }

    fn is_whole(&self, text: &str) -> bool {
        text.strip_prefix(self.code.as_str()).is_some_and(|section| self.is_section(section))
    }
}

/// The listings as people read them, parted by commas; the word `none` where the class has none yet.
pub(in crate::exchange) fn known<L>(listings: &[Listing<L>]) -> String {
    let labels: Vec<String> = listings.iter().map(Listing::label).collect();
    if labels.is_empty() { "none".to_owned() } else { labels.join(", ") }
}

fn is_digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// A number without its leading zeros; other text as it is.
fn without_zeros(section: &str) -> &str {
    let short = section.trim_start_matches('0');
    if is_digits(section) && !short.is_empty() { short } else { section }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn listing(id: u8, code: &str, section: &str) -> Listing<u8> {
        Listing { id, code: code.to_owned(), section: section.to_owned() }
    }

    #[test]
    fn a_listing_is_found_however_it_is_written() {
        let listings = Listings::new(&[
            listing(1, "LIT 220", "01"),
            listing(2, "LIT 420", "01"),
            listing(3, "LIT 420", "A"),
            listing(4, "ART 9", ""),
        ]);
        for (course, section, meant) in [
            ("", "LIT 220-01", Meant::One(1)),
            ("", "lit220 1", Meant::One(1)),
            ("", "LIT-420/001", Meant::One(2)),
            ("LIT 420", "01", Meant::One(2)),
            ("LIT 420", "1", Meant::One(2)),
            ("Lithography", "LIT 420-01", Meant::One(2)),
            ("", "a", Meant::One(3)),
            ("", "LIT 220", Meant::One(1)),
            ("LIT 220", "", Meant::One(1)),
            ("ART 9", "", Meant::One(4)),
            ("", "01", Meant::Several),
            ("", "LIT 420", Meant::Several),
            ("LIT 220", "02", Meant::None),
            ("LIT 220", "A", Meant::None),
            ("", "LIT 2", Meant::None),
            ("", "-", Meant::None),
        ] {
            assert_eq!(listings.find(course, section), meant, "{course:?} {section:?}");
        }
        assert_eq!(listings.known, "LIT 220-01, LIT 420-01, LIT 420-A, ART 9");
    }

    #[test]
    fn what_may_mean_two_listings_is_not_decided() {
        let listings = Listings::new(&[listing(1, "LIT 22", "01"), listing(2, "LIT 220", "1")]);
        assert_eq!(listings.find("", "LIT 2201"), Meant::Several);
        assert_eq!(listings.find("LIT 220", "1"), Meant::One(2));
    }
}
