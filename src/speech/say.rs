//! Words in templates: `{{say "key" n=..}}` writes a sentence, `(word "key")` gives one as a value. Pages and letters
//! register both; what is written is escaped as the registry they are in escapes.

use std::sync::Arc;

use handlebars::{
    Context, Handlebars, Helper, HelperDef, HelperResult, Output, RenderContext, RenderErrorReason,
};
use serde_json::Value;

use crate::speech::Speech;
use crate::trade::remark::Param;

/// Gives a registry both helpers.
pub fn register(registry: &mut Handlebars<'_>, speech: &Arc<Speech>) {
    registry.register_helper("say", Box::new(Say { speech: speech.clone() }));
    registry.register_helper("word", Box::new(Word { speech: speech.clone() }));
}

/// `{{say "key" name=value …}}`: the sentence of a key. The key may be a variable.
struct Say {
    speech: Arc<Speech>,
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
