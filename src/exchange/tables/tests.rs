//! The columns of all tables, numbers written out, and random rows of every table read again.

use std::collections::HashSet;

use proptest::prelude::*;

use super::*;
use crate::exchange::spreadsheet::begins_like_formula;
use crate::store::plates::folder::SizeUnit;
use crate::trade::etch::logged::{Kind, Mix};
use crate::trade::measure::acid::AcidKind;

#[test]
fn every_column_is_named_once_and_explained() {
    let speech = Speech::load().unwrap();
    for table in Table::ALL {
        assert!(speech.knows(table.about()), "{table:?}");
        let mut seen = HashSet::new();
        for column in table.columns() {
            assert!(seen.insert(column.key), "{table:?} has {} twice", column.key);
            assert!(speech.knows(column.description), "{table:?} {} is not explained", column.key);
            let is_amount = column.key.ends_with("_ml") || column.key.ends_with("_cm");
            assert!(!is_amount || !column.unit.is_empty(), "{table:?} {} has no unit", column.key);
        }
    }
}

/// “Measured” and “estimated” never share a column.
#[test]
fn an_estimate_says_so_in_its_heading() {
    let heads: Vec<&str> = Table::Etches.columns().iter().map(|column| column.key).collect();
    let of_ph: Vec<&&str> = heads.iter().filter(|head| head.contains("ph")).collect();
    assert_eq!(
        of_ph,
        [&"gum_ph", &"measured_ph", &"estimated_ph", &"estimated_ph_low", &"estimated_ph_high"]
    );
}

#[test]
fn file_names_hold_no_sign_that_file_systems_refuse() {
    let of = Of {
        class: crate::ids::Id::new(Instant::from_millis(0)),
        code: "LIT/B".to_owned(),
        term: "Été \"26\"\n".to_owned(),
        zone: chrono_tz::UTC,
        at: Instant::from_millis(0),
        submitted_alone: false,
        last_act: None,
    };
    assert_eq!(Table::Etches.file_name(&of), "LIT-B Été -26-- etches.csv");
    assert_eq!(Table::Columns.file_name(&of), "columns.csv");
}

/// The mixture of `trade::etch`'s worked example: a US fluid ounce of gum at 14 °Bé and pH 4.3, five drops of 85 % acid
/// at twenty drops in a millilitre.
#[test]
fn figures_are_those_of_the_trade_floor() {
    let mut mix = Mix {
        kind: Kind::AcidInGum,
        gum_microlitres: Some(29_574),
        gum_baume_tenths: Some(140),
        gum_ph_hundredths: Some(430),
        gum_sour: false,
        stock_microlitres: None,
        drops: Some(5),
        acid_kind: Some(AcidKind::Phosphoric),
        acid_weight_bp: Some(8500),
        drops_per_ml_hundredths: Some(2000),
        drops_spread_hundredths: Some(0),
        measured_ph_hundredths: None,
    };
    let figures = |mix: &Mix| format!("{:?}", etches::Figures::of(mix));
    let all = figures(&mix);
    for part in ["29.8240", "0.2500", "0.1228", "[\"3.2\", \"3.0\", \"3.4\"]"] {
        assert!(all.contains(part), "{part} in {all}");
    }
    mix.measured_ph_hundredths = Some(290);
    assert!(figures(&mix).contains("[\"\", \"\", \"\"]"), "measured outranks estimated");
    mix.measured_ph_hundredths = None;
    mix.gum_sour = true;
    assert!(figures(&mix).contains("[\"\", \"\", \"\"]"), "no estimate for sour gum");
    mix.gum_microlitres = None;
    assert_eq!(etches::Figures::of(&mix), etches::Figures::default());
}

/// NIST SP 811, appendix B.8: an inch is 2.54 cm exactly.
#[test]
fn inches_become_centimetres_in_full() {
    assert_eq!(plates::centimetres(850, SizeUnit::Inch), "21.5900");
    assert_eq!(plates::centimetres(1, SizeUnit::Inch), "0.0254");
    assert_eq!(plates::centimetres(2500, SizeUnit::Centimetre), "25.0000");
}

/// A cell that fits a column, and the text a reader should find.
fn cell(column: &Column) -> BoxedStrategy<(String, &'static str)> {
    match column.holds {
        Holds::Text => "[=+\\-@\t,\"\r\n'a-zé ]{0,8}".prop_map(|text| (text, "text")).boxed(),
        Holds::Number => any::<i64>().prop_map(|number| (places(number, 3), "number")).boxed(),
        Holds::Date => (0..3_000_000_i32)
            .prop_filter_map("a year of four digits", |days| {
                chrono::NaiveDate::from_num_days_from_ce_opt(days).map(|day| (day.to_string(), "date"))
            })
            .boxed(),
        Holds::Instant => (0..253_402_300_799_999_i64)
            .prop_map(|millis| (Instant::from_millis(millis).rfc3339(), "instant"))
            .boxed(),
        Holds::YesNo => {
            any::<bool>().prop_map(|yes| (if yes { "yes" } else { "no" }.to_owned(), "yes")).boxed()
        }
    }
}

fn as_cell<'c>(text: &'c str, kind: &str) -> Cell<'c> {
    match kind {
        "number" => Cell::Number(text),
        "date" => Cell::Date(text.parse().unwrap()),
        "instant" => Cell::Instant(text.parse().unwrap()),
        "yes" => Cell::YesNo(text == "yes"),
        _ => Cell::Text(text),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn random_rows_of_every_table_are_read_as_they_were_written(
        (table, rows) in (0..Table::ALL.len()).prop_flat_map(|place| {
            let table = Table::ALL[place];
            let row: Vec<_> = table.columns().iter().map(cell).collect();
            (Just(table), prop::collection::vec(row, 0..12))
        })
    ) {
        let mut sheet = Sheet::new(Vec::new(), table.columns()).unwrap();
        for row in &rows {
            let cells: Vec<Cell<'_>> = row.iter().map(|(text, kind)| as_cell(text, kind)).collect();
            sheet.row(&cells).unwrap();
        }
        let bytes = sheet.finish().unwrap();
        let mut reader = csv::ReaderBuilder::new().flexible(false).from_reader(bytes.as_slice());
        let read: Vec<csv::StringRecord> = reader.records().map(|row| row.unwrap()).collect();
        prop_assert_eq!(read.len(), rows.len());
        for (read, row) in read.iter().zip(&rows) {
            for (cell, (text, kind)) in read.iter().zip(row) {
                let dangerous = *kind == "text" && begins_like_formula(text);
                let wanted = if dangerous { format!("'{text}") } else { text.clone() };
                prop_assert_eq!(cell, wanted);
            }
        }
    }

    #[test]
    fn whole_numbers_of_a_small_unit_are_written_in_full(amount: i64, count in 0_u32..7) {
        let text = places(amount, count);
        prop_assert_eq!(Exact::decimal(&text), Some(Exact::with_places(amount, count)));
        prop_assert_eq!(text.split_once('.').map_or(0, |(_, part)| part.len()), count as usize);
    }
}
