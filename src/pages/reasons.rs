//! Why something is done, on forms where that has to be told: three presets and another reason, each with words beside
//! it if somebody likes. What is stored is one plain sentence in the language of whoever tells it.
//!
//! The fields are `why`, a preset's word or `other`, and `reason`, the words; `form/reason.hbs` shows them. A form sent
//! with words alone has another reason: nobody has to tap before typing, and what was sent before there were presets
//! still says the same.

use handlebars::{Context, Handlebars, Helper, HelperDef, RenderContext, RenderErrorReason, ScopedJson};
use std::sync::Arc;

use crate::pages::fields::Choice;
use crate::pages::forms::Sheet;
use crate::speech::Speech;
use crate::trade::remark::Remark;

const OTHER: &str = "other";

/// A form that asks why: its name, its presets (called by `<form>-why-<word>`) and how long the sentence may be.
#[derive(Debug, Clone, Copy)]
pub struct Asked {
    form: &'static str,
    presets: [&'static str; 3],
    most: usize,
}

impl Asked {
    const fn of(form: &'static str, presets: [&'static str; 3], most: usize) -> Self {
        Self { form, presets, most }
    }

    fn preset(&self, word: &str, speech: &Speech) -> String {
        speech.plain(&format!("{}-why-{word}", self.form))
    }

    fn words(&self) -> [&'static str; 4] {
        let [first, second, third] = self.presets;
        [first, second, third, OTHER]
    }

    /// What there is to choose from.
    fn choices(&self, speech: &Speech) -> Vec<Choice> {
        let mut choices: Vec<Choice> =
            self.presets.iter().map(|word| Choice::new(*word, self.preset(word, speech))).collect();
        choices.push(Choice::new(OTHER, speech.plain("shared-why-other")));
        choices
    }

    /// Reads the reason: a preset, more words beside it if somebody likes, and words alone for another one.
    pub fn read(&self, sheet: &mut Sheet<'_>, speech: &Speech) -> String {
        let why = sheet.maybe_word("why", &self.words());
        let words = sheet.maybe_text("reason", self.most);
        match (why.filter(|word| *word != OTHER), words) {
            (Some(word), None) => self.preset(word, speech),
            (Some(word), Some(words)) => self.joined(sheet, &self.preset(word, speech), &words),
            (None, Some(words)) => words,
            (None, None) => {
                let key = if why.is_some() { "reason-words-missing" } else { "reason-missing" };
                sheet.complain("reason", Remark::new(key));
                String::new()
            }
        }
    }

    /// A preset and what was written beside it, if both together are not too long.
    fn joined(&self, sheet: &mut Sheet<'_>, preset: &str, words: &str) -> String {
        let sentence = format!("{preset}: {words}");
        let over = sentence.chars().count().saturating_sub(self.most);
        if over > 0 {
            let length = words.chars().count();
            let number = |count: usize| i64::try_from(count).unwrap_or(i64::MAX);
            let remark = Remark::new("form-too-long")
                .with("length", number(length))
                .with("most", number(length.saturating_sub(over)));
            sheet.complain("reason", remark);
        }
        sentence
    }
}

pub const SETTLE: Asked = Asked::of("plates-settle", ["looked", "agreed", "log"], 300);
pub const ALLOW: Asked = Asked::of("plates-allow", ["beside", "shown", "looked"], 300);
pub const AMEND: Asked = Asked::of("etches-log", ["slip", "measured", "left_out"], 300);
pub const WITHDRAW: Asked = Asked::of("safety-withdraw", ["rules", "anew", "person"], 300);
pub const STATE: Asked = Asked::of("roster-state", ["asked", "registrar", "absent"], 200);
pub const DUE: Asked = Asked::of("classes-due", ["closed", "down", "agreed"], 300);
pub const OWN_DUE: Asked = Asked::of("classes-own-due", ["away", "closed", "agreed"], 300);
pub const DOWN: Asked = Asked::of("studio-down", ["repair", "part", "class"], 200);
pub const CLOSURE: Asked = Asked::of("studio-closure", ["holiday", "building", "staff"], 120);
pub const HOLD: Asked = Asked::of("hold", ["appeal", "complaint", "office"], 500);

const ALL: [Asked; 10] = [SETTLE, ALLOW, AMEND, WITHDRAW, STATE, DUE, OWN_DUE, DOWN, CLOSURE, HOLD];

