//! Everything that can go wrong, as one enum of nouns without HTTP in it; `pages/answer` turns it into a response.

use crate::trade::remark::Remark;

/// What is wrong with one field of what a person typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Complaint {
    /// The field's name in the form; empty for the form as a whole.
    pub field: String,
    pub remark: Remark,
}

impl Complaint {
    #[must_use]
    pub fn new(field: impl Into<String>, remark: Remark) -> Self {
        Self { field: field.into(), remark }
    }
}

/// Why something asked for did not happen.
#[derive(Debug)]
pub enum Trouble {
    /// It is not there, or not for this person to know that it is.
    NotFound,
    /// Nobody is signed in, and this page needs somebody.
    SignInFirst,
    /// The password must be asked again before this.
    ConfirmFirst,
    /// Signed in, the thing is known to exist, but this role may not do that.
    NotYours,
    /// The form carries no valid seal of this session: it came from elsewhere or is too old.
    Unsealed,
    /// What was typed cannot be used; one complaint per field.
    Complaints(Vec<Complaint>),
    /// A rule refuses this now; the remark says what to do.
    Refused(Remark),
    /// Somebody else saved the same record meanwhile.
    Stale(Remark),
    /// The same key was used before for something else.
    OnceClash,
    /// A UNIQUE rule of the database was hit; the act that knows which one says so instead.
    Taken,
    /// A reference of the database was refused: something that was named is not there.
    Missing,
    /// Larger than allowed.
    TooLarge(Remark),
    /// Too many tries; again after so many seconds.
    TooMany { seconds: u64 },
    /// All places are taken for the moment.
    Busy,
    /// Something inside broke. The cause is for the log, never for the page.
    Broken { doing: &'static str, cause: String },
}

impl Trouble {
    pub fn broken(doing: &'static str, cause: impl std::fmt::Display) -> Self {
        Self::Broken { doing, cause: cause.to_string() }
    }

    /// One complaint about one field.
    #[must_use]
    pub fn about(field: impl Into<String>, remark: Remark) -> Self {
        Self::Complaints(vec![Complaint::new(field, remark)])
    }
}

impl std::fmt::Display for Trouble {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Broken { doing, cause } => write!(f, "{doing}: {cause}"),
            other => write!(f, "{other:?}"),
        }
    }
}

impl std::error::Error for Trouble {}
