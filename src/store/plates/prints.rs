//! Prints and plates: beginning one, replacing a burned one, handing a print in.

use diesel::prelude::*;
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, PlateId, PrintId, ProcedureId, ProjectId};
use crate::store::connections::AnyConnection;
use crate::store::plates::folder::{SizeUnit, Weight};
use crate::store::plates::procedures;
use crate::store::schema::{enrolment, plate, print, procedure, project};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::procedure::{Standing, Surface};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// A print to be begun.
#[derive(Debug, Clone)]
pub struct NewPrint {
    pub project: ProjectId,
    pub person: PersonId,
    pub title: String,
    pub edition_size: Option<i32>,
}

/// A plate or stone to be begun.
#[derive(Debug, Clone)]
pub struct NewPlate {
    pub procedure: ProcedureId,
    pub width_hundredths: i32,
    pub height_hundredths: i32,
    pub size_unit: SizeUnit,
    pub materials: String,
    pub weight: Weight,
    pub note: String,
    /// The plate whose place it takes.
    pub replaces: Option<PlateId>,
}

/// A print as lists show it.
#[derive(Debug, Clone, Queryable)]
pub struct Print {
    pub id: PrintId,
    pub title: String,
    pub person: PersonId,
    pub project: ProjectId,
    pub project_title: String,
    pub edition_size: Option<i32>,
    pub handed_in_at: Option<Instant>,
    pub version: i64,
}

/// The projects a print can answer, in order: id and title.
///
/// # Errors
/// The database cannot be read.
pub fn projects(db: &mut AnyConnection, class: ClassId) -> Result<Vec<(ProjectId, String)>, Trouble> {
    Ok(project::table
        .filter(project::class_id.eq(class))
        .order((project::position, project::id))
        .select((project::id, project::title))
        .load(db)?)
}

/// The prints of a class, or one of them; `owner` limits them to one person's.
///
/// # Errors
/// The database cannot be read.
pub fn prints(
    db: &mut AnyConnection,
    class: ClassId,
    only: Option<PrintId>,
    owner: Option<PersonId>,
) -> Result<Vec<Print>, Trouble> {
    let mut query = print::table
        .inner_join(project::table)
        .filter(print::class_id.eq(class))
        .order((project::position, print::created_at, print::id))
        .select((
            print::id,
            print::title,
            print::person_id,
            project::id,
            project::title,
            print::edition_size,
            print::handed_in_at,
            print::version,
        ))
        .into_boxed();
    if let Some(only) = only {
        query = query.filter(print::id.eq(only));
    }
    if let Some(owner) = owner {
        query = query.filter(print::person_id.eq(owner));
    }
    Ok(query.load(db)?)
}

/// A plate by its number, with the print it belongs to.
#[derive(Debug, Clone, Queryable)]
pub struct Numbered {
    pub id: PlateId,
    pub number: i32,
    pub print: PrintId,
    pub surface: Word<Surface>,
}

/// The plates of a class by number; `owner` limits them to one person's. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn numbered(
    db: &mut AnyConnection,
    class: ClassId,
    owner: Option<PersonId>,
) -> Result<Vec<Numbered>, Trouble> {
    let mut query = plate::table
        .filter(plate::class_id.eq(class))
        .order((plate::number, plate::id))
        .select((plate::id, plate::number, plate::print_id, plate::surface))
        .into_boxed();
    if let Some(owner) = owner {
        query = query.filter(plate::person_id.eq(owner));
    }
    Ok(query.load(db)?)
}

/// What a plate is and what is drawn on it, as far as an etch asks.
#[derive(Debug, Clone, Queryable)]
pub struct Drawing {
    pub number: i32,
    pub surface: Word<Surface>,
    pub materials: String,
    pub weight: Word<Weight>,
}

