//! Topics with versions and points. A changed checklist is a new version; what an old sign-off covered stays as it was.

use std::collections::BTreeSet;

use diesel::prelude::*;
use serde::Deserialize;
use serde_json::json;

use crate::ids::{ClassId, PersonId, TopicId, TopicPointId, TopicVersionId};
use crate::secrets::sha256_hex;
use crate::speech::folding::folded;
use crate::store::connections::AnyConnection;
use crate::store::people::sessions::Role;
use crate::store::schema::{
    class_topic, enrolment, meeting, person, topic, topic_point, topic_version, witness,
};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// A topic in its newest version.
#[derive(Debug, Clone, serde::Serialize)]
pub struct Topic {
    pub id: TopicId,
    pub key: String,
    pub title: String,
    pub version: TopicVersionId,
    pub number: i32,
    pub introduction: String,
    pub valid_days: Option<i32>,
    pub points: Vec<Point>,
}

/// One thing observed.
#[derive(Debug, Clone, Queryable, serde::Serialize)]
pub struct Point {
    pub id: TopicPointId,
    pub words: String,
}

/// The topics a class uses, or all of the school, in their newest versions. Three statements.
///
/// # Errors
/// The database cannot be read.
pub fn topics(db: &mut AnyConnection, class: Option<ClassId>) -> Result<Vec<Topic>, Trouble> {
    type Row = (TopicId, String, String, TopicVersionId, i32, String, Option<i32>);
    let mut query = topic::table
        .inner_join(topic_version::table)
        .order((topic::position, topic::id, topic_version::number.desc()))
        .select((
            topic::id,
            topic::key,
            topic::title,
            topic_version::id,
            topic_version::number,
            topic_version::introduction,
            topic_version::valid_days,
        ))
        .into_boxed();
    if let Some(class) = class {
        let used = class_topic::table.filter(class_topic::class_id.eq(class)).select(class_topic::topic_id);
        query = query.filter(topic::id.eq_any(used));
    }
    let mut rows: Vec<Row> = query.load(db)?;
    rows.dedup_by(|later, first| later.0 == first.0);
    let versions: Vec<TopicVersionId> = rows.iter().map(|row| row.3).collect();
    let points: Vec<(TopicVersionId, TopicPointId, String)> = topic_point::table
        .filter(topic_point::topic_version_id.eq_any(&versions))
        .order((topic_point::topic_version_id, topic_point::position))
        .select((topic_point::topic_version_id, topic_point::id, topic_point::words))
        .load(db)?;
    Ok(rows
        .into_iter()
        .map(|(id, key, title, version, number, introduction, valid_days)| Topic {
            id,
            key,
            title,
            version,
            number,
            introduction,
            valid_days,
            points: points
                .iter()
                .filter(|point| point.0 == version)
                .map(|(_, id, words)| Point { id: *id, words: words.clone() })
                .collect(),
        })
        .collect())
}

/// Who may witness what: every instructor everything, an assistant what is named. One statement each.
///
/// # Errors
/// The database cannot be read.
pub fn may_witness(
    db: &mut AnyConnection,
    class: ClassId,
    who: PersonId,
    role: Role,
    topic_id: TopicId,
) -> Result<bool, Trouble> {
    if role == Role::Instructor {
        let used: i64 = class_topic::table.find((class, topic_id)).count().get_result(db)?;
        return Ok(used > 0);
    }
    let named: i64 = witness::table.find((class, who, topic_id)).count().get_result(db)?;
    Ok(role == Role::Assistant && named > 0)
}

/// Everybody of a class who may witness a topic, instructors first.
#[derive(Debug, Clone, serde::Serialize)]
pub struct Witness {
    pub person: PersonId,
    pub name: String,
    pub role: Role,
}

/// Who can give a sign-off on a topic in a class.
///
/// # Errors
/// The database cannot be read.
pub fn witnesses(db: &mut AnyConnection, class: ClassId, topic_id: TopicId) -> Result<Vec<Witness>, Trouble> {
    let named = witness::table
        .filter(witness::class_id.eq(class).and(witness::topic_id.eq(topic_id)))
        .select(witness::person_id);
    let rows: Vec<(PersonId, String, String, Word<Role>)> = enrolment::table
        .inner_join(person::table)
        .filter(enrolment::class_id.eq(class).and(enrolment::state.eq("enrolled")))
        .filter(
            enrolment::role
                .eq(Word(Role::Instructor))
                .or(enrolment::role.eq(Word(Role::Assistant)).and(enrolment::person_id.eq_any(named))),
        )
        .order((enrolment::role.desc(), person::family_name))
        .select((person::id, person::given_name, person::family_name, enrolment::role))
        .load(db)?;
    Ok(rows
        .into_iter()
        .map(|(person, given, family, role)| Witness {
            person,
            name: format!("{given} {family}"),
            role: role.0,
        })
        .collect())
}

