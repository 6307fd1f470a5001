//! Bringing a class list: choosing or pasting it, looking the plan over, confirming. The page that shows the plan carries
//! the list itself and a digest of the plan; confirming reads and compares anew, in the transaction that acts.

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD as BASE64;
use serde_json::json;

use crate::exchange::oneroster::{self, List as Brought, Told, Wanted};
use crate::exchange::roster::MOST_BYTES;
use crate::ids::PersonId;
use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::roster::import::{self, Orders};
use crate::pages::roster::preview::Preview;
use crate::pages::upload::{Upload, UploadedFile};
use crate::store::Scope;
use crate::store::people::theirs::{self, Kind};
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

/// The whole list stands in the form that confirms it, in base64url: four letters for three bytes.
pub type ListUpload = Upload<MOST_BYTES, 7_500_000>;

/// Where a list is chosen or pasted.
pub async fn choose(here: InClass) -> Reply {
    choose_page(&here, Form::new("roster-list"), false)
}

fn choose_page(here: &InClass, form: Form, again: bool) -> Reply {
    let view = json!({ "form": form, "class_path": here.path("") });
    if again {
        here.show_again("roster/list", "roster-list", &view)
    } else {
        here.show("roster/list", "roster-list", &view)
    }
}

/// Shows what the list would do. Nothing is stored.
pub async fn look_over(here: InClass, upload: ListUpload) -> Reply {
    let (filled, file) = upload.fit();
    let outcome = match file.and_then(|file| chosen(&filled, file)) {
        Ok(bytes) => look_over_bytes(&here, bytes).await,
        Err(trouble) => Err(trouble),
    };
    again_on_trouble(&here, &filled, outcome)
}

async fn look_over_bytes(here: &InClass, bytes: Vec<u8>) -> Reply {
    let brought = unpacked(here, bytes).await?;
    preview(here, brought, None, &[]).await
}

/// A list that cannot be used as a whole comes back to where it was chosen.
fn again_on_trouble(here: &InClass, filled: &Filled, outcome: Reply) -> Reply {
    match outcome {
        Err(trouble) => {
            let form = Form::after("roster-list", filled, trouble, &here.house.speech)?;
            choose_page(here, form, true)
        }
        fine => fine,
    }
}

/// The bytes of the file chosen, or of the text pasted.
fn chosen(filled: &Filled, file: Option<UploadedFile>) -> Result<Vec<u8>, Trouble> {
    let pasted = filled.get("text").filter(|text| !text.trim().is_empty());
    match (file.filter(|file| !file.bytes.is_empty()), pasted) {
        (Some(file), None) => Ok(file.bytes),
        (None, Some(text)) => Ok(text.as_bytes().to_vec()),
        (Some(_), Some(_)) => Err(Trouble::about("file", Remark::new("roster-list-both"))),
        (None, None) => Err(Trouble::about("file", Remark::new("roster-list-none"))),
    }
}

/// A package of the OneRoster CSV binding gives the list of this class; anything else is the list itself.
async fn unpacked(here: &InClass, bytes: Vec<u8>) -> Result<Brought, Trouble> {
    if !oneroster::is_package(&bytes).map_err(|remark| Trouble::about("file", remark))? {
        return Ok(Brought { csv: bytes, told: Told::default() });
    }
    let (class, today) = (here.class(), here.now().local_date(here.membership.zone));
    let theirs = here.house.db.read(move |db| theirs::given(db, Kind::Class, &[class.as_str()])).await?;
    let wanted = Wanted {
        id: class.as_str(),
        theirs: theirs.get(class.as_str()).map(String::as_str),
        code: &here.membership.class_code,
    };
    oneroster::list(&bytes, wanted, today).map_err(|wrong| {
        Trouble::Complaints(wrong.into_iter().map(|remark| Complaint::new("file", remark)).collect())
    })
}

async fn preview(here: &InClass, brought: Brought, stale: Option<Remark>, ticked: &[PersonId]) -> Reply {
    let class = here.class();
    let (list, ids) = (BASE64.encode(&brought.csv), brought.told.carried());
    let looked =
        here.house.db.read(move |db| import::look_with(db, class, &brought.csv, &brought.told)).await?;
    let form = Form::new("roster-confirm")
        .with("list", list)
        .with("ids", ids)
        .with("digest", looked.digest.as_str());
    let speech = &here.house.speech;
    let preview = Preview::of(&looked, here.path(""), form, ticked, speech);
    match stale {
        None => here.show("roster/preview", "roster-preview", &preview),
        Some(remark) => {
            let preview = preview.again(speech.remark(&remark));
            here.show_again("roster/preview", "roster-preview", &preview)
        }
    }
}

/// Carries out exactly what was shown; where the plan is another by now, shows that instead and does nothing.
pub async fn confirm(here: InClass, upload: ListUpload) -> Reply {
    let (filled, fit) = upload.fit();
    let filled = &filled;
    if let Err(trouble) = fit {
        return again_on_trouble(&here, filled, Err(trouble));
    }
    let carried = filled.get("list").and_then(|list| BASE64.decode(list).ok());
    let told = Told::from_field(filled.get("ids").unwrap_or_default());
    let Some((csv, told)) = carried.zip(told) else {
        return again_on_trouble(&here, filled, Err(Trouble::about("file", Remark::new("roster-list-none"))));
    };
    let mut sheet = Sheet::new(filled);
    let withdraw: Vec<PersonId> = sheet.ids("withdraw");
    sheet.done()?;
    let (brought, ticked) = (Brought { csv, told }, withdraw.clone());
    match try_confirm(&here, filled, brought.clone(), withdraw).await {
        Err(Trouble::Stale(remark)) => {
            let outcome = preview(&here, brought, Some(remark), &ticked).await;
            again_on_trouble(&here, &Filled::default(), outcome)
        }
        outcome => again_on_trouble(&here, &Filled::default(), outcome),
    }
}

async fn try_confirm(here: &InClass, filled: &Filled, brought: Brought, withdraw: Vec<PersonId>) -> Reply {
    let (class, key) = (here.class(), filled.once_key()?);
    let shown = filled.get("digest").unwrap_or_default().to_owned();
    let orders = here.orders(withdraw, Sheet::new(filled).tick("invite"));
    let next = here.path("/people?done=done-roster-brought");
    let location = here
        .house
        .db
        .write(Scope::Class(class), Some(here.person.id), here.now(), move |tx| {
            tx.once(&key, |tx| {
                let looked = import::look_with(tx.connection, class, &brought.csv, &brought.told)?;
                if looked.digest != shown {
                    return Err(Trouble::Stale(Remark::new("roster-stale")));
                }
                import::carry_out(tx, class, &looked, &orders)?;
                Ok(next.clone())
            })
        })
        .await?;
    Ok(see_other(location))
}

impl InClass {
    pub(super) fn orders(&self, withdraw: Vec<PersonId>, invite: bool) -> Orders {
        let speech = &self.house.speech;
        Orders {
            withdraw,
            invite: invite.then(|| self.house.key.clone()),
            today: self.now().local_date(self.membership.zone),
            reason: speech.plain("roster-reason-list"),
            reason_withdrawn: speech.plain("roster-reason-withdrawn"),
        }
    }
}
