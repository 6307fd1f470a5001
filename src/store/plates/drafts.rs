//! A class's own procedures while they are being written: one draft each, which becomes the next version when it is
//! kept. A procedure that was never kept has no version yet and cannot be chosen.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, ProcedureId};
use crate::store::connections::AnyConnection;
use crate::store::schema::{person, procedure, procedure_draft, procedure_version, topic};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::procedure::{Procedure, check};
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

/// A procedure as its writers see it: the draft, or the version that holds where there is none.
#[derive(Debug, Clone)]
pub struct Draft {
    pub procedure: Procedure,
    /// The draft's version; 0 where nothing was changed since the procedure was last kept.
    pub version: i64,
    /// The number of the version that holds; 0 where none was ever kept.
    pub number: i32,
    /// Who changed it last, and when.
    pub by: Option<(String, Instant)>,
}

/// A class's own procedure as it is being written. Three statements at the most.
///
/// # Errors
/// It is not this class's own.
pub fn draft(db: &mut AnyConnection, class: ClassId, id: ProcedureId) -> Result<Draft, Trouble> {
    procedure::table
        .filter(procedure::id.eq(id).and(procedure::class_id.eq(class)))
        .select(procedure::id)
        .first::<ProcedureId>(db)?;
    let kept: Option<(i32, String)> = procedure_version::table
        .filter(procedure_version::procedure_id.eq(id))
        .order(procedure_version::number.desc())
        .select((procedure_version::number, procedure_version::body))
        .first(db)
        .optional()?;
    let open: Option<(String, i64, Instant, String, String)> = procedure_draft::table
        .inner_join(person::table)
        .filter(procedure_draft::procedure_id.eq(id).and(procedure_draft::discarded_at.is_null()))
        .select((
            procedure_draft::body,
            procedure_draft::version,
            procedure_draft::at,
            person::given_name,
            person::family_name,
        ))
        .first(db)
        .optional()?;
    let number = kept.as_ref().map_or(0, |(number, _)| *number);
    match (open, kept) {
        (Some((body, version, at, given, family)), _) => Ok(Draft {
            procedure: read(&body)?,
            version,
            number,
            by: Some((format!("{given} {family}"), at)),
        }),
        (None, Some((_, body))) => Ok(Draft { procedure: read(&body)?, version: 0, number, by: None }),
        // Its only draft was thrown away.
        (None, None) => Err(Trouble::NotFound),
    }
}

fn read(body: &str) -> Result<Procedure, Trouble> {
    Procedure::from_json(body).map_err(|remark| Trouble::broken("reading a draft", format!("{remark:?}")))
}

/// A draft that was thrown away and can be taken back.
#[derive(Debug, Clone)]
pub struct ThrownAway {
    pub id: ProcedureId,
    pub name: String,
    pub steps: usize,
    /// Who changed it last.
    pub by: String,
    pub at: Instant,
}

/// The drafts of a class that were thrown away and not begun anew since, the last first.
///
/// # Errors
/// The database cannot be read.
pub fn thrown_away(db: &mut AnyConnection, class: ClassId) -> Result<Vec<ThrownAway>, Trouble> {
    let rows: Vec<(ProcedureId, String, Instant, String, String)> = procedure_draft::table
        .inner_join(person::table)
        .filter(procedure_draft::class_id.eq(class).and(procedure_draft::discarded_at.is_not_null()))
        .order((procedure_draft::discarded_at.desc(), procedure_draft::procedure_id))
        .select((
            procedure_draft::procedure_id,
            procedure_draft::body,
            procedure_draft::discarded_at.assume_not_null(),
            person::given_name,
            person::family_name,
        ))
        .load(db)?;
    let thrown = |(id, body, at, given, family): (ProcedureId, String, Instant, String, String)| {
        let draft = read(&body)?;
        let steps = draft.all().count();
        Ok(ThrownAway { id, name: draft.name, steps, by: format!("{given} {family}"), at })
    };
    rows.into_iter().map(thrown).collect()
}

/// How many procedures of its own a class has, kept or being written.
///
/// # Errors
/// The database cannot be read.
pub fn own(db: &mut AnyConnection, class: ClassId) -> Result<usize, Trouble> {
    let own: Vec<ProcedureId> = procedure::table
        .filter(procedure::class_id.eq(class))
        .filter(procedure::id.ne_all(thrown_away_whole(db)?))
        .select(procedure::id)
        .load(db)?;
    Ok(own.len())
}

