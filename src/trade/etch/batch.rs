//! Making more than one plate's worth: a batch at the same strength, acid diluted from a bottle, and how long a
//! bottle lasts.

use crate::trade::exact::Exact;
use crate::trade::measure::acid::Acid;
use crate::trade::measure::dropper::Dropper;
use crate::trade::measure::{Span, Volume, quotient};
use crate::trade::remark::Remark;

/// Gum and drops to mix at once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Batch {
    pub gum: Volume,
    pub drops: u32,
    /// The drops as a volume, for a pipette where there are many.
    pub acid: Span<Volume>,
}

const MOST_PLATES: u32 = 200;
const MOST_MARGIN_PERCENT: i64 = 100;

/// A batch for `plates` plates of `gum` and `drops` each, with a margin in hundredths of a percent for what
/// stays in the cup. Drops are whole: they are rounded up, and the gum with them, so that the strength is that
/// of one plate's mixture exactly and nobody runs short.
///
/// # Errors
/// Plates outside 1 to 200, or a margin outside 0 to 100 %.
pub fn batch(
    gum: &Volume,
    drops: u32,
    dropper: &Dropper,
    plates: u32,
    margin_bp: i32,
) -> Result<Batch, Remark> {
    let margin = Exact::percent_from_basis_points(margin_bp.into());
    if !(1..=MOST_PLATES).contains(&plates) {
        let remark = Remark::new("etch-sheets-outside").with("value", i64::from(plates));
        return Err(remark.with("most", i64::from(MOST_PLATES)));
    }
    if margin.is_negative() || margin > Exact::whole(MOST_MARGIN_PERCENT) {
        let remark = Remark::new("etch-margin-outside").with("value", margin.to_string());
        return Err(remark.with("most", MOST_MARGIN_PERCENT));
    }
    let more = Exact::one() + &margin * &Exact::hundredths(1);
    let times = &Exact::whole(plates.into()) * &more;
    let one = Exact::whole(drops.into());
    let all = (&one * &times).ceiling();
    Ok(match all.to_i64().and_then(|drops| u32::try_from(drops).ok()).filter(|drops| *drops > 0) {
        None => Batch { gum: gum.times(&times), drops: 0, acid: dropper.volume(0) },
        Some(drops) => Batch { gum: gum.times(&quotient(&all, &one)), drops, acid: dropper.volume(drops) },
    })
}

/// How to dilute acid from a bottle. Acid goes into water, never water onto acid: about half of the water is
/// there first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Dilution {
    /// From the bottle, by volume or by weight.
    pub acid: Volume,
    pub acid_grams: Exact,
    /// To be made up to this volume with water, or to be given this weight of water.
    pub total: Volume,
    pub water_grams: Exact,
}

/// What makes `total` of the `wanted` strength from a bottle.
///
/// # Errors
/// Two kinds of acid, a bottle of 0 %, or a wanted strength that is not above 0 % and below the bottle's.
pub fn dilute(stock: &Acid, wanted: &Acid, total: &Volume) -> Result<Dilution, Remark> {
    if stock.kind() != wanted.kind() {
        return Err(Remark::new("etch-dilution-other-acid"));
    }
    let percents = |key| Remark::new(key).with("stock", stock.percent().to_string());
    if stock.percent().is_zero() {
        return Err(percents("etch-dilution-of-nothing"));
    }
    if wanted.percent().is_zero() || wanted.percent() >= stock.percent() {
        return Err(percents("etch-dilution-stronger").with("wanted", wanted.percent().to_string()));
    }
    let total_grams = &total.ml() * &wanted.grams_per_ml();
    let acid_grams = quotient(&(&total_grams * wanted.percent()), stock.percent());
    Ok(Dilution {
        acid: Volume::of_ml(&quotient(&acid_grams, &stock.grams_per_ml())),
        water_grams: &total_grams - &acid_grams,
        acid_grams,
        total: total.clone(),
    })
}

/// For how many mixtures of so many drops the acid left in a bottle will last: whole mixtures, fewest and most by
/// the dropper's spread. None: no acid is needed.
#[must_use]
pub fn acid_lasts(left: &Volume, dropper: &Dropper, drops: u32) -> Option<Span<i64>> {
    let each = dropper.volume(drops);
    (drops > 0).then(|| Span {
        at: lasts(left, &each.at),
        low: lasts(left, &each.high),
        high: lasts(left, &each.low),
    })
}

