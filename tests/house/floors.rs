//! Imports run only down the floors, and each floor sees only the crates it is meant to see.

use std::collections::BTreeSet;

use super::paths::paths;
use super::{Leaf, leaves, uphold};

/// The floor of each room of `src`. Rooms on one floor may see each other, but not both ways.
const FLOORS: [(&str, u8); 17] = [
    ("trade", 0),
    ("chance", 1),
    ("clock", 1),
    ("trouble", 1),
    ("settings", 1),
    ("secrets", 1),
    ("ids", 1),
    ("passwords", 1),
    ("speech", 1),
    ("paths", 1),
    ("store", 2),
    ("photos", 2),
    ("post", 3),
    ("exchange", 3),
    ("pages", 4),
    ("commands", 5),
    ("main", 5),
];

/// Crates that do work outside the program, show it to somebody, or differ from run to run: not for `trade`.
const NOT_FOR_TRADE: [&str; 18] = [
    "argon2",
    "clap",
    "diesel_migrations",
    "fast_image_resize",
    "fluent_bundle",
    "futures_util",
    "getrandom",
    "governor",
    "handlebars",
    "image",
    "jpeg_encoder",
    "lettre",
    "rusqlite",
    "tempfile",
    "tokio",
    "tracing",
    "ureq",
    "uuid",
];

/// What of the standard library and of chrono would make `trade` depend on more than its arguments.
const IMPURE: [&str; 9] = [
    "std::env",
    "std::fs",
    "std::net",
    "std::process",
    "std::thread",
    "std::time::Instant",
    "std::time::SystemTime",
    "std::io",
    "chrono::Local",
];

/// Crates of one room: who else names them goes round it.
const ONLY_FOR: [(&str, &str); 6] = [
    ("actix", "pages"), // any crate whose name begins so
    ("diesel", "store"),
    ("libsqlite3_sys", "store"),
    ("pq_sys", "store"),
    ("lettre", "post"),
    ("clap", "commands"),
];

/// Files outside the room that may name its crate all the same: who starts the server has to run it.
const ALL_THE_SAME: [(&str, &str); 2] =
    [("actix", "src/commands/serve.rs"), ("actix", "src/commands/demo.rs")];

/// The room a file of `src` stands in; `lib.rs` stands in none, it only lists them.
fn room(leaf: &Leaf) -> Option<&str> {
    match leaf.names().get(1).copied() {
        Some("lib") | None => None,
        found => found,
    }
}

fn floor(room: &str) -> Option<u8> {
    FLOORS.iter().find(|(name, _)| *name == room).map(|(_, floor)| *floor)
}

/// The room a path leads to from this file, whichever way it is written.
fn leads_to<'a>(leaf: &Leaf, segments: &'a [String]) -> Option<&'a str> {
    let first = segments.first()?.as_str();
    if first == "crate" || first == "tympan" {
        return segments.get(1).map(String::as_str);
    }
    let ups = segments.iter().take_while(|segment| *segment == "super").count();
    let depth = leaf.names().iter().skip(1).filter(|name| **name != "mod").count();
    (ups > 0 && ups >= depth).then(|| segments.get(ups).map(String::as_str)).flatten()
}

fn upward(leaves: &[Leaf]) -> Vec<String> {
    let mut found = Vec::new();
    for leaf in leaves {
        let Some(here) = room(leaf).and_then(floor) else { continue };
        for named in paths(&leaf.text) {
            let Some(there) = leads_to(leaf, &named.segments) else { continue };
            if floor(there).is_some_and(|there| there > here) {
                found.push(format!(
                    "{}:{}: floor {here} names {}",
                    leaf.path,
                    named.line,
                    named.segments.join("::")
                ));
            }
        }
    }
    found
}

fn both_ways(leaves: &[Leaf]) -> Vec<String> {
    let mut pairs = BTreeSet::new();
    for leaf in leaves {
        let Some(here) = room(leaf) else { continue };
        for named in paths(&leaf.text) {
            match leads_to(leaf, &named.segments) {
                Some(there) if there != here && floor(there).is_some() => {
                    pairs.insert((here.to_owned(), there.to_owned()))
                }
                _ => false,
            };
        }
    }
    let mutual = pairs.iter().filter(|(a, b)| a < b && pairs.contains(&(b.clone(), a.clone())));
    mutual.map(|(a, b)| format!("{a} and {b} name each other")).collect()
}

fn homeless(leaves: &[Leaf]) -> Vec<String> {
    let rooms: BTreeSet<&str> = leaves.iter().filter_map(room).filter(|room| floor(room).is_none()).collect();
    rooms
        .into_iter()
        .map(|room| format!("src/{room} is on no floor: give it one in tests/house/floors.rs"))
        .collect()
}

fn impure_trade(leaves: &[Leaf]) -> Vec<String> {
    let mut found = Vec::new();
    for leaf in leaves.iter().filter(|leaf| room(leaf) == Some("trade")) {
        for named in paths(&leaf.text) {
            let path = named.segments.join("::");
            let begins = |with: &&&str| path == **with || path.starts_with(&format!("{with}::"));
            let crate_name = named.segments.first().map_or("", String::as_str);
            let clock = matches!(named.segments.as_slice(), [.., zone, now] if zone == "Utc" && now == "now");
            if NOT_FOR_TRADE.contains(&crate_name) || IMPURE.iter().any(|impure| begins(&impure)) || clock {
                found.push(format!("{}:{}: {path}", leaf.path, named.line));
            }
        }
    }
    found
}

