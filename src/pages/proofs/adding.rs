//! Adding a proof: the form, and taking the photo in. Session and seat are the gate's; before a byte of the body is read
//! here come the limit of the address, the length told, whose plate it is, and room for the bytes.

use actix_web::http::StatusCode;
use actix_web::http::header::ACCEPT;
use actix_web::{FromRequest, HttpResponse, web};
use serde::Serialize;

use crate::clock::Instant;
use crate::ids::{ClassId, PlateId, ProofId};
use crate::pages::acts::said;
use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::InClass;
use crate::pages::fields::{Choice, Form};
use crate::pages::forms::{Filled, Sheet};
use crate::pages::limits::address_of;
use crate::pages::proofs::keeping::{Told, keep_once};
use crate::pages::proofs::list::Head;
use crate::pages::proofs::{of, path};
use crate::pages::upload::{Upload, told_length};
use crate::photos::fault::{MOST_BYTES, PictureFault};
use crate::photos::picture::{NotPrepared, Prepared};
use crate::secrets::hex;
use crate::store::once;
use crate::store::proofs::pulls::ProofKind;
use crate::store::proofs::{PlateTitle, photos, plate_title};
use crate::trade::civil;
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled as _;
use crate::trouble::{Complaint, Trouble};

const FORM: &str = "proofs-new";
/// What is typed beside the photo, and the borders between the parts of the form.
const BESIDE: usize = 100_000;
/// A file a little too large is read to its end, so that what was typed can be shown again.
type PhotoUpload = Upload<{ MOST_BYTES + BESIDE }, BESIDE>;

#[derive(Serialize)]
struct View {
    head: Head,
    form: Form,
    kinds: Vec<Choice>,
    /// The proof that shows this picture already.
    same: Option<String>,
}

/// Why a photo was not kept, and the proof that shows it already.
struct NotKept {
    trouble: Trouble,
    same: Option<ProofId>,
}

impl From<Trouble> for NotKept {
    fn from(trouble: Trouble) -> Self {
        Self { trouble, same: None }
    }
}

/// The empty form: a trial proof, pulled just now.
pub async fn form(ask: InClass, ids: web::Path<(ClassId, PlateId)>) -> Reply {
    let place = of(&ask, ids.into_inner().1);
    let plate = ask.house.db.read(move |db| plate_title(db, &place)).await?;
    let now = ask.now().local(ask.membership.zone).format("%Y-%m-%dT%H:%M").to_string();
    let form = Form::new(FORM).with("kind", ProofKind::Trial.word()).with("pulled", now);
    page(&ask, &plate, form, None, StatusCode::OK)
}

fn page(ask: &InClass, plate: &PlateTitle, form: Form, same: Option<ProofId>, status: StatusCode) -> Reply {
    let view = View {
        head: Head::of(ask, plate),
        form,
        kinds: Choice::of_words::<ProofKind>("proofs-kind", &ask.house.speech),
        same: same.map(|proof| format!("{}#proof-{proof}", path(ask.class(), plate.plate))),
    };
    ask.page(status, "proofs/new", "proofs-new", &view)
}

