//! Tablets that stand in a studio. Staff make one with a name; its address works once, and what opened it shows a token
//! from then on, of which the row keeps the digest. Whoever types a plate's number there tells what happens to it.

use diesel::prelude::*;
use diesel::sql_types::Text;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, PlateId, StudioId, TabletId, TermId};
use crate::secrets::{ServerKey, sha256_hex};
use crate::store::connections::AnyConnection;
use crate::store::schema::{person, tablet};
use crate::store::standing::Standing;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// So long the address of a new tablet may be opened.
pub const OPENS_FOR_MS: i64 = 3_600_000;
const PURPOSE: &str = "studio tablet";

/// A tablet that was not withdrawn.
#[derive(Debug, Clone, Queryable)]
pub struct Tablet {
    pub id: TabletId,
    pub name: String,
    pub secret_until: Instant,
    pub made_at: Instant,
    pub opened_at: Option<Instant>,
    pub given_name: String,
    pub family_name: String,
}

/// The secret part of a tablet's one-time address, computed again whenever staff look at it.
#[must_use]
pub fn secret(key: &ServerKey, id: TabletId) -> String {
    key.link_secret(PURPOSE, id.as_str())
}

/// The tablets of a studio, by name.
///
/// # Errors
/// The database cannot be read.
pub fn tablets(db: &mut AnyConnection, studio: StudioId) -> Result<Vec<Tablet>, Trouble> {
    Ok(tablet::table
        .inner_join(person::table)
        .filter(tablet::studio_id.eq(studio).and(tablet::withdrawn_at.is_null()))
        .order((tablet::name, tablet::id))
        .select((
            tablet::id,
            tablet::name,
            tablet::secret_until,
            tablet::made_at,
            tablet::opened_at,
            person::given_name,
            person::family_name,
        ))
        .load(db)?)
}

/// The tablet that shows a token, and its studio.
///
/// # Errors
/// The database cannot be read.
pub fn shown(db: &mut AnyConnection, token: &str) -> Result<Option<(TabletId, StudioId)>, Trouble> {
    Ok(tablet::table
        .filter(tablet::token_hash.eq(sha256_hex(token.as_bytes())).and(tablet::withdrawn_at.is_null()))
        .select((tablet::id, tablet::studio_id))
        .first(db)
        .optional()?)
}

/// A plate that somebody may mean by a number, and the class it is in, as a tablet has to know it.
#[derive(Debug, Clone, QueryableByName)]
pub struct Meant {
    #[diesel(sql_type = Text)]
    pub plate: PlateId,
    #[diesel(sql_type = Text)]
    pub owner: PersonId,
    #[diesel(sql_type = Text)]
    pub volume_unit: String,
    #[diesel(sql_type = Text)]
    pub class: ClassId,
    #[diesel(sql_type = Text)]
    pub class_title: String,
    #[diesel(sql_type = Text)]
    pub class_code: String,
    #[diesel(sql_type = Text)]
    pub term: TermId,
    #[diesel(sql_type = Text)]
    pub term_name: String,
    #[diesel(sql_type = Text)]
    pub zone: String,
    #[diesel(sql_type = Text)]
    pub studio: StudioId,
    #[diesel(sql_type = Text)]
    pub studio_name: String,
    #[diesel(sql_type = Text)]
    pub eyewash: String,
}

macro_rules! meant {
    ($condition:literal) => {
        concat!(
            "SELECT l.id AS plate, l.person_id AS owner, p.volume_unit, c.id AS class, c.title AS class_title, \
             c.code AS class_code, t.id AS term, t.name AS term_name, t.zone, r.id AS studio, \
             r.name AS studio_name, r.eyewash FROM plate l JOIN print q ON q.id = l.print_id \
             JOIN person p ON p.id = l.person_id JOIN class c ON c.id = l.class_id JOIN term t ON t.id = c.term_id \
             JOIN studio r ON r.id = c.studio_id JOIN enrolment e ON e.class_id = c.id AND e.person_id = p.id \
             WHERE e.state IN ('enrolled', 'incomplete') AND q.handed_in_at IS NULL AND t.archived_at IS NULL AND ",
            $condition
        )
    };
}
const BY_NUMBER: [&str; 3] =
    [meant!("CAST(l.number AS TEXT) = "), " AND r.id = ", " ORDER BY t.ends DESC, c.title, l.id"];
