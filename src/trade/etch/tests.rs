//! What counts as exact, what as estimated, what is never estimated, and which cautions go with it.

use proptest::prelude::*;

use super::cautions::{Caution, Known, Place, cautions};
use super::logged::{Kind, Mix};
use super::*;
use crate::trade::exact::Rounding;
use crate::trade::measure::acid::AcidKind;
use crate::trade::procedure::Surface;
use crate::trade::spelled::Spelled;

/// One US fluid ounce of gum with four drops, as the record keeps it.
const FIRST_ETCH: Mix = Mix {
    kind: Kind::AcidInGum,
    gum_microlitres: Some(29_574),
    gum_baume_tenths: Some(140),
    gum_ph_hundredths: Some(430),
    gum_sour: false,
    stock_microlitres: None,
    drops: Some(4),
    acid_kind: Some(AcidKind::Phosphoric),
    acid_weight_bp: Some(8500),
    drops_per_ml_hundredths: Some(2000),
    drops_spread_hundredths: Some(200),
    measured_ph_hundredths: None,
};

fn ph(mix: Mix) -> EtchPh {
    mix.strength().unwrap().ph
}

fn estimate(mix: Mix) -> Estimate {
    let EtchPh::Estimated(estimate) = ph(mix) else { panic!("{mix:?}") };
    estimate
}

fn concentration(mix: Mix) -> Concentration {
    mix.strength().unwrap().acid.unwrap().concentration.unwrap()
}

fn said(mix: Mix, aluminium: bool, window: Option<(i32, i32)>) -> Vec<Caution> {
    let bound = |ph| Ph::hundredths("window", ph).unwrap();
    let surface = if aluminium { Surface::Plate } else { Surface::Stone };
    let place = Place { surface, window: window.map(|(low, high)| (bound(low), bound(high))) };
    cautions(&mix.recipe().unwrap(), &mix.strength().unwrap(), &place)
}

#[test]
fn four_drops_in_an_ounce_come_to_known_figures() {
    let strength = FIRST_ETCH.strength().unwrap();
    let acid = strength.acid.unwrap();
    assert_eq!(acid.volume.at.to_microlitres(), 200);
    assert_eq!(strength.mixture.unwrap().ml(), Exact::with_places(29_774, 3));
    let concentration = acid.concentration.unwrap();
    // 0.2 mL × 14.650 mol/L in 29.774 mL.
    assert_eq!(concentration.mol_per_litre.text(Rounding::half_up(4)), "0.0984");
    // 0.2 × 1.689 × 0.85 g in 0.3378 + 29.574 × 1.10576 g.
    assert_eq!(concentration.weight_percent.unwrap().text(Rounding::half_up(3)), "0.869");
    assert!((concentration.ph_in_water - 1.636).abs() < 0.001);
    let EtchPh::Estimated(estimate) = strength.ph else { panic!() };
    assert_eq!(estimate.shown(), ["3.4", "3.1", "3.6"]);
}

#[test]
fn no_range_is_shown_without_width() {
    let narrow = Estimate { middle: 0.71, low: 0.69, high: 0.73 };
    assert_eq!(narrow.shown(), ["0.7", "0.6", "0.8"]);
    let wide = Estimate { middle: 0.71, low: 0.64, high: 0.78 };
    assert_eq!(wide.shown(), ["0.7", "0.6", "0.8"]);
}

#[test]
fn what_is_not_told_leaves_exactly_what_needs_it_open() {
    let no_baume = Mix { gum_baume_tenths: None, ..FIRST_ETCH };
    assert_eq!(ph(no_baume), EtchPh::NotEstimated(Why::GumBaumeUntold));
    assert_eq!(concentration(no_baume).weight_percent, None);
    assert_eq!(concentration(no_baume).mol_per_litre, concentration(FIRST_ETCH).mol_per_litre);
    let no_ph = Mix { gum_ph_hundredths: None, ..FIRST_ETCH };
    assert_eq!(ph(no_ph), EtchPh::NotEstimated(Why::GumPhUntold));
    assert!(concentration(no_ph).weight_percent.is_some());
    for unknown in [Mix { acid_kind: None, ..FIRST_ETCH }, Mix { acid_weight_bp: None, ..FIRST_ETCH }] {
        let strength = unknown.strength().unwrap();
        assert_eq!(strength.ph, EtchPh::NotEstimated(Why::AcidUntold));
        let acid = strength.acid.unwrap();
        assert_eq!((acid.volume.at.to_microlitres(), acid.concentration), (200, None));
    }
}

#[test]
fn sour_gum_and_stock_etches_are_never_estimated() {
    for kind in Kind::ALL {
        let sour = Mix { kind: *kind, gum_sour: true, stock_microlitres: Some(15_000), ..FIRST_ETCH };
        let expected = match kind {
            Kind::AcidInGum | Kind::PureGum => Why::GumSour,
            Kind::Stock => Why::StockEtch,
            Kind::StockCut => Why::StockCut,
        };
        assert_eq!(ph(sour), EtchPh::NotEstimated(expected), "{kind:?}");
    }
    let half = Mix { kind: Kind::StockCut, stock_microlitres: Some(29_574), ..FIRST_ETCH };
    let strength = half.strength().unwrap();
    assert_eq!(strength.stock_share, Some(Exact::with_places(5, 1)));
    assert_eq!((strength.acid, strength.ph), (None, EtchPh::NotEstimated(Why::StockCut)));
    let untold = Mix { kind: Kind::Stock, stock_microlitres: None, ..FIRST_ETCH };
    assert_eq!(untold.strength().unwrap().mixture, None);
}

