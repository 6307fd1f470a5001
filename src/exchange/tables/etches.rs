//! `etches`: the etch logs that stand, with what was mixed, what that comes to and how it came up. What was measured and
//! what is estimated stand in columns of their own.

use std::borrow::Cow;
use std::collections::HashMap;
use std::io::Write;

use super::{
    FAMILY_NAME, GIVEN_NAME, LISTING_CODE, LISTING_SECTION, PERSON_ID, PLATE_ID, PRINT, STUDENT_NUMBER,
    maybe, maybe_places, moment, number, person, put, rounded, word,
};
use crate::exchange::spreadsheet::{Cell, Column, Holds, Sheet};
use crate::ids::ContainerId;
use crate::store::AnyConnection;
use crate::store::etches::entries::Poured;
use crate::store::exports::Of;
use crate::store::exports::etches::{self, EtchRow, WholeEtch};
use crate::store::plates::folder::KnownHow;
use crate::trade::etch::EtchPh;
use crate::trade::etch::logged::{Kind, Mix};
use crate::trade::measure::Unit;
use crate::trade::measure::acid::AcidKind;
use crate::trade::procedure::RuleName;
use crate::trouble::Trouble;

pub(super) const COLUMNS: &[Column] = &[
    Column::new("etch_id", Holds::Text, "exports-column-etch-id"),
    Column::new("first_entry_id", Holds::Text, "exports-column-first-entry-id"),
    PLATE_ID,
    PERSON_ID,
    GIVEN_NAME,
    FAMILY_NAME,
    STUDENT_NUMBER,
    LISTING_CODE,
    LISTING_SECTION,
    Column::new("plate_number", Holds::Number, "exports-column-plate-number"),
    PRINT,
    Column::new("step", Holds::Text, "exports-column-step"),
    Column::new("etched_at", Holds::Instant, "exports-column-etched-at"),
    Column::new("received_at", Holds::Instant, "exports-column-received-at"),
    Column::new("recorded_by_id", Holds::Text, "exports-column-recorded-by-id"),
    Column::new("known_how", Holds::Text, "exports-column-known-how").one_of::<KnownHow>(),
    Column::new("mixture", Holds::Text, "exports-column-mixture").one_of::<Kind>(),
    Column::new("gum_mark", Holds::Text, "exports-column-gum-mark"),
    Column::new("gum_ml", Holds::Number, "exports-column-gum-ml").unit("mL"),
    Column::new("gum_told_in", Holds::Text, "exports-column-gum-told-in").one_of::<Unit>(),
    Column::new("gum_baume", Holds::Number, "exports-column-gum-baume").unit("°Bé"),
    Column::new("gum_ph", Holds::Number, "exports-column-gum-ph").unit("pH"),
    Column::new("gum_sour", Holds::YesNo, "exports-column-gum-sour"),
    Column::new("stock_mark", Holds::Text, "exports-column-stock-mark"),
    Column::new("stock_ml", Holds::Number, "exports-column-stock-ml").unit("mL"),
    Column::new("acid_mark", Holds::Text, "exports-column-acid-mark"),
    Column::new("acid_kind", Holds::Text, "exports-column-acid-kind").one_of::<AcidKind>(),
    Column::new("bottle_weight_percent", Holds::Number, "exports-column-bottle-weight-percent").unit("%"),
    Column::new("acid_drops", Holds::Number, "exports-column-acid-drops").unit("drops"),
    Column::new("drops_per_ml", Holds::Number, "exports-column-drops-per-ml").unit("1/mL"),
    Column::new("drops_per_ml_spread", Holds::Number, "exports-column-drops-per-ml-spread").unit("1/mL"),
    Column::new("mixture_ml", Holds::Number, "exports-column-mixture-ml").unit("mL"),
    Column::new("acid_ml", Holds::Number, "exports-column-acid-ml").unit("mL"),
    Column::new("acid_ml_low", Holds::Number, "exports-column-acid-ml-low").unit("mL"),
    Column::new("acid_ml_high", Holds::Number, "exports-column-acid-ml-high").unit("mL"),
    Column::new("acid_mol_per_l", Holds::Number, "exports-column-acid-mol-per-l").unit("mol/L"),
    Column::new("acid_weight_percent", Holds::Number, "exports-column-acid-weight-percent").unit("%"),
    Column::new("measured_ph", Holds::Number, "exports-column-measured-ph").unit("pH"),
    Column::new("estimated_ph", Holds::Number, "exports-column-estimated-ph").unit("pH"),
    Column::new("estimated_ph_low", Holds::Number, "exports-column-estimated-ph-low").unit("pH"),
    Column::new("estimated_ph_high", Holds::Number, "exports-column-estimated-ph-high").unit("pH"),
    Column::new("applications", Holds::Number, "exports-column-applications"),
    Column::new("application_seconds", Holds::Text, "exports-column-application-seconds").unit("s"),
    Column::new("tool", Holds::Text, "exports-column-tool"),
    Column::new("helper", Holds::Text, "exports-column-helper"),
    Column::new("in_room", Holds::Text, "exports-column-in-room"),
    Column::new("seen", Holds::Text, "exports-column-seen"),
    Column::new("came_up", Holds::Text, "exports-column-came-up"),
    Column::new("came_up_note", Holds::Text, "exports-column-came-up-note"),
    Column::new("came_up_at", Holds::Instant, "exports-column-came-up-at"),
    Column::new("outside_rules", Holds::Text, "exports-column-outside-rules").one_of::<RuleName>(),
    Column::new("amendments", Holds::Number, "exports-column-amendments"),
    Column::new("amended_because", Holds::Text, "exports-column-amended-because"),
];

