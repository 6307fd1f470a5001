//! Labels on sheets: what stands on them, where they begin, what does not fit, and the campus's words for waste.

use super::{PDF, ask, refuses_asking, says, shelf};
use crate::on_both;
use crate::studio::world::*;

const TOLD: [(&str, &str); 7] = [
    ("version", ""),
    ("product", "Phosphoric acid 85 %"),
    ("supplier", "Harbour Chemicals"),
    ("revised", "2025-03-03"),
    ("signal", "danger"),
    ("hazards", "Causes severe skin burns and eye damage"),
    ("pictograms", "corrosion"),
];

on_both! {
    fn a_label_tells_product_hazards_and_who_made_it(studio) {
        let things = shelf(studio);
        let assistant = studio.signed_in(ASSISTANT);
        let bottle = format!("{}/containers/{}", studio.class_path(), things.acid);
        let path = format!("{bottle}/label");
        // 29 CFR 1910.1200(f)(6)(ii): product and words, pictures or symbols that tell the hazards. Without a sheet the
        // label says that they are not known, and the page says that it is not whole.
        says(&assistant.get(&path), &["the hazards are not known here", "1910.1200(f)(6)(ii)", "Hazards not entered yet"]);
        assert_eq!(assistant.upload(&format!("{bottle}/sheet"), &TOLD, ("file", "sheet.pdf", PDF)).status, 303);
        let page = assistant.get(&path);
        says(&page, &["Phosphoric acid 85 % A1", "Danger", "corrosion", "Causes severe skin burns and eye damage", "85 % by weight", "Opened 1 Sep 2026", "by Abel Stone", "No last day told", "Labels 1 to 1 of 10"]);
        // The drawing for the eye, the name beside it for everybody (29 CFR 1910.1200 (f)(6)(ii)).
        assert!(page.has("<svg viewBox=\"0 0 100 100\" aria-hidden=\"true\"><path class=\"pictogram-frame\""), "{}", page.text());
        assert!(page.has("class=\"pictogram-black\"") && page.has("</svg> corrosion</span>"));
        assert!(!page.read().contains("not known here"), "{}", page.read());
        let placed = ask(&assistant, &path, &[("start", "3"), ("copies", "2"), ("by", "T. Reyne"), ("discard", "2026-12-01")]);
        says(&placed, &["Labels 3 to 4 of 10", "by T. Reyne", "Discard after 1 Dec 2026"]);
        assert_eq!((placed.text().matches("class=\"label-place\"").count(), placed.text().matches("class=\"label-card").count()), (2, 2));
        let style = placed.text().split("rel=\"stylesheet\" href=\"").map(|rest| rest.split('"').next().unwrap().replace("&amp;", "&").replace("&#x3D;", "=")).find(|href| href.contains("labels.css")).unwrap();
        let css = assistant.get(&style);
        assert_eq!((css.status, css.headers["content-type"].as_str()), (200, "text/css; charset=utf-8"));
        assert!(css.has("repeat(2, 101.6mm)") && css.has("size: 215.9mm 279.4mm"), "{}", css.text());
        refuses_asking(&assistant, &path, "mixing-label", &[("by", "Abel Stone")], &[
            ("by", "", "This is missing"),
            ("by", "a\u{1}b", "control characters"),
            ("kind", "gift", "is not one of the choices"),
            ("paper", "a3", "is not one of the choices"),
            ("columns", "3", "3 labels across need"),
            ("columns", "0", "outside what is possible"),
            ("rows", "6", "6 labels down need"),
            ("width", "wide", "is no number"),
            ("start", "11", "The sheet has 10 labels"),
            ("copies", "11", "there is room for 10"),
            ("discard", "soon", "is no day"),
        ]);
        assert_eq!(studio.signed_in(STUDENT).get(&path).status, 403);
        assert!(assistant.get(&style.replace("columns=2", "columns=9")).status == 422, "a sheet that does not fit has no style");
    }

    fn waste_is_labelled_in_the_campuss_own_words(studio) {
        let things = shelf(studio);
        let assistant = studio.signed_in(ASSISTANT);
        let path = format!("{}/containers/{}/label?kind=waste", studio.class_path(), things.acid);
        says(&assistant.get(&path), &["words for waste are not told yet"]);
        let room = [("name", "Lower studio"), ("room_address", "Alder Hill 012"), ("eyewash", "left of the sink"), ("emergency_numbers", "911"), ("waste_words", "HAZARDOUS WASTE\r\nSpent etch, acidic\r\nCall ext. 4100 when full"), ("version", "1")];
        assert_eq!(assistant.post(&format!("{}/studio/room", studio.class_path()), &room).status, 303);
        let page = assistant.get(&path);
        says(&page, &["HAZARDOUS WASTE A1 Spent etch, acidic Call ext. 4100 when full Begun 20 Oct 2026 by Abel Stone"]);
        assert!(!page.read().contains("not told yet"), "{}", page.read());
    }

    fn a_mix_is_labelled_as_the_mix_page_reckons_it(studio) {
        let things = shelf(studio);
        let student = studio.signed_in(STUDENT);
        let mix = format!("{}/mix", studio.class_path());
        let (gum, acid) = (things.gum.to_string(), things.acid.to_string());
        let fields = [("gum", gum.as_str()), ("volume", "1"), ("unit", "us_fl_oz"), ("acid", &acid), ("drops", "5")];
        let shown = ask(&student, &mix, &fields);
        assert!(shown.has("/mix/label?"), "the mix page leads there");
        let path = format!("{mix}/label");
        says(&ask(&student, &path, &fields), &["Etch: gum arabic with phosphoric acid", "1.08 % acid by weight, 0.123 mol/L", "from G1, A1", "Made 20 Oct 2026", "by Sami Vale", "Hazards not entered yet", "Ask staff before you label with this"]);
        assert_eq!(studio.signed_in(ASSISTANT).upload(&format!("{}/containers/{acid}/sheet", studio.class_path()), &TOLD, ("file", "sheet.pdf", PDF)).status, 303);
        let page = ask(&student, &path, &[&fields[..], &[("start", "2")]].concat());
        says(&page, &["Danger", "Of the acid it is made with:", "Causes severe skin burns and eye damage", "Labels 2 to 2 of 10"]);
        assert!(page.has("name=\"drops\" value=\"5\""), "the mix is carried along in the form");
        assert_eq!(ask(&student, &path, &crate::stories::but(&fields, "volume", "-1")).status, 303, "what is amiss is said on the mix page");
        says(&ask(&student, &path, &crate::stories::but(&fields, "drops", "0")), &["Gum arabic solution"]);
    }
}
