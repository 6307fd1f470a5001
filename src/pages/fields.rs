//! Forms as they are shown: values typed before, complaints at their fields, and what stands in the record where
//! somebody else saved it meanwhile.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::pages::forms::Filled;
use crate::speech::Speech;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::{Complaint, Trouble};

/// A form on a page: its name (the prefix of its labels), what stands in it, and what is wrong.
#[derive(Debug, Clone, Serialize)]
pub struct Form {
    pub name: &'static str,
    values: BTreeMap<String, String>,
    ticked: BTreeMap<String, Vec<String>>,
    complaints: BTreeMap<String, String>,
    summary: Vec<Line>,
    /// What a chosen value is called, where the value itself is not to be read.
    #[serde(skip)]
    called: BTreeMap<String, String>,
}

/// One thing to choose from: what is sent, and what is read.
#[derive(Debug, Clone, Serialize)]
pub struct Choice {
    pub value: String,
    pub label: String,
}

impl Choice {
    #[must_use]
    pub fn new(value: impl Into<String>, label: impl Into<String>) -> Self {
        Self { value: value.into(), label: label.into() }
    }

    /// A choice for each word of a closed set, called by the catalogue key `<prefix>-<word>`.
    #[must_use]
    pub fn of_words<T: Spelled>(prefix: &str, speech: &Speech) -> Vec<Self> {
        let called = |word: &str| Self::new(word, speech.plain(&format!("{prefix}-{word}")));
        T::ALL.iter().map(|member| called(member.word())).collect()
    }
}

/// The key of what a field is called: one of its form, or one that several forms share.
pub(super) fn label_key(form: &str, field: &str, speech: &Speech) -> String {
    let (own, shared) = (format!("{form}-{field}"), format!("shared-{field}"));
    if !speech.knows(&own) && speech.knows(&shared) { shared } else { own }
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
            called: BTreeMap::new(),
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

    /// Puts a chosen value into a field, with what it is called.
    #[must_use]
    pub fn with_choice(mut self, field: &str, value: impl Into<String>, called: impl Into<String>) -> Self {
        self.called.insert(field.to_owned(), called.into());
        self.with(field, value)
    }

    /// Ticks a box, or one of several boxes of the same name.
    #[must_use]
    pub fn ticked(mut self, field: &str, value: impl Into<String>) -> Self {
        self.ticked.entry(field.to_owned()).or_default().push(value.into());
        self
    }

    /// Ticks a lone box if so.
    #[must_use]
    pub fn tick(mut self, field: &str, ticked: bool) -> Self {
        if ticked {
            return self.ticked(field, "yes");
        }
        self.ticked.entry(field.to_owned()).or_default();
        self
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
            let label_key = label_key(name, &complaint.field, speech);
            let label = if speech.knows(&label_key) { speech.plain(&label_key) } else { String::new() };
            form.summary.push(Line { at: complaint.field.clone(), label, sentence: sentence.clone() });
            form.complaints.insert(complaint.field.clone(), sentence);
        }
        form
    }

    /// The form after somebody else saved the same record meanwhile. Everything typed stays; each field that differs
    /// says what stands there now; and `version` is the one that stands, so that saving again is a choice. `stands` is
    /// the form as it would be shown anew.
    #[must_use]
    pub fn stale(filled: &Filled, stands: &Self, speech: &Speech) -> Self {
        let mut complaints = vec![Complaint::new("", Remark::new("form-stale"))];
        for (field, value) in stands.values.iter().filter(|(field, _)| *field != "version") {
            let typed = filled.get(field).unwrap_or_default().replace("\r\n", "\n");
            if typed.trim() == value.trim() {
                continue;
            }
            let called = stands.called.get(field).unwrap_or(value);
            let remark = match called.is_empty() {
                true => Remark::new("form-stands-empty"),
                false => Remark::new("form-stands").with("value", called.as_str()),
            };
            complaints.push(Complaint::new(field, remark));
        }
        for (field, ticks) in &stands.ticked {
            if ticks.is_empty() == filled.get(field).is_some() {
                let key = if ticks.is_empty() { "form-stands-unticked" } else { "form-stands-ticked" };
                complaints.push(Complaint::new(field, Remark::new(key)));
            }
        }
        let form = Self::refused(stands.name, filled, &complaints, speech);
        form.with("version", stands.values.get("version").cloned().unwrap_or_default())
    }

    /// As `after`, for a form that saves a record with a version.
    ///
    /// # Errors
    /// The trouble, when it is not about what was typed.
    pub fn after_save(
        filled: &Filled,
        trouble: Trouble,
        stands: &Self,
        speech: &Speech,
    ) -> Result<Self, Trouble> {
        match trouble {
            Trouble::Stale(_) => Ok(Self::stale(filled, stands, speech)),
            other => Self::after(stands.name, filled, other, speech),
        }
    }

    /// What stands in a field.
    #[must_use]
    pub fn value(&self, field: &str) -> Option<&str> {
        self.values.get(field).map(String::as_str)
    }

    /// Whether there is a complaint at a field.
    #[must_use]
    pub fn complains(&self, field: &str) -> bool {
        self.complaints.contains_key(field)
    }

    /// What is wrong with a field.
    #[must_use]
    pub fn complaint(&self, field: &str) -> Option<&str> {
        self.complaints.get(field).map(String::as_str)
    }

    /// How many fields with this beginning stand in it: the rows of a form that grows.
    #[must_use]
    pub fn count_rows(&self, beginning: &str) -> usize {
        self.values.keys().filter(|field| field.starts_with(beginning)).count()
    }

    /// Names fields in the summary that stand in rows, which no catalogue key can name.
    #[must_use]
    pub fn naming(mut self, name: impl Fn(&str) -> Option<String>) -> Self {
        for line in self.summary.iter_mut().filter(|line| line.label.is_empty()) {
            line.label = name(&line.at).unwrap_or_default();
        }
        self
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
            Trouble::Missing => {
                let remark = Remark::new("trouble-missing");
                Ok(Self::refused(name, filled, &[Complaint::new("", remark)], speech))
            }
            other => Err(other),
        }
    }
}
