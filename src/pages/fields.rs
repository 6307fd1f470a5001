//! Forms as they are shown: values typed before, complaints at their fields, and the `field` helper that writes a
//! labelled control. Labels are catalogue keys `<form>-<field>`; a hint is `<form>-<field>-hint` if there is one.

use std::collections::BTreeMap;
use std::sync::Arc;

use handlebars::{
    Context, Handlebars, Helper, HelperDef, HelperResult, Output, RenderContext, RenderErrorReason,
    html_escape,
};
use serde::Serialize;
use serde_json::Value;

use crate::pages::forms::Filled;
use crate::speech::Speech;
use crate::trouble::{Complaint, Trouble};

/// A form on a page: its name (the prefix of its labels), what stands in it, and what is wrong.
#[derive(Debug, Clone, Serialize)]
pub struct Form {
    pub name: &'static str,
    values: BTreeMap<String, String>,
    ticked: BTreeMap<String, Vec<String>>,
    complaints: BTreeMap<String, String>,
    summary: Vec<Line>,
}

#[derive(Debug, Clone, Serialize)]
struct Line {
    at: String,
    label: String,
    sentence: String,
}

impl Form {
    /// An empty form.
    #[must_use]
    pub fn new(name: &'static str) -> Self {
        Self {
            name,
            values: BTreeMap::new(),
            ticked: BTreeMap::new(),
            complaints: BTreeMap::new(),
            summary: Vec::new(),
        }
    }

    /// Puts a value into a field.
    #[must_use]
    pub fn with(mut self, field: &str, value: impl Into<String>) -> Self {
        self.values.insert(field.to_owned(), value.into());
        self
    }

    /// Puts a value into a field if there is one.
    #[must_use]
    pub fn with_maybe(self, field: &str, value: Option<impl Into<String>>) -> Self {
        match value {
            Some(value) => self.with(field, value),
            None => self,
        }
    }

    /// Ticks a box, or one of several boxes of the same name.
    #[must_use]
    pub fn ticked(mut self, field: &str, value: impl Into<String>) -> Self {
        self.ticked.entry(field.to_owned()).or_default().push(value.into());
        self
    }

    /// Ticks a lone box if so.
    #[must_use]
    pub fn tick(self, field: &str, ticked: bool) -> Self {
        if ticked { self.ticked(field, "yes") } else { self }
    }

    /// The form as it came back: everything typed, and each complaint at its field.
    #[must_use]
    pub fn refused(name: &'static str, filled: &Filled, complaints: &[Complaint], speech: &Speech) -> Self {
        let mut form = Self::new(name);
        for (field, value) in &filled.pairs {
            form.values.entry(field.clone()).or_insert_with(|| value.clone());
            form.ticked.entry(field.clone()).or_default().push(value.clone());
        }
        for complaint in complaints {
            let sentence = speech.remark(&complaint.remark);
            let label_key = format!("{name}-{}", complaint.field);
            let label = if speech.knows(&label_key) { speech.plain(&label_key) } else { String::new() };
            form.summary.push(Line { at: complaint.field.clone(), label, sentence: sentence.clone() });
            form.complaints.insert(complaint.field.clone(), sentence);
        }
        form
    }

    /// Shows complaints and keeps what was typed, or hands any other trouble on: the usual end of a refused act.
    ///
    /// # Errors
    /// The trouble, when it is not about what was typed.
    pub fn after(
        name: &'static str,
        filled: &Filled,
        trouble: Trouble,
        speech: &Speech,
    ) -> Result<Self, Trouble> {
        match trouble {
            Trouble::Complaints(complaints) => Ok(Self::refused(name, filled, &complaints, speech)),
            Trouble::Refused(remark) | Trouble::Stale(remark) | Trouble::TooLarge(remark) => {
                Ok(Self::refused(name, filled, &[Complaint::new("", remark)], speech))
            }
            other => Err(other),
        }
    }
}

/// `{{field "due" kind="datetime-local"}}`: label, hint, complaint and control of one field of the form at hand.
/// Kinds: those of HTML inputs (`hidden` needs no label), `words` (a text area), `choice` (a select over `options`), `ticks` (boxes over
/// `options`), `one-of` (radio buttons over `options`), `tick` (one box). Hash: `form` (another form than `form`),
/// `options` (a list of {value, label}), `optional`, `autocomplete`, `inputmode`, `rows`, `min`, `max`, `step`,
/// `accept`, `say` (another label key), `maxlength`, `id` (where the same field stands twice).
pub struct FieldHelper {
    pub speech: Arc<Speech>,
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
        let label_key = hash("say").unwrap_or_else(|| format!("{form_name}-{name}"));
        let label =
            speech.say(&label_key, &[]).map_err(|error| RenderErrorReason::Other(error.to_string()))?;
        let hint_key = format!("{label_key}-hint");
        let mut attributes = String::new();
        for key in
            ["autocomplete", "inputmode", "min", "max", "step", "accept", "maxlength", "pattern", "list"]
        {
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
        Ok(Self {
            id: hash("id").unwrap_or_else(|| format!("{form_name}-{name}")),
            name: name.to_owned(),
            kind: hash("kind").unwrap_or_else(|| "text".into()),
            label,
            hint: speech.knows(&hint_key).then(|| speech.plain(&hint_key)),
            complaint: form
                .get("complaints")
                .and_then(|all| all.get(name))
                .map(|sentence| text_of(Some(sentence))),
            value: text_of(form.get("values").and_then(|values| values.get(name))),
            ticked,
            options,
            optional: helper.hash_get("optional").is_some(),
            attributes,
            rows: hash("rows").unwrap_or_else(|| "3".into()),
            optional_word: speech.plain("form-optional"),
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
        if !described.is_empty() {
            extra.push_str(&format!(" aria-describedby=\"{}\"", described.join(" ")));
        }
        if self.complaint.is_some() {
            extra.push_str(" aria-invalid=\"true\"");
        }
        let label = html_escape(&self.label);
        let optional = if self.optional {
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
                "<fieldset class=\"field\"><legend class=\"label\">{label}{optional}</legend>{notes}{}</fieldset>",
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
                let empty =
                    if self.optional || self.value.is_empty() { "<option value=\"\"></option>" } else { "" };
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
