//! The pieces of a class that come along into a new one, one after the other: each a copy with ids of its own.

use std::collections::{BTreeMap, HashMap};

use chrono::NaiveDateTime;
use diesel::prelude::*;
use serde_json::json;

use crate::ids::{AssessmentId, CategoryId, ClassId, ProcedureId, ProjectId, TopicId};
use crate::store::classes::{Class, ListingDraft, Project, due_text, listings, meetings};
use crate::store::schema::{
    assessment, category, class, class_topic, grading_scheme, meeting, procedure, procedure_version, project,
};
use crate::store::write::Tx;
use crate::trouble::Trouble;

impl Tx<'_> {
    pub(super) fn carry_rules(&mut self, source: &Class, target: &Class) -> Result<(), Trouble> {
        diesel::update(class::table.find(target.id))
            .set((
                class::go_ahead.eq(source.rules.go_ahead),
                class::shares_logs.eq(source.rules.shares_logs),
                class::gum_limit_days.eq(source.rules.gum_limit_days),
                class::ph_low_hundredths.eq(source.rules.ph_low_hundredths),
                class::ph_high_hundredths.eq(source.rules.ph_high_hundredths),
                class::copied_from.eq(source.id),
                class::version.eq(class::version + 1),
            ))
            .execute(self.connection)?;
        Ok(())
    }

    /// Brings listings along that the class does not have yet.
    pub(super) fn carry_listings(&mut self, from: ClassId, into: ClassId) -> Result<(), Trouble> {
        let there = listings::listings(self.connection, into)?;
        for listing in listings::listings(self.connection, from)? {
            if there.iter().any(|own| own.code == listing.code && own.section == listing.section) {
                continue;
            }
            let draft = ListingDraft {
                code: listing.code,
                section: listing.section,
                level: listing.level,
                credits_hundredths: listing.credits_hundredths,
                basis: listing.basis.0,
            };
            self.add_listing(into, &draft)?;
        }
        Ok(())
    }

    /// Brings meetings along, and the presence of people who teach or assist in the new class too.
    pub(super) fn carry_meetings(&mut self, from: ClassId, into: ClassId) -> Result<(), Trouble> {
        if !meetings::meetings(self.connection, into)?.is_empty() {
            return Ok(());
        }
        let staff = meetings::staff(self.connection, into)?;
        for was in meetings::meetings(self.connection, from)? {
            if was.person.is_some_and(|person| staff.iter().all(|member| member.person != person)) {
                continue;
            }
            diesel::insert_into(meeting::table)
                .values((
                    meeting::id.eq(self.id::<crate::ids::Meeting>()),
                    meeting::class_id.eq(into),
                    meeting::kind.eq(was.kind),
                    meeting::person_id.eq(was.person),
                    meeting::weekday.eq(was.weekday),
                    meeting::from_minute.eq(was.from_minute),
                    meeting::to_minute.eq(was.to_minute),
                ))
                .execute(self.connection)?;
        }
        Ok(())
    }

    pub(super) fn carry_topics(&mut self, from: ClassId, into: ClassId) -> Result<(), Trouble> {
        let topics = |class: ClassId| {
            class_topic::table.filter(class_topic::class_id.eq(class)).select(class_topic::topic_id)
        };
        let there: Vec<TopicId> = topics(into).load(self.connection)?;
        let wanted: Vec<TopicId> = topics(from).load(self.connection)?;
        for topic in wanted.into_iter().filter(|topic| !there.contains(topic)) {
            diesel::insert_into(class_topic::table)
                .values((class_topic::class_id.eq(into), class_topic::topic_id.eq(topic)))
                .execute(self.connection)?;
        }
        Ok(())
    }

    /// Copies the class's own procedures with the version that holds now, as version 1 of the new one.
    pub(super) fn carry_procedures(
        &mut self,
        from: ClassId,
        into: ClassId,
    ) -> Result<HashMap<ProcedureId, ProcedureId>, Trouble> {
        let own: Vec<(ProcedureId, String, String)> = procedure::table
            .filter(procedure::class_id.eq(from))
            .order(procedure::id)
            .select((procedure::id, procedure::name, procedure::surface))
            .load(self.connection)?;
        let bodies: HashMap<ProcedureId, String> = procedure_version::table
            .inner_join(procedure::table)
            .filter(procedure::class_id.eq(from))
            .order(procedure_version::number)
            .select((procedure_version::procedure_id, procedure_version::body))
            .load::<(ProcedureId, String)>(self.connection)?
            .into_iter()
            .collect();
        let mut copies = HashMap::new();
        for (was, name, surface) in own {
            // One that was never kept is nobody's to choose, here as there.
            let Some(body) = bodies.get(&was) else { continue };
            let id: ProcedureId = self.id();
            diesel::insert_into(procedure::table)
                .values((
                    procedure::id.eq(id),
                    procedure::class_id.eq(into),
                    procedure::name.eq(name),
                    procedure::surface.eq(surface),
                    procedure::created_at.eq(self.now),
                ))
                .execute(self.connection)?;
            diesel::insert_into(procedure_version::table)
                .values((
                    procedure_version::id.eq(self.id::<crate::ids::ProcedureVersion>()),
                    procedure_version::procedure_id.eq(id),
                    procedure_version::number.eq(1),
                    procedure_version::body.eq(body),
                    procedure_version::by_id.eq(self.by),
                    procedure_version::created_at.eq(self.now),
                ))
                .execute(self.connection)?;
            copies.insert(was, id);
        }
        Ok(copies)
    }

    pub(super) fn carry_projects(
        &mut self,
        into: ClassId,
        projects: Vec<Project>,
        dues: &BTreeMap<ProjectId, NaiveDateTime>,
        procedures: &HashMap<ProcedureId, ProcedureId>,
    ) -> Result<HashMap<ProjectId, ProjectId>, Trouble> {
        let mut copies = HashMap::new();
        for was in projects {
            let id: ProjectId = self.id();
            let due = dues.get(&was.id).copied().ok_or(Trouble::NotFound)?;
            let procedure = procedures.get(&was.procedure).copied().unwrap_or(was.procedure);
            diesel::insert_into(project::table)
                .values((
                    (project::id.eq(id), project::class_id.eq(into), project::position.eq(was.position)),
                    (project::title.eq(was.title), project::brief.eq(was.brief)),
                    (project::due_local.eq(due_text(due)), project::edition_asked.eq(was.edition_asked)),
                    (project::procedure_id.eq(procedure), project::created_at.eq(self.now)),
                    project::version.eq(1),
                ))
                .execute(self.connection)?;
            let detail = json!({ "from": was.id, "due": due_text(due) });
            self.journal("project.added", id, &detail)?;
            copies.insert(was.id, id);
        }
        Ok(copies)
    }

    /// Brings the rules of grading along where the earlier class had set them.
    pub(super) fn carry_grading(&mut self, from: ClassId, into: ClassId) -> Result<(), Trouble> {
        type Scheme = (i32, String, Option<i32>, i32, bool, i32, String, String);
        let there: i64 = grading_scheme::table.find(into).count().get_result(self.connection)?;
        let scheme: Option<Scheme> = grading_scheme::table
            .find(from)
            .select((
                grading_scheme::late_bp,
                grading_scheme::late_of,
                grading_scheme::late_max_days,
                grading_scheme::grace_minutes,
                grading_scheme::missing_counts_zero,
                grading_scheme::rounding_places,
                grading_scheme::ties,
                grading_scheme::scale,
            ))
            .first(self.connection)
            .optional()?;
        let Some(scheme) = scheme.filter(|_| there == 0) else { return Ok(()) };
        diesel::insert_into(grading_scheme::table)
            .values((
                (grading_scheme::class_id.eq(into), grading_scheme::late_bp.eq(scheme.0)),
                (grading_scheme::late_of.eq(scheme.1), grading_scheme::late_max_days.eq(scheme.2)),
                (
                    grading_scheme::grace_minutes.eq(scheme.3),
                    grading_scheme::missing_counts_zero.eq(scheme.4),
                ),
                (grading_scheme::rounding_places.eq(scheme.5), grading_scheme::ties.eq(scheme.6)),
                (grading_scheme::scale.eq(scheme.7), grading_scheme::version.eq(1)),
            ))
            .execute(self.connection)?;
        Ok(())
    }

    /// Categories with their weights, assessments with their points and criteria; no scores.
    pub(super) fn carry_assessments(
        &mut self,
        from: ClassId,
        into: ClassId,
        projects: &HashMap<ProjectId, ProjectId>,
    ) -> Result<(), Trouble> {
        let categories: Vec<(CategoryId, i32, String, i32, i32)> = category::table
            .filter(category::class_id.eq(from))
            .order((category::position, category::id))
            .select((
                category::id,
                category::position,
                category::title,
                category::weight_bp,
                category::drop_lowest,
            ))
            .load(self.connection)?;
        let mut copies: HashMap<CategoryId, CategoryId> = HashMap::new();
        for (was, position, title, weight, drops) in categories {
            let id: CategoryId = self.id();
            diesel::insert_into(category::table)
                .values((
                    (category::id.eq(id), category::class_id.eq(into), category::position.eq(position)),
                    (category::title.eq(title), category::weight_bp.eq(weight)),
                    (category::drop_lowest.eq(drops), category::version.eq(1)),
                ))
                .execute(self.connection)?;
            copies.insert(was, id);
        }
        type Row = (AssessmentId, CategoryId, Option<ProjectId>, i32, String, i64, bool);
        let assessments: Vec<Row> = assessment::table
            .filter(assessment::class_id.eq(from))
            .order((assessment::position, assessment::id))
            .select((
                assessment::id,
                assessment::category_id,
                assessment::project_id,
                assessment::position,
                assessment::title,
                assessment::points_hundredths,
                assessment::extra_credit,
            ))
            .load(self.connection)?;
        let mut made = Vec::new();
        for (was, category, project, position, title, points, extra) in assessments {
            let category = copies.get(&category).copied().ok_or(Trouble::NotFound)?;
            let project = project.and_then(|was| projects.get(&was).copied());
            let id: AssessmentId = self.id();
            diesel::insert_into(assessment::table)
                .values((
                    (assessment::id.eq(id), assessment::class_id.eq(into)),
                    (assessment::category_id.eq(category), assessment::project_id.eq(project)),
                    (assessment::position.eq(position), assessment::title.eq(title)),
                    (assessment::points_hundredths.eq(points), assessment::extra_credit.eq(extra)),
                    assessment::version.eq(1),
                ))
                .execute(self.connection)?;
            made.push((was, id));
        }
        self.carry_criteria(from, into, &made)
    }
}
