//! Pictures of procedures: how it should look, and how wrong looks. A picture is never changed, and versions that were kept
//! go on naming it; so it is seen wherever a procedure names it that one may read, copies included.

use std::collections::HashSet;

use diesel::prelude::*;

use crate::clock::Instant;
use crate::ids::{ClassId, PhotoId, ProcedureId};
use crate::store::connections::AnyConnection;
use crate::store::schema::{procedure, procedure_draft, procedure_picture, procedure_version};
use crate::store::write::Tx;
use crate::trade::procedure::{Picture, Shows};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Most pictures of one step.
pub const MOST_PICTURES: usize = 6;

/// A picture as it came in.
#[derive(Debug, Clone)]
pub struct NewPicture {
    pub photo: PhotoId,
    pub width: i32,
    pub height: i32,
    pub bytes: i64,
    pub shows: Shows,
    pub caption: String,
}

/// Asks whether a procedure this class may read names the picture: in a version that was kept, or for those who write it
/// in its draft. Two statements at the most.
///
/// # Errors
/// It does not.
pub fn seen_by(
    db: &mut AnyConnection,
    class: ClassId,
    id: ProcedureId,
    photo: PhotoId,
    writes: bool,
) -> Result<(), Trouble> {
    // An id is hexadecimal digits and hyphens: nothing in it means anything to LIKE.
    let named = format!("%\"{photo}\"%");
    let kept: Option<ProcedureId> = procedure::table
        .inner_join(procedure_version::table)
        .filter(procedure::id.eq(id))
        .filter(procedure::class_id.is_null().or(procedure::class_id.eq(class)))
        .filter(procedure_version::body.like(&named))
        .select(procedure::id)
        .first(db)
        .optional()?;
    if kept.is_some() {
        return Ok(());
    }
    if !writes {
        return Err(Trouble::NotFound);
    }
    procedure_draft::table
        .filter(procedure_draft::procedure_id.eq(id).and(procedure_draft::class_id.eq(class)))
        .filter(procedure_draft::discarded_at.is_null().and(procedure_draft::body.like(&named)))
        .select(procedure_draft::procedure_id)
        .first::<ProcedureId>(db)?;
    Ok(())
}

/// Which of these photos are pictures that are still wanted: young ones, and those that any version or draft names, a
/// draft that was thrown away included.
///
/// # Errors
/// The database cannot be read.
pub fn wanted(db: &mut AnyConnection, ids: &[PhotoId], since: Instant) -> Result<HashSet<PhotoId>, Trouble> {
    let found: Vec<(PhotoId, Instant)> = procedure_picture::table
        .filter(procedure_picture::id.eq_any(ids))
        .select((procedure_picture::id, procedure_picture::at))
        .load(db)?;
    let mut wanted = HashSet::new();
    for (id, at) in found {
        if at >= since || named_anywhere(db, id)? {
            wanted.insert(id);
        }
    }
    Ok(wanted)
}

fn named_anywhere(db: &mut AnyConnection, id: PhotoId) -> Result<bool, Trouble> {
    let named = format!("%\"{id}\"%");
    let in_versions = procedure_version::table.filter(procedure_version::body.like(&named));
    let in_drafts = procedure_draft::table.filter(procedure_draft::body.like(&named));
    let kept: i64 = in_versions.count().get_result(db)?;
    let written: i64 = if kept > 0 { 0 } else { in_drafts.count().get_result(db)? };
    Ok(kept + written > 0)
}

impl Tx<'_> {
    /// Adds a picture to a step of a draft.
    ///
    /// # Errors
    /// There is no such procedure or step, or the step has as many as it may have.
    pub fn add_picture(
        &mut self,
        class: ClassId,
        id: ProcedureId,
        key: &str,
        new: &NewPicture,
    ) -> Result<(), Trouble> {
        let by = self.by.ok_or(Trouble::SignInFirst)?;
        self.change_draft(class, id, None, "picture added", |procedure| {
            let step = procedure.find_mut(key).ok_or(Trouble::NotFound)?;
            if step.pictures.len() >= MOST_PICTURES {
                let most = i64::try_from(MOST_PICTURES).unwrap_or(i64::MAX);
                return Err(Trouble::about(
                    "file",
                    Remark::new("procedures-many-pictures").with("most", most),
                ));
            }
            step.pictures.push(Picture {
                name: new.photo.to_string(),
                shows: new.shows,
                caption: new.caption.clone(),
            });
            Ok(())
        })?;
        diesel::insert_into(procedure_picture::table)
            .values((
                procedure_picture::id.eq(new.photo),
                procedure_picture::class_id.eq(class),
                procedure_picture::width.eq(new.width),
                procedure_picture::height.eq(new.height),
                procedure_picture::bytes.eq(new.bytes),
                procedure_picture::by_id.eq(by),
                procedure_picture::at.eq(self.now),
            ))
            .execute(self.connection)?;
        Ok(())
    }

    /// Takes a picture out of a step of a draft; versions that were kept with it go on showing it.
    ///
    /// # Errors
    /// There is no such procedure, step or picture.
    pub fn remove_picture(
        &mut self,
        class: ClassId,
        id: ProcedureId,
        key: &str,
        photo: PhotoId,
    ) -> Result<(), Trouble> {
        self.change_draft(class, id, None, "picture removed", |procedure| {
            let step = procedure.find_mut(key).ok_or(Trouble::NotFound)?;
            let before = step.pictures.len();
            step.pictures.retain(|picture| picture.name != photo.as_str());
            if step.pictures.len() < before { Ok(()) } else { Err(Trouble::NotFound) }
        })
    }
}
