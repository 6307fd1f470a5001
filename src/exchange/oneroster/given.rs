//! What the other system calls the class of a list and what it stands in: read from a package, carried through the page that
//! shows the plan, and held against the record, which says what of it is kept.

use std::collections::{BTreeMap, BTreeSet};

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD as BASE64;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::layout::is_guid;
use super::package::{Package, Rows};
use crate::ids::ClassId;
use crate::store::classes::facts;
use crate::store::classes::outside::{self, KINDS};
use crate::store::grades::{assessments, categories};
use crate::store::people::theirs::{self, Kind};
use crate::store::{AnyConnection, Tx};
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// So many categories, and so many assessments, are carried along at most; the list has to fit beside them.
const MOST: usize = 200;
/// Longer than any title of ours.
const MOST_OF_TITLE: usize = 200;

/// The ids a package gives to a class, to what it stands in, and to what is graded in it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Told {
    ids: Vec<(Kind, String)>,
    /// First day of its term, and the day after the last.
    span: Option<(String, String)>,
    /// The year in which its school year ends.
    ends_in: Option<String>,
    /// Title and id, each title once.
    categories: Vec<(String, String)>,
    assessments: Vec<(String, String)>,
}

impl Told {
    /// What a package says of a class in it.
    pub(super) fn of(package: &Package, class: &str) -> Self {
        let book = Reading { package };
        let mut told = Self::default();
        let one = |file, id: &str, name| book.value(file, id, name);
        let course = one("classes", class, "courseSourcedId");
        told.ids.push((Kind::Class, class.to_owned()));
        told.ids.extend(course.map(|id| (Kind::Course, id.to_owned())));
        let school =
            one("classes", class, "schoolSourcedId").filter(|id| one("orgs", id, "type") == Some("school"));
        let department = course
            .and_then(|id| one("courses", id, "orgSourcedId"))
            .filter(|id| one("orgs", id, "type") == Some("department"));
        told.ids.extend(school.map(|id| (Kind::School, id.to_owned())));
        told.ids.extend(department.map(|id| (Kind::Department, id.to_owned())));
        let sessions = one("classes", class, "termSourcedIds").unwrap_or_default();
        let kind = |id: &str| one("academicSessions", id, "type").unwrap_or_default();
        let terms: Vec<&str> =
            sessions.split(',').filter(|id| matches!(kind(id), "semester" | "term")).collect();
        let of_course = course.and_then(|id| one("courses", id, "schoolYearSourcedId"));
        let mut years: Vec<&str> = sessions.split(',').filter_map(|id| book.year_of(id)).collect();
        years.extend(of_course.filter(|id| years.is_empty() && kind(id) == "schoolYear"));
        years.dedup();
        if let [term] = terms.as_slice() {
            told.ids.push((Kind::Term, (*term).to_owned()));
            let day = |name| one("academicSessions", term, name).map(str::to_owned);
            told.span = day("startDate").zip(day("endDate"));
        }
        if let [year] = years.as_slice() {
            told.ids.push((Kind::Year, (*year).to_owned()));
            told.ends_in = one("academicSessions", year, "schoolYear").map(str::to_owned);
        }
        told.read_book(package, class);
        told
    }

    /// Line items of the class, and the categories they are in; all categories where the package holds one class alone.
    fn read_book(&mut self, package: &Package, class: &str) {
        let none = Rows::new();
        let rows = |file| package.0.get(file).unwrap_or(&none);
        let value = |row: &BTreeMap<String, String>, name: &str| row.get(name).cloned().unwrap_or_default();
        let items: Vec<_> =
            rows("lineItems").iter().filter(|(_, row)| value(row, "classSourcedId") == class).collect();
        let used: BTreeSet<String> = items.iter().map(|(_, row)| value(row, "categorySourcedId")).collect();
        let alone = rows("classes").len() == 1;
        self.assessments = by_title(items.into_iter().map(|(id, row)| (value(row, "title"), id.clone())));
        let of_class = rows("categories").iter().filter(|(id, _)| alone || used.contains(*id));
        self.categories = by_title(of_class.map(|(id, row)| (value(row, "title"), id.clone())));
    }

