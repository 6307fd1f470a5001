//! Signing in takes 46 MiB a password, two passwords at a time: whatever the load, memory stays within 100 MiB more. Both
//! are watched in a process of their own, because other tests use memory too.

use std::net::TcpListener;
use std::process::{Child, Command};

use diesel::prelude::*;
use tympan::passwords::Passwords;
use tympan::store::connections::dial;
use tympan::store::schema::person;

use crate::studio::database::fresh;
use crate::studio::world::{INSTRUCTOR, World};
use crate::studio::{Engine, PASSWORD, Visitor};

const MOST_MIB: u64 = 100;

/// A line of `/proc/<pid>/status` in MiB: `VmRSS` what is held now, `VmHWM` the most there ever was.
fn mib(pid: u32, what: &str) -> u64 {
    let status = std::fs::read_to_string(format!("/proc/{pid}/status")).unwrap();
    let line = status.lines().find(|line| line.starts_with(what)).unwrap();
    line.split_whitespace().nth(1).unwrap().parse::<u64>().unwrap() / 1024
}

fn block_on<T>(work: impl Future<Output = T>) -> T {
    tokio::runtime::Builder::new_current_thread().build().unwrap().block_on(work)
}

/// Ends the server when the test does.
struct Server(Child);

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

#[test]
fn a_hundred_hashes_from_eight_threads_stay_within_bounds() {
    let done = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "stories::sign_in_memory::hashes_alone_in_its_process", "--ignored", "--nocapture"])
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&done.stdout);
    assert!(done.status.success() && said.contains("1 passed"), "{said}");
}

#[test]
#[ignore = "run by the test above, in a process of its own"]
fn hashes_alone_in_its_process() {
    let passwords = Passwords::new(false).unwrap();
    let own = std::process::id();
    // The first hash brings in the program's own pages, which are no memory of a password.
    block_on(passwords.hash("gum over the whole plate".to_owned())).unwrap();
    let before = mib(own, "VmRSS");
    std::thread::scope(|scope| {
        for thread in 0..8 {
            let passwords = &passwords;
            let share = if thread < 4 { 13 } else { 12 };
            scope.spawn(move || {
                for _ in 0..share {
                    // On a busy machine one may be told to come again; the bound is on memory, not on time.
                    let hash = loop {
                        match block_on(passwords.hash("gum over the whole plate".to_owned())) {
                            Err(tympan::trouble::Trouble::Busy) => {}
                            other => break other.unwrap(),
                        }
                    };
                    assert!(hash.starts_with("$argon2id$v=19$m=47104,t=1,p=1$"), "{hash}");
                }
            });
        }
    });
    let (after, most) = (mib(own, "VmRSS"), mib(own, "VmHWM"));
    assert!(most - before <= MOST_MIB, "{before} MiB before, {most} MiB at most");
    assert!(after - before <= MOST_MIB / 2, "{before} MiB before, {after} MiB after: not given back");
}

#[test]
fn fifty_people_signing_in_at_once_stay_within_bounds() {
    let (held, address) = fresh(Engine::Sqlite);
    let db = &mut dial(&address, false).unwrap();
    World::plain(db);
    let hash = block_on(Passwords::new(false).unwrap().hash(PASSWORD.to_owned())).unwrap();
    diesel::update(person::table).set(person::password_hash.eq(hash)).execute(db).unwrap();
    let port = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
    let base = format!("http://{port}");
    let child = Command::new(env!("CARGO_BIN_EXE_tympan"))
        .arg("serve")
        .env("TYMPAN_DATA", held.folder())
        .env("TYMPAN_DATABASE_URL", format!("sqlite:{}", held.folder().join("tympan.db").display()))
        .env("TYMPAN_PUBLIC_URL", &base)
        .env("TYMPAN_LISTEN", port.to_string())
        .stdout(std::process::Stdio::null())
        .spawn()
        .unwrap();
    let pid = child.id();
    let _server = Server(child);
    let began = std::time::Instant::now();
    while std::net::TcpStream::connect(port).is_err() {
        assert!(began.elapsed().as_secs() < 60, "the server does not listen");
        std::thread::sleep(std::time::Duration::from_millis(50));
    }
    let visitors: Vec<Visitor> = (0..50).map(|_| Visitor::new(&base)).collect();
    visitors.iter().for_each(|visitor| drop(visitor.seal()));
    let before = mib(pid, "VmHWM");
    std::thread::scope(|scope| {
        for visitor in visitors {
            scope.spawn(move || {
                let page = visitor.post("/sign-in", &[("email", INSTRUCTOR), ("password", PASSWORD)]);
                assert_eq!(page.status, 303, "{}", page.read());
            });
        }
    });
    let most = mib(pid, "VmHWM");
    assert!(most - before <= MOST_MIB, "{before} MiB before, {most} MiB at most");
}
