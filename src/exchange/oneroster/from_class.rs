//! A class as a bulk package: school and department, school year and term, course and class, people with their roles,
//! categories, assessments, and what was handed back. Ids are our own, or those another system gave.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};
use chrono_tz::Tz;

use super::layout::is_guid;
use super::package::Package;
use crate::ids::{ClassId, PersonId, derived};
use crate::store::AnyConnection;
use crate::store::classes::facts::{self, Class};
use crate::store::classes::outside::{self, KINDS, Outside};
use crate::store::grades::assessments::Assessment;
use crate::store::grades::book::{self, Book};
use crate::store::grades::scores::{Score, Which};
use crate::store::people::members::{self, Member};
use crate::store::people::roster;
use crate::store::people::school;
use crate::store::people::sessions::Role;
use crate::store::people::theirs::{self, Kind};
use crate::trade::exact::Exact;
use crate::trade::grading::Status;
use crate::trouble::Trouble;

/// What every row about the class needs.
struct Frame {
    own: Outside,
    theirs: BTreeMap<Kind, BTreeMap<String, String>>,
    class: Class,
    people: BTreeMap<PersonId, String>,
}

impl Frame {
    /// What a thing of ours is called in a package: as another system calls it, where one does.
    fn name(&self, kind: Kind, ours: &str) -> String {
        let theirs = self.theirs.get(&kind).and_then(|ids| ids.get(ours)).filter(|id| is_guid(id));
        theirs.cloned().unwrap_or_else(|| ours.to_owned())
    }

    /// What the class, or something it stands in, is called in a package.
    fn id(&self, kind: Kind) -> String {
        let ours = self.own.id(kind).unwrap_or_default();
        let name = self.name(kind, ours);
        // Two imports at the same moment may have given one id to two things of one file.
        let twice = matches!(kind, Kind::Department | Kind::Year) && name == self.id(kind.beside());
        if twice { ours.to_owned() } else { name }
    }
}

/// The package of a class.
///
/// # Errors
/// The database cannot be read.
pub fn of_class(db: &mut AnyConnection, id: ClassId) -> Result<Package, Trouble> {
    let class = facts::class(db, id)?;
    let school = school::school(db)?.ok_or(Trouble::NotFound)?;
    let everybody = members::everybody(db, id)?;
    let book = book::open(db, id, class.zone()?, Which::HandedBack, None)?;
    let own = outside::outside(db, &class)?;
    let frame = Frame { theirs: theirs_of(db, &own, &book)?, people: people_of(db, &everybody)?, own, class };
    let mut package = Package::default();
    put_frame(&mut package, &frame, &school.name);
    put_people(&mut package, &frame, &everybody);
    put_book(&mut package, &frame, &book)?;
    Ok(package)
}

fn theirs_of(
    db: &mut AnyConnection,
    own: &Outside,
    book: &Book,
) -> Result<BTreeMap<Kind, BTreeMap<String, String>>, Trouble> {
    let categories = book.categories.iter().map(|one| one.id.as_str()).collect();
    let assessments = book.assessments.iter().map(|one| one.id.as_str()).collect();
    let mut asked: Vec<(Kind, Vec<&str>)> =
        vec![(Kind::Category, categories), (Kind::Assessment, assessments)];
    asked.extend(KINDS.iter().filter_map(|kind| Some((*kind, vec![own.id(*kind)?]))));
    let mut all = BTreeMap::new();
    for (kind, ids) in asked {
        all.insert(kind, theirs::given(db, kind, &ids)?);
    }
    Ok(all)
}

fn people_of(db: &mut AnyConnection, everybody: &[Member]) -> Result<BTreeMap<PersonId, String>, Trouble> {
    let ids: Vec<PersonId> = everybody.iter().map(|one| one.person).collect();
    let theirs = roster::external_ids(db, &ids)?;
    let name = |id: &PersonId| {
        // An id that holds an address is no id of the standard: those carry nothing about a person.
        let told = theirs.get(id.as_str()).filter(|told| is_guid(told) && !told.contains('@'));
        (*id, told.cloned().unwrap_or_else(|| id.to_string()))
    };
    Ok(ids.iter().map(name).collect())
}

fn day(day: NaiveDate) -> String {
    day.format("%Y-%m-%d").to_string()
}

