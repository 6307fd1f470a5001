//! The templates of letters, in two registries: text is written as it stands, HTML is escaped. Both are strict.

use std::sync::Arc;

use handlebars::{Handlebars, no_escape};
use rust_embed::RustEmbed;
use serde_json::Value;

use crate::speech::{Speech, say};
use crate::store::letters::Kind;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

#[derive(RustEmbed)]
#[folder = "templates/letters/"]
#[include = "*.hbs"]
struct Files;

/// A part of a letter that has a template.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    Subject,
    Text,
    Html,
}

impl Part {
    const fn file(self) -> &'static str {
        match self {
            Self::Subject => "subject.txt",
            Self::Text => "body.txt",
            Self::Html => "body.html",
        }
    }
}

/// All templates of letters.
pub struct Templates {
    text: Handlebars<'static>,
    html: Handlebars<'static>,
}

impl std::fmt::Debug for Templates {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Templates")
    }
}

impl Templates {
    /// Reads the templates built into the program and looks whether every kind has all three.
    ///
    /// # Errors
    /// One does not parse, or is not there.
    pub fn load(speech: &Arc<Speech>) -> Result<Self, Trouble> {
        let (mut text, mut html) = (Handlebars::new(), Handlebars::new());
        text.register_escape_fn(no_escape);
        for registry in [&mut text, &mut html] {
            registry.set_strict_mode(true);
            say::register(registry, speech);
        }
        for file in Files::iter() {
            let Some(found) = Files::get(&file) else { continue };
            let name = file.trim_end_matches(".hbs");
            let registry = if name.ends_with(".html") { &mut html } else { &mut text };
            // What all kinds share stands beside their folders and is named without its ending: `{{#> frame}}`.
            let shared = (!name.contains('/')).then(|| name.split('.').next()).flatten();
            let name = shared.unwrap_or(name);
            registry.register_template_string(name, String::from_utf8_lossy(&found.data)).map_err(
                |error| Trouble::broken("reading a letter's template", format!("{name}: {error}")),
            )?;
        }
        let templates = Self { text, html };
        for kind in Kind::ALL {
            for part in [Part::Subject, Part::Text, Part::Html] {
                let (registry, name) = templates.place(*kind, part);
                if !registry.has_template(&name) {
                    return Err(Trouble::broken("reading the letters", format!("there is no {name}.hbs")));
                }
            }
        }
        Ok(templates)
    }

    fn place(&self, kind: Kind, part: Part) -> (&Handlebars<'static>, String) {
        let registry = if part == Part::Html { &self.html } else { &self.text };
        (registry, format!("{}/{}", kind.word(), part.file()))
    }

    /// Fills one template.
    ///
    /// # Errors
    /// The view lacks something it names, or a word is missing.
    pub fn fill(&self, kind: Kind, part: Part, view: &Value) -> Result<String, Trouble> {
        let (registry, name) = self.place(kind, part);
        registry.render(&name, view).map_err(|error| Trouble::broken("filling a letter", error))
    }
}