pub(super) fn write<W: Write>(db: &mut AnyConnection, of: &Of, sheet: &mut Sheet<W>) -> Result<(), Trouble> {
    let marks = etches::marks(db)?;
    let mut reckoned = Reckoned::default();
    etches::etches(db, of.class, &mut |whole| {
        put_etch(&whole, &marks, reckoned.figures(&whole.etch.mixed), sheet)
    })
}

fn put_etch<W: Write>(
    whole: &WholeEtch,
    marks: &HashMap<ContainerId, String>,
    figures: &Figures,
    sheet: &mut Sheet<W>,
) -> Result<(), Trouble> {
    let row = &whole.etch;
    let told = Told::of(row, &whole.applications);
    let mark = |id: &Option<ContainerId>| maybe(id.and_then(|id| marks.get(&id)).map(String::as_str));
    let mut cells = Vec::with_capacity(COLUMNS.len());
    cells.extend([
        Cell::Text(row.id.as_str()),
        Cell::Text(row.root.as_str()),
        Cell::Text(row.plate.as_str()),
    ]);
    cells.extend(person(&row.person));
    cells.extend([
        number(&told.plate),
        Cell::Text(&row.print_title),
        Cell::Text(&row.step),
        moment(Some(row.at)),
        moment(Some(row.received_at)),
        Cell::Text(row.by.as_str()),
        word(Some(row.known_how.0)),
        word(Some(row.mixed.recipe.0)),
        mark(&row.mixed.gum),
        number(&told.gum_ml),
        word(row.mixed.unit.map(|unit| unit.0)),
        number(&told.baume),
        number(&told.gum_ph),
        if row.mixed.gum.is_some() { Cell::YesNo(row.mixed.gum_sour) } else { Cell::Empty },
        mark(&row.mixed.stock),
        number(&told.stock_ml),
        mark(&row.mixed.acid),
        word(row.mixed.acid_kind.map(|kind| kind.0)),
        number(&told.bottle),
        number(&told.drops),
        number(&told.drops_per_ml),
        number(&told.spread),
    ]);
    cells.extend(
        [&figures.mixture, &figures.acid, &figures.acid_low, &figures.acid_high].map(|text| number(text)),
    );
    cells.extend(
        [&figures.mol_per_litre, &figures.weight_percent, &told.measured_ph].map(|text| number(text)),
    );
    cells.extend(figures.estimated.iter().map(|text| number(text)));
    let came_up = whole.came_up.as_ref();
    cells.extend([
        number(&told.applications),
        Cell::Text(&told.seconds),
        Cell::Text(&row.tool),
        Cell::Text(&row.helper),
        Cell::Text(&row.in_room),
        Cell::Text(&row.seen),
        maybe(came_up.map(|one| one.how.as_str())),
        maybe(came_up.map(|one| one.note.as_str())),
        moment(came_up.map(|one| one.at)),
        Cell::Text(&told.rules),
        number(&told.amendments),
        Cell::Text(&row.reason),
    ]);
    put(sheet, &cells)
}

