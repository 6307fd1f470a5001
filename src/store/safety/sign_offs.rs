//! Sign-offs: per person, topic version and studio, in three grades. What was given is never overwritten: it is taken
//! back within ten minutes by its giver, or withdrawn later by an instructor with a reason.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use chrono_tz::Tz;
use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, SignOffId, StudioId, TopicId, TopicPointId, TopicVersionId};
use crate::store::connections::AnyConnection;
use crate::store::people::sessions::Role;
use crate::store::safety::topics;
use crate::store::schema::{person, sign_off, sign_off_point, topic, topic_point, topic_version};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::procedure::Grade;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// How long a giver may take a sign-off back without a reason.
pub const TAKE_BACK_MS: i64 = 10 * 60_000;

/// A sign-off as pages list it.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct SignOff {
    pub id: SignOffId,
    /// The class it was given in.
    pub class: ClassId,
    pub person: PersonId,
    pub topic: TopicId,
    pub topic_key: String,
    pub topic_title: String,
    pub version_number: i32,
    pub grade: Word<Grade>,
    pub given_by: PersonId,
    pub giver_given_name: String,
    pub giver_family_name: String,
    pub given_at: Instant,
    pub acknowledged_at: Option<Instant>,
    pub valid_until: Option<NaiveDate>,
    pub note: String,
    pub taken_back_at: Option<Instant>,
    pub withdrawn_at: Option<Instant>,
    pub withdrawn_reason: Option<String>,
}

impl SignOff {
    /// Whether it counts at all: neither taken back nor withdrawn, and a demonstration acknowledged.
    #[must_use]
    pub fn counts(&self) -> bool {
        self.taken_back_at.is_none()
            && self.withdrawn_at.is_none()
            && (self.grade.0 != Grade::Shown || self.acknowledged_at.is_some())
    }
}

/// Whose sign-offs are asked for.
#[derive(Debug, Clone, Copy)]
pub enum Whose {
    /// One person's, in one studio, from whichever class.
    Person(PersonId, StudioId),
    /// Everybody's, given in a class.
    Class(ClassId),
    /// Those of the people enrolled in a class, in its studio, from whichever class.
    EnrolledIn(ClassId, StudioId),
}

/// Sign-offs, oldest first. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn sign_offs(db: &mut AnyConnection, whose: Whose) -> Result<Vec<SignOff>, Trouble> {
    use crate::store::schema::enrolment;
    let mut query = sign_off::table
        .inner_join(topic::table.on(topic::id.eq(sign_off::topic_id)))
        .inner_join(topic_version::table.on(topic_version::id.eq(sign_off::topic_version_id)))
        .inner_join(person::table.on(person::id.eq(sign_off::given_by)))
        .order((sign_off::given_at, sign_off::id))
        .select((
            sign_off::id,
            sign_off::class_id,
            sign_off::person_id,
            sign_off::topic_id,
            topic::key,
            topic::title,
            topic_version::number,
            sign_off::grade,
            sign_off::given_by,
            person::given_name,
            person::family_name,
            sign_off::given_at,
            sign_off::acknowledged_at,
            sign_off::valid_until,
            sign_off::note,
            sign_off::taken_back_at,
            sign_off::withdrawn_at,
            sign_off::withdrawn_reason,
        ))
        .into_boxed();
    query = match whose {
        Whose::Person(id, studio) => {
            query.filter(sign_off::person_id.eq(id).and(sign_off::studio_id.eq(studio)))
        }
        Whose::Class(class) => query.filter(sign_off::class_id.eq(class)),
        Whose::EnrolledIn(class, studio) => {
            let enrolled =
                enrolment::table.filter(enrolment::class_id.eq(class)).select(enrolment::person_id);
            query.filter(sign_off::person_id.eq_any(enrolled).and(sign_off::studio_id.eq(studio)))
        }
    };
    Ok(query.load(db)?)
}

/// The points that were observed for each of some sign-offs.
///
/// # Errors
/// The database cannot be read.
pub fn points_of(
    db: &mut AnyConnection,
    ids: &[SignOffId],
) -> Result<BTreeMap<SignOffId, Vec<String>>, Trouble> {
    let rows: Vec<(SignOffId, String)> = sign_off_point::table
        .inner_join(topic_point::table)
        .filter(sign_off_point::sign_off_id.eq_any(ids))
        .order((sign_off_point::sign_off_id, topic_point::position))
        .select((sign_off_point::sign_off_id, topic_point::words))
        .load(db)?;
    let mut found: BTreeMap<SignOffId, Vec<String>> = BTreeMap::new();
    for (id, words) in rows {
        found.entry(id).or_default().push(words);
    }
    Ok(found)
}

/// What is to be signed for a class: one topic version, one grade, and for each person the points observed.
#[derive(Debug, Clone)]
pub struct Signing {
    pub class: ClassId,
    pub studio: StudioId,
    pub zone: Tz,
    pub topic: TopicId,
    pub version: TopicVersionId,
    pub grade: Grade,
    pub note: String,
    pub people: Vec<(PersonId, Vec<TopicPointId>)>,
}

