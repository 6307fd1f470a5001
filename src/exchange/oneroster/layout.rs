//! The files and columns of the OneRoster 1.2 CSV binding that we write or read, as one table: writer and reader follow it.
//! Source: 1EdTech OneRoster CSV Binding 1.2.1 (22 August 2023). “Follows the 1.2 CSV binding” is all that is claimed.

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holds {
    /// 1 to 255 of letters, digits and `. - _ / @`.
    Guid,
    Text,
    /// `YYYY-MM-DD`.
    Date,
    /// `YYYY`.
    Year,
    /// `true` or `false`.
    YesNo,
    /// A whole number.
    Integer,
    /// A decimal number.
    Float,
    /// Guids, joined by commas.
    Guids,
    /// One of these, or `ext:` and a word where the standard lets others in.
    Word(&'static [&'static str]),
}

/// A column.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    pub name: &'static str,
    pub required: bool,
    pub holds: Holds,
    /// The file in which the id stands that this column names.
    pub names: Option<&'static str>,
}

const fn must(name: &'static str, holds: Holds) -> Column {
    Column { name, required: true, holds, names: None }
}

const fn may(name: &'static str, holds: Holds) -> Column {
    Column { name, required: false, holds, names: None }
}

impl Column {
    const fn of(mut self, file: &'static str) -> Self {
        self.names = Some(file);
        self
    }
}

/// A file.
#[derive(Debug, Clone, Copy)]
pub struct File {
    pub name: &'static str,
    /// What follows the three columns that every file begins with.
    pub columns: &'static [Column],
}

/// The columns that every file begins with; in bulk the second and third are empty.
pub const FIRST: [&str; 3] = ["sourcedId", "status", "dateLastModified"];

use Holds::{Date, Float, Guid, Guids, Integer, Text, Word, Year, YesNo};

const ORG_TYPES: &[&str] = &["department", "school", "district", "local", "state", "national"];
const SESSION_TYPES: &[&str] = &["gradingPeriod", "semester", "schoolYear", "term"];
const ROLES: &[&str] = &[
    "aide",
    "counselor",
    "districtAdministrator",
    "guardian",
    "parent",
    "principal",
    "proctor",
    "relative",
    "siteAdministrator",
    "student",
    "systemAdministrator",
    "teacher",
];
const ENROLLED_AS: &[&str] = &["administrator", "proctor", "student", "teacher"];
const SCORE_STATUS: &[&str] = &["exempt", "fully graded", "not submitted", "partially graded", "submitted"];

/// The files we write, and read from others.
pub const FILES: &[File] = &[
    File {
        name: "academicSessions",
        columns: &[
            must("title", Text),
            must("type", Word(SESSION_TYPES)),
            must("startDate", Date),
            must("endDate", Date),
            may("parentSourcedId", Guid).of("academicSessions"),
            must("schoolYear", Year),
        ],
    },
    File { name: "categories", columns: &[must("title", Text), may("weight", Integer)] },
    File {
        name: "classes",
        columns: &[
            must("title", Text),
            may("grades", Text),
            must("courseSourcedId", Guid).of("courses"),
            may("classCode", Text),
            must("classType", Word(&["homeroom", "scheduled"])),
            may("location", Text),
            must("schoolSourcedId", Guid).of("orgs"),
            must("termSourcedIds", Guids).of("academicSessions"),
            may("subjects", Text),
            may("subjectCodes", Text),
            may("periods", Text),
        ],
    },
    File {
        name: "courses",
        columns: &[
            may("schoolYearSourcedId", Guid).of("academicSessions"),
            must("title", Text),
            may("courseCode", Text),
            may("grades", Text),
            must("orgSourcedId", Guid).of("orgs"),
            may("subjects", Text),
            may("subjectCodes", Text),
        ],
    },
    File {
        name: "enrollments",
        columns: &[
            must("classSourcedId", Guid).of("classes"),
            must("schoolSourcedId", Guid).of("orgs"),
            must("userSourcedId", Guid).of("users"),
            must("role", Word(ENROLLED_AS)),
            may("primary", YesNo),
            may("beginDate", Date),
            may("endDate", Date),
        ],
    },
    File {
        name: "lineItems",
        columns: &[
            must("title", Text),
            may("description", Text),
            must("assignDate", Date),
            must("dueDate", Date),
            must("classSourcedId", Guid).of("classes"),
            must("categorySourcedId", Guid).of("categories"),
            must("academicSessionSourcedId", Guid).of("academicSessions"),
            may("resultValueMin", Float),
            may("resultValueMax", Float),
            must("schoolSourcedId", Guid).of("orgs"),
        ],
    },
    File {
        name: "orgs",
        columns: &[
            must("name", Text),
            must("type", Word(ORG_TYPES)),
            may("identifier", Text),
            may("parentSourcedId", Guid).of("orgs"),
        ],
    },
    File {
        name: "results",
        columns: &[
            must("lineItemSourcedId", Guid).of("lineItems"),
            must("studentSourcedId", Guid).of("users"),
            must("scoreStatus", Word(SCORE_STATUS)),
            may("score", Float),
            must("scoreDate", Date),
            may("comment", Text),
            may("textScore", Text),
            may("classSourcedId", Guid).of("classes"),
            may("inProgress", YesNo),
            may("incomplete", YesNo),
            may("late", YesNo),
            may("missing", YesNo),
        ],
    },
    File {
        name: "roles",
        columns: &[
            must("userSourcedId", Guid).of("users"),
            must("roleType", Word(&["primary", "secondary"])),
            must("role", Word(ROLES)),
            may("beginDate", Date),
            may("endDate", Date),
            must("orgSourcedId", Guid).of("orgs"),
            may("userProfileSourcedId", Guid),
        ],
    },
    File {
        name: "users",
        columns: &[
            must("enabledUser", YesNo),
            must("username", Text),
            may("userIds", Text),
            must("givenName", Text),
            must("familyName", Text),
            may("middleName", Text),
            may("identifier", Text),
            may("email", Text),
            may("sms", Text),
            may("phone", Text),
            may("agentSourcedIds", Guids).of("users"),
            may("grades", Text),
            may("password", Text),
            may("userMasterIdentifier", Text),
            may("preferredGivenName", Text),
            may("preferredMiddleName", Text),
            may("preferredFamilyName", Text),
            may("primaryOrgSourcedId", Guid).of("orgs"),
            may("pronouns", Text),
        ],
    },
];

/// Files of the standard that we neither write nor read.
pub const OTHERS: [&str; 11] = [
    "classResources",
    "courseResources",
    "demographics",
    "lineItemLearningObjectiveIds",
    "lineItemScoreScales",
    "resources",
    "resultLearningObjectiveIds",
    "resultScoreScales",
    "scoreScales",
    "userProfiles",
    "userResources",
];

/// Whether a word is an id of the standard.
#[must_use]
pub fn is_guid(text: &str) -> bool {
    (1..=255).contains(&text.len())
        && text.bytes().all(|byte| byte.is_ascii_alphanumeric() || b".-_/@".contains(&byte))
}
