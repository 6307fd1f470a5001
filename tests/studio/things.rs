//! One of each thing, belonging to the plain world's first student, set down without going through the pages.

use diesel::prelude::*;
use tympan::ids::*;
use tympan::store::AnyConnection;
use tympan::store::schema::*;

use super::world::{NOW, World};

/// The ids of one of each.
#[derive(Debug, Clone)]
pub struct Things {
    pub project: ProjectId,
    pub procedure: ProcedureId,
    pub procedure_version: ProcedureVersionId,
    pub print: PrintId,
    pub plate: PlateId,
    pub step_run: StepRunId,
    pub gum: ContainerId,
    pub acid: ContainerId,
    pub etch: EtchId,
    pub photo: PhotoId,
    pub proof: ProofId,
    pub comment: CommentId,
    pub topic: TopicId,
    pub topic_version: TopicVersionId,
    pub point: TopicPointId,
    pub sign_off: SignOffId,
    pub category: CategoryId,
    pub assessment: AssessmentId,
    pub score: ScoreId,
    pub letter: LetterId,
    pub asking: AskingId,
}

impl Things {
    /// Sets one of each into the world's class.
    pub fn set(db: &mut AnyConnection, world: &World) -> Self {
        let things = Self {
            project: Id::new(NOW),
            procedure: Id::new(NOW),
            procedure_version: Id::new(NOW),
            print: Id::new(NOW),
            plate: Id::new(NOW),
            step_run: Id::new(NOW),
            gum: Id::new(NOW),
            acid: Id::new(NOW),
            etch: Id::new(NOW),
            photo: Id::new(NOW),
            proof: Id::new(NOW),
            comment: Id::new(NOW),
            topic: Id::new(NOW),
            topic_version: Id::new(NOW),
            point: Id::new(NOW),
            sign_off: Id::new(NOW),
            category: Id::new(NOW),
            assessment: Id::new(NOW),
            score: Id::new(NOW),
            letter: Id::new(NOW),
            asking: Id::new(NOW),
        };
        things.plates(db, world);
        things.etches(db, world);
        things.proofs(db, world);
        things.safety(db, world);
        things.grades(db, world);
        things.evening(db, world);
        things
    }

