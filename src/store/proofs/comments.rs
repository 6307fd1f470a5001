//! Comments: about a plate, which everybody who works on it may read, or about a proof (critique notes), which are for
//! its student and the instructors.

use diesel::prelude::*;
use diesel::sql_types::{BigInt, Nullable, Text};
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, CommentId, PersonId, PlateId, ProofId};
use crate::store::connections::AnyConnection;
use crate::store::proofs::{OfPlate, is_fresh, plate_title};
use crate::store::schema::{comment, plate, proof};
use crate::store::standing::Standing;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// A comment and who wrote it.
#[derive(Debug, Clone, Queryable)]
pub struct Comment {
    pub id: CommentId,
    pub plate: PlateId,
    /// None: about the plate.
    pub proof: Option<ProofId>,
    pub words: String,
    pub by: PersonId,
    pub given_name: String,
    pub family_name: String,
    pub at: Instant,
}

/// The columns of a comment, in order.
type Columns = (Text, Text, Nullable<Text>, Text, Text, Text, Text, BigInt);

const COMMENTS: &str = "SELECT comment.id, comment.plate_id, comment.proof_id, comment.words, comment.by_id, \
     person.given_name, person.family_name, comment.at FROM comment JOIN plate ON plate.id = comment.plate_id \
     JOIN person ON person.id = comment.by_id WHERE comment.removed_at IS NULL AND comment.class_id = ";
const IN_ORDER: &str = " ORDER BY comment.at, comment.id";
const BUT_CRITIQUE: &str = " AND comment.proof_id IS NULL ORDER BY comment.at, comment.id";
const OF_PLATE: [&str; 3] = [COMMENTS, " AND comment.plate_id = ", IN_ORDER];
const OF_PLATE_BUT_CRITIQUE: [&str; 3] = [COMMENTS, " AND comment.plate_id = ", BUT_CRITIQUE];
const OF_CLASS: [&str; 2] = [COMMENTS, IN_ORDER];
const OF_CLASS_BUT_CRITIQUE: [&str; 2] = [COMMENTS, BUT_CRITIQUE];
const OF_PERSON: [&str; 3] = [COMMENTS, " AND plate.person_id = ", IN_ORDER];
const OF_PERSON_BUT_CRITIQUE: [&str; 3] = [COMMENTS, " AND plate.person_id = ", BUT_CRITIQUE];

/// The comments of a plate in the order they were written, with or without those about its proofs. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn of_plate(
    db: &mut AnyConnection,
    class: ClassId,
    plate: PlateId,
    critique: bool,
) -> Result<Vec<Comment>, Trouble> {
    let values = [class.as_str(), plate.as_str()];
    Ok(if critique {
        Standing::<Columns, _>::in_order(|| &OF_PLATE, &values).load(db)?
    } else {
        Standing::<Columns, _>::in_order(|| &OF_PLATE_BUT_CRITIQUE, &values).load(db)?
    })
}

/// The comments of a whole class, or of one person's plates in it, in the order they were written. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn of_class(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
    critique: bool,
) -> Result<Vec<Comment>, Trouble> {
    let class = class.as_str();
    Ok(match (&owner, critique) {
        (None, true) => Standing::<Columns, _>::in_order(|| &OF_CLASS, &[class]).load(db)?,
        (None, false) => Standing::<Columns, _>::in_order(|| &OF_CLASS_BUT_CRITIQUE, &[class]).load(db)?,
        (Some(owner), true) => {
            Standing::<Columns, _>::in_order(|| &OF_PERSON, &[class, owner.as_str()]).load(db)?
        }
        (Some(owner), false) => {
            Standing::<Columns, _>::in_order(|| &OF_PERSON_BUT_CRITIQUE, &[class, owner.as_str()]).load(db)?
        }
    })
}

impl Tx<'_> {
    /// Adds a comment to a plate, or to a proof of it.
    ///
    /// # Errors
    /// The plate is not of this class and owner, or the proof is not one of it.
    pub fn add_comment(
        &mut self,
        of: &OfPlate,
        about: Option<ProofId>,
        words: &str,
    ) -> Result<CommentId, Trouble> {
        let plate = plate_title(self.connection, of)?.plate;
        if let Some(about) = about {
            proof::table
                .filter(proof::id.eq(about).and(proof::plate_id.eq(plate)).and(proof::removed_at.is_null()))
                .select(proof::id)
                .first::<ProofId>(self.connection)?;
        }
        let id: CommentId = self.id();
        diesel::insert_into(comment::table)
            .values((
                (comment::id.eq(id), comment::class_id.eq(of.class), comment::plate_id.eq(plate)),
                (comment::proof_id.eq(about), comment::words.eq(words)),
                (comment::by_id.eq(self.person()?), comment::at.eq(self.now)),
            ))
            .execute(self.connection)?;
        self.journal("comment.added", id, &json!({ "plate": plate, "proof": about }))?;
        Ok(id)
    }

    /// Removes a comment: an instructor any, everybody else what they wrote themselves within ten minutes. Without
    /// `critique` there are only comments about plates.
    ///
    /// # Errors
    /// It is not there for who asks, or who asks may not remove it (any more).
    pub fn remove_comment(
        &mut self,
        class: ClassId,
        id: CommentId,
        owner: Option<PersonId>,
        critique: bool,
        instructor: bool,
    ) -> Result<(PlateId, Option<ProofId>), Trouble> {
        let mut query = comment::table
            .inner_join(plate::table)
            .filter(comment::id.eq(id).and(comment::class_id.eq(class)).and(comment::removed_at.is_null()))
            .select((comment::plate_id, comment::proof_id, comment::by_id, comment::at))
            .into_boxed();
        if let Some(owner) = owner {
            query = query.filter(plate::person_id.eq(owner));
        }
        if !critique {
            query = query.filter(comment::proof_id.is_null());
        }
        let (plate, proof, by, at): (PlateId, Option<ProofId>, PersonId, Instant) =
            query.first(self.connection)?;
        if !instructor && (Some(by) != self.by || !is_fresh(at, self.now)) {
            return Err(Trouble::Refused(Remark::new("proofs-comment-too-late-to-remove")));
        }
        diesel::update(comment::table.find(id))
            .set(comment::removed_at.eq(Some(self.now)))
            .execute(self.connection)?;
        self.journal("comment.removed", id, &json!({ "plate": plate, "proof": proof }))?;
        Ok((plate, proof))
    }
}
