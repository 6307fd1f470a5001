//! An etch as the record keeps it, in whole numbers of small units: what pages and exports hand in.

use crate::spelled;
use crate::trade::etch::{Gum, Recipe, Strength, strength};
use crate::trade::exact::Exact;
use crate::trade::measure::acid::{Acid, AcidKind};
use crate::trade::measure::dropper::{self, Dropper};
use crate::trade::measure::{Baume, Ph, Volume};
use crate::trade::remark::Remark;

spelled! {
    /// What sort of mixture was put on the plate.
    Kind {
        AcidInGum = "acid_in_gum",
        PureGum = "pure_gum",
        /// A stock etch as it is.
        Stock = "stock",
        StockCut = "stock_cut",
    }
}

/// One mixture. What a kind has no use for is not looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Mix {
    pub kind: Kind,
    pub gum_microlitres: Option<i64>,
    pub gum_baume_tenths: Option<i32>,
    pub gum_ph_hundredths: Option<i32>,
    pub gum_sour: bool,
    pub stock_microlitres: Option<i64>,
    pub drops: Option<i32>,
    pub acid_kind: Option<AcidKind>,
    /// Hundredths of a weight percent.
    pub acid_weight_bp: Option<i32>,
    /// None: the bottle's dropper is not calibrated.
    pub drops_per_ml_hundredths: Option<i32>,
    pub drops_spread_hundredths: Option<i32>,
    /// Read in the mixture by strip or meter.
    pub measured_ph_hundredths: Option<i32>,
}

impl Mix {
    /// What the mixture comes to.
    ///
    /// # Errors
    /// A volume or the drops that the kind needs are missing, or a number cannot be; the remark names the field.
    pub fn strength(&self) -> Result<Strength, Remark> {
        Ok(strength(&self.recipe()?, self.measured()?.as_ref()))
    }

    /// The pH read in the mixture.
    ///
    /// # Errors
    /// It is outside 0 to 14.
    pub fn measured(&self) -> Result<Option<Ph>, Remark> {
        self.measured_ph_hundredths.map(|ph| Ph::hundredths("measured_ph", ph)).transpose()
    }

    /// The recipe in the measures of the trade.
    ///
    /// # Errors
    /// As for [`Mix::strength`].
    pub fn recipe(&self) -> Result<Recipe, Remark> {
        Ok(match self.kind {
            Kind::PureGum => Recipe::PureGum(self.gum()?),
            Kind::AcidInGum => {
                let drops = self.drops.ok_or_else(|| missing("drops"))?;
                Recipe::AcidInGum {
                    gum: self.gum()?,
                    drops: dropper::drops("drops", &Exact::whole(drops.into()))?,
                    dropper: Dropper::hundredths(self.drops_per_ml_hundredths, self.drops_spread_hundredths)?,
                    acid: self.acid()?,
                }
            }
            Kind::Stock => Recipe::Stock(self.stock().transpose()?),
            Kind::StockCut => {
                let stock = self.stock().ok_or_else(|| missing("stock"))??;
                Recipe::StockCut { stock, gum: self.gum()? }
            }
        })
    }

    fn gum(&self) -> Result<Gum, Remark> {
        let volume = self.gum_microlitres.ok_or_else(|| missing("gum"))?;
        Gum::told(
            Volume::from_microlitres("gum", volume)?,
            self.gum_baume_tenths.map(|tenths| Baume::tenths("baume", tenths)).transpose()?,
            self.gum_ph_hundredths.map(|ph| Ph::hundredths("gum_ph", ph)).transpose()?,
            self.gum_sour,
        )
    }

    fn acid(&self) -> Result<Option<Acid>, Remark> {
        let told = self.acid_kind.zip(self.acid_weight_bp);
        told.map(|(kind, points)| Acid::basis_points("weight_percent", kind, points)).transpose()
    }

    fn stock(&self) -> Option<Result<Volume, Remark>> {
        self.stock_microlitres.map(|volume| Volume::from_microlitres("stock", volume))
    }
}

fn missing(field: &str) -> Remark {
    Remark::new("etch-amount-missing").with("field", field)
}
