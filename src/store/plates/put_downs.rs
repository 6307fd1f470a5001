//! Sittings end with every plate gummed, buffed and in its rack place, or with a warning.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::PutDownId;
use crate::store::plates::folder::Folder;
use crate::store::plates::procedures::Procedures;
use crate::store::plates::runs::At;
use crate::store::schema::put_down;
use crate::store::write::Tx;
use crate::trade::procedure::PutDown;
use crate::trouble::Trouble;

/// How a plate is put down at the end of a sitting.
#[derive(Debug, Clone)]
pub struct PutDownDraft {
    pub gummed: bool,
    /// Buffed thin and dry.
    pub buffed: bool,
    pub talc: bool,
    pub rack_place: String,
}

impl Tx<'_> {
    /// Puts a plate down at the end of a sitting.
    ///
    /// # Errors
    /// The plate is not there.
    pub fn put_plate_down(
        &mut self,
        procedures: &Procedures,
        at: &At,
        draft: &PutDownDraft,
    ) -> Result<(), Trouble> {
        let mut folder = self.folder(procedures, at)?;
        self.put_down(&mut folder, draft, self.now)?;
        self.keep_standing(&folder)
    }

    /// As `put_plate_down`, in a folder at hand and at a moment that may be earlier: the end of something told later.
    /// Whoever calls it keeps the standing afterwards.
    pub(crate) fn put_down(
        &mut self,
        folder: &mut Folder,
        draft: &PutDownDraft,
        moment: Instant,
    ) -> Result<(), Trouble> {
        let PutDownDraft { gummed, buffed, talc, rack_place } = draft;
        let id: PutDownId = self.id();
        diesel::insert_into(put_down::table)
            .values((
                put_down::id.eq(id),
                put_down::class_id.eq(folder.row.class),
                put_down::plate_id.eq(folder.row.id),
                put_down::by_id.eq(self.person()?),
                put_down::at.eq(moment),
                put_down::gummed.eq(gummed),
                put_down::buffed.eq(buffed),
                put_down::talc.eq(talc),
                put_down::rack_place.eq(rack_place),
            ))
            .execute(self.connection)?;
        folder.row.rack_place.clone_from(rack_place);
        folder.history.put_downs.push(PutDown { at: moment.utc(), gummed: *gummed, talc: *talc });
        let detail = json!({ "gummed": gummed, "buffed": buffed, "talc": talc, "rack_place": rack_place });
        self.journal("plate.put-down", folder.row.id, &detail)
    }
}