/// When somebody of the staff, or the whole class, is in the studio each week.
#[derive(Debug, Clone, Queryable)]
pub struct Presence {
    /// None: the class meets.
    pub person: Option<PersonId>,
    pub weekday: i32,
    pub from_minute: i32,
    pub to_minute: i32,
}

/// The weekly presences and meetings of a class.
///
/// # Errors
/// The database cannot be read.
pub fn presences(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Presence>, Trouble> {
    Ok(meeting::table
        .filter(meeting::class_id.eq(class))
        .order((meeting::weekday, meeting::from_minute, meeting::id))
        .select((meeting::person_id, meeting::weekday, meeting::from_minute, meeting::to_minute))
        .load(db)?)
}

/// What the assistants of a class may witness: (assistant, topic).
///
/// # Errors
/// The database cannot be read.
pub fn named_witnesses(db: &mut AnyConnection, class: ClassId) -> Result<Vec<(PersonId, TopicId)>, Trouble> {
    Ok(witness::table
        .filter(witness::class_id.eq(class))
        .select((witness::person_id, witness::topic_id))
        .load(db)?)
}

/// What stands of a class's choices, as one short text that is another whenever the choices are: what two instructors
/// who save at the same time are compared by. Two statements.
///
/// # Errors
/// The database cannot be read.
pub fn standing(db: &mut AnyConnection, class: ClassId) -> Result<String, Trouble> {
    let used: BTreeSet<TopicId> = class_topic::table
        .filter(class_topic::class_id.eq(class))
        .select(class_topic::topic_id)
        .load::<TopicId>(db)?
        .into_iter()
        .collect();
    let witnesses: BTreeSet<(PersonId, TopicId)> = named_witnesses(db, class)?.into_iter().collect();
    Ok(sha256_hex(json!([used, witnesses]).to_string().as_bytes()))
}

/// A topic that is new, or the newest version of one.
#[derive(Debug, Clone)]
pub struct Draft {
    pub introduction: String,
    pub valid_days: Option<i32>,
    pub points: Vec<String>,
}

/// The key by which steps of procedures name a topic: its title in small letters, digits and hyphens.
fn key_of(title: &str, taken: &[String]) -> String {
    let letters: String =
        folded(title).chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
    let key = letters.split('-').filter(|piece| !piece.is_empty()).collect::<Vec<_>>().join("-");
    let key = if key.is_empty() { "checklist".to_owned() } else { key.chars().take(60).collect() };
    let free = |key: &String| !taken.contains(key);
    if free(&key) {
        return key;
    }
    (2..).map(|number| format!("{key}-{number}")).find(free).unwrap_or(key)
}

/// A checklist as it ships or as somebody wrote it.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Checklist {
    pub key: String,
    pub title: String,
    pub introduction: String,
    /// After how many days it is signed anew; without, never. That hazards are looked over again every year is common
    /// practice, no published source.
    #[serde(default)]
    pub valid_days: Option<i32>,
    pub points: Vec<String>,
}

/// The checklists that ship with the program, to be edited: common practice, no published source.
///
/// # Errors
/// The shipped file does not parse; a test reads it.
pub fn shipped() -> Result<Vec<Checklist>, Trouble> {
    serde_json::from_str(include_str!("../../../seed/topics.json"))
        .map_err(|error| Trouble::broken("reading the shipped topics", error))
}

