//! Who is asking, in which class, with what right: the types handlers take. They are filled by the gate, which has
//! already compared them with the door; a handler that takes `InClass` cannot run for a stranger.

use std::future::{Ready, ready};
use std::sync::Arc;

use actix_web::dev::Payload;
use actix_web::{FromRequest, HttpMessage, HttpRequest, web};
use chrono_tz::Tz;

use crate::clock::Instant;
use crate::ids::{ClassId, PersonId, SessionId, StudioId, TabletId, TermId};
use crate::pages::house::House;
use crate::speech::language::Language;
use crate::spelled;
use crate::trouble::Trouble;

spelled!(
    /// The place a person takes in a class.
    Seat {
        Student = "student",
        Assistant = "assistant",
        Instructor = "instructor",
        /// The school's safety officer: training, rounds and incidents of every class.
        SafetyOfficer = "safety-officer",
        /// Records staff of the school: rosters, submitted grades, training records.
        Records = "records",
    }
);

/// Whom a door lets in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Who {
    /// Everybody, signed in or not.
    Anyone,
    /// Everybody who is signed in.
    SignedIn,
    /// Holders of the keeper's right: terms, classes, people.
    Keeper,
    /// Records staff: submitted grades, rosters and training records of every class.
    Records,
    /// Those who hold one of these seats in the class that the path names; for others the class is not there.
    InClass(&'static [Seat]),
    /// As `InClass`; besides, whoever was a student of the class, for what happened on a plate of their own: a fact told
    /// late is not refused because an enrolment ended meanwhile. The question for the plate says whose it is.
    OwnPlate(&'static [Seat]),
    /// The tablet that stands in a studio, whoever is before it; for others the door is not there.
    Tablet,
}

impl Who {
    /// The seats of a door in a class.
    #[must_use]
    pub const fn seats(self) -> Option<&'static [Seat]> {
        match self {
            Self::InClass(seats) | Self::OwnPlate(seats) => Some(seats),
            Self::Anyone | Self::SignedIn | Self::Keeper | Self::Records | Self::Tablet => None,
        }
    }
}

/// Everyone who may have a seat.
pub const ALL_SEATS: &[Seat] =
    &[Seat::Student, Seat::Assistant, Seat::Instructor, Seat::SafetyOfficer, Seat::Records];
/// Those who work in the class.
pub const CLASS_SEATS: &[Seat] = &[Seat::Student, Seat::Assistant, Seat::Instructor];
/// Those who may read what stands on the shelf and when the studio is open.
pub const STUDIO_SEATS: &[Seat] = &[Seat::Student, Seat::Assistant, Seat::Instructor, Seat::SafetyOfficer];
/// Those who run it.
pub const STAFF_SEATS: &[Seat] = &[Seat::Assistant, Seat::Instructor];
/// Those who do something on a plate: its student, and the instructor.
pub const DOING_SEATS: &[Seat] = &[Seat::Student, Seat::Instructor];
/// Those who read training records.
pub const READING_SEATS: &[Seat] = &[Seat::Assistant, Seat::Instructor, Seat::SafetyOfficer, Seat::Records];
/// Those who read training records of every class, and so of everybody in a room.
pub const ROOM_SEATS: &[Seat] = &[Seat::SafetyOfficer, Seat::Records];
/// Those whom grades concern: each student's own, and all for the instructor.
pub const GRADE_SEATS: &[Seat] = &[Seat::Student, Seat::Instructor];
/// Those who read who is in a class.
pub const ROSTER_SEATS: &[Seat] = &[Seat::Instructor, Seat::Assistant, Seat::Records];
/// Those who take tables out of a class.
pub const RECORDS_SEATS: &[Seat] = &[Seat::Instructor, Seat::Records];
/// Those who may know what was told about a student: themselves, and who tells.
pub const TOLD_SEATS: &[Seat] = &[Seat::Student, Seat::Instructor, Seat::Records];
/// The instructor alone.
pub const INSTRUCTOR: &[Seat] = &[Seat::Instructor];
/// The student alone.
pub const STUDENT: &[Seat] = &[Seat::Student];

/// The person behind a session.
#[derive(Debug, Clone)]
pub struct SignedIn {
    pub id: PersonId,
    pub session: SessionId,
    pub given_name: String,
    pub family_name: String,
    pub keeper: bool,
    pub records: bool,
    pub safety_officer: bool,
    pub volume_unit: String,
    /// The language they chose; without a choice the browser's word holds.
    pub language: Option<Language>,
    /// When the password was last typed: some acts want it within ten minutes.
    pub confirmed_at: Instant,
}

/// The class a door's path names, as the person asking may see it.
#[derive(Debug, Clone)]
pub struct Membership {
    pub class: ClassId,
    pub seat: Seat,
    pub class_title: String,
    pub class_code: String,
    pub term: TermId,
    pub term_name: String,
    pub zone: Tz,
    pub studio: StudioId,
    pub studio_name: String,
    pub eyewash: String,
}

