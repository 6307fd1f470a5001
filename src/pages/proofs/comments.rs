//! Comments: adding one to a plate or to a proof, and removing one.

use actix_web::web;

use crate::ids::{ClassId, CommentId, PlateId, ProofId};
use crate::pages::acts::said;
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::forms::{Filled, Sheet};
use crate::pages::proofs::{list, of, path, reads_critique};
use crate::store::Scope;
use crate::store::proofs::plate_title;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

pub const FORM: &str = "proofs-comment";
/// Most characters of a comment.
const MOST: usize = 2000;

/// Where a person goes on after a comment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Back {
    /// The plate's own page.
    Plate,
    /// All its proofs.
    List,
    /// Two of them side by side.
    Compare(ProofId, ProofId),
}

impl Back {
    /// As it stands in a form.
    #[must_use]
    pub fn word(self) -> String {
        match self {
            Self::Plate => "plate".to_owned(),
            Self::List => "list".to_owned(),
            Self::Compare(left, right) => format!("{left} {right}"),
        }
    }

    /// Anything else leads to all proofs.
    fn from_word(word: &str) -> Self {
        if word == "plate" {
            return Self::Plate;
        }
        let pair = word.split_once(' ').and_then(|(left, right)| left.parse().ok().zip(right.parse().ok()));
        pair.map_or(Self::List, |(left, right)| Self::Compare(left, right))
    }

    fn path(self, class: ClassId, plate: PlateId, about: Option<ProofId>) -> String {
        let mark = about.map_or_else(|| "comments".to_owned(), |proof| format!("proof-{proof}"));
        let proofs = path(class, plate);
        match self {
            Self::Plate => format!("/classes/{class}/plates/{plate}#{mark}"),
            Self::List => format!("{proofs}#{mark}"),
            Self::Compare(left, right) => format!("{proofs}/compare?left={left}&right={right}#{mark}"),
        }
    }
}

/// Adds a comment.
pub async fn add(ask: InClass, ids: web::Path<(ClassId, PlateId)>, filled: Filled) -> Reply {
    let plate = ids.into_inner().1;
    let place = of(&ask, plate);
    ask.house.db.read(move |db| plate_title(db, &place)).await?;
    let mut sheet = Sheet::new(&filled);
    let about: Option<ProofId> = sheet.maybe_id("proof");
    if about.is_some() && !reads_critique(&ask) {
        return Err(Trouble::NotYours);
    }
    let words = sheet.words("words", MOST);
    if words.is_empty() {
        sheet.complain("words", Remark::new("form-empty"));
    }
    if let Err(trouble) = sheet.done() {
        let form = Form::after(FORM, &filled, trouble, &ask.house.speech)?;
        return list::page(&ask, plate, Some((about, form))).await;
    }
    let back = Back::from_word(filled.get("back").unwrap_or_default());
    let next = said(back.path(ask.class(), plate, about), "done-comment-added");
    let scope = Scope::Class(ask.class());
    ask.act(scope, &filled, next, move |tx| tx.add_comment(&place, about, &words).map(drop)).await
}

/// Removes a comment: one's own within ten minutes, as an instructor any.
pub async fn remove(ask: InClass, ids: web::Path<(ClassId, CommentId)>, filled: Filled) -> Reply {
    let (class, id) = ids.into_inner();
    let (owner, critique, instructor) = (ask.owner(), reads_critique(&ask), ask.is_instructor());
    let back = Back::from_word(filled.get("back").unwrap_or_default());
    ask.act_to(Scope::Class(class), &filled, move |tx| {
        let (plate, about) = tx.remove_comment(class, id, owner, critique, instructor)?;
        Ok(said(back.path(class, plate, about), "done-comment-removed"))
    })
    .await
}
