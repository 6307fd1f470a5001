//! The `field` helper, which writes a labelled control with its hint and complaint. Labels are catalogue keys
//! `<form>-<field>`, or `shared-<field>` where several forms share one; a hint is the same with `-hint` if there is one.

use std::sync::Arc;

use handlebars::{
    Context, Handlebars, Helper, HelperDef, HelperResult, Output, RenderContext, RenderErrorReason,
    html_escape,
};
use serde_json::Value;

use crate::pages::fields::label_key;
use crate::speech::Speech;
use crate::speech::figures::figures;

/// `{{field "due" kind="datetime-local"}}`: label, hint, complaint and control of one field of the form at hand.
/// Kinds: those of HTML inputs (`hidden` needs no label), `words` (a text area), `choice` (a select over `options`), `ticks` (boxes over
/// `options`), `one-of` (radio buttons over `options`), `tick` (one box). Hash: `form` (another form than `form`),
/// `options` (a list of {value, label}), `optional`, `autocomplete`, `inputmode`, `rows`, `min`, `max`, `step`,
/// `accept`, `capture`, `none` (words of the choice that chooses nothing), `say` (another label key), `maxlength`, `id` (where the same field stands twice) or `at` (what is put behind its id there).
pub struct FieldHelper {
    pub speech: Arc<Speech>,
}

/// The words of a choice that chooses nothing, where the template has none of its own.
fn nothing_chosen(helper: &Helper<'_>) -> &'static str {
    if helper.hash_get("optional").is_some() { "form-chosen-none" } else { "form-choose" }
}

impl HelperDef for FieldHelper {
    fn call<'reg: 'rc, 'rc>(
        &self,
        helper: &Helper<'rc>,
        _: &'reg Handlebars<'reg>,
        context: &'rc Context,
        _: &mut RenderContext<'reg, 'rc>,
        out: &mut dyn Output,
    ) -> HelperResult {
        let name = text_of(helper.param(0).map(|param| param.value()));
        if name.is_empty() {
            return Err(RenderErrorReason::ParamNotFoundForIndex("field", 0).into());
        }
        let form = match helper.hash_get("form") {
            Some(form) => form.value(),
            None => context.data().get("form").unwrap_or(&Value::Null),
        };
        if helper.hash_get("kind").is_some_and(|kind| kind.value() == "hidden") {
            let value = text_of(form.get("values").and_then(|values| values.get(&name)));
            out.write(&format!(
                "<input type=\"hidden\" name=\"{}\" value=\"{}\">",
                html_escape(&name),
                html_escape(&value)
            ))?;
            return Ok(());
        }
        let control = Control::read(helper, form, &name, &self.speech)?;
        out.write(&control.html())?;
        Ok(())
    }
}

struct Control {
    name: String,
    id: String,
    kind: String,
    label: String,
    hint: Option<String>,
    complaint: Option<String>,
    value: String,
    ticked: Vec<String>,
    options: Vec<(String, String)>,
    optional: bool,
    attributes: String,
    rows: String,
    optional_word: String,
    none: String,
}

fn text_of(value: Option<&Value>) -> String {
    match value {
        Some(Value::String(text)) => text.clone(),
        Some(Value::Number(number)) => number.to_string(),
        Some(Value::Bool(flag)) => flag.to_string(),
        _ => String::new(),
    }
}

impl Control {
    fn read(
        helper: &Helper<'_>,
        form: &Value,
        name: &str,
        speech: &Speech,
    ) -> Result<Self, handlebars::RenderError> {
        let hash = |key: &str| helper.hash_get(key).map(|param| text_of(Some(param.value())));
        let form_name = text_of(form.get("name"));
        let label_key = hash("say").unwrap_or_else(|| label_key(&form_name, name, speech));
        let label =
            speech.say(&label_key, &[]).map_err(|error| RenderErrorReason::Other(error.to_string()))?;
        let hint_key = format!("{label_key}-hint");
        let mut attributes = String::new();
        for key in [
            "autocomplete",
            "inputmode",
            "min",
            "max",
            "step",
            "accept",
            "maxlength",
            "pattern",
            "list",
            "capture",
        ] {
            if let Some(value) = hash(key) {
                attributes.push_str(&format!(" {key}=\"{}\"", html_escape(&value)));
            }
        }
        let options = helper
            .hash_get("options")
            .and_then(|param| param.value().as_array().cloned())
            .unwrap_or_default()
            .iter()
            .map(|option| (text_of(option.get("value")), text_of(option.get("label"))))
            .collect();
        let ticked = form
            .get("ticked")
            .and_then(|all| all.get(name))
            .and_then(Value::as_array)
            .map(|values| values.iter().map(|value| text_of(Some(value))).collect())
            .unwrap_or_default();
        let value = text_of(form.get("values").and_then(|values| values.get(name)));
        let decimal = hash("inputmode").is_some_and(|mode| mode == "decimal");
        Ok(Self {
            id: hash("id").unwrap_or_else(|| format!("{form_name}-{name}{}", hash("at").unwrap_or_default())),
            name: name.to_owned(),
            kind: hash("kind").unwrap_or_else(|| "text".into()),
            label,
            hint: speech.knows(&hint_key).then(|| speech.plain(&hint_key)),
            complaint: form
                .get("complaints")
                .and_then(|all| all.get(name))
                .map(|sentence| text_of(Some(sentence))),
            value: if decimal { figures(value) } else { value },
            ticked,
            options,
            optional: helper.hash_get("optional").is_some(),
            attributes,
            rows: hash("rows").unwrap_or_else(|| "3".into()),
            none: speech.plain(&hash("none").unwrap_or_else(|| nothing_chosen(helper).to_owned())),
            optional_word: match hash("optional").as_deref() {
                Some("quiet") => String::new(),
                _ => speech.plain("form-optional"),
            },
        })
    }