#[test]
fn a_measured_ph_outranks_everything() {
    for kind in Kind::ALL {
        for sour in [false, true] {
            let mix = Mix {
                kind: *kind,
                gum_sour: sour,
                stock_microlitres: Some(15_000),
                measured_ph_hundredths: Some(245),
                ..FIRST_ETCH
            };
            assert_eq!(ph(mix), EtchPh::Measured(Ph::hundredths("ph", 245).unwrap()));
        }
    }
}

#[test]
fn gum_without_acid_has_the_ph_told_for_it() {
    let of_gum = EtchPh::OfGum(Ph::hundredths("ph", 430).unwrap());
    assert_eq!(ph(Mix { kind: Kind::PureGum, ..FIRST_ETCH }), of_gum);
    assert_eq!(ph(Mix { drops: Some(0), ..FIRST_ETCH }), of_gum);
    let nothing_to_say = said(Mix { kind: Kind::PureGum, ..FIRST_ETCH }, true, Some((200, 400)));
    assert_eq!(nothing_to_say, []);
}

#[test]
fn what_a_kind_needs_is_asked_for_by_name() {
    for mix in [
        Mix { gum_microlitres: None, ..FIRST_ETCH },
        Mix { drops: None, ..FIRST_ETCH },
        Mix { kind: Kind::StockCut, ..FIRST_ETCH },
    ] {
        assert_eq!(mix.strength().unwrap_err().key, "etch-amount-missing");
    }
    for mix in [
        Mix { gum_microlitres: Some(-5), ..FIRST_ETCH },
        Mix { gum_microlitres: Some(i64::MAX), ..FIRST_ETCH },
        Mix { drops: Some(-1), ..FIRST_ETCH },
        Mix { gum_baume_tenths: Some(9999), ..FIRST_ETCH },
        Mix { measured_ph_hundredths: Some(-3), ..FIRST_ETCH },
        Mix { drops_spread_hundredths: Some(2000), ..FIRST_ETCH },
        Mix { acid_weight_bp: Some(i32::MAX), ..FIRST_ETCH },
    ] {
        assert!(mix.strength().is_err(), "{mix:?}");
    }
}

#[test]
fn below_one_and_a_half_on_aluminium_the_drawing_is_said_to_be_lost() {
    let measured = |ph| Mix { measured_ph_hundredths: Some(ph), ..FIRST_ETCH };
    let reading = |ph| Known::Measured(Ph::hundredths("ph", ph).unwrap());
    assert!(said(measured(149), true, None).contains(&Caution::DestroysDrawing(reading(149))));
    assert!(!said(measured(150), true, None).contains(&Caution::DestroysDrawing(reading(150))));
    assert!(!said(measured(149), false, None).contains(&Caution::DestroysDrawing(reading(149))));

    // A measured pH silences what the estimate would have said.
    let strong = Mix { drops: Some(90), ..FIRST_ETCH };
    let destroys = |cautions: &[Caution]| {
        cautions.iter().any(|caution| matches!(caution, Caution::DestroysDrawing(Known::Estimated(_))))
    };
    assert!(estimate(strong).middle < 1.5 && destroys(&said(strong, true, None)));
    assert!(!destroys(&said(Mix { measured_ph_hundredths: Some(220), ..strong }, true, None)));
    assert!(!destroys(&said(strong, false, None)));

    // Five drops in water would be pH 1.58 and eight 1.47: no alarm from a model of water.
    assert!(!destroys(&said(Mix { drops: Some(8), ..FIRST_ETCH }, true, None)));

    let between = (40..90).map(|drops| Mix { drops: Some(drops), ..FIRST_ETCH });
    let may =
        between.filter(|mix| estimate(*mix).low < 1.5 && estimate(*mix).middle >= 1.5).collect::<Vec<_>>();
    assert!(!may.is_empty());
    for mix in may {
        assert!(
            said(mix, true, None).contains(&Caution::MayDestroyDrawing) && !destroys(&said(mix, true, None))
        );
    }
}

#[test]
fn outside_the_window_of_the_class_there_is_a_warning() {
    let outside = |mix, window| {
        let cautions = said(mix, true, Some(window));
        cautions.iter().any(|caution| matches!(caution, Caution::OutsideWindow { .. }))
    };
    assert!(!outside(FIRST_ETCH, (200, 450)));
    assert!(outside(FIRST_ETCH, (200, 300)) && outside(FIRST_ETCH, (400, 450)));
    let measured = |ph| Mix { measured_ph_hundredths: Some(ph), ..FIRST_ETCH };
    assert!(!outside(measured(200), (200, 450)) && !outside(measured(450), (200, 450)));
    assert!(outside(measured(199), (200, 450)) && outside(measured(451), (200, 450)));
    assert!(!outside(Mix { gum_sour: true, ..FIRST_ETCH }, (200, 300)));
}

