//! Archives that were made: their text as it was given, in pieces, so that the same moment gives the same bytes whatever was
//! changed since. Pictures and papers are not among it: they lie on their shelves and never change. A purge takes what was
//! kept of its class along.

use std::io::{Read, Write};

use chrono::DateTime;
use diesel::prelude::*;
use diesel::sql_types::BigInt;

use super::Part;
use crate::clock::Instant;
use crate::ids::{ClassId, KeptArchiveId};
use crate::secrets::sha256_hex;
use crate::store::connections::AnyConnection;
use crate::store::journal::PURGED;
use crate::store::schema::{journal, journal_detail, kept_archive, kept_archive_class, kept_archive_piece};
use crate::store::write::{Tx, execute};
use crate::trouble::Trouble;

/// Bytes of a piece.
const PIECE: usize = 256 * 1024;
/// A clock is not believed that is further ahead than this.
const MOST_AHEAD_MS: i64 = 60_000;

/// Acts of the school that change nothing of what an archive holds: doors that open and close, and the archive's own;
/// of a restoring see `restored_later`.
const HARMLESS: &str = "'address.rests', 'address.woken', 'calendar.made', 'calendar.withdrawn', 'password.set', \
    'person.invited', 'school.restored', 'session.ended', 'session.opened', 'tablet.made', \
    'tablet.opened', 'tablet.withdrawn', 'term.archived'";

/// The archive of some classes as of a moment, if it was made before.
///
/// # Errors
/// The database cannot be read.
pub fn find(
    db: &mut AnyConnection,
    classes: &[ClassId],
    as_of: Instant,
) -> Result<Option<KeptArchiveId>, Trouble> {
    Ok(kept_archive::table
        .filter(kept_archive::of_classes.eq(of_classes(classes)).and(kept_archive::as_of.eq(as_of)))
        .select(kept_archive::id)
        .first(db)
        .optional()?)
}

/// As of when archives of these very classes were made, the one that was made first at the beginning.
///
/// # Errors
/// The database cannot be read.
pub fn moments(db: &mut AnyConnection, classes: &[ClassId]) -> Result<Vec<Instant>, Trouble> {
    Ok(kept_archive::table
        .filter(kept_archive::of_classes.eq(of_classes(classes)))
        .order((kept_archive::made_at, kept_archive::as_of))
        .select(kept_archive::as_of)
        .load(db)?)
}

/// Hands out the bytes that were kept of an archive.
///
/// # Errors
/// The database cannot be read, or nothing be written.
pub fn text(db: &mut AnyConnection, id: KeptArchiveId, out: &mut dyn Write) -> Result<(), Trouble> {
    let pieces = kept_archive_piece::table.filter(kept_archive_piece::kept_archive_id.eq(id));
    for position in 0.. {
        let bytes: Option<Vec<u8>> = pieces
            .filter(kept_archive_piece::position.eq(position))
            .select(kept_archive_piece::bytes)
            .first(db)
            .optional()?;
        let Some(bytes) = bytes else { break };
        out.write_all(&bytes).map_err(|error| Trouble::broken("reading a kept archive", error))?;
    }
    Ok(())
}

/// How often something was purged in some classes, ever.
///
/// # Errors
/// The database cannot be read.
pub fn purges(db: &mut AnyConnection, classes: &[ClassId]) -> Result<i64, Trouble> {
    let scopes: Vec<String> = classes.iter().map(ToString::to_string).collect();
    let purged = journal::table.filter(journal::scope.eq_any(scopes).and(journal::act.eq(PURGED)));
    Ok(purged.count().get_result(db)?)
}

/// Keeps the text of an archive, piece by piece in one transaction. False where one of the same classes and moment is kept
/// already, which holds, and where more was purged since than the `purges` it was read after: nothing of that is kept.
///
/// # Errors
/// The database or the text fails.
pub fn keep(
    db: &mut AnyConnection,
    (classes, as_of): (&[ClassId], Instant),
    (now, purged): (Instant, i64),
    text: &mut dyn Read,
) -> Result<bool, Trouble> {
    let id = KeptArchiveId::new(now);
    let kept = db.transaction::<(), Trouble, _>(|db| {
        // A purge holds the heads of its class until it is through; on SQLite nobody else writes meanwhile.
        if matches!(db, AnyConnection::Postgres(_)) {
            let mut scopes: Vec<String> = classes.iter().map(|class| format!("'{class}'")).collect();
            scopes.sort();
            let heads = scopes.join(", ");
            execute(
                db,
                &format!("SELECT 1 FROM journal_head WHERE scope IN ({heads}) ORDER BY scope FOR UPDATE"),
            )?;
        }
        diesel::insert_into(kept_archive::table)
            .values((
                kept_archive::id.eq(id),
                kept_archive::of_classes.eq(of_classes(classes)),
                kept_archive::as_of.eq(as_of),
                kept_archive::made_at.eq(now),
            ))
            .execute(db)?;
        if purges(db, classes)? != purged {
            return Err(Trouble::Taken);
        }
        for class in classes {
            diesel::insert_into(kept_archive_class::table)
                .values((kept_archive_class::kept_archive_id.eq(id), kept_archive_class::class_id.eq(class)))
                .execute(db)?;
        }
        for position in 0_i32.. {
            let mut bytes = Vec::new();
            let mut part = Read::take(&mut *text, u64::try_from(PIECE).unwrap_or(u64::MAX));
            part.read_to_end(&mut bytes).map_err(|error| Trouble::broken("keeping an archive", error))?;
            if bytes.is_empty() {
                break;
            }
            diesel::insert_into(kept_archive_piece::table)
                .values((
                    kept_archive_piece::kept_archive_id.eq(id),
                    kept_archive_piece::position.eq(position),
                    kept_archive_piece::bytes.eq(bytes),
                ))
                .execute(db)?;
        }
        Ok(())
    });
    match kept {
        Ok(()) => Ok(true),
        Err(Trouble::Taken) => Ok(false),
        Err(other) => Err(other),
    }
}

