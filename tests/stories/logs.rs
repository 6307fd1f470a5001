//! What the server writes into its log: a canary story with the real program at its most talkative. Nothing that a
//! reader of logs should not know stands in it: no password, no link, no session, no address, no name, no grade.

use std::io::Read;
use std::net::TcpListener;
use std::process::{Child, Command, Stdio};

use diesel::prelude::*;
use tympan::secrets::ServerKey;
use tympan::store::connections::dial;
use tympan::store::schema::link;

use crate::studio::database::{Held, fresh};
use crate::studio::things::Things;
use crate::studio::world::*;
use crate::studio::{Engine, Visitor};

/// The real program over a database of its own.
pub struct Serving {
    pub base: String,
    pub child: Child,
    pub held: Held,
    pub world: World,
    pub things: Things,
    pub key: ServerKey,
}

impl Serving {
    /// Starts it; whatever it writes goes into the file `log` of its folder.
    pub fn start(log: &str) -> Self {
        let (held, address) = fresh(Engine::Sqlite);
        let db = &mut dial(&address, false).unwrap();
        let world = World::plain(db);
        let things = Things::set(db, &world);
        let key = [7; 32];
        std::fs::write(held.folder().join("own-key"), key).unwrap();
        let port = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
        let base = format!("http://{port}");
        let file = std::fs::File::create(held.folder().join("log")).unwrap();
        let child = Command::new(env!("CARGO_BIN_EXE_tympan"))
            .arg("serve")
            .env("TYMPAN_DATA", held.folder())
            .env("TYMPAN_DATABASE_URL", format!("sqlite:{}", held.folder().join("tympan.db").display()))
            .env("TYMPAN_PUBLIC_URL", &base)
            .env("TYMPAN_LISTEN", port.to_string())
            .env("TYMPAN_KEY_FILE", held.folder().join("own-key"))
            .env("TYMPAN_LOG", log)
            .stdout(Stdio::from(file.try_clone().unwrap()))
            .stderr(Stdio::from(file))
            .spawn()
            .unwrap();
        let serving = Self { base, child, held, world, things, key: ServerKey::from_bytes(key) };
        let began = std::time::Instant::now();
        while std::net::TcpStream::connect(port).is_err() {
            assert!(began.elapsed().as_secs() < 60, "the server does not listen: {}", serving.log());
            std::thread::sleep(std::time::Duration::from_millis(50));
        }
        serving
    }

    pub fn log(&self) -> String {
        let mut text = String::new();
        std::fs::File::open(self.held.folder().join("log")).unwrap().read_to_string(&mut text).unwrap();
        text
    }

    pub fn visitor(&self) -> Visitor {
        Visitor::new(&self.base)
    }

    pub fn signed_in(&self, email: &str) -> Visitor {
        let visitor = self.visitor();
        let page = visitor.post("/sign-in", &[("email", email), ("password", PASSWORD)]);
        assert_eq!(page.status, 303, "{}", page.read());
        visitor
    }

    pub fn database(&self) -> tympan::store::AnyConnection {
        dial(&tympan::store::connections::Address::Sqlite(self.held.folder().join("tympan.db")), false)
            .unwrap()
    }

    /// Asks it to stop as a service manager does, and waits for how it leaves.
    pub fn stop(&mut self) -> Option<i32> {
        let asked = Command::new("kill").args(["-TERM", &self.child.id().to_string()]).status().unwrap();
        assert!(asked.success());
        self.child.wait().unwrap().code()
    }
}

impl Drop for Serving {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn nothing_personal_gets_into_the_log() {
    let mut serving = Serving::start("trace");
    let class = format!("/classes/{}", serving.world.class);
    let guesser = serving.visitor();
    let wrong = guesser.post("/sign-in", &[("email", STUDENT), ("password", "canary-wrong-password")]);
    assert_eq!(wrong.status, 422);
    assert_eq!(guesser.post("/forgotten", &[("email", OTHER_STUDENT)]).status, 200);
    let id: tympan::ids::LinkId = link::table
        .filter(link::purpose.eq("reset"))
        .select(link::id)
        .first(&mut serving.database())
        .unwrap();
    let secret = serving.key.link_secret("reset", id.as_str());
    assert_eq!(guesser.get(&format!("/links/{secret}")).location(), "/new-password");
    let new = "canary of a new sentence";
    assert_eq!(guesser.post("/new-password", &[("new", new), ("again", new)]).status, 303);
    let student = serving.signed_in(STUDENT);
    for page in ["", "/plates", "/grades", "/search?words=canary-sought"] {
        assert_eq!(student.get(&format!("{class}{page}")).status, 200, "{page}");
    }
    let instructor = serving.signed_in(INSTRUCTOR);
    let marking =
        format!("{class}/assessments/{}/marking/{}", serving.things.assessment, serving.world.student);
    assert_eq!(instructor.get(&marking).status, 200);
    let one = |what: &str| format!("{what}-{}", serving.world.student);
    let (status, points, words) = (one("status"), one("points"), one("words"));
    let fields =
        [(status.as_str(), "graded"), (points.as_str(), "77.77"), (words.as_str(), "Canary of the remark.")];
    let marked = instructor.post(&marking, &fields);
    assert!(marked.status < 500, "{}", marked.read());
    let list =
        "Student number,Given name,Family name,E-mail\nS7700,Canarina,Canariensis,canarina@college.example\n";
    let looked =
        instructor.upload(&format!("{class}/people/list"), &[], ("file", "list.csv", list.as_bytes()));
    assert_eq!(looked.status, 200, "{}", looked.read());
    assert!(looked.read().contains("Canariensis"), "{}", looked.read());
    let added = instructor.post(
        &format!("{class}/people"),
        &[
            ("given_name", "Nuevo"),
            ("family_name", "Canarquez"),
            ("email", "nuevo@college.example"),
            ("role", "student"),
            ("student_number", "S7701"),
            ("listing", serving.world.listing.as_str()),
        ],
    );
    assert_eq!(added.status, 303, "{}", added.read());
    assert_eq!(instructor.get(&format!("{class}/records/grades.csv")).status, 200);
    // The post has its turn meanwhile.
    std::thread::sleep(std::time::Duration::from_millis(1500));
    let cookies = [student.cookie("sid").unwrap(), instructor.cookie("sid").unwrap(), instructor.seal()];
    assert_eq!(serving.stop(), Some(0));
    let log = serving.log();
    assert!(log.lines().count() > 30 && log.contains("request"), "the log was read: {log}");
    let mut told: Vec<String> = [
        PASSWORD,
        "canary-wrong-password",
        new,
        STUDENT,
        INSTRUCTOR,
        OTHER_STUDENT,
        "college.example",
        "Canari",
        "Canarquez",
        "Vale",
        "Ravel",
        "S1001",
        "S7700",
        "S7701",
        "77.77",
        "7777",
        "Canary of the remark",
        "Good blacks",
        "canary-sought",
        &secret,
        "Stair lamp",
    ]
    .map(str::to_owned)
    .into();
    told.extend(cookies);
    for word in told {
        if let Some(line) = log.lines().find(|line| stands_in(line, &word)) {
            panic!("“{word}” stands in the log: {line}");
        }
    }
}

/// Whether a word stands in a line; a number that is a part of a longer one, such as of a time, is another number.
fn stands_in(line: &str, word: &str) -> bool {
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    line.match_indices(word).any(|(at, _)| {
        let (before, after) = (line[..at].chars().next_back(), line[at + word.len()..].chars().next());
        !(word.starts_with(|c: char| c.is_ascii_digit()) && (digit(before) || digit(after)))
    })
}
