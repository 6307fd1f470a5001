//! Floor and program, each behind a port of its own in this one process, with one worker each: the same allocator, the
//! same flags, the same core.

use std::net::TcpListener;
use std::sync::Arc;
use std::sync::atomic::AtomicI64;

use actix_web::dev::{Server, ServerHandle};
use actix_web::web;
use tympan::clock::Clock;
use tympan::pages::limits::Limits;
use tympan::pages::{House, server};
use tympan::secrets::ServerKey;
use tympan::settings::Settings;
use tympan::store::Db;
use tympan::store::connections::Address;

use crate::school::{self, School};
use crate::world::NOW;

/// A server that ends with this value.
pub struct Running {
    pub base: String,
    handle: ServerHandle,
    thread: Option<std::thread::JoinHandle<()>>,
}

impl Running {
    /// Serves with what `start` makes of a listener.
    pub fn start(start: impl FnOnce(TcpListener) -> std::io::Result<Server> + Send + 'static) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let base = format!("http://{}", listener.local_addr().unwrap());
        let (sender, receiver) = std::sync::mpsc::channel();
        let thread = std::thread::spawn(move || {
            actix_web::rt::System::new().block_on(async move {
                let server = start(listener).unwrap();
                sender.send(server.handle()).unwrap();
                server.await.unwrap();
            });
        });
        Self { base, handle: receiver.recv().unwrap(), thread: Some(thread) }
    }

    /// The program over a house.
    pub fn program(house: web::Data<House>) -> Self {
        Self::start(move |listener| server::serve(house, listener, 1))
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        let stop = self.handle.stop(false);
        let _ended = std::thread::spawn(move || actix_web::rt::System::new().block_on(stop)).join();
        if let Some(thread) = self.thread.take() {
            let _ended = thread.join();
        }
    }
}

/// The program's house over a school, as `serve` builds it, with a clock that stands and limits no load reaches.
pub fn house(school: &School) -> House {
    let clock = Clock::Set(Arc::new(AtomicI64::new(NOW.millis())));
    let key = ServerKey::from_bytes([42; 32]);
    let db = Db::open(school.address.clone()).unwrap();
    let mut house = House::build(settings(&school.address), db, clock, key).unwrap();
    house.limits = Limits::of((10_000_000, 10_000_000), (10_000_000, 10_000_000));
    house
}

/// Settings as an environment gives them, with everything kept in the bench's folder.
pub fn settings(address: &Address) -> Settings {
    let database = match address {
        Address::Sqlite(path) => format!("sqlite:{}", path.display()),
        Address::Postgres(url) => url.clone(),
    };
    let given = [
        ("TYMPAN_DATA", school::folder().display().to_string()),
        ("TYMPAN_DATABASE_URL", database),
        ("TYMPAN_PUBLIC_URL", "http://127.0.0.1:8080".to_owned()),
    ];
    let given = given.into_iter().map(|(name, value)| (name.to_owned(), value)).collect();
    Settings::from_values(&given).unwrap()
}

/// An answer: status, the headers that matter here, body.
#[derive(Debug, Clone)]
pub struct Answer {
    pub status: u16,
    pub set_cookie: Vec<String>,
    pub body: String,
}

/// Asks once.
///
/// # Errors
/// No answer.
pub fn get(address: &str, cookie: &str) -> Result<Answer, String> {
    answered(address, agent().get(address).header("cookie", cookie).call())
}

/// Sends a form once.
///
/// # Errors
/// No answer.
pub fn post(address: &str, cookie: &str, form: &str) -> Result<Answer, String> {
    let request = agent().post(address).header("cookie", cookie);
    answered(address, request.header("content-type", "application/x-www-form-urlencoded").send(form))
}

fn agent() -> ureq::Agent {
    ureq::Agent::config_builder().max_redirects(0).http_status_as_error(false).build().new_agent()
}

fn answered(
    address: &str,
    sent: Result<ureq::http::Response<ureq::Body>, ureq::Error>,
) -> Result<Answer, String> {
    let mut response = sent.map_err(|error| format!("{address}: {error}"))?;
    let set_cookie = response
        .headers()
        .get_all("set-cookie")
        .iter()
        .filter_map(|value| Some(value.to_str().ok()?.to_owned()));
    let set_cookie = set_cookie.collect();
    let status = response.status().as_u16();
    let body = response.body_mut().read_to_string().map_err(|error| format!("{address}: {error}"))?;
    Ok(Answer { status, set_cookie, body })
}