/// Ranges end before their last day: a term up to the 18th ends on the 19th.
fn after(last: NaiveDate) -> String {
    day(last.checked_add_days(Days::new(1)).unwrap_or(last))
}

fn put_frame(package: &mut Package, frame: &Frame, school: &str) {
    let (class, year) = (&frame.class, frame.own.ends_in);
    let [school_id, department_id] = [Kind::School, Kind::Department].map(|kind| frame.id(kind));
    let [year_id, term_id, course_id] = [Kind::Year, Kind::Term, Kind::Course].map(|kind| frame.id(kind));
    // A summer term that reaches into July lies within its year all the same.
    let year_ends = format!("{year}-07-01").max(after(class.term.ends));
    package.add("orgs", &school_id, &[("name", school.to_owned()), ("type", "school".to_owned())]);
    package.add(
        "orgs",
        &department_id,
        &[
            ("name", format!("{school}, printmaking")),
            ("type", "department".to_owned()),
            ("parentSourcedId", school_id.clone()),
        ],
    );
    package.add(
        "academicSessions",
        &year_id,
        &[
            ("title", format!("{}/{year}", year - 1)),
            ("type", "schoolYear".to_owned()),
            ("startDate", format!("{}-07-01", year - 1)),
            ("endDate", year_ends),
            ("schoolYear", format!("{year:04}")),
        ],
    );
    package.add(
        "academicSessions",
        &term_id,
        &[
            ("title", class.term.name.clone()),
            ("type", "semester".to_owned()),
            ("startDate", day(class.term.starts)),
            ("endDate", after(class.term.ends)),
            ("parentSourcedId", year_id.clone()),
            ("schoolYear", format!("{year:04}")),
        ],
    );
    package.add(
        "courses",
        &course_id,
        &[
            ("schoolYearSourcedId", year_id.clone()),
            ("title", class.rules.title.clone()),
            ("courseCode", class.code.clone()),
            ("orgSourcedId", department_id.clone()),
        ],
    );
    package.add(
        "classes",
        &frame.id(Kind::Class),
        &[
            ("title", class.rules.title.clone()),
            ("courseSourcedId", course_id.clone()),
            ("classCode", class.code.clone()),
            ("classType", "scheduled".to_owned()),
            ("schoolSourcedId", school_id.clone()),
            ("termSourcedIds", term_id.clone()),
        ],
    );
}

fn put_people(package: &mut Package, frame: &Frame, everybody: &[Member]) {
    let mut first_teacher = true;
    for one in everybody {
        let Some(id) = frame.people.get(&one.person) else { continue };
        // Both names must be there; who goes by one has it in both.
        let other =
            |name: &str, instead: &str| if name.is_empty() { instead.to_owned() } else { name.to_owned() };
        package.add(
            "users",
            id,
            &[
                ("enabledUser", "true".to_owned()),
                ("username", one.email.clone().unwrap_or_else(|| id.clone())),
                ("givenName", other(&one.given_name, &one.family_name)),
                ("familyName", other(&one.family_name, &one.given_name)),
                ("identifier", one.student_number.clone().unwrap_or_default()),
                ("email", one.email.clone().unwrap_or_default()),
                ("primaryOrgSourcedId", frame.id(Kind::School)),
            ],
        );
        let (role, enrolled) = match one.role.0 {
            Role::Student => ("student", "student"),
            Role::Assistant => ("aide", "proctor"),
            Role::Instructor => ("teacher", "teacher"),
        };
        package.add(
            "roles",
            &derived(&["role", id, &frame.own.school]),
            &[
                ("userSourcedId", id.clone()),
                ("roleType", "primary".to_owned()),
                ("role", role.to_owned()),
                ("orgSourcedId", frame.id(Kind::School)),
            ],
        );
        let (in_force, starts) = (members::in_force(one), frame.class.term.starts);
        // Who left before the term began was there for no day of it: a range that ends before it begins is none.
        let begins = if in_force { starts } else { starts.min(one.since) };
        let primary = one.role.0 == Role::Instructor && std::mem::take(&mut first_teacher);
        package.add(
            "enrollments",
            one.enrolment.as_str(),
            &[
                ("classSourcedId", frame.id(Kind::Class)),
                ("schoolSourcedId", frame.id(Kind::School)),
                ("userSourcedId", id.clone()),
                ("role", enrolled.to_owned()),
                ("primary", primary.to_string()),
                ("beginDate", day(begins)),
                ("endDate", if in_force { String::new() } else { day(one.since) }),
                ("metadata.listing", one.listing.clone().unwrap_or_default()),
            ],
        );
    }
}

