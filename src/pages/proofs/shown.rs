//! Proofs and comments as pages show them.

use serde::Serialize;

use crate::ids::{ClassId, CommentId, PhotoId, ProofId};
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::fields::Form;
use crate::pages::proofs::{comments, reads_critique};
use crate::photos::shelf::Size;
use crate::store::proofs::PlateTitle;
use crate::store::proofs::comments::Comment;
use crate::store::proofs::is_fresh;
use crate::store::proofs::pulls::{Numbered, Proof};
use crate::trade::remark::Param;
use crate::trade::spelled::Spelled as _;

/// A picture of one size, with the place it takes before it is there.
#[derive(Debug, Serialize)]
pub struct Image {
    pub path: String,
    pub width: u32,
    pub height: u32,
}

/// A proof with what is said about it.
#[derive(Debug, Serialize)]
pub struct ProofView {
    pub id: ProofId,
    pub photo: PhotoId,
    /// “Proof 2”.
    pub name: String,
    pub kind: String,
    pub pulled: String,
    pub note: String,
    pub who: String,
    /// What the picture is, for those who do not see it.
    pub alt: String,
    pub small: Image,
    pub large: Image,
    pub full: Image,
    /// Where this person may remove it.
    pub remove: Option<String>,
    pub talk: Talk,
}

/// Comments about one thing, and the form to add one.
#[derive(Debug, Serialize)]
pub struct Talk {
    /// Whether critique is for this person.
    pub open: bool,
    pub proof: Option<ProofId>,
    pub comments: Vec<CommentView>,
    pub form: Form,
    pub form_id: String,
    /// The form came back with a complaint.
    pub refused: bool,
    pub post: String,
    pub back: String,
}

#[derive(Debug, Serialize)]
pub struct CommentView {
    pub id: CommentId,
    pub who: String,
    pub at: String,
    pub words: String,
    pub remove: Option<String>,
}

/// What the pages of one plate share.
pub struct Shown<'a> {
    pub ask: &'a InClass,
    pub plate: &'a PlateTitle,
    pub comments: &'a [Comment],
    /// The form that came back, and what it is about.
    pub refused: Option<(Option<ProofId>, Form)>,
    /// Where a new comment leads back to: one of `comments::Back`.
    pub back: comments::Back,
}

impl Shown<'_> {
    pub fn proof(&self, one: &Numbered) -> ProofView {
        let (speech, proof) = (&self.ask.house.speech, &one.proof);
        let number = i64::try_from(one.number).unwrap_or(i64::MAX);
        let name = speech
            .say("proofs-name", &[("number", Param::Count(number))])
            .unwrap_or_else(|_| number.to_string());
        let kind = speech.plain(&format!("proofs-kind-{}", proof.kind.0.word()));
        let pulled = dates::moment(proof.pulled_at, self.ask.membership.zone);
        let alt = [
            ("proof", Param::Text(name.clone())),
            ("kind", Param::Text(kind.clone())),
            ("title", Param::Text(self.plate.print.clone())),
            ("number", Param::Count(self.plate.number.into())),
            ("pulled", Param::Text(pulled.clone())),
        ];
        ProofView {
            id: proof.id,
            photo: proof.photo,
            alt: speech.say("proofs-alt", &alt).unwrap_or_else(|_| name.clone()),
            name,
            kind,
            pulled,
            note: proof.note.clone(),
            who: format!("{} {}", proof.given_name, proof.family_name),
            small: image(self.ask.class(), proof, Size::Small320),
            large: image(self.ask.class(), proof, Size::Large1600),
            full: image(self.ask.class(), proof, Size::Full),
            remove: self
                .may_remove(proof)
                .then(|| format!("/classes/{}/proofs/{}/remove", self.ask.class(), proof.id)),
            talk: self.talk(Some(proof.id)),
        }
    }

    fn may_remove(&self, proof: &Proof) -> bool {
        let ask = self.ask;
        ask.is_instructor()
            || (ask.owner().is_some() && proof.by == ask.person.id && is_fresh(proof.at, ask.now()))
    }

    /// What is said about a proof, or about the plate itself.
    pub fn talk(&self, about: Option<ProofId>) -> Talk {
        let refused = self.refused.as_ref().filter(|(of, _)| *of == about).map(|(_, form)| form.clone());
        let form_id = match (&refused, about) {
            // The summary above the page leads here by the form's own name.
            (Some(_), _) => format!("{}-words", comments::FORM),
            (None, Some(proof)) => format!("words-{proof}"),
            (None, None) => "words-plate".to_owned(),
        };
        Talk {
            open: about.is_none() || reads_critique(self.ask),
            proof: about,
            comments: self
                .comments
                .iter()
                .filter(|one| one.proof == about)
                .map(|one| self.comment(one))
                .collect(),
            refused: refused.is_some(),
            form: refused.unwrap_or_else(|| Form::new(comments::FORM)),
            form_id,
            post: format!("/classes/{}/plates/{}/comments", self.ask.class(), self.plate.plate),
            back: self.back.word(),
        }
    }

    fn comment(&self, comment: &Comment) -> CommentView {
        let ask = self.ask;
        let own = comment.by == ask.person.id && is_fresh(comment.at, ask.now());
        CommentView {
            id: comment.id,
            who: format!("{} {}", comment.given_name, comment.family_name),
            at: dates::moment(comment.at, ask.membership.zone),
            words: comment.words.clone(),
            remove: (own || ask.is_instructor())
                .then(|| format!("/classes/{}/comments/{}/remove", ask.class(), comment.id)),
        }
    }
}

/// “Plate 1 of Temi Oyelaran” needs these two.
pub fn owner_name(plate: &PlateTitle) -> String {
    format!("{} {}", plate.given_name, plate.family_name)
}

/// A photo in one of its sizes.
#[must_use]
pub fn image(class: ClassId, proof: &Proof, size: Size) -> Image {
    let pixels = |side: i32| u32::try_from(side).unwrap_or(1);
    let (width, height) = size.within(pixels(proof.width), pixels(proof.height));
    Image { path: format!("/classes/{class}/photos/{}/{}", proof.photo, size.word()), width, height }
}
