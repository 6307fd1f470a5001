//! Procedures written by an instructor: copied, edited, kept in versions, written from nothing, brought in; and refused.

mod gum_limit;
mod photo_plate;
mod refusing;
mod versions;

use diesel::prelude::*;
use tympan::store::schema::{class, plate, procedure_version};

use crate::studio::{Page, Studio, Visitor};

/// What a form holds as the page shows it: the fields a browser would send for the form with this action.
pub fn form_of(page: &Page, action: &str) -> Vec<(String, String)> {
    let html = page.text();
    let (_, rest) = html
        .split_once(&format!("method=\"post\" action=\"{action}\""))
        .unwrap_or_else(|| panic!("no form to {action}: {}", page.read()));
    let form = rest.split("</form>").next().unwrap();
    let mut fields = Vec::new();
    let mut at = form;
    while let Some(place) = at.find('<') {
        at = &at[place..];
        let (tag, after) = at.split_once('>').unwrap();
        let name = attribute(tag, "name");
        match (tag.split(' ').next().unwrap(), name) {
            ("<input", Some(name)) => {
                let box_like = matches!(attribute(tag, "type").as_deref(), Some("checkbox" | "radio"));
                if !box_like || tag.contains(" checked") {
                    fields.push((name, attribute(tag, "value").unwrap_or_default()));
                }
            }
            ("<textarea", Some(name)) => {
                let text = after.split("</textarea>").next().unwrap();
                fields.push((name, unescaped(text.strip_prefix('\n').unwrap_or(text))));
            }
            ("<select", Some(name)) => {
                let options = after.split("</select>").next().unwrap();
                let chosen = options.split("<option").find(|option| option.contains(" selected"));
                fields.push((name, chosen.and_then(|option| attribute(option, "value")).unwrap_or_default()));
            }
            _ => {}
        }
        at = after;
    }
    fields.retain(|(name, _)| name != "seal" && name != "once");
    fields
}

fn attribute(tag: &str, name: &str) -> Option<String> {
    let (_, rest) = tag.split_once(&format!(" {name}=\""))?;
    Some(unescaped(rest.split('"').next()?))
}

fn unescaped(text: &str) -> String {
    text.replace("&quot;", "\"")
        .replace("&#x27;", "'")
        .replace("&#x3D;", "=")
        .replace("&#x60;", "`")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&")
}

/// The fields with some of them other; a value of none takes the field out.
pub fn with(fields: &[(String, String)], other: &[(&str, Option<&str>)]) -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> =
        fields.iter().filter(|(name, _)| !other.iter().any(|(field, _)| field == name)).cloned().collect();
    for (field, value) in other {
        if let Some(value) = value {
            all.push(((*field).to_owned(), (*value).to_owned()));
        }
    }
    all
}

pub fn send(visitor: &Visitor, path: &str, fields: &[(String, String)]) -> Page {
    let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    visitor.post(path, &fields)
}

/// The instructor of a class whose list of procedures is at hand.
pub fn list(studio: &Studio) -> String {
    format!("{}/settings/procedures", studio.class_path())
}

/// Makes a copy, and gives back where it is written.
pub fn copy(visitor: &Visitor, list: &str, from: &str, name: &str) -> String {
    let page = visitor.post(&format!("{list}/new"), &[("from", from), ("name", name)]);
    assert_eq!(page.status, 303, "{}", page.read());
    page.location().split('?').next().unwrap().to_owned()
}

/// Keeps the draft as it stands.
pub fn keep(visitor: &Visitor, writing: &str) -> Page {
    let form = form_of(&visitor.get(writing), &format!("{writing}/keep"));
    send(visitor, &format!("{writing}/keep"), &form)
}

/// The id at the end of an address.
pub fn last(path: &str) -> &str {
    path.rsplit('/').next().unwrap()
}

/// The version the newest plate of the class keeps.
pub fn kept_by_newest_plate(studio: &Studio) -> (String, i32) {
    plate::table
        .inner_join(procedure_version::table)
        .inner_join(class::table)
        .filter(class::id.eq(studio.world.class))
        .order(plate::number.desc())
        .select((plate::id, procedure_version::number))
        .first(&mut studio.connection())
        .unwrap()
}
