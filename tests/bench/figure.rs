//! The figures: each has a name, a goal and a way to be taken. A new one is a file in `figures` and a line in the table.

use crate::figures::{etch, export, pages, photo, planning, records, reminders, roster, sign_in};
use crate::options::Options;
use crate::school::Engine;

/// What a figure is measured by.
#[derive(Debug, Clone, Copy)]
pub enum Goal {
    /// Work in the same time, as a part of the floor's: the median must be at least this.
    PartOfFloor(f64),
    /// Time, as so many times the floor's: the median must be at most this.
    TimesFloor(f64),
    /// Milliseconds: the median must be at most this.
    Milliseconds(f64),
}

impl Goal {
    pub fn is_met(self, median: f64) -> bool {
        match self {
            Self::PartOfFloor(least) => median >= least,
            Self::TimesFloor(most) | Self::Milliseconds(most) => median <= most,
        }
    }

    pub fn words(self) -> String {
        match self {
            Self::PartOfFloor(least) => format!("at least {least} of the floor"),
            Self::TimesFloor(most) => format!("at most {most} × the floor's time"),
            Self::Milliseconds(most) => format!("at most {most} ms"),
        }
    }
}

/// One figure.
pub struct Figure {
    pub name: &'static str,
    pub floor: &'static str,
    pub goal: Goal,
    /// The goal on PostgreSQL where it is another.
    pub on_postgres: Option<Goal>,
    pub take: fn(&Bench) -> Result<Taken, String>,
}

/// What was found.
#[derive(Debug, Clone)]
pub struct Taken {
    /// One value for each pair or run, in the goal's measure.
    pub values: Vec<f64>,
    /// The medians behind them, in words: “6,120 requests/s; floor 6,700”.
    pub levels: String,
    /// Anything a reader should know.
    pub notes: Vec<String>,
}

/// What every figure gets.
#[derive(Debug)]
pub struct Bench {
    pub options: Options,
    pub engine: Engine,
}

const BARE: &str =
    "bare actix, diesel and handlebars: the same statements, the same template, the view ready made";

pub const FIGURES: &[Figure] = &[
    Figure {
        name: "today",
        floor: BARE,
        goal: Goal::PartOfFloor(0.8),
        on_postgres: None,
        take: pages::today,
    },
    Figure {
        name: "class",
        floor: BARE,
        goal: Goal::PartOfFloor(0.7),
        on_postgres: None,
        take: pages::class,
    },
    Figure {
        name: "plate",
        floor: BARE,
        goal: Goal::PartOfFloor(0.8),
        on_postgres: None,
        take: pages::plate,
    },
    Figure {
        name: "today in a university",
        floor: "the same page in a school of one class",
        goal: Goal::PartOfFloor(0.9),
        on_postgres: None,
        take: pages::university,
    },
    Figure {
        name: "sign-in",
        floor: "the password checked through the same two permits",
        goal: Goal::PartOfFloor(0.85),
        on_postgres: None,
        take: sign_in::take,
    },
    Figure {
        name: "record an etch",
        floor: "a bare POST that writes the same rows in one transaction",
        goal: Goal::PartOfFloor(0.5),
        on_postgres: Some(Goal::PartOfFloor(0.45)),
        take: etch::take,
    },
    Figure {
        name: "class plan",
        floor: "none: one look at the plan of 72 plates",
        goal: Goal::Milliseconds(50.0),
        on_postgres: None,
        take: pages::class_plan,
    },
    Figure {
        name: "export",
        floor: "the database's own program writing the same question as CSV",
        goal: Goal::TimesFloor(1.6),
        on_postgres: Some(Goal::TimesFloor(2.0)),
        take: export::take,
    },
    Figure {
        name: "photo",
        floor: "vipsthumbnail, one thread, making the two smaller sizes",
        goal: Goal::TimesFloor(1.2),
        on_postgres: None,
        take: photo::take,
    },
    Figure {
        name: "roster",
        floor: "the rows an import of 10,000 people wrote, inserted again in one transaction",
        goal: Goal::TimesFloor(2.0),
        on_postgres: None,
        take: roster::take,
    },
    Figure {
        name: "planning",
        floor: "none: 1,000 plates of 11 steps over 16 weeks",
        goal: Goal::Milliseconds(50.0),
        on_postgres: None,
        take: planning::take,
    },
    Figure {
        name: "reminders",
        floor: "none: one pass over 10,000 plates",
        goal: Goal::Milliseconds(2000.0),
        on_postgres: None,
        take: reminders::take,
    },
    Figure {
        name: "final grades",
        floor: "none: 10,000 students",
        goal: Goal::Milliseconds(1000.0),
        on_postgres: None,
        take: records::grades,
    },
    Figure {
        name: "archive",
        floor: "Python's zipfile stored and sha256 of the same files",
        goal: Goal::TimesFloor(1.5),
        on_postgres: None,
        take: records::archive,
    },
];