    fn plates(&self, db: &mut AnyConnection, world: &World) {
        let body = std::fs::read_to_string("seed/procedures/aluminium-plate.json")
            .unwrap_or_else(|_| "{}".to_owned());
        diesel::insert_into(procedure::table)
            .values((
                procedure::id.eq(self.procedure),
                procedure::class_id.eq(Some(world.class)),
                procedure::name.eq("Ball-grained aluminium plate"),
                procedure::surface.eq("plate"),
                procedure::created_at.eq(NOW),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(procedure_version::table)
            .values((
                procedure_version::id.eq(self.procedure_version),
                procedure_version::procedure_id.eq(self.procedure),
                procedure_version::number.eq(1),
                procedure_version::body.eq(body),
                procedure_version::created_at.eq(NOW),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(project::table)
            .values((
                (project::id.eq(self.project), project::class_id.eq(world.class), project::position.eq(1)),
                (project::title.eq("A room at night"), project::brief.eq("Tones from crayon and wash.")),
                (project::due_local.eq("2026-11-24T16:30"), project::edition_asked.eq(8)),
                (project::procedure_id.eq(self.procedure), project::created_at.eq(NOW)),
                project::version.eq(1),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(print::table)
            .values((
                (print::id.eq(self.print), print::class_id.eq(world.class)),
                (print::project_id.eq(self.project), print::person_id.eq(world.student)),
                (print::title.eq("Stair lamp"), print::created_at.eq(NOW), print::version.eq(1)),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(plate::table)
            .values((
                (plate::id.eq(self.plate), plate::class_id.eq(world.class), plate::print_id.eq(self.print)),
                (plate::person_id.eq(world.student), plate::procedure_version_id.eq(self.procedure_version)),
                (plate::number.eq(1), plate::position.eq(1), plate::surface.eq("plate")),
                (plate::width_hundredths.eq(2500), plate::height_hundredths.eq(3500)),
                (plate::size_unit.eq("cm"), plate::materials.eq("crayon 4, tusche wash")),
                (plate::weight.eq("medium"), plate::standing.eq("drawn"), plate::standing_since.eq(NOW)),
                (plate::rack_place.eq("B3"), plate::note.eq(""), plate::created_at.eq(NOW)),
                plate::version.eq(1),
            ))
            .execute(db)
            .unwrap();
    }

    fn etches(&self, db: &mut AnyConnection, world: &World) {
        for (id, letter, substance) in [(self.gum, "G", "gum"), (self.acid, "A", "phosphoric")] {
            diesel::insert_into(container::table)
                .values((
                    (container::id.eq(id), container::studio_id.eq(world.studio)),
                    (container::letter.eq(letter), container::number.eq(1)),
                    (container::substance.eq(substance), container::label.eq("from the cupboard")),
                    container::opened.eq(chrono::NaiveDate::from_ymd_opt(2026, 9, 1).unwrap()),
                    container::baume_tenths.eq((letter == "G").then_some(140)),
                    container::ph_hundredths.eq((letter == "G").then_some(430)),
                    container::weight_bp.eq((letter == "A").then_some(8500)),
                    (container::sour.eq(false), container::note.eq("")),
                    (container::created_at.eq(NOW), container::version.eq(1)),
                ))
                .execute(db)
                .unwrap();
        }
        let began = NOW.plus_ms(-5 * 86_400_000);
        diesel::insert_into(step_run::table)
            .values((
                (step_run::id.eq(self.step_run), step_run::class_id.eq(world.class)),
                (step_run::plate_id.eq(self.plate), step_run::step_key.eq("first-etch")),
                (step_run::began_at.eq(began), step_run::ended_at.eq(began.plus_ms(1_800_000))),
                (step_run::by_id.eq(world.student), step_run::received_at.eq(began)),
                (step_run::known_how.eq("told"), step_run::outside_rules.eq(""), step_run::note.eq("")),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(etch::table)
            .values((
                (etch::id.eq(self.etch), etch::class_id.eq(world.class), etch::plate_id.eq(self.plate)),
                (
                    etch::step_run_id.eq(self.step_run),
                    etch::step_key.eq("first-etch"),
                    etch::root.eq(self.etch),
                ),
                (etch::reason.eq(""), etch::by_id.eq(world.student), etch::at.eq(began)),
                (etch::received_at.eq(began), etch::known_how.eq("told"), etch::recipe.eq("acid_in_gum")),
                (etch::gum_id.eq(self.gum), etch::gum_microlitres.eq(29_574), etch::gum_unit.eq("us_fl_oz")),
                (etch::acid_id.eq(self.acid), etch::drops.eq(4), etch::gum_baume_tenths.eq(140)),
                (etch::gum_ph_hundredths.eq(430), etch::gum_sour.eq(false), etch::acid_weight_bp.eq(8500)),
                (etch::acid_kind.eq("phosphoric"), etch::tool.eq("brush"), etch::helper.eq("")),
                etch::seen.eq("even film"),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(etch_application::table)
            .values((
                etch_application::etch_id.eq(self.etch),
                etch_application::position.eq(1),
                etch_application::seconds.eq(120),
            ))
            .execute(db)
            .unwrap();
    }

    fn proofs(&self, db: &mut AnyConnection, world: &World) {
        diesel::insert_into(photo::table)
            .values((
                (photo::id.eq(self.photo), photo::class_id.eq(world.class), photo::plate_id.eq(self.plate)),
                (photo::sha256.eq("00"), photo::width.eq(100), photo::height.eq(130), photo::bytes.eq(5000)),
                (photo::by_id.eq(world.student), photo::at.eq(NOW)),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(proof::table)
            .values((
                (proof::id.eq(self.proof), proof::class_id.eq(world.class), proof::plate_id.eq(self.plate)),
                (proof::photo_id.eq(self.photo), proof::kind.eq("trial"), proof::pulled_at.eq(NOW)),
                (proof::note.eq("first pull"), proof::by_id.eq(world.student), proof::at.eq(NOW)),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(comment::table)
            .values((
                (comment::id.eq(self.comment), comment::class_id.eq(world.class)),
                (comment::plate_id.eq(self.plate), comment::proof_id.eq(self.proof)),
                (comment::words.eq("The lamp holds."), comment::by_id.eq(world.instructor)),
                comment::at.eq(NOW),
            ))
            .execute(db)
            .unwrap();
    }

    fn safety(&self, db: &mut AnyConnection, world: &World) {
        // The topic is the school's: a second class has one of its own beside it.
        let there: i64 = topic::table.count().get_result(db).unwrap();
        let key = if there == 0 { "acid-and-gum".to_owned() } else { format!("acid-and-gum-{there}") };
        diesel::insert_into(topic::table)
            .values((
                (topic::id.eq(self.topic), topic::key.eq(key), topic::title.eq("Acid and gum")),
                (topic::position.eq(1), topic::created_at.eq(NOW)),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(topic_version::table)
            .values((
                (topic_version::id.eq(self.topic_version), topic_version::topic_id.eq(self.topic)),
                (topic_version::number.eq(1), topic_version::introduction.eq("")),
                topic_version::created_at.eq(NOW),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(topic_point::table)
            .values((
                (topic_point::id.eq(self.point), topic_point::topic_version_id.eq(self.topic_version)),
                (topic_point::position.eq(1), topic_point::words.eq("Goggles before the bottle is opened")),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(class_topic::table)
            .values((class_topic::class_id.eq(world.class), class_topic::topic_id.eq(self.topic)))
            .execute(db)
            .unwrap();
        diesel::insert_into(sign_off::table)
            .values((
                (sign_off::id.eq(self.sign_off), sign_off::person_id.eq(world.student)),
                (sign_off::topic_id.eq(self.topic), sign_off::topic_version_id.eq(self.topic_version)),
                (sign_off::studio_id.eq(world.studio), sign_off::class_id.eq(world.class)),
                (sign_off::grade.eq("shown"), sign_off::given_by.eq(world.instructor)),
                (sign_off::given_at.eq(NOW), sign_off::note.eq("")),
            ))
            .execute(db)
            .unwrap();
    }

    /// An asking of a day that is over: it is in no line.
    fn evening(&self, db: &mut AnyConnection, world: &World) {
        let at = NOW.plus_ms(-2 * 86_400_000);
        diesel::insert_into(asking::table)
            .values((
                (asking::id.eq(self.asking), asking::class_id.eq(world.class)),
                (asking::person_id.eq(world.student), asking::kind.eq("help")),
                (asking::plate_id.eq(Some(self.plate)), asking::place.eq("table 3")),
                (asking::at.eq(at), asking::until_at.eq(at.plus_ms(1000))),
            ))
            .execute(db)
            .unwrap();
    }

    fn grades(&self, db: &mut AnyConnection, world: &World) {
        diesel::insert_into(category::table)
            .values((
                (category::id.eq(self.category), category::class_id.eq(world.class)),
                (category::position.eq(1), category::title.eq("Prints"), category::weight_bp.eq(10_000)),
                (category::drop_lowest.eq(0), category::version.eq(1)),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(assessment::table)
            .values((
                (assessment::id.eq(self.assessment), assessment::class_id.eq(world.class)),
                (assessment::category_id.eq(self.category), assessment::project_id.eq(self.project)),
                (assessment::position.eq(1), assessment::title.eq("A room at night")),
                (assessment::points_hundredths.eq(10_000), assessment::extra_credit.eq(false)),
                assessment::version.eq(1),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(score::table)
            .values((
                (score::id.eq(self.score), score::class_id.eq(world.class), score::root.eq(self.score)),
                (score::assessment_id.eq(self.assessment), score::person_id.eq(world.student)),
                (score::print_id.eq(self.print), score::status.eq("graded")),
                (score::points_hundredths.eq(8_800), score::words.eq("Good blacks."), score::reason.eq("")),
                (score::by_id.eq(world.instructor), score::at.eq(NOW)),
            ))
            .execute(db)
            .unwrap();
        diesel::insert_into(letter::table)
            .values((
                (letter::id.eq(self.letter), letter::kind.eq("daily"), letter::person_id.eq(world.student)),
                (letter::class_id.eq(world.class), letter::detail.eq("{}"), letter::created_at.eq(NOW)),
                (letter::not_before.eq(NOW), letter::attempts.eq(0)),
            ))
            .execute(db)
            .unwrap();
    }

    /// Signs the first student off on a topic, making the topic if it is not there.
    pub fn sign(&self, db: &mut AnyConnection, world: &World, key: &str, grade: &str) {
        let known: Option<(TopicId, TopicVersionId)> = topic::table
            .inner_join(topic_version::table)
            .filter(topic::key.eq(key))
            .select((topic::id, topic_version::id))
            .first(db)
            .optional()
            .unwrap();
        let (topic_id, version) = known.unwrap_or_else(|| {
            let (topic_id, version) = (Id::new(NOW), Id::new(NOW));
            diesel::insert_into(topic::table)
                .values((
                    (topic::id.eq(topic_id), topic::key.eq(key), topic::title.eq(key)),
                    (topic::position.eq(9), topic::created_at.eq(NOW)),
                ))
                .execute(db)
                .unwrap();
            diesel::insert_into(topic_version::table)
                .values((
                    (topic_version::id.eq(version), topic_version::topic_id.eq(topic_id)),
                    (topic_version::number.eq(1), topic_version::introduction.eq("")),
                    topic_version::created_at.eq(NOW),
                ))
                .execute(db)
                .unwrap();
            (topic_id, version)
        });
        diesel::insert_into(sign_off::table)
            .values((
                (sign_off::id.eq(SignOffId::new(NOW)), sign_off::person_id.eq(world.student)),
                (sign_off::topic_id.eq(topic_id), sign_off::topic_version_id.eq(version)),
                (sign_off::studio_id.eq(world.studio), sign_off::class_id.eq(world.class)),
                (sign_off::grade.eq(grade), sign_off::given_by.eq(world.instructor)),
                (sign_off::given_at.eq(NOW.plus_ms(-86_400_000)), sign_off::note.eq("")),
                sign_off::acknowledged_at.eq(Some(NOW.plus_ms(-86_000_000))),
            ))
            .execute(db)
            .unwrap();
    }
}
