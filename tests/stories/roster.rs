//! Class lists, from a messy file to the people of a class; people added and changed by hand; invitations and slips.

use diesel::prelude::*;
use tympan::commands::import::{Order, bring};
use tympan::ids::{ListingId, PersonId};
use tympan::store::schema::{enrolment, enrolment_change, journal, letter, link, listing, person};

use crate::on_both;
use crate::studio::world::*;
use crate::studio::{Page, Studio, Visitor};

const HEAD: &str = "Given name,Family name,E-mail,Student number,Listing\n";
const BOTH: &str =
    "Sami,Vale,student@college.example,S1001,LIT 220-01\nOtis,Wren,other@college.example,S1002,LIT 220-01\n";

fn lists(studio: &Studio) -> String {
    format!("{}/people/list", studio.class_path())
}

fn paste(studio: &Studio, who: &Visitor, rows: &str) -> Page {
    who.post(&lists(studio), &[("text", &format!("{HEAD}{rows}"))])
}

/// The value of a hidden field.
fn hidden(page: &Page, name: &str) -> String {
    let text = page.text();
    let (_, rest) = text.split_once(&format!("name=\"{name}\" value=\"")).expect(name);
    rest.split('"').next().unwrap().to_owned()
}

/// Confirms a preview as its page does: multipart without a file.
fn confirm(studio: &Studio, who: &Visitor, preview: &Page, more: &[(&str, &str)]) -> Page {
    let (list, digest) = (hidden(preview, "list"), hidden(preview, "digest"));
    let fields = [&[("list", list.as_str()), ("digest", digest.as_str())][..], more].concat();
    who.upload(&format!("{}/confirm", lists(studio)), &fields, ("file", "", b""))
}

fn people(studio: &Studio) -> i64 {
    person::table.count().get_result(&mut studio.connection()).unwrap()
}

fn by_number(studio: &Studio, number: &str) -> (PersonId, String, Option<String>) {
    person::table
        .filter(person::student_number.eq(number))
        .select((person::id, person::family_name, person::email))
        .first(&mut studio.connection())
        .unwrap()
}

fn seat(studio: &Studio, id: PersonId) -> (String, String, Option<ListingId>) {
    enrolment::table
        .filter(enrolment::class_id.eq(studio.world.class).and(enrolment::person_id.eq(id)))
        .select((enrolment::role, enrolment::state, enrolment::listing_id))
        .first(&mut studio.connection())
        .unwrap()
}

fn second_listing(studio: &Studio) -> ListingId {
    let id = ListingId::new(NOW);
    diesel::insert_into(listing::table)
        .values((
            (listing::id.eq(id), listing::class_id.eq(studio.world.class), listing::code.eq("LIT 420")),
            (listing::section.eq("01"), listing::level.eq("graduate"), listing::credits_hundredths.eq(300)),
            (listing::basis.eq("letter"), listing::version.eq(1)),
        ))
        .execute(&mut studio.connection())
        .unwrap();
    id
}

fn count_letters(studio: &Studio) -> i64 {
    letter::table.filter(letter::kind.eq("invitation")).count().get_result(&mut studio.connection()).unwrap()
}

