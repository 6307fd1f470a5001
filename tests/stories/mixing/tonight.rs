//! The batch for tonight: which plates are in it, what is mixed for them, and what the bottles last for.

use diesel::prelude::*;
use tympan::store::schema::container;

use super::{ask, keep_table, refuses_asking, says};
use crate::on_both;
use crate::studio::crowd::Crowd;
use crate::studio::world::*;

on_both! {
    fn a_batch_is_reckoned_for_the_plates_that_are_ready(studio) {
        Crowd::one_class(7, 1).fill(&mut studio.connection(), &studio.world);
        let assistant = studio.signed_in(ASSISTANT);
        let shelf = format!("{}/containers/new", studio.class_path());
        let gum = [("what", "gum"), ("label", "Gum"), ("opened", "2026-10-12"), ("baume", "14"), ("ph", "4.3")];
        let acid = [("what", "phosphoric"), ("label", "Acid"), ("opened", "2026-10-12"), ("weight", "85"), ("drops_per_ml", "20"), ("drops_spread", "2")];
        assert_eq!((assistant.post(&shelf, &gum).status, assistant.post(&shelf, &acid).status), (303, 303));
        let path = format!("{}/mix/tonight", studio.class_path());
        says(&assistant.get(&path), &["has no row to choose"]);
        let row = keep_table(studio);
        let usual = assistant.get(&path);
        // Plates by how far they are: the third is drawn and waits for its first etch.
        says(&usual, &["crayon 3 to 4, medium: 6.5 drops", "Tell how much is left"]);
        let plates = usual.text().matches("name=\"row-").count();
        assert!((1..7).contains(&plates), "{plates} of seven plates are ready for an etch: {}", usual.read());
        assert!(usual.has(&format!("row-{}", Crowd::plate(2))), "{}", usual.read());
        assert!(!usual.has(&format!("row-{}", Crowd::plate(0))), "the first is not even drawn");

        // Two ounces for one plate with ten percent more: 13 drops become 14.3, so 15, and the gum goes with them.
        let fields: Vec<(String, String)> = usual.text().split("name=\"row-").skip(1)
            .map(|rest| format!("row-{}", rest.split('"').next().unwrap()))
            .map(|name| { let mine = name.ends_with(Crowd::plate(2).as_str()); (name, if mine { row.clone() } else { String::new() }) })
            .collect();
        let mut asked: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
        asked.extend([("each", "2"), ("unit", "us_fl_oz"), ("margin", "10"), ("gum_left", "500"), ("acid_left", "50")]);
        // 2 fl oz are 59.147 mL, ×15/13 68.247 mL; 15 drops at 20 ± 2 to the mL are 0.75 mL, 0.682 to 0.833.
        says(&ask(&assistant, &path, &asked), &[
            "68.25 mL, 2.308 US fl oz",
            " 15 0.75 mL (0.68 to 0.83)",
            "G1: after tonight 431.8 mL of gum are left, enough for 7 more plates of 2 US fl oz",
            "A1: after tonight about 49.25 mL of acid are left, enough for 75 more plates of 13 drops (68 to 83 by the dropper)",
        ]);
        let short = [&asked[..asked.len() - 2], &[("gum_left", "60"), ("acid_left", "0.5")]].concat();
        says(&ask(&assistant, &path, &short), &["G1 holds 60 mL of gum, and 68.2 mL are wanted", "A1 holds 0.5 mL of acid, and up to 0.83 mL are wanted"]);
        asked.extend([("gum", ""), ("acid", "")]);
        let ids: Vec<String> = container::table.order(container::letter.desc()).select(container::id).load(&mut studio.connection()).unwrap();
        let good = crate::stories::but(&crate::stories::but(&asked, "gum", &ids[0]), "acid", &ids[1]);
        refuses_asking(&assistant, &path, "mixing-tonight", &good, &[
            ("each", "0", "outside what is possible"),
            ("each", "", "This is missing"),
            ("margin", "101", "outside what is possible"),
            ("margin", "-1", "outside what is possible"),
            ("unit", "imp_fl_oz", "An imperial fluid ounce"),
            ("gum", "", "This is missing"),
            ("gum", &ids[1], "does not hold that"),
            ("acid", "", "Choose the bottle"),
            ("gum_left", "much", "is no number"),
            (&format!("row-{}", Crowd::plate(2)), &ids[0], "not in the table any more"),
        ]);
        assert_eq!(studio.signed_in(INSTRUCTOR).get(&path).status, 200);
        let gone = format!(
            "UPDATE enrolment SET state = 'withdrawn' WHERE person_id = (SELECT person_id FROM plate WHERE id = '{}')",
            Crowd::plate(2),
        );
        tympan::store::write::execute(&mut studio.connection(), &gone).unwrap();
        let without = assistant.get(&path);
        assert!(!without.has(&format!("row-{}", Crowd::plate(2))), "who withdrew etches no more: {}", without.read());
        assert_eq!(studio.signed_in(&Crowd::email(0)).get(&path).status, 403);
    }
}
