//! Words in templates: `{{say "key" n=..}}` writes a sentence, `(word "key")` gives one as a value. Pages and letters
//! register both; what is written is escaped as the registry they are in escapes.

use std::collections::HashMap;
use std::sync::Arc;

use handlebars::{
    Context, Handlebars, Helper, HelperDef, HelperResult, Output, RenderContext, RenderErrorReason,
};
use serde_json::Value;

use crate::speech::Speech;
use crate::speech::language::Language;
use crate::trade::remark::Param;

/// Gives a registry both helpers. How it escapes must be settled before.
pub fn register(registry: &mut Handlebars<'_>, speech: &Arc<Speech>) {
    let escape = registry.get_escape_fn();
    let escaped = |language| {
        speech.plain_messages(language).map(|(key, text)| (key.to_owned(), escape(text))).collect()
    };
    let (english, spanish) = (escaped(Language::English), escaped(Language::Spanish));
    registry.register_helper("say", Box::new(Say { speech: speech.clone(), english, spanish }));
    registry.register_helper("word", Box::new(Word { speech: speech.clone() }));
}

/// `{{say "key" name=value …}}`: the sentence of a key. The key may be a variable.
struct Say {
    speech: Arc<Speech>,
    /// Messages without a parameter, ready to be written.
    english: HashMap<String, String>,
    spanish: HashMap<String, String>,
}

impl HelperDef for Say {
    fn call<'reg: 'rc, 'rc>(
        &self,
        helper: &Helper<'rc>,
        registry: &'reg Handlebars<'reg>,
        _: &'rc Context,
        _: &mut RenderContext<'reg, 'rc>,
        out: &mut dyn Output,
    ) -> HelperResult {
        let key = helper
            .param(0)
            .and_then(|param| param.value().as_str())
            .ok_or(RenderErrorReason::ParamNotFoundForIndex("say", 0))?;
        let escaped = match Language::at_hand() {
            Language::English => &self.english,
            Language::Spanish => &self.spanish,
        };
        if let Some(text) = escaped.get(key) {
            out.write(text)?;
            return Ok(());
        }
        let with = given(helper);
        let said =
            self.speech.say(key, &with).map_err(|error| RenderErrorReason::Other(error.to_string()))?;
        out.write(&registry.get_escape_fn()(&said))?;
        Ok(())
    }
}

/// The parameters a template gives with a key.
fn given<'rc>(helper: &Helper<'rc>) -> Vec<(&'rc str, Param)> {
    let hash = helper.hash().iter();
    hash.map(|(name, value)| {
        let param = match value.value() {
            Value::Number(number) => {
                number.as_i64().map_or_else(|| Param::Text(number.to_string()), Param::Count)
            }
            Value::String(text) => Param::Text(text.clone()),
            Value::Bool(flag) => Param::Text(flag.to_string()),
            _ => Param::Text(String::new()),
        };
        (*name, param)
    })
    .collect()
}

/// `(word "key" name=value …)`: a word or sentence as a value, for parameters of `say` and of partials.
struct Word {
    speech: Arc<Speech>,
}

impl HelperDef for Word {
    fn call_inner<'reg: 'rc, 'rc>(
        &self,
        helper: &Helper<'rc>,
        _: &'reg Handlebars<'reg>,
        _: &'rc Context,
        _: &mut RenderContext<'reg, 'rc>,
    ) -> Result<handlebars::ScopedJson<'rc>, handlebars::RenderError> {
        let key = helper
            .param(0)
            .and_then(|param| param.value().as_str())
            .ok_or(RenderErrorReason::ParamNotFoundForIndex("word", 0))?;
        let said = self
            .speech
            .say(key, &given(helper))
            .map_err(|error| RenderErrorReason::Other(error.to_string()))?;
        Ok(handlebars::ScopedJson::Derived(Value::String(said)))
    }
}