#[test]
fn acid_brings_its_cautions_and_pure_gum_none() {
    let cautions = said(FIRST_ETCH, true, None);
    let acid = Acid::basis_points("acid", AcidKind::Phosphoric, 8500).unwrap();
    for caution in [
        Caution::Protect,
        Caution::AcidIntoGum,
        Caution::BottleBurns(acid.clone()),
        Caution::EyewashForBottle(acid),
        Caution::EstimateOnly,
    ] {
        assert!(cautions.contains(&caution), "{caution:?}");
    }
    assert!(!cautions.contains(&Caution::DropperNotCalibrated));
    let guessed = Mix { drops_per_ml_hundredths: None, drops_spread_hundredths: None, ..FIRST_ETCH };
    assert!(said(guessed, true, None).contains(&Caution::DropperNotCalibrated));
    let volume = guessed.strength().unwrap().acid.unwrap().volume;
    assert_eq!(volume.at.to_microlitres(), 160);
    assert!(volume.low.to_microlitres() == 121 && volume.high.to_microlitres() == 235);

    let nitric = Mix { acid_kind: Some(AcidKind::Nitric), acid_weight_bp: Some(6800), ..FIRST_ETCH };
    assert!(said(nitric, true, None).contains(&Caution::NitricOnAluminium));
    assert!(!said(nitric, false, None).contains(&Caution::NitricOnAluminium));
    assert!(said(nitric, false, None).contains(&Caution::NitricFumes));
    let weak = Mix { acid_weight_bp: Some(1000), ..FIRST_ETCH };
    let weak_acid = Acid::basis_points("acid", AcidKind::Phosphoric, 1000).unwrap();
    assert!(said(weak, true, None).contains(&Caution::BottleIrritates(weak_acid)));
    let odd = Mix { gum_ph_hundredths: Some(380), ..FIRST_ETCH };
    assert!(said(odd, true, None).contains(&Caution::GumPhUnusual(Ph::hundredths("ph", 380).unwrap())));
}

/// Mixtures as they are made on tables: gum of any usual sort, acid of 10 % or more.
fn mixes() -> impl Strategy<Value = Mix> {
    let gum = (5_000_i64..500_000, 60_i32..250, 330_i32..600);
    let acid = (prop::sample::select(AcidKind::ALL), 1000_i32..=7000, 1_i32..400);
    let dropper = (800_i32..6000, 0_i32..700);
    (gum, acid, dropper).prop_map(|(gum, acid, dropper)| Mix {
        gum_microlitres: Some(gum.0),
        gum_baume_tenths: Some(gum.1),
        gum_ph_hundredths: Some(gum.2),
        acid_kind: Some(acid.0),
        acid_weight_bp: Some(acid.1),
        drops: Some(acid.2),
        drops_per_ml_hundredths: Some(dropper.0),
        drops_spread_hundredths: Some(dropper.1),
        ..FIRST_ETCH
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn the_middle_lies_in_the_range_and_gum_holds_the_ph_above_that_of_water(mix in mixes()) {
        let range = estimate(mix);
        prop_assert!(range.low <= range.middle && range.middle <= range.high, "{:?}", range);
        // A drop so weak that in water it would be no sourer than the gum itself leaves the gum nothing to hold off.
        let (in_water, gum) = (concentration(mix).ph_in_water, f64::from(mix.gum_ph_hundredths.unwrap()) / 100.0);
        prop_assert!(range.middle > in_water || in_water > gum - 0.1, "{:?}", range);
        prop_assert!(range.middle <= gum, "acid never raises a pH: {:?}", range);
        let volume = mix.strength().unwrap().acid.unwrap().volume;
        prop_assert!(volume.low <= volume.at && volume.at <= volume.high);
    }

    #[test]
    fn more_acid_never_raises_a_ph(mix in mixes(), more in 1_i32..100) {
        let stronger = Mix { drops: mix.drops.map(|drops| drops + more), ..mix };
        let (before, after) = (estimate(mix), estimate(stronger));
        prop_assert!(after.middle <= before.middle);
        prop_assert!(after.low <= before.low);
        prop_assert!(after.high <= before.high);
        let (before, after) = (concentration(mix), concentration(stronger));
        prop_assert!(after.ph_in_water <= before.ph_in_water);
        prop_assert!(after.mol_per_litre > before.mol_per_litre);
        prop_assert!(after.weight_percent > before.weight_percent);
    }

    #[test]
    fn a_wider_spread_never_narrows_the_range(mix in mixes(), more in 1_i32..90) {
        let wider = Mix { drops_spread_hundredths: mix.drops_spread_hundredths.map(|s| s + more), ..mix };
        let (narrow, wide) = (estimate(mix), estimate(wider));
        prop_assert!(wide.low <= narrow.low && narrow.high <= wide.high);
        prop_assert_eq!(wide.middle, narrow.middle);
    }
}
