//! The safety data sheet of a bottle: the supplier's PDF with its revision date, and what it says of hazards in the words
//! that go onto labels. If none is on file the page says so.

use actix_web::http::header::{self, ContentDisposition, DispositionParam, DispositionType};
use actix_web::{HttpResponse, web};
use serde::Serialize;

use crate::ids::{ContainerId, DataSheetId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::mixing::pictograms::{Drawn, drawn};
use crate::pages::upload::{Upload, UploadedFile};
use crate::speech::Speech;
use crate::store::studio::papers::{self, Papers};
use crate::store::studio::sheets::{self, DataSheet, File, Pictogram, SheetDraft, Signal};
use crate::store::studio::{Container, container};
use crate::store::{Scope, Tx};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const FORM: &str = "mixing-sheet";
const USE: &str = "mixing-use";

/// A form with one PDF.
pub type Paper = Upload<{ papers::MOST_BYTES }>;

#[derive(Serialize)]
struct View {
    form: Form,
    using: Form,
    base: String,
    shelf: String,
    label: String,
    mark: String,
    staff: bool,
    on_file: Option<OnFile>,
    /// Sheets of other bottles that may be this one's too.
    others: Vec<Choice>,
    signals: Vec<Choice>,
    pictograms: Vec<Choice>,
}

#[derive(Serialize)]
struct OnFile {
    product: String,
    supplier: String,
    revised: String,
    signal: Option<String>,
    hazards: Vec<String>,
    pictograms: Vec<Drawn>,
    kilobytes: i64,
    at: String,
    who: String,
}

fn folder(ask: &InClass) -> Papers {
    Papers::in_folder(ask.house.settings.data.join("papers"))
}

struct Held {
    bottle: Container,
    sheet: Option<DataSheet>,
    others: Vec<DataSheet>,
}

async fn held(ask: &InClass, id: ContainerId) -> Result<Held, Trouble> {
    let studio = ask.membership.studio;
    ask.house
        .db
        .read(move |db| {
            let bottle = container(db, studio, id)?;
            let sheet = sheets::sheet_of(db, studio, id)?;
            let mut others = sheets::sheets(db, studio)?;
            others.retain(|one| {
                one.substance == bottle.substance && sheet.as_ref().is_none_or(|own| own.id != one.id)
            });
            Ok(Held { bottle, sheet, others })
        })
        .await
}

fn fresh(held: &Held) -> Form {
    let form = Form::new(FORM);
    match &held.sheet {
        None => form.with("product", &held.bottle.told.label).with("version", ""),
        Some(sheet) => sheet.pictograms().into_iter().fold(
            form.with("product", &sheet.product)
                .with("supplier", &sheet.supplier)
                .with("revised", sheet.revised.to_string())
                .with("signal", sheet.signal.0.word())
                .with("hazards", &sheet.hazards)
                .with("version", sheet.id.to_string()),
            |form, one| form.ticked("pictograms", one.word()),
        ),
    }
}

/// The signal word as a label has it; none for a product without one.
pub(in crate::pages) fn signal_words(signal: Signal, speech: &Speech) -> Option<String> {
    (signal != Signal::NoWord).then(|| speech.plain(&format!("mixing-signal-{}", signal.word())))
}

/// What is on file, and for staff the form to put one there.
pub async fn page(ask: InClass, place: web::Path<(String, ContainerId)>) -> Reply {
    let held = held(&ask, place.into_inner().1).await?;
    let form = fresh(&held);
    show(&ask, held, form, Form::new(USE), false)
}

fn show(ask: &InClass, held: Held, form: Form, using: Form, again: bool) -> Reply {
    let speech = &ask.house.speech;
    let shelf = format!("/classes/{}/containers", ask.class());
    let view = View {
        form,
        using,
        base: format!("{shelf}/{}/sheet", held.bottle.id),
        label: format!("{shelf}/{}/label", held.bottle.id),
        shelf,
        mark: held.bottle.mark(),
        staff: ask.is_staff(),
        others: held
            .others
            .iter()
            .map(|one| Choice::new(one.id.to_string(), format!("{}, {}", one.product, one.supplier)))
            .collect(),
        signals: Choice::of_words::<Signal>("mixing-signal", speech),
        pictograms: Choice::of_words::<Pictogram>("mixing-pictogram", speech),
        on_file: held.sheet.as_ref().map(|sheet| on_file(ask, sheet)),
    };
    if again {
        ask.show_again("mixing/sheet", "mixing-sheet", &view)
    } else {
        ask.show("mixing/sheet", "mixing-sheet", &view)
    }
}

fn on_file(ask: &InClass, sheet: &DataSheet) -> OnFile {
    let speech = &ask.house.speech;
    OnFile {
        product: sheet.product.clone(),
        supplier: sheet.supplier.clone(),
        revised: dates::day_with_year(sheet.revised),
        signal: signal_words(sheet.signal.0, speech),
        hazards: sheet.hazards().into_iter().map(str::to_owned).collect(),
        pictograms: drawn(sheet, speech),
        kilobytes: (sheet.file.bytes + 999) / 1000,
        at: dates::day_with_year(sheet.at.local_date(ask.membership.zone)),
        who: format!("{} {}", sheet.given_name, sheet.family_name),
    }
}

/// The PDF itself.
pub async fn file(ask: InClass, place: web::Path<(String, ContainerId)>) -> Reply {
    let (studio, id) = (ask.membership.studio, place.into_inner().1);
    let sheet = ask.house.db.read(move |db| sheets::sheet_of(db, studio, id)).await?;
    let File { name, sha256, .. } = sheet.ok_or(Trouble::NotFound)?.file;
    let (papers, wanted) = (folder(&ask), sha256.clone());
    let bytes = web::block(move || papers.fetch(&wanted))
        .await
        .map_err(|error| Trouble::broken("reading a paper", error))??;
    let shown = ContentDisposition {
        disposition: DispositionType::Inline,
        parameters: vec![DispositionParam::FilenameExt(header::ExtendedValue {
            charset: header::Charset::Ext("UTF-8".to_owned()),
            language_tag: None,
            value: name.into_bytes(),
        })],
    };
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, "application/pdf"))
        .insert_header(shown)
        .insert_header((header::ETAG, format!("\"{sha256}\"")))
        .insert_header((header::CACHE_CONTROL, "private, no-cache"))
        .insert_header((header::X_CONTENT_TYPE_OPTIONS, "nosniff"))
        .body(bytes))
}