impl Tx<'_> {
    /// Gives a sign-off to everybody named. Watched and alone want every point of the checklist; all or nobody.
    ///
    /// # Errors
    /// The giver may not witness this or is among them, the checklist changed meanwhile, a point is missing, or somebody
    /// is not in the class.
    pub fn sign_off(&mut self, signing: &Signing, giver_role: Role) -> Result<usize, Trouble> {
        use crate::store::schema::enrolment;
        let by = self.person()?;
        if !topics::may_witness(self.connection, signing.class, by, giver_role, signing.topic)? {
            return Err(Trouble::NotYours);
        }
        if signing.people.iter().any(|(person_id, _)| *person_id == by) {
            return Err(Trouble::Refused(Remark::new("safety-not-yourself")));
        }
        let topic = topics::topics(self.connection, Some(signing.class))?
            .into_iter()
            .find(|topic| topic.id == signing.topic)
            .ok_or(Trouble::NotFound)?;
        if topic.version != signing.version {
            return Err(Trouble::Stale(Remark::new("safety-topic-stale")));
        }
        let enrolled: Vec<PersonId> = enrolment::table
            .filter(enrolment::class_id.eq(signing.class).and(enrolment::state.eq("enrolled")))
            .select(enrolment::person_id)
            .load(self.connection)?;
        let valid_until = topic.valid_days.and_then(|days| {
            self.now
                .local_date(signing.zone)
                .checked_add_days(chrono::Days::new(u64::try_from(days).unwrap_or(0)))
        });
        for (person_id, points) in &signing.people {
            if !enrolled.contains(person_id) {
                return Err(Trouble::Refused(Remark::new("safety-left-meanwhile")));
            }
            let all = topic.points.iter().all(|point| points.contains(&point.id));
            if signing.grade != Grade::Shown && !all {
                return Err(Trouble::Refused(Remark::new("safety-points-missing")));
            }
            self.give(signing, *person_id, points, &topic, valid_until)?;
        }
        Ok(signing.people.len())
    }

    fn give(
        &mut self,
        signing: &Signing,
        person_id: PersonId,
        points: &[TopicPointId],
        topic: &topics::Topic,
        valid_until: Option<NaiveDate>,
    ) -> Result<(), Trouble> {
        let id: SignOffId = self.id();
        diesel::insert_into(sign_off::table)
            .values((
                (sign_off::id.eq(id), sign_off::person_id.eq(person_id)),
                (sign_off::topic_id.eq(signing.topic), sign_off::topic_version_id.eq(signing.version)),
                (sign_off::studio_id.eq(signing.studio), sign_off::class_id.eq(signing.class)),
                (sign_off::grade.eq(Word(signing.grade)), sign_off::given_by.eq(self.person()?)),
                (sign_off::given_at.eq(self.now), sign_off::valid_until.eq(valid_until)),
                sign_off::note.eq(&signing.note),
            ))
            .execute(self.connection)?;
        for point in topic.points.iter().filter(|point| points.contains(&point.id)) {
            diesel::insert_into(sign_off_point::table)
                .values((sign_off_point::sign_off_id.eq(id), sign_off_point::point_id.eq(point.id)))
                .execute(self.connection)?;
        }
        let detail = json!({ "topic": topic.key, "version": topic.number, "grade": signing.grade, "person": person_id });
        self.journal("sign-off.given", id, &detail)
    }

    /// The trainee acknowledges a demonstration; once more changes nothing.
    ///
    /// # Errors
    /// It is not theirs, or no longer there.
    pub fn acknowledge_sign_off(
        &mut self,
        class: ClassId,
        id: SignOffId,
        owner: PersonId,
    ) -> Result<(), Trouble> {
        let known: i64 = sign_off::table
            .filter(sign_off::id.eq(id).and(sign_off::class_id.eq(class)).and(sign_off::person_id.eq(owner)))
            .filter(sign_off::taken_back_at.is_null().and(sign_off::withdrawn_at.is_null()))
            .count()
            .get_result(self.connection)?;
        if known == 0 {
            return Err(Trouble::NotFound);
        }
        let fresh = diesel::update(sign_off::table.find(id).filter(sign_off::acknowledged_at.is_null()))
            .set(sign_off::acknowledged_at.eq(self.now))
            .execute(self.connection)?;
        if fresh == 0 {
            return Ok(());
        }
        self.journal("sign-off.acknowledged", id, &json!({}))
    }

    /// The giver takes a sign-off back within ten minutes.
    ///
    /// # Errors
    /// It is somebody else's, or longer ago.
    pub fn take_sign_off_back(&mut self, class: ClassId, id: SignOffId) -> Result<(), Trouble> {
        let by = self.person()?;
        let given_at: Instant = sign_off::table
            .filter(sign_off::id.eq(id).and(sign_off::class_id.eq(class)).and(sign_off::given_by.eq(by)))
            .filter(sign_off::taken_back_at.is_null().and(sign_off::withdrawn_at.is_null()))
            .select(sign_off::given_at)
            .first(self.connection)?;
        if self.now.millis() - given_at.millis() > TAKE_BACK_MS {
            return Err(Trouble::Refused(Remark::new("safety-too-late-to-take-back")));
        }
        diesel::update(sign_off::table.find(id))
            .set(sign_off::taken_back_at.eq(self.now))
            .execute(self.connection)?;
        self.journal("sign-off.taken-back", id, &json!({}))
    }

    /// An instructor withdraws a sign-off, with a reason.
    ///
    /// # Errors
    /// It is not of this class, or gone already.
    pub fn withdraw_sign_off(&mut self, class: ClassId, id: SignOffId, reason: &str) -> Result<(), Trouble> {
        let by = self.person()?;
        let withdrawn = diesel::update(
            sign_off::table
                .filter(sign_off::id.eq(id).and(sign_off::class_id.eq(class)))
                .filter(sign_off::taken_back_at.is_null().and(sign_off::withdrawn_at.is_null())),
        )
        .set((
            sign_off::withdrawn_at.eq(self.now),
            sign_off::withdrawn_by.eq(by),
            sign_off::withdrawn_reason.eq(reason),
        ))
        .execute(self.connection)?;
        if withdrawn == 0 {
            return Err(Trouble::NotFound);
        }
        self.journal("sign-off.withdrawn", id, &json!({ "reason": reason }))
    }
}