/// The procedures of which nothing stands but a draft that was thrown away.
///
/// # Errors
/// The database cannot be read.
pub fn thrown_away_whole(db: &mut AnyConnection) -> Result<Vec<ProcedureId>, Trouble> {
    Ok(procedure_draft::table
        .filter(procedure_draft::discarded_at.is_not_null())
        .filter(
            procedure_draft::procedure_id
                .ne_all(procedure_version::table.select(procedure_version::procedure_id)),
        )
        .select(procedure_draft::procedure_id)
        .load(db)?)
}

/// The school's sign-off topics: key and title, in order.
///
/// # Errors
/// The database cannot be read.
pub fn topic_titles(db: &mut AnyConnection) -> Result<Vec<(String, String)>, Trouble> {
    Ok(topic::table.order((topic::position, topic::id)).select((topic::key, topic::title)).load(db)?)
}

impl Tx<'_> {
    /// Begins a procedure of the class's own as a draft; it can be chosen once it was kept.
    ///
    /// # Errors
    /// The name is taken.
    pub fn begin_procedure(&mut self, class: ClassId, new: &Procedure) -> Result<ProcedureId, Trouble> {
        self.check_name_free(class, None, &new.name)?;
        let id: ProcedureId = self.id();
        diesel::insert_into(procedure::table)
            .values((
                procedure::id.eq(id),
                procedure::class_id.eq(class),
                procedure::name.eq(&new.name),
                procedure::surface.eq(Word(new.surface)),
                procedure::created_at.eq(self.now),
            ))
            .execute(self.connection)?;
        self.put_draft(class, id, 1, new)?;
        self.journal("procedure.begun", id, &json!({ "name": new.name }))?;
        Ok(id)
    }

    /// Makes a sound procedure one of the class's own, in its first version.
    ///
    /// # Errors
    /// The name is taken.
    pub fn copy_procedure(&mut self, class: ClassId, copy: &Procedure) -> Result<ProcedureId, Trouble> {
        self.check_name_free(class, None, &copy.name)?;
        self.add_procedure(Some(class), copy)
    }

    /// Changes a procedure's draft, beginning one where there is none; the versions kept before stay as they are. `seen`
    /// is the version of the draft the writer looked at; None leaves it to `change` to find out whether it is stale.
    ///
    /// # Errors
    /// It is not this class's own, the draft has another version, or what `change` says.
    pub fn change_draft<T>(
        &mut self,
        class: ClassId,
        id: ProcedureId,
        seen: Option<i64>,
        deed: &'static str,
        change: impl FnOnce(&mut Procedure) -> Result<T, Trouble>,
    ) -> Result<T, Trouble> {
        let mut draft = self.seen_draft(class, id, seen)?;
        let before = draft.procedure.clone();
        let done = change(&mut draft.procedure)?;
        if draft.procedure.name != before.name {
            self.check_name_free(class, Some(id), &draft.procedure.name)?;
        }
        if draft.procedure != before {
            self.put_draft(class, id, draft.version + 1, &draft.procedure)?;
            if draft.number == 0 {
                self.call_procedure(id, &draft.procedure)?;
            }
            self.journal(
                "procedure.draft-changed",
                id,
                &json!({ "deed": deed, "draft": draft.version + 1 }),
            )?;
        }
        Ok(done)
    }

    fn seen_draft(&mut self, class: ClassId, id: ProcedureId, seen: Option<i64>) -> Result<Draft, Trouble> {
        let draft = draft(self.connection, class, id)?;
        match seen {
            Some(seen) if seen != draft.version => Err(Trouble::Stale(Remark::new("procedures-draft-stale"))),
            _ => Ok(draft),
        }
    }

    /// Keeps the draft as the next version: plates begun from now on have it, those begun before keep theirs. Gives back
    /// its number.
    ///
    /// # Errors
    /// It is stale, nothing was changed, or it is not sound: then every complaint of `trade::procedure::check`, and
    /// where a rest under gum is longer than the class allows.
    pub fn keep_draft(&mut self, class: ClassId, id: ProcedureId, seen: i64) -> Result<i32, Trouble> {
        let draft = self.seen_draft(class, id, Some(seen))?;
        if draft.version == 0 {
            return Err(Trouble::Refused(Remark::new("procedures-nothing-new")));
        }
        let topics = topic_titles(self.connection)?;
        let topics: Vec<&str> = topics.iter().map(|(key, _)| key.as_str()).collect();
        let remarks = check(&draft.procedure, &topics);
        let mut complaints: Vec<_> = remarks.into_iter().map(|remark| Complaint::new("", remark)).collect();
        complaints.extend(self.over_gum_limit(class, &draft.procedure)?);
        if !complaints.is_empty() {
            return Err(Trouble::Complaints(complaints));
        }
        self.check_name_free(class, Some(id), &draft.procedure.name)?;
        let number = draft.number + 1;
        self.add_version(id, number, &draft.procedure)?;
        self.call_procedure(id, &draft.procedure)?;
        diesel::delete(procedure_draft::table.find(id)).execute(self.connection)?;
        Ok(number)
    }

    /// Throws the draft away, and with it a procedure that was never kept: nobody sees either any more. It can be taken
    /// back until another draft of the procedure is begun.
    ///
    /// # Errors
    /// It is not this class's own, or stale.
    pub fn discard_draft(&mut self, class: ClassId, id: ProcedureId, seen: i64) -> Result<(), Trouble> {
        let draft = self.seen_draft(class, id, Some(seen))?;
        diesel::update(procedure_draft::table.find(id))
            .set(procedure_draft::discarded_at.eq(self.now))
            .execute(self.connection)?;
        self.journal("procedure.draft-discarded", id, &json!({ "name": draft.procedure.name }))
    }

    /// Takes back a draft that was thrown away.
    ///
    /// # Errors
    /// There is none of this class, or its name was given to another procedure meanwhile.
    pub fn take_back_draft(&mut self, class: ClassId, id: ProcedureId) -> Result<(), Trouble> {
        let body: String = procedure_draft::table
            .find(id)
            .filter(procedure_draft::class_id.eq(class).and(procedure_draft::discarded_at.is_not_null()))
            .select(procedure_draft::body)
            .first(self.connection)?;
        let name = read(&body)?.name;
        self.check_name_free(class, Some(id), &name)?;
        diesel::update(procedure_draft::table.find(id))
            .set((
                procedure_draft::discarded_at.eq(None::<Instant>),
                procedure_draft::version.eq(procedure_draft::version + 1),
            ))
            .execute(self.connection)?;
        self.journal("procedure.draft-taken-back", id, &json!({ "name": name }))
    }

    /// What lists call a procedure: as it was last kept, or as it is being written where it never was.
    fn call_procedure(&mut self, id: ProcedureId, procedure: &Procedure) -> Result<(), Trouble> {
        diesel::update(procedure::table.find(id))
            .set((procedure::name.eq(&procedure.name), procedure::surface.eq(Word(procedure.surface))))
            .execute(self.connection)?;
        Ok(())
    }

    fn put_draft(
        &mut self,
        class: ClassId,
        id: ProcedureId,
        version: i64,
        new: &Procedure,
    ) -> Result<(), Trouble> {
        let body = serde_json::to_string(new).map_err(|error| Trouble::broken("writing a draft", error))?;
        let by = self.by.ok_or(Trouble::SignInFirst)?;
        let changed = diesel::update(procedure_draft::table.find(id))
            .set((
                procedure_draft::body.eq(&body),
                procedure_draft::by_id.eq(by),
                procedure_draft::at.eq(self.now),
                procedure_draft::version.eq(version),
                procedure_draft::discarded_at.eq(None::<Instant>),
            ))
            .execute(self.connection)?;
        if changed == 0 {
            diesel::insert_into(procedure_draft::table)
                .values((
                    procedure_draft::procedure_id.eq(id),
                    procedure_draft::class_id.eq(class),
                    procedure_draft::body.eq(&body),
                    procedure_draft::by_id.eq(by),
                    procedure_draft::at.eq(self.now),
                    procedure_draft::version.eq(version),
                ))
                .execute(self.connection)?;
        }
        Ok(())
    }

    /// A name stands once among the procedures a class can choose from.
    fn check_name_free(
        &mut self,
        class: ClassId,
        but: Option<ProcedureId>,
        name: &str,
    ) -> Result<(), Trouble> {
        let found: Vec<ProcedureId> = procedure::table
            .filter(procedure::class_id.is_null().or(procedure::class_id.eq(class)))
            .filter(procedure::name.eq(name))
            .filter(procedure::id.ne_all(thrown_away_whole(self.connection)?))
            .select(procedure::id)
            .load(self.connection)?;
        if found.iter().all(|other| Some(*other) == but) {
            return Ok(());
        }
        Err(Trouble::about("name", Remark::new("procedures-name-taken").with("value", name)))
    }
}
