//! The word catalogue: every sentence a person reads comes from `templates/words/<language>.ftl` through here.

pub mod dates;
pub mod figures;
pub mod language;
pub mod say;

use std::sync::Arc;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};

use crate::speech::language::Language;
use crate::trade::remark::{Param, Remark};
use crate::trade::spelled::Spelled;

type Bundle = FluentBundle<Arc<FluentResource>>;

const ENGLISH: &str = include_str!("../../templates/words/en.ftl");
const SPANISH: &str = include_str!("../../templates/words/es.ftl");

/// All languages the program speaks. What it says is in the language at hand; every catalogue is complete, which a
/// test sees to.
pub struct Speech {
    english: Bundle,
    spanish: Bundle,
}

impl std::fmt::Debug for Speech {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Speech")
    }
}

/// A key that is not in the catalogue, or a parameter it asks for and did not get.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unspoken(pub String);

impl std::fmt::Display for Unspoken {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "the word catalogue cannot say {}", self.0)
    }
}

impl std::error::Error for Unspoken {}

impl Speech {
    /// Reads the catalogues built into the program.
    ///
    /// # Errors
    /// A catalogue does not parse, or holds a key twice.
    pub fn load() -> Result<Self, Unspoken> {
        Ok(Self {
            english: bundle(Language::English, ENGLISH)?,
            spanish: bundle(Language::Spanish, SPANISH)?,
        })
    }

    fn bundle(&self) -> &Bundle {
        match Language::at_hand() {
            Language::English => &self.english,
            Language::Spanish => &self.spanish,
        }
    }

    /// Says `key` in the language at hand with its parameters.
    ///
    /// # Errors
    /// The key is unknown, or a parameter is missing.
    pub fn say(&self, key: &str, with: &[(&str, Param)]) -> Result<String, Unspoken> {
        let missing = || Unspoken(key.to_owned());
        let bundle = self.bundle();
        let pattern = bundle.get_message(key).and_then(|message| message.value()).ok_or_else(missing)?;
        let mut args = FluentArgs::new();
        for (name, value) in with {
            match value {
                Param::Text(text) => args.set(*name, FluentValue::from(text.as_str())),
                Param::Count(count) => args.set(*name, FluentValue::from(*count)),
            }
        }
        let mut errors = Vec::new();
        let said = bundle.format_pattern(pattern, Some(&args), &mut errors).into_owned();
        match errors.first() {
            None => Ok(said),
            Some(error) => Err(Unspoken(format!("{key}: {error}"))),
        }
    }

    /// Says a remark. A gap in the catalogue must never hide a fact from a person, so here the key itself
    /// stands in for a missing sentence; a test says every remark and fails on such a gap.
    #[must_use]
    pub fn remark(&self, remark: &Remark) -> String {
        self.say(remark.key, &remark.with).unwrap_or_else(|_| remark.key.to_owned())
    }

    /// Says a key that needs no parameters, falling back to the key itself.
    #[must_use]
    pub fn plain(&self, key: &str) -> String {
        self.say(key, &[]).unwrap_or_else(|_| key.to_owned())
    }

    /// Whether the catalogue knows the key.
    #[must_use]
    pub fn knows(&self, key: &str) -> bool {
        self.bundle().has_message(key)
    }
}

fn bundle(language: Language, source: &str) -> Result<Bundle, Unspoken> {
    let tag = language.word();
    let resource = FluentResource::try_new(source.to_owned())
        .map_err(|(_, errors)| Unspoken(format!("{tag}: {errors:?}")))?;
    let id = tag.parse().map_err(|error| Unspoken(format!("{tag}: {error:?}")))?;
    let mut bundle = FluentBundle::new_concurrent(vec![id]);
    bundle.set_use_isolating(false);
    // Numbers are written plainly; what needs a unit or digits arrives as text.
    bundle.set_formatter(Some(|value, _| match value {
        FluentValue::Number(number) => Some(number.as_string().into_owned()),
        _ => None,
    }));
    // `{ FIGURE($ph) }`: a number that came as text, with a decimal comma. For catalogues that write one.
    bundle
        .add_function("FIGURE", |given, _| match given.first() {
            Some(FluentValue::String(text)) => figures::with_commas(text).into(),
            Some(FluentValue::Number(number)) => figures::with_commas(&number.as_string()).into(),
            _ => FluentValue::Error,
        })
        .map_err(|error| Unspoken(format!("{tag}: {error}")))?;
    bundle.add_resource(Arc::new(resource)).map_err(|errors| Unspoken(format!("{tag}: {errors:?}")))?;
    Ok(bundle)
}
