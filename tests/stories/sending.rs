//! Letters over real SMTP and into a real folder, and the program killed while the other side has a letter.

use std::io::{BufRead, BufReader, Write};
use std::net::TcpListener;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

use diesel::prelude::*;
use tympan::clock::Instant;
use tympan::ids::{Id, LetterId, LinkId, PersonId};
use tympan::post::runner::Delivery;
use tympan::post::transport::{Folder, Smtp, Transport};
use tympan::store::connections::Address;
use tympan::store::schema::{letter, link, person};

use crate::on_both;
use crate::studio::Studio;
use crate::studio::letterbox::block;
use crate::studio::world::*;

/// Where the sink of `tests/with-letter-sink` listens, and the folder it keeps what it is sent in.
fn sink() -> (String, PathBuf) {
    let missing = "run this beside an SMTP server: tests/with-letter-sink cargo test …, as tests/run does";
    let url = std::env::var("TYMPAN_TEST_SMTP_URL").expect(missing);
    (url, PathBuf::from(std::env::var("TYMPAN_TEST_SMTP_FOLDER").expect(missing)))
}

/// The letters the sink has that carry this Message-ID. Tests beside this one fill the same folder.
fn kept(folder: &Path, letter: LetterId) -> Vec<String> {
    let files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    files
        .filter(|path| path.extension().is_some_and(|ending| ending == "eml"))
        .filter_map(|path| String::from_utf8(std::fs::read(path).unwrap()).ok())
        .filter(|text| text.contains(&format!("Message-ID: <{letter}@")))
        .collect()
}

/// Makes somebody with this address and name, and a letter to them.
fn letter_to(studio: &Studio, email: &str, given: &str) -> (PersonId, LetterId) {
    let db = &mut studio.connection();
    let (person, id): (PersonId, LetterId) = (Id::new(studio.now()), Id::new(studio.now()));
    diesel::insert_into(person::table)
        .values((
            (person::id.eq(person), person::given_name.eq(given), person::family_name.eq("Vale")),
            (person::email.eq(email), person::email_key.eq(person.to_string()), person::keeper.eq(false)),
            (person::records.eq(false), person::safety_officer.eq(false), person::volume_unit.eq("ml")),
            (person::daily_letter.eq(true), person::failed_sign_ins.eq(0)),
            (person::created_at.eq(studio.now()), person::version.eq(1)),
        ))
        .execute(db)
        .unwrap();
    diesel::insert_into(letter::table)
        .values((
            (letter::id.eq(id), letter::kind.eq("password-changed"), letter::person_id.eq(person)),
            (
                letter::detail.eq("{}"),
                letter::created_at.eq(studio.now()),
                letter::not_before.eq(studio.now()),
            ),
            letter::attempts.eq(0),
        ))
        .execute(db)
        .unwrap();
    (person, id)
}

fn last_error(studio: &Studio, id: LetterId) -> String {
    let found: Option<String> =
        letter::table.find(id).select(letter::last_error).first(&mut studio.connection()).unwrap();
    found.unwrap_or_default()
}

fn is_sent(studio: &Studio, id: LetterId) -> bool {
    letter::table.find(id).select(letter::sent_at.is_not_null()).first(&mut studio.connection()).unwrap()
}

fn deliver(studio: &Studio, transport: impl Transport + 'static) -> Delivery {
    block(studio.post(Arc::new(transport)).deliver_one()).unwrap()
}

fn smtp(url: &str) -> Smtp {
    Smtp::new(url, None).unwrap()
}

/// A mail server that takes a letter whole and then says nothing more.
struct Silent {
    port: u16,
    letters: Receiver<String>,
}

impl Silent {
    fn listen() -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let port = listener.local_addr().unwrap().port();
        let (sender, letters) = channel();
        std::thread::spawn(move || {
            let (stream, _) = listener.accept().unwrap();
            let mut out = stream.try_clone().unwrap();
            let mut lines = BufReader::new(stream).lines().map_while(Result::ok);
            out.write_all(b"220 silent.example\r\n").unwrap();
            while let Some(line) = lines.next() {
                if line == "DATA" {
                    out.write_all(b"354 go on\r\n").unwrap();
                    let whole: Vec<String> = lines.by_ref().take_while(|line| line != ".").collect();
                    sender.send(whole.join("\n")).unwrap();
                } else {
                    out.write_all(b"250 ok\r\n").unwrap();
                }
            }
        });
        Self { port, letters }
    }
}