const BY_ID: [&str; 3] = [meant!("l.id = "), " AND r.id = ", ""];

/// Plates of a studio with a number, in the order of their terms.
///
/// # Errors
/// The database cannot be read.
pub fn by_number(db: &mut AnyConnection, studio: StudioId, number: i64) -> Result<Vec<Meant>, Trouble> {
    Ok(Standing::asking(|| &BY_NUMBER, &[&number.to_string(), studio.as_str()]).load(db)?)
}

/// One plate of a studio.
///
/// # Errors
/// It is not of this studio, or nothing is done on it any more.
pub fn meant(db: &mut AnyConnection, studio: StudioId, plate: PlateId) -> Result<Meant, Trouble> {
    Ok(Standing::asking(|| &BY_ID, &[plate.as_str(), studio.as_str()]).get_result(db)?)
}

impl Tx<'_> {
    /// Makes a tablet, whose address may be opened once.
    ///
    /// # Errors
    /// The database refuses.
    pub fn add_tablet(&mut self, key: &ServerKey, studio: StudioId, name: &str) -> Result<TabletId, Trouble> {
        let id: TabletId = self.id();
        diesel::insert_into(tablet::table)
            .values((
                tablet::id.eq(id),
                tablet::studio_id.eq(studio),
                tablet::name.eq(name),
                tablet::secret_hash.eq(sha256_hex(secret(key, id).as_bytes())),
                tablet::secret_until.eq(self.now.plus_ms(OPENS_FOR_MS)),
                tablet::made_by.eq(self.person()?),
                tablet::made_at.eq(self.now),
            ))
            .execute(self.connection)?;
        self.journal("tablet.made", id, &json!({ "studio": studio, "name": name }))?;
        Ok(id)
    }

    /// Opens a tablet's address: from now on `token` is what it shows.
    ///
    /// # Errors
    /// It was opened, withdrawn, or its time is over.
    pub fn open_tablet(&mut self, secret: &str, token: &str) -> Result<TabletId, Trouble> {
        let open = tablet::table
            .filter(tablet::secret_hash.eq(sha256_hex(secret.as_bytes())))
            .filter(tablet::opened_at.is_null().and(tablet::withdrawn_at.is_null()))
            .filter(tablet::secret_until.gt(self.now));
        let found: Option<TabletId> = open.select(tablet::id).first(self.connection).optional()?;
        let id = found.ok_or_else(|| Trouble::Refused(Remark::new("tablet-address-used")))?;
        diesel::update(tablet::table.find(id))
            .set((tablet::token_hash.eq(sha256_hex(token.as_bytes())), tablet::opened_at.eq(self.now)))
            .execute(self.connection)?;
        self.journal("tablet.opened", id, &json!({}))?;
        Ok(id)
    }

    /// Withdraws a tablet: it opens nothing any more.
    ///
    /// # Errors
    /// It is not of this studio, or was withdrawn.
    pub fn withdraw_tablet(&mut self, studio: StudioId, id: TabletId) -> Result<(), Trouble> {
        let standing =
            tablet::table.find(id).filter(tablet::studio_id.eq(studio).and(tablet::withdrawn_at.is_null()));
        let changed =
            diesel::update(standing).set(tablet::withdrawn_at.eq(self.now)).execute(self.connection)?;
        if changed == 0 {
            return Err(Trouble::NotFound);
        }
        self.journal("tablet.withdrawn", id, &json!({}))
    }
}
