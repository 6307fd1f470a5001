//! The same etch told in Spanish: from the sign-in to the log, with decimal commas both typed and shown, and its letters.

use diesel::prelude::*;
use tympan::store::schema::{etch, etch_application, person};

use super::{Told, logs, plate, scene, under_way};
use crate::on_both;
use crate::stories::but;
use crate::studio::world::*;

on_both! {
    fn a_spanish_speaking_student_logs_an_etch_and_reads_letters(studio) {
        let things = scene(studio);
        let visitor = studio.visitor();
        visitor.get("/language/es?back=/sign-in");
        let page = visitor.get("/sign-in");
        assert!(page.read().contains("Entrar") && page.read().contains("Correo electrónico"), "{}", page.read());
        let wrong = visitor.post("/sign-in", &[("email", STUDENT), ("password", "something else")]);
        assert!(wrong.read().contains("Este correo y esta contraseña no van juntos."), "{}", wrong.read());
        studio.later_ms(60_000);
        assert_eq!(visitor.post("/sign-in", &[("email", STUDENT), ("password", PASSWORD)]).status, 303);
        let chosen = [("language", "es"), ("volume_unit", "us_fl_oz"), ("letter_hour", "7"), ("daily_letter", "yes"), ("due_moved_letter", "yes")];
        assert_eq!(visitor.post("/account/preferences", &chosen).status, 303);

        let today = visitor.get(&studio.class_path());
        assert!(today.read().contains("mar 20 oct"), "{}", today.read());
        assert!(today.read().contains("Lavaojos: left of the sink."), "what people wrote stays: {}", today.read());
        let run = under_way(studio, &things, &visitor);
        let form = visitor.get(&format!("{}/etches/new", plate(studio, &things)));
        for part in ["Registrar la acidulación", "14 °Bé, pH 4,3", "Eche el ácido gota a gota en la goma"] {
            assert!(form.read().contains(part), "“{part}” in: {}", form.read());
        }
        studio.later_ms(45 * 60_000);
        let told = Told::new(&things, run);
        let path = format!("{}/etches/new", plate(studio, &things));
        let refused = visitor.post(&path, &but(&told.fields(), "drops", "4,5"));
        assert_eq!(refused.status, 422);
        assert!(refused.read().contains("«4,5» no es un número sin decimales"), "{}", refused.read());
        let fields = but(&but(&told.fields(), "gum_volume", "1,5"), "application_2", "1,5");
        let page = visitor.post(&path, &fields);
        assert!(page.location().ends_with("done-etch-recorded"), "{} {}", page.location(), page.read());
        let db = &mut studio.connection();
        let volume: Option<i64> = etch::table.select(etch::gum_microlitres).first(db).unwrap();
        assert_eq!(volume, Some(44_360), "an ounce and a half of 29.5735 mL (NIST Handbook 44, appendix C)");
        let seconds: Vec<i32> = etch_application::table.order(etch_application::position)
            .select(etch_application::seconds).load(db).unwrap();
        assert_eq!(seconds[1], 90);
        let log = visitor.get(&format!("{}/etches/{}", plate(studio, &things), logs(studio)[0])).read();
        for part in [
            "0,200 mL (de 0,182 a 0,222)", "1,5 fl oz de EE. UU. de G1", "4 gotas de A1", "20 ± 2 gotas por mL",
            "una estimación, no una medición", "ácido fosfórico", "even film, no bubbles",
        ] {
            assert!(log.contains(part), "“{part}” in: {log}");
        }
        assert!(!log.contains("0.2"), "a decimal point is left: {log}");
        let again = visitor.get(&format!("{}/etches/new?told=yes", plate(studio, &things)));
        assert!(again.has("name=\"gum_volume\" value=\"1,5\""), "{}", again.text());

        // The class hears in its own languages of a date that moved.
        studio.letters();
        diesel::update(person::table.find(studio.world.other_student)).set(person::language.eq(Some("en")))
            .execute(db).unwrap();
        let move_due = format!("{}/settings/projects/{}/due", studio.class_path(), things.project);
        let moved = [("due", "2026-11-03T17:00"), ("reason", "The press was down"), ("version", "1")];
        let page = studio.signed_in(INSTRUCTOR).post(&move_due, &moved);
        assert_eq!(page.status, 303, "{}", page.read());
        // A letter about a date waits ten minutes, in case the date moves again.
        studio.later_ms(11 * 60_000);
        let letters = studio.letters();
        let to = |email: &str| letters.iter().find(|letter| letter.to == email).expect("a letter").clone();
        let spanish = to(STUDENT);
        assert!(spanish.text.contains("Hola, Sami:"), "{}", spanish.text);
        let line = spanish.text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(line.contains("La entrega es mar 3 nov, 17:00 (zona horaria America/New_York)."), "{line}");
        assert!(line.contains("El motivo: The press was down"), "{line}");
        assert!(spanish.html.contains("<html lang=\"es\">"), "{}", spanish.html);
        let english = to(OTHER_STUDENT);
        assert!(english.text.contains("Hello Otis,") && english.html.contains("<html lang=\"en\">"), "{}", english.text);
    }
}