on_both! {
    fn a_messy_list_comes_in_and_the_same_list_again_asks_for_nothing(studio) {
        let text = "\r\nName;E-Mail;Student No.;Section;Role;Year\r\n\
            \"Lima, Ana\u{301}\"; ana.lima@student.example ;30114201;1;;2\r\n\
            \r\n\
            \"VALE, SAMI\";STUDENT@college.example;S1001;01;student;3\r\n\
            \"Wren, Otis\";;S1002;LIT 220-01;;3\r\n\
            Đặng, Thu Phương;;30114204;lit220 1;Teaching Assistant;4\r\n\
            Stone, Abel;assistant@college.example;;;assistant;\r\n";
        let mut file = vec![0xFF, 0xFE];
        file.extend(text.encode_utf16().flat_map(u16::to_le_bytes));
        let instructor = studio.signed_in(INSTRUCTOR);
        let before = people(studio);
        let preview = instructor.upload(&lists(studio), &[("text", "")], ("file", "class.csv", &file));
        let read = preview.read();
        assert_eq!(preview.status, 200, "{read}");
        assert!(read.contains("2 new people") && read.contains("Nothing to do for 3 people"), "{read}");
        assert!(read.contains("Columns that are not read: Year"), "{read}");
        assert_eq!(people(studio), before, "looking stores nothing");
        let done = confirm(studio, &instructor, &preview, &[("invite", "yes")]);
        assert_eq!((done.status, people(studio)), (303, before + 2), "{}", done.read());
        let (ana, family, email) = by_number(studio, "30114201");
        assert_eq!((family.as_str(), email.as_deref()), ("Lima", Some("ana.lima@student.example")));
        assert_eq!(seat(studio, ana), ("student".into(), "enrolled".into(), Some(studio.world.listing)));
        let (phuong, ..) = by_number(studio, "30114204");
        assert_eq!(seat(studio, phuong).0, "assistant");
        assert_eq!(count_letters(studio), 1, "one has an address; the other gets a slip");
        let page = instructor.get(&format!("{}/people", studio.class_path())).read();
        assert!(page.contains("Aná Lima") || page.contains("Ana\u{301} Lima"), "{page}");
        let again = instructor.upload(&lists(studio), &[], ("file", "class.csv", &file));
        assert!(again.read().contains("Nothing to do: the list asks for no change"), "{}", again.read());
        assert!(!again.has("name=\"digest\""), "nothing to confirm");
    }

    fn one_moves_one_is_withdrawn_and_comes_back(studio) {
        let other = second_listing(studio);
        let instructor = studio.signed_in(INSTRUCTOR);
        let preview = paste(studio, &instructor, "Otis,Wren,,S1002,LIT 420-01\n");
        let read = preview.read();
        assert!(read.contains("One person moved") && read.contains("LIT 220-01 LIT 420-01"), "{read}");
        assert!(read.contains("Withdraw Sami Vale") && read.contains("a listing of which the list names nobody"), "{read}");
        assert!(!preview.has(" checked"), "nobody is ticked beforehand");
        let stranger = studio.world.stranger.to_string();
        assert_eq!(confirm(studio, &instructor, &preview, &[("withdraw", &stranger)]).status, 422, "not proposed");
        assert_eq!(seat(studio, studio.world.other_student).2, Some(studio.world.listing), "then nothing is done");
        let sami = studio.world.student.to_string();
        assert_eq!(confirm(studio, &instructor, &preview, &[("withdraw", &sami)]).status, 303);
        assert_eq!(seat(studio, studio.world.other_student).2, Some(other));
        assert_eq!(seat(studio, studio.world.student).1, "withdrawn");
        let student = studio.signed_in(STUDENT);
        assert_eq!(student.get(&studio.class_path()).status, 404, "no longer in the class");
        let page = instructor.get(&format!("{}/people/{sami}", studio.class_path())).read();
        assert!(page.contains("not in the class list") && page.contains("Ines Ravel"), "{page}");
        let preview = paste(studio, &instructor, BOTH);
        assert!(preview.read().contains("One person brought back"), "{}", preview.read());
        assert_eq!(confirm(studio, &instructor, &preview, &[]).status, 303);
        assert_eq!(student.get(&studio.class_path()).status, 200);
        let changes: i64 = enrolment_change::table.count().get_result(&mut studio.connection()).unwrap();
        assert_eq!(changes, 4, "moved and back, withdrawn and back: each kept");
    }

    fn without_a_tick_nobody_is_withdrawn(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let preview = paste(studio, &instructor, "Ana,Lima,,30114201,LIT 220-01\n");
        assert!(preview.read().contains("2 people are not in the list"), "{}", preview.read());
        assert_eq!(confirm(studio, &instructor, &preview, &[]).status, 303);
        for id in [studio.world.student, studio.world.other_student] {
            assert_eq!(seat(studio, id).1, "enrolled");
        }
        assert_eq!(count_letters(studio), 0, "nobody is invited without being told to");
    }

    fn bad_rows_are_told_and_the_good_ones_come_in(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let list = "Given name,Family name,E-mail,Student number,Listing,Role\n\
            Ana,Lima,ana.lima@student.example,30114201,LIT 220-01,student\n\
            Eve,Grant,eve@student.example,30114202,LIT 220-01,records\n\
            Max,Broken,max-at-home,30114203,LIT 220-01,\n\
            Ida,Lost,ida@student.example,30114204,LIT 999-09,\n\
            <b>Bo</b>,Markup,bo@student.example,1.23457E+11,,\n\
            =SUM(A1),Formula,,30114206,,\n";
        let preview = instructor.post(&lists(studio), &[("text", list)]);
        let read = preview.read();
        assert!(read.contains("5 rows that cannot be used") && read.contains("One new person"), "{read}");
        for (line, value, remedy) in [
            (3, "records", "a keeper gives all other roles"), (4, "max-at-home", "Write it such as"),
            (5, "LIT 999-09", "LIT 220-01"), (6, "1.23457E+11", "Format the column as text"),
            (7, "SUM(A1)", "Delete the sign"),
        ] {
            assert!(read.contains(&format!("Line {line}, ")) && read.contains(value) && read.contains(remedy), "{line}: {read}");
        }
        assert!(!preview.has("<b>Bo</b>"), "what a list says is never markup");
        let before = people(studio);
        assert_eq!(confirm(studio, &instructor, &preview, &[]).status, 303);
        assert_eq!(people(studio), before + 1);
    }

    fn a_list_takes_over_no_account(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        // Another's number with the instructor's own mailbox: two people, a bad row.
        let preview = paste(studio, &instructor, &format!("Sami,Vale,{INSTRUCTOR},S1001,LIT 220-01\n"));
        assert!(preview.read().contains("belong to two different people"), "{}", preview.read());
        // Another's number with a mailbox nobody has yet; a name changed with it.
        let preview = paste(studio, &instructor, "Sami,Mine,mine@elsewhere.example,S1001,LIT 220-01\n");
        let read = preview.read();
        assert!(read.contains("details are left alone") && read.contains("e-mail “mine@elsewhere.example” in the list"), "{read}");
        let done = confirm(studio, &instructor, &preview, &[]);
        assert_eq!(done.status, 303, "{}", done.read());
        let (_, family, email) = by_number(studio, "S1001");
        assert_eq!((family.as_str(), email.as_deref()), ("Vale", Some(STUDENT)));
        // A person of the school office who has not opened the account yet: may be added, not changed, no slip.
        diesel::update(person::table.find(studio.world.records))
            .set((person::activated_at.eq(None::<i64>), person::password_hash.eq(None::<String>), person::student_number.eq("R1")))
            .execute(&mut studio.connection()).unwrap();
        let preview = paste(studio, &instructor, "Rhea,Folio,mine@elsewhere.example,R1,LIT 220-01\n");
        assert!(preview.read().contains("One known person, added to the class"), "{}", preview.read());
        assert_eq!(confirm(studio, &instructor, &preview, &[("invite", "yes")]).status, 303);
        assert_eq!(by_number(studio, "R1").2.as_deref(), Some(RECORDS));
        let slip = instructor.get(&format!("{}/people/{}/slip", studio.class_path(), studio.world.records));
        assert_eq!(slip.status, 409);
        assert!(slip.read().contains("only a keeper of the school prints its slip"), "{}", slip.read());
        assert!(!slip.has("/links/"));
    }

    fn a_new_address_voids_the_invitation_to_the_old_one(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let preview = paste(studio, &instructor, &format!("{BOTH}Ana,Lima,old@student.example,30114201,LIT 220-01\n"));
        confirm(studio, &instructor, &preview, &[("invite", "yes")]);
        let id: tympan::ids::LinkId = link::table.filter(link::purpose.eq("invitation"))
            .select(link::id).first(&mut studio.connection()).unwrap();
        let address = format!("/links/{}", studio.house.key.link_secret("invitation", id.as_str()));
        assert_eq!(studio.visitor().get(&address).status, 303, "open at first");
        let preview = paste(studio, &instructor, &format!("{BOTH}Ana,Lima-Reis,new@student.example,30114201,LIT 220-01\n"));
        let read = preview.read();
        assert!(read.contains("e-mail: old@student.example new@student.example") && read.contains("family name: Lima Lima-Reis"), "{read}");
        assert_eq!(confirm(studio, &instructor, &preview, &[]).status, 303);
        let (_, family, email) = by_number(studio, "30114201");
        assert_eq!((family.as_str(), email.as_deref()), ("Lima-Reis", Some("new@student.example")));
        assert_eq!(studio.visitor().get(&address).status, 410, "the old address opens nothing");
    }

    fn a_stale_preview_does_nothing_and_is_shown_anew(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let rows = format!("{BOTH}Ana,Lima,ana.lima@student.example,30114201,LIT 220-01\n");
        let preview = paste(studio, &instructor, &rows);
        let by_hand = instructor.post(&format!("{}/people", studio.class_path()), &[
            ("given_name", "Ana"), ("family_name", "Lima"), ("email", "ana.lima@student.example"), ("role", "student"),
        ]);
        assert_eq!(by_hand.status, 303, "{}", by_hand.read());
        let before = people(studio);
        let stale = confirm(studio, &instructor, &preview, &[]);
        assert_eq!(stale.status, 422);
        assert!(stale.read().contains("Somebody changed the class meanwhile") && stale.read().contains("student number: 30114201"), "{}", stale.read());
        assert_eq!(people(studio), before);
        assert_eq!(confirm(studio, &instructor, &stale, &[]).status, 303);
        assert_eq!(by_number(studio, "30114201").1, "Lima");
        let forged = instructor.post(&format!("{}/confirm", lists(studio)), &[("list", "!!"), ("digest", "x")]);
        assert_eq!(forged.status, 422, "{}", forged.read());
    }

    fn the_same_confirmation_twice_is_one(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let preview = paste(studio, &instructor, &format!("{BOTH}Ana,Lima,,,LIT 220-01\n"));
        let (list, digest) = (hidden(&preview, "list"), hidden(&preview, "digest"));
        let before = people(studio);
        for _ in 0..2 {
            let path = format!("{}/confirm", lists(studio));
            let page = instructor.post_once(&path, &[("list", &list), ("digest", &digest)], "one-key-of-one-form");
            assert_eq!(page.status, 303, "{}", page.read());
            assert!(page.location().ends_with("/people?done=done-roster-brought"));
        }
        assert_eq!(people(studio), before + 1);
        let brought: i64 = journal::table.filter(journal::act.eq("roster.brought")).count()
            .get_result(&mut studio.connection()).unwrap();
        assert_eq!(brought, 1);
    }

    fn what_is_no_list_is_refused_with_a_sentence(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = lists(studio);
        let big = vec![b'a'; 6_000_000];
        let page = instructor.upload(&path, &[], ("file", "big.csv", &big));
        assert_eq!(page.status, 422, "{}", page.read());
        assert!(page.read().contains("The file is larger than 5 MB. Choose a smaller one."), "{}", page.read());
        for (text, file, sentence) in [
            ("", &b""[..], "There is no list"),
            ("Name\nLima, Ana\n", &b"Name\nLima, Ana\n"[..], "a file and a pasted list"),
            ("", &b"PK\x03\x04rest"[..], "This is no zip file, or a damaged one."),
            ("", &b"Name;E-mail\nM\xFCller;x\n"[..], "cannot be read with certainty"),
            ("Ana;Lima\nx;y\n", &b""[..], "names no column that is known"),
        ] {
            let page = instructor.upload(&path, &[("text", text)], ("file", "a.csv", file));
            assert_eq!(page.status, 422, "{sentence}");
            assert!(page.read().contains(sentence), "{sentence}: {}", page.read());
        }
        let unsealed = instructor.upload_sealed("none", &path, &[], ("file", "a.csv", b"Name\nLima, Ana\n"));
        assert_eq!(unsealed.status, 403);
        let student = studio.signed_in(STUDENT);
        assert_eq!(student.upload(&path, &[], ("file", "a.csv", b"Name\nLima, Ana\n")).status, 403);
    }

    fn one_person_is_added_by_hand_invited_and_gets_a_slip(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let path = format!("{}/people", studio.class_path());
        let ana = [("given_name", "Ana"), ("family_name", "Lima"), ("student_number", "30114201"), ("role", "student")];
        assert_eq!(instructor.post(&path, &[&ana[..], &[("invite", "yes")]].concat()).status, 303);
        let (id, ..) = by_number(studio, "30114201");
        assert_eq!(seat(studio, id), ("student".into(), "enrolled".into(), Some(studio.world.listing)), "the only listing");
        let there = instructor.post(&path, &ana);
        assert_eq!(there.status, 422);
        assert!(there.read().contains("was or is in the class already") && there.has("value=\"30114201\""), "{}", there.read());
        let long = "x".repeat(101);
        for (field, value) in [
            ("given_name", long.as_str()), ("given_name", "A\u{7}"), ("email", "no-address"), ("role", "instructor"),
            ("role", ""), ("listing", "not-an-id"), ("listing", "00000000-0000-7000-8000-000000000000"),
        ] {
            let fields = [&[(field, value)][..], &[("family_name", "Test"), ("role", "student")]].concat();
            let page = instructor.post(&path, &fields);
            assert_eq!(page.status, 422, "{field}={value}: {}", page.read());
        }
        let taken = instructor.post(&path, &[("given_name", "Sami"), ("email", OTHER_STUDENT), ("student_number", "S1001"), ("role", "student")]);
        assert!(taken.read().contains("belong to two different people"), "{}", taken.read());
        let slip = instructor.get(&format!("{path}/{id}/slip"));
        assert!(slip.status == 200 && slip.has("/links/"), "{}", slip.read());
        let invited = instructor.post(&format!("{path}/{id}/invite"), &[]);
        assert_eq!(invited.status, 303);
        assert_eq!(instructor.post(&format!("{path}/{}/invite", studio.world.student), &[]).status, 409, "open already");
        assert_eq!(instructor.get(&format!("{path}/{}/slip", studio.world.stranger)).status, 404, "not of this class");
        assert_eq!(instructor.post(&format!("{path}/{}/invite", studio.world.stranger), &[]).status, 404);
    }

    fn a_state_and_a_role_are_changed_with_date_and_reason(studio) {
        let instructor = studio.signed_in(INSTRUCTOR);
        let sami = studio.world.student;
        let path = format!("{}/people/{sami}", studio.class_path());
        let state = |fields: &[(&str, &str)]| instructor.post(&format!("{path}/state"), fields);
        let good = [("version", "1"), ("state", "withdrawn"), ("since", "2026-10-19"), ("reason", "left the programme")];
        for (field, value, sentence) in [
            ("state", "gone", "not one of the choices"), ("state", "incomplete", "not one of the choices"),
            ("since", "2026-10-21", "is still ahead"), ("since", "2026-08-01", "when the last state began"),
            ("since", "soon", "is no day"), ("reason", "", "This is missing"), ("version", "x", "is no number"),
        ] {
            let fields = good.map(|(name, old)| if name == field { (name, value) } else { (name, old) });
            let page = state(&fields);
            assert_eq!(page.status, 422, "{field}={value}");
            assert!(page.read().contains(sentence), "{sentence}: {}", page.read());
        }
        assert_eq!(seat(studio, sami).1, "enrolled");
        assert_eq!(state(&good).status, 303);
        assert_eq!(seat(studio, sami).1, "withdrawn");
        let stale = state(&[("version", "1"), ("state", "dropped"), ("since", "2026-10-20"), ("reason", "typed words")]);
        assert_eq!(stale.status, 422);
        assert!(stale.read().contains("changed this person’s place") && stale.has("typed words"), "{}", stale.read());
        assert_eq!(hidden(&stale, "version"), "2");
        let page = instructor.get(&path).read();
        assert!(page.contains("left the programme") && page.contains("withdrawn since 19 Oct 2026"), "{page}");
        let role = [("version", "2"), ("role", "assistant"), ("listing", "")];
        assert_eq!(instructor.post(&format!("{path}/seat"), &role).status, 303);
        assert_eq!(seat(studio, sami), ("assistant".into(), "withdrawn".into(), None));
        let without = instructor.post(&format!("{path}/seat"), &[("version", "3"), ("role", "student")]);
        assert_eq!(without.status, 422, "a student belongs to a listing");
        let raised = instructor.post(&format!("{path}/seat"), &[("version", "3"), ("role", "instructor")]);
        assert_eq!(raised.status, 422);
        let own = format!("{}/people/{}/seat", studio.class_path(), studio.world.instructor);
        let own = instructor.post(&own, &[("version", "1"), ("role", "assistant")]);
        assert!(own.status == 422 && own.read().contains("by a keeper of the school"), "{}", own.read());
    }

    fn who_may_read_reads_and_changes_nothing(studio) {
        let path = format!("{}/people", studio.class_path());
        for reader in [ASSISTANT, RECORDS] {
            let reader = studio.signed_in(reader);
            let page = reader.get(&path);
            assert!(page.status == 200 && page.read().contains("Sami Vale"), "{}", page.read());
            assert!(!page.has("name=\"given_name\""), "no form to add somebody");
            let one = reader.get(&format!("{path}/{}", studio.world.student));
            assert!(one.status == 200 && !one.has("name=\"version\""), "{}", one.read());
            assert_eq!(reader.post(&path, &[("given_name", "Ana"), ("role", "student")]).status, 403);
        }
        assert_eq!(studio.signed_in(STUDENT).get(&path).status, 403);
    }

    fn the_command_prints_the_plan_and_does_it_when_told(studio) {
        let list = format!("{HEAD}{BOTH}Ana,Lima,ana.lima@student.example,30114201,LIT 220-01\n").into_bytes();
        let order = Order { class: "LIT-B", term: "Autumn 2026", apply: false, by: None };
        let run = |order: Order<'_>| actix_web::rt::System::new().block_on(bring(&studio.house, list.clone(), &order));
        let before = people(studio);
        let told = run(order).unwrap().join("\n");
        assert!(told.contains("1 added") && told.contains("2 with nothing to do") && told.contains("Ana Lima is new"), "{told}");
        assert_eq!(people(studio), before);
        run(Order { apply: true, ..order }).unwrap();
        assert_eq!(people(studio), before + 1);
        let again = run(Order { apply: true, ..order }).unwrap().join("\n");
        assert!(again.contains("0 added") && again.contains("3 with nothing to do"), "{again}");
        assert!(run(Order { class: "LIT-Z", ..order }).unwrap_err().contains("no class “LIT-Z”"));
        let named = Order { apply: true, by: Some(STUDENT), ..order };
        assert!(run(named).unwrap_err().contains("no instructor of this class"));
    }
}
