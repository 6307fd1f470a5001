//! A photo plate, written by an instructor as data alone: other steps, other words, other rules.

use super::*;

const PHOTO_PLATE: &str = r#"{
  "name": "Photo plate from film",
  "surface": "plate",
  "gum_limit_minutes": 20160,
  "steps": [
    { "key": "film", "title": "Make the film", "minutes": { "fixed": 60 }, "where": "anywhere", "may_split": true },
    { "key": "expose", "title": "Expose", "minutes": { "fixed": 20 }, "where": { "station": "exposure unit" },
      "after": ["film"], "sign_offs": [{ "topic": "exposure", "grade": "watched" }], "leaves": "drawn",
      "needs": [{ "rule": "once", "because": "The coating takes one exposure; begin another plate instead." }] },
    { "key": "develop", "title": "Develop", "minutes": { "fixed": 15 }, "where": { "station": "graining sink" },
      "after": ["expose"], "leaves": "under_gum", "gums": true, "counts_as": ["closed"], "shows_etch": false,
      "rest": { "since": ["expose"], "maximum": { "same_day": { "met_by_talc_and_gum": false } } } },
    { "key": "proof", "title": "Proof", "minutes": { "fixed": 60 }, "where": { "station": "press" }, "after": ["develop"],
      "records": "proof", "leaves": "pulled", "takes_gum_off": true, "sign_offs": [{ "topic": "press", "grade": "watched" }],
      "rest": { "maximum": "under_gum" },
      "needs": [{ "rule": "requires_since", "of": ["gummed"], "since": ["pin-out"], "because": "A rubbed spot takes ink." }] },
    { "key": "edition", "title": "Edition", "minutes": { "fixed": 45, "per_sheet": 4 }, "where": { "station": "press" },
      "after": ["proof"], "records": "sheets", "leaves": "pulled", "takes_gum_off": true },
    { "key": "number", "title": "Number", "minutes": { "fixed": 30 }, "where": "anywhere", "after": ["edition"],
      "rest": { "minimum": 1440 }, "records": "sheets", "numbers_edition": true }
  ],
  "any_time": [
    { "key": "pin-out", "title": "Take out pinholes and specks", "minutes": { "fixed": 15 }, "where": "anywhere",
      "needs": [{ "rule": "after_any_of", "of": ["closed"] }] },
    { "key": "gum", "title": "Gum", "minutes": { "fixed": 5 }, "where": "anywhere", "gums": true, "never_waits": true,
      "leaves": "under_gum" },
    { "key": "bin", "title": "Give up", "minutes": { "fixed": 5 }, "where": "anywhere", "leaves": "scrapped",
      "then_only": [] }
  ]
}"#;

fn fresh() -> Tale {
    let mut tale = Tale::of(Procedure::from_json(PHOTO_PLATE).unwrap());
    tale.sign_offs.push(Held { topic: "exposure".to_owned(), ..tale.sign_offs[0].clone() });
    tale
}

#[test]
fn it_is_sound_and_comes_back_from_storage_as_it_was() {
    let procedure = fresh().procedure;
    assert_eq!(check(&procedure, &["press", "exposure"]), []);
    let stored = serde_json::to_string(&*procedure).unwrap();
    assert_eq!(Procedure::from_json(&stored).unwrap(), *procedure);
}

#[test]
fn its_own_rules_are_kept() {
    let tale = fresh().told("film", "2026-10-12 09:00", "2026-10-12 10:00").told(
        "expose",
        "2026-10-12 10:10",
        "2026-10-12 10:30",
    );
    assert_eq!(tale.refused("expose", "2026-10-12 11:00"), ["once"]);
    assert_eq!(tale.refused("pin-out", "2026-10-12 11:00"), ["after_any_of"]);
    assert_eq!(tale.warned("develop", "2026-10-12 11:00"), [WarningName::SameDayEnds]);
    let tale = tale.told("develop", "2026-10-12 11:00", "2026-10-12 11:15").told(
        "pin-out",
        "2026-10-12 11:30",
        "2026-10-12 11:45",
    );
    assert_eq!(tale.refused("proof", "2026-10-12 12:00"), ["requires_since"]);
    // Any gumming answers; developing again would too, but gum is the step that is there for it.
    assert_eq!(tale.to_do("2026-10-12 12:00"), ["develop", "proof", "edition", "number"]);
    let tale = tale.put_down("2026-10-12 12:00", false);
    assert_eq!(tale.to_do("2026-10-12 12:30"), ["proof", "edition", "number"]);
    let tale = tale.told("proof", "2026-10-13 09:00", "2026-10-13 10:00").told(
        "edition",
        "2026-10-13 10:10",
        "2026-10-13 12:00",
    );
    assert_eq!(tale.refused("number", "2026-10-14 11:59"), ["rest"]);
    let tale = tale.told("number", "2026-10-14 12:00", "2026-10-14 12:30");
    assert!(tale.history.entries.iter().all(|entry| entry.outside.is_empty()));
    assert!(tale.outlook("2026-10-14 13:00").finished);
}

#[test]
fn given_up_it_can_go_no_further() {
    let tale = fresh().told("film", "2026-10-12 09:00", "2026-10-12 10:00").told(
        "bin",
        "2026-10-12 10:10",
        "2026-10-12 10:15",
    );
    for step in tale.procedure.all() {
        assert!(tale.refused(&step.key, "2026-10-12 11:00").contains(&"ended"), "{}", step.key);
    }
    assert!(tale.to_do("2026-10-12 11:00").is_empty());
}
