//! What an import of a class list would do, before anything is done: the list compared with the people already known.
//!
//! A row belongs to the person who has its external id, its student number or its e-mail address, looked for in this
//! order; keys that lead to two people make the row a bad one. A row that says nothing but a name is compared with the
//! class alone.
//!
//! A list makes people student or assistant of this class and nothing more. It leaves the details of a person alone who
//! has an account, belongs to another class or holds a right of the school: otherwise whoever can upload a list could
//! put an own mailbox in somebody's place and ask for a new password. Nobody is deleted: who is missing from the list is
//! only proposed as withdrawn, one by one, for a person to decide. The same list again asks for nothing.

mod compare;
mod matching;
mod person;
mod withdrawals;

pub use self::compare::compare;
use super::roster::{BadRow, Details, Field, Role};
use crate::trade::remark::Remark;

/// Somebody the school knows. To compare, bring everybody who was ever in this class, and everybody in the school who
/// has one of `Roster::keys`, each once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Person<Id, L> {
    pub id: Id,
    pub details: Details,
    /// Has ever set a password or signed in.
    pub has_account: bool,
    /// Has an enrolment in any other class, whatever its state.
    pub in_another_class: bool,
    /// Is keeper, records staff or safety officer, invited or already there.
    pub has_school_right: bool,
    /// None: was never in this class.
    pub seat: Option<Seat<L>>,
}

/// A person's enrolment in this class.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Seat<L> {
    pub listing: Option<L>,
    pub state: State,
    pub role: ClassRole,
}

/// How an enrolment stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    Enrolled,
    Dropped,
    Withdrawn,
    Incomplete,
}

/// What a person is in this class.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClassRole {
    Student,
    Assistant,
    /// Never given and never taken by a list.
    Instructor,
}

impl From<Role> for ClassRole {
    fn from(role: Role) -> Self {
        match role {
            Role::Student => Self::Student,
            Role::Assistant => Self::Assistant,
        }
    }
}

/// What the import would do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan<Id, L> {
    /// People the school does not know yet, in the order of the list.
    pub added: Vec<Added<L>>,
    /// People it knows, in the order of the list.
    pub known: Vec<Known<Id, L>>,
    /// In the class and not in the list, in the order they were brought. Each needs a person's decision.
    pub withdrawals: Vec<Withdrawal<Id>>,
    /// Why no withdrawal is proposed, where the list is too uncertain for it.
    pub withdrawals_held: Option<Remark>,
    /// Rows that change nothing until they are put right, those already bad when read included; by line.
    pub bad: Vec<BadRow>,
}

/// A new person, who gets a seat in the class.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Added<L> {
    pub line: u32,
    pub details: Details,
    pub listing: Option<L>,
    pub role: Role,
    /// Somebody else of this name is in the class: perhaps the same person with another number.
    pub has_namesake: bool,
}

/// A person already known, and what the row asks for. The parts are independent of each other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Known<Id, L> {
    pub line: u32,
    pub person: Id,
    /// What the person was known by. None: by the name alone, within the class.
    pub by: Option<Field>,
    /// Was never in the class and gets a seat.
    pub joins: Option<Joins<L>>,
    /// Had dropped or withdrawn and is enrolled again.
    pub brought_back: bool,
    pub moved: Option<Moved<L>>,
    pub role: Option<RoleChange>,
    pub changes: Vec<Change>,
    /// What the list says otherwise and the import must not change.
    pub left_alone: Vec<LeftAlone>,
}

impl<Id, L> Known<Id, L> {
    #[must_use]
    pub fn is_changed(&self) -> bool {
        !self.changes.is_empty() || self.role.is_some()
    }

    #[must_use]
    pub fn asks_for_nothing(&self) -> bool {
        self.joins.is_none() && !self.brought_back && self.moved.is_none() && !self.is_changed()
    }
}

/// The seat a known person gets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Joins<L> {
    pub listing: Option<L>,
    pub role: Role,
}

/// From one listing to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moved<L> {
    pub old: Option<L>,
    pub new: L,
}

/// Between student and assistant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RoleChange {
    pub old: ClassRole,
    pub new: Role,
}

/// One detail of a person without an account, in no other class. When an e-mail address changes, links sent to the old
/// one must stop working.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    pub field: Field,
    /// Empty where nothing was known.
    pub old: String,
    pub new: String,
}

/// A detail the list says otherwise. What is known is not repeated here: it may be none of the reader's business.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftAlone {
    pub field: Field,
    pub told: String,
}

/// Somebody in the class whom the list does not name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Withdrawal<Id> {
    pub person: Id,
    /// The list has other people of this person's listing. Otherwise it may be the list of another listing only.
    pub listing_in_list: bool,
}

impl<Id, L> Plan<Id, L> {
    /// Known people who are added to the class, their details left alone where they are protected.
    pub fn joining(&self) -> impl Iterator<Item = &Known<Id, L>> {
        self.known.iter().filter(|known| known.joins.is_some())
    }

    pub fn changed(&self) -> impl Iterator<Item = &Known<Id, L>> {
        self.known.iter().filter(|known| known.is_changed())
    }

    pub fn moved(&self) -> impl Iterator<Item = &Known<Id, L>> {
        self.known.iter().filter(|known| known.moved.is_some())
    }

    pub fn brought_back(&self) -> impl Iterator<Item = &Known<Id, L>> {
        self.known.iter().filter(|known| known.brought_back)
    }

    pub fn nothing_to_do(&self) -> impl Iterator<Item = &Known<Id, L>> {
        self.known.iter().filter(|known| known.asks_for_nothing())
    }

    /// Nobody is added or changed in any way; withdrawals may still be proposed, and rows may be bad.
    #[must_use]
    pub fn asks_for_nothing(&self) -> bool {
        self.added.is_empty() && self.known.iter().all(Known::asks_for_nothing)
    }
}

#[cfg(test)]
mod tests;
