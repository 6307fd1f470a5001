//! Proofs: each is one photo of what was pulled, with its kind, its time and a note.

use diesel::prelude::*;
use diesel::sql_types::{BigInt, Integer, Nullable, Text};
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, PhotoId, PlateId, ProofId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::proofs::{OfPlate, is_fresh, photos, plate_title};
use crate::store::schema::{photo, plate, proof};
use crate::store::standing::Standing;
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

spelled!(
    /// What the photo shows.
    ProofKind {
        /// The drawing on the plate, before anything is pulled.
        Drawing = "drawing",
        Trial = "trial",
        /// The image in one of its states, before it is worked on further.
        State = "state",
        /// The pull every sheet of the edition is held against.
        Bat = "bat",
        /// A sheet of the edition.
        Edition = "edition",
        /// Pulled from the cancelled plate.
        Cancellation = "cancellation",
    }
);

/// A proof with its photo and who added it.
#[derive(Debug, Clone, Queryable)]
pub struct Proof {
    pub id: ProofId,
    pub plate: PlateId,
    pub photo: PhotoId,
    pub kind: Word<ProofKind>,
    pub pulled_at: Instant,
    pub note: String,
    /// Pixels of the upright picture.
    pub width: i32,
    pub height: i32,
    pub by: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub at: Instant,
    pub removed_at: Option<Instant>,
}

/// The columns of a proof, in order.
type Columns =
    (Text, Text, Text, Text, BigInt, Text, Integer, Integer, Text, Text, Text, BigInt, Nullable<BigInt>);

const PROOFS: &str = "SELECT proof.id, proof.plate_id, proof.photo_id, proof.kind, proof.pulled_at, proof.note, \
     photo.width, photo.height, proof.by_id, person.given_name, person.family_name, proof.at, proof.removed_at \
     FROM proof JOIN photo ON photo.id = proof.photo_id JOIN person ON person.id = proof.by_id \
     JOIN plate ON plate.id = proof.plate_id WHERE proof.class_id = ";
const IN_ORDER: &str = " ORDER BY proof.plate_id, proof.at, proof.id";
const OF_PLATE: [&str; 3] = [PROOFS, " AND proof.plate_id = ", IN_ORDER];
const OF_CLASS: [&str; 2] = [PROOFS, IN_ORDER];
const OF_PERSON: [&str; 3] = [PROOFS, " AND plate.person_id = ", IN_ORDER];

/// A proof of a plate with its number: counted by when it was added, so that one removed leaves a gap and no other
/// proof changes its name.
#[derive(Debug, Clone)]
pub struct Numbered {
    pub number: usize,
    pub proof: Proof,
}

/// The proofs of a plate, the last pulled first. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn of_plate(db: &mut AnyConnection, class: ClassId, plate: PlateId) -> Result<Vec<Numbered>, Trouble> {
    let question = Standing::<Columns, _>::in_order(|| &OF_PLATE, &[class.as_str(), plate.as_str()]);
    Ok(numbered(question.load(db)?))
}

/// The proofs of all plates of a class, or of one person's in it: plate by plate, the last pulled first. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn of_class(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
) -> Result<Vec<(PlateId, Vec<Numbered>)>, Trouble> {
    let class = class.as_str();
    let all: Vec<Proof> = match &owner {
        None => Standing::<Columns, _>::in_order(|| &OF_CLASS, &[class]).load(db)?,
        Some(owner) => Standing::<Columns, _>::in_order(|| &OF_PERSON, &[class, owner.as_str()]).load(db)?,
    };
    let plates = all.chunk_by(|one, next| one.plate == next.plate);
    Ok(plates
        .filter_map(|of_one| Some((of_one.first()?.plate, numbered(of_one.to_vec()))))
        .filter(|(_, proofs)| !proofs.is_empty())
        .collect())
}

fn numbered(in_order: Vec<Proof>) -> Vec<Numbered> {
    let mut all: Vec<Numbered> = in_order
        .into_iter()
        .enumerate()
        .map(|(place, proof)| Numbered { number: place + 1, proof })
        .filter(|one| one.proof.removed_at.is_none())
        .collect();
    all.sort_by_key(|one| std::cmp::Reverse((one.proof.pulled_at, one.number)));
    all
}

