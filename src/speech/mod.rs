//! The word catalogue: every sentence a person reads comes from `templates/words/<language>.ftl` through here.

pub mod dates;
pub mod figures;
pub mod folding;
pub mod language;
pub mod say;

use std::collections::HashMap;
use std::sync::{Arc, LazyLock};

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use fluent_syntax::ast::{Entry, PatternElement};

use crate::speech::language::Language;
use crate::trade::remark::{Param, Remark};
use crate::trade::spelled::Spelled;

/// A language: its messages, and those without a parameter as the text they are, for most of what a page says is that.
struct Catalogue {
    bundle: FluentBundle<Arc<FluentResource>>,
    plain: HashMap<String, String>,
}

const ENGLISH: &str = include_str!("../../templates/words/en.ftl");
const SPANISH: &str = include_str!("../../templates/words/es.ftl");

/// Read when the first sentence of its language is said, once for the whole program.
static IN_ENGLISH: LazyLock<Result<Catalogue, Unspoken>> =
    LazyLock::new(|| catalogue(Language::English, ENGLISH));
static IN_SPANISH: LazyLock<Result<Catalogue, Unspoken>> =
    LazyLock::new(|| catalogue(Language::Spanish, SPANISH));

/// All languages the program speaks. What it says is in the language at hand; every catalogue is complete, which a
/// test sees to.
#[derive(Debug)]
pub struct Speech(());

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
    /// Makes sure that the catalogue of the language at hand, built into the program, can be read.
    ///
    /// # Errors
    /// It does not parse, or holds a key twice.
    pub fn load() -> Result<Self, Unspoken> {
        in_language(Language::at_hand()).map(|_| Self(()))
    }

    /// Says `key` in the language at hand with its parameters.
    ///
    /// # Errors
    /// The key is unknown, or a parameter is missing.
    pub fn say(&self, key: &str, with: &[(&str, Param)]) -> Result<String, Unspoken> {
        let missing = || Unspoken(key.to_owned());
        let Catalogue { bundle, plain } = in_language(Language::at_hand())?;
        if let Some(text) = plain.get(key) {
            return Ok(text.clone());
        }
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

    /// The text of a key that needs no parameters, as the catalogue has it: for words that stand on a page many times.
    #[must_use]
    pub fn word(&self, key: &'static str) -> &'static str {
        let known = in_language(Language::at_hand()).ok().and_then(|catalogue| catalogue.plain.get(key));
        known.map_or(key, String::as_str)
    }

    /// Says a key that needs no parameters, falling back to the key itself.
    #[must_use]
    pub fn plain(&self, key: &str) -> String {
        self.say(key, &[]).unwrap_or_else(|_| key.to_owned())
    }

    /// Whether the catalogue knows the key.
    #[must_use]
    pub fn knows(&self, key: &str) -> bool {
        in_language(Language::at_hand()).is_ok_and(|catalogue| catalogue.bundle.has_message(key))
    }

    /// All messages of a language without a parameter, by key.
    pub(crate) fn plain_messages(&self, language: Language) -> impl Iterator<Item = (&str, &str)> {
        in_language(language)
            .into_iter()
            .flat_map(|catalogue| &catalogue.plain)
            .map(|(key, text)| (key.as_str(), text.as_str()))
    }
}

fn in_language(language: Language) -> Result<&'static Catalogue, Unspoken> {
    let read = match language {
        Language::English => &IN_ENGLISH,
        Language::Spanish => &IN_SPANISH,
    };
    read.as_ref().map_err(Clone::clone)
}

fn catalogue(language: Language, source: &str) -> Result<Catalogue, Unspoken> {
    let tag = language.word();
    let resource = FluentResource::try_new(source.to_owned())
        .map_err(|(_, errors)| Unspoken(format!("{tag}: {errors:?}")))?;
    let plain = resource.entries().filter_map(plain_message).collect();
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
    Ok(Catalogue { bundle, plain })
}

/// A message that is nothing but text.
fn plain_message(entry: &Entry<&str>) -> Option<(String, String)> {
    let Entry::Message(message) = entry else { return None };
    let text = |element: &PatternElement<&'_ str>| match element {
        PatternElement::TextElement { value } => Some((*value).to_owned()),
        PatternElement::Placeable { .. } => None,
    };
    let said: Option<String> = message.value.as_ref()?.elements.iter().map(text).collect();
    Some((message.id.name.to_owned(), said?))
}
