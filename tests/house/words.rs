//! Every catalogue says the same: each sentence of the English one is in the others, asks for the same things, and is
//! known wherever a template asks for it.

use std::collections::{BTreeMap, BTreeSet};

use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement, Variant, VariantKey};

use super::{leaves, uphold};

/// What a sentence asks for, and the words by which it chooses between wordings.
#[derive(Debug, Default, PartialEq, Eq)]
struct Asks {
    placeables: BTreeSet<String>,
    choices: BTreeSet<String>,
}

impl Asks {
    fn of(pattern: &Pattern<&str>) -> Self {
        let mut asks = Self::default();
        asks.pattern(pattern);
        asks
    }

    fn pattern(&mut self, pattern: &Pattern<&str>) {
        for element in &pattern.elements {
            if let PatternElement::Placeable { expression } = element {
                self.expression(expression);
            }
        }
    }

    fn expression(&mut self, expression: &Expression<&str>) {
        match expression {
            Expression::Inline(inline) => self.inline(inline),
            Expression::Select { selector, variants } => {
                self.inline(selector);
                variants.iter().for_each(|variant| self.variant(variant));
            }
        }
    }

    fn variant(&mut self, variant: &Variant<&str>) {
        let (VariantKey::Identifier { name } | VariantKey::NumberLiteral { value: name }) = &variant.key;
        self.choices.insert((*name).to_owned());
        self.pattern(&variant.value);
    }

    fn inline(&mut self, inline: &InlineExpression<&str>) {
        match inline {
            InlineExpression::VariableReference { id } => {
                self.placeables.insert(id.name.to_owned());
            }
            InlineExpression::FunctionReference { arguments, .. } => {
                arguments.positional.iter().for_each(|one| self.inline(one));
            }
            InlineExpression::Placeable { expression } => self.expression(expression),
            _ => {}
        }
    }
}

fn read(catalogue: &str) -> BTreeMap<String, Asks> {
    let resource = fluent_syntax::parser::parse(catalogue).unwrap_or_else(|(_, errors)| panic!("{errors:?}"));
    let messages = resource.body.iter().filter_map(|entry| match entry {
        Entry::Message(message) => Some((message.id.name.to_owned(), Asks::of(message.value.as_ref()?))),
        _ => None,
    });
    messages.collect()
}

/// What one catalogue lacks or asks for otherwise than the English one.
fn differences(english: &str, other: &str) -> Vec<String> {
    let (english, other) = (read(english), read(other));
    let mut found = Vec::new();
    for (key, asks) in &english {
        match other.get(key) {
            None => found.push(format!("{key} is missing")),
            Some(same) if same == asks => {}
            Some(otherwise) => found.push(format!("{key} asks for {otherwise:?}, in English for {asks:?}")),
        }
    }
    found
        .extend(other.keys().filter(|key| !english.contains_key(*key)).map(|key| format!("{key} is no key")));
    found
}

/// The keys a template writes out, each with what it gives along: `say "key" name=…`, `(word "key" name=…)`.
fn asked(template: &str) -> Vec<(String, BTreeSet<String>)> {
    let mut found = Vec::new();
    for helper in ["{{say \"", "(word \""] {
        for (at, _) in template.match_indices(helper) {
            let rest = &template[at + helper.len()..];
            let Some((key, rest)) = rest.split_once('"') else { continue };
            // A value in brackets has names of its own, which this helper does not give.
            let (mut depth, mut given, mut quoted) = (0_usize, String::new(), false);
            for letter in rest.chars() {
                // What stands in quotes is a value, whatever is in it: a script puts in `{…}` later.
                quoted ^= letter == '"';
                match letter {
                    _ if quoted => {}
                    '(' => depth += 1,
                    ')' | '}' if depth == 0 => break,
                    ')' => depth -= 1,
                    _ if depth == 0 => given.push(letter),
                    _ => {}
                }
            }
            let names = given.split_whitespace().filter_map(|word| word.split_once('='));
            found.push((key.to_owned(), names.map(|(name, _)| name.to_owned()).collect()));
        }
    }
    found
}

/// Keys of templates that a catalogue does not know, or asks more for than is given.
fn unsaid(catalogue: &BTreeMap<String, Asks>, path: &str, template: &str) -> Vec<String> {
    let complain = |(key, given): (String, BTreeSet<String>)| match catalogue.get(&key) {
        None => Some(format!("{path}: {key} is no key")),
        Some(asks) if asks.placeables.is_subset(&given) => None,
        Some(asks) => Some(format!("{path}: {key} asks for {:?}, given are {given:?}", asks.placeables)),
    };
    asked(template).into_iter().filter_map(complain).collect()
}

fn catalogue(name: &str) -> String {
    let all = leaves("templates/words", &[name]);
    all.into_iter().next().unwrap_or_else(|| panic!("there is no {name}")).text
}

#[test]
fn every_catalogue_has_every_sentence_with_the_same_placeables() {
    uphold(
        "A catalogue says what the English one says.",
        &differences(&catalogue("en.ftl"), &catalogue("es.ftl")),
    );
}

#[test]
fn every_sentence_a_template_asks_for_can_be_said_in_every_language() {
    let templates = leaves("templates", &[".hbs"]);
    assert!(templates.iter().map(|leaf| asked(&leaf.text).len()).sum::<usize>() > 500, "they are read");
    for language in ["en.ftl", "es.ftl"] {
        let words = read(&catalogue(language));
        let found: Vec<String> =
            templates.iter().flat_map(|leaf| unsaid(&words, &leaf.path, &leaf.text)).collect();
        uphold(&format!("What a template asks for, {language} can say."), &found);
    }
}

#[test]
fn a_gap_in_a_catalogue_is_found() {
    let english = "a = { $n ->\n    [one] One { $x }\n   *[other] { $n } of { $x }\n}\nb = B\nc = { $y }\n";
    let other =
        "a = { $n ->\n    [one] Una { FIGURE($x) }\n   *[other] { $n } de { $x }\n}\nc = { $z }\nd = D\n";
    let found = differences(english, other);
    assert_eq!(found.len(), 3, "{found:?}");
    assert_eq!(found[0], "b is missing");
    assert!(found[1].starts_with("c asks for") && found[2] == "d is no key", "{found:?}");
    let words = read(english);
    assert!(unsaid(&words, "x", "{{say \"a\" n=1 x=(word \"c\" y=2)}}{{say \"b\"}}").is_empty());
    let lacking = unsaid(&words, "x", "{{say \"a\" n=(word \"c\" y=2)}}{{say \"e\"}}");
    assert_eq!(lacking.len(), 2, "{lacking:?}");
}