/// What was told, written out.
struct Told {
    plate: String,
    gum_ml: String,
    baume: String,
    gum_ph: String,
    stock_ml: String,
    bottle: String,
    drops: String,
    drops_per_ml: String,
    spread: String,
    measured_ph: String,
    applications: String,
    seconds: String,
    rules: String,
    amendments: String,
}

impl Told {
    fn of(row: &EtchRow, applications: &[(i32, i32)]) -> Self {
        let mixed = &row.mixed;
        let seconds = applications.iter().map(|(_, seconds)| seconds.to_string());
        Self {
            plate: row.plate_number.to_string(),
            gum_ml: maybe_places(mixed.gum_microlitres, 3),
            baume: maybe_places(mixed.gum_baume_tenths, 1),
            gum_ph: maybe_places(mixed.gum_ph_hundredths, 2),
            stock_ml: maybe_places(mixed.stock_microlitres, 3),
            bottle: maybe_places(mixed.acid_weight_bp, 2),
            drops: maybe_places(mixed.drops, 0),
            drops_per_ml: maybe_places(mixed.drops_per_ml_hundredths, 2),
            spread: maybe_places(mixed.drops_spread_hundredths, 2),
            measured_ph: maybe_places(mixed.measured_ph_hundredths, 2),
            applications: applications.len().to_string(),
            seconds: seconds.collect::<Vec<_>>().join(";"),
            rules: row.outside_rules.replace(',', ";"),
            amendments: row.amendments.to_string(),
        }
    }
}

/// What a mixture comes to, written out. What nobody can know is empty.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Figures {
    mixture: String,
    acid: String,
    acid_low: String,
    acid_high: String,
    mol_per_litre: String,
    weight_percent: String,
    /// Middle, low and high, with one decimal; there where the model allows and nothing was measured.
    estimated: [String; 3],
}

impl Figures {
    pub(super) fn of(mix: &Mix) -> Self {
        let Ok(strength) = mix.strength() else { return Self::default() };
        let acid = strength.acid.as_ref();
        let span = acid.map(|acid| &acid.volume);
        let holds = acid.and_then(|acid| acid.concentration.as_ref());
        Self {
            mixture: rounded(strength.mixture.as_ref().map(|volume| Cow::Owned(volume.ml())), 4),
            acid: rounded(span.map(|span| Cow::Owned(span.at.ml())), 4),
            acid_low: rounded(span.map(|span| Cow::Owned(span.low.ml())), 4),
            acid_high: rounded(span.map(|span| Cow::Owned(span.high.ml())), 4),
            mol_per_litre: rounded(holds.map(|holds| Cow::Borrowed(&holds.mol_per_litre)), 4),
            weight_percent: rounded(
                holds.and_then(|holds| holds.weight_percent.as_ref()).map(Cow::Borrowed),
                3,
            ),
            estimated: match &strength.ph {
                EtchPh::Estimated(estimate) => estimate.shown(),
                _ => <[String; 3]>::default(),
            },
        }
    }
}

/// Mixtures reckoned so far: a class mixes the same few again and again, and an estimate balances charges many times.
#[derive(Default)]
struct Reckoned(HashMap<Mix, Figures>);

impl Reckoned {
    /// More are forgotten, so that they need no memory in proportion to the logs.
    const MOST: usize = 4096;

    fn figures(&mut self, mixed: &Poured) -> &Figures {
        let mix = mixed.mix();
        if self.0.len() >= Self::MOST && !self.0.contains_key(&mix) {
            self.0.clear();
        }
        self.0.entry(mix).or_insert_with(|| Figures::of(&mix))
    }
}
