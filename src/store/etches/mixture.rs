//! The mixture of a draft: its containers, the figures that are copied from them, and what cannot be read as an etch.

use crate::clock::Instant;
use crate::ids::ContainerId;
use crate::store::etches::entries::{Doubt, Entry, Part, Poured};
use crate::store::plates::runs::At;
use crate::store::studio::containers::{self, Container, Substance};
use crate::store::types::Word;
use crate::store::write::Tx;
use crate::trade::etch::logged::Kind;
use crate::trade::measure::Unit;
use crate::trade::measure::acid::AcidKind;
use crate::trade::remark::Remark;
use crate::trouble::{Complaint, Trouble};

/// The most applications of one etch.
pub const MOST_APPLICATIONS: usize = 12;
/// The longest application, in seconds.
pub const LONGEST_SECONDS: i32 = 3600;

/// An etch, as told. What the recipe has no use for is not looked at.
#[derive(Debug, Clone)]
pub struct Draft {
    pub recipe: Kind,
    /// None: out of no labelled container.
    pub gum: Option<ContainerId>,
    pub gum_microlitres: Option<i64>,
    /// In what volumes were told.
    pub unit: Unit,
    pub acid: Option<ContainerId>,
    pub drops: Option<i32>,
    pub stock: Option<ContainerId>,
    pub stock_microlitres: Option<i64>,
    /// Read in the mixture by strip or meter.
    pub measured_ph_hundredths: Option<i32>,
    /// Seconds of each application, in order.
    pub applications: Vec<i32>,
    pub tool: String,
    pub helper: String,
    pub seen: String,
}

impl Draft {
    /// No etch at all.
    #[must_use]
    pub const fn nothing() -> Self {
        Self {
            recipe: Kind::AcidInGum,
            gum: None,
            gum_microlitres: None,
            unit: Unit::Millilitre,
            acid: None,
            drops: None,
            stock: None,
            stock_microlitres: None,
            measured_ph_hundredths: None,
            applications: Vec::new(),
            tool: String::new(),
            helper: String::new(),
            seen: String::new(),
        }
    }
}

/// The part of a recipe that calls for a container.
#[must_use]
pub const fn uses(recipe: Kind, part: Part) -> bool {
    match part {
        Part::Gum => !matches!(recipe, Kind::Stock),
        Part::Acid => matches!(recipe, Kind::AcidInGum),
        Part::Stock => matches!(recipe, Kind::Stock | Kind::StockCut),
    }
}

impl Tx<'_> {
    /// The containers a draft names, each holding what it must.
    pub(in crate::store) fn containers_of(&mut self, at: &At, draft: &Draft) -> Result<Held, Trouble> {
        let all = containers::containers(self.connection, at.studio)?;
        let mut complaints = Vec::new();
        let mut find = |part: Part, field: &str, id: Option<ContainerId>| {
            let id = id.filter(|_| uses(draft.recipe, part))?;
            let held = all.iter().find(|held| held.id == id).cloned();
            let fits = held.as_ref().is_some_and(|held| holds(held.substance.0, part));
            if !fits {
                let remark = Remark::new("etches-container-unknown");
                complaints.push(Complaint::new(field, remark));
            }
            held
        };
        let held = Held {
            gum: find(Part::Gum, "gum", draft.gum),
            acid: find(Part::Acid, "acid", draft.acid),
            stock: find(Part::Stock, "stock", draft.stock),
        };
        if complaints.is_empty() { Ok(held) } else { Err(Trouble::Complaints(complaints)) }
    }
}

/// The containers of one etch.
pub(in crate::store) struct Held {
    gum: Option<Container>,
    acid: Option<Container>,
    stock: Option<Container>,
}

/// Whether a substance belongs into that part of a mixture.
#[must_use]
pub const fn holds(substance: Substance, part: Part) -> bool {
    match part {
        Part::Gum => matches!(substance, Substance::Gum),
        Part::Acid => substance.is_acid(),
        Part::Stock => matches!(substance, Substance::Stock),
    }
}