    /// As a hidden field carries it.
    #[must_use]
    pub fn carried(&self) -> String {
        if *self == Self::default() {
            return String::new();
        }
        BASE64.encode(serde_json::to_vec(self).unwrap_or_default())
    }

    /// What a hidden field carried; none of it where the field holds something else.
    #[must_use]
    pub fn from_field(text: &str) -> Option<Self> {
        if text.is_empty() {
            return Some(Self::default());
        }
        let told: Self = serde_json::from_slice(&BASE64.decode(text).ok()?).ok()?;
        let of_book = || told.categories.iter().chain(&told.assessments);
        let sound = told.ids.iter().all(|(kind, id)| KINDS.contains(kind) && is_guid(id))
            && told.ids.iter().map(|(kind, _)| kind).collect::<BTreeSet<_>>().len() == told.ids.len()
            && of_book().all(|(title, id)| fits(title) && is_guid(id))
            && told.categories.len().max(told.assessments.len()) <= MOST;
        sound.then_some(told)
    }
}

fn fits(title: &str) -> bool {
    !title.is_empty() && title.chars().count() <= MOST_OF_TITLE
}

/// Titles that are there once, with their ids.
fn by_title(all: impl Iterator<Item = (String, String)>) -> Vec<(String, String)> {
    let mut found: BTreeMap<String, Option<String>> = BTreeMap::new();
    for (title, id) in all.filter(|(title, _)| fits(title)) {
        found.entry(title).and_modify(|one| *one = None).or_insert(Some(id));
    }
    found.into_iter().filter_map(|(title, id)| Some((title, id?))).take(MOST).collect()
}

struct Reading<'a> {
    package: &'a Package,
}

impl<'a> Reading<'a> {
    fn value(&self, file: &str, id: &str, name: &str) -> Option<&'a str> {
        self.package.0.get(file)?.get(id)?.get(name).map(String::as_str)
    }

    /// The school year a session is or lies in. No session is its own ancestor: the package was read.
    fn year_of(&self, id: &str) -> Option<&'a str> {
        let (mut at, _) = self.package.0.get("academicSessions")?.get_key_value(id)?;
        loop {
            if self.value("academicSessions", at, "type") == Some("schoolYear") {
                return Some(at);
            }
            let parent = self.value("academicSessions", at, "parentSourcedId")?;
            (at, _) = self.package.0.get("academicSessions")?.get_key_value(parent)?;
        }
    }
}

/// An id that is kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Keep {
    pub kind: Kind,
    pub ours: String,
    pub theirs: String,
    /// The one it takes the place of.
    pub before: Option<String>,
}

/// What is kept of the ids told, and what is not and why.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Given {
    pub keeps: Vec<Keep>,
    /// Each needs the name of its kind as `what`.
    pub notes: Vec<(Kind, Remark)>,
}

impl Given {
    /// Holds what was told against the record. Ids kept already, and those that are our own come back, ask for nothing.
    ///
    /// # Errors
    /// The database cannot be read.
    pub fn of(db: &mut AnyConnection, class: ClassId, told: &Told) -> Result<Self, Trouble> {
        if *told == Told::default() {
            return Ok(Self::default());
        }
        let class = facts::class(db, class)?;
        let own = outside::outside(db, &class)?;
        let mut given = Self::default();
        let mut asked: Vec<(Kind, Vec<(String, String)>)> = Vec::new();
        let other_term = told.other_term(&class.term);
        let other_year = told.ends_in.as_deref().filter(|told| **told != format!("{:04}", own.ends_in));
        if let Some((starts, ends)) = other_term {
            let remark = Remark::new("roster-ids-other-term").with("starts", starts).with("ends", ends);
            given.notes.push((Kind::Term, remark));
        } else if let Some(theirs) = other_year {
            let remark = Remark::new("roster-ids-other-year")
                .with("theirs", theirs)
                .with("ours", own.ends_in.to_string());
            given.notes.push((Kind::Year, remark));
        }
        for kind in KINDS {
            let left = match kind {
                Kind::Class | Kind::Term => other_term.is_some(),
                Kind::Year => other_term.is_some() || other_year.is_some(),
                _ => false,
            };
            let theirs = told.ids.iter().find(|(one, _)| *one == kind).map(|(_, id)| id).filter(|_| !left);
            asked.extend(
                own.id(kind)
                    .zip(theirs)
                    .map(|(ours, theirs)| (kind, vec![(ours.to_owned(), theirs.clone())])),
            );
        }
        if other_term.is_none() {
            let ours = categories::categories(db, class.id)?;
            let ours = ours.into_iter().map(|one| (one.title, one.id.to_string()));
            asked.push((Kind::Category, matched(ours, &told.categories)));
            let ours = assessments::assessments(db, class.id)?;
            let ours = ours.into_iter().map(|one| (one.title, one.id.to_string()));
            asked.push((Kind::Assessment, matched(ours, &told.assessments)));
        }
        for (kind, pairs) in asked {
            given.look_at(db, kind, pairs)?;
        }
        Ok(given)
    }

