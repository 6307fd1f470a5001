//! What a second phone told of a run that was told already: kept beside the first account, so that nothing that was seen
//! at a table is lost. Where both say the same there is nothing to keep.

use diesel::prelude::*;
use diesel::sql_types::{BigInt, Bool, Integer, Nullable, Text};
use serde_json::json;

use crate::clock::Instant;
use crate::ids::{PlateId, SecondAccountId, StepRunId};
use crate::store::connections::AnyConnection;
use crate::store::etches::entries::{ENTRY, Entry};
use crate::store::etches::mixture::Draft;
use crate::store::plates::folder::Run;
use crate::store::plates::runs::At;
use crate::store::schema::{etch, etch_application, second_account};
use crate::store::sittings::entries::{Says, TableEntry, planned_text};
use crate::store::standing::Standing;
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::etch::logged::Kind;
use crate::trouble::Trouble;

/// A second account of a run.
#[derive(Debug, Clone, QueryableByName)]
pub struct Account {
    #[diesel(sql_type = Text, column_name = step_run_id)]
    pub run: StepRunId,
    #[diesel(sql_type = Text)]
    pub given_name: String,
    #[diesel(sql_type = Text)]
    pub family_name: String,
    #[diesel(sql_type = BigInt)]
    pub began_at: Instant,
    #[diesel(sql_type = BigInt)]
    pub ended_at: Instant,
    #[diesel(sql_type = BigInt)]
    pub received_at: Instant,
    #[diesel(sql_type = Bool)]
    pub left_off: bool,
    #[diesel(sql_type = Bool)]
    pub clock_doubtful: bool,
    #[diesel(sql_type = Text)]
    pub in_room: String,
    #[diesel(sql_type = Nullable<Integer>)]
    pub sheets: Option<i32>,
    #[diesel(sql_type = Text)]
    pub note: String,
    #[diesel(sql_type = Nullable<Text>)]
    pub recipe: Option<Word<Kind>>,
    /// The marks on the labels of what it names.
    #[diesel(sql_type = Nullable<Text>)]
    pub gum: Option<String>,
    #[diesel(sql_type = Nullable<BigInt>)]
    pub gum_microlitres: Option<i64>,
    #[diesel(sql_type = Nullable<Text>)]
    pub acid: Option<String>,
    #[diesel(sql_type = Nullable<Integer>)]
    pub drops: Option<i32>,
    #[diesel(sql_type = Nullable<Text>)]
    pub stock: Option<String>,
    #[diesel(sql_type = Nullable<BigInt>)]
    pub stock_microlitres: Option<i64>,
    #[diesel(sql_type = Nullable<Integer>)]
    pub measured_ph_hundredths: Option<i32>,
    #[diesel(sql_type = Text)]
    pub application_seconds: String,
    #[diesel(sql_type = Text)]
    pub tool: String,
    #[diesel(sql_type = Text)]
    pub helper: String,
    #[diesel(sql_type = Text)]
    pub seen: String,
}

const OF_PLATE: [&str; 2] = [
    "SELECT a.step_run_id, p.given_name, p.family_name, a.began_at, a.ended_at, a.received_at, a.left_off, \
     a.clock_doubtful, a.in_room, a.sheets, a.note, a.recipe, a.gum_microlitres, a.drops, a.stock_microlitres, \
     a.measured_ph_hundredths, a.application_seconds, a.tool, a.helper, a.seen, \
     g.letter || CAST(g.number AS TEXT) AS gum, c.letter || CAST(c.number AS TEXT) AS acid, \
     s.letter || CAST(s.number AS TEXT) AS stock FROM second_account a JOIN person p ON p.id = a.by_id \
     LEFT JOIN container g ON g.id = a.gum_id LEFT JOIN container c ON c.id = a.acid_id \
     LEFT JOIN container s ON s.id = a.stock_id WHERE a.plate_id = ",
    " ORDER BY a.received_at, a.id",
];

/// The second accounts of a plate that may be seen, in the order in which they came in.
///
/// # Errors
/// The database cannot be read.
pub fn of_plate(db: &mut AnyConnection, plate: PlateId) -> Result<Vec<Account>, Trouble> {
    Ok(Standing::asking(|| &OF_PLATE, &[plate.as_str()]).load(db)?)
}

