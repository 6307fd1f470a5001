//! The purge: content goes, with the journal's details and salts about it; rows, hashes and the fact that there was
//! something stay, and the journal says which act took it.

use diesel::prelude::*;
use serde_json::json;

use super::due::{OfClass, due};
use crate::ids::{ClassId, PersonId, PhotoId, SessionId};
use crate::store::connections::AnyConnection;
use crate::store::journal::PURGED;
use crate::store::schema::{came_up, comment, etch, journal, journal_detail, letter, photo, proof, session};
use crate::store::write::{Tx, execute};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Ids in one statement.
const PART: usize = 500;

/// Lets go of the bytes that a purge has overwritten, so that a copy of the files holds them no more than a backup that asks
/// for the rows: SQLite writes zeros over what is deleted (`secure_delete`) and empties its log here, PostgreSQL drops the
/// rows that were.
///
/// # Errors
/// The database refuses.
pub fn let_go(db: &mut AnyConnection) -> Result<(), Trouble> {
    let sql = match db {
        AnyConnection::Sqlite(_) => "PRAGMA wal_checkpoint(TRUNCATE)",
        AnyConnection::Postgres(_) => {
            "VACUUM journal_detail, photo, proof, comment, etch, came_up, letter, session, kept_archive_piece"
        }
    };
    execute(db, sql)
}

impl Tx<'_> {
    /// Takes away what is due in a class by now, if it is as much as was looked at. Gives the photos whose files can go.
    ///
    /// # Errors
    /// `Stale` when it is another amount by now, or the database refuses.
    pub fn purge_class(&mut self, class: ClassId, seen: usize) -> Result<Vec<PhotoId>, Trouble> {
        let (all, _) = due(self.connection, self.now)?;
        let one = all.into_iter().find(|one| one.class == Some(class)).unwrap_or_default();
        if one.count() != seen {
            return Err(Trouble::Stale(Remark::new("retention-stale")));
        }
        if seen == 0 {
            return Ok(Vec::new());
        }
        let mut subjects: Vec<String> = Vec::new();
        self.purge_photos(&one, &mut subjects)?;
        for part in one.comments.chunks(PART) {
            diesel::update(comment::table.filter(comment::id.eq_any(part)))
                .set((comment::words.eq(""), comment::removed_at.eq(self.now)))
                .execute(self.connection)?;
            subjects.extend(part.iter().map(ToString::to_string));
        }
        for part in one.etches.chunks(PART) {
            diesel::update(etch::table.filter(etch::id.eq_any(part)))
                .set((etch::seen.eq(""), etch::helper.eq("")))
                .execute(self.connection)?;
            diesel::update(came_up::table.filter(came_up::etch_root.eq_any(part)))
                .set(came_up::note.eq(""))
                .execute(self.connection)?;
            subjects.extend(part.iter().map(ToString::to_string));
            let told: Vec<String> = came_up::table
                .filter(came_up::etch_root.eq_any(part))
                .select(came_up::id)
                .load(self.connection)?;
            subjects.extend(told);
        }
        for part in one.letters.chunks(PART) {
            diesel::update(letter::table.filter(letter::id.eq_any(part)))
                .set(letter::detail.eq("{}"))
                .execute(self.connection)?;
        }
        let details = self.purge_details(&class.to_string(), &subjects)?;
        let archives = self.let_kept_archives_go(class)?;
        let counts = json!({
            "photos": one.photos.len(), "comments": one.comments.len(), "etch_notes": one.etches.len(),
            "letters": one.letters.len(), "journal_details": details, "archives": archives,
            "held": one.held,
        });
        self.journal(PURGED, class, &counts)?;
        Ok(one.photos)
    }

    fn purge_photos(&mut self, one: &OfClass, subjects: &mut Vec<String>) -> Result<(), Trouble> {
        for part in one.photos.chunks(PART) {
            diesel::update(photo::table.filter(photo::id.eq_any(part)))
                .set(photo::sha256.eq(None::<String>))
                .execute(self.connection)?;
            diesel::update(proof::table.filter(proof::photo_id.eq_any(part)))
                .set((proof::note.eq(""), proof::removed_at.eq(self.now)))
                .execute(self.connection)?;
            subjects.extend(part.iter().map(ToString::to_string));
            let proofs: Vec<String> =
                proof::table.filter(proof::photo_id.eq_any(part)).select(proof::id).load(self.connection)?;
            subjects.extend(proofs);
        }
        Ok(())
    }

    /// Deletes details and salts of acts about some things. Answers how many.
    fn purge_details(&mut self, scope: &str, subjects: &[String]) -> Result<usize, Trouble> {
        let mut gone = 0;
        for part in subjects.chunks(PART) {
            let acts: Vec<i64> = journal::table
                .filter(journal::scope.eq(scope).and(journal::subject.eq_any(part)))
                .select(journal::seq)
                .load(self.connection)?;
            for acts in acts.chunks(PART) {
                let of = journal_detail::scope.eq(scope).and(journal_detail::seq.eq_any(acts));
                gone += diesel::delete(journal_detail::table.filter(of)).execute(self.connection)?;
            }
        }
        Ok(gone)
    }

    /// Takes away sessions that ended long ago, if they are as many as were looked at, and what the school's journal tells
    /// of people signing in before the last of them ended.
    ///
    /// # Errors
    /// `Stale` when they are others by now, or the database refuses.
    pub fn purge_sign_ins(&mut self, seen: usize) -> Result<(), Trouble> {
        let (_, school) = due(self.connection, self.now)?;
        if school.sessions.len() != seen {
            return Err(Trouble::Stale(Remark::new("retention-stale")));
        }
        if seen == 0 {
            return Ok(());
        }
        let mut details = 0;
        for part in school.sessions.chunks(PART) {
            details += self.purge_sessions(part)?;
        }
        self.journal(
            PURGED,
            "school",
            &json!({ "sign_ins": seen, "journal_details": details, "held": school.held }),
        )
    }

    fn purge_sessions(&mut self, part: &[SessionId]) -> Result<usize, Trouble> {
        let opened: Vec<(PersonId, crate::clock::Instant)> = session::table
            .filter(session::id.eq_any(part))
            .select((session::person_id, session::created_at))
            .load(self.connection)?;
        let mut gone = 0;
        for (person, at) in opened {
            let acts: Vec<i64> = journal::table
                .filter(journal::scope.eq("school").and(journal::subject.eq(person.to_string())))
                .filter(journal::act.eq("session.opened").and(journal::at.eq(at)))
                .select(journal::seq)
                .load(self.connection)?;
            let of = journal_detail::scope.eq("school").and(journal_detail::seq.eq_any(acts));
            gone += diesel::delete(journal_detail::table.filter(of)).execute(self.connection)?;
        }
        diesel::delete(session::table.filter(session::id.eq_any(part))).execute(self.connection)?;
        Ok(gone)
    }
}