/// The mixture with its containers' figures: as they are now, or as `before` has them where its container stays.
pub(super) fn poured(
    draft: &Draft,
    held: &Held,
    before: Option<&Entry>,
    moment: Instant,
    at: &At,
) -> (Poured, Vec<(Part, Doubt)>) {
    let used = |part| uses(draft.recipe, part);
    let id = |one: &Option<Container>| one.as_ref().map(|held| held.id);
    let gum = held.gum.as_ref().map(|held| &held.told);
    let acid = held.acid.as_ref();
    let mut poured = Poured {
        recipe: Word(draft.recipe),
        gum: id(&held.gum),
        gum_microlitres: draft.gum_microlitres.filter(|_| used(Part::Gum)),
        unit: Some(Word(draft.unit)),
        acid: id(&held.acid),
        drops: draft.drops.filter(|_| used(Part::Acid)),
        stock: id(&held.stock),
        stock_microlitres: draft.stock_microlitres.filter(|_| used(Part::Stock)),
        gum_baume_tenths: gum.and_then(|told| told.baume_tenths),
        gum_ph_hundredths: gum.and_then(|told| told.ph_hundredths),
        gum_sour: gum.is_some_and(|told| told.sour),
        acid_weight_bp: acid.and_then(|acid| acid.told.weight_bp),
        acid_kind: acid.and_then(|acid| kind_of(acid.substance.0)).map(Word),
        drops_per_ml_hundredths: acid.and_then(|acid| acid.told.drops_per_ml_hundredths),
        drops_spread_hundredths: acid.and_then(|acid| acid.told.drops_spread_hundredths),
        measured_ph_hundredths: draft.measured_ph_hundredths,
    };
    if let Some(was) = before.map(|entry| &entry.poured) {
        if was.gum.is_some() && was.gum == poured.gum {
            poured.gum_baume_tenths = was.gum_baume_tenths;
            poured.gum_ph_hundredths = was.gum_ph_hundredths;
            poured.gum_sour = was.gum_sour;
        }
        if was.acid.is_some() && was.acid == poured.acid {
            poured.acid_weight_bp = was.acid_weight_bp;
            poured.acid_kind = was.acid_kind;
            poured.drops_per_ml_hundredths = was.drops_per_ml_hundredths;
            poured.drops_spread_hundredths = was.drops_spread_hundredths;
        }
    }
    let mut doubts = Vec::new();
    for (part, held) in [(Part::Gum, &held.gum), (Part::Acid, &held.acid), (Part::Stock, &held.stock)] {
        let stays = before.filter(|entry| {
            uses(entry.poured.recipe.0, part) && entry.poured.named(part) == poured.named(part)
        });
        match stays {
            _ if !used(part) => {}
            Some(entry) => doubts.extend(entry.doubts().filter(|(about, _)| *about == part)),
            None => doubts.extend(doubt(held.as_ref(), moment, at).map(|doubt| (part, doubt))),
        }
    }
    (poured, doubts)
}

const fn kind_of(substance: Substance) -> Option<AcidKind> {
    match substance {
        Substance::Phosphoric => Some(AcidKind::Phosphoric),
        Substance::Nitric => Some(AcidKind::Nitric),
        Substance::Gum | Substance::Stock => None,
    }
}

/// What was doubtful about a container at the moment of the etch; the gravest first.
fn doubt(held: Option<&Container>, moment: Instant, at: &At) -> Option<Doubt> {
    let Some(held) = held else { return Some(Doubt::NotNamed) };
    let day = moment.local_date(at.zone);
    if held.told.do_not_use.is_some() {
        Some(Doubt::DoNotUse)
    } else if held.finished_at.is_some_and(|finished| finished < moment) {
        Some(Doubt::Finished)
    } else if held.told.discard.is_some_and(|last| last < day) {
        Some(Doubt::PastDiscard)
    } else {
        None
    }
}

/// What cannot be stored because it cannot be read as an etch.
pub(super) fn check(draft: &Draft, poured: &Poured) -> Result<(), Trouble> {
    let count = draft.applications.len();
    if count == 0 || count > MOST_APPLICATIONS {
        let most = i64::try_from(MOST_APPLICATIONS).unwrap_or(i64::MAX);
        return Err(Trouble::about(
            "application_1",
            Remark::new("etches-applications-count").with("most", most),
        ));
    }
    if draft.applications.iter().any(|seconds| !(1..=LONGEST_SECONDS).contains(seconds)) {
        return Err(Trouble::about("application_1", Remark::new("etches-minutes-outside")));
    }
    for (missing, field) in [
        (uses(poured.recipe.0, Part::Gum) && poured.gum_microlitres.is_none(), "gum_volume"),
        (uses(poured.recipe.0, Part::Acid) && poured.drops.is_none(), "drops"),
        (poured.recipe.0 == Kind::StockCut && poured.stock_microlitres.is_none(), "stock_volume"),
    ] {
        if missing {
            return Err(Trouble::about(field, Remark::new("form-empty")));
        }
    }
    Ok(())
}