/// `(presets form.name)`: what there is to choose from on a form that asks why.
pub struct PresetsHelper {
    pub speech: Arc<Speech>,
}

impl HelperDef for PresetsHelper {
    fn call_inner<'reg: 'rc, 'rc>(
        &self,
        helper: &Helper<'rc>,
        _: &'reg Handlebars<'reg>,
        _: &'rc Context,
        _: &mut RenderContext<'reg, 'rc>,
    ) -> Result<ScopedJson<'rc>, handlebars::RenderError> {
        let form = helper.param(0).and_then(|param| param.value().as_str());
        let asked = ALL.iter().find(|asked| Some(asked.form) == form);
        let asked = asked.ok_or(RenderErrorReason::ParamNotFoundForIndex("presets", 0))?;
        let choices = serde_json::to_value(asked.choices(&self.speech))
            .map_err(|error| RenderErrorReason::Other(error.to_string()))?;
        Ok(ScopedJson::Derived(choices))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pages::forms::Filled;
    use crate::speech::language::Language;
    use crate::trouble::Trouble;

    fn filled(pairs: &[(&str, &str)]) -> Filled {
        let pairs = pairs.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect();
        Filled { pairs, once: None }
    }

    fn read(pairs: &[(&str, &str)]) -> Result<String, (String, String)> {
        let speech = Speech::load().unwrap();
        let filled = filled(pairs);
        let mut sheet = Sheet::new(&filled);
        let sentence = CLOSURE.read(&mut sheet, &speech);
        match sheet.done() {
            Ok(()) => Ok(sentence),
            Err(Trouble::Complaints(all)) => {
                assert_eq!(all.len(), 1, "one complaint: {all:?}");
                Err((all[0].field.clone(), speech.remark(&all[0].remark)))
            }
            Err(other) => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_reason_is_a_preset_with_or_without_words_or_words_alone() {
        let fine = |pairs: &[(&str, &str)]| read(pairs).unwrap();
        assert_eq!(fine(&[("why", "holiday"), ("reason", " ")]), "Public holiday");
        assert_eq!(
            fine(&[("why", "holiday"), ("reason", " Founders’ day ")]),
            "Public holiday: Founders’ day"
        );
        for why in [&[][..], &[("why", "")], &[("why", "other")]] {
            assert_eq!(fine(&[why, &[("reason", "Stocktaking")]].concat()), "Stocktaking", "{why:?}");
        }
    }

    #[test]
    fn what_cannot_be_is_complained_about_at_its_field() {
        let (field, said) = read(&[("why", "other"), ("reason", "\t ")]).unwrap_err();
        assert!(field == "reason" && said.contains("write it here"), "{said}");
        let (field, said) = read(&[]).unwrap_err();
        assert!(field == "reason" && said.contains("This is missing"), "{said}");
        let (field, said) = read(&[("why", "mood"), ("reason", "x")]).unwrap_err();
        assert!(field == "why" && said.contains("“mood” is not one of the choices"), "{said}");
        // “Public holiday: ” has 16 characters, so 104 of 120 are left for words beside it.
        assert_eq!(read(&[("why", "holiday"), ("reason", &"x".repeat(104))]).unwrap().len(), 120);
        let (field, said) = read(&[("why", "holiday"), ("reason", &"x".repeat(105))]).unwrap_err();
        assert!(field == "reason" && said.contains("105 characters; at most 104"), "{said}");
    }

    #[test]
    fn every_language_calls_every_preset_by_a_name_of_its_own_that_leaves_room_for_words() {
        let speech = Speech::load().unwrap();
        for asked in ALL {
            let said = |language: Language| language.during(|| asked.choices(&speech));
            let (english, spanish) = (said(Language::English), said(Language::Spanish));
            for choices in [&english, &spanish] {
                assert_eq!(choices.len(), 4);
                for (place, choice) in choices.iter().enumerate() {
                    assert!(choice.label.chars().count() <= 60, "{choice:?}");
                    assert!(
                        choices.iter().skip(place + 1).all(|other| other.label != choice.label),
                        "{choice:?}"
                    );
                }
            }
            for (one, other) in english.iter().zip(&spanish) {
                assert!(one.value == other.value && one.label != other.label, "{one:?} and {other:?}");
            }
        }
    }
}
