//! Both databases take the same steps under the same names.

use std::collections::BTreeSet;

use super::{Leaf, leaves, uphold};

/// Folder and file of each SQL file below `root`: `2026-11-25-000000_found_school/up.sql`.
fn steps<'a>(leaves: &'a [Leaf], root: &str) -> BTreeSet<&'a str> {
    leaves.iter().filter_map(|leaf| leaf.path.strip_prefix(root)?.strip_prefix('/')).collect()
}

fn unlike(sqlite: &[Leaf], postgres: &[Leaf]) -> Vec<String> {
    let (left, right) = (steps(sqlite, "migrations/sqlite"), steps(postgres, "migrations/postgres"));
    let only = |these: &BTreeSet<&str>, those: &BTreeSet<&str>, at: &str| -> Vec<String> {
        these.difference(those).map(|step| format!("{step} is in migrations/{at} only")).collect()
    };
    [only(&left, &right, "sqlite"), only(&right, &left, "postgres")].concat()
}

/// A step is named `YYYY-MM-DD-HHMMSS_verb_noun`, holds `up.sql`, and no file in it is blank.
fn misshapen(leaves: &[Leaf]) -> Vec<String> {
    let mut found = Vec::new();
    let mut folders = BTreeSet::new();
    for leaf in leaves {
        let (folder, _) = leaf.path.rsplit_once('/').unwrap_or_default();
        folders.insert(folder);
        if leaf.text.trim().is_empty() {
            found.push(format!("{} is blank", leaf.path));
        }
    }
    for folder in folders {
        let name = folder.rsplit('/').next().unwrap_or_default();
        let shape: String =
            name.chars().map(|letter| if letter.is_ascii_digit() { '0' } else { letter }).collect();
        let words = shape.strip_prefix("0000-00-00-000000_").unwrap_or_default();
        if words.split('_').count() < 2
            || !words.chars().all(|letter| letter.is_ascii_lowercase() || letter == '_')
        {
            found.push(format!("{folder} is not named YYYY-MM-DD-HHMMSS_verb_noun"));
        }
        if !leaves.iter().any(|leaf| leaf.path == format!("{folder}/up.sql")) {
            found.push(format!("{folder} has no up.sql"));
        }
    }
    found
}

#[test]
fn both_databases_take_the_same_steps() {
    let found = unlike(&leaves("migrations/sqlite", &[".sql"]), &leaves("migrations/postgres", &[".sql"]));
    uphold("A migration is written for both databases under one name.", &found);
}

#[test]
fn every_step_is_whole() {
    uphold(
        "A migration step has a name that says what it does, and an up.sql.",
        &misshapen(&leaves("migrations", &[".sql"])),
    );
}

mod on_broken_files {
    use super::*;

    #[test]
    fn a_step_of_one_database_only_is_found() {
        let sqlite = [Leaf::new("migrations/sqlite/2026-01-01-000000_found_school/up.sql", "")];
        let postgres = [Leaf::new("migrations/postgres/2026-01-01-000000_found-school/up.sql", "")];
        assert_eq!(unlike(&sqlite, &postgres).len(), 2);
        assert_eq!(unlike(&sqlite, &[]).len(), 1);
        let same = [Leaf::new("migrations/postgres/2026-01-01-000000_found_school/up.sql", "")];
        assert_eq!(unlike(&sqlite, &same), [""; 0]);
    }

    #[test]
    fn a_misshapen_step_is_found() {
        for (path, text) in [
            ("migrations/sqlite/2026-01-01-000000_found-school/up.sql", "SELECT 1;"),
            ("migrations/sqlite/0001_found_school/up.sql", "SELECT 1;"),
            ("migrations/sqlite/2026-01-01-000000_school/up.sql", "SELECT 1;"),
            ("migrations/sqlite/2026-01-01-000000_found_school/down.sql", "SELECT 1;"),
            ("migrations/sqlite/2026-01-01-000000_found_school/up.sql", "\n"),
        ] {
            assert_eq!(misshapen(&[Leaf::new(path, text)]).len(), 1, "{path}");
        }
        assert_eq!(
            misshapen(&[Leaf::new("migrations/postgres/2026-01-01-000000_found_school/up.sql", "SELECT 1;")]),
            [""; 0]
        );
    }
}
