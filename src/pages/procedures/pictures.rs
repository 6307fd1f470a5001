//! Pictures of a step: how it should look and how wrong looks, taken in like a proof's photo and shown with a right check at
//! each request.

use actix_web::{FromRequest, web};

use crate::ids::{ClassId, PhotoId, ProcedureId};
use crate::pages::acts::said;
use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::InClass;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::limits::address_of;
use crate::pages::procedures::step::{self, Back};
use crate::pages::procedures::writing_path;
use crate::pages::proofs::photo;
use crate::pages::upload::Upload;
use crate::photos::fault::MOST_BYTES;
use crate::photos::picture::{NotPrepared, Prepared};
use crate::store::plates::pictures::{NewPicture, seen_by};
use crate::store::{Scope, once};
use crate::trade::procedure::Shows;
use crate::trade::procedure::check::LONGEST_SENTENCE;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// What is typed beside the picture, and the borders between the parts of the form.
const BESIDE: usize = 20_000;
type PictureUpload = Upload<{ MOST_BYTES + BESIDE }, BESIDE>;

/// One of the sizes of a picture.
pub async fn show(ask: InClass, ids: web::Path<(ClassId, ProcedureId, PhotoId, String)>) -> Reply {
    let (class, id, picture, size) = ids.into_inner();
    let writes = ask.is_instructor();
    ask.house.db.read(move |db| seen_by(db, class, id, picture, writes)).await?;
    photo::sent(&ask, picture, &size, "step").await
}

/// Takes a picture in.
pub async fn add(ask: InClass, ids: step::Ids, body: web::Payload) -> Reply {
    let (class, id, key) = ids.into_inner();
    ask.house.limits.upload(address_of(&ask.request, &ask.house.settings))?;
    step::there(&ask, id, &key).await?;
    let room = ask.house.darkroom.room_for(None).await?;
    let upload = PictureUpload::from_request(&ask.request, &mut body.into_inner()).await;
    let (filled, outcome) = match upload {
        Ok(upload) => {
            let (filled, file) = upload.fit();
            let outcome = match file {
                Ok(file) => keep(&ask, class, id, &key, &filled, file.map(|file| file.bytes)).await,
                Err(trouble) => Err(trouble),
            };
            (filled, outcome)
        }
        Err(trouble) => (Filled::default(), Err(trouble)),
    };
    drop(room);
    match outcome {
        Ok(location) => Ok(see_other(location)),
        Err(trouble) => step::again(&ask, id, &key, Back::Picture(filled, trouble)).await,
    }
}

async fn keep(
    ask: &InClass,
    class: ClassId,
    id: ProcedureId,
    key: &str,
    filled: &Filled,
    file: Option<Vec<u8>>,
) -> Result<String, Trouble> {
    let (once_key, by) = (filled.once_key()?, ask.person.id);
    let asked = once_key.clone();
    if let Some(location) = ask.house.db.read(move |db| once::sent(db, Some(by), &asked)).await? {
        return Ok(location);
    }
    let (shows, caption, prepared) = read(ask, filled, file).await?;
    let picture = PhotoId::stamped(ask.now(), ask.house.db.chance().part()?);
    let new = new_picture(picture, &prepared, shows, caption)?;
    let next = said(format!("{}/steps/{key}#pictures-head", writing_path(class, id)), "done-picture-added");
    let on_shelf = crate::pages::proofs::key(picture)?;
    ask.house.darkroom.put(on_shelf, prepared).await?;
    let step_key = key.to_owned();
    let outcome = ask
        .house
        .db
        .write(Scope::Class(class), Some(by), ask.now(), move |tx| {
            tx.once(&once_key, |tx| tx.add_picture(class, id, &step_key, &new).map(|()| next.clone()))
        })
        .await;
    // After a broken connection the row may stand all the same: then the sweep decides.
    if outcome.as_ref().is_err_and(|trouble| !matches!(trouble, Trouble::Broken { .. })) {
        ask.house.darkroom.remove(on_shelf).await?;
    }
    outcome
}

async fn read(
    ask: &InClass,
    filled: &Filled,
    file: Option<Vec<u8>>,
) -> Result<(Shows, String, Prepared), Trouble> {
    let mut sheet = Sheet::new(filled);
    let shows = sheet.choice("shows", Shows::Right);
    let caption = sheet.text("caption", LONGEST_SENTENCE);
    let prepared = match file {
        None => Err(Remark::new("proofs-photo-missing")),
        Some(bytes) => ask.house.darkroom.prepare(bytes).await?.map_err(NotPrepared::remark),
    };
    match prepared {
        Ok(prepared) => sheet.done().map(|()| (shows, caption, prepared)),
        Err(remark) => {
            sheet.complain("file", remark);
            sheet.done()?;
            Err(Trouble::broken("reading a picture", "a complaint was lost"))
        }
    }
}

fn new_picture(
    photo: PhotoId,
    prepared: &Prepared,
    shows: Shows,
    caption: String,
) -> Result<NewPicture, Trouble> {
    let pixels = |side: u32| i32::try_from(side).map_err(|error| Trouble::broken("measuring a photo", error));
    Ok(NewPicture {
        photo,
        width: pixels(prepared.width)?,
        height: pixels(prepared.height)?,
        bytes: i64::try_from(prepared.full.len()).unwrap_or(i64::MAX),
        shows,
        caption,
    })
}

/// Takes a picture out of the draft.
pub async fn remove(
    ask: InClass,
    ids: web::Path<(ClassId, ProcedureId, String, PhotoId)>,
    filled: Filled,
) -> Reply {
    let (class, id, key, picture) = ids.into_inner();
    let next = said(format!("{}/steps/{key}#pictures-head", writing_path(class, id)), "done-picture-removed");
    ask.act(Scope::Class(class), &filled, next, move |tx| tx.remove_picture(class, id, &key, picture)).await
}