/// A person's plates of prints not handed in: id, number and the print's title.
///
/// # Errors
/// The database cannot be read.
pub fn own_plates(
    db: &mut AnyConnection,
    class: ClassId,
    person: PersonId,
) -> Result<Vec<(PlateId, i32, String)>, Trouble> {
    Ok(plate::table
        .inner_join(print::table)
        .filter(plate::class_id.eq(class).and(plate::person_id.eq(person)))
        .filter(print::handed_in_at.is_null())
        .order((plate::number, plate::id))
        .select((plate::id, plate::number, print::title))
        .load(db)?)
}

/// The drawing of one plate; `owner` limits it to a person's own.
///
/// # Errors
/// It is not of this class or not of this owner.
pub fn drawing(
    db: &mut AnyConnection,
    class: ClassId,
    id: PlateId,
    owner: Option<PersonId>,
) -> Result<Drawing, Trouble> {
    let mut query = plate::table.find(id).filter(plate::class_id.eq(class)).into_boxed();
    if let Some(owner) = owner {
        query = query.filter(plate::person_id.eq(owner));
    }
    Ok(query.select((plate::number, plate::surface, plate::materials, plate::weight)).first(db)?)
}

impl Tx<'_> {
    /// Begins a print for a project of the class, for somebody enrolled in it.
    ///
    /// # Errors
    /// The project or the person is not of the class.
    pub fn begin_print(&mut self, class: ClassId, new: &NewPrint) -> Result<PrintId, Trouble> {
        let known: i64 = project::table
            .filter(project::id.eq(new.project).and(project::class_id.eq(class)))
            .count()
            .get_result(self.connection)?;
        let enrolled: i64 = enrolment::table
            .filter(enrolment::class_id.eq(class).and(enrolment::person_id.eq(new.person)))
            .filter(enrolment::state.eq_any(["enrolled", "incomplete"]))
            .count()
            .get_result(self.connection)?;
        if known == 0 || enrolled == 0 {
            return Err(Trouble::NotFound);
        }
        let id: PrintId = self.id();
        diesel::insert_into(print::table)
            .values((
                print::id.eq(id),
                print::class_id.eq(class),
                print::project_id.eq(new.project),
                print::person_id.eq(new.person),
                print::title.eq(&new.title),
                print::edition_size.eq(new.edition_size),
                print::created_at.eq(self.now),
                print::version.eq(1),
            ))
            .execute(self.connection)?;
        self.journal("print.begun", id, &json!({ "title": new.title, "project": new.project }))?;
        Ok(id)
    }

    /// Begins a plate of a print; it gets the next number of the class and keeps the newest version of its procedure.
    ///
    /// # Errors
    /// The print is not of this class and owner, the procedure is not to be had, or the plate to be replaced has a
    /// successor already.
    pub fn begin_plate(
        &mut self,
        class: ClassId,
        print_id: PrintId,
        owner: Option<PersonId>,
        new: &NewPlate,
    ) -> Result<PlateId, Trouble> {
        let print = prints(self.connection, class, Some(print_id), owner)?.pop().ok_or(Trouble::NotFound)?;
        let to_be_had: i64 = procedure::table
            .filter(procedure::id.eq(new.procedure))
            .filter(procedure::class_id.is_null().or(procedure::class_id.eq(class)))
            .count()
            .get_result(self.connection)?;
        if to_be_had == 0 {
            return Err(Trouble::NotFound);
        }
        if let Some(old) = new.replaces {
            self.check_replaced(print_id, old)?;
        }
        let (version, surface) = procedures::newest(self.connection, new.procedure)?;
        let highest: Option<i32> = plate::table
            .filter(plate::class_id.eq(class))
            .select(diesel::dsl::max(plate::number))
            .first(self.connection)?;
        let position: i64 =
            plate::table.filter(plate::print_id.eq(print_id)).count().get_result(self.connection)?;
        let id: PlateId = self.id();
        let number = highest.unwrap_or(0) + 1;
        diesel::insert_into(plate::table)
            .values((
                (plate::id.eq(id), plate::class_id.eq(class), plate::print_id.eq(print_id)),
                (plate::person_id.eq(print.person), plate::procedure_version_id.eq(version)),
                (plate::number.eq(number), plate::position.eq(i32::try_from(position).unwrap_or(0) + 1)),
                (plate::surface.eq(surface), plate::width_hundredths.eq(new.width_hundredths)),
                (
                    plate::height_hundredths.eq(new.height_hundredths),
                    plate::size_unit.eq(Word(new.size_unit)),
                ),
                (plate::materials.eq(&new.materials), plate::weight.eq(Word(new.weight))),
                (plate::replaces_id.eq(new.replaces), plate::standing.eq(Word(Standing::Bare))),
                (plate::standing_since.eq(self.now), plate::rack_place.eq(""), plate::note.eq(&new.note)),
                (plate::created_at.eq(self.now), plate::version.eq(1)),
            ))
            .execute(self.connection)?;
        self.journal("plate.begun", id, &json!({ "number": number, "replaces": new.replaces }))?;
        Ok(id)
    }

    fn check_replaced(&mut self, print_id: PrintId, old: PlateId) -> Result<(), Trouble> {
        let of_print: i64 = plate::table
            .filter(plate::id.eq(old).and(plate::print_id.eq(print_id)))
            .count()
            .get_result(self.connection)?;
        if of_print == 0 {
            return Err(Trouble::NotFound);
        }
        let successors: i64 =
            plate::table.filter(plate::replaces_id.eq(old)).count().get_result(self.connection)?;
        if successors > 0 {
            return Err(Trouble::about("replaces", Remark::new("plates-replaced-already")));
        }
        Ok(())
    }

    /// Changes what was said about a plate: size, materials, weight, note. What was done on it stays.
    ///
    /// # Errors
    /// Not of this class and owner, or somebody saved it meanwhile.
    pub fn change_plate(
        &mut self,
        class: ClassId,
        id: PlateId,
        owner: Option<PersonId>,
        version: i64,
        new: &NewPlate,
    ) -> Result<(), Trouble> {
        let mut known = plate::table
            .filter(plate::id.eq(id).and(plate::class_id.eq(class)))
            .select(plate::version)
            .into_boxed();
        if let Some(owner) = owner {
            known = known.filter(plate::person_id.eq(owner));
        }
        let now: i64 = known.first(self.connection)?;
        if now != version {
            return Err(Trouble::Stale(Remark::new("plates-stale")));
        }
        diesel::update(plate::table.find(id))
            .set((
                plate::width_hundredths.eq(new.width_hundredths),
                plate::height_hundredths.eq(new.height_hundredths),
                plate::size_unit.eq(Word(new.size_unit)),
                plate::materials.eq(&new.materials),
                plate::weight.eq(Word(new.weight)),
                plate::note.eq(&new.note),
                plate::version.eq(version + 1),
            ))
            .execute(self.connection)?;
        self.journal("plate.changed", id, &json!({ "materials": new.materials, "weight": new.weight }))
    }

    /// Hands a print in, or takes it back.
    ///
    /// # Errors
    /// Not of this class and owner.
    pub fn hand_in(
        &mut self,
        class: ClassId,
        id: PrintId,
        owner: Option<PersonId>,
        in_hand: bool,
    ) -> Result<(), Trouble> {
        let stands = prints(self.connection, class, Some(id), owner)?.pop().ok_or(Trouble::NotFound)?;
        // What is handed in keeps the moment at which it was.
        if stands.handed_in_at.is_none() == in_hand {
            return Ok(());
        }
        let at = (!in_hand).then_some(self.now);
        diesel::update(print::table.find(id))
            .set((print::handed_in_at.eq(at), print::version.eq(print::version + 1)))
            .execute(self.connection)?;
        self.journal(if in_hand { "print.taken-back" } else { "print.handed-in" }, id, &json!({}))
    }
}
