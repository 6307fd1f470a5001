//! An archive asked for again: the same bytes whatever was changed since, and a plain word where it cannot be had.

use std::io::Read;

use tympan::commands::archive;
use tympan::commands::export::Fault;

use super::archive::{block, made, order, set, text};
use crate::on_both;
use crate::studio::Studio;
use crate::studio::world::{INSTRUCTOR, KEEPER};

on_both! {
    /// Marks, names, hours and the plates themselves change; what was archived before comes out to the byte, by page and
    /// command, and what is taken now is another file.
    fn what_is_changed_later_changes_no_archive_of_before(studio) {
        let scene = set(studio);
        studio.later_ms(60_000);
        let at = "2026-10-20T14:01:00Z";
        let first = made(studio, &order(None, Some("LIT-B")));
        let term = made(studio, &order(Some(at), None));
        studio.later_ms(3_600_000);
        let instructor = studio.signed_in(INSTRUCTOR);
        let keeper = studio.signed_in(KEEPER);
        let renamed = [("version", "1"), ("given_name", "Zoé"), ("family_name", "Nowak")];
        let page = keeper.post(&format!("/school/people/{}/name", studio.world.student), &renamed);
        assert_eq!(page.status, 303, "{}", page.read());
        let said = [("words", "Said later"), ("about", ""), ("proof", "")];
        instructor.post(&format!("{}/plates/{}/comments", studio.class_path(), scene.things.plate), &said);
        let closed = [("first", "2026-11-26"), ("why", "holiday"), ("reason", "Thanksgiving")];
        let page = instructor.post(&format!("{}/studio/closures", studio.class_path()), &closed);
        assert_eq!(page.status, 303, "{}", page.read());
        assert!(first == made(studio, &order(None, Some("LIT-B"))));
        assert!(first == made(studio, &order(Some(at), Some("LIT-B"))));
        assert!(term == made(studio, &order(Some(at), None)), "of the whole term, too");
        let page = instructor.get(&format!("{}/records/archive.zip?as-of={at}", studio.class_path()));
        assert!(page.body == first, "page and command give the same");
        let now = made(studio, &order(Some("now"), Some("LIT-B")));
        assert!(text(&now, "data/comment.jsonl").contains("Said later") && text(&now, "data/person.jsonl").contains("Nowak"));
        assert!(!text(&first, "data/comment.jsonl").contains("Said later"));
        assert!(first == made(studio, &order(None, Some("LIT-B"))), "the first is the one that is meant");

        // No archive of 13:00 was made, and this school began later; one of LIT-A at 14:01 was made with the term alone.
        for (as_of, class) in [("2026-10-20T13:00:00Z", "LIT-B"), (at, "LIT-A")] {
            let wrong = block(archive::take(&studio.house, &order(Some(as_of), Some(class)))).unwrap_err();
            assert!(matches!(&wrong, Fault::Asked(said) if said.contains("no archive of that moment was made")), "{wrong:?}");
        }
        let page = instructor.get(&format!("{}/records/archive.zip?as-of=2026-10-20T13:00:00Z", studio.class_path()));
        assert_eq!(page.status, 409);
        assert!(page.read().contains("were written into the journal, and no archive of that moment was made"), "{}", page.read());
    }

    /// People of other classes, sign-ins and doors change nothing: a moment of before can still be archived.
    fn a_moment_since_which_nothing_changed_can_be_archived_later(studio) {
        set(studio);
        studio.later_ms(3_600_000);
        let keeper = studio.signed_in(KEEPER);
        let renamed = [("version", "1"), ("given_name", "Someone"), ("family_name", "Else")];
        let page = keeper.post(&format!("/school/people/{}/name", studio.world.stranger), &renamed);
        assert_eq!(page.status, 303, "{}", page.read());
        let bytes = made(studio, &order(Some("2026-10-20T14:01:00Z"), Some("LIT-B")));
        assert!(text(&bytes, "archive.json").contains("2026-10-20T14:01:00.000Z"));
    }

    fn two_who_ask_at_once_are_given_the_same_and_a_picture_that_is_gone_is_named(studio) {
        let scene = set(studio);
        studio.later_ms(60_000);
        let at = tympan::clock::Instant::from_millis(studio.house.now().millis() - 1_000);
        let house = &studio.house;
        let both = block(async {
            let one = || house.archive(vec![studio.world.class], Some(at));
            let (first, second) = futures_util::future::join(one(), one()).await;
            [first.unwrap().0, second.unwrap().0]
        });
        let [first, second] = both.map(|mut spooled| {
            let mut bytes = Vec::new();
            spooled.file.read_to_end(&mut bytes).unwrap();
            bytes
        });
        assert!(first == second);
        assert_eq!(crate::stories::rows(studio, "kept_archive"), 1);
        let large = studio.house.settings.photos.join(scene.things.photo.to_string()).join("1600.jpg");
        let was = std::fs::read(&large).unwrap();
        let again = |studio: &Studio| block(studio.house.archive(vec![studio.world.class], Some(at)));
        for change in [None, Some(b"another picture")] {
            std::fs::remove_file(&large).unwrap();
            if let Some(bytes) = change {
                std::fs::write(&large, bytes).unwrap();
            }
            let Err(tympan::trouble::Trouble::Refused(gone)) = again(studio) else { panic!("{change:?}") };
            let said = studio.house.speech.remark(&gone);
            assert!(said.contains(&format!("images/{}/1600.jpg of that archive was removed since", scene.things.photo)), "{said}");
            std::fs::write(&large, &was).unwrap();
        }
        assert!(again(studio).is_ok());
    }

    /// An archive that was read before a purge and would be kept after it is not kept.
    fn what_is_purged_while_an_archive_is_made_is_not_kept(studio) {
        use tympan::store::copying::kept;
        set(studio);
        let db = &mut studio.connection();
        let (of, now) = ([studio.world.class], studio.house.now());
        let read_after = kept::purges(db, &of).unwrap();
        let purge = "INSERT INTO journal (scope, seq, at, act, subject, detail_hash, hash) \
            SELECT scope, MAX(seq) + 1, MAX(at), 'record.purged', scope, '', '' FROM journal WHERE scope <> 'school' GROUP BY scope";
        tympan::store::write::execute(db, purge).unwrap();
        assert!(!kept::keep(db, (&of, now), (now, read_after), &mut &b"text"[..]).unwrap());
        assert_eq!(crate::stories::rows(studio, "kept_archive") + crate::stories::rows(studio, "kept_archive_piece"), 0);
        assert!(kept::keep(db, (&of, now), (now, read_after + 1), &mut &b"text"[..]).unwrap());
        assert!(!kept::keep(db, (&of, now), (now, read_after + 1), &mut &b"other"[..]).unwrap(), "the first holds");
    }
}
