//! `manifest-sha256.txt`: a line for each file, digest and name, as `sha256sum --check` reads it.

use std::collections::BTreeMap;

use crate::trade::remark::Remark;

/// Digests by name.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Manifest(pub BTreeMap<String, String>);

impl Manifest {
    /// The text of the file.
    #[must_use]
    pub fn text(&self) -> String {
        self.0.iter().map(|(name, digest)| format!("{digest}  {name}\n")).collect()
    }

    /// Reads the file.
    ///
    /// # Errors
    /// A line is not a digest and a name, or a name stands twice.
    pub fn parse(text: &str) -> Result<Self, Remark> {
        let mut known = BTreeMap::new();
        for (line, words) in (1_i64..).zip(text.lines()) {
            let parts = words.split_once("  ").filter(|(digest, name)| {
                digest.len() == 64
                    && digest.bytes().all(|byte| byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte))
                    && !name.is_empty()
            });
            let Some((digest, name)) = parts else {
                return Err(Remark::new("archive-manifest-line").with("line", line));
            };
            if known.insert(name.to_owned(), digest.to_owned()).is_some() {
                return Err(Remark::new("archive-manifest-twice").with("name", name));
            }
        }
        Ok(Self(known))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read() {
        let digest = "ab".repeat(32);
        let manifest = Manifest([("a b.txt".to_owned(), digest.clone())].into_iter().collect());
        assert_eq!(manifest.text(), format!("{digest}  a b.txt\n"));
        assert_eq!(Manifest::parse(&manifest.text()), Ok(manifest));
        for (text, key) in [
            ("abc  a\n".to_owned(), "archive-manifest-line"),
            (format!("{digest} a\n"), "archive-manifest-line"),
            (format!("{}  a\n", digest.to_uppercase()), "archive-manifest-line"),
            (format!("{digest}  a\n{digest}  a\n"), "archive-manifest-twice"),
        ] {
            assert_eq!(Manifest::parse(&text).unwrap_err().key, key, "{text}");
        }
    }
}
