//! The sweep takes what no row names, once it is a week old, and nothing else.

use std::fs::File;
use std::time::{Duration, SystemTime};

use diesel::prelude::*;
use tympan::pages::proofs::cleaning::{sweep, sweep_papers};
use tympan::pages::proofs::keeping::{Told, keep_received};
use tympan::store::proofs::OfPlate;
use tympan::store::proofs::comments;
use tympan::store::proofs::pulls::{self, ProofKind};
use tympan::store::schema::{data_sheet, procedure_picture};
use tympan::store::studio::papers::Papers;
use tympan::trouble::Trouble;

use super::*;
use crate::on_both;
use crate::studio::world::*;

fn made_old(studio: &Studio, name: &str) {
    let folder = File::open(studio.house.settings.photos.join(name)).unwrap();
    folder.set_modified(SystemTime::now() - Duration::from_secs(8 * 86_400)).unwrap();
}

fn orphan(studio: &Studio, id: &str) {
    let folder = studio.house.settings.photos.join(id);
    std::fs::create_dir(&folder).unwrap();
    std::fs::write(folder.join("full.jpg"), b"left by a crash").unwrap();
}

fn wait<T>(work: impl Future<Output = T>) -> T {
    tympan::pages::server::block_on(work)
}

on_both! {
    fn only_what_no_row_wants_goes_after_a_week(studio) {
        let things = bare_plate(studio);
        let (student, instructor) = (studio.signed_in(STUDENT), studio.signed_in(INSTRUCTOR));
        send(studio, &student, things.plate, &drawn(1));
        studio.later_ms(1000);
        send(studio, &student, things.plate, &drawn(2));
        let (stays, goes) = (kept(studio)[0], kept(studio)[1]);
        assert_eq!(instructor.post(&format!("{}/proofs/{}/remove", studio.class_path(), goes.0), &[]).status, 303);
        let (old, young) = ("0190a0b0-0000-7000-8000-000000000001", "0190a0b0-0000-7000-8000-000000000002");
        orphan(studio, old);
        orphan(studio, young);
        assert_eq!(wait(sweep(&studio.house)).unwrap(), 0, "nothing is a week old");
        for name in [old.to_owned(), stays.1.to_string(), goes.1.to_string()] {
            made_old(studio, &name);
        }
        assert_eq!(wait(sweep(&studio.house)).unwrap(), 1, "what a crash left; the removal is too young");
        studio.later_ms(8 * 86_400_000);
        assert_eq!(wait(sweep(&studio.house)).unwrap(), 1, "the removed one");
        let mut left = vec![stays.1.to_string(), young.to_owned()];
        left.sort();
        assert_eq!(on_the_shelf(studio), left);
        let student = studio.signed_in(STUDENT);
        assert_eq!(student.get(&photo_path(studio, stays.1, "full")).status, 200);
    }

    fn papers_and_pictures_go_once_nothing_names_them(studio) {
        let things = crate::studio::things::Things::set(&mut studio.connection(), &studio.world);
        let papers = studio.house.settings.data.join("papers");
        let old = |place: std::path::PathBuf| {
            let file = File::options().write(true).open(place).unwrap();
            file.set_modified(SystemTime::now() - Duration::from_secs(8 * 86_400)).unwrap();
        };
        assert_eq!(wait(sweep_papers(&studio.house)).unwrap(), 0, "there is no folder yet");
        let shelf = Papers::in_folder(papers.clone());
        let (named, orphan, young) = (shelf.keep(b"named").unwrap(), shelf.keep(b"orphan").unwrap(), shelf.keep(b"young").unwrap());
        let part = format!("{orphan}.0011223344556677.part");
        std::fs::write(papers.join(&part), b"left by a crash").unwrap();
        std::fs::write(papers.join("read-me.txt"), b"somebody's own").unwrap();
        diesel::insert_into(data_sheet::table)
            .values((
                (data_sheet::id.eq(tympan::ids::DataSheetId::new(NOW)), data_sheet::studio_id.eq(studio.world.studio)),
                (data_sheet::substance.eq("gum"), data_sheet::product.eq("Gum"), data_sheet::supplier.eq("Quayside Supply")),
                (data_sheet::revised.eq(chrono::NaiveDate::from_ymd_opt(2025, 3, 3).unwrap()), data_sheet::signal.eq("none")),
                (data_sheet::hazards.eq(""), data_sheet::pictograms.eq(""), data_sheet::file_name.eq("gum.pdf")),
                (data_sheet::file_sha256.eq(&named), data_sheet::file_bytes.eq(5), data_sheet::by_id.eq(studio.world.assistant)),
                data_sheet::at.eq(NOW),
            ))
            .execute(&mut studio.connection()).unwrap();
        for name in [format!("{named}.pdf"), format!("{orphan}.pdf"), part, "read-me.txt".to_owned()] {
            old(papers.join(name));
        }
        assert_eq!(wait(sweep_papers(&studio.house)).unwrap(), 2, "the orphan and what a crash left");
        assert!(shelf.fetch(&named).is_ok() && shelf.fetch(&young).is_ok(), "what a sheet names stays in the record");
        assert!(matches!(shelf.fetch(&orphan), Err(Trouble::NotFound)) && papers.join("read-me.txt").exists());
        // The same paper sent again is as good as new.
        let again = shelf.keep(b"orphan").unwrap();
        old(papers.join(format!("{again}.pdf")));
        shelf.keep(b"orphan").unwrap();
        assert_eq!(wait(sweep_papers(&studio.house)).unwrap(), 0);

        let instructor = studio.signed_in(INSTRUCTOR);
        let list = format!("{}/settings/procedures", studio.class_path());
        let copied = instructor.post(&format!("{list}/new"), &[("from", &things.procedure.to_string()), ("name", "Mine")]);
        let writing = copied.location().split('?').next().unwrap().to_owned();
        let pictures = format!("{writing}/steps/draw/pictures");
        for number in [7, 8] {
            let told = [("shows", "right"), ("caption", "So")];
            assert_eq!(instructor.upload(&pictures, &told, ("file", "a.jpg", &drawn(number))).status, 303);
        }
        let kept: Vec<String> = procedure_picture::table.select(procedure_picture::id).order(procedure_picture::id).load(&mut studio.connection()).unwrap();
        assert_eq!(instructor.post(&format!("{pictures}/{}/remove", kept[0]), &[]).status, 303);
        for id in &kept {
            made_old(studio, id);
        }
        assert_eq!(wait(sweep(&studio.house)).unwrap(), 0, "the pictures are young");
        studio.later_ms(8 * 86_400_000);
        assert_eq!(wait(sweep(&studio.house)).unwrap(), 1, "the one no procedure shows any more");
        assert!(on_the_shelf(studio).contains(&kept[1]) && !on_the_shelf(studio).contains(&kept[0]));
    }

    fn pictures_may_come_by_another_way_and_at_another_time(studio) {
        let things = bare_plate(studio);
        let world = &studio.world;
        let of = OfPlate { class: world.class, plate: things.plate, owner: Some(world.student) };
        let then = NOW.plus_ms(-3 * 86_400_000);
        let told = |pulled_at| Told { kind: ProofKind::State, pulled_at, note: String::new() };
        let picture = drawn(4);
        let keep = |bytes: &[u8], of, pulled| wait(keep_received(&studio.house, world.student, then, of, bytes.to_vec(), told(pulled)));
        let id = keep(&picture, of, then).unwrap();
        let db = &mut studio.connection();
        let found = pulls::of_plate(db, world.class, things.plate).unwrap();
        assert_eq!((found.len(), found[0].proof.id, found[0].proof.at), (1, id, then));
        assert!(matches!(keep(&picture, of, then), Err(Trouble::Complaints(_))), "the same picture");
        assert!(matches!(keep(&drawn(5), of, NOW), Err(Trouble::Complaints(_))), "pulled later than told");
        assert!(matches!(keep(b"words", of, then), Err(Trouble::Complaints(_))), "no picture");
        let others = OfPlate { owner: Some(world.other_student), ..of };
        assert!(matches!(keep(&drawn(6), others, then), Err(Trouble::NotFound)));
        assert_eq!(on_the_shelf(studio).len(), 1, "what is refused leaves no files");
        let own = pulls::of_class(db, world.class, Some(world.student)).unwrap();
        assert_eq!((own.len(), own[0].0, own[0].1.len()), (1, things.plate, 1));
        assert!(pulls::of_class(db, world.class, Some(world.other_student)).unwrap().is_empty());
        assert!(comments::of_class(db, world.class, None, true).unwrap().is_empty());
    }
}