/// The moment an archive that is made now is as of: after every act that is there, be it of the same millisecond, and none
/// of which one is kept already.
///
/// # Errors
/// The database cannot be read.
pub fn present(db: &mut AnyConnection, classes: &[ClassId], now: Instant) -> Result<Instant, Trouble> {
    let scopes: Vec<String> = classes.iter().map(ToString::to_string).collect();
    let ahead = now.plus_ms(MOST_AHEAD_MS);
    let last: Option<Instant> = journal::table
        .filter(journal::scope.eq_any(scopes).and(journal::at.ge(now)).and(journal::at.lt(ahead)))
        .select(diesel::dsl::max(journal::at))
        .first(db)?;
    let mut at = last.map_or(now, |last| last.plus_ms(1));
    while find(db, classes, at)?.is_some() {
        at = at.plus_ms(1);
    }
    Ok(at)
}

#[derive(QueryableByName)]
struct Count {
    #[diesel(sql_type = BigInt)]
    count: i64,
}

/// How many acts of the classes, or of the school they are in, are of the part's moment or later and may have changed what
/// an archive of it would hold. The roster of another class may bring what another system calls the term they share.
///
/// # Errors
/// The database cannot be read.
pub fn acts_since(db: &mut AnyConnection, part: &Part) -> Result<i64, Trouble> {
    let sql = part.fill(&format!(
        "SELECT COUNT(*) AS count FROM journal WHERE at >= {{at}} AND (scope IN ({{classes}}) \
         OR act = 'roster.brought' OR scope = 'school' AND act NOT IN ({HARMLESS}) AND NOT (\
         subject IN (SELECT id FROM person) AND subject NOT IN ({{people}})))"
    ));
    let acts = diesel::sql_query(sql).get_result::<Count>(db)?.count;
    Ok(acts + restored_later(db, part.as_of)?)
}

/// How often an archive of a later moment was read back since: what the school did before that one was made is not known
/// here.
fn restored_later(db: &mut AnyConnection, as_of: Instant) -> Result<i64, Trouble> {
    let details: Vec<String> = journal_detail::table
        .inner_join(
            journal::table
                .on(journal::scope.eq(journal_detail::scope).and(journal::seq.eq(journal_detail::seq))),
        )
        .filter(
            journal::scope.eq("school").and(journal::act.eq("school.restored")).and(journal::at.ge(as_of)),
        )
        .select(journal_detail::detail)
        .load(db)?;
    let of = |detail: &String| -> Option<Instant> {
        let detail: serde_json::Value = serde_json::from_str(detail).ok()?;
        let told = detail.pointer("/from/as_of")?.as_str()?;
        Some(Instant::from_utc(DateTime::parse_from_rfc3339(told).ok()?.to_utc()))
    };
    let later = details.iter().filter(|detail| of(detail).is_none_or(|of| of > as_of)).count();
    Ok(i64::try_from(later).unwrap_or(i64::MAX))
}

/// How many archives of each class are kept.
///
/// # Errors
/// The database cannot be read.
pub fn counts(db: &mut AnyConnection) -> Result<Vec<(ClassId, i64)>, Trouble> {
    Ok(kept_archive_class::table
        .group_by(kept_archive_class::class_id)
        .select((kept_archive_class::class_id, diesel::dsl::count_star()))
        .load(db)?)
}

impl Tx<'_> {
    /// Lets go of every kept archive that a class is in. Answers how many there were.
    ///
    /// # Errors
    /// The database refuses.
    pub fn let_kept_archives_go(&mut self, class: ClassId) -> Result<usize, Trouble> {
        let all: Vec<KeptArchiveId> = kept_archive_class::table
            .filter(kept_archive_class::class_id.eq(class))
            .select(kept_archive_class::kept_archive_id)
            .load(self.connection)?;
        let pieces = kept_archive_piece::table.filter(kept_archive_piece::kept_archive_id.eq_any(&all));
        diesel::delete(pieces).execute(self.connection)?;
        let classes = kept_archive_class::table.filter(kept_archive_class::kept_archive_id.eq_any(&all));
        diesel::delete(classes).execute(self.connection)?;
        Ok(diesel::delete(kept_archive::table.filter(kept_archive::id.eq_any(&all)))
            .execute(self.connection)?)
    }
}

/// The classes, whatever their order.
fn of_classes(classes: &[ClassId]) -> String {
    let mut ids: Vec<&str> = classes.iter().map(ClassId::as_str).collect();
    ids.sort_unstable();
    sha256_hex(ids.join("\n").as_bytes())
}
