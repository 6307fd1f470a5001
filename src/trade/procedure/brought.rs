//! A procedure somebody brings in as a file: the same JSON as the shipped ones, and where it cannot be read a remark that
//! names the step and the field, which a reader of JSON alone does not.

use serde_json::{Map, Value, json};

use super::Procedure;
use super::check::MOST_STEPS;
use super::step::Step;
use crate::trade::remark::Remark;

/// Reads a procedure somebody brings in.
///
/// # Errors
/// One remark: it is no JSON, a field is missing, unknown or of the wrong kind, there are too many steps, or a text has
/// control characters in it.
pub fn brought(text: &str) -> Result<Procedure, Remark> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let value: Value = serde_json::from_str(text)
        .map_err(|problem| Remark::new("procedure-not-json").with("problem", problem.to_string()))?;
    let Value::Object(whole) = &value else { return Err(Remark::new("procedure-brought-no-object")) };
    for list in ["steps", "any_time"] {
        each_step(whole, list)?;
    }
    if let Some((field, _)) = whole.iter().find(|(field, value)| !is_list(field) && has_control(value)) {
        return Err(Remark::new("procedure-brought-control-whole").with("field", excerpt(field)));
    }
    serde_json::from_value::<Procedure>(value)
        .map_err(|problem| Remark::new("procedure-brought-whole").with("problem", problem.to_string()))
        .and_then(|procedure| {
            let count = procedure.all().count();
            if count <= MOST_STEPS {
                return Ok(procedure);
            }
            let number = |number: usize| i64::try_from(number).unwrap_or(i64::MAX);
            let remark = Remark::new("procedure-check-many-steps").with("value", number(count));
            Err(remark.with("most", number(MOST_STEPS)))
        })
}

fn is_list(field: &str) -> bool {
    matches!(field, "steps" | "any_time")
}

fn each_step(whole: &Map<String, Value>, list: &'static str) -> Result<(), Remark> {
    let Some(Value::Array(steps)) = whole.get(list) else { return Ok(()) };
    for (place, step) in steps.iter().enumerate() {
        let Err(problem) = serde_json::from_value::<Step>(step.clone()) else {
            match step.as_object().and_then(|fields| fields.iter().find(|(_, value)| has_control(value))) {
                Some((field, _)) => {
                    let remark = Remark::new("procedure-brought-control").with("step", name(step, place));
                    return Err(remark.with("field", excerpt(field)));
                }
                None => continue,
            }
        };
        let remark = match wrong_field(step) {
            Some((field, problem)) => {
                Remark::new("procedure-brought-field").with("field", excerpt(&field)).with("problem", problem)
            }
            None => Remark::new("procedure-brought-step").with("problem", problem.to_string()),
        };
        return Err(remark.with("step", name(step, place)).with("list", list));
    }
    Ok(())
}

/// A step's title, else its key, else its number in its list.
fn name(step: &Value, place: usize) -> String {
    let text = |field: &str| step.get(field).and_then(Value::as_str).filter(|text| !text.trim().is_empty());
    text("title").or_else(|| text("key")).map_or_else(|| (place + 1).to_string(), excerpt)
}

/// The first field that spoils an otherwise whole step.
fn wrong_field(step: &Value) -> Option<(String, String)> {
    step.as_object()?.iter().find_map(|(field, value)| {
        let mut whole = json!({ "key": "a", "title": "a", "minutes": { "fixed": 0 }, "where": "anywhere" });
        whole.as_object_mut()?.insert(field.clone(), value.clone());
        let problem = serde_json::from_value::<Step>(whole).err()?;
        Some((field.clone(), problem.to_string()))
    })
}

fn has_control(value: &Value) -> bool {
    match value {
        Value::String(text) => text.chars().any(char::is_control),
        Value::Array(all) => all.iter().any(has_control),
        Value::Object(all) => all.values().any(has_control),
        _ => false,
    }
}

fn excerpt(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_control()).take(40).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::procedure::shipped;
    use crate::trade::remark::Param;

    fn said(text: &str) -> String {
        let remark = brought(text).unwrap_err();
        let values = remark.with.iter().map(|(name, value)| match value {
            Param::Text(text) => format!("{name}={text}"),
            Param::Count(count) => format!("{name}={count}"),
        });
        format!("{} {}", remark.key, values.collect::<Vec<_>>().join(" "))
    }

    fn with_step(step: &str) -> String {
        format!(r#"{{"name": "x", "surface": "plate", "steps": [{step}]}}"#)
    }

    #[test]
    fn the_shipped_ones_can_be_brought_in() {
        for (_, text) in shipped::FILES {
            assert_eq!(brought(text).unwrap(), Procedure::from_json(text).unwrap());
        }
    }

    #[test]
    fn what_cannot_be_read_names_step_and_field() {
        let minutes =
            with_step(r#"{"key": "a", "title": "Wash out", "minutes": "long", "where": "anywhere"}"#);
        assert!(said(&minutes).contains("procedure-brought-field field=minutes"), "{}", said(&minutes));
        assert!(said(&minutes).contains("step=Wash out"));
        let unknown = with_step(
            r#"{"key": "a", "title": "T", "minutes": {"fixed": 1}, "where": "anywhere", "colour": 1}"#,
        );
        assert!(said(&unknown).contains("field=colour"), "{}", said(&unknown));
        let missing = with_step(r#"{"key": "wash", "minutes": {"fixed": 1}, "where": "anywhere"}"#);
        assert!(said(&missing).contains("procedure-brought-step"), "{}", said(&missing));
        assert!(said(&missing).contains("`title`") && said(&missing).contains("step=wash"));
        assert!(said(&with_step("7")).contains("step=1"));
        assert!(said(r#"{"name": "x", "steps": []}"#).contains("`surface`"));
        assert!(said("[]").starts_with("procedure-brought-no-object"));
        assert!(said("{").starts_with("procedure-not-json"));
    }

    #[test]
    fn control_characters_and_two_hundred_steps_are_refused() {
        let bell = with_step(
            r#"{"key": "a", "title": "T", "source": "a\u0000b", "minutes": {"fixed": 1}, "where": "anywhere"}"#,
        );
        assert_eq!(said(&bell), "procedure-brought-control step=T field=source");
        assert!(said(r#"{"name": "a\u0007", "surface": "plate", "steps": []}"#).contains("field=name"));
        let step = |number: u32| {
            format!(r#"{{"key": "s{number}", "title": "S", "minutes": {{"fixed": 1}}, "where": "anywhere"}}"#)
        };
        let many: Vec<String> = (0..200).map(step).collect();
        assert_eq!(said(&with_step(&many.join(","))), "procedure-check-many-steps value=200 most=60");
    }
}