fn read(
    filled: &Filled,
    file: Option<File>,
    today: chrono::NaiveDate,
) -> Result<(SheetDraft, Option<DataSheetId>), Trouble> {
    let mut sheet = Sheet::new(filled);
    let mut pictograms = Vec::new();
    for word in filled.all("pictograms") {
        match Pictogram::from_word(word) {
            Some(one) if pictograms.contains(&one) => {}
            Some(one) => pictograms.push(one),
            None => {
                let word = word.chars().take(40).collect::<String>();
                sheet.complain("pictograms", Remark::new("form-no-choice").with("value", word));
            }
        }
    }
    let draft = SheetDraft {
        product: sheet.text("product", 120),
        supplier: sheet.text("supplier", 120),
        revised: sheet.date("revised"),
        signal: sheet.choice("signal", Signal::NoWord),
        hazards: sheet.words("hazards", 600),
        pictograms,
        file,
    };
    if draft.revised > today {
        sheet.complain("revised", Remark::new("mixing-sheet-later"));
    }
    if draft.hazards.is_empty() && draft.signal != Signal::NoWord {
        sheet.complain("hazards", Remark::new("mixing-sheet-no-hazards"));
    }
    let seen = sheet.maybe_id("version");
    sheet.done()?;
    Ok((draft, seen))
}

/// Looks at the file and lays it on the shelf; the row that names it comes after.
async fn kept(ask: &InClass, file: Option<UploadedFile>) -> Result<Option<File>, Trouble> {
    let Some(file) = file else { return Ok(None) };
    if !papers::is_pdf(&file.bytes) {
        return Err(Trouble::about("file", Remark::new("mixing-sheet-no-pdf")));
    }
    let name: String = file.name.chars().filter(|letter| !letter.is_control()).take(120).collect();
    let bytes = i64::try_from(file.bytes.len()).unwrap_or(i64::MAX);
    let papers = folder(ask);
    let sha256 = web::block(move || papers.keep(&file.bytes))
        .await
        .map_err(|error| Trouble::broken("keeping a paper", error))??;
    Ok(Some(File { name, sha256, bytes }))
}

/// Puts a sheet on file, or changes what is told of the one there.
pub async fn keep(ask: InClass, place: web::Path<(String, ContainerId)>, paper: Paper) -> Reply {
    let id = place.into_inner().1;
    let (filled, file) = paper.fit();
    let tried = match file {
        Ok(file) => try_keep(&ask, id, &filled, file).await,
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            let held = held(&ask, id).await?;
            let form = Form::after_save(&filled, trouble, &fresh(&held), &ask.house.speech)?;
            show(&ask, held, form, Form::new(USE), true)
        }
        fine => fine,
    }
}

async fn try_keep(ask: &InClass, id: ContainerId, filled: &Filled, file: Option<UploadedFile>) -> Reply {
    let today = ask.now().local_date(ask.membership.zone);
    // What was typed is complained about before a file is laid anywhere.
    read(filled, None, today)?;
    let file = kept(ask, file).await?;
    let (draft, seen) = read(filled, file, today)?;
    let studio = ask.membership.studio;
    let next = said(format!("/classes/{}/containers/{id}/sheet", ask.class()), "done-sheet-filed");
    let act = move |tx: &mut Tx<'_>| tx.file_sheet(studio, id, seen, &draft);
    ask.act(Scope::School, filled, next, act).await
}

/// Says that a sheet already on file is this bottle's too.
pub async fn adopt(ask: InClass, place: web::Path<(String, ContainerId)>, filled: Filled) -> Reply {
    let (studio, id) = (ask.membership.studio, place.into_inner().1);
    let mut sheet = Sheet::new(&filled);
    let chosen = sheet.id("sheet");
    let tried = match sheet.done() {
        Ok(()) => {
            let next = said(format!("/classes/{}/containers/{id}/sheet", ask.class()), "done-sheet-filed");
            ask.act(Scope::School, &filled, next, move |tx| tx.use_sheet(studio, id, chosen)).await
        }
        Err(trouble) => Err(trouble),
    };
    match tried {
        Err(trouble) => {
            let held = held(&ask, id).await?;
            let using = Form::after(USE, &filled, trouble, &ask.house.speech)?;
            let form = fresh(&held);
            show(&ask, held, form, using, true)
        }
        fine => fine,
    }
}
