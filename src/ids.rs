//! Typed ids: a UUID as text, with the kind of thing it names in its type.

use std::fmt;
use std::marker::PhantomData;
use std::str::FromStr;

use uuid::Uuid;

use crate::clock::Instant;

/// The id of a `K`: 36 characters of UUID text, lower case. Any valid UUID is accepted; order means nothing.
pub struct Id<K> {
    text: [u8; 36],
    kind: PhantomData<fn() -> K>,
}

impl<K> Id<K> {
    /// The same id, of another kind: where the kind is told beside it.
    #[must_use]
    pub fn of_kind<L>(self) -> Id<L> {
        Id { text: self.text, kind: PhantomData }
    }

    /// A new id, version 7 of RFC 9562, stamped with `now`.
    #[must_use]
    pub fn new(now: Instant) -> Self {
        let seconds = u64::try_from(now.millis().div_euclid(1000)).unwrap_or(0);
        let nanos = u32::try_from(now.millis().rem_euclid(1000)).unwrap_or(0) * 1_000_000;
        let stamp = uuid::Timestamp::from_unix_time(seconds, nanos, 0, 0);
        Self::from_uuid(Uuid::new_v7(stamp))
    }

    /// An id of version 7 whose other bits are given: the demo school draws them from its seed.
    #[must_use]
    pub fn stamped(now: Instant, part: [u8; 16]) -> Self {
        let millis = u64::try_from(now.millis()).unwrap_or(0);
        let [_, _, _, _, _, _, rest @ ..] = part;
        Self::from_uuid(uuid::Builder::from_unix_timestamp_millis(millis, &rest).into_uuid())
    }

    #[must_use]
    pub fn from_uuid(uuid: Uuid) -> Self {
        let mut text = [0; 36];
        uuid.hyphenated().encode_lower(&mut text);
        Self { text, kind: PhantomData }
    }

    #[must_use]
    pub fn as_str(&self) -> &str {
        // Only ASCII is ever written into the text.
        std::str::from_utf8(&self.text).unwrap_or_default()
    }
}

/// The same id for the same thing that has no row of its own, from what never changes about it (RFC 9562, version 8).
#[must_use]
pub fn derived(parts: &[&str]) -> String {
    use sha2::{Digest, Sha256};
    let digest = Sha256::digest(parts.join("\0").as_bytes());
    let mut bytes = [0; 16];
    for (to, from) in bytes.iter_mut().zip(digest) {
        *to = from;
    }
    uuid::Builder::from_custom_bytes(bytes).into_uuid().to_string()
}

impl<K> Clone for Id<K> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<K> Copy for Id<K> {}
impl<K> PartialEq for Id<K> {
    fn eq(&self, other: &Self) -> bool {
        self.text == other.text
    }
}
impl<K> Eq for Id<K> {}
impl<K> PartialOrd for Id<K> {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl<K> Ord for Id<K> {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.text.cmp(&other.text)
    }
}
impl<K> std::hash::Hash for Id<K> {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        self.text.hash(state);
    }
}
impl<K> fmt::Debug for Id<K> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}
impl<K> fmt::Display for Id<K> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

/// Text that is no UUID.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoId;

impl fmt::Display for NoId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("not a UUID")
    }
}
impl std::error::Error for NoId {}

impl<K> FromStr for Id<K> {
    type Err = NoId;

    fn from_str(text: &str) -> Result<Self, NoId> {
        if text.len() != 36 {
            return Err(NoId);
        }
        Uuid::try_parse(text).map(Self::from_uuid).map_err(|_error| NoId)
    }
}

impl<K> serde::Serialize for Id<K> {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.as_str())
    }
}

impl<'de, K> serde::Deserialize<'de> for Id<K> {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = <std::borrow::Cow<'de, str>>::deserialize(from)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

/// Names each kind of thing once and the type of its id.
macro_rules! kinds {
    ($($kind:ident => $id:ident),+ $(,)?) => { $(
        #[derive(Debug)]
        pub enum $kind {}
        pub type $id = Id<$kind>;
    )+ };
}

kinds! {
    Accommodation => AccommodationId,
    Allowance => AllowanceId,
    Asking => AskingId,
    Assessment => AssessmentId,
    BlindMark => BlindMarkId,
    CameUp => CameUpId,
    CalendarFeed => CalendarFeedId,
    Category => CategoryId,
    Class => ClassId,
    Closure => ClosureId,
    Comment => CommentId,
    Container => ContainerId,
    Criterion => CriterionId,
    Critique => CritiqueId,
    DataSheet => DataSheetId,
    Disclosure => DisclosureId,
    DueMove => DueMoveId,
    Duty => DutyId,
    Enrolment => EnrolmentId,
    EnrolmentChange => EnrolmentChangeId,
    Etch => EtchId,
    EtchTableRow => EtchTableRowId,
    ExtraOpening => ExtraOpeningId,
    Goal => GoalId,
    Hold => HoldId,
    KeptArchive => KeptArchiveId,
    Letter => LetterId,
    Link => LinkId,
    Listing => ListingId,
    Meeting => MeetingId,
    Opening => OpeningId,
    OwnDue => OwnDueId,
    Person => PersonId,
    Photo => PhotoId,
    Plate => PlateId,
    Print => PrintId,
    Procedure => ProcedureId,
    ProcedureVersion => ProcedureVersionId,
    Project => ProjectId,
    Proof => ProofId,
    PutDown => PutDownId,
    Refusal => RefusalId,
    Roll => RollId,
    RollEntry => RollEntryId,
    Score => ScoreId,
    SecondAccount => SecondAccountId,
    SecondLook => SecondLookId,
    SecondMarking => SecondMarkingId,
    Session => SessionId,
    SignOff => SignOffId,
    Sitting => SittingId,
    Station => StationId,
    StationDown => StationDownId,
    StepRun => StepRunId,
    Studio => StudioId,
    SubmittedGrade => SubmittedGradeId,
    Tablet => TabletId,
    Term => TermId,
    Topic => TopicId,
    TopicPoint => TopicPointId,
    TopicVersion => TopicVersionId,
    Weighing => WeighingId,
}

#[cfg(test)]
mod tests {
    use super::derived;

    #[test]
    fn a_derived_id_is_the_same_again_and_of_version_8() {
        assert_eq!(derived(&["a", "b"]), derived(&["a", "b"]));
        assert_ne!(derived(&["a", "b"]), derived(&["ab"]));
        assert_eq!(derived(&["a"]).as_bytes()[14], b'8');
    }
}