/// A proof to be added. Its three files lie on the shelf already.
#[derive(Debug, Clone)]
pub struct NewProof {
    pub photo: PhotoId,
    /// SHA-256 of the received file, in hexadecimal.
    pub sha256: String,
    pub width: i32,
    pub height: i32,
    /// Bytes of the full size.
    pub bytes: i64,
    pub kind: ProofKind,
    pub pulled_at: Instant,
    pub note: String,
}

impl Tx<'_> {
    /// Adds a proof to a plate.
    ///
    /// # Errors
    /// The plate is not of this class and owner; the same file shows a proof of this plate already (a complaint about
    /// the field `file`); the time lies ahead (about `pulled`).
    pub fn add_proof(&mut self, of: &OfPlate, new: &NewProof) -> Result<ProofId, Trouble> {
        let plate = plate_title(self.connection, of)?.plate;
        if new.pulled_at > self.now {
            return Err(Trouble::about("pulled", Remark::new("proofs-pulled-ahead")));
        }
        if photos::same_picture(self.connection, plate, &new.sha256)?.is_some() {
            return Err(Trouble::about("file", Remark::new("proofs-same-picture")));
        }
        let (id, by): (ProofId, PersonId) = (self.id(), self.person()?);
        diesel::insert_into(photo::table)
            .values((
                (photo::id.eq(new.photo), photo::class_id.eq(of.class), photo::plate_id.eq(plate)),
                (photo::sha256.eq(&new.sha256), photo::width.eq(new.width), photo::height.eq(new.height)),
                (photo::bytes.eq(new.bytes), photo::by_id.eq(by), photo::at.eq(self.now)),
            ))
            .execute(self.connection)?;
        diesel::insert_into(proof::table)
            .values((
                (proof::id.eq(id), proof::class_id.eq(of.class), proof::plate_id.eq(plate)),
                (proof::photo_id.eq(new.photo), proof::kind.eq(Word(new.kind))),
                (proof::pulled_at.eq(new.pulled_at), proof::note.eq(&new.note)),
                (proof::by_id.eq(by), proof::at.eq(self.now)),
            ))
            .execute(self.connection)?;
        let detail = json!({ "plate": plate, "photo": new.photo, "kind": new.kind, "sha256": new.sha256 });
        self.journal("proof.added", id, &detail)?;
        Ok(id)
    }

    /// Removes a proof: an instructor (no owner) at any time, a student what they added themselves within ten minutes.
    /// Its row stays; its picture is no longer shown, may be added again, and goes from the shelf a week later.
    ///
    /// # Errors
    /// It is not there for who asks, or the student may no longer remove it.
    pub fn remove_proof(
        &mut self,
        class: ClassId,
        id: ProofId,
        owner: Option<PersonId>,
    ) -> Result<PlateId, Trouble> {
        let mut query = proof::table
            .inner_join(plate::table)
            .filter(proof::id.eq(id).and(proof::class_id.eq(class)).and(proof::removed_at.is_null()))
            .select((proof::plate_id, proof::photo_id, proof::by_id, proof::at))
            .into_boxed();
        if let Some(owner) = owner {
            query = query.filter(plate::person_id.eq(owner));
        }
        let (plate, photo, by, at): (PlateId, PhotoId, PersonId, Instant) = query.first(self.connection)?;
        if owner.is_some() && (Some(by) != self.by || !is_fresh(at, self.now)) {
            return Err(Trouble::Refused(Remark::new("proofs-too-late-to-remove")));
        }
        diesel::update(proof::table.find(id))
            .set(proof::removed_at.eq(Some(self.now)))
            .execute(self.connection)?;
        diesel::update(photo::table.find(photo))
            .set(photo::sha256.eq(None::<String>))
            .execute(self.connection)?;
        self.journal("proof.removed", id, &json!({ "plate": plate, "photo": photo }))?;
        Ok(plate)
    }
}