fn trespassing(leaves: &[Leaf]) -> Vec<String> {
    let mut found = Vec::new();
    for leaf in leaves {
        for named in paths(&leaf.text) {
            let first = named.segments.first().map_or("", String::as_str);
            for (name, owner) in ONLY_FOR {
                let theirs = first == name || first.starts_with(&format!("{name}_"));
                let welcome = room(leaf) == Some(owner) || ALL_THE_SAME.contains(&(name, leaf.path.as_str()));
                if theirs && !welcome {
                    found.push(format!("{}:{}: {first} belongs to src/{owner}", leaf.path, named.line));
                }
            }
        }
    }
    found
}

#[test]
fn every_room_has_a_floor() {
    uphold("A new room of src needs a floor.", &homeless(&leaves("src", &[".rs"])));
}

#[test]
fn imports_run_down_the_floors() {
    uphold(
        "A lower floor may not name a higher one: pass in what it needs.",
        &upward(&leaves("src", &[".rs"])),
    );
}

#[test]
fn no_two_rooms_name_each_other() {
    uphold(
        "Two rooms that name each other are one room, or one of them holds a part of the other.",
        &both_ways(&leaves("src", &[".rs"])),
    );
}

#[test]
fn trade_is_pure() {
    uphold(
        "trade takes values and gives values: no clock, no input or output, no ids, no chance.",
        &impure_trade(&leaves("src", &[".rs"])),
    );
}

#[test]
fn crates_stay_in_their_rooms() {
    uphold(
        "Some crates belong to one room, so that one place decides how they are used.",
        &trespassing(&leaves("src", &[".rs"])),
    );
}

#[cfg(test)]
mod on_broken_files {
    use super::*;

    fn of(path: &str, text: &str) -> [Leaf; 1] {
        [Leaf::new(path, text)]
    }

    #[test]
    fn an_upward_import_is_found_however_it_is_written() {
        for text in [
            "use crate::store::Db;",
            "use crate::{trade::etch, store::Db};",
            "fn f() { crate::store::now() }",
            "use super::super::store::Db;",
            "mod tests { use super::super::super::pages::doors; }",
            "use tympan::store::Db;",
        ] {
            assert_eq!(upward(&of("src/trade/etch.rs", text)).len(), 1, "{text}");
        }
        assert_eq!(upward(&of("src/trade/etch/mod.rs", "use super::super::store::Db;")).len(), 1);
        assert_eq!(upward(&of("src/clock.rs", "use super::store::Db;")).len(), 1);
        assert_eq!(
            upward(&of("src/post/mod.rs", "use crate::pages::render;")),
            ["src/post/mod.rs:1: floor 3 names crate::pages::render"]
        );
    }

    #[test]
    fn a_downward_import_and_a_mention_are_none() {
        for text in [
            "use crate::trade::etch;",
            "use super::people;",
            "// crate::pages",
            "let s = \"crate::pages\";",
            "use super::super::trade;",
        ] {
            assert_eq!(upward(&of("src/store/etches.rs", text)), [""; 0], "{text}");
        }
    }

    #[test]
    fn a_two_way_pair_is_found() {
        let leaves = [
            Leaf::new("src/store/a.rs", "use crate::photos::X;"),
            Leaf::new("src/photos.rs", "use crate::store::Y;"),
        ];
        assert_eq!(both_ways(&leaves), ["photos and store name each other"]);
        assert_eq!(both_ways(&leaves[..1]), [""; 0]);
    }

    #[test]
    fn a_room_without_a_floor_is_found() {
        assert_eq!(homeless(&of("src/cellar/mod.rs", "")).len(), 1);
        assert_eq!(homeless(&of("src/lib.rs", "")).len() + homeless(&of("src/main.rs", "")).len(), 0);
    }

    #[test]
    fn what_trade_may_not_see_is_found() {
        for text in [
            "use image::Rgb;",
            "#[tokio::test]",
            "use uuid::Uuid;",
            "use std::fs;",
            "use std::{fmt, time::SystemTime};",
            "let now = chrono::Utc::now();",
            "use chrono::Utc; fn f() { Utc::now(); }",
            "extern crate rusqlite;",
        ] {
            assert_eq!(impure_trade(&of("src/trade/tone.rs", text)).len(), 1, "{text}");
        }
        assert_eq!(
            impure_trade(&of(
                "src/trade/tone.rs",
                "use std::{fmt, time::Duration}; use chrono_tz::Tz; use num_rational::BigRational;"
            )),
            [""; 0]
        );
        assert_eq!(impure_trade(&of("src/photos/mod.rs", "use image::Rgb; use std::fs;")), [""; 0]);
    }

    #[test]
    fn a_crate_out_of_its_room_is_found() {
        for (path, text) in [
            ("src/pages/etches.rs", "use diesel::prelude::*;"),
            ("src/pages/etches.rs", "#[diesel(table_name = etches)]"),
            ("src/trade/etch.rs", "use diesel_migrations::embed_migrations;"),
            ("src/store/etches.rs", "use actix_web::web;"),
            ("src/commands/import.rs", "fn f(form: actix_multipart::Multipart) {}"),
            ("src/pages/letters.rs", "use lettre::Message;"),
        ] {
            assert_eq!(trespassing(&of(path, text)).len(), 1, "{path}: {text}");
        }
        assert_eq!(trespassing(&of("src/store/etches.rs", "use diesel::prelude::*;")), [""; 0]);
        assert_eq!(trespassing(&of("src/commands/serve.rs", "actix_web::rt::System::new();")), [""; 0]);
    }
}