/// The program itself on the studio's database, writing its finest log.
fn program(studio: &Studio, smtp_url: &str) -> Child {
    let data = studio.house.settings.data.clone();
    let key = data.join("key-of-the-test");
    std::fs::write(&key, studio.house.key.bytes()).unwrap();
    let database = match studio.house.db.address() {
        Address::Sqlite(path) => format!("sqlite:{}", path.display()),
        Address::Postgres(url) => url.clone(),
    };
    Command::new(env!("CARGO_BIN_EXE_tympan"))
        .args(["remind", "--once"])
        .env_clear()
        .env("TYMPAN_DATA", &data)
        .env("TYMPAN_DATABASE_URL", database)
        .env("TYMPAN_PUBLIC_URL", &studio.base)
        .env("TYMPAN_KEY_FILE", key)
        .env("TYMPAN_SMTP_URL", smtp_url)
        .env("TYMPAN_LOG", "trace")
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

/// What a program said until it ended, on both of its outputs.
fn said(child: Child) -> String {
    let output = child.wait_with_output().unwrap();
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

on_both! {
    fn a_mail_server_gets_the_letter_whole(studio) {
        let (url, folder) = sink();
        for (email, given) in [("wren@students.example", "Zoë"), ("zoë@students.example", "李")] {
            let (_, id) = letter_to(studio, email, given);
            assert_eq!(deliver(studio, smtp(&url)), Delivery::Sent);
            let kept = kept(&folder, id);
            assert_eq!(kept.len(), 1);
            assert!(kept[0].starts_with(&format!(
                "X-Envelope-From: <tympan@localhost>\r\nX-Envelope-To: <{email}>\r\nFrom: "
            )), "{}", kept[0]);
            assert!(kept[0].contains("Auto-Submitted: auto-generated\r\n") && kept[0].contains("Subject: Your password"));
            assert!(is_sent(studio, id));
        }
    }

    fn refusals_of_a_mail_server_are_told_apart(studio) {
        let (url, folder) = sink();
        let (busy, waits) = letter_to(studio, "busy@students.example", "Bo");
        assert_eq!(deliver(studio, smtp(&url)), Delivery::Postponed);
        assert!(last_error(studio, waits).contains("450") || last_error(studio, waits).contains("4.2.1"),
            "{}", last_error(studio, waits));
        for (email, code) in [("gone@students.example", "5.1.1"), ("full@students.example", "5.2.2")] {
            let (_, id) = letter_to(studio, email, "Fay");
            assert_eq!(deliver(studio, smtp(&url)), Delivery::Failed, "{email}");
            assert!(last_error(studio, id).contains(code), "{}", last_error(studio, id));
            assert!(kept(&folder, id).is_empty());
        }
        diesel::update(person::table.find(busy)).set(person::email.eq("bo@students.example"))
            .execute(&mut studio.connection()).unwrap();
        studio.later_ms(120_000);
        assert_eq!(deliver(studio, smtp(&url)), Delivery::Sent, "to the address as it is now");
        assert!(kept(&folder, waits)[0].contains("X-Envelope-To: <bo@students.example>"));
        assert_eq!(last_error(studio, waits), "");
    }

    fn a_server_that_is_not_there_loses_nothing(studio) {
        let (url, folder) = sink();
        let (_, id) = letter_to(studio, "wren@students.example", "Wren");
        let nobody = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
        assert_eq!(deliver(studio, smtp(&format!("smtp://{nobody}"))), Delivery::Unreachable);
        assert!(last_error(studio, id).to_lowercase().contains("refused"), "{}", last_error(studio, id));
        studio.later_ms(120_000);
        assert_eq!(deliver(studio, smtp(&format!("smtp://{nobody}?tls=required"))), Delivery::Unreachable);
        studio.later_ms(240_000);
        assert_eq!(deliver(studio, smtp(&format!("{url}?tls=required"))), Delivery::Unreachable,
            "this server knows no STARTTLS, and without it nothing is sent");
        studio.later_ms(480_000);
        assert_eq!(deliver(studio, smtp(&url)), Delivery::Sent);
        assert_eq!(kept(&folder, id).len(), 1);
    }

    fn a_certificate_nobody_vouches_for_is_refused(studio) {
        let (_, folder) = sink();
        let found = |name: &str| std::env::var(name).expect("tests/with-letter-sink sets it");
        let ca = PathBuf::from(found("TYMPAN_TEST_SMTP_CA_FILE"));
        for (name, wait) in [("TYMPAN_TEST_SMTPS_URL", 0), ("TYMPAN_TEST_STARTTLS_URL", 600_000)] {
            studio.later_ms(wait);
            let url = found(name);
            let (_, id) = letter_to(studio, "wren@students.example", "Wren");
            assert_eq!(deliver(studio, smtp(&url)), Delivery::Unreachable, "{name}");
            let said = last_error(studio, id).to_lowercase();
            assert!(said.contains("certificate") || said.contains("issuer"), "{name}: {said}");
            assert!(kept(&folder, id).is_empty());
            studio.later_ms(120_000);
            assert_eq!(deliver(studio, Smtp::new(&url, Some(&ca)).unwrap()), Delivery::Sent, "{name}");
            assert_eq!(kept(&folder, id).len(), 1);
            // The same server under a name its certificate does not have.
            let (_, id) = letter_to(studio, "wren@students.example", "Wren");
            let other_name = url.replace("127.0.0.1", "localhost");
            assert_eq!(deliver(studio, Smtp::new(&other_name, Some(&ca)).unwrap()), Delivery::Unreachable, "{name}");
            assert!(!is_sent(studio, id));
            diesel::delete(letter::table.find(id)).execute(&mut studio.connection()).unwrap();
        }
    }

    fn a_program_killed_after_sending_sends_the_same_message_again(studio) {
        let (url, folder) = sink();
        // The program of its own runs by the machine's clock.
        let machine = chrono::Utc::now().timestamp_millis();
        studio.later_ms(machine - studio.now().millis());
        studio.visitor().post("/forgotten", &[("email", STUDENT)]);
        let id: LetterId = letter::table.select(letter::id).first(&mut studio.connection()).unwrap();
        let link: LinkId = link::table.select(link::id).first(&mut studio.connection()).unwrap();
        let secret = studio.house.key.link_secret("reset", link.as_str());
        let silent = Silent::listen();
        let mut child = program(studio, &format!("smtp://127.0.0.1:{}", silent.port));
        let first = silent.letters.recv_timeout(Duration::from_secs(60)).unwrap();
        child.kill().unwrap();
        let log = said(child);
        assert!(!is_sent(studio, id), "nobody has said yes");
        assert!(first.contains(&format!("Message-ID: <{id}@127.0.0.1>")), "{first}");
        // As if the five minutes of the killed program's lease were over.
        diesel::update(letter::table.find(id)).set(letter::lease_until.eq(Instant::from_millis(1)))
            .execute(&mut studio.connection()).unwrap();
        let log = log + &said(program(studio, &url));
        // On a Monday the program writes the week's letters of its own accord, and sends them too.
        let sent = |line: &&str| line.contains(id.as_str()) && line.contains("\"delivery\":\"Sent\"");
        assert_eq!(log.lines().filter(sent).count(), 1, "{log}");
        let again = kept(&folder, id);
        assert_eq!(again.len(), 1, "{log}");
        assert!(is_sent(studio, id));
        let body = |text: &str| text.replace("=\r\n", "").replace("=\n", "");
        assert!(body(&again[0]).contains(&secret) && body(&first).contains(&secret));
        assert!(!log.contains(&secret) && !log.contains(STUDENT), "{log}");
        assert!(log.contains(id.as_str()), "the log says which letter: {log}");
    }

    fn files_are_for_the_programs_user_alone(studio) {
        let folder = studio.house.settings.data.join("letters");
        let (_, id) = letter_to(studio, "wren@students.example", "Zoë");
        assert_eq!(deliver(studio, Folder::new(folder.clone())), Delivery::Sent);
        let file = folder.join(format!("{id}.eml"));
        let mode = |path: &Path| std::fs::metadata(path).unwrap().permissions().mode() & 0o777;
        assert_eq!((mode(&folder), mode(&file)), (0o700, 0o600));
        let text = std::fs::read_to_string(&file).unwrap();
        assert!(text.starts_with("From: Tympan <tympan@localhost>\r\n") && text.ends_with("--\r\n"), "{text}");
        let names: Vec<_> = std::fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().file_name()).collect();
        assert_eq!(names.len(), 1, "no half-written file is left: {names:?}");
        std::fs::write(&file, "what an earlier run left").unwrap();
        std::fs::set_permissions(&file, std::fs::Permissions::from_mode(0o644)).unwrap();
        diesel::update(letter::table.find(id)).set(letter::sent_at.eq(None::<Instant>))
            .execute(&mut studio.connection()).unwrap();
        assert_eq!(deliver(studio, Folder::new(folder.clone())), Delivery::Sent);
        assert_eq!(mode(&file), 0o600);
        assert!(std::fs::read_to_string(&file).unwrap().contains(id.as_str()));
    }

    fn a_folder_that_cannot_be_written_loses_nothing(studio) {
        let (_, id) = letter_to(studio, "wren@students.example", "Wren");
        let file = studio.house.settings.data.join("a-file");
        std::fs::write(&file, "").unwrap();
        assert_eq!(deliver(studio, Folder::new(file.join("letters"))), Delivery::Unreachable);
        assert!(last_error(studio, id).contains("a-file"), "{}", last_error(studio, id));
        assert!(!is_sent(studio, id));
    }
}
