//! The languages the program speaks, and the one that is spoken at hand. A request or a letter is worked on in the
//! language of whom it is for; what belongs to nobody (tables, `reckon`, the console) is in English.

use crate::spelled;
use crate::trade::spelled::Spelled;

spelled!(
    /// A language there is a catalogue of, by its tag (BCP 47).
    Language { English = "en", Spanish = "es" }
);

tokio::task_local! {
    static AT_HAND: Language;
}

impl Language {
    /// The language spoken at hand; English where nobody is spoken to.
    #[must_use]
    pub fn at_hand() -> Self {
        AT_HAND.try_with(|language| *language).unwrap_or(Self::English)
    }

    /// Speaks this language while the work goes on.
    pub async fn throughout<F: Future>(self, work: F) -> F::Output {
        AT_HAND.scope(self, work).await
    }

    /// Speaks this language during the deed.
    pub fn during<T>(self, deed: impl FnOnce() -> T) -> T {
        AT_HAND.sync_scope(self, deed)
    }

    /// The best of ours that a browser asks for by `Accept-Language` (RFC 9110, 12.5.4): the heaviest tag whose first
    /// part we speak, the first of equals. Nothing where it asks for none of them.
    #[must_use]
    pub fn asked(header: &str) -> Option<Self> {
        let mut best: Option<(u32, Self)> = None;
        for range in header.split(',').take(32) {
            let mut parts = range.split(';').map(str::trim);
            let tag = parts.next().unwrap_or_default();
            let weight = parts.find_map(weight).unwrap_or(1000);
            let first = tag.split('-').next().unwrap_or_default().to_ascii_lowercase();
            let Some(language) = Self::from_word(&first) else { continue };
            if weight > best.map_or(0, |(heaviest, _)| heaviest) {
                best = Some((weight, language));
            }
        }
        best.map(|(_, language)| language)
    }
}

/// A weight in thousandths: “q=0.8” is 800. What cannot be read weighs nothing.
fn weight(parameter: &str) -> Option<u32> {
    let value = parameter.strip_prefix("q=").or_else(|| parameter.strip_prefix("Q="))?;
    let (whole, part) = value.split_once('.').unwrap_or((value, ""));
    let sound =
        matches!(whole, "0" | "1") && part.len() <= 3 && part.bytes().all(|byte| byte.is_ascii_digit());
    let thousandths = format!("{whole}{part:0<3}").parse().unwrap_or(0);
    Some(if sound && thousandths <= 1000 { thousandths } else { 0 })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The headers of RFC 9110, 12.5.4 and RFC 4647, 2.3 are examples; the others follow their rules.
    #[test]
    fn a_browser_gets_the_language_it_asks_for() {
        for (header, language) in [
            ("da, en-gb;q=0.8, en;q=0.7", Some(Language::English)),
            ("fr-CH, fr;q=0.9, en;q=0.8, de;q=0.7, *;q=0.5", Some(Language::English)),
            ("es-MX,es;q=0.9,en;q=0.8", Some(Language::Spanish)),
            ("en;q=0.4, ES-419;q=0.5", Some(Language::Spanish)),
            ("es;q=0, en;q=0.1", Some(Language::English)),
            ("es;q=1.5, en;q=0.1", Some(Language::English)),
            ("es;q=0.12345, en;q=0.001", Some(Language::English)),
            ("en, es", Some(Language::English)),
            ("es, en", Some(Language::Spanish)),
            ("es;q=0", None),
            ("est, eng", None),
            ("", None),
            (";q=1,,-", None),
        ] {
            assert_eq!(Language::asked(header), language, "{header}");
        }
    }

    #[test]
    fn a_language_holds_during_its_deed_alone() {
        assert_eq!(Language::at_hand(), Language::English);
        let within = Language::Spanish.during(|| {
            (Language::at_hand(), Language::English.during(Language::at_hand), Language::at_hand())
        });
        assert_eq!(within, (Language::Spanish, Language::English, Language::Spanish));
        assert_eq!(Language::at_hand(), Language::English);
    }
}
