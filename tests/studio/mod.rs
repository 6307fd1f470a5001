//! The test studio: the real program on a free port with its own database, clock and folder, and visitors with
//! browsers' habits. Every test that touches the database runs on SQLite and on PostgreSQL by `on_both!`.

pub mod browserlike;
pub mod crowd;
pub mod database;
pub mod letterbox;
pub mod things;
pub mod world;

use std::net::TcpListener;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use actix_web::dev::ServerHandle;
use actix_web::web;
use tympan::clock::{Clock, Instant};
use tympan::pages::{House, server};
use tympan::secrets::ServerKey;
use tympan::settings::Settings;
use tympan::store::Db;
use tympan::store::connections::Address;

pub use browserlike::{Page, Visitor};
pub use database::Engine;
pub use world::{PASSWORD, World};

/// Declares a test twice: `name::sqlite` and `name::postgres`.
#[macro_export]
macro_rules! on_both {
    ($($(#[$doc:meta])* fn $name:ident($studio:ident) $body:block)+) => { $(
        $(#[$doc])*
        mod $name {
            #[allow(unused_imports)]
            use super::*;
            fn story($studio: &$crate::studio::Studio) $body
            #[test]
            fn sqlite() { story(&$crate::studio::Studio::open($crate::studio::Engine::Sqlite)); }
            #[test]
            fn postgres() { story(&$crate::studio::Studio::open($crate::studio::Engine::Postgres)); }
        }
    )+ };
}

/// A running program.
pub struct Studio {
    pub base: String,
    pub house: web::Data<House>,
    pub world: World,
    clock: Arc<AtomicI64>,
    handle: ServerHandle,
    thread: Option<std::thread::JoinHandle<()>>,
    _database: database::Held,
}

impl Studio {
    /// Opens a studio with the plain world in it: a school, a class in mid-term, one person of each kind.
    pub fn open(engine: Engine) -> Self {
        Self::open_with(engine, World::plain, |_| {})
    }

    /// Opens a studio in a house that is otherwise than usual: behind TLS, with other limits.
    pub fn open_changed(engine: Engine, change: impl FnOnce(&mut House)) -> Self {
        Self::open_with(engine, World::plain, change)
    }

    /// Opens a studio with nothing in it but the schema.
    pub fn open_empty(engine: Engine) -> Self {
        Self::open_with(engine, |_| World::nobody(), |_| {})
    }

    fn open_with(
        engine: Engine,
        people: impl Fn(&mut tympan::store::AnyConnection) -> World,
        change: impl FnOnce(&mut House),
    ) -> Self {
        // Troubles inside the program are printed, so that a failing story says why.
        let _already = tracing_subscriber::fmt().with_env_filter("error").with_test_writer().try_init();
        let (held, address) = database::fresh(engine);
        let world = {
            let mut connection = tympan::store::connections::dial(&address, false).unwrap();
            people(&mut connection)
        };
        let folder = held.folder().to_path_buf();
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let base = format!("http://{}", listener.local_addr().unwrap());
        let clock = Arc::new(AtomicI64::new(world::NOW.millis()));
        let settings = settings(&folder, &base, &address);
        let db = Db::open(address).unwrap();
        let key = ServerKey::from_bytes([42; 32]);
        let mut house = House::build(settings, db, Clock::Set(clock.clone()), key).unwrap();
        change(&mut house);
        let house = web::Data::new(house);
        let (sender, receiver) = std::sync::mpsc::channel();
        let served = house.clone();
        let thread = std::thread::spawn(move || {
            actix_web::rt::System::new().block_on(async move {
                let server = server::serve(served, listener, 1).unwrap();
                sender.send(server.handle()).unwrap();
                server.await.unwrap();
            });
        });
        let handle = receiver.recv().unwrap();
        Self { base, house, world, clock, handle, thread: Some(thread), _database: held }
    }

    /// Somebody who has not signed in.
    pub fn visitor(&self) -> Visitor {
        Visitor::new(&self.base)
    }

    /// Somebody signed in by the form.
    pub fn signed_in(&self, email: &str) -> Visitor {
        let visitor = self.visitor();
        let page = visitor.post("/sign-in", &[("email", email), ("password", PASSWORD)]);
        assert_eq!(page.status, 303, "{email} could not sign in: {}", page.text());
        visitor
    }

    /// The database it runs on.
    pub fn engine(&self) -> Engine {
        match self.house.db.address() {
            Address::Sqlite(_) => Engine::Sqlite,
            Address::Postgres(_) => Engine::Postgres,
        }
    }

    /// The moment the studio's clock shows.
    pub fn now(&self) -> Instant {
        Instant::from_millis(self.clock.load(Ordering::SeqCst))
    }

    /// Turns the clock on.
    pub fn later_ms(&self, millis: i64) {
        self.clock.fetch_add(millis, Ordering::SeqCst);
    }

    /// Sets the clock to an RFC 3339 moment.
    pub fn at(&self, moment: &str) {
        let at = chrono::DateTime::parse_from_rfc3339(moment).unwrap();
        self.clock.store(at.timestamp_millis(), Ordering::SeqCst);
    }

    /// A connection to the studio's database, for looking and for setting scenes.
    pub fn connection(&self) -> tympan::store::AnyConnection {
        tympan::store::connections::dial(self.house.db.address(), false).unwrap()
    }

    /// `/classes/<id>` of the plain world.
    pub fn class_path(&self) -> String {
        format!("/classes/{}", self.world.class)
    }
}

impl Drop for Studio {
    fn drop(&mut self) {
        let stop = self.handle.stop(false);
        let _ = std::thread::spawn(move || actix_web::rt::System::new().block_on(stop)).join();
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

fn settings(folder: &std::path::Path, base: &str, address: &Address) -> Settings {
    let mut given = std::collections::BTreeMap::new();
    given.insert("TYMPAN_DATA".to_owned(), folder.display().to_string());
    given.insert("TYMPAN_PUBLIC_URL".to_owned(), base.to_owned());
    given.insert(
        "TYMPAN_DATABASE_URL".to_owned(),
        match address {
            Address::Sqlite(path) => format!("sqlite:{}", path.display()),
            Address::Postgres(url) => url.clone(),
        },
    );
    let mut settings = Settings::from_values(&given).unwrap();
    settings.quick_passwords = true;
    settings
}