/// Takes a photo in.
pub async fn add(ask: InClass, ids: web::Path<(ClassId, PlateId)>, body: web::Payload) -> Reply {
    ask.house.limits.upload(address_of(&ask.request, &ask.house.settings))?;
    let place = of(&ask, ids.into_inner().1);
    let plate = ask.house.db.read(move |db| plate_title(db, &place)).await?;
    let length = told_length(ask.request.headers());
    let too_heavy = length.filter(|length| *length > MOST_BYTES + BESIDE);
    // Of a file that is too heavy nothing is kept, so it needs no room.
    let room = match too_heavy {
        Some(_) => None,
        None => Some(ask.house.darkroom.room_for(length).await?),
    };
    let upload = PhotoUpload::from_request(&ask.request, &mut body.into_inner()).await;
    if let Some(bytes) = too_heavy {
        let filled = upload.map(|upload| upload.fit().0).unwrap_or_default();
        let complaint = Complaint::new("file", PictureFault::TooHeavy { bytes }.remark());
        let form = Form::refused(FORM, &filled, &[complaint], &ask.house.speech);
        return page(&ask, &plate, form, None, StatusCode::PAYLOAD_TOO_LARGE);
    }
    let (filled, file) = match upload {
        Ok(upload) => upload.fit(),
        Err(trouble) => return refused(&ask, &plate, &Filled::default(), trouble.into()),
    };
    let outcome = match file {
        Ok(file) => keep(&ask, &plate, &filled, file.map(|file| file.bytes)).await,
        Err(trouble) => Err(trouble.into()),
    };
    drop(room);
    // A photo that waited on a phone is sent by a script, which reads what came of it.
    let by_script = ask.request.headers().get(ACCEPT).is_some_and(|value| value == "application/json");
    match outcome {
        Ok(location) if by_script => {
            Ok(HttpResponse::Ok().json(serde_json::json!({ "stored": true, "next": location })))
        }
        Err(not_kept) if by_script => Err(not_kept.trouble),
        Ok(location) => Ok(see_other(location)),
        Err(not_kept) => refused(&ask, &plate, &filled, not_kept),
    }
}

fn refused(ask: &InClass, plate: &PlateTitle, filled: &Filled, not_kept: NotKept) -> Reply {
    let status = match not_kept.trouble {
        Trouble::TooLarge(_) => StatusCode::PAYLOAD_TOO_LARGE,
        _ => StatusCode::UNPROCESSABLE_ENTITY,
    };
    let form = Form::after(FORM, filled, not_kept.trouble, &ask.house.speech)?;
    page(ask, plate, form, not_kept.same, status)
}

/// Reads the form, looks at the picture, keeps both; says where to go on.
async fn keep(
    ask: &InClass,
    plate: &PlateTitle,
    filled: &Filled,
    file: Option<Vec<u8>>,
) -> Result<String, NotKept> {
    let (key, by) = (filled.once_key()?, ask.person.id);
    let asked = key.clone();
    if let Some(location) = ask.house.db.read(move |db| once::sent(db, Some(by), &asked)).await? {
        return Ok(location);
    }
    let (told, prepared) = read(ask, filled, file).await?;
    let (id, sha256) = (plate.plate, hex(&prepared.sha256));
    if let Some(same) = ask.house.db.read(move |db| photos::same_picture(db, id, &sha256)).await? {
        let trouble = Trouble::about("file", Remark::new("proofs-same-picture"));
        return Err(NotKept { trouble, same: Some(same) });
    }
    let proofs = path(ask.class(), plate.plate);
    let next = move |photo| said(format!("{proofs}#photo-{photo}"), "done-proof-added");
    let place = of(ask, plate.plate);
    Ok(keep_once(&ask.house, by, ask.now(), place, prepared, told, (key, next)).await?)
}

/// What was told and the picture, or everything that is wrong with either.
async fn read(ask: &InClass, filled: &Filled, file: Option<Vec<u8>>) -> Result<(Told, Prepared), Trouble> {
    let mut sheet = Sheet::new(filled);
    let kind = sheet.choice("kind", ProofKind::Trial);
    let pulled = sheet.local_time("pulled");
    let pulled_at = Instant::from_utc(civil::instant(pulled, ask.membership.zone));
    if pulled_at > ask.now() {
        sheet.complain("pulled", Remark::new("proofs-pulled-ahead"));
    }
    let note = sheet.words("note", 500);
    // The photo comes in one of two fields: taken now, or chosen.
    let field = if filled.get("camera").is_some_and(|sent| !sent.is_empty()) { "camera" } else { "file" };
    let prepared = match file {
        None => Err(Remark::new("proofs-photo-missing")),
        Some(bytes) => ask.house.darkroom.prepare(bytes).await?.map_err(NotPrepared::remark),
    };
    match prepared {
        Ok(prepared) => sheet.done().map(|()| (Told { kind, pulled_at, note }, prepared)),
        Err(remark) => {
            sheet.complain(field, remark);
            sheet.done()?;
            Err(Trouble::broken("reading a proof", "a complaint was lost"))
        }
    }
}