/// The tablet a request comes from.
#[derive(Debug, Clone, Copy)]
pub struct AtTablet {
    pub id: TabletId,
    pub studio: StudioId,
}

/// What the gate found out about a request.
#[derive(Debug, Clone)]
pub struct Found {
    pub person: Option<Arc<SignedIn>>,
    pub membership: Option<Arc<Membership>>,
    /// The studio's tablet, at its own doors.
    pub tablet: Option<AtTablet>,
    /// What a form seal is bound to: the session, or the visit cookie of someone not signed in.
    pub visitor: String,
    pub now: Instant,
    /// The door's path pattern: what a once-key is bound to.
    pub door: &'static str,
}

/// A request from anybody.
#[derive(Clone)]
pub struct Ask {
    pub house: web::Data<House>,
    pub found: Arc<Found>,
    pub request: HttpRequest,
}

impl Ask {
    /// The moment of this request.
    #[must_use]
    pub fn now(&self) -> Instant {
        self.found.now
    }

    /// The person asking.
    ///
    /// # Errors
    /// Nobody is signed in.
    pub fn person(&self) -> Result<&SignedIn, Trouble> {
        self.found.person.as_deref().ok_or(Trouble::SignInFirst)
    }

    /// The tablet it comes from.
    ///
    /// # Errors
    /// It comes from none.
    pub fn tablet(&self) -> Result<AtTablet, Trouble> {
        self.found.tablet.ok_or(Trouble::NotFound)
    }

    /// Asks for a password typed within the last ten minutes.
    ///
    /// # Errors
    /// It is longer ago; the page asks for it again.
    pub fn confirmed(&self) -> Result<(), Trouble> {
        let age = self.now().millis() - self.person()?.confirmed_at.millis();
        if age <= 10 * 60_000 { Ok(()) } else { Err(Trouble::ConfirmFirst) }
    }

    /// One value of the query part of the address.
    #[must_use]
    pub fn query(&self, name: &str) -> Option<String> {
        web::Query::<Vec<(String, String)>>::from_query(self.request.query_string())
            .ok()?
            .into_inner()
            .into_iter()
            .find_map(|(key, value)| (key == name).then_some(value))
    }
}

impl FromRequest for Ask {
    type Error = Trouble;
    type Future = Ready<Result<Self, Trouble>>;

    fn from_request(request: &HttpRequest, _: &mut Payload) -> Self::Future {
        ready(ask(request))
    }
}

pub(crate) fn ask(request: &HttpRequest) -> Result<Ask, Trouble> {
    let house = request.app_data::<web::Data<House>>().cloned();
    let found = request.extensions().get::<Arc<Found>>().cloned();
    match (house, found) {
        (Some(house), Some(found)) => Ok(Ask { house, found, request: request.clone() }),
        _ => Err(Trouble::broken("letting a request in", "the gate was not passed")),
    }
}

/// A request from somebody with a seat in the class the path names.
#[derive(Clone)]
pub struct InClass {
    pub ask: Ask,
    pub person: Arc<SignedIn>,
    pub membership: Arc<Membership>,
}

impl std::ops::Deref for InClass {
    type Target = Ask;
    fn deref(&self) -> &Ask {
        &self.ask
    }
}

impl InClass {
    #[must_use]
    pub fn class(&self) -> ClassId {
        self.membership.class
    }

    /// An address in this class.
    #[must_use]
    pub fn path(&self, rest: &str) -> String {
        format!("/classes/{}{rest}", self.class())
    }

    #[must_use]
    pub fn seat(&self) -> Seat {
        self.membership.seat
    }

    #[must_use]
    pub fn is_instructor(&self) -> bool {
        self.seat() == Seat::Instructor
    }

    #[must_use]
    pub fn is_staff(&self) -> bool {
        matches!(self.seat(), Seat::Instructor | Seat::Assistant)
    }

    /// For a student the person whose things alone may be seen; for others no limit. Queries take it as their owner.
    #[must_use]
    pub fn owner(&self) -> Option<PersonId> {
        (self.seat() == Seat::Student).then_some(self.person.id)
    }
}

impl FromRequest for InClass {
    type Error = Trouble;
    type Future = Ready<Result<Self, Trouble>>;

    fn from_request(request: &HttpRequest, _: &mut Payload) -> Self::Future {
        ready(ask(request).and_then(|ask| {
            let person = ask.found.person.clone().ok_or(Trouble::SignInFirst)?;
            let membership = ask
                .found
                .membership
                .clone()
                .ok_or_else(|| Trouble::broken("letting a request in", "the door names no class"))?;
            Ok(Self { ask, person, membership })
        }))
    }
}
