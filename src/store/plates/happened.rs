//! What happened to plates besides their runs: how they were put down, what an instructor allowed once, starts that were
//! refused, and whether another plate took their place. One statement for all of it, of one plate or of a whole class.

use std::collections::HashMap;

use diesel::Queryable;
use diesel::sql_types::{BigInt, Bool, Nullable, Text};

use crate::clock::Instant;
use crate::ids::{AllowanceId, PersonId, PlateId};
use crate::spelled;
use crate::store::connections::AnyConnection;
use crate::store::plates::folder::Which;
use crate::store::standing::Standing;
use crate::store::types::Word;
use crate::trade::procedure::flags::Refusal;
use crate::trade::procedure::{Allowance, PutDown};
use crate::trouble::Trouble;

/// What happened to one plate, in the order of time.
#[derive(Debug, Default)]
pub(super) struct Happened {
    pub put_downs: Vec<PutDown>,
    pub allowances: Vec<(Granted, Allowance)>,
    pub refusals: Vec<Refusal>,
    /// Another plate takes its place.
    pub replaced: bool,
}

/// What an instructor granted with an allowance: why, and who.
#[derive(Debug, Clone)]
pub struct Granted {
    pub id: AllowanceId,
    pub reason: String,
    pub by_name: String,
}

/// One part of the question, up to a value that a column of `plate` is compared with.
macro_rules! part {
    (allowed, $condition:literal) => {
        concat!(
            "SELECT 'allowed' AS kind, allowance.id AS id, plate.id AS plate_id, allowance.step_key AS step_key, \
             allowance.given_at AS at, allowance.used_at AS used_at, FALSE AS gummed, FALSE AS talc, \
             allowance.reason AS reason, giver.given_name || ' ' || giver.family_name AS by_name \
             FROM plate JOIN allowance ON allowance.plate_id = plate.id \
             JOIN person AS giver ON giver.id = allowance.given_by WHERE ",
            $condition
        )
    };
    (refused, $condition:literal) => {
        concat!(
            " UNION ALL SELECT 'refused', refusal.id, plate.id, refusal.step_key, refusal.at, NULL, FALSE, FALSE, \
             '', '' \
             FROM plate JOIN refusal ON refusal.plate_id = plate.id WHERE ",
            $condition
        )
    };
    (put_down, $condition:literal) => {
        concat!(
            " UNION ALL SELECT 'put-down', put_down.id, plate.id, '', put_down.at, NULL, put_down.gummed, \
             put_down.talc, '', '' FROM plate JOIN put_down ON put_down.plate_id = plate.id WHERE ",
            $condition
        )
    };
    // A plate is replaced within its print, and the print's few plates are found by an index however rare that is.
    (replaced, $condition:literal) => {
        concat!(
            " UNION ALL SELECT 'replaced', later.id, plate.id, '', later.created_at, NULL, FALSE, FALSE, \
             '', '' \
             FROM plate JOIN plate later ON later.print_id = plate.print_id AND later.replaces_id = plate.id WHERE ",
            $condition
        )
    };
}

/// The parts with one condition each, and after its value `$and`. Allowances and refusals know their class; what does not
/// is found through its plate.
macro_rules! asked {
    ($allowed:literal, $refused:literal, $others:literal) => {
        [
            part!(allowed, $allowed),
            part!(refused, $refused),
            part!(put_down, $others),
            part!(replaced, $others),
            " ORDER BY 5, 2",
        ]
    };
    ($allowed:literal, $refused:literal, $others:literal, $and:literal) => {
        [
            part!(allowed, $allowed),
            $and,
            part!(refused, $refused),
            $and,
            part!(put_down, $others),
            $and,
            part!(replaced, $others),
            $and,
            " ORDER BY 5, 2",
        ]
    };
}

const OF_PLATE: [&str; 5] = asked!("allowance.plate_id = ", "refusal.plate_id = ", "plate.id = ");
const OF_PRINT: [&str; 5] = asked!("plate.print_id = ", "plate.print_id = ", "plate.print_id = ");
const OF_CLASS: [&str; 5] = asked!("allowance.class_id = ", "refusal.class_id = ", "plate.class_id = ");
const OF_PERSON: [&str; 9] =
    asked!("allowance.class_id = ", "refusal.class_id = ", "plate.class_id = ", " AND plate.person_id = ");

spelled!(
    /// What a row tells.
    Kind { Allowed = "allowed", Refused = "refused", PutDown = "put-down", Replaced = "replaced" }
);

#[derive(Queryable)]
struct Row {
    kind: Word<Kind>,
    id: AllowanceId,
    plate_id: PlateId,
    step_key: String,
    at: Instant,
    used_at: Option<Instant>,
    gummed: bool,
    talc: bool,
    reason: String,
    by_name: String,
}

/// The columns of a row, in order.
type Columns = (Text, Text, Text, Text, BigInt, Nullable<BigInt>, Bool, Bool, Text, Text);

/// What happened to the plates meant, by plate; a print's owner is looked at elsewhere.
pub(super) fn of(
    db: &mut AnyConnection,
    which: Which,
    owner: Option<PersonId>,
) -> Result<HashMap<PlateId, Happened>, Trouble> {
    let rows: Vec<Row> = match (which, owner) {
        (Which::Plate(_, id), _) => {
            Standing::<Columns, _>::in_order(|| &OF_PLATE, &[id.as_str(); 4]).load(db)?
        }
        (Which::Print(_, id), _) => {
            Standing::<Columns, _>::in_order(|| &OF_PRINT, &[id.as_str(); 4]).load(db)?
        }
        (Which::Class(class), None) => {
            Standing::<Columns, _>::in_order(|| &OF_CLASS, &[class.as_str(); 4]).load(db)?
        }
        (Which::Class(class), Some(owner)) => {
            let (class, owner) = (class.as_str(), owner.as_str());
            Standing::<Columns, _>::in_order(
                || &OF_PERSON,
                &[class, owner, class, owner, class, owner, class, owner],
            )
            .load(db)?
        }
    };
    let mut found: HashMap<PlateId, Happened> = HashMap::new();
    for row in rows {
        let (happened, at) = (found.entry(row.plate_id).or_default(), row.at.utc());
        match row.kind.0 {
            Kind::Allowed => {
                let used = row.used_at.map(Instant::utc);
                let granted = Granted { id: row.id, reason: row.reason, by_name: row.by_name };
                happened.allowances.push((granted, Allowance { step: row.step_key, given: at, used }));
            }
            Kind::Refused => happened.refusals.push(Refusal { step: row.step_key, at }),
            Kind::PutDown => happened.put_downs.push(PutDown { at, gummed: row.gummed, talc: row.talc }),
            Kind::Replaced => happened.replaced = true,
        }
    }
    Ok(found)
}