    fn html(&self) -> String {
        let id = html_escape(&self.id);
        let mut notes = String::new();
        let mut described = Vec::new();
        if let Some(hint) = &self.hint {
            described.push(format!("{id}-hint"));
            notes.push_str(&format!("<p class=\"second\" id=\"{id}-hint\">{}</p>", html_escape(hint)));
        }
        if let Some(complaint) = &self.complaint {
            described.push(format!("{id}-complaint"));
            notes.push_str(&format!(
                "<p class=\"complaint\" id=\"{id}-complaint\">{}</p>",
                html_escape(complaint)
            ));
        }
        let mut extra = self.attributes.clone();
        let described = match described.is_empty() {
            true => String::new(),
            false => format!(" aria-describedby=\"{}\"", described.join(" ")),
        };
        extra.push_str(&described);
        if self.complaint.is_some() {
            extra.push_str(" aria-invalid=\"true\"");
        }
        let label = html_escape(&self.label);
        let optional = if self.optional && !self.optional_word.is_empty() {
            format!(" <span class=\"second\">{}</span>", html_escape(&self.optional_word))
        } else {
            String::new()
        };
        match self.kind.as_str() {
            "tick" => format!(
                "<div class=\"field field-tick\"><label class=\"tick\"><input type=\"checkbox\" id=\"{id}\" \
                 name=\"{}\" value=\"yes\"{}{extra}><span>{label}</span></label>{notes}</div>",
                html_escape(&self.name),
                if self.ticked.is_empty() { "" } else { " checked" },
            ),
            "ticks" | "one-of" => format!(
                "<fieldset class=\"field\" id=\"{id}\"{described}><legend class=\"label\">{label}{optional}</legend>{notes}{}</fieldset>",
                self.boxes(&id),
            ),
            _ => format!(
                "<div class=\"field\"><label class=\"label\" for=\"{id}\">{label}{optional}</label>{notes}{}</div>",
                self.control(&id, &extra),
            ),
        }
    }

    fn boxes(&self, id: &str) -> String {
        let kind = if self.kind == "ticks" { "checkbox" } else { "radio" };
        let chosen = |value: &String| {
            if kind == "radio" { &self.value == value } else { self.ticked.contains(value) }
        };
        self.options
            .iter()
            .enumerate()
            .map(|(place, (value, label))| {
                format!(
                    "<label class=\"tick\"><input type=\"{kind}\" id=\"{id}-{place}\" name=\"{}\" \
                     value=\"{}\"{}><span>{}</span></label>",
                    html_escape(&self.name),
                    html_escape(value),
                    if chosen(value) { " checked" } else { "" },
                    html_escape(label)
                )
            })
            .collect()
    }

    fn control(&self, id: &str, extra: &str) -> String {
        let name = html_escape(&self.name);
        let required = if self.optional { "" } else { " required" };
        match self.kind.as_str() {
            "words" => format!(
                "<textarea id=\"{id}\" name=\"{name}\" rows=\"{}\"{required}{extra}>\n{}</textarea>",
                html_escape(&self.rows),
                html_escape(&self.value)
            ),
            "choice" => {
                let empty = if self.optional || self.value.is_empty() {
                    format!("<option value=\"\">{}</option>", html_escape(&self.none))
                } else {
                    String::new()
                };
                let options: String = self
                    .options
                    .iter()
                    .map(|(value, label)| {
                        let chosen = if *value == self.value { " selected" } else { "" };
                        format!(
                            "<option value=\"{}\"{chosen}>{}</option>",
                            html_escape(value),
                            html_escape(label)
                        )
                    })
                    .collect();
                format!("<select id=\"{id}\" name=\"{name}\"{required}{extra}>{empty}{options}</select>")
            }
            kind => {
                // A password is never sent back, and a file cannot be.
                let value = if matches!(kind, "password" | "file") {
                    String::new()
                } else {
                    format!(" value=\"{}\"", html_escape(&self.value))
                };
                format!(
                    "<input type=\"{}\" id=\"{id}\" name=\"{name}\"{value}{required}{extra}>",
                    html_escape(kind)
                )
            }
        }
    }
}