/// For how many mixtures of `each` the gum or the stock etch left in a bottle will last.
#[must_use]
pub fn lasts(left: &Volume, each: &Volume) -> i64 {
    left.over(each).floor().to_i64().unwrap_or(i64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::measure::Unit;
    use crate::trade::measure::acid::AcidKind;

    fn ounces(number: i64) -> Volume {
        Volume::told("gum", &Exact::whole(number), Unit::UsFluidOunce).unwrap()
    }

    fn dropper() -> Dropper {
        Dropper::hundredths(Some(2000), Some(200)).unwrap()
    }

    #[test]
    fn a_batch_keeps_the_strength_and_never_runs_short() {
        let five = batch(&ounces(1), 4, &dropper(), 5, 1000).unwrap();
        assert_eq!((five.drops, five.gum.amount(Unit::UsFluidOunce)), (22, Exact::with_places(55, 1)));
        assert_eq!(five.acid.at.ml(), Exact::with_places(11, 1));
        // 13.2 drops become 14, and 3.3 ounces 3.5.
        let three = batch(&ounces(1), 4, &dropper(), 3, 1000).unwrap();
        assert_eq!((three.drops, three.gum.amount(Unit::UsFluidOunce)), (14, Exact::with_places(35, 1)));
        let pure = batch(&ounces(1), 0, &dropper(), 3, 1000).unwrap();
        assert_eq!((pure.drops, pure.gum.amount(Unit::UsFluidOunce)), (0, Exact::with_places(33, 1)));
        assert!(pure.acid.high.ml().is_zero());
    }

    #[test]
    fn a_batch_for_nobody_or_with_an_odd_margin_is_refused() {
        for (plates, margin, key) in [
            (0, 0, "etch-sheets-outside"),
            (201, 0, "etch-sheets-outside"),
            (1, -1, "etch-margin-outside"),
            (1, 10_001, "etch-margin-outside"),
        ] {
            assert_eq!(batch(&ounces(1), 4, &dropper(), plates, margin).unwrap_err().key, key);
        }
    }

    #[test]
    fn a_bottle_lasts_for_whole_mixtures_only() {
        let left = Volume::from_microlitres("left", 10_100).unwrap();
        // 5 drops are 0.25 mL, or 0.2273 to 0.2778.
        assert_eq!(acid_lasts(&left, &dropper(), 5), Some(Span { at: 40, low: 36, high: 44 }));
        assert_eq!(acid_lasts(&left, &dropper(), 0), None);
        assert_eq!(lasts(&ounces(16), &ounces(3)), 5);
        assert_eq!(lasts(&ounces(1), &ounces(2)), 0);
    }

    #[test]
    fn a_dilution_keeps_the_acid_and_makes_up_the_weight() {
        let acid = |kind, points| Acid::basis_points("acid", kind, points).unwrap();
        let (strong, weak) = (acid(AcidKind::Phosphoric, 8500), acid(AcidKind::Phosphoric, 1000));
        let litre = Volume::from_microlitres("total", 1_000_000).unwrap();
        let made = dilute(&strong, &weak, &litre).unwrap();
        let (before, after) =
            (&made.acid.ml() * &strong.mol_per_litre(), &litre.ml() * &weak.mol_per_litre());
        assert_eq!(before, after);
        assert_eq!(&made.acid_grams + &made.water_grams, Exact::with_places(10_532, 1));
        for (stock, wanted, key) in [
            (&strong, &acid(AcidKind::Nitric, 1000), "etch-dilution-other-acid"),
            (&weak, &strong, "etch-dilution-stronger"),
            (&weak, &weak, "etch-dilution-stronger"),
            (&strong, &acid(AcidKind::Phosphoric, 0), "etch-dilution-stronger"),
            (&acid(AcidKind::Phosphoric, 0), &weak, "etch-dilution-of-nothing"),
        ] {
            assert_eq!(dilute(stock, wanted, &litre).unwrap_err().key, key);
        }
    }
}