impl Tx<'_> {
    /// Puts the shipped topics into a new school.
    ///
    /// # Errors
    /// The database refuses.
    pub fn ship_topics(&mut self) -> Result<(), Trouble> {
        for (position, list) in (1..).zip(shipped()?) {
            let id: TopicId = self.id();
            diesel::insert_into(topic::table)
                .values((
                    topic::id.eq(id),
                    topic::key.eq(&list.key),
                    topic::title.eq(&list.title),
                    topic::position.eq(position),
                    topic::created_at.eq(self.now),
                ))
                .execute(self.connection)?;
            let draft =
                Draft { introduction: list.introduction, valid_days: list.valid_days, points: list.points };
            self.new_version(id, 1, &draft)?;
        }
        Ok(())
    }

    /// Adds a topic to the school's, after the others.
    ///
    /// # Errors
    /// There is one of this title.
    pub fn add_topic(&mut self, title: &str, draft: &Draft) -> Result<TopicId, Trouble> {
        let known: Vec<(String, String, i32)> =
            topic::table.select((topic::key, topic::title, topic::position)).load(self.connection)?;
        if known.iter().any(|(_, other, _)| folded(other) == folded(title)) {
            return Err(Trouble::about("title", Remark::new("safety-topic-title-taken")));
        }
        let keys: Vec<String> = known.iter().map(|(key, _, _)| key.clone()).collect();
        let id: TopicId = self.id();
        diesel::insert_into(topic::table)
            .values((
                topic::id.eq(id),
                topic::key.eq(key_of(title, &keys)),
                topic::title.eq(title),
                topic::position.eq(known.iter().map(|(_, _, position)| *position).max().unwrap_or(0) + 1),
                topic::created_at.eq(self.now),
            ))
            .execute(self.connection)?;
        self.new_version(id, 1, draft)?;
        Ok(id)
    }

    /// A new version of a topic's checklist; earlier sign-offs keep theirs. `seen` is the number of the version the
    /// writer started from. Checklists are the school's, so this is an act of the school.
    ///
    /// # Errors
    /// Somebody wrote a newer version meanwhile.
    pub fn edit_topic(&mut self, id: TopicId, seen: i32, draft: &Draft) -> Result<(), Trouble> {
        let newest: Option<i32> = topic_version::table
            .filter(topic_version::topic_id.eq(id))
            .select(diesel::dsl::max(topic_version::number))
            .first(self.connection)?;
        match newest {
            None => return Err(Trouble::NotFound),
            Some(newest) if newest != seen => {
                return Err(Trouble::Stale(Remark::new("safety-topic-stale")));
            }
            Some(_) => {}
        }
        self.new_version(id, seen + 1, draft)
    }

    fn new_version(&mut self, topic_id: TopicId, number: i32, draft: &Draft) -> Result<(), Trouble> {
        let version: TopicVersionId = self.id();
        diesel::insert_into(topic_version::table)
            .values((
                topic_version::id.eq(version),
                topic_version::topic_id.eq(topic_id),
                topic_version::number.eq(number),
                topic_version::introduction.eq(&draft.introduction),
                topic_version::valid_days.eq(draft.valid_days),
                topic_version::by_id.eq(self.by),
                topic_version::created_at.eq(self.now),
            ))
            .execute(self.connection)?;
        for (position, words) in (1..).zip(&draft.points) {
            diesel::insert_into(topic_point::table)
                .values((
                    topic_point::id.eq(self.id::<crate::ids::TopicPoint>()),
                    topic_point::topic_version_id.eq(version),
                    topic_point::position.eq(position),
                    topic_point::words.eq(words),
                ))
                .execute(self.connection)?;
        }
        self.journal("topic.written", topic_id, &json!({ "number": number, "points": draft.points }))
    }

    /// Sets which topics a class uses and what each assistant may witness. `seen` is what stood when they were ticked.
    ///
    /// # Errors
    /// Somebody else set them meanwhile, a topic is not there, or a witness is no assistant.
    pub fn set_class_topics(
        &mut self,
        class: ClassId,
        seen: &str,
        used: &BTreeSet<TopicId>,
        witnesses: &BTreeSet<(PersonId, TopicId)>,
    ) -> Result<(), Trouble> {
        if standing(self.connection, class)? != seen {
            return Err(Trouble::Stale(Remark::new("form-stale")));
        }
        self.check_class_topics(class, used, witnesses)?;
        diesel::delete(class_topic::table.filter(class_topic::class_id.eq(class)))
            .execute(self.connection)?;
        for topic_id in used {
            diesel::insert_into(class_topic::table)
                .values((class_topic::class_id.eq(class), class_topic::topic_id.eq(topic_id)))
                .execute(self.connection)?;
        }
        diesel::delete(witness::table.filter(witness::class_id.eq(class))).execute(self.connection)?;
        for (person_id, topic_id) in witnesses {
            diesel::insert_into(witness::table)
                .values((
                    witness::class_id.eq(class),
                    witness::person_id.eq(person_id),
                    witness::topic_id.eq(topic_id),
                ))
                .execute(self.connection)?;
        }
        self.journal("class.topics-set", class, &json!({ "topics": used, "witnesses": witnesses }))
    }

    /// Whether everything that was ticked is there.
    fn check_class_topics(
        &mut self,
        class: ClassId,
        used: &BTreeSet<TopicId>,
        witnesses: &BTreeSet<(PersonId, TopicId)>,
    ) -> Result<(), Trouble> {
        let known: BTreeSet<TopicId> =
            topic::table.select(topic::id).load::<TopicId>(self.connection)?.into_iter().collect();
        if !used.iter().chain(witnesses.iter().map(|(_, topic_id)| topic_id)).all(|id| known.contains(id)) {
            return Err(Trouble::about("", Remark::new("safety-topic-gone")));
        }
        let assistants: Vec<PersonId> = enrolment::table
            .filter(enrolment::class_id.eq(class).and(enrolment::role.eq(Word(Role::Assistant))))
            .select(enrolment::person_id)
            .load(self.connection)?;
        if !witnesses.iter().all(|(person_id, _)| assistants.contains(person_id)) {
            return Err(Trouble::about("", Remark::new("safety-no-assistant")));
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_topic_is_named_by_its_title_and_never_as_another() {
        let taken = ["acid-and-gum".to_owned(), "solvents".to_owned(), "solvents-2".to_owned()];
        assert_eq!(key_of("Acid & gum: mixing", &taken), "acid-gum-mixing");
        assert_eq!(key_of("Ácidos y goma", &taken), "acidos-y-goma");
        assert_eq!(key_of("Solvents", &taken), "solvents-3");
        assert_eq!(key_of("石版", &taken), "checklist");
    }
}
