//! The forms of a plate's page: what stands in each, and the one that came back with complaints.

use serde::Serialize;

use crate::pages::fields::{Choice, Form};
use crate::pages::forms::Filled;
use crate::speech::Speech;
use crate::store::plates::folder::Folder;
use crate::trouble::{Complaint, Trouble};

/// A form of the page: its name, and the fields a person sees in it.
#[derive(Debug, Clone, Copy)]
pub struct Kind {
    pub name: &'static str,
    seen: &'static [&'static str],
}

pub const START: Kind = Kind { name: "plates-start", seen: &[] };
pub const TAKE_BACK: Kind = Kind { name: "plates-take-back", seen: &[] };
pub const END: Kind = Kind { name: "plates-end", seen: &["sheets", "note"] };
pub const TELL: Kind =
    Kind { name: "plates-tell", seen: &["step", "began", "ended", "sheets", "note", "card"] };
pub const DOWN: Kind = Kind { name: "plates-down", seen: &["gummed", "buffed", "talc", "rack_place"] };
pub const SETTLE: Kind = Kind { name: "plates-settle", seen: &["why", "reason"] };
pub const ALLOW: Kind = Kind { name: "plates-allow", seen: &["step", "why", "reason"] };

/// A form that came back, and about which run.
#[derive(Debug)]
pub struct Refused {
    form: Form,
    run: Option<String>,
}

impl Refused {
    /// Shows complaints and keeps what was typed. A complaint about a field nobody sees is about the whole form.
    ///
    /// # Errors
    /// The trouble, when it is not about what was typed.
    pub fn after(kind: Kind, filled: &Filled, trouble: Trouble, speech: &Speech) -> Result<Self, Trouble> {
        let one_tap = filled.get("now").is_some();
        let at_its_field = |complaint: Complaint| match kind.seen.contains(&complaint.field.as_str()) {
            true if !one_tap => complaint,
            _ => Complaint::new("", complaint.remark),
        };
        let trouble = match trouble {
            Trouble::Complaints(all) => Trouble::Complaints(all.into_iter().map(at_its_field).collect()),
            other => other,
        };
        let form = Form::after(kind.name, filled, trouble, speech)?;
        Ok(Self { form, run: filled.get("run").map(str::to_owned) })
    }
}

/// The forms of the page, as the template names them.
#[derive(Debug, Serialize)]
pub struct Forms {
    end: Form,
    tell: Form,
    /// The form for a step that happened stands open, for it came back.
    tell_open: bool,
    down: Form,
    allow: Form,
    allow_open: bool,
    steps: Vec<Choice>,
}

/// The form that settles one run. Ids stand once on a page, and complaints point at them, so the run whose form came
/// back has the plain ones.
#[derive(Debug, Serialize)]
pub struct Settle {
    form: Form,
    /// Put behind the ids.
    at: String,
}

/// All forms for a plate, and the one whose complaints stand on top of the page.
#[must_use]
pub fn forms(folder: &Folder, refused: Option<&Refused>) -> (Form, Forms) {
    let of = |kind: Kind, blank: Form| match refused {
        Some(refused) if refused.form.name == kind.name => (refused.form.clone(), true),
        _ => (blank, false),
    };
    let named = |kind: Kind| Form::new(kind.name);
    let (tell, tell_open) = of(TELL, named(TELL));
    let (allow, allow_open) = of(ALLOW, named(ALLOW));
    let steps = folder.procedure.all().map(|step| Choice::new(&step.key, &step.title)).collect();
    let forms = Forms {
        end: of(END, named(END)).0,
        tell,
        tell_open,
        down: of(DOWN, named(DOWN).with("rack_place", &folder.row.rack_place)).0,
        allow,
        allow_open,
        steps,
    };
    (refused.map_or_else(|| named(START), |refused| refused.form.clone()), forms)
}

/// The form that settles a run.
#[must_use]
pub fn settle(run: &str, refused: Option<&Refused>) -> Settle {
    let came_back =
        refused.filter(|refused| refused.form.name == SETTLE.name && refused.run.as_deref() == Some(run));
    Settle {
        form: came_back.map_or_else(|| Form::new(SETTLE.name), |refused| refused.form.clone()),
        at: came_back.map_or_else(|| format!("-{run}"), |_| String::new()),
    }
}
