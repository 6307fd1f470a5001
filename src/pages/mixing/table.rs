//! The class's table of etches in its settings: what the instructor goes by for each drawing. Rows to begin with are
//! proposed with where they are from; once kept they are the instructor's own.

use serde::Serialize;

use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet, decimal_text};
use crate::pages::mixing::outcome::row_words;
use crate::speech::Speech;
use crate::store::Scope;
use crate::store::classes::etch_table::{self, Row, RowDraft};
use crate::trade::etch::table::{PROPOSALS, Proposal, Weight};
use crate::trade::procedure::Surface;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const FORM: &str = "mixing-table";
/// Rows a table can have.
const MOST_ROWS: usize = 40;

#[derive(Serialize)]
struct View {
    form: Form,
    action: String,
    mix: String,
    settings: String,
    rows: Vec<Names>,
    surfaces: Vec<Choice>,
    weights: Vec<Choice>,
    /// Nobody kept a table yet: what stands in the form is proposed.
    proposed: bool,
    /// What somebody else kept meanwhile.
    stands: Vec<String>,
}

/// Names of the fields of one row.
#[derive(Serialize)]
struct Names {
    number: usize,
    surface: String,
    weight: String,
    material: String,
    drops: String,
    applications: String,
    seconds: String,
    source: String,
}

fn names(place: usize) -> Names {
    let of = |field: &str| format!("{field}-{place}");
    Names {
        number: place + 1,
        surface: of("surface"),
        weight: of("weight"),
        material: of("material"),
        drops: of("drops"),
        applications: of("applications"),
        seconds: of("seconds"),
        source: of("source"),
    }
}

async fn standing(ask: &InClass) -> Result<(i64, Vec<Row>), Trouble> {
    let class = ask.class();
    ask.house.db.read(move |db| etch_table::etch_table(db, class)).await
}

/// The table as it stands, or the rows proposed. `?propose=stone` adds those for stones.
pub async fn page(ask: InClass) -> Reply {
    let (version, rows) = standing(&ask).await?;
    let speech = &ask.house.speech;
    let mut drafts: Vec<RowDraft> = rows.into_iter().map(RowDraft::from).collect();
    if version == 0 {
        drafts = proposals(Surface::Plate, speech);
    }
    if ask.query("propose").as_deref() == Some("stone") {
        drafts.extend(proposals(Surface::Stone, speech));
    }
    let form = form_of(version, &drafts);
    show(&ask, form, version == 0, Vec::new(), false)
}

/// The rows proposed for a surface, in words.
#[must_use]
pub fn proposals(surface: Surface, speech: &Speech) -> Vec<RowDraft> {
    PROPOSALS.iter().filter(|one| one.surface == surface).map(|one| draft_of(one, speech)).collect()
}

fn draft_of(one: &Proposal, speech: &Speech) -> RowDraft {
    let (low, high) = one.told;
    let source = match high {
        0 => Remark::new("mixing-proposed-none"),
        _ => Remark::new("mixing-proposed-source").with("low", i64::from(low)).with("high", i64::from(high)),
    };
    RowDraft {
        surface: one.surface,
        weight: one.weight,
        material: speech.plain(&format!("mixing-proposed-{}", one.key)),
        drops_hundredths: one.drops_hundredths,
        applications: one.applications,
        seconds: one.seconds,
        source: speech.remark(&source),
    }
}

fn form_of(version: i64, drafts: &[RowDraft]) -> Form {
    let form = Form::new(FORM).with("version", version.to_string());
    drafts.iter().enumerate().fold(form, |form, (place, one)| {
        let names = names(place);
        form.with(&names.surface, one.surface.word())
            .with(&names.weight, one.weight.word())
            .with(&names.material, one.material.as_str())
            .with(&names.drops, decimal_text(one.drops_hundredths.into(), 2))
            .with(&names.applications, one.applications.to_string())
            .with(&names.seconds, one.seconds.to_string())
            .with(&names.source, one.source.as_str())
    })
}

fn show(ask: &InClass, form: Form, proposed: bool, stands: Vec<String>, again: bool) -> Reply {
    let speech = &ask.house.speech;
    let rows = (form.count_rows("material-") + if again { 0 } else { 2 }).clamp(3, MOST_ROWS);
    let class = format!("/classes/{}", ask.class());
    let view = View {
        form,
        action: format!("{class}/settings/etch-table"),
        mix: format!("{class}/mix"),
        settings: format!("{class}/settings"),
        rows: (0..rows).map(names).collect(),
        surfaces: Choice::of_words::<Surface>("plates-surface", speech),
        weights: Choice::of_words::<Weight>("plates-weight", speech),
        proposed,
        stands,
    };
    if again {
        ask.show_again("mixing/table", "mixing-table", &view)
    } else {
        ask.show("mixing/table", "mixing-table", &view)
    }
}

/// Keeps all rows.
pub async fn keep(ask: InClass, filled: Filled) -> Reply {
    let class = ask.class();
    let tried = match read(&filled) {
        Ok((seen, drafts)) => {
            let next = said(format!("/classes/{class}/settings/etch-table"), "done-etch-table");
            let act = move |tx: &mut crate::store::Tx<'_>| tx.keep_etch_table(class, seen, &drafts);
            ask.act(Scope::Class(class), &filled, next, act).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => again(&ask, &filled, trouble).await,
        fine => fine,
    }
}

async fn again(ask: &InClass, filled: &Filled, trouble: Trouble) -> Reply {
    let stale = matches!(trouble, Trouble::Stale(_));
    let (version, rows) = standing(ask).await?;
    let speech = &ask.house.speech;
    let mut form = Form::after(FORM, filled, trouble, speech)?.naming(|field| {
        let (part, place) = field.rsplit_once('-')?;
        let number = place.parse::<i64>().ok()? + 1;
        let remark = Remark::new("mixing-table-row-field")
            .with("field", speech.plain(&format!("mixing-table-{part}")))
            .with("number", number);
        Some(speech.remark(&remark))
    });
    let mut stands = Vec::new();
    if stale {
        form = form.with("version", version.to_string());
        stands = rows.iter().map(|row| row_words(row, speech)).collect();
    }
    show(ask, form, false, stands, true)
}

fn read(filled: &Filled) -> Result<(i64, Vec<RowDraft>), Trouble> {
    let mut sheet = Sheet::new(filled);
    let seen = sheet.whole("version", 0..=i64::MAX);
    let mut drafts = Vec::new();
    for place in 0..MOST_ROWS {
        let names = names(place);
        let typed = |field: &str| !filled.get(field).unwrap_or_default().trim().is_empty();
        if [&names.material, &names.drops, &names.source].iter().all(|field| !typed(field)) {
            continue;
        }
        let small = |number: i64| i32::try_from(number).unwrap_or(0);
        drafts.push(RowDraft {
            surface: sheet.choice(&names.surface, Surface::Plate),
            weight: sheet.choice(&names.weight, Weight::Medium),
            material: sheet.text(&names.material, 80),
            drops_hundredths: small(sheet.decimal(&names.drops, 2, 0..=10_000)),
            applications: small(sheet.whole(&names.applications, 1..=9)),
            seconds: small(sheet.whole(&names.seconds, 5..=3600)),
            source: sheet.text(&names.source, 200),
        });
    }
    if drafts.is_empty() {
        sheet.complain("", Remark::new("mixing-table-empty"));
    }
    sheet.done()?;
    Ok((seen, drafts))
}