fn put_book(package: &mut Package, frame: &Frame, book: &Book) -> Result<(), Trouble> {
    let exact: Vec<i64> = book.categories.iter().map(|one| one.weight_bp.into()).collect();
    for (category, weight) in book.categories.iter().zip(whole_percents(&exact)) {
        package.add(
            "categories",
            &frame.name(Kind::Category, category.id.as_str()),
            &[
                ("title", category.title.clone()),
                ("weight", weight.to_string()),
                ("metadata.exactWeight", Exact::hundredths(category.weight_bp.into()).to_string()),
            ],
        );
    }
    let zone = frame.class.zone()?;
    for assessment in &book.assessments {
        let due = book.students.first().and_then(|one| book.due_day(assessment, one.person));
        package.add(
            "lineItems",
            &frame.name(Kind::Assessment, assessment.id.as_str()),
            &[
                ("title", assessment.title.clone()),
                ("assignDate", day(frame.class.term.starts)),
                ("dueDate", day(due.unwrap_or(frame.class.term.ends))),
                ("classSourcedId", frame.id(Kind::Class)),
                ("categorySourcedId", frame.name(Kind::Category, assessment.category.as_str())),
                ("academicSessionSourcedId", frame.id(Kind::Term)),
                ("resultValueMin", "0".to_owned()),
                ("resultValueMax", Exact::hundredths(assessment.points_hundredths).to_string()),
                ("schoolSourcedId", frame.id(Kind::School)),
            ],
        );
        for student in &book.students {
            let Some(score) = book.score(assessment.id, student.person) else { continue };
            let Some(id) = frame.people.get(&student.person) else { continue };
            put_result(package, frame, book, assessment, (student.person, id), score, zone);
        }
    }
    Ok(())
}

/// One mark as a result.
fn put_result(
    package: &mut Package,
    frame: &Frame,
    book: &Book,
    assessment: &Assessment,
    (person, id): (PersonId, &str),
    score: &Score,
    zone: Tz,
) {
    let (status, missing) = match score.status.0 {
        Status::Graded => ("fully graded", false),
        Status::Excused => ("exempt", false),
        Status::Missing => ("not submitted", true),
        Status::Pending => ("submitted", false),
    };
    // A correction is the same result with another score.
    package.add(
        "results",
        score.root.as_str(),
        &[
            ("lineItemSourcedId", frame.name(Kind::Assessment, assessment.id.as_str())),
            ("studentSourcedId", id.to_owned()),
            ("scoreStatus", status.to_owned()),
            (
                "score",
                score
                    .points_hundredths
                    .map(|points| Exact::hundredths(points).to_string())
                    .unwrap_or_default(),
            ),
            ("scoreDate", day(score.handed_back_at.unwrap_or(score.at).local_date(zone))),
            ("comment", score.words.clone()),
            ("classSourcedId", frame.id(Kind::Class)),
            ("inProgress", "false".to_owned()),
            ("incomplete", "false".to_owned()),
            ("late", (book.days_late(assessment, person) > 0).to_string()),
            ("missing", missing.to_string()),
        ],
    );
}

/// Basis points as whole percents with the same sum: those with the largest remainders are rounded up.
fn whole_percents(basis_points: &[i64]) -> Vec<i64> {
    let mut whole: Vec<i64> = basis_points.iter().map(|one| one / 100).collect();
    let short = (basis_points.iter().sum::<i64>() / 100 - whole.iter().sum::<i64>()).max(0);
    let mut order: Vec<usize> = (0..whole.len()).collect();
    order.sort_by_key(|place| std::cmp::Reverse(basis_points.get(*place).map_or(0, |one| one % 100)));
    for place in order.into_iter().take(usize::try_from(short).unwrap_or(0)) {
        if let Some(one) = whole.get_mut(place) {
            *one += 1;
        }
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_stay_whole_and_sum_to_the_same() {
        assert_eq!(whole_percents(&[3333, 3333, 3334]), [33, 33, 34]);
        assert_eq!(whole_percents(&[1250, 1250, 7500]), [13, 12, 75]);
        assert_eq!(whole_percents(&[5000, 5000]), [50, 50]);
        assert_eq!(whole_percents(&[]), [0_i64; 0]);
    }
}
