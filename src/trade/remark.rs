//! What the trade floor wants said, without saying it: a key of the word catalogue with its parameters.
//! Pages, letters and `reckon` turn a remark into a sentence through `speech`.

/// One value inside a remark.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Param {
    /// Put in as it stands.
    Text(String),
    /// A whole number: chooses the plural.
    Count(i64),
}

impl From<&str> for Param {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<String> for Param {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<i64> for Param {
    fn from(count: i64) -> Self {
        Self::Count(count)
    }
}

/// A catalogue key and what belongs into its sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    pub key: &'static str,
    pub with: Vec<(&'static str, Param)>,
}

impl Remark {
    #[must_use]
    pub fn new(key: &'static str) -> Self {
        Self { key, with: Vec::new() }
    }

    #[must_use]
    pub fn with(mut self, name: &'static str, value: impl Into<Param>) -> Self {
        self.with.push((name, value.into()));
        self
    }
}
