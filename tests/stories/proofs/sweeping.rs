//! The sweep takes what no row names, once it is a week old, and nothing else.

use std::fs::File;
use std::time::{Duration, SystemTime};

use tympan::pages::proofs::cleaning::sweep;
use tympan::pages::proofs::keeping::{Told, keep_received};
use tympan::store::proofs::OfPlate;
use tympan::store::proofs::comments;
use tympan::store::proofs::pulls::{self, ProofKind};
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