impl Tx<'_> {
    /// Keeps what an entry says of a run that had ended, unless the record says it already. Without a log of the run
    /// the etch told now becomes its log, and is no second account.
    pub(super) fn keep_second_account(
        &mut self,
        at: &At,
        run: &Run,
        entry: &TableEntry,
        logged: bool,
    ) -> Result<(), Trouble> {
        let (began, Some(ended)) = entry.put_right(self.now) else { return Ok(()) };
        let etch = entry.etch.as_ref().filter(|_| logged);
        let more = says_more(run, entry) || etch.map_or(Ok(false), |draft| self.differs(run.id, draft))?;
        if !more {
            return Ok(());
        }
        let draft = match etch {
            Some(draft) => {
                self.containers_of(at, draft)?;
                draft.clone()
            }
            None => Draft::nothing(),
        };
        let id: SecondAccountId = self.id();
        diesel::insert_into(second_account::table)
            .values((
                (second_account::id.eq(id), second_account::class_id.eq(at.class)),
                (second_account::plate_id.eq(at.plate), second_account::step_run_id.eq(run.id)),
                (second_account::by_id.eq(self.person()?), second_account::received_at.eq(self.now)),
                (second_account::began_at.eq(began.at), second_account::ended_at.eq(ended.at)),
                second_account::left_off.eq(entry.says == Says::LeftOff),
                second_account::clock_doubtful.eq(began.doubtful || ended.doubtful),
                (second_account::in_room.eq(&entry.in_room), second_account::sheets.eq(entry.sheets)),
                second_account::note.eq(&entry.note),
                second_account::recipe.eq(etch.map(|draft| Word(draft.recipe))),
                (second_account::gum_id.eq(draft.gum), second_account::acid_id.eq(draft.acid)),
                second_account::gum_microlitres.eq(draft.gum_microlitres),
                (second_account::drops.eq(draft.drops), second_account::stock_id.eq(draft.stock)),
                second_account::stock_microlitres.eq(draft.stock_microlitres),
                second_account::measured_ph_hundredths.eq(draft.measured_ph_hundredths),
                second_account::application_seconds.eq(planned_text(&draft.applications)),
                (second_account::tool.eq(&draft.tool), second_account::helper.eq(&draft.helper)),
                second_account::seen.eq(&draft.seen),
            ))
            .execute(self.connection)?;
        self.journal("table.second-account", id, &json!({ "plate": at.plate, "run": run.id }))
    }

    /// Whether the log of a run says something else than a draft.
    fn differs(&mut self, run: StepRunId, draft: &Draft) -> Result<bool, Trouble> {
        let stands: Option<Entry> = etch::table
            .filter(etch::step_run_id.eq(run).and(etch::superseded_at.is_null()))
            .order((etch::received_at, etch::id))
            .select(ENTRY)
            .first(self.connection)
            .optional()?;
        let Some(log) = stands else { return Ok(true) };
        let applications: Vec<i32> = etch_application::table
            .filter(etch_application::etch_id.eq(log.id))
            .order(etch_application::position)
            .select(etch_application::seconds)
            .load(self.connection)?;
        let poured = &log.poured;
        let same_mixture = poured.recipe.0 == draft.recipe
            && (poured.gum, poured.acid, poured.stock) == (draft.gum, draft.acid, draft.stock)
            && (poured.gum_microlitres, poured.drops, poured.stock_microlitres)
                == (draft.gum_microlitres, draft.drops, draft.stock_microlitres);
        let adds = |told: &str, known: &str| !told.is_empty() && told != known;
        let new_ph = draft.measured_ph_hundredths.is_some_and(|ph| poured.measured_ph_hundredths != Some(ph));
        Ok(!same_mixture
            || applications != draft.applications
            || new_ph
            || adds(&draft.tool, &log.tool)
            || adds(&draft.helper, &log.helper)
            || adds(&draft.seen, &log.seen))
    }
}

/// Whether an entry tells of a run what is not in its row.
fn says_more(run: &Run, entry: &TableEntry) -> bool {
    let adds = |told: &str, known: &str| !told.is_empty() && told != known;
    adds(&entry.note, &run.note)
        || adds(&entry.in_room, &run.in_room)
        || entry.sheets.is_some_and(|sheets| run.sheets != Some(sheets))
        || (entry.says == Says::LeftOff && !run.outside_rules.split(',').any(|rule| rule == "left_off"))
}