    fn look_at(
        &mut self,
        db: &mut AnyConnection,
        kind: Kind,
        pairs: Vec<(String, String)>,
    ) -> Result<(), Trouble> {
        if pairs.is_empty() {
            return Ok(());
        }
        let ours: Vec<&str> = pairs.iter().map(|(ours, _)| ours.as_str()).collect();
        let told: Vec<String> = pairs.iter().map(|(_, theirs)| theirs.clone()).collect();
        let standing = theirs::given(db, kind, &ours)?;
        let native = outside::own(db, kind, &told)?;
        let held = theirs::owners(db, kind, &told)?;
        let beside =
            if kind.beside() == kind { BTreeMap::new() } else { theirs::owners(db, kind.beside(), &told)? };
        for (ours, theirs) in pairs {
            let before = standing.get(&ours);
            if theirs == ours || before == Some(&theirs) {
                continue;
            }
            let taken = native.contains(&theirs)
                || held.contains_key(&theirs)
                || beside.contains_key(&theirs)
                || self
                    .keeps
                    .iter()
                    .any(|one| (one.kind == kind || one.kind == kind.beside()) && one.theirs == theirs);
            match before {
                _ if taken => self.notes.push((kind, Remark::new("roster-ids-taken").with("id", theirs))),
                Some(before) if kind.is_shared() => {
                    let remark = Remark::new("roster-ids-shared").with("before", before.as_str());
                    self.notes.push((kind, remark.with("id", theirs)));
                }
                before => self.keeps.push(Keep { kind, before: before.cloned(), ours, theirs }),
            }
        }
        Ok(())
    }

    /// Keeps what was shown.
    ///
    /// # Errors
    /// One belongs to something else by now (`Taken`), or the database refuses.
    pub fn keep(&self, tx: &mut Tx<'_>) -> Result<(), Trouble> {
        self.keeps.iter().try_for_each(|one| tx.keep_theirs(one.kind, &one.ours, &one.theirs))
    }
}

impl Told {
    /// First day and day after the last of the package's term, where no day of it is in ours: then its class is another.
    fn other_term(&self, term: &facts::ClassTerm) -> Option<(&str, &str)> {
        let (starts, ends) = self.span.as_ref()?;
        let [first, after] = [starts, ends].map(|day| day.parse::<NaiveDate>().ok());
        let apart =
            first.is_some_and(|first| first > term.ends) || after.is_some_and(|after| after <= term.starts);
        apart.then_some((starts.as_str(), ends.as_str()))
    }
}

/// Our ids and theirs, where both sides have a title once.
fn matched(ours: impl Iterator<Item = (String, String)>, told: &[(String, String)]) -> Vec<(String, String)> {
    let pairs = by_title(ours);
    let told: BTreeMap<&str, &str> = told.iter().map(|(title, id)| (title.as_str(), id.as_str())).collect();
    let found =
        pairs.into_iter().filter_map(|(title, ours)| Some((ours, (*told.get(title.as_str())?).to_owned())));
    found.collect()
}
